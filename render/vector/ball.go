package vector

import (
	"math"

	"twincord/render/display"
)

// A ball is painted in a frame of its own, in which its outline is a circle of
// radius BallUnit: the colour where it is brightest and its pattern, then black over
// it for the shading, then the gleam.
const BallUnit = 100

const (
	litSteps     = 40 // of equal brightness from the lit side to the dark one
	gleamStops   = 13
	GleamReach   = 0.55 * BallUnit
	patternSteps = 6 // outlines that the edge of a blurred pattern is made of, at most
)

// BallMatrix turns a ball's frame into the page: (x, y) is at (m11·x + m12·y, m12·x + m22·y)
// from the centre.
func BallMatrix(b *display.Ball) (m11, m12, m22 float64) {
	sin, cos := math.Sincos(b.Angle)
	unit := b.Swell() / BallUnit
	m11 = (b.RadiusX*cos*cos + b.RadiusY*sin*sin) * unit
	m12 = (b.RadiusX - b.RadiusY) * cos * sin * unit
	m22 = (b.RadiusX*sin*sin + b.RadiusY*cos*cos) * unit
	return m11, m12, m22
}

// Drawn says whether there is anything of a ball to paint.
func Drawn(b *display.Ball) bool { return b.Opacity > 0 && b.RadiusX > 0 && b.RadiusY > 0 }

// BrightestColour is the colour of a ball where the light falls straight on.
func BrightestColour(b *display.Ball) display.Colour {
	return display.Colour{R: b.Colour.R * brightest, G: b.Colour.G * brightest, B: b.Colour.B * brightest, A: 1}
}

// edgeStops is how many stops a ball's edge is made of.
const edgeStops = 5

// BallEdge is the coverage of a ball as stops from its middle out to reach, in units of
// its frame. A clip's own edge would show the colour from under the shading.
func BallEdge(b *display.Ball) (reach float64, stops [edgeStops]Stop) {
	e := b.Outline()
	outer, inner := e.Middle+e.Half, max(0, e.Middle-e.Half)
	for i := range stops {
		d := inner + (outer-inner)*float64(i)/(edgeStops-1)
		stops[i] = Stop{d / outer, White.Faded(e.At(d))}
	}
	return BallUnit * outer / (b.Radius() * b.Swell()), stops
}

// White is white.
var White = display.Colour{R: 1, G: 1, B: 1, A: 1}

// chordCos is the cosine of the angle whose chord on the unit sphere is given.
func chordCos(chord float64) float64 { return 1 - chord*chord/2 }

// Pattern calls fill with the surface and the mouth of the hole, outlines to be filled by
// the even-odd rule.
func Pattern(b *display.Ball, fill func(*display.Outline, display.Colour)) {
	fine, steps := b.Fine(), 1
	if b.Soft > sharp {
		steps = min(max(2, int(math.Ceil(b.Soft/1.5))), patternSteps)
	}
	axis, up, side := b.Frame()
	o := display.Outline{EvenOdd: true}
	// cap adds a circle on the sphere, about a unit vector and of the angular radius
	// whose cosine is given.
	cap := func(about [3]float64, cos float64) {
		if cos < 1 {
			capOutline(&o, about, cos)
		}
	}
	// mark paints in steps from the outermost in, each of which adds an equal share;
	// off is how far outside the middle of the edge the outlines of a step lie.
	mark := func(c display.Colour, fine float64, outlines func(off float64)) {
		for k := range steps {
			outlines(fine * (1 - (2*float64(k)+1)/float64(steps)))
			layer := c
			layer.A = Over(c.A*float64(k)/float64(steps), c.A*float64(k+1)/float64(steps))
			if len(o.Verbs) > 0 {
				fill(&o, layer)
			}
			o.Verbs, o.Points = o.Verbs[:0], o.Points[:0]
		}
	}
	stripe := func(about [3]float64, from, to, shade float64) {
		mark(display.Colour{A: 1 - shade}, fine, func(off float64) {
			if from, to := from-off, to+off; from < to {
				for _, sign := range []float64{1, -1} {
					about := [3]float64{sign * about[0], sign * about[1], sign * about[2]}
					cap(about, from)
					cap(about, to)
				}
			}
		})
	}
	// discs marks discs of a radius about unit vectors.
	discs := func(c display.Colour, radius float64, about ...[3]float64) {
		e := display.EdgeOf(radius, fine)
		mark(c.Faded(e.Most), e.Half, func(off float64) {
			// Smooth, as the edge is: most of it lies near its middle.
			t := off / e.Half
			if r := e.Middle + e.Half*t*(0.61+0.39*t*t); r > 0 {
				for _, at := range about {
					cap(at, chordCos(r))
				}
			}
		})
	}
	switch b.Surface {
	case display.Banded:
		stripe(up, display.BandFrom, display.BandTo, display.BandShade)
	case display.Ringed:
		stripe(axis, display.RingFrom, display.RingTo, display.RingShade)
		stripe(axis, display.RingFrom2, display.RingTo2, display.RingShade)
	case display.Dotted:
		var about [len(display.Dots)][3]float64
		for k, d := range display.Dots {
			for i := range axis {
				about[k][i] = d[0]*axis[i] + d[1]*up[i] + d[2]*side[i]
			}
		}
		discs(b.White().Faded(display.DotPale), display.DotRadius, about[:]...)
	}
	if mouth, bore := b.Mouth(); bore > 0 {
		discs(display.Colour{A: 1 - display.HoleShade}, bore, mouth)
	}
}

