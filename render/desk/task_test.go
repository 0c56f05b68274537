package desk

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
	"twincord/sim"
)

// hand counts what somebody presses to come to something: clicks, keys, pulls. Text that
// is typed into a field counts for nothing.
type hand struct {
	*person
	presses int
}

// starting is the first start, with somebody before it.
func starting(t *testing.T, scene string) *hand {
	p, _ := shelved(t, func(o *Options) {
		sc, id, err := scenes.Open(scene)
		require.NoError(t, err)
		o.Document, o.First = document.New(sc, "").From(id), true
		o.Sheet = func(string, *scenes.Scene, scenes.Identity, *words.Words, string) ([]string, error) {
			return []string{"a.pdf"}, nil
		}
		o.Page = func(string, *scenes.Scene, scenes.Identity, *words.Words, string) ([]string, error) {
			return []string{"a.html"}, nil
		}
		o.Film = func(_ string, _ *scenes.Scene, _ scenes.Identity, _ *words.Words, _ FilmSize, kind FilmKind) FilmJob {
			return &instant{kind}
		}
		o.FilmKinds = func(bool) []FilmKind { return []FilmKind{{"MP4", ".mp4"}, {"GIF", ".gif"}} }
	})
	return &hand{person: p}
}

// instant is a film that is made at once.
type instant struct{ kind FilmKind }

func (*instant) Progress() (done, of int)          { return 1, 1 }
func (i *instant) Result() ([]string, error, bool) { return []string{"a" + i.kind.Ending}, nil, true }
func (*instant) Stop()                             {}

// lasting is a film that goes on until it is stopped.
type lasting struct{ stopped bool }

func (*lasting) Progress() (done, of int)        { return 3, 10 }
func (*lasting) Result() ([]string, error, bool) { return nil, nil, false }
func (l *lasting) Stop()                         { l.stopped = true }

func (h *hand) clickOn(at display.Point) { h.presses++; h.click(at) }
func (h *hand) clickName(name string)    { h.clickOn(middle(h.widget(name).Self().Area)) }
func (h *hand) pressEnter()              { h.presses++; h.key(ui.KeyEnter) }
func (h *hand) letter(s string)          { h.presses++; h.write(s) }
func (h *hand) with(ctrl rune)           { h.presses++; h.ctrl(ctrl, false) }
func (h *hand) pressKeys(keys ...ui.Key) {
	for _, k := range keys {
		h.presses++
		h.key(k)
	}
}
func (h *hand) atMost(what string, presses int) {
	assert.LessOrEqual(h.t, h.presses, presses, "%s takes %d presses", what, h.presses)
}

