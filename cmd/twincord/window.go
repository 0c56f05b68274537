package main

import (
	"errors"

	"twincord/render/desk"
	"twincord/render/window"
	"twincord/render/words"
	"twincord/scenes"
)

type windowCommand struct {
	Scene string `arg:"" optional:"" default:"${first}" help:"Scene file or built-in scene; left out, the middle of three beads."`
}

func (c *windowCommand) Run(s *streams) error {
	sc, file, err := openScene(c.Scene, s)
	if err != nil {
		return err
	}
	say, err := words.For("en")
	if err != nil {
		return err
	}
	err = window.Run(desk.New(nameOf(sc, file), sc.Setup, say))
	if errors.Is(err, window.ErrNoDisplay) {
		return bad("%w; twincord draw and twincord scenes draw make pictures without one", err)
	}
	return err
}

// nameOf is what to call a scene: its title, else its file.
func nameOf(sc *scenes.Scene, file string) string {
	if sc.Title != "" {
		return sc.Title
	}
	return file
}
