package words

import (
	"math"
	"slices"
	"strings"

	"twincord/sim"
	"twincord/sim/answers"
)

// The page of answers.
const (
	PageAnswers      Label = "page-answers"
	HintAnswers      Label = "hint-answers"
	HintAnswersRow   Label = "hint-answers-row"
	AnswersMore      Label = "answers-more"
	HintAnswersMore  Label = "hint-answers-more"
	AnswersClear     Label = "answers-clear-all"
	HintAnswersClear Label = "hint-answers-clear-all"
	HintAnswersPlace Label = "hint-answers-place"
	AnswersBegin     Label = "answers-begin"
	AnswersOpen      Label = "answers-open"
	HintAnswersOpen  Label = "hint-answers-open"
	ButtonSaidOther  Label = "button-said-other"
	HintSaidOther    Label = "hint-said-other"
	HintBands        Label = "hint-bands"
)

// Question is how an item is asked.
func (w *Words) Question(i answers.Item) string {
	return w.say("answers-ask-"+strings.ReplaceAll(i.String(), "_", "-"), nil)
}

// Answer is an answer to an item.
func (w *Words) Answer(i answers.Item, c answers.Code) string {
	if i == answers.Wider && c == answers.Nearer {
		return w.say("answers-wider-nearer", nil)
	}
	return w.say("answers-"+c.String(), nil)
}

// Explanation is a family of set-ups, with the stretches in which it gives the answers.
func (w *Words) Explanation(m *answers.Match) string { return w.explain(m, string(m.Eye)) }

// ExplanationEither is Explanation of two families that differ in the eye alone.
func (w *Words) ExplanationEither(m *answers.Match) string { return w.explain(m, "either") }

func (w *Words) explain(m *answers.Match, eye string) string {
	deviations := func() string { return w.stretches(m, answers.KeyDeviation, w.deviations) }
	switch m.Kind {
	case answers.OnBead:
		if m.Example.FixatedBead() == sim.NoBead {
			return w.say("answers-on-place", nil)
		}
		return w.say("answers-on-bead", nil)
	case answers.AnotherSpot:
		return w.say("answers-place", with{"Range": w.stretches(m, answers.KeyPlace, w.lengths)})
	case answers.LeftOut:
		if anyDeviation(m) {
			return w.say("answers-left-out-"+eye, nil)
		}
		return w.say("answers-left-out-some-"+eye, with{"Range": deviations()})
	case answers.LeftOutPart:
		id := "answers-left-out-" + string(m.Zone) + "-"
		switch m.Zone {
		case sim.ZoneAll:
			id = "answers-fainter-"
		case sim.ZoneCentral:
			id = "answers-left-out-" + string(m.Centre) + "-"
		}
		return w.say(id+eye, with{"Radius": w.say("unit-degrees", with{"Number": w.Number(float64(m.Radius), 0)}), "Range": deviations()})
	case answers.Vertical:
		hypers := w.stretches(m, answers.KeyVertical, w.hypers)
		if anyDeviation(m) {
			return w.say("answers-vertical-any", with{"Vertical": hypers})
		}
		return w.say("answers-vertical", with{"Vertical": hypers, "Range": deviations()})
	case answers.Torsion:
		return w.say("answers-torsion", with{"Range": w.stretches(m, answers.KeyCyclo, w.cyclos)})
	case answers.Strings:
		return w.say("answers-string-"+string(m.Held), nil)
	case answers.Anomaly:
		return w.say("answers-anomaly-"+eye, with{"Range": deviations()})
	}
	return w.say("answers-"+string(m.Kind), with{"Range": deviations()})
}

// anyDeviation says whether a family gives the answers with every horizontal deviation
// that is tried.
func anyDeviation(m *answers.Match) bool {
	return slices.ContainsFunc(m.Ranges, func(r answers.Range) bool {
		return r.Key == answers.KeyDeviation && r.To-r.From >= 2*answers.MostDeviation
	})
}

// stretches lists the stretches of a number of scene files in which a family gives the
// answers.
func (w *Words) stretches(m *answers.Match, key string, write func(from, to float64) string) string {
	var all []string
	for _, r := range m.Ranges {
		if r.Key == key {
			all = append(all, write(r.From, r.To))
		}
	}
	if len(all) == 0 {
		return ""
	}
	list := all[len(all)-1]
	for i := len(all) - 2; i >= 0; i-- {
		if i == len(all)-2 {
			list = w.say("answers-range-two", with{"First": all[i], "Second": list})
		} else {
			list = w.say("answers-range-many", with{"First": all[i], "Rest": list})
		}
	}
	return list
}

// deviations writes a stretch of horizontal deviation, eso +: "2.7 to 5.9 Δ eso",
// "3.0 Δ exo to 5.0 Δ eso".
func (w *Words) deviations(from, to float64) string {
	return w.horizontal(from, to, leastTried, answers.MostDeviation)
}

func (w *Words) horizontal(from, to, least, most float64) string {
	return w.signed(from, to, least, most, func(x float64) string { return w.number(sim.Prism(x)) },
		[3]string{"unit-exo", "unit-prism", "unit-eso"})
}

func (w *Words) hypers(from, to float64) string {
	return w.signed(from, to, leastTried, answers.MostVertical, func(x float64) string { return w.number(sim.Prism(x)) },
		[3]string{"answers-hyper-left", "unit-prism", "answers-hyper-right"})
}

func (w *Words) cyclos(from, to float64) string {
	return w.signed(from, to, leastTilt, answers.MostCyclo, func(x float64) string { return w.Number(math.Abs(x), 0) },
		[3]string{"answers-incyclo", "unit-degrees", "answers-excyclo"})
}

