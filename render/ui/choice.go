package ui

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// Choice is one among a few: side by side where there is room, else the chosen one
// between two arrows.
type Choice struct {
	Base
	Texts  []string
	Get    func() int // −1: none of them
	Set    func(int)
	Tabs   bool // drawn as the tabs of what stands under it
	Folded bool // between arrows
	Chosen int
	widths []float64
}

// Refresh takes over which one is chosen.
func (o *Choice) Refresh(*Kit) { o.Chosen = o.Get() }

// Size is that of all side by side, or of the folded ones.
func (o *Choice) Size(k *Kit) (w, h float64) {
	st := k.Style(theme.Body)
	side := k.Side()
	o.widths = o.widths[:0]
	most := 0.
	for _, t := range o.Texts {
		x := math.Round(max(side, lettering.Width(st, t)+2.5*theme.Unit*k.Unit))
		o.widths = append(o.widths, x)
		w += x
		most = max(most, x)
	}
	if o.Folded {
		w = most + 2*side
	}
	return w, k.tall()
}

// at is the area of one, as drawn.
func (o *Choice) at(i int) display.Rect {
	r := o.Area
	for _, w := range o.widths[:i] {
		r.X += w
	}
	r.W = o.widths[i]
	return r
}

func (o *Choice) choose(i int) {
	if i = max(0, min(i, len(o.Texts)-1)); i != o.Chosen {
		o.Set(i)
		o.Chosen = o.Get()
	}
}

// Press steps through them.
func (o *Choice) Press(_ *Kit, p Press) bool {
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
	default:
		return false
	}
	return true
}

// Point chooses the one that is clicked.
func (o *Choice) Point(_ *Kit, g Gesture) {
	if !g.Clicked() {
		return
	}
	if o.Folded {
		if g.At.X < o.Area.X+o.Area.W/2 {
			o.choose(o.Chosen - 1)
		} else {
			o.choose(o.Chosen + 1)
		}
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
	st := k.Style(theme.Body)
	r := o.Area
	if !o.Tabs {
		r.Y, r.H = r.Y+3*u, r.H-6*u
	}
	if o.Folded {
		k.Plate(l, r, t.Field)
		if !o.Off {
			side := theme.Target * u
			Arrow(l, display.Point{X: r.X + side/2, Y: r.Y + r.H/2}, -5*u, u, t.Ink)
			Arrow(l, display.Point{X: r.X + r.W - side/2, Y: r.Y + r.H/2}, 5*u, u, t.Ink)
		}
		if o.Chosen >= 0 {
			Write(l, st, r, o.Texts[o.Chosen])
		}
		k.Outline(l, r, t.Edge)
		k.DrawRing(l, o, r)
		return
	}
	if !o.Tabs {
		k.Plate(l, r, t.Raised)
	}
	for i, text := range o.Texts {
		a := o.at(i)
		a.Y, a.H = r.Y, r.H
		st.Colour = t.Ink
		switch {
		case i == o.Chosen && o.Tabs:
			l.RoundRect(display.Rect{X: a.X, Y: a.Y, W: a.W, H: a.H + theme.Radius*u}, theme.Radius*u)
			l.Fill(display.Paint{From: t.Panel})
			Fill(l, display.Rect{X: a.X + theme.Unit*u, Y: a.Y + a.H - 4*u, W: a.W - 2*theme.Unit*u, H: 3 * u}, t.Accent)
		case o.Off:
			st.Colour = t.Muted
		case i == o.Chosen:
			k.Plate(l, a, t.Accent)
			st.Colour = t.OnAccent
		case k.Hot(o) && Inside(a, k.Pointer):
			k.Plate(l, a, t.Hover)
		}
		Write(l, st, a, text)
	}
	k.DrawRing(l, o, r)
}
