package words

import (
	"math"

	"twincord/sim"
)

// holdID names what findings make of the place looked at (M14), for families; ""
// where what is seen tells of the aim alone, as in a hold that wavers too far.
func holdID(v *sim.View, h *sim.Holding) string {
	switch {
	case h.State == sim.StateHolding && doubled(v):
		return ""
	case h.State == sim.StateHolding:
		switch a := &v.Account; {
		case a.Meet == sim.MeetNearer && a.Eyes != sim.AimExo:
			return "hold-nearer" + bare(v)
		case a.Meet == sim.MeetBeyond && a.Eyes != sim.AimEso:
			return "hold-beyond" + bare(v)
		}
		return "hold-on" + bare(v)
	case v.Account.Fuses:
		return "hold-chance" + bare(v)
	case h.Why == sim.WhySuppressed:
		return "hold-suppressed"
	case h.Why == sim.WhyVertical:
		return "hold-vertical" + bare(v)
	case notBack(h):
		return "hold-back" + bare(v)
	}
	// A reserve of its own is left to the eyes, so that only what stands before them
	// can ask for more.
	if reserve := limits(h).breaks; reserve >= 0 {
		if focused(v, h) {
			return "hold-" + string(h.Why) + "-focus"
		}
		return "hold-" + string(h.Why) + "-glass"
	}
	if h.Why == sim.WhyConverge && h.Extrapolated && v.Now.Findings.Value.Near.BaseOutBreak > 0 {
		return "hold-near" + bare(v)
	}
	return "hold-" + string(h.Why) + bare(v)
}

// focused says whether more of the load comes from focusing harder or less hard than
// in the examination, through lenses or without them, than from prisms.
func focused(v *sim.View, h *sim.Holding) bool {
	prisms := v.Now.Right.BaseOut + v.Now.Left.BaseOut
	return math.Abs(float64(h.Judged-prisms)) > math.Abs(float64(prisms))
}

// side is the load and the reserves on the side that a hold is broken on, or that
// is nearer to its break: each away from the demand +.
type side struct {
	out                    bool // base-out
	load, breaks, recovers sim.Prism
}

func limits(h *sim.Holding) side {
	out := side{true, h.Judged, h.BaseOutBreak, h.BaseOutRecovery}
	in := side{false, -h.Judged, h.BaseInBreak, h.BaseInRecovery}
	switch {
	case h.Why == sim.WhyConverge:
		return out
	case h.Why == sim.WhyDiverge:
		return in
	case in.breaks-in.load < out.breaks-out.load:
		return in
	}
	return out
}

// notBack says whether eyes that have let go would still hold, had they not.
func notBack(h *sim.Holding) bool {
	return (h.Why == sim.WhyConverge || h.Why == sim.WhyDiverge) && h.Left >= 0
}

// clinicHold gives the phoria and what remains of the reserves at the place looked at.
func (w *Words) clinicHold(v *sim.View, add adder) {
	if !v.Holding.OK {
		return
	}
	h, f := &v.Holding.Value, &v.Now.Findings.Value

	// Latent while fusion holds it; broken it is manifest, and no phoria. The fusional
	// demand is the same number the other way round.
	phoria := "clinic-phoria"
	if h.State == sim.StateBroken {
		phoria = "clinic-unfused"
	}
	if h.Extrapolated {
		phoria += "-extrapolated"
	}
	add(phoria, with{"Phoria": w.computed(h.Phoria, "unit-eso", "unit-exo")})
	if !nothing(h.Load) {
		add("clinic-load", with{"Load": w.computed(h.Load, "unit-load-out", "unit-load-in")})
	}
	if h.Vertical != 0 {
		eye := sim.Right
		if h.Vertical < 0 {
			eye = sim.Left
		}
		add("clinic-vertical-"+string(eye), with{
			"Prism": w.prisms(float64(h.Vertical)), "Break": w.prisms(float64(f.VerticalBreak)),
		})
	}
	w.clinicState(h, add)

	ratio := "clinic-aca"
	if h.ACAStandsIn {
		ratio = "clinic-aca-calculated"
	}
	add(ratio, with{"Ratio": w.shortest(h.ACA, 1)})
}

// clinicCriteria says at the distances of the tests which criteria are met, and which prism
// would meet them.
func (w *Words) clinicCriteria(v *sim.View, add adder) {
	if !v.Holding.OK {
		return
	}
	f := &v.Now.Findings.Value
	relief := func(r sim.Relief) string {
		if nothing(r.Prism) {
			return w.Label(CriterionMet)
		}
		return w.computed(r.Prism, "unit-load-out", "unit-load-in")
	}
	add("clinic-sheard", with{"Far": relief(f.Far.Sheard(f.FarPhoria)), "Near": relief(f.Near.Sheard(f.NearPhoria))})
	add("clinic-percival", with{"Far": relief(f.Far.Percival()), "Near": relief(f.Near.Percival())})
	switch far, near := f.Far.OneToOne(f.FarPhoria), f.Near.OneToOne(f.NearPhoria); {
	case far.OK && near.OK:
		add("clinic-one-to-one", with{"Far": relief(far.Value), "Near": relief(near.Value)})
	case far.OK:
		add("clinic-one-to-one-far", with{"Far": relief(far.Value)})
	case near.OK:
		add("clinic-one-to-one-near", with{"Near": relief(near.Value)})
	}
}

// clinicReckoned says how the criteria are reckoned, and that they are no verdict.
func (w *Words) clinicReckoned(v *sim.View, add adder) {
	if v.Holding.OK {
		add("clinic-criteria", nil)
	}
}

// clinicState says what remains until the nearer break, or by how much it is passed.
func (w *Words) clinicState(h *sim.Holding, add adder) {
	l := limits(h)
	base := "-in"
	if l.out {
		base = "-out"
	}
	by := func(p sim.Prism) with { return with{"Prism": w.number(p)} }
	switch {
	case h.State == sim.StateHolding:
		add("clinic-holding"+base, by(h.Left))
	case h.Why == sim.WhyCovered, h.Why == sim.WhySuppressed, h.Why == sim.WhyVertical:
		add("clinic-broken-"+string(h.Why), nil)
	case notBack(h):
		add("clinic-not-back"+base, by(l.load-l.recovers))
	default:
		add("clinic-broken"+base, by(l.load-l.breaks))
	}
}

// computed writes a computed prism with the word for its side; what rounds to
// nothing has none.
func (w *Words) computed(p sim.Prism, positive, negative string) string {
	id := "unit-prism"
	switch {
	case nothing(p):
	case p > 0:
		id = positive
	default:
		id = negative
	}
	return w.say(id, with{"Number": w.number(p)})
}

// nothing says whether a computed prism is none as it is written, and straight
// whether a typed one is.
func nothing(p sim.Prism) bool { return math.Abs(float64(p)) < 0.05 }

func straight(p sim.Prism) bool { return math.Abs(float64(p)) < 0.005 }
