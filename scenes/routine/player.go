package routine

import (
	"math"
	"slices"

	"twincord/sim"
)

// At is the step of a routine at a moment, s after its beginning, and how long it
// has been going on. Before the beginning it is the first step, after the end the last.
// There must be steps.
func At(steps []Step, seconds float64) (step int, since float64) {
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

// Along is, at a moment of a step, a number that every step has one of: while a bead is
// moved it goes over from that of the step before.
func Along[T ~float64](steps []Step, each []T, step int, since float64) T {
	now, move := each[step], steps[step].Move
	if step == 0 || since >= move {
		return now
	}
	before := each[step-1]
	return before + (now-before)*T(since/move)
}

// Moved says whether a bead is moved from each step to the next, so that what is shown
// can go along with it; else the eyes jump.
func Moved(steps []Step) bool {
	return !slices.ContainsFunc(steps[min(1, len(steps)):], func(s Step) bool { return s.Move <= 0 })
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
