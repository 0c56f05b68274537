package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"twincord/cmd/internal/call"
	"twincord/render/display"
	"twincord/render/film"
	"twincord/render/sheet"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
)

type scenesCommand struct {
	List   scenesList   `cmd:"" help:"List the built-in scenes."`
	Show   scenesShow   `cmd:"" help:"Write a built-in scene's file to the standard output."`
	Copy   scenesCopy   `cmd:"" help:"Copy a built-in scene into a file, to change it."`
	Draw   scenesDraw   `cmd:"" help:"Draw all built-in scenes into a folder, with a page that shows them."`
	Schema scenesSchema `cmd:"" help:"Write the JSON Schema of scene files."`
}

type scenesList struct{}

func (*scenesList) Run(s *call.Streams) error {
	t := tabwriter.NewWriter(s.Out, 0, 0, 2, ' ', 0)
	for _, e := range scenes.Library() {
		kind := "scene"
		if e.Scene.Routine.OK {
			kind = "routine"
		}
		fmt.Fprintf(t, "%s\t%s\t%s\n", e.Name, kind, e.Scene.Title)
	}
	return t.Flush()
}

// builtIn finds a built-in scene.
func builtIn(name string) (scenes.Entry, error) {
	var names []string
	for _, e := range scenes.Library() {
		if e.Name == name {
			return e, nil
		}
		names = append(names, e.Name)
	}
	return scenes.Entry{}, call.Bad("%s: no built-in scene; there are%s", name, scenes.InColumns(names))
}

type scenesShow struct {
	Name string `arg:"" help:"Name of a built-in scene."`
}

func (c *scenesShow) Run(s *call.Streams) error {
	e, err := builtIn(c.Name)
	if err != nil {
		return err
	}
	_, err = s.Out.Write(e.Source)
	return err
}

type scenesCopy struct {
	Name     string `arg:"" help:"Name of a built-in scene."`
	File     string `arg:"" help:"File to write."`
	Size     string `help:"Give the patient an average size by age: ${sizes}." placeholder:"NAME"`
	Language string `help:"Write its title, its note and the names of its beads in a language: ${languages}." placeholder:"NAME"`
	Force    bool   `help:"Replace the file if it exists."`
}

// Help is an example.
func (*scenesCopy) Help() string {
	return "Example: twincord scenes copy middle-of-three mine.toml --size child-7"
}

func (c *scenesCopy) Run(*call.Streams) error {
	e, err := builtIn(c.Name)
	if err != nil {
		return err
	}
	if info, err := os.Lstat(c.File); err == nil && !c.Force && !info.IsDir() {
		return call.Bad("%s: exists already; --force replaces it", c.File)
	}
	write := contents(e.Source)
	if c.Size != "" {
		size, ok := sim.SizeNamed(c.Size)
		if !ok {
			return call.Bad("--size %s: no size of that name; there are %s", c.Size, sizeNames())
		}
		size.Fill(&e.Scene.Setup)
		e.Scene.Note = "" // it tells of the example as it was, often by its numbers
		write = e.Scene.Write
	}
	if c.Language != "" {
		say, err := wordsIn(c.Language, "cm")
		if err != nil {
			return err
		}
		write = told(e.Scene, scenes.Identify(e.Name), say).Write
	}
	return replace(c.File, write)
}

// sizeNames are the names of the sizes by age.
func sizeNames() string {
	var names []string
	for _, z := range sim.Sizes() {
		names = append(names, z.Name)
	}
	return strings.Join(names, ", ")
}

type scenesSchema struct{}

func (*scenesSchema) Run(s *call.Streams) error { return scenes.WriteSchema(s.Out) }

type scenesDraw struct {
	Folder   string `arg:"" help:"Folder to write into; made if it is not there."`
	Language string `default:"en" help:"Language of the words: ${languages}."`
	Units    string `enum:"cm,in" default:"cm" help:"Lengths in the words in cm or in (inches)."`
}