// lengths writes a stretch of the string.
func (w *Words) lengths(from, to float64) string {
	if w.Length(from) == w.Length(to) {
		return w.Length(from)
	}
	return w.say("answers-range", with{"From": w.Length(from), "To": w.Length(to)})
}

// leastTried is where a stretch that begins at nothing begins; one that ends at a bound of
// the families goes on.
const leastTried = 0.25

// leastTilt is that of tilts, which are told in whole degrees.
const leastTilt = 0.5

// signed writes a stretch of a number whose sign is a word, units being those of a minus,
// of none and of a plus: the smaller amount first where both ends have the same word. What
// is written as nothing has no sign. Below least it begins at nothing, at most it goes on.
func (w *Words) signed(from, to, least, most float64, number func(x float64) string, units [3]string) string {
	named := func(x float64, number string) string {
		switch {
		case number == w.Number(0, 0):
			return w.say(units[1], with{"Number": number})
		case x < 0:
			return w.say(units[0], with{"Number": number})
		}
		return w.say(units[2], with{"Number": number})
	}
	if from < 0 && to > 0 {
		return w.say("answers-range", with{"From": named(from, number(from)), "To": named(to, number(to))})
	}
	low, high := min(math.Abs(from), math.Abs(to)), max(math.Abs(from), math.Abs(to))
	a, b := number(low), number(high)
	switch {
	case a == b:
		return named(from+to, a)
	case low < least:
		return w.say("answers-range-up-to", with{"To": named(from+to, b)})
	case high >= most:
		return w.say("answers-range-more", with{"From": named(from+to, a)})
	}
	return named(from+to, w.say("answers-range", with{"From": a, "To": b}))
}

// Inseparable says what answers cannot tell apart.
func (w *Words) Inseparable(i answers.Inseparable) string {
	return w.say("answers-same-"+strings.ReplaceAll(string(i), "_", "-"), nil)
}

// AnswersConflict says which two answers do not go together.
func (w *Words) AnswersConflict(a *answers.Answers, pair [2]answers.Item) string {
	return w.say("answers-conflict", with{
		"First": w.Question(pair[0]), "FirstAnswer": w.given(a, pair[0]),
		"Second": w.Question(pair[1]), "SecondAnswer": w.given(a, pair[1]),
	})
}

func (w *Words) given(a *answers.Answers, i answers.Item) string {
	if i == answers.MeetAt {
		p := a.Place.Value
		return w.lengths(p.At-p.Within, p.At+p.Within)
	}
	return w.Answer(i, a.Code[i])
}

// AnswersContradicted says which answers the nearest set-ups contradict.
func (w *Words) AnswersContradicted(items []answers.Item) string {
	var asked []string
	for _, i := range items {
		asked = append(asked, w.Question(i))
	}
	return w.say("answers-contradicts", with{"Items": strings.Join(asked, " ")})
}

// AnswersNoFit introduces the nearest set-ups where none gives the answers.
func (w *Words) AnswersNoFit() string { return w.say("answers-no-fit", nil) }

// AnswersNext is the question to ask next, or that none would tell more.
func (w *Words) AnswersNext(ask sim.Maybe[answers.Item]) string {
	if !ask.OK {
		return w.say("answers-nothing-next", nil)
	}
	return w.say("answers-next", with{"Question": w.Question(ask.Value)})
}

// AnswersNote is the line that stands under every result.
func (w *Words) AnswersNote() string { return w.say("answers-note", nil) }

// Band is one row of the table of bands, and BandHeadings the row above it.
func (w *Words) Band(b *answers.Band) []string {
	bead := "–"
	if b.Bead != answers.Open {
		bead = w.Answer(answers.Bead, b.Bead)
	}
	pattern := "–" // without a letter, the strings in front and behind say all
	switch b.Pattern {
	case sim.PatternX, sim.PatternV, sim.PatternA, sim.PatternY:
		pattern = string(b.Pattern)
	}
	return []string{w.bandEnds(b), bead,
		w.Answer(answers.Near, b.Near), w.Answer(answers.Far, b.Far), w.Answer(answers.Meet, b.Meet), pattern}
}

// bandEnds writes a band from one end to the other, whatever their signs.
func (w *Words) bandEnds(b *answers.Band) string {
	return w.say("answers-range", with{"From": w.computed(b.From, "unit-eso", "unit-exo"), "To": w.computed(b.To, "unit-eso", "unit-exo")})
}

// BandSaid is a band as a sentence: its deviations, and what would be said there.
func (w *Words) BandSaid(b *answers.Band) string {
	said := with{
		"Range": w.horizontal(float64(b.From), float64(b.To), 0, answers.MostBand),
		"Near":  w.Answer(answers.Near, b.Near), "Far": w.Answer(answers.Far, b.Far), "Meet": w.Answer(answers.Meet, b.Meet),
	}
	if b.Bead == answers.Open {
		return w.say("answers-band-bare", said)
	}
	said["Bead"] = w.Answer(answers.Bead, b.Bead)
	return w.say("answers-band", said)
}

// Stretch is a stretch of the string, from one place to another, mm from the nose.
func (w *Words) Stretch(from, to float64) string { return w.lengths(from, to) }

// AnswersSearching says how much of the set-ups is looked through, in percent.
func (w *Words) AnswersSearching(percent float64) string {
	return w.say("answers-searching", with{"Percent": w.Number(percent, 0)})
}

// BandHeadings are the headings of the columns of Band.
func (w *Words) BandHeadings() (all []string) {
	for _, column := range []string{"deviation", "bead", "near", "far", "meet", "pattern"} {
		all = append(all, w.say("answers-heading-"+column, nil))
	}
	return all
}
