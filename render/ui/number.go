package ui

import (
	"math"
	"unicode"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// A Measure is how numbers of one kind are written and read.
type Measure interface {
	Write(v float64) string
	Read(text string) (v float64, ok bool)
	// Step is what an arrow key adds.
	Step() float64
	// Longest are texts as long as any that is written from low to high.
	Longest(low, high float64) []string
}

// Number is a number that can be typed, stepped by keys and stepped by two buttons.
type Number struct {
	Base
	typing
	Measure Measure
	Get     func() (v float64, ok bool) // not ok: there is none, and Rest is written
	Set     func(v float64) bool        // it says whether that can be
	Done    func()                      // closes what Set began
	Entered func()                      // nil: nothing is to follow when Enter has taken it
	Limits  func() (low, high float64)
	Fit     func(v float64, up bool) float64 // nil: everything within the limits is allowed
	Clear   func()                           // nil: there always is one
	Rest    string                           // what is written where there is no number
	Span    [2]float64                       // what it may ever be, for its width
	Whole   bool
	Bare    bool                          // without buttons
	Range   func(low, high string) string // says what is allowed
	Not     string                        // says that it cannot be just now

	value  float64
	has    bool
	shown  string
	wide   float64 // of the written numbers
	wideAt float64 // the type's size for that
}

// numberMost is the most characters that a number takes.
const numberMost = 16

// Text gives the number as it is written.
func (n *Number) Text() string { return n.shown }

// Refresh takes over the number.
func (n *Number) Refresh(*Kit) {
	v, ok := n.Get()
	if n.shown != "" && v == n.value && ok == n.has {
		return
	}
	n.value, n.has, n.shown = v, ok, n.Rest
	if ok {
		n.shown = n.Measure.Write(v)
	}
}

// Size has room for the longest number that is allowed.
func (n *Number) Size(k *Kit) (w, h float64) {
	if n.wideAt != k.Text {
		st := k.Style(theme.Body)
		n.wideAt, n.wide = k.Text, max(lettering.Width(st, n.Rest), 2.5*st.Size)
		for _, s := range n.Measure.Longest(n.Span[0], n.Span[1]) {
			n.wide = max(n.wide, lettering.Width(st, s))
		}
	}
	w = math.Round(n.wide + 2.5*theme.Unit*k.Unit)
	if !n.Bare {
		w += 2 * k.step()
	}
	return w, k.Tall()
}

// field is the part that is typed into; the buttons are left and right of it.
func (n *Number) field(k *Kit) display.Rect {
	r := n.Area
	if !n.Bare {
		side := k.step()
		r.X, r.W = r.X+side, r.W-2*side
	}
	return r
}

// Begin opens the number to be typed over.
func (n *Number) Begin() { n.begin(n.shown) }

// Take makes the number typed the number and closes the field. What cannot be taken
// stays as typed.
func (n *Number) Take() {
	switch {
	case !n.open:
		return
	case n.fresh(): // nothing was typed
		n.Forget()
		return
	case len(n.text) == 0 && n.Clear != nil:
		n.Clear()
		n.Done()
		n.Forget()
		return
	}
	v, ok := n.Measure.Read(string(n.text))
	low, high := n.Limits()
	const breath = 1e-9 // for limits that are computed
	if !ok || v < low-breath || v > high+breath || n.Whole && v != math.Round(v) {
		n.fault = n.Range(n.Measure.Write(low), n.Measure.Write(high))
		return
	}
	if !n.Set(max(low, min(v, high))) {
		n.fault = n.Not
		return
	}
	n.Done()
	n.Forget()
}

// enter takes what was typed and says whether it could be.
func (n *Number) enter() bool {
	n.Take()
	return n.fault == ""
}

// Leave takes what was typed; what cannot be taken stays to be seen.
func (n *Number) Leave(*Kit) {
	n.Take()
	n.Done()
}

// move steps the number and keeps it within its limits. Steps land on whole steps of
// a tenth, so that the number shown is the number held.
func (n *Number) move(steps float64) {
	n.Forget()
	low, high := n.Limits()
	v, ok := n.Get()
	if !ok {
		v = max(low, min(0, high))
	}
	unit := n.Measure.Step()
	if n.Whole {
		steps = math.Copysign(max(1, math.Abs(steps)), steps)
	}
	v = max(low, min(math.Round((v/unit+steps)*10)/10*unit, high))
	if n.Fit != nil {
		v = n.Fit(v, steps > 0)
	}
	if !n.Set(v + 0) {
		n.fault = n.Not
	}
}

// Press steps the number, opens it, takes it or puts it back.
func (n *Number) Press(k *Kit, p Press) bool {
	if n.open && n.edit(k, p) {
		return true
	}
	size := 1.
	if p.Shift {
		size = 0.1
	}
	switch p.Key {
	case KeyEnter:
		switch {
		case !n.open:
			n.Begin()
		case n.enter() && n.Entered != nil:
			n.Entered()
		}
	case KeyEscape:
		if !n.open && n.fault == "" {
			return false
		}
		n.Forget()
	case KeyRight, KeyUp:
		n.move(size)
	case KeyLeft, KeyDown:
		n.move(-size)
	case KeyPageUp:
		n.move(10 * size)
	case KeyPageDown:
		n.move(-10 * size)
	case KeyDelete:
		if n.Clear == nil {
			return false
		}
		n.Clear()
		n.Done()
	case KeyHome:
		low, high := n.Limits()
		n.Forget()
		n.Set(max(low, min(0, high)))
		n.Done()
	default:
		return false
	}
	return true
}

// edit takes the keys of editing while the number is typed.
func (n *Number) edit(k *Kit, p Press) bool {
	if !n.press(k, p) {
		return false
	}
	n.fault = ""
	return true
}

// Typed opens it on what begins a number, and goes on.
func (n *Number) Typed(_ *Kit, c rune) bool {
	if !n.open {
		if !unicode.IsDigit(c) && c != '-' && c != '−' && c != '.' && c != ',' {
			return false
		}
		n.Begin()
	}
	n.insert(numberMost, c)
	n.fault = ""
	return true
}

// Point steps it at its ends and opens it in the middle.
func (n *Number) Point(k *Kit, g Gesture) {
	f := n.field(k)
	if n.open && Inside(f, k.from) {
		n.point(k, g)
		return
	}
	if !g.Clicked() {
		return
	}
	switch {
	case g.At.X < f.X:
		n.move(-1)
	case g.At.X >= f.X+f.W:
		n.move(1)
	default:
		n.Begin()
	}
}

// Draw draws the field between its two buttons.
func (n *Number) Draw(k *Kit, l *display.List) {
	t, u := k.Theme, k.Unit
	r, f := narrow(n.Area, 2*u), narrow(n.field(k), 2*u)
	if !n.Bare {
		k.Plate(l, r, t.Raised)
		sides := [2]display.Rect{{X: r.X, Y: r.Y, W: f.X - r.X, H: r.H}, {X: f.X + f.W, Y: r.Y, W: r.X + r.W - f.X - f.W, H: r.H}}
		for i, s := range sides {
			if k.Hot(n) && Inside(s, k.Pointer) {
				k.Plate(l, s, t.Hover)
			}
			m := Middle(s)
			Line(l, m.X-5*u, m.Y, m.X+5*u, m.Y, 2*u, t.Ink)
			if i == 1 {
				Line(l, m.X, m.Y-5*u, m.X, m.Y+5*u, 2*u, t.Ink)
			}
		}
	}
	k.drawTyping(l, &n.typing, f, n.shown, k.Hot(n) && Inside(f, k.Pointer), lettering.Middle)
	k.DrawRing(l, n, r)
}
