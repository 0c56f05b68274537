package desk

import (
	"math"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes/routine"
	"twincord/sim"
)

// buildViews makes the page of the views: from above, from in front, what the scene
// shows and what to ask.
func (d *Desk) buildViews() []block {
	p := &d.page
	above := &figure{heading: d.fixed.fromAbove, paint: (*Desk).drawAbove, place: (*Desk).arrangeAbove,
		height: func(d *Desk, width float64) float64 { return min(0.78*width, 0.92*d.pageArea().H) }}
	for _, h := range p.above {
		above.grips = append(above.grips, h)
	}
	front := &figure{heading: d.fixed.front, paint: (*Desk).drawFront, place: (*Desk).arrangeFront,
		height: func(d *Desk, width float64) float64 { return min(0.46*width, 0.92*d.pageArea().H) }}
	for _, h := range p.front {
		front.grips = append(front.grips, h)
	}
	right := []block{front,
		&prose{size: theme.Small, muted: true, text: (*Desk).noteHeading},
		&prose{size: theme.Body, text: func(d *Desk) string { return d.told.Note(d.doc.Scene().Note) }},
		&prose{size: theme.Small, muted: true, text: func(d *Desk) string { return d.say.Label(words.NoteAsk) }},
	}
	for i := range mostQuestions {
		right = append(right, &prose{size: theme.Body, text: func(d *Desk) string {
			if all := d.questions(); i < len(all) {
				return d.say.Ask(string(all[i]))
			}
			return ""
		}})
	}
	return []block{newBeside([]block{above}, right)}
}

// noteHeading says what the note tells of: what the scene shows or, once something else
// than the note was changed, what it showed before.
func (d *Desk) noteHeading() string {
	switch {
	case d.doc.Scene().Note == "":
		return ""
	case d.outdated():
		return d.say.Label(words.NoteShowed)
	}
	return d.say.Label(words.NoteShows)
}

// outdated says whether something else than the note was changed since it was opened or
// saved.
func (d *Desk) outdated() bool {
	doc := d.doc.Snapshot()
	return doc.Dirty && doc.Saved != nil && doc.Saved.Note == doc.Scene.Note
}

const mostQuestions = 4

// questions are what to ask in this set-up, as in a routine with it.
func (d *Desk) questions() []routine.Question {
	kind := routine.Walk
	if d.setup.FixatedBead() == sim.NoBead {
		kind = routine.BareString
	}
	return routine.Questions(kind)
}

func (d *Desk) drawAbove(l *display.List, frame display.Rect) {
	labels := d.above
	if lettering.Width(d.kit.Style(theme.Small), labels.MeetCross) > 0.42*frame.W {
		labels.MeetCross = labels.Meet
	}
	render.Above(l, frame, &d.view, render.AboveOptions{Theme: d.kit.Theme, Scale: d.kit.Unit, Labels: labels, Extent: d.layout.extent})
}

func (d *Desk) drawFront(l *display.List, frame display.Rect) {
	render.Front(l, frame, &d.view, render.FrontOptions{Theme: d.kit.Theme, Labels: d.front, Type: 12 * d.kit.Unit})
}

// mapAbove takes over where places stand in the view from above.
func (l *layout) mapAbove(d *Desk) {
	s := &d.setup
	if l.extent != nil {
		s = l.extent
	}
	l.places = render.AboveMapOf(l.above, s, d.kit.Unit)
}

// arrangeAbove puts handles where the view from above has what they pull.
func (d *Desk) arrangeAbove(frame display.Rect) {
	l := &d.layout
	l.above = frame
	l.mapAbove(d)
	side := math.Round(0.7 * theme.Target * l.unit)
	for _, h := range d.page.above {
		h.Area = display.Rect{}
		var at display.Point
		switch h.kind {
		case target:
			at = l.places.Page(d.view.Target.Point)
			at.X -= 0.6 * side
		case bead:
			at = l.places.Page(d.setup.Place(d.setup.Beads[h.bead].At))
		case anchor:
			at = l.places.Page(d.setup.Place(d.setup.String.Length))
		case meeting:
			if !d.view.Axes.Point.OK {
				continue
			}
			at = l.places.Page(d.view.Axes.Point.Value)
			at.X += 0.6 * side
		case rightEye:
			at = l.places.Page(d.view.Eyes[sim.RightEye].Centre)
		case leftEye:
			at = l.places.Page(d.view.Eyes[sim.LeftEye].Centre)
		}
		if ui.Inside(frame, at) {
			h.Area = display.Around(at, side/2)
		}
	}
}

// arrangeFront puts handles on the irises in the view from in front.
func (d *Desk) arrangeFront(frame display.Rect) {
	d.layout.faces = render.FrontMapOf(frame, &d.view.Now)
	face := d.view.Face()
	for _, h := range d.page.front {
		e := &face.Eyes[number(h.kind == leftEye)]
		at := d.layout.faces.Page(sim.XY{X: e.Centre.X + e.Pupil.X, Y: e.Centre.Y + e.Pupil.Y})
		radius := 0.4 * theme.Target * d.layout.unit
		h.Area = display.Rect{}
		if ui.Inside(frame, at) {
			h.Area = display.Around(at, radius)
		}
	}
}
