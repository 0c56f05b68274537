package desk

import (
	"math"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/sim"
)

// The page as designed, in units of layout. A larger page makes everything larger,
// less than in proportion, and the picture gets the rest.
const (
	designW, designH = 1280, 800
	columnShare      = 0.28125 // of the width, 360 of 1280
	columnLeast      = 300
	columnMost       = 400
	columnBelow      = 0.38 // of the height, where the page is taller than wide
	nameLeast        = 200  // of the name in the header, of type
	bandPitch        = 26   // of the bands under the lane of the meeting place
	noteLines        = 4    // of the note under the sentence
	growth           = 0.65 // of everything with the page, as an exponent
)

// layout is where everything stands. Rectangles are in whole pixels.
type layout struct {
	unit                          float64 // pixels to a unit of layout
	grown                         float64 // how many times as large as designed the page is
	header, picture, sentence     display.Rect
	note, bar, hint, column, over display.Rect
	name                          display.Rect // of the scene, in the header
	left, width                   float64      // of the string on the bar
	noseX                         float64      // on the scale, at left
	targetY, stringY, meetingY    float64      // middles of the three lanes
	bandY                         float64      // middle of the bands
	tickY                         float64      // baseline of the ticks' numbers
	targetText, meetingText       label
	ticks                         []tick

	above  display.Rect // the view from above
	places render.AboveMap
	extent *sim.Setup // what the view from above holds still for while an end is pulled
	faces  render.FrontMap

	lines         []string // of the sentence, in sentenceStyle
	sentenceStyle lettering.Style
	linesOf       linesKey
	noted, edged  prose // the note, and what the family's screen says at its edge
	news          newsLayout
}

// linesKey is what the lines of the sentence depend on.
type linesKey struct {
	sentence string
	w, h     float64
	size     float64
}

// label is a text beside a handle.
type label struct {
	text   string
	x      float64
	anchor lettering.Anchor
}

// arrange works out the layout for the page and the set-up as they are.
func (d *Desk) arrange() {
	d.dress()
	w, h, scale := d.in.W, d.in.H, d.in.Scale
	if w <= 0 || h <= 0 || scale <= 0 {
		return
	}
	grown := max(1, min(w/scale/designW, h/scale/designH))
	u := scale * math.Pow(grown, growth)
	d.layout.grown, d.layout.unit, d.kit.Unit, d.kit.Text = grown, u, u, u
	if d.Large {
		d.kit.Text = u * largeType
	}
	for _, x := range d.pageOrder() {
		b := x.Self()
		b.Area, b.Within = display.Rect{}, display.Rect{}
	}
	switch {
	case d.over != nil && !d.panelled():
		d.arrangeHint()
	case d.family:
		d.arrangeFamily()
	default:
		d.arrangePage()
	}
	if d.over != nil {
		d.arrangeOverlay()
	}
	d.arrangeNews()
}

// arrangeHint takes the foot of the page for the hint, and gives where that begins.
func (d *Desk) arrangeHint() (bottom float64) {
	bottom = math.Round(d.in.H)
	share := 1.7 // of the size of its type
	if d.Large {
		share = 2.3 // a long one has two lines
	}
	h := math.Round(max(26*d.kit.Unit, share*theme.Small*d.kit.Text))
	if d.given.First && !d.given.Follow { // what is acknowledged leaves its room, so that the picture keeps its size
		h = math.Round(max(h, d.kit.Tall()+4*d.kit.Unit))
	}
	d.layout.hint = display.Rect{Y: bottom - h, W: d.in.W, H: h}
	if b := d.page.readMore; d.introducing() && d.over == nil {
		w, tall := b.Size(&d.kit)
		b.Area = display.Rect{X: d.in.W - w - theme.Unit*d.kit.Unit, Y: bottom - (h+tall)/2, W: w, H: tall}
	}
	return bottom - h
}

