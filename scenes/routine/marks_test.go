package routine

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"twincord/scenes"
	"twincord/sim"
)

// anyRoutine is a scene with a routine that a file may hold.
func anyRoutine(t *rapid.T) *scenes.Scene {
	length := rapid.Float64Range(250, 3000).Draw(t, "length")
	text := fmt.Sprintf("format = 1\nstring.length_mm = %v\n", length)
	switch rapid.SampledFrom(Kinds).Draw(t, "kind") {
	case Jumps:
		text += "look.bead = \"b0\"\nroutine.kind = \"jumps\"\n"
		at := rapid.Float64Range(0, 60).Draw(t, "first")
		for i := range rapid.IntRange(2, sim.MaxBeads).Draw(t, "beads") {
			if at > length {
				break
			}
			text += fmt.Sprintf("[[beads]]\nname = \"b%d\"\nat_mm = %v\ndiameter_mm = 8\n", i, at)
			at += rapid.Float64Range(8, 200).Draw(t, "gap")
		}
	case BareString:
		at := rapid.Float64Range(2, length).Draw(t, "at")
		step := rapid.Float64Range(1, max(1, at/2)).Draw(t, "step")
		text += fmt.Sprintf("look.at_mm = %v\n[routine]\nkind = \"bare-string\"\nstep_mm = %v\nsteps = %d\n", at, step,
			rapid.IntRange(1, min(60, int(at/step))).Draw(t, "steps"))
	default:
		at := rapid.Float64Range(20, length-10).Draw(t, "at")
		step := rapid.Float64Range(1, max(1, (at-9)/2)).Draw(t, "step")
		text += fmt.Sprintf("beads = [{name = \"sky\", at_mm = %v}]\nlook.bead = \"sky\"\n[routine]\nstep_mm = %v\nsteps = %d\n", at, step,
			rapid.IntRange(1, min(60, int((at-8)/step))).Draw(t, "steps"))
	}
	sc, err := scenes.Parse("any", []byte(text))
	if err != nil {
		t.Skip(err)
	}
	return sc
}

// On the marks of a ruler every place is one of its marks, the scene is still one that
// a file may hold, what is where the ruler has it stays, and steps from the beginning
// lead to the end.
func TestOnMarks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sc := anyRoutine(t)
		mark := rapid.SampledFrom([]float64{Millimetre, QuarterInch}).Draw(t, "mark")
		o := OnMarks(sc, mark)
		require.NoError(t, o.Check())
		assert.Equal(t, o.Setup, OnMarks(o, mark).Setup, "once is enough")
		onMark := func(x float64, what string) {
			assert.InDelta(t, 0, math.Remainder(x, mark), 1e-6, "%s: %v", what, x)
		}
		onMark(o.Setup.String.Length, "length")
		steps := Steps(o)
		require.NotEmpty(t, steps)
		for i := range steps {
			onMark(steps[i].At, "place")
		}
		if r := o.Routine.Value; r.Kind != Jumps {
			onMark(r.Step, "step")
			last := steps[0].At
			for i := range steps {
				last = min(last, steps[i].At)
			}
			assert.InDelta(t, last, steps[0].At-float64(r.Steps)*r.Step, 1e-6)
			assert.GreaterOrEqual(t, r.Steps, 1)
		}
		if mark == Millimetre {
			assert.InDelta(t, sc.Setup.LookPlace(), o.Setup.LookPlace(), 13, "hardly moved")
		}
	})
}

// The scene itself is left as it was.
func TestOnMarksIsACopy(t *testing.T) {
	sc := parse(t, three+"[routine]\nkind = \"jumps\"\n")
	o := OnMarks(sc, QuarterInch)
	assert.NotEqual(t, o.Setup.Beads[0].At, sc.Setup.Beads[0].At)
	assert.Equal(t, 250., sc.Setup.Beads[0].At)
}

// Beads that touch still touch, and a string that sags by less than it may sags as before.
func TestOnMarksMovesNoMoreThanItMust(t *testing.T) {
	sc := parse(t, "format = 1\nstring = {length_mm = 1200, sag_mm = 100}\nlook.bead = \"a\"\n"+
		"beads = [{name = \"a\", at_mm = 250}, {name = \"b\", at_mm = 266}, {name = \"c\", at_mm = 290}]\n[routine]\nkind = \"jumps\"\n")
	assert.Equal(t, sc.Setup, OnMarks(sc, Millimetre).Setup)
}

// A step is no longer than the room that there is, in whole marks; where there is none for
// a mark, what is looked at goes out by as many as it takes.
func TestOnMarksHasRoomForAStep(t *testing.T) {
	sc := parse(t, oneBead+"[routine]\nsteps = 1\nstep_mm = 200\n")
	for room, want := range map[float64]float64{200: 31 * QuarterInch, 60: 9 * QuarterInch, 3: QuarterInch} {
		sc.Setup.Beads[0].At += room - scenes.WalkRoom(&sc.Setup)
		o := OnMarks(sc, QuarterInch)
		require.NoError(t, o.Check())
		assert.InDelta(t, want, o.Routine.Value.Step, 1e-6, "%v mm", room)
		assert.GreaterOrEqual(t, scenes.WalkRoom(&o.Setup), o.Routine.Value.Step)
		assert.Less(t, scenes.WalkRoom(&o.Setup), o.Routine.Value.Step+2*QuarterInch, "no farther out than it takes")
	}
}
