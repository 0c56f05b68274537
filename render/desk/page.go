package desk

import (
	"math"
	"slices"

	"twincord/render/display"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/sim"
)

// page is everything that can be pointed at or have the focus, but for overlays.
type page struct {
	names     []string // of the beads that it was made for
	told      []string // the same as they are told
	handles   []*handle
	deviation *ui.Number // beside the meeting place
	above     []*handle
	front     []*handle
	images    []*handle // in the picture
	picture   *picture
	bands     *strip

	play, wider, closer *ui.Button
	tools               []signed // of the header
	menu                *ui.Menu // among them
	controls            *ui.Button
	through             *ui.Button // the routine, where the controls are folded away
	readMore            *ui.Button
	leave               *ui.Button // of the family's screen
	covers              [2]*ui.Button
	tabs                *ui.Choice
	columns             [columnPages]column
	ofBead              []ui.Typing // fields of the bead that is chosen

	plain  []signed
	steady []ui.Widget // the buttons that are always there, in the order of the focus
	paged  [columnPages][]ui.Widget
	order  []ui.Widget
}

// signed is a button that may stand as a sign.
type signed interface {
	ui.Widget
	AsSign(bool)
}

// coverKeys are the keys that do so while they are held.
var coverKeys = [2]words.Label{words.KeyRightCover, words.KeyLeftCover}

// picture is the patient's view, which the wheel zooms.
type picture struct {
	ui.Base
	d *Desk
}

// Wheel zooms.
func (p *picture) Wheel(_ *ui.Kit, notches float64) bool {
	p.d.zoomBy(math.Pow(zoomStep, -notches))
	return true
}

// build makes the widgets, for the words, the beads and the document as they are. What
// has the focus keeps it.
func (d *Desk) build() {
	focus := d.focused()
	d.kit.Focus, d.kit.Hover, d.buttonCover = nil, nil, sim.Neither
	if d.kit.Pulled != nil {
		d.kit.Release()
	}
	p := &d.page
	p.names, p.told = nil, nil
	s := &d.doc.Scene().Setup
	for _, b := range s.Beads {
		p.names = append(p.names, b.Name)
		p.told = append(p.told, d.told.Bead(s.Beads, b.Name))
	}
	d.bead = max(0, min(d.bead, len(p.names)-1))
	p.picture = &picture{Base: ui.Base{Name: "picture", Hint: d.say.Label(words.HintPicture), Skip: true, Behind: true}, d: d}
	p.bands = d.newStrip()
	d.buildHandles()
	d.buildButtons()
	d.buildColumn()
	p.deviation = d.deviationNumber()
	p.steady = append(p.steady[:0], p.readMore, p.controls)
	for _, b := range p.tools {
		p.steady = append(p.steady, b)
	}
	p.steady = append(p.steady, p.play, p.wider, p.closer, p.leave)
	if d.over != nil {
		d.buildOverlay()
	}
	d.buildNews()
	d.focusOn(focus)
}

// focused is the name of what has the focus; empty: nothing has.
func (d *Desk) focused() string {
	if d.kit.Focus == nil {
		return ""
	}
	return d.kit.Focus.Self().Name
}

// focusOn gives the focus to what has a name, where it is still there.
func (d *Desk) focusOn(name string) {
	if name == "" {
		return
	}
	for _, w := range d.widgets() {
		if w.Self().Name == name {
			d.kit.SetFocus(w)
		}
	}
}

