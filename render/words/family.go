package words

import (
	"fmt"
	"math"
	"strings"

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
// the strings run, and why, each a sentence of at most 20 plain words. It speaks
// of the set-up and never of a person. The view must have looked at the set-up.
func (w *Words) Family(v *sim.View) string {
	s := &v.Now
	strand, beads := stringsID(v)
	said := []string{w.say(beadID(v), nil), w.sayOf(beads, strand)}
	a := &v.Account
	for _, id := range reasonIDs(v, s) {
		said = append(said, w.say(id, with{"Asked": a.Asked, "LookedAt": a.LookedAt}))
	}
	return strings.Join(said, " ")
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
		if a.Missing == sim.Left && takesPlace(a.MissingWhere) {
			return "bead-single" // the reason names the eye
		}
		return "bead-right"
	case sim.SeenLeft:
		if a.Missing == sim.Right && takesPlace(a.MissingWhere) {
			return "bead-single"
		}
		return "bead-left"
	case sim.SeenNone:
		return "bead-unseen"
	}
	return "bead-bare"
}

// takesPlace says whether what is missing takes in the place looked at, which
// belongs neither to what is nearer nor to what is beyond (M9).
func takesPlace(w sim.Where) bool { return w == sim.WhereAll || w == sim.WhereCentre }

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
// in it, where they are aimed.
func reasonIDs(v *sim.View, s *sim.Setup) []string {
	a := &v.Account
	var ids []string
	if a.Asked != a.LookedAt {
		if a.LookedAt == "" {
			ids = append(ids, "why-asked-bare")
		} else {
			ids = append(ids, "why-asked")
		}
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
		return ids
	}
	aim := aimID(v, s)
	if aim == "aim-together" && len(ids) > 0 {
		return ids
	}
	return append(ids, aim)
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

// unanswered says whether there are prisms that the eyes have not fully answered
// (M13).
func unanswered(s *sim.Setup) bool {
	none := s.Right.BaseOut == 0 && s.Right.BaseUp == 0 && s.Left.BaseOut == 0 && s.Left.BaseUp == 0
	return !none && s.Posture.PrismMet < 1
}

// aimID names where the eyes are aimed. Prisms and anomalous correspondence come
// first: with them the strings do not cross where the eyes meet.
func aimID(v *sim.View, s *sim.Setup) string {
	a := &v.Account
	bare := ""
	if a.LookedAt == "" {
		bare = "-bare"
	}
	double := a.Fixated == sim.SeenTwo || a.LookedAt == "" && !a.Fuses && a.Missing == sim.Neither
	switch {
	case unanswered(s):
		return "why-prism"
	case s.Posture.Anomaly != 0 && a.Eyes == sim.AimOnTarget:
		return "why-matched-on"
	case s.Posture.Anomaly != 0 && a.Meet == sim.MeetAt:
		return "why-matched-at"
	case s.Posture.Anomaly != 0:
		return "why-matched-off"
	case a.Eyes == sim.AimApart && v.Axes.Vergence > 0:
		return "aim-inward"
	case a.Eyes == sim.AimApart:
		return "aim-apart"
	case a.Higher != sim.Neither || math.Abs(float64(s.Posture.Vertical)) > onTarget:
		switch a.Eyes {
		case sim.AimEso:
			return "aim-higher-nearer"
		case sim.AimExo:
			return "aim-higher-beyond"
		}
		return "aim-higher"
	case a.Eyes == sim.AimOnTarget && s.Posture.Cyclo != 0:
		return "why-tilted"
	}

	nearer := a.Meet == sim.MeetNearer && a.Eyes != sim.AimExo
	beyond := a.Meet == sim.MeetBeyond && a.Eyes != sim.AimEso
	if a.Meet == sim.MeetNowhere || a.Meet == sim.MeetUnseen {
		nearer, beyond = a.Eyes == sim.AimEso, a.Eyes == sim.AimExo
	}
	together := a.Meet != sim.MeetNearer && a.Meet != sim.MeetBeyond && a.Eyes == sim.AimOnTarget && !double
	switch {
	case together:
		return "aim-together"
	case nearer:
		return "aim-nearer" + bare
	case beyond:
		return "aim-beyond" + bare
	case a.Meet == sim.MeetAt:
		return "aim-close"
	}
	return "aim-uneven"
}
