package desk

import (
	"math"
	"slices"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
)

// buildNumbers makes the page of the numbers: the clinician's sentence, all numbers of
// what is seen with the words for their signs, and with findings the chart of demand,
// the walk and the criteria.
func (d *Desk) buildNumbers() []block {
	return []block{
		&clinical{},
		&table{},
		&figure{heading: d.say.Label(words.DemandTitle), paint: (*Desk).drawDemand,
			height: func(d *Desk, width float64) float64 {
				if !d.setup.Findings.OK {
					return 0
				}
				return 1.2 * width * d.kit.Text / d.kit.Unit // the key takes more of it in large type
			}},
		&line{cells: []ui.Widget{d.commandButton("copy")}},
	}
}

// clinical is what there is to tell clinicians, a paragraph each; how something is reckoned
// is in small type.
type clinical struct{ said []prose }

func (b *clinical) widgets() []ui.Widget { return nil }

func (b *clinical) lay(d *Desk, x, y, width float64) (height float64) {
	b.said = slices.Grow(b.said[:0], len(d.clinical))[:len(d.clinical)] // with their lines, where they say the same
	for i := range b.said {
		p, part := &b.said[i], &d.clinical[i]
		p.text = func(*Desk) string { return part.Text }
		p.size, p.muted = theme.Body, part.Kind == words.PartReckoned
		if p.muted {
			p.size = theme.Small
		}
		height += p.lay(d, x, y+height, width)
	}
	return height
}

func (b *clinical) draw(d *Desk, l *display.List) {
	for i := range b.said {
		b.said[i].draw(d, l)
	}
}

func (d *Desk) drawDemand(l *display.List, frame display.Rect) {
	render.Demand(l, frame, &d.view, render.DemandOptions{Theme: d.kit.Theme, Labels: d.demand, Scale: 0.92 * d.kit.Unit})
}

// table is the lines of the numbers, each with its name at the left, or over it where
// the line has no room for both.
type table struct {
	at   display.Rect
	over []bool // the name stands over the number
}

func (b *table) widgets() []ui.Widget { return nil }

func (b *table) lay(d *Desk, x, y, width float64) float64 {
	b.at = display.Rect{X: x, Y: y, W: width}
	b.over = b.over[:0]
	st := d.kit.Style(theme.Small)
	for i := range d.facts {
		f := &d.facts[i]
		over := f.value != "" && lettering.Width(st, f.label)+lettering.Width(st, f.value)+theme.Unit*d.kit.Unit > width
		b.over = append(b.over, over)
		b.at.H += b.height(d, i)
	}
	return b.at.H + math.Round(theme.Unit*d.kit.Unit)
}

func (b *table) height(d *Desk, i int) float64 {
	h := lettering.LineHeight(d.kit.Style(theme.Small))
	switch {
	case d.facts[i].value == "": // a heading
		return 1.9 * h
	case b.over[i]:
		return 2 * h
	}
	return 1.15 * h
}

func (b *table) draw(d *Desk, l *display.List) {
	if !d.inColumn(b.at) || len(b.over) != len(d.facts) {
		return
	}
	labels, values := d.kit.Muted(theme.Small), d.kit.Style(theme.Small)
	heading := d.kit.Style(theme.Body)
	heading.Face = display.Bold
	h, y := lettering.LineHeight(values), b.at.Y
	for i, f := range d.facts {
		base := y + 0.8*h
		switch {
		case f.value == "":
			lettering.Draw(l, heading, b.at.X, y+1.4*h, lettering.Start, f.label)
		case b.over[i]:
			lettering.Draw(l, labels, b.at.X, base, lettering.Start, lettering.Ellipsis(labels, f.label, b.at.W))
			lettering.Draw(l, values, b.at.X+b.at.W, base+0.95*h, lettering.End, lettering.Ellipsis(values, f.value, b.at.W))
		default:
			lettering.Draw(l, labels, b.at.X, base, lettering.Start, f.label)
			lettering.Draw(l, values, b.at.X+b.at.W, base, lettering.End, f.value)
		}
		y += b.height(d, i)
	}
}
