package desk

import (
	"math"
	"slices"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/sim"
)

// The pages of the column beside the picture.
const (
	viewsPage = iota
	setupPage
	numbersPage
	answersPage
	columnPages
)

// columnLabels are what the pages are called.
var columnLabels = [columnPages]words.Label{words.PageViews, words.PageSetup, words.PageNumbers, words.PageAnswers}

// block is a part of a page of the column, over its whole width.
type block interface {
	// lay takes the room from x, y on and gives the height that it needs; none: it is
	// not shown.
	lay(d *Desk, x, y, width float64) (height float64)
	draw(d *Desk, l *display.List)
	// widgets are those that it has, in the order of the focus.
	widgets() []ui.Widget
}

// column is one page of the column: blocks one under the other, which scroll where
// they need more room.
type column struct {
	blocks []block
	wide   bool // it has a use for all of the width
	scroll *ui.Scroll
}

// readable is how wide a page is at most, units: a name stays near its number.
const readable = 560

// arrange lays the blocks out and says for each widget what of it shows.
func (c *column) arrange(d *Desk, area display.Rect) {
	c.height(d, area)
	top := c.scroll.Top
	if c.scroll.To(top); c.scroll.Top != top {
		c.height(d, area)
	}
	c.scroll.Skip = !c.scroll.Long()
	for _, b := range c.blocks {
		for _, w := range b.widgets() {
			w.Self().Within = area
		}
	}
}

// height lays the blocks out in an area as they are scrolled, and gives the height of all.
func (c *column) height(d *Desk, area display.Rect) float64 {
	c.scroll.Area = area
	pad := math.Round(theme.Unit * d.kit.Unit)
	width := c.scroll.Room(&d.kit) - pad
	if !c.wide {
		width = min(width, readable*d.kit.Unit)
	}
	from := area.Y - math.Round(c.scroll.Top)
	y := from + math.Round(theme.Unit*d.kit.Unit/2)
	y += stack(d, c.blocks, area.X+pad, y, width)
	c.scroll.Height = y - from + theme.Unit*d.kit.Unit
	return c.scroll.Height
}

// stack lays blocks out one under the other, and gives their height.
func stack(d *Desk, blocks []block, x, y, width float64) (height float64) {
	for _, b := range blocks {
		height += b.lay(d, x, y+height, width)
	}
	return height
}

// beside is blocks at the left of others where a page is wide, else above them.
type beside struct {
	left, right []block
	has         []ui.Widget // of both
}

// besideLeast is how wide a page is at least for that, units.
const besideLeast = 640

func newBeside(left, right []block) *beside {
	b := &beside{left: left, right: right}
	for _, one := range slices.Concat(left, right) {
		b.has = append(b.has, one.widgets()...)
	}
	return b
}

func (b *beside) widgets() []ui.Widget { return b.has }

func (b *beside) lay(d *Desk, x, y, width float64) float64 {
	if width < besideLeast*d.kit.Unit {
		height := stack(d, b.left, x, y, width)
		return height + stack(d, b.right, x, y+height, width)
	}
	gap := math.Round(2 * theme.Unit * d.kit.Unit)
	half := math.Floor((width - gap) / 2)
	return max(stack(d, b.left, x, y, half), stack(d, b.right, x+half+gap, y, half))
}

func (b *beside) draw(d *Desk, l *display.List) {
	for _, one := range b.left {
		one.draw(d, l)
	}
	for _, one := range b.right {
		one.draw(d, l)
	}
}

func (c *column) draw(d *Desk, l *display.List) {
	d.clip = c.scroll.Area
	l.Rect(c.scroll.Area)
	l.OpenClip()
	for _, b := range c.blocks {
		b.draw(d, l)
	}
	c.scroll.DrawEdge(&d.kit, l, d.kit.Theme.Panel)
	l.End()
	c.scroll.Draw(&d.kit, l)
}

// arrangeColumn puts the tabs, the open page and the buttons that cover into the
// column.
func (d *Desk) arrangeColumn(area display.Rect) {
	a, p := &d.layout, &d.page
	a.column = area
	if area.W <= 0 || area.H <= 0 {
		return
	}
	_, h := p.tabs.Size(&d.kit)
	p.tabs.Area = display.Rect{X: area.X, Y: area.Y, W: area.W, H: h}
	foot := d.arrangeCovers(area)
	page := &p.columns[d.Page]
	page.arrange(d, display.Rect{X: area.X, Y: area.Y + h, W: area.W, H: area.H - h - foot})
}

