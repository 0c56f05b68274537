package main

import (
	"twincord/render/measure"
	"twincord/render/words"
	"twincord/sim"
)

type measureCommand struct {
	Scene    []string `arg:"" name:"scene" help:"Scene files or built-in scenes; - is the standard input."`
	JSON     bool     `name:"json" help:"Write JSON: one object, or an array for several scenes."`
	Array    bool     `help:"Write an array for a single scene too. Needs --json."`
	Language string   `default:"en" help:"Language of the sentences."`
}

// Help is an example.
func (*measureCommand) Help() string { return "Example: twincord measure mine.toml --json" }

// Run looks at every scene before it writes anything.
func (c *measureCommand) Run(s *streams) error {
	if c.Array && !c.JSON {
		return bad("--array goes with --json")
	}
	say, err := words.For(c.Language)
	if err != nil {
		return bad("--language: %w", err)
	}
	var entries []measure.Entry
	var errs []error
	for _, name := range c.Scene {
		sc, file, err := openScene(name, s)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		v := new(sim.View)
		v.Look(&sc.Setup)
		entries = append(entries, measure.Entry{
			File: file, Title: sc.Title, Language: say.Language(), View: v,
			Sentence: say.Family(v), Clinician: say.Clinician(v),
		})
	}
	if err := joined(errs); err != nil {
		return err
	}
	if c.JSON {
		return measure.JSON(s.out, entries, c.Array)
	}
	return measure.Table(s.out, entries)
}
