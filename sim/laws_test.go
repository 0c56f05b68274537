package sim_test

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"twincord/sim"
)

func otherSide(s sim.Side) sim.Side {
	switch s {
	case sim.Right:
		return sim.Left
	case sim.Left:
		return sim.Right
	}
	return s
}

// mirrored is the set-up as a mirror in the midplane of the head shows it.
func mirrored(s sim.Setup) sim.Setup {
	s.String.NearEnd.X = -s.String.NearEnd.X
	s.String.AnchorSide = -s.String.AnchorSide
	s.Posture.Vertical = -s.Posture.Vertical // the higher eye is now the other one
	s.Posture.Fixing = otherSide(s.Posture.Fixing)
	s.Suppression.Eye = otherSide(s.Suppression.Eye)
	s.Cover = otherSide(s.Cover)
	s.Right, s.Left = s.Left, s.Right
	return s
}

func mirroredXY(p sim.Maybe[sim.XY]) sim.Maybe[sim.XY] {
	p.Value.X = -p.Value.X
	return p
}

func mirroredSeen(s sim.Seen) sim.Seen {
	switch s {
	case sim.SeenRight:
		return sim.SeenLeft
	case sim.SeenLeft:
		return sim.SeenRight
	}
	return s
}

// mirroredView is what the mirrored set-up must give.
func mirroredView(v *sim.View) sim.View {
	flip := func(p r3.Vec) r3.Vec { return r3.Vec{X: -p.X, Y: p.Y, Z: p.Z} }
	m := sim.View{
		Target: v.Target, Axes: v.Axes, Crossing: v.Crossing,
		Strings: v.Strings, Account: v.Account,
	}
	m.Target.Point = flip(v.Target.Point)
	for i, g := range v.Eyes {
		g.Azimuth = -g.Azimuth
		g.Centre, g.Nodal, g.Axis = flip(g.Centre), flip(g.Nodal), flip(g.Axis)
		m.Eyes[1-i] = g
	}
	m.Axes.Point.Value = flip(v.Axes.Point.Value)
	m.Crossing.RightAt, m.Crossing.LeftAt = v.Crossing.LeftAt, v.Crossing.RightAt
	m.Crossing.Picture = mirroredXY(v.Crossing.Picture)
	for _, b := range v.Beads {
		b.Disparity.Value.V = -b.Disparity.Value.V
		b.Right, b.Left = mirroredXY(b.Left), mirroredXY(b.Right)
		b.Seen = mirroredSeen(b.Seen)
		m.Beads = append(m.Beads, b)
	}
	m.Account.Fixated = mirroredSeen(v.Account.Fixated)
	m.Account.Higher = otherSide(v.Account.Higher)
	m.Account.Missing = otherSide(v.Account.Missing)
	m.Account.Fixes = otherSide(v.Account.Fixes)
	m.Account.Fainter = otherSide(v.Account.Fainter)
	m.Account.Gap = otherSide(v.Account.Gap)
	return m
}

// differences compares every exported field of two values, numbers to within a
// relative tolerance, and gives the paths of those that differ.
func differences(path string, a, b reflect.Value, tolerance float64) (out []string) {
	switch a.Kind() {
	case reflect.Struct:
		for i := range a.NumField() {
			if f := a.Type().Field(i); f.IsExported() {
				out = append(out, differences(path+"."+f.Name, a.Field(i), b.Field(i), tolerance)...)
			}
		}
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() {
			return []string{fmt.Sprintf("%s: %d and %d long", path, a.Len(), b.Len())}
		}
		for i := range a.Len() {
			out = append(out, differences(fmt.Sprintf("%s[%d]", path, i), a.Index(i), b.Index(i), tolerance)...)
		}
	case reflect.Float64:
		if x, y := a.Float(), b.Float(); !(math.Abs(x-y) <= tolerance*(1+max(math.Abs(x), math.Abs(y)))) {
			out = append(out, fmt.Sprintf("%s: %v and %v", path, x, y))
		}
	default:
		if !a.Equal(b) {
			out = append(out, fmt.Sprintf("%s: %v and %v", path, a, b))
		}
	}
	return out
}

