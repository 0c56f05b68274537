package display

import "math"

// Reset empties the list for a page of w by h pixels over a ground, and keeps
// its storage.
func (l *List) Reset(w, h float64, ground Colour) {
	l.W, l.H, l.Ground, l.Title = w, h, ground, ""
	l.Ops = l.Ops[:0]
	l.Paths, l.Ribbons, l.Balls = l.Paths[:0], l.Ribbons[:0], l.Balls[:0]
	l.Texts, l.Clips, l.Groups = l.Texts[:0], l.Clips[:0], l.Groups[:0]
	l.verbs, l.points = l.verbs[:0], l.points[:0]
	l.ribs, l.glyphs = l.ribs[:0], l.glyphs[:0]
	l.penVerbs, l.penPoints = 0, 0
}

// MoveTo begins a contour of the outline under the pen. Fill, Stroke and OpenClip use
// that outline up and leave an empty one.
func (l *List) MoveTo(x, y float64) { l.pen(MoveTo, Point{x, y}) }

// LineTo goes on in a straight line.
func (l *List) LineTo(x, y float64) { l.pen(LineTo, Point{x, y}) }

// CubicTo goes on along a cubic Bézier curve.
func (l *List) CubicTo(c, d, p Point) { l.pen(CubicTo, c, d, p) }

// Close closes the contour.
func (l *List) Close() { l.pen(Close) }

func (l *List) pen(v Verb, p ...Point) {
	l.verbs = append(l.verbs, v)
	l.points = append(l.points, p...)
}

// Rect adds a rectangle to the outline under the pen.
func (l *List) Rect(r Rect) {
	l.MoveTo(r.X, r.Y)
	l.LineTo(r.X+r.W, r.Y)
	l.LineTo(r.X+r.W, r.Y+r.H)
	l.LineTo(r.X, r.Y+r.H)
	l.Close()
}

// arc is the reach of the control points that makes a cubic the quarter of a
// circle of radius 1, to 0.03 %.
const arc = 0.5522847498

// RoundRect adds a rectangle with corners of radius c, at most half its shorter
// side.
func (l *List) RoundRect(r Rect, c float64) {
	c = math.Min(c, math.Min(r.W, r.H)/2)
	k := c * (1 - arc)
	x0, y0, x1, y1 := r.X, r.Y, r.X+r.W, r.Y+r.H
	l.MoveTo(x0+c, y0)
	l.LineTo(x1-c, y0)
	l.CubicTo(Point{x1 - k, y0}, Point{x1, y0 + k}, Point{x1, y0 + c})
	l.LineTo(x1, y1-c)
	l.CubicTo(Point{x1, y1 - k}, Point{x1 - k, y1}, Point{x1 - c, y1})
	l.LineTo(x0+c, y1)
	l.CubicTo(Point{x0 + k, y1}, Point{x0, y1 - k}, Point{x0, y1 - c})
	l.LineTo(x0, y0+c)
	l.CubicTo(Point{x0, y0 + k}, Point{x0 + k, y0}, Point{x0 + c, y0})
	l.Close()
}

// Ellipse adds an ellipse with the half-axis rx turned by angle from +x towards
// +y.
func (l *List) Ellipse(c Point, rx, ry, angle float64) {
	s, k := math.Sincos(angle)
	at := func(u, v float64) Point {
		u, v = u*rx, v*ry
		return Point{c.X + u*k - v*s, c.Y + u*s + v*k}
	}
	p := at(1, 0)
	l.MoveTo(p.X, p.Y)
	l.CubicTo(at(1, arc), at(arc, 1), at(0, 1))
	l.CubicTo(at(-arc, 1), at(-1, arc), at(-1, 0))
	l.CubicTo(at(-1, -arc), at(-arc, -1), at(0, -1))
	l.CubicTo(at(arc, -1), at(1, -arc), at(1, 0))
	l.Close()
}

// Circle adds a circle.
func (l *List) Circle(c Point, r float64) { l.Ellipse(c, r, r, 0) }

func (l *List) takeOutline() Outline {
	o := Outline{
		Verbs:  l.verbs[l.penVerbs:len(l.verbs):len(l.verbs)],
		Points: l.points[l.penPoints:len(l.points):len(l.points)],
	}
	l.penVerbs, l.penPoints = len(l.verbs), len(l.points)
	return o
}

// Fill paints the outline under the pen by the non-zero rule.
func (l *List) Fill(p Paint) { l.addPath(Path{Outline: l.takeOutline(), Paint: p}) }

// Stroke draws along the outline under the pen, width wide, unbroken.
func (l *List) Stroke(width float64, p Paint) { l.StrokeDashed(width, 0, p) }

// StrokeDashed draws along the outline in dashes and gaps of the length dash; 0
// is unbroken.
func (l *List) StrokeDashed(width, dash float64, p Paint) {
	l.addPath(Path{Outline: l.takeOutline(), Paint: p, Stroke: width, Dash: dash})
}

func (l *List) addPath(p Path) {
	l.Ops = append(l.Ops, Op{KindPath, len(l.Paths)})
	l.Paths = append(l.Paths, p)
}

// AddRibbon adds a ribbon and keeps a copy of its points. One of fewer than two
// points is left out.
func (l *List) AddRibbon(r Ribbon) {
	if len(r.Points) < 2 {
		return
	}
	n := len(l.ribs)
	l.ribs = append(l.ribs, r.Points...)
	l.Ops = append(l.Ops, Op{KindRibbon, len(l.Ribbons)})
	// Another ribbon than r, whose points may then stay on the caller's stack.
	l.Ribbons = append(l.Ribbons, Ribbon{
		Points: l.ribs[n:len(l.ribs):len(l.ribs)],
		Colour: r.Colour, Shade: r.Shade, TwistDepth: r.TwistDepth,
	})
}

// AddBall adds a ball.
func (l *List) AddBall(b Ball) {
	l.Ops = append(l.Ops, Op{KindBall, len(l.Balls)})
	l.Balls = append(l.Balls, b)
}

// AddText adds a text and keeps a copy of its glyphs.
func (l *List) AddText(t Text) {
	n := len(l.glyphs)
	l.glyphs = append(l.glyphs, t.Glyphs...)
	t.Glyphs = l.glyphs[n:len(l.glyphs):len(l.glyphs)]
	l.Ops = append(l.Ops, Op{KindText, len(l.Texts)})
	l.Texts = append(l.Texts, t)
}

// OpenClip shows what follows, up to the matching End, inside the outline under
// the pen only.
func (l *List) OpenClip() { l.openClip(l.takeOutline()) }

// OpenClipEvenOdd is OpenClip by the even-odd rule.
func (l *List) OpenClipEvenOdd() {
	o := l.takeOutline()
	o.EvenOdd = true
	l.openClip(o)
}

func (l *List) openClip(o Outline) {
	l.Ops = append(l.Ops, Op{KindClip, len(l.Clips)})
	l.Clips = append(l.Clips, Clip{Outline: o})
}

// OpenGroup paints what follows, up to the matching End, as one thing.
func (l *List) OpenGroup(g Group) {
	l.Ops = append(l.Ops, Op{KindGroup, len(l.Groups)})
	l.Groups = append(l.Groups, g)
}

// End closes the innermost clip or group.
func (l *List) End() { l.Ops = append(l.Ops, Op{Kind: KindEnd}) }
