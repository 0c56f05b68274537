package render

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/render/display"
	"twincord/sim"
)

// section is one cross-section of a strand.
type section struct {
	at    float64
	shown bool // before the eye, seen by it, and not hidden by its own nearer beads
	rib   display.RibbonPoint
}

// strand draws one eye's image of the string from a place down to a nearer one: as
// many ribbons as there are stretches that show and touch the frame.
func (p *patient) strand(eye int, from, to float64) {
	if from <= to {
		return
	}
	var ribs [maxPlaces + 8]display.RibbonPoint
	n := 0
	t := p.o.theme()
	flush := func() {
		p.l.AddRibbon(display.Ribbon{
			Points: ribs[:n], TwistDepth: 0.8,
			Colour: p.through(eye, t.String), Shade: p.through(eye, t.StringShade),
		})
		n = 0
	}
	add := func(s *section) {
		if n < len(ribs) {
			ribs[n] = s.rib
			n++
		}
	}
	last := p.section(eye, from)
	if last.shown {
		add(&last)
	}
	next := func(at float64) {
		s := p.section(eye, at)
		if s.shown != last.shown {
			edge := p.edge(eye, last, s)
			add(&edge)
		}
		switch {
		case s.shown && (p.inFrame(&s) || p.inFrame(&last)):
			if n == 0 && last.shown {
				add(&last)
			}
			add(&s)
		case n > 0:
			flush()
		}
		last = s
	}
	for _, at := range p.places[:p.count] {
		if at < from && at > to {
			next(at)
		}
	}
	next(to)
	flush()
}

// section is the strand of an eye at a place.
func (p *patient) section(eye int, at float64) section {
	images, parted := p.images(p.s.Place(at), at)
	i := p.before(eye, at, images[eye])
	if p.lustre() && images[1-eye].ok {
		i.opacity *= parted + (1-parted)*p.turn(eye, at)
	}
	s := section{at: at}
	point, stretch, ok := p.page(i.at)
	if !ok || !i.ok || i.distance <= 0 {
		return s
	}
	s.rib = display.RibbonPoint{
		At:      point,
		Half:    p.scale * stretch * p.s.String.Thickness / 2 / i.distance,
		Soft:    p.scale * stretch * i.blur / 2,
		Opacity: i.opacity,
		Twist:   -at / (twistLength * p.s.String.Thickness),
	}
	s.shown = !p.hidden(eye, at, images[eye])
	return s
}

// before is the strand where it stands before the fixated bead, as far as that is
// single: solid there, and not mixed with what the other eye sees of the bead; and
// running into the one hole that is drawn.
func (p *patient) before(eye int, at float64, i image) image {
	b := p.s.FixatedBead()
	if p.alone || b == sim.NoBead || at >= p.s.Beads[b].At {
		return i
	}
	bead := &p.s.Beads[b]
	images, parted := p.images(p.s.Place(bead.At), p.v.Target.At)
	if parted == 1 || !images[eye].ok || i.distance >= images[eye].distance {
		return i
	}
	// The place within the outline: 0 in its middle, 1 on it.
	share := math.Asin(min(1, r3.Norm(r3.Cross(direction(i.at), direction(images[eye].at))))) /
		math.Asin(min(1, bead.Diameter/2/images[eye].distance))
	// Solid from just inside the outline.
	i.opacity += (1 - i.opacity) * (1 - parted) * min(max((1.02-share)*6, 0), 1)
	if share < 1 {
		mouth, _ := p.images(p.s.Place(bead.At-bead.Diameter/2), p.v.Target.At)
		mean, _ := part(mouth[sim.RightEye].at, mouth[sim.LeftEye].at, 0)
		to := (1 - parted) * (1 - share*share)
		i.at.X += (mean.X - mouth[eye].at.X) * to
		i.at.Y += (mean.Y - mouth[eye].at.Y) * to
	}
	return i
}

// hidden says whether a nearer bead hides the string at a place from the eye: the
// place lies inside hiddenShare of the bead's outline and beyond its middle.
func (p *patient) hidden(eye int, at float64, i image) bool {
	for b := range p.s.Beads {
		bead := &p.s.Beads[b]
		if bead.At >= at {
			continue
		}
		c := p.v.SightOf(eye, p.s.Place(bead.At), bead.At)
		if !c.Ahead || i.distance <= c.Distance {
			continue
		}
		images, _ := p.images(p.s.Place(bead.At), p.zonePlace(b))
		if !images[eye].ok {
			continue
		}
		a, d := direction(i.at), direction(images[eye].at)
		if math.Asin(min(1, r3.Norm(r3.Cross(a, d)))) < hiddenShare*math.Asin(min(1, bead.Diameter/2/c.Distance)) &&
			r3.Dot(a, d) > 0 {
			return true
		}
	}
	return false
}

// edge is the last section that shows between two neighbours, of which one shows.
func (p *patient) edge(eye int, a, b section) section {
	shown, gone := a, b
	if b.shown {
		shown, gone = b, a
	}
	for range 12 {
		mid := p.section(eye, (shown.at+gone.at)/2)
		if mid.shown {
			shown = mid
		} else {
			gone = mid
		}
	}
	return shown
}

// inFrame says whether any of a cross-section may show in the frame.
func (p *patient) inFrame(s *section) bool {
	r := s.rib.Half + s.rib.Soft
	x, y := s.rib.At.X, s.rib.At.Y
	return x+r > p.frame.X && x-r < p.frame.X+p.frame.W && y+r > p.frame.Y && y-r < p.frame.Y+p.frame.H
}
