package render

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/sim"
)

var aboveWords = AboveLabels{
	Right: "R", Left: "L", Target: "looking at", Meet: "eyes meet", Cross: "strings cross",
	MeetCross: "eyes meet, strings cross", Horopter: "horopter",
	Unit: 10, Length: func(mm float64) string { return fmt.Sprint(mm/10, " cm") },
	Wider: func(times float64) string { return fmt.Sprint("width ×", times) },
}

func aboveSetup() *sim.Setup {
	s := sim.Default()
	s.String.Length = 1200
	s.Beads = []sim.Bead{
		{Name: "orange", At: 230, Diameter: 16, Colour: sim.RGB{R: 0xe6, G: 0x9f}, Surface: sim.SurfaceBanded},
		{Name: "sky", At: 480, Diameter: 16, Colour: sim.RGB{R: 0x56, G: 0xb4, B: 0xe9}, Surface: sim.SurfacePlain},
		{Name: "plum", At: 900, Diameter: 16, Colour: sim.RGB{R: 0xcc, G: 0x79, B: 0xa7}, Surface: sim.SurfaceRinged},
	}
	s.Look.Bead = 1
	return &s
}

// seenFromAbove lays a set-up out in a frame and draws it.
func seenFromAbove(s *sim.Setup, frame display.Rect) (*display.List, *above) {
	var v sim.View
	v.Look(s)
	var l display.List
	l.Reset(frame.X+frame.W, frame.Y+frame.H, theme.Dark.Panel)
	Above(&l, frame, &v, AboveOptions{Theme: &theme.Dark, Labels: aboveWords})
	a := &above{l: new(display.List), frame: frame, v: &v, s: s, th: &theme.Dark, words: aboveWords}
	a.lay(0, s)
	a.measure()
	a.arrange()
	return &l, a
}

var panel = display.Rect{X: 10, Y: 20, W: 320, H: 300}

func text(l *display.List, s string) *display.Text {
	for i := range l.Texts {
		if l.Texts[i].String == s {
			return &l.Texts[i]
		}
	}
	return nil
}

// Row H1: the radius of the circle through both eyes and the fixation, and H2: it is
// seen under one angle from everywhere on it.
func TestHoropterIsTheViethMullerCircle(t *testing.T) {
	right, left, at := r3.Vec{X: 32}, r3.Vec{X: -32}, r3.Vec{Y: 400}
	c, ok := circleThrough(right, left, at)
	require.True(t, ok)
	assert.InDelta(t, 201.280, r3.Norm(c.u), 1e-3)
	assert.InDelta(t, 201.280, r3.Norm(c.v), 1e-3)
	assert.InDelta(t, 0, r3.Dot(c.u, c.v), 1e-9)
	assert.InDelta(t, 0, r3.Norm(r3.Sub(c.at(0), at)), 1e-9)
	assert.Greater(t, c.at(0.5).X, 0., "from the fixation towards the right")
	angle := func(p r3.Vec) float64 {
		return math.Acos(r3.Cos(r3.Sub(right, p), r3.Sub(left, p)))
	}
	for _, phi := range []float64{-2, -1, 0.3, 1.5} {
		assert.InDelta(t, angle(at), angle(c.at(phi)), 1e-9)
	}
	_, ok = circleThrough(r3.Vec{}, r3.Vec{X: 1}, r3.Vec{X: 2})
	assert.False(t, ok, "points on one line")
}

func TestAboveIsToScale(t *testing.T) {
	s := aboveSetup()
	l, a := seenFromAbove(s, panel)
	require.Len(t, l.Balls, 3)
	orange, plum := l.Balls[0].Centre, l.Balls[2].Centre
	along := (orange.Y - plum.Y) / (s.Place(900).Y - s.Place(230).Y) // pixels per mm
	assert.InDelta(t, a.perMMY, along, 1e-9)

	// The ruler is as long as it says.
	label := text(l, "50 cm")
	require.NotNil(t, label)
	assert.InDelta(t, 500*along, a.ruler.length, 1e-9)

	// Widths are magnified as it says: by the plates under the eyes.
	wider := a.times
	require.NotNil(t, text(l, fmt.Sprint("width ×", wider)))
	apart := text(l, "R").Glyphs[0].At.X - text(l, "L").Glyphs[0].At.X
	assert.InDelta(t, s.Patient.PD*along*wider, apart, 1) // letters are not equally wide
	assert.Greater(t, wider, 1.)
	assert.Equal(t, math.Trunc(wider), wider)
}

func TestAboveShortStringsAreInTrueProportion(t *testing.T) {
	s := aboveSetup()
	s.String.Length = 150
	s.Beads, s.Look.Bead, s.Look.At = nil, sim.NoBead, 100
	l, a := seenFromAbove(s, panel)
	assert.Equal(t, 1., a.times)
	for i := range l.Texts {
		assert.NotContains(t, l.Texts[i].String, "width", "nothing to state")
	}
}

