// Package made is what both programs make of a scene in the same way: its
// pictures, its film, its take-home sheet, its page for a family.
package made

import (
	"bytes"
	"io"

	"twincord/cmd/internal/call"
	"twincord/render"
	"twincord/render/browser"
	"twincord/render/browser/live"
	"twincord/render/display"
	"twincord/render/film"
	"twincord/render/pdf"
	"twincord/render/sheet"
	"twincord/render/svg"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
)

// Pictures are the formats of pictures, by the ending of their files.
var Pictures = map[string]func(io.Writer, *display.List) error{".png": film.WritePNG, ".svg": svg.Write}

// Name is what to call a scene: its title, else its name.
func Name(sc *scenes.Scene, id scenes.Identity) string {
	if sc.Title != "" {
		return sc.Title
	}
	return id.Name
}

// Film is the script of the film of a scene: its patient's view, of a routine with captions.
func Film(sc *scenes.Scene, id scenes.Identity, say *words.Words, w, h, rate int) film.Script {
	return film.Script{
		Name: Name(sc, id), Setup: sc.Setup, Steps: routine.Steps(sc),
		W: w, H: h, Rate: rate, Caption: sc.Routine.OK,
		Picture: render.Picture{Kind: render.OfPatient, Say: say},
	}
}

// Sheet is the take-home sheet of a scene with a routine, on A4. Its places are on
// marks of the ruler of its units.
func Sheet(sc *scenes.Scene, id scenes.Identity, say *words.Words) *sheet.Sheet {
	mark := routine.Millimetre
	if say.Inches() {
		mark = routine.QuarterInch
	}
	sc = routine.OnMarks(scenes.TranslationOf(id, onSheet{say}).Scene(sc), mark)
	return &sheet.Sheet{
		Kind: sc.Routine.Value.Kind, Title: sc.Title, Note: sc.Note,
		Words: say, Paper: pdf.A4, Steps: routine.Steps(sc), Maker: call.Version(),
	}
}

// onSheet is how a built-in scene is told on a sheet: as an example, which is no note of
// anybody's to a family.
type onSheet struct{ *words.Words }

func (onSheet) SceneTitle(string, string) string  { return "" }
func (o onSheet) SceneNote(string, string) string { return o.Label(words.SheetInvented) }

// OnPage is a scene as a page has it that a family pulls on; source is its file.
func OnPage(sc *scenes.Scene, id scenes.Identity, source []byte, prescriber string) browser.Scene {
	p := browser.Scene{ID: id, Source: source, Allow: live.Usual, Prescribed: prescriber}
	if sc.Routine.OK {
		p.Sheet = func(say *words.Words) *sheet.Sheet { return Sheet(sc, id, say) }
	}
	return p
}

// Page is the page of one scene as it stands, in some words first.
func Page(sc *scenes.Scene, id scenes.Identity, say *words.Words, prescriber string) (*browser.Page, error) {
	source, err := File(sc)
	if err != nil {
		return nil, err
	}
	return &browser.Page{
		Scenes:   []browser.Scene{OnPage(sc, id, source, prescriber)},
		Language: say.Language(), Inches: say.Inches(),
	}, nil
}

// File is the file that holds a scene.
func File(sc *scenes.Scene) ([]byte, error) {
	var b bytes.Buffer
	err := sc.Write(&b)
	return b.Bytes(), err
}
