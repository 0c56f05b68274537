package sim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
)

// The checks in this file are common practice, no source: what those who use a
// string every day expect to be told.

// Common practice, no source: with the centres of rotation about 61 cm from the
// wall and a 15 mm bead brought toward the nose in ten 5 cm steps, the first steps
// show strings in front of the bead only, and from about the fourth they cross.
func TestPracticeBeadWalkedIn(t *testing.T) {
	s := sim.Default()
	s.String.Length = 556
	s.Beads = []sim.Bead{{Name: "bead", Diameter: 15, Surface: sim.SurfacePlain}}
	s.Look.Bead = 0
	demand := sim.Prism(0)
	for step := 1; step <= 10; step++ {
		s.Beads[0].At = s.String.Length - 50*float64(step)
		v := look(s)
		assert.Greater(t, v.Target.Demand, demand, "step %d", step)
		demand = v.Target.Demand
		assert.Equal(t, sim.SeenOne, v.Account.Fixated, "step %d", step)
		assert.Equal(t, sim.MeetAt, v.Account.Meet, "step %d", step)
		switch {
		case step <= 2:
			assert.Equal(t, sim.PatternA, v.Strings.Pattern, "step %d", step)
		case step >= 5 && step <= 9: // in the tenth there is hardly any string in front
			assert.Equal(t, sim.PatternX, v.Strings.Pattern, "step %d", step)
		case step == 4 || step == 3: // about the fourth
			assert.Contains(t, []sim.Pattern{sim.PatternA, sim.PatternY, sim.PatternX}, v.Strings.Pattern, "step %d", step)
		default: // the blurred stub beside the nose may be overlooked
			assert.Contains(t, []sim.Pattern{sim.PatternV, sim.PatternX}, v.Strings.Pattern, "step %d", step)
		}
	}
}

// Common practice, no source: of three beads about 30 cm apart, looking at an
// outer one doubles the other two, the one at the other end more widely.
func TestPracticeThreeBeads(t *testing.T) {
	s := scene(1000, 250, 550, 850)
	s.Look.Bead = 0
	v := look(s)
	near, middle, far := v.Beads[0], v.Beads[1], v.Beads[2]
	assert.Equal(t, sim.SeenOne, near.Seen)
	assert.Equal(t, sim.SeenTwo, middle.Seen)
	assert.Equal(t, sim.SeenTwo, far.Seen)
	assert.Greater(t, far.Disparity.Value.Separation, middle.Disparity.Value.Separation)

	s.Look.Bead = 2
	v = look(s)
	near, middle, far = v.Beads[0], v.Beads[1], v.Beads[2]
	assert.Equal(t, sim.SeenTwo, near.Seen)
	assert.Equal(t, sim.SeenTwo, middle.Seen)
	assert.Equal(t, sim.SeenOne, far.Seen)
	assert.Greater(t, near.Disparity.Value.Separation, middle.Disparity.Value.Separation)

	s.Look.Bead = 1
	v = look(s)
	assert.Equal(t, sim.SeenOne, v.Beads[1].Seen)
	assert.Equal(t, sim.PatternX, v.Strings.Pattern)
}

// Common practice, no source: the near string on the patient's right vanishes when
// the left eye is covered, the one on the left when the right eye is.
func TestPracticeCover(t *testing.T) {
	const near = 200
	s := threeBeads()
	v := look(s)
	require.Positive(t, v.Sight(sim.LeftEye, near).At.X, "the near string on the right")
	require.Negative(t, v.Sight(sim.RightEye, near).At.X, "the near string on the left")
	require.Equal(t, 2, v.Strings.Near)
	for _, c := range []struct {
		cover      sim.Side
		gone, left sim.Eye
	}{{sim.Left, sim.LeftEye, sim.RightEye}, {sim.Right, sim.RightEye, sim.LeftEye}} {
		s.Cover = c.cover
		v := look(s)
		assert.Zero(t, v.Sight(c.gone, near).Weight, c.cover)
		assert.Equal(t, 1., v.Sight(c.left, near).Weight, c.cover)
		assert.Equal(t, 1, v.Strings.Near, c.cover)
		assert.Equal(t, 1, v.Strings.Far, c.cover)
		assert.Equal(t, c.cover, v.Account.Missing)
		assert.Equal(t, sim.WhereAll, v.Account.MissingWhere)
	}
}

// Common practice, no source: strings that meet nearer than the bead mean that the
// eyes aim nearer; beyond it, farther.
func TestPracticeWhereStringsMeet(t *testing.T) {
	s := threeBeads()
	for e, want := range map[sim.Prism]struct {
		meet sim.Meet
		eyes sim.Aim
	}{
		0:  {sim.MeetAt, sim.AimOnTarget},
		4:  {sim.MeetNearer, sim.AimEso},
		-4: {sim.MeetBeyond, sim.AimExo},
	} {
		s.Posture.Deviation = e
		v := look(s)
		assert.Equal(t, want.meet, v.Account.Meet, "%v Δ", e)
		assert.Equal(t, want.eyes, v.Account.Eyes, "%v Δ", e)
		require.True(t, v.Axes.Point.OK)
		switch {
		case e > 0:
			assert.Less(t, v.Axes.Point.Value.Y, v.Target.Point.Y)
		case e < 0:
			assert.Greater(t, v.Axes.Point.Value.Y, v.Target.Point.Y)
		}
	}
}

// Common practice, no source: one eye suppressed: one bead, one string, no other
// bead doubled.
func TestPracticeSuppression(t *testing.T) {
	for eye, want := range map[sim.Side]sim.Seen{sim.Right: sim.SeenLeft, sim.Left: sim.SeenRight} {
		s := threeBeads()
		s.Suppression.Eye = eye
		v := look(s)
		for _, b := range v.Beads {
			assert.Equal(t, want, b.Seen, b.Name)
			assert.Equal(t, sim.DiplopiaNone, b.Diplopia, b.Name)
		}
		assert.Equal(t, sim.PatternOne, v.Strings.Pattern)
		assert.Equal(t, sim.MeetUnseen, v.Account.Meet)
		assert.False(t, v.Account.Fuses)
	}
}
