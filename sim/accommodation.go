package sim

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// What a point asks of accommodation, what the eyes answer, and how sharp it is (M13, M17).

// driven is what a point asks of the accommodation of the eye that drives it, D: the
// one that fixes, or where both do, of the eyes that see the target the one of which
// it asks less (M13; row C21); one of them does, as a suppression takes two open eyes.
// It may be below zero.
func (k *stance) driven(fixing Side, p r3.Vec, sees [2]bool) float64 {
	right, left := k.eyes[RightEye].demand(p), k.eyes[LeftEye].demand(p)
	switch {
	case fixing == Right, fixing == Both && !sees[LeftEye]:
		return right
	case fixing == Left, fixing == Both && !sees[RightEye]:
		return left
	}
	return math.Min(right, left)
}

// seeTarget says which eyes see the target, by weight alone.
func (k *stance) seeTarget() (sees [2]bool) {
	for i := range Eyes {
		e := &k.eyes[i]
		sees[i] = e.weight.sees(&point{q: e.toward(k.target)}, k.fixated, k.fixated)
	}
	return sees
}

// demand is what a point asks of the eye's accommodation through what stands before
// it: 1/d + R − L, d from the spectacle plane (M13).
func (e *eye) demand(p r3.Vec) float64 { return vergence(p) + e.refraction - e.lens }

// leastDistance is the shortest distance from the eyes that the model works with,
// mm, so that its reciprocals stay finite (M13).
const leastDistance = 1

// vergence is the vergence of light from a point at the spectacle plane, D (M13).
func vergence(p r3.Vec) float64 {
	return 1000 / math.Max(r3.Norm(p)-SpectaclePlane, leastDistance)
}

// nearDemand is the accommodation demand at which the lag is the typed one, D (M17).
const nearDemand = 2.5

// response is the accommodation of both eyes where the one that drives it is asked
// for demand (M17), D.
func (s *Setup) response(demand float64) float64 {
	if s.Posture.Accommodation.OK {
		return float64(s.Posture.Accommodation.Value)
	}
	_, mean, _ := Amplitude(s.Patient.Age)
	amplitude := float64(s.Patient.Amplitude.Or(mean))
	a := math.Max(0, demand)
	return math.Max(0, math.Min(amplitude, a-float64(s.Patient.Lag)*math.Min(1, a/nearDemand)))
}

// blur is the angular diameter of the blur disc of a point in one eye (M17).
func (k *lookState) blur(e *eye, p r3.Vec) Angle {
	return Angle(k.pupil * math.Abs(e.demand(p)-k.response))
}

// The blur discs up to which a place is clear and soft (M17), modelling choices: at a
// pupil of 3 mm clear is about ±0.5 D.
const (
	clearUpTo = 5 * math.Pi / (180 * 60)
	softUpTo  = 15 * math.Pi / (180 * 60)
)

// ClarityOf is the class of a blur disc (M17).
func ClarityOf(blur Angle) Clarity {
	switch {
	case blur <= clearUpTo:
		return ClarityClear
	case blur <= softUpTo:
		return ClaritySoft
	}
	return ClarityBlurred
}

// clarity is how sharp a point is to the clearest of the eyes that see it, and
// whether another one that does has it in another class.
func (k *lookState) clarity(p r3.Vec, seen [2]bool) (c Clarity, uneven bool) {
	right, left := k.blur(&k.eyes[RightEye], p), k.blur(&k.eyes[LeftEye], p)
	switch {
	case seen[RightEye] && seen[LeftEye]:
		c = ClarityOf(min(right, left))
		return c, c != ClarityOf(max(right, left))
	case seen[RightEye]:
		return ClarityOf(right), false
	case seen[LeftEye]:
		return ClarityOf(left), false
	}
	return ClarityNone, false
}
