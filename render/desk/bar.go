package desk

import (
	"math"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
)

// arrangeBar puts the handles and their texts on the bar.
func (d *Desk) arrangeBar() {
	a := &d.layout
	side := math.Round(theme.Target * a.unit)
	for _, h := range d.page.handles {
		x, y := d.handleX(h), a.targetY
		switch h.kind {
		case bead:
			y = a.stringY
		case meeting:
			y = a.meetingY
		}
		h.Area = display.Rect{X: x - side/2, Y: y - side/2, W: side, H: side}
	}
	d.arrangeBands()
	d.arrangeTicks()
	d.arrangeLabels()
}

// x is the pixel of a place on the scale of the bar.
func (l *layout) x(scale float64) float64 {
	scale = max(l.noseX, min(scale, barEnd))
	return l.left + (scale-l.noseX)/(barEnd-l.noseX)*l.width
}

// scaleX is the inverse of x, held to the bar.
func (l *layout) scaleX(px float64) float64 {
	t := max(0, min((px-l.left)/l.width, 1))
	return l.noseX + t*(barEnd-l.noseX)
}

// handleX is where a handle stands on the bar, pixels.
func (d *Desk) handleX(h *handle) float64 {
	switch h.kind {
	case target:
		return d.layout.x(distanceX(d.view.Target.FromEyes))
	case bead:
		return d.layout.x(distanceX(render.FromEyes(&d.setup, d.setup.Beads[h.bead].At)))
	default:
		return d.layout.x(vergenceX(d.view.Axes.Vergence, d.setup.Patient.PD, barEnd))
	}
}

// tick is a mark on the scale of the bar.
type tick struct {
	text   string
	x      float64
	labelX float64
	turns  bool // the hold breaks there, or returns
}

// tickPlaces are the distances that may be marked, in cm or in inches, the more wanted
// ones first.
var tickPlaces = [...]float64{50, 20, 100, 10, 30, 200, 15, 70, 40, 400, 150, 25, 60, 80, 300, 12, 600, 35}
var tickInches = [...]float64{20, 8, 40, 4, 12, 80, 6, 30, 16, 160, 60, 10, 24, 120, 5, 240, 14}

// arrangeTicks marks the ends of the string, infinity and as many distances as
// fit.
func (d *Desk) arrangeTicks() {
	a := &d.layout
	a.ticks = a.ticks[:0]
	wall := render.FromEyes(&d.setup, d.setup.String.Length)
	d.addTurns()
	d.addTick(d.fixed.nose, a.noseX)
	d.addTick(d.say.WallAt(math.Round(d.setup.String.Length/10)*10), distanceX(wall))
	d.addTick(d.fixed.infinity, 1)
	d.addTick(d.fixed.part, barEnd)
	places := tickPlaces[:]
	if d.say.Inches() {
		places = tickInches[:]
	}
	for i, n := range places {
		mm := n * d.say.LengthUnit()
		if x := distanceX(eyesFrom(&d.setup, mm)); x > a.noseX {
			text := d.say.Number(n, 0)
			if i == 0 { // one says the unit
				text = d.say.Length(mm)
			}
			d.addTick(text, x)
		}
	}
}

// addTurns marks where a bead that comes nearer breaks, its name towards the nose, and
// where it returns, its name beyond.
func (d *Desk) addTurns() {
	a, st := &d.layout, d.kit.Style(theme.Small)
	gap := theme.Unit * a.unit
	from := a.left - gap
	for i, name := range [2]words.Label{words.TickBreak, words.TickBack} {
		at := d.turning[i]
		if !at.OK {
			continue
		}
		text := d.say.Filled(name, "At", d.say.Length(at.Value))
		k := tick{text: text, x: a.x(distanceX(render.FromEyes(&d.setup, at.Value))), turns: true}
		k.labelX = k.x - gap/2
		if i == 0 {
			k.labelX = k.x + gap/2 - lettering.Width(st, text)
		}
		k.labelX = max(from, k.labelX)
		from = k.labelX + lettering.Width(st, text) + gap
		a.ticks = append(a.ticks, k)
	}
}

