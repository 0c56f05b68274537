// Package sheet makes what is handed out: documents that flow over pages, take-home
// sheets as PDF and as one HTML file, and the page that shows a gallery of pictures.
//
// A page holds shapes and text only: no picture made of pixels, nothing from elsewhere.
// Written twice, it gives the same bytes.
package sheet

import (
	"io"
	"strconv"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/pdf"
	"twincord/render/theme"
)

// Document is a document to be printed, built from the top down in the order in which
// it is read, and written as PDF: real text, embedded fonts, shapes for pictures, tags
// that a screen reader follows, bookmarks, and no date, so that the same document
// is the same file. The zero value with a Paper is an empty document.
//
// Pages end between blocks, between the lines of a paragraph, and between the rows of
// what would not fit on one page. A heading stays with what follows.
type Document struct {
	Paper    pdf.Paper
	Language string // of the text, a BCP 47 tag
	Title    string
	// Scale is that of type, pictures, gaps and margins alike, so that more goes onto a
	// page; 0 is 1.
	Scale float64
	// Boxes is said at the end where a box stands for a character that the fonts lack;
	// empty: nothing is. What readers show beside the page has the character itself.
	Boxes string
	// Footer says what stands at the foot of a page, counted from 1; nil: nothing.
	Footer func(page, pages int) string
	// Ruler stands down the right edge of the first page; nil: none.
	Ruler *Ruler

	blocks []func(*layout)
}

// Picture is a display list in a document. Alt says what it shows, for those who do
// not see it.
type Picture struct {
	List *display.List
	Alt  string
}

// Step is one of several things to do. Its number is given to it, but to one that is
// Aside.
type Step struct {
	Aside   bool
	Picture Picture // a nil List: none
	Share   float64 // of one column, for a picture beside the text; 0: a quarter
	Title   string
	Text    []string // paragraphs
}

// Table is a table or a log to fill in. A row of empty strings is boxes to write in.
type Table struct {
	Columns   []string
	Shares    []float64 // of the width; nil: even
	Rows      [][]string
	Pictures  []Picture // over the first cell of each row; nil: none
	Ticks     bool      // the first cell of each row is a box to tick
	RowHeight float64   // at least, points; boxes need 20
}

// Field is a label with a line to write on beside it, or a box to tick.
type Field struct {
	Label string
	Share float64 // of the width
	Tick  bool
}

// Measures of a page, in points.
const (
	marginSide   = 46.
	marginTop    = 30.
	marginBottom = 40. // with the footer in it
	footerUp     = 24. // its baseline over the paper's edge
	gutter       = 18. // between what stands side by side
	gap          = 5.  // between blocks
	indent       = 14. // of the items of a list

	bodySize   = 10.5
	smallSize  = 8.5
	numberSize = 15.
	markRadius = 6.5 // of the disc that a mark of a list is on
)

// headingSizes are those of the levels, from 1.
var headingSizes = [...]float64{21, 13.5, 11}

// Heading adds a heading of level 1, 2 or 3. The first two are bookmarks too.
func (d *Document) Heading(level int, s string) {
	d.add(func(b *layout) {
		level := min(max(level, 1), len(headingSizes))
		st := b.style(display.Bold, headingSizes[level-1], theme.Paper.Ink)
		e := b.root.Add("H" + strconv.Itoa(level))
		lines := b.wrap(st, s, b.width())
		before := 1.6 * gap
		if level == 1 {
			before = gap
		}
		b.row(row{height: b.textHeight(st, lines), before: before, keep: true, draw: func(g page, y float64) {
			if level <= 2 {
				b.bookmarks = append(b.bookmarks, pdf.Bookmark{Text: s, Page: g.number, Y: y})
			}
			g.lines(e, st, marginSide, y, lines)
		}})
	})
}

// Paragraph adds a paragraph.
func (d *Document) Paragraph(s string) {
	d.paragraph(display.Regular, bodySize, theme.Paper.Ink, s, false)
}

