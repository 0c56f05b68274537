package desk

import (
	"math"
	"twincord/render/ui"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/sim"
)

// The page as designed, in units of layout. A larger page makes everything
// larger, less than in proportion, and the picture gets the rest.
const (
	designW, designH = 1280, 800
	columnShare      = 0.25 // of the width
	columnMost       = 400
	pictureShare     = 0.44 // of the height, that more rows of controls leave
	drawnShare       = 0.16 // that the drawer leaves
)

// layout is where everything stands. Rectangles are in whole pixels.
type layout struct {
	unit                                float64 // pixels to a unit of layout
	header, picture, above, front       display.Rect
	numbers, sentence, bar, tabs, panel display.Rect
	hint, over                          display.Rect
	name                                display.Rect // of the scene, in the header
	left, width                         float64      // of the string on the bar
	noseX                               float64      // on the scale, at left
	targetY, stringY, meetingY          float64      // middles of the three lanes
	tickY                               float64      // baseline of the ticks' numbers
	targetText, meetingText             label
	ticks                               []tick
	rows, shownRows                     int // of the controls

	places render.AboveMap
	extent *sim.Setup // what the view from above holds still for while an end is pulled

	lines         []string // of the sentence, in sentenceStyle
	sentenceStyle lettering.Style
	linesOf       linesKey
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
	l := &d.layout
	w, h, scale := d.in.W, d.in.H, d.in.Scale
	if w <= 0 || h <= 0 || scale <= 0 {
		return
	}
	grown := max(1, min(w/scale/designW, h/scale/designH))
	u := scale * math.Sqrt(grown)
	l.unit, d.kit.Unit, d.kit.Text = u, u, u
	if d.Large {
		d.kit.Text = u * largeType
	}
	for _, x := range d.pageOrder() {
		x.Self().Area = display.Rect{}
		x.Refresh(&d.kit)
	}
	if d.family {
		d.arrangeFamily()
		return
	}

	pitch, gap := math.Round(34*u), math.Round(theme.Unit*u)
	bottom := math.Round(h)
	l.hint = d.stack(&bottom, math.Round(max(26*u, 1.7*theme.Small*d.kit.Text)))
	rows := d.arrangeControls(w, gap)
	sentenceH := math.Round(2*lettering.LineHeight(d.sentenceStyle()) + 2*theme.Unit*u)
	barH := math.Round(theme.Target*u) + 2*pitch + math.Round(1.6*theme.Small*d.kit.Text)
	_, tabsH := d.page.tabs.Size(&d.kit)
	_, buttonH := d.page.header[0].Size(&d.kit)
	headerH := buttonH + gap
	// As many rows of controls as leave the picture its share.
	free := bottom - headerH - sentenceH - barH - tabsH - gap
	share := pictureShare
	if d.more {
		share = drawnShare
	}
	fit := int((free - share*h) / rows)
	l.shownRows = max(1, min(l.rows, fit))
	d.row = max(0, min(d.row, l.rows-l.shownRows))
	l.panel = d.stack(&bottom, float64(l.shownRows)*rows+gap)
	l.tabs = d.stack(&bottom, tabsH)
	l.bar = d.stack(&bottom, barH)
	l.sentence = d.stack(&bottom, sentenceH)
	l.header = display.Rect{W: w, H: headerH}
	column := math.Round(min(w*columnShare, columnMost*u))
	l.picture = display.Rect{Y: headerH, W: w - column, H: bottom - headerH}
	d.arrangeColumn(display.Rect{X: w - column, Y: headerH, W: column, H: bottom - headerH}, gap)

	l.targetY = l.bar.Y + math.Round(theme.Target*u/2)
	l.stringY, l.meetingY = l.targetY+pitch, l.targetY+2*pitch
	l.tickY = l.bar.Y + l.bar.H - math.Round(5*u)
	margin := math.Round(5 * theme.Unit * u)
	l.left, l.width = margin, w-2*margin
	l.noseX = distanceX(fromEyes(&d.setup, 0))

	d.page.picture.Area, d.page.panel.Area = l.picture, l.panel
	d.arrangeHeader(gap)
	d.arrangeBar()
	d.arrangeAbove()
	d.placeControls(rows, gap)
	d.arrangeSentence(l.sentence, d.sentenceStyle())
	if d.over != nil {
		for _, x := range d.pageOrder() {
			x.Self().Area = display.Rect{}
		}
		d.arrangeOverlay()
	}
}

