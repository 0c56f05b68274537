package desk

import (
	"math"
	"reflect"

	"twincord/render/display"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/sim"
	"twincord/sim/answers"
)

// banding is what the scene would say at each deviation, all else as it stands.
type banding struct {
	scene sim.Setup // that the bands are of, without its deviation
	have  bool      // a scene is
	seen  int       // the document's changes that it was compared at
	work  *answers.Banding
	bands []answers.Band
	fresh bool // they are those of the scene
	steps int  // of work, in the last update
}

// bandSteps is how many steps of work an update does: all of most set-ups, in about 5 ms. A
// frame that shows nothing new takes a software renderer as long as one that does.
const bandSteps = 72

// banded says whether the bands show.
func (d *Desk) banded() bool { return !d.family && d.over == nil }

// unbanded says whether the bands wait for the scene to come to rest; a search for answers
// that does has bands which do.
func (d *Desk) unbanded() bool { return d.banded() && !d.banding.have }

// band goes on making the bands, once the scene has come to rest.
func (d *Desk) band() {
	b := &d.banding
	b.steps = 0
	if !d.banded() {
		return
	}
	if b.have && b.seen == d.doc.Changes() {
		d.goOnBanding()
		return
	}
	b.seen = d.doc.Changes()
	scene := d.doc.Scene().Setup
	if !scene.Findings.OK {
		scene.Posture.Deviation = 0 // the bands are of every one
	}
	if !b.have || !reflect.DeepEqual(b.scene, scene) {
		d.dirty = d.dirty || b.fresh
		b.fresh, b.have, b.work = false, false, nil
		if d.stale && b.bands != nil {
			return
		}
		b.scene, b.have = scene.Clone(), true
		b.work = answers.NewBanding(&b.scene)
	}
	d.goOnBanding()
}

// goOnBanding is a slice of the work.
func (d *Desk) goOnBanding() {
	b := &d.banding
	for b.work != nil && b.steps < bandSteps {
		b.steps++
		if !b.work.Step() {
			b.bands, b.work, b.fresh = alike(b.work.Bands()), nil, true
			d.dirty = true
		}
	}
}

// alike joins neighbours that differ in the letter of their pattern alone: nobody is
// asked for that.
func alike(bands []answers.Band) (joined []answers.Band) {
	asked := func(b answers.Band) answers.Band {
		b.From, b.To, b.Pattern = 0, 0, ""
		return b
	}
	for _, b := range bands {
		if n := len(joined); n > 0 && asked(joined[n-1]) == asked(b) {
			joined[n-1].To = b.To
		} else {
			joined = append(joined, b)
		}
	}
	return joined
}

// bandX is where on the bar's scale the eyes meet with a deviation, all else as it
// stands.
func (d *Desk) bandX(p sim.Prism) float64 {
	g := d.view.Axes.Vergence - d.view.Now.Posture.Deviation.Angle() + p.Angle()
	return vergenceX(g, d.setup.Patient.PD, barEnd)
}

// strip is the lane of the bands on the bar.
type strip struct {
	ui.Base
	d      *Desk
	chosen int // by keys
}

// The height of the strip, units, and of what takes the pointer.
const (
	stripHeight = 16
	stripReach  = 26
)

// span is where a band stands on the page.
func (s *strip) span(i int) (from, to float64) {
	d := s.d
	b := &d.banding.bands[i]
	return d.layout.x(d.bandX(b.To)), d.layout.x(d.bandX(b.From))
}

// at is the band at a place across the page; −1: none.
func (s *strip) at(x float64) int {
	for i := range s.d.banding.bands {
		if from, to := s.span(i); from <= x && x < to {
			return i
		}
	}
	return -1
}

// current is the band in which the scene is; −1: none.
func (s *strip) current() int {
	e := s.d.view.Now.Posture.Deviation
	for i, b := range s.d.banding.bands {
		if b.From <= e && e <= b.To {
			return i
		}
	}
	return -1
}

// told is the band that is pointed at or chosen by keys, else that of the scene.
func (s *strip) told(k *ui.Kit) int {
	i := s.current()
	byKeys := k.Keyed && ui.Is(k.Focus, s)
	switch {
	case ui.Is(k.Hover, s) && !byKeys:
		i = s.at(k.Pointer.X)
	case ui.Is(k.Focus, s):
		i = s.chosen
	}
	if i >= len(s.d.banding.bands) {
		return -1
	}
	return i
}

// hint says what would be said in the band that is pointed at.
func (s *strip) hint() string {
	if i := s.told(&s.d.kit); i >= 0 && s.d.banding.fresh {
		return s.d.say.BandSaid(&s.d.banding.bands[i])
	}
	return s.Hint
}

// Refresh begins where the scene is, until keys choose another band.
func (s *strip) Refresh(k *ui.Kit) {
	if s.Off = len(s.d.banding.bands) == 0; !ui.Is(k.Focus, s) {
		s.chosen = s.current()
	}
}

// Press goes through the bands, from the nose outward.
func (s *strip) Press(_ *ui.Kit, p ui.Press) bool {
	most := len(s.d.banding.bands) - 1
	step := 0
	switch p.Key {
	case ui.KeyRight, ui.KeyUp:
		step = -1 // farther is less eso
	case ui.KeyLeft, ui.KeyDown:
		step = 1
	case ui.KeyHome:
		s.chosen = s.current()
		return true
	default:
		return false
	}
	for to := s.chosen + step; to >= 0 && to <= most; to += step {
		from, end := s.span(to)
		if end > from {
			s.chosen = to
			break
		}
	}
	return true
}

