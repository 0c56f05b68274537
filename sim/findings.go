package sim

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Findings are what an examination found of a patient, from which the posture at
// any place follows (M14). Phorias are eso +, exo −, right eye higher +. Breaks and
// recoveries are clinical ones: the prism that is added from the target's own
// demand, with the phoria already inside them; one below zero says that the eyes
// fuse only with a prism the other way. Far is 6 m, near 0.4 m from the spectacle
// plane.
type Findings struct {
	FarPhoria, NearPhoria Prism
	VerticalPhoria        Prism
	VerticalBreak         Prism // the same up and down
	Far, Near             Reserves
	NPCBreak, NPCRecovery float64        // near point of convergence from the spectacle plane, mm
	ACA                   Maybe[float64] // by the gradient method, Δ/D; without it the calculated one stands in
	NearAdd               Dioptres       // worn when the near findings were taken
	DisparitySlope        float64        // fixation disparity, arcmin for each Δ of need
	Preferred             Side           // Right or Left: the eye that fixes when fusion is broken
	State                 State          // before this moment
}

// Reserves are how much prism the eyes answer at one distance (rows C3 – C6).
type Reserves struct {
	BaseInBlur     Maybe[Prism] // none is expected at far (row C4)
	BaseInBreak    Prism
	BaseInRecovery Prism

	BaseOutBlur     Prism
	BaseOutBreak    Prism
	BaseOutRecovery Prism
}

// State says whether the eyes hold the target together.
type State string

// The states.
const (
	StateHolding State = "holding"
	StateBroken  State = "broken"
)

// Why says what the state comes from.
type Why string

// The reasons.
const (
	WhyWithin     Why = "within"     // the load is within the reserves
	WhyConverge   Why = "converge"   // the load is beyond the base-out break, or not yet back within its recovery
	WhyDiverge    Why = "diverge"    // the same with the base-in ones
	WhyVertical   Why = "vertical"   // the vertical need is beyond the vertical break
	WhyCovered    Why = "covered"    // one eye is covered
	WhySuppressed Why = "suppressed" // the whole of one eye's image is left out
)

// Holding is what the findings make of one target (M14).
type Holding struct {
	State State
	Why   Why

	Distance     Dioptres // D of M14: 1/d, from the spectacle plane
	Extrapolated bool     // the phoria is that of a place nearer than the near test
	Load         Prism    // p(D) of the eyes as they are: base-out +
	Judged       Prism    // p(D) that decides whether the hold breaks: with both eyes fixing, if they can
	Phoria       Prism    // Φ(D), with the load
	Need         Prism    // N = −Φ: convergence +
	Vertical     Prism    // the vertical need: right eye higher +

	// The reserves at D, each as prism added from the demand.
	BaseInBreak, BaseInRecovery   Prism
	BaseOutBreak, BaseOutRecovery Prism
	// Left is what remains until the nearer break: BaseOutBreak − Judged or
	// BaseInBreak + Judged; below zero the break is passed.
	Left Prism

	ACA         float64 // the one used, Δ/D
	ACAStandsIn bool    // it is the calculated one
}

// The distances of the far and the near test, as vergences (M14), D.
const (
	farTest  = 1. / 6
	nearTest = 2.5
)

// hold works out the posture at a target, the state before it given, and puts into s
// what holds there: which eye fixes, and a suppression only if it acts (M4, M9, M14).
// Its eyes stand. Without findings the posture is the typed one.
func (k *stance) hold(s *Setup, target r3.Vec, before State) Maybe[Holding] {
	if !s.Findings.OK {
		s.fix(s.Posture.Fixing, s.Posture.turned())
		return Maybe[Holding]{}
	}
	f := &s.Findings.Value
	h := k.weigh(s, target, before)
	switch {
	case s.Cover == Right || s.Cover == Left:
		h.State, h.Why = StateBroken, WhyCovered
	case s.Suppression.total() != Neither && s.Suppression.When != WhenTurned:
		h.State, h.Why = StateBroken, WhySuppressed
	}

	p := Default().Posture
	p.Accommodation = s.Posture.Accommodation
	s.Posture = p
	if h.State == StateHolding {
		s.fix(Both, false)
		limit := k.singleWithin(&s.Patient, target)
		s.Posture.Deviation = max(-limit, min(Arcmin(f.DisparitySlope*float64(h.Phoria)).Angle(), limit)).Prism()
		return Some(h)
	}
	s.fix(f.Preferred, true)
	h.load(s, k.driven(s.Posture.Fixing, target, s.foveaeSee()))
	if h.Why == WhyCovered || h.Why == WhySuppressed {
		h.judge() // no two eyes have borne a load
	}
	through := k.straight(target, 1)
	rest := spread(k.straight(target, 0)) + (h.Phoria + s.Right.BaseOut + s.Left.BaseOut).Angle()
	off := min(rest, f.nearest(&s.Patient)) - spread(through)
	s.Posture.Deviation = max(-mostOff, min(off, mostOff)).Prism()
	s.Posture.Vertical = (f.VerticalPhoria.Angle() - Angle(through[RightEye].elevation-through[LeftEye].elevation)).Prism()
	return Some(h)
}

