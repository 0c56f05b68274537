package raster

import (
	"cmp"
	"image"
	"math"
	"slices"

	"twincord/render/display"
)

// A band is ribbons or strokes as chains of sections. It is painted a row at a time, each
// pixel by the section that covers it most.
type band struct {
	sections []section
	next     int   // first section that has not begun
	active   []int // sections in the row
	spans    []span
	clip     image.Rectangle
	only     *watch // whose contested tiles alone are covered; nil: all
	cut      bool   // ends are cut across and blurred; else they are round
}

// A section is a band between two neighbouring points. Along it s runs from 0 to
// length, and what varies is linear in s; across it w runs to the right of the way
// as seen on the page.
type section struct {
	x, y, ux, uy, length float64
	half, soft, opacity  linear
	box                  float64 // half-width of the box that stands for a pixel
	wide                 bool    // so soft that the box makes no difference
	before, after        float64 // how far it reaches past its ends
	slack                float64 // of its reach to the sides, there
	top, end             int     // rows top ≤ y < end

	// Of a cut end within reach: how far off it is at s = 0, and its softness; the
	// first before the section, the second behind it.
	near         [2]bool
	off, feather [2]float64

	plies, mottle, body linear  // of the look of a cord: see cord
	side                float64 // towards the light, −1 – 1
}

type linear struct{ at, per float64 }

func (l linear) of(s float64) float64 { return l.at + l.per*s }

// pixel is half a pixel.
const pixel = 0.5

// sharpest is the least softness, in its place where there is none.
const sharpest = 1e-3

// softness is a blur together with that of a pixel: variances of boxes add.
func softness(blur float64) float64 {
	if !(blur > 0) {
		return pixel
	}
	return math.Sqrt(blur*blur + pixel*pixel)
}

func (b *band) begin(clip image.Rectangle, only *watch, cut bool) {
	b.sections, b.active, b.next = b.sections[:0], b.active[:0], 0
	b.clip, b.only, b.cut = clip, only, cut
}

// chain adds the sections along points; closed says that the last point is the first
// and the way goes on through it.
func (b *band) chain(points []display.RibbonPoint, closed bool) {
	first := len(b.sections)
	total := 0.0
	for i := 1; i < len(points); i++ {
		p, q := &points[i-1], &points[i]
		dx, dy := q.At.X-p.At.X, q.At.Y-p.At.Y
		length := math.Sqrt(dx*dx + dy*dy)
		if length < thinnest {
			continue
		}
		between := func(u, v float64) linear { return linear{u, (v - u) / length} }
		b.sections = append(b.sections, section{
			x: p.At.X, y: p.At.Y, ux: dx / length, uy: dy / length, length: length,
			half:    between(max(p.Half, 0), max(q.Half, 0)),
			soft:    between(max(p.Soft, sharpest), max(q.Soft, sharpest)),
			opacity: between(unit(p.Opacity), unit(q.Opacity)),
			plies:   between(2*p.Twist, 2*q.Twist),
			// As far as it is across the section from one pixel of a row, or of a column, to the
			// next: then the coverages along it add up to the exact area.
			box:  max(math.Abs(dx), math.Abs(dy)) / length / 2,
			wide: min(p.Half, q.Half, p.Soft, q.Soft) > 4,
			off:  [2]float64{total, 0},
		})
		total += length
	}
	chain := b.sections[first:]
	if n := len(chain); n > 0 {
		start, end := softness(chain[0].soft.at), softness(chain[n-1].soft.of(chain[n-1].length))
		for i := range chain {
			chain[i].join(chain, i, closed, b.cut)
			if b.cut {
				chain[i].cutAt(start, end, total)
			}
			chain[i].bound()
		}
	}
}

