package raster

import (
	"encoding/binary"

	"twincord/render/display"
)

// Coverage and opacity are fixed-point numbers from 0 to one.
const one = 1 << 15

// An ink is an opaque colour of more than 8 bits: red, green, blue and 1 in four
// lanes of 16 bits from the lowest up, each in 256ths of a step of 1/255.
type ink uint64

// full is 1 in a lane.
const full = 255 << 8

// lanes picks red and blue, or after a shift of 16 green and opacity, out of an
// ink, each with 32 bits of room.
const lanes = 0x0000ffff_0000ffff

// newInk takes red, green and blue of 0 – 1.
func newInk(r, g, b float64) ink {
	return ink(lane(r)) | ink(lane(g))<<16 | ink(lane(b))<<32 | full<<48
}

func lane(v float64) uint64 { return uint64(unit(v)*full + 0.5) }

func inkOf(c display.Colour) ink { return newInk(c.R, c.G, c.B) }

// times is an ink times darker, or lighter as far as there is room.
func (k ink) times(shade float64) ink {
	s := uint64(int32(shade*one + 0.5))
	rb, g := (uint64(k)&lanes)*s>>15, uint64(k)>>16&0xffff*s>>15
	if s <= one {
		return ink(rb&lanes) | ink(g)<<16 | full<<48
	}
	return ink(min(rb&0x1ffff, full)) | ink(min(g, full))<<16 | ink(min(rb>>32, full))<<32 | full<<48
}

// towards is an opaque ink a share of the way towards another.
func (k ink) towards(to ink, share float64) ink {
	a := uint64(fixed(share))
	rb := (uint64(k)&lanes)*(one-a) + (uint64(to)&lanes)*a
	g := (uint64(k)>>16&0xffff)*(one-a) + (uint64(to)>>16&0xffff)*a
	return ink(rb>>15&lanes) | ink(g>>15)<<16 | full<<48
}

// fixed is v of 0 – 1 in steps of 1/one.
func fixed(v float64) uint32 { return uint32(unit(v)*one + 0.5) }

// unit is v held to 0 – 1; a number that is none is 0.
func unit(v float64) float64 {
	switch {
	case !(v > 0):
		return 0
	case v > 1:
		return 1
	}
	return v
}

// A blend is a sum of products of 8.8 and 1.15 bits; what is added before the
// last 23 bits are dropped decides how it rounds. Both lanes of a pair get the same, so
// that no colour can round above its opacity in a premultiplied layer.
const point = 23

type rounding [8]uint64

// nearest rounds to the nearest step.
var nearest = func() (r rounding) {
	for x := range r {
		r[x] = both(1 << (point - 1))
	}
	return r
}()

// dither rounds by a fixed pattern of 8 × 8 pixels (Bayer's ordered dither), by
// less than half a step up or down: a slow gradient shows no bands.
var dither = func() (d [8]rounding) {
	for y := range d {
		for x := range d[y] {
			d[y][x] = both(uint64(2*bayer(x, y)+1) << (point - 7))
		}
	}
	return d
}()

func both(v uint64) uint64 { return v | v<<32 }

// bayer is the rank, 0 – 63, of a place in Bayer's pattern: the bits of x^y and y, the
// lowest first, interleaved.
func bayer(x, y int) int {
	rank := 0
	for bit := range 3 {
		rank = rank<<2 | (x^y)>>bit&1<<1 | y>>bit&1
	}
	return rank
}

// steps picks the whole steps of a pair of lanes.
const steps = 0x0000ff00_0000ff00

// spread is a pixel as pairs of lanes: red and blue, green and opacity.
func spread(d uint32) (rb, ga uint64) {
	v := uint64(d) | uint64(d)<<16
	return v << 8 & steps, v & steps
}

// over is a pair of lanes k of coverage a over a pair d, as a sum of products: k·a +
// d·(1 − a) is d + (k − d)·a, and what a lane then borrows of the other comes back.
func over(d, k, a, round uint64) uint64 { return d<<15 + (k-d)*a + round }

