package casebook

import (
	"twincord/render"
	"twincord/render/display"
	"twincord/scenes/cases"
)

// Draw draws the picture that is given, without any words that would give the answer
// away.
func (p *Page) Draw(l *display.List, frame display.Rect, patient render.PatientOptions, above render.AboveOptions) {
	switch p.Picture {
	case cases.FromAbove:
		above.Labels.Meet, above.Labels.Cross, above.Labels.MeetCross, above.Labels.Horopter = "", "", "", ""
		render.Above(l, frame, p.View, above)
	case cases.PatientView:
		render.Patient(l, frame, p.View, patient)
	}
}
