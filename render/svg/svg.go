// Package svg writes display lists as SVG.
//
// A file holds shapes only: no picture made of pixels, no script, nothing from
// elsewhere. Written twice, it gives the same bytes.
package svg

import (
	"bufio"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/vector"
)

// Write writes the list as an SVG document. Places keep two decimals of a
// pixel. Dither is left out. A list that holds NaN or an infinity is refused, but
// something may have been written by then.
func Write(w io.Writer, l *display.List) error {
	s := writer{w: bufio.NewWriter(w), l: l}
	return s.write()
}

// WriteInline writes the list as an element that stands in an HTML page, as
// wide as the page's style makes it. Its id is prefix, and those in it begin with
// prefix, which is a letter and then letters and digits, and another one for every picture of the page: an id
// that is given twice would take its shapes from the wrong picture. The list's
// title is its alternative text.
func WriteInline(w io.Writer, l *display.List, prefix string) error {
	if !validPrefix(prefix) {
		return fmt.Errorf("writing the SVG: the ids' prefix is %q; allowed are a letter and then letters and digits", prefix)
	}
	s := writer{w: bufio.NewWriter(w), l: l, prefix: prefix + "-"}
	return s.write()
}

func validPrefix(prefix string) bool {
	for i, c := range prefix {
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
		if !letter && (i == 0 || c < '0' || c > '9') {
			return false
		}
	}
	return prefix != ""
}

func (s *writer) write() error {
	s.document()
	if s.err != nil {
		return s.err
	}
	if err := s.w.Flush(); err != nil {
		return fmt.Errorf("writing the SVG: %w", err)
	}
	return nil
}

// writer is a document being written. The buffered writer keeps the first error of
// the output; err is the first fault of the list.
type writer struct {
	w      *bufio.Writer
	l      *display.List
	prefix string // of every id; empty in a document of its own
	err    error
	buf    []byte
	ids    map[byte]int // how many of each kind of id there are
	shape  string       // the kind being written

	apart   bool // of path data: the last byte parts numbers
	pointed bool // the last number has a point

	ribbons vector.Ribbons
	thin    []vector.Stop
	lights  []lighting
}

func (s *writer) document() {
	l := s.l
	s.ids = map[byte]int{}
	s.put("<svg")
	if s.prefix == "" {
		s.put(` xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="`, l.W, `" height="`, l.H, `"`)
	} else {
		s.put(` id="`, strings.TrimSuffix(s.prefix, "-"), `"`)
	}
	label := s.label()
	s.put(` viewBox="0 0 `, l.W, ` `, l.H, `" role="img" aria-labelledby="`, s.prefix, `title`)
	if label != "" {
		s.put(` `, s.prefix, `desc`)
	}
	s.put("\">\n<title id=\"", s.prefix, `title">`)
	s.escape(l.Title)
	s.put("</title>\n")
	if label != "" {
		s.put(`<desc id="`, s.prefix, `desc">`)
		s.escape(label)
		s.put("</desc>\n")
	}
	s.glyphs()
	s.put(`<rect width="`, l.W, `" height="`, l.H, `"`)
	s.fill(l.Ground)
	s.put("/>\n")
	l.Paint(l.All(), s)
	s.put("</svg>\n")
}

// label is what the groups say that they show.
func (s *writer) label() string {
	var labels []string
	for _, g := range s.l.Groups {
		if g.Label != "" {
			labels = append(labels, g.Label)
		}
	}
	return strings.Join(labels, " ")
}

func (s *writer) Clip(c *display.Clip, inside display.Span) {
	s.shape = "clip"
	o := &c.Outline
	id := s.id('c')
	s.put(`<clipPath id="`, id, `"><path`)
	if o.EvenOdd {
		s.put(` clip-rule="evenodd"`)
	}
	s.outline(o)
	s.put(`/></clipPath><g clip-path="url(#`, id, ")\">\n")
	s.l.Paint(inside, s)
	s.put("</g>\n")
}

