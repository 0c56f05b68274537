package sim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"twincord/sim"
)

// TestFuseIsALookWithOtherLimits: seen again with another Panum's area is seen as if
// looked at with it, whatever was asked of the view before.
func TestFuseIsALookWithOtherLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		other := s.Patient
		scale := rapid.SampledFrom([]float64{0.1, 0.5, 2, 4, 20}).Draw(t, "scale")
		other.FusionH *= sim.Arcmin(scale)
		other.FusionV *= sim.Arcmin(scale)
		other.FusionHSlope *= scale
		other.FusionVSlope *= scale
		var got, want sim.View
		got.Look(&s)
		got.InFront()
		got.Fuse(&other)
		s.Patient = other
		want.Look(&s)
		assert.Equal(t, want.Beads, got.Beads)
		assert.Equal(t, want.Strings, got.Strings)
		assert.Equal(t, want.Account, got.Account)
		assert.Equal(t, want.Crossing, got.Crossing)
		assert.Equal(t, want.InFront(), got.InFront())
		assert.Equal(t, want.Now, got.Now)
	})
}
