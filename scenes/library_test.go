package scenes

import (
	"bytes"
	"io/fs"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
)

// Every file of the folder is in the library, says that it is invented, and is
// already as Write writes it.
func TestLibraryFiles(t *testing.T) {
	files, err := fs.Glob(library, "library/*.toml")
	require.NoError(t, err)
	entries := Library()
	require.Len(t, files, len(entries))
	assert.Equal(t, DefaultName, entries[0].Name)
	titles := map[string]bool{}
	for _, e := range entries {
		sc, id, err := Open(e.Name)
		require.NoError(t, err, e.Name)
		assert.Equal(t, Identity{BuiltIn, e.Name}, id)
		assert.Equal(t, e.Scene, sc)
		assert.True(t, strings.HasPrefix(sc.Note, "Invented."), e.Name)
		assert.NotEmpty(t, sc.Title, e.Name)
		assert.False(t, titles[sc.Title], "%s: two scenes share the title %s", e.Name, sc.Title)
		titles[sc.Title] = true

		var b bytes.Buffer
		require.NoError(t, sc.Write(&b), e.Name)
		assert.Equal(t, string(e.Source), b.String(), e.Name)
	}
}

// What the caller does to a built-in scene stays with the caller.
func TestLibraryIsTheCallersOwn(t *testing.T) {
	a := Library()[0]
	a.Scene.Setup.Beads[0].At = 1
	a.Source[0] = 'x'
	b := Library()[0]
	assert.NotEqual(t, a.Scene, b.Scene)
	assert.NotEqual(t, a.Source, b.Source)
}

// Each built-in scene shows what its title says.
func TestLibraryShowsWhatItSays(t *testing.T) {
	type account struct {
		asked, lookedAt string
		fixated         sim.Seen
		near, far       int
		pattern         sim.Pattern
		meet            sim.Meet
		eyes            sim.Aim
		missing         sim.Side
		where           sim.Where
		higher          sim.Side
	}
	good := account{"sky", "sky", sim.SeenOne, 2, 2, sim.PatternX, sim.MeetAt, sim.AimOnTarget, sim.Neither, sim.WhereNot, sim.Neither}
	but := func(change func(*account)) account {
		a := good
		change(&a)
		return a
	}
	gone := func(side sim.Side, left sim.Seen) account {
		return but(func(a *account) {
			a.missing, a.where, a.fixated = side, sim.WhereAll, left
			a.near, a.far, a.pattern, a.meet = 1, 1, sim.PatternOne, sim.MeetUnseen
		})
	}
	turned := func(a account, eyes sim.Aim) account { a.eyes = eyes; return a }
	named := func(bead string) account { return but(func(a *account) { a.asked, a.lookedAt = bead, bead }) }
	want := map[string]account{
		"middle-of-three": good,
		"near-of-three":   but(func(a *account) { a.asked, a.lookedAt = "orange", "orange" }),
		// The end of the string behind the farthest bead is shorter than 30 arcmin,
		// or hidden by it.
		"far-of-three":     but(func(a *account) { a.asked, a.lookedAt, a.far, a.pattern = "plum", "plum", 0, sim.PatternA }),
		"three-metres":     but(func(a *account) { a.asked, a.lookedAt, a.far, a.pattern = "plum", "plum", 0, sim.PatternA }),
		"too-near-single":  but(func(a *account) { a.eyes, a.meet = sim.AimEso, sim.MeetNearer }),
		"too-near-doubled": but(func(a *account) { a.eyes, a.meet, a.fixated = sim.AimEso, sim.MeetNearer, sim.SeenTwo }),
		"too-far-single":   but(func(a *account) { a.eyes, a.meet = sim.AimExo, sim.MeetBeyond }),
		"too-far-doubled":  but(func(a *account) { a.eyes, a.meet, a.fixated = sim.AimExo, sim.MeetBeyond, sim.SeenTwo }),
		"eyes-part": but(func(a *account) {
			a.eyes, a.meet, a.fixated, a.pattern = sim.AimApart, sim.MeetNowhere, sim.SeenTwo, sim.PatternTwo
		}),
		"right-left-out":  gone(sim.Right, sim.SeenLeft),
		"left-left-out":   gone(sim.Left, sim.SeenRight),
		"eye-covered":     gone(sim.Left, sim.SeenRight),
		"left-out-beyond": but(func(a *account) { a.missing, a.where, a.far, a.pattern = sim.Right, sim.WhereBeyond, 1, sim.PatternY }),
		"left-out-nearer": but(func(a *account) { a.missing, a.where, a.near, a.pattern = sim.Right, sim.WhereNearer, 1, sim.PatternY }),
		"left-out-centre": but(func(a *account) {
			a.missing, a.where, a.fixated, a.meet = sim.Right, sim.WhereCentre, sim.SeenLeft, sim.MeetUnseen
		}),
		// Row D6: the higher eye has the lower image.
		"eye-higher":                  but(func(a *account) { a.fixated, a.higher, a.meet = sim.SeenTwo, sim.Left, sim.MeetAside }),
		"eye-tilted":                  good,
		"slack-string":                good,
		"held-off-centre":             good,
		"turned-yet-crossing-in-bead": but(func(a *account) { a.eyes = sim.AimEso }),
		"another-bead":                but(func(a *account) { a.lookedAt = "orange" }),
		"prism-not-answered":          but(func(a *account) { a.fixated, a.meet, a.pattern = sim.SeenTwo, sim.MeetBeyond, sim.PatternA }),
		"bare-string":                 but(func(a *account) { a.asked, a.lookedAt, a.fixated = "", "", "" }),

		"steady-findings": good,
		"receding-near-point": but(func(a *account) {
			a.asked, a.lookedAt, a.fixated, a.meet, a.eyes = "orange", "orange", sim.SeenTwo, sim.MeetBeyond, sim.AimExo
		}),
		"small-turn-left-out": turned(gone(sim.Left, sim.SeenRight), sim.AimEso),
		"cover-test":          turned(gone(sim.Left, sim.SeenRight), sim.AimExo),
		"prism-on-findings": but(func(a *account) {
			a.fixated, a.pattern, a.meet, a.eyes = sim.SeenTwo, sim.PatternTwo, sim.MeetNowhere, sim.AimExo
		}),
		"plus-lens-on-findings": but(func(a *account) { a.meet, a.eyes = sim.MeetBeyond, sim.AimExo }),
		"red-green":             named("yellow"),
		"black-through-filter":  named("blue"),
		// At the time 0 the eyes are where they come from.
		"jump-near-to-far": but(func(a *account) {
			a.asked, a.lookedAt, a.fixated, a.far = "plum", "plum", sim.SeenTwo, 0
			a.meet, a.eyes = sim.MeetNearer, sim.AimEso
		}),
		"unsteady-hold":         good,
		"left-out-now-and-then": gone(sim.Right, sim.SeenLeft),
		"left-out-in-turn":      gone(sim.Right, sim.SeenLeft),

		"walk-of-ten":        good,
		"jumps-of-three":     but(func(a *account) { a.asked, a.lookedAt, a.far, a.pattern = "plum", "plum", 0, sim.PatternA }),
		"bare-string-walk":   but(func(a *account) { a.asked, a.lookedAt, a.fixated = "", "", "" }),
		"walk-with-findings": good,
		"jumps-unsteady":     but(func(a *account) { a.asked, a.lookedAt, a.far, a.pattern = "plum", "plum", 0, sim.PatternA }),
	}
	entries := Library()
	require.Len(t, want, len(entries))
	var v sim.View
	for _, e := range entries {
		v.Look(&e.Scene.Setup)
		a := v.Account
		assert.Equal(t, want[e.Name], account{a.Asked, a.LookedAt, a.Fixated, a.Near, a.Far, a.Pattern, a.Meet, a.Eyes,
			a.Missing, a.MissingWhere, a.Higher}, e.Name)
	}
}

