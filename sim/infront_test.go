package sim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"twincord/sim"
)

// The right eye's string in front is on the side where it is in the middle of the longest
// run that is seen as two, whichever runs were passed over to find that out.
func TestTheSideInFrontIsThatOfTheLongestRun(t *testing.T) {
	sides := map[sim.Side]int{}
	check := func(t require.TestingT, s sim.Setup) {
		v := look(s)
		front := v.InFront()
		require.Equal(t, v.Strings.Near == 2, front.Right != sim.Neither, "%+v", s)
		if v.Strings.Near == 2 {
			require.Equal(t, v.RightInLongest(), front.Right, "%+v", s)
			sides[front.Right]++
		}
	}
	for _, vertical := range []sim.Prism{0, 0.5, 2, 6} {
		for _, aside := range []float64{0, 30} {
			for _, at := range []float64{60, 230, 900} {
				for e := sim.Prism(-30); e <= 40; e += 2.5 {
					check(t, with(threeBeads(), func(s *sim.Setup) {
						s.Beads[1].At, s.String.NearEnd.X = at, aside
						s.Beads, s.Look.Bead = s.Beads[1:2], 0
						s.Posture.Deviation, s.Posture.Vertical = e, vertical
					}))
				}
			}
		}
	}
	assert.Greater(t, sides[sim.Left], 20)
	assert.Greater(t, sides[sim.Right], 20)
	rapid.Check(t, func(t *rapid.T) { check(t, setups(t)) })
}
