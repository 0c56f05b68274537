package scenes

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"twincord/sim"
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
		assert.True(t, pd.Holds(pd.Clamp(f)), f)
		assert.Equal(t, pd.Holds(f), pd.Clamp(f) == f, f)
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
	assert.Equal(t, Range{Min: 0, Max: s.Beads[1].At - touch(0, 1)}, BeadRoom(s, 0))
	assert.Equal(t, Range{Min: s.Beads[0].At + touch(0, 1), Max: s.Beads[2].At - touch(1, 2)}, BeadRoom(s, 1))
	assert.Equal(t, Range{Min: s.Beads[1].At + touch(1, 2), Max: s.String.Length}, BeadRoom(s, 2))

	k, _ := Find("beads[].at_mm")
	assert.Equal(t, Range{Min: 1, Max: 2}, k.Room(s, 3, Range{Min: 1, Max: 2}), "a bead that there is not takes no room")
}

// A bead that went as far as it has room touches the one that stops it, and so does that one;
// at the ends of the string, or a little way off, it touches none.
func TestTouching(t *testing.T) {
	for i, want := range [][2]int{{sim.NoBead, 1}, {0, 2}, {1, sim.NoBead}} {
		sc, err := Parse("scene", []byte(three))
		require.NoError(t, err)
		s := &sc.Setup
		room := BeadRoom(s, i)
		for end, at := range []float64{room.Min, room.Max} {
			inward := math.Copysign(1e-3, room.Max-at-1e-9)
			if s.Beads[i].At = at; want[end] == sim.NoBead {
				assert.Equal(t, sim.NoBead, Touching(s, i), "the end of the string")
				continue
			}
			assert.Equal(t, want[end], Touching(s, i))
			assert.Equal(t, i, Touching(s, want[end]))
			s.Beads[i].At += inward
			assert.Equal(t, sim.NoBead, Touching(s, i))
		}
	}
}

// What there is room for the loader takes, and a little more it refuses: so with the
// diameter of a bead between two others, and with the length of a string that sags, has
// beads and is looked at where there is none.
func TestTheLoaderTakesWhatThereIsRoomFor(t *testing.T) {
	checks := func(what string, change func(*sim.Setup)) error {
		sc, _, err := Open("middle-of-three")
		require.NoError(t, err, what)
		change(&sc.Setup)
		return sc.Check()
	}
	beads := func(middle, diameter float64) func(*sim.Setup) {
		return func(s *sim.Setup) {
			s.Beads[0].At, s.Beads[0].Diameter = 300, 10
			s.Beads[1].At, s.Beads[1].Diameter = middle, diameter
			s.Beads[2].At, s.Beads[2].Diameter = 340, 14
		}
	}
	diameter, ok := Find("beads[].diameter_mm")
	require.True(t, ok)
	for middle, want := range map[float64]float64{315: 20, 326: 14} { // the nearer neighbour stops it
		var s sim.Setup
		require.NoError(t, checks("small beads", func(set *sim.Setup) { beads(middle, 8)(set); s = set.Clone() }))
		room := diameter.Room(&s, 1, Range{Min: 5, Max: 50})
		assert.InDelta(t, want, room.Max, 1e-9)
		assert.NoError(t, checks("as large as there is room", beads(middle, room.Max)))
		assert.Error(t, checks("larger", beads(middle, room.Max+0.1)))
	}
	for what, change := range map[string]func(*sim.Setup){
		"sag":         func(s *sim.Setup) { s.String.Sag = 280 },
		"a far bead":  func(s *sim.Setup) { s.Beads[2].At = 1100 },
		"a far place": func(s *sim.Setup) { s.Look.Bead, s.Look.At = sim.NoBead, 1150 },
		"to the side": func(s *sim.Setup) { s.String.AnchorSide = 1000 },
		"across":      func(s *sim.Setup) { s.String.NearEnd.X, s.String.AnchorSide = -50, 1000 },
		"upward":      func(s *sim.Setup) { s.String.AnchorHeight = 1000 },
	} {
		var least float64
		require.NoError(t, checks(what, func(s *sim.Setup) { change(s); least = LengthRoom(s).Min }), what)
		length := func(to float64) error {
			return checks(what, func(s *sim.Setup) { change(s); s.String.Length = to })
		}
		assert.NoError(t, length(least), "%s: %v mm", what, least)
		assert.Error(t, length(least-2), "%s: %v mm", what, least)
	}
}
