package render

import (
	"math"

	"twincord/sim"
)

// kept is what one picture asks for again and again: the beads' images, and the
// string's by place.
type kept struct {
	beads    [sim.MaxBeads]pair
	haveBead [sim.MaxBeads]bool
	cords    [1 << cordBits]keptCord
}

type keptCord struct {
	at   float64
	have bool
	pair pair
}

// cordBits is the logarithm of how many images of the string are kept.
const cordBits = 9

// begin forgets what another picture kept.
func (k *kept) begin() { *k = kept{} }

// slot is where the image of a place is kept, in the place of another one at times.
func (k *kept) slot(at float64) *keptCord {
	return &k.cords[math.Float64bits(at)*0x9e3779b97f4a7c15>>(64-cordBits)]
}

func (k *kept) cord(at float64) (*pair, bool) {
	c := k.slot(at)
	return &c.pair, c.have && c.at == at
}

func (k *kept) keep(at float64, x *pair) { *k.slot(at) = keptCord{at, true, *x} }

// beadPair is a bead's two images.
func (p *patient) beadPair(bead int) *pair {
	x := &p.kept.beads[bead]
	if !p.kept.haveBead[bead] {
		*x = p.pair(p.s.Place(p.s.Beads[bead].At), p.zonePlace(bead), parting)
		p.seeThrough(x, x.parted)
		p.kept.haveBead[bead] = true
	}
	return x
}
