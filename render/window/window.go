// Package window puts a desk into a window: a thin adapter to Ebitengine. Nothing here
// decides what is shown, nor how it looks: what is painted on the CPU for pictures and films
// is what the window shows.
package window

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"io"
	"io/fs"
	"math"
	"os"
	"runtime"
	"runtime/debug"
	"slices"
	"sync"
	"time"

	"github.com/atotto/clipboard"
	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/inpututil"

	"twincord/render/desk"
	"twincord/render/display"
	"twincord/render/raster"
	"twincord/render/ui"
	"twincord/scenes"
)

// The size of the window when it opens, if the screen has the room, and the least
// that it can be made, in pixels at scale 1.
const (
	openWidth, openHeight   = 1280, 800
	leastWidth, leastHeight = 800, 600
)

// stream is how soon after one input the next makes a stream of them, seconds: a hand that
// moves, and a window that keeps step with the display.
const stream = 0.1

// settling is how long a window that was put up, or has another size, is watched at every
// refresh, seconds: while the system makes it so, Ebitengine takes what else happens without
// an update.
const settling = 0.5

// ErrNoDisplay says that there is no screen to open a window on.
var ErrNoDisplay = errors.New("no display to open a window on")

// open says whether there is a window to be woken: from its first update to its last.
var open struct {
	sync.Mutex
	now bool
}

func setOpen(now bool) {
	open.Lock()
	defer open.Unlock()
	open.now = now
}

// Wake wakes a window that sleeps, from any goroutine.
func Wake() {
	open.Lock()
	defer open.Unlock()
	if open.now {
		//nolint:staticcheck // What wakes a window from the sleep of pace; it has no successor yet.
		ebiten.ScheduleFrame()
	}
}

// Place says on which screen a window opens.
type Place struct {
	Screen int    // counted from 1; 0: any
	Not    string // of any, not the one of this name, where there is another
}

// anyScreen is the one that the system chooses.
const anyScreen = -1

// choose gives which of some screens, by their names, is that of the place.
func (p Place) choose(names []string) (screen int, err error) {
	switch {
	case p.Screen > len(names):
		return 0, fmt.Errorf("screen %d: there are %d", p.Screen, len(names))
	case p.Screen > 0:
		return p.Screen - 1, nil
	case p.Not == "":
		return anyScreen, nil
	}
	return slices.IndexFunc(names, func(name string) bool { return name != p.Not }), nil
}

// screenName tells screens apart, also two of the same make.
func screenName(i int, m *ebiten.MonitorType) string {
	w, h := m.Size()
	return fmt.Sprintf("%d %s %dx%d", i+1, m.Name(), w, h)
}

// Screen is the name of the screen that the window is on.
func Screen() string {
	now := ebiten.Monitor()
	for i, m := range ebiten.AppendMonitors(nil) {
		if m == now {
			return screenName(i, m)
		}
	}
	return ""
}

// SetIcon gives the window that will be opened its icon, in several sizes, where the system
// takes one from the program itself.
func SetIcon(sizes []image.Image) { ebiten.SetWindowIcon(sizes) }

// Run opens a window on a desk and returns when it is closed. each is called before
// every update of the desk and says whether the window is to be closed.
func Run(d *desk.Desk, at Place, each func() (over bool)) error {
	if runtime.GOOS == "linux" && os.Getenv("DISPLAY") == "" && os.Getenv("WAYLAND_DISPLAY") == "" {
		return ErrNoDisplay
	}
	all := ebiten.AppendMonitors(nil)
	names := make([]string, len(all))
	for i, m := range all {
		names[i] = screenName(i, m)
	}
	screen, err := at.choose(names)
	if err != nil {
		return err
	}
	if screen != anyScreen {
		ebiten.SetMonitor(all[screen])
	}
	g := &game{desk: d, each: each, started: time.Now(), scale: 1, awake: true}
	g.repeat.end()
	g.alarm = time.AfterFunc(time.Hour, Wake)
	defer g.alarm.Stop()
	g.tidy = time.AfterFunc(time.Hour, debug.FreeOSMemory)
	defer g.tidy.Stop()
	ebiten.SetWindowTitle(d.Title())
	ebiten.SetWindowResizingMode(ebiten.WindowResizingModeEnabled)
	if m := ebiten.Monitor(); m != nil { // else RunGame says why
		w, h := m.Size()
		ebiten.SetWindowSize(fit(openWidth, leastWidth, w), fit(openHeight, leastHeight, h))
	}
	ebiten.SetWindowSizeLimits(leastWidth, leastHeight, -1, -1)
	ebiten.SetScreenClearedEveryFrame(false)
	ebiten.SetTPS(ebiten.SyncWithFPS) // an update with every input, however soon after another
	if err := ebiten.RunGame(g); err != nil {
		if !g.began {
			return fmt.Errorf("%w: %w", ErrNoDisplay, err)
		}
		return err
	}
	return nil
}

