package main

import (
	"bytes"
	"path/filepath"
	"strconv"
	"strings"

	"twincord/cmd/internal/call"
	"twincord/render"
	"twincord/render/display"
	"twincord/render/sheet"
	"twincord/render/sheet/casebook"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes/cases"
)

type casesCommand struct {
	Output   string   `short:"o" placeholder:"FILE" help:"File to write, .pdf or .html. An existing one is replaced."`
	JSON     bool     `name:"json" help:"Write the set with its key to the standard output, as JSON."`
	Seed     uint64   `default:"1" help:"Which set: the same number gives the same set everywhere."`
	Count    int      `default:"10" help:"How many cases, 1 to 100."`
	Level    int      `default:"1" help:"How hard: 1, 2 or 3."`
	Kinds    []string `placeholder:"KIND" help:"Which kinds of cases; left out, all: ${kinds}."`
	Paper    string   `enum:"a4,letter" default:"a4" help:"Paper of the PDF: a4 or letter."`
	Language string   `default:"en" help:"Language of the words: ${languages}."`
	Units    string   `enum:"cm,in" default:"cm" help:"Lengths in cm or in (inches)."`
}

// Help is an example.
func (*casesCommand) Help() string {
	return `Cases to learn to read answers by: what is given, what is asked, and the key on the last
page. All are invented.

Example: twincord cases --seed 7 --level 2 -o cases.pdf`
}

// kindNames are the names of the kinds of cases.
func kindNames() string {
	var names []string
	for _, k := range cases.Kinds() {
		names = append(names, string(k))
	}
	return strings.Join(names, ", ")
}

// Run writes a set of cases.
func (c *casesCommand) Run(s *call.Streams) error {
	ext := strings.ToLower(filepath.Ext(c.Output))
	switch {
	case c.JSON && c.Output != "":
		return call.Bad("--json writes to the standard output, --output a file for people; allowed is one of them")
	case !c.JSON && c.Output == "":
		return call.Bad("--output: missing; allowed are a file ending in .pdf or .html, or --json instead")
	case !c.JSON && ext != ".pdf" && ext != ".html":
		return call.Bad("%s: cases cannot be written as what ends in %q, .pdf and .html can", c.Output, ext)
	}
	say, err := wordsIn(c.Language, c.Units)
	if err != nil {
		return err
	}
	set, err := c.set()
	if err != nil {
		return err
	}
	bench := cases.NewBench(set.Seed)
	all, err := set.Make(bench)
	if err != nil {
		return err
	}
	write := casebook.In(say)
	if c.JSON {
		return write.JSON(s.Out, &set, all, bench)
	}
	printed := casesSheet(write, say, all, bench)
	printed.Paper = papers[c.Paper]
	to := printed.WritePDF
	if ext == ".html" {
		to = printed.WriteHTML
	}
	var b bytes.Buffer
	if err := to(&b); err != nil {
		return err
	}
	return replace(c.Output, contents(b.Bytes()))
}

// set reads which cases are asked for.
func (c *casesCommand) set() (cases.Set, error) {
	set := cases.Set{Seed: c.Seed, Count: c.Count, Level: c.Level}
	if err := cases.CheckCount(c.Count); err != nil {
		return set, call.Bad("--count: %w", err)
	}
	if err := cases.CheckLevel(c.Level); err != nil {
		return set, call.Bad("--level: %w", err)
	}
	for _, name := range c.Kinds {
		k := cases.Kind(name)
		if err := cases.CheckKind(k); err != nil {
			return set, call.Bad("--kinds: %w", err)
		}
		set.Kinds = append(set.Kinds, k)
	}
	return set, nil
}

// casesSheet is a set of cases to be handed out.
func casesSheet(write *casebook.Writer, say *words.Words, all []*cases.Case, bench *cases.Bench) *sheet.Cases {
	printed := &sheet.Cases{
		Words: say, Title: say.Label(words.CasesTitle), Lead: []string{write.Lead(all[0]), say.Label(words.CasesHow)},
		KeyTitle: say.Label(words.CasesKey), KeyLead: say.Label(words.CasesKeyLead),
		Columns:      [3]string{say.Label(words.CasesNumber), say.Label(words.CasesColumn), say.Label(words.CasesWhy)},
		SourcesTitle: say.Label(words.CasesSources), Sources: write.Sources(all), Note: say.AnswersNote() + " " + say.Label(words.CautionEdge),
	}
	for n, c := range all {
		page, key := write.Page(c), c.Key(bench)
		one := sheet.Case{
			Title: say.Filled(words.CasesCase, "Number", strconv.Itoa(n+1), "Kind", page.Title),
			Given: page.Given, Alt: page.Alt, Why: write.Why(c, key),
		}
		if page.View != nil {
			one.Picture = casePicture(&page, render.AboveIn(say))
			one.Tall = page.Picture == cases.FromAbove
		}
		for i, q := range page.Asked {
			asked := sheet.CaseQuestion{Text: q.Text, Unit: q.Number, Long: q.Item == cases.Ask, Blank: q.Blank}
			for _, choice := range q.Choices {
				// Of many pairs the two letters are written down.
				if q.Blank == "" || choice.Code == cases.TheyFit || choice.Code == cases.CannotTell {
					asked.Choices = append(asked.Choices, choice.Text)
				}
			}
			one.Asked = append(one.Asked, asked)
			one.Right = append(one.Right, write.Key(c, &key[i]))
		}
		printed.Cases = append(printed.Cases, one)
	}
	return printed
}

// casePicture draws what is given.
func casePicture(page *casebook.Page, labels render.AboveLabels) func(l *display.List, w, h float64) {
	return func(l *display.List, w, h float64) {
		ground := theme.Paper.Wall
		if page.Picture == cases.FromAbove {
			ground = theme.Paper.Panel
		}
		l.Reset(w, h, ground)
		l.Title = page.Alt
		page.Draw(l, display.Rect{W: w, H: h}, render.PatientOptions{Theme: &theme.Paper}, render.AboveOptions{Theme: &theme.Paper, Labels: labels})
	}
}
