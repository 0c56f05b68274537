package sim_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"twincord/sim"
)

// findings draws what an examination may have found: no recovery beyond its break.
func findings(t *rapid.T) sim.Findings {
	prism := func(name string, low, high float64) sim.Prism {
		return sim.Prism(rapid.Float64Range(low, high).Draw(t, name))
	}
	reserves := func(name string) (r sim.Reserves) {
		r.BaseInBreak = prism(name+" base-in break", -10, 40)
		r.BaseInRecovery = r.BaseInBreak - prism(name+" base-in regained", 0, 20)
		r.BaseOutBreak = prism(name+" base-out break", -10, 60)
		r.BaseOutRecovery = r.BaseOutBreak - prism(name+" base-out regained", 0, 30)
		return r
	}
	f := sim.Findings{
		FarPhoria:      prism("far phoria", -30, 30),
		NearPhoria:     prism("near phoria", -40, 40),
		VerticalPhoria: rapid.OneOf(rapid.Just(sim.Prism(0)), rapid.Map(rapid.Float64Range(-6, 6), func(p float64) sim.Prism { return sim.Prism(p) })).Draw(t, "vertical phoria"),
		VerticalBreak:  prism("vertical break", 0, 6),
		Far:            reserves("far"),
		Near:           reserves("near"),
		NPCBreak:       rapid.Float64Range(10, 350).Draw(t, "near point"),
		DisparitySlope: rapid.Float64Range(0, 4).Draw(t, "slope"),
		NearAdd:        rapid.OneOf(rapid.Just(sim.Dioptres(0)), rapid.Just(sim.Dioptres(2.5))).Draw(t, "near add"),
		Preferred:      rapid.SampledFrom([]sim.Side{sim.Right, sim.Left}).Draw(t, "preferred"),
		State:          rapid.SampledFrom([]sim.State{sim.StateHolding, sim.StateBroken}).Draw(t, "state"),
	}
	f.NPCRecovery = f.NPCBreak + rapid.Float64Range(0, 40).Draw(t, "near point regained")
	if rapid.Bool().Draw(t, "gradient") {
		f.ACA = sim.Some(rapid.Float64Range(0, 12).Draw(t, "AC/A"))
	}
	return f
}

// patients draws a set-up with findings from the whole range of both.
func patients(t *rapid.T) sim.Setup {
	s := setups(t)
	s.Posture = sim.Posture{Fixing: sim.Both, PrismMet: 1}
	s.Findings = sim.Some(findings(t))
	return s
}

// examination is M14 worked out from its equations alone, to compare with.
type examination struct {
	state                     sim.State
	load, judged, phoria      float64 // Δ
	inBreak, inRecovery       float64 // Δ
	outBreak, outRecovery     float64 // Δ
	rightAzimuth, leftAzimuth float64 // radians
	rightUp, leftUp           float64
	margin                    float64 // how near the decision was, Δ
	single                    bool    // Panum's limit is far from what is held with
}

