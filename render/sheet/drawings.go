package sheet

import (
	"math"
	"strconv"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/sim"
)

// pen draws with even strokes, round at their ends.
type pen struct {
	l *display.List
}

func (p pen) line(width float64, c display.Colour, at ...display.Point) {
	p.l.MoveTo(at[0].X, at[0].Y)
	for _, q := range at[1:] {
		p.l.LineTo(q.X, q.Y)
	}
	p.l.Stroke(width, display.Paint{From: c})
}

// arc draws a bow from a to b that passes through neither but bends toward c.
func (p pen) arc(width float64, colour display.Colour, a, c, b display.Point) {
	third := func(q display.Point) display.Point {
		return display.Point{X: q.X + 2*(c.X-q.X)/3, Y: q.Y + 2*(c.Y-q.Y)/3}
	}
	p.l.MoveTo(a.X, a.Y)
	p.l.CubicTo(third(a), third(b), b)
	p.l.Stroke(width, display.Paint{From: colour})
}

// arrowHead ends an arrow at a tip, coming from the direction of a place.
func (p pen) arrowHead(width, size float64, c display.Colour, from, tip display.Point) {
	long := math.Hypot(tip.X-from.X, tip.Y-from.Y)
	ux, uy := (tip.X-from.X)/long*size, (tip.Y-from.Y)/long*size
	p.line(width, c, display.Point{X: tip.X - ux - 0.6*uy, Y: tip.Y - uy + 0.6*ux}, tip,
		display.Point{X: tip.X - ux + 0.6*uy, Y: tip.Y - uy - 0.6*ux})
}

func (p pen) disc(at display.Point, radius float64, fill, edge display.Colour, width float64) {
	p.l.Circle(at, radius)
	p.l.Fill(display.Paint{From: fill})
	if width > 0 {
		p.l.Circle(at, radius)
		p.l.Stroke(width, display.Paint{From: edge})
	}
}

// tick and cross mark what is right and what is not.
func (p pen) tick(at display.Point, size float64) {
	p.disc(at, size, theme.Paper.Ground, theme.Paper.Ink, size/7)
	p.line(size/3.5, theme.Paper.Ink, display.Point{X: at.X - 0.5*size, Y: at.Y + 0.05*size}, display.Point{X: at.X - 0.1*size, Y: at.Y + 0.45*size},
		display.Point{X: at.X + 0.5*size, Y: at.Y - 0.4*size})
}

func (p pen) cross(at display.Point, size float64) {
	p.disc(at, size, theme.Paper.Ground, theme.Paper.Ink, size/7)
	d := 0.42 * size
	p.line(size/3.5, theme.Paper.Ink, display.Point{X: at.X - d, Y: at.Y - d}, display.Point{X: at.X + d, Y: at.Y + d})
	p.line(size/3.5, theme.Paper.Ink, display.Point{X: at.X + d, Y: at.Y - d}, display.Point{X: at.X - d, Y: at.Y + d})
}

// face draws a head that looks to the right, its middle at c.
func (p pen) face(c display.Point, r float64) (nose display.Point) {
	t := &theme.Paper
	at := func(x, y float64) display.Point { return display.Point{X: c.X + x*r, Y: c.Y + y*r} }
	nose = at(1.22, 0.34)
	p.disc(c, r, t.Ground, t.Ink, r/12)
	// The nose is part of the outline: it covers the circle behind it.
	a, b := at(0.97, -0.08), at(0.86, 0.5)
	p.l.MoveTo(a.X, a.Y)
	p.l.LineTo(nose.X, nose.Y)
	p.l.LineTo(b.X, b.Y)
	p.l.Close()
	p.l.Fill(display.Paint{From: t.Ground})
	p.line(r/12, t.Ink, a, nose, b)
	p.arc(r/2.6, t.Muted, at(0.62, -0.78), at(-0.5, -1.35), at(-0.92, 0.05))
	p.l.Ellipse(at(0.58, -0.08), 0.09*r, 0.15*r, 0)
	p.l.Fill(display.Paint{From: t.Ink})
	p.arc(r/13, t.Ink, at(0.48, 0.6), at(0.66, 0.76), at(0.84, 0.62))
	p.arc(r/13, t.Ink, at(-0.18, -0.1), at(-0.5, 0.12), at(-0.14, 0.28))
	return nose
}

