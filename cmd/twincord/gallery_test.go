package main

import (
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
		_, sentence, err := telling(told(e.Scene, scenes.Identify(e.Name), say), scenes.Identify(e.Name), say, shown)
		require.NoError(t, err)
		assert.NotEmpty(t, sentence, e.Name)
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