// What a clinician, a trainee and a parent do most takes few presses, from the start.
func TestTasksTakeFewPresses(t *testing.T) {
	t.Run("exo 6", func(t *testing.T) {
		h := starting(t, scenes.DefaultName)
		h.clickName("deviation")
		h.write("6 exo")
		h.pressEnter()
		assert.InDelta(t, -6, float64(h.setup().Posture.Deviation), 1e-9)
		h.atMost("exo 6", 2)
	})
	t.Run("exo 6 by keys", func(t *testing.T) {
		h := starting(t, scenes.DefaultName)
		h.letter("d")
		h.write("6 exo")
		h.pressEnter()
		assert.InDelta(t, -6, float64(h.setup().Posture.Deviation), 1e-9)
		h.atMost("exo 6", 2)
	})
	t.Run("save under a name", func(t *testing.T) {
		h := starting(t, scenes.DefaultName)
		h.clickName("save")
		h.write("Ana")
		h.pressEnter()
		assert.Equal(t, "Ana", h.desk.heading())
		assert.FileExists(t, h.desk.doc.Path())
		h.atMost("saving", 2)
	})
	t.Run("age and PD of a child", func(t *testing.T) {
		h := starting(t, scenes.DefaultName)
		h.clickOn(h.tab(setupPage))
		h.clickName("size by age")
		h.clickOn(h.item(h.desk.say.Size("child-7", 7)))
		assert.Equal(t, 7., h.setup().Patient.Age)
		assert.Equal(t, 53., h.setup().Patient.PD)
		h.atMost("a child", 3)
	})
	t.Run("the last built-in routine", func(t *testing.T) {
		h := starting(t, scenes.DefaultName)
		h.clickName("scenes")
		last := ""
		for _, e := range scenes.Library() {
			if e.Scene.Routine.OK {
				last = e.Scene.Title
			}
		}
		at := h.tile(last)
		assert.Zero(t, h.desk.over.(*gallery).tiles.Top, "without scrolling")
		h.clickOn(at)
		assert.Equal(t, last, h.desk.heading())
		h.atMost("a routine", 3)
	})
	t.Run("break and return", func(t *testing.T) {
		h := starting(t, "walk-with-findings")
		h.clickOn(h.tab(numbersPage))
		say := h.desk.say
		values := map[string]string{}
		for _, f := range h.desk.facts {
			values[f.label] = f.value
		}
		breaks, back := h.desk.setup.Turning()
		f := h.desk.setup.Findings.Value // near points are measured from the glasses
		assert.Equal(t, say.FromNoseAndGlasses(breaks.Value, f.NPCBreak), values[say.Label(words.FactBreaks)])
		assert.Equal(t, say.FromNoseAndGlasses(back.Value, f.NPCRecovery), values[say.Label(words.FactBack)])
		h.atMost("break and return", 2)
		h.atMost("the numbers", 1)
	})
	t.Run("sheet", func(t *testing.T) {
		h := starting(t, "walk-of-ten")
		h.clickName("menu")
		h.clickOn(h.item(h.desk.say.Label(words.ButtonSheet)))
		assert.Contains(t, h.desk.News(), "a.pdf")
		h.atMost("a sheet", 3)
	})
	t.Run("family page", func(t *testing.T) {
		h := starting(t, scenes.DefaultName)
		h.clickName("menu")
		h.clickOn(h.item(h.desk.say.Label(words.ButtonPage)))
		assert.Contains(t, h.desk.News(), "a.html")
		h.atMost("a family page", 3)
	})
	t.Run("family screen, and back", func(t *testing.T) {
		h := starting(t, scenes.DefaultName)
		h.clickName("family")
		assert.True(t, h.desk.FullScreen())
		h.clickName("leave")
		assert.False(t, h.desk.FullScreen())
		h.atMost("the family's screen", 2)
	})
	t.Run("sheet by keys", func(t *testing.T) {
		h := starting(t, "walk-of-ten")
		h.presses++
		h.ctrl('p', false)
		assert.Contains(t, h.desk.News(), "a.pdf")
		h.atMost("a sheet", 1)
	})
	t.Run("film", func(t *testing.T) {
		h := starting(t, scenes.DefaultName)
		h.clickName("menu")
		h.clickOn(h.item(h.desk.say.Label(words.ButtonFilm)))
		h.clickName("make film")
		h.update()
		assert.Contains(t, h.desk.News(), "a.mp4")
		h.atMost("a film", 4)
	})
	t.Run("numbers by a key", func(t *testing.T) {
		h := starting(t, scenes.DefaultName)
		h.letter("3")
		assert.NotEmpty(t, h.desk.facts)
		h.atMost("the numbers", 1)
	})
}