func examine(s *sim.Setup) (x examination) {
	f, p := &s.Findings.Value, &s.Patient
	w := placeEyes(s)
	D := 1 / (max(1, r3.Norm(w.target)-spectaclePlane) / 1000)

	// Between the two tests by the line through them.
	line := func(far, near, d float64) float64 { return far + (near-far)*(d-1/6.)/(2.5-1/6.) }
	reserve := func(far, near sim.Prism) float64 { return line(float64(far), float64(near), min(max(D, 1/6.), 2.5)) }
	x.inBreak, x.inRecovery = reserve(f.Far.BaseInBreak, f.Near.BaseInBreak), reserve(f.Far.BaseInRecovery, f.Near.BaseInRecovery)
	x.outBreak, x.outRecovery = reserve(f.Far.BaseOutBreak, f.Near.BaseOutBreak), reserve(f.Far.BaseOutRecovery, f.Near.BaseOutRecovery)
	if D > 2.5 {
		// The line through the near test's value and through 0 at the near point.
		if at := 1000 / f.NPCBreak; f.Near.BaseOutBreak > 0 {
			x.outBreak = float64(f.Near.BaseOutBreak) * (at - D) / (at - 2.5)
		}
		if at := 1000 / f.NPCRecovery; f.Near.BaseOutRecovery > 0 {
			x.outRecovery = float64(f.Near.BaseOutRecovery) * (at - D) / (at - 2.5)
		}
	}

	aca := p.PD/10 + 0.4*float64(f.NearPhoria-f.FarPhoria)
	if f.ACA.OK {
		aca = f.ACA.Value
	}
	// What the eyes accommodated in the examination, less what they do now.
	add := float64(f.NearAdd) * min(max((D-1/6.)/(2.5-1/6.), 0), 1)
	supp := s.Suppression
	accommodative := func(fixing sim.Side) float64 {
		driver := math.Inf(1)
		for _, side := range []sim.Side{sim.Right, sim.Left} {
			// On the target, its image is on the fovea.
			blind := s.Cover == side || s.Cover == sim.Neither && supp.Eye == side && supp.Depth > 0.8 &&
				(supp.Zone == sim.ZoneAll || supp.Zone == sim.ZoneCentral)
			if side == fixing || fixing == sim.Both && !blind {
				driver = min(driver, w.demandOn(w.target, side))
			}
		}
		return aca * (w.responseTo(D-add) - w.responseTo(driver))
	}
	prisms := float64(s.Right.BaseOut + s.Left.BaseOut)
	bare := line(float64(f.FarPhoria), float64(f.NearPhoria), D)
	vertical := math.Abs(float64(f.VerticalPhoria + s.Right.BaseUp - s.Left.BaseUp))

	// One eye alone, if the other is covered or left out; turned suppression waits.
	leftOut := func(turned bool) sim.Side {
		whole := supp.Zone == sim.ZoneAll && supp.Depth > 0.5
		switch {
		case s.Cover != sim.Neither:
			return s.Cover
		case whole && (turned || supp.When != sim.WhenTurned):
			return supp.Eye
		}
		return sim.Neither
	}
	out := leftOut(false)
	load := prisms + accommodative(sim.Both)
	x.judged = load
	in, outward := x.inBreak, x.outBreak
	if f.State == sim.StateBroken {
		in, outward = x.inRecovery, x.outRecovery
	}
	within := load <= outward && load >= -in && vertical <= float64(f.VerticalBreak)
	x.margin = min(math.Abs(load-outward), math.Abs(load+in), math.Abs(vertical-float64(f.VerticalBreak)))
	fixing := sim.Both
	x.state = sim.StateHolding
	if out != sim.Neither || !within {
		x.state, fixing = sim.StateBroken, f.Preferred
		if out := leftOut(true); out == fixing {
			fixing = otherSide(out)
		}
	}
	x.load = prisms + accommodative(fixing)
	if out != sim.Neither {
		x.judged = x.load // no two eyes to decide for
	}
	x.phoria = bare - x.load

	var gaze [2][2]float64 // of each eye at what it sees through its prism
	var spread float64     // demand angle of the bare target
	for i, side := range []sim.Side{sim.Right, sim.Left} {
		e := &w.eyes[i]
		gaze[i][0], gaze[i][1] = aim(e.centre, displaced(e.side, s.Glass(side), w.target))
		azimuth, _ := aim(e.centre, w.target)
		spread -= e.side * azimuth
	}
	if x.state == sim.StateHolding {
		arcmin := f.DisparitySlope * x.phoria // −slope × need
		x.single = math.Abs(arcmin) < float64(p.FusionH)/2
		half := arcmin / 60 * math.Pi / 180 / 2
		x.rightAzimuth, x.rightUp = gaze[0][0]-half, gaze[0][1]
		x.leftAzimuth, x.leftUp = gaze[1][0]+half, gaze[1][1]
		return x
	}
	vergence := min(
		spread+math.Atan((bare-accommodative(fixing))/100),
		2*math.Atan(p.PD/2/(f.NPCRecovery+spectaclePlane)))
	higher := math.Atan(float64(f.VerticalPhoria) / 100)
	if fixing == sim.Right {
		x.rightAzimuth, x.rightUp = gaze[0][0], gaze[0][1]
		x.leftAzimuth, x.leftUp = x.rightAzimuth+vergence, x.rightUp-higher
	} else {
		x.leftAzimuth, x.leftUp = gaze[1][0], gaze[1][1]
		x.rightAzimuth, x.rightUp = x.leftAzimuth-vergence, x.leftUp+higher
	}
	return x
}

