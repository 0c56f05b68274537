package render

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/sim"
)

// FrontOptions says how the view from in front is drawn.
type FrontOptions struct {
	Theme  *theme.Theme
	Labels FrontLabels
	Type   float64 // the least size of the words, pixels; 0: 12
}

// FrontLabels are the words in the view from in front. An empty one is left out.
type FrontLabels struct {
	Right, Left string // the eyes, one letter each
	Covered     string // under an eye that is covered
	// Turned says how an eye is turned: in or out, up or down, or both.
	Turned func(side, height sim.Turn) string
}

// The part of the face that a frame holds at least, mm: beside the centres of
// rotation, above and below them.
const (
	faceBeside = 27.
	faceAbove  = 24.
	faceBelow  = 48.
)

// FrontMap says where places stand in a view from in front.
type FrontMap struct {
	origin display.Point // midway between the eyes' centres of rotation
	scale  float64       // pixels per mm
}

// FrontMapOf is the map of the picture that Front draws in a frame.
func FrontMapOf(frame display.Rect, s *sim.Setup) FrontMap {
	return FrontMap{
		scale:  min(frame.W/(s.Patient.PD+2*faceBeside), frame.H/(faceAbove+faceBelow)),
		origin: display.Point{X: frame.X + frame.W/2, Y: frame.Y + frame.H*faceAbove/(faceAbove+faceBelow)},
	}
}

// Page is where a place of the plane that faces the observer is on the page.
func (m *FrontMap) Page(at sim.XY) display.Point {
	return display.Point{X: m.origin.X - m.scale*at.X, Y: m.origin.Y - m.scale*at.Y}
}

// Place is the inverse of Page: to the patient's right and up, mm. Where an eye has to
// point for its pupil to be there says sim.View.GazeSeenAt.
func (m *FrontMap) Place(p display.Point) sim.XY {
	return sim.XY{X: (m.origin.X - p.X) / m.scale, Y: (m.origin.Y - p.Y) / m.scale}
}

// Front draws the patient's eyes as an observer at the anchor sees them, the
// patient's right eye on the left. Where eyes and reflexes stand, how the irises are
// foreshortened and turned is the geometry of sim.Face, to scale and nothing
// exaggerated; lids, brows and nose are an average face's, which a drawing needs.
// The list's ground should be the theme's Panel.
func Front(l *display.List, frame display.Rect, v *sim.View, o FrontOptions) {
	if frame.W <= 0 || frame.H <= 0 {
		return
	}
	p := front{l: l, frame: frame, v: v, face: v.Face(), c: o.Theme.Face(), th: o.Theme, words: o.Labels}
	p.FrontMap = FrontMapOf(frame, &v.Now)
	if o.Type == 0 {
		o.Type = leastType
	}
	p.size = max(o.Type, min(3.4*p.scale, frame.H/20))
	l.Rect(frame)
	l.OpenClip()
	p.skin()
	for i := range sim.Eyes {
		p.eye(i)
	}
	p.nose()
	for i := range sim.Eyes {
		p.cover(i)
	}
	for i := range sim.Eyes {
		p.caption(i)
	}
	l.End()
}

// leastType is the smallest size of type under an eye, pixels, where none is asked for.
const leastType = 12.

// front is one view from in front while it is drawn.
type front struct {
	l     *display.List
	frame display.Rect
	v     *sim.View
	face  sim.Face
	c     theme.Face
	th    *theme.Theme
	words FrontLabels
	size  float64 // of type
	FrontMap
}

// by is a place a step from another, in that plane.
func by(at, step sim.XY) sim.XY { return sim.XY{X: at.X + step.X, Y: at.Y + step.Y} }

// place is a place on the face by an eye: mm temporal of its centre of rotation,
// above it and ahead of it.
type place struct{ temporal, above, ahead float64 }

// by is a place by an eye on the page.
func (p *front) by(eye sim.Eye, at place) display.Point {
	e := &p.face.Eyes[eye]
	if eye == sim.LeftEye {
		at.temporal = -at.temporal
	}
	d := r3.Vec{X: at.temporal, Y: at.ahead, Z: at.above}
	return p.Page(by(e.Centre, e.Project(d)))
}

// curve is a cubic Bézier curve by an eye.
type curve [4]place

