package words

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/sim"
)

// What makes the eyes let go of a place that they would hold is told by what it is: prisms
// ask for more than they can, lenses have them focus more or less.
func TestWhatAsksForMoreThanTheEyesCan(t *testing.T) {
	f := sim.DefaultFindings()
	for _, r := range []*sim.Reserves{&f.Far, &f.Near} { // little, so that focus alone can ask for more
		r.BaseOutBlur, r.BaseOutBreak, r.BaseOutRecovery = 5, 6, 4
	}
	for suffix, glass := range map[string]func(x float64) sim.Glass{
		"-glass": func(x float64) sim.Glass { return sim.Glass{BaseOut: sim.Prism(x)} },
		"-focus": func(x float64) sim.Glass { return sim.Glass{Lens: sim.Dioptres(x / 4)} },
	} {
		for _, side := range []float64{1, -1} {
			told := map[string]bool{}
			for x := 1.; x <= 40; x++ {
				s := sim.Default()
				s.Beads = []sim.Bead{{Name: "sky", At: 480, Diameter: 16}}
				s.Look.Bead = 0
				s.Findings = sim.Some(f)
				s.Right, s.Left = glass(side*x), glass(side*x)
				v := look(&s)
				if h := &v.Holding.Value; h.State == sim.StateBroken && limits(h).breaks >= 0 && !v.Account.Fuses {
					told[holdID(v, h)] = true
				}
			}
			assert.NotEmpty(t, told, "%v %s", side, suffix)
			for id := range told {
				assert.True(t, strings.HasSuffix(id, suffix), "%v %s: %s", side, suffix, id)
			}
		}
	}
}

// What was worked out is told to a tenth as long as a tenth is more than the last of two
// digits, and whole from where it would be told as ten.
func TestPrismsAreWholeFromTen(t *testing.T) {
	w := english(t)
	for p, want := range map[sim.Prism]string{
		WholePrisms - 0.01: "9.9 Δ", WholePrisms: "10 Δ", 12.4: "12 Δ", -WholePrisms: "−10 Δ", 0.04: "0 Δ",
	} {
		assert.Equal(t, want, w.Signed(p))
	}
}

