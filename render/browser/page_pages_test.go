//go:build pages

package browser_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/browser"
	"twincord/render/browser/live"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
)

// visit is a page opened in a browser, on a screen, and what is done there.
type visit struct {
	Page    string  `json:"page"`
	Width   int     `json:"width"`
	Height  int     `json:"height"`
	Scale   float64 `json:"scale"`
	Touch   bool    `json:"touch"`
	Dark    bool    `json:"dark"`
	Reduced bool    `json:"reduced"`
	Plain   bool    `json:"plain"`  // without script
	Dead    bool    `json:"dead"`   // it does not get live
	Says    string  `json:"says"`   // what it should say then, an element
	At      string  `json:"at"`     // the end of the address
	Prints  string  `json:"prints"` // the folder for what is printed
	Font    int     `json:"font"`   // size of letters that the browser is set to, pixels; 0: as usual
	// Forgetful says that nothing can be kept, Throttle how many times as slow it is as here.
	Forgetful bool     `json:"forgetful"`
	Throttle  float64  `json:"throttle"`
	Does      []string `json:"does"`
}

// found is what was found there.
type found struct {
	Requests, Errors []string
	Live             float64 // ms until it was
	AtOnce           string  // the sentence at that moment
	Began            float64 // s of the main thread until then
	Scenes           []struct {
		Language, Pixels, Sentence, Title string
		Number, W, H                      int
	}
	Wide       float64
	Small, Axe []string
	Places     []string
	Heights    []float64 // of what stands above the steps' buttons
	Said       []struct {
		Sentence string
		Frame    float64 // ms
	}
	Over, Ticked bool
	Emptied      bool
	Meaning      string
	Count        string
	States       map[string]struct{ Sentence, Meeting, Place string }
	Text         string
	Pictures     int
	Canvas       bool
	Idle, Pull   float64 // s of the main thread: of a second, and for a frame
	Memory       int
	Aloud        [][]string // what a reader of screens says, before and in the routine
	Unkept       bool
	Linked       []string
}

// visited opens pages in Chromium.
func visited(t *testing.T, visits ...visit) []found {
	t.Helper()
	return visitedIn(t, "", visits...)
}

// visitedIn opens them in a Firefox, or where none is named in Chromium.
func visitedIn(t *testing.T, firefox string, visits ...visit) []found {
	t.Helper()
	list := filepath.Join(t.TempDir(), "visits.json")
	text, err := json.Marshal(visits)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(list, text, 0o600))
	run := exec.Command("node", "checks/visit.mjs", list)
	run.Env = append(os.Environ(), "FIREFOX="+firefox)
	var out, complaints bytes.Buffer
	run.Stdout, run.Stderr = &out, &complaints
	require.NoError(t, run.Run(), "%s", complaints.String())
	var all []found
	require.NoError(t, json.Unmarshal(out.Bytes(), &all))
	require.Len(t, all, len(visits))
	for i := range all {
		assert.Empty(t, all[i].Requests, "a page asks for nothing")
	}
	return all
}

// written is a page in a file.
func written(t *testing.T, p *browser.Page) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, p.Write(&b))
	file := filepath.Join(t.TempDir(), "page.html")
	require.NoError(t, os.WriteFile(file, b.Bytes(), 0o600))
	return file
}

// phone is the screen of one, and what is done there.
func phone(page string, does ...string) visit {
	return visit{Page: page, Width: 390, Height: 844, Scale: 3, Touch: true, Does: does}
}

// Pixels are byte for byte those of the native program, for every built-in scene, and
// sentences those of the words, in each language.
func TestPagesShowWhatTheProgramShows(t *testing.T) {
	all := library()
	v := visit{Page: written(t, &all), Width: 390, Height: 844, Scale: 1, Dark: true, Does: []string{"scenes"}}
	showsAll(t, &all, &visited(t, v)[0], live.Picture{Scale: 1})
}

