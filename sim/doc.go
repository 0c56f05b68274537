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
// # Where the equations come from
//
// M1 … M17 in comments and tests number the equations of the model: M1 frames, M2
// the eye, M3 gaze, M4 posture, M5 direction in one eye, M6 perceived direction,
// M7 disparity, M8 single or double, M9 suppression and cover, M10 the string, M11
// the crossing, M12 demand, M13 prism and lens, M16 the face, M17 blur. Letters
// with a number, such as F1 or Z3, name rows of published values; those that the
// tests use stand in testdata/published with their sources. What no published value
// settles is called a modelling choice where it is made.
//
// Left out: incomitance, eccentric fixation, nystagmus, aniseikonia, stereoscopic
// depth, changes of apparent size with vergence, individual anatomy.
package sim
