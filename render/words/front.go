package words

import (
	"math"
	"strings"

	"twincord/sim"
)

// The labels under the eyes as seen from in front.
const (
	FrontTurnedIn      Label = "front-turned-in"
	FrontTurnedInUp    Label = "front-turned-in-up"
	FrontTurnedInDown  Label = "front-turned-in-down"
	FrontTurnedOut     Label = "front-turned-out"
	FrontTurnedOutUp   Label = "front-turned-out-up"
	FrontTurnedOutDown Label = "front-turned-out-down"
	FrontTurnedUp      Label = "front-turned-up"
	FrontTurnedDown    Label = "front-turned-down"
)

// Turned says in a few words how an eye is turned, for beside a picture of it:
// "turned outward". Of an eye that is not turned it says nothing.
func (w *Words) Turned(side, height sim.Turn) string {
	if side == sim.TurnNone && height == sim.TurnNone {
		return ""
	}
	return w.say("front-turned"+turned(side, height), nil)
}

// turned is the end of the ids that speak of a turn.
func turned(side, height sim.Turn) (end string) {
	for _, t := range [...]sim.Turn{side, height} {
		if t != sim.TurnNone {
			end += "-" + string(t)
		}
	}
	return end
}

// Front is the caption of the view from in front, for families: what the eyes do,
// each a whole sentence. The view must have looked.
func (w *Words) Front(v *sim.View) string {
	f := v.Face()
	var said []string
	for _, id := range frontIDs(v, &f) {
		said = append(said, w.say(id, nil))
	}
	return strings.Join(said, " ")
}

// frontIDs names what the eyes do, in the order in which it is said: a cover, where
// the eyes point, why that goes with the strings that are seen, and tilts.
func frontIDs(v *sim.View, f *sim.Face) (ids []string) {
	bare := ""
	if v.Account.LookedAt == "" {
		bare = "-bare"
	}
	r, l := &f.Eyes[sim.RightEye], &f.Eyes[sim.LeftEye]
	switch {
	case r.Covered:
		ids = append(ids, "front-covered-right")
	case l.Covered:
		ids = append(ids, "front-covered-left")
	}
	covered := r.Covered || l.Covered
	switch f.Facing {
	case sim.FacingMoving:
		ids = append(ids, "front-moving")
	case sim.FacingPrism:
		id := "front-prism"
		if unanswered(&v.Now) {
			id = "front-prism-part"
		}
		ids = append(ids, id)
	case sim.FacingNear:
		ids = append(ids, "front-near"+bare)
	case sim.FacingTarget:
		switch {
		case covered:
		case unseenError(v):
			ids = append(ids, "front-seem"+bare)
		default:
			ids = append(ids, "front-on-both"+bare)
		}
	}
	if f.Facing == sim.FacingTurned || covered && f.Facing == sim.FacingTarget {
		ids = append(ids, turnIDs(r, l, bare)...)
	}
	if f.Facing == sim.FacingTurned && v.Now.Posture.Anomaly != 0 && v.Account.Meet == sim.MeetAt {
		ids = append(ids, "front-matched"+bare)
	}
	return append(ids, tiltIDs(r, l)...)
}

// unseenError says whether the eyes are off what is looked at, as the other captions say;
// by so little that from in front they seem to be on it, where that is what is asked.
func unseenError(v *sim.View) bool {
	switch v.Account.Eyes {
	case sim.AimEso, sim.AimExo, sim.AimApart:
		return true
	}
	return math.Abs(float64(v.Now.Posture.Vertical)) > sim.OnTarget
}

// turnIDs names where each eye points, the turned one first. A covered one is
// spoken of only where it is turned.
func turnIDs(r, l *sim.EyeFace, bare string) []string {
	of := func(e *sim.EyeFace, name string) string {
		switch {
		case e.Covered && e.Turned():
			return "front-behind" + turned(e.Side, e.Height)
		case e.Covered:
			return ""
		case e.Turned():
			return "front-" + name + turned(e.Side, e.Height)
		}
		return "front-on-" + name + bare
	}
	if !r.Covered && !l.Covered {
		level := r.Height == sim.TurnNone && l.Height == sim.TurnNone
		switch {
		case level && r.Side == sim.TurnIn && l.Side == sim.TurnIn:
			return []string{"front-both-in" + bare}
		case level && r.Side == sim.TurnOut && l.Side == sim.TurnOut:
			return []string{"front-both-out" + bare}
		}
	}
	first, second := of(r, "right"), of(l, "left")
	if r.Covered || !l.Covered && l.Turned() && !r.Turned() {
		first, second = second, first
	}
	if second == "" {
		return []string{first}
	}
	return []string{first, second}
}

// tiltIDs names which eyes are rolled about their lines of sight, and which way;
// that of a covered eye is not seen.
func tiltIDs(r, l *sim.EyeFace) (ids []string) {
	right, left := r.Tilt, l.Tilt
	if r.Covered {
		right = sim.TurnNone
	}
	if l.Covered {
		left = sim.TurnNone
	}
	if right == left && right != sim.TurnNone {
		return []string{"front-tilted-both-" + string(right)}
	}
	if right != sim.TurnNone {
		ids = append(ids, "front-tilted-right-"+string(right))
	}
	if left != sim.TurnNone {
		ids = append(ids, "front-tilted-left-"+string(left))
	}
	return ids
}