// join sets how far a section reaches past its ends: to the outer side of the bend there,
// or round the end.
func (c *section) join(chain []section, i int, closed, cut bool) {
	past := func(other int, s float64) float64 {
		r := c.half.of(s) + c.soft.of(s) + c.box
		if other < 0 || other == len(chain) {
			if !closed {
				if cut {
					return softness(c.soft.of(s))
				}
				return r
			}
			other = (other + len(chain)) % len(chain)
		}
		o := &chain[other]
		// The tangent of half the bend.
		cos, sin := c.ux*o.ux+c.uy*o.uy, math.Abs(c.ux*o.uy-c.uy*o.ux)
		if cos <= 0 {
			return r
		}
		return r * sin / (1 + cos)
	}
	c.before, c.after = past(i-1, 0), past(i+1, c.length)
}

// cutAt notes the cut ends of a chain that lie within their softness of the section.
func (c *section) cutAt(start, end, total float64) {
	c.off[1] = total - c.off[0]
	c.feather = [2]float64{start, end}
	c.near = [2]bool{c.off[0] < start, c.off[1]-c.length < end}
}

// bound sets the rows that the section reaches.
func (c *section) bound() {
	c.slack = math.Abs(c.half.per+c.soft.per) * max(c.before, c.after)
	r0 := c.half.at + c.soft.at + c.box
	r1 := c.half.of(c.length) + c.soft.of(c.length) + c.box
	y1 := c.y + c.uy*c.length
	high := min(c.y-r0*math.Abs(c.ux)-c.before*math.Abs(c.uy), y1-r1*math.Abs(c.ux)-c.after*math.Abs(c.uy))
	low := max(c.y+r0*math.Abs(c.ux)+c.before*math.Abs(c.uy), y1+r1*math.Abs(c.ux)+c.after*math.Abs(c.uy))
	c.top, c.end = int(math.Floor(high-pixel)), int(math.Ceil(low+pixel))
}

// rows sorts the sections and returns the rows that they reach.
func (b *band) rows() (top, end int) {
	slices.SortFunc(b.sections, func(a, c section) int { return cmp.Compare(a.top, c.top) })
	top, end = b.clip.Max.Y, b.clip.Min.Y
	for i := range b.sections {
		top, end = min(top, b.sections[i].top), max(end, b.sections[i].end)
	}
	return max(top, b.clip.Min.Y), min(end, b.clip.Max.Y)
}

// row writes the coverage of row y into cov, and with a look the inks of the cord into inks,
// by x, and returns where it is not 0. Rows are taken from the top down.
func (b *band) row(y int, cov []uint16, inks []ink, look *cord) (x0, x1 int) {
	for b.next < len(b.sections) && b.sections[b.next].top <= y {
		b.active = append(b.active, b.next)
		b.next++
	}
	x0, x1 = b.clip.Max.X, b.clip.Min.X
	kept := b.active[:0]
	b.spans = b.spans[:0]
	for _, i := range b.active {
		c := &b.sections[i]
		if c.end <= y {
			continue
		}
		kept = append(kept, i)
		r := c.across(y, b.clip.Min.X, b.clip.Max.X)
		b.spans = append(b.spans, r)
		if r.x0 < r.x1 {
			x0, x1 = min(x0, r.x0), max(x1, r.x1)
		}
	}
	b.active = kept
	if x0 >= x1 {
		return 0, 0
	}
	clear(cov[x0:x1])
	for k, i := range b.active {
		r := b.spans[k]
		for from, to := b.only.run(y, r.x0, r.x1); from < to; from, to = b.only.run(y, to, r.x1) {
			b.sections[i].cover(y, span{from, to}, cov, inks, look)
		}
	}
	return x0, x1
}

// across is what of row y the section may cover, within x0 ≤ x < x1.
func (c *section) across(y, x0, x1 int) span {
	dy := float64(y) + pixel - c.y
	lo, hi := math.Inf(-1), math.Inf(1)
	// a·dx ≤ b
	within := func(a, b float64) {
		switch {
		case a > 0:
			hi = min(hi, b/a)
		case a < 0:
			lo = max(lo, b/a)
		case b < 0:
			hi = lo - 1
		}
	}
	along, side := dy*c.uy, dy*c.ux
	within(-c.ux, along+c.before)
	within(c.ux, c.length+c.after-along)
	reach, per := c.half.at+c.soft.at+c.box+c.slack, c.half.per+c.soft.per
	within(-c.uy-per*c.ux, reach+per*along-side)
	within(c.uy-per*c.ux, reach+per*along+side)
	if !(lo <= hi) {
		return span{}
	}
	// Held to whole pixels last, so that none is lost to rounding where the row is cut.
	lo, hi = max(math.Ceil(lo+c.x-pixel), float64(x0)), min(math.Floor(hi+c.x-pixel)+1, float64(x1))
	if !(lo < hi) {
		return span{}
	}
	return span{int(lo), int(hi)}
}

