package film_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/film"
)

// blinking is a film at 24 frames a second, two seconds long, whose area of a × a
// pixels of 96 × 96 changes between two greys a number of times a second.
func blinking(changes int, a, from, to float64) *film.Film {
	grey := func(v float64) display.Colour { return display.Colour{R: v, G: v, B: v, A: 1} }
	return &film.Film{W: 96, H: 96, Rate: 24, Frames: 48, Drawer: func() func(int, *display.List) {
		return func(frame int, l *display.List) {
			l.Reset(96, 96, grey(from))
			if frame*changes/24%2 == 1 {
				l.Rect(display.Rect{W: a, H: a})
				l.Fill(display.Paint{From: grey(to)})
			}
		}
	}}
}

// Row G3 (WCAG 2.3.1): at most three flashes a second, of 10 % and more with the darker
// below 0.80, on a quarter or more of a field of 10°; here that is 32 × 32 pixels.
func TestFlashes(t *testing.T) {
	for _, c := range []struct {
		name string
		film *film.Film
		want int
	}{
		{"2 a second", blinking(4, 96, 0, 1), 2},
		{"3 a second", blinking(6, 96, 0, 1), 3},
		{"4 a second", blinking(8, 96, 0, 1), 4},
		{"12 a second", blinking(24, 96, 0, 1), 12},
		{"a quarter of a field", blinking(8, 16, 0, 1), 4},
		{"less than a quarter", blinking(8, 14, 0, 1), 0},
		{"black to luminance 0.09", blinking(8, 96, 0, 0.332), 0},
		{"black to luminance 0.11", blinking(8, 96, 0, 0.367), 4},
		{"from luminance 0.79 up", blinking(8, 96, 0.900, 1), 4},
		{"from luminance 0.81 up", blinking(8, 96, 0.911, 1), 0},
	} {
		n, err := c.film.Flashes(context.Background())
		require.NoError(t, err)
		require.Equal(t, c.want, n, c.name)
	}
}

func TestAFlashAcrossTheSeamCounts(t *testing.T) {
	// Seven frames, white in the last alone: four times within 24 frames as it goes round.
	f := blinking(24, 96, 0, 1)
	f.Frames = 7
	drawer := f.Drawer
	f.Drawer = func() func(int, *display.List) {
		draw := drawer()
		return func(frame int, l *display.List) { draw(frame/6, l) }
	}
	n, err := f.Flashes(context.Background())
	require.NoError(t, err)
	require.Equal(t, 4, n)
}

func TestAWaveringViewDoesNotFlash(t *testing.T) {
	n, err := wavering("too-far-doubled", 192, 108, 15, 45).Flashes(context.Background())
	require.NoError(t, err)
	require.Zero(t, n)
}
