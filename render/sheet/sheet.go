package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/pdf"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes/routine"
	"twincord/sim"
)

// Sheet is what a family takes home: an exercise with its set-up, when to stop, what to
// see at each place, what to ask, what other answers mean, a log to fill in, and the
// cautions. It holds nobody's name but that of who prescribed it: there is a line to write
// one on.
type Sheet struct {
	Kind  routine.Kind
	Title string // of the scene; empty: not shown
	Note  string // of the scene; empty: none
	Words *words.Words
	Paper pdf.Paper // of the PDF
	Steps []routine.Step
	// Prescribed says that a professional has prescribed the exercise: what a scene that
	// needs care (M20) is not written without.
	Prescribed bool
	Prescriber string // who did; empty: not said
	Maker      string // the program that makes it, and which version of it; empty: not said
}

// ErrNeedsCare is why a sheet is refused that nobody has prescribed.
var ErrNeedsCare = errors.New("this scene needs a professional's care (an eye is left out or turned, or the pictures are matched otherwise)")

// detail is how much is shown in pictures.
type detail struct {
	places int // that have a picture, at most
	others int // of the other answers: the first is the child's too
	first  int // of what may be seen at first
}

// details are from much to little: the first with which a sheet is no larger than it
// may be is taken, and the last whatever comes of it.
var details = [...]detail{{6, 10, 2}, {4, 10, 2}, {3, 10, 1}, {3, 1, 1}, {2, 1, 0}, {1, 0, 0}}

// How large a sheet may be, bytes.
const (
	MostPDF  = 400_000
	MostHTML = 600_000
)

// write writes the sheet in one of its forms, with as much detail as there may be.
func (s *Sheet) write(w io.Writer, most int, form func(b *bytes.Buffer, h *handout) error) error {
	if err := s.valid(); err != nil {
		return err
	}
	var b bytes.Buffer
	for _, d := range details {
		b.Reset()
		if err := form(&b, s.handout(d)); err != nil {
			return err
		}
		if b.Len() <= most {
			break
		}
	}
	if _, err := b.WriteTo(w); err != nil {
		return fmt.Errorf("writing the sheet: %w", err)
	}
	return nil
}

// handout is what both forms of a sheet say, in the order in which it is read.
type handout struct {
	title, lead string
	care        []string // nil where the scene needs none
	stop        []string
	usual       string // what is no reason to stop
	note        string
	legend      []string // of the drawing of the set-up, each with its letter
	letters     []string
	mark        marking
	do          []string
	questions   []string

	see     []string
	places  []place
	between string // the places without a picture; empty: none
	why     string
	first   []place // what may be seen at first, where that is not what is hoped for

	others   []other
	log      []string
	cautions []string
}

// place is a picture with its words.
type place struct {
	views       []*sim.View // two side by side: what is seen in turn
	title, text string
	alt         string
}

// other is another answer than the one hoped for.
type other struct {
	place
	heard, means, try, stop string
}

// needsCare says whether the scene needs care.
func (s *Sheet) needsCare() bool { return s.Steps[0].Setup.NeedsCare() }

func (s *Sheet) valid() error {
	if len(s.Steps) == 0 {
		return fmt.Errorf("writing the sheet: the exercise has no steps")
	}
	if !slices.Contains(routine.Kinds, s.Kind) {
		return fmt.Errorf("writing the sheet: the kind %q is not known; allowed: %s, %s, %s", s.Kind, routine.Walk, routine.Jumps, routine.BareString)
	}
	if s.needsCare() && !s.Prescribed {
		return fmt.Errorf("writing the sheet: %w", ErrNeedsCare)
	}
	return nil
}

// byKind is what is said otherwise for each kind of routine.
func byKind[T any](k routine.Kind, walk, jumps, bare T) T {
	switch k {
	case routine.Jumps:
		return jumps
	case routine.BareString:
		return bare
	}
	return walk
}

