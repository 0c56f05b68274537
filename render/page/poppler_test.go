//go:build pages

package page_test

import (
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/page"
	"twincord/render/raster"
	"twincord/render/theme"
)

// poppler runs one of Poppler's programs: another maker's reader of PDF.
func poppler(t *testing.T, program string, args ...string) string {
	path, err := exec.LookPath(program)
	require.NoError(t, err, "%s not found: these tests compare PDF as Poppler reads it (package poppler-utils)", program)
	out, err := exec.Command(path, args...).CombinedOutput()
	require.NoError(t, err, "%s", out)
	return string(out)
}

// saved is a file that write has written.
func saved(t *testing.T, name string, write func(f *os.File) error) string {
	file := filepath.Join(t.TempDir(), name)
	f, err := os.Create(file)
	require.NoError(t, err)
	require.NoError(t, write(f))
	require.NoError(t, f.Close())
	return file
}

// painted is the first page of a PDF file at so many pixels to the inch.
func painted(t *testing.T, file, resolution string, more ...string) image.Image {
	to := filepath.Join(t.TempDir(), "page")
	out := poppler(t, "pdftoppm", append([]string{"-png", "-r", resolution, "-singlefile", file, to}, more...)...)
	require.Empty(t, out, "what the reader complains of")
	f, err := os.Open(to + ".png")
	require.NoError(t, err)
	defer f.Close()
	img, err := png.Decode(f)
	require.NoError(t, err)
	return img
}

func TestPDFAgreesWithThePixels(t *testing.T) {
	const w, h = 1280, 800
	all := pictures()
	for name, draw := range printed() {
		all["printed "+name] = draw
	}
	all["groups"] = groups
	for name, draw := range all {
		t.Run(name, func(t *testing.T) {
			var l display.List
			draw(&l, w, h)
			file := saved(t, "page.pdf", func(f *os.File) error { return page.WritePDF(f, &l) })
			want := image.NewRGBA(image.Rect(0, 0, w, h))
			raster.Paint(&l, want)
			mean, most99 := difference(t, want, painted(t, file, "96"))
			t.Logf("mean %.2f, 99 %% within %.0f", mean, most99)
			assert.LessOrEqual(t, mean, 1.5)
			assert.LessOrEqual(t, most99, 12.)
		})
	}
}

// groups is what the pictures have little of: opacities of a whole, clips in each other,
// gradients of every kind, strokes in them, dashes.
func groups(l *display.List, w, h float64) {
	l.Reset(w, h, theme.Paper.Ground)
	red, blue := display.Colour{R: 0.8, A: 1}, display.Colour{G: 0.3, B: 0.8, A: 0.4}
	corner := func(x, y float64) display.Rect { return display.Rect{X: x * w, Y: y * h, W: 0.3 * w, H: 0.4 * h} }
	for i, p := range []display.Paint{
		{Kind: display.Linear, From: red, To: blue, A: display.Point{X: 0.1 * w, Y: 0.1 * h}, B: display.Point{X: 0.4 * w, Y: 0.4 * h}},
		{Kind: display.Radial, From: blue, To: red, A: display.Point{X: 0.5 * w, Y: 0.25 * h}, B: display.Point{X: 0.1 * w, Y: 0.2 * h}},
		{From: red.Faded(0.5)},
	} {
		at := corner(0.02+0.32*float64(i), 0.05)
		l.OpenGroup(display.Group{Opacity: 0.6})
		l.RoundRect(at, 30)
		l.Fill(p)
		l.Ellipse(display.Point{X: at.X + at.W/2, Y: at.Y + at.H/2}, 0.3*at.W, 0.3*at.H, 0.4)
		l.Fill(display.Paint{From: theme.Paper.Ink})
		l.End()

		at = corner(0.02+0.32*float64(i), 0.55)
		l.Rect(at)
		l.Circle(display.Point{X: at.X + at.W/2, Y: at.Y + at.H/2}, 0.2*at.H)
		l.OpenClipEvenOdd()
		l.Ellipse(display.Point{X: at.X + at.W/2, Y: at.Y + at.H/2}, 0.45*at.W, 0.6*at.H, 0)
		l.OpenClip()
		p.A.Y, p.B.Y = p.A.Y+0.5*h, p.B.Y+0.5*h
		if p.Kind == display.Radial {
			p.B.Y -= 0.5 * h
		}
		l.MoveTo(at.X, at.Y)
		l.QuadTo(display.Point{X: at.X + 1.5*at.W, Y: at.Y + at.H/2}, display.Point{X: at.X, Y: at.Y + at.H})
		l.StrokeDashed(40, 60*float64(i), p)
		l.End()
		l.End()
	}
}

