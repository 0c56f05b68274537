package cases

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
	"twincord/sim/answers"
)

// sat is a sitting with one case, judged by what is given to it.
func sat(d *drawing, given map[Item]Answer) *Sitting {
	j := by(d.key, given)
	return &Sitting{ids: []ID{d.ID}, made: []prepared{{d.Case, d.key, d.rival(d.bench, d.key)}}, given: given, judged: &j}
}

// seen are the sights of a case by what they are to it.
func seen(s *Sitting) map[Role]*sim.Setup {
	all := map[Role]*sim.Setup{}
	for _, x := range s.Sights() {
		all[x.Role] = &x.Setup
	}
	return all
}

// What is shown after the best answer: a set-up that gives what was given; where it
// could not be told a second one that gives it as well, and differs.
func TestSightsGiveWhatWasGiven(t *testing.T) {
	rivals := 0
	sampled(t, func(t *testing.T, d *drawing) {
		best := map[Item]Answer{}
		for _, e := range d.key {
			best[e.Item] = e.Best
		}
		all := seen(sat(d, best))
		assert.NotContains(t, all, Answered, "all of it is right")
		for role, s := range all {
			require.NoError(t, s.Validate(), "%s", role)
			if role == With || role == Holding || role == Broken {
				continue
			}
			told := answers.Tell(viewOf(s))
			for _, i := range d.Told() {
				assert.True(t, told.Agrees(i, &d.Given.Answers), "%s: %v", role, i)
			}
		}
		if other := all[AsWell]; other != nil {
			rivals++
			h := &d.hidden
			assert.False(t, side(other.Posture.Deviation) == side(h.Posture.Deviation) && other.Suppression == h.Suppression, "it is another set-up")
		}
		assert.Equal(t, d.Kind == Stop || d.Kind == DoesItFit && d.key[0].Best.Code != TheyFit, len(all) == 0)
	})
	assert.NotZero(t, rivals)
}

// viewOf is what is seen of a set-up at rest.
func viewOf(s *sim.Setup) *sim.View {
	now := s.Settled()
	v := new(sim.View)
	v.Look(&now)
	return v
}

// A wrong answer stands beside the truth, as what it would look like.
func TestAWrongAnswerIsShown(t *testing.T) {
	shown := 0
	sampled(t, func(t *testing.T, d *drawing) {
		if d.hidden.Posture.Deviation <= 0 || !d.key[0].Told() || d.rival(d.bench, d.key).OK {
			return
		}
		all := seen(sat(d, map[Item]Answer{Sign: {Code: Exo}, Deviation: {Number: -3}}))
		require.Contains(t, all, Answered)
		assert.InDelta(t, -3, float64(all[Answered].Posture.Deviation), 1e-9)
		assert.Equal(t, d.hidden.Posture, all[TheTruth].Posture)
		assert.Equal(t, sim.MeetBeyond, viewOf(all[Answered]).Account.Meet)
		shown++
	}, SeeToEyes)
	assert.NotZero(t, shown)

	sampled(t, func(t *testing.T, d *drawing) {
		all := seen(sat(d, map[Item]Answer{Base: {Code: d.key[0].Best.Code}, Power: {Number: 0}}))
		assert.Zero(t, all[Answered].Right.BaseOut)
		assert.Equal(t, sim.MeetAt, viewOf(all[With]).Account.Meet, "the right one brings it into the bead")
		all = seen(sat(d, nil))
		assert.NotContains(t, all, Answered)
		assert.Equal(t, d.hidden, *all[Without])
	}, WhichGlass)
}

// The bead of a walk is one just before the place of the key, and two there.
func TestAWalkIsShownWhereItBreaks(t *testing.T) {
	sampled(t, func(t *testing.T, d *drawing) {
		all := seen(sat(d, nil))
		assert.Equal(t, sim.SeenOne, viewOf(all[Holding]).Beads[0].Seen)
		assert.Equal(t, sim.SeenTwo, viewOf(all[Broken]).Beads[0].Seen)
		assert.InDelta(t, d.key[0].Best.Number, all[Broken].Beads[0].At, 1e-9)
	}, Walk)
}

// A set-up that fits as well is shown for what it differs in, and for nothing else.
func TestDiffers(t *testing.T) {
	left := func(eye sim.Side, zone sim.Zone) func(*sim.Setup) {
		return func(s *sim.Setup) { s.Suppression.Eye, s.Suppression.Zone = eye, zone }
	}
	off := func(e sim.Prism) func(*sim.Setup) { return func(s *sim.Setup) { s.Posture.Deviation = e } }
	for _, tt := range []struct {
		name        string
		hidden, and func(*sim.Setup)
		kind        answers.Kind
		sign        bool
		missing     bool
		where       bool
	}{
		{"the same", off(3), off(4), answers.Eso, false, false, false},
		{"eso and exo", off(3), off(-3), answers.Exo, true, false, false},
		{"eso and straight", off(3), off(onBead), answers.OnBead, true, false, false},
		{"just off and straight", off(-onBead - 0.01), off(-onBead), answers.OnBead, true, false, false},
		{"straight alike", off(onBead), off(-onBead), answers.OnBead, false, false, false},
		{"another place looked at", off(0), off(0), answers.AnotherSpot, true, false, false},
		{"the other eye", left(sim.Right, sim.ZoneAll), left(sim.Left, sim.ZoneAll), answers.LeftOut, false, true, false},
		{"another part", left(sim.Right, sim.ZoneAll), left(sim.Right, sim.ZoneBeyond), answers.LeftOutPart, false, false, true},
		{"something and nothing", left(sim.Right, sim.ZoneAll), off(0), answers.OnBead, false, true, true},
		{"nothing and something", off(0), left(sim.Left, sim.ZoneAll), answers.LeftOut, false, true, true},
		{"nothing of any part", left(sim.Neither, sim.ZoneNearer), left(sim.Neither, sim.ZoneBeyond), answers.OnBead, false, false, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := begun(ID{SeeToEyes, 1, 0})
			m := answers.Match{Family: answers.Family{Kind: tt.kind}, Example: c.Scene()}
			tt.hidden(&c.hidden)
			tt.and(&m.Example)
			for _, i := range []Item{Sign, Doubling, Whose} {
				assert.Equal(t, tt.sign, c.differs(i, &m), i)
			}
			assert.Equal(t, tt.missing, c.differs(Missing, &m))
			assert.Equal(t, tt.where, c.differs(Where, &m))
			assert.False(t, c.differs(Deviation, &m))
		})
	}
}
