package desk

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes/cases"
	"twincord/scenes/document"
	"twincord/sim"
	"twincord/sim/answers"
)

// learner sits before the page of cases.
type learner struct {
	*person
	c *casework
}

// learning opens the page of cases by its key. The string of its sets is searched already.
func learning(t *testing.T) (*learner, *document.Store) {
	p, store := shelved(t, nil)
	p.desk.casework.bench = searched()
	p.write("e")
	require.Same(t, &p.desk.casework, p.desk.over)
	return &learner{p, &p.desk.casework}, store
}

// searched and another are benches of the string of the sets with the numbers 1, 9, 17
// and so on, searched once for all tests: the page's, and that of whoever knows better.
var searched, another = sync.OnceValue(searchedBench), sync.OnceValue(searchedBench)

func searchedBench() *cases.Bench {
	b := cases.NewBench(1)
	for b.Step() {
	}
	return b
}

// ready lets the work go on that is done while a case is read; the page never waits for
// more than a slice of it.
func (l *learner) ready() {
	for i := 0; !l.c.ended() && !l.c.sitting.Ready() || l.c.waits(); i++ {
		require.Less(l.t, i, 20000, "it does not end")
		due, ok := l.desk.Due()
		require.True(l.t, ok && due <= l.in.Seconds, "it goes on by itself")
		l.update()
	}
	l.update()
}

// best is the best answer to every item of the case, by another bench and another sitting.
func (l *learner) best(b *cases.Bench) map[cases.Item]cases.Answer {
	all := map[cases.Item]cases.Answer{}
	for _, e := range l.c.of.Key(b) {
		all[e.Item] = e.Best
	}
	return all
}

// rowOf is the widget in which a code is answered, and which of its choices it is.
func (l *learner) rowOf(i cases.Item, code string) (name string, at int) {
	q := l.c.page.Asked[slices.Index(l.c.of.Asked, i)]
	name = "case " + string(i)
	if q.Number != "" || i == cases.Fits {
		name += " codes"
	}
	for _, choice := range q.Choices {
		if i == cases.Fits && choice.Code != cases.TheyFit && choice.Code != cases.CannotTell {
			continue
		}
		if choice.Code == code {
			return name, at
		}
		at++
	}
	require.Fail(l.t, "no choice "+code)
	return "", 0
}

// letters are the two of a pair, as places in what is told.
func (l *learner) letters(pair string) (at [2]int) {
	first, second, _ := strings.Cut(pair, "+")
	for n, i := range l.c.of.Told() {
		switch i.String() {
		case first:
			at[0] = n
		case second:
			at[1] = n
		}
	}
	return at
}

// byKeys answers an item by keys alone.
func (l *learner) byKeys(i cases.Item, a cases.Answer) {
	name := "case " + string(i)
	switch {
	case strings.Contains(a.Code, "+"):
		l.tabTo(name)
		for _, n := range l.letters(a.Code) {
			l.write(string(rune('1' + n)))
		}
	case a.Code != "":
		row, at := l.rowOf(i, a.Code)
		l.tabTo(row)
		if at < 9 {
			l.write(string(rune('1' + at)))
			return
		}
		for range at + 1 {
			l.key(ui.KeyRight)
		}
	case i == cases.CrossAt:
		o := l.tabTo(name).(*crossing)
		by := math.Round((a.Number - o.scene().LookPlace()) / arrowPlace)
		for k := ui.KeyRight; by != 0; by -= math.Copysign(1, by) {
			if by < 0 {
				k = ui.KeyLeft
			}
			l.key(k)
		}
		if !o.get().OK { // it is where it begins
			l.key(ui.KeyRight)
			l.key(ui.KeyLeft)
		}
	default:
		l.tabTo(name)
		l.write(fmt.Sprintf("%.1f", written(i, a)))
		l.key(ui.KeyEnter)
	}
}

// written is a number as it is typed: Δ, or cm.
func written(i cases.Item, a cases.Answer) float64 {
	if i.Place() {
		return a.Number / 10
	}
	return math.Abs(a.Number)
}

