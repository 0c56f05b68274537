package sheet

import (
	"fmt"
	"math"
	"strings"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/pdf"
	"twincord/render/theme"
)

// layout is a document being laid out: rows from the top down.
type layout struct {
	paper     pdf.Paper
	root      pdf.Element
	rows      []row
	bookmarks []pdf.Bookmark
	boxes     bool // stand for characters
	err       error
}

// row is what is not broken across pages.
type row struct {
	height, before float64 // before: room over it, but at the top of a page
	keep           bool    // with the row after it
	ends           bool    // a page: what follows is on the next
	draw           func(g page, y float64)
}

// fail notes the first fault of a document.
func (b *layout) fail(format string, args ...any) {
	if b.err == nil {
		b.err = fmt.Errorf("writing the PDF: "+format, args...)
	}
}

func (b *layout) row(r row) { b.rows = append(b.rows, r) }

func (b *layout) width() float64 { return b.paper.W - 2*marginSide }

func (b *layout) style(f display.Face, size float64, c display.Colour) lettering.Style {
	return lettering.Style{Face: f, Size: size, Colour: c}
}

// printable is a text with a box for each character that its face does not have.
func (b *layout) printable(f display.Face, s string) string {
	to := lettering.Substituted(f, s)
	b.boxes = b.boxes || strings.ContainsRune(to, lettering.Instead)
	return to
}

func (b *layout) wrap(st lettering.Style, s string, width float64) []string {
	return lettering.Wrap(st, b.printable(st.Face, s), width)
}

func (b *layout) textHeight(st lettering.Style, lines []string) float64 {
	return float64(len(lines)) * lineHeight(st)
}

// paragraph lays out a paragraph in rows of a line, of which no page gets one alone.
// Each may have something beside it.
func (b *layout) paragraph(e *pdf.Element, st lettering.Style, indent, before float64, s string, beside func(g page, y, height float64)) {
	lines := b.wrap(st, s, b.width()-indent)
	height := lineHeight(st)
	for i, line := range lines {
		up := 0.
		if i == 0 {
			up = before
		}
		b.row(row{height: height, before: up, keep: len(lines) > 1 && (i == 0 || i == len(lines)-2), draw: func(g page, y float64) {
			if beside != nil {
				beside(g, y-up, height+up)
			}
			g.lines(e, st, marginSide+indent, y, []string{line})
		}})
	}
}

func (b *layout) bullets(size, indent float64, items []string, beside func(g page, y, height float64)) {
	list := b.root.Add("L")
	st := b.style(display.Regular, size, theme.Paper.Ink)
	for i, s := range items {
		dotted, before := false, 0.5*gap
		if i == 0 {
			before = gap
		}
		b.paragraph(list.Add("LI").Add("LBody"), st, indent, before, s, func(g page, y, height float64) {
			if beside != nil {
				beside(g, y, height)
			}
			if !dotted { // beside the first line
				dotted = true
				g.dot(display.Point{X: marginSide + indent - 0.75*size, Y: y + height - lineHeight(st)/2}, 0.16*size)
			}
		})
	}
}

// pictureHeight is how high a picture of some width is.
func (b *layout) pictureHeight(p Picture, width float64) (float64, bool) {
	if p.List == nil || !(p.List.W > 0) || !(p.List.H > 0) || math.IsInf(p.List.W, 0) || math.IsInf(p.List.H, 0) {
		b.fail("the picture %q has no size", p.Alt)
		return 0, false
	}
	if p.Alt == "" {
		b.fail("a picture does not say in words what it shows")
		return 0, false
	}
	return width * p.List.H / p.List.W, true
}

func (b *layout) figure(parent *pdf.Element, p Picture) *pdf.Element {
	e := parent.Add("Figure")
	e.Alt = p.Alt
	return e
}

// pages deals the rows out to pages: for each, the rows and their places down.
func (b *layout) pages() (pages [][]placed) {
	top, bottom := marginTop, b.paper.H-marginBottom
	if !(b.width() >= 200) || !(bottom-top >= 200) || math.IsInf(b.paper.W, 0) || math.IsInf(b.paper.H, 0) {
		b.fail("the paper is %v by %v points; at least %v by %v are needed", b.paper.W, b.paper.H, 200+2*marginSide, 200+marginTop+marginBottom)
	}
	if b.err != nil {
		return nil
	}
	pages = append(pages, nil)
	y, ended := top, false
	for i := range b.rows {
		r := &b.rows[i]
		if r.ends {
			ended = true
			continue
		}
		here := &pages[len(pages)-1]
		if len(*here) > 0 {
			kept := b.rows[i-1].keep // looked after with the row before it
			if ended || !kept && y+b.reach(i) > bottom || y+r.before+r.height > bottom {
				pages = append(pages, nil)
				here, y = &pages[len(pages)-1], top
			} else {
				y += r.before
			}
		}
		ended = false
		if y+r.height > bottom {
			b.fail("a part of the document is %.0f points high; a page of this paper holds %.0f", r.height, bottom-top)
			return nil
		}
		*here = append(*here, placed{r, y})
		y += r.height
	}
	return pages
}

// reach is how far down a row reaches with those that it stays with, under another one.
func (b *layout) reach(from int) (down float64) {
	for i := from; i < len(b.rows) && !b.rows[i].ends; i++ {
		r := &b.rows[i]
		down += r.before + r.height
		if !r.keep {
			break
		}
	}
	return down
}

type placed struct {
	row *row
	y   float64
}

func (d *Document) layout() (*layout, [][]placed, error) {
	k := d.scale()
	b := &layout{paper: pdf.Paper{W: d.Paper.W / k, H: d.Paper.H / k}}
	for _, block := range d.blocks {
		block(b)
	}
	if b.boxes && d.Boxes != "" {
		b.paragraph(b.root.Add("P"), b.style(display.Regular, smallSize, theme.Paper.Muted), 0, gap, d.Boxes, nil)
	}
	pages := b.pages()
	return b, pages, b.err
}
