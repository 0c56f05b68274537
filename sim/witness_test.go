package sim_test

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
)

// A witness works out what a View holds by a second route. Eyes and prisms are
// homogeneous matrices composed from turns, shifts and shears; directions are
// read from the product. Runs, crossings and stretches are found by sampling the
// string plainly, thousands of times, instead of by the engine's refinement.
type witness struct {
	s         *sim.Setup
	near, far r3.Vec
	at        float64 // the place looked at
	target    r3.Vec
	fixated   int // bead looked at, or sim.NoBead
	eyes      [2]witnessEye
	fixing    sim.Side
	suppress  bool    // the suppression acts
	response  float64 // of accommodation, dioptres

	samples []sample
	cross   int // index in samples of the place of zero disparity, or -1
}

// A witnessEye is one eye: its pose, and the two matrices that take a point of
// the head frame to its own frame, through the prism and beside it.
type witnessEye struct {
	side                     float64 // right +1, left −1
	azimuth, elevation, turn float64 // turn is torsion, excyclo +
	centre, nodal, axis      r3.Vec
	throughPrism, pastPrism  [16]float64
	anomaly                  float64 // taken from the perceived azimuth, nasal +
	covered, suppressed      bool
	targetDirection          r3.Vec
}

// An image is what one eye has of a point.
type image struct {
	q           r3.Vec // from the nodal point in the eye's frame: right, forward, up
	alpha, beta float64
	x, y        float64
	ahead, has  bool // has: in the field
	weight      float64
	shown       bool // what cover and suppression leave of it is seen
}

// A sample is one place of the string in both eyes.
type sample struct {
	place float64
	eye   [2]image
	h, v  float64 // disparities, crossed +, right image higher +
	eps   float64
	both  bool // ahead of both eyes
	seen  [2]bool
	apart float64 // the two images of the place
	line  float64 // how far two lines must be apart there
	// Seen by both, not single and apart; and apart from the other whole strand too.
	doubled, split bool
}

const (
	samplesOnString = 6000
	spectaclePlane  = 27.0 // mm ahead of the centres of rotation (M12)
	arcmin          = math.Pi / 180 / 60
)

func shift(by r3.Vec) *mat.Dense {
	return mat.NewDense(4, 4, []float64{1, 0, 0, by.X, 0, 1, 0, by.Y, 0, 0, 1, by.Z, 0, 0, 0, 1})
}

// turn is a rotation about an axis of the head, right-handed, by a quaternion.
func turn(angle float64, axis r3.Vec) *mat.Dense {
	rot := r3.NewRotation(angle, axis)
	x, y, z := rot.Rotate(r3.Vec{X: 1}), rot.Rotate(r3.Vec{Y: 1}), rot.Rotate(r3.Vec{Z: 1})
	return mat.NewDense(4, 4, []float64{x.X, y.X, z.X, 0, x.Y, y.Y, z.Y, 0, x.Z, y.Z, z.Z, 0, 0, 0, 0, 1})
}

func product(factors ...*mat.Dense) *mat.Dense {
	out := factors[0]
	for _, f := range factors[1:] {
		var next mat.Dense
		next.Mul(out, f)
		out = &next
	}
	return out
}

func entries(m *mat.Dense) (out [16]float64) {
	copy(out[:], m.RawMatrix().Data)
	return out
}

func apply(m *[16]float64, p r3.Vec) r3.Vec {
	return r3.Vec{
		X: m[0]*p.X + m[1]*p.Y + m[2]*p.Z + m[3],
		Y: m[4]*p.X + m[5]*p.Y + m[6]*p.Z + m[7],
		Z: m[8]*p.X + m[9]*p.Y + m[10]*p.Z + m[11],
	}
}

// angleBetween is exact for small and for large angles alike.
func angleBetween(a, b r3.Vec) float64 {
	return math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b))
}

// prismShear moves what lies beyond the spectacle plane toward the apex: a base
// to the right moves it to the left, a base up moves it down (M13).
func prismShear(side float64, g sim.Glass) *mat.Dense {
	kx := -side * float64(g.BaseOut) / 100
	kz := -float64(g.BaseUp) / 100
	return mat.NewDense(4, 4, []float64{
		1, kx, 0, -kx * spectaclePlane,
		0, 1, 0, 0,
		0, kz, 1, -kz * spectaclePlane,
		0, 0, 0, 1,
	})
}

func displaced(side float64, g sim.Glass, p r3.Vec) r3.Vec {
	if p.Y <= spectaclePlane {
		return p
	}
	m := entries(prismShear(side, g))
	return apply(&m, p)
}

// aim gives the azimuth and elevation that take an eye from straight ahead to a
// point: first a turn in the level plane, then a common tilt about the line
// through both eyes.
func aim(centre, at r3.Vec) (azimuth, elevation float64) {
	d := r3.Unit(r3.Sub(at, centre))
	return math.Asin(max(-1, min(1, d.X))), math.Atan2(d.Z, d.Y)
}

// newWitness places the eyes of a set-up and samples its string.
func newWitness(s *sim.Setup) *witness {
	w := placeEyes(s)
	w.sampleString()
	w.splitStrands()
	return w
}

