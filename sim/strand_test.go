package sim_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"twincord/sim"
)

// TestFusedStretchNearTheLimits sets the fused stretch against the second route
// where a vertical disparity is about as large as Panum's limit at the fovea, so
// that it may be broken where the gaze passes by, however shortly.
func TestFusedStretchNearTheLimits(t *testing.T) {
	fewer(t)
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		of := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		s.Patient.FusionV, s.Patient.FusionVSlope = sim.Arcmin(of("limit", 3, 20)), of("growth", 0.1, 0.2)
		s.Patient.FusionH, s.Patient.FusionHSlope = sim.Arcmin(of("wide limit", 20, 120)), 0.1
		// Both images moved up or down alike: the gaze passes beside the place looked at.
		s.Right, s.Left = sim.Glass{BaseUp: sim.Prism(of("prisms", -1, 1))}, sim.Glass{}
		s.Left.BaseUp = s.Right.BaseUp
		s.Posture = sim.Posture{Fixing: sim.Both, Deviation: sim.Prism(of("small deviation", -0.2, 0.2))}
		s.Posture.Vertical = (s.Patient.FusionV.Angle() * sim.Angle(of("of the limit", 1, 1.03))).Prism()
		s.Look = sim.Fixation{Bead: sim.NoBead, Asked: sim.NoBead, At: s.String.Length * of("looked at", 0.02, 0.98)}
		var v sim.View
		v.Look(&s)
		c := &comparison{w: newWitness(&s), v: &v}
		if c.strings(); len(c.parts) > 0 {
			t.Fatalf("%s\n%+v", strings.Join(c.parts, "\n"), s)
		}
	})
}
