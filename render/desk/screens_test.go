package desk

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/cases"
	"twincord/scenes/document"
	"twincord/scenes/routine"
	"twincord/sim"
	"twincord/sim/answers"
)

// A screen is something that the window shows, and how one comes to it. Laws hold on
// every one, in all rooms in turn; the record has it in one.
type screen struct {
	name  string
	scene string                     // empty: middle-of-three
	with  func(*Options)             // nil: as usual
	open  func(p *person)            // nil: it is there at once
	part  func(d *Desk) display.Rect // what of the page the record has
	at    room                       // where the record has it
}

// Parts of the page.
func wholePage(d *Desk) display.Rect  { return display.Rect{W: d.in.W, H: d.in.H} }
func theColumn(d *Desk) display.Rect  { return d.layout.column }
func thePicture(d *Desk) display.Rect { return d.layout.picture }
func theHint(d *Desk) display.Rect    { return d.layout.hint }
func theBar(d *Desk) display.Rect     { return d.layout.bar }
func theOver(d *Desk) display.Rect    { return display.Rect{W: d.in.W, H: d.in.H - d.layout.hint.H} }
func thePanel(d *Desk) display.Rect   { return d.layout.over }

// Rooms of the record. Few have a pixel to a unit: what forgets its unit is seen.
var (
	usual   = room{[3]float64{1600, 1000, 1.25}, "en", false}
	usualES = room{[3]float64{1280, 800, 1}, "es", false}
	small   = room{[3]float64{1200, 900, 1.5}, "es", false}
	upright = room{[3]float64{1000, 1375, 1.25}, "en", true}
	large   = room{[3]float64{1920, 1080, 1}, "es", false}
	high    = room{[3]float64{1280, 2400, 1}, "en", false}
	square  = room{[3]float64{2400, 2400, 1}, "es", false}
)

// screens are all of them.
func screens() []screen {
	return []screen{
		{"views", "", nil, nil, wholePage, usual},
		{"set-up", "walk-with-findings", nil, func(p *person) { p.desk.Groups = allGroups; p.desk.turnTo(setupPage) }, theColumn, square},
		{"numbers", "walk-with-findings", nil, func(p *person) { p.desk.turnTo(numbersPage) }, wholePage, large},
		{"answers", "", nil, answered, theColumn, high},
		{"answers, more of them folded", "", nil, answeredAndFolded, theColumn, usual},
		{"answers that contradict each other", "", nil, contradicted, theColumn, upright},
		{"folded", "", nil, func(p *person) { p.desk.foldColumn(); p.desk.setDeviation("", -6) }, wholePage, small},
		{"beside each other", "too-far-doubled", nil, func(p *person) { p.write("c"); p.write("m") }, thePicture, usualES},
		{"a bare string", "bare-string", nil, func(p *person) { p.tabTo("bands") }, theBar, usualES},
		{"pulled", "receding-near-point", nil, func(p *person) { p.press(middle(p.widget("meeting").Self().Area)) }, theBar, upright},
		{"a bead by keys", "", nil, func(p *person) { p.tabTo("bead sky"); p.in.Pointer = middle(p.widget("target").Self().Area) }, theBar, usual},
		{"pointed at", "", nil, pointedAt, wholePage, usual},
		{"news", "", nil, func(p *person) {
			p.desk.wrote([]string{"The walk in ten steps, for the Invented family.pdf", "The walk in ten steps, for the Invented family.html"})
		}, thePicture, usual},
		{"sent", "walk-of-ten", sent, nil, wholePage, small},
		{"first start", "", func(o *Options) { o.First, o.Settings.Read = true, false }, nil, wholePage, upright},
		{"not as typed", "", nil, notAsTyped, theHint, usualES},
		{"family", "eye-higher", nil, func(p *person) { p.write("m"); p.write("f") }, wholePage, large},
		{"gallery", "", nil, (*person).gallery, theOver, usual},
		{"nothing found", "", nil, func(p *person) { p.desk.openGallery(); p.write("xyz") }, theOver, small},
		{"keys", "", nil, func(p *person) { p.desk.openKeys() }, theOver, usualES},
		{"about", "", nil, func(p *person) { p.desk.openAbout() }, theOver, small},
		{"card", "", nil, func(p *person) { p.desk.openCard() }, theOver, usual},
		{"name", "", nil, func(p *person) { p.desk.askName(changed) }, thePanel, usual},
		{"film", "", nil, func(p *person) { p.desk.film(); p.desk.over.(*filmPanel).job = &filming{done: 10, of: 40} }, thePanel, large},
		{"care", "", nil, func(p *person) { p.desk.askPrescriber(nil) }, thePanel, small},
		{"practice", "walk-with-findings", nil, func(p *person) { p.practice(); p.desk.over.(*practice).count = 2 }, theOver, upright},
		{"another answer", "walk-of-ten", nil, func(p *person) { p.practice().hear(routine.NothingBehind) }, theOver, usualES},
		{"end of practice", "jumps-of-three", nil, func(p *person) { r := p.practice(); r.begin(len(r.steps)) }, theOver, usual},
		{"cases", "", nil, func(p *person) { p.caseOf(cases.SeeToEyes).checked(); p.desk.casework.choose() }, theOver, usual},
		{"case asked", "", nil, func(p *person) { p.caseOf(cases.SeeToEyes) }, theOver, large},
		{"case in words", "", nil, func(p *person) { l := p.caseOf(cases.WhichEye); l.tabTo(itemName(l.c.of.Asked[0])) }, theOver, usual},
		{"case judged", "", nil, func(p *person) { p.caseOf(cases.SeeToEyes).wrong().checked() }, theOver, upright},
		{"stop judged", "", nil, func(p *person) { p.caseOf(cases.Stop).checked() }, theOver, usual},
		{"end of cases", "", nil, func(p *person) { l := p.caseOf(cases.WhichGlass); l.checked(); l.c.next() }, theOver, usualES},
	}
}

