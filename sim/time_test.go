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

// at is what a set-up shows at a moment.
func at(s sim.Setup, seconds float64) *sim.View {
	var v sim.View
	sim.NewCourse(&s).Look(&v, seconds)
	return &v
}

// jump is a look that goes from the far bead to the near one at the time 0.
func jump() sim.Setup {
	s := threeBeads()
	s.Look.From, s.Look.Bead = sim.Some(2), 0
	return s
}

// still is the same without the jump, on either of its ends.
func still(s sim.Setup, bead int) sim.Setup {
	s.Look.Bead, s.Look.From = bead, sim.Maybe[int]{}
	return s
}

// moving draws a set-up in which everything that changes in time may do so.
func moving(t *rapid.T) sim.Setup {
	s := setups(t)
	if rapid.Bool().Draw(t, "examined") {
		s = patients(t)
	}
	if len(s.Beads) > 0 && s.Look.Bead != sim.NoBead && rapid.Bool().Draw(t, "jumps") {
		s.Look.From = sim.Some(rapid.IntRange(0, len(s.Beads)-1).Draw(t, "from"))
	}
	s.Hold.SD = sim.Arcmin(rapid.Float64Range(0, 20).Draw(t, "SD"))
	s.Hold.Seed = rapid.Uint64().Draw(t, "seed")
	s.Suppression.Period = rapid.SampledFrom([]float64{0, 1, 2.5}).Draw(t, "period")
	s.Suppression.Share = rapid.Float64Range(0, 1).Draw(t, "share")
	return s
}

// What is seen at a moment depends on the set-up and the moment alone, whatever was
// asked for before.
func TestMomentIsPure(t *testing.T) {
	var c sim.Course
	var v sim.View
	rapid.Check(t, func(t *rapid.T) {
		s := moving(t)
		c.Start(&s)
		for range 4 {
			seconds := rapid.Float64Range(0, 3).Draw(t, "seconds")
			c.Look(&v, seconds)
			require.Empty(t, viewDifferences(at(s, seconds), &v, 0), "%v s\n%+v", seconds, s)
			assert.Equal(t, seconds, v.Seconds)
		}
		c.Look(&v, -1)
		require.Empty(t, viewDifferences(at(s, 0), &v, 0))
	})
}

// At every moment everything is finite, and swapping the eyes mirrors everything.
func TestMirrorInTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := moving(t)
		m := mirrored(s)
		if s.Findings.OK {
			m = mirroredPatient(s)
		}
		seconds := rapid.Float64Range(0, 2).Draw(t, "seconds")
		want := mirroredPatientView(at(s, seconds))
		assert.Empty(t, viewDifferences(&want, at(m, seconds), 1e-6), "%v s\n%+v", seconds, s)
	})
}

// Alternating suppression begins with the right eye, so its mirror image is the other
// half of the period.
func TestAlternating(t *testing.T) {
	s := threeBeads()
	s.Suppression = sim.Suppression{Eye: sim.Alternating, Zone: sim.ZoneAll, Depth: 1, Period: 3}
	for _, seconds := range []float64{0.01, 0.7, 1.49, 3, 30.1} { // at 0 nothing is remembered yet
		first, second := at(s, seconds), at(s, seconds+1.5)
		assert.Equal(t, sim.SeenLeft, first.Account.Fixated, "%v s", seconds)
		assert.Equal(t, sim.SeenRight, second.Account.Fixated, "%v s", seconds)
		want := mirroredView(first)
		want.Seconds = second.Seconds
		assert.Empty(t, viewDifferences(&want, second, 1e-9), "%v s", seconds)
	}
}