// Main adds a paragraph that stands out: what the whole document is about.
func (d *Document) Main(s string) { d.paragraph(display.Bold, bodySize, theme.Paper.Ink, s, false) }

// Lead adds a paragraph that stays with what follows.
func (d *Document) Lead(s string) { d.paragraph(display.Regular, bodySize, theme.Paper.Ink, s, true) }

// Note adds a paragraph in small type.
func (d *Document) Note(s string) {
	d.paragraph(display.Regular, smallSize, theme.Paper.Muted, s, false)
}

func (d *Document) paragraph(face display.Face, size float64, c display.Colour, s string, keep bool) {
	d.add(func(b *layout) {
		b.paragraph(b.root.Add("P"), b.style(face, size, c), 0, gap, s, nil)
		if keep && len(b.rows) > 0 {
			b.rows[len(b.rows)-1].keep = true
		}
	})
}

// Fits adds what a function adds if that takes no further page, and says whether it did.
func (d *Document) Fits(add func()) bool {
	n := len(d.blocks)
	before, err := d.Pages()
	if err != nil {
		add()
		return true // and it is told when the document is written
	}
	add()
	if after, err := d.Pages(); err == nil && after > before {
		d.blocks = d.blocks[:n]
		return false
	}
	return true
}

// Bullets adds a list.
func (d *Document) Bullets(items ...string) {
	d.add(func(b *layout) { b.bullets(bodySize, indent, items, nil) })
}

// BulletsIn adds a list of short items in columns, read along the rows.
func (d *Document) BulletsIn(columns int, items ...string) {
	d.add(func(b *layout) {
		if columns < 1 {
			b.fail("a list is in %d columns; at least 1 is needed", columns)
			return
		}
		list := b.root.Add("L")
		st := b.style(display.Regular, bodySize, theme.Paper.Ink)
		width := (b.width() - float64(columns-1)*gutter) / float64(columns)
		for from := 0; from < len(items); from += columns {
			var lines [][]string
			var elements []*pdf.Element
			height, before := 0., 0.5*gap
			if from == 0 {
				before = gap
			}
			for _, s := range items[from:min(from+columns, len(items))] {
				lines = append(lines, b.wrap(st, s, width-indent))
				elements = append(elements, list.Add("LI").Add("LBody"))
				height = max(height, b.textHeight(st, lines[len(lines)-1]))
			}
			b.row(row{height: height, before: before, draw: func(g page, y float64) {
				for i, e := range elements {
					x := marginSide + float64(i)*(width+gutter) + indent
					g.dot(display.Point{X: x - 0.75*bodySize, Y: y + lineHeight(st)/2}, 0.16*bodySize)
					g.lines(e, st, x, y, lines[i])
				}
			}})
		}
	})
}

// Caution adds a list with a title, set off by a bar beside it.
func (d *Document) Caution(title string, items ...string) {
	d.add(func(b *layout) {
		bar := func(g page, y, height float64) {
			g.fill(display.Rect{X: marginSide, Y: y, W: 2.5, H: height}, theme.Paper.Accent)
		}
		st := b.style(display.Bold, bodySize, theme.Paper.Ink)
		e := b.root.Add("H2")
		lines := b.wrap(st, title, b.width()-indent)
		height := b.textHeight(st, lines)
		b.row(row{height: height, before: 2 * gap, keep: true, draw: func(g page, y float64) {
			bar(g, y, height)
			b.bookmarks = append(b.bookmarks, pdf.Bookmark{Text: title, Page: g.number, Y: y})
			g.lines(e, st, marginSide+indent, y, lines)
		}})
		b.bullets(bodySize, 2*indent, items, bar)
	})
}

// Blank adds labels, side by side, each with a line to write on.
func (d *Document) Blank(labels ...string) {
	fields := make([]Field, len(labels))
	for i, label := range labels {
		fields[i] = Field{Label: label, Share: 1}
	}
	d.Fields(fields...)
}

