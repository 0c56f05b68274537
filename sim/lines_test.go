package sim

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r3"
)

// minute is a minute of arc, in radians.
const minute = math.Pi / (180 * 60)

// seenAlong is a point at a distance that is seen in a direction.
func seenAlong(d r3.Vec, distance float64) point {
	q := r3.Scale(distance, unit(d))
	x, y := q.X/q.Y, q.Z/q.Y
	return point{q: q, per: 1 / q.Y, x: x, y: y, t: x / math.Sqrt(1+y*y), ahead: true}
}

// Two images of a place are apart from the width of a line on, in any direction: the angle
// of the string's thickness, the mean of both eyes', and what two lines take to be told
// apart there (M10, row Q1). The cheaper width is never less than that.
func TestImagesAreApartByALine(t *testing.T) {
	const thick = 2.
	for _, distances := range [][2]float64{{60, 90}, {480, 500}, {3000, 3010}} {
		for x := -60.; x <= 60; x += 20 {
			for y := -60.; y <= 60; y += 20 {
				middle := direction(math.Tan(x*math.Pi/180), math.Tan(y*math.Pi/180))
				across := unit(r3.Cross(middle, r3.Vec{X: 1, Z: 2}))
				images := func(gap float64) (r, l point, want float64) {
					r = seenAlong(r3.Rotate(middle, gap/2, across), distances[0])
					l = seenAlong(r3.Rotate(middle, -gap/2, across), distances[1])
					ecc := math.Atan(math.Hypot((r.x+l.x)/2, (r.y+l.y)/2))
					return r, l, thick*(1/distances[0]+1/distances[1])/2 + minute*(1+ecc*180/math.Pi/2)
				}
				gap := 0.
				for range 50 { // to where the gap is the width
					_, _, gap = images(gap)
				}
				for share, want := range map[float64]bool{1 - 1e-9: false, 1 + 1e-9: true, 3: true} {
					r, l, width := images(gap * share)
					rough, ok := apart(&r, &l, thick)
					assert.Equal(t, want, ok, "%v°, %v°, %v", x, y, share)
					assert.GreaterOrEqual(t, rough, width*(1-1e-12), "%v°, %v°", x, y)
				}
			}
		}
	}
}

// A thing is single up to Panum's limits, sideways and upright, and no farther (M8): where
// arctangents are spared it is told alike.
func TestSingleUpToTheLimits(t *testing.T) {
	p := Default().Patient
	f := p.fusion()
	for x := -60.; x <= 60; x += 15 {
		for y := -60.; y <= 60; y += 15 {
			for _, share := range []float64{-1 - 1e-9, -1 + 1e-9, 0, 1 - 1e-9, 1 + 1e-9, 4} {
				for _, upright := range []bool{false, true} {
					at := func(h, v float64) point {
						alpha, beta := x*math.Pi/180+h, y*math.Pi/180+v
						return seenAlong(r3.Vec{X: math.Sin(alpha), Y: math.Cos(alpha) * math.Cos(beta), Z: math.Cos(alpha) * math.Sin(beta)}, 400)
					}
					h, v := 0., 0.
					var r, l point
					for range 50 { // to where the disparity is that share of the limit
						r, l = at(-h/2, v/2), at(h/2, -v/2)
						ecc := math.Atan(math.Hypot((r.x+l.x)/2, (r.y+l.y)/2))
						if upright {
							v = share * (float64(p.FusionV.Angle()) + p.FusionVSlope*ecc)
						} else {
							h = share * (float64(p.FusionH.Angle()) + p.FusionHSlope*ecc)
						}
					}
					assert.Equal(t, math.Abs(share) < 1, f.single(&r, &l), "%v°, %v°, %v of the limit, upright %v", x, y, share, upright)
				}
			}
		}
	}
}

