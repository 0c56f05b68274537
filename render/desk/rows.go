package desk

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// rows is a list of which one row is chosen; it scrolls where it is longer than its
// area.
type rows struct {
	base
	count  func() int
	row    func(i int) (text, note string)
	chosen int
	pick   func(i int) // a press, or Enter on the chosen one
	first  int         // row at the top
	height float64     // of a row, pixels
}

func (s *rows) size(k *kit) (w, h float64) {
	s.height = math.Round(max(theme.Target*k.unit, 1.8*theme.Body*k.text))
	return 20 * theme.Body * k.text, 3 * s.height
}

// seen is how many rows fit.
func (s *rows) seen() int {
	if s.height <= 0 {
		return 1
	}
	return max(1, int(s.area.H/s.height))
}

func (s *rows) refresh(*kit) {
	s.chosen = max(0, min(s.chosen, s.count()-1))
	s.scroll(0)
}

// scroll moves the rows on by so many.
func (s *rows) scroll(by int) {
	s.first = max(0, min(s.first+by, s.count()-s.seen()))
}

func (s *rows) choose(i int) {
	s.chosen = max(0, min(i, s.count()-1))
	s.first = max(min(s.first, s.chosen), s.chosen-s.seen()+1)
}

func (s *rows) press(_ *kit, p Press) bool {
	switch p.Key {
	case KeyUp:
		s.choose(s.chosen - 1)
	case KeyDown:
		s.choose(s.chosen + 1)
	case KeyPageUp:
		s.choose(s.chosen - s.seen())
	case KeyPageDown:
		s.choose(s.chosen + s.seen())
	case KeyHome:
		s.choose(0)
	case KeyEnd:
		s.choose(s.count() - 1)
	case KeyEnter:
		if s.count() > 0 {
			s.pick(s.chosen)
		}
	default:
		return false
	}
	return true
}

func (s *rows) point(_ *kit, g gesture) {
	if !g.ended || !g.inside || g.escaped {
		return
	}
	if i := s.first + int((g.at.Y-s.area.Y)/s.height); i < s.count() {
		s.chosen = i
		s.pick(i)
	}
}

func (s *rows) draw(k *kit, l *display.List) {
	t, u := k.theme, k.unit
	l.Rect(s.area)
	l.OpenClip()
	st := k.style(theme.Body)
	for i := s.first; i < min(s.first+s.seen(), s.count()); i++ {
		r := display.Rect{X: s.area.X, Y: s.area.Y + float64(i-s.first)*s.height, W: s.area.W - theme.Unit*u, H: s.height}
		text, note := s.row(i)
		ink := t.Ink
		switch {
		case i == s.chosen:
			k.plate(l, inset(r, 2*u), t.Accent)
			ink = t.OnAccent
		case k.hot(s) && inside(r, k.pointer):
			k.plate(l, inset(r, 2*u), t.Hover)
		}
		st.Colour = ink
		base, pad := r.Y+r.H/2+lettering.CapHeight(st)/2, 2*theme.Unit*u
		w := lettering.Draw(l, st, r.X+pad, base, lettering.Start, lettering.Ellipsis(st, text, r.W-2*pad))
		if room := r.W - 3*pad - w; note != "" && room > 4*st.Size {
			lettering.Draw(l, st, r.X+r.W-pad, base, lettering.End, lettering.Ellipsis(st, note, room))
		}
	}
	if n := s.count(); n > s.seen() {
		h := s.area.H * float64(s.seen()) / float64(n)
		y := s.area.Y + s.area.H*float64(s.first)/float64(n)
		k.plate(l, display.Rect{X: s.area.X + s.area.W - 5*u, Y: y, W: 5 * u, H: h}, t.Edge)
	}
	l.End()
	k.drawRing(l, s, s.area)
}
