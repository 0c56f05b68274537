package sim

import (
	"slices"
	"strings"
)

// Range is what a number may be, ends included.
type Range struct{ Min, Max float64 }

// Holds says whether a number is in the range; what is no number is in none.
func (r Range) Holds(x float64) bool { return r.Min <= x && x <= r.Max }

// Clamp is the number of the range that is nearest to x.
func (r Range) Clamp(x float64) float64 { return max(r.Min, min(x, r.Max)) }

func (r Range) String() string { return decimals(r.Min) + " to " + decimals(r.Max) }

// field is one number, code or name of a set-up, by the key that a scene file has for
// it. Each axis of a point is one: "string.near_end_mm[1]".
type field struct {
	key     string
	ranges  []Range  // of a number, in any of them; of a name, of its length
	choices []string // of a code
	// get gives the value, a float64 or a string; ok is false where a set-up may do
	// without it and does. bead is nil but for the fields of a bead.
	get func(s *Setup, bead *Bead) (value any, ok bool)
}

// name is the key without its table.
func (f *field) name() string { return f.key[strings.LastIndexByte(f.key, '.')+1:] }

func num[T ~float64](key string, get func(*Setup) T, ranges ...Range) field {
	return field{key: key, ranges: ranges, get: func(s *Setup, _ *Bead) (any, bool) { return float64(get(s)), true }}
}

func maybe[T ~float64](key string, get func(*Setup) Maybe[T], r Range) field {
	return field{key: key, ranges: []Range{r}, get: func(s *Setup, _ *Bead) (any, bool) {
		m := get(s)
		return float64(m.Value), m.OK
	}}
}

func code[T ~string](key string, get func(*Setup) T, choices ...T) field {
	return field{key: key, choices: words(choices), get: func(s *Setup, _ *Bead) (any, bool) { return string(get(s)), true }}
}

func words[T ~string](choices []T) []string {
	all := make([]string, len(choices))
	for i, c := range choices {
		all[i] = string(c)
	}
	return all
}

// ofBead makes the field of a bead.
func ofBead(key string, get func(*Bead) any, ranges []Range, choices []string) field {
	return field{key: key, ranges: ranges, choices: choices, get: func(_ *Setup, b *Bead) (any, bool) { return get(b), true }}
}

// Ranges that several fields have.
var (
	whole    = Range{0, 1}
	allAlong = Range{0, 6000}
	turns    = Range{-100, 100}
	heights  = Range{-30, 30}
	aside    = Range{-1500, 1500}
	prisms   = Range{-40, 40}
	reserve  = Range{-40, 60} // reserves; below zero: single only with a prism the other way
	nearness = Range{1, 2000}
)

