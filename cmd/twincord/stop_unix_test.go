//go:build unix

package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"twincord/cmd/internal/call"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// parts are the temporary files in a folder.
func parts(t *testing.T, folder string) []string {
	found, err := filepath.Glob(filepath.Join(folder, ".twincord-*.part"))
	require.NoError(t, err)
	return found
}

// stopped runs a command in a folder of its own, in which an old file lies, and sends it a
// signal once it has a temporary file there, or a picture; again where it was done sooner
// than that, or a kill came at no bad moment, with no temporary file there any more. It
// gives the folder and its exit code, or −1 where the signal ended it.
func stopped(t *testing.T, signal os.Signal, args ...string) (folder string, code int) {
	for range 100 {
		folder = t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(folder, "a.png"), []byte("old"), 0o600))
		c := exec.Command("twincord", args...)
		c.Dir = folder
		require.NoError(t, c.Start())
		ended := make(chan error, 1)
		go func() { ended <- c.Wait() }()
		for begun := false; !begun; {
			pictures, err := filepath.Glob(filepath.Join(folder, "*.png"))
			require.NoError(t, err)
			begun = len(parts(t, folder)) > 0 || len(pictures) > 1 || len(ended) > 0
			time.Sleep(time.Millisecond)
		}
		_ = c.Process.Signal(signal) // which it may have ended before
		var exit *exec.ExitError
		if errors.As(<-ended, &exit) && (signal != syscall.SIGKILL || len(parts(t, folder)) > 0) {
			return folder, exit.ExitCode()
		}
	}
	require.Fail(t, "it cannot be stopped", "%v", signal)
	return "", 0
}

// Whoever stops a command that writes gets the old file and no part of a new one. What a
// kill leaves is removed by the next who writes there, once it is old.
func TestStoppedCommandsLeaveNothing(t *testing.T) {
	for i, args := range [][]string{
		{"draw", "middle-of-three", "-o", "a.png", "--size", "3840x2160"},
		{"film", "unsteady-hold", "-o", "a.png", "--seconds", "60", "--rate", "5", "--size", "320x180"},
		{"scenes", "draw", "."},
	} {
		t.Run(strings.Join(args[:2], " "), func(t *testing.T) {
			stopping := call.Stopping() // each in turn
			for _, signal := range []os.Signal{stopping[i%len(stopping)], syscall.SIGKILL} {
				folder, code := stopped(t, signal, args...)
				data, err := os.ReadFile(filepath.Join(folder, "a.png"))
				require.NoError(t, err)
				assert.Equal(t, "old", string(data))
				if signal != syscall.SIGKILL {
					assert.Equal(t, call.FailedWorking, code, "%v", signal)
					assert.Empty(t, parts(t, folder), "%v", signal)
					continue
				}
				left := parts(t, folder)
				require.Len(t, left, 1)
				then := time.Now().Add(-2 * time.Hour)
				require.NoError(t, os.Chtimes(left[0], then, then))
				require.Equal(t, 0, run([]string{"scenes", "copy", "middle-of-three", filepath.Join(folder, "b.toml")}, &call.Streams{}))
				assert.Empty(t, parts(t, folder))
			}
		})
	}
}
