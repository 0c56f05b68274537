package scenes

import (
	"fmt"
	"math"
	"slices"
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
// where the scene looks, and other beads are then off the string; jumps begin at the
// farthest bead.
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
	// Expected is what the model expects there once the eyes have come to rest. What
	// comes and goes is as it is at the beginning of the hold.
	Expected sim.Account
	// LetGo says that the patient's findings do not hold the place: it is double for
	// good. An eye that is covered or left out lets go of nothing that is seen.
	LetGo bool
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
// Where the findings let go, a walk turns round; its later rounds go no nearer than where
// they did not, and there are none while it is double where it begins.
func (sc *Scene) RoutineSteps() []Step {
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
	settled := setup
	settled.Look.From, settled.Hold.SD = sim.Maybe[int]{}, 0
	w.view.Look(&settled)
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
func (w *walker) walk(sc *Scene) {
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
		case r.Ways == There:
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
		if r.Ways == There {
			continue
		}
		for i := last - 1; i >= 0; i-- {
			add(i, MoveTime)
		}
	}
}

// jump takes the steps of jumps from bead to bead, and back.
func (w *walker) jump(sc *Scene) {
	order := sc.order()
	if sc.Routine.Value.Ways == ThereAndBack {
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

// order is the order of the jumps on the way there. A scene that is being changed may
// name a bead that has gone; it is left out.
func (sc *Scene) order() (order []int) {
	if sc.Routine.Value.Order == "" {
		return sc.Setup.FarToNear()
	}
	for name := range strings.SplitSeq(sc.Routine.Value.Order, "\n") {
		if bead := sc.beadNamed(name); bead != sim.NoBead {
			order = append(order, bead)
		}
	}
	return order
}

// RoutineAt is the step of a routine at a moment, s after its beginning, and how long it
// has been going on. Before the beginning it is the first step, after the end the last.
// There must be steps.
func RoutineAt(steps []Step, seconds float64) (step int, since float64) {
	for step < len(steps)-1 && seconds >= steps[step].End() {
		step++
	}
	return step, math.Max(0, seconds-steps[step].Begin)
}

// setupAt is the set-up of a step, s after its beginning: while a bead is moved it is on
// its way.
func setupAt(steps []Step, step int, since float64) sim.Setup {
	s := &steps[step]
	setup := s.Setup
	if since < s.Move && step > 0 {
		before := steps[step-1].At
		setup = setup.LookingAt(before + (s.At-before)*since/s.Move)
	}
	// Each step wavers in its own way.
	setup.Hold.Seed += uint64(step)
	return setup
}

// Player shows what is seen in a routine as time goes on. Each moment is as it is,
// whatever was asked for before; asking in order is what it is quick at.
type Player struct {
	steps  []Step
	course sim.Course
	held   int // the step that the course is of
}

// NewPlayer plays the steps of a routine.
func NewPlayer(steps []Step) *Player { return &Player{steps: steps, held: -1} }

// Look fills v with what is seen in a step, s after its beginning. A hold may last
// longer than the routine has it.
func (p *Player) Look(v *sim.View, step int, since float64) {
	// While a bead is moved, each moment is a set-up of its own.
	moving := since < p.steps[step].Move
	if moving || step != p.held {
		setup := setupAt(p.steps, step, since)
		p.course.Start(&setup)
		p.held = step
	}
	if moving {
		p.held = -1
	}
	p.course.Look(v, since)
}

// Still says whether nothing changes any more in the step that was looked at last.
func (p *Player) Still(since float64) bool { return p.course.Still(since) }

// routine refuses a routine that the scene cannot do. Of a scene in which what it needs
// is at fault, nothing is said.
func (l *loader) routine() {
	at := l.root.children[routine]
	if at == nil || at.kind != isTable || slices.ContainsFunc(l.found, func(f found) bool {
		table, _, _ := strings.Cut(f.key, ".")
		return table == routine || table == "string" || table == "look" || strings.HasPrefix(table, "beads")
	}) {
		return
	}
	r, s := &l.scene.Routine.Value, &l.scene.Setup
	// The fault stands at the last of these keys that the file gives, or at the table.
	refuse := func(problem string, names ...string) {
		key := routine + ".kind"
		for _, name := range names {
			if n := l.good[dotted(routine, name)]; n != nil {
				at, key = n, dotted(routine, name)
			}
		}
		l.fault(at.at, key, problem)
	}
	bead := s.FixatedBead()
	_, nearest := s.WalkEnds()
	from := s.LookPlace()
	end := from - float64(r.Steps)*r.Step
	switch {
	case r.Kind == Jumps && len(s.Beads) < 2:
		refuse(fmt.Sprintf("jumps need at least two beads; there are %d", len(s.Beads)), "kind")
	case r.Kind == Jumps:
	case r.Kind == Walk && bead == sim.NoBead:
		refuse("a walk moves a bead, and there is none where the scene looks; allowed with look.bead", "kind")
	case r.Kind == BareString && bead != sim.NoBead:
		refuse("there is a bead where the scene looks; allowed with look.at_mm outside of beads", "kind")
	case end < nearest-touching:
		refuse(fmt.Sprintf("%d steps of %s from %s end at %s, off the string; allowed is an end at %s or more",
			r.Steps, measured(decimals(r.Step), mm), measured(decimals(from), mm), measured(decimals(math.Floor(10*end)/10), mm),
			measured(decimals(nearest), mm)), "step_mm", "steps")
	}
}