// viewDifferences compares what is seen, not the set-ups it is seen in.
func viewDifferences(a, b *sim.View, tolerance float64) []string {
	x, y := *a, *b
	x.Now, y.Now = sim.Setup{}, sim.Setup{}
	a, b = &x, &y
	return differences("View", reflect.ValueOf(*a), reflect.ValueOf(*b), tolerance)
}

// Swapping the eyes mirrors everything.
func TestMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		m := mirrored(s)
		var seen, mirror sim.View
		seen.Look(&s)
		mirror.Look(&m)
		want := mirroredView(&seen)
		assert.Empty(t, viewDifferences(&want, &mirror, 1e-6), "%+v", s)
	})
}

// scaled is the set-up with every length multiplied.
func scaled(s sim.Setup, by float64) sim.Setup {
	return with(s, func(s *sim.Setup) {
		s.Patient.PD *= by
		s.Patient.Nodal *= by
		s.String.Length *= by
		s.String.NearEnd = r3.Scale(by, s.String.NearEnd)
		s.String.AnchorSide *= by
		s.String.AnchorHeight *= by
		s.String.Thickness *= by
		s.String.Sag *= by
		for i := range s.Beads {
			s.Beads[i].At *= by
			s.Beads[i].Diameter *= by
		}
		s.Look.At *= by
	})
}

// Scaling all lengths changes no direction, and scales every place. The spectacle
// plane is a length that stays, so there is nothing in it here.
func TestScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		s.Right, s.Left = sim.Glass{}, sim.Glass{}
		by := rapid.Float64Range(0.5, 4).Draw(t, "by")
		big := scaled(s, by)
		var v, w sim.View
		v.Look(&s)
		w.Look(&big)
		place := func(name string, a, b sim.Maybe[float64]) {
			require.Equal(t, a.OK, b.OK, "%s\n%+v", name, s)
			assert.InDelta(t, a.Value*by, b.Value, 1e-3*(1+by), "%s\n%+v", name, s)
		}
		place("at", v.Crossing.At, w.Crossing.At)
		place("offset", v.Crossing.Offset, w.Crossing.Offset)
		place("right at", v.Crossing.RightAt, w.Crossing.RightAt)
		place("left at", v.Crossing.LeftAt, w.Crossing.LeftAt)
		assert.InDelta(t, float64(v.Target.Demand), float64(w.Target.Demand), 1e-9)
		assert.InDelta(t, float64(v.Target.DemandAngle), float64(w.Target.DemandAngle), 1e-12)
		for e := range sim.Eyes {
			assert.InDelta(t, float64(v.Eyes[e].Azimuth), float64(w.Eyes[e].Azimuth), 1e-12)
			assert.InDelta(t, float64(v.Eyes[e].Elevation), float64(w.Eyes[e].Elevation), 1e-12)
			assert.InDelta(t, float64(v.Eyes[e].Torsion), float64(w.Eyes[e].Torsion), 1e-12)
		}
		for i := range v.Beads {
			a, b := v.Beads[i], w.Beads[i]
			a.At, a.FromEyes, a.Blur = b.At, b.FromEyes, b.Blur
			assert.Empty(t, differences("Bead", reflect.ValueOf(a), reflect.ValueOf(b), 1e-9), "%+v", s)
		}
		a, b := v.Account, w.Account
		a.Meet = b.Meet                           // on a bare string it depends on a length that stays
		a.Clarity, a.Uneven = b.Clarity, b.Uneven // dioptres are no angles
		assert.Empty(t, differences("Account", reflect.ValueOf(a), reflect.ValueOf(b), 1e-9), "%+v", s)
		assert.Equal(t, v.Strings.Pattern, w.Strings.Pattern, "%+v", s)
	})
}