// fields are all numbers and codes of a set-up but for its beads and the beads that it
// looks at. What a scene file allows of a key stands here and nowhere else.
var fields = slices.Concat([]field{
	num("patient.pd_mm", func(s *Setup) float64 { return s.Patient.PD }, Range{40, 80}),
	num("patient.nodal_mm", func(s *Setup) float64 { return s.Patient.Nodal }, Range{0, 10}),
	num("patient.fusion_h_arcmin", func(s *Setup) Arcmin { return s.Patient.FusionH }, Range{0, 240}),
	num("patient.fusion_v_arcmin", func(s *Setup) Arcmin { return s.Patient.FusionV }, Range{0, 240}),
	num("patient.fusion_h_slope", func(s *Setup) float64 { return s.Patient.FusionHSlope }, Range{0, 0.2}),
	num("patient.fusion_v_slope", func(s *Setup) float64 { return s.Patient.FusionVSlope }, Range{0, 0.2}),
	num("patient.pupil_mm", func(s *Setup) float64 { return s.Patient.Pupil }, Range{1, 9}),
	num("patient.lambda_deg", func(s *Setup) Degrees { return s.Patient.Lambda }, Range{0, 12}),
	num("patient.age_years", func(s *Setup) float64 { return s.Patient.Age }, Range{3, 100}),
	maybe("patient.amplitude_d", func(s *Setup) Maybe[Dioptres] { return s.Patient.Amplitude }, Range{0, 20}),
	num("patient.lag_d", func(s *Setup) Dioptres { return s.Patient.Lag }, Range{-1, 3}),

	num("string.length_mm", func(s *Setup) float64 { return s.String.Length }, Range{150, allAlong.Max}),
	num("string.near_end_mm[1]", func(s *Setup) float64 { return s.String.NearEnd.X }, Range{-60, 60}),
	num("string.near_end_mm[2]", func(s *Setup) float64 { return s.String.NearEnd.Y }, Range{30, 90}),
	num("string.near_end_mm[3]", func(s *Setup) float64 { return s.String.NearEnd.Z }, Range{-90, 20}),
	num("string.anchor_side_mm", func(s *Setup) float64 { return s.String.AnchorSide }, aside),
	num("string.anchor_height_mm", func(s *Setup) float64 { return s.String.AnchorHeight }, aside),
	num("string.thickness_mm", func(s *Setup) float64 { return s.String.Thickness }, Range{0.5, 8}),
	num("string.sag_mm", func(s *Setup) float64 { return s.String.Sag }, Range{0, 300}),

	num("look.at_mm", func(s *Setup) float64 { return s.Look.At }, allAlong),

	num("posture.deviation_prism", func(s *Setup) Prism { return s.Posture.Deviation }, turns),
	num("posture.vertical_prism", func(s *Setup) Prism { return s.Posture.Vertical }, heights),
	num("posture.cyclo_deg", func(s *Setup) Degrees { return s.Posture.Cyclo }, Range{-20, 20}),
	code("posture.fixing", func(s *Setup) Side { return s.Posture.Fixing }, Both, Right, Left),
	num("posture.anomaly_prism", func(s *Setup) Prism { return s.Posture.Anomaly }, turns),
	num("posture.prism_met", func(s *Setup) float64 { return s.Posture.PrismMet }, whole),
	maybe("posture.accommodation_d", func(s *Setup) Maybe[Dioptres] { return s.Posture.Accommodation }, Range{0, 20}),

	num("hold.unsteady_arcmin", func(s *Setup) Arcmin { return s.Hold.SD }, Range{0, 60}),

	code("suppression.eye", func(s *Setup) Side { return s.Suppression.Eye }, Neither, Right, Left, Alternating),
	code("suppression.zone", func(s *Setup) Zone { return s.Suppression.Zone }, ZoneAll, ZoneCentral, ZoneNasal, ZoneTemporal, ZoneNearer, ZoneBeyond),
	code("suppression.centre", func(s *Setup) Centre { return s.Suppression.Centre }, CentreFovea, CentreTarget, CentreBoth),
	code("suppression.when", func(s *Setup) When { return s.Suppression.When }, WhenAlways, WhenTurned),
	num("suppression.radius_deg", func(s *Setup) Degrees { return s.Suppression.Radius }, Range{0.5, 60}),
	num("suppression.depth", func(s *Setup) float64 { return s.Suppression.Depth }, whole),
	num("suppression.period_s", func(s *Setup) float64 { return s.Suppression.Period }, Range{}, Range{1, 60}),
	num("suppression.share", func(s *Setup) float64 { return s.Suppression.Share }, whole),

	code("cover.eye", func(s *Setup) Side { return s.Cover }, Neither, Right, Left),
},
	glassFields("right", func(s *Setup) *Glass { return &s.Right }),
	glassFields("left", func(s *Setup) *Glass { return &s.Left }),
	foundFields(),
)

func glassFields(eye string, at func(*Setup) *Glass) []field {
	return []field{
		num(eye+".base_out_prism", func(s *Setup) Prism { return at(s).BaseOut }, prisms),
		num(eye+".base_up_prism", func(s *Setup) Prism { return at(s).BaseUp }, prisms),
		num(eye+".lens_d", func(s *Setup) Dioptres { return at(s).Lens }, Range{-20, 20}),
		num(eye+".refraction_d", func(s *Setup) Dioptres { return at(s).Refraction }, Range{-15, 15}),
		code(eye+".filter", func(s *Setup) Filter { return at(s).Filter }, FilterNone, FilterRed, FilterGreen),
	}
}

