package desk

import (
	"math"

	"twincord/sim"
)

// The steps of the handles. What is pulled lands on them, so that the number
// shown is the number held.
const (
	placeStep     = 1.0  // mm
	deviationStep = 0.1  // Δ
	deviationHold = 0.3  // Δ; about zero the meeting place holds
	deviationMost = 100  // Δ, either way
	arrowPlace    = 10.0 // mm
	arrowPrism    = 0.5  // Δ
)

// state is what a pull changes.
type state struct {
	place     float64
	carrier   int
	look      sim.Fixation
	beadAt    float64 // of the bead that is pulled
	deviation sim.Prism
}

func (d *Desk) state(p part) state {
	s := state{place: d.place, carrier: d.carrier, look: d.setup.Look, deviation: d.setup.Posture.Deviation}
	if p.kind == bead {
		s.beadAt = d.setup.Beads[p.bead].At
	}
	return s
}

// restore puts back what pulling p has changed.
func (d *Desk) restore(p part, s state) {
	if d.state(p) == s {
		return
	}
	d.place, d.carrier, d.setup.Look, d.setup.Posture.Deviation = s.place, s.carrier, s.look, s.deviation
	if p.kind == bead {
		d.setup.Beads[p.bead].At = s.beadAt
	}
	d.edits++
}

// moveTarget makes the eyes aim at a place on the string: at the bead whose body
// it is in, else at the bare string. The deviation stays, so that the meeting
// place comes along.
func (d *Desk) moveTarget(at float64) {
	was := d.setup.Look
	d.place = math.Max(0, math.Min(at, d.setup.String.Length))
	d.carrier = d.beadAt(d.place)
	d.aim()
	if d.setup.Look != was {
		d.edits++
	}
}

// aim works out what is looked at from the place.
func (d *Desk) aim() {
	look := sim.Fixation{Bead: d.beadAt(d.place), At: d.place, Asked: d.setup.Look.Asked}
	if look.Bead != sim.NoBead {
		look.At = d.setup.Beads[look.Bead].At
	}
	d.setup.Look = look
}

// beadAt is the bead in whose body a place is, the nearest where two touch, else
// NoBead.
func (d *Desk) beadAt(at float64) int {
	found, nearest := sim.NoBead, math.Inf(1)
	for i, b := range d.setup.Beads {
		if off := math.Abs(at - b.At); off <= b.Diameter/2 && off < nearest {
			found, nearest = i, off
		}
	}
	return found
}

// stepTarget moves the target by a step along the string; from within a bead at
// least out of its body, so that every step is seen.
func (d *Desk) stepTarget(step float64) {
	from := d.setup.LookPlace()
	to := from + step
	if i := d.setup.Look.Bead; i != sim.NoBead && d.beadAt(to) == i {
		out := math.Floor(d.setup.Beads[i].Diameter/2/placeStep)*placeStep + placeStep
		to = from + math.Copysign(out, step)
	}
	d.moveTarget(to)
}

// moveBead moves a bead as far towards a place as its neighbours and the ends of
// the string allow. The bead that is looked at takes the target along, and with
// it the meeting place; one that only passes over the target does not.
func (d *Desk) moveBead(i int, at float64) {
	lo, hi := 0.0, d.setup.String.Length
	b := &d.setup.Beads[i]
	for j, o := range d.setup.Beads {
		apart := (b.Diameter + o.Diameter) / 2
		switch {
		case j == i:
		case o.At < b.At:
			lo = math.Max(lo, o.At+apart)
		default:
			hi = math.Min(hi, o.At-apart)
		}
	}
	at = math.Max(lo, math.Min(at, hi))
	if at == b.At {
		return
	}
	b.At = at
	if d.carrier == i {
		d.place = at
	}
	d.aim()
	d.edits++
}

// setDeviation turns the eyes to an error of so many Δ and leaves the target.
func (d *Desk) setDeviation(p sim.Prism) {
	p = max(-deviationMost, min(p, deviationMost))
	d.field = field{}
	if p != d.setup.Posture.Deviation {
		d.setup.Posture.Deviation = p
		d.edits++
	}
}

// meetAt turns the eyes so that they meet at x on the scale of the bar.
func (d *Desk) meetAt(x float64) {
	// The vergence is the demand plus the error (M4), so a step of the one is a
	// step of the other.
	most := sim.Prism(deviationMost).Angle()
	e := d.setup.Posture.Deviation.Angle() + xVergence(x, d.setup.Patient.PD) - d.view.Axes.Vergence
	p := sim.Prism(snap(float64(max(-most, min(e, most)).Prism()), deviationStep))
	if math.Abs(float64(p)) <= deviationHold {
		p = 0
	}
	d.setDeviation(p)
}

// snap is the multiple of step nearest to v; never −0.
func snap(v, step float64) float64 {
	n := math.Round(1 / step)
	return math.Round(v*n)/n + 0
}

// drag brings what is pulled to x on the scale of the bar.
func (d *Desk) drag(p part, x float64) {
	switch p.kind {
	case target:
		d.moveTarget(snap(d.placeX(x), placeStep))
	case bead:
		d.moveBead(p.bead, snap(d.placeX(x), placeStep))
	case meeting:
		d.meetAt(x)
	}
}

// placeX is the place on the string at x on the scale of the bar.
func (d *Desk) placeX(x float64) float64 {
	if x >= 1 {
		return d.setup.String.Length
	}
	return placeAt(&d.setup, xDistance(x))
}

// step moves what has the focus by n arrow keys, farther from the nose +.
func (d *Desk) step(p part, n float64) {
	switch p.kind {
	case target:
		d.stepTarget(n * arrowPlace)
	case bead:
		d.moveBead(p.bead, d.setup.Beads[p.bead].At+n*arrowPlace)
	case meeting:
		d.setDeviation(d.setup.Posture.Deviation - sim.Prism(snap(n*arrowPrism, deviationStep/2)))
	}
}

// home sends what has the focus to its beginning.
func (d *Desk) home(p part) {
	switch p.kind {
	case target:
		d.moveTarget(0)
	case bead:
		d.moveBead(p.bead, 0)
	case meeting:
		d.setDeviation(0)
	}
}
