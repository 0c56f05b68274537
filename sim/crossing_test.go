package sim_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"twincord/sim"
)

// TestCurvesGoOnAsLinesDo: a strand that is all but straight crosses the other where
// a straight one does, on the string or beyond either end of it (M11). The two
// are found by different routes.
func TestCurvesGoOnAsLinesDo(t *testing.T) {
	fewer(t)
	beyond := 0
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		s.String.Sag, s.Posture.Anomaly = 0, 0
		var straight, curved sim.View
		straight.Look(&s)
		w := newWitness(&s)
		m, ok := w.straightMeeting()
		if !ok || m.steep < 1e-4 {
			return
		}
		length := s.String.Length
		if rapid.Bool().Draw(t, "by sag") || s.Posture.Fixing == sim.Both {
			s.String.Sag = 1e-7
		} else {
			s.Posture.Anomaly = 1e-8
		}
		curved.Look(&s)
		compare := func(what string, place float64, a, b sim.Maybe[float64]) {
			if math.Abs(place) < 0.1 || math.Abs(place-length) < 0.1 {
				return // at an end: on the string or just off it
			}
			require.Equal(t, a.OK, b.OK, "%s %v: %v, %v\n%+v", what, place, a, b, s)
			assert.InDelta(t, a.Value, b.Value, placeTolerance, "%s\n%+v", what, s)
		}
		compare("right", m.right, straight.Crossing.RightAt, curved.Crossing.RightAt)
		compare("left", m.left, straight.Crossing.LeftAt, curved.Crossing.LeftAt)
		if straight.Crossing.RightAt.OK != straight.Crossing.LeftAt.OK {
			beyond++
		}
	})
	assert.Positive(t, beyond, "some cross beyond an end of one strand")
}

// TestOneStrandBeyondItsEnd: where the strands cross off one eye's string, the other
// eye has its place all the same, and the picture has none.
func TestOneStrandBeyondItsEnd(t *testing.T) {
	for name, s := range strandsBeyondAnEnd() {
		t.Run(name, func(t *testing.T) {
			var v sim.View
			v.Look(&s)
			assert.NotEqual(t, v.Crossing.RightAt.OK, v.Crossing.LeftAt.OK, "%+v", v.Crossing)
			assert.False(t, v.Crossing.Picture.OK)
		})
	}
}

func strandsBeyondAnEnd() map[string]sim.Setup {
	slack := func(sag float64, p sim.Posture) sim.Setup {
		return with(threeBeads(), func(s *sim.Setup) {
			p.PrismMet = 1
			s.String.Sag, s.Posture = sag, p
		})
	}
	return map[string]sim.Setup{
		"slack, past the far end":    slack(20, sim.Posture{Deviation: -5, Vertical: 5, Fixing: sim.Left}),
		"slack, past the near end":   slack(20, sim.Posture{Deviation: 80, Vertical: 30, Fixing: sim.Both}),
		"anomaly, past the far end":  slack(0, sim.Posture{Deviation: -9, Anomaly: -3, Vertical: 2, Fixing: sim.Right}),
		"anomaly, past the near end": slack(0, sim.Posture{Deviation: 75, Anomaly: 4, Vertical: 30, Fixing: sim.Right}),
	}
}

// TestCurvesCrossAsLinesDo follows the crossing from beyond the far end of the string to
// before its nose: a strand that is all but straight crosses the other where a straight one
// does, at every step, on the strings and where it is off one of them.
func TestCurvesCrossAsLinesDo(t *testing.T) {
	places := map[[2]bool]int{}
	for _, fixing := range []sim.Side{sim.Both, sim.Right} {
		for e := sim.Prism(-14); e < 110; e += 0.5 {
			s := threeBeads()
			s.Posture.Deviation, s.Posture.Vertical, s.Posture.Fixing = e, 2, fixing
			straight := look(s).Crossing
			if fixing == sim.Both {
				s.String.Sag = 1e-7
			} else {
				s.Posture.Anomaly = 1e-8
			}
			curved := look(s).Crossing
			require.Equal(t, straight.RightAt.OK, curved.RightAt.OK, "%v Δ", e)
			require.Equal(t, straight.LeftAt.OK, curved.LeftAt.OK, "%v Δ", e)
			assert.InDelta(t, straight.RightAt.Value, curved.RightAt.Value, 1e-4, "%v Δ", e)
			assert.InDelta(t, straight.LeftAt.Value, curved.LeftAt.Value, 1e-4, "%v Δ", e)
			places[[2]bool{straight.RightAt.OK, straight.LeftAt.OK}]++
		}
	}
	assert.Positive(t, places[[2]bool{true, true}])
	assert.Positive(t, places[[2]bool{false, false}])
	assert.Positive(t, places[[2]bool{true, false}]+places[[2]bool{false, true}])
}

