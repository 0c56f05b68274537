package sheet

import (
	"strconv"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// Ruler is a ruler that is true where a page is printed at 100 %, with an arrow as long
// as a bank card to check it by.
type Ruler struct {
	Inches bool
	Alt    string
}

const (
	point     = 72 / 25.4 // points to the mm
	rulerLong = 230.      // mm, and in inches as many whole ones as that holds
	inchMM    = 25.4
	// The long side of a bank card (ISO/IEC 7810, ID-1), mm.
	bankCard = 85.6
)

// Length is how long the ruler is, mm.
func (r *Ruler) Length() float64 {
	if r.Inches {
		return 9 * inchMM
	}
	return rulerLong
}

// lastMark is the place, mm, at which a mark is made where the ruler is shorter than the
// string: a round one near its end.
func (r *Ruler) lastMark() float64 {
	if r.Inches {
		return 8 * inchMM
	}
	return 200
}

// unit is the length, mm, from one number on the ruler to the next.
func (r *Ruler) unit() float64 {
	if r.Inches {
		return inchMM
	}
	return 10
}

// draw draws the ruler with its middle at x, in the middle of a page so high. A point of
// the page is unit of a list's.
func (r *Ruler) draw(l *display.List, x, height, unit float64) {
	mm := point * unit
	long := r.Length() * mm
	top := (height - long) / 2
	st := lettering.Style{Size: 7 * unit, Colour: theme.Paper.Ink}
	line := func(x1, y1, x2, y2 float64) {
		l.MoveTo(x1, y1)
		l.LineTo(x2, y2)
	}
	line(x, top, x, top+long)
	marks, every := int(r.Length()), 10
	step := mm
	if r.Inches {
		marks, every, step = 9*8, 8, inchMM/8*mm
	}
	for i := range marks + 1 {
		wide := 3.
		switch {
		case i%every == 0:
			wide = 8
		case i%(every/2) == 0:
			wide = 5.5
		case !r.Inches:
			wide = 2.5
		}
		y := top + float64(i)*step
		line(x, y, x+wide*unit, y)
		if i%every == 0 && i > 0 && i < marks {
			lettering.Draw(l, st, x+9*unit, y+2.5*unit, lettering.Start, strconv.Itoa(i/every))
		}
	}
	// The arrow beside it.
	ax, from, to := x-6*unit, top, top+bankCard*mm
	line(ax, from, ax, to)
	for _, end := range [...]struct{ y, in float64 }{{from, 4}, {to, -4}} {
		line(ax, end.y, ax-2.2*unit, end.y+end.in*unit)
		line(ax, end.y, ax+2.2*unit, end.y+end.in*unit)
		line(ax-3.5*unit, end.y, ax+3.5*unit, end.y)
	}
	// A card beside the middle of the arrow.
	mid := (from + to) / 2
	line(ax-10.5*unit, mid-7*unit, ax-10.5*unit, mid+7*unit)
	l.Stroke(0.6*unit, display.Paint{From: theme.Paper.Ink})
	l.RoundRect(display.Rect{X: ax - 13*unit, Y: mid - 7*unit, W: 9 * unit, H: 14 * unit}, 1.5*unit)
	l.Stroke(0.7*unit, display.Paint{From: theme.Paper.Ink})
}
