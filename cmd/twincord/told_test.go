package main

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/cmd/internal/made"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// In Spanish every built-in scene has its title, its note and the names of its beads in
// Spanish; in English they are those of its file.
func TestBuiltInScenesAreTold(t *testing.T) {
	en, err := words.For("en")
	require.NoError(t, err)
	es, err := words.For("es")
	require.NoError(t, err)
	titles := map[string]string{}
	for _, e := range scenes.Library() {
		id := scenes.Identify(e.Name)
		assert.Equal(t, e.Scene.Title, told(e.Scene, id, en).Title)
		assert.Equal(t, e.Scene.Note, told(e.Scene, id, en).Note, e.Name)
		in := told(e.Scene, id, es)
		require.NoError(t, in.Check(), e.Name)
		assert.NotEqual(t, e.Scene.Title, in.Title, e.Name)
		assert.NotEqual(t, e.Scene.Note, in.Note, e.Name)
		assert.True(t, strings.HasPrefix(in.Note, "Ejemplo inventado. "), e.Name)
		assert.Equal(t, "", titles[in.Title], "%s has the title of another", e.Name)
		titles[in.Title] = e.Name
		for i, b := range in.Setup.Beads {
			assert.NotEqual(t, e.Scene.Setup.Beads[i].Name, b.Name, e.Name)
		}
		var a, b sim.View
		a.Look(&e.Scene.Setup)
		b.Look(&in.Setup)
		assert.Equal(t, a.Strings, b.Strings, e.Name)
	}
}

// A Spanish sheet of a built-in scene has nothing of it in English, whether it is made
// from the command line or from the window; one of a file has what was typed.
func TestSpanishSheetsAreSpanish(t *testing.T) {
	es, err := words.For("es")
	require.NoError(t, err)
	english := regexp.MustCompile(`\b(orange|sky|plum|Invented)\b`)
	for _, e := range scenes.Library() {
		if !e.Scene.Routine.OK {
			continue
		}
		var b bytes.Buffer
		require.NoError(t, made.Sheet(e.Scene, scenes.Identify(e.Name), es).WriteHTML(&b))
		assert.NotRegexp(t, english, b.String(), e.Name)
		assert.NotContains(t, b.String(), e.Scene.Title, e.Name)
		assert.Contains(t, b.String(), es.Label(words.SheetInvented), e.Name)
		if e.Name != "walk-of-ten" {
			continue
		}

		b.Reset()
		require.NoError(t, made.Sheet(e.Scene, scenes.Identity{Origin: scenes.File, Name: e.Name}, es).WriteHTML(&b))
		assert.Contains(t, b.String(), e.Scene.Title, e.Name)
		assert.NotContains(t, b.String(), es.Label(words.SheetInvented), e.Name)

		b.Reset()
		typed := *e.Scene
		typed.Title, typed.Note = "Mi recorrido", "Despacio."
		require.NoError(t, made.Sheet(&typed, scenes.Identify(e.Name), es).WriteHTML(&b))
		assert.Contains(t, b.String(), typed.Title)
		assert.Contains(t, b.String(), typed.Note)
	}
}
