// Package raster paints a display list on the CPU.
//
// Pixels are 8 bits a channel, premultiplied, mixed in sRGB. Everything is blended in
// fixed point from exact or closed-form coverages; the same list gives the same
// pixels, on a machine that fuses multiply-adds to 1/255.
package raster

import (
	"image"
	"runtime"
	"sync"
	"sync/atomic"

	"twincord/render/display"
)

// Painter paints display lists. The zero value is ready for use; it keeps its
// buffers, so that from the second picture of a kind on nothing is allocated. A
// Painter serves one goroutine at a time.
type Painter struct {
	list   *display.List
	part   image.Rectangle // of the page, that is painted
	target *surface
	clip   image.Rectangle
	mask   *mask  // what the clips let through within clip; nil: all
	only   *watch // whose contested tiles alone are painted; nil: all

	page    surface
	layers  stack[surface]
	watches stack[watch]
	masks   stack[mask]

	cov  []uint16 // of one row, by x
	inks []ink    // of one row, by x

	fill   filler
	glyphs glyphs
	band   band
	spine  []display.RibbonPoint
	lines  polyline
	cord   cord
	lit    lit
	back   backdrop
}

// A stack keeps what was taken from it for the next use.
type stack[T any] struct {
	items []*T
	n     int
}

func (s *stack[T]) push() *T {
	if s.n == len(s.items) {
		s.items = append(s.items, new(T))
	}
	s.n++
	return s.items[s.n-1]
}

func (s *stack[T]) pop() { s.n-- }

// Paint paints into dst what of the page lies in dst.Rect, and leaves it opaque: the same
// pixels as of the whole page if dst.Rect begins at multiples of Tile. Shapes with a
// coordinate that is no number, or beyond ±1e9, are left out.
func (p *Painter) Paint(l *display.List, dst *image.RGBA) {
	p.part = dst.Rect
	if p.part.Empty() {
		return
	}
	p.page = surface{pix: dst.Pix, stride: dst.Stride, at: p.part.Min}
	p.list, p.target, p.clip = l, &p.page, p.part
	p.mask, p.only = nil, nil
	p.cov = resized(p.cov, p.part.Max.X)
	p.inks = resized(p.inks, p.part.Max.X)

	if !grounded(l, 0, p.clip) {
		p.ground(inkOf(l.Ground))
	}
	p.paint(l.All())
	p.list, p.page.pix = nil, nil
}

// bands is how many bands of rows a picture is painted in on several cores.
const bands = 16

// Paint paints the list into dst on all cores: the same pixels as a Painter's.
func Paint(l *display.List, dst *image.RGBA) {
	var next atomic.Int64
	var done sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), bands) {
		done.Go(func() {
			var p Painter
			for {
				i := int(next.Add(1)) - 1
				if i >= bands {
					return
				}
				rows := dst.Rect
				rows.Min.Y, rows.Max.Y = bandStart(i, dst.Rect), bandStart(i+1, dst.Rect)
				p.Paint(l, dst.SubImage(rows).(*image.RGBA))
			}
		})
	}
	done.Wait()
}

// bandStart is the first row of a band: of a tile, so that no tile is in two.
func bandStart(i int, r image.Rectangle) int {
	switch i {
	case 0:
		return r.Min.Y
	case bands:
		return r.Max.Y
	}
	return max(r.Min.Y, (r.Min.Y+i*r.Dy()/bands)&^(Tile-1))
}

// grounded says whether a list begins, from op i on, with an opaque rectangle over all of
// an area, so that nothing shows of what is under it.
func grounded(l *display.List, i int, area image.Rectangle) bool {
	for _, op := range l.Ops[i:] {
		switch op.Kind {
		case display.KindGroup:
			if g := &l.Groups[op.Index]; g.Even || g.Opacity == 1 {
				continue
			}
		case display.KindClip:
			if r, ok := pixelRect(&l.Clips[op.Index].Outline); ok && area.In(r) {
				continue
			}
		case display.KindPath:
			var s shader
			q := &l.Paths[op.Index]
			r, ok := pixelRect(&q.Outline)
			return ok && area.In(r) && q.Stroke == 0 && s.begin(&q.Paint) && s.opaque
		}
		break
	}
	return false
}

func (p *Painter) ground(ground ink) {
	for x := range p.inks {
		p.inks[x] = ground
	}
	r := p.clip
	first := p.page.row(r.Min.Y, r.Min.X, r.Max.X)
	storeRow(first, p.inks[r.Min.X:], &nearest, 0)
	for y := r.Min.Y + 1; y < r.Max.Y; y++ {
		copy(p.page.row(y, r.Min.X, r.Max.X), first)
	}
}

