package sim_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"twincord/sim"
	"twincord/testdata/published"
)

func azimuth(v *sim.View, eye sim.Eye) float64 { return float64(v.Eyes[eye].Azimuth.Degrees()) }

// D9: ophthalmology teaching pages on the cover test: an uncovered eye that moves
// outward was esotropic.
func TestD9CoverTest(t *testing.T) {
	want := published.Signed(t, published.Get(t, "D9").Expect, 5) // left before, after; outward; right before, after
	n := given(t, "D9", 3)                                        // eso, place, PD
	for _, nodal := range []float64{0, 6.4} {
		s := threeBeads()
		s.Patient.PD, s.Patient.Nodal, s.Beads[1].At = n[2], nodal, n[1]
		s.Posture = sim.Posture{Deviation: sim.Prism(n[0]), Fixing: sim.Right, PrismMet: 1}
		open := look(s)
		s.Cover = sim.Right
		covered := look(s)
		assert.InDelta(t, want[0], azimuth(open, sim.LeftEye), 0.001)
		assert.InDelta(t, want[1], azimuth(covered, sim.LeftEye), 0.001)
		assert.InDelta(t, want[2], azimuth(open, sim.LeftEye)-azimuth(covered, sim.LeftEye), 0.001, "outward: to its left")
		assert.InDelta(t, -3.321, azimuth(open, sim.RightEye), 0.001)
		assert.InDelta(t, -14.631, azimuth(covered, sim.RightEye), 0.001)

		assert.Equal(t, sim.Right, open.Account.Fixes)
		assert.False(t, open.Account.TookUp)
		assert.Equal(t, sim.Left, covered.Account.Fixes)
		assert.True(t, covered.Account.TookUp)
		assert.Equal(t, sim.SeenLeft, covered.Account.Fixated)
		sight := covered.Sight(sim.LeftEye, n[1])
		assert.InDelta(t, 0, math.Hypot(sight.At.X, sight.At.Y), 1e-9, "the bead is on its fovea")

		s.Cover = sim.Left
		assert.False(t, look(s).Account.TookUp, "the fixing eye goes on")
		assert.Equal(t, open.Eyes[sim.RightEye], look(s).Eyes[sim.RightEye])
	}
}

// The cover test, any direction: covered, the fixing eye lets the other one take up.
// Inward it was exo, outward eso, down it was higher (D9).
func TestUncoveredEyeMovesAgainstItsError(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := threeBeads()
		s.Posture = sim.Posture{
			Deviation: sim.Prism(rapid.Float64Range(-40, 40).Draw(t, "deviation")),
			Vertical:  sim.Prism(rapid.Float64Range(-20, 20).Draw(t, "vertical")),
			Fixing:    rapid.SampledFrom([]sim.Side{sim.Right, sim.Left}).Draw(t, "fixing"), PrismMet: 1,
		}
		open := look(s)
		s.Cover = s.Posture.Fixing
		covered := look(s)
		other, toNose, higher := sim.LeftEye, 1., -1.
		if s.Posture.Fixing == sim.Left {
			other, toNose, higher = sim.RightEye, -1, 1
		}
		moved := covered.Eyes[other].Azimuth - open.Eyes[other].Azimuth
		assert.InDelta(t, float64(-s.Posture.Deviation.Angle()), toNose*float64(moved), 1e-12, "eso moves outward")
		up := covered.Eyes[other].Elevation - open.Eyes[other].Elevation
		assert.InDelta(t, -higher*float64(s.Posture.Vertical.Angle()), float64(up), 1e-12, "the higher one moves down")
	})
}

// With both eyes open and nothing left out, the eye that is preferred fixes, and its
// fellow carries all of the error; both share it.
func TestPreferredEyeFixes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		s.Cover, s.Suppression.Eye = sim.Neither, sim.Neither
		v := look(s)
		assert.Equal(t, s.Posture.Fixing, v.Account.Fixes)
		assert.False(t, v.Account.TookUp)
		assert.Equal(t, s.Posture.Fixing, v.Now.Posture.Fixing)
	})
}

