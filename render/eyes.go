package render

import (
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/sim"
)

// EachEyeLabels are the words in the pictures of each eye's own image.
type EachEyeLabels struct {
	Right, Left string // over each picture
	Covered     string // in the picture of an eye that is covered
	LeftOut     string // where an eye's image is left out
}

// leftOut is how strongly what is suppressed still shows in an eye's own picture.
const leftOut = 0.3

// EachEye draws what each eye has for itself, the left eye's picture on the left,
// both with the same field: before the two are joined, and with what is left out
// of an eye's image shown faint.
func EachEye(l *display.List, frame display.Rect, v *sim.View, o PatientOptions, labels EachEyeLabels) {
	s := &v.Now
	left, right := halves(frame)
	if o.Field == 0 {
		o.Field = AutoField(v, left.W/left.H, o.HeadCentred)
	}
	panels, names := [...]display.Rect{sim.RightEye: right, sim.LeftEye: left}, [...]string{sim.RightEye: labels.Right, sim.LeftEye: labels.Left}
	for e := range sim.Eyes {
		panel, name, side := panels[e], names[e], e.Side()
		p := newPatient(l, panel, v, o)
		p.alone = true
		if s.Cover == side {
			p.occluder(labels.Covered)
		} else {
			p.draw(e)
		}
		heading(l, panel, o, name)
		if s.Cover != side && v.Account.Missing == side {
			note(l, panel, o, labels.LeftOut)
		}
		l.End()
	}
}

// occluder draws what an eye has behind a cover.
func (p *patient) occluder(covered string) {
	p.l.Rect(p.frame)
	p.l.Fill(display.Paint{From: p.o.theme().Field})
	note(p.l, p.frame, p.o, covered)
}

// gutter is the share of a frame between its halves.
const gutter = 0.01

// halves are the two pictures that stand side by side in a frame.
func halves(frame display.Rect) (left, right display.Rect) {
	w := frame.W * (1 - gutter) / 2
	left = display.Rect{X: frame.X, Y: frame.Y, W: w, H: frame.H}
	right = display.Rect{X: frame.X + frame.W - w, Y: frame.Y, W: w, H: frame.H}
	return left, right
}

// CompareField is the automatic field of both pictures of a comparison in a frame.
func CompareField(frame display.Rect, onTarget, now *sim.View, headCentred bool) sim.Degrees {
	half, _ := halves(frame)
	aspect := half.W / half.H
	return max(AutoField(onTarget, aspect, headCentred), AutoField(now, aspect, headCentred))
}

// headed is the place of a picture's heading.
func headed(frame display.Rect, o PatientOptions, s string) display.Rect {
	st := textStyle(frame, o)
	return display.Rect{X: frame.X, Y: frame.Y, W: min(lettering.Width(st, s)+2*st.Size, frame.W), H: 2.4 * st.Size}
}

// heading names a picture at its upper left corner, in a size that suits it.
func heading(l *display.List, frame display.Rect, o PatientOptions, s string) {
	st := textStyle(frame, o)
	lettering.Draw(l, st, frame.X+st.Size, frame.Y+1.9*st.Size, lettering.Start, lettering.Ellipsis(st, s, frame.W-2*st.Size))
}

// note says something in the lower middle of a picture.
func note(l *display.List, frame display.Rect, o PatientOptions, s string) {
	st := textStyle(frame, o)
	lines := lettering.Wrap(st, s, 0.8*frame.W)
	y := frame.Y + 0.93*frame.H - float64(len(lines)-1)*lettering.LineHeight(st)
	for _, line := range lines {
		lettering.Draw(l, st, frame.X+frame.W/2, y, lettering.Middle, line)
		y += lettering.LineHeight(st)
	}
}

func textStyle(frame display.Rect, o PatientOptions) lettering.Style {
	return lettering.Style{Size: max(11, o.Type, theme.Lead*min(frame.W, frame.H)/640), Colour: o.theme().Ink}
}

// CompareLabels are the words over the pictures of a comparison.
type CompareLabels struct{ OnTheBead, OnThePlace, ThisSetup string }

// Compare draws the same string with both eyes on what is asked for
// (sim.Setup.OnTarget) on the left, and the set-up as it is on the right, both with
// the same field.
func Compare(l *display.List, frame display.Rect, onTarget, now *sim.View, o PatientOptions, labels CompareLabels) {
	left, right := halves(frame)
	if o.Field == 0 {
		o.Field = CompareField(frame, onTarget, now, o.HeadCentred)
	}
	ideal := labels.OnTheBead
	if onTarget.Account.LookedAt == "" {
		ideal = labels.OnThePlace
	}
	for _, half := range [...]struct {
		frame display.Rect
		v     *sim.View
		name  string
	}{{left, onTarget, ideal}, {right, now, labels.ThisSetup}} {
		o := o
		o.Taken[0] = headed(half.frame, o, half.name)
		Patient(l, half.frame, half.v, o)
		heading(l, half.frame, o, half.name)
	}
}