// handout puts the words together.
func (s *Sheet) handout(d detail) *handout {
	say := s.Words.Label
	goals := s.goals()
	h := &handout{
		title: say(byKind(s.Kind, words.SheetWalkTitle, words.SheetJumpsTitle, words.SheetBareTitle)),
		lead:  say(byKind(s.Kind, words.SheetWalkLead, words.SheetJumpsLead, words.SheetBareLead)),
		note:  s.note(),
	}
	if s.needsCare() {
		h.care = []string{say(words.CautionSuppression)}
		if s.Prescriber != "" {
			h.care = append(h.care, s.Words.Filled(words.PagePrescribed, "Name", s.Prescriber))
		}
	}
	h.stop = []string{
		say(byKind(s.Kind, words.SheetStopWalk, words.SheetStopJumps, words.SheetStopBare)),
		say(words.SheetStopStrain), say(words.SheetStopStays), say(words.SheetStopNew),
	}
	h.usual = say(words.SheetStopTwo)
	for _, q := range routine.Questions(s.Kind) {
		h.questions = append(h.questions, s.Words.Quoted(s.Words.Ask(string(q))))
	}
	h.legend, h.letters = s.legend()
	h.mark = s.marks(goals)
	h.do = s.do(goals, h.questions)
	h.look(s, goals, d.places)
	h.first = s.first(d.first)
	h.others = s.others(d.others)
	h.log = []string{say(words.SheetLogDone), say(words.SheetDate), say(words.SheetFillMinutes),
		say(byKind(s.Kind, words.SheetWalkLog, words.SheetJumpsLog, words.SheetBareLog)), say(words.SheetLogSeen)}
	h.cautions = s.Words.CautionsDue(&s.Steps[0].Expected, false)
	return h
}

// note is the scene's title and note, as what the clinic says.
func (s *Sheet) note() string {
	var said []string
	if s.Title != "" {
		said = append(said, s.Words.Filled(words.SheetScene, "Title", s.Title))
	}
	if note := strings.Join(strings.Fields(s.Note), " "); note != "" {
		said = append(said, note)
	}
	return strings.Join(said, " ")
}

// tellable is a length that is worth telling a family, mm.
const tellable = 10

// legend says what the drawing of the set-up shows, each with the letter that it has
// there.
func (s *Sheet) legend() (said, letters []string) {
	say, fill, length := s.Words.Label, s.Words.Filled, s.Words.Ruled
	str := &s.Steps[0].Setup.String
	tight := fill(words.SheetSetTight, "Length", length(str.Length))
	if str.Sag >= tellable {
		tight = fill(words.SheetSetSlack, "Length", length(str.Length), "Off", length(str.Sag))
	}
	tied := say(words.SheetSetLevel)
	switch off := str.AnchorHeight; {
	case off >= tellable:
		tied = fill(words.SheetSetHigher, "Off", length(off))
	case off <= -tellable:
		tied = fill(words.SheetSetLower, "Off", length(-off))
	}
	switch side := str.AnchorSide; {
	case side >= tellable:
		tied += " " + fill(words.SheetStringRight, "Off", length(side))
	case side <= -tellable:
		tied += " " + fill(words.SheetStringLeft, "Off", length(-side))
	}
	return []string{say(words.SheetSetHead), say(words.SheetSetNose), tight, tied, say(words.SheetSetLight), say(words.SheetSetAdult)},
		[]string{"a", "b", "c", "d", "e", "f"}
}

// marking says how the string is marked: along the ruler of a page that is printed, and
// on past its end, or read on a screen.
type marking struct{ ruler, screen, beads, check string }

// mostMarks is how many places are listed; more are told by their step.
const mostMarks = 13

