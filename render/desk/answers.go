package desk

import (
	"reflect"
	"slices"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes/routine"
	"twincord/sim"
	"twincord/sim/answers"
)

// inquiry is what the page of answers knows: what was said, and which set-ups of the
// scene's own string, beads, patient and glass would give it.
type inquiry struct {
	given answers.Answers
	more  bool // the questions that are folded at first show

	scene sim.Setup // what is searched, with the eyes on what was asked for
	have  bool      // a scene is
	seen  int       // the document's changes that it was compared at
	can   []bool    // which items can be asked of it
	aimed sim.Angle // between the axes, with the eyes on what was asked for

	search     *answers.Search
	searching  bool // not all of its families are looked at
	explaining *answers.Explaining
	result     answers.Result
	done       bool // result is that of what was said

	cards, coming []*candidate // that show, and those that take their place
	models        []*sight
	steps         int // of work, in the last update
}

// answerSteps is how many steps of work an update does, of about 2 ms each at most.
const answerSteps = 2

// asks says whether the page of answers is seen.
func (d *Desk) asks() bool {
	return d.Page == answersPage && !d.folded() && !d.family && d.over == nil
}

// inquire goes on looking for the set-ups that would give the answers, a slice of the
// work in each update.
func (d *Desk) inquire() {
	q := &d.inquiry
	q.steps = 0
	if !d.asks() {
		return
	}
	d.ask()
	for q.have && q.working() && q.steps < answerSteps {
		q.steps++
		d.dirty = d.step() || d.dirty
	}
}

// ask takes the scene as it stands; a new search begins where it is another one, once
// that has come to rest.
func (d *Desk) ask() {
	q := &d.inquiry
	if q.have && q.seen == d.doc.Changes() {
		return
	}
	q.seen = d.doc.Changes()
	now := d.doc.Scene().Setup
	scene := now.OnTarget()
	if q.have && reflect.DeepEqual(q.scene, scene) {
		return
	}
	if q.have = !d.stale || q.search == nil; !q.have {
		if len(q.cards) > 0 {
			q.cards, d.dirty = nil, true
		}
		return
	}
	q.scene = scene.Clone()
	can := answers.Asked(&q.scene)
	q.can = can[:]
	for i, asked := range q.can {
		if !asked {
			q.given.Code[i] = answers.Open
		}
	}
	q.given.Place.OK = q.given.Place.OK && q.given.Place.Value.At <= q.scene.String.Length
	q.search, q.searching = answers.New(&q.scene), true
	q.model()
	q.explain()
	d.dirty = true
}

// explain begins to look for what would give the answers as they are now.
func (q *inquiry) explain() {
	q.explaining, q.done, q.coming = nil, false, nil
	q.result = answers.Result{}
	if q.answered() {
		q.explaining = q.search.Explain(q.given)
	} else {
		q.cards = nil
	}
}

// answered says whether anything was said.
func (q *inquiry) answered() bool {
	return slices.ContainsFunc(answers.Items(), q.given.Answered)
}

// working says whether there is work left.
func (q *inquiry) working() bool { return q.searching || q.explaining != nil && !q.done }

// step is one step of the work, and says whether the page looks different for it.
func (d *Desk) step() (changed bool) {
	q := &d.inquiry
	if q.explaining == nil || q.explaining.Waits() && q.searching {
		before := int(100 * q.search.Progress())
		q.searching = q.search.Step()
		return q.explaining != nil && int(100*q.search.Progress()) != before
	}
	if !q.explaining.Step() {
		q.result, q.done = q.explaining.Result(), true
		d.conclude()
		return true
	}
	if m, ok := q.explaining.Latest(); ok {
		d.deal(&m)
		if q.searching { // the search is long: what is found shows at once
			q.cards, changed = q.coming, true
		}
	}
	return changed
}

// nearestMost is how many set-ups are shown where none gives the answers.
const nearestMost = 3

