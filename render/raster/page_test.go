package raster_test

import (
	"image"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/raster"
)

// A shown page is what somebody has who puts every part that a Page hands over into its
// place.
type shown struct {
	raster.Page
	img *image.RGBA
}

func (s *shown) paint(t require.TestingT, l *display.List) (pixels int) {
	if size := image.Rect(0, 0, int(l.W), int(l.H)); s.img == nil || s.img.Rect != size {
		s.img = image.NewRGBA(size)
	}
	seen := 0
	pixels = s.Paint(l, func(part *image.RGBA) {
		r := part.Rect
		require.True(t, r.In(s.img.Rect) && !r.Empty(), "%v", r)
		require.Equal(t, r.Min.Div(raster.Block), r.Max.Sub(image.Pt(1, 1)).Div(raster.Block), "%v is in two blocks", r)
		require.Len(t, part.Pix, 4*r.Dx()*r.Dy(), "rows follow each other")
		seen += r.Dx() * r.Dy()
		for y := r.Min.Y; y < r.Max.Y; y++ {
			copy(s.img.Pix[s.img.PixOffset(r.Min.X, y):], part.Pix[part.PixOffset(r.Min.X, y):][:4*r.Dx()])
		}
	})
	require.Equal(t, seen, pixels)
	return pixels
}

// scattered is a page of random shapes, of which the ones that keep says are left out.
func scattered(seed uint64, keep func(i int) bool) *display.List {
	r := rand.New(rand.NewPCG(seed, 7))
	l := page(500, 300)
	for i := range 12 {
		bytes := make([]byte, 120)
		for k := range bytes {
			bytes[k] = byte(r.IntN(256))
		}
		if keep(i) {
			t := tape{bytes}
			t.shape(l, 2)
		}
	}
	return l
}

// Whatever is painted after whatever else, a page of what was handed over looks as if it
// were painted anew.
func TestPageIsThatOfItsList(t *testing.T) {
	for seed := range uint64(12) {
		r := rand.New(rand.NewPCG(seed, 5))
		var s shown
		for range 5 {
			without := r.IntN(14)
			l := scattered(seed, func(i int) bool { return i != without })
			if r.IntN(4) == 0 && len(l.Groups) > 0 {
				l.Groups[r.IntN(len(l.Groups))].Opacity = 0.25
			}
			s.paint(t, l)
			require.Equal(t, paint(l).Pix, s.img.Pix, "seed %d", seed)
		}
	}
}

// What differs is painted, and little else.
func TestPagePaintsWhatDiffers(t *testing.T) {
	draw := func(x float64) *display.List {
		l := page(1000, 700)
		l.Rect(display.Rect{W: 1000, H: 700})
		l.Fill(display.Paint{Kind: display.Linear, From: white, To: black, B: display.Point{X: 1000}})
		l.OpenGroup(display.Group{Opacity: 0.5})
		l.Circle(display.Point{X: x, Y: 300}, 20)
		l.Fill(solid(black))
		l.AddBall(ball(display.Plain, 700, 500, 50))
		l.End()
		return l
	}
	var s shown
	assert.Equal(t, 1000*700, s.paint(t, draw(100)), "the first is painted whole")
	assert.Zero(t, s.paint(t, draw(100)), "the same again")
	// Where it was and where it is: the cells that 20 pixels each way, and a pixel round
	// them, reach.
	const reached = 42 + 2*32
	assert.LessOrEqual(t, s.paint(t, draw(400)), 2*reached*reached)
	assert.Positive(t, s.paint(t, draw(100.01)))
	small := draw(100)
	small.W = 999
	assert.Equal(t, 999*700, s.paint(t, small), "another size")

	hidden := func(x float64) *display.List {
		l := page(400, 100)
		l.Rect(display.Rect{W: 50, H: 50})
		l.OpenClip()
		l.Circle(display.Point{X: x, Y: 50}, 20)
		l.Fill(solid(white))
		l.End()
		return l
	}
	s.paint(t, hidden(200))
	assert.Zero(t, s.paint(t, hidden(300)), "what a clip hides")

	aslant := func(colour display.Colour) *display.List {
		l := page(1000, 700)
		r := display.Ribbon{Colour: colour, Shade: colour}
		for k := range 41 {
			r.Points = append(r.Points, display.RibbonPoint{At: display.Point{X: 25 * float64(k), Y: 17 * float64(k)}, Half: 4, Opacity: 1})
		}
		l.AddRibbon(r)
		return l
	}
	s.paint(t, aslant(white))
	assert.Less(t, s.paint(t, aslant(display.Colour{R: 1, A: 1})), 1000*700/2, "a ribbon is not its box")
}

