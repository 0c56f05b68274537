package sim

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Seen says how a thing is seen.
type Seen string

// How a thing is seen: as one by both eyes, as two, by one eye only, not at all.
const (
	SeenOne   Seen = "one"
	SeenTwo   Seen = "two"
	SeenRight Seen = "right"
	SeenLeft  Seen = "left"
	SeenNone  Seen = "none"
)

// Diplopia names the kind of doubling (M8).
type Diplopia string

// The kinds of doubling.
const (
	DiplopiaNone      Diplopia = "none"
	DiplopiaCrossed   Diplopia = "crossed"   // the right eye's image is to the left
	DiplopiaUncrossed Diplopia = "uncrossed" // the right eye's image is to the right
	DiplopiaVertical  Diplopia = "vertical"
)

// Pattern is the trade's letter for what the strings look like (M10).
type Pattern string

// The patterns.
const (
	PatternX    Pattern = "X"
	PatternV    Pattern = "V"
	PatternA    Pattern = "A"
	PatternY    Pattern = "Y"
	PatternTwo  Pattern = "two"
	PatternOne  Pattern = "one"
	PatternNone Pattern = "none"
)

// Meet says where the strings cross, set against what is looked at.
type Meet string

// Where the strings cross.
const (
	MeetNowhere Meet = "nowhere" // no place on the string has zero disparity
	MeetUnseen  Meet = "unseen"  // there is one, but it is not seen by both eyes
	MeetPasses  Meet = "passes"  // the strands meet nowhere in the picture: one lies above the other
	MeetAside   Meet = "aside"   // they meet off to one side, with no place on the string to it
	MeetAt      Meet = "at"
	MeetNearer  Meet = "nearer"
	MeetBeyond  Meet = "beyond"
)

// OnString says whether it is a place on the string at which the strings cross (M11).
func (m Meet) OnString() bool { return m == MeetAt || m == MeetNearer || m == MeetBeyond }

// Where is the part of an image that is missing.
type Where string

// The parts of an image that can be missing; WhereNot is none of it.
const (
	WhereNot    Where = ""
	WhereAll    Where = "all"
	WhereCentre Where = "centre"
	// Halves of the retina.
	WhereNasal    Where = "nasal"
	WhereTemporal Where = "temporal"
	WhereNearer   Where = "nearer"
	WhereBeyond   Where = "beyond"
)

// Aim is the horizontal error of posture, as a code.
type Aim string

// The aims. AimApart stands exactly when the visual axes part.
const (
	AimOnTarget Aim = "on_target"
	AimEso      Aim = "eso"
	AimExo      Aim = "exo"
	AimApart    Aim = "apart"
)

// Aim is the aim of eyes that meet with a horizontal error d.
func (d Prism) Aim() Aim {
	switch {
	case d > OnTarget:
		return AimEso
	case d < -OnTarget:
		return AimExo
	}
	return AimOnTarget
}

// Clarity says how sharp the place looked at is (M17).
type Clarity string

// The clarities; ClarityNone where nobody sees the place.
const (
	ClarityNone    Clarity = ""
	ClarityClear   Clarity = "clear"
	ClaritySoft    Clarity = "soft"
	ClarityBlurred Clarity = "blurred"
)

// View is everything seen at one look. Look fills it; a View that is used again
// keeps its storage. Places are mm along the string's chord from the near end.
type View struct {
	Seconds  float64 // the moment that is looked at (M15)
	Target   Target
	Eyes     [2]Gaze // RightEye, LeftEye
	Axes     Axes
	Crossing Crossing
	Beads    []BeadView // in the order of Setup.Beads
	Strings  Strings
	Account  Account

	// Now is the set-up as it stands at this moment: the posture worked out, the
	// suppression constant.
	Now     Setup
	Holding Maybe[Holding] // exists when the set-up has findings

	look lookState
}

// Eye is one of the patient's eyes, and the index of what is told of each.
type Eye int

// The eyes, and how many there are: for e := range Eyes.
const (
	RightEye Eye = iota
	LeftEye
	Eyes
)

// Other is the fellow eye.
func (e Eye) Other() Eye { return 1 - e }

// Side is the eye as a set-up names it.
func (e Eye) Side() Side {
	if e == RightEye {
		return Right
	}
	return Left
}

// sign is s of M3: +1 right, −1 left.
func (e Eye) sign() float64 {
	if e == RightEye {
		return 1
	}
	return -1
}

// Sight is what one eye has of one point.
type Sight struct {
	At       XY      // in the picture; meaningless unless Ahead
	Ahead    bool    // before the eye, and perceived before it
	InField  bool    // within the eye's field (M5)
	Weight   float64 // 0 – 1: what cover and suppression leave of the image (M9)
	Distance float64 // from the nodal point, through the prism, mm
	Blur     Angle   // diameter of the blur disc (M17)
}

// Target is what is looked at and what it asks of the eyes.
type Target struct {
	At            float64  // mm along the chord
	Point         r3.Vec   // head frame, mm
	FromEyes      float64  // of the bare target from the head's origin, |T|, mm
	Demand        Prism    // 100·PD/D, clinical sum of both eyes' tangents (M12)
	DemandAngle   Angle    // γ at zero error
	MetreAngles   float64  // 1/D, 1/m
	Required      Angle    // γ through the prisms
	Accommodation Dioptres // asked of the eye that drives it, never below 0 (M13)
}