// byPointer answers it by the pointer; numbers by the buttons beside them.
func (l *learner) byPointer(i cases.Item, a cases.Answer) {
	name := "case " + string(i)
	switch {
	case strings.Contains(a.Code, "+"):
		for _, n := range l.letters(a.Code) {
			l.click(middle(l.see(name).(*choices).at(n)))
		}
	case a.Code != "":
		row, at := l.rowOf(i, a.Code)
		o := l.see(row).(*choices)
		l.c.right.scroll.Reveal(o.at(at).Y, o.at(at).Y+o.at(at).H)
		l.desk.dirty = true
		l.update()
		l.click(middle(o.at(at)))
	case i == cases.CrossAt:
		o := l.see(name).(*crossing)
		l.click(display.Point{X: o.x(&l.desk.kit, a.Number), Y: middle(o.Area).Y})
	default:
		n := l.see(name).(*ui.Number)
		steps := written(i, a) // of 1 cm, or of ½ Δ
		if !i.Place() {
			steps *= 2
		}
		for range int(math.Round(steps)) {
			l.click(display.Point{X: n.Area.X + n.Area.W - 4, Y: middle(n.Area).Y})
		}
		if a.Number == 0 {
			n.Set(0)
		}
	}
}

// see scrolls to a widget of what is asked.
func (l *learner) see(name string) ui.Widget {
	w := l.widget(name)
	l.c.right.scroll.Reveal(w.Self().Area.Y, w.Self().Area.Y+w.Self().Area.H)
	l.desk.dirty = true
	l.update()
	return l.widget(name)
}

// Ten plain cases by keys alone, and ten of the hardest by the pointer alone, each answered
// as the key says: all points, kept on the computer, and the end.
func TestAWholeSitting(t *testing.T) {
	for level, by := range map[int]func(*learner, cases.Item, cases.Answer){0: (*learner).byKeys, 2: (*learner).byPointer} {
		keys := level == 0
		l, store := learning(t)
		press := func(name string) {
			if keys {
				l.tabTo(name)
				l.key(ui.KeyEnter)
			} else {
				l.click(middle(l.see(name).Self().Area))
			}
		}
		if keys {
			l.tabTo("level")
			l.write(string(rune('1' + level)))
		} else {
			l.click(middle(l.see("level").(*choices).at(level)))
		}
		press("begin")
		for n := range cases.SetSize {
			l.ready()
			assert.Contains(t, l.c.title(l.desk), fmt.Sprintf("%d of 10", n+1))
			lead := l.c.write.Lead(l.c.of)
			l.desk.dirty = true
			l.update()
			led := strings.Contains(drawnTexts(l.desk), lead)
			assert.Equal(t, l.c.of.Kind != cases.Stop && l.c.of.Kind != cases.Walk, led, "what the string is like: %+v", l.c.of.ID)
			best := l.best(another())
			for _, i := range l.c.of.Asked {
				by(l, i, best[i])
			}
			press("check")
			j := l.c.judged()
			require.NotNil(t, j, "%+v", l.c.of.ID)
			assert.False(t, j.Missed(), "%+v: %v", l.c.of.ID, j.Items)
			assert.InDelta(t, 1., j.Points, 1e-9, "%+v: %v for %+v", l.c.of.ID, j.Items, best)
			if keys {
				assert.Equal(t, "next case", l.desk.kit.Focus.Self().Name)
				l.key(ui.KeyEnter)
			} else {
				press("next case")
			}
		}
		require.True(t, l.c.ended())
		l.update()
		assert.Contains(t, drawnTexts(l.desk), l.desk.say.Label(words.CasesNoneMissed))
		for _, w := range l.desk.reached() {
			assert.False(t, w.Self().Name == "again missed" && w.Self().Shown(), "there is nothing to do again")
		}
		assert.Equal(t, cases.SetSize, l.c.kept.Met())
		var kept string
		_, err := store.Counts(func(data []byte) error { kept = string(data); return nil })
		require.NoError(t, err)
		assert.Regexp(t, `^[\s{}":,\[\].\d]*$`, regexp.MustCompile(`"(format|counts|cases|points|missed|`+kindNames()+`)"`).ReplaceAllString(kept, ""),
			"points by kind and level, and nothing else")
		press("more cases")
		assert.Equal(t, uint64(2), l.c.number)
	}
}

func kindNames() string {
	var all []string
	for _, k := range cases.Kinds() {
		all = append(all, string(k))
	}
	return strings.Join(all, "|")
}

// drawnTexts is everything that is written on the page, in one.
func drawnTexts(d *Desk) string {
	var l display.List
	d.Draw(&l)
	return texts(&l)
}

