package render_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/theme"
	"twincord/scenes"
	"twincord/sim"
)

var frame = display.Rect{W: 1280, H: 800}

func patient(s *sim.Setup, o render.PatientOptions) *display.List {
	var v sim.View
	v.Look(s)
	var l display.List
	l.Reset(frame.W, frame.H, theme.Dark.Ground)
	render.Patient(&l, frame, &v, o)
	return &l
}

func scene(t testing.TB, name string) *sim.Setup {
	sc, _, err := scenes.Open(name)
	require.NoError(t, err)
	return &sc.Setup
}

// swapped is the same set-up with the eyes and the sides swapped.
func swapped(s sim.Setup) sim.Setup {
	other := map[sim.Side]sim.Side{sim.Right: sim.Left, sim.Left: sim.Right}
	swap := func(e *sim.Side) {
		if o, ok := other[*e]; ok {
			*e = o
		}
	}
	swap(&s.Posture.Fixing)
	swap(&s.Suppression.Eye)
	swap(&s.Cover)
	s.Posture.Vertical = -s.Posture.Vertical
	swap(&s.Findings.Value.Preferred)
	s.Findings.Value.VerticalPhoria = -s.Findings.Value.VerticalPhoria
	s.Right, s.Left = s.Left, s.Right
	s.String.NearEnd.X, s.String.AnchorSide = -s.String.NearEnd.X, -s.String.AnchorSide
	return s
}

// Swapping the eyes mirrors the picture: the shapes of each pair change places and
// sides. (The light on the beads stays where it is.)
func TestSwappingTheEyesMirrorsThePicture(t *testing.T) {
	for _, e := range scenes.Library() {
		t.Run(e.Name, func(t *testing.T) {
			var v sim.View
			v.Look(&e.Scene.Setup)
			a := patient(&v.Now, render.PatientOptions{})
			o := swapped(v.Now)
			b := patient(&o, render.PatientOptions{})
			require.Len(t, b.Ribbons, len(a.Ribbons))
			require.Len(t, b.Balls, len(a.Balls))
			mirrored := func(p, q display.Point) bool {
				return math.Abs(p.X+q.X-frame.W) < 1e-3 && math.Abs(p.Y-q.Y) < 1e-3
			}
			for _, r := range a.Ribbons {
				assert.True(t, slices.ContainsFunc(b.Ribbons, func(o display.Ribbon) bool {
					return len(o.Points) == len(r.Points) && mirrored(o.Points[0].At, r.Points[0].At) &&
						mirrored(o.Points[len(o.Points)-1].At, r.Points[len(r.Points)-1].At) &&
						math.Abs(o.Points[0].Opacity-r.Points[0].Opacity) < 1e-9
				}), "a ribbon from %v", r.Points[0].At)
			}
			for _, c := range a.Balls {
				assert.True(t, slices.ContainsFunc(b.Balls, func(o display.Ball) bool {
					return mirrored(o.Centre, c.Centre) && math.Abs(o.RadiusX-c.RadiusX) < 1e-6 && math.Abs(o.Opacity-c.Opacity) < 1e-9
				}), "a ball at %v", c.Centre)
			}
		})
	}
}

// The automatic field holds every bead's images and the crossing with a margin,
// within its bounds, and is the least one that does.
func TestAutoFieldHoldsEveryBead(t *testing.T) {
	for _, e := range scenes.Library() {
		s := &e.Scene.Setup
		var v sim.View
		v.Look(s)
		field := render.AutoField(&v, frame.W/frame.H, false)
		assert.GreaterOrEqual(t, float64(field), 14.)
		assert.LessOrEqual(t, float64(field), 55.)
		if field == 14 || field == 55 {
			continue
		}
		l := patient(s, render.PatientOptions{NoInset: true})
		closest := math.Inf(1)
		for _, b := range l.Balls {
			if b.Bore == 0 {
				continue // what the string is tied to
			}
			assert.Greater(t, b.Centre.X-b.RadiusX, 0., e.Name)
			assert.Less(t, b.Centre.X+b.RadiusX, frame.W, e.Name)
			assert.Greater(t, b.Centre.Y-b.RadiusX, 0., e.Name)
			assert.Less(t, b.Centre.Y+b.RadiusX, frame.H, e.Name)
			closest = min(closest,
				(b.Centre.X-b.RadiusX)/(frame.W/2), (frame.W-b.Centre.X-b.RadiusX)/(frame.W/2),
				(b.Centre.Y-b.RadiusX)/(0.4*frame.H), (frame.H-b.Centre.Y-b.RadiusX)/(0.6*frame.H))
		}
		for _, r := range l.Ribbons {
			if r.TwistDepth == 0 { // of what the string is tied to
				for _, q := range r.Points {
					closest = min(closest, q.At.X/(frame.W/2), (frame.W-q.At.X)/(frame.W/2), q.At.Y/(0.4*frame.H))
				}
			}
		}
		assert.InDelta(t, 1-1/1.1, closest, 0.02, "%s: a tenth is left", e.Name)
	}
}

