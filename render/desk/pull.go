package desk

import (
	"math"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/scenes"
	"twincord/sim"
)

// pictureMap says where directions stand in the picture of a view.
func (d *Desk) pictureMap(v *sim.View) render.PictureMap {
	frame, o := d.layout.picture, d.pictureOptions()
	if d.compare {
		frame, o.Field = render.CompareFrame(frame, &d.plainView, v, o.Field)
	}
	return render.PictureMapOf(frame, v, o)
}

// arrangeImages puts handles on what the picture has of the beads and of the place where
// the strings cross.
func (d *Desk) arrangeImages() {
	frame := d.layout.picture
	m := d.pictureMap(&d.view)
	least := 0.35 * theme.Target * d.kit.Unit
	for _, h := range d.page.images {
		h.Area = display.Rect{}
		var at sim.Maybe[sim.XY]
		radius := least
		if h.kind == meeting {
			if c := &d.view.Crossing; c.Picture.OK && d.view.CrossingShows() && d.view.Account.Meet != sim.MeetAt {
				at = c.Picture // where it is in a bead, or behind one, the bead is taken
			}
		} else {
			b := &d.view.Beads[h.bead]
			at = [2]sim.Maybe[sim.XY]{b.Right, b.Left}[h.eye]
			radius = max(least, m.Size(d.setup.Beads[h.bead].Diameter/2/max(b.FromEyes, 1)))
		}
		if p := m.Page(at.Value); at.OK && ui.Inside(frame, p) {
			h.Area = display.Around(p, radius)
			h.Within = frame
		}
	}
}

// seenAt is the place on the string that any of some eyes sees nearest to a place on the
// page.
func (d *Desk) seenAt(v *sim.View, p display.Point, eyes ...sim.Eye) float64 {
	m := d.pictureMap(v)
	length := v.Now.String.Length
	off := func(at float64) (nearest float64) {
		nearest = math.Inf(1)
		for _, eye := range eyes {
			if s := v.Sight(eye, at); s.Ahead {
				q := m.Page(s.At)
				nearest = min(nearest, math.Hypot(q.X-p.X, q.Y-p.Y))
			}
		}
		return nearest
	}
	const looks = 120
	place := func(i float64) float64 { return length * i / looks }
	best := 0.
	for i := range looks + 1 {
		if off(place(float64(i))) < off(place(best)) {
			best = float64(i)
		}
	}
	lo, hi := max(0, best-1), min(best+1, looks)
	for range 24 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if off(place(a)) < off(place(b)) {
			hi = b
		} else {
			lo = a
		}
	}
	return place((lo + hi) / 2)
}

// turn turns the eye that is pulled in the view from in front: sideways the error grows
// eso or exo, up and down it is higher or lower. The other eye fixes, if one has to.
func (h *handle) turn(p display.Point) {
	d := h.d
	if d.setup.Findings.OK {
		return
	}
	eye, other, side := sim.RightEye, sim.Left, 1.
	if h.kind == leftEye {
		eye, other, side = sim.LeftEye, sim.Right, -1
	}
	azimuth, elevation, ok := d.view.GazeSeenAt(eye, d.layout.faces.Place(p))
	if !ok {
		return // farther than the eye reaches
	}
	right, up := azimuth-d.view.Eyes[eye].Azimuth, elevation-d.view.Eyes[eye].Elevation
	posture := d.setup.Posture
	if posture.Fixing == sim.Both { // each eye has half of it
		right, up = 2*right, 2*up
	}
	to := func(was sim.Prism, by sim.Angle, allowed scenes.Range) sim.Prism {
		v := snap(float64((was.Angle() + by).Prism()), deviationStep)
		if math.Abs(v) <= deviationHold {
			v = 0
		}
		return sim.Prism(allowed.Clamp(v))
	}
	d.edit(h.Name, func(s *sim.Setup) {
		s.Posture.Deviation = to(posture.Deviation, sim.Angle(-side)*right, deviations)
		s.Posture.Vertical = to(posture.Vertical, sim.Angle(side)*up, verticals)
		if s.Posture.Fixing != sim.Both {
			s.Posture.Fixing = other
		}
	})
}

// carried takes the state of the findings along the string from one place to another, as
// a bead that is moved in the chair does: it breaks where the break is, and comes back
// where the recovery is.
func carried(s *sim.Setup, from, to float64) {
	if !s.Findings.OK {
		return
	}
	const stride = 5 // mm
	n := max(1, math.Ceil(math.Abs(to-from)/stride))
	state := s.Findings.Value.State
	for i := 0.; i <= n; i++ {
		state = s.HoldingAt(from+(to-from)*i/n, state).Value.State
	}
	s.Findings.Value.State = state
}
