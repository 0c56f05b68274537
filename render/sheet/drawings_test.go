package sheet

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/sim"
)

// lengthsOf are all places and sizes of a drawing.
func lengthsOf(l *display.List) (all []float64) {
	for i := range l.Paths {
		p := &l.Paths[i]
		all = append(all, p.Stroke)
		for _, q := range p.Outline.Points {
			all = append(all, q.X, q.Y)
		}
	}
	for i := range l.Texts {
		t := &l.Texts[i]
		all = append(all, t.Size)
		for _, g := range t.Glyphs {
			all = append(all, g.At.X, g.At.Y)
		}
	}
	return all
}

// atString is a set-up whose far end is higher, to a side of nothing, with a bead.
func atString(change func(s *sim.Setup)) *sim.Setup {
	s := sim.Default()
	s.String.Length = 1200
	s.Beads = []sim.Bead{{Name: "sky", At: 480, Diameter: 12}, {Name: "plum", At: 900, Diameter: 12}}
	s.Look.Bead = 0
	change(&s)
	return &s
}

func level(*sim.Setup) {}

// drawings are all that a sheet draws by hand, each w by h.
var drawings = map[string]func(l *display.List, w, h float64){
	"set-up": func(l *display.List, w, h float64) {
		drawSetup(l, w, h, atString(level), letters{[]string{"a", "b", "c", "d", "e", "f"}, h / 25})
	},
	"without letters": func(l *display.List, w, h float64) { drawSetup(l, w, h, atString(level), letters{}) },
	"slack and high": func(l *display.List, w, h float64) {
		drawSetup(l, w, h, atString(func(s *sim.Setup) { s.String.Sag, s.String.AnchorHeight, s.Look.Bead = 100, 150, 1 }), letters{})
	},
	"far below": func(l *display.List, w, h float64) {
		drawSetup(l, w, h, atString(func(s *sim.Setup) { s.String.AnchorHeight = -900 }), letters{})
	},
	"move":  func(l *display.List, w, h float64) { drawMove(l, w, h, atString(level), []float64{900, 600, 300}) },
	"count": func(l *display.List, w, h float64) { drawCount(l, w, h, 7) },
	"stop":  drawStop,
	"ruler": func(l *display.List, w, h float64) { (&Ruler{}).draw(l, w/2, h, h/842) },
	"tick":  func(l *display.List, w, h float64) { pen{l}.tick(display.Point{X: w / 2, Y: h / 2}, h/5) },
	"cross": func(l *display.List, w, h float64) { pen{l}.cross(display.Point{X: w / 2, Y: h / 2}, h/5) },
}

// A drawing twice as large is the same drawing, twice as large; and it stays within its
// frame.
func TestDrawingsScale(t *testing.T) {
	const w, h = 300., 180.
	for name, draw := range drawings {
		var one, two display.List
		draw(&one, w, h)
		draw(&two, 2*w, 2*h)
		a, b := lengthsOf(&one), lengthsOf(&two)
		require.NotEmpty(t, a, name)
		require.Len(t, b, len(a), name)
		for i := range a {
			require.InDelta(t, 2*a[i], b[i], 1e-9, "%s: number %d", name, i)
		}
		for i := range one.Paths {
			p := &one.Paths[i]
			for _, q := range p.Outline.Points {
				edge := p.Stroke/2 - 3 // where an elbow or a foot may leave it
				assert.True(t, edge <= q.X && q.X <= w-edge && edge <= q.Y && q.Y <= h-edge, "%s: %v", name, q)
			}
		}
	}
}

