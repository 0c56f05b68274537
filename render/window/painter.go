package window

import (
	_ "embed"
	"image"
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"twincord/render/display"
)

//go:embed flat.kage
var flatSource []byte

//go:embed gradient.kage
var gradientSource []byte

//go:embed mask.kage
var maskSource []byte

//go:embed ribbon.kage
var ribbonSource []byte

//go:embed ball.kage
var ballSource []byte

// painter paints display lists with meshes and shaders. Images, as page
// coordinates, begin at the upper left corner.
type painter struct {
	list *display.List
	page image.Rectangle
	dst  *ebiten.Image // the page, or the layer over it
	clip image.Rectangle

	flat, gradient, mask, ribbon, ball *ebiten.Shader

	mesh    mesh // for the flat shader, not yet drawn
	own     mesh // of a shape with a shader of its own
	line    []display.Point
	ribs    []rib
	atlas   atlas
	layers  []*ebiten.Image
	depth   int
	options ebiten.DrawTrianglesShaderOptions
}

func newPainter() (*painter, error) {
	p := &painter{atlas: atlas{places: map[any]stamp{}}}
	for _, s := range []struct {
		to     **ebiten.Shader
		source []byte
	}{
		{&p.flat, flatSource}, {&p.gradient, gradientSource}, {&p.mask, maskSource},
		{&p.ribbon, ribbonSource}, {&p.ball, ballSource},
	} {
		shader, err := ebiten.NewShader(s.source)
		if err != nil {
			return nil, err
		}
		*s.to = shader
	}
	p.options.Uniforms = map[string]any{}
	return p, nil
}

// paint paints the list over the whole of dst, which has the list's size.
func (p *painter) paint(l *display.List, dst *ebiten.Image) {
	if page := dst.Bounds(); page != p.page {
		p.page = page
		for _, old := range p.layers {
			old.Deallocate()
		}
		p.layers = p.layers[:0]
	}
	p.list, p.dst, p.clip = l, dst, dst.Bounds()
	c := premultiplied(l.Ground)
	p.rectangle(p.clip, c)
	l.Paint(l.All(), p)
	p.flush()
	p.list, p.dst = nil, nil
}

func premultiplied(c display.Colour) [4]float32 {
	return [4]float32{float32(c.R * c.A), float32(c.G * c.A), float32(c.B * c.A), float32(c.A)}
}

func (p *painter) Path(q *display.Path)                      { p.path(q) }
func (p *painter) Ribbon(r *display.Ribbon)                  { p.drawRibbon(r) }
func (p *painter) Ball(b *display.Ball)                      { p.drawBall(b) }
func (p *painter) Text(t *display.Text)                      { p.text(t) }
func (p *painter) Clip(c *display.Clip, inside display.Span) { p.clipped(&c.Outline, inside) }

func (p *painter) Group(g *display.Group, inside display.Span) {
	switch {
	case g.Opacity >= 1:
		p.list.Paint(inside, p)
	case g.Opacity > 0:
		p.layer(p.clip, g.Opacity, func() { p.list.Paint(inside, p) })
	}
}

// Even paints an Even group: once in order, and over it, half opaque, once with every
// pair the other way round.
func (p *painter) Even(g *display.Group, ground, pairs display.Span) {
	p.list.Paint(ground, p)
	p.list.Paint(pairs, p)
	p.layer(pixels(g.Bounds), 0.5, func() {
		p.list.Paint(ground, p)
		for first, second := range p.list.Pairs(pairs) {
			p.list.Paint(second, p)
			p.list.Paint(first, p)
		}
	})
}

// target is where to draw: the page or layer within the clip.
func (p *painter) target() *ebiten.Image {
	if p.clip == p.dst.Bounds() {
		return p.dst
	}
	return p.dst.SubImage(p.clip).(*ebiten.Image)
}

// flush draws the mesh that was collected for the flat shader.
func (p *painter) flush() {
	if len(p.mesh.indices) > 0 {
		p.draw(&p.mesh, p.flat, p.atlas.image, nil)
	}
	p.mesh.reset()
}

// draw draws a mesh within the clip.
func (p *painter) draw(m *mesh, s *ebiten.Shader, first, second *ebiten.Image) {
	if p.clip.Empty() {
		return
	}
	p.options.Images[0], p.options.Images[1] = first, second
	p.options.Uniforms["Origin"] = []float32{float32(p.clip.Min.X), float32(p.clip.Min.Y)}
	p.target().DrawTrianglesShader32(m.vertices, m.indices, s, &p.options)
}

// rectangle adds a rectangle of whole pixels to the flat mesh.
func (p *painter) rectangle(r image.Rectangle, c [4]float32) {
	v := ebiten.Vertex{ColorR: c[0], ColorG: c[1], ColorB: c[2], ColorA: c[3], Custom1: solid}
	p.mesh.corners(v, r)
}

// corners adds a rectangle whose vertices are v at its corners, in the image of
// the source as in the page.
func (m *mesh) corners(v ebiten.Vertex, r image.Rectangle) {
	at := func(x, y int) uint32 {
		v.DstX, v.DstY = float32(x), float32(y)
		v.SrcX, v.SrcY = v.DstX, v.DstY
		return m.add(v)
	}
	m.quad(at(r.Min.X, r.Min.Y), at(r.Max.X, r.Min.Y), at(r.Min.X, r.Max.Y), at(r.Max.X, r.Max.Y))
}

