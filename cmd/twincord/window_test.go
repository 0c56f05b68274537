//go:build window

package main

import (
	"encoding/binary"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/desk"
	"twincord/render/display"
	"twincord/render/raster"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
)

// These tests open the real window on a virtual screen and work it with a real
// pointer and keys. Run them with -tags window; they need the programs Xvfb,
// xdotool and xprop, and fail without.

// patience is how long the window has for what it should do at once.
const patience = 20 * time.Second

// A bench is a virtual screen with twincord on it, and a desk that is told the
// same as the window.
type bench struct {
	t       *testing.T
	screen  string // DISPLAY
	frame   string // file of the screen's pixels
	window  string
	program *exec.Cmd
	home    string
	desk    *desk.Desk
	in      desk.Input
	say     *words.Words
}

func needed(t *testing.T, program string) string {
	path, err := exec.LookPath(program)
	require.NoError(t, err, "the tests of the window need %s; on Debian: apt-get install xvfb xauth xdotool x11-utils", program)
	return path
}

// open shows a scene in a window as large as its screen, pixels, at a display
// scale.
func open(t *testing.T, scene string, w, h int, scale float64) *bench {
	b := &bench{t: t}
	folder := t.TempDir()
	ours, theirs, err := os.Pipe()
	require.NoError(t, err)
	x := exec.Command(needed(t, "Xvfb"), "-displayfd", "3", "-screen", "0", fmt.Sprintf("%dx%dx24", w, h), "-noreset", "-fbdir", folder)
	x.ExtraFiles = []*os.File{theirs}
	require.NoError(t, x.Start())
	t.Cleanup(func() { x.Process.Kill(); x.Wait() })
	theirs.Close()
	number := make([]byte, 16)
	n, err := ours.Read(number)
	require.NoError(t, err, "Xvfb does not start")
	b.screen = ":" + strings.TrimSpace(string(number[:n]))
	b.frame = filepath.Join(folder, "Xvfb_screen0")
	needed(t, "xprop")
	b.run("xprop", "-root", "-f", "RESOURCE_MANAGER", "8s", "-set", "RESOURCE_MANAGER", fmt.Sprintf("Xft.dpi: %d", int(96*scale)))
	needed(t, "xdotool")

	sc, _, err := scenes.Open(scene)
	require.NoError(t, err)
	b.say, err = words.For("en")
	require.NoError(t, err)
	b.desk = desk.New(desk.Options{Document: document.New(sc, "").From(scenes.Identify(scene)), Words: b.say, First: true})
	b.in = desk.Input{Input: ui.Input{W: float64(w), H: float64(h), Scale: scale}}
	b.point(float64(w)/3, float64(h)/3)

	b.home = t.TempDir()
	b.start(sc.Title, scene)
	b.settled()
	b.key("Escape", ui.KeyEscape) // which acknowledges the caution of the first start
	return b
}

// start starts the program, which opens a window of that name.
func (b *bench) start(title string, args ...string) {
	b.program = exec.Command("twincord", args...)
	b.program.Env = append(os.Environ(), "DISPLAY="+b.screen, "HOME="+b.home, "LC_ALL=C",
		"XDG_STATE_HOME="+filepath.Join(b.home, "state"), "XDG_DATA_HOME="+filepath.Join(b.home, "data"),
		"XDG_CONFIG_HOME="+filepath.Join(b.home, "config"))
	b.program.Stderr = os.Stderr
	require.NoError(b.t, b.program.Start())
	program := b.program
	b.t.Cleanup(func() { program.Process.Kill(); program.Wait() })
	b.await("the window opens under the name of the scene", func() bool {
		out, err := b.try("xdotool", "search", "--onlyvisible", "--name", "^"+title)
		b.window = strings.TrimSpace(out)
		return err == nil && b.window != ""
	})
}

func (b *bench) try(program string, args ...string) (string, error) {
	c := exec.Command(program, args...)
	c.Env = append(os.Environ(), "DISPLAY="+b.screen)
	out, err := c.Output()
	return string(out), err
}

