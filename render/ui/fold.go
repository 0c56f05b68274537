package ui

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// Fold is the heading of what can be folded away under it.
type Fold struct {
	Base
	Text   string
	Open   func() bool
	Toggle func()
}

// Size is a line.
func (f *Fold) Size(k *Kit) (w, h float64) {
	return math.Round(lettering.Width(f.style(k), f.Text) + 4*theme.Unit*k.Unit), math.Round(max(32*k.Unit, 1.8*theme.Body*k.Text))
}

func (f *Fold) style(k *Kit) lettering.Style {
	st := k.Style(theme.Body)
	st.Face = display.Bold
	return st
}

// Press folds and unfolds.
func (f *Fold) Press(_ *Kit, p Press) bool {
	switch {
	case p.Key == KeyEnter, p.Key == KeyRight && !f.Open(), p.Key == KeyLeft && f.Open():
		f.Toggle()
		return true
	}
	return false
}

// Typed folds and unfolds by the space bar.
func (f *Fold) Typed(_ *Kit, c rune) bool {
	if c == ' ' {
		f.Toggle()
	}
	return c == ' '
}

// Point folds and unfolds.
func (f *Fold) Point(_ *Kit, g Gesture) {
	if g.Clicked() {
		f.Toggle()
	}
}

// Draw draws the heading with an arrow, down where it is unfolded.
func (f *Fold) Draw(k *Kit, l *display.List) {
	u, a := k.Unit, f.Area
	if k.Hot(f) {
		k.Plate(l, Inset(a, u), k.Theme.Raised)
	}
	at := display.Point{X: a.X + 12*u, Y: a.Y + a.H/2}
	if f.Open() {
		Chevron(l, at, 5*u, u, k.Theme.Ink)
	} else {
		Arrow(l, at, 5*u, u, k.Theme.Ink)
	}
	st := f.style(k)
	room := a.W - 28*u
	lettering.Draw(l, st, a.X+24*u, a.Y+a.H/2+lettering.CapHeight(st)/2, lettering.Start, lettering.Ellipsis(st, f.Text, room))
	k.DrawRing(l, f, Inset(a, 3*u))
}

// Swatches are colours to choose from.
type Swatches struct {
	Base
	Colours []display.Colour
	Get     func() int // −1: another one
	Set     func(int)
	chosen  int
}

// Refresh takes over which one is chosen.
func (s *Swatches) Refresh(*Kit) { s.chosen = s.Get() }

// Size is a row of them.
func (s *Swatches) Size(k *Kit) (w, h float64) {
	return float64(len(s.Colours)) * k.step(), k.Tall()
}

func (s *Swatches) at(i int) display.Rect {
	w := s.Area.W / float64(len(s.Colours))
	return display.Rect{X: s.Area.X + float64(i)*w, Y: s.Area.Y, W: w, H: s.Area.H}
}

// Press steps through them.
func (s *Swatches) Press(_ *Kit, p Press) bool {
	i := s.chosen
	switch p.Key {
	case KeyRight, KeyUp:
		i = min(i+1, len(s.Colours)-1)
	case KeyLeft, KeyDown:
		i = max(i-1, 0)
	default:
		return false
	}
	if i != s.chosen {
		s.Set(i)
		s.chosen = s.Get()
	}
	return true
}

// Point chooses the one that is clicked.
func (s *Swatches) Point(_ *Kit, g Gesture) {
	if !g.Clicked() {
		return
	}
	for i := range s.Colours {
		if Inside(s.at(i), g.At) {
			s.Set(i)
		}
	}
}

// Draw draws them; the chosen one has a ring.
func (s *Swatches) Draw(k *Kit, l *display.List) {
	for i, c := range s.Colours {
		r := s.at(i)
		m, radius := Middle(r), min(r.W, r.H)/2-5*k.Unit
		l.Circle(m, radius)
		l.Fill(display.Paint{From: c})
		l.Circle(m, radius)
		l.Stroke(theme.Line*k.Unit, display.Paint{From: k.Theme.Edge})
		if i == s.chosen {
			l.Circle(m, radius+3.5*k.Unit)
			l.Stroke(2*k.Unit, display.Paint{From: k.Theme.Accent})
		}
	}
	k.DrawRing(l, s, Inset(s.Area, 2*k.Unit))
}