// weigh sets the load of a target against the reserves there, both eyes fixing, the
// state before it given (M14). The eyes that might hold it are on it, so that what
// each sees of it is what its fovea sees.
func (k *stance) weigh(s *Setup, target r3.Vec, before State) Holding {
	f := &s.Findings.Value
	h := Holding{Distance: Dioptres(vergence(target))}
	d := float64(h.Distance)
	h.Extrapolated = d > nearTest
	h.ACA, h.ACAStandsIn = f.aca(&s.Patient)
	h.BaseInBreak, h.BaseInRecovery, h.BaseOutBreak, h.BaseOutRecovery = f.reserves(d)
	h.Vertical = f.VerticalPhoria + s.Right.BaseUp - s.Left.BaseUp
	h.load(s, k.driven(Both, target, s.foveaeSee()))
	h.judge()
	h.State, h.Why = h.rule(f, before)
	return h
}

// load puts the load on vergence into h, and what follows from it, where the eye that
// drives accommodation is asked for demand (M14). In the examination, in full
// correction and at near with its add, the eyes accommodated for less or more: what
// they now do differently turns them by AC/A. Prisms do not move the eyes before
// fusion, so that the phoria that is left has their load in it.
func (h *Holding) load(s *Setup, demand float64) {
	f, d := &s.Findings.Value, float64(h.Distance)
	toNear := (d - farTest) / (nearTest - farTest)
	examined := d - float64(f.NearAdd)*math.Max(0, math.Min(toNear, 1))
	h.Load = s.Right.BaseOut + s.Left.BaseOut + Prism(h.ACA*(s.response(examined)-s.response(demand)))
	h.Phoria = f.FarPhoria + (f.NearPhoria-f.FarPhoria)*Prism(toNear) - h.Load
	h.Need = -h.Phoria
}

// judge sets what is left of the reserves against the load as it is now.
func (h *Holding) judge() {
	h.Judged = h.Load
	h.Left = min(h.BaseOutBreak-h.Judged, h.BaseInBreak+h.Judged)
}

// singleWithin is the largest error, shared by both eyes, with which a target is
// still within Panum's limit. It is smaller than the limit: an eye that turns takes
// its nodal point along, from which the error is seen the larger (by the sine rule).
func (k *stance) singleWithin(p *Patient, target r3.Vec) Angle {
	distance := math.Inf(1)
	for i := range Eyes {
		e := &k.eyes[i]
		distance = min(distance, r3.Norm(r3.Sub(e.displaced(target, 1), e.centre)))
	}
	half := float64(p.FusionH.Angle()) / 2
	grown := math.Asin(min(1, p.Nodal*math.Sin(half)/max(distance, leastDistance)))
	return Angle(2 * max(0, half-grown) * (1 - certain))
}

// rule is the state that follows on another (M14): a hold lasts to the breaks, a
// broken one comes back within the recoveries.
func (h *Holding) rule(f *Findings, before State) (State, Why) {
	in, out := h.BaseInBreak, h.BaseOutBreak
	if before == StateBroken {
		in, out = h.BaseInRecovery, h.BaseOutRecovery
	}
	switch {
	case h.Vertical > f.VerticalBreak || h.Vertical < -f.VerticalBreak:
		return StateBroken, WhyVertical
	case h.Judged > out:
		return StateBroken, WhyConverge
	case h.Judged < -in:
		return StateBroken, WhyDiverge
	}
	return StateHolding, WhyWithin
}

// reserves are the reserves at a vergence d, D (M14): linear between the far and
// the near test, held beyond the far one. Nearer than the near one the base-in
// values are held, and the base-out ones run out at the near point of convergence
// (a modelling choice); one that is not above zero at the near test is held.
func (f *Findings) reserves(d float64) (inBreak, inRecovery, outBreak, outRecovery Prism) {
	between := func(far, near Prism) Prism {
		t := math.Max(0, math.Min((d-farTest)/(nearTest-farTest), 1))
		return far + (near-far)*Prism(t)
	}
	toward := func(far, near Prism, nearPoint float64) Prism {
		end := 1000 / math.Max(nearPoint, leastDistance)
		if d <= nearTest || near <= 0 || end <= nearTest {
			return between(far, near)
		}
		return near * Prism((end-d)/(end-nearTest))
	}
	return between(f.Far.BaseInBreak, f.Near.BaseInBreak),
		between(f.Far.BaseInRecovery, f.Near.BaseInRecovery),
		toward(f.Far.BaseOutBreak, f.Near.BaseOutBreak, f.NPCBreak),
		toward(f.Far.BaseOutRecovery, f.Near.BaseOutRecovery, f.NPCRecovery)
}

