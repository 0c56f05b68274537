package casebook

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/render/words"
	"twincord/scenes/cases"
	"twincord/sim"
	"twincord/sim/answers"
)

// Why says in a sentence or two why that is right.
func (w *Writer) Why(c *cases.Case, key []cases.Entry) string {
	return strings.Join(w.why(c, key), " ")
}

func (w *Writer) why(c *cases.Case, key []cases.Entry) []string {
	best := map[cases.Item]string{}
	for i := range key {
		best[key[i].Item] = key[i].Best.Code
	}
	truth := c.Truth()
	switch c.Kind {
	case cases.EyesToSee:
		return w.whyView(c, &truth, best)
	case cases.NextQuestion:
		return []string{w.whyNext(&key[0])}
	case cases.WhichGlass:
		return []string{w.say.CaseWhy("glass-" + best[cases.Base]), w.glassSum(&truth)}
	case cases.Walk:
		if truth.Right.BaseOut != 0 {
			return []string{w.say.CaseWhy("walk-load"), w.walkSum(&truth)}
		}
		return []string{w.say.CaseWhy("walk")}
	case cases.DoesItFit:
		if best[cases.Fits] == cases.TheyFit {
			return []string{w.say.CaseWhy("fit-" + whatGives(&truth))}
		}
		return []string{w.say.CaseWhy(whyNotFit(&c.Given.Answers, best[cases.Fits]))}
	case cases.Stop:
		return w.whyStop(c.Given.Story)
	}
	return w.whyEyes(c, &truth, key, best)
}

// whyEyes is the reason of the cases of what is seen.
func (w *Writer) whyEyes(c *cases.Case, truth *sim.Setup, key []cases.Entry, best map[cases.Item]string) []string {
	why := whyEyes(c, best)
	if single := c.Given.Answers.Code[answers.Bead] == answers.One; single && (why == cases.Eso || why == cases.Exo) {
		why += "-single"
	}
	said := append([]string{w.say.CaseWhy(why)}, w.amountOf(truth, key)...)
	if (best[cases.Sign] == cases.Eso || best[cases.Sign] == cases.Exo) && best[cases.Missing] == cases.CannotTell {
		said = append(said, w.say.CaseWhy("missing-maybe"))
	}
	if best[cases.Fixing] == cases.CannotTell && why != "straight" {
		said = append(said, w.say.CaseWhy("fixing-maybe"))
	}
	return said
}

func whyEyes(c *cases.Case, best map[cases.Item]string) string {
	a := &c.Given.Answers
	sign, missing, where := best[cases.Sign], best[cases.Missing], best[cases.Where]
	covered := a.Answered(answers.RightCoverBead) || a.Answered(answers.LeftCoverBead)
	switch {
	case sign == cases.Exo && a.Code[answers.Meet] == answers.Not:
		return "exo-nowhere"
	case sign == cases.Eso || sign == cases.Exo:
		return sign
	case c.Asked[0] == cases.Whose && best[cases.Doubling] == cases.CannotTell:
		return "differ-doubled"
	case best[cases.Doubling] != "" && covered:
		return best[cases.Doubling]
	case best[cases.Doubling] == cases.Crossed:
		return cases.Exo
	case best[cases.Doubling] == cases.Uncrossed:
		return cases.Eso
	case missing == cases.Right || missing == cases.Left:
		switch {
		case c.Given.Picture == cases.NoPicture:
			return "missing-cover"
		case where == cases.Centre:
			return "missing-gap-" + missing
		case where == cases.Behind:
			return "missing-behind-" + missing
		}
		return "missing-" + missing
	case where != "" && where != cases.Nothing && where != cases.CannotTell:
		return "missing-unknown"
	case c.Kind == cases.SeeToEyes && !c.Given.Finger:
		return "place"
	case missing == cases.Nobody:
		return "straight"
	}
	return "differ"
}

