package main

import (
	"bytes"
	"image/color"
	"image/png"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// No two pictures of the gallery are the same, and what moves is shown when something
// has come of it.
func TestTheGalleryTellsScenesApart(t *testing.T) {
	say, err := words.For("en")
	require.NoError(t, err)
	shown := map[string]bool{}
	library := scenes.Library()
	for _, e := range library {
		picture, sentence, err := telling(told(e.Scene, scenes.Identify(e.Name), say), scenes.Identify(e.Name), say, shown)
		require.NoError(t, err)
		assert.NotEmpty(t, sentence, e.Name)
		assert.Greater(t, lightShare(t, picture), 0.5, "%s: takes little ink", e.Name)
	}
	assert.Len(t, shown, len(library))

	for _, name := range []string{"jump-near-to-far", "left-out-now-and-then", "walk-with-findings"} {
		e, err := builtIn(name)
		require.NoError(t, err)
		var first, later sim.View
		sim.NewCourse(&e.Scene.Setup).Look(&first, 0)
		sc, at := moment(e.Scene, say)
		sim.NewCourse(&sc.Setup).Look(&later, at)
		assert.NotEqual(t, say.Family(&first), say.Family(&later), name)
	}
}

// lightShare is how much of a picture is lighter than the grey in the middle.
func lightShare(t *testing.T, picture []byte) float64 {
	img, err := png.Decode(bytes.NewReader(picture))
	require.NoError(t, err)
	light, b := 0, img.Bounds()
	for y := range b.Dy() {
		for x := range b.Dx() {
			if color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y > 127 {
				light++
			}
		}
	}
	return float64(light) / float64(b.Dx()*b.Dy())
}
