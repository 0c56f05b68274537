// Package page writes display lists as pages: SVG, and PDF.
//
// A page holds shapes and text only: no picture made of pixels, no script, nothing
// from elsewhere. Written twice, it gives the same bytes.
package page

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"twincord/render/display"
	"twincord/render/lettering"
)

// WriteSVG writes the list as an SVG document. Places keep two decimals of a
// pixel. Dither is left out. A list that holds NaN or an infinity is refused, but
// something may have been written by then.
func WriteSVG(w io.Writer, l *display.List) error {
	s := svg{w: bufio.NewWriter(w), l: l}
	return s.write()
}

// WriteInlineSVG writes the list as an element that stands in an HTML page, as
// wide as the page's style makes it. Its id is prefix, and those in it begin with
// prefix, which is a letter and then letters and digits, and another one for every picture of the page: an id
// that is given twice would take its shapes from the wrong picture. The list's
// title is its alternative text.
func WriteInlineSVG(w io.Writer, l *display.List, prefix string) error {
	if !validPrefix(prefix) {
		return fmt.Errorf("writing the SVG: the ids' prefix is %q; allowed are a letter and then letters and digits", prefix)
	}
	s := svg{w: bufio.NewWriter(w), l: l, prefix: prefix + "-"}
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

func (s *svg) write() error {
	s.document()
	if s.err != nil {
		return s.err
	}
	if err := s.w.Flush(); err != nil {
		return fmt.Errorf("writing the SVG: %w", err)
	}
	return nil
}

// svg is a document being written. The buffered writer keeps the first error of
// the output; err is the first fault of the list.
type svg struct {
	w      *bufio.Writer
	l      *display.List
	prefix string // of every id; empty in a document of its own
	err    error
	buf    []byte
	ids    map[byte]int // how many of each kind of id there are
	op     int          // the op being written

	ribbon ribbon
	thin   []stop
	lights []lighting
}

func (s *svg) document() {
	l := s.l
	s.ids = map[byte]int{}
	s.put("<svg")
	if s.prefix == "" {
		s.put(` xmlns="http://www.w3.org/2000/svg" width="`, l.W, `" height="`, l.H, `"`)
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
	s.shapes(0, len(l.Ops))
	s.put("</svg>\n")
}

// label is what the groups say that they show.
func (s *svg) label() string {
	var labels []string
	for _, g := range s.l.Groups {
		if g.Label != "" {
			labels = append(labels, g.Label)
		}
	}
	return strings.Join(labels, " ")
}

// shapes writes the shapes of the ops from up to, but not including, to.
func (s *svg) shapes(from, to int) {
	for i := from; i < to; i = s.l.Next(i) {
		s.shape(i)
	}
}

func (s *svg) shape(i int) {
	s.op = i
	op := s.l.Ops[i]
	switch op.Kind {
	case display.KindPath:
		s.path(&s.l.Paths[op.Index])
	case display.KindRibbon:
		s.writeRibbon(&s.l.Ribbons[op.Index])
	case display.KindBall:
		s.ball(&s.l.Balls[op.Index])
	case display.KindText:
		s.text(&s.l.Texts[op.Index])
	case display.KindClip:
		o := &s.l.Clips[op.Index].Outline
		id := s.id('c')
		s.put(`<clipPath id="`, id, `"><path`)
		if o.EvenOdd {
			s.put(` clip-rule="evenodd"`)
		}
		s.outline(o)
		s.put(`/></clipPath><g clip-path="url(#`, id, ")\">\n")
		s.shapes(i+1, s.l.Next(i)-1)
		s.put("</g>\n")
	case display.KindGroup:
		if g := &s.l.Groups[op.Index]; g.Even {
			s.even(i+1, s.l.Next(i)-1)
		} else {
			s.put(`<g opacity="`, g.Opacity, "\">\n")
			s.shapes(i+1, s.l.Next(i)-1)
			s.put("</g>\n")
		}
	}
}

// even writes the contents of an Even group: the ground and the pairs in order,
// and over them at half opacity the ground and the pairs the other way round.
func (s *svg) even(from, to int) {
	var ids []string
	for i := from; i < to; i = s.l.Next(i) {
		ids = append(ids, s.id('e'))
		s.put(`<g id="`, ids[len(ids)-1], "\">\n")
		s.shape(i)
		s.put("</g>\n")
	}
	if len(ids) < 3 {
		return // a ground alone, or with one shape that has no partner
	}
	s.put(`<g opacity=".5">`)
	use := func(id string) { s.put(`<use href="#`, id, `"/>`) }
	use(ids[0])
	for i := 1; i < len(ids); i += 2 {
		if i+1 < len(ids) {
			use(ids[i+1])
		}
		use(ids[i])
	}
	s.put("</g>\n")
}

func (s *svg) path(p *display.Path) {
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

func (s *svg) gradient(p *display.Paint) (id string) {
	id = s.id('g')
	kind := "linearGradient"
	if p.Kind == display.Radial {
		kind = "radialGradient"
		s.put(`<radialGradient id="`, id, `" gradientUnits="userSpaceOnUse" cx="0" cy="0" r="1" gradientTransform="translate(`,
			p.A.X, ` `, p.A.Y, `) scale(`, p.B.X, ` `, p.B.Y, `)">`)
	} else {
		s.put(`<linearGradient id="`, id, `" gradientUnits="userSpaceOnUse" x1="`, p.A.X, `" y1="`, p.A.Y,
			`" x2="`, p.B.X, `" y2="`, p.B.Y, `">`)
	}
	s.stop(stop{0, p.From})
	s.stop(stop{1, p.To})
	s.put(`</`, kind, ">\n")
	return id
}

func (s *svg) stop(stop stop) {
	s.put(`<stop offset="`)
	s.number(stop.at, 4)
	s.put(`"`)
	s.colour("stop-color", "stop-opacity", stop.colour)
	s.put("/>")
}

func (s *svg) writeRibbon(r *display.Ribbon) {
	if len(r.Points) < 2 {
		return
	}
	s.put("<g>\n")
	s.ribbon.bands(r, func(k int, l *layer) {
		for i, now := range l.cover {
			l.stops[i].colour.A = over(now*float64(k)/float64(k+1), now)
		}
		s.layer(l)
	})
	s.ribbon.shades(r, func(l *layer) {
		for i, cover := range l.cover {
			l.stops[i].colour.A *= cover
		}
		s.layer(l)
	})
	if o, c := s.ribbon.hollows(r); len(o.Verbs) > 0 {
		s.put("<path")
		s.fill(c.Faded(r.Points[0].Opacity * r.Colour.A))
		s.outline(o)
		s.put("/>\n")
	}
	s.put("</g>\n")
}

func (s *svg) layer(l *layer) {
	id := s.id('g')
	s.put(`<linearGradient id="`, id, `" gradientUnits="userSpaceOnUse" x1="`, l.a.X, `" y1="`, l.a.Y,
		`" x2="`, l.b.X, `" y2="`, l.b.Y, `">`)
	s.thin = thinned(s.thin[:0], l.stops)
	for _, stop := range s.thin {
		s.stop(stop)
	}
	s.put("</linearGradient>\n<path fill=\"url(#", id, `)"`)
	s.outline(l.outline)
	s.put("/>\n")
}

// unitsPerEm is the grid of the fonts: on it their outlines are whole numbers.
const unitsPerEm = 2048

// glyphs defines the outline of every glyph of the list, once.
func (s *svg) glyphs() {
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

func (s *svg) glyphID(f display.Face, glyph uint32) string {
	return s.prefix + string("rb"[f]) + strconv.FormatUint(uint64(glyph), 10)
}

func (s *svg) text(t *display.Text) {
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
		s.put(`<use href="#`, s.glyphID(t.Face, g.ID), `"`)
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
func (s *svg) outline(o *display.Outline) { s.outlineScaled(o, 1) }

func (s *svg) outlineScaled(o *display.Outline, scale float64) {
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
func (p *pen) command(s *svg, c byte) {
	if c != p.last || c == 'm' {
		s.w.WriteByte(c)
	}
	p.last = c
}

func (p *pen) close(s *svg) {
	s.w.WriteByte('z')
	p.last = 'z'
	p.x, p.y = p.startX, p.startY
}

// points writes the points of one command, each relative to where it began.
func (p *pen) points(s *svg, points []display.Point, scale float64) {
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

func (s *svg) hundredths(v float64) int { return int(math.Round(s.finite(v) * 100)) }

// step writes hundredths with a space before them where one is needed.
func (s *svg) step(v int) {
	b := s.buf[:0]
	if v >= 0 {
		b = append(b, ' ')
	}
	s.buf = appendDecimal(b, float64(v)/100, 2)
	s.w.Write(s.buf)
}

func (s *svg) fill(c display.Colour) { s.colour("fill", "fill-opacity", c) }

// colour writes an attribute with a colour and one with its opacity.
func (s *svg) colour(name, opacity string, c display.Colour) {
	b := append(s.buf[:0], ' ')
	b = append(b, name...)
	b = append(b, `="#`...)
	for _, v := range []float64{c.R, c.G, c.B} {
		v8 := uint8(math.Round(min(max(s.finite(v), 0), 1) * 255))
		b = append(b, "0123456789abcdef"[v8>>4], "0123456789abcdef"[v8&15])
	}
	s.buf = append(b, '"')
	s.w.Write(s.buf)
	if c.A < 1 {
		s.put(` `, opacity, `="`)
		s.number(c.A, 3)
		s.put(`"`)
	}
}

// put writes strings as they are and numbers with up to two decimals.
func (s *svg) put(parts ...any) {
	for _, part := range parts {
		switch v := part.(type) {
		case string:
			s.w.WriteString(v)
		case float64:
			s.number(v, 2)
		}
	}
}

func (s *svg) number(v float64, decimals int) {
	s.buf = appendDecimal(s.buf[:0], s.finite(v), decimals)
	s.w.Write(s.buf)
}

// finite passes v on, and notes the fault if it is no number.
func (s *svg) finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		if s.err == nil {
			s.err = fmt.Errorf("writing the SVG: shape %d holds the number %v", s.op, v)
		}
		return 0
	}
	return v
}

// appendDecimal appends v rounded, without zeros that say nothing.
func appendDecimal(b []byte, v float64, decimals int) []byte {
	start := len(b)
	b = strconv.AppendFloat(b, v, 'f', decimals, 64)
	if decimals > 0 {
		for b[len(b)-1] == '0' {
			b = b[:len(b)-1]
		}
		if b[len(b)-1] == '.' {
			b = b[:len(b)-1]
		}
	}
	digits := b[start:]
	switch {
	case len(digits) > 2 && digits[0] == '0' && digits[1] == '.':
		b = append(b[:start], b[start+1:]...)
	case len(digits) > 3 && digits[0] == '-' && digits[1] == '0':
		b = append(b[:start+1], b[start+2:]...)
	case string(digits) == "-0":
		b = append(b[:start], '0')
	}
	return b
}

func (s *svg) escape(text string) {
	// The error is that of the buffered writer, which keeps it.
	_ = xml.EscapeText(s.w, []byte(text))
}

// id makes a new id that begins with the letter of its kind.
func (s *svg) id(kind byte) string {
	s.ids[kind]++
	return s.prefix + string(kind) + strconv.Itoa(s.ids[kind])
}
