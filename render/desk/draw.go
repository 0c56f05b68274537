package desk

import (
	"math"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/sim"
)

// Draw puts the page as Update left it into a list.
func (d *Desk) Draw(l *display.List) {
	if d.theme == nil { // nothing was updated yet
		d.dress()
	}
	l.Reset(d.in.W, d.in.H, d.theme.Ground)
	l.Title = d.Title()
	switch {
	case d.over != nil:
		d.drawOverlay(l)
		d.drawHint(l)
	case d.family:
		d.drawPicture(l)
		d.drawSentence(l)
		d.drawEdge(l)
	default:
		d.drawPicture(l)
		d.drawColumn(l)
		d.drawHeader(l)
		d.drawSentence(l)
		d.drawBar(l)
		d.drawControls(l)
		d.drawHint(l)
	}
}

// drawPicture draws what the patient sees, beside it the eyes on the bead if they
// are to be compared.
func (d *Desk) drawPicture(l *display.List) {
	o := render.PatientOptions{Type: theme.Small * d.text, Field: sim.Degrees(d.zoom)}
	if d.trueSize {
		o.Field = sim.Degrees(d.fieldOfView())
	}
	if d.marks {
		o.Marks = d.explain
	}
	if d.compare {
		render.Compare(l, d.layout.picture, &d.plainView, &d.view, o, d.comparison)
		return
	}
	render.Patient(l, d.layout.picture, &d.view, o)
}

// drawColumn draws the views from above and from in front, and the numbers.
func (d *Desk) drawColumn(l *display.List) {
	t, a := d.theme, &d.layout
	if a.above.H > 0 {
		fillRect(l, a.above, t.Panel)
		d.drawHeading(l, a.above, d.fixed.fromAbove)
		labels, frame := d.above, d.aboveFrame()
		if lettering.Width(d.style(theme.Small), labels.MeetCross) > 0.42*frame.W {
			labels.MeetCross = labels.Meet
		}
		render.Above(l, frame, &d.view, render.AboveOptions{Theme: t, Scale: d.aboveScale(), Labels: labels, Extent: a.extent})
		for _, h := range d.page.above {
			if h.shown() {
				h.draw(&d.kit, l)
			}
		}
	}
	if a.front.H > 0 {
		fillRect(l, a.front, t.Panel)
		frame, heading := a.front, d.headingHeight()
		frame.Y, frame.H = frame.Y+heading, d.page.covers[0].area.Y-frame.Y-heading
		if frame.H > heading {
			d.drawHeading(l, a.front, d.fixed.front)
			render.Front(l, inset(frame, 3*a.unit), &d.view, render.FrontOptions{Theme: t, Labels: d.front, Type: 12 * d.unit})
		}
		for i, b := range d.page.covers {
			b.held = d.setup.Cover == [2]sim.Side{sim.Right, sim.Left}[i]
			b.draw(&d.kit, l)
		}
	}
	if a.numbers.H > 0 {
		d.drawNumbers(l)
	}
}

// drawHeading names a picture of the column.
func (d *Desk) drawHeading(l *display.List, r display.Rect, s string) {
	st := d.muted(theme.Body)
	lettering.Draw(l, st, r.X+2*theme.Unit*d.unit, r.Y+d.headingHeight()/2+lettering.CapHeight(st)/2, lettering.Start, s)
}

func (d *Desk) drawNumbers(l *display.List) {
	r := d.layout.numbers
	fillRect(l, r, d.theme.Panel)
	d.drawHeading(l, r, d.fixed.numbers)
	pad := 2 * theme.Unit * d.unit
	labels, values := d.muted(theme.Small), d.style(theme.Small)
	y := r.Y + d.headingHeight()
	line := lettering.LineHeight(values)
	for _, f := range d.facts {
		if y+line > r.Y+r.H {
			return
		}
		base := y + line/2 + lettering.CapHeight(values)/2
		w := lettering.Draw(l, values, r.X+r.W-pad, base, lettering.End, f.value)
		lettering.Draw(l, labels, r.X+pad, base, lettering.Start, lettering.Ellipsis(labels, f.label, r.W-3*pad-w))
		y += line
	}
}