// What findings make of a place is told by the state, by what it was broken of, and by the
// reserve that is left to the eyes there.
func TestHoldIsTold(t *testing.T) {
	holding := func(m *moment) { m.v.Holding.Value.State = sim.StateHolding }
	why := func(why sim.Why, left, outBreak, inBreak, judged sim.Prism) func(m *moment) {
		return func(m *moment) {
			h := &m.v.Holding.Value
			h.State, h.Why, h.Left, h.BaseOutBreak, h.BaseInBreak, h.Judged = sim.StateBroken, why, left, outBreak, inBreak, judged
		}
	}
	tooNear := func(near sim.Prism) func(m *moment) {
		return func(m *moment) {
			m.v.Holding.Value.Extrapolated, m.s.Findings = true, sim.Some(sim.Findings{Near: sim.Reserves{BaseOutBreak: near}})
		}
	}
	prisms := func(right, left sim.Prism) func(m *moment) {
		return func(m *moment) { m.s.Right.BaseOut, m.s.Left.BaseOut = right, left }
	}
	bare := func(m *moment) { m.v.Account.LookedAt = "" }
	type with = []func(m *moment)
	for _, c := range []struct {
		as   sim.Seen
		meet sim.Meet
		eyes sim.Aim
		with with
		want string
	}{
		{sim.SeenOne, sim.MeetAt, sim.AimOnTarget, with{holding}, "hold-on"},
		{sim.SeenOne, sim.MeetNearer, sim.AimOnTarget, with{holding}, "hold-nearer"},
		{sim.SeenOne, sim.MeetNearer, sim.AimEso, with{holding}, "hold-nearer"},
		{sim.SeenOne, sim.MeetNearer, sim.AimExo, with{holding}, "hold-on"},
		{sim.SeenOne, sim.MeetBeyond, sim.AimOnTarget, with{holding}, "hold-beyond"},
		{sim.SeenOne, sim.MeetBeyond, sim.AimExo, with{holding}, "hold-beyond"},
		{sim.SeenOne, sim.MeetBeyond, sim.AimEso, with{holding}, "hold-on"},
		{sim.SeenTwo, sim.MeetBeyond, sim.AimExo, with{holding}, ""},
		{sim.SeenTwo, sim.MeetBeyond, sim.AimExo, with{why(sim.WhySuppressed, -1, 20, 20, 0)}, "hold-suppressed"},
		{sim.SeenTwo, sim.MeetBeyond, sim.AimExo, with{why(sim.WhyVertical, -1, 20, 20, 0)}, "hold-vertical"},
		{sim.SeenTwo, sim.MeetBeyond, sim.AimExo, with{why(sim.WhyConverge, 0, 20, 20, 20)}, "hold-back"},
		{sim.SeenTwo, sim.MeetBeyond, sim.AimExo, with{why(sim.WhyConverge, -0.1, -0.1, 20, 0)}, "hold-converge"},
		{sim.SeenTwo, sim.MeetBeyond, sim.AimExo, with{why(sim.WhyConverge, -0.1, -0.1, 20, 0), bare}, "hold-converge-bare"},
		{sim.SeenTwo, sim.MeetBeyond, sim.AimExo, with{why(sim.WhyConverge, -0.1, -0.1, 20, 0), tooNear(1)}, "hold-near"},
		{sim.SeenTwo, sim.MeetBeyond, sim.AimExo, with{why(sim.WhyConverge, -0.1, -0.1, 20, 0), tooNear(0)}, "hold-converge"},
		{sim.SeenTwo, sim.MeetNearer, sim.AimEso, with{why(sim.WhyDiverge, -0.1, 20, -0.1, 0), tooNear(1)}, "hold-diverge"},
		// From where a reserve of their own is left to the eyes, what stands before them is named.
		{sim.SeenTwo, sim.MeetBeyond, sim.AimExo, with{why(sim.WhyConverge, -0.1, 0, 20, 5), prisms(2, 3)}, "hold-converge-glass"},
		{sim.SeenTwo, sim.MeetBeyond, sim.AimExo, with{why(sim.WhyConverge, -0.1, 0, 20, 5)}, "hold-converge-focus"},
		{sim.SeenTwo, sim.MeetNearer, sim.AimEso, with{why(sim.WhyDiverge, -0.1, 20, 0, -5), prisms(-2, -3)}, "hold-diverge-glass"},
		{sim.SeenTwo, sim.MeetNearer, sim.AimEso, with{why(sim.WhyDiverge, -0.1, 20, 0, -5)}, "hold-diverge-focus"},
		// Focus has to ask for more than the prisms do.
		{sim.SeenTwo, sim.MeetBeyond, sim.AimExo, with{why(sim.WhyConverge, -0.1, 0, 20, 10), prisms(2, 3)}, "hold-converge-glass"},
		{sim.SeenTwo, sim.MeetBeyond, sim.AimExo, with{why(sim.WhyConverge, -0.1, 0, 20, 10.1), prisms(2, 3)}, "hold-converge-focus"},
		{sim.SeenTwo, sim.MeetBeyond, sim.AimExo, with{why(sim.WhyConverge, -0.1, 0, 20, 1), prisms(2, -3)}, "hold-converge-focus"},
	} {
		m := seen(c.as, 2, 2, c.meet, c.eyes, c.with...)
		v := m.seen()
		assert.Equal(t, c.want, holdID(v, &v.Holding.Value), "%v, %v, %v, %+v", c.as, c.meet, c.eyes, v.Holding.Value)
	}
	m := seen(sim.SeenOne, 2, 2, sim.MeetAt, sim.AimEso, why(sim.WhyConverge, -0.1, 0, 20, 5), func(m *moment) { m.v.Account.Fuses = true })
	assert.Equal(t, "hold-chance", holdID(m.seen(), &m.v.Holding.Value))

	// The side is that of the nearer break, or base-out where both are equally near.
	for judged, out := range map[sim.Prism]bool{-1: false, 0: true, 1: true} {
		assert.Equal(t, out, limits(&sim.Holding{Why: sim.WhyWithin, Judged: judged, BaseOutBreak: 10, BaseInBreak: 10}).out, "%v Δ", judged)
	}
}
