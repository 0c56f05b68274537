package ui

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// Inside says whether a place is in a rectangle.
func Inside(r display.Rect, p display.Point) bool {
	return p.X >= r.X && p.X < r.X+r.W && p.Y >= r.Y && p.Y < r.Y+r.H
}

// Inset is a rectangle whose edges are that much farther in.
func Inset(r display.Rect, by float64) display.Rect {
	return display.Rect{X: r.X + by, Y: r.Y + by, W: r.W - 2*by, H: r.H - 2*by}
}

// narrow is a rectangle whose upper and lower edges are that much farther in.
func narrow(r display.Rect, by float64) display.Rect {
	r.Y, r.H = r.Y+by, r.H-2*by
	return r
}

// Middle is the middle of a rectangle.
func Middle(r display.Rect) display.Point {
	return display.Point{X: r.X + r.W/2, Y: r.Y + r.H/2}
}

// Fill fills a rectangle.
func Fill(l *display.List, r display.Rect, c display.Colour) {
	l.Rect(r)
	l.Fill(display.Paint{From: c})
}

// Line draws a line of a width.
func Line(l *display.List, x0, y0, x1, y1, width float64, c display.Colour) {
	l.MoveTo(x0, y0)
	l.LineTo(x1, y1)
	l.Stroke(width, display.Paint{From: c})
}

// Plate fills a rectangle with round corners.
func (k *Kit) Plate(l *display.List, r display.Rect, c display.Colour) {
	l.RoundRect(r, theme.Radius*k.Unit)
	l.Fill(display.Paint{From: c})
}

// Outline draws round a plate.
func (k *Kit) Outline(l *display.List, r display.Rect, c display.Colour) {
	l.RoundRect(r, theme.Radius*k.Unit)
	l.Stroke(theme.Line*k.Unit, display.Paint{From: c})
}

// DrawRing marks the widget that has the focus of the keys.
func (k *Kit) DrawRing(l *display.List, w Widget, r display.Rect) {
	if k.Ring && Is(k.Focus, w) {
		k.ring(l, r)
	}
}

// ring marks what the next key is for.
func (k *Kit) ring(l *display.List, r display.Rect) {
	l.RoundRect(Inset(r, -3*k.Unit), (theme.Radius+3)*k.Unit)
	l.Stroke(2*k.Unit, display.Paint{From: k.Theme.Accent})
}

// Write puts a text in the middle of a rectangle.
func Write(l *display.List, st lettering.Style, r display.Rect, s string) {
	lettering.Draw(l, st, r.X+r.W/2, r.Y+r.H/2+lettering.CapHeight(st)/2, lettering.Middle, s)
}

// Arrow draws the head of an arrow, reach to the right of its middle, or to the left.
func Arrow(l *display.List, at display.Point, reach, unit float64, c display.Colour) {
	l.MoveTo(at.X-reach/2, at.Y-math.Abs(reach))
	l.LineTo(at.X+reach/2, at.Y)
	l.LineTo(at.X-reach/2, at.Y+math.Abs(reach))
	l.Stroke(2*unit, display.Paint{From: c})
}

// Chevron draws the head of an arrow, reach down from its middle, or up.
func Chevron(l *display.List, m display.Point, reach, unit float64, c display.Colour) {
	l.MoveTo(m.X-math.Abs(reach), m.Y-reach/2)
	l.LineTo(m.X, m.Y+reach/2)
	l.LineTo(m.X+math.Abs(reach), m.Y-reach/2)
	l.Stroke(2*unit, display.Paint{From: c})
}

// Cross draws a ×, reach from its middle each way.
func Cross(l *display.List, m display.Point, reach, width float64, c display.Colour) {
	Line(l, m.X-reach, m.Y-reach, m.X+reach, m.Y+reach, width, c)
	Line(l, m.X-reach, m.Y+reach, m.X+reach, m.Y-reach, width, c)
}
