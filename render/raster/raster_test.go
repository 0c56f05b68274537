package raster_test

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/raster"
)

// sampled is the coverage of a pixel by n × n samples.
func sampled(x, y int, inside func(x, y float64) bool) float64 {
	const n = 12
	hits := 0
	for j := range n {
		for i := range n {
			if inside(float64(x)+(float64(i)+0.5)/n, float64(y)+(float64(j)+0.5)/n) {
				hits++
			}
		}
	}
	return float64(hits) / (n * n)
}

// Samples 1/12 apart on a straight edge are wrong by at most about that.
const sampling = 1. / 12

func TestFillAgreesWithSamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(-8, 40)
		var q [3]display.Point
		for i := range q {
			q[i] = display.Point{X: at.Draw(t, "x"), Y: at.Draw(t, "y")}
		}
		l := page(32, 32)
		l.MoveTo(q[0].X, q[0].Y)
		l.LineTo(q[1].X, q[1].Y)
		l.LineTo(q[2].X, q[2].Y)
		l.Fill(solid(white))
		img := paint(l)
		side := func(a, b display.Point, x, y float64) float64 { return (b.X-a.X)*(y-a.Y) - (b.Y-a.Y)*(x-a.X) }
		inside := func(x, y float64) bool {
			a, b, c := side(q[0], q[1], x, y), side(q[1], q[2], x, y), side(q[2], q[0], x, y)
			return a > 0 && b > 0 && c > 0 || a < 0 && b < 0 && c < 0
		}
		for y := range 32 {
			for x := range 32 {
				if got, want := light(img, x, y), sampled(x, y, inside); math.Abs(got-want) > sampling {
					t.Fatalf("pixel %d, %d covered %.3f, by samples %.3f", x, y, got, want)
				}
			}
		}
	})
}

func TestFillIsExactInArea(t *testing.T) {
	l := page(200, 200)
	l.Circle(display.Point{X: 100.3, Y: 99.6}, 80)
	l.Fill(solid(white))
	// The chords of the flattened curve lie inside it by at most 0.05.
	assert.InEpsilon(t, math.Pi*80*80, ink(paint(l)), 1.5e-3)
}

func TestFillRules(t *testing.T) {
	star := func(l *display.List) {
		for i := range 5 {
			s, c := math.Sincos(float64(i) * 4 * math.Pi / 5)
			if i == 0 {
				l.MoveTo(50+40*s, 50-40*c)
			} else {
				l.LineTo(50+40*s, 50-40*c)
			}
		}
		l.Close()
	}
	l := page(100, 100)
	star(l)
	l.Fill(solid(white))
	assert.Equal(t, 1.0, light(paint(l), 50, 50), "the middle is wound round twice")

	l = page(100, 100)
	star(l)
	l.Fill(solid(white))
	l.Paths[0].Outline.EvenOdd = true
	img := paint(l)
	assert.Equal(t, 0.0, light(img, 50, 50), "twice is even")
	assert.Equal(t, 1.0, light(img, 50, 20), "a tip is wound round once")

	l = page(100, 100)
	l.Circle(display.Point{X: 50, Y: 50}, 40)
	l.Circle(display.Point{X: 50, Y: 50}, 20)
	l.Fill(solid(white))
	l.Paths[0].Outline.EvenOdd = true
	assert.InEpsilon(t, math.Pi*(1600-400), ink(paint(l)), 5e-3)
}

func TestRectangleOfPixelsIsAnyRectangle(t *testing.T) {
	paints := []display.Paint{
		solid(white), solid(display.Colour{R: 0.3, G: 0.9, B: 0.1, A: 0.6}),
		{Kind: display.Radial, From: white, To: black, A: display.Point{X: 20, Y: 20}, B: display.Point{X: 50, Y: 30}, Dither: true},
		{Kind: display.Linear, From: white, To: display.Colour{R: 1}, B: display.Point{X: 1000, Y: 20}, Dither: true},
	}
	for i, q := range paints {
		a, b := page(64, 48), page(64, 48)
		a.Rect(display.Rect{X: 3, Y: 5, W: 50, H: 37})
		a.Fill(q)
		// The same with a corner said twice is not seen to be one.
		b.MoveTo(3, 5)
		b.LineTo(53, 5)
		b.LineTo(53, 5)
		b.LineTo(53, 42)
		b.LineTo(3, 42)
		b.Fill(q)
		assert.Equal(t, paint(a).Pix, paint(b).Pix, "paint %d", i)
	}
}

