package sim

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"
)

// samples is how many places along the string a look samples in each eye; ends of
// runs, the crossing and the fused stretch are refined from there.
const samples = 256

// longEnough is the length of a run of string, along the strand, that is noticed
// (M10, a modelling choice).
const longEnough = 30 * math.Pi / (180 * 60)

// longTangent2 is the squared tangent of longEnough.
var longTangent2 = math.Pow(math.Tan(longEnough), 2)

// chord is the straight line of the string and its sag, ready to be walked (M10).
type chord struct {
	near, along r3.Vec // near end; unit step toward the anchor
	length      float64
	sag         float64
}

func (s *String) chord() chord {
	d := r3.Vec{X: s.AnchorSide - s.NearEnd.X, Z: s.AnchorHeight - s.NearEnd.Z}
	// A length that cannot reach the anchor ends beside the near end, as near to
	// the anchor as it comes.
	d.Y = math.Sqrt(math.Max(0, s.Length*s.Length-d.X*d.X-d.Z*d.Z))
	c := chord{near: s.NearEnd, length: s.Length, sag: s.Sag}
	if n := r3.Norm(d); n > 0 {
		c.along = r3.Scale(1/n, d)
	}
	return c
}

// point is the point of the string at a place.
func (c *chord) point(at float64) r3.Vec {
	p := r3.Add(c.near, r3.Scale(at, c.along))
	if c.sag != 0 && c.length > 0 {
		t := at / c.length
		p.Z -= 4 * c.sag * t * (1 - t)
	}
	return p
}

// Place is the point of the string at a place in mm along the chord from the near
// end, head frame, mm (M10). Places off the string go on along the chord.
func (s *Setup) Place(at float64) r3.Vec {
	c := s.String.chord()
	return c.point(at)
}

// sample is the string at one place, in both eyes. All but the place is worked out
// when it is asked for: a few samples decide most of what is seen of a string.
type sample struct {
	at    float64
	known known
	eye   pair
	both  bool    // ahead of both eyes
	seen  [2]bool // by the string's own rules (M10)

	width    float64 // of a line there, at least; where both eyes see it
	separate bool    // both eyes see it, and the two images are apart from each other
	doubled  bool    // so, and not single
	apart    bool    // either image is apart from the other eye's whole strand; where doubled
}

// known tells what is worked out of a sample; of each but the place it takes what
// stands above it.
type known uint8

const (
	knownImages  known = 1 << iota // eye, both
	knownSeen                      // seen, width, separate
	knownDoubled                   // doubled; this alone depends on Panum's area
	knownApart                     // apart
)

// spare is how many places are sampled besides those of the walk: the fixated one,
// and those where a strand comes from behind an eye or goes there.
const spare = 1 + 8

// walk samples the string at even steps of s/(s + d), d the distance of the near
// end, and at the fixated place: dense near the nose, where a step covers most.
func (k *lookState) walk() {
	d := math.Max(1, r3.Norm(k.chord.near))
	end := k.chord.length / (k.chord.length + d)
	k.count, k.masked, k.swap = 0, 0, Maybe[swap]{}
	onString := k.fixated > 0 && k.fixated < k.chord.length
	for i := range samples {
		u := end * float64(i) / (samples - 1)
		at := d * u / (1 - u)
		if i == samples-1 {
			at = k.chord.length
		}
		if onString && at >= k.fixated {
			onString = false
			if at > k.fixated {
				k.add(k.fixated)
			}
		}
		k.add(at)
	}
	k.layStrands()
}

// add puts a sample at a place. Of a strand that may be curved its image is needed at
// once: the strand is laid through it.
func (k *lookState) add(at float64) {
	if !k.unbent {
		k.addImage(at)
		return
	}
	s := &k.samples[k.count]
	s.at, s.known = at, 0
	k.count++
}

func (k *lookState) addImage(at float64) {
	s := k.put(at)
	if k.count > 0 {
		for e := range Eyes {
			if s.eye[e].ahead != k.samples[k.count-1].eye[e].ahead && k.count+2 < len(k.samples) {
				k.addHorizon(e, at)
				s = k.put(at)
			}
		}
	}
	k.count++
}

// put makes the next sample one at a place, with its images.
func (k *lookState) put(at float64) *sample {
	s := &k.samples[k.count]
	s.at, s.known = at, 0
	k.project(s)
	return s
}

