package scenes

import (
	"math"

	"twincord/sim"
)

// What one part of a scene leaves to another: the couplings that the loader refuses to
// break, as ranges for those who move something.

// Room is what the rest of a set-up leaves of a range of the key; bead is the bead that
// a key of beads is of.
func (k *Key) Room(s *sim.Setup, bead int, r Range) Range {
	if k.Table == beads && bead >= len(s.Beads) {
		return r
	}
	switch k.Path() {
	case "string.length_mm":
		r.Min = max(r.Min, LengthRoom(s).Min)
	case "string.sag_mm":
		r.Max = min(r.Max, sim.SagShare*s.String.Length)
	case "look.at_mm":
		r.Max = min(r.Max, s.String.Length)
	case "beads[].at_mm":
		r = BeadRoom(s, bead)
	case "beads[].diameter_mm":
		for i := range s.Beads {
			if o := &s.Beads[i]; i != bead {
				r.Max = min(r.Max, 2*math.Abs(o.At-s.Beads[bead].At)-o.Diameter)
			}
		}
	}
	return r
}

// BeadRoom is where a bead may be: its neighbours and the ends of the string stop it.
func BeadRoom(s *sim.Setup, bead int) Range {
	room := Range{Min: 0, Max: s.String.Length}
	b := &s.Beads[bead]
	for i := range s.Beads {
		o := &s.Beads[i]
		apart := (b.Diameter + o.Diameter) / 2
		switch {
		case i == bead:
		case o.At < b.At:
			room.Min = max(room.Min, o.At+apart)
		default:
			room.Max = min(room.Max, o.At-apart)
		}
	}
	return room
}

// Touching is a bead that another one touches, so that it stops it, or sim.NoBead.
func Touching(s *sim.Setup, bead int) int {
	b := &s.Beads[bead]
	for i := range s.Beads {
		o := &s.Beads[i]
		if i != bead && math.Abs(o.At-b.At) <= (b.Diameter+o.Diameter)/2+sim.Touching {
			return i
		}
	}
	return sim.NoBead
}

// LengthRoom is how long the string may be: as far as its beads and what is looked at
// lie, as it hangs down, and as its anchor is to the side.
func LengthRoom(s *sim.Setup) Range {
	const ahead = 1 // mm, at least, that the anchor is farther ahead than the near end
	room, n := lengths, s.String.NearEnd
	aside := math.Hypot(s.String.AnchorSide-n.X, s.String.AnchorHeight-n.Z)
	room.Min = max(room.Min, s.String.Sag/sim.SagShare, math.Ceil(aside+ahead))
	if s.Look.Bead == sim.NoBead {
		room.Min = max(room.Min, s.Look.At)
	}
	for i := range s.Beads {
		room.Min = max(room.Min, s.Beads[i].At)
	}
	return room
}
