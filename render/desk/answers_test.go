package desk

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/scenes"
	"twincord/sim"
	"twincord/sim/answers"
)

// asking sits before the page of answers of a scene, of which all that would be seen is
// known already: it is searched once for all tests.
func asking(t *testing.T, scene string) *person {
	p := askingAnew(t, scene)
	p.search(scene)
	return p
}

// search has the page of answers know all that would be seen of a scene.
func (p *person) search(scene string) {
	q := &p.desk.inquiry
	if searches[scene] == nil {
		searches[scene] = answers.New(&q.scene).Run()
	}
	q.search, q.searching = searches[scene], false
}

var searches = map[string]*answers.Search{}

// askingAnew sits there while the search begins.
func askingAnew(t *testing.T, scene string) *person {
	p := sit(t, scene)
	p.write("a")
	require.Equal(t, answersPage, p.desk.Page)
	require.True(t, p.desk.inquiry.searching)
	return p
}

// wait lets the window find what it looks for; every update does a slice of it.
func (p *person) wait() {
	for i := 0; p.desk.inquiry.working() || p.desk.stale; i++ {
		require.Less(p.t, i, 2000, "it does not end")
		p.update()
		require.LessOrEqual(p.t, p.desk.inquiry.steps, answerSteps)
		require.LessOrEqual(p.t, p.desk.banding.steps, bandSteps)
	}
}

// row are the choices of an item.
func (p *person) row(i answers.Item) *choices {
	return p.widget("answer " + i.String()).(*choices)
}

// tap chooses an answer by the pointer.
func (p *person) tap(i answers.Item, c answers.Code) {
	r := p.row(i)
	p.desk.page.columns[answersPage].scroll.Reveal(r.Area.Y, r.Area.Y+r.Area.H)
	p.desk.dirty = true
	p.update()
	p.click(middle(r.at(slices.Index(i.Codes(), c))))
}

// gives says whether a set-up, told, agrees with all answers.
func gives(s *sim.Setup, a *answers.Answers) bool {
	var v sim.View
	now := s.Settled()
	v.Look(&now)
	told := answers.Tell(&v)
	return !slices.ContainsFunc(answers.Items(), func(i answers.Item) bool { return !told.Agrees(i, a) })
}

// Three taps give the set-ups that would be behind them, each of which gives the answers;
// one that is opened is one step of the history, and the answers stand.
func TestThreeTapsAndTheCard(t *testing.T) {
	p := asking(t, "middle-of-three")
	before := p.desk.doc.Scene().Setup.Clone()
	p.tap(answers.Bead, answers.Two)
	p.tap(answers.Near, answers.Double)
	p.tap(answers.Meet, answers.Nearer)
	p.wait()
	q := &p.desk.inquiry
	var kinds []answers.Kind
	for i, c := range q.cards {
		assert.True(t, gives(&c.match.Example, &q.given), "%s", c.text)
		assert.True(t, p.widget(fmt.Sprintf("card %d", i+1)).Self().Shown())
		kinds = append(kinds, c.match.Kind)
	}
	assert.Equal(t, []answers.Kind{answers.AnotherSpot, answers.Eso}, kinds[:2], "the plainest first")
	assert.Contains(t, q.cards[1].text, "eso")
	assert.True(t, slices.ContainsFunc(q.cards, func(c *candidate) bool { return c.either }), "left out in either eye is one card")
	matched := 0
	for _, c := range q.cards {
		matched++
		if c.either {
			matched++
		}
	}
	assert.Equal(t, len(q.result.Families), matched, "every family has its card")

	p.click(middle(p.widget("card 2").Self().Area))
	opened := p.desk.doc.Scene()
	require.NoError(t, opened.Check())
	assert.Greater(t, float64(opened.Setup.Posture.Deviation), 0.)
	assert.True(t, gives(&opened.Setup, &q.given))
	cards := q.cards
	p.wait()
	assert.Equal(t, cards, q.cards, "the same string: nothing is looked for anew")
	p.ctrl('z', false)
	assert.Equal(t, before, p.desk.doc.Scene().Setup)
	assert.False(t, p.desk.doc.CanUndo(), "one step")
}