// begin begins a set of every kind, on the string that is searched already.
func (l *learner) begin(number uint64, level int) {
	l.c.leave()
	l.c.number, l.c.level, l.c.kinds = number, level, cases.Kinds()
	l.c.bench = searched()
	l.c.begin()
}

// sitThrough begins a set and calls for every case, asked and then judged.
func (l *learner) sitThrough(number uint64, level int, each func(judged bool)) {
	l.begin(number, level)
	for l.ready(); !l.c.ended(); l.ready() {
		each(false)
		l.c.check()
		l.update()
		each(true)
		l.c.next()
	}
}

// Until it is judged nothing on the page tells the answer: no word of the trade at the
// left, no picture but the given one, nothing of the case before; and neither the title of
// the window nor the hint say anything of it.
func TestThePageGivesNothingAway(t *testing.T) {
	trade := regexp.MustCompile(`(?i)\b(eso|exo|endo|uncrossed|suppress\w*|left out|base-in|base-out)\b`)
	l, _ := learning(t)
	title := l.desk.Title()
	for level := 1; level <= cases.Levels; level++ {
		var hints []string
		l.sitThrough(uint64(1+8*level), level, func(judged bool) {
			if judged {
				return
			}
			id := l.c.of.ID
			assert.Equal(t, title, l.desk.Title(), "%+v", id)
			hints = append(hints, l.desk.Hint())
			var list display.List
			l.desk.Draw(&list)
			if l.c.page.Picture == cases.NoPicture {
				assert.Empty(t, list.Balls, "%+v: a picture that is not given", id)
			}
			right := l.c.right.scroll.Area
			bounded(&list, func(text *display.Text, b display.Rect) {
				at := b.Y > l.c.left.scroll.Area.Y && b.X < right.X
				told := id.Kind == cases.EyesToSee || id.Kind == cases.Walk || id.Kind == cases.WhichGlass && id.Level == 3
				lead := l.c.write.Lead(l.c.of)
				if at && !told && !strings.Contains(lead, text.String) {
					assert.NotRegexp(t, trade, text.String, "%+v", id)
				}
			})
			why := l.c.write.Why(l.c.of, l.c.of.Key(another()))
			assert.NotContains(t, texts(&list), why[:20], "%+v", id)
		})
		slices.Sort(hints)
		assert.LessOrEqual(t, len(slices.Compact(hints)), 3, "a hint for a row, one for a place, and one for a number")
	}
}

// What is given in words alone stands as large as it can where others have a picture, all of it
// on its plate, over the string that it is said of; no word of that string runs into another,
// and which bead is asked for shows.
func TestWhatIsGivenInWordsIsLarge(t *testing.T) {
	for _, language := range words.Languages() {
		for _, size := range [][3]float64{{800, 700, 1}, {1024, 700, 1}, {1280, 800, 1}, {3840, 2160, 2}, {1080, 1920, 1}} {
			for _, large := range []bool{false, true} {
				at := room{size: size, language: language, large: large}
				s := screen{}
				l := s.sit(t, at).caseOf(cases.WhichEye)
				require.Equal(t, cases.NoPicture, l.c.page.Picture)
				for _, number := range []uint64{0, 2} {
					b := l.c.left.blocks[0].(*spoken)
					strung := cases.StringOf(number)
					told := l.c.write.Told(&strung)
					b.string = newRuledString(l.desk, &told)
					l.desk.dirty = true
					l.update()
					drawn := &display.List{}
					drawn.Reset(size[0], size[1], display.Colour{})
					b.draw(l.desk, drawn)
					var boxes []display.Rect
					said := ""
					var asked []string
					for i := range drawn.Texts {
						x := &drawn.Texts[i]
						box := bounds(x)
						switch k := &l.desk.kit; {
						case box.Y > b.plate.Y+b.plate.H: // under it
							continue
						case x.Size == b.st.Size:
							said += x.String + " "
						case x.Colour == k.Theme.Ink:
							asked = append(asked, x.String)
						}
						inside := ui.Inside(b.plate, display.Point{X: box.X, Y: box.Y}) && ui.Inside(b.plate, display.Point{X: box.X + box.W, Y: box.Y + box.H})
						assert.True(t, inside, "%q, %+v", x.String, at)
						for _, other := range boxes {
							m := meet(box, other)
							assert.False(t, m.W > 0 && m.H > 0, "%q, %+v", x.String, at)
						}
						boxes = append(boxes, box)
					}
					assert.Equal(t, strings.Join(l.c.page.Given, " ")+" ", said, "%+v", at)
					if size[0] > 800 && !large {
						assert.False(t, l.c.left.scroll.Long(), "%+v", at)
						assert.Equal(t, []string{l.desk.say.BeadName(told.Beads[told.Look.Bead].Name)}, asked, "%+v", at)
					}
					if size[0] > 1024 && !large {
						assert.Greater(t, b.st.Size, theme.Sentence*size[2], "%+v", at)
						assert.GreaterOrEqual(t, b.plate.Y+b.plate.H, 0.8*(l.c.left.scroll.Area.Y+l.c.left.scroll.Area.H), "it has the room of a picture: %+v", at)
					}
				}
			}
		}
	}
}