// cover raises the coverages of a span of row y to those of the section.
func (c *section) cover(y int, r span, cov []uint16, inks []ink, look *cord) {
	dy := float64(y) + pixel - c.y
	along, side := dy*c.uy, dy*c.ux
	x := float64(r.x0) + pixel
	for i := r.x0; i < r.x1; i, x = i+1, x+1 {
		dx := x - c.x
		s := dx*c.ux + along
		w := side - dx*c.uy
		t, d := s, math.Abs(w)
		if t < 0 {
			t = 0
		} else if t > c.length {
			t = c.length
		}
		if s != t && !(c.near[0] && s < 0 || c.near[1] && s > t) {
			d = math.Sqrt(w*w + (s-t)*(s-t))
		}
		half, soft := c.half.of(t), c.soft.of(t)
		outer := half + soft
		if d >= outer+c.box {
			continue
		}
		var a float64
		switch inner := math.Abs(half - soft); {
		case d <= inner-c.box: // within, where it is as much as it can be
			a = outer - inner
		case c.wide:
			if a = outer - max(d, inner); a < 0 {
				a = 0
			}
		default:
			a = c.rise(d+outer) - c.rise(d+inner) - c.rise(d-inner) + c.rise(d-outer)
		}
		a *= c.opacity.of(t) / (2 * soft)
		if c.near[0] {
			a *= unit((c.off[0] + s + c.feather[0]) / (2 * c.feather[0]))
		}
		if c.near[1] {
			a *= unit((c.off[1] - s + c.feather[1]) / (2 * c.feather[1]))
		}
		if n := uint16(a*one + 0.5); n > cov[i] {
			cov[i] = n
			if look != nil {
				inks[i] = look.at(c, t, w/(outer+c.box))
			}
		}
	}
}

// rise is max(x, 0) spread by the box of a pixel. The profile of a band is made of
// four, one at each of its corners.
func (c *section) rise(x float64) float64 {
	switch {
	case x >= c.box:
		return x
	case x <= -c.box:
		return 0
	}
	return (x + c.box) * (x + c.box) / (4 * c.box)
}

// A cord is the look of a string of two plies twisted round each other, from Colour
// to Shade. Between the plies run hollows, slanted across the string and steeper at its
// edges, as on a round one seen from beside; the side away from the light is darker.
// Where a pattern would be finer than the pixels or the blur it gives way to its mean.
type cord struct {
	inks          [257]ink // from colour to shade
	colour, shade display.Colour
	depth         float64
}

func (k *cord) begin(r *display.Ribbon) {
	k.depth = unit(r.TwistDepth)
	if k.inks[0] != 0 && k.colour == r.Colour && k.shade == r.Shade {
		return
	}
	k.colour, k.shade = r.Colour, r.Shade
	a, b := laneArray(r.Colour), laneArray(r.Shade)
	for i := range k.inks {
		t := float64(i) / 256 / full
		k.inks[i] = newInk(a[0]/full+t*(b[0]-a[0]), a[1]/full+t*(b[1]-a[1]), a[2]/full+t*(b[2]-a[2]))
	}
}