// Every set-up of every card, whatever was answered, can be a scene.
func TestCardsAreScenes(t *testing.T) {
	for _, scene := range []string{"middle-of-three", "bare-string"} {
		p := asking(t, scene)
		for _, i := range []answers.Item{answers.Bead, answers.Near, answers.Far, answers.Meet, answers.Fainter} {
			for _, c := range i.Codes() {
				q := &p.desk.inquiry
				if !q.asked(i) {
					continue
				}
				p.desk.forgetAnswers()
				p.desk.sayAnswer(i, c)
				p.wait()
				for _, card := range q.cards {
					sc := *p.desk.doc.Scene()
					sc.Setup, sc.Routine.OK = card.match.Example, false
					assert.NoError(t, sc.Check(), "%s %v %v: %s", scene, i, c, card.text)
					assert.Equal(t, len(card.match.Against) == 0, gives(&card.match.Example, &q.given), "%s %v %v: %s", scene, i, c, card.text)
				}
				assert.LessOrEqual(t, len(q.cards), mostCards)
			}
		}
	}
}

// A card that is opened is one step of the history, apart from what was changed before
// and what is changed after it.
func TestACardIsOneStep(t *testing.T) {
	p := asking(t, "middle-of-three")
	d := p.desk
	deviate := func(e sim.Prism) { d.edit("", func(s *sim.Setup) { s.Posture.Deviation = e }) }
	deviate(3)
	card := p.setup().Clone()
	card.Posture.Deviation = 4
	d.becomes(&card)
	deviate(5)
	d.doc.Done()
	for _, want := range []sim.Prism{4, 3} {
		d.doc.Undo()
		assert.Equal(t, want, p.setup().Posture.Deviation)
	}
}

// Keys alone: one for each answer, Tab to the card, Enter.
func TestAnswersByKeys(t *testing.T) {
	p := asking(t, "middle-of-three")
	for _, key := range "2332" {
		p.write(string(key))
	}
	g := &p.desk.inquiry.given
	assert.Equal(t, [...]answers.Code{answers.Two, answers.Double, answers.Double, answers.Nearer},
		[...]answers.Code{g.Code[answers.Bead], g.Code[answers.Near], g.Code[answers.Far], g.Code[answers.Meet]})
	assert.Equal(t, answersPage, p.desk.Page, "numbers are answers here")
	p.wait()
	for range 40 {
		if ui.Is(p.desk.kit.Focus, p.widget("card 2")) {
			break
		}
		p.key(ui.KeyTab)
	}
	p.key(ui.KeyEnter)
	assert.Greater(t, float64(p.setup().Posture.Deviation), 0.)

	p.desk.kit.SetFocus(p.row(answers.Bead))
	p.key(ui.KeyRight)
	assert.Equal(t, answers.None, g.Code[answers.Bead])
	p.key(ui.KeyDelete)
	assert.Equal(t, answers.Open, g.Code[answers.Bead])
	p.key(ui.KeyDown)
	assert.True(t, ui.Is(p.desk.kit.Focus, p.row(answers.Near)))
	p.write("0")
	assert.Equal(t, answers.Open, g.Code[answers.Near])
}

// The same answer again takes it back, and one button takes back all.
func TestAnswersAreTakenBack(t *testing.T) {
	p := asking(t, "middle-of-three")
	q := &p.desk.inquiry
	p.tap(answers.Bead, answers.Two)
	p.tap(answers.Bead, answers.One)
	assert.Equal(t, answers.One, q.given.Code[answers.Bead], "another one takes its place")
	p.wait()
	require.NotEmpty(t, q.cards)
	p.tap(answers.Bead, answers.One)
	assert.False(t, q.answered())
	assert.Empty(t, q.cards)
	p.tap(answers.Bead, answers.One)
	p.tap(answers.Meet, answers.At)
	p.click(middle(p.widget("clear answers").Self().Area))
	assert.Equal(t, answers.Answers{}, q.given)
	p.wait()
	assert.Empty(t, q.cards)
	for _, same := range []answers.Inseparable{answers.PlaceOrEso, answers.WhichEye, answers.WhoFixes, answers.AnomalyOrStraight, answers.LeftOutOrUnnoticed, answers.LimitOrError} {
		assert.NotContains(t, spaced(drawnTexts(p.desk)), spaced(p.desk.say.Inseparable(same)), "of no answers nothing is to be told apart")
	}
	assert.True(t, p.widget("clear answers").Self().Off)
	assert.False(t, p.desk.doc.CanUndo(), "what was said is no part of the scene")
}

