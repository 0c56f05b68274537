package routine

import "twincord/sim"

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
	CrossNearer     Answer = "nearer"
	CrossBeyond     Answer = "beyond"
	CrossBareNearer Answer = "bare-nearer"
	CrossBareBeyond Answer = "bare-beyond"
	OneString       Answer = "one"
)

// Answers are the other answers that a routine of a kind has something to say to.
func Answers(k Kind) []Answer {
	if k == BareString {
		return []Answer{CrossBareNearer, CrossBareBeyond, OneString}
	}
	return []Answer{CrossNearer, CrossBeyond, OneString}
}

// shown is the deviation that shows where strings cross aside from the target: enough
// to be seen on paper.
const shown sim.Prism = 4

// Shows is what an answer means: the set-up as it is with the eyes on the target, but
// for what gives that answer.
func (a Answer) Shows(s *sim.Setup) sim.Setup {
	o := s.OnTarget()
	switch a {
	case CrossNearer, CrossBareNearer:
		o.Posture.Deviation = shown
	case CrossBeyond, CrossBareBeyond:
		o.Posture.Deviation = -shown
	case OneString:
		o.Suppression.Eye = sim.Left
	}
	return o
}

// Try is something to try when the answer is another one.
type Try string

// What to try.
const (
	TryTouch  Try = "touch"  // the bead
	TryBlink  Try = "blink"  // a few times
	TrySlow   Try = "slow"   // slow down
	TryPoint  Try = "point"  // at where the strings should cross
	TryBack   Try = "back"   // the bead, a step
	TryJump   Try = "jump"   // to a bead farther away
	TryFinger Try = "finger" // a step back, with the finger there again
)

// Tries are what to try in a routine of a kind, the easiest first.
func Tries(k Kind) []Try {
	switch k {
	case Jumps:
		return []Try{TryTouch, TryBlink, TrySlow, TryPoint, TryJump}
	case BareString:
		return []Try{TryBlink, TrySlow, TryPoint, TryFinger}
	default:
		return []Try{TryTouch, TryBlink, TrySlow, TryPoint, TryBack}
	}
}

// Right says whether a place counts as held: there is one thing, and the strings cross
// in it.
func Right(a *sim.Account) bool {
	return (a.Fixated == sim.SeenOne || a.LookedAt == "") && a.Meet == sim.MeetAt
}