// The same and more with keys alone. Where the focus is can be seen at each of them.
func TestTasksByKeysAlone(t *testing.T) {
	by := func(name string, presses int, scene string, do func(t *testing.T, h *hand)) {
		t.Run(name, func(t *testing.T) {
			h := starting(t, scene)
			do(t, h)
			h.atMost(name, presses)
			if f := h.desk.kit.Focus; f != nil {
				assert.True(t, h.desk.kit.Ring, "%s has the focus unseen", f.Self().Name)
			}
		})
	}
	by("save under a name", 2, scenes.DefaultName, func(t *testing.T, h *hand) {
		h.with('s')
		h.write("Ana")
		h.pressEnter()
		assert.Equal(t, "Ana", h.desk.heading())
	})
	by("age and PD of a child", 3, scenes.DefaultName, func(t *testing.T, h *hand) {
		h.letter("2")
		h.pressEnter()
		h.write("7")
		h.pressEnter()
		assert.Equal(t, 7., h.setup().Patient.Age)
		assert.Equal(t, 53., h.setup().Patient.PD)
	})
	by("the last built-in routine", 2, scenes.DefaultName, func(t *testing.T, h *hand) {
		h.with('o')
		h.write("jumps unsteady")
		h.pressEnter()
		assert.True(t, h.desk.doc.Scene().Routine.OK)
	})
	by("break and return", 0, "walk-with-findings", func(t *testing.T, h *hand) {
		breaks, back := h.desk.setup.Turning()
		for i, at := range []sim.Maybe[float64]{breaks, back} {
			assert.Contains(t, h.desk.layout.ticks[i].text, h.desk.say.Length(at.Value))
		}
	})
	by("film", 4, scenes.DefaultName, func(t *testing.T, h *hand) {
		h.pressKeys(ui.KeyF10)
		h.write("film")
		h.pressEnter()
		h.has("make film")
		h.pressEnter()
		h.update()
		assert.Contains(t, h.desk.News(), "a.mp4")
	})
	by("family page", 2, scenes.DefaultName, func(t *testing.T, h *hand) {
		h.pressKeys(ui.KeyF10)
		h.write("family")
		h.pressEnter()
		assert.Contains(t, h.desk.News(), "a.html")
	})
	by("prisms of each eye", 9, scenes.DefaultName, func(t *testing.T, h *hand) {
		h.letter("2")
		h.presses++
		h.in.Keys = []ui.Press{{Key: ui.KeyTab, Shift: true}}
		h.update()
		h.has("topic " + string(words.TabPatient))
		h.pressKeys(ui.KeyDown, ui.KeyDown, ui.KeyDown)
		h.has("topic " + string(words.TabGlasses))
		h.pressKeys(ui.KeyRight, ui.KeyTab)
		h.has("key right.base_out_prism")
		before := h.desk.view.Axes.Vergence
		h.pressKeys(ui.KeyPageUp)
		assert.Equal(t, sim.Prism(5), h.setup().Right.BaseOut)
		assert.NotEqual(t, before, h.desk.view.Axes.Vergence, "in the same frame")
		h.pressKeys(ui.KeyTab)
		h.has("key right.base_up_prism")
	})
	by("true size", 3, scenes.DefaultName, func(t *testing.T, h *hand) {
		h.letter("z")
		h.has("card")
		for range 5 { // a card of 86 mm is as wide as it is
			h.key(ui.KeyRight)
		}
		h.presses++
		h.in.Keys = []ui.Press{{Key: ui.KeyTab}}
		h.update()
		h.has("distance")
		h.write("60")
		h.pressEnter()
		assert.True(t, h.desk.trueSize)
	})
	by("family screen", 2, scenes.DefaultName, func(t *testing.T, h *hand) {
		h.letter("f")
		assert.True(t, h.desk.FullScreen())
		h.pressKeys(ui.KeyEscape)
		assert.False(t, h.desk.FullScreen())
	})
	by("side by side, undo, language", 5, scenes.DefaultName, func(t *testing.T, h *hand) {
		h.letter("c")
		assert.True(t, h.desk.compare)
		h.letter("d")
		h.write("6 exo")
		h.pressEnter()
		h.with('z')
		assert.Zero(t, h.setup().Posture.Deviation)
		h.letter("g")
		assert.Equal(t, "es", h.desk.say.Language())
	})
	by("a routine to its end", 30, "walk-of-ten", func(t *testing.T, h *hand) {
		h.letter("r")
		p := h.desk.over.(*practice)
		for !p.over {
			h.has("next")
			h.pressEnter()
		}
		h.pressKeys(ui.KeyEscape)
		assert.Nil(t, h.desk.over)
	})
}

// A language is found by those who read no other.
func TestLanguageInTheMenu(t *testing.T) {
	h := starting(t, scenes.DefaultName)
	h.clickName("menu")
	h.clickOn(h.item("Español"))
	assert.Equal(t, "es", h.desk.say.Language())
	h.clickName("menu")
	h.clickOn(h.item("English"))
	assert.Equal(t, "en", h.desk.say.Language())
}

// tab is the middle of a page's tab.
func (p *person) tab(page int) display.Point {
	a := p.widget("tabs").Self().Area
	return display.Point{X: a.X + a.W*(float64(page)+0.5)/columnPages, Y: a.Y + a.H/2}
}

