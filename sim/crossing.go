package sim

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// zeroDisparity is the place on the string nearest to the fixated one where
// δh = 0 (M11).
func (k *lookState) zeroDisparity() Maybe[float64] {
	start := k.indexOf(k.fixated)
	if start < k.count {
		if s := k.sample(start); s.at == k.fixated && s.both && math.Abs(s.eye.disparity()) <= exact {
			return Some(k.fixated)
		}
	}
	var best Maybe[float64]
	take := func(at Maybe[float64]) {
		if at.OK && (!best.OK || math.Abs(at.Value-k.fixated) < math.Abs(best.Value-k.fixated)) {
			best = at
		}
	}
	// Outward on either side: the first zero found is the nearest of that side.
	for i := max(start, 1); i < k.count; i++ {
		if at := k.zeroBetween(i-1, i); at.OK {
			take(at)
			break
		}
	}
	for i := min(start, k.count-1); i > 0; i-- {
		if at := k.zeroBetween(i, i-1); at.OK {
			take(at)
			break
		}
	}
	return best
}

// zeroBetween looks for the zero of δh between two neighbouring samples that is
// nearest to the first: where the sign changes, or else where |δh| turns in between
// and may touch zero or cross it twice.
func (k *lookState) zeroBetween(i, j int) Maybe[float64] {
	a, b := k.sample(i), k.sample(j)
	if !a.both || !b.both {
		return Maybe[float64]{}
	}
	fa, fb := a.eye.offset(), b.eye.offset()
	switch {
	case fa == 0:
		return Some(a.at)
	case fb == 0:
		return Some(b.at)
	case fa*fb < 0:
		return Some(root(a.at, b.at, fa, fb, k.offset))
	}
	if !k.turns(i, j) {
		return Maybe[float64]{}
	}
	side := math.Copysign(1, fa)
	if at, ok := reaches(a.at, b.at, func(at float64) float64 { return -side * k.offset(at) }); ok {
		return Some(root(a.at, at, fa, k.offset(at), k.offset))
	}
	return Maybe[float64]{}
}

// turns says whether |δh| may have its least value between the samples i and j:
// it falls into the gap from both sides, and straight on from either side it
// would reach zero within it or just beyond.
func (k *lookState) turns(i, j int) bool {
	before, after := 2*i-j, 2*j-i
	if min(before, after) < 0 || max(before, after) >= k.count {
		return false
	}
	size := func(n int) float64 { return math.Abs(k.samples[n].eye.offset()) }
	at := func(n int) float64 { return k.samples[n].at }
	// Mostly |δh| grows on the way from the fixated place, and the first says so.
	if !k.sample(before).both || size(before) < size(i) || !k.sample(after).both || size(after) < size(j) {
		return false
	}
	gap := math.Abs(at(j) - at(i))
	fall := (size(before) - size(i)) / math.Abs(at(i)-at(before)) * gap
	rise := (size(after) - size(j)) / math.Abs(at(after)-at(j)) * gap
	return size(i) <= 2*fall && size(j) <= 2*rise
}

func (k *lookState) offset(at float64) float64 {
	var i pair
	k.images(at, &i)
	return i.offset()
}

// meeting is where the two strands meet in the picture, and which place of the
// string each eye has there (M11). at is where δh = 0.
func (k *lookState) meeting(at Maybe[float64]) (picture Maybe[XY], right, left Maybe[float64]) {
	coincide, exists := false, false
	var places [2]float64
	var place XY
	if k.unbent {
		places, place, coincide, exists = k.linesMeet()
	} else {
		places, place, coincide, exists = k.curvesMeet(k.fixated)
	}
	if coincide {
		if !at.OK {
			return picture, right, left
		}
		var i pair
		if !k.images(at.Value, &i) {
			return picture, right, left
		}
		return Some(i.meanPlace()), at, at
	}
	if !exists {
		return picture, right, left
	}
	for i, m := range []*Maybe[float64]{&right, &left} {
		if places[i] >= -slack && places[i] <= k.chord.length+slack {
			*m = Some(math.Min(math.Max(places[i], 0), k.chord.length))
		}
	}
	if right.OK && left.OK {
		picture = Some(place)
	}
	return picture, right, left
}

