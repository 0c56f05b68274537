// Package desk is the application without a window: the open document, what has
// the focus, what is being pulled, and where everything stands on the page.
// Update takes what happened and computes; Draw adds what Update decided to a
// display list. There is no window in here and no clock, so that the whole of it
// can be driven and looked at without a display.
//
// The page is in pixels, x to the right and y down. Right and left of a picture
// are the patient's, who looks at the page.
package desk

import (
	"errors"
	"math"
	"slices"
	"time"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
	"twincord/scenes/routine"
	"twincord/sim"
)

// Delays, in seconds.
const (
	settle   = 0.2 // of the sentence after the last change, so that it can be read while something is pulled
	behind   = 1.0 // of the sentence at most, while one change follows the other
	counting = 0.1 // between the numbers while something is pulled
	beat     = 1.0 // between the steps of what moves, with reduced motion
)

// Options say what a desk begins with.
type Options struct {
	Document *document.Document
	Words    *words.Words
	Settings Settings
	// Store is the folder of scenes; nil: there is none. Saver keeps what is unsaved;
	// nil: nobody does.
	Store *document.Store
	Saver document.Autosave
	// Export writes a picture into files and gives their paths; nil: it cannot be.
	Export func(name string, l *display.List) (files []string, err error)
	// Sheet writes the take-home sheet of a scene's routine, Page its family page; nil: it
	// cannot be.
	Sheet, Page Handout
	// Film begins a film of a scene, of a size and a kind of file, and says how far it is;
	// nil: it cannot be. FilmKinds are the kinds that can be made here, the usual one first,
	// of something that moves or of a picture that does not.
	Film      func(name string, sc *scenes.Scene, id scenes.Identity, say *words.Words, size FilmSize, kind FilmKind) FilmJob
	FilmKinds func(moves bool) []FilmKind
	// Show opens a file, or the folder that it is in, with what the system has for it;
	// nil: it cannot be.
	Show func(file string, folder bool) error
	Now  func() time.Time // the clock on the wall; nil: nobody knows the day
	// Keep keeps settings that have changed; nil: they are forgotten.
	Keep    func(Settings) error
	First   bool   // it is the first start: one line of caution is to be acknowledged
	Outside bool   // the document was sent by somebody: the controls are folded away
	Follow  bool   // the family's screen alone, of what somebody else is editing
	Version string // of the program
}

// Handout writes what a family takes home of a scene into files and gives their paths.
// What needs care has somebody who prescribed it.
type Handout func(name string, sc *scenes.Scene, id scenes.Identity, say *words.Words, prescriber string) (files []string, err error)

// Settings are what a person chooses for the window, whatever is open.
type Settings struct {
	Light   bool // the look for a lit room
	Large   bool // large type
	Reduced bool // motion in single steps

	Language string // of the words; empty: as the system has it
	Inches   bool
	Sound    bool // the count of a hold is heard
	Read     bool // the cautions were read

	Folded    bool   // the column is folded away
	Page      int    // of the column
	Groups    uint32 // of the set-up, those that are not as they are at first, a bit each
	NoLetters bool   // a letter alone does nothing

	Screens [knownScreens]Screen // those that were measured, the latest first
}

// Screen is what is known of one screen.
type Screen struct {
	Name        string  // as the system calls it
	PixelsPerMM float64 // 0: it was not measured
	Distance    float64 // from which it is looked at, mm; 0: not known
}

// knownScreens is of how many screens the measure is kept.
const knownScreens = 6

