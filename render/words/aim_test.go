package words

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
)

// Where the eyes are aimed is told by the codes of the posture and of the crossing, by
// what stands before the eyes, and by nothing else.
func TestWhyIsTold(t *testing.T) {
	type change = func(m *moment)
	bare := func(m *moment) { m.v.Account.LookedAt, m.v.Account.Asked, m.v.Account.Fuses = "", "", true }
	twice := func(m *moment) { m.v.Account.Fuses = false }
	prism := func(met float64) change { return func(m *moment) { m.s.Right.BaseOut, m.s.Posture.PrismMet = 4, met } }
	deviation := func(p sim.Prism) change { return func(m *moment) { m.s.Posture.Deviation = p } }
	vertical := func(p sim.Prism) change { return func(m *moment) { m.s.Posture.Vertical = p } }
	cyclo := func(d sim.Degrees) change { return func(m *moment) { m.s.Posture.Cyclo = d } }
	tilted := cyclo(5)
	higher := func(m *moment) { m.v.Account.Higher = sim.Right }
	anomaly := func(m *moment) { m.s.Posture.Anomaly = 20 }
	vergence := func(a sim.Angle) change { return func(m *moment) { m.v.Axes.Vergence = a } }
	wavers := func(m *moment) { m.s.Hold.SD = 4 }
	counts := func(near, far int) change { return func(m *moment) { m.v.Account.Near, m.v.Account.Far = near, far } }
	fuses := func(m *moment) { m.v.Account.Fuses = true }
	asked := func(m *moment) { m.v.Account.Asked = "plum" }
	leftOut := func(where sim.Where) change {
		return func(m *moment) { m.v.Account.Missing, m.v.Account.MissingWhere = sim.Right, where }
	}
	meets := func(mm float64) change { // so far beyond the end of the string
		return func(m *moment) {
			m.s.String.Length = 1200
			end := m.s.Place(1200)
			m.v.Axes.Point = sim.Some(r3.Add(end, r3.Scale(mm, r3.Unit(end))))
		}
	}
	broken := func(m *moment) { m.v.Holding = sim.Some(sim.Holding{State: sim.StateBroken, Why: sim.WhyCovered}) }
	for _, c := range []struct {
		eyes sim.Aim
		meet sim.Meet
		with []change
		want []string
	}{
		{sim.AimOnTarget, sim.MeetAt, nil, []string{"aim-together"}},
		{sim.AimOnTarget, sim.MeetPasses, nil, []string{"aim-together"}},
		{sim.AimOnTarget, sim.MeetAt, []change{bare}, []string{"aim-together-bare"}},
		{sim.AimOnTarget, sim.MeetAt, []change{bare, twice}, []string{"aim-close"}},
		{sim.AimOnTarget, sim.MeetAt, []change{bare, twice, prism(1)}, []string{"aim-uneven"}},
		{sim.AimOnTarget, sim.MeetNearer, nil, []string{"aim-nearer"}},
		{sim.AimOnTarget, sim.MeetBeyond, nil, []string{"aim-beyond"}},
		{sim.AimEso, sim.MeetNearer, nil, []string{"aim-nearer"}},
		{sim.AimEso, sim.MeetNearer, []change{bare}, []string{"aim-nearer-bare"}},
		{sim.AimEso, sim.MeetAt, nil, []string{"aim-close"}},
		{sim.AimEso, sim.MeetBeyond, nil, []string{"aim-uneven"}},
		{sim.AimEso, sim.MeetUnseen, nil, []string{"aim-nearer"}},
		{sim.AimExo, sim.MeetBeyond, nil, []string{"aim-beyond"}},
		{sim.AimExo, sim.MeetNearer, nil, []string{"aim-uneven"}},
		{sim.AimExo, sim.MeetNowhere, nil, []string{"aim-beyond"}},
		{sim.AimExo, sim.MeetNowhere, []change{meets(-1)}, []string{"aim-beyond"}},
		{sim.AimExo, sim.MeetNowhere, []change{meets(0)}, []string{"aim-beyond"}},
		{sim.AimExo, sim.MeetNowhere, []change{meets(1)}, []string{"aim-past"}},
		{sim.AimExo, sim.MeetBeyond, []change{meets(1)}, []string{"aim-beyond"}},

		{sim.AimApart, sim.MeetNowhere, []change{vergence(-0.1)}, []string{"aim-apart"}},
		{sim.AimApart, sim.MeetNowhere, []change{vergence(0)}, []string{"aim-apart"}}, // parallel
		{sim.AimApart, sim.MeetNowhere, []change{vergence(0.1)}, []string{"aim-inward"}},

		{sim.AimOnTarget, sim.MeetAt, []change{prism(1)}, []string{"aim-together-prism"}},
		{sim.AimEso, sim.MeetNearer, []change{prism(1)}, []string{"aim-nearer-prism"}},
		{sim.AimExo, sim.MeetBeyond, []change{prism(1)}, []string{"aim-beyond-prism"}},
		{sim.AimApart, sim.MeetAt, []change{prism(1), deviation(0.25)}, []string{"aim-together-prism"}},
		{sim.AimApart, sim.MeetNowhere, []change{prism(1), deviation(0.26)}, []string{"aim-nearer-prism"}},
		{sim.AimApart, sim.MeetNowhere, []change{prism(1), deviation(-0.26)}, []string{"aim-beyond-prism"}},
		{sim.AimOnTarget, sim.MeetAt, []change{prism(0.5)}, []string{"why-prism"}},
		{sim.AimOnTarget, sim.MeetAt, []change{prism(0.5), fuses}, []string{"why-prism"}},
		{sim.AimEso, sim.MeetAt, []change{prism(0.5)}, []string{"why-prism"}},
		{sim.AimEso, sim.MeetAt, []change{prism(0.5), fuses}, []string{"why-prism-meets"}},

		{sim.AimOnTarget, sim.MeetPasses, []change{vertical(4)}, []string{"aim-higher"}},
		{sim.AimEso, sim.MeetPasses, []change{vertical(4)}, []string{"aim-higher-nearer"}},
		{sim.AimExo, sim.MeetPasses, []change{vertical(-4)}, []string{"aim-higher-beyond"}},
		{sim.AimEso, sim.MeetPasses, []change{vertical(4), prism(1)}, []string{"aim-higher"}},
		{sim.AimExo, sim.MeetPasses, []change{vertical(4), prism(1)}, []string{"aim-higher"}},
		{sim.AimOnTarget, sim.MeetAt, []change{higher}, []string{"aim-higher"}},
		{sim.AimOnTarget, sim.MeetAt, []change{tilted}, []string{"why-tilted"}},
		{sim.AimOnTarget, sim.MeetAt, []change{tilted, higher}, []string{"why-tilted"}},
		{sim.AimEso, sim.MeetNearer, []change{tilted}, []string{"aim-nearer", "why-tilted-too"}},
		{sim.AimEso, sim.MeetNearer, []change{cyclo(-1)}, []string{"aim-nearer", "why-tilted-too"}},
		{sim.AimEso, sim.MeetNearer, []change{cyclo(0.9)}, []string{"aim-nearer"}},
		{sim.AimEso, sim.MeetNearer, []change{cyclo(0.9), higher}, []string{"aim-nearer", "why-tilted-too"}},
		{sim.AimOnTarget, sim.MeetAt, []change{cyclo(0.9)}, []string{"aim-together"}},
		{sim.AimOnTarget, sim.MeetPasses, []change{vertical(4), tilted}, []string{"aim-higher", "why-tilted-too"}},
		{sim.AimEso, sim.MeetAt, []change{prism(0.5), tilted}, []string{"why-prism", "why-tilted-too"}},
		{sim.AimEso, sim.MeetAt, []change{anomaly, tilted}, []string{"why-matched-at", "why-matched-so", "why-tilted-too"}},
		{sim.AimEso, sim.MeetNearer, []change{tilted, higher}, []string{"aim-nearer", "why-tilted-too"}},
		{sim.AimEso, sim.MeetNearer, []change{tilted, higher, vertical(0.25)}, []string{"aim-nearer", "why-tilted-too"}},
		{sim.AimEso, sim.MeetNearer, []change{tilted, higher, vertical(0.26)}, []string{"aim-higher-nearer", "why-tilted-too"}},

		{sim.AimOnTarget, sim.MeetAt, []change{anomaly}, []string{"why-matched-on"}},
		{sim.AimEso, sim.MeetAt, []change{anomaly}, []string{"why-matched-at", "why-matched-so"}},
		{sim.AimEso, sim.MeetAt, []change{anomaly, bare}, []string{"why-matched-at-bare", "why-matched-so"}},
		{sim.AimEso, sim.MeetNearer, []change{anomaly}, []string{"why-matched-off", "why-matched-rest"}},
		{sim.AimExo, sim.MeetBeyond, []change{anomaly}, []string{"why-matched-off", "why-matched-rest"}},
		{sim.AimEso, sim.MeetPasses, []change{anomaly}, []string{"why-matched-off"}},

		{sim.AimOnTarget, sim.MeetAt, []change{wavers}, []string{"why-unsteady"}},
		{sim.AimOnTarget, sim.MeetAt, []change{wavers, counts(2, 0)}, []string{"why-unsteady"}},
		{sim.AimOnTarget, sim.MeetAt, []change{wavers, counts(0, 2)}, []string{"why-unsteady"}},
		{sim.AimOnTarget, sim.MeetAt, []change{wavers, counts(1, 1)}, []string{"aim-together"}},
		{sim.AimEso, sim.MeetNearer, []change{wavers}, []string{"why-unsteady", "aim-nearer"}},
		{sim.AimEso, sim.MeetPasses, []change{wavers}, []string{"why-unsteady-apart", "aim-nearer"}},

		// What is hoped for goes without saying beside what stands in its way.
		{sim.AimOnTarget, sim.MeetAt, []change{asked}, nil},
		{sim.AimEso, sim.MeetNearer, []change{asked}, []string{"aim-nearer"}},
		{sim.AimOnTarget, sim.MeetAt, []change{leftOut(sim.WhereNearer)}, nil},
		{sim.AimEso, sim.MeetNearer, []change{leftOut(sim.WhereNearer)}, []string{"aim-nearer"}},
		// With one eye alone nothing is aimed together.
		{sim.AimEso, sim.MeetNearer, []change{leftOut(sim.WhereAll)}, nil},
		{sim.AimEso, sim.MeetNearer, []change{leftOut(sim.WhereAll), broken}, []string{"hold-covered"}},
	} {
		m := seen(sim.SeenOne, 2, 2, c.meet, c.eyes, c.with...)
		assert.Equal(t, c.want, reasonIDs(m.seen(), sim.JumpNone), "%v, %v, %+v", c.eyes, c.meet, m.s.Posture)
	}
}