// linesMeet intersects the two strands as lines: each is the trace of the plane
// through the nodal point and the string.
func (k *lookState) linesMeet() (places [2]float64, picture XY, coincide, exists bool) {
	var plane [2]r3.Vec
	for i := range Eyes {
		plane[i] = k.strands[i].normal
		if plane[i] == (r3.Vec{}) {
			return places, picture, false, false // the eye looks along the string
		}
	}
	m := r3.Cross(plane[RightEye], plane[LeftEye])
	if r3.Norm(m) <= exact {
		return places, picture, true, false
	}
	if m.Y < 0 {
		m = r3.Scale(-1, m)
	}
	if m.Y <= exact*r3.Norm(m) {
		return places, picture, false, false
	}
	for i := range places {
		// start + place·step is parallel to m.
		across := r3.Cross(k.step[i], m)
		places[i] = -r3.Dot(r3.Cross(k.start[i], m), across) / r3.Norm2(across)
		if r3.Dot(r3.Add(k.start[i], r3.Scale(places[i], k.step[i])), m) <= 0 {
			places[i] = math.NaN() // behind the eye: on no string
		}
	}
	return places, XY{m.X / m.Y, m.Z / m.Y}, false, true
}

// image is the string at a place in one eye.
func (k *lookState) image(eye Eye, at float64) (i point) {
	k.eyes[eye].see(k.chord.point(at), &i)
	return i
}

// curvesMeet intersects the two sampled strands as polylines, then refines the
// intersection that lies nearest to a place. Only if there is none on the string it
// looks for one where one of the strands goes on beyond it; its place is then off the
// string.
func (k *lookState) curvesMeet(near float64) (places [2]float64, picture XY, coincide, exists bool) {
	if !k.strands[RightEye].exists || !k.strands[LeftEye].exists {
		return places, picture, false, false
	}
	if k.oneLine() {
		return places, picture, true, false
	}
	tips := [2][2]tip{k.strands[RightEye].tips, k.strands[LeftEye].tips}
	places, exists = k.piecesNearest(near)
	if !exists {
		places, exists = k.beyondNearest(&tips, near)
	}
	if !exists {
		return places, picture, false, false
	}
	places, picture = k.polish(&tips, places)
	return places, picture, false, true
}

// oneLine says whether both curved strands lie on one line of the picture.
func (k *lookState) oneLine() bool {
	tips := &k.strands[RightEye].tips
	line := unit(r3.Cross(direction(tips[0].x, tips[0].y), direction(tips[1].x, tips[1].y)))
	if line == (r3.Vec{}) {
		return false
	}
	for e := range Eyes {
		for i := range k.count {
			if math.Abs(r3.Dot(k.strands[e].direction[i], line)) > exact {
				return false
			}
		}
	}
	return true
}

// trace is where an eye's strand, which goes on beyond its tips, is in the picture.
func (k *lookState) trace(tips *[2][2]tip, eye Eye, at float64) (x, y float64, ahead bool) {
	switch near, far := &tips[eye][0], &tips[eye][1]; {
	case at < near.at:
		x, y = near.on(at)
		return x, y, true
	case at > far.at:
		x, y = far.on(at)
		return x, y, true
	}
	i := k.image(eye, at)
	return i.x, i.y, i.ahead
}

// piecesNearest is the meeting of the two polylines nearest to a place.
func (k *lookState) piecesNearest(near float64) (places [2]float64, exists bool) {
	var boxes [2][blocks]box
	for b := range blocks {
		for e := range Eyes {
			boxes[e][b] = k.box(e, b*block)
		}
	}
	best := math.Inf(1)
	for i := range blocks {
		for j := range blocks {
			if !boxes[RightEye][i].meets(boxes[LeftEye][j]) {
				continue
			}
			for a := i * block; a < min((i+1)*block, k.count-1); a++ {
				for b := j * block; b < min((j+1)*block, k.count-1); b++ {
					s, ok := k.piecesMeet(a, b)
					if far := math.Abs(s[0]-near) + math.Abs(s[1]-near); ok && far < best {
						best, places, exists = far, s, true
					}
				}
			}
		}
	}
	return places, exists
}

