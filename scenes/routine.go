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

// RoutineKinds are all kinds of routine.
var RoutineKinds = []RoutineKind{Walk, Jumps, BareString}

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

// DefaultRoutine is common practice, no source: ten steps of 5 cm there and back, held
// five seconds each; three beads, there and back counting one.
var DefaultRoutine = Routine{Kind: Walk, Step: 50, Steps: 10, Ways: ThereAndBack, Rounds: 1, Hold: 5}

// WalkRoom is how far a walk can go from the place looked at toward the nose, mm.
func WalkRoom(s *sim.Setup) float64 {
	_, nearest := s.WalkEnds()
	return s.LookPlace() - nearest
}

// MostSteps is how many steps of a length, mm, a walk has room for toward the nose.
func MostSteps(s *sim.Setup, step float64) int {
	return int(math.Floor((WalkRoom(s) + sim.Touching) / step))
}

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
	switch {
	case r.Kind == Jumps && len(s.Beads) < 2:
		refuse(fmt.Sprintf("jumps need at least two beads; there are %d", len(s.Beads)), "kind")
	case r.Kind == Jumps:
	case r.Kind == Walk && bead == sim.NoBead:
		refuse("a walk moves a bead, and there is none where the scene looks; allowed with look.bead", "kind")
	case r.Kind == BareString && bead != sim.NoBead:
		refuse("there is a bead where the scene looks; allowed with look.at_mm outside of beads", "kind")
	case r.Steps > MostSteps(s, r.Step):
		_, nearest := s.WalkEnds()
		from := s.LookPlace()
		end := from - float64(r.Steps)*r.Step
		refuse(fmt.Sprintf("%d steps of %s from %s end at %s, off the string; allowed is an end at %s or more",
			r.Steps, measured(decimals(r.Step), mm), measured(decimals(from), mm), measured(decimals(math.Floor(10*end)/10), mm),
			measured(decimals(nearest), mm)), "step_mm", "steps")
	}
}
