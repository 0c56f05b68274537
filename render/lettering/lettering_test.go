package lettering_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"

	"twincord/render/display"
	"twincord/render/lettering"
)

var (
	regular = lettering.Style{Face: display.Regular, Size: 20}
	bold    = lettering.Style{Face: display.Bold, Size: 20}
)

const unitsPerEm = 2048 // of the Go fonts

// The second route to widths and outlines is golang.org/x/image/font, another
// reader of the same fonts.
func other(t testing.TB, ttf []byte, size float64) font.Face {
	f, err := opentype.Parse(ttf)
	require.NoError(t, err)
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
	require.NoError(t, err)
	return face
}

func TestWidthAgreesWithAnotherReader(t *testing.T) {
	for _, c := range []struct {
		st  lettering.Style
		ttf []byte
	}{{regular, goregular.TTF}, {bold, gobold.TTF}} {
		face := other(t, c.ttf, unitsPerEm) // where its rounding does nothing
		for _, s := range []string{"", "A", "Two beads. The strings cross", "4.2 Δ eso", "−3½′ × ¼°", "El ojo no está", "ΔΩ Ж"} {
			want := float64(font.MeasureString(face, s)) / 64 / unitsPerEm * c.st.Size
			assert.InDelta(t, want, lettering.Width(c.st, s), 1e-9, "%q", s)
		}
		m := face.Metrics()
		assert.InDelta(t, float64(m.Ascent)/64/unitsPerEm*c.st.Size, lettering.Ascent(c.st), 1e-9)
		assert.InDelta(t, float64(m.CapHeight)/64/unitsPerEm*c.st.Size, lettering.CapHeight(c.st), 1e-9)
	}
}

func TestOutlineAgreesWithAnotherReader(t *testing.T) {
	face := other(t, goregular.TTF, unitsPerEm)
	for _, c := range "AgjΔ½×°" {
		want, _, ok := face.GlyphBounds(c)
		require.True(t, ok)
		var l display.List
		lettering.Draw(&l, regular, 0, 0, lettering.Start, string(c))
		require.Len(t, l.Texts[0].Glyphs, 1)
		o := lettering.Outline(display.Regular, l.Texts[0].Glyphs[0].ID)
		low, high := o.Points[0], o.Points[0]
		for _, p := range o.Points {
			low = display.Point{X: min(low.X, p.X), Y: min(low.Y, p.Y)}
			high = display.Point{X: max(high.X, p.X), Y: max(high.Y, p.Y)}
		}
		em := func(v fixed.Int26_6) float64 { return float64(v) / 64 / unitsPerEm }
		const tolerance = 1e-3 // the other rounds outward to 1/2048 em
		assert.InDelta(t, em(want.Min.X), low.X, tolerance, "%c", c)
		assert.InDelta(t, em(want.Min.Y), low.Y, tolerance, "%c", c)
		assert.InDelta(t, em(want.Max.X), high.X, tolerance, "%c", c)
		assert.InDelta(t, em(want.Max.Y), high.Y, tolerance, "%c", c)
	}
}

func TestOutlineIsWellFormed(t *testing.T) {
	takes := [...]int{display.MoveTo: 1, display.LineTo: 1, display.QuadTo: 2, display.CubicTo: 3, display.Close: 0}
	for _, f := range []display.Face{display.Regular, display.Bold} {
		drawn := 0
		for id := range uint32(700) {
			o := lettering.Outline(f, id)
			points, open := 0, false
			for _, v := range o.Verbs {
				require.Equal(t, v != display.MoveTo, open, "glyph %d: a contour begins with a move and ends with a close", id)
				open = v != display.Close
				points += takes[v]
			}
			require.False(t, open, "glyph %d", id)
			require.Len(t, o.Points, points, "glyph %d", id)
			if points > 0 {
				drawn++
			}
		}
		assert.Greater(t, drawn, 500)
		assert.Empty(t, lettering.Outline(f, 60_000).Verbs, "a glyph that does not exist")
	}
}

func TestTheFontHasWhatTheCataloguesUse(t *testing.T) {
	const wanted = " !\"'()+,-./0123456789:;<=>?ABCDEFGHIJKLMNOPQRSTUVWXYZ[]abcdefghijklmnopqrstuvwxyz{}" +
		"ÁÉÍÑÓÚÜáéíñóúü¿¡«»ÄÖäöüß" + "Δ′″−°½¼×→←≤≥±∞≈·–—…“”‘’µ"
	for _, f := range []display.Face{display.Regular, display.Bold} {
		assert.Empty(t, lettering.Missing(f, wanted))
		assert.Equal(t, "ẞ⅓✓☐\n", lettering.Missing(f, "ẞ⅓ ✓ ☐ ✓\n"), "what it lacks is told, each once")
	}
}

func TestDrawPlacesTheAnchor(t *testing.T) {
	const s = "Eyes meet 3 cm nearer"
	width := lettering.Width(regular, s)
	for anchor, left := range map[lettering.Anchor]float64{
		lettering.Start: 100, lettering.Middle: 100 - width/2, lettering.End: 100 - width,
	} {
		var l display.List
		require.InDelta(t, width, lettering.Draw(&l, regular, 100, 50, anchor, s), 1e-9)
		require.Len(t, l.Texts, 1)
		text := l.Texts[0]
		assert.Equal(t, s, text.String)
		require.Len(t, text.Glyphs, len(s))
		assert.InDelta(t, left, text.Glyphs[0].At.X, 1e-9)
		for i, g := range text.Glyphs {
			assert.InDelta(t, 50, g.At.Y, 1e-9)
			assert.InDelta(t, left+lettering.Width(regular, s[:i]), g.At.X, 1e-9)
		}
	}
	var l display.List
	assert.Zero(t, lettering.Draw(&l, regular, 0, 0, lettering.Start, ""))
	assert.Empty(t, l.Ops)
}