// A bead that is pulled toward the nose breaks where the findings lose it, and comes back
// farther out than that.
func TestPullingCarriesTheState(t *testing.T) {
	p := sit(t, "walk-with-findings")
	breaks, back := p.desk.setup.Turning()
	require.True(t, breaks.OK && back.OK)
	bead := func() display.Point {
		return middle(p.widget("bead " + p.desk.page.names[0]).Self().Area)
	}
	x := func(at float64) float64 { return p.desk.layout.x(distanceX(render.FromEyes(&p.desk.setup, at))) }
	p.press(bead())
	state := func(at float64) sim.State {
		p.moveTo(display.Point{X: x(at), Y: bead().Y})
		return p.desk.view.Holding.Value.State
	}
	between := (breaks.Value + back.Value) / 2
	assert.Equal(t, sim.StateHolding, state(between), "on the way in it holds there")
	assert.Equal(t, sim.StateBroken, state(breaks.Value-20))
	assert.Equal(t, sim.StateBroken, state(between), "on the way out it does not")
	assert.Equal(t, sim.StateHolding, state(back.Value+30))
	p.lift()
	require.NoError(t, p.desk.doc.Scene().Check())
}

// Beads and the crossing are pulled in the picture, and a bead that is clicked is looked
// at.
func TestPullingInThePicture(t *testing.T) {
	p := sit(t, "too-near-doubled")
	seen := func(name string) display.Point { return middle(p.widget(name).Self().Area) }
	at := seen("meeting seen")
	p.press(at)
	p.moveTo(display.Point{X: at.X, Y: at.Y - 30})
	p.lift()
	assert.Less(t, float64(p.setup().Posture.Deviation), 4., "farther: less eso")

	far := p.desk.page.names[2]
	at = seen("bead seen " + far + " right")
	p.click(at)
	assert.Equal(t, 2, p.setup().Look.Bead)

	near := p.desk.page.names[0]
	before := p.setup().Beads[0].At
	at = seen("bead seen " + near + " right")
	m := p.desk.pictureMap(&p.desk.view)
	s := p.desk.view.Sight(sim.RightEye, before+60)
	p.press(at)
	p.moveTo(m.Page(s.At))
	p.lift()
	assert.InDelta(t, before+60, p.setup().Beads[0].At, 3)
}

// Enter looks at the bead in the focus, which stays where it is.
func TestLookingAtABeadByKeys(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	beads := p.setup().Beads
	p.desk.kit.SetFocus(p.widget("bead " + p.desk.page.names[0]))
	p.key(ui.KeyEnter)
	assert.Equal(t, 0, p.setup().Look.Bead)
	assert.Equal(t, beads, p.setup().Beads)
}

// The note of a scene that was changed does not claim to tell what is seen now.
func TestNoteOfAChangedScene(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	say := p.desk.say
	assert.Equal(t, say.Label(words.NoteShows), p.desk.noteHeading())
	p.write("d6 exo")
	p.key(ui.KeyEnter)
	assert.Equal(t, say.Label(words.NoteShowed), p.desk.noteHeading())
	p.desk.doc.Edit("", func(s *scenes.Scene) { s.Note = "6 exo" })
	assert.Equal(t, say.Label(words.NoteShows), p.desk.noteHeading())
}

// An eye that is pulled in the view from in front is where it was pulled to.
func TestTurningAnEye(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	at := middle(p.widget("left iris").Self().Area)
	p.press(at)
	for i := range 12 {
		p.moveTo(display.Point{X: at.X - float64(i), Y: at.Y})
	}
	p.lift()
	assert.Greater(t, float64(p.setup().Posture.Deviation), 2., "towards the nose: eso")
	require.NoError(t, p.desk.doc.Scene().Check())
}