// Fields adds what is to be filled in, side by side.
func (d *Document) Fields(fields ...Field) {
	d.add(func(b *layout) {
		st := b.style(display.Regular, bodySize, theme.Paper.Ink)
		sum := 0.
		for _, f := range fields {
			sum += f.Share
		}
		room := b.width() - float64(len(fields)-1)*gutter
		elements := make([]*pdf.Element, len(fields))
		for i, f := range fields {
			elements[i] = b.root.Add("P")
			fields[i].Label = b.printable(st.Face, f.Label)
		}
		b.row(row{height: 18, before: 0.5 * gap, draw: func(g page, y float64) {
			x := marginSide
			for i, f := range fields {
				width := room * f.Share / sum
				g.text(elements[i], st, x, y+13, lettering.Start, f.Label)
				from := x + lettering.Width(st, f.Label) + gap
				if f.Tick {
					g.outlined(display.Rect{X: from, Y: y + 3, W: 12, H: 12}, 0.8, theme.Paper.Edge)
				} else {
					g.stroke(theme.Paper.Edge, display.Point{X: from, Y: y + 16}, display.Point{X: x + width, Y: y + 16})
				}
				x += width + gutter
			}
		}})
	})
}

// Box adds a title, a list, and what is said below it, which may be empty, in a frame
// that no page breaks.
func (d *Document) Box(title string, items []string, below string) {
	d.add(func(b *layout) {
		const pad = 8.
		head := b.style(display.Bold, bodySize+1.5, theme.Paper.Ink)
		st := b.style(display.Regular, bodySize, theme.Paper.Ink)
		bold := b.style(display.Bold, bodySize, theme.Paper.Ink)
		heading := b.root.Add("H2")
		titles := b.wrap(head, title, b.width()-2*pad)
		height := pad + b.textHeight(head, titles)
		list := b.root.Add("L")
		type item struct {
			e     *pdf.Element
			y     float64
			style lettering.Style
			lines []string
		}
		var all []item
		for _, s := range items {
			height += 0.4 * gap
			lines := b.wrap(st, s, b.width()-2*pad-indent)
			all = append(all, item{list.Add("LI").Add("LBody"), height, st, lines})
			height += b.textHeight(st, lines)
		}
		if below != "" {
			height += 0.8 * gap
			lines := b.wrap(bold, below, b.width()-2*pad)
			all = append(all, item{b.root.Add("P"), height, bold, lines})
			height += b.textHeight(bold, lines)
		}
		height += pad
		b.row(row{height: height, before: 1.5 * gap, draw: func(g page, y float64) {
			frame := display.Rect{X: marginSide, Y: y, W: b.width(), H: height}
			g.fill(frame, theme.Paper.Raised)
			g.outlined(frame, 1.6, theme.Paper.Accent)
			b.bookmarks = append(b.bookmarks, pdf.Bookmark{Text: title, Page: g.number, Y: y})
			g.lines(heading, head, marginSide+pad, y+pad, titles)
			for i, it := range all {
				x := marginSide + pad
				if i < len(items) {
					g.dot(display.Point{X: x + 0.35*indent, Y: y + it.y + lineHeight(st)/2}, 0.16*bodySize)
					x += indent
				}
				g.lines(it.e, it.style, x, y+it.y, it.lines)
			}
		}})
	})
}

// Numbered adds a list of things to do one after the other.
func (d *Document) Numbered(items ...string) {
	marks := make([]string, len(items))
	for i := range items {
		marks[i] = strconv.Itoa(i + 1)
	}
	d.add(func(b *layout) {
		list := b.root.Add("L")
		for i, s := range items {
			c := b.marked(list, marks[i], s, b.width())
			b.row(row{height: c.height, before: 0.5 * gap, draw: func(g page, y float64) { c.draw(g, marginSide, y) }})
		}
	})
}

