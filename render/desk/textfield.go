package desk

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// textField is a line of text that can be typed.
type textField struct {
	base
	typing
	get     func() string
	set     func(string) bool             // it says whether that can be
	most    int                           // characters
	allowed string                        // what may be typed
	swatch  func() (display.Colour, bool) // a colour shown at its end
	shown   string
	wide    float64 // ems
}

func (f *textField) refresh(*kit) { f.shown = f.get() }

func (f *textField) size(k *kit) (w, h float64) {
	w = f.wide*theme.Body*k.text + 3*theme.Unit*k.unit
	if f.swatch != nil {
		w += 3 * theme.Unit * k.unit
	}
	return math.Round(w), math.Round(max(theme.Target*k.unit, 1.8*theme.Body*k.text))
}

func (f *textField) take() {
	if !f.open {
		return
	}
	if !f.fresh && !f.set(f.text) {
		f.fault = f.allowed
		return
	}
	f.typing = typing{}
}

func (f *textField) leave(*kit) { f.take() }

func (f *textField) press(_ *kit, p Press) bool {
	switch {
	case p.Key == KeyEnter && f.open:
		f.take()
	case p.Key == KeyEnter:
		f.typing = typing{open: true, fresh: true, text: f.shown}
	case p.Key == KeyEscape && f.open:
		f.typing = typing{}
	case p.Key == KeyBackspace && f.open:
		f.erase()
	default:
		return false
	}
	return true
}

func (f *textField) typed(_ *kit, c rune) bool {
	if !f.open && c == ' ' {
		return false
	}
	f.insert(c, f.most)
	return true
}

func (f *textField) point(_ *kit, g gesture) {
	if g.ended && g.inside && !g.escaped && !f.open {
		f.typing = typing{open: true, fresh: true, text: f.shown}
	}
}

func (f *textField) draw(k *kit, l *display.List) {
	r := inset(f.area, 3*k.unit)
	k.drawTyping(l, &f.typing, r, f.shown, k.hot(f), lettering.Start)
	if f.swatch != nil {
		if c, ok := f.swatch(); ok {
			s := 20 * k.unit
			box := display.Rect{X: r.X + r.W - s - 6*k.unit, Y: r.Y + (r.H-s)/2, W: s, H: s}
			k.plate(l, box, c)
			k.outline(l, box, k.theme.Edge)
		}
	}
	k.drawRing(l, f, r)
}
