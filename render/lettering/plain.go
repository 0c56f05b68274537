package lettering

import (
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"twincord/render/display"
)

// plain is a font that is set letter after letter, with the kerning of its table: all
// that the labels of pictures need. In a browser, where what shapes any script would be
// a third of the whole engine, every text is set so.
type plain struct {
	font *sfnt.Font
	size fixed.Int26_6 // pixels to the em
	buf  sfnt.Buffer
}

func readPlain(ttf []byte) (*plain, error) {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, err
	}
	// At one pixel to the font unit measures are exact.
	return &plain{font: f, size: fixed.I(int(f.UnitsPerEm()))}, nil
}

// ems is a measure of the font.
func (t *plain) ems(v fixed.Int26_6) float64 { return float64(v) / float64(t.size) }

func (t *plain) measures() (ascent, descent, capHeight float64) {
	m, err := t.font.Metrics(&t.buf, t.size, font.HintingNone)
	if err != nil {
		return 0, 0, 0
	}
	return t.ems(m.Ascent), -t.ems(m.Descent), t.ems(m.CapHeight)
}

func (t *plain) has(c rune) bool {
	g, err := t.font.GlyphIndex(&t.buf, c)
	return err == nil && g != 0
}

func (t *plain) advance(glyph uint32) float64 {
	a, err := t.font.GlyphAdvance(&t.buf, sfnt.GlyphIndex(glyph), t.size, font.HintingNone)
	if err != nil {
		return 0
	}
	return t.ems(a)
}

func (t *plain) shape(s string) *run {
	r := &run{}
	for i, c := range []rune(s) {
		if c == '-' && t.has(softHyphen) {
			c = softHyphen
		}
		g, _ := t.font.GlyphIndex(&t.buf, c) // 0, a box, for what it lacks
		if i > 0 {
			before := sfnt.GlyphIndex(r.glyphs[i-1].id)
			if kern, err := t.font.Kern(&t.buf, before, g, t.size, font.HintingNone); err == nil {
				r.width += t.ems(kern)
			}
		}
		r.glyphs = append(r.glyphs, glyph{id: uint32(g), x: r.width, char: i})
		r.width += t.advance(uint32(g))
	}
	return r
}

func (t *plain) outline(glyph uint32) display.Outline {
	var o display.Outline
	segments, err := t.font.LoadGlyph(&t.buf, sfnt.GlyphIndex(glyph), t.size, nil)
	if err != nil {
		return o
	}
	points := [...]int{sfnt.SegmentOpMoveTo: 1, sfnt.SegmentOpLineTo: 1, sfnt.SegmentOpQuadTo: 2, sfnt.SegmentOpCubeTo: 3}
	verbs := [...]display.Verb{sfnt.SegmentOpMoveTo: display.MoveTo, sfnt.SegmentOpLineTo: display.LineTo, sfnt.SegmentOpQuadTo: display.QuadTo, sfnt.SegmentOpCubeTo: display.CubicTo}
	for _, seg := range segments {
		if seg.Op == sfnt.SegmentOpMoveTo {
			o = closed(o)
		}
		o.Verbs = append(o.Verbs, verbs[seg.Op])
		for _, p := range seg.Args[:points[seg.Op]] {
			o.Points = append(o.Points, display.Point{X: t.ems(p.X), Y: t.ems(p.Y)})
		}
	}
	return closed(o)
}
