package raster

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// direction is a random unit vector.
func direction(r *rand.Rand) vec {
	return vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}.unit()
}

// Stripes are what their edges, spread at every place, say: also where the painter knows
// without looking.
func TestStripesAreSpreadAlike(t *testing.T) {
	for seed := range uint64(20000) {
		r := rand.New(rand.NewPCG(seed, 3))
		n := direction(r)
		n.z = math.Abs(n.z)
		k := lit{pole: direction(r), fine: math.Pow(10, -3*r.Float64()), stripes: bandStripes[:]}
		if seed%2 == 0 {
			k.stripes = ringStripes[:]
		}
		z := max(n.z, limb)
		across := vec{k.pole.x*z - k.pole.z*n.x, k.pole.y*z - k.pole.z*n.y, 0}
		fine := k.fine * max(across.length()/z, limb)
		want, at := 0.0, math.Abs(n.dot(k.pole))
		for _, s := range k.stripes {
			want += max(0, min(at+fine, s.to)-max(at-fine, s.from)) / (2 * fine)
		}
		require.InDelta(t, want, k.striped(n), 1e-9, "seed %d", seed)
	}
}

// Inks are shaded and mixed as numbers are, to a sixteenth of a step of 1/255.
func TestInksAreShadedAsNumbersAre(t *testing.T) {
	lanesOf := func(k ink) (v [3]float64) {
		for i := range v {
			v[i] = float64(k >> (16 * i) & 0xffff)
		}
		return v
	}
	for seed := range uint64(20000) {
		r := rand.New(rand.NewPCG(seed, 4))
		k, to := newInk(r.Float64(), r.Float64(), r.Float64()), newInk(r.Float64(), r.Float64(), r.Float64())
		shade, share := 1.2*r.Float64(), r.Float64()
		dark, mixed := lanesOf(k.times(shade)), lanesOf(k.towards(to, share))
		for i, a := range lanesOf(k) {
			require.InDelta(t, min(a*shade, full), dark[i], 16, "seed %d: lane %d times %v", seed, i, shade)
			require.InDelta(t, a+share*(lanesOf(to)[i]-a), mixed[i], 16, "seed %d: lane %d", seed, i)
		}
		require.Equal(t, ink(full), k.times(shade)>>48, "seed %d", seed)
		require.Equal(t, ink(full), k.towards(to, share)>>48, "seed %d", seed)
	}
}
