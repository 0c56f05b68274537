// Package live is what a family page shows while somebody pulls on it: one scene at a
// time, its controls, its routine, and its picture as pixels. It knows no page and no
// clock: a script tells it what was done and at which moment, and is told what is seen.
// All of it runs natively too, which is how it is tested.
package live

import (
	"errors"
	"fmt"
	"image"
	"slices"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/raster"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
)

// Scene is a scene as a page holds it.
type Scene struct {
	ID     scenes.Identity
	Source string // the file
	Allow  Allowed
}

// Allowed says what somebody who has the page may change of a scene.
type Allowed string

// What may be allowed.
const (
	Nothing    Allowed = "nothing"    // it is looked at
	Usual      Allowed = "usual"      // where the eyes look and meet, and covers
	Everything Allowed = "everything" // all that has a control
)

// Allows are all of them.
var Allows = []Allowed{Nothing, Usual, Everything}

// Engine shows one scene. New makes one; it is for one goroutine.
type Engine struct {
	say   *words.Words
	scene *scenes.Scene       // as it stands
	told  *scenes.Translation // into the language of say
	id    scenes.Identity
	allow Allowed

	setup   sim.Setup // of the scene, as it is told
	course  *sim.Course
	steps   []routine.Step
	player  *routine.Player
	step    int             // of the routine; −1: it is not gone through
	replies []routine.Other // other answers than the one hoped for, at this step
	heard   int             // the one of them that is shown; −1: the step is

	stands string // what is said of the step

	view, ideal, settled sim.View

	list    display.List
	painter raster.Painter
	pixels  image.RGBA
}

// New is an engine without a scene. It speaks English unless it is told otherwise before
// a scene is opened: reading a language takes its time.
func New() *Engine { return &Engine{course: new(sim.Course), step: none, heard: none} }

// none stands instead of a step while no routine is gone through, and instead of another
// answer while none is shown.
const none = -1

// Speak changes the language, and the unit of lengths.
func (e *Engine) Speak(language string, inches bool) error {
	if e.say == nil || e.say.Language() != language {
		say, err := words.For(language)
		if err != nil {
			return err
		}
		e.say = say
	}
	e.say = e.say.WithInches(inches)
	if e.scene != nil {
		e.told = scenes.TranslationOf(e.id, e.say)
		e.restart()
	}
	return nil
}

// Open shows a scene. Of one that cannot be read it keeps the last.
func (e *Engine) Open(s Scene) error {
	if !slices.Contains(Allows, s.Allow) {
		return fmt.Errorf("%q cannot be allowed; allowed: %v", s.Allow, Allows)
	}
	if e.say == nil {
		if err := e.Speak("en", false); err != nil {
			return err
		}
	}
	sc, err := scenes.Parse(s.ID.Name, []byte(s.Source))
	if err != nil {
		return err
	}
	e.scene, e.id, e.allow, e.step = sc, s.ID, s.Allow, none
	e.told = scenes.TranslationOf(e.id, e.say)
	e.restart()
	return nil
}

// restart begins what is seen of the scene as it stands.
func (e *Engine) restart() {
	told := e.told.Scene(e.scene)
	e.setup = told.Setup
	e.course.Start(&e.setup)
	e.steps = routine.Steps(told)
	e.player = routine.NewPlayer(e.steps)
	if e.step >= len(e.steps) {
		e.step = none
	}
	e.hears()
}

// Cover holds a cover before an eye from a moment on, s since the last change, or takes
// it away: the eyes move as in a cover test.
func (e *Engine) Cover(eye sim.Side, seconds float64) error {
	switch {
	case eye != sim.Right && eye != sim.Left && eye != sim.Neither:
		return fmt.Errorf("%q cannot be covered; allowed: %s, %s, %s", eye, sim.Right, sim.Left, sim.Neither)
	case e.scene == nil:
		return errNoScene
	case e.allow == Nothing:
		return errLocked
	}
	e.course.Cover(eye, seconds)
	return nil
}

