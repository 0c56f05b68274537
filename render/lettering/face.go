package lettering

import (
	"fmt"
	"math"
	"strings"
	"sync"
	"unicode"

	"twincord/render/display"
)

// typeface is a font as it is read: what sets a text and outlines glyphs. Measures are
// in ems, y up but in runs and outlines. It is for one goroutine at a time.
type typeface interface {
	measures() (ascent, descent, capHeight float64)
	has(c rune) bool
	advance(glyph uint32) float64
	shape(s string) *run
	outline(glyph uint32) display.Outline
}

// face is a parsed font and what has been asked of it. Measures are in ems.
type face struct {
	ascent, capHeight float64

	mu   sync.Mutex // guards font, which keeps caches of its own
	font typeface

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
	f, err := read(ttf)
	if err != nil {
		panic(fmt.Sprintf("lettering: a built-in font is broken: %v", err))
	}
	fc := &face{font: f, outlines: map[uint32]display.Outline{}, recent: map[string]*run{}}
	fc.ascent, _, fc.capHeight = f.measures()
	return fc
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
		fc.mu.Lock()
		r = fc.font.shape(s)
		fc.mu.Unlock()
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

// Extent is what no glyph of the faces reaches out of, about its origin on the baseline, in
// ems, y down.
var Extent = display.Rect{X: -0.25, Y: -1.15, W: 1.35, H: 1.45}

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
	fc.mu.Lock()
	o = fc.font.outline(glyph)
	fc.mu.Unlock()
	fc.outlinesMu.Lock()
	defer fc.outlinesMu.Unlock()
	fc.outlines[glyph] = o
	return o
}

// closed is an outline with its last contour closed, if it has one.
func closed(o display.Outline) display.Outline {
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
		if !fc.font.has(c) && !strings.ContainsRune(missing.String(), c) {
			missing.WriteRune(c)
		}
	}
	return missing.String()
}
