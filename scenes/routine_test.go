package scenes

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"twincord/sim"
)

const (
	oneBead = "format = 1\nstring.length_mm = 1200\nbeads = [{name = \"sky\", at_mm = 560}]\nlook.bead = \"sky\"\n"
	bare    = "format = 1\nstring.length_mm = 1200\nlook.at_mm = 600\n"
	three   = "format = 1\nstring.length_mm = 1200\nlook.bead = \"b\"\nbeads = [" +
		"{name = \"a\", at_mm = 250}, {name = \"b\", at_mm = 550}, {name = \"c\", at_mm = 850}]\n"
)

func placesOf(steps []Step) (at []float64) {
	for _, s := range steps {
		at = append(at, s.At)
	}
	return at
}

// Common practice, no source: a walk of ten steps of 5 cm, held five seconds each,
// there and back.
func TestWalkOfTen(t *testing.T) {
	steps := parse(t, oneBead+"[routine]\n").RoutineSteps()
	var want []float64
	for at := 560.; at >= 60; at -= 50 {
		want = append(want, at)
	}
	for at := 110.; at <= 560; at += 50 {
		want = append(want, at)
	}
	assert.InDeltaSlice(t, want, placesOf(steps), 1e-9)
	for i, s := range steps {
		assert.Equal(t, "sky", s.Bead)
		assert.Equal(t, 5., s.Hold)
		assert.Equal(t, sim.SeenOne, s.Expected.Fixated)
		wantWay := Nearer
		switch {
		case i == 0:
			wantWay = Start
		case i > 10:
			wantWay = Away
		}
		assert.Equal(t, wantWay, s.Way, i)
	}
}

// Common practice, no source: three beads about 30 cm apart, five seconds each, there
// and back counting one.
func TestJumpsOfThree(t *testing.T) {
	steps := parse(t, three+"[routine]\nkind = \"jumps\"\nrounds = 2\n").RoutineSteps()
	var beads []string
	var rounds []int
	for i, s := range steps {
		beads, rounds = append(beads, s.Bead), append(rounds, s.Round)
		if i == 0 {
			assert.False(t, s.Setup.Look.From.OK, "the eyes begin there")
			continue
		}
		require.True(t, s.Setup.Look.From.OK)
		assert.Equal(t, steps[i-1].Bead, s.Setup.Beads[s.Setup.Look.From.Value].Name)
	}
	assert.Equal(t, []string{"c", "b", "a", "b", "c", "b", "a", "b", "c"}, beads)
	assert.Equal(t, []int{0, 0, 0, 0, 0, 1, 1, 1, 1}, rounds)

	steps = parse(t, three+"[routine]\nkind = \"jumps\"\norder = [\"a\", \"c\", \"b\"]\nways = \"there\"\n").RoutineSteps()
	assert.Equal(t, []float64{250, 850, 550}, placesOf(steps))
}

// On a bare string places are looked at, with no bead at them.
func TestBareString(t *testing.T) {
	steps := parse(t, bare+"[routine]\nkind = \"bare-string\"\nsteps = 3\nstep_mm = 100\nways = \"there\"\n").RoutineSteps()
	assert.Equal(t, []float64{600, 500, 400, 300}, placesOf(steps))
	for _, s := range steps {
		assert.Empty(t, s.Bead)
		assert.Empty(t, s.Expected.LookedAt)
		assert.Equal(t, sim.PatternX, s.Expected.Pattern)
	}
}

// With findings a walk turns at the first place where the hold is lost, and each step
// expects what a look expects that has the hold of the step before.
func TestWalkTurnsWhereTheHoldIsLost(t *testing.T) {
	sc := parse(t, oneBead+"[routine]\nstep_mm = 25\nsteps = 20\n[findings]\nnpc_break_mm = 150\nnpc_recovery_mm = 250\n")
	steps := sc.RoutineSteps()
	breaks, back := sc.Setup.Turning()
	require.True(t, breaks.OK && back.OK)
	turn := slices.IndexFunc(steps, func(s Step) bool { return s.Way == Away }) - 1
	assert.True(t, steps[turn].At <= breaks.Value && steps[turn].At > breaks.Value-25, "the first step past the break")
	state := sim.StateHolding
	for i, s := range steps {
		one := sc.Setup.LookingAt(s.At)
		one.Findings.Value.State = state
		var v sim.View
		v.Look(&one)
		assert.Equal(t, v.Account, s.Expected, i)
		state = v.Holding.Value.State
		held := i < turn || s.At >= back.Value
		assert.Equal(t, held, state == sim.StateHolding, "%d at %v", i, s.At)
	}
}

