package vector_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/vector"
)

// inside says whether a point is inside an outline of lines and cubic curves, by the
// even-odd rule.
func inside(o *display.Outline, x, y float64) bool {
	in := false
	var pen, start display.Point
	to := func(q display.Point) {
		if (pen.Y > y) != (q.Y > y) && x < pen.X+(y-pen.Y)/(q.Y-pen.Y)*(q.X-pen.X) {
			in = !in
		}
		pen = q
	}
	points := o.Points
	for _, v := range o.Verbs {
		switch v {
		case display.MoveTo:
			to(start)
			start, pen, points = points[0], points[0], points[1:]
		case display.LineTo:
			to(points[0])
			points = points[1:]
		case display.CubicTo:
			a, b, c, d := pen, points[0], points[1], points[2]
			for k := 1; k <= 24; k++ {
				t := float64(k) / 24
				u := 1 - t
				at := func(a, b, c, d float64) float64 { return u*u*u*a + 3*u*u*t*b + 3*u*t*t*c + t*t*t*d }
				to(display.Point{X: at(a.X, b.X, c.X, d.X), Y: at(a.Y, b.Y, c.Y, d.Y)})
			}
			points = points[3:]
		case display.Close:
			to(start)
		}
	}
	to(start)
	return in
}

func random(r *rand.Rand) [3]float64 {
	z, turn := 2*r.Float64()-1, 2*math.Pi*r.Float64()
	s := math.Sqrt(1 - z*z)
	return [3]float64{s * math.Cos(turn), s * math.Sin(turn), z}
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// A pattern is where the definitions in display have it, however the ball is turned:
// also end on, where the edge of a mark goes round to the back or is all of it there.
func TestPatternsAreWhereTheyAreDefined(t *testing.T) {
	const margin = 0.012 // of what is not decided: the edge itself, and the curves
	seed := uint64(3)
	r := rand.New(rand.NewPCG(seed, 0))
	between := func(v, from, to float64) float64 { return min(v-from, to-v) } // above 0 inside
	for range 3000 {
		b := display.Ball{RadiusX: 1e4, RadiusY: 1e4, Opacity: 1, Axis: random(r), Surface: display.Surface(r.IntN(4))}
		if r.IntN(4) == 0 { // nearly end on, or in the page
			b.Axis = [3]float64{0.02 * r.Float64(), float64(r.IntN(2)), float64(r.IntN(2))}
		}
		if r.IntN(2) == 0 {
			b.Hole, b.Bore = display.Point{X: b.Axis[0], Y: b.Axis[1]}, 0.2
		}
		axis, up, side := b.Frame()
		for range 30 {
			n := random(r)
			n[2] = math.Abs(n[2])
			if n[2] < 0.05 {
				continue
			}
			marked, holed := math.Inf(-1), math.Inf(-1)
			switch b.Surface {
			case display.Banded:
				marked = between(math.Abs(dot(n, up)), display.BandFrom, display.BandTo)
			case display.Ringed:
				along := math.Abs(dot(n, axis))
				marked = max(between(along, display.RingFrom, display.RingTo), between(along, display.RingFrom2, display.RingTo2))
			case display.Dotted:
				for _, d := range display.Dots {
					q := [3]float64{dot(n, axis) - d[0], dot(n, up) - d[1], dot(n, side) - d[2]}
					marked = max(marked, display.DotRadius-math.Sqrt(dot(q, q)))
				}
			}
			if m, _ := b.Mouth(); b.Bore > 0 {
				q := [3]float64{n[0] - m[0], n[1] - m[1], n[2] - m[2]}
				holed = b.Bore - math.Sqrt(dot(q, q))
			}
			if math.Abs(marked) < margin || math.Abs(holed) < margin {
				continue
			}
			want, got := 0, 0
			for _, in := range []float64{marked, holed} {
				if in > 0 {
					want++
				}
			}
			vector.Pattern(&b, func(o *display.Outline, _ display.Colour) {
				if inside(o, vector.BallUnit*n[0], vector.BallUnit*n[1]) {
					got++
				}
			})
			require.Equal(t, want, got, "seed %d: %+v at %v", seed, b, n)
		}
	}
}

// What is dark is what the light falls on less than a step, from wherever it comes.
func TestTheDarkSideIsAwayFromTheLight(t *testing.T) {
	seed := uint64(4)
	r := rand.New(rand.NewPCG(seed, 0))
	for range 300 {
		light, n := random(r), random(r)
		if n[2] = math.Abs(n[2]); n[2] < 0.05 {
			continue // an outline that is a hair off is far off on the sphere there
		}
		lit := max(0, (dot(n, light)+display.Wrap)/(1+display.Wrap))
		most := 0.
		vector.Darkened(light, func(o *display.Outline, black float64) {
			if inside(o, vector.BallUnit*n[0], vector.BallUnit*n[1]) {
				most = max(most, black)
			}
		})
		want := display.Diffuse * (1 - lit) / (display.Ambient + display.Diffuse)
		require.InDelta(t, want, most, 0.01, "seed %d: light %v at %v", seed, light, n)
	}
}
