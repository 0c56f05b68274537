package sim

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// stance is how the eyes stand and point at a moment, and the string before them.
type stance struct {
	chord   chord
	fusion  fusion
	fixated float64 // the fixated place
	target  r3.Vec  // its point, head frame
	eyes    [2]eye
	ideal   [2]gaze // of each eye without the error of posture
	began   float64 // the accommodation demand where a jump began, D
	jump    Jump
	before  *memory // what fused before; nil: nothing is remembered

	// How far vergence has come in a jump, and both eyes have turned since another one
	// fixes, 0 – 1; 1 where there is none of it.
	converged, turned float64
}

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

// stand takes what of a set-up does not change in time.
func (k *stance) stand(s *Setup) {
	k.chord = s.String.chord()
	k.fusion = s.Patient.fusion()
	k.fixated = s.LookPlace()
	k.target = k.chord.point(k.fixated)
}

// turn turns the set-up in which k stands into the one that holds at a moment (what is
// covered and suppressed then, its posture that of the moment), and stands and turns the
// eyes as it has them.
func (k *stance) turn(s *Setup, held covers, seconds float64, waver Angle) Maybe[Holding] {
	for i := range Eyes {
		k.eyes[i].stand(i, s)
	}
	gazes, h := k.follow(s, held, moment{seconds, waver}, seconds, mostChanges)
	for i := range Eyes {
		e := &k.eyes[i]
		e.turnTo(gazes[i], s)
		if s.Posture.share(i) == 1 {
			e.correspond(s, k.target)
		}
	}
	return h
}

// moment is a time in seconds, and by how much the vergence wavers then.
type moment struct {
	seconds float64
	waver   Angle
}

// follow gives the gazes at a moment under what covers and suppression left to see
// at a time before it, the eyes on the way from where they were before that changed
// (M4); changes is how many changes before it are followed.
func (k *stance) follow(s *Setup, held covers, m moment, at float64, changes int) (gazes [2]gaze, h Maybe[Holding]) {
	since, changed := s.changed(held, at)
	if !changed || at-since >= changeOver || changes == 0 {
		return k.settle(s, held, m, at)
	}
	was := *s
	from, _ := k.follow(&was, held, m, since-justBefore, changes-1)
	to, h := k.settle(s, held, m, at)
	if from == to {
		return to, h
	}
	k.turned = versionDone(from, to, at-since)
	if k.turned == 1 {
		return to, h
	}
	gazes = underWay(from, to, k.turned, k.turned)
	s.Posture.Deviation = (spread(gazes) - spread(k.ideal)).Prism()
	if k.jump == JumpNone {
		k.jump = JumpMoving
		if at-since < versionLatency {
			k.jump = JumpWaiting
		}
	}
	return gazes, h
}

// settle gives the gazes at a moment once the eyes have done what covers and
// suppression make of them at a time, and puts into s what holds then.
func (k *stance) settle(s *Setup, held covers, m moment, at float64) (gazes [2]gaze, h Maybe[Holding]) {
	state := s.stateBefore(held, at)
	s.Cover = held.at(at, s.Cover)
	s.Suppression = s.Suppression.at(at)
	k.converged, k.turned, k.jump = 1, 1, JumpNone
	moving := s.Look.From.OK && m.seconds < jumpOver
	typed, suppression := s.Posture, s.Suppression

	var begun [2]gaze
	if moving {
		from := k.chord.point(s.Beads[s.Look.From.Value].At)
		if h := k.hold(s, from, state); h.OK {
			state = h.Value.State
		}
		_, begun = k.aim(s, from, m.waver)
		k.began = k.driven(s.Posture.Fixing, from, s.foveaeSee())
	}
	s.Posture, s.Suppression = typed, suppression
	h = k.hold(s, k.target, state)
	k.ideal, gazes = k.aim(s, k.target, m.waver)
	s.Posture.Deviation = wavering(s.Posture.Deviation, m.waver)
	if moving {
		k.converged = vergenceDone(m.seconds)
		turned := versionDone(begun, gazes, m.seconds)
		k.jump = jumpAt(begun, gazes, m.seconds, turned, k.converged)
		gazes = underWay(begun, gazes, turned, k.converged)
		s.Posture.Deviation = (spread(gazes) - spread(k.ideal)).Prism()
	}
	return gazes, h
}

// aim gives the gazes of both eyes at a target, ideal and with the error of
// posture, the vergence off by waver.
func (k *stance) aim(s *Setup, target r3.Vec, waver Angle) (ideal, actual [2]gaze) {
	p := s.Posture
	p.Deviation = wavering(p.Deviation, waver)
	for i := range Eyes {
		ideal[i], actual[i] = k.eyes[i].aim(p.share(i), &p, target)
	}
	return ideal, actual
}