// dress sets what of the look shows at the ends of each section of a chain.
func (k *cord) dress(chain []section) {
	rate := func(c *section) float64 { return math.Abs(c.plies.per) }
	show := func(c *section, s, rate float64) (mottle, body float64) {
		half, soft := c.half.of(s), c.soft.of(s)
		if !(half > 0) {
			return 0, 0
		}
		// A box as wide as a pattern leaves nothing of it; half as wide, nearly all. Two
		// pixels a ply are the least.
		grain := 2 * rate * math.Sqrt(soft*soft+1)
		fine := 1 - min(grain*grain, 1)
		blur := (soft*soft + pixel*pixel) / (half * half)
		return fine * fine * unit(2-2*soft/half), 1 / (1 + blur)
	}
	for i := range chain {
		c := &chain[i]
		c.side = -c.uy*display.StringLightX + c.ux*display.StringLightY
		before, after := rate(c), rate(c)
		if i > 0 {
			before = (before + rate(&chain[i-1])) / 2
		}
		if i+1 < len(chain) {
			after = (after + rate(&chain[i+1])) / 2
		}
		m0, b0 := show(c, 0, before)
		m1, b1 := show(c, c.length, after)
		c.mottle = linear{m0, (m1 - m0) / c.length}
		c.body = linear{b0, (b1 - b0) / c.length}
	}
}

// at is the ink at s along and v across a section, v within ±1.
func (k *cord) at(c *section, s, v float64) ink {
	e := v - display.Lean*c.side
	body := c.body.of(s)
	edge := display.RoundnessMean + body*(display.Roundness*e*e-display.RoundnessMean)
	switch mottle := c.mottle.of(s); {
	case k.depth == 0:
	case mottle == 0:
		twist := k.depth * display.HollowMean
		edge += twist - edge*twist
	default:
		// The angle round the cord is asin v; in plies that is within ±1/2.
		turn := c.plies.of(s) + display.Slant(v)
		f := 2*(turn-math.Floor(turn)) - 1
		f *= f
		twist := k.depth * (display.HollowMean + mottle*(f*f-display.HollowMean))
		edge += twist - edge*twist
	}
	return k.inks[int(unit(edge)*256)]
}

// ribbon paints a ribbon.
func (p *Painter) ribbon(r *display.Ribbon) {
	if len(r.Points) < 2 {
		return
	}
	for i := range r.Points {
		q := &r.Points[i]
		if !finite(q.At.X, q.At.Y, q.Half, q.Soft, q.Opacity, q.Twist) {
			return
		}
	}
	b := &p.band
	b.begin(p.clip, p.only, true)
	b.chain(r.Points, false)
	p.cord.begin(r)
	p.cord.dress(b.sections)
	top, end := b.rows()
	fade := fixed(r.Colour.A)
	for y := top; y < end; y++ {
		x0, x1 := b.row(y, p.cov, p.inks, &p.cord)
		if x0 == x1 {
			continue
		}
		thin(p.cov[x0:x1], fade)
		p.emitRow(y, x0, x1, &dither[y&7])
	}
}

// thin multiplies coverages by a.
func thin(cov []uint16, a uint32) {
	if a == one {
		return
	}
	for i, c := range cov {
		cov[i] = uint16((uint32(c)*a + one/2) >> 15)
	}
}

// stroke paints an even stroke along an outline.
func (p *Painter) stroke(q *display.Path, s *shader) {
	p.lines.flatten(&q.Outline, 1, display.Point{})
	b := &p.band
	b.begin(p.clip, p.only, false)
	begin := 0
	for i, end := range p.lines.ends {
		p.spine = p.spine[:0]
		closed := p.lines.closed[i]
		for _, at := range p.lines.points[begin:end] {
			p.spine = append(p.spine, display.RibbonPoint{At: at, Half: q.Stroke / 2, Opacity: 1})
		}
		if closed {
			p.spine = append(p.spine, p.spine[0])
		}
		if dash := q.Dash; dash > 0 {
			p.dashes(dash)
		} else {
			p.dotted(p.spine)
			b.chain(p.spine, closed)
		}
		begin = end
	}
	top, end := b.rows()
	for y := top; y < end; y++ {
		if x0, x1 := b.row(y, p.cov, nil, nil); x0 < x1 {
			p.shade(y, x0, x1, s)
		}
	}
}