func showsAll(t *testing.T, all *browser.Page, got *found, as live.Picture) {
	t.Helper()
	assert.Empty(t, got.Errors)
	require.Len(t, got.Scenes, len(words.Languages())*len(all.Scenes))
	for _, s := range got.Scenes {
		scene := all.Scenes[s.Number]
		e := live.New()
		require.NoError(t, e.Speak(s.Language, false))
		require.NoError(t, e.Open(live.Scene{ID: scene.ID, Source: string(scene.Source), Allow: live.Usual}))
		seen, err := e.Look(0)
		require.NoError(t, err)
		assert.Equal(t, seen.Sentence, s.Sentence, "%s %s", s.Language, scene.ID)
		pixels, err := e.Paint(s.W, s.H, as)
		require.NoError(t, err)
		sum := sha256.Sum256(pixels)
		assert.Equal(t, hex.EncodeToString(sum[:]), s.Pixels, "%s %s, %d × %d", s.Language, scene.ID, s.W, s.H)
	}
}

// Another maker's browser shows the same pixels, and is pulled on by the same keys.
func TestPagesInFirefox(t *testing.T) {
	firefox, err := exec.LookPath("firefox-esr")
	if err != nil {
		t.Skip("NOT RUN: family pages in Firefox, which is not installed here")
	}
	all, walk := library(), pageOf(t, "walk-of-ten")
	got := visitedIn(t, firefox,
		visit{Page: written(t, &all), Width: 390, Height: 844, Does: []string{"scenes"}},
		visit{Page: written(t, &walk), Width: 1280, Height: 800, Does: []string{"keys"}},
		visit{Page: written(t, &walk), Width: 1280, Height: 800, Does: []string{"steps"}})
	showsAll(t, &all, &got[0], live.Picture{Scale: 1, Light: true})
	keysDo(t, &got[1])
	stepsGoOn(t, &got[2])
}

// screens are those that pages are looked at on.
var screens = []visit{
	{Width: 360, Height: 740, Scale: 2, Touch: true},
	{Width: 390, Height: 844, Scale: 3, Touch: true, Dark: true},
	{Width: 740, Height: 360, Scale: 2, Touch: true},               // on its side
	{Width: 320, Height: 568, Scale: 2, Touch: true, Font: 32},     // letters twice as large
	{Width: 320, Height: 256, Scale: 4, Dark: true, Reduced: true}, // a laptop's at four times its size
	{Width: 768, Height: 1024, Scale: 1, Reduced: true},
	{Width: 1280, Height: 800, Scale: 1, Dark: true},
}

// On every screen nothing is cut off, all that is pressed has 44 pixels, and axe finds
// nothing; without a script too.
func TestPagesFitEveryScreen(t *testing.T) {
	var visits []visit
	for i, name := range []string{"walk-of-ten", "middle-of-three", "right-left-out"} {
		page := pageOf(t, name)
		for k, language := range words.Languages() {
			page.Language = language
			file := written(t, &page)
			for n, v := range screens {
				if (n+k)%2 == 1 && i > 0 {
					continue // half of them will do for the others
				}
				v.Page, v.Does = file, []string{"looks"}
				visits = append(visits, v)
			}
		}
	}
	some := pageOf(t, "walk-of-ten")
	some.Scenes = append(some.Scenes, pageOf(t, "too-far-doubled").Scenes...)
	plain := phone(written(t, &some), "looks")
	plain.Plain = true
	visits = append(visits, plain)
	for i, got := range visited(t, visits...) {
		v := visits[i]
		assert.Empty(t, got.Errors)
		assert.LessOrEqual(t, got.Wide, 0., "at %d", v.Width)
		assert.Empty(t, got.Small, "at %d", v.Width)
		assert.Empty(t, got.Axe, "at %d", v.Width)
	}
}

// On paper no list is torn over two pages, nor from what stands above it.
func TestPagesOnPaper(t *testing.T) {
	page := pageOf(t, "walk-of-ten")
	v := phone(written(t, &page), "prints")
	v.Prints = t.TempDir()
	assert.Empty(t, visited(t, v)[0].Errors)
	say, err := words.For("en")
	require.NoError(t, err)
	lists := map[words.Label]string{words.CautionsTitle: say.Cautions()[len(say.Cautions())-1]}
	questions := routine.Questions(routine.Walk)
	lists[words.SheetAsk] = say.Ask(string(questions[len(questions)-1]))
	for _, paper := range []string{"A4", "Letter"} {
		text, err := exec.Command("pdftotext", filepath.Join(v.Prints, paper+".pdf"), "-").Output()
		require.NoError(t, err)
		for title, last := range lists {
			assert.True(t, slices.ContainsFunc(strings.Split(string(text), "\f"), func(sheet string) bool {
				one := strings.Join(strings.Fields(sheet), " ")
				return strings.Contains(one, say.Label(title)) && strings.Contains(one, last)
			}), "%s: %s", paper, last)
		}
	}
}