// spline samples curves that go on from one another.
func (p *front) spline(points []display.Point, eye sim.Eye, curves ...curve) []display.Point {
	const steps = 10
	for i, c := range curves {
		var at [4]display.Point
		for j := range at {
			at[j] = p.by(eye, c[j])
		}
		for k := range steps + 1 {
			if i > 0 && k == 0 {
				continue
			}
			t := float64(k) / steps
			u := 1 - t
			a, b, c, d := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
			points = append(points, display.Point{
				X: a*at[0].X + b*at[1].X + c*at[2].X + d*at[3].X,
				Y: a*at[0].Y + b*at[1].Y + c*at[2].Y + d*at[3].Y,
			})
		}
	}
	return points
}

// brush is a soft stroke: its half-width at both ends and in between, and how far
// it fades, mm.
type brush struct {
	from, middle, to, soft float64
	colour                 display.Colour
	opacity                float64
}

// stroke draws along points.
func (p *front) stroke(points []display.Point, b brush) {
	var ribs [64]display.RibbonPoint
	n := len(points)
	for i, at := range points {
		t := float64(i) / float64(n-1)
		// Through the three widths, thickest in the middle.
		half := b.from*(1-t)*(1-2*t) + 4*b.middle*t*(1-t) + b.to*t*(2*t-1)
		ribs[i] = display.RibbonPoint{At: at, Half: max(half*p.scale, 0.25), Soft: b.soft * p.scale, Opacity: b.opacity}
	}
	p.l.AddRibbon(display.Ribbon{Points: ribs[:n], Colour: b.colour, Shade: b.colour})
}

// glow fills an ellipse that fades out, half-axes in mm.
func (p *front) glow(at display.Point, rx, ry float64, c display.Colour) {
	rx, ry = rx*p.scale, ry*p.scale
	p.l.Ellipse(at, rx, ry, 0)
	p.l.Fill(display.Paint{Kind: display.Radial, From: c, To: c.Faded(0), A: at, B: display.Point{X: rx, Y: ry}, Dither: true})
}

// skin draws the face behind the eyes: forehead, temples and cheeks, lit from the front.
func (p *front) skin() {
	p.l.Rect(p.frame)
	p.l.Fill(display.Paint{
		Kind: display.Radial, From: p.c.Lit, To: p.c.Skin, Dither: true,
		A: p.Page(sim.XY{Y: -8}), B: display.Point{X: 75 * p.scale, Y: 70 * p.scale},
	})
	for _, side := range [2]float64{-1, 1} {
		x := side * p.v.Now.Patient.PD / 2
		p.glow(p.Page(sim.XY{X: x + side*3, Y: -33}), 24, 17, p.c.Bright.Faded(0.45)) // the cheek
		p.glow(p.Page(sim.XY{X: x + side*34, Y: -10}), 26, 62, p.c.Shade.Faded(0.55)) // the temple
	}
	p.glow(p.Page(sim.XY{Y: 30}), 46, 16, p.c.Bright.Faded(0.3)) // the forehead
}

// nose draws the bridge, the tip and the wings of the nose, and the string that
// leaves its near end towards the observer, who looks over it.
func (p *front) nose() {
	at := func(across, above, ahead float64) display.Point {
		return p.Page(p.face.Project(r3.Vec{X: across, Y: ahead, Z: above}))
	}
	p.glow(at(0, -46, 40), 22, 8, p.c.Shade.Faded(0.5))   // under the tip
	p.glow(at(0, -12, 24), 6, 26, p.c.Lit.Faded(0.8))     // the bridge
	p.glow(at(0, -33, 52), 10, 10, p.c.Bright.Faded(0.6)) // the tip
	half := p.v.Now.Patient.PD / 2
	for i := range sim.Eyes {
		// From the middle: the hollow from the brow along the bridge, the side of the nose,
		// the wing, and the nostril.
		for _, line := range [...]struct {
			curve
			brush
		}{
			{curve{{17, 12, 14}, {7, 8, 16}, {8, -4, 20}, {11, -12, 22}}, brush{1.5, 3, 1.5, 5, p.c.Shade, 0.35}},
			{curve{{9, -12, 24}, {9, -20, 28}, {11, -26, 36}, {13, -31, 40}}, brush{1, 1.5, 1.5, 4, p.c.Shade, 0.3}},
			{curve{{12, -29, 42}, {17.5, -31, 42}, {17.5, -42, 42}, {11, -41.5, 42}}, brush{0.3, 0.8, 0.4, 1.3, p.c.Shade, 0.65}},
			{curve{{9.5, -42.5, 44}, {7.5, -40.5, 45}, {5, -41, 46}, {3, -43.5, 47}}, brush{0.4, 1.3, 0.4, 1, p.c.Hair, 0.6}},
		} {
			for j := range line.curve {
				line.curve[j].temporal -= half
			}
			var store [16]display.Point
			p.stroke(p.spline(store[:0], i, line.curve), line.brush)
		}
	}

	const least = 4 // of string to be drawn, mm
	near := p.Page(p.face.Project(p.v.Now.String.NearEnd))
	end := p.frame.Y + p.frame.H + p.scale
	if end < near.Y+least*p.scale {
		return
	}
	thick := p.v.Now.String.Thickness * p.scale
	long := (end - near.Y) / (24 * p.scale) // what is nearer to the observer is wider
	ribs := [2]display.RibbonPoint{
		{At: near, Half: thick / 2, Soft: 0.5, Opacity: 1},
		{At: display.Point{X: near.X, Y: end}, Half: thick / 2 * (1 + 0.5*long), Soft: 0.5, Opacity: 1, Twist: 2 * (1 + long)},
	}
	p.l.Circle(near, thick/2)
	p.l.Fill(display.Paint{From: p.th.String})
	p.l.AddRibbon(display.Ribbon{Points: ribs[:], Colour: p.th.String, Shade: p.th.StringShade, TwistDepth: 0.6})
}