// Without error, and with the prisms answered in full, the strings cross in the
// target, wherever the string is held.
func TestNoErrorCrossesInTheTarget(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		s.Posture.Deviation, s.Posture.Vertical, s.Posture.Cyclo, s.Posture.Anomaly = 0, 0, 0, 0
		s.Posture.PrismMet = 1
		v := look(s)
		require.True(t, v.Crossing.At.OK, "%+v", s)
		assert.InDelta(t, v.Target.At, v.Crossing.At.Value, 1e-5, "%+v", s)
		assert.InDelta(t, 0, v.Crossing.Offset.Value, 1e-5, "%+v", s)
		assert.InDelta(t, 0, float64(v.Account.Apart.Value), 1e-9, "%+v", s)
		if s.Right == (sim.Glass{}) && s.Left == s.Right {
			require.True(t, v.Axes.Gap.OK, "%+v", s)
			assert.InDelta(t, 0, v.Axes.Gap.Value, 1e-6, "%+v", s)
			assert.InDelta(t, 0, r3.Norm(r3.Sub(v.Axes.Point.Value, v.Target.Point)), 1e-3, "%+v", s)
		}
	})
}

// A cover equals total suppression.
func TestCoverIsTotalSuppression(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		covered := setups(t)
		covered.Suppression.Eye = sim.Neither
		covered.Cover = rapid.SampledFrom([]sim.Side{sim.Right, sim.Left}).Draw(t, "eye")
		suppressed := covered
		suppressed.Cover = sim.Neither
		suppressed.Suppression = sim.Suppression{Eye: covered.Cover, Zone: sim.ZoneAll, Centre: sim.CentreFovea, Radius: 5, Depth: 1}
		want := look(covered)
		want.Account.NeedsCare = true // a cover is nobody's trouble, suppression is
		assert.Empty(t, viewDifferences(want, look(suppressed), 0), "%+v", covered)
	})
}

// A target that moves away asks for less; the crossing goes with it; what lies
// beyond it is less and less double, what lies nearer more and more.
func TestTargetMovesMonotonically(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sim.Default()
		s.Patient.PD = rapid.Float64Range(40, 80).Draw(t, "pd")
		s.String.Length = rapid.Float64Range(800, 3000).Draw(t, "length")
		s.String.NearEnd.Z = rapid.Float64Range(-90, 20).Draw(t, "near z")
		s.Beads = []sim.Bead{
			{Name: "near", At: 60, Diameter: 10, Surface: sim.SurfacePlain},
			{Name: "far", At: s.String.Length, Diameter: 10, Surface: sim.SurfacePlain},
		}
		first := rapid.Float64Range(70, 200).Draw(t, "first")
		var last *sim.View
		for i := range 12 {
			s.Look.At = first + (s.String.Length-10-first)*float64(i)/11
			v := look(s)
			require.True(t, v.Crossing.At.OK)
			assert.InDelta(t, s.Look.At, v.Crossing.At.Value, 1e-6)
			near, far := v.Beads[0].Disparity, v.Beads[1].Disparity
			require.True(t, near.OK && far.OK)
			assert.Positive(t, near.Value.H, "crossed")
			assert.Negative(t, far.Value.H, "uncrossed")
			if last != nil {
				assert.Less(t, v.Target.Demand, last.Target.Demand)
				assert.Less(t, v.Target.DemandAngle, last.Target.DemandAngle)
				assert.Less(t, v.Target.MetreAngles, last.Target.MetreAngles)
				assert.Greater(t, v.Crossing.At.Value, last.Crossing.At.Value)
				assert.Greater(t, near.Value.H, last.Beads[0].Disparity.Value.H)
				assert.Greater(t, far.Value.H, last.Beads[1].Disparity.Value.H)
			}
			last = v
		}
	})
}

// More error moves the crossing monotonically, nearer with eso.
func TestErrorMovesCrossingMonotonically(t *testing.T) {
	s := threeBeads()
	last := math.Inf(1)
	for e := sim.Prism(-6); e <= 20; e += 0.5 {
		s.Posture.Deviation = e
		at := look(s).Crossing.At
		require.True(t, at.OK, "%v Δ", e)
		assert.Less(t, at.Value, last, "%v Δ", e)
		last = at.Value
	}
}