// Common practice and textbooks of strabismus, from memory (row D10 is from memory
// only): suppression needs two open eyes. Cover the eye that is seen, and the string
// of the other one comes back.
func TestCoverEndsSuppression(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		s.Cover = rapid.SampledFrom([]sim.Side{sim.Right, sim.Left}).Draw(t, "cover")
		free := s
		free.Suppression.Eye = sim.Neither
		want := look(free)
		want.Account.NeedsCare = look(s).Account.NeedsCare
		assert.Empty(t, viewDifferences(want, look(s), 0), "%+v", s)
	})
	s := threeBeads()
	s.Suppression = sim.Suppression{Eye: sim.Left, Zone: sim.ZoneAll, Depth: 1}
	assert.Equal(t, sim.SeenRight, look(s).Account.Fixated)
	s.Cover = sim.Right
	v := look(s)
	assert.Equal(t, sim.SeenLeft, v.Account.Fixated)
	assert.Equal(t, 1, v.Strings.Near)
	assert.Equal(t, sim.Right, v.Account.Missing)
}

// Depths on both sides of what they change (M4, M9, M20).
func TestDepths(t *testing.T) {
	for _, c := range []struct {
		depth            float64
		fixes            sim.Side
		fixated          sim.Seen
		missing, fainter sim.Side
		care             bool
	}{
		{0.29, sim.Right, sim.SeenTwo, sim.Neither, sim.Neither, false},
		{0.3, sim.Right, sim.SeenTwo, sim.Neither, sim.Neither, true},
		{0.301, sim.Right, sim.SeenTwo, sim.Neither, sim.Right, true},
		{0.5, sim.Right, sim.SeenTwo, sim.Neither, sim.Right, true},
		{0.501, sim.Left, sim.SeenTwo, sim.Neither, sim.Right, true},
		{0.8, sim.Left, sim.SeenTwo, sim.Neither, sim.Right, true},
		{0.801, sim.Left, sim.SeenLeft, sim.Right, sim.Neither, true},
		{1, sim.Left, sim.SeenLeft, sim.Right, sim.Neither, true},
	} {
		s := threeBeads()
		s.Posture = sim.Posture{Deviation: 1, Fixing: sim.Right, PrismMet: 1}
		s.Suppression = sim.Suppression{Eye: sim.Right, Zone: sim.ZoneAll, Depth: c.depth}
		a := look(s).Account
		assert.Equal(t, c.fixes, a.Fixes, "%v", c.depth)
		assert.Equal(t, c.fixes == sim.Left, a.TookUp, "%v", c.depth)
		assert.Equal(t, c.fixated, a.Fixated, "%v", c.depth)
		assert.Equal(t, c.missing, a.Missing, "%v", c.depth)
		assert.Equal(t, c.fainter, a.Fainter, "%v", c.depth)
		assert.Equal(t, c.care, a.NeedsCare, "%v", c.depth)
	}
}

