package render

import (
	"twincord/render/display"
	"twincord/sim"
)

// PictureMap says where directions stand in a patient's view.
type PictureMap struct {
	origin display.Point
	scale  float64
}

// PictureMapOf is the map of the picture that Patient draws in a frame. The picture
// goes by the fixation direction.
func PictureMapOf(frame display.Rect, v *sim.View, o PatientOptions) PictureMap {
	if o.Field == 0 {
		o.Field = AutoField(v, frame.W/frame.H, false)
	}
	return PictureMap{FixationAt(frame), frame.H / tangents(o.Field)}
}

// Page is where a direction is on the page.
func (m *PictureMap) Page(at sim.XY) display.Point {
	return display.Point{X: m.origin.X + m.scale*at.X, Y: m.origin.Y - m.scale*at.Y}
}

// Size is how large on the page something of that many tangents is.
func (m *PictureMap) Size(tangents float64) float64 { return m.scale * tangents }

// CompareFrame is the part of a frame in which Compare draws the set-up as it is, and
// the field of both its pictures.
func CompareFrame(frame display.Rect, onTarget, now *sim.View, field sim.Degrees) (display.Rect, sim.Degrees) {
	_, right := halves(frame)
	if field == 0 {
		field = CompareField(frame, onTarget, now, false)
	}
	return right, field
}

// HeightOf is the height of a picture of a field in the tangent plane, whose unit is the
// distance from which it is looked at: the inverse of FieldOf.
func HeightOf(field sim.Degrees) float64 { return tangents(field) }
