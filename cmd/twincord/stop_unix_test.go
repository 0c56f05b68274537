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

// stopped runs a command in a folder and sends it a signal once it has a temporary file
// there, or a picture. It gives its exit code, or −1 where the signal ended it.
func stopped(t *testing.T, folder string, signal os.Signal, args ...string) int {
	c := exec.Command("twincord", args...)
	c.Dir = folder
	require.NoError(t, c.Start())
	ended := make(chan error, 1)
	go func() { ended <- c.Wait() }()
	for {
		select {
		case err := <-ended:
			var exit *exec.ExitError
			if errors.As(err, &exit) {
				return exit.ExitCode()
			}
			require.NoError(t, err)
			return 0
		case <-time.After(time.Millisecond):
			if begun, _ := filepath.Glob(filepath.Join(folder, "*.png")); len(parts(t, folder)) > 0 || len(begun) > 1 {
				require.NoError(t, c.Process.Signal(signal))
				err := <-ended
				var exit *exec.ExitError
				require.ErrorAs(t, err, &exit, "%v was ignored", signal)
				return exit.ExitCode()
			}
		}
	}
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
				folder := t.TempDir()
				old := filepath.Join(folder, "a.png")
				require.NoError(t, os.WriteFile(old, []byte("old"), 0o600))
				code := stopped(t, folder, signal, args...)
				data, err := os.ReadFile(old)
				require.NoError(t, err)
				assert.Equal(t, "old", string(data))
				if signal != syscall.SIGKILL {
					assert.Equal(t, call.FailedWorking, code, "%v", signal)
					assert.Empty(t, parts(t, folder), "%v", signal)
					continue
				}
				left := parts(t, folder)
				if args[0] == "scenes" && len(left) == 0 {
					continue // killed between two pictures
				}
				require.Len(t, left, 1, "or the kill came at no bad moment")
				then := time.Now().Add(-2 * time.Hour)
				require.NoError(t, os.Chtimes(left[0], then, then))
				require.Equal(t, 0, run([]string{"scenes", "copy", "middle-of-three", filepath.Join(folder, "b.toml")}, &call.Streams{}))
				assert.Empty(t, parts(t, folder))
			}
		})
	}
}
