package sheet

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/pdf"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes/routine"
	"twincord/sim"
)

// Sheet is what a family takes home: an exercise with its set-up, what to see at each
// place, what to ask, what other answers mean, a log to fill in, and the cautions. It
// holds nobody's name: there is a line to write one on.
type Sheet struct {
	Kind  routine.Kind
	Title string // of the scene; empty: not shown
	Note  string // of the scene; empty: none
	Words *words.Words
	Paper pdf.Paper // of the PDF
	Steps []SheetStep
}

// SheetStep is one step of the exercise.
type SheetStep struct {
	View  *sim.View // what the model expects at it, settled
	Back  bool      // on the way back
	Round int       // from 0
	Hold  float64   // s
	Lost  bool      // here the model expects the hold to be lost
}

// at is the place of the step along the string, mm.
func (s *SheetStep) at() float64 { return s.View.Target.At }

// handout is what both forms of a sheet say, in the order in which it is read.
type handout struct {
	title, lead, source string
	ready, ask, how     []string
	see                 []string
	places              []place
	film                []frame
	some                bool // not every place is among them
	expected            []string
	answers             []place
	tries, log          []string
}

// place is a picture with its words.
type place struct {
	view        *sim.View
	title, text string
	alt         string
}

// frame is a place of the film and how long it stays, s.
type frame struct {
	place   int
	seconds float64
}

// WritePDF writes the sheet as one or two pages. Of a sheet that does not fit nothing is
// written.
func (s *Sheet) WritePDF(w io.Writer) error {
	if err := s.valid(); err != nil {
		return err
	}
	// As many pictures, as large a type and as many lines of the log as two pages hold.
	for _, pictures := range [...]int{18, 12, 6, 3} {
		h := s.handout(pictures)
		places, answers := steps(h.places), steps(h.answers)
		for _, scale := range [...]float64{1, 0.96, 0.92, 0.88} {
			for _, lines := range [...]int{10, 8, 6, 5} {
				d := s.document(h, places, answers, lines)
				d.Scale = scale
				pages, err := d.Pages()
				if err != nil {
					return err
				}
				if pages <= 2 {
					return d.Write(w)
				}
			}
		}
	}
	return fmt.Errorf("writing the sheet: its words do not fit on two pages; a shorter title or note would")
}

func (s *Sheet) valid() error {
	if len(s.Steps) == 0 {
		return fmt.Errorf("writing the sheet: the exercise has no steps")
	}
	if !slices.Contains(routine.Kinds, s.Kind) {
		return fmt.Errorf("writing the sheet: the kind %q is not known; allowed: %s, %s, %s", s.Kind, routine.Walk, routine.Jumps, routine.BareString)
	}
	return nil
}

// handout puts the words together, with at most so many pictures of places.
func (s *Sheet) handout(pictures int) *handout {
	say := s.Words.Label
	kind := map[routine.Kind][2]words.Label{
		routine.Walk:       {words.SheetWalkTitle, words.SheetWalkLead},
		routine.Jumps:      {words.SheetJumpsTitle, words.SheetJumpsLead},
		routine.BareString: {words.SheetBareTitle, words.SheetBareLead},
	}[s.Kind]
	h := &handout{title: say(kind[0]), lead: say(kind[1])}
	var source []string
	if s.Title != "" {
		source = append(source, s.Words.Filled(words.SheetScene, "Title", s.Title))
	}
	if note := strings.Join(strings.Fields(s.Note), " "); note != "" {
		source = append(source, note)
	}
	h.source = strings.Join(source, " ")
	h.ready, h.ask, h.how = s.ready(), s.ask(), s.how()
	s.look(h, pictures)
	h.expected = s.expected()
	h.answers = s.answers()
	h.tries = s.tries()
	nearest := map[routine.Kind]words.Label{routine.Walk: words.SheetWalkLog, routine.Jumps: words.SheetJumpsLog, routine.BareString: words.SheetBareLog}
	h.log = []string{say(words.SheetDate), say(nearest[s.Kind]), say(words.SheetLogCount), say(words.SheetLogSeen)}
	return h
}

// ready says how the string is put up and where the beads are.
func (s *Sheet) ready() []string {
	set := &s.Steps[0].View.Now
	length := s.Words.Length
	str := &set.String
	how, off := words.SheetString, str.AnchorHeight
	switch {
	case off >= tellable:
		how = words.SheetStringHigher
	case off <= -tellable:
		how = words.SheetStringLower
	}
	said := []string{s.Words.Filled(how, "Length", length(str.Length), "Off", length(math.Abs(off)))}
	switch side := str.AnchorSide; {
	case side >= tellable:
		said = append(said, s.Words.Filled(words.SheetStringRight, "Off", length(side)))
	case side <= -tellable:
		said = append(said, s.Words.Filled(words.SheetStringLeft, "Off", length(-side)))
	}
	var beads []string
	for _, i := range set.FarToNear() {
		b := &set.Beads[i]
		beads = append(beads, s.Words.Filled(words.SheetBead,
			"Bead", b.Name, "Surface", s.Words.Choice("surface", string(b.Surface)), "At", length(b.At)))
	}
	if len(beads) > 0 {
		said = append(said, s.Words.Filled(words.SheetBeads, "Beads", strings.Join(beads, "; ")))
	}
	return append(said, s.Words.Label(words.SheetAlong))
}

