package sim_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"twincord/sim"
)

// scene is a default patient with a string of a length and three 16 mm beads
// named near, middle and far, looking at the middle one.
func scene(length, near, middle, far float64) sim.Setup {
	s := sim.Default()
	s.String.Length = length
	s.Beads = []sim.Bead{
		{Name: "near", At: near, Diameter: 16, Surface: sim.SurfacePlain},
		{Name: "middle", At: middle, Diameter: 16, Surface: sim.SurfaceBanded},
		{Name: "far", At: far, Diameter: 16, Surface: sim.SurfaceDotted},
	}
	s.Look.Bead = 1
	return s
}

// threeBeads is the common exercise.
func threeBeads() sim.Setup { return scene(1200, 230, 480, 900) }

// bare is a level string straight ahead on the midline, at the height of the
// eyes, in the reduced geometry of handbooks, with an observer of a PD who looks
// at the place that is distance mm ahead of the centres of rotation.
func bare(pd, distance float64) sim.Setup {
	s := sim.Default()
	s.Patient.PD, s.Patient.Nodal = pd, 0
	s.String.NearEnd = r3.Vec{Y: 54}
	s.String.Length = 3000
	s.Look.At = distance - 54
	return s
}

// with is a set-up with something changed.
func with(s sim.Setup, change func(*sim.Setup)) sim.Setup {
	s.Beads = append([]sim.Bead(nil), s.Beads...)
	change(&s)
	return s
}