func placeEyes(s *sim.Setup) *witness {
	w := &witness{s: s, near: s.String.NearEnd, fixated: s.Look.Bead, at: s.Look.At, cross: -1}
	w.far = r3.Vec{X: s.String.AnchorSide, Z: s.String.AnchorHeight}
	w.far.Y = w.near.Y + math.Sqrt(s.String.Length*s.String.Length-
		(w.far.X-w.near.X)*(w.far.X-w.near.X)-(w.far.Z-w.near.Z)*(w.far.Z-w.near.Z))
	if w.fixated != sim.NoBead {
		w.at = s.Beads[w.fixated].At
	} else {
		for i, b := range s.Beads {
			if math.Abs(w.at-b.At) <= b.Diameter/2 {
				w.fixated = i
				break
			}
		}
	}
	w.target = w.place(w.at)
	deviation := math.Atan(float64(s.Posture.Deviation) / 100)
	vertical := math.Atan(float64(s.Posture.Vertical) / 100)
	cyclo := float64(s.Posture.Cyclo) * math.Pi / 180
	share := [2]float64{0.5, 0.5}
	w.suppress = s.Cover == sim.Neither && (s.Suppression.When != sim.WhenTurned || math.Abs(float64(s.Posture.Deviation)) > 1)
	w.fixing = w.whoFixes(s.Posture.Fixing)
	switch w.fixing {
	case sim.Right:
		share = [2]float64{0, 1}
	case sim.Left:
		share = [2]float64{1, 0}
	}
	for i := range sim.Eyes {
		e := &w.eyes[i]
		e.side = 1
		name := sim.Right
		if i == sim.LeftEye {
			e.side, name = -1, sim.Left
		}
		prism := s.Glass(name)
		e.centre = r3.Vec{X: e.side * s.Patient.PD / 2}
		bent := displaced(e.side, prism, w.target)
		goal := r3.Add(w.target, r3.Scale(s.Posture.PrismMet, r3.Sub(bent, w.target)))
		e.azimuth, e.elevation = aim(e.centre, goal)
		e.azimuth -= e.side * share[i] * deviation
		e.elevation += e.side * share[i] * vertical
		e.turn = share[i] * cyclo
		// Into the eye: undo, last first, the shift to the centre, the tilt
		// about the line of centres, the turn to the side, the torsion and the
		// way from centre to nodal point.
		into := product(
			shift(r3.Vec{Y: -s.Patient.Nodal}),
			turn(-e.side*e.turn, r3.Vec{Y: 1}),
			turn(e.azimuth, r3.Vec{Z: 1}),
			turn(-e.elevation, r3.Vec{X: 1}),
			shift(r3.Scale(-1, e.centre)),
		)
		e.pastPrism = entries(into)
		e.throughPrism = entries(product(into, prismShear(e.side, prism)))
		out := entries(product(
			turn(e.elevation, r3.Vec{X: 1}),
			turn(-e.azimuth, r3.Vec{Z: 1}),
		))
		e.axis = apply(&out, r3.Vec{Y: 1})
		e.nodal = r3.Add(e.centre, apply(&out, r3.Vec{Y: s.Patient.Nodal}))
		if share[i] == 1 {
			e.anomaly = math.Atan(float64(s.Posture.Anomaly)/100) * w.scaleOfAnomaly(e.side, deviation)
		}
		e.covered = s.Cover == name
		e.suppressed = w.suppress && s.Suppression.Eye == name
		e.targetDirection = e.own(w.target)
	}
	w.response = w.accommodation()
	return w
}

// scaleOfAnomaly is the angle at which an eye, turned by the deviation alone and with
// nothing before it, has the target, over the deviation (M6).
func (w *witness) scaleOfAnomaly(side, deviation float64) float64 {
	if math.Abs(100*math.Tan(deviation)) < 0.01 {
		return 1
	}
	centre := r3.Vec{X: side * w.s.Patient.PD / 2}
	azimuth, elevation := aim(centre, w.target)
	into := entries(product(
		shift(r3.Vec{Y: -w.s.Patient.Nodal}),
		turn(azimuth-side*deviation, r3.Vec{Z: 1}),
		turn(-elevation, r3.Vec{X: 1}),
		shift(r3.Scale(-1, centre)),
	))
	q := apply(&into, w.target)
	return math.Atan2(q.X, math.Hypot(q.Y, q.Z)) / (side * deviation)
}

func (w *witness) place(at float64) r3.Vec {
	t := at / w.s.String.Length
	p := r3.Add(r3.Scale(1-t, w.near), r3.Scale(t, w.far))
	p.Z -= 4 * w.s.String.Sag * t * (1 - t)
	return p
}

// own takes a point of the head frame to the eye's frame, as seen.
func (e *witnessEye) own(p r3.Vec) r3.Vec {
	if p.Y > spectaclePlane {
		return apply(&e.throughPrism, p)
	}
	return apply(&e.pastPrism, p)
}

