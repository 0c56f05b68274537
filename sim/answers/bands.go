package answers

import "twincord/sim"

// Band is a stretch of horizontal deviation, prism dioptres, eso +, over which a scene
// says the same to the items of BandItems, with the same pattern of strings.
type Band struct {
	From, To              sim.Prism
	Bead, Near, Far, Meet Code
	Pattern               sim.Pattern
}

// The bounds of bands, Δ, and how finely their ends are found.
const (
	mostBand = 30
	fineBand = 0.01
)

// Bands gives what a scene says at every horizontal deviation from 30 Δ exo to 30 Δ
// eso, with all else as it stands at the time 0; with findings the posture that follows
// from them is what stands. The bands tile the line.
func Bands(scene *sim.Setup) []Band {
	var v sim.View
	v.Look(scene)
	now := v.Now
	now.Beads = scene.Beads
	now.Findings, now.Hold.SD, now.Look.From = sim.Maybe[sim.Findings]{}, 0, sim.Maybe[int]{}
	at := func(e float64) Band {
		now.Posture.Deviation = sim.Prism(e)
		v.Look(&now)
		t := Tell(&v)
		return Band{sim.Prism(e), sim.Prism(e), t.Code[Bead], t.Code[Near], t.Code[Far], t.Code[Meet], v.Account.Pattern}
	}
	var bands []Band
	add := func(b Band) {
		if n := len(bands); n > 0 && bands[n-1].same(b) {
			bands[n-1].To = b.To
			return
		}
		bands = append(bands, b)
	}
	var fill func(a, b Band)
	fill = func(a, b Band) {
		if a.same(b) || b.From-a.From <= fineBand {
			return
		}
		m := at(float64(a.From+b.From) / 2)
		fill(a, m)
		add(m)
		fill(m, b)
	}
	var last Band
	for i, e := range bandGrid {
		b := at(e)
		if i > 0 {
			fill(last, b)
		}
		add(b)
		last = b
	}
	for i := 1; i < len(bands); i++ {
		middle := (bands[i-1].To + bands[i].From) / 2
		bands[i-1].To, bands[i].From = middle, middle
	}
	return bands
}

func (b Band) same(o Band) bool {
	b.From, b.To = o.From, o.To
	return b == o
}

var bandGrid = func() []float64 {
	var grid []float64
	for _, e := range both(half) {
		if -mostBand <= e && e <= mostBand {
			grid = append(grid, e)
		}
	}
	return grid
}()
