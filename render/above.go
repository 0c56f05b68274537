package render

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/sim"
)

// AboveOptions says how the view from above is drawn.
type AboveOptions struct {
	Theme *theme.Theme
	// Scale multiplies the theme's sizes of type and strokes; 0 gives sizes that
	// suit the frame.
	Scale  float64
	Labels AboveLabels
}

// AboveLabels are the words in the view from above. An empty one is left out.
type AboveLabels struct {
	Right, Left string // the eyes, one letter each
	Target      string // the place looked at
	Meet        string // where the visual axes meet
	Cross       string // where the strings cross
	MeetCross   string // where both are one place
	Horopter    string

	// Unit is the length that a scale is counted in, mm: 10 or 25.4. Length writes
	// a length in it.
	Unit   float64
	Length func(mm float64) string
	// Wider says that the picture is so many times wider than long.
	Wider func(times float64) string
}

// Above draws what is where, from above, the patient at the bottom looking up
// the page: the eyes as they are turned, their visual axes (the right one
// unbroken, the left one dashed), the string and its beads, what is looked at,
// where the axes meet, where the strings are seen to cross, and the horopter of
// the eyes as they point (the Vieth–Müller circle: through both nodal points and
// the place where the axes meet, row H1).
//
// A long string would leave the eyes too small and too close together to show
// how they are turned. Widths are then magnified by a whole number, which the
// picture states. The scale depends on the string and the patient alone, so
// nothing moves but what is moved. The list's ground should be the theme's Panel.
func Above(l *display.List, frame display.Rect, v *sim.View, s *sim.Setup, opt AboveOptions) {
	if frame.W <= 0 || frame.H <= 0 {
		return
	}
	a := above{l: l, frame: frame, v: v, s: s, th: opt.Theme, words: &opt.Labels}
	a.lay(opt.Scale)
	a.place()
	l.Rect(frame)
	l.OpenClip()
	a.horopter()
	a.wall()
	a.nose()
	a.scale()
	a.string()
	a.axes()
	a.beads()
	a.marks()
	a.eyes()
	a.labels()
	l.End()
}

// above is one view from above being drawn.
type above struct {
	l     *display.List
	frame display.Rect
	v     *sim.View
	s     *sim.Setup
	th    *theme.Theme
	words *AboveLabels

	k        float64 // scale of type and strokes
	origin   display.Point
	sx, sy   float64 // pixels per mm, across and along
	times    float64 // sx / sy
	centreX  float64 // the place across that stands at origin.X, mm
	eye      float64 // radius of an eye, pixels
	eyes2    [2]aboveEye
	target   display.Point
	meet     display.Point
	cross    display.Point
	meets    bool // within the frame
	crosses  bool // seen, and within the frame
	together bool // meet and cross are one place as drawn

	callouts [3]callout
	boxes    int
}

// aboveEye is an eye as drawn: its centre, the direction of its axis on the page
// and how far along it the frame ends.
type aboveEye struct {
	at, along display.Point
	edge      float64
}

// callout is a label beside the place it belongs to.
type callout struct {
	text   string
	colour display.Colour
	box    display.Rect
}

// Half the diameter of the eye, and how far beyond the wall the picture goes, as
// a share of its distance.
const (
	eyeRadius  = 12. // mm
	beyondWall = 1.12
)

// magnifications are how many times wider than long the picture may be.
var magnifications = [...]float64{1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20}

// lay decides the scale.
func (a *above) lay(scale float64) {
	short := min(a.frame.W, a.frame.H)
	a.k = scale
	if scale <= 0 {
		// A larger picture is looked at from farther away, but not in proportion.
		a.k = max(0.7, math.Pow(short/300, 0.7))
	}
	ends := [...]r3.Vec{a.s.Place(0), a.s.Place(a.s.String.Length)}
	half := a.s.Patient.PD / 2
	left, right, far := -half-eyeRadius, half+eyeRadius, 0.
	for _, p := range ends {
		left, right, far = min(left, p.X), max(right, p.X), max(far, p.Y)
	}
	a.centreX = (left + right) / 2

	margin := 14 * a.k
	bottom := 0.06*short + 26*a.k
	a.sy = max(a.frame.H-margin-bottom, 1) / (beyondWall * far)
	across := max(a.frame.W-2*margin, 1) / (right - left)
	a.sy = min(a.sy, across)
	wanted := min(0.22*short/(a.s.Patient.PD*a.sy), across/a.sy)
	a.times = 1
	for _, m := range magnifications {
		if m <= wanted {
			a.times = m
		}
	}
	a.sx = a.sy * a.times
	a.eye = min(eyeRadius*a.sx, 0.055*short)
	a.origin = display.Point{X: a.frame.X + a.frame.W/2, Y: a.frame.Y + a.frame.H - bottom}
}

