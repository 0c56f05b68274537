package measure

import (
	"fmt"
	"strings"

	"twincord/sim"
)

// posture is the error of the eyes at the moment, typed in or worked out.
type posture struct {
	Deviation number   `json:"deviation_prism"`
	Vertical  number   `json:"vertical_prism"`
	Cyclo     number   `json:"cyclo_deg"`
	Fixing    sim.Side `json:"fixing"`
	Anomaly   number   `json:"anomaly_prism"`
	PrismMet  number   `json:"prism_met"`
}

func newPosture(p *sim.Posture) posture {
	return posture{number(p.Deviation), number(p.Vertical), number(p.Cyclo), p.Fixing, number(p.Anomaly), number(p.PrismMet)}
}

func (p *posture) table(t table) {
	t.heading("posture")
	t.num("deviation, eso +", float64(p.Deviation), 2, "Δ")
	t.num("vertical, right eye higher +", float64(p.Vertical), 2, "Δ")
	t.num("torsion, excyclo +", float64(p.Cyclo), 2, "°")
	t.row("fixing", string(p.Fixing), "")
}

// findings is what the patient's findings make of the target.
type findings struct {
	State           sim.State `json:"state"`
	Why             sim.Why   `json:"why"`
	Distance        number    `json:"distance_d"`
	Extrapolated    bool      `json:"extrapolated"`
	Load            number    `json:"load_prism"`
	Phoria          number    `json:"phoria_prism"`
	Need            number    `json:"need_prism"`
	Vertical        number    `json:"vertical_need_prism"`
	BaseInBreak     number    `json:"base_in_break_prism"`
	BaseInRecovery  number    `json:"base_in_recovery_prism"`
	BaseOutBreak    number    `json:"base_out_break_prism"`
	BaseOutRecovery number    `json:"base_out_recovery_prism"`
	Left            number    `json:"left_prism"`
	ACA             number    `json:"aca_prism_per_d"`
	ACACalculated   number    `json:"aca_calculated_prism_per_d"`
	ACAStandsIn     bool      `json:"aca_stands_in"`
	Far             criteria  `json:"far"`
	Near            criteria  `json:"near"`

	Expected []expectation `json:"expected"`
}

// criteria are the criteria at one of the two test distances.
type criteria struct {
	Sheard   relief `json:"sheard"`
	Percival relief `json:"percival"`
	// The 1:1 rule is one for eso alone.
	OneToOne *relief `json:"one_to_one"`
}

type relief struct {
	Lacking number `json:"lacking_prism"`
	Prism   number `json:"prism"`
}

type expectation struct {
	Key   string  `json:"key"`
	Value number  `json:"value"`
	Mean  number  `json:"mean"`
	SD    *number `json:"sd"`
	SDs   *number `json:"sds_away"`
	Row   string  `json:"row"`
}

func newFindings(v *sim.View) *findings {
	if !v.Holding.OK {
		return nil
	}
	f, h := &v.Now.Findings.Value, &v.Holding.Value
	o := &findings{
		State: h.State, Why: h.Why, Distance: number(h.Distance), Extrapolated: h.Extrapolated,
		Load: number(h.Load), Phoria: number(h.Phoria), Need: number(h.Need), Vertical: number(h.Vertical),
		BaseInBreak: number(h.BaseInBreak), BaseInRecovery: number(h.BaseInRecovery),
		BaseOutBreak: number(h.BaseOutBreak), BaseOutRecovery: number(h.BaseOutRecovery), Left: number(h.Left),
		ACA: number(h.ACA), ACACalculated: number(f.ACACalculated(&v.Now.Patient)), ACAStandsIn: h.ACAStandsIn,
		Far:  newCriteria(&f.Far, f.FarPhoria),
		Near: newCriteria(&f.Near, f.NearPhoria),
	}
	for _, e := range f.Expected(&v.Now.Patient) {
		o.Expected = append(o.Expected, expectation{e.Key, number(e.Value), number(e.Mean), maybe(e.SD, same), maybe(e.SDs, same), e.Row})
	}
	return o
}

func newCriteria(r *sim.Reserves, phoria sim.Prism) criteria {
	of := func(r sim.Relief) relief { return relief{number(r.Lacking), number(r.Prism)} }
	c := criteria{Sheard: of(r.Sheard(phoria)), Percival: of(r.Percival())}
	if rule := r.OneToOne(phoria); rule.OK {
		one := of(rule.Value)
		c.OneToOne = &one
	}
	return c
}

func (f *findings) table(t table) {
	t.heading("findings, at the target")
	t.row("state", fmt.Sprintf("%s (%s)", f.State, f.Why), "")
	t.num("distance, from the spectacle plane", float64(f.Distance), 2, "D")
	t.num("prism and lens effect, base-out +", float64(f.Load), 2, "Δ")
	phoria := "phoria, eso +"
	if f.State == sim.StateBroken { // and so manifest
		phoria = "deviation without fusion, eso +"
	}
	if f.Extrapolated {
		phoria += ", extrapolated"
	}
	t.num(phoria, float64(f.Phoria), 2, "Δ")
	t.num("fusional demand, convergence +", float64(f.Need), 2, "Δ")
	t.num("vertical fusional demand, right eye higher +", float64(f.Vertical), 2, "Δ")
	t.row("base-in, break and recovery", fixed(float64(f.BaseInBreak), 2)+", "+fixed(float64(f.BaseInRecovery), 2), "Δ")
	t.row("base-out, break and recovery", fixed(float64(f.BaseOutBreak), 2)+", "+fixed(float64(f.BaseOutRecovery), 2), "Δ")
	t.num("left before the break", float64(f.Left), 2, "Δ")
	aca := "AC/A"
	if f.ACAStandsIn {
		aca += ", calculated, as no gradient is given"
	}
	t.num(aca, float64(f.ACA), 2, "Δ/D")
	t.num("AC/A, calculated", float64(f.ACACalculated), 2, "Δ/D")
	for _, c := range []struct {
		where string
		*criteria
	}{{"far", &f.Far}, {"near", &f.Near}} {
		t.row("Sheard, "+c.where, c.Sheard.text(), "")
		t.row("Percival, "+c.where, c.Percival.text(), "")
		if c.OneToOne != nil {
			t.row("1:1 rule, "+c.where, c.OneToOne.text(), "")
		}
	}
	t.heading("findings beside published means")
	for _, e := range f.Expected {
		value := fixed(float64(e.Value), 1) + ", published " + fixed(float64(e.Mean), 1)
		if e.SDs != nil {
			value += fmt.Sprintf(" (SD %s), %s SD away", fixed(float64(*e.SD), 1), fixed(float64(*e.SDs), 1))
		}
		key := e.Key
		if strings.HasPrefix(key, "npc_") {
			key += ", from the spectacle plane"
		}
		t.row(key, value+", row "+e.Row, "")
	}
}

// text is a criterion as arithmetic.
func (r *relief) text() string {
	switch {
	case r.Prism > 0:
		return fixed(float64(r.Prism), 2) + " Δ base-out would meet it"
	case r.Prism < 0:
		return fixed(-float64(r.Prism), 2) + " Δ base-in would meet it"
	}
	return "met, by " + fixed(-float64(r.Lacking), 2) + " Δ"
}
