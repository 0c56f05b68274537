package desk

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// has says whether what is called so has the focus, and shows it.
func (p *person) has(name string) {
	p.t.Helper()
	require.NotNil(p.t, p.desk.kit.Focus, "nothing has the focus")
	assert.Equal(p.t, name, p.desk.kit.Focus.Self().Name)
	assert.True(p.t, p.desk.kit.Ring, "who uses keys sees where they go")
}

// The caution of the first start is acknowledged, and nothing on the page moves.
func TestFirstCautionLeavesThePicture(t *testing.T) {
	h := starting(t, scenes.DefaultName)
	require.True(t, h.desk.introducing())
	was := h.desk.layout.picture
	h.key(ui.KeyEscape)
	require.False(t, h.desk.introducing())
	assert.Equal(t, was, h.desk.layout.picture)
}

// Esc leaves what came last: a panel before the news that were there when it was opened,
// news that were told over a panel before the panel.
func TestEscapeLeavesWhatCameLast(t *testing.T) {
	p, _ := shelved(t, nil)
	p.desk.Warn("before")
	p.ctrl('s', true)
	require.IsType(t, &namePanel{}, p.desk.over)
	p.key(ui.KeyEscape) // the name stays as it was
	p.key(ui.KeyEscape)
	assert.Nil(t, p.desk.over)
	assert.Equal(t, "before", p.desk.News())
	p.key(ui.KeyEscape)
	assert.Empty(t, p.desk.News())

	p.ctrl('o', false)
	p.desk.Warn("over it")
	p.key(ui.KeyEscape)
	assert.Empty(t, p.desk.News())
	assert.NotNil(t, p.desk.over)
	p.desk.Warn("over it")
	p.click(middle(p.widget("close").Self().Area))
	p.key(ui.KeyEscape)
	assert.Empty(t, p.desk.News(), "what it was told over is gone")
}

// A routine goes on when its scene is called otherwise, and begins anew when it is another
// one; without one it ends, and says so.
func TestRoutineGoesOnUnderANewTitle(t *testing.T) {
	p, r := practising(t, "walk-of-ten")
	change := func(f func(*scenes.Scene)) {
		p.desk.doc.Edit("", f)
		p.update()
	}
	p.click(middle(p.widget("next").Self().Area))
	change(func(sc *scenes.Scene) { sc.Title, sc.Note = "another", "other words" })
	require.Same(t, r, p.desk.over)
	assert.Equal(t, 1, r.at)
	change(func(sc *scenes.Scene) { sc.Setup.Patient.PD++ })
	require.IsType(t, r, p.desk.over)
	require.NotSame(t, r, p.desk.over)
	assert.Zero(t, p.desk.over.(*practice).at)
	change(func(sc *scenes.Scene) { sc.Routine = sim.Maybe[scenes.Routine]{} })
	assert.Nil(t, p.desk.over)
	assert.Equal(t, p.desk.say.Label(words.HintNoRoutine), p.desk.News())
}

// Where there is no routine its button is dead, and its keys say why.
func TestWithoutARoutine(t *testing.T) {
	for _, press := range []func(*person){func(p *person) { p.write("r") }, func(p *person) { p.ctrl('p', false) }} {
		p := sit(t, scenes.DefaultName)
		m := p.widget("menu").(*ui.Menu)
		for i, item := range m.Items() {
			if name := menuNames[i]; name == "practise" || name == "sheet" {
				assert.True(t, item.Off, name)
			}
		}
		press(p)
		assert.Nil(t, p.desk.over)
		assert.Equal(t, p.desk.say.Label(words.HintNoRoutine), p.desk.News())
	}
}

// What a page of the column has below its foot is read by keys too.
func TestColumnScrollsByKeys(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	p.desk.kit.SetFocus(p.desk.page.tabs)
	p.key(ui.KeyTab)
	p.has("page")
	s := p.desk.page.columns[viewsPage].scroll
	require.True(t, s.Long())
	p.key(ui.KeyDown)
	assert.Positive(t, s.Top)
	p.key(ui.KeyEnd)
	assert.InDelta(t, s.Height-s.Area.H, s.Top, 1e-9)
	p.key(ui.KeyPageUp)
	p.key(ui.KeyHome)
	assert.Zero(t, s.Top)
	p.in.H = 2000
	p.update()
	assert.False(t, s.Long())
	assert.True(t, s.Skip, "there is nothing to scroll")
}

