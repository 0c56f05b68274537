package sim

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// The search of GazeSeenAt: how near it has to come, mm, and in how many steps. Each
// comes nearer by about CorneaAhead to the observer's distance.
const (
	gazeFound = 1e-9
	gazeSteps = 40
)

// GazeSeenAt is where an eye has to point for the observer of Face to see its pupil at a
// place, from midway between the centres of rotation: the azimuth and the elevation,
// with the torsion that it has. It does not exist farther from the eye's centre than
// the pupil reaches. The view must have looked.
func (v *View) GazeSeenAt(eye Eye, at XY) (azimuth, elevation Angle, ok bool) {
	e := v.look.eyes[eye]
	lambda := float64(v.Now.Patient.Lambda.Angle())
	observer := v.Now.Place(v.Now.String.Length)
	var plane Face
	plane.Right, plane.Up, _ = facing(observer)
	centre := plane.Project(e.centre)
	x, y := at.X-centre.X, at.Y-centre.Y
	deep := PupilAhead*PupilAhead - x*x - y*y
	if !(deep > 0) {
		return 0, 0, false
	}
	e.azimuth, e.elevation = gazeAt(r3.Sub(observer, e.centre))
	for range gazeSteps {
		e.turn()
		f := e.face(lambda, observer)
		if math.Hypot(f.Pupil.X-x, f.Pupil.Y-y) < gazeFound {
			return Angle(e.azimuth), Angle(e.elevation), true
		}
		// The pupillary axis that would do, were the eye seen along this line.
		to := r3.Add(r3.Add(r3.Scale(x, f.Right), r3.Scale(y, f.Up)), r3.Scale(math.Sqrt(deep), f.Toward))
		from, _ := e.pupillary(lambda)
		a0, l0 := gazeAt(from)
		a1, l1 := gazeAt(to)
		e.azimuth += a1 - a0
		e.elevation += l1 - l0
	}
	return 0, 0, false
}
