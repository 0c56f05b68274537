package svg

import (
	"twincord/render/display"
	"twincord/render/vector"
)

// lighting is what was defined for a direction of light.
type lighting struct {
	light [3]float64
	// A mask for black, and a gradient.
	dark, rim string
	gleams    map[display.Colour]string // gradients, by what white is
}

func (s *writer) Ball(b *display.Ball) {
	s.shape = "ball"
	if !vector.Drawn(b) {
		return
	}
	lit := s.lit(b.Light)
	shine := s.gleam(lit, b.White())
	edge, reach := s.softEdge(b)
	m11, m12, m22 := vector.BallMatrix(b)
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
	s.put(`<circle r="`, reach, `"`)
	s.fill(vector.BrightestColour(b))
	s.put("/>\n")
	vector.Pattern(b, func(o *display.Outline, c display.Colour) {
		s.put(`<path fill-rule="evenodd"`)
		s.fill(c)
		s.outline(o)
		s.put("/>\n")
	})
	s.put(`<circle r="`, reach, `" mask="url(#`, lit.dark, `)"/><circle r="`, reach, `" fill="url(#`, lit.rim,
		`)"/><circle r="`, reach, `" fill="url(#`, shine, `)" opacity="`)
	s.number(b.Shine(), 3)
	s.put("\"/>\n</g>\n")
}

// softEdge defines the mask of a ball's edge, and gives how far it reaches.
func (s *writer) softEdge(b *display.Ball) (id string, reach float64) {
	fill, id := s.id('g'), s.id('m')
	reach, stops := vector.BallEdge(b)
	s.radial(fill, display.Point{}, reach, stops)
	s.put(`<mask id="`, id, `" maskUnits="userSpaceOnUse" x="`, -reach, `" y="`, -reach,
		`" width="`, 2*reach, `" height="`, 2*reach, `"><circle r="`, reach, `" fill="url(#`, fill, ")\"/></mask>\n")
	return id, reach
}

func (s *writer) radial(id string, at display.Point, r float64, stops []vector.Stop) {
	s.put(`<radialGradient id="`, id, `" gradientUnits="userSpaceOnUse" cx="`, at.X, `" cy="`, at.Y, `" r="`, r, `">`)
	for _, stop := range stops {
		s.stop(stop)
	}
	s.put("</radialGradient>\n")
}

// lit gives the lighting of a direction of light, which is written where it is first
// asked for.
func (s *writer) lit(light [3]float64) *lighting {
	for i := range s.lights {
		if s.lights[i].light == light {
			return &s.lights[i]
		}
	}
	s.lights = append(s.lights, lighting{light: light, dark: s.id('m'), rim: s.id('g'), gleams: map[display.Colour]string{}})
	f := &s.lights[len(s.lights)-1]

	shade := vector.Rim()
	s.radial(f.rim, display.Point{}, vector.BallUnit, shade[:])

	// How dark it is on the side away from the light, as greys.
	s.put(`<mask id="`, f.dark, `" maskUnits="userSpaceOnUse" x="`, -vector.FarOut, `" y="`, -vector.FarOut, `" width="`, 2*vector.FarOut, `" height="`, 2*vector.FarOut,
		"\"><g fill-rule=\"evenodd\">\n")
	vector.Darkened(light, func(o *display.Outline, black float64) {
		s.put("<path")
		s.fill(display.Colour{R: black, G: black, B: black, A: 1})
		s.outline(o)
		s.put("/>\n")
	})
	s.put("</g></mask>\n")
	return f
}

// gleam gives the gradient of a gleam in a white, which is written where it is first
// asked for.
func (s *writer) gleam(f *lighting, white display.Colour) (id string) {
	id, ok := f.gleams[white]
	if !ok {
		id = s.id('g')
		f.gleams[white] = id
		at, shine := vector.Gleam(f.light, white)
		s.radial(id, at, vector.GleamReach, shine[:])
	}
	return id
}
