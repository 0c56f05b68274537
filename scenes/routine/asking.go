package routine

import (
	"math"
	"slices"

	"twincord/sim"
	"twincord/sim/answers"
)

// Question is what to ask at a place.
type Question string

// The questions.
const (
	AskBeads   Question = "beads"   // how many there are
	AskStrings Question = "strings" // how many there are
	AskCross   Question = "cross"   // where they cross
	AskFinger  Question = "finger"  // whether that is where the finger was
	AskClear   Question = "clear"   // whether it is clear or blurred
)

// Questions are what to ask at every place of a routine of a kind, in the order in
// which it is asked.
func Questions(k Kind) []Question {
	if k == BareString {
		return []Question{AskStrings, AskCross, AskFinger, AskClear}
	}
	return []Question{AskBeads, AskStrings, AskCross, AskClear}
}

// Answer is another answer than the one hoped for. Where there is no bead, the strings
// cross nearer or farther than the place looked at.
type Answer string

// The answers.
const (
	TwoBeads        Answer = "two"
	CrossNearer     Answer = "nearer"
	CrossBeyond     Answer = "beyond"
	CrossBareNearer Answer = "bare-nearer"
	CrossBareBeyond Answer = "bare-beyond"
	OneString       Answer = "one"
	OneHigher       Answer = "higher"  // of two beads
	Sliding         Answer = "sliding" // the crossing goes to and fro
	Blurred         Answer = "blurred"
	NothingBehind   Answer = "nothing" // no strings behind a near place
)

// EveryAnswer is every other answer that a routine of a kind has something to say to, in
// the order of its questions.
func EveryAnswer(k Kind) []Answer {
	if k == BareString {
		return []Answer{OneString, NothingBehind, CrossBareNearer, CrossBareBeyond, Sliding, Blurred}
	}
	return []Answer{TwoBeads, OneHigher, OneString, NothingBehind, CrossNearer, CrossBeyond, Sliding, Blurred}
}

// Said is an answer as items: what is told of a view that gives it. Of the crossing that
// slides it is what is told at one end of its way.
func (a Answer) Said() (said answers.Answers) {
	code := func(i answers.Item, c answers.Code) { said.Code[i] = c }
	switch a {
	case TwoBeads:
		code(answers.Bead, answers.Two)
		code(answers.Higher, answers.No)
	case OneHigher:
		code(answers.Bead, answers.Two)
		code(answers.Higher, answers.Yes)
	case CrossNearer, CrossBareNearer, Sliding:
		code(answers.Meet, answers.Nearer)
	case CrossBeyond, CrossBareBeyond:
		code(answers.Meet, answers.Beyond)
	case OneString:
		code(answers.Near, answers.Single)
		code(answers.Far, answers.Single)
	case NothingBehind:
		code(answers.Far, answers.Zero)
	case Blurred:
		code(answers.Clear, answers.Blurred)
	}
	return said
}

// amounts are how strong the cause of an answer is tried, first what is well seen on
// paper: Δ, and for blur tenths of a dioptre.
var amounts = [...]float64{4, 6, 8, 12, 16, 24, 32, 40, 3, 2, 1.5, 1, 0.5}

// because changes a set-up with the eyes on the target so that it may give the answer,
// the more the larger x is.
func (a Answer) because(s *sim.Setup, x float64) {
	switch a {
	case CrossNearer, CrossBareNearer, Sliding:
		s.Posture.Deviation = sim.Prism(x)
	case CrossBeyond, CrossBareBeyond:
		s.Posture.Deviation = sim.Prism(-x)
	case TwoBeads: // by twice as much, so that both are seen apart
		s.Posture.Deviation = sim.Prism(-2 * x)
	case OneHigher:
		s.Posture.Vertical = sim.Prism(x)
	case OneString:
		s.Suppression.Eye = sim.Left
	case NothingBehind: // the eyes go to the end of the string
		asked := s.FixatedBead()
		s.Look = sim.Fixation{Bead: sim.NoBead, At: s.String.Length, Asked: asked}
	case Blurred: // the eyes focus nearer than the place
		place := s.Place(s.LookPlace())
		s.Posture.Accommodation = sim.Some(sim.Dioptres(1000/math.Max(place.Y, 50) + x/2))
	}
}

// Shows are set-ups that give the answer: as s is with the eyes on the target, but for
// what brings the answer about. There is one, two for what slides, and none where
// nothing tried gives the answer.
func (a Answer) Shows(s *sim.Setup) []sim.Setup {
	said := a.Said()
	var v sim.View
	for _, x := range amounts {
		o := s.OnTarget()
		a.because(&o, x)
		if o.Validate() != nil {
			continue
		}
		v.Look(&o)
		if told := answers.Tell(&v); !tells(&told, &said) {
			continue
		}
		if a != Sliding {
			return []sim.Setup{o}
		}
		there := s.OnTarget()
		there.Posture.Deviation = -o.Posture.Deviation
		return []sim.Setup{o, there}
	}
	return nil
}

