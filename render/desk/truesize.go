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

// mostTrueField is the largest field that a picture has on a plane, degrees.
const mostTrueField = 89

// screen is what is known of the screen that the window is on.
func (d *Desk) screen() *Screen {
	for i := range d.Screens {
		if s := &d.Screens[i]; s.Name == d.in.Screen && s.PixelsPerMM > 0 {
			return s
		}
	}
	return nil
}

// measured makes room for what is known of this screen, first among all.
func (d *Desk) measured() *Screen {
	if s := d.screen(); s != nil {
		return s
	}
	copy(d.Screens[1:], d.Screens[:knownScreens-1])
	d.Screens[0] = Screen{
		Name: d.in.Screen, PixelsPerMM: 96 / 25.4 * max(d.in.Scale, 1), // row G2; the card says better
		Distance: 600,
	}
	return &d.Screens[0]
}

// truth turns true size on and off; a screen of which nothing is known is measured
// first.
func (d *Desk) truth() {
	if !d.trueSize && d.screen() == nil {
		d.openCard()
		return
	}
	d.trueSize = !d.trueSize
	d.zoom = 0
}

// trueHeight is the height of the picture in the tangent plane, whose unit is the
// distance from which it is looked at.
func (d *Desk) trueHeight() float64 {
	s := d.screen()
	if s == nil {
		return render.HeightOf(sim.Degrees(d.wholeField()))
	}
	return d.layout.picture.H / (s.Distance * s.PixelsPerMM)
}

// trueField is the field with which an angle of the picture is that of the model, at
// the distance from which it is looked at, degrees.
func (d *Desk) trueField() float64 { return float64(render.FieldOf(d.trueHeight())) }

// trueOff is by how much everything is too large, percent, where a plane has not the
// field that would be true.
func (d *Desk) trueOff() float64 {
	if d.trueField() <= mostTrueField {
		return 0
	}
	return math.Round(100 * (d.trueHeight()/render.HeightOf(mostTrueField) - 1))
}

// tooSmall says whether the picture has no room for all at true size.
func (d *Desk) tooSmall() bool { return d.trueField() < d.wholeField() }

// card is the overlay in which a screen is measured with a card.
type card struct {
	edge     *cardEdge
	distance *ui.Number
	use      *ui.Button
}

func (d *Desk) openCard() {
	d.measured()
	c := &card{}
	d.open(c)
	d.kit.SetFocus(c.edge) // the arrow keys pull it at once
}

func (c *card) title(d *Desk) string { return d.say.Label(words.CardTitle) }

func (c *card) build(d *Desk) []ui.Widget {
	c.edge = &cardEdge{Base: ui.Base{Name: "card", Hint: d.say.Label(words.HintCard)}, d: d}
	c.distance = d.number(ui.Base{Name: "distance", Label: d.say.Label(words.CardDistance), Hint: d.say.Label(words.HintCardDistance)}, d.lengths())
	c.distance.Done, c.distance.Span = func() {}, [2]float64{leastDistance, mostDistance}
	c.distance.Get = func() (float64, bool) { return d.measured().Distance, true }
	c.distance.Set = func(v float64) bool { d.measured().Distance = v; return true }
	c.distance.Limits = func() (float64, float64) { return leastDistance, mostDistance }
	use := func() {
		c.distance.Take()
		if c.distance.Fault() == "" {
			d.closeOverlay()
			d.trueSize, d.zoom = true, 0
		}
	}
	c.use = d.textButton("use", words.ButtonCard, words.HintCardUse, use)
	c.edge.enter, c.distance.Entered = use, use
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
	d     *Desk
	at    display.Point // its upper left corner
	enter func()        // takes it as it is
}

// set makes the card so many pixels wide.
func (c *cardEdge) set(pixels float64) {
	c.d.measured().PixelsPerMM = max(leastPixels, min(pixels/cardWidth, mostPixels))
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
	case ui.KeyEnter:
		c.enter()
		return true
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
	c.set(c.d.measured().PixelsPerMM*cardWidth + by)
	return true
}

func (c *cardEdge) Draw(k *ui.Kit, l *display.List) {
	per := c.d.measured().PixelsPerMM
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
