package sim

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// The eye as an observer sees it (M16), mm.
const (
	// CorneaAhead is the centre of the cornea's curvature ahead of the centre of
	// rotation, along the pupillary axis: 13.5 − 7.8 (rows E10, E12).
	CorneaAhead = 5.7
	// PupilAhead is the centre of the pupil, ahead of it likewise: 13.5 − 3.05 (rows
	// E11, E12). The iris lies in its plane.
	PupilAhead = 10.45
	// CorneaRadius is that of the cornea's front (row E10).
	CorneaRadius = 7.8
	// IrisRadius is half the visible iris. Common practice, no source: just under
	// 12 mm across in adults.
	IrisRadius = 5.9
)

// The further bounds of the codes of a Face, modelling choices as turnedFrom is.
var (
	tiltedFrom     = Degrees(1).Angle() // of torsion
	convergingFrom = Degrees(4).Angle() // of each eye inward from the observer: a third of a millimetre of reflex
)

// arrived is how far vergence has come when the eyes are no longer said to be on
// their way: a modelling choice.
const arrived = 0.95

// Turn is a direction in which an eye is off, as a code.
type Turn string

// The turns. In is towards the nose.
const (
	TurnNone Turn = "none"
	TurnIn   Turn = "in"
	TurnOut  Turn = "out"
	TurnUp   Turn = "up"
	TurnDown Turn = "down"
)

// Facing says what the two eyes do together, for who faces them. A covered eye
// does not count.
type Facing string

// What the eyes do.
const (
	FacingTarget Facing = "target" // on what is looked at
	FacingNear   Facing = "near"   // on it, and so near that both are seen to be turned in
	FacingPrism  Facing = "prism"  // where it appears through the prisms, as far as they are answered
	FacingMoving Facing = "moving" // on the way to it (M15)
	FacingTurned Facing = "turned" // an eye points elsewhere
)

// Face is both eyes as an observer at the anchor sees them, the light at the same
// place (M16). Each eye is drawn without perspective, along the line from its
// cornea to the observer: an eye is small against the distance. Spectacles and
// prisms before the eyes do not change how they look; both are modelling choices.
//
// Places in it are mm in the plane that faces the observer, X to the patient's
// right and Y up, so the observer has X to the left.
type Face struct {
	// Right and Up are the axes of the picture, head frame: unit vectors to the
	// patient's right and up, in the plane that faces the observer.
	Right, Up r3.Vec
	Eyes      [2]EyeFace // RightEye, LeftEye
	Facing    Facing
}

// Project is where a point of the head frame is seen, from midway between the
// centres of rotation, mm.
func (f *Face) Project(p r3.Vec) XY { return XY{r3.Dot(p, f.Right), r3.Dot(p, f.Up)} }

// EyeFace is one eye as the observer sees it.
type EyeFace struct {
	// Right, Up and Toward are the axes of this eye's picture, head frame: to the
	// patient's right, up, and towards the observer.
	Right, Up, Toward r3.Vec

	Centre XY // of rotation, from midway between the two
	Pupil  XY // the centre of pupil and iris, from Centre
	// Across and Upright are the iris' own right and up, foreshortened and with the
	// torsion of the eye: what lies in its plane at the radius ρ and the angle φ from
	// its right is seen at Pupil + ρ·(cos φ·Across + sin φ·Upright).
	Across, Upright XY
	PupilRadius     float64
	// Angle is θ of M16, between the pupillary axis and the direction to the observer.
	Angle Angle
	// Reflex is the corneal reflex, from the centre of the pupil: 4.75 mm·sin θ,
	// opposite to the eye's turn. It does not exist where the light does not meet the
	// cornea.
	Reflex Maybe[XY]

	// In and Above are how far the eye is turned from the bare target: inward +,
	// upward +.
	In, Above Angle
	Side      Turn // none, in or out
	Height    Turn // none, up or down
	Tilt      Turn // of its top: none, in or out
	Covered   bool
}

// Turned says whether the eye points elsewhere than at the target.
func (e *EyeFace) Turned() bool { return e.Side != TurnNone || e.Height != TurnNone }

// Project is where a point d from the centre of rotation is seen, from Centre: d in
// the axes of the head, mm.
func (e *EyeFace) Project(d r3.Vec) XY { return XY{r3.Dot(d, e.Right), r3.Dot(d, e.Up)} }

