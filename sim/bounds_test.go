package sim_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r3"

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

	// What is on it may be at its very end.
	for at, good := range map[float64]bool{1200: true, 1200.1: false} {
		s := threeBeads()
		s.Beads[2].At = at
		assert.Equal(t, good, s.Validate() == nil, "a bead at %v mm", at)
		s.Beads, s.Look = nil, sim.Fixation{Bead: sim.NoBead, Asked: sim.NoBead, At: at}
		assert.Equal(t, good, s.Validate() == nil, "%v mm looked at", at)
	}
	// A near point may be as far as the string reaches, from the spectacle plane.
	s := threeBeads()
	reach := r3.Norm(s.Place(s.String.Length)) - 27
	for _, npc := range []float64{reach, reach + 0.1} {
		s.Findings = sim.Some(usual(func(f *sim.Findings) { f.NPCBreak, f.NPCRecovery = npc, npc }))
		assert.Equal(t, npc == reach, s.Validate() == nil, "%v mm: %v", npc, s.Validate())
	}
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

// An error counts as one from the next number above the bound on.
func TestBoundsOfAnError(t *testing.T) {
	next := sim.Prism(math.Nextafter(sim.OnTarget, 1))
	for p, want := range map[sim.Prism]sim.Aim{
		sim.OnTarget: sim.AimOnTarget, next: sim.AimEso, -sim.OnTarget: sim.AimOnTarget, -next: sim.AimExo,
	} {
		assert.Equal(t, want, p.Aim(), "%v Δ", p)
	}
}

// A string takes so many beads and no more, and beads may touch but not reach into each
// other. A place in two bodies is the nearer bead's, or the first one's.
func TestBoundsOfBeads(t *testing.T) {
	for n, good := range map[int]bool{sim.MaxBeads: true, sim.MaxBeads + 1: false} {
		s := threeBeads()
		s.Beads = nil
		for i := range n {
			s.Beads = append(s.Beads, sim.Bead{Name: fmt.Sprint(i), At: float64(100 + 50*i), Diameter: 16, Surface: sim.SurfacePlain})
		}
		assert.Equal(t, good, s.Validate() == nil, "%d: %v", n, s.Validate())
	}
	for into, good := range map[float64]bool{0: true, sim.Touching / 2: true, sim.Touching * 2: false} {
		s := threeBeads()
		s.Beads[2].At = s.Beads[1].At + 16 - into
		assert.Equal(t, good, s.Validate() == nil, "%v mm: %v", into, s.Validate())
	}
	s := threeBeads()
	s.Beads[0].At, s.Beads[1].At = 0, 16-sim.Touching // to the last bit
	assert.NoError(t, s.Validate())

	s = threeBeads()
	s.Beads[1].At, s.Beads[2].At = 238, 1000 // the first two overlap, from 230 to 238
	for at, want := range map[float64]int{221.9: sim.NoBead, 222: 0, 233: 0, 234: 0, 235: 1, 246: 1, 246.1: sim.NoBead} {
		assert.Equal(t, want, s.BeadAt(at), "%v mm", at)
	}
}

// The string inside a bead is not seen: of one that begins in a bead there is none in front,
// and some as soon as it begins outside.
func TestNoStringInsideABead(t *testing.T) {
	for at, want := range map[float64]int{29: 0, 60: 1} {
		s := threeBeads()
		s.Beads = []sim.Bead{{Name: "large", At: at, Diameter: 60, Surface: sim.SurfacePlain}}
		s.Look.Bead, s.Cover = 0, sim.Left // one eye sees all that is there
		assert.Equal(t, want, look(s).Strings.Near, "at %v mm", at)
	}
}

// A colour goes black through a filter whose part of it is less than the bound (0x59 of
// sRGB), whatever its other parts are.
func TestBoundsOfBlack(t *testing.T) {
	for part, black := range map[uint8]bool{0: true, 0x58: true, 0x59: false, 0xFF: false} {
		red, green := sim.RGB{R: part, G: 0x59 - part%0x59, B: 200}, sim.RGB{R: 0x58, G: part, B: 200}
		assert.Equal(t, black, sim.FilterRed.Blackens(red), "%#x", part)
		assert.Equal(t, black, sim.FilterGreen.Blackens(green), "%#x", part)
		assert.False(t, sim.FilterNone.Blackens(red))
	}
}