// M20 on both sides of each of its bounds.
func TestNeedsCare(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*sim.Setup)
		want   bool
	}{
		"nothing":                 {func(*sim.Setup) {}, false},
		"cover":                   {func(s *sim.Setup) { s.Cover = sim.Left }, false},
		"turn of 1":               {func(s *sim.Setup) { s.Posture.Fixing, s.Posture.Deviation = sim.Left, -1 }, false},
		"turn of more":            {func(s *sim.Setup) { s.Posture.Fixing, s.Posture.Deviation = sim.Left, -1.01 }, true},
		"shared 10":               {func(s *sim.Setup) { s.Posture.Deviation = 10 }, false},
		"shared more":             {func(s *sim.Setup) { s.Posture.Deviation = -10.1 }, true},
		"height of 1":             {func(s *sim.Setup) { s.Posture.Vertical = -1 }, false},
		"height of more":          {func(s *sim.Setup) { s.Posture.Vertical = -1.01 }, true},
		"tilt of 3":               {func(s *sim.Setup) { s.Posture.Cyclo = 3 }, false},
		"tilt of more":            {func(s *sim.Setup) { s.Posture.Cyclo = -3.1 }, true},
		"anomaly":                 {func(s *sim.Setup) { s.Posture.Fixing, s.Posture.Anomaly = sim.Left, 0.1 }, true},
		"left out now and then":   {func(s *sim.Setup) { s.Suppression.Eye, s.Suppression.Period, s.Suppression.Share = sim.Left, 9, 0 }, true},
		"usual findings":          {func(s *sim.Setup) { s.Findings = sim.Some(usual(nil)) }, false},
		"usual findings, covered": {func(s *sim.Setup) { s.Findings, s.Cover = sim.Some(usual(nil)), sim.Left }, false},
		"findings broken near":    {func(s *sim.Setup) { s.Findings = sim.Some(usual(func(f *sim.Findings) { f.Near.BaseOutBreak = -1 })) }, false},
		"findings broken far":     {func(s *sim.Setup) { s.Findings = sim.Some(usual(func(f *sim.Findings) { f.Far.BaseOutBreak = -1 })) }, false},
		"findings broken farther than a metre, and nearer than the near test": {func(s *sim.Setup) {
			s.Findings = sim.Some(usual(func(f *sim.Findings) { f.Far.BaseOutBreak, f.NPCBreak, f.NPCRecovery = -30, 250, 260 }))
		}, false},
		"findings broken at both": {func(s *sim.Setup) {
			s.Findings = sim.Some(usual(func(f *sim.Findings) { f.Far.BaseOutBreak, f.Near.BaseOutBreak = -1, -1 }))
		}, true},
		"findings broken by prism": {func(s *sim.Setup) { s.Findings, s.Right.BaseOut = sim.Some(usual(nil)), 40 }, true},
		"findings and suppression": {func(s *sim.Setup) { s.Findings, s.Suppression.Eye = sim.Some(usual(nil)), sim.Left }, true},
	} {
		s := threeBeads()
		c.change(&s)
		assert.Equal(t, c.want, s.NeedsCare(), name)
		assert.Equal(t, c.want, look(s).Account.NeedsCare, name)
	}
}

// The zones of the retina: the nasal half sees the temporal half of the field.
func TestRetinalZones(t *testing.T) {
	sees := func(eye sim.Side, zone sim.Zone, x float64) bool {
		s := bare(62, 500)
		s.Suppression = sim.Suppression{Eye: eye, Zone: zone, Depth: 1}
		i := sim.RightEye
		if eye == sim.Left {
			i = sim.LeftEye
		}
		v := look(s)
		p := v.Target.Point
		return v.SightOf(i, r3.Vec{X: p.X + x, Y: p.Y, Z: 20}, 0).Weight == 1
	}
	for _, c := range []struct {
		eye             sim.Side
		x               float64
		nasal, temporal bool // seen with that zone left out
	}{
		{sim.Right, 50, false, true}, {sim.Right, -50, true, false},
		{sim.Left, 50, true, false}, {sim.Left, -50, false, true},
		{sim.Right, 0, true, true}, {sim.Left, 0, true, true}, // on the midline: neither
	} {
		assert.Equal(t, c.nasal, sees(c.eye, sim.ZoneNasal, c.x), "%v at %v, nasal", c.eye, c.x)
		assert.Equal(t, c.temporal, sees(c.eye, sim.ZoneTemporal, c.x), "%v at %v, temporal", c.eye, c.x)
	}
}