// stack takes the next part of the page from the bottom up.
func (d *Desk) stack(bottom *float64, height float64) display.Rect {
	*bottom -= height
	return display.Rect{Y: *bottom, W: d.in.W, H: height}
}

// arrangeFamily gives the page to the picture and the sentence.
func (d *Desk) arrangeFamily() {
	l := &d.layout
	w, h := d.in.W, d.in.H
	bottom := h
	l.hint = d.stack(&bottom, math.Round(1.9*theme.Body*d.kit.Text))
	st := d.familyStyle()
	l.sentence = d.stack(&bottom, math.Round(3*lettering.LineHeight(st)+st.Size/2))
	l.picture = display.Rect{W: w, H: bottom}
	l.header, l.panel = display.Rect{}, display.Rect{}
	d.page.picture.Area = l.picture
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
	st.Size *= d.kit.Unit / d.in.Scale
	return st
}

// arrangeColumn divides the column beside the picture: from above, from in front with
// the buttons that cover, and the numbers, which take the room of the others where
// there is little.
func (d *Desk) arrangeColumn(c display.Rect, gap float64) {
	l := &d.layout
	l.above, l.front, l.numbers = display.Rect{}, display.Rect{}, display.Rect{}
	take := func(h float64) display.Rect {
		h = min(math.Round(h), c.H)
		r := display.Rect{X: c.X, Y: c.Y + c.H - h, W: c.W, H: h}
		c.H -= h
		return r
	}
	heading := d.headingHeight()
	if d.numbers {
		st := d.kit.Style(theme.Small)
		need := heading + float64(len(d.facts))*lettering.LineHeight(st) + gap
		if c.H-need < 130*d.kit.Unit {
			l.numbers = take(c.H)
			return
		}
		l.numbers = take(need)
	}
	widths := [2]float64{}
	total, height := 0., 0.
	for i, b := range d.page.covers {
		widths[i], height = b.Size(&d.kit)
		total += widths[i]
	}
	front := heading + 0.3*c.W + height
	if stacked := total > c.W; stacked {
		front += height
	}
	if c.H-front < 120*d.kit.Unit {
		front = height // the buttons alone
		if total > c.W {
			front += height
		}
	}
	l.front = take(front)
	l.above = take(c.H)
	y := l.front.Y + l.front.H - height
	if total > c.W {
		for i, b := range d.page.covers {
			b.Area = display.Rect{X: c.X, Y: y - float64(1-i)*height, W: c.W, H: height}
		}
		return
	}
	half := math.Round(c.W / 2)
	split := min(max(half, widths[0]), c.W-widths[1])
	d.page.covers[0].Area = display.Rect{X: c.X, Y: y, W: split, H: height}
	d.page.covers[1].Area = display.Rect{X: c.X + split, Y: y, W: c.W - split, H: height}
}

// headingHeight is the height of the name over a picture of the column.
func (d *Desk) headingHeight() float64 {
	return math.Round(1.9 * theme.Body * d.kit.Text)
}

// arrangeHeader puts the buttons at the right end of the header, and leaves the name
// of the scene the rest.
func (d *Desk) arrangeHeader(gap float64) {
	l := &d.layout
	right := l.header.W - math.Round(gap/2)
	for i := len(d.page.header) - 1; i >= 0; i-- {
		b := d.page.header[i]
		if b.Name == "play" && !d.moves {
			continue
		}
		w, h := b.Size(&d.kit)
		right -= w
		b.Area = display.Rect{X: right, Y: math.Round((l.header.H - h) / 2), W: w, H: h}
	}
	l.name = display.Rect{X: 2 * gap, W: right - 3*gap, H: l.header.H}
}

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
		return d.layout.x(distanceX(fromEyes(&d.setup, d.setup.Beads[h.bead].At)))
	default:
		return d.layout.x(vergenceX(d.view.Axes.Vergence, d.setup.Patient.PD, barEnd))
	}
}