func (b *bench) run(program string, args ...string) string {
	out, err := b.try(program, args...)
	require.NoError(b.t, err, "%s %v", program, args)
	return out
}

func (b *bench) await(what string, happens func() bool) {
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if happens() {
			return
		}
	}
	require.Fail(b.t, "in vain: "+what)
}

// frameOf tells the desk what happened in one frame.
func (b *bench) frameOf(change func(*desk.Input)) {
	b.in.Seconds += 1. / 60
	change(&b.in)
	b.desk.Update(b.in)
	b.in.Pressed, b.in.Released, b.in.Keys, b.in.Text = false, false, nil, nil
}

// pause is longer than a frame. The window reads pointer and keys once a frame and
// then knows no order among them, and not every press can be seen to have arrived.
func (b *bench) pause() { time.Sleep(600 * time.Millisecond) }

// The same for the window and the desk: the pointer, its button, keys, characters.

func (b *bench) point(x, y float64) {
	b.run("xdotool", "mousemove", fmt.Sprint(int(x)), fmt.Sprint(int(y)))
	b.frameOf(func(in *desk.Input) { in.Pointer = display.Point{X: float64(int(x)), Y: float64(int(y))} })
}

func (b *bench) press() {
	b.run("xdotool", "mousedown", "1")
	b.pause()
	b.frameOf(func(in *desk.Input) { in.Pressed, in.Down = true, true })
}

func (b *bench) lift() {
	b.run("xdotool", "mouseup", "1")
	b.frameOf(func(in *desk.Input) { in.Released, in.Down = true, false })
}

func (b *bench) key(name string, k ui.Key) {
	b.run("xdotool", "key", name)
	b.pause()
	b.frameOf(func(in *desk.Input) { in.Keys = []ui.Press{{Key: k}} })
}

func (b *bench) write(text string) {
	for _, c := range text {
		b.run("xdotool", "type", string(c))
		b.pause()
		b.frameOf(func(in *desk.Input) { in.Text = []rune{c} })
	}
}

// settled waits until the window has the desk's title.
func (b *bench) settled() {
	b.in.Seconds++
	b.frameOf(func(*desk.Input) {})
	b.await("the title is "+b.desk.Title(), func() bool {
		out, err := b.try("xdotool", "getwindowname", b.window)
		return err == nil && strings.TrimSpace(out) == b.desk.Title()
	})
}

// find gives the middle of all places of the lower half of the page, where the string
// bar is, of which the hint line says this.
func (b *bench) find(hint string) (x, y float64) {
	probe, in := *b.desk, b.in
	count := 0.
	step := 12 * in.Scale
	for y0 := in.H / 2; y0 < in.H; y0 += step {
		for x0 := step / 2; x0 < in.W; x0 += step {
			in.Pointer = display.Point{X: x0, Y: y0}
			probe.Update(in)
			if probe.Hint() == hint {
				x, y, count = x+x0, y+y0, count+1
			}
		}
	}
	require.NotZero(b.t, count, hint)
	return x / count, y / count
}

// pixels reads the screen, a file in the format of xwd.
func (b *bench) pixels() *image.RGBA {
	data, err := os.ReadFile(b.frame)
	require.NoError(b.t, err)
	word := func(i int) int { return int(binary.BigEndian.Uint32(data[4*i:])) }
	header, w, h, line, colours := word(0), word(4), word(5), word(12), word(19)
	at := header + 12*colours
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			bgr := data[at+y*line+4*x:]
			copy(img.Pix[img.PixOffset(x, y):], []byte{bgr[2], bgr[1], bgr[0], 255})
		}
	}
	return img
}

