package raster

import (
	"image"
	"math"

	"twincord/render/display"
)

// A lit is a ball that is being painted: its outline turned into the unit circle,
// and its look in numbers that do not change from pixel to pixel.
type lit struct {
	b             *display.Ball
	light, half   vec
	mouth         vec
	uu, uv, vv    float64      // from a step on the page into the unit disc
	edge          display.Edge // in radii
	inner, outer  float64      // squares of the radii where its coverage begins to fall, and is 0
	whole         uint16       // the coverage within
	shrink        float64      // how many times narrower than the outline the look is laid out
	fine          float64      // half of what a pattern's edge is spread over, of the radius
	pole          vec          // what the stripes run round
	stripes       []stripe
	gleam         float64
	bore, near    float64 // radius of the hole; square of how far it and its edge reach
	colour, white ink
	spots         [len(display.Dots)]vec // the dots that can be seen
	spotted       int
	spot          float64 // how far from its middle a dot reaches
}

type vec struct{ x, y, z float64 }

func (a vec) dot(b vec) float64 { return a.x*b.x + a.y*b.y + a.z*b.z }

func (a vec) minus(b vec) vec { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }

func (a vec) length() float64 { return math.Sqrt(a.dot(a)) }

func (a vec) times(k float64) vec { return vec{k * a.x, k * a.y, k * a.z} }

// unit is a of length 1, or a if it has none.
func (a vec) unit() vec {
	if n := a.length(); n > 0 {
		return a.times(1 / n)
	}
	return a
}

func vecOf(a [3]float64) vec { return vec{a[0], a[1], a[2]} }

// ball paints a ball.
func (p *Painter) ball(b *display.Ball) {
	if !paintable(b) {
		return
	}
	fade := unit(b.Opacity) * unit(b.Colour.A)
	box := ballBox(b).Intersect(p.clip)
	if fade == 0 || box.Empty() {
		return
	}
	var k lit
	k.begin(b)
	k.whole = uint16(k.edge.Most*fade*one + 0.5)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x0, x1 := p.run(y, box.Min.X, box.Max.X); x0 < x1; x0, x1 = p.run(y, x1, box.Max.X) {
			p.ballRow(&k, y, x0, x1, fade)
		}
	}
}

func paintable(b *display.Ball) bool {
	return b.RadiusX >= thinnest && b.RadiusY >= thinnest &&
		finite(b.Centre.X, b.Centre.Y, b.RadiusX, b.RadiusY, b.Angle, b.Soft, b.Opacity,
			b.Hole.X, b.Hole.Y, b.Bore, b.Axis[0], b.Axis[1], b.Axis[2], b.Light[0], b.Light[1], b.Light[2])
}

// ballBox is the pixels that a ball may touch: those round its blurred outline.
func ballBox(b *display.Ball) image.Rectangle {
	sin, cos := math.Sincos(b.Angle)
	e := b.Outline()
	reach := (e.Middle + e.Half) / b.Radius()
	rx := reach * math.Hypot(b.RadiusX*cos, b.RadiusY*sin)
	ry := reach * math.Hypot(b.RadiusX*sin, b.RadiusY*cos)
	return image.Rectangle{
		Min: image.Pt(int(math.Floor(b.Centre.X-rx)), int(math.Floor(b.Centre.Y-ry))),
		Max: image.Pt(int(math.Ceil(b.Centre.X+rx)), int(math.Ceil(b.Centre.Y+ry))),
	}
}

// ballRow paints the pixels x0 ≤ x < x1 of a row of a ball.
func (p *Painter) ballRow(k *lit, y, x0, x1 int, fade float64) {
	dy := float64(y) + pixel - k.b.Centre.Y
	from, to := x1, x0
	for x := x0; x < x1; x++ {
		u, v := k.disc(float64(x)+pixel-k.b.Centre.X, dy)
		q := u*u + v*v
		a := k.whole
		switch {
		case q >= k.outer:
			a = 0
		case q > k.inner:
			a = uint16(k.edge.At(math.Sqrt(q))*fade*one + 0.5)
		}
		p.cov[x] = a
		if a == 0 {
			continue
		}
		from, to = min(from, x), x+1
		p.inks[x] = k.ink(u*k.shrink, v*k.shrink)
	}
	if from < to {
		p.emitRow(y, from, to, &dither[y&7])
	}
}