func TestGradients(t *testing.T) {
	at := func(q display.Paint, x, y int) float64 {
		l := page(256, 64)
		l.Rect(display.Rect{W: 256, H: 64})
		l.Fill(q)
		return light(paint(l), x, y)
	}
	grey := func(v float64) display.Colour { return display.Colour{R: v, G: v, B: v, A: 1} }
	linear := display.Paint{Kind: display.Linear, From: grey(0.2), To: grey(0.8), A: display.Point{X: 28}, B: display.Point{X: 228}}
	assert.InDelta(t, 0.2, at(linear, 5, 30), 0.002, "before A")
	assert.InDelta(t, 0.8, at(linear, 250, 30), 0.002, "beyond B")
	assert.InDelta(t, 0.2+0.6*(100.5-28)/200, at(linear, 100, 63), 0.003)
	radial := display.Paint{Kind: display.Radial, From: grey(1), To: grey(0), A: display.Point{X: 128, Y: 32}, B: display.Point{X: 100, Y: 20}}
	assert.InDelta(t, 1-math.Hypot(40.5/100, 8.5/20), at(radial, 168, 40), 0.003)
	assert.InDelta(t, 0, at(radial, 168, 60), 0.002, "outside the ellipse")
	half := display.Paint{Kind: display.Linear, From: white, To: display.Colour{R: 1, G: 1, B: 1}, B: display.Point{X: 256}}
	assert.InDelta(t, 1-64.5/256, at(half, 64, 0), 0.004, "opacity runs as well")
	flat := display.Paint{Kind: display.Radial, From: grey(0.2), To: grey(0.7)}
	assert.InDelta(t, 0.7, at(flat, 3, 3), 0.002, "with no extent all is beyond it")
}

// A slow gradient with the pattern is right on average and within a step everywhere;
// neighbouring tiles of the pattern differ by less than a step, so there is no band.
func TestDither(t *testing.T) {
	const w, from, to = 1024, 40., 44.
	l := page(w, 16)
	l.Rect(display.Rect{W: w, H: 16})
	q := display.Paint{Kind: display.Linear, B: display.Point{X: w}, Dither: true,
		From: display.Colour{R: from / 255, A: 1}, To: display.Colour{R: to / 255, A: 1}}
	l.Fill(q)
	img := paint(l)
	for x := 0; x < w; x += 8 {
		sum := 0.0
		for y := range 8 {
			for i := range 8 {
				v := float64(img.RGBAAt(x+i, y).R)
				want := from + (to-from)*(float64(x+i)+0.5)/w
				require.Less(t, math.Abs(v-want), 1.0, "at %d, %d", x+i, y)
				sum += v
			}
		}
		require.InDelta(t, from+(to-from)*(float64(x)+4)/w, sum/64, 1./8, "tile at %d", x)
	}
}

func straight(half, soft, opacity float64, a, b display.Point) display.Ribbon {
	point := func(at display.Point) display.RibbonPoint {
		return display.RibbonPoint{At: at, Half: half, Soft: soft, Opacity: opacity}
	}
	return display.Ribbon{Points: []display.RibbonPoint{point(a), point(b)}, Colour: white, Shade: white}
}

// profile is the formula of display.RibbonPoint.
func profile(d, h, b float64) float64 {
	most := math.Min(1, h/b)
	switch {
	case d <= math.Abs(h-b):
		return most
	case d >= h+b:
		return 0
	}
	return most * (h + b - d) / (h + b - math.Abs(h-b))
}

func TestRibbonFollowsItsFormula(t *testing.T) {
	for _, c := range []struct{ half, soft float64 }{{20, 5}, {5, 20}, {12, 12}, {30, 1}, {2, 30}} {
		l := page(120, 120)
		l.AddRibbon(straight(c.half, c.soft, 1, display.Point{X: -200, Y: 60.25}, display.Point{X: 400, Y: 60.25}))
		img := paint(l)
		for y := range 120 {
			d := math.Abs(float64(y) + 0.5 - 60.25)
			// The formula spread by the box of the pixel: by 16 samples.
			want := 0.0
			for i := range 16 {
				want += profile(math.Abs(d+(float64(i)+0.5)/16-0.5), c.half, c.soft) / 16
			}
			// Where all is wide the pixel's box is left out.
			require.InDelta(t, want, light(img, 60, y), 1./255+0.5/8/c.soft, "%v at %d", c, y)
		}
	}
}

// A thin ribbon along a diagonal of the pixels is off by up to a quarter of a pixel at
// either end, which is next to nothing of its length.
func TestRibbonKeepsItsInk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		half := rapid.Float64Range(0.2, 12).Draw(t, "half")
		soft := rapid.Float64Range(0, 12).Draw(t, "soft")
		turn := rapid.Float64Range(0, 7).Draw(t, "turn")
		length := rapid.Float64Range(90, 110).Draw(t, "length")
		s, c := math.Sincos(turn)
		a, b := display.Point{X: 80 - c*length/2, Y: 80 - s*length/2}, display.Point{X: 80 + c*length/2, Y: 80 + s*length/2}
		l := page(160, 160)
		l.AddRibbon(straight(half, soft, 1, a, b))
		got, want := ink(paint(l)), 2*half*length
		if math.Abs(got-want) > 0.01*want {
			t.Fatalf("half %.2f, soft %.2f, turn %.2f: ink %.2f, want %.2f", half, soft, turn, got, want)
		}
	})
}

func TestRibbonIsNoDarkerWhereItOverlapsItself(t *testing.T) {
	l := page(100, 100)
	r := straight(5, 2, 0.5, display.Point{X: 10, Y: 10}, display.Point{X: 90, Y: 90})
	for _, at := range []display.Point{{X: 90, Y: 10}, {X: 10, Y: 90}} {
		q := r.Points[0]
		q.At = at
		r.Points = append(r.Points, q)
	}
	l.AddRibbon(r)
	img := paint(l)
	assert.InDelta(t, 0.5, light(img, 50, 50), 0.005, "at the crossing")
	for y := range 100 {
		for x := range 100 {
			require.LessOrEqual(t, light(img, x, y), 0.505, "at %d, %d", x, y)
		}
	}
}

