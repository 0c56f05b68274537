package ui

import (
	"slices"
	"unicode"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// line is a line of text while it is edited: a caret, and what is selected between it
// and where the selection began. The zero line is empty.
type line struct {
	text          []rune
	caret, anchor int
	past          []lineState // what it was before each change, oldest first
}

type lineState struct {
	text          string
	caret, anchor int
}

// lineOf is a text to be edited, all of it selected.
func lineOf(text string) line {
	r := []rune(text)
	return line{text: r, caret: len(r)}
}

// selected is what is selected, from ≤ to.
func (e *line) selected() (from, to int) {
	return min(e.caret, e.anchor), max(e.caret, e.anchor)
}

// insert puts characters in the place of what is selected, as many as leave no more
// than most.
func (e *line) insert(most int, c ...rune) {
	c = slices.DeleteFunc(slices.Clone(c), func(r rune) bool { return !unicode.IsPrint(r) })
	from, to := e.selected()
	e.replace(from, to, c[:min(len(c), max(0, most-len(e.text)+to-from))])
}

// replace puts characters in the place of others.
func (e *line) replace(from, to int, c []rune) {
	if len(c) == 0 && from == to {
		return
	}
	e.past = append(e.past, lineState{string(e.text), e.caret, e.anchor})
	e.text = slices.Concat(e.text[:from], c, e.text[to:])
	e.move(from+len(c), false)
}

// move brings the caret to a place, selecting on the way or not.
func (e *line) move(to int, selecting bool) {
	e.caret = max(0, min(to, len(e.text)))
	if !selecting {
		e.anchor = e.caret
	}
}

// back goes back to what it was before the last change.
func (e *line) back() {
	if n := len(e.past) - 1; n >= 0 {
		was := e.past[n]
		e.past = e.past[:n]
		e.text, e.caret, e.anchor = []rune(was.text), was.caret, was.anchor
	}
}

// step is the place one character on, or one word; combining marks stay with what they
// are on.
func (e *line) step(by int, word bool) int {
	at := e.caret
	inside := func() bool { return at+by >= 0 && at+by <= len(e.text) }
	next := func() rune { return e.text[at+min(by, 0)] }
	if word {
		for inside() && at != e.end(by) && !wordy(next()) {
			at += by
		}
		for inside() && at != e.end(by) && wordy(next()) {
			at += by
		}
		return at
	}
	at += by
	for at > 0 && at < len(e.text) && unicode.Is(unicode.Mn, e.text[at]) {
		at += by
	}
	return at
}

// end is where steps in a direction end.
func (e *line) end(by int) int {
	if by < 0 {
		return 0
	}
	return len(e.text)
}

func wordy(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r)
}

// word selects the word at a place.
func (e *line) word(at int) {
	from, to := at, at
	for from > 0 && wordy(e.text[from-1]) {
		from--
	}
	for to < len(e.text) && wordy(e.text[to]) {
		to++
	}
	e.anchor, e.caret = from, to
}

// press takes the keys of editing, and says whether it had a use for one.
func (e *line) press(k *Kit, p Press) bool {
	from, to := e.selected()
	switch p.Key {
	case KeyLeft, KeyRight:
		by := 1
		if p.Key == KeyLeft {
			by = -1
		}
		switch {
		case from < to && !p.Shift && !p.Ctrl && by < 0:
			e.move(from, false)
		case from < to && !p.Shift && !p.Ctrl:
			e.move(to, false)
		default:
			e.move(e.step(by, p.Ctrl), p.Shift)
		}
	case KeyHome:
		e.move(0, p.Shift)
	case KeyEnd:
		e.move(len(e.text), p.Shift)
	case KeyBackspace, KeyDelete:
		by := 1
		if p.Key == KeyBackspace {
			by = -1
		}
		if from == to {
			at := e.step(by, p.Ctrl)
			from, to = max(0, min(from, at)), min(len(e.text), max(to, at))
		}
		e.replace(from, to, nil)
	case KeyLetter:
		return p.Ctrl && e.command(k, p.Letter)
	default:
		return false
	}
	return true
}

