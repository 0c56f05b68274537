package desk

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"twincord/render/display"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// Every key of scene files but those that a window has no use for has a control with a
// label and a hint in every language: what the catalogue lacks is said as its id.
func TestEveryKeyHasAControlAndWords(t *testing.T) {
	isID := func(s string) bool { return s == "" || !strings.Contains(s, " ") && strings.Contains(s, "-") }
	for _, language := range words.Languages() {
		sc, _, err := scenes.Open("middle-of-three")
		require.NoError(t, err)
		p := sitBefore(t, sc, language, Settings{}, 1280, 800, 1)
		has := map[string]bool{}
		for _, w := range p.desk.page.paged[setupPage] {
			b := w.Self()
			has[b.Name] = true
			if strings.HasPrefix(b.Name, "key ") && !strings.HasSuffix(b.Name, " hex") {
				assert.False(t, strings.HasPrefix(b.Label, "key-"), "%s: %s", language, b.Label)
				assert.False(t, isID(b.Hint), "%s: %s: %q", language, b.Name, b.Hint)
			}
			if o, ok := w.(*ui.Choice); ok {
				for _, text := range o.Texts {
					assert.False(t, strings.HasPrefix(text, "choice-"), "%s: %s", language, text)
				}
			}
		}
		for _, k := range scenes.Keys() {
			name := "key " + k.Path()
			if k.Kind == scenes.Point {
				name += ".x"
			}
			assert.True(t, has[name] || unshown[k.Path()], "%s has no control", k.Path())
		}
	}
}

// What is written is read as the same number, whatever its kind.
func TestQuantitiesReadWhatTheyWrite(t *testing.T) {
	keys := scenes.Keys()
	for _, language := range words.Languages() {
		say, err := words.For(language)
		require.NoError(t, err)
		rapid.Check(t, func(r *rapid.T) {
			k := &keys[rapid.IntRange(0, len(keys)-1).Draw(r, "key")]
			if k.Kind != scenes.Number || unshown[k.Path()] {
				return
			}
			inches := rapid.Bool().Draw(r, "inches")
			q := quantityOf(k, inches)
			v := rapid.Float64Range(k.Ranges[0].Min, k.Ranges[len(k.Ranges)-1].Max).Draw(r, "value")
			text := q.write(say.WithInches(inches), v)
			got, ok := q.read(say, text)
			require.True(r, ok, "%s: %q", k.Path(), text)
			assert.InDelta(r, q.round(v)*q.per, got, 1e-9, "%s: %q", k.Path(), text)
		})
	}
}

func TestQuantitiesAsPeopleTypeThem(t *testing.T) {
	say, err := words.For("en")
	require.NoError(t, err)
	of := func(path string, inches bool) *quantity {
		k, ok := scenes.Find(path)
		require.True(t, ok)
		return quantityOf(&k, inches)
	}
	cyclo, other := of("posture.cyclo_deg", false), of("suppression.radius_deg", false)
	for text, want := range map[string]float64{"3 ex": 3, "3° in": -3, "3": 3, "-3": -3} {
		got, ok := cyclo.read(say, text)
		assert.True(t, ok, text)
		assert.Equal(t, want, got, text)
		_, ok = other.read(say, text)
		assert.Equal(t, !strings.HasSuffix(text, "x") && !strings.HasSuffix(text, "in"), ok, "only eyes are tilted: %q", text)
	}
	zero, ok := cyclo.read(say, "-0")
	assert.True(t, ok && !math.Signbit(zero), "no negative zero")
	deviation, place, placeIn := of("posture.deviation_prism", false), of("beads[].at_mm", false), of("beads[].at_mm", true)
	for _, c := range []struct {
		q    *quantity
		text string
		want float64
	}{
		{deviation, "4", 4}, {deviation, "4.5", 4.5}, {deviation, "4,5", 4.5}, {deviation, "-4", -4}, {deviation, "−4", -4},
		{deviation, "4 exo", -4}, {deviation, "4exo", -4}, {deviation, "4 Δ exo", -4}, {deviation, " 4 ESO ", 4}, {deviation, "4 Δ", 4},
		{place, "30", 300}, {place, "30 cm", 300}, {place, "305 mm", 305}, {place, "1.2 m", 1200}, {place, "12 in", 304.8}, {place, "12\"", 304.8},
		{placeIn, "12", 304.8}, {placeIn, "30 cm", 300},
	} {
		got, ok := c.q.read(say, c.text)
		assert.True(t, ok, c.text)
		assert.InDelta(t, c.want, got, 1e-9, c.text)
	}
	for _, text := range []string{"", "x", "--4", "4 4", "1.2.3", "-4 exo", "+4 eso", "4 in", "NaN", "Inf", "1e3", "4 eso exo", "."} {
		_, ok := deviation.read(say, text)
		assert.False(t, ok, text)
	}
}

// allGroups are the groups of the set-up all unfolded.
const allGroups = 0b1111111100

