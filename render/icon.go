package render

import (
	"twincord/render/display"
	"twincord/render/theme"
	"twincord/sim"
)

// Icon draws the program's icon, a square of pixels: what should be seen, one bead with two
// strings that cross in it. The string is as thick, the bead as large as a small icon needs.
func Icon(l *display.List, side float64) {
	s := sim.Default()
	s.String.Length, s.String.Thickness, s.String.AnchorHeight = 1500, 6, 160
	s.Beads = []sim.Bead{{Name: "bead", At: 300, Diameter: 34, Colour: sim.RGB{R: 0x56, G: 0xb4, B: 0xe9}}}
	s.Look.Bead = 0
	var v sim.View
	v.Look(&s)
	l.Reset(side, side, display.Colour{})
	l.RoundRect(display.Rect{X: side / 32, Y: side / 32, W: side * 15 / 16, H: side * 15 / 16}, side/5)
	l.OpenClip()
	Patient(l, display.Rect{W: side, H: side}, &v, PatientOptions{Field: 21, Theme: &theme.Dark, NoInset: true})
	l.End()
}