// TestNoDisparityIsFoundWhereItIsTouched: on a string that runs aside, δh grows and falls
// again. With more eso its two zeros come together until it touches zero at its greatest,
// and then there is none; the crossing is there as long as they are, however close (M11).
func TestNoDisparityIsFoundWhereItIsTouched(t *testing.T) {
	for i := range 6 {
		lookedAt, side := 54., 56+float64(i) // beyond both zeros; how they lie to what is sampled
		if i%2 == 1 {
			lookedAt = 14 // before both
		}
		of := func(e float64) (v *sim.View, most, where float64) {
			s := sim.Default()
			s.String.Length, s.String.NearEnd, s.String.AnchorSide = 1200, r3.Vec{X: side, Y: 37}, -751
			s.Look.At, s.Posture.Deviation = lookedAt, sim.Prism(e)
			v = look(s)
			disparity := func(at float64) float64 {
				return float64(v.Compare(v.Sight(sim.RightEye, at), v.Sight(sim.LeftEye, at)).H)
			}
			low, high := 20., 60.
			for high-low > 1e-6 {
				a, b := low+(high-low)/3, high-(high-low)/3
				if disparity(a) < disparity(b) {
					low = a
				} else {
					high = b
				}
			}
			return v, disparity(low), low
		}
		some, none := -30., 30.
		for none-some > 1e-9 {
			if middle := (some + none) / 2; func() bool { _, most, _ := of(middle); return most > 0 }() {
				some = middle
			} else {
				none = middle
			}
		}
		for _, off := range []float64{1e-6, 1e-5, 1e-4, 1e-3, 1e-2} {
			v, _, where := of(some - off)
			if assert.True(t, v.Crossing.At.OK, "%v Δ before", off) {
				assert.InDelta(t, where, v.Crossing.At.Value, 60*math.Sqrt(off), "%v Δ before", off)
			}
			v, _, _ = of(some + off)
			assert.False(t, v.Crossing.At.OK, "%v Δ past", off)
		}
	}
}

// TestBeyondAnEndByAQuadratic: a slack string is a parabola, and goes on beyond an end as
// its tangent, which an eye sees as a straight line of the picture. The other strand meets
// that line where the parabola passes a plane through its own eye: at the roots of a
// quadratic. Of the meetings beyond an end the one nearest to the target counts, and none
// where either strand has one equally near (M11).
func TestBeyondAnEndByAQuadratic(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 0))
	within := func(most float64) float64 { return most * (2*r.Float64() - 1) }
	orNone := func(x float64) float64 { return x * float64(r.IntN(2)) }
	found := map[[2]bool]int{}
	for range 1000 {
		s := sim.Default()
		s.String.Length, s.String.Sag = 1200, 5+295*r.Float64()
		s.String.NearEnd = r3.Vec{X: orNone(within(40)), Y: 20 + 60*r.Float64(), Z: within(70)}
		s.String.AnchorSide, s.String.AnchorHeight = orNone(within(1100)), orNone(within(250))
		s.Look.At = 1200 * math.Pow(r.Float64(), 2) // near ones turn the eyes from an end
		s.Posture = sim.Posture{
			Deviation: sim.Prism(within(100)), Vertical: sim.Prism(orNone(within(30))), Cyclo: sim.Degrees(orNone(within(15))),
			Fixing: []sim.Side{sim.Both, sim.Right, sim.Left}[r.IntN(3)], PrismMet: 1,
		}
		got := look(s).Crossing
		if got.Picture.OK {
			continue // they meet on the string: that counts
		}
		right, left, sure := beyondByQuadratic(&s)
		if !sure {
			continue
		}
		require.Equal(t, right.OK, got.RightAt.OK, "%+v", s)
		require.Equal(t, left.OK, got.LeftAt.OK, "%+v", s)
		assert.InDelta(t, right.Value, got.RightAt.Value, 1e-4, "%+v", s)
		assert.InDelta(t, left.Value, got.LeftAt.Value, 1e-4, "%+v", s)
		found[[2]bool{right.OK, left.OK}]++
	}
	for _, has := range [][2]bool{{false, false}, {true, false}, {false, true}} {
		assert.Greater(t, found[has], 20, "%v", has)
	}
}

