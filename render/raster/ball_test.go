package raster

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"twincord/render/display"
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
			want += max(0, min(at+fine, s.middle+s.half)-max(at-fine, s.middle-s.half)) / (2 * fine)
		}
		require.InDelta(t, want, k.striped(&n), 1e-9, "seed %d", seed)
	}
}

// Discs are what their edge, spread at every place, says: also where the painter knows without
// looking that there is nothing of one.
func TestDiscsAreSpreadAlike(t *testing.T) {
	within := 0
	for seed := range uint64(20000) {
		r := rand.New(rand.NewPCG(seed, 7))
		n, at, radius := direction(r), direction(r), 0.01+0.5*r.Float64()
		n.z = math.Abs(n.z)
		k := lit{fine: math.Pow(10, -3*r.Float64())}
		got := k.disc(n, at, radius)
		require.Equal(t, display.EdgeOf(radius, k.fine/max(n.z, limb)).At(n.minus(at).length()), got, "seed %d", seed)
		if got > 0 {
			within++
		}
	}
	require.Greater(t, within, 1000)
}

// A mark is looked for wherever it may be: no pixel of a row that shows a place nearer to its
// middle than it reaches is left out, and hardly more is looked at.
func TestMarksAreLookedForWhereTheyAre(t *testing.T) {
	for seed := range uint64(3000) {
		r := rand.New(rand.NewPCG(seed, 5))
		ball := display.Ball{
			Centre:  display.Point{X: 40 * r.Float64(), Y: 40 * r.Float64()},
			RadiusX: 1 + 30*r.Float64(), RadiusY: 1 + 30*r.Float64(), Angle: 7 * r.Float64(), Soft: 9 * r.Float64(),
		}
		var k lit
		k.begin(&ball, 1)
		k.grow(40)
		at, reach, y := direction(r), r.Float64(), r.IntN(40)
		whole := k.within(y, span{r.IntN(20), 20 + r.IntN(21)}, vec{}, k.outer)
		if whole.x0 >= whole.x1 {
			continue
		}
		cov := make([]uint16, 40)
		k.place(y, whole, cov)
		near := k.near(y, whole, at, reach)
		for x := whole.x0; x < whole.x1; x++ {
			off := k.n[x].minus(at)
			if inside := near.x0 <= x && x < near.x1; !inside {
				require.GreaterOrEqual(t, off.length(), reach, "seed %d: at %d, outside %v", seed, x, near)
			} else if k.n[x].z > 0 {
				require.Less(t, math.Hypot(off.x, off.y), reach+max(0, k.outer-1)+1e-9, "seed %d: at %d, within %v", seed, x, near)
			}
		}
	}
}

// Steps of a gradient are what division by their number gives.
func TestStepsAreShares(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 6))
	for range 20000 {
		v, shift := r.Int64N(2*full+1)-full, r.IntN(6)
		require.Equal(t, v/(1<<shift), towards0(v, shift), "%d in %d", v, 1<<shift)
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
