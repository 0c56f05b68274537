package raster

import (
	"image"
	"slices"

	"twincord/render/display"
)

// backdrop is the ground of the last Even group of a whole page as it was painted: in a
// film it is the same in every frame, and copied many times faster than painted. A page in
// parts has another in each.
type backdrop struct {
	ops    []display.Op
	groups []display.Group
	paths  []display.Path
	ground display.Colour
	clip   image.Rectangle
	pix    []uint8 // of the rows of clip
}

// backdrop paints the ground of an Even group, or copies what it painted last if that
// is the same.
func (p *Painter) backdrop(ground display.Span) {
	b := &p.back
	whole := image.Rect(0, 0, int(p.list.W), int(p.list.H)) == p.part
	if !whole || p.mask != nil || p.only != nil || p.target != &p.page || p.page.watch != nil || !grounded(p.list, ground.From, p.clip) {
		p.paint(ground)
		return
	}
	stride := 4 * p.clip.Dx()
	row := func(y int) []uint8 { return b.pix[(y-p.clip.Min.Y)*stride:][:stride] }
	if b.clip == p.clip && b.same(p.list, p.list.Ops[ground.From:ground.To]) {
		for y := p.clip.Min.Y; y < p.clip.Max.Y; y++ {
			copy(p.page.row(y, p.clip.Min.X, p.clip.Max.X), row(y))
		}
		return
	}
	p.paint(ground)
	if !b.take(p.list, p.list.Ops[ground.From:ground.To]) {
		b.clip = image.Rectangle{}
		return
	}
	b.clip = p.clip
	b.pix = resized(b.pix, stride*p.clip.Dy())
	for y := p.clip.Min.Y; y < p.clip.Max.Y; y++ {
		copy(row(y), p.page.row(y, p.clip.Min.X, p.clip.Max.X))
	}
}

// take remembers ops; ok says whether they are such as can be compared.
func (b *backdrop) take(l *display.List, ops []display.Op) (ok bool) {
	b.ops, b.groups, b.paths, b.ground = b.ops[:0], b.groups[:0], b.paths[:0], l.Ground
	for _, op := range ops {
		switch op.Kind {
		case display.KindGroup:
			b.groups = append(b.groups, l.Groups[op.Index])
		case display.KindPath:
			q := l.Paths[op.Index]
			q.Outline.Verbs, q.Outline.Points = slices.Clone(q.Outline.Verbs), slices.Clone(q.Outline.Points)
			b.paths = append(b.paths, q)
		case display.KindEnd:
		default:
			return false
		}
		b.ops = append(b.ops, op)
	}
	return true
}

// same says whether ops are those that are remembered.
func (b *backdrop) same(l *display.List, ops []display.Op) bool {
	if l.Ground != b.ground || !slices.EqualFunc(ops, b.ops, func(x, y display.Op) bool { return x.Kind == y.Kind }) {
		return false
	}
	groups, paths := b.groups, b.paths
	for _, op := range ops {
		switch op.Kind {
		case display.KindGroup:
			if l.Groups[op.Index] != groups[0] {
				return false
			}
			groups = groups[1:]
		case display.KindPath:
			q, r := &l.Paths[op.Index], &paths[0]
			if q.Paint != r.Paint || q.Stroke != r.Stroke || q.Dash != r.Dash || q.Outline.EvenOdd != r.Outline.EvenOdd ||
				!slices.Equal(q.Outline.Verbs, r.Outline.Verbs) || !slices.Equal(q.Outline.Points, r.Outline.Points) {
				return false
			}
			paths = paths[1:]
		}
	}
	return true
}
