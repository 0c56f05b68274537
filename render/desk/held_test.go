package desk

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/ui"
	"twincord/scenes"
	"twincord/sim"
)

// hold is a key that is held and counts once more.
func (p *person) hold(press ui.Press) {
	press.Again = true
	p.in.Keys = []ui.Press{press}
	p.update()
}

// A key that is held presses nothing a second time: a page is closed, a case gone on to and
// a list chosen from by a press of its own.
func TestWhatIsPressedIsPressedOnce(t *testing.T) {
	p, r := practising(t, "walk-of-ten")
	p.key(ui.KeyEnter)
	p.hold(ui.Press{Key: ui.KeyEnter})
	assert.Equal(t, 1, r.at)
	for !r.over {
		p.key(ui.KeyEnter)
	}
	p.update()
	p.hold(ui.Press{Key: ui.KeyEnter})
	assert.Same(t, r, p.desk.over, "the end page stays")
	p.hold(ui.Press{Key: ui.KeyEscape})
	assert.Same(t, r, p.desk.over)
	p.key(ui.KeyEnter)
	assert.Nil(t, p.desk.over)

	p = sit(t, "middle-of-three")
	p.key(ui.KeyF10)
	p.hold(ui.Press{Key: ui.KeyEnter})
	_, open := p.desk.kit.Popped()
	assert.True(t, open)
	p.hold(ui.Press{Key: ui.KeyDown})
	assert.Equal(t, p.desk.page.menu.Items()[1].Hint, p.desk.Hint(), "but it moves on")
	p.key(ui.KeyEscape)
	p.key(ui.KeyF11)
	p.hold(ui.Press{Key: ui.KeyF11})
	assert.True(t, p.desk.FullScreen())
}

// Of the commands with Ctrl, undoing and redoing go on while the keys are held, and no other.
func TestWhatGoesOnWhileItIsHeld(t *testing.T) {
	p := starting(t, "middle-of-three")
	for i := range 4 {
		p.desk.doc.Edit("", func(sc *scenes.Scene) { sc.Setup.Posture.Deviation = sim.Prism(i + 1) })
	}
	p.update()
	ctrl := func(r rune) ui.Press { return ui.Press{Key: ui.KeyLetter, Ctrl: true, Letter: r} }
	p.in.Keys = []ui.Press{ctrl('z')}
	p.update()
	p.hold(ctrl('z'))
	p.hold(ctrl('z'))
	assert.Equal(t, sim.Prism(1), p.setup().Posture.Deviation)
	p.hold(ctrl('y'))
	assert.Equal(t, sim.Prism(2), p.setup().Posture.Deviation)
	p.hold(ctrl('o'))
	assert.Nil(t, p.desk.over)
	p.hold(ui.Press{Key: ui.KeyLetter, Ctrl: true, Shift: true, Letter: 's'})
	assert.Nil(t, p.desk.over)

	p.desk.kit.SetFocus(p.widget("target"))
	before := p.desk.view.Target.At
	p.hold(ui.Press{Key: ui.KeyLeft})
	assert.Less(t, p.desk.view.Target.At, before)
}

// A letter that is held is written again where somebody writes. It is no command again: a
// look, or a picture beside the other, that changes as often would flash.
func TestALetterThatIsHeld(t *testing.T) {
	p := sit(t, "middle-of-three")
	again := func(text string) {
		p.in.Again = true
		p.write(text)
	}
	p.write("t")
	again("t")
	again("ttt")
	assert.True(t, p.desk.Light)
	p.write("c")
	again("c")
	assert.True(t, p.desk.compare)
	wide := p.desk.fieldOfView()
	p.write("-")
	again("-")
	assert.InEpsilon(t, wide*zoomStep*zoomStep, p.desk.fieldOfView(), 1e-12, "one goes back for as long")
	again("++")
	assert.InEpsilon(t, wide, p.desk.fieldOfView(), 1e-12)
	p.key(ui.KeyF10)
	again(" ")
	_, open := p.desk.kit.Popped()
	assert.True(t, open, "nothing is chosen")
	p.key(ui.KeyEscape)
	p.desk.kit.SetFocus(p.widget("compare"))
	p.write(" ")
	again(" ")
	assert.False(t, p.desk.compare)

	p.desk.openGallery()
	p.write("a")
	again("aa")
	assert.Equal(t, "aaa", p.desk.over.(*gallery).words)
}

// What was pressed before something was typed comes before it, and what was pressed after it
// comes after it, all in one turn.
func TestKeysBeforeAndAfterWhatIsTyped(t *testing.T) {
	p := sit(t, "middle-of-three")
	p.desk.openKeys()
	p.in.Keys, p.in.Early = []ui.Press{{Key: ui.KeyEscape}}, 1
	p.write("c")
	assert.Nil(t, p.desk.over)
	assert.True(t, p.desk.compare, "it is a command of the page again")

	p.write("d")
	p.in.Keys, p.in.Early = []ui.Press{{Key: ui.KeyEscape}, {Key: ui.KeyEnter}, {Key: ui.KeyEnter}}, 2
	p.write("4 exo")
	assert.Equal(t, sim.Prism(-4), p.setup().Posture.Deviation)

	p.in.Keys = []ui.Press{{Key: ui.KeyEscape}}
	p.write("e")
	require.Nil(t, p.desk.over, "opened and closed again")
}
