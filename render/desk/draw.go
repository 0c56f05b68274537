package desk

import (
	"math"
	"twincord/render/ui"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
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
	o := render.PatientOptions{Type: theme.Small * d.kit.Text, Field: sim.Degrees(d.zoom)}
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
	t, a := d.kit.Theme, &d.layout
	if a.above.H > 0 {
		ui.Fill(l, a.above, t.Panel)
		d.drawHeading(l, a.above, d.fixed.fromAbove)
		labels, frame := d.above, d.aboveFrame()
		if lettering.Width(d.kit.Style(theme.Small), labels.MeetCross) > 0.42*frame.W {
			labels.MeetCross = labels.Meet
		}
		render.Above(l, frame, &d.view, render.AboveOptions{Theme: t, Scale: d.aboveScale(), Labels: labels, Extent: a.extent})
		for _, h := range d.page.above {
			if h.Shown() {
				h.Draw(&d.kit, l)
			}
		}
	}
	if a.front.H > 0 {
		ui.Fill(l, a.front, t.Panel)
		frame, heading := a.front, d.headingHeight()
		frame.Y, frame.H = frame.Y+heading, d.page.covers[0].Area.Y-frame.Y-heading
		if frame.H > heading {
			d.drawHeading(l, a.front, d.fixed.front)
			render.Front(l, ui.Inset(frame, 3*a.unit), &d.view, render.FrontOptions{Theme: t, Labels: d.front, Type: 12 * d.kit.Unit})
		}
		for i, b := range d.page.covers {
			b.Held = d.setup.Cover == [2]sim.Side{sim.Right, sim.Left}[i]
			b.Draw(&d.kit, l)
		}
	}
	if a.numbers.H > 0 {
		d.drawNumbers(l)
	}
}

// drawHeading names a picture of the column.
func (d *Desk) drawHeading(l *display.List, r display.Rect, s string) {
	st := d.kit.Muted(theme.Body)
	lettering.Draw(l, st, r.X+2*theme.Unit*d.kit.Unit, r.Y+d.headingHeight()/2+lettering.CapHeight(st)/2, lettering.Start, s)
}

func (d *Desk) drawNumbers(l *display.List) {
	r := d.layout.numbers
	ui.Fill(l, r, d.kit.Theme.Panel)
	d.drawHeading(l, r, d.fixed.numbers)
	pad := 2 * theme.Unit * d.kit.Unit
	labels, values := d.kit.Muted(theme.Small), d.kit.Style(theme.Small)
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
	ui.Fill(l, a.header, d.kit.Theme.Ground)
	st := d.kit.Style(theme.Lead)
	y := a.header.H/2 + lettering.CapHeight(st)/2
	lettering.Draw(l, st, a.name.X, y, lettering.Start, lettering.Ellipsis(st, d.heading(), a.name.W))
	for _, b := range d.page.header {
		if b.Shown() {
			b.Draw(&d.kit, l)
		}
	}
}

func (d *Desk) drawSentence(l *display.List) {
	r := d.layout.sentence
	ui.Fill(l, r, d.kit.Theme.Panel)
	st := d.layout.sentenceStyle
	st.Colour = d.kit.Theme.Ink
	lh := lettering.LineHeight(st)
	y := r.Y + r.H/2 - float64(len(d.layout.lines)-1)*lh/2 + lettering.CapHeight(st)/2
	for i, s := range d.layout.lines {
		lettering.Draw(l, st, 3*theme.Unit*d.kit.Unit, y+float64(i)*lh, lettering.Start, s)
	}
}

// drawEdge says on the family's screen what the picture is not.
func (d *Desk) drawEdge(l *display.List) {
	r := d.layout.hint
	ui.Fill(l, r, d.kit.Theme.Ground)
	text := d.fixed.edge
	if d.cautious() {
		text = d.fixed.suppression
	}
	st := d.kit.Muted(theme.Body)
	room := r.W - 6*theme.Unit*d.kit.Unit
	for lettering.Width(st, text) > room {
		st.Size *= 0.95
	}
	lettering.Draw(l, st, r.X+3*theme.Unit*d.kit.Unit, r.Y+r.H/2+lettering.CapHeight(st)/2, lettering.Start, text)
}