func TestRibbonHasNoSeamsAtItsPoints(t *testing.T) {
	// A straight ribbon is the same in one piece as in many.
	a, b := display.Point{X: 10, Y: 20}, display.Point{X: 90, Y: 70}
	whole := straight(6, 3, 0.8, a, b)
	pieces := whole
	pieces.Points = nil
	for i := range 41 {
		q := whole.Points[0]
		t := float64(i) / 40
		q.At = display.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}
		pieces.Points = append(pieces.Points, q)
	}
	one, many := page(100, 100), page(100, 100)
	one.AddRibbon(whole)
	many.AddRibbon(pieces)
	p, q := paint(one), paint(many)
	for i := range p.Pix {
		require.InDelta(t, p.Pix[i], q.Pix[i], 1, "byte %d", i)
	}
}

func TestTwistShowsWhereItIsCoarseEnough(t *testing.T) {
	// The range of light along the middle of a horizontal ribbon.
	contrast := func(half, soft, plyPixels, depth float64) float64 {
		r := straight(half, soft, 1, display.Point{X: -100, Y: 32}, display.Point{X: 300, Y: 32})
		r.Points[1].Twist = 400 / plyPixels / 2
		r.Shade, r.TwistDepth = display.Colour{A: 1}, depth
		l := page(200, 64)
		l.AddRibbon(r)
		img := paint(l)
		lo, hi := 1.0, 0.0
		for x := range 200 {
			v := light(img, x, 32)
			lo, hi = min(lo, v), max(hi, v)
		}
		return hi - lo
	}
	assert.Greater(t, contrast(10, 0, 12, 0.6), 0.4)
	assert.Less(t, contrast(10, 0, 1.9, 0.6), 0.01, "plies under two pixels")
	assert.Less(t, contrast(10, 10, 12, 0.6), 0.01, "a blur as wide as the string")
	assert.Less(t, contrast(10, 0, 12, 0), 0.01, "a smooth band")
	assert.Greater(t, contrast(10, 2, 12, 0.6), contrast(10, 4, 12, 0.6))
}

func TestStrokeAgreesWithSamples(t *testing.T) {
	const size = 20
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(5, 15)
		a := display.Point{X: at.Draw(t, "x"), Y: at.Draw(t, "y")}
		b := display.Point{X: at.Draw(t, "x"), Y: at.Draw(t, "y")}
		width := rapid.Float64Range(2, 8).Draw(t, "width")
		// On from b in a bend of at most 90°.
		s, c := math.Sincos(rapid.Float64Range(-math.Pi/2, math.Pi/2).Draw(t, "bend"))
		d := display.Point{X: b.X + 0.4*(c*(b.X-a.X)-s*(b.Y-a.Y)), Y: b.Y + 0.4*(s*(b.X-a.X)+c*(b.Y-a.Y))}
		l := page(size, size)
		l.MoveTo(a.X, a.Y)
		l.LineTo(b.X, b.Y)
		l.LineTo(d.X, d.Y)
		l.Stroke(width, solid(white))
		img := paint(l)
		inside := func(x, y float64) bool {
			return min(distance(x, y, a, b), distance(x, y, b, d)) <= width/2
		}
		got, want := 0.0, 0.0
		for y := range size {
			for x := range size {
				v, s := light(img, x, y), sampled(x, y, inside)
				// A pixel is a box across the stroke here: off by an eighth at 45°, more on
				// the round and where both parts cover some of it.
				if math.Abs(v-s) > 0.3 {
					t.Fatalf("pixel %d, %d covered %.3f, by samples %.3f", x, y, v, s)
				}
				got, want = got+v, want+s
			}
		}
		if math.Abs(got-want) > 0.02*want+0.5 {
			t.Fatalf("ink %.2f, by samples %.2f", got, want)
		}
	})
}

// distance is that of a place from the line between two others.
func distance(x, y float64, a, b display.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := 0.0
	if n := dx*dx + dy*dy; n > 0 {
		t = min(max(((x-a.X)*dx+(y-a.Y)*dy)/n, 0), 1)
	}
	return math.Hypot(x-a.X-t*dx, y-a.Y-t*dy)
}

func TestStrokeOnPixelsIsSharp(t *testing.T) {
	l := page(20, 20)
	l.MoveTo(-5, 10.5)
	l.LineTo(25, 10.5)
	l.Stroke(1, solid(white))
	img := paint(l)
	for y := range 20 {
		want := 0.0
		if y == 10 {
			want = 1
		}
		assert.Equal(t, want, light(img, 10, y), "row %d", y)
	}
}

func TestDashes(t *testing.T) {
	l := page(100, 20)
	l.MoveTo(5, 10)
	l.LineTo(85, 10)
	l.StrokeDashed(2, 10, solid(white))
	img := paint(l)
	for i := range 8 {
		x := 5 + 10*i + 5
		want := float64((i + 1) % 2)
		assert.Equal(t, want, light(img, x, 9), "in the middle of piece %d", i)
	}
	// Round a corner a dash goes on.
	l = page(40, 40)
	l.MoveTo(5, 5)
	l.LineTo(20, 5)
	l.LineTo(20, 35)
	l.StrokeDashed(2, 20, solid(white))
	img = paint(l)
	assert.Equal(t, 1.0, light(img, 19, 8))
	assert.Equal(t, 0.0, light(img, 19, 20))
	// Far more dashes than pixels are a line.
	l = page(40, 40)
	l.MoveTo(0, 20)
	l.LineTo(1e6, 20)
	l.StrokeDashed(2, 1e-3, solid(white))
	assert.Equal(t, 1.0, light(paint(l), 20, 20))
}

