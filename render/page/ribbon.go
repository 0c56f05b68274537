package page

import (
	"math"

	"twincord/render/display"
)

// A ribbon is written as outlines inside each other, each as opaque as the coverage
// rises there, with a gradient along it. Over them lie the shade on the side away
// from the light and, where they are wide enough to be seen, the hollows of the
// twist.
const (
	sharp     = 0.75 // softness up to which one outline serves, pixels
	mostBands = 12   // the step from one to the next is then at most 18 of 255
	twistSeen = 3    // pixels a ply below which the twist is left to its mean
)

// meanShade is how far the colour of a string goes to the shade where roundness and
// twist are left to their means.
const meanShade = 0.3

// ribbonScratch is storage that ribbons share.
type ribbonScratch struct {
	outline display.Outline
	points  []display.RibbonPoint // feathered
	kept    []display.RibbonPoint // unfolded
	stops   []stop
}

// stop is one stop of a gradient.
type stop struct {
	at     float64
	colour display.Colour
}

func (s *svg) writeRibbon(r *display.Ribbon) {
	if len(r.Points) < 2 {
		return
	}
	softest := 0.0
	for i := range r.Points {
		softest = max(softest, r.Points[i].Soft)
	}
	points, bands := r.Points, 1
	if softest > sharp {
		bands = min(max(2, int(math.Ceil(softest))), mostBands)
		points = s.feathered(points)
	}
	s.put("<g>\n")
	for k := range bands {
		share := (float64(k) + 0.5) / float64(bands)
		reach := func(q *display.RibbonPoint) float64 {
			if bands == 1 {
				return q.Half
			}
			return max(0, q.Half+q.Soft-share*2*min(q.Half, q.Soft))
		}
		s.along(points, func(q *display.RibbonPoint) display.Colour {
			// The edges are darker, which the shade on one side adds to when it shows.
			shade := meanShade - body(q)*display.RoundnessMean/2
			if bands > 1 {
				shade += 0.25 * body(q) * (1 - 2*share)
			}
			return mix(r.Colour, r.Shade, shade).Faded(opacity(q, k, bands))
		}, func(q *display.RibbonPoint) (from, to float64) { return -reach(q), reach(q) })
	}
	for _, inner := range []float64{0.35, 0.7} {
		s.shadeSide(r, inner)
	}
	s.hollows(r)
	s.put("</g>\n")
}

// feathered is a ribbon whose ends are blurred along it as its sides are across: each
// end reaches its softness farther, and the opacity rises over twice that.
func (s *svg) feathered(points []display.RibbonPoint) []display.RibbonPoint {
	n := len(points)
	total := 0.0
	for i := 1; i < n; i++ {
		total += distance(points[i-1].At, points[i].At)
	}
	before, after := points[0].Soft, points[n-1].Soft
	rise := func(d, soft float64) float64 {
		if soft <= 0 {
			return 1
		}
		return min(max((d+soft)/(2*soft), 0), 1)
	}
	to := s.ribbon.points[:0]
	add := func(q display.RibbonPoint, d float64) {
		q.Opacity *= rise(d, before) * rise(total-d, after)
		to = append(to, q)
	}
	add(beyond(points[0], points[1], before), -before)
	d := 0.0
	for i := range points {
		add(points[i], d)
		if i+1 == n {
			break
		}
		// A point where a rise ends between two others.
		length := distance(points[i].At, points[i+1].At)
		for _, knot := range []float64{before, total - after} {
			if knot > d && knot < d+length {
				add(between(points[i], points[i+1], (knot-d)/length), knot)
			}
		}
		d += length
	}
	add(beyond(points[n-1], points[n-2], after), total+after)
	s.ribbon.points = to
	return to
}

func distance(a, b display.Point) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }

// beyond is the end q moved away from the point next to it.
func beyond(q, next display.RibbonPoint, by float64) display.RibbonPoint {
	if d := distance(q.At, next.At); d > 0 {
		q.At.X += (q.At.X - next.At.X) / d * by
		q.At.Y += (q.At.Y - next.At.Y) / d * by
	}
	return q
}

// between is a cross-section at the share t of the way from a to b.
func between(a, b display.RibbonPoint, t float64) display.RibbonPoint {
	lerp := func(u, v float64) float64 { return u + (v-u)*t }
	return display.RibbonPoint{
		At:      display.Point{X: lerp(a.At.X, b.At.X), Y: lerp(a.At.Y, b.At.Y)},
		Half:    lerp(a.Half, b.Half),
		Soft:    lerp(a.Soft, b.Soft),
		Opacity: lerp(a.Opacity, b.Opacity),
		Twist:   lerp(a.Twist, b.Twist),
	}
}

