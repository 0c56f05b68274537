package render

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/render/display"
	"twincord/sim"
)

// strand is a stretch of the string between two things on it.
type strand struct {
	from, to float64 // the farther place and the nearer one
	bead     int     // whose hole it runs into at from, or NoBead
	mouth    [2]image
}

// section is one cross-section of a strand.
type section struct {
	at    float64
	shown bool // to be drawn
	rib   display.RibbonPoint
}

// strands draws a stretch of the string: each eye's image of it and, where the two are
// one, that one, so that it is no wider and no brighter than a strand.
func (p *patient) strands(layer func(paint func(eye sim.Eye)), s strand) {
	if s.from <= s.to {
		return
	}
	if s.bead != sim.NoBead {
		c := p.cord(s.from)
		for e := range sim.Eyes {
			s.mouth[e] = p.before(e, s.from, c.image[e])
		}
	}
	layer(func(e sim.Eye) {
		p.ribbons(s, p.through(e, p.o.theme().String), p.through(e, p.o.theme().StringShade),
			func(at float64) section { return p.section(e, s, at) })
	})
	if p.fuses() {
		// It belongs to neither eye: the other one of its pair is empty.
		layer(func(e sim.Eye) {
			if e == sim.RightEye {
				p.ribbons(s, p.o.theme().String, p.o.theme().StringShade,
					func(at float64) section { return p.fused(s, at) })
			}
		})
	}
}

// ribbons draws what shows of a strand from its farther end to its nearer one: as many
// ribbons as there are stretches that show and touch the frame.
func (p *patient) ribbons(s strand, lit, shade display.Colour, of func(at float64) section) {
	var ribs [maxPlaces + 8]display.RibbonPoint
	n := 0
	flush := func() {
		p.l.AddRibbon(display.Ribbon{Points: ribs[:n], TwistDepth: 0.8, Colour: lit, Shade: shade})
		n = 0
	}
	add := func(s *section) {
		if n < len(ribs) {
			ribs[n] = s.rib
			n++
		}
	}
	last := of(s.from)
	if last.shown {
		add(&last)
	}
	next := func(at float64) {
		now := of(at)
		if now.shown != last.shown {
			edge := edge(last, now, of)
			add(&edge)
		}
		switch {
		case now.shown && (p.inFrame(&now) || p.inFrame(&last)):
			if n == 0 && last.shown {
				add(&last)
			}
			add(&now)
		case n > 0:
			flush()
		}
		last = now
	}
	for _, at := range p.places[:p.count] {
		if at < s.from && at > s.to {
			next(at)
		}
	}
	next(s.to)
	flush()
}

// fuses says whether any of the string is drawn once for both eyes. Behind different
// filters the eyes take turns instead.
func (p *patient) fuses() bool { return !p.alone && !p.lustre() }

// runOn is the share of strandsPart down to which each eye's own strand goes on inside
// the stretch that is drawn once, so that no gap shows where the one begins.
const runOn = 0.6

// cord is the string at a place as drawn for both eyes: parting gently, and the more
// see-through the farther the two strands lie apart, in widths of theirs.
func (p *patient) cord(at float64) pair {
	if c, ok := p.kept.cord(at); ok {
		return *c
	}
	c := p.pair(p.s.Place(at), at, func(share float64) float64 {
		return 1 - (1-strandsParting(share))*p.merging
	})
	r, l := &c.image[sim.RightEye], &c.image[sim.LeftEye]
	apart := 1.
	if wide := 2 * max(p.halfWidth(r), p.halfWidth(l)); wide > 0 {
		apart = smooth((distance(r.at, l.at)/wide - 0.5) / 4)
	}
	p.seeThrough(&c, apart)
	p.kept.keep(at, &c)
	return c
}

func distance(a, b sim.XY) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// merge says how far the two strands are drawn as one where they fuse, 0 – 1: not at all
// where that stretch is no longer than the string is wide. Two strings that run
// straight through one another are plainer there than a knot.
func (p *patient) merge() float64 {
	st := &p.v.Strings
	if p.lustre() {
		return 1
	}
	if p.alone || !st.FusedFrom.OK || !st.FusedTo.OK {
		return 0
	}
	mean := func(at float64) (sim.XY, float64) {
		c := p.pair(p.s.Place(at), at, func(float64) float64 { return 0 })
		r, l := &c.image[sim.RightEye], &c.image[sim.LeftEye]
		middle, _ := part(r.at, l.at, 0)
		return middle, p.halfWidth(r) + p.halfWidth(l)
	}
	a, wideA := mean(st.FusedFrom.Value)
	b, wideB := mean(st.FusedTo.Value)
	return smooth((2*distance(a, b)/(wideA+wideB) - 1) / 1.5)
}

// halfWidth is half of how wide the string is seen, with its blur, radians.
func (p *patient) halfWidth(i *image) float64 {
	if i.distance <= 0 {
		return 0
	}
	return (p.s.String.Thickness/i.distance + i.blur) / 2
}

// section is an eye's own strand at a place.
func (p *patient) section(eye sim.Eye, s strand, at float64) section {
	c := p.cord(at)
	own := p.seen(eye, s, at, &c)
	if own.shown && p.fuses() && c.parted == 0 && c.share < runOn*strandsPart {
		other := p.seen(eye.Other(), s, at, &c)
		own.shown = !other.shown
	}
	return own
}

