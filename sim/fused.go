package sim

import "math"

// The stretch of string round the crossing that is single by its disparity (M8).

// fusedStretch is the connected stretch round the crossing in which the string is
// single by its disparity alone, clipped to the string (M8).
func (k *lookState) fusedStretch(at float64) (from, to Maybe[float64]) {
	inside := k.rim(at)
	if inside.double() {
		return from, to
	}
	// A sample at the crossing itself says nothing more.
	nearer, beyond := k.indexOf(at-places)-1, k.indexOf(at+places)
	return Some(k.fusedEnd(inside, beyond, nearer, -1)), Some(k.fusedEnd(inside, nearer, beyond, 1))
}

// rim is a place of the string set against the rim of Panum's area: by how much
// its horizontal and its vertical disparity exceed the limits there, in radians,
// negative within them. Where an eye cannot have the place, ahead is false and
// excess is 0.
type rim struct {
	at     float64
	excess [2]float64
	ahead  bool
}

// most is the greater excess; where an eye cannot have the place, it is beyond any
// limit.
func (m rim) most() float64 {
	if !m.ahead {
		return 1
	}
	return max(m.excess[0], m.excess[1])
}

func (m rim) double() bool { return m.most() > 0 }

func (k *lookState) rim(at float64) rim {
	var i pair
	if !k.images(at, &i) {
		return rim{at: at}
	}
	return k.rimOf(at, &i)
}

func (k *lookState) rimOf(at float64, i *pair) rim {
	r, l := &i[RightEye], &i[LeftEye]
	h, v := k.fusion.limits(math.Atan(meanTangents(r, l)))
	return rim{at, [2]float64{math.Abs(i.disparity()) - h, math.Abs(r.beta()-l.beta()) - v}, true}
}

// rimAt is that of a sample; off the string none is ahead.
func (k *lookState) rimAt(n int) rim {
	if n < 0 || n >= k.count {
		return rim{}
	}
	s := k.sample(n)
	if !s.both {
		return rim{at: s.at}
	}
	return k.rimOf(s.at, &s.eye)
}

// excess is by how much the string at a place exceeds Panum's limits, negative
// within them.
func (k *lookState) excess(at float64) float64 {
	m := k.rim(at)
	return m.most()
}

// fusedEnd follows the fused stretch from a place inside it over the samples i,
// i+step, …; behind is the sample on its other side.
func (k *lookState) fusedEnd(inside rim, behind, i, step int) float64 {
	before, next := k.rimAt(behind), k.rimAt(i)
	for ; i >= 0 && i < k.count; i += step {
		after := k.rimAt(i + step)
		outside, found := k.breaks(&before, &inside, &next, &after)
		if !found {
			outside = next
		}
		if outside.double() {
			return root(inside.at, outside.at, inside.most(), outside.most(), k.excess)
		}
		before, inside, next = inside, next, after
	}
	return inside.at
}

// breaks looks for a place between a and b, neighbours on the string, where the
// string is double though by that excess it is single at both. The excess is
// concave round such a place: there a disparity turns, or the gaze passes close by
// and the limits are least. So it stays below the lines through a and b from their
// neighbours on the far sides, and where these are above the limit nowhere in
// between, neither is the excess.
func (k *lookState) breaks(before, a, b, after *rim) (top rim, found bool) {
	if !b.ahead {
		return top, false
	}
	gap, end := math.Abs(b.at-a.at), b.at
	for c := range a.excess {
		rise, fall := slope(before, a, c), slope(after, b, c)
		if a.excess[c] > 0 || b.excess[c] > 0 || rise <= 0 || fall <= 0 ||
			a.excess[c]/rise+b.excess[c]/fall+2*gap <= 0 { // twice: no curve is quite concave
			continue
		}
		at, ok := reaches(a.at, end, func(at float64) float64 { return k.rim(at).excess[c] })
		if m := k.rim(at); ok && m.double() {
			top, found, end = m, true, at // the other excess matters only where it breaks sooner
		}
	}
	return top, found
}

// slope is how fast an excess rises from one place to the next; without the first
// it may be anything.
func slope(from, to *rim, c int) float64 {
	if !from.ahead {
		return math.Inf(1)
	}
	return (to.excess[c] - from.excess[c]) / math.Abs(to.at-from.at)
}

// gradientStep is half the stretch over which the disparity gradient is taken, mm.
const gradientStep = 0.5

// gradient is the disparity gradient at the fixated place (M8): the change of the
// horizontal disparity over that of the mean direction. It does not exist where
// the mean direction stands still.
func (k *lookState) gradient() Maybe[float64] {
	var a, b pair
	if !k.images(math.Max(0, k.fixated-gradientStep), &a) ||
		!k.images(math.Min(k.chord.length, k.fixated+gradientStep), &b) {
		return Maybe[float64]{}
	}
	moved := angleBetween(a.mean(), b.mean())
	if moved < still {
		return Maybe[float64]{}
	}
	return Some(math.Abs(b.disparity()-a.disparity()) / moved)
}