func TestAboveMarksWhereTheEyesMeet(t *testing.T) {
	s := aboveSetup()
	l, a := seenFromAbove(s, panel)
	assert.True(t, a.together)
	assert.InDelta(t, 0, math.Hypot(a.meet.X-a.target.X, a.meet.Y-a.target.Y), 1e-6, "no error: they meet in the bead")
	assert.NotNil(t, text(l, "eyes meet, strings cross"))

	s.Posture.Deviation = 4
	l, a = seenFromAbove(s, panel)
	assert.Greater(t, a.meet.Y, a.target.Y+3, "eso: nearer to the patient, lower on the page")
	assert.NotNil(t, text(l, "looking at"))

	s.Posture.Deviation = -30
	l, a = seenFromAbove(s, panel)
	assert.False(t, a.meets)
	for i := range l.Texts {
		assert.False(t, strings.HasPrefix(l.Texts[i].String, "eyes meet"), "they part")
	}
	assert.Less(t, a.gazes[sim.LeftEye].end().X, a.gazes[sim.LeftEye].at.X)
	for e := range sim.Eyes {
		assert.False(t, inside(a.frame, a.gazes[e].end(), 0), "the axes reach the frame's edge")
	}
}

// Anomalous correspondence: the strings cross in the bead, the axes do not (row A2).
func TestAboveTellsTheCrossingFromTheMeeting(t *testing.T) {
	s := aboveSetup()
	s.Patient.Nodal = 0
	s.Posture = sim.Posture{Deviation: 20, Fixing: sim.Right, Anomaly: 20, PrismMet: 1}
	l, a := seenFromAbove(s, panel)
	assert.True(t, a.meets && a.crosses && !a.together)
	assert.InDelta(t, a.target.Y, a.cross.Y, 1)
	assert.NotNil(t, text(l, "eyes meet"))
	assert.NotNil(t, text(l, "strings cross"))
}

// Left and right are told apart by more than colour: the left axis is dashed.
func TestAboveAxesAreTellable(t *testing.T) {
	l, _ := seenFromAbove(aboveSetup(), panel)
	for i := range l.Paths {
		p := &l.Paths[i]
		if p.Stroke == 0 {
			continue
		}
		switch p.Paint.From {
		case theme.Dark.Right:
			assert.Zero(t, p.Dash)
		case theme.Dark.Left:
			assert.Positive(t, p.Dash)
		}
	}
}

func TestAboveSwappingTheEyesMirrors(t *testing.T) {
	s := aboveSetup()
	s.Posture = sim.Posture{Deviation: 6, Fixing: sim.Right, PrismMet: 1}
	_, a := seenFromAbove(s, panel)
	s.Posture.Fixing = sim.Left
	_, b := seenFromAbove(s, panel)
	middle := panel.X + panel.W/2
	for e := range sim.Eyes {
		x, y := a.gazes[e], b.gazes[e.Other()]
		assert.InDelta(t, x.at.X-middle, middle-y.at.X, 1e-9)
		assert.InDelta(t, x.along.X, -y.along.X, 1e-9)
		assert.InDelta(t, x.along.Y, y.along.Y, 1e-9)
	}
	assert.InDelta(t, a.meet.X-middle, middle-b.meet.X, 1e-6)
}

// drawSetup draws a set-up of any sort from above.
func drawSetup(t *rapid.T) *sim.Setup {
	f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	s := aboveSetup()
	s.String.Length = f("length", 950, 6000)
	s.String.NearEnd = r3.Vec{X: f("near x", -60, 60), Y: f("near y", 30, 90), Z: f("near z", -90, 20)}
	s.String.AnchorSide = f("anchor", -500, 500)
	s.Look.Bead = rapid.IntRange(0, 2).Draw(t, "bead")
	s.Posture.Deviation = sim.Prism(f("deviation", -100, 100))
	s.Posture.Vertical = sim.Prism(f("vertical", -30, 30))
	s.Posture.Fixing = rapid.SampledFrom([]sim.Side{sim.Both, sim.Left, sim.Right}).Draw(t, "fixing")
	s.Cover = rapid.SampledFrom([]sim.Side{sim.Neither, sim.Left, sim.Right}).Draw(t, "cover")
	s.Right.BaseOut = sim.Prism(f("prism", -40, 40))
	s.Patient.PD = f("pd", 40, 80)
	return s
}

