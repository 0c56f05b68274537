package vectortest

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
)

// Random is a set-up from all that a scene file may hold, often at the ends of its
// ranges: limits of fusion that are 0, filters, prisms, a bead at the end of the string.
func Random(r *rand.Rand) *sim.Setup {
	within := func(low, high float64) float64 {
		switch r.IntN(6) {
		case 0:
			return low
		case 1:
			return high
		case 2:
			return math.Round(low + (high-low)*r.Float64())
		}
		return low + (high-low)*r.Float64()
	}
	seldom := func(usual, low, high float64) float64 {
		if r.IntN(3) > 0 {
			return usual
		}
		return within(low, high)
	}
	side := func(sides ...sim.Side) sim.Side { return sides[r.IntN(len(sides))] }

	s := sim.Default()
	s.Patient.PD = within(40, 80)
	s.Patient.Nodal = seldom(s.Patient.Nodal, 0, 10)
	s.Patient.FusionH, s.Patient.FusionV = sim.Arcmin(seldom(10, 0, 240)), sim.Arcmin(seldom(6, 0, 240))
	s.Patient.FusionHSlope, s.Patient.FusionVSlope = seldom(0.035, 0, 0.2), seldom(0.0175, 0, 0.2)
	s.Patient.Pupil, s.Patient.Age = within(1, 9), within(3, 100)
	s.Patient.Lag = sim.Dioptres(seldom(0, -1, 3))
	s.String.NearEnd = r3.Vec{X: seldom(0, -60, 60), Y: seldom(54, 30, 90), Z: seldom(-34, -90, 20)}
	s.String.Length = within(150, 6000)
	reach := min(1500, 0.65*s.String.Length) - 60
	s.String.AnchorSide, s.String.AnchorHeight = seldom(0, -reach, reach), seldom(0, 30-reach, reach-30)
	s.String.Thickness, s.String.Sag = seldom(2, 1, 8), seldom(0, 0, min(300, s.String.Length/4))
	end := 0.
	for i := range r.IntN(sim.MaxBeads + 1) {
		diameter := within(4, 60)
		at := end + diameter/2 + within(0, s.String.Length/4)
		if at > s.String.Length {
			break
		}
		s.Beads = append(s.Beads, sim.Bead{
			Name: fmt.Sprint("bead ", i+1), At: at, Diameter: diameter, Colour: sim.RGB{R: uint8(r.IntN(256)), G: uint8(r.IntN(256)), B: uint8(r.IntN(256))},
			Surface: []sim.Surface{sim.SurfacePlain, sim.SurfaceBanded, sim.SurfaceDotted, sim.SurfaceRinged}[r.IntN(4)],
		})
		end = at + diameter/2
	}
	s.Look.Bead, s.Look.At = sim.NoBead, within(0, s.String.Length)
	if len(s.Beads) > 0 && r.IntN(4) > 0 {
		s.Look.Bead = r.IntN(len(s.Beads))
	}
	p := &s.Posture
	p.Deviation = sim.Prism(seldom(seldom(0, -15, 15), -100, 100))
	p.Vertical, p.Cyclo = sim.Prism(seldom(0, -30, 30)), sim.Degrees(seldom(0, -20, 20))
	if p.Fixing = side(sim.Both, sim.Right, sim.Left); p.Fixing != sim.Both {
		p.Anomaly = sim.Prism(seldom(0, -100, 100))
	}
	p.PrismMet = within(0, 1)
	s.Suppression.Eye = side(sim.Neither, sim.Neither, sim.Right, sim.Left)
	s.Suppression.Zone = []sim.Zone{sim.ZoneAll, sim.ZoneCentral, sim.ZoneNearer, sim.ZoneBeyond}[r.IntN(4)]
	s.Suppression.Radius, s.Suppression.Depth = sim.Degrees(within(0.7, 60)), within(0, 1)
	s.Cover = side(sim.Neither, sim.Neither, sim.Neither, sim.Right, sim.Left)
	for _, g := range []*sim.Glass{&s.Right, &s.Left} {
		g.BaseOut, g.BaseUp = sim.Prism(seldom(0, -40, 40)), sim.Prism(seldom(0, -40, 40))
		g.Lens = sim.Dioptres(seldom(0, -20, 20))
		g.Filter = []sim.Filter{sim.FilterNone, sim.FilterRed, sim.FilterGreen}[r.IntN(3)]
	}
	return &s
}