// layer paints with f on a clear layer, which then goes over what was there, at
// an opacity, within area.
func (p *painter) layer(area image.Rectangle, opacity float64, f func()) {
	p.masked(area, opacity, f, nil)
}

// masked is layer through a mask that m paints, unless nil.
func (p *painter) masked(area image.Rectangle, opacity float64, f, m func()) {
	area = area.Intersect(p.clip)
	if area.Empty() {
		return
	}
	p.flush()
	dst, clip := p.dst, p.clip
	content := p.push(area)
	f()
	p.flush()
	var mask *ebiten.Image
	if m != nil {
		mask = p.push(area)
		m()
		p.flush()
		p.depth--
	}
	p.depth--
	p.dst, p.clip = dst, clip
	p.own.reset()
	p.own.corners(ebiten.Vertex{ColorA: float32(opacity)}, area)
	p.options.Uniforms["Masked"] = toFloat(mask != nil)
	p.draw(&p.own, p.mask, content, mask)
}

// push makes a clear layer what is painted on, within area, and gives that part of it.
// Layers are as large as what was painted on them so far, not as the page: each side of a
// texture is a power of two, and of a page of 3840 × 2160 one takes 67 MB.
func (p *painter) push(area image.Rectangle) *ebiten.Image {
	if p.depth == len(p.layers) {
		p.layers = append(p.layers, nil)
	}
	l := p.layers[p.depth]
	if l == nil || !area.In(l.Bounds()) {
		bounds := area
		if l != nil {
			bounds = area.Union(l.Bounds())
			l.Deallocate()
		}
		l = ebiten.NewImageWithOptions(bounds, &ebiten.NewImageOptions{Unmanaged: true})
		p.layers[p.depth] = l
	}
	p.depth++
	p.dst, p.clip = l, area
	painted := p.target()
	painted.Clear()
	return painted
}

func toFloat(b bool) float32 {
	if b {
		return 1
	}
	return 0
}

// pixels is the smallest rectangle of whole pixels round r.
func pixels(r display.Rect) image.Rectangle {
	return image.Rect(int(math.Floor(r.X)), int(math.Floor(r.Y)), int(math.Ceil(r.X+r.W)), int(math.Ceil(r.Y+r.H)))
}

// clipped paints a span inside an outline: a rectangle by the bounds of what is
// drawn on, anything else through a mask.
func (p *painter) clipped(o *display.Outline, inside display.Span) {
	if r, ok := rectangleOf(o); ok {
		clip := p.clip
		p.flush()
		p.clip = clip.Intersect(r)
		if !p.clip.Empty() {
			p.list.Paint(inside, p)
			p.flush()
		}
		p.clip = clip
		return
	}
	area := p.clip
	if !o.EvenOdd {
		area = pixels(bounds(o.Points))
	}
	p.masked(area, 1, func() { p.list.Paint(inside, p) }, func() { p.cover(o) })
}

// exclusive adds coverages by the even-odd rule: what is inside both is outside.
var exclusive = ebiten.Blend{
	BlendFactorSourceRGB:        ebiten.BlendFactorOneMinusDestinationAlpha,
	BlendFactorSourceAlpha:      ebiten.BlendFactorOneMinusDestinationAlpha,
	BlendFactorDestinationRGB:   ebiten.BlendFactorOneMinusSourceAlpha,
	BlendFactorDestinationAlpha: ebiten.BlendFactorOneMinusSourceAlpha,
}

// cover paints an outline as a mask: contour by contour, so that convex ones stay
// meshes.
func (p *painter) cover(o *display.Outline) {
	if !o.EvenOdd {
		p.fill(o, &white)
		return
	}
	p.options.Blend = exclusive
	p.flatten(o, func(line []display.Point, _ bool) {
		if convex(line) {
			p.mesh.fan(line, [4]float32{1, 1, 1, 1})
		} else {
			p.fillMasked(polygon(line), &white)
		}
		p.flush()
	})
	p.options.Blend = ebiten.Blend{}
}

var white = display.Paint{From: display.Colour{R: 1, G: 1, B: 1, A: 1}}

func bounds(points []display.Point) display.Rect {
	low := display.Point{X: math.Inf(1), Y: math.Inf(1)}
	high := display.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, q := range points {
		low.X, low.Y = math.Min(low.X, q.X), math.Min(low.Y, q.Y)
		high.X, high.Y = math.Max(high.X, q.X), math.Max(high.Y, q.Y)
	}
	return display.Rect{X: low.X, Y: low.Y, W: high.X - low.X, H: high.Y - low.Y}
}

// rectangleOf says whether an outline is one upright rectangle of nearly whole
// pixels.
func rectangleOf(o *display.Outline) (image.Rectangle, bool) {
	q := o.Points
	if len(q) != 4 || len(o.Verbs) != 5 || q[0].Y != q[1].Y || q[1].X != q[2].X || q[2].Y != q[3].Y || q[3].X != q[0].X {
		return image.Rectangle{}, false
	}
	for _, v := range o.Verbs[1:4] {
		if v != display.LineTo {
			return image.Rectangle{}, false
		}
	}
	whole := func(v float64) (int, bool) { r := math.Round(v); return int(r), math.Abs(v-r) < 1e-3 }
	x0, a := whole(q[0].X)
	y0, b := whole(q[0].Y)
	x1, c := whole(q[2].X)
	y1, d := whole(q[2].Y)
	return image.Rect(x0, y0, x1, y1), a && b && c && d
}