// arrangeCovers puts the buttons that cover an eye at the foot of the column, and
// gives their height.
func (d *Desk) arrangeCovers(area display.Rect) (height float64) {
	half := math.Round(area.W / 2)
	covers := d.page.covers
	_, h := covers[0].Size(&d.kit)
	rows := 1.
	for _, b := range covers {
		if w, _ := b.Size(&d.kit); w > half {
			rows = 2
		}
	}
	for i, b := range covers {
		b.Area = display.Rect{X: area.X + float64(i)*half, Y: area.Y + area.H - h, W: half, H: h}
		if rows == 2 {
			b.Area = display.Rect{X: area.X, Y: area.Y + area.H - float64(2-i)*h, W: area.W, H: h}
		}
	}
	return rows * h
}

func (d *Desk) drawColumn(l *display.List) {
	a, p := &d.layout, &d.page
	if a.column.W <= 0 || a.column.H <= 0 {
		return
	}
	ui.Fill(l, a.column, d.kit.Theme.Panel)
	p.columns[d.Page].draw(d, l)
	p.tabs.Draw(&d.kit, l)
	line := display.Rect{X: a.column.X, Y: p.tabs.Area.Y + p.tabs.Area.H, W: a.column.W, H: max(1, d.kit.Unit)}
	ui.Fill(l, line, d.kit.Theme.Hairline)
	for eye := range sim.Eyes {
		b, side := p.covers[eye], eye.Side()
		b.Held = d.setup.Cover == side || d.covered == side
		b.Draw(&d.kit, l)
	}
}

// reveal scrolls the column to what has the focus by keys, until the wheel scrolls it on, and
// says whether anything moved. Of a group that is unfolded as much shows as has room.
func (d *Desk) reveal() (moved bool) {
	if d.kit.Focus == nil || !d.kit.Ring || d.wheeled {
		return false
	}
	b := d.kit.Focus.Self()
	pages := []*column{&d.page.columns[d.Page]}
	if o, ok := d.over.(columned); ok {
		pages = o.columns()
	}
	for _, page := range pages {
		if s := page.scroll; b.Shown() && b.Within == s.Area && b.Within.H > 0 {
			end := b.Area.Y + b.Area.H + ui.Edge*d.kit.Unit
			if f, ok := d.kit.Focus.(*ui.Fold); ok && f.Open() {
				end = d.endOfGroup(f)
			}
			was := s.Top
			s.Reveal(b.Area.Y, end)
			moved = moved || s.Top != was
		}
	}
	return moved
}

// endOfGroup is where the next heading of the page begins, or the page ends.
func (d *Desk) endOfGroup(heading *ui.Fold) float64 {
	ws := d.page.paged[d.Page]
	at := slices.IndexFunc(ws, func(w ui.Widget) bool { return ui.Is(w, heading) })
	for _, w := range ws[at+1:] {
		if f, ok := w.(*ui.Fold); ok {
			return f.Area.Y
		}
	}
	s := d.page.columns[d.Page].scroll
	return s.Area.Y - s.Top + s.Height
}

// folding is the heading of a group of blocks that can be folded away.
type folding struct{ fold *ui.Fold }

func (f *folding) widgets() []ui.Widget { return []ui.Widget{f.fold} }

func (f *folding) lay(d *Desk, x, y, width float64) float64 {
	_, h := f.fold.Size(&d.kit)
	f.fold.Area = display.Rect{X: x, Y: y, W: width, H: h}
	return h
}

func (f *folding) draw(d *Desk, l *display.List) { f.fold.Draw(&d.kit, l) }

// group is a block that shows only while its heading is unfolded.
type group struct {
	block
	open func() bool
	hid  bool
}

func (g *group) lay(d *Desk, x, y, width float64) float64 {
	if g.hid = !g.open(); g.hid {
		return 0
	}
	in := math.Round(groupIndent * d.kit.Unit)
	return g.block.lay(d, x+in, y, width-in)
}