func (d *Desk) addTick(text string, scale float64) {
	a := &d.layout
	st := d.kit.Style(theme.Small)
	w, gap := lettering.Width(st, text), 2*theme.Unit*a.unit
	k := tick{text: text, x: a.x(scale)}
	k.labelX = max(a.left-gap, min(k.x-w/2, a.left+a.width+gap-w))
	for _, o := range a.ticks {
		ow := lettering.Width(st, o.text)
		if k.labelX < o.labelX+ow+gap && o.labelX < k.labelX+w+gap {
			return
		}
	}
	a.ticks = append(a.ticks, k)
}

// arrangeLabels puts the texts beside the handles, to the left where the right
// has no room, and cuts short what has room at neither side.
func (d *Desk) arrangeLabels() {
	a, u := &d.layout, d.layout.unit
	st := d.kit.Style(theme.Body)
	off := theme.Target / 2 * u
	end := a.left + a.width
	tx := d.handleX(d.page.handles[0])
	gap := theme.Unit * u
	a.targetText = label{text: d.targetText, x: tx + off, anchor: lettering.Start}
	if w, before := lettering.Width(st, d.targetText), tx-off-a.bar.X; tx+off+w > end {
		if beyond := a.bar.X + a.bar.W - gap - tx - off; w <= before || before > beyond {
			a.targetText = label{text: lettering.Ellipsis(st, d.targetText, before), x: tx - off, anchor: lettering.End}
		} else {
			a.targetText.text = lettering.Ellipsis(st, d.targetText, beyond)
		}
	}
	fieldW, fieldH := d.page.deviation.Size(&d.kit)
	mx := d.handleX(d.page.handles[1])
	w := lettering.Width(st, d.meetingText)
	right, left := end+4*gap-mx-off, mx-off-a.left+4*gap // of the handle
	area := display.Rect{X: mx + off, Y: a.meetingY - fieldH/2, W: fieldW, H: fieldH}
	a.meetingText = label{text: d.meetingText, x: area.X + fieldW + gap, anchor: lettering.Start}
	switch {
	case fieldW+gap+w <= right:
	case fieldW+gap+w <= left:
		area.X = mx - off - fieldW
		a.meetingText.x, a.meetingText.anchor = area.X-gap, lettering.End
	case fieldW <= right && w <= left:
		a.meetingText.x, a.meetingText.anchor = mx-off, lettering.End
	case fieldW <= left:
		area.X = mx - off - fieldW
		a.meetingText.x = mx + off
		if w > right {
			a.meetingText.text = "" // the numbers have it
		}
	default:
		a.meetingText.text = ""
	}
	d.page.deviation.Area = area
}

func (d *Desk) drawBar(l *display.List) {
	t, a, u := d.kit.Theme, &d.layout, d.kit.Unit
	ui.Fill(l, a.bar, t.Ground)
	d.drawTicks(l)

	// The string, what it is tied to, and where it would go on.
	wall := a.x(distanceX(render.FromEyes(&d.setup, d.setup.String.Length)))
	l.MoveTo(wall, a.stringY)
	l.LineTo(a.left+a.width, a.stringY)
	l.StrokeDashed(theme.Line*u, 4*u, display.Paint{From: t.Hairline})
	ui.Line(l, a.left, a.stringY, wall, a.stringY, 3*u, t.String)
	ui.Line(l, wall, a.stringY-13*u, wall, a.stringY+13*u, 4*u, t.Edge)

	d.drawTurning(l)
	tx, mx := d.handleX(d.page.handles[0]), d.handleX(d.page.handles[1])
	ui.Line(l, tx, a.targetY, tx, a.stringY, theme.Line*u, t.Accent)
	ui.Line(l, mx, a.meetingY, mx, a.stringY, theme.Line*u, t.Edge)
	d.drawBands(l)
	for i := len(d.page.handles) - 1; i >= 0; i-- {
		d.page.handles[i].Draw(&d.kit, l)
	}
	st := d.kit.Style(theme.Body)
	lettering.Draw(l, st, a.targetText.x, a.targetY+lettering.CapHeight(st)/2, a.targetText.anchor, a.targetText.text)
	lettering.Draw(l, st, a.meetingText.x, a.meetingY+lettering.CapHeight(st)/2, a.meetingText.anchor, a.meetingText.text)
	d.page.deviation.Draw(&d.kit, l)
}
