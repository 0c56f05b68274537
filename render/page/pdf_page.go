package page

import (
	"fmt"
	"io"
	"strings"

	"twincord/render/display"
)

// pdfPage is a page being written.
type pdfPage struct {
	pdf    *pdf
	paper  Paper
	scale  float64 // of all places on it
	number int     // from 0
	object int
	b      []byte
	owners []*element // of its marked contents
}

// element is a part of a document as it is read aloud: its structure.
type element struct {
	tag   string
	alt   string // of a figure
	scope string // of a heading in a table
	kids  []any  // *element or mark, in reading order

	object int
}

// mark is one marked content of a page.
type mark struct{ page, id int }

// add appends an element within this one.
func (e *element) add(tag string) *element {
	kid := &element{tag: tag}
	e.kids = append(e.kids, kid)
	return kid
}

// page adds a page, with all places on it in points times scale.
func (p *pdf) page(paper Paper, scale float64, paint func(*pdfPage)) {
	g := &pdfPage{pdf: p, paper: paper, scale: scale, number: len(p.pages), object: p.file.reserve()}
	p.pages = append(p.pages, g)
	paint(g)
}

// marked adds contents, y down, that belong to an element; nil: to none, as rules and
// page numbers do.
func (g *pdfPage) marked(e *element, l *display.List, paint func(*content)) {
	c := &content{pdf: g.pdf, l: l}
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
	g.b = append(g.b, c.b...)
}

// picture adds a list as an element's picture, in a frame of the page.
func (g *pdfPage) picture(e *element, l *display.List, frame display.Rect) {
	g.marked(e, l, func(c *content) {
		form := g.pdf.form(c.page(), "", c.inner(func(c *content) {
			c.solid(l.Ground, "sc")
			c.rect(c.page())
			c.put("f\n")
			c.shapes(0, len(l.Ops))
		}))
		c.matrix(frame.W/l.W, 0, 0, frame.H/l.H, frame.X, frame.Y)
		c.paintForm(form)
	})
}

// bookmark is an entry of the outline that a reader shows beside the pages.
type bookmark struct {
	text string
	page int
	y    float64 // down from the top of the page
}

// write writes the file.
func (p *pdf) write(w io.Writer, root *element, language, title string, bookmarks []bookmark) error {
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
		entries += "/Lang" + pdfString(language)
	}
	if len(bookmarks) > 0 {
		entries += fmt.Sprintf("/PageMode/UseOutlines/Outlines %d 0 R", p.writeBookmarks(bookmarks))
	}
	catalogue := f.add("<</Type/Catalog/Pages %d 0 R/StructTreeRoot %d 0 R/MarkInfo<</Marked true>>/ViewerPreferences<</DisplayDocTitle true>>%s>>",
		pages, tree, entries)
	// No dates: the same document is the same file.
	info := f.add("<</Title%s/Producer%s>>", pdfString(title), pdfString("twincord"))
	return f.writeTo(w, catalogue, info)
}

func (p *pdf) writeElement(e *element, parent int) {
	e.object = p.file.reserve()
	var kids strings.Builder
	for _, kid := range e.kids {
		switch kid := kid.(type) {
		case *element:
			p.writeElement(kid, e.object)
			fmt.Fprintf(&kids, "%d 0 R ", kid.object)
		case mark:
			fmt.Fprintf(&kids, "<</Type/MCR/Pg %d 0 R/MCID %d>>", p.pages[kid.page].object, kid.id)
		}
	}
	entries := ""
	if e.alt != "" {
		entries += "/Alt" + pdfString(e.alt)
	}
	if e.scope != "" {
		entries += "/A<</O/Table/Scope/" + e.scope + ">>"
	}
	p.file.set(e.object, "<</Type/StructElem/S/%s/P %d 0 R/K[%s]%s>>", e.tag, parent, kids.String(), entries)
}

func (p *pdf) writeBookmarks(bookmarks []bookmark) (outline int) {
	f := &p.file
	outline = f.reserve()
	first := len(f.objects) + 1
	last := first + len(bookmarks) - 1
	for i, b := range bookmarks {
		g := p.pages[b.page]
		beside := ""
		if i > 0 {
			beside += fmt.Sprintf("/Prev %d 0 R", first+i-1)
		}
		if first+i < last {
			beside += fmt.Sprintf("/Next %d 0 R", first+i+1)
		}
		f.add("<</Title%s/Parent %d 0 R%s/Dest[%d 0 R/XYZ 0 %s null]>>", pdfString(b.text), outline, beside, g.object, decimal(g.paper.H-g.scale*b.y, 2))
	}
	f.set(outline, "<</Type/Outlines/First %d 0 R/Last %d 0 R/Count %d>>", first, last, len(bookmarks))
	return outline
}
