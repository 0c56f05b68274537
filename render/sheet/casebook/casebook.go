// Package casebook says cases in words: what is given, what is asked and what may be
// answered, what is right and why. Whoever shows cases, on paper or in a window, shows
// them from here.
//
// Nothing here tells the answer before the key is asked for: not a title, not what a
// picture is called.
package casebook

import (
	"math"
	"slices"
	"strings"

	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/cases"
	"twincord/sim"
	"twincord/sim/answers"
)

// Page is a case in words.
type Page struct {
	Title   string // of its kind
	Given   []string
	Picture cases.Picture
	View    *sim.View // of the picture
	Alt     string    // what the picture shows, for those who do not see it
	Asked   []Question
}

// Question is one thing that is asked, with the choices there are.
type Question struct {
	Item    cases.Item
	Text    string
	Number  string // the unit of a number that may be answered; "": none
	Choices []Choice
	// Blank introduces a line to write two letters on, instead of choosing one of many
	// pairs; "": there is none.
	Blank string
}

// Choice is a choice of a question.
type Choice struct{ Code, Text string }

// Writer says cases in a language.
type Writer struct {
	say *words.Words
}

// In is a writer in a language.
func In(say *words.Words) *Writer { return &Writer{say: say} }

// Told is a set-up with its beads by their names in the language.
func (w *Writer) Told(s *sim.Setup) sim.Setup {
	sc := scenes.TranslationOf(scenes.Identity{Origin: scenes.BuiltIn, Name: scenes.DefaultName}, w.say).Scene(&scenes.Scene{Setup: *s})
	return sc.Setup
}

// Lead says what string the cases of a seed share.
func (w *Writer) Lead(c *cases.Case) string {
	s := cases.StringOf(c.Seed)
	length := w.say.Length
	return w.say.Filled(words.CasesLead, "Length", length(s.String.Length), "First", length(s.Beads[0].At),
		"Second", length(s.Beads[1].At), "Third", length(s.Beads[2].At), "Bead", w.theBead(c),
		"PD", w.say.Number(s.Patient.PD, 0), "Behind", length(s.String.NearEnd.Y))
}

// theBead is the bead that is asked for.
func (w *Writer) theBead(c *cases.Case) string {
	s := cases.StringOf(c.Seed)
	return w.say.TheBead(w.Told(&s).Beads[s.Look.Bead].Name)
}

// Kind names a kind of case.
func (w *Writer) Kind(k cases.Kind) string { return w.say.CaseKind(dashed(string(k))) }

// Kinds names all kinds, in their order.
func (w *Writer) Kinds() (names []string) {
	for _, k := range cases.Kinds() {
		names = append(names, w.Kind(k))
	}
	return names
}

// Sight says what a set-up is to a case that is judged.
func (w *Writer) Sight(r cases.Role) string { return w.say.CaseSight(dashed(string(r))) }

// Points says what a judged case came to: the points of its items.
func (w *Writer) Points(j *cases.Judged) string {
	return w.say.Filled(words.CasesCameTo, "Points", w.say.PointsOf(j.Points*float64(len(j.Key)), len(j.Key)))
}

// Page says a case, without its key.
func (w *Writer) Page(c *cases.Case) Page {
	p := Page{Title: w.Kind(c.Kind), Given: w.given(c), Picture: c.Given.Picture}
	if p.Picture != cases.NoPicture {
		s := c.Truth()
		s = w.Told(&s)
		p.View = new(sim.View)
		p.View.Look(&s)
		p.Alt = w.alt(c, p.View)
	}
	for _, i := range c.Asked {
		q := Question{Item: i, Text: w.say.CaseItem(dashed(string(i))), Number: unit(i)}
		for _, code := range c.Choices(i) {
			q.Choices = append(q.Choices, Choice{code, w.choice(c, i, code)})
		}
		if i == cases.Fits {
			q.Blank = w.say.Label(words.CaseWhichTwo)
		}
		p.Asked = append(p.Asked, q)
	}
	return p
}

func dashed(code string) string { return strings.ReplaceAll(code, "_", "-") }

