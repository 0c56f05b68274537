package sim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/sim"
)

// TestNamedIsALookAtBeadsOfThoseNames: and the view itself keeps its names, even where
// the new names are the old ones in another order.
func TestNamedIsALookAtBeadsOfThoseNames(t *testing.T) {
	s := threeBeads()
	s.Look.Asked, s.Posture.Deviation = 2, -5.5
	names := []string{"far", "near", "middle"}
	other := with(s, func(s *sim.Setup) {
		for i := range s.Beads {
			s.Beads[i].Name = names[i]
		}
	})
	var v, want, same sim.View
	v.Look(&s)
	got := v.Named(func(bead int) string { return names[bead] })
	want.Look(&other)
	assert.Equal(t, want.Beads, got.Beads)
	assert.Equal(t, want.Now, got.Now)
	assert.Equal(t, want.Account, got.Account)
	assert.NotEmpty(t, got.Account.HiddenBy, "the strings cross behind a bead")
	same.Look(&s)
	assert.Equal(t, same.Beads, v.Beads)
	assert.Equal(t, same.Account, v.Account)
}