// Beside adds a picture, share of the width wide, with a list beside it whose marks
// stand in the picture too.
func (d *Document) Beside(p Picture, share float64, marks, items []string) {
	d.add(func(b *layout) {
		width := share * b.width()
		high, ok := b.pictureHeight(p, width)
		if !ok {
			return
		}
		figure := b.figure(&b.root, p)
		list := b.root.Add("L")
		var cells []cell
		height := 0.
		for i, s := range items {
			c := b.marked(list, marks[i], s, b.width()-width-gutter)
			cells = append(cells, c)
			height += c.height + 0.4*gap
		}
		b.row(row{height: max(height, high), before: gap, draw: func(g page, y float64) {
			g.Picture(figure, p.List, display.Rect{X: marginSide, Y: y, W: width, H: high})
			for _, c := range cells {
				c.draw(g, marginSide+width+gutter, y)
				y += c.height + 0.4*gap
			}
		}})
	})
}

// marked is an item of a list with its mark on a disc.
func (b *layout) marked(list *pdf.Element, mark, s string, width float64) cell {
	const hang = 19.
	st := b.style(display.Regular, bodySize, theme.Paper.Ink)
	item := list.Add("LI")
	label, body := item.Add("Lbl"), item.Add("LBody")
	lines := b.wrap(st, s, width-hang)
	return cell{b.textHeight(st, lines), func(g page, x, y float64) {
		var l display.List
		disc(&l, display.Point{X: x + markRadius, Y: y + lineHeight(st)/2}, markRadius, mark)
		g.Draw(label, &l)
		g.lines(body, st, x+hang, y, lines)
	}}
}

// disc adds a mark, a letter or a number, on a disc.
func disc(l *display.List, at display.Point, radius float64, mark string) {
	l.Circle(at, radius)
	l.Fill(display.Paint{From: theme.Paper.Accent})
	st := lettering.Style{Face: display.Bold, Size: 1.35 * radius, Colour: theme.Paper.OnAccent}
	lettering.Draw(l, st, at.X, at.Y+0.48*radius, lettering.Middle, mark)
}

// Break begins a new page.
func (d *Document) Break() {
	d.add(func(b *layout) { b.row(row{ends: true, draw: func(page, float64) {}}) })
}

// Picture adds a picture, share (above 0, at most 1) of the page wide.
func (d *Document) Picture(p Picture, share float64) {
	d.add(func(b *layout) {
		if !(share > 0 && share <= 1) {
			b.fail("a picture's share of the width is %v; allowed are above 0 to 1", share)
			return
		}
		width := share * b.width()
		height, ok := b.pictureHeight(p, width)
		if !ok {
			return
		}
		e := b.figure(&b.root, p)
		b.row(row{height: height, before: gap, draw: func(g page, y float64) {
			g.framed(e, p.List, display.Rect{X: marginSide + (b.width()-width)/2, Y: y, W: width, H: height})
		}})
	})
}

// Steps adds numbered steps in columns. In one column a step's picture is beside its
// text, in several above it.
func (d *Document) Steps(columns int, steps ...Step) {
	d.add(func(b *layout) {
		if columns < 1 {
			b.fail("steps are in %d columns; at least 1 is needed", columns)
			return
		}
		list := b.root.Add("L")
		width := (b.width() - float64(columns-1)*gutter) / float64(columns)
		for from := 0; from < len(steps); from += columns {
			var cells []cell
			height := 0.
			for i := from; i < min(from+columns, len(steps)); i++ {
				c, ok := b.step(list, i+1, steps[i], width, columns == 1)
				if !ok {
					return
				}
				cells = append(cells, c)
				height = max(height, c.height)
			}
			b.row(row{height: height, before: 1.5 * gap, draw: func(g page, y float64) {
				for i, c := range cells {
					c.draw(g, marginSide+float64(i)*(width+gutter), y)
				}
			}})
		}
	})
}

// besideShare is how much of a column a picture beside its text takes where nothing else
// is said.
const besideShare = 0.25

// cell is a block that may stand beside others.
type cell struct {
	height float64
	draw   func(g page, x, y float64)
}

