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

func faceOf(s sim.Setup) sim.Face { return look(s).Face() }

// atTheAnchor looks at the anchor, where the observer is.
func atTheAnchor() sim.Setup {
	s := threeBeads()
	s.Look.Bead, s.Look.At = sim.NoBead, s.String.Length
	return s
}

// nasal is how far the reflex lies towards the nose from the pupil's centre, mm.
func nasal(t *testing.T, f *sim.Face, eye sim.Eye) float64 {
	t.Helper()
	require.True(t, f.Eyes[eye].Reflex.OK)
	if eye == sim.LeftEye {
		return f.Eyes[eye].Reflex.Value.X
	}
	return -f.Eyes[eye].Reflex.Value.X
}

// Rows E1 – E7: the turn of an eye for each mm that its reflex moves lies within the
// published band, whose ends are rows E6 and E4, by row E5, and well within what
// single people have (E7). Their sources: Hasebe 1998 (E1), Barry & Backes 1997 (E2,
// E3), Model 2010 (E4), Riddell 1994 (E5), Ntodie 2021 (E6), Romano 2006 (E7).
func TestHirschbergRatio(t *testing.T) {
	low, high := expected(t, "E6", 1)[0], expected(t, "E4", 1)[0]
	infants, people := expected(t, "E5", 1)[0], expected(t, "E7", 2)
	for _, ratio := range []float64{ // Δ/mm
		expected(t, "E1", 1)[0] / given(t, "E1", 1)[0], expected(t, "E2", 2)[1], expected(t, "E3", 2)[1],
	} {
		assert.GreaterOrEqual(t, ratio, low)
		assert.LessOrEqual(t, ratio, high)
	}
	for _, deviation := range []sim.Prism{-25, -21.5, 21.5, 25} {
		s := atTheAnchor()
		s.Patient.Lambda = 0
		s.Posture = sim.Posture{Deviation: deviation, Fixing: sim.Right, PrismMet: 1}
		f := faceOf(s)
		moved := nasal(t, &f, sim.LeftEye) // out: nasal
		assert.InDelta(t, -math.Copysign(1, float64(deviation)), math.Copysign(1, moved), 0)
		ratio := math.Abs(float64(deviation) / moved)
		assert.GreaterOrEqual(t, ratio, low, "%v Δ", deviation)
		assert.LessOrEqual(t, ratio, high, "%v Δ", deviation)
		assert.InDelta(t, infants, ratio, 2)
		assert.Greater(t, ratio, people[0])
		assert.Less(t, ratio, people[1])
		assert.InDelta(t, 0, nasal(t, &f, sim.RightEye), 1e-9)
	}

	// Row E2 with its own distance between the centres of cornea and pupil in place of
	// the model's.
	h := given(t, "E2", 1)[0]
	s := atTheAnchor()
	s.Patient.Lambda = sim.Degrees(expected(t, "E2", 2)[0])
	f := faceOf(s)
	moved := nasal(t, &f, sim.LeftEye) * h / (sim.PupilAhead - sim.CorneaAhead)
	assert.InDelta(t, expected(t, "E2", 2)[0], float64(f.Eyes[sim.LeftEye].Angle.Degrees())/moved, 0.02)
	assert.InDelta(t, expected(t, "E2", 2)[1], float64(f.Eyes[sim.LeftEye].Angle.Prism())/moved, 0.02)

	// 1 mm for 12.2°, 21.5 Δ (M16).
	s.Patient.Lambda = 12.1
	f = faceOf(s)
	moved = nasal(t, &f, sim.RightEye)
	assert.InDelta(t, 1, moved, 0.001)
	assert.InDelta(t, 12.2, float64(f.Eyes[sim.RightEye].Angle.Degrees())/moved, 0.05)
	assert.InDelta(t, 21.5, float64(f.Eyes[sim.RightEye].Angle.Prism())/moved, 0.05)
}

// Row E13 (Tehran 2010, Korea 2013): eyes that both look at the light show the reflex nasally, in both alike,
// about 0.4 mm (M16).
func TestReflexOfLookingEyes(t *testing.T) {
	s := atTheAnchor()
	f := faceOf(s)
	for eye := range sim.Eyes {
		x := nasal(t, &f, eye)
		assert.InDelta(t, 0.414, x, 0.005)
		degrees := sim.Angle(math.Asin(x / (sim.PupilAhead - sim.CorneaAhead))).Degrees()
		assert.InDelta(t, expected(t, "E13", 1)[0], float64(degrees), 3)
		assert.InDelta(t, 0, f.Eyes[eye].Reflex.Value.Y, 1e-9)
		assert.False(t, f.Eyes[eye].Turned())
	}
	assert.Equal(t, sim.FacingTarget, f.Facing)
	assert.InDelta(t, expected(t, "E10", 1)[0], sim.CorneaRadius, 0.1)
}

