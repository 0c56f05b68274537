package window

import (
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"twincord/render/display"
)

// rib is a cross-section of a ribbon as it is drawn.
type rib struct {
	vertex ebiten.Vertex // all but its place
	at     display.Point
	ux, uy float64 // the way on from here, of length 1
	ox, oy float64 // across, where the strip bends as much before as behind
	reach  float64 // to either side
	length float64 // to the next one
	bend   float64 // tangent of half the turn
	sharp  bool    // a strip cannot follow the turn here
	tight  bool    // nor here, so near to such a turn
}

// drawRibbon draws a ribbon as one strip, whose shader covers and twists it. Where
// it turns so sharply that a strip would fold over itself, each piece is drawn by
// itself, and every pixel gets what covers it most.
func (p *painter) drawRibbon(r *display.Ribbon) {
	n := len(r.Points)
	if n < 2 {
		return
	}
	p.flush()
	p.measure(r)
	first, last := softness(r.Points[0].Soft), softness(r.Points[n-1].Soft)
	u := p.options.Uniforms
	u["Lit"], u["Shade"], u["Depth"] = straight(r.Colour), straight(r.Shade), float32(r.TwistDepth)
	u["Look"] = []float32{display.Roundness, display.RoundnessMean, display.HollowMean, display.Lean}
	u["Slant"] = []float32{display.Slant1, display.Slant3}
	u["Feather"] = []float32{float32(first), float32(last)}

	// Both ends are cut across and blurred: the ribbon goes on past them by the blur.
	past := func(i int) float64 {
		switch i {
		case 0:
			return -first
		case n - 1:
			return last
		}
		return 0
	}
	for i := 0; i < n-1; {
		end := i + 1
		tight := p.ribs[i].tight && p.ribs[end].tight
		for end < n-1 && (p.ribs[end].tight && p.ribs[end+1].tight) == tight {
			end++
		}
		if tight {
			p.pieces(i, end, past)
		} else {
			p.own.reset()
			for k := i; k <= end; k++ {
				if k == 0 {
					p.section(k, past(k), false)
				}
				p.section(k, 0, false)
				if k == n-1 {
					p.section(k, past(k), false)
				}
			}
			p.draw(&p.own, p.ribbon, nil, nil)
		}
		i = end
	}
}

// section adds a cross-section to the strip: so far past the rib along its way,
// straight across that way or as the strip bends. The first of a strip joins nothing.
func (p *painter) section(k int, past float64, square bool) {
	b := &p.ribs[k]
	v := b.vertex
	v.SrcX += float32(past)
	v.SrcY -= float32(past)
	ox, oy := b.ox, b.oy
	if square {
		ox, oy = -b.uy, b.ux
	}
	at := display.Point{X: b.at.X + b.ux*past, Y: b.at.Y + b.uy*past}
	p.own.section(v, at, ox, oy, b.reach, len(p.own.vertices) > 0)
}

// most keeps what covers a pixel most.
var most = ebiten.Blend{
	BlendFactorSourceRGB:        ebiten.BlendFactorOne,
	BlendFactorSourceAlpha:      ebiten.BlendFactorOne,
	BlendFactorDestinationRGB:   ebiten.BlendFactorOne,
	BlendFactorDestinationAlpha: ebiten.BlendFactorOne,
	BlendOperationRGB:           ebiten.BlendOperationMax,
	BlendOperationAlpha:         ebiten.BlendOperationMax,
}

// pieces draws the ribs from i to end one piece at a time, each reaching round the
// outer side of the bends at its ends.
func (p *painter) pieces(i, end int, past func(int) float64) {
	low, high := p.ribs[i].at, p.ribs[i].at
	for _, b := range p.ribs[i : end+1] {
		low = display.Point{X: min(low.X, b.at.X-2*b.reach), Y: min(low.Y, b.at.Y-2*b.reach)}
		high = display.Point{X: max(high.X, b.at.X+2*b.reach), Y: max(high.Y, b.at.Y+2*b.reach)}
	}
	p.masked(pixels(display.Rect{X: low.X, Y: low.Y, W: high.X - low.X, H: high.Y - low.Y}), 1, func() {
		p.options.Blend = most
		for k := i; k < end; k++ {
			p.own.reset()
			a, b := &p.ribs[k], &p.ribs[k+1]
			if k == i {
				p.section(k, past(k), false)
			} else {
				p.section(k, -a.bend*a.reach, true)
			}
			if k+1 == end {
				p.section(k+1, past(k+1), false)
			} else {
				// Along this piece, not the next.
				way := *b
				b.ux, b.uy = a.ux, a.uy
				p.section(k+1, b.bend*b.reach, true)
				*b = way
			}
			p.draw(&p.own, p.ribbon, nil, nil)
		}
		p.options.Blend = ebiten.Blend{}
	}, nil)
}