// groupIndent is how far what is under a heading is set in, units.
const groupIndent = 6

func (g *group) draw(d *Desk, l *display.List) {
	if !g.hid {
		g.block.draw(d, l)
	}
}

// line is a line of widgets with a label at their left, or over them where the line has
// no room for both.
type line struct {
	label string
	cells []ui.Widget
	heads []string // over the cells
	table []string // the labels of all lines of its table, in which the cells share the line evenly
	when  func(*Desk) bool

	shown         bool
	at            display.Rect
	lines         []string // the label as it is broken
	linesW, lineS float64  // the width and the size of type for that
	headY, labelY float64
}

func (b *line) widgets() []ui.Widget { return b.cells }

func (b *line) lay(d *Desk, x, y, width float64) float64 {
	if b.shown = b.when == nil || b.when(d); !b.shown {
		return 0
	}
	for _, w := range b.cells {
		w.Refresh(&d.kit)
	}
	k := &d.kit
	gap := math.Round(theme.Unit * k.Unit)
	st := k.Style(theme.Body)
	b.at = display.Rect{X: x, Y: y, W: width}
	y0 := y
	if len(b.heads) > 0 {
		b.headY = y + 1.3*theme.Small*k.Text
		y += math.Round(1.6 * theme.Small * k.Text)
	}
	cell, h, label := b.sizes(d, width), 0., 0.
	if b.label != "" {
		label = b.labelWidth(st) + 2*gap
	}
	for _, w := range b.cells {
		_, tall := w.Size(k)
		h = max(h, tall)
	}
	if n := float64(len(b.cells)); b.table == nil && label+n*cell > width {
		if label > 0 { // over the cells
			b.wrap(st, width)
			b.labelY = y + 0.2*gap + lettering.Ascent(st)
			y += float64(len(b.lines))*lettering.LineHeight(st) + 0.2*gap
		}
		cell = min(cell, width/n)
	} else {
		b.wrap(st, width)
		b.labelY = y + h/2 + lettering.CapHeight(st)/2
	}
	y = math.Round(y)
	at := x + width - float64(len(b.cells))*cell
	for i, w := range b.cells {
		w.Self().Area = display.Rect{X: math.Round(at + float64(i)*cell), Y: y, W: math.Floor(cell) - b.between(gap), H: h}
	}
	b.at.H = y + h - y0 + math.Round(gap/4)
	return b.at.H
}

// between is the gap between two cells of a line.
func (b *line) between(gap float64) float64 {
	if len(b.cells) > 1 {
		return gap / 2
	}
	return 0
}

// labelWidth is that of the label, and in a table of the widest of all.
func (b *line) labelWidth(st lettering.Style) float64 {
	wide := lettering.Width(st, b.label)
	for _, s := range b.table {
		wide = max(wide, lettering.Width(st, s))
	}
	return wide
}

// numberWidth is how wide numbers are at least, units, so that they stand in a column.
const numberWidth = 162

// sizes folds choices that have no room in the line and takes the buttons of numbers
// away that have none, and gives the width of a cell.
func (b *line) sizes(d *Desk, width float64) (cell float64) {
	k := &d.kit
	n := float64(len(b.cells))
	room := width / n
	if b.table != nil {
		room = (width - b.labelWidth(k.Style(theme.Body)) - 2*theme.Unit*k.Unit) / n
	}
	for _, w := range b.cells {
		switch w := w.(type) {
		case *ui.Choice:
			w.Folded = false
			if natural, _ := w.Size(k); natural > room || len(w.Texts) > 4 {
				w.Folded = true
			}
		case *ui.Number:
			w.Bare = false
			if natural, _ := w.Size(k); natural > room {
				w.Bare = true
			}
			cell = max(cell, min(numberWidth*k.Unit, room))
		}
		natural, _ := w.Size(k)
		cell = max(cell, natural)
	}
	if b.table != nil {
		return room
	}
	return min(cell, room)
}

// wrap breaks the label.
func (b *line) wrap(st lettering.Style, width float64) {
	if b.lines == nil || b.linesW != width || b.lineS != st.Size {
		b.lines, b.linesW, b.lineS = lettering.Wrap(st, b.label, width), width, st.Size
	}
}