// Intermittent suppression takes its share of each period, from its beginning.
func TestIntermittent(t *testing.T) {
	s := threeBeads()
	s.Suppression = sim.Suppression{Eye: sim.Right, Zone: sim.ZoneAll, Depth: 1, Period: 4, Share: 0.25}
	for seconds, want := range map[float64]sim.Seen{
		0: sim.SeenLeft, 0.99: sim.SeenLeft, 1: sim.SeenOne, 3.99: sim.SeenOne, 4: sim.SeenLeft, 5: sim.SeenOne, 401: sim.SeenOne, 400.5: sim.SeenLeft,
	} {
		assert.Equal(t, want, at(s, seconds).Account.Fixated, "%v s", seconds)
	}
}

// M14: an image that comes and goes takes fusion with it; when it is back, the
// recovery decides.
func TestSuppressionBreaksInTime(t *testing.T) {
	s := threeBeads()
	s.Suppression = sim.Suppression{Eye: sim.Right, Zone: sim.ZoneAll, Depth: 1, Period: 4, Share: 0.25}
	for _, regains := range []bool{true, false} {
		s.Findings = sim.Some(usual(func(f *sim.Findings) {
			if !regains {
				f.Near.BaseOutRecovery, f.Far.BaseOutRecovery = -1, -1
			}
		}))
		assert.Equal(t, sim.StateBroken, at(s, 0.5).Holding.Value.State)
		assert.Equal(t, regains, at(s, 2).Holding.Value.State == sim.StateHolding)
		assert.Equal(t, regains, at(s, 402).Account.Fuses)
	}
}

// A jump begins as a look at the bead before and ends as one at the bead now.
func TestJumpGoesFromOneToTheOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := moving(t)
		s.Hold.SD, s.Suppression.Period = 0, 0
		if !s.Look.From.OK {
			return
		}
		if f := &s.Findings.Value; s.Findings.OK {
			f.State = sim.StateBroken // nothing else to carry over
			for _, r := range []*sim.Reserves{&f.Far, &f.Near} {
				r.BaseInRecovery, r.BaseOutRecovery = -100, -100
			}
		}
		to := look(still(s, s.Look.Bead))
		from := look(still(s, s.Look.From.Value))
		for eye := range sim.Eyes {
			for _, c := range []struct {
				seconds float64
				want    sim.Gaze
			}{{0, from.Eyes[eye]}, {0.15, from.Eyes[eye]}, {30, to.Eyes[eye]}} {
				got := at(s, c.seconds).Eyes[eye]
				assert.InDelta(t, float64(c.want.Azimuth), float64(got.Azimuth), 1e-9, "%v s\n%+v", c.seconds, s)
				assert.InDelta(t, float64(c.want.Elevation), float64(got.Elevation), 1e-9, "%v s", c.seconds)
				assert.InDelta(t, float64(c.want.Torsion), float64(got.Torsion), 1e-9, "%v s", c.seconds)
			}
		}
	})
}

// Y1: Pobuda M & Erkelens CJ 1993, Biol Cybern 68:221-228: when vergence sets off.
func TestY1VergenceDelay(t *testing.T) {
	delay := expected(t, "Y1", 2) // ms
	s := jump()
	begin := at(s, 0).Axes.Vergence
	assert.Equal(t, begin, at(s, delay[0]/1000).Axes.Vergence, "nothing yet")
	assert.Greater(t, at(s, delay[1]/1000).Axes.Vergence, begin, "on its way")
}

// Y2: Wick B & Bedell HE 1989, IOVS 30:755-760: even a movement of 4° to a near target
// is not faster than this.
func TestY2PeakVelocity(t *testing.T) {
	step, bound := given(t, "Y2", 1)[0], expected(t, "Y2", 1)[0]
	s := bare(62, 400)
	// From a bead nearer by the step, so that the eyes diverge; and back.
	demand := look(s).Target.DemandAngle
	nearer := s.Patient.PD / 2 / math.Tan(float64(demand+sim.Degrees(step).Angle())/2)
	s = beadAt(beadAt(s, nearer), 400)
	for _, c := range [][2]int{{0, 1}, {1, 0}} {
		s.Look = sim.Fixation{Bead: c[1], Asked: sim.NoBead, From: sim.Some(c[0])}
		fastest, last := 0., at(s, 0).Axes.Vergence
		first := last
		for i := 1; i <= 400; i++ {
			now := at(s, float64(i)*0.005).Axes.Vergence
			fastest = max(fastest, math.Abs(float64((now-last).Degrees()))/0.005)
			last = now
		}
		assert.InDelta(t, step, math.Abs(float64((last - first).Degrees())), 0.01)
		assert.Less(t, fastest, bound+10, "degrees a second")
		assert.Greater(t, fastest, step, "yet over in less than a second")
	}
}

