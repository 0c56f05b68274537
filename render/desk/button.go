package desk

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// button does something when it is pressed and let go.
type button struct {
	base
	text   string
	icon   func(l *display.List, middle display.Point, unit float64, c display.Colour) // instead of a text
	do     func()
	on     func() bool     // nil: it has no state
	hold   func(down bool) // instead of do: while it is pressed
	held   bool            // it is pressed, or the key for it is
	cannot func() bool     // nil: it always can
}

func (b *button) refresh(*kit) { b.off = b.cannot != nil && b.cannot() }

func (b *button) size(k *kit) (w, h float64) {
	side := theme.Target * k.unit
	if b.icon != nil {
		return math.Round(side), math.Round(side)
	}
	w = lettering.Width(k.style(theme.Body), b.text) + 3*theme.Unit*k.unit
	return math.Round(max(side, w)), math.Round(max(side, 1.8*theme.Body*k.text))
}

func (b *button) press(_ *kit, p Press) bool {
	if p.Key != KeyEnter || b.do == nil || b.off {
		return false
	}
	b.do()
	return true
}

func (b *button) typed(_ *kit, c rune) bool {
	if c != ' ' || b.do == nil || b.off {
		return false
	}
	b.do()
	return true
}

func (b *button) point(_ *kit, g gesture) {
	switch {
	case b.hold != nil:
		b.hold(!g.ended)
	case g.ended && g.inside && !g.escaped:
		b.do()
	}
}

func (b *button) draw(k *kit, l *display.List) {
	t := k.theme
	r := inset(b.area, 3*k.unit)
	fill, ink := t.Raised, t.Ink
	switch {
	case b.off:
		fill, ink = t.Panel, t.Muted
	case b.on != nil && b.on(), b.hold != nil && b.held:
		fill, ink = t.Accent, t.OnAccent
	case k.hot(b):
		fill = t.Hover
	}
	k.plate(l, r, fill)
	if b.icon != nil {
		b.icon(l, display.Point{X: r.X + r.W/2, Y: r.Y + r.H/2}, k.unit, ink)
	} else {
		st := k.style(theme.Body)
		st.Colour = ink
		write(l, st, r, b.text)
	}
	k.drawRing(l, b, r)
}

// options is a choice of one among a few: side by side where there is room, else
// the chosen one between two arrows.
type options struct {
	base
	texts  []string
	get    func() int // −1: none of them
	set    func(int)
	chosen int
	tabs   bool // drawn as the tabs of what stands under it
	folded bool // between arrows
	widths []float64
}

func (o *options) refresh(*kit) { o.chosen = o.get() }

// size is that of all options side by side, or of the folded ones.
func (o *options) size(k *kit) (w, h float64) {
	st := k.style(theme.Body)
	side := math.Round(theme.Target * k.unit)
	o.widths = o.widths[:0]
	most := 0.
	for _, t := range o.texts {
		x := math.Round(max(side, lettering.Width(st, t)+2.5*theme.Unit*k.unit))
		o.widths = append(o.widths, x)
		w += x
		most = max(most, x)
	}
	if o.folded {
		w = most + 2*side
	}
	return w, math.Round(max(side, 1.8*theme.Body*k.text))
}

// at is the area of an option, as drawn.
func (o *options) at(i int) display.Rect {
	r := o.area
	for _, w := range o.widths[:i] {
		r.X += w
	}
	r.W = o.widths[i]
	return r
}

func (o *options) choose(i int) {
	if i = max(0, min(i, len(o.texts)-1)); i != o.chosen {
		o.set(i)
		o.chosen = o.get()
	}
}

func (o *options) press(_ *kit, p Press) bool {
	if o.off {
		return false
	}
	switch p.Key {
	case KeyRight, KeyUp:
		o.choose(o.chosen + 1)
	case KeyLeft, KeyDown:
		o.choose(o.chosen - 1)
	case KeyHome:
		o.choose(0)
	case KeyEnd:
		o.choose(len(o.texts) - 1)
	default:
		return false
	}
	return true
}

func (o *options) point(k *kit, g gesture) {
	if !g.ended || !g.inside || g.escaped {
		return
	}
	if o.folded {
		if g.at.X < o.area.X+o.area.W/2 {
			o.choose(o.chosen - 1)
		} else {
			o.choose(o.chosen + 1)
		}
		return
	}
	for i := range o.texts {
		if inside(o.at(i), g.at) {
			o.choose(i)
		}
	}
}

func (o *options) draw(k *kit, l *display.List) {
	t, u := k.theme, k.unit
	st := k.style(theme.Body)
	r := o.area
	if !o.tabs {
		r.Y, r.H = r.Y+3*u, r.H-6*u
	}
	if o.folded {
		k.plate(l, r, t.Field)
		if !o.off {
			side := theme.Target * u
			arrow(l, display.Point{X: r.X + side/2, Y: r.Y + r.H/2}, -5*u, u, t.Ink)
			arrow(l, display.Point{X: r.X + r.W - side/2, Y: r.Y + r.H/2}, 5*u, u, t.Ink)
		}
		if o.chosen >= 0 {
			write(l, st, r, o.texts[o.chosen])
		}
		k.outline(l, r, t.Edge)
		k.drawRing(l, o, r)
		return
	}
	if !o.tabs {
		k.plate(l, r, t.Raised)
	}
	for i, text := range o.texts {
		a := o.at(i)
		a.Y, a.H = r.Y, r.H
		st.Colour = t.Ink
		switch {
		case i == o.chosen && o.tabs:
			l.RoundRect(display.Rect{X: a.X, Y: a.Y, W: a.W, H: a.H + theme.Radius*u}, theme.Radius*u)
			l.Fill(display.Paint{From: t.Panel})
			fillRect(l, display.Rect{X: a.X + theme.Unit*u, Y: a.Y + a.H - 4*u, W: a.W - 2*theme.Unit*u, H: 3 * u}, t.Accent)
		case o.off:
			st.Colour = t.Muted
		case i == o.chosen:
			k.plate(l, a, t.Accent)
			st.Colour = t.OnAccent
		case k.hot(o) && inside(a, k.pointer):
			k.plate(l, a, t.Hover)
		}
		write(l, st, a, text)
	}
	k.drawRing(l, o, r)
}

// arrow draws the head of an arrow, reach to the right of its middle, or to the
// left.
func arrow(l *display.List, at display.Point, reach, unit float64, c display.Colour) {
	l.MoveTo(at.X-reach/2, at.Y-math.Abs(reach))
	l.LineTo(at.X+reach/2, at.Y)
	l.LineTo(at.X-reach/2, at.Y+math.Abs(reach))
	l.Stroke(2*unit, display.Paint{From: c})
}

// notice is a text among the controls.
type notice struct {
	base
	text  string
	lines []string
	at    float64
}

func (n *notice) size(k *kit) (w, h float64) {
	st := k.style(theme.Small)
	w = 16 * st.Size
	if n.at != k.text {
		n.at, n.lines = k.text, lettering.Wrap(st, n.text, w)
	}
	return math.Round(w), math.Round(max(theme.Target*k.unit, 1.8*theme.Body*k.text))
}

// draw sets the lines so that they end where the controls beside them do.
func (n *notice) draw(k *kit, l *display.List) {
	st := k.style(theme.Small)
	st.Colour = k.theme.Warning
	y := n.area.Y + n.area.H - 0.5*st.Size
	for i := len(n.lines) - 1; i >= 0; i-- {
		lettering.Draw(l, st, n.area.X, y, lettering.Start, n.lines[i])
		y -= 1.2 * st.Size
	}
}
