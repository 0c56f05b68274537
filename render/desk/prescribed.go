package desk

import (
	"strings"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
)

// carePanel asks who prescribed the exercise of a scene that needs care: nothing of
// it goes home without an answer.
type carePanel struct {
	who   *ui.TextField
	write *ui.Button
	name  string
	care  []string // what is at stake, in lines
	hand  Handout  // what is written then
}

// askPrescriber asks who prescribed the exercise; what goes home is written then.
func (d *Desk) askPrescriber(h Handout) {
	c := &carePanel{hand: h}
	d.open(c)
	d.kit.SetFocus(c.who)
	c.who.Begin()
}

func (c *carePanel) title(d *Desk) string { return d.say.Label(words.PrescribedTitle) }

func (c *carePanel) build(d *Desk) []ui.Widget {
	c.who = &ui.TextField{
		Base: ui.Base{Name: "prescriber", Hint: d.say.Label(words.HintPrescribed)}, Most: 80, Wide: 20,
		Get: func() string { return c.name }, Empty: d.say.Label(words.PrescribedEmpty),
	}
	c.who.Set = func(to string) bool {
		c.name = strings.TrimSpace(to)
		return true
	}
	c.who.Live = func(now string) { c.name = strings.TrimSpace(now) }
	c.who.Enter = func() { c.written(d) }
	c.write = d.textButton("write handout", words.PrescribedWrite, words.HintPrescribedWrite, func() { c.written(d) })
	c.write.Cannot = func() bool { return c.name == "" }
	return []ui.Widget{c.who, c.write}
}

// written writes it once somebody is named, and stays otherwise.
func (c *carePanel) written(d *Desk) {
	c.who.Take()
	if c.name == "" {
		c.who.Begin()
		return
	}
	d.closeOverlay()
	d.writeHandout(c.hand, c.name)
}

func (c *carePanel) need(d *Desk, width float64) float64 {
	st := d.kit.Style(theme.Body)
	c.care = lettering.Wrap(st, d.say.Label(words.CautionSuppression), width)
	return float64(len(c.care))*lettering.LineHeight(st) + d.kit.Tall() + 4*theme.Unit*d.kit.Unit
}

func (c *carePanel) arrange(d *Desk, area display.Rect) {
	w, h := c.write.Size(&d.kit)
	c.write.Area = display.Rect{X: area.X, Y: area.Y + area.H - h, W: w, H: h}
	tall := d.kit.Tall()
	c.who.Area = display.Rect{X: area.X, Y: c.write.Area.Y - tall - 2*theme.Unit*d.kit.Unit, W: area.W, H: tall}
}

func (c *carePanel) draw(d *Desk, l *display.List, area display.Rect) {
	st := d.kit.Style(theme.Body)
	top := c.who.Area.Y - 2*theme.Unit*d.kit.Unit - float64(len(c.care))*lettering.LineHeight(st)
	drawLines(l, st, c.who.Area.X, top, c.care)
}
