// Package sim computes what a patient sees who looks along a Brock string: a
// Setup goes in, View.Look gives the View (the numbers) with its Account (what is
// seen, as codes). It is pure: no files, no clock, no drawing, no words.
//
// # Frames
//
// Left and right are the patient's, always. Each frame is right-handed.
//
//	frame    origin                              axes                                        unit
//	head     midway between the two centres      +X right, +Y straight ahead, +Z up          mm
//	         of rotation
//	eye      nodal point of that eye             +X right, +Y along the visual axis, +Z up   mm
//	picture  the fixation direction              x right, y up: tangents of the angles       none
//	                                             from the visual axis
//	string   the near end, on the tip of the     one number: the place s along the straight  mm
//	         nose                                chord toward the anchor
//	face     as head, or that eye's centre of    X right (to the observer's left), Y up: the  mm
//	         rotation                            plane that faces an observer at the anchor
//
// From string to head: Setup.Place (M10: chord and sag). From head to eye: the
// prism's displacement, then the axes of the eye (M13, M3). From eye to picture:
// x = q·r / q·f, y = q·u / q·f, then the anomaly of correspondence (M5, M6). The
// two eyes share one picture: what falls on corresponding points is seen in one
// direction (row D1 of every textbook). View.HeadCentred turns the picture from
// the fixation direction back to straight ahead.
//
// An eye's gaze is in Helmholtz angles: elevation λ about +X first, then azimuth
// μ within the plane of regard, then torsion τ about the visual axis.
//
// # Signs
//
//	horizontal deviation   eso +, exo −
//	vertical deviation     right eye higher +
//	torsion                excyclo + (the top of the eye outward), in either eye
//	horizontal disparity   crossed + (nearer than fixation): α left − α right
//	vertical disparity     right eye's image higher +
//	vergence               convergence +
//	prism                  base-out +, base-in −; base-up +, base-down −, each for its own eye
//
// # Units
//
// Lengths are mm. Angles inside are Angle, radians; Degrees, Arcmin and Prism are
// how they are typed in and printed. Vergence of light and lenses are Dioptres.
//
// # The map of the model
//
// Comments and tests cite these by number. Letters with a number, such as F1 or Z3, are
// rows of published values; those that tests use stand in testdata/published with their
// sources. What no published value settles is called a modelling choice where it is made.
//
//	M1   Frames, signs, units: as above. P = 100·tan θ (row P1); angles add, Δ do not.
//	M2   The eye: centre of rotation (±PD/2, 0, 0), nodal point n ahead of it on the
//	     visual axis; n 0 – 10 mm, 0 is the handbooks' reduced geometry (E11, E12).
//	M3   Gaze, d from the centre to the target: λ = atan2(d.z, d.y), μ = atan2(d.x, √(d.y²+d.z²)), torsion
//	     τ about the axis. Every direction has one, that along X too. Zero deviation is
//	     zero Helmholtz torsion: a modelling choice.
//	M4   Posture: ideal gaze and an error e, v, c. F fixes: the preferred eye if it is
//	     neither covered nor left out whole (depth above 0.5), else the other; both share.
//	     μ −= s·k·e, λ += s·k·v, τ = k·c, k the eye's share (D9: the cover test).
//	M5   Direction in one eye: x = q·r/q·f, y = q·u/q·f, q from the nodal point. A field
//	     of 60°, 107°, 70°, 80° (S1); behind the eye nothing is seen.
//	M6   Perceived: (x, y) in either eye (Hering). With an anomaly A the turned eye's α
//	     is less by s·κ·A, κ so scaled that A = e meets in the target at any distance (A1).
//	     α past ±90° counts as not in the field.
//	M7   δh = α left − α right, δv = β right − β left (H1 – H3, D3, D4); ε the mean
//	     direction's angle from the fovea.
//	M8   Single where |δh| ≤ H + H'·ε and |δv| ≤ V + V'·ε (F1 – F11), else double:
//	     vertical, crossed or uncrossed. It needs the point in both fields.
//	M9   Weight of an image: 0 under a cover, 1 − depth in the zone of a suppression, else
//	     1. Suppression needs two open eyes (D10) and may wait for the eyes to be turned.
//	     Seen up to a depth of 0.8, fainter above 0.3 (S8 – S10).
//	M10  The string from the nose (N3, N6) to the anchor, with its sag. A section shows
//	     two strings where a run of 30′ is split: doubled, and off the other strand by its
//	     thickness and 1′·(1 + ε/2°) (Q1). Places off the string go on along the chord.
//	M11  The crossing: the place where δh = 0, nearest to the target; and where the
//	     strands meet in the picture, as planes through the nodal points if the string is
//	     straight. Neither need exist (Z1, Z2). Behind a bead, of either eye, it is hidden.
//	M12  Demand 100·PD/D; as an angle γ = μ left − μ right (V1 – V6). D at least 1 mm.
//	M13  A prism moves what is seen toward its apex by (y − 27)·P/100 (P3, P6), not nearer
//	     than the spectacle plane. A point asks 1/d + R − L of an eye; of both the least
//	     ametropic drives (C21), else the one that fixes.
//	M14  Findings: load = prisms + AC/A·(ρ(D − add) − ρ(A)), against the reserves linear
//	     in D between 6 m and 40 cm; broken eyes turn by the phoria less the load (C1 – C24).
//	     Nearer than 40 cm phorias are extrapolated, and base-out reserves run out at the
//	     near point: modelling choices.
//	M15  In time: vergence exponential after 0.16 s (Y1, Y7), version at constant velocity
//	     after 0.2 s, also where another eye begins to fix; an Ornstein–Uhlenbeck waver (Y4).
//	M16  The face: reflex 4.75 mm·sin θ from the pupil's centre, opposite to the turn (E1 –
//	     E6); none where the light misses the cornea.
//	M17  Response ρ = max(0, min(amplitude, A − lag·min(1, A/2.5))), one for both eyes
//	     (C18); blur pupil·|A_E − ρ| (B1 – B3). Clear to 5′, soft to 15′: a modelling choice.
//	M18  Answers, in package answers: set-ups that would give what a patient says.
//	M19  Average sizes by age (I5, I6, I8); the noses are a modelling choice.
//	M20  Whom the words must caution: anything left out from a depth of 0.3, an anomaly, an
//	     eye turned by more than 1 Δ, 1 Δ of height, 3° of tilt, 10 Δ shared, or findings
//	     broken both at 6 m and at 40 cm.
//
// Every tolerance stands, derived, in tolerance.go; what each field of a set-up may be,
// in fields.go.
//
// # Words of their own meaning
//
//	look    one moment as it is seen; looked at: the bead or the place that is fixated
//	hold    to keep both eyes on the target (Holding, M14); Setup.Hold is its steadiness
//	turn    an eye's rotation; turned: off the target by more than 1 Δ
//	walk    to bring a bead toward the nose, place by place (Setup.Walk)
//	place   a number of mm along the string from the nose; points are in the head frame
//
// Left out: incomitance, head posture, eccentric fixation, nystagmus, aniseikonia,
// stereoscopic depth, changes of apparent size with vergence, individual anatomy.
package sim
