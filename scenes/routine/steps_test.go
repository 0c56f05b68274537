package routine

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"twincord/scenes"
	"twincord/sim"
)

const (
	oneBead = "format = 1\nstring.length_mm = 1200\nbeads = [{name = \"sky\", at_mm = 560}]\nlook.bead = \"sky\"\n"
	bare    = "format = 1\nstring.length_mm = 1200\nlook.at_mm = 600\n"
	three   = "format = 1\nstring.length_mm = 1200\nlook.bead = \"b\"\nbeads = [" +
		"{name = \"a\", at_mm = 250}, {name = \"b\", at_mm = 550}, {name = \"c\", at_mm = 850}]\n"
)

// parse gives the scene in a text.
func parse(t *testing.T, text string) *scenes.Scene {
	t.Helper()
	sc, err := scenes.Parse("scene", []byte(text))
	require.NoError(t, err)
	return sc
}

func placesOf(steps []Step) (at []float64) {
	for _, s := range steps {
		at = append(at, s.At)
	}
	return at
}

// Common practice, no source: a walk of ten steps of 5 cm, held five seconds each,
// there and back.
func TestWalkOfTen(t *testing.T) {
	steps := Steps(parse(t, oneBead+"[routine]\n"))
	var want []float64
	for at := 560.; at >= 60; at -= 50 {
		want = append(want, at)
	}
	for at := 110.; at <= 560; at += 50 {
		want = append(want, at)
	}
	require.Len(t, steps, len(want))
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
	steps := Steps(parse(t, three+"[routine]\nkind = \"jumps\"\nrounds = 2\n"))
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

	steps = Steps(parse(t, three+"[routine]\nkind = \"jumps\"\norder = [\"a\", \"c\", \"b\"]\nways = \"there\"\n"))
	assert.Equal(t, []float64{250, 850, 550}, placesOf(steps))
}

// On a bare string places are looked at, with no bead at them.
func TestBareString(t *testing.T) {
	steps := Steps(parse(t, bare+"[routine]\nkind = \"bare-string\"\nsteps = 3\nstep_mm = 100\nways = \"there\"\n"))
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
	steps := Steps(sc)
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
		sc, err := scenes.Parse("a", []byte(oneBead+fmt.Sprintf("[routine]\nhold_s = %v\nsteps = %d\nrounds = %d\nstep_mm = 10\n",
			rapid.Float64Range(1, 20).Draw(t, "hold"), rapid.IntRange(1, 20).Draw(t, "steps"), rapid.IntRange(1, 4).Draw(t, "rounds"))))
		require.NoError(t, err)
		steps := Steps(sc)
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
				n, since := At(steps, at)
				setup := setupAt(steps, n, since)
				require.Equal(t, i, n, at)
				assert.InDelta(t, at-s.Begin, since, 1e-9)
				want := s.At
				if i > 0 && since < s.Move {
					want = steps[i-1].At + (s.At-steps[i-1].At)*since/s.Move
				}
				assert.InDelta(t, want, setup.LookPlace(), 1e-9)
			}
		}
		n, _ := At(steps, 1e6)
		assert.Equal(t, len(steps)-1, n)
		n, since := At(steps, -5)
		assert.Zero(t, n)
		assert.Zero(t, since)
	})
}

