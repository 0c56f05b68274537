package sim_test

import (
	"fmt"

	"twincord/sim"
)

// Eyes that meet 6 Δ too far see the bead double, crossed, and the strings cross behind it.
func ExampleView_Look() {
	s := sim.Default()
	s.String.Length = 1000
	s.Beads = []sim.Bead{{Name: "blue", At: 300, Diameter: 12}}
	s.Look.Bead, s.Look.Asked = 0, 0
	s.Posture.Deviation = -6 // exo

	var v sim.View
	v.Look(&s)
	fmt.Printf("demand %.1f Δ\n", float64(v.Target.DemandAngle.Prism()))
	fmt.Println(v.Account.Fixated, v.Account.Meet)
	// Output:
	// demand 17.6 Δ
	// two beyond
}

// What cannot be is said key by key.
func ExampleSetup_Validate() {
	s := sim.Default()
	s.String.Length = 1000
	s.Patient.PD = 95
	for _, p := range s.Problems() {
		fmt.Println(p.Key)
	}
	// Output:
	// patient.pd_mm
}

// A hold that wavers is the same at every run: it goes by its seed.
func ExampleCourse() {
	s := sim.Default()
	s.String.Length = 1000
	s.Look.At = 400
	s.Hold = sim.Unsteadiness{SD: 20, Seed: 3}
	c := sim.NewCourse(&s)
	var v sim.View
	c.Look(&v, 2)
	first := v.Now.Posture.Deviation
	sim.NewCourse(&s).Look(&v, 2)
	fmt.Println(first != 0, first == v.Now.Posture.Deviation)
	// Output: true true
}