// beyondByQuadratic is the place that an eye has of the nearest meeting with the other
// eye's strand beyond its end. It is not sure where a change too small to be seen, or to be
// sampled, would make it another one.
func beyondByQuadratic(s *sim.Setup) (right, left sim.Maybe[float64], sure bool) {
	const (
		atAnEnd = 0.1 // mm: on the string or beyond it
		aside   = 120 // mm: two roots between two samples are none
	)
	w := placeEyes(s)
	length, sag := s.String.Length, 4*s.String.Sag/s.String.Length
	var nearest [2]sim.Maybe[float64] // by the eye whose strand is on the string there
	sure = true
	for e := range sim.Eyes {
		own, other := w.eyes[e].own, e.Other()
		for _, end := range []float64{0, length} {
			out := math.Copysign(1, end-1)
			tangent := r3.Sub(r3.Scale(1/length, r3.Sub(w.far, w.near)), r3.Vec{Z: -out * sag})
			tip := own(w.place(end))
			if tip.Y <= 0 {
				continue // behind the eye it goes on nowhere
			}
			along := r3.Sub(own(r3.Add(w.place(end), tangent)), tip)
			// The other eye's string, in its frame: q0 + q1·s + q2·s².
			own := w.eyes[other].own
			q0 := own(w.near)
			drop := r3.Scale(sag, r3.Sub(own(r3.Add(w.near, r3.Vec{Z: 1})), q0))
			q1 := r3.Sub(r3.Scale(1/length, r3.Sub(own(w.far), q0)), drop)
			q2 := r3.Scale(1/length, drop)
			plane := r3.Unit(r3.Cross(tip, along))
			a, b, c := r3.Dot(q2, plane), r3.Dot(q1, plane), r3.Dot(q0, plane)
			root := math.Sqrt(b*b - 4*a*c) // NaN where there is none
			first, second := (-b-root)/(2*a), (-b+root)/(2*a)
			if math.Abs(first-second) < aside || math.Abs(b*b-4*a*c) < 1e-12 {
				sure = false
			}
			for _, at := range []float64{first, second} {
				q := r3.Add(q0, r3.Add(r3.Scale(at, q1), r3.Scale(at*at, q2)))
				x, y := q.X/q.Y-tip.X/tip.Y, q.Z/q.Y-tip.Z/tip.Y
				dx := (along.X*tip.Y - tip.X*along.Y) / (tip.Y * tip.Y)
				dy := (along.Z*tip.Y - tip.Z*along.Y) / (tip.Y * tip.Y)
				beyond := out * (x*dx + y*dy) / (dx*dx + dy*dy)
				if math.IsNaN(at) || at < -atAnEnd || at > length+atAnEnd || q.Y < 0 || beyond < -atAnEnd {
					continue
				}
				if at < atAnEnd || at > length-atAnEnd || beyond < atAnEnd || q.Y < atAnEnd {
					sure = false
				}
				far := math.Abs(at - w.at)
				if n := nearest[other]; !n.OK || far < math.Abs(n.Value-w.at) {
					nearest[other] = sim.Some(at)
				}
			}
		}
	}
	right, left = nearest[sim.RightEye], nearest[sim.LeftEye]
	if right.OK && left.OK {
		switch apart := math.Abs(right.Value-w.at) - math.Abs(left.Value-w.at); {
		case math.Abs(apart) < 1e-8:
			right, left = sim.Maybe[float64]{}, sim.Maybe[float64]{}
		case math.Abs(apart) < 1:
			sure = false
		case apart < 0:
			left = sim.Maybe[float64]{}
		default:
			right = sim.Maybe[float64]{}
		}
	}
	return right, left, sure
}
