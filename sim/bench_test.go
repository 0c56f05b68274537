package sim_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
)

// benchScenes is the default scene, and the two that take the longest way.
func benchScenes() map[string]sim.Setup {
	return map[string]sim.Setup{
		"three beads":    threeBeads(),
		"vertical error": with(threeBeads(), func(s *sim.Setup) { s.Posture.Vertical = 3 }),
		"sagging string": with(threeBeads(), func(s *sim.Setup) { s.String.Sag = 60 }),
		"eso, suppressed in the centre": with(threeBeads(), func(s *sim.Setup) {
			s.Posture.Deviation = 4
			s.Suppression = sim.Suppression{Eye: sim.Right, Zone: sim.ZoneCentral, Centre: sim.CentreTarget, Radius: 3, Depth: 1}
		}),
	}
}

func BenchmarkLook(b *testing.B) {
	for name, s := range benchScenes() {
		b.Run(name, func(b *testing.B) {
			var v sim.View
			b.ReportAllocs()
			for b.Loop() {
				v.Look(&s)
			}
		})
	}
}

// FuzzLook gives finite inputs of any size: there is no panic, and no number that
// is not finite.
func FuzzLook(f *testing.F) {
	f.Add(62., 6.4, 1200., 0., 54., -34., 0., 0., 2., 0., 480., 16., 0., 0., 0., 0., 1., 0., 0., 0., uint8(0))
	f.Add(62., 0., 3000., 31., 54., 0., 31., 0., 2., 60., 480., 16., 4., 3., 5., 20., 0.5, 6., -3., 1., uint8(77))
	f.Add(62., 0., 3000., 31., -54., 0., -31., 900., 2., 60., 480., 16., -100., 30., -20., -100., 0.5, 40., -40., 20., uint8(255))
	f.Fuzz(func(t *testing.T, pd, nodal, length, x, y, z, side, height, thick, sag, at, diameter,
		deviation, vertical, cyclo, anomaly, met, out, up, lens float64, choice uint8) {
		for _, n := range []float64{pd, nodal, length, x, y, z, side, height, thick, sag, at, diameter,
			deviation, vertical, cyclo, anomaly, met, out, up, lens} {
			// Squares of squares of lengths must have room.
			if math.IsNaN(n) || math.Abs(n) > 1e30 {
				return
			}
		}
		s := sim.Default()
		s.Patient.PD, s.Patient.Nodal = pd, nodal
		s.String = sim.String{Length: length, NearEnd: r3.Vec{X: x, Y: y, Z: z}, AnchorSide: side, AnchorHeight: height, Thickness: thick, Sag: sag}
		s.Beads = []sim.Bead{{Name: "bead", At: at, Diameter: diameter, Surface: sim.SurfacePlain}, {Name: "end", At: length, Diameter: 10, Surface: sim.SurfacePlain}}
		pick := func(bits uint8) uint8 { c := choice % bits; choice /= bits; return c }
		s.Look = sim.Fixation{Bead: int(pick(3)) - 1, At: at, Asked: sim.NoBead}
		s.Posture = sim.Posture{
			Deviation: sim.Prism(deviation), Vertical: sim.Prism(vertical), Cyclo: sim.Degrees(cyclo),
			Fixing: []sim.Side{sim.Both, sim.Right, sim.Left}[pick(3)], Anomaly: sim.Prism(anomaly), PrismMet: met,
		}
		s.Suppression.Eye = []sim.Side{sim.Neither, sim.Right, sim.Left}[pick(3)]
		s.Suppression.Zone = []sim.Zone{sim.ZoneAll, sim.ZoneCentral, sim.ZoneNearer, sim.ZoneBeyond}[pick(4)]
		s.Right = sim.Glass{BaseOut: sim.Prism(out), BaseUp: sim.Prism(up), Lens: sim.Dioptres(lens)}
		requireFinite(t, s)
	})
}

// BenchmarkCourse takes an unsteady hold of three beads 10 000 s on, a million steps.
func BenchmarkCourse(b *testing.B) {
	s := sim.Default()
	s.String.Length = 1200
	for i, at := range []float64{230, 480, 900} {
		s.Beads = append(s.Beads, sim.Bead{Name: string(rune('a' + i)), At: at, Diameter: 16})
	}
	s.Look.Bead, s.Hold.SD = 1, 4
	c := sim.NewCourse(&s)
	var v sim.View
	c.Look(&v, 0)
	b.ReportAllocs()
	for i := range b.N {
		c.Look(&v, 10_000*float64(i+1))
	}
}
