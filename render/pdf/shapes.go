package pdf

import (
	"math"

	"twincord/render/display"
	"twincord/render/vector"
)

// A ribbon is its body, from the outermost band to the innermost, each over those
// before it, with shades and hollows on it; and all that seen through one mask, which
// is made of the same bands, as bright as the ribbon is opaque there.
func (c *content) Ribbon(r *display.Ribbon) {
	c.pdf.shape = "ribbon"
	if len(r.Points) < 2 {
		return
	}
	p := c.pdf
	var body, mask content
	body.pdf, mask.pdf = p, p
	box := around(r).within(c.page())
	if box.W <= 0 || box.H <= 0 {
		return
	}
	p.ribbons.Bands(r, func(_ int, l *vector.Layer) {
		axis := axial(p, l.A, l.B)
		body.gradientFill(axis, vector.Thinned(nil, l.Stops), l.Outline, "DeviceRGB")
		greys := make([]vector.Stop, len(l.Stops))
		for i, s := range l.Stops {
			greys[i] = vector.Stop{At: s.At, Colour: grey(l.Cover[i])}
		}
		mask.gradientFill(axis, vector.Thinned(nil, greys), l.Outline, "DeviceGray")
	})
	p.ribbons.Shades(r, func(l *vector.Layer) {
		body.saved(func() {
			body.gradient(axial(p, l.A, l.B), "", vector.Thinned(nil, l.Stops), box, "sc")
			body.outline(l.Outline)
			body.put("f")
		})
	})
	if o, colour := p.ribbons.Hollows(r); len(o.Verbs) > 0 {
		body.saved(func() {
			body.solid(colour, "sc")
			body.outline(o)
			body.put("f")
		})
	}
	form := p.form(box, "DeviceRGB", func(f *content) { f.b = body.b })
	through := p.mask(box, func(f *content) { f.b = mask.b })
	c.saved(func() {
		c.state(through)
		c.paintForm(form)
	})
}

// gradientFill fills an outline with a gradient, regardless of its opacity.
func (c *content) gradientFill(s shading, stops []vector.Stop, o *display.Outline, space string) {
	c.pattern(s, "", stops, space, "sc")
	c.outline(o)
	c.put("f" + rule(o) + "\n")
}

// around is a box that holds all of a ribbon.
func around(r *display.Ribbon) box {
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for i := range r.Points {
		q := &r.Points[i]
		// An end is feathered by Soft, and what is at right angles to that comes on top.
		reach := 2*q.Half + 2*q.Soft + 1
		b.left, b.top = min(b.left, q.At.X-reach), min(b.top, q.At.Y-reach)
		b.right, b.bottom = max(b.right, q.At.X+reach), max(b.bottom, q.At.Y+reach)
	}
	return b
}

type box struct{ left, top, right, bottom float64 }

// within is what of a box is in a rectangle.
func (b box) within(r display.Rect) display.Rect {
	left, top := max(b.left, r.X), max(b.top, r.Y)
	return display.Rect{X: left, Y: top, W: min(b.right, r.X+r.W) - left, H: min(b.bottom, r.Y+r.H) - top}
}

// A ball is its brightest colour with the pattern on it, multiplied with the greys of
// the side away from the light and of the rim, with the gleam over that; and all that
// through a mask that is the edge.
func (c *content) Ball(b *display.Ball) {
	c.pdf.shape = "ball"
	if !vector.Drawn(b) {
		return
	}
	p := c.pdf
	lit := p.lit(b.Light)
	reach, edge := vector.BallEdge(b)
	area := display.Rect{X: -reach, Y: -reach, W: 2 * reach, H: 2 * reach}
	through := p.mask(area, func(mask *content) {
		for i := range edge {
			edge[i].Colour.A *= b.Opacity * b.Colour.A
		}
		mask.pattern(radial(p, display.Point{}, reach), "", opacities(edge), "DeviceGray", "sc")
		mask.rect(area)
		mask.put("f")
	})
	form := p.form(area, "DeviceRGB", func(f *content) {
		f.solid(vector.BrightestColour(b), "sc")
		f.rect(area)
		f.put("f\n")
		vector.Pattern(b, func(o *display.Outline, colour display.Colour) {
			f.saved(func() {
				f.solid(colour, "sc")
				f.outline(o)
				f.put("f" + rule(o))
			})
		})
		f.saved(func() {
			f.state(p.blend("Multiply"))
			f.paintForm(lit.dark)
		})
		f.saved(func() {
			dark := vector.Rim()
			for i := range dark {
				dark[i].Colour = grey(1 - dark[i].Colour.A)
			}
			f.state(p.blend("Multiply"))
			f.pattern(radial(p, display.Point{}, vector.BallUnit), "", dark[:], "DeviceRGB", "sc")
			f.rect(area)
			f.put("f")
		})
		f.saved(func() {
			f.state(lit.gleam)
			f.solid(b.White().Faded(b.Shine()), "sc")
			f.rect(area)
			f.put("f")
		})
	})
	m11, m12, m22 := vector.BallMatrix(b)
	c.saved(func() {
		c.matrix(m11, m12, m12, m22, b.Centre.X, b.Centre.Y)
		c.state(through)
		c.paintForm(form)
	})
}

// lighting is what all balls in a light share.
type lighting struct {
	dark  int    // form: the greys of the side away from it
	gleam string // state: the mask that white is painted through
}

// lit gives what balls in a light share, which is made when it is first asked for.
func (p *File) lit(light [3]float64) lighting {
	if shared, ok := p.lights[light]; ok {
		return shared
	}
	all := display.Rect{X: -vector.FarOut, Y: -vector.FarOut, W: 2 * vector.FarOut, H: 2 * vector.FarOut}
	dark := p.form(all, "DeviceRGB", func(f *content) {
		f.solid(vector.White, "sc")
		f.rect(all)
		f.put("f\n")
		vector.Darkened(light, func(o *display.Outline, black float64) {
			f.solid(grey(1-black), "sc")
			f.outline(o)
			f.put("f" + rule(o) + "\n")
		})
	})
	at, shine := vector.Gleam(light, vector.White)
	spot := display.Around(at, vector.GleamReach)
	mask := p.mask(spot, func(mask *content) {
		mask.pattern(radial(p, at, vector.GleamReach), "", opacities(shine[:]), "DeviceGray", "sc")
		mask.rect(spot)
		mask.put("f")
	})
	p.lights[light] = lighting{dark, mask}
	return p.lights[light]
}
