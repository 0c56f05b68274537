package sim

import "math"

// Relief is what a criterion makes of a phoria and its reserves: arithmetic, and
// never a verdict.
type Relief struct {
	// Lacking is what the criterion's formula gives, Δ: above zero the size of the
	// prism with which it would be met exactly, else it is met.
	Lacking Prism
	// Prism is that prism, for both eyes together: base-out +, base-in −, 0 where
	// the criterion is met.
	Prism Prism
}

func relief(lacking Prism, baseOut bool) Relief {
	r := Relief{Lacking: lacking}
	if lacking > 0 {
		r.Prism = lacking
		if !baseOut {
			r.Prism = -lacking
		}
	}
	return r
}

// Sheard sets a phoria (eso +) against the reserve that compensates for it, which
// shall be twice as large: base-out for exo, base-in for eso. What is lacking is
// (2·|phoria| − reserve)/3, base-in for exo and base-out for eso (row C14). Any
// phoria and reserve, also a reserve below zero; no phoria counts as exo.
func Sheard(phoria, reserve Prism) Relief {
	return relief((2*abs(phoria)-reserve)/3, phoria > 0)
}

// Percival wants the target's demand in the middle third between the two blur
// points: the lesser reserve L at least half of the greater one G. What is lacking
// is (G − 2·L)/3 (row C15). The base is that of the greater reserve, from which the
// prism takes what it gives to the lesser: relief of a lesser base-in reserve is
// base-out.
func Percival(baseIn, baseOut Prism) Relief {
	return relief((max(baseIn, baseOut)-2*min(baseIn, baseOut))/3, baseOut > baseIn)
}

// Sheard is Sheard's criterion for a phoria at the distance of the reserves. It
// goes by the blur point, or by the break where nothing blurs before it.
func (r *Reserves) Sheard(phoria Prism) Relief {
	if phoria > 0 {
		return Sheard(phoria, r.baseIn())
	}
	return Sheard(phoria, r.BaseOutBlur)
}

// Percival is Percival's criterion at the distance of the reserves. It goes by the
// blur points, or by the break where nothing blurs before it.
func (r *Reserves) Percival() Relief { return Percival(r.baseIn(), r.BaseOutBlur) }

func (r *Reserves) baseIn() Prism { return r.BaseInBlur.Or(r.BaseInBreak) }

// OneToOne is the 1:1 rule at the distance of the reserves: the base-in recovery shall
// be as large as the eso. What is lacking is half of what it falls short by, and is
// given base-out (Saladin; from memory). It is a rule for eso alone: of exo, and of no
// phoria, it says nothing.
func (r *Reserves) OneToOne(phoria Prism) Maybe[Relief] {
	if phoria <= 0 {
		return Maybe[Relief]{}
	}
	return Some(relief((phoria-r.BaseInRecovery)/2, true))
}

// CalculatedACA is the AC/A ratio by the heterophoria method, Δ/D: the distance
// between the eyes in cm, and the distance of the near test in m times how much
// more eso the phoria is there than at far (row C16). Lengths are in mm, phorias
// eso +. It contains what nearness itself adds to convergence.
func CalculatedACA(pd, distance float64, far, near Prism) float64 {
	return pd/10 + distance/1000*float64(near-far)
}

// Amplitude is the amplitude of accommodation at an age in years: the least, the
// mean and the greatest line, 15 − 0.25·a, 18.5 − 0.30·a and 25 − 0.40·a, never
// below 0 (row C18, Hofstetter).
func Amplitude(age float64) (least, mean, greatest Dioptres) {
	line := func(atBirth, perYear float64) Dioptres {
		return Dioptres(math.Max(0, atBirth-perYear*age))
	}
	return line(15, 0.25), line(18.5, 0.30), line(25, 0.40)
}

// Expectation is one finding beside its published value. People differ, and the
// tables are of adults without complaints: it is a comparison, never a verdict.
type Expectation struct {
	Key   string  // the key of a scene file; its unit is that of the numbers
	Value float64 // as found
	// Mean is the published mean; where there is no SD, the published limit: the
	// farthest near point (row C10), the usual vertical break (row C20).
	Mean float64
	SD   Maybe[float64]
	SDs  Maybe[float64] // how many SD the value lies above the mean
	Row  string         // of published values
}

// Expected sets the findings beside what is published: rows C1 – C7 (Morgan) with
// the SD of each, C10 and C20; of C8 the amplitude, 18 − age/3. What was not
// measured (AC/A, amplitude, a base-in blur at near) is left out, and so is a
// base-in blur at far, which nobody is expected to have.
func (f *Findings) Expected(p *Patient) []Expectation {
	var all []Expectation
	add := func(row, key string, value, mean, sd float64) {
		e := Expectation{Key: key, Value: value, Mean: mean, Row: row}
		if sd > 0 {
			e.SD, e.SDs = Some(sd), Some((value-mean)/sd)
		}
		all = append(all, e)
	}
	prism := func(row, key string, value, mean Prism, sd float64) {
		add(row, key, float64(value), float64(mean), sd)
	}
	d := DefaultFindings()

	prism("C1", "far_phoria_prism", f.FarPhoria, d.FarPhoria, 2)
	prism("C2", "near_phoria_prism", f.NearPhoria, d.NearPhoria, 3)
	prism("C3", "far_base_out_blur_prism", f.Far.BaseOutBlur, d.Far.BaseOutBlur, 4)
	prism("C3", "far_base_out_break_prism", f.Far.BaseOutBreak, d.Far.BaseOutBreak, 8)
	prism("C3", "far_base_out_recovery_prism", f.Far.BaseOutRecovery, d.Far.BaseOutRecovery, 4)
	prism("C4", "far_base_in_break_prism", f.Far.BaseInBreak, d.Far.BaseInBreak, 3)
	prism("C4", "far_base_in_recovery_prism", f.Far.BaseInRecovery, d.Far.BaseInRecovery, 2)
	prism("C5", "near_base_out_blur_prism", f.Near.BaseOutBlur, d.Near.BaseOutBlur, 5)
	prism("C5", "near_base_out_break_prism", f.Near.BaseOutBreak, d.Near.BaseOutBreak, 6)
	prism("C5", "near_base_out_recovery_prism", f.Near.BaseOutRecovery, d.Near.BaseOutRecovery, 7)
	if blur := f.Near.BaseInBlur; blur.OK {
		prism("C6", "near_base_in_blur_prism", blur.Value, d.Near.BaseInBlur.Value, 4)
	}
	prism("C6", "near_base_in_break_prism", f.Near.BaseInBreak, d.Near.BaseInBreak, 4)
	prism("C6", "near_base_in_recovery_prism", f.Near.BaseInRecovery, d.Near.BaseInRecovery, 5)
	if f.ACA.OK {
		add("C7", "aca_gradient_prism_per_d", f.ACA.Value, 4, 2)
	}
	if p.Amplitude.OK {
		add("C8", "amplitude_d", float64(p.Amplitude.Value), math.Max(0, 18-p.Age/3), 2)
	}
	add("C10", "npc_break_mm", f.NPCBreak, d.NPCBreak, 0)
	add("C10", "npc_recovery_mm", f.NPCRecovery, d.NPCRecovery, 0)
	prism("C20", "vertical_break_prism", f.VerticalBreak, d.VerticalBreak, 0)
	return all
}