// M15: vergence goes exponentially after its latency, version at a constant velocity
// after its own. The time constant is a value from memory (row Y7).
func TestJumpInClosedForm(t *testing.T) {
	s := jump()
	s.String.NearEnd.X, s.String.AnchorSide = 0, 150 // so that both eyes turn, too
	from, to := look(still(s, 2)), look(still(s, 0))
	version := func(v *sim.View) float64 { return float64(v.Eyes[0].Azimuth+v.Eyes[1].Azimuth) / 2 }
	height := func(v *sim.View) float64 { return float64(v.Eyes[0].Elevation+v.Eyes[1].Elevation) / 2 }
	turn := math.Hypot(version(to)-version(from), height(to)-height(from)) * 180 / math.Pi
	require.Greater(t, turn, 5.)
	for _, seconds := range []float64{0, 0.1, 0.159, 0.161, 0.19, 0.2, 0.21, 0.22, 0.25, 0.41, 0.7, 1.5, 4} {
		v := at(s, seconds)
		converged := 0.
		if seconds > 0.16 {
			converged = 1 - math.Exp(-(seconds-0.16)/0.25)
		}
		want := float64(from.Axes.Vergence) + converged*float64(to.Axes.Vergence-from.Axes.Vergence)
		assert.InDelta(t, want, float64(v.Axes.Vergence), 1e-9, "%v s", seconds)
		off := (v.Axes.Vergence - v.Target.DemandAngle).Prism()
		assert.InDelta(t, float64(off), float64(v.Now.Posture.Deviation), 1e-9, "the error is what the axes are off, %v s", seconds)
		turned := max(0, min(1, (seconds-0.2)/(0.021+0.0022*turn)))
		assert.InDelta(t, version(from)+turned*(version(to)-version(from)), version(v), 1e-9, "%v s", seconds)
		assert.InDelta(t, height(from)+turned*(height(to)-height(from)), height(v), 1e-9, "%v s", seconds)
		assert.Equal(t, "near", v.Account.LookedAt, "what is looked at is the new bead at once")
	}
}

// The eyes change focus as they converge: the response, which the blur of any bead tells
// (M17: blur is pupil·|A − ρ|), goes from that at the one bead to that at the other.
func TestFocusGoesWithVergence(t *testing.T) {
	s := jump()                             // from far to near
	response := func(v *sim.View) float64 { // of a bead nearer than what is focused
		nearest := s.Place(s.Beads[0].At)
		demand := 1000 / r3.Norm(r3.Sub(nearest, v.Eyes[sim.RightEye].Centre))
		blur := float64(v.SightOf(sim.RightEye, nearest, s.Beads[0].At).Blur)
		return demand - blur/(s.Patient.Pupil/1000)
	}
	s.Patient.Lag = 0.5 // so that the nearest bead is in front of the focus at both ends
	from, to := response(look(still(s, 2))), response(look(still(s, 0)))
	require.Greater(t, to, from+1)
	for _, seconds := range []float64{0, 0.159, 0.2, 0.16 + 0.25*math.Ln2, 0.7, 4} {
		converged := 1 - math.Exp(-max(0, seconds-0.16)/0.25)
		assert.InDelta(t, from+converged*(to-from), response(at(s, seconds)), 1e-9, "%v s", seconds)
	}
}

