// Package pdf writes display lists as PDF: pages of shapes and of text that is text,
// with its fonts, and with tags that say what is read in which order.
//
// A file holds no picture made of pixels, no script, no date, nothing from elsewhere.
// Written twice, it gives the same bytes.
package pdf

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/vector"
)

// File is a PDF file being made.
type File struct {
	file      objects
	resources int // the object with all that contents name
	named     map[byte][]string
	names     map[string]string    // of what has been named before
	fonts     [2]map[uint32]string // what the glyphs used spell, by face
	pages     []*Page
	lights    map[[3]float64]lighting
	ribbons   vector.Ribbons
	shape     string // the kind being written
	err       error  // the first fault of a list
}

// New is a file with no pages.
func New() *File {
	p := &File{named: map[byte][]string{}, names: map[string]string{}, lights: map[[3]float64]lighting{}}
	p.resources = p.file.reserve()
	return p
}

// name is the name in the resources of something of a kind, which is given as PDF
// writes it.
func (p *File) name(kind byte, value string) string {
	key := string(kind) + value
	name, ok := p.names[key]
	if !ok {
		name = fmt.Sprintf("%c%d", kind, len(p.named[kind]))
		p.names[key] = name
		p.named[kind] = append(p.named[kind], value)
	}
	return name
}

// The kinds of resources, and the letters that their names begin with.
const (
	kindState   = 'S'
	kindPattern = 'P'
	kindForm    = 'X'
)

// opacity is the state in which everything is painted with an opacity.
func (p *File) opacity(a float64) string {
	v := decimal(min(max(p.finite(a), 0), 1), 3)
	return p.name(kindState, "<</ca "+v+"/CA "+v+">>")
}

func (p *File) blend(mode string) string { return p.name(kindState, "<</BM/"+mode+">>") }

// form makes a content that can be painted as one thing. A group is painted by itself
// first, in a colour space; the space "" is that of no group.
func (p *File) form(box display.Rect, space string, paint func(*content)) int {
	c := &content{pdf: p}
	paint(c)
	group := ""
	if space != "" {
		group = "/Group<</S/Transparency/I true/CS/" + space + ">>"
	}
	return p.file.stream(fmt.Sprintf("/Type/XObject/Subtype/Form/BBox[%s %s %s %s]/Resources %d 0 R%s",
		decimal(box.X, 2), decimal(box.Y, 2), decimal(box.X+box.W, 2), decimal(box.Y+box.H, 2), p.resources, group), c.b)
}

// mask is the state in which everything is painted through a mask: as opaque as a
// content is bright.
func (p *File) mask(box display.Rect, paint func(*content)) string {
	return p.name(kindState, fmt.Sprintf("<</SMask<</S/Luminosity/G %d 0 R>>>>", p.form(box, "DeviceGray", paint)))
}

// finite passes v on, and notes the fault if it is no number.
func (p *File) finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		if p.err == nil {
			p.err = fmt.Errorf("writing the PDF: a %s of a picture holds the number %v", p.shape, v)
		}
		return 0
	}
	return v
}

func decimal(v float64, decimals int) string { return string(vector.AppendDecimal(nil, v, decimals)) }

// content is a content being written: what is painted on a page, in a form or in a
// mask.
type content struct {
	pdf *File
	l   *display.List
	b   []byte
}

// put writes strings as they are and numbers with up to two decimals, with a space
// after each.
func (c *content) put(parts ...any) {
	for _, part := range parts {
		switch v := part.(type) {
		case string:
			c.b = append(c.b, v...)
		case float64:
			c.b = vector.AppendDecimal(c.b, c.pdf.finite(v), 2)
		}
		c.b = append(c.b, ' ')
	}
}

func (c *content) number(v float64, decimals int) {
	c.b = append(vector.AppendDecimal(c.b, c.pdf.finite(v), decimals), ' ')
}

// saved paints with a state that does not outlast it.
func (c *content) saved(paint func()) {
	c.put("q")
	paint()
	c.put("Q\n")
}

// matrix moves what follows.
func (c *content) matrix(a, b, d, e, x, y float64) {
	for _, v := range []float64{a, b, d, e} {
		c.number(v, 6)
	}
	c.put(x, y, "cm")
}

func (c *content) state(name string) { c.put("/"+name, "gs") }

func (c *content) paintForm(object int) {
	c.put("/"+c.pdf.name(kindForm, fmt.Sprintf("%d 0 R", object)), "Do\n")
}

