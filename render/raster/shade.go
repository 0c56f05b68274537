package raster

import (
	"math"
	"math/bits"

	"twincord/render/display"
)

// A shader gives the colour of a paint at each pixel of a row.
type shader struct {
	solid, opaque bool
	from          ink
	alpha         uint32     // of a solid paint
	a, d          [4]float64 // From, and To − From, as lanes
	radial        bool
	kx, ky, k     float64 // linear: the share of To is kx·x + ky·y + k; radial: the length of (kx·(x−A.X), ky·(y−A.Y))
	at            display.Point
	block         int // how many pixels of a row may be taken as even steps
	dither        bool
}

// begin sets a paint up; false if there is nothing of it to see.
func (s *shader) begin(q *display.Paint) bool {
	from, to := laneArray(q.From), laneArray(q.To)
	*s = shader{from: inkOf(q.From), alpha: fixed(q.From.A), dither: q.Dither}
	if q.Kind == display.Linear || q.Kind == display.Radial {
		if !finite(q.A.X, q.A.Y, q.B.X, q.B.Y) {
			return false
		}
		s.opaque = from[3] == full && to[3] == full
		s.a = from
		widest := 0.0
		for i := range s.d {
			s.d[i] = to[i] - from[i]
			widest = max(widest, math.Abs(s.d[i]))
		}
		s.at = q.A
		s.gradient(q)
		// Over a block at most half a step of 1/255: chords are off by a quarter of that.
		s.block = longest
		for s.block > 1 && widest*math.Abs(s.kx)*float64(s.block) > 128 {
			s.block /= 2
		}
		return from[3] > 0 || to[3] > 0
	}
	s.solid, s.opaque, s.a = true, from[3] == full, from
	return from[3] > 0
}

func (s *shader) gradient(q *display.Paint) {
	if q.Kind == display.Radial {
		s.radial = true
		if s.kx, s.ky = 1/math.Abs(q.B.X), 1/math.Abs(q.B.Y); math.IsInf(s.kx, 0) || math.IsInf(s.ky, 0) {
			s.radial, s.kx, s.ky, s.k = false, 0, 0, 1
		}
		return
	}
	dx, dy := q.B.X-q.A.X, q.B.Y-q.A.Y
	n := dx*dx + dy*dy
	if s.kx, s.ky = dx/n, dy/n; !finite(s.kx, s.ky) {
		s.kx, s.ky, s.k = 0, 0, 1
		return
	}
	s.k = -(s.kx*q.A.X + s.ky*q.A.Y)
}

func laneArray(c display.Colour) [4]float64 {
	return [4]float64{unit(c.R) * full, unit(c.G) * full, unit(c.B) * full, unit(c.A) * full}
}

func (s *shader) round(y int) *rounding {
	if s.dither {
		return &dither[y&7]
	}
	return &nearest
}

// longest is the longest block of a gradient, a power of two.
const longest = 32

// row writes the inks of a row from x on, and takes their opacity from the
// coverages.
func (s *shader) row(y, x int, inks []ink, cov []uint16) {
	if s.solid {
		for i := range inks {
			inks[i] = s.from
		}
		thin(cov, s.alpha)
		return
	}
	fy := float64(y) + 0.5
	switch {
	case !s.radial && s.kx == 0:
		v := s.colour(0, fy)
		k := ink(v[0]) | ink(v[1])<<16 | ink(v[2])<<32 | full<<48
		for i := range inks {
			inks[i] = k
		}
		thin(cov, fixed(float64(v[3])/full))
		return
	case s.block > 1:
		// Blocks stand at fixed places of the page, so that a pixel does not depend
		// on where the row begins.
		block, shift := s.block, bits.TrailingZeros(uint(s.block))
		b := x &^ (block - 1)
		now := s.colour(float64(b)+0.5, fy)
		for end := x + len(inks); b < end; b += block {
			next := s.colour(float64(b+block)+0.5, fy)
			// Each lane steps towards next and never past it, so none overflows.
			step, v := uint64(0), uint64(0)
			for i := range now {
				step += uint64(towards0(next[i]-now[i], shift)) << (16 * i)
				v += uint64(now[i]) << (16 * i)
			}
			now = next
			if b >= x && b+block <= end {
				whole := inks[b-x:][:block]
				for c := range whole {
					whole[c] = ink(v)
					v += step
				}
				continue
			}
			for c := b; c < b+block; c++ {
				if c >= x && c < end {
					inks[c-x] = ink(v)
				}
				v += step
			}
		}
	default:
		for i := range inks {
			v := s.colour(float64(x+i)+0.5, fy)
			inks[i] = ink(v[0]) | ink(v[1])<<16 | ink(v[2])<<32 | ink(v[3])<<48
		}
	}
	if s.opaque {
		return
	}
	for i, k := range inks {
		a := uint32(k>>48) * (one / 256) / 255 // 0 – one
		cov[i] = uint16((uint32(cov[i])*a + one/2) >> 15)
		inks[i] = k&^(0xffff<<48) | full<<48
	}
}

// towards0 is v divided by 2 to the power of shift, less what is left over: as / does, which
// divides many times slower.
func towards0(v int64, shift int) int64 { return (v + v>>63&(1<<shift-1)) >> shift }

// colour is the colour at a place, as lanes.
func (s *shader) colour(x, y float64) [4]int64 {
	var t float64
	if s.radial {
		u, v := (x-s.at.X)*s.kx, (y-s.at.Y)*s.ky
		t = math.Sqrt(u*u + v*v)
	} else {
		t = s.kx*x + s.ky*y + s.k
	}
	t = unit(t)
	return [4]int64{
		int64(s.a[0] + t*s.d[0] + 0.5), int64(s.a[1] + t*s.d[1] + 0.5),
		int64(s.a[2] + t*s.d[2] + 0.5), int64(s.a[3] + t*s.d[3] + 0.5),
	}
}