// A page taller than wide has the views beside each other, and uses all of its width.
func TestViewsOfAPortrait(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	p.in.W, p.in.H = 1080, 1920
	p.update()
	l := &p.desk.layout
	front := middle(p.widget("left iris").Self().Area)
	assert.Greater(t, front.X, l.above.X+l.above.W)
	assert.Less(t, front.Y, l.above.Y+l.above.H)
	assert.InDelta(t, l.column.W/2, l.above.W, 0.05*l.column.W)
	checkPage(t, p.desk, "a portrait")
	p.in.W, p.in.H = 1280, 800
	p.update()
	assert.Greater(t, middle(p.widget("left iris").Self().Area).Y, l.above.Y+l.above.H)
}

// Nothing in the column changes the size of the picture.
func TestThePictureKeepsItsSize(t *testing.T) {
	p := sit(t, "receding-near-point")
	was := p.desk.layout.picture
	for page := range columnPages {
		p.desk.turnTo(page)
		for group := range topics {
			p.desk.Groups ^= 1 << group
			p.desk.dirty = true
			p.update()
			assert.Equal(t, was, p.desk.layout.picture)
		}
	}
	p.write("h")
	assert.Greater(t, p.desk.layout.picture.W, was.W, "folded away it is wider")
	p.write("h")
	assert.Equal(t, was, p.desk.layout.picture)
}

// A scene that was sent shows picture, sentence, note and bar, and one button.
func TestSceneThatWasSent(t *testing.T) {
	p, _ := shelved(t, func(o *Options) { o.Outside = true })
	assert.Zero(t, p.desk.layout.column.W)
	assert.NotZero(t, p.desk.layout.note.H)
	shown := 0
	for _, w := range p.desk.header() {
		if w.Self().Shown() {
			shown++
		}
	}
	assert.Equal(t, 1, shown)
	assert.False(t, p.desk.page.through.Shown(), "it has no routine")
	p.click(middle(p.widget("controls").Self().Area))
	assert.NotZero(t, p.desk.layout.column.W)
	assert.Zero(t, p.desk.layout.note.H)
}

// The routine of a scene that was sent is one press away, beside the sentence, which has
// room; for those who have the controls it is among them.
func TestRoutineThatWasSent(t *testing.T) {
	for _, size := range [][2]float64{{800, 600}, {1024, 700}, {1280, 800}, {1920, 1080}, {1080, 1920}} {
		for _, language := range words.Languages() {
			p, _ := shelved(t, func(o *Options) {
				sc, id, err := scenes.Open("walk-of-ten")
				require.NoError(t, err)
				o.Outside, o.Document = true, document.New(sc, "").From(id)
			})
			p.in.W, p.in.H = size[0], size[1]
			p.desk.setLanguage(language)
			p.update()
			checkPage(t, p.desk, "what was sent")
			b := p.widget("through")
			for _, text := range p.desk.layout.lines {
				end := p.desk.layout.sentence.X + 3*theme.Unit*p.desk.kit.Unit + lettering.Width(p.desk.layout.sentenceStyle, text)
				assert.Less(t, end, b.Self().Area.X)
			}
			p.click(middle(b.Self().Area))
			require.IsType(t, &practice{}, p.desk.over)
			p.key(ui.KeyEscape)
			p.desk.showControls()
			p.desk.dirty = true
			p.update()
			assert.False(t, p.desk.page.through.Shown())
		}
	}
}

// A number taken by Enter leaves the keys to commands; arrow keys go on changing it.
func TestKeysAfterATypedDeviation(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	p.write("d6 exo")
	p.key(ui.KeyEnter)
	p.write("3")
	assert.Equal(t, numbersPage, p.desk.Page)
	p.key(ui.KeyLeft)
	assert.InDelta(t, -5.5, float64(p.setup().Posture.Deviation), 1e-9)
	p.write("d999")
	p.key(ui.KeyEnter)
	assert.NotEmpty(t, p.desk.page.deviation.Fault())
	assert.True(t, ui.Is(p.desk.kit.Focus, p.desk.page.deviation), "what cannot be taken stays to be mended")
}

