package desk

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/ui"
	"twincord/sim"
	"twincord/sim/answers"
)

// banded sits before a scene whose bands are made.
func banded(t *testing.T, scene string) *person {
	p := sit(t, scene)
	for i := 0; !p.desk.banding.fresh; i++ {
		require.Less(t, i, 200)
		p.update()
	}
	return p
}

// The bands tile the strip from one end to the other, toward the nose the more eso, and
// in the middle of each the scene says what its sign shows.
func TestBandsTileTheStrip(t *testing.T) {
	for _, scene := range []string{"middle-of-three", "bare-string", "left-out-beyond", "receding-near-point", "turned-yet-crossing-in-bead"} {
		p := banded(t, scene)
		d := p.desk
		s, bands := d.page.bands, d.banding.bands
		require.Greater(t, len(bands), 1, scene)
		for i := range bands {
			from, to := s.span(i)
			assert.GreaterOrEqual(t, to, from, scene)
			assert.GreaterOrEqual(t, from, d.layout.left-1e-6)
			assert.LessOrEqual(t, to, d.layout.left+d.layout.width+1e-6)
			if i > 0 {
				before, _ := s.span(i - 1)
				assert.InDelta(t, before, to, 1e-6, "%s: no gap between two", scene)
				assert.Equal(t, bands[i-1].To, bands[i].From)
			}
			now := d.view.Now
			now.Findings, now.Hold.SD, now.Look.From = sim.Maybe[sim.Findings]{}, 0, sim.Maybe[int]{}
			now.Posture.Deviation = (bands[i].From + bands[i].To) / 2
			var v sim.View
			v.Look(&now)
			told := answers.Tell(&v)
			b := &bands[i]
			assert.Equal(t, [...]answers.Code{b.Bead, b.Near, b.Far, b.Meet},
				[...]answers.Code{told.Code[answers.Bead], told.Code[answers.Near], told.Code[answers.Far], told.Code[answers.Meet]}, "%s at %v", scene, now.Posture.Deviation)
		}
		assert.InDelta(t, d.handleX(d.page.handles[1]), d.layout.x(d.bandX(d.view.Now.Posture.Deviation)), 0.5, "the place of the × is on the same scale")
	}
}

// Where the × is pulled across an edge the answer changes, and the bands stay as they
// are: they are of every deviation.
func TestPullingAcrossAnEdge(t *testing.T) {
	p := banded(t, "middle-of-three")
	d := p.desk
	s := d.page.bands
	at := middle(p.widget("meeting").Self().Area)
	p.press(at)
	crossed := 0
	for x := at.X; x < at.X+180; x += 3 {
		was, seen := s.current(), d.view.Account.Fixated
		p.moveTo(display.Point{X: x, Y: at.Y})
		require.True(t, d.banding.fresh)
		b := &d.banding.bands[s.current()]
		if seen != d.view.Account.Fixated {
			assert.NotEqual(t, was, s.current(), "the bead becomes two at an edge")
			crossed++
		}
		assert.Equal(t, d.view.Account.Fixated == sim.SeenTwo, b.Bead == answers.Two)
	}
	p.lift()
	assert.Equal(t, 1, crossed)
}

// The bands are made anew once what they depend on has come to rest, a slice in each
// update.
func TestBandsFollowTheScene(t *testing.T) {
	p := banded(t, "middle-of-three")
	d := p.desk
	before := d.banding.bands
	d.setDeviation("", 3)
	p.update()
	assert.True(t, d.banding.fresh)
	d.edit("", func(s *sim.Setup) { s.Patient.FusionH *= 4 })
	p.update()
	assert.False(t, d.banding.fresh)
	assert.Nil(t, d.banding.work, "not before it rests")
	updates := 0
	for ; !d.banding.fresh; updates++ {
		require.Less(t, updates, 200)
		p.update()
		require.LessOrEqual(t, d.banding.steps, bandSteps)
	}
	one := func(bands []answers.Band) (wide sim.Prism) {
		for _, b := range bands {
			if b.Bead == answers.One {
				wide += b.To - b.From
			}
		}
		return wide
	}
	assert.InDelta(t, 4*float64(one(before)), float64(one(d.banding.bands)), 0.05, "four times Panum's limit is four times as wide")
}

// A band that is pointed at, or chosen by keys, is said in words and in Δ.
func TestBandsAreSaid(t *testing.T) {
	p := banded(t, "middle-of-three")
	d := p.desk
	s := d.page.bands
	for i := range d.banding.bands {
		from, to := s.span(i)
		if to-from < 2 {
			continue
		}
		p.moveTo(display.Point{X: (from + to) / 2, Y: d.layout.bandY})
		assert.Equal(t, d.say.BandSaid(&d.banding.bands[i]), d.Hint())
		assert.Contains(t, d.Hint(), "Δ")
	}
	p.moveTo(display.Point{X: 5, Y: 5})
	d.kit.SetFocus(s)
	p.key(ui.KeyRight)
	assert.Equal(t, d.say.BandSaid(&d.banding.bands[s.current()-1]), d.Hint(), "farther is less eso")
	p.key(ui.KeyHome)
	assert.Equal(t, d.say.BandSaid(&d.banding.bands[s.current()]), d.Hint())
	assert.Zero(t, p.setup().Posture.Deviation, "it is no handle")
}