// whyView says where the strings cross and why the bead is one or two.
func (w *Writer) whyView(c *cases.Case, s *sim.Setup, best map[cases.Item]string) []string {
	e := float64(s.Posture.Deviation)
	switch {
	case s.Suppression.Eye != sim.Neither:
		return []string{w.say.CaseWhy("view-out")}
	case best[cases.CrossAt] == cases.Never:
		return append([]string{w.say.CaseWhy("view-nowhere")}, w.whyCount(c, s, best[cases.Beads])...)
	}
	said := []string{w.say.CaseWhy("view-eso")}
	if e < 0 {
		said[0] = w.say.CaseWhy("view-exo")
	}
	switch _, asked := best[cases.CrossAt]; {
	case !asked:
		said = append(said, w.say.CaseWhy("view-hidden"))
	case c.Given.Shown:
		sign := "+"
		if e < 0 {
			sign = "−"
		}
		crossing := w.crossing(s)
		said = append(said, w.say.Filled(words.CaseViewSum, "PD", w.say.Number(s.Patient.PD/10, 1), "Bead", w.away(s, s.LookPlace()),
			"Sign", sign, "Share", w.amount(math.Abs(e)/100), "Crossing", w.away(s, crossing), "At", w.say.Length(crossing)))
	}
	return append(said, w.whyCount(c, s, best[cases.Beads])...)
}

// whyCount says why the bead is one or two.
func (w *Writer) whyCount(c *cases.Case, s *sim.Setup, beads string) []string {
	switch {
	case beads == cases.CannotTell:
		return []string{w.say.CaseWhy("eyes-see-limit")}
	case !c.Given.Limit:
		return []string{w.say.CaseWhy("view-plain")}
	}
	e := sim.Prism(math.Abs(float64(s.Posture.Deviation)))
	l := words.CaseViewOne
	if beads == cases.Two {
		l = words.CaseViewTwo
	}
	minutes := func(x sim.Arcmin) string { return w.say.Number(float64(x), 0) + "′" }
	return []string{w.say.Filled(l, "Deviation", w.delta(float64(e)), "Minutes", minutes(e.Angle().Arcmin()),
		"Limit", minutes(s.Patient.FusionH))}
}

// whyNext says how much a question tells.
func (w *Writer) whyNext(r *cases.Entry) string {
	agree := strconv.Itoa(r.Agree)
	switch {
	case r.Told():
		return w.say.Filled(words.CaseNext, "Agree", agree, "Left", strconv.Itoa(r.Left))
	case r.Agree == 1:
		return w.say.CaseWhy("next-one")
	}
	return w.say.Filled(words.CaseNextNone, "Agree", agree)
}

// whatGives names what a set-up has that gives its answers.
func whatGives(s *sim.Setup) string {
	switch {
	case s.Suppression.Eye != sim.Neither:
		return string(s.Suppression.Eye)
	case s.Posture.Deviation > 0:
		return cases.Eso
	}
	return cases.Exo
}

// whyNotFit is the reason why two answers do not go together.
func whyNotFit(a *answers.Answers, pair string) string {
	one, two, _ := strings.Cut(pair, "+")
	first, errFirst := answers.ParseItem(one)
	second, errSecond := answers.ParseItem(two)
	if errFirst != nil || errSecond != nil {
		return "fit-not"
	}
	is := func(i answers.Item, codes ...answers.Code) bool { return slices.Contains(codes, a.Code[i]) }
	beadCovered := second == answers.RightCoverBead || second == answers.LeftCoverBead
	stringCovered := second == answers.RightCoverString || second == answers.LeftCoverString
	switch {
	case first == answers.Bead && beadCovered && is(first, answers.One):
		return "fit-not-one"
	case first == answers.Bead && beadCovered && is(first, answers.Two),
		first == answers.Near && stringCovered && is(first, answers.Double),
		first == answers.NearerBeads && stringCovered && is(first, answers.Two):
		return "fit-not-two"
	case first == answers.RightCoverBead && second == answers.LeftCoverBead,
		first == answers.RightCoverString && second == answers.LeftCoverString:
		return "fit-not-covers"
	case first == answers.Meet && beadCovered && is(first, answers.At):
		return "fit-not-crossing"
	case first == answers.Meet && beadCovered:
		return "fit-not-side"
	}
	return "fit-not"
}