func TestAboveStaysInItsFrame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSetup(t)
		frame := rapid.SampledFrom([]display.Rect{
			panel, {W: 240, H: 200}, {W: 1280, H: 800}, {W: 3840, H: 2160}, {X: 5, W: 300, H: 900},
		}).Draw(t, "frame")
		l, _ := seenFromAbove(s, frame)

		// All of it is in one clip, which is the frame.
		require.Equal(t, display.KindClip, l.Ops[0].Kind)
		depth := 0
		for _, op := range l.Ops {
			switch op.Kind {
			case display.KindClip, display.KindGroup:
				depth++
			case display.KindEnd:
				depth--
			default:
				require.Positive(t, depth)
			}
		}
		require.Zero(t, depth)
		assert.Equal(t, display.Point{X: frame.X, Y: frame.Y}, l.Clips[0].Outline.Points[0])
		assert.Equal(t, display.Point{X: frame.X + frame.W, Y: frame.Y + frame.H}, l.Clips[0].Outline.Points[2])

		for i := range l.Paths {
			for _, p := range l.Paths[i].Outline.Points {
				require.False(t, math.IsNaN(p.X+p.Y) || math.IsInf(p.X+p.Y, 0))
			}
		}
		// The eyes and what is looked at show; the words are whole and apart.
		for _, b := range l.Balls {
			assert.True(t, within(frame, display.Rect{X: b.Centre.X, Y: b.Centre.Y}))
		}
		var boxes []display.Rect
		for i := range l.Texts {
			txt := &l.Texts[i]
			st := lettering.Style{Face: txt.Face, Size: txt.Size}
			at, h := txt.Glyphs[0].At, lettering.CapHeight(st)
			box := display.Rect{X: at.X, Y: at.Y - h, W: lettering.Width(st, txt.String), H: h}
			require.True(t, within(frame, box), "%q at %v", txt.String, box)
			for _, b := range boxes {
				require.False(t, overlap(b, box), "%q at %v lies over %v", txt.String, box, b)
			}
			boxes = append(boxes, box)
		}
	})
}

func within(frame, b display.Rect) bool {
	return b.X >= frame.X && b.Y >= frame.Y && b.X+b.W <= frame.X+frame.W+1e-9 && b.Y+b.H <= frame.Y+frame.H+1e-9
}

func TestAboveStandsStillWhileTheEyesTurn(t *testing.T) {
	s := aboveSetup()
	_, a := seenFromAbove(s, panel)
	for _, deviation := range []sim.Prism{-50, -10, 3, 40} {
		s.Posture.Deviation = deviation
		_, b := seenFromAbove(s, panel)
		assert.Equal(t, [...]float64{a.perMMX, a.perMMY, a.origin.X, a.origin.Y}, [...]float64{b.perMMX, b.perMMY, b.origin.X, b.origin.Y})
	}
}

func TestAboveAgainAllocatesNothing(t *testing.T) {
	s := aboveSetup()
	s.Posture.Deviation = -3
	var v sim.View
	v.Look(s)
	words := aboveWords
	words.Length = func(float64) string { return "50 cm" }
	words.Wider = func(float64) string { return "width ×6" }
	var l display.List
	draw := func() {
		l.Reset(400, 400, theme.Dark.Panel)
		Above(&l, panel, &v, AboveOptions{Theme: &theme.Dark, Labels: words})
	}
	draw()
	assert.Zero(t, testing.AllocsPerRun(20, draw))
}

func TestScaleLength(t *testing.T) {
	for _, c := range []struct{ unit, longest, want float64 }{
		{10, 540, 500}, {10, 199, 100}, {10, 200, 200}, {10, 5, 10}, {25.4, 300, 254}, {25.4, 130, 127},
	} {
		assert.InDelta(t, c.want, scaleLength(c.unit, c.longest), 1e-9, "%v", c)
	}
}

func TestAboveMapIsTheInverseOfItself(t *testing.T) {
	frame := display.Rect{X: 900, Y: 60, W: 320, H: 240}
	for _, side := range []float64{-300, 0, 450} {
		s := sim.Default()
		s.String.Length, s.String.AnchorSide = 1200, side
		m := AboveMapOf(frame, &s, 1)
		at := s.Place(s.String.Length)
		p := m.Page(at)
		assert.True(t, p.X >= frame.X && p.X <= frame.X+frame.W && p.Y >= frame.Y && p.Y <= frame.Y+frame.H, "%v mm", side)
		right, ahead := m.Place(p)
		assert.InDelta(t, at.X, right, 1e-6, "%v mm", side)
		assert.InDelta(t, at.Y, ahead, 1e-6, "%v mm", side)
	}
}

// From above nothing is called a crossing of the strings that is none on the string: not
// where one string passes over the other, nor where they cross off to one side (M11).
func TestAboveNamesOnlyCrossingsOnTheString(t *testing.T) {
	named, none := 0, 0
	check := func(s *sim.Setup) {
		var v sim.View
		v.Look(s)
		l, _ := seenFromAbove(s, display.Rect{W: 640, H: 640})
		said := text(l, "strings cross") != nil || text(l, "eyes meet, strings cross") != nil
		switch v.Account.Meet {
		case sim.MeetAt, sim.MeetNearer, sim.MeetBeyond:
			if said {
				named++
			}
		default:
			none++
			require.False(t, said, "%+v", v.Account)
		}
	}
	for _, vertical := range []sim.Prism{0, 0.3, 2, -2, 6} {
		for deviation := sim.Prism(-12); deviation <= 24; deviation += 3 {
			s := aboveSetup()
			s.Posture.Deviation, s.Posture.Vertical = deviation, vertical
			check(s)
		}
	}
	assert.Positive(t, named)
	assert.Positive(t, none)

	level := aboveSetup()
	level.String.NearEnd.Z = 0
	l, _ := seenFromAbove(level, display.Rect{W: 640, H: 640})
	assert.Nil(t, text(l, "eyes meet, strings cross"), "on one line")
}
