package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"twincord/cmd/internal/call"
	"twincord/render/measure"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
	"twincord/sim/answers"
)

type answersCommand struct {
	Scene string `arg:"" name:"scene" help:"A scene file or a built-in scene; - is the standard input."`

	Bead             []string `sep:"none" placeholder:"CODE" group:"said" help:"Beads where the patient looks: one, two, none."`
	Higher           []string `sep:"none" placeholder:"CODE" group:"said" help:"Whether one of the two is higher: no, yes."`
	Near             []string `sep:"none" placeholder:"COUNT" group:"said" help:"Strings in front: 0, 1, 2."`
	Far              []string `sep:"none" placeholder:"COUNT" group:"said" help:"Strings behind: 0, 1, 2."`
	Meet             []string `sep:"none" placeholder:"CODE" group:"said" help:"Where the strings cross: at, nearer, beyond, not."`
	MeetAtMM         *float64 `name:"meet-at-mm" placeholder:"MM" group:"said" help:"The place where they cross, along the string from the nose."`
	MeetWithinMM     *float64 `name:"meet-within-mm" placeholder:"MM" group:"said" help:"How exactly that was said; left out, 30 mm or a tenth, whichever is more."`
	NearerBeads      []string `sep:"none" placeholder:"CODE" group:"said" help:"Each of the nearer beads: one, two."`
	FartherBeads     []string `sep:"none" placeholder:"CODE" group:"said" help:"Each of the farther beads: one, two."`
	Wider            []string `sep:"none" placeholder:"CODE" group:"said" help:"Which beads are farthest apart: nearer, farther."`
	RightCoverString []string `sep:"none" placeholder:"CODE" group:"said" help:"The string in front that goes when the right eye is covered: left, right, only, none."`
	LeftCoverString  []string `sep:"none" placeholder:"CODE" group:"said" help:"The same with the left eye."`
	RightCoverBead   []string `sep:"none" placeholder:"CODE" group:"said" help:"The image of the bead that goes when the right eye is covered: left, right, upper, lower, only, none."`
	LeftCoverBead    []string `sep:"none" placeholder:"CODE" group:"said" help:"The same with the left eye."`
	Clear            []string `sep:"none" placeholder:"CODE" group:"said" help:"Whether it is clear: clear, blurred."`
	Fainter          []string `sep:"none" placeholder:"CODE" group:"said" help:"Which string in front is fainter: left, right, none."`

	JSON     bool   `name:"json" help:"Write JSON."`
	Language string `default:"en" help:"Language of the sentences: ${languages}."`
	Units    string `enum:"cm,in" default:"cm" help:"Lengths in the sentences in cm or in (inches)."`
}

// Help is an example.
func (*answersCommand) Help() string {
	return `What the patient said goes in; the set-ups of the scene's own string, beads and patient that
would give those answers come out, the plainest first, with what to ask next. With no answer:
how the answers change with the deviation.

Example: twincord answers middle-of-three --bead two --near 2 --far 2 --meet-at-mm 340`
}

// Run explains the answers, or with none of them writes the bands.
func (c *answersCommand) Run(s *call.Streams) error {
	say, err := wordsIn(c.Language, c.Units)
	if err != nil {
		return err
	}
	sc, id, err := call.Scene(c.Scene, s)
	if err != nil {
		return err
	}
	a, given, err := c.answers(&sc.Setup)
	if err != nil {
		return err
	}
	if !given {
		return c.bands(s.Out, sc, id, say)
	}
	result := answers.New(&sc.Setup).Run().Explain(a).Result()
	if !c.JSON {
		return explain(s.Out, say, &a, &result)
	}
	return measure.AnswersJSON(s.Out, &measure.Explained{
		File: id.Name, Title: sc.Title, Language: say.Language(), Answers: &a, Result: &result,
		Example: func(m *answers.Match) (string, error) {
			var b strings.Builder
			err := (&scenes.Scene{Title: sc.Title, Setup: m.Example}).Write(&b)
			return b.String(), err
		},
		Sentence: say.Explanation, Note: say.AnswersNote(),
	})
}

