package window

import (
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"twincord/render/display"
)

// mesh is triangles being collected.
type mesh struct {
	vertices []ebiten.Vertex
	indices  []uint32
}

func (m *mesh) reset() { m.vertices, m.indices = m.vertices[:0], m.indices[:0] }

// add adds a vertex and gives its number.
func (m *mesh) add(v ebiten.Vertex) uint32 {
	m.vertices = append(m.vertices, v)
	return uint32(len(m.vertices) - 1)
}

func (m *mesh) triangle(a, b, c uint32) { m.indices = append(m.indices, a, b, c) }

// quad adds the quadrilateral a b d c: a and b at one end, c and d at the other.
func (m *mesh) quad(a, b, c, d uint32) {
	m.triangle(a, b, c)
	m.triangle(b, d, c)
}

// section adds a cross-section of a strip at a place, reaching out to both sides
// in the direction (ox, oy), and joins it to the last one. Custom0 is the distance
// from the middle.
func (m *mesh) section(v ebiten.Vertex, at display.Point, ox, oy, reach float64, join bool) {
	n := uint32(len(m.vertices))
	for _, d := range [2]float64{-reach, reach} {
		v.DstX, v.DstY, v.Custom0 = float32(at.X+ox*d), float32(at.Y+oy*d), float32(d)
		m.add(v)
	}
	if join {
		m.quad(n-2, n-1, n, n+1)
	}
}

// The most that a point of a curve may lie off the chord drawn for it, pixels.
const flatness = 0.1

// flatten breaks an outline into polylines, one a contour, and gives each to f
// with whether it is closed. The slice is good until f returns.
func (p *painter) flatten(o *display.Outline, f func(line []display.Point, closed bool)) {
	line := p.line[:0]
	points := o.Points
	end := func(closed bool) {
		if n := len(line); n > 1 && line[0] == line[n-1] {
			line, closed = line[:n-1], true
		}
		if len(line) > 0 {
			f(line, closed)
		}
		line = line[:0]
	}
	for _, v := range o.Verbs {
		switch v {
		case display.MoveTo:
			end(false)
			line = append(line, points[0])
			points = points[1:]
		case display.LineTo:
			if points[0] != line[len(line)-1] {
				line = append(line, points[0])
			}
			points = points[1:]
		case display.QuadTo:
			a, c, b := line[len(line)-1], points[0], points[1]
			n := pieces(math.Hypot(a.X-2*c.X+b.X, a.Y-2*c.Y+b.Y) / 4)
			for i := 1; i <= n; i++ {
				t := float64(i) / float64(n)
				line = append(line, between(between(a, c, t), between(c, b, t), t))
			}
			points = points[2:]
		case display.CubicTo:
			a, c, d, b := line[len(line)-1], points[0], points[1], points[2]
			off := math.Max(math.Hypot(a.X-2*c.X+d.X, a.Y-2*c.Y+d.Y), math.Hypot(c.X-2*d.X+b.X, c.Y-2*d.Y+b.Y))
			n := pieces(off * 3 / 4)
			for i := 1; i <= n; i++ {
				t := float64(i) / float64(n)
				e := between(c, d, t)
				line = append(line, between(between(between(a, c, t), e, t), between(e, between(d, b, t), t), t))
			}
			points = points[3:]
		case display.Close:
			end(true)
		}
	}
	end(false)
	p.line = line
}

// pieces is into how many chords a curve is broken whose middle lies off its
// chord by about this much.
func pieces(off float64) int {
	return max(1, min(int(math.Ceil(math.Sqrt(off/flatness))), 64))
}

func between(a, b display.Point, t float64) display.Point {
	return display.Point{X: a.X + (b.X-a.X)*t, Y: a.Y + (b.Y-a.Y)*t}
}

// convex says whether a closed polyline turns one way only, and once round.
func convex(line []display.Point) bool {
	n := len(line)
	if n < 3 {
		return false
	}
	sign, turns := 0.0, 0.0
	for i := range line {
		a, b, c := line[i], line[(i+1)%n], line[(i+2)%n]
		cross := (b.X-a.X)*(c.Y-b.Y) - (b.Y-a.Y)*(c.X-b.X)
		dot := (b.X-a.X)*(c.X-b.X) + (b.Y-a.Y)*(c.Y-b.Y)
		turns += math.Atan2(cross, dot)
		if math.Abs(cross) < 1e-9 {
			continue
		}
		if sign*cross < 0 {
			return false
		}
		sign = cross
	}
	return math.Abs(turns) < 3*math.Pi
}

// fan adds a convex area: solid inside, with an edge that fades over one pixel.
// put fills in what else a vertex carries.
func (m *mesh) fan(line []display.Point, colour [4]float32) {
	n := len(line)
	area := 0.0
	for i, a := range line {
		b := line[(i+1)%n]
		area += a.X*b.Y - b.X*a.Y
	}
	side := math.Copysign(1, area) // turns an edge's left into outward
	first := uint32(len(m.vertices))
	for i := range line {
		a, b, c := line[(i+n-1)%n], line[i], line[(i+1)%n]
		ox, oy := mitre(a, b, c)
		for _, d := range [2]float64{-0.5, 0.5} {
			m.add(ebiten.Vertex{
				DstX: float32(b.X + side*ox*d), DstY: float32(b.Y + side*oy*d),
				ColorR: colour[0], ColorG: colour[1], ColorB: colour[2], ColorA: colour[3],
				Custom0: float32(solid + d), Custom1: solid,
			})
		}
	}
	at := func(i int) uint32 { return first + 2*uint32(i%n) }
	for i := range n {
		m.quad(at(i), at(i)+1, at(i+1), at(i+1)+1)
		if i > 1 {
			m.triangle(at(0), at(i-1), at(i))
		}
	}
}

// solid is the half-width that stands for the inside of an area: anything well
// over a pixel.
const solid = 4

// mitre is the step from b, where the edges a–b and b–c meet, that moves both
// edges by one to the right (y down: outward, when going clockwise). Where they
// nearly double back it is held to a length of 4.
func mitre(a, b, c display.Point) (x, y float64) {
	ux, uy := unit(b.X-a.X, b.Y-a.Y)
	vx, vy := unit(c.X-b.X, c.Y-b.Y)
	if ux == 0 && uy == 0 {
		ux, uy = vx, vy
	}
	if vx == 0 && vy == 0 {
		vx, vy = ux, uy
	}
	x, y = uy+vy, -ux-vx
	k := x*uy - y*ux // 1 + cos of the turn
	k = math.Max(k, math.Hypot(x, y)/4)
	if k == 0 {
		return uy, -ux
	}
	return x / k, y / k
}

func unit(x, y float64) (float64, float64) {
	l := math.Hypot(x, y)
	if l == 0 {
		return 0, 0
	}
	return x / l, y / l
}