// One pull is one step back, and so is a row of steps by keys.
func TestAPullIsOneStep(t *testing.T) {
	p := sit(t, "middle-of-three")
	doc := p.desk.doc
	first := doc.Scene()
	for _, name := range []string{"target", "meeting"} {
		at := middle(p.widget(name).Self().Area)
		p.press(at)
		for range 20 {
			at.X += 7
			p.moveTo(at)
		}
		p.lift()
		require.NotEqual(t, first.Setup, doc.Scene().Setup, name)
		p.desk.doc.Undo()
		p.update()
		assert.Equal(t, first.Setup, doc.Scene().Setup, name)
		require.False(t, doc.CanUndo(), name)
	}
	p.desk.kit.SetFocus(p.widget("meeting"))
	for range 5 {
		p.key(ui.KeyRight)
	}
	p.key(ui.KeyTab)
	doc.Undo()
	p.update()
	assert.Equal(t, first.Setup, doc.Scene().Setup)
}

// Esc during a pull puts everything back, until the handle is taken again.
func TestEscapePutsBack(t *testing.T) {
	for _, name := range []string{"target", "meeting", "bead sky", "anchor", "right eye"} {
		p := sit(t, "too-far-doubled")
		before := p.desk.doc.Scene().Setup
		at := middle(p.widget(name).Self().Area)
		p.press(at)
		for range 6 {
			at = display.Point{X: at.X + 9, Y: at.Y + 4}
			p.moveTo(at)
		}
		assert.NotEqual(t, before, p.desk.doc.Scene().Setup, name)
		p.key(ui.KeyEscape)
		assert.Equal(t, before, p.desk.doc.Scene().Setup, name)
		p.moveTo(display.Point{X: at.X + 50, Y: at.Y})
		assert.Equal(t, before, p.desk.doc.Scene().Setup, name)
		p.lift()
	}
}

// In the view from above the same things are pulled, and the far end of the string and
// the eyes besides.
func TestPullingFromAbove(t *testing.T) {
	p := sit(t, "middle-of-three")
	setup := func() any { return p.desk.doc.Scene().Setup }
	pull := func(name string, dx, dy float64) {
		at := middle(p.widget(name).Self().Area)
		p.press(at)
		p.moveTo(display.Point{X: at.X + dx, Y: at.Y + dy})
		p.lift()
	}
	was := p.desk.doc.Scene().Setup
	pull("anchor", 60, 0)
	now := p.desk.doc.Scene().Setup
	assert.Greater(t, now.String.AnchorSide, was.String.AnchorSide, "to the patient's right")
	require.NoError(t, p.desk.doc.Scene().Check())
	pull("right eye", 8, 0)
	assert.Greater(t, p.desk.doc.Scene().Setup.Patient.PD, was.Patient.PD)
	pull("left eye", 200, 0)
	assert.LessOrEqual(t, p.desk.doc.Scene().Setup.Patient.PD, 80.)
	before := setup()
	pull("bead above plum", 0, -10)
	assert.NotEqual(t, before, setup())
	pull("target above", 0, -25)
	assert.Greater(t, p.desk.setup.LookPlace(), was.LookPlace())
	pull("meeting above", 0, 12)
	assert.Greater(t, float64(p.desk.setup.Posture.Deviation), 0., "nearer: eso")
}

// What stands before the one eye stands under what stands before the other.
func TestGlassesStandInColumns(t *testing.T) {
	sc, _, err := scenes.Open(scenes.DefaultName)
	require.NoError(t, err)
	for _, language := range words.Languages() {
		p := sitBefore(t, sc, language, Settings{Page: setupPage, Groups: allGroups}, 1600, 6000, 1)
		pairs := 0
		for _, k := range scenes.Keys() {
			if k.Table != "right" {
				continue
			}
			right, left := p.widget("key "+k.Path()).Self().Area, p.widget("key left."+k.Name).Self().Area
			assert.InDelta(t, right.X, left.X, 1e-9, "%s in %s", k.Name, language)
			assert.InDelta(t, right.W, left.W, 1e-9, "%s in %s", k.Name, language)
			pairs++
		}
		assert.Positive(t, pairs)
	}
}