// An example that was changed does not keep a note that tells of something else once it
// is saved under a name of its own; what somebody wrote himself stays.
func TestNoteOfAnExampleSavedAsOnesOwn(t *testing.T) {
	p, _ := shelved(t, nil)
	save := func(name string) {
		p.ctrl('s', true)
		p.write(name)
		p.key(ui.KeyEnter)
		require.Equal(t, name, p.desk.heading())
	}
	note := p.desk.doc.Scene().Note
	require.NotEmpty(t, note)
	save("As it is")
	assert.Equal(t, note, p.desk.doc.Scene().Note)
	p.write("d6 exo")
	p.key(ui.KeyEnter)
	save("Six")
	assert.Equal(t, note, p.desk.doc.Scene().Note, "of a file of one's own")

	sc, id, err := scenes.Open(scenes.DefaultName)
	require.NoError(t, err)
	p.desk.Open(document.New(sc, "").From(id))
	p.write("d7 exo")
	p.key(ui.KeyEnter)
	save("Seven")
	assert.Empty(t, p.desk.doc.Scene().Note)
}

// What was rejected at one bead is not shown at another.
func TestRejectedTextStaysAtItsBead(t *testing.T) {
	sc, _, err := scenes.Open(scenes.DefaultName)
	require.NoError(t, err)
	p := sitBefore(t, sc, "en", Settings{Page: setupPage, Groups: allGroups}, 1600, 6000, 1)
	n := p.widget("key beads[].at_mm").(*ui.Number)
	p.desk.kit.SetFocus(n)
	p.write("9999")
	p.key(ui.KeyEnter)
	require.NotEmpty(t, n.Fault())
	p.desk.chooseBead((p.desk.bead + 1) % 3)
	p.update()
	assert.Empty(t, p.widget("key beads[].at_mm").(*ui.Number).Fault())
	assert.False(t, n.Open())
}

// Letters alone do nothing where that was chosen; with Ctrl they do.
func TestLettersCanBeTurnedOff(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	p.desk.NoLetters = true
	p.write("cmf3")
	assert.False(t, p.desk.compare || p.desk.marks || p.desk.family)
	assert.Equal(t, viewsPage, p.desk.Page)
	p.in.CoverRight = true
	p.update()
	assert.Equal(t, sim.Neither, p.desk.covered)
	p.in.CoverRight = false
	p.ctrl('o', false)
	assert.NotNil(t, p.desk.over)
}

// A cover can be held without holding a key: Enter on its button keeps it, and again takes
// it away, as does going on.
func TestCoverIsKept(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	p.desk.kit.SetFocus(p.widget("cover right"))
	p.key(ui.KeyEnter)
	assert.Equal(t, sim.Right, p.desk.covered)
	p.key(ui.KeyEnter)
	assert.Equal(t, sim.Neither, p.desk.covered)
	p.write(" ")
	assert.Equal(t, sim.Right, p.desk.covered)
	p.key(ui.KeyTab)
	p.update()
	assert.Equal(t, sim.Neither, p.desk.covered)
}

// An error stays until it is read; news goes at the next press after a while.
func TestNewsIsRead(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	p.desk.Warn("scene.toml:3:1: look.bead: no bead is called x; allowed are orange, sky, plum " + io.EOF.Error())
	p.update()
	checkPage(t, p.desk, "an error")
	p.in.Seconds += 60
	p.click(middle(p.desk.layout.sentence))
	assert.NotEmpty(t, p.desk.News())
	p.key(ui.KeyEscape)
	assert.Empty(t, p.desk.News())
	p.desk.Tell("done")
	p.click(middle(p.desk.layout.sentence))
	assert.NotEmpty(t, p.desk.News(), "nobody reads so fast")
	p.in.Seconds += 60
	p.click(middle(p.desk.layout.sentence))
	assert.Empty(t, p.desk.News())
}

