package page

import (
	"math"

	"twincord/render/display"
)

// A ball is written in a frame of its own, in which its outline is a circle of
// radius ballUnit: the colour where it is brightest and its pattern, then black over
// it for the shading, then the gleam.
const ballUnit = 100

const (
	litSteps     = 40 // of equal brightness from the lit side to the dark one
	gleamStops   = 13
	patternSteps = 6 // outlines that the edge of a blurred pattern is made of, at most
)

// lighting is what was defined for a direction of light.
type lighting struct {
	light [3]float64
	// A mask for black, and gradients.
	dark, rim, gleam string
}

func (s *svg) ball(b *display.Ball) {
	if b.Opacity <= 0 || b.RadiusX <= 0 || b.RadiusY <= 0 {
		return
	}
	lit := s.lit(b.Light)
	radius := math.Sqrt(b.RadiusX * b.RadiusY)
	soft := b.Soft / radius
	edge := s.id('m')
	s.softEdge(edge, radius, math.Hypot(b.Soft, pixel))
	sin, cos := math.Sincos(b.Angle)
	m11 := (b.RadiusX*cos*cos + b.RadiusY*sin*sin) / ballUnit
	m12 := (b.RadiusX - b.RadiusY) * cos * sin / ballUnit
	m22 := (b.RadiusX*sin*sin + b.RadiusY*cos*cos) / ballUnit
	s.put(`<g transform="matrix(`)
	for _, v := range []float64{m11, m12, m12, m22} {
		s.number(v, 5)
		s.put(" ")
	}
	s.put(b.Centre.X, " ", b.Centre.Y, `)"`)
	if opacity := b.Opacity * b.Colour.A; opacity < 1 {
		s.put(` opacity="`)
		s.number(opacity, 3)
		s.put(`"`)
	}
	s.put(` mask="url(#`, edge, ")\">\n")
	reach := ballUnit * (1 + soft + pixel/radius)
	s.put(`<circle r="`, reach, `"`)
	s.fill(display.Colour{R: b.Colour.R * brightest, G: b.Colour.G * brightest, B: b.Colour.B * brightest, A: 1})
	s.put("/>\n")
	s.pattern(b, radius)
	s.put(`<circle r="`, reach, `" mask="url(#`, lit.dark, `)"/><circle r="`, reach, `" fill="url(#`, lit.rim,
		`)"/><circle r="`, reach, `" fill="url(#`, lit.gleam, `)" opacity="`)
	s.number(1/(1+6*soft), 3)
	s.put("\"/>\n</g>\n")
}

// pixel is the half-width of the box that stands for a pixel.
const pixel = 0.5

// softEdge defines the mask of the edge: a ribbon's coverage with the radius as
// half-width. A clip's own edge would show the colour from under the shading.
func (s *svg) softEdge(id string, radius, soft float64) {
	fill := s.id('g')
	outer := radius + soft
	s.put(`<radialGradient id="`, fill, `" gradientUnits="userSpaceOnUse" cx="0" cy="0" r="`, ballUnit*outer/radius, `">`)
	plateau := min(1, radius/soft)
	white := display.Colour{R: 1, G: 1, B: 1, A: 1}
	s.stop(math.Abs(radius-soft)/outer, white.Faded(plateau))
	s.stop(1, white.Faded(0))
	s.put(`</radialGradient><mask id="`, id, `" maskUnits="userSpaceOnUse" x="`, -ballUnit*outer/radius, `" y="`, -ballUnit*outer/radius,
		`" width="`, 2*ballUnit*outer/radius, `" height="`, 2*ballUnit*outer/radius,
		`"><circle r="`, ballUnit*outer/radius, `" fill="url(#`, fill, ")\"/></mask>\n")
}

// chordCos is the cosine of the angle whose chord on the unit sphere is given.
func chordCos(chord float64) float64 { return 1 - chord*chord/2 }

