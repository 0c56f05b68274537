package sheet

import (
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/pdf"
	"twincord/render/theme"
)

// page is a page being filled, counted from 0.
type page struct {
	canvas
	number int
}

// canvas is what takes the shapes of a page, each for an element of the document.
type canvas interface {
	Draw(e *pdf.Element, l *display.List)
	Picture(e *pdf.Element, l *display.List, frame display.Rect)
}

// text adds a line of text.
func (g page) text(e *pdf.Element, st lettering.Style, x, baseline float64, anchor lettering.Anchor, s string) {
	if s == "" {
		return
	}
	var l display.List
	lettering.Draw(&l, st, x, baseline, anchor, s)
	g.Draw(e, &l)
}

// lines adds lines of text from y down.
func (g page) lines(e *pdf.Element, st lettering.Style, x, y float64, lines []string) {
	for i, line := range lines {
		g.text(e, st, x, y+baseline(st)+float64(i)*lineHeight(st), lettering.Start, line)
	}
}

// lineHeight is the distance from one baseline to the next: less than on a screen, as
// print has it.
func lineHeight(st lettering.Style) float64 { return 1.25 * st.Size }

// baseline is how far down in a line its letters stand: capitals in the middle.
func baseline(st lettering.Style) float64 {
	return (lineHeight(st) + lettering.CapHeight(st)) / 2
}

// framed adds a picture with a thin line round it.
func (g page) framed(e *pdf.Element, l *display.List, r display.Rect) {
	g.Picture(e, l, r)
	g.outlined(r, 0.5, theme.Paper.Hairline)
}

// draw adds shapes that are not read.
func (g page) draw(shape func(l *display.List)) {
	var l display.List
	shape(&l)
	g.Draw(nil, &l)
}

func (g page) fill(r display.Rect, c display.Colour) {
	g.draw(func(l *display.List) {
		l.Rect(r)
		l.Fill(display.Paint{From: c})
	})
}

func (g page) outlined(r display.Rect, width float64, c display.Colour) {
	g.draw(func(l *display.List) {
		l.Rect(r)
		l.Stroke(width, display.Paint{From: c})
	})
}

func (g page) stroke(c display.Colour, from, to display.Point) {
	g.draw(func(l *display.List) {
		l.MoveTo(from.X, from.Y)
		l.LineTo(to.X, to.Y)
		l.Stroke(0.7, display.Paint{From: c})
	})
}

func (g page) dot(at display.Point, radius float64) {
	g.draw(func(l *display.List) {
		l.Circle(at, radius)
		l.Fill(display.Paint{From: theme.Paper.Ink})
	})
}
