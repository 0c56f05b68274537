package scenes

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What a set-up leaves of a key is what a file may hold: at its ends the scene is one,
// and beyond them it is not.
func TestRoom(t *testing.T) {
	const beyond = 0.5
	rapid.Check(t, func(t *rapid.T) {
		path := rapid.SampledFrom([]string{
			"string.length_mm", "string.sag_mm", "beads[].at_mm", "beads[].diameter_mm",
		}).Draw(t, "key")
		bead := rapid.IntRange(0, 2).Draw(t, "bead")
		sc, err := Parse("scene", []byte(three))
		require.NoError(t, err)
		sc.Setup.String.AnchorSide = rapid.Float64Range(-140, 140).Draw(t, "side")
		sc.Setup.String.Sag = rapid.Float64Range(0, 250).Draw(t, "sag")
		require.NoError(t, sc.Check())

		k, ok := Find(path)
		require.True(t, ok)
		room := k.Room(&sc.Setup, bead, k.Ranges[0])
		for _, end := range []float64{room.Min, room.Max} {
			in := *sc
			in.Setup.Beads = append(in.Setup.Beads[:0:0], sc.Setup.Beads...)
			require.NoError(t, k.Set(&in, bead, end), "%s at %v", path, end)
			assert.NoError(t, in.Check(), "%s at %v", path, end)
		}
		out := *sc
		out.Setup.Beads = append(out.Setup.Beads[:0:0], sc.Setup.Beads...)
		if k.Set(&out, bead, room.Max+beyond) == nil {
			assert.Error(t, out.Check(), "%s at %v", path, room.Max+beyond)
		}
	})
}

// A range holds what it lets through, and code that names no key is told so.
func TestRangeOf(t *testing.T) {
	pd := RangeOf("patient.pd_mm")
	for _, f := range []float64{-1e9, 39.9, 40, 62.5, 80, 80.1, 1e9} {
		assert.True(t, pd.holds(pd.Clamp(f)), f)
		assert.Equal(t, pd.holds(f), pd.Clamp(f) == f, f)
	}
	assert.Panics(t, func() { RangeOf("patient.pd") })
	assert.Panics(t, func() { RangeOf("title") })
}

// A bead is stopped by its neighbours on either side, and else by the ends of the string.
func TestBeadRoom(t *testing.T) {
	sc, err := Parse("scene", []byte(three))
	require.NoError(t, err)
	s := &sc.Setup
	touch := func(i, j int) float64 { return (s.Beads[i].Diameter + s.Beads[j].Diameter) / 2 }
	assert.Equal(t, Range{0, s.Beads[1].At - touch(0, 1)}, BeadRoom(s, 0))
	assert.Equal(t, Range{s.Beads[0].At + touch(0, 1), s.Beads[2].At - touch(1, 2)}, BeadRoom(s, 1))
	assert.Equal(t, Range{s.Beads[1].At + touch(1, 2), s.String.Length}, BeadRoom(s, 2))
}
