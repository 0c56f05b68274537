package words

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
)

// farStretch is how far in front of the bead the stretch that is seen as one begins
// for the sentence to say so, mm: about a hand's breadth (a modelling choice).
const farStretch = 100

// gapThere is how far from the place looked at the other eye's string may pass for its gap
// to be there: 30 arcmin (a modelling choice).
const gapThere = sim.Angle(30 * math.Pi / (180 * 60))

// room is how many sentences a caption has room for, but for what is needed.
const room = 5

// sentence is one of a caption: what it says, of how many beads, with what in its
// braces, and how well the caption can do without it. What matters is never spared.
type sentence struct {
	id    string
	beads int
	with  with
	spare spare
}

// spare is how early a sentence is left out of a caption that has no room for it.
type spare int

const (
	needed  spare = iota
	reason        // where the eyes are aimed
	warning       // which bead a filter blackens
	colours       // what colours the filters make
	others        // what the other beads do
	hoped         // that the eyes are aimed as they should be
)

// Family is the caption for families: what is seen at the place looked at, whether
// it is clear, how the strings run, what the other beads do, why, and what filters
// do, each a sentence of at most 20 plain words; more than five only where each is
// needed; then, where the set-up needs care (M20), that one. It speaks of the set-up and never of a
// person. The view must have looked at the set-up.
func (w *Words) Family(v *sim.View) string {
	said := w.Seen(v)
	if v.Account.NeedsCare {
		said += " " + w.Label(CautionCare)
	}
	return said
}

// Seen is the caption for families without the word of care, for pages that say that
// once for all of their captions.
func (w *Words) Seen(v *sim.View) string { return w.tell(v, caption(v, v.Jump())) }

// Brief is the least that a caption says: how the place looked at is seen, and how the
// strings run. It is for films, where there is no time to read more.
func (w *Words) Brief(v *sim.View) string {
	ids := append([]string{beadID(v), "inside"}, stringIDs(v)...)
	var brief []sentence
	for _, s := range caption(v, v.Jump()) {
		if slices.Contains(ids, s.id) {
			brief = append(brief, s)
		}
	}
	return w.tell(v, brief)
}

// tell says the sentences of a caption, one after the other.
func (w *Words) tell(v *sim.View, sentences []sentence) string {
	names := with{}
	a := &v.Account
	for key, bead := range map[string]string{"Asked": a.Asked, "LookedAt": a.LookedAt, "HiddenBy": a.HiddenBy, "From": from(v)} {
		if bead != "" {
			names[key] = w.theBead(bead)
		}
	}
	var said []string
	for _, s := range sentences {
		data := names
		if bead, ok := s.with["Bead"]; ok {
			data = with{"Bead": w.theBead(bead)}
		}
		said = append(said, w.sayOf(s.beads, s.id, data))
	}
	return strings.Join(said, " ")
}

// caption is what a caption for families says, in the order in which it is said, in
// the midst of a jump or not.
func caption(v *sim.View, jump sim.Jump) (all []sentence) {
	n := 1 // beads at the place looked at
	if v.Account.Fixated == sim.SeenTwo && !edged(v) {
		n = 2
	}
	add := func(rank spare, beads int, ids ...string) {
		for _, id := range ids {
			all = append(all, sentence{id: id, beads: beads, spare: rank})
		}
	}
	add(needed, n, askedID(v)...) // first: from here on "it" is the bead looked at
	add(needed, n, beadID(v))
	add(needed, n, clarityID(v)...)
	add(needed, n, stringIDs(v)...)
	if bead := crossedIn(v); bead != "" && !stretched(v) {
		all = append(all, sentence{id: "inside", with: with{"Bead": bead}, spare: reason})
	}
	if s := theOthers(v); s.id != "" {
		all = append(all, s)
	}
	add(needed, n, eyeIDs(v)...)
	for _, id := range reasonIDs(v, jump) {
		if obvious(id) {
			add(hoped, n, id)
		} else {
			add(reason, n, id)
		}
	}
	if id := filterID(v); id != "" {
		add(colours, n, id)
	}
	if id, bead := blackID(v); id != "" {
		all = append(all, sentence{id: id, with: with{"Bead": bead}, spare: warning})
	}
	for len(all) > room {
		last := 0
		for i := range all {
			if all[i].spare >= all[last].spare {
				last = i
			}
		}
		if all[last].spare == needed {
			break
		}
		all = slices.Delete(all, last, last+1)
	}
	return all
}

