package desk

import (
	"math"
	"reflect"
	"slices"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
)

// practice is a routine, step by step: what to see, what to ask, and what to try when
// the answer is another one. A hold counts from when it is right, not from a beep.
type practice struct {
	kind   routine.Kind
	steps  []routine.Step
	at     int             // the step
	since  float64         // s since it began
	count  float64         // s that were counted
	right  bool            // it was said to be right: the count runs
	run    bool            // it goes on by itself
	last   float64         // Input.Seconds of the last tick
	others []routine.Other // what else may be said at the step
	other  *routine.Other  // what was said instead, of these; nil: nothing
	limit  float64         // mm: no nearer than this, since it stayed two there
	over   bool            // the last step is done

	d        *Desk
	player   *routine.Player
	moving   bool
	view     sim.View
	fields   []sim.Degrees // that show everything, for each step
	aspect   float64       // of the picture that the fields are for
	expected string        // what the model expects at the step, in words
	said     []saying
	size     float64    // of their type
	wide     float64    // how wide their lines are, pixels
	scroll   *ui.Scroll // where they need more room than there is

	back, play, next *ui.Button
	good, stays      *ui.Button
	again, ask       *ui.Button
	sheet            *ui.Button
	ideal, heard     sim.View // beside each other, where another answer was given
	pair             render.CompareLabels
	answers          []heardButton
	text, picture    display.Rect
}

// heardButton is the button of another answer.
type heardButton struct {
	*ui.Button
	answer routine.Answer
}

// The most that may pass between two ticks and count as time: a computer that slept
// does not make up for it.
const mostBetween = 1.

// practise opens the routine of the scene, which has one.
func (d *Desk) practise() {
	kind, steps := d.routine()
	p := &practice{d: d, kind: kind, steps: steps, player: routine.NewPlayer(steps), last: d.in.Seconds}
	d.open(p)
	d.kit.SetFocus(p.next) // Enter goes through it
	p.begin(0)
}

// routine is that of the scene, and its steps; none where it has none.
func (d *Desk) routine() (routine.Kind, []routine.Step) {
	return d.doc.Scene().Routine.Value.Kind, routine.Steps(d.told.Scene(d.doc.Scene()))
}

// renew begins the routine that the scene has by now, if it is another one: a scene can be
// given a title meanwhile.
func (p *practice) renew(d *Desk) {
	if kind, steps := d.routine(); kind == p.kind && reflect.DeepEqual(steps, p.steps) {
		return
	}
	d.closeOverlay()
	d.run(d.command("practise"))
}

func (p *practice) title(d *Desk) string {
	if p.over {
		return d.say.Label(words.PracticeEnd)
	}
	s := &p.steps[p.at]
	place := d.say.Length(s.At)
	if s.Bead != "" {
		place = d.say.Filled(words.SheetPlace, "Bead", s.Bead, "At", place)
	}
	return d.say.StepOf(p.at+1, len(p.steps), place)
}

func (p *practice) build(d *Desk) []ui.Widget {
	p.back = d.textButton("back", words.ButtonStepBack, words.HintStepBack, p.goBack)
	p.back.Cannot, p.back.Why = func() bool { return p.at == 0 && !p.over }, d.say.Label(words.StepIsFirst)
	p.play = d.textButton("run", words.ButtonRun, words.HintRun, func() { p.run = !p.run })
	p.play.On = func() bool { return p.run }
	p.next = d.textButton("next", words.ButtonStepNext, words.HintStepNext, func() { p.begin(p.following(p.at + 1)) })
	p.next.Cannot = func() bool { return p.over }
	p.next.On = func() bool { return !p.over && p.count >= p.steps[p.at].Hold } // it is what to press
	p.next.Why = d.say.Label(words.StepWasLast)
	p.play.Cannot, p.play.Why = p.next.Cannot, p.next.Why
	p.again = d.textButton("again", words.PracticeAgain, words.HintAgain, func() { p.limit = 0; p.begin(0) })
	p.pair = render.CompareLabels{OnTheBead: d.say.Label(words.PracticeIdeal), ThisSetup: d.say.Label(words.PracticeSaid)}
	p.good = d.textButton("right", words.ButtonRight, words.HintRight, func() { p.right, p.other = true, nil })
	p.good.On = func() bool { return p.right }
	p.stays = d.textButton("stays", words.ButtonStaysTwo, words.HintStaysTwo, p.turnBack)
	p.stays.Cannot, p.stays.Why = func() bool { return p.farther() == len(p.steps) }, d.say.Label(words.NothingFarther)
	p.answers = nil
	for _, a := range routine.EveryAnswer(p.kind) {
		b := &ui.Button{Base: ui.Base{Name: "answer " + string(a), Hint: d.say.Label(words.HintAnswer)}, Text: d.say.OtherAnswer(string(a))}
		b.Do = func() { p.hear(a) }
		b.On = func() bool { return p.other != nil && p.other.Answer == a }
		p.answers = append(p.answers, heardButton{b, a})
	}
	ws := []ui.Widget{p.back, p.play, p.next, p.good}
	for _, b := range p.answers {
		ws = append(ws, b.Button)
	}
	p.expect()
	p.ask = d.textButton("ask", words.ButtonSaidOther, words.HintSaidOther, func() { d.askAt(p.at) })
	p.sheet = d.commandButton("sheet")
	if p.scroll == nil {
		p.scroll = d.columnScroll("said")
	}
	return append(ws, p.stays, p.ask, p.sheet, p.again, p.scroll)
}

