package pdf_test

import (
	"bytes"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/pdf"
	"twincord/render/theme"
	"twincord/render/vector/vectortest"
)

// write writes a list as a file of one page, a list's pixel 1/96 of an inch.
func write(w io.Writer, l *display.List) error {
	const point = 72. / 96
	paper := pdf.Paper{W: l.W * point, H: l.H * point}
	p := pdf.New()
	var root pdf.Element
	figure := root.Add("Figure")
	figure.Alt = l.Title
	p.Page(paper, 1, func(g *pdf.Page) { g.Picture(figure, l, display.Rect{W: paper.W, H: paper.H}) })
	return p.Write(w, &root, "", l.Title, nil)
}

func TestReportsAWriteThatFails(t *testing.T) {
	var l display.List
	l.Reset(10, 10, theme.Paper.Ground)
	assert.ErrorContains(t, write(vectortest.BrokenWriter{}, &l), "disk full")
}

func TestRefusesWhatIsNoNumber(t *testing.T) {
	for want, build := range map[string]func(l *display.List, v float64){
		"path":    func(l *display.List, v float64) { vectortest.Square(l, v, theme.Paper.Ink) },
		"opacity": func(l *display.List, v float64) { vectortest.Square(l, 1, theme.Paper.Ink.Faded(v)) },
		"ball": func(l *display.List, v float64) {
			l.AddBall(display.Ball{Centre: display.Point{X: v}, RadiusX: 3, RadiusY: 3, Opacity: 1, Light: [3]float64{0, 0, 1}})
		},
		"ribbon": func(l *display.List, v float64) {
			l.AddRibbon(display.Ribbon{Points: []display.RibbonPoint{{At: display.Point{X: v}, Half: 1, Opacity: 1}, {At: display.Point{X: 9}, Half: 1, Opacity: 1}}})
		},
		"group": func(l *display.List, v float64) {
			l.OpenGroup(display.Group{Opacity: v})
			vectortest.Square(l, 1, theme.Paper.Ink)
			l.End()
		},
	} {
		var l display.List
		l.Reset(10, 10, theme.Paper.Ground)
		vectortest.Square(&l, 1, theme.Paper.Ink)
		build(&l, math.NaN())
		var b bytes.Buffer
		assert.ErrorContains(t, write(&b, &l), "holds the number NaN", want)
		assert.Zero(t, b.Len(), want)
	}
}

// Behind a filter the gleam and the dots are in its colour.
func TestTintsTheWhiteOfABall(t *testing.T) {
	var l display.List
	vectortest.Tinted(&l, display.Colour{R: 1, A: 1})
	var b bytes.Buffer
	require.NoError(t, write(&b, &l))
	text := vectortest.Unpacked(t, b.Bytes())
	assert.Equal(t, 2*2, strings.Count(text, "1 0 0 rg"), "two balls")
	assert.Equal(t, 2+1, strings.Count(text, "1 1 1 rg"), "one ball, and what the shading is painted on")
}

// A picture is the same file twice, and small.
func TestIsSmallAndTheSameTwice(t *testing.T) {
	for name, draw := range vectortest.Pictures() {
		var l display.List
		draw(&l, 1280, 800)
		var a, b bytes.Buffer
		require.NoError(t, write(&a, &l))
		require.NoError(t, write(&b, &l))
		assert.Equal(t, a.Bytes(), b.Bytes(), name)
		assert.Less(t, a.Len(), 150_000, name)
	}
}

func BenchmarkWrite(b *testing.B) {
	b.ReportAllocs()
	var l display.List
	vectortest.Pictures()["middle"](&l, 1280, 800)
	for b.Loop() {
		if err := write(io.Discard, &l); err != nil {
			b.Fatal(err)
		}
	}
}
