package routine

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"twincord/scenes"
	"twincord/sim"
)

// The usual routine of each kind is one that a file may hold wherever there is room for
// a step of a millimetre, and has as many steps as there is room for, at most ten.
func TestUsualFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.IntRange(9, 1192).Draw(t, "at")
		for kind, text := range map[Kind]string{
			Walk:       fmt.Sprintf("beads = [{name = \"sky\", at_mm = %d}]\nlook.bead = \"sky\"\n", at),
			BareString: fmt.Sprintf("look.at_mm = %d\n", at),
		} {
			sc, err := scenes.Parse("scene", []byte("format = 1\nstring.length_mm = 1200\n"+text))
			require.NoError(t, err)
			sc.Routine = sim.Some(Usual(sc, kind))
			require.NoError(t, sc.Check())
			r := sc.Routine.Value
			assert.Equal(t, kind, r.Kind)
			assert.LessOrEqual(t, r.Steps, scenes.DefaultRoutine.Steps)
			if r.Steps < scenes.DefaultRoutine.Steps {
				assert.Less(t, scenes.WalkRoom(&sc.Setup), float64(r.Steps+1)*max(r.Step, scenes.DefaultRoutine.Step), "room for another")
			}
		}
	})
}

// After a change a routine is kept as far as the scene can do it.
func TestKeep(t *testing.T) {
	sc := parse(t, oneBead+"[routine]\n")
	sc.Setup.Beads[0].At = 270
	Keep(sc)
	assert.Equal(t, 5, sc.Routine.Value.Steps, "262 mm of room")
	require.NoError(t, sc.Check())
	sc.Setup.Beads[0].At = 70
	Keep(sc)
	assert.Equal(t, 1, sc.Routine.Value.Steps, "one step is a walk")
	sc.Setup.Look.Bead, sc.Setup.Look.At, sc.Setup.Beads = sim.NoBead, 270, nil
	Keep(sc)
	assert.Equal(t, BareString, sc.Routine.Value.Kind)
	require.NoError(t, sc.Check())
	sc.Setup.Look.At = 40
	Keep(sc)
	assert.False(t, sc.Routine.OK, "no room for a step")

	sc = parse(t, three+"[routine]\nkind = \"jumps\"\norder = [\"a\", \"c\"]\n")
	sc.Setup.Beads[1].Name = "d"
	Keep(sc)
	assert.Equal(t, "a\nc", sc.Routine.Value.Order)
	sc.Setup.Beads[2].Name = "e"
	Keep(sc)
	assert.Empty(t, sc.Routine.Value.Order, "a bead of it has gone")
	require.NoError(t, sc.Check())
	sc.Setup.Beads, sc.Setup.Look.Bead = sc.Setup.Beads[:2], 0
	Keep(sc)
	assert.True(t, sc.Routine.OK, "from one bead to the other")
	sc.Setup.Beads = sc.Setup.Beads[:1]
	Keep(sc)
	assert.False(t, sc.Routine.OK)
}