// inner is a content beside this one, of the same list.
func (c *content) inner(paint func(*content)) func(*content) {
	return func(inner *content) {
		inner.l = c.l
		paint(inner)
	}
}

func (c *content) Clip(k *display.Clip, inside display.Span) {
	c.pdf.shape = "clip"
	c.saved(func() {
		c.outline(&k.Outline)
		c.put("W"+rule(&k.Outline), "n\n")
		c.l.Paint(inside, c)
	})
}

func (c *content) Group(g *display.Group, inside display.Span) {
	c.pdf.shape = "group"
	if g.Opacity >= 1 {
		c.l.Paint(inside, c)
		return
	}
	c.whole(g.Opacity, c.page(), func(c *content) { c.l.Paint(inside, c) })
}

// page is the list's page.
func (c *content) page() display.Rect { return display.Rect{W: c.l.W, H: c.l.H} }

// whole paints a content as one thing at an opacity.
func (c *content) whole(opacity float64, box display.Rect, paint func(*content)) {
	form := c.pdf.form(box, "DeviceRGB", c.inner(paint))
	c.saved(func() {
		c.state(c.pdf.opacity(opacity))
		c.paintForm(form)
	})
}

// Even paints the contents of an Even group: the ground and the pairs in order, and
// over them at half opacity the ground and the pairs the other way round.
func (c *content) Even(g *display.Group, ground, pairs display.Span) {
	swapped := vector.Swapped(c.l, ground, pairs, func(shape display.Span) (form int) {
		form = c.pdf.form(g.Bounds, "", c.inner(func(c *content) { c.l.Paint(shape, c) }))
		c.paintForm(form)
		return form
	})
	if swapped == nil {
		return
	}
	c.whole(0.5, g.Bounds, func(c *content) {
		for _, form := range swapped {
			c.paintForm(form)
		}
	})
}

// outline writes a path.
func (c *content) outline(o *display.Outline) {
	points := o.Points
	take := func(n int) []display.Point {
		p := points[:n]
		points = points[n:]
		return p
	}
	var at display.Point
	for _, v := range o.Verbs {
		switch v {
		case display.MoveTo:
			at = take(1)[0]
			c.put(at.X, at.Y, "m")
		case display.LineTo:
			at = take(1)[0]
			c.put(at.X, at.Y, "l")
		case display.QuadTo: // as a cubic, which PDF has
			p := take(2)
			toward := func(q display.Point) (x, y float64) { return q.X + (p[0].X-q.X)*2/3, q.Y + (p[0].Y-q.Y)*2/3 }
			x0, y0 := toward(at)
			x1, y1 := toward(p[1])
			at = p[1]
			c.put(x0, y0, x1, y1, at.X, at.Y, "c")
		case display.CubicTo:
			p := take(3)
			at = p[2]
			c.put(p[0].X, p[0].Y, p[1].X, p[1].Y, at.X, at.Y, "c")
		case display.Close:
			c.put("h")
		}
	}
}

// rule is what PDF adds to an operator for the even-odd rule.
func rule(o *display.Outline) string {
	if o.EvenOdd {
		return "*"
	}
	return ""
}

func (c *content) Path(p *display.Path) {
	c.pdf.shape = "path"
	if len(p.Outline.Verbs) == 0 {
		return
	}
	c.saved(func() {
		paint, operator := "sc", "f"+rule(&p.Outline)
		if p.Stroke > 0 {
			paint, operator = "SC", "S"
			c.put("1 J 1 j", p.Stroke, "w")
			if p.Dash > 0 {
				c.put("[", p.Dash, "] 0 d")
			}
		}
		c.paint(&p.Paint, paint)
		c.outline(&p.Outline)
		c.put(operator)
	})
}

// paint sets the colour of what is filled (operator sc) or stroked (SC).
func (c *content) paint(p *display.Paint, operator string) {
	if p.Kind == display.Solid {
		c.solid(p.From, operator)
		return
	}
	a, b := p.A, p.B
	stops := []vector.Stop{{At: 0, Colour: p.From}, {At: 1, Colour: p.To}}
	shading := axial(c.pdf, a, b)
	move := ""
	if p.Kind == display.Radial {
		shading = radial(c.pdf, display.Point{}, 1)
		move = fmt.Sprintf("/Matrix[%s 0 0 %s %s %s]", decimal(c.pdf.finite(b.X), 4), decimal(c.pdf.finite(b.Y), 4),
			decimal(c.pdf.finite(a.X), 2), decimal(c.pdf.finite(a.Y), 2))
	}
	c.gradient(shading, move, stops, c.page(), operator)
}