// wavering is a deviation off by an angle.
func wavering(p Prism, by Angle) Prism {
	if by == 0 {
		return p
	}
	return (p.Angle() + by).Prism()
}

// spread is the vergence of two gazes, convergence +.
func spread(g [2]gaze) Angle { return Angle(g[LeftEye].azimuth - g[RightEye].azimuth) }

// FixatedBead is the bead at the fixated place: the one that is looked at, or the
// one in whose body the place that is looked at lies, the nearest if there are
// several; NoBead where the string is bare.
func (s *Setup) FixatedBead() int {
	if s.Look.Bead != NoBead {
		return s.Look.Bead
	}
	return s.BeadAt(s.Look.At)
}

// BeadAt is the bead in whose body a place lies, mm along the chord, the nearest if
// there are several; NoBead where the string is bare.
func (s *Setup) BeadAt(at float64) int {
	best := NoBead
	nearest := math.Inf(1)
	for i := range s.Beads {
		b := &s.Beads[i]
		if d := math.Abs(at - b.At); d <= b.Diameter/2 && d < nearest {
			best, nearest = i, d
		}
	}
	return best
}

// LookPlace is the place that is looked at, mm along the chord.
func (s *Setup) LookPlace() float64 {
	if s.Look.Bead != NoBead {
		return s.Beads[s.Look.Bead].At
	}
	return s.Look.At
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

// straight gives the gazes of both eyes straight at a point, seen through a share
// of the prisms.
func (k *stance) straight(p r3.Vec, met float64) (g [2]gaze) {
	for i := range Eyes {
		e := &k.eyes[i]
		g[i].azimuth, g[i].elevation = gazeAt(r3.Sub(e.displaced(p, met), e.centre))
	}
	return g
}

// driven is what a point asks of the accommodation of the eye that drives it, D: the
// one that fixes, or where both do, of the eyes that see the target the one of which
// it asks less (M13; row C21); one of them does, as a suppression takes two open eyes.
// It may be below zero.
func (k *stance) driven(fixing Side, p r3.Vec, sees [2]bool) float64 {
	right, left := k.eyes[RightEye].demand(p), k.eyes[LeftEye].demand(p)
	switch {
	case fixing == Right, fixing == Both && !sees[LeftEye]:
		return right
	case fixing == Left, fixing == Both && !sees[RightEye]:
		return left
	}
	return math.Min(right, left)
}

// seeTarget says which eyes see the target, by weight alone.
func (k *stance) seeTarget() (sees [2]bool) {
	for i := range Eyes {
		e := &k.eyes[i]
		sees[i] = e.weight.sees(&point{q: e.toward(k.target)}, k.fixated, k.fixated)
	}
	return sees
}

// demand is what a point asks of the eye's accommodation through what stands before
// it: 1/d + R − L, d from the spectacle plane (M13).
func (e *eye) demand(p r3.Vec) float64 { return vergence(p) + e.refraction - e.lens }

// leastDistance is the shortest distance from the eyes that the model works with,
// mm, so that its reciprocals stay finite (M13).
const leastDistance = 1

// vergence is the vergence of light from a point at the spectacle plane, D (M13).
func vergence(p r3.Vec) float64 {
	return 1000 / math.Max(r3.Norm(p)-SpectaclePlane, leastDistance)
}

// nearDemand is the accommodation demand at which the lag is the typed one, D (M17).
const nearDemand = 2.5

// response is the accommodation of both eyes where the one that drives it is asked
// for demand (M17), D.
func (s *Setup) response(demand float64) float64 {
	if s.Posture.Accommodation.OK {
		return float64(s.Posture.Accommodation.Value)
	}
	_, mean, _ := Amplitude(s.Patient.Age)
	amplitude := float64(s.Patient.Amplitude.Or(mean))
	a := math.Max(0, demand)
	return math.Max(0, math.Min(amplitude, a-float64(s.Patient.Lag)*math.Min(1, a/nearDemand)))
}

// blur is the angular diameter of the blur disc of a point in one eye (M17).
func (k *lookState) blur(e *eye, p r3.Vec) Angle {
	return Angle(k.pupil * math.Abs(e.demand(p)-k.response))
}

// The blur discs up to which a place is clear and soft (M17), modelling choices: at a
// pupil of 3 mm clear is about ±0.5 D.
const (
	clearUpTo = 5 * math.Pi / (180 * 60)
	softUpTo  = 15 * math.Pi / (180 * 60)
)

// ClarityOf is the class of a blur disc (M17).
func ClarityOf(blur Angle) Clarity {
	switch {
	case blur <= clearUpTo:
		return ClarityClear
	case blur <= softUpTo:
		return ClaritySoft
	}
	return ClarityBlurred
}

// clarity is how sharp a point is to the clearest of the eyes that see it, and
// whether another one that does has it in another class.
func (k *lookState) clarity(p r3.Vec, seen [2]bool) (c Clarity, uneven bool) {
	right, left := k.blur(&k.eyes[RightEye], p), k.blur(&k.eyes[LeftEye], p)
	switch {
	case seen[RightEye] && seen[LeftEye]:
		c = ClarityOf(min(right, left))
		return c, c != ClarityOf(max(right, left))
	case seen[RightEye]:
		return ClarityOf(right), false
	case seen[LeftEye]:
		return ClarityOf(left), false
	}
	return ClarityNone, false
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

// The bounds of the account's codes, all modelling choices.
const (
	OnTarget    = 0.25 // error of posture that counts as none, Δ
	BareRadius  = 10   // how far off a bare place the crossing may lie and be in it, mm
	DoubledEdge = 0.75 // overlap of a bead's images above which two look like one with a doubled edge (M8)
)

func (k *lookState) account(s *Setup, v *View, bead int) Account {
	a := Account{
		Near: v.Strings.Near, Far: v.Strings.Far, Pattern: v.Strings.Pattern,
		Higher: Neither, Missing: Neither,
	}
	if bead != NoBead {
		a.LookedAt = s.Beads[bead].Name
		a.Asked = a.LookedAt
		a.Fixated = v.Beads[bead].Seen
		a.Fuses = a.Fixated == SeenOne
	}
	if s.Look.Asked != NoBead {
		a.Asked = s.Beads[s.Look.Asked].Name
	}
	a.Meet = k.meet(&v.Crossing)
	if a.Meet.OnString() {
		if hider := k.hider(s, &v.Crossing, a.Meet); hider != NoBead {
			a.HiddenBy = s.Beads[hider].Name
		}
	}

	images, has, seen := k.sights(v.Target.Point, k.fixated)
	if has[RightEye] && has[LeftEye] {
		d := k.before.widen(s.memoryOf(bead), k.fusion.compare(&images[RightEye], &images[LeftEye]))
		a.Apart = Some(d.Separation)
		how := seenAs(seen, d.Single())
		if bead == NoBead {
			a.Fuses = how == SeenOne
		}
		if how == SeenTwo && abs(d.V) > d.LimitV {
			a.Higher = Left
			if d.V > 0 {
				a.Higher = Right
			}
		}
	}
	a.Gap = k.gap(has, seen)
	a.Missing, a.MissingWhere = s.missing()
	a.Fainter = s.fainter()
	a.Fixes = s.Posture.Fixing
	a.Clarity, a.Uneven = k.clarity(v.Target.Point, seen)
	a.Eyes = aim(s.Posture.Deviation, v.Axes.Gap.OK)
	return a
}

// gap is the eye whose string has a gap at the fixated place: not seen there, though
// in the field, but long enough nearer and beyond, while the other eye sees the place.
func (k *lookState) gap(has, seen [2]bool) Side {
	for i := range Eyes {
		if !has[i] || seen[i] || !seen[1-i] {
			continue
		}
		near, far := k.sections(k.fixated)
		if k.run(near, what(i)) && k.run(far, what(i)) {
			return i.Side()
		}
	}
	return Neither
}

func (k *lookState) meet(c *Crossing) Meet {
	at := float64(BareRadius)
	if k.hasBead {
		at = k.beadRadius
	}
	switch {
	case !c.At.OK:
		return MeetNowhere
	case !c.Seen:
		return MeetUnseen
	}
	if off := k.offTheString(c); off != "" {
		return off
	}
	switch {
	case math.Abs(c.Offset.Value) <= at:
		return MeetAt
	case c.Offset.Value < 0:
		return MeetNearer
	}
	return MeetBeyond
}

func aim(deviation Prism, meet bool) Aim {
	if !meet {
		return AimApart
	}
	return deviation.Aim()
}

// missing says which eye's image is left out, and where, from the set-up of a moment
// alone; a cover wins.
func (s *Setup) missing() (Side, Where) {
	if s.Cover == Right || s.Cover == Left {
		return s.Cover, WhereAll
	}
	if e := s.Suppression.Eye; (e == Right || e == Left) && s.Suppression.Depth > seenUpTo {
		return e, s.Suppression.Zone.where()
	}
	return Neither, WhereNot
}

// fainter is the eye whose image is left out in part only, from the set-up of a
// moment alone.
func (s *Setup) fainter() Side {
	e, depth := s.Suppression.Eye, s.Suppression.Depth
	if (e == Right || e == Left) && e != s.Cover && depth > fainterFrom && depth <= seenUpTo {
		return e
	}
	return Neither
}

// where is the part of an image that a zone takes.
func (z Zone) where() Where {
	switch z {
	case ZoneCentral:
		return WhereCentre
	case ZoneNasal:
		return WhereNasal
	case ZoneTemporal:
		return WhereTemporal
	case ZoneNearer:
		return WhereNearer
	case ZoneBeyond:
		return WhereBeyond
	}
	return WhereAll
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
