//go:build long && unix

package main

import (
	"bytes"
	"errors"
	"io"
	"math/rand/v2"
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
)

// Every command that writes is ended at random moments by every signal: of the file that
// it was to replace all is the old or all the new, and beside it lies nothing, but what a
// kill leaves for the next. STOPS=SEED repeats a run.
func TestEveryCommandIsStoppedAtAnyMoment(t *testing.T) {
	seed := uint64(20261)
	if s, err := strconv.ParseUint(os.Getenv("STOPS"), 10, 64); err == nil {
		seed = s
	}
	t.Logf("STOPS=%d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	const times = 4 // each command by each signal
	signals := []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGKILL}
	stopped, sooner, parted := 0, 0, 0
	for _, args := range [][]string{
		{"draw", "too-far-doubled", "-o", "a.png"},
		{"draw", "too-far-doubled", "-o", "a.svg", "--compare"},
		{"sheet", "walk-of-ten", "-o", "a.pdf"},
		{"sheet", "walk-of-ten", "-o", "a.html"},
		{"page", "middle-of-three", "-o", "a.html"},
		{"cases", "-o", "a.pdf"},
		{"film", "jump-near-to-far", "-o", "a.gif", "--seconds", "2", "--size", "320x200"},
		{"film", "jump-near-to-far", "-o", "b.png", "--seconds", "2", "--size", "320x200"},
		{"scenes", "copy", "middle-of-three", "a.toml", "--force"},
	} {
		file := args[len(args)-1]
		for i, a := range args {
			if a == "-o" {
				file = args[i+1]
			}
		}
		if args[0] == "scenes" {
			file = "a.toml"
		}
		command := func(folder string) *exec.Cmd {
			c := exec.Command("twincord", args...)
			c.Dir = folder
			return c
		}
		folder := t.TempDir()
		began := time.Now()
		said, err := command(folder).CombinedOutput()
		require.NoError(t, err, "%v: %s", args, said)
		takes := time.Since(began)
		whole, err := os.ReadFile(filepath.Join(folder, file))
		require.NoError(t, err)
		for i := range times * len(signals) {
			signal := signals[i%len(signals)]
			folder := t.TempDir()
			path := filepath.Join(folder, file)
			require.NoError(t, os.WriteFile(path, []byte("old"), 0o600))
			c := command(folder)
			require.NoError(t, c.Start())
			time.Sleep(time.Duration(r.Float64() * float64(takes)))
			if err := c.Process.Signal(signal); !errors.Is(err, os.ErrProcessDone) {
				require.NoError(t, err)
			}
			err := c.Wait()
			data, readErr := os.ReadFile(path)
			require.NoError(t, readErr)
			stopped++
			switch {
			case err == nil:
				sooner++
				require.True(t, bytes.Equal(whole, data), "%v by %v: done, and the file is another", args, signal)
			case string(data) != "old":
				require.True(t, bytes.Equal(whole, data), "%v by %v: half a file", args, signal)
			}
			left, err := os.ReadDir(folder)
			require.NoError(t, err)
			if signal == syscall.SIGKILL && len(left) == 2 {
				parted++
				require.True(t, strings.HasPrefix(left[0].Name(), ".twincord-"), "%v: %s", args, left[0].Name())
				continue
			}
			assert.Len(t, left, 1, "%v by %v", args, signal)
		}
	}
	t.Logf("%d commands ended by signals, %d of them were done sooner; after kills %d temporary files were left for the next who writes", stopped, sooner, parted)
}

// What goes to the standard output ends when nobody reads it any longer, without a word.
func TestNobodyReadsOn(t *testing.T) {
	for _, args := range [][]string{
		{"measure", "middle-of-three", "--json"}, {"answers", "middle-of-three"}, {"scenes", "list"}, {"scenes", "schema"}, {"--help"},
	} {
		c := exec.Command("twincord", args...)
		out, err := c.StdoutPipe()
		require.NoError(t, err)
		var said bytes.Buffer
		c.Stderr = &said
		require.NoError(t, c.Start())
		_, err = io.ReadFull(out, make([]byte, 10))
		require.NoError(t, err, "%v", args)
		require.NoError(t, out.Close())
		err = c.Wait()
		var exit *exec.ExitError
		if errors.As(err, &exit) { // by the system's own signal
			assert.Equal(t, syscall.SIGPIPE, exit.Sys().(syscall.WaitStatus).Signal(), "%v", args)
		}
		assert.Empty(t, said.String(), "%v", args)
	}
}