func (k *lit) begin(b *display.Ball) {
	axis, up, side := b.Frame()
	mouth, bore := b.Mouth()
	*k = lit{b: b, mouth: vecOf(mouth), light: vecOf(b.Light).unit()}
	k.half = vec{k.light.x, k.light.y, k.light.z + 1}.unit()
	sin, cos := math.Sincos(b.Angle)
	wide, high := 1/b.RadiusX, 1/b.RadiusY
	k.uu, k.uv, k.vv = cos*cos*wide+sin*sin*high, sin*cos*(wide-high), sin*sin*wide+cos*cos*high
	k.edge, k.shrink = b.Outline(), 1/b.Swell()
	k.edge.Middle /= b.Radius()
	k.edge.Half /= b.Radius()
	inner, outer := k.edge.Middle-k.edge.Half, k.edge.Middle+k.edge.Half
	k.inner, k.outer = inner*math.Abs(inner), outer*outer
	k.fine = b.Fine()
	k.gleam = display.Gleam * b.Shine()
	k.colour, k.white = inkOf(b.Colour), inkOf(b.White())
	k.bore = unit(bore)
	reach := k.fine / limb
	k.near = (k.bore + reach) * (k.bore + reach)
	switch b.Surface {
	case display.Banded:
		k.pole, k.stripes = vecOf(up), bandStripes[:]
	case display.Ringed:
		k.pole, k.stripes = vecOf(axis), ringStripes[:]
	case display.Dotted:
		k.findDots(axis, up, side, reach)
	}
}

// findDots keeps the dots that can be seen.
func (k *lit) findDots(axis, up, side [3]float64, reach float64) {
	k.spot = display.DotRadius + reach
	for _, d := range display.Dots {
		at := vec{
			d[0]*axis[0] + d[1]*up[0] + d[2]*side[0],
			d[0]*axis[1] + d[1]*up[1] + d[2]*side[1],
			d[0]*axis[2] + d[1]*up[2] + d[2]*side[2],
		}
		if at.z > -k.spot {
			k.spots[k.spotted] = at
			k.spotted++
		}
	}
}

// disc turns a step on the page from the centre into the unit disc, as seen on the page.
func (k *lit) disc(dx, dy float64) (u, v float64) { return dx*k.uu + dy*k.uv, dx*k.uv + dy*k.vv }

// ink is the colour of the sphere at a place of the unit disc; outside it, where
// blur spreads it to, the colour of its edge.
func (k *lit) ink(u, v float64) ink {
	n := vec{u, v, 0}
	if q := u*u + v*v; q < 1 {
		n.z = math.Sqrt(1 - q)
	} else {
		n = n.unit()
	}
	shade := display.Ambient + display.Diffuse/(1+display.Wrap)*max(0, n.dot(k.light)+display.Wrap)
	shade *= display.Rim + (1-display.Rim)*n.z
	white := 0.0
	switch k.b.Surface {
	case display.Banded:
		shade *= 1 - (1-display.BandShade)*k.striped(n)
	case display.Ringed:
		shade *= 1 - (1-display.RingShade)*k.striped(n)
	case display.Dotted:
		white = display.DotPale * k.dots(n)
	}
	if k.bore > 0 {
		if d := n.minus(k.mouth); d.dot(d) < k.near {
			in := k.within(n, d.length(), k.bore)
			shade *= 1 - (1-display.HoleShade)*in
			white *= 1 - in
		}
	}
	c := k.colour
	if white > 0 {
		c = c.towards(k.white, white)
	}
	c = c.times(shade)
	g := n.dot(k.half)
	if g > 0.8 { // below, nothing is left of it
		for range 5 { // to the power of 32
			g *= g
		}
		c = c.towards(k.white, g*k.gleam)
	}
	return c
}

// limb is the least slope towards the viewer that counts: nearer to the outline the
// sphere is seen too flat for a pattern to show.
const limb = 0.15

// A stripe is all places from one distance along an axis to another, either way.
type stripe struct{ from, to float64 }

var (
	bandStripes = [...]stripe{{display.BandFrom, display.BandTo}}
	ringStripes = [...]stripe{{display.RingFrom, display.RingTo}, {display.RingFrom2, display.RingTo2}}
)

// striped is the share of the stripes in a place. Their edges are spread more where they
// lie denser on the page.
func (k *lit) striped(n vec) (share float64) {
	t, z := math.Abs(n.dot(k.pole)), max(n.z, limb)
	most, fine := k.fine*steepest/z, 0.0
	for _, s := range k.stripes {
		switch {
		case t <= s.from-most || t >= s.to+most:
			continue
		case t >= s.from+most && t <= s.to-most:
			return 1
		case fine == 0:
			x, y := k.pole.x*z-k.pole.z*n.x, k.pole.y*z-k.pole.z*n.y
			fine = k.fine * max(math.Sqrt(x*x+y*y)/z, limb)
		}
		share += max(0, min(t+fine, s.to)-max(t-fine, s.from)) / (2 * fine)
	}
	return share
}

// steepest is above how fast the place along an axis can change, times z: the length of
// (x, y, max(z, limb)) at most.
const steepest = 1.02

// within is the share in a place n of a disc on the sphere, whose middle is far off.
func (k *lit) within(n vec, far, radius float64) float64 {
	if radius <= 0 {
		return 0
	}
	return display.EdgeOf(radius, k.fine/max(n.z, limb)).At(far)
}

// dots is the share of the dots in a place of the sphere.
func (k *lit) dots(n vec) float64 {
	best := 0.0
	for _, d := range k.spots[:k.spotted] {
		if math.Abs(n.y-d.y) < k.spot {
			best = max(best, k.within(n, n.minus(d).length(), display.DotRadius))
		}
	}
	return best
}
