package render

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/scenes"
	"twincord/sim"
)

// Eyes on their target meet where it is, as it is measured along the string; behind a
// prism that they answer they meet elsewhere.
func TestEyesOnTheTargetMeetThere(t *testing.T) {
	for _, e := range scenes.Library() {
		s := e.Scene.Setup.OnTarget()
		s.Right.BaseOut, s.Left.BaseOut = 0, 0
		var v sim.View
		v.Look(&s)
		at, meet := Meeting(&v)
		if assert.True(t, meet, e.Name) {
			assert.InEpsilon(t, s.LookPlace(), at, 0.01, e.Name)
		}
	}
	s := scenes.Library()[0].Scene.Setup
	s.Posture.Deviation = -40
	var v sim.View
	v.Look(&s)
	_, meet := Meeting(&v)
	assert.False(t, meet, "the eyes part")
}

// Beyond what the string is tied to it goes on.
func TestFromNoseIsTheInverseOfFromEyes(t *testing.T) {
	for _, e := range scenes.Library() {
		s := &e.Scene.Setup
		for share := 0.; share <= 1; share += 0.05 {
			at := share * s.String.Length
			assert.InDelta(t, at, FromNose(s, FromEyes(s, at)), 1e-6, e.Name)
		}
		far := FromEyes(s, s.String.Length)
		assert.InDelta(t, s.String.Length+500, FromNose(s, far+500), 1e-9, e.Name)
	}
}