// By keys every band that is seen comes in turn, none that is not, and there it ends; where
// there are fewer bands than before none is told that is not there.
func TestBandsByKeys(t *testing.T) {
	for _, scene := range []string{"middle-of-three", "receding-near-point", "turned-yet-crossing-in-bead"} {
		p := banded(t, scene)
		s := p.desk.page.bands
		p.desk.kit.SetFocus(s)
		var seen []int
		for i := range p.desk.banding.bands {
			if from, to := s.span(i); to > from {
				seen = append(seen, i)
			}
		}
		for range 2 * len(seen) {
			p.key(ui.KeyLeft)
		}
		for n := len(seen) - 1; n >= 0; n-- {
			assert.Equal(t, seen[n], s.chosen, scene)
			assert.Equal(t, seen[n], s.told(&p.desk.kit), scene)
			p.key(ui.KeyUp)
		}
		assert.Equal(t, seen[0], s.chosen, scene)
		p.key(ui.KeyDown)
		assert.Equal(t, seen[1], s.chosen, scene)
		s.chosen = len(p.desk.banding.bands)
		assert.Equal(t, -1, s.told(&p.desk.kit))
		assert.Equal(t, s.Hint, s.hint())
	}
}

// Before there are bands nothing leads to them.
func TestNothingLeadsToNoBands(t *testing.T) {
	p := banded(t, "middle-of-three")
	drawn := func() int {
		var l display.List
		p.desk.drawBands(&l)
		return len(l.Paths)
	}
	assert.Positive(t, drawn())
	p.desk.banding.bands = nil
	assert.Zero(t, drawn())
}

// The sign of a band is in its middle, within it, and shows what would be said: a disc for
// each bead or a tick for a bare place, the crossing before, in or behind it, as on the
// bar; where it has no room for the crossing it has none, and for nothing nothing.
func TestSignsOfBands(t *testing.T) {
	for _, u := range []float64{1, 2} {
		for _, bead := range []answers.Code{answers.Open, answers.None, answers.One, answers.Two} {
			for _, meet := range []answers.Code{answers.Nearer, answers.At, answers.Beyond, answers.Not} {
				for _, strings := range []answers.Code{answers.Single, answers.Double} {
					drawn := func(wide float64) (all []display.Rect) {
						var l display.List
						l.Reset(1000, 100, display.Colour{})
						drawBand(&l, display.Rect{X: 100, Y: 20, W: wide * u, H: 16 * u}, u, &answers.Band{Bead: bead, Meet: meet, Near: strings, Far: strings}, display.Colour{A: 1})
						return drawnBoxes(&l)
					}
					what := fmt.Sprint(bead, meet, strings, u)
					things := 1
					if bead == answers.Two {
						things = 2
					}
					signs := things
					if meet != answers.At {
						signs++
					}
					all := drawn(200)
					low, high := 1e9, -1e9
					for _, r := range all {
						low, high = min(low, r.X), max(high, r.X+r.W)
						assert.InDelta(t, 20+8*u, middle(r).Y, 1e-6, what)
						assert.True(t, r.H <= 10*u+1e-6 && r.H > 2*u || r.H == 0, "%s: %v", what, r)
					}
					assert.InDelta(t, 100+100*u, (low+high)/2, 2.1*u, what)
					assert.InDelta(t, float64(signs)*10*u, high-low, 9*u, what)
					assert.Empty(t, drawn(13), what)
					narrow := drawn(float64(things)*10 + 4)
					require.NotEmpty(t, narrow, what)
					if meet != answers.At {
						assert.Len(t, narrow, things, "%s: only what is looked at", what)
					}
					for _, wide := range []float64{float64(things)*10 + 4, 200} {
						for _, r := range drawn(wide) {
							assert.True(t, within(r, display.Rect{X: 100, Y: 20, W: wide * u, H: 16 * u}, 0), "%s: %v", what, r)
						}
					}
					switch meet {
					case answers.At:
						assert.Len(t, all, 3*things, "%s: a × in each", what)
					case answers.Nearer:
						assert.Greater(t, middle(all[len(all)-1]).X, middle(all[0]).X, "%s: the crossing is before it", what)
					default:
						assert.Less(t, middle(all[0]).X, middle(all[len(all)-1]).X, "%s: the crossing is behind it", what)
					}
				}
			}
		}
	}
}
