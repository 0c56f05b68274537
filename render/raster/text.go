package raster

import (
	"twincord/render/display"
	"twincord/render/lettering"
)

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
		if !finite(g.At.X, g.At.Y) {
			continue
		}
		o := lettering.Outline(t.Face, g.ID)
		p.lines.flatten(&o, t.Size, g.At)
		if len(p.lines.ends) == 0 || !p.fill.begin(&p.lines, false, p.clip) {
			continue
		}
		for y := p.fill.bounds.Min.Y; y < p.fill.bounds.Max.Y; y++ {
			if x0, x1 := p.fill.row(y, p.cov); x0 < x1 {
				p.shade(y, x0, x1, &s)
			}
		}
	}
}
