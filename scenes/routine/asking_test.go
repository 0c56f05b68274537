package routine

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
	"twincord/sim"
	"twincord/sim/answers"
)

// Common practice, no source: first how many beads, then how many strings, then where
// they cross, and at last whether it is clear; without a bead the finger takes its
// place, after the crossing that it pointed at.
func TestQuestionsInOrder(t *testing.T) {
	for kind, want := range map[Kind][]Question{
		Walk:       {AskBeads, AskStrings, AskCross, AskClear},
		Jumps:      {AskBeads, AskStrings, AskCross, AskClear},
		BareString: {AskStrings, AskCross, AskFinger, AskClear},
	} {
		assert.Equal(t, want, Questions(kind), kind)
	}
}

// Common practice, no source: where a child's own place is not reached, the last thing to
// try is the step back to what was held; nothing is tried twice.
func TestTriesInOrder(t *testing.T) {
	last := map[Kind]Try{Walk: TryBack, Jumps: TryJump, BareString: TryFinger}
	for _, kind := range Kinds {
		for _, a := range []Answer{TwoBeads, Blurred} {
			tries := a.Tries(kind)
			assert.Equal(t, last[kind], tries[len(tries)-1], "%s: %s", kind, a)
		}
		for _, a := range EveryAnswer(kind) {
			once := map[Try]bool{}
			for _, try := range a.Tries(kind) {
				assert.False(t, once[try], "%s: %s twice", kind, try)
				once[try] = true
			}
		}
	}
}

// What shows an answer gives that answer and is not what is hoped for, whatever was
// wrong before: it is told of the view of the set-up.
func TestAnswersAreShown(t *testing.T) {
	for _, e := range scenes.Library() {
		if !e.Scene.Routine.OK {
			continue
		}
		kind := e.Scene.Routine.Value.Kind
		steps := Steps(e.Scene)
		s := steps[len(steps)/4].Setup
		s.Posture.Vertical, s.Cover = 3, sim.Right
		for _, a := range EveryAnswer(kind) {
			shows := a.Shows(&s)
			require.NotEmpty(t, shows, "%s: %s", e.Name, a)
			for i := range shows {
				require.NoError(t, shows[i].Validate())
				var v sim.View
				v.Look(&shows[i])
				told := answers.Tell(&v)
				what := fmt.Sprintf("%s: %s, %d", e.Name, a, i)
				switch a {
				case TwoBeads:
					assert.Equal(t, answers.Two, told.Code[answers.Bead], what)
					assert.Equal(t, answers.No, told.Code[answers.Higher], what)
				case OneHigher:
					assert.Equal(t, answers.Yes, told.Code[answers.Higher], what)
				case CrossNearer, CrossBareNearer:
					assert.Equal(t, answers.Nearer, told.Code[answers.Meet], what)
				case CrossBeyond, CrossBareBeyond:
					assert.Equal(t, answers.Beyond, told.Code[answers.Meet], what)
				case Sliding:
					assert.Equal(t, []answers.Code{answers.Nearer, answers.Beyond}[i], told.Code[answers.Meet], what)
				case OneString:
					assert.Equal(t, sim.PatternOne, v.Account.Pattern, what)
				case NothingBehind:
					assert.Equal(t, answers.Zero, told.Code[answers.Far], what)
				case Blurred:
					assert.Equal(t, sim.ClarityBlurred, v.Account.Clarity, what)
					assert.Greater(t, shows[i].Posture.Accommodation.Value, v.Target.Accommodation+1, "%s: focused nearer", what)
				default:
					t.Errorf("nothing is known of %s", a)
				}
				if a != Blurred && a != NothingBehind { // those are not what a hold asks for
					assert.False(t, Right(&v.Account), what)
				}
			}
			assert.Len(t, shows, map[bool]int{true: 2, false: 1}[a == Sliding], a)
		}
		hoped := s.OnTarget()
		var v sim.View
		v.Look(&hoped)
		assert.True(t, Right(&v.Account), e.Name)
	}
}

