package words

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
)

// everyDraw calls f for thousands of set-ups from the whole range of a scene file, each as
// it is seen and with its caption.
func everyDraw(t *testing.T, f func(seed uint64, v *sim.View, said []sentence)) {
	t.Helper()
	for seed := range uint64(10_000 / share) {
		s := draw(seed)
		if s.Validate() != nil {
			continue
		}
		v := look(&s)
		f(seed, v, caption(v, v.Jump()))
	}
}

// tells says whether a caption has one of the sentences.
func tells(said []sentence, ids ...string) bool {
	return slices.ContainsFunc(said, func(s sentence) bool { return slices.Contains(ids, s.id) })
}

// full says whether a caption has room for nothing but what it has: five sentences, none
// of which it could do without before the reason.
func full(said []sentence) bool {
	return len(said) >= room && !slices.ContainsFunc(said, func(s sentence) bool { return s.spare > reason })
}

// Two pictures that are tilted against each other look it, whatever else the eyes do, and
// that is said; a tilt that nobody sees is not.
func TestATiltIsTold(t *testing.T) {
	met := map[bool]int{}
	everyDraw(t, func(seed uint64, v *sim.View, said []sentence) {
		a, tilt := &v.Account, math.Abs(float64(v.Now.Posture.Cyclo))
		met[tilt >= 1]++
		switch is := tells(said, "why-tilted", "why-tilted-too"); {
		case tilt >= 1 && a.MissingWhere != sim.WhereAll && !full(said):
			require.True(t, is, "seed %d: %v° of torsion: %+v", seed, tilt, said)
		case tilt == 0 || a.MissingWhere == sim.WhereAll:
			require.False(t, is, "seed %d: %v", seed, said)
		}
	})
	assert.Positive(t, met[true])
	assert.Positive(t, met[false])
}
