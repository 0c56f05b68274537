package sim

import "math"

// Every tolerance of the model, and why it is as large as it is.
//
// A double has 53 bits: a number is off by up to 1.1e-16 of itself, u below. Angles are
// of the size of 1: a direction that went through two rotations and a division is off
// by some 10 u, 1e-15; a difference of two arctangents likewise. A place is up to 6000
// mm: off by 7e-13 mm as typed, and where it comes out of an intersection by that over
// the sine of the angle at which the lines meet. Below one part in a thousand of that
// sine, 4′, people see no crossing either; so places are good to 1e-9 mm, and to 1e-6
// for certain.
const (
	// exact is what is nothing but rounding, rad, a thousand times 10 u: a disparity
	// below it is none, strands that stray less from one line lie on it (M11 says to
	// 1e-12), and a cross product smaller than that of its factors has no direction.
	exact = 1e-12

	// midline is how far to a side a direction must lie to belong to a half of the
	// retina, rad (M9): what an eye looks at is off its midline by rounding alone.
	midline = exact

	// still is the change of the mean direction below which it does not move, rad: a
	// step of 1 mm at the far end of the longest string moves it by 1e-6 unless the
	// string points at the eyes.
	still = exact

	// Touching is how far two beads may reach into each other, or a step off the string,
	// and still touch, mm: decimals have no exact binary form, and sums of a few of them
	// below 6000 are off by some 1e-12.
	Touching = 1e-9

	// places is how finely places on the string are refined, mm: a hundred thousandth of
	// the 0.1 mm in which they are given, and far above the 1e-9 that they are good to.
	places = 1e-6

	// slack is how far off an end of the string a place may lie and be at the end, mm:
	// as finely as places are refined.
	slack = places

	// equallyNear is by how much two places may differ and count as equally near, mm:
	// each is refined to places, so their distances differ by a few of it.
	equallyNear = 10 * places

	// joint is how far beyond an end of one of its straight pieces two polylines may
	// meet, as a share of the piece: a meeting at a joint is not lost between two. The
	// share is off by rounding over the sine at which they meet, as above.
	joint = 1e-9

	// beginning is the share of what lies beyond a crossing at which one looks first
	// whether it is seen: at most 6e-3 mm, where no zone and no field has an edge but by
	// design.
	beginning = 1e-6

	// certain is what is left off a limit so that what is held within it is within it
	// when worked out again, as a share.
	certain = 1e-9

	// sideways is the part of a direction that is not upright, of 1, below which it has
	// no side: a million times rounding; an observer stands never so near the zenith.
	sideways = 1e-9

	// mostOff is the largest error of posture that prism dioptres hold without going
	// round, rad: as short of a right angle as leaves 1e8 Δ, which keep 8 of 16 digits.
	// Only targets between the eyes come to it.
	mostOff = Angle(math.Pi/2 - 1e-6)

	// justBefore is what lies so shortly before a change that nothing happens in it, s:
	// far below the grid of time, far above the rounding of a moment in a day.
	justBefore = 1e-6
)