// Who begins sees what eso, eyes on the bead and exo look like, with the words for it.
func TestWhatEsoLooksLike(t *testing.T) {
	l, _ := learning(t)
	p := newPrimer(l.c)
	meet := map[sim.Meet]words.Label{}
	for i, s := range p.sights {
		label := [...]words.Label{words.CasesEso, words.CasesOnBead, words.CasesExo}[i]
		assert.Equal(t, l.desk.say.Label(label), p.captions[i].text(l.desk))
		meet[s.view.Account.Meet] = label
	}
	assert.Equal(t, map[sim.Meet]words.Label{sim.MeetNearer: words.CasesEso, sim.MeetAt: words.CasesOnBead, sim.MeetBeyond: words.CasesExo}, meet)
	assert.Greater(t, p.sights[0].view.Beads[1].Right.Value.X, p.sights[0].view.Beads[1].Left.Value.X, "the right one is the right eye's")
	assert.Less(t, p.sights[2].view.Beads[1].Right.Value.X, p.sights[2].view.Beads[1].Left.Value.X, "the right one is the left eye's")
	var list display.List
	l.desk.Draw(&list)
	assert.NotEmpty(t, list.Balls)
	assert.Contains(t, texts(&list), strings.Fields(l.desk.say.Label(words.CasesEso))[0])
}

// What is judged stands beside what is so, with the reason; a missed stop says so.
func TestAnswerAndTruthSideBySide(t *testing.T) {
	l, _ := learning(t)
	pictures, stops := 0, 0
	l.sitThrough(1, 1, func(judged bool) {
		if !judged {
			return
		}
		said := drawnTexts(l.desk)
		story := l.c.of.Given.Story
		written := func(id words.Label) bool {
			return slices.ContainsFunc(l.c.right.blocks, func(b block) bool {
				p, ok := b.(*prose)
				return ok && p.text(l.desk) == l.desk.say.Label(id)
			})
		}
		for _, id := range words.Due(nil, true) {
			assert.Equal(t, string(id) == story.Caution(), written(id), "%s: %s", story, id)
		}
		assert.Equal(t, l.c.judged().Failed, written(words.CasesStopMissed), story)
		for _, word := range strings.Fields(l.c.why)[:3] {
			assert.Contains(t, said, word)
		}
		assert.Contains(t, said, l.desk.say.Label(words.CasesNoAnswer))
		var list display.List
		l.desk.Draw(&list)
		assert.Equal(t, len(l.c.shown) > 0, len(list.Balls) > 0, "%+v", l.c.of.ID)
		pictures += len(l.c.shown)
		if l.c.of.Given.Story.Stops() {
			stops++
			assert.True(t, l.c.judged().Failed)
			assert.Contains(t, said, l.c.of.Given.Story.Row()+":", "the source of the row")
		}
	})
	assert.Greater(t, pictures, 8)
	assert.NotZero(t, stops)
}

// A case that is opened is one step of the history, and the sitting goes on where it was.
func TestOpeningACaseAsAScene(t *testing.T) {
	l, _ := learning(t)
	opened := 0
	before := *l.desk.doc.Scene()
	l.sitThrough(1, 1, func(judged bool) {
		if !judged || len(l.c.sights) == 0 {
			return
		}
		opened++
		of, j := l.c.of, l.c.judged()
		l.click(middle(l.widget("open scene").Self().Area))
		require.Nil(t, l.desk.over)
		now := l.desk.doc.Scene()
		require.NoError(t, now.Check(), "%+v", of.ID)
		assert.Equal(t, l.c.page.Title, now.Title)
		assert.NotEqual(t, before.Setup, now.Setup)
		l.ctrl('z', false)
		assert.Equal(t, before, *l.desk.doc.Scene(), "one step")
		assert.False(t, l.desk.doc.CanUndo())
		l.write("e")
		assert.Same(t, of, l.c.of)
		assert.Same(t, j, l.c.judged())
	})
	assert.Greater(t, opened, 5)
}