// expect says what the model expects at the step, once the eyes have come to rest.
func (p *practice) expect() {
	var v sim.View
	p.steps[p.at].Look(&v)
	p.expected = p.d.say.Family(&v)
}

// goBack goes to the step before, from the end to the last one.
func (p *practice) goBack() {
	if p.over {
		p.begin(p.at)
		return
	}
	p.begin(p.at - 1)
}

// otherAt is another answer that may be given at the step, or nil.
func (p *practice) otherAt(a routine.Answer) *routine.Other {
	i := slices.IndexFunc(p.others, func(o routine.Other) bool { return o.Answer == a })
	if i < 0 {
		return nil
	}
	return &p.others[i]
}

// hear takes another answer, and sees what it says beside what is hoped for.
func (p *practice) hear(a routine.Answer) {
	p.other, p.right, p.run, p.count = p.otherAt(a), false, false, 0
	p.scroll.Top = 0
	ideal, heard := p.steps[p.at].Setup.OnTarget(), p.other.Shows[0]
	ideal.Look.From, heard.Look.From = sim.Maybe[int]{}, sim.Maybe[int]{}
	p.ideal.Look(&ideal)
	p.heard.Look(&heard)
}

// following is the first step from i on that is not nearer than what stayed two.
func (p *practice) following(i int) int {
	for i < len(p.steps) && p.steps[i].At < p.limit {
		i++
	}
	return i
}

// begin goes to a step; past the last one is the end.
func (p *practice) begin(i int) {
	if i < 0 {
		return
	}
	p.scroll.Top = 0
	if p.over = i >= len(p.steps); p.over {
		p.run, p.right, p.moving, p.other = false, false, false, nil
		p.since = p.steps[p.at].Move // however soon one went on: the bead is there, and the eyes
		p.steps[p.at].Look(&p.view)
		return
	}
	p.at, p.since, p.count, p.right, p.other, p.moving = i, 0, 0, false, nil, true
	p.others = routine.Others(p.kind, p.steps[i:i+1])
	p.look()
	p.expect()
}

// turnBack ends the way in where the bead stays two: back to the next place farther
// out, and no closer any more.
func (p *practice) turnBack() {
	if i := p.farther(); i < len(p.steps) {
		p.limit = p.steps[i].At
		p.begin(i)
	}
}

