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

// Marks are tried in smaller and smaller type until each has its place.
const (
	smallerMarks = 0.85
	leastMarks   = 7. // pixels
)

// leastMarked is how opaque an image is that gets a plate.
const leastMarked = 0.3

// marks draws the marks over the picture: whose image each doubled bead is, where
// the strands cross, the stretch that fuses, and how far the looked-at bead is
// doubled. Where they have no room they are smaller.
func (p *patient) marks(m *Marks) {
	unit := max(p.frame.H/800*theme.Body, p.o.Type)
	if m.Scale > 0 {
		unit *= m.Scale
	}
	var a annotation
	for {
		a = annotation{p: p, m: m}
		if a.lay(unit) || unit < leastMarks {
			break
		}
		unit *= smallerMarks
	}
	a.draw()
}

// maxMarks are a plate for each image of a bead, two names and a measure.
const maxMarks = 2*sim.MaxBeads + 3

// annotation is the marks over one picture, as they are laid out.
type annotation struct {
	p     *patient
	m     *Marks
	board board

	marks     [maxMarks]mark
	markCount int
	ring      spot    // round the crossing; radius 0: none
	stretch   segment // beside what fuses
	hasOne    bool
	measure   measure
}

// measure is a line as long as two images lie apart, beside them, with what it measures.
type measure struct {
	line segment
	from segment // of the images' outlines
	text string
	box  display.Rect // of the text
}

// lay gives every mark its place, in type of a size; false where one has none, and is
// left out.
func (a *annotation) lay(unit float64) (all bool) {
	p, b := a.p, &a.board
	b.frame, b.unit = p.frame, unit
	p.obstacles(b)
	a.layRing()
	a.layStretch()
	all = true
	looked := p.s.FixatedBead()
	if looked != sim.NoBead {
		all = a.layMeasure(looked)
		all = a.layPlates(looked) && all
	}
	for _, i := range p.beads[:len(p.s.Beads)] {
		if i != looked {
			all = a.layPlates(i) && all
		}
	}
	if a.ring.radius > 0 {
		all = a.layName(a.m.Cross, a.ring, 0) && all
	}
	if a.hasOne {
		s := &a.stretch
		middle := spot{at: display.Point{X: (s[0].X + s[1].X) / 2, Y: (s[0].Y + s[1].Y) / 2}}
		all = a.layName(a.m.AsOne, middle, math.Pi) && all
	}
	return all
}

// obstacles tells a board what marks keep clear of.
func (p *patient) obstacles(b *board) {
	for _, r := range p.o.Taken {
		b.box(r)
	}
	if g := &p.shown; g.radius > 0 {
		b.box(display.Around(g.at, g.radius))
		b.line(segment{g.of, g.at})
	}
	for e := range sim.Eyes {
		for i := range p.s.Beads {
			if ball, ok := p.ball(e, i); ok {
				b.disc(spot{ball.Centre, ball.Radius() + ball.Soft/2})
			}
		}
		b.disc(p.hookSpot(e))
		var last display.Point
		seen := false
		for _, at := range p.places[:p.count] {
			x := p.cord(at).image[e]
			point, _, ok := p.page(x.at)
			ok = ok && x.ok
			if ok && seen {
				b.cord(segment{last, point})
			}
			last, seen = point, ok
		}
	}
}

// layPlates gives each image of a bead that both eyes do not see as one its plate.
func (a *annotation) layPlates(bead int) (all bool) {
	p := a.p
	all = true
	if s := p.v.Beads[bead].Seen; s == sim.SeenOne || s == sim.SeenNone {
		return true
	}
	letters := [...]string{sim.RightEye: a.m.Right, sim.LeftEye: a.m.Left}
	for e := range sim.Eyes {
		letter := letters[e]
		ball, ok := p.ball(e, bead)
		if !ok || ball.Opacity < leastMarked || letter == "" || !p.shows(e, bead, &ball) {
			continue
		}
		// Above the bead, below the lower of two that stand one over the other, and rather
		// away from the other image than towards it.
		towards, lean := -math.Pi/2, 1.
		if o, ok := p.ball(e.Other(), bead); ok {
			dx, dy := ball.Centre.X-o.Centre.X, ball.Centre.Y-o.Centre.Y
			if dy > math.Abs(dx) {
				towards = math.Pi / 2
			}
			if dx*-math.Sin(towards) < 0 {
				lean = -1
			}
		}
		m := mark{text: letter, eye: e}
		side := 1.5 * a.board.unit
		all = a.add(&m, spot{ball.Centre, ball.Radius()}, side, side, towards, lean) && all
	}
	return all
}