func ball(surface display.Surface, x, y, radius float64) display.Ball {
	return display.Ball{
		Centre: display.Point{X: x, Y: y}, RadiusX: radius, RadiusY: radius, Opacity: 1,
		Colour: display.Colour{R: 0.9, G: 0.62, A: 1}, Surface: surface,
		Hole: display.Point{X: 0.1, Y: 0.3}, Bore: 0.16, Axis: [3]float64{0.1, 0.3, 0.95},
		Light: [3]float64{-0.4, -0.6, 0.69},
	}
}

// The formula of display's look, at the places where no pattern is.
func TestBallIsLitByTheCommonFormula(t *testing.T) {
	l := page(200, 200)
	b := ball(display.Plain, 100, 100, 80)
	b.Bore = 0
	l.AddBall(b)
	img := paint(l)
	for _, q := range []image.Point{{100, 100}, {60, 60}, {140, 130}, {100, 160}, {70, 120}} {
		u, v := (float64(q.X)+0.5-100)/80, (float64(q.Y)+0.5-100)/80
		z := math.Sqrt(1 - u*u - v*v)
		norm := math.Sqrt(0.4*0.4 + 0.6*0.6 + 0.69*0.69)
		lx, ly, lz := -0.4/norm, -0.6/norm, 0.69/norm
		shade := display.Ambient + display.Diffuse*max(0, (u*lx+v*ly+z*lz+display.Wrap)/(1+display.Wrap))
		shade *= display.Rim + (1-display.Rim)*z
		hz := math.Sqrt(lx*lx + ly*ly + (lz+1)*(lz+1))
		gleam := display.Gleam * math.Pow(max(0, (u*lx+v*ly+z*(lz+1))/hz), display.GleamPower)
		for _, c := range []struct {
			got  uint8
			base float64
		}{{img.RGBAAt(q.X, q.Y).R, 0.9}, {img.RGBAAt(q.X, q.Y).G, 0.62}, {img.RGBAAt(q.X, q.Y).B, 0}} {
			lit := min(c.base*shade, 1)
			require.InDelta(t, 255*(lit+(1-lit)*gleam), float64(c.got), 1.5, "at %v", q)
		}
	}
	assert.Greater(t, light(img, 70, 60), light(img, 130, 140), "lit from the upper left")
}

func TestBallEdge(t *testing.T) {
	for _, soft := range []float64{0, 3, 12} {
		l := page(160, 160)
		b := ball(display.Plain, 80, 80, 50)
		b.Colour, b.Bore, b.Soft = white, 0, soft
		l.AddBall(b)
		img := paint(l)
		last := 1.0
		for x := 128; x < 160; x++ {
			v := light(img, x, 80)
			assert.LessOrEqual(t, v, last+2./255, "soft %v falls at %d", soft, x)
			last = v
		}
		reach := 130 + math.Hypot(soft, 0.5)
		assert.Zero(t, light(img, int(math.Ceil(reach)), 80), "soft %v", soft)
		assert.Positive(t, light(img, int(reach-2), 80), "soft %v", soft)
	}
}

// An ellipse is a circle stretched.
func TestBallMayBeAnEllipse(t *testing.T) {
	l := page(200, 200)
	b := ball(display.Plain, 100, 100, 0)
	b.RadiusX, b.RadiusY, b.Angle, b.Bore = 80, 40, math.Pi/2, 0
	l.AddBall(b)
	img := paint(l)
	assert.Positive(t, light(img, 100, 25))
	assert.Positive(t, light(img, 100, 174))
	assert.Zero(t, light(img, 40, 100))
	assert.Zero(t, light(img, 160, 100))
}

// grey is the mean of a pixel's colours, 0 – 1.
func grey(img *image.RGBA, x, y int) float64 {
	c := img.RGBAAt(x, y)
	return (float64(c.R) + float64(c.G) + float64(c.B)) / 3 / 255
}

func TestBallShowsItsPatternAndItsHole(t *testing.T) {
	plain := page(200, 200)
	b := ball(display.Plain, 100, 100, 80)
	plain.AddBall(b)
	p := paint(plain)
	assert.Less(t, light(p, 108, 124), 0.5*light(p, 92, 76), "the mouth of the hole is dark")
	seen := map[string]bool{}
	for s := display.Plain; s <= display.Ringed; s++ {
		// In grey, too, all four differ, large and small.
		for _, radius := range []float64{8, 80} {
			l := page(200, 200)
			l.AddBall(ball(s, 100, 100, radius))
			q := paint(l)
			differ := 0
			l2 := page(200, 200)
			l2.AddBall(ball(display.Plain, 100, 100, radius))
			r := paint(l2)
			for y := range 200 {
				for x := range 200 {
					if math.Abs(grey(q, x, y)-grey(r, x, y)) > 0.1 {
						differ++
					}
				}
			}
			if s != display.Plain {
				assert.Greater(t, float64(differ), 0.08*math.Pi*radius*radius, "surface %d, radius %v", s, radius)
			}
			seen[string(q.Pix)] = true
		}
	}
	assert.Len(t, seen, 8)
}