// What findings make of a target agrees with a second route, written from the
// equations of M14 alone.
func TestFindingsBySecondRoute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := patients(t)
		want := examine(&s)
		if want.margin < 1e-9 {
			return // rounding alone decides
		}
		v := look(s)
		h := v.Holding.Value
		require.True(t, v.Holding.OK)
		require.Equal(t, want.state, h.State, "%+v", s)
		for _, c := range []struct {
			name      string
			want, got float64
		}{
			{"load", want.load, float64(h.Load)},
			{"load that decides", want.judged, float64(h.Judged)},
			{"phoria", want.phoria, float64(h.Phoria)},
			{"need", -want.phoria, float64(h.Need)},
			{"base-in break", want.inBreak, float64(h.BaseInBreak)},
			{"base-in recovery", want.inRecovery, float64(h.BaseInRecovery)},
			{"base-out break", want.outBreak, float64(h.BaseOutBreak)},
			{"base-out recovery", want.outRecovery, float64(h.BaseOutRecovery)},
			{"left", min(want.outBreak-want.judged, want.inBreak+want.judged), float64(h.Left)},
			{"right azimuth", want.rightAzimuth, float64(v.Eyes[sim.RightEye].Azimuth)},
			{"left azimuth", want.leftAzimuth, float64(v.Eyes[sim.LeftEye].Azimuth)},
			{"right elevation", want.rightUp, float64(v.Eyes[sim.RightEye].Elevation)},
			{"left elevation", want.leftUp, float64(v.Eyes[sim.LeftEye].Elevation)},
		} {
			if strings.HasSuffix(c.name, "azimuth") && want.state == sim.StateHolding && !want.single {
				continue // TestHoldingIsSingle has it
			}
			assert.InDelta(t, c.want, c.got, 1e-7*(1+math.Abs(c.want)), "%s\n%+v", c.name, s)
		}
		assert.Equal(t, sim.Some(h), s.HoldingAt(s.LookPlace(), s.Findings.Value.State), "the same without a look")

		// What is seen is what the typed posture shows.
		typed := v.Now
		typed.Findings = sim.Maybe[sim.Findings]{}
		w := look(typed)
		w.Holding = v.Holding
		// Whom the eye took over from, and whom to caution, is the patient's.
		w.Account.TookUp, w.Account.NeedsCare = v.Account.TookUp, v.Account.NeedsCare
		assert.Empty(t, viewDifferences(v, w, 1e-9), "%+v", s)
	})
}

// Swapping the eyes, with what was found of them, mirrors everything.
func TestMirrorOfPatient(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := patients(t)
		seen, mirror := look(s), look(mirroredPatient(s))
		want := mirroredPatientView(seen)
		assert.Empty(t, viewDifferences(&want, mirror, 1e-6), "%+v", s)
	})
}

func mirroredPatient(s sim.Setup) sim.Setup {
	s = mirrored(s)
	f := &s.Findings.Value
	f.VerticalPhoria, f.Preferred = -f.VerticalPhoria, otherSide(f.Preferred)
	return s
}

func mirroredPatientView(v *sim.View) sim.View {
	m := mirroredView(v)
	m.Seconds, m.Holding = v.Seconds, v.Holding
	m.Holding.Value.Vertical = -v.Holding.Value.Vertical
	return m
}

func TestPatientIsFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { requireFinite(t, patients(t)) })
}

// steps are places along the string from one to another, both ends included.
func steps(from, to, by float64) (places []float64) {
	n := int(math.Round(math.Abs(to-from) / by))
	for i := range n + 1 {
		places = append(places, from+(to-from)*float64(i)/float64(n))
	}
	return places
}

// turning is the first of some places, taken one after another from a state, where
// the state is another one; 0 if there is none.
func turning(s *sim.Setup, places []float64, from sim.State) float64 {
	for _, at := range places {
		if s.HoldingAt(at, from).Value.State != from {
			return at
		}
	}
	return 0
}

// breakPlace is where a patient who holds lets go of a place that is brought from the
// anchor to the nose.
func breakPlace(s sim.Setup) float64 {
	return turning(&s, steps(s.String.Length, 1, 1), sim.StateHolding)
}