// command takes a letter with Ctrl. What is pasted comes as typed text.
func (e *line) command(k *Kit, letter rune) bool {
	from, to := e.selected()
	switch letter {
	case 'a':
		e.anchor, e.caret = 0, len(e.text)
	case 'c', 'x':
		if from == to {
			return true // nothing is selected; what else the letter does is not meant
		}
		k.cut = string(e.text[from:to])
		if letter == 'x' {
			e.replace(from, to, nil)
		}
	case 'v': // its text is on its way
	case 'z':
		e.back()
	default:
		return false
	}
	return true
}

// typing is a line that is opened to be typed into, and closed when it is taken. The
// zero typing is closed.
type typing struct {
	line
	open  bool
	fault string  // why what stands there cannot be taken; empty: it can
	from  float64 // how far the line is scrolled, pixels
	left  float64 // where the text stands, pixels
}

// Open says whether the text is being typed.
func (t *typing) Open() bool { return t.open }

// Fault is why what was typed cannot be taken; empty: it can.
func (t *typing) Fault() string { return t.fault }

// begin opens it on a text, all selected.
func (t *typing) begin(text string) { *t = typing{line: lineOf(text), open: true} }

// Forget closes it and gives back what was there before.
func (t *typing) Forget() { *t = typing{} }

// fresh says whether it stands as it was opened.
func (t *typing) fresh() bool { return t.open && len(t.past) == 0 }

// point puts the caret where the pointer is, and selects as it is pulled.
func (t *typing) point(k *Kit, g Gesture) {
	if g.Escaped {
		return
	}
	at := t.place(k, g.At.X)
	switch {
	case g.Double && g.Began:
		t.word(at)
	case g.Began:
		t.move(at, false)
	case g.Moved && !g.Double:
		t.move(at, true)
	}
}

// place is the place in the text nearest to x on the page.
func (t *typing) place(k *Kit, x float64) int {
	st := k.Style(theme.Body)
	before := 0.
	for i := range t.text {
		after := lettering.Width(st, string(t.text[:i+1]))
		if x-t.left < (before+after)/2 {
			return i
		}
		before = after
	}
	return len(t.text)
}

// drawTyping draws a field with what is typed in it, or with what holds.
func (k *Kit) drawTyping(l *display.List, t *typing, r display.Rect, shown string, hot bool, anchor lettering.Anchor) {
	th, u := k.Theme, k.Unit
	st := k.Style(theme.Body)
	edge := th.Edge
	switch {
	case t.fault != "":
		edge = th.Warning
	case hot || t.open:
		edge = th.Accent
	}
	k.Plate(l, r, th.Field)
	k.Outline(l, r, edge)
	pad := theme.Unit * u
	room := r.W - 2*pad
	base := r.Y + r.H/2 + lettering.CapHeight(st)/2
	if !t.open {
		text := lettering.Ellipsis(st, shown, room)
		x := r.X + pad
		if anchor == lettering.Middle {
			x = r.X + (r.W-lettering.Width(st, text))/2
		}
		t.left = x
		lettering.Draw(l, st, x, base, lettering.Start, text)
		return
	}
	text := string(t.text)
	width := lettering.Width(st, text)
	at := func(i int) float64 { return lettering.Width(st, string(t.text[:i])) }
	t.from = max(0, min(t.from, width-room, at(t.caret)))
	t.from = max(t.from, at(t.caret)-room)
	t.left = r.X + pad - t.from
	if anchor == lettering.Middle && width < room {
		t.left = r.X + (r.W-width)/2
	}
	clipped := width > room
	if clipped {
		l.Rect(Inset(r, 2*u))
		l.OpenClip()
	}
	if from, to := t.selected(); from < to {
		Fill(l, display.Rect{X: t.left + at(from) - u, Y: r.Y + 4*u, W: at(to) - at(from) + 2*u, H: r.H - 8*u}, th.Marked)
	}
	lettering.Draw(l, st, t.left, base, lettering.Start, text)
	if t.caret == t.anchor {
		x := t.left + at(t.caret) + u
		Line(l, x, r.Y+6*u, x, r.Y+r.H-6*u, theme.Line*u, th.Accent)
	}
	if clipped {
		l.End()
	}
}

// Typing is a widget into which text is typed.
type Typing interface {
	Widget
	Open() bool
	Fault() string
	Forget()
}
