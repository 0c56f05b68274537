package render

import (
	stdimage "image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/raster"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/sim"
)

func frontSetup(change func(s *sim.Setup)) *sim.Setup {
	s := aboveSetup()
	change(s)
	return s
}

// seenFromFront draws a set-up in a frame of a larger page.
func seenFromFront(s *sim.Setup, frame display.Rect, labels FrontLabels) (*display.List, *sim.View) {
	var v sim.View
	v.Look(s)
	var l display.List
	l.Reset(frame.X+frame.W+20, frame.Y+frame.H+20, theme.Dark.Panel)
	Front(&l, frame, &v, FrontOptions{Theme: &theme.Dark, Labels: labels})
	return &l, &v
}

func frontWords(t *testing.T) FrontLabels {
	w, err := words.For("en")
	require.NoError(t, err)
	return FrontIn(w)
}

var (
	frontPanel = display.Rect{X: 10, Y: 20, W: 320, H: 160}
	turnedOut  = func(s *sim.Setup) { s.Posture.Deviation, s.Posture.Fixing = -25, sim.Right }
)

// disc is an ellipse as drawn.
type disc struct {
	at     display.Point
	rx, ry float64
}

// discs are the ellipses that are filled with a colour, in order: the outline goes
// through the ends of the half-axes at every third point.
func discs(l *display.List, c display.Colour) (all []disc) {
	for _, p := range l.Paths {
		if p.Paint.Kind != display.Solid || p.Paint.From != c || p.Stroke > 0 {
			continue
		}
		at := p.Outline.Points
		d := disc{at: display.Point{X: (at[0].X + at[6].X) / 2, Y: (at[0].Y + at[6].Y) / 2}}
		d.rx = math.Hypot(at[0].X-d.at.X, at[0].Y-d.at.Y)
		d.ry = math.Hypot(at[3].X-d.at.X, at[3].Y-d.at.Y)
		all = append(all, d)
	}
	return all
}

// Pupils and reflexes stand where the model has them, to scale, the right eye on the
// left.
func TestFrontIsToScale(t *testing.T) {
	s := frontSetup(func(s *sim.Setup) { turnedOut(s); s.Posture.Vertical = 6 })
	l, v := seenFromFront(s, frontPanel, FrontLabels{})
	f, c := v.Face(), theme.Dark.Face()
	pupils, reflexes := discs(l, c.Pupil), discs(l, c.Reflex)
	require.Len(t, pupils, 2)
	require.Len(t, reflexes, 2)
	r, left := pupils[sim.RightEye].at, pupils[sim.LeftEye].at
	assert.Less(t, r.X, left.X)

	scale := frontPanel.H / (faceAbove + faceBelow) // it is wider than a face
	place := func(e *sim.EyeFace) sim.XY { return by(e.Centre, e.Pupil) }
	a, b := place(&f.Eyes[sim.RightEye]), place(&f.Eyes[sim.LeftEye])
	assert.InDelta(t, scale*(a.X-b.X), left.X-r.X, 0.01)
	assert.InDelta(t, scale*(a.Y-b.Y), left.Y-r.Y, 0.01)
	for i := range sim.Eyes {
		e := &f.Eyes[i]
		at, pupil := reflexes[i].at, pupils[i].at
		assert.InDelta(t, -scale*e.Reflex.Value.X, at.X-pupil.X, 0.01)
		assert.InDelta(t, -scale*e.Reflex.Value.Y, at.Y-pupil.Y, 0.01)
		assert.InDelta(t, scale*e.PupilRadius*math.Cos(float64(e.Angle)), pupils[i].rx, 0.01, "foreshortened")
		assert.InDelta(t, scale*e.PupilRadius, pupils[i].ry, 0.01)
	}
	// Turned outward: the left eye is on the right of the picture, its reflex towards
	// the nose.
	assert.Less(t, reflexes[sim.LeftEye].at.X, left.X-1.5)
}

