package page

import (
	"math"

	"twincord/render/display"
)

// A ball is written in a frame of its own, in which its outline is a circle of
// radius ballUnit: the colour and its pattern, then the shading as two layers of
// black, one that varies along the light and one with the distance from the middle,
// which multiply to nearly what the pixels have, then the gleam.
const ballUnit = 100

// lightStops is how many stops the shading gradients have.
const lightStops = 13

// lightFits keeps the gradients that were written for a direction of light.
type lightFits struct {
	light [3]float64
	along string
	round string
	gleam string
}

func (s *svg) ball(b *display.Ball) {
	if b.Opacity <= 0 || b.RadiusX <= 0 || b.RadiusY <= 0 {
		return
	}
	lit := s.lit(b.Light)
	radius := math.Sqrt(b.RadiusX * b.RadiusY)
	soft := b.Soft / radius // of the radius
	edge := s.id('c')
	masked := b.Soft > sharp
	if masked {
		s.softEdge(edge, radius, b.Soft)
	} else {
		s.put(`<clipPath id="`, edge, `"><circle r="`, float64(ballUnit), "\"/></clipPath>\n")
	}
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
	if b.Opacity < 1 {
		s.put(` opacity="`)
		s.number(b.Opacity, 3)
		s.put(`"`)
	}
	if masked {
		s.put(` mask="url(#`, edge, `)">`)
	} else {
		s.put(` clip-path="url(#`, edge, `)">`)
	}
	s.put("\n")
	reach := ballUnit * (1 + soft)
	disc := func(fill string) { s.put(`<circle r="`, reach, `" fill="url(#`, fill, ")\"/>\n") }
	s.put(`<circle r="`, reach, `"`)
	s.fill(b.Colour)
	s.put("/>\n")
	s.pattern(b)
	if b.Bore > 0 {
		s.caps(display.Colour{A: 1 - display.HoleShade}, b.Mouth(), chordCos(b.Bore))
	}
	disc(lit.along)
	disc(lit.round)
	s.put(`<g opacity="`)
	s.number(1/(1+6*soft), 3)
	s.put(`">`)
	disc(lit.gleam)
	s.put("</g>\n</g>\n")
}

// softEdge defines the mask of a blurred edge: a ribbon's coverage with the radius as
// half-width.
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

func (s *svg) pattern(b *display.Ball) {
	axis, up, side := b.Frame()
	dark := func(shade float64) display.Colour { return display.Colour{A: 1 - shade} }
	stripe := func(about [3]float64, from, to, shade float64) {
		for _, sign := range []float64{1, -1} {
			s.caps(dark(shade), [3]float64{sign * about[0], sign * about[1], sign * about[2]}, from, to)
		}
	}
	switch b.Surface {
	case display.Banded:
		stripe(up, display.BandFrom, display.BandTo, display.BandShade)
	case display.Ringed:
		stripe(axis, display.RingFrom, display.RingTo, display.RingShade)
		stripe(axis, display.RingFrom2, display.RingTo2, display.RingShade)
	case display.Dotted:
		pale := display.Colour{R: 1, G: 1, B: 1, A: display.DotPale}
		for _, d := range display.Dots {
			var at [3]float64
			for i := range at {
				at[i] = d[0]*axis[i] + d[1]*up[i] + d[2]*side[i]
			}
			if at[2] > -display.DotRadius {
				s.caps(pale, at, chordCos(display.DotRadius))
			}
		}
	}
}

