package desk

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// A widget is one thing on the page that can be pointed at or have the focus. It
// knows nothing of scenes: what it shows and changes comes as functions.
type widget interface {
	self() *base
	// size is the least that it needs, pixels.
	size(k *kit) (w, h float64)
	// refresh takes over what is so now; it comes before the layout.
	refresh(k *kit)
	draw(k *kit, l *display.List)
	// press takes a key while it has the focus, typed a character; both say whether
	// they had a use for it.
	press(k *kit, p Press) bool
	typed(k *kit, c rune) bool
	point(k *kit, g gesture)
	// leave comes when it loses the focus.
	leave(k *kit)
}

// base is what all widgets have.
type base struct {
	name  string       // which one it is, whatever is rebuilt
	label string       // what stands over it; empty: nothing
	hint  string       // what can be done with it
	area  display.Rect // where it is pressed; none: it is not shown
	skip  bool         // it is no stop of the focus: something else does the same
	off   bool         // it can do nothing just now
}

func (b *base) self() *base              { return b }
func (b *base) shown() bool              { return b.area.W > 0 && b.area.H > 0 }
func (b *base) refresh(*kit)             {}
func (b *base) press(*kit, Press) bool   { return false }
func (b *base) typed(*kit, rune) bool    { return false }
func (b *base) point(*kit, gesture)      {}
func (b *base) leave(*kit)               {}
func (b *base) size(*kit) (w, h float64) { return 0, 0 }
func (b *base) draw(*kit, *display.List) {}

// gesture is the pointer on a widget that was pressed: it began, went on and
// ended. A click between two Updates is all in one.
type gesture struct {
	at           display.Point
	began, ended bool
	moved        bool          // since it began
	inside       bool          // of the widget's area
	off          display.Point // from the middle of its area when it began
	escaped      bool          // put back: nothing of it counts
}

// kit is what the widgets of a page share.
type kit struct {
	theme *theme.Theme
	unit  float64 // pixels to a unit of layout
	text  float64 // pixels to a unit of type

	pointer              display.Point
	focus, hover, pulled widget // nil: none
	grip                 gesture
	from                 display.Point // where the pull began
	ring                 bool          // the focus was moved by keys and is to be shown
	keyed                bool          // a key was used since the pointer moved
}

// is says whether a widget is the one that has something.
func is(a, b widget) bool { return a != nil && b != nil && a.self() == b.self() }

func (k *kit) style(size float64) lettering.Style {
	return lettering.Style{Size: size * k.text, Colour: k.theme.Ink}
}

func (k *kit) muted(size float64) lettering.Style {
	st := k.style(size)
	st.Colour = k.theme.Muted
	return st
}

// turn hands the widgets what happened, in the order of the focus, and says
// whether anything on the page may look different for it. Keys that no widget has
// a use for go to rest, characters to other.
func (k *kit) turn(in *Input, ws []widget, rest func(Press), other func(rune), wheel func(float64)) (changed bool) {
	moved := in.Pointer != k.pointer
	k.keyed = (k.keyed || len(in.Keys) > 0) && !moved && !in.Pressed
	k.pointer = in.Pointer
	for _, c := range in.Text {
		changed = true
		if k.focus == nil || !k.focus.self().shown() || !k.focus.typed(k, c) {
			other(c)
		}
	}
	for _, p := range in.Keys {
		changed = true
		k.key(p, ws, rest)
	}
	was := k.hover
	k.hover = under(ws, in.Pointer)
	changed = changed || k.hover != was
	if in.Pressed {
		changed = true
		k.grasp(k.hover)
	}
	if k.pulled != nil {
		changed = changed || moved || in.Released || !in.Down
		k.pull(in)
	}
	if in.Wheel != 0 {
		changed = true
		wheel(in.Wheel)
	}
	return changed
}

func (k *kit) key(p Press, ws []widget, rest func(Press)) {
	switch {
	case k.pulled != nil:
		if p.Key == KeyEscape {
			w := k.pulled
			k.pulled = nil
			w.point(k, gesture{at: k.pointer, ended: true, escaped: true})
		}
	case p.Key == KeyTab:
		k.tab(ws, p.Shift)
	case k.focus != nil && k.focus.self().shown() && k.focus.press(k, p):
		k.ring = true
	default:
		rest(p)
	}
}

