package desk

import (
	"math"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
)

// The side lengths of a card, mm (row G1).
const (
	cardWidth  = 85.60
	cardHeight = 53.98
)

// The screens and distances that true size is for.
const (
	leastPixels, mostPixels     = 1, 30      // per mm
	leastDistance, mostDistance = 200, 10000 // mm
)

// truth turns true size on and off; a screen of which nothing is known is measured
// first.
func (d *Desk) truth() {
	if !d.trueSize && (d.PixelsPerMM == 0 || d.Distance == 0) {
		d.openCard()
		return
	}
	d.trueSize = !d.trueSize
	d.zoom = 0
}

// trueField is the field with which an angle of the picture is that of the model, at
// the distance from which it is looked at, degrees.
func (d *Desk) trueField() float64 {
	return float64(render.FieldOf(d.layout.picture.H / (d.Distance * d.PixelsPerMM)))
}

// tooSmall says whether the picture has no room for all at true size.
func (d *Desk) tooSmall() bool {
	field := d.trueField()
	return field < render.LeastField || field > render.MostField || field < d.wholeField()
}

// card is the overlay in which a screen is measured with a card.
type card struct {
	edge     *cardEdge
	distance *number
	use      *button
}

func (d *Desk) openCard() {
	if d.PixelsPerMM == 0 {
		d.PixelsPerMM = 96 / 25.4 * max(d.in.Scale, 1) // row G2; the card says better
	}
	if d.Distance == 0 {
		d.Distance = 600
	}
	d.open(&card{})
}

func (c *card) title(d *Desk) string { return d.say.Label(words.CardTitle) }

func (c *card) build(d *Desk) []widget {
	c.edge = &cardEdge{base: base{name: "card", hint: d.say.Label(words.HintCard)}, d: d}
	q := &quantity{unit: words.UnitCm, per: 10, step: 10, most: 1, others: lengthNames}
	if d.say.Inches() {
		q.unit, q.per, q.step = words.UnitIn, 25.4, 12.7
	}
	c.distance = &number{
		base: base{name: "distance", label: d.say.Label(words.CardDistance), hint: d.say.Label(words.HintCardDistance)},
		say:  d.say, quantity: q, done: func() {}, span: [2]float64{leastDistance, mostDistance},
		get:    func() (float64, bool) { return d.Distance, true },
		set:    func(v float64) bool { d.Distance = v; return true },
		limits: func() (float64, float64) { return leastDistance, mostDistance },
	}
	c.use = d.textButton("use", words.ButtonCard, words.HintCardUse, func() {
		c.distance.take()
		if c.distance.fault == "" {
			d.closeOverlay()
			d.trueSize, d.zoom = true, 0
		}
	})
	return []widget{c.edge, c.distance, c.use}
}

func (c *card) arrange(d *Desk, area display.Rect) {
	gap := theme.Unit * d.unit
	top := area.Y + 3*lettering.LineHeight(d.style(theme.Body))
	w, h := c.distance.size(&d.kit)
	bw, bh := c.use.size(&d.kit)
	foot := area.Y + area.H - h
	c.distance.area = display.Rect{X: area.X + lettering.Width(d.muted(theme.Body), c.distance.label) + 2*gap, Y: foot, W: w, H: h}
	c.use.area = display.Rect{X: c.distance.area.X + w + 2*gap, Y: foot + (h-bh)/2, W: bw, H: bh}
	c.edge.at = display.Point{X: area.X + 2, Y: top + 2}
	c.edge.area = display.Rect{X: area.X, Y: top, W: area.W, H: max(foot-top-gap, 1)}
}

func (c *card) draw(d *Desk, l *display.List, area display.Rect) {
	st := d.style(theme.Body)
	y := area.Y + lettering.Ascent(st)
	for _, line := range lettering.Wrap(st, d.say.Label(words.CardHow), area.W) {
		lettering.Draw(l, st, area.X, y, lettering.Start, line)
		y += lettering.LineHeight(st)
	}
	label := d.muted(theme.Body)
	r := c.distance.area
	lettering.Draw(l, label, area.X, r.Y+r.H/2+lettering.CapHeight(label)/2, lettering.Start, c.distance.label)
}

// cardEdge is the outline of a card, whose right edge is pulled.
type cardEdge struct {
	base
	d  *Desk
	at display.Point // its upper left corner
}

// set makes the card so many pixels wide.
func (c *cardEdge) set(pixels float64) {
	c.d.PixelsPerMM = max(leastPixels, min(pixels/cardWidth, mostPixels))
}

func (c *cardEdge) point(_ *kit, g gesture) {
	if !g.escaped && (g.moved || g.ended) {
		c.set(g.at.X - c.at.X)
	}
}

func (c *cardEdge) press(_ *kit, p Press) bool {
	by := 1.
	if p.Shift {
		by = 0.1
	}
	switch p.Key {
	case KeyRight, KeyUp:
	case KeyLeft, KeyDown:
		by = -by
	case KeyPageUp:
		by *= 20
	case KeyPageDown:
		by *= -20
	default:
		return false
	}
	c.set(c.d.PixelsPerMM*cardWidth + by)
	return true
}

func (c *cardEdge) draw(k *kit, l *display.List) {
	per := c.d.PixelsPerMM
	r := display.Rect{X: c.at.X, Y: c.at.Y, W: cardWidth * per, H: cardHeight * per}
	l.Rect(c.area)
	l.OpenClip()
	l.RoundRect(r, 3.18*per)
	l.Fill(display.Paint{From: k.theme.Raised})
	l.RoundRect(r, 3.18*per)
	l.Stroke(2*k.unit, display.Paint{From: k.theme.Accent})
	middle := r.Y + math.Min(r.H, c.area.H)/2
	arrow(l, display.Point{X: r.X + r.W - 16*k.unit, Y: middle}, -7*k.unit, k.unit, k.theme.Ink)
	arrow(l, display.Point{X: r.X + r.W + 12*k.unit, Y: middle}, 7*k.unit, k.unit, k.theme.Ink)
	l.End()
	k.drawRing(l, c, c.area)
}
