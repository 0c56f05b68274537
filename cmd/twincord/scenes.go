package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"twincord/render/display"
	"twincord/render/sheet"
	"twincord/render/words"
	"twincord/scenes"
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

func (*scenesList) Run(s *streams) error {
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
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
	return scenes.Entry{}, bad("%s: no built-in scene; there are %s", name, strings.Join(names, ", "))
}

type scenesShow struct {
	Name string `arg:"" help:"Name of a built-in scene."`
}

func (c *scenesShow) Run(s *streams) error {
	e, err := builtIn(c.Name)
	if err != nil {
		return err
	}
	_, err = s.out.Write(e.Source)
	return err
}

type scenesCopy struct {
	Name  string `arg:"" help:"Name of a built-in scene."`
	File  string `arg:"" help:"File to write."`
	Size  string `help:"Give the patient an average size by age: ${sizes}." placeholder:"NAME"`
	Force bool   `help:"Replace the file if it exists."`
}

// Help is an example.
func (*scenesCopy) Help() string {
	return "Example: twincord scenes copy middle-of-three mine.toml --size child-7"
}

func (c *scenesCopy) Run(*streams) error {
	e, err := builtIn(c.Name)
	if err != nil {
		return err
	}
	if _, err := os.Lstat(c.File); err == nil && !c.Force {
		return bad("%s: exists already; --force replaces it", c.File)
	}
	write := func(w io.Writer) error {
		_, err := w.Write(e.Source)
		return err
	}
	if c.Size != "" {
		size, ok := sim.SizeNamed(c.Size)
		if !ok {
			return bad("--size %s: no size of that name; there are %s", c.Size, sizeNames())
		}
		size.Fill(&e.Scene.Setup)
		write = e.Scene.Write
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

func (*scenesSchema) Run(s *streams) error { return scenes.WriteSchema(s.out) }

type scenesDraw struct {
	Folder string `arg:"" help:"Folder to write into; made if it is not there."`
}

// Run draws each scene as a PNG and writes index.html beside them.
func (c *scenesDraw) Run(s *streams) error {
	if err := os.MkdirAll(c.Folder, 0o755); err != nil {
		var pe *fs.PathError
		if errors.As(err, &pe) {
			err = pe.Err
		}
		return bad("%s: cannot be made: %w", c.Folder, err)
	}
	say, err := words.For("en")
	if err != nil {
		return err
	}
	var l display.List
	gallery := sheet.Gallery{
		Language: say.Language(), Title: say.Label(words.GalleryTitle),
		Lead: say.Label(words.GalleryLead), CautionsTitle: say.Label(words.CautionsTitle), Cautions: say.Cautions(),
	}
	for _, e := range scenes.Library() {
		v := new(sim.View)
		v.Look(&e.Scene.Setup)
		file := e.Name + ".png"
		picture(&l, galleryWidth, galleryHeight, e.Scene, scenes.Identify(e.Name), say, &drawCommand{View: viewPatient, Centre: "fixation"})
		if err := replace(filepath.Join(c.Folder, file), func(w io.Writer) error { return writePNG(w, &l) }); err != nil {
			return err
		}
		gallery.Pictures = append(gallery.Pictures, sheet.GalleryPicture{
			File: file, Width: galleryWidth, Height: galleryHeight,
			Title: e.Scene.Title, Note: e.Scene.Note, Sentence: say.Family(v),
		})
	}
	index := filepath.Join(c.Folder, "index.html")
	if err := replace(index, func(w io.Writer) error { return sheet.WriteGallery(w, &gallery) }); err != nil {
		return err
	}
	_, err = fmt.Fprintf(s.out, "%d pictures, shown by %s\n", len(gallery.Pictures), index)
	return err
}

// The size of the pictures in a gallery.
const galleryWidth, galleryHeight = 960, 600