func (b *line) draw(d *Desk, l *display.List) {
	if !b.shown || !d.inColumn(b.at) {
		return
	}
	st := d.kit.Style(theme.Body)
	for i, s := range b.lines {
		lettering.Draw(l, st, b.at.X, b.labelY+float64(i)*lettering.LineHeight(st), lettering.Start, s)
	}
	small := d.kit.Muted(theme.Small)
	for i, s := range b.heads {
		a := b.cells[i].Self().Area
		lettering.Draw(l, small, a.X, b.headY, lettering.Start, lettering.Ellipsis(small, s, a.W))
	}
	for _, w := range b.cells {
		w.Draw(&d.kit, l)
	}
}

// pageArea is where the open page of the column shows.
func (d *Desk) pageArea() display.Rect { return d.page.columns[d.Page].scroll.Area }

// inColumn says whether anything of a block shows in the column that is drawn.
func (d *Desk) inColumn(r display.Rect) bool {
	a := d.clip
	return r.Y+r.H > a.Y && r.Y < a.Y+a.H
}

// prose is text of any number of lines.
type prose struct {
	text   func(d *Desk) string
	size   float64
	muted  bool
	warn   bool
	bold   bool
	indent float64 // units

	of    string
	lines []string
	st    lettering.Style
	width float64
	at    display.Rect
}

func (b *prose) widgets() []ui.Widget { return nil }

func (b *prose) lay(d *Desk, x, y, width float64) float64 {
	text := b.text(d)
	if text == "" {
		b.lines, b.of = nil, ""
		return 0
	}
	k := &d.kit
	b.st.Size = b.size * k.Text
	b.st.Face = display.Regular
	if b.bold {
		b.st.Face = display.Bold
	}
	x, width = x+b.indent*k.Unit, width-b.indent*k.Unit
	if size := b.st.Size; text != b.of || width != b.width || b.at.W != size {
		b.of, b.width, b.at.W = text, width, size
		b.lines = lettering.Wrap(b.st, text, width)
	}
	b.at.X, b.at.Y = x, y
	b.at.H = float64(len(b.lines))*lettering.LineHeight(b.st) + math.Round(0.75*theme.Unit*k.Unit)
	return b.at.H
}

func (b *prose) draw(d *Desk, l *display.List) {
	if len(b.lines) == 0 || !d.inColumn(b.at) {
		return
	}
	t := d.kit.Theme
	b.st.Colour = t.Ink
	switch {
	case b.warn:
		b.st.Colour = t.Warning
	case b.muted:
		b.st.Colour = t.Muted
	}
	y := b.at.Y + lettering.Ascent(b.st)
	for _, s := range b.lines {
		lettering.Draw(l, b.st, b.at.X, y, lettering.Start, s)
		y += lettering.LineHeight(b.st)
	}
}

// figure is a picture in the column, with its name over it.
type figure struct {
	heading string
	height  func(d *Desk, width float64) float64 // 0: it is not shown
	paint   func(d *Desk, l *display.List, frame display.Rect)
	grips   []ui.Widget // what can be pulled in it
	place   func(d *Desk, frame display.Rect)

	frame display.Rect
	top   float64
}

func (b *figure) widgets() []ui.Widget { return b.grips }

func (b *figure) lay(d *Desk, x, y, width float64) float64 {
	h := math.Round(b.height(d, width))
	b.frame = display.Rect{}
	if h <= 0 {
		return 0
	}
	b.top = y
	head := 0.
	if b.heading != "" {
		head = math.Round(1.9 * theme.Small * d.kit.Text)
	}
	b.frame = display.Rect{X: x, Y: math.Round(y + head), W: math.Round(width), H: h}
	if b.place != nil {
		b.place(d, b.frame)
	}
	return head + h + math.Round(theme.Unit*d.kit.Unit)
}

func (b *figure) draw(d *Desk, l *display.List) {
	if b.frame.H <= 0 || !d.inColumn(b.frame) {
		return
	}
	st := d.kit.Muted(theme.Small)
	lettering.Draw(l, st, b.frame.X, b.top+0.8*(b.frame.Y-b.top), lettering.Start, b.heading)
	b.paint(d, l, b.frame)
	for _, w := range b.grips {
		if w.Self().Shown() {
			w.Draw(&d.kit, l)
		}
	}
}