// A tilt of the eye turns the pattern of the iris, and nothing else.
func TestFrontShowsTilt(t *testing.T) {
	var v sim.View
	v.Look(frontSetup(func(s *sim.Setup) { s.Posture.Cyclo, s.Posture.Fixing = 12, sim.Right }))
	p := front{v: &v, face: v.Face(), FrontMap: FrontMap{scale: 10}}
	tilts := [...]float64{sim.RightEye: 0, sim.LeftEye: 12}
	for i := range sim.Eyes {
		e := &p.face.Eyes[i]
		top, centre := p.iris(i, e, 4, 0.25), p.Page(by(e.Centre, e.Pupil))
		outward := top.X - centre.X // of the left eye to the right of the picture
		if i == sim.RightEye {
			outward = -outward
		}
		assert.InDelta(t, tilts[i], math.Atan2(outward, centre.Y-top.Y)*180/math.Pi, 0.5)
	}
}

// The upper lid follows the eye.
func TestLidsFollow(t *testing.T) {
	opening := func(degrees sim.Degrees) (top, bottom float64) {
		l := lidsOf(degrees.Angle())
		return l.upper[0][3].above, l.lower[0][3].above
	}
	last := math.Inf(-1)
	for degrees := sim.Degrees(-90); degrees <= 90; degrees += 5 {
		top, bottom := opening(degrees)
		assert.GreaterOrEqual(t, top, last)
		assert.Greater(t, top, bottom+1, "%v°: open", degrees)
		last = top
	}
	down, _ := opening(-20)
	up, _ := opening(20)
	assert.Greater(t, up-down, 4.)
}

func TestFrontSaysHowTheEyesAreTurned(t *testing.T) {
	labels := frontWords(t)
	for _, c := range []struct {
		change func(*sim.Setup)
		says   []string
	}{
		{func(*sim.Setup) {}, []string{"R", "L"}},
		{turnedOut, []string{"R", "L", "turned outward"}},
		{func(s *sim.Setup) { s.Posture.Vertical, s.Posture.Fixing = 10, sim.Left }, []string{"R", "turned upward", "L"}},
		{func(s *sim.Setup) { turnedOut(s); s.Cover = sim.Left }, []string{"R", "L", "covered"}},
	} {
		l, _ := seenFromFront(frontSetup(c.change), display.Rect{W: 640, H: 400}, labels)
		var said []string
		for _, text := range l.Texts {
			said = append(said, text.String)
		}
		assert.Equal(t, c.says, said)
	}
	// In a window's panel too each label is whole, and within it.
	s := frontSetup(func(s *sim.Setup) { turnedOut(s); s.Posture.Vertical = 12 })
	l, _ := seenFromFront(s, frontPanel, labels)
	words := ""
	for _, text := range l.Texts[2:] {
		words += text.String + " "
	}
	require.Equal(t, "turned outward and downward ", words, "on as many lines as it takes")
	for _, text := range l.Texts {
		width := lettering.Width(lettering.Style{Face: text.Face, Size: text.Size}, text.String)
		at := text.Glyphs[0].At
		assert.Greater(t, at.X, frontPanel.X)
		assert.Less(t, at.X+width, frontPanel.X+frontPanel.W)
		assert.Less(t, at.Y, frontPanel.Y+frontPanel.H-3)
	}
}

func painted(l *display.List) *stdimage.RGBA {
	img := stdimage.NewRGBA(stdimage.Rect(0, 0, int(l.W), int(l.H)))
	raster.Paint(l, img)
	return img
}