// along writes one outline along a ribbon, between two distances to the right of
// its way, with a gradient from end to end.
func (s *svg) along(points []display.RibbonPoint, colour func(*display.RibbonPoint) display.Colour,
	sides func(*display.RibbonPoint) (from, to float64)) {
	id := s.id('g')
	last := len(points) - 1
	a, b := points[0].At, points[last].At
	dx, dy := b.X-a.X, b.Y-a.Y
	length := dx*dx + dy*dy
	s.put(`<linearGradient id="`, id, `" gradientUnits="userSpaceOnUse" x1="`, a.X, `" y1="`, a.Y,
		`" x2="`, b.X, `" y2="`, b.Y, `">`)
	stops := s.ribbon.stops[:0]
	for i := range points {
		q := &points[i]
		t := 0.0
		if length > 0 {
			t = ((q.At.X-a.X)*dx + (q.At.Y-a.Y)*dy) / length
		}
		stops = append(stops, stop{min(max(t, 0), 1), colour(q)})
	}
	s.ribbon.stops = stops
	s.stops(stops)
	s.put("</linearGradient>\n<path fill=\"url(#", id, `)"`)
	o := &s.ribbon.outline
	o.Verbs, o.Points = o.Verbs[:0], o.Points[:0]
	points = s.unfolded(points)
	side := func(i int, by float64) {
		q := &points[i]
		nx, ny := right(points, i)
		o.Points = append(o.Points, display.Point{X: q.At.X + by*nx, Y: q.At.Y + by*ny})
		o.Verbs = append(o.Verbs, display.LineTo)
	}
	for i := range points {
		from, _ := sides(&points[i])
		side(i, from)
	}
	for i := len(points) - 1; i >= 0; i-- {
		_, to := sides(&points[i])
		side(i, to)
	}
	o.Verbs[0] = display.MoveTo
	o.Verbs = append(o.Verbs, display.Close)
	s.outline(o)
	s.put("/>\n")
}

// unfolded is a ribbon without the points that stand closer together than half its
// half-width: a bend between them would fold its inner side over its outer one.
func (s *svg) unfolded(points []display.RibbonPoint) []display.RibbonPoint {
	last := len(points) - 1
	kept := append(s.ribbon.kept[:0], points[0])
	for i := 1; i < last; i++ {
		q := &points[i]
		near := q.Half / 2
		if distance(kept[len(kept)-1].At, q.At) >= near && distance(q.At, points[last].At) >= near {
			kept = append(kept, *q)
		}
	}
	kept = append(kept, points[last])
	s.ribbon.kept = kept
	return kept
}

// stops writes the stops that a gradient needs to keep within half a step of 1/255 of
// all of them: the ends, the one between them that a straight way misses most, and so
// on on either side of it.
func (s *svg) stops(all []stop) {
	s.stop(all[0].at, all[0].colour)
	s.stopsBetween(all)
	last := all[len(all)-1]
	s.stop(last.at, last.colour)
}

func (s *svg) stopsBetween(all []stop) {
	first, last := all[0], all[len(all)-1]
	worst, at := 0.5/255, 0
	for i := 1; i < len(all)-1; i++ {
		t := 0.0
		if last.at > first.at {
			t = (all[i].at - first.at) / (last.at - first.at)
		}
		c, d := mix(first.colour, last.colour, t), all[i].colour
		alpha := first.colour.A + (last.colour.A-first.colour.A)*t
		off := max(math.Abs(d.A-alpha), math.Abs(d.R-c.R), math.Abs(d.G-c.G), math.Abs(d.B-c.B))
		if off > worst {
			worst, at = off, i
		}
	}
	if at > 0 {
		s.stopsBetween(all[:at+1])
		s.stop(all[at].at, all[at].colour)
		s.stopsBetween(all[at:])
	}
}

// opacity is that of the k-th of n outlines at a point.
func opacity(q *display.RibbonPoint, k, n int) float64 {
	whole := q.Opacity
	if n > 1 && q.Soft > q.Half {
		whole *= q.Half / q.Soft
	}
	return layerOpacity(whole, k, n)
}

// layerOpacity is that of the k-th of n layers, so that over those before it the
// coverage rises by an n-th of the whole.
func layerOpacity(whole float64, k, n int) float64 {
	before, now := whole*float64(k)/float64(n), whole*float64(k+1)/float64(n)
	if before >= 1 {
		return 1
	}
	return 1 - (1-now)/(1-before)
}

// body is how much of a string's roundness blur leaves.
func body(q *display.RibbonPoint) float64 {
	if !(q.Half > 0) {
		return 0
	}
	blur := q.Soft / q.Half
	return 1 / (1 + blur*blur)
}

