package desk

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
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

// panel is an overlay that is a small panel over the picture; the page shows behind it.
type panel interface {
	overlay
	// need is the height that it needs, its width given.
	need(d *Desk, width float64) float64
}

// running is an overlay on which something goes on by itself.
type running interface {
	tick(d *Desk) (changed bool) // in every update
	runs() bool                  // it needs the next one soon
}

// columned is an overlay with columns that scroll.
type columned interface{ columns() []*column }

// renewing is an overlay of what the scene was when it was opened: undoing, or the file
// on the disk, can change the scene under it.
type renewing interface{ renew(d *Desk) }

// closing is an overlay that has something to do when it is closed.
type closing interface{ closed(d *Desk) }

// panelWidth is how wide a panel is, units.
const panelWidth = 460

// open puts an overlay over the page.
func (d *Desk) open(o overlay) {
	if d.over == nil {
		d.back = d.focused()
	}
	d.kit.Release()
	d.over = o
	d.buildOverlay()
	d.dirty = true
}

// panelled says whether what is open is a panel.
func (d *Desk) panelled() bool {
	_, ok := d.over.(panel)
	return ok
}

// buildOverlay makes the widgets of the overlay, and last the one that closes it.
func (d *Desk) buildOverlay() {
	label, hint := words.Close, words.HintClose
	if d.panelled() {
		label, hint = words.ButtonCancel, words.HintCancel
	}
	d.overs = append(d.over.build(d), d.textButton("close", label, hint, d.closeOverlay))
}

// closeOverlay goes back to the page, and to what had the focus there.
func (d *Desk) closeOverlay() {
	d.kit.Release()
	if o, ok := d.over.(closing); ok {
		o.closed(d)
	}
	d.over, d.overs = nil, nil
	d.focusOn(d.back)
	d.dirty = true
}

// arrangeOverlay lays out the overlay over the whole page, or the panel over the
// picture.
func (d *Desk) arrangeOverlay() {
	for _, w := range d.overs {
		b := w.Self()
		b.Area, b.Within = display.Rect{}, display.Rect{}
		w.Refresh(&d.kit)
	}
	close := d.overs[len(d.overs)-1]
	w, h := close.Size(&d.kit)
	pad := math.Round(3 * theme.Unit * d.kit.Unit)
	if p, ok := d.over.(panel); ok {
		d.arrangePanel(p, close, pad, w, h)
		return
	}
	page := display.Rect{W: d.in.W, H: d.in.H - d.layout.hint.H}
	close.Self().Area = display.Rect{X: page.W - pad - w, Y: math.Round(pad / 2), W: w, H: h}
	d.layout.over = display.Rect{X: pad, Y: pad + h, W: page.W - 2*pad, H: page.H - h - 2*pad}
	d.over.arrange(d, d.layout.over)
}

// arrangePanel puts a panel into the middle of the picture, its button to cancel at the
// lower right.
func (d *Desk) arrangePanel(p panel, close ui.Widget, pad, w, h float64) {
	frame := d.layout.picture
	width := math.Round(min(panelWidth*d.kit.Unit, d.in.W-2*pad))
	head := math.Round(1.6 * theme.Lead * d.kit.Text)
	inner := width - 2*pad
	high := head + p.need(d, inner) + h + 2*pad + math.Round(pad/2)
	x := max(pad/2, min(frame.X+(frame.W-width)/2, d.in.W-width-pad/2))
	y := max(pad/2, frame.Y+(frame.H-high)/2)
	d.layout.over = display.Rect{X: math.Round(x), Y: math.Round(y), W: width, H: high}
	r := d.layout.over
	close.Self().Area = display.Rect{X: r.X + r.W - pad - w, Y: r.Y + r.H - pad - h, W: w, H: h}
	p.arrange(d, display.Rect{X: r.X + pad, Y: r.Y + pad + head, W: inner, H: high - head - 2*pad})
}

func (d *Desk) drawOverlay(l *display.List) {
	a, k := &d.layout, &d.kit
	ui.Fill(l, display.Rect{W: d.in.W, H: d.in.H - a.hint.H}, k.Theme.Panel)
	st := k.Style(theme.Lead)
	close := d.overs[len(d.overs)-1].Self().Area
	lettering.Draw(l, st, a.over.X, close.Y+close.H/2+lettering.CapHeight(st)/2, lettering.Start,
		lettering.Ellipsis(st, d.over.title(d), close.X-2*a.over.X))
	d.drawOvers(l)
}

func (d *Desk) drawPanel(l *display.List) {
	k, r := &d.kit, d.layout.over
	ui.Fill(l, d.layout.picture, display.Colour{A: 0.35})
	k.Plate(l, r, k.Theme.Panel)
	k.Outline(l, r, k.Theme.Edge)
	st := k.Style(theme.Lead)
	pad := 3 * theme.Unit * k.Unit
	lettering.Draw(l, st, r.X+pad, r.Y+pad+lettering.Ascent(st)-0.2*st.Size, lettering.Start, lettering.Ellipsis(st, d.over.title(d), r.W-2*pad))
	d.drawOvers(l)
}

func (d *Desk) drawOvers(l *display.List) {
	d.over.draw(d, l, d.layout.over)
	for _, w := range d.overs {
		if b := w.Self(); b.Shown() && b.Within == (display.Rect{}) { // a column draws its own
			w.Draw(&d.kit, l)
		}
	}
}