// An eye that takes over swings by the larger of its two errors, and the way that it had
// been off the other way.
func TestSwing(t *testing.T) {
	for _, c := range []struct {
		fixes               sim.Side
		deviation, vertical sim.Prism
		way                 string
	}{
		{sim.Left, 5, 3, "out"}, {sim.Left, -5, 3, "in"}, {sim.Left, 5, -5, "out"}, {sim.Left, 0.1, 0.25, ""},
		{sim.Left, 3, 5, "up"}, {sim.Left, -3, -5, "down"}, {sim.Left, 0, 0.26, "up"},
		{sim.Right, 3, 5, "down"}, {sim.Right, 3, -5, "up"}, {sim.Right, -5, 3, "in"},
	} {
		other := map[sim.Side]sim.Side{sim.Left: sim.Right, sim.Right: sim.Left}[c.fixes]
		m := seen(sim.SeenOne, 1, 1, sim.MeetUnseen, sim.AimEso, func(m *moment) {
			m.s.Posture.Deviation, m.s.Posture.Vertical, m.s.Cover = c.deviation, c.vertical, other
			m.v.Account.Fixes, m.v.Account.TookUp = c.fixes, true
		})
		way, _ := swing(m.seen())
		assert.Equal(t, c.way, way, "%+v", c)
		for _, none := range []func(m *moment){
			func(m *moment) { m.v.Account.TookUp = false },
			func(m *moment) { m.s.Cover = sim.Neither },
			func(m *moment) { m.v.Holding.OK = true },
		} {
			still := m
			none(&still)
			way, _ := swing(still.seen())
			assert.Empty(t, way, "%+v", c)
		}
	}
}
