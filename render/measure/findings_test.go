package measure

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
)

// A criterion is told by the prism that meets it and the side of its base, or by how much
// more there is than it asks for.
func TestACriterionAsArithmetic(t *testing.T) {
	for want, r := range map[string]relief{
		"2.50 Δ base-out would meet it": {Lacking: 2.5, Prism: 2.5},
		"2.50 Δ base-in would meet it":  {Lacking: 2.5, Prism: -2.5},
		"met, by 1.25 Δ":                {Lacking: -1.25},
		"met, by 0.00 Δ":                {},
	} {
		assert.Equal(t, want, r.text())
	}
}

// The table calls a phoria that is not held a deviation, and has the 1:1 rule of eso alone.
func TestTableOfFindings(t *testing.T) {
	table := func(at float64, near sim.Prism) string {
		s := weak()
		s.Beads[0].At = at
		s.Findings.Value.NearPhoria = near
		var v sim.View
		v.Look(s)
		var b bytes.Buffer
		require.NoError(t, Table(&b, []Entry{{View: &v}}))
		return b.String()
	}
	held, broken := table(480, -6), table(20, -6)
	assert.Contains(t, held, "phoria, eso +")
	assert.NotContains(t, held, "deviation without fusion")
	assert.Contains(t, broken, "deviation without fusion, eso +")
	assert.NotContains(t, broken, "phoria, eso +")
	assert.NotContains(t, held, "1:1 rule, near")
	assert.NotContains(t, table(480, 0), "1:1 rule, near")
	assert.Contains(t, table(480, 0.5), "1:1 rule, near")
}