// The missed cases come once more, and only those; the weakest kind is offered.
func TestMissedCasesAgain(t *testing.T) {
	l, _ := learning(t)
	var missed []cases.ID
	l.sitThrough(9, 1, func(judged bool) {
		switch {
		case !judged && l.c.of.Kind == cases.Walk:
			for i, a := range l.best(another()) {
				l.c.sitting.Answer(i, a)
			}
		case judged && l.c.judged().Missed():
			missed = append(missed, l.c.of.ID)
		}
	})
	require.NotEmpty(t, missed)
	require.Less(t, len(missed), cases.SetSize)
	k, level, ok := l.c.weakest()
	require.True(t, ok)
	assert.NotEqual(t, cases.Walk, k)
	l.click(middle(l.see("again missed").Self().Area))
	var again []cases.ID
	for l.ready(); !l.c.ended(); l.ready() {
		again = append(again, l.c.of.ID)
		l.c.next()
	}
	assert.Equal(t, missed, again)

	l.c.number, l.c.bench = 16, searched() // the next set is of that string again
	l.click(middle(l.see("practise this").Self().Area))
	l.ready()
	assert.Equal(t, cases.ID{Kind: k, Level: level, Seed: l.c.of.Seed}, l.c.of.ID)
	assert.Equal(t, []cases.Kind{k}, l.c.kinds)

	l.key(ui.KeyEscape)
	assert.Nil(t, l.desk.over)
	l.write("e")
	assert.False(t, l.c.choosing(), "it waits where it was left")
}

// Points are erased by one button and brought back by it, until the page is closed; a
// file that cannot be read is set aside, which is said, and counting begins anew.
func TestPointsAreKeptAndErased(t *testing.T) {
	l, store := learning(t)
	met := func() int {
		again := &learner{&person{t: t, in: l.in, desk: New(Options{Document: l.desk.doc, Words: l.desk.say, Store: store})}, nil}
		again.update()
		again.write("e")
		return again.desk.casework.kept.Met()
	}
	l.sitThrough(17, 1, func(bool) {})
	assert.Equal(t, cases.SetSize, met())
	l.click(middle(l.see("choose").Self().Area))
	erase := func() {
		w := l.widget("erase")
		l.c.left.scroll.Reveal(w.Self().Area.Y, w.Self().Area.Y+w.Self().Area.H)
		l.desk.dirty = true
		l.update()
		l.click(middle(l.widget("erase").Self().Area))
	}
	assert.Contains(t, drawnTexts(l.desk), l.c.write.Kind(cases.Walk))
	erase()
	assert.Zero(t, met())
	erase()
	assert.Equal(t, cases.SetSize, met(), "brought back")
	erase()
	l.key(ui.KeyEscape)
	l.write("e")
	assert.Zero(t, l.c.kept.Met())
	for _, w := range l.desk.overs {
		assert.NotEqual(t, "erase", w.Self().Name, "there is nothing left to bring back")
	}

	_, err := store.Count(func([]byte) ([]byte, error) { return []byte(`{"format": 1, "counts": {"walk": 7}}`), nil })
	require.NoError(t, err)
	l.key(ui.KeyEscape)
	l.write("e")
	said := l.desk.News()
	require.Contains(t, said, ".broken")
	aside := regexp.MustCompile(`\S+\.broken`).FindString(said)
	assert.FileExists(t, aside)
	assert.NoFileExists(t, strings.TrimSuffix(aside, ".broken"))
	l.begin(25, 1)
	l.ready()
	l.c.check()
	assert.Equal(t, 1, met())

	folder := filepath.Dir(aside)
	require.NoError(t, os.RemoveAll(folder))
	require.NoError(t, os.WriteFile(folder, nil, 0o644))
	l.begin(33, 1)
	l.ready()
	l.c.check()
	assert.NotEmpty(t, l.desk.News(), "that it cannot be kept is said")
	assert.NotNil(t, l.c.judged(), "and the case is judged all the same")
}

