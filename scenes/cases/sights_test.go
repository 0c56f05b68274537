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
	j := judge(d.key, given)
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

// What was answered is shown as far as it is a set-up: with the true amount where none
// was answered, and with a usual one where there is none.
func TestWhatWasAnsweredAsASetup(t *testing.T) {
	say := func(code string) Answer { return Answer{Code: code} }
	nothing, unsure := map[Item]Answer{}, map[Item]Answer{Sign: say(CannotTell), Missing: say(CannotTell)}
	for _, tt := range []struct {
		name   string
		hidden sim.Prism
		given  map[Item]Answer
		ok     bool
		off    sim.Prism
		out    func(p *sim.Suppression) // nil: nothing
	}{
		{"nothing", 3, nothing, false, 0, nil},
		{"that it cannot be told", 3, unsure, false, 0, nil},
		{"another place, but not which", 3, map[Item]Answer{Sign: say(Elsewhere)}, false, 0, nil},
		{"straight", 3, map[Item]Answer{Sign: say(Straight)}, true, 0, nil},
		{"eso", -3, map[Item]Answer{Sign: say(Eso)}, true, 3, nil},
		{"exo", 3, map[Item]Answer{Sign: say(Exo)}, true, -3, nil},
		{"exo where there is none", 0, map[Item]Answer{Sign: say(Exo)}, true, -usual, nil},
		{"exo by an amount", 3, map[Item]Answer{Sign: say(Exo), Deviation: {Number: -7}}, true, -7, nil},
		{"exo by who knows what", 3, map[Item]Answer{Sign: say(Exo), Deviation: say(CannotTell)}, true, -3, nil},
		{"crossed", 3, map[Item]Answer{Doubling: say(Crossed)}, true, -3, nil},
		{"uncrossed", 3, map[Item]Answer{Doubling: say(Uncrossed)}, true, 3, nil},
		{"nobody's picture", 3, map[Item]Answer{Missing: say(Nobody)}, true, 0, nil},
		{"in front, the left eye's", 3, map[Item]Answer{Missing: say(Left), Where: say(InFront)}, true, 0,
			func(p *sim.Suppression) { p.Eye, p.Zone = sim.Left, sim.ZoneNearer }},
		{"behind, the right eye's", 3, map[Item]Answer{Missing: say(Right), Where: say(Behind)}, true, 0,
			func(p *sim.Suppression) { p.Eye, p.Zone = sim.Right, sim.ZoneBeyond }},
		{"the middle", 3, map[Item]Answer{Missing: say(Right), Where: say(Centre)}, true, 0,
			func(p *sim.Suppression) {
				p.Eye, p.Zone, p.Centre, p.Radius = sim.Right, sim.ZoneCentral, sim.CentreTarget, 2
			}},
		{"nothing of the right eye's", 3, map[Item]Answer{Missing: say(Right), Where: say(Nothing)}, true, 0, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := begun(ID{SeeToEyes, 1, 0})
			want := c.Scene()
			c.hidden.Posture.Deviation, c.hidden.Suppression.Radius = tt.hidden, 2
			s, ok := c.answered(tt.given)
			require.Equal(t, tt.ok, ok)
			if !ok {
				return
			}
			if want.Posture.Deviation = tt.off; tt.out != nil {
				tt.out(&want.Suppression)
			}
			assert.Equal(t, want, s)
		})
	}
}