// addHorizon samples the string where eye e has it only just ahead, between the
// last sample and a place, so that a strand ends there wherever else it is sampled.
func (k *lookState) addHorizon(e Eye, at float64) {
	in, out := k.samples[k.count-1].at, at
	ahead := k.samples[k.count-1].eye[e].ahead
	if !ahead {
		in, out = out, in
	}
	in, _ = edge(in, out, func(at float64) bool { return k.image(e, at).ahead })
	if in == at || in == k.samples[k.count-1].at {
		return
	}
	k.put(in)
	k.count++
}

// sample is one of the walk's, with its images.
func (k *lookState) sample(n int) *sample {
	s := &k.samples[n]
	k.project(s)
	return s
}

// project works out the images of a sample.
func (k *lookState) project(s *sample) {
	if s.known&knownImages != 0 {
		return
	}
	s.both = k.images(s.at, &s.eye)
	s.known |= knownImages
}

// sight works out which eyes see a sample, and whether its images are apart.
func (k *lookState) sight(s *sample) {
	if s.known&knownSeen != 0 {
		return
	}
	k.project(s)
	inBody := k.hasBead && r3.Norm2(r3.Sub(k.chord.point(s.at), k.beadCentre)) < k.beadRadius*k.beadRadius
	for i := range Eyes {
		e := &k.eyes[i]
		q := &s.eye[i]
		s.seen[i] = !inBody && e.inField(q) && e.weight.sees(q, s.at, k.fixated) && !e.hides(q)
	}
	s.separate = false
	if s.seen[RightEye] && s.seen[LeftEye] {
		s.width, s.separate = apart(&s.eye[RightEye], &s.eye[LeftEye], k.thickness)
	}
	s.known |= knownSeen
}

// double works out whether a sample is doubled.
func (k *lookState) double(s *sample) {
	if s.known&knownDoubled != 0 {
		return
	}
	k.sight(s)
	s.doubled = s.separate && !k.fusion.single(&s.eye[RightEye], &s.eye[LeftEye])
	s.known |= knownDoubled
}

// split works out whether a sample is split (M10). Of a curved strand only the parts in
// the masks are searched.
func (k *lookState) split(s *sample, masks *[2]uint32) bool {
	k.double(s)
	if !s.doubled {
		return false
	}
	if s.known&knownApart == 0 {
		d := s.directions()
		if !k.unbent {
			d = [2]r3.Vec{unit(d[RightEye]), unit(d[LeftEye])}
		}
		s.apart = k.clear(d, s.width, masks) ||
			k.clear(d, lineWidth(&s.eye[RightEye], &s.eye[LeftEye], k.thickness), masks)
		s.known |= knownApart
	}
	return s.apart
}

// masksOf are the parts of the strand of either eye that images of block b in the other
// one may lie beside: only they are searched.
func (k *lookState) masksOf(b int) *[2]uint32 {
	if k.unbent {
		return &everywhere
	}
	if k.masked&(1<<b) == 0 {
		var widest float64
		for i := b * block; i < min((b+1)*block, k.count); i++ {
			s := &k.samples[i]
			if k.sight(s); s.separate {
				widest = max(widest, s.width)
			}
		}
		k.masks[b] = [2]uint32{k.mask(RightEye, b, widest), k.mask(LeftEye, b, widest)}
		k.masked |= 1 << b
	}
	return &k.masks[b]
}

// directions are those of the two images.
func (s *sample) directions() [2]r3.Vec {
	r, l := &s.eye[RightEye], &s.eye[LeftEye]
	return [2]r3.Vec{direction(r.x, r.y), direction(l.x, l.y)}
}

// clear says whether each of two images, one in either eye, lies a width or more from
// the other eye's whole strand.
func (k *lookState) clear(d [2]r3.Vec, width float64, masks *[2]uint32) bool {
	width = math.Min(width, math.Pi/2)
	return !k.beside(d[RightEye], LeftEye, width, masks[LeftEye]) &&
		!k.beside(d[LeftEye], RightEye, width, masks[RightEye])
}

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

