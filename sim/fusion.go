package sim

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// twoLines is the separation at which two lines beside each other are told apart
// at the fovea, and twoLinesDoubling the eccentricity over which it grows by as
// much again (row Q1; the growth is a modelling choice).
const (
	twoLines         = math.Pi / (180 * 60)
	twoLinesDoubling = 2 * math.Pi / 180
)

// fusion is Panum's area of one patient (M8), in radians.
type fusion struct{ h, v, hSlope, vSlope float64 }

func (p *Patient) fusion() fusion {
	return fusion{
		h: float64(p.FusionH.Angle()), hSlope: p.FusionHSlope,
		v: float64(p.FusionV.Angle()), vSlope: p.FusionVSlope,
	}
}

// limits are Panum's half-limits at an eccentricity.
func (f *fusion) limits(ecc float64) (h, v float64) {
	return f.h + f.hSlope*ecc, f.v + f.vSlope*ecc
}

// meanTangents is ε as a tangent: of the mean of the two tangent pairs (M7).
func meanTangents(r, l *point) float64 {
	return math.Hypot((r.x+l.x)/2, (r.y+l.y)/2)
}

// compare sets the two images of one point against each other (M7, M8). Both
// must be ahead.
func (f *fusion) compare(r, l *point) Disparity {
	h, v := f.limits(math.Atan(meanTangents(r, l)))
	return Disparity{
		H:          Angle(l.alpha() - r.alpha()),
		V:          Angle(r.beta() - l.beta()),
		LimitH:     Angle(h),
		LimitV:     Angle(v),
		Separation: Angle(separation(r, l)),
	}
}

// separation is the angle between the two perceived directions.
func separation(r, l *point) float64 {
	return angleBetween(direction(r.x, r.y), direction(l.x, l.y))
}

// direction is the direction of a place in the picture: x right, y ahead, z up.
func direction(x, y float64) r3.Vec { return r3.Vec{X: x, Y: 1, Z: y} }

// roughTangents is at least meanTangents, and cheaper.
func roughTangents(r, l *point) float64 {
	return (math.Abs(r.x+l.x) + math.Abs(r.y+l.y)) / 2
}

// surelyDouble says whether the two images of one point are double for certain. It
// settles most points of a string without arctangents: an angle is at least its
// sine and at most its tangent.
func (f *fusion) surelyDouble(r, l *point, rough float64) bool {
	h, v := f.limits(rough)
	return exceeds(l.t, r.t, h) || exceeds(l.y, r.y, v)
}

// exceeds says whether the angle between two directions given as tangents is for
// certain more than limit: its sine is.
func exceeds(a, b, limit float64) bool {
	d := a - b
	return d*d > limit*limit*(1+a*a)*(1+b*b)
}

// single says whether the two images of one point fuse (M8).
func (f *fusion) single(r, l *point) bool {
	return !f.surelyDouble(r, l, roughTangents(r, l)) && f.compare(r, l).Single()
}

// apart says whether the two images of a point of the string, thick mm thick, lie a
// line's width or more apart from each other (M10). Width is at least that width
// there, and cheaper.
func apart(r, l *point, thick float64) (width float64, ok bool) {
	width = thick/2*(r.per+l.per) + twoLines*(1+roughTangents(r, l)/twoLinesDoubling)
	// Settled the same way where the images are far enough apart.
	a, b := direction(r.x, r.y), direction(l.x, l.y)
	if r3.Norm2(r3.Cross(a, b)) >= width*width*r3.Norm2(a)*r3.Norm2(b) {
		return width, true
	}
	return width, separation(r, l) >= lineWidth(r, l, thick)
}

// lineWidth is how far apart two lines must lie to be told apart, L of M10: the
// angular thickness of the string, and what it takes to resolve two lines.
func lineWidth(r, l *point, thick float64) float64 {
	return thick/2*(1/r.distance()+1/l.distance()) +
		twoLines*(1+math.Atan(meanTangents(r, l))/twoLinesDoubling)
}

// diplopia names the doubling of a thing that is seen twice (M8).
func diplopia(d Disparity) Diplopia {
	switch {
	case abs(d.H) <= d.LimitH:
		return DiplopiaVertical
	case d.H > 0:
		return DiplopiaCrossed
	}
	return DiplopiaUncrossed
}
