package ui

import (
	"math"
	"slices"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// A Widget is one thing on the page that can be pointed at or have the focus.
type Widget interface {
	Self() *Base
	// Size is the least that it needs, pixels.
	Size(k *Kit) (w, h float64)
	// Refresh takes over what is so now; it comes before the layout.
	Refresh(k *Kit)
	Draw(k *Kit, l *display.List)
	// Press takes a key while it has the focus, Typed a character; both say whether
	// they had a use for it.
	Press(k *Kit, p Press) bool
	Typed(k *Kit, c rune) bool
	Point(k *Kit, g Gesture)
	// Wheel takes turns of the wheel over it, away from the user +, and says whether it
	// had a use for them.
	Wheel(k *Kit, notches float64) bool
	// Leave comes when it loses the focus.
	Leave(k *Kit)
}

// Base is what all widgets have.
type Base struct {
	Name  string       // which one it is, whatever is rebuilt
	Label string       // what stands beside it; empty: nothing
	Hint  string       // what can be done with it
	Why   string       // why that cannot be done while it is Off; empty: Hint says enough
	Area  display.Rect // where it stands; none: it is not shown
	Skip  bool         // it is no stop of the focus: something else does the same
	Off   bool         // it can do nothing just now
	// Behind says that it stands behind others, which are taken before it; Front that it
	// stands over others, and is taken before them; both, behind those alone that stand over
	// others.
	Behind, Front bool
	// Within is what shows of it where it scrolls under an edge; none: all of it.
	Within display.Rect
}

// Self is the base itself.
func (b *Base) Self() *Base { return b }

// Shown says whether the widget has a place on the page.
func (b *Base) Shown() bool { return b.Area.W > 0 && b.Area.H > 0 }

// Under says whether a place of the page is on what shows of the widget.
func (b *Base) Under(p display.Point) bool {
	return Inside(b.Area, p) && (b.Within == (display.Rect{}) || Inside(b.Within, p))
}

// What a widget does that has no use for anything.

// Refresh changes nothing.
func (b *Base) Refresh(*Kit) {}

// Press leaves the key to others.
func (b *Base) Press(*Kit, Press) bool { return false }

// Typed leaves the letter to others.
func (b *Base) Typed(*Kit, rune) bool { return false }

// Point leaves the pointer alone.
func (b *Base) Point(*Kit, Gesture) {}

// Wheel leaves the wheel to others.
func (b *Base) Wheel(*Kit, float64) bool { return false }

// Leave has nothing to end.
func (b *Base) Leave(*Kit) {}

// Size is none.
func (b *Base) Size(*Kit) (w, h float64) { return 0, 0 }

// Draw draws nothing.
func (b *Base) Draw(*Kit, *display.List) {}

// Gesture is the pointer on a widget that was pressed: it began, went on and ended. A
// click between two turns is all in one.
type Gesture struct {
	At           display.Point
	Began, Ended bool
	Moved        bool          // since it began
	Inside       bool          // of the widget
	Off          display.Point // from the middle of its area when it began
	Escaped      bool          // put back: nothing of it counts
	Double       bool          // it began soon after another at the same place
}

// Clicked says whether the gesture ends as a click on the widget.
func (g *Gesture) Clicked() bool { return g.Ended && g.Inside && !g.Escaped }

// Kit is what the widgets of a page share.
type Kit struct {
	Theme *theme.Theme
	Unit  float64 // pixels to a unit of layout
	Text  float64 // pixels to a unit of type

	Pointer              display.Point
	Focus, Hover, Pulled Widget // nil: none
	Ring                 bool   // the focus was moved by keys and is to be shown
	Keyed                bool   // a key was used since the pointer moved

	page  display.Rect
	popup popup

	grip    Gesture
	from    display.Point // where the pull began
	pressed float64       // when, Input.Seconds
	cut     string        // what was cut or copied, for the clipboard
}

// Is says whether a widget is the one that has something.
func Is(a, b Widget) bool { return a != nil && b != nil && a.Self() == b.Self() }

// Style is that of text of a size of the theme's scale.
func (k *Kit) Style(size float64) lettering.Style {
	return lettering.Style{Size: size * k.Text, Colour: k.Theme.Ink}
}

// Muted is the style of text of less weight.
func (k *Kit) Muted(size float64) lettering.Style {
	st := k.Style(size)
	st.Colour = k.Theme.Muted
	return st
}

// Side is the least side of what is pressed, whole pixels.
func (k *Kit) Side() float64 { return math.Round(theme.Control * k.Unit) }

// Tall is the height of a widget with a line of text in it.
func (k *Kit) Tall() float64 { return math.Round(max(theme.Control*k.Unit, 1.8*theme.Body*k.Text)) }

// step is the width of the buttons beside a number.
func (k *Kit) step() float64 { return math.Round(theme.Step * k.Unit) }

// Cut gives what was cut or copied from a text since it was asked last.
func (k *Kit) Cut() (text string) {
	text, k.cut = k.cut, ""
	return text
}

// A second press so soon after the first, s, and so near to it, units, makes a double
// one (common practice, no source).
const (
	doubleTime  = 0.4
	doubleReach = 6
)

// Turn hands the widgets what happened, in the order of the focus, and says whether
// anything on the page may look different for it. Keys that no widget has a use for go
// to rest, characters to other, which is told of those whose key is held.
func (k *Kit) Turn(in *Input, ws []Widget, rest func(Press), other func(c rune, again bool)) (changed bool) {
	k.page = display.Rect{W: in.W, H: in.H}
	moved := in.Pointer != k.Pointer
	keyed := k.Keyed
	k.Keyed = (keyed || len(in.Keys)+len(in.Text) > 0) && !moved && !in.Pressed
	changed = keyed != k.Keyed
	k.Pointer = in.Pointer
	popped := k.popup.owner != nil
	k.keys(in.Keys[:in.Early], ws, rest)
	k.typed(in, other)
	k.keys(in.Keys[in.Early:], ws, rest)
	changed = changed || len(in.Text)+len(in.Keys) > 0
	switch {
	case k.popup.owner != nil:
		return k.popup.turn(k, in, moved) || changed
	case popped: // what the pointer did was meant for the list
		return true
	}
	was := k.Hover
	k.Hover = under(ws, in.Pointer)
	changed = changed || k.Hover != was
	if in.Pressed {
		changed = true
		k.grasp(k.Hover, in.Seconds)
	}
	if k.Pulled != nil {
		changed = changed || moved || in.Released || !in.Down
		k.pull(in)
	}
	if in.Wheel != 0 {
		changed = true
		k.wheel(ws, in.Wheel)
	}
	return changed
}

func (k *Kit) keys(presses []Press, ws []Widget, rest func(Press)) {
	for _, p := range presses {
		switch {
		case p.Again && !p.goesOn():
		case k.popup.owner != nil && !p.commands():
			k.popup.press(k, p)
		default:
			k.popup = popup{}
			k.key(p, ws, rest)
		}
	}
}

// typed hands on the characters. One whose key is held is written again where somebody
// writes, and of widgets does nothing else again.
func (k *Kit) typed(in *Input, other func(c rune, again bool)) {
	for _, c := range in.Text {
		field, ok := k.Focus.(Typing)
		writing := ok && field.Open()
		switch {
		case k.popup.owner != nil:
			if !in.Again {
				k.popup.seek(k, c, in.Seconds)
			}
		case in.Again && !writing, k.Focus == nil, !k.Focus.Self().Shown(), !k.Focus.Typed(k, c):
			other(c, in.Again)
		}
	}
}

func (k *Kit) key(p Press, ws []Widget, rest func(Press)) {
	switch {
	case k.Pulled != nil:
		if p.Key == KeyEscape {
			k.escape()
		}
	case p.Key == KeyTab:
		k.tab(ws, p.Shift)
	case k.Focus != nil && k.Focus.Self().Shown() && k.Focus.Press(k, p):
		k.Ring = true
	case p.Key == KeyDown && k.heading(ws, 1), p.Key == KeyUp && k.heading(ws, -1):
		k.Ring = true
	default:
		rest(p)
	}
}

// escape ends a pull as if it had not been.
func (k *Kit) escape() {
	w := k.Pulled
	k.Pulled = nil
	w.Point(k, Gesture{At: k.Pointer, Ended: true, Escaped: true})
}

// tab moves the focus on, or back, among what is shown.
func (k *Kit) tab(ws []Widget, back bool) {
	at := -1
	for i, w := range ws {
		if Is(w, k.Focus) {
			at = i
		}
	}
	step := 1
	if back {
		step = -1
		if at < 0 {
			at = len(ws)
		}
	}
	for range ws {
		at = (at + step + len(ws)) % len(ws)
		if b := ws[at].Self(); b.Shown() && !b.Skip && !b.Off {
			k.SetFocus(ws[at])
			k.Ring = true
			return
		}
	}
}

// heading moves the focus from the heading of a group to the next one, or the one before, and
// says whether it was on one.
func (k *Kit) heading(ws []Widget, by int) bool {
	if _, ok := k.Focus.(*Fold); !ok {
		return false
	}
	at := slices.IndexFunc(ws, func(w Widget) bool { return Is(w, k.Focus) })
	for at += by; at >= 0 && at < len(ws); at += by {
		if f, ok := ws[at].(*Fold); ok && f.Shown() {
			k.SetFocus(f)
			return true
		}
	}
	return true
}

// SetFocus leaves what has the focus and gives it to another, or to nothing. Who uses keys
// is shown where it is.
func (k *Kit) SetFocus(w Widget) {
	if k.Focus != nil && !Is(k.Focus, w) {
		k.Focus.Leave(k)
	}
	k.Focus, k.Ring = w, k.Keyed
}

// Release lets go of everything, as before another page.
func (k *Kit) Release() {
	if k.Pulled != nil {
		k.escape()
	}
	k.SetFocus(nil)
	k.Hover, k.popup = nil, popup{}
}

// grasp begins a press on a widget, or on nothing.
func (k *Kit) grasp(w Widget, seconds float64) {
	if w == nil || w.Self().Skip {
		k.SetFocus(nil)
	} else {
		k.SetFocus(w)
	}
	near := math.Hypot(k.Pointer.X-k.from.X, k.Pointer.Y-k.from.Y) <= doubleReach*k.Unit
	double := near && seconds-k.pressed <= doubleTime && !k.grip.Double
	k.from, k.pressed = k.Pointer, seconds
	k.grip = Gesture{At: k.Pointer, Began: true, Double: double}
	if w == nil || w.Self().Off {
		return
	}
	a := w.Self().Area
	k.Pulled = w
	k.grip.Off = display.Point{X: a.X + a.W/2 - k.Pointer.X, Y: a.Y + a.H/2 - k.Pointer.Y}
}

func (k *Kit) pull(in *Input) {
	g := &k.grip
	g.At = in.Pointer
	g.Moved = g.Moved || in.Pointer != k.from
	g.Inside = k.Pulled.Self().Under(in.Pointer)
	g.Ended = in.Released || !in.Down
	w := k.Pulled
	if g.Ended {
		k.Pulled = nil
	}
	w.Point(k, *g)
	g.Began = false
}

// wheel hands turns of the wheel to what is under the pointer, the nearest first, until
// one has a use for them.
func (k *Kit) wheel(ws []Widget, notches float64) {
	if k.Hover != nil && k.Hover.Wheel(k, notches) {
		return
	}
	for _, w := range ws {
		if w.Self().Under(k.Pointer) && !Is(w, k.Hover) && w.Wheel(k, notches) {
			return
		}
	}
}

// behind is farther, pixels, than anything on a page.
const behind = 1e6

// under is the widget at a place; where several are, the one whose middle is nearest
// for its size, so that a small one before a large one wins, and last what stands
// behind them.
func under(ws []Widget, p display.Point) Widget {
	var found Widget
	nearest := math.Inf(1)
	for _, w := range ws {
		a := w.Self().Area
		if !w.Self().Under(p) {
			continue
		}
		off := math.Hypot(p.X-a.X-a.W/2, p.Y-a.Y-a.H/2) + 0.1*max(a.W, a.H)
		if w.Self().Behind {
			off += behind
		}
		if w.Self().Front {
			off -= 2 * behind
		}
		if off < nearest {
			found, nearest = w, off
		}
	}
	return found
}

// Hot says whether a widget is pulled, or can be taken where the pointer is; not while keys
// are used.
func (k *Kit) Hot(w Widget) bool {
	return !w.Self().Off && (Is(k.Pulled, w) || k.Pulled == nil && !k.Keyed && Is(k.Hover, w))
}
