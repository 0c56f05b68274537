package desk

import (
	"math"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/sim"
)

// Draw puts the page as Update left it into a list.
func (d *Desk) Draw(l *display.List) {
	t := d.theme()
	l.Reset(d.w, d.h, t.Ground)
	l.Title = d.Title()
	d.drawPictures(l)
	d.drawHeader(l)
	d.drawSentence(l)
	d.drawBar(l)
	d.drawHint(l)
}

func (d *Desk) theme() *theme.Theme { return &theme.Dark }

// drawPictures draws what the patient sees, beside it the eyes on the bead if they
// are to be compared, and the view from above.
func (d *Desk) drawPictures(l *display.List) {
	t, a := d.theme(), &d.layout
	o := render.PatientOptions{Field: sim.Degrees(d.zoom)}
	if d.compare {
		render.Compare(l, a.picture, &d.plainView, &d.view, o, d.comparison)
	} else {
		render.Patient(l, a.picture, &d.view, o)
	}
	fillRect(l, a.above, t.Panel)
	st := d.style(theme.Body)
	st.Colour = t.Muted
	edge := 2 * theme.Unit * a.unit
	lettering.Draw(l, st, a.above.X+edge, a.above.Y+edge+st.Size, lettering.Start, d.say.Label(words.FromAbove))
	view := a.above
	view.Y += edge + 1.5*st.Size
	view.H -= edge + 1.5*st.Size
	labels := d.above
	if st.Size = theme.Small * a.unit; lettering.Width(st, labels.MeetCross) > 0.42*view.W {
		labels.MeetCross = labels.Meet
	}
	render.Above(l, view, &d.view, render.AboveOptions{Theme: t, Scale: a.unit, Labels: labels})
}

// drawHeader names the scene over the picture, and puts the buttons there.
func (d *Desk) drawHeader(l *display.List) {
	u := d.layout.unit
	st := d.style(theme.Lead)
	first := d.layout.buttons[0]
	x := 2 * theme.Unit * u
	room := first.X - 2*x
	y := first.Y + first.H/2 + lettering.CapHeight(st)/2
	lettering.Draw(l, st, x, y, lettering.Start, lettering.Ellipsis(st, d.name, room))
	for i, r := range d.layout.buttons {
		p := part{kind: compareButton + partKind(i)}
		on := p.kind == compareButton && d.compare || p.kind == fullButton && d.full
		d.drawButton(l, p, r, d.buttons[i], on)
	}
}

func (d *Desk) drawButton(l *display.List, p part, area display.Rect, text string, on bool) {
	t, u := d.theme(), d.layout.unit
	r := inset(area, 3*u)
	fill, st := t.Raised, d.style(theme.Body)
	switch {
	case on:
		fill, st.Colour = t.Accent, t.OnAccent
	case d.hover == p:
		fill = t.Hairline
	}
	l.RoundRect(r, theme.Radius*u)
	l.Fill(display.Paint{From: fill})
	lettering.Draw(l, st, r.X+r.W/2, r.Y+r.H/2+lettering.CapHeight(st)/2, lettering.Middle, text)
	d.drawRing(l, p, r)
}

// drawRing marks the part that has the focus of the keys.
func (d *Desk) drawRing(l *display.List, p part, r display.Rect) {
	if !d.ring || d.focus != p {
		return
	}
	u := d.layout.unit
	l.RoundRect(inset(r, -3*u), (theme.Radius+3)*u)
	l.Stroke(2*u, display.Paint{From: d.theme().Accent})
}

func inset(r display.Rect, by float64) display.Rect {
	return display.Rect{X: r.X + by, Y: r.Y + by, W: r.W - 2*by, H: r.H - 2*by}
}

func fillRect(l *display.List, r display.Rect, c display.Colour) {
	l.Rect(r)
	l.Fill(display.Paint{From: c})
}

func line(l *display.List, x0, y0, x1, y1, width float64, c display.Colour) {
	l.MoveTo(x0, y0)
	l.LineTo(x1, y1)
	l.Stroke(width, display.Paint{From: c})
}

func (d *Desk) drawSentence(l *display.List) {
	r := d.layout.sentence
	fillRect(l, r, d.theme().Panel)
	st := d.layout.sentenceStyle
	lh := lettering.LineHeight(st)
	y := r.Y + r.H/2 - float64(len(d.layout.lines)-1)*lh/2 + lettering.CapHeight(st)/2
	for i, s := range d.layout.lines {
		lettering.Draw(l, st, 3*theme.Unit*d.layout.unit, y+float64(i)*lh, lettering.Start, s)
	}
}