// paint paints a span of the list.
func (p *Painter) paint(s display.Span) { p.list.Paint(s, shapes{p}) }

// shapes is a Painter as its list calls it back.
type shapes struct{ *Painter }

func (p shapes) Ball(b *display.Ball)                      { p.ball(b) }
func (p shapes) Clip(c *display.Clip, inside display.Span) { p.clipped(c, inside) }

func (p shapes) Path(q *display.Path) {
	if pathBox(q).Overlaps(p.clip) {
		p.path(q)
	}
}

func (p shapes) Ribbon(r *display.Ribbon) {
	if ribbonBox(r.Points).Overlaps(p.clip) {
		p.ribbon(r)
	}
}

func (p shapes) Text(t *display.Text) {
	if textBox(t).Overlaps(p.clip) {
		p.text(t)
	}
}

func (p shapes) Group(g *display.Group, inside display.Span) {
	switch opacity := unit(g.Opacity); {
	case opacity == 1:
		p.paint(inside)
	case opacity > 0:
		p.layer(opacity, inside)
	}
}

func (p shapes) Even(_ *display.Group, ground, pairs display.Span) { p.even(ground, pairs) }

// layer paints a span as one thing at an opacity.
func (p *Painter) layer(opacity float64, inside display.Span) {
	back, mask := p.target, p.mask
	s := p.layers.push()
	s.growClear(p.part)
	p.target, p.mask = s, nil
	p.paint(inside)
	p.target, p.mask = back, mask
	a := uint16(fixed(opacity))
	for y := p.clip.Min.Y; y < p.clip.Max.Y; y++ {
		r := s.reached(y)
		if r.x0 == r.x1 {
			continue
		}
		for x := r.x0; x < r.x1; x++ {
			p.cov[x] = a
		}
		p.masked(y, r.x0, r.x1)
		for x0, x1 := p.run(y, r.x0, r.x1); x0 < x1; x0, x1 = p.run(y, x1, r.x1) {
			blendLayer(p.target.touch(y, x0, x1), s.row(y, x0, x1), p.cov[x0:x1])
		}
		clear(s.row(y, r.x0, r.x1))
		*r = span{}
	}
	p.layers.pop()
}

// even paints an Even group: in order, then, where both of a pair have painted the
// same tile, over what was there before the pairs the other way round, and
// takes the mean.
func (p *Painter) even(ground, pairs display.Span) {
	if ground.Empty() {
		return
	}
	p.backdrop(ground)

	t := p.target
	w := p.watches.push()
	w.begin(p.part, t.watch)
	t.watch = w
	for first, second := range p.list.Pairs(pairs) {
		w.nextPair()
		p.paint(first)
		w.second = true
		p.paint(second)
	}
	t.watch = w.outer

	if c := w.clash; !c.Empty() {
		clip, only := p.clip, p.only
		area := image.Rect(c.Min.X<<tileBits, c.Min.Y<<tileBits, c.Max.X<<tileBits, c.Max.Y<<tileBits)
		p.clip, p.only, p.target = clip.Intersect(area), w, &w.saved
		for first, second := range p.list.Pairs(pairs) {
			p.paint(second)
			p.paint(first)
		}
		p.target = t
		for y := p.clip.Min.Y; y < p.clip.Max.Y; y++ {
			for x0, x1 := p.run(y, p.clip.Min.X, p.clip.Max.X); x0 < x1; x0, x1 = p.run(y, x1, p.clip.Max.X) {
				meanRow(t.row(y, x0, x1), w.saved.row(y, x0, x1), x0, y)
			}
		}
		p.clip, p.only = clip, only
	}
	p.watches.pop()
}

// run is the first run of pixels in x0 ≤ x < x1 of a row that are to be painted, empty
// if there is none.
func (p *Painter) run(y, x0, x1 int) (int, int) { return p.only.run(y, x0, x1) }

// masked takes from the coverage of a row what the clips hide.
func (p *Painter) masked(y, x0, x1 int) {
	if p.mask != nil {
		p.mask.apply(p.cov[x0:x1], y, x0)
	}
}

// emitRow blends the inks of a row by its coverage.
func (p *Painter) emitRow(y, x0, x1 int, round *rounding) {
	p.masked(y, x0, x1)
	for a, b := p.run(y, x0, x1); a < b; a, b = p.run(y, b, x1) {
		blendRow(p.target.touch(y, a, b), p.cov[a:b], p.inks[a:b], round, a)
	}
}