// Gaze is where an eye actually points, in Helmholtz angles (M3, M4).
type Gaze struct {
	Azimuth   Angle // the patient's right +
	Elevation Angle // up +
	Torsion   Angle // excyclo +
	Centre    r3.Vec
	Nodal     r3.Vec
	Axis      r3.Vec // unit vector along the visual axis, head frame
}

// Axes is the closest approach of the two visual axes; it does not exist where
// they part (M11).
type Axes struct {
	Gap   Maybe[float64] // mm
	Point Maybe[r3.Vec]  // the middle of the gap, head frame, mm
	// Vergence is the angle between the axes in the plane of regard,
	// μ_left − μ_right, convergence +. It exists always.
	Vergence Angle
}

// XY is a place in the picture: perceived tangents, right and up +.
type XY struct{ X, Y float64 }

// Crossing is where the strings cross (M11): geometry, but for Seen.
type Crossing struct {
	At      Maybe[float64] // the place without horizontal disparity, mm; none where there is none on the string
	Offset  Maybe[float64] // of it from the fixated place, mm: nearer −, beyond +
	RightAt Maybe[float64] // the place that the right eye's strand has where the strands meet in the picture, mm
	LeftAt  Maybe[float64] // the same of the left eye's; either is none off the string
	Picture Maybe[XY]      // where they meet
	Seen    bool           // both eyes see string within 30′ of At, whatever beads hide
}

// Disparity is how one thing's two images lie to each other (M7, M8).
type Disparity struct {
	H, V           Angle // crossed +; right image higher +
	LimitH, LimitV Angle // Panum's half-limits there
	Separation     Angle // between the two perceived directions
}

// Single says whether the disparity is within Panum's limits.
func (d Disparity) Single() bool {
	return abs(d.H) <= d.LimitH && abs(d.V) <= d.LimitV
}

// BeadView is a bead as it is seen.
type BeadView struct {
	Name        string
	At          float64          // place along the straight chord from the near end, mm
	FromEyes    float64          // distance of the bare bead from the head's origin, mm
	Disparity   Maybe[Disparity] // exists when both eyes have it in their field
	Limits      Maybe[[2]Angle]  // Panum's half-limits, horizontal and vertical: from the eyes that have it
	Overlap     Maybe[float64]   // of its two images, 0 – 1: 1 − separation/angular diameter (M8)
	Right, Left Maybe[XY]        // its centre in the picture of either eye that has it in its field
	Blur        Angle            // the larger of the two eyes'
	Black       Side             // the eyes to which it goes black through their filters
	Seen        Seen
	Diplopia    Diplopia
}

// Strings is how the string is seen (M10).
type Strings struct {
	Near, Far int     // in front of the fixated place and behind it, 0 – 2
	Pattern   Pattern // counted from the crossing, if there is one
	// Overlaid: the two strands lie on one another, so that both eyes' images of
	// one place are apart and yet one line is seen (M10).
	NearOverlaid, FarOverlaid bool
	FusedFrom, FusedTo        Maybe[float64] // the stretch that is single round the crossing, mm (M8)
	Gradient                  Maybe[float64] // of disparity at the fixated place, without unit (M8)
}

// Account is what is seen, as codes without words. Sentences are made from it.
type Account struct {
	Asked        string // a bead's name; "" on a bare string when no bead was asked for
	LookedAt     string // a bead's name; "" where the string is bare
	Fixated      Seen   // how that bead is seen; "" on a bare string
	Near, Far    int    // strings in front of the place looked at and behind it, 0 – 2
	Pattern      Pattern
	Meet         Meet
	HiddenBy     string       // the name of the bead that the strings cross behind, so that the crossing is not to be seen; or ""
	Apart        Maybe[Angle] // between the two images of the looked-at place
	Higher       Side         // whose image is higher there, where it is seen twice: Right, Left or Neither
	Missing      Side         // whose image is covered or left out just now: Right, Left or Neither
	MissingWhere Where        // what of it
	// Gap is the eye whose string is left out at the looked-at place and seen on
	// either side of it, while the other eye's runs through: Right, Left or Neither.
	Gap       Side
	Fixes     Side // the eye that fixes (M4): Right, Left or Both
	TookUp    bool // it is not the preferred one
	Fainter   Side // the eye whose picture is suppressed in part only (M9)
	Clarity   Clarity
	Uneven    bool // another eye that sees the place is in another class of clarity
	NeedsCare bool // the words must caution (M20)
	Eyes      Aim  // where they point, by the error of posture alone
	Fuses     bool // the bead looked at is one, or where it is bare the place
}

// CrossingShows says whether the place where the strings cross is there to be seen: both eyes
// see string there, and no bead stands before it.
func (v *View) CrossingShows() bool { return v.Crossing.Seen && v.Account.HiddenBy == "" }

// Named is a copy of a view that has looked, with other names for the beads: told, for
// every bead, its new name.
func (v *View) Named(told func(bead int) string) *View {
	n := *v
	n.Beads, n.Now.Beads = slices.Clone(v.Beads), slices.Clone(v.Now.Beads)
	for i := range n.Beads {
		name := told(i)
		if v.Account.Asked == v.Beads[i].Name {
			n.Account.Asked = name
		}
		if v.Account.LookedAt == v.Beads[i].Name {
			n.Account.LookedAt = name
		}
		if v.Account.HiddenBy == v.Beads[i].Name {
			n.Account.HiddenBy = name
		}
		n.Beads[i].Name, n.Now.Beads[i].Name = name, name
	}
	return &n
}
