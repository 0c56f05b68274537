package sim

import (
	"math"
	"math/bits"

	"gonum.org/v1/gonum/spatial/r3"
)

// What one eye has of the string is a strand: a curve of perceived directions that
// goes on beyond either end along the great circle that it has there (M10, M11). A
// straight string whose directions are perceived as they are is a great circle in
// each eye, and distances to it are in closed form. Sag, an anomaly of
// correspondence and the edge of a prism bend a strand: then the samples are its
// corners, and what they do not decide is looked for on the curve itself.

// block is how many pieces of a sampled strand are looked at in one go.
const block = 16

const blocks = (samples + block) / block

// strand is one eye's.
type strand struct {
	// normal is that of the plane of a straight strand, a unit vector in the frame of
	// the picture; zero where the strand is a point, as the eye looks along the string.
	normal r3.Vec

	// Of a curved strand.
	direction [samples + spare + 1]r3.Vec // of the samples, unit vectors; zero behind the eye and past the last
	blocks    [blocks]cap
	tips      [2]tip
	exists    bool // at least two samples are ahead of the eye
}

// cap holds a block of a curved strand: no direction of it is farther from the
// middle than radius, in a straight line through the unit sphere. Bow is a bound on
// how far the curve strays from the arcs between its samples.
type cap struct {
	middle      r3.Vec
	radius, bow float64
}

// tip is an end of a strand: that of the string, or the last sample of it that is
// ahead of the eye. The strand goes on from there as straight as it comes, as a
// straight one does; a sag that went on by its formula would part from the straight
// string without bound, however small.
type tip struct {
	at     float64
	x, y   float64
	dx, dy float64 // per mm along the string
	normal r3.Vec  // of the great circle that it goes on along, a unit vector; zero if it stands still
	onward r3.Vec  // what lies on its side of the tip has a positive product with this
	out    float64 // which way along the string is beyond it: −1 the near tip, +1 the far one
	open   bool    // no end of the string: it goes on behind the eye, and not in the picture
}

// layStrands readies the strands for distances to them. The string must have been
// walked.
func (k *lookState) layStrands() {
	for e := range Eyes {
		if k.unbent {
			k.strands[e].normal = k.planeOf(e)
		} else {
			k.layCurve(e)
		}
	}
}

// planeOf is the unit normal of the plane through the nodal point and a straight
// string; zero where the eye looks along the string.
func (k *lookState) planeOf(e Eye) r3.Vec {
	n := r3.Cross(k.start[e], k.step[e])
	size := r3.Norm(n)
	if size <= exact*r3.Norm(k.start[e])*r3.Norm(k.step[e]) {
		return r3.Vec{}
	}
	return r3.Scale(1/size, n)
}

func (k *lookState) layCurve(e Eye) {
	c := &k.strands[e]
	for i := range k.count {
		p := &k.samples[i].eye[e]
		c.direction[i] = r3.Vec{}
		if p.ahead {
			c.direction[i] = unit(direction(p.x, p.y))
		}
	}
	c.direction[k.count] = r3.Vec{}
	for b := range blocks {
		c.blocks[b] = c.capOf(b*block, min((b+1)*block, k.count-1))
	}
	c.tips, c.exists = k.tipsOf(e)
}

// capOf holds the samples from first to last; its radius is negative if none of
// them is ahead.
func (c *strand) capOf(first, last int) cap {
	out := cap{radius: math.Inf(-1)}
	var sum r3.Vec
	for i := first; i <= last; i++ {
		sum = r3.Add(sum, c.direction[i])
	}
	if sum == (r3.Vec{}) {
		return out
	}
	out.middle = unit(sum)
	var far float64
	for i := first; i <= last; i++ {
		d := c.direction[i]
		if d == (r3.Vec{}) {
			continue
		}
		far = max(far, r3.Norm2(r3.Sub(d, out.middle)))
		if i > 0 {
			out.bow = max(out.bow, c.bowAt(i))
		}
	}
	out.radius = math.Sqrt(far)
	return out
}

