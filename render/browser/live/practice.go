package live

import (
	"fmt"
	"math"

	"twincord/render/words"
	"twincord/scenes/routine"
	"twincord/sim"
)

// Practice is the routine of the scene in words, for somebody who goes through it.
type Practice struct {
	Steps     []Step
	Questions []string
}

// Step is a step of a routine.
type Step struct {
	Title string
	Says  string  // what is seen there
	Right bool    // the model expects one thing there, and the strings cross in it
	Away  bool    // the way goes out again
	At    float64 // mm along the string
	Move  float64 // s until it is there
	Hold  float64 // s
}

// Other is another answer than the one hoped for.
type Other struct {
	Heard string // in the child's words
	Sees  string // that what is shown is what may be seen by who says so
	Means string
	Tries []string
	Stop  string // when to stop
	Back  bool   // if it stays so, the way goes back to a place farther out
}

// Practice gives the routine; it has no steps where the scene has none.
func (e *Engine) Practice() Practice {
	p := Practice{Steps: []Step{}}
	if len(e.steps) == 0 {
		return p
	}
	for i := range e.steps {
		s := &e.steps[i]
		place := e.say.Length(s.At)
		if s.Bead != "" {
			place = e.say.Filled(words.SheetPlace, "Bead", s.Bead, "At", place)
		}
		p.Steps = append(p.Steps, Step{
			Title: e.say.StepOf(i+1, len(e.steps), place), Says: e.says(i), Right: routine.Right(&s.Expected),
			Away: s.Way == routine.Away, At: s.At, Move: s.Move, Hold: math.Round(s.Hold),
		})
	}
	for _, q := range routine.Questions(e.kind()) {
		p.Questions = append(p.Questions, e.say.Ask(string(q)))
	}
	return p
}

// says is what is said of a step for as long as it lasts: what is seen once the eyes are
// there, in the middle of a waver. What jumps and wavers is another sentence faster than
// anybody reads one.
func (e *Engine) says(i int) string {
	s := &e.steps[i]
	s.Look(&e.settled)
	e.settled.Now.Hold = s.Setup.Hold
	return e.say.Family(&e.settled)
}

func (e *Engine) kind() routine.Kind { return e.scene.Routine.Value.Kind }

// Step goes to a step of the routine, or with a number below 0 leaves it.
func (e *Engine) Step(i int) error {
	if i >= len(e.steps) {
		return fmt.Errorf("there is no step %d; there are %d", i, len(e.steps))
	}
	e.step = max(i, none)
	e.hears()
	return nil
}

// hears finds what else may be answered at the step that is shown.
func (e *Engine) hears() {
	e.replies, e.heard = nil, none
	if e.step != none {
		e.stands = e.says(e.step)
		e.replies = routine.Others(e.kind(), e.steps[e.step:e.step+1])
	}
}

// Others are the other answers at the step that is shown.
func (e *Engine) Others() []Other {
	all := []Other{}
	for i := range e.replies {
		o := &e.replies[i]
		heard := e.say.Heard(string(o.Answer))
		it := Other{
			Heard: heard, Sees: e.say.Filled(words.SheetOtherAlt, "Heard", heard), Means: e.say.Means(string(o.Answer)),
			Stop: e.say.StopWhen(string(o.Stop())),
			Back: o.Stop() == routine.StopThere || o.Stop() == routine.StopAsked,
		}
		for _, t := range o.Answer.Tries(e.kind()) {
			it.Tries = append(it.Tries, e.say.Try(string(t)))
		}
		all = append(all, it)
	}
	return all
}

// Hear shows what is seen by somebody who gives another answer at this step; with a number
// below 0 the step is shown again.
func (e *Engine) Hear(i int) error {
	if i >= len(e.replies) {
		return fmt.Errorf("there is no other answer %d here; there are %d", i, len(e.replies))
	}
	e.heard = max(i, none)
	return nil
}

// slides is how long what slides goes to and fro, s: once, and then it rests.
const slides = 4.

// lookHeard sees what is seen with another answer. What slides has two ends of its way.
func (e *Engine) lookHeard(seconds float64) (moves bool) {
	shows := e.replies[e.heard].Shows
	s := shows[0]
	if len(shows) > 1 && seconds < slides {
		from, to := float64(s.Posture.Deviation), float64(shows[1].Posture.Deviation)
		s.Posture.Deviation = sim.Prism((from+to)/2 + (from-to)/2*math.Cos(2*math.Pi*seconds/slides))
		moves = true
	}
	e.view.Look(&s)
	return moves
}
