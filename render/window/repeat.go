package window

import (
	"math"

	"github.com/hajimehoshi/ebiten/v2"
)

// A repeat is the key that was pressed last: while it is held it counts as pressed again
// and again.
type repeat struct {
	key ebiten.Key
	at  float64 // when it counts next, Input.Seconds; infinite: not at all
}

// How long a key is held before it counts again, and between the times after that, seconds.
const (
	firstRepeat = 0.4
	nextRepeat  = 0.07
)

func (r *repeat) begin(k ebiten.Key, now float64) { *r = repeat{k, now + firstRepeat} }

func (r *repeat) end() { r.at = math.Inf(1) }

// counts says whether the key counts as pressed again now. However late it is asked, that is
// once.
func (r *repeat) counts(now float64) bool {
	if now < r.at {
		return false
	}
	r.at = now + nextRepeat
	return true
}