// Bracketed otherwise, the same shapes look otherwise.
func TestPageKnowsBrackets(t *testing.T) {
	a := func(l *display.List) {
		l.Circle(display.Point{X: 40, Y: 40}, 20)
		l.Fill(solid(white.Faded(0.8)))
	}
	b := func(l *display.List) {
		l.Circle(display.Point{X: 55, Y: 40}, 20)
		l.Fill(solid(display.Colour{R: 1, A: 0.8}))
	}
	far := func(l *display.List) {
		l.Circle(display.Point{X: 200, Y: 40}, 20)
		l.Fill(solid(white))
	}
	in := func(open func(*display.List), shapes ...func(*display.List)) func(*display.List) {
		return func(l *display.List) {
			open(l)
			for _, s := range shapes {
				s(l)
			}
			l.End()
		}
	}
	group := func(l *display.List) { l.OpenGroup(display.Group{Opacity: 0.5}) }
	clip := func(l *display.List) { l.Circle(display.Point{X: 48, Y: 40}, 15); l.OpenClip() }
	even := func(l *display.List) {
		l.OpenGroup(display.Group{Opacity: 1, Even: true, Bounds: display.Rect{W: l.W, H: l.H}})
		pairGround(l)
	}
	all := []func(*display.List){
		in(group, a, b), in(group, in(group, a), b), in(group, a, in(group, b)), in(group, in(group, a), in(group, b)), in(clip, a, b),
		in(even, a, b), in(even, far, a, b), in(even, in(group, a, b)), in(even, a, far, b, far),
		func(l *display.List) { in(group, in(group, a))(l); b(l) },
	}
	for i, first := range all {
		for k, then := range all {
			var s shown
			l := page(256, 80)
			first(l)
			s.paint(t, l)
			l = page(256, 80)
			then(l)
			s.paint(t, l)
			require.Equal(t, paint(l).Pix, s.img.Pix, "%d after %d", k, i)
		}
	}
}

// Thick strokes and blurred ribbons are painted as far as they reach, about their corners
// and ends too.
func TestPageLooksWhereShapesReach(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	var s shown
	for i := range 150 {
		l := page(256, 256)
		var way [3]display.RibbonPoint
		half, soft := 30*r.Float64(), 30*r.Float64()
		for k := range way {
			way[k] = display.RibbonPoint{At: display.Point{X: 256 * r.Float64(), Y: 256 * r.Float64()}, Half: half, Soft: soft, Opacity: 1}
		}
		if i%2 == 0 {
			l.AddRibbon(display.Ribbon{Points: way[:], Colour: white, Shade: white})
		} else {
			l.MoveTo(way[0].At.X, way[0].At.Y)
			l.LineTo(way[1].At.X, way[1].At.Y)
			l.LineTo(way[2].At.X, way[2].At.Y)
			l.Stroke(2*half, solid(white))
		}
		s.paint(t, page(256, 256))
		s.paint(t, l)
		require.Equal(t, paint(l).Pix, s.img.Pix, "shape %d", i)
	}
}

// everything has every kind of shape, of which each field may look like something.
func everything() *display.List {
	l := page(400, 300)
	l.Rect(display.Rect{W: 400, H: 300})
	l.Fill(display.Paint{Kind: display.Radial, From: white, To: black, A: display.Point{X: 9, Y: 9}, B: display.Point{X: 90, Y: 90}})
	l.MoveTo(10, 10)
	l.CubicTo(display.Point{X: 50}, display.Point{X: 90, Y: 50}, display.Point{X: 100, Y: 100})
	l.StrokeDashed(3, 5, solid(white))
	l.AddRibbon(display.Ribbon{Colour: white, Shade: black, TwistDepth: 0.5, Points: []display.RibbonPoint{
		{At: display.Point{X: 100, Y: 20}, Half: 5, Soft: 2, Opacity: 1}, {At: display.Point{X: 200, Y: 90}, Half: 5, Soft: 2, Opacity: 1, Twist: 4},
	}})
	l.AddBall(ball(display.Dotted, 200, 200, 40))
	lettering.Draw(l, lettering.Style{Size: 30, Colour: white}, 20, 250, lettering.Start, "twin")
	l.Circle(display.Point{X: 300, Y: 100}, 50)
	l.OpenClip()
	l.OpenGroup(display.Group{Opacity: 0.5})
	l.Circle(display.Point{X: 300, Y: 100}, 60)
	l.Fill(solid(white))
	l.End()
	l.End()
	return l
}

// No field of a shape is forgotten: a page in which one is otherwise is painted anew.
func TestPageKnowsEveryField(t *testing.T) {
	var s shown
	s.paint(t, everything())
	unseen := map[string]bool{"String": true, "Bounds": true, "Label": true} // for other painters
	var alter func(v reflect.Value, name string, changed func())
	alter = func(v reflect.Value, name string, changed func()) {
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				if f := v.Type().Field(i).Name; !unseen[f] {
					alter(v.Field(i), name+"."+f, changed)
				}
			}
			return
		case reflect.Slice, reflect.Array:
			require.Positive(t, v.Len(), name)
			alter(v.Index(0), name+"[0]", changed)
			return
		}
		was := reflect.New(v.Type()).Elem()
		was.Set(v)
		switch v.Kind() {
		case reflect.Float64:
			v.SetFloat(v.Float() + 0.5)
		case reflect.Uint8, reflect.Uint32:
			v.SetUint(v.Uint() ^ 1)
		case reflect.Bool:
			v.SetBool(!v.Bool())
		default:
			require.Fail(t, "a field of another kind", "%s: %v", name, v.Kind())
		}
		t.Run(name, func(*testing.T) { changed() })
		v.Set(was)
	}
	l := everything()
	repaints := func() {
		assert.Positive(t, s.paint(t, l))
		s.paint(t, everything())
	}
	for _, shapes := range []any{l.Paths[1:], l.Ribbons, l.Balls, l.Texts, l.Clips, l.Groups, []*display.Colour{&l.Ground}} {
		v := reflect.ValueOf(shapes).Index(0)
		if v.Kind() == reflect.Pointer {
			v = v.Elem()
		}
		alter(v, v.Type().Name(), repaints)
	}
}