func TestTextHasTheInkOfItsOutlines(t *testing.T) {
	l := page(300, 80)
	lettering.Draw(l, lettering.Style{Size: 48, Colour: white}, 10.3, 60.7, lettering.Start, "Hxo8")
	require.NotEmpty(t, l.Texts)
	want := 0.0
	for _, g := range l.Texts[0].Glyphs {
		o := lettering.Outline(l.Texts[0].Face, g.ID)
		want += math.Abs(area(o)) * 48 * 48
	}
	assert.InEpsilon(t, want, ink(paint(l)), 0.01)
}

// A small glyph stands in the nearest quarter of a pixel, a large one where it is.
func TestTextStandsWhereItIs(t *testing.T) {
	middle := func(size, x, y float64) (float64, float64) {
		l := page(200, 200)
		lettering.Draw(l, lettering.Style{Size: size, Colour: white}, x, y, lettering.Start, "H")
		img := paint(l)
		sx, sy, sum := 0.0, 0.0, 0.0
		for y := range 200 {
			for x := range 200 {
				v := light(img, x, y)
				sx, sy, sum = sx+v*float64(x), sy+v*float64(y), sum+v
			}
		}
		return sx / sum, sy / sum
	}
	for _, c := range []struct{ size, off float64 }{{40, 1. / 8}, {90, 0}} {
		x0, y0 := middle(c.size, 50, 120)
		for i := range 20 {
			dx, dy := float64(i)*0.113, -float64(i)*0.071
			x, y := middle(c.size, 50+dx, 120+dy)
			assert.InDelta(t, x0+dx, x, c.off+0.02, "size %v, %v to the right", c.size, dx)
			assert.InDelta(t, y0+dy, y, c.off+0.02, "size %v, %v down", c.size, dy)
		}
	}
}

// Far more glyphs than are kept leave nothing behind in those painted after them.
func TestTextAfterMuchOtherText(t *testing.T) {
	much := func(size float64) *display.List {
		l := page(400, 100)
		for ; size < 64; size += 0.2 {
			lettering.Draw(l, lettering.Style{Size: size, Colour: white}, 5, 70, lettering.Start, "Beads and string")
		}
		return l
	}
	one := page(400, 100)
	lettering.Draw(one, lettering.Style{Size: 52.35, Colour: white}, 5.3, 70, lettering.Start, "Beads and string")
	var p raster.Painter
	img := image.NewRGBA(image.Rect(0, 0, 400, 100))
	for _, l := range []*display.List{much(40), one, much(40.1), one} {
		p.Paint(l, img)
	}
	require.Equal(t, paint(one).Pix, img.Pix)
}

// area is the signed area of an outline by the shoelace formula, curves by 32 chords.
func area(o display.Outline) (sum float64) {
	var start, pen display.Point
	to := func(q display.Point) {
		sum += (pen.X*q.Y - q.X*pen.Y) / 2
		pen = q
	}
	i := 0
	for _, v := range o.Verbs {
		a := pen
		switch v {
		case display.MoveTo:
			to(start)
			start, pen = o.Points[i], o.Points[i]
			i++
		case display.LineTo:
			to(o.Points[i])
			i++
		case display.QuadTo:
			c, d := o.Points[i], o.Points[i+1]
			for k := 1; k <= 32; k++ {
				t := float64(k) / 32
				s := 1 - t
				to(display.Point{X: s*s*a.X + 2*s*t*c.X + t*t*d.X, Y: s*s*a.Y + 2*s*t*c.Y + t*t*d.Y})
			}
			i += 2
		case display.CubicTo:
			c, d, e := o.Points[i], o.Points[i+1], o.Points[i+2]
			for k := 1; k <= 32; k++ {
				t := float64(k) / 32
				s := 1 - t
				to(display.Point{
					X: s*s*s*a.X + 3*s*s*t*c.X + 3*s*t*t*d.X + t*t*t*e.X,
					Y: s*s*s*a.Y + 3*s*s*t*c.Y + 3*s*t*t*d.Y + t*t*t*e.Y,
				})
			}
			i += 3
		case display.Close:
			to(start)
		}
	}
	to(start)
	return sum
}

func TestClip(t *testing.T) {
	circle := func(l *display.List) { l.Circle(display.Point{X: 30, Y: 30}, 22.5) }
	everywhere := func(l *display.List) {
		l.Rect(display.Rect{W: 60, H: 60})
		l.Fill(solid(white))
	}
	// All of a page inside an outline is the outline.
	clipped, filled := page(60, 60), page(60, 60)
	circle(clipped)
	clipped.OpenClip()
	everywhere(clipped)
	clipped.End()
	circle(filled)
	filled.Fill(solid(white))
	require.Equal(t, paint(filled).Pix, paint(clipped).Pix)

	// Even-odd, and what follows the End is not clipped.
	l := page(60, 60)
	circle(l)
	l.Circle(display.Point{X: 30, Y: 30}, 10)
	l.OpenClipEvenOdd()
	everywhere(l)
	l.End()
	l.Rect(display.Rect{W: 4, H: 4})
	l.Fill(solid(white))
	img := paint(l)
	assert.Zero(t, light(img, 30, 30))
	assert.Equal(t, 1.0, light(img, 30, 14))
	assert.Equal(t, 1.0, light(img, 1, 1))
	assert.Zero(t, light(img, 58, 58))

	// Clips inside one another, a rectangle of pixels among them, and a layer inside.
	l = page(60, 60)
	circle(l)
	l.OpenClip()
	l.Rect(display.Rect{X: 30, W: 30, H: 60})
	l.OpenClip()
	l.OpenGroup(display.Group{Opacity: 0.5})
	everywhere(l)
	everywhere(l)
	l.End()
	l.End()
	l.End()
	img = paint(l)
	want := paint(filled)
	for y := range 60 {
		for x := range 60 {
			half := 0.0
			if x >= 30 {
				half = light(want, x, y) / 2
			}
			require.InDelta(t, half, light(img, x, y), 1./255, "at %d, %d", x, y)
		}
	}
}