// Whoever checks before it is known what is right waits no longer than the work takes,
// and sees how far it is.
func TestCheckingEarly(t *testing.T) {
	l, _ := learning(t)
	l.c.kinds, l.c.number = []cases.Kind{cases.SeeToEyes}, 5
	l.c.begin()
	l.update()
	require.NotNil(t, l.c.of)
	require.False(t, l.c.sitting.Ready())
	l.c.check()
	assert.Nil(t, l.c.judged())
	l.update()
	assert.Contains(t, drawnTexts(l.desk), strings.Fields(l.desk.say.AnswersSearching(0))[0])
	l.ready()
	assert.NotNil(t, l.c.judged())
	_, ok := l.desk.Due()
	for i := 0; ok && i < 5000; i++ {
		l.update()
		_, ok = l.desk.Due()
	}
	assert.False(t, ok, "it comes to rest")
	assert.False(t, l.update())
}

// A deviation has the sign that is answered, whichever comes first; of letters the last
// two count.
func TestAnswersThatBelongTogether(t *testing.T) {
	l, _ := learning(t)
	l.c.kinds = []cases.Kind{cases.SeeToEyes}
	l.c.begin()
	for l.ready(); !slices.Contains(l.c.of.Asked, cases.Deviation); l.ready() {
		l.c.next()
	}
	deviation := func() float64 {
		a, _ := l.c.sitting.Given(cases.Deviation)
		return a.Number
	}
	l.byKeys(cases.Deviation, cases.Answer{Number: 4})
	assert.InDelta(t, 4, deviation(), 1e-9)
	l.byKeys(cases.Sign, cases.Answer{Code: cases.Exo})
	assert.InDelta(t, -4, deviation(), 1e-9)
	l.byKeys(cases.Deviation, cases.Answer{Number: 6})
	assert.InDelta(t, -6, deviation(), 1e-9)
	l.byKeys(cases.Sign, cases.Answer{Code: cases.Eso})
	assert.InDelta(t, 6, deviation(), 1e-9)

	l.c.choose()
	l.c.kinds = []cases.Kind{cases.DoesItFit}
	l.c.begin()
	l.ready()
	row := l.tabTo("case " + string(cases.Fits))
	on := func() (all []int) {
		for i := range row.(*choices).texts {
			if row.(*choices).on(i) {
				all = append(all, i)
			}
		}
		return all
	}
	for _, step := range []struct {
		press string
		on    []int
	}{{"1", []int{0}}, {"3", []int{0, 2}}, {"4", []int{2, 3}}, {"3", []int{3}}, {"2", []int{1, 3}}, {"2", []int{3}}} {
		l.write(step.press)
		assert.Equal(t, step.on, on(), step.press)
		_, said := l.c.sitting.Given(cases.Fits)
		assert.Equal(t, len(step.on) == 2, said)
	}
	l.byKeys(cases.Fits, cases.Answer{Code: cases.TheyFit})
	assert.Empty(t, on())
}

// Everything has room and is large enough for a finger, in every size, language and look,
// asked and judged.
func TestCasesFit(t *testing.T) {
	l, _ := learning(t)
	d := l.desk
	looks := 0
	look := func(what string) {
		for n, in := range rooms() {
			if !onTurn(n, looks, 5) {
				continue
			}
			what := fmt.Sprintf("%s: %+v", what, in)
			l.in.W, l.in.H, l.in.Scale = in.size[0], in.size[1], in.size[2]
			d.setLanguage(in.language)
			d.Large = in.large
			for _, col := range l.c.columns() {
				for top := 0.; top == 0 || top < col.scroll.Height; top += max(col.scroll.Area.H, 1) {
					col.scroll.To(top)
					d.dirty = true
					l.update()
					checkPage(t, d, what)
				}
			}
		}
		looks++
	}
	look("choosing")
	l.sitThrough(41, 2, func(judged bool) { look(fmt.Sprintf("%+v judged=%v", l.c.of.ID, judged)) })
	look("the end")
	l.c.choose()
	look("choosing again")
}