// Face is the patient's eyes as an observer at the anchor sees them. The view must
// have looked.
func (v *View) Face() Face {
	k := &v.look
	observer := v.Now.Place(v.Now.String.Length)
	var f Face
	f.Right, f.Up, _ = facing(observer)
	bare := k.straight(k.target, 0)
	asked := k.straight(k.target, v.Now.Posture.PrismMet)
	turned, answered, converging := false, true, true
	for i := range Eyes {
		e := k.eyes[i].face(float64(v.Now.Patient.Lambda.Angle()), observer)
		e.Centre = f.Project(k.eyes[i].centre)
		e.PupilRadius = v.Now.Patient.Pupil / 2
		e.In, e.Above = k.eyes[i].off(bare[i])
		e.Side = turn(e.In, turnedFrom.Angle(), TurnIn, TurnOut)
		e.Height = turn(e.Above, turnedFrom.Angle(), TurnUp, TurnDown)
		e.Tilt = turn(Angle(k.eyes[i].torsion), tiltedFrom, TurnOut, TurnIn)
		e.Covered = v.Now.Cover == i.Side()
		f.Eyes[i] = e
		if e.Covered {
			continue
		}
		turned = turned || e.Turned()
		in, above := k.eyes[i].off(asked[i])
		answered = answered && abs(in) <= turnedFrom.Angle() && abs(above) <= turnedFrom.Angle()
		var seen gaze
		seen.azimuth, seen.elevation = gazeAt(r3.Sub(observer, k.eyes[i].centre))
		in, _ = k.eyes[i].off(seen)
		converging = converging && in >= convergingFrom
	}
	converging = converging && v.Now.Cover == Neither
	switch {
	case turned && (k.converged < arrived || k.turned < 1):
		f.Facing = FacingMoving
	case turned && answered:
		f.Facing = FacingPrism
	case turned:
		f.Facing = FacingTurned
	case converging:
		f.Facing = FacingNear
	default:
		f.Facing = FacingTarget
	}
	return f
}

// face is the eye as the observer sees it, with the angle λ of M16 between its
// axes.
func (e *eye) face(lambda float64, observer r3.Vec) (f EyeFace) {
	axis, across := e.pupillary(lambda)
	f.Right, f.Up, f.Toward = facing(r3.Sub(observer, r3.Add(e.centre, r3.Scale(CorneaAhead, axis))))
	f.Pupil = f.Project(r3.Scale(PupilAhead, axis))
	f.Across, f.Upright = f.Project(across), f.Project(e.u)
	f.Angle = Angle(angleBetween(axis, f.Toward))
	// The light is met by the cornea as far as that reaches, to the edge of the iris.
	if math.Sin(float64(f.Angle)) <= IrisRadius/CorneaRadius && float64(f.Angle) < math.Pi/2 {
		f.Reflex = Some(f.Project(r3.Scale(CorneaAhead-PupilAhead, axis)))
	}
	return f
}

// pupillary is the pupillary axis and the right of the iris' plane, unit vectors: the
// visual axis turned temporally by λ, to the eye's own side.
func (e *eye) pupillary(lambda float64) (axis, across r3.Vec) {
	sin, cos := math.Sincos(lambda)
	return r3.Add(r3.Scale(cos, e.f), r3.Scale(e.side*sin, e.r)),
		r3.Sub(r3.Scale(cos, e.r), r3.Scale(e.side*sin, e.f))
}

// facing gives the axes of a picture that faces a direction: the patient's right,
// up, and the direction. Straight ahead stands for one without length.
func facing(d r3.Vec) (right, up, toward r3.Vec) {
	toward = r3.Vec{Y: 1}
	if n := r3.Norm(d); n > 0 {
		toward = r3.Scale(1/n, d)
	}
	right = r3.Cross(toward, r3.Vec{Z: 1})
	if n := r3.Norm(right); n > sideways {
		right = r3.Scale(1/n, right)
	} else {
		right = r3.Vec{X: 1}
	}
	return right, r3.Cross(right, toward), toward
}

// off is how far the eye is turned from a gaze, inward and upward +.
func (e *eye) off(from gaze) (in, above Angle) {
	return Angle(-e.side * (e.azimuth - from.azimuth)), Angle(e.elevation - from.elevation)
}

// turn is the code of an angle from a bound on.
func turn(a, from Angle, positive, negative Turn) Turn {
	switch {
	case a > from:
		return positive
	case a < -from:
		return negative
	}
	return TurnNone
}
