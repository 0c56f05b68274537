package desk

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"twincord/render/ui"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// practice is a routine, step by step: what to see, what to ask, and what to try when
// the answer is another one. A hold counts from when it is right, not from a beep.
type practice struct {
	steps  []scenes.Step
	at     int     // the step
	since  float64 // s since it began
	count  float64 // s that were counted
	right  bool    // it was said to be right: the count runs
	run    bool    // it goes on by itself
	last   float64 // Input.Seconds of the last tick
	answer int     // what was said instead, from 1; 0: nothing
	limit  float64 // mm: no nearer than this, since it stayed two there

	d        *Desk
	player   *scenes.Player
	moving   bool
	view     sim.View
	field    sim.Degrees // that shows everything at every step
	aspect   float64     // of the picture that the field is for
	expected string      // what the model expects at the step, in words
	said     []saying
	size     float64 // of their type

	back, play, next *ui.Button
	good, stays      *ui.Button
	answers          [3]*ui.Button
	text, picture    display.Rect
}

// The most that may pass between two ticks and count as time: a computer that slept
// does not make up for it.
const mostBetween = 1.

// practise opens the routine of the scene.
func (d *Desk) practise() {
	steps := d.doc.Scene().RoutineSteps()
	if len(steps) == 0 {
		d.Tell(d.say.Label(words.HintNoRoutine))
		return
	}
	p := &practice{d: d, steps: steps, player: scenes.NewPlayer(steps), last: d.in.Seconds}
	d.open(p)
	p.begin(0)
}

func (p *practice) title(d *Desk) string {
	s := &p.steps[p.at]
	place := d.say.Length(s.At)
	if s.Bead != "" {
		place = d.say.Filled(words.SheetPlace, "Bead", s.Bead, "At", place)
	}
	return d.say.StepOf(p.at+1, len(p.steps), place)
}

func (p *practice) build(d *Desk) []ui.Widget {
	p.back = d.textButton("back", words.ButtonStepBack, words.HintStepBack, func() { p.begin(p.at - 1) })
	p.play = d.textButton("run", words.ButtonRun, words.HintRun, func() { p.run = !p.run })
	p.play.On = func() bool { return p.run }
	p.next = d.textButton("next", words.ButtonStepNext, words.HintStepNext, func() { p.begin(p.following(p.at + 1)) })
	p.good = d.textButton("right", words.ButtonRight, words.HintRight, func() { p.right, p.answer = true, 0 })
	p.good.On = func() bool { return p.right }
	p.stays = d.textButton("stays", words.ButtonStaysTwo, words.HintStaysTwo, p.turnBack)
	labels := [3]words.Label{words.SheetNearer, words.SheetBeyond, words.SheetOne}
	if p.steps[p.at].Bead == "" {
		labels[0], labels[1] = words.SheetBareNearer, words.SheetBareBeyond
	}
	for i, l := range labels {
		p.answers[i] = d.textButton("answer "+strconv.Itoa(i), l, words.HintAnswer, func() {
			p.answer, p.right, p.run, p.count = i+1, false, false, 0
		})
		p.answers[i].On = func() bool { return p.answer == i+1 }
	}
	ws := []ui.Widget{p.back, p.play, p.next, p.good}
	for _, b := range p.answers {
		ws = append(ws, b)
	}
	p.expect()
	return append(ws, p.stays)
}

// expect says what the model expects at the step, once the eyes have come to rest.
func (p *practice) expect() {
	settled := p.steps[p.at].Setup
	settled.Look.From, settled.Hold.SD = sim.Maybe[int]{}, 0
	var v sim.View
	v.Look(&settled)
	p.expected = p.d.say.Family(&v)
}

// following is the first step from i on that is not nearer than what stayed two.
func (p *practice) following(i int) int {
	for i < len(p.steps) && p.steps[i].At < p.limit {
		i++
	}
	return i
}

// begin goes to a step; past the last one it stays at the end.
func (p *practice) begin(i int) {
	if i < 0 || i >= len(p.steps) {
		p.run = false
		return
	}
	p.at, p.since, p.count, p.right, p.answer, p.moving = i, 0, 0, false, 0, true
	p.look()
	p.expect()
}

// turnBack ends the way in where the bead stays two: back to the next place farther
// out, and no closer any more.
func (p *practice) turnBack() {
	here := p.steps[p.at].At
	for i := p.at + 1; i < len(p.steps); i++ {
		if p.steps[i].At > here {
			p.limit = p.steps[i].At
			p.begin(i)
			return
		}
	}
}

// tick lets time go on and says whether anything goes on by itself.
func (p *practice) tick(d *Desk) bool {
	passed := d.in.Seconds - p.last
	p.last = d.in.Seconds
	if passed > mostBetween {
		passed = 0
	}
	s := &p.steps[p.at]
	if !p.runs() {
		return false
	}
	p.since += passed
	if p.run && p.since >= s.Move && right(&p.view.Account) {
		p.right = true
	}
	if p.right && p.since >= s.Move {
		before := math.Floor(p.count)
		p.count = min(p.count+passed, s.Hold)
		if math.Floor(p.count) > before {
			d.beats++
		}
	}
	// Where the model expects nothing to count, it is shown for as long.
	if done := p.count >= s.Hold || !right(&s.Expected) && p.since >= s.Move+s.Hold; p.run && done {
		p.begin(p.following(p.at + 1))
	}
	p.look()
	p.moving = p.since < p.steps[p.at].Move || !p.player.Still(p.since)
	return true
}

