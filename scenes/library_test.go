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
		sc, file, err := Open(e.Name)
		require.NoError(t, err, e.Name)
		assert.Equal(t, e.Name, file)
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
		"eye-higher":                  but(func(a *account) { a.fixated, a.higher = sim.SeenTwo, sim.Left }),
		"eye-tilted":                  good,
		"slack-string":                good,
		"held-off-centre":             good,
		"turned-yet-crossing-in-bead": but(func(a *account) { a.eyes = sim.AimEso }),
		"another-bead":                but(func(a *account) { a.lookedAt = "orange" }),
		"prism-not-answered":          but(func(a *account) { a.fixated, a.meet, a.pattern = sim.SeenTwo, sim.MeetBeyond, sim.PatternA }),
		"bare-string":                 but(func(a *account) { a.asked, a.lookedAt, a.fixated = "", "", "" }),
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
	lean := func(name string, eye int) float64 {
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
