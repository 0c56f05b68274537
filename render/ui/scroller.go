package ui

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// A Paragraph is text, with what stands before it.
type Paragraph struct{ Before, Text string }

// Scroller is text to read that scrolls where it is longer than its area.
type Scroller struct {
	Scroll
	Lines  []Paragraph
	broken [][]string // the lines as they are broken
	indent float64
}

func (s *Scroller) style(k *Kit) lettering.Style { return k.Style(theme.Lead) }

// pad is how far the text stands in from the edges, where the ring of the focus is.
func (s *Scroller) pad(k *Kit) float64 { return math.Round(1.5 * theme.Unit * k.Unit) }

// Lay breaks the lines for the area.
func (s *Scroller) Lay(k *Kit) {
	st, pad := s.style(k), s.pad(k)
	s.indent, s.Height, s.broken = 0, 2*pad, s.broken[:0]
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
		b := lettering.Wrap(st, l.Text, s.Area.W-indent-2*pad-barWidth*k.Unit)
		s.broken = append(s.broken, b)
		s.Height += s.of(st, b)
	}
	s.To(s.Top)
}

// of is the height of a paragraph.
func (s *Scroller) of(st lettering.Style, broken []string) float64 {
	return float64(len(broken))*lettering.LineHeight(st) + 0.5*st.Size
}

// Draw draws what shows of the text, and where in it that is.
func (s *Scroller) Draw(k *Kit, l *display.List) {
	st := s.style(k)
	before := st
	before.Colour = k.Theme.Accent
	l.Rect(s.Area)
	l.OpenClip()
	y := s.Area.Y - s.Top + s.pad(k)
	for i, b := range s.broken {
		h := s.of(st, b)
		if y+h > s.Area.Y && y < s.Area.Y+s.Area.H {
			x, base := s.Area.X+s.pad(k), y+lettering.Ascent(st)
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
	s.Scroll.Draw(k, l)
}