// In the drawing of the set-up lengths along the string, the height of its far end and
// what it hangs down are to one scale, as far as there is room; what is told is drawn so
// that it shows.
func TestTheSetupIsToScale(t *testing.T) {
	const w, h = 300., 180.
	drawn := func(change func(s *sim.Setup)) (setting, *display.List, *sim.Setup) {
		l := new(display.List)
		s := atString(change)
		return drawSetup(l, w, h, s, letters{}), l, s
	}
	flat, l, s := drawn(level)
	scale := (flat.anchor.X - flat.nose.X) / s.String.Length
	assert.Greater(t, scale, 0.1)
	for _, b := range s.Beads {
		want := flat.along(b.At / s.String.Length)
		assert.InDelta(t, flat.nose.X+b.At*scale, want.X, 1e-9)
		assert.True(t, slices.ContainsFunc(l.Paths, func(p display.Path) bool {
			return p.Stroke == 0 && len(p.Outline.Points) > 4 && near(middleOf(&p.Outline), want)
		}), "the bead %s at its place", b.Name)
	}
	for _, tt := range []struct{ height, drawn float64 }{
		{150, 150 * scale}, {-150, -150 * scale}, {5, 5 * scale},
		{10, 6}, {-10, -6}, // told, and so no less than shows
		{900, 0.22 * h}, {-900, -0.3 * h}, // as far as there is room
	} {
		at, _, _ := drawn(func(s *sim.Setup) { s.String.AnchorHeight = tt.height })
		assert.InDelta(t, tt.drawn, flat.anchor.Y-at.anchor.Y, 1e-9, "%v mm", tt.height)
		assert.Equal(t, flat.anchor.X, at.anchor.X)
		assert.Equal(t, flat.nose, at.nose)
	}
	for _, tt := range []struct{ sag, drawn float64 }{{0, 0}, {100, 100 * scale}, {2000, 0.3 * h}} {
		at, _, _ := drawn(func(s *sim.Setup) { s.String.Sag = tt.sag })
		chord := (at.nose.Y + at.anchor.Y) / 2
		assert.InDelta(t, tt.drawn, at.along(0.5).Y-chord, 1e-9, "%v mm", tt.sag)
		assert.Equal(t, at.nose, at.along(0))
		assert.InDelta(t, at.anchor.Y, at.along(1).Y, 1e-9)
	}
}

// The child looks to the right, along the string: the nose, where the string begins, is out
// to the right and below the eye; hair is above and behind; and all of the body is below
// the head.
func TestTheChildSitsUpright(t *testing.T) {
	const w, h = 300., 180.
	var l display.List
	head, r := display.Point{X: 50, Y: 60}, 20.
	l.Reset(w, h, paperGround)
	nose := pen{&l}.face(head, r)
	assert.Greater(t, nose.X, head.X+r)
	hair, eye := false, false
	for i := range l.Paths {
		p := &l.Paths[i]
		switch m := middleOf(&p.Outline); {
		case p.Stroke > r/3:
			hair = true
			assert.Less(t, m.X, head.X)
			assert.Less(t, m.Y, head.Y-0.3*r)
		case p.Stroke == 0 && len(p.Outline.Points) > 4 && !near(m, head):
			eye = true
			assert.Greater(t, m.X, head.X)
			assert.Less(t, m.Y, nose.Y)
		}
	}
	assert.True(t, hair && eye)

	l.Reset(w, h, paperGround)
	set := drawSetup(&l, w, h, atString(level), letters{})
	r = 0.135 * h
	body := 0
	for i := range l.Paths {
		p := &l.Paths[i]
		for _, wide := range []float64{1.25, 0.55, 0.35, 0.4, 0.42} {
			if math.Abs(p.Stroke-wide*r) > 1e-9 {
				continue
			}
			body++
			for _, q := range p.Outline.Points {
				assert.Greater(t, q.Y, set.nose.Y+0.5*r)
				assert.Less(t, q.X, set.nose.X+2*r)
			}
		}
	}
	assert.Equal(t, 5, body, "back, thigh and shin, foot, neck, arm")
}

// The hand at the place that is looked at comes from where there is room for it: never
// through the wall.
func TestTheHandHasRoom(t *testing.T) {
	const w, h = 300., 180.
	for _, at := range []float64{100, 480, 900, 1190} {
		var l display.List
		set := drawSetup(&l, w, h, atString(func(s *sim.Setup) { s.Look = sim.Fixation{Bead: sim.NoBead, At: at, Asked: sim.NoBead} }), letters{})
		place := set.along(at / 1200)
		arm := slices.IndexFunc(l.Paths, func(p display.Path) bool { return math.Abs(p.Stroke-0.5*0.135*h) < 1e-9 })
		require.GreaterOrEqual(t, arm, 0)
		elbow := l.Paths[arm].Outline.Points[0]
		assert.Less(t, elbow.X, set.anchor.X, "%v mm", at)
		assert.Equal(t, at < 900, elbow.X > place.X, "%v mm: on the far side where it can be", at)
	}
}