// tellable is a length that is worth telling a family, mm.
const tellable = 10

// ask is what to ask at every place.
func (s *Sheet) ask() []string {
	var said []string
	for _, q := range routine.Questions(s.Kind) {
		said = append(said, s.Words.Ask(string(q)))
	}
	return said
}

// how says what is done, in order.
func (s *Sheet) how() []string {
	say, fill, length := s.Words.Label, s.Words.Filled, s.Words.Length
	first := &s.Steps[0]
	decimals := 0
	if first.Hold != math.Trunc(first.Hold) {
		decimals = 1
	}
	count := s.Words.Number(first.Hold, decimals)
	there, back := s.ways()
	last := there[len(there)-1]
	step := 0.
	if len(there) > 1 {
		step = first.at() - there[1].at()
	}
	var said []string
	switch s.Kind {
	case routine.Jumps:
		var order []string
		for i := range s.Steps {
			if s.Steps[i].Round == 0 {
				order = append(order, s.Steps[i].View.Account.LookedAt)
			}
		}
		said = append(said, fill(words.SheetJumpsOrder, "Order", strings.Join(order, ", ")),
			fill(words.SheetHold, "Count", count))
	case routine.BareString:
		said = append(said, fill(words.SheetBareBegin, "From", length(first.at())),
			fill(words.SheetBareHold, "Count", count))
		if step > 0 {
			said = append(said, fill(words.SheetBareStep, "Step", length(step), "To", length(last.at())))
		}
		if last.Lost {
			said = append(said, fill(words.SheetBareBreak, "At", length(last.at())))
		}
	default:
		said = append(said, fill(words.SheetWalkBegin, "From", length(first.at())),
			fill(words.SheetHold, "Count", count))
		if step > 0 {
			said = append(said, fill(words.SheetWalkStep, "Step", length(step), "To", length(last.at())))
		}
		if last.Lost {
			said = append(said, fill(words.SheetWalkBreak, "At", length(last.at())))
		}
	}
	if s.Kind != routine.Jumps && len(back) > 0 {
		said = append(said, say(words.SheetBack))
	}
	if rounds := s.Steps[len(s.Steps)-1].Round + 1; rounds > 1 {
		said = append(said, fill(words.SheetRounds, "Number", s.Words.Number(float64(rounds), 0)))
	}
	stop := map[routine.Kind]words.Label{routine.Walk: words.SheetWalkStop, routine.Jumps: words.SheetJumpsStop, routine.BareString: words.SheetBareStop}
	said = append(said, say(stop[s.Kind]), say(words.SheetLetters))
	if len(first.View.Now.Beads) > 1 {
		said = append(said, say(words.SheetOthers))
	}
	return said
}

// ways are the steps of the first round on the way there, and on the way back.
func (s *Sheet) ways() (there, back []*SheetStep) {
	for i := range s.Steps {
		switch step := &s.Steps[i]; {
		case step.Round > 0:
		case step.Back:
			back = append(back, step)
		default:
			there = append(there, step)
		}
	}
	return there, back
}

// sight is what tells one picture of a place from another.
type sight struct {
	at      float64
	account sim.Account
}

func (s *SheetStep) sight() sight { return sight{s.at(), s.View.Account} }

// distinct are the steps that have a picture of their own.
func (s *Sheet) distinct() (all []*SheetStep) {
	known := map[sight]bool{}
	for i := range s.Steps {
		if step := &s.Steps[i]; !known[step.sight()] {
			known[step.sight()] = true
			all = append(all, step)
		}
	}
	return all
}

// look makes the pictures of the places, each once, and the film that goes through
// them.
func (s *Sheet) look(h *handout, most int) {
	h.see = append(h.see, s.Words.Label(words.SheetSeeLead))
	if s.Kind == routine.BareString {
		h.see = append(h.see, s.Words.Label(words.SheetArrow))
	}
	all := s.distinct()
	shown := map[sight]int{}
	for k, i := range s.chosen(all, most) {
		shown[all[i].sight()] = k
		h.places = append(h.places, s.place(all[i]))
	}
	h.some = len(h.places) < len(all)
	for i := range s.Steps {
		step := &s.Steps[i]
		if k, ok := shown[step.sight()]; ok && step.Round == 0 {
			h.film = append(h.film, frame{k, min(max(step.Hold/filmShorter, leastStay), mostStay)})
		}
	}
}

