// Package routine is what is done with a scene, step by step: which places there are
// and how long they are held, what is seen as time goes on, and, as codes without
// words, what to ask at each, what another answer means, and what to try then. What a
// file says of a routine is scenes.Routine.
package routine

import "twincord/scenes"

// Kind is the kind of a routine.
type Kind = scenes.RoutineKind

// The kinds.
const (
	Walk       = scenes.Walk
	Jumps      = scenes.Jumps
	BareString = scenes.BareString
)

// Kinds are all of them.
var Kinds = scenes.RoutineKinds