// The routine of every built-in scene is gone through with a finger, from the first place
// to the last; the day is ticked, is still when the page is opened again, and is emptied.
func TestRoutinesByTouch(t *testing.T) {
	var visits []visit
	var steps []int
	for _, e := range scenes.Library() {
		if e.Scene.Routine.OK {
			page := pageOf(t, e.Name)
			page.Scenes[0].Prescribed = "A. Nobody"
			visits = append(visits, phone(written(t, &page), "touch"))
			steps = append(steps, len(routine.Steps(e.Scene)))
		}
	}
	require.NotEmpty(t, visits)
	for i, got := range visited(t, visits...) {
		assert.Empty(t, got.Errors)
		require.True(t, got.Over)
		require.Len(t, got.Places, steps[i]+1, "each place, and once more at the end")
		for n, place := range got.Places[:steps[i]] {
			assert.Contains(t, place, fmt.Sprintf("Step %d of %d", n+1, steps[i]))
			assert.InDelta(t, got.Heights[0], got.Heights[n], 1, "the buttons stay under the finger: %s", place)
		}
		s := got.States
		assert.Contains(t, got.Meaning, "What to try")
		assert.Contains(t, got.Meaning, "Stop when")
		assert.NotEqual(t, s["step"].Sentence, s["heard"].Sentence, "the picture shows what is heard")
		assert.NotEqual(t, s["heard"].Sentence, s["right"].Sentence, "and then the step again")
		assert.True(t, got.Ticked)
		assert.True(t, got.Emptied)
	}
}

// Of each step one sentence is said, once, however the eyes jump and waver.
func TestStepsSayOneThing(t *testing.T) {
	page := pageOf(t, "jumps-unsteady")
	s := &page.Scenes[0]
	s.Source = append(slices.Clone(s.Source), "hold_s = 1\n"...) // of the routine, which stands last
	e := live.New()
	require.NoError(t, e.Open(live.Scene{ID: s.ID, Source: string(s.Source), Allow: s.Allow}))
	var want, said []string
	for _, step := range e.Practice().Steps {
		want = append(want, step.Says)
	}
	got := visited(t, phone(written(t, &page), "runs"))[0]
	assert.Empty(t, got.Errors)
	for _, one := range got.Said {
		said = append(said, one.Sentence)
	}
	assert.Equal(t, want, said)
}

// What moves by itself is not told faster than it can be followed: a sentence a second.
func TestSentencesCanBeFollowed(t *testing.T) {
	page := pageOf(t, "jumps-unsteady")
	got := visited(t, phone(written(t, &page), "plays"))[0]
	assert.Empty(t, got.Errors)
	for i := 1; i+1 < len(got.Said); i++ { // the first one stood there before
		assert.GreaterOrEqual(t, got.Said[i+1].Frame-got.Said[i].Frame, 1000., "%s", got.Said[i+1].Sentence)
	}
}

// A finger that scrolls the page pulls on nothing, wherever it begins.
func TestSwipesPullOnNothing(t *testing.T) {
	page := pageOf(t, "too-far-doubled")
	got := visited(t, phone(written(t, &page), "swipes"))[0]
	assert.Empty(t, got.Errors)
	s := got.States
	assert.Equal(t, s["first"], s["scrolled"])
	assert.NotEqual(t, s["first"].Meeting, s["pulled"].Meeting, "but one that goes along does")
}

// By keys alone: what a finger does, keys do.
func TestPagesByKeys(t *testing.T) {
	page := pageOf(t, "walk-of-ten")
	file := written(t, &page)
	all := visited(t, visit{Page: file, Width: 1280, Height: 800, Does: []string{"keys", "steps"}}, phone(file, "holds"), phone(file, "counts"))
	keysDo(t, &all[0])
	stepsGoOn(t, &all[0])
	holds := all[1]
	assert.Contains(t, holds.States["covered"].Sentence, "left eye")
	assert.Equal(t, holds.States["first"].Sentence, holds.States["uncovered"].Sentence)
	assert.Regexp(t, `^[2-5] / 5$`, all[2].Count)
}