// buildHandles makes what can be pulled, wherever that is.
func (d *Desk) buildHandles() {
	p := &d.page
	pd, iris := d.say.Label(words.HintPd), d.say.Label(words.HintIris)
	p.handles = []*handle{
		{Base: ui.Base{Name: "target", Hint: d.say.Label(words.HintTarget)}, kind: target},
		{Base: ui.Base{Name: "meeting", Hint: d.say.Label(words.HintMeet)}, kind: meeting},
	}
	// Keys have the bar: the hints of what is pulled elsewhere name none.
	meets, beads := d.say.Label(words.HintMeetSeen), d.say.Label(words.HintBeadSeen)
	p.above = []*handle{
		{Base: ui.Base{Name: "target above", Hint: d.say.Label(words.HintTargetSeen)}, kind: target},
		{Base: ui.Base{Name: "meeting above", Hint: meets}, kind: meeting},
		{Base: ui.Base{Name: "anchor", Hint: d.say.Label(words.HintAnchor)}, kind: anchor},
		{Base: ui.Base{Name: "right eye", Hint: pd}, kind: rightEye},
		{Base: ui.Base{Name: "left eye", Hint: pd}, kind: leftEye},
	}
	p.front = []*handle{
		{Base: ui.Base{Name: "right iris", Hint: iris}, kind: rightEye},
		{Base: ui.Base{Name: "left iris", Hint: iris}, kind: leftEye},
	}
	p.images = []*handle{{Base: ui.Base{Name: "meeting seen", Hint: meets}, kind: meeting}}
	for i, name := range p.names {
		p.handles = append(p.handles, &handle{Base: ui.Base{Name: "bead " + name, Hint: d.say.BeadHint(p.told[i])}, kind: bead, bead: i})
		p.above = append(p.above, &handle{Base: ui.Base{Name: "bead above " + name, Hint: beads}, kind: bead, bead: i})
		for eye := range sim.Eyes {
			p.images = append(p.images, &handle{
				Base: ui.Base{Name: "bead seen " + name + [2]string{" right", " left"}[eye], Hint: beads},
				kind: bead, bead: i, eye: eye,
			})
		}
	}
	for at, hs := range [...][]*handle{onBar: p.handles, fromAbove: p.above, inFront: p.front, inPicture: p.images} {
		for _, h := range hs {
			h.d, h.where = d, where(at)
			h.Skip = h.where != onBar
		}
	}
}

// buildButtons makes the buttons that stand outside the column.
func (d *Desk) buildButtons() {
	p := &d.page
	p.tools = p.tools[:0]
	for _, name := range [...]string{"scenes", "save", "undo", "redo", "compare", "marks", "family"} {
		p.tools = append(p.tools, d.commandButton(name))
	}
	p.menu = d.menu()
	p.tools = append(p.tools, p.menu, d.commandButton("column"))
	p.controls = d.textButton("controls", words.ButtonControls, words.HintColumn, d.showControls)
	p.play, p.wider, p.closer = d.commandButton("play"), d.commandButton("wider"), d.commandButton("closer")
	p.readMore = d.textButton("read more", words.ReadMore, words.HintReadMore, func() { d.openAbout(); d.Read = true })
	p.leave = d.textButton("leave", words.Close, words.HintFamily, func() { d.run(d.command("family")) })
	if d.given.Follow {
		p.leave = d.textButton("leave", words.CloseWindow, words.HintFollowing, func() { d.closed = true })
	}
	for eye := range sim.Eyes {
		side := eye.Side()
		label, hint := words.ButtonCoverRight, words.HintCoverRight
		if eye == sim.LeftEye {
			label, hint = words.ButtonCoverLeft, words.HintCoverLeft
		}
		b := d.textButton("cover "+string(side), label, hint, nil)
		b.Hold = func(down bool) {
			d.buttonCover = sim.Neither
			if down {
				d.buttonCover = side
			}
		}
		p.covers[eye] = b
	}
	p.through = d.commandButton("practise")
	p.through.Main, p.through.Hint, p.through.Name = true, d.keyed(p.through), "through"
}

// buildColumn makes the pages of the column.
func (d *Desk) buildColumn() {
	p := &d.page
	p.tabs = &ui.Choice{Base: ui.Base{Name: "tabs", Hint: d.say.Label(words.HintPages)}, Tabs: true}
	for _, l := range columnLabels {
		p.tabs.Texts = append(p.tabs.Texts, d.say.Label(l))
	}
	p.tabs.Get = func() int { return d.Page }
	p.tabs.Set = d.turnTo
	for i, make := range [columnPages]func() []block{d.buildViews, d.buildSetup, d.buildNumbers, d.buildAnswers} {
		c := &p.columns[i]
		c.blocks, c.wide = make(), i == answersPage || i == viewsPage
		if c.scroll == nil {
			c.scroll = d.columnScroll("page")
		}
		p.paged[i] = p.paged[i][:0]
		for _, b := range c.blocks {
			p.paged[i] = append(p.paged[i], b.widgets()...)
		}
	}
}

