package window

import (
	"slices"
	"strings"
	"unicode"

	"github.com/atotto/clipboard"
	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/inpututil"

	"twincord/render/desk"
	"twincord/render/ui"
)

// keys are the keys that mean something to a desk.
var keys = map[ebiten.Key]ui.Key{
	ebiten.KeyTab: ui.KeyTab, ebiten.KeyEnter: ui.KeyEnter, ebiten.KeyNumpadEnter: ui.KeyEnter,
	ebiten.KeyEscape: ui.KeyEscape, ebiten.KeyBackspace: ui.KeyBackspace, ebiten.KeyF11: ui.KeyF11,
	ebiten.KeyArrowLeft: ui.KeyLeft, ebiten.KeyArrowRight: ui.KeyRight,
	ebiten.KeyArrowUp: ui.KeyUp, ebiten.KeyArrowDown: ui.KeyDown,
	ebiten.KeyPageUp: ui.KeyPageUp, ebiten.KeyPageDown: ui.KeyPageDown,
	ebiten.KeyHome: ui.KeyHome, ebiten.KeyEnd: ui.KeyEnd, ebiten.KeyDelete: ui.KeyDelete, ebiten.KeyF1: ui.KeyF1,
	ebiten.KeyF10: ui.KeyF10,
}

// typed adds to an input what was done with the keyboard.
func (g *game) typed(in *desk.Input) {
	held := func(k ebiten.Key) bool {
		return ebiten.IsKeyPressed(k) || inpututil.IsKeyJustPressed(k) || inpututil.IsKeyJustReleased(k)
	}
	shift := held(ebiten.KeyShift)
	ctrl := held(ebiten.KeyControl) || held(ebiten.KeyMeta)
	// Places, not letters: they are under the thumbs on every layout.
	in.CoverRight = ebiten.IsKeyPressed(ebiten.KeyN) && !ctrl
	in.CoverLeft = ebiten.IsKeyPressed(ebiten.KeyV) && !ctrl
	meaning := func(k ebiten.Key) (p ui.Press, ok bool) {
		p = ui.Press{Shift: shift, Ctrl: ctrl}
		if p.Key, ok = keys[k]; ok {
			return p, true
		}
		if name, writes := letter(k); ctrl && writes {
			p.Key, p.Letter = ui.KeyLetter, name
			return p, true
		}
		return p, false
	}
	// A key may have been let go again since the last tick: it was pressed all the same.
	g.keys = inpututil.AppendJustPressedKeys(g.keys[:0])
	var writing ends
	for _, k := range g.keys {
		if _, writes := letter(k); writes && !ctrl {
			writing.add(k)
			g.writes = k
		}
	}
	g.text, g.presses = ebiten.AppendInputChars(g.text[:0]), g.presses[:0]
	in.Again = len(g.text) > 0 && writing == ends{} && ebiten.IsKeyPressed(g.writes)
	for _, k := range g.keys {
		p, ok := meaning(k)
		if !ok {
			continue
		}
		g.repeat.begin(k, in.Seconds)
		var own ends
		if own.add(k); own.before(writing, p.Key) {
			g.presses = slices.Insert(g.presses, in.Early, p)
			in.Early++
		} else {
			g.presses = append(g.presses, p)
		}
	}
	if !ebiten.IsKeyPressed(g.repeat.key) {
		g.repeat.end()
	}
	if g.repeat.counts(in.Seconds) {
		if p, ok := meaning(g.repeat.key); ok {
			p.Again = true
			g.presses = append(g.presses, p)
		}
	}
	if ctrl && inpututil.IsKeyJustPressed(ebiten.KeyV) && g.desk.Writes() {
		g.paste()
	}
	in.Text, in.Keys = g.text, g.presses
}

// letter is the lower-case letter or sign that a key writes on the keyboard's layout.
func letter(k ebiten.Key) (r rune, writes bool) {
	if k == ebiten.KeySpace {
		return ' ', true
	}
	name := []rune(ebiten.KeyName(k))
	if len(name) != 1 {
		return 0, false
	}
	return unicode.ToLower(name[0]), true
}

// ends are how many of some keys that were pressed in one tick are still down at its end, and
// how many were let go already.
type ends struct{ down, up int }

func (e *ends) add(k ebiten.Key) {
	if inpututil.KeyPressDuration(k) > 0 {
		e.down++
	} else {
		e.up++
	}
}

// before says whether a key was pressed before what was written in the same tick. Ebitengine
// tells what was pressed in a tick, not in which order; but of two keys the one that was let go
// already was pressed before the one that is still down. Where that tells nothing, Escape is the
// first: written before it, a letter would be lost with what Escape leaves, and nothing is lost
// the other way round. Every other key is the last, as Enter and Tab are after a number.
func (e ends) before(written ends, key ui.Key) bool {
	switch {
	case written == ends{}:
		return false
	case e.down == 0 && written.up == 0:
		return true
	case e.up == 0 && written.down == 0:
		return false
	}
	return key == ui.KeyEscape
}

// paste adds the first line of the clipboard to what is typed.
func (g *game) paste() {
	text, err := clipboard.ReadAll()
	if err != nil {
		g.desk.Warn(err.Error())
		return
	}
	for _, r := range strings.TrimSpace(text) {
		if !unicode.IsPrint(r) {
			return
		}
		g.text = append(g.text, r)
	}
}
