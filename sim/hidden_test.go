package sim_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
)

// TestACrossingIsHiddenFromWhereARayGrazesTheBead: as the deviation grows, a bead begins
// to hide the crossing, or ends to, where the ray from the eye to the crossing touches
// its ball. The ray is worked out from the pose of the eyes alone. At the other borders
// the strings begin to cross in a bead, or cross no more.
func TestACrossingIsHiddenFromWhereARayGrazesTheBead(t *testing.T) {
	grazed := map[string]int{}
	for bead := range threeBeads().Beads {
		at := func(deviation float64) *sim.View {
			return look(with(threeBeads(), func(s *sim.Setup) {
				s.Look.Bead, s.Posture.Deviation = bead, sim.Prism(deviation)
			}))
		}
		const step = 0.1
		for e := -12.; e < 12; e += step {
			a, b := at(e), at(e+step)
			if a.Account.HiddenBy == b.Account.HiddenBy {
				continue
			}
			rim := bisect(e, e+step, func(x float64) bool { v := at(x); return v.Account.HiddenBy == a.Account.HiddenBy })
			v := at(rim)
			switch cross := v.Crossing.At; {
			case !cross.OK, math.Abs(cross.Value-v.Now.String.Length) < 1e-6, entersBead(v):
				continue
			}
			name := a.Account.HiddenBy + b.Account.HiddenBy // one of them is none
			i := map[string]int{"near": 0, "middle": 1, "far": 2}[name]
			ball := v.Now.Beads[i]
			require.Equal(t, ball.Name, name)
			assert.InDelta(t, ball.Diameter/2, rayPast(v, ball.At), 1e-6, "%v Δ, looking at %v", rim, bead)
			grazed[name]++
		}
	}
	for _, b := range threeBeads().Beads {
		assert.Positive(t, grazed[b.Name], "%v hides the crossing of some", b.Name)
	}
}

// entersBead says whether the strings cross where they run into a bead or out of it.
func entersBead(v *sim.View) bool {
	for _, b := range v.Now.Beads {
		if math.Abs(math.Abs(v.Crossing.At.Value-b.At)-b.Diameter/2) < 1e-6 {
			return true
		}
	}
	return false
}

// rayPast is how far from a place of the string the ray from the right eye to the crossing
// passes: on the midline it is as far in the left eye. The eye stands and turns as M2 to M4
// have it, with half of the error.
func rayPast(v *sim.View, place float64) float64 {
	s := &v.Now
	target := s.Place(v.Target.At)
	centre := r3.Vec{X: s.Patient.PD / 2}
	flat := math.Hypot(target.Y, target.Z)
	azimuth := -math.Atan(centre.X/flat) - math.Atan(float64(s.Posture.Deviation)/100)/2
	ahead := r3.Scale(1/flat, r3.Vec{Y: target.Y, Z: target.Z})
	axis := r3.Add(r3.Scale(math.Sin(azimuth), r3.Vec{X: 1}), r3.Scale(math.Cos(azimuth), ahead))
	nodal := r3.Add(centre, r3.Scale(s.Patient.Nodal, axis))
	ray := r3.Unit(r3.Sub(s.Place(v.Crossing.RightAt.Value), nodal))
	return r3.Norm(r3.Cross(ray, r3.Sub(s.Place(place), nodal)))
}

// TestOneEyesStrandIsEnough: off the midline a bead hides the crossing already where it
// hides it from one eye: one string alone shows there, and no crossing.
func TestOneEyesStrandIsEnough(t *testing.T) {
	one := 0
	for side := -60.; side <= 60; side += 10 {
		for e := -6.; e <= 6; e += 0.125 {
			v := look(with(threeBeads(), func(s *sim.Setup) {
				s.String.NearEnd.X, s.Posture.Deviation = side, sim.Prism(e)
			}))
			name := v.Account.HiddenBy
			if !v.Account.Meet.OnString() || name == "" {
				continue
			}
			hides := 0
			for _, b := range v.Now.Beads {
				for eye := range sim.Eyes {
					at := [...]sim.Maybe[float64]{v.Crossing.RightAt, v.Crossing.LeftAt}[eye].Or(v.Crossing.At.Value)
					cross, ball := v.SightOf(eye, v.Now.Place(at), at), v.SightOf(eye, v.Now.Place(b.At), b.At)
					apart := angleBetween(r3.Vec{X: cross.At.X, Y: 1, Z: cross.At.Y}, r3.Vec{X: ball.At.X, Y: 1, Z: ball.At.Y})
					if b.Name == name && math.Sin(apart) < b.Diameter/2/ball.Distance && cross.Distance > ball.Distance {
						hides++
					}
				}
			}
			require.Positive(t, hides, "%v mm to the right, %v Δ", side, e)
			if hides == 1 {
				one++
			}
		}
	}
	assert.Positive(t, one, "some are hidden from one eye alone")
}

// TestWhatTheStringsCrossInHidesNothing: a bead that they run into is seen to be where
// they cross, as the one looked at is.
func TestWhatTheStringsCrossInHidesNothing(t *testing.T) {
	for _, c := range []struct {
		deviation sim.Prism
		meet      sim.Meet
		hidden    string
	}{
		{12, sim.MeetNearer, ""},
		{0, sim.MeetAt, ""},
		{-0.28, sim.MeetBeyond, "middle"},
		{-1, sim.MeetBeyond, "middle"},
		{-2, sim.MeetBeyond, ""},
		{-5.5, sim.MeetBeyond, "far"},
		{-12, sim.MeetNowhere, ""},
	} {
		v := look(with(threeBeads(), func(s *sim.Setup) { s.Posture.Deviation = c.deviation }))
		assert.Equal(t, c.meet, v.Account.Meet, "%v Δ", c.deviation)
		assert.Equal(t, c.hidden, v.Account.HiddenBy, "%v Δ", c.deviation)
	}
	inFar := look(with(threeBeads(), func(s *sim.Setup) { s.Beads[2].At, s.Posture.Deviation = 762, -4 }))
	assert.Equal(t, sim.MeetBeyond, inFar.Account.Meet)
	assert.Less(t, math.Abs(inFar.Crossing.At.Value-762), 8.)
	assert.Empty(t, inFar.Account.HiddenBy)
	covered := look(with(threeBeads(), func(s *sim.Setup) { s.Cover, s.Posture.Deviation = sim.Left, -5.5 }))
	assert.Empty(t, covered.Account.HiddenBy, "what is not seen is not hidden")
}
