package window

import (
	"image"
	"math/bits"
	"math/rand/v2"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/raster"
	"twincord/render/ui"
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

// Of two keys of one tick, the one that was let go already was pressed first. Where that tells
// nothing, Escape comes before what is written, and every other key after it.
func TestWhatWasPressedFirst(t *testing.T) {
	down, up := ends{down: 1}, ends{up: 1}
	for _, key := range []ui.Key{ui.KeyEscape, ui.KeyEnter, ui.KeyTab} {
		assert.True(t, up.before(down, key), "let go, and then one was written")
		assert.True(t, up.before(ends{down: 2}, key))
		assert.False(t, down.before(up, key), "written, and then it was pressed")
		assert.False(t, down.before(ends{up: 2}, key))
		assert.False(t, up.before(ends{}, key), "nothing is written")
		for _, c := range [][2]ends{{down, down}, {up, up}, {up, {1, 1}}, {down, {1, 1}}} {
			assert.Equal(t, key == ui.KeyEscape, c[0].before(c[1], key), "%v %v", key, c)
		}
	}
}

func TestFit(t *testing.T) {
	assert.Equal(t, 1280, fit(1280, 1024, 1920))
	assert.Equal(t, 1100, fit(1280, 1024, 1100))
	assert.Equal(t, 1024, fit(1280, 1024, 800), "smaller it cannot be made")
}

// Panes are a page without gaps, no block is in two, and as images with sides of powers of two
// they take little more than the page does.
func TestPanesAreThePage(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	even := func(side int) int { return 1 << bits.Len(uint(side-1)) }
	for range 200 {
		size := image.Pt(1+r.IntN(5000), 1+r.IntN(3000))
		var pixels, taken int
		all := cut(size)
		for i, p := range all {
			require.True(t, p.In(image.Rectangle{Max: size}) && !p.Empty(), "%v of %v", p, size)
			for _, q := range all[:i] {
				require.False(t, p.Overlaps(q), "%v and %v of %v", p, q, size)
			}
			require.Zero(t, p.Min.Mod(image.Rect(0, 0, raster.Block, raster.Block)), "%v of %v", p, size)
			pixels += p.Dx() * p.Dy()
			taken += even(p.Dx()) * even(p.Dy())
		}
		require.Equal(t, size.X*size.Y, pixels, "%v", size)
		require.LessOrEqual(t, taken, (size.X+raster.Block/2)*(size.Y+raster.Block/2), "%v", size)
	}
}
