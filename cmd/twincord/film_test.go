package main

import (
	"context"
	"image"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/raster"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
)

// reelOf is the film of a built-in scene.
func reelOf(t *testing.T, name string, c filmCommand, w, h int) *reel {
	e, err := builtIn(name)
	require.NoError(t, err)
	say, err := words.For("en")
	require.NoError(t, err)
	if c.Rate == 0 {
		c.Rate = 15
	}
	if c.View == "" {
		c.View = viewPatient
	}
	require.NoError(t, c.agree())
	r, err := c.reel(e.Scene, scenes.Identify(name), say, w, h)
	require.NoError(t, err)
	return r
}

// inTime are the built-in scenes in which something moves.
func inTime() (names []string) {
	for _, e := range scenes.Library() {
		if e.Scene.Routine.OK || !sim.NewCourse(&e.Scene.Setup).Still(0) {
			names = append(names, e.Name)
		}
	}
	return names
}

func pixelsOf(l *display.List) []byte {
	img := image.NewRGBA(image.Rect(0, 0, int(l.W), int(l.H)))
	raster.Paint(l, img)
	return img.Pix
}

// Nothing flashes more often than three times a second (WCAG 2.3.1, row G3), in no film
// of what moves.
func TestFilmsDoNotFlash(t *testing.T) {
	names := inTime()
	require.Greater(t, len(names), 8)
	flashes := func(name string, c filmCommand) int {
		if e, _ := builtIn(name); e.Scene.Routine.OK {
			c.Hold = new(1.)
		}
		c.Rate = 10
		n, err := reelOf(t, name, c, 160, 90).film().Flashes(context.Background())
		require.NoError(t, err)
		return n
	}
	for _, name := range names {
		assert.LessOrEqual(t, flashes(name, filmCommand{Caption: new(false)}), 3, name)
	}
	for _, view := range []string{viewAbove, viewFront} {
		assert.LessOrEqual(t, flashes("jumps-unsteady", filmCommand{View: view, Seconds: new(4.)}), 3, view)
	}
}

// A frame is the same in whatever order frames are drawn, and by whomever.
func TestFramesInAnyOrder(t *testing.T) {
	for _, name := range inTime() {
		f := reelOf(t, name, filmCommand{Seconds: new(8.), Rate: 5}, 320, 180).film()
		forward, backward := f.Drawer(), f.Drawer()
		var first []*display.List
		for i := range f.Frames {
			l := new(display.List)
			forward(i, l)
			first = append(first, l)
		}
		for i := range slices.Backward(first) {
			l := new(display.List)
			backward(i, l)
			require.Equal(t, first[i].Ops, l.Ops, "%s, frame %d", name, i)
		}
	}
}

// The first and the last frame of a scene's film are what draw makes of those moments.
func TestFilmBeginsAndEndsAsDrawn(t *testing.T) {
	say, err := words.For("en")
	require.NoError(t, err)
	for _, name := range []string{"unsteady-hold", "jump-near-to-far", "left-out-in-turn"} {
		for _, c := range []filmCommand{{}, {Compare: true}, {View: viewAbove}, {View: viewFront}} {
			r := reelOf(t, name, c, 160, 90)
			f := r.film()
			require.Equal(t, 10*15, f.Frames)
			draw := f.Drawer()
			for _, frame := range []int{0, f.Frames - 1} {
				e, _ := builtIn(name)
				var got, want display.List
				draw(frame, &got)
				picture(&want, 160, 90, e.Scene, scenes.Identify(name), say, &drawCommand{
					View: r.painting.view, Compare: c.Compare, Field: float64(r.painting.options.Field), At: float64(frame) / 15, Bare: true,
				})
				require.Equal(t, pixelsOf(&want), pixelsOf(&got), "%s %+v, frame %d", name, c, frame)
			}
		}
	}
}

// One field shows every bead in every frame: a tenth of it is a margin, of which what
// lies between the moments looked at may take a little.
func TestFieldOfAFilm(t *testing.T) {
	for _, name := range inTime() {
		for _, compare := range []bool{false, true} {
			r := reelOf(t, name, filmCommand{Compare: compare, Rate: 7}, 320, 180)
			aspect := r.frame.W / r.frame.H
			if compare {
				aspect /= 2
			}
			show := r.shower()
			for i := range r.film().Frames {
				need := render.AutoField(show(float64(i)/7), aspect, false)
				require.LessOrEqual(t, need, 1.05*r.painting.options.Field, "%s, frame %d", name, i)
			}
		}
	}
}

// Captions stand for a second at least, do not change their size, and fit; a routine has
// them unless told otherwise, a scene does not.
func TestCaptions(t *testing.T) {
	for _, name := range inTime() {
		e, _ := builtIn(name)
		for caption, want := range map[*bool]bool{nil: e.Scene.Routine.OK, new(true): true, new(false): false} {
			r := reelOf(t, name, filmCommand{Caption: caption}, 480, 270)
			require.Equal(t, want, r.said != nil, name)
			require.Equal(t, image.Pt(480, 270), image.Pt(r.film().W, r.film().H))
			for _, lines := range r.said {
				require.LessOrEqual(t, len(lines), 2)
				for _, line := range lines {
					require.LessOrEqual(t, lettering.Width(r.style, line), r.caption.W-2*r.style.Size)
				}
			}
			if want {
				require.GreaterOrEqual(t, r.style.Size, 9., "readable")
			}
		}
	}
	// Where the findings let go, the words say so in the second that the bead is moved there.
	r := reelOf(t, "walk-with-findings", filmCommand{}, 960, 540)
	letGo := slices.IndexFunc(r.steps, func(s routine.Step) bool { return s.LetGo })
	require.Positive(t, letGo)
	s := r.steps[letGo]
	require.Contains(t, r.said[int(s.Begin+s.Move)][0], "you see two.")
	require.Contains(t, r.said[int(s.Begin)-1][0], "it is one.")
}

// The bead of a walk slides while it is moved, and rests while the place is held.
func TestWalkSlidesAndRests(t *testing.T) {
	r := reelOf(t, "walk-of-ten", filmCommand{}, 320, 180)
	show := r.shower()
	at := func(seconds float64) float64 { return show(seconds).Target.At }
	assert.Equal(t, 560., at(4.9))
	assert.InDelta(t, 535, at(5.5), 1e-9)
	assert.InDelta(t, 510, at(6), 1e-9)
	assert.InDelta(t, 510, at(10.9), 1e-9)
	assert.InDelta(t, 560, at(r.seconds), 1e-9)
}