// Point keeps what is pressed as what is told.
func (s *strip) Point(_ *ui.Kit, g ui.Gesture) {
	if i := s.at(g.At.X); i >= 0 {
		s.chosen = i
	}
}

// arrangeBands puts the strip under the lane of the meeting place.
func (d *Desk) arrangeBands() {
	a, u := &d.layout, d.kit.Unit
	d.page.bands.Refresh(&d.kit)
	h := math.Round(stripReach * u)
	d.page.bands.Area = display.Rect{X: a.left, Y: a.bandY - h/2, W: a.width, H: h}
}

// Draw draws the bands side by side with an edge between each, and a sign in those that
// are wide enough.
func (s *strip) Draw(k *ui.Kit, l *display.List) {
	d, t, u := s.d, k.Theme, k.Unit
	y, h := d.layout.bandY-stripHeight/2*u, stripHeight*u
	if len(d.banding.bands) == 0 {
		return
	}
	faded := 1.
	if !d.banding.fresh {
		faded = 0.4
	}
	now, told := s.current(), -1
	if ui.Is(k.Hover, s) || ui.Is(k.Focus, s) {
		told = s.told(k)
	}
	for i := range d.banding.bands {
		from, to := s.span(i)
		if to-from <= 0 {
			continue
		}
		fill, ink := t.Panel, t.Muted
		switch i {
		case told:
			fill, ink = t.Hover, t.Ink
		case now:
			fill, ink = t.Raised, t.Ink
		}
		r := display.Rect{X: from, Y: y, W: to - from, H: h}
		ui.Fill(l, r, fill)
		drawBand(l, r, u, &d.banding.bands[i], ink.Faded(faded))
	}
	// The edges, over all plates.
	edge := t.Edge.Faded(faded)
	for i := range d.banding.bands {
		from, to := s.span(i)
		for _, x := range [...]float64{from, to} {
			ui.Line(l, x, y, x, y+h, u, edge)
		}
	}
	if from, to := 0., 0.; now >= 0 && d.banding.fresh {
		from, to = s.span(now)
		ui.Line(l, from, y+h, to, y+h, 2*u, t.Accent)
	}
	k.DrawRing(l, s, display.Rect{X: s.Area.X, Y: y, W: s.Area.W, H: h})
}

// drawBand draws the sign of a band where it has room: the beads as discs, a bare place
// as a tick, and a × or, where nothing crosses, two lines. The × stands in the bead, or
// before or behind it, as on the bar. A single string is one line.
func drawBand(l *display.List, r display.Rect, u float64, b *answers.Band, ink display.Colour) {
	const step = 10 // units, from sign to sign
	things := 1
	if b.Bead == answers.Two {
		things = 2
	}
	slots := things
	if b.Meet != answers.At {
		slots++
	}
	room := func(n int) bool { return (float64(n)*step+4)*u <= r.W }
	crosses := room(slots)
	if !crosses {
		slots = things
	}
	if !room(slots) {
		return
	}
	m := ui.Middle(r)
	m.X -= float64(slots-1) / 2 * step * u
	if crosses && b.Meet == answers.Nearer {
		drawMeet(l, m, u, b, ink)
		m.X += step * u
	}
	for range things {
		drawThing(l, m, u, b, crosses && b.Meet == answers.At, ink)
		m.X += step * u
	}
	if crosses && (b.Meet == answers.Beyond || b.Meet == answers.Not) {
		drawMeet(l, m, u, b, ink)
	}
}

// drawThing draws what is looked at, with the crossing in it or not.
func drawThing(l *display.List, m display.Point, u float64, b *answers.Band, at bool, ink display.Colour) {
	switch {
	case b.Bead == answers.Open: // a bare place
		ui.Line(l, m.X, m.Y-5*u, m.X, m.Y+5*u, 1.5*u, ink)
	case b.Bead == answers.None, at:
		l.Circle(m, 4*u)
		l.Stroke(1.5*u, display.Paint{From: ink})
	default:
		l.Circle(m, 3.5*u)
		l.Fill(display.Paint{From: ink})
	}
	if at {
		ui.Cross(l, m, 2.5*u, 1.5*u, ink)
	}
}

// drawMeet draws how the strings lie to each other.
func drawMeet(l *display.List, m display.Point, u float64, b *answers.Band, ink display.Colour) {
	switch {
	case b.Near != answers.Double && b.Far != answers.Double:
		ui.Line(l, m.X-4*u, m.Y, m.X+4*u, m.Y, 1.75*u, ink)
	case b.Meet == answers.Not:
		for _, side := range [...]float64{-2, 2} {
			ui.Line(l, m.X+side*u, m.Y-3.5*u, m.X+side*u, m.Y+3.5*u, 1.5*u, ink)
		}
	default:
		ui.Cross(l, m, 3*u, 1.75*u, ink)
	}
}

// newStrip makes the strip.
func (d *Desk) newStrip() *strip {
	return &strip{Base: ui.Base{Name: "bands", Hint: d.say.Label(words.HintBands)}, d: d}
}

// drawBands draws the strip, and leads from the meeting place to it.
func (d *Desk) drawBands(l *display.List) {
	a, u := &d.layout, d.kit.Unit
	mx := d.handleX(d.page.handles[1])
	d.page.bands.Draw(&d.kit, l)
	if len(d.banding.bands) > 0 {
		top := a.bandY - stripHeight/2*u
		ui.Line(l, mx, a.meetingY, mx, top-4*u, theme.Line*u, d.kit.Theme.Edge)
		l.MoveTo(mx-4*u, top-6*u)
		l.LineTo(mx+4*u, top-6*u)
		l.LineTo(mx, top)
		l.Close()
		l.Fill(display.Paint{From: d.kit.Theme.Ink})
	}
}
