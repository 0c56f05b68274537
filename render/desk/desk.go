// Package desk is the application without a window: the open set-up, what has
// the focus, what is being pulled, and where everything stands on the page.
// Update takes what happened and computes; Draw adds what Update decided to a
// display list. There is no window in here and no clock, so that the whole of it
// can be driven and looked at without a display.
//
// The page is in pixels, x to the right and y down. Right and left of a picture
// are the patient's, who looks at the page.
package desk

import (
	"math"
	"slices"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/words"
	"twincord/sim"
)

// settle is how long the sentence waits after the last change, in seconds, so
// that it can be read while something is pulled.
const settle = 0.2

// Desk is the application. New makes one.
type Desk struct {
	say   *words.Words
	name  string
	setup sim.Setup
	// place is where the eyes are meant to look, mm along the string; setup.Look
	// follows from it.
	place float64
	// carrier is the bead that the target was put on, so that it goes where the
	// bead goes, or NoBead.
	carrier int
	view    sim.View

	// The eyes on the bead, to compare with.
	plain     sim.Setup
	plainView sim.View

	in Input
	// Of what is pulled: what Esc gives back, where it was taken, and how far the
	// handle was from there, pixels.
	before state
	from   display.Point
	grab   float64
	moved  bool

	layout layout
	parts  []part // in the order of the focus

	// The texts at the handles, and those that stay.
	targetText, meetingText, deviationText string
	buttons                                [4]string // from compareButton on
	above                                  render.AboveLabels
	comparison                             render.CompareLabels
	ui
}

// ui is what the page shows besides the set-up. Two equal ones of equal set-ups
// are the same page.
type ui struct {
	w, h, scale float64
	edits       int // counts the changes of the set-up
	changedAt   float64
	sentence    string
	stale       bool // sentence is of an earlier set-up

	focus, hover, pulled part
	ring                 bool    // the focus was moved by keys and is to be shown
	keyed                bool    // a key was used since the pointer moved
	zoom                 float64 // field of the picture, degrees; 0 is automatic
	compare, full        bool
	field                field
}

// part is something that can be pointed at or have the focus.
type part struct {
	kind partKind
	bead int // of a bead: its number in the set-up
}

type partKind uint8

const (
	nothing partKind = iota
	target
	meeting
	bead
	deviation // the number beside the meeting place
	compareButton
	widerButton
	closerButton
	fullButton
	picture
)

// New opens a copy of a set-up under the name of its scene.
func New(name string, s sim.Setup, say *words.Words) *Desk {
	s.Beads = slices.Clone(s.Beads)
	d := &Desk{say: say, name: name, setup: s, carrier: s.Look.Bead, place: s.Look.At}
	if d.carrier != sim.NoBead {
		d.place = s.Beads[d.carrier].At
	}
	for i, b := range [...]words.Label{words.ButtonCompare, words.ButtonWider, words.ButtonCloser, words.ButtonFull} {
		d.buttons[i] = say.Label(b)
	}
	d.above, d.comparison = render.AboveIn(say), render.CompareIn(say)
	d.look()
	d.speak()
	return d
}

// Title is what the window is called: the scene and its sentence, for those who
// have the window read out.
func (d *Desk) Title() string { return d.name + ": " + d.sentence }

// FullScreen says whether the page should have the whole screen.
func (d *Desk) FullScreen() bool { return d.full }

// Due is the time of the next Update that is needed if nothing happens, on the
// clock of Input.Seconds.
func (d *Desk) Due() (seconds float64, ok bool) { return d.changedAt + settle, d.stale }

// Setup is the set-up as it stands. It must not be changed.
func (d *Desk) Setup() *sim.Setup { return &d.setup }

// View is what is seen in it. It must not be changed.
func (d *Desk) View() *sim.View { return &d.view }

// Update takes what happened since the last call and says whether the page looks
// different for it. What is seen is computed anew in the same call.
func (d *Desk) Update(in Input) (changed bool) {
	was := d.ui
	d.keyed = (d.keyed || len(in.Keys) > 0) && in.Pointer == d.in.Pointer && !in.Pressed
	d.in = in
	d.w, d.h, d.scale = in.W, in.H, in.Scale
	d.arrange()

	d.typed(in.Text)
	for _, p := range in.Keys {
		d.press(p)
	}
	d.point()
	d.turnWheel()
	if d.edits != was.edits {
		d.look()
		d.changedAt, d.stale = in.Seconds, true
	}
	if d.stale && in.Seconds >= d.changedAt+settle {
		d.speak()
	}
	if d.ui != was {
		d.arrange()
		return true
	}
	return false
}

// look computes what is seen.
func (d *Desk) look() {
	d.view.Look(&d.setup)
	d.targetText = d.say.Aimed(d.view.Account.LookedAt, d.view.Target.FromEyes)
	meet := vergenceX(d.view.Axes.Vergence, d.setup.Patient.PD, 1)
	d.meetingText = d.say.Meeting(threeDigits(xDistance(meet)), meet >= 1)
	d.deviationText = d.say.Deviation(d.setup.Posture.Deviation)
	if !d.compare {
		return
	}
	d.plain = d.setup.OnTarget()
	d.plainView.Look(&d.plain)
}

// threeDigits is a length to the nearest millimetre, and to no more than three
// digits.
func threeDigits(mm float64) float64 {
	step := math.Pow(10, math.Max(0, math.Floor(math.Log10(math.Max(mm, 1)))-2))
	return math.Round(mm/step) * step
}

// speak makes the sentence that of the set-up as it stands.
func (d *Desk) speak() {
	d.sentence = d.say.Family(&d.view)
	d.stale = false
}
