package desk

import (
	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/sim"
)

// Draw puts the page as Update left it into a list.
func (d *Desk) Draw(l *display.List) {
	if d.kit.Theme == nil { // nothing was updated yet
		d.dress()
	}
	l.Reset(d.in.W, d.in.H, d.kit.Theme.Ground)
	l.Title = d.Title()
	switch {
	case d.over != nil && !d.panelled():
		d.drawOverlay(l)
		d.drawHint(l)
	case d.family:
		d.drawPicture(l)
		d.drawSentence(l)
		d.drawEdge(l)
	default:
		d.drawPage(l)
	}
	if d.panelled() {
		d.drawPanel(l)
	}
	d.drawNews(l)
	d.kit.DrawPopup(l)
}

func (d *Desk) drawPage(l *display.List) {
	d.drawPicture(l)
	for _, h := range d.page.images {
		h.Draw(&d.kit, l)
	}
	for _, b := range [...]*ui.Button{d.page.closer, d.page.wider, d.page.play} {
		if b.Shown() {
			b.Draw(&d.kit, l)
		}
	}
	d.drawSentence(l)
	if b := d.page.through; b.Shown() {
		b.Draw(&d.kit, l)
	}
	d.drawNote(l)
	d.drawBar(l)
	d.drawColumn(l)
	d.drawHeader(l)
	d.drawHint(l)
}

// pictureOptions are those of the picture as it is zoomed.
func (d *Desk) pictureOptions() render.PatientOptions {
	o := render.PatientOptions{Type: theme.Small * d.kit.Text, Field: sim.Degrees(d.zoom)}
	if d.trueSize {
		o.Field = sim.Degrees(d.fieldOfView())
	}
	if d.marks {
		o.Marks = d.explain
		if d.family { // read from across the room
			large := *d.explain
			large.Scale = familyMarks
			o.Marks = &large
		}
	}
	n := 1 // the first is the heading's of a comparison
	for _, b := range [...]*ui.Button{d.page.closer, d.page.wider, d.page.play, d.page.leave} {
		if b.Shown() {
			o.Taken[n] = b.Area
			n++
		}
	}
	return o
}

// familyMarks is how many times as large marks are on the family's screen.
const familyMarks = 2

// drawPicture draws what the patient sees, beside it the eyes on the bead if they
// are to be compared.
func (d *Desk) drawPicture(l *display.List) {
	o := d.pictureOptions()
	if d.compare {
		render.Compare(l, d.layout.picture, &d.plainView, &d.view, o, d.comparison)
	} else {
		render.Patient(l, d.layout.picture, &d.view, o)
	}
	if b := d.page.leave; b.Shown() {
		b.Draw(&d.kit, l)
	}
}

// drawHeader names the scene, says whether it is saved, and draws the buttons.
func (d *Desk) drawHeader(l *display.List) {
	a, k := &d.layout, &d.kit
	ui.Fill(l, a.header, k.Theme.Ground)
	st := k.Style(theme.Lead)
	y := a.header.H/2 + lettering.CapHeight(st)/2
	room := a.name.W
	unsaved := d.doc.Dirty()
	small := k.Muted(theme.Small)
	small.Colour = k.Theme.Accent
	if unsaved {
		room -= d.unsavedWidth()
	}
	w := lettering.Draw(l, st, a.name.X, y, lettering.Start, lettering.Ellipsis(st, d.heading(), room))
	if unsaved {
		x := a.name.X + w + 11*k.Unit
		l.Circle(display.Point{X: x, Y: a.header.H / 2}, 4*k.Unit)
		l.Fill(display.Paint{From: k.Theme.Accent})
		lettering.Draw(l, small, x+9*k.Unit, a.header.H/2+lettering.CapHeight(small)/2, lettering.Start, d.fixed.unsaved)
	}
	for _, b := range d.header() {
		b.Draw(k, l)
	}
}

// unsavedWidth is that of the mark that the scene is not saved.
func (d *Desk) unsavedWidth() float64 {
	return 20*d.kit.Unit + lettering.Width(d.kit.Muted(theme.Small), d.fixed.unsaved)
}

func (d *Desk) drawSentence(l *display.List) {
	r := d.layout.sentence
	ui.Fill(l, r, d.kit.Theme.Panel)
	st := d.layout.sentenceStyle
	st.Colour = d.kit.Theme.Ink
	lh := lettering.LineHeight(st)
	y := r.Y + r.H/2 - float64(len(d.layout.lines)-1)*lh/2 + lettering.CapHeight(st)/2
	for i, s := range d.layout.lines {
		lettering.Draw(l, st, r.X+3*theme.Unit*d.kit.Unit, y+float64(i)*lh, lettering.Start, s)
	}
}

// drawNote draws the note under the sentence, for somebody who was sent the scene.
func (d *Desk) drawNote(l *display.List) {
	r, n := d.layout.note, &d.layout.noted
	if r.H <= 0 {
		return
	}
	ui.Fill(l, r, d.kit.Theme.Panel)
	st := n.st
	st.Colour = d.kit.Theme.Muted
	drawLines(l, st, n.at.X, n.at.Y, n.lines)
}

// drawEdge says on the family's screen what the picture is not.
func (d *Desk) drawEdge(l *display.List) {
	r := d.layout.hint
	ui.Fill(l, r, d.kit.Theme.Ground)
	e := &d.layout.edged
	st := e.st
	st.Colour = d.kit.Theme.Muted
	high := float64(len(e.lines)) * lettering.LineHeight(st)
	drawLines(l, st, e.at.X, r.Y+(r.H-high)/2, e.lines)
}

