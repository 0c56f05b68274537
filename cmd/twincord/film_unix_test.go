//go:build unix

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"twincord/cmd/internal/call"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// signalling is who gets impatient at the first thing that is said.
type signalling struct {
	bytes.Buffer
	signal os.Signal
	sent   bool
}

func (s *signalling) Write(b []byte) (int, error) {
	if !s.sent {
		s.sent = true
		if err := syscall.Kill(os.Getpid(), s.signal.(syscall.Signal)); err != nil {
			return 0, err
		}
	}
	return s.Buffer.Write(b)
}

// Who stops a film gets none, and no part of one.
func TestFilmIsStopped(t *testing.T) {
	for _, signal := range call.Stopping() { // not what a caller in the background has ignored
		folder := t.TempDir()
		file := filepath.Join(folder, "a.png")
		require.NoError(t, os.WriteFile(file, []byte("old"), 0o644))
		said := &signalling{signal: signal}
		code := run([]string{"film", "unsteady-hold", "-o", file, "--seconds", "60", "--rate", "5", "--size", "320x180"}, &call.Streams{In: strings.NewReader(""), Out: new(bytes.Buffer), Err: said})
		assert.Equal(t, call.FailedWorking, code)
		assert.Contains(t, said.String(), "a.png: 330 frames, 66 s, about ", "with the caution before it")
		assert.Contains(t, said.String(), "a.png: stopped, nothing left half-written\n")
		files, err := os.ReadDir(folder)
		require.NoError(t, err)
		require.Len(t, files, 1)
		old, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, "old", string(old))
	}
}

// A film that needs ffmpeg says so where there is none, before any work.
func TestAnMP4NeedsFFmpeg(t *testing.T) {
	folder := t.TempDir()
	t.Setenv("PATH", folder)
	said := new(bytes.Buffer)
	code := run([]string{"film", "unsteady-hold", "-o", filepath.Join(folder, "a.mp4")}, &call.Streams{In: strings.NewReader(""), Out: new(bytes.Buffer), Err: said})
	assert.Equal(t, call.BadInput, code)
	assert.Contains(t, said.String(), "a.mp4: an MP4 is made by the program ffmpeg, which is not found on this computer; allowed are .webp, .gif and .png, or installing ffmpeg")
	files, err := os.ReadDir(folder)
	require.NoError(t, err)
	require.Empty(t, files)
}
