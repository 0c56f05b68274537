package words

import (
	"math"
	"strings"

	"twincord/sim"
)

// Clinician is the caption for clinicians, in the trade's terms and with the numbers: what
// Clinical has, in one paragraph.
func (w *Words) Clinician(v *sim.View) string { return strings.Join(Texts(w.Clinical(v)), " ") }

// Part is a paragraph of what there is to tell clinicians.
type Part struct {
	Kind PartKind
	Text string
}

// PartKind is what a part tells of.
type PartKind uint8

// The kinds of parts, in the order in which they are told.
const (
	PartEyes     PartKind = iota // where the eyes point, and through what
	PartSeen                     // what is seen
	PartHold                     // what the findings make of the place
	PartCriteria                 // which criteria are met
	PartReckoned                 // how the criteria are reckoned
)

// Texts are what parts say, without what they tell of.
func Texts(parts []Part) []string {
	all := make([]string, len(parts))
	for i, p := range parts {
		all[i] = p.Text
	}
	return all
}

// Clinical is what there is to tell clinicians, the last three parts with findings alone. The
// view must have looked at the set-up.
func (w *Words) Clinical(v *sim.View) []Part {
	var all []Part
	for kind, tell := range [...]func(*sim.View, adder){
		PartEyes: w.clinicEyes, PartSeen: w.clinicSeen, PartHold: w.clinicHold, PartCriteria: w.clinicCriteria, PartReckoned: w.clinicReckoned,
	} {
		var said []string
		tell(v, func(id string, data with) { said = append(said, w.say(id, data)) })
		if len(said) > 0 {
			all = append(all, Part{PartKind(kind), strings.Join(said, " ")})
		}
	}
	return all
}

func (w *Words) clinicEyes(v *sim.View, add adder) {
	w.clinicAsked(v, add)
	w.clinicTime(v, add)
	w.clinicPosture(v, &v.Now, add)
}

func (w *Words) clinicSeen(v *sim.View, add adder) {
	w.clinicCrossing(v, add)
	if v.Account.LookedAt == "" {
		w.clinicBare(v, add)
	} else {
		w.clinicBead(v, add)
	}
	w.clinicClarity(v, add)
	w.clinicStrings(v, add)
	w.clinicOneLine(v, add)
	w.clinicMissing(v, &v.Now, add)
	w.clinicFilters(v, add)
}

// adder says one more sentence.
type adder func(id string, data with)

func (w *Words) clinicAsked(v *sim.View, add adder) {
	a := &v.Account
	switch {
	case a.Asked == a.LookedAt:
	case a.LookedAt == "":
		add("clinic-asked-bare", with{"Asked": w.theBead(a.Asked), "At": w.Length(v.Target.At)})
	default:
		add("clinic-asked", with{"Asked": w.theBead(a.Asked), "LookedAt": w.theBead(a.LookedAt)})
	}
}

// clinicTime says what goes on in time: a jump, and the wavering.
func (w *Words) clinicTime(v *sim.View, add adder) {
	switch v.Jump() {
	case sim.JumpWaiting:
		add("clinic-jump-waiting", with{"From": w.theBead(from(v))})
	case sim.JumpMoving:
		add("clinic-jump", with{"From": w.theBead(from(v)), "Seconds": w.Number(v.Seconds, 2)})
	}
	if sd := v.Now.Hold.SD; sd > 0 {
		add("clinic-unsteady", with{"Arcmin": w.shortest(float64(sd), 1)})
	}
}

// clinicPosture says where the eyes point, against the target that they are on or on
// their way to; of eyes that are still on another one it says nothing.
func (w *Words) clinicPosture(v *sim.View, s *sim.Setup, add adder) {
	if v.Jump() != sim.JumpWaiting {
		w.clinicDeviation(v, s, add)
	}
	w.clinicTakesUp(v, add)
	if v.Account.Eyes == sim.AimApart {
		add("clinic-axes-part", nil)
	}
	if near := sim.DefaultFindings().NPCBreak; v.Account.Eyes == sim.AimOnTarget && !v.Holding.OK &&
		v.Target.FromEyes-sim.SpectaclePlane < near {
		add("clinic-far-in", nil) // row C10
	}
	p := &s.Posture
	if p.Anomaly != 0 {
		// Angles add, prism dioptres do not (M1).
		rest := (p.Deviation.Angle() - p.Anomaly.Angle()).Prism()
		id := "clinic-anomaly"
		if math.Abs(float64(rest)) <= sim.OnTarget {
			id = "clinic-anomaly-harmonious"
		}
		add(id, with{
			"H": w.Deviation(p.Deviation), "A": w.Deviation(p.Anomaly),
			"S": w.computed(rest, "unit-eso", "unit-exo"),
		})
	}
	w.clinicGlass(sim.Right, &s.Right, add)
	w.clinicGlass(sim.Left, &s.Left, add)
	if unanswered(s) {
		add("clinic-prism-met", with{"Percent": w.Number(100*p.PrismMet, 0)})
	}
}