// regainPlace is where a patient who does not hold regains it on the way back.
func regainPlace(s sim.Setup) float64 {
	return turning(&s, steps(1, s.String.Length, 1), sim.StateBroken)
}

// M14: without prism and lens the break of a walk is the near point's and the
// recovery is its recovery: they are not at the same place.
func TestWalkBreaksAtTheNearPoint(t *testing.T) {
	f := usual(nil)
	s := examined(f, 400)
	toString := func(fromSpectacles float64) float64 { return fromSpectacles + sim.SpectaclePlane - 54 }
	assert.InDelta(t, toString(f.NPCBreak), breakPlace(s), 1)
	assert.InDelta(t, toString(f.NPCRecovery), regainPlace(s), 1)
}

// A walk carries the hold along: each step is the look at that place with the state
// of the one before, and a bead that is walked is taken along.
func TestWalkCarriesTheHold(t *testing.T) {
	s := threeBeads()
	s.Findings = sim.Some(usual(func(f *sim.Findings) { f.NPCBreak, f.NPCRecovery = 120, 200 }))
	places := append(steps(600, 30, 15), steps(30, 600, 15)...)
	state := sim.StateHolding
	var states []sim.State
	s.Walk(places, func(i int, v *sim.View) {
		one := with(s, func(s *sim.Setup) {
			s.Beads = s.Beads[1:2]
			s.Beads[0].At, s.Look.Bead = places[i], 0
			s.Findings.Value.State = state
		})
		require.Empty(t, viewDifferences(look(one), v, 0), "step %d", i)
		state = v.Holding.Value.State
		states = append(states, state)
	})
	in, out := states[:len(places)/2], states[len(places)/2:]
	slices.Reverse(out)
	assert.NotEqual(t, in, out, "between break and recovery it depends on the way")
}

// Where every recovery equals its break, a walk out shows at each place what the
// walk in showed.
func TestWalkWithoutMemoryIsSymmetric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := patients(t)
		f := &s.Findings.Value
		f.State = sim.StateHolding
		f.NPCRecovery = f.NPCBreak
		for _, r := range []*sim.Reserves{&f.Far, &f.Near} {
			r.BaseInRecovery, r.BaseOutRecovery = r.BaseInBreak, r.BaseOutBreak
		}
		s.Left.Lens = s.Right.Lens // else the load depends on which eye fixes
		in := steps(s.String.Length, 1, s.String.Length/20)
		out := slices.Clone(in)
		slices.Reverse(out)
		var seen []sim.View
		s.Walk(append(in, out...), func(i int, v *sim.View) {
			if i < len(in) {
				c := *v
				c.Beads = slices.Clone(v.Beads)
				seen = append(seen, c)
				return
			}
			before := &seen[len(seen)-1-(i-len(in))]
			assert.Empty(t, viewDifferences(before, v, 1e-12), "place %v\n%+v", v.Target.At, s)
		})
	})
}

// More exo never brings the break nearer to the nose, and never the recovery. The
// AC/A is a gradient one: the calculated one would fall with the near phoria.
func TestMoreExoBreaksNoNearer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := examined(findings(t), 400)
		s.String.Length = 1200
		s.Findings.Value.State = sim.StateHolding
		s.Findings.Value.ACA = sim.Some(rapid.Float64Range(0, 10).Draw(t, "ratio"))
		lens := sim.Dioptres(rapid.Float64Range(-3, 3).Draw(t, "lens"))
		s.Right.Lens, s.Left.Lens = lens, lens
		more := s
		more.Findings.Value.FarPhoria -= sim.Prism(rapid.Float64Range(0, 20).Draw(t, "more exo at far"))
		more.Findings.Value.NearPhoria -= sim.Prism(rapid.Float64Range(0, 20).Draw(t, "more exo at near"))
		assert.GreaterOrEqual(t, breakPlace(more), breakPlace(s), "%+v", s)
		if regained := regainPlace(s); regained == 0 {
			assert.Zero(t, regainPlace(more), "%+v", s)
		} else if again := regainPlace(more); again > 0 {
			assert.GreaterOrEqual(t, again, regained, "%+v", s)
		}
	})
}

