package call

import (
	"fmt"
	"io"

	"twincord/scenes"
)

// Scene opens a built-in scene, a file, or for "-" what stands on the standard input.
func Scene(name string, s *Streams) (*scenes.Scene, scenes.Identity, error) {
	id := Identify(name)
	if id.Origin != scenes.New {
		sc, _, err := scenes.Open(name)
		return sc, id, AsBad(err)
	}
	data, err := io.ReadAll(io.LimitReader(s.In, scenes.MaxSize+1))
	if err != nil {
		return nil, id, fmt.Errorf("%s: %w", id, err)
	}
	sc, err := scenes.Parse(id.Name, data)
	return sc, id, AsBad(err)
}

// Identify says which scene is meant by an argument.
func Identify(name string) scenes.Identity {
	if name == "-" {
		return scenes.Identity{Origin: scenes.New, Name: "standard input"}
	}
	return scenes.Identify(name)
}
