package words

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
)

// Every language but the scenes' own has each title, note and name of the built-in
// scenes, and no others.
func TestBuiltInScenesInEveryLanguage(t *testing.T) {
	for _, language := range Languages() {
		w, err := For(language)
		require.NoError(t, err)
		if language == "en" {
			assert.Empty(t, w.told.Titles)
			assert.Empty(t, w.told.Notes)
			assert.Equal(t, "blue", w.BeadName("sky"))
			continue
		}
		beads := map[string]bool{}
		for _, e := range scenes.Library() {
			assert.NotEmpty(t, w.told.Titles[e.Name], "%s: %s", language, e.Name)
			assert.NotEmpty(t, w.told.Notes[e.Name], "%s: %s", language, e.Name)
			for _, b := range e.Scene.Setup.Beads {
				assert.NotEmpty(t, w.told.Beads[b.Name], "%s: %s", language, b.Name)
				beads[b.Name] = true
			}
		}
		assert.Len(t, w.told.Titles, len(scenes.Library()), language)
		assert.Len(t, w.told.Notes, len(scenes.Library()), language)
		assert.Len(t, w.told.Beads, len(beads), language)
	}
}
