package words

import (
	"cmp"
	"strings"
)

// told is what the built-in scenes say of themselves in a language. What they say in
// English stands in their files.
type told struct {
	Beads  map[string]string
	Titles map[string]string
	Notes  map[string]string
}

// toldIn reads what the built-in scenes say in a language.
func toldIn(language string) (t told, err error) {
	file := "library." + language + ".toml"
	text, err := catalogues.ReadFile(file)
	if err != nil {
		return t, nil // as their files have it
	}
	entries, err := texts(file, text)
	if err != nil {
		return t, err
	}
	t = told{map[string]string{}, map[string]string{}, map[string]string{}}
	for path, text := range entries {
		switch table, key, _ := strings.Cut(path, "."); table {
		case "beads":
			t.Beads[key] = text
		case "titles":
			t.Titles[key] = text
		case "notes":
			t.Notes[key] = text
		}
	}
	return t, nil
}

// SceneTitle is the title of a built-in scene, whose English one is given.
func (w *Words) SceneTitle(scene, english string) string {
	return cmp.Or(w.told.Titles[scene], english)
}

// SceneNote is the note of a built-in scene, whose English one is given.
func (w *Words) SceneNote(scene, english string) string { return cmp.Or(w.told.Notes[scene], english) }

// BeadName is the name of a bead of the built-in scenes.
func (w *Words) BeadName(english string) string { return cmp.Or(w.told.Beads[english], english) }