// bowAt is how far a sample lies from the arc between its neighbours: at least
// twice as far as the curve from the arcs on either side of it.
func (c *strand) bowAt(i int) float64 {
	n := r3.Cross(c.direction[i-1], c.direction[i+1])
	size := r3.Norm2(n)
	if size == 0 {
		return 0
	}
	return math.Abs(r3.Dot(n, c.direction[i])) / math.Sqrt(size)
}

// tipsOf are the near and the far tip of a strand, if the eye has one.
func (k *lookState) tipsOf(e Eye) (tips [2]tip, ok bool) {
	first, last := 0, k.count-1
	for first < k.count && !k.samples[first].eye[e].ahead {
		first++
	}
	for last > first && !k.samples[last].eye[e].ahead {
		last--
	}
	if first >= last {
		return tips, false
	}
	return [2]tip{k.tip(e, first, 1), k.tip(e, last, -1)}, true
}

// tip takes the direction at a sample from the string on one side of it, in the
// direction step.
func (k *lookState) tip(eye Eye, n int, step float64) tip {
	const h = 1e-3
	s := &k.samples[n]
	p0 := &s.eye[eye]
	p1, p2 := k.image(eye, s.at+step*h), k.image(eye, s.at+2*step*h)
	// Of the parabola through the three.
	along := func(f0, f1, f2 float64) float64 { return step * (4*f1 - 3*f0 - f2) / (2 * h) }
	t := tip{at: s.at, out: -step, open: n > 0 && n < k.count-1, x: p0.x, y: p0.y, dx: along(p0.x, p1.x, p2.x), dy: along(p0.y, p1.y, p2.y)}
	p := direction(t.x, t.y)
	t.normal = unit(r3.Cross(p, r3.Scale(t.out, r3.Vec{X: t.dx, Z: t.dy})))
	t.onward = r3.Cross(t.normal, p)
	return t
}

// on is a place in mm beyond the tip.
func (t *tip) on(at float64) (x, y float64) {
	return t.x + (at-t.at)*t.dx, t.y + (at-t.at)*t.dy
}

// meets is where the strand beyond the tip meets the piece of the other eye's between two
// samples: the place that each has there.
func (t *tip) meets(a, b *sample, other Eye) (beyond, at float64, ok bool) {
	p, q := &a.eye[other], &b.eye[other]
	sideP, sideQ := t.side(p), t.side(q)
	if !p.ahead || !q.ahead || sideP*sideQ > 0 {
		return 0, 0, false
	}
	u := sideP / (sideP - sideQ)
	x, y := p.x+u*(q.x-p.x)-t.x, p.y+u*(q.y-p.y)-t.y
	along := (x*t.dx + y*t.dy) / (t.dx*t.dx + t.dy*t.dy)
	return t.at + along, a.at + u*(b.at-a.at), along*t.out >= 0 // no number where the piece runs along the line
}

// side is positive on one side of the line on which the strand goes on, negative on the
// other.
func (t *tip) side(p *point) float64 { return t.dx*(p.y-t.y) - t.dy*(p.x-t.x) }

// within says whether a direction, a unit vector, lies nearer than an angle to what
// the strand has beyond the tip.
func (t *tip) within(d r3.Vec, angle float64) bool {
	return t.normal != (r3.Vec{}) && r3.Dot(d, t.onward) > 0 && nearPlane(d, t.normal, angle)
}

// beside says whether a perceived direction lies nearer than an angle to the strand
// of eye e. Of a curved one only the parts in the mask are looked at, and the
// direction is a unit vector.
func (k *lookState) beside(d r3.Vec, e Eye, angle float64, mask uint32) bool {
	c := &k.strands[e]
	if k.unbent {
		return c.normal != (r3.Vec{}) && nearPlane(d, c.normal, angle)
	}
	for end := range c.tips {
		if mask&(1<<(blocks+end)) != 0 && c.tips[end].within(d, angle) {
			return true
		}
	}
	for m := mask & (1<<blocks - 1); m != 0; m &= m - 1 {
		if k.besideBlock(d, e, bits.TrailingZeros32(m), angle) {
			return true
		}
	}
	return false
}

