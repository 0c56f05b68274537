package ui

import (
	"twincord/render/display"
	"twincord/render/theme"
)

// Scroll is the ground of what is longer than its area: the wheel, a finger on it and
// the bar at its side move it. Whoever lays it out puts everything Top higher.
type Scroll struct {
	Base
	Height float64 // of all of it, pixels
	Top    float64 // how far it is scrolled, pixels

	from    float64 // Top when a pull began
	pressed display.Point
	onBar   bool
}

// wheelReach is how far a notch of the wheel scrolls, units; an arrow key half as far.
const wheelReach = 60

// barWidth is how wide the bar at the side of what scrolls is, units.
const barWidth = 12

// Room is the width that the bar leaves.
func (s *Scroll) Room(k *Kit) float64 { return s.Area.W - barWidth*k.Unit }

// To scrolls to a height.
func (s *Scroll) To(top float64) { s.Top = max(0, min(top, s.Height-s.Area.H)) }

// Reveal scrolls as little as shows what is on the page between two heights.
func (s *Scroll) Reveal(from, to float64) {
	if from < s.Area.Y {
		s.To(s.Top - (s.Area.Y - from))
	} else if over := to - s.Area.Y - s.Area.H; over > 0 {
		s.To(s.Top + min(over, from-s.Area.Y))
	}
}

// Long says whether there is more than fits.
func (s *Scroll) Long() bool { return s.Height > s.Area.H+0.5 }

// Wheel scrolls.
func (s *Scroll) Wheel(k *Kit, notches float64) bool {
	if !s.Long() {
		return false
	}
	s.To(s.Top - wheelReach*notches*k.Unit)
	return true
}

// Press scrolls by lines and pages.
func (s *Scroll) Press(k *Kit, p Press) bool {
	if !s.Long() {
		return false
	}
	line := wheelReach / 2 * k.Unit
	switch p.Key {
	case KeyUp:
		s.To(s.Top - line)
	case KeyDown:
		s.To(s.Top + line)
	case KeyPageUp:
		s.To(s.Top - s.Area.H + line)
	case KeyPageDown:
		s.To(s.Top + s.Area.H - line)
	case KeyHome:
		s.To(0)
	case KeyEnd:
		s.To(s.Height)
	default:
		return false
	}
	return true
}

// bar is where the bar is that shows how far it is scrolled.
func (s *Scroll) bar(k *Kit) display.Rect { return barOf(k, s.Area, s.Top, s.Height) }

func barOf(k *Kit, area display.Rect, top, height float64) display.Rect {
	h := max(24*k.Unit, area.H*area.H/height)
	y := area.Y + (area.H-h)*top/max(1, height-area.H)
	return display.Rect{X: area.X + area.W - barWidth*k.Unit, Y: y, W: barWidth * k.Unit, H: h}
}

// Point pulls the bar, or else what scrolls.
func (s *Scroll) Point(k *Kit, g Gesture) {
	if !s.Long() {
		return
	}
	bar := s.bar(k)
	if g.Began {
		s.from, s.pressed = s.Top, g.At
		s.onBar = g.At.X >= bar.X-4*k.Unit
		if s.onBar && (g.At.Y < bar.Y || g.At.Y > bar.Y+bar.H) {
			s.To((g.At.Y - s.Area.Y - bar.H/2) / (s.Area.H - bar.H) * (s.Height - s.Area.H))
			s.from = s.Top
		}
	}
	switch {
	case g.Escaped:
		s.To(s.from)
	case s.onBar:
		s.To(s.from + (g.At.Y-s.pressed.Y)*(s.Height-s.Area.H)/(s.Area.H-bar.H))
	case g.Moved:
		s.To(s.from - (g.At.Y - s.pressed.Y))
	}
}

// Draw draws the bar, if there is more than fits.
func (s *Scroll) Draw(k *Kit, l *display.List) {
	if s.Long() {
		k.drawBar(l, s.Area, s.Top, s.Height)
	}
	k.DrawRing(l, s, Inset(s.Area, 4*k.Unit))
}

// Edge is how much of the area, units, is covered where it goes on below.
const Edge = 40

// DrawEdge covers the foot of the area, where it goes on below, softly with the ground and a
// sign that it does.
func (s *Scroll) DrawEdge(k *Kit, l *display.List, ground display.Colour) {
	if s.Top >= s.Height-s.Area.H-0.5 {
		return
	}
	u := k.Unit
	r := display.Rect{X: s.Area.X, Y: s.Area.Y + s.Area.H - Edge*u, W: s.Room(k), H: Edge * u}
	clear := ground
	clear.A = 0
	l.Rect(r)
	l.Fill(display.Paint{
		Kind: display.Linear, From: clear, To: ground,
		A: display.Point{Y: r.Y}, B: display.Point{Y: r.Y + 0.6*r.H},
	})
	Chevron(l, display.Point{X: r.X + r.W/2, Y: r.Y + 0.75*r.H}, 6*u, u, k.Theme.Muted)
}

func (k *Kit) drawBar(l *display.List, area display.Rect, top, height float64) {
	r := barOf(k, area, top, height)
	r.X, r.W = r.X+r.W/2-2*k.Unit, 5*k.Unit
	l.RoundRect(r, theme.Radius*k.Unit)
	l.Fill(display.Paint{From: k.Theme.Edge})
}
