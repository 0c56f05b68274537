package sim

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Side says which eye, or which eyes. Right and left are the patient's.
type Side string

// The sides. Not every place takes every one: see the field.
const (
	Neither     Side = "none"
	Right       Side = "right"
	Left        Side = "left"
	Both        Side = "both"
	Alternating Side = "alternating" // right for half of the time, left for the other
)

// Other is the side of the fellow eye; what is no one eye's is itself.
func (s Side) Other() Side {
	switch s {
	case Right:
		return Left
	case Left:
		return Right
	}
	return s
}

// Zone is the part of an eye's image that suppression takes (M9).
type Zone string

// The zones of suppression.
const (
	ZoneAll     Zone = "all"
	ZoneCentral Zone = "central" // directions within a radius of Suppression.Centre
	// Halves of the retina: the nasal one sees the temporal half of the field.
	ZoneNasal    Zone = "nasal"
	ZoneTemporal Zone = "temporal"
	ZoneNearer   Zone = "nearer" // places nearer than the fixated place
	ZoneBeyond   Zone = "beyond" // places beyond the fixated place
)

// Centre is what the central zone lies round.
type Centre string

// The centres of the central zone: the suppressed eye's fovea, the image of the
// target in that eye, or both and what lies between them.
const (
	CentreFovea  Centre = "fovea"
	CentreTarget Centre = "target"
	CentreBoth   Centre = "both"
)

// When is the condition under which suppression acts.
type When string

// The conditions: always, or only while the eyes are more than 1 Δ off the target
// horizontally (with findings: while fusion is broken).
const (
	WhenAlways When = "always"
	WhenTurned When = "turned"
)

// Surface is the pattern on a bead, so that beads are never told apart by
// colour alone.
type Surface string

// The surfaces.
const (
	SurfacePlain  Surface = "plain"
	SurfaceBanded Surface = "banded"
	SurfaceDotted Surface = "dotted"
	SurfaceRinged Surface = "ringed"
)

// Filter is a coloured filter before an eye: of the light of everything that the
// eye sees it passes one part (Filter.Through).
type Filter string

// The filters.
const (
	FilterNone  Filter = "none"
	FilterRed   Filter = "red"
	FilterGreen Filter = "green"
)

// RGB is a colour in sRGB.
type RGB struct{ R, G, B uint8 }

// NoBead stands where no bead is meant.
const NoBead = -1

// Setup is everything that one look needs: who looks, along which string, at
// what, and where the eyes really point. Lengths are in mm, in the head frame
// (M1): +X the patient's right, +Y straight ahead, +Z up.
type Setup struct {
	Patient     Patient
	String      String
	Beads       []Bead // in any order; at most MaxBeads
	Look        Fixation
	Posture     Posture
	Findings    Maybe[Findings] // instead of Posture, which then follows from them
	Suppression Suppression
	Cover       Side // Neither, Right or Left
	Right, Left Glass
	Hold        Unsteadiness
}

// Patient is the observer: an average eye, with what differs between people as
// parameters.
type Patient struct {
	PD           float64 // distance between the centres of rotation, mm
	Nodal        float64 // nodal point ahead of the centre of rotation, mm (M2)
	FusionH      Arcmin  // Panum's horizontal half-limit at the fovea (M8)
	FusionV      Arcmin  // Panum's vertical half-limit at the fovea
	FusionHSlope float64 // growth of FusionH per unit of eccentricity
	FusionVSlope float64
	Pupil        float64         // diameter, mm
	Lambda       Degrees         // angle lambda: pupillary axis temporal of the visual axis (M16)
	Age          float64         // years; gives the amplitude (row C18)
	Amplitude    Maybe[Dioptres] // instead of the age's
	Lag          Dioptres        // lag of accommodation (M17)
}

// WithPanum is the patient with a Panum's area so many times as large.
func (p Patient) WithPanum(scale float64) Patient {
	p.FusionH *= Arcmin(scale)
	p.FusionV *= Arcmin(scale)
	p.FusionHSlope *= scale
	p.FusionVSlope *= scale
	return p
}

// String is the string from the near end on the nose to the anchor (M10).
type String struct {
	Length       float64 // straight distance from near end to anchor, mm
	NearEnd      r3.Vec  // head frame, mm
	AnchorSide   float64 // x of the anchor, mm
	AnchorHeight float64 // z of the anchor, mm
	Thickness    float64 // mm
	Sag          float64 // drop at mid-length, mm
}

// Bead is a bead on the string.
type Bead struct {
	Name     string
	At       float64 // place along the straight chord from the near end, mm
	Diameter float64 // mm
	Colour   RGB
	Surface  Surface
}

// Fixation is what the patient looks at: a bead, or, when Bead is NoBead, the
// place At. Asked is the bead that the patient was asked to look at if that is
// another one, else NoBead. Beads are indices into Setup.Beads.
//
// From is the bead that was looked at until the time 0, when the eyes set off to
// what they look at now (M15); without it they have been there all along.
type Fixation struct {
	Bead  int
	At    float64 // mm along the chord; used when Bead is NoBead
	Asked int
	From  Maybe[int]
}

