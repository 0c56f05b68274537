package render_test

import (
	"image"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/sim"
)

func demand(t *testing.T, s *sim.Setup, frame display.Rect) *display.List {
	say, err := words.For("en")
	require.NoError(t, err)
	var v sim.View
	v.Look(s)
	var l display.List
	l.Reset(frame.W, frame.H, theme.Dark.Panel)
	render.Demand(&l, frame, &v, render.DemandOptions{Theme: &theme.Dark, Labels: render.DemandIn(say)})
	return &l
}

func texts(l *display.List) (all []string) {
	for i := range l.Texts {
		all = append(all, l.Texts[i].String)
	}
	return all
}

// The chart says where the hold breaks and comes back, in words that are those of the
// model's places, and says nothing of it where it does not break.
func TestDemandSaysWhereItBreaks(t *testing.T) {
	say, err := words.For("en")
	require.NoError(t, err)
	s := scene(t, "receding-near-point")
	breaks, back := s.Turning()
	require.True(t, breaks.OK && back.OK)
	said := texts(demand(t, s, display.Rect{W: 1000, H: 640}))
	assert.Contains(t, said, say.BreaksAt(breaks.Value))
	assert.Contains(t, said, say.ComesBackAt(back.Value))

	away := *scene(t, "small-turn-left-out")
	for _, text := range texts(demand(t, &away, display.Rect{W: 1000, H: 640})) {
		assert.NotContains(t, text, "breaks at")
	}
}

// Everything stays in the frame, no two texts cover each other, and text is on a
// ground that it can be read on.
func TestDemandFits(t *testing.T) {
	for _, size := range []image.Point{{1000, 640}, {640, 400}, {1920, 1080}} {
		frame := display.Rect{W: float64(size.X), H: float64(size.Y)}
		for _, name := range []string{"receding-near-point", "steady-findings", "small-turn-left-out", "prism-on-findings", "plus-lens-on-findings"} {
			l := demand(t, scene(t, name), frame)
			var boxes []display.Rect
			for i := range l.Texts {
				text := &l.Texts[i]
				first, last := text.Glyphs[0].At, text.Glyphs[len(text.Glyphs)-1].At
				box := display.Rect{X: first.X, Y: first.Y - 0.7*text.Size, W: last.X - first.X + 0.5*text.Size, H: 0.75 * text.Size}
				assert.True(t, box.X >= 0 && box.Y >= 0 && box.X+box.W <= frame.W && box.Y+box.H <= frame.H, "%s %v: %q at %v", name, size, text.String, box)
				hit := slices.IndexFunc(boxes, func(o display.Rect) bool {
					return box.X < o.X+o.W && o.X < box.X+box.W && box.Y < o.Y+o.H && o.Y < box.Y+box.H
				})
				if hit >= 0 {
					t.Errorf("%s %v: %q covers %q", name, size, text.String, l.Texts[hit].String)
				}
				boxes = append(boxes, box)
			}
		}
	}
}