// setups draws a set-up from the whole range that a scene file may hold.
// Fusion limits of exactly zero are left out: rounding alone would decide there.
func setups(t *rapid.T) sim.Setup {
	within := func(name string, low, high float64) float64 {
		// Now and then an end of the range, or a round number.
		return rapid.OneOf(
			rapid.Float64Range(low, high),
			rapid.Float64Range(low, high),
			rapid.Map(rapid.IntRange(int(math.Ceil(low)), int(math.Floor(high))), func(i int) float64 { return float64(i) }),
		).Draw(t, name)
	}
	// mostly gives the value left out in three cases of four.
	mostly := func(name string, usual, low, high float64) float64 {
		if rapid.IntRange(0, 3).Draw(t, "use "+name) > 0 {
			return usual
		}
		return within(name, low, high)
	}
	side := func(name string, sides ...sim.Side) sim.Side { return rapid.SampledFrom(sides).Draw(t, name) }

	s := sim.Default()
	s.Patient.PD = within("pd", 40, 80)
	s.Patient.Nodal = mostly("nodal", 6.4, 0, 10)
	s.Patient.FusionH = sim.Arcmin(mostly("fusion h", 10, 0.1, 240))
	s.Patient.FusionV = sim.Arcmin(mostly("fusion v", 6, 0.1, 240))
	s.Patient.FusionHSlope = mostly("slope h", 0.035, 0, 0.2)
	s.Patient.FusionVSlope = mostly("slope v", 0.0175, 0, 0.2)
	s.Patient.Pupil = within("pupil", 1, 9)
	s.Patient.Age = within("age", 3, 100)
	if rapid.Bool().Draw(t, "own amplitude") {
		s.Patient.Amplitude = sim.Some(sim.Dioptres(within("amplitude", 0, 20)))
	}
	s.Patient.Lag = sim.Dioptres(mostly("lag", 0, -1, 3))

	s.String.NearEnd = r3.Vec{
		X: mostly("near x", 0, -60, 60),
		Y: mostly("near y", 54, 30, 90),
		Z: mostly("near z", -34, -90, 20),
	}
	s.String.Length = rapid.OneOf(rapid.Float64Range(150, 1500), rapid.Float64Range(150, 6000)).Draw(t, "length")
	reach := min(1500, 0.65*s.String.Length) - 60
	s.String.AnchorSide = mostly("anchor side", 0, -reach, reach)
	s.String.AnchorHeight = mostly("anchor height", 0, -reach+30, reach-30)
	s.String.Thickness = mostly("thickness", 2, 1, 8)
	s.String.Sag = mostly("sag", 0, 0, min(300, s.String.Length/4))

	end := 0.
	for i := range rapid.IntRange(0, 12).Draw(t, "beads") {
		diameter := within("diameter", 4, 60)
		at := end + rapid.Float64Range(0, s.String.Length/4).Draw(t, "gap")
		if i > 0 {
			at += diameter / 2
		}
		if at > s.String.Length {
			break
		}
		s.Beads = append(s.Beads, sim.Bead{Name: fmt.Sprint("bead ", i+1), At: at, Diameter: diameter, Surface: sim.SurfacePlain})
		end = at + diameter/2
	}
	if len(s.Beads) > 0 && rapid.IntRange(0, 3).Draw(t, "look at a bead") > 0 {
		s.Look.Bead = rapid.IntRange(0, len(s.Beads)-1).Draw(t, "bead looked at")
		s.Look.Asked = rapid.IntRange(sim.NoBead, len(s.Beads)-1).Draw(t, "asked")
	} else {
		s.Look.At = rapid.Float64Range(0, s.String.Length).Draw(t, "place looked at")
	}

	p := &s.Posture
	p.Deviation = sim.Prism(rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(-15, 15), rapid.Float64Range(-100, 100)).Draw(t, "deviation"))
	p.Vertical = sim.Prism(mostly("vertical", 0, -30, 30))
	p.Cyclo = sim.Degrees(mostly("cyclo", 0, -20, 20))
	p.Fixing = side("fixing", sim.Both, sim.Right, sim.Left)
	if p.Fixing != sim.Both {
		p.Anomaly = sim.Prism(mostly("anomaly", 0, -100, 100))
	}
	p.PrismMet = rapid.OneOf(rapid.Just(1.0), rapid.Just(0.0), rapid.Float64Range(0, 1)).Draw(t, "prism met")
	if rapid.IntRange(0, 3).Draw(t, "own accommodation") == 0 {
		p.Accommodation = sim.Some(sim.Dioptres(within("accommodation", 0, 20)))
	}
	s.Suppression = sim.Suppression{
		Eye:    side("suppressed", sim.Neither, sim.Right, sim.Left),
		Zone:   rapid.SampledFrom([]sim.Zone{sim.ZoneAll, sim.ZoneCentral, sim.ZoneNasal, sim.ZoneTemporal, sim.ZoneNearer, sim.ZoneBeyond}).Draw(t, "zone"),
		Centre: rapid.SampledFrom([]sim.Centre{sim.CentreFovea, sim.CentreTarget, sim.CentreBoth}).Draw(t, "centre"),
		When:   rapid.SampledFrom([]sim.When{sim.WhenAlways, sim.WhenTurned}).Draw(t, "when"),
		Radius: sim.Degrees(rapid.Float64Range(0.7, 60).Draw(t, "radius")),
		Depth:  rapid.OneOf(rapid.Just(1.0), rapid.Float64Range(0, 1)).Draw(t, "depth"),
	}
	s.Cover = side("cover", sim.Neither, sim.Neither, sim.Neither, sim.Right, sim.Left)
	for _, g := range []*sim.Glass{&s.Right, &s.Left} {
		g.BaseOut = sim.Prism(mostly("base out", 0, -40, 40))
		g.BaseUp = sim.Prism(mostly("base up", 0, -40, 40))
		g.Lens = sim.Dioptres(mostly("lens", 0, -20, 20))
		g.Refraction = sim.Dioptres(mostly("refraction", 0, -15, 15))
	}
	return s
}

// On the target means on what was asked for, if anything was: without error, with nothing
// left out or covered, and with what stands before the eyes answered.
func TestOnTarget(t *testing.T) {
	s := threeBeads()
	s.Posture = sim.Posture{Deviation: 8, Vertical: 3, Fixing: sim.Right}
	s.Suppression.Eye, s.Cover, s.Hold.SD, s.Look.From = sim.Left, sim.Right, 4, sim.Some(0)
	s.Right.BaseOut = 6
	for asked, want := range map[int]int{sim.NoBead: s.Look.Bead, 2: 2} {
		s.Look.Asked = asked
		on := s.OnTarget()
		assert.Equal(t, sim.Fixation{Bead: want, Asked: sim.NoBead}, on.Look)
		a := look(on).Account
		assert.Equal(t, sim.SeenOne, a.Fixated)
		assert.Equal(t, sim.MeetAt, a.Meet)
		assert.Equal(t, sim.AimOnTarget, a.Eyes)
		assert.Equal(t, sim.Neither, a.Missing)
		assert.Equal(t, s.Right, on.Right)
	}
}
