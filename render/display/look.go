package display

import "math"

// The look of a ball. Every painter takes it from here, so that they agree.
//
// A place on the sphere is a unit vector n: x right, y down, z towards the viewer.
// With L the light and H half-way between L and the viewer, the colour there is
// the ball's (with its pattern) times shade, with gleam of white over it:
//
//	shade = (Ambient + Diffuse·max(0, (n·L + Wrap)/(1 + Wrap))) · (Rim + (1 − Rim)·n.z)
//	gleam = Gleam·max(0, n·H)^GleamPower
const (
	Ambient    = 0.40
	Diffuse    = 0.68
	Wrap       = 0.30
	Rim        = 0.74
	Gleam      = 0.50
	GleamPower = 32
)

// The patterns, laid out in the frame of Ball.Frame: along the axis of the hole,
// up across it, and to the side. A mark is Dark or Pale times as strong as the
// ground.
const (
	BandFrom  = 0.24 // |n·up| of the dark bands
	BandTo    = 0.46
	BandShade = 0.36 // how much of the colour is left in them
	RingFrom  = 0.62 // n·axis of the dark ring round the hole, either end
	RingTo    = 0.80
	RingFrom2 = 0.16 // and of the other ring
	RingTo2   = 0.36
	RingShade = 0.36
	DotRadius = 0.17 // as a distance between unit vectors
	DotPale   = 0.72 // share of white in them
	HoleShade = 0.22 // how much of the colour is left in the mouth of the hole
)

// The look of a ribbon as a string of two plies twisted round each other: what its
// parts add to the way from Colour to Shade at most, and on average. With v from −1
// to 1 across it, to the right of its way as seen on the page:
//
//	round  = Roundness·(v − Lean·side)², side how far the light is to the right
//	hollow = a ply's turn is 2·Twist + Slant(v), and its hollow is at whole turns
const (
	Roundness     = 0.55
	RoundnessMean = Roundness / 3
	HollowMean    = 1. / 5
	Lean          = 0.3 // of the lit line towards the light, of the half-width
	Slant1        = 0.32
	Slant3        = 0.18
)

// Slant is how far the hollow between two plies is turned on, in plies, at v across
// a string: steeper at the edges, as on a round one seen from beside.
func Slant(v float64) float64 { return v * (Slant1 + Slant3*v*v) }

// Where the light on a string comes from on the page: the upper left.
const (
	StringLightX = -0.55
	StringLightY = -0.83
)

// An Edge is the edge of a blurred disc, whose coverage falls smoothly over it, with
// t from 0 at its outer end to 1 at its inner one:
//
//	coverage = Most·t²·(3 − 2·t), t = (Middle + Half − d)/(2·Half) held to 0 – 1
type Edge struct{ Middle, Half, Most float64 }

// EdgeOf is the edge of a disc that is spread by so much: continuous from a sharp one to
// one of which nothing but the blur is left, and always of the same ink. (A disc as
// wide as its blur has no middle as opaque as it was.)
func EdgeOf(radius, spread float64) Edge {
	half := min(radius, spread)
	wide := max(radius, spread)
	most := min(1, radius/spread)
	return Edge{
		// The variance of the fall is half²/5.
		Middle: math.Sqrt(wide*wide - half*half/5), Half: half, Most: most * most,
	}
}

// At is the coverage at a distance from the middle of the disc.
func (e Edge) At(d float64) float64 {
	t := (e.Middle + e.Half - d) / (2 * e.Half)
	switch {
	case !(t > 0):
		return 0
	case t >= 1:
		return e.Most
	}
	return e.Most * t * t * (3 - 2*t)
}

// Outline is the edge of a ball, in pixels of its mean radius. It is spread over what
// has the variance of a blur disc and of the pixel's box across a straight edge, b²/4
// and 1/12, together.
func (b *Ball) Outline() Edge {
	return EdgeOf(b.Radius(), math.Sqrt(1.25*b.Soft*b.Soft+5./12))
}

// Radius is a ball's mean radius, pixels.
func (b *Ball) Radius() float64 { return math.Sqrt(b.RadiusX * b.RadiusY) }

// Swell is how many times wider blur lays the shading and the surface of a ball out, so
// that no sharp core stands in a soft rim.
func (b *Ball) Swell() float64 {
	e := b.Outline()
	return max(1, (e.Middle+0.5*e.Half)/b.Radius())
}

// Fine is half of what blur and pixels spread the edges of the surface by, in units of
// the ball's radius as it is laid out.
func (b *Ball) Fine() float64 {
	return (0.5 + 0.6*max(b.Soft, 0)) / (b.Radius() * b.Swell())
}

// Shine is how much of the gleam blur leaves: it is as much light on more surface.
func (b *Ball) Shine() float64 { return 1 / (1 + 6*max(b.Soft, 0)/b.Radius()) }

// Frame is the frame of the pattern: the axis of the hole towards the viewer's
// end, up across it as seen on the page, and the third one.
func (b *Ball) Frame() (axis, up, side [3]float64) {
	axis = unitVector(b.Axis, [3]float64{0, 0, 1})
	k := -axis[1] // the page's up, (0, −1, 0), along the axis
	up = unitVector([3]float64{-k * axis[0], -1 - k*axis[1], -k * axis[2]}, [3]float64{0, 0, 1})
	side = [3]float64{
		axis[1]*up[2] - axis[2]*up[1],
		axis[2]*up[0] - axis[0]*up[2],
		axis[0]*up[1] - axis[1]*up[0],
	}
	return axis, up, side
}

// Mouth is where the mouth of the hole is on the sphere as it is laid out, and its radius
// there.
func (b *Ball) Mouth() (at [3]float64, bore float64) {
	swell := b.Swell()
	x, y := b.Hole.X/swell, b.Hole.Y/swell
	return [3]float64{x, y, math.Sqrt(max(0, 1-x*x-y*y))}, b.Bore / swell
}

// unitVector is v of length 1, or other where v has next to none.
func unitVector(v, other [3]float64) [3]float64 {
	n := math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2])
	if !(n > 1e-6) {
		return other
	}
	return [3]float64{v[0] / n, v[1] / n, v[2] / n}
}

// Dots are the middles of the dots, in the frame of the pattern: axis, up, side.
var Dots = dots()

func dots() (d [16][3]float64) {
	n := 0
	ring := func(count int, along, turn float64) {
		r := math.Sqrt(1 - along*along)
		for i := range count {
			s, c := math.Sincos(2 * math.Pi * (float64(i) + turn) / float64(count))
			d[n] = [3]float64{along, r * c, r * s}
			n++
		}
	}
	ring(5, 0.68, 0)
	ring(6, 0.04, 0.5)
	ring(5, -0.62, 0)
	return d
}