// from is the bead that a jump comes from.
func from(v *sim.View) string {
	if n := v.Now.Look.From; n.OK {
		return v.Now.Beads[n.Value].Name
	}
	return ""
}

// fixated is the bead looked at, or nil on a bare string.
func fixated(v *sim.View) *sim.BeadView {
	for i := range v.Beads {
		if v.Account.LookedAt != "" && v.Beads[i].Name == v.Account.LookedAt {
			return &v.Beads[i]
		}
	}
	return nil
}

// edged says whether the bead looked at is double by so little that it looks
// like one with a doubled edge.
func edged(v *sim.View) bool {
	b := fixated(v)
	return v.Account.Fixated == sim.SeenTwo && b != nil && edgedBead(b)
}

// edgedBead says the same of any bead.
func edgedBead(b *sim.BeadView) bool {
	return b.Seen == sim.SeenTwo && b.Overlap.Or(0) > sim.DoubledEdge
}

func beadID(v *sim.View) string {
	a := &v.Account
	switch a.Fixated {
	case sim.SeenOne:
		if lustrous(v) {
			return "bead-lustre"
		}
		return "bead-single"
	case sim.SeenTwo:
		switch {
		case edged(v):
			return "bead-edge"
		case a.Higher != sim.Neither:
			return "bead-higher"
		}
		return "bead-double"
	case sim.SeenRight:
		return "bead-right"
	case sim.SeenLeft:
		return "bead-left"
	case sim.SeenNone:
		return "bead-unseen"
	}
	return "bead-bare"
}

// askedID names that another bead was asked for.
func askedID(v *sim.View) []string {
	if v.Account.Asked != v.Account.LookedAt {
		return []string{"why-asked"}
	}
	return nil
}

// clarityID names how sharp the place looked at is, and why it is blurred; nothing
// where it is clear to both eyes.
func clarityID(v *sim.View) []string {
	a := &v.Account
	switch {
	case a.Uneven && a.Clarity == sim.ClarityClear && worse(v) == sim.ClarityBlurred:
		return []string{"clarity-uneven-blurred"}
	case a.Uneven && a.Clarity == sim.ClarityClear:
		return []string{"clarity-uneven-clear"}
	case a.Uneven:
		return []string{"clarity-uneven-soft"}
	case a.Clarity == sim.ClaritySoft:
		return []string{"clarity-soft" + bare(v)}
	case a.Clarity == sim.ClarityBlurred:
		return []string{"clarity-" + blurred(v) + bare(v)}
	}
	return nil
}

// worse is how sharp the place looked at is to the eye that has it less sharp.
func worse(v *sim.View) sim.Clarity {
	blur := func(e sim.Eye) sim.Angle { return v.SightOf(e, v.Target.Point, v.Target.At).Blur }
	return sim.ClarityOf(max(blur(sim.RightEye), blur(sim.LeftEye)))
}

// blurred says why the place looked at is blurred: it is nearer or farther than the
// eyes can focus, or they could, and are focused behind it or in front of it.
func blurred(v *sim.View) string {
	p, asked := &v.Now.Patient, v.Target.Accommodation
	if from := v.Now.Look.From; from.OK && v.Jump() != sim.JumpNone { // focus goes with the eyes
		if v.Now.Beads[from.Value].At < v.Target.At {
			return "front"
		}
		return "behind"
	}
	_, mean, _ := sim.Amplitude(p.Age)
	switch focus := v.Now.Posture.Accommodation; {
	case focus.OK && focus.Value < asked:
		return "behind"
	case focus.OK:
		return "front"
	case asked > p.Amplitude.Or(mean):
		return "near"
	case asked <= 0:
		return "far"
	case p.Lag < 0:
		return "front"
	}
	return "behind"
}

