package window

import (
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/assert"
)

// A key that is held counts again after a while, and then again and again; however seldom it
// is asked, never twice at once.
func TestKeysRepeat(t *testing.T) {
	var r repeat
	r.end()
	assert.False(t, r.counts(1000), "nothing is held")
	r.begin(ebiten.KeyArrowLeft, 10)
	assert.False(t, r.counts(10), "the first press is no repeat")
	presses := 0
	for frame := 1; frame <= 60; frame++ { // a second
		if r.counts(10 + float64(frame)/60) {
			presses++
		}
	}
	assert.InDelta(t, 9, presses, 2)
	assert.True(t, r.counts(20))
	assert.False(t, r.counts(20))
	r.end()
	assert.False(t, r.counts(1000))
}

func TestFit(t *testing.T) {
	assert.Equal(t, 1280, fit(1280, 1024, 1920))
	assert.Equal(t, 1100, fit(1280, 1024, 1100))
	assert.Equal(t, 1024, fit(1280, 1024, 800), "smaller it cannot be made")
}
