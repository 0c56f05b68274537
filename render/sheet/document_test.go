package sheet_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/pdf"
	"twincord/render/sheet"
	"twincord/render/theme"
	"twincord/render/vector/vectortest"
)

// document is a document with every kind of block.
func document(paper pdf.Paper) *sheet.Document {
	picture := func(name string) sheet.Picture {
		var l display.List
		vectortest.Printed()[name](&l, 640, 400)
		return sheet.Picture{List: &l, Alt: "what is seen: " + name}
	}
	d := &sheet.Document{Paper: paper, Language: "en", Title: "The string — at home",
		Footer: func(n, of int) string { return fmt.Sprintf("Page %d of %d", n, of) }}
	d.Heading(1, "The string at home")
	d.Blank("Name")
	d.Paragraph("Hold the free end of the string against the tip of your nose. The other end is tied to something that does not move. " +
		"Look at the bead, and say what you see: how many beads, how many strings, and where they cross.")
	d.Heading(2, "What to do")
	d.Steps(1, sheet.Step{Picture: picture("middle"), Title: "Bead at 48 cm",
		Text: []string{"Look at the bead for five seconds.", "How many beads? How many strings? Where do they cross?"}})
	d.Steps(3,
		sheet.Step{Picture: picture("near"), Title: "Bead at 23 cm", Text: []string{"Five seconds."}},
		sheet.Step{Picture: picture("too far"), Title: "Eyes meet beyond it", Text: []string{"Touch the bead, and try again."}},
		sheet.Step{Picture: picture("slack"), Title: "A slack string"})
	d.Heading(2, "From above")
	d.Picture(picture("above"), 0.5)
	d.Note("Invented: no one’s eyes.")
	d.Heading(2, "A log")
	d.Table(sheet.Table{Columns: []string{"Day", "Times", "Single down to", "Notes"}, Shares: []float64{1, 1, 1.5, 3},
		Rows: [][]string{{"Mon", "2", "10 cm", ""}, {"", "", "", ""}, {"", "", "", ""}, {"", "", "", ""}}, RowHeight: 22})
	d.Bullets("Stop when the eyes feel strained.", "Two strings are expected: one for each eye.")
	d.Caution("Please read", "This is no test and no diagnosis. An eye-care professional decides on training, its minutes and its number, and on what to do when things stay double.",
		"An adult stays beside a child. Never round a neck.")
	return d
}

func written(t *testing.T, d *sheet.Document) []byte {
	var b bytes.Buffer
	require.NoError(t, d.Write(&b))
	return b.Bytes()
}

func TestADocumentIsShapesAndText(t *testing.T) {
	for _, paper := range []pdf.Paper{pdf.A4, pdf.Letter} {
		file := written(t, document(paper))
		text := vectortest.Unpacked(t, file)
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
		assert.Equal(t, file, written(t, document(paper)), "the same twice")
		assert.Less(t, len(file), 600_000)
	}
}

func TestADocumentBreaksBetweenRows(t *testing.T) {
	d := document(pdf.A4)
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
	assert.Equal(t, more, strings.Count(vectortest.Unpacked(t, written(t, d)), "/Type/Page/"))
}

func TestADocumentThatCannotBeWrittenIsRefused(t *testing.T) {
	good := func() (display.List, *sheet.Document) {
		var l display.List
		l.Reset(100, 50, theme.Paper.Ground)
		return l, &sheet.Document{Paper: pdf.A4}
	}
	for want, build := range map[string]func(l *display.List, d *sheet.Document){
		"has no size":  func(l *display.List, d *sheet.Document) { l.W = 0; d.Picture(sheet.Picture{List: l, Alt: "a"}, 1) },
		"say in words": func(l *display.List, d *sheet.Document) { d.Steps(1, sheet.Step{Picture: sheet.Picture{List: l}}) },
		"width is 1.5": func(l *display.List, d *sheet.Document) { d.Picture(sheet.Picture{List: l, Alt: "a"}, 1.5) },
		"points high":  func(l *display.List, d *sheet.Document) { l.H = 5000; d.Picture(sheet.Picture{List: l, Alt: "a"}, 1) },
		"a path of a picture holds the number NaN": func(l *display.List, d *sheet.Document) {
			l.MoveTo(math.NaN(), 0)
			l.LineTo(1, 1)
			l.Stroke(1, display.Paint{From: theme.Paper.Ink})
			d.Picture(sheet.Picture{List: l, Alt: "a"}, 1)
		},
		"the paper is 50 by 841.89 points": func(_ *display.List, d *sheet.Document) { d.Paper.W = 50 },
		"0 columns; at least 1":            func(_ *display.List, d *sheet.Document) { d.Steps(0) },
		"row 1 of a table has 1 cells": func(_ *display.List, d *sheet.Document) {
			d.Table(sheet.Table{Columns: []string{"a", "b"}, Rows: [][]string{{"a"}}})
		},
		"column 2 of a table": func(_ *display.List, d *sheet.Document) {
			d.Table(sheet.Table{Columns: []string{"a", "b"}, Shares: []float64{1, 0}})
		},
		"2 columns and 1 shares": func(_ *display.List, d *sheet.Document) {
			d.Table(sheet.Table{Columns: []string{"a", "b"}, Shares: []float64{1}})
		},
	} {
		l, d := good()
		build(&l, d)
		var b bytes.Buffer
		assert.ErrorContains(t, d.Write(&b), want)
		assert.Zero(t, b.Len(), "nothing is half-written: %s", want)
	}
}

func TestADocumentReportsAWriteThatFails(t *testing.T) {
	assert.ErrorContains(t, document(pdf.A4).Write(vectortest.BrokenWriter{}), "disk full")
}