// drawHint says at the foot of the page what can be done, or under a number what
// is allowed.
func (d *Desk) drawHint(l *display.List) {
	r := d.layout.hint
	fillRect(l, r, d.theme().Ground)
	st := d.style(theme.Small)
	st.Colour = d.theme().Muted
	x := 2 * theme.Unit * d.layout.unit
	y := r.Y + r.H/2 + lettering.CapHeight(st)/2 - d.layout.unit
	room := r.W - 3*x - lettering.Draw(l, st, r.X+r.W-x, y, lettering.End, d.say.Label(words.CmFromEyes))
	if d.field.fault {
		st.Colour = d.theme().Warning
		allowed := d.say.Label(words.DeviationAllowed)
		at := max(x, min(d.layout.field.X, x+room-lettering.Width(st, allowed)))
		lettering.Draw(l, st, at, y, lettering.Start, allowed)
		return
	}
	lettering.Draw(l, st, x, y, lettering.Start, lettering.Ellipsis(st, d.Hint(), room))
}

// Hint says what can be done with what is pulled, pointed at or focused; with
// nothing of that, what to heed in such a set-up, or what there is to pull.
func (d *Desk) Hint() string {
	p := d.hover
	switch {
	case d.pulled.kind != nothing:
		p = d.pulled
	case d.keyed && d.focus.kind != nothing, p.kind == nothing, p.kind == picture:
		p = d.focus
	}
	switch p.kind {
	case bead:
		return d.say.BeadHint(d.setup.Beads[p.bead].Name)
	case target:
		return d.say.Label(words.HintTarget)
	case meeting:
		return d.say.Label(words.HintMeet)
	case deviation:
		return d.say.Label(words.HintDeviation)
	case compareButton:
		return d.say.Label(words.HintCompare)
	case widerButton:
		return d.say.Label(words.HintWider)
	case closerButton:
		return d.say.Label(words.HintCloser)
	case fullButton:
		return d.say.Label(words.HintFull)
	}
	if d.cautious() {
		return d.say.Label(words.CautionSuppression)
	}
	return d.say.Label(words.HintAny)
}

// cautious says whether the set-up is one of those that nobody should train for
// alone: an image left out, or a large turn.
func (d *Desk) cautious() bool {
	const large = 10 // Δ
	return d.setup.Suppression.Eye != sim.Neither || math.Abs(float64(d.setup.Posture.Deviation)) > large
}

func (d *Desk) drawBar(l *display.List) {
	t, a, u := d.theme(), &d.layout, d.layout.unit
	fillRect(l, a.bar, t.Ground)
	d.drawTicks(l)

	// The string, what it is tied to, and where it would go on.
	wall := a.x(distanceX(fromEyes(&d.setup, d.setup.String.Length)))
	l.MoveTo(wall, a.stringY)
	l.LineTo(a.left+a.width, a.stringY)
	l.StrokeDashed(theme.Line*u, 4*u, display.Paint{From: t.Hairline})
	line(l, a.left, a.stringY, wall, a.stringY, 3*u, t.String)
	line(l, wall, a.stringY-13*u, wall, a.stringY+13*u, 4*u, t.Edge)

	tx, mx := d.handleX(part{kind: target}), d.handleX(part{kind: meeting})
	line(l, tx, a.targetY, tx, a.stringY, theme.Line*u, t.Accent)
	line(l, mx, a.meetingY, mx, a.stringY, theme.Line*u, t.Edge)
	for i := range d.setup.Beads {
		d.drawBead(l, i)
	}
	d.drawTarget(l, tx)
	d.drawMeeting(l, mx)
}

// hot says whether a handle is pulled, or can be taken where the pointer is.
func (d *Desk) hot(p part) bool {
	return d.pulled == p || d.hover == p && d.pulled.kind == nothing
}