// clinicGlass says what stands before an eye, as it was typed, but for its filter.
func (w *Words) clinicGlass(eye sim.Side, g *sim.Glass, add adder) {
	for _, p := range [...]struct {
		prism       sim.Prism
		plus, minus string
	}{{g.BaseOut, "out", "in"}, {g.BaseUp, "up", "down"}} {
		base := p.plus
		if p.prism < 0 {
			base = p.minus
		}
		if !straight(p.prism) {
			add("clinic-glass-"+base+"-"+string(eye), with{"Prism": w.prisms(float64(p.prism))})
		}
	}
	power := w.shortest(float64(g.Lens), 2)
	switch {
	case power == w.Number(0, 0):
		return
	case g.Lens > 0:
		power = "+" + power
	}
	add("clinic-glass-lens-"+string(eye), with{"Power": power})
}

// clinicDeviation says the errors of posture and which eye fixes meanwhile. What was
// typed is told as it was typed; what was worked out to a tenth, and a waver that
// rounds to nothing not at all.
func (w *Words) clinicDeviation(v *sim.View, s *sim.Setup, add adder) {
	p := &s.Posture
	number, none := func(x sim.Prism) with { return with{"Prism": w.prisms(float64(x))} }, straight
	if workedOut(v) {
		number, none = func(x sim.Prism) with { return with{"Prism": w.number(x)} }, nothing
	}
	cyclo := w.shortest(math.Abs(float64(p.Cyclo)), 1)
	tilted := cyclo != w.Number(0, 0)
	fixes := v.Account.Fixes
	switch {
	case none(p.Deviation):
		if none(p.Vertical) && !tilted {
			add("clinic-straight", nil)
		}
	case p.Deviation > 0:
		add("clinic-eso-"+string(fixes), number(p.Deviation))
	default:
		add("clinic-exo-"+string(fixes), number(p.Deviation))
	}
	switch {
	case none(p.Vertical):
	case p.Vertical > 0:
		add("clinic-hyper-right", number(p.Vertical))
	default:
		add("clinic-hyper-left", number(p.Vertical))
	}
	carries := map[sim.Side]sim.Side{sim.Right: sim.Left, sim.Left: sim.Right, sim.Both: sim.Both}[fixes]
	switch {
	case !tilted:
	case p.Cyclo > 0:
		add("clinic-excyclo-"+string(carries), with{"Degrees": cyclo})
	default:
		add("clinic-incyclo-"+string(carries), with{"Degrees": cyclo})
	}
}

// workedOut says whether the errors of posture were worked out, from findings or in time,
// and not typed.
func workedOut(v *sim.View) bool {
	s := &v.Now
	return v.Holding.OK || s.Look.From.OK || s.Hold.SD > 0
}

// Error writes one of the errors of posture of a view, with the unit for its side instead
// of a sign: as it was typed, or as what is worked out is written.
func (w *Words) Error(v *sim.View, p sim.Prism, positive, negative Label) string {
	if workedOut(v) {
		return w.Prism(p, positive, negative)
	}
	unit := UnitPrism
	switch {
	case straight(p):
	case p > 0:
		unit = positive
	default:
		unit = negative
	}
	return w.Quantity(unit, w.prisms(float64(p)))
}

// clinicTakesUp says that the eye that is not the preferred one fixes, and which way it
// moved for that.
func (w *Words) clinicTakesUp(v *sim.View, add adder) {
	if !v.Account.TookUp {
		return
	}
	id := "clinic-took-" + string(v.Account.Fixes)
	way, by := swing(v)
	if way == "" {
		add(id, nil)
		return
	}
	add(id+"-"+way, with{"Prism": w.number(by)})
}

func (w *Words) clinicCrossing(v *sim.View, add adder) {
	c, m := &v.Crossing, v.Account.Meet
	id := "clinic-cross-"
	if v.Account.LookedAt == "" && m.OnString() {
		id += "bare-"
	}
	id += string(m)
	if m == sim.MeetAt && v.Account.Fixated == sim.SeenTwo {
		id += "-two" // there is no one bead to cross in
	}
	line := inOneLine(v)
	if line {
		id = "clinic-line-" + string(m)
	}
	add(id, with{
		"At":     w.Length(c.At.Value),
		"Offset": w.Length(math.Abs(c.Offset.Value)),
	})
	if line {
		return // no bead hides a crossing that does not show
	}
	if hider := v.Account.HiddenBy; hider != "" {
		add("clinic-"+hiddenID(v), with{"HiddenBy": w.theBead(hider)})
	}
	if bead := crossedIn(v); bead != "" {
		add("clinic-inside", with{"Bead": w.theBead(bead)})
	}
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
	number := w.shortest(math.Abs(float64(d.H.Arcmin())), 1)
	vertical := math.Abs(float64(d.V.Arcmin())) >= leastVertical
	switch {
	case number == w.Number(0, 0) && vertical:
		id = "clinic-single-level"
	case number == w.Number(0, 0):
		id = "clinic-single"
	case d.H > 0:
		id += "-crossed"
	default:
		id += "-uncrossed"
	}
	add(id, with{"Arcmin": number, "Limit": w.shortest(float64(limit.Arcmin()), 1)})
	if vertical {
		add("clinic-single-vertical", with{"Arcmin": w.shortest(math.Abs(float64(d.V.Arcmin())), 1), "Limit": w.shortest(float64(d.LimitV.Arcmin()), 1)})
	}
}

