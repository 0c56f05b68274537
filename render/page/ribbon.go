package page

import (
	"math"

	"twincord/render/display"
)

// A ribbon is written as outlines inside each other, each as opaque as the coverage
// rises there, with a gradient along it; over them the hollows of the twist where
// they are wide enough to be seen.
const (
	sharp     = 0.75 // softness up to which one outline serves, pixels
	mostBands = 8    // an eighth of the whole is the step from one to the next
	twistSeen = 3    // pixels a ply below which the twist is left to its mean
)

// The mean of what the twist and the roundness shade, as the pixels have it.
const meanShade = 0.3

// ribbonScratch is storage that ribbons share.
type ribbonScratch struct {
	outline display.Outline
}

func (s *svg) writeRibbon(r *display.Ribbon) {
	if len(r.Points) < 2 {
		return
	}
	softest := 0.0
	for i := range r.Points {
		softest = max(softest, r.Points[i].Soft)
	}
	bands := 1
	if softest > sharp {
		bands = min(max(2, int(math.Ceil(softest))), mostBands)
	}
	s.put("<g>\n")
	for k := range bands {
		s.band(r, k, bands)
	}
	s.hollows(r)
	s.put("</g>\n")
}

// band writes the k-th of n outlines, from the outermost in.
func (s *svg) band(r *display.Ribbon, k, n int) {
	id := s.id('g')
	first, last := r.Points[0].At, r.Points[len(r.Points)-1].At
	dx, dy := last.X-first.X, last.Y-first.Y
	length := dx*dx + dy*dy
	s.put(`<linearGradient id="`, id, `" gradientUnits="userSpaceOnUse" x1="`, first.X, `" y1="`, first.Y,
		`" x2="`, last.X, `" y2="`, last.Y, `">`)
	share := (float64(k) + 0.5) / float64(n)
	// The middle of a string is lit, its edges are not.
	c := mix(r.Colour, r.Shade, meanShade+0.25*(1-2*share)*float64(min(n-1, 1)))
	at := -1.0
	for i := range r.Points {
		q := &r.Points[i]
		offset := 0.0
		if length > 0 {
			offset = ((q.At.X-first.X)*dx + (q.At.Y-first.Y)*dy) / length
		}
		if i > 0 && i+1 < len(r.Points) && offset < at+0.002 && math.Abs(q.Opacity-r.Points[i-1].Opacity) < 0.01 {
			continue
		}
		at = offset
		s.stop(min(max(offset, 0), 1), c.Faded(opacity(q, k, n)))
	}
	s.put("</linearGradient>\n<path fill=\"url(#", id, `)"`)
	o := &s.ribbon.outline
	o.Verbs, o.Points = o.Verbs[:0], o.Points[:0]
	side := func(i int, sign float64) {
		q := &r.Points[i]
		half := q.Half
		if n > 1 {
			half = max(0, q.Half+q.Soft-share*2*min(q.Half, q.Soft))
		}
		nx, ny := normal(r.Points, i)
		o.Points = append(o.Points, display.Point{X: q.At.X + sign*half*nx, Y: q.At.Y + sign*half*ny})
		o.Verbs = append(o.Verbs, display.LineTo)
	}
	for i := range r.Points {
		side(i, 1)
	}
	for i := len(r.Points) - 1; i >= 0; i-- {
		side(i, -1)
	}
	o.Verbs[0] = display.MoveTo
	o.Verbs = append(o.Verbs, display.Close)
	s.outline(o)
	s.put("/>\n")
}

// opacity is that of the k-th of n outlines at a point, so that over those outside
// it the coverage rises by an n-th of the whole.
func opacity(q *display.RibbonPoint, k, n int) float64 {
	whole := q.Opacity
	if n > 1 && q.Soft > q.Half {
		whole *= q.Half / q.Soft
	}
	before, now := whole*float64(k)/float64(n), whole*float64(k+1)/float64(n)
	if before >= 1 {
		return 1
	}
	return 1 - (1-now)/(1-before)
}

// normal is the unit vector across a ribbon at a point, to the left of its way on a
// page with y down.
func normal(points []display.RibbonPoint, i int) (x, y float64) {
	a, b := points[max(i-1, 0)].At, points[min(i+1, len(points)-1)].At
	dx, dy := b.X-a.X, b.Y-a.Y
	n := math.Hypot(dx, dy)
	if n == 0 {
		return 0, 0
	}
	return dy / n, -dx / n
}

func mix(a, b display.Colour, t float64) display.Colour {
	return display.Colour{R: a.R + (b.R-a.R)*t, G: a.G + (b.G-a.G)*t, B: a.B + (b.B-a.B)*t, A: a.A}
}

// hollows writes the hollows between the plies of a twisted string, slanted across
// it, as one path.
func (s *svg) hollows(r *display.Ribbon) {
	if r.TwistDepth <= 0 {
		return
	}
	o := &s.ribbon.outline
	o.Verbs, o.Points = o.Verbs[:0], o.Points[:0]
	for i := 1; i < len(r.Points); i++ {
		a, b := &r.Points[i-1], &r.Points[i]
		from, to := 2*a.Twist, 2*b.Twist
		pitch := math.Hypot(b.At.X-a.At.X, b.At.Y-a.At.Y) / math.Abs(to-from)
		if !(pitch > twistSeen) || max(a.Soft, b.Soft) > 0.6*min(a.Half, b.Half) || min(a.Opacity, b.Opacity) < 0.3 {
			continue
		}
		if from > to {
			from, to = to, from
		}
		for ply := math.Ceil(from); ply < to; ply++ {
			s.hollow(a, b, ply)
		}
	}
	if len(o.Verbs) == 0 {
		return
	}
	s.put("<path")
	s.fill(r.Shade.Faded(0.45 * r.TwistDepth * r.Points[0].Opacity))
	s.outline(o)
	s.put("/>\n")
}

// hollow adds the hollow at a whole number of plies between two points.
func (s *svg) hollow(a, b *display.RibbonPoint, ply float64) {
	o := &s.ribbon.outline
	dx, dy := b.At.X-a.At.X, b.At.Y-a.At.Y
	n := math.Hypot(dx, dy)
	across := [...]float64{-0.9, 0, 0.9}
	at := func(v, wide float64) display.Point {
		turn := ply - v*(0.32+0.18*v*v) + wide
		t := (turn - 2*a.Twist) / (2*b.Twist - 2*a.Twist)
		half := (a.Half + (b.Half-a.Half)*t) * v
		// Across to the right of the way, as the pixels have it.
		return display.Point{X: a.At.X + dx*t - dy/n*half, Y: a.At.Y + dy*t + dx/n*half}
	}
	const wide = 0.12
	for i, v := range across {
		verb := display.LineTo
		if i == 0 {
			verb = display.MoveTo
		}
		o.Verbs = append(o.Verbs, verb)
		o.Points = append(o.Points, at(v, -wide))
	}
	for i := len(across) - 1; i >= 0; i-- {
		o.Verbs = append(o.Verbs, display.LineTo)
		o.Points = append(o.Points, at(across[i], wide))
	}
	o.Verbs = append(o.Verbs, display.Close)
}