func TestWrap(t *testing.T) {
	em := func(s string) float64 { return lettering.Width(regular, s) + 0.01 }
	for _, c := range []struct {
		name, s string
		width   float64
		want    []string
	}{
		{"fits", "One bead.", 1000, []string{"One bead."}},
		{"at spaces", "One bead and one string", em("One bead and"), []string{"One bead and", "one string"}},
		{"space at the end does not count", "One bead and", em("One bead"), []string{"One bead", "and"}},
		{"newline", "One\n\ntwo", 1000, []string{"One", "", "two"}},
		{"no-break space holds", "at 3.5\u00a0Δ eso", em("at 3.5\u00a0"), []string{"at", "3.5\u00a0Δ", "eso"}},
		{"a number keeps its unit", "at 48 cm from the nose", em("at 48 c"), []string{"at", "48 cm", "from", "the", "nose"}},
		{"but no other word", "48 beads", em("48 bea"), []string{"48", "beads"}},
		{"a word too wide", "abcdefgh ij", em("abcd"), []string{"abcd", "efgh", "ij"}},
		{"not even a character", "ab", 0, []string{"a", "b"}},
		{"a letter keeps its accent", "e\u0301e\u0301", 0, []string{"e\u0301", "e\u0301"}},
		{"nothing", "", 100, nil},
	} {
		assert.Equal(t, c.want, lettering.Wrap(regular, c.s, c.width), c.name)
	}
}

func TestWrapKeepsTheTextAndTheWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOfN(rapid.RuneFrom([]rune("abcdefé-−Δ 1½.\u0301   ")), 0, 80, -1).Draw(t, "s")
		width := rapid.Float64Range(40, 400).Draw(t, "width")
		lines := lettering.Wrap(bold, s, width)
		for _, line := range lines {
			if len([]rune(line)) > 3 {
				assert.LessOrEqual(t, lettering.Width(bold, line), width+1e-9)
			}
		}
		bare := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		assert.Equal(t, bare(s), bare(strings.Join(lines, "")))
	})
}

func TestEllipsis(t *testing.T) {
	const s = "Eyes meeting too near, bead doubled"
	assert.Equal(t, s, lettering.Ellipsis(regular, s, lettering.Width(regular, s)))
	for width := 400.0; width > 30; width -= 7 {
		got := lettering.Ellipsis(regular, s, width)
		assert.LessOrEqual(t, lettering.Width(regular, got), width)
		assert.True(t, got == s || strings.HasPrefix(s, strings.TrimSuffix(got, "…")), got)
		assert.NotContains(t, got, " …")
	}
	assert.Equal(t, "…", lettering.Ellipsis(regular, s, 0))
}

func TestDrawingAgainAllocatesNothing(t *testing.T) {
	var l display.List
	again := func() {
		l.Reset(100, 100, display.Colour{})
		lettering.Draw(&l, regular, 0, 0, lettering.Middle, "looking at: sky, 53 cm")
		for _, g := range l.Texts[0].Glyphs {
			lettering.Outline(display.Regular, g.ID)
		}
		lettering.Width(bold, "looking at")
		lettering.Ellipsis(regular, "looking at", 500)
	}
	again()
	assert.Zero(t, testing.AllocsPerRun(100, again))
}

func TestManyAtOnce(t *testing.T) {
	var wait sync.WaitGroup
	for worker := range 4 {
		wait.Go(func() {
			for i := range 1500 {
				s := fmt.Sprint("label ", (i*7+worker)%1200)
				var l display.List
				width := lettering.Draw(&l, regular, 0, 0, lettering.Start, s)
				assert.InDelta(t, lettering.Width(regular, s), width, 1e-12)
				for _, g := range l.Texts[0].Glyphs {
					lettering.Outline(display.Regular, g.ID)
				}
			}
		})
	}
	wait.Wait()
}

func BenchmarkDraw(b *testing.B) {
	b.ReportAllocs()
	var l display.List
	for b.Loop() {
		l.Reset(100, 100, display.Colour{})
		lettering.Draw(&l, regular, 0, 0, lettering.Start, "looking at: sky, 53 cm")
	}
}

// A hyphen is narrower than a minus, and than a letter n.
func TestHyphensAreAsWideAsHyphens(t *testing.T) {
	for _, face := range []display.Face{display.Regular, display.Bold} {
		st := lettering.Style{Face: face, Size: 100}
		hyphen := lettering.Width(st, "a-b") - lettering.Width(st, "ab")
		assert.Less(t, hyphen, 0.7*lettering.Width(st, "−"))
		assert.Less(t, hyphen, lettering.Width(st, "n"))
		assert.Greater(t, hyphen, 20.)
	}
}

// No glyph reaches out of what is said to hold them all, and the largest nearly fill it.
func TestExtentHoldsEveryGlyph(t *testing.T) {
	low, high := display.Point{}, display.Point{}
	for _, f := range []display.Face{display.Regular, display.Bold} {
		for id := range uint32(1000) { // more than the faces have
			for _, q := range lettering.Outline(f, id).Points {
				low = display.Point{X: min(low.X, q.X), Y: min(low.Y, q.Y)}
				high = display.Point{X: max(high.X, q.X), Y: max(high.Y, q.Y)}
			}
		}
	}
	e := lettering.Extent
	const spare = 0.06
	assert.InDelta(t, e.X+spare/2, low.X, spare/2)
	assert.InDelta(t, e.Y+spare/2, low.Y, spare/2)
	assert.InDelta(t, e.X+e.W-spare/2, high.X, spare/2)
	assert.InDelta(t, e.Y+e.H-spare/2, high.Y, spare/2)
}