// pattern writes the surface and the mouth of the hole. What blur spreads their
// edges by is taken from the pixels' painter: half a pixel and 0.6 of the blur.
func (s *svg) pattern(b *display.Ball, radius float64) {
	fine, steps := 0.5/radius+0.6*b.Soft/radius, 1
	if b.Soft > sharp {
		steps = min(max(2, int(math.Ceil(b.Soft/1.5))), patternSteps)
	}
	axis, up, side := b.Frame()
	// mark paints in steps from the outermost in, each of which adds an equal share;
	// off is how far outside the middle of the edge the outlines of a step lie.
	mark := func(c display.Colour, outlines func(off float64)) {
		for k := range steps {
			outlines(fine * (1 - (2*float64(k)+1)/float64(steps)))
			layer := c
			layer.A = layerOpacity(c.A, k, steps)
			s.capsDone(layer)
		}
	}
	stripe := func(about [3]float64, from, to, shade float64) {
		mark(display.Colour{A: 1 - shade}, func(off float64) {
			if from, to := from-off, to+off; from < to {
				for _, sign := range []float64{1, -1} {
					about := [3]float64{sign * about[0], sign * about[1], sign * about[2]}
					s.cap(about, from)
					s.cap(about, to)
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
		mark(display.Colour{R: 1, G: 1, B: 1, A: display.DotPale}, func(off float64) {
			for _, d := range display.Dots {
				var at [3]float64
				for i := range at {
					at[i] = d[0]*axis[i] + d[1]*up[i] + d[2]*side[i]
				}
				if r := display.DotRadius + off; r > 0 {
					s.cap(at, chordCos(r))
				}
			}
		})
	}
	if b.Bore > 0 {
		mark(display.Colour{A: 1 - display.HoleShade}, func(off float64) {
			if r := b.Bore + off; r > 0 {
				s.cap(b.Mouth(), chordCos(r))
			}
		})
	}
}

// cap adds a circle on the sphere, about a unit vector and of the angular radius
// whose cosine is given, to what capsDone paints by the even-odd rule.
func (s *svg) cap(about [3]float64, cos float64) {
	if cos < 1 {
		capOutline(&s.ribbon.outline, about, cos)
	}
}

func (s *svg) capsDone(c display.Colour) {
	o := &s.ribbon.outline
	if len(o.Verbs) > 0 {
		s.put(`<path fill-rule="evenodd"`)
		s.fill(c)
		s.outline(o)
		s.put("/>\n")
	}
	o.Verbs, o.Points = o.Verbs[:0], o.Points[:0]
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
		o.Points = append(o.Points, display.Point{X: ballUnit * p[0], Y: ballUnit * p[1]})
	}
	o.Verbs = append(o.Verbs, display.Close)
}

// brightest is the shade where the light falls straight on.
const brightest = display.Ambient + display.Diffuse

// lit gives the lighting of a direction of light, which is written where it is first
// asked for.
func (s *svg) lit(light [3]float64) *lighting {
	for i := range s.lights {
		if s.lights[i].light == light {
			return &s.lights[i]
		}
	}
	s.lights = append(s.lights, lighting{light: light, dark: s.id('m'), rim: s.id('g'), gleam: s.id('g')})
	f := &s.lights[len(s.lights)-1]

	// What depends on the distance from the middle alone.
	s.put(`<radialGradient id="`, f.rim, `" gradientUnits="userSpaceOnUse" cx="0" cy="0" r="`, float64(ballUnit), `">`)
	for i := range gleamStops {
		// Closer together toward the edge, where it falls off steeply.
		z := 1 - float64(i)/(gleamStops-1)
		s.stop(math.Sqrt(1-z*z), display.Colour{A: (1 - display.Rim) * (1 - z)})
	}
	s.put("</radialGradient>\n")

	// How dark it is on the side away from the light, as greys in steps.
	const far = 2. * ballUnit
	s.put(`<mask id="`, f.dark, `" maskUnits="userSpaceOnUse" x="`, -far, `" y="`, -far, `" width="`, 2*far, `" height="`, 2*far,
		`"><g fill-rule="evenodd" transform="rotate(`)
	s.number(math.Atan2(light[1], light[0])*180/math.Pi, 3)
	s.put(")\">\n")
	for k := 1; k <= litSteps; k++ {
		lit := 1 - (float64(k)-0.5)/litSteps
		s.dim(light, lit*(1+display.Wrap)-display.Wrap, display.Diffuse/brightest*float64(k)/litSteps)
	}
	s.put("</g></mask>\n")

	// The gleam stands half-way between the light and the viewer.
	h := [3]float64{light[0], light[1], light[2] + 1}
	n := math.Sqrt(h[0]*h[0] + h[1]*h[1] + h[2]*h[2])
	const wide = 0.55
	s.put(`<radialGradient id="`, f.gleam, `" gradientUnits="userSpaceOnUse" cx="`, ballUnit*h[0]/n, `" cy="`, ballUnit*h[1]/n,
		`" r="`, ballUnit*wide, `">`)
	white := display.Colour{R: 1, G: 1, B: 1, A: 1}
	for i := range gleamStops {
		at := float64(i) / (gleamStops - 1)
		chord := at * wide / math.Sqrt(h[2]/n) // on the sphere, between the two directions of the spot's slope
		g := display.Gleam * math.Pow(max(0, chordCos(chord)), display.GleamPower)
		if i == gleamStops-1 {
			g = 0
		}
		s.stop(at, white.Faded(g))
	}
	s.put("</radialGradient>\n")
	return f
}

// dim paints a grey over all of the sphere but where n·L ≥ c, in a frame with the
// light towards +x. The edge of that is a circle on the sphere and is seen as an
// ellipse, or, where it goes round to the back, as a part of one from limb to limb.
func (s *svg) dim(light [3]float64, c, grey float64) {
	h := math.Hypot(light[0], light[1])
	if c <= -h {
		return // all that is seen is lit
	}
	sin := math.Sqrt(1 - c*c)
	along, across := ballUnit*sin*light[2], ballUnit*sin
	const far = 2 * ballUnit
	s.put("<path")
	s.fill(display.Colour{R: grey, G: grey, B: grey, A: 1})
	s.put(` d="M`, -float64(far), " ", -float64(far), "h", 2.*far, "v", 2.*far, "h", -2.*far, "zM")
	ellipse := func(large, x, y float64) {
		s.put("A", along, " ", across, " 0 ", large, " 0 ", x, " ", y)
	}
	if c >= h {
		x := ballUnit * c * h
		s.put(x+along, " 0")
		ellipse(0, x-along, 0)
		ellipse(0, x+along, 0)
	} else {
		x := ballUnit * c / h
		y := ballUnit * math.Sqrt(1-c*c/(h*h))
		large := 0.
		if c > 0 {
			large = 1
		}
		s.put(x, " ", -y)
		ellipse(large, x, y)
		s.put("V", float64(far), "H", float64(far), "V", -float64(far), "H", x)
	}
	s.put("z\"/>\n")
}