// answers reads what was said.
func (c *answersCommand) answers(setup *sim.Setup) (a answers.Answers, given bool, err error) {
	allowed := answers.Asked(setup)
	for i, said := range map[answers.Item][]string{
		answers.Bead: c.Bead, answers.Higher: c.Higher, answers.Near: c.Near, answers.Far: c.Far, answers.Meet: c.Meet,
		answers.NearerBeads: c.NearerBeads, answers.FartherBeads: c.FartherBeads, answers.Wider: c.Wider,
		answers.RightCoverString: c.RightCoverString, answers.LeftCoverString: c.LeftCoverString,
		answers.RightCoverBead: c.RightCoverBead, answers.LeftCoverBead: c.LeftCoverBead,
		answers.Clear: c.Clear, answers.Fainter: c.Fainter,
	} {
		flag := "--" + strings.ReplaceAll(i.String(), "_", "-")
		switch {
		case len(said) == 0:
			continue
		case len(said) > 1:
			return a, false, call.Bad("%s: two answers, %q and %q; allowed is one", flag, said[0], said[1])
		case !allowed[i]:
			return a, false, call.Bad("%s: this scene has no bead of which that could be said", flag)
		}
		code, err := i.ParseCode(said[0])
		if err != nil {
			return a, false, call.Bad("--%w", err)
		}
		a.Code[i], given = code, true
	}
	switch at, within := c.MeetAtMM, c.MeetWithinMM; {
	case at == nil && within != nil:
		return a, false, call.Bad("--meet-within-mm goes with --meet-at-mm")
	case at == nil:
	case !(*at >= 0 && *at <= setup.String.Length):
		return a, false, call.Bad("--meet-at-mm: %v mm, allowed is 0 to %v, the length of the string", *at, setup.String.Length)
	case within != nil && !(*within > 0 && !math.IsInf(*within, 0)):
		return a, false, call.Bad("--meet-within-mm: %v mm, must be above 0", *within)
	default:
		p := answers.Around(*at)
		if within != nil {
			p.Within = *within
		}
		a.Place, given = sim.Some(p), true
	}
	return a, given, nil
}

// mostNearest is how many of the nearest families are told where none fits: the
// plainest.
const mostNearest = 3

// explain writes what answers come to, a paragraph for each family.
func explain(out io.Writer, say *words.Words, a *answers.Answers, r *answers.Result) error {
	var text []string
	for i := range r.Families {
		text = append(text, say.Explanation(&r.Families[i]))
	}
	if len(r.Families) == 0 {
		if r.Conflict.OK {
			text = append(text, say.AnswersConflict(a, r.Conflict.Value))
		}
		text = append(text, say.AnswersNoFit())
		for i := range min(len(r.Nearest), mostNearest) {
			m := &r.Nearest[i]
			text = append(text, say.Explanation(m)+" "+say.AnswersContradicted(m.Against))
		}
	}
	for _, i := range r.Inseparable {
		text = append(text, say.Inseparable(i))
	}
	if len(r.Families) > 0 {
		text = append(text, say.AnswersNext(r.Ask))
	}
	text = append(text, say.AnswersNote())
	_, err := fmt.Fprintln(out, strings.Join(text, "\n\n"))
	return err
}

// bands writes how the answers change with the deviation, a line a band.
func (c *answersCommand) bands(out io.Writer, sc *scenes.Scene, id scenes.Identity, say *words.Words) error {
	all := answers.Bands(&sc.Setup)
	if c.JSON {
		return measure.BandsJSON(out, id.Name, sc.Title, say.Language(), all)
	}
	t := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, strings.Join(say.BandHeadings(), "\t"))
	for i := range all {
		fmt.Fprintln(t, strings.Join(say.Band(&all[i]), "\t"))
	}
	return t.Flush()
}