// project gives what the eye has of p. place is where p belongs on the string, for
// the zones along it.
func (w *witness) project(eye sim.Eye, p r3.Vec, place float64) (m image) {
	e := &w.eyes[eye]
	m.q = e.own(p)
	trueAlpha := math.Asin(max(-1, min(1, m.q.X/r3.Norm(m.q))))
	m.beta = math.Atan2(m.q.Z, m.q.Y)
	m.alpha = trueAlpha - e.side*e.anomaly
	m.ahead = m.q.Y > 0 && math.Abs(m.alpha) < math.Pi/2
	if m.ahead {
		d := m.q // its perspective is the picture
		if e.anomaly != 0 {
			// Perceived elsewhere: a turn to the side, then the tilt.
			d = r3.NewRotation(m.beta, r3.Vec{X: 1}).Rotate(r3.NewRotation(-m.alpha, r3.Vec{Z: 1}).Rotate(r3.Vec{Y: 1}))
		}
		m.x, m.y = d.X/d.Y, d.Z/d.Y
		across, up := 60., 80.
		if trueAlpha*e.side > 0 {
			across = 107
		}
		if m.beta > 0 {
			up = 70
		}
		m.has = math.Hypot(trueAlpha/across, m.beta/up) <= math.Pi/180
	}
	depth := w.depth(e, m.q, place)
	m.weight, m.shown = 1-depth, depth <= 0.8
	return m
}

// whoFixes is the eye that fixes of the preferred one: each eye that is neither
// covered nor left out whole can.
func (w *witness) whoFixes(preferred sim.Side) sim.Side {
	can := map[sim.Side]bool{sim.Right: true, sim.Left: true}
	p := w.s.Suppression
	if w.suppress && p.Zone == sim.ZoneAll && p.Depth > 0.5 {
		can[p.Eye] = false
	}
	can[w.s.Cover] = false
	switch {
	case preferred == sim.Both && can[sim.Right] && can[sim.Left], can[preferred]:
		return preferred
	case can[sim.Right]:
		return sim.Right
	}
	return sim.Left
}

// depth is how much of what the eye has of a direction is kept from it.
func (w *witness) depth(e *witnessEye, q r3.Vec, place float64) float64 {
	s := w.s.Suppression
	switch {
	case e.covered:
		return 1
	case !e.suppressed:
		return 0
	}
	radius := float64(s.Radius) * math.Pi / 180
	fovea, target := r3.Vec{Y: 1}, e.targetDirection
	nasal := e.side * math.Atan2(q.X, math.Hypot(q.Y, q.Z)) // of the retina, rad
	inside := false
	switch s.Zone {
	case sim.ZoneAll:
		inside = true
	case sim.ZoneNearer:
		inside = place < w.at
	case sim.ZoneBeyond:
		inside = place > w.at
	case sim.ZoneNasal:
		inside = nasal > 1e-12
	case sim.ZoneTemporal:
		inside = nasal < -1e-12
	case sim.ZoneCentral:
		switch s.Centre {
		case sim.CentreFovea:
			inside = angleBetween(q, fovea) <= radius
		case sim.CentreTarget:
			inside = angleBetween(q, target) <= radius
		case sim.CentreBoth:
			inside = angleBetween(q, alongArc(fovea, target, q)) <= radius
		}
	}
	if inside {
		return s.Depth
	}
	return 0
}

// alongArc is the direction nearest to q on the great circle from a to b: by golden
// sections along it, set against both ends.
func alongArc(a, b, q r3.Vec) r3.Vec {
	b = r3.Unit(b)
	whole := angleBetween(a, b)
	axis := r3.Cross(a, b)
	if r3.Norm(axis) < 1e-12 {
		return a
	}
	at := func(t float64) r3.Vec { return r3.NewRotation(t*whole, axis).Rotate(a) }
	low, high := 0., 1.
	for range 100 {
		p, r := high-(high-low)/math.Phi, low+(high-low)/math.Phi
		if angleBetween(q, at(p)) < angleBetween(q, at(r)) {
			high = r
		} else {
			low = p
		}
	}
	nearest := at((low + high) / 2)
	for _, end := range []r3.Vec{a, b} {
		if angleBetween(q, end) < angleBetween(q, nearest) {
			nearest = end
		}
	}
	return nearest
}

func (m image) sees() bool { return m.has && m.shown }

// pair sets two images against each other: disparities, the eccentricity of the
// mean direction, and the angle between the two.
func pair(right, left image) (h, v, eps, apart float64) {
	eps = math.Atan(math.Hypot((right.x+left.x)/2, (right.y+left.y)/2))
	apart = angleBetween(r3.Vec{X: right.x, Y: 1, Z: right.y}, r3.Vec{X: left.x, Y: 1, Z: left.y})
	return left.alpha - right.alpha, right.beta - left.beta, eps, apart
}

func (w *witness) limits(eps float64) (h, v float64) {
	p := w.s.Patient
	return float64(p.FusionH)*arcmin + p.FusionHSlope*eps, float64(p.FusionV)*arcmin + p.FusionVSlope*eps
}

func (w *witness) single(h, v, eps float64) bool {
	limitH, limitV := w.limits(eps)
	return math.Abs(h) <= limitH && math.Abs(v) <= limitV
}

