package display_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/render/display"
)

var (
	white = display.Colour{R: 1, G: 1, B: 1, A: 1}
	red   = display.Colour{R: 1, A: 0.5}

	ribbon = []display.RibbonPoint{
		{At: display.Point{X: 1, Y: 1}, Half: 2, Soft: 3, Opacity: 0.78, Twist: -0.00001},
		{At: display.Point{X: 1. / 3, Y: 9}, Half: 2, Soft: 3, Opacity: 1, Twist: 7},
	}
	letter = []display.Glyph{{ID: 36, At: display.Point{X: 2, Y: 3}}}
)

// everyShape builds a list that has every shape, nested.
func everyShape(l *display.List) {
	l.Reset(40, 30, white)
	l.Title = `A "title"`
	l.Rect(display.Rect{W: 40, H: 30})
	l.Fill(display.Paint{Kind: display.Radial, From: white, To: red, A: display.Point{X: 1, Y: 2}, B: display.Point{X: 3, Y: 4}, Dither: true})
	l.OpenGroup(display.Group{Opacity: 1, Even: true, Bounds: display.Rect{X: 1, Y: 2, W: 3, H: 4}, Label: "two eyes"})
	l.MoveTo(1, 2)
	l.CubicTo(display.Point{X: 3, Y: 4}, display.Point{X: 4, Y: 5}, display.Point{X: 5, Y: 6})
	l.Close()
	l.OpenClipEvenOdd()
	l.AddRibbon(display.Ribbon{Points: ribbon, Colour: white, Shade: red, TwistDepth: 0.25})
	l.End()
	l.AddBall(display.Ball{Centre: display.Point{X: 5, Y: 6}, RadiusX: 7, RadiusY: 8, Opacity: 1, Colour: red, Surface: display.Ringed, Axis: [3]float64{0, 0, 1}})
	l.End()
	l.AddText(display.Text{Glyphs: letter, String: "A", Face: display.Bold, Size: 15, Colour: white})
	l.MoveTo(0, 0)
	l.LineTo(9, 9)
	l.StrokeDashed(1.5, 4, display.Paint{From: red})
}

// teller writes down what it is told, and what is inside it in brackets.
type teller struct {
	l    *display.List
	said strings.Builder
}

func (t *teller) Path(*display.Path)     { t.said.WriteString("path ") }
func (t *teller) Ribbon(*display.Ribbon) { t.said.WriteString("ribbon ") }
func (t *teller) Ball(*display.Ball)     { t.said.WriteString("ball ") }
func (t *teller) Text(*display.Text)     { t.said.WriteString("text ") }

func (t *teller) Clip(_ *display.Clip, inside display.Span)   { t.within("clip", inside) }
func (t *teller) Group(_ *display.Group, inside display.Span) { t.within("group", inside) }

func (t *teller) Even(_ *display.Group, ground, pairs display.Span) {
	t.within("ground", ground)
	for first, second := range t.l.Pairs(pairs) {
		t.within("first", first)
		t.within("second", second)
	}
}

func (t *teller) within(name string, s display.Span) {
	t.said.WriteString(name + "( ")
	t.l.Paint(s, t)
	t.said.WriteString(") ")
}

func told(l *display.List) string {
	t := teller{l: l}
	l.Paint(l.All(), &t)
	return strings.TrimSpace(t.said.String())
}

func TestAPainterIsToldEveryShapeInOrder(t *testing.T) {
	var l display.List
	everyShape(&l)
	assert.Equal(t, "path ground( clip( ribbon ) ) first( ball ) second( ) text path", told(&l))
}

func TestBracketsInEachOther(t *testing.T) {
	var l display.List
	square := func() {
		l.Rect(display.Rect{W: 1, H: 1})
		l.Fill(display.Paint{From: white})
	}
	open := func(g display.Group) { l.OpenGroup(g) }
	l.Reset(10, 10, white)
	open(display.Group{Even: true}) // with nothing in it
	l.End()
	open(display.Group{Even: true})
	square()
	for range 2 { // pairs, of which the second has no partner
		open(display.Group{Opacity: 0.5})
		open(display.Group{Opacity: 1})
		square()
		l.End()
		l.End()
		l.AddBall(display.Ball{})
	}
	l.AddBall(display.Ball{})
	l.End()
	l.OpenClip() // never closed
	open(display.Group{})
	l.End()
	assert.Equal(t, "ground( ) ground( path ) first( group( group( path ) ) ) second( ball ) "+
		"first( group( group( path ) ) ) second( ball ) first( ball ) second( ) clip( group( ) )", told(&l))
}