func keysDo(t *testing.T, keys *found) {
	t.Helper()
	assert.Empty(t, keys.Errors)
	s := keys.States
	assert.Contains(t, s["nearer"].Meeting, "6 Δ eso")
	assert.Contains(t, s["nearer"].Sentence, "in front")
	assert.Contains(t, s["farther"].Meeting, "6 Δ exo")
	assert.Equal(t, s["first"].Sentence, s["back"].Sentence)
	assert.Contains(t, s["covered"].Sentence, "right eye")
	assert.Equal(t, s["first"].Sentence, s["uncovered"].Sentence)
}

func stepsGoOn(t *testing.T, steps *found) {
	t.Helper()
	assert.Empty(t, steps.Errors)
	assert.Contains(t, steps.States["step 1"].Place, "Step 1 of")
	assert.Contains(t, steps.States["step 2"].Place, "Step 2 of")
}

// Who cannot see the page hears the sentence for the picture, the numbers in words, and
// every button by a name, in the order in which it is done.
func TestPagesReadAloud(t *testing.T) {
	page := pageOf(t, "walk-of-ten")
	got := visited(t, phone(written(t, &page), "aloud"))[0]
	require.Len(t, got.Aloud, 2)
	for i, want := range [][]string{
		{"heading: Walk of ten steps", "image: You look at the blue bead: it is one.", "button: Start the exercise",
			"slider: Where the eyes meet: the eyes meet at 56 cm (0 Δ)", "button: Hold: cover right", "button: Hold: cover left",
			"button: Side by side", "button: Marks", "checkbox: Practised today", "DisclosureTriangle: How to do the exercise", "heading: Please read this too"},
		{"image: You look at the blue bead", "heading: Step 1 of 21: blue, 56 cm", "button: Back", "button: Play", "button: Next",
			"heading: Ask at every place", "button: It is right: count", "button: Another answer", "timer: 0 / 5", "button: Leave the exercise"},
	} {
		t.Log("\n" + strings.Join(got.Aloud[i], "\n"))
		at := 0
		for _, line := range got.Aloud[i] {
			if at < len(want) && strings.HasPrefix(line, want[at]) {
				at++
			}
			assert.NotRegexp(t, "^(button|slider|combobox|checkbox|image|radio)$", line, "it has no name")
		}
		assert.Equal(t, len(want), at, "not heard where it should be: %v", want[min(at, len(want)-1)])
	}
}

// Where a browser keeps nothing for a file, a day can be ticked as long as the page is
// open, and the page says that it is lost then.
func TestTicksWhereNothingIsKept(t *testing.T) {
	page := pageOf(t, "walk-of-ten")
	forgetful, keeps := phone(written(t, &page), "ticks"), phone(written(t, &page), "ticks")
	forgetful.Forgetful = true
	for i, got := range visited(t, forgetful, keeps) {
		assert.Empty(t, got.Errors)
		assert.Equal(t, i == 0, got.Unkept)
		assert.True(t, got.Ticked && got.Emptied)
	}
}

// A scene among many has an address.
func TestScenesAreLinked(t *testing.T) {
	all := library()
	at := phone(written(t, &all), "linked")
	at.At = "#scene-too-far-doubled"
	got := visited(t, at)[0]
	assert.Empty(t, got.Errors)
	title := func(i int) string { return scenes.Library()[i].Scene.Title }
	assert.Equal(t, []string{"Meeting too far, bead doubled", title(1), "#scene-" + scenes.Library()[1].Name, "Meeting too far, bead doubled"}, got.Linked)
}

// The W3C's checker finds no error in a page.
func TestPageByTheCheckerOfHTML(t *testing.T) {
	folder := os.Getenv("CHECKERS")
	require.NotEmpty(t, folder, "CHECKERS is where they are; make test-pages fetches them")
	one, all, hard := pageOf(t, "walk-of-ten"), library(), hostilePage(t)
	out, err := exec.Command("java", "-jar", filepath.Join(folder, "vnu-jar", "build", "dist", "vnu.jar"), "--errors-only",
		written(t, &one), written(t, &all), written(t, &hard)).CombinedOutput()
	assert.NoError(t, err, "%s", out)
}