func (c *content) solid(colour display.Colour, operator string) {
	if !(colour.A >= 1) {
		c.state(c.pdf.opacity(colour.A))
	}
	space := map[string]string{"sc": "rg", "SC": "RG"}[operator]
	c.b = append(append(c.b, c.pdf.rgb(colour)...), ' ')
	c.put(space)
}

// shading is the geometry of a gradient as PDF writes it.
type shading string

func axial(p *File, a, b display.Point) shading {
	return shading(fmt.Sprintf("/ShadingType 2/Coords[%s %s %s %s]",
		decimal(p.finite(a.X), 2), decimal(p.finite(a.Y), 2), decimal(p.finite(b.X), 2), decimal(p.finite(b.Y), 2)))
}

func radial(p *File, at display.Point, r float64) shading {
	x, y := decimal(p.finite(at.X), 2), decimal(p.finite(at.Y), 2)
	return shading(fmt.Sprintf("/ShadingType 3/Coords[%s %s 0 %s %s %s]", x, y, x, y, decimal(p.finite(r), 2)))
}

// gradient sets a gradient as the colour, and where its opacity is not the same
// everywhere a mask over a box, in the state.
func (c *content) gradient(s shading, move string, stops []vector.Stop, box display.Rect, operator string) {
	least, most := 1., 0.
	for _, stop := range stops {
		least, most = min(least, stop.Colour.A), max(most, stop.Colour.A)
	}
	switch {
	case most-least > 1./512:
		c.state(c.pdf.mask(box, func(mask *content) {
			mask.pattern(s, move, opacities(stops), "DeviceGray", "sc")
			mask.rect(box)
			mask.put("f")
		}))
	case most < 1:
		c.state(c.pdf.opacity((least + most) / 2))
	}
	c.pattern(s, move, stops, "DeviceRGB", operator)
}

// opacities are the opacities of stops as greys.
func opacities(stops []vector.Stop) []vector.Stop {
	greys := make([]vector.Stop, len(stops))
	for i, s := range stops {
		greys[i] = vector.Stop{At: s.At, Colour: grey(s.Colour.A)}
	}
	return greys
}

func grey(v float64) display.Colour { return display.Colour{R: v, G: v, B: v, A: 1} }

func (c *content) rect(r display.Rect) { c.put(r.X, r.Y, r.W, r.H, "re") }

// pattern sets a gradient as the colour, regardless of its opacity.
func (c *content) pattern(s shading, move string, stops []vector.Stop, space, operator string) {
	p := c.pdf
	colour := p.rgb
	if space == "DeviceGray" {
		colour = func(v display.Colour) string { return decimal(p.finite(v.R), 4) }
	}
	// A function for each stretch that has a length, of which the first begins at 0 and
	// the last ends at 1.
	var functions, bounds, encode strings.Builder
	from := vector.Stop{At: 0, Colour: stops[0].Colour}
	for _, to := range append(stops[:len(stops):len(stops)], vector.Stop{At: 1, Colour: stops[len(stops)-1].Colour}) {
		if to.At-from.At > 1e-4 {
			if functions.Len() > 0 {
				bounds.WriteString(decimal(from.At, 5) + " ")
			}
			fmt.Fprintf(&functions, "<</FunctionType 2/Domain[0 1]/N 1/C0[%s]/C1[%s]>>", colour(from.Colour), colour(to.Colour))
			encode.WriteString("0 1 ")
			from.At = to.At
		}
		from.Colour = to.Colour
	}
	value := fmt.Sprintf("<</PatternType 2%s/Shading<<%s/ColorSpace/%s/Extend[true true]/Function<</FunctionType 3/Domain[0 1]/Functions[%s]/Bounds[%s]/Encode[%s]>>>>>>",
		move, s, space, functions.String(), bounds.String(), encode.String())
	// The operators that choose a space of colours and then a pattern.
	choose := map[string][2]string{"sc": {"cs", "scn"}, "SC": {"CS", "SCN"}}[operator]
	c.put("/Pattern", choose[0], "/"+p.name(kindPattern, value), choose[1])
}

// rgb is a colour without its opacity.
func (p *File) rgb(c display.Colour) string {
	var b []byte
	for i, v := range []float64{c.R, c.G, c.B} {
		if i > 0 {
			b = append(b, ' ')
		}
		b = vector.AppendDecimal(b, min(max(p.finite(v), 0), 1), 4)
	}
	return string(b)
}

