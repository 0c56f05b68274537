package vector

import (
	"math"

	"twincord/render/display"
)

// A ribbon is painted as outlines inside each other, each as opaque as the coverage
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

// Ribbons takes ribbons apart into layers, in storage that they share.
type Ribbons struct {
	outline display.Outline
	points  []display.RibbonPoint // feathered
	kept    []display.RibbonPoint // unfolded
	stops   []Stop
	cover   []float64
	side    []display.Point
}

// Layer is an outline with a gradient along the line from A to B. It is good until the
// next one is made.
type Layer struct {
	Outline *display.Outline
	A, B    display.Point
	Stops   []Stop
	// How much of the ribbon there is at each stop. The opacity of a stop's colour is
	// that on the ribbon.
	Cover []float64
}

// Stop is one stop of a gradient.
type Stop struct {
	At     float64
	Colour display.Colour
}

// Bands calls paint with the body of a ribbon, from the outermost outline to the
// innermost. The k-th layer's coverage is that of the ribbon there, not what it adds to
// those before it.
func (x *Ribbons) Bands(r *display.Ribbon, paint func(k int, l *Layer)) {
	softest := 0.0
	for i := range r.Points {
		softest = max(softest, r.Points[i].Soft)
	}
	points, bands := r.Points, 1
	if softest > sharp {
		bands = min(max(2, int(math.Ceil(softest))), mostBands)
		points = x.feathered(points)
	}
	for k := range bands {
		share := (float64(k) + 0.5) / float64(bands)
		reach := func(q *display.RibbonPoint) float64 {
			if bands == 1 {
				return q.Half
			}
			return max(0, q.Half+q.Soft-share*2*min(q.Half, q.Soft))
		}
		paint(k, x.along(points, func(q *display.RibbonPoint) (display.Colour, float64) {
			// The edges are darker, which the shade on one side adds to when it shows.
			shade := meanShade - body(q)*display.RoundnessMean/2
			if bands > 1 {
				shade += 0.25 * body(q) * (1 - 2*share)
			}
			cover := q.Opacity * float64(k+1) / float64(bands)
			if bands > 1 && q.Soft > q.Half {
				cover *= q.Half / q.Soft
			}
			return opaque(mix(r.Colour, r.Shade, shade)), cover * r.Colour.A
		}, func(q *display.RibbonPoint) (from, to float64) { return -reach(q), reach(q) }))
	}
}

