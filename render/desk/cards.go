package desk

import (
	"math"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/sim"
)

// cardBlock is a card among the blocks of the page.
type cardBlock struct{ place *placed }

func (b *cardBlock) widgets() []ui.Widget { return []ui.Widget{b.place} }

func (b *cardBlock) lay(d *Desk, x, y, width float64) float64 {
	return b.place.lay(x, y, width)
}

func (b *cardBlock) draw(d *Desk, l *display.List) {
	if b.place.Shown() && d.inColumn(b.place.Area) {
		b.place.Draw(&d.kit, l)
	}
}

// placed is where a card stands: pressed, it opens its set-up.
type placed struct {
	ui.Base
	d *Desk
	n int // which card it is

	lines   []string
	seen    snapshot
	picture display.Rect
	bar     display.Rect
}

// card is the one that stands here, or nil.
func (p *placed) card() *candidate {
	if p.n < len(p.d.inquiry.cards) {
		return p.d.inquiry.cards[p.n]
	}
	return nil
}

// The parts of a card.
const (
	cardPicture = 96 // units, its width
	cardAspect  = 1.5
	cardBar     = 26 // the height of the bar
)

func (p *placed) lay(x, y, width float64) float64 {
	p.Area = display.Rect{}
	c := p.card()
	if c == nil {
		return 0
	}
	k := &p.d.kit
	u, pad := k.Unit, math.Round(theme.Unit*k.Unit)
	w := math.Round(min(cardPicture*u, 0.3*width))
	p.picture = display.Rect{X: x + pad, Y: y + pad, W: w, H: math.Round(w / cardAspect)}
	st := k.Style(theme.Body)
	p.lines = lettering.Wrap(st, c.text, width-w-3*pad)
	text := float64(len(p.lines)) * lettering.LineHeight(st)
	if last := p.lines[len(p.lines)-1]; lettering.Width(st, last)+p.openWidth() > width-w-3*pad {
		p.lines = append(p.lines, "")
		text += lettering.LineHeight(st)
	}
	h := max(p.picture.H, text) + 2*pad
	p.bar = display.Rect{}
	if c.barred() {
		p.bar = display.Rect{X: x + pad, Y: y + h - 0.5*pad, W: width - 2*pad, H: cardBar * u}
		h += cardBar * u
	}
	p.Area = display.Rect{X: x, Y: y, W: width, H: math.Round(max(h, theme.Target*u))}
	return p.Area.H + math.Round(0.5*pad)
}

// openWidth is how wide it is to say what a press does.
func (p *placed) openWidth() float64 {
	k := &p.d.kit
	return lettering.Width(k.Style(theme.Small), p.d.say.Label(words.AnswersOpen)) + 24*k.Unit
}

func (p *placed) open() { p.d.becomes(&p.card().match.Example) }

// Press opens it.
func (p *placed) Press(_ *ui.Kit, press ui.Press) bool {
	if press.Key != ui.KeyEnter {
		return false
	}
	p.open()
	return true
}

// Typed opens it by the space bar.
func (p *placed) Typed(_ *ui.Kit, c rune) bool {
	if c == ' ' {
		p.open()
	}
	return c == ' '
}

// Point opens it.
func (p *placed) Point(_ *ui.Kit, g ui.Gesture) {
	if g.Clicked() {
		p.open()
	}
}

// Draw draws picture, sentence, ranges and what a press does.
func (p *placed) Draw(k *ui.Kit, l *display.List) {
	c, t, u := p.card(), k.Theme, k.Unit
	fill := t.Raised
	if k.Hot(p) {
		fill = t.Hover
	}
	k.Plate(l, p.Area, fill)
	p.seen.draw(l, c.seen, p.picture, 0)
	st := k.Style(theme.Body)
	x := p.picture.X + p.picture.W + theme.Unit*u
	y := p.picture.Y + lettering.Ascent(st) - 2*u
	for _, s := range p.lines {
		lettering.Draw(l, st, x, y, lettering.Start, s)
		y += lettering.LineHeight(st)
	}
	small := k.Style(theme.Small)
	small.Colour = t.Accent
	y -= lettering.LineHeight(st)
	end := p.Area.X + p.Area.W - theme.Unit*u
	w := lettering.Draw(l, small, end, y, lettering.End, p.d.say.Label(words.AnswersOpen))
	ui.Arrow(l, display.Point{X: end - w - 8*u, Y: y - lettering.CapHeight(small)/2}, 4*u, u, t.Accent)
	if p.bar.H > 0 {
		p.drawRanges(k, l)
	}
	k.DrawRing(l, p, ui.Inset(p.Area, 3*u))
}

// The keys of the numbers that have a place on the string.
const (
	deviationKey = "posture.deviation_prism"
	placeKey     = "look.at_mm"
)

// barred says whether a card's ranges have places on the string.
func (c *candidate) barred() bool {
	for _, r := range c.match.Ranges {
		if r.Key == deviationKey || r.Key == placeKey {
			return true
		}
	}
	return false
}

// drawRanges draws the ranges on the string: of places where they are, of deviations
// where the eyes would meet.
func (p *placed) drawRanges(k *ui.Kit, l *display.List) {
	q, t, u, r := &p.d.inquiry, k.Theme, k.Unit, p.bar
	s := &q.scene
	near := distanceX(render.FromEyes(s, 0))
	y := r.Y + r.H/2
	x := func(scale float64) float64 {
		return r.X + 4*u + (max(near, min(scale, barEnd))-near)/(barEnd-near)*(r.W-8*u)
	}
	wall := x(distanceX(render.FromEyes(s, s.String.Length)))
	ui.Line(l, r.X+4*u, y, wall, y, 1.5*u, t.Edge)
	l.MoveTo(wall, y)
	l.LineTo(r.X+r.W-4*u, y)
	l.StrokeDashed(1.5*u, 4*u, display.Paint{From: t.Edge})
	ui.Line(l, wall, y-6*u, wall, y+6*u, 2*u, t.Edge)
	for _, at := range p.card().match.Ranges {
		var a, b float64
		switch at.Key {
		case placeKey:
			a, b = x(distanceX(render.FromEyes(s, at.From))), x(distanceX(render.FromEyes(s, at.To)))
		case deviationKey:
			a, b = x(q.meetX(at.To)), x(q.meetX(at.From))
		default:
			continue
		}
		w := max(b-a, 4*u)
		l.RoundRect(display.Rect{X: (a+b)/2 - w/2, Y: y - 4*u, W: w, H: 8 * u}, 4*u)
		l.Fill(display.Paint{From: t.Accent})
	}
	drawBeads(l, s, u, func(at float64) display.Point { return display.Point{X: x(distanceX(render.FromEyes(s, at))), Y: y} })
}

// meetX is where on the bar's scale the eyes would meet with a deviation.
func (q *inquiry) meetX(prism float64) float64 {
	return vergenceX(q.aimed+sim.Prism(prism).Angle(), q.scene.Patient.PD, barEnd)
}
