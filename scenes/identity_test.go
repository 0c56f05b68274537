package scenes

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
)

// upper is a language that shouts.
type upper struct{}

func (upper) SceneTitle(scene, _ string) string { return "TITLE OF " + scene }
func (upper) SceneNote(scene, _ string) string  { return "NOTE OF " + scene }
func (upper) BeadName(english string) string {
	return map[string]string{"orange": "ORANGE", "sky": "SKY", "plum": "PLUM"}[english]
}

// A name is that of a built-in scene only where it is no path; a title never is one.
func TestIdentify(t *testing.T) {
	for name, want := range map[string]Identity{
		"middle-of-three":       {BuiltIn, "middle-of-three"},
		"middle-of-three.toml":  {File, "middle-of-three.toml"},
		"./middle-of-three":     {File, "./middle-of-three"},
		"Middle of three beads": {File, "Middle of three beads"},
		"":                      {File, ""},
	} {
		assert.Equal(t, want, Identify(name), name)
	}
	assert.Equal(t, "mine.toml", Identity{File, "folder/mine.toml"}.Short())
	assert.Equal(t, "walk-of-ten", Identity{BuiltIn, "walk-of-ten"}.Short())
	assert.Equal(t, New, Identity{}.Origin)
}

// What a built-in scene says of itself is told in another language, with the order of
// its jumps; what somebody typed stays as it is. A scene that was saved keeps the title and
// the note that it was saved with, and its beads are told as long as they are of the set.
func TestTranslation(t *testing.T) {
	sc, id, err := Open("jumps-of-three")
	require.NoError(t, err)
	sc.Routine.Value.Order = "sky\norange"
	was := *sc
	tr := TranslationOf(id, upper{})
	told := tr.Scene(sc)
	assert.Equal(t, was, *sc, "the scene itself stays")
	assert.Equal(t, "TITLE OF jumps-of-three", told.Title)
	assert.Equal(t, "NOTE OF jumps-of-three", told.Note)
	assert.Equal(t, "SKY\nORANGE", told.Routine.Value.Order)
	var names []string
	for _, b := range told.Setup.Beads {
		names = append(names, b.Name)
	}
	assert.ElementsMatch(t, []string{"ORANGE", "SKY", "PLUM"}, names)
	require.NoError(t, told.Check())

	sc.Title, sc.Setup.Beads[0].Name = "Mine", "SKY"
	told = tr.Scene(sc)
	assert.Equal(t, "Mine", told.Title, "typed")
	assert.Equal(t, "NOTE OF jumps-of-three", told.Note)
	sky := 0
	for _, b := range told.Setup.Beads {
		if b.Name == "SKY" {
			sky++
		}
	}
	assert.Equal(t, 1, sky, "the one that was typed")

	copied, _, err := Open("jumps-of-three")
	require.NoError(t, err)
	was = *copied
	was.Routine.Value.Order = "sky\norange"
	require.Equal(t, "plum", was.Setup.Beads[2].Name)
	was.Setup.Beads[2].Colour = sim.RGB{R: 1}
	for _, other := range []Identity{{New, "jumps-of-three"}, {File, "jumps-of-three"}, {}} {
		told := TranslationOf(other, upper{}).Scene(&was)
		assert.Equal(t, was.Title, told.Title, other)
		assert.Equal(t, was.Note, told.Note, other)
		assert.Equal(t, "SKY\nORANGE", told.Routine.Value.Order)
		names = nil
		for _, b := range told.Setup.Beads {
			names = append(names, b.Name)
		}
		assert.ElementsMatch(t, []string{"ORANGE", "SKY", "plum"}, names, other)
	}
}

// The set of beads is that of the built-in scenes.
func TestBeadsOfTheSet(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range Library() {
		for _, b := range e.Scene.Setup.Beads {
			if c, ok := setBeads[b.Name]; ok {
				assert.Equal(t, c, b.Colour, "%s: %s", e.Name, b.Name)
				seen[b.Name] = true
			}
		}
	}
	assert.Len(t, seen, len(setBeads))
}