// tenths writes a number to a tenth.
func (w *Writer) tenths(x float64) string { return w.amount(math.Round(x*10) / 10) }

// away is how far from the eyes a place on the string is, cm.
func (w *Writer) away(s *sim.Setup, at float64) string {
	return w.tenths(r3.Norm(s.Place(at)) / 10)
}

// crossing is where the strings of a set-up cross, mm from the nose.
func (w *Writer) crossing(s *sim.Setup) float64 {
	var v sim.View
	v.Look(s)
	return v.Crossing.At.Value
}

// off is how far off a crossing is, Δ, eso +, by the sum of the eyes' tangents (M12).
func off(s *sim.Setup, crossing float64) float64 {
	return 100 * s.Patient.PD * (1/r3.Norm(s.Place(crossing)) - 1/r3.Norm(s.Place(s.LookPlace())))
}

// amountOf says how a deviation that can be told is worked out, where the strings cross.
func (w *Writer) amountOf(s *sim.Setup, key []cases.Entry) []string {
	i := slices.IndexFunc(key, func(e cases.Entry) bool { return e.Item == cases.Deviation && e.Told() })
	if i < 0 || s.Posture.Deviation == 0 {
		return nil
	}
	var v sim.View
	v.Look(s)
	at := v.Crossing.At
	if !at.OK || at.Value > s.String.Length {
		return nil
	}
	return []string{w.say.Filled(words.CaseAmount, "PD", w.say.Number(s.Patient.PD/10, 1), "Crossing", w.away(s, at.Value),
		"Bead", w.away(s, s.LookPlace()), "Off", w.tenths(off(s, at.Value)))}
}

// glassSum says how a prism is worked out: the crossing's error, and what is lost of a
// prism near by (row P6).
func (w *Writer) glassSum(s *sim.Setup) string {
	at := w.crossing(s)
	with := []string{"Off", w.tenths(math.Abs(off(s, at))), "PD", w.say.Number(s.Patient.PD/10, 1),
		"Crossing", w.away(s, at), "Bead", w.away(s, s.LookPlace()), "Glass", w.tenths(math.Abs(cases.Glass(s)))}
	if worn := s.Right.BaseOut + s.Left.BaseOut; worn != 0 {
		return w.say.Filled(words.CaseGlassWorn, append(with, "Worn", w.amount(math.Abs(float64(worn))))...)
	}
	return w.say.Filled(words.CaseGlassSum, with...)
}

// walkSum says how the place where a walk breaks is worked out, in metre angles (M14).
func (w *Writer) walkSum(s *sim.Setup) string {
	f := &s.Findings.Value
	load := float64(s.Right.BaseOut+s.Left.BaseOut) + f.ACA.Value*float64(s.Right.Lens)
	return w.say.Filled(words.CaseWalkSum, "Near", w.tenths(1000/f.NPCBreak), "Load", w.amount(load),
		"Reserve", w.amount(float64(f.Near.BaseOutBreak)))
}

// whyStop says what the row of a story says, and that somebody else decides.
func (w *Writer) whyStop(s cases.Story) (said []string) {
	row := s.Row()
	switch {
	case s.Stops():
		said = append(said, w.say.CaseWhy(strings.ToLower(row)))
	default:
		said = append(said, w.say.CaseWhy("go-on"))
	}
	if row != "" {
		said = append(said, w.say.Filled(words.CaseRow, "Row", row))
	} else {
		said = append(said, w.say.Label(words.CaseNoRow))
	}
	if s.Stops() {
		said = append(said, w.say.Label(words.CaseRefers))
	}
	return said
}
