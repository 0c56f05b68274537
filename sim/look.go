package sim

import "gonum.org/v1/gonum/spatial/r3"

type lookState struct{}

func abs(a Angle) Angle {
	if a < 0 {
		return -a
	}
	return a
}

// Look fills v with everything seen in the set-up. It is pure: the same set-up
// gives the same view. Called again with the same v it allocates nothing.
func (v *View) Look(s *Setup) {}

// Place is the point of the string at a place, head frame, mm (M10).
func (s *Setup) Place(at float64) r3.Vec { return r3.Vec{} }

// Sight is what eye (RightEye, LeftEye) has of the string at a place. The view
// must have looked.
func (v *View) Sight(eye int, at float64) Sight { return Sight{} }

// SightOf is what eye has of any point p of the head frame; at is the place on
// the string that it belongs to, for the zones nearer and beyond.
func (v *View) SightOf(eye int, p r3.Vec, at float64) Sight { return Sight{} }

// Compare sets the two eyes' sights of one point against each other. Both must
// be Ahead.
func (v *View) Compare(right, left Sight) Disparity { return Disparity{} }