// What has the focus by keys is clear of the foot of the column.
func TestFocusIsClearOfTheFoot(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	p.write("2")
	p.desk.kit.SetFocus(p.desk.page.tabs)
	scrolled := false
	for range 60 {
		p.key(ui.KeyTab)
		p.update()
		b := p.desk.kit.Focus.Self()
		if b.Within.H == 0 {
			continue
		}
		s := p.desk.page.columns[setupPage].scroll
		foot := s.Area.Y + s.Area.H
		if s.Top < s.Height-s.Area.H-1 {
			foot -= ui.Edge * p.desk.kit.Unit
			scrolled = scrolled || s.Top > 0
		}
		assert.LessOrEqual(t, b.Area.Y+b.Area.H, foot+1, b.Name)
	}
	assert.True(t, scrolled)
}

// What is closed gives the focus back to what had it.
func TestFocusComesBack(t *testing.T) {
	for _, open := range []func(*person){
		func(p *person) { p.ctrl('o', false) }, func(p *person) { p.key(ui.KeyF1) }, func(p *person) { p.ctrl('s', true) },
	} {
		p, _ := shelved(t, nil)
		p.key(ui.KeyTab)
		p.key(ui.KeyTab)
		p.has("meeting")
		open(p)
		require.NotNil(t, p.desk.over)
		for p.desk.over != nil {
			p.key(ui.KeyEscape)
		}
		p.has("meeting")
	}
}

// A page that is turned takes the focus along from what it hides: nothing unseen takes
// keys.
func TestTurningAPageTakesTheFocusAlong(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	p.write("2")
	n := p.widget("key patient.age_years")
	p.desk.kit.SetFocus(n)
	age := p.setup().Patient.Age
	p.ctrl('3', false)
	p.has("tabs")
	p.key(ui.KeyTab)
	p.key(ui.KeyUp)
	assert.Equal(t, age, p.setup().Patient.Age)

	p.desk.kit.SetFocus(p.widget("meeting"))
	p.write("1")
	p.has("meeting")
}

// Who uses keys is shown what they do; what the pointer happens to be on is not marked
// then.
func TestKeysShowWhereTheyGo(t *testing.T) {
	p, r := practising(t, "walk-of-ten")
	p.has("next")
	p.moveTo(middle(r.good.Area))
	assert.True(t, p.desk.kit.Hot(r.good))
	p.key(ui.KeyTab)
	assert.False(t, p.desk.kit.Hot(r.good))
	p.click(display.Point{X: 5, Y: 5})
	assert.False(t, p.desk.kit.Ring, "who uses the pointer sees it there")
}

// What has the focus by keys is scrolled to, but the wheel scrolls on from it, until another
// key is used.
func TestTheWheelScrollsAwayFromTheFocus(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	p.write("2")
	p.key(ui.KeyTab)
	s := p.desk.page.columns[setupPage].scroll
	p.in.Pointer = middle(s.Area)
	p.update()
	p.key(ui.KeyTab)
	focus := p.desk.kit.Focus
	require.True(t, p.desk.kit.Ring)
	was := s.Top
	for range 3 {
		p.in.Wheel = -3
		p.update()
		p.update()
	}
	assert.InDelta(t, min(was+540, s.Height-s.Area.H), s.Top, 1)
	assert.True(t, ui.Is(focus, p.desk.kit.Focus))
	p.key(ui.KeyUp)
	p.update()
	assert.LessOrEqual(t, s.Top, focus.Self().Area.Y+s.Top-s.Area.Y+1, "a key comes back to it")
	b := focus.Self().Area
	assert.True(t, b.Y >= s.Area.Y-1 && b.Y+b.H <= s.Area.Y+s.Area.H+1, "%v in %v", b, s.Area)
}

// Saving is one press away also while the list of sizes or of files is open.
func TestSavingFromAnOpenList(t *testing.T) {
	for _, open := range []func(p *person){
		func(p *person) { p.write("2"); p.key(ui.KeyEnter) },
		func(p *person) { p.key(ui.KeyF10) },
	} {
		p, _ := shelved(t, nil)
		open(p)
		_, listed := p.desk.kit.Popped()
		require.True(t, listed)
		p.ctrl('s', false)
		assert.IsType(t, &namePanel{}, p.desk.over)
		_, listed = p.desk.kit.Popped()
		assert.False(t, listed)
	}
}
