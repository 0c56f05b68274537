package desk

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
)

// The page as designed, in units of layout. A larger page makes everything
// larger, less than in proportion, and the picture gets the rest.
const (
	designW, designH = 1280, 800
	aboveShare       = 0.25 // of the width
	aboveMost        = 400
)

// layout is where everything stands. Rectangles are in whole pixels.
type layout struct {
	unit                       float64 // pixels to a unit of layout
	picture                    display.Rect
	above, sentence, bar, hint display.Rect
	buttons                    [4]display.Rect // compareButton …
	left, width                float64         // of the string on the bar
	noseX                      float64         // on the scale, at left
	targetY, stringY, meetingY float64         // middles of the three lanes
	tickY                      float64         // baseline of the ticks' numbers
	field                      display.Rect    // the number at the meeting place
	targetText                 label
	meetingText                label
	ticks                      []tick

	lines         []string // of the sentence, in sentenceStyle
	sentenceStyle lettering.Style

	done needs
}

// needs is what a layout depends on.
type needs struct {
	w, h, scale float64
	edits       int
	sentence    string
}

// label is a text beside a handle.
type label struct {
	text   string
	x      float64
	anchor lettering.Anchor
}

// arrange works out the layout for the page and the set-up as they are.
func (d *Desk) arrange() {
	l := &d.layout
	need := needs{d.w, d.h, d.scale, d.edits, d.sentence}
	if need == l.done {
		return
	}
	sameLines := need.sentence == l.done.sentence && need.w == l.done.w && need.h == l.done.h && need.scale == l.done.scale
	l.done = need
	grown := math.Max(1, math.Min(d.w/d.scale/designW, d.h/d.scale/designH))
	u := d.scale * math.Sqrt(grown)
	l.unit = u

	lane, gap := math.Round(theme.Target*u), math.Round(theme.Unit*u)
	hintH := math.Round(26 * u)
	barH := gap + 3*lane + math.Round(24*u)
	sentenceH := math.Round(2*lettering.LineHeight(d.sentenceStyle()) + 3*theme.Unit*u)
	aboveW := math.Round(math.Min(d.w*aboveShare, aboveMost*u))

	y := math.Round(d.h)
	l.hint = display.Rect{X: 0, Y: y - hintH, W: d.w, H: hintH}
	l.bar = display.Rect{X: 0, Y: l.hint.Y - barH, W: d.w, H: barH}
	l.sentence = display.Rect{X: 0, Y: l.bar.Y - sentenceH, W: d.w, H: sentenceH}
	l.above = display.Rect{X: d.w - aboveW, Y: 0, W: aboveW, H: l.sentence.Y}
	// Below the name and the buttons, which would hide a far bead.
	header := lane + 2*gap
	l.picture = display.Rect{Y: header, W: l.above.X, H: l.sentence.Y - header}

	l.targetY = l.bar.Y + gap + lane/2
	l.stringY = l.targetY + lane
	l.meetingY = l.stringY + lane
	l.tickY = l.bar.Y + l.bar.H - math.Round(7*u)
	margin := math.Round(5 * theme.Unit * u)
	l.left, l.width = margin, d.w-2*margin
	l.noseX = distanceX(fromEyes(&d.setup, 0))

	d.arrangeButtons()
	d.arrangeTicks()
	d.arrangeLabels()
	if !sameLines {
		d.arrangeSentence()
	}
}

// x is the pixel of a place on the scale of the bar.
func (l *layout) x(scale float64) float64 {
	scale = math.Max(l.noseX, math.Min(scale, barEnd))
	return l.left + (scale-l.noseX)/(barEnd-l.noseX)*l.width
}

// scaleX is the inverse of x, held to the bar.
func (l *layout) scaleX(px float64) float64 {
	t := math.Max(0, math.Min((px-l.left)/l.width, 1))
	return l.noseX + t*(barEnd-l.noseX)
}

func (d *Desk) style(size float64) lettering.Style {
	return lettering.Style{Size: size * d.layout.unit, Colour: d.theme().Ink}
}

// sentenceStyle grows in full proportion to the page: the sentence is read from
// across the room.
func (d *Desk) sentenceStyle() lettering.Style {
	st := d.style(theme.Sentence)
	st.Size *= d.layout.unit / d.scale
	return st
}

// handleX is where the handle of a part stands on the bar, pixels.
func (d *Desk) handleX(p part) float64 {
	switch p.kind {
	case target:
		return d.layout.x(distanceX(d.view.Target.FromEyes))
	case bead:
		return d.layout.x(distanceX(fromEyes(&d.setup, d.setup.Beads[p.bead].At)))
	default:
		return d.layout.x(vergenceX(d.view.Axes.Vergence, d.setup.Patient.PD, barEnd))
	}
}

// handleY is the middle of its lane.
func (d *Desk) handleY(p part) float64 {
	switch p.kind {
	case target:
		return d.layout.targetY
	case bead:
		return d.layout.stringY
	default:
		return d.layout.meetingY
	}
}

