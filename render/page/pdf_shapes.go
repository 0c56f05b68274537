package page

import (
	"math"

	"twincord/render/display"
)

// A ribbon is its body, from the outermost band to the innermost, each over those
// before it, with shades and hollows on it; and all that seen through one mask, which
// is made of the same bands, as bright as the ribbon is opaque there.
func (c *content) ribbon(r *display.Ribbon) {
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
	p.ribbon.bands(r, func(_ int, l *layer) {
		axis := axial(p, l.a, l.b)
		body.gradientFill(axis, thinned(nil, l.stops), l.outline, "DeviceRGB")
		greys := make([]stop, len(l.stops))
		for i, s := range l.stops {
			greys[i] = stop{s.at, grey(l.cover[i])}
		}
		mask.gradientFill(axis, thinned(nil, greys), l.outline, "DeviceGray")
	})
	p.ribbon.shades(r, func(l *layer) {
		body.saved(func() {
			body.gradient(axial(p, l.a, l.b), "", thinned(nil, l.stops), box, "sc")
			body.outline(l.outline)
			body.put("f")
		})
	})
	if o, colour := p.ribbon.hollows(r); len(o.Verbs) > 0 {
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
func (c *content) gradientFill(s shading, stops []stop, o *display.Outline, space string) {
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
func (c *content) ball(b *display.Ball) {
	radius, soft, ok := drawn(b)
	if !ok {
		return
	}
	p := c.pdf
	lit := p.lit(b.Light)
	reach, edge := ballEdge(radius, b.Soft)
	area := display.Rect{X: -reach, Y: -reach, W: 2 * reach, H: 2 * reach}
	through := p.mask(area, func(mask *content) {
		for i := range edge {
			edge[i].colour.A *= b.Opacity * b.Colour.A
		}
		mask.pattern(radial(p, display.Point{}, reach), "", opacities(edge[:]), "DeviceGray", "sc")
		mask.rect(area)
		mask.put("f")
	})
	form := p.form(area, "DeviceRGB", func(f *content) {
		f.solid(brightestColour(b), "sc")
		f.rect(area)
		f.put("f\n")
		pattern(b, radius, func(o *display.Outline, colour display.Colour) {
			f.saved(func() {
				f.solid(colour, "sc")
				f.outline(o)
				f.put("f" + rule(o))
			})
		})
		f.saved(func() {
			sin, cos := math.Sincos(lightAngle(b.Light))
			f.matrix(cos, sin, -sin, cos, 0, 0)
			f.state(p.blend("Multiply"))
			f.paintForm(lit.dark)
		})
		f.saved(func() {
			dark := rim()
			for i := range dark {
				dark[i].colour = grey(1 - dark[i].colour.A)
			}
			f.state(p.blend("Multiply"))
			f.pattern(radial(p, display.Point{}, ballUnit), "", dark[:], "DeviceRGB", "sc")
			f.rect(area)
			f.put("f")
		})
		f.saved(func() {
			f.state(lit.gleam)
			f.solid(b.White().Faded(gleamOpacity(soft)), "sc")
			f.rect(area)
			f.put("f")
		})
	})
	m11, m12, m22 := ballMatrix(b)
	c.saved(func() {
		c.matrix(m11, m12, m12, m22, b.Centre.X, b.Centre.Y)
		c.state(through)
		c.paintForm(form)
	})
}

// pdfLight is what all balls in a light share.
type pdfLight struct {
	dark  int    // form: the greys of the side away from it, laid out as darkened has them
	gleam string // state: the mask that white is painted through
}

// lit gives what balls in a light share, which is made when it is first asked for.
func (p *pdf) lit(light [3]float64) pdfLight {
	if shared, ok := p.lights[light]; ok {
		return shared
	}
	all := display.Rect{X: -farOut, Y: -farOut, W: 2 * farOut, H: 2 * farOut}
	dark := p.form(all, "DeviceRGB", func(f *content) {
		f.solid(white, "sc")
		f.rect(all)
		f.put("f\n")
		darkened(light, func(o *display.Outline, black float64) {
			f.solid(grey(1-black), "sc")
			f.outline(o)
			f.put("f" + rule(o) + "\n")
		})
	})
	at, shine := gleam(light, white)
	spot := display.Rect{X: at.X - gleamReach, Y: at.Y - gleamReach, W: 2 * gleamReach, H: 2 * gleamReach}
	mask := p.mask(spot, func(mask *content) {
		mask.pattern(radial(p, at, gleamReach), "", opacities(shine[:]), "DeviceGray", "sc")
		mask.rect(spot)
		mask.put("f")
	})
	p.lights[light] = pdfLight{dark, mask}
	return p.lights[light]
}