// around is what an outline takes.
func around(o *display.Outline) display.Rect {
	lo, hi := o.Points[0], o.Points[0]
	for _, p := range o.Points {
		lo, hi = display.Point{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}, display.Point{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
	}
	return display.Rect{X: lo.X, Y: lo.Y, W: hi.X - lo.X, H: hi.Y - lo.Y}
}

// What stands is drawn so that it can: the shade of the lamp hangs even about its pole, wider
// below; the legs of the chair meet its seat and end on the floor. A bead has its colour, and
// a letter stands beside what it names, with a line from the one to the other.
func TestWhatTheSetupIsMadeOf(t *testing.T) {
	const w, h = 300., 180.
	var l display.List
	colour := sim.RGB{R: 20, G: 200, B: 90}
	drawSetup(&l, w, h, atString(func(s *sim.Setup) { s.Beads[0].Colour = colour }), letters{[]string{"a", "b", "c", "d", "e", "f"}, h / 25})
	var shades, strokes [][]display.Point
	floor, coloured := 0., 0
	for i := range l.Paths {
		p := &l.Paths[i]
		points := p.Outline.Points
		switch {
		case p.Stroke > 0:
			strokes = append(strokes, points)
			if len(points) == 2 && points[0].Y == points[1].Y && points[1].X-points[0].X > 0.9*w {
				floor = points[0].Y
			}
		case len(points) == 4 && p.Paint.From == theme.Paper.Edge && points[0].X < 0.2*w:
			shades = append(shades, points)
		case p.Paint.From == (display.Colour{R: 20. / 255, G: 200. / 255, B: 90. / 255, A: 1}):
			coloured++
		}
	}
	assert.Equal(t, 1, coloured)
	require.Len(t, shades, 1)
	shade := shades[0]
	pole := slices.IndexFunc(strokes, func(p []display.Point) bool {
		return len(p) == 2 && p[0].X == p[1].X && p[0].X < 0.1*w && p[1].Y == floor
	})
	require.GreaterOrEqual(t, pole, 0)
	for i := range shade {
		other := shade[[...]int{1, 0, 3, 2}[i]]
		assert.InDelta(t, 2*strokes[pole][0].X, shade[i].X+other.X, 1e-9)
		assert.InDelta(t, shade[i].Y, other.Y, 1e-9)
	}
	assert.Less(t, shade[0].Y, shade[2].Y)
	assert.Less(t, shade[1].X-shade[0].X, shade[2].X-shade[3].X)

	seat := slices.IndexFunc(strokes, func(p []display.Point) bool {
		return len(p) == 2 && p[0].Y == p[1].Y && p[0].Y < floor && p[0].Y > h/2
	})
	require.GreaterOrEqual(t, seat, 0)
	for n, end := range strokes[seat] {
		assert.True(t, slices.ContainsFunc(strokes, func(p []display.Point) bool {
			return len(p) == 2 && p[1].Y == floor && p[0].X == p[1].X && p[1].X == end.X && (n == 0 || near(p[0], end))
		}), "a leg at %v", end)
	}

	require.Len(t, l.Texts, 6)
	for i := range l.Texts {
		x := &l.Texts[i]
		st := lettering.Style{Face: x.Face, Size: x.Size}
		at := display.Point{X: x.Glyphs[0].At.X + lettering.Width(st, x.String)/2, Y: x.Glyphs[0].At.Y - lettering.CapHeight(st)/2}
		line := slices.IndexFunc(strokes, func(p []display.Point) bool { return len(p) == 2 && math.Hypot(p[0].X-at.X, p[0].Y-at.Y) < 1 })
		require.GreaterOrEqual(t, line, 0, x.String)
		to := strokes[line][1]
		assert.Less(t, math.Hypot(to.X-at.X, to.Y-at.Y), 0.3*h, "%s is beside what it names", x.String)
		assert.True(t, at.X > 0 && at.X < w && at.Y > 0 && at.Y < h, "%s is on the picture", x.String)
	}
}

func middleOf(o *display.Outline) display.Point {
	r := around(o)
	return display.Point{X: r.X + r.W/2, Y: r.Y + r.H/2}
}

func near(a, b display.Point) bool { return math.Hypot(a.X-b.X, a.Y-b.Y) < 1e-6 }

// As many discs as are counted, each with its number, in rows from the upper left, none
// on another, in the middle of the picture.
func TestCountingDots(t *testing.T) {
	const w, h = 150., 95.
	for _, tt := range []struct{ count, shown, across int }{
		{0, 1, 1}, {1, 1, 1}, {3, 3, 3}, {5, 5, 5}, {6, 6, 5}, {10, 10, 5}, {15, 15, 5}, {16, 16, 6}, {30, 30, 6}, {99, 30, 6},
	} {
		var l display.List
		drawCount(&l, w, h, tt.count)
		require.Len(t, l.Texts, tt.shown, "%d", tt.count)
		var at []display.Point
		for i := range l.Texts {
			assert.Equal(t, fmt.Sprint(i+1), l.Texts[i].String)
			at = append(at, middleOf(&l.Paths[2*i].Outline))
			radius := (l.Paths[2*i].Outline.Points[0].X - at[i].X)
			for _, before := range at[:i] {
				assert.Greater(t, math.Hypot(at[i].X-before.X, at[i].Y-before.Y), 2*math.Abs(radius))
			}
			if i%tt.across > 0 {
				assert.InDelta(t, at[i-1].Y, at[i].Y, 1e-9)
				assert.Greater(t, at[i].X, at[i-1].X)
			} else if i > 0 {
				assert.InDelta(t, at[0].X, at[i].X, 1e-9)
				assert.Greater(t, at[i].Y, at[i-1].Y)
			}
		}
		last := at[min(tt.across, tt.shown)-1]
		assert.InDelta(t, w/2, (at[0].X+last.X)/2, 1e-9, "%d: in the middle", tt.count)
		assert.InDelta(t, h/2, (at[0].Y+at[len(at)-1].Y)/2, 1e-9, "%d: in the middle", tt.count)
	}
}

// The way goes from over the first place to over the last, with a mark at each; its arrow
// ends there.
func TestTheWayAlongTheString(t *testing.T) {
	const w, h = 300., 180.
	places := []float64{900, 600, 300}
	var plain, l display.List
	s := atString(level)
	at := drawSetup(&plain, w, h, s, letters{})
	drawMove(&l, w, h, s, places)
	added := l.Paths[len(plain.Paths):]
	require.Len(t, added, len(places)+2)
	for i, place := range places {
		q, m := at.along(place/s.String.Length), added[i].Outline.Points
		assert.True(t, near(q, middleOf(&added[i].Outline)), "the mark at %v", place)
		assert.Equal(t, m[0].X, m[1].X)
		assert.InDelta(t, 0.06*h, math.Abs(m[1].Y-m[0].Y), 1e-9)
	}
	way, head := added[3].Outline.Points, added[4].Outline.Points
	first, last := at.along(places[0]/s.String.Length), at.along(places[2]/s.String.Length)
	assert.Equal(t, first.X, way[0].X)
	assert.Less(t, way[0].Y, first.Y, "over it")
	assert.Equal(t, last.X, way[3].X)
	assert.Less(t, way[3].Y, last.Y)
	assert.Less(t, max(way[1].Y, way[2].Y), min(way[0].Y, way[3].Y), "in a bow over them")
	require.Len(t, head, 3)
	assert.Equal(t, way[3], head[1], "the tip")
	arm := func(p display.Point) float64 { return math.Hypot(p.X-head[1].X, p.Y-head[1].Y) }
	assert.InDelta(t, arm(head[0]), arm(head[2]), 1e-9, "even")
	// Both arms are as far from the line on which it comes.
	ux, uy := head[1].X-(first.X+last.X)/2, head[1].Y-(min(first.Y, last.Y)-0.3*h)
	across := func(p display.Point) float64 { return (p.X-head[1].X)*uy - (p.Y-head[1].Y)*ux }
	assert.InDelta(t, across(head[0]), -across(head[2]), 1e-6)
	assert.Less(t, (head[0].X-head[1].X)*ux+(head[0].Y-head[1].Y)*uy, 0., "behind the tip")
}

// The tired face is even, and the hand that says stop is within its sign, which has eight
// even corners.
func TestTheStopSign(t *testing.T) {
	const w, h = 150., 95.
	var l display.List
	drawStop(&l, w, h)
	face, sign := display.Point{X: 0.28 * w, Y: 0.5 * h}, display.Point{X: 0.74 * w, Y: 0.5 * h}
	var left, right []display.Point
	var corners []display.Point
	for i := range l.Paths {
		o := &l.Paths[i].Outline
		if middleOf(o).X > w/2 {
			if len(o.Points) == 8 && corners == nil {
				corners = o.Points
			}
			for _, p := range o.Points {
				assert.Less(t, math.Hypot(p.X-sign.X, p.Y-sign.Y)+l.Paths[i].Stroke/2, 0.34*h+1e-9)
			}
			continue
		}
		for _, p := range o.Points {
			left = append(left, display.Point{X: face.X - p.X, Y: p.Y})
			right = append(right, display.Point{X: p.X - face.X, Y: p.Y})
		}
	}
	require.Len(t, corners, 8)
	for i, c := range corners {
		next := corners[(i+1)%8]
		assert.InDelta(t, 2*0.34*h*math.Sin(math.Pi/8), math.Hypot(c.X-next.X, c.Y-next.Y), 1e-9)
	}
	for _, p := range left {
		assert.True(t, slices.ContainsFunc(right, func(q display.Point) bool { return near(p, q) }), "%v has no other side", p)
	}
}

// The ruler is one: a mark for every millimetre, or for every eighth of an inch, its
// numbers at whole centimetres or inches, and beside it an arrow as long as a bank card;
// on a page at another scale as well.
func TestTheRulerHasItsMarks(t *testing.T) {
	const x, high = 100., 842.
	for _, unit := range []float64{1, 1.25} {
		for _, inches := range []bool{false, true} {
			r := Ruler{Inches: inches}
			var l display.List
			r.draw(&l, x, high*unit, unit)
			apart, whole := 72/25.4*unit, 10
			if inches {
				apart, whole = 9*unit, 8
			}
			top := high*unit/2 - r.Length()*72/25.4*unit/2
			long := map[int]float64{}
			var arrows []float64
			var heads [][2]display.Point
			lines := l.Paths[0].Outline.Points
			for i := 0; i+1 < len(lines); i += 2 {
				a, b := lines[i], lines[i+1]
				switch {
				case a.Y == b.Y && a.X == x:
					n := math.Round((a.Y - top) / apart)
					assert.InDelta(t, top+n*apart, a.Y, 1e-6)
					long[int(n)] = b.X - a.X
				case a.X == b.X && a.X < x-5*unit && a.X > x-7*unit:
					arrows = append(arrows, a.Y, b.Y)
				case a.X != b.X && a.Y != b.Y:
					heads = append(heads, [2]display.Point{a, b})
				case a.X == x && b.X == x:
					assert.InDelta(t, r.Length()*72/25.4*unit, b.Y-a.Y, 1e-6)
				}
			}
			require.Len(t, long, int(math.Round(r.Length()*72/25.4*unit/apart))+1)
			for n, l := range long {
				switch {
				case n%whole == 0:
					assert.InDelta(t, 8*unit, l, 1e-9)
				case n%(whole/2) == 0:
					assert.InDelta(t, 5.5*unit, l, 1e-9)
				default:
					assert.Less(t, l, 5*unit)
				}
			}
			require.Len(t, l.Texts, (len(long)-1)/whole-1)
			for i := range l.Texts {
				at := l.Texts[i].Glyphs[0].At
				assert.Equal(t, fmt.Sprint(i+1), l.Texts[i].String)
				assert.InDelta(t, top+float64((i+1)*whole)*apart, at.Y-l.Texts[i].Size*0.36, 1.*unit, "beside its mark")
				assert.Greater(t, at.X, x+8*unit)
			}
			require.Len(t, arrows, 2)
			require.Len(t, heads, 4)
			for _, head := range heads { // from an end back toward the other, on both sides
				assert.Contains(t, arrows, head[0].Y)
				assert.True(t, arrows[0] < head[1].Y && head[1].Y < arrows[1])
				other := display.Point{X: 2*head[0].X - head[1].X, Y: head[1].Y}
				assert.True(t, slices.ContainsFunc(heads, func(h [2]display.Point) bool { return near(h[0], head[0]) && near(h[1], other) }))
			}
			assert.InDelta(t, 85.6*72/25.4*unit, arrows[1]-arrows[0], 1e-6, "ISO/IEC 7810, ID-1")
			card := middleOf(&l.Paths[1].Outline)
			assert.InDelta(t, (arrows[0]+arrows[1])/2, card.Y, 1e-6)
		}
	}
}

// The cross is two even strokes over the whole of its disc; the tick goes down and, longer,
// up to the right.
func TestTickAndCross(t *testing.T) {
	at := display.Point{X: 50, Y: 40}
	var l display.List
	pen{&l}.cross(at, 10)
	strokes := l.Paths[len(l.Paths)-2:]
	for i, q := range strokes[0].Outline.Points {
		other := strokes[1].Outline.Points[i]
		assert.InDelta(t, q.X-at.X, at.X-other.X, 1e-9, "mirrored")
		assert.InDelta(t, q.Y, other.Y, 1e-9)
		assert.InDelta(t, math.Abs(q.X-at.X), math.Abs(q.Y-at.Y), 1e-9)
	}
	assert.InDelta(t, at.X, middleOf(&strokes[0].Outline).X, 1e-9)
	assert.InDelta(t, at.Y, middleOf(&strokes[0].Outline).Y, 1e-9)

	l = display.List{}
	pen{&l}.tick(at, 10)
	p := l.Paths[len(l.Paths)-1].Outline.Points
	require.Len(t, p, 3)
	assert.True(t, p[0].X < p[1].X && p[1].X < p[2].X)
	assert.True(t, p[1].Y > p[0].Y && p[0].Y > p[2].Y)
	for _, q := range p {
		assert.Less(t, math.Hypot(q.X-at.X, q.Y-at.Y), 10.)
	}
}
