package sim

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Runs of string that share a property and are long enough to be noticed, and what a
// section shows (M10).

// longEnough is the length of a run of string, along the strand, that is noticed
// (M10, a modelling choice).
const longEnough = 30 * math.Pi / (180 * 60)

// longTangent2 is the squared tangent of longEnough.
var longTangent2 = math.Pow(math.Tan(longEnough), 2)

// what is a property of a sample of which runs are looked for.
type what int

const (
	seenByRight    what = what(RightEye) // seen by the right eye, whatever the left one does
	seenByLeft     what = what(LeftEye)
	doubledInRight what = 2 + what(RightEye) // doubled, the run measured in the right eye
	doubledInLeft  what = 2 + what(LeftEye)
	splitInTwo     what = 4
)

// has says whether a sample of the walk has a property.
func (k *lookState) has(n int, w what) bool {
	s := &k.samples[n]
	if w == splitInTwo {
		if k.double(s); !s.doubled {
			return false
		}
		return k.split(s, k.masksOf(n/block))
	}
	return k.finds(s, w)
}

// finds is the same of any sample.
func (k *lookState) finds(s *sample, w what) bool {
	switch w {
	case splitInTwo:
		return k.split(s, &everywhere)
	case doubledInRight, doubledInLeft:
		k.double(s)
		return s.doubled
	}
	k.sight(s)
	return s.seen[w]
}

// never says whether no sample has a property, as what it takes an eye for is all left
// out.
func (k *lookState) never(w what) bool {
	if w == seenByRight || w == seenByLeft {
		return k.eyes[w].weight.blind()
	}
	return k.eyes[RightEye].weight.blind() || k.eyes[LeftEye].weight.blind()
}

// section is a part of the string: the samples from index first to before index
// past. Edge is the place where it ends on the side of the other section, which may
// lie between samples.
type section struct {
	first, past int
	edge        float64
}

// sections are those nearer and farther than a place.
func (k *lookState) sections(at float64) (near, far section) {
	past := k.indexOf(at)
	first := past
	for first < k.count && k.samples[first].at <= at {
		first++
	}
	return section{0, past, at}, section{first, k.count, at}
}

// strings counts the strings that a section shows (M10): 2 if a long enough run
// of it is split, 1 if either eye sees a long enough run, else 0.
func (k *lookState) strings(c section) int {
	switch {
	case k.run(c, splitInTwo):
		return 2
	case k.run(c, seenByRight), k.run(c, seenByLeft):
		return 1
	}
	return 0
}

// overlaid says whether a section that does not show two strings would, did they not
// lie on one another (M10).
func (k *lookState) overlaid(c section) bool {
	return k.run(c, doubledInRight) && k.run(c, doubledInLeft)
}

// run says whether a section has a run of samples with a property that is long
// enough. It looks no farther than it has to.
func (k *lookState) run(c section, w what) bool {
	if k.never(w) {
		return false
	}
	for i := c.first; i < c.past; i++ {
		if !k.has(i, w) {
			continue
		}
		j := i
		for j+1 < c.past && k.has(j+1, w) {
			j++
			if k.farApart(i, j, w) {
				return true // no path is shorter than that
			}
		}
		if k.longRun(i, j, c, w) {
			return true
		}
		i = j
	}
	return false
}

// farApart says whether two samples are as far apart as a run is long enough.
func (k *lookState) farApart(i, j int, w what) bool {
	a, b := &k.samples[i], &k.samples[j]
	for eye := range Eyes {
		if w.in(eye) && wider(a.eye[eye].q, b.eye[eye].q, longTangent2) {
			return true
		}
	}
	return false
}

// wider says whether the angle between two directions is at least one whose squared
// tangent is given: angleBetween without the arctangent.
func wider(a, b r3.Vec, tangent2 float64) bool {
	across, along := r3.Norm2(r3.Cross(a, b)), r3.Dot(a, b)
	return along < 0 || across > 0 && across >= tangent2*along*along
}

// longRun says whether the run of samples i to j, which are not far apart, is long
// enough. Its ends are looked for: they decide.
func (k *lookState) longRun(i, j int, c section, w what) bool {
	a, b := &k.samples[i], &k.samples[j]
	from, to := *a, *b
	switch {
	case i > c.first:
		k.refine(&from, k.samples[i-1].at, w)
	case c.edge < a.at:
		k.refine(&from, c.edge, w)
	}
	switch {
	case j+1 < c.past:
		k.refine(&to, k.samples[j+1].at, w)
	case c.edge > b.at:
		k.refine(&to, c.edge, w)
	}
	for eye := range Eyes {
		if !w.in(eye) {
			continue
		}
		path := angleBetween(from.eye[eye].q, a.eye[eye].q) + angleBetween(b.eye[eye].q, to.eye[eye].q)
		for n := i; n < j; n++ {
			path += angleBetween(k.samples[n].eye[eye].q, k.samples[n+1].eye[eye].q)
		}
		if path >= longEnough {
			return true
		}
	}
	return false
}

// in says whether the length of such a run counts in an eye: a split run in the
// longer of both, what one eye sees and what is doubled in one in that eye.
func (w what) in(eye Eye) bool { return w == splitInTwo || Eye(w)%2 == eye }

// refine moves s, which has w, toward the place out, which has not or is the end
// of the section, as far as w goes.
func (k *lookState) refine(s *sample, out float64, w what) {
	reached := func(at float64) bool {
		t := sample{at: at}
		ok := k.finds(&t, w)
		if ok {
			*s = t
		}
		return ok
	}
	if !reached(out) {
		edge(s.at, out, reached)
	}
}
