package display_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	l.QuadTo(display.Point{X: 3, Y: 4}, display.Point{X: 5, Y: 6})
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

const everyShapeDump = `page 40 30 rgba 1 1 1 1 "A \"title\""
path radial rgba 1 1 1 1 rgba 1 0 0 0.5 1 2 3 4 dither M 0 0 L 40 0 L 40 30 L 0 30 Z
group 1 even 1 2 3 4 "two eyes"
  clip evenodd M 1 2 Q 3 4 5 6 Z
    ribbon rgba 1 1 1 1 rgba 1 0 0 0.5 0.25 | 1 1 2 3 0.78 0 | 0.333 9 2 3 1 7
  end
  ball 5 6 7 8 0 0 1 rgba 1 0 0 0.5 ringed 0 0 0 0 0 1 0 0 0
end
text "A" bold 15 rgba 1 1 1 1 | 36 2 3
path solid rgba 1 0 0 0.5 stroke 1.5 4 M 0 0 L 9 9
`

func TestDump(t *testing.T) {
	var l display.List
	var b strings.Builder
	everyShape(&l)
	require.NoError(t, l.Dump(&b))
	assert.Equal(t, everyShapeDump, b.String())
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestDumpReportsAWriteThatFails(t *testing.T) {
	var l display.List
	everyShape(&l)
	assert.ErrorContains(t, l.Dump(brokenWriter{}), "disk full")
}

func TestNextSkipsTheWholeShape(t *testing.T) {
	var l display.List
	everyShape(&l)
	var tops []int
	for i := 0; i < len(l.Ops); i = l.Next(i) {
		tops = append(tops, i)
	}
	assert.Equal(t, []int{0, 1, 7, 8}, tops, "path, group, text, path")
	assert.Equal(t, 5, l.Next(2), "the clip ends before the ball")
	assert.Equal(t, 6, l.Next(5))
}

func TestResetForgetsEverything(t *testing.T) {
	var l display.List
	everyShape(&l)
	l.MoveTo(7, 7) // an outline that nothing has used yet
	l.Reset(10, 20, red)
	l.Rect(display.Rect{W: 1, H: 1})
	l.Fill(display.Paint{From: white})
	var b strings.Builder
	require.NoError(t, l.Dump(&b))
	assert.Equal(t, "page 10 20 rgba 1 0 0 0.5\npath solid rgba 1 1 1 1 M 0 0 L 1 0 L 1 1 L 0 1 Z\n", b.String())
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