func (s *writer) Group(g *display.Group, inside display.Span) {
	s.shape = "group"
	if g.Opacity == 1 {
		s.l.Paint(inside, s)
		return
	}
	s.put(`<g opacity="`, g.Opacity, "\">\n")
	s.l.Paint(inside, s)
	s.put("</g>\n")
}

// Even writes the contents of an Even group: the ground and the pairs in order,
// and over them at half opacity the ground and the pairs the other way round.
func (s *writer) Even(_ *display.Group, ground, pairs display.Span) {
	swapped := vector.Swapped(s.l, ground, pairs, func(shape display.Span) (id string) {
		id = s.id('e')
		s.put(`<g id="`, id, "\">\n")
		s.l.Paint(shape, s)
		s.put("</g>\n")
		return id
	})
	if swapped == nil {
		return
	}
	s.put(`<g opacity=".5">`)
	for _, id := range swapped {
		s.put(`<use`)
		s.reference(id)
		s.put(`/>`)
	}
	s.put("</g>\n")
}

func (s *writer) Path(p *display.Path) {
	s.shape = "path"
	paint := ""
	if p.Paint.Kind != display.Solid {
		paint = s.gradient(&p.Paint)
	}
	s.put("<path")
	if p.Outline.EvenOdd {
		s.put(` fill-rule="evenodd"`)
	}
	switch {
	case p.Stroke > 0:
		s.put(` fill="none" stroke-linecap="round" stroke-linejoin="round" stroke-width="`, p.Stroke, `"`)
		if p.Dash > 0 {
			s.put(` stroke-dasharray="`, p.Dash, `"`)
		}
		if paint != "" {
			s.put(` stroke="url(#`, paint, `)"`)
		} else {
			s.colour("stroke", "stroke-opacity", p.Paint.From)
		}
	case paint != "":
		s.put(` fill="url(#`, paint, `)"`)
	default:
		s.fill(p.Paint.From)
	}
	s.outline(&p.Outline)
	s.put("/>\n")
}

func (s *writer) gradient(p *display.Paint) (id string) {
	id = s.id('g')
	kind := "linearGradient"
	if p.Kind == display.Radial {
		kind = "radialGradient"
		s.put(`<radialGradient id="`, id, `" gradientUnits="userSpaceOnUse" cx="0" cy="0" r="1" gradientTransform="translate(`,
			p.A.X, ` `, p.A.Y, `) scale(`, p.B.X, ` `, p.B.Y, `)">`)
	} else {
		s.linear(id, p.A, p.B)
	}
	s.stop(vector.Stop{At: 0, Colour: p.From})
	s.stop(vector.Stop{At: 1, Colour: p.To})
	s.put(`</`, kind, ">\n")
	return id
}

// linear begins a gradient from one point to another.
func (s *writer) linear(id string, from, to display.Point) {
	s.put(`<linearGradient id="`, id, `" gradientUnits="userSpaceOnUse" x1="`, from.X, `" y1="`, from.Y,
		`" x2="`, to.X, `" y2="`, to.Y, `">`)
}

func (s *writer) stop(stop vector.Stop) {
	s.put(`<stop offset="`)
	s.number(stop.At, 3)
	s.put(`"`)
	s.colour("stop-color", "stop-opacity", stop.Colour)
	s.put("/>")
}

func (s *writer) Ribbon(r *display.Ribbon) {
	s.shape = "ribbon"
	if len(r.Points) < 2 {
		return
	}
	s.ribbons.Bands(r, func(k int, l *vector.Layer) {
		for i, now := range l.Cover {
			l.Stops[i].Colour.A = vector.Over(now*float64(k)/float64(k+1), now)
		}
		s.layer(l)
	})
	s.ribbons.Shades(r, func(l *vector.Layer) {
		for i, cover := range l.Cover {
			l.Stops[i].Colour.A *= cover
		}
		s.layer(l)
	})
	if o, c := s.ribbons.Hollows(r); len(o.Verbs) > 0 {
		s.put("<path")
		s.fill(c.Faded(r.Points[0].Opacity * r.Colour.A))
		s.outline(o)
		s.put("/>\n")
	}
}

