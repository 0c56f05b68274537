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
	"twincord/render/desk"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
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
	b.desk = desk.New(desk.Options{Document: b.desk.Document(), Words: b.say}) // not started for the first time
	b.desk.Warn(err.Error())
	b.frameOf(func(*desk.Input) {})
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
		b.keys("Tab", "Prior")
		require.NotEqual(t, before, title(), "something changes")
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
	b.changes("a field for the name", "ctrl+s")
	b.changes("the name", "A", "n", "a")
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

// What a clinician does, with keys alone from a fresh start, in the presses that it may take;
// what is typed counts for nothing.
func TestWindowByKeysAlone(t *testing.T) {
	b := open(t, "middle-of-three", 1280, 800, 1)
	setup := func() *sim.Setup { return &b.desk.Document().Scene().Setup }
	task := func(name string, most int, do func() (presses int)) {
		presses := do()
		t.Logf("%s: %d presses", name, presses)
		assert.LessOrEqual(t, presses, most, name)
	}
	tab := ui.Press{Key: ui.KeyTab}
	back := ui.Press{Key: ui.KeyTab, Shift: true}
	task("exo 6", 2, func() int {
		b.write("d6 exo")
		b.key("Return", ui.KeyEnter)
		assert.Equal(t, sim.Prism(-6), setup().Posture.Deviation)
		return 2
	})
	task("take it back", 1, func() int {
		b.chord("ctrl+z", ui.Press{Key: ui.KeyLetter, Ctrl: true, Letter: 'z'})
		assert.Zero(t, setup().Posture.Deviation)
		return 1
	})
	task("age and PD of a child", 3, func() int {
		b.write("2")
		b.key("Return", ui.KeyEnter)
		b.write("7")
		b.key("Return", ui.KeyEnter)
		assert.Equal(t, 7., setup().Patient.Age)
		assert.Equal(t, 53., setup().Patient.PD)
		return 3
	})
	task("a prism before the right eye", 7, func() int {
		b.chord("shift+Tab", back)
		for range 3 {
			b.key("Down", ui.KeyDown)
		}
		b.key("Right", ui.KeyRight)
		b.chord("Tab", tab)
		b.key("Prior", ui.KeyPageUp)
		assert.Equal(t, sim.Prism(5), setup().Right.BaseOut)
		return 7
	})
	b.settled()
	b.looksRight()
	task("numbers", 1, func() int {
		b.write("i")
		return 1
	})
	task("side by side", 1, func() int {
		b.write("c")
		return 1
	})
	b.looksRight()
	task("true size", 3, func() int {
		b.write("z")
		b.chord("Tab", tab)
		b.write("50")
		b.key("Return", ui.KeyEnter)
		assert.Equal(t, 500., b.desk.Screens[0].Distance)
		return 3
	})
	b.looksRight()
	task("the family's screen, and back", 2, func() int {
		b.write("f")
		assert.True(t, b.desk.FullScreen())
		b.looksRight()
		b.key("Escape", ui.KeyEscape)
		assert.False(t, b.desk.FullScreen())
		return 2
	})
	task("the language", 1, func() int {
		b.write("g")
		assert.Equal(t, "es", b.desk.Words().Language())
		return 1
	})
	b.settled()
	b.looksRight()
	task("cover an eye", 1, func() int {
		b.do("keydown", "n")
		for range 4 * 60 { // the eyes turn
			b.frameOf(func(in *desk.Input) { in.CoverRight = true })
		}
		b.settled()
		b.looksRight()
		b.do("keyup", "n")
		for range 8 * 60 {
			b.frameOf(func(in *desk.Input) { in.CoverRight = false })
		}
		b.settled()
		b.looksRight()
		return 1
	})

	// The rest is seen by what it leaves on the disk, or by the title.
	folder := filepath.Join(b.home, "data", "twincord")
	there := func(name string) func() bool {
		return func() bool { _, err := os.Stat(filepath.Join(folder, name)); return err == nil }
	}
	titled := func(begins string) func() bool {
		return func() bool {
			out, err := b.try("xdotool", "getwindowname", b.window)
			return err == nil && strings.HasPrefix(out, begins)
		}
	}
	task("a name", 2, func() int {
		b.changes("a field for the name", "ctrl+s")
		b.changes("the name", "A", "n", "a")
		b.do("key", "Return")
		b.await("the scene is saved", there("Ana.toml"))
		b.await("it has its name", titled("Ana: "))
		return 2
	})
	task("the last routine that is built in", 2, func() int {
		b.changes("the gallery", "ctrl+o")
		b.changes("what is found", strings.Split("inestable", "")...)
		b.do("key", "Return")
		b.await("the routine", titled("Saltos"))
		return 2
	})
	task("its sheet", 1, func() int {
		b.do("key", "ctrl+p")
		b.await("the sheet", func() bool {
			all, err := filepath.Glob(filepath.Join(folder, "*.pdf"))
			return err == nil && len(all) == 1
		})
		return 1
	})
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