// arrangePage gives the picture what the header, the sentence, the bar and the column
// leave. Nothing that is unfolded in the column changes the size of the picture.
func (d *Desk) arrangePage() {
	l, u := &d.layout, d.kit.Unit
	gap := math.Round(theme.Unit * u)
	l.header = display.Rect{W: d.in.W, H: d.kit.Tall() + gap}
	bottom := d.arrangeHint()
	left := display.Rect{Y: l.header.H, W: d.in.W, H: bottom - l.header.H}
	l.column = display.Rect{}
	switch {
	case d.folded():
	case d.in.H > d.in.W:
		h := math.Round(columnBelow * d.in.H)
		l.column = display.Rect{Y: bottom - h, W: d.in.W, H: h}
		left.H -= h
	default:
		w := math.Round(max(columnLeast, min(d.in.W/u*columnShare, columnMost)) * u)
		l.column = display.Rect{X: d.in.W - w, Y: l.header.H, W: w, H: left.H}
		left.W -= w
	}
	for _, x := range d.page.steady {
		x.Refresh(&d.kit)
	}
	d.page.tabs.Refresh(&d.kit)
	d.page.deviation.Refresh(&d.kit)
	d.arrangeLeft(left)
	d.arrangeHeader(gap)
	d.arrangeColumn(l.column)
}

// arrangeLeft stacks picture, sentence, note and bar.
func (d *Desk) arrangeLeft(left display.Rect) {
	l, u := &d.layout, d.kit.Unit
	pitch := math.Round(34 * u)
	take := func(h float64) display.Rect {
		left.H -= h
		return display.Rect{X: left.X, Y: left.Y + left.H, W: left.W, H: h}
	}
	l.bar = take(math.Round(theme.Target*u) + 2*pitch + math.Round(bandPitch*u) + math.Round(1.6*theme.Small*d.kit.Text))
	l.note = display.Rect{}
	if d.simple {
		l.note = take(d.arrangeNote(left))
		l.note.H = max(0, l.note.H)
	}
	l.sentence = take(math.Round(2*lettering.LineHeight(d.sentenceStyle()) + 2*theme.Unit*u))
	l.picture = left
	if l.note.H > 0 {
		l.noted.lay(d, l.note.X+3*theme.Unit*u, l.note.Y, l.note.W-6*theme.Unit*u)
	}
	l.targetY = l.bar.Y + math.Round(theme.Target*u/2)
	l.stringY, l.meetingY = l.targetY+pitch, l.targetY+2*pitch
	l.bandY = l.meetingY + math.Round(theme.Control*u/2) + math.Round(bandPitch*u/2)
	l.tickY = l.bar.Y + l.bar.H - math.Round(5*u)
	margin := math.Round(5 * theme.Unit * u)
	l.left, l.width = l.bar.X+margin, l.bar.W-2*margin
	l.noseX = distanceX(render.FromEyes(&d.setup, 0))
	d.page.picture.Area = l.picture
	d.arrangeBar()
	d.arrangePicture()
	d.arrangeSentence(d.arrangeThrough(), d.sentenceStyle())
}

// arrangeThrough puts the button that goes through the routine beside the sentence, where
// the controls are folded away, and gives what of the box it leaves.
func (d *Desk) arrangeThrough() display.Rect {
	box, b := d.layout.sentence, d.page.through
	if !d.folded() || !d.doc.Scene().Routine.OK {
		return box
	}
	margin := math.Round(3 * theme.Unit * d.kit.Unit)
	w, h := b.Size(&d.kit)
	h = max(h, math.Round(theme.Target*d.kit.Unit))
	b.Area = display.Rect{X: box.X + box.W - margin - w, Y: math.Round(box.Y + (box.H-h)/2), W: w, H: h}
	box.W -= w + margin
	return box
}

// arrangeNote gives the height of the note under the sentence.
func (d *Desk) arrangeNote(left display.Rect) float64 {
	n := &d.layout.noted
	n.size, n.text = theme.Body, func(d *Desk) string { return d.told.Note(d.doc.Scene().Note) }
	h := n.lay(d, 0, 0, left.W-6*theme.Unit*d.kit.Unit)
	if len(n.lines) > noteLines {
		h -= float64(len(n.lines)-noteLines) * lettering.LineHeight(n.st)
		n.lines = append(n.lines[:noteLines-1:noteLines-1], lettering.Ellipsis(n.st, n.lines[noteLines-1]+" "+n.lines[noteLines], n.width))
	}
	return math.Round(h)
}

