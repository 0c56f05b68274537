// Package vectortest holds what the tests of the painters of SVG and PDF share:
// pictures with every kind of shape, other makers' readers of both formats, and how far
// two pictures are apart.
package vectortest

import (
	"errors"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/theme"
	"twincord/sim"
)

// Setups are pictures that between them hold every kind of shape.
func Setups() map[string]*sim.Setup {
	base := func() *sim.Setup {
		s := sim.Default()
		s.String.Length = 1200
		s.Beads = []sim.Bead{
			{Name: "orange", At: 230, Diameter: 16, Colour: sim.RGB{R: 0xe6, G: 0x9f}, Surface: sim.SurfaceBanded},
			{Name: "sky", At: 480, Diameter: 16, Colour: sim.RGB{R: 0x56, G: 0xb4, B: 0xe9}, Surface: sim.SurfaceDotted},
			{Name: "plum", At: 900, Diameter: 16, Colour: sim.RGB{R: 0xcc, G: 0x79, B: 0xa7}, Surface: sim.SurfaceRinged},
		}
		s.Look.Bead = 1
		return &s
	}
	near, far, slack, tilted, filters, nearFilters := base(), base(), base(), base(), base(), base()
	near.Look.Bead = 0
	far.Posture.Deviation = -3.5
	far.Beads[1].Surface = sim.SurfacePlain
	slack.String.Sag = 120
	slack.Posture.Deviation = 4
	tilted.Posture.Cyclo = 8
	tilted.Posture.Vertical = 4
	nearFilters.Look.Bead = 0
	for _, s := range []*sim.Setup{filters, nearFilters} {
		s.Right.Filter, s.Left.Filter = sim.FilterRed, sim.FilterGreen
	}
	return map[string]*sim.Setup{"middle": base(), "near": near, "too far": far, "slack": slack, "tilted": tilted,
		"filters": filters, "near, filters": nearFilters}
}

// Pictures are patient's views of the set-ups, and one from above.
func Pictures() map[string]func(l *display.List, w, h float64) { return inTheme(&theme.Dark) }

// Printed are the pictures as they are printed.
func Printed() map[string]func(l *display.List, w, h float64) { return inTheme(&theme.Paper) }

func inTheme(th *theme.Theme) map[string]func(l *display.List, w, h float64) {
	all := map[string]func(l *display.List, w, h float64){}
	for name, s := range Setups() {
		all[name] = seen(s, th)
	}
	all["above"] = func(l *display.List, w, h float64) {
		var v sim.View
		v.Look(Setups()["too far"])
		l.Reset(w, h, th.Panel)
		render.Above(l, display.Rect{W: w, H: h}, &v, render.AboveOptions{Theme: th, Labels: render.AboveLabels{
			Right: "R", Left: "L", Target: "looking at", MeetCross: "eyes meet, strings cross", Horopter: "horopter",
		}})
	}
	all["in front"] = func(l *display.List, w, h float64) {
		var v sim.View
		v.Look(Setups()["tilted"])
		l.Reset(w, h, th.Panel)
		render.Front(l, display.Rect{W: w, H: h}, &v, render.FrontOptions{Theme: th, Labels: render.FrontLabels{
			Right: "R", Left: "L", Covered: "covered", Turned: func(side, height sim.Turn) string { return "turned" },
		}})
	}
	return all
}

// Close is a picture of a single bead of a surface, so many mm from the nose, with the
// eyes on it.
func Close(surface sim.Surface, at float64) func(l *display.List, w, h float64) {
	s := Setups()["middle"]
	s.Beads = []sim.Bead{{Name: "orange", At: at, Diameter: 16, Colour: sim.RGB{R: 0xe6, G: 0x9f}, Surface: surface}}
	s.Look.Bead = 0
	return seen(s, &theme.Paper)
}

// seen draws the patient's view.
func seen(s *sim.Setup, th *theme.Theme) func(l *display.List, w, h float64) {
	return func(l *display.List, w, h float64) {
		var v sim.View
		v.Look(s)
		l.Reset(w, h, th.Ground)
		render.Patient(l, display.Rect{W: w, H: h}, &v, render.PatientOptions{Theme: th})
	}
}

// Groups is what the pictures have little of: opacities of a whole, clips in each other,
// gradients of every kind, strokes in them, dashes.
func Groups(l *display.List, w, h float64) {
	l.Reset(w, h, theme.Paper.Ground)
	red, blue := display.Colour{R: 0.8, A: 1}, display.Colour{G: 0.3, B: 0.8, A: 0.4}
	corner := func(x, y float64) display.Rect { return display.Rect{X: x * w, Y: y * h, W: 0.3 * w, H: 0.4 * h} }
	for i, p := range []display.Paint{
		{Kind: display.Linear, From: red, To: blue, A: display.Point{X: 0.1 * w, Y: 0.1 * h}, B: display.Point{X: 0.4 * w, Y: 0.4 * h}},
		{Kind: display.Radial, From: blue, To: red, A: display.Point{X: 0.5 * w, Y: 0.25 * h}, B: display.Point{X: 0.1 * w, Y: 0.2 * h}},
		{From: red.Faded(0.5)},
	} {
		at := corner(0.02+0.32*float64(i), 0.05)
		l.OpenGroup(display.Group{Opacity: 0.6})
		l.RoundRect(at, 30)
		l.Fill(p)
		l.Ellipse(display.Point{X: at.X + at.W/2, Y: at.Y + at.H/2}, 0.3*at.W, 0.3*at.H, 0.4)
		l.Fill(display.Paint{From: theme.Paper.Ink})
		l.End()

		at = corner(0.02+0.32*float64(i), 0.55)
		l.Rect(at)
		l.Circle(display.Point{X: at.X + at.W/2, Y: at.Y + at.H/2}, 0.2*at.H)
		l.OpenClipEvenOdd()
		l.Ellipse(display.Point{X: at.X + at.W/2, Y: at.Y + at.H/2}, 0.45*at.W, 0.6*at.H, 0)
		l.OpenClip()
		p.A.Y, p.B.Y = p.A.Y+0.5*h, p.B.Y+0.5*h
		if p.Kind == display.Radial {
			p.B.Y -= 0.5 * h
		}
		l.MoveTo(at.X, at.Y)
		bow := display.Point{X: at.X + at.W, Y: at.Y + at.H/2}
		l.CubicTo(bow, bow, display.Point{X: at.X, Y: at.Y + at.H})
		l.StrokeDashed(40, 60*float64(i), p)
		l.End()
		l.End()
	}
}

// Square adds a square of a colour.
func Square(l *display.List, x float64, c display.Colour) {
	l.Rect(display.Rect{X: x, Y: 1, W: 8, H: 8})
	l.Fill(display.Paint{From: c})
}

// Tinted adds dotted balls in one light: two of the same tint, and one of none between.
func Tinted(l *display.List, tint display.Colour) {
	l.Reset(100, 100, display.Colour{A: 1})
	for _, white := range []display.Colour{tint, {}, tint} {
		l.AddBall(display.Ball{RadiusX: 30, RadiusY: 30, Opacity: 1, Colour: display.Colour{A: 1}, Surface: display.Dotted,
			Axis: [3]float64{0, 0, 1}, Light: [3]float64{0, 0, 1}, Tint: white})
	}
}

// BrokenWriter is a disk that is full.
type BrokenWriter struct{}

func (BrokenWriter) Write([]byte) (int, error) { return 0, errors.New("disk full") }