func (w *witness) sampleAt(place float64) (p sample) {
	p.place = place
	point := w.place(place)
	for i := range sim.Eyes {
		p.eye[i] = w.project(i, point, place)
		p.seen[i] = p.eye[i].sees() && !w.hidden(i, p.eye[i].q, point)
	}
	p.both = p.eye[0].ahead && p.eye[1].ahead
	if p.both {
		p.h, p.v, p.eps, p.apart = pair(p.eye[sim.RightEye], p.eye[sim.LeftEye])
		thick := w.s.String.Thickness * (1/r3.Norm(p.eye[0].q) + 1/r3.Norm(p.eye[1].q)) / 2
		twoLines := arcmin * (1 + p.eps*180/math.Pi/2)
		p.line = thick + twoLines
		p.doubled = p.seen[0] && p.seen[1] && !w.single(p.h, p.v, p.eps) && p.apart >= p.line
	}
	return p
}

// A strand is a chain of perceived directions, unit vectors, in links that each fit
// into a ball.
type strand struct {
	chain []r3.Vec
	axis  []r3.Vec // of the turn from each to the next
	balls []ball
}

type ball struct {
	middle r3.Vec
	radius float64
}

const link = 60

// strand is what an eye has of the whole string, sampled plainly, and of the great
// circles along which it goes on beyond its ends.
func (w *witness) strand(eye sim.Eye) (c strand) {
	at := func(place float64) (r3.Vec, bool) {
		m := w.project(eye, w.place(place), place)
		return r3.Unit(r3.Vec{X: m.x, Y: 1, Z: m.y}), m.ahead
	}
	var ends []float64 // the first and the last place ahead
	add := func(place float64, d r3.Vec) {
		ends = append(ends[:min(len(ends), 1)], place)
		c.chain = append(c.chain, d)
	}
	for i, p := range w.samples {
		if i > 0 && p.eye[eye].ahead != w.samples[i-1].eye[eye].ahead {
			// Where it comes from behind the eye or goes there.
			in, out := p.place, w.samples[i-1].place
			if !p.eye[eye].ahead {
				in, out = out, in
			}
			edge := bisect(in, out, func(x float64) bool { _, ok := at(x); return ok })
			d, _ := at(edge)
			add(edge, d)
		}
		if m := p.eye[eye]; m.ahead {
			add(p.place, r3.Unit(r3.Vec{X: m.x, Y: 1, Z: m.y}))
		}
	}
	if len(c.chain) < 2 {
		return strand{}
	}
	// beyond is the great circle on from an end.
	beyond := func(end, inward float64) (on []r3.Vec) {
		tip, _ := at(end)
		const h = 1e-3
		a, _ := at(end + inward*h)
		b, _ := at(end + 2*inward*h)
		// A parabola through the three, so that no bend is left out.
		away := r3.Sub(r3.Scale(3, tip), r3.Sub(r3.Scale(4, a), b))
		axis := r3.Cross(tip, away)
		if r3.Norm(axis) < 1e-12*h {
			return nil
		}
		for degrees := 5.; degrees <= 175; degrees += 5 {
			on = append(on, r3.NewRotation(degrees*math.Pi/180, axis).Rotate(tip))
		}
		return on
	}
	first := beyond(ends[0], 1)
	slices.Reverse(first)
	c.chain = slices.Concat(first, c.chain, beyond(ends[1], -1))
	for i := range len(c.chain) - 1 {
		c.axis = append(c.axis, r3.Unit(r3.Cross(c.chain[i], c.chain[i+1])))
	}
	for i := 0; i+1 < len(c.chain); i += link {
		part := c.chain[i:min(i+link+1, len(c.chain))]
		middle := part[len(part)/2]
		far := 0.
		for _, d := range part {
			far = max(far, r3.Norm(r3.Sub(middle, d)))
		}
		c.balls = append(c.balls, ball{middle, far})
	}
	return c
}

// within says whether a direction lies nearer than an angle to the strand.
func (c *strand) within(d r3.Vec, angle float64) bool {
	chord, sine := 2*math.Sin(min(angle, math.Pi)/2), math.Sin(angle) // of two points of the unit sphere
	for n := range c.balls {
		ball := c.balls[n]
		if reach := ball.radius + chord; r3.Norm2(r3.Sub(d, ball.middle)) > reach*reach {
			continue
		}
		part := c.chain[n*link : min((n+1)*link+1, len(c.chain))]
		axes := c.axis[n*link:][:len(part)-1]
		a := part[0]
		for i := range axes {
			b, axis := part[i+1], axes[i]
			if min(r3.Norm2(r3.Sub(d, a)), r3.Norm2(r3.Sub(d, b))) < chord*chord {
				return true
			}
			if off := r3.Dot(d, axis); -sine < off && off < sine &&
				r3.Dot(r3.Cross(a, d), axis) > 0 && r3.Dot(r3.Cross(d, b), axis) > 0 {
				return true
			}
			a = b
		}
	}
	return false
}

// splitStrands finds which samples are seen as two strings.
func (w *witness) splitStrands() {
	strands := [2]strand{w.strand(sim.RightEye), w.strand(sim.LeftEye)}
	for i := range w.samples {
		p := &w.samples[i]
		p.split = p.doubled
		for e := range sim.Eyes {
			m := &p.eye[e]
			p.split = p.split && !strands[e.Other()].within(r3.Unit(r3.Vec{X: m.x, Y: 1, Z: m.y}), p.line)
		}
	}
}