// ballRadius is that of the eyeball with the lid on it, mm.
const ballRadius = 12.3

// lids are the edges of an eye's lids, each from the inner corner to the outer one.
type lids struct{ upper, lower [2]curve }

// lidsOf lays out the lids: the upper one follows the eye up and down, the lower one
// a little.
func lidsOf(elevation sim.Angle) lids {
	// A lid slides over the eyeball: up by so many degrees from its middle.
	on := func(temporal, degrees float64) place {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return place{temporal, ballRadius * sin, ballRadius * cos}
	}
	up := float64(elevation.Degrees())
	peak := on(-0.8, min(max(23+0.8*up, -12), 50))
	low := on(1.2, min(max(-27+0.3*up, -42), -19))
	inner, outer := place{-15.5, -1.6, 9}, place{13.5, 0.8, 6}
	arch := func(mid place) [2]curve {
		over, out := mid.above-inner.above, mid.above-outer.above
		return [2]curve{
			{inner, {inner.temporal + 4, inner.above + 0.62*over, (inner.ahead + 2*mid.ahead) / 3}, {mid.temporal - 5.5, mid.above, mid.ahead}, mid},
			{mid, {mid.temporal + 6.5, mid.above, mid.ahead}, {outer.temporal - 3, outer.above + 0.5*out, (outer.ahead + mid.ahead) / 2}, outer},
		}
	}
	return lids{upper: arch(peak), lower: arch(low)}
}

// raised is a pair of curves farther up, as far in the middle as given.
func raised(c [2]curve, by float64) [2]curve {
	for i := range c {
		for j := range c[i] {
			share := 1.
			if i == 0 && j == 0 || i == 1 && j == 3 {
				share = 0.45
			}
			c[i][j].above += share * by
		}
	}
	return c
}

// eye draws one eye with its lids and its brow.
func (p *front) eye(i sim.Eye) {
	e := &p.face.Eyes[i]
	lids := lidsOf(p.v.Eyes[i].Elevation)
	var stores [4][24]display.Point
	upper := p.spline(stores[0][:0], i, lids.upper[:]...)
	lower := p.spline(stores[1][:0], i, lids.lower[:]...)

	p.glow(p.by(i, place{-1, 3, 12}), 24, 17, p.c.Shade.Faded(0.5))
	brow := curve{{-16, 15.6, 17}, {-7, 18.6, 18}, {8, 20.2, 16}, {19, 14.6, 10}}
	p.stroke(p.spline(stores[2][:0], i, brow), brush{1.1, 1.5, 0.4, 0.9, p.c.Hair, 0.7})
	fold := raised(lids.upper, 2.6+0.12*max(0, 5-lids.upper[0][3].above))
	p.stroke(p.spline(stores[3][:0], i, fold[:]...), brush{0.15, 0.55, 0.3, 0.8, p.c.Shade, 0.8})

	l := p.l
	l.MoveTo(upper[0].X, upper[0].Y)
	for _, at := range upper[1:] {
		l.LineTo(at.X, at.Y)
	}
	for j := len(lower) - 2; j > 0; j-- {
		l.LineTo(lower[j].X, lower[j].Y)
	}
	l.Close()
	l.OpenClip()
	p.ball(i, e)
	p.stroke(upper, brush{1, 1.3, 1, 2, p.c.Pupil, 0.42})
	l.End()
	p.stroke(lower, brush{0.1, 0.3, 0.3, 0.45, p.c.Hair, 0.6})
	p.stroke(upper, brush{0.15, 0.6, 0.25, 0.3, p.c.Hair, 1})
}

