package desk

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"twincord/sim"
)

func TestScale(t *testing.T) {
	// Worked by hand from x = D/(D + 250), and from w = 2·tan(γ/2)/PD with PD 62.
	assert.InDelta(t, 0.83, distanceX(1254), 0.005, "the wall of a 1.2 m string")
	assert.InDelta(t, 0.92, distanceX(3054), 0.005, "the wall of a 3 m string")
	assert.InDelta(t, 1.04, vergenceX(-sim.Prism(1).Angle(), 62, 2), 0.005, "1 Δ of divergence")
	assert.InDelta(t, 1.25, vergenceX(-sim.Prism(5).Angle(), 62, 2), 0.005, "5 Δ of divergence")
	assert.Equal(t, 1., vergenceX(0, 62, 2))
	assert.Equal(t, barEnd, vergenceX(-sim.Prism(60).Angle(), 62, barEnd), "no place on the scale")

	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(20, 60_000).Draw(t, "distance")
		assert.InEpsilon(t, d, xDistance(distanceX(d)), 1e-9)
		pd := rapid.Float64Range(40, 80).Draw(t, "pd")
		x := rapid.Float64Range(0.05, barEnd).Draw(t, "x")
		assert.InEpsilon(t, x, vergenceX(xVergence(x, pd), pd, barEnd+1), 1e-9)
		// A target on the midline is met where it is: its vergence is 2·atan(pd/2/D).
		assert.InEpsilon(t, distanceX(d), vergenceX(sim.Angle(2*math.Atan(pd/2/d)), pd, barEnd), 1e-9)
	})
}

func TestBarIsTheInverseOfItself(t *testing.T) {
	l := &sit(t, "three-metres").desk.layout
	for x := l.noseX; x < barEnd; x += 0.01 {
		assert.InDelta(t, x, l.scaleX(l.x(x)), 1e-12)
	}
}
