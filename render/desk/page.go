package desk

import (
	"math"

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
	picture   *picture
	panel     *panel
	header    []*ui.Button
	covers    [2]*ui.Button // right, left
	tabs      *ui.Choice
	tools     []*ui.Button // beside the tabs
	more      *ui.Button
	earlier   *ui.Button
	later     *ui.Button
	controls  [len(subjects)][]control
	order     []ui.Widget
}

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

// panel is what is behind the controls, whose rows the wheel scrolls.
type panel struct {
	ui.Base
	d *Desk
}

// Wheel scrolls.
func (p *panel) Wheel(_ *ui.Kit, notches float64) bool {
	p.d.scrollRows(-int(notches))
	return true
}

// build makes the widgets, for the words, the beads and the document as they are. What
// has the focus keeps it.
func (d *Desk) build() {
	focus := ""
	if d.kit.Focus != nil {
		focus = d.kit.Focus.Self().Name
	}
	d.kit.Focus, d.kit.Hover = nil, nil
	if d.kit.Pulled != nil {
		d.kit.Release()
	}
	p := &d.page
	s := &d.doc.Scene().Setup
	p.names, p.told = nil, nil
	for _, b := range s.Beads {
		p.names = append(p.names, b.Name)
		p.told = append(p.told, d.told.Bead(s.Beads, b.Name))
	}
	d.bead = max(0, min(d.bead, len(p.names)-1))

	p.handles = []*handle{
		{Base: ui.Base{Name: "target", Hint: d.say.Label(words.HintTarget)}, d: d, kind: target},
		{Base: ui.Base{Name: "meeting"}, d: d, kind: meeting},
	}
	p.above = []*handle{
		{Base: ui.Base{Name: "target above", Hint: p.handles[0].Hint}, kind: target},
		{Base: ui.Base{Name: "meeting above"}, kind: meeting},
		{Base: ui.Base{Name: "anchor", Hint: d.say.Label(words.HintAnchor)}, kind: anchor},
		{Base: ui.Base{Name: "right eye", Hint: d.say.Label(words.HintPd)}, kind: rightEye},
		{Base: ui.Base{Name: "left eye", Hint: d.say.Label(words.HintPd)}, kind: leftEye},
	}
	for i, name := range p.names {
		hint := d.say.BeadHint(p.told[i])
		p.handles = append(p.handles, &handle{Base: ui.Base{Name: "bead " + name, Hint: hint}, d: d, kind: bead, bead: i})
		p.above = append(p.above, &handle{Base: ui.Base{Name: "bead above " + name, Hint: hint}, kind: bead, bead: i})
	}
	for _, h := range p.above {
		h.d, h.above, h.Skip = d, true, true
	}
	p.picture = &picture{Base: ui.Base{Name: "picture", Hint: d.say.Label(words.HintPicture), Skip: true, Behind: true}, d: d}
	p.panel = &panel{Base: ui.Base{Name: "panel", Skip: true, Behind: true}, d: d}

	p.header = p.header[:0]
	for _, name := range [...]string{"scenes", "save", "undo", "redo", "play", "compare", "marks", "wider", "closer", "family"} {
		p.header = append(p.header, d.commandButton(name))
	}
	for i, side := range [2]sim.Side{sim.Right, sim.Left} {
		label, hint := words.ButtonCoverRight, words.HintCoverRight
		if side == sim.Left {
			label, hint = words.ButtonCoverLeft, words.HintCoverLeft
		}
		b := d.textButton("cover "+string(side), label, hint, nil)
		b.Hold = func(down bool) {
			d.buttonCover = sim.Neither
			if down {
				d.buttonCover = side
			}
		}
		p.covers[i] = b
	}

	p.tools = append(p.tools[:0], d.languageButton())
	p.tabs = &ui.Choice{Base: ui.Base{Name: "tabs", Hint: d.say.Label(words.HintTabs)}, Tabs: true}
	for _, s := range subjects {
		p.tabs.Texts = append(p.tabs.Texts, d.say.Label(s.label))
	}
	p.tabs.Get = func() int { return d.tab }
	p.tabs.Set = func(i int) { d.tab, d.row = i, 0 }
	p.more = d.textButton("more", words.ButtonMore, words.HintMore, func() { d.more, d.row = !d.more, 0 })
	p.more.On = func() bool { return d.more }
	p.earlier = d.textButton("earlier", words.ButtonEarlier, words.ButtonEarlier, func() { d.scrollRows(-1) })
	p.later = d.textButton("later", words.ButtonLater, words.ButtonLater, func() { d.scrollRows(1) })
	p.earlier.Icon, p.later.Icon = upward, downward
	d.buildControls()
	p.deviation = nil
	for _, c := range p.controls[0] {
		if n, ok := c.Widget.(*ui.Number); ok && n.Name == "key posture.deviation_prism" {
			on := *n
			on.Name, on.Label, on.Bare = "deviation", "", true
			p.deviation = d.held(&on)
		}
	}
	if d.over != nil {
		d.buildOverlay()
	}
	if focus != "" {
		for _, w := range d.widgets() {
			if w.Self().Name == focus {
				d.kit.Focus = w
			}
		}
	}
}