// setting is where things are in the drawing of the set-up.
type setting struct {
	nose, anchor display.Point
	along        func(share float64) display.Point // of the string, from the nose
}

// letters name the parts of a drawing, in the order of the list beside it, on discs of a
// radius.
type letters struct {
	names  []string
	radius float64
}

// drawSetup draws how a child sits at the string: from the side, the places along the
// string and the height of its far end to scale with each other. Without letters it speaks
// for itself.
func drawSetup(l *display.List, w, h float64, s *sim.Setup, named letters) setting {
	t := &theme.Paper
	p := pen{l}
	floor, eyes, r := 0.967*h, 0.33*h, 0.135*h
	head := display.Point{X: 0.24*w - 0.2*r, Y: eyes}
	at := func(x, y float64) display.Point { return display.Point{X: head.X + x*r, Y: head.Y + y*r} }
	seat := eyes + 3.5*r

	// The floor, the wall, and, where it is named, the lamp behind with its light.
	u := h / 180 // the drawing's own points
	p.line(u, t.Hairline, display.Point{X: 4 * u, Y: floor}, display.Point{X: w - 4*u, Y: floor})
	l.Rect(display.Rect{X: w - 14*u, Y: 6 * u, W: 10 * u, H: floor - 6*u})
	l.Fill(display.Paint{From: t.Hairline})
	lamp := display.Point{X: 0.055 * w, Y: 0.2 * h}
	if named.names != nil {
		p.line(2*u, t.Edge, lamp, display.Point{X: lamp.X, Y: floor})
		p.line(3*u, t.Edge, display.Point{X: lamp.X - 8*u, Y: floor}, display.Point{X: lamp.X + 8*u, Y: floor})
		l.MoveTo(lamp.X-5*u, lamp.Y-12*u)
		l.LineTo(lamp.X+5*u, lamp.Y-12*u)
		l.LineTo(lamp.X+10*u, lamp.Y+3*u)
		l.LineTo(lamp.X-10*u, lamp.Y+3*u)
		l.Close()
		l.Fill(display.Paint{From: t.Edge})
		for i := range 3 {
			sin, cos := math.Sincos(-0.1 + 0.33*float64(i))
			p.line(1.2*u, t.Accent, display.Point{X: lamp.X + 14*u*cos, Y: lamp.Y + 14*u*sin}, display.Point{X: lamp.X + 25*u*cos, Y: lamp.Y + 25*u*sin})
		}
	}

	// The chair and the child on it, arms to the nose.
	p.line(3*u, t.Edge, at(-1.35, 1.5), display.Point{X: head.X - 1.35*r, Y: floor})
	p.line(3*u, t.Edge, display.Point{X: head.X - 1.35*r, Y: seat + 0.45*r}, display.Point{X: head.X + 1.3*r, Y: seat + 0.45*r})
	p.line(3*u, t.Edge, display.Point{X: head.X + 1.3*r, Y: seat + 0.45*r}, display.Point{X: head.X + 1.3*r, Y: floor})
	p.line(1.25*r, t.Hairline, at(-0.25, 1.95), at(-0.45, 3.2))
	p.line(0.55*r, t.Muted, display.Point{X: head.X - 0.3*r, Y: seat}, display.Point{X: head.X + 1.85*r, Y: seat}, display.Point{X: head.X + 1.85*r, Y: floor - 3*u})
	p.line(0.35*r, t.Muted, display.Point{X: head.X + 1.85*r, Y: floor - 3*u}, display.Point{X: head.X + 2.3*r, Y: floor - 3*u})
	p.line(0.4*r, t.Ground, at(-0.1, 1.0), at(-0.15, 1.5))
	nose := p.face(head, r)

	// The string, with its beads where they are.
	scale := (w - 16*u - nose.X) / s.String.Length
	up := min(max(s.String.AnchorHeight*scale, -0.3*h), 0.22*h)
	if math.Abs(s.String.AnchorHeight) >= tellable && math.Abs(up) < 6*u {
		up = math.Copysign(6*u, up)
	}
	anchor := display.Point{X: w - 16*u, Y: eyes - up}
	sag := min(s.String.Sag*scale, 0.3*h)
	along := func(share float64) display.Point {
		return display.Point{X: nose.X + share*(anchor.X-nose.X), Y: nose.Y + share*(anchor.Y-nose.Y) + 4*sag*share*(1-share)}
	}
	var line []display.Point
	for i := range 25 {
		line = append(line, along(float64(i)/24))
	}
	p.line(1.6*u, t.Ink, line...)
	p.disc(anchor, 3*u, t.Ground, t.Ink, 1.4*u)
	for _, i := range s.FarToNear() {
		b := &s.Beads[i]
		c := display.Colour{R: float64(b.Colour.R) / 255, G: float64(b.Colour.G) / 255, B: float64(b.Colour.B) / 255, A: 1}
		p.disc(along(b.At/s.String.Length), 0.027*h, c, t.Ink, 0.9*u)
	}
	// The hand at the nose: an arm, and two fingers that pinch the end.
	p.line(0.42*r, t.Muted, at(0.1, 2.0), at(1.35, 2.1), at(1.5, 1.05))
	p.disc(at(1.5, 0.95), 0.27*r, t.Ground, t.Ink, u)
	tip := along(0.25 * r / (anchor.X - nose.X))
	p.line(0.17*r, t.Ink, at(1.42, 0.75), display.Point{X: tip.X - u, Y: tip.Y + 1.5*u})
	p.line(0.17*r, t.Ink, at(1.62, 0.75), display.Point{X: tip.X + 0.25*r, Y: tip.Y + 1.5*u})

	// Somebody's hand at the place that is looked at, from the side on which there is room.
	place := along(s.LookPlace() / s.String.Length)
	side := r
	if place.X+2.8*r > anchor.X {
		side = -r
	}
	hand := func(x, y float64) display.Point { return display.Point{X: place.X + x*side, Y: place.Y + y*r} }
	wrist, elbow := hand(0.75, 1.5), display.Point{X: place.X + 1.9*side, Y: floor - 4*u}
	p.line(0.5*r, t.Hairline, elbow, wrist)
	p.disc(wrist, 0.3*r, t.Ground, t.Ink, u)
	p.line(0.17*r, t.Ink, hand(0.63, 1.25), hand(0.12, 0.45))

	names := [...]struct{ of, letter display.Point }{
		{at(0.1, -1), at(0.3, -1.85)},
		{at(1.6, 0.85), at(2.6, 1.5)},
		{along(0.3), display.Point{X: along(0.3).X, Y: along(0.3).Y - 0.13*h}},
		{anchor, display.Point{X: anchor.X - 0.1*h, Y: anchor.Y - 0.12*h}},
		{display.Point{X: lamp.X + 3*u, Y: lamp.Y}, display.Point{X: lamp.X + 0.02*w, Y: lamp.Y + 0.17*h}},
		{display.Point{X: (elbow.X + wrist.X) / 2, Y: (elbow.Y + wrist.Y) / 2}, display.Point{X: (elbow.X+wrist.X)/2 + 1.3*side, Y: (elbow.Y+wrist.Y)/2 + 0.1*h}},
	}
	for i, mark := range named.names {
		p.line(0.9*u, t.Ink, names[i].letter, names[i].of)
		p.disc(names[i].of, 1.4*u, t.Ink, t.Ink, 0)
		disc(l, names[i].letter, named.radius, mark)
	}
	return setting{nose, anchor, along}
}

