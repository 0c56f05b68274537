package render_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// shown is what a list shows of marks: read from the shapes alone.
type shown struct {
	plates, texts, rings []display.Rect
	letters              []string
	leaders              [][2]display.Point // of plates
	lines                [][2]display.Point // all straight ones of two points
}

func marksIn(l *display.List, t *theme.Theme) (m shown) {
	for i := range l.Paths {
		p := &l.Paths[i]
		q := p.Outline.Points
		switch {
		case p.Stroke == 0 && p.Paint.Kind == display.Solid && p.Paint.From == t.Plate:
			m.plates = append(m.plates, bounds(q))
		case p.Stroke > 0 && len(q) == 13 && p.Paint.From == t.Accent:
			m.rings = append(m.rings, bounds(q))
		case p.Stroke > 0 && len(q) == 2:
			m.lines = append(m.lines, [2]display.Point{q[0], q[1]})
			if p.Paint.From == t.Plate.Faded(0.8) {
				m.leaders = append(m.leaders, [2]display.Point{q[0], q[1]})
			}
		}
	}
	for i := range l.Texts {
		x := &l.Texts[i]
		st := lettering.Style{Face: x.Face, Size: x.Size}
		box := display.Rect{
			X: x.Glyphs[0].At.X, Y: x.Glyphs[0].At.Y - lettering.CapHeight(st),
			W: lettering.Width(st, x.String), H: lettering.CapHeight(st),
		}
		if x.Colour == t.PlateRight || x.Colour == t.PlateLeft {
			m.letters = append(m.letters, x.String)
			continue // it stands on its plate
		}
		m.texts = append(m.texts, box)
	}
	return m
}

func bounds(points []display.Point) display.Rect {
	low, high := points[0], points[0]
	for _, p := range points {
		low = display.Point{X: min(low.X, p.X), Y: min(low.Y, p.Y)}
		high = display.Point{X: max(high.X, p.X), Y: max(high.Y, p.Y)}
	}
	return display.Rect{X: low.X, Y: low.Y, W: high.X - low.X, H: high.Y - low.Y}
}

func overlapping(a, b display.Rect) bool {
	return a.X < b.X+b.W && b.X < a.X+a.W && a.Y < b.Y+b.H && b.Y < a.Y+a.H
}

// off is how far a point is from a box, 0 inside.
func off(p display.Point, r display.Rect) float64 {
	return math.Hypot(p.X-min(max(p.X, r.X), r.X+r.W), p.Y-min(max(p.Y, r.Y), r.Y+r.H))
}

// Marks keep apart: no plate, name or measure stands on another one, on the ring round the
// crossing, on a line or over the edge; each plate's line goes from it to the outline of
// an image of that eye; and every image in the picture that wants a plate has one.
func TestMarksKeepApart(t *testing.T) {
	var says []*words.Words
	for _, language := range words.Languages() {
		say, err := words.For(language)
		require.NoError(t, err)
		says = append(says, say)
	}
	for _, e := range scenes.Library() {
		for _, size := range [][2]float64{{1280, 800}, {390, 320}, {800, 1100}, {360, 640}, {1920, 1080}} {
			for _, scale := range []float64{1, 2} {
				for i, language := range words.Languages() {
					marks := render.MarksIn(says[i])
					marks.Scale = scale
					var v sim.View
					v.Look(&e.Scene.Setup)
					keepApart(t, fmt.Sprint(e.Name, size, scale, language), &v, display.Rect{W: size[0], H: size[1]},
						render.PatientOptions{Marks: marks, Theme: []*theme.Theme{&theme.Dark, &theme.Light}[i%2], Type: 13 * scale})
					if t.Failed() {
						t.FailNow()
					}
				}
			}
		}
	}
}

