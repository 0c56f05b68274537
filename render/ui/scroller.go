package ui

import (
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// A Paragraph is text, with what stands before it.
type Paragraph struct{ Before, Text string }

// Scroller is text to read that scrolls where it is longer than its area.
type Scroller struct {
	Base
	Lines  []Paragraph
	broken [][]string // the lines as they are broken
	indent float64
	height float64 // of all
	top    float64 // how far it is scrolled, pixels
}

func (s *Scroller) style(k *Kit) lettering.Style { return k.Style(theme.Lead) }

// Lay breaks the lines for the area.
func (s *Scroller) Lay(k *Kit) {
	st := s.style(k)
	s.indent, s.height, s.broken = 0, 0, s.broken[:0]
	for _, l := range s.Lines {
		if l.Before != "" {
			s.indent = max(s.indent, lettering.Width(st, l.Before)+2*theme.Unit*k.Unit)
		}
	}
	s.indent = min(s.indent, s.Area.W/3)
	for _, l := range s.Lines {
		indent := s.indent
		if l.Before == "" {
			indent = 0
		}
		b := lettering.Wrap(st, l.Text, s.Area.W-indent-3*theme.Unit*k.Unit)
		s.broken = append(s.broken, b)
		s.height += s.of(st, b)
	}
	s.move(0)
}

// of is the height of a paragraph.
func (s *Scroller) of(st lettering.Style, broken []string) float64 {
	return float64(len(broken))*lettering.LineHeight(st) + 0.5*st.Size
}

func (s *Scroller) move(by float64) { s.top = max(0, min(s.top+by, s.height-s.Area.H)) }

// Press scrolls.
func (s *Scroller) Press(k *Kit, p Press) bool {
	line := lettering.LineHeight(s.style(k))
	switch p.Key {
	case KeyUp:
		s.move(-line)
	case KeyDown:
		s.move(line)
	case KeyPageUp:
		s.move(-s.Area.H + line)
	case KeyPageDown:
		s.move(s.Area.H - line)
	case KeyHome:
		s.move(-s.height)
	case KeyEnd:
		s.move(s.height)
	default:
		return false
	}
	return true
}

// Wheel scrolls.
func (s *Scroller) Wheel(k *Kit, notches float64) bool {
	s.move(-wheelReach * notches * k.Unit)
	return true
}

// wheelReach is how far a notch of the wheel scrolls, units.
const wheelReach = 60

// Draw draws what shows of the text, and where in it that is.
func (s *Scroller) Draw(k *Kit, l *display.List) {
	st := s.style(k)
	before := st
	before.Colour = k.Theme.Accent
	l.Rect(s.Area)
	l.OpenClip()
	y := s.Area.Y - s.top
	for i, b := range s.broken {
		h := s.of(st, b)
		if y+h > s.Area.Y && y < s.Area.Y+s.Area.H {
			x, base := s.Area.X, y+lettering.Ascent(st)
			if t := s.Lines[i].Before; t != "" {
				lettering.Draw(l, before, x, base, lettering.Start, lettering.Ellipsis(before, t, s.indent))
				x += s.indent
			}
			for _, text := range b {
				lettering.Draw(l, st, x, base, lettering.Start, text)
				base += lettering.LineHeight(st)
			}
		}
		y += h
	}
	l.End()
	if s.height > s.Area.H {
		h := s.Area.H * s.Area.H / s.height
		at := s.Area.Y + s.Area.H*s.top/s.height
		k.Plate(l, display.Rect{X: s.Area.X + s.Area.W - 5*k.Unit, Y: at, W: 5 * k.Unit, H: h}, k.Theme.Edge)
	}
	k.DrawRing(l, s, s.Area)
}
