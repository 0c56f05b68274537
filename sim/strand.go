package sim

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"
)

// samples is how many places along the string a look samples in each eye; ends of
// runs, the crossing and the fused stretch are refined from there.
const samples = 256

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

// indexOf is the index of the first sample at or beyond a place.
func (k *lookState) indexOf(at float64) int {
	return sort.Search(k.count, func(i int) bool { return k.samples[i].at >= at })
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