// A place of a straight string is split where either image lies a line's width or more from
// the plane of the other eye's strand, by the arcsine (M10).
func TestSplitByPlanes(t *testing.T) {
	told := map[bool]int{}
	for _, z := range []float64{-34, -6, -3, -2, -1, -0.5, 3} {
		for _, deviation := range []Prism{-3, 0, 4} {
			s := Default()
			s.String.Length, s.String.NearEnd.Z, s.Look.At = 1200, z, 480
			s.Posture.Deviation = deviation
			var v View
			v.Look(&s)
			k := &v.look
			var plane [2]r3.Vec
			for e := range Eyes {
				near, far := k.image(e, 0), k.image(e, s.String.Length)
				plane[e] = unit(r3.Cross(direction(near.x, near.y), direction(far.x, far.y)))
			}
			for i := range k.count {
				n := k.sample(i)
				k.double(n)
				if !n.doubled {
					continue
				}
				r, l := &n.eye[RightEye], &n.eye[LeftEye]
				width := s.String.Thickness*(1/r.distance()+1/l.distance())/2 +
					minute*(1+math.Atan(math.Hypot((r.x+l.x)/2, (r.y+l.y)/2))*180/math.Pi/2)
				off := math.Pi
				for e, d := range n.directions() {
					off = min(off, math.Asin(math.Abs(r3.Dot(unit(d), plane[1-e]))))
				}
				if math.Abs(off-width) < 1e-9 {
					continue
				}
				told[off >= width]++
				assert.Equal(t, off >= width, k.split(n, &everywhere), "%v mm, %v Δ, at %v mm", z, deviation, n.at)
			}
		}
	}
	assert.Greater(t, told[true], 100)
	assert.Greater(t, told[false], 100)
}

// A curved strand that goes behind the eye is sampled up to there, to the fineness of
// places: just beyond its last sample the eye has the string no longer.
func TestStrandsEndAtTheHorizon(t *testing.T) {
	ends := 0
	for _, side := range []float64{1, -1} {
		for _, deviation := range []Prism{60, 100, 200} {
			s := Default()
			s.String.Length, s.String.Sag, s.String.NearEnd = 1200, 5, r3.Vec{X: side * 60, Y: 30, Z: -34}
			s.Look.At = 100
			s.Posture.Deviation, s.Posture.Fixing = deviation, Right
			if side < 0 {
				s.Posture.Fixing = Left
			}
			var v View
			v.Look(&s)
			k := &v.look
			for e := range Eyes {
				for i := 1; i < k.count; i++ {
					in, out := k.samples[i-1].at, k.samples[i].at
					if a, b := k.samples[i-1].eye[e].ahead, k.samples[i].eye[e].ahead; a == b {
						continue
					} else if b {
						in, out = out, in
					}
					ends++
					assert.False(t, k.image(e, in+2*places*math.Copysign(1, out-in)).ahead, "eye %d, %v Δ, at %v mm", e, deviation, in)
				}
			}
		}
	}
	assert.Positive(t, ends)
}

// Of one moment an eye sees what lies on its fovea unless it is covered, or suppressed
// there by more than what is still seen (M9).
func TestFoveaeSee(t *testing.T) {
	for _, c := range []struct {
		cover, suppressed Side
		zone              Zone
		depth             float64
		want              [2]bool
	}{
		{Neither, Neither, ZoneAll, 1, [2]bool{true, true}},
		{Right, Neither, ZoneAll, 1, [2]bool{false, true}},
		{Left, Neither, ZoneAll, 1, [2]bool{true, false}},
		{Neither, Right, ZoneAll, 0.801, [2]bool{false, true}},
		{Neither, Right, ZoneAll, 0.8, [2]bool{true, true}},
		{Neither, Left, ZoneCentral, 0.801, [2]bool{true, false}},
		{Neither, Left, ZoneNasal, 1, [2]bool{true, true}},
		{Neither, Left, ZoneNearer, 1, [2]bool{true, true}},
	} {
		s := Default()
		s.Cover, s.Suppression.Eye, s.Suppression.Zone, s.Suppression.Depth = c.cover, c.suppressed, c.zone, c.depth
		assert.Equal(t, c.want, s.foveaeSee(), "%+v", c)
	}
}

// An eye is turned from the next number above a bound on, and strings cross in a bead up to
// its rim.
func TestTurnsAndCrossingsUpToTheRim(t *testing.T) {
	for _, bound := range []Angle{turnedFrom.Angle(), tiltedFrom} {
		next := Angle(math.Nextafter(float64(bound), 1))
		for a, want := range map[Angle]Turn{bound: TurnNone, next: TurnIn, -bound: TurnNone, -next: TurnOut} {
			assert.Equal(t, want, turn(a, bound, TurnIn, TurnOut), "%v", a)
		}
	}
	s := Default()
	s.String.Length, s.Look.Bead = 1200, 0
	s.Beads = []Bead{{Name: "sky", At: 480, Diameter: 16}}
	var v View
	v.Look(&s)
	for off, want := range map[float64]Meet{
		8: MeetAt, math.Nextafter(8, 9): MeetBeyond, -8: MeetAt, math.Nextafter(-8, -9): MeetNearer,
	} {
		c := v.Crossing
		c.Offset = Some(off)
		assert.Equal(t, want, v.look.meet(&c), "%v mm", off)
	}
}
