package render_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/vector/vectortest"
	"twincord/sim"
)

// Whatever a scene file may hold, a picture of it holds finite numbers, also on the way
// from one bead to another, and where nothing at all fuses.
func TestPicturesHoldFiniteNumbers(t *testing.T) {
	var l display.List
	finite := func(t *testing.T, seed uint64, numbers ...float64) {
		for _, v := range numbers {
			require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "seed %d", seed)
		}
	}
	for seed := range uint64(1500) {
		r := rand.New(rand.NewPCG(seed, 1))
		s := vectortest.Random(r)
		if r.IntN(2) == 0 {
			s.Patient.FusionV, s.Patient.FusionVSlope = 0, 0
		}
		if len(s.Beads) > 1 && r.IntN(3) == 0 {
			s.Look.From = sim.Some(r.IntN(len(s.Beads)))
		}
		if s.Validate() != nil {
			continue
		}
		var v sim.View
		sim.NewCourse(s).Look(&v, 0.1)
		l.Reset(300, 200, display.Colour{})
		render.Patient(&l, display.Rect{W: 300, H: 200}, &v, render.PatientOptions{HeadCentred: r.IntN(4) == 0})
		for i := range l.Ribbons {
			for _, p := range l.Ribbons[i].Points {
				finite(t, seed, p.At.X, p.At.Y, p.Half, p.Soft, p.Opacity, p.Twist)
			}
		}
		for i := range l.Balls {
			b := &l.Balls[i]
			finite(t, seed, b.Centre.X, b.Centre.Y, b.RadiusX, b.RadiusY, b.Angle, b.Soft, b.Opacity, b.Hole.X, b.Hole.Y, b.Axis[2])
		}
	}
}
