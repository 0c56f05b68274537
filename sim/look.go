package sim

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// lookState is what a look works with. It stays in the View, so that pictures can
// ask for more points of the same look.
type lookState struct {
	stance
	thickness float64

	hasBead    bool // a bead is at the fixated place
	beadCentre r3.Vec
	beadRadius float64

	line        bool      // the string is a straight line in both eyes
	unbent      bool      // and perceived as one: each strand is a great circle
	start, step [2]r3.Vec // its near end and its step per mm, eye frames

	response float64 // of accommodation, D (M17)
	pupil    float64 // m

	samples [samples + spare]sample
	count   int
	strands [2]strand
	masks   [blocks][2]uint32 // of the blocks of curved strands, see masksOf
	masked  uint32            // those that are known: a bit for each block
	swap    Maybe[swap]       // in front; once it was asked for
}

// Look fills v with everything seen in the set-up at the time 0. It is pure: the
// same set-up gives the same view. Called again with the same v it allocates
// nothing. A set-up that breaks the geometry gives defined results, never NaN, as
// long as its numbers are finite: see Validate. For other times see Course.
func (v *View) Look(s *Setup) {
	v.look.before = nil
	v.lookAt(s, nil, 0, s.Hold.begins())
}

// lookAt looks at a moment with the vergence off its mean by waver, and with what
// was put before the eyes until then.
func (v *View) lookAt(set *Setup, held covers, seconds float64, waver Angle) {
	set.CopyTo(&v.Now)
	v.Seconds = seconds
	s, k := &v.Now, &v.look
	k.stand(s)
	v.Holding = k.turn(s, held, seconds, waver)

	k.thickness = s.String.Thickness
	k.pupil = s.Patient.Pupil / 1000
	bead := s.FixatedBead()
	for i := range Eyes {
		k.eyes[i].suppress(i, s, k.target)
	}
	k.setBead(s, bead)
	k.lay()
	k.walk()

	demand := k.driven(s.Posture.Fixing, k.target, k.seeTarget())
	v.Target = k.asked(s)
	v.Target.Accommodation = Dioptres(math.Max(0, demand))
	k.response = s.response(demand)
	if k.converged < 1 {
		k.response += (s.response(k.began) - k.response) * (1 - k.converged)
	}
	for i := range Eyes {
		e := &k.eyes[i]
		v.Eyes[i] = Gaze{
			Azimuth: Angle(e.azimuth), Elevation: Angle(e.elevation), Torsion: Angle(e.torsion),
			Centre: e.centre, Nodal: e.nodal, Axis: e.f,
		}
	}
	r, l := &k.eyes[RightEye], &k.eyes[LeftEye]
	v.Axes.Gap, v.Axes.Point = axesMeet(r, l)
	v.Axes.Vergence = Angle(l.azimuth - r.azimuth)

	v.Crossing = k.crossing()
	v.tell(bead)
	v.Account.TookUp = s.Posture.Fixing != Both && set.preferred() == s.Posture.Fixing.Other()
	v.Account.NeedsCare = set.NeedsCare()
}

// tell fills in what depends on what fuses.
func (v *View) tell(bead int) {
	s, k := &v.Now, &v.look
	v.Beads = v.Beads[:0]
	for i := range s.Beads {
		v.Beads = append(v.Beads, k.bead(s, i, i == bead))
	}
	v.Strings = k.stringView(&v.Crossing)
	v.Account = k.account(s, v, bead)
}

// Fuse sees what v has looked at as somebody with Panum's area of p would: what Look
// would fill in for the same set-up with those limits, and much faster, as no image
// moves. With findings the posture depends on the limits: they need another Look.
func (v *View) Fuse(p *Patient) {
	k, now := &v.look, &v.Now.Patient
	now.FusionH, now.FusionHSlope = p.FusionH, p.FusionHSlope
	now.FusionV, now.FusionVSlope = p.FusionV, p.FusionVSlope
	k.fusion = p.fusion()
	for i := range k.count {
		k.samples[i].known &^= knownDoubled
	}
	took, care := v.Account.TookUp, v.Account.NeedsCare
	v.tell(v.Now.FixatedBead())
	v.Account.TookUp, v.Account.NeedsCare = took, care
}

