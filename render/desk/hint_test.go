package desk

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// nowhere is a place of the page with nothing to be pointed at.
var nowhere = display.Point{X: -1, Y: -1}

// What the foot of the page says is about what is pulled, before what keys are on, before
// what is pointed at; without any of them it is what to heed, or what there is to pull.
func TestWhatTheHintIsAbout(t *testing.T) {
	p := sit(t, "middle-of-three")
	d := p.desk
	any, care := d.say.Label(words.HintAny), d.say.Label(words.CautionSuppression)
	hint := func(name string) string { return d.keyed(p.widget(name)) }
	p.moveTo(nowhere)
	assert.Equal(t, any, d.Hint())
	p.moveTo(middle(p.widget("scenes").Self().Area))
	assert.Equal(t, hint("scenes"), d.Hint())
	p.tabTo("target")
	assert.Equal(t, hint("target"), d.Hint(), "who uses keys is told of what they are on")
	p.moveTo(middle(p.widget("undo").Self().Area))
	assert.Equal(t, hint("undo"), d.Hint(), "and who moves the pointer of what it is on")
	p.moveTo(middle(d.layout.picture))
	d.kit.Hover = d.page.picture
	assert.Equal(t, hint("target"), d.Hint(), "what is behind gives way to what has the focus")
	p.press(middle(p.widget("bead plum").Self().Area))
	p.moveTo(middle(p.widget("scenes").Self().Area))
	assert.Equal(t, hint("bead plum"), d.Hint(), "while it is pulled")
	p.key(ui.KeyEscape)
	p.lift()
	d.kit.SetFocus(nil)
	p.moveTo(nowhere)

	d.edit("", func(s *sim.Setup) { s.Suppression.Eye = sim.Right })
	p.update()
	assert.Equal(t, care, d.Hint(), "with nothing to say, what to heed")
	d.kit.Hover = d.page.picture
	assert.Equal(t, care, d.Hint(), "what is behind says nothing of its own then")
	p.moveTo(middle(p.widget("scenes").Self().Area))
	assert.Equal(t, hint("scenes"), d.Hint())
	d.openGallery()
	p.update()
	d.kit.SetFocus(nil)
	p.moveTo(nowhere)
	d.kit.Hover = nil
	assert.Equal(t, d.say.Label(words.HintClose), d.Hint(), "over the page, how to leave")
}

// What a hint says of keys is what they do: a letter is one only where letters are taken.
func TestHintsHaveTheirKeys(t *testing.T) {
	p := sit(t, "middle-of-three")
	d := p.desk
	for _, c := range []struct{ name, keys, without string }{
		{"undo", "Ctrl+Z", "Ctrl+Z"}, {"compare", "C", ""}, {"family", "F, F11", "F11"},
		{"cover right", d.say.Label(words.KeyRightCover), ""}, {"cover left", d.say.Label(words.KeyLeftCover), ""},
	} {
		w := p.widget(c.name)
		for no, keys := range map[bool]string{false: c.keys, true: c.without} {
			d.NoLetters = no
			want := w.Self().Hint
			if keys != "" {
				want = d.say.Filled(words.HintKeyed, "Hint", want, "Keys", keys)
			}
			assert.Equal(t, want, d.keyed(w), "%s, no letters %v", c.name, no)
		}
	}
}

// At true size the foot of the page says what is not true of it, but not of what lies over
// it, nor while something is pulled.
func TestWhatIsNotTrueIsSaid(t *testing.T) {
	p, _ := shelved(t, nil)
	d := p.desk
	d.measured().Distance, d.measured().PixelsPerMM = 600, 3
	p.write("z")
	require.True(t, d.trueSize)
	p.in.W, p.in.H = 800, 600
	p.update()
	require.True(t, d.tooSmall())
	small := d.say.Label(words.TrueTooSmall)
	assert.Equal(t, small, d.Hint())
	p.press(middle(p.widget("target").Self().Area))
	assert.NotEqual(t, small, d.Hint())
	p.lift()
	d.openKeys()
	p.update()
	assert.NotEqual(t, small, d.Hint())
	p.key(ui.KeyEscape)
	p.write("0")
	assert.NotEqual(t, small, d.Hint(), "the whole is no true size")
}

// The family's screen says at its edge what the picture is not, or what to heed, and how to
// leave where that is pointed at; where it follows another window, wherever the pointer is.
func TestTheEdgeOfTheFamilysScreen(t *testing.T) {
	p, _ := shelved(t, nil)
	d := p.desk
	p.write("f")
	p.moveTo(nowhere)
	assert.Equal(t, d.say.Label(words.CautionEdge), d.edge())
	p.moveTo(middle(p.widget("leave").Self().Area))
	assert.Equal(t, p.widget("leave").Self().Hint, d.edge())
	p.moveTo(middle(d.layout.picture))
	assert.Equal(t, d.say.Label(words.CautionEdge), d.edge())
	d.edit("", func(s *sim.Setup) { s.Suppression.Eye = sim.Right })
	p.update()
	assert.Equal(t, d.say.Label(words.CautionSuppression), d.edge())

	p, _ = shelved(t, func(o *Options) { o.Follow = true })
	d = p.desk
	p.moveTo(middle(d.layout.picture))
	assert.Equal(t, d.page.leave.Hint, d.edge())
	p.moveTo(nowhere)
	assert.Equal(t, d.say.Label(words.CautionEdge), d.edge())
}