// A choice stands in the middle of its plate, however long it is, and beside the key that
// chooses it; what is broken into lines stands beside it all the same.
func TestChoicesStandInTheMiddle(t *testing.T) {
	broken := map[bool]int{}
	for _, k := range []cases.Kind{cases.Stop, cases.NextQuestion, cases.WhichEye} {
		for _, in := range []room{{size: [3]float64{1280, 800, 1}, language: "en"}, {size: [3]float64{1024, 700, 1}, language: "es"}, {size: [3]float64{1024, 700, 1}, language: "en", large: true}} {
			s := screen{}
			l := s.sit(t, in).caseOf(k)
			k := &l.desk.kit
			for _, w := range l.desk.overs {
				o, ok := w.(*choices)
				if !ok {
					continue
				}
				k.SetFocus(o)
				k.Ring = true
				for i := range min(9, len(o.texts)) { // the others have no key
					drawn := &display.List{}
					drawn.Reset(in.size[0], in.size[1], display.Colour{})
					o.drawOne(k, drawn, i)
					last := len(drawn.Texts) - 1
					first, end, key := bounds(&drawn.Texts[0]), bounds(&drawn.Texts[last-1]), bounds(&drawn.Texts[last])
					require.Equal(t, strconv.Itoa(i+1), drawn.Texts[last].String)
					at := middle(o.at(i))
					assert.InDelta(t, at.Y, key.Y+key.H/2, 1.5, "%s: %+v", o.texts[i], in)
					assert.InDelta(t, at.Y, (first.Y+end.Y+end.H)/2, 1.5*in.size[2], "%s: %+v", o.texts[i], in)
					assert.Greater(t, first.X, o.at(i).X+badgeRoom(k), "%s: %+v", o.texts[i], in)
					if broken[o.broken != nil]++; o.broken == nil {
						wide := lettering.Width(k.Style(theme.Small), o.texts[i])
						assert.InDelta(t, at.X, first.X+wide/2, 1, "%s: %+v", o.texts[i], in)
					}
				}
			}
		}
	}
	assert.Positive(t, broken[true])
	assert.Positive(t, broken[false])
}

// Up and down go from one thing that is asked to the next that is seen and can be answered,
// then to what goes on, and stop at the first.
func TestUpAndDownGoThroughWhatIsAsked(t *testing.T) {
	p := sit(t, "middle-of-three")
	l := p.caseOf(cases.SeeToEyes)
	var rows []*choices
	for _, w := range l.desk.overs {
		if r, ok := w.(*choices); ok && r.Shown() {
			rows = append(rows, r)
		}
	}
	require.Greater(t, len(rows), 2)
	goes := func(from *choices, step int, to ui.Widget, why string) {
		t.Helper()
		l.desk.kit.SetFocus(from)
		l.c.nextAsked(from, step)
		assert.True(t, ui.Is(l.desk.kit.Focus, to), "%s: %s", why, l.desk.kit.Focus.Self().Name)
	}
	goes(rows[0], 1, rows[1], "the next")
	goes(rows[1], -1, rows[0], "the one before")
	goes(rows[0], -1, rows[0], "there is none")
	goes(rows[len(rows)-1], 1, l.widget("check"), "then what goes on")
	area := rows[1].Area
	for why, hide := range map[string]func(){"off": func() { rows[1].Off = true }, "no stop": func() { rows[1].Skip = true }, "unseen": func() { rows[1].Area = display.Rect{} }} {
		hide()
		goes(rows[0], 1, rows[2], why)
		rows[1].Off, rows[1].Skip, rows[1].Area = false, false, area
	}
}

// Kinds are taken in and left out, and one stays; of several that may be chosen no arrow
// chooses one.
func TestChoosingKinds(t *testing.T) {
	l, _ := learning(t)
	all := cases.Kinds()
	l.c.toggle(all[2])
	assert.Equal(t, slices.Delete(slices.Clone(all), 2, 3), l.c.kinds)
	l.c.toggle(all[2])
	assert.ElementsMatch(t, all, l.c.kinds)
	for _, k := range all {
		l.c.toggle(k)
	}
	assert.Equal(t, all[len(all)-1:], l.c.kinds, "one stays")
	row := l.widget("kinds").(*choices)
	for _, k := range []ui.Key{ui.KeyLeft, ui.KeyRight} {
		assert.False(t, row.Press(&l.desk.kit, ui.Press{Key: k}))
	}
	assert.Equal(t, all[len(all)-1:], l.c.kinds)
	level := l.widget("level").(*choices)
	l.desk.kit.SetFocus(level)
	l.key(ui.KeyRight)
	assert.Equal(t, 2, l.c.level)
	l.key(ui.KeyLeft)
	assert.Equal(t, 1, l.c.level)
}

