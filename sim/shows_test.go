package sim_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"twincord/sim"
)

// The strings lie one above the other where a line straight up crosses both: told against
// the two strands, followed at ten times as many places from what either eye has of each.
func TestOneAboveTheOther(t *testing.T) {
	met := map[bool]int{}
	check := func(t require.TestingT, s sim.Setup) {
		v := look(s)
		is := v.OneAbove()
		var from, to [2]float64
		for e := range sim.Eyes {
			from[e], to[e] = math.Inf(1), math.Inf(-1)
			for i := range 4000 {
				u := float64(i) / 3999
				at := 60 * u / (1 - u + 60/s.String.Length)
				if p := v.Sight(e, at); p.InField && p.Weight >= 0.2 {
					x := math.Atan(p.At.X)
					from[e], to[e] = min(from[e], x), max(to[e], x)
				}
			}
		}
		over := (min(to[0], to[1]) - max(from[0], from[1])) * 180 * 60 / math.Pi
		switch { // a little may lie behind the bead looked at, or at an edge
		case over > 40 && s.FixatedBead() == sim.NoBead:
			require.True(t, is, "%v arcmin: %+v", over, s)
			met[true]++
		case over < 29:
			require.False(t, is, "%v arcmin: %+v", over, s)
			met[false]++
		}
	}
	rapid.Check(t, func(t *rapid.T) { check(t, setups(t)) })
	assert.Positive(t, met[true])
	assert.Positive(t, met[false])

	for _, c := range []struct {
		what   string
		change func(s *sim.Setup)
		above  bool
	}{
		{"at eye level, one eye higher", func(s *sim.Setup) { s.String.NearEnd.Z, s.Posture.Vertical = 0, 2 }, true},
		{"exo and one eye higher", func(s *sim.Setup) { s.Posture = sim.Posture{Deviation: -5, Vertical: -2, Fixing: sim.Right} }, true},
		{"exo and tilted: side by side", func(s *sim.Setup) { s.Posture = sim.Posture{Deviation: -6, Cyclo: 8, Fixing: sim.Left} }, false},
		{"exo past the string", func(s *sim.Setup) { s.Posture.Deviation = -9 }, false},
		{"one eye covered", func(s *sim.Setup) { s.Cover = sim.Left }, false},
	} {
		assert.Equal(t, c.above, look(with(threeBeads(), c.change)).OneAbove(), c.what)
	}
}

// A central zone takes something of the string where a place of it, or a bead, lies within
// the radius of where the eye points: told from the pose of the eye alone.
func TestSuppressionShows(t *testing.T) {
	met := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		eye := sim.LeftEye
		s := with(threeBeads(), func(s *sim.Setup) {
			s.Posture.Deviation = sim.Prism(rapid.Float64Range(-40, 40).Draw(t, "deviation"))
			s.Posture.Vertical = sim.Prism(rapid.Float64Range(-10, 10).Draw(t, "vertical"))
			s.Posture.Fixing = sim.Right
			s.Suppression = sim.Suppression{Eye: sim.Left, Zone: sim.ZoneCentral, Centre: sim.CentreFovea, When: sim.WhenAlways,
				Radius: sim.Degrees(rapid.Float64Range(0.5, 20).Draw(t, "radius")), Depth: 1}
		})
		v := look(s)
		nearest := math.Inf(1)
		for at := 0.; at <= s.String.Length; at += 0.5 {
			nearest = min(nearest, angleBetween(v.Eyes[eye].Axis, r3.Sub(s.Place(at), v.Eyes[eye].Nodal)))
		}
		inside := float64(s.Suppression.Radius) - nearest*180/math.Pi
		if math.Abs(inside) < 0.05 { // the last run is shorter than a step
			return
		}
		require.Equal(t, inside > 0, v.SuppressionShows(), "%v° inside: %+v", inside, s)
		met[inside > 0]++
	})
	assert.Positive(t, met[true])
	assert.Positive(t, met[false])

	zone := func(z sim.Zone, eye sim.Side, e sim.Prism) bool {
		return look(with(threeBeads(), func(s *sim.Setup) {
			s.Posture = sim.Posture{Deviation: e, Fixing: map[sim.Side]sim.Side{sim.Right: sim.Left, sim.Left: sim.Right}[eye]}
			s.Suppression = sim.Suppression{Eye: eye, Zone: z, When: sim.WhenAlways, Depth: 1}
		})).SuppressionShows()
	}
	// An eye that is turned out has all of the string on the temporal half of its retina.
	assert.True(t, zone(sim.ZoneTemporal, sim.Right, -8))
	assert.False(t, zone(sim.ZoneNasal, sim.Right, -8))
	assert.True(t, zone(sim.ZoneNearer, sim.Left, -8))
	assert.True(t, zone(sim.ZoneBeyond, sim.Left, -8))
	bead := with(threeBeads(), func(s *sim.Setup) { s.Look.Bead = 2; s.Beads[2].At = s.String.Length })
	bead.Suppression = sim.Suppression{Eye: sim.Left, Zone: sim.ZoneBeyond, When: sim.WhenAlways, Depth: 1}
	assert.False(t, look(bead).SuppressionShows(), "nothing lies beyond the end")
	assert.False(t, look(threeBeads()).SuppressionShows(), "nothing is left out")
}
