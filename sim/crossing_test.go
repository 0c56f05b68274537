package sim_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"twincord/sim"
)

// TestCurvesGoOnAsLinesDo: a strand that is all but straight crosses the other where
// a straight one does, on the string or beyond either end of it (M11). The two
// are found by different routes.
func TestCurvesGoOnAsLinesDo(t *testing.T) {
	fewer(t)
	beyond := 0
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		s.String.Sag, s.Posture.Anomaly = 0, 0
		var straight, curved sim.View
		straight.Look(&s)
		w := newWitness(&s)
		m, ok := w.straightMeeting()
		if !ok || m.steep < 1e-4 {
			return
		}
		length := s.String.Length
		if rapid.Bool().Draw(t, "by sag") || s.Posture.Fixing == sim.Both {
			s.String.Sag = 1e-7
		} else {
			s.Posture.Anomaly = 1e-8
		}
		curved.Look(&s)
		compare := func(what string, place float64, a, b sim.Maybe[float64]) {
			if math.Abs(place) < 0.1 || math.Abs(place-length) < 0.1 {
				return // at an end: on the string or just off it
			}
			require.Equal(t, a.OK, b.OK, "%s %v: %v, %v\n%+v", what, place, a, b, s)
			assert.InDelta(t, a.Value, b.Value, placeTolerance, "%s\n%+v", what, s)
		}
		compare("right", m.right, straight.Crossing.RightAt, curved.Crossing.RightAt)
		compare("left", m.left, straight.Crossing.LeftAt, curved.Crossing.LeftAt)
		if straight.Crossing.RightAt.OK != straight.Crossing.LeftAt.OK {
			beyond++
		}
	})
	assert.Positive(t, beyond, "some cross beyond an end of one strand")
}

// TestOneStrandBeyondItsEnd: where the strands cross off one eye's string, the other
// eye has its place all the same, and the picture has none.
func TestOneStrandBeyondItsEnd(t *testing.T) {
	for name, s := range strandsBeyondAnEnd() {
		t.Run(name, func(t *testing.T) {
			var v sim.View
			v.Look(&s)
			assert.NotEqual(t, v.Crossing.RightAt.OK, v.Crossing.LeftAt.OK, "%+v", v.Crossing)
			assert.False(t, v.Crossing.Picture.OK)
		})
	}
}

func strandsBeyondAnEnd() map[string]sim.Setup {
	slack := func(sag float64, p sim.Posture) sim.Setup {
		return with(threeBeads(), func(s *sim.Setup) {
			p.PrismMet = 1
			s.String.Sag, s.Posture = sag, p
		})
	}
	return map[string]sim.Setup{
		"slack, past the far end":    slack(20, sim.Posture{Deviation: -5, Vertical: 5, Fixing: sim.Left}),
		"slack, past the near end":   slack(20, sim.Posture{Deviation: 80, Vertical: 30, Fixing: sim.Both}),
		"anomaly, past the far end":  slack(0, sim.Posture{Deviation: -9, Anomaly: -3, Vertical: 2, Fixing: sim.Right}),
		"anomaly, past the near end": slack(0, sim.Posture{Deviation: 75, Anomaly: 4, Vertical: 30, Fixing: sim.Right}),
	}
}

// TestCurvesCrossAsLinesDo follows the crossing from beyond the far end of the string to
// before its nose: a strand that is all but straight crosses the other where a straight one
// does, at every step, on the strings and where it is off one of them.
func TestCurvesCrossAsLinesDo(t *testing.T) {
	places := map[[2]bool]int{}
	for _, fixing := range []sim.Side{sim.Both, sim.Right} {
		for e := sim.Prism(-14); e < 110; e += 0.5 {
			s := threeBeads()
			s.Posture.Deviation, s.Posture.Vertical, s.Posture.Fixing = e, 2, fixing
			straight := look(s).Crossing
			if fixing == sim.Both {
				s.String.Sag = 1e-7
			} else {
				s.Posture.Anomaly = 1e-8
			}
			curved := look(s).Crossing
			require.Equal(t, straight.RightAt.OK, curved.RightAt.OK, "%v Δ", e)
			require.Equal(t, straight.LeftAt.OK, curved.LeftAt.OK, "%v Δ", e)
			assert.InDelta(t, straight.RightAt.Value, curved.RightAt.Value, 1e-4, "%v Δ", e)
			assert.InDelta(t, straight.LeftAt.Value, curved.LeftAt.Value, 1e-4, "%v Δ", e)
			places[[2]bool{straight.RightAt.OK, straight.LeftAt.OK}]++
		}
	}
	assert.Positive(t, places[[2]bool{true, true}])
	assert.Positive(t, places[[2]bool{false, false}])
	assert.Positive(t, places[[2]bool{true, false}]+places[[2]bool{false, true}])
}

// TestNoDisparityIsFoundWhereItIsTouched: on a string that runs aside, δh grows and falls
// again. With more eso its two zeros come together until it touches zero at its greatest,
// and then there is none; the crossing is there as long as they are, however close (M11).
func TestNoDisparityIsFoundWhereItIsTouched(t *testing.T) {
	for i := range 6 {
		lookedAt, side := 54., 56+float64(i) // beyond both zeros; how they lie to what is sampled
		if i%2 == 1 {
			lookedAt = 14 // before both
		}
		of := func(e float64) (v *sim.View, most, where float64) {
			s := sim.Default()
			s.String.Length, s.String.NearEnd, s.String.AnchorSide = 1200, r3.Vec{X: side, Y: 37}, -751
			s.Look.At, s.Posture.Deviation = lookedAt, sim.Prism(e)
			v = look(s)
			disparity := func(at float64) float64 {
				return float64(v.Compare(v.Sight(sim.RightEye, at), v.Sight(sim.LeftEye, at)).H)
			}
			low, high := 20., 60.
			for high-low > 1e-6 {
				a, b := low+(high-low)/3, high-(high-low)/3
				if disparity(a) < disparity(b) {
					low = a
				} else {
					high = b
				}
			}
			return v, disparity(low), low
		}
		some, none := -30., 30.
		for none-some > 1e-9 {
			if middle := (some + none) / 2; func() bool { _, most, _ := of(middle); return most > 0 }() {
				some = middle
			} else {
				none = middle
			}
		}
		for _, off := range []float64{1e-6, 1e-5, 1e-4, 1e-3, 1e-2} {
			v, _, where := of(some - off)
			if assert.True(t, v.Crossing.At.OK, "%v Δ before", off) {
				assert.InDelta(t, where, v.Crossing.At.Value, 60*math.Sqrt(off), "%v Δ before", off)
			}
			v, _, _ = of(some + off)
			assert.False(t, v.Crossing.At.OK, "%v Δ past", off)
		}
	}
}
