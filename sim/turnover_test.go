package sim_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"twincord/sim"
)

// turnedEye is an esotropia of 20 Δ, the right eye preferred.
func turnedEye() sim.Setup {
	return with(threeBeads(), func(s *sim.Setup) {
		s.Posture = sim.Posture{Deviation: 20, Fixing: sim.Right, PrismMet: 1}
	})
}

// gazesEqual compares where the eyes point.
func gazesEqual(t require.TestingT, want, got *sim.View, what string, args ...any) {
	for e := range sim.Eyes {
		a, b := want.Eyes[e], got.Eyes[e]
		for _, d := range [][2]sim.Angle{{a.Azimuth, b.Azimuth}, {a.Elevation, b.Elevation}, {a.Torsion, b.Torsion}} {
			assert.InDelta(t, float64(d[0]), float64(d[1]), 1e-12, append([]any{what}, args...)...)
		}
	}
}

// M4, M15: a cover put on and taken off in time turns both eyes as one version, after
// its latency and at its speed; then they are those of the set-up with that cover.
func TestCoverInTime(t *testing.T) {
	s := turnedEye()
	open := look(s)
	covered := look(with(s, func(s *sim.Setup) { s.Cover = sim.Right }))
	c := sim.NewCourse(&s)
	c.Cover(sim.Right, 1)
	c.Cover(sim.Neither, 3)
	var v sim.View
	lasts := 0.021 + 0.0022*math.Atan(0.2)*180/math.Pi
	between := func(share float64) float64 {
		a, b := float64(open.Eyes[sim.LeftEye].Azimuth), float64(covered.Eyes[sim.LeftEye].Azimuth)
		return a + share*(b-a)
	}
	for _, m := range []struct{ seconds, share float64 }{
		{0, 0}, {0.99, 0}, {1, 0}, {1.19, 0}, {1.2 + lasts/4, 0.25}, {1.2 + lasts/2, 0.5}, {1.2 + lasts, 1}, {2.9, 1},
		{3, 1}, {3.19, 1}, {3.2 + lasts/2, 0.5}, {3.2 + lasts, 0}, {9, 0}, {2, 1},
	} {
		c.Look(&v, m.seconds)
		assert.InDelta(t, between(m.share), float64(v.Eyes[sim.LeftEye].Azimuth), 1e-12, "%v s", m.seconds)
		moved := v.Eyes[sim.RightEye].Azimuth - open.Eyes[sim.RightEye].Azimuth
		assert.InDelta(t, float64(v.Eyes[sim.LeftEye].Azimuth-open.Eyes[sim.LeftEye].Azimuth), float64(moved), 1e-12, "both, %v s", m.seconds)
		off := (v.Axes.Vergence - v.Target.DemandAngle).Prism()
		assert.InDelta(t, float64(off), float64(v.Now.Posture.Deviation), 1e-9, "the error is what the axes are off, %v s", m.seconds)
		held := m.seconds >= 1 && m.seconds < 3
		assert.Equal(t, held, v.Account.TookUp, "%v s", m.seconds)
		assert.Equal(t, held, v.Account.Missing == sim.Right, "%v s", m.seconds)
	}
	c.Look(&v, 1.1)
	assert.Equal(t, sim.JumpWaiting, v.Jump())
	c.Look(&v, 1.2+lasts/2)
	assert.Equal(t, sim.JumpMoving, v.Jump())
	assert.Equal(t, sim.FacingMoving, facing(&v))
	c.Look(&v, 2.5)
	assert.Equal(t, sim.JumpNone, v.Jump())
	v.Seconds = 0
	assert.Empty(t, viewDifferences(covered, &v, 1e-12), "as the set-up with that cover")
	assert.False(t, c.Still(3.3))
	assert.True(t, c.Still(3.6))
	c.Start(&s)
	assert.True(t, c.Still(0), "another course has no covers")
}

func facing(v *sim.View) sim.Facing {
	f := v.Face()
	return f.Facing
}

