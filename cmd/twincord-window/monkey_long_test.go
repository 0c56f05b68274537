//go:build long && window

package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
)

// numberOf is a number that the surroundings may give.
func numberOf(name string, usual int) int {
	if n, err := strconv.Atoi(os.Getenv(name)); err == nil {
		return n
	}
	return usual
}

// resident is what the program holds in memory, MB.
func (b *bench) resident() float64 {
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", b.program.Process.Pid))
	require.NoError(b.t, err)
	_, after, _ := strings.Cut(string(status), "VmRSS:")
	fields := strings.Fields(after)
	require.NotEmpty(b.t, fields, "the window has ended")
	kB, err := strconv.Atoi(fields[0])
	require.NoError(b.t, err)
	return float64(kB) / 1024
}

// counted is how many files the kernel lists of the program in a folder: "task", "fd".
func (b *bench) counted(what string) int {
	all, err := os.ReadDir(fmt.Sprintf("/proc/%d/%s", b.program.Process.Pid, what))
	require.NoError(b.t, err)
	return len(all)
}

// What a monkey has on its keyboard: all but what closes the window.
var monkeyKeys = strings.Fields(`Tab Tab shift+Tab Return space Escape Up Down Left Right Prior Next Home End BackSpace Delete
	shift+Left shift+Right ctrl+z ctrl+y ctrl+shift+z ctrl+s ctrl+n ctrl+o ctrl+d ctrl+c ctrl+v ctrl+a ctrl+e ctrl+1 ctrl+2 ctrl+3 ctrl+4
	F1 F2 F5 F11 plus minus a b c d e f g h i k l m n o p r s t u v w x 1 2 3 5 8 0 period comma`)

// monkeyDoes are some events, as xdotool is told them.
func monkeyDoes(r *rand.Rand, w, h int) (events []string) {
	at := func() []string { return []string{"mousemove", strconv.Itoa(r.IntN(w)), strconv.Itoa(r.IntN(h))} }
	for range 20 {
		switch r.IntN(6) {
		case 0, 1:
			events = append(events, at()...)
			events = append(events, "click", "1")
		case 2: // a pull
			events = append(events, at()...)
			events = append(events, "mousedown", "1")
			for range 4 {
				events = append(events, at()...)
			}
			events = append(events, "mouseup", "1")
		case 3:
			events = append(events, "click", []string{"4", "5", "3"}[r.IntN(3)])
		default:
			events = append(events, "key", monkeyKeys[r.IntN(len(monkeyKeys))])
		}
	}
	return events
}

// An hour of random pointer and keys on a real window: it does not end, what it has saved
// can be read, and in its last half it needs no more memory, threads and files than in the
// first. MINUTES=N takes so many, MONKEY=SEED repeats what was done.
func TestMonkeyOnARealWindow(t *testing.T) {
	const w, h = 1280, 800
	minutes, seed := numberOf("MINUTES", 60), numberOf("MONKEY", 1)
	t.Logf("MINUTES=%d MONKEY=%d", minutes, seed)
	r := rand.New(rand.NewPCG(uint64(seed), 5))
	b := open(t, "middle-of-three", w, h, 1)
	var memory []float64
	events, threads, files := 0, [2]int{}, [2]int{}
	total := time.Duration(minutes) * time.Minute
	began := time.Now()
	measured := began
	for time.Since(began) < total {
		does := monkeyDoes(r, w, h)
		c := exec.Command("xdotool", does...)
		c.Env = append(os.Environ(), "DISPLAY="+b.screen)
		require.NoError(t, c.Run())
		events += 20
		time.Sleep(time.Duration(r.IntN(300)) * time.Millisecond)
		now := b.resident()
		if time.Since(measured) < total/200 {
			continue
		}
		measured = time.Now()
		memory = append(memory, now)
		half := 0
		if time.Since(began) > total/2 {
			half = 1
		}
		threads[half], files[half] = max(threads[half], b.counted("task")), max(files[half], b.counted("fd"))
	}
	first, last := memory[len(memory)/5:len(memory)/2], memory[len(memory)/2:]
	t.Logf("%d events; resident at most %.0f MB in the first half, %.0f MB in the second, %.0f MB at the end; at most %d and %d threads, %d and %d files open",
		events, slices.Max(first), slices.Max(last), last[len(last)-1], threads[0], threads[1], files[0], files[1])
	assert.LessOrEqual(t, slices.Max(last), 1.25*slices.Max(first), "MB of memory")
	assert.LessOrEqual(t, threads[1], threads[0]+8, "threads")
	assert.LessOrEqual(t, files[1], files[0]+8, "files")
	require.NoError(t, b.program.Process.Signal(syscall.SIGTERM))
	require.NoError(t, b.program.Wait())
	for _, folder := range []string{"data/twincord/*.toml", "state/twincord/autosave/*.toml"} {
		left, err := filepath.Glob(filepath.Join(b.home, folder))
		require.NoError(t, err)
		for _, path := range left {
			_, err := scenes.Load(path)
			assert.NoError(t, err, "every file is whole")
		}
	}
}