// drawHeader names the scene and what is looked at, and draws the buttons.
func (d *Desk) drawHeader(l *display.List) {
	a := &d.layout
	fillRect(l, a.header, d.theme.Ground)
	st := d.style(theme.Lead)
	y := a.header.H/2 + lettering.CapHeight(st)/2
	lettering.Draw(l, st, a.name.X, y, lettering.Start, lettering.Ellipsis(st, d.heading(), a.name.W))
	for _, b := range d.page.header {
		if b.shown() {
			b.draw(&d.kit, l)
		}
	}
}

func (d *Desk) drawSentence(l *display.List) {
	r := d.layout.sentence
	fillRect(l, r, d.theme.Panel)
	st := d.layout.sentenceStyle
	st.Colour = d.theme.Ink
	lh := lettering.LineHeight(st)
	y := r.Y + r.H/2 - float64(len(d.layout.lines)-1)*lh/2 + lettering.CapHeight(st)/2
	for i, s := range d.layout.lines {
		lettering.Draw(l, st, 3*theme.Unit*d.unit, y+float64(i)*lh, lettering.Start, s)
	}
}

// drawEdge says on the family's screen what the picture is not.
func (d *Desk) drawEdge(l *display.List) {
	r := d.layout.hint
	fillRect(l, r, d.theme.Ground)
	text := d.fixed.edge
	if d.cautious() {
		text = d.fixed.suppression
	}
	st := d.muted(theme.Body)
	room := r.W - 6*theme.Unit*d.unit
	for lettering.Width(st, text) > room {
		st.Size *= 0.95
	}
	lettering.Draw(l, st, r.X+3*theme.Unit*d.unit, r.Y+r.H/2+lettering.CapHeight(st)/2, lettering.Start, text)
}

// drawControls draws the tabs, and the controls of the open one with their labels.
func (d *Desk) drawControls(l *display.List) {
	a, t := &d.layout, d.theme
	fillRect(l, a.tabs, t.Ground)
	fillRect(l, a.panel, t.Panel)
	d.page.tabs.draw(&d.kit, l)
	for _, b := range d.page.tools {
		b.draw(&d.kit, l)
	}
	for _, c := range d.page.controls[d.tab] {
		b := c.self()
		if !b.shown() {
			continue
		}
		if b.label != "" {
			st := d.muted(theme.Small)
			lettering.Draw(l, st, b.area.X+3*d.unit, b.area.Y-math.Round(0.35*theme.Small*d.text), lettering.Start, b.label)
		}
		c.draw(&d.kit, l)
	}
	for _, b := range [...]*button{d.page.earlier, d.page.later, d.page.more} {
		if b.shown() {
			b.draw(&d.kit, l)
		}
	}
}

// drawHint says at the foot of the page what can be done, or under what is typed what
// is allowed.
func (d *Desk) drawHint(l *display.List) {
	r := d.layout.hint
	fillRect(l, r, d.theme.Ground)
	st := d.muted(theme.Small)
	x := 2 * theme.Unit * d.unit
	y := r.Y + r.H/2 + lettering.CapHeight(st)/2
	room := r.W - 2*x
	if w, why := d.fault(); w != nil {
		st.Colour = d.theme.Warning
		at := max(x, min(w.self().area.X, x+room-lettering.Width(st, why)))
		lettering.Draw(l, st, at, y, lettering.Start, why)
		return
	}
	hint := d.Hint()
	for lettering.Width(st, hint) > room && st.Size > 9*d.unit {
		st.Size *= 0.97
	}
	lettering.Draw(l, st, x, y, lettering.Start, lettering.Ellipsis(st, hint, room))
}

