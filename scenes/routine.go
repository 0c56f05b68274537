package scenes

import (
	"fmt"
	"math"
	"strings"

	"twincord/sim"
)

// RoutineKind is the kind of a routine.
type RoutineKind string

// The kinds of routine.
const (
	Walk       RoutineKind = "walk"        // the bead looked at is moved in steps toward the nose and back
	Jumps      RoutineKind = "jumps"       // the eyes go from bead to bead
	BareString RoutineKind = "bare-string" // places on a string, with no bead at them, looked at in steps
)

// Ways is where a routine goes.
type Ways string

// The ways.
const (
	There        Ways = "there"
	ThereAndBack Ways = "there-and-back"
)

// Routine is what is done with a scene, step by step. A walk and a bare string begin
// where the scene looks; jumps begin at the farthest bead.
type Routine struct {
	Kind   RoutineKind
	Step   float64 // mm
	Steps  int     // on the way there
	Ways   Ways
	Order  string // of the jumps: names of beads, a line each; empty: from the farthest
	Rounds int
	Hold   float64 // s
}

// MoveTime is how long a bead takes to be moved a step, and the eyes with it, in
// seconds (a modelling choice).
const MoveTime = 1.

// DefaultRoutine is common practice, no source: ten steps of 5 cm there and back, held
// five seconds each; three beads, there and back counting one.
var DefaultRoutine = Routine{Kind: Walk, Step: 50, Steps: 10, Ways: ThereAndBack, Rounds: 1, Hold: 5}

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
	// Expected is what the model expects there, at the end of the hold.
	Expected sim.Account
}

// End is when the step is over, s after the routine's beginning.
func (s *Step) End() float64 { return s.Begin + s.Move + s.Hold }

// Way is which way a step goes.
type Way string

// The ways of a step.
const (
	Start  Way = "start"
	Nearer Way = "nearer"
	Away   Way = "away"
)

// RoutineSteps gives the steps of the scene's routine in order; none where it has none.
// With findings a walk stops at the first place where the hold is lost for good, and
// goes back from there.
func (sc *Scene) RoutineSteps() []Step {
	r := &sc.Routine.Value
	var steps []Step
	begin := 0.
	state := sc.Setup.Findings.Value.State
	add := func(round int, setup sim.Setup, move float64) *Step {
		setup.Findings.Value.State = state
		s := Step{Setup: setup, Round: round, Begin: begin, Move: move, Hold: r.Hold, Way: Start}
		var v sim.View
		settled := setup
		settled.Look.From, settled.Hold.SD = sim.Maybe[int]{}, 0
		v.Look(&settled)
		s.At, s.Bead, s.Expected = v.Target.At, v.Account.LookedAt, v.Account
		if v.Holding.OK {
			state = v.Holding.Value.State
		}
		if n := len(steps); n > 0 {
			s.Way = Away
			if s.At < steps[n-1].At {
				s.Way = Nearer
			}
		}
		steps = append(steps, s)
		begin = s.End()
		return &steps[len(steps)-1]
	}
	if !sc.Routine.OK {
		return nil
	}
	for round := range r.Rounds {
		switch r.Kind {
		case Walk, BareString:
			sc.walkRound(round, add)
		case Jumps:
			sc.jumpRound(round, add)
		}
	}
	return steps
}

// walkRound adds the steps of one walk toward the nose and back.
func (sc *Scene) walkRound(round int, add func(int, sim.Setup, float64) *Step) {
	r := &sc.Routine.Value
	from := sc.Setup.LookPlace()
	at := func(i int) sim.Setup { return sc.Setup.LookingAt(from - float64(i)*r.Step) }
	first := 0
	if round > 0 && r.Ways == ThereAndBack {
		first = 1 // the last round ended there
	}
	last := first - 1
	for i := first; i <= r.Steps; i++ {
		move := MoveTime
		if i == 0 && round == 0 {
			move = 0
		}
		last = i
		if s := add(round, at(i), move); s.lost() {
			break
		}
	}
	if r.Ways == There {
		return
	}
	for i := last - 1; i >= 0; i-- {
		add(round, at(i), MoveTime)
	}
}

