package ui

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/render/display"
	"twincord/render/theme"
)

// listed is a kit with a folded choice that has the focus.
func listed(texts ...string) (*Kit, *Choice, *int) {
	at := new(int)
	o := &Choice{Base: Base{Area: display.Rect{W: 100, H: 40}}, Texts: texts, Folded: true, Get: func() int { return *at }, Set: func(i int) { *at = i }}
	k := &Kit{Theme: &theme.Dark, Unit: 1, Text: 1, Focus: o}
	o.Refresh(k)
	return k, o, at
}

// What is typed into a list finds the next item with a word that begins so.
func TestSeekingInAList(t *testing.T) {
	turn := func(k *Kit, seconds float64, text string, keys ...Key) {
		in := &Input{W: 800, H: 600, Seconds: seconds, Text: []rune(text)}
		for _, key := range keys {
			in.Keys = append(in.Keys, Press{Key: key})
		}
		k.Turn(in, []Widget{k.Focus}, func(Press) {}, func(rune, bool) {})
	}
	for name, c := range map[string]struct {
		typed []string // a while between
		want  int
	}{
		"a word in the middle":       {[]string{"7"}, 2},
		"more letters":               {[]string{"child of 1"}, 3},
		"the next of that letter":    {[]string{"c"}, 1},
		"and the one after it":       {[]string{"c", "c"}, 2},
		"and at once":                {[]string{"cc"}, 2},
		"round to the first":         {[]string{"a", "a"}, 0},
		"large or small":             {[]string{"WOMAN"}, 4},
		"nothing: it stays":          {[]string{"x"}, 0},
		"the end of a word is none":  {[]string{"hild"}, 0},
		"a mistake is soon forgiven": {[]string{"x", "w"}, 4},
	} {
		k, _, at := listed("adult", "child of 5", "child of 7", "child of 10", "woman")
		turn(k, 0, "", KeyEnter)
		for i, s := range c.typed {
			turn(k, float64(2*(i+1)), s)
		}
		turn(k, 10, " ")
		assert.Equal(t, c.want, *at, name)
		_, open := k.Popped()
		assert.False(t, open, name)
	}
}

// Keys of one turn go where those before them have led.
func TestKeysOfOneTurn(t *testing.T) {
	k, o, at := listed("one", "two", "three")
	keys := []Press{{Key: KeyEnter}, {Key: KeyDown}, {Key: KeyDown}, {Key: KeyEnter}, {Key: KeyLeft}}
	k.Turn(&Input{W: 800, H: 600, Keys: keys}, []Widget{o}, func(Press) {}, func(rune, bool) {})
	assert.Equal(t, 1, *at, "third of the list, and one back in the choice itself")
}

// A command closes a list that is open and is done; what the list has a use for goes no farther,
// and nothing of it is chosen.
func TestCommandsLeaveAList(t *testing.T) {
	for key, want := range map[Key]bool{KeyLetter: true, KeyF1: true, KeyF11: true, KeyDown: false, KeyTab: false, KeyEscape: false, KeyPageDown: false} {
		k, o, at := listed("one", "two")
		var heard []Press
		turn := func(p Press) {
			k.Turn(&Input{W: 800, H: 600, Keys: []Press{p}}, []Widget{o}, func(p Press) { heard = append(heard, p) }, func(rune, bool) {})
		}
		turn(Press{Key: KeyEnter})
		command := Press{Key: key, Ctrl: true, Letter: 's'}
		turn(command)
		_, open := k.Popped()
		assert.Equal(t, key == KeyDown || key == KeyPageDown, open, "%d", key)
		if want {
			assert.Equal(t, []Press{command}, heard, "%d", key)
		} else {
			assert.Empty(t, heard, "%d", key)
		}
		assert.Zero(t, *at)
	}
}

// Up and down go from heading to heading, past what is between and what is not shown.
func TestHeadings(t *testing.T) {
	fold := func(w float64) *Fold {
		return &Fold{Base: Base{Area: display.Rect{W: w, H: 30}}, Open: func() bool { return false }, Toggle: func() {}}
	}
	first, hidden, last := fold(100), fold(0), fold(100)
	k := &Kit{Theme: &theme.Dark, Unit: 1, Text: 1, Focus: first}
	ws := []Widget{&Number{}, first, &Choice{}, hidden, &Choice{}, last, &Choice{}}
	press := func(key Key) Widget {
		k.Turn(&Input{Keys: []Press{{Key: key}}}, ws, func(Press) { t.Error("nobody else gets it") }, func(rune, bool) {})
		return k.Focus
	}
	assert.Same(t, last, press(KeyDown))
	assert.Same(t, last, press(KeyDown))
	assert.Same(t, first, press(KeyUp))
	assert.Same(t, first, press(KeyUp))
	assert.True(t, k.Ring)
}