func TestResetForgetsEverything(t *testing.T) {
	var l display.List
	everyShape(&l)
	l.MoveTo(7, 7) // an outline that nothing has used yet
	l.Reset(10, 20, red)
	l.Rect(display.Rect{W: 1, H: 1})
	l.Fill(display.Paint{From: white})
	assert.Equal(t, "path", told(&l))
	assert.Equal(t, display.List{W: 10, H: 20, Ground: red}, display.List{W: l.W, H: l.H, Ground: l.Ground, Title: l.Title})
	assert.Equal(t, []display.Point{{}, {X: 1}, {X: 1, Y: 1}, {Y: 1}}, l.Paths[0].Outline.Points)
	assert.Len(t, l.Paths, 1)
	assert.Zero(t, len(l.Ribbons)+len(l.Balls)+len(l.Texts)+len(l.Clips)+len(l.Groups))
}

func TestRebuildingAllocatesNothing(t *testing.T) {
	var l display.List
	everyShape(&l)
	assert.Zero(t, testing.AllocsPerRun(50, func() { everyShape(&l) }))
}

// Storage that grows while a list is built must not move what earlier shapes hold.
func TestGrowthKeepsEarlierShapes(t *testing.T) {
	var l display.List
	l.Reset(10, 10, white)
	const n = 500
	ribbon := make([]display.RibbonPoint, 2)
	for i := range n {
		v := float64(i)
		l.MoveTo(v, v)
		l.LineTo(v+1, v)
		l.Stroke(1, display.Paint{From: red})
		ribbon[0].Half, ribbon[1].Half = v, v+1
		l.AddRibbon(display.Ribbon{Points: ribbon})
		l.AddText(display.Text{Glyphs: []display.Glyph{{ID: uint32(i)}}})
	}
	for i := range n {
		v := float64(i)
		assert.Equal(t, []display.Point{{X: v, Y: v}, {X: v + 1, Y: v}}, l.Paths[i].Outline.Points)
		assert.Equal(t, v+1, l.Ribbons[i].Points[1].Half)
		assert.Equal(t, uint32(i), l.Texts[i].Glyphs[0].ID)
	}
}

func TestARibbonOfOnePointIsLeftOut(t *testing.T) {
	var l display.List
	l.AddRibbon(display.Ribbon{Points: make([]display.RibbonPoint, 1)})
	assert.Empty(t, l.Ops)
}

// at walks the outline of a path and gives points along its curves.
func along(o display.Outline) (points []display.Point) {
	rest := o.Points
	var from display.Point
	for _, v := range o.Verbs {
		switch v {
		case display.MoveTo, display.LineTo:
			from, rest = rest[0], rest[1:]
			points = append(points, from)
		case display.CubicTo:
			for _, t := range []float64{0.25, 0.5, 0.75, 1} {
				u := 1 - t
				a, b, c, d := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
				points = append(points, display.Point{
					X: a*from.X + b*rest[0].X + c*rest[1].X + d*rest[2].X,
					Y: a*from.Y + b*rest[0].Y + c*rest[1].Y + d*rest[2].Y,
				})
			}
			from, rest = rest[2], rest[3:]
		}
	}
	return points
}

func TestEllipseLiesOnTheEllipse(t *testing.T) {
	var l display.List
	c, rx, ry, angle := display.Point{X: 50, Y: 40}, 20., 5., 0.6
	l.Ellipse(c, rx, ry, angle)
	l.Fill(display.Paint{})
	for _, p := range along(l.Paths[0].Outline) {
		dx, dy := p.X-c.X, p.Y-c.Y
		u := (dx*math.Cos(angle) + dy*math.Sin(angle)) / rx
		v := (dy*math.Cos(angle) - dx*math.Sin(angle)) / ry
		assert.InDelta(t, 1, math.Hypot(u, v), 3e-4) // the reach of the control points: 0.03 %
	}
}

func TestRoundRectKeepsToItsCorners(t *testing.T) {
	var l display.List
	r := display.Rect{X: 10, Y: 20, W: 60, H: 12}
	l.RoundRect(r, 99) // more than half the shorter side
	l.Fill(display.Paint{})
	for _, p := range along(l.Paths[0].Outline) {
		// A bar with round ends: every point is half the height from its spine.
		spine := min(max(p.X, r.X+6), r.X+r.W-6)
		assert.InDelta(t, 6, math.Hypot(p.X-spine, p.Y-(r.Y+6)), 6*3e-4)
	}
}