// leastVertical is the smallest vertical disparity of a single bead that is told, arcmin:
// off the midline there is always some of it.
const leastVertical = 0.5

func (w *Words) clinicStrings(v *sim.View, add adder) {
	a := &v.Account
	counts := with{
		"Pattern": string(a.Pattern),
		"Near":    w.Number(float64(a.Near), 0),
		"Far":     w.Number(float64(a.Far), 0),
	}
	switch a.Pattern {
	case sim.PatternX, sim.PatternV, sim.PatternA, sim.PatternY:
		// The letter counts from where the strings are level, the numbers from the target.
		id := "clinic-pattern"
		switch a.Meet {
		case sim.MeetAt:
		case sim.MeetPasses, sim.MeetAside:
			id += "-level" // which is no crossing there
		default:
			id += "-crossing"
		}
		add(id, counts)
	default:
		add("clinic-strings", counts)
	}
}

// clinicOneLine says what is seen as one of the two strands: where they lie on one
// another, and where they are fused far in front of the bead.
func (w *Words) clinicOneLine(v *sim.View, add adder) {
	s := &v.Strings
	switch {
	case s.NearOverlaid && s.FarOverlaid:
		add("clinic-overlaid-both", nil)
	case s.NearOverlaid:
		add("clinic-overlaid-near", nil)
	case s.FarOverlaid:
		add("clinic-overlaid-far", nil)
	}
	if stretched(v) {
		add("clinic-stretch", with{"From": w.Length(s.FusedFrom.Value), "To": w.Length(s.FusedTo.Value)})
	}
}

// clinicClarity gives the blur of the place looked at where it is not clear to every
// eye that sees it.
func (w *Words) clinicClarity(v *sim.View, add adder) {
	a, p := &v.Account, &v.Target
	if !a.Uneven && a.Clarity != sim.ClaritySoft && a.Clarity != sim.ClarityBlurred {
		return
	}
	arcmin := func(eye sim.Eye) sim.Arcmin { return v.SightOf(eye, p.Point, p.At).Blur.Arcmin() }
	right, left := arcmin(sim.RightEye), arcmin(sim.LeftEye)
	write := func(x sim.Arcmin) string { return w.Number(float64(x), 0) }
	if a.Uneven {
		add("clinic-uneven", with{"Right": write(right), "Left": write(left)})
		return
	}
	blur := min(right, left)
	switch a.Missing {
	case sim.Right:
		blur = left
	case sim.Left:
		blur = right
	}
	add("clinic-"+string(a.Clarity), with{"Arcmin": write(blur)})
}

// zoneID is the part of an id that says where in an eye's image suppression acts; none
// where it acts everywhere.
func zoneID(s *sim.Setup) string {
	switch z := &s.Suppression; z.Zone {
	case sim.ZoneAll:
		return ""
	case sim.ZoneCentral:
		return string(z.Centre) + "-"
	default:
		return string(z.Zone) + "-"
	}
}

// clinicMissing says what one eye's image lacks: it is covered, or else suppressed,
// which takes two open eyes (M9).
func (w *Words) clinicMissing(v *sim.View, s *sim.Setup, add adder) {
	a := &v.Account
	if s.Cover != sim.Neither {
		add("clinic-covered-"+string(s.Cover), nil)
		return
	}
	if a.Fainter == sim.Right || a.Fainter == sim.Left {
		add("clinic-fainter-"+zoneID(s)+string(a.Fainter), with{
			"Degrees": w.shortest(float64(s.Suppression.Radius), 1), "Depth": w.shortest(s.Suppression.Depth, 2)})
	}
	if a.Missing == sim.Neither {
		return
	}
	id := "clinic-out-"
	switch a.MissingWhere {
	case sim.WhereCentre:
		id += string(s.Suppression.Centre) + "-"
	case sim.WhereNasal, sim.WhereTemporal, sim.WhereNearer, sim.WhereBeyond:
		id += string(a.MissingWhere) + "-"
	}
	add(id+string(a.Missing), with{"Degrees": w.shortest(float64(s.Suppression.Radius), 1)})
}