// The text of a document is complete and in order, and its fonts are in it.
func TestADocumentIsReadByAnother(t *testing.T) {
	for name, paper := range map[string]page.Paper{"(A4)": page.A4, "(letter)": page.Letter} {
		file := saved(t, "sheet.pdf", func(f *os.File) error { return sheet(paper).Write(f) })
		info := poppler(t, "pdfinfo", file)
		assert.Contains(t, info, name)
		assert.Regexp(t, `Title: +The string — at home`, info)
		assert.Regexp(t, `Tagged: +yes`, info)
		assert.Regexp(t, `Pages: +2\n`, info)
		assert.NotContains(t, info, "Date")
		if paper != page.A4 {
			continue // the rest is the same
		}

		fonts := strings.Split(strings.TrimSpace(poppler(t, "pdffonts", file)), "\n")[2:]
		assert.Len(t, fonts, 2)
		for _, font := range fonts {
			assert.Regexp(t, `TWINCD\+Go(Regular|Bold) .* yes yes yes`, font, "embedded, only what is used, and with its characters")
		}
		assert.Len(t, strings.Split(strings.TrimSpace(poppler(t, "pdfimages", "-list", file)), "\n"), 2, "a heading and no picture made of pixels")

		text := strings.Join(strings.Fields(poppler(t, "pdftotext", "-raw", file, "-")), " ")
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
		tags := poppler(t, "pdfinfo", "-struct-text", file)
		assert.Contains(t, tags, "Figure")
		assert.Contains(t, tags, `"Bead at 48 cm"`)
		assert.Contains(t, tags, "TH")
	}
}

// In grey, a printed picture keeps the string and the beads apart from the wall (row G4:
// 3:1 for graphics), and its beads apart from each other by their surfaces.
func TestAPrintedPictureIsSeenInGrey(t *testing.T) {
	const w, h = 960, 600
	var l display.List
	printed()["near"](&l, w, h)
	file := saved(t, "page.pdf", func(f *os.File) error { return page.WritePDF(f, &l) })
	img := painted(t, file, "96", "-gray")
	level := func(at display.Point) display.Colour {
		v := float64(color.GrayModel.Convert(img.At(int(at.X), int(at.Y))).(color.Gray).Y) / 255
		return display.Colour{R: v, G: v, B: v, A: 1}
	}
	wall := level(display.Point{X: 0.05 * w, Y: 0.3 * h})
	var banded *display.Ball // the one looked at
	for i := range l.Balls {
		if b := &l.Balls[i]; b.Surface == display.Banded {
			banded = b
		}
	}
	require.NotNil(t, banded)
	edge := display.Point{X: banded.Centre.X + 0.93*banded.RadiusX, Y: banded.Centre.Y}
	assert.GreaterOrEqual(t, theme.Contrast(level(edge), wall), 3.)
	// Down its middle there are bands: light, dark, light, dark.
	changes, dark := 0, false
	for v := -0.8; v < 0.8; v += 0.01 {
		here := level(display.Point{X: banded.Centre.X - 0.4*banded.RadiusX, Y: banded.Centre.Y + v*banded.RadiusY}).R < 0.32
		if here != dark {
			changes, dark = changes+1, here
		}
	}
	assert.GreaterOrEqual(t, changes, 3, "its bands are seen")
}