// nearest is the vergence at the recovery of the near point: eyes that have let go
// converge no further.
func (f *Findings) nearest(p *Patient) Angle {
	return Angle(2 * math.Atan2(p.PD/2, math.Max(f.NPCRecovery, 0)+SpectaclePlane))
}

// aca is the AC/A ratio that lenses work by, Δ/D, and whether the calculated one
// stands in for the gradient one (M14).
func (f *Findings) aca(p *Patient) (ratio float64, standsIn bool) {
	if f.ACA.OK {
		return f.ACA.Value, false
	}
	return f.ACACalculated(p), true
}

// ACACalculated is the patient's AC/A ratio by the heterophoria method, Δ/D.
func (f *Findings) ACACalculated(p *Patient) float64 {
	return CalculatedACA(p.PD, 1000/nearTest, f.FarPhoria, f.NearPhoria)
}

// HoldingAt is what the findings make of another place on the string, the state
// before it given; it does not exist without findings.
func (s *Setup) HoldingAt(place float64, before State) Maybe[Holding] {
	now := *s
	now.Suppression = now.Suppression.at(0)
	var k stance
	for i := range Eyes {
		k.eyes[i].stand(i, &now)
	}
	return k.hold(&now, s.Place(place), before)
}

// Walk looks at one bead at one place after another, mm along the string, and hands
// each view to visit; the view is used again for the next. The bead is the fixated
// one, taken along; where the string is bare there it is bare all the way. Other
// beads are off the string. With findings the hold goes from place to place as it
// was. It is a walk of the time 0, without any wavering.
func (s *Setup) Walk(places []float64, visit func(i int, v *View)) {
	walked := s.LookingAt(0)
	walked = walked.Settled()
	v := new(View)
	for i, at := range places {
		walked.Look.At = at
		if walked.Beads != nil {
			walked.Beads[0].At = at
		}
		v.Look(&walked)
		if v.Holding.OK {
			walked.Findings.Value.State = v.Holding.Value.State
		}
		visit(i, v)
	}
}

// WalkEnds are the places farthest from and nearest to the nose to which a walk can
// take its bead, mm: the ends of the string, less the bead's body.
func (s *Setup) WalkEnds() (far, near float64) {
	radius := 0.
	if bead := s.FixatedBead(); bead != NoBead {
		radius = s.Beads[bead].Diameter / 2
	}
	return s.String.Length - radius, radius
}

// Turning is where a walk toward the nose loses the hold, and where on the way back
// it returns, mm along the string. Neither exists without findings, or where the
// hold is broken from the far end on; a break exists without a recovery where the
// hold does not return on the string. A place at the near end is refined no further
// than the end.
func (s *Setup) Turning() (breaks, recovers Maybe[float64]) {
	far, near := s.WalkEnds()
	state := func(at float64, before State) State { return s.HoldingAt(at, before).Value.State }
	if !s.Findings.OK || far <= near || state(far, s.Findings.Value.State) != StateHolding {
		return breaks, recovers
	}
	const looks = 400
	at := func(i int) float64 { return far + (near-far)*float64(i)/looks }
	i := 1
	for i <= looks && state(at(i), StateHolding) == StateHolding {
		i++
	}
	if i > looks {
		return breaks, recovers
	}
	breaks = Some(s.between(at(i-1), at(i), StateHolding))
	for i >= 0 && state(at(i), StateBroken) == StateBroken {
		i--
	}
	if i >= 0 {
		recovers = Some(s.between(at(i), min(at(i+1), breaks.Value), StateBroken))
	}
	return breaks, recovers
}

// between is the place between one where the hold is, or comes back to, and one
// where it is not, the state before given.
func (s *Setup) between(holds, breaks float64, before State) float64 {
	_, breaks = edge(holds, breaks, func(at float64) bool {
		return s.HoldingAt(at, before).Value.State == StateHolding
	})
	return breaks
}

// LookingAt is the same set-up with another place looked at, mm along the string: the
// fixated bead is taken along and is alone on the string; where it is bare, it is
// bare there too. The walk of a bead is made of these.
func (s *Setup) LookingAt(at float64) Setup {
	o := *s
	o.Look = Fixation{Bead: NoBead, At: at, Asked: NoBead}
	o.Beads = nil
	if bead := s.FixatedBead(); bead != NoBead {
		o.Beads = []Bead{s.Beads[bead]}
		o.Beads[0].At = at
		o.Look.Bead = 0
	}
	return o
}

// FarToNear are the beads by their place, the farthest first.
func (s *Setup) FarToNear() []int {
	order := make([]int, len(s.Beads))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(s.Beads[b].At, s.Beads[a].At) })
	return order
}
