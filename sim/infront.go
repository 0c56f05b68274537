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

// InFront gives the string in front of the fixated place. The view must have looked.
func (v *View) InFront() InFront {
	k := &v.look
	past := k.indexOf(k.fixated)
	f := InFront{Seen: [2]bool{
		k.run(0, past, k.fixated, seenByRight),
		k.run(0, past, k.fixated, seenByLeft),
	}}
	if v.Strings.Near != 2 {
		return f
	}
	longest := -1.
	for i := 0; i < past; i++ {
		if !k.samples[i].two {
			continue
		}
		j := i
		for j+1 < past && k.samples[j+1].two {
			j++
		}
		if long, middle := k.path(i, j); long > longest {
			longest, f.Split = long, Some(middle)
		}
		i = j
	}
	return f
}

// path is the length of the string between two samples in the eye that sees the
// longer one, and the sample half-way along it, mm.
func (k *lookState) path(i, j int) (long, middle float64) {
	middle = k.samples[i].at
	for e := range k.eyes {
		step := func(n int) float64 { return angleBetween(k.samples[n].eye[e].q, k.samples[n+1].eye[e].q) }
		whole := 0.
		for n := i; n < j; n++ {
			whole += step(n)
		}
		if whole <= long {
			continue
		}
		long = whole
		n, gone := i, 0.
		for n < j && gone < whole/2 {
			gone += step(n)
			n++
		}
		middle = k.samples[n].at
	}
	return long, middle
}
