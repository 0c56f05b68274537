package desk

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
	"twincord/sim/answers"
)

// A window on a screen with twice as many pixels is the same window: every text and every
// shape stands where it stood and is twice as large, but for pixels that are rounded to.
func TestTheWindowScales(t *testing.T) {
	const offset, slack = 8, 3 // pixels of the larger one: of a place, after many rows, and of a size
	at := func(scene string, page int, scale float64, prepare func(p *person)) *display.List {
		sc, _, err := scenes.Open(scene)
		require.NoError(t, err)
		p := sitBefore(t, sc, "en", Settings{Page: page, Groups: 0b10100}, 1280*scale, 800*scale, scale)
		p.in.Pointer = display.Point{X: -1, Y: -1}
		prepare(p)
		for range 30 { // until the bands are there
			p.update()
		}
		l := new(display.List)
		p.desk.Draw(l)
		return l
	}
	focused := func(name string) func(p *person) {
		return func(p *person) { p.desk.kit.SetFocus(p.widget(name)); p.desk.kit.Ring = true }
	}
	for _, s := range []struct {
		name    string
		scene   string
		page    int
		prepare func(p *person)
	}{
		{"the views", "walk-with-findings", 0, func(*person) {}},
		{"the set-up", "walk-with-findings", setupPage, func(*person) {}},
		{"the numbers", "middle-of-three", 2, func(*person) {}},
		{"the answers", "middle-of-three", answersPage, func(p *person) {
			p.desk.sayPlace(sim.Some(answers.Around(300)))
			p.desk.kit.SetFocus(p.row(answers.Meet))
			p.desk.kit.Ring = true
		}},
		{"keys", "walk-of-ten", setupPage, func(p *person) { p.key(ui.KeyF1) }},
		{"the card", "walk-of-ten", setupPage, func(p *person) { p.desk.openCard() }},
		{"a film", "walk-of-ten", setupPage, func(p *person) {
			p.desk.given.Film = func(string, *scenes.Scene, scenes.Identity, *words.Words, FilmSize, FilmKind) FilmJob { return nil }
			p.desk.given.FilmKinds = func(bool) []FilmKind { return []FilmKind{{"MP4", ".mp4"}} }
			p.desk.film()
			p.desk.over.(*filmPanel).job = &filming{done: 10, of: 40}
		}},
		{"a routine", "walk-of-ten", setupPage, func(p *person) { p.write("p") }},
		{"the kinds of cases", "middle-of-three", setupPage, func(p *person) { p.write("e") }},
		{"news", "middle-of-three", setupPage, func(p *person) { p.desk.Warn("Something that could not be done.") }},
		{"the meeting place", "middle-of-three", setupPage, focused("meeting")},
		{"the target", "middle-of-three", setupPage, focused("target")},
		{"the bands", "middle-of-three", setupPage, func(p *person) { p.wait(); focused("bands")(p) }},
	} {
		t.Run(s.name, func(t *testing.T) {
			one, two := at(s.scene, s.page, 1, s.prepare), at(s.scene, s.page, 2, s.prepare)
			near := func(a, b display.Point, slack float64) bool {
				return math.Abs(2*a.X-b.X) <= slack && math.Abs(2*a.Y-b.Y) <= slack
			}
			require.Equal(t, [2]int{len(one.Texts), len(one.Paths)}, [2]int{len(two.Texts), len(two.Paths)}, "texts and shapes")
			for i := range one.Texts {
				a, b := &one.Texts[i], &two.Texts[i]
				require.Equal(t, a.String, b.String)
				if len(a.Glyphs) > 0 {
					assert.InEpsilon(t, 2*a.Size, b.Size, 0.02, "%q", a.String)
					assert.True(t, near(a.Glyphs[0].At, b.Glyphs[0].At, offset), "%q at %v and %v", a.String, a.Glyphs[0].At, b.Glyphs[0].At)
				}
			}
			for i := range one.Paths {
				a, b := &one.Paths[i], &two.Paths[i]
				assert.InDelta(t, 2*a.Stroke, b.Stroke, 0.01)
				p, q := a.Outline.Points, b.Outline.Points
				require.Len(t, q, len(p))
				what := fmt.Sprintf("shape %d at %v and %v", i, p[0], q[0])
				assert.True(t, near(p[0], q[0], offset), what)
				for j := range p {
					from, to := display.Point{X: p[j].X - p[0].X, Y: p[j].Y - p[0].Y}, display.Point{X: q[j].X - q[0].X, Y: q[j].Y - q[0].Y}
					if !assert.True(t, near(from, to, slack), "%s: %v and %v from there", what, from, to) {
						break
					}
				}
			}
		})
	}
}