// Without script the pictures and sentences are there, in the language that is chosen; of
// a file that was cut short, of an engine that is none, and of what goes wrong later, the
// page says so.
func TestPagesThatAreNotLive(t *testing.T) {
	page := pageOf(t, "walk-of-ten")
	whole := written(t, &page)
	text, err := os.ReadFile(whole)
	require.NoError(t, err)
	changed := func(text string) string {
		file := filepath.Join(t.TempDir(), "changed.html")
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
		return file
	}
	en, err := words.For("en")
	require.NoError(t, err)
	es, err := words.For("es")
	require.NoError(t, err)
	dead := func(file, says string) visit {
		v := phone(file, "still")
		v.Dead, v.Says = true, says
		return v
	}
	plain := phone(whole, "still")
	plain.Plain = true
	spanish := plain
	spanish.Does = []string{"still", "spanish"}
	visits := []visit{plain, spanish,
		dead(changed(strings.Replace(string(text), "_initialize", "_begin", 1)), ""), // no longer the script that the policy names
		dead(changed(strings.Replace(string(text), `data-size="`, `data-size="9`, 1)), "old"),
		dead(changed(strings.Replace(string(text), `format = 1`, `format = 7`, 1)), "failed"),
	}
	cuts := len(visits)
	for _, share := range []float64{0.3, 0.6, 0.9, 0.995} {
		visits = append(visits, dead(changed(string(text[:int(share*float64(len(text)))])), "cut"))
	}
	visits = append(visits, dead(changed(string(text[:len(text)-40])), "cut"))
	all := visited(t, visits...)
	sentence := page.Scenes[0]
	first := firstSentence(t, sentence, en)
	for i, got := range all {
		assert.Greater(t, got.Pictures, 4, "%d", i)
		assert.False(t, got.Canvas && i < len(all)-1, "%d", i)
		if i != 1 {
			assert.Contains(t, got.Text, first, "%d", i)
		}
		cut := strings.Contains(got.Text, en.Label(words.PageCut))
		assert.Equal(t, i >= cuts, cut, "%d: %s", i, got.Text[:min(300, len(got.Text))])
	}
	assert.Contains(t, all[0].Text, en.Label(words.PageStill))
	assert.Contains(t, all[1].Text, firstSentence(t, sentence, es))
	assert.NotContains(t, all[1].Text, first)
	assert.Contains(t, all[3].Text, en.Label(words.PageOld))
	assert.Contains(t, all[4].Text, en.Label(words.PageFailed))
}

// What is seen is said as soon as a page is live, and not when a pull could have come to rest.
func TestTheSentenceIsThereAtOnce(t *testing.T) {
	say, err := words.For("en")
	require.NoError(t, err)
	page := pageOf(t, "too-far-doubled")
	assert.Equal(t, firstSentence(t, page.Scenes[0], say), visited(t, phone(written(t, &page)))[0].AtOnce)
}

// A title, a note, a name that would break out of the page shows as it is.
func TestHostileWordsStayWords(t *testing.T) {
	page := hostilePage(t)
	got := visited(t, phone(written(t, &page), "looks", "still"))[0]
	assert.Empty(t, got.Errors)
	assert.Contains(t, got.Text, hostile)
	assert.Empty(t, got.Axe)
}

// Figures, as they are on this machine; they are reported, not judged, since others may
// be at work on it.
func TestPageSpeed(t *testing.T) {
	page := pageOf(t, "middle-of-three")
	file := written(t, &page)
	info, err := os.Stat(file)
	require.NoError(t, err)
	slow := phone(file, "speed")
	slow.Throttle = 4
	all := visited(t, phone(file, "speed"), slow)
	for i, what := range []string{"as it is", "four times as slow"} {
		got := all[i]
		t.Logf("%s: file %.2f MB, live after %.1f s, of which %.2f s of the main thread, a pull %.1f ms a frame, idle %.1f %%, memory of the engine %.1f MB",
			what, float64(info.Size())/1e6, got.Live/1e3, got.Began, got.Pull*1e3, got.Idle*100, float64(got.Memory)/1e6)
		assert.LessOrEqual(t, got.Memory, 40<<20)
	}
}

// mostBytes is how large the file of one scene may be.
const mostBytes = 2_600_000

func TestPagesAreSmall(t *testing.T) {
	for _, e := range scenes.Library() {
		page := pageOf(t, e.Name)
		page.Scenes[0].Prescribed = "A. Nobody"
		var b bytes.Buffer
		require.NoError(t, page.Write(&b))
		assert.LessOrEqual(t, b.Len(), mostBytes, e.Name)
	}
}
