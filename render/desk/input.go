package desk

import "twincord/render/ui"

// Input is what happened since the last Update. Everything the desk knows of the
// outside comes in here: it has no clock and no window.
type Input struct {
	ui.Input
	// CoverRight and CoverLeft say that a key for covering that eye is held: N and
	// V, where the thumbs are.
	CoverRight, CoverLeft bool
}