// Desk is the application. New makes one.
type Desk struct {
	kit ui.Kit
	Settings
	given    Options // what it began with: the store, the saver, and what others do for it
	commands []command
	say      *words.Words
	doc      *document.Document
	store    *document.Store
	saver    document.Autosave
	told     *scenes.Translation // as what is open is told
	others   []*kept             // opened before, and set aside
	settled  Settings            // as they were kept last
	beats    int                 // of the count that were not yet heard
	news     news
	closed   bool // the window is to be closed
	windowed bool // the family's screen is a window for once

	// What is seen: the scene as it stands and what is held before the eyes just now.
	setup sim.Setup
	view  sim.View
	// The eyes on the bead, to compare with.
	plain     sim.Setup
	plainView sim.View

	// Time, for set-ups that move.
	course  *sim.Course
	moves   bool // the set-up does
	playing bool
	swings  bool    // the eyes turn, or have turned, since a cover was held
	began   float64 // when the course began, Input.Seconds
	shownAt float64 // the moment of the course that is shown

	in       Input
	dirty    bool // the page is to be drawn again
	seen     int  // the document's changes that are looked at
	wheeled  bool // the wheel was turned since a key was used
	covered  sim.Side
	changed  float64 // when the set-up changed last
	spoke    float64 // when the sentence did
	sentence string
	stale    bool // sentence is of an earlier set-up
	saved    int  // the document's changes that the saver has

	compare, marks, family bool
	simple                 bool // the scene was sent by somebody: nothing but what is to be seen
	trueSize               bool
	zoom                   float64  // field of the picture, degrees; 0 is automatic
	buttonCover            sim.Side // by a button that is held
	bead                   int      // the bead that the controls are about
	copied                 string

	inquiry inquiry
	banding banding

	casework casework

	layout layout
	clip   display.Rect // of the column that is drawn
	page   page
	over   overlay
	overs  []ui.Widget
	back   string // what had the focus before it was opened

	// The texts at the handles, and those that stay.
	targetText, meetingText string
	facts                   []fact
	counted                 float64               // when the numbers were
	clinical                []words.Part          // what there is to tell clinicians
	turning                 [2]sim.Maybe[float64] // on the string: where it breaks, where it returns
	above                   render.AboveLabels
	front                   render.FrontLabels
	comparison              render.CompareLabels
	explain                 *render.Marks
	demand                  render.DemandLabels
	fixed                   fixedTexts
}

// fixedTexts are labels that are drawn on every page.
type fixedTexts struct {
	fromAbove, front, nose, infinity, part, edge, care, suppression string
	unsaved                                                         string
}

// New opens a document.
func New(o Options) *Desk {
	d := &Desk{
		given: o, commands: commandTable(), doc: o.Document, store: o.Store, saver: o.Saver,
		Settings: o.Settings, settled: o.Settings, covered: sim.Neither, buttonCover: sim.Neither, family: o.Follow, simple: o.Outside,
	}
	d.course = sim.NewCourse(&d.doc.Scene().Setup)
	d.bead = max(0, d.doc.Scene().Setup.FixatedBead())
	d.speakIn(o.Words)
	d.seen, d.saved = d.doc.Changes(), d.doc.Changes()
	d.Page = max(0, min(d.Page, columnPages-1))
	d.restart()
	d.turn()
	d.look()
	d.speak()
	return d
}

// speakIn takes another language or unit.
func (d *Desk) speakIn(say *words.Words) {
	d.say = say
	d.told = scenes.TranslationOf(d.doc.Identity(), say)
	d.above, d.comparison, d.explain, d.front = render.AboveIn(say), render.CompareIn(say), render.MarksIn(say), render.FrontIn(say)
	d.fixed = fixedTexts{
		fromAbove: say.Label(words.FromAbove), front: say.Label(words.LabelFront),
		nose: say.Label(words.Nose), infinity: say.Label(words.Infinity), part: say.Label(words.EyesPart),
		edge: say.Label(words.CautionEdge), care: say.Label(words.CautionCare),
		suppression: say.Label(words.CautionSuppression),
		unsaved:     say.Label(words.Unsaved),
	}
	d.demand = render.DemandIn(say)
	d.demand.Title = "" // the column has it over the chart
	d.build()
	d.dirty = true
}

// Title is what the window is called: the scene and its sentence, for those who
// have the window read out.
func (d *Desk) Title() string { return d.heading() + ": " + d.sentence }

// heading is the name of the scene.
func (d *Desk) heading() string {
	if t := d.doc.Scene().Title; t != "" {
		return d.told.Title(t)
	}
	return d.doc.Identity().Short()
}

// Closed says whether the window is to be closed.
func (d *Desk) Closed() bool { return d.closed }

// FullScreen says whether the page should have the whole screen.
func (d *Desk) FullScreen() bool { return d.family && !d.windowed }