// hidden says whether the fixated bead hides a point of the string.
func (w *witness) hidden(eye sim.Eye, q, point r3.Vec) bool {
	if w.fixated == sim.NoBead {
		return false
	}
	b := w.s.Beads[w.fixated]
	middle := w.place(b.At)
	if r3.Norm(r3.Sub(point, middle)) < b.Diameter/2 {
		return true
	}
	toBead := w.eyes[eye].own(middle)
	return r3.Norm(q) > r3.Norm(toBead) &&
		angleBetween(q, toBead) < math.Asin(min(1, b.Diameter/2/r3.Norm(toBead)))
}

// sampleString samples the string, denser toward the nose in the way that a
// perspective needs, and puts the place looked at and the crossing among the
// samples.
func (w *witness) sampleString() {
	length := w.s.String.Length
	const knee = 25.0 // mm: about the distance at which a string end passes an eye
	places := make([]float64, 0, samplesOnString+2)
	for i := range samplesOnString {
		u := float64(i) / (samplesOnString - 1)
		places = append(places, min(length, knee*(math.Pow(1+length/knee, u)-1)))
	}
	i, _ := slices.BinarySearch(places, w.at)
	places = slices.Insert(places, i, w.at)
	w.samples = make([]sample, 0, samplesOnString+2)
	for _, p := range places {
		w.samples = append(w.samples, w.sampleAt(p))
	}
	if at, ok := w.crossing(); ok {
		w.cross, _ = slices.BinarySearchFunc(w.samples, at, func(p sample, at float64) int { return cmp.Compare(p.place, at) })
		w.samples = slices.Insert(w.samples, w.cross, w.sampleAt(at))
	}
}

// bisect halves [from, to] until nothing is left between: good is true at from
// and false at to.
func bisect(from, to float64, good func(float64) bool) float64 {
	for range 60 {
		middle := (from + to) / 2
		if good(middle) {
			from = middle
		} else {
			to = middle
		}
	}
	return from
}

// crossing is the place of zero horizontal disparity nearest to the target.
func (w *witness) crossing() (at float64, ok bool) {
	best := math.Inf(1)
	offer := func(place float64) {
		if d := math.Abs(place - w.at); d < best {
			best, at, ok = d, place, true
		}
	}
	const nothing = 1e-12 // rad: rounding, as when the target is an end of the string
	for i, p := range w.samples {
		if !p.both {
			continue
		}
		if math.Abs(p.h) < nothing {
			offer(p.place)
		}
		if i+1 == len(w.samples) || !w.samples[i+1].both || p.h*w.samples[i+1].h >= 0 {
			continue
		}
		offer(bisect(p.place, w.samples[i+1].place, func(x float64) bool { return w.sampleAt(x).h*p.h > 0 }))
	}
	return at, ok
}

// fused is the stretch round the crossing in which the disparities stay within
// Panum's limits, or within spare of them. Where they come near the limits, or the
// direction near the fovea, the samples stand closer.
func (w *witness) fused(spare float64) (from, to float64, ok bool) {
	over := func(p sample) float64 {
		if !p.both {
			return math.Inf(1)
		}
		limitH, limitV := w.limits(p.eps)
		return max(math.Abs(p.h)-limitH, math.Abs(p.v)-limitV) - spare
	}
	if w.cross < 0 || over(w.samples[w.cross]) > 0 {
		return 0, 0, false
	}
	good := func(x float64) bool { return over(w.sampleAt(x)) <= 0 }
	limit := func(step int) float64 {
		last := w.samples[w.cross]
		for i := w.cross + step; i >= 0 && i < len(w.samples); i += step {
			next, parts := w.samples[i], 1.
			// What a sample leaves out lies within what it moves by from the last.
			moved := math.Abs(next.h-last.h) + math.Abs(next.v-last.v) +
				max(w.s.Patient.FusionHSlope, w.s.Patient.FusionVSlope)*angleBetween(last.eye[0].q, next.eye[0].q)
			if math.Max(over(last), over(next)) > -2*moved {
				parts = 50
			}
			from := last.place
			for part := 1.; part <= parts; part++ {
				x := last.place + (next.place-last.place)*part/parts
				if !good(x) {
					return bisect(from, x, good)
				}
				from = x
			}
			last = next
		}
		return last.place
	}
	return limit(-1), limit(+1), true
}

// A longest is the longest run of samples of each kind, in radians.
type longest struct {
	split, one float64    // split, in the longer of the two eyes; seen by one eye
	doubled    [2]float64 // in each eye
}

// runs is the longest of each kind among the samples from one index to another.
func (w *witness) runs(from, to int) (l longest) {
	var split, doubled, alone [2]float64
	// grow adds a step to a run, or ends it.
	grow := func(run, best *float64, step float64, goesOn bool) {
		if *run += step; !goesOn {
			*run = 0
		}
		*best = max(*best, *run)
	}
	for i := from + 1; i <= to; i++ {
		a, b := &w.samples[i-1], &w.samples[i]
		for e := range sim.Eyes {
			step := angleBetween(a.eye[e].q, b.eye[e].q)
			grow(&alone[e], &l.one, step, a.seen[e] && b.seen[e])
			grow(&split[e], &l.split, step, a.split && b.split)
			grow(&doubled[e], &l.doubled[e], step, a.doubled && b.doubled)
		}
	}
	return l
}

