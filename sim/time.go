package sim

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"
)

// The course of a jump in time (M15), in seconds.
const (
	vergenceLatency = 0.16 // row Y1: 80 – 160 ms
	vergenceTime    = 0.25 // time constant of an exponential; row Y7: 0.2 – 0.3, from memory
	versionLatency  = 0.2  // this and the next two: modelling choices
	versionLeast    = 0.021
	versionPerDeg   = 0.0022

	// changeOver is when nothing is left of a turn to another fixing eye: the latency
	// and a version of 127°, more than an eye can turn. No part of a period that is
	// followed by a shorter one is shorter.
	changeOver = 0.5

	// mostChanges is how many changes less than changeOver apart are followed.
	mostChanges = 8

	// jumpOver is when nothing of a jump is left: e^−20 of it.
	jumpOver = vergenceLatency + 20*vergenceTime
)

// The unsteady hold (M15): an Ornstein–Uhlenbeck process on a grid of time.
const (
	grid       = 0.01 // s
	waverTime  = 0.5  // s, a modelling choice
	memoryGain = 2    // by how much what is single holds out beyond Panum's limit, a modelling choice
)

// Course is a set-up as time goes on (M15): eyes that jump and waver, suppression
// that comes and goes, and fusion that remembers where anything of this goes on; a
// set-up in which nothing does is seen as View.Look sees it. What it shows at a moment depends
// on the set-up and the moment alone, not on what was asked for before; asking for
// moments in order is what it is quick at.
type Course struct {
	setup  Setup
	now    Setup // of the last step
	step   int   // the last step of the grid that was taken; −1: none
	held   covers
	waver  float64
	next   float64 // waver at the step after, both in standard deviations
	memory memory
	stance stance
}

// NewCourse begins a course; the set-up is copied.
func NewCourse(s *Setup) *Course {
	c := new(Course)
	c.Start(s)
	return c
}

// Start begins the course of another set-up, which is copied.
func (c *Course) Start(s *Setup) {
	s.CopyTo(&c.setup)
	c.held = c.held[:0]
	c.rewind()
}

// Cover holds a cover before an eye from a moment on, whatever the set-up covers, and
// takes one that is held away where eye is Neither. The eyes then turn as those of a
// cover test do (M4). Covers of that moment and later ones are forgotten.
func (c *Course) Cover(eye Side, seconds float64) {
	seconds = math.Max(0, seconds)
	for len(c.held) > 0 && c.held[len(c.held)-1].from >= seconds {
		c.held = c.held[:len(c.held)-1]
	}
	c.held = append(c.held, cover{eye, seconds})
	if float64(c.step)*grid >= seconds {
		c.rewind()
	}
}

// Still says whether nothing changes any more from a moment on.
func (c *Course) Still(seconds float64) bool {
	s := &c.setup
	pattern := s.Suppression.Eye != Neither && s.Suppression.Depth > 0 &&
		(s.Suppression.Eye == Alternating || s.Suppression.Period > 0)
	held := len(c.held) > 0 && seconds < c.held[len(c.held)-1].from+changeOver
	return s.Hold.SD == 0 && !pattern && !held && (!s.Look.From.OK || seconds >= jumpOver)
}

// Look fills v with what is seen at a moment, in seconds from the start. Negative
// moments are the start.
func (c *Course) Look(v *View, seconds float64) {
	seconds = math.Max(0, seconds)
	at := int(seconds / grid)
	if at < c.step {
		c.rewind()
	}
	for c.step < at {
		c.advance()
	}
	into := seconds/grid - float64(at)
	waver := Angle((c.waver + (c.next-c.waver)*into)) * c.setup.Hold.SD.Angle()
	if !c.Still(0) {
		v.look.before = &c.memory
	}
	v.lookAt(&c.setup, c.held, seconds, waver)
	v.look.before = nil
}

func (c *Course) rewind() {
	c.step = -1
	c.next = gaussian(c.setup.Hold.Seed, 0)
	c.memory = memory{}
	c.stance.stand(&c.setup)
}

