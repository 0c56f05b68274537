package sim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/sim"
)

// A red and a green filter give each eye what the other lacks: in a row they pass
// nothing, each passes again what it has passed, and none takes anything away.
func TestFiltersPartTheLight(t *testing.T) {
	for _, c := range []sim.RGB{{255, 255, 255}, {230, 159, 1}, {0, 0, 7}, {}} {
		red, green := sim.FilterRed.Through(c), sim.FilterGreen.Through(c)
		assert.Equal(t, sim.RGB{R: c.R}, red)
		assert.Equal(t, sim.RGB{G: c.G}, green)
		assert.Equal(t, sim.RGB{}, sim.FilterGreen.Through(red))
		assert.Equal(t, red, sim.FilterRed.Through(red))
		assert.Equal(t, c, sim.FilterNone.Through(c))
	}
}