// A run longer than sure is long enough for certain, one shorter than doubtful is
// not: in between plain samples do not decide.
const doubtful, sure = 24 * arcmin, 36 * arcmin

// A count is how many strings a section shows: any number from low to high where a
// run is too near the noticed length to tell.
type count struct{ low, high int }

func (w *witness) count(from, to int) (c count) {
	l := w.runs(from, to)
	of := func(least float64) int {
		switch {
		case l.split >= least:
			return 2
		case l.one >= least:
			return 1
		}
		return 0
	}
	return count{of(sure), of(doubtful)}
}

// overlaid says whether the strands of a section lie on one another, and whether
// that is certain.
func (w *witness) overlaid(from, to int) (overlaid, certain bool) {
	l := w.runs(from, to)
	both := min(l.doubled[0], l.doubled[1])
	clear := func(run float64) bool { return run < doubtful || run >= sure }
	return both >= sure && l.split < doubtful, both < doubtful || l.split >= sure || clear(both) && clear(l.split)
}

func (w *witness) index(place float64) int {
	i, _ := slices.BinarySearchFunc(w.samples, place, func(p sample, place float64) int { return cmp.Compare(p.place, place) })
	return i
}

// axes is the closest approach of the two lines of sight by least squares.
func (w *witness) axes() (gap float64, point r3.Vec, meet bool) {
	r, l := w.eyes[sim.RightEye], w.eyes[sim.LeftEye]
	a := mat.NewDense(3, 2, []float64{r.axis.X, -l.axis.X, r.axis.Y, -l.axis.Y, r.axis.Z, -l.axis.Z})
	d := r3.Sub(l.centre, r.centre)
	var along mat.VecDense
	if err := along.SolveVec(a, mat.NewVecDense(3, []float64{d.X, d.Y, d.Z})); err != nil {
		return 0, r3.Vec{}, false
	}
	if along.AtVec(0) < 0 || along.AtVec(1) < 0 {
		return 0, r3.Vec{}, false
	}
	pr := r3.Add(r.centre, r3.Scale(along.AtVec(0), r.axis))
	pl := r3.Add(l.centre, r3.Scale(along.AtVec(1), l.axis))
	return r3.Norm(r3.Sub(pr, pl)), r3.Scale(0.5, r3.Add(pr, pl)), true
}

// A meeting is where the two strands meet in the picture: the place on the
// string that each eye has there, and how steeply the strands cross.
type meeting struct {
	right, left float64
	x, y        float64
	steep       float64 // sine of the angle between the strands
}

// meetings is every place of the picture where the two strands meet, the lines
// going on beyond the string's ends where the strands are straight.
func (w *witness) meetings() []meeting {
	if !w.straight() {
		return w.curvedMeetings()
	}
	if m, ok := w.straightMeeting(); ok {
		return []meeting{m}
	}
	return nil
}

// straight says whether each strand is a straight line of the picture.
func (w *witness) straight() bool {
	return w.s.String.Sag == 0 && w.eyes[0].anomaly == 0 && w.eyes[1].anomaly == 0
}

// bend is how far, in radians, the points of both strands stray from the line
// through the two farthest of them.
func (w *witness) bend() (stray float64) {
	var points []r3.Vec
	for i := 0; i < len(w.samples); i += 60 {
		for _, m := range w.samples[i].eye {
			if m.ahead {
				points = append(points, r3.Unit(r3.Vec{X: m.x, Y: 1, Z: m.y}))
			}
		}
	}
	if len(points) < 3 {
		return math.Inf(1)
	}
	widest, normal := 0., r3.Vec{}
	for _, p := range points {
		if n := r3.Cross(points[0], p); r3.Norm(n) > widest {
			widest, normal = r3.Norm(n), r3.Unit(n)
		}
	}
	for _, p := range points {
		stray = max(stray, math.Abs(r3.Dot(p, normal)))
	}
	return stray
}

// straightMeeting is the common point of two lines of the projective plane.
func (w *witness) straightMeeting() (m meeting, ok bool) {
	var start, along, line [2]r3.Vec
	for e := range start {
		start[e] = w.eyes[e].own(w.near)
		along[e] = r3.Scale(1/w.s.String.Length, r3.Sub(w.eyes[e].own(w.far), start[e]))
		line[e] = r3.Cross(start[e], along[e])
		if r3.Norm(line[e]) < 1e-9*r3.Norm(start[e]) {
			return m, false // the eye looks along the string
		}
		line[e] = r3.Unit(line[e])
	}
	p := r3.Cross(line[0], line[1])
	m.steep = r3.Norm(p)
	var at [2]float64
	for e := range at {
		rest, run := r3.Cross(start[e], p), r3.Cross(along[e], p)
		at[e] = -r3.Dot(rest, run) / r3.Dot(run, run)
	}
	m.right, m.left = at[sim.RightEye], at[sim.LeftEye]
	m.x, m.y = p.X/p.Y, p.Z/p.Y
	return m, true
}

