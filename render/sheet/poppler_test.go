//go:build pages

package sheet_test

import (
	"io"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/pdf"
	"twincord/render/vector/vectortest"
)

// The text of a document is complete and in order, and its fonts are in it.
func TestADocumentIsReadByAnother(t *testing.T) {
	for name, paper := range map[string]pdf.Paper{"(A4)": pdf.A4, "(letter)": pdf.Letter} {
		file := vectortest.Saved(t, "sheet.pdf", func(f *os.File) error { return document(paper).Write(f) })
		info := vectortest.Poppler(t, "pdfinfo", file)
		assert.Contains(t, info, name)
		assert.Regexp(t, `Title: +The string — at home`, info)
		assert.Regexp(t, `Tagged: +yes`, info)
		assert.Regexp(t, `Pages: +2\n`, info)
		assert.NotContains(t, info, "Date")
		if paper != pdf.A4 {
			continue // the rest is the same
		}

		fonts := strings.Split(strings.TrimSpace(vectortest.Poppler(t, "pdffonts", file)), "\n")[2:]
		assert.Len(t, fonts, 2)
		for _, font := range fonts {
			assert.Regexp(t, `TWINCD\+Go(Regular|Bold) .* yes yes yes`, font, "embedded, only what is used, and with its characters")
		}
		assert.Len(t, strings.Split(strings.TrimSpace(vectortest.Poppler(t, "pdfimages", "-list", file)), "\n"), 2, "a heading and no picture made of pixels")

		text := strings.Join(strings.Fields(vectortest.Poppler(t, "pdftotext", "-raw", file, "-")), " ")
		at := 0
		for _, words := range []string{
			"The string at home", "Name", "Hold the free end of the string against the tip of your nose.", "where they cross.",
			"What to do", "1", "Bead at 48 cm", "Look at the bead for five seconds.", "Where do they cross?",
			"1 Bead at 23 cm", "Five seconds.", "2 Eyes meet beyond it", "Touch the bead, and try again.", "3 A slack string",
			"From above", "Invented: no one’s eyes.", "A log", "Day Times Single down to Notes", "Mon 2 10 cm",
			"Stop when the eyes feel strained.", "Please read", "This is no test and no diagnosis.", "Never round a neck.", "Page 2 of 2",
		} {
			i := strings.Index(text[at:], words)
			require.GreaterOrEqual(t, i, 0, "%q after %q in %q", words, text[:at], text)
			at += i + len(words)
		}
		tags := vectortest.Poppler(t, "pdfinfo", "-struct-text", file)
		assert.Contains(t, tags, "Figure")
		assert.Contains(t, tags, `"Bead at 48 cm"`)
		assert.Contains(t, tags, "TH")
	}
}

// What is written is a PDF by its rules, to the last cross-reference.
func TestQPDFFindsNothing(t *testing.T) {
	check := func(name string, write func(io.Writer) error) {
		file := vectortest.Saved(t, "checked.pdf", func(f *os.File) error { return write(f) })
		out, err := exec.Command("qpdf", "--check", file).CombinedOutput()
		assert.NoError(t, err, "%s: %s", name, out)
	}
	for _, paper := range []pdf.Paper{pdf.A4, pdf.Letter} {
		check("document", document(paper).Write)
		for _, language := range []string{"en", "es"} {
			for name, s := range handed(t, language) {
				s.Paper = paper
				check(name+" in "+language, s.WritePDF)
			}
		}
	}
}