// Fusion has memory in time (M15): what is single stays so up to twice Panum's limit,
// what is double becomes single within the limit.
func TestFusionRemembers(t *testing.T) {
	s := scene(1200, 230, 300, 900)
	changes := map[string]int{}
	for _, ends := range [][2]int{{0, 1}, {1, 0}, {2, 0}, {0, 2}} {
		s.Look.From, s.Look.Bead = sim.Some(ends[0]), ends[1]
		c := sim.NewCourse(&s)
		var v sim.View
		before := make([]bool, len(s.Beads))
		for i := range 300 {
			c.Look(&v, float64(i)*0.01)
			for n, b := range v.Beads {
				d := v.Compare(v.Sight(sim.RightEye, s.Beads[n].At), v.Sight(sim.LeftEye, s.Beads[n].At))
				h, single := math.Abs(float64(d.H)), b.Seen == sim.SeenOne
				limit := float64(d.LimitH)
				if i > 0 && before[n] {
					limit *= 2
				}
				assert.Equal(t, h <= limit, single, "bead %d at %v s", n+1, v.Seconds)
				if i > 0 && single != before[n] {
					changes[map[bool]string{true: "joins", false: "parts"}[single]]++
				}
				before[n] = single
			}
		}
	}
	assert.Positive(t, changes["joins"])
	assert.Positive(t, changes["parts"])
}

// wavering is the vergence of a hold with an SD, in arcmin from its mean, every so
// many seconds.
func wavering(sd sim.Arcmin, seed uint64, every float64, count int) []float64 {
	s := bare(64, 400)
	mean := look(s).Axes.Vergence
	s.Hold = sim.Unsteadiness{SD: sd, Seed: seed}
	c := sim.NewCourse(&s)
	var v sim.View
	x := make([]float64, count)
	for i := range x {
		c.Look(&v, float64(i)*every)
		x[i] = float64((v.Axes.Vergence - mean).Arcmin())
	}
	return x
}

// M15, an Ornstein–Uhlenbeck process: over a long seeded run the mean is 0, the SD is
// the one asked for, and what is left after a time Δ of a deviation is e^(−Δ/τ). The
// bounds are four times the error that a run of this length has by chance.
func TestHoldWavers(t *testing.T) {
	const every, count, tau = 0.25, 8000 / share, 0.5
	independent := every * count / (2 * tau)
	for seed, sd := range []float64{4, 12} {
		x := wavering(sim.Arcmin(sd), uint64(seed), every, count)
		product := func(lag int) (sum float64) {
			for i := range count - lag {
				sum += x[i] * x[i+lag]
			}
			return sum / float64(count-lag)
		}
		mean := 0.
		for _, v := range x {
			mean += v / count
		}
		assert.InDelta(t, 0, mean, 4*sd/math.Sqrt(independent), "SD %v′", sd)
		variance := product(0)
		assert.InEpsilon(t, sd, math.Sqrt(variance), 4/math.Sqrt(2*independent), "SD %v′", sd)
		for _, lag := range []int{1, 2, 4, 8} {
			want := math.Exp(-float64(lag) * every / tau)
			assert.InDelta(t, want, product(lag)/variance, 4/math.Sqrt(independent), "%v s apart", float64(lag)*every)
		}
	}
}

// The start of a run is no different from the rest of it: over many seeds the first
// moment has the SD asked for, and another seed is another run.
func TestHoldStartsAsItGoesOn(t *testing.T) {
	const seeds = 2000 / share
	for _, seconds := range []float64{0, 0.3} {
		sum := 0.
		for seed := range uint64(seeds) {
			x := wavering(4, seed, max(seconds, 0.01), 2)
			v := x[0]
			if seconds > 0 {
				v = x[1]
			}
			sum += v * v / seeds
		}
		assert.InEpsilon(t, 4, math.Sqrt(sum), 4/math.Sqrt(2*seeds), "%v s", seconds)
	}
	assert.Equal(t, wavering(4, 7, 0.1, 20), wavering(4, 7, 0.1, 20))
	assert.NotEqual(t, wavering(4, 7, 0.1, 20), wavering(4, 8, 0.1, 20))
	assert.Equal(t, make([]float64, 20), wavering(0, 7, 0.1, 20), "off by default")
}