// page is where a place of the head frame is on the page.
func (a *above) page(p r3.Vec) display.Point {
	return display.Point{X: a.origin.X + (p.X-a.centreX)*a.sx, Y: a.origin.Y - p.Y*a.sy}
}

func (a *above) inFrame(p display.Point) bool {
	f := a.frame
	return p.X >= f.X && p.X <= f.X+f.W && p.Y >= f.Y && p.Y <= f.Y+f.H
}

// place works out where everything is that labels must keep clear of.
func (a *above) place() {
	for i := range a.eyes2 {
		g := &a.v.Eyes[i]
		at := a.page(g.Centre)
		x, y := g.Axis.X*a.sx, -g.Axis.Y*a.sy
		n := math.Hypot(x, y)
		if n == 0 { // the eye looks straight up or down
			n, y = 1, -1
		}
		e := aboveEye{at: at, along: display.Point{X: x / n, Y: y / n}}
		e.edge = a.edge(e.at, e.along)
		a.eyes2[i] = e
	}
	a.target = a.page(a.v.Target.Point)
	if m := a.v.Axes.Point; m.OK {
		a.meet = a.page(m.Value)
		a.meets = a.inFrame(a.meet)
	}
	if c := a.v.Crossing; c.Seen && c.At.OK {
		a.cross = a.page(a.s.Place(c.At.Value))
		a.crosses = a.inFrame(a.cross)
	}
	a.together = a.meets && a.crosses && math.Hypot(a.meet.X-a.cross.X, a.meet.Y-a.cross.Y) < 7*a.k

	if a.words.Target != "" {
		a.callout(a.words.Target, a.th.Accent, a.target, -1)
	}
	if a.meets {
		text := a.words.Meet
		if a.together {
			text = a.words.MeetCross
		}
		a.callout(text, a.th.Ink, a.meet, +1)
	}
	if a.crosses && !a.together {
		a.callout(a.words.Cross, a.th.String, a.cross, +1)
	}
}

// edge is how far from p in the direction of u the frame ends, with a little
// over for the stroke.
func (a *above) edge(p, u display.Point) float64 {
	f, over := a.frame, 4*a.k
	t := math.Inf(1)
	limit := func(p, u, low, high float64) {
		switch {
		case u > 0:
			t = min(t, (high+over-p)/u)
		case u < 0:
			t = min(t, (low-over-p)/u)
		}
	}
	limit(p.X, u.X, f.X, f.X+f.W)
	limit(p.Y, u.Y, f.Y, f.Y+f.H)
	return max(t, 0)
}

// callout makes room for a label beside p, to the left (side −1) or right (+1),
// clear of the axes, the string and the labels before it.
func (a *above) callout(text string, c display.Colour, p display.Point, side float64) {
	if text == "" {
		return
	}
	st := a.small(c)
	text = lettering.Ellipsis(st, text, 0.48*a.frame.W)
	w, h := lettering.Width(st, text), lettering.LineHeight(st)
	box := display.Rect{Y: p.Y - h*0.62, W: w, H: h}
	for i := range a.boxes {
		// Below what is there already, if they would touch.
		if b := a.callouts[i].box; (b.X > p.X) == (side > 0) && box.Y < b.Y+b.H && b.Y < box.Y+box.H {
			box.Y = b.Y + b.H
		}
	}
	box.Y = min(max(box.Y, a.frame.Y), a.frame.Y+a.frame.H-h)
	reach := side*p.X + 11*a.k // how far out the drawing goes beside the label, times side
	for _, y := range [...]float64{box.Y, box.Y + h} {
		for _, e := range a.eyes2 {
			if t := (y - e.at.Y) / e.along.Y; t > 0 && math.Abs(e.along.Y) > 0.2 {
				reach = max(reach, side*(e.at.X+t*e.along.X)+5*a.k)
			}
		}
		near, far := a.page(a.s.Place(0)), a.page(a.s.Place(a.s.String.Length))
		if near.Y != far.Y && y > far.Y && y < near.Y {
			reach = max(reach, side*(near.X+(far.X-near.X)*(y-near.Y)/(far.Y-near.Y))+11*a.k)
		}
	}
	box.X = side * reach
	if side < 0 {
		box.X -= w
	}
	box.X = min(max(box.X, a.frame.X+6*a.k), a.frame.X+a.frame.W-w-6*a.k)
	a.callouts[a.boxes] = callout{text: text, colour: c, box: box}
	a.boxes++
}

