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

// A place is held to the string; beyond what it is tied to, a distance from the nose goes on.
func TestPlacesAreTheInverseOfDistances(t *testing.T) {
	for _, e := range scenes.Library() {
		s := &e.Scene.Setup
		for share := 0.; share <= 1; share += 0.05 {
			at := share * s.String.Length
			assert.InDelta(t, at, PlaceAt(s, FromEyes(s, at)), 1e-6, e.Name)
			assert.InDelta(t, at, FromNose(s, FromEyes(s, at)), 1e-6, e.Name)
		}
		assert.Equal(t, 0., PlaceAt(s, 1))
		assert.Equal(t, s.String.Length, PlaceAt(s, 1e6))
		far := FromEyes(s, s.String.Length)
		assert.InDelta(t, s.String.Length+500, FromNose(s, far+500), 1e-9, e.Name)
	}
}