// What is pressed or turned on the plate of news does nothing to what is under it, on the page
// and on a page over it; its buttons are pressed all the same.
func TestNewsTakesWhatIsPressedOnIt(t *testing.T) {
	p, _ := shelved(t, nil)
	p.desk.given.Show = func(string, bool) error { return nil }
	everywhere := func(what string) {
		p.desk.wrote([]string{"a.pdf"})
		p.update()
		r := p.desk.layout.news.area
		over, zoom, title := p.desk.over, p.desk.zoom, p.desk.heading()
		for y := r.Y + 2; y < r.Y+r.H; y += 6 {
			for x := r.X + 2; x < r.X+r.W; x += 6 {
				at := display.Point{X: x, Y: y}
				if slices.ContainsFunc(p.desk.news.buttons, func(b ui.Widget) bool { return ui.Inside(b.Self().Area, at) }) {
					continue
				}
				p.in.Wheel = 1
				p.click(at)
				require.Same(t, p.desk.news.plate, p.desk.kit.Hover, "%s, at %v", what, at)
			}
		}
		assert.Equal(t, []any{over, zoom, title}, []any{p.desk.over, p.desk.zoom, p.desk.heading()}, what)
		p.click(middle(p.widget("open folder").Self().Area))
		assert.NotEmpty(t, p.desk.News())
		p.click(middle(p.widget("news close").Self().Area))
		assert.Empty(t, p.desk.News(), what)
	}
	everywhere("over the picture")
	p.desk.openGallery()
	p.update()
	everywhere("over the gallery")
	p.desk.Tell("done")
	p.update()
	for _, name := range []string{"close", "find"} {
		a, r := p.widget(name).Self().Area, p.desk.layout.news.area
		assert.True(t, a.Y+a.H <= r.Y, "%s is free", name)
	}
	p.click(middle(p.widget("close").Self().Area))
	assert.Nil(t, p.desk.over)
}

// The faults of a file stand a line each, and however many there are, on the picture.
func TestManyFaultsAreTold(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	var faults []string
	for i := range 3 {
		faults = append(faults, fmt.Sprintf("scene.toml:%d:1:  is not known here", i+1))
	}
	p.desk.Warn(strings.Join(faults, "\n"))
	p.update()
	require.Len(t, p.desk.layout.news.lines, 3)
	assert.Equal(t, "scene.toml:2:1: is not known here", p.desk.layout.news.lines[1])

	p.desk.Warn(strings.Repeat(strings.Join(faults, "\n")+"\n", 100))
	p.update()
	checkPage(t, p.desk, "faults")
	picture, news := p.desk.layout.picture, p.desk.layout.news
	assert.LessOrEqual(t, news.area.Y+news.area.H, picture.Y+picture.H)
	assert.Equal(t, "…", news.lines[len(news.lines)-1], "there is more")
}

// A cover that is held turns the eyes as in the chair: not at once, and back again when it
// is taken away; at rest nothing asks for frames.
func TestCoverTurnsTheEyes(t *testing.T) {
	p := sit(t, "too-near-doubled")
	p.desk.doc.Edit("", func(sc *scenes.Scene) { sc.Setup.Posture.Fixing = sim.Right })
	p.update()
	left := func() float64 { return float64(p.desk.view.Eyes[sim.LeftEye].Azimuth) }
	before := left()
	p.in.CoverRight = true
	p.update()
	assert.InDelta(t, before, left(), 1e-6, "they need a moment")
	assert.Equal(t, sim.Right, p.desk.view.Account.Missing)
	p.seconds(3)
	taken := left()
	assert.Greater(t, taken-before, -1.)
	assert.NotEqual(t, before, taken, "the left eye took up fixation")
	due := func() bool { _, ok := p.desk.Due(); return ok }
	assert.False(t, due(), "at rest, with the cover held")
	p.in.CoverRight = false
	p.seconds(6)
	assert.InDelta(t, before, left(), 1e-9)
	assert.False(t, due())
}

// While a film is made, one button and Esc stop it, and nothing else can be changed.
func TestAFilmIsStoppedByWhatClosesItsPanel(t *testing.T) {
	h := starting(t, scenes.DefaultName)
	job := &lasting{}
	h.desk.given.Film = func(string, *scenes.Scene, scenes.Identity, *words.Words, FilmSize, FilmKind) FilmJob { return job }
	h.desk.film()
	h.update()
	h.clickName("make film")
	h.update()
	assert.False(t, job.stopped)
	for _, name := range []string{"make film", "film size", "film kind"} {
		assert.True(t, h.widget(name).Self().Off, name)
	}
	assert.Equal(t, "close", h.desk.kit.Focus.Self().Name)
	h.pressEnter()
	assert.True(t, job.stopped)
	assert.Equal(t, h.desk.say.Label(words.FilmStopped), h.desk.News())
	h.update()
	assert.Nil(t, h.desk.over)
}