func keepApart(t *testing.T, name string, v *sim.View, frame display.Rect, o render.PatientOptions) {
	var l display.List
	l.Reset(frame.W, frame.H, display.Colour{})
	render.Patient(&l, frame, v, o)
	m := marksIn(&l, o.Theme)
	boxes := append(append([]display.Rect{}, m.plates...), m.texts...)
	for i, b := range boxes {
		if b.X < 0 || b.Y < 0 || b.X+b.W > frame.W || b.Y+b.H > frame.H {
			t.Errorf("%s: %v is clipped", name, b)
		}
		for _, c := range append(boxes[:i:i], m.rings...) {
			if overlapping(b, c) {
				t.Errorf("%s: %v on %v", name, b, c)
			}
		}
		for _, s := range m.lines {
			for i := range 101 {
				x, y := s[0].X+(s[1].X-s[0].X)*float64(i)/100, s[0].Y+(s[1].Y-s[0].Y)*float64(i)/100
				if x > b.X+1 && x < b.X+b.W-1 && y > b.Y+1 && y < b.Y+b.H-1 {
					t.Fatalf("%s: a line %v through %v", name, s, b)
				}
			}
		}
	}

	// Each plate has its line, from an image of its eye.
	places := render.PictureMapOf(frame, v, o)
	require.Len(t, m.leaders, len(m.plates), name)
	require.Len(t, m.letters, len(m.plates), name)
	for i, s := range m.leaders {
		assert.Less(t, off(s[1], m.plates[i]), 1., "%s: the line of a plate does not begin at it", name)
		ends := false
		for _, b := range v.Beads {
			at := b.Right
			if m.letters[i] == o.Marks.Left {
				at = b.Left
			}
			if b.Seen == sim.SeenOne || b.Seen == sim.SeenNone || !at.OK {
				continue
			}
			centre := places.Page(at.Value)
			for j := range l.Balls {
				ball := &l.Balls[j]
				near := math.Hypot(ball.Centre.X-centre.X, ball.Centre.Y-centre.Y) < 0.2*ball.Radius()+1
				ends = ends || near && math.Abs(math.Hypot(s[0].X-ball.Centre.X, s[0].Y-ball.Centre.Y)-ball.Radius()) < 1
			}
		}
		assert.True(t, ends, "%s: the line of %s at %v ends nowhere", name, m.letters[i], m.plates[i])
	}

	// Every image that wants one has a plate.
	wanted, doubled := 0, 0
	for i, b := range v.Beads {
		seen := map[sim.Seen][2]bool{sim.SeenTwo: {true, true}, sim.SeenRight: {true, false}, sim.SeenLeft: {false, true}}[b.Seen]
		for e, at := range [2]sim.Maybe[sim.XY]{b.Right, b.Left} {
			if !seen[e] || !at.OK {
				continue
			}
			p := places.Page(at.Value)
			hidden := false
			for j, o := range v.Beads {
				near := [2]sim.Maybe[sim.XY]{o.Right, o.Left}[e]
				if j == i || o.At >= b.At || !near.OK {
					continue
				}
				q := places.Page(near.Value)
				hidden = hidden || math.Hypot(p.X-q.X, p.Y-q.Y) < places.Size(v.Now.Beads[j].Diameter/2/o.FromEyes)
			}
			if p.X > 0.02*frame.W && p.X < 0.98*frame.W && p.Y > 0.02*frame.H && p.Y < 0.98*frame.H && !hidden {
				wanted++
				if i == v.Now.FixatedBead() && b.Seen == sim.SeenTwo {
					doubled++
				}
			}
		}
	}
	assert.GreaterOrEqual(t, len(m.plates), wanted, "%s: an image without a plate", name)
	if doubled == 2 {
		says := o.Marks.Apart(v.Beads[v.Now.FixatedBead()].Disparity.Value.Separation)
		found := false
		for i := range l.Texts {
			found = found || l.Texts[i].String == says
		}
		assert.True(t, found, "%s: no measure", name)
	}
}

// A ring is round the crossing as far as it is to be seen: none where a bead stands before it,
// and it is not named there either.
func TestACrossingBehindABeadIsNotMarked(t *testing.T) {
	for _, language := range words.Languages() {
		say, err := words.For(language)
		require.NoError(t, err)
		marks := render.MarksIn(say)
		hidden, shows, behind := 0, 0, 0
		for deviation := -12.; deviation <= 4; deviation += 0.25 {
			s := *scene(t, "middle-of-three")
			s.Posture.Deviation = sim.Prism(deviation)
			var v sim.View
			v.Look(&s)
			l := patient(&s, render.PatientOptions{Marks: marks})
			names, fused := 0, 0
			for i := range l.Texts {
				switch l.Texts[i].String {
				case marks.Cross:
					names++
				case marks.AsOne:
					fused++
				}
			}
			if v.Account.HiddenBy == "plum" { // not looked at
				behind++
				assert.Zero(t, fused, "%v Δ", deviation)
			}
			rings := len(marksIn(l, &theme.Dark).rings)
			switch {
			case v.Account.HiddenBy != "":
				hidden++
				assert.Zero(t, rings+names, "%v Δ: behind %s", deviation, v.Account.HiddenBy)
			case v.Account.Meet.OnString():
				shows++
				assert.Equal(t, 1, rings, "%v Δ", deviation)
				assert.Equal(t, 1, names, "%v Δ", deviation)
			}
		}
		assert.Greater(t, hidden, 3)
		assert.Positive(t, behind)
		assert.Greater(t, shows, 10)
	}
}

// Between images that are two and yet lie in one pixel nothing is measured: such a line
// has no direction for the ticks at its ends.
func TestNothingIsMeasuredInOnePixel(t *testing.T) {
	say, err := words.For("en")
	require.NoError(t, err)
	measured := 0
	for apart := 1e-14; apart < 10; apart *= 3 {
		s := *scene(t, "middle-of-three")
		s.Patient.FusionH, s.Patient.FusionHSlope, s.Posture.Deviation = 0, 0, sim.Prism(apart)
		l := patient(&s, render.PatientOptions{Marks: render.MarksIn(say)})
		for i := range l.Paths {
			if q := l.Paths[i].Outline.Points; l.Paths[i].Stroke > 0 && len(q) == 6 { // two ticks and their line
				measured++
				assert.GreaterOrEqual(t, math.Hypot(q[5].X-q[4].X, q[5].Y-q[4].Y), 1., "%v Δ", apart)
			}
		}
	}
	assert.Positive(t, measured)
}