// S8: Pratt-Johnson JA & Tillson G 1983, 1984, Br J Ophthalmol 68:174: the whole field.
// S9: Joosse MV et al 1999, Graefes Arch 237:535-545: one area that holds both centres.
// S10: pages on monofixation: a scotoma of 3 to 5 degrees round both.
func TestS8S9S10SuppressionAreas(t *testing.T) {
	require.Contains(t, published.Get(t, "S8").Expect, "zone all")
	assert.Equal(t, sim.ZoneAll, sim.Default().Suppression.Zone)
	require.Contains(t, published.Get(t, "S9").Expect, "centre = both")
	assert.Contains(t, sim.Choices("suppression.centre"), string(sim.CentreBoth))

	n := given(t, "S10", 2)          // eso, radius
	want := expected(t, "S10", 1)[0] // of the gap
	s := threeBeads()
	s.Posture = sim.Posture{Deviation: sim.Prism(n[0]), Fixing: sim.Right, PrismMet: 1}
	s.Suppression = sim.Suppression{Eye: sim.Left, Zone: sim.ZoneCentral, Centre: sim.CentreBoth, Radius: sim.Degrees(n[1]), Depth: 1}
	v := look(s)
	assert.Equal(t, sim.SeenRight, v.Account.Fixated)
	assert.Equal(t, sim.WhereCentre, v.Account.MissingWhere)

	// Across the line from the fovea to the target's image the gap is twice the radius,
	// all the way from one to the other.
	toTarget := v.Target.Point
	fovea := r3.Add(v.Eyes[sim.LeftEye].Nodal, r3.Scale(r3.Norm(r3.Sub(toTarget, v.Eyes[sim.LeftEye].Nodal)), v.Eyes[sim.LeftEye].Axis))
	for _, share := range []float64{0, 0.5, 1} {
		p := r3.Add(r3.Scale(1-share, fovea), r3.Scale(share, toTarget))
		far := r3.Norm(r3.Sub(p, v.Eyes[sim.LeftEye].Nodal))
		gap := 0.
		for up := -5.; up <= 5; up += 0.01 {
			if v.SightOf(sim.LeftEye, r3.Add(p, r3.Vec{Z: far * math.Tan(up*math.Pi/180)}), 0).Weight == 0 {
				gap += 0.01
			}
		}
		assert.InDelta(t, want, gap, 0.1, "at %v of the way", share)
	}
}

// Suppression that acts only while the eyes are turned: from 1 Δ on, with findings
// while they do not hold.
func TestSuppressionWhenTurned(t *testing.T) {
	for deviation, want := range map[sim.Prism]sim.Seen{1: sim.SeenTwo, -1: sim.SeenTwo, 1.01: sim.SeenRight, -1.01: sim.SeenRight} {
		s := threeBeads()
		s.Posture = sim.Posture{Deviation: deviation, Fixing: sim.Right, PrismMet: 1}
		s.Suppression = sim.Suppression{Eye: sim.Left, Zone: sim.ZoneAll, When: sim.WhenTurned, Depth: 1}
		assert.Equal(t, want, look(s).Account.Fixated, "%v Δ", deviation)
	}
	s := threeBeads()
	s.Findings = sim.Some(usual(nil)) // the right eye is preferred
	s.Suppression = sim.Suppression{Eye: sim.Right, Zone: sim.ZoneAll, When: sim.WhenTurned, Depth: 1}
	v := look(s)
	assert.Equal(t, sim.StateHolding, v.Holding.Value.State, "it does not break the hold")
	assert.Equal(t, sim.SeenOne, v.Account.Fixated)
	s.Left.BaseOut = 40
	v = look(s)
	assert.Equal(t, sim.WhyConverge, v.Holding.Value.Why)
	assert.Equal(t, sim.Left, v.Account.Fixes, "the preferred eye cannot")
	assert.True(t, v.Account.TookUp)
	assert.Equal(t, sim.Right, v.Account.Missing)
}

