package main

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"twincord/cmd/internal/call"
	"twincord/cmd/internal/made"
	"twincord/render"
	"twincord/render/display"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

type drawCommand struct {
	Scene   string  `arg:"" help:"Scene file or built-in scene; - is the standard input."`
	Output  string  `short:"o" required:"" placeholder:"FILE" help:"File to write, ${pictures}. An existing one is replaced."`
	View    string  `enum:"patient,above,front,each-eye,demand" default:"patient" help:"What to draw: patient, above, front, each-eye or demand."`
	Size    string  `default:"1280x800" placeholder:"WxH" help:"Size in pixels, 160x120 to 7680x4320; left out, 1280x800."`
	Field   float64 `placeholder:"DEG" help:"Field from the upper to the lower edge, 10 to 90 degrees; left out, what shows every bead."`
	Compare bool    `help:"Draw the eyes on the bead beside this set-up."`
	Centre  string  `enum:"fixation,head" default:"fixation" help:"What stays in place: fixation, or head (straight ahead)."`
	Marks   bool    `help:"Mark whose image is whose, the crossing and what is seen as one."`
	Light   bool    `help:"On white, for print."`
	Bare    bool    `help:"Leave out the line that says what the picture is: a model's expected view, no test."`
	At      float64 `placeholder:"SECONDS" help:"The moment, from 0 to 3600 s after the start; left out, 0."`

	Language string `default:"en" help:"Language of the words: ${languages}."`
	Units    string `enum:"cm,in" default:"cm" help:"Lengths in the labels in cm or in (inches)."`
}

// Help is an example.
func (*drawCommand) Help() string {
	return "Example: twincord draw too-near-doubled -o picture.png --compare"
}

// The sizes that a picture may have.
const (
	leastWidth, leastHeight = 160, 120
	mostWidth, mostHeight   = 7680, 4320
)

// The views.
const (
	viewPatient = string(render.OfPatient)
	viewAbove   = string(render.OfAbove)
	viewFront   = string(render.OfFront)
	viewEachEye = string(render.OfEachEye)
	viewDemand  = string(render.OfDemand)
)

func (c *drawCommand) Run(s *call.Streams) error {
	write, err := c.writer()
	if err != nil {
		return err
	}
	w, h, err := sizeOf(c.Size)
	if err != nil {
		return err
	}
	if err := cmp.Or(fieldAllowed(c.Field), c.agree()); err != nil {
		return err
	}
	if err := notItself(c.Scene, c.Output); err != nil {
		return err
	}
	sc, id, err := call.Scene(c.Scene, s)
	if err != nil {
		return err
	}
	if c.View == viewDemand && !sc.Setup.Findings.OK {
		return call.Bad("%s: --view %s needs a scene with [findings], of which there are none", id, viewDemand)
	}
	say, err := wordsIn(c.Language, c.Units)
	if err != nil {
		return err
	}
	var l display.List
	picture(&l, w, h, told(sc, id, say), id, say, c)
	return replace(c.Output, func(out io.Writer) error { return write(out, &l) })
}

// writer is how the list is written, by the ending of the file.
func (c *drawCommand) writer() (func(io.Writer, *display.List) error, error) {
	ending := strings.ToLower(filepath.Ext(c.Output))
	write, ok := made.Pictures[ending]
	if !ok {
		return nil, call.Bad("%s: what ends in %q cannot be drawn, %s can", c.Output, ending, pictureEndings(" and "))
	}
	return write, nil
}

// pictureEndings names the endings of pictures.
func pictureEndings(and string) string {
	return strings.Join(slices.Sorted(maps.Keys(made.Pictures)), and)
}

// sizeOf reads a size in pixels.
func sizeOf(size string) (w, h int, err error) {
	ws, hs, ok := strings.Cut(size, "x")
	w, errW := strconv.Atoi(ws)
	h, errH := strconv.Atoi(hs)
	if !ok || errW != nil || errH != nil || w < leastWidth || h < leastHeight || w > mostWidth || h > mostHeight {
		return 0, 0, call.Bad("--size %s: must be WxH in pixels, from %dx%d to %dx%d", size, leastWidth, leastHeight, mostWidth, mostHeight)
	}
	return w, h, nil
}

// fieldAllowed refuses a field that no picture has; 0 is none asked for.
func fieldAllowed(field float64) error {
	if field != 0 && !(field >= render.LeastField && field <= render.MostField) {
		return call.Bad("--field %v: must be from %d to %d degrees", field, render.LeastField, render.MostField)
	}
	return nil
}

// agree says whether the options go together.
func (c *drawCommand) agree() error {
	switch {
	case c.Compare && c.View != viewPatient:
		return call.Bad("--compare goes with --view %s alone", viewPatient)
	case c.Marks && c.View != viewPatient:
		return call.Bad("--marks goes with --view %s alone", viewPatient)
	case (c.View == viewAbove || c.View == viewFront || c.View == viewDemand) && (c.Field != 0 || c.Centre != "fixation"):
		return call.Bad("--view %s takes neither --field nor --centre", c.View)
	case !(c.At >= 0 && c.At <= latest):
		return call.Bad("--at: %v s, allowed is 0 to %d", c.At, latest)
	}
	return nil
}

// picture fills the list with what a draw command asks for, and says what is seen.
func picture(l *display.List, w, h int, sc *scenes.Scene, id scenes.Identity, say *words.Words, c *drawCommand) (sentence string) {
	var v sim.View
	sim.NewCourse(&sc.Setup).Look(&v, c.At)
	look := &theme.Dark
	if c.Light {
		look = &theme.Paper
	}
	o := render.PatientOptions{Field: sim.Degrees(c.Field), HeadCentred: c.Centre == "head", Theme: look}
	if c.Marks {
		o.Marks = render.MarksIn(say)
	}
	p := render.Picture{Kind: render.Kind(c.View), Compare: c.Compare, Options: o, Say: say}
	frame := display.Rect{W: float64(w), H: float64(h)}
	l.Reset(frame.W, frame.H, p.Ground())
	if !c.Bare {
		frame = render.Bounded(l, frame, say.Label(words.PictureBounds), look)
	}
	sentence = p.Sentence(&v)
	l.Title = fmt.Sprintf("%s: %s", made.Name(sc, id), sentence)
	p.Paint(l, frame, &v)
	return sentence
}
