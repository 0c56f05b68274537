package sim

// InFront is the string nearer than the fixated place, eye by eye: what a cover
// before one eye would take away there.
type InFront struct {
	// Seen says which eyes (RightEye, LeftEye) see a run of it that is long enough to
	// be noticed (M10).
	Seen [2]bool
	// Split is a place in the middle of the longest run that is seen as two strings,
	// mm; it exists only where the section shows two (M10).
	Split Maybe[float64]
}

// InFront gives the string in front of the fixated place. The view must have looked; as
// it may look closer, no other goroutine may ask it meanwhile.
func (v *View) InFront() InFront {
	k := &v.look
	near, _ := k.sections(k.fixated)
	f := InFront{Seen: [2]bool{k.run(near, seenByRight), k.run(near, seenByLeft)}}
	if v.Strings.Near != 2 {
		return f
	}
	longest := -1.
	for i := near.first; i < near.past; i++ {
		if !k.has(i, splitInTwo) {
			continue
		}
		j := i
		for j+1 < near.past && k.has(j+1, splitInTwo) {
			j++
		}
		if long := k.across(i, j); long > longest {
			// Samples are about even along the string as the eyes see it.
			longest, f.Split = long, Some(k.samples[(i+j)/2].at)
		}
		i = j
	}
	return f
}

// across is the angle between two samples in the eye that sees the larger one.
func (k *lookState) across(i, j int) (long float64) {
	for e := range Eyes {
		long = max(long, angleBetween(k.samples[i].eye[e].q, k.samples[j].eye[e].q))
	}
	return long
}
