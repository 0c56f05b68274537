package render

import (
	"math"

	"twincord/render/display"
	"twincord/sim"
)

// filter is what stands before an eye.
func (p *patient) filter(eye sim.Eye) sim.Filter {
	if eye == sim.RightEye {
		return p.s.Right.Filter
	}
	return p.s.Left.Filter
}

// through is a colour as an eye has it through its filter.
func (p *patient) through(eye sim.Eye, c display.Colour) display.Colour {
	r, g, b := p.filter(eye).Passes()
	c.R, c.G, c.B = c.R*r, c.G*g, c.B*b
	return c
}

// lustre says whether the eyes have different colours of one thing. Where that is
// single it shows lustre: now one colour and now the other, and never their mean.
func (p *patient) lustre() bool {
	return !p.alone && p.filter(sim.RightEye) != p.filter(sim.LeftEye)
}

// leads says which of two eyes with different filters has the bands of the mottle, and
// the first turn on the string. It goes by the filter, so that swapping the eyes with
// what is before them mirrors the picture.
func (p *patient) leads(eye sim.Eye) bool { return p.filter(eye) > p.filter(eye.Other()) }

// mottle is where on a single bead the colour of the eye that leads shows: wavy bands between
// pairs of edges, in units of the bead's radius, which take up half of it. They stand
// still, so that nothing can flicker.
var mottle = [...][2]struct{ middle, wave, phase float64 }{
	{{-0.86, 0.10, 0.3}, {-0.50, 0.12, 2.2}},
	{{-0.12, 0.13, 1.0}, {0.16, 0.12, 3.6}},
	{{0.46, 0.11, 0.2}, {0.80, 0.10, 2.9}},
}

const (
	mottleTurn  = -0.6 // of the bands from the horizontal, radians
	mottleWaves = 5.   // of an edge, radians for each radius
	mottleSteps = 24   // along an edge
)

// mottled draws one eye's image of a bead with its part of the lustre, as far as the
// bead is single.
func (p *patient) mottled(eye sim.Eye, bead int, ball display.Ball) {
	images, parted := p.images(p.s.Place(p.s.Beads[bead].At), p.zonePlace(bead))
	if !images[eye.Other()].ok {
		parted = 1 // there is nothing to compete with
	}
	if parted > 0 {
		whole := ball
		whole.Opacity *= parted
		p.l.AddBall(whole)
	}
	if parted == 1 {
		return
	}
	if !p.leads(eye) {
		p.l.Rect(p.frame)
	}
	for _, band := range mottle {
		for n := range 2 * (mottleSteps + 1) {
			edge, along := band[0], n
			if n > mottleSteps {
				edge, along = band[1], 2*mottleSteps+1-n
			}
			x := 2.4*float64(along)/mottleSteps - 1.2
			at := onBall(&ball, x, edge.middle+edge.wave*math.Sin(mottleWaves*x+edge.phase))
			if n == 0 {
				p.l.MoveTo(at.X, at.Y)
			} else {
				p.l.LineTo(at.X, at.Y)
			}
		}
		p.l.Close()
	}
	if p.leads(eye) {
		p.l.OpenClip()
	} else {
		p.l.OpenClipEvenOdd()
	}
	p.l.AddBall(ball)
	p.l.End()
}

// onBall is a place in units of a ball's radius, turned by mottleTurn, on the page.
func onBall(b *display.Ball, x, y float64) display.Point {
	sin, cos := math.Sincos(mottleTurn)
	x, y = x*cos-y*sin, x*sin+y*cos
	return display.Point{X: b.Centre.X + b.RadiusY*x, Y: b.Centre.Y + b.RadiusY*y}
}

// turns is how often the eyes take turns on the single stretch of string to either
// side of the crossing.
const turns = 3

// leastTurns is the shortest such stretch on which they do, mm.
const leastTurns = 0.1

// turn is how much of the string an eye has at a place of that stretch, 0 – 1: what
// one eye has the other has not.
func (p *patient) turn(eye sim.Eye, at float64) float64 {
	c, st := &p.v.Crossing, &p.v.Strings
	end := st.FusedTo
	if at < c.At.Value {
		end = st.FusedFrom
	}
	length := end.Value - c.At.Value
	if !c.At.OK || !end.OK || !(math.Abs(length) > leastTurns) {
		return 0.5 // there is no room for turns
	}
	phase := unit((at-c.At.Value)/length) * turns
	first := 0.5 + 0.5*math.Cos(2*math.Pi*phase)
	if p.leads(eye) {
		return first
	}
	return 1 - first
}