// Covering an eye of a set-up and looking again is the set-up with that cover, and
// where it is taken off again the set-up without; whatever was looked at in between.
func TestCoverInTimeIsCover(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		s.Cover = sim.Neither
		eye := rapid.SampledFrom([]sim.Side{sim.Right, sim.Left}).Draw(t, "eye")
		c := sim.NewCourse(&s)
		c.Cover(eye, 0.25)
		c.Cover(sim.Neither, 1.5)
		covered := look(with(s, func(s *sim.Setup) { s.Cover = eye }))
		var v sim.View
		for _, seconds := range []float64{2.5, 1.2, 0.1} {
			c.Look(&v, seconds)
			want := look(s)
			if seconds == 1.2 {
				want = covered
			}
			gazesEqual(t, want, &v, "%v s\n%+v", seconds, s)
			assert.Equal(t, want.Account.Fixes, v.Account.Fixes)
			assert.Equal(t, want.Account.TookUp, v.Account.TookUp)
			assert.Equal(t, want.Account.Missing, v.Account.Missing)
			assert.Equal(t, want.Account.Fainter, v.Account.Fainter)
		}
	})
}

// A cover that comes off before the eyes set out leaves them where they were; one that
// comes off on the way has them turn back from there.
func TestShortCover(t *testing.T) {
	s := turnedEye()
	open := look(s)
	c := sim.NewCourse(&s)
	c.Cover(sim.Right, 1)
	c.Cover(sim.Neither, 1.1)
	var v sim.View
	for seconds := 1.; seconds < 2; seconds += 0.01 {
		c.Look(&v, seconds)
		gazesEqual(t, open, &v, "%v s", seconds)
	}
	c.Start(&s)
	c.Cover(sim.Right, 1)
	c.Cover(sim.Neither, 1.22)
	last := float64(open.Eyes[sim.LeftEye].Azimuth)
	farthest := 0.
	for seconds := 1.; seconds < 2; seconds += 0.001 {
		c.Look(&v, seconds)
		now := float64(v.Eyes[sim.LeftEye].Azimuth)
		assert.Less(t, math.Abs(now-last), 0.02, "no leap at %v s", seconds)
		farthest = max(farthest, math.Abs(now-float64(open.Eyes[sim.LeftEye].Azimuth)))
		last = now
	}
	assert.Greater(t, farthest, 0.02)
	assert.Less(t, farthest, math.Atan(0.2))
	gazesEqual(t, open, &v, "back")
}

// The halves of an alternating suppression, and the beginning and end of one that
// comes and goes, turn both eyes likewise.
func TestSuppressionTurnsTheEyes(t *testing.T) {
	s := turnedEye()
	s.Suppression = sim.Suppression{Eye: sim.Alternating, Zone: sim.ZoneAll, Depth: 1, Period: 4}
	leftFixes := look(with(turnedEye(), func(s *sim.Setup) { s.Cover = sim.Right }))
	rightFixes := look(turnedEye())
	for seconds, want := range map[float64]*sim.View{
		0: leftFixes, 1.9: leftFixes, 2.1: leftFixes, 2.4: rightFixes, 4.1: rightFixes, 4.4: leftFixes, 6.1: leftFixes, 6.4: rightFixes,
	} {
		gazesEqual(t, want, at(s, seconds), "%v s", seconds)
	}
	for seconds, fixes := range map[float64]sim.Side{0: sim.Left, 1.9: sim.Left, 2: sim.Right, 4: sim.Left} {
		assert.Equal(t, fixes, at(s, seconds).Account.Fixes, "%v s", seconds)
		assert.Equal(t, fixes == sim.Left, at(s, seconds).Account.TookUp, "%v s", seconds)
	}

	s.Suppression = sim.Suppression{Eye: sim.Right, Zone: sim.ZoneAll, Depth: 1, Period: 2, Share: 0.25}
	for seconds, want := range map[float64]*sim.View{
		0.4: leftFixes, 0.6: leftFixes, 0.9: rightFixes, 2.1: rightFixes, 2.4: leftFixes, 2.6: leftFixes, 2.9: rightFixes,
	} {
		gazesEqual(t, want, at(s, seconds), "%v s", seconds)
	}
}

// A cover breaks the hold, and when it is off the recovery decides.
func TestCoverBreaksInTime(t *testing.T) {
	for _, regains := range []bool{true, false} {
		s := threeBeads()
		s.Findings = sim.Some(usual(func(f *sim.Findings) {
			f.Preferred = sim.Left
			if !regains {
				f.Near.BaseOutRecovery, f.Far.BaseOutRecovery = -5, -5
			}
		}))
		c := sim.NewCourse(&s)
		c.Cover(sim.Left, 1)
		c.Cover(sim.Neither, 2)
		var v sim.View
		c.Look(&v, 0.5)
		assert.Equal(t, sim.StateHolding, v.Holding.Value.State)
		assert.Equal(t, sim.Both, v.Account.Fixes)
		assert.False(t, v.Account.TookUp)
		c.Look(&v, 1.5)
		assert.Equal(t, sim.WhyCovered, v.Holding.Value.Why)
		assert.Equal(t, sim.Right, v.Account.Fixes)
		assert.True(t, v.Account.TookUp)
		c.Look(&v, 2.5)
		assert.Equal(t, regains, v.Holding.Value.State == sim.StateHolding)
	}
}

