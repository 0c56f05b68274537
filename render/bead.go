package render

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/render/display"
	"twincord/sim"
)

// light is the direction of the light on beads: from above, the left and the
// front; x right, y down, z toward the viewer.
var light = func() [3]float64 {
	l := r3.Unit(r3.Vec{X: -0.45, Y: -0.7, Z: 0.75})
	return [3]float64{l.X, l.Y, l.Z}
}()

// Surface is a bead's surface as it is drawn.
func Surface(s sim.Surface) display.Surface {
	switch s {
	case sim.SurfaceBanded:
		return display.Banded
	case sim.SurfaceDotted:
		return display.Dotted
	case sim.SurfaceRinged:
		return display.Ringed
	}
	return display.Plain
}

// direction is the unit vector of a place in the picture: x right, y ahead, z up.
func direction(at sim.XY) r3.Vec { return r3.Unit(r3.Vec{X: at.X, Y: 1, Z: at.Y}) }

// zonePlace is the place a bead belongs to for suppression nearer and beyond: a
// fixated bead belongs to the fixated place.
func (p *patient) zonePlace(bead int) float64 {
	if p.s.FixatedBead() == bead {
		return p.v.Target.At
	}
	return p.s.Beads[bead].At
}

// bead draws one eye's image of a bead, without what its own nearer beads hide.
func (p *patient) bead(eye sim.Eye, bead int) {
	ball, ok := p.ball(eye, bead)
	if !ok {
		return
	}
	hiders := 0
	for b := range p.s.Beads {
		if p.s.Beads[b].At >= p.s.Beads[bead].At {
			continue
		}
		h, ok := p.ball(eye, b)
		gap := math.Hypot(h.Centre.X-ball.Centre.X, h.Centre.Y-ball.Centre.Y)
		if !ok || h.Opacity == 1 || gap > h.RadiusX+ball.RadiusX {
			continue
		}
		if hiders == 0 {
			p.l.Rect(p.frame)
		}
		hiders++
		p.l.Ellipse(h.Centre, hiddenShare*h.RadiusX, hiddenShare*h.RadiusY, h.Angle)
	}
	if hiders > 0 {
		p.l.OpenClipEvenOdd()
		defer p.l.End()
	}
	if p.lustre() {
		p.mottled(eye, bead, ball)
		return
	}
	p.l.AddBall(ball)
}

// ball is one eye's image of a bead.
func (p *patient) ball(eye sim.Eye, bead int) (display.Ball, bool) {
	b := &p.s.Beads[bead]
	place := p.zonePlace(bead)
	x := p.beadPair(bead)
	images, parted := &x.image, x.parted
	ball, ok := p.sphere(images[eye], b.Diameter/2)
	if !ok {
		return ball, false
	}
	ball.Colour = Colour(p.filter(eye).Through(b.Colour))
	ball.Tint = p.through(eye, ball.White())
	ball.Surface = Surface(b.Surface)

	// The near mouth of the hole, and the pattern round it: as far as the bead is
	// single, the mean of what the two eyes see of it.
	mouth, _ := p.images(p.s.Place(b.At-b.Diameter/2), place)
	var hole [2]display.Point
	for e := range hole {
		hole[e] = step(images[e].at, mouth[e].at, b.Diameter/2, images[e].distance)
	}
	ax := hole[eye]
	if images[eye.Other()].ok && !p.alone {
		o := hole[eye.Other()]
		ax.X += (o.X - ax.X) * (1 - parted) / 2
		ax.Y += (o.Y - ax.Y) * (1 - parted) / 2
	}
	ball.Hole, ball.Bore = ax, bore
	ball.Axis = [3]float64{ax.X, ax.Y, math.Sqrt(max(0, 1-ax.X*ax.X-ax.Y*ax.Y))}
	return ball, true
}

// step is where a place on a sphere's surface appears, as a step from its centre in
// units of its radius.
func step(centre, at sim.XY, radius, distance float64) display.Point {
	if radius <= 0 || distance <= 0 {
		return display.Point{}
	}
	stretch := math.Sqrt(1 + centre.X*centre.X + centre.Y*centre.Y)
	size := radius / distance * stretch
	s := display.Point{X: (at.X - centre.X) / size, Y: -(at.Y - centre.Y) / size}
	if n := math.Hypot(s.X, s.Y); n > 1 {
		s.X, s.Y = s.X/n, s.Y/n
	}
	return s
}

// sphere is the outline of a sphere in the tangent plane: an ellipse, longer
// toward the middle of the picture. With θ the angle from it and ρ the angular
// radius, centre sin θ·cos θ/c, half-axes sin ρ·cos ρ/c and sin ρ/√c, c = cos²θ −
// sin²ρ. A sphere round the eye, or one that reaches out of the half-space ahead, is
// not drawn.
func (p *patient) sphere(i image, radius float64) (display.Ball, bool) {
	if !i.ok || i.distance <= radius {
		return display.Ball{}, false
	}
	at := i.at
	if p.o.HeadCentred {
		var ok bool
		if at, ok = p.v.HeadCentred(at); !ok {
			return display.Ball{}, false
		}
	}
	off := math.Hypot(at.X, at.Y)
	sinT, cosT := off/math.Hypot(1, off), 1/math.Hypot(1, off)
	sinR := radius / i.distance
	cosR := math.Sqrt(1 - sinR*sinR)
	c := cosT*cosT - sinR*sinR
	if c <= 0 {
		return display.Ball{}, false
	}
	towards := math.Atan2(at.Y, at.X)
	sin, cos := math.Sincos(towards)
	r := p.scale * sinT * cosT / c
	return display.Ball{
		Centre:  display.Point{X: p.origin.X + r*cos, Y: p.origin.Y - r*sin},
		RadiusX: p.scale * sinR * cosR / c,
		RadiusY: p.scale * sinR / math.Sqrt(c),
		Angle:   -towards,
		Soft:    p.scale * i.blur / 2 / cosT,
		Opacity: i.opacity,
		Light:   light,
	}, true
}

// Colour is a bead's colour as it is drawn.
func Colour(c sim.RGB) display.Colour {
	return display.Colour{R: float64(c.R) / 255, G: float64(c.G) / 255, B: float64(c.B) / 255, A: 1}
}
