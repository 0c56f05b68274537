package raster

import (
	"math"

	"twincord/render/display"
)

// mostDashes is how many dashes a stroke is broken into at most; a finer one is
// unbroken, as it would look.
const mostDashes = 4096

// dashes adds the chains of p.spine broken into dashes and gaps of one length.
func (p *Painter) dashes(dash float64) {
	way := p.spine
	total := 0.0
	for i := 1; i < len(way); i++ {
		total += math.Hypot(way[i].At.X-way[i-1].At.X, way[i].At.Y-way[i-1].At.Y)
	}
	if total/dash > mostDashes {
		p.band.chain(way, false)
		return
	}
	pieces := len(way)
	on, left := true, dash
	way = append(way, way[0]) // the dash at hand begins at pieces
	for i := 1; i < pieces; i++ {
		a, b := way[i-1].At, way[i].At
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		for done := 0.0; length-done > left; left = dash {
			done += left
			q := way[i]
			q.At = display.Point{X: a.X + (b.X-a.X)*done/length, Y: a.Y + (b.Y-a.Y)*done/length}
			if on {
				p.chainOf(append(way[pieces:], q))
			}
			on = !on
			way = append(way[:pieces], q)
			a, length, done = q.At, length-done, 0
		}
		left -= math.Hypot(b.X-a.X, b.Y-a.Y)
		way = append(way, way[i])
	}
	if on {
		p.chainOf(way[pieces:])
	}
	p.spine = way
}

func (p *Painter) chainOf(way []display.RibbonPoint) {
	p.dotted(way)
	p.band.chain(way, false)
}

// dotted makes a way that has no length one of next to none, so that its round ends
// show as a dot.
func (p *Painter) dotted(way []display.RibbonPoint) {
	if len(way) == 0 {
		return
	}
	for _, q := range way {
		if q.At != way[0].At {
			return
		}
	}
	way[len(way)-1].At.X += 2 * thinnest
}