// curvedMeetings intersects the two strands as polylines, and sharpens each
// meeting by Newton's method on the two places.
func (w *witness) curvedMeetings() (all []meeting) {
	const coarse = 240
	type corner struct {
		place, x, y float64
		ok          bool
	}
	var strand [2][]corner
	for k := 0; k <= coarse; k++ {
		p := &w.samples[k*(len(w.samples)-1)/coarse]
		for e := range strand {
			strand[e] = append(strand[e], corner{p.place, p.eye[e].x, p.eye[e].y, p.eye[e].ahead})
		}
	}
	for i := range coarse {
		a, b := strand[sim.RightEye][i], strand[sim.RightEye][i+1]
		if !a.ok || !b.ok {
			continue
		}
		for j := range coarse {
			c, d := strand[sim.LeftEye][j], strand[sim.LeftEye][j+1]
			if !c.ok || !d.ok {
				continue
			}
			ux, uy, vx, vy, wx, wy := b.x-a.x, b.y-a.y, d.x-c.x, d.y-c.y, c.x-a.x, c.y-a.y
			det := ux*vy - uy*vx
			if det == 0 {
				continue
			}
			t, u := (wx*vy-wy*vx)/det, (wx*uy-wy*ux)/det
			if t < -0.1 || t > 1.1 || u < -0.1 || u > 1.1 {
				continue
			}
			if m, ok := w.sharpen(a.place+t*(b.place-a.place), c.place+u*(d.place-c.place)); ok {
				known := false
				for _, n := range all {
					known = known || math.Abs(n.right-m.right)+math.Abs(n.left-m.left) < 1e-3
				}
				if !known {
					all = append(all, m)
				}
			}
		}
	}
	return all
}

// A half is where one strand, which goes on in the picture beyond an end of the
// string as straight as it leaves it, passes the other on the string.
type half struct {
	eye    sim.Eye // whose strand is on the string there
	place  float64 // of it
	beyond float64 // how far beyond its end the other is, in mm at the pace of the end
	steep  float64
}

// halves is every one of them. A strand that ends because the string goes behind the
// eye does not go on in the picture.
func (w *witness) halves() (all []half) {
	length := w.s.String.Length
	for e := range sim.Eyes {
		for _, end := range []float64{0, length} {
			// The straight line in space that touches the string at its end touches
			// the strand too.
			tangent := r3.Scale(1/length, r3.Sub(w.far, w.near))
			tangent.Z -= 4 * w.s.String.Sag / length * (1 - 2*end/length)
			out := math.Copysign(1, end-length/2)
			const h = 1e-2 // mm
			tip := w.project(e, w.place(end), end)
			back := w.project(e, r3.Sub(w.place(end), r3.Scale(out*h, tangent)), end)
			ahead := w.project(e, r3.Add(w.place(end), r3.Scale(out*h, tangent)), end)
			if !tip.ahead || !back.ahead || !ahead.ahead {
				continue
			}
			dx, dy := (ahead.x-back.x)/(2*h), (ahead.y-back.y)/(2*h)
			pace := math.Hypot(dx, dy)
			aside := func(m image) float64 { return (dx*(m.y-tip.y) - dy*(m.x-tip.x)) / pace }
			other := e.Other()
			for i := 1; i < len(w.samples); i++ {
				a, b := w.samples[i-1], w.samples[i]
				if !a.eye[other].ahead || !b.eye[other].ahead || (aside(a.eye[other]) > 0) == (aside(b.eye[other]) > 0) {
					continue
				}
				place := bisect(a.place, b.place, func(x float64) bool {
					return (aside(w.sampleAt(x).eye[other]) > 0) == (aside(a.eye[other]) > 0)
				})
				m := w.sampleAt(place).eye[other]
				along := ((m.x-tip.x)*dx + (m.y-tip.y)*dy) / (pace * pace)
				step := math.Hypot(b.eye[other].x-a.eye[other].x, b.eye[other].y-a.eye[other].y)
				steep := math.Abs(aside(b.eye[other])-aside(a.eye[other])) / step
				if along >= -1e-6 {
					all = append(all, half{other, place, along, steep})
				}
			}
		}
	}
	return all
}

func (w *witness) sharpen(right, left float64) (m meeting, ok bool) {
	at := func(eye sim.Eye, place float64) (image, bool) {
		p := w.project(eye, w.place(place), place)
		return p, p.ahead
	}
	const h = 1e-3
	for range 30 {
		r, ok1 := at(sim.RightEye, right)
		l, ok2 := at(sim.LeftEye, left)
		r2, ok3 := at(sim.RightEye, right+h)
		l2, ok4 := at(sim.LeftEye, left+h)
		if !ok1 || !ok2 || !ok3 || !ok4 {
			return m, false
		}
		ux, uy, vx, vy := (r2.x-r.x)/h, (r2.y-r.y)/h, (l2.x-l.x)/h, (l2.y-l.y)/h
		det := ux*vy - uy*vx
		if det == 0 {
			return m, false
		}
		wx, wy := l.x-r.x, l.y-r.y
		right += (wx*vy - wy*vx) / det
		left += (wx*uy - wy*ux) / det
		m = meeting{right, left, (r.x + l.x) / 2, (r.y + l.y) / 2, math.Abs(det) / math.Hypot(ux, uy) / math.Hypot(vx, vy)}
		if math.Hypot(wx, wy) < 1e-14 {
			break
		}
	}
	r, ok1 := at(sim.RightEye, right)
	l, ok2 := at(sim.LeftEye, left)
	return m, ok1 && ok2 && math.Hypot(r.x-l.x, r.y-l.y) < 1e-10
}