// Eyes on a near bead show the reflex temporally in both, and that is no turn (M16).
func TestConvergenceIsNoTurn(t *testing.T) {
	s := threeBeads()
	s.Beads[0].At = 80
	s.Look.Bead = 0
	f := faceOf(s)
	for eye := range sim.Eyes {
		assert.Less(t, nasal(t, &f, eye), -0.5)
		assert.False(t, f.Eyes[eye].Turned())
	}
	assert.Equal(t, sim.FacingNear, f.Facing)
}

// The second route: the pupil by rotations of a point that begins straight ahead, the
// reflex as the image that the cornea, a mirror of half its radius, makes of a light
// at the observer.
func TestFaceBySecondRoute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		s.Patient.Lambda = sim.Degrees(rapid.Float64Range(0, 12).Draw(t, "lambda"))
		var v sim.View
		v.Look(&s)
		f := v.Face()
		observer := s.Place(s.String.Length)
		x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
		for i := range sim.Eyes {
			e, g := &f.Eyes[i], &v.Eyes[i]
			side := 1.
			if i == sim.LeftEye {
				side = -1
			}
			turned := func(p r3.Vec) r3.Vec {
				p = r3.NewRotation(-side*float64(s.Patient.Lambda.Angle()), z).Rotate(p)
				p = r3.NewRotation(side*float64(g.Torsion), y).Rotate(p)
				p = r3.NewRotation(-float64(g.Azimuth), z).Rotate(p)
				return r3.NewRotation(float64(g.Elevation), x).Rotate(p)
			}
			cornea := r3.Add(g.Centre, turned(r3.Scale(5.7, y)))
			d := r3.Sub(observer, cornea)
			// The picture turns back until the observer is straight ahead.
			pan := r3.NewRotation(math.Atan2(d.X, d.Y), z)
			tilt := r3.NewRotation(-math.Atan2(d.Z, math.Hypot(d.X, d.Y)), x)
			seen := func(p r3.Vec) sim.XY {
				p = tilt.Rotate(pan.Rotate(p))
				return sim.XY{X: p.X, Y: p.Z}
			}
			near := func(what string, want, got sim.XY) {
				assert.InDelta(t, 0, math.Hypot(want.X-got.X, want.Y-got.Y), 1e-9, what)
			}
			pupil := turned(r3.Scale(10.45, y))
			near("pupil", seen(pupil), e.Pupil)
			near("across", seen(turned(x)), e.Across)
			near("upright", seen(turned(z)), e.Upright)
			theta := math.Atan2(r3.Norm(r3.Cross(turned(y), d)), r3.Dot(turned(y), d)) // exact where it is small too
			assert.InDelta(t, theta, float64(e.Angle), 1e-7)
			lit := math.Sin(theta) <= 5.9/7.8 && theta < math.Pi/2
			assert.Equal(t, lit, e.Reflex.OK)
			if lit {
				image := r3.Add(cornea, r3.Scale(7.8/2, r3.Unit(d)))
				near("reflex", seen(r3.Sub(image, r3.Add(g.Centre, pupil))), e.Reflex.Value)
				assert.InDelta(t, (7.8-3.05)*math.Sin(theta), math.Hypot(e.Reflex.Value.X, e.Reflex.Value.Y), 1e-9)
			}
		}
	})
}

// Who swaps the eyes mirrors the face.
func TestFaceMirrors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		a, b := faceOf(s), faceOf(mirrored(s))
		assert.Equal(t, a.Facing, b.Facing)
		for i := range sim.Eyes {
			e, m := &a.Eyes[i], &b.Eyes[1-i]
			for _, at := range [][2]sim.XY{
				{e.Centre, m.Centre}, {e.Pupil, m.Pupil}, {e.Upright, m.Upright},
				{{X: -e.Across.X, Y: -e.Across.Y}, m.Across}, {e.Reflex.Value, m.Reflex.Value},
			} {
				assert.InDelta(t, 0, math.Hypot(at[0].X+at[1].X, at[0].Y-at[1].Y), 1e-9)
			}
			assert.Equal(t, e.Reflex.OK, m.Reflex.OK)
			assert.Equal(t, []any{e.Side, e.Height, e.Tilt, e.Covered, e.PupilRadius}, []any{m.Side, m.Height, m.Tilt, m.Covered, m.PupilRadius})
			assert.InDelta(t, float64(e.In), float64(m.In), 1e-9)
			assert.InDelta(t, float64(e.Above), float64(m.Above), 1e-9)
		}
	})
}

