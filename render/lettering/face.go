package lettering

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"sync"
	"unicode"

	"github.com/go-text/typesetting/di"
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/language"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/image/math/fixed"

	"twincord/render/display"
)

// face is a parsed font and what has been asked of it. Measures are in ems.
type face struct {
	ascent, capHeight float64

	mu     sync.Mutex // guards font and shaper, which keep caches of their own
	font   *font.Face
	shaper shaping.HarfbuzzShaper

	outlinesMu sync.RWMutex
	outlines   map[uint32]display.Outline

	runsMu sync.RWMutex
	// Runs shaped or used lately, and those of the time before: when recent is
	// full it becomes the past and the past is forgotten.
	recent, past map[string]*run
}

// maxRuns bounds each of the two generations of shaped runs.
const maxRuns = 1024

var faces = [...]func() *face{
	display.Regular: sync.OnceValue(func() *face { return parse(sources[display.Regular].ttf) }),
	display.Bold:    sync.OnceValue(func() *face { return parse(sources[display.Bold].ttf) }),
}

func faceOf(f display.Face) *face { return faces[f]() }

func parse(ttf []byte) *face {
	f, err := font.ParseTTF(bytes.NewReader(ttf))
	if err != nil {
		panic(fmt.Sprintf("lettering: a built-in font is broken: %v", err))
	}
	extents, _ := f.FontHExtents()
	em := float64(f.Upem())
	return &face{
		ascent:    float64(extents.Ascender) / em,
		capHeight: float64(f.LineMetric(font.CapHeight)) / em,
		font:      f,
		outlines:  map[uint32]display.Outline{},
		recent:    map[string]*run{},
	}
}

// run is a shaped text, in ems, y down.
type run struct {
	glyphs []glyph
	width  float64
}

type glyph struct {
	id   uint32
	x, y float64
	char int // index of the first character it stands for
}

// edges gives where each of the n characters begins, and at n where the last one
// ends.
func (r *run) edges(n int) []float64 {
	edges := make([]float64, n+1)
	for i := range edges {
		edges[i] = math.Inf(1)
	}
	edges[n] = r.width
	for _, g := range r.glyphs {
		edges[g.char] = min(edges[g.char], g.x)
	}
	for i := n - 1; i >= 0; i-- {
		edges[i] = min(edges[i], edges[i+1])
	}
	return edges
}

func shaped(f display.Face, s string) *run {
	fc := faceOf(f)
	fc.runsMu.RLock()
	r, fresh := fc.recent[s]
	if !fresh {
		r = fc.past[s]
	}
	fc.runsMu.RUnlock()
	if fresh {
		return r
	}
	if r == nil {
		r = fc.shape(s)
	}
	fc.runsMu.Lock()
	defer fc.runsMu.Unlock()
	if len(fc.recent) >= maxRuns {
		fc.past, fc.recent = fc.recent, make(map[string]*run, maxRuns)
	}
	fc.recent[s] = r
	return r
}

// softHyphen has the glyph of a hyphen in the Go fonts; that of the hyphen-minus is as
// wide as a minus, which has a character of its own.
const softHyphen = '\u00ad'

func (fc *face) shape(s string) *run {
	fc.mu.Lock()
	defer fc.mu.Unlock()
	em := int(fc.font.Upem())
	text := []rune(s)
	// At one pixel to the font unit the shaper's numbers are exact.
	out := fc.shaper.ShapeNoExtents(shaping.Input{
		Text:      text,
		RunEnd:    len(text),
		Direction: di.DirectionLTR,
		Face:      fc.font,
		Size:      fixed.I(em),
		Script:    language.Latin,
		Language:  "en",
	})
	ems := func(v fixed.Int26_6) float64 { return float64(v) / float64(64*em) }
	r := &run{glyphs: make([]glyph, len(out.Glyphs))}
	hyphen, narrow := fc.font.NominalGlyph(softHyphen)
	for i, g := range out.Glyphs {
		if at := g.TextIndex(); narrow && at < len(text) && text[at] == '-' {
			g.Advance += fixed.Int26_6(64 * (fc.font.HorizontalAdvance(hyphen) - fc.font.HorizontalAdvance(g.GlyphID)))
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

// Outline is the shape of a glyph about its origin on the baseline, in ems, y
// down, filled by the non-zero rule. A blank glyph, or one that the face does not
// have, is an empty outline. The outline is shared: it must not be changed.
func Outline(f display.Face, glyph uint32) display.Outline {
	fc := faceOf(f)
	fc.outlinesMu.RLock()
	o, ok := fc.outlines[glyph]
	fc.outlinesMu.RUnlock()
	if ok {
		return o
	}
	o = fc.outline(glyph)
	fc.outlinesMu.Lock()
	defer fc.outlinesMu.Unlock()
	fc.outlines[glyph] = o
	return o
}

func (fc *face) outline(glyph uint32) display.Outline {
	fc.mu.Lock()
	defer fc.mu.Unlock()
	var o display.Outline
	data, _ := fc.font.GlyphData(font.GID(glyph)).(font.GlyphOutline)
	em := float64(fc.font.Upem())
	for _, seg := range data.Segments {
		switch seg.Op {
		case opentype.SegmentOpMoveTo:
			if len(o.Verbs) > 0 {
				o.Verbs = append(o.Verbs, display.Close)
			}
			o.Verbs = append(o.Verbs, display.MoveTo)
		case opentype.SegmentOpLineTo:
			o.Verbs = append(o.Verbs, display.LineTo)
		case opentype.SegmentOpQuadTo:
			o.Verbs = append(o.Verbs, display.QuadTo)
		case opentype.SegmentOpCubeTo:
			o.Verbs = append(o.Verbs, display.CubicTo)
		}
		for _, p := range seg.ArgsSlice() {
			o.Points = append(o.Points, display.Point{X: float64(p.X) / em, Y: -float64(p.Y) / em})
		}
	}
	if len(o.Verbs) > 0 {
		o.Verbs = append(o.Verbs, display.Close)
	}
	return o
}

// Instead stands for a character that a face lacks.
const Instead = '□'

// Substituted is s with Instead for what a face lacks, a space for control characters,
// and nothing for marks on letters and joiners, which would be a box of their own.
func Substituted(f display.Face, s string) string {
	missing := Missing(f, s)
	if missing == "" {
		return s
	}
	return strings.Map(func(c rune) rune {
		switch {
		case !strings.ContainsRune(missing, c):
			return c
		case unicode.IsControl(c):
			return ' '
		case unicode.In(c, unicode.Mn, unicode.Me, unicode.Cf):
			return -1
		}
		return Instead
	}, s)
}

// Missing gives the characters of s, each once, that a face lacks, and that
// would be drawn as an empty box. Control characters and newlines are among them.
func Missing(f display.Face, s string) string {
	fc := faceOf(f)
	fc.mu.Lock()
	defer fc.mu.Unlock()
	var missing strings.Builder
	for _, c := range s {
		if _, ok := fc.font.NominalGlyph(c); !ok && !strings.ContainsRune(missing.String(), c) {
			missing.WriteRune(c)
		}
	}
	return missing.String()
}