// nearPlane says whether a direction lies nearer than an angle to a great circle. An
// angle is at least its sine, which settles most.
func nearPlane(d, normal r3.Vec, angle float64) bool {
	off := r3.Dot(d, normal)
	off2, size2 := off*off, r3.Norm2(d)
	if off2 >= angle*angle*size2 {
		return false
	}
	s := math.Sin(angle)
	return off2 < s*s*size2
}

// besideBlock says whether a direction lies nearer than an angle to a block of a
// curved strand.
func (k *lookState) besideBlock(d r3.Vec, e Eye, b int, angle float64) bool {
	c := &k.strands[e]
	at := &c.blocks[b]
	if reach := at.radius + at.bow + angle; reach <= 0 || r3.Norm2(r3.Sub(d, at.middle)) > reach*reach {
		return false
	}
	near, far := math.Sin(math.Max(0, angle-at.bow)), angle+at.bow
	for i := b * block; i < min((b+1)*block, k.count-1); i++ {
		switch off2 := fromArc(d, c.direction[i], c.direction[i+1], far*far); {
		case off2 < near*near:
			return true
		case off2 < far*far && k.besideCurve(d, e, i, angle):
			return true
		}
	}
	return false
}

// besideCurve decides it on the curve between a sample and the next.
func (k *lookState) besideCurve(d r3.Vec, e Eye, i int, angle float64) bool {
	_, ok := reaches(k.samples[i].at, k.samples[i+1].at, func(at float64) float64 {
		p := k.image(e, at)
		return angle - angleBetween(d, direction(p.x, p.y))
	})
	return ok
}

// fromArc is how far a direction lies from the nearest point of the shorter arc
// between two others, all unit vectors, squared: across the arc the sine, from its
// ends the chord, so that it is at most the angle and at least its sine. Beyond the
// limit it may be any number that is no less; so it is where a or b is zero.
func fromArc(d, a, b r3.Vec, limit float64) float64 {
	n := r3.Cross(a, b)
	off, size2 := r3.Dot(d, n), r3.Norm2(n)
	if off *= off; off >= limit*size2 {
		return limit
	}
	if r3.Dot(r3.Cross(n, a), d) > 0 && r3.Dot(r3.Cross(b, n), d) > 0 {
		return off / size2 // the nearest point of the great circle lies between a and b
	}
	return math.Min(r3.Norm2(r3.Sub(d, a)), r3.Norm2(r3.Sub(d, b)))
}

// mask tells, for a block of samples, which parts of the strand of eye e its images in
// the other eye may lie nearer to than an angle: a bit for each block, and for what
// goes on beyond either tip.
func (k *lookState) mask(e Eye, b int, angle float64) (m uint32) {
	mine, c := &k.strands[e.Other()].blocks[b], &k.strands[e]
	if !c.exists {
		return 0
	}
	for i := range blocks {
		theirs := &c.blocks[i]
		reach := mine.radius + theirs.radius + theirs.bow + angle
		if reach > 0 && r3.Norm2(r3.Sub(mine.middle, theirs.middle)) <= reach*reach {
			m |= 1 << i
		}
	}
	for end := range c.tips {
		t := &c.tips[end]
		reach := mine.radius + angle
		if math.Abs(r3.Dot(mine.middle, t.normal)) <= reach && r3.Dot(mine.middle, t.onward) >= -reach*r3.Norm(t.onward) {
			m |= 1 << (blocks + end)
		}
	}
	return m
}

// everywhere are the masks of all parts.
var everywhere = [2]uint32{1<<(blocks+2) - 1, 1<<(blocks+2) - 1}

// unit is the unit vector of a direction; zero has none and stays zero.
func unit(d r3.Vec) r3.Vec {
	n := r3.Norm2(d)
	if n == 0 {
		return r3.Vec{}
	}
	return r3.Scale(1/math.Sqrt(n), d)
}
