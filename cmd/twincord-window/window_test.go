//go:build window

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/cmd/internal/call"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
)

func TestWindowIsWorkedByHand(t *testing.T) {
	b := open(t, "middle-of-three", 1280, 800, 1)
	b.looksRight()

	// Pull the place where the eyes meet.
	x, y := b.find(b.say.Label(words.HintMeet))
	b.point(x, y)
	b.press()
	for range 8 {
		x += 20
		b.point(x, y)
	}
	b.settled()
	b.looksRight()
	assert.Less(t, b.desk.Setup().Posture.Deviation, -3.)
	b.key("Escape", ui.KeyEscape)
	b.lift()
	b.settled()
	assert.Zero(t, b.desk.Setup().Posture.Deviation, "Esc puts back")

	// Pull what is looked at onto the bare string.
	x, y = b.find(b.say.Label(words.HintTarget))
	b.point(x, y)
	b.press()
	b.point(x+90, y)
	b.lift()
	b.settled()
	assert.Empty(t, b.desk.View().Account.LookedAt)

	// Keys: the focus is on the target, then on the meeting place and its number.
	b.key("Left", ui.KeyLeft)
	b.key("Tab", ui.KeyTab)
	b.key("Prior", ui.KeyPageUp)
	b.settled()
	assert.Equal(t, -5., float64(b.desk.Setup().Posture.Deviation))
	b.key("Return", ui.KeyEnter)
	b.write("7,5 eso")
	b.key("Return", ui.KeyEnter)
	b.settled()
	assert.Equal(t, 7.5, float64(b.desk.Setup().Posture.Deviation))
	b.looksRight()

	// At rest it sleeps.
	b.rests()
	before := b.ticks()
	const seconds = 5
	time.Sleep(seconds * time.Second)
	share := float64(b.ticks()-before) / 100 / seconds
	t.Logf("at rest: %.2f %% of a core", 100*share)
	assert.Less(t, share, 0.01)
	b.key("Home", ui.KeyHome)
	b.settled()
}

// What was not saved survives a kill, and is there at the next start; what is saved
// under a name is the scene that is shown.
func TestWindowSurvivesAKill(t *testing.T) {
	b := open(t, "middle-of-three", 1280, 800, 1)
	b.key("Tab", ui.KeyTab)
	b.key("Tab", ui.KeyTab)
	b.key("Prior", ui.KeyPageUp)
	b.settled()
	want := *b.desk.Setup()
	assert.NotZero(t, want.Posture.Deviation)
	b.await("the autosave is there", func() bool {
		left, err := filepath.Glob(filepath.Join(b.home, "state", "twincord", "autosave", "*.toml"))
		if err != nil || len(left) != 1 {
			return false
		}
		data, err := os.ReadFile(left[0])
		return err == nil && strings.Contains(string(data), "deviation_prism")
	})
	ends(b.program)

	b.start("Middle of three beads")
	b.settled() // the beads have the names that they had
	path := filepath.Join(b.home, "data", "twincord", "Kept.toml")
	b.saves(path, "Kept")
	saved, err := scenes.Load(path)
	require.NoError(t, err)
	assert.Equal(t, want.Posture, saved.Setup.Posture)
}

// Whoever opens a faulty file by a double click sees in the window what is wrong with it.
func TestWindowSaysWhatIsWrongWithItsScene(t *testing.T) {
	b := open(t, scenes.DefaultName, 1280, 800, 1)
	ends(b.program)
	bad := filepath.Join(b.home, "bad.toml")
	require.NoError(t, os.WriteFile(bad, []byte("format = 2\n"), 0o600))
	_, _, err := scenes.Open(bad)
	b.desk.Warn(err.Error())
	b.start(b.desk.Document().Scene().Title, bad)
	b.settled()
	b.looksRight()
}

// Whoever ends the program by a signal loses no more than by closing its window, and it
// has not failed.
func TestWindowSavesWhenItIsEnded(t *testing.T) {
	for _, end := range call.Stopping() { // but for those that these tests were started to ignore
		b := open(t, "middle-of-three", 1280, 800, 1)
		title := func() string { out, _ := b.try("xdotool", "getwindowname", b.window); return out }
		before := title()
		b.await("something changes", func() bool {
			b.do("key", "Tab", "Prior")
			return title() != before
		})
		require.NoError(t, b.program.Process.Signal(end))
		require.NoError(t, b.program.Wait(), "%v", end)
		left, err := filepath.Glob(filepath.Join(b.home, "state", "twincord", "autosave", "*"))
		require.NoError(t, err)
		require.Len(t, left, 1, "an autosave, and no lock beside it")
		assert.Equal(t, ".toml", filepath.Ext(left[0]))
	}
}

// What somebody does most takes few presses of a real pointer and real keys.
func TestWindowTasks(t *testing.T) {
	b := open(t, "middle-of-three", 1280, 800, 1)

	// Exo 6, in two presses and typing.
	x, y := b.find(b.say.KeyHint("posture.deviation_prism"))
	b.point(x, y)
	b.press()
	b.lift()
	b.write("6 exo")
	b.key("Return", ui.KeyEnter)
	b.settled()
	assert.Equal(t, -6., float64(b.desk.Setup().Posture.Deviation))

	// The numbers, in one.
	b.write("i")
	b.looksRight()

	// A name, in two and typing; it is the title.
	b.changes("a field for the name", "key", "ctrl+s")
	b.changes("the name", "type", "--delay", "150", "Ana")
	b.do("key", "Return")
	path := filepath.Join(b.home, "data", "twincord", "Ana.toml")
	b.await("the scene is saved", func() bool { _, err := os.Stat(path); return err == nil })
	b.await("the window has its name", func() bool {
		out, err := b.try("xdotool", "getwindowname", b.window)
		return err == nil && strings.HasPrefix(out, "Ana: ")
	})
	saved, err := scenes.Load(path)
	require.NoError(t, err)
	assert.Equal(t, "Ana", saved.Title)
	assert.Equal(t, -6., float64(saved.Setup.Posture.Deviation))
}

func TestWindowAtTwiceTheScale(t *testing.T) {
	b := open(t, "too-far-doubled", 2048, 1400, 2)
	b.looksRight()
	b.write("c")
	b.looksRight()
}

func TestWindowOfTheLeastSize(t *testing.T) {
	for _, scene := range []string{"slack-string", "left-out-centre", "three-metres"} {
		b := open(t, scene, 1024, 700, 1)
		b.looksRight()
	}
}

func TestWindowGoesFullScreen(t *testing.T) {
	b := open(t, "near-of-three", 1280, 800, 1)
	b.key("F11", ui.KeyF11)
	b.looksRight()
}