// Times add up without drift, there and back is symmetric, and at every moment there
// is one step, the right one.
func TestRoutineInTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sc, err := Parse("a", []byte(oneBead+fmt.Sprintf("[routine]\nhold_s = %v\nsteps = %d\nrounds = %d\nstep_mm = 10\n",
			rapid.Float64Range(1, 20).Draw(t, "hold"), rapid.IntRange(1, 20).Draw(t, "steps"), rapid.IntRange(1, 4).Draw(t, "rounds"))))
		require.NoError(t, err)
		steps := sc.RoutineSteps()
		r := sc.Routine.Value
		require.Len(t, steps, 2*r.Steps*r.Rounds+1)
		for i := range steps {
			s := &steps[i]
			assert.InDelta(t, float64(i)*(r.Hold+MoveTime)-min(float64(i), 1)*MoveTime, s.Begin, 1e-6)
			assert.InDelta(t, s.At, steps[len(steps)-1-i].At, 1e-9, "symmetric")
			if i > 0 {
				assert.Equal(t, steps[i-1].End(), s.Begin)
			}
			for _, at := range []float64{s.Begin, s.Begin + s.Move/2, s.Begin + s.Move, math.Nextafter(s.End(), 0)} {
				n, setup, since := RoutineAt(steps, at)
				require.Equal(t, i, n, at)
				assert.InDelta(t, at-s.Begin, since, 1e-9)
				want := s.At
				if i > 0 && since < s.Move {
					want = steps[i-1].At + (s.At-steps[i-1].At)*since/s.Move
				}
				assert.InDelta(t, want, setup.LookPlace(), 1e-9)
			}
		}
		n, _, _ := RoutineAt(steps, 1e6)
		assert.Equal(t, len(steps)-1, n)
		n, _, since := RoutineAt(steps, -5)
		assert.Zero(t, n)
		assert.Zero(t, since)
	})
}

// Common practice, no source: the strings of an unsteady hold are seen sliding nearer
// and farther; and each step of a routine does so in its own way.
func TestUnsteadyHoldSlides(t *testing.T) {
	sc := parse(t, three+"[routine]\nkind = \"jumps\"\n[hold]\nunsteady_arcmin = 8\n")
	steps := sc.RoutineSteps()
	wave := func(step int) (offsets []float64) {
		_, setup, _ := RoutineAt(steps, steps[step].Begin)
		setup.Look.From = sim.Maybe[int]{}
		c := sim.NewCourse(&setup)
		var v sim.View
		for i := range 50 {
			c.Look(&v, 0.1*float64(i))
			offsets = append(offsets, v.Crossing.Offset.Value)
		}
		return offsets
	}
	first := wave(1)
	assert.Less(t, slices.Min(first), -2.)
	assert.Greater(t, slices.Max(first), 2.)
	assert.NotEqual(t, first, wave(3), "the same bead again")
}

// A scene without a routine has no steps.
func TestNoRoutine(t *testing.T) {
	assert.Empty(t, parse(t, oneBead).RoutineSteps())
}

// What a scene cannot do is refused where it stands.
func TestRoutineFaults(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{oneBead + "[routine]\nsteps = 12\n", "f:6:9: routine.steps: 12 steps of 50 mm from 560 mm leave the string; allowed are places of at least 8 mm"},
		{oneBead + "[routine]\nstep_mm = 56\n", "f:6:11: routine.step_mm: 10 steps of 56 mm from 560 mm leave the string; allowed are places of at least 8 mm"},
		{oneBead + "[routine]\nstep_mm = 0\n", "f:6:11: routine.step_mm: 0 mm is out of range; allowed is 1 to 1000 mm"},
		{oneBead + "[routine]\nhold_s = -1\n", "f:6:10: routine.hold_s: -1 s is out of range; allowed is 1 to 120 s"},
		{oneBead + "[routine]\nsteps = 2.5\n", "f:6:9: routine.steps: 2.5 is no whole number; allowed is a whole number, 1 to 60"},
		{bare + "[routine]\n", "f:4:1: routine.kind: a walk moves a bead; allowed with look.bead"},
		{oneBead + "[routine]\nkind = \"bare-string\"\n", "f:6:8: routine.kind: a bare string has no bead where it is looked at; allowed with look.at_mm"},
		{oneBead + "[routine]\nkind = \"jumps\"\n", "f:6:8: routine.kind: jumps need at least two beads; there are 1"},
		{three + "[routine]\nkind = \"jumps\"\norder = [\"a\", \"d\"]\n", "f:7:15: routine.order: no bead is named \"d\"; allowed is \"a\", \"b\" or \"c\""},
		{three + "[routine]\nkind = \"jumps\"\norder = [\"a\", \"a\"]\n", "f:7:15: routine.order: \"a\" stands twice in a row; allowed is another bead after it"},
		{three + "[routine]\nkind = \"jumps\"\norder = [\"a\"]\n", "f:7:9: routine.order: names fewer than two beads; allowed is an array of the names of at least two beads"},
		{three + "[routine]\nkind = \"jumps\"\norder = \"a\"\n", "f:7:9: routine.order: is text; allowed is an array of the names of at least two beads"},
		{three + "[routine]\nkind = \"jumps\"\norder = [\"a\", 1]\n", "f:7:9: routine.order: is an array; allowed is an array of the names of at least two beads"},
	} {
		_, err := Parse("f", []byte(c.text))
		assert.EqualError(t, err, c.want)
	}
}

// The order of the jumps is written as it was read.
func TestOrderIsWritten(t *testing.T) {
	sc := parse(t, three+"[routine]\nkind = \"jumps\"\norder = [\"b\", \"a\", \"c\"]\n")
	assert.Equal(t, sc, parse(t, written(t, sc)))
}