// A tilted eye's string leans inward by the tilt though both meet in the
// bead (row D8), and nothing tells it from "middle-of-three" but that.
func TestLibraryTilt(t *testing.T) {
	lean := func(name string, eye sim.Eye) float64 {
		sc, _, err := Open(name)
		require.NoError(t, err)
		var v sim.View
		v.Look(&sc.Setup)
		from, to := v.Sight(eye, 400).At, v.Sight(eye, 700).At
		return math.Atan2(to.Y-from.Y, to.X-from.X) * 180 / math.Pi
	}
	assert.InDelta(t, lean("middle-of-three", sim.LeftEye), lean("eye-tilted", sim.LeftEye), 1e-9)
	assert.InDelta(t, lean("middle-of-three", sim.RightEye)+8, lean("eye-tilted", sim.RightEye), 1e-9)
}

// A bead that is single though the eyes miss it has the crossing just outside
// itself; one that is doubled has it far away.
func TestLibraryNearMisses(t *testing.T) {
	for _, name := range []string{"too-near-single", "too-near-doubled", "too-far-single", "too-far-doubled"} {
		sc, _, err := Open(name)
		require.NoError(t, err)
		var v sim.View
		v.Look(&sc.Setup)
		radius, off := sc.Setup.Beads[sc.Setup.Look.Bead].Diameter/2, math.Abs(v.Crossing.Offset.Value)
		assert.Greater(t, off, radius, name)
		assert.Equal(t, strings.HasSuffix(name, "single"), off < 2*radius, name)
	}
}