// chosen picks steps to be shown, at most so many, in order: the ends, those at which
// the answer becomes another one, and of the rest as even a choice as there is.
func (s *Sheet) chosen(all []*SheetStep, most int) []int {
	last := len(all) - 1
	most = min(most, len(all))
	pick := []int{0}
	add := func(i int) {
		if len(pick) < most && !slices.Contains(pick, i) {
			pick = append(pick, i)
		}
	}
	add(last)
	for i := 1; i <= last; i++ {
		if s.Words.Family(all[i].View) != s.Words.Family(all[i-1].View) {
			add(i)
		}
	}
	for n := most; len(pick) < most; n++ {
		for k := range n {
			add(int(math.Round(float64(k*last) / float64(n-1))))
		}
	}
	slices.Sort(pick)
	return pick
}

// How long a place stays in the film: less than at home.
const (
	filmShorter = 3
	leastStay   = 1.2 // s
	mostStay    = 2.
)

func (s *Sheet) place(step *SheetStep) place {
	at := s.Words.Length(step.at())
	p := place{view: step.View, title: at, alt: s.Words.Filled(words.SheetAt, "At", at, "Sentence", s.Words.Family(step.View))}
	switch {
	case s.Kind == routine.Jumps:
		p.title = s.Words.Filled(words.SheetPlace, "Bead", step.View.Account.LookedAt, "At", at)
	case step.Back: // it looks otherwise than on the way there
		p.title = s.Words.Filled(words.SheetPlaceBack, "At", at)
	}
	return p
}

// expected are the answers that the model expects, those of places in a row that have
// the same one together.
func (s *Sheet) expected() (said []string) {
	if s.Kind == routine.Jumps {
		return s.ofJumps()
	}
	there, back := s.ways()
	said = s.runs(there, words.SheetAt, words.SheetFromTo)
	same := map[sight]bool{}
	for _, step := range there {
		same[step.sight()] = true
	}
	for _, step := range back {
		if !same[step.sight()] {
			return append(said, s.runs(back, words.SheetBackAt, words.SheetBackFromTo)...)
		}
	}
	if len(back) > 0 {
		said = append(said, s.Words.Label(words.SheetBackSame))
	}
	return said
}

// ofJumps are the expected answers of places that are in no row.
func (s *Sheet) ofJumps() (said []string) {
	places := map[string][]string{}
	var sentences []string
	for _, step := range s.distinct() {
		sentence := s.Words.Family(step.View)
		if places[sentence] == nil {
			sentences = append(sentences, sentence)
		}
		places[sentence] = append(places[sentence], s.Words.Length(step.at()))
	}
	for _, sentence := range sentences {
		said = append(said, s.Words.Filled(words.SheetAt, "At", strings.Join(places[sentence], ", "), "Sentence", sentence))
	}
	return said
}

func (s *Sheet) runs(steps []*SheetStep, at, fromTo words.Label) (said []string) {
	length := s.Words.Length
	for len(steps) > 0 {
		sentence, n := s.Words.Family(steps[0].View), 1
		for n < len(steps) && s.Words.Family(steps[n].View) == sentence {
			n++
		}
		from, to := length(steps[0].at()), length(steps[n-1].at())
		if n == 1 {
			said = append(said, s.Words.Filled(at, "At", from, "Sentence", sentence))
		} else {
			said = append(said, s.Words.Filled(fromTo, "From", from, "To", to, "Sentence", sentence))
		}
		steps = steps[n:]
	}
	return said
}

// answers are pictures of other answers than the expected one, at a place in the
// middle of the exercise.
func (s *Sheet) answers() (all []place) {
	there, _ := s.ways()
	set := &there[len(there)/2].View.Now
	for _, a := range routine.Answers(s.Kind) {
		v, shows := new(sim.View), a.Shows(set)
		if len(shows) == 0 {
			continue
		}
		v.Look(&shows[0])
		heard, means := s.Words.OtherAnswer(string(a))
		all = append(all, place{view: v, title: heard, text: means, alt: s.Words.Family(v)})
	}
	return all
}

// tries are what to try when another answer is given.
func (s *Sheet) tries() []string {
	var said []string
	for _, try := range routine.Tries(s.Kind) {
		said = append(said, s.Words.Try(string(try)))
	}
	return said
}

// draw draws a picture of the sheet, w by h, as it is printed. On a bare string an
// arrow points at the place looked at.
func (p *place) draw(l *display.List, w, h float64) {
	l.Reset(w, h, theme.Paper.Wall)
	l.Title = p.alt
	render.Patient(l, display.Rect{W: w, H: h}, p.view, render.PatientOptions{Theme: &theme.Paper})
	if p.view.Account.LookedAt != "" {
		return
	}
	tip := render.FixationAt(display.Rect{W: w, H: h})
	size := h / 25
	l.MoveTo(tip.X+12*size, tip.Y)
	l.LineTo(tip.X+3*size, tip.Y)
	l.MoveTo(tip.X+5*size, tip.Y-size)
	l.LineTo(tip.X+3*size, tip.Y)
	l.LineTo(tip.X+5*size, tip.Y+size)
	l.Stroke(size/2.5, display.Paint{From: theme.Paper.Accent})
}