// What is single is drawn in one place and solid; what is double in two, each a
// little see-through.
func TestSingleIsSolidAndDoubleIsSeeThrough(t *testing.T) {
	l := patient(scene(t, "middle-of-three"), render.PatientOptions{})
	var beads []display.Ball
	for _, b := range l.Balls {
		if b.Bore > 0 {
			beads = append(beads, b)
		}
	}
	require.Len(t, beads, 6, "three beads in two eyes, from far to near")
	assert.InDelta(t, 0, beads[2].Centre.X-beads[3].Centre.X, 1e-9)
	assert.Equal(t, 1., beads[2].Opacity)
	for _, b := range []display.Ball{beads[0], beads[1], beads[4], beads[5]} {
		assert.InDelta(t, 0.78, b.Opacity, 1e-12)
	}
	// Nearer than fixation is crossed: the right eye's image to the left (row D3).
	assert.Less(t, beads[4].Centre.X, beads[5].Centre.X)
	assert.Greater(t, beads[0].Centre.X, beads[1].Centre.X)
}

// From 80 % of Panum's limit to the limit the two images part smoothly.
func TestImagesPartSmoothly(t *testing.T) {
	s := *scene(t, "middle-of-three")
	limit := s.Patient.FusionH.Angle()
	apart := func(share float64) float64 {
		s.Posture.Deviation = (sim.Angle(share) * limit).Prism()
		var found []display.Ball
		for _, b := range patient(&s, render.PatientOptions{Field: 20}).Balls {
			if b.Bore > 0 {
				found = append(found, b)
			}
		}
		require.Len(t, found, 6)
		return math.Abs(found[2].Centre.X - found[3].Centre.X)
	}
	assert.InDelta(t, 0, apart(0.79), 1e-9)
	last, step := 0., apart(1.05)-apart(0.75)
	require.Greater(t, step, 1.)
	for share := 0.75; share <= 1.05; share += 0.005 {
		now := apart(share)
		assert.GreaterOrEqual(t, now, last-1e-9, "at %v", share)
		assert.Less(t, now-last, step/5, "no jump at %v", share)
		last = now
	}
}

// Zoom and centring: a wider field makes everything smaller about the fixation
// direction; with the head-centred picture the anchor stays where it is while the
// eyes turn.
func TestFieldAndCentre(t *testing.T) {
	s := *scene(t, "middle-of-three")
	narrow, wide := patient(&s, render.PatientOptions{Field: 20}), patient(&s, render.PatientOptions{Field: 40})
	assert.Greater(t, narrow.Balls[0].RadiusX, wide.Balls[0].RadiusX)

	o := render.PatientOptions{Field: 40, HeadCentred: true}
	middle := func(l *display.List) display.Point { // between the two images of the anchor
		a, b := l.Balls[0].Centre, l.Balls[1].Centre
		return display.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
	}
	before := middle(patient(&s, o))
	s.Look = sim.Fixation{Bead: 0, Asked: sim.NoBead}
	after := middle(patient(&s, o))
	assert.InDelta(t, before.X, after.X, 1)
	assert.InDelta(t, before.Y, after.Y, 1)
}

// A covered or wholly suppressed eye leaves no image, and the other one is solid.
func TestOneEyeAlone(t *testing.T) {
	for _, name := range []string{"right-left-out", "eye-covered"} {
		l := patient(scene(t, name), render.PatientOptions{})
		for _, b := range l.Balls {
			assert.Equal(t, 1., b.Opacity, name)
		}
		assert.Len(t, l.Balls, 4, "%s: three beads and the anchor, once", name)
	}
}

// Building a picture again into the same list allocates next to nothing, so that
// pulling stays smooth.
func TestBuildingAgainAllocatesLittle(t *testing.T) {
	s := scene(t, "middle-of-three")
	var v sim.View
	v.Look(s)
	var l display.List
	build := func() {
		l.Reset(frame.W, frame.H, theme.Dark.Ground)
		render.Patient(&l, frame, &v, render.PatientOptions{})
	}
	build()
	assert.Less(t, testing.AllocsPerRun(20, build), 40.)
}

// Broken geometry is drawn without a number that is none.
func TestPatientDrawsBrokenGeometry(t *testing.T) {
	base := *scene(t, "middle-of-three")
	for name, change := range map[string]func(*sim.Setup){
		"eyes far apart":     func(s *sim.Setup) { s.Posture.Deviation = -100 },
		"eyes far in":        func(s *sim.Setup) { s.Posture.Deviation = 100 },
		"target at the nose": func(s *sim.Setup) { s.Look = sim.Fixation{Bead: sim.NoBead, Asked: sim.NoBead} },
		"no limits": func(s *sim.Setup) {
			s.Patient.FusionH, s.Patient.FusionV, s.Patient.FusionHSlope, s.Patient.FusionVSlope = 0, 0, 0, 0
		},
		"string along the eye":   func(s *sim.Setup) { s.String.NearEnd.X, s.String.NearEnd.Z, s.String.AnchorSide = 31, 0, 31 },
		"an anchor out of reach": func(s *sim.Setup) { s.String.AnchorSide = 5000 },
		"everything suppressed":  func(s *sim.Setup) { s.Suppression.Eye, s.Cover = sim.Right, sim.Left },
	} {
		s := base
		change(&s)
		for _, o := range []render.PatientOptions{{}, {Field: 90}, {HeadCentred: true}} {
			l := patient(&s, o)
			for _, r := range l.Ribbons {
				for _, q := range r.Points {
					require.False(t, math.IsNaN(q.At.X+q.At.Y+q.Half+q.Soft+q.Opacity+q.Twist), name)
				}
			}
			for _, b := range l.Balls {
				require.False(t, math.IsNaN(b.Centre.X+b.Centre.Y+b.RadiusX+b.RadiusY+b.Soft+b.Opacity+b.Hole.X+b.Axis[2]), name)
			}
		}
	}
}