// fusedStretch is the connected stretch round the crossing in which the string is
// single by its disparity alone, clipped to the string (M8).
func (k *lookState) fusedStretch(at float64) (from, to Maybe[float64]) {
	inside := k.rim(at)
	if inside.double() {
		return from, to
	}
	// A sample at the crossing itself says nothing more.
	nearer, beyond := k.indexOf(at-places)-1, k.indexOf(at+places)
	return Some(k.fusedEnd(inside, beyond, nearer, -1)), Some(k.fusedEnd(inside, nearer, beyond, 1))
}

// pair is the string at a place in both eyes, without the rest of a sample.
type pair [2]point

// images projects the string at a place into both eyes, and says whether it is ahead of
// both. What lies on a straight line does so in the eye frame too, which saves turning
// each point.
func (k *lookState) images(at float64, i *pair) (both bool) {
	for e := range Eyes {
		if k.line {
			k.eyes[e].perceive(r3.Add(k.start[e], r3.Scale(at, k.step[e])), &i[e])
		} else {
			k.eyes[e].see(k.chord.point(at), &i[e])
		}
	}
	return i[RightEye].ahead && i[LeftEye].ahead
}

// lay finds out whether the string is a straight line in both eyes: no sag, and
// the whole of it on one side of the spectacle plane, where a prism bends it.
func (k *lookState) lay() {
	c := &k.chord
	end := c.near.Y + c.length*c.along.Y
	k.line = c.sag == 0 && c.length > 0 && (c.near.Y >= SpectaclePlane) == (end >= SpectaclePlane)
	k.unbent = k.line && !k.eyes[RightEye].anomalous && !k.eyes[LeftEye].anomalous
	for e := range Eyes {
		k.start[e] = k.eyes[e].toward(c.point(0))
		k.step[e] = r3.Scale(1/c.length, r3.Sub(k.eyes[e].toward(c.point(c.length)), k.start[e]))
	}
}

// rim is a place of the string set against the rim of Panum's area: by how much
// its horizontal and its vertical disparity exceed the limits there, in radians,
// negative within them. Where an eye cannot have the place, ahead is false and
// excess is 0.
type rim struct {
	at     float64
	excess [2]float64
	ahead  bool
}

// most is the greater excess; where an eye cannot have the place, it is beyond any
// limit.
func (m rim) most() float64 {
	if !m.ahead {
		return 1
	}
	return max(m.excess[0], m.excess[1])
}

func (m rim) double() bool { return m.most() > 0 }

func (k *lookState) rim(at float64) rim {
	var i pair
	if !k.images(at, &i) {
		return rim{at: at}
	}
	return k.rimOf(at, &i)
}

func (k *lookState) rimOf(at float64, i *pair) rim {
	r, l := &i[RightEye], &i[LeftEye]
	h, v := k.fusion.limits(math.Atan(meanTangents(r, l)))
	return rim{at, [2]float64{math.Abs(i.disparity()) - h, math.Abs(r.beta()-l.beta()) - v}, true}
}

// rimAt is that of a sample; off the string none is ahead.
func (k *lookState) rimAt(n int) rim {
	if n < 0 || n >= k.count {
		return rim{}
	}
	s := k.sample(n)
	if !s.both {
		return rim{at: s.at}
	}
	return k.rimOf(s.at, &s.eye)
}

// excess is by how much the string at a place exceeds Panum's limits, negative
// within them.
func (k *lookState) excess(at float64) float64 {
	m := k.rim(at)
	return m.most()
}

// fusedEnd follows the fused stretch from a place inside it over the samples i,
// i+step, …; behind is the sample on its other side.
func (k *lookState) fusedEnd(inside rim, behind, i, step int) float64 {
	before, next := k.rimAt(behind), k.rimAt(i)
	for ; i >= 0 && i < k.count; i += step {
		after := k.rimAt(i + step)
		outside, found := k.breaks(&before, &inside, &next, &after)
		if !found {
			outside = next
		}
		if outside.double() {
			return root(inside.at, outside.at, inside.most(), outside.most(), k.excess)
		}
		before, inside, next = inside, next, after
	}
	return inside.at
}

