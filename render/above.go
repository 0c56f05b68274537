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
	// Extent is the set-up whose string and eyes the picture has room for, so that it
	// keeps still while an end of the string is pulled; nil: the one that is seen.
	Extent *sim.Setup
}

// AboveMap says where places stand in a view from above.
type AboveMap struct {
	origin         display.Point
	acrossX        float64 // what stands at the origin, mm
	perMMX, perMMY float64 // pixels
}

// AboveMapOf is the map of the picture that Above draws in a frame.
func AboveMapOf(frame display.Rect, s *sim.Setup, scale float64) AboveMap {
	a := above{frame: frame, s: s}
	a.lay(scale, s)
	return a.AboveMap
}

// Page is where a place of the head frame is on the page.
func (m *AboveMap) Page(p r3.Vec) display.Point {
	return display.Point{X: m.origin.X + (p.X-m.acrossX)*m.perMMX, Y: m.origin.Y - p.Y*m.perMMY}
}

// Place is the inverse of Page: to the patient's right and straight ahead, mm.
func (m *AboveMap) Place(p display.Point) (right, ahead float64) {
	return m.acrossX + (p.X-m.origin.X)/m.perMMX, (m.origin.Y - p.Y) / m.perMMY
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
func Above(l *display.List, frame display.Rect, v *sim.View, opt AboveOptions) {
	s := &v.Now
	if frame.W <= 0 || frame.H <= 0 {
		return
	}
	a := above{l: l, frame: frame, v: v, s: s, th: opt.Theme, words: opt.Labels}
	if opt.Extent == nil {
		opt.Extent = s
	}
	a.lay(opt.Scale, opt.Extent)
	a.measure()
	a.arrange()
	l.Rect(frame)
	l.OpenClip()
	a.horopter()
	a.wall()
	a.nose()
	a.drawRuler()
	a.drawString()
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
	words AboveLabels

	AboveMap
	k        float64 // scale of type and strokes
	times    float64 // how many times wider than long it is
	eye      float64 // radius of an eye, pixels
	string   segment
	gazes    [2]aboveGaze
	target   display.Point
	meet     display.Point
	cross    display.Point
	meets    bool // within the frame
	crosses  bool // seen, and within the frame
	together bool // meet and cross are one place as drawn

	ruler    ruler
	board    board // where labels may go
	callouts [3]callout
	count    int
}

// ruler is the length drawn for scale, from its lower end, with its texts.
type ruler struct {
	at            display.Point
	length        float64 // pixels
	text, wider   string
	box, widerBox display.Rect // of the texts
}

// Sizes at scale 1.
const (
	leastBead = 7. // radius, so that colour and surface can be told
	pointer   = 6. // length of the one at what is looked at
	meetArm   = 3.4
	crossRing = 4.5 // radius
	labelGap  = 6.  // what gaps round labels are measured by
	leastLead = 9.  // a label farther from its mark than that has a line to it
)

// labelPad is the room at either end of a label, in sizes of its type.
const labelPad = 0.2

// aboveGaze is an eye as drawn: its centre, the direction of its axis on the page
// and how far along it the frame ends.
type aboveGaze struct {
	at, along display.Point
	edge      float64
}

// callout is a label beside the place it belongs to, on one line or two.
type callout struct {
	lines  [2]string
	colour display.Colour
	box    display.Rect
	leader segment // from the mark to the box
}

// Half the diameter of the eye, and how far beyond the wall the picture goes, as
// a share of its distance.
const (
	eyeRadius  = 12. // mm
	beyondWall = 1.12
)

// magnifications are how many times wider than long the picture may be.
var magnifications = [...]float64{1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20}

// lay decides the scale, from a set-up's string and eyes.
func (a *above) lay(scale float64, s *sim.Setup) {
	short := min(a.frame.W, a.frame.H)
	a.k = scale
	if scale <= 0 {
		// A larger picture is looked at from farther away, but not in proportion.
		a.k = max(0.7, math.Pow(short/300, 0.7))
	}
	ends := [...]r3.Vec{s.Place(0), s.Place(s.String.Length)}
	half := s.Patient.PD / 2
	left, right, far := -half-eyeRadius, half+eyeRadius, 0.
	for _, p := range ends {
		left, right, far = min(left, p.X), max(right, p.X), max(far, p.Y)
	}
	a.acrossX = (left + right) / 2

	margin := 14 * a.k
	bottom := 0.06*short + 26*a.k
	a.perMMY = max(a.frame.H-margin-bottom, 1) / (beyondWall * far)
	across := max(a.frame.W-2*margin, 1) / (right - left)
	a.perMMY = min(a.perMMY, across)
	wanted := min(0.22*short/(s.Patient.PD*a.perMMY), across/a.perMMY)
	a.times = 1
	for _, m := range magnifications {
		if m <= wanted {
			a.times = m
		}
	}
	a.perMMX = a.perMMY * a.times
	a.eye = min(eyeRadius*a.perMMX, 0.055*short)
	a.origin = display.Point{X: a.frame.X + a.frame.W/2, Y: a.frame.Y + a.frame.H - bottom}
}

// arrange works out where everything is that labels must keep clear of, and where they go.
func (a *above) arrange() {
	b := &a.board
	b.frame, b.unit = a.frame, labelGap*a.k
	for i := range sim.Eyes {
		g := &a.v.Eyes[i]
		at := a.Page(g.Centre)
		x, y := g.Axis.X*a.perMMX, -g.Axis.Y*a.perMMY
		n := math.Hypot(x, y)
		if n == 0 { // the eye looks straight up or down
			n, y = 1, -1
		}
		e := aboveGaze{at: at, along: display.Point{X: x / n, Y: y / n}}
		e.edge = a.edge(e.at, e.along)
		a.gazes[i] = e
		b.line(segment{at, e.end()})
		up := 1.2 * a.eye
		if a.covered(i) {
			up = 2*a.eye + 5*a.k
		}
		b.box(display.Rect{X: at.X - 1.3*a.eye, Y: at.Y - up, W: 2.6 * a.eye, H: up + a.eye + 22*a.k})
	}
	b.box(a.ruler.box)
	b.box(a.ruler.widerBox)
	b.line(segment{a.ruler.at, {X: a.ruler.at.X, Y: a.ruler.at.Y - a.ruler.length}})
	a.string = segment{a.Page(a.s.Place(0)), a.Page(a.s.Place(a.s.String.Length))}
	b.line(a.string)
	b.line(a.wallLine())
	for i := range a.s.Beads {
		b.disc(spot{a.Page(a.s.Place(a.s.Beads[i].At)), a.beadRadius(i)})
	}
	a.target = a.Page(a.v.Target.Point)
	if m := a.v.Axes.Point; m.OK {
		a.meet = a.Page(m.Value)
		a.meets = inside(a.frame, a.meet, 0)
	}
	if c := a.v.Crossing; crossesOnString(a.v) {
		a.cross = a.Page(a.s.Place(c.At.Value))
		a.crosses = inside(a.frame, a.cross, 0)
	}
	a.together = a.meets && a.crosses && math.Hypot(a.meet.X-a.cross.X, a.meet.Y-a.cross.Y) < 7*a.k

	for _, m := range [...]struct {
		at spot
		on bool
	}{
		{spot{a.target, a.targetRadius()}, true}, {spot{a.meet, meetArm * a.k}, a.meets}, {spot{a.cross, crossRing * a.k}, a.crosses},
	} {
		if r := m.at.radius / math.Sqrt2; m.on {
			b.box(display.Around(m.at.at, r))
		}
	}
	if a.meets {
		text := a.words.Meet
		if a.together {
			text = a.words.MeetCross
		}
		a.callout(text, a.th.Ink, spot{a.meet, 1.5 * meetArm * a.k}, 0)
	}
	if a.crosses && !a.together {
		a.callout(a.words.Cross, a.th.String, spot{a.cross, crossRing * a.k}, 0)
	}
	a.callout(a.words.Target, a.th.Accent, spot{a.target, a.targetRadius() + pointer*a.k}, math.Pi)
}

// crossesOnString says whether the strings are seen to cross at a place on the string
// (M11): where one passes over the other, where they cross off to one side, and where
// they lie along one line there is none.
func crossesOnString(v *sim.View) bool {
	return v.Account.Meet.OnString() && v.Crossing.Seen && !onOneLine(v)
}

// onOneLine says whether the two strands are seen as one line, so that no crossing shows.
func onOneLine(v *sim.View) bool { return v.Strings.NearOverlaid && v.Strings.FarOverlaid }

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

// callout makes room for a label beside a mark, as near as it can to a direction of the
// page, on one line or two. Where it has no room at all it is left out.
func (a *above) callout(text string, c display.Colour, of spot, towards float64) {
	if text == "" {
		return
	}
	// A mark on the bead that is looked at is named beside the bead.
	if d := math.Hypot(of.at.X-a.target.X, of.at.Y-a.target.Y); d < a.targetRadius() {
		of.radius = max(of.radius, d+a.targetRadius())
	}
	st := a.small(c)
	h := lettering.LineHeight(st)
	put := func(lines [2]string, w, h float64) bool {
		m := mark{eye: noEye}
		if !a.board.put(&m, of, w+2*labelPad*st.Size, h, towards, -math.Cos(towards)) {
			return false
		}
		a.callouts[a.count] = callout{lines: lines, colour: c, box: m.box, leader: m.leader}
		a.count++
		return true
	}
	w := lettering.Width(st, text)
	if put([2]string{text}, w, h) {
		return
	}
	if lines := lettering.Wrap(st, text, 0.62*w); len(lines) == 2 {
		put([2]string(lines), max(lettering.Width(st, lines[0]), lettering.Width(st, lines[1])), 2*h)
	}
}

// end is where the axis leaves the frame.
func (e *aboveGaze) end() display.Point {
	return display.Point{X: e.at.X + e.edge*e.along.X, Y: e.at.Y + e.edge*e.along.Y}
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
	const steps = 48
	var arc [steps + 1]display.Point // from left to right
	for i := range arc {
		// An arc seen under θ from the circle's rim is 2θ from its centre.
		arc[i] = a.Page(c.at(2 * horopterReach * (2*float64(i)/steps - 1)))
	}
	// The labels and the length of the ruler are cut out of the line, that with some room:
	// the line may run along it.
	l, room := a.l, 4*a.k
	length := a.ruler.box
	length.Y, length.H = length.Y-room, length.H+2*room
	l.Rect(a.frame)
	l.Rect(length)
	for _, c := range a.callouts[:a.count] {
		l.Rect(c.box)
	}
	l.OpenClipEvenOdd()
	l.MoveTo(arc[0].X, arc[0].Y)
	for _, p := range arc[1:] {
		l.LineTo(p.X, p.Y)
	}
	l.StrokeDashed(a.k, 2.5*a.k, solid(a.th.Muted.Faded(0.55)))
	l.End()

	if a.words.Horopter != "" && !a.name(arc[:], +1) {
		a.name(arc[:], -1)
	}
}

// name writes the horopter's name over its right (side +1) or left (−1) end within
// the frame, if it is free there.
func (a *above) name(arc []display.Point, side float64) bool {
	st := a.small(a.th.Muted)
	width, height := lettering.Width(st, a.words.Horopter), lettering.Ascent(st)
	edge := side*(a.frame.X+a.frame.W/2) + a.frame.W/2 - 10*a.k
	end := math.Inf(-1)
	for _, p := range arc {
		if x := side * p.X; x > end && x <= edge {
			end = x
		}
	}
	box := display.Rect{X: side * end, W: width, H: height + 5*a.k}
	if side > 0 {
		box.X -= width
	}
	top := math.Inf(1)
	for _, p := range arc {
		if p.X >= box.X-10*a.k && p.X <= box.X+width+10*a.k {
			top = min(top, p.Y)
		}
	}
	box.Y = top - box.H
	wide := box
	wide.X, wide.W = wide.X-8*a.k, wide.W+16*a.k
	free := a.board.free(wide)
	if free {
		lettering.Draw(a.l, st, box.X, top-5*a.k, lettering.Start, a.words.Horopter)
	}
	return free
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
	s := a.wallLine()
	a.l.MoveTo(s[0].X, s[0].Y)
	a.l.LineTo(s[1].X, s[1].Y)
	a.l.Stroke(3*a.k, solid(a.th.Edge))
}

func (a *above) wallLine() segment {
	p := a.Page(a.s.Place(a.s.String.Length))
	half := 34 * a.k
	return segment{{X: p.X - half, Y: p.Y - 2*a.k}, {X: p.X + half, Y: p.Y - 2*a.k}}
}

// nose draws a hint of the nose between the eyes, its tip as far ahead as the
// near end of the string.
func (a *above) nose() {
	tip := a.Page(r3.Vec{Y: a.s.String.NearEnd.Y})
	wing := 13 * a.perMMX
	base := max(a.origin.Y, tip.Y+wing)
	l := a.l
	l.MoveTo(tip.X-wing, base)
	l.CubicTo(display.Point{X: tip.X - 0.75*wing, Y: tip.Y + 0.45*wing}, display.Point{X: tip.X - 0.55*wing, Y: tip.Y}, tip)
	l.CubicTo(display.Point{X: tip.X + 0.55*wing, Y: tip.Y}, display.Point{X: tip.X + 0.75*wing, Y: tip.Y + 0.45*wing}, display.Point{X: tip.X + wing, Y: base})
	l.Stroke(theme.Line*a.k, solid(a.th.Hairline))
}

// measure lays out the ruler, beside the eyes where there is more room, and what says
// how much wider the picture is than long.
func (a *above) measure() {
	w := &a.words
	if w.Length == nil || w.Unit <= 0 {
		return
	}
	length := scaleLength(w.Unit, 0.3*a.frame.H/a.perMMY)
	st := a.small(a.th.Muted)
	h, right := lettering.CapHeight(st), 8*a.k
	r := &a.ruler
	r.length = length * a.perMMY
	r.text = w.Length(length)
	r.box = display.Rect{W: lettering.Width(st, r.text), H: h}
	if a.times > 1 && w.Wider != nil {
		r.wider = w.Wider(a.times)
		r.widerBox = display.Rect{W: lettering.Width(st, r.wider), H: h}
	}
	r.at = display.Point{X: a.frame.X + 14*a.k, Y: a.frame.Y + a.frame.H - 14*a.k}
	if a.acrossX > 0 { // the eyes stand to the left
		r.at.X = a.frame.X + a.frame.W - 14*a.k - right - max(r.box.W, r.widerBox.W)
	}
	r.box.X, r.box.Y = r.at.X+right, r.at.Y-r.length-h/2
	r.widerBox.X, r.widerBox.Y = r.at.X+right, r.at.Y-h
	if a.times > 1 {
		// A short ruler has its length above its end.
		r.box.Y = min(r.box.Y, r.widerBox.Y-1.4*h)
	}
}

func (a *above) drawRuler() {
	r, l, tick := &a.ruler, a.l, 3*a.k
	if r.text == "" {
		return
	}
	x, y, top := r.at.X, r.at.Y, r.at.Y-r.length
	l.MoveTo(x-tick, y)
	l.LineTo(x+tick, y)
	l.MoveTo(x, y)
	l.LineTo(x, top)
	l.MoveTo(x-tick, top)
	l.LineTo(x+tick, top)
	l.Stroke(a.k, solid(a.th.Edge))
	st := a.small(a.th.Muted)
	lettering.Draw(l, st, r.box.X, r.box.Y+r.box.H, lettering.Start, r.text)
	lettering.Draw(l, st, r.widerBox.X, r.widerBox.Y+r.widerBox.H, lettering.Start, r.wider)
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

func (a *above) drawString() {
	near, far := a.string[0], a.string[1]
	a.l.MoveTo(near.X, near.Y)
	a.l.LineTo(far.X, far.Y)
	a.l.Stroke(2.2*a.k, solid(a.th.String.Faded(0.85)))
}

func (a *above) hue(eye sim.Eye) display.Colour {
	if eye == sim.LeftEye {
		return a.th.Left
	}
	return a.th.Right
}

// axes draws each visual axis to where the two meet, and fainter from there to
// the frame's edge; axes that part run to the edge.
func (a *above) axes() {
	for i := range sim.Eyes {
		e := a.gazes[i]
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

func (a *above) covered(eye sim.Eye) bool {
	return a.s.Cover == eye.Side()
}

func (a *above) line(e aboveGaze, from, to, width, dash float64, c display.Colour) {
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
	near, far := a.string[0], a.string[1]
	x, y := near.X-far.X, near.Y-far.Y
	n := math.Hypot(x, y)
	axis := [3]float64{x / n, y / n, 0}
	for i, b := range a.s.Beads {
		r := a.beadRadius(i)
		a.l.AddBall(display.Ball{
			Centre:  a.Page(a.s.Place(b.At)),
			RadiusX: r,
			RadiusY: r,
			Opacity: 1,
			Colour:  Colour(b.Colour),
			Surface: Surface(b.Surface),
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
	l.LineTo(tip-pointer*k, p.Y-4.5*k)
	l.LineTo(tip-pointer*k, p.Y+4.5*k)
	l.Close()
	l.Fill(solid(a.th.Accent))
	if a.crosses && !a.together {
		l.Circle(a.cross, crossRing*k)
		l.Stroke(theme.Line*k, solid(a.th.Ink))
	}
	if a.meets {
		a.saltire(a.meet, 3.6*k, a.th.Field)
		a.saltire(a.meet, 1.8*k, a.th.Ink)
	}
}

// targetRadius is the drawn radius of the bead that is looked at, 0 on the bare
// string.
func (a *above) targetRadius() float64 {
	if a.s.Look.Bead == sim.NoBead {
		return 1.5 * a.k
	}
	return a.beadRadius(a.s.Look.Bead)
}

func (a *above) beadRadius(bead int) float64 {
	return max(a.s.Beads[bead].Diameter/2*a.perMMY, leastBead*a.k)
}

// saltire draws an x.
func (a *above) saltire(p display.Point, width float64, c display.Colour) {
	r := meetArm * a.k
	a.l.MoveTo(p.X-r, p.Y-r)
	a.l.LineTo(p.X+r, p.Y+r)
	a.l.MoveTo(p.X-r, p.Y+r)
	a.l.LineTo(p.X+r, p.Y-r)
	a.l.Stroke(width, solid(c))
}

// leastContrast is what graphics need against their ground (row G4). An eye's white with
// less gets an edge.
const leastContrast = 3

// eyes draws the eyes, each as large across as the scale of widths makes it, and
// turned as its axis is drawn.
func (a *above) eyes() {
	l, r := a.l, a.eye
	for i := range sim.Eyes {
		e := a.gazes[i]
		ahead := func(t float64) display.Point {
			return display.Point{X: e.at.X + t*r*e.along.X, Y: e.at.Y + t*r*e.along.Y}
		}
		angle := math.Atan2(e.along.Y, e.along.X)
		l.Circle(ahead(0.5), 0.64*r)
		l.Fill(solid(a.th.EyeWhite.Faded(0.75)))
		l.Circle(e.at, r)
		l.Fill(solid(a.th.EyeWhite))
		if theme.Contrast(a.th.EyeWhite, a.th.Panel) < leastContrast {
			l.Circle(e.at, r)
			l.Stroke(theme.Line*a.k, solid(a.th.Edge))
		}
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
	for _, c := range a.callouts[:a.count] {
		if s := &c.leader; math.Hypot(s[1].X-s[0].X, s[1].Y-s[0].Y) > leastLead*a.k {
			a.l.MoveTo(s[0].X, s[0].Y)
			a.l.LineTo(s[1].X, s[1].Y)
			a.l.Stroke(a.k, solid(c.colour.Faded(0.7)))
		}
		st := a.small(c.colour)
		h := lettering.LineHeight(st)
		baseline := c.box.Y + (h+lettering.CapHeight(st))/2
		for i, line := range c.lines {
			lettering.Draw(a.l, st, c.box.X+labelPad*st.Size, baseline+float64(i)*h, lettering.Start, line)
		}
	}
}
