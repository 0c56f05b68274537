package words

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
)

// doubledEdge is the overlap of a bead's two images above which they look like
// one bead with a doubled edge (M8).
const doubledEdge = 0.75

// onTarget is the largest error of posture, in prism dioptres, that is still
// called on the target: the engine's own limit for the horizontal one, used here
// for the vertical.
const onTarget = 0.25

// Family is the caption for families: what is seen at the place looked at, how
// the strings run, why, and what filters do, each a sentence of at most 20 plain
// words. It speaks of the set-up and never of a person. The view must have looked
// at the set-up.
func (w *Words) Family(v *sim.View) string {
	strand, beads := stringsID(v)
	said := []string{w.say(beadID(v), nil), w.sayOf(beads, strand, nil)}
	names := with{"Asked": v.Account.Asked, "LookedAt": v.Account.LookedAt, "From": from(v)}
	for _, id := range reasonIDs(v, v.Jump()) {
		said = append(said, w.say(id, names))
	}
	if id := filterID(v); id != "" {
		said = append(said, w.say(id, nil))
	}
	for _, b := range v.Beads {
		if eye := blackTo(v, &b); eye != sim.Neither {
			said = append(said, w.say("filter-black-"+string(eye), with{"Bead": b.Name}))
		}
	}
	return strings.Join(said, " ")
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
	return v.Account.Fixated == sim.SeenTwo && b != nil && b.Overlap.Or(0) > doubledEdge
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

// stringsID names how the strings run, and of how many beads that sentence
// speaks. Where neither section is double the crossing is not to be told from
// one string, and goes without saying.
func stringsID(v *sim.View) (id string, beads int) {
	a := &v.Account
	id, beads = "strings-", 1
	switch {
	case a.LookedAt == "":
		id = "bare-"
	case a.Fixated == sim.SeenTwo && !edged(v):
		beads = 2
	}
	if a.Near == 2 || a.Far == 2 {
		id += string(a.Meet) + "-"
	}
	return fmt.Sprintf("%s%d%d", id, a.Near, a.Far), beads
}

// reasonIDs names why it looks so, in the order in which it is said: another bead
// than asked, an eye's picture that is missing, and, while both eyes have a part
// in it, where they are on their way to, or else whether they waver and where they
// are aimed.
func reasonIDs(v *sim.View, jump sim.Jump) []string {
	a, s := &v.Account, &v.Now
	var ids []string
	if a.Asked != a.LookedAt {
		ids = append(ids, "why-asked"+bare(v))
	}
	covered := s.Cover != sim.Neither
	if covered {
		ids = append(ids, "why-covered-"+string(s.Cover))
	}
	eye, where := leftOut(v, s)
	if eye != sim.Neither {
		ids = append(ids, leftOutID(eye, where, s))
	}
	if covered || where == sim.WhereAll {
		if v.Holding.OK {
			ids = append(ids, "hold-"+string(v.Holding.Value.Why))
		}
		return ids
	}
	switch jump {
	case sim.JumpWaiting:
		return append(ids, "jump-waiting"+bare(v))
	case sim.JumpMoving:
		return append(ids, "jump-moving"+bare(v))
	}
	if s.Hold.SD > 0 && (a.Near == 2 || a.Far == 2) {
		switch a.Meet {
		case sim.MeetAt, sim.MeetNearer, sim.MeetBeyond:
			ids = append(ids, "why-unsteady")
		default:
			ids = append(ids, "why-unsteady-apart")
		}
	}
	aims := aimIDs(v)
	if len(ids) > 0 && (aims[0] == "aim-together" || aims[0] == "hold-on") {
		return ids // what was said stands in its way, or makes it hard to follow
	}
	return append(ids, aims...)
}

// bare is the end of the ids that speak of a place on a bare string.
func bare(v *sim.View) string {
	if v.Account.LookedAt == "" {
		return "-bare"
	}
	return ""
}

// leftOut is the eye that is suppressed, and where. The account tells it unless
// a cover comes first; behind a cover suppression of the same eye says nothing
// more.
func leftOut(v *sim.View, s *sim.Setup) (sim.Side, sim.Where) {
	if s.Cover == sim.Neither {
		return v.Account.Missing, v.Account.MissingWhere
	}
	if s.Suppression.Eye == sim.Neither || s.Suppression.Eye == s.Cover || s.Suppression.Depth <= 0.5 {
		return sim.Neither, sim.WhereNot
	}
	switch s.Suppression.Zone {
	case sim.ZoneCentral:
		return s.Suppression.Eye, sim.WhereCentre
	case sim.ZoneNearer:
		return s.Suppression.Eye, sim.WhereNearer
	case sim.ZoneBeyond:
		return s.Suppression.Eye, sim.WhereBeyond
	}
	return s.Suppression.Eye, sim.WhereAll
}

func leftOutID(eye sim.Side, where sim.Where, s *sim.Setup) string {
	id := "why-out-"
	switch {
	case where == sim.WhereCentre && s.Suppression.Centre == sim.CentreTarget:
		id += "round-"
	case where == sim.WhereCentre:
		id += "middle-"
	case where == sim.WhereNearer, where == sim.WhereBeyond:
		id += string(where) + "-"
	}
	return id + string(eye)
}

// throughPrisms says whether prisms stand before the eyes, and unanswered whether
// the eyes have not fully answered them (M13).
func throughPrisms(s *sim.Setup) bool {
	return s.Right.BaseOut != 0 || s.Right.BaseUp != 0 || s.Left.BaseOut != 0 || s.Left.BaseUp != 0
}

func unanswered(s *sim.Setup) bool { return throughPrisms(s) && s.Posture.PrismMet < 1 }

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
		eyes = aimOf(s.Posture.Deviation)
	}
	switch {
	case eyes == sim.AimApart && v.Axes.Vergence > 0:
		return "aim-inward"
	case eyes == sim.AimApart:
		return "aim-apart"
	case a.Higher != sim.Neither || math.Abs(float64(s.Posture.Vertical)) > onTarget:
		switch {
		case eyes == sim.AimEso && !prism:
			return "aim-higher-nearer"
		case eyes == sim.AimExo && !prism:
			return "aim-higher-beyond"
		}
		return "aim-higher"
	case eyes == sim.AimOnTarget && s.Posture.Cyclo != 0:
		return "why-tilted"
	}

	nearer := a.Meet == sim.MeetNearer && eyes != sim.AimExo
	beyond := a.Meet == sim.MeetBeyond && eyes != sim.AimEso
	if a.Meet == sim.MeetNowhere || a.Meet == sim.MeetUnseen {
		nearer, beyond = eyes == sim.AimEso, eyes == sim.AimExo
	}
	together := a.Meet != sim.MeetNearer && a.Meet != sim.MeetBeyond && eyes == sim.AimOnTarget && !doubled(v)
	switch {
	case together && prism:
		return "aim-together-prism"
	case together:
		return "aim-together"
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

// aimOf is the code of a horizontal error, as the engine has it where the eyes meet.
func aimOf(deviation sim.Prism) sim.Aim {
	switch {
	case deviation > onTarget:
		return sim.AimEso
	case deviation < -onTarget:
		return sim.AimExo
	}
	return sim.AimOnTarget
}

// pastString says whether the eyes meet farther away than the string is tied.
func pastString(v *sim.View) bool {
	at := v.Axes.Point
	return at.OK && r3.Norm(at.Value) > r3.Norm(v.Now.Place(v.Now.String.Length))
}