// drawBead puts a bead on the bar's string, with its surface.
func (d *Desk) drawBead(l *display.List, i int) {
	p, u := part{bead, i}, d.layout.unit
	b := &d.setup.Beads[i]
	c := display.Point{X: d.handleX(p), Y: d.layout.stringY}
	r := 11 * u
	if d.hot(p) {
		r = 12.5 * u
	}
	l.AddBall(display.Ball{
		Centre: c, RadiusX: r, RadiusY: r, Soft: 0.5, Opacity: 1,
		Colour:  render.Colour(b.Colour),
		Surface: render.Surface(b.Surface),
		Axis:    [3]float64{1, 0, 0},
		Light:   [3]float64{-0.45, -0.6, 0.66},
	})
	d.drawRing(l, p, display.Rect{X: c.X - 13*u, Y: c.Y - 13*u, W: 26 * u, H: 26 * u})
}

// drawTarget draws the pointer to what is looked at.
func (d *Desk) drawTarget(l *display.List, x float64) {
	t, u, y := d.theme(), d.layout.unit, d.layout.targetY
	p := part{kind: target}
	w, h := 10*u, 11*u
	if d.hot(p) {
		w, h = 11.5*u, 12.5*u
	}
	l.MoveTo(x-w, y-h)
	l.LineTo(x+w, y-h)
	l.LineTo(x+w, y+h*0.15)
	l.LineTo(x, y+h*1.1)
	l.LineTo(x-w, y+h*0.15)
	l.Close()
	l.Fill(display.Paint{From: t.Accent})
	d.drawRing(l, p, display.Rect{X: x - 14*u, Y: y - 14*u, W: 28 * u, H: 28 * u})
	st := d.style(theme.Body)
	lettering.Draw(l, st, d.layout.targetText.x, y+lettering.CapHeight(st)/2, d.layout.targetText.anchor, d.layout.targetText.text)
}

// drawMeeting draws the place where the eyes meet, and the number beside it.
func (d *Desk) drawMeeting(l *display.List, x float64) {
	t, u, y := d.theme(), d.layout.unit, d.layout.meetingY
	p := part{kind: meeting}
	s := 7.5 * u
	if d.hot(p) {
		s = 9 * u
	}
	c := t.Ink
	if d.pulled == p {
		c = t.Accent
	}
	line(l, x-s, y-s, x+s, y+s, 3*u, c)
	line(l, x-s, y+s, x+s, y-s, 3*u, c)
	d.drawRing(l, p, display.Rect{X: x - 14*u, Y: y - 14*u, W: 28 * u, H: 28 * u})

	st := d.style(theme.Body)
	lettering.Draw(l, st, d.layout.meetingText.x, y+lettering.CapHeight(st)/2, d.layout.meetingText.anchor, d.layout.meetingText.text)
	d.drawField(l)
}

func (d *Desk) drawField(l *display.List) {
	t, u := d.theme(), d.layout.unit
	p := part{kind: deviation}
	r := d.layout.field
	r.Y, r.H = r.Y+7*u, r.H-14*u
	st := d.style(theme.Body)
	text, fill, edge := d.deviationText, t.Raised, t.Raised
	if d.field.open {
		text, fill, edge = d.field.text, t.Field, t.Edge
	} else if d.hover == p {
		fill, edge = t.Hairline, t.Hairline
	}
	if d.field.fault {
		edge = t.Warning
	}
	l.RoundRect(r, theme.Radius*u)
	l.Fill(display.Paint{From: fill})
	l.RoundRect(r, theme.Radius*u)
	l.Stroke(theme.Line*u, display.Paint{From: edge})
	base := r.Y + r.H/2 + lettering.CapHeight(st)/2
	w := lettering.Width(st, text)
	x := r.X + r.W/2 - w/2
	if d.field.fresh {
		fillRect(l, display.Rect{X: x - 2*u, Y: r.Y + 4*u, W: w + 4*u, H: r.H - 8*u}, t.Hairline)
	}
	lettering.Draw(l, st, x, base, lettering.Start, text)
	if d.field.open && !d.field.fresh {
		line(l, x+w+2*u, r.Y+6*u, x+w+2*u, r.Y+r.H-6*u, theme.Line*u, t.Accent)
	}
	d.drawRing(l, p, r)
}

func (d *Desk) drawTicks(l *display.List) {
	t, a, u := d.theme(), &d.layout, d.layout.unit
	st := d.style(theme.Small)
	st.Colour = t.Muted
	top := a.tickY - st.Size - 6*u
	for _, k := range a.ticks {
		line(l, k.x, top, k.x, top+5*u, theme.Line*u, t.Edge)
		lettering.Draw(l, st, k.labelX, a.tickY, lettering.Start, k.text)
	}
}
