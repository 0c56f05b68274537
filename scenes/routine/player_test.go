package routine

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"twincord/sim"
)

// A bead that is moved goes from its place to the next at one pace, and what goes along
// with it does too; the first step begins where it stays.
func TestMovesAtOnePace(t *testing.T) {
	steps := Steps(parse(t, oneBead+"[routine]\n"))
	assert.True(t, Moved(steps))
	player := NewPlayer(steps)
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(1, len(steps)-1).Draw(t, "step")
		part := rapid.Float64Range(0, 1.5).Draw(t, "part of the move")
		each := make([]float64, len(steps))
		for n := range each {
			each[n] = steps[n].At
		}
		want := steps[i-1].At + min(part, 1)*(steps[i].At-steps[i-1].At)
		since := part * steps[i].Move
		assert.InDelta(t, want, Along(steps, each, i, since), 1e-9)
		var v sim.View
		player.Look(&v, i, since)
		assert.InDelta(t, want, v.Target.At, 1e-9)
		player.Look(&v, 0, since)
		assert.InDelta(t, steps[0].At, v.Target.At, 1e-9)
		assert.InDelta(t, steps[0].At, Along(steps, each, 0, since), 1e-9)
	})
}

// A move that takes longer is slower: half of the way is at half of its time.
func TestMovesTakeTheirTime(t *testing.T) {
	steps := Steps(parse(t, oneBead+"[routine]\n"))[:2]
	each := []sim.Prism{10, 20}
	for _, move := range []float64{0.5, 1, 4} {
		steps[1].Move = move
		for part, want := range map[float64]sim.Prism{0: 10, 0.25: 12.5, 0.5: 15, 1: 20, 2: 20} {
			assert.InDelta(t, float64(want), float64(Along(steps, each, 1, part*move)), 1e-9, "%v of %v s", part, move)
			setup := setupAt(steps, 1, part*move)
			assert.InDelta(t, steps[0].At+min(part, 1)*(steps[1].At-steps[0].At), setup.LookPlace(), 1e-9, "%v of %v s", part, move)
		}
	}
}

// Where the eyes jump nothing is moved, not even where some steps of others are.
func TestJumpsMoveNothing(t *testing.T) {
	steps := Steps(parse(t, three+"[routine]\nkind = \"jumps\"\n"))
	assert.False(t, Moved(steps))
	var v sim.View
	for i := range steps {
		NewPlayer(steps).Look(&v, i, 0)
		assert.Equal(t, steps[i].At, v.Target.At)
		assert.Equal(t, steps[i].At, Along(steps, []float64{steps[i].At}, 0, 0))
	}
	assert.True(t, Moved(steps[:1]), "one step leads to no other")
}

// A moment is as it is, whatever was looked at before.
func TestPlaysInAnyOrder(t *testing.T) {
	steps := Steps(parse(t, oneBead+"[routine]\n[hold]\nunsteady_arcmin = 30\n"))
	player := NewPlayer(steps)
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(0, len(steps)-1).Draw(t, "step")
		since := rapid.Float64Range(0, 8).Draw(t, "since")
		var got, want sim.View
		player.Look(&got, i, since)
		NewPlayer(steps).Look(&want, i, since)
		assert.Equal(t, want.Eyes, got.Eyes)
		assert.Equal(t, want.Account, got.Account)
	})
}
