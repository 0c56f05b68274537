//go:build !wasip1

package lettering

import (
	"bytes"

	"github.com/go-text/typesetting/di"
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/language"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/image/math/fixed"

	"twincord/render/display"
)

// shaper is a font that is shaped as any script needs it.
type shaper struct {
	font   *font.Face
	em     float64 // font units
	shaper shaping.HarfbuzzShaper
}

func read(ttf []byte) (typeface, error) {
	f, err := font.ParseTTF(bytes.NewReader(ttf))
	if err != nil {
		return nil, err
	}
	return &shaper{font: f, em: float64(f.Upem())}, nil
}

func (t *shaper) measures() (ascent, descent, capHeight float64) {
	extents, _ := t.font.FontHExtents()
	return float64(extents.Ascender) / t.em, float64(extents.Descender) / t.em,
		float64(t.font.LineMetric(font.CapHeight)) / t.em
}

func (t *shaper) has(c rune) bool {
	_, ok := t.font.NominalGlyph(c)
	return ok
}

func (t *shaper) advance(glyph uint32) float64 {
	return float64(t.font.HorizontalAdvance(font.GID(glyph))) / t.em
}

func (t *shaper) shape(s string) *run {
	text := []rune(s)
	// At one pixel to the font unit the shaper's numbers are exact.
	out := t.shaper.ShapeNoExtents(shaping.Input{
		Text:      text,
		RunEnd:    len(text),
		Direction: di.DirectionLTR,
		Face:      t.font,
		Size:      fixed.I(int(t.em)),
		Script:    language.Latin,
		Language:  "en",
	})
	ems := func(v fixed.Int26_6) float64 { return float64(v) / (64 * t.em) }
	r := &run{glyphs: make([]glyph, len(out.Glyphs))}
	hyphen, narrow := t.font.NominalGlyph(softHyphen)
	for i, g := range out.Glyphs {
		if at := g.TextIndex(); narrow && at < len(text) && text[at] == '-' {
			g.Advance += fixed.Int26_6(64 * (t.font.HorizontalAdvance(hyphen) - t.font.HorizontalAdvance(g.GlyphID)))
			g.GlyphID = hyphen
		}
		r.glyphs[i] = glyph{
			id:   uint32(g.GlyphID),
			x:    r.width + ems(g.XOffset),
			y:    -ems(g.YOffset),
			char: g.TextIndex(),
		}
		r.width += ems(g.Advance)
	}
	return r
}

func (t *shaper) outline(glyph uint32) display.Outline {
	var o display.Outline
	data, _ := t.font.GlyphData(font.GID(glyph)).(font.GlyphOutline)
	for _, seg := range data.Segments {
		switch seg.Op {
		case opentype.SegmentOpMoveTo:
			o = closed(o)
			o.Verbs = append(o.Verbs, display.MoveTo)
		case opentype.SegmentOpLineTo:
			o.Verbs = append(o.Verbs, display.LineTo)
		case opentype.SegmentOpQuadTo:
			o.Verbs = append(o.Verbs, display.QuadTo)
		case opentype.SegmentOpCubeTo:
			o.Verbs = append(o.Verbs, display.CubicTo)
		}
		for _, p := range seg.ArgsSlice() {
			o.Points = append(o.Points, display.Point{X: float64(p.X) / t.em, Y: -float64(p.Y) / t.em})
		}
	}
	return closed(o)
}
