package routine

import (
	"cmp"
	"math"
	"slices"

	"twincord/scenes"
	"twincord/sim"
)

// The marks of rulers, mm.
const (
	Millimetre  = 1.
	QuarterInch = 25.4 / 4
)

// OnMarks is the scene with its string, its beads, the place looked at and the step of
// its routine on marks of a ruler, so that the places of the routine are on marks too.
// Beads that would be in each other's way are moved farther out. Steps that no longer
// fit are left out, but for one. A scene that cannot be put on the marks stays as it is.
func OnMarks(sc *scenes.Scene, mark float64) *scenes.Scene {
	o := *sc
	o.Setup = sc.Setup.Clone()
	s, r := &o.Setup, &o.Routine.Value
	near := func(x float64) float64 { return math.Round(x/mark) * mark }
	up := func(x float64) float64 { return math.Ceil(x/mark-1e-9) * mark }

	byPlace := make([]*sim.Bead, len(s.Beads))
	for i := range s.Beads {
		byPlace[i] = &s.Beads[i]
	}
	slices.SortFunc(byPlace, func(a, b *sim.Bead) int { return cmp.Compare(a.At, b.At) })
	least := 0.
	for i, b := range byPlace {
		if i > 0 {
			before := byPlace[i-1]
			least = before.At + (before.Diameter+b.Diameter)/2
		}
		b.At = max(near(b.At), up(least))
	}
	s.Look.At = near(s.Look.At)
	if o.Routine.OK && r.Kind != Jumps {
		r.Step = max(near(r.Step), mark)
		begin := &s.Look.At
		if bead := s.FixatedBead(); bead != sim.NoBead {
			begin = &s.Beads[bead].At
		}
		if room := scenes.WalkRoom(s); room < mark {
			*begin = up(*begin + mark - room)
		}
		r.Step = max(mark, min(r.Step, math.Floor(scenes.WalkRoom(s)/mark+1e-9)*mark))
		r.Steps = max(1, min(r.Steps, scenes.MostSteps(s, r.Step)))
	}
	farthest := s.Look.At
	if len(byPlace) > 0 {
		farthest = max(farthest, byPlace[len(byPlace)-1].At)
	}
	s.String.Length = max(near(s.String.Length), up(farthest))
	s.String.Sag = min(s.String.Sag, sim.SagShare*s.String.Length)
	if o.Check() != nil {
		return sc
	}
	return &o
}