// What stands outside the frame stays as it was, whatever the frame and the set-up,
// and nothing is not a number.
func TestFrontKeepsToItsFrame(t *testing.T) {
	labels := frontWords(t)
	for _, change := range []func(*sim.Setup){
		func(*sim.Setup) {}, turnedOut,
		func(s *sim.Setup) { s.Cover = sim.Right },
		func(s *sim.Setup) { s.Posture.Deviation, s.Posture.Fixing = -100, sim.Left },
		func(s *sim.Setup) { s.String.AnchorSide, s.String.AnchorHeight = 800, -600 },
	} {
		for _, frame := range []display.Rect{frontPanel, {X: 30, Y: 5, W: 60, H: 200}, {X: 7, Y: 9, W: 400, H: 40}} {
			l, _ := seenFromFront(frontSetup(change), frame, labels)
			for _, r := range l.Ribbons {
				for _, at := range r.Points {
					require.False(t, math.IsNaN(at.At.X+at.At.Y+at.Half+at.Soft))
				}
			}
			img := painted(l)
			ground := img.RGBAAt(int(l.W)-1, int(l.H)-1)
			changed := false
			for y := range int(l.H) {
				for x := range int(l.W) {
					inside := float64(x) >= frame.X && float64(x) < frame.X+frame.W && float64(y) >= frame.Y && float64(y) < frame.Y+frame.H
					if !inside {
						require.Equal(t, ground, img.RGBAAt(x, y), "%v at %d, %d", frame, x, y)
					}
					changed = changed || img.RGBAAt(x, y) != ground
				}
			}
			assert.True(t, changed)
		}
	}
	var l display.List
	var v sim.View
	v.Look(aboveSetup())
	Front(&l, display.Rect{W: 0, H: 10}, &v, FrontOptions{Theme: &theme.Dark})
	assert.Empty(t, l.Ops)
}

// Who swaps the eyes mirrors the picture.
func TestFrontMirrors(t *testing.T) {
	frame := display.Rect{W: 320, H: 160}
	change := func(fixing, cover sim.Side) *sim.Setup {
		return frontSetup(func(s *sim.Setup) {
			s.Posture.Deviation, s.Posture.Cyclo, s.Posture.Fixing, s.Cover = 20, 8, fixing, cover
		})
	}
	for _, covered := range []bool{false, true} {
		right, left := sim.Neither, sim.Neither
		if covered {
			right, left = sim.Right, sim.Left
		}
		l, _ := seenFromFront(change(sim.Right, right), frame, FrontLabels{})
		a := painted(l)
		l, _ = seenFromFront(change(sim.Left, left), frame, FrontLabels{})
		b := painted(l)
		// The fixed dither is not mirrored, nor where dashes begin. An eye that did not turn
		// along would put twice as many pixels off.
		var sum, far, n float64
		for y := range int(frame.H) {
			for x := range int(frame.W) {
				p, q := a.RGBAAt(x, y), b.RGBAAt(int(frame.W)-1-x, y)
				d := math.Abs(float64(p.G) - float64(q.G))
				sum, n = sum+d, n+1
				if d > 6 {
					far++
				}
			}
		}
		assert.Less(t, sum/n, 1.2)
		assert.Less(t, far/n, 0.005)
	}
}

// A pupil that is pulled stands where it was pulled to: the map and the gaze together are
// the inverse of the picture.
func TestFrontMapTakesPulls(t *testing.T) {
	for _, frame := range []display.Rect{frontPanel, {X: 30, Y: 7, W: 200, H: 400}} {
		l, v := seenFromFront(frontSetup(turnedOut), frame, FrontLabels{})
		m := FrontMapOf(frame, &v.Now)
		pupils := discs(l, theme.Dark.Face().Pupil)
		require.Len(t, pupils, 2)
		for i := range sim.Eyes {
			p := pupils[i]
			place := m.Place(p.at)
			back := m.Page(place)
			assert.InDelta(t, p.at.X, back.X, 1e-9)
			assert.InDelta(t, p.at.Y, back.Y, 1e-9)
			azimuth, elevation, ok := v.GazeSeenAt(i, place)
			require.True(t, ok)
			assert.InDelta(t, float64(v.Eyes[i].Azimuth), float64(azimuth), 1e-3)
			assert.InDelta(t, float64(v.Eyes[i].Elevation), float64(elevation), 1e-3)
		}
	}
}