// tells says whether all of what was said is told, each item as a code of its own.
func tells(told *answers.Told, said *answers.Answers) bool {
	for i, c := range said.Code {
		if c != answers.Open && told.Code[i] != c {
			return false
		}
	}
	return true
}

// Other is another answer than the one hoped for, with where it is shown.
type Other struct {
	Answer Answer
	At     *Step // a place at which it is another answer
	Shows  []sim.Setup
	// AtFirst says that it is what the model expects of the patient at some place, short
	// of what the findings let go of; a crossing that slides, of a hold that wavers.
	AtFirst bool
}

// Stop is when this answer ends the routine. What is expected at first ends none.
func (o *Other) Stop() Stop {
	if o.AtFirst {
		return StopAsked
	}
	return o.Answer.Stop()
}

// told is what is told at a place.
type told struct {
	at *Step
	answers.Told
}

// Others are the other answers to some steps of a routine. What is hoped for at one of
// the places that an answer speaks of is no other answer; nor is what nothing gives.
func Others(k Kind, steps []Step) (all []Other) {
	nearest := &steps[0]
	var hoped, atFirst []told
	known := map[float64]bool{}
	var v sim.View
	for i := range steps {
		s := &steps[i]
		if s.At < nearest.At {
			nearest = s
		}
		if !known[s.At] {
			known[s.At] = true
			s.Goal(&v)
			hoped = append(hoped, told{s, answers.Tell(&v)})
		}
		if !s.LetGo {
			s.Look(&v)
			atFirst = append(atFirst, told{s, answers.Tell(&v)})
		}
	}
	middle := hoped[len(hoped)/2].at
	wavers := slices.ContainsFunc(steps, func(s Step) bool { return s.Setup.Hold.SD > 0 })
	for _, a := range EveryAnswer(k) {
		at, said := middle, a.Said()
		if a == NothingBehind {
			at = nearest
		}
		gives := func(t told) bool {
			return (a != NothingBehind || t.at.At == nearest.At) && tells(&t.Told, &said)
		}
		if slices.ContainsFunc(hoped, gives) {
			continue
		}
		if shows := a.Shows(&at.Setup); shows != nil {
			expected := a == Sliding && wavers || slices.ContainsFunc(atFirst, gives)
			all = append(all, Other{Answer: a, At: at, Shows: shows, AtFirst: expected})
		}
	}
	return all
}

// Try is something to try when the answer is another one.
type Try string

// What to try.
const (
	TryBlink   Try = "blink"   // a few times
	TrySlow    Try = "slow"    // slow down
	TryBack    Try = "back"    // the bead, a step
	TryJump    Try = "jump"    // to a bead farther away
	TryFinger  Try = "finger"  // a step back, with the finger there again
	TryPast    Try = "past"    // look past it and come back
	TryTip     Try = "tip"     // look at the fingertip that touches it
	TryTap     Try = "tap"     // the string
	TryHead    Try = "head"    // hold it straight
	TryRest    Try = "rest"    // close the eyes for a moment
	TryGlasses Try = "glasses" // are they on, and clean
	TryTaut    Try = "taut"    // pull the string tight
	TryAsk     Try = "ask"     // once more, slowly
)

// Tries are what to try in a routine of a kind when this is the answer, the easiest
// first.
func (a Answer) Tries(k Kind) []Try {
	retreat := map[Kind]Try{Walk: TryBack, Jumps: TryJump, BareString: TryFinger}[k]
	look := TryTip
	if k == BareString {
		look = TryFinger
	}
	switch a {
	case CrossNearer, CrossBareNearer:
		return []Try{TryPast, TryBlink}
	case CrossBeyond, CrossBareBeyond:
		return []Try{look, TryBlink}
	case OneHigher:
		return []Try{TryHead, TryBlink}
	case OneString:
		return []Try{TryBlink, TryTap}
	case Sliding:
		return []Try{TrySlow, TryRest}
	case Blurred:
		return []Try{TryGlasses, TryBlink, retreat}
	case NothingBehind:
		return []Try{look, TryTaut, TryAsk}
	default:
		return []Try{TryTip, TryBlink, retreat}
	}
}

// Stop is when another answer ends the exercise.
type Stop string

// When to stop.
const (
	StopThere Stop = "there" // it stays so: go back to where it was right, and no nearer
	StopTired Stop = "tired" // it goes on: the eyes are tired, enough for today
	StopTell  Stop = "tell"  // it stays so: stop, and tell the professional
	StopAsked Stop = "asked" // when the professional says: it is expected at first
)

// Stop is when this answer ends a routine.
func (a Answer) Stop() Stop {
	switch a {
	case OneString, OneHigher, NothingBehind:
		return StopTell
	case Sliding, Blurred:
		return StopTired
	}
	return StopThere
}

// Right says whether a place counts as held: there is one thing, and the strings cross
// in it.
func Right(a *sim.Account) bool {
	return (a.Fixated == sim.SeenOne || a.LookedAt == "") && a.Meet == sim.MeetAt
}