// capOutline adds the outline of a cap as seen: what of its circle lies behind is put
// outside the sphere, where it is clipped off. A circle all behind adds nothing.
func capOutline(o *display.Outline, about [3]float64, cos float64) {
	sin := math.Sqrt(max(0, 1-cos*cos))
	// Two unit vectors across.
	e := [3]float64{0, 0, 1}
	if math.Abs(about[2]) > 0.9 {
		e = [3]float64{1, 0, 0}
	}
	k := e[0]*about[0] + e[1]*about[1] + e[2]*about[2]
	for i := range e {
		e[i] -= k * about[i]
	}
	n := math.Sqrt(e[0]*e[0] + e[1]*e[1] + e[2]*e[2])
	for i := range e {
		e[i] /= n
	}
	f := [3]float64{about[1]*e[2] - about[2]*e[1], about[2]*e[0] - about[0]*e[2], about[0]*e[1] - about[1]*e[0]}
	if cos*about[2]+sin*math.Hypot(e[2], f[2]) <= 0 {
		return
	}
	steps := 10 + int(26*sin)
	for i := range steps {
		sa, ca := math.Sincos(2 * math.Pi * float64(i) / float64(steps))
		p := [3]float64{}
		for j := range p {
			p[j] = cos*about[j] + sin*(ca*e[j]+sa*f[j])
		}
		if p[2] < 0 {
			if r := math.Hypot(p[0], p[1]); r > 0 {
				p[0], p[1] = 1.4*p[0]/r, 1.4*p[1]/r
			}
		}
		verb := display.LineTo
		if i == 0 {
			verb = display.MoveTo
		}
		o.Verbs = append(o.Verbs, verb)
		o.Points = append(o.Points, display.Point{X: BallUnit * p[0], Y: BallUnit * p[1]})
	}
	o.Verbs = append(o.Verbs, display.Close)
}

// brightest is the shade where the light falls straight on.
const brightest = display.Ambient + display.Diffuse

// Rim is the black over a ball, from its middle out to its outline: what of the shading
// depends on the distance from the middle alone.
func Rim() (stops [gleamStops]Stop) {
	for i := range stops {
		// Closer together toward the edge, where it falls off steeply.
		z := 1 - float64(i)/(gleamStops-1)
		stops[i] = Stop{math.Sqrt(1 - z*z), display.Colour{A: (1 - display.Rim) * (1 - z)}}
	}
	return stops
}