// C21: Toor S et al. 2018, consensual accommodation in anisometropia: the least
// ametropic eye sets the response.
func TestC21LeastAmetropicEyeDrives(t *testing.T) {
	n := published.Signed(t, published.Get(t, "C21").Given, 4) // right, left, place, pupil
	want := expected(t, "C21", 2)
	s := threeBeads()
	s.Beads[1].At, s.Patient.Pupil = n[2], n[3]
	s.Right.Refraction, s.Left.Refraction = sim.Dioptres(n[0]), sim.Dioptres(n[1])
	v := look(s)
	assert.InDelta(t, want[0], float64(v.Sight(sim.RightEye, n[2]).Blur.Arcmin()), 0.2)
	assert.InDelta(t, want[1], float64(v.Sight(sim.LeftEye, n[2]).Blur.Arcmin()), 1e-9)
	assert.Equal(t, sim.ClarityClear, v.Account.Clarity)
	assert.True(t, v.Account.Uneven)
	s.Findings = sim.Some(usual(func(f *sim.Findings) { f.ACA = sim.Some(6.) }))
	assert.InDelta(t, 0, float64(look(s).Holding.Value.Load), 1e-9)
	// Covered, the other one must accommodate for itself.
	s.Findings = sim.Maybe[sim.Findings]{}
	s.Cover = sim.Left
	v = look(s)
	assert.InDelta(t, 0, float64(v.Sight(sim.RightEye, n[2]).Blur), 1e-12)
	assert.False(t, v.Account.Uneven)
}

// C22: an optometry course: the gradient AC/A is what a lens changes of the deviation.
func TestC22GradientOfEso(t *testing.T) {
	n := given(t, "C22", 3) // eso without, with, the lens
	want := expected(t, "C22", 1)[0]
	assert.InDelta(t, want, (n[0]-n[1])/n[2], 0.01)
	s := examined(usual(func(f *sim.Findings) {
		f.FarPhoria, f.NearPhoria, f.ACA, f.State = sim.Prism(n[0]), sim.Prism(n[0]), sim.Some(want), sim.StateBroken
	}), 400)
	s.Patient.Amplitude = sim.Some[sim.Dioptres](12)
	assert.InDelta(t, n[0], float64(look(s).Holding.Value.Phoria), 1e-9)
	near := s
	near.Right.Lens, near.Left.Lens = 2.5, 2.5 // no more is relaxed at 40 cm than there is
	assert.InDelta(t, n[0]-2.5*want, float64(look(near).Holding.Value.Phoria), 0.01)
}

// C23: a mock station of the MRCOphth: hyperopia without its glasses turns the eyes in
// by AC/A.
func TestC23UncorrectedHyperopia(t *testing.T) {
	n := given(t, "C23", 3) // refraction, AC/A, age
	want := expected(t, "C23", 4)
	s := threeBeads()
	s.Patient.Age = n[2]
	s.Findings = sim.Some(usual(func(f *sim.Findings) { f.FarPhoria, f.NearPhoria, f.ACA = 0, 0, sim.Some(n[1]) }))
	s.Right.Refraction, s.Left.Refraction = sim.Dioptres(n[0]), sim.Dioptres(n[0])
	assert.InDelta(t, want[0], float64(look(s).Holding.Value.Phoria), 0.5)
	s.Right.Lens, s.Left.Lens = sim.Dioptres(n[0]), sim.Dioptres(n[0])
	assert.InDelta(t, want[1], float64(look(s).Holding.Value.Phoria), 1e-9)
}

// C24: accommodative and proximal convergence at 59 years: what accommodation is not
// left cannot turn the eyes. Beside it the check values of M17.
func TestC24NoAccommodationNoConvergence(t *testing.T) {
	for name, c := range map[string]struct {
		age, place, lens, aca, want float64
	}{
		"C24":                     {60, 480, -2, 3.4, 0},
		"a near add relaxes":      {60, 346, 2.5, 3.4, 1.10},
		"minus while there is":    {45, 480, -2, 3.4, -2 * 3.4},
		"plus of a child relaxes": {6, 346, 1, 4, 4},
	} {
		s := threeBeads()
		s.Beads[1].At, s.Patient.Age = c.place, c.age
		s.Right.Lens, s.Left.Lens = sim.Dioptres(c.lens), sim.Dioptres(c.lens)
		s.Findings = sim.Some(usual(func(f *sim.Findings) { f.ACA = sim.Some(c.aca) }))
		assert.InDelta(t, c.want, float64(look(s).Holding.Value.Load), 0.01, name)
	}
	n := given(t, "C24", 4) // age, amplitude, lens, place
	_, mean, _ := sim.Amplitude(n[0])
	assert.InDelta(t, n[1], float64(mean), 1e-9)

	s := threeBeads()
	s.Patient.Age, s.Look.Bead = 70, 0
	v := look(s)
	assert.InDelta(t, 39.9, float64(v.Sight(sim.RightEye, 230).Blur.Arcmin()), 0.05)
	assert.Equal(t, sim.ClarityBlurred, v.Account.Clarity)
}