// feathered is a ribbon whose ends are blurred along it as its sides are across: each
// end reaches its softness farther, and the opacity rises over twice that.
func (x *Ribbons) feathered(points []display.RibbonPoint) []display.RibbonPoint {
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
	to := x.points[:0]
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
	x.points = to
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

// along makes an outline along a ribbon, between two distances to the right of its
// way, with a gradient from end to end.
func (x *Ribbons) along(points []display.RibbonPoint, look func(*display.RibbonPoint) (display.Colour, float64),
	sides func(*display.RibbonPoint) (from, to float64)) *Layer {
	l := &Layer{Outline: x.empty(), A: points[0].At, B: points[len(points)-1].At}
	dx, dy := l.B.X-l.A.X, l.B.Y-l.A.Y
	length := dx*dx + dy*dy
	x.stops, x.cover = x.stops[:0], x.cover[:0]
	for i := range points {
		q := &points[i]
		t := 0.0
		if length > 0 {
			t = ((q.At.X-l.A.X)*dx + (q.At.Y-l.A.Y)*dy) / length
		}
		colour, cover := look(q)
		x.stops = append(x.stops, Stop{min(max(t, 0), 1), colour})
		x.cover = append(x.cover, cover)
	}
	l.Stops, l.Cover = x.stops, x.cover

	points = x.unfolded(points)
	edge := func(i int, by float64) display.Point {
		q := &points[i]
		nx, ny := right(points, i)
		return display.Point{X: q.At.X + by*nx, Y: q.At.Y + by*ny}
	}
	x.side = x.side[:0]
	for i := range points {
		from, _ := sides(&points[i])
		x.side = append(x.side, edge(i, from))
	}
	o := l.Outline
	o.Points = straightened(o.Points, x.side)
	x.side = x.side[:0]
	for i := len(points) - 1; i >= 0; i-- {
		_, to := sides(&points[i])
		x.side = append(x.side, edge(i, to))
	}
	o.Points = straightened(o.Points, x.side)
	o.Verbs = append(o.Verbs, display.MoveTo)
	for range o.Points[1:] {
		o.Verbs = append(o.Verbs, display.LineTo)
	}
	o.Verbs = append(o.Verbs, display.Close)
	return l
}

// straight is how far from a point its way may pass where the point is left out, pixels.
const straight = 0.02

// straightened appends to a way the points that another one needs: its ends, the one
// between them that a straight way misses most, and so on on either side of it.
func straightened(to, all []display.Point) []display.Point {
	return append(straightenedBetween(append(to, all[0]), all), all[len(all)-1])
}

func straightenedBetween(to, all []display.Point) []display.Point {
	first, last := all[0], all[len(all)-1]
	dx, dy := last.X-first.X, last.Y-first.Y
	length := dx*dx + dy*dy
	worst, at := straight, 0
	for i := 1; i < len(all)-1; i++ {
		t := 0.
		if length > 0 {
			t = min(max(((all[i].X-first.X)*dx+(all[i].Y-first.Y)*dy)/length, 0), 1)
		}
		if off := distance(all[i], display.Point{X: first.X + t*dx, Y: first.Y + t*dy}); off > worst {
			worst, at = off, i
		}
	}
	if at > 0 {
		to = append(straightenedBetween(to, all[:at+1]), all[at])
		to = straightenedBetween(to, all[at:])
	}
	return to
}

// empty is the shared outline with nothing in it.
func (x *Ribbons) empty() *display.Outline {
	x.outline.Verbs, x.outline.Points = x.outline.Verbs[:0], x.outline.Points[:0]
	return &x.outline
}

// unfolded is a ribbon without the points that stand closer together than half its
// half-width: a bend between them would fold its inner side over its outer one.
func (x *Ribbons) unfolded(points []display.RibbonPoint) []display.RibbonPoint {
	last := len(points) - 1
	kept := append(x.kept[:0], points[0])
	for i := 1; i < last; i++ {
		q := &points[i]
		near := q.Half / 2
		if distance(kept[len(kept)-1].At, q.At) >= near && distance(q.At, points[last].At) >= near {
			kept = append(kept, *q)
		}
	}
	kept = append(kept, points[last])
	x.kept = kept
	return kept
}

// Thinned appends to some stops those of a gradient that it needs to keep within three steps
// of 1/255 of all of them: the ends, the one between them that a straight way
// misses most, and so on on either side of it.
func Thinned(to, all []Stop) []Stop {
	to = thinnedBetween(append(to, all[0]), all)
	return append(to, all[len(all)-1])
}

func thinnedBetween(to, all []Stop) []Stop {
	first, last := all[0], all[len(all)-1]
	worst, at := 3./255, 0
	for i := 1; i < len(all)-1; i++ {
		t := 0.0
		if last.At > first.At {
			t = (all[i].At - first.At) / (last.At - first.At)
		}
		c, d := mix(first.Colour, last.Colour, t), all[i].Colour
		alpha := first.Colour.A + (last.Colour.A-first.Colour.A)*t
		off := max(math.Abs(d.A-alpha), math.Abs(d.R-c.R), math.Abs(d.G-c.G), math.Abs(d.B-c.B))
		if off > worst {
			worst, at = off, i
		}
	}
	if at > 0 {
		to = append(thinnedBetween(to, all[:at+1]), all[at])
		to = thinnedBetween(to, all[at:])
	}
	return to
}

// Over is the opacity of a layer that takes the coverage of those before it to now.
func Over(before, now float64) float64 {
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

func opaque(c display.Colour) display.Colour { c.A = 1; return c }

func mix(a, b display.Colour, t float64) display.Colour {
	return display.Colour{R: a.R + (b.R-a.R)*t, G: a.G + (b.G-a.G)*t, B: a.B + (b.B-a.B)*t, A: a.A}
}

// Shades calls paint with the shade on the side away from the light, in two layers.
func (x *Ribbons) Shades(r *display.Ribbon, paint func(*Layer)) {
	if r.Shade == r.Colour {
		return
	}
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
	for _, inner := range []float64{0.35, 0.7} { // of the half-width
		paint(x.along(r.Points, func(q *display.RibbonPoint) (display.Colour, float64) {
			dark := min(0.5*display.Roundness*edge*edge*body(q)*body(q), 1) / 2
			return opaque(r.Shade).Faded(dark), q.Opacity * r.Colour.A
		}, func(q *display.RibbonPoint) (from, to float64) { return away * inner * q.Half, away * q.Half }))
	}
}

// Hollows is the hollows between the plies of a twisted string, slanted across it, as
// one outline, and their colour on the ribbon; without verbs if none are seen.
func (x *Ribbons) Hollows(r *display.Ribbon) (*display.Outline, display.Colour) {
	o := x.empty()
	if r.TwistDepth <= 0 {
		return o, display.Colour{}
	}
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
			x.hollow(r.Points, i, ply)
		}
	}
	return o, opaque(r.Shade).Faded(0.75 * r.TwistDepth)
}

// hollow adds the hollow at a whole number of plies, which lies before point i.
func (x *Ribbons) hollow(points []display.RibbonPoint, i int, ply float64) {
	const wide = 0.1
	o := &x.outline
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
