package sim

import "math"

// Two questions about what there is to be seen in the picture, for words alone. The view
// must have looked; as it may look closer, no other goroutine may ask it meanwhile.

// OneAbove says whether the two strings lie one above the other: over at least 30 arcmin
// of the picture's width both are seen.
func (v *View) OneAbove() bool {
	k := &v.look
	from, to := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for n := range k.count {
		s := &k.samples[n]
		k.sight(s)
		for e := range Eyes {
			if s.seen[e] {
				x := math.Atan(s.eye[e].x)
				from[e], to[e] = min(from[e], x), max(to[e], x)
			}
		}
	}
	return min(to[RightEye], to[LeftEye])-max(from[RightEye], from[LeftEye]) >= longEnough
}

// SuppressionShows says whether anything of the string or of a bead lies where the
// suppressed eye's picture is left out or fainter (M9): else nothing is missing that one
// could see.
func (v *View) SuppressionShows() bool {
	k := &v.look
	for e := range Eyes {
		if v.Now.Suppression.Eye != e.Side() {
			continue
		}
		takes := func(i *point, at float64) bool {
			return k.eyes[e].inField(i) && k.eyes[e].weight.takes(i, at, k.fixated)
		}
		for n := range k.count {
			if s := k.sample(n); takes(&s.eye[e], s.at) {
				return true
			}
		}
		for i := range v.Now.Beads {
			b := &v.Now.Beads[i]
			at := b.At
			if b.Name == v.Account.LookedAt {
				at = k.fixated // it belongs to the fixated place
			}
			var image point
			k.eyes[e].see(k.chord.point(b.At), &image)
			if takes(&image, at) {
				return true
			}
		}
	}
	return false
}