// A slack string bends in each eye's picture, a tight one is straight (M11).
func TestLibrarySlack(t *testing.T) {
	bend := func(name string) float64 {
		sc, _, err := Open(name)
		require.NoError(t, err)
		var v sim.View
		v.Look(&sc.Setup)
		slope := func(from, to float64) float64 {
			a, b := v.Sight(sim.RightEye, from).At, v.Sight(sim.RightEye, to).At
			return math.Atan2(b.Y-a.Y, b.X-a.X) * 180 / math.Pi
		}
		return math.Abs(slope(300, 400) - slope(900, 1100))
	}
	assert.InDelta(t, 0, bend("middle-of-three"), 1e-9)
	assert.Greater(t, bend("slack-string"), 10.)
}

func setup(t require.TestingT, name string) *sim.Setup {
	sc, _, err := Open(name)
	require.NoError(t, err)
	return &sc.Setup
}

// The three invented patients differ as their notes say: the near point of the
// second is what lets go of the bead, and the third's eyes would not hold it if
// both were seen, but for a base-out prism.
func TestLibraryPatients(t *testing.T) {
	held := func(s *sim.Setup) sim.Holding {
		var v sim.View
		v.Look(s)
		require.True(t, v.Holding.OK)
		return v.Holding.Value
	}
	assert.Equal(t, sim.StateHolding, held(setup(t, "steady-findings")).State)

	receding := setup(t, "receding-near-point")
	assert.Equal(t, sim.WhyConverge, held(receding).Why)
	receding.Findings.Value = sim.DefaultFindings()
	assert.Equal(t, sim.StateHolding, held(receding).State, "the published means hold the same bead")

	turn := setup(t, "small-turn-left-out")
	assert.Equal(t, sim.WhySuppressed, held(turn).Why)
	turn.Suppression.Eye = sim.Neither
	for _, at := range []float64{30, 230, 480, 900, 1200} {
		turn.Look = sim.Fixation{Bead: sim.NoBead, At: at, Asked: sim.NoBead}
		assert.Equal(t, sim.WhyDiverge, held(turn).Why, "%v mm", at)
	}
	turn.Look.At = 480
	turn.Right.BaseOut = 8
	assert.Equal(t, sim.StateHolding, held(turn).State)

	prism := setup(t, "prism-on-findings")
	assert.Equal(t, sim.WhyConverge, held(prism).Why)
	prism.Left.BaseOut = 0
	assert.Equal(t, sim.StateHolding, held(prism).State, "one of the two prisms they can answer")

	// Plus lenses take the eyes outward by the AC/A ratio (rows C16, C17).
	plus := setup(t, "plus-lens-on-findings")
	through := held(plus)
	plus.Right.Lens, plus.Left.Lens = 0, 0
	without := held(plus)
	assert.InDelta(t, float64(through.Distance)*through.ACA, float64(without.Phoria-through.Phoria), 1e-9,
		"+2 relaxes all of the accommodation, which is less than 2 D there")
}

// As time goes on the scenes of time do what their notes say.
func TestLibraryInTime(t *testing.T) {
	account := func(name string, seconds float64) sim.Account {
		var v sim.View
		sim.NewCourse(setup(t, name)).Look(&v, seconds)
		return v.Account
	}
	assert.Equal(t, account("far-of-three", 0).Fixated, account("jump-near-to-far", 2).Fixated)
	assert.Equal(t, sim.MeetAt, account("jump-near-to-far", 2).Meet)

	for seconds, want := range map[float64]sim.Side{0: sim.Right, 1.99: sim.Right, 2.01: sim.Neither, 3.99: sim.Neither, 4.01: sim.Right} {
		assert.Equal(t, want, account("left-out-now-and-then", seconds).Missing, "%v s", seconds)
	}
	for seconds, want := range map[float64]sim.Side{0: sim.Right, 2.99: sim.Right, 3.01: sim.Left, 5.99: sim.Left, 6.01: sim.Right} {
		assert.Equal(t, want, account("left-out-in-turn", seconds).Missing, "%v s", seconds)
	}

	var v sim.View
	course := sim.NewCourse(setup(t, "unsteady-hold"))
	var low, high float64
	for i := range 200 {
		course.Look(&v, float64(i)/20)
		low, high = min(low, v.Crossing.Offset.Value), max(high, v.Crossing.Offset.Value)
	}
	assert.Less(t, low, -1.)
	assert.Greater(t, high, 1.)
}

// No bead of "red-green" goes black to an eye; the one that is looked at in
// "black-through-filter" does, to the right eye alone.
func TestLibraryFilters(t *testing.T) {
	for _, b := range setup(t, "red-green").Beads {
		assert.False(t, sim.FilterRed.Blackens(b.Colour) || sim.FilterGreen.Blackens(b.Colour), b.Name)
	}
	s := setup(t, "black-through-filter")
	looked := s.Beads[s.Look.Bead].Colour
	assert.True(t, s.Right.Filter.Blackens(looked))
	assert.False(t, s.Left.Filter.Blackens(looked))
}
