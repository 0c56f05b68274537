package sim

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// SpectaclePlane is how far the spectacle plane lies ahead of the centres of
// rotation, mm: the allowance of the clinical form of the demand (row V1).
const SpectaclePlane = 27

// The limits of one eye's field from its visual axis (row S1: Rönne, Traquair;
// 60° nasal, 107° temporal, 70° up, 80° down).
const (
	fieldNasal    = 60 * math.Pi / 180
	fieldTemporal = 107 * math.Pi / 180
	fieldUp       = 70 * math.Pi / 180
	fieldDown     = 80 * math.Pi / 180
)

// eye is one eye during one look: where it stands and points, what stands before
// it, and what is left of its image.
type eye struct {
	side          float64 // s of M3: +1 right, −1 left
	centre, nodal r3.Vec
	f, r, u       r3.Vec // axes of the eye frame, head frame (M3)

	gaze

	driftX, driftZ float64 // what the prism adds to x and z, per mm beyond the spectacle plane (M13)
	lens           float64 // D
	refraction     float64 // D, hyperopia +

	anomalous   bool
	sinA, cosA  float64 // of s·κ·A (M6)
	weight      weight
	hider       point   // the centre of the fixated bead
	hiderRadius float64 // 0: no bead at the fixated place
}

// point is one point of the scene in one eye's image.
type point struct {
	q     r3.Vec  // from the nodal point through the prism, eye frame (x right, y along the axis, z up), mm
	per   float64 // 1/q.Y
	x, y  float64 // perceived tangents (M5, M6)
	t     float64 // tan of the perceived α
	ahead bool    // before the eye, and perceived before it
}

// stand puts the eye in the head, with what stands before it (M2, M13).
func (e *eye) stand(which Eye, s *Setup) {
	g := s.Glass(which.Side())
	*e = eye{
		side:   which.sign(),
		centre: r3.Vec{X: which.sign() * s.Patient.PD / 2},
		lens:   float64(g.Lens), refraction: float64(g.Refraction),
		driftX: -which.sign() * float64(g.BaseOut) / 100,
		driftZ: -float64(g.BaseUp) / 100,
	}
}

// gaze is where an eye points: Helmholtz angles, radians.
type gaze struct{ azimuth, elevation, torsion float64 }

// aim gives the gaze of an eye that stands, at the target: ideal, and with the
// error of posture (M3, M4, M13).
func (e *eye) aim(share float64, p *Posture, target r3.Vec) (ideal, actual gaze) {
	ideal.azimuth, ideal.elevation = gazeAt(r3.Sub(e.displaced(target, p.PrismMet), e.centre))
	actual = gaze{
		azimuth:   ideal.azimuth - e.side*share*float64(p.Deviation.Angle()),
		elevation: ideal.elevation + e.side*share*float64(p.Vertical.Angle()),
		torsion:   share * float64(p.Cyclo.Angle()),
	}
	return ideal, actual
}

// turnTo turns the eye to a gaze (M2, M3).
func (e *eye) turnTo(g gaze, s *Setup) {
	e.gaze = g
	e.turn()
	e.nodal = r3.Add(e.centre, r3.Scale(s.Patient.Nodal, e.f))
}

// correspond gives an eye that carries the whole error its angle of anomaly, scaled
// at the target (M6).
func (e *eye) correspond(s *Setup, target r3.Vec) {
	p := &s.Posture
	if p.Anomaly == 0 {
		return
	}
	scale := atTarget(p.Deviation, r3.Norm(r3.Sub(target, e.centre)), s.Patient.Nodal)
	e.anomalous = true
	e.sinA, e.cosA = math.Sincos(e.side * scale * float64(p.Anomaly.Angle()))
}

// noTurn is the horizontal error below which the scale of an anomaly is 1, Δ (M6).
const noTurn = 0.01

// atTarget is κ of M6: the angle at the nodal point between the axis of an eye,
// turned by an error, and the target, over that error. It is more than 1 as the
// nodal point turns with the eye. The error is turned in the target's own plane of
// regard, so that a triangle gives the angle; what prisms, a vertical error and
// torsion do besides does not scale the anomaly.
func atTarget(error Prism, distance, nodal float64) float64 {
	if abs(error) < noTurn {
		return 1
	}
	e := float64(error.Angle())
	return math.Atan2(distance*math.Sin(e), distance*math.Cos(e)-nodal) / e
}