// farther is the next step that is farther out, or past the last one.
func (p *practice) farther() int {
	i := p.at + 1
	for i < len(p.steps) && p.steps[i].At <= p.steps[p.at].At {
		i++
	}
	return i
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
	if p.run && p.since >= s.Move && routine.Right(&p.view.Account) {
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
	if done := p.count >= s.Hold || !routine.Right(&s.Expected) && p.since >= s.Move+s.Hold; p.run && done {
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

// look sees what is seen at the moment.
func (p *practice) look() { p.player.Look(&p.view, p.at, p.since) }

// arrange puts what is said and the answers beside the picture or, where the page is taller
// than wide, under it.
func (p *practice) arrange(d *Desk, area display.Rect) {
	gap := theme.Unit * d.kit.Unit
	_, h := p.back.Size(&d.kit)
	bottom := area.Y + area.H
	column := math.Round(min(0.42*area.W, 460*d.kit.Text))
	right := display.Rect{X: area.X + area.W - column, Y: area.Y, W: column, H: h}
	p.picture = display.Rect{X: area.X, Y: area.Y, W: area.W - column - 2*gap, H: area.H - h - 2*gap}
	p.text = right
	under := area.H > area.W
	if under {
		right.W = math.Floor(area.W/2 - gap)
		right.X = area.X + area.W - right.W
		p.picture = display.Rect{X: area.X, Y: area.Y, W: area.W, H: math.Round(underShare * area.H)}
		p.text = display.Rect{X: area.X, Y: area.Y + p.picture.H + gap, W: right.W}
	}
	x := area.X
	for _, b := range []*ui.Button{p.back, p.play, p.next} {
		w, h := b.Size(&d.kit)
		b.Area = display.Rect{X: x, Y: bottom - h, W: w, H: h}
		x += w + gap
	}
	// The answers, from the bottom of the column up.
	right.Y = bottom
	for _, row := range slices.Backward(p.rows(d, right.W)) {
		right.Y -= h
		spread(&d.kit, row, right)
	}
	p.text.H = right.Y - gap - p.text.Y
	if under {
		p.text.H = bottom - h - 2*gap - p.text.Y
	}
	p.fit(d)
	p.keepFocus()
	if aspect := p.picture.W / p.picture.H; aspect != p.aspect {
		p.aspect = aspect
		p.measure()
	}
}

// underShare is how much of a page that is taller than wide the picture has.
const underShare = 0.55

// keepFocus gives the focus of what can do nothing any more to what goes on.
func (p *practice) keepFocus() {
	d := p.d
	if f := d.kit.Focus; f == nil || f.Self().Shown() && !f.Self().Off {
		return
	}
	if p.over {
		d.kit.SetFocus(d.overs[len(d.overs)-1])
	} else {
		d.kit.SetFocus(p.next)
	}
}

// rows are the buttons of the column, from above: what is said, as many beside each other
// as there is room for, and then what else there is to do.
func (p *practice) rows(d *Desk, column float64) [][]*ui.Button {
	if p.over {
		return [][]*ui.Button{{p.sheet}, {p.again}}
	}
	rows := [][]*ui.Button{{p.good}, nil}
	wide := 0.
	for _, b := range p.answers {
		if b.Area = (display.Rect{}); p.otherAt(b.answer) == nil {
			continue
		}
		w, _ := b.Size(&d.kit)
		if last := len(rows) - 1; rows[last] != nil && wide+w > column {
			rows, wide = append(rows, nil), 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], b.Button)
		wide += w
	}
	if p.stays.Area = (display.Rect{}); p.steps[p.at].Way != routine.Away {
		rows = append(rows, []*ui.Button{p.stays})
	}
	return append(rows, []*ui.Button{p.ask})
}

// spread puts buttons beside each other so that they fill a row.
func spread(k *ui.Kit, row []*ui.Button, area display.Rect) {
	spare := area.W
	for _, b := range row {
		w, _ := b.Size(k)
		spare -= w
	}
	for _, b := range row {
		w, _ := b.Size(k)
		area.W = w + spare/float64(len(row))
		b.Area = area
		area.X += area.W
	}
}

// measure finds the fields that show everything: one for each place that a bead is moved
// to, and the field with it, so that a long walk does not make it small; where the eyes
// jump, one for all, so that nothing changes its scale.
func (p *practice) measure() {
	var v sim.View
	p.fields = p.fields[:0]
	for i := range p.steps {
		v.Look(&p.steps[i].Setup)
		p.fields = append(p.fields, render.AutoField(&v, p.aspect, false))
	}
	if routine.Moved(p.steps) {
		return
	}
	widest := slices.Max(p.fields)
	for i := range p.fields {
		p.fields[i] = widest
	}
}

func (p *practice) draw(d *Desk, l *display.List, _ display.Rect) {
	if p.other != nil {
		render.Compare(l, p.picture, &p.ideal, &p.heard, render.PatientOptions{Type: theme.Small * d.kit.Text}, p.pair)
	} else {
		render.Patient(l, p.picture, &p.view, render.PatientOptions{Field: routine.Along(p.steps, p.fields, p.at, p.since)})
	}
	if !p.over {
		p.drawCount(d, l)
	}
	if !p.scroll.Long() {
		p.drawSaid(d, l)
		return
	}
	l.Rect(p.scroll.Area)
	l.OpenClip()
	p.drawSaid(d, l)
	p.scroll.DrawEdge(&d.kit, l, d.kit.Theme.Panel)
	l.End()
}

// drawCount draws the count, as a number and as a bar.
func (p *practice) drawCount(d *Desk, l *display.List) {
	s := &p.steps[p.at]
	big := d.kit.Style(theme.Sentence)
	big.Colour = d.kit.Theme.Accent
	lettering.Draw(l, big, p.text.X, p.text.Y+lettering.Ascent(big), lettering.Start,
		d.say.CountOf(int(math.Floor(p.count)), int(math.Round(s.Hold))))
	bar := display.Rect{X: p.text.X, Y: p.text.Y + lettering.LineHeight(big), W: p.text.W, H: 8 * d.kit.Unit}
	d.kit.Plate(l, bar, d.kit.Theme.Raised)
	if share := p.count / s.Hold; share > 0.02 {
		d.kit.Plate(l, display.Rect{X: bar.X, Y: bar.Y, W: bar.W * min(share, 1), H: bar.H}, d.kit.Theme.Accent)
	}
}

// drawSaid draws what there is to say, as it is scrolled.
func (p *practice) drawSaid(d *Desk, l *display.List) {
	y := p.scroll.Area.Y - math.Round(p.scroll.Top)
	for _, said := range p.said {
		st := d.kit.Style(p.size)
		if said.heading {
			st.Colour = d.kit.Theme.Muted
		}
		in := said.in(st)
		if said.item {
			lettering.Draw(l, st, p.text.X, y+lettering.Ascent(st), lettering.Start, bullet)
		}
		for _, line := range lettering.Wrap(st, said.text, p.wide-in) {
			lettering.Draw(l, st, p.text.X+in, y+lettering.Ascent(st), lettering.Start, line)
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
	item    bool // of a list
}

// bullet stands before the items of a list.
const bullet = "•"

// in is how far a paragraph is set in.
func (s *saying) in(st lettering.Style) float64 {
	if s.item {
		return lettering.Width(st, bullet+" ")
	}
	return 0
}

// fit takes the largest type in which all that there is to say has room; where the smallest
// one has none it scrolls.
func (p *practice) fit(d *Desk) {
	p.say(d)
	s := p.scroll
	s.Area, p.wide = p.text, p.text.W
	if !p.over {
		count := lettering.LineHeight(d.kit.Style(theme.Sentence)) + 8*d.kit.Unit + theme.Unit*d.kit.Unit
		s.Area.Y, s.Area.H = s.Area.Y+count, s.Area.H-count
	}
	for p.size = theme.Lead; ; p.size *= 0.96 {
		if s.Height = p.height(d); !s.Long() || p.size <= theme.Small {
			break
		}
	}
	if s.Long() {
		p.wide = s.Room(&d.kit)
		s.Height = p.height(d)
	}
	s.To(s.Top)
	s.Skip = !s.Long()
}

// height is that of all that there is to say.
func (p *practice) height(d *Desk) (height float64) {
	st := d.kit.Style(p.size)
	for _, said := range p.said {
		height += float64(len(lettering.Wrap(st, said.text, p.wide-said.in(st))))*lettering.LineHeight(st) + practiceGap*st.Size
	}
	return height
}

// say collects what there is to say: at the end what holds for all of it, after another
// answer what that means, else what to ask, and what is expected.
func (p *practice) say(d *Desk) {
	p.said = p.said[:0]
	switch {
	case p.over:
		if len(p.steps[p.at].Setup.Beads) > 1 {
			p.said = append(p.said, saying{text: d.say.Label(words.SheetOthers)})
		}
		p.said = append(p.said, saying{text: d.say.Label(words.CautionStop)}, saying{text: d.say.Label(words.CautionAfter)})
	case p.other != nil:
		p.said = append(p.said, p.says(d)...)
	default:
		p.said = append(p.said, saying{text: d.say.Label(words.SheetAsk) + ":", heading: true})
		for _, q := range routine.Questions(p.kind) {
			p.said = append(p.said, saying{text: d.say.Ask(string(q)), item: true})
		}
		p.said = append(p.said, saying{text: d.say.Label(words.PracticeExpected), heading: true}, saying{text: p.expected})
	}
}

// says is what another answer means, what to try, and when to stop.
func (p *practice) says(d *Desk) []saying {
	all := []saying{{text: d.say.Means(string(p.other.Answer))}, {text: d.say.Label(words.SheetTry) + ":", heading: true}}
	for _, try := range p.other.Answer.Tries(p.kind) {
		all = append(all, saying{text: d.say.Try(string(try)), item: true})
	}
	return append(all, saying{text: d.say.Label(words.SheetStopWhen) + ":", heading: true}, saying{text: d.say.StopWhen(string(p.other.Stop()))})
}

// routineSwitch says what is done with the scene.
func (d *Desk) routineSwitch() ui.Widget {
	kinds := scenes.RoutineKinds
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
			sc.Routine = sim.Some(routine.Usual(sc, kinds[i-1]))
			if sc.Check() != nil {
				sc.Routine = was
				d.Warn(d.say.Label(words.RoutineCannot))
			}
		})
	}
	return o
}

// practised says whether the control of a key of the routine shows.
func (d *Desk) practised(k *scenes.Key) bool {
	r := d.doc.Scene().Routine
	return r.OK && (r.Value.Kind != routine.Jumps || k.Name != "step_mm" && k.Name != "steps")
}
