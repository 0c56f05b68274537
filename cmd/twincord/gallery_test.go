package main

import (
	"bytes"
	"fmt"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/cmd/internal/call"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// The gallery has a picture of every scene, no two of them the same, shown by a page in
// its language.
func TestTheGalleryTellsScenesApart(t *testing.T) {
	folder := t.TempDir()
	index := filepath.Join(folder, "index.html")
	var out bytes.Buffer
	require.Zero(t, run([]string{"scenes", "draw", folder, "--language", "es"}, &call.Streams{In: strings.NewReader(""), Out: &out, Err: os.Stderr}))
	library := scenes.Library()
	assert.Equal(t, fmt.Sprintf("%d pictures, shown by %s\n", len(library), index), out.String())
	shown := map[string]bool{}
	for i, e := range library {
		picture, err := os.ReadFile(filepath.Join(folder, e.Name+".png"))
		require.NoError(t, err)
		shown[string(picture)] = true
		if i%5 == 0 {
			assert.Greater(t, lightShare(t, picture), 0.5, "%s: takes little ink", e.Name)
		}
	}
	assert.Len(t, shown, len(library))
	page, err := os.ReadFile(index)
	require.NoError(t, err)
	for _, part := range []string{`<html lang="es">`, `href="#walk-of-ten"`} {
		assert.Contains(t, string(page), part)
	}
	assert.ElementsMatch(t, everyOne, saidFor(read(string(page)), slices.Index(words.Languages(), "es")))
}

// What moves is shown when something has come of it.
func TestTheGalleryWaitsForWhatMoves(t *testing.T) {
	say, err := words.For("en")
	require.NoError(t, err)
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

// lightShare is how much of a picture is lighter than the grey in the middle, of every
// fourth pixel of every fourth row.
func lightShare(t *testing.T, picture []byte) float64 {
	img, err := png.Decode(bytes.NewReader(picture))
	require.NoError(t, err)
	light, all, b := 0, 0, img.Bounds()
	for y := 0; y < b.Dy(); y += 4 {
		for x := 0; x < b.Dx(); x += 4 {
			all++
			if color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y > 127 {
				light++
			}
		}
	}
	return float64(light) / float64(all)
}
