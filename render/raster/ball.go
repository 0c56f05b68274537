package raster

import (
	"image"
	"math"

	"twincord/render/display"
)

// A lit is a ball that is being painted, a row at a time: its outline turned into a circle,
// and its look in numbers that do not change from pixel to pixel.
type lit struct {
	b                *display.Ball
	fade             float64
	light, half      vec
	mouth            vec
	uu, uv, vv       float64      // from a step on the page into the disc of the sphere as it is laid out
	edge             display.Edge // of its coverage, in radii of that disc
	outer            float64      // the radius where that is 0
	inner            float64      // square of the radius where it begins to fall
	whole            uint16       // the coverage within
	fine             float64      // half of what a pattern's edge is spread over, of the radius
	pole             vec          // what the stripes run round
	stripes          []stripe
	gleam            float64
	bore, mouthReach float64 // radius of the hole; how far it and its edge reach
	colour, white    ink
	spots            [len(display.Dots)]vec // the dots that can be seen
	spotted          int
	spot             float64 // how far from its middle a dot reaches

	sphereRow
}

// A sphereRow is what a row of pixels shows of a sphere, by x.
type sphereRow struct {
	n     []vec     // the place on it
	shade []float64 // how light it is there
	pale  []float64 // how much of it is white, but for the gleam
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
	fade := unit(b.Opacity) * unit(b.Colour.A)
	box := ballBox(b).Intersect(p.clip)
	if fade == 0 || box.Empty() {
		return
	}
	k := &p.lit
	k.begin(b, fade)
	k.grow(box.Max.X)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		r := k.within(y, span{box.Min.X, box.Max.X}, vec{}, k.outer)
		for x0, x1 := p.run(y, r.x0, r.x1); x0 < x1; x0, x1 = p.run(y, x1, r.x1) {
			k.row(y, span{x0, x1}, p.cov, p.inks)
			p.emitRow(y, x0, x1, &dither[y&7])
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
	if !paintable(b) {
		return image.Rectangle{}
	}
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

func (k *lit) begin(b *display.Ball, fade float64) {
	axis, up, side := b.Frame()
	mouth, bore := b.Mouth()
	*k = lit{sphereRow: k.sphereRow, b: b, fade: fade, mouth: vecOf(mouth), light: vecOf(b.Light).unit()}
	k.half = vec{k.light.x, k.light.y, k.light.z + 1}.unit()
	sin, cos := math.Sincos(b.Angle)
	swell := b.Swell()
	wide, high := 1/(b.RadiusX*swell), 1/(b.RadiusY*swell)
	k.uu, k.uv, k.vv = cos*cos*wide+sin*sin*high, sin*cos*(wide-high), sin*sin*wide+cos*cos*high
	k.edge = b.Outline()
	k.edge.Middle /= b.Radius() * swell
	k.edge.Half /= b.Radius() * swell
	k.outer = k.edge.Middle + k.edge.Half
	inner := k.edge.Middle - k.edge.Half
	k.inner = inner * math.Abs(inner)
	k.whole = uint16(k.edge.Most*fade*one + 0.5)
	k.fine = b.Fine()
	k.gleam = display.Gleam * b.Shine()
	k.colour, k.white = inkOf(b.Colour), inkOf(b.White())
	k.bore = unit(bore)
	reach := k.fine / limb
	k.mouthReach = k.bore + reach
	switch b.Surface {
	case display.Banded:
		k.pole, k.stripes = vecOf(up), bandStripes[:]
	case display.Ringed:
		k.pole, k.stripes = vecOf(axis), ringStripes[:]
	case display.Dotted:
		k.findDots(axis, up, side, reach)
	}
}

func (r *sphereRow) grow(n int) {
	r.n, r.shade, r.pale = resized(r.n, n), resized(r.shade, n), resized(r.pale, n)
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

// near is what of a stretch of row y may show places on the sphere nearer to one of them than
// reach. As seen on the page nothing lies farther off than it is, but for what is outside
// the sphere and shows its edge.
func (k *lit) near(y int, r span, at vec, reach float64) span {
	return k.within(y, r, at, reach+max(0, k.outer-1))
}

// within is what of a stretch of row y lies nearer to a place of the disc than reach.
func (k *lit) within(y int, r span, at vec, reach float64) span {
	// From there a step of dx along the row leads to (u + dx·uu, v + dx·uv).
	dy := float64(y) + pixel - k.b.Centre.Y
	u, v := dy*k.uv-at.x, dy*k.vv-at.y
	a, b, c := k.uu*k.uu+k.uv*k.uv, u*k.uu+v*k.uv, u*u+v*v-reach*reach
	root := math.Sqrt(b*b - a*c)
	if !(root > 0) {
		return span{}
	}
	lo, hi := k.b.Centre.X-pixel-(b+root)/a, k.b.Centre.X-pixel-(b-root)/a
	// Held to whole pixels last, so that none is lost to rounding where the row is cut.
	return span{int(max(math.Ceil(lo), float64(r.x0))), int(min(math.Floor(hi)+1, float64(r.x1)))}
}

// row writes the coverages and the inks of a stretch of row y, by x.
func (k *lit) row(y int, r span, cov []uint16, inks []ink) {
	k.place(y, r, cov)
	switch k.b.Surface {
	case display.Banded:
		k.stripe(r, display.BandShade)
	case display.Ringed:
		k.stripe(r, display.RingShade)
	case display.Dotted:
		k.dot(y, r)
	}
	if k.bore > 0 {
		k.pierce(y, r)
	}
	inks = inks[r.x0:r.x1]
	for i, shade := range k.shade[r.x0:r.x1] {
		c := k.colour
		if k.spotted > 0 {
			c = c.towards(k.white, k.pale[r.x0+i])
		}
		inks[i] = c.times(shade)
	}
	k.shine(y, r, inks)
}

// place notes the places on the sphere, lit from where the light is, and how far they
// cover the pixels. Outside the sphere, where blur spreads it to, is the colour of its edge.
func (k *lit) place(y int, r span, cov []uint16) {
	places, shades := k.n[r.x0:r.x1], k.shade[r.x0:r.x1]
	cov = cov[r.x0:r.x1]
	dy := float64(y) + pixel - k.b.Centre.Y
	for i := range places {
		dx := float64(r.x0+i) + pixel - k.b.Centre.X
		n := vec{x: dx*k.uu + dy*k.uv, y: dx*k.uv + dy*k.vv}
		q := n.x*n.x + n.y*n.y
		cov[i] = k.whole
		if q > k.inner {
			cov[i] = uint16(k.edge.At(math.Sqrt(q))*k.fade*one + 0.5)
		}
		if q < 1 {
			n.z = math.Sqrt(1 - q)
		} else {
			n = n.times(1 / math.Sqrt(q))
		}
		shade := display.Ambient
		if light := n.dot(k.light) + display.Wrap; light > 0 {
			shade += display.Diffuse / (1 + display.Wrap) * light
		}
		places[i], shades[i] = n, shade*(display.Rim+(1-display.Rim)*n.z)
	}
}

// pierce darkens the mouth of the hole.
func (k *lit) pierce(y int, r span) {
	r = k.near(y, r, k.mouth, k.mouthReach)
	for x := r.x0; x < r.x1; x++ {
		in := k.disc(k.n[x], k.mouth, k.bore)
		k.shade[x] *= 1 - (1-display.HoleShade)*in
		if k.spotted > 0 {
			k.pale[x] *= 1 - in
		}
	}
}

// shine lays the gleam over the inks of a row.
func (k *lit) shine(y int, r span, inks []ink) {
	const least = 0.8 // below, nothing is left of it
	near := k.near(y, r, k.half, math.Sqrt(2-2*least))
	for x := near.x0; x < near.x1; x++ {
		if g := k.n[x].dot(k.half); g > least {
			for range 5 { // to the power of 32
				g *= g
			}
			i := x - r.x0
			inks[i] = inks[i].towards(k.white, g*k.gleam)
		}
	}
}

// limb is the least slope towards the viewer that counts: nearer to the outline the
// sphere is seen too flat for a pattern to show.
const limb = 0.15

// A stripe is all places within half of a distance along an axis, either way.
type stripe struct{ middle, half float64 }

func stripeOf(from, to float64) stripe { return stripe{(from + to) / 2, (to - from) / 2} }

var (
	bandStripes = [...]stripe{stripeOf(display.BandFrom, display.BandTo)}
	ringStripes = [...]stripe{stripeOf(display.RingFrom, display.RingTo), stripeOf(display.RingFrom2, display.RingTo2)}
)

// stripe darkens the stripes of a row, down to shade.
func (k *lit) stripe(r span, shade float64) {
	places, shades := k.n[r.x0:r.x1], k.shade[r.x0:r.x1]
	for i := range places {
		if in := k.striped(&places[i]); in > 0 {
			shades[i] *= 1 - (1-shade)*in
		}
	}
}

// striped is the share of the stripes in a place. Their edges are spread more where they
// lie denser on the page.
func (k *lit) striped(n *vec) (share float64) {
	t, z := math.Abs(n.dot(k.pole)), n.z
	if z < limb {
		z = limb
	}
	most, fine := k.fine*steepest, 0.0
	for i := range k.stripes {
		s := &k.stripes[i]
		off := math.Abs(t-s.middle) - s.half
		switch {
		case off*z >= most:
			continue
		case off*z <= -most:
			return 1
		case fine == 0:
			x, y := k.pole.x*z-k.pole.z*n.x, k.pole.y*z-k.pole.z*n.y
			if fine = math.Sqrt(x*x+y*y) / z; fine < limb {
				fine = limb
			}
			fine *= k.fine
		}
		if in := min(fine-off, 2*fine, 2*s.half); in > 0 {
			share += in / (2 * fine)
		}
	}
	return share
}

// steepest is above how fast the place along an axis can change, times z: the length of
// (x, y, max(z, limb)) at most.
const steepest = 1.02

// dot notes the dots of a row.
func (k *lit) dot(y int, r span) {
	clear(k.pale[r.x0:r.x1])
	for _, at := range k.spots[:k.spotted] {
		r := k.near(y, r, at, k.spot)
		for x := r.x0; x < r.x1; x++ {
			k.pale[x] = max(k.pale[x], display.DotPale*k.disc(k.n[x], at, display.DotRadius))
		}
	}
}

// disc is the share in a place n of a disc on the sphere, round a place on it.
func (k *lit) disc(n, at vec, radius float64) float64 {
	z := n.z
	if z < limb {
		z = limb
	}
	off := n.minus(at)
	// Of what is looked at little is within the disc and its edge, which is told without a root.
	if reach := radius*z + k.fine; off.dot(off)*z*z >= reach*reach {
		return 0
	}
	return display.EdgeOf(radius, k.fine/z).At(off.length())
}
