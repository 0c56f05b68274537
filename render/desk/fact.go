package desk

import (
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/render"
	"twincord/render/words"
	"twincord/sim"
)

// fact is a line of the numbers; without a value it is the heading of those after it.
type fact struct{ label, value string }

// Kinds of numbers.
var (
	mmNumber      = quantity{unit: words.UnitMm, per: 1, most: 1}
	arcminNumber  = quantity{unit: words.UnitArcmin, per: 1, most: 1}
	crossedNumber = quantity{unit: words.UnitArcmin, plus: words.UnitCrossed, minus: words.UnitUncrossed, per: 1, most: 1}
	dioptreFact   = quantity{unit: words.UnitDioptres, per: 1, most: 2}
	ratioFact     = quantity{unit: words.UnitRatio, per: 1, most: 1}
	degreeFact    = quantity{unit: words.UnitDegrees, per: 1, most: 1}
	cycloFact     = quantity{unit: words.UnitDegrees, plus: words.UnitExcyclo, minus: words.UnitIncyclo, per: 1, most: 1}
)

// tally collects the numbers.
type tally struct {
	say *words.Words
	all []fact
}

func (t *tally) heading(l words.Label) { t.all = append(t.all, fact{label: t.say.Label(l)}) }

func (t *tally) add(l words.Label, value string) { t.all = append(t.all, fact{t.say.Label(l), value}) }

func (t *tally) of(l words.Label, q *quantity, v float64) { t.add(l, q.write(t.say, v)) }

// prism is a number of prism dioptres that was worked out.
func (t *tally) prism(l words.Label, p sim.Prism) {
	t.add(l, t.say.Prism(p, words.UnitPrism, words.UnitPrism))
}

func (t *tally) place(l words.Label, mm float64) { t.add(l, t.say.Length(mm)) }

// count works out the numbers of what is seen.
func (d *Desk) count() {
	t := &tally{say: d.say, all: d.facts[:0]}
	d.countEyes(t)
	d.countSeen(t)
	if h := d.view.Holding; h.OK {
		d.countHolding(t, &h.Value)
		d.countCriteria(t)
	}
	d.facts = t.all
}

// countEyes has where the eyes point.
func (d *Desk) countEyes(t *tally) {
	v := &d.view
	p := &v.Now.Posture
	t.heading(words.FactsEyes)
	if v.Jump() != sim.JumpWaiting { // or the eyes are still on another bead
		t.add(words.FactDeviation, d.say.Error(v, p.Deviation, words.UnitEso, words.UnitExo))
	}
	if p.Vertical != 0 {
		t.add(words.FactVertical, d.say.Error(v, p.Vertical, words.UnitRightHigher, words.UnitLeftHigher))
	}
	if p.Cyclo != 0 {
		t.of(words.FactCyclo, &cycloFact, float64(p.Cyclo))
	}
	t.place(words.FactTarget, v.Target.At)
	t.prism(words.FactDemand, v.Target.Demand)
	t.of(words.FactVergence, &degreeFact, float64(v.Axes.Vergence.Degrees()))
	if at, meet := render.Meeting(v); meet {
		t.place(words.FactMeet, at)
	} else {
		t.add(words.FactMeet, d.fixed.part)
	}
	if v.Axes.Gap.OK && v.Axes.Gap.Value > 0.05 {
		t.of(words.FactGap, &mmNumber, v.Axes.Gap.Value)
	}
	t.of(words.FactAccommodation, &dioptreFact, float64(v.Target.Accommodation))
}

// countSeen has what is seen.
func (d *Desk) countSeen(t *tally) {
	v := &d.view
	t.heading(words.FactsSeen)
	if c := &v.Crossing; c.At.OK {
		t.place(words.FactCrossing, c.At.Value)
		switch off := math.Round(c.Offset.Value); {
		case off > 0:
			t.place(words.FactCrossingBehind, off)
		case off < 0:
			t.place(words.FactCrossingBefore, -off)
		}
	}
	if i := v.Now.FixatedBead(); i != sim.NoBead {
		if b := &v.Beads[i]; b.Disparity.OK {
			t.of(words.FactDisparity, &crossedNumber, float64(b.Disparity.Value.H.Arcmin()))
			t.of(words.FactLimit, &arcminNumber, float64(b.Disparity.Value.LimitH.Arcmin()))
		}
	}
	if a := v.Account.Apart; a.OK && a.Value.Degrees() >= 0.05 {
		t.add(words.FactApart, d.say.Degrees(a.Value))
	}
	s := &v.Strings
	if s.FusedFrom.OK && s.FusedTo.OK {
		t.place(words.FactFused, s.FusedFrom.Value)
		t.place(words.FactFusedTo, s.FusedTo.Value)
	}
	t.add(words.FactStringsBefore, d.say.Number(float64(s.Near), 0))
	t.add(words.FactStringsBehind, d.say.Number(float64(s.Far), 0))
	switch s.Pattern {
	case sim.PatternX, sim.PatternV, sim.PatternA, sim.PatternY:
		t.add(words.FactPattern, string(s.Pattern))
	}
}

