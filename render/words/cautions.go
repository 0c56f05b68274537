package words

import "twincord/sim"

// The cautions, each a few whole sentences.
const (
	CautionModel       Label = "caution-model"
	CautionSuppression Label = "caution-suppression" // whom the words must caution (M20)
	CautionStop        Label = "caution-stop"
	CautionUrgent      Label = "caution-urgent"
	CautionOver50      Label = "caution-over-50"
	CautionOneEye      Label = "caution-one-eye" // double with one eye covered
	CautionChild       Label = "caution-child"
	CautionGlasses     Label = "caution-glasses"
	CautionForce       Label = "caution-force"
	CautionAfter       Label = "caution-after"
	CautionConcussion  Label = "caution-concussion"
	CautionFilm        Label = "caution-film" // of pictures that move
	CautionCord        Label = "caution-cord"
)

// The cautions in one line: at the edge of every picture, and of a set-up that
// needs care.
const (
	CautionEdge Label = "caution-edge"
	CautionCare Label = "caution-care"
)

// Due names the cautions that go with what is shown, in the order in which they are
// said. The account is that of the scene, or nil where it is of many scenes or of
// none: then everything is due that may be. Moves says that its pictures move.
//
// Everybody who reads here may be in need of help now, so that most cautions are
// always due; only what a scene cannot bring about is left out.
func Due(a *sim.Account, moves bool) []Label {
	due := []Label{CautionModel}
	if a == nil || a.NeedsCare {
		due = append(due, CautionSuppression)
	}
	due = append(due,
		CautionStop, CautionUrgent, CautionOver50, CautionOneEye, CautionChild,
		CautionGlasses, CautionForce, CautionAfter, CautionConcussion)
	if moves {
		due = append(due, CautionFilm)
	}
	return append(due, CautionCord)
}

// CautionsDue says the cautions that are due, see Due.
func (w *Words) CautionsDue(a *sim.Account, moves bool) []string {
	due := Due(a, moves)
	said := make([]string, len(due))
	for i, l := range due {
		said[i] = w.Label(l)
	}
	return said
}

// Cautions are all of them, for pages that are of no one scene.
func (w *Words) Cautions() []string { return w.CautionsDue(nil, true) }
