package raster

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"twincord/render/display"
)

// wall is an Even group on a ground, with a pair on it.
func wall(w, h int, from, ground display.Colour, at float64) *display.List {
	l := new(display.List)
	l.Reset(float64(w), float64(h), ground)
	l.OpenGroup(display.Group{Opacity: 1, Even: true, Bounds: display.Rect{W: float64(w), H: float64(h)}})
	l.OpenGroup(display.Group{Opacity: 1})
	l.Rect(display.Rect{W: float64(w), H: float64(h) - 8})
	l.Fill(display.Paint{Kind: display.Linear, From: from, To: display.Colour{A: 1}, B: display.Point{X: float64(w), Y: float64(h)}, Dither: true})
	l.End()
	for range 2 {
		l.OpenGroup(display.Group{Opacity: 1})
		l.Ellipse(display.Point{X: at, Y: 20}, 9, 9, 0)
		l.Fill(display.Paint{From: display.Colour{R: 1, A: 0.5}})
		l.End()
		at += 5
	}
	l.End()
	return l
}

// A painter that has painted other grounds before paints what a new one paints.
func TestBackdropIsThatOfTheList(t *testing.T) {
	red, blue := display.Colour{R: 1, A: 1}, display.Colour{B: 1, A: 1}
	var used Painter
	for _, l := range []*display.List{
		wall(64, 48, red, blue, 20), wall(64, 48, red, blue, 30), wall(64, 48, red, blue, 20),
		wall(64, 48, blue, blue, 20), wall(64, 48, blue, red, 20), wall(32, 48, blue, red, 20), wall(64, 40, blue, red, 20),
	} {
		size := image.Rect(0, 0, int(l.W), int(l.H))
		got, want := image.NewRGBA(size), image.NewRGBA(size)
		used.Paint(l, got)
		new(Painter).Paint(l, want)
		require.Equal(t, want.Pix, got.Pix)
	}
}

// What a ground leaves open is what the page has there now, not what it had when the
// ground was painted last.
func TestBackdropLeavesOpenWhatItsGroundDoes(t *testing.T) {
	var used Painter
	for _, under := range []display.Colour{{R: 1, A: 1}, {G: 1, A: 1}} {
		l := new(display.List)
		l.Reset(64, 48, display.Colour{A: 1})
		l.Rect(display.Rect{W: 64, H: 48})
		l.Fill(display.Paint{From: under})
		l.OpenGroup(display.Group{Opacity: 1, Even: true, Bounds: display.Rect{W: 64, H: 40}})
		l.Rect(display.Rect{W: 64, H: 40})
		l.Fill(display.Paint{From: display.Colour{R: 1, B: 1, A: 1}})
		l.End()
		got, want := image.NewRGBA(image.Rect(0, 0, 64, 48)), image.NewRGBA(image.Rect(0, 0, 64, 48))
		used.Paint(l, got)
		new(Painter).Paint(l, want)
		require.Equal(t, want.Pix, got.Pix)
	}
}
