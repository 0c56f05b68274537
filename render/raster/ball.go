package raster

import (
	"math"

	"twincord/render/display"
)

// A lit is a ball that is being painted: its outline turned into the unit circle,
// and its look in numbers that do not change from pixel to pixel.
type lit struct {
	b              *display.Ball
	axis, up, side vec
	light, half    vec
	mouth          vec
	cos, sin       float64
	radius, soft   float64 // mean radius; softness of the edge
	fine, sharp    float64 // what a pattern's edge is spread by, of the radius; half its inverse
	gleam          float64
	red, grn, blu  float64
}

type vec = [3]float64

func dot(a, b vec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// ball paints a ball.
func (p *Painter) ball(b *display.Ball) {
	if !finite(b.Centre.X, b.Centre.Y, b.RadiusX, b.RadiusY, b.Angle, b.Soft, b.Opacity,
		b.Hole.X, b.Hole.Y, b.Bore, b.Axis[0], b.Axis[1], b.Axis[2], b.Light[0], b.Light[1], b.Light[2]) ||
		b.RadiusX < thinnest || b.RadiusY < thinnest {
		return
	}
	var k lit
	k.begin(b)
	fade := unit(b.Opacity) * unit(b.Colour.A)
	if fade == 0 {
		return
	}
	// The box round the outline and its softness.
	rx := math.Hypot(b.RadiusX*k.cos, b.RadiusY*k.sin) + k.soft
	ry := math.Hypot(b.RadiusX*k.sin, b.RadiusY*k.cos) + k.soft
	top := max(int(math.Floor(max(b.Centre.Y-ry, -1))), p.clip.Min.Y)
	end := min(int(math.Ceil(min(b.Centre.Y+ry, reach))), p.clip.Max.Y)
	left := max(int(math.Floor(max(b.Centre.X-rx, -1))), p.clip.Min.X)
	right := min(int(math.Ceil(min(b.Centre.X+rx, reach))), p.clip.Max.X)
	for y := top; y < end; y++ {
		x0, x1 := right, left
		dy := float64(y) + pixel - b.Centre.Y
		for x := left; x < right; x++ {
			u, v, r := k.disc(float64(x)+pixel-b.Centre.X, dy)
			a := k.cover(r) * fade
			p.cov[x] = uint16(a*one + 0.5)
			if p.cov[x] == 0 {
				continue
			}
			x0, x1 = min(x0, x), x+1
			p.inks[x] = k.ink(u, v, r)
		}
		if x0 < x1 {
			p.emitRow(y, x0, x1, &dither[y&7])
		}
	}
}

func (k *lit) begin(b *display.Ball) {
	*k = lit{b: b, mouth: b.Mouth()}
	k.axis, k.up, k.side = b.Frame()
	k.light = b.Light
	if n := math.Sqrt(dot(k.light, k.light)); n > 0 {
		for i := range k.light {
			k.light[i] /= n
		}
	}
	k.half = vec{k.light[0], k.light[1], k.light[2] + 1}
	if n := math.Sqrt(dot(k.half, k.half)); n > 0 {
		for i := range k.half {
			k.half[i] /= n
		}
	}
	k.sin, k.cos = math.Sincos(b.Angle)
	k.radius = math.Sqrt(b.RadiusX * b.RadiusY)
	k.soft = softness(b.Soft)
	k.fine = 0.5/k.radius + 0.6*max(b.Soft, 0)/k.radius
	k.sharp = 1 / (2 * k.fine)
	// A blurred gleam is as much light on more surface.
	k.gleam = display.Gleam / (1 + 6*max(b.Soft, 0)/k.radius)
	k.red, k.grn, k.blu = unit(b.Colour.R), unit(b.Colour.G), unit(b.Colour.B)
}

// disc turns a step on the page from the centre into the unit disc, as seen on the
// page, and gives its length.
func (k *lit) disc(dx, dy float64) (u, v, r float64) {
	a := (dx*k.cos + dy*k.sin) / k.b.RadiusX
	c := (dy*k.cos - dx*k.sin) / k.b.RadiusY
	return a*k.cos - c*k.sin, a*k.sin + c*k.cos, math.Sqrt(a*a + c*c)
}

// cover is the coverage at a distance of r radii from the centre: a ribbon's with the
// radius as half-width.
func (k *lit) cover(r float64) float64 {
	a := min(k.radius+k.soft-r*k.radius, 2*k.radius, 2*k.soft) / (2 * k.soft)
	return max(a, 0)
}

// ink is the colour of the sphere at a place of the unit disc; outside it, where
// blur spreads it to, the colour of its edge.
func (k *lit) ink(u, v, r float64) ink {
	n := vec{u, v, 0}
	if r < 1 {
		n[2] = math.Sqrt(1 - r*r)
	} else {
		n[0], n[1] = u/r, v/r
	}
	shade := display.Ambient + display.Diffuse*max(0, (dot(n, k.light)+display.Wrap)/(1+display.Wrap))
	shade *= display.Rim + (1-display.Rim)*n[2]
	white := 0.0
	switch k.b.Surface {
	case display.Banded:
		shade *= 1 - (1-display.BandShade)*k.between(math.Abs(dot(n, k.up)), display.BandFrom, display.BandTo)
	case display.Ringed:
		t := math.Abs(dot(n, k.axis))
		shade *= 1 - (1-display.RingShade)*(k.between(t, display.RingFrom, display.RingTo)+k.between(t, display.RingFrom2, display.RingTo2))
	case display.Dotted:
		white = display.DotPale * k.dots(n)
	}
	if k.b.Bore > 0 {
		d := vec{n[0] - k.mouth[0], n[1] - k.mouth[1], n[2] - k.mouth[2]}
		if far := dot(d, d); far < 1 {
			in := k.below(math.Sqrt(far), unit(k.b.Bore))
			shade *= 1 - (1-display.HoleShade)*in
			white *= 1 - in
		}
	}
	g := dot(n, k.half)
	if g > 0.8 { // below, nothing is left of it
		for range 5 { // to the power of 32
			g *= g
		}
		g *= k.gleam
	} else {
		g = 0
	}
	mix := func(c float64) float64 {
		c = min((c+(1-c)*white)*shade, 1)
		return c + (1-c)*g
	}
	return newInk(mix(k.red), mix(k.grn), mix(k.blu))
}

// between is 1 inside a stripe, 0 outside, with edges as soft as they look.
func (k *lit) between(t, from, to float64) float64 {
	return min(k.below(from, t), k.below(t, to))
}

// below is 1 where t is well below limit, 0 well above.
func (k *lit) below(t, limit float64) float64 { return unit(0.5 + (limit-t)*k.sharp) }

func (k *lit) dots(n vec) float64 {
	at := vec{dot(n, k.axis), dot(n, k.up), dot(n, k.side)}
	best := 0.0
	for i := range display.Dots {
		d := &display.Dots[i]
		// Most are too far off along the axis alone.
		if math.Abs(at[0]-d[0]) > display.DotRadius+k.fine {
			continue
		}
		q := vec{at[0] - d[0], at[1] - d[1], at[2] - d[2]}
		best = max(best, k.below(math.Sqrt(dot(q, q)), display.DotRadius))
	}
	return best
}