func (k *lookState) setBead(s *Setup, bead int) {
	k.hasBead = bead != NoBead
	if !k.hasBead {
		return
	}
	k.beadCentre = k.chord.point(s.Beads[bead].At)
	k.beadRadius = s.Beads[bead].Diameter / 2
	for i := range Eyes {
		e := &k.eyes[i]
		e.see(k.beadCentre, &e.hider)
		e.hiderRadius = k.beadRadius
	}
}

// asked is what the target asks of the eyes (M12, M13).
func (k *stance) asked(s *Setup) Target {
	p := k.target
	d := math.Max(math.Hypot(p.Y, p.Z), leastDistance)
	return Target{
		At: k.fixated, Point: p, FromEyes: r3.Norm(p),
		DemandAngle: spread(k.straight(p, 0)),
		Required:    spread(k.straight(p, 1)),
		Demand:      Prism(100 * s.Patient.PD / d),
		MetreAngles: 1000 / d,
	}
}

func (k *lookState) crossing() Crossing {
	var c Crossing
	c.At = k.zeroDisparity()
	if c.At.OK {
		c.Offset = Some(c.At.Value - k.fixated)
		c.Seen = k.crossingSeen(c.At.Value)
	}
	c.Picture, c.RightAt, c.LeftAt = k.meeting(c.At)
	return c
}

// bead is a bead as it is seen; one at the fixated place belongs to neither of the
// zones nearer and beyond.
func (k *lookState) bead(s *Setup, n int, fixated bool) BeadView {
	b := &s.Beads[n]
	p := k.chord.point(b.At)
	place := b.At
	if fixated {
		place = k.fixated
	}
	v := BeadView{Name: b.Name, At: b.At, FromEyes: r3.Norm(p), Diplopia: DiplopiaNone, Black: s.black(b.Colour)}
	for i := range Eyes {
		v.Blur = max(v.Blur, k.blur(&k.eyes[i], p))
	}
	images, has, seen := k.sights(p, place)
	r, l := &images[RightEye], &images[LeftEye]
	if has[RightEye] {
		v.Right = Some(XY{r.x, r.y})
	}
	if has[LeftEye] {
		v.Left = Some(XY{l.x, l.y})
	}
	single := false
	switch {
	case has[RightEye] && has[LeftEye]:
		d := k.before.widen(n, k.fusion.compare(r, l))
		single = d.Single()
		v.Disparity = Some(d)
		v.Limits = Some([2]Angle{d.LimitH, d.LimitV})
		size := angularRadius(b.Diameter/2, r.distance()) + angularRadius(b.Diameter/2, l.distance())
		if size > 0 {
			v.Overlap = Some(math.Max(0, 1-float64(d.Separation)/size))
		}
	case has[RightEye]:
		v.Limits = Some(k.fusion.limitsOf(r))
	case has[LeftEye]:
		v.Limits = Some(k.fusion.limitsOf(l))
	}
	v.Seen = seenAs(seen, single)
	if v.Seen == SeenTwo {
		v.Diplopia = diplopia(v.Disparity.Value)
	}
	return v
}

// sights are a point in both eyes: its images, which of them have it in their field, and
// which of those see it; place is that on the string that it belongs to.
func (k *lookState) sights(p r3.Vec, place float64) (images pair, has, seen [2]bool) {
	for i := range Eyes {
		e := &k.eyes[i]
		e.see(p, &images[i])
		has[i] = e.inField(&images[i])
		seen[i] = has[i] && e.weight.sees(&images[i], place, k.fixated)
	}
	return images, has, seen
}

// angularRadius is the radius under which a ball is seen: asin(radius/distance),
// a right angle from inside it.
func angularRadius(radius, distance float64) float64 {
	if radius >= distance {
		return math.Pi / 2
	}
	return math.Asin(radius / distance)
}