// The question that the result asks next is lit, and no other.
func TestNextQuestionIsLit(t *testing.T) {
	p := asking(t, "middle-of-three")
	q := &p.desk.inquiry
	q.more = true
	p.tap(answers.Bead, answers.One)
	p.tap(answers.Near, answers.Single)
	p.wait()
	require.True(t, q.result.Ask.OK)
	p.in.H = 3000
	p.update()
	var l display.List
	for _, i := range answers.Items() {
		if i == answers.MeetAt || !q.asked(i) {
			continue
		}
		l.Reset(p.in.W, p.in.H, display.Colour{})
		p.row(i).Draw(&p.desk.kit, &l)
		assert.Equal(t, i == q.result.Ask.Value, l.Texts[0].Colour == theme.Dark.Accent, l.Texts[0].String)
	}
	p.in.H = 12000
	p.update()
	p.desk.Draw(&l)
	said := texts(&l)
	assert.Contains(t, said, p.desk.say.AnswersNext(q.result.Ask))
	assert.Contains(t, said, p.desk.say.AnswersNote())
	for _, same := range q.result.Inseparable {
		assert.Contains(t, said, p.desk.say.Inseparable(same))
	}
}

// texts is all that a list says.
func texts(l *display.List) string {
	var all []string
	for i := range l.Texts {
		all = append(all, l.Texts[i].String)
	}
	return strings.Join(all, " ")
}

// Answers that contradict each other say so, with the nearest set-ups.
func TestAnswersThatDoNotGoTogether(t *testing.T) {
	p := asking(t, "middle-of-three")
	p.in.H = 3000
	p.update()
	p.tap(answers.Bead, answers.One)
	p.tap(answers.Near, answers.Zero)
	p.tap(answers.Far, answers.Zero)
	p.wait()
	q := &p.desk.inquiry
	require.Empty(t, q.result.Families)
	require.True(t, q.result.Conflict.OK)
	assert.LessOrEqual(t, len(q.cards), nearestMost)
	assert.NotEmpty(t, q.cards)
	var l display.List
	p.desk.Draw(&l)
	assert.Contains(t, texts(&l), p.desk.say.AnswersConflict(&q.given, q.result.Conflict.Value))
	for _, c := range q.cards {
		assert.NotEmpty(t, c.match.Against)
		assert.Contains(t, c.text, p.desk.say.AnswersContradicted(c.match.Against))
	}
}

// The mark is pulled, moved by arrows and taken back.
func TestPointingToTheCrossing(t *testing.T) {
	p := asking(t, "middle-of-three")
	q := &p.desk.inquiry
	o := p.widget("answer meet_at_mm").(*crossing)
	_, _, y := o.ends(&p.desk.kit)
	p.press(display.Point{X: o.x(&p.desk.kit, 200), Y: y})
	p.moveTo(display.Point{X: o.x(&p.desk.kit, 340), Y: y})
	p.lift()
	require.True(t, q.given.Place.OK)
	assert.InDelta(t, 340, q.given.Place.Value.At, 5)
	assert.Equal(t, answers.Around(q.given.Place.Value.At), q.given.Place.Value)
	at := q.given.Place.Value.At
	p.key(ui.KeyRight)
	assert.InDelta(t, at+10, q.given.Place.Value.At, 1e-9)
	p.in.Keys = []ui.Press{{Key: ui.KeyLeft, Shift: true}}
	p.update()
	assert.InDelta(t, at+9, q.given.Place.Value.At, 1e-9)
	p.wait()
	for _, c := range q.cards {
		assert.True(t, gives(&c.match.Example, &q.given), "%s", c.text)
	}
	p.click(display.Point{X: o.x(&p.desk.kit, at+9), Y: y})
	assert.False(t, q.given.Place.OK)
	assert.False(t, q.answered())
}