// theOthers is what the beads do that are not looked at, and how many they are; nothing
// where that goes without saying. One alone that is not double is named.
func theOthers(v *sim.View) sentence {
	a := &v.Account
	of, double, edges, single := "others", 0, 0, ""
	if a.LookedAt == "" {
		of = "beads"
	}
	s := sentence{spare: others}
	for i := range v.Beads {
		b := &v.Beads[i]
		if b.Name == a.LookedAt {
			continue
		}
		s.beads++
		switch {
		case edgedBead(b):
			edges++
		case b.Seen == sim.SeenTwo:
			double++
		case b.Seen != sim.SeenNone:
			single = b.Name
		}
	}
	switch {
	case s.beads == 0, double == 0 && a.MissingWhere == sim.WhereAll:
		return sentence{}
	case double == 0 && edges > 0:
		s.id = of + "-edge"
	case double == 0:
		s.id = of + "-none"
	case double == s.beads-1 && single != "":
		s.id, s.with = of+"-but", with{"Bead": single}
	case double < s.beads:
		s.id = of + "-some"
	case doubled(v):
		s.id = of + "-too"
	default:
		s.id = of + "-all"
	}
	return s
}

// stringIDs names how the strings run. Where neither section is double the crossing
// is not to be told from one string, and goes without saying.
func stringIDs(v *sim.View) (ids []string) {
	a, s := &v.Account, &v.Strings
	double := a.Near == 2 || a.Far == 2
	counts := fmt.Sprintf("%d%d", a.Near, a.Far)
	if a.Gap != sim.Neither {
		gap := "gap"
		if a.Apart.Or(0) > gapThere {
			gap = "gap-apart"
		}
		ids = append(ids, gap+bare(v))
		if a.Meet == sim.MeetUnseen || a.Meet == sim.MeetAt {
			return ids // it is in the gap that the strings would cross
		}
	}
	if a.Near == 2 && stretched(v) {
		return []string{"stretch-" + counts}
	}
	of := "strings-"
	if a.LookedAt == "" {
		of = "bare-"
	}
	switch {
	case double && inOneLine(v):
		of += "line-"
	case double:
		of += string(meet(v)) + "-"
	}
	if a.Near+a.Far > 0 || !s.NearOverlaid && !s.FarOverlaid {
		ids = append([]string{of + counts}, ids...)
	}
	if double && a.HiddenBy != "" && !inOneLine(v) {
		ids = append(ids, hiddenID(v))
	}
	switch {
	case s.NearOverlaid && s.FarOverlaid:
		ids = append(ids, "overlaid-both")
	case s.NearOverlaid:
		ids = append(ids, "overlaid-near")
	case s.FarOverlaid:
		ids = append(ids, "overlaid-far")
	}
	return ids
}

// inOneLine says whether the strings cross where the two look like one line, so that no
// crossing is seen.
func inOneLine(v *sim.View) bool {
	a := &v.Account
	near, far := v.Strings.NearOverlaid && a.Near != 2, v.Strings.FarOverlaid && a.Far != 2
	return near && a.Meet == sim.MeetNearer || far && a.Meet == sim.MeetBeyond || near && far && a.Meet.OnString()
}

// meet is where the strings cross, as families are told it. Strings that miss each other at
// their ends alone lie side by side, not one above the other: they only do not cross.
func meet(v *sim.View) sim.Meet {
	if m := v.Account.Meet; m != sim.MeetPasses || v.OneAbove() {
		return m
	}
	return sim.MeetNowhere
}

