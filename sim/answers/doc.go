// Package answers goes from what a patient says back to where the eyes are (M18):
// which set-ups of a scene's own string, beads, patient and glass would give the
// answers that were given.
//
// There is no table of rules. A Search looks at the set-ups of every family along
// its lines (a deviation from 40 Δ exo to 40 Δ eso, a place looked at from the nose
// to the wall, …) and keeps what each would say; Explain picks those that agree with
// the answers. What it says is always only that these set-ups would give that
// report: no probability, no likelihood, no diagnosis.
//
// Left and right are the patient's. Places are mm along the string from the nose.
package answers