// Two beads, two and two strings, crossing at 30 to 38 cm: 2.65 to 5.86 Δ eso, worked in
// M18 for the default string.
func TestWorkedAnswers(t *testing.T) {
	p := asking(t, "middle-of-three")
	p.tap(answers.Bead, answers.Two)
	p.tap(answers.Near, answers.Double)
	p.tap(answers.Far, answers.Double)
	p.desk.sayPlace(sim.Some(answers.Place{At: 340, Within: 40}))
	p.wait()
	i := slices.IndexFunc(p.desk.inquiry.cards, func(c *candidate) bool { return c.match.Kind == answers.Eso })
	require.GreaterOrEqual(t, i, 0)
	r := p.desk.inquiry.cards[i].match.Ranges
	require.Len(t, r, 1)
	assert.InDelta(t, 2.65, r[0].From, 0.1)
	assert.InDelta(t, 5.86, r[0].To, 0.1)
}

// A new search begins only where the string, the beads, the patient, the glass or the
// bead that is asked for is another one, and once that has come to rest.
func TestNewSearchOnlyForAnotherString(t *testing.T) {
	p := asking(t, "middle-of-three")
	q := &p.desk.inquiry
	p.tap(answers.Bead, answers.Two)
	p.wait()
	search := q.search
	p.desk.setDeviation("", 4)
	p.wait()
	assert.Same(t, search, q.search, "another deviation")
	p.desk.edit("", func(s *sim.Setup) { s.Suppression.Eye = sim.Right })
	p.wait()
	assert.Same(t, search, q.search, "an eye left out")
	p.desk.edit("", func(s *sim.Setup) { s.Look.Asked, s.Look.Bead = s.Look.Bead, 0 })
	p.wait()
	assert.Same(t, search, q.search, "another one looked at than asked for")
	for name, change := range map[string]func(s *sim.Setup){
		"bead":    func(s *sim.Setup) { s.Beads[0].At += 5 },
		"patient": func(s *sim.Setup) { s.Patient.PD -= 2 },
		"glass":   func(s *sim.Setup) { s.Right.BaseOut += 2 },
		"asked":   func(s *sim.Setup) { s.Look.Asked = 2 },
		"string":  func(s *sim.Setup) { s.String.NearEnd.Z -= 3 },
	} {
		before := q.search
		p.desk.edit("", change)
		p.update()
		assert.Same(t, before, q.search, "%s: not before it rests", name)
		assert.Empty(t, q.cards, name)
		for i := 0; p.desk.stale; i++ {
			require.Less(t, i, 2000, name)
			p.update()
		}
		assert.NotSame(t, before, q.search, name)
	}
	assert.Equal(t, answers.Two, q.given.Code[answers.Bead], "what was said stands")
	assert.NotNil(t, q.explaining, "and is looked for")
}

// A window in which nothing is left to find asks for no frames.
func TestAnswersComeToRest(t *testing.T) {
	p := askingAnew(t, "bare-string") // the quickest to search
	p.tap(answers.Meet, answers.At)
	_, due := p.desk.Due()
	assert.True(t, due)
	p.wait()
	for range 20 {
		p.update()
	}
	_, due = p.desk.Due()
	assert.False(t, due)
	assert.False(t, p.update())
}

// Every answer that the model has a picture of shows one that is told so.
func TestPicturesOfAnswersAreTold(t *testing.T) {
	for _, scene := range []string{"middle-of-three", "bare-string"} {
		p := asking(t, scene)
		q, have := &p.desk.inquiry, 0
		for _, i := range pictured {
			if !q.asked(i) {
				continue
			}
			for _, c := range i.Codes() {
				m := q.modelOf(i, c)
				if m == nil {
					continue
				}
				have++
				var v sim.View
				now := m.view.Now
				v.Look(&now)
				told := answers.Tell(&v)
				assert.Equal(t, c, told.Code[i], "%s: %v", scene, i)
			}
		}
		assert.GreaterOrEqual(t, have, 8, scene)
	}
}