func (a *above) small(c display.Colour) lettering.Style {
	return lettering.Style{Face: display.Regular, Size: theme.Small * a.k, Colour: c}
}

func solid(c display.Colour) display.Paint { return display.Paint{From: c} }

// horopterReach is how far to either side the horopter is drawn, as a direction
// from midway between the nodal points.
const horopterReach = 42 * math.Pi / 180

func (a *above) horopter() {
	m := a.v.Axes.Point
	if !m.OK {
		return
	}
	c, ok := circleThrough(a.v.Eyes[sim.RightEye].Nodal, a.v.Eyes[sim.LeftEye].Nodal, m.Value)
	if !ok {
		return
	}
	// The labels are cut out of the line.
	l := a.l
	l.Rect(a.frame)
	for _, c := range a.callouts[:a.boxes] {
		l.Rect(c.box)
	}
	l.OpenClipEvenOdd()
	const steps = 40
	label, style := a.words.Horopter, a.small(a.th.Muted)
	width := lettering.Width(style, label)
	right := a.frame.X + a.frame.W - 10*a.k
	var end display.Point
	top := math.Inf(1)
	for i := range steps + 1 {
		// An arc seen under θ from the circle's rim is 2θ from its centre.
		phi := 2 * horopterReach * (2*float64(i)/steps - 1)
		p := a.page(c.at(phi))
		if i == 0 {
			l.MoveTo(p.X, p.Y)
		} else {
			l.LineTo(p.X, p.Y)
		}
		if p.X <= right && p.X > end.X {
			end = p
		}
	}
	l.StrokeDashed(a.k, 2.5*a.k, solid(a.th.Muted.Faded(0.55)))
	for i := range steps + 1 {
		p := a.page(c.at(2 * horopterReach * (2*float64(i)/steps - 1)))
		if p.X >= end.X-width-10*a.k && p.X <= end.X {
			top = min(top, p.Y)
		}
	}
	l.End()
	box := display.Rect{X: end.X - width, Y: top - 5*a.k - lettering.Ascent(style), W: width, H: lettering.Ascent(style)}
	if label == "" || box.Y < a.frame.Y+4*a.k || box.X < a.target.X {
		return
	}
	for _, c := range a.callouts[:a.boxes] {
		if overlap(c.box, box) {
			return
		}
	}
	lettering.Draw(l, style, end.X, top-5*a.k, lettering.End, label)
}

func overlap(a, b display.Rect) bool {
	return a.X < b.X+b.W && b.X < a.X+a.W && a.Y < b.Y+b.H && b.Y < a.Y+a.H
}

// circle is a circle in space: at(0) is the point it was made to point at.
type circle struct {
	centre, u, v r3.Vec // u and v as long as the radius, at right angles
}

func (c *circle) at(phi float64) r3.Vec {
	sin, cos := math.Sincos(phi)
	return r3.Add(c.centre, r3.Add(r3.Scale(cos, c.u), r3.Scale(sin, c.v)))
}

// circleThrough is the circle through three points, pointing at the third and
// going from it towards p. Points on one line have none.
func circleThrough(p, q, at r3.Vec) (circle, bool) {
	a, b := r3.Sub(p, at), r3.Sub(q, at)
	n := r3.Cross(a, b)
	n2 := r3.Norm2(n)
	if n2 <= 1e-12*r3.Norm2(a)*r3.Norm2(b) {
		return circle{}, false
	}
	// The centre of the circle through 0, a and b.
	to := r3.Cross(r3.Sub(r3.Scale(r3.Norm2(a), b), r3.Scale(r3.Norm2(b), a)), n)
	to = r3.Scale(1/(2*n2), to)
	u := r3.Scale(-1, to)
	w := r3.Scale(r3.Norm(u)/math.Sqrt(n2), r3.Cross(n, u))
	w = r3.Scale(1/r3.Norm(u), w)
	if r3.Dot(w, r3.Sub(p, q)) < 0 {
		w = r3.Scale(-1, w)
	}
	return circle{centre: r3.Add(at, to), u: u, v: w}, true
}

func (a *above) wall() {
	p := a.page(a.s.Place(a.s.String.Length))
	half := 34 * a.k
	a.l.MoveTo(p.X-half, p.Y-2*a.k)
	a.l.LineTo(p.X+half, p.Y-2*a.k)
	a.l.Stroke(3*a.k, solid(a.th.Edge))
}

