package pdf

import (
	"fmt"
	"io"
	"strings"

	"twincord/render/display"
)

// Paper is a size of paper, in points (1/72 inch).
type Paper struct{ W, H float64 }

// The sizes of paper.
var (
	A4     = Paper{W: 595.28, H: 841.89}
	Letter = Paper{W: 612, H: 792}
)

// Page is a page being written.
type Page struct {
	pdf    *File
	number int // from 0
	paper  Paper
	scale  float64 // of all places on it
	object int
	b      []byte
	owners []*Element // of its marked contents
}

// Element is a part of a document as it is read aloud: its structure.
type Element struct {
	Alt   string // of a figure
	Scope string // of a heading in a table

	tag  string
	kids []any // *Element or mark, in reading order

	object int
}

// mark is one marked content of a page.
type mark struct{ page, id int }

// Add appends an element within this one.
func (e *Element) Add(tag string) *Element {
	kid := &Element{tag: tag}
	e.kids = append(e.kids, kid)
	return kid
}

// Page adds a page, with all places on it in points times scale.
func (p *File) Page(paper Paper, scale float64, paint func(*Page)) {
	g := &Page{pdf: p, paper: paper, scale: scale, number: len(p.pages), object: p.file.reserve()}
	p.pages = append(p.pages, g)
	paint(g)
}

// marked adds contents, y down, that belong to an element; nil: to none, as rules and
// page numbers do.
func (g *Page) marked(e *Element, l *display.List, paint func(*content)) {
	c := &content{pdf: g.pdf, l: l, b: g.b}
	if e == nil {
		c.put("/Artifact BMC")
	} else {
		c.put(fmt.Sprintf("/%s<</MCID %d>>BDC", e.tag, len(g.owners)))
		e.kids = append(e.kids, mark{g.number, len(g.owners)})
		g.owners = append(g.owners, e)
	}
	c.saved(func() {
		c.matrix(g.scale, 0, 0, -g.scale, 0, g.paper.H)
		paint(c)
	})
	c.put("EMC\n")
	g.b = c.b
}

// Draw adds all of a list as contents of an element; nil: of none.
func (g *Page) Draw(e *Element, l *display.List) {
	g.marked(e, l, func(c *content) { l.Paint(l.All(), c) })
}

// Picture adds a list as an element's picture, in a frame of the page.
func (g *Page) Picture(e *Element, l *display.List, frame display.Rect) {
	g.marked(e, l, func(c *content) {
		form := g.pdf.form(c.page(), "", c.inner(func(c *content) {
			c.solid(l.Ground, "sc")
			c.rect(c.page())
			c.put("f\n")
			l.Paint(l.All(), c)
		}))
		c.matrix(frame.W/l.W, 0, 0, frame.H/l.H, frame.X, frame.Y)
		c.paintForm(form)
	})
}

// Bookmark is an entry of the outline that a reader shows beside the pages.
type Bookmark struct {
	Text string
	Page int     // from 0
	Y    float64 // down from the top of the page
}

// Write writes the file.
func (p *File) Write(w io.Writer, root *Element, language, title string, bookmarks []Bookmark) error {
	if p.err != nil {
		return p.err
	}
	f := &p.file
	root.tag = "Document"
	tree := f.reserve()
	pages := f.reserve()
	p.writeElement(root, tree)

	var kids, parents strings.Builder
	for i, g := range p.pages {
		fmt.Fprintf(&kids, "%d 0 R ", g.object)
		fmt.Fprintf(&parents, "%d[", i)
		for _, e := range g.owners {
			fmt.Fprintf(&parents, "%d 0 R ", e.object)
		}
		parents.WriteString("]")
		f.set(g.object, "<</Type/Page/Parent %d 0 R/MediaBox[0 0 %s %s]/Resources %d 0 R/Contents %d 0 R/StructParents %d/Tabs/S/Group<</S/Transparency/CS/DeviceRGB>>>>",
			pages, decimal(g.paper.W, 2), decimal(g.paper.H, 2), p.resources, f.stream("", g.b), i)
	}
	f.set(pages, "<</Type/Pages/Count %d/Kids[%s]>>", len(p.pages), kids.String())
	f.set(tree, "<</Type/StructTreeRoot/K %d 0 R/ParentTree<</Nums[%s]>>/ParentTreeNextKey %d>>", root.object, parents.String(), len(p.pages))
	p.writeResources()

	entries := ""
	if language != "" {
		entries += "/Lang" + textString(language)
	}
	if len(bookmarks) > 0 {
		entries += fmt.Sprintf("/PageMode/UseOutlines/Outlines %d 0 R", p.writeBookmarks(bookmarks))
	}
	catalogue := f.add("<</Type/Catalog/Pages %d 0 R/StructTreeRoot %d 0 R/MarkInfo<</Marked true>>/ViewerPreferences<</DisplayDocTitle true>>%s>>",
		pages, tree, entries)
	// No dates: the same document is the same file.
	info := f.add("<</Title%s/Producer%s>>", textString(title), textString("twincord"))
	return f.writeTo(w, catalogue, info)
}

func (p *File) writeElement(e *Element, parent int) {
	e.object = p.file.reserve()
	var kids strings.Builder
	for _, kid := range e.kids {
		switch kid := kid.(type) {
		case *Element:
			p.writeElement(kid, e.object)
			fmt.Fprintf(&kids, "%d 0 R ", kid.object)
		case mark:
			fmt.Fprintf(&kids, "<</Type/MCR/Pg %d 0 R/MCID %d>>", p.pages[kid.page].object, kid.id)
		}
	}
	entries := ""
	if e.Alt != "" {
		entries += "/Alt" + textString(e.Alt)
	}
	if e.Scope != "" {
		entries += "/A<</O/Table/Scope/" + e.Scope + ">>"
	}
	p.file.set(e.object, "<</Type/StructElem/S/%s/P %d 0 R/K[%s]%s>>", e.tag, parent, kids.String(), entries)
}

func (p *File) writeBookmarks(bookmarks []Bookmark) (outline int) {
	f := &p.file
	outline = f.reserve()
	first := len(f.all) + 1
	last := first + len(bookmarks) - 1
	for i, b := range bookmarks {
		g := p.pages[b.Page]
		beside := ""
		if i > 0 {
			beside += fmt.Sprintf("/Prev %d 0 R", first+i-1)
		}
		if first+i < last {
			beside += fmt.Sprintf("/Next %d 0 R", first+i+1)
		}
		f.add("<</Title%s/Parent %d 0 R%s/Dest[%d 0 R/XYZ 0 %s null]>>", textString(b.Text), outline, beside, g.object, decimal(g.paper.H-g.scale*b.Y, 2))
	}
	f.set(outline, "<</Type/Outlines/First %d 0 R/Last %d 0 R/Count %d>>", first, last, len(bookmarks))
	return outline
}
