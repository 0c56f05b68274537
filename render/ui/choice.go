package ui

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// Choice is one among a few: side by side where there is room, else the chosen one,
// behind which is the list of all.
type Choice struct {
	Base
	Texts  []string
	Get    func() int // −1: none of them
	Set    func(int)
	Tabs   bool   // drawn as the tabs of what stands under it
	Folded bool   // the chosen one alone
	Rest   string // what a folded one says where none is chosen
	Chosen int
	widths []float64
}

// Refresh takes over which one is chosen.
func (o *Choice) Refresh(*Kit) { o.Chosen = o.Get() }

// Size is that of all side by side, or of the longest one folded.
func (o *Choice) Size(k *Kit) (w, h float64) {
	st := k.Style(theme.Body)
	o.widths = o.widths[:0]
	most := lettering.Width(st, o.Rest)
	for _, t := range o.Texts {
		text := lettering.Width(st, t)
		x := math.Round(max(k.step(), text+1.75*theme.Unit*k.Unit))
		o.widths = append(o.widths, x)
		w += x
		most = max(most, text)
	}
	if o.Folded {
		w = math.Round(most + 4.5*theme.Unit*k.Unit)
	}
	return w, k.Tall()
}

// at is the area of one, as drawn: they share what room there is beyond their own.
func (o *Choice) at(i int) display.Rect {
	r := o.Area
	spare := (o.Area.W - o.natural()) / float64(len(o.widths))
	for _, w := range o.widths[:i] {
		r.X += w + spare
	}
	r.W = o.widths[i] + spare
	return r
}

// natural is how wide all of them are side by side.
func (o *Choice) natural() (all float64) {
	for _, w := range o.widths {
		all += w
	}
	return all
}

func (o *Choice) choose(i int) {
	if i = max(0, min(i, len(o.Texts)-1)); i != o.Chosen {
		o.take(i)
	}
}

func (o *Choice) take(i int) {
	o.Set(i)
	o.Chosen = o.Get()
}

// pop opens the list of all.
func (o *Choice) pop(k *Kit) {
	items := make([]Item, len(o.Texts))
	for i, t := range o.Texts {
		items[i] = Item{Text: t, Hint: o.Hint}
	}
	k.Pop(o, items, o.Chosen, o.take)
}

// Press steps through them, or opens the list.
func (o *Choice) Press(k *Kit, p Press) bool {
	if o.Off {
		return false
	}
	switch p.Key {
	case KeyRight, KeyUp:
		o.choose(o.Chosen + 1)
	case KeyLeft, KeyDown:
		o.choose(o.Chosen - 1)
	case KeyHome:
		o.choose(0)
	case KeyEnd:
		o.choose(len(o.Texts) - 1)
	case KeyEnter:
		if !o.Folded {
			return false
		}
		o.pop(k)
	default:
		return false
	}
	return true
}

// Typed opens the list by the space bar.
func (o *Choice) Typed(k *Kit, c rune) bool {
	if c != ' ' || !o.Folded || o.Off {
		return false
	}
	o.pop(k)
	return true
}

// Point chooses the one that is clicked, or opens the list.
func (o *Choice) Point(k *Kit, g Gesture) {
	if !g.Clicked() {
		return
	}
	if o.Folded {
		o.pop(k)
		return
	}
	for i := range o.Texts {
		if Inside(o.at(i), g.At) {
			o.choose(i)
		}
	}
}

// Draw draws them.
func (o *Choice) Draw(k *Kit, l *display.List) {
	t, u := k.Theme, k.Unit
	if o.Folded {
		o.drawFolded(k, l)
		return
	}
	r, ring := o.Area, Inset(o.Area, 4*u) // tabs go to the edge of the page
	if !o.Tabs {
		r = narrow(r, 2*u)
		ring = r
		k.Plate(l, r, t.Raised)
	}
	for i, text := range o.Texts {
		a := o.at(i)
		a.Y, a.H = r.Y, r.H
		st := k.Style(theme.Body)
		if o.Tabs { // all of them are to be seen
			st.Size *= min(1, o.Area.W/o.natural())
		}
		hot := k.Hot(o) && Inside(a, k.Pointer)
		switch {
		case o.Tabs && i == o.Chosen:
			Fill(l, display.Rect{X: a.X + theme.Unit*u, Y: a.Y + a.H - 3*u, W: a.W - 2*theme.Unit*u, H: 3 * u}, t.Accent)
		case o.Tabs:
			if st.Colour = t.Muted; hot {
				st.Colour = t.Ink
			}
		case o.Off:
			st.Colour = t.Muted
		case i == o.Chosen:
			k.Plate(l, a, t.Accent)
			st.Colour = t.OnAccent
		case hot:
			k.Plate(l, a, t.Hover)
		}
		Write(l, st, a, text)
	}
	k.DrawRing(l, o, ring)
}

func (o *Choice) drawFolded(k *Kit, l *display.List) {
	r := narrow(o.Area, 2*k.Unit)
	fill := k.Theme.Raised
	if k.Hot(o) || Is(k.popup.owner, o) {
		fill = k.Theme.Hover
	}
	k.Plate(l, r, fill)
	text := o.Rest
	if o.Chosen >= 0 && o.Chosen < len(o.Texts) {
		text = o.Texts[o.Chosen]
	}
	k.drawFolded(l, r, text)
	k.DrawRing(l, o, r)
}
