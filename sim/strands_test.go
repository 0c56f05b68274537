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

// A string at eye level lies on one line in both eyes: it is one string, however far
// apart the two images of one place are.
func TestStringAtEyeLevelIsOneLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := threeBeads()
		s.Patient.PD = rapid.Float64Range(58, 80).Draw(t, "pd") // or the bead hides the rest
		s.String.NearEnd.Z = 0
		s.Posture.Deviation = sim.Prism(rapid.Float64Range(-8, 20).Draw(t, "deviation"))
		v := look(s)
		assert.Equal(t, [2]int{1, 1}, [2]int{v.Strings.Near, v.Strings.Far})
		assert.True(t, v.Strings.NearOverlaid && v.Strings.FarOverlaid)
		assert.Equal(t, sim.PatternOne, v.Strings.Pattern)
	})
}

// Strings that are seen as two do not lie on one another, nor does one that only one
// eye sees.
func TestNotOverlaid(t *testing.T) {
	for name, s := range map[string]sim.Setup{
		"X":       threeBeads(),
		"covered": with(threeBeads(), func(s *sim.Setup) { s.String.NearEnd.Z, s.Cover = 0, sim.Left }),
	} {
		v := look(s)
		assert.False(t, v.Strings.NearOverlaid || v.Strings.FarOverlaid, name)
	}
}

// Where the two lines are nearer than a line is wide they are one: the height at which
// a level string becomes two depends on its thickness.
func TestLineWidth(t *testing.T) {
	far := func(thick, arcmin float64) *sim.View {
		s := bare(62, 1000)
		s.String.Thickness = thick
		s.Posture.Deviation, s.Posture.Vertical = 5, sim.Arcmin(arcmin).Angle().Prism()
		return look(s)
	}
	// 6′ and Panum's limit apart in the vertical from end to end; 2 mm are 3.4′ at 2 m.
	assert.Equal(t, 2, far(0.5, 10).Strings.Far)
	thick := far(8, 10) // 13.7′ at 2 m
	assert.Equal(t, 1, thick.Strings.Far)
	assert.True(t, thick.Strings.FarOverlaid)
}

// With one eye higher the strings may cross nowhere in the picture, and then are not
// said to.
func TestStringsThatPass(t *testing.T) {
	passes, single := 0, 0
	for vertical := sim.Prism(-10); vertical <= 10; vertical += 0.125 {
		for deviation := sim.Prism(-6); deviation <= 12; deviation += 1.5 {
			for bead := 1; bead < 3; bead++ {
				v := look(with(scene(1200, 230, 480, 1190), func(s *sim.Setup) {
					s.Posture.Vertical, s.Posture.Deviation, s.Look.Bead = vertical, deviation, bead
				}))
				c := &v.Crossing
				if !c.At.OK || !c.Seen || c.Picture.OK {
					continue
				}
				if d := v.Compare(v.Sight(sim.RightEye, c.At.Value), v.Sight(sim.LeftEye, c.At.Value)); d.Single() {
					single++
					assert.NotEqual(t, sim.MeetPasses, v.Account.Meet, "%v Δ, %v Δ", vertical, deviation)
					continue
				}
				passes++
				assert.Equal(t, sim.MeetPasses, v.Account.Meet, "%v Δ, %v Δ", vertical, deviation)
			}
		}
	}
	assert.Positive(t, passes)
	assert.Positive(t, single, "a place that is single is where they cross, though the strands pass")
}

// drawn is where the strands meet in the picture: polylines, as they are drawn.
func drawn(v *sim.View) (all []r3.Vec) {
	const corners = 800
	length := v.Now.String.Length
	var strand [2][]sim.Sight
	for i := 0; i <= corners; i++ {
		u := float64(i) / corners
		for e := range sim.Eyes {
			strand[e] = append(strand[e], v.Sight(e, min(length, 20*(math.Pow(1+length/20, u)-1))))
		}
	}
	for i := range corners {
		a, b := strand[sim.RightEye][i], strand[sim.RightEye][i+1]
		if !a.Ahead || !b.Ahead {
			continue
		}
		for j := range corners {
			c, d := strand[sim.LeftEye][j], strand[sim.LeftEye][j+1]
			if !c.Ahead || !d.Ahead {
				continue
			}
			ux, uy, vx, vy := b.At.X-a.At.X, b.At.Y-a.At.Y, d.At.X-c.At.X, d.At.Y-c.At.Y
			wx, wy := c.At.X-a.At.X, c.At.Y-a.At.Y
			det := ux*vy - uy*vx
			p, q := (wx*vy-wy*vx)/det, (wx*uy-wy*ux)/det
			const joint = 1e-6
			if p >= -joint && p <= 1+joint && q >= -joint && q <= 1+joint {
				all = append(all, r3.Vec{X: a.At.X + p*ux, Y: 1, Z: a.At.Y + p*uy})
			}
		}
	}
	return all
}

// A crossing that is said lies within 30′ of one that is drawn, or is a place where
// the string is single, or both strands lie on one line there.
func TestACrossingSaidIsDrawn(t *testing.T) {
	said, aside := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		for range 10 {
			s := setups(t)
			v := look(s)
			switch v.Account.Meet {
			case sim.MeetAside:
				aside++
				continue
			case sim.MeetAt, sim.MeetNearer, sim.MeetBeyond:
			default:
				continue
			}
			at := v.Crossing.At.Value
			right, left := v.Sight(sim.RightEye, at), v.Sight(sim.LeftEye, at)
			if v.Compare(right, left).Single() || v.Strings.NearOverlaid || v.Strings.FarOverlaid {
				continue
			}
			said++
			mean := r3.Vec{X: (right.At.X + left.At.X) / 2, Y: 1, Z: (right.At.Y + left.At.Y) / 2}
			nearest := math.Inf(1)
			for _, p := range drawn(v) {
				nearest = min(nearest, angleBetween(mean, p))
			}
			assert.LessOrEqual(t, nearest, 30.5*arcmin, "%+v", s)
		}
	})
	assert.Positive(t, said)
	assert.Positive(t, aside)
}