// Base-out prism, a load on convergence, moves the near point outward, and a plus
// lens does by the AC/A ratio.
func TestLoadMovesTheNearPointOut(t *testing.T) {
	s := examined(usual(func(f *sim.Findings) { f.ACA = sim.Some(4.) }), 400)
	s.String.Length = 1200
	s.Patient.Amplitude = sim.Some[sim.Dioptres](20) // there is always some to relax
	last := breakPlace(s)
	through := func(prism sim.Prism) float64 {
		s := s
		s.Right.BaseOut, s.Left.BaseOut = prism/2, prism/2
		return breakPlace(s)
	}
	for _, prism := range []sim.Prism{4, 8, 12, 16} {
		at := through(prism)
		assert.Greater(t, at, last+2, "%v Δ base out", prism)
		last = at
	}
	plus := s
	plus.Right.Lens, plus.Left.Lens = 2, 2
	assert.InDelta(t, through(8), breakPlace(plus), 0.5, "2 D at 4 Δ/D are 8 Δ")
}

// A plus lens makes the phoria more exo by AC/A, as long as there is accommodation
// to relax; prisms by what they add.
func TestPlusMakesExo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := findings(t)
		distance := rapid.Float64Range(60, 1500).Draw(t, "distance")
		lens := rapid.Float64Range(-3, 0.999*1000/distance).Draw(t, "lens")
		prism := sim.Prism(rapid.Float64Range(-10, 10).Draw(t, "prism"))
		s := examined(f, distance)
		s.Patient.Amplitude = sim.Some[sim.Dioptres](20)
		f.NearAdd = 0
		s.Findings = sim.Some(f)
		bare := look(s).Holding.Value
		s.Right.Lens, s.Left.Lens = sim.Dioptres(lens), sim.Dioptres(lens)
		s.Right.BaseOut, s.Left.BaseOut = prism, -prism // nothing in sum
		glasses := look(s).Holding.Value
		assert.InDelta(t, float64(bare.Phoria)-bare.ACA*lens, float64(glasses.Phoria), 1e-9)
		assert.Equal(t, !f.ACA.OK, bare.ACAStandsIn)
		s.Left.BaseOut = prism
		assert.InDelta(t, float64(glasses.Phoria-2*prism), float64(look(s).Holding.Value.Phoria), 1e-9)
	})
}

// D7 and P6: before fusion base-out shows what exo of its effective power shows,
// whether typed or found.
func TestBaseOutLooksLikeExoBeforeFusion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(-15, 15).Draw(t, "prism")
		distance := 400. + sim.SpectaclePlane
		effective := p * 400 / distance
		ortho := usual(func(f *sim.Findings) {
			f.FarPhoria, f.NearPhoria = 0, 0
			f.Near.BaseOutRecovery, f.Near.BaseInRecovery = -100, -100 // fuses nothing
			f.State, f.Preferred = sim.StateBroken, sim.Left
		})
		s := beadAt(aheadOfRight(distance), distance)
		s.Look.Bead = 0
		s.Findings = sim.Some(ortho)
		// The near test's phoria holds 400 mm from the spectacle plane as the crow
		// flies; straight ahead of one eye the target is a little farther.
		prism, exo := s, s
		prism.Right.BaseOut = sim.Prism(p)
		exo.Findings.Value.FarPhoria, exo.Findings.Value.NearPhoria = sim.Prism(-effective), sim.Prism(-effective)
		a, b := look(prism), look(exo)
		require.Equal(t, sim.StateBroken, a.Holding.Value.State)
		require.Equal(t, sim.StateBroken, b.Holding.Value.State)
		assert.InDelta(t, float64(b.Beads[0].Disparity.Value.H), float64(a.Beads[0].Disparity.Value.H), 1e-9)
		assert.Equal(t, b.Beads[0].Seen, a.Beads[0].Seen)
		assert.Equal(t, b.Beads[0].Diplopia, a.Beads[0].Diplopia)
		if p > 1 {
			assert.Equal(t, sim.DiplopiaCrossed, a.Beads[0].Diplopia)
		}
	})
}