// Beside a routine the page opens with the scene of the step.
func TestAnotherAnswerOfARoutine(t *testing.T) {
	sc, _, err := scenes.Open("walk-of-ten")
	require.NoError(t, err)
	p := sitBefore(t, sc, "es", Settings{}, 1280, 800, 1)
	before := p.desk.doc.Scene().Setup.Clone()
	p.write("r")
	run := p.desk.over.(*practice)
	p.click(middle(p.widget("next").Self().Area))
	step := run.steps[run.at]
	p.click(middle(p.widget("ask").Self().Area))
	require.Nil(t, p.desk.over)
	assert.Equal(t, answersPage, p.desk.Page)
	assert.InDelta(t, step.At, p.desk.doc.Scene().Setup.LookPlace(), 1e-9)
	assert.Equal(t, before.Beads[0].Name, p.desk.doc.Scene().Setup.Beads[0].Name)
	require.NoError(t, p.desk.doc.Scene().Check())
	for i := 0; p.desk.stale; i++ {
		require.Less(t, i, 2000)
		p.update()
	}
	assert.InDelta(t, step.At, p.desk.inquiry.scene.LookPlace(), 1e-9)
	p.desk.doc.Undo()
	p.update()
	assert.Equal(t, before, p.desk.doc.Scene().Setup)
	assert.False(t, p.desk.doc.CanUndo())
}

// Of which of two beads is higher there are pictures with two beads in them alone.
func TestHigherIsShownOfTwoBeads(t *testing.T) {
	q := &asking(t, "middle-of-three").desk.inquiry
	shown := 0
	for _, c := range answers.Higher.Codes() {
		if m := q.modelOf(answers.Higher, c); m != nil {
			shown++
			assert.Equal(t, answers.Two, m.told.Code[answers.Bead])
		}
	}
	assert.Equal(t, len(answers.Higher.Codes()), shown)
	assert.Nil(t, q.modelOf(answers.Fainter, answers.Left), "a cover needs two pictures, before and after")
}

// A card is opened by the space bar too, and by no other letter.
func TestACardIsOpenedByTheSpaceBar(t *testing.T) {
	p := asking(t, "middle-of-three")
	p.tap(answers.Bead, answers.Two)
	p.wait()
	card := p.widget("card 2").(*placed)
	p.desk.kit.SetFocus(card)
	before := p.setup().Clone()
	assert.False(t, card.Typed(&p.desk.kit, 'x'))
	assert.False(t, card.Press(&p.desk.kit, ui.Press{Key: ui.KeyRight}))
	assert.Equal(t, before, *p.setup())
	want := card.card().match.Example.Clone()
	p.write(" ")
	assert.Equal(t, want, *p.setup())
}

// A place that was said is taken back where the string no longer reaches it.
func TestAPlaceThatTheStringDoesNotReach(t *testing.T) {
	for at, stays := range map[float64]bool{1000: true, 1001: false} {
		p := asking(t, "middle-of-three")
		p.desk.sayPlace(sim.Some(answers.Around(at)))
		p.desk.edit("", func(s *sim.Setup) { s.String.Length = 1000 })
		for p.update(); p.desk.stale; {
			p.update()
		}
		assert.Equal(t, stays, p.desk.inquiry.given.Place.OK, "%v", at)
	}
}

// A click on the mark takes it back, within a quarter of a finger of it; farther off it
// comes there.
func TestAClickOnTheMark(t *testing.T) {
	for off, back := range map[float64]bool{0: true, 9: true, -9: true, 13: false, -13: false} {
		p := asking(t, "middle-of-three")
		o := p.widget("answer meet_at_mm").(*crossing)
		_, _, y := o.ends(&p.desk.kit)
		p.desk.sayPlace(sim.Some(answers.Around(400)))
		p.click(display.Point{X: o.x(&p.desk.kit, 400) + off, Y: y})
		assert.Equal(t, !back, p.desk.inquiry.given.Place.OK, "%v", off)
	}
}

// Where a place is marked is the inverse of where it stands, at either end too.
func TestPlacesOfTheMark(t *testing.T) {
	p := asking(t, "middle-of-three")
	o, k := p.widget("answer meet_at_mm").(*crossing), &p.desk.kit
	from, to, _ := o.ends(k)
	length := p.setup().String.Length
	assert.InDelta(t, from, o.x(k, -10), 1e-9)
	assert.InDelta(t, to, o.x(k, length+10), 1e-9)
	assert.InDelta(t, o.Area.X+o.Area.W-to, from-o.Area.X, 1e-9, "as far from either side")
	for at := 0.; at <= length; at += 100 {
		assert.InDelta(t, at, o.place(k, o.x(k, at)), 1e-6)
	}
	assert.InDelta(t, 0, o.place(k, from-50), 1e-6)
	assert.InDelta(t, length, o.place(k, to+50), 1e-6)
}