// advance takes the next step of the grid: fusion remembers what is single, and the
// waver goes on.
func (c *Course) advance() {
	if at := float64(c.step) * grid; c.step >= 0 && !c.Still(at) {
		c.now = c.setup
		c.stance.turn(&c.now, c.held, at, Angle(c.waver)*c.setup.Hold.SD.Angle())
		c.memory.take(&c.stance, &c.now)
	}
	c.step++
	c.waver = c.next
	c.next = waverKeep*c.waver + waverNew*gaussian(c.setup.Hold.Seed, uint64(c.step)+1)
}

var (
	waverKeep = math.Exp(-grid / waverTime)
	waverNew  = math.Sqrt(1 - math.Exp(-2*grid/waverTime))
)

// begins is the waver at the time 0.
func (u Unsteadiness) begins() Angle {
	if u.SD == 0 {
		return 0
	}
	return Angle(gaussian(u.Seed, 0)) * u.SD.Angle()
}

// gaussian is the kth of a sequence of independent numbers of mean 0 and standard
// deviation 1, from seed and k alone.
func gaussian(seed, k uint64) float64 {
	var p rand.PCG
	p.Seed(seed, k)
	// Odd multiples of 2^−52 lie evenly within −1 and 1 and are neither; all are exact.
	return math.Sqrt2 * math.Erfinv((float64(p.Uint64()>>12)+0.5)/(1<<51)-1)
}

// Jump says how far a jump has come (M15).
type Jump string

// The states of a jump.
const (
	JumpNone    Jump = "none"    // there is none, or the eyes are as good as there
	JumpWaiting Jump = "waiting" // the eyes have not set off yet
	JumpMoving  Jump = "moving"
)

// Jump says how far the eyes have come. The view must have looked.
func (v *View) Jump() Jump { return v.look.jump }

// jumpAt is the state of a jump that has turned and converged so far. As good as
// there is within the horizontal error that counts as none.
func jumpAt(from, to [2]gaze, seconds, turned, converged float64) Jump {
	left := Angle(float64(spread(to)-spread(from)) * (1 - converged))
	switch {
	case from == to, turned == 1 && abs(left) <= Prism(OnTarget).Angle():
		return JumpNone
	case seconds < vergenceLatency:
		return JumpWaiting
	}
	return JumpMoving
}

// vergenceDone is how far vergence has come in a jump, 0 – 1.
func vergenceDone(seconds float64) float64 {
	return 1 - math.Exp(-math.Max(0, seconds-vergenceLatency)/vergenceTime)
}

// versionDone is how far both eyes together have turned in a jump, 0 – 1.
func versionDone(from, to [2]gaze, seconds float64) float64 {
	turn := math.Hypot(
		to[RightEye].azimuth+to[LeftEye].azimuth-from[RightEye].azimuth-from[LeftEye].azimuth,
		to[RightEye].elevation+to[LeftEye].elevation-from[RightEye].elevation-from[LeftEye].elevation) / 2
	lasts := versionLeast + versionPerDeg*float64(Angle(turn).Degrees())
	return math.Max(0, math.Min((seconds-versionLatency)/lasts, 1))
}

// underWay is where two eyes are between two gazes, having turned together and
// converged so far.
func underWay(from, to [2]gaze, turned, converged float64) (g [2]gaze) {
	blend := func(fromR, fromL, toR, toL float64) (right, left float64) {
		dr, dl := toR-fromR, toL-fromL
		together := (dr + dl) / 2 * (1 - turned)
		apart := (dr - dl) / 2 * (1 - converged)
		return toR - together - apart, toL - together + apart
	}
	fr, fl, tr, tl := &from[RightEye], &from[LeftEye], &to[RightEye], &to[LeftEye]
	r, l := &g[RightEye], &g[LeftEye]
	r.azimuth, l.azimuth = blend(fr.azimuth, fl.azimuth, tr.azimuth, tl.azimuth)
	r.elevation, l.elevation = blend(fr.elevation, fl.elevation, tr.elevation, tl.elevation)
	r.torsion, l.torsion = blend(fr.torsion, fl.torsion, tr.torsion, tl.torsion)
	return g
}

