package window

import (
	"image"
	"math"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/raster"
)

// These tests need no display: they look at the meshes. How the shaders paint
// them is seen by the tests of cmd/twincord with the tag window.

const side = 64 // of the test page, pixels

// shaded paints a mesh of the flat shader in white on black: what flat.kage does,
// by hand.
func shaded(m *mesh) []float64 {
	page := make([]float64, side*side)
	for i := 0; i < len(m.indices); i += 3 {
		a, b, c := m.vertices[m.indices[i]], m.vertices[m.indices[i+1]], m.vertices[m.indices[i+2]]
		cross := func(p, q ebiten.Vertex, x, y float64) float64 {
			return float64(q.DstX-p.DstX)*(y-float64(p.DstY)) - float64(q.DstY-p.DstY)*(x-float64(p.DstX))
		}
		whole := cross(a, b, float64(c.DstX), float64(c.DstY))
		if whole == 0 {
			continue
		}
		for y := range side {
			for x := range side {
				// A hair off the middle, so that no pixel lies on an edge between two
				// triangles.
				px, py := float64(x)+0.50001, float64(y)+0.50003
				u, v, w := cross(b, c, px, py)/whole, cross(c, a, px, py)/whole, cross(a, b, px, py)/whole
				if min(u, v, w) < 0 {
					continue
				}
				at := func(of func(*ebiten.Vertex) float32) float64 {
					return u*float64(of(&a)) + v*float64(of(&b)) + w*float64(of(&c))
				}
				d := math.Hypot(at(func(v *ebiten.Vertex) float32 { return v.Custom0 }), at(func(v *ebiten.Vertex) float32 { return v.Custom3 }))
				h := at(func(v *ebiten.Vertex) float32 { return v.Custom1 })
				cover := max(0, min(min(h, d+0.5)-max(-h, d-0.5), 1))
				cover *= at(func(v *ebiten.Vertex) float32 { return v.ColorA })
				page[y*side+x] += (1 - page[y*side+x]) * cover
			}
		}
	}
	return page
}

func TestMeshesCoverWhatTheRasterCovers(t *testing.T) {
	for name, draw := range map[string]func(*display.List){
		"disc":         func(l *display.List) { l.Circle(display.Point{X: 31.3, Y: 30.8}, 17.4); l.Fill(white) },
		"ellipse":      func(l *display.List) { l.Ellipse(display.Point{X: 31.3, Y: 30.8}, 25, 6, 0.7); l.Fill(white) },
		"dot":          func(l *display.List) { l.Circle(display.Point{X: 31.3, Y: 30.8}, 1.2); l.Fill(white) },
		"round corner": func(l *display.List) { l.RoundRect(display.Rect{X: 5, Y: 9.5, W: 50, H: 30.25}, 7); l.Fill(white) },
		"the other way round": func(l *display.List) {
			l.MoveTo(10, 10)
			l.LineTo(12, 50)
			l.LineTo(50, 44)
			l.Close()
			l.Fill(white)
		},
		"line":      func(l *display.List) { l.MoveTo(8, 12); l.LineTo(54, 47); l.Stroke(5, white) },
		"hair":      func(l *display.List) { l.MoveTo(8, 30.5); l.LineTo(54, 30.5); l.Stroke(0.4, white) },
		"corner":    func(l *display.List) { l.MoveTo(10, 50); l.LineTo(30, 10); l.LineTo(54, 50); l.Stroke(6, white) },
		"ring":      func(l *display.List) { l.Circle(display.Point{X: 32, Y: 32}, 20); l.Stroke(2, white) },
		"rectangle": func(l *display.List) { l.Rect(display.Rect{X: 10, Y: 12, W: 40, H: 30}); l.Stroke(3, white) },
		"dashes": func(l *display.List) {
			l.MoveTo(6, 20)
			l.LineTo(40, 20)
			l.LineTo(58, 50)
			l.StrokeDashed(2, 4, white)
		},
		"faint": func(l *display.List) {
			l.Circle(display.Point{X: 32, Y: 32}, 15)
			l.Fill(display.Paint{From: white.From.Faded(0.4)})
		},
	} {
		var l display.List
		l.Reset(side, side, display.Colour{A: 1})
		draw(&l)
		want := image.NewRGBA(image.Rect(0, 0, side, side))
		raster.Paint(&l, want)

		var p painter
		for i := range l.Paths {
			p.path(&l.Paths[i])
		}
		require.NotEmpty(t, p.mesh.indices, name)
		sum, far := 0., 0
		for i, got := range shaded(&p.mesh) {
			off := math.Abs(got*255 - float64(want.Pix[4*i]))
			sum += off
			if off > 24 { // the edge of a slanted area is a ramp here, and exact there
				far++
			}
		}
		assert.Less(t, sum/(side*side), 1.5, name)
		assert.Less(t, far, side*side/100, name)
	}
}

