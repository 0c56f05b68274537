package sim_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
)

// opening is the angle between the two strands where they cross in the picture, degrees.
func opening(s sim.Setup) float64 {
	v := look(s)
	var lean [2]float64
	for eye := range sim.Eyes {
		a, b := v.Sight(eye, 200).At, v.Sight(eye, 300).At
		lean[eye] = math.Atan2(a.X-b.X, b.Y-a.Y)
	}
	return math.Abs(lean[0]-lean[1]) * 180 / math.Pi
}

// M19, checks: at 5 the X opens 85 ± 1 degrees, with an adult's nose 71.
func TestSizesOpenTheX(t *testing.T) {
	s := scene(1200, 100, 500, 900)
	child, ok := sim.SizeNamed("child-5")
	require.True(t, ok)
	child.Fill(&s)
	assert.InDelta(t, 85, opening(s), 1)
	assert.InDelta(t, 84.6, opening(s), 0.05)
	adult, _ := sim.SizeNamed("adult-man")
	s.String.NearEnd.Y, s.String.NearEnd.Z = adult.Ahead, adult.Above
	assert.InDelta(t, 71, opening(s), 0.5)
}

// The sizes grow, stand within what a set-up may hold, and an adult's is about the
// default. Row I8, a formula from memory, is set beside: it decides nothing alone.
func TestSizes(t *testing.T) {
	last := sim.Size{Above: 1}
	for _, z := range sim.Sizes() {
		s := threeBeads()
		s.String.NearEnd.X = 12
		assert.False(t, z.Of(&s))
		z.Fill(&s)
		assert.True(t, z.Of(&s))
		assert.NoError(t, s.Validate(), z.Name)
		assert.Equal(t, 12., s.String.NearEnd.X, "held to the side as before")
		assert.Greater(t, z.PD, last.PD, z.Name)
		assert.GreaterOrEqual(t, z.Age, last.Age, z.Name)
		assert.GreaterOrEqual(t, z.Ahead, last.Ahead, z.Name)
		assert.LessOrEqual(t, z.Above, last.Above, z.Name)
		last = z
		if z.Age < 18 {
			male, female := 43.36+1.663*z.Age-0.034*z.Age*z.Age, 41.76+1.891*z.Age-0.052*z.Age*z.Age
			between := (male + female + 2*(0.656*z.Age+51.83)) / 4 // with row I5
			assert.InDelta(t, between, z.PD, 2.5, z.Name)
		}
	}
	d := sim.Default()
	assert.Equal(t, last.Age, d.Patient.Age)
	assert.Equal(t, last.Ahead, d.String.NearEnd.Y)
	_, ok := sim.SizeNamed("giant")
	assert.False(t, ok)
	sim.Sizes()[0].PD = 1
	assert.NotEqual(t, 1., sim.Sizes()[0].PD)
}