// Posture is the error of the eyes at the target (M4), and how much of the
// prisms they have answered (M13).
type Posture struct {
	Deviation     Prism           // eso +, exo −
	Vertical      Prism           // right eye higher +
	Cyclo         Degrees         // excyclo +
	Fixing        Side            // Both, Right or Left: the eye that does not carry the error
	Anomaly       Prism           // angle of anomaly, eso + (M6); needs one fixing eye
	PrismMet      float64         // share of the prisms answered, 0 – 1
	Accommodation Maybe[Dioptres] // instead of the response of M17
}

// Suppression is what is left out of one eye's image (M9).
type Suppression struct {
	Eye    Side // Neither, Right, Left or Alternating
	Zone   Zone
	Centre Centre
	When   When
	Radius Degrees // of the central zone
	Depth  float64 // 0 – 1; the image keeps the weight 1 − depth
	Period float64 // s; 0 is constant, which an alternating one cannot be
	Share  float64 // 0 – 1 of each period, from its beginning; unused when alternating
}

// Unsteadiness is a vergence that wavers round its mean (M15): horizontally, as a
// pure function of the seed and the time.
type Unsteadiness struct {
	SD   Arcmin // standard deviation of the vergence; 0 is steady
	Seed uint64 // what it draws its numbers from
}

// Glass is what stands before one eye (M13).
type Glass struct {
	BaseOut Prism // base-in −
	BaseUp  Prism // base-down −
	Lens    Dioptres
	// Refraction is the lens with which this eye sees far away without
	// accommodating, hyperopia + (M13).
	Refraction Dioptres
	Filter     Filter
}

// Default is a set-up with everything at its default that has one: the average
// patient of the published rows, no error, no suppression, no cover, no glass. It
// still lacks a string length and something to look at.
func Default() Setup {
	return Setup{
		Patient: Patient{
			PD:           62,  // I3, I4: 64.0 (SD 3.4) in men, 61.7 (SD 3.6) in women; I5: about 60 at 12 years
			Nodal:        6.4, // E11, E12: centre of rotation 13.5 mm, nodal point 7.1 mm behind the cornea
			FusionH:      10,  // F1 – F11: 7.5′ to 36′ and more, by person and target; the low end
			FusionV:      6,   // F2, F9, F11
			FusionHSlope: 0.035,
			FusionVSlope: 0.0175,
			Pupil:        3, // B4: about 3.4 in a lit room
			Lambda:       5, // E5, E13: 4.4 to 5.5 (SD 1.3 to 2.7); 8.4 at birth
			Age:          25,
		},
		String: String{
			NearEnd:   r3.Vec{Y: 54, Z: -34}, // N3, N6: an adult's nose tip
			Thickness: 2,
		},
		Look:        Fixation{Bead: NoBead, Asked: NoBead},
		Posture:     Posture{Fixing: Both, PrismMet: 1},
		Suppression: Suppression{Eye: Neither, Zone: ZoneAll, Centre: CentreFovea, When: WhenAlways, Radius: 5, Depth: 1, Share: 0.5},
		Cover:       Neither,
		Right:       Glass{Filter: FilterNone},
		Left:        Glass{Filter: FilterNone},
		Hold:        Unsteadiness{Seed: 1},
	}
}

// OnTarget is the same string and patient with both eyes on what was asked for: no
// error, nothing left out, nothing covered, and what stands before the eyes
// answered. The beads are shared with s.
func (s *Setup) OnTarget() Setup {
	d := Default()
	o := *s
	if o.Look.Asked != NoBead {
		o.Look = Fixation{Bead: o.Look.Asked, Asked: NoBead}
	}
	o.Look.From = Maybe[int]{}
	o.Posture, o.Findings, o.Hold = d.Posture, d.Findings, d.Hold
	o.Suppression, o.Cover = d.Suppression, d.Cover
	return o
}

// Settled is the same set-up once the eyes have come to rest: a jump is over, and the
// hold does not waver. The beads are shared with s.
func (s *Setup) Settled() Setup {
	o := *s
	o.Look.From, o.Hold.SD = Maybe[int]{}, 0
	return o
}

// Clone is a copy of the set-up that shares nothing with it that can be changed.
func (s *Setup) Clone() Setup {
	c := *s
	c.Beads = slices.Clone(s.Beads)
	return c
}

// CopyTo makes to a Clone of the set-up and uses the room of the beads that it has.
func (s *Setup) CopyTo(to *Setup) {
	beads := append(to.Beads[:0], s.Beads...)
	*to = *s
	to.Beads = beads
}

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

// Glass gives what stands before an eye.
func (s *Setup) Glass(e Side) Glass {
	if e == Left {
		return s.Left
	}
	return s.Right
}