// Equal and opposite prisms before one eye add to nothing: what one displaces, the
// other brings back.
func TestOppositePrismsAddToNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		s.Right, s.Left = sim.Glass{}, sim.Glass{}
		s.Posture.PrismMet = 0 // the eyes stay where they are
		out := sim.Prism(rapid.Float64Range(-40, 40).Draw(t, "base out"))
		up := sim.Prism(rapid.Float64Range(-40, 40).Draw(t, "base up"))
		p := r3.Vec{
			X: rapid.Float64Range(-300, 300).Draw(t, "x"),
			Y: rapid.Float64Range(40, 3000).Draw(t, "y"),
			Z: rapid.Float64Range(-300, 300).Draw(t, "z"),
		}
		for eye := range sim.Eyes {
			bare := look(s).SightOf(eye, p, 0)
			glasses := s
			glass := &glasses.Right
			toNose := -1.
			if eye == sim.LeftEye {
				glass, toNose = &glasses.Left, 1
			}
			// A base-out prism shows the point at moved nearer the nose; a base-in
			// one of the same power must show that where the bare point is.
			moved := r3.Add(p, r3.Scale((p.Y-27)/100, r3.Vec{X: toNose * float64(out), Z: -float64(up)}))
			*glass = sim.Glass{BaseOut: -out, BaseUp: -up}
			again := look(glasses).SightOf(eye, moved, 0)
			require.Equal(t, bare.Ahead, again.Ahead, "%+v", s)
			assert.InDelta(t, bare.Distance, again.Distance, 1e-9)
			if bare.Ahead {
				scale := 1 + bare.At.X*bare.At.X + bare.At.Y*bare.At.Y
				assert.InDelta(t, bare.At.X, again.At.X, 1e-9*scale, "%+v", s)
				assert.InDelta(t, bare.At.Y, again.At.Y, 1e-9*scale, "%+v", s)
			}
		}
	})
}

// Looking again with the same View changes nothing, even after another set-up.
func TestLookAgain(t *testing.T) {
	var reused sim.View
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		fresh := look(s)
		reused.Look(&s)
		require.Empty(t, viewDifferences(fresh, &reused, 0))
		reused.Look(&s)
		require.Empty(t, viewDifferences(fresh, &reused, 0))
	})
}

func TestLookAllocatesNothing(t *testing.T) {
	for name, s := range benchScenes() {
		var v sim.View
		v.Look(&s)
		assert.Zero(t, testing.AllocsPerRun(20, func() { v.Look(&s) }), name)
	}
}

// notFinite gives the paths of all numbers that are no finite numbers.
func notFinite(path string, v reflect.Value) (out []string) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				out = append(out, notFinite(path+"."+f.Name, v.Field(i))...)
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			out = append(out, notFinite(fmt.Sprintf("%s[%d]", path, i), v.Index(i))...)
		}
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			out = append(out, fmt.Sprintf("%s: %v", path, x))
		}
	}
	return out
}

// requireFinite looks and walks all that is seen.
func requireFinite(t assert.TestingT, s sim.Setup) {
	v := look(s)
	bad := notFinite("View", reflect.ValueOf(*v))
	for eye := range sim.Eyes {
		for _, at := range []float64{0, s.String.Length / 3, s.String.Length} {
			bad = append(bad, notFinite("Sight", reflect.ValueOf(v.Sight(eye, at)))...)
		}
	}
	if right, left := v.Sight(sim.RightEye, s.Look.At), v.Sight(sim.LeftEye, s.Look.At); right.Ahead && left.Ahead {
		bad = append(bad, notFinite("Disparity", reflect.ValueOf(v.Compare(right, left)))...)
	}
	assert.Empty(t, bad, "%+v", s)
}