// Copied gives what was copied since it was asked last, for the clipboard.
func (d *Desk) Copied() (text string, ok bool) {
	text, d.copied = d.copied, ""
	if text == "" {
		text = d.kit.Cut()
	}
	return text, text != ""
}

// Beats gives how many beats of a count there were since it was asked last, for those
// who want to hear them.
func (d *Desk) Beats() (n int) {
	n, d.beats = d.beats, 0
	if !d.Sound {
		return 0
	}
	return n
}

// Due is the time of the next Update that is needed if nothing happens, on the
// clock of Input.Seconds.
func (d *Desk) Due() (seconds float64, ok bool) {
	seconds = math.Inf(1)
	if d.restless() {
		seconds = d.rests()
	}
	if o, ok := d.over.(running); ok && o.runs() {
		seconds = min(seconds, d.in.Seconds)
	}
	if d.asks() && d.inquiry.working() || d.banding.work != nil && d.banded() {
		seconds = min(seconds, d.in.Seconds)
	}
	switch {
	case d.swings && !d.playing && (d.covered == sim.Neither || !d.course.Still(d.shownAt)):
		seconds = min(seconds, d.in.Seconds)
	case !d.playing:
	case d.Reduced:
		seconds = min(seconds, d.began+d.shownAt+beat)
	default:
		seconds = min(seconds, d.in.Seconds)
	}
	return seconds, !math.IsInf(seconds, 1)
}

// restless says whether there is anything to do once the set-up has come to rest. Where there
// is not, nobody is woken to show what is seen already.
func (d *Desk) restless() bool {
	return d.stale && (d.counts() || d.unbanded() || d.say.Family(&d.view) != d.sentence)
}

// rests is when the sentence that is stale is made anew.
func (d *Desk) rests() float64 { return max(d.changed, d.spoke) + settle }

// Setup is the set-up as it stands. It must not be changed.
func (d *Desk) Setup() *sim.Setup { return &d.setup }

// View is what is seen in it. It must not be changed.
func (d *Desk) View() *sim.View { return &d.view }

// Words are the words of the window.
func (d *Desk) Words() *words.Words { return d.say }

// Update takes what happened since the last call and says whether the page looks
// different for it. What is seen is computed anew in the same call.
func (d *Desk) Update(in Input) (changed bool) {
	d.listen(&in)
	d.acknowledge(&in)
	d.dirty = d.dirty || in.W != d.in.W || in.H != d.in.H || in.Scale != d.in.Scale
	if d.dirty {
		d.in = in
		d.arrange()
	}
	d.in = in
	if d.kit.Turn(&in.Input, d.reached(), d.press, d.typedElsewhere) {
		d.dirty = true
	}
	switch {
	case len(in.Keys)+len(in.Text) > 0:
		d.wheeled = false
	case in.Wheel != 0:
		d.wheeled = true
	}
	d.follow()
	d.tick()
	d.inquire()
	d.band()
	if d.dirty {
		d.dirty = false
		d.arrange()
		if d.reveal() {
			d.arrange()
		}
		return true
	}
	return false
}

// follow looks again if what is seen has changed.
func (d *Desk) follow() {
	changed := d.doc.Changes() != d.seen
	cover := d.cover()
	if cover == d.covered && !changed {
		return
	}
	turned := cover != d.covered
	d.covered = cover
	switch {
	case changed:
		d.restart()
	case turned:
		d.hold()
	}
	if changed {
		d.seen = d.doc.Changes()
		d.save()
		d.turn()
		if !slices.EqualFunc(d.page.names, d.doc.Scene().Setup.Beads, func(n string, b sim.Bead) bool { return n == b.Name }) {
			d.build()
		}
	}
	if !d.stale {
		d.spoke = d.in.Seconds // until now the sentence was true
	}
	d.changed, d.stale = d.in.Seconds, true
	d.look()
	d.dirty = true
	if o, ok := d.over.(renewing); ok && changed {
		o.renew(d)
	}
}