// crossedIn is the bead, other than the one looked at, in which the strings are seen to
// cross; none where another one stands before it.
func crossedIn(v *sim.View) string {
	a, c := &v.Account, &v.Crossing
	if a.Near != 2 && a.Far != 2 || a.Meet != sim.MeetNearer && a.Meet != sim.MeetBeyond || a.HiddenBy != "" || inOneLine(v) {
		return ""
	}
	for i := range v.Now.Beads {
		b := &v.Now.Beads[i]
		in := func(at sim.Maybe[float64]) bool { return at.OK && math.Abs(at.Value-b.At) <= b.Diameter/2 }
		if b.Name != a.LookedAt && in(c.At) && in(c.RightAt) && in(c.LeftAt) {
			return b.Name
		}
	}
	return ""
}

// hiddenID names the bead that hides the crossing: the one looked at, or another. One that
// lies beyond the crossing hides one string alone, which is behind it where it meets the
// other one.
func hiddenID(v *sim.View) string {
	hider := v.Account.HiddenBy
	itself := hider == v.Account.LookedAt
	one := slices.ContainsFunc(v.Beads, func(b sim.BeadView) bool { return b.Name == hider && b.At > v.Crossing.At.Value })
	switch {
	case one && itself:
		return "hidden-one-it"
	case one:
		return "hidden-one"
	case itself:
		return "hidden-it"
	}
	return "hidden"
}

// stretched says whether what is seen as one string, round the crossing, holds the bead
// too and begins far in front of it, as it does on a long string: then no crossing is
// seen in it, wherever it lies.
func stretched(v *sim.View) bool {
	a, s := &v.Account, &v.Strings
	return a.Fixated == sim.SeenOne && a.Meet.OnString() && s.FusedFrom.OK &&
		v.Target.At-s.FusedFrom.Value > farStretch && s.FusedTo.Or(0) >= v.Target.At
}

// eyeIDs names what becomes of one eye's picture: it is covered, and the other eye
// may have to swing to take over; or it is left out; or it is fainter. A part that is
// left out where there is no string leaves nothing to be missed, and is told so.
func eyeIDs(v *sim.View) []string {
	a, s := &v.Account, &v.Now
	switch {
	case s.Cover != sim.Neither:
		if swing, _ := swing(v); swing != "" {
			return []string{"why-took-" + string(a.Fixes) + "-" + swing}
		}
		return []string{"why-covered-" + string(s.Cover)}
	case a.Missing != sim.Neither:
		if a.MissingWhere != sim.WhereAll && !v.SuppressionShows() {
			return []string{"why-out-none-" + string(a.Missing)}
		}
		return []string{leftOutID(a.Missing, a.MissingWhere, s)}
	case a.Fainter == sim.Right, a.Fainter == sim.Left:
		switch {
		case s.Suppression.Zone == sim.ZoneAll:
		case v.SuppressionShows():
			return []string{"why-fainter-part-" + string(a.Fainter)}
		default:
			return []string{"why-fainter-none-" + string(a.Fainter)}
		}
		return []string{"why-fainter-" + string(a.Fainter)}
	}
	return nil
}

// swing is which way the eye that takes up fixation moves when the preferred one is
// covered (M4), and by which error: until then it carried the whole of it. "" where it
// did not, or where it was on the target: eyes that are held together by fusion are.
func swing(v *sim.View) (way string, by sim.Prism) {
	a, p := &v.Account, &v.Now.Posture
	if !a.TookUp || v.Now.Cover == sim.Neither || v.Holding.OK {
		return "", 0
	}
	side, height := p.Deviation, p.Vertical
	if a.Fixes == sim.Left {
		height = -height // the left eye is the lower one where the right one is higher
	}
	switch {
	case max(math.Abs(float64(side)), math.Abs(float64(height))) <= sim.OnTarget:
		return "", 0
	case math.Abs(float64(height)) > math.Abs(float64(side)):
		if height > 0 {
			return "down", height
		}
		return "up", height
	case side > 0:
		return "out", side
	}
	return "in", side
}