// While somebody chooses, the next set is searched, and nothing is due once it is.
func TestTheNextSetIsSearchedMeanwhile(t *testing.T) {
	l, _ := learning(t)
	assert.False(t, l.c.runs(), "it is searched already")
	l.c.bench = nil
	assert.True(t, l.c.runs())
	_, due := l.desk.Due()
	assert.True(t, due)
}

// A place that was answered and is answered again is taken back.
func TestAPlaceIsTakenBack(t *testing.T) {
	p := sit(t, "middle-of-three")
	l := p.caseOf(cases.EyesToSee)
	var o *crossing
	for _, w := range l.desk.overs {
		if c, ok := w.(*crossing); ok {
			o = c
		}
	}
	require.NotNil(t, o)
	o.set(sim.Maybe[answers.Place]{})
	assert.False(t, o.get().OK, "nothing was said")
	o.set(sim.Some(answers.Around(300)))
	assert.Equal(t, 300., o.get().Value.At)
	o.set(sim.Some(answers.Around(300)))
	assert.True(t, o.get().OK, "the same once more is no other")
	o.set(sim.Maybe[answers.Place]{})
	assert.False(t, o.get().OK)
}

// Whoever answers by keys alone goes on by Enter from a number or a place too: past what else it
// could be answered with, and after the last one to what checks the answers.
func TestNumbersAndPlacesGoOn(t *testing.T) {
	for _, kind := range []cases.Kind{cases.EyesToSee, cases.Walk, cases.WhichGlass} {
		l, _ := learning(t)
		l.c.kinds = []cases.Kind{kind}
		l.click(middle(l.widget("begin").Self().Area))
		for l.c.of == nil {
			l.update()
		}
		entered := 0
		for at := l.desk.focused(); at != "check"; at = l.desk.focused() {
			switch w := l.desk.kit.Focus.(type) {
			case *ui.Number:
				l.write("10")
				l.key(ui.KeyEnter)
				entered++
			case *crossing:
				l.key(ui.KeyPageDown)
				l.key(ui.KeyEnter)
				entered++
			default:
				require.NotContains(t, w.Self().Name, " codes", "it has a number or a place already")
				l.write("1")
			}
			require.NotEqual(t, at, l.desk.focused())
		}
		assert.Positive(t, entered, kind)
		for _, i := range l.c.of.Asked {
			_, ok := l.c.sitting.Given(i)
			assert.True(t, ok, "%v: %v", kind, i)
		}
		l.key(ui.KeyEnter)
		for l.c.checking {
			l.update()
		}
		assert.NotNil(t, l.c.judged())
	}
}

// The plate of words has the room that a picture has, but for the edge of a column.
func TestWordsStandWhereAPictureWould(t *testing.T) {
	p := sit(t, "middle-of-three")
	seen := p.caseOf(cases.SeeToEyes).c.picture
	p = sit(t, "middle-of-three")
	l := p.caseOf(cases.Stop)
	said := l.c.left.blocks[0].(*spoken).plate
	area := l.c.left.scroll.Area
	assert.InDelta(t, seen.X, said.X, theme.Unit)
	assert.InDelta(t, seen.Y, said.Y, theme.Unit)
	assert.InDelta(t, seen.X+seen.W, said.X+said.W, area.W-l.c.left.scroll.Room(&l.desk.kit))
	assert.InDelta(t, area.Y+area.H, said.Y+said.H, 2*theme.Unit, "with nothing under it")
}

// What is said over the string on which a place is pointed to stands within the ring of the
// focus, and keeps clear of it.
func TestWordsOfAPlaceAreInItsRing(t *testing.T) {
	for _, scale := range []float64{1, 2} {
		p := asking(t, "middle-of-three")
		p.in.W, p.in.H, p.in.Scale = 1280*scale, 800*scale, scale
		p.update()
		o := p.tabTo("answer " + answers.MeetAt.String()).(*crossing)
		drawn := &display.List{}
		drawn.Reset(p.in.W, p.in.H, display.Colour{})
		o.Draw(&p.desk.kit, drawn)
		last := drawn.Paths[len(drawn.Paths)-1]
		ring := ui.Inset(box(last.Outline), last.Stroke/2+2*scale)
		require.Positive(t, last.Stroke)
		for i := range drawn.Texts {
			b := bounds(&drawn.Texts[i])
			assert.True(t, ui.Inside(ring, display.Point{X: b.X, Y: b.Y}), "%v in %v", b, ring)
		}
	}
}
