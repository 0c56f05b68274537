package render_test

import (
	"fmt"

	"twincord/render"
	"twincord/render/display"
	"twincord/sim"
)

// A picture is a display list, which any painter paints.
func ExamplePatient() {
	s := sim.Default()
	s.String.Length = 1000
	s.Beads = []sim.Bead{{Name: "blue", At: 300, Diameter: 12}}
	s.Look.Bead, s.Look.Asked = 0, 0
	s.Posture.Deviation = -6 // exo

	var v sim.View
	v.Look(&s)
	var l display.List
	l.Reset(960, 540, display.Colour{A: 1})
	render.Patient(&l, display.Rect{W: 960, H: 540}, &v, render.PatientOptions{})
	fmt.Println("balls:", len(l.Balls) > 1, "ribbons:", len(l.Ribbons) > 1)
	// Output: balls: true ribbons: true
}
