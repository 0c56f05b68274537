package render

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/render/display"
	"twincord/sim"
)

// What the string is tied to: a plate on the wall, with two screws, and a ring on it that
// a knot hangs in. Sizes in mm; heights from the string's end, in the wall. It is the same
// to both sides, as everything that both eyes see is.
const (
	plateTop, plateFoot = 36., 6.
	plateHalf           = 8.
	shadowHalf          = 17. // of the plate's soft shadow on the wall, across; along it
	shadowTall          = 30.
	screwRadius         = 1.7
	leastScrew          = 1.5 // radius of one that is drawn, pixels
	leastRing           = 0.5 // half-width of one that is, pixels
	leastKnot           = 1.5 // radius of one that is, pixels
	ringMiddle          = 5.5
	ringRadius          = 7.5
	ringHalf            = 1.5
	knotRadius          = 1.15 // in thicknesses of the string
	ringSteps           = 32
)

// hook draws one eye's image of what the string is tied to.
func (p *patient) hook(eye sim.Eye) {
	end := p.s.Place(p.s.String.Length)
	images, _ := p.images(end, p.s.String.Length)
	at := images[eye]
	if !at.ok || at.distance <= 0 {
		return
	}
	t := p.o.theme()
	h := hook{p: p, eye: eye, end: end, image: at, sight: p.v.SightOf(eye, end, p.s.String.Length).At}
	h.shadow()
	h.bar(plateTop, plateFoot, plateHalf, t.Hook)
	mm := p.scale / at.distance
	if screwRadius*mm > max(leastScrew, p.scale*at.blur/2) {
		for _, z := range [2]float64{plateTop - 7, plateFoot + 9} {
			h.bar(z+screwRadius, z-screwRadius, screwRadius, t.HookShade)
		}
	}
	h.ring(unit((ringHalf*mm - leastRing) / leastRing))
	if knot, ok := p.sphere(at, knotRadius*p.s.String.Thickness); ok && knot.Radius() > leastKnot {
		knot.Colour = p.through(eye, t.String)
		knot.Tint = p.through(eye, knot.White())
		knot.Axis = [3]float64{0, 0, 1}
		p.l.AddBall(knot)
	}
}

// hookSpot is where an eye has the plate on the wall; radius 0 where it has none.
func (p *patient) hookSpot(eye sim.Eye) spot {
	end := p.s.Place(p.s.String.Length)
	images, _ := p.images(end, p.s.String.Length)
	h := hook{p: p, eye: eye, end: end, image: images[eye], sight: p.v.SightOf(eye, end, p.s.String.Length).At}
	if !h.image.ok || h.image.distance <= 0 {
		return spot{}
	}
	at, ok := h.point(0, (plateTop+plateFoot)/2, (plateTop-plateFoot)/2)
	if !ok {
		return spot{}
	}
	return spot{at.At, at.Half}
}

// hook is one eye's image of what the string is tied to while it is drawn.
type hook struct {
	p     *patient
	eye   sim.Eye
	end   r3.Vec // of the string
	image image
	sight sim.XY // of the end, without what is drawn as one
}

// point is a cross-section of a band of the hook, by mm to the right of the string's end
// and above it.
func (h *hook) point(right, above, half float64) (q display.RibbonPoint, ok bool) {
	p := h.p
	s := p.v.SightOf(h.eye, r3.Add(h.end, r3.Vec{X: right, Z: above}), p.s.String.Length)
	if !s.Ahead {
		return q, false
	}
	at := sim.XY{X: h.image.at.X + s.At.X - h.sight.X, Y: h.image.at.Y + s.At.Y - h.sight.Y}
	point, stretch, ok := p.page(at)
	return display.RibbonPoint{
		At: point, Half: p.scale * stretch * half / h.image.distance,
		Soft: p.scale * stretch * h.image.blur / 2, Opacity: h.image.opacity,
	}, ok
}

// shadow is the soft shadow of the plate on the wall, a little below it.
func (h *hook) shadow() {
	at, ok := h.point(0, (plateTop+plateFoot)/2-6, 1)
	if !ok {
		return
	}
	size := display.Point{X: shadowHalf*at.Half + at.Soft, Y: shadowTall*at.Half + at.Soft}
	dark := display.Colour{A: 0.55 * at.Opacity}
	h.p.l.Ellipse(at.At, size.X, size.Y, 0)
	h.p.l.Fill(display.Paint{Kind: display.Radial, From: dark, To: dark.Faded(0), A: at.At, B: size, Dither: true})
}

// bar is an upright bar.
func (h *hook) bar(top, foot, half float64, c display.Colour) {
	a, okA := h.point(0, top, half)
	b, okB := h.point(0, foot, half)
	if okA && okB {
		c = h.p.through(h.eye, c)
		h.p.l.AddRibbon(display.Ribbon{Points: []display.RibbonPoint{a, b}, Colour: c, Shade: c})
	}
}

// ring is the ring on the plate, from its top round and back, as far as it shows.
func (h *hook) ring(shown float64) {
	if shown == 0 {
		return
	}
	var ribs [ringSteps + 1]display.RibbonPoint
	for i := range ribs {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / ringSteps)
		var ok bool
		if ribs[i], ok = h.point(ringRadius*sin, ringMiddle+ringRadius*cos, ringHalf); !ok {
			return
		}
		ribs[i].Opacity *= shown
	}
	t := h.p.o.theme()
	h.p.l.AddRibbon(display.Ribbon{
		Points: ribs[:], Colour: h.p.through(h.eye, t.HookLit), Shade: h.p.through(h.eye, t.HookShade),
	})
}