// tab moves the focus on, or back, among what is shown.
func (k *kit) tab(ws []widget, back bool) {
	at := -1
	for i, w := range ws {
		if is(w, k.focus) {
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
		if b := ws[at].self(); b.shown() && !b.skip && !b.off {
			k.setFocus(ws[at])
			k.ring = true
			return
		}
	}
}

// setFocus leaves what has the focus and gives it to another, or to nothing.
func (k *kit) setFocus(w widget) {
	if k.focus != nil && !is(k.focus, w) {
		k.focus.leave(k)
	}
	k.focus = w
}

// grasp begins a press on a widget, or on nothing.
func (k *kit) grasp(w widget) {
	k.ring = false
	if w == nil || w.self().skip {
		k.setFocus(nil)
	} else {
		k.setFocus(w)
	}
	if w == nil || w.self().off {
		return
	}
	a := w.self().area
	k.pulled, k.from = w, k.pointer
	k.grip = gesture{at: k.pointer, began: true, off: display.Point{X: a.X + a.W/2 - k.pointer.X, Y: a.Y + a.H/2 - k.pointer.Y}}
}

func (k *kit) pull(in *Input) {
	g := &k.grip
	g.at = in.Pointer
	g.moved = g.moved || in.Pointer != k.from
	g.inside = inside(k.pulled.self().area, in.Pointer)
	g.ended = in.Released || !in.Down
	w := k.pulled
	if g.ended {
		k.pulled = nil
	}
	w.point(k, *g)
	g.began = false
}

// under is the widget at a place; where several are, the one whose middle is
// nearest for its size, so that a small one before a large one wins.
func under(ws []widget, p display.Point) widget {
	var found widget
	nearest := math.Inf(1)
	for _, w := range ws {
		a := w.self().area
		if !inside(a, p) {
			continue
		}
		if off := math.Hypot(p.X-a.X-a.W/2, p.Y-a.Y-a.H/2) + 0.1*max(a.W, a.H); off < nearest {
			found, nearest = w, off
		}
	}
	return found
}

func inside(r display.Rect, p display.Point) bool {
	return p.X >= r.X && p.X < r.X+r.W && p.Y >= r.Y && p.Y < r.Y+r.H
}

func inset(r display.Rect, by float64) display.Rect {
	return display.Rect{X: r.X + by, Y: r.Y + by, W: r.W - 2*by, H: r.H - 2*by}
}

func fillRect(l *display.List, r display.Rect, c display.Colour) {
	l.Rect(r)
	l.Fill(display.Paint{From: c})
}

func line(l *display.List, x0, y0, x1, y1, width float64, c display.Colour) {
	l.MoveTo(x0, y0)
	l.LineTo(x1, y1)
	l.Stroke(width, display.Paint{From: c})
}

// plate fills a rectangle with round corners.
func (k *kit) plate(l *display.List, r display.Rect, c display.Colour) {
	l.RoundRect(r, theme.Radius*k.unit)
	l.Fill(display.Paint{From: c})
}

// outline draws round a plate.
func (k *kit) outline(l *display.List, r display.Rect, c display.Colour) {
	l.RoundRect(r, theme.Radius*k.unit)
	l.Stroke(theme.Line*k.unit, display.Paint{From: c})
}

// drawRing marks the widget that has the focus of the keys.
func (k *kit) drawRing(l *display.List, w widget, r display.Rect) {
	if !k.ring || !is(k.focus, w) {
		return
	}
	l.RoundRect(inset(r, -3*k.unit), (theme.Radius+3)*k.unit)
	l.Stroke(2*k.unit, display.Paint{From: k.theme.Accent})
}

// write puts a text in the middle of a rectangle.
func write(l *display.List, st lettering.Style, r display.Rect, s string) {
	lettering.Draw(l, st, r.X+r.W/2, r.Y+r.H/2+lettering.CapHeight(st)/2, lettering.Middle, s)
}

// hot says whether a widget is pulled, or can be taken where the pointer is.
func (k *kit) hot(w widget) bool {
	return !w.self().off && (is(k.pulled, w) || k.pulled == nil && is(k.hover, w))
}
