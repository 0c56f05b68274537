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
	case h.Why == sim.WhyVertical:
		return "hold-vertical" + bare(v)
	case notBack(h):
		return "hold-back" + bare(v)
	}
	// A reserve of its own is left to the eyes, so that only what stands before them
	// can ask for more.
	if reserve := limits(h).breaks; reserve >= 0 {
		return "hold-" + string(h.Why) + "-glass"
	}
	if h.Why == sim.WhyConverge && h.Extrapolated && v.Now.Findings.Value.Near.BaseOutBreak > 0 {
		return "hold-near" + bare(v)
	}
	return "hold-" + string(h.Why) + bare(v)
}

// side is the load and the reserves on the side that a hold is broken on, or that
// is nearer to its break: each away from the demand +.
type side struct {
	out                    bool // base-out
	load, breaks, recovers sim.Prism
}

func limits(h *sim.Holding) side {
	out := side{true, h.Load, h.BaseOutBreak, h.BaseOutRecovery}
	in := side{false, -h.Load, h.BaseInBreak, h.BaseInRecovery}
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

// clinicHold gives the phoria and what remains of the reserves at the place looked
// at, with the arithmetic of the criteria at the distances of the tests.
func (w *Words) clinicHold(v *sim.View, add adder) {
	if !v.Holding.OK {
		return
	}
	h, f := &v.Holding.Value, &v.Now.Findings.Value

	phoria := "clinic-phoria"
	if h.Extrapolated {
		phoria = "clinic-phoria-extrapolated"
	}
	add(phoria, with{
		"Phoria": w.computed(h.Phoria, "unit-eso", "unit-exo"),
		"Need":   w.computed(h.Need, "unit-convergence", "unit-divergence"),
		"Load":   w.computed(h.Load, "unit-load-out", "unit-load-in"),
	})
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
	add(ratio, with{"Ratio": w.Number(h.ACA, 1)})
	lacking := func(r sim.Relief) string { return w.Number(float64(r.Lacking), 1) }
	add("clinic-sheard", with{"Far": lacking(f.Far.Sheard(f.FarPhoria)), "Near": lacking(f.Near.Sheard(f.NearPhoria))})
	add("clinic-percival", with{"Far": lacking(f.Far.Percival()), "Near": lacking(f.Near.Percival())})
	add("clinic-criteria", nil)
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

// number writes the amount of a computed prism: two decimals below 1 Δ, else one.
func (w *Words) number(p sim.Prism) string {
	if a := math.Abs(float64(p)); a >= 0.995 {
		return w.Number(a, 1)
	}
	return w.prisms(float64(p))
}

// computed writes a computed prism with the word for its side; what rounds to
// nothing has none.
func (w *Words) computed(p sim.Prism, positive, negative string) string {
	id := "unit-prism"
	switch {
	case straight(p):
	case p > 0:
		id = positive
	default:
		id = negative
	}
	return w.say(id, with{"Number": w.number(p)})
}

// straight says whether a prism is nothing as it is written.
func straight(p sim.Prism) bool { return math.Abs(float64(p)) < 0.005 }