// beyondNearest is the meeting of one strand beyond its tips with the polyline of
// the other, nearest on that one to a place. Where either strand does that equally
// near, as on a string held in the middle, neither is the one: there is none.
func (k *lookState) beyondNearest(tips *[2][2]tip, near float64) (places [2]float64, exists bool) {
	var found [2][2]float64 // by the eye whose strand goes on
	off := [2]float64{math.Inf(1), math.Inf(1)}
	for e := range Eyes {
		other := e.Other()
		for end := range tips[e] {
			t := &tips[e][end]
			for i := 1; i < k.count && !t.open; i++ {
				beyond, at, ok := t.meets(&k.samples[i-1], &k.samples[i], other)
				if far := math.Abs(at - near); ok && far < off[e] {
					off[e], found[e][e], found[e][other] = far, beyond, at
				}
			}
		}
	}
	switch nearer := off[LeftEye] - off[RightEye]; {
	case nearer >= equallyNear:
		return found[RightEye], true
	case nearer <= -equallyNear:
		return found[LeftEye], true
	}
	return places, false
}

// box is the bounding box of a block of a strand in the picture.
type box struct{ x0, y0, x1, y1 float64 }

func (a box) meets(b box) bool {
	return a.x0 <= b.x1+exact && b.x0 <= a.x1+exact && a.y0 <= b.y1+exact && b.y0 <= a.y1+exact
}

// box is empty, and meets none, where the block is not ahead of the eye.
func (k *lookState) box(eye Eye, first int) box {
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for i := first; i <= min(first+block, k.count-1); i++ {
		if p := &k.samples[i].eye[eye]; p.ahead {
			b = box{min(b.x0, p.x), min(b.y0, p.y), max(b.x1, p.x), max(b.y1, p.y)}
		}
	}
	return b
}

// piecesMeet intersects piece a of the right eye's strand with piece b of the
// left eye's; the places are those of the straight pieces.
func (k *lookState) piecesMeet(a, b int) (places [2]float64, ok bool) {
	r0, r1 := &k.samples[a].eye[RightEye], &k.samples[a+1].eye[RightEye]
	l0, l1 := &k.samples[b].eye[LeftEye], &k.samples[b+1].eye[LeftEye]
	if !r0.ahead || !r1.ahead || !l0.ahead || !l1.ahead {
		return places, false
	}
	rx, ry, lx, ly := r1.x-r0.x, r1.y-r0.y, l1.x-l0.x, l1.y-l0.y
	det := lx*ry - rx*ly
	if det == 0 {
		return places, false
	}
	dx, dy := l0.x-r0.x, l0.y-r0.y
	u, v := (lx*dy-ly*dx)/det, (rx*dy-ry*dx)/det
	if u < -joint || u > 1+joint || v < -joint || v > 1+joint {
		return places, false
	}
	return [2]float64{
		k.samples[a].at + u*(k.samples[a+1].at-k.samples[a].at),
		k.samples[b].at + v*(k.samples[b+1].at-k.samples[b].at),
	}, true
}

// polish moves the places of a meeting, found on straight pieces, onto the strands
// by Newton's method with differences.
func (k *lookState) polish(tips *[2][2]tip, places [2]float64) ([2]float64, XY) {
	rx, ry, _ := k.trace(tips, RightEye, places[RightEye])
	lx, ly, _ := k.trace(tips, LeftEye, places[LeftEye])
	for range 20 {
		const h = 1e-4
		rx1, ry1, _ := k.trace(tips, RightEye, places[RightEye]+h)
		lx1, ly1, _ := k.trace(tips, LeftEye, places[LeftEye]+h)
		rdx, rdy, ldx, ldy := (rx1-rx)/h, (ry1-ry)/h, (lx1-lx)/h, (ly1-ly)/h
		det := ldx*rdy - rdx*ldy
		if det == 0 {
			break
		}
		dx, dy := lx-rx, ly-ry
		next := [2]float64{
			places[RightEye] + (ldx*dy-ldy*dx)/det,
			places[LeftEye] + (rdx*dy-rdy*dx)/det,
		}
		rx1, ry1, rok := k.trace(tips, RightEye, next[RightEye])
		lx1, ly1, lok := k.trace(tips, LeftEye, next[LeftEye])
		if !rok || !lok || math.Hypot(lx1-rx1, ly1-ry1) >= math.Hypot(dx, dy) {
			break // as near as the numbers go
		}
		places, rx, ry, lx, ly = next, rx1, ry1, lx1, ly1
	}
	return places, XY{(rx + lx) / 2, (ry + ly) / 2}
}

