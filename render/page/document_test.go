package page_test

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/page"
	"twincord/render/theme"
)

// sheet is a document with every kind of block.
func sheet(paper page.Paper) *page.Document {
	picture := func(name string) page.Picture {
		var l display.List
		printed()[name](&l, 640, 400)
		return page.Picture{List: &l, Alt: "what is seen: " + name}
	}
	d := &page.Document{Paper: paper, Language: "en", Title: "The string — at home",
		Footer: func(n, of int) string { return fmt.Sprintf("Page %d of %d", n, of) }}
	d.Heading(1, "The string at home")
	d.Blank("Name")
	d.Paragraph("Hold the free end of the string against the tip of your nose. The other end is tied to something that does not move. " +
		"Look at the bead, and say what you see: how many beads, how many strings, and where they cross.")
	d.Heading(2, "What to do")
	d.Steps(1, page.Step{Picture: picture("middle"), Title: "Bead at 48 cm",
		Text: []string{"Look at the bead for five seconds.", "How many beads? How many strings? Where do they cross?"}})
	d.Steps(3,
		page.Step{Picture: picture("near"), Title: "Bead at 23 cm", Text: []string{"Five seconds."}},
		page.Step{Picture: picture("too far"), Title: "Eyes meet beyond it", Text: []string{"Touch the bead, and try again."}},
		page.Step{Picture: picture("slack"), Title: "A slack string"})
	d.Heading(2, "From above")
	d.Picture(picture("above"), 0.5)
	d.Note("Invented: no one’s eyes.")
	d.Heading(2, "A log")
	d.Table(page.Table{Columns: []string{"Day", "Times", "Single down to", "Notes"}, Shares: []float64{1, 1, 1.5, 3},
		Rows: [][]string{{"Mon", "2", "10 cm", ""}, {"", "", "", ""}, {"", "", "", ""}, {"", "", "", ""}}, RowHeight: 22})
	d.Bullets("Stop when the eyes feel strained.", "Two strings are expected: one for each eye.")
	d.Caution("Please read", "This is no test and no diagnosis. An eye-care professional decides on training, its minutes and its number, and on what to do when things stay double.",
		"An adult stays beside a child. Never round a neck.")
	return d
}

func written(t *testing.T, d *page.Document) []byte {
	var b bytes.Buffer
	require.NoError(t, d.Write(&b))
	return b.Bytes()
}

var streamPattern = regexp.MustCompile(`(?s)<<([^\n]*)/Filter/FlateDecode/Length \d+>>stream\n(.*?)\nendstream`)

// unpacked is all streams of a PDF file, read by another unpacker, with their
// dictionaries.
func unpacked(t *testing.T, pdf []byte) string {
	var all strings.Builder
	for _, m := range streamPattern.FindAllSubmatch(pdf, -1) {
		z, err := zlib.NewReader(bytes.NewReader(m[2]))
		require.NoError(t, err)
		text, err := io.ReadAll(z)
		require.NoError(t, err)
		fmt.Fprintf(&all, "<<%s>>\n%s\n", m[1], text)
	}
	return all.String()
}

func TestADocumentIsShapesAndText(t *testing.T) {
	for _, paper := range []page.Paper{page.A4, page.Letter} {
		file := written(t, sheet(paper))
		text := unpacked(t, file)
		assert.NotContains(t, text, "/Image")
		assert.NotContains(t, text, "NaN")
		assert.NotContains(t, text, "Date")
		assert.Contains(t, text, "/FontFile2")
		assert.Contains(t, text, "/Marked true")
		assert.Equal(t, 5, strings.Count(text, "/S/Figure"), "each figure is an element")
		assert.Equal(t, 5, strings.Count(text, "/Alt<FEFF"), "and says what it shows")
		for _, tag := range strings.Fields("H1 H2 P L LI LBody Lbl Table TR TH TD") {
			assert.Contains(t, text, "/S/"+tag+"/", tag)
		}
		// Every content is tagged, and each mark is closed.
		assert.Equal(t, strings.Count(text, " BMC")+strings.Count(text, ">>BDC"), strings.Count(text, "EMC\n"))
		assert.Equal(t, file, written(t, sheet(paper)), "the same twice")
		assert.Less(t, len(file), 600_000)
	}
}

func TestADocumentBreaksBetweenRows(t *testing.T) {
	d := sheet(page.A4)
	pages, err := d.Pages()
	require.NoError(t, err)
	assert.Equal(t, 2, pages)
	for range 60 {
		d.Heading(2, "More")
		d.Paragraph("Some words.")
	}
	more, err := d.Pages()
	require.NoError(t, err)
	assert.Greater(t, more, pages)
	assert.Equal(t, more, strings.Count(unpacked(t, written(t, d)), "/Type/Page/"))
}

