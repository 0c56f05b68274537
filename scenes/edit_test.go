package scenes

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"twincord/sim"
)

func key(t require.TestingT, path string) *Key {
	k, ok := Find(path)
	require.True(t, ok, path)
	return &k
}

// What one gets of one scene and sets in another, key by key, makes them the same;
// what is cleared is as a file has it that leaves it out.
func TestGetSetClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, to := scenesOf(t), scenesOf(t)
		to.Head, to.Setup.Beads = from.Head, append([]sim.Bead(nil), from.Setup.Beads...)
		for i := range to.Setup.Beads {
			to.Setup.Beads[i] = defaultBead
		}
		to.Setup.Findings, to.Routine = sim.Maybe[sim.Findings]{}, sim.Maybe[Routine]{}
		to.Setup.String.Length = lengths.Max
		for _, k := range Keys() {
			n := 1
			if k.Table == beads {
				n = len(from.Setup.Beads)
			}
			for bead := range n {
				if v, ok := k.Get(from, bead); ok {
					require.NoError(t, k.Set(to, bead, v), k.Path())
				} else {
					k.Clear(to, bead)
				}
			}
		}
		require.Equal(t, from, to)
		require.NoError(t, to.Check())

		for _, k := range Keys() {
			k.Clear(to, 0)
			v, ok := k.Get(to, 0)
			switch {
			case k.Required || k.Or != "":
			case k.Table == beads && len(to.Setup.Beads) == 0, k.Table == findings && !to.Setup.Findings.OK, k.Table == routine && !to.Routine.OK:
				require.False(t, ok, k.Path())
			default:
				require.Equal(t, k.Default, v, k.Path())
				require.Equal(t, k.Optional(), !ok, k.Path())
			}
		}
	})
}

// A value that the loader would refuse is refused with its words, and the scene
// stays as it was.
func TestSetRefuses(t *testing.T) {
	tests := []struct {
		path  string
		value any
		want  string
	}{
		{"patient.pd_mm", 30., "patient.pd_mm: 30 mm is out of range; allowed is 40 to 80 mm"},
		{"patient.pd_mm", math.NaN(), "patient.pd_mm: NaN is not finite; allowed is 40 to 80 mm"},
		{"patient.pd_mm", "wide", "patient.pd_mm: is text; allowed is a number, 40 to 80 mm"},
		{"patient.pd_mm", 62, "patient.pd_mm: is a int; allowed is a number, 40 to 80 mm"},
		{"string.near_end_mm", [3]float64{0, 91, 0}, "string.near_end_mm[2]: 91 mm is out of range; allowed is 30 to 90 mm"},
		{"look.at_mm", 1200.5, "look.at_mm: 1200.5 mm is out of range; allowed is 0 to 1200 mm"},
		{"look.from", "red", `look.from: no bead is named "red"; allowed is "a" or "b"`},
		{"beads[].at_mm", -1., "beads[2].at_mm: -1 mm is out of range; allowed is 0 to 1200 mm"},
		{"beads[].colour", "sky", `beads[2].colour: is "sky"; allowed is a colour as "#RRGGBB"`},
		{"beads[].name", "", "beads[2].name: has 0 characters; allowed is text of 1 to 32 characters, none of them control characters"},
		{"suppression.period_s", 0.5, "suppression.period_s: 0.5 s is out of range; allowed is 0 s or 1 to 60 s"},
		{"hold.seed", 0.5, "hold.seed: 0.5 is no whole number; allowed is a whole number, 0 to 4294967295"},
		{"findings.state", "lost", `findings.state: is "lost"; allowed is "holding" or "broken"`},
		{"format", 2., "format: 2 is not known here; allowed is 1"},
	}
	const text = smallest + "[[beads]]\nname = \"a\"\nat_mm = 30\n[[beads]]\nname = \"b\"\nat_mm = 60\n"
	sc := parse(t, text)
	for _, test := range tests {
		err := key(t, test.path).Set(sc, 1, test.value)
		var fault Fault
		require.ErrorAs(t, err, &fault, test.path)
		assert.EqualError(t, err, test.want)
		assert.Equal(t, parse(t, text), sc, test.path)
	}
	assert.EqualError(t, key(t, "beads[].at_mm").Set(sc, 2, 1.), "beads[3].at_mm: there is no such bead; there are 2")
	_, ok := key(t, "beads[].at_mm").Get(sc, -1)
	assert.False(t, ok)
}

// Looking at a bead and looking at a place take each other's place, and findings
// come with their first key.
func TestSetMakesRoom(t *testing.T) {
	sc := parse(t, smallest+"[[beads]]\nname = \"a\"\nat_mm = 30\n")
	require.NoError(t, key(t, "look.bead").Set(sc, 0, "a"))
	assert.Equal(t, sim.Fixation{Bead: 0, Asked: sim.NoBead}, sc.Setup.Look)
	require.NoError(t, key(t, "look.at_mm").Set(sc, 0, 250.))
	assert.Equal(t, sim.Fixation{Bead: sim.NoBead, At: 250, Asked: sim.NoBead}, sc.Setup.Look)

	want := sim.DefaultFindings()
	want.NearPhoria = -6
	require.NoError(t, key(t, "findings.near_phoria_prism").Set(sc, 0, -6.))
	assert.Equal(t, sim.Some(want), sc.Setup.Findings)

	// What does not go together is for Check to tell.
	require.NoError(t, sc.Check())
	require.NoError(t, key(t, "findings.near_base_out_recovery_prism").Set(sc, 0, 22.))
	assert.ErrorContains(t, sc.Check(), "findings.near_base_out_recovery_prism: 22 Δ is more than near_base_out_break_prism, 21 Δ; allowed is at most that; findings.near_base_out_break_prism is left out")
}

// A list of beads is set as one gets it, a line each.
func TestSetNames(t *testing.T) {
	sc := parse(t, smallest+"[[beads]]\nname = \"a\"\nat_mm = 30\n[[beads]]\nname = \"b\"\nat_mm = 60\n[routine]\nkind = \"jumps\"\n")
	order := key(t, "routine.order")
	require.NoError(t, order.Set(sc, 0, "b\na"))
	v, ok := order.Get(sc, 0)
	assert.True(t, ok)
	assert.Equal(t, "b\na", v)
	require.NoError(t, sc.Check())
	assert.EqualError(t, order.Set(sc, 0, "b\nc"), `routine.order: no bead is named "c"; allowed is "a" or "b"`)
	assert.EqualError(t, order.Set(sc, 0, "b"), "routine.order: names fewer than two beads; allowed is an array of the names of at least two beads")
	assert.Equal(t, "b\na", sc.Routine.Value.Order)
}
