package live

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/raster"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
	"twincord/sim/answers"
)

// opened is an engine that shows a built-in scene.
func opened(t *testing.T, name string, allow Allowed) *Engine {
	t.Helper()
	e := New()
	require.NoError(t, e.Open(Scene{ID: scenes.Identify(name), Source: source(t, name), Allow: allow}))
	return e
}

func source(t *testing.T, name string) string {
	for _, entry := range scenes.Library() {
		if entry.Name == name {
			return string(entry.Source)
		}
	}
	t.Fatalf("no built-in scene %s", name)
	return ""
}

func looked(t *testing.T, e *Engine, seconds float64) Seen {
	t.Helper()
	seen, err := e.Look(seconds)
	require.NoError(t, err)
	return seen
}

// What is shown of every built-in scene is what the model, the words and the painter say
// of it without an engine between.
func TestShowsWhatIsSeen(t *testing.T) {
	for _, language := range words.Languages() {
		say, err := words.For(language)
		require.NoError(t, err)
		for _, entry := range scenes.Library() {
			e := New()
			require.NoError(t, e.Speak(language, false))
			id := scenes.Identify(entry.Name)
			require.NoError(t, e.Open(Scene{ID: id, Source: string(entry.Source), Allow: Usual}))
			seen := looked(t, e, 0)
			told := scenes.TranslationOf(id, say).Scene(entry.Scene)
			var v sim.View
			sim.NewCourse(&told.Setup).Look(&v, 0)
			assert.Equal(t, say.Family(&v), seen.Sentence, "%s %s", language, entry.Name)

			const w, h = 150, 120
			pixels, err := e.Paint(w, h, Picture{})
			require.NoError(t, err)
			var l display.List
			l.Reset(w, h, theme.Dark.Ground)
			render.Patient(&l, display.Rect{W: w, H: h}, &v, render.PatientOptions{})
			img := image.NewRGBA(image.Rect(0, 0, w, h))
			raster.Paint(&l, img)
			assert.True(t, bytes.Equal(img.Pix, pixels), "%s %s", language, entry.Name)
		}
	}
}

// A pull changes what is seen, and back again: what is set can be got.
func TestPulling(t *testing.T) {
	e := opened(t, "middle-of-three", Usual)
	first := looked(t, e, 0)
	require.True(t, first.Right)
	require.NoError(t, e.Set(keyMeet, "4"))
	pulled := looked(t, e, 0)
	assert.NotEqual(t, first.Sentence, pulled.Sentence)
	assert.NotEqual(t, first.Meeting, pulled.Meeting)
	assert.False(t, pulled.Right)
	for _, c := range e.Controls() {
		if c.Key == keyMeet {
			assert.Equal(t, 4., c.Value)
			assert.True(t, c.Min < 4 && 4 < c.Max)
		}
	}
	require.NoError(t, e.Set(keyMeet, "0"))
	assert.Equal(t, first, looked(t, e, 0))

	bead := e.Controls()[0]
	require.Equal(t, keyBead, bead.Key)
	require.Len(t, bead.Choices, 3)
	for _, c := range bead.Choices {
		require.NoError(t, e.Set(keyBead, c.Value))
		assert.True(t, looked(t, e, 0).Right, c.Text)
		assert.Equal(t, c.Value, e.Controls()[0].Value)
	}
}

// Eso meets nearer: M11's closed form for eyes straight ahead of a bead. The distance from
// the eyes at which axes 62 mm apart cross is 31 mm by the tangent of half the angle.
func TestMeetingIsNearerWhenEso(t *testing.T) {
	e := opened(t, "middle-of-three", Usual)
	at := func(prism string) string {
		require.NoError(t, e.Set(keyMeet, prism))
		return looked(t, e, 0).Meeting
	}
	v := &e.view
	assert.Contains(t, at("4"), "4 Δ eso")
	eso := v.Axes.Vergence
	assert.Contains(t, at("-4"), "4 Δ exo")
	exo := v.Axes.Vergence
	assert.Greater(t, eso, exo)
	assert.InDelta(t, 0.08, float64(eso-exo), 0.001, "8 Δ between them: small angles")
	assert.Contains(t, at("-20"), "apart")
}

// Eyes on their way to another bead are not off it: only there is an error told.
func TestJumpIsNoError(t *testing.T) {
	e := opened(t, "jump-near-to-far", Usual)
	for _, seconds := range []float64{0, 0.3} {
		assert.NotContains(t, looked(t, e, seconds).Meeting, "Δ", "%g s", seconds)
	}
	assert.Contains(t, looked(t, e, 10).Meeting, "(0 Δ)")
}

// Covering an eye leaves the other's image alone, and taking the cover away brings both
// back once the eyes have come to rest.
func TestCovers(t *testing.T) {
	e := opened(t, "middle-of-three", Usual)
	both := looked(t, e, 0)
	require.NoError(t, e.Cover(sim.Right, 1))
	covered := looked(t, e, 1.2)
	assert.NotEqual(t, both.Sentence, covered.Sentence)
	assert.Equal(t, sim.SeenLeft, e.view.Account.Fixated)
	assert.True(t, covered.Moves)
	require.NoError(t, e.Cover(sim.Neither, 2))
	after := looked(t, e, 10)
	assert.Equal(t, both.Sentence, after.Sentence)
	assert.False(t, after.Moves)
	assert.Error(t, e.Cover("third", 0))
}