// held makes a number at the meeting place that of the eyes as they are: typed, or
// worked out from findings, and then typing over it types the posture.
func (d *Desk) held(n *ui.Number) *ui.Number {
	get, set := n.Get, n.Set
	n.Get = func() (float64, bool) {
		if d.setup.Findings.OK {
			return float64(d.view.Now.Posture.Deviation), true
		}
		return get()
	}
	n.Set = func(v float64) bool {
		if d.setup.Findings.OK {
			d.typePosture()
		}
		return set(v)
	}
	return n
}

// widgets are all of the page and what lies over it.
func (d *Desk) widgets() []ui.Widget { return append(d.pageOrder(), d.overs...) }

// pageOrder is the order of the focus: target, meeting place and its number, beads
// from the nose outward, the tabs with what stands under them, the buttons.
func (d *Desk) pageOrder() []ui.Widget {
	p := &d.page
	ws := append(p.order[:0], ui.Widget(p.handles[0]), ui.Widget(p.handles[1]), ui.Widget(p.deviation))
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
	ws = append(ws, p.tabs)
	for _, b := range p.tools {
		ws = append(ws, b)
	}
	for tab := range p.controls {
		for _, c := range p.controls[tab] {
			ws = append(ws, c.Widget)
		}
	}
	ws = append(ws, p.earlier, p.later, p.more)
	for _, b := range p.header {
		ws = append(ws, b)
	}
	ws = append(ws, p.covers[0], p.covers[1])
	for _, h := range p.above {
		ws = append(ws, h)
	}
	ws = append(ws, p.panel, p.picture)
	p.order = ws
	return ws
}

// reached are the widgets that can be pointed at and focused now.
func (d *Desk) reached() []ui.Widget {
	if d.over != nil {
		return d.overs
	}
	return d.pageOrder()
}

// Hint says what can be done with what is pulled, pointed at or focused; with
// nothing of that, what to heed in such a set-up, or what there is to pull.
func (d *Desk) Hint() string {
	if d.message != "" {
		return d.message
	}
	if d.trueSize && d.over == nil && d.kit.Pulled == nil && d.tooSmall() {
		return d.say.Label(words.TrueTooSmall)
	}
	w := d.kit.Hover
	switch {
	case d.kit.Pulled != nil:
		w = d.kit.Pulled
	case d.kit.Keyed && d.kit.Focus != nil, w == nil:
		w = d.kit.Focus
	}
	if _, ok := w.(*picture); ok && d.kit.Pulled == nil && d.kit.Focus != nil {
		w = d.kit.Focus
	}
	_, resting := w.(*picture)
	switch {
	case w == nil && d.over != nil:
		return d.say.Label(words.HintClose)
	case w == nil || resting && d.cautious():
	case w.Self().Name == "meeting" || w.Self().Name == "meeting above":
		if d.setup.Findings.OK {
			return d.say.Label(words.HintMeetFindings)
		}
		return d.say.Label(words.HintMeet)
	case w.Self().Name == "play" && !d.moves:
		return d.say.Label(words.HintPlayStill)
	case d.note(w) != "":
		return d.note(w)
	case w.Self().Hint != "":
		return w.Self().Hint
	}
	if d.cautious() {
		return d.fixed.suppression
	}
	return d.say.Label(words.HintAny)
}

// note is what there is to say of what is chosen in a gallery.
func (d *Desk) note(w ui.Widget) string {
	if g, ok := w.(*grid); ok {
		return g.note()
	}
	return ""
}

// fault is why what is typed somewhere cannot be taken, and where.
func (d *Desk) fault() (w ui.Widget, why string) {
	for _, w := range d.reached() {
		t, ok := w.(ui.Typing)
		if ok && t.Fault() != "" && (why == "" || ui.Is(w, d.kit.Focus)) {
			return w, t.Fault()
		}
	}
	return nil, ""
}
