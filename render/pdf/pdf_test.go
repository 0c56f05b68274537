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

func TestReportsAWriteThatFails(t *testing.T) {
	var l display.List
	l.Reset(10, 10, theme.Paper.Ground)
	assert.ErrorContains(t, pdf.Write(vectortest.BrokenWriter{}, &l), "disk full")
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
		assert.ErrorContains(t, pdf.Write(&b, &l), "holds the number NaN", want)
		assert.Zero(t, b.Len(), want)
	}
	for _, w := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		var l display.List
		l.Reset(w, 10, theme.Paper.Ground)
		assert.ErrorContains(t, pdf.Write(io.Discard, &l), "both have to be above 0")
	}
}

// Behind a filter the gleam and the dots are in its colour.
func TestTintsTheWhiteOfABall(t *testing.T) {
	var l display.List
	vectortest.Tinted(&l, display.Colour{R: 1, A: 1})
	var b bytes.Buffer
	require.NoError(t, pdf.Write(&b, &l))
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
		require.NoError(t, pdf.Write(&a, &l))
		require.NoError(t, pdf.Write(&b, &l))
		assert.Equal(t, a.Bytes(), b.Bytes(), name)
		assert.Less(t, a.Len(), 150_000, name)
	}
}

func BenchmarkWrite(b *testing.B) {
	b.ReportAllocs()
	var l display.List
	vectortest.Pictures()["middle"](&l, 1280, 800)
	for b.Loop() {
		if err := pdf.Write(io.Discard, &l); err != nil {
			b.Fatal(err)
		}
	}
}
