package cases

import (
	"math"

	"twincord/sim"
	"twincord/sim/answers"
)

// Sight is a set-up to be looked at once a case is judged, so that what was answered
// stands beside what is so.
type Sight struct {
	Role  Role
	Setup sim.Setup
}

// Role says what a set-up is to a case.
type Role string

// The roles.
const (
	TheTruth  Role = "truth"    // what was given is made from it
	AsWell    Role = "as_well"  // it fits what was given as well
	OneOfThem Role = "one"      // one of those that fit
	Answered  Role = "answered" // what was answered
	Without   Role = "without"  // before a prism is put on
	With      Role = "with"     // with the prism of the key
	Holding   Role = "holding"  // the bead just before it breaks
	Broken    Role = "broken"   // the bead where it breaks
)

// Sights are what there is to see once the case is judged, the one that was answered
// before the true one; none where there is nothing.
func (t *Sitting) Sights() []Sight {
	if t.judged == nil {
		return nil
	}
	now := &t.made[t.at]
	truth := Sight{TheTruth, now.Truth()}
	switch now.Kind {
	case Stop:
		return nil
	case Walk:
		return now.turning()
	case WhichGlass:
		return now.glasses(t.given, t.judged.Points < whole)
	case DoesItFit:
		if t.judged.Key[0].Best.Code != TheyFit {
			return nil // nothing gives those answers
		}
		fallthrough
	case NextQuestion:
		truth.Role = OneOfThem
	case SeeToEyes, WhichEye:
		if now.rival.OK {
			return []Sight{truth, {AsWell, now.rival.Value.Clone()}}
		}
		if s, ok := now.answered(t.given); ok && t.judged.Points < whole {
			return []Sight{{Answered, s}, truth}
		}
	}
	return []Sight{truth}
}

// turning are the bead just before it breaks on its way in, and where it does.
func (c *Case) turning() []Sight {
	breaks, _ := c.hidden.Turning()
	if !breaks.OK {
		return []Sight{{TheTruth, c.Truth()}}
	}
	at := func(role Role, place float64, state sim.State) Sight {
		s := c.Truth()
		s.Beads[0].At, s.Look.At = place, place
		s.Findings.Value.State = state
		return Sight{role, s}
	}
	return []Sight{at(Holding, breaks.Value+beforeBreak, sim.StateHolding), at(Broken, breaks.Value, sim.StateBroken)}
}

// beforeBreak is how far before the break a bead is that still holds, mm.
const beforeBreak = 20

// glasses are the bead without a prism, or with the one that was answered where that is
// wrong, and with the one of the key.
func (c *Case) glasses(given map[Item]Answer, wrong bool) []Sight {
	with := func(role Role, power float64) Sight {
		s := c.Truth()
		s.Right.BaseOut, s.Left.BaseOut = sim.Prism(power/2), sim.Prism(power/2)
		return Sight{role, s}
	}
	before := Sight{Without, c.Truth()}
	base, said := given[Base]
	if power, ok := given[Power]; wrong && said && ok && base.Code != CannotTell && power.Code == "" {
		before = with(Answered, map[string]float64{Out: 1, In: -1}[base.Code]*power.Number)
	}
	return []Sight{before, with(With, Glass(&c.hidden))}
}

// answered is the set-up that was answered, as far as that is one.
func (c *Case) answered(given map[Item]Answer) (s sim.Setup, ok bool) {
	s = c.Scene()
	code := func(i Item) string {
		a, said := given[i]
		said = said && a.Code != CannotTell
		ok = ok || said
		if !said {
			return ""
		}
		return a.Code
	}
	amount := math.Abs(float64(c.hidden.Posture.Deviation))
	if a, said := given[Deviation]; said && a.Code == "" {
		amount = math.Abs(a.Number)
	}
	if amount == 0 {
		amount = usual
	}
	switch sign, doubled := code(Sign), code(Doubling); {
	case sign == Elsewhere:
		return s, false // nobody said where
	case sign == Eso || doubled == Uncrossed:
		s.Posture.Deviation = sim.Prism(amount)
	case sign == Exo || doubled == Crossed:
		s.Posture.Deviation = -sim.Prism(amount)
	}
	p := &s.Suppression
	switch code(Missing) {
	case Right:
		p.Eye = sim.Right
	case Left:
		p.Eye = sim.Left
	}
	switch code(Where) {
	case InFront:
		p.Zone = sim.ZoneNearer
	case Behind:
		p.Zone = sim.ZoneBeyond
	case Centre:
		p.Zone, p.Centre, p.Radius = sim.ZoneCentral, sim.CentreTarget, c.hidden.Suppression.Radius
	case Nothing:
		p.Eye = sim.Neither
	}
	return s, ok
}

// usual is a deviation that shows, where nothing says how large it is, Δ.
const usual = 5

// rival is another set-up that fits what was given and differs from the true one in
// something that cannot be told for it.
func (c *Case) rival(b *Bench, key []Entry) (none sim.Maybe[sim.Setup]) {
	if c.Kind != SeeToEyes && c.Kind != WhichEye {
		return none
	}
	fits := c.fitting(b)
	for n := range key {
		if key[n].Told() || key[n].Item == Fixing {
			continue // which eye fixes does not show
		}
		for m := range fits {
			if c.differs(key[n].Item, &fits[m]) {
				return sim.Some(fits[m].Example.Clone())
			}
		}
	}
	return none
}

// differs says whether a family has something else to say to an item than the true
// set-up.
func (c *Case) differs(i Item, m *answers.Match) bool {
	h := &c.hidden
	switch i {
	case Sign, Doubling, Whose:
		return m.Kind == answers.AnotherSpot || side(h.Posture.Deviation) != side(m.Example.Posture.Deviation)
	case Missing:
		return h.Suppression.Eye != m.Example.Suppression.Eye
	case Where:
		e := &m.Example.Suppression
		return (h.Suppression.Eye == sim.Neither) != (e.Eye == sim.Neither) || h.Suppression.Eye != sim.Neither && h.Suppression.Zone != e.Zone
	}
	return false
}

// side says on which side of the bead eyes with a deviation meet: 0 at it.
func side(e sim.Prism) int {
	switch {
	case e > onBead:
		return 1
	case e < -onBead:
		return -1
	}
	return 0
}