// marks says how the string is marked, and which beads go where.
func (s *Sheet) marks(goals []goal) (said marking) {
	length := s.Words.Ruled
	at := make([]float64, len(goals))
	for i := range goals {
		at[i] = goals[i].step.At
	}
	slices.Sort(at)
	each := func(list, every words.Label) string {
		if len(at) <= mostMarks {
			return s.Words.Filled(list, "Places", length(at...))
		}
		return s.Words.Filled(every, "Step", length(at[1]-at[0]), "To", length(at[0]), "From", length(at[len(at)-1]))
	}
	said = marking{ruler: each(words.SheetMarkList, words.SheetMarkEvery), screen: each(words.SheetMarkScreen, words.SheetMarkScreenEvery),
		check: s.Words.Label(words.SheetMarkCheck)}
	if r := (Ruler{Inches: s.Words.Inches()}); at[len(at)-1] > r.Length() {
		end := r.lastMark()
		said.ruler += " " + s.Words.Filled(words.SheetMarkOn, "End", length(end), "Next", length(end+r.unit()))
	}
	var beads []string
	set := &s.Steps[0].Setup
	for _, i := range set.FarToNear() {
		b := &set.Beads[i]
		beads = append(beads, s.Words.Filled(words.SheetBead,
			"Bead", b.Name, "Surface", s.Words.Choice("surface", string(b.Surface)), "At", length(b.At)))
	}
	if len(beads) > 0 {
		said.beads = s.Words.Filled(words.SheetBeads, "Beads", strings.Join(beads, "; "))
	}
	return said
}

// do says what is done, in order.
func (s *Sheet) do(goals []goal, questions []string) []string {
	say, fill, length := s.Words.Label, s.Words.Filled, s.Words.Ruled
	first := &s.Steps[0]
	decimals := 0
	if first.Hold != math.Trunc(first.Hold) {
		decimals = 1
	}
	count := s.Words.Number(first.Hold, decimals)
	right := !slices.ContainsFunc(goals, func(g goal) bool { return !routine.Right(&g.view.Account) })
	last, step, lost := first, 0., false
	if len(s.Steps) > 1 {
		step = first.At - s.Steps[1].At
	}
	for i := range s.Steps {
		if at := s.Steps[i].At; at < last.At {
			last = &s.Steps[i]
		}
		lost = lost || s.Steps[i].LetGo
	}
	var said []string
	switch s.Kind {
	case routine.Jumps:
		var order []string
		for i := range s.Steps {
			if s.Steps[i].Round == 0 {
				order = append(order, s.Steps[i].Bead)
			}
		}
		said = append(said, fill(words.SheetDoJumpsBegin, "Order", strings.Join(order, ", ")))
	case routine.BareString:
		said = append(said, fill(words.SheetDoBareBegin, "From", length(first.At)))
	default:
		said = append(said, fill(words.SheetDoWalkBegin, "From", length(first.At)))
	}
	said = append(said, fill(words.SheetDoAsk, "Questions", strings.Join(questions, " ")))
	counted := words.SheetDoCountElse
	if right {
		said = append(said, say(byKind(s.Kind, words.SheetDoRight, words.SheetDoRight, words.SheetDoRightBare)))
		counted = byKind(s.Kind, words.SheetDoCount, words.SheetDoCount, words.SheetDoCountBare)
	} else {
		said = append(said, fill(words.SheetDoRightElse, "See", say(words.SheetSee)))
	}
	said = append(said, fill(counted, "Count", count))
	if s.Kind == routine.Jumps {
		said = append(said, say(words.SheetDoJumpsNext))
	} else if step > 0 {
		said = append(said, fill(byKind(s.Kind, words.SheetDoWalkStep, "", words.SheetDoBareStep), "Step", length(step), "To", length(last.At)))
		if lost {
			said = append(said, fill(byKind(s.Kind, words.SheetWalkBreak, "", words.SheetBareBreak), "At", length(last.At)))
		}
		if s.Steps[len(s.Steps)-1].Way == routine.Away {
			said = append(said, say(words.SheetBack))
		}
	}
	if rounds := s.Steps[len(s.Steps)-1].Round + 1; rounds > 1 {
		said = append(said, fill(words.SheetRounds, "Number", s.Words.Number(float64(rounds), 0)))
	}
	return said
}

// goal is a place with what is hoped for there.
type goal struct {
	step *routine.Step
	view *sim.View
}

// goals are the places of the exercise, each once, in the order in which they are come
// to, with what is hoped for at each.
func (s *Sheet) goals() (all []goal) {
	known := map[float64]bool{}
	for i := range s.Steps {
		step := &s.Steps[i]
		if known[step.At] {
			continue
		}
		known[step.At] = true
		v := new(sim.View)
		step.Goal(v)
		all = append(all, goal{step, v})
	}
	return all
}