// nose draws a hint of the nose between the eyes, its tip as far ahead as the
// near end of the string.
func (a *above) nose() {
	tip := a.page(r3.Vec{Y: a.s.String.NearEnd.Y})
	wing := 13 * a.sx
	base := max(a.origin.Y, tip.Y+wing)
	l := a.l
	l.MoveTo(tip.X-wing, base)
	l.CubicTo(display.Point{X: tip.X - 0.75*wing, Y: tip.Y + 0.45*wing}, display.Point{X: tip.X - 0.55*wing, Y: tip.Y}, tip)
	l.CubicTo(display.Point{X: tip.X + 0.55*wing, Y: tip.Y}, display.Point{X: tip.X + 0.75*wing, Y: tip.Y + 0.45*wing}, display.Point{X: tip.X + wing, Y: base})
	l.Stroke(theme.Line*a.k, solid(a.th.Hairline))
}

// scale draws a length along the page at the left, and says how much wider the
// picture is than long.
func (a *above) scale() {
	if a.words.Length == nil || a.words.Unit <= 0 {
		return
	}
	length := scaleLength(a.words.Unit, 0.3*a.frame.H/a.sy)
	x, y := a.frame.X+14*a.k, a.frame.Y+a.frame.H-14*a.k
	top, tick := y-length*a.sy, 3*a.k
	l := a.l
	l.MoveTo(x-tick, y)
	l.LineTo(x+tick, y)
	l.MoveTo(x, y)
	l.LineTo(x, top)
	l.MoveTo(x-tick, top)
	l.LineTo(x+tick, top)
	l.Stroke(a.k, solid(a.th.Edge))
	st := a.small(a.th.Muted)
	lettering.Draw(l, st, x+8*a.k, top+lettering.CapHeight(st)/2, lettering.Start, a.words.Length(length))
	if a.times > 1 && a.words.Wider != nil {
		lettering.Draw(l, st, x+8*a.k, y, lettering.Start, a.words.Wider(a.times))
	}
}

// scaleLength is the longest of 1, 2, 5, 10 … units that is at most longest, and
// at least one unit.
func scaleLength(unit, longest float64) float64 {
	length := unit
	for power := unit; power <= longest; power *= 10 {
		for _, m := range [...]float64{1, 2, 5} {
			if m*power <= longest {
				length = m * power
			}
		}
	}
	return length
}

func (a *above) string() {
	near, far := a.page(a.s.Place(0)), a.page(a.s.Place(a.s.String.Length))
	a.l.MoveTo(near.X, near.Y)
	a.l.LineTo(far.X, far.Y)
	a.l.Stroke(2.2*a.k, solid(a.th.String.Faded(0.85)))
}

func (a *above) hue(eye int) display.Colour {
	if eye == sim.LeftEye {
		return a.th.Left
	}
	return a.th.Right
}

// axes draws each visual axis to where the two meet, and fainter from there to
// the frame's edge; axes that part run to the edge.
func (a *above) axes() {
	for i, e := range a.eyes2 {
		c := a.hue(i)
		if a.covered(i) {
			c = c.Faded(0.5)
		}
		to := e.edge
		if a.meets {
			to = min(to, math.Hypot(a.meet.X-e.at.X, a.meet.Y-e.at.Y))
		}
		dash := 0.
		if i == sim.LeftEye {
			dash = 5 * a.k
		}
		a.line(e, 0, to, 1.7*a.k, dash, c)
		if to < e.edge {
			a.line(e, to, e.edge, 1.2*a.k, dash, c.Faded(0.4))
		}
	}
}

func (a *above) covered(eye int) bool {
	return a.s.Cover == sim.Right && eye == sim.RightEye || a.s.Cover == sim.Left && eye == sim.LeftEye
}

func (a *above) line(e aboveEye, from, to, width, dash float64, c display.Colour) {
	a.l.MoveTo(e.at.X+from*e.along.X, e.at.Y+from*e.along.Y)
	a.l.LineTo(e.at.X+to*e.along.X, e.at.Y+to*e.along.Y)
	a.l.StrokeDashed(width, dash, solid(c))
}

// The light on the beads, as in the patient's view: from the upper left.
var aboveLight = func() [3]float64 {
	v := r3.Unit(r3.Vec{X: -0.45, Y: -0.6, Z: 0.66})
	return [3]float64{v.X, v.Y, v.Z}
}()

