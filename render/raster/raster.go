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
	size   image.Point
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

// Paint paints the list into dst, whose upper left corner is that of the page, and
// leaves it opaque. Shapes with a coordinate that is no number, or beyond ±1e9, are
// left out.
func (p *Painter) Paint(l *display.List, dst *image.RGBA) {
	p.rows(l, dst, 0, dst.Rect.Dy())
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
				p.rows(l, dst, bandStart(i, dst.Rect.Dy()), bandStart(i+1, dst.Rect.Dy()))
			}
		})
	}
	done.Wait()
}

// bandStart is the first row of a band: of a tile, so that no tile is in two.
func bandStart(i, height int) int {
	if i == bands {
		return height
	}
	return i * height / bands &^ (tileSize - 1)
}

// rows paints the rows top ≤ y < bottom.
func (p *Painter) rows(l *display.List, dst *image.RGBA, top, bottom int) {
	p.size = dst.Rect.Size()
	if p.size.X <= 0 || top >= bottom {
		return
	}
	p.page = surface{pix: dst.Pix, stride: dst.Stride}
	p.list, p.target, p.clip = l, &p.page, image.Rect(0, top, p.size.X, bottom)
	p.mask, p.only = nil, nil
	p.cov = resized(p.cov, p.size.X)
	p.inks = resized(p.inks, p.size.X)

	if !grounded(l, p.clip) {
		p.ground(inkOf(l.Ground))
	}
	p.ops(0, len(l.Ops))
	p.list, p.page.pix = nil, nil
}

// grounded says whether a list begins with an opaque rectangle over all of an area, so
// that nothing shows of what is under it.
func grounded(l *display.List, area image.Rectangle) bool {
	for _, op := range l.Ops {
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
	top := p.clip.Min.Y
	first := p.page.row(top, 0, p.size.X)
	storeRow(first, p.inks, &nearest, 0)
	for y := top + 1; y < p.clip.Max.Y; y++ {
		copy(p.page.row(y, 0, p.size.X), first)
	}
}

// ops paints the ops i ≤ op < end.
func (p *Painter) ops(i, end int) {
	for i < end {
		next := p.list.Next(i)
		p.op(i, next)
		i = next
	}
}

// op paints the shape at op i, which ends before next.
func (p *Painter) op(i, next int) {
	l, op := p.list, p.list.Ops[i]
	switch op.Kind {
	case display.KindPath:
		p.path(&l.Paths[op.Index])
	case display.KindRibbon:
		p.ribbon(&l.Ribbons[op.Index])
	case display.KindBall:
		p.ball(&l.Balls[op.Index])
	case display.KindText:
		p.text(&l.Texts[op.Index])
	case display.KindClip:
		p.clipped(&l.Clips[op.Index], i+1, inside(l, i, next))
	case display.KindGroup:
		g := &l.Groups[op.Index]
		end := inside(l, i, next)
		switch opacity := unit(g.Opacity); {
		case g.Even:
			p.even(i+1, end)
		case opacity == 1:
			p.ops(i+1, end)
		case opacity > 0:
			p.layer(opacity, i+1, end)
		}
	}
}

// inside is where the contents of a bracket end: at its End, if it has one.
func inside(l *display.List, i, next int) int {
	if next-1 > i && l.Ops[next-1].Kind == display.KindEnd {
		return next - 1
	}
	return next
}

// layer paints ops as one thing at an opacity.
func (p *Painter) layer(opacity float64, i, end int) {
	back, mask := p.target, p.mask
	s := p.layers.push()
	s.growClear(p.size)
	p.target, p.mask = s, nil
	p.ops(i, end)
	p.target, p.mask = back, mask
	a := uint16(fixed(opacity))
	for y := p.clip.Min.Y; y < p.clip.Max.Y; y++ {
		r := &s.rows[y]
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
func (p *Painter) even(i, end int) {
	if i >= end {
		return
	}
	ground := p.list.Next(i)
	p.backdrop(i, ground)

	t := p.target
	w := p.watches.push()
	w.begin(p.size, t.watch)
	t.watch = w
	p.pairs(ground, end, func(first, second, end int) {
		w.nextPair()
		p.op(first, second)
		w.second = true
		p.ops(second, end)
	})
	t.watch = w.outer

	if c := w.clash; !c.Empty() {
		clip, only := p.clip, p.only
		area := image.Rect(c.Min.X<<tileBits, c.Min.Y<<tileBits, c.Max.X<<tileBits, c.Max.Y<<tileBits)
		p.clip, p.only, p.target = clip.Intersect(area), w, &w.saved
		p.pairs(ground, end, func(first, second, end int) {
			p.ops(second, end)
			p.op(first, second)
		})
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

// pairs calls f with where the first and the second shape of each pair begin and the
// second ends. A last one without a partner has an empty second.
func (p *Painter) pairs(i, end int, f func(first, second, end int)) {
	for i < end {
		second := min(p.list.Next(i), end)
		next := second
		if second < end {
			next = min(p.list.Next(second), end)
		}
		f(i, second, next)
		i = next
	}
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

// emitInk blends one ink by the coverage of a row.
func (p *Painter) emitInk(y, x0, x1 int, k ink) {
	p.masked(y, x0, x1)
	for a, b := p.run(y, x0, x1); a < b; a, b = p.run(y, b, x1) {
		blendInk(p.target.touch(y, a, b), p.cov[a:b], k, &nearest, a)
	}
}

// emitRow blends the inks of a row by its coverage.
func (p *Painter) emitRow(y, x0, x1 int, round *rounding) {
	p.masked(y, x0, x1)
	for a, b := p.run(y, x0, x1); a < b; a, b = p.run(y, b, x1) {
		blendRow(p.target.touch(y, a, b), p.cov[a:b], p.inks[a:b], round, a)
	}
}
