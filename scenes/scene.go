// Package scenes reads and writes scene files: set-ups for sim as TOML. One
// table of keys makes the loader, the writer and the schema.
package scenes

import (
	"errors"
	"fmt"
	"io/fs"

	"twincord/sim"
)

// Format is the number that a scene file gives as its format.
const Format = 1

// MaxSize is the size of the largest scene file that is read, in bytes.
const MaxSize = 1 << 20

// Scene is what a scene file holds.
type Scene struct {
	// Head is the comment at the top of the file, a line each with its '#';
	// an empty line parts two comments. It is kept when the file is rewritten.
	Head  []string
	Title string
	Note  string
	Setup sim.Setup
	// Routine is what is done with the set-up, if anything.
	Routine sim.Maybe[Routine]
}

// Load reads a scene file. The error is Faults where the file can be read but
// is no good scene.
func Load(path string) (*Scene, error) {
	data, err := read(path)
	if err != nil {
		return nil, err
	}
	return Parse(path, data)
}

// Open gives the built-in scene of that name, or else the scene in the file at
// that path, and which it is.
func Open(nameOrPath string) (sc *Scene, id Identity, err error) {
	if id = Identify(nameOrPath); id.Origin == BuiltIn {
		source, _ := builtIn(id.Name)
		sc, err = Parse(id.Name, source)
		return sc, id, err
	}
	sc, err = Load(nameOrPath)
	if mayBeBuiltIn(nameOrPath) && errors.Is(err, fs.ErrNotExist) {
		err = fmt.Errorf("%s: %w, nor a built-in scene of that name; there are%s",
			nameOrPath, fs.ErrNotExist, InColumns(names))
	}
	return sc, id, err
}
