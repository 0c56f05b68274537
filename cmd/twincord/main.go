// Command twincord shows and computes what a patient sees along a Brock string. The
// window is a program of its own, twincord-window, which this one starts.
package main

import (
	"os"

	"github.com/alecthomas/kong"

	"twincord/cmd/internal/call"
	"twincord/render/words"
	"twincord/scenes"
)

const description = `What a patient sees along a Brock string.

A model's expected view for an average eye: no test, no diagnosis, no promise.
SCENE is a scene file, or the name of a built-in one (twincord scenes list).`

// commands is the command line.
type commands struct {
	Window  windowCommand  `cmd:"" default:"withargs" help:"Open a scene in a window."`
	Draw    drawCommand    `cmd:"" help:"Draw a scene into a PNG or SVG file."`
	Sheet   sheetCommand   `cmd:"" help:"Write what a family takes home of a routine, as PDF or HTML."`
	Page    pageCommand    `cmd:"" help:"Write the simulator of scenes as one HTML file for a phone."`
	Measure measureCommand `cmd:"" help:"Write the numbers of scenes, as a table or as JSON."`
	Answers answersCommand `cmd:"" help:"Say which set-ups would give what a patient answered."`
	Cases   casesCommand   `cmd:"" help:"Write cases to learn to read answers by, as PDF, HTML or JSON."`
	Check   checkCommand   `cmd:"" help:"Check scene files."`
	Film    filmCommand    `cmd:"" help:"Draw a routine or a moving scene into an MP4, a WebP, an animated PNG or a GIF."`
	Scenes  scenesCommand  `cmd:"" help:"List, show, copy or draw the built-in scenes."`

	Version kong.VersionFlag `help:"Say which version this is."`
}

func main() {
	os.Exit(run(os.Args[1:], call.Standard()))
}

// run runs one command line and gives its exit code.
func run(args []string, s *call.Streams) (code int) {
	p := call.Program{
		Name: "twincord", Description: description, Line: &commands{},
		Vars: kong.Vars{"sizes": sizeNames(), "kinds": kindNames()},
	}
	return p.Run(args, s)
}

// wordsIn gives the words of a --language.
func wordsIn(language string) (*words.Words, error) {
	say, err := words.For(language)
	if err != nil {
		return nil, call.Bad("--language: %w", err)
	}
	return say, nil
}

// told is a scene as it is told in the language of some words.
func told(sc *scenes.Scene, id scenes.Identity, say *words.Words) *scenes.Scene {
	return scenes.TranslationOf(id, say).Scene(sc)
}
