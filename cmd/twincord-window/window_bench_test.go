//go:build window

package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"twincord/cmd/internal/call"
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

// patience is how long the window has for what it should do at once, on a machine that is
// busy with other things.
const patience = 5 * time.Minute

// A bench is a virtual screen with twincord on it, and a desk that is told the
// same as the window.
type bench struct {
	t       *testing.T
	server  *exec.Cmd // the screen's
	screen  string    // DISPLAY
	frame   string    // file of the screen's pixels
	window  string
	program *exec.Cmd
	home    string
	desk    *desk.Desk
	in      desk.Input
	page    *image.RGBA // what the desk showed last
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
	t.Cleanup(func() { ends(x) })
	require.NoError(t, theirs.Close())
	number := make([]byte, 16)
	n, err := ours.Read(number)
	require.NoError(t, err, "Xvfb does not start")
	b.server, b.screen = x, ":"+strings.TrimSpace(string(number[:n]))
	b.frame = filepath.Join(folder, "Xvfb_screen0")
	needed(t, "xprop")
	b.await("the screen answers", func() bool {
		_, err := b.try("xprop", "-root", "-f", "RESOURCE_MANAGER", "8s", "-set", "RESOURCE_MANAGER", fmt.Sprintf("Xft.dpi: %d", int(96*scale)))
		return err == nil
	})
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
	b.looksRight()
	b.key("Escape", ui.KeyEscape) // which acknowledges the caution of the first start
	return b
}

// ends ends a program, unless it has ended.
func ends(c *exec.Cmd) {
	_ = c.Process.Kill()
	_ = c.Wait()
}