// unit is that of the numbers that an item may be answered with.
func unit(i cases.Item) string {
	switch {
	case !i.Numeric():
		return ""
	case i == cases.Deviation || i == cases.Power:
		return "Δ"
	}
	return "cm"
}

func (w *Writer) choice(c *cases.Case, i cases.Item, code string) string {
	switch {
	case i == cases.Ask && code == cases.CannotTell:
		return w.say.CaseChoice("no-question")
	case code == cases.CannotTell || code == cases.TheyFit:
	case i == cases.Ask:
		if item, err := answers.ParseItem(code); err == nil {
			return w.say.CaseQuestion(item)
		}
	case i == cases.Fits:
		first, second, _ := strings.Cut(code, "+")
		return w.say.Filled(words.CaseTheyDoNot, "First", letter(c, first), "Second", letter(c, second))
	case i == cases.Fixing && code != cases.Both:
		return w.say.CaseChoice("eye-" + code)
	}
	return w.say.CaseChoice(dashed(code))
}

// letter is that of an answer that is given.
func letter(c *cases.Case, item string) string {
	for n, i := range c.Told() {
		if i.String() == item {
			return string(rune('a' + n))
		}
	}
	return item
}

// given says what is given, a line each.
func (w *Writer) given(c *cases.Case) (said []string) {
	add := func(l words.Label, pairs ...string) { said = append(said, w.say.Filled(l, pairs...)) }
	truth := c.Truth()
	switch {
	case c.Kind == cases.Stop:
		return []string{w.say.CaseStory(dashed(string(c.Given.Story)))}
	case c.Kind == cases.Walk:
		return w.findings(c, &truth)
	case c.Given.Finger:
		add(words.CaseFinger, "Bead", w.theBead(c))
	case c.Kind == cases.SeeToEyes:
		add(words.CaseNoFinger, "Bead", w.theBead(c))
	}
	if c.Given.Shown {
		add(words.CaseEyes, "Deviation", w.say.Deviation(truth.Posture.Deviation))
		switch truth.Suppression.Eye {
		case sim.Right:
			add(words.CaseOutRight)
		case sim.Left:
			add(words.CaseOutLeft)
		}
	}
	if c.Given.Limit {
		add(words.CasePanum, "Limit", w.say.Number(float64(truth.Patient.FusionH), 0)+"′")
	}
	switch c.Given.Picture {
	case cases.PatientView:
		add(words.CasePicture)
		if at := c.Given.Answers.Place; at.OK {
			add(words.CasePoints, "At", w.say.Length(at.Value.At))
		}
	case cases.FromAbove:
		add(words.CaseAbove)
	default:
		said = append(said, w.answers(c)...)
	}
	if c.Kind == cases.WhichGlass {
		if worn := truth.Right.BaseOut + truth.Left.BaseOut; worn != 0 {
			add(words.CaseWorn, "Prism", w.prism(float64(worn)))
		}
		add(words.CaseIgnores)
	}
	return said
}

// answers says what the patient answers, each with its letter.
func (w *Writer) answers(c *cases.Case) (said []string) {
	for n, i := range c.Told() {
		letter, question := string(rune('a'+n)), w.say.CaseQuestion(i)
		if i == answers.MeetAt {
			at := w.say.Length(c.Given.Answers.Place.Value.At)
			said = append(said, w.say.Filled(words.CaseSaidPlace, "Letter", letter, "Question", question, "At", at))
		} else {
			answer := w.say.CaseSaid(i, c.Given.Answers.Code[i])
			said = append(said, w.say.Filled(words.CaseSaid, "Letter", letter, "Question", question, "Answer", answer))
		}
	}
	return said
}