// aboveFrame is where the view from above is drawn.
func (d *Desk) aboveFrame() display.Rect {
	r := d.layout.above
	h := d.headingHeight()
	r.Y, r.H = r.Y+h, r.H-h
	return r
}

// aboveScale is that of the type in the view from above, where large type has no room
// the usual one.
func (d *Desk) aboveScale() float64 {
	if d.aboveFrame().H < 180*d.kit.Unit {
		return 0.9 * d.kit.Unit
	}
	return d.kit.Text
}

// mapAbove takes over where places stand in the view from above.
func (l *layout) mapAbove(d *Desk) {
	s := &d.setup
	if l.extent != nil {
		s = l.extent
	}
	l.places = render.AboveMapOf(d.aboveFrame(), s, d.aboveScale())
}

// arrangeAbove puts handles where the view from above has what they pull.
func (d *Desk) arrangeAbove() {
	l := &d.layout
	if l.above.H <= 0 {
		return
	}
	l.mapAbove(d)
	frame := d.aboveFrame()
	side := math.Round(0.7 * theme.Target * l.unit)
	for _, h := range d.page.above {
		var at display.Point
		switch h.kind {
		case target:
			at = l.places.Page(d.view.Target.Point)
			at.X -= 0.6 * side
		case bead:
			at = l.places.Page(d.setup.Place(d.setup.Beads[h.bead].At))
		case anchor:
			at = l.places.Page(d.setup.Place(d.setup.String.Length))
		case meeting:
			if !d.view.Axes.Point.OK {
				continue
			}
			at = l.places.Page(d.view.Axes.Point.Value)
			at.X += 0.6 * side
		case rightEye:
			at = l.places.Page(d.view.Eyes[sim.RightEye].Centre)
		case leftEye:
			at = l.places.Page(d.view.Eyes[sim.LeftEye].Centre)
		}
		if ui.Inside(frame, at) {
			h.Area = display.Rect{X: at.X - side/2, Y: at.Y - side/2, W: side, H: side}
		}
	}
}

