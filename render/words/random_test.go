package words

import (
	"fmt"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
)

// draw gives a set-up from the whole range that a scene file may hold, the same for
// the same seed; most of its fields stand at their default, so that every rule is
// met alone as well as with others.
func draw(seed uint64) sim.Setup {
	r := rand.New(rand.NewPCG(seed, 1))
	within := func(low, high float64) float64 { return low + r.Float64()*(high-low) }
	seldom := func(usual, low, high float64) float64 {
		if r.IntN(4) > 0 {
			return usual
		}
		return within(low, high)
	}
	s := sim.Default()
	s.Patient.PD = within(40, 80)
	s.Patient.Nodal = seldom(6.4, 0, 10)
	s.Patient.FusionH = sim.Arcmin(seldom(10, 0.1, 240))
	s.Patient.FusionV = sim.Arcmin(seldom(6, 0.1, 240))
	s.Patient.Pupil = seldom(3, 1, 9)
	s.Patient.Age = within(3, 100)
	s.Patient.Lag = sim.Dioptres(seldom(0, -1, 3))

	s.String.NearEnd = r3.Vec{X: seldom(0, -60, 60), Y: seldom(54, 30, 90), Z: seldom(-34, -90, 20)}
	s.String.Length = within(150, 1500)
	if r.IntN(4) == 0 {
		s.String.Length = within(1500, 6000)
	}
	reach := min(1500, 0.65*s.String.Length) - 60
	s.String.AnchorSide = seldom(0, -reach, reach)
	s.String.AnchorHeight = seldom(0, -reach+30, reach-30)
	s.String.Sag = seldom(0, 0, min(300, s.String.Length/4))
	end := 0.
	for i := range r.IntN(sim.MaxBeads + 1) {
		diameter := seldom(16, 4, 60)
		at := end + diameter/2 + within(0, s.String.Length/4)
		if at > s.String.Length {
			break
		}
		s.Beads = append(s.Beads, sim.Bead{
			Name: fmt.Sprint("bead ", i+1), At: at, Diameter: diameter, Surface: sim.SurfacePlain,
			Colour: sim.RGB{R: uint8(r.IntN(256)), G: uint8(r.IntN(256)), B: uint8(r.IntN(256))},
		})
		end = at + diameter/2
	}
	if n := len(s.Beads); n > 0 && r.IntN(4) > 0 {
		s.Look.Bead = r.IntN(n)
		if r.IntN(4) == 0 {
			s.Look.Asked = r.IntN(n)
		}
		if r.IntN(8) == 0 {
			s.Look.From = sim.Some(r.IntN(n))
		}
	} else {
		s.Look.At = within(0, s.String.Length)
	}

	p := &s.Posture
	switch r.IntN(4) {
	case 0:
		p.Deviation = sim.Prism(within(-1, 1))
	case 1:
		p.Deviation = sim.Prism(within(-15, 15))
	case 2:
		p.Deviation = sim.Prism(within(-100, 100))
	}
	p.Vertical = sim.Prism(seldom(0, -10, 10))
	p.Cyclo = sim.Degrees(seldom(0, -20, 20))
	p.Fixing = []sim.Side{sim.Both, sim.Right, sim.Left}[r.IntN(3)]
	if p.Fixing != sim.Both && r.IntN(4) == 0 {
		p.Anomaly = p.Deviation
		if r.IntN(2) == 0 {
			p.Anomaly = sim.Prism(within(-30, 30))
		}
	}
	p.PrismMet = seldom(1, 0, 1)
	if r.IntN(8) == 0 {
		p.Accommodation = sim.Some(sim.Dioptres(within(0, 20)))
	}
	if r.IntN(3) == 0 {
		s.Suppression = sim.Suppression{
			Eye: []sim.Side{sim.Right, sim.Left}[r.IntN(2)],
			Zone: []sim.Zone{
				sim.ZoneAll, sim.ZoneCentral, sim.ZoneNasal, sim.ZoneTemporal, sim.ZoneNearer, sim.ZoneBeyond,
			}[r.IntN(6)],
			Centre: []sim.Centre{sim.CentreFovea, sim.CentreTarget, sim.CentreBoth}[r.IntN(3)],
			When:   []sim.When{sim.WhenAlways, sim.WhenTurned}[r.IntN(2)],
			Radius: sim.Degrees(within(0.5, 10)), Depth: seldom(1, 0, 1),
		}
	}
	s.Cover = []sim.Side{sim.Neither, sim.Neither, sim.Neither, sim.Neither, sim.Right, sim.Left}[r.IntN(6)]
	for _, g := range []*sim.Glass{&s.Right, &s.Left} {
		g.BaseOut = sim.Prism(seldom(0, -20, 20))
		g.BaseUp = sim.Prism(seldom(0, -10, 10))
		g.Lens = sim.Dioptres(seldom(0, -8, 8))
		g.Refraction = sim.Dioptres(seldom(0, -8, 8))
		g.Filter = []sim.Filter{sim.FilterNone, sim.FilterNone, sim.FilterNone, sim.FilterNone, sim.FilterRed, sim.FilterGreen}[r.IntN(6)]
	}
	s.Hold.SD = sim.Arcmin(seldom(0, 1, 30))
	s.Hold.Seed = seed
	if r.IntN(4) == 0 {
		f := sim.DefaultFindings()
		f.FarPhoria, f.NearPhoria = sim.Prism(within(-20, 20)), sim.Prism(within(-20, 20))
		f.VerticalPhoria = sim.Prism(seldom(0, -6, 6))
		s.Findings, s.Posture = sim.Some(f), sim.Default().Posture
	}
	return s
}

// look is a set-up as it is seen at its beginning.
func look(s *sim.Setup) *sim.View { return lookLater(s, 0) }

// lookLater is a set-up as it is seen some seconds after its beginning.
func lookLater(s *sim.Setup, seconds float64) *sim.View {
	v := new(sim.View)
	sim.NewCourse(s).Look(v, seconds)
	return v
}

// moments are the times at which random set-ups are looked at: at the beginning, while a
// jump still waits, under way and after it, and long after that.
var moments = [...]float64{0, 0.1, 0.3, 0.8, 5.2}

// lookSometime is a set-up as it is seen at one of those moments, the same for the same seed.
func lookSometime(s *sim.Setup, seed uint64) *sim.View {
	return lookLater(s, moments[seed%uint64(len(moments))])
}
