package scenes

import (
	"path/filepath"
	"slices"
	"strings"

	"twincord/sim"
)

// Origin is where a scene is from.
type Origin uint8

// The origins.
const (
	New     Origin = iota // it has no file yet: typed, dropped, or read from a stream
	BuiltIn               // one of the library
	File
)

// Identity says which scene it is, whatever its title. The zero value is a new scene.
type Identity struct {
	Origin Origin
	Name   string // of the built-in scene, the path of the file, or what to call a new one
}

// Identify says which scene is meant by a name or a path.
func Identify(nameOrPath string) Identity {
	if mayBeBuiltIn(nameOrPath) {
		if _, ok := builtIn(nameOrPath); ok {
			return Identity{BuiltIn, nameOrPath}
		}
	}
	return Identity{File, nameOrPath}
}

// mayBeBuiltIn says whether a name may be that of a built-in scene: what has a path
// separator or ends in .toml never is.
func mayBeBuiltIn(name string) bool {
	return !strings.ContainsAny(name, `/\`) && !strings.HasSuffix(name, ".toml")
}

// String is what to call the scene in messages.
func (id Identity) String() string { return id.Name }

// Short is what to call the scene where it has no title.
func (id Identity) Short() string {
	if id.Origin == File {
		return filepath.Base(id.Name)
	}
	return id.Name
}

// Tongue puts what the built-in scenes say of themselves into a language.
type Tongue interface {
	SceneTitle(scene, english string) string
	SceneNote(scene, english string) string
	BeadName(english string) string
}

// setBeads are the colours of the beads that scenes begin with, by their names.
var setBeads = map[string]sim.RGB{
	"orange": {R: 0xE6, G: 0x9F, B: 0x00}, "sky": {R: 0x56, G: 0xB4, B: 0xE9},
	"plum": {R: 0xCC, G: 0x79, B: 0xA7}, "yellow": {R: 0xF0, G: 0xE4, B: 0x42},
}

// Translation puts what is still a built-in scene's own into a language: its title, its
// note, and the names of its beads. Of another scene those are the names that are of the
// set that scenes begin with, and of its colours. What somebody typed stays as typed. The
// zero value leaves everything as it is.
type Translation struct {
	title, note said
	beads       map[string]string
	built       bool // it is of a built-in scene, whose names are its own whatever the colours
}

// said is a text of a built-in scene, and the same in another language.
type said struct{ english, other string }

func (s said) of(text string) string {
	if text == s.english {
		return s.other
	}
	return text
}

// TranslationOf is how a scene is told in a tongue: a built-in one, and of others the
// beads that they have from it.
func TranslationOf(id Identity, in Tongue) *Translation {
	t := &Translation{beads: map[string]string{}}
	for name := range setBeads {
		t.beads[name] = in.BeadName(name)
	}
	if id.Origin != BuiltIn {
		return t
	}
	own, _, err := Open(id.Name)
	if err != nil {
		return t
	}
	t.built = true
	t.title = said{own.Title, in.SceneTitle(id.Name, own.Title)}
	t.note = said{own.Note, in.SceneNote(id.Name, own.Note)}
	t.beads = map[string]string{}
	for _, b := range own.Setup.Beads {
		t.beads[b.Name] = in.BeadName(b.Name)
	}
	return t
}

// Title is the title of the scene as it is told.
func (t *Translation) Title(title string) string { return t.title.of(title) }

// Note is the note of the scene as it is told.
func (t *Translation) Note(note string) string { return t.note.of(note) }

// Bead is the name of one of some beads as it is told. A name that another bead was
// given stays with that one alone.
func (t *Translation) Bead(beads []sim.Bead, name string) string {
	told, ok := t.beads[name]
	if !ok || slices.ContainsFunc(beads, func(b sim.Bead) bool {
		return b.Name == told || b.Name == name && !t.built && b.Colour != setBeads[name]
	}) {
		return name
	}
	return told
}

// Beads are beads with the names that are told. Where none differs they are the same.
func (t *Translation) Beads(beads []sim.Bead) []sim.Bead {
	told := beads
	for i := range beads {
		name := t.Bead(beads, beads[i].Name)
		if name == beads[i].Name {
			continue
		}
		if &told[0] == &beads[0] {
			told = slices.Clone(beads)
		}
		told[i].Name = name
	}
	return told
}

// Scene is a scene as it is told; sc stays as it is.
func (t *Translation) Scene(sc *Scene) *Scene {
	told := *sc
	told.Title, told.Note = t.title.of(sc.Title), t.note.of(sc.Note)
	told.Setup.Beads = t.Beads(sc.Setup.Beads)
	if r := &told.Routine.Value; r.Order != "" {
		order := strings.Split(r.Order, "\n")
		for i := range order {
			order[i] = t.Bead(sc.Setup.Beads, order[i])
		}
		r.Order = strings.Join(order, "\n")
	}
	return &told
}
