package ui

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// TextField is a line of text that can be typed.
type TextField struct {
	Base
	typing
	Get     func() string
	Set     func(string) bool             // it says whether that can be
	Most    int                           // characters
	Allowed string                        // what may be typed
	Swatch  func() (display.Colour, bool) // a colour shown at its end
	Wide    float64                       // ems
	Empty   string                        // what is said where there is no text
	Live    func(string)                  // nil: nobody wants to know every letter
	Enter   func()                        // nil: Enter takes the text and no more
	Aside   func(Press) bool              // takes keys that the text has no use for; nil: nobody does
	shown   string
}

// Refresh takes over the text.
func (f *TextField) Refresh(*Kit) { f.shown = f.Get() }

// Size is as wide as was asked for.
func (f *TextField) Size(k *Kit) (w, h float64) {
	w = f.Wide*theme.Body*k.Text + 3*theme.Unit*k.Unit
	if f.Swatch != nil {
		w += 3 * theme.Unit * k.Unit
	}
	return math.Round(w), k.Tall()
}

// Begin opens the text, all selected.
func (f *TextField) Begin() { f.begin(f.Get()) }

// Take makes the text typed the text and closes the field. What cannot be taken stays
// as typed.
func (f *TextField) Take() {
	if !f.open {
		return
	}
	if !f.fresh() && !f.Set(string(f.text)) {
		f.fault = f.Allowed
		return
	}
	f.Forget()
}

// Leave takes what was typed.
func (f *TextField) Leave(*Kit) { f.Take() }

// Press edits, opens, takes or puts back.
func (f *TextField) Press(k *Kit, p Press) bool {
	switch {
	case f.open && f.press(k, p):
		f.changed()
	case p.Key == KeyEnter && f.open:
		if f.Take(); f.Enter != nil && f.fault == "" {
			f.Enter()
		}
	case p.Key == KeyEnter:
		f.Begin()
	case p.Key == KeyEscape && f.open:
		f.Forget()
	default:
		return f.Aside != nil && f.Aside(p)
	}
	return true
}

// Typed opens it and goes on.
func (f *TextField) Typed(_ *Kit, c rune) bool {
	if !f.open {
		if c == ' ' {
			return false
		}
		f.Begin()
	}
	f.insert(f.Most, c)
	f.changed()
	return true
}

func (f *TextField) changed() {
	f.fault = ""
	if f.Live != nil {
		f.Live(string(f.text))
	}
}

// Point opens it, or puts the caret where the pointer is.
func (f *TextField) Point(k *Kit, g Gesture) {
	switch {
	case f.open:
		f.point(k, g)
	case g.Clicked():
		f.Begin()
	}
}

// Draw draws the text in its field.
func (f *TextField) Draw(k *Kit, l *display.List) {
	r := narrow(f.Area, 2*k.Unit)
	k.drawTyping(l, &f.typing, r, f.shown, k.Hot(f), lettering.Start)
	if f.Empty != "" && len(f.text) == 0 && (f.open || f.shown == "") {
		st := k.Muted(theme.Body)
		lettering.Draw(l, st, r.X+theme.Unit*k.Unit, r.Y+r.H/2+lettering.CapHeight(st)/2, lettering.Start, lettering.Ellipsis(st, f.Empty, r.W-2*theme.Unit*k.Unit))
	}
	if f.Swatch != nil {
		if c, ok := f.Swatch(); ok {
			s := 20 * k.Unit
			box := display.Rect{X: r.X + r.W - s - 6*k.Unit, Y: r.Y + (r.H-s)/2, W: s, H: s}
			k.Plate(l, box, c)
			k.Outline(l, box, k.Theme.Edge)
		}
	}
	k.DrawRing(l, f, r)
}