// fit is as much of a wanted size as a screen has, but not less than least.
func fit(wanted, least, screen int) int {
	return max(min(wanted, screen), least)
}

type game struct {
	desk    *desk.Desk
	each    func() (over bool)
	sound   sound
	pages   raster.Page
	list    display.List
	panes   panes
	began   bool // it was updated once
	started time.Time
	touched float64 // when the last input was, Input.Seconds
	stirred bool    // there was one since the last frame
	settled float64 // when the window has settled, Input.Seconds
	awake   bool    // frames keep step with the display; else one waits for what happens
	alarm   *time.Timer
	tidy    *time.Timer
	repeat  repeat
	title   string
	last    desk.Input
	page    image.Point // pixels
	scale   float64
	changed bool
	text    []rune
	keys    []ebiten.Key
	presses []ui.Press
	writes  ebiten.Key // that wrote something last
	monitor *ebiten.MonitorType
	screen  string
}

// Layout makes a page of the window's own pixels, so that text is sharp at every
// display scale.
func (g *game) Layout(w, h int) (int, int) {
	g.LayoutF(float64(w), float64(h))
	return g.page.X, g.page.Y
}

// LayoutF is Layout for fractions of a pixel.
func (g *game) LayoutF(w, h float64) (float64, float64) {
	if m := ebiten.Monitor(); m != nil {
		g.scale = m.DeviceScaleFactor()
	}
	g.page = image.Pt(int(w*g.scale+0.5), int(h*g.scale+0.5))
	return float64(g.page.X), float64(g.page.Y)
}

// Update hands the desk what happened.
func (g *game) Update() error {
	if !g.began {
		g.began = true
		setOpen(true)
	}
	if g.each() {
		setOpen(false)
		return ebiten.Termination
	}
	g.drop()
	in := g.input()
	if g.desk.Update(in) {
		g.changed = true
	}
	if text, ok := g.desk.Copied(); ok {
		// Where there is no clipboard there is nothing to be done about it.
		_ = clipboard.WriteAll(text)
	}
	for range g.desk.Beats() {
		g.sound.tick()
	}
	if t := g.desk.Title(); t != g.title {
		g.title = t
		ebiten.SetWindowTitle(t)
	}
	if g.desk.Closed() {
		setOpen(false)
		return ebiten.Termination
	}
	if ebiten.IsFullscreen() != g.desk.FullScreen() {
		g.settled = in.Seconds + settling
		ebiten.SetFullscreen(g.desk.FullScreen())
	}
	g.pace(in)
	return nil
}

func (g *game) input() desk.Input {
	x, y := ebiten.CursorPosition()
	_, wheel := ebiten.Wheel()
	in := desk.Input{
		Input: ui.Input{
			W: float64(g.page.X), H: float64(g.page.Y), Scale: g.scale,
			Pointer:   display.Point{X: float64(x), Y: float64(y)},
			Pressed:   inpututil.IsMouseButtonJustPressed(ebiten.MouseButtonLeft),
			Released:  inpututil.IsMouseButtonJustReleased(ebiten.MouseButtonLeft),
			Down:      ebiten.IsMouseButtonPressed(ebiten.MouseButtonLeft),
			Wheel:     wheel,
			Seconds:   time.Since(g.started).Seconds(),
			Unfocused: !ebiten.IsFocused(),
			Screen:    g.screenName(),
		},
	}
	g.typed(&in)
	return in
}