// drawMove draws the places that are gone to, and the way from the first to the last of
// them.
func drawMove(l *display.List, w, h float64, s *sim.Setup, places []float64) {
	at := drawSetup(l, w, h, s, letters{})
	p := pen{l}
	long := s.String.Length
	for _, place := range places {
		q := at.along(place / long)
		p.line(h/130, theme.Paper.Ink, display.Point{X: q.X, Y: q.Y - 0.03*h}, display.Point{X: q.X, Y: q.Y + 0.03*h})
	}
	a, b := at.along(places[0]/long), at.along(places[len(places)-1]/long)
	from, end := display.Point{X: a.X, Y: a.Y - 0.06*h}, display.Point{X: b.X, Y: b.Y - 0.05*h}
	top := display.Point{X: (a.X + b.X) / 2, Y: min(a.Y, b.Y) - 0.3*h}
	p.arc(h/60, theme.Paper.Accent, from, top, end)
	p.arrowHead(h/60, h/18, theme.Paper.Accent, top, end)
}

// drawCount draws as many dots as are counted, each with its number.
func drawCount(l *display.List, w, h float64, count int) {
	count = min(max(count, 1), 30)
	across := min(count, 5)
	if count > 15 {
		across = 6
	}
	down := (count + across - 1) / across
	cell := min(w/float64(across), h/float64(down))
	left, top := (w-cell*float64(across))/2, (h-cell*float64(down))/2
	for i := range count {
		at := display.Point{X: left + cell*(0.5+float64(i%across)), Y: top + cell*(0.5+float64(i/across))}
		pen{l}.disc(at, 0.36*cell, theme.Paper.Raised, theme.Paper.Ink, h/70)
		st := lettering.Style{Face: display.Bold, Size: 0.34 * cell, Colour: theme.Paper.Ink}
		lettering.Draw(l, st, at.X, at.Y+lettering.CapHeight(st)/2, lettering.Middle, strconv.Itoa(i+1))
	}
}