// Between the points of the grid the hold goes straight on, so that it does not jump
// however finely it is asked for.
func TestHoldIsSmooth(t *testing.T) {
	x := wavering(4, 3, 0.0025, 400)
	for i := 0; i+4 < len(x); i += 4 {
		for j := 1; j < 4; j++ {
			assert.InDelta(t, x[i]+(x[i+4]-x[i])*float64(j)/4, x[i+j], 1e-9)
		}
	}
}

// Y4: Stevenson SB, Sheehy CK, Roorda A 2016, Vision Res 118:98-104, doi
// 10.1016/j.visres.2015.01.019: by how much the crossing jitters.
func TestY4JitterOfCrossing(t *testing.T) {
	n := given(t, "Y4", 3) // mm, mm, arcmin
	want := expected(t, "Y4", 1)[0]
	s := bare(n[1], n[0])
	crossing := func(e float64) float64 {
		s := s
		s.Posture.Deviation = sim.Arcmin(e).Angle().Prism()
		return look(s).Crossing.At.Value
	}
	assert.InDelta(t, want, (crossing(-n[2])-crossing(n[2]))/2, 0.1)

	// The same over a run, by chance within four times its error.
	const count, every = 6000, 0.25
	s.Hold = sim.Unsteadiness{SD: sim.Arcmin(n[2]), Seed: 5}
	c := sim.NewCourse(&s)
	var v sim.View
	sum, squares := 0., 0.
	for i := range count {
		c.Look(&v, float64(i)*every)
		sum += v.Crossing.Offset.Value / count
		squares += v.Crossing.Offset.Value * v.Crossing.Offset.Value / count
	}
	assert.InEpsilon(t, want, math.Sqrt(squares-sum*sum), 4/math.Sqrt(2*count*every))
}

// A course whose set-up does not change in time is what a look shows, at any moment.
func TestStillCourse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		if rapid.Bool().Draw(t, "examined") {
			s = patients(t)
		}
		c := sim.NewCourse(&s)
		require.True(t, c.Still(0))
		var v sim.View
		c.Look(&v, 12.3)
		v.Seconds = 0
		assert.Empty(t, viewDifferences(look(s), &v, 0), "%+v", s)
	})
	s := jump()
	c := sim.NewCourse(&s)
	assert.False(t, c.Still(1))
	assert.True(t, c.Still(6))
	s = threeBeads()
	s.Hold.SD = 1
	assert.False(t, sim.NewCourse(&s).Still(1e6))
	for depth, moves := range map[float64]bool{0: false, 0.01: true} {
		s = threeBeads()
		s.Suppression.Eye, s.Suppression.Period, s.Suppression.Depth = sim.Right, 2, depth
		assert.Equal(t, moves, !sim.NewCourse(&s).Still(1e6), "depth %v", depth)
	}
}

// A look is one at the beginning of the course, also of a hold that wavers.
func TestALookIsTheBeginning(t *testing.T) {
	for seed := range uint64(5) {
		s := jump()
		s.Hold = sim.Unsteadiness{SD: 12, Seed: seed}
		assert.Empty(t, viewDifferences(at(s, 0), look(s), 0), "seed %d", seed)
	}
}

// Looking on in time allocates nothing.
func TestCourseAllocatesNothing(t *testing.T) {
	s := jump()
	s.Hold.SD, s.Findings = 4, sim.Some(usual(nil))
	c := sim.NewCourse(&s)
	var v sim.View
	seconds := 0.
	c.Look(&v, seconds)
	assert.Zero(t, testing.AllocsPerRun(50, func() {
		seconds += 0.01
		c.Look(&v, seconds)
	}))
}