// shows says whether enough of an eye's image of a bead is in the frame, and not behind a
// nearer bead, for a mark to be of it.
func (p *patient) shows(eye sim.Eye, bead int, ball *display.Ball) bool {
	if !inside(p.frame, ball.Centre, 0) {
		return false
	}
	for i := range p.s.Beads {
		if p.s.Beads[i].At >= p.s.Beads[bead].At {
			continue
		}
		o, ok := p.ball(eye, i)
		if ok && math.Hypot(o.Centre.X-ball.Centre.X, o.Centre.Y-ball.Centre.Y)+0.8*ball.Radius() < o.Radius() {
			return false
		}
	}
	return true
}

func (a *annotation) add(m *mark, of spot, w, h, towards, lean float64) bool {
	if !a.board.put(m, of, w, h, towards, lean) {
		return false
	}
	a.marks[a.markCount] = *m
	a.markCount++
	return true
}

// layName gives what something is called its place, in a direction of the page.
func (a *annotation) layName(text string, of spot, towards float64) bool {
	if text == "" {
		return true
	}
	m := mark{text: text, eye: noEye}
	st := lettering.Style{Size: a.board.unit}
	of.radius += 0.1 * a.board.unit
	return a.add(&m, of, lettering.Width(st, text)+0.5*st.Size, 1.3*st.Size, towards, -math.Cos(towards))
}

// layRing puts a ring round the crossing.
func (a *annotation) layRing() {
	c := &a.p.v.Crossing
	if !a.p.v.CrossingShows() || !c.Picture.OK || onOneLine(a.p.v) || a.m.Cross == "" {
		return
	}
	at, _, ok := a.p.page(c.Picture.Value)
	r := 0.9 * a.board.unit
	if !ok || !inside(a.p.frame, at, 1.1*r) {
		return
	}
	a.ring = spot{at, r}
	a.board.box(display.Around(at, r))
}

// layStretch puts a line beside the part of the string that is seen as one, clear of the
// bead that may stand there; where that is not the one looked at, and hides it, there is none.
func (a *annotation) layStretch() {
	p, st, unit := a.p, &a.p.v.Strings, a.board.unit
	if !st.FusedFrom.OK || !st.FusedTo.OK || a.m.AsOne == "" {
		return
	}
	if hider := p.v.Account.HiddenBy; hider != "" && hider != p.v.Account.LookedAt {
		return
	}
	var at segment
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
	off := 1.3 * unit
	for i := range p.v.Beads {
		if place := p.v.Beads[i].At; place >= st.FusedFrom.Value && place <= st.FusedTo.Value {
			for e := range sim.Eyes {
				if b, ok := p.ball(e, i); ok {
					off = max(off, b.RadiusX+0.8*unit)
				}
			}
		}
	}
	if dy > 0 {
		off = -off
	}
	x, y := dy/n*off, -dx/n*off
	for i := range at {
		at[i].X += x
		at[i].Y += y
	}
	if !inside(p.frame, at[0], 0) || !inside(p.frame, at[1], 0) {
		return
	}
	a.stretch, a.hasOne = at, true
	a.board.line(at)
}