// Yoked prisms, base-out before one eye and base-in before the other, ask for a turn
// of both eyes and are no load.
func TestYokedPrismsAreNoLoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := patients(t)
		s.Right, s.Left = sim.Glass{}, sim.Glass{}
		s.Findings.Value.VerticalBreak = 7 // rounding alone would decide near the phoria
		bare := look(s).Holding.Value
		p := sim.Prism(rapid.Float64Range(-20, 20).Draw(t, "prism"))
		up := sim.Prism(rapid.Float64Range(-20, 20).Draw(t, "base up"))
		s.Right, s.Left = sim.Glass{BaseOut: p, BaseUp: up}, sim.Glass{BaseOut: -p, BaseUp: up}
		yoked := look(s).Holding.Value
		assert.InDelta(t, float64(bare.Vertical), float64(yoked.Vertical), 1e-12)
		yoked.Vertical = bare.Vertical
		assert.Equal(t, bare, yoked)
	})
}

// Common practice, no source: the nearer the bead, the harder to hold. From the near
// test inward the reserve left runs out, and all the way in the need grows.
func TestPracticeNearerIsHarder(t *testing.T) {
	s := examined(usual(nil), 400)
	need, left := sim.Prism(math.Inf(-1)), sim.Prism(math.Inf(1))
	broken := false
	s.Walk(steps(1500, 1, 1), func(_ int, v *sim.View) {
		h := v.Holding.Value
		assert.Greater(t, h.Need, need, "%v mm", v.Target.At)
		if h.Distance > 2.5 {
			assert.Less(t, h.Left, left, "%v mm", v.Target.At)
			left = h.Left
			assert.Equal(t, h.Left < 0, h.State == sim.StateBroken || broken, "%v mm", v.Target.At)
		} else {
			assert.Equal(t, sim.StateHolding, h.State, "%v mm", v.Target.At)
		}
		assert.Equal(t, h.Distance > 2.5, h.Extrapolated)
		need, broken = h.Need, h.State == sim.StateBroken
	})
	assert.True(t, broken)
}

// A target that no eye can reach is let go of, without a fault; the eyes converge no
// farther than to the recovery of the near point.
func TestUnreachableTargetIsBroken(t *testing.T) {
	ortho := usual(func(f *sim.Findings) { f.FarPhoria, f.NearPhoria = 0, 0 })
	for _, fromEyes := range []float64{sim.SpectaclePlane + 49, sim.SpectaclePlane + 1, sim.SpectaclePlane, 5, 0} {
		for name, f := range map[string]sim.Findings{"usual": usual(nil), "ortho": ortho} {
			s := bare(80, fromEyes)
			s.String.NearEnd.Y, s.Look.At = 0, fromEyes
			s.Findings = sim.Some(f)
			v := look(s)
			assert.Equal(t, sim.StateBroken, v.Holding.Value.State, "%s, %v mm", name, fromEyes)
			assert.Equal(t, sim.WhyConverge, v.Holding.Value.Why, "%s, %v mm", name, fromEyes)
			requireFinite(t, s)
			reached := 2 * math.Atan(80./2/(f.NPCRecovery+sim.SpectaclePlane))
			if fromEyes < sim.SpectaclePlane {
				continue // between the eyes an error would pass a right angle
			}
			if name == "ortho" {
				assert.InDelta(t, reached, float64(v.Axes.Vergence), 1e-9, "%v mm", fromEyes)
			}
			assert.LessOrEqual(t, float64(v.Axes.Vergence), reached+1e-9, "%s, %v mm", name, fromEyes)
		}
	}
}

// A cover, or the whole of one image left out, takes fusion away: the eyes go to the
// phoria, the seeing eye fixing. On uncovering the recovery decides.
func TestCoverBreaksAndRecoveryDecides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := patients(t)
		s.Cover, s.Suppression.Eye = sim.Neither, sim.Neither
		eye := rapid.SampledFrom([]sim.Side{sim.Right, sim.Left}).Draw(t, "eye")
		covered, left := s, s
		covered.Cover = eye
		left.Suppression = sim.Suppression{Eye: eye, Zone: sim.ZoneAll, Depth: 1}
		for why, s := range map[sim.Why]sim.Setup{sim.WhyCovered: covered, sim.WhySuppressed: left} {
			v := look(s)
			assert.Equal(t, sim.StateBroken, v.Holding.Value.State)
			assert.Equal(t, why, v.Holding.Value.Why)
			assert.Equal(t, otherSide(eye), v.Now.Posture.Fixing)
			assert.False(t, v.Account.Fuses)
		}
		uncovered := s.HoldingAt(s.LookPlace(), look(covered).Holding.Value.State).Value
		broken := s
		broken.Findings.Value.State = sim.StateBroken
		assert.Equal(t, look(broken).Holding.Value, uncovered)
	})
}

