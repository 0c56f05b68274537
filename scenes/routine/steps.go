package routine

import (
	"strings"

	"twincord/scenes"
	"twincord/sim"
)

// MoveTime is how long a bead takes to be moved a step, and the eyes with it, in
// seconds (a modelling choice).
const MoveTime = 1.

// Step is one place of a routine, where it holds.
type Step struct {
	// Setup is what is looked at, with the patient's hold as the steps before left it.
	// In jumps its Look.From is the bead before.
	Setup sim.Setup
	At    float64 // the place looked at, mm along the string
	Bead  string  // the bead's name; empty on a bare string
	Round int     // from 0
	Way   Way
	Begin float64 // of the step, s after the routine's: first the bead is moved there
	Move  float64 // how long, s
	Hold  float64 // s
	// Expected is what the model expects there once the eyes have come to rest. What
	// comes and goes is as it is at the beginning of the hold.
	Expected sim.Account
	// LetGo says that the patient's findings do not hold the place: it is double for
	// good. An eye that is covered or left out lets go of nothing that is seen.
	LetGo bool
}

// End is when the step is over, s after the routine's beginning.
func (s *Step) End() float64 { return s.Begin + s.Move + s.Hold }

// Look fills v with what the model expects at the step once the eyes have come to rest.
func (s *Step) Look(v *sim.View) {
	settled := s.Setup.Settled()
	v.Look(&settled)
}

// Goal fills v with what is hoped for at the step: what is seen with both eyes on the
// place.
func (s *Step) Goal(v *sim.View) {
	goal := s.Setup.OnTarget()
	v.Look(&goal)
}

// Way is which way a step goes.
type Way string

// The ways of a step.
const (
	Start  Way = "start"
	Nearer Way = "nearer"
	Away   Way = "away"
)

// Steps gives the steps of a scene's routine in order; none where it has none. Where
// the findings let go, a walk turns round; its later rounds go no nearer than where
// they did not, and there are none while it is double where it begins.
func Steps(sc *scenes.Scene) []Step {
	if !sc.Routine.OK {
		return nil
	}
	w := walker{state: sc.Setup.Findings.Value.State, hold: sc.Routine.Value.Hold}
	if sc.Routine.Value.Kind == Jumps {
		w.jump(sc)
	} else {
		w.walk(sc)
	}
	return w.steps
}

// walker collects the steps of a routine.
type walker struct {
	steps []Step
	round int
	hold  float64
	state sim.State // of the patient's hold, after the last step
	view  sim.View
}

// add takes a step, and says whether the findings let go of it.
func (w *walker) add(setup sim.Setup, move float64) (letGo bool) {
	setup.Findings.Value.State = w.state
	s := Step{Setup: setup, Round: w.round, Move: move, Hold: w.hold, Way: Start}
	s.Look(&w.view)
	s.At, s.Bead, s.Expected = w.view.Target.At, w.view.Account.LookedAt, w.view.Account
	if h := w.view.Holding; h.OK {
		w.state = h.Value.State
		s.LetGo = h.Value.State == sim.StateBroken && h.Value.Why != sim.WhyCovered && h.Value.Why != sim.WhySuppressed
	}
	if n := len(w.steps); n > 0 {
		before := &w.steps[n-1]
		s.Begin, s.Way = before.End(), Away
		if s.At < before.At {
			s.Way = Nearer
		}
	}
	w.steps = append(w.steps, s)
	return s.LetGo
}

// walk takes the steps of walks toward the nose, and back.
func (w *walker) walk(sc *scenes.Scene) {
	r := &sc.Routine.Value
	from := sc.Setup.LookPlace()
	add := func(i int, move float64) (letGo bool) {
		return w.add(sc.Setup.LookingAt(from-float64(i)*r.Step), move)
	}
	nearest := r.Steps
	for w.round = range r.Rounds {
		var letGo bool
		switch {
		case w.round == 0:
			letGo = add(0, 0)
		case r.Ways == scenes.There:
			letGo = add(0, MoveTime)
		default: // the last round ended there
			letGo = w.steps[len(w.steps)-1].LetGo
		}
		if letGo {
			return
		}
		last := 0
		for last < nearest {
			last++
			if add(last, MoveTime) {
				nearest = last - 1
			}
		}
		if r.Ways == scenes.There {
			continue
		}
		for i := last - 1; i >= 0; i-- {
			add(i, MoveTime)
		}
	}
}

// jump takes the steps of jumps from bead to bead, and back.
func (w *walker) jump(sc *scenes.Scene) {
	order := orderOf(sc)
	if sc.Routine.Value.Ways == scenes.ThereAndBack {
		for i := len(order) - 2; i >= 0; i-- {
			order = append(order, order[i])
		}
	}
	before := sim.NoBead
	for w.round = range sc.Routine.Value.Rounds {
		for _, bead := range order {
			if bead == before {
				continue // the last round ended there
			}
			setup := sc.Setup
			setup.Look = sim.Fixation{Bead: bead, Asked: sim.NoBead}
			if before != sim.NoBead {
				setup.Look.From = sim.Some(before)
			}
			w.add(setup, 0)
			before = bead
		}
	}
}

// orderOf is the order of the jumps on the way there. A scene that is being changed may
// name a bead that has gone; it is left out.
func orderOf(sc *scenes.Scene) (order []int) {
	if sc.Routine.Value.Order == "" {
		return sc.Setup.FarToNear()
	}
	for name := range strings.SplitSeq(sc.Routine.Value.Order, "\n") {
		if bead := sc.BeadNamed(name); bead != sim.NoBead {
			order = append(order, bead)
		}
	}
	return order
}
