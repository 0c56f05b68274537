package render

import (
	"twincord/render/display"
	"twincord/render/words"
	"twincord/sim"
)

// Kind is which picture of what is seen it is.
type Kind string

// The kinds.
const (
	OfPatient Kind = "patient"
	OfAbove   Kind = "above"
	OfFront   Kind = "front"
	OfEachEye Kind = "each-eye"
	OfDemand  Kind = "demand"
)

// A Picture is a picture of what is seen for those who are not at the window: which one,
// and how it is drawn. A copy of it may be used beside it.
type Picture struct {
	Kind    Kind
	Compare bool           // of OfPatient: the eyes on the bead beside the set-up as it is
	Options PatientOptions // of OfPatient and OfEachEye; its Theme is that of every kind
	Say     *words.Words

	ideal sim.View // works with
}

// Ground is what the picture lies on.
func (p *Picture) Ground() display.Colour {
	t := p.Options.theme()
	if p.Kind == OfPatient || p.Kind == OfEachEye {
		return t.Ground
	}
	return t.Panel
}

// Sentence is what a family reads below the picture.
func (p *Picture) Sentence(v *sim.View) string {
	if p.Kind == OfFront {
		return p.Say.Front(v)
	}
	return p.Say.Family(v)
}

// Brief is the least of it, for films.
func (p *Picture) Brief(v *sim.View) string {
	if p.Kind == OfFront {
		return p.Say.Front(v)
	}
	return p.Say.Brief(v)
}

// Paint draws the picture into a frame.
func (p *Picture) Paint(l *display.List, frame display.Rect, v *sim.View) {
	t := p.Options.theme()
	switch {
	case p.Kind == OfAbove:
		Above(l, frame, v, AboveOptions{Theme: t, Labels: AboveIn(p.Say)})
	case p.Kind == OfDemand:
		Demand(l, frame, v, DemandOptions{Theme: t, Labels: DemandIn(p.Say)})
	case p.Kind == OfFront:
		Front(l, frame, v, FrontOptions{Theme: t, Labels: FrontIn(p.Say)})
	case p.Kind == OfEachEye:
		EachEye(l, frame, v, p.Options, EachEyeIn(p.Say))
	case p.Compare:
		Compare(l, frame, p.onTarget(v), v, p.Options, CompareIn(p.Say))
	default:
		Patient(l, frame, v, p.Options)
	}
}

// Field is the least field in which a frame shows every bead of what is seen.
func (p *Picture) Field(frame display.Rect, v *sim.View) sim.Degrees {
	if p.Compare {
		return CompareField(frame, p.onTarget(v), v, false)
	}
	return AutoField(v, frame.W/frame.H, false)
}

// onTarget is what is seen with the eyes on what was asked for.
func (p *Picture) onTarget(v *sim.View) *sim.View {
	s := v.Now.OnTarget()
	p.ideal.Look(&s)
	return &p.ideal
}
