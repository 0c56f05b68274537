package words

import (
	"math"
	"strings"

	"twincord/sim"
)

// Clinician is the caption for clinicians: the posture, the crossing, the bead
// looked at, the strings and what is missing, in the trade's terms and with the
// numbers. The view must have looked at the set-up.
func (w *Words) Clinician(v *sim.View) string {
	s := &v.Now
	var said []string
	add := func(id string, data with) { said = append(said, w.say(id, data)) }
	w.clinicAsked(v, add)
	w.clinicPosture(v, s, add)
	w.clinicCrossing(v, add)
	if v.Account.LookedAt == "" {
		w.clinicBare(v, add)
	} else {
		w.clinicBead(v, add)
	}
	w.clinicStrings(v, add)
	w.clinicMissing(v, s, add)
	return strings.Join(said, " ")
}

// adder says one more sentence.
type adder func(id string, data with)

func (w *Words) clinicAsked(v *sim.View, add adder) {
	a := &v.Account
	switch {
	case a.Asked == a.LookedAt:
	case a.LookedAt == "":
		add("clinic-asked-bare", with{"Asked": a.Asked, "At": w.centimetres(v.Target.At)})
	default:
		add("clinic-asked", with{"Asked": a.Asked, "LookedAt": a.LookedAt})
	}
}

func (w *Words) clinicPosture(v *sim.View, s *sim.Setup, add adder) {
	p := &s.Posture
	prism := func(x sim.Prism) with { return with{"Prism": w.prisms(float64(x))} }
	switch {
	case p.Deviation > 0:
		add("clinic-eso-"+string(p.Fixing), prism(p.Deviation))
	case p.Deviation < 0:
		add("clinic-exo-"+string(p.Fixing), prism(p.Deviation))
	case p.Vertical == 0 && p.Cyclo == 0:
		add("clinic-straight", nil)
	}
	switch {
	case p.Vertical > 0:
		add("clinic-hyper-right", prism(p.Vertical))
	case p.Vertical < 0:
		add("clinic-hyper-left", prism(p.Vertical))
	}
	cyclo := with{"Degrees": w.Number(math.Abs(float64(p.Cyclo)), 1)}
	switch {
	case p.Cyclo > 0:
		add("clinic-excyclo", cyclo)
	case p.Cyclo < 0:
		add("clinic-incyclo", cyclo)
	}
	if v.Account.Eyes == sim.AimApart {
		add("clinic-axes-part", nil)
	}
	if p.Anomaly != 0 {
		add("clinic-anomaly", with{"Prism": w.Number(float64(p.Anomaly), 1)})
	}
	if unanswered(s) {
		add("clinic-prism-met", with{"Percent": w.Number(100*p.PrismMet, 0)})
	}
}

func (w *Words) clinicCrossing(v *sim.View, add adder) {
	c := &v.Crossing
	id := "clinic-cross-"
	if m := v.Account.Meet; v.Account.LookedAt == "" && m != sim.MeetNowhere && m != sim.MeetUnseen {
		id += "bare-"
	}
	add(id+string(v.Account.Meet), with{
		"At":     w.centimetres(c.At.Value),
		"Offset": w.centimetres(math.Abs(c.Offset.Value)),
	})
}

func (w *Words) clinicBare(v *sim.View, add adder) {
	switch a := &v.Account; {
	case a.Fuses:
		add("clinic-bare-single", nil)
	case a.Apart.OK:
		add("clinic-bare-apart", with{"Degrees": w.degrees(a.Apart.Value)})
	}
}

func (w *Words) clinicBead(v *sim.View, add adder) {
	a, b := &v.Account, fixated(v)
	var d sim.Disparity
	diplopia := sim.DiplopiaNone
	if b != nil {
		d, diplopia = b.Disparity.Value, b.Diplopia
	}
	switch a.Fixated {
	case sim.SeenOne:
		within := with{"Arcmin": w.Number(math.Abs(float64(d.H.Arcmin())), 1), "Limit": w.Number(float64(d.LimitH.Arcmin()), 1)}
		switch h := d.H.Arcmin(); {
		case h >= 0.05:
			add("clinic-single-crossed", within)
		case h <= -0.05:
			add("clinic-single-uncrossed", within)
		default:
			add("clinic-single", nil)
		}
	case sim.SeenTwo:
		apart := d.H
		if diplopia == sim.DiplopiaVertical {
			apart = d.V
		}
		add("clinic-double-"+string(diplopia), with{"Degrees": w.degrees(apart)})
		if a.Higher != sim.Neither {
			add("clinic-higher-"+string(a.Higher), with{"Degrees": w.degrees(d.V)})
		}
	default:
		add("clinic-bead-"+string(a.Fixated), nil)
	}
}

func (w *Words) clinicStrings(v *sim.View, add adder) {
	a := &v.Account
	counts := with{
		"Pattern": string(a.Pattern),
		"Near":    w.Number(float64(a.Near), 0),
		"Far":     w.Number(float64(a.Far), 0),
	}
	switch a.Pattern {
	case sim.PatternX, sim.PatternV, sim.PatternA, sim.PatternY:
		add("clinic-pattern", counts)
	default:
		add("clinic-strings", counts)
	}
}

func (w *Words) clinicMissing(v *sim.View, s *sim.Setup, add adder) {
	if s.Cover != sim.Neither {
		add("clinic-covered-"+string(s.Cover), nil)
	}
	eye, where := leftOut(v, s)
	if eye == sim.Neither {
		return
	}
	id := "clinic-out-"
	switch where {
	case sim.WhereCentre:
		id += string(s.Suppression.Centre) + "-"
	case sim.WhereNearer, sim.WhereBeyond:
		id += string(where) + "-"
	}
	add(id+string(eye), with{"Degrees": w.Number(float64(s.Suppression.Radius), 1)})
}