// Set-ups that break the geometry have defined results.
func TestBrokenGeometry(t *testing.T) {
	for name, change := range map[string]func(*sim.Setup){
		"target behind the eyes":  func(s *sim.Setup) { s.String.NearEnd.Y = -800 },
		"target between the eyes": func(s *sim.Setup) { s.String.NearEnd = r3.Vec{}; s.Beads[0].At, s.Look.Bead = 0, 0 },
		"target in the right eye": func(s *sim.Setup) { s.String.NearEnd = r3.Vec{X: 31}; s.Beads[0].At, s.Look.Bead = 0, 0 },
		"target above the eyes":   func(s *sim.Setup) { s.String.NearEnd = r3.Vec{Z: 50}; s.Beads[0].At, s.Look.Bead = 0, 0 },
		"axes part":               func(s *sim.Setup) { s.Posture.Deviation = -50 },
		"axes parallel":           func(s *sim.Setup) { s.Posture.Deviation = -look(*s).Target.DemandAngle.Prism() },
		"an eye looks along the string": func(s *sim.Setup) {
			s.String.NearEnd, s.String.AnchorSide = r3.Vec{X: 31, Y: 54}, 31
		},
		"both eyes look past it":        func(s *sim.Setup) { s.Posture.Deviation, s.Posture.Vertical = 5000, 5000 },
		"string misses the field":       func(s *sim.Setup) { s.String.NearEnd.Z, s.String.AnchorHeight, s.Posture.Vertical = -90, -1100, 30 },
		"all upward":                    func(s *sim.Setup) { s.String.AnchorHeight = 1150 },
		"no string":                     func(s *sim.Setup) { s.String.Length = 0 },
		"string too short":              func(s *sim.Setup) { s.String.AnchorSide = 5000 },
		"no PD":                         func(s *sim.Setup) { s.Patient.PD = 0 },
		"all beads in one place":        func(s *sim.Setup) { s.Beads[0].At, s.Beads[2].At = 480, 480 },
		"beads of no size":              func(s *sim.Setup) { s.Beads[0].Diameter, s.Beads[1].Diameter, s.Beads[2].Diameter = 0, 0, 0 },
		"beads as large as the head":    func(s *sim.Setup) { s.Beads[0].Diameter, s.Beads[1].Diameter = 1e3, 1e4 },
		"no thickness, no fusion":       func(s *sim.Setup) { s.String.Thickness, s.Patient.FusionH, s.Patient.FusionV = 0, 0, 0 },
		"no pupil":                      func(s *sim.Setup) { s.Patient.Pupil = 0 },
		"sag to the floor":              func(s *sim.Setup) { s.String.Sag = 1e5 },
		"prisms of a right angle":       func(s *sim.Setup) { s.Right.BaseOut, s.Left.BaseUp, s.Posture.PrismMet = 1e9, 1e9, 0.5 },
		"lens of a thousand":            func(s *sim.Setup) { s.Right.Lens, s.Left.Lens = 1000, -1000 },
		"anomaly of a right angle":      func(s *sim.Setup) { s.Posture.Anomaly, s.Posture.Fixing = 1e12, sim.Right },
		"whole turn of torsion":         func(s *sim.Setup) { s.Posture.Cyclo = 3600 },
		"string of a light year":        func(s *sim.Setup) { s.String.Length = 1e19 },
		"everything nought":             func(s *sim.Setup) { *s = sim.Setup{Look: sim.Fixation{Bead: sim.NoBead, Asked: sim.NoBead}} },
		"suppression in a point":        func(s *sim.Setup) { s.Suppression = sim.Suppression{Eye: sim.Left, Zone: sim.ZoneCentral, Depth: 1} },
		"looked at beyond the anchor":   func(s *sim.Setup) { s.Look = sim.Fixation{Bead: sim.NoBead, At: 1e5, Asked: sim.NoBead} },
		"looked at behind the near end": func(s *sim.Setup) { s.Look = sim.Fixation{Bead: sim.NoBead, At: -500, Asked: sim.NoBead} },
	} {
		t.Run(name, func(t *testing.T) {
			s := threeBeads()
			change(&s)
			requireFinite(t, s)
		})
	}
}

// Whatever a scene file may hold has finite results.
func TestEverythingIsFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { requireFinite(t, setups(t)) })
}