// Gleam is the white over a ball, out to GleamReach from a place half-way between the
// light and the viewer. Behind a filter, white is another colour.
func Gleam(light [3]float64, white display.Colour) (at display.Point, stops [gleamStops]Stop) {
	h := [3]float64{light[0], light[1], light[2] + 1}
	n := math.Sqrt(h[0]*h[0] + h[1]*h[1] + h[2]*h[2])
	for i := range stops {
		t := float64(i) / (gleamStops - 1)
		chord := t * GleamReach / BallUnit / math.Sqrt(h[2]/n) // on the sphere, between the two directions of the spot's slope
		g := display.Gleam * math.Pow(max(0, chordCos(chord)), display.GleamPower)
		if i == gleamStops-1 {
			g = 0
		}
		stops[i] = Stop{t, white.Faded(g)}
	}
	return display.Point{X: BallUnit * h[0] / n, Y: BallUnit * h[1] / n}, stops
}

// Darkened calls fill with outlines inside each other, each the part of a ball that is
// less bright than a step from the lit side to the dark one, and with the black over
// the ball there. It is laid out with the light towards +x: turned by LightAngle it is
// in its place.
func Darkened(light [3]float64, fill func(o *display.Outline, black float64)) {
	o := display.Outline{EvenOdd: true}
	for k := 1; k <= litSteps; k++ {
		lit := 1 - (float64(k)-0.5)/litSteps
		o.Verbs, o.Points = o.Verbs[:0], o.Points[:0]
		if unlit(&o, light, lit*(1+display.Wrap)-display.Wrap) {
			fill(&o, display.Diffuse/brightest*float64(k)/litSteps)
		}
	}
}

// LightAngle is the angle of a light on the page, from +x towards +y.
func LightAngle(light [3]float64) float64 { return math.Atan2(light[1], light[0]) }

// FarOut is beyond all that is painted of a ball.
const FarOut = 2. * BallUnit

// unlit adds the outline of all of the sphere but where n·L ≥ c, in a frame with the
// light towards +x; false if there is nothing. The edge is a circle on the sphere and
// is seen as an ellipse, or, where it goes round to the back, as a part of one from
// limb to limb.
func unlit(o *display.Outline, light [3]float64, c float64) bool {
	h := math.Hypot(light[0], light[1])
	if c <= -h {
		return false // all that is seen is lit
	}
	add := func(v display.Verb, p ...display.Point) {
		o.Verbs, o.Points = append(o.Verbs, v), append(o.Points, p...)
	}
	add(display.MoveTo, display.Point{X: -FarOut, Y: -FarOut})
	add(display.LineTo, display.Point{X: FarOut, Y: -FarOut})
	add(display.LineTo, display.Point{X: FarOut, Y: FarOut})
	add(display.LineTo, display.Point{X: -FarOut, Y: FarOut})
	add(display.Close)
	sin := math.Sqrt(1 - c*c)
	// The ellipse: its middle and half-axes, and how far it goes on from the end away from
	// the light either way.
	middle, along, across, reach := BallUnit*c*h, BallUnit*sin*light[2], BallUnit*sin, math.Pi
	if c < h { // where the circle is at z = 0
		reach = math.Acos(max(-1, -c*light[2]/(sin*h)))
	}
	const parts = 8
	at := func(turn float64) display.Point {
		return display.Point{X: middle - along*math.Cos(turn), Y: across * math.Sin(turn)}
	}
	turn, step := -reach, 2*reach/parts
	bow := 4. / 3 * math.Tan(step/4)
	add(display.MoveTo, at(turn))
	for range parts {
		p, q := at(turn), at(turn+step)
		s0, c0 := math.Sincos(turn)
		s1, c1 := math.Sincos(turn + step)
		add(display.CubicTo,
			display.Point{X: p.X + bow*along*s0, Y: p.Y + bow*across*c0},
			display.Point{X: q.X - bow*along*s1, Y: q.Y - bow*across*c1}, q)
		turn += step
	}
	if c < h {
		for _, p := range []display.Point{{X: at(turn).X, Y: FarOut}, {X: FarOut, Y: FarOut}, {X: FarOut, Y: -FarOut}, {X: at(turn).X, Y: -FarOut}} {
			add(display.LineTo, p)
		}
	}
	add(display.Close)
	return true
}