// arrangePicture puts what stands over the picture into its corner, and handles where
// something in it can be pulled.
func (d *Desk) arrangePicture() {
	r, gap := d.layout.picture, math.Round(theme.Unit*d.kit.Unit)
	x := r.X + r.W - gap
	for _, b := range [...]*ui.Button{d.page.closer, d.page.wider, d.page.play} {
		if b == d.page.play && !d.moves {
			continue
		}
		w, h := b.Size(&d.kit)
		x -= w
		b.Area = display.Rect{X: x, Y: r.Y + r.H - gap - h, W: w, H: h}
	}
	d.arrangeImages()
}

// arrangeFamily gives the page to the picture and the sentence.
func (d *Desk) arrangeFamily() {
	l := &d.layout
	w, bottom := d.in.W, d.in.H
	stack := func(h float64) display.Rect {
		bottom -= h
		return display.Rect{Y: bottom, W: w, H: h}
	}
	l.edged.size, l.edged.text = theme.Body, (*Desk).edge
	margin := 3 * theme.Unit * d.kit.Unit
	edge := l.edged.lay(d, margin, 0, w-2*margin)
	l.hint = stack(math.Round(edge + theme.Unit*d.kit.Unit))
	st := d.familyStyle()
	l.sentence = stack(math.Round(3*lettering.LineHeight(st) + st.Size/2))
	l.picture = display.Rect{W: w, H: bottom}
	l.header, l.column = display.Rect{}, display.Rect{}
	d.page.picture.Area = l.picture
	b := d.page.leave
	bw, bh := b.Size(&d.kit)
	b.Area = display.Rect{X: w - bw - theme.Unit*d.kit.Unit, Y: theme.Unit * d.kit.Unit, W: bw, H: bh}
	d.arrangeSentence(l.sentence, st)
}

// familyStyle is read across a room: at 3 m capitals of a sixteenth of the height of
// a usual screen look as large as a newspaper's at arm's length (common practice, no
// source).
func (d *Desk) familyStyle() lettering.Style {
	st := d.kit.Style(theme.Sentence)
	st.Size = math.Round(d.in.H / 15)
	return st
}

// sentenceStyle grows in full proportion to the page: the sentence is read from
// across the room.
func (d *Desk) sentenceStyle() lettering.Style {
	st := d.kit.Style(theme.Sentence)
	st.Size *= d.layout.grown * d.in.Scale / d.kit.Unit
	return st
}

// arrangeHeader puts the buttons at the right end of the header, as signs where their
// names have no room, and leaves the name of the scene the rest.
func (d *Desk) arrangeHeader(gap float64) {
	l := &d.layout
	ws := d.header()
	var need float64
	for _, signs := range [...]bool{false, true} {
		need = 0
		for _, b := range ws {
			b.AsSign(signs)
			w, _ := b.Size(&d.kit)
			need += w
		}
		if need <= l.header.W-nameLeast*d.kit.Text-d.unsavedWidth()-3*gap {
			break
		}
	}
	x := l.header.W - math.Round(gap/2) - need
	l.name = display.Rect{X: 2 * gap, W: x - 3*gap, H: l.header.H}
	for _, b := range ws {
		w, h := b.Size(&d.kit)
		b.Self().Area = display.Rect{X: x, Y: math.Round((l.header.H - h) / 2), W: w, H: h}
		x += w
	}
}

// arrangeSentence breaks the sentence into lines that fit its box, smaller where
// it is long, and of about the same length.
func (d *Desk) arrangeSentence(box display.Rect, st lettering.Style) {
	a := &d.layout
	key := linesKey{d.sentence, box.W, box.H, st.Size}
	if key == a.linesOf {
		a.sentenceStyle.Colour = st.Colour
		return
	}
	a.linesOf = key
	width := box.W - 6*theme.Unit*a.unit
	lines := lettering.Wrap(st, d.sentence, width)
	for float64(len(lines))*lettering.LineHeight(st) > box.H-theme.Unit*a.unit && st.Size > 6 {
		st.Size *= 0.94
		lines = lettering.Wrap(st, d.sentence, width)
	}
	a.sentenceStyle, a.lines = st, evened(st, d.sentence, lines, width)
}

// evened is a text that is broken into lines of a width, in as many of about the same length.
func evened(st lettering.Style, text string, lines []string, width float64) []string {
	for narrow := 0.5 * width; width-narrow > st.Size; {
		middle := (narrow + width) / 2
		if even := lettering.Wrap(st, text, middle); len(even) == len(lines) {
			lines, width = even, middle
		} else {
			narrow = middle
		}
	}
	return lines
}