func leftOutID(eye sim.Side, where sim.Where, s *sim.Setup) string {
	id := "why-out-"
	switch where {
	case sim.WhereCentre:
		id += map[sim.Centre]string{sim.CentreFovea: "middle-", sim.CentreTarget: "round-", sim.CentreBoth: "between-"}[s.Suppression.Centre]
	case sim.WhereNasal, sim.WhereTemporal, sim.WhereNearer, sim.WhereBeyond:
		id += string(where) + "-"
	}
	return id + string(eye)
}

// reasonIDs names why it looks so, while both eyes have a part in it: where they are
// on their way to, or else whether they waver and where they are aimed, and that one is
// tilted. With one eye alone it is what findings make of that.
func reasonIDs(v *sim.View, jump sim.Jump) []string {
	a := &v.Account
	if a.MissingWhere == sim.WhereAll {
		if v.Holding.OK {
			return []string{"hold-" + string(v.Holding.Value.Why)}
		}
		return nil
	}
	ids := goingIDs(v, jump)
	if tilted(v) && !slices.Contains(ids, "why-tilted") {
		ids = append(ids, "why-tilted-too")
	}
	return ids
}

// goingIDs names what the eyes are about: a jump, or else how steady they are and where
// they are aimed.
func goingIDs(v *sim.View, jump sim.Jump) (ids []string) {
	a, s := &v.Account, &v.Now
	switch jump {
	case sim.JumpWaiting:
		return []string{"jump-waiting"}
	case sim.JumpMoving:
		return []string{"jump-moving" + bare(v)}
	}
	if s.Hold.SD > 0 && (a.Near == 2 || a.Far == 2) {
		if a.Meet.OnString() {
			ids = append(ids, "why-unsteady")
		} else {
			ids = append(ids, "why-unsteady-apart")
		}
	}
	aims := aimIDs(v)
	if obvious(aims[0]) && (len(ids) > 0 || a.Missing != sim.Neither || a.Asked != a.LookedAt) {
		return ids // what was said stands in its way, or makes it hard to follow
	}
	return append(ids, aims...)
}

// obvious says whether an aim is the one that is hoped for, which goes without saying
// where something else is to be said.
func obvious(aim string) bool {
	return strings.HasPrefix(aim, "aim-together") || strings.HasPrefix(aim, "hold-on")
}

// bare is the end of the ids that speak of a place on a bare string.
func bare(v *sim.View) string {
	if v.Account.LookedAt == "" {
		return "-bare"
	}
	return ""
}

// throughPrisms says whether prisms stand before the eyes, and unanswered whether
// the eyes have not fully followed them (M13).
func throughPrisms(s *sim.Setup) bool {
	return s.Right.BaseOut != 0 || s.Right.BaseUp != 0 || s.Left.BaseOut != 0 || s.Left.BaseUp != 0
}

func unanswered(s *sim.Setup) bool { return throughPrisms(s) && s.Posture.PrismMet < 1 }

// off says whether the eyes are off the target, to a side or in height.
func off(v *sim.View) bool {
	return v.Account.Eyes != sim.AimOnTarget || math.Abs(float64(v.Now.Posture.Vertical)) > sim.OnTarget
}

// doubled says whether what is looked at is seen twice.
func doubled(v *sim.View) bool {
	a := &v.Account
	return a.Fixated == sim.SeenTwo || a.LookedAt == "" && !a.Fuses && a.Missing == sim.Neither
}

