package ui

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// Icon draws a sign about a place.
type Icon func(l *display.List, middle display.Point, unit float64, c display.Colour)

// Button does something when it is pressed and let go.
type Button struct {
	Base
	Text   string
	Icon   Icon // instead of the text, where Sign is set or there is no text
	Sign   bool
	Main   bool // it is what there is to do here
	Do     func()
	On     func() bool     // nil: it has no state
	Hold   func(down bool) // instead of Do: while it is pressed
	Held   bool            // it is pressed, or the key for it is
	Cannot func() bool     // nil: it always can

	kept bool // held by a key that was let go, until the next or until it loses the focus
}

// Refresh takes over whether it can do anything.
func (b *Button) Refresh(*Kit) { b.Off = b.Cannot != nil && b.Cannot() }

func (b *Button) sign() bool { return b.Icon != nil && (b.Sign || b.Text == "") }

// AsSign draws the sign instead of the text, where there is one.
func (b *Button) AsSign(sign bool) { b.Sign = sign }

// Size has room for the text or the sign.
func (b *Button) Size(k *Kit) (w, h float64) {
	if b.sign() {
		return k.Side(), k.Side()
	}
	w = lettering.Width(k.Style(theme.Body), b.Text) + 3*theme.Unit*k.Unit
	return math.Round(max(k.Side(), w)), k.Tall()
}

// Press presses it by Enter.
func (b *Button) Press(_ *Kit, p Press) bool { return p.Key == KeyEnter && b.keyed() }

// Typed presses it by the space bar.
func (b *Button) Typed(_ *Kit, c rune) bool { return c == ' ' && b.keyed() }

// keyed presses it by a key, or holds it down until the next.
func (b *Button) keyed() bool {
	switch {
	case b.Off:
		return false
	case b.Hold != nil:
		b.keep(!b.kept)
	case b.Do != nil:
		b.Do()
	default:
		return false
	}
	return true
}

func (b *Button) keep(down bool) {
	b.kept = down
	b.Hold(down)
}

// Leave lets go of it.
func (b *Button) Leave(*Kit) {
	if b.kept {
		b.keep(false)
	}
}

// Point presses it, or holds it down.
func (b *Button) Point(_ *Kit, g Gesture) {
	switch {
	case b.Hold != nil:
		b.kept = false
		b.Hold(!g.Ended)
	case g.Clicked():
		b.Do()
	}
}

// Draw draws a plate with the text or the sign.
func (b *Button) Draw(k *Kit, l *display.List) {
	t := k.Theme
	r := Inset(b.Area, 2*k.Unit)
	fill, ink := t.Raised, t.Ink
	switch {
	case b.Off:
		fill, ink = t.Panel, t.Muted
	case b.Main, b.On != nil && b.On(), b.Hold != nil && b.Held:
		fill, ink = t.Accent, t.OnAccent
	case k.Hot(b):
		fill = t.Hover
	}
	k.Plate(l, r, fill)
	if b.sign() {
		b.Icon(l, Middle(r), k.Unit, ink)
	} else {
		st := k.Style(theme.Body)
		st.Colour = ink
		Write(l, st, r, b.Text)
	}
	k.DrawRing(l, b, r)
}
