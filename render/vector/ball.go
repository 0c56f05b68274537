package vector

import (
	"math"

	"twincord/render/display"
)

// A ball is painted in a frame of its own, in which its outline is a circle: the colour
// where it is brightest and its pattern, then black over it for the shading, then the
// gleam.
const (
	BallUnit   = 100             // radius of the outline
	GleamReach = 0.55 * BallUnit // radius of the gleam, to where it ends
)

const (
	litSteps     = 40 // of equal brightness from the lit side to the dark one
	gleamStops   = 13
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

// edgeStops is how many stops a blurred ball's edge is made of; a sharp one takes fewer.
const edgeStops, sharpStops = 5, 2

// BallEdge is the coverage of a ball as stops from its middle out to reach, in units of
// its frame. A clip's own edge would show the colour from under the shading.
func BallEdge(b *display.Ball) (reach float64, stops []Stop) {
	stops = make([]Stop, edgeStops)
	if b.Soft <= sharp {
		stops = stops[:sharpStops]
	}
	e := b.Outline()
	outer, inner := e.Middle+e.Half, max(0, e.Middle-e.Half)
	for i := range stops {
		d := inner + (outer-inner)*float64(i)/float64(len(stops)-1)
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
					capOutline(&o, about, max(from, 0))
					capOutline(&o, about, to)
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
					capOutline(&o, at, chordCos(r))
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

// capOutline adds the outline of what is seen of a cap: all of the sphere where n·about
// ≥ cos. Its edge is a circle on the sphere, which is seen as an ellipse, or, where it
// goes round to the back, as a part of one from limb to limb; there the outline goes on
// outside the sphere, where it is clipped off.
func capOutline(o *display.Outline, about [3]float64, cos float64) {
	// In a frame with the middle of the cap towards +x.
	h := math.Hypot(about[0], about[1])
	toX, toY := 1., 0.
	if h > 0 {
		toX, toY = about[0]/h, about[1]/h
	}
	add := func(v display.Verb, points ...display.Point) {
		o.Verbs = append(o.Verbs, v)
		for _, p := range points {
			o.Points = append(o.Points, display.Point{X: p.X*toX - p.Y*toY, Y: p.X*toY + p.Y*toX})
		}
	}
	all := func() {
		add(display.MoveTo, display.Point{X: -FarOut, Y: -FarOut})
		add(display.LineTo, display.Point{X: FarOut, Y: -FarOut})
		add(display.LineTo, display.Point{X: FarOut, Y: FarOut})
		add(display.LineTo, display.Point{X: -FarOut, Y: FarOut})
		add(display.Close)
	}
	if cos <= -1 {
		all()
		return
	}
	if cos >= 1 {
		return
	}
	sin := math.Sqrt(1 - cos*cos)
	// The ellipse: its middle and half-axes.
	middle, along, across := BallUnit*cos*h, BallUnit*sin*about[2], BallUnit*sin
	at := func(turn float64) display.Point {
		return display.Point{X: middle - along*math.Cos(turn), Y: across * math.Sin(turn)}
	}
	// How far the edge is seen, either way from the end nearest to the viewer. The height
	// of a place on it is cos·z + sin·h·cos(turn).
	reach := math.Pi
	switch height, swing := cos*about[2], sin*h; {
	case height+swing <= 0: // all of the edge is behind, and in front of it all or nothing
		if about[2] > 0 {
			all()
		}
		return
	case height-swing < 0:
		reach = math.Acos(-height / swing)
	case about[2] < 0: // the edge is seen from outside the cap
		all()
	}
	const parts = 4
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
	if reach < math.Pi {
		end := at(turn)
		for _, p := range []display.Point{{X: end.X, Y: FarOut}, {X: FarOut, Y: FarOut}, {X: FarOut, Y: -FarOut}, {X: end.X, Y: -FarOut}} {
			add(display.LineTo, p)
		}
	}
	add(display.Close)
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
// the ball there.
func Darkened(light [3]float64, fill func(o *display.Outline, black float64)) {
	o := display.Outline{EvenOdd: true}
	dark := [3]float64{-light[0], -light[1], -light[2]}
	for k := 1; k <= litSteps; k++ {
		lit := 1 - (float64(k)-0.5)/litSteps
		o.Verbs, o.Points = o.Verbs[:0], o.Points[:0]
		if capOutline(&o, dark, display.Wrap-lit*(1+display.Wrap)); len(o.Verbs) > 0 {
			fill(&o, display.Diffuse/brightest*float64(k)/litSteps)
		}
	}
}

// FarOut is beyond all that is painted of a ball.
const FarOut = 2. * BallUnit
