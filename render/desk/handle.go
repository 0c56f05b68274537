package desk

import (
	"math"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// The steps of the handles. What is pulled lands on them, so that the number
// shown is the number held.
const (
	placeStep     = 1.0  // mm
	deviationStep = 0.1  // Δ
	deviationHold = 0.3  // Δ; about zero the meeting place holds
	arrowPlace    = 10.0 // mm
	arrowPrism    = 0.5  // Δ
)

// The ranges of what the handles carry.
var (
	deviations  = scenes.RangeOf("posture.deviation_prism")
	verticals   = scenes.RangeOf("posture.vertical_prism")
	anchorSides = scenes.RangeOf("string.anchor_side_mm")
	pds         = scenes.RangeOf("patient.pd_mm")
)

// handleKind says what a handle carries.
type handleKind uint8

const (
	target handleKind = iota
	meeting
	bead
	anchor
	rightEye
	leftEye
)

// where says in which picture a handle stands.
type where uint8

const (
	onBar where = iota
	fromAbove
	inFront
	inPicture
)

// handle is something of the set-up that can be pulled: on the string bar, where keys
// move it too, or in one of the pictures.
type handle struct {
	ui.Base
	d     *Desk
	kind  handleKind
	bead  int
	where where
	eye   sim.Eye // whose image it is, in the picture

	held *sim.View // what was seen when it was taken, in the picture
}

// Point pulls what it stands for.
func (h *handle) Point(_ *ui.Kit, g ui.Gesture) {
	d := h.d
	if h.kind == bead {
		d.chooseBead(h.bead)
	}
	if g.Began {
		h.take()
	}
	switch {
	case g.Escaped:
		d.doc.Revert()
	case g.Moved:
		h.drag(g)
	case g.Ended && h.follows():
		d.typePosture()
	case g.Ended && h.kind == bead && h.where != onBar:
		d.lookAt(h.bead)
	}
	if g.Ended {
		d.layout.extent, h.held = nil, nil
		d.doc.Done()
	}
}

// follows says whether what it turns follows from the findings, so that a pull does nothing.
func (h *handle) follows() bool {
	return h.d.setup.Findings.OK && (h.kind == meeting || h.where == inFront)
}

// hint is what can be done with it; while it is held, why it goes no farther.
func (h *handle) hint() string {
	d := h.d
	switch {
	case h.follows() && h.where == onBar:
		return d.say.Label(words.HintMeetFindings)
	case h.follows():
		return d.say.Label(words.HintSeenFindings)
	case h.kind == bead && (ui.Is(d.kit.Pulled, h) || ui.Is(d.kit.Focus, h)):
		if i := scenes.Touching(&d.setup, h.bead); i != sim.NoBead {
			return d.say.Stopped(d.setup.Beads[i].Name, h.bead == d.setup.FixatedBead())
		}
	}
	return h.Hint
}

// take keeps what the pull goes by: the pictures move with what is pulled in them.
func (h *handle) take() {
	d := h.d
	switch {
	case h.where == inPicture:
		h.held = new(sim.View)
		h.held.Look(&d.setup)
	case h.where == fromAbove && h.kind >= anchor:
		s := d.doc.Scene().Setup
		d.layout.extent = &s
		d.layout.mapAbove(d)
	}
}

// drag brings what is pulled to where the pointer is.
func (h *handle) drag(g ui.Gesture) {
	p := display.Point{X: g.At.X + g.Off.X, Y: g.At.Y + g.Off.Y}
	switch h.where {
	case onBar:
		h.dragOnBar(p)
	case fromAbove:
		h.dragFromAbove(p)
	case inFront:
		h.turn(p)
	case inPicture:
		h.dragInPicture(p)
	}
}

func (h *handle) dragOnBar(p display.Point) {
	d := h.d
	x := d.layout.scaleX(p.X)
	switch h.kind {
	case target:
		d.moveTarget(h.Name, snap(d.placeX(x), placeStep))
	case bead:
		d.moveBead(h.Name, h.bead, snap(d.placeX(x), placeStep))
	case meeting:
		d.meetAt(h.Name, x)
	}
}

func (h *handle) dragFromAbove(p display.Point) {
	d := h.d
	right, ahead := d.layout.places.Place(p)
	switch h.kind {
	case target:
		d.moveTarget(h.Name, snap(placeAhead(&d.setup, ahead), placeStep))
	case bead:
		d.moveBead(h.Name, h.bead, snap(placeAhead(&d.setup, ahead), placeStep))
	case meeting:
		// From midway between the eyes to where they are to meet.
		d.meetAt(h.Name, distanceX(math.Hypot(max(ahead, 20), d.view.Target.Point.X)))
	case anchor:
		d.moveAnchor(h.Name, right, ahead)
	case rightEye, leftEye:
		d.setPD(h.Name, 2*math.Abs(right))
	}
}

// dragInPicture moves a bead along the string as one eye sees it, or the place where
// the strings cross along both.
func (h *handle) dragInPicture(p display.Point) {
	d := h.d
	switch h.kind {
	case bead:
		d.moveBead(h.Name, h.bead, snap(d.seenAt(h.held, p, h.eye), placeStep))
	case meeting:
		at := d.seenAt(h.held, p, sim.RightEye, sim.LeftEye)
		d.meetAt(h.Name, distanceX(render.FromEyes(&d.setup, at)))
	}
}

// placeAhead is the place on the string that is so far ahead, held to its ends.
func placeAhead(s *sim.Setup, ahead float64) float64 {
	near, far := s.Place(0).Y, s.Place(s.String.Length).Y
	if far <= near {
		return 0
	}
	return max(0, min((ahead-near)/(far-near), 1)) * s.String.Length
}

func (h *handle) Press(_ *ui.Kit, p ui.Press) bool {
	n := 1.
	if p.Shift {
		n = 0.1
	}
	d := h.d
	switch p.Key {
	case ui.KeyRight, ui.KeyUp:
		h.step(n)
	case ui.KeyLeft, ui.KeyDown:
		h.step(-n)
	case ui.KeyPageUp:
		h.step(10 * n)
	case ui.KeyPageDown:
		h.step(-10 * n)
	case ui.KeyHome:
		switch h.kind {
		case target:
			d.moveTarget(h.Name, 0)
		case bead:
			d.moveBead(h.Name, h.bead, 0)
		case meeting:
			d.setDeviation(h.Name, 0)
		}
	case ui.KeyEnter:
		switch h.kind {
		case bead:
			d.lookAt(h.bead)
		case meeting:
			if d.setup.Findings.OK {
				d.typePosture()
			} else {
				d.typeDeviation()
			}
		default:
			return false
		}
	default:
		return false
	}
	return true
}

// step moves what is held by n arrow keys, farther from the nose +.
func (h *handle) step(n float64) {
	d := h.d
	switch h.kind {
	case target:
		d.stepTarget(h.Name, n*arrowPlace)
	case bead:
		d.chooseBead(h.bead)
		d.moveBead(h.Name, h.bead, d.setup.Beads[h.bead].At+n*arrowPlace)
	case meeting:
		d.setDeviation(h.Name, d.setup.Posture.Deviation-sim.Prism(snap(n*arrowPrism, deviationStep/2)))
	}
}

func (h *handle) Leave(*ui.Kit) { h.d.doc.Done() }

// moveTarget makes the eyes aim at a place on the string: at the bead whose body
// it is in, else at the bare string. The deviation stays, so that the meeting
// place comes along.
func (d *Desk) moveTarget(step string, at float64) {
	d.edit(step, func(s *sim.Setup) {
		at := max(0, min(at, s.String.Length))
		carried(s, s.LookPlace(), at)
		look := sim.Fixation{Bead: s.BeadAt(at), Asked: s.Look.Asked, From: s.Look.From}
		if look.Bead == sim.NoBead {
			look.At = at
		}
		s.Look = look
	})
}

// lookAt makes the eyes aim at a bead.
func (d *Desk) lookAt(bead int) {
	if d.setup.Look.Bead != bead {
		d.moveTarget("", d.setup.Beads[bead].At)
	}
}

// stepTarget moves the target by a step along the string; from within a bead at
// least out of its body, so that every step is seen.
func (d *Desk) stepTarget(name string, step float64) {
	s := &d.setup
	from := s.LookPlace()
	to := from + step
	if i := s.FixatedBead(); i != sim.NoBead && s.BeadAt(to) == i {
		out := math.Floor(s.Beads[i].Diameter/2/placeStep)*placeStep + placeStep
		to = from + math.Copysign(out, step)
	}
	d.moveTarget(name, to)
}

// moveBead moves a bead as far towards a place as it may go. The bead that is looked
// at takes the target along, and with it the meeting place; one that only passes over
// the target does not.
func (d *Desk) moveBead(step string, i int, at float64) {
	d.edit(step, func(s *sim.Setup) {
		from, to := s.Beads[i].At, scenes.BeadRoom(s, i).Clamp(at)
		if i == s.FixatedBead() {
			carried(s, from, to)
		}
		s.Beads[i].At = to
	})
}

// setDeviation turns the eyes to an error of so many Δ and leaves the target. With
// findings the eyes follow from those, and nothing is turned.
func (d *Desk) setDeviation(step string, p sim.Prism) {
	if d.setup.Findings.OK {
		return
	}
	d.edit(step, func(s *sim.Setup) {
		s.Posture.Deviation = sim.Prism(deviations.Clamp(float64(p)))
	})
}

// meetAt turns the eyes so that they meet at x on the scale of the bar.
func (d *Desk) meetAt(step string, x float64) {
	// The vergence is the demand plus the error (M4), so a step of the one is a
	// step of the other.
	e := d.setup.Posture.Deviation.Angle() + xVergence(x, d.setup.Patient.PD) - d.view.Axes.Vergence
	least, most := sim.Prism(deviations.Min).Angle(), sim.Prism(deviations.Max).Angle()
	p := sim.Prism(snap(float64(max(least, min(e, most)).Prism()), deviationStep))
	if math.Abs(float64(p)) <= deviationHold {
		p = 0
	}
	d.setDeviation(step, p)
}

// typeDeviation opens the error of the eyes to be typed.
func (d *Desk) typeDeviation() {
	d.kit.SetFocus(d.page.deviation)
	d.page.deviation.Begin()
}

// typePosture has the eyes point where the findings have them point now, as numbers
// of their own.
func (d *Desk) typePosture() {
	now := d.view.Now.Posture
	now.Deviation = sim.Prism(snap(float64(now.Deviation), deviationStep))
	d.edit("", func(s *sim.Setup) {
		if s.Findings.OK {
			s.Findings = sim.Maybe[sim.Findings]{}
			s.Posture = now
		}
	})
}

// moveAnchor ties the string so far to the right and ahead, at its height, where the
// string reaches and the beads have room.
func (d *Desk) moveAnchor(step string, right, ahead float64) {
	d.edit(step, func(s *sim.Setup) {
		was := s.String
		n := s.String.NearEnd
		s.String.AnchorSide = anchorSides.Clamp(snap(right, placeStep))
		length := math.Sqrt(sq(s.String.AnchorSide-n.X) + sq(max(ahead-n.Y, 1)) + sq(s.String.AnchorHeight-n.Z))
		s.String.Length = scenes.LengthRoom(s).Clamp(snap(length, placeStep))
		if s.Validate() != nil {
			s.String = was
		}
	})
}

func sq(x float64) float64 { return x * x }

// setPD sets the distance between the eyes.
func (d *Desk) setPD(step string, mm float64) {
	d.edit(step, func(s *sim.Setup) { s.Patient.PD = pds.Clamp(snap(mm, 0.5)) })
}

// placeX is the place on the string at x on the scale of the bar.
func (d *Desk) placeX(x float64) float64 {
	if x >= 1 {
		return d.setup.String.Length
	}
	return render.PlaceAt(&d.setup, xDistance(x))
}

// Draw draws a handle on the bar; those in the pictures are drawn with them, and only the
// hot one is marked.
func (h *handle) Draw(k *ui.Kit, l *display.List) {
	c := display.Point{X: h.Area.X + h.Area.W/2, Y: h.Area.Y + h.Area.H/2}
	if h.where != onBar {
		if k.Hot(h) {
			l.Circle(c, max(13*k.Unit, h.Area.W/2))
			l.Stroke(theme.Line*k.Unit, display.Paint{From: k.Theme.Accent})
		}
		return
	}
	switch h.kind {
	case bead:
		h.drawBead(k, l, c)
	case target:
		h.drawTarget(k, l, c)
	case meeting:
		h.drawMeeting(k, l, c)
	}
	side := 28 * k.Unit
	k.DrawRing(l, h, display.Rect{X: c.X - side/2, Y: c.Y - side/2, W: side, H: side})
}