// A clip takes no more of its outline than the balls in it touch; that shows nowhere.
func TestClippedBalls(t *testing.T) {
	build := func(also bool) *display.List {
		l := page(90, 70)
		l.Rect(display.Rect{W: 90, H: 70})
		l.Circle(display.Point{X: 30, Y: 30}, 14.5)
		l.OpenClipEvenOdd()
		l.AddBall(ball(display.Dotted, 36, 32, 20))
		l.AddBall(ball(display.Plain, 80, 60, 20))
		l.AddBall(ball(display.Plain, -60, 30, 20)) // left of the page
		if also {
			l.Rect(display.Rect{X: 1000, Y: 1000, W: 1, H: 1})
			l.Fill(solid(white))
		}
		l.End()
		return l
	}
	require.Equal(t, paint(build(true)).Pix, paint(build(false)).Pix)
	assert.Zero(t, grey(paint(build(false)), 30, 30))
	assert.Positive(t, grey(paint(build(false)), 50, 32))
}

func TestGroupIsOneThing(t *testing.T) {
	l := page(60, 40)
	l.Rect(display.Rect{W: 60, H: 40})
	l.Fill(solid(display.Colour{B: 1, A: 1}))
	l.OpenGroup(display.Group{Opacity: 0.25})
	for _, x := range []float64{15, 30} {
		l.Circle(display.Point{X: x, Y: 20}, 14)
		l.Fill(solid(display.Colour{R: 1, A: 1}))
	}
	l.End()
	img := paint(l)
	one, both := img.RGBAAt(6, 20), img.RGBAAt(22, 20)
	assert.Equal(t, one, both, "no stronger where its shapes overlap")
	assert.InDelta(t, 255*0.25, float64(one.R), 1)
	assert.InDelta(t, 255*0.75, float64(one.B), 1)
	assert.EqualValues(t, 255, img.RGBAAt(55, 5).B)
}

// pairs adds overlapping shapes in pairs; swapped puts the second of each first.
func pairs(l *display.List, swapped bool) {
	add := func(a, b func()) {
		if swapped {
			a, b = b, a
		}
		a()
		b()
	}
	for i := range 4 {
		x, y := 40+20*float64(i), 30+15*float64(i)
		add(func() {
			b := ball(display.Banded, x, y, 25)
			b.Opacity = 0.78
			l.AddBall(b)
		}, func() {
			b := ball(display.Dotted, x+18, y+4, 25)
			b.Opacity, b.Soft = 0.78, 6
			l.AddBall(b)
		})
		add(func() {
			l.OpenGroup(display.Group{Opacity: 0.6})
			l.AddRibbon(straight(6, 4, 1, display.Point{X: 10, Y: y}, display.Point{X: 180, Y: 150 - y}))
			l.End()
		}, func() {
			l.Ellipse(display.Point{X: x, Y: y}, 30, 50, 1)
			l.OpenClip()
			r := straight(5, 0, 0.8, display.Point{X: 10, Y: 150 - y}, display.Point{X: 180, Y: y})
			r.Colour = display.Colour{R: 1, G: 0.4, A: 1}
			l.AddRibbon(r)
			l.End()
		})
	}
}

func pairGround(l *display.List) {
	l.Rect(display.Rect{W: 200, H: 150})
	l.Fill(display.Paint{Kind: display.Radial, From: display.Colour{R: 0.3, G: 0.3, B: 0.35, A: 1},
		To: display.Colour{R: 0.1, G: 0.1, B: 0.1, A: 1}, A: display.Point{X: 100, Y: 60}, B: display.Point{X: 150, Y: 100}, Dither: true})
}

func evenPage(swapped bool) *display.List {
	l := page(200, 150)
	l.OpenGroup(display.Group{Even: true, Opacity: 1, Bounds: display.Rect{W: 200, H: 150}})
	pairGround(l)
	pairs(l, swapped)
	l.End()
	return l
}

func TestEvenGroupPrefersNeither(t *testing.T) {
	require.Equal(t, paint(evenPage(false)).Pix, paint(evenPage(true)).Pix)
}

