package scenes_test

import (
	"fmt"

	"twincord/scenes"
)

// A scene file is refused with every fault at its place.
func ExampleParse() {
	_, err := scenes.Parse("mine.toml", []byte(`format = 1
string.length_mm = 90
beads = [{name = "red", at_mm = 40}]
look.bead = "blue"
`))
	fmt.Println(err)
	// Output:
	// mine.toml:2:20: string.length_mm: 90 mm is out of range; allowed is 150 to 6000 mm
	// mine.toml:4:13: look.bead: no bead is named "blue"; allowed is "red"
}

// What a scene is goes by its identity, not by its title.
func ExampleOpen() {
	sc, id, err := scenes.Open("walk-of-ten")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(id, id.Origin == scenes.BuiltIn)
	fmt.Println(sc.Title)
	// Output:
	// walk-of-ten true
	// Walk of ten steps
}

// The table of keys says what a file may hold.
func ExampleRangeOf() {
	pd := scenes.RangeOf("patient.pd_mm")
	fmt.Println(pd.Min, pd.Max, pd.Clamp(95))
	// Output: 40 80 80
}
