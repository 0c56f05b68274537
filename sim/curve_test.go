package sim

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r3"
)

// TestBesideFollowsTheCurve: how near a direction lies to a slack string is told on the
// curve, not on the corners that it was sampled at. On the far half they stand some
// arc minutes off it.
func TestBesideFollowsTheCurve(t *testing.T) {
	s := Default()
	s.String.Length, s.String.Sag, s.Look.At = 1200, 300, 1000
	var v View
	v.Look(&s)
	k := &v.look
	for e := range Eyes {
		for i := k.count / 2; i+1 < k.count; i++ {
			at := (k.samples[i].at + k.samples[i+1].at) / 2
			seen := func(at float64) r3.Vec { p := k.image(e, at); return unit(direction(p.x, p.y)) }
			d := seen(at)
			across := unit(r3.Cross(d, r3.Sub(seen(at+1e-3), seen(at-1e-3))))
			for _, side := range []float64{-1, 1} {
				const angle = 3e-4 // about one arc minute
				off := func(by float64) bool {
					return k.beside(unit(r3.Add(d, r3.Scale(side*by, across))), e, angle, everywhere[e])
				}
				assert.True(t, off(0.999*angle), "eye %d, %.1f mm, side %v", e, at, side)
				assert.False(t, off(1.001*angle), "eye %d, %.1f mm, side %v", e, at, side)
			}
		}
	}
}