func TestEvenGroupIsTheMeanOfBothOrders(t *testing.T) {
	var order [2]*image.RGBA
	for i := range order {
		l := page(200, 150)
		pairGround(l)
		pairs(l, i == 1)
		order[i] = paint(l)
	}
	require.NotEqual(t, order[0].Pix, order[1].Pix)
	even := paint(evenPage(false))
	for y := range 150 {
		for x := range 200 {
			for c := range 4 {
				i := even.PixOffset(x, y) + c
				sum := int(order[0].Pix[i]) + int(order[1].Pix[i])
				// Halves round either way.
				got := 2 * int(even.Pix[i])
				require.True(t, got == sum || sum%2 == 1 && (got == sum-1 || got == sum+1), "at %d, %d: %d for %d", x, y, got, sum)
			}
		}
	}
}

// An Even group inside an Even group is an ordinary shape of it.
func TestEvenGroupInsideAnother(t *testing.T) {
	build := func(swapped bool) *display.List {
		l := page(200, 150)
		l.OpenGroup(display.Group{Even: true, Opacity: 1, Bounds: display.Rect{W: 200, H: 150}})
		pairGround(l)
		inner := func() {
			l.OpenGroup(display.Group{Even: true, Opacity: 1, Bounds: display.Rect{X: 40, Y: 40, W: 60, H: 60}})
			l.Rect(display.Rect{X: 40, Y: 40, W: 60, H: 60})
			l.Fill(solid(display.Colour{G: 0.5, A: 1}))
			l.AddBall(ball(display.Plain, 60, 60, 18))
			l.AddBall(ball(display.Dotted, 75, 65, 18))
			l.End()
		}
		other := func() { l.AddBall(ball(display.Ringed, 105, 80, 30)) }
		if swapped {
			inner, other = other, inner
		}
		inner()
		other()
		l.End()
		return l
	}
	a := paint(build(false))
	require.Equal(t, a.Pix, paint(build(true)).Pix)
	assert.NotEqual(t, a.RGBAAt(65, 62), a.RGBAAt(45, 45))
}

func TestUnpaintableShapesLeaveThePageAlone(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, bad := range []float64{nan, inf, -inf, 1e300} {
		l := page(50, 40)
		l.Circle(display.Point{X: bad, Y: 10}, 5)
		l.Fill(solid(white))
		l.MoveTo(1, 1)
		l.LineTo(20, bad)
		l.Stroke(2, solid(white))
		l.MoveTo(1, 1)
		l.LineTo(20, 20)
		l.Stroke(bad, solid(white))
		r := straight(3, 0, 1, display.Point{X: 5, Y: 5}, display.Point{X: 30, Y: 30})
		r.Points[1].Soft = bad
		l.AddRibbon(r)
		b := ball(display.Plain, 20, 20, 9)
		b.Soft = bad
		l.AddBall(b)
		l.AddText(display.Text{Glyphs: []display.Glyph{{ID: 40, At: display.Point{X: bad, Y: 30}}}, Size: 20, Colour: white})
		assert.Zero(t, ink(paint(l)), "%v", bad)
	}
	// Colours that are none are the nearest one.
	l := page(50, 40)
	l.Rect(display.Rect{W: 50, H: 40})
	l.Fill(solid(display.Colour{R: 7, G: -1, B: nan, A: 3}))
	c := paint(l).RGBAAt(20, 20)
	assert.Equal(t, [4]uint8{255, 0, 0, 255}, [4]uint8{c.R, c.G, c.B, c.A})
}

func TestShapesFarLargerThanThePage(t *testing.T) {
	l := page(50, 40)
	l.Circle(display.Point{X: 25, Y: 5e8}, 5e8-20)
	l.Fill(solid(white))
	img := paint(l)
	assert.Zero(t, light(img, 25, 5))
	assert.Equal(t, 1.0, light(img, 25, 35))

	l = page(50, 40)
	l.AddRibbon(straight(5, 1, 1, display.Point{X: -9e8, Y: 20}, display.Point{X: 9e8, Y: 20}))
	img = paint(l)
	assert.Equal(t, 1.0, light(img, 25, 20))
	assert.Zero(t, light(img, 25, 5))
}

func TestBracketsThatDoNotMatch(t *testing.T) {
	l := page(50, 40)
	l.End()
	l.OpenGroup(display.Group{Opacity: 0.5})
	l.Circle(display.Point{X: 25, Y: 20}, 10)
	l.OpenClip()
	l.Rect(display.Rect{W: 50, H: 40})
	l.Fill(solid(white))
	assert.InDelta(t, 0.5, light(paint(l), 25, 20), 1./255)
}

func TestPaintAPartOfThePage(t *testing.T) {
	l := evenPage(false)
	want := paint(l)
	for _, r := range []image.Rectangle{want.Rect, image.Rect(32, 16, 187, 101), image.Rect(0, 48, int(l.W), 49)} {
		whole := image.NewRGBA(want.Rect)
		part := whole.SubImage(r).(*image.RGBA)
		var p raster.Painter
		p.Paint(l, part)
		for y := range whole.Rect.Dy() {
			for x := range whole.Rect.Dx() {
				if q := image.Pt(x, y); q.In(part.Rect) {
					require.Equal(t, want.RGBAAt(x, y), whole.RGBAAt(x, y), "%v of %v", q, r)
				} else {
					require.Zero(t, whole.RGBAAt(x, y).A, "outside %v at %v", r, q)
				}
			}
		}
		p.Paint(l, image.NewRGBA(image.Rectangle{}))
	}
}

