package words

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/sim"
	"twincord/sim/answers"
)

// The bounds of what is said, from either side.
func TestBoundsOfWhatIsSaid(t *testing.T) {
	w := english(t)
	posture := func(change func(p *sim.Posture)) *sim.View {
		return lookedAt(0, func(s *sim.Setup) { change(&s.Posture) })
	}
	for _, c := range []struct {
		says   string
		within *sim.View // of the bound: it is not said
		beyond *sim.View
	}{
		{"Δ eso", posture(func(p *sim.Posture) { p.Deviation = 0.0049 }), posture(func(p *sim.Posture) { p.Deviation = 0.0051 })},
		{"Δ exo", posture(func(p *sim.Posture) { p.Deviation = -0.0049 }), posture(func(p *sim.Posture) { p.Deviation = -0.0051 })},
		{"Right hyperdeviation", posture(func(p *sim.Posture) { p.Vertical = 0.0049 }), posture(func(p *sim.Posture) { p.Vertical = 0.0051 })},
		{"Left hyperdeviation", posture(func(p *sim.Posture) { p.Vertical = -0.0049 }), posture(func(p *sim.Posture) { p.Vertical = -0.0051 })},
		{"Excyclodeviation", posture(func(p *sim.Posture) { p.Cyclo = 0.049 }), posture(func(p *sim.Posture) { p.Cyclo = 0.051 })},
		{"objective angle H", posture(func(*sim.Posture) {}), posture(func(p *sim.Posture) { p.Anomaly = 0.01 })},
		{"Harmonious", posture(func(p *sim.Posture) { p.Deviation, p.Anomaly = 0.26, 0.005 }), posture(func(p *sim.Posture) { p.Deviation, p.Anomaly = 0.25, 0.005 })},
	} {
		assert.NotContains(t, w.Clinician(c.within), c.says)
		assert.Contains(t, w.Clinician(c.beyond), c.says)
	}
	for overlap, edge := range map[float64]bool{0.75: false, 0.751: true} {
		m := seen(sim.SeenTwo, 2, 2, sim.MeetNearer, sim.AimEso, func(m *moment) { m.v.Beads[0].Overlap = sim.Some(overlap) })
		assert.Equal(t, edge, strings.Contains(w.Family(m.seen()), "doubled edge"), "%v", overlap)
	}
	for stretch, long := range map[[2]float64]bool{{100, 510}: false, {100.1, 510}: true, {200, 500}: true, {200, 499.9}: false} {
		m := seen(sim.SeenOne, 2, 2, sim.MeetAt, sim.AimOnTarget, func(m *moment) {
			m.v.Target.At, m.v.Strings.FusedFrom, m.v.Strings.FusedTo = 500, sim.Some(500-stretch[0]), sim.Some(stretch[1])
		})
		assert.Equal(t, long, strings.Contains(w.Family(m.seen()), "join into one before it"), "from %v mm before it to %v mm", stretch[0], stretch[1])
	}
	for vertical, higher := range map[sim.Prism]bool{0.25: false, 0.26: true, -0.25: false, -0.26: true} {
		m := seen(sim.SeenOne, 2, 2, sim.MeetNearer, sim.AimEso, func(m *moment) { m.s.Posture.Vertical = vertical })
		assert.Equal(t, higher, strings.Contains(strings.Join(idsOf(&m), " "), "aim-higher-nearer"), "%v Δ", vertical)
	}
	// A swing to take over is told from where an error counts as one.
	for deviation, told := range map[sim.Prism]bool{0.25: false, 0.26: true, -0.25: false, -0.26: true} {
		m := seen(sim.SeenLeft, 1, 1, sim.MeetUnseen, sim.AimEso, func(m *moment) {
			m.s.Posture.Deviation, m.s.Posture.Fixing, m.s.Cover = deviation, sim.Right, sim.Right
			m.v.Account.Fixes, m.v.Account.TookUp = sim.Left, true
		})
		assert.Equal(t, told, strings.Contains(w.Family(m.seen()), "swings"), "%v Δ", deviation)
	}

	for vertical, off := range map[sim.Prism]bool{0.25: false, 0.26: true, -0.25: false, -0.26: true} {
		assert.Equal(t, off, unseenError(posture(func(p *sim.Posture) { p.Vertical = vertical })), "%v Δ", vertical)
	}

	// What was typed is told as it was typed, what was worked out to a tenth.
	still, wavers := posture(func(*sim.Posture) {}), lookedAt(0, func(s *sim.Setup) { s.Hold.SD = 4 })
	for p, want := range map[sim.Prism][2]string{
		2.25: {"2.25 Δ eso", "2.3 Δ eso"}, -2.25: {"2.25 Δ exo", "2.3 Δ exo"}, 0: {"0 Δ", "0 Δ"}, 0.0049: {"0 Δ", "0 Δ"}, 0.005: {"0.01 Δ eso", "0 Δ"},
	} {
		assert.Equal(t, want, [2]string{w.Error(still, p, UnitEso, UnitExo), w.Error(wavers, p, UnitEso, UnitExo)}, "%v Δ", p)
	}

	assert.Equal(t, "0 Δ", w.Prism(0.049, UnitEso, UnitExo))
	assert.Equal(t, "0.1 Δ eso", w.Prism(0.05, UnitEso, UnitExo))
	assert.Equal(t, "0.1 Δ exo", w.Prism(-0.05, UnitEso, UnitExo))
	assert.Equal(t, "9.9 Δ exo", w.Prism(-9.94, UnitEso, UnitExo))
	assert.Equal(t, "10 Δ eso", w.Prism(9.95, UnitEso, UnitExo))
	assert.Equal(t, "0.99°", w.Degrees(sim.Degrees(0.994).Angle()))
	assert.Equal(t, "1°", w.Degrees(sim.Degrees(0.996).Angle()))

	// A break that is just reached is not passed.
	assert.True(t, notBack(&sim.Holding{Why: sim.WhyConverge, Left: 0}))
	assert.True(t, notBack(&sim.Holding{Why: sim.WhyDiverge, Left: 0}))
	assert.False(t, notBack(&sim.Holding{Why: sim.WhyConverge, Left: -0.01}))
	assert.False(t, notBack(&sim.Holding{Why: sim.WhyVertical, Left: 1}))
}