// Where a cover or a suppression lets one eye fix, the load is what that eye asks for: it is
// what is judged, and what is left is measured from it, also where the other eye is fainter
// and still seen.
func TestOneEyeBearsItsOwnLoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := patients(t)
		s.Cover = sim.Neither
		s.Suppression = sim.Suppression{
			Eye:  rapid.SampledFrom([]sim.Side{sim.Right, sim.Left}).Draw(t, "eye"),
			Zone: sim.ZoneAll, Depth: rapid.SampledFrom([]float64{0.6, 1}).Draw(t, "depth"),
		}
		h := look(s).Holding.Value
		assert.Equal(t, h.Load, h.Judged)
		assert.Equal(t, min(h.BaseOutBreak-h.Load, h.BaseInBreak+h.Load), h.Left)
	})
}

// While the eyes hold, what they err by is fixation disparity: eso for an eso phoria
// by the slope, and never past Panum's limit, so the target is single however large
// the phoria.
func TestHoldingIsSingle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := patients(t)
		s.Cover, s.Suppression.Eye = sim.Neither, sim.Neither
		f := &s.Findings.Value
		f.VerticalBreak, f.State = 30, sim.StateHolding
		for _, r := range []*sim.Reserves{&f.Far, &f.Near} {
			r.BaseInBreak, r.BaseOutBreak = 1000, 1000
		}
		f.NPCBreak = 1
		v := look(s)
		h := v.Holding.Value
		if s.Left.BaseUp != s.Right.BaseUp {
			return // may be beyond the vertical break
		}
		require.Equal(t, sim.StateHolding, h.State, "%+v", s)
		limit := float64(s.Patient.FusionH)
		require.True(t, v.Account.Apart.OK)
		apart := float64(v.Account.Apart.Value.Arcmin())
		assert.LessOrEqual(t, apart, limit*(1+1e-9), "%+v", s)
		// From the centres of rotation it is smaller than from the nodal points.
		off := float64(v.Now.Posture.Deviation.Angle().Arcmin())
		asked := f.DisparitySlope * float64(h.Phoria)
		if math.Abs(asked) < limit/2 {
			assert.InDelta(t, asked, off, 1e-9)
		} else if math.Abs(asked) > 2*limit {
			// It is kept for the eye that is nearer; the other one would allow for more.
			nearest := math.Inf(1)
			for _, e := range v.Eyes {
				nearest = min(nearest, r3.Norm(r3.Sub(v.Target.Point, e.Centre)))
			}
			spare := 0.01 + s.Patient.Nodal/(nearest-s.Patient.Nodal)
			assert.InEpsilon(t, limit, apart, spare, "as far as single goes\n%+v", s)
			assert.Positive(t, off*asked)
		}
	})
}

// The ends of a walk are those of the string, less the bead's body.
func TestWalkEnds(t *testing.T) {
	s := threeBeads()
	far, near := s.WalkEnds()
	assert.Equal(t, [2]float64{1192, 8}, [2]float64{far, near})
	s.Beads, s.Look = nil, sim.Fixation{Bead: sim.NoBead, At: 480, Asked: sim.NoBead}
	far, near = s.WalkEnds()
	assert.Equal(t, [2]float64{1200, 0}, [2]float64{far, near})
}