// runs says whether anything goes on: the routine by itself, the count, or what moves.
func (p *practice) runs() bool {
	return p.run || p.right && p.count < p.steps[p.at].Hold || p.moving
}

// right says whether there is one thing, and the strings cross in it.
func right(a *sim.Account) bool {
	return (a.Fixated == sim.SeenOne || a.LookedAt == "") && a.Meet == sim.MeetAt
}

// look sees what is seen at the moment.
func (p *practice) look() { p.player.Look(&p.view, p.at, p.since) }

func (p *practice) arrange(d *Desk, area display.Rect) {
	gap := theme.Unit * d.kit.Unit
	column := math.Round(min(0.42*area.W, 460*d.kit.Text))
	_, h := p.back.Size(&d.kit)
	p.picture = display.Rect{X: area.X, Y: area.Y, W: area.W - column - 2*gap, H: area.H - h - 2*gap}
	x := area.X
	for _, b := range []*ui.Button{p.back, p.play, p.next} {
		w, h := b.Size(&d.kit)
		b.Area = display.Rect{X: x, Y: area.Y + area.H - h, W: w, H: h}
		x += w + gap
	}
	// The answers, from the bottom of the column up.
	right := display.Rect{X: area.X + area.W - column, W: column}
	y := area.Y + area.H
	for _, b := range []*ui.Button{p.stays, p.answers[2], p.answers[1], p.answers[0], p.good} {
		_, h := b.Size(&d.kit)
		y -= h
		b.Area = display.Rect{X: right.X, Y: y, W: column, H: h}
		if b == p.stays && p.steps[p.at].Way == scenes.Away {
			b.Area = display.Rect{}
			y += h
		}
	}
	p.text = display.Rect{X: right.X, Y: area.Y, W: column, H: y - area.Y - gap}
	p.fit(d)
	if aspect := p.picture.W / p.picture.H; aspect != p.aspect {
		p.field, p.aspect = 0, aspect
		var v sim.View
		for i := range p.steps {
			v.Look(&p.steps[i].Setup)
			p.field = max(p.field, render.AutoField(&v, aspect, false))
		}
	}
}

func (p *practice) draw(d *Desk, l *display.List, _ display.Rect) {
	render.Patient(l, p.picture, &p.view, render.PatientOptions{Field: p.field})
	s := &p.steps[p.at]
	// The count, as a number and as a bar.
	big := d.kit.Style(theme.Sentence)
	big.Colour = d.kit.Theme.Accent
	lettering.Draw(l, big, p.text.X, p.text.Y+lettering.Ascent(big), lettering.Start,
		d.say.CountOf(int(math.Floor(p.count)), int(math.Round(s.Hold))))
	bar := display.Rect{X: p.text.X, Y: p.text.Y + lettering.LineHeight(big), W: p.text.W, H: 8 * d.kit.Unit}
	d.kit.Plate(l, bar, d.kit.Theme.Raised)
	if share := p.count / s.Hold; share > 0.02 {
		d.kit.Plate(l, display.Rect{X: bar.X, Y: bar.Y, W: bar.W * min(share, 1), H: bar.H}, d.kit.Theme.Accent)
	}
	y := p.textTop(d)
	for _, said := range p.said {
		st := d.kit.Style(p.size)
		if said.heading {
			st.Colour = d.kit.Theme.Muted
		}
		for _, line := range lettering.Wrap(st, said.text, p.text.W) {
			lettering.Draw(l, st, p.text.X, y+lettering.Ascent(st), lettering.Start, line)
			y += lettering.LineHeight(st)
		}
		y += practiceGap * st.Size
	}
}

// practiceGap is the space after a paragraph, of the size of type.
const practiceGap = 0.35

// saying is one paragraph of what there is to say.
type saying struct {
	text    string
	heading bool
}

// textTop is where the text below the count begins.
func (p *practice) textTop(d *Desk) float64 {
	return p.text.Y + lettering.LineHeight(d.kit.Style(theme.Sentence)) + 8*d.kit.Unit + theme.Unit*d.kit.Unit
}

// fit takes the largest type in which all that there is to say has room.
func (p *practice) fit(d *Desk) {
	p.said = p.said[:0]
	if p.answer > 0 {
		p.said = append(p.said, p.says(d)...)
	} else {
		p.said = append(p.said, saying{d.say.Label(words.SheetAsk) + ":", true})
		for _, q := range p.questions() {
			p.said = append(p.said, saying{text: "· " + d.say.Label(q)})
		}
		p.said = append(p.said, saying{d.say.Label(words.PracticeExpected), true}, saying{text: p.expected})
	}
	room := p.text.Y + p.text.H - p.textTop(d)
	for p.size = theme.Lead; p.size > theme.Small; p.size *= 0.96 {
		st, height := d.kit.Style(p.size), 0.
		for _, said := range p.said {
			height += float64(len(lettering.Wrap(st, said.text, p.text.W)))*lettering.LineHeight(st) + practiceGap*st.Size
		}
		if height <= room {
			return
		}
	}
}

