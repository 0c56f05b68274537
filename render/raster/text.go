package raster

import (
	"image"
	"math"
	"slices"

	"twincord/render/display"
	"twincord/render/lettering"
)

// Masks of glyphs are kept up to a size and a number of coverages in all; when they
// are full they start again. Such a glyph stands in the nearest quarter of a pixel
// and reaches at most glyphReach pixels from its origin.
const (
	largestKept = 64 // pixels per em
	mostKept    = 1 << 19
	glyphReach  = 3 * largestKept
)

// A place is a glyph at a place within a pixel, in quarters of one.
type place struct {
	face display.Face
	id   uint32
	size float64
	x, y int
}

// glyphs are masks by place, their bounds from the pixel that the glyph's origin is in.
type glyphs struct {
	masks map[place]mask
	cov   []uint16 // of them all
	line  [2 * glyphReach]uint16
}

// text paints a run of glyphs.
func (p *Painter) text(t *display.Text) {
	if !finite(t.Size) || t.Size <= 0 {
		return
	}
	s := shader{}
	if !s.begin(&display.Paint{From: t.Colour}) {
		return
	}
	for _, g := range t.Glyphs {
		switch {
		case !finite(g.At.X, g.At.Y):
		case t.Size > largestKept:
			o := lettering.Outline(t.Face, g.ID)
			p.lines.flatten(&o, t.Size, g.At)
			p.area(false, &s)
		default:
			x, left := quarters(g.At.X)
			y, top := quarters(g.At.Y)
			if at := image.Pt(x, y); at.In(p.clip.Inset(-glyphReach)) {
				m := p.glyphMask(place{t.Face, g.ID, t.Size, left, top})
				p.stamp(m.moved(at), &s)
			}
		}
	}
}

// quarters is the pixel that v is in, and where in it, to the nearest quarter.
func quarters(v float64) (pixel, quarter int) {
	v += 1. / 8
	whole := math.Floor(v)
	return int(whole), int(4 * (v - whole))
}

// glyphMask is the mask of a glyph, from those kept or painted now.
func (p *Painter) glyphMask(at place) mask {
	k := &p.glyphs
	if m, ok := k.masks[at]; ok {
		return m
	}
	o := lettering.Outline(at.face, at.id)
	p.lines.flatten(&o, at.size, display.Point{X: glyphReach + float64(at.x)/4, Y: glyphReach + float64(at.y)/4})
	var m mask
	if p.fill.begin(&p.lines, false, image.Rect(0, 0, 2*glyphReach, 2*glyphReach)) {
		n := p.fill.bounds.Dx() * p.fill.bounds.Dy()
		if len(k.cov)+n > mostKept {
			clear(k.masks)
			k.cov = k.cov[:0]
		}
		from := len(k.cov)
		k.cov = slices.Grow(k.cov, n)[:from+n]
		m.cov = k.cov[from:]
		m.draw(&p.fill, k.line[:])
		m = m.moved(image.Pt(-glyphReach, -glyphReach))
	}
	if k.masks == nil {
		k.masks = map[place]mask{}
	}
	k.masks[at] = m
	return m
}

// stamp blends a paint by the coverage of a mask.
func (p *Painter) stamp(m mask, s *shader) {
	r := m.bounds.Intersect(p.clip)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		copy(p.cov[r.Min.X:r.Max.X], m.row(y, r.Min.X, r.Max.X))
		p.shade(y, r.Min.X, r.Max.X, s)
	}
}
