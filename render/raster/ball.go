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
	axis, up      vec
	light, half   vec
	mouth         vec
	cos, sin      float64
	wide, high    float64      // inverse half-axes
	edge          display.Edge // in radii
	swell         float64      // how many times wider than the outline the look is laid out
	fine          float64      // half of what a pattern's edge is spread over, of the radius
	gleam         float64
	bore, near    float64 // radius of the hole; square of how far it and its edge reach
	red, grn, blu float64
	white         display.Colour
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
		u, v, r := k.disc(float64(x)+pixel-k.b.Centre.X, dy)
		p.cov[x] = uint16(k.edge.At(r)*fade*one + 0.5)
		if p.cov[x] == 0 {
			continue
		}
		from, to = min(from, x), x+1
		p.inks[x] = k.ink(u/k.swell, v/k.swell, r/k.swell)
	}
	if from < to {
		p.emitRow(y, from, to, &dither[y&7])
	}
}

func (k *lit) begin(b *display.Ball) {
	axis, up, side := b.Frame()
	mouth, bore := b.Mouth()
	*k = lit{b: b, mouth: vecOf(mouth), axis: vecOf(axis), up: vecOf(up), light: vecOf(b.Light).unit()}
	k.half = vec{k.light.x, k.light.y, k.light.z + 1}.unit()
	k.sin, k.cos = math.Sincos(b.Angle)
	k.wide, k.high = 1/b.RadiusX, 1/b.RadiusY
	k.edge, k.swell = b.Outline(), b.Swell()
	k.edge.Middle /= b.Radius()
	k.edge.Half /= b.Radius()
	k.fine = b.Fine()
	k.gleam = display.Gleam * b.Shine()
	k.white = b.White()
	k.red, k.grn, k.blu = unit(b.Colour.R), unit(b.Colour.G), unit(b.Colour.B)
	k.bore = unit(bore)
	reach := k.fine / limb
	k.near = (k.bore + reach) * (k.bore + reach)
	if b.Surface != display.Dotted {
		return
	}
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

// disc turns a step on the page from the centre into the unit disc, as seen on the
// page, and gives its length.
func (k *lit) disc(dx, dy float64) (u, v, r float64) {
	a := (dx*k.cos + dy*k.sin) * k.wide
	c := (dy*k.cos - dx*k.sin) * k.high
	return a*k.cos - c*k.sin, a*k.sin + c*k.cos, math.Sqrt(a*a + c*c)
}

// ink is the colour of the sphere at a place of the unit disc; outside it, where
// blur spreads it to, the colour of its edge.
func (k *lit) ink(u, v, r float64) ink {
	n := vec{u, v, 0}
	if r < 1 {
		n.z = math.Sqrt(1 - r*r)
	} else {
		n.x, n.y = u/r, v/r
	}
	shade := display.Ambient + display.Diffuse/(1+display.Wrap)*max(0, n.dot(k.light)+display.Wrap)
	shade *= display.Rim + (1-display.Rim)*n.z
	white := 0.0
	switch k.b.Surface {
	case display.Banded:
		t, fine := k.along(n, k.up)
		shade *= 1 - (1-display.BandShade)*between(t, fine, display.BandFrom, display.BandTo)
	case display.Ringed:
		t, fine := k.along(n, k.axis)
		shade *= 1 - (1-display.RingShade)*(between(t, fine, display.RingFrom, display.RingTo)+
			between(t, fine, display.RingFrom2, display.RingTo2))
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
	g := n.dot(k.half)
	if g > 0.8 { // below, nothing is left of it
		for range 5 { // to the power of 32
			g *= g
		}
		g *= k.gleam
	} else {
		g = 0
	}
	mix := func(c, pale float64) uint64 {
		c = min((c+(pale-c)*white)*shade, 1)
		return uint64((c+(pale-c)*g)*full + 0.5)
	}
	return ink(mix(k.red, k.white.R)) | ink(mix(k.grn, k.white.G))<<16 | ink(mix(k.blu, k.white.B))<<32 | full<<48
}

// limb is the least slope towards the viewer that counts: nearer to the outline the
// sphere is seen too flat for a pattern to show.
const limb = 0.15

// along is how far a place is along an axis, either way, and half of what that is
// spread over: more where it changes faster from pixel to pixel.
func (k *lit) along(n, axis vec) (t, fine float64) {
	z := max(n.z, limb)
	x, y := axis.x*z-axis.z*n.x, axis.y*z-axis.z*n.y
	return math.Abs(n.dot(axis)), k.fine * max(math.Sqrt(x*x+y*y)/z, limb)
}

// between is the share of a stripe in t ± fine.
func between(t, fine, from, to float64) float64 {
	return max(0, min(t+fine, to)-max(t-fine, from)) / (2 * fine)
}

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