// look makes the pictures of the places, and lists those that have none.
func (h *handout) look(s *Sheet, goals []goal, most int) {
	h.see = append(h.see, s.Words.Label(words.SheetSeeLead))
	if s.Kind == routine.BareString {
		h.see = append(h.see, s.Words.Label(words.SheetArrow))
	}
	if len(goals[0].view.Now.Beads) > 1 {
		h.see = append(h.see, s.Words.Label(words.SheetOthers))
	}
	chosen := s.chosen(goals, most)
	var between []string
	for i := range goals {
		if slices.Contains(chosen, i) {
			h.places = append(h.places, s.place(goals, i))
		} else {
			between = append(between, s.Words.PlaceBetween(i+1, s.Words.Ruled(goals[i].step.At)))
		}
	}
	if len(between) > 0 {
		h.between = s.Words.Filled(words.SheetBetween, "Places", strings.Join(between, "; "))
	}
	h.why = s.Words.Label(words.SheetWhy)
}

// chosen picks the places that have a picture, in order: the ends, those at which what
// is hoped for becomes another thing, and of the rest as even a choice as there is.
func (s *Sheet) chosen(goals []goal, most int) []int {
	last := len(goals) - 1
	most = min(most, len(goals))
	pick := []int{0}
	add := func(i int) {
		if len(pick) < most && !slices.Contains(pick, i) {
			pick = append(pick, i)
		}
	}
	add(last)
	for i := 1; i <= last; i++ {
		if s.Words.Family(goals[i].view) != s.Words.Family(goals[i-1].view) {
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

// place is the picture of a place, with what is hoped for there.
func (s *Sheet) place(goals []goal, i int) place {
	g := &goals[i]
	title := words.SheetPlaceOf
	if s.Kind == routine.Jumps {
		title = words.SheetPlaceBead
	}
	number := func(n int) string { return s.Words.Number(float64(n), 0) }
	p := place{
		views: []*sim.View{g.view}, text: s.Words.Family(g.view),
		title: s.Words.Filled(title, "Number", number(i+1), "Total", number(len(goals)), "Bead", g.step.Bead, "At", s.Words.Ruled(g.step.At)),
	}
	if like, ok := letter[g.view.Account.Pattern]; ok {
		p.text += " " + s.Words.Label(like)
	}
	p.alt = p.title + ". " + p.text
	return p
}

// letter says what the strings look like.
var letter = map[sim.Pattern]words.Label{sim.PatternA: words.SheetLikeA, sim.PatternX: words.SheetLikeX, sim.PatternV: words.SheetLikeV}

// mostFirst is how much is told of what may be seen at first.
const mostFirst = 2

// first is what the model expects of this set-up where that is not what is hoped for,
// with so many pictures.
func (s *Sheet) first(pictures int) (all []place) {
	known := map[any]bool{}
	var goal sim.View
	v := new(sim.View)
	for i := range s.Steps {
		step := &s.Steps[i]
		step.Goal(&goal)
		step.Look(v)
		if seen(&v.Account) == seen(&goal.Account) || known[seen(&v.Account)] {
			continue
		}
		known[seen(&v.Account)] = true
		sentence, title := s.Words.Family(v), s.Words.Ruled(step.At)
		if step.Way == routine.Away && s.Kind != routine.Jumps {
			title = s.Words.Filled(words.SheetPlaceBack, "At", title)
		}
		p := place{title: title, text: sentence, alt: title + ". " + sentence}
		if len(all) < pictures {
			p.views = []*sim.View{v}
			v = new(sim.View)
		}
		if all = append(all, p); len(all) == mostFirst {
			break
		}
	}
	return all
}

// seen is what of an account somebody who looks could tell.
func seen(a *sim.Account) any {
	return [...]any{a.Fixated, a.Near, a.Far, a.Meet, a.Higher, a.Missing, a.MissingWhere, a.Gap, a.Fainter, a.Clarity}
}

// others are the other answers: what is heard, what it means, what to try and when to
// stop.
func (s *Sheet) others(pictures int) (all []other) {
	for _, o := range routine.Others(s.Kind, s.Steps) {
		a := string(o.Answer)
		it := other{heard: s.Words.Heard(a), means: s.Words.Means(a), stop: s.Words.StopWhen(string(o.Stop()))}
		var tries []string
		for _, try := range o.Answer.Tries(s.Kind) {
			tries = append(tries, s.Words.Try(string(try)))
		}
		it.try = strings.Join(tries, " ")
		for i := range o.Shows {
			if len(all) >= pictures {
				break
			}
			v := new(sim.View)
			v.Look(&o.Shows[i])
			it.views = append(it.views, v)
		}
		it.alt = s.Words.Filled(words.SheetOtherAlt, "Heard", it.heard)
		all = append(all, it)
	}
	return all
}

// draw draws a picture of the sheet, w by h, as it is printed. On a bare string an
// arrow points at the place looked at.
func (p *place) draw(l *display.List, w, h float64) {
	l.Reset(w, h, theme.Paper.Wall)
	l.Title = p.alt
	each := w / float64(len(p.views))
	for i, v := range p.views {
		frame := display.Rect{X: float64(i) * each, W: each, H: h}
		render.Patient(l, frame, v, render.PatientOptions{Theme: &theme.Paper})
		if i > 0 {
			pen{l}.line(h/60, theme.Paper.Ground, display.Point{X: frame.X}, display.Point{X: frame.X, Y: h})
		}
		if v.Account.LookedAt != "" || v.Account.Asked != "" {
			continue
		}
		tip, size := render.FixationAt(frame), h/25
		from, to := display.Point{X: tip.X + 12*size, Y: tip.Y}, display.Point{X: tip.X + 3*size, Y: tip.Y}
		pen{l}.line(size/2.5, theme.Paper.Accent, from, to)
		pen{l}.arrowHead(size/2.5, 2*size, theme.Paper.Accent, from, to)
	}
}

// panel is one of the pictures that a child follows without words: a drawing, or a
// picture of the sheet with a mark on it.
type panel struct {
	alt  string
	draw func(l *display.List, w, h float64)
	of   *place // what is under the drawing; nil: nothing
}

// panels are the child's pictures, in order.
func (s *Sheet) panels(h *handout) []panel {
	say := s.Words.Label
	set := &s.Steps[0].Setup
	marked := func(mark func(p pen, at display.Point, size float64)) func(l *display.List, w, h float64) {
		return func(l *display.List, w, h float64) { mark(pen{l}, display.Point{X: w - 0.13*h, Y: 0.14 * h}, 0.1*h) }
	}
	all := []panel{
		{alt: say(words.SheetChildSit), draw: func(l *display.List, w, h float64) { drawSetup(l, w, h, set, letters{}) }},
		{alt: say(words.SheetChildLook), draw: marked(pen.tick), of: &h.places[0]},
		{alt: say(words.SheetChildCount), draw: func(l *display.List, w, h float64) { drawCount(l, w, h, int(math.Round(s.Steps[0].Hold))) }},
	}
	var places []float64
	for i := range s.Steps {
		if s.Steps[i].Round == 0 && (i == 0 || s.Steps[i].Way == s.Steps[1].Way) {
			places = append(places, s.Steps[i].At)
		}
	}
	if len(places) > 1 {
		all = append(all, panel{alt: say(words.SheetChildNearer), draw: func(l *display.List, w, h float64) { drawMove(l, w, h, set, places) }})
	}
	if len(h.others) > 0 && h.others[0].views != nil {
		all = append(all, panel{alt: say(words.SheetChildTwo), draw: marked(pen.cross), of: &h.others[0].place})
	}
	all = append(all, panel{alt: say(words.SheetChildStop), draw: drawStop})
	for i := range all {
		draw := all[i].draw
		all[i].draw = func(l *display.List, w, h float64) {
			draw(l, w, h)
			disc(l, display.Point{X: 0.1 * h, Y: 0.1 * h}, 0.07*h, strconv.Itoa(i+1))
		}
	}
	return all
}