// right is the step of one half-width to the right of a ribbon's way at a point, as
// seen on the page: at a bend, to where the two sides meet, if that is not far out.
func right(points []display.RibbonPoint, i int) (x, y float64) {
	normal := func(i int) (x, y float64, ok bool) {
		if i < 0 || i+1 >= len(points) {
			return 0, 0, false
		}
		a, b := points[i].At, points[i+1].At
		n := distance(a, b)
		if n == 0 {
			return 0, 0, false
		}
		return -(b.Y - a.Y) / n, (b.X - a.X) / n, true
	}
	x0, y0, before := normal(i - 1)
	x1, y1, after := normal(i)
	switch {
	case !before:
		return x1, y1
	case !after:
		return x0, y0
	}
	k := max(1+x0*x1+y0*y1, 0.6)
	return (x0 + x1) / k, (y0 + y1) / k
}

func mix(a, b display.Colour, t float64) display.Colour {
	return display.Colour{R: a.R + (b.R-a.R)*t, G: a.G + (b.G-a.G)*t, B: a.B + (b.B-a.B)*t, A: a.A}
}

// shadeSide writes the shade on the side away from the light, from a share of the
// half-width outward.
func (s *svg) shadeSide(r *display.Ribbon, inner float64) {
	last := len(r.Points) - 1
	dx, dy := r.Points[last].At.X-r.Points[0].At.X, r.Points[last].At.Y-r.Points[0].At.Y
	n := math.Hypot(dx, dy)
	if n == 0 {
		return
	}
	side := (dx*display.StringLightY - dy*display.StringLightX) / n // of the light, to the right +
	away := -math.Copysign(1, side)
	widest := 0.0
	for i := range r.Points {
		q := &r.Points[i]
		widest = max(widest, q.Half*body(q))
	}
	if widest < 1 { // less than a pixel
		return
	}
	edge := 1 + display.Lean*math.Abs(side)
	s.along(r.Points, func(q *display.RibbonPoint) display.Colour {
		return r.Shade.Faded(min(0.5*display.Roundness*edge*edge*body(q)*body(q)*q.Opacity, 1) / 2)
	}, func(q *display.RibbonPoint) (from, to float64) { return away * inner * q.Half, away * q.Half })
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
		pitch := distance(a.At, b.At) / math.Abs(to-from)
		if !(pitch > twistSeen) || max(a.Soft, b.Soft) > 0.6*min(a.Half, b.Half) || min(a.Opacity, b.Opacity) < 0.3 {
			continue
		}
		if from > to {
			from, to = to, from
		}
		for ply := math.Ceil(from); ply < to; ply++ {
			s.hollow(r.Points, i, ply)
		}
	}
	if len(o.Verbs) == 0 {
		return
	}
	s.put("<path")
	s.fill(r.Shade.Faded(0.75 * r.TwistDepth * r.Points[0].Opacity))
	s.outline(o)
	s.put("/>\n")
}

// hollow adds the hollow at a whole number of plies, which lies before point i.
func (s *svg) hollow(points []display.RibbonPoint, i int, ply float64) {
	const wide = 0.1
	o := &s.ribbon.outline
	begin := len(o.Points)
	for _, v := range [...]float64{-0.95, 0, 0.95, 0.95, 0, -0.95} {
		// Steeper at the edges, as on a round string; forth on one side, back on the
		// other.
		turn := ply - display.Slant(v) - wide
		if len(o.Points)-begin >= 3 {
			turn += 2 * wide
		}
		q, rx, ry, ok := twistAt(points, i, turn/2)
		if !ok {
			o.Points = o.Points[:begin]
			return
		}
		o.Points = append(o.Points, display.Point{X: q.At.X + rx*q.Half*v, Y: q.At.Y + ry*q.Half*v})
	}
	o.Verbs = append(o.Verbs, display.MoveTo, display.LineTo, display.LineTo, display.LineTo, display.LineTo, display.LineTo, display.Close)
}

// twistAt is the cross-section at which the twist, which grows or falls along the
// ribbon, has a phase, with the unit vector to the right of the way there. It is
// looked for from point i on. Beyond the ends there is none.
func twistAt(points []display.RibbonPoint, i int, twist float64) (q display.RibbonPoint, rx, ry float64, ok bool) {
	for 0 < i && i < len(points) {
		a, b := &points[i-1], &points[i]
		t := (twist - a.Twist) / (b.Twist - a.Twist)
		switch {
		case t < 0:
			i--
		case t > 1:
			i++
		default:
			n := distance(a.At, b.At)
			return between(*a, *b, t), -(b.At.Y - a.At.Y) / n, (b.At.X - a.At.X) / n, n > 0
		}
	}
	return q, 0, 0, false
}