func TestADocumentThatCannotBeWrittenIsRefused(t *testing.T) {
	good := func() (display.List, *page.Document) {
		var l display.List
		l.Reset(100, 50, theme.Paper.Ground)
		return l, &page.Document{Paper: page.A4}
	}
	for want, build := range map[string]func(l *display.List, d *page.Document){
		"has no size":        func(l *display.List, d *page.Document) { l.W = 0; d.Picture(page.Picture{List: l, Alt: "a"}, 1) },
		"say in words":       func(l *display.List, d *page.Document) { d.Steps(1, page.Step{Picture: page.Picture{List: l}}) },
		"width is 1.5":       func(l *display.List, d *page.Document) { d.Picture(page.Picture{List: l, Alt: "a"}, 1.5) },
		"do not have: \"☐\"": func(_ *display.List, d *page.Document) { d.Paragraph("a ☐ b") },
		"points high":        func(l *display.List, d *page.Document) { l.H = 5000; d.Picture(page.Picture{List: l, Alt: "a"}, 1) },
		"shape 0 of a picture holds the number NaN": func(l *display.List, d *page.Document) {
			l.MoveTo(math.NaN(), 0)
			l.LineTo(1, 1)
			l.Stroke(1, display.Paint{From: theme.Paper.Ink})
			d.Picture(page.Picture{List: l, Alt: "a"}, 1)
		},
		"the paper is 50 by 841.89 points": func(_ *display.List, d *page.Document) { d.Paper.W = 50 },
		"0 columns; at least 1":            func(_ *display.List, d *page.Document) { d.Steps(0) },
		"row 1 of a table has 1 cells": func(_ *display.List, d *page.Document) {
			d.Table(page.Table{Columns: []string{"a", "b"}, Rows: [][]string{{"a"}}})
		},
		"column 2 of a table": func(_ *display.List, d *page.Document) {
			d.Table(page.Table{Columns: []string{"a", "b"}, Shares: []float64{1, 0}})
		},
		"2 columns and 1 shares": func(_ *display.List, d *page.Document) {
			d.Table(page.Table{Columns: []string{"a", "b"}, Shares: []float64{1}})
		},
	} {
		l, d := good()
		build(&l, d)
		var b bytes.Buffer
		assert.ErrorContains(t, d.Write(&b), want)
		assert.Zero(t, b.Len(), "nothing is half-written: %s", want)
	}
}

func TestPDFReportsAWriteThatFails(t *testing.T) {
	var l display.List
	l.Reset(10, 10, theme.Paper.Ground)
	assert.ErrorContains(t, page.WritePDF(brokenWriter{}, &l), "disk full")
	assert.ErrorContains(t, sheet(page.A4).Write(brokenWriter{}), "disk full")
}

func TestPDFRefusesWhatIsNoNumber(t *testing.T) {
	for want, build := range map[string]func(l *display.List, v float64){
		"path":    func(l *display.List, v float64) { square(l, v, theme.Paper.Ink) },
		"opacity": func(l *display.List, v float64) { square(l, 1, theme.Paper.Ink.Faded(v)) },
		"ball": func(l *display.List, v float64) {
			l.AddBall(display.Ball{Centre: display.Point{X: v}, RadiusX: 3, RadiusY: 3, Opacity: 1, Light: [3]float64{0, 0, 1}})
		},
		"ribbon": func(l *display.List, v float64) {
			l.AddRibbon(display.Ribbon{Points: []display.RibbonPoint{{At: display.Point{X: v}, Half: 1, Opacity: 1}, {At: display.Point{X: 9}, Half: 1, Opacity: 1}}})
		},
		"group": func(l *display.List, v float64) {
			l.OpenGroup(display.Group{Opacity: v})
			square(l, 1, theme.Paper.Ink)
			l.End()
		},
	} {
		var l display.List
		l.Reset(10, 10, theme.Paper.Ground)
		square(&l, 1, theme.Paper.Ink)
		build(&l, math.NaN())
		var b bytes.Buffer
		assert.ErrorContains(t, page.WritePDF(&b, &l), "holds the number NaN", want)
		assert.Zero(t, b.Len(), want)
	}
	for _, w := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		var l display.List
		l.Reset(w, 10, theme.Paper.Ground)
		assert.ErrorContains(t, page.WritePDF(io.Discard, &l), "both have to be above 0")
	}
}

// Behind a filter the gleam and the dots are in its colour.
func TestPDFTintsTheWhiteOfABall(t *testing.T) {
	var l display.List
	tinted(&l, display.Colour{R: 1, A: 1})
	var b bytes.Buffer
	require.NoError(t, page.WritePDF(&b, &l))
	text := unpacked(t, b.Bytes())
	assert.Equal(t, 2*2, strings.Count(text, "1 0 0 rg"), "two balls")
	assert.Equal(t, 2+1, strings.Count(text, "1 1 1 rg"), "one ball, and what the shading is painted on")
}

// A picture is the same file twice, and small.
func TestPDFIsSmallAndTheSameTwice(t *testing.T) {
	for name, draw := range pictures() {
		var l display.List
		draw(&l, 1280, 800)
		var a, b bytes.Buffer
		require.NoError(t, page.WritePDF(&a, &l))
		require.NoError(t, page.WritePDF(&b, &l))
		assert.Equal(t, a.Bytes(), b.Bytes(), name)
		assert.Less(t, a.Len(), 150_000, name)
	}
}

func BenchmarkWritePDF(b *testing.B) {
	b.ReportAllocs()
	var l display.List
	pictures()["middle"](&l, 1280, 800)
	for b.Loop() {
		if err := page.WritePDF(io.Discard, &l); err != nil {
			b.Fatal(err)
		}
	}
}