// conclude shows the whole result.
func (d *Desk) conclude() {
	q := &d.inquiry
	q.coming = nil
	matches := q.result.Families
	if len(matches) == 0 {
		matches = q.result.Nearest
	}
	for i := range matches {
		d.deal(&matches[i])
	}
	if n := nearestMost; len(q.result.Families) == 0 && len(q.coming) > n {
		q.coming = q.coming[:n]
	}
	q.cards = q.coming
}

// say takes an answer to an item; the same one again takes it back.
func (d *Desk) sayAnswer(i answers.Item, c answers.Code) {
	q := &d.inquiry
	if q.given.Code[i] == c {
		c = answers.Open
	}
	q.given.Code[i] = c
	d.reexplain()
}

// sayPlace takes where the strings are said to cross, or takes it back.
func (d *Desk) sayPlace(p sim.Maybe[answers.Place]) {
	if d.inquiry.given.Place != p {
		d.inquiry.given.Place = p
		d.reexplain()
	}
}

// forgetAnswers takes all answers back.
func (d *Desk) forgetAnswers() {
	d.inquiry.given = answers.Answers{}
	d.reexplain()
}

func (d *Desk) reexplain() {
	if d.inquiry.search != nil {
		d.inquiry.explain()
	}
	d.dirty = true
}

// lit says whether an item is what should be asked next.
func (q *inquiry) lit(i answers.Item) bool { return q.done && q.result.Ask == sim.Some(i) }

// asked says whether an item can be asked of the scene.
func (q *inquiry) asked(i answers.Item) bool { return int(i) < len(q.can) && q.can[i] }

// askAt opens the page of answers for the set-up of a step of the routine, which becomes
// the scene.
func (d *Desk) askAt(step int) {
	steps := routine.Steps(d.doc.Scene()) // with the beads' own names, not as they are told
	at := steps[step].Setup.Settled()
	d.closeOverlay()
	d.becomes(&at)
	d.openAnswers()
}

// becomes makes a set-up the scene, in one step of the history.
func (d *Desk) becomes(s *sim.Setup) {
	d.edit("", func(now *sim.Setup) { *now = s.Clone() })
}

// openAnswers opens the page with the focus on its first question.
func (d *Desk) openAnswers() {
	d.turnTo(answersPage)
	ws := d.page.paged[answersPage]
	for _, i := range answers.Items() {
		if n := slices.IndexFunc(ws, func(w ui.Widget) bool { return w.Self().Name == "answer "+i.String() }); d.inquiry.mayAsk(i, d) {
			d.kit.SetFocus(ws[n])
			d.kit.Ring = true
			return
		}
	}
}

// mayAsk is asked also where no scene was looked at yet.
func (q *inquiry) mayAsk(i answers.Item, d *Desk) bool {
	if q.have {
		return q.asked(i)
	}
	s := d.doc.Scene().Setup
	return answers.Asked(&s)[i]
}

// sight is something seen, and what would be said of it.
type sight struct {
	view sim.View
	told answers.Told
}

// newSight looks at a set-up. It is told with the eyes at rest.
func newSight(s *sim.Setup) *sight {
	p := new(sight)
	now := s.Settled()
	p.view.Look(&now)
	p.told = answers.Tell(&p.view)
	return p
}

// snapshot is a small picture that is drawn once and kept while it stands where it is.
type snapshot struct {
	of    *sight
	frame display.Rect
	list  display.List
}

// draw draws the picture of something seen.
func (p *snapshot) draw(l *display.List, of *sight, frame display.Rect, field sim.Degrees) {
	if p.of != of || p.frame != frame {
		p.of, p.frame = of, frame
		p.list.Reset(l.W, l.H, display.Colour{})
		render.Patient(&p.list, frame, &of.view, render.PatientOptions{Field: field, NoInset: true})
	}
	l.Append(&p.list)
}