// Axes that part have no point; a string held as an eye looks has no strand there.
func TestDefinedResults(t *testing.T) {
	s := threeBeads()
	s.Posture.Deviation = -50
	v := look(s)
	assert.False(t, v.Axes.Point.OK || v.Axes.Gap.OK || v.Crossing.At.OK || v.Crossing.Offset.OK)
	assert.Equal(t, sim.AimApart, v.Account.Eyes)
	assert.Equal(t, sim.MeetNowhere, v.Account.Meet)
	assert.False(t, v.Crossing.Seen)

	s = bare(62, 500)
	s.String.NearEnd.X, s.String.AnchorSide = 31, 31
	v = look(s)
	assert.False(t, v.Crossing.RightAt.OK, "the right eye's strand is a point")

	s = threeBeads()
	s.String.NearEnd.Z = 0
	v = look(s)
	assert.False(t, v.Strings.Gradient.OK, "the mean direction of a level string ahead stands still")
	require.True(t, v.Crossing.RightAt.OK && v.Crossing.LeftAt.OK, "both strands on one line")
	assert.Equal(t, v.Crossing.At, v.Crossing.RightAt)
	assert.Equal(t, v.Crossing.At, v.Crossing.LeftAt)
}

// The picture centred on straight ahead is the one centred on the fixation direction,
// turned by the mean ideal gaze: by rotations about the axes of the head, first up, then
// aside. What lies behind then has no place in it.
func TestHeadCentredIsTurned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := look(setups(t))
		p := sim.XY{X: rapid.Float64Range(-9, 9).Draw(t, "x"), Y: rapid.Float64Range(-9, 9).Draw(t, "y")}
		ideal := v.Now
		ideal.Posture, ideal.Findings = sim.Posture{Fixing: sim.Both, PrismMet: v.Now.Posture.PrismMet}, sim.Maybe[sim.Findings]{}
		eyes := look(ideal).Eyes
		aside := -float64(eyes[sim.RightEye].Azimuth+eyes[sim.LeftEye].Azimuth) / 2
		up := float64(eyes[sim.RightEye].Elevation+eyes[sim.LeftEye].Elevation) / 2
		d := r3.Rotate(r3.Rotate(r3.Vec{X: p.X, Y: 1, Z: p.Y}, aside, r3.Vec{Z: 1}), up, r3.Vec{X: 1})
		got, ok := v.HeadCentred(p)
		if math.Abs(d.Y) > 1e-9 {
			require.Equal(t, d.Y > 0, ok)
		}
		if ok {
			assert.InDelta(t, d.X/d.Y, got.X, 1e-9*(1+math.Abs(got.X)), "x")
			assert.InDelta(t, d.Z/d.Y, got.Y, 1e-9*(1+math.Abs(got.Y)), "y")
		}
	})
}

// The crossing is the nearest of all places without disparity, on whichever side of the
// target: they lie about a circle through the eyes, into which a string that begins beside
// the nose goes and out again.
func TestTheNearestOfSeveralCrossings(t *testing.T) {
	several := 0
	rapid.Check(t, func(t *rapid.T) {
		of := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		s := bare(62, 600)
		side := rapid.SampledFrom([]float64{-1, 1}).Draw(t, "side")
		s.String.NearEnd, s.String.AnchorSide = r3.Vec{X: side * of("begins", 45, 60), Y: of("ahead", 40, 60)}, -side*of("ends", 500, 1400)
		s.String.Length, s.Look.At = 1500, of("looked at", 20, 60)
		s.Posture.Deviation = sim.Prism(of("deviation", -12, 0))
		v := look(s)
		off := func(at float64) (float64, bool) {
			p := s.Place(at)
			r, l := v.SightOf(sim.RightEye, p, at), v.SightOf(sim.LeftEye, p, at)
			if !r.Ahead || !l.Ahead {
				return 0, false
			}
			return float64(v.Compare(r, l).H), true
		}
		const step = 0.25 // mm
		nearest, sides := math.Inf(1), map[bool]bool{}
		for at := step; at < 300; at += step {
			a, ahead := off(at - step)
			b, beyond := off(at)
			if ahead && beyond && a*b < 0 {
				zero := at - step*b/(b-a)
				nearest = min(nearest, math.Abs(zero-s.Look.At))
				sides[zero > s.Look.At] = true
			}
		}
		if len(sides) == 2 {
			several++
			assert.InDelta(t, nearest, math.Abs(v.Crossing.At.Value-s.Look.At), 0.01)
		}
	})
	t.Logf("%d set-ups with several", several)
	assert.Positive(t, several)
}
