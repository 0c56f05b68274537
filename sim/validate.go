package sim

import (
	"fmt"
	"math"
)

// MaxBeads is the most beads that a string takes.
const MaxBeads = 12

// Validate says what keeps the set-up from being looked at: the first field that
// is not a finite number, a length that must be above zero, or a bead that does
// not exist. It names the field as a scene file does. What a scene file allows is
// narrower, see package scenes; Look gives defined results for all that passes
// here.
func (s *Setup) Validate() error {
	finite := []named{
		{"patient.pd_mm", s.Patient.PD},
		{"patient.nodal_mm", s.Patient.Nodal},
		{"patient.fusion_h_arcmin", float64(s.Patient.FusionH)},
		{"patient.fusion_v_arcmin", float64(s.Patient.FusionV)},
		{"patient.fusion_h_slope", s.Patient.FusionHSlope},
		{"patient.fusion_v_slope", s.Patient.FusionVSlope},
		{"patient.pupil_mm", s.Patient.Pupil},
		{"patient.lambda_deg", float64(s.Patient.Lambda)},
		{"patient.age_years", s.Patient.Age},
		{"patient.amplitude_d", float64(s.Patient.Amplitude.Value)},
		{"patient.lag_d", float64(s.Patient.Lag)},
		{"string.length_mm", s.String.Length},
		{"string.near_end_mm[1]", s.String.NearEnd.X},
		{"string.near_end_mm[2]", s.String.NearEnd.Y},
		{"string.near_end_mm[3]", s.String.NearEnd.Z},
		{"string.anchor_side_mm", s.String.AnchorSide},
		{"string.anchor_height_mm", s.String.AnchorHeight},
		{"string.thickness_mm", s.String.Thickness},
		{"string.sag_mm", s.String.Sag},
		{"look.at_mm", s.Look.At},
		{"posture.deviation_prism", float64(s.Posture.Deviation)},
		{"posture.vertical_prism", float64(s.Posture.Vertical)},
		{"posture.cyclo_deg", float64(s.Posture.Cyclo)},
		{"posture.anomaly_prism", float64(s.Posture.Anomaly)},
		{"posture.prism_met", s.Posture.PrismMet},
		{"suppression.period_s", s.Suppression.Period},
		{"suppression.share", s.Suppression.Share},
		{"hold.unsteady_arcmin", float64(s.Hold.SD)},
		{"posture.accommodation_d", float64(s.Posture.Accommodation.Value)},
		{"suppression.radius_deg", float64(s.Suppression.Radius)},
		{"suppression.depth", s.Suppression.Depth},
		{"right.base_out_prism", float64(s.Right.BaseOut)},
		{"right.base_up_prism", float64(s.Right.BaseUp)},
		{"right.lens_d", float64(s.Right.Lens)},
		{"left.base_out_prism", float64(s.Left.BaseOut)},
		{"left.base_up_prism", float64(s.Left.BaseUp)},
		{"left.lens_d", float64(s.Left.Lens)},
	}
	if s.Findings.OK {
		finite = append(finite, s.Findings.Value.numbers()...)
	}
	for _, f := range finite {
		if err := checkFinite(f.name, f.value); err != nil {
			return err
		}
	}
	for _, f := range []named{{"patient.pd_mm", s.Patient.PD}, {"string.length_mm", s.String.Length}} {
		if f.value <= 0 {
			return fmt.Errorf("%s: %v, must be above 0", f.name, f.value)
		}
	}
	if len(s.Beads) > MaxBeads {
		return fmt.Errorf("beads: %d, at most %d", len(s.Beads), MaxBeads)
	}
	for i, b := range s.Beads {
		name := fmt.Sprintf("beads[%d]", i+1)
		if err := checkFinite(name+".at_mm", b.At); err != nil {
			return err
		}
		if err := checkFinite(name+".diameter_mm", b.Diameter); err != nil {
			return err
		}
	}
	for _, b := range []struct {
		name string
		bead int
	}{{"look.bead", s.Look.Bead}, {"look.asked", s.Look.Asked}, {"look.from", s.Look.From.Or(NoBead)}} {
		if b.bead != NoBead && (b.bead < 0 || b.bead >= len(s.Beads)) {
			return fmt.Errorf("%s: no bead with number %d, there are %d", b.name, b.bead+1, len(s.Beads))
		}
	}
	return nil
}

// named is a number under the name that a scene file has for it.
type named struct {
	name  string
	value float64
}

func (f *Findings) numbers() []named {
	all := []named{
		{"findings.far_phoria_prism", float64(f.FarPhoria)},
		{"findings.near_phoria_prism", float64(f.NearPhoria)},
		{"findings.vertical_phoria_prism", float64(f.VerticalPhoria)},
		{"findings.vertical_break_prism", float64(f.VerticalBreak)},
		{"findings.npc_break_mm", f.NPCBreak},
		{"findings.npc_recovery_mm", f.NPCRecovery},
		{"findings.aca_gradient_prism_per_d", f.ACA.Value},
		{"findings.disparity_slope_arcmin_per_prism", f.DisparitySlope},
	}
	for i, r := range []*Reserves{&f.Far, &f.Near} {
		distance := [...]string{"far", "near"}[i]
		all = append(all,
			named{"findings." + distance + "_base_in_blur_prism", float64(r.BaseInBlur.Value)},
			named{"findings." + distance + "_base_in_break_prism", float64(r.BaseInBreak)},
			named{"findings." + distance + "_base_in_recovery_prism", float64(r.BaseInRecovery)},
			named{"findings." + distance + "_base_out_blur_prism", float64(r.BaseOutBlur)},
			named{"findings." + distance + "_base_out_break_prism", float64(r.BaseOutBreak)},
			named{"findings." + distance + "_base_out_recovery_prism", float64(r.BaseOutRecovery)})
	}
	return all
}

// limit is the largest number that any field may be, far above what a scene file
// allows and far below where squares and products overflow.
const limit = 1e9

func checkFinite(name string, v float64) error {
	if math.IsNaN(v) || math.Abs(v) > limit {
		return fmt.Errorf("%s: %v, must be a finite number of size %g or less", name, v, limit)
	}
	return nil
}