// What was worn when the near findings were taken counts there only: with the same add
// on, nothing changes; at far none was worn.
func TestNearAdd(t *testing.T) {
	f := usual(func(f *sim.Findings) { f.ACA, f.NearAdd = sim.Some(4.), 2 })
	load := func(distance float64, lens sim.Dioptres) float64 {
		s := examined(f, distance)
		s.Right.Lens, s.Left.Lens = lens, lens
		return float64(look(s).Holding.Value.Load)
	}
	assert.InDelta(t, 0, load(400, 2), 1e-9)
	assert.InDelta(t, -8, load(400, 0), 1e-9, "without it the eyes accommodate for more")
	half := 1000 / ((1/6. + 2.5) / 2)
	assert.InDelta(t, -4, load(half, 0), 1e-9)
	assert.InDelta(t, -8, load(300, 0), 1e-9, "nearer it is the whole add")
}

// Clear to 5 arcmin, soft to 15 (M17), by the clearest eye that sees the place.
func TestClarity(t *testing.T) {
	at := func(arcmin float64) *sim.View {
		s := threeBeads()
		demand := float64(look(s).Target.Accommodation)
		s.Posture.Accommodation = sim.Some(sim.Dioptres(demand + arcmin*math.Pi/180/60/0.003))
		return look(s)
	}
	for blur, want := range map[float64]sim.Clarity{
		0: sim.ClarityClear, 4.99: sim.ClarityClear, 5.01: sim.ClaritySoft, -5.01: sim.ClaritySoft,
		14.99: sim.ClaritySoft, 15.01: sim.ClarityBlurred,
	} {
		a := at(blur).Account
		assert.Equal(t, want, a.Clarity, "%v′", blur)
		assert.False(t, a.Uneven)
	}
	s := threeBeads()
	s.Left.Lens = -3
	assert.True(t, look(s).Account.Uneven)
	s.Suppression = sim.Suppression{Eye: sim.Left, Zone: sim.ZoneCentral, Centre: sim.CentreFovea, Radius: 5, Depth: 1}
	assert.False(t, look(s).Account.Uneven, "the other one does not see it")
	s.Cover, s.Suppression.Eye = sim.Right, sim.Neither
	s.Beads, s.Look = nil, sim.Fixation{Bead: sim.NoBead, At: 400, Asked: sim.NoBead}
	assert.Equal(t, sim.ClarityClear, look(s).Account.Clarity, "the left one drives")
}

// An eye whose fovea is left out does not drive accommodation while both fix (M13), nor
// does one that is covered.
func TestAnEyeThatSeesNothingDrivesNothing(t *testing.T) {
	base := with(threeBeads(), func(s *sim.Setup) { s.Left.Refraction, s.Look.Bead = 3, 1 })
	demand := func(change func(s *sim.Setup)) float64 {
		return float64(look(with(base, change)).Target.Accommodation)
	}
	easy := demand(func(*sim.Setup) {})
	for name, change := range map[string]func(s *sim.Setup){
		"left out centrally": func(s *sim.Setup) { s.Suppression.Eye, s.Suppression.Zone = sim.Right, sim.ZoneCentral },
		"covered":            func(s *sim.Setup) { s.Cover = sim.Right },
	} {
		assert.InDelta(t, easy+3, demand(change), rounding*1e3, name)
	}
	assert.InDelta(t, easy, demand(func(s *sim.Setup) { s.Suppression.Eye, s.Suppression.Zone = sim.Left, sim.ZoneCentral }), rounding*1e3)
}