// Letters that are no answers go on to what has a use for them.
func TestLettersAreNoAnswers(t *testing.T) {
	p := asking(t, "middle-of-three")
	row := p.row(answers.Bead)
	for c, taken := range map[rune]bool{'0': true, '1': true, '9': true, '/': false, ':': false, 'm': false} {
		assert.Equal(t, taken, row.Typed(&p.desk.kit, c), "%c", c)
	}
	p.desk.kit.SetFocus(p.row(answers.Near))
	p.key(ui.KeyUp)
	assert.True(t, ui.Is(p.desk.kit.Focus, row), "up to the first")
	p.key(ui.KeyUp)
	assert.True(t, ui.Is(p.desk.kit.Focus, row), "and no farther")
}

// What should be asked next and is folded away is lit at its heading.
func TestWhatIsFoldedIsLitAtItsHeading(t *testing.T) {
	p := asking(t, "middle-of-three")
	d, q := p.desk, &p.desk.inquiry
	foot := func() *moreAnswers {
		for _, b := range d.page.columns[answersPage].blocks[0].(*halves).left {
			if m, ok := b.(*moreAnswers); ok {
				return m
			}
		}
		return nil
	}
	d.sayAnswer(answers.Bead, answers.One)
	p.wait()
	for i := answers.Bead; int(i) < len(answers.Items()); i++ {
		for _, folded := range []bool{true, false} {
			q.more, q.done, q.result.Ask = !folded, true, sim.Some(i)
			d.dirty = true
			p.update()
			under := i == answers.Higher || i > answers.MeetAt
			assert.Equal(t, under && folded, foot().lit, "%s, folded %v", i, folded)
		}
	}
	q.more, q.result.Ask = false, sim.Some(answers.Fainter)
	d.dirty = true
	p.update()
	var with, without display.List
	d.Draw(&with)
	foot().lit = false
	d.Draw(&without)
	require.Len(t, with.Paths, len(without.Paths)+1)
	var l display.List
	foot().lit = true
	l.Reset(1280, 800, display.Colour{})
	foot().draw(d, &l)
	bar, a := box(l.Paths[len(l.Paths)-1].Outline), foot().fold.Area
	assert.True(t, within(bar, a, 0), "%v in %v", bar, a)
	assert.InDelta(t, middle(a).Y, middle(bar).Y, 1e-6)
	assert.Equal(t, a.X, bar.X)
	assert.InDelta(t, 3, bar.W, 1e-6)
	assert.Greater(t, bar.H, a.H/2)
}

// However narrow a range is, it is seen on its card, where it is.
func TestANarrowRangeIsSeen(t *testing.T) {
	p := asking(t, "middle-of-three")
	p.tap(answers.Bead, answers.Two)
	p.wait()
	card := p.widget("card 2").(*placed)
	c := card.card()
	require.Equal(t, deviationKey, c.match.Ranges[0].Key)
	k := &p.desk.kit
	bar := func(from, to float64) display.Rect {
		c.match.Ranges[0].From, c.match.Ranges[0].To = from, to
		var l display.List
		l.Reset(1280, 800, display.Colour{})
		card.drawRanges(k, &l)
		for i := range l.Paths {
			if b := box(l.Paths[i].Outline); l.Paths[i].Paint.From == k.Theme.Accent {
				return b
			}
		}
		return display.Rect{}
	}
	wide, narrow := bar(2, 6), bar(4, 4)
	assert.InDelta(t, 4, narrow.W, 1e-6)
	assert.True(t, narrow.X > wide.X && narrow.X+narrow.W < wide.X+wide.W)
	assert.Greater(t, wide.W, 8.)
	assert.InDelta(t, middle(card.bar).Y, middle(wide).Y, 1e-6)
}
