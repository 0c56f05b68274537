package render

import (
	"math"
	"slices"

	"twincord/render/display"
	"twincord/sim"
)

// board is what a picture and the marks over it take up, so that each mark finds a place:
// no mark stands on another one, on a line, on the crossing or over the edge, and where
// there is room none on a bead or a string. It holds all of it itself, so that a picture drawn
// again allocates nothing.
type board struct {
	frame display.Rect
	unit  float64 // size of the type

	// What no mark may touch.
	boxes [64]display.Rect
	lines [1024]segment
	// What it had better not.
	discs [2*sim.MaxBeads + 2]spot
	cords [2 * maxPlaces]segment

	boxCount, lineCount, discCount, cordCount int
}

// segment is a straight line from one point to another.
type segment [2]display.Point

// spot is the outline of a bead, or of something else that is round.
type spot struct {
	at     display.Point
	radius float64
}

// What it costs a mark to stand where something else shows, in steps that it may go away
// instead.
const (
	overBead   = 20.
	overString = 8.
	overLine   = 11. // of a leader across another one
	besides    = 4.  // of a leader across a bead that it is not of
	perTurn    = 1.2
	markTurns  = 12 // to either side, of 15° each
	markSteps  = 44
)

// markGap is between what a mark is of and the mark, and between marks, in sizes of type.
const markGap = 0.55

func (b *board) box(r display.Rect) {
	if r.W > 0 && b.boxCount < len(b.boxes) {
		b.boxes[b.boxCount] = r
		b.boxCount++
	}
}

func (b *board) line(s segment) {
	if b.lineCount < len(b.lines) {
		b.lines[b.lineCount] = s
		b.lineCount++
	}
}

func (b *board) disc(d spot) {
	if b.discCount < len(b.discs) {
		b.discs[b.discCount] = d
		b.discCount++
	}
}

func (b *board) cord(s segment) {
	if b.cordCount < len(b.cords) {
		b.cords[b.cordCount] = s
		b.cordCount++
	}
}

// mark is a plate or a name that stands beside what it is of, with a line to it.
type mark struct {
	text   string
	eye    sim.Eye // of a plate; noEye of a name
	box    display.Rect
	leader segment // from what it is of to the box
}

const noEye sim.Eye = -1

// put finds a place for a box w by h beside a spot, as near as it can to the direction
// towards (an angle on the page), and takes it. lean says to which side it turns first.
func (b *board) put(m *mark, of spot, w, h, towards, lean float64) bool {
	best := math.Inf(1)
	var to mark
	away := of.radius + markGap*b.unit
	for k := range markSteps {
		if float64(k) >= best {
			break
		}
		for n := -markTurns; n <= markTurns; n++ {
			turn := float64(n)
			cost := float64(k) + perTurn*math.Abs(turn)
			if turn*lean < 0 {
				cost += perTurn / 4
			}
			if cost >= best {
				continue
			}
			sin, cos := math.Sincos(towards + turn*math.Pi/markTurns)
			// How far the box reaches from its middle against the direction.
			reach := w/2*math.Abs(cos) + h/2*math.Abs(sin)
			far := away + reach
			box := display.Rect{X: of.at.X + cos*far - w/2, Y: of.at.Y + sin*far - h/2, W: w, H: h}
			// The line runs from middle to middle, and ends where it meets the box.
			enter := far - min(w/2/max(math.Abs(cos), 1e-9), h/2/max(math.Abs(sin), 1e-9))
			leader := segment{
				{X: of.at.X + cos*of.radius, Y: of.at.Y + sin*of.radius},
				{X: of.at.X + cos*enter, Y: of.at.Y + sin*enter},
			}
			if !b.free(box) || !b.passes(leader) {
				continue
			}
			if cost += b.cost(box, leader, of); cost < best {
				best, to = cost, mark{m.text, m.eye, box, leader}
			}
		}
		away += 0.6 * b.unit * math.Pow(1.03, float64(k))
	}
	if math.IsInf(best, 1) {
		return false
	}
	*m = to
	b.box(m.box)
	b.line(m.leader)
	return true
}