// columnScroll is the ground of a column, a stop of the focus where it is longer than its
// area.
func (d *Desk) columnScroll(name string) *ui.Scroll {
	return &ui.Scroll{Base: ui.Base{Name: name, Hint: d.say.Label(words.HintScrollColumn), Behind: true}}
}

// deviationNumber makes the number at the meeting place: the deviation that is typed, or
// the one worked out from findings, and then typing over it types the posture.
func (d *Desk) deviationNumber() *ui.Number {
	i := slices.IndexFunc(d.page.paged[setupPage], func(w ui.Widget) bool { return w.Self().Name == "key posture.deviation_prism" })
	n := *d.page.paged[setupPage][i].(*ui.Number)
	n.Name, n.Label, n.Bare = "deviation", "", true
	n.Entered = func() { d.kit.SetFocus(d.page.handles[1]) } // arrow keys go on from there, and keys are commands again
	get, set := n.Get, n.Set
	n.Get = func() (float64, bool) {
		if d.setup.Findings.OK {
			p, step := float64(d.view.Now.Posture.Deviation), deviationStep
			if math.Abs(p) >= words.WholePrisms { // as it is written everywhere
				step = 1
			}
			return snap(p, step), true
		}
		return get()
	}
	n.Set = func(v float64) bool {
		if d.setup.Findings.OK {
			d.typePosture()
		}
		return set(v)
	}
	return &n
}

// header are the buttons of the header: for somebody who was sent a scene, one that
// shows the others.
func (d *Desk) header() []signed {
	if d.simple {
		return append(d.page.plain[:0], d.page.controls)
	}
	return d.page.tools
}

// widgets are all of the page and what lies over it.
func (d *Desk) widgets() []ui.Widget { return append(d.pageOrder(), d.overs...) }

// pageOrder is the order of the focus: the routine, target, meeting place and its number, beads
// from the nose outward, the column, the buttons that cover, the header.
func (d *Desk) pageOrder() []ui.Widget {
	p := &d.page
	ws := append(p.order[:0], ui.Widget(p.through), ui.Widget(p.handles[0]), ui.Widget(p.handles[1]), ui.Widget(p.deviation), ui.Widget(p.bands))
	first := len(ws)
	for _, h := range p.handles[2:] {
		at := len(ws)
		for at > first && d.setup.Beads[ws[at-1].(*handle).bead].At > d.setup.Beads[h.bead].At {
			at--
		}
		ws = append(ws, nil)
		copy(ws[at+1:], ws[at:])
		ws[at] = h
	}
	ws = append(ws, p.tabs, p.columns[d.Page].scroll)
	ws = append(ws, p.paged[d.Page]...)
	ws = append(ws, p.covers[0], p.covers[1])
	ws = append(ws, p.steady...)
	for _, h := range p.images {
		ws = append(ws, h)
	}
	ws = append(ws, p.picture)
	p.order = ws
	return ws
}

// reached are the widgets that can be pointed at and focused now.
func (d *Desk) reached() []ui.Widget {
	ws := d.overs
	if d.over == nil {
		ws = d.pageOrder()
	}
	if d.news.text != "" {
		ws = append(append(ws[:len(ws):len(ws)], d.news.buttons...), d.news.plate)
	}
	return ws
}

