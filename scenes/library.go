package scenes

import (
	"embed"
	"fmt"
)

//go:embed library/*.toml
var library embed.FS

// DefaultName is the name of the built-in scene to begin with.
const DefaultName = "middle-of-three"

// names are the built-in scenes, in order.
var names = []string{
	DefaultName,
	"near-of-three",
	"far-of-three",
	"too-near-single",
	"too-near-doubled",
	"too-far-single",
	"too-far-doubled",
	"eyes-part",
	"right-left-out",
	"left-left-out",
	"left-out-beyond",
	"left-out-nearer",
	"left-out-centre",
	"eye-covered",
	"eye-higher",
	"eye-tilted",
	"slack-string",
	"held-off-centre",
	"turned-yet-crossing-in-bead",
	"another-bead",
	"prism-not-answered",
	"bare-string",
	"three-metres",
	"steady-findings",
	"receding-near-point",
	"small-turn-left-out",
	"cover-test",
	"prism-on-findings",
	"plus-lens-on-findings",
	"red-green",
	"black-through-filter",
	"jump-near-to-far",
	"unsteady-hold",
	"left-out-now-and-then",
	"left-out-in-turn",

	// Routines.
	"walk-of-ten",
	"jumps-of-three",
	"bare-string-walk",
	"walk-with-findings",
	"jumps-unsteady",
}

// Entry is a built-in scene.
type Entry struct {
	Name   string
	Scene  *Scene
	Source []byte // the file
}

// Library gives the built-in scenes, always in the same order, and the caller's
// to change.
func Library() []Entry {
	entries := make([]Entry, len(names))
	for i, name := range names {
		source, ok := builtIn(name)
		if !ok {
			panic("scenes: no built-in scene " + name)
		}
		sc, err := Parse(name, source)
		if err != nil {
			panic(fmt.Sprintf("scenes: built in, but bad: %v", err))
		}
		entries[i] = Entry{name, sc, source}
	}
	return entries
}

// Source gives the file of a built-in scene. The error is fs.ErrNotExist for another name.
func Source(name string) ([]byte, error) { return library.ReadFile("library/" + name + ".toml") }

// builtIn gives the file of a built-in scene.
func builtIn(name string) ([]byte, bool) {
	source, err := Source(name)
	return source, err == nil
}
