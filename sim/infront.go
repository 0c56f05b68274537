package sim

import "sort"

// InFront is the string nearer than the fixated place, eye by eye: what a cover
// before one eye would take away there.
type InFront struct {
	// Seen says which eyes (RightEye, LeftEye) see a run of it that is long enough to
	// be noticed (M10).
	Seen [2]bool
	// Right is the side on which the right eye has its string, in the middle of the
	// longest run that is seen as two strings; Neither unless the section shows two (M10).
	Right Side
}

// InFront gives the string in front of the fixated place. The view must have looked; as
// it may look closer, no other goroutine may ask it meanwhile.
func (v *View) InFront() InFront {
	k := &v.look
	near, _ := k.sections(k.fixated)
	f := InFront{Seen: [2]bool{k.run(near, seenByRight), k.run(near, seenByLeft)}, Right: Neither}
	if v.Strings.Near == 2 {
		f.Right = k.rightSide(near)
	}
	return f
}

// rightSide is the side of the right eye's image in the middle of the longest run of a
// section that is seen as two. Which run that is matters only where the images change
// sides; and of a straight string the runs beyond such a change not even then, if they
// have less room together than a run before it takes.
func (k *lookState) rightSide(c section) Side {
	if !k.swap.OK {
		k.swap = Some(k.swapIn(c))
	}
	side, swap := k.swap.Value.side, k.swap.Value.at
	if swap == c.past {
		return side
	}
	if k.line && (!k.has(swap-1, splitInTwo) || !k.has(swap, splitInTwo)) && k.splitOver(c.first, swap, k.across(swap, c.past-1)) {
		return side
	}
	i, j := k.longestSplit(c)
	return k.samples[(i+j)/2].rightSide()
}

// swap is the side of the right eye's image at the near end of a section, and the first
// sample at which it is the other one: past the section where there is none. It does not
// depend on Panum's area.
type swap struct {
	side Side
	at   int
}

func (k *lookState) swapIn(c section) swap {
	side := Neither
	for i := c.first; i < c.past; i++ {
		s := k.sample(i)
		if !s.both {
			continue
		}
		switch now := s.rightSide(); {
		case side == Neither:
			side = now
		case side != now:
			return swap{side, i}
		}
	}
	return swap{side, c.past}
}

// rightSide is the side of the right eye's image of a sample that both eyes have.
func (s *sample) rightSide() Side {
	if s.eye[RightEye].x < s.eye[LeftEye].x {
		return Left
	}
	return Right
}

// splitOver says whether the first run seen as two of a straight string, among the samples
// from first to before past, is longer than room: the angle only grows along it.
func (k *lookState) splitOver(first, past int, room float64) bool {
	for first < past && !k.has(first, splitInTwo) {
		first++
	}
	over := first + sort.Search(past-first, func(n int) bool { return k.across(first, first+n) > room })
	if over >= past {
		return false
	}
	for i := first; i <= over; i++ {
		if !k.has(i, splitInTwo) {
			return false
		}
	}
	return true
}

// longestSplit is the first and the last sample of the longest run of a section that is
// seen as two, by the angle between them. There must be one.
func (k *lookState) longestSplit(c section) (from, to int) {
	longest := -1.
	for i := c.first; i < c.past; i++ {
		if !k.has(i, splitInTwo) {
			continue
		}
		j := i
		for j+1 < c.past && k.has(j+1, splitInTwo) {
			j++
		}
		// Samples are about even along the string as the eyes see it.
		if long := k.across(i, j); long > longest {
			from, to, longest = i, j, long
		}
		i = j
	}
	return from, to
}

// across is the angle between two samples in the eye that sees the larger one.
func (k *lookState) across(i, j int) (long float64) {
	a, b := k.sample(i), k.sample(j)
	for e := range Eyes {
		long = max(long, angleBetween(a.eye[e].q, b.eye[e].q))
	}
	return long
}