// lost says whether the patient's findings let go of the step's target.
func (s *Step) lost() bool {
	return s.Setup.Findings.OK && s.Expected.Fixated == sim.SeenTwo
}

// order is the order of the jumps on the way there.
func (sc *Scene) order() []int {
	if sc.Routine.Value.Order == "" {
		return sc.Setup.FarToNear()
	}
	var order []int
	for name := range strings.Lines(sc.Routine.Value.Order) {
		order = append(order, sc.beadNamed(strings.TrimSuffix(name, "\n")))
	}
	return order
}

// jumpRound adds the steps of one round in order, and back.
func (sc *Scene) jumpRound(round int, add func(int, sim.Setup, float64) *Step) {
	order := sc.order()
	if sc.Routine.Value.Ways == ThereAndBack {
		for i := len(order) - 2; i >= 0; i-- {
			order = append(order, order[i])
		}
	}
	before := sim.NoBead
	if round > 0 {
		before = order[len(order)-1]
	}
	for _, bead := range order {
		if bead == before {
			continue // the last round ended there
		}
		setup := sc.Setup
		setup.Look = sim.Fixation{Bead: bead, Asked: sim.NoBead}
		if before != sim.NoBead {
			setup.Look.From = sim.Some(before)
		}
		add(round, setup, 0)
		before = bead
	}
}

// RoutineAt is the step of a routine at a moment, s after its beginning, and the
// set-up of that moment with the time that it has been going on: while a bead is
// moved it is on its way. Before the beginning it is the first step, after the end
// the last.
func RoutineAt(steps []Step, seconds float64) (step int, setup sim.Setup, since float64) {
	for step < len(steps)-1 && seconds >= steps[step].End() {
		step++
	}
	s := &steps[step]
	since = math.Max(0, seconds-s.Begin)
	setup = s.Setup
	// Each step wavers in its own way.
	setup.Hold.Seed += uint64(step)
	if since < s.Move && step > 0 {
		before := steps[step-1].At
		moved := setup.LookingAt(before + (s.At-before)*since/s.Move)
		moved.Hold, setup = setup.Hold, moved
	}
	return step, setup, since
}

// routine refuses a routine that the scene cannot do.
func (l *loader) routine() {
	kind := l.root.children[routine]
	if kind == nil || kind.kind != isTable || l.bad["routine.kind"] {
		return
	}
	if n := l.good["routine.kind"]; n != nil {
		kind = n
	}
	r, s := &l.scene.Routine.Value, &l.scene.Setup
	refuse := func(problem string) { l.fault(kind.at, "routine.kind", problem) }
	switch r.Kind {
	case Jumps:
		if len(s.Beads) < 2 && !l.bad["beads"] {
			refuse(fmt.Sprintf("jumps need at least two beads; there are %d", len(s.Beads)))
		}
	case Walk, BareString:
		bead, place := l.good["look.bead"], l.good["look.at_mm"]
		switch {
		case r.Kind == Walk && bead == nil:
			if place != nil {
				refuse("a walk moves a bead; allowed with look.bead")
			}
			return
		case r.Kind == BareString && place == nil:
			if bead != nil {
				refuse("a bare string has no bead where it is looked at; allowed with look.at_mm")
			}
			return
		}
		l.leaves(kind)
	}
}

// leaves refuses a walk that leaves the string, or comes to another bead.
func (l *loader) leaves(kind *node) {
	r, s := &l.scene.Routine.Value, &l.scene.Setup
	if l.bad["routine.step_mm"] || l.bad["routine.steps"] || len(l.found) > 0 {
		return
	}
	_, nearest := s.WalkEnds()
	from := s.LookPlace()
	last := from - float64(r.Steps)*r.Step
	if last < nearest {
		at, key := kind, "routine.kind"
		for _, k := range []string{"routine.step_mm", "routine.steps"} {
			if n := l.good[k]; n != nil {
				at, key = n, k
			}
		}
		l.fault(at.at, key, fmt.Sprintf("%d steps of %s from %s leave the string; allowed are places of at least %s",
			r.Steps, measured(decimals(r.Step), mm), measured(decimals(from), mm), measured(decimals(nearest), mm)))
	}
}
