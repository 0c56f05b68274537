package desk

import (
	"errors"
	"io/fs"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
	"twincord/sim"
	"twincord/sim/answers"
)

// With reduced motion what moves is shown in steps of a second, and nothing is asked for
// before the next one is due.
func TestReducedMotion(t *testing.T) {
	p := sit(t, "jump-near-to-far")
	d := p.desk
	d.Reduced = true
	p.write("p")
	require.True(t, d.playing)
	steps := map[float64]bool{}
	for range 150 {
		p.update()
		if !d.playing {
			break
		}
		assert.Equal(t, math.Floor(p.in.Seconds-d.began), d.shownAt)
		steps[d.shownAt] = true
		if due, ok := d.Due(); !d.stale && d.banding.work == nil {
			require.True(t, ok)
			assert.InDelta(t, d.began+d.shownAt+beat, due, 1e-9)
		}
	}
	assert.Greater(t, len(steps), 1)

	p = sit(t, "receding-near-point")
	d = p.desk
	d.Reduced = true
	p.in.CoverLeft = true
	p.update()
	assert.InDelta(t, beforeCover+afterCover, d.shownAt, 1e-9, "the eyes have come to rest")
	assert.True(t, d.course.Still(d.shownAt))
}

// A window that is at rest asks for nothing; one that looks for the bands, or has a
// sentence to say anew, does.
func TestWhatIsDue(t *testing.T) {
	p := sit(t, "middle-of-three")
	d := p.desk
	d.banding.work = answers.NewBanding(&d.setup)
	due, ok := d.Due()
	assert.True(t, ok && due <= p.in.Seconds, "the bands are looked for")
	d.openKeys()
	_, ok = d.Due()
	assert.False(t, ok, "not under what lies over them")
	d.closeOverlay()
	d.family = true
	_, ok = d.Due()
	assert.False(t, ok, "nor where they are not seen")
	d.family = false
	p.rest()
	_, ok = d.Due()
	assert.False(t, ok)
	d.setDeviation("", 2)
	p.update()
	due, ok = d.Due()
	assert.True(t, ok)
	assert.InDelta(t, p.in.Seconds+settle, due, 1e-9, "the sentence, once it rests")
}

// A set-up that comes to rest wakes the window where something is to be shown anew, and nowhere
// else: the sentence, the numbers, the bands, or what would give the answers.
func TestRestShowsWhatDiffersAlone(t *testing.T) {
	const scene = "too-near-doubled"
	answers := func(p *person) {
		p.write("a")
		p.search(scene)
	}
	for what, c := range map[string]struct {
		open   func(p *person)
		change func(s *sim.Setup)
		shows  bool
	}{
		"nothing":      {nil, func(s *sim.Setup) { s.Posture.Deviation += 0.2 }, false},
		"a sentence":   {nil, func(s *sim.Setup) { s.Posture.Deviation *= -1 }, true},
		"bands":        {nil, func(s *sim.Setup) { s.Patient.PD++ }, true},
		"no bands":     {func(p *person) { p.write("f") }, func(s *sim.Setup) { s.Patient.PD++ }, false},
		"numbers":      {func(p *person) { p.write("3") }, func(s *sim.Setup) { s.Posture.Deviation += 0.2 }, true},
		"answers":      {answers, func(s *sim.Setup) { s.Patient.PD++ }, true},
		"same answers": {answers, func(s *sim.Setup) { s.Posture.Deviation += 0.2 }, false},
	} {
		p := sit(t, scene)
		d := p.desk
		if c.open != nil {
			c.open(p)
		}
		p.rest()
		require.False(t, p.update(), what)
		_, ok := d.Due()
		require.False(t, ok, what)
		d.edit("", c.change)
		require.True(t, p.update(), what)
		said := d.sentence
		_, ok = d.Due()
		assert.Equal(t, c.shows, ok, what)
		p.in.Seconds += settle
		assert.Equal(t, c.shows, p.update(), what)
		p.rest()
		assert.Equal(t, d.say.Family(&d.view), d.sentence, what)
		assert.Equal(t, what == "a sentence", d.sentence != said, what)
	}
}