// findings says what was found of a patient, and what is put on.
func (w *Writer) findings(c *cases.Case, s *sim.Setup) (said []string) {
	add := func(l words.Label, pairs ...string) { said = append(said, w.say.Filled(l, pairs...)) }
	f := &s.Findings.Value
	add(words.CaseOneBead, "Bead", w.theBead(c))
	add(words.CaseNearPoint, "Break", w.say.Length(f.NPCBreak), "Recovery", w.say.Length(f.NPCRecovery))
	add(words.CaseNose)
	base := s.Right.BaseOut + s.Left.BaseOut
	if base != 0 {
		add(words.CaseReserve, "Break", w.delta(float64(f.Near.BaseOutBreak)), "Recovery", w.delta(float64(f.Near.BaseOutRecovery)))
		add(words.CasePrism, "Prism", w.prism(float64(base)))
	}
	if lens := s.Right.Lens; lens != 0 {
		add(words.CaseLenses, "Lens", "+"+w.say.Number(float64(lens), 2)+" D", "Ratio", w.say.Number(f.ACA.Value, 0))
	}
	return said
}

// prism writes a horizontal prism with its base.
func (w *Writer) prism(p float64) string {
	l := words.CaseBaseOut
	if p < 0 {
		l = words.CaseBaseIn
	}
	return w.say.Filled(l, "Number", w.amount(math.Abs(p)))
}

func (w *Writer) delta(p float64) string { return w.amount(p) + " Δ" }

// amount writes a number that was given or drawn, with the decimals that it has: four at
// most.
func (w *Writer) amount(p float64) string {
	decimals := 0
	for scaled := p; decimals < 4 && math.Abs(scaled-math.Round(scaled)) > 1e-6; scaled = p * math.Pow10(decimals) {
		decimals++
	}
	return w.say.Number(p, decimals)
}

// alt says what a picture shows and no more: who does not see it has as much to go by.
func (w *Writer) alt(c *cases.Case, v *sim.View) string {
	if c.Given.Picture == cases.FromAbove {
		if !v.Crossing.At.OK || v.Crossing.At.Value > v.Now.String.Length {
			return w.say.Label(words.CaseApartAlt)
		}
		return w.say.Filled(words.CaseAboveAlt, "At", w.say.Length(10*math.Round(v.Crossing.At.Value/10)))
	}
	said := []string{w.say.Brief(v)}
	a := &c.Given.Answers
	if p := &v.Now.Suppression; p.Zone == sim.ZoneCentral {
		switch p.Eye {
		case sim.Right:
			said = append(said, w.say.Label(words.CaseGapLeft))
		case sim.Left:
			said = append(said, w.say.Label(words.CaseGapRight))
		}
	}
	for _, i := range []answers.Item{answers.NearerBeads, answers.FartherBeads, answers.RightCoverString, answers.LeftCoverString} {
		if a.Answered(i) {
			said = append(said, w.say.CaseQuestion(i)+" "+w.say.CaseSaid(i, a.Code[i])+".")
		}
	}
	return strings.Join(said, " ")
}

// Answer writes an answer.
func (w *Writer) Answer(c *cases.Case, i cases.Item, a cases.Answer) string {
	switch {
	case a.Code != "":
		return w.choice(c, i, a.Code)
	case i == cases.Deviation:
		return w.say.Deviation(sim.Prism(math.Round(a.Number*10) / 10))
	case i == cases.Power:
		return w.delta(math.Round(a.Number*10) / 10)
	}
	return w.say.Length(a.Number)
}

// Key says what is right of an item: the best answer, and the others that are right.
func (w *Writer) Key(c *cases.Case, e *cases.Entry) string {
	best := w.Answer(c, e.Item, e.Best)
	var also []string
	for _, code := range e.Codes {
		if code != e.Best.Code {
			also = append(also, w.choice(c, e.Item, code))
		}
	}
	if len(also) == 0 {
		return best
	}
	return best + " " + w.say.Filled(words.CaseAlsoRight, "Answers", strings.Join(also, "; "))
}

// Sources are where the rows are from that the cases rest on.
func (w *Writer) Sources(all []*cases.Case) (said []string) {
	for _, c := range all {
		row := c.Given.Story.Row()
		if c.Kind == cases.WhichGlass {
			row = "P6"
		}
		if row == "" {
			continue
		}
		if s := w.say.CaseSource(strings.ToLower(row)); !slices.Contains(said, s) {
			said = append(said, s)
		}
	}
	slices.Sort(said)
	return said
}