func (s *writer) layer(l *vector.Layer) {
	s.thin = vector.Thinned(s.thin[:0], l.Stops)
	if c, ok := plain(s.thin); ok {
		s.put("<path")
		s.fill(c)
		s.outline(l.Outline)
		s.put("/>\n")
		return
	}
	id := s.id('g')
	s.linear(id, l.A, l.B)
	for _, stop := range s.thin {
		s.stop(stop)
	}
	s.put("</linearGradient>\n<path fill=\"url(#", id, `)"`)
	s.outline(l.Outline)
	s.put("/>\n")
}

// plain is one colour for a gradient whose ends are as good as one: within a step of 1/255
// of it.
func plain(stops []vector.Stop) (c display.Colour, ok bool) {
	a, b := stops[0].Colour, stops[len(stops)-1].Colour
	const steps = 2. / 255
	if len(stops) > 2 || max(math.Abs(a.R-b.R), math.Abs(a.G-b.G), math.Abs(a.B-b.B), math.Abs(a.A-b.A)) > steps {
		return c, false
	}
	return display.Colour{R: (a.R + b.R) / 2, G: (a.G + b.G) / 2, B: (a.B + b.B) / 2, A: (a.A + b.A) / 2}, true
}

// unitsPerEm is the grid of the fonts: on it their outlines are whole numbers.
const unitsPerEm = 2048

// glyphs defines the outline of every glyph of the list, once.
func (s *writer) glyphs() {
	defined := map[string]bool{}
	for i := range s.l.Texts {
		t := &s.l.Texts[i]
		for _, g := range t.Glyphs {
			id := s.glyphID(t.Face, g.ID)
			o := lettering.Outline(t.Face, g.ID)
			if defined[id] || len(o.Verbs) == 0 {
				continue
			}
			if len(defined) == 0 {
				s.put("<defs>\n")
			}
			defined[id] = true
			s.put(`<path id="`, id, `"`)
			s.outlineScaled(&o, unitsPerEm)
			s.put("/>\n")
		}
	}
	if len(defined) > 0 {
		s.put("</defs>\n")
	}
}

// reference writes the attribute that leads to an id. Editors know the older name
// alone; in a page, browsers know the newer one without a namespace.
func (s *writer) reference(id string) {
	if s.prefix == "" {
		s.put(` xlink:href="#`, id, `"`)
	}
	s.put(` href="#`, id, `"`)
}

func (s *writer) glyphID(f display.Face, glyph uint32) string {
	return s.prefix + string("rb"[f]) + strconv.FormatUint(uint64(glyph), 10)
}

func (s *writer) Text(t *display.Text) {
	s.shape = "text"
	if len(t.Glyphs) == 0 {
		return
	}
	from, scale := t.Glyphs[0].At, t.Size/unitsPerEm
	s.put(`<g role="img" aria-label="`)
	s.escape(t.String)
	s.put(`" transform="translate(`, from.X, ` `, from.Y, `) scale(`)
	s.number(scale, 6)
	s.put(`)"`)
	s.fill(t.Colour)
	s.put(`>`)
	for _, g := range t.Glyphs {
		if len(lettering.Outline(t.Face, g.ID).Verbs) == 0 {
			continue
		}
		s.put(`<use`)
		s.reference(s.glyphID(t.Face, g.ID))
		if dx := (g.At.X - from.X) / scale; dx != 0 {
			s.put(` x="`)
			s.number(dx, 0)
			s.put(`"`)
		}
		if dy := (g.At.Y - from.Y) / scale; dy != 0 {
			s.put(` y="`)
			s.number(dy, 0)
			s.put(`"`)
		}
		s.put(`/>`)
	}
	s.put("</g>\n")
}

// outline writes the attribute d.
func (s *writer) outline(o *display.Outline) { s.outlineScaled(o, 1) }

func (s *writer) outlineScaled(o *display.Outline, scale float64) {
	var p pen
	s.put(` d="`)
	points := o.Points
	for _, v := range o.Verbs {
		n := 0
		switch v {
		case display.MoveTo:
			p.command(s, 'm')
			n = 1
		case display.LineTo:
			p.command(s, 'l')
			n = 1
		case display.QuadTo:
			p.command(s, 'q')
			n = 2
		case display.CubicTo:
			p.command(s, 'c')
			n = 3
		case display.Close:
			p.close(s)
		}
		p.points(s, points[:n], scale)
		points = points[n:]
	}
	s.put(`"`)
}