// screenName is that of the screen, asked for again when the screen is another.
func (g *game) screenName() string {
	if m := ebiten.Monitor(); m != g.monitor {
		g.monitor, g.screen = m, Screen()
	}
	return g.screen
}

// drop hands the desk a file that was dropped on the window.
func (g *game) drop() {
	files := ebiten.DroppedFiles()
	if files == nil {
		return
	}
	entries, err := fs.ReadDir(files, ".")
	if err != nil || len(entries) == 0 {
		return
	}
	name := entries[0].Name()
	f, err := files.Open(name)
	if err == nil {
		var data []byte
		data, err = io.ReadAll(io.LimitReader(f, scenes.MaxSize+1))
		_ = f.Close() // it was but read
		if err == nil {
			g.desk.Drop(name, data)
			return
		}
	}
	g.desk.Warn(err.Error())
}

// pace says when the next frame is. While something moves by itself, or inputs follow each
// other closely, frames keep step with the display; else the next one waits for an input, or
// until the desk or a key that is held is due. Ebitengine shows what changed once more for
// each of the next three frames, so that the fewest frames are the fewest pages to show.
func (g *game) pace(in desk.Input) {
	g.keys = inpututil.AppendJustReleasedKeys(g.keys[:0])
	resized := in.W != g.last.W || in.H != g.last.H
	if resized {
		g.settled = in.Seconds + settling
	}
	g.stirred = resized || in.Pointer != g.last.Pointer || in.Wheel != 0 || in.Pressed || in.Released ||
		len(in.Keys)+len(in.Text)+len(g.keys) > 0
	due := g.repeat.at
	if at, ok := g.desk.Due(); ok {
		due = min(due, at)
	}
	awake := due <= in.Seconds || in.Seconds < g.settled || g.stirred && in.Seconds < g.touched+stream
	if g.stirred {
		g.touched = in.Seconds
	}
	g.last = in
	g.alarm.Stop()
	switch down := func(k ebiten.Key) bool { return ebiten.IsKeyPressed(k) }; {
	case in.Down && in.Released || slices.ContainsFunc(g.keys, down):
		Wake() // what is down still was let go already, as the next update will find
	case !awake && !math.IsInf(due, 1):
		g.alarm.Reset(time.Duration((due - in.Seconds) * float64(time.Second)))
	}
	if awake == g.awake {
		return
	}
	g.awake = awake
	if awake {
		ebiten.SetVsyncEnabled(true)
		return
	}
	//nolint:staticcheck // The one way to wait for events; it has no successor yet.
	ebiten.SetFPSMode(ebiten.FPSModeVsyncOffMinimum)
}

// Draw paints what is different of what the desk decided.
func (g *game) Draw(screen *ebiten.Image) {
	size := screen.Bounds().Size()
	switch {
	case g.changed || g.panes.size != size:
		g.desk.Draw(&g.list)
		g.changed = false
		g.panes.fit(size)
		pixels := g.pages.Paint(&g.list, g.panes.put)
		if pixels == 0 {
			return
		}
		if pixels > untidy {
			g.tidy.Reset(time.Second)
		}
	case g.awake || g.stirred:
		return
		// Else it was woken by nothing that the desk knows: it may have been covered.
	}
	// It is the panes that are shown. All that is looked for in the screen is that something
	// is drawn on it; as it is never read, that takes no memory.
	screen.Set(0, 0, color.Black)
}

// untidy is how many pixels are so many that what was taken to hand them on is given back to
// the system afterwards, not only when as much is wanted again.
const untidy = 1 << 20

// DrawFinalScreen shows the page, whose pixels are the screen's.
func (g *game) DrawFinalScreen(screen ebiten.FinalScreen, _ *ebiten.Image, _ ebiten.GeoM) {
	g.panes.show(screen)
}