// offTheString says how the strands miss each other where the place without
// disparity is seen double (M11): they meet nowhere in the picture, or too far from
// it. Empty: they meet there.
func (k *lookState) offTheString(c *Crossing) Meet {
	var i pair
	switch {
	case !k.images(c.At.Value, &i), !k.rim(c.At.Value).double():
		return ""
	case !c.Picture.OK:
		return MeetPasses
	case angleBetween(i.mean(), direction(c.Picture.Value.X, c.Picture.Value.Y)) > farAside:
		return MeetAside
	}
	return ""
}

// farAside is how far in the picture the strands may meet from the place without
// disparity and still cross there (M11, a modelling choice).
const farAside = 30 * math.Pi / (180 * 60)

// hider is the bead behind which the strings cross, the next to the crossing if there
// are several, or NoBead: it hides one strand or both of them there. A bead in which
// they cross hides nothing: the strings are seen to run into it and out of it.
func (k *lookState) hider(s *Setup, c *Crossing, meet Meet) int {
	hider, fixated := NoBead, s.FixatedBead()
	nearest := math.Inf(1)
	for i := range s.Beads {
		b := &s.Beads[i]
		off := math.Abs(c.At.Value - b.At)
		within := off <= b.Diameter/2 || meet == MeetAt && i == fixated
		if !within && off < nearest && (k.hidesCrossing(b, RightEye, c.RightAt.Or(c.At.Value)) ||
			k.hidesCrossing(b, LeftEye, c.LeftAt.Or(c.At.Value))) {
			hider, nearest = i, off
		}
	}
	return hider
}

// hidesCrossing says whether a bead hides the place of an eye's strand at which it
// crosses the other one.
func (k *lookState) hidesCrossing(b *Bead, eye Eye, at float64) bool {
	e := &k.eyes[eye]
	return behind(e.toward(k.chord.point(at)), e.toward(k.chord.point(b.At)), b.Diameter/2)
}

// crossingSeen says whether the crossing at a place is seen: on at least one side
// a place within 30′ of it along the string, in both eyes' true images, that both
// see by weight and field; what the fixated bead hides does not count.
func (k *lookState) crossingSeen(at float64) bool {
	return k.seenBeside(at, 1) || k.seenBeside(at, -1)
}

// beside is how many steps the 30′ beside a crossing are looked through in.
const beside = 32

func (k *lookState) seenBeside(at float64, step int) bool {
	end := k.chord.length
	if step < 0 {
		end = 0
	}
	if end == at {
		return false
	}
	if k.bothSee(at + (end-at)*beginning) {
		return true // as nearly always: what follows is for the edges of zones and fields
	}
	far := k.within(at, end) // to the last bit: the zones nearer and beyond end at the fixated place
	for i := range beside {
		if k.bothSee(far + (at-far)*float64(i)/beside) {
			return true
		}
	}
	return false
}

// within is the place farthest from at toward end that is within 30′ of it along
// the string in both eyes' true images. The string is nearly straight over 30′, so
// that the angle is the path.
func (k *lookState) within(at, end float64) float64 {
	near := func(to float64) bool {
		for i := range Eyes {
			if angleBetween(k.image(i, at).q, k.image(i, to).q) > longEnough {
				return false
			}
		}
		return true
	}
	if near(end) {
		return end
	}
	last, _ := edge(at, end, near)
	return last
}

func (k *lookState) bothSee(at float64) bool {
	for i := range Eyes {
		e := &k.eyes[i]
		q := k.image(i, at)
		if !e.inField(&q) || !e.weight.sees(&q, at, k.fixated) {
			return false
		}
	}
	return true
}

// axesMeet is the closest approach of the two visual axes. It does not exist where
// they are parallel or come closest behind either centre of rotation (M11).
func axesMeet(r, l *eye) (gap Maybe[float64], mid Maybe[r3.Vec]) {
	between := r3.Sub(r.centre, l.centre)
	n := r3.Cross(r.f, l.f)
	n2 := r3.Norm2(n)
	if n2 <= exact*exact {
		return gap, mid
	}
	// Along each axis to the feet of the common perpendicular.
	a := r3.Dot(r3.Cross(l.f, between), n) / n2
	b := r3.Dot(r3.Cross(r.f, between), n) / n2
	if a < 0 || b < 0 {
		return gap, mid
	}
	p := r3.Add(r.centre, r3.Scale(a, r.f))
	q := r3.Add(l.centre, r3.Scale(b, l.f))
	return Some(r3.Norm(r3.Sub(p, q))), Some(r3.Scale(0.5, r3.Add(p, q)))
}