// looksRight waits until the screen shows what the CPU paints of the desk's page:
// on average within 1.5/255, 99 % of the values within 12/255.
func (b *bench) looksRight() {
	var l display.List
	b.desk.Draw(&l)
	want := image.NewRGBA(image.Rect(0, 0, int(b.in.W), int(b.in.H)))
	raster.Paint(&l, want)
	var mean, far float64
	right := func() bool {
		got := b.pixels()
		if got.Rect != want.Rect {
			return false
		}
		sum, over := 0, 0
		for i, v := range want.Pix {
			off := int(v) - int(got.Pix[i])
			off = max(off, -off)
			sum += off
			if off > 12 {
				over++
			}
		}
		n := 0.75 * float64(len(want.Pix)) // opacity is no value
		mean, far = float64(sum)/n, float64(over)/n
		return mean <= 1.5 && far <= 0.01
	}
	defer func() { b.t.Logf("%s: off by %.2f/255, %.2f %% by more than 12", b.desk.Title(), mean, 100*far) }()
	b.await("the window shows the page", right)
}

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
	time.Sleep(2 * time.Second)
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
	require.NoError(t, b.program.Process.Kill())
	b.program.Wait()

	b.start("Middle of three beads")
	b.settled() // the beads have the names that they had
	path := filepath.Join(b.home, "data", "twincord", "Kept.toml")
	// Nothing on the screen tells a script that a key has arrived, and a window that has
	// to wait for the processor takes keys and letters together: again, more slowly.
	b.saves(path, "Kept")
	saved, err := scenes.Load(path)
	require.NoError(t, err)
	assert.Equal(t, want.Posture, saved.Setup.Posture)
}

// Whoever ends the program by a signal loses no more than by closing its window, and it
// has not failed.
func TestWindowSavesWhenItIsEnded(t *testing.T) {
	for _, signal := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP} {
		b := open(t, "middle-of-three", 1280, 800, 1)
		title := func() string { out, _ := b.try("xdotool", "getwindowname", b.window); return out }
		before := title()
		b.await("something changes", func() bool {
			b.run("xdotool", "key", "Tab", "Prior")
			return title() != before
		})
		require.NoError(t, b.program.Process.Signal(signal))
		require.NoError(t, b.program.Wait(), "%v", signal)
		left, err := filepath.Glob(filepath.Join(b.home, "state", "twincord", "autosave", "*"))
		require.NoError(t, err)
		require.Len(t, left, 1, "an autosave, and no lock beside it")
		assert.Equal(t, ".toml", filepath.Ext(left[0]))
	}
}

// saves saves the scene under a name.
func (b *bench) saves(path, name string) {
	there := func() bool { _, err := os.Stat(path); return err == nil }
	for pause := 400 * time.Millisecond; pause < 8*time.Second && !there(); pause *= 2 {
		for _, keys := range [][]string{
			{"key", "Escape"}, {"key", "Escape"}, {"key", "ctrl+s"}, {"type", "--delay", "150", name}, {"key", "Return"},
		} {
			b.run("xdotool", keys...)
			time.Sleep(pause)
		}
	}
	require.True(b.t, there(), "the scene is not saved")
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
	b.run("xdotool", "key", "ctrl+s")
	b.pause()
	b.run("xdotool", "type", "--delay", "150", "Ana")
	b.pause()
	b.run("xdotool", "key", "Return")
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

// ticks is the time the window has spent on the processors, in 1/100 s.
func (b *bench) ticks() int {
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", b.program.Process.Pid))
	require.NoError(b.t, err)
	fields := strings.Fields(string(stat[strings.LastIndexByte(string(stat), ')')+1:]))
	user, err := strconv.Atoi(fields[11])
	require.NoError(b.t, err)
	system, err := strconv.Atoi(fields[12])
	require.NoError(b.t, err)
	return user + system
}

func TestWindowAtTwiceTheScale(t *testing.T) {
	b := open(t, "too-far-doubled", 2560, 1600, 2)
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

func TestNoDisplay(t *testing.T) {
	for _, screen := range []string{"", ":4242"} {
		c := exec.Command("twincord")
		c.Env = append(os.Environ(), "DISPLAY="+screen, "WAYLAND_DISPLAY=")
		out, err := c.CombinedOutput()
		var exit *exec.ExitError
		require.ErrorAs(t, err, &exit)
		assert.Equal(t, badInput, exit.ExitCode())
		assert.Contains(t, string(out), "no display")
		assert.Contains(t, string(out), "twincord draw")
		assert.NotContains(t, string(out), "goroutine")
	}
}