// Where everything is allowed, every control takes what it may be at either end, or says
// why not, and what is set is what is shown.
func TestEverything(t *testing.T) {
	for _, name := range []string{"middle-of-three", "steady-findings", "bare-string"} {
		e := opened(t, name, Everything)
		usual := len(opened(t, name, Usual).Controls())
		all := e.Controls()
		require.Greater(t, len(all), usual+10)
		for i, c := range all {
			assert.NotEmpty(t, c.Label)
			values := []string{strconv.FormatFloat(c.Min, 'g', -1, 64), strconv.FormatFloat(c.Max, 'g', -1, 64)}
			if len(c.Choices) > 0 {
				values = []string{c.Choices[0].Value, c.Choices[len(c.Choices)-1].Value}
			}
			for _, value := range values {
				e := opened(t, name, Everything)
				if e.Set(c.Key, value) != nil {
					assert.Equal(t, all, e.Controls(), "%s: nothing changed", c.Key)
					continue
				}
				looked(t, e, 0)
				assert.Equal(t, value, fmt.Sprint(e.Controls()[i].Value), c.Key)
			}
		}
	}
}

// What is not allowed is refused, and changes nothing.
func TestLocked(t *testing.T) {
	e := opened(t, "middle-of-three", Nothing)
	before := looked(t, e, 0)
	assert.Empty(t, e.Controls())
	assert.ErrorIs(t, e.Set(keyMeet, "4"), errLocked)
	assert.ErrorIs(t, e.Cover(sim.Right, 0), errLocked)
	assert.Equal(t, before, looked(t, e, 0))
	assert.ErrorIs(t, opened(t, "steady-findings", Usual).Set(keyMeet, "4"), errLocked, "it follows from the findings")
}

func TestBadInput(t *testing.T) {
	e := New()
	_, err := e.Look(0)
	assert.ErrorIs(t, err, errNoScene)
	_, err = e.Paint(10, 10, Picture{})
	assert.ErrorIs(t, err, errNoScene)
	assert.Error(t, e.Open(Scene{Source: "format = 2", Allow: Usual}))
	assert.Error(t, e.Open(Scene{Source: source(t, "middle-of-three"), Allow: "much"}))
	assert.Error(t, e.Speak("xx", false))
	e = opened(t, "middle-of-three", Usual)
	for _, value := range []string{"", "much", "NaN", "1e9"} {
		assert.Error(t, e.Set(keyMeet, value), value)
	}
	assert.Error(t, e.Set(keyBead, "none such"))
	for _, size := range [][2]int{{0, 10}, {10, -1}, {1 << 30, 1 << 30}} {
		_, err := e.Paint(size[0], size[1], Picture{})
		assert.Error(t, err)
	}
	assert.Error(t, e.Step(3), "it has no routine")
	assert.True(t, looked(t, e, 0).Right, "and it is as it was")
}

// The routine of every built-in scene is its steps, and each is seen as a player shows it.
func TestPractice(t *testing.T) {
	for _, entry := range scenes.Library() {
		e := opened(t, entry.Name, Usual)
		steps := routine.Steps(e.told.Scene(entry.Scene))
		p := e.Practice()
		require.Len(t, p.Steps, len(steps), entry.Name)
		player := routine.NewPlayer(steps)
		for i := range steps {
			require.NoError(t, e.Step(i))
			var v sim.View
			for _, since := range []float64{0, 0.5, 3} {
				assert.Equal(t, p.Steps[i].Says, looked(t, e, since).Sentence, "%s step %d says one thing", entry.Name, i)
				player.Look(&v, i, since)
				require.Equal(t, v.Account, e.view.Account, "%s step %d", entry.Name, i)
			}
			assert.Equal(t, routine.Right(&steps[i].Expected), p.Steps[i].Right)
			if entry.Scene.Setup.Hold.SD > 0 {
				assert.Contains(t, p.Steps[i].Says, "waver")
			} else {
				assert.Equal(t, e.say.Family(&v), p.Steps[i].Says, "which is so after a while")
			}
		}
		if len(steps) > 0 {
			assert.NotEmpty(t, p.Questions)
		}
		require.NoError(t, e.Step(-1))
	}
}