// edge is what the family's screen says at its edge.
func (d *Desk) edge() string {
	switch {
	case d.given.Follow && d.kit.Hover != nil, ui.Is(d.page.leave, d.kit.Hover):
		return d.page.leave.Hint
	case d.cautious():
		return d.fixed.suppression
	}
	return d.fixed.edge
}

// drawHint says at the foot of the page what can be done, or under what is typed what
// is allowed.
func (d *Desk) drawHint(l *display.List) {
	r, k := d.layout.hint, &d.kit
	ui.Fill(l, r, k.Theme.Ground)
	st := k.Muted(theme.Small)
	x := 2 * theme.Unit * k.Unit
	room := r.W - 2*x
	level := func() float64 { return r.Y + r.H/2 + lettering.CapHeight(st)/2 }
	if w, why := d.fault(); w != nil {
		st.Colour = k.Theme.Warning
		at := max(x, min(w.Self().Area.X, x+room-lettering.Width(st, why)))
		lettering.Draw(l, st, at, level(), lettering.Start, why)
		return
	}
	if b := d.page.readMore; d.over == nil && b.Shown() {
		st = k.Style(theme.Small)
		room = b.Area.X - 2*x
		b.Draw(k, l)
	}
	st, lines := d.fitHint(st, d.Hint(), room)
	if len(lines) == 1 {
		lettering.Draw(l, st, x, level(), lettering.Start, lettering.Ellipsis(st, lines[0], room))
		return
	}
	drawLines(l, st, x, r.Y+r.H/2-lettering.LineHeight(st), lines)
}

// fitHint takes the largest type in which a hint has room, in one line or in two.
func (d *Desk) fitHint(st lettering.Style, hint string, room float64) (lettering.Style, []string) {
	const smaller = 0.97
	least := 9 * d.kit.Unit
	one, two := st, st
	for lettering.Width(one, hint) > room && one.Size > least {
		one.Size *= smaller
	}
	for two.Size > one.Size && (2*lettering.LineHeight(two) > d.layout.hint.H || len(lettering.Wrap(two, hint, room)) > 2) {
		two.Size *= smaller
	}
	if two.Size > one.Size {
		return two, lettering.Wrap(two, hint, room)
	}
	return one, []string{hint}
}

// drawBead puts a bead on the bar's string, with its surface.
func (h *handle) drawBead(k *ui.Kit, l *display.List, c display.Point) {
	u := k.Unit
	b := &h.d.setup.Beads[h.bead]
	r := 11 * u
	if k.Hot(h) {
		r = 12.5 * u
	}
	colour := render.Colour(b.Colour)
	l.AddBall(display.Ball{
		Centre: c, RadiusX: r, RadiusY: r, Soft: 0.5, Opacity: 1,
		Colour:  colour,
		Surface: render.Surface(b.Surface),
		Axis:    [3]float64{1, 0, 0},
		Light:   [3]float64{-0.45, -0.6, 0.66},
	})
	if theme.Contrast(colour, k.Theme.Ground) < 3 {
		l.Circle(c, r)
		l.Stroke(theme.Line*u, display.Paint{From: k.Theme.Edge})
	}
}

// drawTarget draws the pointer to what is looked at.
func (h *handle) drawTarget(k *ui.Kit, l *display.List, c display.Point) {
	t, u := k.Theme, k.Unit
	w, tall := 10*u, 11*u
	if k.Hot(h) {
		w, tall = 11.5*u, 12.5*u
	}
	l.MoveTo(c.X-w, c.Y-tall)
	l.LineTo(c.X+w, c.Y-tall)
	l.LineTo(c.X+w, c.Y+tall*0.15)
	l.LineTo(c.X, c.Y+tall*1.1)
	l.LineTo(c.X-w, c.Y+tall*0.15)
	l.Close()
	l.Fill(display.Paint{From: t.Accent})
}

// drawMeeting draws the place where the eyes meet.
func (h *handle) drawMeeting(k *ui.Kit, l *display.List, c display.Point) {
	t, u := k.Theme, k.Unit
	s := 7.5 * u
	if k.Hot(h) {
		s = 9 * u
	}
	ink := t.Ink
	if ui.Is(k.Pulled, h) {
		ink = t.Accent
	}
	ui.Cross(l, c, s, 3*u, ink)
}

func (d *Desk) drawTicks(l *display.List) {
	t, a, u := d.kit.Theme, &d.layout, d.kit.Unit
	st := d.kit.Muted(theme.Small)
	top := a.tickY - lettering.CapHeight(st) - 8*u
	for _, k := range a.ticks {
		edge := t.Edge
		if st.Colour = t.Muted; k.turns {
			edge, st.Colour = t.Warning, t.Warning
		}
		ui.Line(l, k.x, top, k.x, top+5*u, theme.Line*u, edge)
		lettering.Draw(l, st, k.labelX, a.tickY, lettering.Start, k.text)
	}
}

// drawTurning marks on the string where a bead that comes nearer breaks, and where it
// returns; the scale below has their names.
func (d *Desk) drawTurning(l *display.List) {
	a, u := &d.layout, d.kit.Unit
	for _, at := range d.turning {
		if at.OK {
			x := a.x(distanceX(render.FromEyes(&d.setup, at.Value)))
			ui.Line(l, x, a.stringY-10*u, x, a.stringY+10*u, 2.5*u, d.kit.Theme.Warning)
		}
	}
}