// meanings are what sheets and pages say that answers mean, but for the eyes being on
// another place. That a picture is blurred is nothing that the eyes do wrong.
var meanings = map[Answer]answers.Kind{
	TwoBeads: answers.Exo, CrossBeyond: answers.Exo, CrossBareBeyond: answers.Exo,
	CrossNearer: answers.Eso, CrossBareNearer: answers.Eso, Sliding: answers.Eso,
	OneHigher: answers.Vertical, OneString: answers.LeftOut, NothingBehind: answers.AnotherSpot,
}

// What an answer is said to mean is among what the whole search has to the same answer.
func TestAnswersMeanWhatTheSearchFinds(t *testing.T) {
	for _, name := range []string{"walk-of-ten", "bare-string-walk"} {
		sc, _, err := scenes.Open(name)
		require.NoError(t, err)
		kind := sc.Routine.Value.Kind
		s := Steps(sc)[5].Setup
		search := answers.New(&s).Run()
		for _, a := range EveryAnswer(kind) {
			means, ok := meanings[a]
			if !ok {
				assert.Equal(t, Blurred, a)
				continue
			}
			found := search.Explain(a.Said()).Result().Families
			assert.True(t, slices.ContainsFunc(found, func(m answers.Match) bool { return m.Kind == means }), "%s: %s", name, a)
			assert.False(t, slices.ContainsFunc(found, func(m answers.Match) bool { return m.Kind == answers.OnBead }), "%s: %s", name, a)
		}
	}
}

// What is hoped for is no other answer: where the string lies at eye level one string is
// what is hoped for, at its far end nothing behind.
func TestWhatIsHopedForIsNoOtherAnswer(t *testing.T) {
	others := func(text string) (all []Answer) {
		sc := parse(t, text)
		for _, o := range Others(sc.Routine.Value.Kind, Steps(sc)) {
			all = append(all, o.Answer)
		}
		return all
	}
	assert.Equal(t, EveryAnswer(Walk), others(oneBead+"[routine]\n"))
	assert.Equal(t, EveryAnswer(BareString), others(bare+"[routine]\nkind = \"bare-string\"\n"))
	assert.NotContains(t, others(oneBead+"string.near_end_mm = [0, 54, 0]\n[routine]\n"), OneString)
	assert.NotContains(t, others("format = 1\n[string]\nlength_mm = 600\n"+
		"[[beads]]\nname = \"end\"\nat_mm = 590\n[look]\nbead = \"end\"\n[routine]\nsteps = 1\nstep_mm = 1\n"), NothingBehind)
	assert.NotContains(t, others(oneBead+"[routine]\n[patient]\nage_years = 70\n"), Blurred)
}

// A crossing that slides is what the model expects of a hold that wavers: it is asked when
// to stop, as of all that is expected at first, and no such child is told that it is tired.
func TestSlidingIsExpectedOfAHoldThatWavers(t *testing.T) {
	for _, e := range scenes.Library() {
		steps := Steps(e.Scene)
		if steps == nil {
			continue
		}
		for _, o := range Others(e.Scene.Routine.Value.Kind, steps) {
			if o.Answer == Sliding {
				wavers := e.Scene.Setup.Hold.SD > 0
				assert.Equal(t, wavers, o.AtFirst, e.Name)
				assert.Equal(t, map[bool]Stop{true: StopAsked, false: StopTired}[wavers], o.Stop(), e.Name)
			}
		}
	}
}

// Every answer has something to try that the routine has, and an end.
func TestEveryAnswerIsTried(t *testing.T) {
	for _, kind := range Kinds {
		for _, a := range EveryAnswer(kind) {
			tries := a.Tries(kind)
			assert.NotEmpty(t, tries)
			assert.NotEmpty(t, a.Stop())
			if kind == BareString {
				assert.NotContains(t, tries, TryTip)
				assert.NotContains(t, tries, TryBack)
			}
		}
	}
}