func (a *above) beads() {
	near, far := a.page(a.s.Place(0)), a.page(a.s.Place(a.s.String.Length))
	x, y := near.X-far.X, near.Y-far.Y
	n := math.Hypot(x, y)
	axis := [3]float64{x / n, y / n, 0}
	for _, b := range a.s.Beads {
		r := max(b.Diameter/2*a.sy, 5.2*a.k)
		a.l.AddBall(display.Ball{
			Centre:  a.page(a.s.Place(b.At)),
			RadiusX: r,
			RadiusY: r,
			Opacity: 1,
			Colour:  rgb(b.Colour),
			Surface: surface(b.Surface),
			Axis:    axis,
			Light:   aboveLight,
		})
	}
}

// marks draws the pointer at what is looked at, the x where the axes meet, and a
// ring where the strings cross if that is elsewhere.
func (a *above) marks() {
	l, k := a.l, a.k
	p := a.target
	tip := p.X - a.targetRadius() - 1.5*k
	l.MoveTo(tip, p.Y)
	l.LineTo(tip-6*k, p.Y-4.5*k)
	l.LineTo(tip-6*k, p.Y+4.5*k)
	l.Close()
	l.Fill(solid(a.th.Accent))
	if a.crosses && !a.together {
		l.Circle(a.cross, 4.5*k)
		l.Stroke(theme.Line*k, solid(a.th.Ink))
	}
	if a.meets {
		a.cross45(a.meet, 4*k, 4.4*k, a.th.Field)
		a.cross45(a.meet, 4*k, 2*k, a.th.Ink)
	}
}

// targetRadius is the drawn radius of the bead that is looked at, 0 on the bare
// string.
func (a *above) targetRadius() float64 {
	if a.s.Look.Bead == sim.NoBead {
		return 1.5 * a.k
	}
	return max(a.s.Beads[a.s.Look.Bead].Diameter/2*a.sy, 5.2*a.k)
}

func (a *above) cross45(p display.Point, r, width float64, c display.Colour) {
	a.l.MoveTo(p.X-r, p.Y-r)
	a.l.LineTo(p.X+r, p.Y+r)
	a.l.MoveTo(p.X-r, p.Y+r)
	a.l.LineTo(p.X+r, p.Y-r)
	a.l.Stroke(width, solid(c))
}

// eyes draws the eyes, each as large across as the scale of widths makes it, and
// turned as its axis is drawn.
func (a *above) eyes() {
	l, r := a.l, a.eye
	for i, e := range a.eyes2 {
		ahead := func(t float64) display.Point {
			return display.Point{X: e.at.X + t*r*e.along.X, Y: e.at.Y + t*r*e.along.Y}
		}
		angle := math.Atan2(e.along.Y, e.along.X)
		l.Circle(ahead(0.5), 0.64*r)
		l.Fill(solid(a.th.EyeWhite.Faded(0.75)))
		l.Circle(e.at, r)
		l.Fill(solid(a.th.EyeWhite))
		l.Ellipse(ahead(0.82), 0.16*r, 0.56*r, angle)
		l.Fill(solid(a.th.Iris))
		l.Ellipse(ahead(0.88), 0.12*r, 0.26*r, angle)
		l.Fill(solid(a.th.Pupil))
		if a.covered(i) {
			l.RoundRect(display.Rect{X: e.at.X - 1.3*r, Y: e.at.Y - 1.75*r - 5*a.k, W: 2.6 * r, H: 5 * a.k}, 2*a.k)
			l.Fill(solid(a.th.Edge))
		}
		letter, c := a.words.Right, a.th.PlateRight
		if i == sim.LeftEye {
			letter, c = a.words.Left, a.th.PlateLeft
		}
		if letter == "" {
			continue
		}
		plate := display.Point{X: e.at.X, Y: e.at.Y + r + 12*a.k}
		l.Circle(plate, 8*a.k)
		l.Fill(solid(a.th.Plate))
		st := lettering.Style{Face: display.Bold, Size: 11.5 * a.k, Colour: c}
		lettering.Draw(l, st, plate.X, plate.Y+lettering.CapHeight(st)/2, lettering.Middle, letter)
	}
}

func (a *above) labels() {
	for _, c := range a.callouts[:a.boxes] {
		st := a.small(c.colour)
		baseline := c.box.Y + (c.box.H+lettering.CapHeight(st))/2
		lettering.Draw(a.l, st, c.box.X, baseline, lettering.Start, c.text)
	}
}
