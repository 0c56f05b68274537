package answers

import (
	"slices"

	"twincord/sim"
)

// Band is a stretch of horizontal deviation, prism dioptres, eso +, from the smaller to
// the larger, over which a scene says the same to the items Bead, Near, Far and Meet,
// with the same pattern of strings.
type Band struct {
	From, To              sim.Prism
	Bead, Near, Far, Meet Code
	Pattern               sim.Pattern
}

// The bounds of bands, Δ, and how finely their ends are found.
const (
	MostBand = 30
	fineBand = 0.01
)

// Bands gives what a scene says at every horizontal deviation from 30 Δ exo to 30 Δ
// eso, with all else as it stands at the time 0; with findings the posture that follows
// from them is what stands. The bands tile the line.
func Bands(scene *sim.Setup) []Band {
	x := NewBanding(scene)
	for x.Step() {
	}
	return x.Bands()
}

// Banding makes the bands of a scene step by step.
type Banding struct {
	view  sim.View
	now   sim.Setup
	last  Band // at the deviation of the grid that was looked at last
	done  int  // deviations of the grid
	bands []Band
}

// NewBanding is the work on the bands of a scene, of which nothing is done yet.
func NewBanding(scene *sim.Setup) *Banding {
	x := new(Banding)
	x.view.Look(scene)
	x.now = x.view.Now
	x.now.Beads = slices.Clone(scene.Beads)
	x.now.Findings, x.now.Hold.SD, x.now.Look.From = sim.Maybe[sim.Findings]{}, 0, sim.Maybe[int]{}
	return x
}

// Step looks at the next deviation of the grid and at what lies between it and the last
// one, and says whether there are more: then it may be called again.
func (x *Banding) Step() (more bool) {
	b := x.at(bandGrid[x.done])
	if x.done > 0 {
		x.fill(x.last, b)
	}
	x.add(b)
	x.last = b
	x.done++
	return x.done < len(bandGrid)
}

// Bands are those of the whole line; the last step must be done.
func (x *Banding) Bands() []Band {
	bands := slices.Clone(x.bands)
	for i := 1; i < len(bands); i++ {
		middle := (bands[i-1].To + bands[i].From) / 2
		bands[i-1].To, bands[i].From = middle, middle
	}
	return bands
}

func (x *Banding) at(e float64) Band {
	x.now.Posture.Deviation = sim.Prism(e)
	x.view.Look(&x.now)
	t := Tell(&x.view)
	return Band{sim.Prism(e), sim.Prism(e), t.Code[Bead], t.Code[Near], t.Code[Far], t.Code[Meet], x.view.Account.Pattern}
}

// add goes on with a deviation that is greater than the last one.
func (x *Banding) add(b Band) {
	if n := len(x.bands); n > 0 && x.bands[n-1].same(b) {
		x.bands[n-1].To = b.To
		return
	}
	x.bands = append(x.bands, b)
}

// fill looks between two deviations that say different things, down to as little as
// ends are found to.
func (x *Banding) fill(a, b Band) {
	if a.same(b) || b.From-a.From <= fineBand {
		return
	}
	m := x.at(float64(a.From+b.From) / 2)
	x.fill(a, m)
	x.add(m)
	x.fill(m, b)
}

func (b Band) same(o Band) bool {
	b.From, b.To = o.From, o.To
	return b == o
}

var bandGrid = func() []float64 {
	var grid []float64
	for _, e := range both(half) {
		if -MostBand <= e && e <= MostBand {
			grid = append(grid, e)
		}
	}
	return grid
}()