// measure works out the ribs of a ribbon.
func (p *painter) measure(r *display.Ribbon) {
	n := len(r.Points)
	p.ribs = p.ribs[:0]
	arc := 0.0
	for i := range r.Points {
		q := &r.Points[i]
		a, b := r.Points[max(i-1, 0)].At, r.Points[min(i+1, n-1)].At
		// mitre steps to the right of the way on a page with y down; the pixels count
		// across to the left of it, so that the twist turns the same way.
		ox, oy := mitre(a, q.At, b)
		soft := softness(q.Soft)
		mottle, body := look(r.Points, i, soft)
		k := rib{at: q.At, ox: -ox, oy: -oy, reach: q.Half + soft, length: distance(q.At, b)}
		k.ux, k.uy = unit(b.X-q.At.X, b.Y-q.At.Y)
		if i == n-1 {
			k.ux, k.uy = unit(q.At.X-a.X, q.At.Y-a.Y)
		}
		if i > 0 && i < n-1 {
			last := &p.ribs[i-1]
			turn := math.Abs(math.Atan2(last.ux*k.uy-last.uy*k.ux, last.ux*k.ux+last.uy*k.uy))
			k.bend = math.Tan(min(turn, math.Pi/2) / 2)
			k.sharp = turn > 0.6 || k.bend*k.reach > 0.4*min(last.length, k.length)
		}
		wx, wy := unit(b.X-a.X, b.Y-a.Y)
		k.vertex = ebiten.Vertex{
			SrcX:   float32(arc),
			ColorR: float32(q.Half), ColorG: float32(soft), ColorB: float32(q.Opacity), ColorA: float32(2 * q.Twist),
			Custom1: float32(-wy*display.StringLightX + wx*display.StringLightY), Custom2: float32(mottle), Custom3: float32(body),
		}
		arc += k.length
		p.ribs = append(p.ribs, k)
	}
	for i := range p.ribs {
		p.ribs[i].vertex.SrcY = float32(arc) - p.ribs[i].vertex.SrcX
	}
	p.spread(1)
	p.spread(-1)
}

// spread makes tight what lies within reach of a sharp turn, along the ribbon or
// back.
func (p *painter) spread(step int) {
	left := 0.0
	i, end := 0, len(p.ribs)
	if step < 0 {
		i, end = end-1, -1
	}
	for from := -1; i != end; from, i = i, i+step {
		if from >= 0 {
			left -= distance(p.ribs[from].at, p.ribs[i].at)
		}
		b := &p.ribs[i]
		if b.sharp {
			left = 2 * b.reach
		}
		b.tight = b.tight || left > 0
	}
}

func distance(a, b display.Point) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }

// look is how much of the twist shows at a point of a ribbon, and how round it looks:
// where a pattern would be finer than the pixels or the blur it gives way to its mean.
func look(points []display.RibbonPoint, i int, soft float64) (mottle, body float64) {
	q := &points[i]
	if q.Half <= 0 {
		return 0, 0
	}
	rate := 0.0
	count := 0.0
	for _, j := range [2]int{i, i + 1} {
		if j < 1 || j >= len(points) {
			continue
		}
		a, b := &points[j-1], &points[j]
		if l := math.Hypot(b.At.X-a.At.X, b.At.Y-a.At.Y); l > 0 {
			rate += math.Abs(2*(b.Twist-a.Twist)) / l
			count++
		}
	}
	if count > 0 {
		rate /= count
	}
	grain := 2 * rate * math.Sqrt(soft*soft+1)
	fine := 1 - min(grain*grain, 1)
	shown := 2 - 2*math.Sqrt(max(soft*soft-0.25, 0))/q.Half
	return fine * fine * min(max(shown, 0), 1), 1 / (1 + soft*soft/(q.Half*q.Half))
}
