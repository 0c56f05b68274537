package desk

import (
	"cmp"
	"math"
	"slices"
	"unicode"

	"twincord/render"
	"twincord/render/display"
)

// zoomStep is how many times as wide one step of zooming makes the field.
const zoomStep = 1.25

// order is the order of the focus: target, meeting place and its number, beads
// from the nose outward, then the buttons.
func (d *Desk) order() []part {
	order := append(d.parts[:0], part{kind: target}, part{kind: meeting}, part{kind: deviation})
	first := len(order)
	for i := range d.setup.Beads {
		order = append(order, part{bead, i})
	}
	slices.SortFunc(order[first:], func(a, b part) int {
		return cmp.Compare(d.setup.Beads[a.bead].At, d.setup.Beads[b.bead].At)
	})
	for k := compareButton; k <= fullButton; k++ {
		order = append(order, part{kind: k})
	}
	d.parts = order
	return order
}

// press takes a key.
func (d *Desk) press(p Press) {
	if d.pulled.kind != nothing {
		if p.Key == KeyEscape {
			d.restore(d.pulled, d.before)
			d.pulled = part{}
		}
		return
	}
	n := 1.0
	if p.Shift {
		n = 0.1
	}
	switch p.Key {
	case KeyTab:
		d.tab(p.Shift)
	case KeyF11:
		d.full = !d.full
	case KeyEscape:
		switch {
		case d.field.open:
			d.field = field{}
			if d.focus.kind == deviation {
				d.focus = part{kind: meeting}
			}
		case d.full:
			d.full = false
		}
	case KeyEnter:
		d.enter(d.focus)
	case KeyBackspace:
		d.field.erase()
	case KeyRight, KeyUp:
		d.move(n)
	case KeyLeft, KeyDown:
		d.move(-n)
	case KeyPageUp:
		d.move(10 * n)
	case KeyPageDown:
		d.move(-10 * n)
	case KeyHome:
		d.ring = true
		d.home(d.focus)
	}
}

// move steps what has the focus, or the target if nothing has.
func (d *Desk) move(n float64) {
	if d.focus.kind == nothing {
		d.focus.kind = target
	}
	d.ring = true
	d.step(d.focus, n)
}

// tab moves the focus on, or back.
func (d *Desk) tab(back bool) {
	order := d.order()
	at := slices.Index(order, d.focus)
	switch {
	case back && at <= 0:
		at = len(order) - 1
	case back:
		at--
	default:
		at = (at + 1) % len(order)
	}
	d.setFocus(order[at])
	d.ring = true
}

// setFocus leaves the number at the meeting place, which takes what was typed,
// and gives another part the focus.
func (d *Desk) setFocus(p part) {
	if d.focus.kind == deviation && p != d.focus {
		d.take()
	}
	d.focus = p
}

// enter does what a part is for: a button its work, the meeting place and its
// number the typing.
func (d *Desk) enter(p part) {
	switch p.kind {
	case meeting:
		d.focus = part{kind: deviation}
		d.field = field{open: true, fresh: true, text: d.deviationText}
	case deviation:
		if d.field.open {
			d.take()
		} else {
			d.field = field{open: true, fresh: true, text: d.deviationText}
		}
	case compareButton:
		d.compare = !d.compare
		d.look()
	case widerButton:
		d.zoomBy(zoomStep)
	case closerButton:
		d.zoomBy(1 / zoomStep)
	case fullButton:
		d.full = !d.full
	}
}

// zoomBy makes the field of the picture that many times as wide.
func (d *Desk) zoomBy(times float64) {
	d.zoom = max(render.LeastField, min(d.fieldOfView()*times, render.MostField))
}

// typed takes typed characters: into the number while it has the focus, else as
// the keys of the page.
func (d *Desk) typed(text []rune) {
	for _, c := range text {
		if d.focus.kind == deviation && (d.field.open || unicode.IsDigit(c) || c == '-' || c == '−') {
			d.field.insert(c)
			continue
		}
		switch unicode.ToLower(c) {
		case '+', '=':
			d.enter(part{kind: closerButton})
		case '-', '−':
			d.enter(part{kind: widerButton})
		case '0':
			d.zoom = 0
		case 'c':
			d.enter(part{kind: compareButton})
		case 'f':
			d.enter(part{kind: fullButton})
		case ' ':
			d.enter(d.focus)
		}
	}
}

// point takes the pointer: what is under it, and pulls.
func (d *Desk) point() {
	d.hover = d.under(d.in.Pointer)
	if d.in.Pressed {
		d.grasp(d.hover)
	}
	if d.pulled.kind == nothing {
		return
	}
	if d.moved = d.moved || d.in.Pointer != d.from; d.moved {
		d.drag(d.pulled, d.layout.scaleX(d.in.Pointer.X+d.grab))
	}
	if d.in.Released || !d.in.Down {
		d.pulled = part{}
	}
}

// grasp begins a press on a part.
func (d *Desk) grasp(p part) {
	d.ring = false
	d.setFocus(p)
	switch p.kind {
	case target, meeting, bead:
		d.pulled, d.before, d.from, d.moved = p, d.state(p), d.in.Pointer, false
		d.grab = d.handleX(p) - d.in.Pointer.X
	case picture:
		d.focus = part{}
	default:
		d.enter(p)
	}
}

// turnWheel zooms over the picture.
func (d *Desk) turnWheel() {
	if d.in.Wheel != 0 && d.hover.kind == picture {
		d.zoomBy(math.Pow(zoomStep, -d.in.Wheel))
	}
}

// under is the part at a place: the handle whose middle is nearest, or the
// button.
func (d *Desk) under(p display.Point) part {
	found, nearest := part{}, 0.0
	for _, h := range d.order() {
		a := d.area(h)
		if !inside(a, p) {
			continue
		}
		off := p.X - a.X - a.W/2
		if off < 0 {
			off = -off
		}
		if found.kind == nothing || off < nearest {
			found, nearest = h, off
		}
	}
	if found.kind == nothing && inside(d.area(part{kind: picture}), p) {
		found.kind = picture
	}
	return found
}

func inside(r display.Rect, p display.Point) bool {
	return p.X >= r.X && p.X < r.X+r.W && p.Y >= r.Y && p.Y < r.Y+r.H
}

// fieldOfView is the field of the picture, degrees.
func (d *Desk) fieldOfView() float64 {
	if d.zoom != 0 {
		return d.zoom
	}
	aspect := d.layout.picture.W / d.layout.picture.H
	if !d.compare {
		return float64(render.AutoField(&d.view, aspect, false))
	}
	return float64(max(render.AutoField(&d.view, aspect/2, false),
		render.AutoField(&d.plainView, aspect/2, false)))
}