// drawStop draws a tired face, and a hand that says stop.
func drawStop(l *display.List, w, h float64) {
	t := &theme.Paper
	p := pen{l}
	c, r := display.Point{X: 0.28 * w, Y: 0.5 * h}, 0.3*h
	at := func(x, y float64) display.Point { return display.Point{X: c.X + x*r, Y: c.Y + y*r} }
	p.disc(c, r, t.Ground, t.Ink, r/14)
	for _, side := range [...]float64{-1, 1} {
		p.arc(r/11, t.Ink, at(side*0.62, -0.12), at(side*0.4, 0.12), at(side*0.18, -0.12)) // shut
		p.arc(r/13, t.Ink, at(side*0.68, -0.36), at(side*0.4, -0.56), at(side*0.16, -0.42))
	}
	p.arc(r/11, t.Ink, at(-0.34, 0.62), at(0, 0.34), at(0.34, 0.62))
	p.line(r/10, t.Accent, at(-1.0, -1.05), at(-0.82, -0.85)) // an aching head
	p.line(r/10, t.Accent, at(0, -1.4), at(0, -1.15))
	p.line(r/10, t.Accent, at(1.0, -1.05), at(0.82, -0.85))

	o, q := display.Point{X: 0.74 * w, Y: 0.5 * h}, 0.34*h
	for i := range 8 {
		sin, cos := math.Sincos(math.Pi/8 + float64(i)*math.Pi/4)
		if i == 0 {
			l.MoveTo(o.X+q*cos, o.Y+q*sin)
		} else {
			l.LineTo(o.X+q*cos, o.Y+q*sin)
		}
	}
	l.Close()
	l.Fill(display.Paint{From: t.Ink})
	for i := range 4 { // fingers, palm and thumb
		x := o.X + (float64(i)-1.5)*0.19*q
		p.line(0.15*q, t.Ground, display.Point{X: x, Y: o.Y - 0.55*q + 0.08*q*math.Abs(float64(i)-1.5)}, display.Point{X: x, Y: o.Y + 0.1*q})
	}
	l.RoundRect(display.Rect{X: o.X - 0.36*q, Y: o.Y - 0.05*q, W: 0.73 * q, H: 0.62 * q}, 0.2*q)
	l.Fill(display.Paint{From: t.Ground})
	p.line(0.15*q, t.Ground, display.Point{X: o.X + 0.28*q, Y: o.Y + 0.35*q}, display.Point{X: o.X + 0.55*q, Y: o.Y})
}

var paperGround = theme.Paper.Ground

// tickRow is a row of boxes that a child ticks, one for each time.
func tickRow(alt string) Picture {
	const boxes, w, h = 14, 600., 44.
	l := new(display.List)
	l.Reset(w, h, paperGround)
	l.Title = alt
	p := pen{l}
	cell := w / boxes
	for i := range boxes {
		l.RoundRect(display.Rect{X: (float64(i)+0.5)*cell - 14, Y: h/2 - 14, W: 28, H: 28}, 4)
		l.Stroke(1.4, display.Paint{From: theme.Paper.Edge})
	}
	p.line(3, theme.Paper.Edge, display.Point{X: cell/2 - 8, Y: h/2 + 1}, display.Point{X: cell/2 - 2, Y: h/2 + 8}, display.Point{X: cell/2 + 10, Y: h/2 - 10})
	return Picture{List: l, Alt: alt}
}