var (
	errNoScene = errors.New("no scene is shown")
	errLocked  = errors.New("nothing may be changed in this scene")
)

// Seen is what is seen at a moment.
type Seen struct {
	Sentence string // of a step of the routine, what stands for as long as it lasts
	Meeting  string // where the eyes meet, in words
	Moves    bool   // something is different a moment later
	Right    bool   // one thing is seen, and the strings cross in it
}

// Look sees what is seen at a moment, s since the last change, or since the step of the
// routine or the other answer began.
func (e *Engine) Look(seconds float64) (Seen, error) {
	if e.scene == nil {
		return Seen{}, errNoScene
	}
	var moves bool
	var said string
	switch {
	case e.heard != none:
		moves = e.lookHeard(seconds)
	case e.step != none:
		e.player.Look(&e.view, e.step, seconds)
		said = e.stands
		moves = seconds < e.steps[e.step].Move || !e.player.Still(seconds)
	default:
		e.course.Look(&e.view, seconds)
		moves = !e.course.Still(seconds)
	}
	if said == "" {
		said = e.say.Family(&e.view)
	}
	return Seen{
		Sentence: said, Meeting: e.meeting(),
		Moves: moves, Right: routine.Right(&e.view.Account),
	}, nil
}

// meeting says where the eyes meet, and how far they are off what is looked at. On their
// way there that is no error.
func (e *Engine) meeting() string {
	at, meet := render.Meeting(&e.view)
	where := e.say.Meeting(at, !meet)
	if e.view.Jump() != sim.JumpNone {
		return where
	}
	return e.say.Filled(words.PageMeeting, "Meeting", where, "Off", e.say.Error(&e.view, e.view.Now.Posture.Deviation, words.UnitEso, words.UnitExo))
}

// Picture says how a picture is painted.
type Picture struct {
	Light      bool    // as on paper, for a lit room
	SideBySide bool    // the eyes on the bead beside it
	Marks      bool    // whose image is whose
	Scale      float64 // pixels of the picture for one of the page
}

// Paint paints what was seen last, w by h pixels: red, green, blue and opacity, from the
// upper left. The pixels are good until the next call.
func (e *Engine) Paint(w, h int, p Picture) ([]byte, error) {
	switch {
	case e.scene == nil:
		return nil, errNoScene
	case w < 1 || h < 1 || w > mostPixels/h:
		return nil, fmt.Errorf("a picture of %d × %d pixels cannot be painted; allowed are at most %d of them", w, h, mostPixels)
	}
	frame := display.Rect{W: float64(w), H: float64(h)}
	o := render.PatientOptions{Theme: &theme.Dark, Type: theme.Small * max(p.Scale, 1)}
	if p.Light {
		o.Theme = &theme.Paper
	}
	if p.Marks {
		o.Marks = render.MarksIn(e.say)
	}
	e.list.Reset(frame.W, frame.H, o.Theme.Ground)
	if p.SideBySide {
		s := e.view.Now.OnTarget()
		e.ideal.Look(&s)
		render.Compare(&e.list, frame, &e.ideal, &e.view, o, render.CompareIn(e.say))
	} else {
		render.Patient(&e.list, frame, &e.view, o)
	}
	if size := image.Pt(w, h); e.pixels.Rect.Size() != size {
		need := 4 * w * h
		if cap(e.pixels.Pix) < need {
			e.pixels.Pix = make([]byte, need)
		}
		e.pixels = image.RGBA{Pix: e.pixels.Pix[:need], Stride: 4 * w, Rect: image.Rectangle{Max: size}}
	}
	e.painter.Paint(&e.list, &e.pixels)
	return e.pixels.Pix, nil
}

// mostPixels is the largest picture: far more than a phone has, and still little memory.
const mostPixels = 1 << 22
