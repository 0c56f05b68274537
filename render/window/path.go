package window

import (
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"twincord/render/display"
)

func (p *painter) path(path *display.Path) {
	if path.Stroke > 0 {
		p.stroke(path)
		return
	}
	p.fill(&path.Outline, &path.Paint)
}

// fill paints an area: a convex one as a mesh, any other through a mask in the
// atlas.
func (p *painter) fill(o *display.Outline, paint *display.Paint) {
	contours, round := 0, true
	p.flatten(o, func(line []display.Point, _ bool) {
		if len(line) > 2 {
			contours++
			round = round && convex(line)
		}
	})
	if contours == 0 {
		return
	}
	switch {
	case contours == 1 && round:
	case o.EvenOdd || paint.Kind != display.Solid:
		b := bounds(o.Points)
		p.masked(pixels(b), 1, func() {
			p.fill(polygon([]display.Point{
				{X: b.X - 1, Y: b.Y - 1}, {X: b.X + b.W + 1, Y: b.Y - 1},
				{X: b.X + b.W + 1, Y: b.Y + b.H + 1}, {X: b.X - 1, Y: b.Y + b.H + 1},
			}), paint)
		}, func() { p.cover(o) })
		return
	default:
		p.fillMasked(o, paint)
		return
	}
	m, colour := p.begin(paint)
	p.flatten(o, func(line []display.Point, _ bool) {
		if len(line) > 2 {
			m.fan(line, colour)
		}
	})
	p.finish(m, paint)
}

// begin is the mesh to collect a paint's triangles in, and their colour.
func (p *painter) begin(paint *display.Paint) (*mesh, [4]float32) {
	if paint.Kind == display.Solid {
		return &p.mesh, premultiplied(paint.From)
	}
	p.flush()
	p.own.reset()
	return &p.own, [4]float32{}
}

// finish draws the mesh of a paint that has a shader of its own.
func (p *painter) finish(m *mesh, paint *display.Paint) {
	if paint.Kind == display.Solid {
		return
	}
	u := p.options.Uniforms
	u["From"], u["To"] = straight(paint.From), straight(paint.To)
	u["A"], u["B"] = pair(paint.A), pair(paint.B)
	u["Radial"], u["Dither"] = toFloat(paint.Kind == display.Radial), toFloat(paint.Dither)
	p.draw(m, p.gradient, nil, nil)
}

func straight(c display.Colour) []float32 {
	return []float32{float32(c.R), float32(c.G), float32(c.B), float32(c.A)}
}

func pair(q display.Point) []float32 { return []float32{float32(q.X), float32(q.Y)} }

// stroke draws along an outline.
func (p *painter) stroke(path *display.Path) {
	m, colour := p.begin(&path.Paint)
	pen := pen{m: m, half: path.Stroke / 2, colour: colour}
	p.flatten(&path.Outline, func(line []display.Point, closed bool) {
		if path.Dash > 0 {
			pen.dashed(line, closed, path.Dash)
			return
		}
		pen.draw(line, closed)
	})
	p.finish(m, &path.Paint)
}

// pen draws strokes of one width.
type pen struct {
	m      *mesh
	half   float64
	colour [4]float32
	dash   []display.Point
}

// draw draws a polyline as strips, one from sharp corner to sharp corner, with
// round ends.
func (s *pen) draw(line []display.Point, closed bool) {
	n := len(line)
	if n == 1 {
		s.strip(line, false)
		return
	}
	if !closed {
		s.pieces(line)
		return
	}
	// A closed line begins at a sharp corner if it has one, else it has no ends.
	for i := range line {
		if sharp(line[(i+n-1)%n], line[i], line[(i+1)%n]) {
			turned := append(append(append([]display.Point{}, line[i:]...), line[:i]...), line[i])
			s.pieces(turned)
			return
		}
	}
	s.strip(line, true)
}

// pieces breaks an open line at its sharp corners.
func (s *pen) pieces(line []display.Point) {
	from := 0
	for i := 1; i < len(line)-1; i++ {
		if sharp(line[i-1], line[i], line[i+1]) {
			s.strip(line[from:i+1], false)
			from = i
		}
	}
	s.strip(line[from:], false)
}

// sharp says whether a line turns at b by more than 40°.
func sharp(a, b, c display.Point) bool {
	ux, uy := unit(b.X-a.X, b.Y-a.Y)
	vx, vy := unit(c.X-b.X, c.Y-b.Y)
	return ux*vx+uy*vy < 0.766
}

// strip adds one strip. A ring goes on from its last point to its first; an open
// one has round ends.
func (s *pen) strip(line []display.Point, ring bool) {
	n := len(line)
	reach := s.half + 0.5
	join := false
	section := func(at display.Point, ox, oy, past float64) {
		v := ebiten.Vertex{
			ColorR: s.colour[0], ColorG: s.colour[1], ColorB: s.colour[2], ColorA: s.colour[3],
			Custom1: float32(s.half), Custom3: float32(past),
		}
		s.m.section(v, at, ox, oy, reach, join)
		join = true
	}
	// past the ends of an open strip, by (dx, dy)
	end := func(at display.Point, dx, dy float64, first bool) {
		ox, oy := dy, -dx
		if first {
			ox, oy = -ox, -oy
		}
		out := display.Point{X: at.X + dx*reach, Y: at.Y + dy*reach}
		if first {
			section(out, ox, oy, reach)
			section(at, ox, oy, 0)
			return
		}
		section(at, ox, oy, 0)
		section(out, ox, oy, reach)
	}
	switch {
	case n == 1:
		end(line[0], -1, 0, true)
		end(line[0], 1, 0, false)
	case ring:
		for i := range n + 1 {
			ox, oy := mitre(line[(i+n-1)%n], line[i%n], line[(i+1)%n])
			section(line[i%n], ox, oy, 0)
		}
	default:
		dx, dy := unit(line[0].X-line[1].X, line[0].Y-line[1].Y)
		end(line[0], dx, dy, true)
		for i := 1; i < n-1; i++ {
			ox, oy := mitre(line[i-1], line[i], line[i+1])
			section(line[i], ox, oy, 0)
		}
		dx, dy = unit(line[n-1].X-line[n-2].X, line[n-1].Y-line[n-2].Y)
		end(line[n-1], dx, dy, false)
	}
}

// dashed draws the dashes of a polyline, the first at its beginning.
func (s *pen) dashed(line []display.Point, closed bool, dash float64) {
	n := len(line)
	if closed {
		n++
	}
	drawn, left := true, dash
	s.dash = append(s.dash[:0], line[0])
	for i := 1; i < n; i++ {
		a, b := line[i-1], line[i%len(line)]
		length, at := math.Hypot(b.X-a.X, b.Y-a.Y), 0.0
		for length-at > left {
			at += left
			q := between(a, b, at/length)
			if drawn {
				s.pieces(append(s.dash, q))
			}
			drawn, left = !drawn, dash
			s.dash = append(s.dash[:0], q)
		}
		left -= length - at
		s.dash = append(s.dash, b)
	}
	if drawn && len(s.dash) > 1 {
		s.pieces(s.dash)
	}
}

// polygon is a closed polyline as an outline.
func polygon(line []display.Point) *display.Outline {
	o := &display.Outline{Points: line, Verbs: make([]display.Verb, len(line)+1)}
	for i := 1; i < len(line); i++ {
		o.Verbs[i] = display.LineTo
	}
	o.Verbs[len(line)] = display.Close
	return o
}