// foundFields are the fields of findings, which are there only in a set-up that has
// findings.
func foundFields() []field {
	at := func(s *Setup) *Findings { return &s.Findings.Value }
	all := slices.Concat([]field{
		num("findings.far_phoria_prism", func(s *Setup) Prism { return at(s).FarPhoria }, turns),
		num("findings.near_phoria_prism", func(s *Setup) Prism { return at(s).NearPhoria }, turns),
		num("findings.vertical_phoria_prism", func(s *Setup) Prism { return at(s).VerticalPhoria }, heights),
		num("findings.vertical_break_prism", func(s *Setup) Prism { return at(s).VerticalBreak }, Range{0, 30}),
	},
		reserveFields("far", func(s *Setup) *Reserves { return &at(s).Far }),
		reserveFields("near", func(s *Setup) *Reserves { return &at(s).Near }),
		[]field{
			num("findings.npc_break_mm", func(s *Setup) float64 { return at(s).NPCBreak }, nearness),
			num("findings.npc_recovery_mm", func(s *Setup) float64 { return at(s).NPCRecovery }, nearness),
			maybe("findings.aca_gradient_prism_per_d", func(s *Setup) Maybe[float64] { return at(s).ACA }, Range{0, 20}),
			num("findings.near_add_d", func(s *Setup) Dioptres { return at(s).NearAdd }, Range{0, 4}),
			num("findings.disparity_slope_arcmin_per_prism", func(s *Setup) float64 { return at(s).DisparitySlope }, Range{0, 10}),
			code("findings.preferred_eye", func(s *Setup) Side { return at(s).Preferred }, Right, Left),
			code("findings.state", func(s *Setup) State { return at(s).State }, StateHolding, StateBroken),
		})
	for i := range all {
		get := all[i].get
		all[i].get = func(s *Setup, b *Bead) (any, bool) {
			v, ok := get(s, b)
			return v, ok && s.Findings.OK
		}
	}
	return all
}

func reserveFields(distance string, at func(*Setup) *Reserves) []field {
	key := func(name string) string { return "findings." + distance + "_" + name + "_prism" }
	return []field{
		maybe(key("base_in_blur"), func(s *Setup) Maybe[Prism] { return at(s).BaseInBlur }, reserve),
		num(key("base_in_break"), func(s *Setup) Prism { return at(s).BaseInBreak }, reserve),
		num(key("base_in_recovery"), func(s *Setup) Prism { return at(s).BaseInRecovery }, reserve),
		num(key("base_out_blur"), func(s *Setup) Prism { return at(s).BaseOutBlur }, reserve),
		num(key("base_out_break"), func(s *Setup) Prism { return at(s).BaseOutBreak }, reserve),
		num(key("base_out_recovery"), func(s *Setup) Prism { return at(s).BaseOutRecovery }, reserve),
	}
}

// beadFields are the fields of every bead.
var beadFields = []field{
	ofBead("beads[].name", func(b *Bead) any { return b.Name }, []Range{{1, 32}}, nil),
	ofBead("beads[].at_mm", func(b *Bead) any { return b.At }, []Range{allAlong}, nil),
	ofBead("beads[].diameter_mm", func(b *Bead) any { return b.Diameter }, []Range{{4, 60}}, nil),
	ofBead("beads[].surface", func(b *Bead) any { return string(b.Surface) }, nil,
		words([]Surface{SurfacePlain, SurfaceBanded, SurfaceDotted, SurfaceRinged})),
}

// fieldOf is the field of a key, or nil.
func fieldOf(key string) *field {
	for _, all := range [][]field{fields, beadFields} {
		if i := slices.IndexFunc(all, func(f field) bool { return f.key == key }); i >= 0 {
			return &all[i]
		}
	}
	return nil
}

// Bounds are the ranges in any of which the number with a key may be, or the length of
// the name with it; those of a bead have keys such as "beads[].at_mm", and those of a
// point are of its axes, "string.near_end_mm[1]". There are none for other keys.
func Bounds(key string) []Range {
	if f := fieldOf(key); f != nil {
		return slices.Clone(f.ranges)
	}
	return nil
}

// Choices are the codes that a key such as "posture.fixing" takes; there are none for
// keys of numbers and names, and for others.
func Choices(key string) []string {
	if f := fieldOf(key); f != nil {
		return slices.Clone(f.choices)
	}
	return nil
}