// Run draws each scene as a PNG and writes index.html beside them.
func (c *scenesDraw) Run(s *call.Streams) error {
	say, err := wordsIn(c.Language, c.Units)
	if err != nil {
		return err
	}
	if err := makeFolder(c.Folder); err != nil {
		return err
	}
	return untilStopped(c.Folder, func(ctx context.Context) error { return c.draw(ctx, s, say) })
}

func (c *scenesDraw) draw(ctx context.Context, s *call.Streams, say *words.Words) error {
	gallery := sheet.Gallery{
		Language: say.Language(), Title: say.Label(words.GalleryTitle), Lead: say.Label(words.GalleryLead),
		ContentsTitle: say.Label(words.GalleryContents), CautionsTitle: say.Label(words.CautionsTitle), Cautions: say.Cautions(),
	}
	shown := map[string]bool{}
	for _, e := range scenes.Library() {
		id := scenes.Identify(e.Name)
		sc := told(e.Scene, id, say)
		png, sentence, err := telling(sc, id, say, shown)
		if err != nil {
			return err
		}
		file := e.Name + ".png"
		if err := replaceIn(ctx, filepath.Join(c.Folder, file), contents(png)); err != nil {
			return err
		}
		gallery.Pictures = append(gallery.Pictures, sheet.GalleryPicture{
			ID: e.Name, File: file, Width: galleryWidth, Height: galleryHeight,
			Title: sc.Title, Note: sc.Note, Sentence: sentence,
		})
	}
	index := filepath.Join(c.Folder, "index.html")
	if err := replaceIn(ctx, index, func(w io.Writer) error { return sheet.WriteGallery(w, &gallery) }); err != nil {
		return err
	}
	_, err := fmt.Fprintf(s.Out, "%d pictures, shown by %s\n", len(gallery.Pictures), index)
	return err
}

// The size of the pictures in a gallery.
const galleryWidth, galleryHeight = 960, 600

// telling is the first picture of a scene, as PNG, that is not among those shown, and
// what is seen in it: the patient's view at a moment that tells, else another view.
// Scenes in which the same is seen for another reason differ in those.
func telling(sc *scenes.Scene, id scenes.Identity, say *words.Words, shown map[string]bool) (png []byte, sentence string, err error) {
	sc, at := moment(sc, say)
	views := []string{viewPatient, viewEachEye, viewAbove, viewFront}
	if sc.Setup.Findings.OK {
		views = []string{viewPatient, viewDemand, viewEachEye, viewAbove, viewFront}
	}
	var l display.List
	for _, view := range views {
		sentence = picture(&l, galleryWidth, galleryHeight, sc, id, say, &drawCommand{View: view, Centre: "fixation", At: at, Light: true})
		var b bytes.Buffer
		if err := film.WritePNG(&b, &l); err != nil {
			return nil, "", err
		}
		if png = b.Bytes(); !shown[b.String()] {
			break
		}
	}
	shown[string(png)] = true
	return png, sentence, nil
}

// moment is a scene with the moment that tells most of it: of a routine the step at
// which the hold is lost, else one in its middle; of what moves the first moment at
// which another sentence is said than at the beginning.
func moment(sc *scenes.Scene, say *words.Words) (at *scenes.Scene, seconds float64) {
	if sc.Routine.OK {
		steps := routine.Steps(sc)
		step := &steps[len(steps)/4] // of a way there and back, in the middle there
		for i := range steps {
			if steps[i].LetGo {
				step = &steps[i]
				break
			}
		}
		still := *sc
		still.Setup = step.Setup
		return &still, 0
	}
	course := sim.NewCourse(&sc.Setup)
	if course.Still(0) {
		return sc, 0
	}
	var v sim.View
	course.Look(&v, 0)
	first := say.Family(&v)
	const step, longest = 0.1, 10. // s
	for t := step; t < longest; t += step {
		if course.Look(&v, t); say.Family(&v) != first {
			return sc, t
		}
	}
	return sc, longest / 2
}