// share is the part of the error that an eye carries (M4).
func (p *Posture) share(eye Eye) float64 {
	switch p.Fixing {
	case Right, Left:
		if p.Fixing == eye.Side() {
			return 0
		}
		return 1
	}
	return 0.5
}

// gazeAt gives the Helmholtz azimuth and elevation of a direction (M3).
func gazeAt(d r3.Vec) (azimuth, elevation float64) {
	return math.Atan2(d.X, math.Hypot(d.Y, d.Z)), math.Atan2(d.Z, d.Y)
}

// turn sets the axes of the eye frame from its angles (M3).
func (e *eye) turn() {
	sm, cm := math.Sincos(e.azimuth)
	sl, cl := math.Sincos(e.elevation)
	st, ct := math.Sincos(e.torsion)
	e.f = r3.Vec{X: sm, Y: cm * cl, Z: cm * sl}
	r := r3.Vec{X: cm, Y: -sm * cl, Z: -sm * sl}
	u := r3.Vec{Y: -sl, Z: cl}
	e.u = r3.Add(r3.Scale(ct, u), r3.Scale(e.side*st, r))
	e.r = r3.Sub(r3.Scale(ct, r), r3.Scale(e.side*st, u))
}

// displaced is where a point appears through the share met of the prism: moved
// toward the apex within its own frontal plane, not at all nearer than the
// spectacle plane (M13, row P6).
func (e *eye) displaced(p r3.Vec, met float64) r3.Vec {
	if d := (p.Y - SpectaclePlane) * met; d > 0 {
		p.X += d * e.driftX
		p.Z += d * e.driftZ
	}
	return p
}

// see projects a point of the head frame (M5, M6).
func (e *eye) see(p r3.Vec, i *point) { e.perceive(e.toward(p), i) }

// toward is a point of the head frame from the nodal point, through the prism, in
// the eye frame.
func (e *eye) toward(p r3.Vec) r3.Vec {
	d := r3.Sub(e.displaced(p, 1), e.nodal)
	return r3.Vec{X: r3.Dot(d, e.r), Y: r3.Dot(d, e.f), Z: r3.Dot(d, e.u)}
}

// perceive is where the eye sees what lies at q.
func (e *eye) perceive(q r3.Vec, i *point) {
	r, f, u := q.X, q.Y, q.Z
	*i = point{q: q}
	if f <= 0 {
		return
	}
	w, per := math.Sqrt(f*f+u*u), 1/f
	i.per = per
	if e.anomalous {
		turned := r*e.sinA + w*e.cosA
		if turned <= 0 {
			return
		}
		i.t = (r*e.cosA - w*e.sinA) / turned
		i.x = i.t * w * per
	} else {
		i.t = r / w
		i.x = r * per
	}
	i.y = u * per
	i.ahead = true
}

// distance is that of the point from the nodal point, mm.
func (i *point) distance() float64 { return math.Sqrt(r3.Norm2(i.q)) }

// alpha and beta are the perceived direction in the eye's Helmholtz frame (M5).
func (i *point) alpha() float64 { return math.Atan(i.t) }
func (i *point) beta() float64  { return math.Atan(i.y) }

// inField says whether the eye has the point in its field: by the true direction,
// whatever is perceived, but perceived before the eye (M5).
func (e *eye) inField(i *point) bool {
	if !i.ahead {
		return false
	}
	r, f, u := i.q.X, i.q.Y, i.q.Z
	across, updown := 1/fieldNasal, 1/fieldDown
	if r*e.side > 0 {
		across = 1 / fieldTemporal
	}
	if u > 0 {
		updown = 1 / fieldUp
	}
	// An angle is at most its tangent, so this much is inside for certain.
	a, b := r*across, u*updown
	if a*a+b*b <= f*f {
		return true
	}
	a = math.Atan2(r, math.Sqrt(f*f+u*u)) * across
	b = math.Atan2(u, f) * updown
	return a*a+b*b <= 1
}

// hides says whether the fixated bead hides a point of the string from the eye. The
// string inside the body is hidden from both eyes, see lookState.sight.
func (e *eye) hides(i *point) bool {
	return e.hiderRadius != 0 && behind(i.q, e.hider.q, e.hiderRadius)
}