// closeUp is the field of the pictures of the choices: so many times the bead that is
// asked for, so that it can be told at their size.
func (q *inquiry) closeUp() sim.Degrees {
	s := &q.scene
	diameter := 16.
	if i := s.FixatedBead(); i != sim.NoBead {
		diameter = s.Beads[i].Diameter
	}
	at := render.FromEyes(s, s.LookPlace())
	return sim.Angle(closeUpBeads * diameter / max(at, 1)).Degrees()
}

const closeUpBeads = 3.8

// model looks at some set-ups of the scene, from which the choices have their pictures:
// the plainer ones first.
func (q *inquiry) model() {
	q.models = q.models[:0]
	add := func(change func(s *sim.Setup)) {
		s := q.scene
		change(&s)
		q.models = append(q.models, newSight(&s))
	}
	deviating := func(p sim.Prism) func(*sim.Setup) { return func(s *sim.Setup) { s.Posture.Deviation = p } }
	leavingOut := func(z sim.Zone) func(*sim.Setup) {
		return func(s *sim.Setup) { s.Suppression.Eye, s.Suppression.Zone = sim.Right, z }
	}
	add(func(*sim.Setup) {})
	q.aimed = q.models[0].view.Axes.Vergence
	apart := sim.Prism(-8) + -q.aimed.Prism()
	for _, change := range []func(*sim.Setup){
		leavingOut(sim.ZoneNearer), leavingOut(sim.ZoneBeyond),
		deviating(6), deviating(-6), deviating(3), deviating(-3), deviating(12), deviating(apart),
		func(s *sim.Setup) { s.Posture.Vertical = 3 },
		leavingOut(sim.ZoneAll),
		func(s *sim.Setup) { s.String.NearEnd.Z, s.String.AnchorHeight = 0, 0 },
	} {
		add(change)
	}
}

// modelOf is the first of them of which an item is told so; nil: none is.
func (q *inquiry) modelOf(i answers.Item, c answers.Code) *sight {
	if !slices.Contains(pictured[:], i) {
		return nil
	}
	for _, m := range q.models {
		if m.told.Code[i] == c && (i != answers.Higher || m.told.Code[answers.Bead] == answers.Two) {
			return m
		}
	}
	return nil
}

// pictured are the items whose choices the model has pictures of; those about a cover
// need two, one before and one after.
var pictured = [...]answers.Item{
	answers.Bead, answers.Higher, answers.Near, answers.Far, answers.Meet, answers.NearerBeads, answers.FartherBeads, answers.Wider,
}

// candidate is one of the set-ups that would give the answers.
type candidate struct {
	match  answers.Match
	either bool // of the right eye or of the left
	seen   *sight
	text   string
}

// deal adds the card of a family, or to that of the same family of the other eye.
func (d *Desk) deal(m *answers.Match) {
	q := &d.inquiry
	for _, c := range q.coming {
		if twins(&c.match, m) {
			c.either = true
			c.tell(d.say)
			return
		}
	}
	c := &candidate{match: *m}
	c.match.Example.Beads = slices.Clone(m.Example.Beads)
	c.seen = newSight(&c.match.Example)
	c.tell(d.say)
	q.coming = append(q.coming, c)
}

// tell says what a card says.
func (c *candidate) tell(say *words.Words) {
	if c.either {
		c.text = say.ExplanationEither(&c.match)
	} else {
		c.text = say.Explanation(&c.match)
	}
	if len(c.match.Against) > 0 {
		c.text += " " + say.AnswersContradicted(c.match.Against)
	}
}

// twins says whether two matches are the same of either eye.
func twins(a, b *answers.Match) bool {
	f := b.Family
	f.Eye = a.Eye
	if a.Family != f || a.Eye == b.Eye || len(a.Ranges) != len(b.Ranges) {
		return false
	}
	for i, r := range a.Ranges {
		const close = 0.15 // Δ, as finely as they are written
		if o := b.Ranges[i]; max(r.From-o.From, o.From-r.From, r.To-o.To, o.To-r.To) > close {
			return false
		}
	}
	return slices.Equal(a.Against, b.Against)
}
