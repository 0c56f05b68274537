// Package theme holds the looks: colours by role, sizes of type, spacing. No
// other package names a colour or a size of type of its own.
//
// Contrast is that of row G4: text has at least 4.5:1 against the grounds it may
// stand on, graphics that carry meaning at least 3:1. The tests compute every
// pair.
package theme

import (
	"math"

	"twincord/render/display"
)

// Theme is one look.
type Theme struct {
	// The window, from the back: Ground is behind everything, Panel carries
	// controls and figures, Raised is a control on a panel, Field is what is typed
	// into.
	Ground, Panel, Raised, Field display.Colour
	// Ink is text, Muted text of less weight, Edge the outlines, ticks and handles
	// that must be seen, Hairline a line that may be overlooked.
	Ink, Muted, Edge, Hairline display.Colour
	// Hover is a control on a panel while the pointer is on it, Marked is behind typed
	// text that the next letter replaces.
	Hover, Marked display.Colour
	// Accent marks the one thing that is chosen, focused or pulled; OnAccent is
	// text on it.
	Accent, OnAccent display.Colour
	// Warning is the text of what cannot be taken as typed.
	Warning display.Colour

	// The patient's view: the wall where the light falls on it and where it falls
	// off, the floor, the string where it is lit and in its hollows, and what it
	// is tied to, where it is lit and in its shade.
	Wall, WallEdge, Floor, String, StringShade, Hook, HookLit, HookShade display.Colour

	// Each eye's hue for lines on Ground, Panel or Field.
	Right, Left display.Colour
	// A small plate with a letter in an eye's hue, for use on any ground.
	Plate, PlateRight, PlateLeft display.Colour
	// An eye as drawn: white, iris, pupil.
	EyeWhite, Iris, Pupil display.Colour
}

// The published hues for the two eyes (row G5).
var (
	rightHue = hex(0x0072b2)
	leftHue  = hex(0xd55e00)
)

// Dark is the look for a dimmed room: nothing on the screen is brighter than the
// beads and the words.
var Dark = Theme{
	Ground: hex(0x1d2124),
	Panel:  hex(0x262b2f),
	Raised: hex(0x363d43),
	Field:  hex(0x16191b),

	Ink:      hex(0xf2efe8),
	Muted:    hex(0xb7bcbd),
	Edge:     hex(0x8d969c),
	Hairline: hex(0x454d53),
	Hover:    hex(0x434b51),
	Marked:   hex(0x454d53),

	Accent:   hex(0xf0cf94),
	OnAccent: hex(0x241d10),
	Warning:  hex(0xffb4a0),

	Wall:        hex(0x36393a),
	WallEdge:    hex(0x2b2d2f),
	Floor:       hex(0x3c3f41),
	String:      hex(0xe2dac6),
	StringShade: hex(0xa0967f),
	Hook:        hex(0x868c8f),
	HookLit:     hex(0xb4babd),
	HookShade:   hex(0x4a4f52),

	// The published blue is under 3:1 on a dark panel. Lightened by a seventh it is
	// over, as light as the vermilion, and still no bead's blue.
	Right: mix(rightHue, hex(0xffffff), 1./7),
	Left:  leftHue,

	// The published vermilion is under 4.5:1 on white; darkened by an eighth it is
	// over.
	Plate:      hex(0xffffff),
	PlateRight: rightHue,
	PlateLeft:  mix(leftHue, hex(0x000000), 1./8),

	EyeWhite: hex(0xe9e6df),
	Iris:     hex(0x5d7f74),
	Pupil:    hex(0x14171a),
}

// Light is the look for a lit room. The patient's view has the wall of Dark in it
// too: the string and the beads are told from that.
var Light = Theme{
	Ground: hex(0xe9e7e2),
	Panel:  hex(0xf6f4f0),
	Raised: hex(0xdedbd4),
	Field:  hex(0xffffff),

	Ink:      hex(0x1d2124),
	Muted:    hex(0x4c5358),
	Edge:     hex(0x697075),
	Hairline: hex(0xc2beb5),
	Hover:    hex(0xcfcbc2),
	Marked:   hex(0xead7ae),

	Accent:   hex(0x7a4f00),
	OnAccent: hex(0xffffff),
	Warning:  hex(0xa3260f),

	Wall: Dark.Wall, WallEdge: Dark.WallEdge, Floor: Dark.Floor,
	String: hex(0x75664a), StringShade: hex(0x9c8c6c), Hook: Dark.Hook, HookLit: Dark.HookLit, HookShade: Dark.HookShade,

	Right: rightHue,
	// Darkened like the plate's, so that it is over 3:1 on the ground too.
	Left: mix(leftHue, hex(0x000000), 1./8),

	Plate: Dark.Plate, PlateRight: Dark.PlateRight, PlateLeft: Dark.PlateLeft,

	EyeWhite: hex(0xffffff),
	Iris:     hex(0x5d7f74),
	Pupil:    hex(0x14171a),
}

// The sizes of type, in pixels at scale 1.
const (
	Small    = 13. // ticks, notes
	Body     = 15. // labels, controls
	Lead     = 19. // headings
	Sentence = 26. // what is seen, in words
)

// Spacing, in pixels at scale 1.
const (
	Unit    = 8.  // gaps and margins are multiples of it
	Radius  = 7.  // of corners
	Target  = 44. // the least side of what is pulled
	Control = 36. // the height of what is pressed or typed into
	Step    = 30. // the width of the buttons beside a number
	Line    = 1.5 // strokes that carry meaning
)

// Contrast is the ratio of the luminances of two opaque colours, 1 – 21 (row G4).
func Contrast(a, b display.Colour) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func luminance(c display.Colour) float64 {
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

func linear(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

func hex(rgb uint32) display.Colour {
	return display.Colour{
		R: float64(rgb>>16&0xff) / 255,
		G: float64(rgb>>8&0xff) / 255,
		B: float64(rgb&0xff) / 255,
		A: 1,
	}
}

// mix is a with the share t of b, in sRGB.
func mix(a, b display.Colour, t float64) display.Colour {
	return display.Colour{
		R: a.R + (b.R-a.R)*t,
		G: a.G + (b.G-a.G)*t,
		B: a.B + (b.B-a.B)*t,
		A: 1,
	}
}
