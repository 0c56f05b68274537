package desk

import (
	"math"
	"twincord/render/ui"

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
	distance *ui.Number
	use      *ui.Button
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

func (c *card) build(d *Desk) []ui.Widget {
	c.edge = &cardEdge{Base: ui.Base{Name: "card", Hint: d.say.Label(words.HintCard)}, d: d}
	q := &quantity{unit: words.UnitCm, per: 10, step: 10, most: 1, others: lengthNames}
	if d.say.Inches() {
		q.unit, q.per, q.step = words.UnitIn, 25.4, 12.7
	}
	c.distance = d.number(ui.Base{Name: "distance", Label: d.say.Label(words.CardDistance), Hint: d.say.Label(words.HintCardDistance)}, q)
	c.distance.Done, c.distance.Span = func() {}, [2]float64{leastDistance, mostDistance}
	c.distance.Get = func() (float64, bool) { return d.Distance, true }
	c.distance.Set = func(v float64) bool { d.Distance = v; return true }
	c.distance.Limits = func() (float64, float64) { return leastDistance, mostDistance }
	c.use = d.textButton("use", words.ButtonCard, words.HintCardUse, func() {
		c.distance.Take()
		if c.distance.Fault() == "" {
			d.closeOverlay()
			d.trueSize, d.zoom = true, 0
		}
	})
	return []ui.Widget{c.edge, c.distance, c.use}
}

func (c *card) arrange(d *Desk, area display.Rect) {
	gap := theme.Unit * d.kit.Unit
	top := area.Y + 3*lettering.LineHeight(d.kit.Style(theme.Body))
	w, h := c.distance.Size(&d.kit)
	bw, bh := c.use.Size(&d.kit)
	foot := area.Y + area.H - h
	c.distance.Area = display.Rect{X: area.X + lettering.Width(d.kit.Muted(theme.Body), c.distance.Label) + 2*gap, Y: foot, W: w, H: h}
	c.use.Area = display.Rect{X: c.distance.Area.X + w + 2*gap, Y: foot + (h-bh)/2, W: bw, H: bh}
	c.edge.at = display.Point{X: area.X + 2, Y: top + 2}
	c.edge.Area = display.Rect{X: area.X, Y: top, W: area.W, H: max(foot-top-gap, 1)}
}

func (c *card) draw(d *Desk, l *display.List, area display.Rect) {
	st := d.kit.Style(theme.Body)
	y := area.Y + lettering.Ascent(st)
	for _, line := range lettering.Wrap(st, d.say.Label(words.CardHow), area.W) {
		lettering.Draw(l, st, area.X, y, lettering.Start, line)
		y += lettering.LineHeight(st)
	}
	label := d.kit.Muted(theme.Body)
	r := c.distance.Area
	lettering.Draw(l, label, area.X, r.Y+r.H/2+lettering.CapHeight(label)/2, lettering.Start, c.distance.Label)
}

// cardEdge is the outline of a card, whose right edge is pulled.
type cardEdge struct {
	ui.Base
	d  *Desk
	at display.Point // its upper left corner
}

// set makes the card so many pixels wide.
func (c *cardEdge) set(pixels float64) {
	c.d.PixelsPerMM = max(leastPixels, min(pixels/cardWidth, mostPixels))
}

func (c *cardEdge) Point(_ *ui.Kit, g ui.Gesture) {
	if !g.Escaped && (g.Moved || g.Ended) {
		c.set(g.At.X - c.at.X)
	}
}

func (c *cardEdge) Press(_ *ui.Kit, p ui.Press) bool {
	by := 1.
	if p.Shift {
		by = 0.1
	}
	switch p.Key {
	case ui.KeyRight, ui.KeyUp:
	case ui.KeyLeft, ui.KeyDown:
		by = -by
	case ui.KeyPageUp:
		by *= 20
	case ui.KeyPageDown:
		by *= -20
	default:
		return false
	}
	c.set(c.d.PixelsPerMM*cardWidth + by)
	return true
}

func (c *cardEdge) Draw(k *ui.Kit, l *display.List) {
	per := c.d.PixelsPerMM
	r := display.Rect{X: c.at.X, Y: c.at.Y, W: cardWidth * per, H: cardHeight * per}
	l.Rect(c.Area)
	l.OpenClip()
	l.RoundRect(r, 3.18*per)
	l.Fill(display.Paint{From: k.Theme.Raised})
	l.RoundRect(r, 3.18*per)
	l.Stroke(2*k.Unit, display.Paint{From: k.Theme.Accent})
	middle := r.Y + math.Min(r.H, c.Area.H)/2
	ui.Arrow(l, display.Point{X: r.X + r.W - 16*k.Unit, Y: middle}, -7*k.Unit, k.Unit, k.Theme.Ink)
	ui.Arrow(l, display.Point{X: r.X + r.W + 12*k.Unit, Y: middle}, 7*k.Unit, k.Unit, k.Theme.Ink)
	l.End()
	k.DrawRing(l, c, c.Area)
}
