package desk

import (
	"twincord/render/words"
	"twincord/sim"
)

// page is everything that can be pointed at or have the focus, but for overlays.
type page struct {
	names     []string // of the beads that it was made for
	handles   []*handle
	deviation *number // beside the meeting place
	above     []*handle
	picture   *picture
	header    []*button
	covers    [2]*button // right, left
	tabs      *options
	tools     []*button // beside the tabs
	more      *button
	earlier   *button
	later     *button
	controls  [len(subjects)][]control
	order     []widget
}

// picture is the patient's view, which the wheel zooms.
type picture struct{ base }

// build makes the widgets, for the words, the beads and the document as they are. What
// has the focus keeps it.
func (d *Desk) build() {
	focus := ""
	if d.focus != nil {
		focus = d.focus.self().name
	}
	d.kit.focus, d.kit.hover = nil, nil
	if d.pulled != nil {
		d.drop()
	}
	p := &d.page
	s := &d.doc.Scene().Setup
	p.names = p.names[:0:0]
	for _, b := range s.Beads {
		p.names = append(p.names, b.Name)
	}
	d.bead = max(0, min(d.bead, len(p.names)-1))

	p.handles = []*handle{
		{base: base{name: "target", hint: d.say.Label(words.HintTarget)}, d: d, kind: target},
		{base: base{name: "meeting"}, d: d, kind: meeting},
	}
	p.above = []*handle{
		{base: base{name: "target above", hint: p.handles[0].hint}, kind: target},
		{base: base{name: "meeting above"}, kind: meeting},
		{base: base{name: "anchor", hint: d.say.Label(words.HintAnchor)}, kind: anchor},
		{base: base{name: "right eye", hint: d.say.Label(words.HintPd)}, kind: rightEye},
		{base: base{name: "left eye", hint: d.say.Label(words.HintPd)}, kind: leftEye},
	}
	for i, name := range p.names {
		hint := d.say.BeadHint(name)
		p.handles = append(p.handles, &handle{base: base{name: "bead " + name, hint: hint}, d: d, kind: bead, bead: i})
		p.above = append(p.above, &handle{base: base{name: "bead above " + name, hint: hint}, kind: bead, bead: i})
	}
	for _, h := range p.above {
		h.d, h.above, h.skip = d, true, true
	}
	p.picture = &picture{base{name: "picture", hint: d.say.Label(words.HintPicture), skip: true}}

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
		b.hold = func(down bool) {
			d.buttonCover = sim.Neither
			if down {
				d.buttonCover = side
			}
		}
		p.covers[i] = b
	}

	p.tools = append(p.tools[:0], d.languageButton())
	p.tabs = &options{base: base{name: "tabs", hint: d.say.Label(words.HintTabs)}, tabs: true}
	for _, s := range subjects {
		p.tabs.texts = append(p.tabs.texts, d.say.Label(s.label))
	}
	p.tabs.get = func() int { return d.tab }
	p.tabs.set = func(i int) { d.tab, d.row = i, 0 }
	p.more = d.textButton("more", words.ButtonMore, words.HintMore, func() { d.more, d.row = !d.more, 0 })
	p.more.on = func() bool { return d.more }
	p.earlier = d.textButton("earlier", words.ButtonEarlier, words.ButtonEarlier, func() { d.scrollRows(-1) })
	p.later = d.textButton("later", words.ButtonLater, words.ButtonLater, func() { d.scrollRows(1) })
	p.earlier.icon, p.later.icon = upward, downward
	d.buildControls()
	p.deviation = nil
	for _, c := range p.controls[0] {
		if n, ok := c.widget.(*number); ok && n.name == "key posture.deviation_prism" {
			on := *n
			on.name, on.label, on.bare = "deviation", "", true
			p.deviation = d.held(&on)
		}
	}
	if d.over != nil {
		d.buildOverlay()
	}
	if focus != "" {
		for _, w := range d.widgets() {
			if w.self().name == focus {
				d.focus = w
			}
		}
	}
}

// held makes a number at the meeting place that of the eyes as they are: typed, or
// worked out from findings, and then typing over it types the posture.
func (d *Desk) held(n *number) *number {
	get, set := n.get, n.set
	n.get = func() (float64, bool) {
		if d.setup.Findings.OK {
			return float64(d.view.Now.Posture.Deviation), true
		}
		return get()
	}
	n.set = func(v float64) bool {
		if d.setup.Findings.OK {
			d.typePosture()
		}
		return set(v)
	}
	return n
}

// widgets are all of the page and what lies over it.
func (d *Desk) widgets() []widget { return append(d.pageOrder(), d.overs...) }

// pageOrder is the order of the focus: target, meeting place and its number, beads
// from the nose outward, the tabs with what stands under them, the buttons.
func (d *Desk) pageOrder() []widget {
	p := &d.page
	ws := append(p.order[:0], widget(p.handles[0]), widget(p.handles[1]), widget(p.deviation))
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
			ws = append(ws, c.widget)
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
	ws = append(ws, p.picture)
	p.order = ws
	return ws
}

// reached are the widgets that can be pointed at and focused now.
func (d *Desk) reached() []widget {
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
	if d.trueSize && d.over == nil && d.pulled == nil && d.tooSmall() {
		return d.say.Label(words.TrueTooSmall)
	}
	w := d.hover
	switch {
	case d.pulled != nil:
		w = d.pulled
	case d.kit.keyed && d.focus != nil, w == nil:
		w = d.focus
	}
	if _, ok := w.(*picture); ok && d.pulled == nil && d.focus != nil {
		w = d.focus
	}
	_, resting := w.(*picture)
	switch {
	case w == nil && d.over != nil:
		return d.say.Label(words.HintClose)
	case w == nil || resting && d.cautious():
	case w.self().name == "meeting" || w.self().name == "meeting above":
		if d.setup.Findings.OK {
			return d.say.Label(words.HintMeetFindings)
		}
		return d.say.Label(words.HintMeet)
	case w.self().name == "play" && !d.moves:
		return d.say.Label(words.HintPlayStill)
	case d.note(w) != "":
		return d.note(w)
	case w.self().hint != "":
		return w.self().hint
	}
	if d.cautious() {
		return d.fixed.suppression
	}
	return d.say.Label(words.HintAny)
}

// note is what there is to say of what is chosen in a gallery.
func (d *Desk) note(w widget) string {
	if g, ok := w.(*grid); ok {
		return g.note()
	}
	return ""
}

// fault is why what is typed somewhere cannot be taken, and where.
func (d *Desk) fault() (w widget, why string) {
	for _, w := range d.reached() {
		var t *typing
		switch w := w.(type) {
		case *number:
			t = &w.typing
		case *textField:
			t = &w.typing
		default:
			continue
		}
		if t.fault != "" && (why == "" || is(w, d.focus)) {
			return w, t.fault
		}
	}
	return nil, ""
}