// join is the pixel of two pairs, as sums of products.
func join(rb, ga uint64) uint32 {
	v := rb>>point&(steps>>8) | ga>>(point-8)&steps
	return uint32(v | v>>16)
}

// blendRow blends an ink for each pixel over a row of premultiplied pixels, the first at x.
func blendRow(pix []byte, cov []uint16, inks []ink, round *rounding, x int) {
	inks = inks[:len(cov)]
	turned := round.from(x)
	for i, a := range cov {
		if a == 0 {
			continue
		}
		k, r := uint64(inks[i]), turned[i&7]
		q := pix[4*i : 4*i+4 : 4*i+4]
		if a == one {
			binary.LittleEndian.PutUint32(q, uint32(pack(k+opaque(r))))
			continue
		}
		rb, ga := spread(binary.LittleEndian.Uint32(q))
		binary.LittleEndian.PutUint32(q, join(over(rb, k&lanes, uint64(a), r), over(ga, k>>16&lanes, uint64(a), r)))
	}
}

// from is the pattern from x on.
func (r *rounding) from(x int) (turned rounding) {
	for i := range turned {
		turned[i] = r[(x+i)&7]
	}
	return turned
}

// opaque is what is added to an ink, in 256ths of a step, where a sum of products would be
// rounded so: below the whole step in every lane.
func opaque(round uint64) uint64 {
	return round & 0xffffffff >> (point - 8) * 0x0000_0001_0001_0001
}

// pack makes the lanes of an ink bytes, and drops what is below the step.
func pack(v uint64) uint64 {
	v = v >> 8 & 0x00ff_00ff_00ff_00ff
	v = (v | v>>8) & 0x0000_ffff_0000_ffff
	return v&0xffff | v>>16
}

// storeRow is blendRow with a coverage of 1 everywhere.
func storeRow(pix []byte, inks []ink, round *rounding, x int) {
	add := round.from(x)
	for i, r := range add {
		add[i] = opaque(r)
	}
	// Eight at a time, two a store.
	for len(inks) >= 8 {
		k, q := (*[8]ink)(inks), (*[32]byte)(pix)
		binary.LittleEndian.PutUint64(q[0:8], pack(uint64(k[0])+add[0])|pack(uint64(k[1])+add[1])<<32)
		binary.LittleEndian.PutUint64(q[8:16], pack(uint64(k[2])+add[2])|pack(uint64(k[3])+add[3])<<32)
		binary.LittleEndian.PutUint64(q[16:24], pack(uint64(k[4])+add[4])|pack(uint64(k[5])+add[5])<<32)
		binary.LittleEndian.PutUint64(q[24:32], pack(uint64(k[6])+add[6])|pack(uint64(k[7])+add[7])<<32)
		inks, pix = inks[8:], pix[32:]
	}
	for i, k := range inks {
		binary.LittleEndian.PutUint32(pix[4*i:4*i+4:4*i+4], uint32(pack(uint64(k)+add[i])))
	}
}

// blendLayer blends a premultiplied layer over a row of pixels, with a further
// coverage for each pixel.
func blendLayer(pix, layer []byte, cov []uint16) {
	for i, a := range cov {
		s := binary.LittleEndian.Uint32(layer[4*i : 4*i+4 : 4*i+4])
		if a == 0 || s == 0 {
			continue
		}
		a := uint64(a)
		// Rounded up, so that no sum is above 255.
		back := one - (uint64(s>>24)*a+254)/255
		q := pix[4*i : 4*i+4 : 4*i+4]
		rb, ga := spread(binary.LittleEndian.Uint32(q))
		layerRB, layerGA := spread(s)
		binary.LittleEndian.PutUint32(q, join(layerRB*a+rb*back+nearest[0], layerGA*a+ga*back+nearest[0]))
	}
}

// meanRow makes the pixels of pix, the first at (x, y), the mean of both rows.
// Halves go up and down by turns.
func meanRow(pix, other []byte, x, y int) {
	other = other[:len(pix)]
	for i := range pix {
		pix[i] = byte((uint(pix[i]) + uint(other[i]) + uint(x+i/4+y)&1) >> 1)
	}
}
