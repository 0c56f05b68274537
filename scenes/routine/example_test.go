package routine_test

import (
	"fmt"

	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
)

// The steps of a routine say where it goes, and what the model expects there.
func ExampleSteps() {
	sc, _, err := scenes.Open("jumps-of-three")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range routine.Steps(sc)[:3] {
		fmt.Printf("%g mm, %s: seen as %s, strings %s\n", s.At, s.Bead, s.Expected.Fixated, s.Expected.Pattern)
	}
	// Output:
	// 850 mm, plum: seen as one, strings A
	// 550 mm, sky: seen as one, strings X
	// 250 mm, orange: seen as one, strings X
}

// A player shows what is seen at any moment.
func ExamplePlayer() {
	sc, _, err := scenes.Open("walk-of-ten")
	if err != nil {
		fmt.Println(err)
		return
	}
	steps := routine.Steps(sc)
	p := routine.NewPlayer(steps)
	var v sim.View
	for _, seconds := range []float64{0, 5.5, 6} {
		step, since := routine.At(steps, seconds)
		p.Look(&v, step, since)
		fmt.Printf("%.1f s: step %d, at %.0f mm\n", seconds, step, v.Target.At)
	}
	// Output:
	// 0.0 s: step 0, at 560 mm
	// 5.5 s: step 1, at 535 mm
	// 6.0 s: step 1, at 510 mm
}

// What is asked, answered and tried are codes, in order.
func ExampleAnswer_Tries() {
	for _, k := range routine.Kinds {
		fmt.Println(k, routine.Questions(k), routine.CrossBeyond.Tries(k), routine.Blurred.Tries(k))
	}
	// Output:
	// walk [beads strings cross clear] [tip blink] [glasses blink back]
	// jumps [beads strings cross clear] [tip blink] [glasses blink jump]
	// bare-string [strings cross finger clear] [finger blink] [glasses blink finger]
}
