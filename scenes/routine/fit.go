package routine

import (
	"math"
	"slices"
	"strings"

	"twincord/scenes"
	"twincord/sim"
)

// Usual is the usual routine of a kind for a scene, with as many steps as the string
// has room for.
func Usual(sc *scenes.Scene, k Kind) scenes.Routine {
	r := scenes.DefaultRoutine
	r.Kind = k
	r.Steps = max(1, min(r.Steps, scenes.MostSteps(&sc.Setup, r.Step)))
	r.Step = scenes.RangeOf("routine.step_mm").Clamp(min(r.Step, math.Floor(scenes.WalkRoom(&sc.Setup))))
	return r
}

// Keep makes the routine of a scene one that the scene can do after a change: of the
// kind that what is looked at asks for, with as many steps as there is room for, or
// none.
func Keep(sc *scenes.Scene) {
	if !sc.Routine.OK {
		return
	}
	r, s := &sc.Routine.Value, &sc.Setup
	if r.Kind == Jumps {
		gone := func(name string) bool { return sc.BeadNamed(name) == sim.NoBead }
		if r.Order != "" && slices.ContainsFunc(strings.Split(r.Order, "\n"), gone) {
			r.Order = ""
		}
		sc.Routine.OK = len(s.Beads) >= 2
	} else {
		r.Kind = Walk
		if s.FixatedBead() == sim.NoBead {
			r.Kind = BareString
		}
		r.Steps = min(r.Steps, scenes.MostSteps(s, r.Step))
		sc.Routine.OK = r.Steps >= 1
	}
	if !sc.Routine.OK {
		sc.Routine = sim.Maybe[scenes.Routine]{}
	}
}
