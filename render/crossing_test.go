package render_test

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/raster"
	"twincord/render/theme"
	"twincord/scenes"
	"twincord/sim"
)

// drawn paints the patient's view of a set-up, without the glass.
func drawn(s *sim.Setup, frame display.Rect, field sim.Degrees) (*image.RGBA, *sim.View) {
	var v sim.View
	v.Look(s)
	var l display.List
	l.Reset(frame.W, frame.H, theme.Dark.Ground)
	render.Patient(&l, frame, &v, render.PatientOptions{Field: field, NoInset: true})
	img := image.NewRGBA(image.Rect(0, 0, int(frame.W), int(frame.H)))
	raster.Paint(&l, img)
	return img, &v
}

// profile is how bright a picture is across a row, above the wall: the most of it, and
// the sum as a width in pixels of the most.
func profile(img *image.RGBA, y int) (most, width float64) {
	wall := float64(img.RGBAAt(0, y).G)
	for x := range img.Rect.Dx() {
		v := float64(img.RGBAAt(x, y).G) - wall
		most = max(most, v)
		width += max(v, 0)
	}
	return most, width / max(most, 1)
}

// The stretch that is seen as one is no brighter and no wider than the one string that an
// eye alone has there, and nothing on the way into it is.
func TestTheFusedStretchIsOneStrand(t *testing.T) {
	s := *scene(t, "bare-string")
	// Wide limits: a long stretch, on which the two would show side by side.
	s.Patient.FusionH, s.Patient.FusionHSlope = 120, 0
	frame := display.Rect{W: 900, H: 900}
	both, v := drawn(&s, frame, 20)
	alone := s
	alone.Cover = sim.Left
	one, _ := drawn(&alone, frame, 20)
	require.True(t, v.Strings.FusedFrom.OK)
	fused := 0
	for y := 100; y < 800; y++ {
		m, w := profile(both, y)
		m1, w1 := profile(one, y)
		assert.LessOrEqual(t, m, m1+4, "brightness in row %d", y)
		if math.Abs(float64(y)-render.FixationAt(frame).Y) < 25 {
			fused++
			// The one stands upright there, a single eye's strand aslant.
			assert.LessOrEqual(t, w, 1.1*w1, "width in row %d", y)
		}
	}
	assert.Positive(t, fused)
	// From row to row the ink grows without a step as the two part.
	_, last := profile(both, 100)
	for y := 101; y < 800; y++ {
		_, w := profile(both, y)
		assert.Less(t, math.Abs(w-last), 0.35*last, "a step at row %d", y)
		last = w
	}
}

// A stretch that fuses but has no length, or no number, is drawn without one that is none.
func TestNoLengthThatFuses(t *testing.T) {
	s := *scene(t, "red-green")
	var v sim.View
	v.Look(&s)
	require.True(t, v.Crossing.At.OK)
	for _, end := range []float64{v.Crossing.At.Value, math.Nextafter(v.Crossing.At.Value, 1e9), math.NaN(), math.Inf(1)} {
		v.Strings.FusedFrom, v.Strings.FusedTo = sim.Some(end), sim.Some(end)
		var l display.List
		l.Reset(frame.W, frame.H, theme.Dark.Ground)
		render.Patient(&l, frame, &v, render.PatientOptions{})
		require.NotEmpty(t, l.Ribbons)
		for _, r := range l.Ribbons {
			for _, q := range r.Points {
				require.False(t, math.IsNaN(q.At.X+q.At.Y+q.Half+q.Soft+q.Opacity+q.Twist), "ends at %v", end)
			}
		}
	}
}

// The glass is there where the crossing is small and there is room, is in the frame, says
// how many times it magnifies, and covers no bead.
func TestASmallCrossingIsShownLarger(t *testing.T) {
	count := func(name string, frame display.Rect, o render.PatientOptions) (glasses int, l display.List) {
		var v sim.View
		v.Look(scene(t, name))
		l.Reset(frame.W, frame.H, theme.Dark.Ground)
		render.Patient(&l, frame, &v, o)
		for _, x := range l.Texts {
			if []rune(x.String)[0] == '×' {
				glasses++
			}
		}
		return glasses, l
	}
	large := display.Rect{W: 1280, H: 800}
	n, l := count("three-metres", large, render.PatientOptions{})
	require.Equal(t, 1, n)
	require.NotEmpty(t, l.Clips)
	n, _ = count("three-metres", large, render.PatientOptions{NoInset: true})
	assert.Zero(t, n)
	n, _ = count("middle-of-three", large, render.PatientOptions{})
	assert.Zero(t, n, "large enough")
	n, _ = count("three-metres", display.Rect{W: 320, H: 200}, render.PatientOptions{})
	assert.Zero(t, n, "no room")
	n, _ = count("eyes-part", large, render.PatientOptions{})
	assert.Zero(t, n, "nothing crosses")

	for _, e := range scenes.Library() {
		n, l := count(e.Name, large, render.PatientOptions{Field: 60})
		if n == 0 {
			continue
		}
		// The last circle stroked is its rim.
		rim := l.Paths[len(l.Paths)-2].Outline.Points
		left, right := math.Inf(1), math.Inf(-1)
		top, foot := left, right
		for _, q := range rim {
			left, right = min(left, q.X), max(right, q.X)
			top, foot = min(top, q.Y), max(foot, q.Y)
		}
		assert.Positive(t, left, e.Name)
		assert.Less(t, right, large.W, e.Name)
		assert.Positive(t, top, e.Name)
		assert.Less(t, foot, large.H, e.Name)
		_, plain := count(e.Name, large, render.PatientOptions{Field: 60, NoInset: true})
		for _, b := range plain.Balls {
			if b.Bore > 0 {
				d := math.Hypot(b.Centre.X-(left+right)/2, b.Centre.Y-(top+foot)/2)
				assert.Greater(t, d, (right-left)/2+b.Radius(), "%s: a bead under the glass", e.Name)
			}
		}
	}
}

// However blurred, a ball keeps its ink and has no core: its brightness falls from the
// middle out, and never by more than its edge would.
func TestABlurredBallHasNoCore(t *testing.T) {
	ink := 0.
	for i, soft := range []float64{0, 2, 6, 10, 14, 20, 30} {
		var l display.List
		l.Reset(200, 200, display.Colour{A: 1})
		l.AddBall(display.Ball{
			Centre: display.Point{X: 100, Y: 100}, RadiusX: 14, RadiusY: 14, Soft: soft, Opacity: 1,
			Colour: display.Colour{R: 1, G: 1, B: 1, A: 1}, Bore: 0.16, Axis: [3]float64{0, 0, 1}, Surface: display.Ringed,
			Light: [3]float64{0, 0, 1},
		})
		img := image.NewRGBA(image.Rect(0, 0, 200, 200))
		raster.Paint(&l, img)
		b := l.Balls[0]
		sum, last := 0., 0.
		for d := 0.; d < 80; d += 0.25 {
			a := b.Outline().At(d)
			sum += 2 * math.Pi * d * a * 0.25
			if d > 0 {
				assert.LessOrEqual(t, a, last+1e-9)
			}
			last = a
		}
		if i == 0 {
			ink = sum
		}
		assert.InEpsilon(t, ink, sum, 0.02, "blur %v", soft)
		if soft < 20 {
			continue
		}
		// Along a row through the middle there is no edge.
		for x := 101; x < 200; x++ {
			a, c := int(img.RGBAAt(x-1, 100).R), int(img.RGBAAt(x, 100).R)
			assert.LessOrEqual(t, max(a-c, c-a), 10, "blur %v at %d", soft, x)
		}
	}
}