// ball draws what shows of the eyeball between the lids.
func (p *front) ball(i sim.Eye, e *sim.EyeFace) {
	l := p.l
	middle := p.by(i, place{0, 0, 12})
	l.Circle(middle, 24*p.scale)
	l.Fill(display.Paint{
		Kind: display.Radial, From: p.c.White, To: p.c.WhiteShade, Dither: true,
		A: middle, B: display.Point{X: 15 * p.scale, Y: 12 * p.scale},
	})
	p.glow(p.by(i, place{-14.8, -1.7, 9}), 3.6, 3.2, p.c.Corner)

	if math.Cos(float64(e.Angle)) <= 0 {
		return // it faces away
	}
	disc := func(radius float64, c display.Colour) {
		p.disc(e, radius)
		l.Fill(display.Paint{From: c})
	}
	disc(sim.IrisRadius+0.3, p.c.IrisRim.Faded(0.3))
	disc(sim.IrisRadius, p.c.IrisRim)
	disc(sim.IrisRadius-0.55, p.c.IrisShade)
	disc(sim.IrisRadius-0.95, p.c.Iris)
	p.fibres(i, e)
	disc(e.PupilRadius+0.25, p.c.IrisRim.Faded(0.5))
	disc(e.PupilRadius, p.c.Pupil)
	if e.Reflex.OK {
		at := p.Page(by(by(e.Centre, e.Pupil), e.Reflex.Value))
		p.glow(at, 1.1, 1.1, p.c.Reflex.Faded(0.35))
		l.Circle(at, reflexRadius*p.scale)
		l.Fill(display.Paint{From: p.c.Reflex})
	}
}

// reflexRadius is that of the corneal reflex as drawn, mm.
const reflexRadius = 0.52

// disc adds a circle of the iris' plane round the pupil to the outline under the
// pen: foreshortened along the direction in which the eye is turned.
func (p *front) disc(e *sim.EyeFace, radius float64) {
	r := radius * p.scale
	p.l.Ellipse(p.Page(by(e.Centre, e.Pupil)), r*math.Cos(float64(e.Angle)), r, math.Atan2(-e.Pupil.Y, -e.Pupil.X))
}

// iris is a place in the plane of the iris, by its radius and the angle from the
// temporal side upwards, in turns: what is drawn there turns with the eye.
func (p *front) iris(i sim.Eye, e *sim.EyeFace, radius, turns float64) display.Point {
	sin, cos := math.Sincos(2 * math.Pi * turns)
	if i == sim.LeftEye {
		cos = -cos
	}
	return p.Page(by(by(e.Centre, e.Pupil), sim.XY{
		X: radius * (cos*e.Across.X + sin*e.Upright.X),
		Y: radius * (cos*e.Across.Y + sin*e.Upright.Y),
	}))
}

// fibres draws the pattern of the iris: fibres of uneven length, a lighter ring
// round the pupil and a few darker gaps, by which a tilt of the eye can be seen.
func (p *front) fibres(i sim.Eye, e *sim.EyeFace) {
	l := p.l
	const fibres = 44
	uneven := func(n int, k float64) float64 { _, f := math.Modf(float64(n+1) * k); return f }
	inner := min(e.PupilRadius+0.2, sim.IrisRadius-1.5)
	width := sim.IrisRadius - 0.9 - inner
	for pass, c := range [2]display.Colour{p.c.IrisShade.Faded(0.6), p.c.IrisLit.Faded(0.75)} {
		for n := range fibres {
			turns := (float64(n) + 0.5*float64(pass) + 0.5*uneven(n, math.Phi)) / fibres
			from := inner + 0.25*width*uneven(n, math.Sqrt2)
			to := inner + width*(0.6+0.4*uneven(n, math.E))
			a, b := p.iris(i, e, from, turns), p.iris(i, e, to, turns)
			l.MoveTo(a.X, a.Y)
			l.LineTo(b.X, b.Y)
		}
		l.Stroke(0.2*p.scale, display.Paint{From: c})
	}
	for _, gap := range [...][2]float64{{0.2, 0.5}, {0.56, 0.42}, {0.83, 0.55}} {
		at := p.iris(i, e, inner+gap[1]*width, gap[0])
		l.Circle(at, 0.42*p.scale)
		l.Fill(display.Paint{From: p.c.IrisRim.Faded(0.6)})
	}
}