func (b *layout) step(list *pdf.Element, number int, s Step, width float64, beside bool) (cell, bool) {
	item := list.Add("LI")
	label := item.Add("Lbl")
	body := item.Add("LBody")
	title := b.style(display.Bold, bodySize, theme.Paper.Ink)
	text := b.style(display.Regular, bodySize, theme.Paper.Ink)
	big := b.style(display.Bold, numberSize, theme.Paper.Accent)

	var picture display.Rect // of the cell
	var figure *pdf.Element
	left, top := 0., 0.
	if s.Picture.List != nil {
		picture.W = width
		if beside {
			share := s.Share
			if share == 0 {
				share = besideShare
			}
			picture.W = share * width
			left = picture.W + gutter
		}
		var ok bool
		if picture.H, ok = b.pictureHeight(s.Picture, picture.W); !ok {
			return cell{}, false
		}
		if !beside {
			top = picture.H + gap
		}
	}
	digits, hang := "", 0.
	if s.Aside {
		big = title
	} else {
		digits = strconv.Itoa(number)
		hang = lettering.Width(big, digits) + 7
	}
	titles := b.wrap(title, s.Title, width-left-hang)
	height := top + baseline(big) - baseline(title) + b.textHeight(title, titles)
	heading := body.Add("P")
	if s.Picture.List != nil {
		figure = b.figure(body, s.Picture)
	}
	type part struct {
		e     *pdf.Element
		y     float64
		lines []string
	}
	var parts []part
	for _, t := range s.Text {
		height += 0.4 * gap
		lines := b.wrap(text, t, width-left)
		parts = append(parts, part{body.Add("P"), height, lines})
		height += b.textHeight(text, lines)
	}
	return cell{max(height, picture.H), func(g page, x, y float64) {
		foot := y + top + baseline(big)
		g.text(label, big, x+left, foot, lettering.Start, digits)
		g.lines(heading, title, x+left+hang, foot-baseline(title), titles)
		if figure != nil {
			picture.X, picture.Y = x, y
			g.framed(figure, s.Picture.List, picture)
		}
		for _, p := range parts {
			g.lines(p.e, text, x+left, y+p.y, p.lines)
		}
	}}, true
}

// Table adds a table.
func (d *Document) Table(t Table) {
	d.add(func(b *layout) {
		n := len(t.Columns)
		if n == 0 || t.Shares != nil && len(t.Shares) != n {
			b.fail("a table has %d columns and %d shares of the width; as many of both are needed, at least 1", n, len(t.Shares))
			return
		}
		edges, sum := make([]float64, n+1), 0.
		for i := range n {
			share := 1.
			if t.Shares != nil {
				share = t.Shares[i]
			}
			if !(share > 0) {
				b.fail("column %d of a table has the share %v of the width; it has to be above 0", i+1, share)
				return
			}
			sum += share
			edges[i+1] = sum
		}
		for i := range edges {
			edges[i] = marginSide + edges[i]/sum*b.width()
		}
		table := b.root.Add("Table")
		if t.Pictures != nil && len(t.Pictures) != len(t.Rows) {
			b.fail("a table has %d rows and %d pictures; as many of both are needed", len(t.Rows), len(t.Pictures))
			return
		}
		b.tableRow(table, tableRow{tag: "TH", edges: edges, texts: t.Columns, head: true, keep: len(t.Rows) > 0})
		for i, texts := range t.Rows {
			if len(texts) != n {
				b.fail("row %d of a table has %d cells; it has %d columns", i+1, len(texts), n)
				return
			}
			r := tableRow{tag: "TD", edges: edges, texts: texts, least: t.RowHeight, ticks: t.Ticks, keep: t.Ticks && i+1 < len(t.Rows)}
			if t.Pictures != nil {
				r.picture = t.Pictures[i]
			}
			b.tableRow(table, r)
		}
	})
}

// tableRow is a row of a table.
type tableRow struct {
	tag        string
	edges      []float64 // of its cells
	texts      []string
	picture    Picture // over the first cell's text; a nil List: none
	ticks      bool    // the first cell is a box to tick
	least      float64 // height
	head, keep bool
}

