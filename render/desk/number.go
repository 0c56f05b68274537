package desk

import (
	"math"
	"unicode"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
)

// typing is a text while it is typed. The zero typing is closed.
type typing struct {
	open  bool
	fresh bool   // as it was opened: what is typed replaces it
	fault string // why what stands there cannot be taken; empty: it can
	text  string
}

func (t *typing) insert(c rune, most int) {
	if !t.open || t.fresh {
		*t = typing{open: true}
	}
	if unicode.IsPrint(c) && len([]rune(t.text)) < most {
		t.text += string(c)
	}
	t.fault = ""
}

func (t *typing) erase() {
	if t.fresh {
		t.text = ""
	}
	t.fresh, t.fault = false, ""
	if r := []rune(t.text); len(r) > 0 {
		t.text = string(r[:len(r)-1])
	}
}

// number is a number that can be typed, stepped by keys and stepped by two buttons.
type number struct {
	base
	typing
	say      *words.Words
	quantity *quantity
	get      func() (v float64, ok bool) // not ok: there is none, and rest is written
	set      func(v float64) bool        // it says whether that can be
	done     func()                      // closes what set began
	limits   func() (low, high float64)
	fit      func(v float64, up bool) float64 // nil: everything within the limits is allowed
	clear    func()                           // nil: there always is one
	rest     string                           // what is written where there is no number
	span     [2]float64                       // what it may ever be, for its width
	whole    bool
	bare     bool // without buttons
	value    float64
	has      bool
	shown    string
	wide     float64 // of the written numbers
	wideAt   float64 // the type's size for that
}

// numberMost is the most characters that a number takes.
const numberMost = 16

func (n *number) refresh(*kit) {
	v, ok := n.get()
	if n.shown != "" && v == n.value && ok == n.has {
		return
	}
	n.value, n.has, n.shown = v, ok, n.rest
	if ok {
		n.shown = n.quantity.write(n.say, v)
	}
}

// size has room for the longest number that is allowed.
func (n *number) size(k *kit) (w, h float64) {
	if n.wideAt != k.text {
		st := k.style(theme.Body)
		n.wideAt, n.wide = k.text, max(lettering.Width(st, n.rest), 4*st.Size)
		for _, v := range n.span {
			// As long as it is with all its decimals.
			long := math.Copysign(max(math.Abs(v)-0.11*n.quantity.per, 0.11*n.quantity.per), v)
			for _, x := range [2]float64{v, long} {
				n.wide = max(n.wide, lettering.Width(st, n.quantity.write(n.say, x)))
			}
		}
	}
	side := math.Round(theme.Target * k.unit)
	w = math.Round(n.wide + 3*theme.Unit*k.unit)
	if !n.bare {
		w += 2 * side
	}
	return w, math.Round(max(side, 1.8*theme.Body*k.text))
}

// field is the part that is typed into; the buttons are left and right of it.
func (n *number) field(k *kit) display.Rect {
	r := n.area
	if !n.bare {
		side := math.Round(theme.Target * k.unit)
		r.X, r.W = r.X+side, r.W-2*side
	}
	return r
}

// take makes the number typed the number and closes the field. What cannot be taken
// stays as typed.
func (n *number) take() {
	if !n.open {
		return
	}
	if n.fresh { // nothing was typed
		n.typing = typing{}
		return
	}
	v, ok := n.quantity.read(n.say, n.text)
	low, high := n.limits()
	const breath = 1e-9 // for limits that are computed
	if !ok || v < low-breath || v > high+breath || n.whole && v != math.Round(v) {
		n.fault = n.say.Allowed(n.quantity.write(n.say, low), n.quantity.write(n.say, high))
		return
	}
	if !n.set(max(low, min(v, high))) {
		n.fault = n.say.Label(words.AllowedNot)
		return
	}
	n.done()
	n.typing = typing{}
}

// leave takes what was typed; what cannot be taken stays to be seen.
func (n *number) leave(*kit) {
	n.take()
	n.done()
}

// opened is with the number as it is to be typed over.
func (n *number) opened() { n.typing = typing{open: true, fresh: true, text: n.shown} }

// move steps the number and keeps it within its limits. Steps land on whole steps of
// a tenth, so that the number shown is the number held.
func (n *number) move(steps float64) {
	n.typing = typing{}
	low, high := n.limits()
	v, ok := n.get()
	if !ok {
		v = max(low, min(0, high))
	}
	unit := n.quantity.step
	if n.whole {
		steps = math.Copysign(max(1, math.Abs(steps)), steps)
	}
	v = max(low, min(snap(v/unit+steps, 0.1)*unit, high))
	if n.fit != nil {
		v = n.fit(v, steps > 0)
	}
	if !n.set(v) {
		n.fault = n.say.Label(words.AllowedNot)
	}
}

