package render

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/sim"
)

// Marks are the words of the marks that explain a picture. An empty one is left
// out.
type Marks struct {
	Right, Left string // whose image it is, one letter each
	// Apart writes how far the two images of what is looked at lie apart.
	Apart func(sim.Angle) string
	Cross string // where the strings cross
	AsOne string // the stretch that is seen as one
	// Scale multiplies the sizes of words, lines and plates, for a screen that is looked
	// at from afar; 0: 1.
	Scale float64
}

// marks draws the marks over the picture: whose image each doubled bead is, where
// the strands cross, the stretch that fuses, and how far the looked-at bead is
// doubled.
func (p *patient) marks(m *Marks) {
	unit := max(p.frame.H/800*theme.Body, p.o.Type)
	if m.Scale > 0 {
		unit *= m.Scale
	}
	letters := [2]string{m.Right, m.Left}
	for i := range p.v.Beads {
		b := &p.v.Beads[i]
		if b.Seen == sim.SeenOne || b.Seen == sim.SeenNone {
			continue
		}
		for e := range letters {
			ball, ok := p.ball(e, i)
			if !ok || ball.Opacity < 0.3 || letters[e] == "" {
				continue
			}
			// Above the bead.
			top := display.Point{X: ball.Centre.X, Y: ball.Centre.Y - ball.RadiusX}
			plate := display.Point{X: top.X, Y: top.Y - 1.3*unit}
			p.leader(plate, top, unit, p.o.theme().Plate)
			p.plate(plate, unit, e, letters[e])
		}
	}
	p.stretch(m, unit)
	p.crossing(m, unit)
	p.apart(m, unit)
}

// plate is a letter on a small white plate in an eye's hue.
func (p *patient) plate(at display.Point, size float64, eye int, letter string) {
	t := p.o.theme()
	side := 1.5 * size
	at.X = min(max(at.X, p.frame.X+side), p.frame.X+p.frame.W-side)
	at.Y = min(max(at.Y, p.frame.Y+side), p.frame.Y+p.frame.H-side)
	box := display.Rect{X: at.X - side/2, Y: at.Y - side/2, W: side, H: side}
	p.l.RoundRect(box, side/5)
	p.l.Fill(display.Paint{From: t.Plate})
	st := lettering.Style{Face: display.Bold, Size: size, Colour: t.PlateRight}
	if eye == sim.LeftEye {
		st.Colour = t.PlateLeft
	}
	lettering.Draw(p.l, st, at.X, at.Y+lettering.CapHeight(st)/2, lettering.Middle, letter)
}

// stretch marks the part of the string that is seen as one, by a line beside it
// on either side.
func (p *patient) stretch(m *Marks, unit float64) {
	st := &p.v.Strings
	if !st.FusedFrom.OK || !st.FusedTo.OK {
		return
	}
	var at [2]display.Point
	for i, place := range [2]float64{st.FusedFrom.Value, st.FusedTo.Value} {
		images, _ := p.images(p.s.Place(place), place)
		if !images[sim.RightEye].ok || !images[sim.LeftEye].ok {
			return
		}
		mean, _ := part(images[sim.RightEye].at, images[sim.LeftEye].at, 0)
		var ok bool
		if at[i], _, ok = p.page(mean); !ok {
			return
		}
	}
	dx, dy := at[1].X-at[0].X, at[1].Y-at[0].Y
	n := math.Hypot(dx, dy)
	if n < 1 {
		return
	}
	// Off to the side, clear of the bead that may stand there.
	off := 1.2 * unit
	for i := range p.v.Beads {
		if place := p.v.Beads[i].At; place >= st.FusedFrom.Value && place <= st.FusedTo.Value {
			for e := range 2 {
				if b, ok := p.ball(e, i); ok {
					off = max(off, b.RadiusX+0.8*unit)
				}
			}
		}
	}
	ox, oy := -dy/n*off, dx/n*off
	if ox > 0 {
		ox, oy = -ox, -oy
	}
	paint := display.Paint{From: p.o.theme().Accent}
	tick := 0.35 * unit
	for _, a := range at {
		p.l.MoveTo(a.X+ox-ox/off*tick, a.Y+oy-oy/off*tick)
		p.l.LineTo(a.X+ox+ox/off*tick, a.Y+oy+oy/off*tick)
	}
	p.l.MoveTo(at[0].X+ox, at[0].Y+oy)
	p.l.LineTo(at[1].X+ox, at[1].Y+oy)
	p.l.Stroke(max(1, 0.12*unit), paint)
	p.label(m.AsOne, display.Point{X: (at[0].X+at[1].X)/2 + ox, Y: (at[0].Y+at[1].Y)/2 + oy}, -1, 0.4*unit, unit)
}

