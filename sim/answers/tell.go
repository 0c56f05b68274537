package answers

import (
	"math"
	"math/bits"

	"twincord/sim"
)

// Told is what somebody who sees a view would say to every item.
type Told struct {
	Code [items]Code // MeetAt is always Open: see Place
	// Also is what could as well be said to an item: a stub of string beside the nose
	// may be overlooked, a fused stretch round the bead counts as a crossing in it, and of
	// a crossing that a bead hides it can be told on which side it must be, or only that
	// none is seen.
	Also [items]Code
	// Place is where the strings cross, mm; it exists where they do. Hidden says that a
	// bead hides it: where along the string they cross nobody sees there, and who says a
	// place guesses it.
	Place  sim.Maybe[float64]
	Hidden bool
}

// overlooked is the length of string in front, mm, below which it may be overlooked:
// it is blurred and beside the nose (M10, a modelling choice).
const overlooked = 250

// Tell is what is said of a view that has looked.
func Tell(v *sim.View) Told {
	var t Told
	s := &v.Now
	asked := s.Look.Asked
	if asked == sim.NoBead {
		asked = s.FixatedBead()
	}
	place, radius := v.Target.At, float64(sim.BareRadius)
	if asked != sim.NoBead {
		place, radius = s.Beads[asked].At, s.Beads[asked].Diameter/2
		t.tellBead(&v.Beads[asked])
	}
	t.tellStrings(v)
	t.tellMeet(v, place, radius)
	t.tellOthers(v, asked, place)
	switch v.Account.Clarity {
	case sim.ClarityClear:
		t.Code[Clear] = Sharp
	case sim.ClarityBlurred:
		t.Code[Clear] = Blurred
	}
	return t
}

func (t *Told) tellBead(b *sim.BeadView) {
	t.Code[Higher] = No
	t.Code[RightCoverBead], t.Code[LeftCoverBead] = None, None
	switch b.Seen {
	case sim.SeenOne:
		t.Code[Bead] = One
	case sim.SeenRight:
		t.Code[Bead], t.Code[RightCoverBead] = One, Only
	case sim.SeenLeft:
		t.Code[Bead], t.Code[LeftCoverBead] = One, Only
	case sim.SeenNone:
		t.Code[Bead] = None
	case sim.SeenTwo:
		t.Code[Bead] = Two
		if d := b.Disparity.Value; math.Abs(float64(d.V)) > float64(d.LimitV) {
			t.Code[Higher] = Yes
		}
		t.Code[RightCoverBead] = side(b.Right.Value, b.Left.Value)
		t.Code[LeftCoverBead] = side(b.Left.Value, b.Right.Value)
	}
}

// side is where the image at p lies as seen from the one at q: the larger of both
// distances decides.
func side(p, q sim.XY) Code {
	dx, dy := p.X-q.X, p.Y-q.Y
	switch {
	case math.Abs(dx) >= math.Abs(dy) && dx < 0:
		return Left
	case math.Abs(dx) >= math.Abs(dy):
		return Right
	case dy > 0:
		return Upper
	}
	return Lower
}

var counts = [...]Code{Zero, Single, Double}

func (t *Told) tellStrings(v *sim.View) {
	t.Code[Near], t.Code[Far] = counts[v.Account.Near], counts[v.Account.Far]
	if v.Account.Near > 0 && v.Target.At < overlooked {
		t.Also[Near] = counts[v.Account.Near-1]
	}
	front := v.InFront()
	t.Code[RightCoverString], t.Code[LeftCoverString], t.Code[Fainter] = None, None, None
	switch seen := front.Seen; {
	case front.Right != sim.Neither:
		// Of strings only left and right are told.
		mine := Right
		if front.Right == sim.Left {
			mine = Left
		}
		t.Code[RightCoverString], t.Code[LeftCoverString] = mine, opposite(mine)
		switch v.Account.Fainter {
		case sim.Right:
			t.Code[Fainter] = mine
		case sim.Left:
			t.Code[Fainter] = opposite(mine)
		}
	case seen[sim.RightEye] && !seen[sim.LeftEye]:
		t.Code[RightCoverString] = Only
	case seen[sim.LeftEye] && !seen[sim.RightEye]:
		t.Code[LeftCoverString] = Only
	}
}

func opposite(c Code) Code {
	if c == Left {
		return Right
	}
	return Left
}