func (n *number) press(_ *kit, p Press) bool {
	size := 1.
	if p.Shift {
		size = 0.1
	}
	switch p.Key {
	case KeyEnter:
		if n.open {
			n.take()
		} else {
			n.opened()
		}
	case KeyEscape:
		if !n.open && n.fault == "" {
			return false
		}
		n.typing = typing{}
	case KeyBackspace:
		if !n.open {
			return false
		}
		n.erase()
	case KeyRight, KeyUp:
		n.move(size)
	case KeyLeft, KeyDown:
		n.move(-size)
	case KeyPageUp:
		n.move(10 * size)
	case KeyPageDown:
		n.move(-10 * size)
	case KeyDelete:
		if n.clear == nil || n.open {
			return false
		}
		n.clear()
		n.done()
	case KeyHome:
		low, high := n.limits()
		n.typing = typing{}
		n.set(max(low, min(0, high)))
		n.done()
	default:
		return false
	}
	return true
}

func (n *number) typed(_ *kit, c rune) bool {
	if !n.open && !unicode.IsDigit(c) && c != '-' && c != '−' && c != '.' && c != ',' {
		return false
	}
	n.insert(c, numberMost)
	return true
}

func (n *number) point(k *kit, g gesture) {
	if !g.ended || !g.inside || g.escaped {
		return
	}
	switch f := n.field(k); {
	case g.at.X < f.X:
		n.move(-1)
	case g.at.X >= f.X+f.W:
		n.move(1)
	case !n.open:
		n.opened()
	}
}

func (n *number) draw(k *kit, l *display.List) {
	t, u := k.theme, k.unit
	r, f := inset(n.area, 3*u), inset(n.field(k), 3*u)
	if !n.bare {
		k.plate(l, r, t.Raised)
		f.X, f.W = f.X-3*u, f.W+6*u
		sides := [2]display.Rect{{X: r.X, Y: r.Y, W: f.X - r.X, H: r.H}, {X: f.X + f.W, Y: r.Y, W: r.X + r.W - f.X - f.W, H: r.H}}
		for i, s := range sides {
			if k.hot(n) && inside(s, k.pointer) {
				k.plate(l, s, t.Hover)
			}
			m := display.Point{X: s.X + s.W/2, Y: s.Y + s.H/2}
			line(l, m.X-5*u, m.Y, m.X+5*u, m.Y, 2*u, t.Ink)
			if i == 1 {
				line(l, m.X, m.Y-5*u, m.X, m.Y+5*u, 2*u, t.Ink)
			}
		}
	}
	k.drawTyping(l, &n.typing, f, n.shown, k.hot(n) && inside(f, k.pointer), lettering.Middle)
	k.drawRing(l, n, r)
}

// drawTyping draws a field with what is typed in it, or with what holds.
func (k *kit) drawTyping(l *display.List, t *typing, r display.Rect, shown string, hot bool, anchor lettering.Anchor) {
	th, u := k.theme, k.unit
	st := k.style(theme.Body)
	edge := th.Edge
	switch {
	case t.fault != "":
		edge = th.Warning
	case hot || t.open:
		edge = th.Accent
	}
	k.plate(l, r, th.Field)
	k.outline(l, r, edge)
	text := shown
	if t.open {
		text = t.text
	}
	room := r.W - 2*theme.Unit*u
	// The end of a long text is where it is typed.
	for t.open && lettering.Width(st, text) > room {
		text = string([]rune(text)[1:])
	}
	text = lettering.Ellipsis(st, text, room)
	w := lettering.Width(st, text)
	x := r.X + theme.Unit*u
	if anchor == lettering.Middle {
		x = r.X + (r.W-w)/2
	}
	if t.fresh {
		fillRect(l, display.Rect{X: x - 2*u, Y: r.Y + 4*u, W: w + 4*u, H: r.H - 8*u}, th.Marked)
	}
	lettering.Draw(l, st, x, r.Y+r.H/2+lettering.CapHeight(st)/2, lettering.Start, text)
	if t.open && !t.fresh {
		line(l, x+w+2*u, r.Y+6*u, x+w+2*u, r.Y+r.H-6*u, theme.Line*u, th.Accent)
	}
}