// breaks looks for a place between a and b, neighbours on the string, where the
// string is double though by that excess it is single at both. The excess is
// concave round such a place: there a disparity turns, or the gaze passes close by
// and the limits are least. So it stays below the lines through a and b from their
// neighbours on the far sides, and where these are above the limit nowhere in
// between, neither is the excess.
func (k *lookState) breaks(before, a, b, after *rim) (top rim, found bool) {
	if !b.ahead {
		return top, false
	}
	gap, end := math.Abs(b.at-a.at), b.at
	for c := range a.excess {
		rise, fall := slope(before, a, c), slope(after, b, c)
		if a.excess[c] > 0 || b.excess[c] > 0 || rise <= 0 || fall <= 0 ||
			a.excess[c]/rise+b.excess[c]/fall+2*gap <= 0 { // twice: no curve is quite concave
			continue
		}
		at, ok := reaches(a.at, end, func(at float64) float64 { return k.rim(at).excess[c] })
		if m := k.rim(at); ok && m.double() {
			top, found, end = m, true, at // the other excess matters only where it breaks sooner
		}
	}
	return top, found
}

// slope is how fast an excess rises from one place to the next; without the first
// it may be anything.
func slope(from, to *rim, c int) float64 {
	if !from.ahead {
		return math.Inf(1)
	}
	return (to.excess[c] - from.excess[c]) / math.Abs(to.at-from.at)
}

// golden is the golden section, what is left of a stretch at each step of a search
// for a greatest value.
const golden = 1 / math.Phi

// reaches gives a place between a and b where f, which has one maximum there, is
// zero or above, if there is one: by golden sections.
func reaches(a, b float64, f func(float64) float64) (at float64, ok bool) {
	p, q := b-golden*(b-a), a+golden*(b-a)
	fp, fq := f(p), f(q)
	for math.Abs(b-a) > places {
		switch {
		case fp >= 0:
			return p, true
		case fq >= 0:
			return q, true
		case fp > fq:
			b, q, fq = q, p, fp
			p = b - golden*(b-a)
			fp = f(p)
		default:
			a, p, fp = p, q, fq
			q = a + golden*(b-a)
			fq = f(q)
		}
	}
	return 0, false
}

// root is the zero of f between a and b, where f has the values fa and fb of
// opposite signs, by the Illinois form of false position. It stops on b if there
// is no change of sign.
func root(a, b, fa, fb float64, f func(float64) float64) float64 {
	for range 100 {
		if fb == 0 || fa == fb {
			break
		}
		c := b - fb*(b-a)/(fb-fa)
		fc := f(c)
		if fc*fb <= 0 {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		step := math.Abs(c - b)
		b, fb = c, fc
		if step <= places {
			break
		}
	}
	return b
}

// edge narrows what lies between a place where something holds and one where it does not
// to as little as places are refined: to the last where it holds and the first where it
// does not.
func edge(in, out float64, holds func(at float64) bool) (last, first float64) {
	for math.Abs(out-in) > places {
		if middle := (in + out) / 2; holds(middle) {
			in = middle
		} else {
			out = middle
		}
	}
	return in, out
}

// indexOf is the index of the first sample at or beyond a place.
func (k *lookState) indexOf(at float64) int {
	return sort.Search(k.count, func(i int) bool { return k.samples[i].at >= at })
}

// gradientStep is half the stretch over which the disparity gradient is taken, mm.
const gradientStep = 0.5

// gradient is the disparity gradient at the fixated place (M8): the change of the
// horizontal disparity over that of the mean direction. It does not exist where
// the mean direction stands still.
func (k *lookState) gradient() Maybe[float64] {
	var a, b pair
	if !k.images(math.Max(0, k.fixated-gradientStep), &a) ||
		!k.images(math.Min(k.chord.length, k.fixated+gradientStep), &b) {
		return Maybe[float64]{}
	}
	moved := angleBetween(a.mean(), b.mean())
	if moved < still {
		return Maybe[float64]{}
	}
	return Some(math.Abs(b.disparity()-a.disparity()) / moved)
}

// disparity is δh of a point that is ahead of both eyes.
func (i *pair) disparity() float64 { return i[LeftEye].alpha() - i[RightEye].alpha() }

// offset is δh up to a positive factor, for its sign and zeros alone.
func (i *pair) offset() float64 { return i[LeftEye].t - i[RightEye].t }

// meanPlace is the mean of the two tangent pairs, and mean its direction.
func (i *pair) meanPlace() XY {
	r, l := &i[RightEye], &i[LeftEye]
	return XY{(r.x + l.x) / 2, (r.y + l.y) / 2}
}

func (i *pair) mean() r3.Vec {
	m := i.meanPlace()
	return direction(m.X, m.Y)
}