// pen writes relative path data: steps from the place where the reader of the
// rounded numbers is, so that rounding does not add up.
type pen struct {
	x, y           int // where the reader is, in hundredths
	startX, startY int // of the contour
	last           byte
}

// command begins a command, or goes on with the one before.
func (p *pen) command(s *writer, c byte) {
	if c != p.last || c == 'm' {
		s.w.WriteByte(c)
		s.apart = true
	}
	p.last = c
}

func (p *pen) close(s *writer) {
	s.w.WriteByte('z')
	p.last = 'z'
	p.x, p.y = p.startX, p.startY
}

// points writes the points of one command, each relative to where it began.
func (p *pen) points(s *writer, points []display.Point, scale float64) {
	x, y := p.x, p.y
	for _, at := range points {
		x, y = s.hundredths(at.X*scale), s.hundredths(at.Y*scale)
		s.step(x - p.x)
		s.step(y - p.y)
	}
	p.x, p.y = x, y
	if p.last == 'm' {
		p.startX, p.startY = x, y
	}
}

func (s *writer) hundredths(v float64) int { return int(math.Round(s.finite(v) * 100)) }

// step writes hundredths, after a space where one is needed: not after a command, nor before
// a sign, nor before the point of a number that follows one with a point.
func (s *writer) step(v int) {
	s.buf = vector.AppendDecimal(append(s.buf[:0], ' '), float64(v)/100, 2)
	number := s.buf[1:]
	if s.apart || number[0] == '-' || number[0] == '.' && s.pointed {
		s.w.Write(number)
	} else {
		s.w.Write(s.buf)
	}
	s.apart, s.pointed = false, bytes.IndexByte(number, '.') >= 0
}

func (s *writer) fill(c display.Colour) { s.colour("fill", "fill-opacity", c) }

// colour writes an attribute with a colour and one with its opacity. In a page, which only
// browsers read, one holds both: there are a thousand of them.
func (s *writer) colour(name, opacity string, c display.Colour) {
	b := append(s.buf[:0], ' ')
	b = append(b, name...)
	b = append(b, `="#`...)
	parts := [...]float64{c.R, c.G, c.B, c.A}
	n := 3
	if s.prefix != "" && c.A < 1 {
		n = 4
	}
	for _, v := range parts[:n] {
		v8 := uint8(math.Round(min(max(s.finite(v), 0), 1) * 255))
		b = append(b, "0123456789abcdef"[v8>>4], "0123456789abcdef"[v8&15])
	}
	s.buf = append(b, '"')
	s.w.Write(s.buf)
	if c.A < 1 && n == 3 {
		s.put(` `, opacity, `="`)
		s.number(c.A, 3)
		s.put(`"`)
	}
}

// put writes strings as they are and numbers with up to two decimals.
func (s *writer) put(parts ...any) {
	for _, part := range parts {
		switch v := part.(type) {
		case string:
			s.w.WriteString(v)
		case float64:
			s.number(v, 2)
		}
	}
}

func (s *writer) number(v float64, decimals int) {
	s.buf = vector.AppendDecimal(s.buf[:0], s.finite(v), decimals)
	s.w.Write(s.buf)
}

// finite passes v on, and notes the fault if it is no number.
func (s *writer) finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		if s.err == nil {
			s.err = fmt.Errorf("writing the SVG: a %s holds the number %v", s.shape, v)
		}
		return 0
	}
	return v
}

func (s *writer) escape(text string) {
	// The error is that of the buffered writer, which keeps it.
	_ = xml.EscapeText(s.w, []byte(text))
}

// id makes a new id that begins with the letter of its kind.
func (s *writer) id(kind byte) string {
	s.ids[kind]++
	return s.prefix + string(kind) + strconv.Itoa(s.ids[kind])
}