// A control shows where it does something: each in a set-up in which it does, and in those
// that differ from it by what it hangs on.
func TestControlsShowWhereTheyDoSomething(t *testing.T) {
	whole := func(s *sim.Setup) {
		s.Suppression = sim.Suppression{Eye: sim.Right, Zone: sim.ZoneCentral, Radius: 2, Depth: 1, Period: 4, Share: 0.5}
		s.Look.Bead, s.Hold.SD = sim.NoBead, 5
	}
	for key, without := range map[string][]func(*sim.Setup){
		"suppression.zone":   {func(s *sim.Setup) { s.Suppression.Eye = sim.Neither }},
		"suppression.depth":  {func(s *sim.Setup) { s.Suppression.Eye = sim.Neither }},
		"suppression.centre": {func(s *sim.Setup) { s.Suppression.Eye = sim.Neither }, func(s *sim.Setup) { s.Suppression.Zone = sim.ZoneAll }},
		"suppression.radius_deg": {
			func(s *sim.Setup) { s.Suppression.Eye = sim.Neither }, func(s *sim.Setup) { s.Suppression.Zone = sim.ZoneAll }},
		"suppression.period_s": {func(s *sim.Setup) { s.Suppression.Eye = sim.Neither }},
		"suppression.share": {
			func(s *sim.Setup) { s.Suppression.Eye = sim.Neither }, func(s *sim.Setup) { s.Suppression.Period = 0 },
			func(s *sim.Setup) { s.Suppression.Eye = sim.Alternating }},
		"look.at_mm": {func(s *sim.Setup) { s.Look.Bead = 0 }},
		"hold.seed":  {func(s *sim.Setup) { s.Hold.SD = 0 }},
	} {
		k, ok := scenes.Find(key)
		require.True(t, ok, key)
		p := sit(t, "middle-of-three")
		shows := func(change func(*sim.Setup)) bool {
			p.desk.edit("", func(s *sim.Setup) { whole(s); change(s) })
			return p.desk.whenOf(&k)(p.desk)
		}
		assert.True(t, shows(func(*sim.Setup) {}), key)
		for i, change := range without {
			assert.False(t, shows(change), "%s, %d", key, i)
		}
	}
	assert.Len(t, relevant, 8, "all of them are here")
}

// On a string without beads nothing of a bead is shown, asked for or changed.
func TestControlsWithoutBeads(t *testing.T) {
	p := atSetup(t, "bare-string")
	d := p.desk
	_, ok := d.beadColour()
	assert.False(t, ok)
	before := p.setup().Clone()
	for _, w := range d.page.paged[setupPage] {
		switch w := w.(type) {
		case *ui.Swatches:
			assert.Equal(t, -1, w.Get())
		case *ui.Choice:
			assert.Less(t, w.Get(), len(w.Texts), w.Name)
		case *ui.Number:
			_ = w.Text()
		case *ui.TextField:
			_ = w.Get()
		}
	}
	k, _ := scenes.Find("beads[].at_mm")
	_, ok = d.value(&k)
	assert.False(t, ok)
	assert.True(t, p.widget("remove-bead").Self().Off)
	d.removeBead()
	assert.Equal(t, before, *p.setup())
}

// Between the ranges of a key a number goes on to the next, the way it was going.
func TestNumbersGoFromRangeToRange(t *testing.T) {
	ranges := []scenes.Range{{Min: 0, Max: 0}, {Min: 2, Max: 5}, {Min: 8, Max: 9}}
	for _, c := range []struct {
		v    float64
		up   bool
		want float64
	}{
		{-1, true, 0}, {-1, false, 0}, {0, true, 0}, {1, true, 2}, {1, false, 0}, {2, false, 2}, {3.5, true, 3.5}, {5, true, 5},
		{6, true, 8}, {6, false, 5}, {8, false, 8}, {9, true, 9}, {10, true, 9}, {10, false, 9},
	} {
		assert.Equal(t, c.want, fitted(ranges, c.v, c.up), "%v, up %v", c.v, c.up)
	}
}

// Switched from findings to a posture the eyes stay where they point; switched back there
// are findings, and no posture beside them.
func TestSwitchingThePosture(t *testing.T) {
	p := atSetup(t, "receding-near-point")
	o := p.widget("posture switch").(*ui.Choice)
	was := p.desk.view.Now.Posture.Deviation
	assert.Equal(t, 1, o.Get())
	o.Set(0)
	p.update()
	assert.Equal(t, 0, o.Get())
	assert.InDelta(t, float64(was), float64(p.desk.view.Now.Posture.Deviation), 0.05)
	o.Set(1)
	p.update()
	assert.Equal(t, 1, o.Get())
	assert.Equal(t, sim.DefaultFindings(), p.setup().Findings.Value)
	assert.Equal(t, sim.Default().Posture, p.setup().Posture)
}

// What is chosen for the window is so at once, and what was chosen before once it is chosen
// again.
func TestChoosingForTheWindow(t *testing.T) {
	p := atSetup(t, scenes.DefaultName)
	d := p.desk
	for name, at := range map[string]func() bool{
		"length": func() bool { return d.say.Inches() }, "look": func() bool { return d.Light }, "type": func() bool { return d.Large },
		"motion": func() bool { return d.Reduced }, "sound": func() bool { return d.Sound }, "letters": func() bool { return d.NoLetters },
	} {
		for i, want := range []bool{false, true, false} {
			o := p.widget(name).(*ui.Choice)
			o.Set(i % 2)
			p.update()
			assert.Equal(t, want, at(), name)
			assert.Equal(t, i%2, p.widget(name).(*ui.Choice).Get(), name)
		}
	}
}