// cover is the eye that a key or a button covers just now.
func (d *Desk) cover() sim.Side {
	switch {
	case d.in.Unfocused || d.over != nil:
		return sim.Neither
	case d.buttonCover != sim.Neither:
		return d.buttonCover
	case d.writing(), d.NoLetters:
		return sim.Neither
	case d.in.CoverRight:
		return sim.Right
	case d.in.CoverLeft:
		return sim.Left
	}
	return sim.Neither
}

// Writes says whether text goes where it is typed, and not to commands.
func (d *Desk) Writes() bool {
	_, ok := d.kit.Focus.(ui.Typing)
	return ok
}

// writing says whether letters go into a text.
func (d *Desk) writing() bool {
	t, ok := d.kit.Focus.(ui.Typing)
	return ok && t.Open()
}

// restart begins the course of the set-up as it stands.
func (d *Desk) restart() {
	d.setup = d.doc.Scene().Setup
	d.setup.Beads = d.told.Beads(d.setup.Beads)
	d.course.Start(&d.setup)
	d.began, d.shownAt, d.swings = d.in.Seconds, 0, false
	d.moves = !d.course.Still(0)
	d.playing = d.playing && d.moves
	if d.covered != sim.Neither {
		d.hold()
	}
}

// The course begins so long before a cover is held, s, and with reduced motion the eyes
// are shown so long after, when they have come to rest.
const (
	beforeCover = 0.02
	afterCover  = 3
)

// hold holds a cover before an eye, or takes it away: the eyes then turn as in a cover
// test.
func (d *Desk) hold() {
	if !d.playing && !d.swings {
		d.began, d.swings = d.in.Seconds-beforeCover, true
	}
	d.course.Cover(d.covered, d.in.Seconds-d.began)
	if d.Reduced && !d.playing {
		d.began -= afterCover
	}
	d.shownAt = d.in.Seconds - d.began
}

// swing lets the eyes go on that turn after a cover was held or taken away, until they
// are at rest.
func (d *Desk) swing(now float64) {
	switch {
	case !d.swings || d.playing:
		return
	case !d.course.Still(d.shownAt):
		d.shownAt = now - d.began
	case d.covered == sim.Neither:
		d.swings, d.shownAt = false, 0
	default:
		return
	}
	d.look()
	d.stale, d.dirty = true, true
}

// tick does what time brings.
func (d *Desk) tick() {
	now := d.in.Seconds
	if o, ok := d.over.(running); ok && o.tick(d) {
		d.dirty = true
	}
	d.swing(now)
	if d.playing {
		at := now - d.began
		if d.Reduced {
			at = math.Floor(at/beat) * beat
		}
		if at != d.shownAt {
			d.shownAt = at
			d.look()
			d.stale, d.dirty = true, true
		}
		if d.course.Still(d.shownAt) {
			d.playing = false
		}
	}
	switch {
	case d.stale && now >= d.rests():
		d.speak()
		d.spoke = now
	case d.stale && now >= d.spoke+behind:
		d.tell()
		d.spoke = now
	}
	if d.Settings != d.settled {
		d.keepSettings()
	}
}

// keepSettings keeps settings that have changed.
func (d *Desk) keepSettings() {
	d.settled = d.Settings
	if d.given.Keep == nil {
		return
	}
	if err := d.given.Keep(d.Settings); err != nil {
		d.Warn(err.Error())
	}
}

// save hands the document to the saver.
func (d *Desk) save() {
	if d.saver == nil || d.saved == d.doc.Changes() {
		return
	}
	d.saver.Offer(d.doc.Snapshot())
	d.saved = d.doc.Changes()
}

// Autosaved says whether what is unsaved is kept, after there were news of it.
func (d *Desk) Autosaved() {
	err := d.saver.Err()
	if err == nil {
		d.Tell(d.say.Label(words.AutosaveAgain))
		return
	}
	label := words.AutosaveFails
	switch document.TroubleOf(err) {
	case document.Full:
		label = words.AutosaveFull
	case document.Denied:
		label = words.AutosaveDenied
	}
	d.Warn(d.say.Label(label))
}