// What is copied is the scene, both sentences and every number with its name, once.
func TestWhatIsCopied(t *testing.T) {
	p := sit(t, "walk-with-findings")
	d := p.desk
	p.ctrl('c', false)
	text, ok := d.Copied()
	require.True(t, ok)
	want := d.heading() + "\n" + d.say.Family(&d.view) + "\n" + strings.Join(words.Texts(d.say.Clinical(&d.view)), "\n") + "\n"
	require.Greater(t, len(d.facts), 20)
	for _, f := range d.facts {
		want += f.label
		if f.value != "" {
			want += "\t" + f.value
		}
		want += "\n"
	}
	assert.Equal(t, want+d.say.Label(words.CautionEdge)+"\n", text)
	_, ok = d.Copied()
	assert.False(t, ok, "once")

	p.write("2")
	p.desk.kit.SetFocus(p.widget("key patient.pd_mm"))
	p.key(ui.KeyEnter)
	p.ctrl('a', false)
	p.ctrl('c', false)
	text, ok = d.Copied()
	assert.True(t, ok)
	assert.Equal(t, "62 mm", text, "of what is typed, what is marked")
}

// Numbers are worked out only where they are seen.
func TestNumbersAreCountedWhereTheyAreSeen(t *testing.T) {
	p := sit(t, "walk-with-findings")
	d := p.desk
	again := func() {
		d.facts = nil
		p.in.Seconds += 5
		d.edit("", func(s *sim.Setup) { s.Patient.PD++ })
		p.rest()
	}
	again()
	assert.Empty(t, d.facts, "on another page")
	d.turnTo(numbersPage)
	again()
	assert.NotEmpty(t, d.facts)
	p.write("f")
	again()
	assert.Empty(t, d.facts, "on the family's screen")
	p.write("f")
	d.foldColumn()
	again()
	assert.Empty(t, d.facts, "folded away")
	d.foldColumn()
	assert.NotEmpty(t, d.facts, "and they are there as soon as they are seen")
}

// What could not be shown is said.
func TestWhatCannotBeShown(t *testing.T) {
	var asked []bool
	p, _ := shelved(t, func(o *Options) {
		o.Show = func(file string, folder bool) error {
			assert.Equal(t, "a.pdf", file)
			if asked = append(asked, folder); folder {
				return errors.New("no program for that")
			}
			return nil
		}
	})
	p.desk.wrote([]string{"a.pdf", "a.html"})
	p.update()
	p.click(middle(p.widget("open file").Self().Area))
	assert.Contains(t, p.desk.News(), "a.pdf")
	p.click(middle(p.widget("open folder").Self().Area))
	assert.Equal(t, []bool{false, true}, asked)
	assert.Equal(t, "no program for that", p.desk.News())
	assert.True(t, p.desk.news.bad)
	for _, w := range p.desk.reached() {
		assert.NotEqual(t, "open file", w.Self().Name, "there is nothing to open")
	}
}

// A page of no size is laid out as it was.
func TestAPageOfNoSize(t *testing.T) {
	for _, size := range [][3]float64{{0, 800, 1}, {1280, 0, 1}, {1280, 800, 0}} {
		p := sit(t, scenes.DefaultName)
		was := p.desk.layout.picture
		p.in.W, p.in.H, p.in.Scale = size[0], size[1], size[2]
		p.update()
		assert.Equal(t, was, p.desk.layout.picture, "%v", size)
	}
}

// A long hint has two lines before it is small: whoever chose large type reads even the longest
// caution in type of nearly the usual size. All of it is there, at the foot of the page.
func TestALongHintHasTwoLines(t *testing.T) {
	for _, language := range words.Languages() {
		sc, _, err := scenes.Open("small-turn-left-out")
		require.NoError(t, err)
		for _, large := range []bool{false, true} {
			p := sitBefore(t, sc, language, Settings{Large: large}, 1024, 700, 1)
			p.moveTo(nowhere)
			d := p.desk
			hint := d.say.Label(words.CautionSuppression)
			require.Equal(t, hint, d.Hint())
			var page display.List
			d.Draw(&page)
			var lines []string
			for i := range page.Texts {
				x := &page.Texts[i]
				if !strings.Contains(hint, x.String) || !ui.Inside(d.layout.hint, x.Glyphs[0].At) {
					continue
				}
				lines = append(lines, x.String)
				b := bounds(x)
				assert.True(t, b.Y >= d.layout.hint.Y && b.Y+b.H <= p.in.H && b.X+b.W <= p.in.W, "%v", b)
				if large {
					assert.GreaterOrEqual(t, x.Size, 0.9*theme.Small)
				}
			}
			assert.Equal(t, hint, strings.Join(lines, " "))
		}
	}
}
