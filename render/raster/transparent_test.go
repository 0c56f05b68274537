package raster

import (
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/render/display"
)

// What is painted keeps its colour and its opacity, whatever the list's own ground is; the
// rest is seen through.
func TestTransparent(t *testing.T) {
	var l display.List
	l.Reset(30, 10, display.Colour{R: 1, A: 1})
	for i, opacity := range []float64{1, 0.5} {
		l.Rect(display.Rect{X: float64(10 * i), W: 10, H: 10})
		l.Fill(display.Paint{From: display.Colour{R: 0.2, G: 0.6, B: 0.4, A: opacity}})
	}
	img := Transparent(&l)
	for x, want := range map[int]color.NRGBA{5: {51, 153, 102, 255}, 15: {51, 153, 102, 128}, 25: {}} {
		got := img.NRGBAAt(x, 5)
		assert.InDelta(t, want.A, got.A, 1, x)
		if want.A == 0 {
			continue
		}
		assert.InDelta(t, want.R, got.R, 2, x)
		assert.InDelta(t, want.G, got.G, 2, x)
		assert.InDelta(t, want.B, got.B, 2, x)
	}
}