// caps paints what lies on the sphere between two circles about a unit vector, given
// as the cosines of their angular radii, or inside one; of it what is towards the
// viewer.
func (s *svg) caps(c display.Colour, about [3]float64, cosines ...float64) {
	o := &s.ribbon.outline
	o.Verbs, o.Points = o.Verbs[:0], o.Points[:0]
	for _, cos := range cosines {
		capOutline(o, about, cos)
	}
	if len(o.Verbs) == 0 {
		return
	}
	s.put(`<path fill-rule="evenodd"`)
	s.fill(c)
	s.outline(o)
	s.put("/>\n")
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
	steps := 12 + int(24*sin)
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

// lit gives the gradients for a light, defined where it is first asked for.
func (s *svg) lit(light [3]float64) *lightFits {
	for i := range s.lights {
		if s.lights[i].light == light {
			return &s.lights[i]
		}
	}
	s.lights = append(s.lights, lightFits{light: light})
	f := &s.lights[len(s.lights)-1]
	along, round, dx, dy := fitShade(light)
	f.along, f.round, f.gleam = s.id('g'), s.id('g'), s.id('g')
	s.put(`<linearGradient id="`, f.along, `" gradientUnits="userSpaceOnUse" x1="`, -ballUnit*dx, `" y1="`, -ballUnit*dy,
		`" x2="`, ballUnit*dx, `" y2="`, ballUnit*dy, `">`)
	for i, v := range along {
		s.stop(float64(i)/(lightStops-1), display.Colour{A: min(max(1-v, 0), 1)})
	}
	s.put(`</linearGradient><radialGradient id="`, f.round, `" gradientUnits="userSpaceOnUse" cx="0" cy="0" r="`, float64(ballUnit), `">`)
	for i, v := range round {
		s.stop(float64(i)/(lightStops-1), display.Colour{A: min(max(1-v, 0), 1)})
	}
	s.put("</radialGradient>\n")

	// The gleam stands half-way between the light and the viewer.
	h := [3]float64{light[0], light[1], light[2] + 1}
	n := math.Sqrt(h[0]*h[0] + h[1]*h[1] + h[2]*h[2])
	const wide = 0.55
	s.put(`<radialGradient id="`, f.gleam, `" gradientUnits="userSpaceOnUse" cx="`, ballUnit*h[0]/n, `" cy="`, ballUnit*h[1]/n,
		`" r="`, ballUnit*wide, `">`)
	white := display.Colour{R: 1, G: 1, B: 1, A: 1}
	for i := range lightStops {
		at := float64(i) / (lightStops - 1)
		chord := at * wide / math.Sqrt(h[2]/n) // on the sphere, between the two directions of the spot's slope
		g := display.Gleam * math.Pow(max(0, chordCos(chord)), display.GleamPower)
		if i == lightStops-1 {
			g = 0
		}
		s.stop(at, white.Faded(g))
	}
	s.put("</radialGradient>\n")
	return f
}

// shadeAt is the shade of the sphere at a place of the unit disc.
func shadeAt(light [3]float64, x, y float64) float64 {
	z := math.Sqrt(max(0, 1-x*x-y*y))
	lit := max(0, (x*light[0]+y*light[1]+z*light[2]+display.Wrap)/(1+display.Wrap))
	return (display.Ambient + display.Diffuse*lit) * (display.Rim + (1-display.Rim)*z)
}

// fitShade splits the shade into a factor along the light, from the side away from
// it, and one of the distance from the middle, each at even steps: their means in
// turn, which for a product of two is its least-squares fit in the logarithm.
func fitShade(light [3]float64) (along, round [lightStops]float64, dx, dy float64) {
	n := math.Hypot(light[0], light[1])
	if n > 0 {
		dx, dy = light[0]/n, light[1]/n
	} else {
		dx = 1
	}
	var a, r [lightStops]float64
	const grid = 60
	for range 6 {
		var sum, count [lightStops]float64
		each := func(f func(t, d, shade float64)) {
			for i := -grid; i <= grid; i++ {
				for j := -grid; j <= grid; j++ {
					x, y := float64(i)/grid, float64(j)/grid
					if d := math.Hypot(x, y); d <= 1 {
						f((x*dx+y*dy+1)/2*(lightStops-1), d*(lightStops-1), math.Log(shadeAt(light, x, y)))
					}
				}
			}
		}
		fit := func(own func(t, d float64) float64, other func(t, d float64) float64, to *[lightStops]float64) {
			sum, count = [lightStops]float64{}, [lightStops]float64{}
			each(func(t, d, shade float64) {
				at := int(own(t, d) + 0.5)
				sum[at] += shade - other(t, d)
				count[at]++
			})
			for i := range to {
				if count[i] > 0 {
					to[i] = sum[i] / count[i]
				}
			}
		}
		lerp := func(f *[lightStops]float64, x float64) float64 {
			i := min(int(x), lightStops-2)
			return f[i] + (f[i+1]-f[i])*(x-float64(i))
		}
		fit(func(t, _ float64) float64 { return t }, func(_, d float64) float64 { return lerp(&r, d) }, &a)
		fit(func(_, d float64) float64 { return d }, func(t, _ float64) float64 { return lerp(&a, t) }, &r)
	}
	// Neither factor may brighten: the larger of the one goes to the other.
	most := math.Inf(-1)
	for _, v := range r {
		most = max(most, v)
	}
	for i := range along {
		along[i], round[i] = math.Exp(a[i]+most), math.Exp(r[i]-most)
	}
	return along, round, dx, dy
}