// sit comes to a screen in a room.
func (s *screen) sit(t *testing.T, in room) *person {
	t.Helper()
	name := s.scene
	if name == "" {
		name = "middle-of-three"
	}
	sc, id, err := scenes.Open(name)
	require.NoError(t, err)
	say, err := words.For(in.language)
	require.NoError(t, err)
	p, _ := shelved(t, func(o *Options) {
		o.Document, o.Words = document.New(sc, "").From(id), say
		o.Settings = Settings{Large: in.large, Read: true}
		o.Show = func(string, bool) error { return nil }
		o.Film = func(string, *scenes.Scene, scenes.Identity, *words.Words, FilmSize, FilmKind) FilmJob { return nil }
		o.FilmKinds = func(bool) []FilmKind { return []FilmKind{{"MP4", ".mp4"}, {"GIF", ".gif"}} }
		if s.with != nil {
			s.with(o)
		}
	})
	p.in.Pointer = display.Point{X: -1, Y: -1}
	p.in.W, p.in.H, p.in.Scale = in.size[0], in.size[1], in.size[2]
	p.rest()
	if s.open != nil {
		s.open(p)
	}
	p.desk.dirty = true
	p.rest()
	return p
}

// rest lets the desk finish what is due.
func (p *person) rest() {
	p.update()
	for i := 0; p.desk.stale || p.desk.banding.work != nil && p.desk.over == nil || p.desk.asks() && p.desk.inquiry.working(); i++ {
		require.Less(p.t, i, 2000, "it does not end")
		p.update()
	}
}

// answered opens the page of answers and gives some.
func answered(p *person) {
	p.write("a")
	p.search("middle-of-three")
	d := p.desk
	d.inquiry.more = true
	d.sayAnswer(answers.Bead, answers.Two)
	d.sayAnswer(answers.Near, answers.Double)
	d.sayPlace(sim.Some(answers.Around(340)))
}

// answeredAndFolded folds the other questions, and points to the mark.
func answeredAndFolded(p *person) {
	answered(p)
	p.desk.inquiry.more, p.desk.dirty = false, true
	p.update()
	p.moveTo(middle(p.widget("answer meet_at_mm").Self().Area))
}

// sent has a scene come from somebody else, with a long note.
func sent(o *Options) {
	o.Outside = true
	sc := *o.Document.Scene()
	sc.Note = strings.Repeat(sc.Note+" ", 4)
	o.Document = document.New(&sc, "")
}

// pointedAt has the pointer on a bead of the bar, one of whose colour the ground hides.
func pointedAt(p *person) {
	p.desk.edit("", func(s *sim.Setup) { s.Beads[2].Colour = sim.RGB{R: 0x20, G: 0x20, B: 0x20} })
	p.moveTo(middle(p.widget("bead plum").Self().Area))
}

// contradicted gives answers that no set-up would give, by keys.
func contradicted(p *person) {
	p.write("a")
	p.search("middle-of-three")
	d := p.desk
	d.sayAnswer(answers.Bead, answers.One)
	d.sayAnswer(answers.Near, answers.Zero)
	d.sayAnswer(answers.Far, answers.Zero)
	p.tabTo("answer " + answers.MeetAt.String())
}

// gallery opens the scenes, of which one is the person's own and one cannot be read.
func (p *person) gallery() {
	d := p.desk
	sc, _, err := scenes.Open("eye-higher")
	require.NoError(p.t, err)
	sc.Title = "Ana"
	require.NoError(p.t, d.store.Save(document.New(sc, ""), "Ana", false))
	d.setDeviation("", 2)
	p.rest()
	d.openGallery()
}

// practice opens the routine.
func (p *person) practice() *practice {
	p.write("r")
	require.IsType(p.t, &practice{}, p.desk.over)
	return p.desk.over.(*practice)
}

// notAsTyped types a number that cannot be taken, at the right of the page.
func notAsTyped(p *person) {
	p.write("2")
	p.desk.kit.SetFocus(p.widget("key patient.pd_mm"))
	p.key(ui.KeyEnter)
	p.write("1000")
	p.key(ui.KeyEnter)
}

// tabTo goes to a widget by Tab alone.
func (p *person) tabTo(name string) ui.Widget {
	p.t.Helper()
	for range 40 {
		if f := p.desk.kit.Focus; f != nil && f.Self().Name == name {
			return f
		}
		p.key(ui.KeyTab)
	}
	require.Fail(p.t, "Tab does not come to "+name)
	return nil
}

// caseOf opens the page of cases and begins one of a kind, on a string that is searched
// already.
func (p *person) caseOf(k cases.Kind) *learner {
	c := &p.desk.casework
	c.bench = searched()
	p.write("e")
	c.kinds = []cases.Kind{k}
	set := c.set()
	set.Count = 1
	var err error
	c.sitting, err = cases.Sit(&set, c.bench)
	require.NoError(p.t, err)
	c.turn()
	l := &learner{p, c}
	l.ready()
	return l
}

// checked has the case judged.
func (l *learner) checked() {
	l.c.check()
	require.NotNil(l.t, l.c.judged())
	l.update()
}

// wrong answers a deviation that is not what the case has.
func (l *learner) wrong() *learner {
	l.c.sitting.Answer(cases.Deviation, cases.Answer{Number: 4})
	l.c.sitting.Answer(cases.Sign, cases.Answer{Code: cases.Eso})
	return l
}
