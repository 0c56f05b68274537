package render

import (
	"math"
	"strconv"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/sim"
)

// The inset: where the crossing is too small to be seen, a round glass shows it larger.
// A drawing rule.
const (
	smallCrossing = 24.  // pixels from strand to strand at the wall, below which there is one
	wantedAcross  = 56.  // what it should be in the glass, pixels
	leastGlass    = 52.  // radius of one, pixels
	mostGlass     = 0.13 // of one, as a share of the shorter side
	glassMargin   = 10.  // round it, pixels
)

// magnifications of a glass.
var glasses = [...]float64{2, 3, 4, 6}

// inset is a round glass over the picture.
type inset struct {
	at     display.Point // its middle
	radius float64
	of     display.Point // what it shows the surroundings of
	times  float64
}

// inset is where the glass is put, if there is one: below the crossing or above it, in
// the middle between the eyes' strands, so that swapping the eyes mirrors it; where it
// covers no bead and no string.
func (p *patient) inset() (g inset, ok bool) {
	c := &p.v.Crossing
	if p.o.NoInset || p.alone || !c.Seen || !c.At.OK || !c.Picture.OK {
		return g, false
	}
	g.of, _, ok = p.page(c.Picture.Value)
	if !ok || !inside(p.frame, g.of, 0) {
		return g, false
	}
	if p.covered(g.of) {
		return g, false
	}
	across, ok := p.across()
	if !ok || across >= smallCrossing {
		return g, false
	}
	for _, g.times = range glasses {
		if across*g.times >= wantedAcross {
			break
		}
	}
	most := mostGlass * min(p.frame.W, p.frame.H)
	for g.radius = most; g.radius >= leastGlass; g.radius *= 0.9 {
		// Low in the picture, where there is most room, then higher; then above.
		for _, y := range [...]float64{0.97, 0.9, 0.8, 0.7, 0.6} {
			g.at = display.Point{X: g.of.X, Y: p.frame.Y + y*p.frame.H - g.radius}
			if p.clear(&g) {
				return g, true
			}
		}
		g.at.Y = p.frame.Y + 0.03*p.frame.H + g.radius
		if p.clear(&g) {
			return g, true
		}
	}
	return g, false
}

// covered says whether a nearer bead that is not the one looked at stands before the
// crossing: larger it would show no more.
func (p *patient) covered(at display.Point) bool {
	for e := range sim.Eyes {
		for i := range p.s.Beads {
			b, ok := p.ball(e, i)
			if ok && i != p.s.FixatedBead() && p.s.Beads[i].At < p.v.Crossing.At.Value &&
				math.Hypot(at.X-b.Centre.X, at.Y-b.Centre.Y) < b.Radius() {
				return true
			}
		}
	}
	return false
}

// across is how far the strands lie apart at the wall, pixels.
func (p *patient) across() (float64, bool) {
	x := p.cord(p.s.String.Length)
	r, _, okR := p.page(x.image[sim.RightEye].at)
	l, _, okL := p.page(x.image[sim.LeftEye].at)
	return math.Hypot(r.X-l.X, r.Y-l.Y), okR && okL && x.image[sim.RightEye].ok && x.image[sim.LeftEye].ok
}

// clear says whether a glass covers nothing that matters.
func (p *patient) clear(g *inset) bool {
	if !inside(p.frame, g.at, g.radius+glassMargin) {
		return false
	}
	for _, r := range p.o.Taken {
		if overlap(r, display.Around(g.at, g.radius)) {
			return false
		}
	}
	free := func(at display.Point, radius float64) bool {
		return math.Hypot(at.X-g.at.X, at.Y-g.at.Y) > g.radius+radius+glassMargin
	}
	if !free(g.of, 2*smallCrossing) {
		return false
	}
	for e := range sim.Eyes {
		for i := range p.s.Beads {
			if b, ok := p.ball(e, i); ok && !free(b.Centre, b.Radius()+b.Soft) {
				return false
			}
		}
		last, seen := display.Point{}, false
		for i := -1; i <= p.count; i++ {
			at := p.s.String.Length
			if i >= 0 {
				at = 0
			}
			if i >= 0 && i < p.count {
				at = p.places[i]
			}
			x := p.cord(at).image[e]
			point, stretch, ok := p.page(x.at)
			ok = ok && x.ok && x.distance > 0
			if ok && seen {
				near := nearest(last, point, g.at)
				if !free(near, p.scale*stretch*p.halfWidth(&x)) {
					return false
				}
			}
			last, seen = point, ok
		}
	}
	return true
}

// nearest is the place between a and b that is nearest to c.
func nearest(a, b, c display.Point) display.Point {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := unit(((c.X-a.X)*dx + (c.Y-a.Y)*dy) / (dx*dx + dy*dy))
	return display.Point{X: a.X + t*dx, Y: a.Y + t*dy}
}

// glass draws the inset: what is round the crossing, larger, with a thin line to it and
// how many times larger it is.
func (p *patient) glass(g inset) {
	l, t := p.l, p.o.theme()
	line := max(1, g.radius/60)
	edge := display.Paint{From: t.HookLit.Faded(0.7)}

	// A ring round what is shown, and the way to the glass.
	small := g.radius / g.times
	dx, dy := g.at.X-g.of.X, g.at.Y-g.of.Y
	d := math.Hypot(dx, dy)
	l.Circle(g.of, small)
	l.Stroke(line, display.Paint{From: t.HookLit.Faded(0.45)})
	l.MoveTo(g.of.X+dx/d*small, g.of.Y+dy/d*small)
	l.LineTo(g.at.X-dx/d*g.radius, g.at.Y-dy/d*g.radius)
	l.Stroke(line, display.Paint{From: t.HookLit.Faded(0.25)})

	l.Circle(g.at, g.radius)
	l.OpenClip()
	q := *p
	q.frame = display.Rect{X: math.Floor(g.at.X - g.radius), Y: math.Floor(g.at.Y - g.radius), W: math.Ceil(2*g.radius) + 1, H: math.Ceil(2*g.radius) + 1}
	q.scale *= g.times
	q.origin = display.Point{X: g.at.X + (p.origin.X-g.of.X)*g.times, Y: g.at.Y + (p.origin.Y-g.of.Y)*g.times}
	q.ground = func() {
		l.Rect(q.frame)
		l.Fill(display.Paint{From: t.Wall})
	}
	q.draw(sim.RightEye, sim.LeftEye)
	l.End()
	l.Circle(g.at, g.radius)
	l.Stroke(1.5*line, edge)

	// How many times, on the rim.
	st := lettering.Style{Size: max(12, p.o.Type, 0.15*g.radius), Colour: t.HookLit}
	text := "×" + strconv.FormatFloat(g.times, 'f', -1, 64)
	wide, high := lettering.Width(st, text)+st.Size, 1.5*st.Size
	l.RoundRect(display.Rect{X: g.at.X - wide/2, Y: g.at.Y + g.radius - high, W: wide, H: high}, high/2)
	l.Fill(display.Paint{From: t.WallEdge})
	lettering.Draw(l, st, g.at.X, g.at.Y+g.radius-high/2+lettering.CapHeight(st)/2, lettering.Middle, text)
}
