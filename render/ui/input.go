package ui

import "twincord/render/display"

// Key is a key that means something to a page. Letters and signs come as Input.Text
// instead, so that they are where the keyboard's layout has them.
type Key uint8

// The keys.
const (
	KeyTab Key = iota
	KeyEnter
	KeyEscape
	KeyLeft
	KeyRight
	KeyUp
	KeyDown
	KeyPageUp
	KeyPageDown
	KeyHome
	KeyEnd
	KeyBackspace
	KeyDelete
	KeyF1
	KeyF10
	KeyF11
	KeyLetter // Press.Letter, with Ctrl: typed letters are text
)

// Press is one press, or one repeat, of a key.
type Press struct {
	Key         Key
	Shift, Ctrl bool
	Letter      rune // of KeyLetter: the lower-case letter that the keyboard's layout has there
	Again       bool // the key is held, and counts once more
}

// goesOn says whether a key that is held goes on: those that move or erase do, and letters
// with Ctrl as far as what they are for goes on. What presses something does it once for every
// press.
func (p Press) goesOn() bool {
	switch p.Key {
	case KeyEnter, KeyEscape, KeyF1, KeyF10, KeyF11:
		return false
	}
	return true
}

// commands says whether a key asks for something else than what is open has to offer.
func (p Press) commands() bool { return p.Key == KeyLetter || p.Key == KeyF1 || p.Key == KeyF11 }

// Input is what happened since the last turn. Everything that a page knows of the
// outside comes in here.
type Input struct {
	W, H    float64       // size of the page, pixels
	Scale   float64       // pixels per unit of layout: the display's scale factor
	Pointer display.Point // pixels
	// Pressed and Released are the edges of the first button or the finger, Down
	// its level. A click between two turns has both edges and no level.
	Pressed, Down, Released bool
	Wheel                   float64 // away from the user +, notches
	Keys                    []Press
	Text                    []rune  // typed characters
	Early                   int     // so many of Keys were pressed before Text was typed
	Again                   bool    // Text is of a key that is held, and counts once more
	Unfocused               bool    // the window has not the keys
	Screen                  string  // that the window is on, as the system calls it
	Seconds                 float64 // a clock that never goes back
}
