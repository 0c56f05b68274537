package live

import (
	"math"

	"twincord/render/words"
	"twincord/scenes/routine"
	"twincord/sim"
)

// Practice is the routine of the scene in words, for somebody who goes through it.
type Practice struct {
	Steps     []Step
	Questions []string
	Answers   []Answer // other ones than the one hoped for
	Tries     []string // after one of those
}

// Step is a step of a routine.
type Step struct {
	Title    string
	Expected string  // what the model expects
	Right    bool    // that is one thing, and the strings cross in it
	Away     bool    // the way goes out again
	At       float64 // mm along the string
	Move     float64 // s until it is there
	Hold     float64 // s
}

// Answer is another answer, and what it means.
type Answer struct {
	Heard string
	Means string
}

// Practice gives the routine; it has no steps where the scene has none.
func (e *Engine) Practice() Practice {
	p := Practice{Steps: []Step{}}
	if len(e.steps) == 0 {
		return p
	}
	var v sim.View
	for i := range e.steps {
		s := &e.steps[i]
		s.Look(&v)
		place := e.say.Length(s.At)
		if s.Bead != "" {
			place = e.say.Filled(words.SheetPlace, "Bead", s.Bead, "At", place)
		}
		p.Steps = append(p.Steps, Step{
			Title: e.say.StepOf(i+1, len(e.steps), place), Expected: e.say.Family(&v), Right: routine.Right(&s.Expected),
			Away: s.Way == routine.Away, At: s.At, Move: s.Move, Hold: math.Round(s.Hold),
		})
	}
	kind := e.scene.Routine.Value.Kind
	for _, q := range routine.Questions(kind) {
		p.Questions = append(p.Questions, e.say.Ask(string(q)))
	}
	for _, a := range routine.Answers(kind) {
		heard, means := e.say.OtherAnswer(string(a))
		p.Answers = append(p.Answers, Answer{heard, means})
	}
	for _, t := range routine.Tries(kind) {
		p.Tries = append(p.Tries, e.say.Try(string(t)))
	}
	return p
}