// fused is the string at a place where both eyes have it as one.
func (p *patient) fused(s strand, at float64) section {
	c := p.cord(at)
	if c.parted > 0 {
		return section{at: at}
	}
	r, l := p.seen(sim.RightEye, s, at, &c), p.seen(sim.LeftEye, s, at, &c)
	mean := func(a, b float64) float64 { return (a + b) / 2 }
	return section{at: at, shown: r.shown && l.shown, rib: display.RibbonPoint{
		At:      display.Point{X: mean(r.rib.At.X, l.rib.At.X), Y: mean(r.rib.At.Y, l.rib.At.Y)},
		Half:    mean(r.rib.Half, l.rib.Half),
		Soft:    mean(r.rib.Soft, l.rib.Soft),
		Opacity: 1 - (1-r.rib.Opacity)*(1-l.rib.Opacity),
		Twist:   r.rib.Twist,
	}}
}

// seen is an eye's image of the string at a place, whether or not it is drawn once for
// both.
func (p *patient) seen(eye sim.Eye, s strand, at float64, c *pair) section {
	i := p.before(eye, at, c.image[eye])
	if p.lustre() && c.image[eye.Other()].ok {
		i.opacity *= c.parted + (1-c.parted)*p.turn(eye, at)
	}
	x := section{at: at}
	point, stretch, ok := p.page(i.at)
	if !ok || !i.ok || i.distance <= 0 {
		return x
	}
	half, opacity := p.taper(&s.mouth[eye], s.bead, at, i.at)
	x.rib = display.RibbonPoint{
		At:      point,
		Half:    p.scale * stretch * half * p.s.String.Thickness / 2 / i.distance,
		Soft:    p.scale * stretch * i.blur / 2,
		Opacity: opacity * i.opacity,
		Twist:   -at / (twistLength * p.s.String.Thickness),
	}
	x.shown = !p.hidden(eye, at, c.image[eye])
	return x
}

// taper is what is left of the string's width and of its opacity near its ends: it goes
// down into the hole of the bead at its farther end, and fades out at the nose.
func (p *patient) taper(mouth *image, b int, at float64, place sim.XY) (half, opacity float64) {
	half, opacity = 1, smooth(at/noseFade)
	if b == sim.NoBead || mouth.distance <= 0 {
		return half, opacity
	}
	bead := &p.s.Beads[b]
	d := distance(place, mouth.at) / (bead.Diameter / 2 / mouth.distance)
	return 1 - holeTaper*(1-smooth(d/(2.5*bore))), opacity * smooth((d+bore/4)/(1.2*bore))
}

// before is the strand where it stands before the fixated bead, as far as that is
// single: solid there, and not mixed with what the other eye sees of the bead; and
// running into the one hole that is drawn.
func (p *patient) before(eye sim.Eye, at float64, i image) image {
	b := p.s.FixatedBead()
	if p.alone || b == sim.NoBead || at >= p.s.Beads[b].At {
		return i
	}
	bead := &p.s.Beads[b]
	x := p.beadPair(b)
	images, parted := &x.image, x.parted
	if parted == 1 || !images[eye].ok || i.distance >= images[eye].distance {
		return i
	}
	// The place within the outline: 0 in its middle, 1 on it.
	share := math.Asin(min(1, r3.Norm(r3.Cross(direction(i.at), direction(images[eye].at))))) /
		math.Asin(min(1, bead.Diameter/2/images[eye].distance))
	// Solid from just inside the outline.
	i.opacity += (1 - i.opacity) * (1 - parted) * unit((1.02-share)*6)
	if share < 1 {
		mouth := p.cord(bead.At - bead.Diameter/2).image
		mean, _ := part(mouth[sim.RightEye].at, mouth[sim.LeftEye].at, 0)
		to := (1 - parted) * (1 - share*share)
		i.at.X += (mean.X - mouth[eye].at.X) * to
		i.at.Y += (mean.Y - mouth[eye].at.Y) * to
	}
	return i
}

// hidden says whether a nearer bead hides the string at a place from the eye: the
// place lies inside hiddenShare of the bead's outline and beyond its middle.
func (p *patient) hidden(eye sim.Eye, at float64, i image) bool {
	for b := range p.s.Beads {
		bead := &p.s.Beads[b]
		if bead.At >= at {
			continue
		}
		c := &p.beadPair(b).image[eye]
		if !c.ok || i.distance <= c.distance {
			continue
		}
		a, d := direction(i.at), direction(c.at)
		if math.Asin(min(1, r3.Norm(r3.Cross(a, d)))) < hiddenShare*math.Asin(min(1, bead.Diameter/2/c.distance)) &&
			r3.Dot(a, d) > 0 {
			return true
		}
	}
	return false
}

// edge is the last section that shows between two neighbours, of which one shows.
func edge(a, b section, of func(at float64) section) section {
	shown, gone := a, b
	if b.shown {
		shown, gone = b, a
	}
	for range 12 {
		mid := of((shown.at + gone.at) / 2)
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