// Hint says what can be done with what is pulled, pointed at or focused; with
// nothing of that, what to heed in such a set-up, or what there is to pull.
func (d *Desk) Hint() string {
	if hint, ok := d.kit.Popped(); ok {
		return hint
	}
	if d.trueSize && d.over == nil && d.kit.Pulled == nil {
		if off := d.trueOff(); off != 0 {
			return d.say.TrueOff(off)
		}
		if d.tooSmall() {
			return d.say.Label(words.TrueTooSmall)
		}
	}
	w := d.kit.Hover
	switch {
	case d.kit.Pulled != nil:
		w = d.kit.Pulled
	case d.kit.Keyed && d.kit.Focus != nil, w == nil:
		w = d.kit.Focus
	}
	if w != nil && w.Self().Behind && d.kit.Pulled == nil && d.kit.Focus != nil {
		w = d.kit.Focus
	}
	resting := w == nil || w.Self().Behind
	switch {
	case w == nil && d.over != nil:
		return d.say.Label(words.HintClose)
	case resting && d.introducing():
		return d.fixed.edge
	case resting && d.cautious():
		return d.fixed.suppression
	case w == nil:
		return d.say.Label(words.HintAny)
	}
	if hint := d.hintOf(w); hint != "" {
		return hint
	}
	if d.cautious() {
		return d.fixed.suppression
	}
	return d.say.Label(words.HintAny)
}

// hintOf is what can be done with a widget.
func (d *Desk) hintOf(w ui.Widget) string {
	if t, ok := w.(*ui.Tiles); ok {
		return t.Hinted(&d.kit)
	}
	if s, ok := w.(*strip); ok {
		return s.hint()
	}
	if h, ok := w.(*handle); ok {
		return h.hint()
	}
	return d.keyed(w)
}

// keyed is the hint of a widget, with the keys that do the same; of one that can do nothing
// just now why, where there is more to say than what it does.
func (d *Desk) keyed(w ui.Widget) string {
	b, keys := w.Self(), ""
	if b.Off && b.Why != "" {
		return b.Why
	}
	if i := slices.IndexFunc(d.commands, func(c command) bool { return c.name == b.Name }); i >= 0 {
		keys = d.keysOf(&d.commands[i])
	}
	for i, c := range d.page.covers {
		if ui.Is(w, c) && !d.NoLetters {
			keys = d.say.Label(coverKeys[i])
		}
	}
	if b.Hint == "" || keys == "" {
		return b.Hint
	}
	return d.say.Filled(words.HintKeyed, "Hint", b.Hint, "Keys", keys)
}

// fault is why what is typed somewhere cannot be taken, and where: what has the focus
// before all else.
func (d *Desk) fault() (at ui.Widget, why string) {
	for _, w := range d.reached() {
		t, ok := w.(ui.Typing)
		if ok && t.Fault() != "" && (at == nil || ui.Is(w, d.kit.Focus)) {
			at, why = w, t.Fault()
		}
	}
	return at, why
}

// columnSign and those after it draw the signs of the buttons.
func columnSign(l *display.List, m display.Point, u float64, c display.Colour) {
	l.RoundRect(display.Rect{X: m.X - 10*u, Y: m.Y - 7.5*u, W: 20 * u, H: 15 * u}, 2*u)
	l.Stroke(1.75*u, display.Paint{From: c})
	ui.Line(l, m.X+3.5*u, m.Y-7*u, m.X+3.5*u, m.Y+7*u, 1.75*u, c)
}

func menuSign(l *display.List, m display.Point, u float64, c display.Colour) {
	for _, y := range [...]float64{-5.5, 0, 5.5} {
		ui.Line(l, m.X-8*u, m.Y+y*u, m.X+8*u, m.Y+y*u, 2*u, c)
	}
}

func compareSign(l *display.List, m display.Point, u float64, c display.Colour) {
	for _, x := range [...]float64{-10, 1.5} {
		l.Rect(display.Rect{X: m.X + x*u, Y: m.Y - 6.5*u, W: 8.5 * u, H: 13 * u})
		l.Stroke(1.75*u, display.Paint{From: c})
	}
}

func marksSign(l *display.List, m display.Point, u float64, c display.Colour) {
	l.Circle(m, 8*u)
	l.Stroke(1.75*u, display.Paint{From: c})
	ui.Cross(l, m, 3.2*u, 1.75*u, c)
}

func familySign(l *display.List, m display.Point, u float64, c display.Colour) {
	for _, s := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		l.MoveTo(m.X+s[0]*9*u, m.Y+s[1]*2.5*u)
		l.LineTo(m.X+s[0]*9*u, m.Y+s[1]*7*u)
		l.LineTo(m.X+s[0]*4*u, m.Y+s[1]*7*u)
		l.Stroke(2*u, display.Paint{From: c})
	}
}