// checkPaint holds for every list: the page is opaque, a used Painter paints what a
// new one does, and many cores what one does.
func checkPaint(t require.TestingT, bytes []byte) {
	l := randomList(bytes)
	img := paint(l)
	for i := 3; i < len(img.Pix); i += 4 {
		if img.Pix[i] != 255 { // asking require for each pixel would be most of the work
			require.FailNow(t, "not opaque", "pixel %d: %d", i/4, img.Pix[i])
		}
	}
	var p raster.Painter
	again := image.NewRGBA(img.Rect)
	for i := range again.Pix {
		again.Pix[i] = 77 // what was in the picture does not matter
	}
	p.Paint(evenPage(false), image.NewRGBA(image.Rect(0, 0, 200, 150)))
	p.Paint(l, again)
	p.Paint(l, again)
	require.Equal(t, img.Pix, again.Pix, "painted by a used painter")
	raster.Paint(l, again)
	require.Equal(t, img.Pix, again.Pix, "painted on all cores")
}

func TestAnyListIsPaintedOpaqueAndTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		checkPaint(t, rapid.SliceOfN(rapid.Byte(), 0, 400).Draw(t, "bytes"))
	})
}

func FuzzPaint(f *testing.F) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 8 {
		b := make([]byte, 300)
		for i := range b {
			b[i] = byte(r.IntN(256))
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, bytes []byte) {
		checkPaint(t, bytes[:min(len(bytes), 1000)])
	})
}

// view is a patient's view of the dear kind at 1920 × 1080: a soft ground, eight
// ribbons, two of them wide and soft at their near ends, and eight balls, mixed
// evenly.
func view() *display.List {
	const w, h = 1920, 1080
	l := page(w, h)
	l.OpenGroup(display.Group{Even: true, Opacity: 1, Bounds: display.Rect{W: w, H: h}})
	l.Rect(display.Rect{W: w, H: h})
	l.Fill(display.Paint{Kind: display.Radial, Dither: true, A: display.Point{X: 960, Y: 420}, B: display.Point{X: 1300, Y: 900},
		From: display.Colour{R: 0.235, G: 0.25, B: 0.26, A: 1}, To: display.Colour{R: 0.17, G: 0.175, B: 0.18, A: 1}})
	for i := range 4 {
		for _, side := range []float64{-1, 1} {
			near, far := float64(3-i)/4, float64(4-i)/4 // the farthest first
			r := display.Ribbon{Colour: display.Colour{R: 0.9, G: 0.88, B: 0.8, A: 1}, Shade: display.Colour{R: 0.42, G: 0.38, B: 0.32, A: 1}, TwistDepth: 0.6}
			for k := range 65 {
				t := far + (near-far)*float64(k)/64
				q := display.RibbonPoint{
					At:   display.Point{X: 960 + side*(1-t)*(1-t)*900 - side*t*120, Y: 300 + 900*(1-t)*(1-t)},
					Half: 2 + 22*(1-t), Opacity: 0.78, Twist: 60 * (1 - t),
				}
				if i == 3 {
					q.Half, q.Soft = 20+40*(0.25-t)*4, 10+100*(0.25-t)*4
				}
				r.Points = append(r.Points, q)
			}
			l.AddRibbon(r)
		}
		for _, side := range []float64{-1, 1} {
			t := (float64(3-i) + 0.2) / 4
			b := ball(display.Surface(i), 960+side*(1-t)*(1-t)*900-side*t*120, 300+900*(1-t)*(1-t), 18+40*float64(i))
			b.Opacity, b.Soft = 0.78, 4*float64(i)
			l.AddBall(b)
		}
	}
	l.End()
	return l
}

func TestPaintingAgainAllocatesNothing(t *testing.T) {
	l := view()
	l.Circle(display.Point{X: 300, Y: 300}, 100)
	l.OpenClip()
	l.OpenGroup(display.Group{Opacity: 0.5})
	l.Circle(display.Point{X: 300, Y: 300}, 90)
	l.StrokeDashed(6, 12, solid(white))
	l.End()
	l.End()
	lettering.Draw(l, lettering.Style{Size: 30, Colour: white}, 100, 100, lettering.Start, "One bead, two strings")
	var p raster.Painter
	img := image.NewRGBA(image.Rect(0, 0, 1920, 1080))
	p.Paint(l, img)
	assert.Zero(t, testing.AllocsPerRun(2, func() { p.Paint(l, img) }))
}

// BenchmarkPaint paints a view into a kept buffer, on one core and on all.
func BenchmarkPaint(b *testing.B) {
	l := view()
	img := image.NewRGBA(image.Rect(0, 0, 1920, 1080))
	b.Run("one", func(b *testing.B) {
		var p raster.Painter
		p.Paint(l, img)
		b.ReportAllocs()
		for b.Loop() {
			p.Paint(l, img)
		}
	})
	b.Run("all", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			raster.Paint(l, img)
		}
	})
}

// BenchmarkText paints a sentence.
func BenchmarkText(b *testing.B) {
	l := page(1280, 100)
	lettering.Draw(l, lettering.Style{Size: 26, Colour: white}, 20, 60, lettering.Start, "One bead. Two strings run to it and cross inside it: both eyes are on the same place.")
	img := image.NewRGBA(image.Rect(0, 0, 1280, 100))
	var p raster.Painter
	b.ReportAllocs()
	for b.Loop() {
		p.Paint(l, img)
	}
}