// Each eye's codes, and what both do together.
func TestFacing(t *testing.T) {
	type turns struct{ side, height sim.Turn }
	straight := turns{sim.TurnNone, sim.TurnNone}
	posture := func(deviation, vertical sim.Prism, fixing sim.Side) func(*sim.Setup) {
		return func(s *sim.Setup) {
			s.Posture.Deviation, s.Posture.Vertical, s.Posture.Fixing = deviation, vertical, fixing
		}
	}
	for name, c := range map[string]struct {
		change      func(*sim.Setup)
		facing      sim.Facing
		right, left turns
	}{
		"steady":             {func(*sim.Setup) {}, sim.FacingTarget, straight, straight},
		"just under 1 Δ":     {posture(0.99, 0, sim.Right), sim.FacingTarget, straight, straight},
		"just over":          {posture(1.01, 0, sim.Right), sim.FacingTurned, straight, turns{sim.TurnIn, sim.TurnNone}},
		"eso, left fixing":   {posture(20, 0, sim.Left), sim.FacingTurned, turns{sim.TurnIn, sim.TurnNone}, straight},
		"exo, shared":        {posture(-25, 0, sim.Both), sim.FacingTurned, turns{sim.TurnOut, sim.TurnNone}, turns{sim.TurnOut, sim.TurnNone}},
		"right higher":       {posture(0, 10, sim.Left), sim.FacingTurned, turns{sim.TurnNone, sim.TurnUp}, straight},
		"left lower and out": {posture(-10, 10, sim.Right), sim.FacingTurned, straight, turns{sim.TurnOut, sim.TurnDown}},
		"turned behind the cover": {func(s *sim.Setup) { posture(-20, 0, sim.Right)(s); s.Cover = sim.Left },
			sim.FacingTarget, straight, turns{sim.TurnOut, sim.TurnNone}},
		"answered base-out": {func(s *sim.Setup) { s.Right.BaseOut, s.Left.BaseOut = 6, 6 },
			sim.FacingPrism, turns{sim.TurnIn, sim.TurnNone}, turns{sim.TurnIn, sim.TurnNone}},
		"unanswered base-out": {func(s *sim.Setup) { s.Right.BaseOut, s.Left.BaseOut, s.Posture.PrismMet = 6, 6, 0 },
			sim.FacingTarget, straight, straight},
	} {
		s := threeBeads()
		c.change(&s)
		f := faceOf(s)
		assert.Equal(t, c.facing, f.Facing, name)
		for i, want := range [2]turns{c.right, c.left} {
			e := &f.Eyes[i]
			assert.Equal(t, want, turns{e.Side, e.Height}, "%s, eye %d", name, i)
		}
	}

	s := threeBeads()
	s.Posture.Cyclo, s.Posture.Fixing = 5, sim.Right
	f := faceOf(s)
	assert.Equal(t, []sim.Turn{sim.TurnNone, sim.TurnOut}, []sim.Turn{f.Eyes[0].Tilt, f.Eyes[1].Tilt})
	// The top of the left eye goes outward: to the patient's left.
	assert.Less(t, f.Eyes[sim.LeftEye].Upright.X, 0.)
}

// Between two beads the eyes are on their way, and then they are there (M15).
func TestFacingWhileMoving(t *testing.T) {
	s := threeBeads()
	s.Look.Bead, s.Look.From = 0, sim.Some(2)
	course := sim.NewCourse(&s)
	var v sim.View
	for _, c := range []struct {
		seconds float64
		want    sim.Facing
	}{{0, sim.FacingMoving}, {0.4, sim.FacingMoving}, {1.2, sim.FacingNear}, {3, sim.FacingNear}} {
		course.Look(&v, c.seconds)
		f := v.Face()
		assert.Equal(t, c.want, f.Facing, "%v s", c.seconds)
	}
}

func TestFaceAllocatesNothing(t *testing.T) {
	s := threeBeads()
	var v sim.View
	v.Look(&s)
	assert.Zero(t, testing.AllocsPerRun(20, func() { v.Face() }))
}