// crossingSeen looks, outward from the crossing on either side, for a place that
// both eyes see. The reach returned is the angle along the strand, in the eye
// where it is longer, of the nearest such place; infinite if there is none.
func (w *witness) crossingSeen() (reach float64) {
	reach = math.Inf(1)
	if w.cross < 0 {
		return reach
	}
	start := w.samples[w.cross]
	for _, side := range []float64{-1, 1} {
		var path [2]float64
		last := start
		for path[0] <= 60*arcmin && path[1] <= 60*arcmin {
			// About a quarter of an arc minute a step, whatever the distance.
			const probe = 1e-3
			ahead := w.sampleAt(last.place + side*probe)
			speed := max(angleBetween(ahead.eye[0].q, last.eye[0].q), angleBetween(ahead.eye[1].q, last.eye[1].q)) / probe
			step := min(20, 0.25*arcmin/speed)
			next := w.sampleAt(max(0, min(w.s.String.Length, last.place+side*step)))
			if next.place == last.place {
				break
			}
			for e := range path {
				path[e] += angleBetween(next.eye[e].q, last.eye[e].q)
			}
			if next.eye[0].sees() && next.eye[1].sees() {
				reach = min(reach, max(path[0], path[1]))
				break
			}
			last = next
		}
	}
	return reach
}

// gradient is the disparity gradient of the string at the place looked at, from
// half a millimetre on either side of it as far as there is string: the change of
// disparity, and the angle by which the mean direction moves.
func (w *witness) gradient() (change, moved float64, ok bool) {
	a, b := w.sampleAt(max(0, w.at-0.5)), w.sampleAt(min(w.s.String.Length, w.at+0.5))
	if !a.both || !b.both {
		return 0, 0, false
	}
	mean := func(p sample) r3.Vec {
		return r3.Vec{X: (p.eye[0].x + p.eye[1].x) / 2, Y: 1, Z: (p.eye[0].y + p.eye[1].y) / 2}
	}
	return math.Abs(b.h - a.h), angleBetween(mean(a), mean(b)), true
}

// demandOn is what a point asks of an eye's accommodation, not held at 0.
func (w *witness) demandOn(p r3.Vec, side sim.Side) float64 {
	d := max(1, r3.Norm(p)-spectaclePlane) / 1000
	return 1/d + float64(w.s.Glass(side).Refraction) - float64(w.s.Glass(side).Lens)
}

// targetDemand is the accommodation demand at the fixated target, of the eye that
// drives: the fixing one, or the least ametropic of those that see the target.
func (w *witness) targetDemand() float64 {
	if w.fixing != sim.Both {
		return max(0, w.demandOn(w.target, w.fixing))
	}
	least := math.Inf(1)
	blind := !w.project(sim.RightEye, w.target, w.at).shown && !w.project(sim.LeftEye, w.target, w.at).shown
	for i := range sim.Eyes {
		if blind || w.project(i, w.target, w.at).shown {
			least = min(least, w.demandOn(w.target, i.Side()))
		}
	}
	return max(0, least)
}

func (w *witness) accommodation() float64 {
	if a := w.s.Posture.Accommodation; a.OK {
		return float64(a.Value)
	}
	return w.responseTo(w.targetDemand())
}

// responseTo is what the eyes accommodate where they are asked for so much.
func (w *witness) responseTo(asked float64) float64 {
	p := w.s.Patient
	amplitude := max(0, 18.5-0.30*p.Age) // row C18, mean
	if p.Amplitude.OK {
		amplitude = float64(p.Amplitude.Value)
	}
	asked = max(0, asked)
	return max(0, min(amplitude, asked-float64(p.Lag)*min(1, asked/2.5)))
}

func (w *witness) blur(p r3.Vec, side sim.Side) float64 {
	return w.s.Patient.Pupil / 1000 * math.Abs(w.demandOn(p, side)-w.response)
}

// clarity is how sharp the place looked at is, by the clearest eye that sees it.
func (w *witness) clarity() (clearest sim.Clarity, uneven bool) {
	var classes []int
	for i := range sim.Eyes {
		if !w.project(i, w.target, w.at).sees() {
			continue
		}
		class := 2
		switch blur := w.blur(w.target, i.Side()) / arcmin; {
		case blur <= 5:
			class = 0
		case blur <= 15:
			class = 1
		}
		classes = append(classes, class)
	}
	if classes == nil {
		return sim.ClarityNone, false
	}
	slices.Sort(classes)
	return [...]sim.Clarity{sim.ClarityClear, sim.ClaritySoft, sim.ClarityBlurred}[classes[0]], classes[0] != classes[len(classes)-1]
}

// needsCare is M20 for a typed posture.
func (w *witness) needsCare() bool {
	p, s := w.s.Posture, w.s.Suppression
	above := func(x, bound float64) bool { return math.Abs(x) > bound }
	return s.Eye != sim.Neither && s.Depth >= 0.3 || p.Anomaly != 0 ||
		p.Fixing != sim.Both && above(float64(p.Deviation), 1) || above(float64(p.Vertical), 1) ||
		above(float64(p.Cyclo), 3) || above(float64(p.Deviation), 10)
}
