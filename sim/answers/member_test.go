package answers

import (
	"math/rand/v2"

	"twincord/sim"
)

// Member draws a set-up from a family, at a scale of Panum's limits, with the value of
// the number that varies.
func (x *Search) Member(r *rand.Rand) (sim.Setup, Family, float64) {
	f := &x.families[r.IntN(len(x.families))]
	row := f.rows[r.IntN(len(f.rows))]
	at := row.grid[0] + r.Float64()*(row.grid[len(row.grid)-1]-row.grid[0])
	if f.discrete {
		at = row.grid[r.IntN(len(row.grid))]
	}
	var s sim.Setup
	f.member(&s, at, row.y, Scales[r.IntN(len(Scales))])
	return s, f.Family, at
}
