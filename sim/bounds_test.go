package sim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/sim"
)

// The bounds of the account's codes, from either side.
func TestBoundsOfTheAccount(t *testing.T) {
	// Eyes are on what is looked at within 0.25 Δ.
	for _, c := range []struct {
		deviation sim.Prism
		want      sim.Aim
	}{
		{0.249, sim.AimOnTarget}, {-0.249, sim.AimOnTarget},
		{0.251, sim.AimEso}, {-0.251, sim.AimExo},
	} {
		v := look(with(threeBeads(), func(s *sim.Setup) { s.Posture.Deviation = c.deviation }))
		assert.Equal(t, c.want, v.Account.Eyes, "%v", c.deviation)
	}

	// A place is clear up to 5′ of blur and soft up to 15′. Where nothing is left of the
	// accommodation the blur is as large as the pupil, which can be chosen for either side.
	far := func(pupil float64) sim.Setup {
		return with(threeBeads(), func(s *sim.Setup) {
			s.Patient.Pupil, s.Patient.Age = pupil, 80
			s.Look.Bead = 2
		})
	}
	bead := look(far(3)).Beads[2]
	perMM := float64(bead.Blur.Arcmin()) / 3
	if assert.Greater(t, perMM, 1., "it blurs") {
		for _, c := range []struct {
			blur float64 // ′
			want sim.Clarity
		}{{4.99, sim.ClarityClear}, {5.01, sim.ClaritySoft}, {14.99, sim.ClaritySoft}, {15.01, sim.ClarityBlurred}} {
			v := look(far(c.blur / perMM))
			assert.InDelta(t, c.blur, float64(v.Beads[2].Blur.Arcmin()), 1e-3)
			assert.Equal(t, c.want, v.Account.Clarity, "%v′", c.blur)
		}
	}
}

// A string that just reaches across is one, and so is one that hangs down by just its share.
func TestBoundsOfTheString(t *testing.T) {
	set := func(length, sag float64) error {
		s := sim.Default()
		s.Beads, s.Look = nil, sim.Fixation{Bead: sim.NoBead, Asked: sim.NoBead, At: 100}
		s.String.NearEnd.Z, s.String.AnchorSide, s.String.AnchorHeight = 0, 300, 400 // 500 across
		s.String.Length, s.String.Sag = length, sag
		return s.Validate()
	}
	assert.NoError(t, set(500, 0))
	assert.ErrorContains(t, set(499.9, 0), "cannot reach across")
	assert.NoError(t, set(1000, 1000*sim.SagShare))
	assert.Error(t, set(1000, 1000*sim.SagShare+0.1))
}

// Strings cross at a bare place within 10 mm of it.
func TestBoundsOfABarePlace(t *testing.T) {
	at := map[bool]float64{true: 0, false: 1e3} // the farthest crossing at it, the nearest not
	for e := sim.Prism(0.01); e < 2; e += 0.002 {
		v := look(with(threeBeads(), func(s *sim.Setup) {
			s.Beads, s.Look = nil, sim.Fixation{Bead: sim.NoBead, Asked: sim.NoBead, At: 480}
			s.Posture.Deviation = e
		}))
		off := -v.Crossing.Offset.Value
		switch v.Account.Meet {
		case sim.MeetAt:
			at[true] = max(at[true], off)
		case sim.MeetNearer:
			at[false] = min(at[false], off)
		}
	}
	assert.InDelta(t, sim.BareRadius, at[true], 0.2)
	assert.InDelta(t, sim.BareRadius, at[false], 0.2)
	assert.LessOrEqual(t, at[true], at[false])
}
