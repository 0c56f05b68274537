package ui

import (
	"math"
	"strings"
	"unicode"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// Item is a line of a list that opens over the page.
type Item struct {
	Text string
	Note string // at its end, such as the key that does the same
	Hint string
	Off  bool // it cannot be chosen just now
}

// popup is a list that is open over the page, and has everything that happens until it
// closes, but for commands, which close it. The zero popup is closed.
type popup struct {
	owner  Widget
	items  []Item
	chosen int
	pick   func(int)
	area   display.Rect
	row    float64
	top    float64
	opened bool // the press that opened it goes on

	sought string  // what was typed, of the item that is looked for
	typed  float64 // when its last letter was, Input.Seconds
}

// Pop opens a list of items under a widget, or over it where there is more room. pick
// gets the one that is chosen.
func (k *Kit) Pop(owner Widget, items []Item, chosen int, pick func(int)) {
	k.popup = popup{owner: owner, items: items, chosen: chosen, pick: pick, opened: k.Pulled != nil}
	k.popup.lay(k)
	k.popup.show()
}

// Popped says whether a list is open, and what can be done with what is chosen in it.
func (k *Kit) Popped() (hint string, ok bool) {
	p := &k.popup
	if p.owner == nil {
		return "", false
	}
	if p.chosen >= 0 && p.chosen < len(p.items) {
		hint = p.items[p.chosen].Hint
	}
	return hint, true
}

// lay finds the place of the list on the page.
func (p *popup) lay(k *Kit) {
	st, pad := k.Style(theme.Body), theme.Unit*k.Unit
	p.row = k.Tall()
	w := p.owner.Self().Area.W
	for _, i := range p.items {
		need := lettering.Width(st, i.Text) + 3*pad
		if i.Note != "" {
			need += lettering.Width(k.Muted(theme.Small), i.Note) + 3*pad
		}
		w = max(w, need)
	}
	a := p.owner.Self().Area
	h := float64(len(p.items)) * p.row
	below, above := k.page.H-a.Y-a.H-pad, a.Y-pad
	r := display.Rect{X: a.X, Y: a.Y + a.H, W: math.Ceil(w), H: h}
	if h > below && above > below {
		r.H = min(h, math.Floor(above/p.row)*p.row)
		r.Y = a.Y - r.H
	} else {
		r.H = min(h, max(p.row, math.Floor(below/p.row)*p.row))
	}
	r.X = max(pad, min(r.X, k.page.W-pad-r.W))
	p.area = r
}

func (p *popup) content() float64 { return float64(len(p.items)) * p.row }

func (p *popup) scroll(to float64) { p.top = max(0, min(to, p.content()-p.area.H)) }

// show scrolls to what is chosen.
func (p *popup) show() {
	if y := float64(p.chosen) * p.row; p.chosen >= 0 {
		p.scroll(max(min(p.top, y), y+p.row-p.area.H))
	}
}

// at is the item at a place, or −1.
func (p *popup) at(at display.Point) int {
	if !Inside(p.area, at) {
		return -1
	}
	return min(int((at.Y-p.area.Y+p.top)/p.row), len(p.items)-1)
}

func (p *popup) turn(k *Kit, in *Input, moved bool) (changed bool) {
	k.Pulled = nil
	if in.Wheel != 0 {
		p.scroll(p.top - in.Wheel*p.row)
		changed = true
	}
	i := p.at(in.Pointer)
	if moved && i >= 0 && i != p.chosen {
		p.chosen, changed = i, true
	}
	switch {
	case in.Pressed && i < 0:
		k.popup = popup{}
		return true
	case in.Pressed:
		p.opened = false
	}
	if in.Released {
		opened := p.opened
		p.opened = false
		if i >= 0 && !opened {
			p.choose(k, i)
		}
		return true
	}
	return changed || in.Pressed
}

// pause is how long after a letter the next one begins anew, s (common practice, no source).
const pause = 1

// seek chooses the next item with a word that begins as what is typed. The space bar alone
// takes what is chosen.
func (p *popup) seek(k *Kit, c rune, seconds float64) {
	k.Ring = true
	if seconds > p.typed+pause {
		p.sought = ""
	}
	if p.sought == "" && c == ' ' {
		p.choose(k, p.chosen)
		return
	}
	letter := string(unicode.ToLower(c))
	if p.sought != letter { // else the same one again goes on to the next item
		p.sought += letter
	}
	p.typed = seconds
	from := max(0, p.chosen)
	if p.sought == letter {
		from = p.chosen + 1
	}
	for n := range p.items {
		i := (from + n) % len(p.items)
		if text := strings.ToLower(p.items[i].Text); strings.HasPrefix(text, p.sought) || strings.Contains(text, " "+p.sought) {
			p.chosen = i
			p.show()
			return
		}
	}
}

func (p *popup) press(k *Kit, press Press) {
	step := func(by int) {
		p.chosen = max(0, min(p.chosen+by, len(p.items)-1))
		p.show()
	}
	switch press.Key {
	case KeyDown, KeyRight:
		step(1)
	case KeyUp, KeyLeft:
		step(-1)
	case KeyPageDown:
		step(int(p.area.H / p.row))
	case KeyPageUp:
		step(-int(p.area.H / p.row))
	case KeyHome:
		step(-len(p.items))
	case KeyEnd:
		step(len(p.items))
	case KeyEnter:
		p.choose(k, p.chosen)
	case KeyEscape, KeyTab:
		k.popup = popup{}
	}
	k.Ring = true
}

// choose closes the list and hands on what was chosen, if it can be.
func (p *popup) choose(k *Kit, i int) {
	if i < 0 || p.items[i].Off {
		return
	}
	pick := p.pick
	k.popup = popup{}
	pick(i)
}

// DrawPopup draws the list that is open, over everything else.
func (k *Kit) DrawPopup(l *display.List) {
	p := &k.popup
	if p.owner == nil {
		return
	}
	t, u := k.Theme, k.Unit
	pad := theme.Unit * u
	shadow := Inset(p.area, -2*u)
	shadow.Y += 3 * u
	k.Plate(l, shadow, display.Colour{A: 0.35})
	k.Plate(l, p.area, t.Raised)
	l.Rect(p.area)
	l.OpenClip()
	for i, item := range p.items {
		r := display.Rect{X: p.area.X, Y: p.area.Y - p.top + float64(i)*p.row, W: p.area.W, H: p.row}
		if r.Y+r.H <= p.area.Y || r.Y >= p.area.Y+p.area.H {
			continue
		}
		st, note := k.Style(theme.Body), k.Muted(theme.Small)
		switch {
		case item.Off:
			st.Colour = t.Muted
		case i == p.chosen:
			k.Plate(l, Inset(r, 2*u), t.Accent)
			st.Colour, note.Colour = t.OnAccent, t.OnAccent
		}
		base := r.Y + r.H/2 + lettering.CapHeight(st)/2
		lettering.Draw(l, st, r.X+1.5*pad, base, lettering.Start, item.Text)
		lettering.Draw(l, note, r.X+r.W-1.5*pad, base, lettering.End, item.Note)
	}
	l.End()
	if p.content() > p.area.H {
		k.drawBar(l, p.area, p.top, p.content())
	}
	k.Outline(l, p.area, t.Edge)
}

// Menu is a button that opens a list of things to do.
type Menu struct {
	Base
	Text  string
	Icon  Icon // instead of the text, where Sign is set or there is no text
	Sign  bool
	Items func() []Item
	Pick  func(int)
}

func (m *Menu) sign() bool { return m.Icon != nil && (m.Sign || m.Text == "") }

// AsSign draws the sign instead of the text, where there is one.
func (m *Menu) AsSign(sign bool) { m.Sign = sign }

// Size has room for the text and a sign that there is a list.
func (m *Menu) Size(k *Kit) (w, h float64) {
	if m.sign() {
		return k.Side(), k.Side()
	}
	return math.Round(lettering.Width(k.Style(theme.Body), m.Text) + 5*theme.Unit*k.Unit), k.Tall()
}

// Open opens it.
func (m *Menu) Open(k *Kit) { k.Pop(m, m.Items(), 0, m.Pick) }

// Press opens it.
func (m *Menu) Press(k *Kit, p Press) bool {
	if p.Key != KeyEnter && p.Key != KeyDown {
		return false
	}
	m.Open(k)
	return true
}

// Typed opens it by the space bar.
func (m *Menu) Typed(k *Kit, c rune) bool {
	if c == ' ' {
		m.Open(k)
	}
	return c == ' '
}

// Point opens it.
func (m *Menu) Point(k *Kit, g Gesture) {
	if g.Clicked() {
		m.Open(k)
	}
}

// Draw draws it as a button.
func (m *Menu) Draw(k *Kit, l *display.List) {
	r := Inset(m.Area, 2*k.Unit)
	fill := k.Theme.Raised
	if k.Hot(m) || Is(k.popup.owner, m) {
		fill = k.Theme.Hover
	}
	k.Plate(l, r, fill)
	if m.sign() {
		m.Icon(l, Middle(r), k.Unit, k.Theme.Ink)
	} else {
		k.drawFolded(l, r, m.Text)
	}
	k.DrawRing(l, m, r)
}

// drawFolded draws a text, and that there is a list behind it.
func (k *Kit) drawFolded(l *display.List, r display.Rect, text string) {
	st, pad := k.Style(theme.Body), theme.Unit*k.Unit
	room := r.W - 4*pad
	lettering.Draw(l, st, r.X+pad+room/2, r.Y+r.H/2+lettering.CapHeight(st)/2, lettering.Middle, lettering.Ellipsis(st, text, room))
	Chevron(l, display.Point{X: r.X + r.W - 1.7*pad, Y: r.Y + r.H/2}, 5*k.Unit, k.Unit, k.Theme.Ink)
}
