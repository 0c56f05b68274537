// Package cases makes cases to learn on: something is given, something is asked, and
// what is answered is judged against every set-up that fits what was given (M18).
//
// A case is made from a kind, a level and a seed, and from nothing else: the same three
// make the same case on every machine. What is drawn by lot are whole numbers, so that
// no machine's rounding decides between one case and another.
package cases

import (
	"fmt"
	"strings"

	"twincord/sim"
	"twincord/sim/answers"
)

// Kind is a kind of case.
type Kind string

// The kinds.
const (
	SeeToEyes    Kind = "see_eyes"      // from what is seen to where the eyes are
	EyesToSee    Kind = "eyes_see"      // from where the eyes are to what is seen
	WhichEye     Kind = "which_eye"     // whose picture is missing, crossed or uncrossed
	NextQuestion Kind = "next_question" // what to ask next
	WhichGlass   Kind = "which_glass"   // the prism that brings the crossing into the bead
	Walk         Kind = "walk"          // where a bead brought nearer breaks and comes back
	DoesItFit    Kind = "does_it_fit"   // whether answers go together
	Stop         Kind = "stop"          // stop and refer, or go on
)

// Kinds gives all kinds, in their order.
func Kinds() []Kind {
	return []Kind{SeeToEyes, EyesToSee, WhichEye, NextQuestion, WhichGlass, Walk, DoesItFit, Stop}
}

// Levels are how hard a case is: 1 the plainest. By what a deviation is against
// Panum's limit: 1 over five limits, 2 one to five, 3 within it, where one bead is seen
// and the crossing is off it.
const Levels = 3

// Item is one thing that is asked in a case.
type Item string

// The items.
const (
	Sign      Item = "sign"       // where the eyes meet against the bead: Straight, Eso, Exo, Elsewhere
	Deviation Item = "deviation"  // how far off, Δ, eso +
	Missing   Item = "missing"    // whose picture is left out: Right, Left, Nobody
	Where     Item = "where"      // what of it: Nothing, All, InFront, Behind, Centre
	Fixing    Item = "fixes"      // the eye that is on the bead: Right, Left, Both
	Doubling  Item = "doubling"   // of the bead: Crossed, Uncrossed, Upright, NotDoubled
	Whose     Item = "whose"      // the right one of the two beads: Right, Left
	CrossAt   Item = "cross_at"   // where the strings cross, mm from the nose, or Never
	Beads     Item = "beads"      // One, Two
	Front     Item = "in_front"   // strings: Zero, One, Two
	Back      Item = "behind"     // strings: Zero, One, Two
	Ask       Item = "ask"        // the item of the answers to be asked next
	Base      Item = "base"       // In, Out
	Power     Item = "power"      // of the glass, Δ
	Breaks    Item = "breaks"     // mm from the nose, or Never
	Returns   Item = "returns"    // mm from the nose, or Never
	Fits      Item = "fits"       // They fit, or which two answers do not: see PairCode
	GoOn      Item = "stop_or_go" // StopNow, Continue
)

// The codes of answers.
const (
	// CannotTell is a choice of every item.
	CannotTell = "cannot_tell"

	Straight   = "straight"
	Eso        = "eso"
	Exo        = "exo"
	Elsewhere  = "elsewhere" // at another place, without error
	Right      = "right"
	Left       = "left"
	Nobody     = "nobody"
	Both       = "both"
	Nothing    = "nothing"
	All        = "all"
	InFront    = "in_front"
	Behind     = "behind"
	Centre     = "centre"
	Crossed    = "crossed"
	Uncrossed  = "uncrossed"
	Upright    = "vertical"
	NotDoubled = "not_doubled"
	Never      = "never"
	Zero       = "0"
	One        = "1"
	Two        = "2"
	In         = "in"
	Out        = "out"
	TheyFit    = "fit"
	StopNow    = "stop"
	Continue   = "go_on"
)