// Reload takes over what has become of the scene's file on the disk, as a step that
// can be undone.
func (d *Desk) Reload() {
	changed, err := d.doc.Reload()
	switch {
	case errors.Is(err, document.ErrChanged):
		d.Warn(d.say.Label(words.FileChanged))
	case err != nil:
		d.Warn(err.Error())
	case changed:
		d.Tell(d.say.Label(words.Reloaded))
	}
	d.dirty = true
}

// Show shows a scene that somebody else is editing, and which one it is.
func (d *Desk) Show(sc *scenes.Scene, id scenes.Identity) {
	d.take(document.New(sc, "").From(id), nil)
}

// look computes what is seen.
func (d *Desk) look() {
	if d.playing || d.swings {
		d.course.Look(&d.view, d.shownAt)
	} else {
		d.view.Look(&d.setup)
	}
	d.targetText = d.say.Aimed(d.view.Account.LookedAt, d.view.Target.At)
	at, meet := render.Meeting(&d.view)
	d.meetingText = d.say.Meeting(at, !meet)
	if now := d.in.Seconds; now >= d.counted+counting || now < d.counted {
		d.recount()
	}
	if d.compare {
		d.plain = d.setup.OnTarget()
		d.plainView.Look(&d.plain)
	}
}

// tell makes the sentence that of what is seen.
func (d *Desk) tell() {
	was := d.sentence
	d.sentence = d.say.Family(&d.view)
	d.dirty = d.dirty || d.sentence != was
}

// speak makes the sentence and the numbers those of what is seen.
func (d *Desk) speak() {
	d.tell()
	d.stale = false
	d.recount()
}

// counts says whether the numbers show.
func (d *Desk) counts() bool { return d.Page == numbersPage && !d.folded() && !d.family }

// recount works out the numbers, if they show.
func (d *Desk) recount() {
	if !d.counts() {
		return
	}
	d.counted, d.dirty = d.in.Seconds, true
	d.clinical = d.say.Clinical(&d.view)
	d.count()
}

// folded says whether the column is folded away.
func (d *Desk) folded() bool { return d.Folded || d.simple }

// edit changes the set-up. Edits of the same step are one step of the history until
// done. What the change leaves must be a set-up that a file can hold.
func (d *Desk) edit(step string, change func(*sim.Setup)) {
	d.doc.Edit(step, func(sc *scenes.Scene) {
		change(&sc.Setup)
		routine.Keep(sc)
	})
}

// try makes a change if what it leaves is a scene, and says whether it is.
func (d *Desk) try(step string, change func(*scenes.Scene)) (ok bool) {
	d.doc.Edit(step, func(sc *scenes.Scene) {
		was := *sc
		was.Setup = sc.Setup.Clone()
		change(sc)
		routine.Keep(sc)
		if ok = sc.Check() == nil; !ok {
			*sc = was
		}
	})
	return ok
}

// fieldOfView is the field of the picture, degrees.
func (d *Desk) fieldOfView() float64 {
	switch {
	case d.trueSize:
		return min(d.trueField(), mostTrueField)
	case d.zoom != 0:
		return d.zoom
	}
	return d.wholeField()
}

// wholeField is the field that shows everything, degrees.
func (d *Desk) wholeField() float64 {
	frame := d.layout.picture
	if d.compare {
		return float64(render.CompareField(frame, &d.plainView, &d.view, false))
	}
	return float64(render.AutoField(&d.view, frame.W/frame.H, false))
}

// zoomBy makes the field of the picture that many times as wide.
func (d *Desk) zoomBy(times float64) {
	d.zoom = max(render.LeastField, min(d.fieldOfView()*times, render.MostField))
	d.trueSize = false
}

// cautious says whether the set-up is one of those that nobody should train for alone
// (M20).
func (d *Desk) cautious() bool { return d.view.Account.NeedsCare }

// cautions are those that are due: of pictures that move where the set-up does, or a
// routine goes from step to step.
func (d *Desk) cautions() []string {
	return d.say.CautionsDue(&d.view.Account, d.moves || d.doc.Scene().Routine.OK)
}

// dress takes the look that was chosen.
func (d *Desk) dress() {
	d.kit.Theme = &theme.Dark
	if d.Light {
		d.kit.Theme = &theme.Light
	}
}

// largeType is how much larger large type is.
const largeType = 1.3