// at is the suppression of a moment, as a constant one (M9): intermittent in the
// first share of each period, alternating with the right eye first.
func (p Suppression) at(seconds float64) Suppression {
	now := p
	now.Period, now.Share = 0, Default().Suppression.Share
	into := 0.
	if p.Period > 0 {
		into = math.Mod(math.Max(0, seconds), p.Period) / p.Period
	}
	switch {
	case p.Eye == Alternating && into < 0.5:
		now.Eye = Right
	case p.Eye == Alternating:
		now.Eye = Left
	case p.Period > 0 && into >= p.Share:
		now.Eye = Neither
	}
	return now
}

// since is when the part of its period in which a moment lies began, s; 0 in the first.
func (p Suppression) since(seconds float64) float64 {
	if p.Eye == Neither || p.Period <= 0 {
		return 0
	}
	into := math.Mod(math.Max(0, seconds), p.Period)
	begin := math.Max(0, seconds) - into
	change := p.Share
	if p.Eye == Alternating {
		change = 0.5
	}
	if into/p.Period >= change {
		begin += change * p.Period
	}
	return begin
}

// stateBefore is the state of the hold before a moment: a cover, or an image that was
// left out whole, at any time since the start has broken it.
func (s *Setup) stateBefore(held covers, seconds float64) State {
	if !s.Findings.OK {
		return StateHolding
	}
	first := s.Suppression.at(0)
	if seconds > 0 && first.total() != Neither && first.When != WhenTurned || held.before(seconds, s.Cover) {
		return StateBroken
	}
	return s.Findings.Value.State
}

// covers are the covers that were put on and taken off by hand in time, in order; the
// set-up's own holds until the first of them.
type covers []cover

type cover struct {
	eye  Side // Neither: none is held
	from float64
}

// at is the eye that is covered at a moment; own is the set-up's.
func (c covers) at(seconds float64, own Side) Side {
	for i := len(c) - 1; i >= 0; i-- {
		if c[i].from <= seconds {
			return c[i].eye
		}
	}
	return own
}

// before says whether an eye was covered before what is held at a moment.
func (c covers) before(seconds float64, own Side) bool {
	covered := own
	for i := range c {
		if c[i].from > seconds {
			break
		}
		if covered == Right || covered == Left {
			return true
		}
		covered = c[i].eye
	}
	return false
}

// changed is when covers or suppression last changed before a moment, if they did.
func (s *Setup) changed(held covers, seconds float64) (since float64, ok bool) {
	since = s.Suppression.since(seconds)
	ok = since > 0
	for i := len(held) - 1; i >= 0; i-- {
		if from := held[i].from; from <= seconds {
			return math.Max(since, from), true
		}
	}
	return since, ok
}

// memory is what was single before, in time: each bead, and after them the place
// looked at where no bead is.
type memory [MaxBeads + 1]bool

// memoryOf is the number in a memory of a bead, or of the bare place.
func (s *Setup) memoryOf(bead int) int {
	if bead == NoBead {
		return MaxBeads
	}
	return bead
}

// widen lets what was single before stay so up to twice Panum's horizontal limit
// (M15).
func (m *memory) widen(n int, d Disparity) Disparity {
	if m != nil && m[n] {
		d.LimitH *= memoryGain
	}
	return d
}

// take remembers what is single now.
func (m *memory) take(k *stance, s *Setup) {
	for n := range s.Beads {
		m[n] = m.single(k, n, k.chord.point(s.Beads[n].At))
	}
	m[MaxBeads] = m.single(k, MaxBeads, k.target)
}

func (m *memory) single(k *stance, n int, p r3.Vec) bool {
	var images pair
	for i := range Eyes {
		k.eyes[i].see(p, &images[i])
	}
	r, l := &images[RightEye], &images[LeftEye]
	f := k.fusion
	if m[n] {
		f.h, f.hSlope = f.h*memoryGain, f.hSlope*memoryGain
	}
	return r.ahead && l.ahead && f.single(r, l)
}
