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
