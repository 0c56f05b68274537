package raster_test

import (
	"image"
	"math"

	"twincord/render/display"
	"twincord/render/raster"
)

var (
	black = display.Colour{A: 1}
	white = display.Colour{R: 1, G: 1, B: 1, A: 1}
)

func solid(c display.Colour) display.Paint { return display.Paint{From: c} }

// page is an empty black page.
func page(w, h int) *display.List {
	var l display.List
	l.Reset(float64(w), float64(h), black)
	return &l
}

// paint is what a Painter makes of a list.
func paint(l *display.List) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, int(l.W), int(l.H)))
	var p raster.Painter
	p.Paint(l, img)
	return img
}

// light is the red of a pixel, 0 – 1: the coverage of white on black.
func light(img *image.RGBA, x, y int) float64 { return float64(img.RGBAAt(x, y).R) / 255 }

// ink is the sum of light over the page.
func ink(img *image.RGBA) float64 {
	sum := 0.0
	for i := 0; i < len(img.Pix); i += 4 {
		sum += float64(img.Pix[i]) / 255
	}
	return sum
}

// A tape is random numbers read off bytes; after its end they are all 0.
type tape struct{ bytes []byte }

func (t *tape) n(below int) int {
	if len(t.bytes) == 0 {
		return 0
	}
	b := t.bytes[0]
	t.bytes = t.bytes[1:]
	return int(b) % below
}

func (t *tape) share() float64 { return float64(t.n(256)) / 255 }

// number is mostly a small one, at times of the kind that breaks things.
func (t *tape) number(most float64) float64 {
	switch t.n(40) {
	case 0:
		return [...]float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, 1e-300, 1e8, -1e8}[t.n(8)]
	case 1:
		return 0
	case 2:
		return -most * t.share()
	}
	return most*t.share() + t.share()
}

func (t *tape) point() display.Point { return display.Point{X: t.number(100), Y: t.number(70)} }

func (t *tape) colour() display.Colour {
	return display.Colour{R: t.share(), G: t.share(), B: t.share(), A: [...]float64{1, 1, 0.5, t.share()}[t.n(4)]}
}

func (t *tape) outline(l *display.List) {
	switch t.n(4) {
	case 0:
		l.Rect(display.Rect{X: float64(t.n(90)), Y: float64(t.n(60)), W: float64(t.n(50)), H: float64(t.n(50))})
	case 1:
		l.Ellipse(t.point(), t.number(40), t.number(40), t.number(6))
	case 2:
		l.RoundRect(display.Rect{X: t.number(90), Y: t.number(60), W: t.number(50), H: t.number(50)}, t.number(20))
	default:
		q := t.point()
		l.MoveTo(q.X, q.Y)
		for range t.n(6) {
			switch t.n(3) {
			case 0:
				l.CubicTo(t.point(), t.point(), t.point())
			case 1:
				l.Close()
			default:
				q := t.point()
				l.LineTo(q.X, q.Y)
			}
		}
	}
}

func (t *tape) paint() display.Paint {
	return display.Paint{
		Kind: display.PaintKind(t.n(3)), From: t.colour(), To: t.colour(),
		A: t.point(), B: t.point(), Dither: t.n(2) == 0,
	}
}

// shape adds a random shape, with others inside to a depth.
func (t *tape) shape(l *display.List, depth int) {
	kinds := 7
	if depth == 0 {
		kinds = 4
	}
	switch t.n(kinds) {
	case 0:
		t.outline(l)
		switch t.n(4) {
		case 0:
			l.Fill(t.paint())
		case 1:
			l.Fill(t.paint())
			l.Paths[len(l.Paths)-1].Outline.EvenOdd = true
		case 2:
			l.Stroke(t.number(9), t.paint())
		default:
			l.StrokeDashed(t.number(9), t.number(9), t.paint())
		}
	case 1:
		r := display.Ribbon{Colour: t.colour(), Shade: t.colour(), TwistDepth: t.share()}
		for range 2 + t.n(5) {
			r.Points = append(r.Points, display.RibbonPoint{
				At: t.point(), Half: t.number(9), Soft: t.number(12), Opacity: t.number(1), Twist: t.number(20),
			})
		}
		l.AddRibbon(r)
	case 2:
		l.AddBall(display.Ball{
			Centre: t.point(), RadiusX: t.number(30), RadiusY: t.number(30), Angle: t.number(6),
			Soft: t.number(8), Opacity: t.number(1), Colour: t.colour(), Surface: display.Surface(t.n(4)),
			Hole: display.Point{X: t.number(1), Y: t.number(1)}, Bore: t.number(1),
			Axis:  [3]float64{t.number(1), t.number(1), t.number(1)},
			Light: [3]float64{t.number(1), t.number(1), t.number(1)},
		})
	case 3:
		l.AddText(display.Text{
			Face: display.Face(t.n(2)), Size: t.number(90), Colour: t.colour(),
			Glyphs: []display.Glyph{{ID: uint32(t.n(200)), At: t.point()}, {ID: uint32(t.n(200)), At: t.point()}},
		})
	case 4:
		t.outline(l)
		if t.n(2) == 0 {
			l.OpenClip()
		} else {
			l.OpenClipEvenOdd()
		}
		t.shapes(l, depth-1)
		l.End()
	case 5:
		l.OpenGroup(display.Group{Opacity: t.number(1)})
		t.shapes(l, depth-1)
		l.End()
	default:
		l.OpenGroup(display.Group{Opacity: 1, Even: true, Bounds: display.Rect{W: l.W, H: l.H}})
		l.Rect(display.Rect{W: l.W, H: l.H})
		ground := t.paint()
		ground.From.A, ground.To.A = 1, 1
		l.Fill(ground)
		t.shapes(l, depth-1)
		l.End()
	}
}

func (t *tape) shapes(l *display.List, depth int) {
	for range t.n(5) {
		t.shape(l, depth)
	}
}

// randomList is a page of shapes that bytes stand for.
func randomList(bytes []byte) *display.List {
	l := page(101, 67)
	t := &tape{bytes}
	for len(t.bytes) > 0 && len(l.Ops) < 200 {
		t.shape(l, 3)
	}
	return l
}