// crossing marks where the strands cross by a ring, and names it.
func (p *patient) crossing(m *Marks, unit float64) {
	c := &p.v.Crossing
	if !c.Seen || !c.Picture.OK || m.Cross == "" {
		return
	}
	at, _, ok := p.page(c.Picture.Value)
	if !ok {
		return
	}
	p.l.Circle(at, 0.9*unit)
	p.l.Stroke(max(1.5, 0.16*unit), display.Paint{From: p.o.theme().Accent})
	p.label(m.Cross, at, +1, 0.9*unit, unit)
}

// label writes what a place is, to the left of it (side −1) or to the right (+1), where it
// covers neither bead nor plate, with a line to it from off the place on.
func (p *patient) label(text string, at display.Point, side, off, unit float64) {
	if text == "" {
		return
	}
	st := lettering.Style{Size: unit, Colour: p.o.theme().Accent}
	box := display.Rect{X: at.X + side*2.2*unit, Y: at.Y - unit, W: lettering.Width(st, text), H: 2 * unit}
	if side < 0 {
		box.X -= box.W
	}
	start := box
	fits := func() bool {
		return box.X >= p.frame.X+unit && box.X+box.W <= p.frame.X+p.frame.W-unit
	}
	// On the height of its place, or a little higher or lower, whichever is nearest.
	best := math.Inf(1)
	to := start
	for _, shift := range [...]float64{0, -2, 2, -4, 4, -6, 6} {
		box = start
		box.Y += shift * unit
		for p.taken(box, unit) && fits() {
			box.X += side * unit / 2
		}
		if away := math.Abs(box.X-start.X) + math.Abs(shift)*unit; fits() && away < best {
			best, to = away, box
		}
	}
	end := display.Point{X: to.X - 0.4*unit, Y: to.Y + unit}
	if side < 0 {
		end.X = to.X + to.W + 0.4*unit
	}
	if d := math.Hypot(end.X-at.X, end.Y-at.Y); d > off {
		p.leader(display.Point{X: at.X + (end.X-at.X)*off/d, Y: at.Y + (end.Y-at.Y)*off/d}, end, unit, st.Colour)
	}
	lettering.Draw(p.l, st, to.X, to.Y+unit+lettering.CapHeight(st)/2, lettering.Start, text)
}

// leader draws a thin line from a mark to what it is of.
func (p *patient) leader(a, b display.Point, unit float64, c display.Colour) {
	p.l.MoveTo(a.X, a.Y)
	p.l.LineTo(b.X, b.Y)
	p.l.Stroke(max(1, 0.08*unit), display.Paint{From: c.Faded(0.8)})
}

// taken says whether a label would stand on a bead, on the plate over it, or on the glass.
func (p *patient) taken(label display.Rect, unit float64) bool {
	if g := &p.shown; g.radius > 0 {
		near := display.Point{
			X: min(max(g.at.X, label.X), label.X+label.W), Y: min(max(g.at.Y, label.Y), label.Y+label.H),
		}
		if math.Hypot(near.X-g.at.X, near.Y-g.at.Y) < g.radius {
			return true
		}
	}
	for i := range p.v.Beads {
		for e := range 2 {
			b, ok := p.ball(e, i)
			if !ok {
				continue
			}
			r := b.RadiusX + b.Soft
			top := b.Centre.Y - r - 2*unit
			if label.X < b.Centre.X+r+unit/2 && label.X+label.W > b.Centre.X-r-unit/2 &&
				label.Y < b.Centre.Y+r && label.Y+label.H > top {
				return true
			}
		}
	}
	return false
}

// apart draws a measure between the two images of the bead that is looked at.
func (p *patient) apart(m *Marks, unit float64) {
	bead := p.s.FixatedBead()
	if bead == sim.NoBead || p.v.Beads[bead].Seen != sim.SeenTwo || m.Apart == nil {
		return
	}
	r, okR := p.ball(sim.RightEye, bead)
	l, okL := p.ball(sim.LeftEye, bead)
	if !okR || !okL {
		return
	}
	a, b := l.Centre, r.Centre
	if a.X > b.X {
		a, b = b, a
	}
	// Below the two, or above their plates where the strands cross below.
	y, text := max(a.Y, b.Y)+r.RadiusX+1.2*unit, 1.5*unit
	if c := p.v.Crossing.Picture; c.OK {
		if at, _, ok := p.page(c.Value); ok && math.Abs(at.Y-y) < 4*unit && at.X > a.X-unit && at.X < b.X+unit {
			y, text = min(a.Y, b.Y)-r.RadiusX-3.2*unit, -0.6*unit
		}
	}
	tick := 0.35 * unit
	for _, x := range [2]float64{a.X, b.X} {
		p.l.MoveTo(x, y-tick)
		p.l.LineTo(x, y+tick)
	}
	p.l.MoveTo(a.X, y)
	p.l.LineTo(b.X, y)
	p.l.Stroke(max(1, 0.12*unit), display.Paint{From: p.o.theme().Ink})
	st := lettering.Style{Size: unit, Colour: p.o.theme().Ink}
	lettering.Draw(p.l, st, (a.X+b.X)/2, y+text, lettering.Middle, m.Apart(p.v.Beads[bead].Disparity.Value.Separation))
}