// free says whether a box is within the frame and touches nothing that it may not.
func (b *board) free(r display.Rect) bool {
	edge := markGap * b.unit
	if r.X < b.frame.X+edge || r.Y < b.frame.Y+edge ||
		r.X+r.W > b.frame.X+b.frame.W-edge || r.Y+r.H > b.frame.Y+b.frame.H-edge {
		return false
	}
	wide := grown(r, 0.25*b.unit)
	for _, o := range b.boxes[:b.boxCount] {
		if overlap(o, wide) {
			return false
		}
	}
	for _, s := range b.lines[:b.lineCount] {
		if s.through(wide) {
			return false
		}
	}
	return true
}

// passes says whether a line within the frame runs through no box.
func (b *board) passes(s segment) bool {
	if !inside(b.frame, s[0], 0) || !inside(b.frame, s[1], 0) {
		return false
	}
	return !slices.ContainsFunc(b.boxes[:b.boxCount], s.through)
}

// cost is that of what a mark of a spot would stand on.
func (b *board) cost(r display.Rect, leader segment, of spot) (cost float64) {
	for _, d := range b.discs[:b.discCount] {
		near := display.Point{
			X: min(max(d.at.X, r.X), r.X+r.W), Y: min(max(d.at.Y, r.Y), r.Y+r.H),
		}
		if math.Hypot(near.X-d.at.X, near.Y-d.at.Y) < d.radius {
			cost += overBead
		}
		if at := nearest(leader[0], leader[1], d.at); d != of && math.Hypot(at.X-d.at.X, at.Y-d.at.Y) < d.radius {
			cost += besides
		}
	}
	for _, s := range b.cords[:b.cordCount] {
		if s.through(r) {
			cost += overString
			break
		}
	}
	for _, s := range b.lines[:b.lineCount] {
		if s.meets(leader) {
			cost += overLine
		}
	}
	return cost
}

// strings is how many of the strings a line crosses.
func (b *board) strings(s segment) (n int) {
	for _, c := range b.cords[:b.cordCount] {
		if c.meets(s) {
			n++
		}
	}
	return n
}

func overlap(a, b display.Rect) bool {
	return a.X < b.X+b.W && b.X < a.X+a.W && a.Y < b.Y+b.H && b.Y < a.Y+a.H
}

// inside says whether a point and what is round it, out to a margin, lie in a frame.
func inside(f display.Rect, at display.Point, margin float64) bool {
	return at.X-margin >= f.X && at.X+margin <= f.X+f.W && at.Y-margin >= f.Y && at.Y+margin <= f.Y+f.H
}

func grown(r display.Rect, by float64) display.Rect {
	return display.Rect{X: r.X - by, Y: r.Y - by, W: r.W + 2*by, H: r.H + 2*by}
}

// through says whether any of a line lies inside a box: the part of it that is left of
// what lies beyond each of the four edges is not empty.
func (s segment) through(r display.Rect) bool {
	from, to := 0., 1.
	for _, edge := range [...]struct{ at, by, low, high float64 }{
		{s[0].X, s[1].X - s[0].X, r.X, r.X + r.W},
		{s[0].Y, s[1].Y - s[0].Y, r.Y, r.Y + r.H},
	} {
		if edge.by == 0 {
			if edge.at <= edge.low || edge.at >= edge.high {
				return false
			}
			continue
		}
		a, b := (edge.low-edge.at)/edge.by, (edge.high-edge.at)/edge.by
		from, to = max(from, min(a, b)), min(to, max(a, b))
	}
	return from < to
}

// meets says whether two lines cross.
func (s segment) meets(o segment) bool {
	side := func(l segment, p display.Point) float64 {
		return (l[1].X-l[0].X)*(p.Y-l[0].Y) - (l[1].Y-l[0].Y)*(p.X-l[0].X)
	}
	return side(s, o[0])*side(s, o[1]) < 0 && side(o, s[0])*side(o, s[1]) < 0
}
