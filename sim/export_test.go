package sim

// RightInLongest is the side of the right eye's image in the middle of the longest run in
// front that is seen as two: every sample is looked at.
func (v *View) RightInLongest() Side {
	side, longest := Neither, 0.
	k := &v.look
	near, _ := k.sections(k.fixated)
	for i := near.first; i < near.past; i++ {
		first := i
		for i < near.past && k.has(i, splitInTwo) {
			i++
		}
		if i == first {
			continue
		}
		if long := k.across(first, i-1); long > longest {
			longest, side = long, Right
			if m := k.sample((first + i - 1) / 2); m.eye[RightEye].x < m.eye[LeftEye].x {
				side = Left
			}
		}
	}
	return side
}
