package display

import (
	"bufio"
	"io"
	"math"
	"strconv"
	"strings"
)

// Dump writes the list as text, one line a shape, numbers to three decimals,
// what is inside a clip or a group indented. It says what a picture is made of
// before any painter has touched it, and is what golden files hold.
func (l *List) Dump(w io.Writer) error {
	d := dumper{w: bufio.NewWriter(w)}
	d.word("page")
	d.numbers(l.W, l.H)
	d.colour(l.Ground)
	d.quoted(l.Title)
	d.line()
	for _, op := range l.Ops {
		if op.Kind == KindEnd {
			d.depth--
		}
		d.word(strings.Repeat("  ", d.depth) + kindNames[op.Kind])
		switch op.Kind {
		case KindPath:
			p := &l.Paths[op.Index]
			d.paint(&p.Paint)
			if p.Stroke > 0 {
				d.word("stroke")
				d.numbers(p.Stroke, p.Dash)
			}
			d.outline(&p.Outline)
		case KindRibbon:
			r := &l.Ribbons[op.Index]
			d.colour(r.Colour)
			d.colour(r.Shade)
			d.numbers(r.TwistDepth)
			for _, p := range r.Points {
				d.word("|")
				d.numbers(p.At.X, p.At.Y, p.Half, p.Soft, p.Opacity, p.Twist)
			}
		case KindBall:
			b := &l.Balls[op.Index]
			d.numbers(b.Centre.X, b.Centre.Y, b.RadiusX, b.RadiusY, b.Angle, b.Soft, b.Opacity)
			d.colour(b.Colour)
			d.word(surfaceNames[b.Surface])
			d.numbers(b.Hole.X, b.Hole.Y, b.Bore)
			d.numbers(b.Axis[:]...)
			d.numbers(b.Light[:]...)
			if b.Tint != (Colour{}) {
				d.word("white")
				d.colour(b.Tint)
			}
		case KindText:
			t := &l.Texts[op.Index]
			d.quoted(t.String)
			d.word(faceNames[t.Face])
			d.numbers(t.Size)
			d.colour(t.Colour)
			for _, g := range t.Glyphs {
				d.word("| " + strconv.FormatUint(uint64(g.ID), 10))
				d.numbers(g.At.X, g.At.Y)
			}
		case KindClip:
			d.outline(&l.Clips[op.Index].Outline)
			d.depth++
		case KindGroup:
			g := &l.Groups[op.Index]
			d.numbers(g.Opacity)
			if g.Even {
				d.word("even")
				d.numbers(g.Bounds.X, g.Bounds.Y, g.Bounds.W, g.Bounds.H)
			}
			d.quoted(g.Label)
			d.depth++
		}
		d.line()
	}
	return d.w.Flush()
}

var (
	kindNames = [...]string{
		KindPath: "path", KindRibbon: "ribbon", KindBall: "ball", KindText: "text",
		KindClip: "clip", KindGroup: "group", KindEnd: "end",
	}
	verbNames    = [...]string{MoveTo: "M", LineTo: "L", QuadTo: "Q", CubicTo: "C", Close: "Z"}
	verbPoints   = [...]int{MoveTo: 1, LineTo: 1, QuadTo: 2, CubicTo: 3, Close: 0}
	paintNames   = [...]string{Solid: "solid", Linear: "linear", Radial: "radial"}
	surfaceNames = [...]string{Plain: "plain", Banded: "banded", Dotted: "dotted", Ringed: "ringed"}
	faceNames    = [...]string{Regular: "regular", Bold: "bold"}
)

// dumper writes words with a space between them. The buffered writer keeps the
// first error and Flush returns it.
type dumper struct {
	w     *bufio.Writer
	depth int
	begun bool // the present line
}

func (d *dumper) word(s string) {
	if d.begun {
		d.w.WriteByte(' ')
	}
	d.begun = true
	d.w.WriteString(s)
}

func (d *dumper) line() {
	d.w.WriteByte('\n')
	d.begun = false
}

func (d *dumper) quoted(s string) {
	if s != "" {
		d.word(strconv.Quote(s))
	}
}

func (d *dumper) numbers(vs ...float64) {
	for _, v := range vs {
		// Rounded first, so that −0.0001 is written 0.
		d.word(strconv.FormatFloat(math.Round(v*1000)/1000+0, 'f', -1, 64))
	}
}

func (d *dumper) colour(c Colour) {
	d.word("rgba")
	d.numbers(c.R, c.G, c.B, c.A)
}

func (d *dumper) paint(p *Paint) {
	d.word(paintNames[p.Kind])
	d.colour(p.From)
	if p.Kind != Solid {
		d.colour(p.To)
		d.numbers(p.A.X, p.A.Y, p.B.X, p.B.Y)
	}
	if p.Dither {
		d.word("dither")
	}
}

func (d *dumper) outline(o *Outline) {
	if o.EvenOdd {
		d.word("evenodd")
	}
	points := o.Points
	for _, v := range o.Verbs {
		d.word(verbNames[v])
		for _, p := range points[:verbPoints[v]] {
			d.numbers(p.X, p.Y)
		}
		points = points[verbPoints[v]:]
	}
}
