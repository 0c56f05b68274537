package sim

import "gonum.org/v1/gonum/spatial/r3"

// Which eye fixes (M4), what takes its picture away (M9), and for whom the words
// must caution (M20).

// turnedFrom is the error above which an eye counts as turned, Δ: horizontally the bound of
// a suppression that acts only then (M9) and of M20, either way that of the codes of a Face
// (M16). A modelling choice.
const turnedFrom Prism = 1

// cannotFixFrom is the depth above which an eye whose whole image is left out cannot
// fix (M4), a modelling choice.
const cannotFixFrom = 0.5

// turned says whether the horizontal error counts as a turn.
func (p *Posture) turned() bool { return abs(p.Deviation) > turnedFrom }

// preferred is the eye that fixes while it can, or Both.
func (s *Setup) preferred() Side {
	if s.Findings.OK {
		return s.Findings.Value.Preferred
	}
	return s.Posture.Fixing
}

// fix puts into a set-up of one moment the eye that fixes, the preferred one given,
// and leaves its suppression only if that acts: it needs two open eyes, and where it
// acts only while the eyes are turned, that they are (M4, M9).
func (s *Setup) fix(preferred Side, turned bool) {
	covered := s.Cover == Right || s.Cover == Left
	if covered || s.Suppression.When == WhenTurned && !turned {
		s.Suppression.Eye = Neither
	}
	s.Suppression.When = WhenAlways
	out := s.Suppression.total()
	if covered {
		out = s.Cover
	}
	s.Posture.Fixing = preferred
	if out != Neither && (preferred == Both || preferred == out) {
		s.Posture.Fixing = out.Other()
	}
}

// total is the eye that cannot fix because its whole image is left out, by a constant
// suppression that acts; else Neither.
func (p *Suppression) total() Side {
	if p.Zone == ZoneAll && p.Depth > cannotFixFrom && (p.Eye == Right || p.Eye == Left) {
		return p.Eye
	}
	return Neither
}

// foveaeSee says which eyes see what lies on their foveae, by cover and suppression of
// one moment alone.
func (s *Setup) foveaeSee() [2]bool {
	sees := [2]bool{true, true}
	for i := range Eyes {
		p, e := &s.Suppression, i.Side()
		onFovea := p.Zone == ZoneAll || p.Zone == ZoneCentral
		sees[i] = s.Cover != e && !(p.Eye == e && onFovea && p.Depth > seenUpTo)
	}
	return sees
}

// The bounds of M20, modelling choices: below them neither the words nor a sheet
// caution.
const (
	careVertical  = 1  // Δ
	careCyclo     = 3  // °
	careDeviation = 10 // Δ, with both eyes fixing
)

// NeedsCare says whether the words must caution (M20): where anything is left out, the
// correspondence is anomalous, an eye is turned, or findings are broken at both test
// distances, through the glasses of the set-up and from the state that it has. A cover
// held before an eye is nobody's trouble and does not count.
func (s *Setup) NeedsCare() bool {
	if s.Suppression.Eye != Neither && s.Suppression.Depth >= fainterFrom {
		return true
	}
	if s.Findings.OK {
		return s.brokenAt(farTest) && s.brokenAt(nearTest)
	}
	p := &s.Posture
	oneFixes := p.Fixing == Right || p.Fixing == Left
	return p.Anomaly != 0 || oneFixes && p.turned() || abs(p.Deviation) > careDeviation ||
		abs(p.Vertical) > careVertical || abs(p.Cyclo) > careCyclo
}

// brokenAt says whether findings are broken at a target straight ahead, at a vergence
// from the spectacle plane, D, nothing covered and nothing left out.
func (s *Setup) brokenAt(d float64) bool {
	open := *s
	open.Cover, open.Suppression.Eye = Neither, Neither
	var k stance
	for i := range Eyes {
		k.eyes[i].stand(i, &open)
	}
	h := k.weigh(&open, r3.Vec{Y: 1000/d + SpectaclePlane}, s.Findings.Value.State)
	return h.State == StateBroken
}
