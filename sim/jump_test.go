package sim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/sim"
)

// A jump waits, moves and ends (M15), also where the eyes end off the target.
func TestJump(t *testing.T) {
	for _, deviation := range []sim.Prism{0, 4, -4} {
		s := threeBeads()
		s.Look.Bead, s.Look.From = 0, sim.Some(2)
		s.Posture.Deviation = deviation
		course := sim.NewCourse(&s)
		var v sim.View
		for _, c := range []struct {
			seconds float64
			want    sim.Jump
		}{
			{0, sim.JumpWaiting}, {0.15, sim.JumpWaiting}, {0.17, sim.JumpMoving}, {0.4, sim.JumpMoving},
			{2, sim.JumpNone}, {60, sim.JumpNone},
		} {
			course.Look(&v, c.seconds)
			assert.Equal(t, c.want, v.Jump(), "%v Δ, %v s", deviation, c.seconds)
		}
	}
	s := threeBeads()
	var v sim.View
	v.Look(&s)
	assert.Equal(t, sim.JumpNone, v.Jump(), "no jump")
	s.Look.From = sim.Some(s.Look.Bead)
	v.Look(&s)
	assert.Equal(t, sim.JumpNone, v.Jump(), "from the same bead")
}