// countHolding has what the findings make of the place looked at.
func (d *Desk) countHolding(t *tally, h *sim.Holding) {
	t.heading(words.FactsHolding)
	state := words.FactHolds
	if h.State == sim.StateBroken {
		state = words.FactBroken
	}
	t.add(words.FactState, d.say.Label(state))
	phoria := words.FactPhoria
	if h.State == sim.StateBroken {
		phoria = words.FactUnfused
	}
	t.add(phoria, d.say.Prism(h.Phoria, words.UnitEso, words.UnitExo))
	t.add(words.FactNeed, d.say.Prism(h.Need, words.UnitConvergence, words.UnitDivergence))
	t.add(words.FactLoad, d.say.Prism(h.Load, words.UnitFactOut, words.UnitFactIn))
	t.add(words.FactOut, d.reserve(h.BaseOutBreak, h.BaseOutRecovery))
	t.add(words.FactIn, d.reserve(h.BaseInBreak, h.BaseInRecovery))
	if h.Left >= 0 {
		t.prism(words.FactLeft, h.Left)
	} else {
		t.prism(words.FactPassed, -h.Left)
	}
	t.of(words.FactACA, &ratioFact, h.ACA)
	none := d.say.Label(words.FactNone)
	for _, at := range [2]struct {
		label words.Label
		sim.Maybe[float64]
	}{{words.FactBreaks, d.turning[0]}, {words.FactBack, d.turning[1]}} {
		text := none
		if at.OK {
			text = d.say.FromNoseAndGlasses(at.Value, r3.Norm(d.setup.Place(at.Value))-sim.SpectaclePlane)
		}
		t.add(at.label, text)
	}
}

// reserve is a break and its recovery as they are written down.
func (d *Desk) reserve(breaks, recovery sim.Prism) string {
	return d.say.Signed(breaks) + " / " + d.say.Signed(recovery)
}

// countCriteria has the criteria at both test distances: arithmetic, no verdict.
func (d *Desk) countCriteria(t *tally) {
	f := &d.view.Now.Findings.Value
	t.heading(words.FactsCriteria)
	add := func(l words.Label, r sim.Relief) {
		if r.Prism == 0 {
			t.add(l, d.say.Label(words.CriterionMet))
			return
		}
		t.add(l, d.say.Prism(r.Prism, words.UnitFactOut, words.UnitFactIn))
	}
	add(words.SheardFar, f.Far.Sheard(f.FarPhoria))
	add(words.SheardNear, f.Near.Sheard(f.NearPhoria))
	add(words.PercivalFar, f.Far.Percival())
	add(words.PercivalNear, f.Near.Percival())
	if r := f.Far.OneToOne(f.FarPhoria); r.OK {
		add(words.OneToOneFar, r.Value)
	}
	if r := f.Near.OneToOne(f.NearPhoria); r.OK {
		add(words.OneToOneNear, r.Value)
	}
}

// report is what is copied: the scene, what is seen in words, and the numbers.
func (d *Desk) report() string {
	d.count()
	var b strings.Builder
	for _, line := range append([]string{d.heading(), d.say.Family(&d.view)}, words.Texts(d.say.Clinical(&d.view))...) {
		b.WriteString(line)
		b.WriteByte('\n')
	}
	for _, f := range d.facts {
		b.WriteString(f.label)
		if f.value != "" {
			b.WriteByte('\t')
			b.WriteString(f.value)
		}
		b.WriteByte('\n')
	}
	b.WriteString(d.fixed.edge)
	b.WriteByte('\n')
	return b.String()
}
