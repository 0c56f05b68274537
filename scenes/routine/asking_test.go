package routine

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
	"twincord/sim"
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

// Common practice, no source: what asks nothing of the eyes is tried first, and the step
// back to what was held last. Nobody is told to touch or to move a bead that is not there.
func TestTriesInOrder(t *testing.T) {
	last := map[Kind]Try{Walk: TryBack, Jumps: TryJump, BareString: TryFinger}
	for _, kind := range Kinds {
		tries := Tries(kind)
		assert.Equal(t, last[kind], tries[len(tries)-1], kind)
		assert.Subset(t, tries, []Try{TryBlink, TrySlow, TryPoint}, kind)
		assert.Equal(t, kind != BareString, tries[0] == TryTouch, kind)
		once := map[Try]bool{}
		for _, try := range tries {
			assert.False(t, once[try], "%s: %s twice", kind, try)
			once[try] = true
		}
	}
}

// What shows an answer gives that answer, whatever was wrong before: the account of the
// set-up says so.
func TestAnswersAreShown(t *testing.T) {
	for _, e := range scenes.Library() {
		if !e.Scene.Routine.OK {
			continue
		}
		steps := Steps(e.Scene)
		s := steps[len(steps)/4].Setup
		s.Posture.Vertical, s.Cover = 3, sim.Right
		for _, a := range Answers(e.Scene.Routine.Value.Kind) {
			shows := a.Shows(&s)
			require.NoError(t, shows.Validate())
			var v sim.View
			v.Look(&shows)
			switch a {
			case CrossNearer, CrossBareNearer:
				assert.Equal(t, sim.MeetNearer, v.Account.Meet, "%s: %s", e.Name, a)
			case CrossBeyond, CrossBareBeyond:
				assert.Equal(t, sim.MeetBeyond, v.Account.Meet, "%s: %s", e.Name, a)
			case OneString:
				assert.Equal(t, sim.PatternOne, v.Account.Pattern, "%s: %s", e.Name, a)
			default:
				t.Errorf("%s: nothing shows %s", e.Name, a)
			}
			assert.Equal(t, a == CrossBareNearer || a == CrossBareBeyond, v.Account.LookedAt == "" && a != OneString, e.Name)
		}
		hoped := s.OnTarget()
		var v sim.View
		v.Look(&hoped)
		assert.True(t, Right(&v.Account), e.Name)
		for _, a := range Answers(e.Scene.Routine.Value.Kind) {
			shows := a.Shows(&s)
			v.Look(&shows)
			assert.False(t, Right(&v.Account), "%s: %s", e.Name, a)
		}
	}
}