// Without any Panum's area nothing but the place without disparity is single.
func TestNothingElseFusesWithoutPanumsArea(t *testing.T) {
	s := bare(62, 480)
	s.Patient.FusionH, s.Patient.FusionV, s.Patient.FusionHSlope, s.Patient.FusionVSlope = 0, 0, 0, 0
	v := look(s)
	assert.True(t, v.Account.Fuses)
	if assert.True(t, v.Strings.FusedFrom.OK && v.Strings.FusedTo.OK) {
		assert.InDelta(t, s.Look.At, v.Strings.FusedFrom.Value, 1e-5)
		assert.InDelta(t, s.Look.At, v.Strings.FusedTo.Value, 1e-5)
	}
	s.Posture.Vertical = 0.001
	v = look(s)
	assert.False(t, v.Account.Fuses)
	assert.False(t, v.Strings.FusedFrom.OK)
}

// A stretch of string is noticed from 30 arcmin on, as long as it is to an eye that sees it:
// in front of the place looked at, and behind it (M10).
func TestBoundsOfAStretch(t *testing.T) {
	for _, cover := range []sim.Side{sim.Neither, sim.Right, sim.Left} {
		for _, behind := range []bool{false, true} {
			at := func(place float64) *sim.View {
				return look(with(threeBeads(), func(s *sim.Setup) {
					s.Beads, s.Look = nil, sim.Fixation{Bead: sim.NoBead, Asked: sim.NoBead, At: place}
					s.String.AnchorHeight, s.Cover = 100, cover
				}))
			}
			long := func(v *sim.View) (most float64) { // to the eye that has the longer one
				end := 0.
				if behind {
					end = v.Now.String.Length
				}
				for e := range sim.Eyes {
					a, b := v.Sight(e, end), v.Sight(e, v.Target.At)
					if a.Weight > 0 {
						most = max(most, angleBetween(r3.Vec{X: a.At.X, Y: 1, Z: a.At.Y}, r3.Vec{X: b.At.X, Y: 1, Z: b.At.Y}))
					}
				}
				return most / arcmin
			}
			none, some := 0., 300.
			if behind {
				none, some = 1200, 600
			}
			for math.Abs(some-none) > 1e-6 {
				middle := (some + none) / 2
				v := at(middle)
				if n := map[bool]int{false: v.Strings.Near, true: v.Strings.Far}[behind]; n > 0 {
					some = middle
				} else {
					none = middle
				}
			}
			assert.InDelta(t, 30, long(at(some)), 1e-3, "cover %v, behind %v, at %v mm", cover, behind, some)
		}
	}
}

// A crossing at either end of the string is seen from its one side.
func TestACrossingAtAnEndIsSeen(t *testing.T) {
	for _, place := range []float64{0, 1200} {
		v := look(with(threeBeads(), func(s *sim.Setup) {
			s.Beads, s.Look = nil, sim.Fixation{Bead: sim.NoBead, Asked: sim.NoBead, At: place}
		}))
		assert.InDelta(t, place, v.Crossing.At.Value, 1e-6)
		assert.True(t, v.Crossing.Seen, "at %v mm", place)
		assert.Equal(t, sim.MeetAt, v.Account.Meet)
	}
}

// Only three of the codes say that strings cross at a place (M11).
func TestWhichMeetingsAreCrossings(t *testing.T) {
	for m, crosses := range map[sim.Meet]bool{
		sim.MeetNowhere: false, sim.MeetUnseen: false, sim.MeetPasses: false, sim.MeetAside: false,
		sim.MeetAt: true, sim.MeetNearer: true, sim.MeetBeyond: true,
	} {
		assert.Equal(t, crosses, m.OnString(), m)
	}
}
