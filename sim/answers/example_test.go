package answers_test

import (
	"fmt"

	"twincord/sim"
	"twincord/sim/answers"
)

// Two beads, and the strings cross behind them: what would be told by eyes that meet
// too far.
func ExampleTell() {
	s := sim.Default()
	s.String.Length = 1000
	s.Beads = []sim.Bead{{Name: "blue", At: 300, Diameter: 12}}
	s.Look.Bead, s.Look.Asked = 0, 0
	s.Posture.Deviation = -6 // exo

	var v sim.View
	v.Look(&s)
	told := answers.Tell(&v)
	fmt.Println(told.Code[answers.Bead], told.Code[answers.Meet], told.Code[answers.RightCoverBead])
	// Output: two beyond left
}