// Side by side each picture has half of the width, and room for all that it shows.
func TestSideBySideHasRoom(t *testing.T) {
	p := sit(t, "too-far-doubled")
	d := p.desk
	r := d.layout.picture
	assert.InDelta(t, float64(render.AutoField(&d.view, r.W/r.H, false)), d.wholeField(), 1e-9)
	p.write("c")
	half := r.W / 2 / r.H
	now, plain := float64(render.AutoField(&d.view, half, false)), float64(render.AutoField(&d.plainView, half, false))
	assert.InDelta(t, max(now, plain), d.wholeField(), 1e-9)
}

// One step of zooming out makes the field a quarter wider, one in undoes it, and neither
// leaves what a picture can show.
func TestZooming(t *testing.T) {
	p := sit(t, "middle-of-three")
	d := p.desk
	whole := d.fieldOfView()
	p.write("-")
	assert.InDelta(t, 1.25*whole, d.fieldOfView(), 1e-9)
	p.write("+")
	assert.InDelta(t, whole, d.fieldOfView(), 1e-9)
	p.in.Pointer = middle(d.layout.picture)
	for notches, times := range map[float64]float64{1: 1 / 1.25, -2: 1.25 * 1.25} {
		p.write("0")
		p.in.Wheel = notches
		p.update()
		assert.InDelta(t, whole*times, d.fieldOfView(), 1e-9, "the wheel away from the user comes closer")
	}
	for range 60 {
		p.write("+")
	}
	assert.InDelta(t, render.LeastField, d.fieldOfView(), 1e-9)
	for range 60 {
		p.write("-")
	}
	assert.InDelta(t, render.MostField, d.fieldOfView(), 1e-9)
	p.write("0")
	assert.InDelta(t, whole, d.fieldOfView(), 1e-9)
}

// troubled is an autosave that cannot keep anything for a reason, or nil: it can again.
type troubled struct {
	document.Autosave
	err error
}

func (s *troubled) Err() error { return s.err }

// Why nothing is kept is said, and that it is again.
func TestAutosavesAreTold(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	for _, c := range []struct {
		err  error
		want words.Label
	}{{fs.ErrPermission, words.AutosaveDenied}, {errors.New("another"), words.AutosaveFails}, {nil, words.AutosaveAgain}} {
		p.desk.saver = &troubled{err: c.err}
		p.desk.Autosaved()
		assert.Equal(t, p.desk.say.Label(c.want), p.desk.News())
		assert.Equal(t, c.err != nil, p.desk.news.bad)
	}
	p.desk.saver = nil
}

// A bead that is taken along the string with findings is held, or not, as it would be if
// it were moved by hand: looked at every millimetre of its way.
func TestAStateIsCarried(t *testing.T) {
	s := *sceneSetup(t, "walk-with-findings")
	walked := s
	breaks, back := walked.Turning()
	require.True(t, breaks.OK && back.OK)
	for _, way := range [][2]float64{
		{breaks.Value + 21, breaks.Value - 1}, {breaks.Value + 21, breaks.Value + 1}, {400, 20}, {20, 400}, {20, back.Value - 1},
		{20, back.Value + 1}, {breaks.Value - 1, back.Value + 1}, {back.Value - 1, breaks.Value + 1}, {300, 300},
	} {
		for _, state := range []sim.State{sim.StateHolding, sim.StateBroken} {
			now := s.Clone()
			now.Findings.Value.State = state
			carried(&now, way[0], way[1])
			want := state
			n := max(1, math.Round(math.Abs(way[1]-way[0])))
			for i := 0.; i <= n; i++ {
				want = s.HoldingAt(way[0]+(way[1]-way[0])*i/n, want).Value.State
			}
			assert.Equal(t, want, now.Findings.Value.State, "from %v to %v", way, state)
		}
	}
	plain := *sceneSetup(t, "middle-of-three")
	carried(&plain, 400, 20)
	assert.False(t, plain.Findings.OK)
}