// drawControls draws the tabs, and the controls of the open one with their labels.
func (d *Desk) drawControls(l *display.List) {
	a, t := &d.layout, d.kit.Theme
	ui.Fill(l, a.tabs, t.Ground)
	ui.Fill(l, a.panel, t.Panel)
	d.page.tabs.Draw(&d.kit, l)
	for _, b := range d.page.tools {
		b.Draw(&d.kit, l)
	}
	for _, c := range d.page.controls[d.tab] {
		b := c.Self()
		if !b.Shown() {
			continue
		}
		if b.Label != "" {
			st := d.kit.Muted(theme.Small)
			lettering.Draw(l, st, b.Area.X+3*d.kit.Unit, b.Area.Y-math.Round(0.35*theme.Small*d.kit.Text), lettering.Start, b.Label)
		}
		c.Draw(&d.kit, l)
	}
	for _, b := range [...]*ui.Button{d.page.earlier, d.page.later, d.page.more} {
		if b.Shown() {
			b.Draw(&d.kit, l)
		}
	}
}

// drawHint says at the foot of the page what can be done, or under what is typed what
// is allowed.
func (d *Desk) drawHint(l *display.List) {
	r := d.layout.hint
	ui.Fill(l, r, d.kit.Theme.Ground)
	st := d.kit.Muted(theme.Small)
	x := 2 * theme.Unit * d.kit.Unit
	y := r.Y + r.H/2 + lettering.CapHeight(st)/2
	room := r.W - 2*x
	if w, why := d.fault(); w != nil {
		st.Colour = d.kit.Theme.Warning
		at := max(x, min(w.Self().Area.X, x+room-lettering.Width(st, why)))
		lettering.Draw(l, st, at, y, lettering.Start, why)
		return
	}
	hint := d.Hint()
	for lettering.Width(st, hint) > room && st.Size > 9*d.kit.Unit {
		st.Size *= 0.97
	}
	lettering.Draw(l, st, x, y, lettering.Start, lettering.Ellipsis(st, hint, room))
}

func (d *Desk) drawBar(l *display.List) {
	t, a, u := d.kit.Theme, &d.layout, d.kit.Unit
	ui.Fill(l, a.bar, t.Ground)
	d.drawTicks(l)

	// The string, what it is tied to, and where it would go on.
	wall := a.x(distanceX(fromEyes(&d.setup, d.setup.String.Length)))
	l.MoveTo(wall, a.stringY)
	l.LineTo(a.left+a.width, a.stringY)
	l.StrokeDashed(theme.Line*u, 4*u, display.Paint{From: t.Hairline})
	ui.Line(l, a.left, a.stringY, wall, a.stringY, 3*u, t.String)
	ui.Line(l, wall, a.stringY-13*u, wall, a.stringY+13*u, 4*u, t.Edge)

	tx, mx := d.handleX(d.page.handles[0]), d.handleX(d.page.handles[1])
	ui.Line(l, tx, a.targetY, tx, a.stringY, theme.Line*u, t.Accent)
	ui.Line(l, mx, a.meetingY, mx, a.stringY, theme.Line*u, t.Edge)
	for i := len(d.page.handles) - 1; i >= 0; i-- {
		d.page.handles[i].Draw(&d.kit, l)
	}
	st := d.kit.Style(theme.Body)
	lettering.Draw(l, st, a.targetText.x, a.targetY+lettering.CapHeight(st)/2, a.targetText.anchor, a.targetText.text)
	lettering.Draw(l, st, a.meetingText.x, a.meetingY+lettering.CapHeight(st)/2, a.meetingText.anchor, a.meetingText.text)
	d.page.deviation.Draw(&d.kit, l)
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
	ui.Line(l, c.X-s, c.Y-s, c.X+s, c.Y+s, 3*u, ink)
	ui.Line(l, c.X-s, c.Y+s, c.X+s, c.Y-s, 3*u, ink)
}

func (d *Desk) drawTicks(l *display.List) {
	t, a, u := d.kit.Theme, &d.layout, d.kit.Unit
	st := d.kit.Muted(theme.Small)
	top := a.tickY - lettering.CapHeight(st) - 8*u
	for _, k := range a.ticks {
		ui.Line(l, k.x, top, k.x, top+5*u, theme.Line*u, t.Edge)
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