func (d *Desk) drawBar(l *display.List) {
	t, a, u := d.theme, &d.layout, d.unit
	fillRect(l, a.bar, t.Ground)
	d.drawTicks(l)

	// The string, what it is tied to, and where it would go on.
	wall := a.x(distanceX(fromEyes(&d.setup, d.setup.String.Length)))
	l.MoveTo(wall, a.stringY)
	l.LineTo(a.left+a.width, a.stringY)
	l.StrokeDashed(theme.Line*u, 4*u, display.Paint{From: t.Hairline})
	line(l, a.left, a.stringY, wall, a.stringY, 3*u, t.String)
	line(l, wall, a.stringY-13*u, wall, a.stringY+13*u, 4*u, t.Edge)

	tx, mx := d.handleX(d.page.handles[0]), d.handleX(d.page.handles[1])
	line(l, tx, a.targetY, tx, a.stringY, theme.Line*u, t.Accent)
	line(l, mx, a.meetingY, mx, a.stringY, theme.Line*u, t.Edge)
	for i := len(d.page.handles) - 1; i >= 0; i-- {
		d.page.handles[i].draw(&d.kit, l)
	}
	st := d.style(theme.Body)
	lettering.Draw(l, st, a.targetText.x, a.targetY+lettering.CapHeight(st)/2, a.targetText.anchor, a.targetText.text)
	lettering.Draw(l, st, a.meetingText.x, a.meetingY+lettering.CapHeight(st)/2, a.meetingText.anchor, a.meetingText.text)
	d.page.deviation.draw(&d.kit, l)
}

// drawBead puts a bead on the bar's string, with its surface.
func (h *handle) drawBead(k *kit, l *display.List, c display.Point) {
	u := k.unit
	b := &h.d.setup.Beads[h.bead]
	r := 11 * u
	if k.hot(h) {
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
	if theme.Contrast(colour, k.theme.Ground) < 3 {
		l.Circle(c, r)
		l.Stroke(theme.Line*u, display.Paint{From: k.theme.Edge})
	}
}

// drawTarget draws the pointer to what is looked at.
func (h *handle) drawTarget(k *kit, l *display.List, c display.Point) {
	t, u := k.theme, k.unit
	w, tall := 10*u, 11*u
	if k.hot(h) {
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
func (h *handle) drawMeeting(k *kit, l *display.List, c display.Point) {
	t, u := k.theme, k.unit
	s := 7.5 * u
	if k.hot(h) {
		s = 9 * u
	}
	ink := t.Ink
	if is(k.pulled, h) {
		ink = t.Accent
	}
	line(l, c.X-s, c.Y-s, c.X+s, c.Y+s, 3*u, ink)
	line(l, c.X-s, c.Y+s, c.X+s, c.Y-s, 3*u, ink)
}

func (d *Desk) drawTicks(l *display.List) {
	t, a, u := d.theme, &d.layout, d.unit
	st := d.muted(theme.Small)
	top := a.tickY - lettering.CapHeight(st) - 8*u
	for _, k := range a.ticks {
		line(l, k.x, top, k.x, top+5*u, theme.Line*u, t.Edge)
		lettering.Draw(l, st, k.labelX, a.tickY, lettering.Start, k.text)
	}
}

// upward and downward draw the arrows of more controls.
func upward(l *display.List, m display.Point, u float64, c display.Colour) { chevron(l, m, -5*u, u, c) }
func downward(l *display.List, m display.Point, u float64, c display.Colour) {
	chevron(l, m, 5*u, u, c)
}

func chevron(l *display.List, m display.Point, reach, u float64, c display.Colour) {
	l.MoveTo(m.X-math.Abs(reach), m.Y-reach/2)
	l.LineTo(m.X, m.Y+reach/2)
	l.LineTo(m.X+math.Abs(reach), m.Y-reach/2)
	l.Stroke(2*u, display.Paint{From: c})
}