// tellMeet says where the strings cross, set against the place asked for.
func (t *Told) tellMeet(v *sim.View, place, radius float64) {
	if !v.Account.Meet.OnString() {
		t.Code[Meet] = Not
		return
	}
	at := v.Crossing.At.Value
	t.Place, t.Hidden = sim.Some(at), v.Account.HiddenBy != ""
	switch off := at - place; {
	case math.Abs(off) <= radius:
		t.Code[Meet] = At
		return
	case off < 0:
		t.Code[Meet] = Nearer
	default:
		t.Code[Meet] = Beyond
	}
	f := &v.Strings
	switch {
	case f.FusedFrom.OK && f.FusedFrom.Value <= place && place <= f.FusedTo.Value:
		t.Also[Meet] = At
	case t.Hidden:
		t.Also[Meet] = Not
	}
}

// tellOthers says how the other beads are seen: a group of which some are one and
// some two decides nothing.
func (t *Told) tellOthers(v *sim.View, asked int, place float64) {
	group := [2]Code{} // nearer, farther
	mixed := [2]bool{}
	widest := sim.Angle(-1)
	for i := range v.Beads {
		if i == asked {
			continue
		}
		b := &v.Beads[i]
		g := 0
		if b.At > place {
			g = 1
		}
		c := One
		switch b.Seen {
		case sim.SeenTwo:
			c = Two
			if apart := b.Disparity.Value.Separation; apart > widest {
				widest = apart
				t.Code[Wider] = [...]Code{Nearer, Farther}[g]
			}
		case sim.SeenNone:
			mixed[g] = true
		}
		mixed[g] = mixed[g] || group[g] != Open && group[g] != c
		group[g] = c
	}
	for g, item := range [...]Item{NearerBeads, FartherBeads} {
		if !mixed[g] {
			t.Code[item] = group[g]
		}
	}
}

// Asked says which items can be asked of a scene: not those of beads that it has not.
func Asked(scene *sim.Setup) (can [items]bool) {
	s := scene.OnTarget()
	for i := range can {
		can[i] = true
	}
	asked, place := s.FixatedBead(), s.LookPlace()
	if asked == sim.NoBead {
		for _, i := range []Item{Bead, Higher, RightCoverBead, LeftCoverBead} {
			can[i] = false
		}
	} else {
		place = s.Beads[asked].At
	}
	var others [2]bool
	for i, b := range s.Beads {
		if i != asked {
			others[0] = others[0] || b.At <= place
			others[1] = others[1] || b.At > place
		}
	}
	can[NearerBeads], can[FartherBeads], can[Wider] = others[0], others[1], others[0] && others[1]
	return can
}

// Answers is what was said: a code for every item that was answered, and for MeetAt
// a place.
type Answers struct {
	Code  [items]Code
	Place sim.Maybe[Place]
}

// Place is where the strings are said to cross, and how exactly, mm.
type Place struct{ At, Within float64 }

// Around is a place as somebody points at it: within 30 mm or a tenth, whichever is
// more.
func Around(at float64) Place { return Place{at, max(30, at/10)} }

// Answered says whether an item was answered.
func (a *Answers) Answered(i Item) bool {
	if i == MeetAt {
		return a.Place.OK
	}
	return a.Code[i] != Open
}

// same says whether two say the same to every item but MeetAt.
func (t *Told) same(o *Told) bool { return t.Code == o.Code && t.Also == o.Also }

// Agrees says whether what is told to an item could have been said as the answer.
func (t *Told) Agrees(i Item, a *Answers) bool {
	if i == MeetAt {
		return !a.Place.OK || t.Place.OK && math.Abs(t.Place.Value-a.Place.Value.At) <= a.Place.Value.Within
	}
	c := a.Code[i]
	return c == Open || t.Code[i] == Open || c == t.Code[i] || c == t.Also[i]
}

// against is the set of items in which what is told contradicts the answers.
func (t *Told) against(a *Answers) set { return t.againstSaid(a) | t.againstPlace(a) }

// againstSaid is that of the items but MeetAt: who say the same contradict the same.
func (t *Told) againstSaid(a *Answers) (s set) {
	for i, c := range a.Code {
		if c != Open && !t.Agrees(Item(i), a) {
			s |= 1 << i
		}
	}
	return s
}

// againstPlace is that of MeetAt alone.
func (t *Told) againstPlace(a *Answers) set {
	if t.Agrees(MeetAt, a) {
		return 0
	}
	return 1 << MeetAt
}

// set is a set of items.
type set uint32

func (s set) has(i Item) bool { return s>>i&1 != 0 }

func (s set) size() int { return bits.OnesCount32(uint32(s)) }

func (s set) items() []Item {
	var all []Item
	for i := range items {
		if s.has(i) {
			all = append(all, i)
		}
	}
	return all
}
