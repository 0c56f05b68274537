package main

import (
	"path/filepath"
	"strings"

	"twincord/cmd/internal/call"
	"twincord/cmd/internal/made"
	"twincord/render/browser"
	"twincord/render/browser/live"
	"twincord/scenes"
)

type pageCommand struct {
	Scenes      []string `arg:"" optional:"" name:"scene" help:"Scene files or built-in scenes; - is the standard input."`
	Output      string   `short:"o" required:"" placeholder:"FILE" help:"File to write, .html. An existing one is replaced."`
	AllExamples bool     `help:"Every built-in scene, for learners."`
	Locked      bool     `help:"The scenes are only looked at."`
	All         bool     `help:"Everything may be pulled on that has a control."`
	Prescribed  string   `placeholder:"NAME" help:"Who prescribed it. A scene that needs a professional's care is locked without it."`

	Language string `default:"en" help:"Language that shows first: ${languages}. The page has all."`
	Units    string `enum:"cm,in" default:"cm" help:"Lengths that show first: cm or in (inches)."`
}

// Help is an example.
func (*pageCommand) Help() string {
	return "Example: twincord page walk-of-ten -o walk.html --prescribed \"R. Vidal, optometrist\""
}

func (c *pageCommand) Run(s *call.Streams) error {
	if err := c.agree(); err != nil {
		return err
	}
	page := browser.Page{Language: c.Language, Inches: c.Units == "in"}
	if c.AllExamples {
		for _, e := range scenes.Library() {
			page.Scenes = append(page.Scenes, c.scene(e.Scene, scenes.Identify(e.Name), e.Source))
		}
	}
	for _, name := range c.Scenes {
		if err := notItself(name, c.Output); err != nil {
			return err
		}
		sc, id, err := call.Scene(name, s)
		if err != nil {
			return err
		}
		source, err := made.File(sc)
		if err != nil {
			return call.Bad("%s: %w", id, err)
		}
		page.Scenes = append(page.Scenes, c.scene(sc, id, source))
	}
	return replace(c.Output, page.Write)
}

// agree says whether the arguments go together.
func (c *pageCommand) agree() error {
	switch ext := strings.ToLower(filepath.Ext(c.Output)); {
	case ext != ".html":
		return call.Bad("%s: a page cannot be written as what ends in %q, .html can", c.Output, ext)
	case c.Locked && c.All:
		return call.Bad("--locked does not go with --all")
	case c.AllExamples && len(c.Scenes) > 0:
		return call.Bad("--all-examples takes no scenes beside it")
	case !c.AllExamples && len(c.Scenes) == 0:
		return call.Bad("a scene is missing; allowed are scenes, or --all-examples")
	case strings.ContainsFunc(c.Prescribed, func(r rune) bool { return r < ' ' }):
		return call.Bad("--prescribed %q: must be one line", c.Prescribed)
	}
	_, err := wordsIn(c.Language, c.Units)
	return err
}

// scene is a scene as the page has it.
func (c *pageCommand) scene(sc *scenes.Scene, id scenes.Identity, source []byte) browser.Scene {
	p := made.OnPage(sc, id, source, c.Prescribed)
	switch {
	case c.Locked:
		p.Allow = live.Nothing
	case c.All:
		p.Allow = live.Everything
	}
	return p
}