// Common practice, no source: the strings of an unsteady hold are seen sliding nearer
// and farther; and each step of a routine does so in its own way.
func TestUnsteadyHoldSlides(t *testing.T) {
	sc := parse(t, three+"[routine]\nkind = \"jumps\"\n[hold]\nunsteady_arcmin = 8\n")
	steps := Steps(sc)
	wave := func(step int) (offsets []float64) {
		setup := setupAt(steps, step, 0)
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
	assert.Empty(t, Steps(parse(t, oneBead)))
}

// A walk goes in again only as far as the hold lasted, and not at all while it is double
// where it begins; nor does it go nearer over a bare string.
func TestWalkGoesNoNearerThanItHolds(t *testing.T) {
	const walk = "[routine]\nstep_mm = 25\nsteps = 20\nrounds = 3\n"
	const near = "[findings]\nnpc_break_mm = 150\nnpc_recovery_mm = 250\n"
	const never = "[findings]\nfar_base_out_break_prism = -5\nfar_base_out_recovery_prism = -6\nfar_base_out_blur_prism = -6\n" +
		"near_base_out_break_prism = -5\nnear_base_out_recovery_prism = -6\nnear_base_out_blur_prism = -6\n"
	for _, text := range []string{oneBead + walk, bare + walk + "kind = \"bare-string\"\n", oneBead + walk + "ways = \"there\"\n"} {
		sc := parse(t, text+near)
		breaks, _ := sc.Setup.Turning()
		least := map[int]float64{}
		for _, s := range Steps(sc) {
			if s.Way == Away && s.At == sc.Setup.LookPlace() {
				continue // the beginning of a round there alone
			}
			if at, ok := least[s.Round]; !ok || s.At < at {
				least[s.Round] = s.At
			}
		}
		assert.Len(t, least, 3)
		assert.True(t, least[0] <= breaks.Value && least[0] > breaks.Value-25, "once past the break")
		assert.Equal(t, least[0]+25, least[1])
		assert.Equal(t, least[0]+25, least[2])
	}
	for _, kind := range []string{oneBead + walk, bare + walk + "kind = \"bare-string\"\n"} {
		steps := Steps(parse(t, kind+never))
		require.Equal(t, 1, len(steps))
		assert.True(t, steps[0].LetGo)
	}
}

// What lets go is double, where both eyes' images are there; a covered eye lets go of
// nothing that is seen, and a typed error turns no walk round.
func TestLetGoIsDouble(t *testing.T) {
	steps := Steps(parse(t, oneBead+"[routine]\n[findings]\nnpc_break_mm = 150\nnpc_recovery_mm = 250\n"))
	let := 0
	for _, s := range steps {
		assert.Equal(t, s.Expected.Fixated == sim.SeenTwo, s.LetGo, "at %v", s.At)
		if s.LetGo {
			let++
		}
	}
	assert.NotZero(t, let)
	for _, more := range []string{"[findings]\n[cover]\neye = \"left\"\n", "[posture]\ndeviation_prism = 8\n"} {
		steps := Steps(parse(t, oneBead+"[routine]\n"+more))
		assert.Len(t, steps, 21, more)
		for _, s := range steps {
			assert.False(t, s.LetGo, more)
		}
	}
}

// Other beads are off the string while one of them is walked.
func TestWalkedBeadIsAlone(t *testing.T) {
	for _, s := range Steps(parse(t, three+"[routine]\n")) {
		require.Len(t, s.Setup.Beads, 1)
		assert.Equal(t, "b", s.Bead)
	}
}

// The hold of findings goes from jump to jump as it was.
func TestJumpsCarryTheHold(t *testing.T) {
	sc := parse(t, three+"[routine]\nkind = \"jumps\"\n[findings]\nnpc_break_mm = 300\nnpc_recovery_mm = 390\n")
	sc.Setup.Beads[1].At = 340
	steps := Steps(sc)
	var seen []sim.Seen
	for i, s := range steps {
		seen = append(seen, s.Expected.Fixated)
		// Once the jump is over, what is seen is what was expected.
		var v sim.View
		sim.NewCourse(&s.Setup).Look(&v, s.Hold)
		assert.Equal(t, s.Expected.Fixated, v.Account.Fixated, i)
	}
	assert.Equal(t, []sim.Seen{sim.SeenOne, sim.SeenOne, sim.SeenTwo, sim.SeenTwo, sim.SeenOne}, seen,
		"the middle bead is held on the way in, and not yet again on the way out")
}

// A scene in memory may be one that no file could hold; its steps are those there are.
func TestStepsOfUnfinishedScenes(t *testing.T) {
	sc := parse(t, three+"[routine]\nkind = \"jumps\"\norder = [\"a\", \"c\"]\nrounds = 2\n")
	sc.Setup.Beads[2].Name = "d"
	assert.Equal(t, []float64{250}, placesOf(Steps(sc)))
	sc.Setup.Beads = nil
	sc.Setup.Look.Bead = sim.NoBead
	assert.Empty(t, Steps(sc))
	sc.Routine.Value.Order = ""
	assert.Empty(t, Steps(sc))
}

// A moment of a routine is as it is, in whatever order moments are asked for, and while
// a bead is moved the eyes are on it all the way.
func TestPlayer(t *testing.T) {
	sc := parse(t, oneBead+"[routine]\nsteps = 2\n[hold]\nunsteady_arcmin = 8\n")
	steps := Steps(sc)
	onward := NewPlayer(steps)
	for step := range steps {
		for _, since := range []float64{0, 0.3, 0.9, 1.5, 4, 9} {
			var a, b sim.View
			onward.Look(&a, step, since)
			NewPlayer(steps).Look(&b, step, since)
			require.Equal(t, b.Account, a.Account)
			require.Equal(t, b.Crossing, a.Crossing)
			setup := setupAt(steps, step, since)
			assert.InDelta(t, setup.LookPlace(), a.Target.At, 1e-9)
		}
	}
}