// Another answer shows what is seen by who gives it: what M18 tells of that view is what
// was said. All that the sheet has to say to is answered at some step.
func TestOtherAnswers(t *testing.T) {
	for _, entry := range scenes.Library() {
		e := opened(t, entry.Name, Usual)
		heard := map[routine.Answer]bool{}
		for i := range e.steps {
			require.NoError(t, e.Step(i))
			expected := looked(t, e, 10)
			others := e.Others()
			require.NotEmpty(t, others)
			for k, o := range others {
				assert.True(t, o.Heard != "" && o.Means != "" && len(o.Tries) > 0 && o.Stop != "")
				assert.Contains(t, o.Sees, o.Heard)
				require.NoError(t, e.Hear(k))
				looked(t, e, 10)
				answer := e.replies[k].Answer
				heard[answer] = true
				said, told := answer.Said(), answers.Tell(&e.view)
				for item, code := range said.Code {
					if code != answers.Open {
						require.Equal(t, code, told.Code[item], "%s step %d, %s", entry.Name, i, answer)
					}
				}
			}
			require.NoError(t, e.Hear(-1))
			assert.Equal(t, expected, looked(t, e, 10), "the step is shown again")
		}
		if len(e.steps) > 0 {
			for _, o := range routine.Others(e.kind(), e.steps) {
				assert.True(t, heard[o.Answer], "%s: %s", entry.Name, o.Answer)
			}
		}
	}
}

// Words in the picture are as large as small type of the page, on every screen.
func TestWordsInThePictureAreReadable(t *testing.T) {
	e := opened(t, "too-far-doubled", Usual)
	for _, language := range words.Languages() {
		require.NoError(t, e.Speak(language, false))
		for _, p := range []Picture{{SideBySide: true, Scale: 1}, {SideBySide: true, Scale: 3}, {Marks: true, Scale: 2}} {
			looked(t, e, 0)
			_, err := e.Paint(int(288*p.Scale), int(230*p.Scale), p)
			require.NoError(t, err)
			require.NotEmpty(t, e.list.Texts)
			for _, text := range e.list.Texts {
				assert.GreaterOrEqual(t, text.Size, theme.Small*p.Scale, text.String)
			}
		}
	}
}

// What slides goes to the other side and back, once, and rests there.
func TestSliding(t *testing.T) {
	e := opened(t, "walk-of-ten", Usual)
	require.NoError(t, e.Step(4))
	slides := slices.IndexFunc(e.replies, func(o routine.Other) bool { return o.Answer == routine.Sliding })
	require.GreaterOrEqual(t, slides, 0)
	require.NoError(t, e.Hear(slides))
	meets := func(seconds float64, moves bool) sim.Meet {
		assert.Equal(t, moves, looked(t, e, seconds).Moves)
		return e.view.Account.Meet
	}
	assert.Equal(t, sim.MeetNearer, meets(0, true))
	assert.Equal(t, sim.MeetAt, meets(1, true))
	assert.Equal(t, sim.MeetBeyond, meets(2, true))
	assert.Equal(t, sim.MeetNearer, meets(4, false))
	assert.Equal(t, sim.MeetNearer, meets(100, false))
	require.NoError(t, e.Step(5))
	assert.Equal(t, sim.MeetAt, meets(10, false), "another step has nothing heard")
	assert.Error(t, e.Hear(100))
}

// The script reads what is told to it: what a reader of JSON makes of it is what was told,
// whatever stands in a name.
func TestJSON(t *testing.T) {
	const hostile = "</script>\"\\\u2028\t\x01é\xff"
	var heard struct {
		Sentence, Meeting string
		Moves, Right      bool
	}
	require.NoError(t, json.Unmarshal([]byte(Seen{hostile, "m", true, false}.JSON()), &heard))
	assert.Equal(t, "</script>\"\\\u2028\t\x01é\ufffd", heard.Sentence)
	assert.True(t, heard.Moves && !heard.Right)

	e := opened(t, "walk-of-ten", Usual)
	var practice Practice
	require.NoError(t, json.Unmarshal([]byte(e.Practice().JSON()), &practice))
	assert.Equal(t, e.Practice(), practice)
	var others []Other
	require.NoError(t, e.Step(0))
	require.NoError(t, json.Unmarshal([]byte(OthersJSON(e.Others())), &others))
	assert.Equal(t, e.Others(), others)
	var controls []Control
	require.NoError(t, json.Unmarshal([]byte(ControlsJSON(opened(t, "middle-of-three", Usual).Controls())), &controls))
	for i, c := range opened(t, "middle-of-three", Usual).Controls() {
		if c.Choices == nil {
			c.Choices = []Choice{}
		}
		assert.Equal(t, c, controls[i])
	}
}

// BenchmarkPull is a pull on where the eyes meet, painted as it is while a finger moves.
func BenchmarkPull(b *testing.B) {
	e := New()
	for _, entry := range scenes.Library() {
		if entry.Name == "middle-of-three" {
			if err := e.Open(Scene{ID: scenes.Identify(entry.Name), Source: string(entry.Source), Allow: Usual}); err != nil {
				b.Fatal(err)
			}
		}
	}
	for i := 0; b.Loop(); i++ {
		if err := e.Set(keyMeet, []string{"2", "3"}[i%2]); err != nil {
			b.Fatal(err)
		}
		if _, err := e.Look(0); err != nil {
			b.Fatal(err)
		}
		if _, err := e.Paint(585, 468, Picture{}); err != nil {
			b.Fatal(err)
		}
	}
}
