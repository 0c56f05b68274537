package desk

import (
	"math"

	"twincord/render"
	"twincord/sim"
)

// The scale of the string bar is render.BarPlace. Infinity is at 1; eyes that part meet
// beyond it, so that one formula serves every vergence.
const (
	barHalf = render.BarHalf
	barEnd  = 1.12 // where the bar ends: nearly 3 Δ of divergence
)

// distanceX is the place on the scale of a distance from the eyes, mm.
func distanceX(d float64) float64 { return render.BarPlace(d) }

// xDistance is the inverse of distanceX, x below 1.
func xDistance(x float64) float64 { return barHalf * x / (1 - x) }

// vergenceX is the place on the scale where eyes pd apart meet at the angle g
// between their axes: the distance is (pd/2)/tan(g/2), M11's closed form, and its
// inverse w runs through 0 where the axes are parallel. It is at most limit, and
// limit too where the eyes part so far that the scale has no place for them.
func vergenceX(g sim.Angle, pd, limit float64) float64 {
	w := 2 * math.Tan(float64(g)/2) / pd
	if q := 1 + barHalf*w; q*limit > 1 {
		return 1 / q
	}
	return limit
}

// xVergence is the inverse of vergenceX, x above 0.
func xVergence(x, pd float64) sim.Angle {
	return sim.Angle(2 * math.Atan(pd/2*(1/x-1)/barHalf))
}

// eyesFrom is the inverse of render.FromNose.
func eyesFrom(s *sim.Setup, at float64) float64 {
	if over := at - s.String.Length; over > 0 {
		return render.FromEyes(s, s.String.Length) + over
	}
	return render.FromEyes(s, at)
}