func (b *layout) tableRow(table *pdf.Element, t tableRow) {
	const pad = 4.
	st := b.style(display.Regular, bodySize, theme.Paper.Ink)
	before := 0.
	if t.head {
		st.Face, before = display.Bold, 1.5*gap
	}
	edges := t.edges
	tr := table.Add("TR")
	cells := make([][]string, len(t.texts))
	elements := make([]*pdf.Element, len(t.texts))
	height, down := t.least, 0.
	var figure *pdf.Element
	frame := display.Rect{X: edges[0] + pad, W: edges[1] - edges[0] - 2*pad}
	for i, s := range t.texts {
		elements[i] = tr.Add(t.tag)
		if t.head {
			elements[i].Scope = "Column"
		}
		cells[i] = b.wrap(st, s, edges[i+1]-edges[i]-2*pad)
		high := b.textHeight(st, cells[i]) + 2*pad
		if i == 0 && t.picture.List != nil {
			figure = b.figure(elements[0], t.picture)
			frame.H, _ = b.pictureHeight(t.picture, frame.W)
			down = frame.H + 0.6*pad
			high += down
		}
		height = max(height, high)
	}
	b.row(row{height: height, before: before, keep: t.keep, draw: func(g page, y float64) {
		last := len(edges) - 1
		if t.head {
			g.fill(display.Rect{X: edges[0], Y: y, W: edges[last] - edges[0], H: height}, theme.Paper.Raised)
		}
		if figure != nil {
			frame.Y = y + pad
			g.framed(figure, t.picture.List, frame)
		}
		if t.ticks {
			g.outlined(display.Rect{X: (edges[0] + edges[1] - 12) / 2, Y: y + height/2 - 6, W: 12, H: 12}, 0.8, theme.Paper.Edge)
		}
		for i := range cells {
			g.outlined(display.Rect{X: edges[i], Y: y, W: edges[i+1] - edges[i], H: height}, 0.6, theme.Paper.Edge)
			top := y + pad
			if i == 0 {
				top += down
			}
			g.lines(elements[i], st, edges[i]+pad, top, cells[i])
		}
	}})
}

// Space leaves room, in points.
func (d *Document) Space(height float64) {
	d.add(func(b *layout) { b.row(row{height: height, draw: func(page, float64) {}}) })
}

func (d *Document) add(block func(*layout)) { d.blocks = append(d.blocks, block) }

func (d *Document) scale() float64 {
	if d.Scale == 0 {
		return 1
	}
	return d.Scale
}

// Pages is how many pages the document has.
func (d *Document) Pages() (int, error) {
	_, pages, err := d.layout()
	return len(pages), err
}

// Write writes the document as PDF. Of a document that has a fault nothing is written: a
// picture without a size or without words, a
// part that is higher than a page, a place that is no number.
func (d *Document) Write(w io.Writer) error {
	b, pages, err := d.layout()
	if err != nil {
		return err
	}
	p := pdf.New()
	footer := b.style(display.Regular, smallSize, theme.Paper.Muted)
	var ruler *pdf.Element
	if d.Ruler != nil {
		ruler = b.root.Add("Figure")
		ruler.Alt = d.Ruler.Alt
	}
	for i, rows := range pages {
		p.Page(d.Paper, d.scale(), func(g *pdf.Page) {
			for _, r := range rows {
				r.row.draw(page{g, i}, r.y)
			}
			if ruler != nil && i == 0 {
				var l display.List
				d.Ruler.draw(&l, b.paper.W-marginSide/d.scale()/2, b.paper.H, 1/d.scale())
				g.Draw(ruler, &l)
			}
			if d.Footer != nil {
				s := d.Footer(i+1, len(pages))
				page{g, i}.text(nil, footer, b.paper.W-marginSide, b.paper.H-footerUp, lettering.End, b.printable(footer.Face, s))
			}
		})
	}
	return p.Write(w, &b.root, d.Language, d.Title, b.bookmarks)
}