// area is where a part is pressed.
func (d *Desk) area(p part) display.Rect {
	switch p.kind {
	case target, meeting, bead:
		side := theme.Target * d.layout.unit
		return display.Rect{X: d.handleX(p) - side/2, Y: d.handleY(p) - side/2, W: side, H: side}
	case deviation:
		return d.layout.field
	case picture:
		return d.layout.picture
	case nothing:
		return display.Rect{}
	default:
		return d.layout.buttons[p.kind-compareButton]
	}
}

// tick is a mark on the scale of the bar.
type tick struct {
	text   string
	x      float64
	labelX float64
}

// tickPlaces are the distances that may be marked, in cm, the more wanted ones
// first.
var tickPlaces = [...]float64{50, 20, 100, 10, 30, 200, 15, 70, 40, 400, 150, 25, 60, 80, 300, 12, 600, 35}

// arrangeTicks marks the ends of the string, infinity and as many distances as
// fit.
func (d *Desk) arrangeTicks() {
	a := &d.layout
	a.ticks = a.ticks[:0]
	wall := fromEyes(&d.setup, d.setup.String.Length)
	d.addTick(d.say.Label(words.Nose), a.noseX)
	d.addTick(d.say.WallAt(math.Round(wall/10)*10), distanceX(wall))
	d.addTick(d.say.Label(words.Infinity), 1)
	d.addTick(d.say.Label(words.EyesPart), barEnd)
	for _, cm := range tickPlaces {
		if x := distanceX(cm * 10); x > a.noseX {
			d.addTick(d.say.Number(cm, 0), x)
		}
	}
}

func (d *Desk) addTick(text string, scale float64) {
	a := &d.layout
	st := d.style(theme.Small)
	w, gap := lettering.Width(st, text), 2*theme.Unit*a.unit
	k := tick{text: text, x: a.x(scale)}
	k.labelX = math.Max(a.left-gap, math.Min(k.x-w/2, a.left+a.width+gap-w))
	for _, o := range a.ticks {
		ow := lettering.Width(st, o.text)
		if k.labelX < o.labelX+ow+gap && o.labelX < k.labelX+w+gap {
			return
		}
	}
	a.ticks = append(a.ticks, k)
}

// arrangeButtons puts the buttons in the upper right corner of the picture.
func (d *Desk) arrangeButtons() {
	a := &d.layout
	st := d.style(theme.Body)
	side, gap := theme.Target*a.unit, theme.Unit*a.unit
	right := a.above.X - gap
	for i := len(a.buttons) - 1; i >= 0; i-- {
		w := lettering.Width(st, d.buttons[i]) + 4*gap
		w = math.Round(math.Max(side, w))
		right -= w
		a.buttons[i] = display.Rect{X: right, Y: gap, W: w, H: math.Round(side)}
	}
}

// arrangeLabels puts the texts beside the handles, to the left where the right
// has no room.
func (d *Desk) arrangeLabels() {
	a, u := &d.layout, d.layout.unit
	st := d.style(theme.Body)
	off := theme.Target / 2 * u
	end := a.left + a.width
	tx := d.handleX(part{kind: target})
	a.targetText = label{text: d.targetText, x: tx + off, anchor: lettering.Start}
	if tx+off+lettering.Width(st, d.targetText) > end {
		a.targetText.x, a.targetText.anchor = tx-off, lettering.End
	}
	gap := theme.Unit * u
	fieldW := lettering.Width(st, d.say.Deviation(-deviationMost)) + 3*gap
	mx := d.handleX(part{kind: meeting})
	w := lettering.Width(st, d.meetingText)
	a.field = display.Rect{X: mx + off, Y: a.meetingY - off, W: fieldW, H: 2 * off}
	a.meetingText = label{text: d.meetingText, x: a.field.X + fieldW + gap, anchor: lettering.Start}
	if a.meetingText.x+w > end {
		a.field.X = mx - off - fieldW
		a.meetingText.x, a.meetingText.anchor = a.field.X-gap, lettering.End
	}
}

// arrangeSentence breaks the sentence into lines that fit its box, smaller where
// it is long, and of about the same length.
func (d *Desk) arrangeSentence() {
	a := &d.layout
	st := d.sentenceStyle()
	width := a.sentence.W - 6*theme.Unit*a.unit
	lines := lettering.Wrap(st, d.sentence, width)
	for float64(len(lines))*lettering.LineHeight(st) > a.sentence.H-theme.Unit*a.unit {
		st.Size *= 0.94
		lines = lettering.Wrap(st, d.sentence, width)
	}
	for narrow := 0.5 * width; width-narrow > st.Size; {
		middle := (narrow + width) / 2
		if even := lettering.Wrap(st, d.sentence, middle); len(even) == len(lines) {
			lines, width = even, middle
		} else {
			narrow = middle
		}
	}
	a.sentenceStyle, a.lines = st, lines
}
