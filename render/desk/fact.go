package desk

import (
	"strings"

	"twincord/render/words"
	"twincord/sim"
)

// fact is a line of the numbers.
type fact struct{ label, value string }

// Kinds of numbers.
var (
	mmNumber     = quantity{unit: words.UnitMm, per: 1, most: 1}
	arcminNumber = quantity{unit: words.UnitArcmin, per: 1, most: 1}
	dioptreFact  = quantity{unit: words.UnitDioptres, per: 1, most: 2}
	degreeFact   = quantity{unit: words.UnitDegrees, per: 1, most: 2}
	prismFact    = quantity{unit: words.UnitPrism, per: 1, most: 2}
	esoFact      = quantity{unit: words.UnitPrism, plus: words.UnitEso, minus: words.UnitExo, per: 1, most: 2}
)

// count works out the numbers of what is seen.
func (d *Desk) count() {
	v, say := &d.view, d.say
	d.facts = d.facts[:0]
	add := func(label words.Label, value string) {
		d.facts = append(d.facts, fact{say.Label(label), value})
	}
	arcmin := func(a sim.Angle) string { return arcminNumber.write(say, float64(a.Arcmin())) }
	degrees := func(a sim.Angle) string { return degreeFact.write(say, float64(a.Degrees())) }
	place := func(mm float64) string { return say.Length(mm) }

	add(words.FactDeviation, esoFact.write(say, float64(v.Now.Posture.Deviation)))
	if v.Now.Posture.Vertical != 0 {
		add(words.FactVertical, prismFact.write(say, float64(v.Now.Posture.Vertical)))
	}
	add(words.FactTarget, place(v.Target.FromEyes))
	add(words.FactDemand, prismFact.write(say, float64(v.Target.Demand)))
	add(words.FactVergence, degrees(v.Axes.Vergence))
	if meet := vergenceX(v.Axes.Vergence, v.Now.Patient.PD, 1); meet < 1 {
		add(words.FactMeet, place(threeDigits(xDistance(meet))))
	} else {
		add(words.FactMeet, d.fixed.part)
	}
	if v.Axes.Gap.OK && v.Axes.Gap.Value > 0.05 {
		add(words.FactGap, mmNumber.write(say, v.Axes.Gap.Value))
	}
	if c := &v.Crossing; c.At.OK {
		add(words.FactCrossing, place(c.At.Value))
		add(words.FactCrossingOff, place(c.Offset.Value))
	}
	if i := v.Now.FixatedBead(); i != sim.NoBead {
		if b := &v.Beads[i]; b.Disparity.OK {
			add(words.FactDisparity, arcmin(b.Disparity.Value.H))
			add(words.FactLimit, arcmin(b.Disparity.Value.LimitH))
		}
	}
	if a := v.Account.Apart; a.OK {
		add(words.FactApart, degrees(a.Value))
	}
	if s := &v.Strings; s.FusedFrom.OK && s.FusedTo.OK {
		add(words.FactFused, place(s.FusedFrom.Value))
		add(words.FactFusedTo, place(s.FusedTo.Value))
	}
	add(words.FactStrings, say.Number(float64(v.Strings.Near), 0)+" / "+say.Number(float64(v.Strings.Far), 0))
	add(words.FactAccommodation, dioptreFact.write(say, float64(v.Target.Accommodation)))
}

// report is what is copied: the scene, what is seen in words, and the numbers.
func (d *Desk) report() string {
	d.count()
	var b strings.Builder
	for _, line := range [...]string{d.heading(), d.say.Family(&d.view), d.say.Clinician(&d.view)} {
		b.WriteString(line)
		b.WriteByte('\n')
	}
	for _, f := range d.facts {
		b.WriteString(f.label)
		b.WriteByte('\t')
		b.WriteString(f.value)
		b.WriteByte('\n')
	}
	b.WriteString(d.fixed.edge)
	b.WriteByte('\n')
	return b.String()
}
