package ui

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// typed is a field of text under the hand of somebody who types.
func typed(text string) (*Kit, *TextField) {
	f := &TextField{Most: 20, Get: func() string { return text }, Set: func(s string) bool { text = s; return s != "no" }, Allowed: "not no"}
	k := &Kit{Focus: f}
	f.Begin()
	return k, f
}

func (f *TextField) writes(k *Kit, s string) {
	for _, c := range s {
		f.Typed(k, c)
	}
}

func TestEditingALine(t *testing.T) {
	ctrl := func(letter rune) Press { return Press{Key: KeyLetter, Ctrl: true, Letter: letter} }
	for name, c := range map[string]struct {
		keys []Press
		want string
	}{
		"what is selected is replaced":   {nil, "X"},
		"to the end":                     {[]Press{{Key: KeyEnd}}, "one two, threeX"},
		"to the beginning":               {[]Press{{Key: KeyHome}}, "Xone two, three"},
		"left of what is selected":       {[]Press{{Key: KeyLeft}}, "Xone two, three"},
		"right of what is selected":      {[]Press{{Key: KeyRight}}, "one two, threeX"},
		"one to the left of the end":     {[]Press{{Key: KeyEnd}, {Key: KeyLeft}}, "one two, threXe"},
		"a word to the left":             {[]Press{{Key: KeyEnd}, {Key: KeyLeft, Ctrl: true}}, "one two, Xthree"},
		"two words to the right":         {[]Press{{Key: KeyHome}, {Key: KeyRight, Ctrl: true}, {Key: KeyRight, Ctrl: true}}, "one twoX, three"},
		"selecting by keys":              {[]Press{{Key: KeyHome}, {Key: KeyRight, Shift: true}, {Key: KeyRight, Shift: true}, {Key: KeyRight, Shift: true}}, "X two, three"},
		"selecting to the end":           {[]Press{{Key: KeyHome}, {Key: KeyRight, Ctrl: true}, {Key: KeyEnd, Shift: true}}, "oneX"},
		"backspace":                      {[]Press{{Key: KeyEnd}, {Key: KeyBackspace}}, "one two, threX"},
		"backspace over a word":          {[]Press{{Key: KeyEnd}, {Key: KeyBackspace, Ctrl: true}}, "one two, X"},
		"delete":                         {[]Press{{Key: KeyHome}, {Key: KeyDelete}}, "Xne two, three"},
		"delete what is selected":        {[]Press{{Key: KeyDelete}}, "X"},
		"everything":                     {[]Press{{Key: KeyEnd}, ctrl('a')}, "X"},
		"everything, and cut":            {[]Press{{Key: KeyEnd}, ctrl('a'), ctrl('x')}, "X"},
		"as it was before the last key":  {[]Press{{Key: KeyEnd}, {Key: KeyBackspace}, ctrl('z')}, "one two, threeX"},
		"nothing farther than the start": {[]Press{{Key: KeyHome}, {Key: KeyLeft}, {Key: KeyBackspace}, {Key: KeyLeft, Ctrl: true}}, "Xone two, three"},
	} {
		t.Run(name, func(t *testing.T) {
			k, f := typed("one two, three")
			for _, p := range c.keys {
				assert.True(t, f.Press(k, p))
			}
			f.writes(k, "X")
			assert.Equal(t, c.want, string(f.text))
		})
	}
}

// A combining mark goes with the letter that it is on.
func TestMarksStayWithTheirLetters(t *testing.T) {
	k, f := typed("ae\u0301o")
	f.Press(k, Press{Key: KeyEnd})
	f.Press(k, Press{Key: KeyLeft})
	f.Press(k, Press{Key: KeyBackspace})
	assert.Equal(t, "ao", string(f.text))
}

func TestCuttingAndCopying(t *testing.T) {
	k, f := typed("one two")
	f.Press(k, Press{Key: KeyLetter, Ctrl: true, Letter: 'c'})
	assert.Equal(t, "one two", k.Cut())
	assert.Empty(t, k.Cut(), "once")
	assert.Equal(t, "one two", string(f.text))
	f.Press(k, Press{Key: KeyHome})
	f.Press(k, Press{Key: KeyRight, Shift: true, Ctrl: true})
	f.Press(k, Press{Key: KeyLetter, Ctrl: true, Letter: 'x'})
	assert.Equal(t, "one", k.Cut())
	assert.Equal(t, " two", string(f.text))
	f.Press(k, Press{Key: KeyLetter, Ctrl: true, Letter: 'c'})
	assert.Empty(t, k.Cut(), "nothing is selected")
}

// What cannot be taken stays as typed and says why; Esc gives back the old.
func TestTakingAText(t *testing.T) {
	k, f := typed("old")
	f.writes(k, "no")
	f.Press(k, Press{Key: KeyEnter})
	assert.True(t, f.Open())
	assert.Equal(t, "not no", f.Fault())
	f.Press(k, Press{Key: KeyEscape})
	assert.False(t, f.Open())
	assert.Empty(t, f.Fault())

	k, f = typed("old")
	f.writes(k, "a text that is far too long for the field")
	assert.Len(t, f.text, 20)
}