// behind says whether a point lies behind a bead of a radius: beyond its centre and
// inside its outline (M10). Both are seen from the nodal point.
func behind(p, centre r3.Vec, radius float64) bool {
	d2 := r3.Norm2(p)
	if d2 <= r3.Norm2(centre) {
		return false
	}
	// angle < asin(radius/distance), both sides multiplied out.
	return r3.Norm2(r3.Cross(p, centre)) < radius*radius*d2 && r3.Dot(p, centre) > 0
}

// weight is what cover and suppression leave of one eye's image (M9).
type weight struct {
	inside float64 // the weight where the zone applies
	seen   bool    // what is inside is still seen
	zone   Zone
	side   float64 // s of M3

	// The central zone, eye frame: the unit vectors to its middle, and where it has
	// two, to the other one with the arc between them.
	middle, other r3.Vec
	arc           arc
	cos, sin      float64 // of its radius
}

// arc is the great circle from one direction to another: its pole, and the unit
// vectors that point along it at either end, inward.
type arc struct{ pole, begin, end r3.Vec }

// seenUpTo is the depth of suppression up to which an image is still seen, and
// fainterFrom the one above which it is fainter: modelling choices (M9).
const (
	seenUpTo    = 0.8
	fainterFrom = 0.3
)

// suppress puts the cover and the suppression of the moment before the eye, which
// has turned.
func (e *eye) suppress(which Eye, s *Setup, target r3.Vec) {
	w := &e.weight
	*w = weight{inside: 1, seen: true, zone: ZoneAll, side: e.side}
	if s.Cover == which.Side() {
		w.inside, w.seen = 0, false
		return
	}
	if s.Suppression.Eye != which.Side() {
		return
	}
	w.inside, w.seen, w.zone = 1-s.Suppression.Depth, s.Suppression.Depth <= seenUpTo, s.Suppression.Zone
	if w.zone != ZoneCentral {
		return
	}
	w.sin, w.cos = math.Sincos(float64(s.Suppression.Radius.Angle()))
	fovea := r3.Vec{Y: 1}
	w.middle, w.other = fovea, fovea
	q := e.toward(target)
	round := s.Suppression.Centre
	if round != CentreTarget && round != CentreBoth || q == (r3.Vec{}) {
		return
	}
	w.other = r3.Unit(q)
	if round == CentreTarget {
		w.middle = w.other
		return
	}
	if pole := r3.Cross(fovea, w.other); r3.Norm(pole) > exact {
		pole = r3.Unit(pole)
		w.arc = arc{pole, r3.Cross(pole, fovea), r3.Cross(w.other, pole)}
	}
}

// at is the weight of the image of a point that belongs to a place on the string;
// fixated is the place that belongs to neither nearer nor beyond.
func (w *weight) at(i *point, place, fixated float64) float64 {
	if w.inside == 1 || !w.takes(i, place, fixated) {
		return 1
	}
	return w.inside
}

// sees says whether what is left of the image is seen there.
func (w *weight) sees(i *point, place, fixated float64) bool {
	return w.seen || !w.takes(i, place, fixated)
}

// blind says whether nothing of the image is seen.
func (w *weight) blind() bool { return !w.seen && w.zone == ZoneAll }

// takes says whether a point lies in the zone, by its true direction or its place.
func (w *weight) takes(i *point, place, fixated float64) bool {
	switch w.zone {
	case ZoneCentral:
		return w.central(i)
	case ZoneNasal: // the half of the retina; it sees the temporal half of the field
		return w.side*i.q.X > midline*math.Hypot(i.q.Y, i.q.Z)
	case ZoneTemporal:
		return w.side*i.q.X < -midline*math.Hypot(i.q.Y, i.q.Z)
	case ZoneNearer:
		return place < fixated
	case ZoneBeyond:
		return place > fixated
	}
	return true
}

// central says whether a point lies within the radius of a middle, or of the arc
// from one middle to the other.
func (w *weight) central(i *point) bool {
	far := i.distance()
	if r3.Dot(i.q, w.middle) >= w.cos*far || r3.Dot(i.q, w.other) >= w.cos*far {
		return true
	}
	return w.arc != (arc{}) && math.Abs(r3.Dot(i.q, w.arc.pole)) <= w.sin*far &&
		r3.Dot(i.q, w.arc.begin) >= 0 && r3.Dot(i.q, w.arc.end) >= 0
}

// angleBetween is the angle between two directions, 0 where either has no length.
func angleBetween(a, b r3.Vec) float64 {
	c := r3.Cross(a, b)
	return math.Atan2(math.Sqrt(r3.Dot(c, c)), r3.Dot(a, b))
}