// tick is a mark on the scale of the bar.
type tick struct {
	text   string
	x      float64
	labelX float64
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
	wall := fromEyes(&d.setup, d.setup.String.Length)
	d.addTick(d.fixed.nose, a.noseX)
	d.addTick(d.say.WallAt(math.Round(wall/10)*10), distanceX(wall))
	d.addTick(d.fixed.infinity, 1)
	d.addTick(d.fixed.part, barEnd)
	places := tickPlaces[:]
	if d.say.Inches() {
		places = tickInches[:]
	}
	for i, n := range places {
		mm := n * d.say.LengthUnit()
		if x := distanceX(mm); x > a.noseX {
			text := d.say.Number(n, 0)
			if i == 0 { // one says the unit
				text = d.say.Length(mm)
			}
			d.addTick(text, x)
		}
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
// has no room.
func (d *Desk) arrangeLabels() {
	a, u := &d.layout, d.layout.unit
	st := d.kit.Style(theme.Body)
	off := theme.Target / 2 * u
	end := a.left + a.width
	tx := d.handleX(d.page.handles[0])
	a.targetText = label{text: d.targetText, x: tx + off, anchor: lettering.Start}
	if tx+off+lettering.Width(st, d.targetText) > end {
		a.targetText.x, a.targetText.anchor = tx-off, lettering.End
	}
	gap := theme.Unit * u
	fieldW, fieldH := d.page.deviation.Size(&d.kit)
	mx := d.handleX(d.page.handles[1])
	w := lettering.Width(st, d.meetingText)
	area := display.Rect{X: mx + off, Y: a.meetingY - fieldH/2, W: fieldW, H: fieldH}
	a.meetingText = label{text: d.meetingText, x: area.X + fieldW + gap, anchor: lettering.Start}
	if a.meetingText.x+w > end {
		area.X = mx - off - fieldW
		a.meetingText.x, a.meetingText.anchor = area.X-gap, lettering.End
	}
	d.page.deviation.Area = area
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

// arrangeControls puts the controls of the open tab into rows, and gives the height
// of a row. Their places are in the panel as if all rows showed.
func (d *Desk) arrangeControls(w, gap float64) (row float64) {
	l, p := &d.layout, &d.page
	d.tab = max(0, min(d.tab, len(subjects)-1))
	labelH := math.Round(1.5 * theme.Small * d.kit.Text)
	_, tall := p.more.Size(&d.kit)
	row = labelH + tall + math.Round(gap/2)
	moreW, _ := p.more.Size(&d.kit)
	moreW = max(moreW, 2*math.Round(theme.Target*d.kit.Unit))
	end := w - moreW - 2*gap
	x, y := 2*gap, 0.
	l.rows = 1
	st := d.kit.Style(theme.Small)
	for _, c := range p.controls[d.tab] {
		if c.when != nil && !c.when(&d.doc.Scene().Setup) {
			continue
		}
		b := c.Self()
		cw, ch := c.Size(&d.kit)
		cell := math.Ceil(max(cw, lettering.Width(st, b.Label)))
		if x > 2*gap && x+cell > end {
			x, y = 2*gap, y+1
			l.rows++
		}
		b.Area = display.Rect{X: x, Y: y, W: cw, H: ch} // Y: the row, until it is placed
		x += cell + 2*gap
	}
	return row
}

// placeControls puts the rows that show into the panel, and the tabs over it.
func (d *Desk) placeControls(row, gap float64) {
	l, p := &d.layout, &d.page
	labelH := math.Round(1.5 * theme.Small * d.kit.Text)
	for _, c := range p.controls[d.tab] {
		b := c.Self()
		if !b.Shown() {
			continue
		}
		at := int(b.Area.Y) - d.row
		if at < 0 || at >= l.shownRows {
			b.Area = display.Rect{}
			continue
		}
		b.Area.Y = l.panel.Y + math.Round(gap/2) + float64(at)*row + labelH
	}
	w, h := p.more.Size(&d.kit)
	w = max(w, 2*math.Round(theme.Target*d.kit.Unit))
	side := math.Round(theme.Target * d.kit.Unit)
	right := l.panel.X + l.panel.W - gap
	y := l.panel.Y + math.Round(gap/2) + labelH
	if l.rows > 1 && (l.rows > l.shownRows || d.more) {
		p.more.Area = display.Rect{X: right - w, Y: y + float64(l.shownRows-1)*row, W: w, H: h}
		if l.rows > l.shownRows && l.shownRows > 1 {
			p.earlier.Area = display.Rect{X: right - w/2 - side, Y: y, W: side, H: h}
			p.later.Area = display.Rect{X: right - w/2, Y: y, W: side, H: h}
		}
	}
	p.more.Text = d.say.Label(words.ButtonMore)
	if d.more {
		p.more.Text = d.say.Label(words.ButtonLess)
	}
	p.earlier.Off, p.later.Off = d.row == 0, d.row+l.shownRows >= l.rows

	toolsX := l.tabs.W - gap
	for i := len(p.tools) - 1; i >= 0; i-- {
		w, h := p.tools[i].Size(&d.kit)
		toolsX -= w
		p.tools[i].Area = display.Rect{X: toolsX, Y: l.tabs.Y, W: w, H: h}
	}
	p.tabs.Folded = false
	tw, _ := p.tabs.Size(&d.kit)
	if tw > toolsX-3*gap {
		p.tabs.Folded = true
		tw, _ = p.tabs.Size(&d.kit)
	}
	p.tabs.Area = display.Rect{X: 2 * gap, Y: l.tabs.Y, W: tw, H: l.tabs.H}
}

// scrollRows moves the controls on by so many rows.
func (d *Desk) scrollRows(by int) {
	d.row = max(0, min(d.row+by, d.layout.rows-d.layout.shownRows))
}
