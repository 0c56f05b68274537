package words

import (
	"math"
	"strings"

	"twincord/sim"
)

// Clinician is the caption for clinicians: the posture, the crossing, the bead
// looked at, the strings, what is missing, filters, and what findings make of the
// place, in the trade's terms and with the numbers. The view must have looked at the set-up.
func (w *Words) Clinician(v *sim.View) string {
	s := &v.Now
	var said []string
	add := func(id string, data with) { said = append(said, w.say(id, data)) }
	w.clinicAsked(v, add)
	w.clinicTime(v, add)
	w.clinicPosture(v, s, add)
	w.clinicCrossing(v, add)
	if v.Account.LookedAt == "" {
		w.clinicBare(v, add)
	} else {
		w.clinicBead(v, add)
	}
	w.clinicStrings(v, add)
	w.clinicMissing(v, s, add)
	w.clinicFilters(v, add)
	w.clinicHold(v, add)
	return strings.Join(said, " ")
}

// adder says one more sentence.
type adder func(id string, data with)

func (w *Words) clinicAsked(v *sim.View, add adder) {
	a := &v.Account
	switch {
	case a.Asked == a.LookedAt:
	case a.LookedAt == "":
		add("clinic-asked-bare", with{"Asked": a.Asked, "At": w.Length(v.Target.At)})
	default:
		add("clinic-asked", with{"Asked": a.Asked, "LookedAt": a.LookedAt})
	}
}

// clinicTime says what goes on in time: a jump, and the wavering.
func (w *Words) clinicTime(v *sim.View, add adder) {
	switch v.Jump() {
	case sim.JumpWaiting:
		add("clinic-jump-waiting", with{"From": from(v)})
	case sim.JumpMoving:
		add("clinic-jump", with{"From": from(v), "Seconds": w.Number(v.Seconds, 2)})
	}
	if sd := v.Now.Hold.SD; sd > 0 {
		add("clinic-unsteady", with{"Arcmin": w.Number(float64(sd), 1)})
	}
}

func (w *Words) clinicPosture(v *sim.View, s *sim.Setup, add adder) {
	p := &s.Posture
	number := func(x sim.Prism) with {
		if v.Holding.OK || v.Now.Look.From.OK || v.Now.Hold.SD > 0 {
			return with{"Prism": w.number(x)} // nobody typed it
		}
		return with{"Prism": w.prisms(float64(x))}
	}
	cyclo := w.Number(math.Abs(float64(p.Cyclo)), 1)
	tilted := cyclo != w.Number(0, 1)
	switch {
	case straight(p.Deviation):
		if straight(p.Vertical) && !tilted {
			add("clinic-straight", nil)
		}
	case p.Deviation > 0:
		add("clinic-eso-"+string(p.Fixing), number(p.Deviation))
	default:
		add("clinic-exo-"+string(p.Fixing), number(p.Deviation))
	}
	switch {
	case straight(p.Vertical):
	case p.Vertical > 0:
		add("clinic-hyper-right", number(p.Vertical))
	default:
		add("clinic-hyper-left", number(p.Vertical))
	}
	switch {
	case !tilted:
	case p.Cyclo > 0:
		add("clinic-excyclo", with{"Degrees": cyclo})
	default:
		add("clinic-incyclo", with{"Degrees": cyclo})
	}
	if v.Account.Eyes == sim.AimApart {
		add("clinic-axes-part", nil)
	}
	if p.Anomaly != 0 {
		// Angles add, prism dioptres do not (M1).
		rest := (p.Deviation.Angle() - p.Anomaly.Angle()).Prism()
		id := "clinic-anomaly"
		if math.Abs(float64(rest)) <= onTarget {
			id = "clinic-anomaly-harmonious"
		}
		add(id, with{
			"H": w.Deviation(p.Deviation), "A": w.Deviation(p.Anomaly),
			"S": w.computed(rest, "unit-eso", "unit-exo"),
		})
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
		"At":     w.Length(c.At.Value),
		"Offset": w.Length(math.Abs(c.Offset.Value)),
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
		w.clinicSingle(v, &d, add)
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

// clinicSingle sets the disparity of a single bead against Panum's limit, or where
// that is passed in time against the one within which what is single stays so (M15).
func (w *Words) clinicSingle(v *sim.View, d *sim.Disparity, add adder) {
	id, limit := "clinic-single", d.LimitH
	if v.Seconds > 0 {
		p := &v.Target
		limit = v.Compare(v.SightOf(sim.RightEye, p.Point, p.At), v.SightOf(sim.LeftEye, p.Point, p.At)).LimitH
	}
	if math.Abs(float64(d.H)) > float64(limit) {
		id, limit = "clinic-single-kept", d.LimitH
	}
	number := w.Number(math.Abs(float64(d.H.Arcmin())), 1)
	switch {
	case number == w.Number(0, 1):
		add("clinic-single", nil)
		return
	case d.H > 0:
		id += "-crossed"
	default:
		id += "-uncrossed"
	}
	add(id, with{"Arcmin": number, "Limit": w.Number(float64(limit.Arcmin()), 1)})
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
		id := "clinic-pattern"
		if a.Meet != sim.MeetAt {
			id += "-crossing" // the letter counts from there, the numbers from the target
		}
		add(id, counts)
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
