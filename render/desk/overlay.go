package desk

import (
	"math"
	"twincord/render/ui"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
)

// An overlay is a page over the page, such as a list of keys. While it is open its
// widgets alone can be reached, and Esc closes it.
type overlay interface {
	// title stands at its top.
	title(d *Desk) string
	// build makes its widgets, in the order of the focus; again when the words change.
	build(d *Desk) []ui.Widget
	// arrange gives the widgets their areas within the one that is left for them.
	arrange(d *Desk, area display.Rect)
	// draw draws what the widgets do not.
	draw(d *Desk, l *display.List, area display.Rect)
}

// running is an overlay on which something goes on by itself.
type running interface {
	tick(d *Desk) (changed bool) // in every update
	runs() bool                  // it needs the next one soon
}

// closing is an overlay that has something to do when it is closed.
type closing interface{ closed() }

// open puts an overlay over the page.
func (d *Desk) open(o overlay) {
	d.kit.Release()
	d.over = o
	d.buildOverlay()
	d.dirty = true
}

// buildOverlay makes the widgets of the overlay, and last the one that closes it.
func (d *Desk) buildOverlay() {
	close := &ui.Button{Base: ui.Base{Name: "close", Hint: d.say.Label(words.HintClose)}, Text: d.say.Label(words.Close), Do: d.closeOverlay}
	d.overs = append(d.over.build(d), close)
}

// closeOverlay goes back to the page.
func (d *Desk) closeOverlay() {
	d.kit.Release()
	if o, ok := d.over.(closing); ok {
		o.closed()
	}
	d.over, d.overs = nil, nil
	d.dirty = true
}

// arrangeOverlay lays out the overlay over the whole page.
func (d *Desk) arrangeOverlay() {
	a := &d.layout
	pad := math.Round(3 * theme.Unit * a.unit)
	page := display.Rect{W: d.in.W, H: d.in.H - a.hint.H}
	w, h := d.overs[len(d.overs)-1].Size(&d.kit)
	d.overs[len(d.overs)-1].Self().Area = display.Rect{X: page.W - pad - w, Y: math.Round(pad / 2), W: w, H: h}
	a.over = display.Rect{X: pad, Y: pad + h, W: page.W - 2*pad, H: page.H - h - 2*pad}
	for _, w := range d.overs {
		w.Refresh(&d.kit)
	}
	d.over.arrange(d, a.over)
}

func (d *Desk) drawOverlay(l *display.List) {
	a := &d.layout
	ui.Fill(l, display.Rect{W: d.in.W, H: d.in.H - a.hint.H}, d.kit.Theme.Panel)
	st := d.kit.Style(theme.Lead)
	close := d.overs[len(d.overs)-1].Self().Area
	lettering.Draw(l, st, a.over.X, close.Y+close.H/2+lettering.CapHeight(st)/2, lettering.Start,
		lettering.Ellipsis(st, d.over.title(d), close.X-2*a.over.X))
	d.over.draw(d, l, a.over)
	for _, w := range d.overs {
		if w.Self().Shown() {
			w.Draw(&d.kit, l)
		}
	}
}