// layMeasure gives the measure between the two images of the bead that is looked at, where
// they are more than a pixel apart, its place beside them: below, above, or to a side where one image is over the other.
func (a *annotation) layMeasure(bead int) bool {
	p, b := a.p, &a.board
	if p.v.Beads[bead].Seen != sim.SeenTwo || a.m.Apart == nil {
		return true
	}
	r, okR := p.ball(sim.RightEye, bead)
	l, okL := p.ball(sim.LeftEye, bead)
	dx, dy := r.Centre.X-l.Centre.X, r.Centre.Y-l.Centre.Y
	n := math.Hypot(dx, dy)
	if !okR || !okL || n < 1 || !inside(p.frame, r.Centre, 0) || !inside(p.frame, l.Centre, 0) {
		return true
	}
	// Across the line from image to image, down the page, or to the right.
	across := display.Point{X: -dy / n, Y: dx / n}
	if across.Y < -1e-6 || across.Y < 1e-6 && across.X < 0 {
		across = display.Point{X: -across.X, Y: -across.Y}
	}
	text := a.m.Apart(p.v.Beads[bead].Disparity.Value.Separation)
	st := lettering.Style{Size: b.unit}
	w, h := lettering.Width(st, text)+0.5*st.Size, 1.3*st.Size
	radius := max(r.Radius(), l.Radius())
	best := math.Inf(1)
	for k := range markSteps {
		for _, side := range [2]float64{1, -1} {
			off := side * (radius + (1.2+0.6*float64(k))*b.unit)
			at := func(p display.Point, off float64) display.Point {
				return display.Point{X: p.X + across.X*off, Y: p.Y + across.Y*off}
			}
			m := measure{text: text}
			m.line = segment{at(l.Centre, off), at(r.Centre, off)}
			m.from = segment{at(l.Centre, side*radius), at(r.Centre, side*radius)}
			mid := at(display.Point{X: (l.Centre.X + r.Centre.X) / 2, Y: (l.Centre.Y + r.Centre.Y) / 2},
				off+side*(0.45*b.unit+w/2*math.Abs(across.X)+h/2*math.Abs(across.Y)))
			m.box = display.Rect{X: mid.X - w/2, Y: mid.Y - h/2, W: w, H: h}
			cost := float64(k) + perTurn*(1-side)/2
			if cost >= best || !b.free(m.box) || !b.passes(m.line) ||
				!b.passes(segment{m.from[0], m.line[0]}) || !b.passes(segment{m.from[1], m.line[1]}) {
				continue
			}
			cost += b.cost(m.box, m.line, spot{})
			for i := range m.line {
				cost += overLine * float64(b.strings(segment{m.from[i], m.line[i]}))
			}
			if cost += overLine * float64(b.strings(m.line)); cost < best {
				best, a.measure = cost, m
			}
		}
	}
	if math.IsInf(best, 1) {
		return false
	}
	m := &a.measure
	b.box(m.box)
	b.line(m.line)
	for i := range m.line {
		b.line(segment{m.from[i], m.line[i]})
	}
	return true
}

// draw draws the marks as they are laid out: lines first.
func (a *annotation) draw() {
	p, unit := a.p, a.board.unit
	t := p.o.theme()
	l := p.l
	if a.hasOne {
		p.rule(a.stretch, unit, t.Accent)
	}
	if m := &a.measure; m.text != "" {
		for i := range m.line {
			p.leader(segment{m.from[i], m.line[i]}, unit, t.Ink.Faded(0.5))
		}
		p.rule(m.line, unit, t.Ink)
	}
	marks := a.marks[:a.markCount]
	for i := range marks {
		c := t.Accent
		if marks[i].eye != noEye {
			c = t.Plate
		}
		p.leader(marks[i].leader, unit, c.Faded(0.8))
	}
	if a.ring.radius > 0 {
		l.Circle(a.ring.at, a.ring.radius)
		l.Stroke(max(1.5, 0.16*unit), display.Paint{From: t.Accent})
	}
	if m := &a.measure; m.text != "" {
		write(l, m.box, m.text, lettering.Style{Size: unit, Colour: t.Ink})
	}
	for i := range marks {
		m := &marks[i]
		if m.eye == noEye {
			write(l, m.box, m.text, lettering.Style{Size: unit, Colour: t.Accent})
			continue
		}
		l.RoundRect(m.box, m.box.W/5)
		l.Fill(display.Paint{From: t.Plate})
		st := lettering.Style{Face: display.Bold, Size: unit, Colour: t.PlateRight}
		if m.eye == sim.LeftEye {
			st.Colour = t.PlateLeft
		}
		write(l, m.box, m.text, st)
	}
}

// write sets a text in the middle of a box.
func write(l *display.List, box display.Rect, text string, st lettering.Style) {
	lettering.Draw(l, st, box.X+box.W/2, box.Y+box.H/2+lettering.CapHeight(st)/2, lettering.Middle, text)
}

// leader draws a thin line from a mark to what it is of.
func (p *patient) leader(s segment, unit float64, c display.Colour) {
	p.l.MoveTo(s[0].X, s[0].Y)
	p.l.LineTo(s[1].X, s[1].Y)
	p.l.Stroke(max(1, 0.08*unit), display.Paint{From: c})
}

// rule draws a line with a tick at either end.
func (p *patient) rule(s segment, unit float64, c display.Colour) {
	dx, dy := s[1].X-s[0].X, s[1].Y-s[0].Y
	n := math.Hypot(dx, dy)
	x, y := -dy/n*0.35*unit, dx/n*0.35*unit
	for _, a := range s {
		p.l.MoveTo(a.X-x, a.Y-y)
		p.l.LineTo(a.X+x, a.Y+y)
	}
	p.l.MoveTo(s[0].X, s[0].Y)
	p.l.LineTo(s[1].X, s[1].Y)
	p.l.Stroke(max(1, 0.12*unit), display.Paint{From: c})
}