var choices = map[Item][]string{
	Sign:      {Eso, Exo, Straight, Elsewhere},
	Deviation: {},
	Missing:   {Right, Left, Nobody},
	Where:     {All, InFront, Behind, Centre, Nothing},
	Fixing:    {Right, Left, Both},
	Doubling:  {Crossed, Uncrossed, Upright, NotDoubled},
	Whose:     {Right, Left},
	CrossAt:   {Never},
	Beads:     {One, Two},
	Front:     {Zero, One, Two},
	Back:      {Zero, One, Two},
	Base:      {In, Out},
	Power:     {},
	Breaks:    {Never},
	Returns:   {Never},
	GoOn:      {StopNow, Continue},
}

// Numeric says whether an item is answered with a number.
func (i Item) Numeric() bool { return i.prism() || i.Place() }

// Place says whether an item is answered with a place on the string.
func (i Item) Place() bool { return i == CrossAt || i == Breaks || i == Returns }

func (i Item) prism() bool { return i == Deviation || i == Power }

// Answer is an answer to an item: a code, or where it is empty a number: Δ, eso +, or
// mm along the string from the nose.
type Answer struct {
	Code   string
	Number float64
}

// PairCode is the answer that two answers do not go together, in their order.
func PairCode(a, b answers.Item) string {
	return min(a, b).String() + "+" + max(a, b).String()
}

// Picture is a picture that is given.
type Picture string

// The pictures.
const (
	NoPicture   Picture = ""
	PatientView Picture = "patient" // what the patient sees
	FromAbove   Picture = "above"   // the eyes and where they point
)

// Given is what a case gives beside its string.
type Given struct {
	Picture Picture
	// Answers are what the patient says; of a picture they are what can be read off it.
	Answers answers.Answers
	// Finger says that a finger is on the bead, so that it is what the eyes are led to.
	Finger bool
	// Shown says that the posture is told in words, and Limit that Panum's limit is: of
	// EyesToSee.
	Shown, Limit bool
	Story        Story // of Stop
}

// Case is a case: a string and a patient, what is given, and what is asked.
type Case struct {
	ID
	Given Given
	Asked []Item

	scene  sim.Setup // the string, with the eyes on the bead
	hidden sim.Setup // what what was given was made from
}

// Scene is the string with its patient, glass and findings, both eyes on the bead.
func (c *Case) Scene() sim.Setup { return c.scene.Clone() }

// Truth is the set-up that what was given was made from; others may fit it as well.
func (c *Case) Truth() sim.Setup { return c.hidden.Clone() }

// Told are the answers that are given, in the order in which they are asked.
func (c *Case) Told() (items []answers.Item) {
	for _, i := range answers.Items() {
		if c.Given.Answers.Answered(i) {
			items = append(items, i)
		}
	}
	return items
}

// Choices are the codes that an item of the case may be answered with; CannotTell is
// the last of them always.
func (c *Case) Choices(i Item) (codes []string) {
	switch i {
	case Ask:
		can := answers.Asked(&c.scene)
		for _, open := range answers.Items() {
			if open != answers.MeetAt && can[open] && !c.Given.Answers.Answered(open) {
				codes = append(codes, open.String())
			}
		}
	case Fits:
		codes = append(codes, TheyFit)
		told := c.Told()
		for n, a := range told {
			for _, b := range told[n+1:] {
				codes = append(codes, PairCode(a, b))
			}
		}
	default:
		codes = append(codes, choices[i]...)
	}
	return append(codes, CannotTell)
}

// CheckKind says whether there are cases of a kind.
func CheckKind(kind Kind) error {
	if _, ok := makers[kind]; ok {
		return nil
	}
	var names []string
	for _, k := range Kinds() {
		names = append(names, string(k))
	}
	return fmt.Errorf("%q is no kind of case; allowed: %s", kind, strings.Join(names, ", "))
}

// CheckLevel says whether there are cases of a level.
func CheckLevel(level int) error {
	if level < 1 || level > Levels {
		return fmt.Errorf("%d is no level; allowed are 1 to %d", level, Levels)
	}
	return nil
}