// Without glasses a walk toward the nose loses the hold at the near point of convergence
// and regains it at that of recovery, each measured from the spectacle plane, in closed
// form; where there is no such place on the string, neither exists.
func TestTurningIsTheNearPoint(t *testing.T) {
	never := func(f *sim.Findings) { f.Far.BaseOutRecovery, f.Near.BaseOutRecovery = -1, -1 }
	broken := func(f *sim.Findings) { f.State = sim.StateBroken }
	for name, c := range map[string]struct {
		change           func(f *sim.Findings)
		breaks, recovers bool
	}{
		"as usual":              {func(*sim.Findings) {}, true, true},
		"far from the nose":     {func(f *sim.Findings) { f.NPCBreak, f.NPCRecovery = 250, 390 }, true, true},
		"at once":               {func(f *sim.Findings) { f.NPCBreak, f.NPCRecovery = 100, 100 }, true, true},
		"never on the string":   {func(f *sim.Findings) { f.NPCBreak = 1 }, false, false},
		"no recovery":           {never, true, false},
		"broken, comes back":    {broken, true, true},
		"broken from the end":   {func(f *sim.Findings) { broken(f); never(f) }, false, false},
		"beyond the whole walk": {func(f *sim.Findings) { f.Far.BaseOutBreak, f.Near.BaseOutBreak = -1, -1 }, false, false},
	} {
		s := threeBeads()
		s.Findings = sim.Some(usual(c.change))
		f := &s.Findings.Value
		breaks, recovers := s.Turning()
		if assert.Equal(t, c.breaks, breaks.OK, name); breaks.OK {
			assert.InDelta(t, f.NPCBreak, r3.Norm(s.Place(breaks.Value))-27, 1e-5, name)
		}
		if assert.Equal(t, c.recovers, recovers.OK, name); recovers.OK {
			assert.InDelta(t, f.NPCRecovery, r3.Norm(s.Place(recovers.Value))-27, 1e-5, name)
		}
	}
	s := threeBeads()
	breaks, recovers := s.Turning()
	assert.False(t, breaks.OK || recovers.OK, "without findings")
	s.Findings, s.Beads[1].Diameter = sim.Some(usual(nil)), 1200
	breaks, recovers = s.Turning()
	assert.False(t, breaks.OK || recovers.OK, "a bead as long as the string")
}

// Where the near point lies no nearer than the near test, the reserves of that are held
// from there on (M14).
func TestReservesAreHeldFromTheNearTest(t *testing.T) {
	for npc, held := range map[float64]bool{400: true, 500: true, 399: false} {
		s := threeBeads()
		s.Findings = sim.Some(usual(func(f *sim.Findings) { f.NPCBreak, f.NPCRecovery = npc, npc }))
		f, h := s.Findings.Value, s.HoldingAt(200, sim.StateHolding).Value
		assert.Equal(t, held, h.BaseOutBreak == f.Near.BaseOutBreak, "%v mm: %v Δ", npc, h.BaseOutBreak)
		assert.Equal(t, held, h.BaseOutRecovery == f.Near.BaseOutRecovery, "%v mm: %v Δ", npc, h.BaseOutRecovery)
	}
}

// A hold lasts up to its breaks, each included, and is lost by the next number beyond: by
// prisms either way, and by height either way.
func TestBoundsOfAHold(t *testing.T) {
	hold := func(change func(s *sim.Setup, f *sim.Findings)) (sim.Holding, sim.Why) {
		s := threeBeads()
		s.Findings = sim.Some(usual(nil))
		change(&s, &s.Findings.Value)
		h := look(s).Holding.Value
		return h, h.Why
	}
	reserves, _ := hold(func(*sim.Setup, *sim.Findings) {})
	for _, c := range []struct {
		bound sim.Prism
		put   func(s *sim.Setup, f *sim.Findings, x sim.Prism)
		why   sim.Why
	}{
		{reserves.BaseOutBreak, func(s *sim.Setup, _ *sim.Findings, x sim.Prism) { s.Right.BaseOut = x }, sim.WhyConverge},
		{-reserves.BaseInBreak, func(s *sim.Setup, _ *sim.Findings, x sim.Prism) { s.Right.BaseOut = x }, sim.WhyDiverge},
		{3, func(_ *sim.Setup, f *sim.Findings, x sim.Prism) { f.VerticalPhoria = x }, sim.WhyVertical},
		{-3, func(_ *sim.Setup, f *sim.Findings, x sim.Prism) { f.VerticalPhoria = x }, sim.WhyVertical},
	} {
		beyond := sim.Prism(math.Nextafter(float64(c.bound), 1000*float64(c.bound)))
		for x, want := range map[sim.Prism]sim.Why{c.bound: sim.WhyWithin, beyond: c.why} {
			h, why := hold(func(s *sim.Setup, f *sim.Findings) { c.put(s, f, x) })
			assert.Equal(t, want, why, "%v Δ: %+v", x, h)
		}
	}
}
