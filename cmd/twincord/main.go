// Command twincord shows and computes what a patient sees along a Brock string. The
// window is a program of its own, twincord-window, which this one starts.
package main

import (
	"os"
	"strings"

	"github.com/alecthomas/kong"

	"twincord/cmd/internal/call"
	"twincord/render/words"
	"twincord/scenes"
)

const description = `What a patient sees along a Brock string.

A model's expected view for an average eye: no test, no diagnosis, no promise.
SCENE is a scene file, or the name of a built-in one (twincord scenes list).`

// flags are those of the program itself.
type flags struct {
	Version kong.VersionFlag `help:"Say which version this is."`
}

// commands are what it can be told to do.
func commands() []call.Command {
	return []call.Command{
		{Name: "window", Help: "Open a scene in a window.", Line: &windowCommand{}, Tags: []string{`default:"withargs"`}},
		{Name: "draw", Help: "Draw a scene into a PNG or SVG file.", Line: &drawCommand{}},
		{Name: "sheet", Help: "Write what a family takes home of a routine, as PDF or HTML.", Line: &sheetCommand{}},
		{Name: "page", Help: "Write the simulator of scenes as one HTML file for a phone.", Line: &pageCommand{}},
		{Name: "measure", Help: "Write the numbers of scenes, as a table or as JSON.", Line: &measureCommand{}},
		{Name: "answers", Help: "Say which set-ups would give what a patient answered.", Line: &answersCommand{}},
		{Name: "cases", Help: "Write cases to learn to read answers by, as PDF, HTML or JSON.", Line: &casesCommand{}},
		{Name: "check", Help: "Check scene files.", Line: &checkCommand{}},
		{Name: "film", Help: "Draw a routine or a moving scene into an MP4, a WebP, an animated PNG or a GIF.", Line: &filmCommand{}},
		{Name: "scenes", Help: "List, show, copy or draw the built-in scenes.", Line: &scenesCommand{}},
	}
}

func main() {
	os.Exit(run(os.Args[1:], call.Standard()))
}

// run runs one command line and gives its exit code.
func run(args []string, s *call.Streams) (code int) {
	p := call.Program{
		Name: "twincord", Description: description, Line: &flags{}, Commands: commands(),
		Vars: kong.Vars{
			"sizes": sizeNames(), "kinds": kindNames(), "pictures": pictureEndings(" or "),
			"languages": strings.Join(words.Languages(), " or "),
		},
	}
	return p.Run(args, s)
}

// wordsIn gives the words of a --language.
func wordsIn(language, units string) (*words.Words, error) {
	say, err := words.For(language)
	if err != nil {
		return nil, call.Bad("--language: %w", err)
	}
	return say.WithInches(units == "in"), nil
}

// told is a scene as it is told in the language of some words.
func told(sc *scenes.Scene, id scenes.Identity, say *words.Words) *scenes.Scene {
	return scenes.TranslationOf(id, say).Scene(sc)
}