func (f *fusion) limitsOf(i *point) [2]Angle {
	h, v := f.limits(math.Atan(math.Hypot(i.x, i.y)))
	return [2]Angle{Angle(h), Angle(v)}
}

func seenAs(seen [2]bool, single bool) Seen {
	switch {
	case seen[RightEye] && seen[LeftEye] && single:
		return SeenOne
	case seen[RightEye] && seen[LeftEye]:
		return SeenTwo
	case seen[RightEye]:
		return SeenRight
	case seen[LeftEye]:
		return SeenLeft
	}
	return SeenNone
}

func (k *lookState) stringView(c *Crossing) Strings {
	var s Strings
	near, far := k.sections(k.fixated)
	s.Near, s.Far = k.strings(near), k.strings(far)
	s.NearOverlaid = s.Near != 2 && k.overlaid(near)
	s.FarOverlaid = s.Far != 2 && k.overlaid(far)
	s.Gradient = k.gradient()
	if c.At.OK {
		s.FusedFrom, s.FusedTo = k.fusedStretch(c.At.Value)
	}
	if !c.At.OK || !c.Picture.OK {
		switch max(s.Near, s.Far) {
		case 2:
			s.Pattern = PatternTwo
		case 1:
			s.Pattern = PatternOne
		default:
			s.Pattern = PatternNone
		}
		return s
	}
	s.Pattern = pattern(s.Near, s.Far)
	if c.At.Value != k.fixated {
		near, far = k.sections(c.At.Value)
		s.Pattern = pattern(k.strings(near), k.strings(far))
	}
	return s
}

// pattern is the letter for the strings nearer and farther than the crossing (M10).
func pattern(near, far int) Pattern {
	switch {
	case near == 2 && far == 2:
		return PatternX
	case near == 2 && far == 0:
		return PatternA
	case near == 0 && far == 2:
		return PatternV
	case near == 2 || far == 2:
		return PatternY
	case near == 1 || far == 1:
		return PatternOne
	}
	return PatternNone
}

// Sight is what eye (RightEye, LeftEye) has of the string at a place. The view
// must have looked.
func (v *View) Sight(eye Eye, at float64) Sight {
	return v.SightOf(eye, v.look.chord.point(at), at)
}

// SightOf is what eye has of any point p of the head frame; at is the place on
// the string that it belongs to, for the zones nearer and beyond. A fixated bead
// belongs to the fixated place.
func (v *View) SightOf(eye Eye, p r3.Vec, at float64) Sight {
	k := &v.look
	e := &k.eyes[eye]
	var i point
	e.see(p, &i)
	return Sight{
		At:       XY{i.x, i.y},
		Ahead:    i.ahead,
		InField:  e.inField(&i),
		Weight:   e.weight.at(&i, at, k.fixated),
		Distance: i.distance(),
		Blur:     k.blur(e, p),
	}
}

// Compare sets the two eyes' sights of one point against each other. Both must
// be Ahead.
func (v *View) Compare(right, left Sight) Disparity {
	r, l := right.point(), left.point()
	return v.look.fusion.compare(&r, &l)
}

// HeadCentred turns a place of the picture, which is centred on the fixation
// direction, into the picture centred on straight ahead: the same direction turned
// by the mean ideal gaze of the two eyes (M6). It does not exist for directions
// that then lie behind.
func (v *View) HeadCentred(p XY) (XY, bool) {
	k := &v.look
	e := eye{gaze: gaze{
		azimuth:   (k.ideal[RightEye].azimuth + k.ideal[LeftEye].azimuth) / 2,
		elevation: (k.ideal[RightEye].elevation + k.ideal[LeftEye].elevation) / 2,
	}}
	e.turn()
	d := r3.Add(e.f, r3.Add(r3.Scale(p.X, e.r), r3.Scale(p.Y, e.u)))
	if d.Y <= 0 {
		return XY{}, false
	}
	return XY{d.X / d.Y, d.Z / d.Y}, true
}

func (s Sight) point() point {
	return point{x: s.At.X, y: s.At.Y, t: s.At.X / math.Sqrt(1+s.At.Y*s.At.Y)}
}
