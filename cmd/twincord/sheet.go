package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"twincord/cmd/internal/call"
	"twincord/cmd/internal/made"
	"twincord/render/pdf"
	"twincord/render/sheet"
	"twincord/render/words"
	"twincord/scenes"
)

type sheetCommand struct {
	Routines []string `arg:"" optional:"" name:"routine" help:"Scene files with a routine, or built-in ones (twincord scenes list); - is the standard input."`
	All      string   `placeholder:"FOLDER" help:"All scene files with a routine in a folder."`
	Output   string   `short:"o" required:"" placeholder:"FILE" help:"File to write, .pdf or .html; of several sheets the folder for them, made if it is not there. Existing files are replaced."`
	As       string   `enum:"pdf,html" default:"pdf" help:"What several sheets are written as: pdf or html."`
	Paper    string   `enum:"a4,letter" default:"a4" help:"Paper of the PDF: a4 or letter."`

	Prescribed bool `help:"A professional has prescribed it: what a scene that needs care is not written without."`

	Language string `default:"en" help:"Language of the words: ${languages}."`
	Units    string `enum:"cm,in" default:"cm" help:"Lengths in cm or in (inches); with inches, places and steps are on quarters of an inch."`
}

// Help is an example.
func (*sheetCommand) Help() string {
	return `Examples: twincord sheet walk-of-ten -o walk.pdf --paper letter --units in --language es
          twincord sheet --all patients -o sheets`
}

func (c *sheetCommand) Run(s *call.Streams) error {
	say, err := wordsIn(c.Language, c.Units)
	if err != nil {
		return err
	}
	switch {
	case c.All == "" && len(c.Routines) == 0:
		return call.Bad("a scene is missing; allowed are scene files, built-in routines, or --all FOLDER")
	case c.All == "" && len(c.Routines) == 1:
		return c.one(s, say)
	}
	return c.many(s, say)
}

// one writes the sheet of one scene into a file.
func (c *sheetCommand) one(s *call.Streams, say *words.Words) error {
	write, ok := sheetForms[strings.ToLower(filepath.Ext(c.Output))]
	if !ok {
		return call.Bad("%s: a sheet cannot be written as what ends in %q, .pdf and .html can", c.Output, filepath.Ext(c.Output))
	}
	if err := notItself(c.Routines[0], c.Output); err != nil {
		return err
	}
	sc, id, err := call.Scene(c.Routines[0], s)
	if err != nil {
		return err
	}
	if !sc.Routine.OK {
		return call.Bad("%s: a sheet needs a scene with [routine], of which there is none", id)
	}
	return c.write(sc, id, say, write, c.Output)
}

// papers are the sizes of paper, by the names that --paper takes.
var papers = map[string]pdf.Paper{"a4": pdf.A4, "letter": pdf.Letter}

// sheetForms are the formats of sheets, by the ending of their files.
var sheetForms = map[string]func(*sheet.Sheet, io.Writer) error{
	".pdf": (*sheet.Sheet).WritePDF, ".html": (*sheet.Sheet).WriteHTML,
}

// write writes the sheet of a scene into a file.
func (c *sheetCommand) write(sc *scenes.Scene, id scenes.Identity, say *words.Words, write func(*sheet.Sheet, io.Writer) error, file string) error {
	home := made.Sheet(sc, id, say)
	home.Prescribed = c.Prescribed
	home.Paper = papers[c.Paper]
	// What a sheet cannot be made of is a fault of the scene, not of the file.
	var b bytes.Buffer
	if err := write(home, &b); errors.Is(err, sheet.ErrNeedsCare) {
		return call.Bad("%s: %w: allowed is --prescribed, where a professional has prescribed it", id, sheet.ErrNeedsCare)
	} else if err != nil {
		return call.Bad("%s: %w", id, err)
	}
	return replace(file, contents(b.Bytes()))
}

// many writes the sheets of several scenes into a folder, as many at once as there are
// cores. What cannot be written is said, a line each; the others are.
func (c *sheetCommand) many(s *call.Streams, say *words.Words) error {
	names, err := c.names()
	if err != nil {
		return err
	}
	if info, err := os.Stat(c.Output); sheetForms[strings.ToLower(filepath.Ext(c.Output))] != nil && (err != nil || !info.IsDir()) {
		return call.Bad("%s: is a file, for one sheet; of several allowed is a folder for them", c.Output)
	}
	if err := makeFolder(c.Output); err != nil {
		return err
	}
	faults := make([]error, len(names))
	written := make([]bool, len(names))
	made.Many(len(names), func(i int) { written[i], faults[i] = c.oneOfMany(s, say, names[i]) })
	count := 0
	for _, w := range written {
		if w {
			count++
		}
	}
	sheets := "sheets"
	if count == 1 {
		sheets = "sheet"
	}
	fmt.Fprintf(s.Out, "%d %s in %s\n", count, sheets, c.Output)
	return call.Joined(slices.DeleteFunc(faults, func(err error) bool { return err == nil }))
}

// oneOfMany writes one of several sheets. Of a folder's scenes those without a routine
// are passed over.
func (c *sheetCommand) oneOfMany(s *call.Streams, say *words.Words, name string) (written bool, err error) {
	sc, id, err := call.Scene(name, s)
	if err != nil {
		return false, err
	}
	if !sc.Routine.OK {
		if slices.Contains(c.Routines, name) {
			err = call.Bad("%s: a sheet needs a scene with [routine], of which there is none", id)
		}
		return false, err
	}
	err = c.write(sc, id, say, sheetForms["."+c.As], c.fileOf(name))
	return err == nil, err
}

// fileOf is the file of the sheet of a scene.
func (c *sheetCommand) fileOf(name string) string {
	return filepath.Join(c.Output, strings.TrimSuffix(filepath.Base(name), ".toml")+"."+c.As)
}

// names are the scenes whose sheets are written. Two that would have the same file are
// refused before any is.
func (c *sheetCommand) names() ([]string, error) {
	names := slices.Clone(c.Routines)
	if slices.Contains(names, "-") {
		return nil, call.Bad("-: the standard input has no name for its sheet; allowed are files and built-in routines")
	}
	if c.All != "" {
		entries, err := os.ReadDir(c.All)
		if err != nil {
			return nil, call.Bad("--all %s: cannot be read: %w", c.All, bare(err))
		}
		for _, e := range entries {
			if !e.IsDir() && filepath.Ext(e.Name()) == ".toml" {
				names = append(names, filepath.Join(c.All, e.Name()))
			}
		}
		if len(names) == 0 {
			return nil, call.Bad("--all %s: there are no scene files, .toml, in it", c.All)
		}
	}
	files := map[string]string{}
	for _, name := range names {
		file := c.fileOf(name)
		if other, ok := files[file]; ok {
			return nil, call.Bad("%s and %s would both be written to %s; allowed are different names", other, name, file)
		}
		files[file] = name
	}
	return names, nil
}
