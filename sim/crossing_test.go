package sim_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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