// start starts the program, which opens a window of that name.
func (b *bench) start(title string, args ...string) {
	b.program = exec.Command(call.WindowProgram, args...)
	b.program.Env = append(os.Environ(), "DISPLAY="+b.screen, "HOME="+b.home, "LC_ALL=C",
		"XDG_STATE_HOME="+filepath.Join(b.home, "state"), "XDG_DATA_HOME="+filepath.Join(b.home, "data"),
		"XDG_CONFIG_HOME="+filepath.Join(b.home, "config"))
	b.program.Stderr = struct{ io.Writer }{os.Stderr} // which is no terminal
	require.NoError(b.t, b.program.Start())
	program := b.program
	b.t.Cleanup(func() { ends(program) })
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

func (b *bench) do(args ...string) {
	_, err := b.try("xdotool", args...)
	require.NoError(b.t, err, "xdotool %v", args)
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

// idle waits until the window has taken in what was done: until at ten looks in a row, which
// is longer than a frame, no thread of it or of its screen runs or waits for a processor. It
// reads pointer and keys once a frame, and knows no order among those of one frame.
func (b *bench) idle() {
	looks := 0
	b.await("the window has nothing to do", func() bool {
		if looks++; b.works(b.server) || b.works(b.program) {
			looks = 0
		}
		return looks == 10
	})
}

// works says whether any thread of a program does something, or would.
func (b *bench) works(c *exec.Cmd) bool {
	threads, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/stat", c.Process.Pid))
	require.NoError(b.t, err)
	for _, thread := range threads {
		stat, err := os.ReadFile(thread)
		if err == nil && statOf(stat)[0] != "S" { // one that has ended meanwhile does nothing
			return true
		}
	}
	return false
}

// statOf is what the system says of a process or thread after its name, from its state on.
func statOf(stat []byte) []string {
	return strings.Fields(string(stat[bytes.LastIndexByte(stat, ')')+1:]))
}

// arrives waits until the screen has gone over from the page before to the desk's: until
// what differs between them is nearer to the desk's; where nothing does, until the window
// has nothing to do.
func (b *bench) arrives(what string) {
	before := b.page
	b.page = b.painted()
	if b.program == nil {
		return
	}
	var changed []int
	if before != nil {
		for i, v := range b.page.Pix {
			if off(v, before.Pix[i]) > 24 {
				changed = append(changed, i)
			}
		}
	}
	if len(changed) == 0 {
		b.idle()
		return
	}
	b.await("the window shows "+what, func() bool {
		got := b.pixels()
		return got.Rect == b.page.Rect && nearer(got.Pix, b.page.Pix, before.Pix, changed)
	})
}

// What goes through all pixels while a window is waited for is not watched for races: it
// would take the processors that the window needs.

// nearer says whether those of the values that are listed are nearer to a than to b.
//
//go:norace
func nearer(got, a, b []uint8, listed []int) bool {
	toA, toB := 0, 0
	for _, i := range listed {
		toA += off(got[i], a[i])
		toB += off(got[i], b[i])
	}
	return toA < toB
}

// apart is by how much values differ in sum.
//
//go:norace
func apart(a, b []uint8) (sum int) {
	for i, v := range a {
		sum += off(v, b[i])
	}
	return sum
}

//go:norace
func off(a, b uint8) int {
	d := int(a) - int(b)
	return max(d, -d)
}

// The same for the window and the desk: the pointer, its button, keys, characters.

func (b *bench) point(x, y float64) {
	b.do("mousemove", fmt.Sprint(int(x)), fmt.Sprint(int(y)))
	b.frameOf(func(in *desk.Input) { in.Pointer = display.Point{X: float64(int(x)), Y: float64(int(y))} })
	b.arrives("the pointer")
}

func (b *bench) press() {
	b.do("mousedown", "1")
	b.frameOf(func(in *desk.Input) { in.Pressed, in.Down = true, true })
	b.arrives("the press")
}

func (b *bench) lift() {
	b.do("mouseup", "1")
	b.frameOf(func(in *desk.Input) { in.Released, in.Down = true, false })
	b.arrives("the release")
}

func (b *bench) key(name string, k ui.Key) { b.chord(name, ui.Press{Key: k}) }

// chord is a key with others held.
func (b *bench) chord(name string, p ui.Press) {
	b.do("key", name)
	b.frameOf(func(in *desk.Input) { in.Keys = []ui.Press{p} })
	b.arrives("the key " + name)
}

func (b *bench) write(text string) {
	for _, c := range text {
		b.do("type", string(c))
		b.frameOf(func(in *desk.Input) { in.Text = []rune{c} })
		b.arrives("the letter " + string(c))
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
// bar is, of which the hint line says this, and the key that does the same.
func (b *bench) find(hint string) (x, y float64) {
	probe, in := *b.desk, b.in
	count := 0.
	step := 12 * in.Scale
	for y0 := in.H / 2; y0 < in.H; y0 += step {
		for x0 := step / 2; x0 < in.W; x0 += step {
			in.Pointer = display.Point{X: x0, Y: y0}
			probe.Update(in)
			if strings.HasPrefix(probe.Hint(), hint) {
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
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		row := data[header+12*colours+y*line:]
		turned(img.Pix[y*img.Stride:][:4*w], row[:4*w])
	}
	return img
}

// turned turns pixels round, from blue, green, red to red, green, blue.
//
//go:norace
func turned(rgba, bgrx []byte) {
	for i := 0; i < len(rgba); i += 4 {
		rgba[i], rgba[i+1], rgba[i+2], rgba[i+3] = bgrx[i+2], bgrx[i+1], bgrx[i], 255
	}
}

// painted is the desk's page as the CPU paints it.
func (b *bench) painted() *image.RGBA {
	var l display.List
	b.desk.Draw(&l)
	page := image.NewRGBA(image.Rect(0, 0, int(b.in.W), int(b.in.H)))
	raster.Paint(&l, page)
	return page
}

// looksRight waits until the screen shows what the CPU paints of the desk's page, to the
// last pixel.
func (b *bench) looksRight() {
	want := b.painted()
	off := 0
	defer func() {
		if off > 0 {
			b.t.Logf("%s: off by %d in all", b.desk.Title(), off)
		}
	}()
	b.await("the window shows the page", func() bool {
		got := b.pixels()
		if got.Rect != want.Rect {
			return false
		}
		off = apart(want.Pix, got.Pix)
		return off == 0
	})
}

// saves saves the scene under a name in a window that no desk is told about.
func (b *bench) saves(path, name string) {
	b.keys("Escape", "Escape", "ctrl+shift+s", "ctrl+a")
	b.keys(strings.Split(name, "")...)
	b.keys("Return")
	b.await("the scene is saved", func() bool { _, err := os.Stat(path); return err == nil })
}

// keys gives the window keys that the desk is not told of, one after the other.
func (b *bench) keys(all ...string) {
	for _, key := range all {
		b.do("key", key)
		b.idle()
	}
}

// ticks is the time the window has spent on the processors, in 1/100 s.
func (b *bench) ticks() int {
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", b.program.Process.Pid))
	require.NoError(b.t, err)
	fields := statOf(stat)
	user, err := strconv.Atoi(fields[11])
	require.NoError(b.t, err)
	system, err := strconv.Atoi(fields[12])
	require.NoError(b.t, err)
	return user + system
}

// changes gives the window keys that the desk is not told of, and waits until it shows
// something else for them.
func (b *bench) changes(what string, keys ...string) {
	before := b.pixels().Pix
	b.keys(keys...)
	b.await("the window shows "+what, func() bool { return !bytes.Equal(before, b.pixels().Pix) })
}

// rests waits until the window sleeps: until it takes less than a hundredth of a processor
// for a second.
func (b *bench) rests() {
	before := b.ticks()
	b.await("the window sleeps", func() bool {
		time.Sleep(time.Second)
		last := before
		before = b.ticks()
		return before-last < 1
	})
}