// Covers held in time are as pure as all else, whatever was asked for before, and
// mirror.
func TestCoversAreAMomentsAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := moving(t)
		m := mirrored(s)
		if s.Findings.OK {
			m = mirroredPatient(s)
		}
		var one, mirror sim.Course
		one.Start(&s)
		mirror.Start(&m)
		from := 0.
		for range rapid.IntRange(1, 4).Draw(t, "covers") {
			from += rapid.Float64Range(0.01, 0.8).Draw(t, "after")
			eye := rapid.SampledFrom([]sim.Side{sim.Neither, sim.Right, sim.Left}).Draw(t, "eye")
			one.Cover(eye, from)
			mirror.Cover(otherSide(eye), from)
		}
		var v, w sim.View
		one.Look(&v, rapid.Float64Range(0, 3).Draw(t, "another moment"))
		seconds := rapid.Float64Range(0, 3).Draw(t, "the moment")
		one.Look(&v, seconds)
		mirror.Look(&w, seconds)
		want := mirroredPatientView(&v)
		assert.Empty(t, viewDifferences(&want, &w, 1e-6), "%v s\n%+v", seconds, s)
	})
}

// A cover put on at a moment is the cover of that moment, though the course has been looked
// at farther on, and those of that moment and later ones are forgotten. The eyes let go
// under it, by one and a half times Panum's limit, and waver: what was single all the time
// without the cover is not remembered with it.
func TestCoverOfAnEarlierMoment(t *testing.T) {
	parted := 0
	for seed := range uint64(10) {
		s := threeBeads()
		s.Hold = sim.Unsteadiness{SD: s.Patient.FusionH / 2, Seed: seed}
		s.Findings = sim.Some(usual(func(f *sim.Findings) {
			off := sim.Arcmin(1.5 * s.Patient.FusionH).Angle().Prism()
			f.FarPhoria, f.NearPhoria = -off, -off
			for _, r := range []*sim.Reserves{&f.Far, &f.Near} {
				r.BaseInRecovery, r.BaseOutRecovery = -10, -10
			}
		}))
		c := sim.NewCourse(&s)
		c.Cover(sim.Left, 0.5)
		c.Cover(sim.Neither, 1)
		var want, got sim.View
		c.Look(&want, 2)

		c.Start(&s)
		c.Look(&got, 2)
		open := got.Account.Fixated
		c.Cover(sim.Right, 0.5)
		c.Cover(sim.Left, 0.7)
		c.Cover(sim.Left, 0.5) // in place of both
		c.Cover(sim.Neither, 1)
		c.Look(&got, 2)
		assert.Empty(t, viewDifferences(&want, &got, 0), "seed %d", seed)
		if open == sim.SeenOne && want.Account.Fixated == sim.SeenTwo {
			parted++
		}
	}
	assert.Positive(t, parted)
}

// Eyes that cannot come back by themselves let go under a cover of either one, and not where
// none was put on.
func TestOnlyACoverBreaks(t *testing.T) {
	s := threeBeads()
	s.Findings = sim.Some(usual(func(f *sim.Findings) {
		for _, r := range []*sim.Reserves{&f.Far, &f.Near} {
			r.BaseInRecovery, r.BaseOutRecovery = -10, -10
		}
	}))
	for eye, want := range map[sim.Side]sim.State{sim.Right: sim.StateBroken, sim.Left: sim.StateBroken, sim.Neither: sim.StateHolding} {
		c := sim.NewCourse(&s)
		c.Cover(eye, 0.5)
		c.Cover(sim.Neither, 1)
		var v sim.View
		c.Look(&v, 2)
		assert.Equal(t, want, v.Holding.Value.State, "cover %v", eye)
	}
}

// Looking on under covers allocates nothing.
func TestCoverAllocatesNothing(t *testing.T) {
	s := turnedEye()
	c := sim.NewCourse(&s)
	c.Cover(sim.Right, 0.2)
	var v sim.View
	c.Look(&v, 0.3)
	seconds := 0.3
	assert.Zero(t, testing.AllocsPerRun(20, func() {
		seconds += 0.01
		c.Look(&v, seconds)
	}))
}
