package sim

import "gonum.org/v1/gonum/spatial/r3"

// How the eyes stand and point at a moment (M4), also while they jump or another one begins
// to fix (M15).

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

// straight gives the gazes of both eyes straight at a point, seen through a share
// of the prisms.
func (k *stance) straight(p r3.Vec, met float64) (g [2]gaze) {
	for i := range Eyes {
		e := &k.eyes[i]
		g[i].azimuth, g[i].elevation = gazeAt(r3.Sub(e.displaced(p, met), e.centre))
	}
	return g
}