func TestConvex(t *testing.T) {
	at := func(v ...float64) (line []display.Point) {
		for i := 0; i < len(v); i += 2 {
			line = append(line, display.Point{X: v[i], Y: v[i+1]})
		}
		return line
	}
	assert.True(t, convex(at(0, 0, 4, 0, 4, 4, 0, 4)))
	assert.True(t, convex(at(0, 0, 0, 4, 4, 4, 4, 0)), "either way round")
	assert.True(t, convex(at(0, 0, 2, 0, 4, 0, 4, 4)), "a point on a side")
	assert.False(t, convex(at(0, 0, 4, 0, 1, 1, 0, 4)))
	assert.False(t, convex(at(0, 0, 4, 4, 4, 0, 0, 4)), "crossing itself")
	star := make([]display.Point, 5)
	for i := range star {
		sin, cos := math.Sincos(float64(2*i) * 2 * math.Pi / 5)
		star[i] = display.Point{X: cos, Y: sin}
	}
	assert.False(t, convex(star), "turning one way, but twice round")
	assert.False(t, convex(at(0, 0, 4, 0)))
}

func TestRectangleOf(t *testing.T) {
	outline := func(r display.Rect) *display.Outline {
		var l display.List
		l.Rect(r)
		l.Fill(white)
		return &l.Paths[0].Outline
	}
	r, ok := rectangleOf(outline(display.Rect{X: 2, Y: 3, W: 4, H: 5}))
	assert.True(t, ok)
	assert.Equal(t, image.Rect(2, 3, 6, 8), r)
	_, ok = rectangleOf(outline(display.Rect{X: 2.5, Y: 3, W: 4, H: 5}))
	assert.False(t, ok, "not along the pixels")
	_, ok = rectangleOf(polygon([]display.Point{{X: 0, Y: 0}, {X: 4, Y: 1}, {X: 4, Y: 5}, {X: 0, Y: 4}}))
	assert.False(t, ok)
}

// Ribs of a straight ribbon are a strip; round a sharp turn they are pieces, and
// nowhere else.
func TestTightTurns(t *testing.T) {
	var r display.Ribbon
	for i := range 21 {
		at := display.Point{X: float64(i) * 10}
		if i > 10 {
			at = display.Point{X: 100, Y: float64(i-10) * 10}
		}
		r.Points = append(r.Points, display.RibbonPoint{At: at, Half: 8, Soft: 1, Opacity: 1})
	}
	var p painter
	p.measure(&r)
	for i, b := range p.ribs {
		off := math.Abs(float64(i-10)) * 10
		assert.Equal(t, off < 2*b.reach, b.tight, "%v pixels from the turn", off)
		assert.InDelta(t, float64(i)*10, float64(b.vertex.SrcX), 1e-4)
		assert.InDelta(t, float64(20-i)*10, float64(b.vertex.SrcY), 1e-4)
	}
	for i := range r.Points {
		r.Points[i].At = display.Point{X: float64(i) * 10, Y: float64(i)}
	}
	p.measure(&r)
	for _, b := range p.ribs {
		assert.False(t, b.tight)
	}
}

func TestKeysRepeat(t *testing.T) {
	presses := 0
	for ticks := 1; ticks <= 60; ticks++ { // a second of 60 ticks
		if repeats(ticks) {
			presses++
		}
	}
	assert.False(t, repeats(1), "the first press is no repeat")
	assert.InDelta(t, 9, presses, 2)
}

func TestFit(t *testing.T) {
	assert.Equal(t, 1280, fit(1280, 1024, 1920))
	assert.Equal(t, 1100, fit(1280, 1024, 1100))
	assert.Equal(t, 1024, fit(1280, 1024, 800), "smaller it cannot be made")
}
