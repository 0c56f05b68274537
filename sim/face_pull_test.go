package sim_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
)

// An eye that is seen somewhere points where it points: the inverse of Face.
func TestGazeSeenAtIsTheInverseOfFace(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 5))
		s := sim.Default()
		s.Posture.Deviation = sim.Prism(60*r.Float64() - 30)
		s.Posture.Vertical = sim.Prism(20*r.Float64() - 10)
		s.Posture.Cyclo = sim.Degrees(20*r.Float64() - 10)
		s.Patient.Lambda = sim.Degrees(8 * r.Float64())
		var v sim.View
		v.Look(&s)
		f := v.Face()
		for i := range sim.Eyes {
			e := &f.Eyes[i]
			azimuth, elevation, ok := v.GazeSeenAt(i, sim.XY{X: e.Centre.X + e.Pupil.X, Y: e.Centre.Y + e.Pupil.Y})
			require.True(t, ok, "seed %d", seed)
			assert.InDelta(t, float64(v.Eyes[i].Azimuth), float64(azimuth), 1e-9, "seed %d", seed)
			assert.InDelta(t, float64(v.Eyes[i].Elevation), float64(elevation), 1e-9, "seed %d", seed)
		}
	}
	var v sim.View
	s := sim.Default()
	v.Look(&s)
	_, _, ok := v.GazeSeenAt(sim.RightEye, sim.XY{X: 60})
	assert.False(t, ok, "no pupil reaches so far")
}
