package window

import (
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"twincord/render/display"
)

// Where the light on a cord comes from on the page, as package raster has it.
const lightX, lightY = -0.55, -0.83

// drawRibbon draws a ribbon as one strip, whose shader covers and twists it. Both
// ends are cut across and blurred, so the strip goes on past them by the blur.
func (p *painter) drawRibbon(r *display.Ribbon) {
	n := len(r.Points)
	if n < 2 {
		return
	}
	p.flush()
	p.own.reset()
	first, last := softness(r.Points[0].Soft), softness(r.Points[n-1].Soft)
	total := 0.0
	for i := range n - 1 {
		total += distance(r.Points[i].At, r.Points[i+1].At)
	}
	arc := 0.0
	for i := range r.Points {
		q := &r.Points[i]
		a, b := r.Points[max(i-1, 0)].At, r.Points[min(i+1, n-1)].At
		ux, uy := unit(b.X-a.X, b.Y-a.Y)
		// miter steps to the right of the way on a page with y down; the pixels count
		// across to the left of it, so that the twist turns the same way.
		ox, oy := miter(a, q.At, b)
		ox, oy = -ox, -oy
		if i > 0 {
			arc += distance(a, q.At)
		}
		soft := softness(q.Soft)
		mottle, body := look(r.Points, i, soft)
		section := func(past float64) {
			at := display.Point{X: q.At.X + ux*past, Y: q.At.Y + uy*past}
			p.own.section(ebiten.Vertex{
				SrcX: float32(arc + past), SrcY: float32(total - arc - past),
				ColorR: float32(q.Half), ColorG: float32(soft), ColorB: float32(q.Opacity), ColorA: float32(2 * q.Twist),
				Custom1: float32(-uy*lightX + ux*lightY), Custom2: float32(mottle), Custom3: float32(body),
			}, at, ox, oy, q.Half+soft, len(p.own.vertices) > 0)
		}
		if i == 0 {
			section(-first)
		}
		section(0)
		if i == n-1 {
			section(last)
		}
	}
	u := p.options.Uniforms
	u["Lit"], u["Shade"], u["Depth"] = straight(r.Colour), straight(r.Shade), float32(r.TwistDepth)
	u["Feather"] = []float32{float32(first), float32(last)}
	p.draw(&p.own, p.ribbon, nil, nil)
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