// Where along the string it is sampled changes nothing: neither is the nearer section
// another one when the string ends sooner behind the place looked at.
func TestStringsNearerWhateverLiesBeyond(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		s.String.Sag, s.Posture.Anomaly = 0, 0
		s.Right, s.Left = sim.Glass{}, sim.Glass{}
		s.Beads, s.Look = nil, sim.Fixation{Bead: sim.NoBead, Asked: sim.NoBead, At: s.String.Length * rapid.Float64Range(0.05, 0.6).Draw(t, "looked at")}
		part := rapid.Float64Range(0.7, 0.95).Draw(t, "part")
		short := with(s, func(s *sim.Setup) {
			s.String.Length *= part
			s.String.AnchorSide = s.String.NearEnd.X + part*(s.String.AnchorSide-s.String.NearEnd.X)
			s.String.AnchorHeight = s.String.NearEnd.Z + part*(s.String.AnchorHeight-s.String.NearEnd.Z)
		})
		a, b := look(s), look(short)
		assert.Equal(t, a.Strings.Near, b.Strings.Near, "%+v", s)
		assert.Equal(t, a.Strings.NearOverlaid, b.Strings.NearOverlaid, "%+v", s)
	})
}

// A harmonious anomaly crosses in the bead at every distance and with every nodal
// point (M6), and both images of it lie in one direction.
func TestHarmoniousAnomalyMeetsInTheBead(t *testing.T) {
	for _, nodal := range []float64{0, 3, 6.4, 10} {
		for i := range 12 {
			at := 60 * math.Pow(90, float64(i)/11) // to 5400 mm
			for _, turned := range []sim.Prism{20, -35} {
				v := look(with(scene(6000, 20, at, 5950), func(s *sim.Setup) {
					s.Patient.Nodal = nodal
					s.Posture.Deviation, s.Posture.Anomaly, s.Posture.Fixing = turned, turned, sim.Right
				}))
				name := []any{"nodal %v, at %v, %v Δ", nodal, at, turned}
				assert.Equal(t, sim.MeetAt, v.Account.Meet, name...)
				require.True(t, v.Crossing.Offset.OK, name...)
				assert.InDelta(t, 0, v.Crossing.Offset.Value, 1e-5, name...)
				assert.InDelta(t, 0, float64(v.Account.Apart.Value), 1e-12, name...)
			}
		}
	}
}

// The scale of an anomaly at the target (M6): how far off the bead's image is in a
// turned eye, over its turn. A prism before the eye does not change it.
func TestScaleOfAnomaly(t *testing.T) {
	for distance, want := range map[float64]float64{400: 1.016, 100: 1.065} {
		s := bare(62, distance)
		s.Patient.Nodal = 6.4
		if distance == 100 {
			s.Patient.PD = 40 // 100 mm from the eye itself is little more than from the line of both
		}
		s.Posture.Deviation, s.Posture.Fixing = 20, sim.Right
		turned := look(s)
		apart := func(v *sim.View) float64 {
			return math.Atan(v.SightOf(sim.LeftEye, v.Target.Point, v.Target.At).At.X)
		}
		off := func(anomaly, prism sim.Prism) float64 {
			return apart(look(with(s, func(s *sim.Setup) {
				s.Posture.Anomaly, s.Left.BaseOut, s.Posture.PrismMet = anomaly, prism, 0
			})))
		}
		e := float64(sim.Prism(20).Angle())
		scale := math.Abs(apart(turned)) / e
		assert.InDelta(t, want, scale, 0.003, "%v mm", distance)
		a := float64(sim.Prism(8).Angle())
		for _, prism := range []sim.Prism{0, 6} {
			assert.InDelta(t, scale*a, math.Abs(off(0, prism)-off(8, prism)), 1e-12, "%v mm, %v Δ", distance, prism)
		}
	}
}

// A gap is one eye's, and only where the string is seen on either side of it.
func TestGap(t *testing.T) {
	central := func(eye sim.Side, radius sim.Degrees) sim.Setup {
		return with(threeBeads(), func(s *sim.Setup) {
			s.Suppression.Eye, s.Suppression.Zone, s.Suppression.Radius = eye, sim.ZoneCentral, radius
		})
	}
	covered := central(sim.Right, 2)
	covered.Cover = sim.Left
	all := central(sim.Right, 2)
	all.Suppression.Zone = sim.ZoneAll
	for name, c := range map[string]struct {
		s    sim.Setup
		want sim.Side
	}{
		"right":               {central(sim.Right, 2), sim.Right},
		"left":                {central(sim.Left, 2), sim.Left},
		"nothing left out":    {threeBeads(), sim.Neither},
		"left out whole":      {all, sim.Neither},
		"the other covered":   {covered, sim.Neither},
		"wider than the rest": {central(sim.Left, 60), sim.Neither},
	} {
		assert.Equal(t, c.want, look(c.s).Account.Gap, name)
	}
}