// questions are what to ask at the step.
func (p *practice) questions() []words.Label {
	if p.steps[p.at].Bead == "" {
		return []words.Label{words.SheetAskStrings, words.SheetAskCross, words.SheetAskFinger, words.SheetAskClear}
	}
	return []words.Label{words.SheetAskBeads, words.SheetAskStrings, words.SheetAskCross, words.SheetAskClear}
}

// says is what another answer says, and what to try.
func (p *practice) says(d *Desk) []saying {
	bare := p.steps[p.at].Bead == ""
	labels := [3]words.Label{words.SheetNearerSays, words.SheetBeyondSays, words.SheetOneSays}
	if bare {
		labels[0], labels[1] = words.SheetBareNearerSays, words.SheetBareBeyondSays
	}
	all := []saying{{text: d.say.Label(labels[p.answer-1])}, {d.say.Label(words.SheetTry) + ":", true}}
	tries := []words.Label{words.SheetTryBlink, words.SheetTrySlow, words.SheetTryPoint, words.SheetTryTouch, words.SheetTryBack}
	switch {
	case bare:
		tries[3], tries[4] = words.SheetTryFinger, ""
	case d.doc.Scene().Routine.Value.Kind == scenes.Jumps:
		tries[4] = words.SheetTryJump
	}
	for _, t := range tries {
		if t != "" {
			all = append(all, saying{text: "· " + d.say.Label(t)})
		}
	}
	return all
}

// routineSwitch says what is done with the scene.
func (d *Desk) routineSwitch() ui.Widget {
	kinds := []scenes.RoutineKind{scenes.Walk, scenes.Jumps, scenes.BareString}
	o := &ui.Choice{Base: ui.Base{Name: "routine switch", Label: d.say.Key("routine.kind"), Hint: d.say.KeyHint("routine.kind")}}
	o.Texts = append(o.Texts, d.say.Label(words.LabelNone))
	for _, k := range kinds {
		o.Texts = append(o.Texts, d.say.Choice("kind", string(k)))
	}
	o.Get = func() int {
		r := d.doc.Scene().Routine
		for i, k := range kinds {
			if r.OK && r.Value.Kind == k {
				return i + 1
			}
		}
		return 0
	}
	o.Set = func(i int) {
		defer d.doc.Done()
		d.doc.Edit("", func(sc *scenes.Scene) {
			was := sc.Routine
			if sc.Routine = (sim.Maybe[scenes.Routine]{}); i == 0 {
				return
			}
			sc.Routine = sim.Some(fitting(sc, kinds[i-1]))
			if sc.Check() != nil {
				sc.Routine = was
				d.Tell(d.say.Label(words.RoutineCannot))
			}
		})
	}
	return o
}

// fitting is the usual routine of a kind, with as many steps as the string has room
// for.
func fitting(sc *scenes.Scene, kind scenes.RoutineKind) scenes.Routine {
	r := scenes.DefaultRoutine
	r.Kind = kind
	_, nearest := sc.Setup.WalkEnds()
	room := sc.Setup.LookPlace() - nearest
	r.Steps = max(1, min(r.Steps, int(room/r.Step)))
	if room < r.Step {
		r.Step = max(1, math.Floor(room))
	}
	return r
}

// keepRoutine makes the routine one that the scene can do after a change: of the kind
// that what is looked at asks for, with as many steps as there is room for, or none.
func keepRoutine(sc *scenes.Scene) {
	if !sc.Routine.OK {
		return
	}
	r, s := &sc.Routine.Value, &sc.Setup
	if r.Kind == scenes.Jumps {
		for name := range strings.Lines(r.Order) {
			if !slices.ContainsFunc(s.Beads, func(b sim.Bead) bool { return b.Name == strings.TrimSuffix(name, "\n") }) {
				r.Order = ""
			}
		}
		sc.Routine.OK = len(s.Beads) >= 2
	} else {
		r.Kind = scenes.Walk
		if s.FixatedBead() == sim.NoBead {
			r.Kind = scenes.BareString
		}
		_, nearest := s.WalkEnds()
		r.Steps = min(r.Steps, int((s.LookPlace()-nearest)/r.Step+1e-9))
		sc.Routine.OK = r.Steps >= 1
	}
	if !sc.Routine.OK {
		sc.Routine = sim.Maybe[scenes.Routine]{}
	}
}

// practised says when the control of a key of the routine shows.
func (d *Desk) practised(k *scenes.Key) func(*sim.Setup) bool {
	return func(*sim.Setup) bool {
		r := d.doc.Scene().Routine
		return r.OK && (r.Value.Kind != scenes.Jumps || k.Name != "step_mm" && k.Name != "steps")
	}
}