// aimIDs names where the eyes are aimed, mostly in one sentence. Prisms, findings
// and anomalous correspondence come first: with them the eyes and the strings are
// each a matter of their own.
func aimIDs(v *sim.View) []string {
	switch {
	case unanswered(&v.Now) && (v.Account.Fuses || edged(v)) && off(v):
		return []string{"why-prism-meets"}
	case unanswered(&v.Now):
		return []string{"why-prism"}
	case v.Holding.OK:
		if id := holdID(v, &v.Holding.Value); id != "" {
			return []string{id}
		}
	case v.Now.Posture.Anomaly != 0:
		return anomalyIDs(v)
	}
	return []string{aimID(v)}
}

// tiltSeen is the torsion from which on two pictures look tilted against each other, °: a
// stretch of 10° is then off by about the thickness of the string (a modelling choice).
const tiltSeen = 1

// tilted says whether torsion tilts the two pictures against each other by so much that it
// is seen, or makes one image the higher one.
func tilted(v *sim.View) bool {
	p := &v.Now.Posture
	return math.Abs(float64(p.Cyclo)) >= tiltSeen ||
		p.Cyclo != 0 && v.Account.Higher != sim.Neither && math.Abs(float64(p.Vertical)) <= sim.OnTarget
}

// anomalyIDs names why eyes that point elsewhere go with the strings that are seen.
func anomalyIDs(v *sim.View) []string {
	a := &v.Account
	switch {
	case a.Eyes == sim.AimOnTarget:
		return []string{"why-matched-on"}
	case a.Meet == sim.MeetAt:
		return []string{"why-matched-at" + bare(v), "why-matched-so"}
	case a.Meet == sim.MeetNearer, a.Meet == sim.MeetBeyond:
		return []string{"why-matched-off", "why-matched-rest" + bare(v)}
	}
	return []string{"why-matched-off"}
}

// aimID names where the eyes are aimed by the code of the posture and where the
// strings cross. Through prisms the eyes themselves may meet anywhere, or nowhere:
// there it is said against what appears.
func aimID(v *sim.View) string {
	a, s := &v.Account, &v.Now
	prism := throughPrisms(s)
	eyes := a.Eyes
	if prism && eyes == sim.AimApart {
		eyes = s.Posture.Deviation.Aim()
	}
	switch {
	case eyes == sim.AimApart && v.Axes.Vergence > 0:
		return "aim-inward"
	case eyes == sim.AimApart:
		return "aim-apart"
	case math.Abs(float64(s.Posture.Vertical)) > sim.OnTarget || a.Higher != sim.Neither && s.Posture.Cyclo == 0:
		switch {
		case eyes == sim.AimEso && !prism:
			return "aim-higher-nearer"
		case eyes == sim.AimExo && !prism:
			return "aim-higher-beyond"
		}
		return "aim-higher"
	case eyes == sim.AimOnTarget && tilted(v):
		return "why-tilted"
	}

	nearer := a.Meet == sim.MeetNearer && eyes != sim.AimExo
	beyond := a.Meet == sim.MeetBeyond && eyes != sim.AimEso
	if !a.Meet.OnString() {
		nearer, beyond = eyes == sim.AimEso, eyes == sim.AimExo
	}
	together := a.Meet != sim.MeetNearer && a.Meet != sim.MeetBeyond && eyes == sim.AimOnTarget && !doubled(v)
	switch {
	case together && prism:
		return "aim-together-prism" + bare(v)
	case together:
		return "aim-together" + bare(v)
	case nearer && prism:
		return "aim-nearer-prism" + bare(v)
	case beyond && prism:
		return "aim-beyond-prism" + bare(v)
	case nearer:
		return "aim-nearer" + bare(v)
	case beyond && a.Meet == sim.MeetNowhere && pastString(v):
		return "aim-past"
	case beyond:
		return "aim-beyond" + bare(v)
	case a.Meet == sim.MeetAt && !prism:
		return "aim-close"
	}
	return "aim-uneven"
}

// pastString says whether the eyes meet farther away than the string is tied.
func pastString(v *sim.View) bool {
	at := v.Axes.Point
	return at.OK && r3.Norm(at.Value) > r3.Norm(v.Now.Place(v.Now.String.Length))
}
