package main

import (
	"math"

	"twincord/cmd/internal/call"
	"twincord/render/measure"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

type measureCommand struct {
	Scene    []string `arg:"" name:"scene" help:"Scene files or built-in scenes; - is the standard input."`
	JSON     bool     `name:"json" xor:"form" help:"Write JSON: one object, or an array for several scenes."`
	CSV      bool     `name:"csv" xor:"form" help:"Write a walk as comma-separated values. Needs --walk."`
	Array    bool     `help:"Write an array for a single scene too. Needs --json."`
	At       float64  `placeholder:"SECONDS" help:"The moment, from 0 to 3600 s after the start; left out, 0."`
	Walk     *float64 `placeholder:"STEP_MM" help:"Move the bead looked at in steps toward the nose and back, and measure at each."`
	From     *float64 `placeholder:"MM" help:"Where the walk begins, along the string; left out, its far end. Needs --walk."`
	To       *float64 `placeholder:"MM" help:"Where it turns round; left out, at the nose. Needs --walk."`
	Language string   `default:"en" help:"Language of the sentences: ${languages}."`
	Units    string   `enum:"cm,in" default:"cm" help:"Lengths in the sentences in cm or in (inches)."`
}

// Help is an example.
func (*measureCommand) Help() string {
	return "Examples: twincord measure mine.toml --json\n          twincord measure receding-near-point --walk 25 --csv"
}

// latest is the latest moment that can be measured, s.
const latest = 3600

// Run looks at every scene before it writes anything.
func (c *measureCommand) Run(s *call.Streams) error {
	switch {
	case c.Array && !c.JSON:
		return call.Bad("--array goes with --json")
	case c.Walk == nil && (c.From != nil || c.To != nil || c.CSV):
		return call.Bad("--from, --to and --csv go with --walk")
	case !(c.At >= 0 && c.At <= latest):
		return call.Bad("--at: %v s, allowed is 0 to %d", c.At, latest)
	case c.Walk != nil && len(c.Scene) > 1:
		return call.Bad("--walk goes with one scene, not %d", len(c.Scene))
	case c.Walk != nil && c.At != 0:
		return call.Bad("--walk goes without --at")
	case c.Walk != nil && c.Array:
		return call.Bad("--walk goes without --array")
	}
	say, err := wordsIn(c.Language, c.Units)
	if err != nil {
		return err
	}
	if c.Walk != nil {
		return c.walk(s, say)
	}
	var entries []measure.Entry
	var errs []error
	for _, name := range c.Scene {
		sc, id, err := call.Scene(name, s)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		// The numbers are of the scene as it is, the sentences as it is told.
		v := new(sim.View)
		sim.NewCourse(&sc.Setup).Look(v, c.At)
		beads := told(sc, id, say).Setup.Beads
		t := v.Named(func(bead int) string { return beads[bead].Name })
		entries = append(entries, measure.Entry{
			File: id.Name, Title: sc.Title, Language: say.Language(), View: v,
			Sentence: say.Family(t), Clinical: words.Texts(say.Clinical(t)),
		})
	}
	if err := call.Joined(errs); err != nil {
		return err
	}
	if c.JSON {
		return measure.JSON(s.Out, entries, c.Array)
	}
	for i := range entries {
		entries[i].File = call.Printable(entries[i].File)
	}
	return measure.Table(s.Out, entries)
}

// The walks that can be measured: steps of at least leastStep mm, and at most
// mostSteps of them one way.
const (
	leastStep = 0.1
	mostSteps = 10000
)

func (c *measureCommand) walk(s *call.Streams, say *words.Words) error {
	sc, id, err := call.Scene(c.Scene[0], s)
	if err != nil {
		return err
	}
	from, to, err := c.way(sc)
	if err != nil {
		return err
	}
	w := measure.NewWalk(&sc.Setup, from, to, *c.Walk, say.Family)
	w.File, w.Title, w.Language = id.Name, sc.Title, say.Language()
	switch {
	case c.JSON:
		return measure.WalkJSON(s.Out, w)
	case c.CSV:
		return measure.WalkCSV(s.Out, w)
	}
	w.File = call.Printable(w.File)
	return measure.WalkTable(s.Out, w)
}

// way is where the walk goes: the whole string as far as the bead's body goes on it,
// or what of it was asked for.
func (c *measureCommand) way(sc *scenes.Scene) (from, to float64, err error) {
	from, to = sc.Setup.WalkEnds()
	ends := [2]float64{to, from}
	for _, f := range []struct {
		flag string
		at   *float64
		end  *float64
	}{{"--from", c.From, &from}, {"--to", c.To, &to}} {
		if f.at == nil {
			continue
		}
		if !(*f.at >= ends[0] && *f.at <= ends[1]) {
			return 0, 0, call.Bad("%s: %v mm leaves the string; allowed is %v to %v", f.flag, *f.at, ends[0], ends[1])
		}
		*f.end = *f.at
	}
	step := *c.Walk
	switch {
	case from <= to:
		return 0, 0, call.Bad("--from: %v mm is not beyond --to, %v mm", from, to)
	case !(step >= leastStep) || math.IsInf(step, 0):
		return 0, 0, call.Bad("--walk: %v mm, allowed is %v or more", step, leastStep)
	case (from-to)/step > mostSteps:
		return 0, 0, call.Bad("--walk: steps of %v mm are more than %d on the way; allowed are larger ones", step, mostSteps)
	}
	return from, to, nil
}
