package cases

import (
	"fmt"

	"twincord/sim"
	"twincord/sim/answers"
)

// layouts are the strings of cases: their length, and the places of the nearer bead, of
// the one that is asked for, and of the farther one, mm. All are invented. The bead
// asked for is far enough that the crossing leaves it within Panum's limit (level 3).
var layouts = [...][4]float64{
	{1200, 230, 480, 900},
	{1200, 250, 440, 850},
	{1500, 260, 520, 1100},
	{1000, 200, 460, 800},
	{1300, 240, 500, 950},
	{1200, 220, 420, 780},
	{1400, 280, 540, 1000},
	{1100, 250, 470, 860},
}

// diameter of the beads, mm.
const diameter = 12

// asked is the bead that is asked for.
const asked = 1

// StringOf is the string of a seed: its lowest digit in base 8, so that the cases of a
// set share one.
func StringOf(seed uint64) sim.Setup {
	t := layouts[seed%uint64(len(layouts))]
	s := sim.Default()
	s.String.Length = t[0]
	s.Beads = []sim.Bead{
		{Name: "orange", At: t[1], Diameter: diameter, Colour: sim.RGB{R: 0xE6, G: 0x9F}, Surface: sim.SurfaceBanded},
		{Name: "sky", At: t[2], Diameter: diameter, Colour: sim.RGB{R: 0x56, G: 0xB4, B: 0xE9}, Surface: sim.SurfacePlain},
		{Name: "plum", At: t[3], Diameter: diameter, Colour: sim.RGB{R: 0xCC, G: 0x79, B: 0xA7}, Surface: sim.SurfaceRinged},
	}
	s.Look.Bead = asked
	return s
}

// Bench is a string with the search through what would be seen along it (M18). Making
// and judging the cases of one string need one bench; it is for one goroutine.
type Bench struct {
	string uint64
	scene  sim.Setup
	search *answers.Search
	ready  bool
	// rest is called after every 4 ms of work at most, and says whether to go on; nil: on
	// to the end.
	rest func() (goOn bool)
	// What was explained last: who makes a case and then judges it asks the same twice.
	asked  answers.Answers
	result answers.Result
	known  bool
}

// NewBench is a bench for the cases of a seed, of which nothing is looked at yet.
func NewBench(seed uint64) *Bench {
	b := &Bench{string: seed % uint64(len(layouts)), scene: StringOf(seed)}
	b.search = answers.New(&b.scene)
	return b
}

// Serves says whether the bench is for the cases of a seed.
func (b *Bench) Serves(seed uint64) bool { return b.string == seed%uint64(len(layouts)) }

func (b *Bench) check(seed uint64) error {
	if !b.Serves(seed) {
		return fmt.Errorf("the bench is for the string %d, not for that of the seed %d", b.string, seed)
	}
	return nil
}

// Step does about 2 ms of the search, and says whether there is more to do: a window
// that steps while somebody chooses what to practise does not wait for it later.
func (b *Bench) Step() (more bool) {
	if !b.ready {
		b.ready = !b.search.Step()
	}
	return !b.ready
}

// Progress is how much of the search is done, from 0 to 1.
func (b *Bench) Progress() float64 { return b.search.Progress() }

// goesOn rests, and says whether the work goes on.
func (b *Bench) goesOn() bool { return b.rest == nil || b.rest() }

// explain gives what would lead to the answers; nothing where the work was ended.
func (b *Bench) explain(a *answers.Answers) answers.Result {
	if b.known && b.asked == *a {
		return b.result
	}
	for b.Step() {
		if !b.goesOn() {
			return answers.Result{}
		}
	}
	e := b.search.Explain(*a)
	for e.Step() {
		if !b.goesOn() {
			return answers.Result{}
		}
	}
	b.asked, b.result, b.known = *a, e.Result(), true
	return b.result
}
