package render

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// No word in a picture is struck through by a line, covers another one or is cut off: in
// the chart of demand and from above, for every built-in scene, in every language, from
// the width of a column to a large screen.
func TestNoLineRunsThroughALabel(t *testing.T) {
	columns := []display.Rect{{W: 280, H: 300}, {X: 7, W: 340, H: 408}, {W: 480, H: 320}, {W: 1000, H: 640}, {W: 1920, H: 1080}}
	for _, language := range words.Languages() {
		say, err := words.For(language)
		require.NoError(t, err)
		for _, e := range scenes.Library() {
			var v sim.View
			v.Look(&e.Scene.Setup)
			for _, frame := range columns {
				for name, draw := range map[string]func(l *display.List){
					"above": func(l *display.List) {
						Above(l, frame, &v, AboveOptions{Theme: &theme.Dark, Labels: AboveIn(say)})
					},
					"demand": func(l *display.List) {
						labels, scale := DemandIn(say), 0.
						if frame.W < 640 {
							labels.Title, scale = "", 0.92
						}
						Demand(l, frame, &v, DemandOptions{Theme: &theme.Dark, Labels: labels, Scale: scale})
					},
				} {
					var l display.List
					l.Reset(frame.X+frame.W, frame.H, theme.Dark.Panel)
					draw(&l)
					legible(t, fmt.Sprint(name, " of ", e.Name, " in ", language, frame), &l, frame)
				}
			}
		}
	}
}

// legible checks the words of a list.
func legible(t *testing.T, name string, l *display.List, frame display.Rect) {
	t.Helper()
	var boxes []display.Rect
	for i := range l.Texts {
		x := &l.Texts[i]
		st := lettering.Style{Face: x.Face, Size: x.Size}
		h := lettering.CapHeight(st)
		box := display.Rect{X: x.Glyphs[0].At.X, Y: x.Glyphs[0].At.Y - h, W: lettering.Width(st, x.String), H: h}
		assert.True(t, within(frame, box), "%s: %q is cut off: %v", name, x.String, box)
		for j, o := range boxes {
			assert.False(t, overlap(o, box), "%s: %q over %q", name, x.String, l.Texts[j].String)
		}
		boxes = append(boxes, box)
	}
	var clips []*display.Outline
	var open []bool // of what is open: a clip
	for _, op := range l.Ops {
		switch op.Kind {
		case display.KindClip:
			clips, open = append(clips, &l.Clips[op.Index].Outline), append(open, true)
		case display.KindGroup:
			open = append(open, false)
		case display.KindEnd:
			if open[len(open)-1] {
				clips = clips[:len(clips)-1]
			}
			open = open[:len(open)-1]
		case display.KindPath:
			p := &l.Paths[op.Index]
			if p.Stroke == 0 {
				continue
			}
			along(&p.Outline, func(at display.Point) {
				for i, b := range boxes {
					if at.X < b.X || at.X > b.X+b.W || at.Y < b.Y || at.Y > b.Y+b.H {
						continue
					}
					for _, c := range clips {
						if !holds(c, at) {
							return
						}
					}
					require.Failf(t, "struck through", "%s: a line through %q at %v", name, l.Texts[i].String, at)
				}
			})
		}
	}
}

// along calls f for places close together on an outline.
func along(o *display.Outline, f func(at display.Point)) {
	var last display.Point
	n := 0
	line := func(to display.Point) {
		steps := math.Ceil(math.Hypot(to.X-last.X, to.Y-last.Y))
		for i := range int(steps) + 1 {
			share := float64(i) / max(steps, 1)
			f(display.Point{X: last.X + (to.X-last.X)*share, Y: last.Y + (to.Y-last.Y)*share})
		}
		last = to
	}
	for _, v := range o.Verbs {
		switch v {
		case display.MoveTo:
			last = o.Points[n]
			n++
		case display.LineTo:
			line(o.Points[n])
			n++
		case display.CubicTo: // its chord is near enough where it is short, as round marks are
			line(o.Points[n+2])
			n += 3
		}
	}
}

// holds says whether a place is inside an outline of straight lines.
func holds(o *display.Outline, at display.Point) bool {
	crossed, first := 0, 0
	edge := func(a, b display.Point) {
		if (a.Y > at.Y) == (b.Y > at.Y) || at.X >= a.X+(b.X-a.X)*(at.Y-a.Y)/(b.Y-a.Y) {
			return
		}
		if o.EvenOdd || b.Y > a.Y {
			crossed++
		} else {
			crossed--
		}
	}
	for i := range o.Points {
		if o.Verbs[verbOf(o, i)] == display.MoveTo {
			first = i
			continue
		}
		edge(o.Points[i-1], o.Points[i])
		if i+1 == len(o.Points) || o.Verbs[verbOf(o, i+1)] == display.MoveTo {
			edge(o.Points[i], o.Points[first])
		}
	}
	if o.EvenOdd {
		return crossed%2 != 0
	}
	return crossed != 0
}

// verbOf is the verb that takes a point of an outline of straight lines.
func verbOf(o *display.Outline, point int) int {
	for i, v := range o.Verbs {
		if v == display.Close {
			continue
		}
		if point == 0 {
			return i
		}
		point--
	}
	return len(o.Verbs) - 1
}

// A comparison speaks of a bead where one is looked at, and of a place where there is none.
func TestCompareNamesWhatIsLookedAt(t *testing.T) {
	say, err := words.For("en")
	require.NoError(t, err)
	labels := CompareIn(say)
	for _, e := range scenes.Library() {
		var now, ideal sim.View
		now.Look(&e.Scene.Setup)
		s := now.Now.OnTarget()
		ideal.Look(&s)
		var l display.List
		Compare(&l, display.Rect{W: 1000, H: 500}, &ideal, &now, PatientOptions{Theme: &theme.Dark}, labels)
		assert.Equal(t, s.FixatedBead() != sim.NoBead, text(&l, labels.OnTheBead) != nil, e.Name)
		assert.Equal(t, s.FixatedBead() == sim.NoBead, text(&l, labels.OnThePlace) != nil, e.Name)
	}
}