// idsOf are the ids of the caption of a moment.
func idsOf(m *moment) (ids []string) {
	for _, s := range caption(m.seen(), m.jump) {
		ids = append(ids, s.id)
	}
	return ids
}

// Hardly any eyes turn in nearer than the near point of most, from the spectacle plane.
func TestFarInIsTold(t *testing.T) {
	w := english(t)
	near := sim.DefaultFindings().NPCBreak + sim.SpectaclePlane
	for off, told := range map[float64]bool{0.5: false, -0.5: true} {
		v := lookedAt(0, func(*sim.Setup) {})
		v.Target.FromEyes = near + off
		assert.Equal(t, told, strings.Contains(w.Clinician(v), "Hardly any eyes"), "%v mm", off)
	}
}

// In a jump the eyes are focused where they come from.
func TestBlurInAJump(t *testing.T) {
	for _, c := range []struct {
		to, from int
		want     string
	}{{2, 0, "front"}, {0, 2, "behind"}} {
		v := lookedAt(0.1, func(s *sim.Setup) { s.Look.Bead, s.Look.From = c.to, sim.Some(c.from) })
		assert.Equal(t, c.want, blurred(v), "from bead %d to %d", c.from, c.to)
	}
}

// Blur is told by what the eyes are focused on, or cannot be.
func TestBlurIsToldByFocus(t *testing.T) {
	for want, change := range map[string]func(m *moment){
		"behind": func(m *moment) { m.s.Posture.Accommodation = sim.Some(sim.Dioptres(1.9)) },
		"front":  func(m *moment) { m.s.Posture.Accommodation = sim.Some(sim.Dioptres(2.1)) },
		"near":   func(m *moment) { m.s.Patient.Amplitude = sim.Some(sim.Dioptres(1.9)) },
		"far":    func(m *moment) { m.v.Target.Accommodation = -0.5 },
	} {
		m := seen(sim.SeenOne, 2, 2, sim.MeetAt, sim.AimOnTarget, func(m *moment) { m.v.Target.Accommodation = 2 }, change)
		assert.Equal(t, want, blurred(m.seen()))
	}
	// What is just as near as these eyes can focus they can.
	m := seen(sim.SeenOne, 2, 2, sim.MeetAt, sim.AimOnTarget, func(m *moment) {
		m.v.Target.Accommodation, m.s.Patient.Amplitude = 2, sim.Some(sim.Dioptres(2))
	})
	assert.Equal(t, "behind", blurred(m.seen()))
	for lag, want := range map[sim.Dioptres]string{0.5: "behind", -0.5: "front"} {
		m := seen(sim.SeenOne, 2, 2, sim.MeetAt, sim.AimOnTarget, func(m *moment) { m.v.Target.Accommodation, m.s.Patient.Lag = 2, lag })
		assert.Equal(t, want, blurred(m.seen()))
	}
}

// Stretches of what was found are written with the word for each side, and go on where
// nothing beyond was tried.
func TestStretchesAreWritten(t *testing.T) {
	w := english(t)
	for want, got := range map[string]string{
		"2.7 to 5.9 Δ eso":                    w.deviations(2.65, 5.86),
		"2.7 to 5.9 Δ exo":                    w.deviations(-5.86, -2.65),
		"3 Δ exo to 5 Δ eso":                  w.deviations(-3, 5),
		"up to 5 Δ eso":                       w.deviations(0.2, 5),
		"0.3 to 5 Δ eso":                      w.deviations(0.25, 5),
		"at least 30 Δ exo":                   w.deviations(-answers.MostDeviation, -30),
		"30 to 40 Δ exo":                      w.deviations(-answers.MostDeviation+0.1, -30),
		"2 Δ eso":                             w.deviations(2, 2),
		"1 to 2 Δ of right hyperdeviation":    w.hypers(1, 2),
		"1 to 2 Δ of left hyperdeviation":     w.hypers(-2, -1),
		"at least 4 Δ of left hyperdeviation": w.hypers(-answers.MostVertical, -4),
		"3 to 5° excyclo":                     w.cyclos(3, 5),
		"3 to 5° incyclo":                     w.cyclos(-5, -3),
		"at least 5° incyclo":                 w.cyclos(-answers.MostCyclo, -5),
		"up to 10 Δ of left hyperdeviation":   w.hypers(-answers.MostVertical, 0),
		"up to 15° excyclo":                   w.cyclos(0.4, answers.MostCyclo),
		"0 Δ to 5 Δ eso":                      w.deviations(-0.04, 5), // what reads as nothing has no side
		"0 Δ":                                 w.deviations(0, 0),
		"1 Δ of left hyperdeviation to 2 Δ of right hyperdeviation": w.hypers(-1, 2),
		"2° incyclo to 5° excyclo":                                  w.cyclos(-2, 5),
		"0° to 5° excyclo":                                          w.cyclos(-0.4, 5),
		"40 cm":                                                     w.lengths(400, 400.2),
		"40 cm to 42 cm":                                            w.lengths(400, 420),
	} {
		assert.Equal(t, want, got)
	}
}