// text writes a text as text: each glyph where it stands.
func (c *content) Text(t *display.Text) {
	c.pdf.shape = "text"
	if len(t.Glyphs) == 0 || !(t.Size > 0) {
		return
	}
	p := c.pdf
	used := p.fonts[t.Face]
	if used == nil {
		used = map[uint32]string{}
		p.fonts[t.Face] = used
	}
	spelling := lettering.Spelling(t.Face, t.String)
	c.saved(func() {
		c.solid(t.Colour, "sc")
		c.put("BT", fmt.Sprintf("/F%d", t.Face), t.Size, "Tf")
		open := false
		var at display.Point // where the next glyph would stand
		for i, g := range t.Glyphs {
			if used[g.ID] == "" && i < len(spelling) {
				used[g.ID] = spelling[i]
			}
			switch off := math.Round((g.At.X - at.X) / t.Size * 1000); {
			case !open || g.At.Y != at.Y || math.Abs(off) > 1e4:
				if open {
					c.put("] TJ")
				}
				c.put("1 0 0 -1", g.At.X, g.At.Y, "Tm [")
				open, at = true, g.At
			case off != 0:
				c.number(-off, 0)
				at.X += off / 1000 * t.Size
			}
			c.b = fmt.Appendf(c.b, "<%04X>", g.ID)
			at.X += advance(t.Face, g.ID) / 1000 * t.Size
		}
		c.put("] TJ ET")
	})
}

// advance is the width of a glyph as the file states it, in thousandths of an em.
func advance(f display.Face, glyph uint32) float64 {
	return math.Round(1000 * lettering.Advance(f, glyph))
}

// font writes a face with the glyphs used.
func (p *File) font(f display.Face) int {
	used := p.fonts[f]
	glyphs := make([]uint32, 0, len(used))
	for g := range used {
		glyphs = append(glyphs, g)
	}
	slices.Sort(glyphs)
	var widths, spelled strings.Builder
	for _, g := range glyphs {
		fmt.Fprintf(&widths, "%d[%.0f]", g, advance(f, g))
		if s := used[g]; s != "" {
			fmt.Fprintf(&spelled, "1 beginbfchar <%04X> <%s> endbfchar\n", g, utf16Hex(s))
		}
	}
	m := lettering.MetricsOf(f)
	// The letters before the name say that it is a part of the font.
	name := "TWINCD+" + m.Name
	ttf := lettering.Subset(f, glyphs)
	file := p.file.stream(fmt.Sprintf("/Length1 %d", len(ttf)), ttf)
	descriptor := p.file.add("<</Type/FontDescriptor/FontName/%s/Flags 4/FontBBox[-500 %.0f 1500 %.0f]/ItalicAngle 0/Ascent %.0f/Descent %.0f/CapHeight %.0f/StemV 80/FontFile2 %d 0 R>>",
		name, 1000*m.Descent, 1000*m.Ascent, 1000*m.Ascent, 1000*m.Descent, 1000*m.CapHeight, file)
	unicode := p.file.stream("", []byte("/CIDInit /ProcSet findresource begin 12 dict begin begincmap\n"+
		"/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def /CMapName /Adobe-Identity-UCS def /CMapType 2 def\n"+
		"1 begincodespacerange <0000> <FFFF> endcodespacerange\n"+spelled.String()+
		"endcmap CMapName currentdict /CMap defineresource pop end end\n"))
	return p.file.add("<</Type/Font/Subtype/Type0/BaseFont/%s/Encoding/Identity-H/ToUnicode %d 0 R/DescendantFonts[<</Type/Font/Subtype/CIDFontType2/BaseFont/%s/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>/CIDToGIDMap/Identity/DW 0/W[%s]/FontDescriptor %d 0 R>>]>>",
		name, unicode, name, widths.String(), descriptor)
}

// writeResources writes all that contents name.
func (p *File) writeResources() {
	var b strings.Builder
	b.WriteString("<<")
	for f, used := range p.fonts {
		if f == 0 {
			b.WriteString("/Font<<")
		}
		if used != nil {
			fmt.Fprintf(&b, "/F%d %d 0 R", f, p.font(display.Face(f)))
		}
	}
	b.WriteString(">>")
	for _, kind := range []struct {
		letter byte
		name   string
	}{{kindState, "ExtGState"}, {kindPattern, "Pattern"}, {kindForm, "XObject"}} {
		fmt.Fprintf(&b, "/%s<<", kind.name)
		for i, value := range p.named[kind.letter] {
			fmt.Fprintf(&b, "/%c%d %s\n", kind.letter, i, value)
		}
		b.WriteString(">>")
	}
	b.WriteString(">>")
	p.file.set(p.resources, "%s", b.String())
}
