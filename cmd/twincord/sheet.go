package main

import (
	"bytes"
	"io"
	"path/filepath"
	"strings"

	"twincord/render/pdf"
	"twincord/render/sheet"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
)

type sheetCommand struct {
	Routine string `arg:"" help:"Scene file with a routine, or a built-in one (twincord scenes list); - is the standard input."`
	Output  string `short:"o" required:"" placeholder:"FILE" help:"File to write, .pdf or .html. An existing one is replaced."`
	Paper   string `enum:"a4,letter" default:"a4" help:"Paper of the PDF: a4 or letter."`

	Language string `default:"en" help:"Language of the words: en or es."`
	Units    string `enum:"cm,in" default:"cm" help:"Lengths in cm or in (inches)."`
}

// Help is an example.
func (*sheetCommand) Help() string {
	return "Example: twincord sheet walk-of-ten -o walk.pdf --paper letter --units in --language es"
}

func (c *sheetCommand) Run(s *streams) error {
	write := (*sheet.Sheet).WritePDF
	switch ext := strings.ToLower(filepath.Ext(c.Output)); ext {
	case ".pdf":
	case ".html":
		write = (*sheet.Sheet).WriteHTML
	default:
		return bad("%s: a sheet cannot be written as what ends in %q, .pdf and .html can", c.Output, ext)
	}
	say, err := wordsIn(c.Language)
	if err != nil {
		return err
	}
	if err := notItself(c.Routine, c.Output); err != nil {
		return err
	}
	sc, id, err := openScene(c.Routine, s)
	if err != nil {
		return err
	}
	if !sc.Routine.OK {
		return bad("%s: a sheet needs a scene with [routine], of which there is none", id)
	}
	made := sheetOf(sc, id, say.WithInches(c.Units == "in"))
	if c.Paper == "letter" {
		made.Paper = pdf.Letter
	}
	// What a sheet cannot be made of is a fault of the scene, not of the file.
	var b bytes.Buffer
	if err := write(made, &b); err != nil {
		return bad("%s: %w", id, err)
	}
	return replace(c.Output, func(w io.Writer) error {
		_, err := b.WriteTo(w)
		return err
	})
}

// sheetOf is the take-home sheet of a scene with a routine, on A4.
func sheetOf(sc *scenes.Scene, id scenes.Identity, say *words.Words) *sheet.Sheet {
	sc = scenes.TranslationOf(id, onSheet{say}).Scene(sc)
	made := &sheet.Sheet{
		Kind: sc.Routine.Value.Kind, Title: sc.Title, Note: sc.Note,
		Words: say, Paper: pdf.A4,
	}
	for _, step := range routine.Steps(sc) {
		v := new(sim.View)
		step.Look(v)
		made.Steps = append(made.Steps, sheet.SheetStep{
			View: v, Back: step.Way == routine.Away, Round: step.Round, Hold: step.Hold,
			Lost: step.LetGo,
		})
	}
	return made
}

// onSheet is how a built-in scene is told on a sheet: as an example, which is no note of
// anybody's to a family.
type onSheet struct{ *words.Words }

func (onSheet) SceneTitle(string, string) string  { return "" }
func (o onSheet) SceneNote(string, string) string { return o.Label(words.SheetInvented) }