// cover draws the paddle before a covered eye, with where its iris is behind it.
func (p *front) cover(i sim.Eye) {
	e := &p.face.Eyes[i]
	if !e.Covered {
		return
	}
	l := p.l
	at := p.by(i, place{0, 0, 12})
	end := p.by(i, place{22, -75, 12})
	l.MoveTo(at.X, at.Y)
	l.LineTo(end.X, end.Y)
	l.Stroke(7*p.scale, display.Paint{From: p.c.Paddle})
	r := 17 * p.scale
	l.Circle(at, r)
	l.Fill(display.Paint{
		Kind: display.Linear, From: p.c.PaddleLit, To: p.c.Paddle,
		A: display.Point{X: at.X, Y: at.Y - r}, B: display.Point{X: at.X, Y: at.Y + r},
	})
	l.Circle(at, r-0.4*p.scale)
	l.Stroke(max(1, 0.5*p.scale), display.Paint{From: p.c.PaddleEdge})
	if math.Cos(float64(e.Angle)) <= 0 {
		return
	}
	p.disc(e, sim.IrisRadius)
	l.StrokeDashed(max(1, 0.35*p.scale), max(2.5, 1.1*p.scale), display.Paint{From: p.c.Ink.Faded(0.8)})
}

// caption puts an eye's letter under it, an arrow the way that it is turned, and
// the word for it.
func (p *front) caption(i sim.Eye) {
	e := &p.face.Eyes[i]
	letter, hue := p.words.Right, p.th.PlateRight
	if i == sim.LeftEye {
		letter, hue = p.words.Left, p.th.PlateLeft
	}
	at := p.by(i, place{2, -21, 12})
	// A low frame has room for the letter and the arrow alone.
	foot, wordless := 4*p.size, p.frame.H < 9*p.size
	if wordless {
		foot = p.size
	}
	at.Y = min(max(at.Y, p.frame.Y+p.size), p.frame.Y+p.frame.H-foot)
	side := 1.45 * p.size
	if letter != "" {
		p.l.RoundRect(display.Around(at, side/2), side/5)
		p.l.Fill(display.Paint{From: p.th.Plate})
		st := lettering.Style{Face: display.Bold, Size: p.size, Colour: hue}
		lettering.Draw(p.l, st, at.X, at.Y+lettering.CapHeight(st)/2, lettering.Middle, letter)
	}
	said := ""
	switch {
	case e.Covered && !wordless:
		said = p.words.Covered
	case e.Covered:
	case e.Turned():
		p.arrow(i, e, at, side)
		if p.words.Turned != nil && !wordless {
			said = p.words.Turned(e.Side, e.Height)
		}
	}
	st := lettering.Style{Size: p.size, Colour: p.c.Ink}
	room := 2*min(at.X-p.frame.X, p.frame.X+p.frame.W-at.X) - p.size
	y := at.Y + side/2 + 0.4*p.size + lettering.Ascent(st)
	for _, line := range lettering.Wrap(st, said, room) {
		lettering.Draw(p.l, st, at.X, y, lettering.Middle, line)
		y += lettering.LineHeight(st)
	}
}

// arrow draws an arrow beside an eye's letter, on the side to which the eye is
// turned, in the direction of its turn.
func (p *front) arrow(i sim.Eye, e *sim.EyeFace, plate display.Point, side float64) {
	temporal := -1. // on the page
	if i == sim.LeftEye {
		temporal = 1
	}
	var d display.Point
	switch e.Side {
	case sim.TurnOut:
		d.X = temporal
	case sim.TurnIn:
		d.X = -temporal
	}
	switch e.Height {
	case sim.TurnUp:
		d.Y = -1
	case sim.TurnDown:
		d.Y = 1
	}
	c := display.Point{X: plate.X + 1.45*side*temporal, Y: plate.Y}
	if d.X != 0 {
		c.X = plate.X + 1.45*side*d.X
	}
	n := math.Hypot(d.X, d.Y)
	d.X, d.Y = d.X/n*side, d.Y/n*side
	tip := display.Point{X: c.X + 0.6*d.X, Y: c.Y + 0.6*d.Y}
	l := p.l
	l.MoveTo(c.X-0.6*d.X, c.Y-0.6*d.Y)
	l.LineTo(tip.X, tip.Y)
	for _, wing := range [2]float64{-1, 1} {
		l.MoveTo(tip.X, tip.Y)
		l.LineTo(tip.X-0.42*d.X+0.32*wing*d.Y, tip.Y-0.42*d.Y-0.32*wing*d.X)
	}
	l.Stroke(0.16*side, display.Paint{From: p.c.Ink})
}
