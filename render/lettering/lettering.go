// Package lettering is the one font stack: it shapes, measures and outlines text.
// Every painter uses its glyph positions and its outlines, so a line of text is
// equally long in the window, in a picture and on a page.
//
// The faces are the Go fonts (regular and bold), built in. Nothing is hinted and
// every measure is proportional to the size, so a run is shaped once for all
// sizes. All functions are safe for concurrent use. A label that was drawn not
// long ago is not shaped again, and then drawing and measuring allocate nothing.
package lettering

import (
	"strings"
	"unicode"

	"github.com/go-text/typesetting/segmenter"

	"twincord/render/display"
)

// Style is how a text is set.
type Style struct {
	Face   display.Face
	Size   float64 // pixels per em
	Colour display.Colour
}

// Anchor says which part of a text stands at the given place.
type Anchor uint8

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Width is the advance width of s in pixels.
func Width(st Style, s string) float64 { return shaped(st.Face, s).width * st.Size }

// Ascent is the height of the tallest letters over the baseline, in pixels.
func Ascent(st Style) float64 { return faceOf(st.Face).ascent * st.Size }

// CapHeight is the height of a capital H over the baseline, in pixels. Text
// looks centred in a box when half of it lies above the middle.
func CapHeight(st Style) float64 { return faceOf(st.Face).capHeight * st.Size }

// LineHeight is the distance from one baseline to the next, in pixels.
func LineHeight(st Style) float64 { return lineHeight * st.Size }

const lineHeight = 1.36

// spare holds slices for Draw. Unlike a sync.Pool it never drops one.
var spare = make(chan []display.Glyph, 8)

// Draw adds s to the list with its anchor at x, y down to its baseline, in
// pixels, and gives its advance width.
func Draw(l *display.List, st Style, x, baseline float64, anchor Anchor, s string) (width float64) {
	if s == "" {
		return 0
	}
	r := shaped(st.Face, s)
	width = r.width * st.Size
	switch anchor {
	case Middle:
		x -= width / 2
	case End:
		x -= width
	}
	var glyphs []display.Glyph
	select {
	case glyphs = <-spare:
	default:
	}
	glyphs = glyphs[:0]
	for _, g := range r.glyphs {
		glyphs = append(glyphs, display.Glyph{
			ID: g.id,
			At: display.Point{X: x + g.x*st.Size, Y: baseline + g.y*st.Size},
		})
	}
	l.AddText(display.Text{Glyphs: glyphs, String: s, Face: st.Face, Size: st.Size, Colour: st.Colour})
	select {
	case spare <- glyphs:
	default:
	}
	return width
}

// Wrap breaks s into lines of at most width pixels where Unicode's line breaking
// (UAX 14) allows it, and always at a newline, but not between a number and its unit. A
// word wider than a line is broken between characters. The lines have no spaces at their
// ends.
func Wrap(st Style, s string, width float64) []string {
	text := []rune(s)
	edges := shaped(st.Face, s).edges(len(text))
	// A part of a text may be wider by itself than within it, where marks combine or
	// letters are kerned across its ends.
	fits := func(from, to int) bool {
		within := (edges[to] - edges[from]) * st.Size
		return within <= width && (within < 0.9*width || Width(st, string(text[from:to])) <= width)
	}
	trimmed := func(from, to int) int {
		for to > from && unicode.IsSpace(text[to-1]) && text[to-1] != noBreakSpace {
			to--
		}
		return to
	}

	var seg segmenter.Segmenter
	seg.Init(text)
	var lines []string
	var ends []bool     // of characters, once a word has to be broken
	start, open := 0, 0 // open is the last place at which it may be broken
	emit := func(end int) {
		lines = append(lines, string(text[start:trimmed(start, end)]))
		start = end
	}
	for it := seg.LineIterator(); it.Next(); {
		piece := it.Line()
		end := piece.Offset + len(piece.Text)
		ink := trimmed(start, end)
		if !beforeUnit(text, piece.Offset) {
			open = piece.Offset
		}
		if open > start && !fits(start, ink) {
			emit(open)
		}
		for start < ink && !fits(start, ink) {
			if ends == nil {
				ends = characterEnds(text)
			}
			first := start + 1
			for !ends[first] {
				first++ // a line has one character at least
			}
			emit(max(longest(ends, start, func(to int) bool { return fits(start, to) }), first))
		}
		if start < end && (piece.IsMandatoryBreak || end == len(text)) {
			emit(end)
		}
	}
	return lines
}

// mostUnit is how long the words are that may be units, characters.
const mostUnit = 2

// beforeUnit says whether a short word begins there after a number and a space, such as
// its unit.
func beforeUnit(text []rune, at int) bool {
	if at < 2 || text[at-1] != ' ' || !unicode.IsDigit(text[at-2]) {
		return false
	}
	to := at
	for to < len(text) && (unicode.IsLetter(text[to]) || text[to] == '%') {
		to++
	}
	return to > at && to-at <= mostUnit
}

// Ellipsis is s where it fits into width pixels, else as much of its beginning
// as fits with an ellipsis after it.
func Ellipsis(st Style, s string, width float64) string {
	if Width(st, s) <= width {
		return s
	}
	text := []rune(s)
	edges := shaped(st.Face, s).edges(len(text))
	room := width - Width(st, ellipsis)
	n := longest(characterEnds(text), 0, func(to int) bool { return edges[to]*st.Size <= room })
	return strings.TrimRightFunc(string(text[:n]), unicode.IsSpace) + ellipsis
}

const (
	ellipsis     = "…"
	noBreakSpace = '\u00a0'
)

// longest is the last end of a character after from up to which fits holds; from if there
// is none.
func longest(ends []bool, from int, fits func(to int) bool) int {
	longest := from
	for to := from + 1; to < len(ends); to++ {
		if !ends[to] {
			continue
		}
		if !fits(to) {
			break
		}
		longest = to
	}
	return longest
}

// characterEnds says of each place in a text, from 0 to its length, whether a character
// ends there, as readers count characters (UAX 29).
func characterEnds(text []rune) []bool {
	ends := make([]bool, len(text)+1)
	var seg segmenter.Segmenter
	seg.Init(text)
	for it := seg.GraphemeIterator(); it.Next(); {
		g := it.Grapheme()
		ends[g.Offset+len(g.Text)] = true
	}
	return ends
}
