package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/cmd/internal/call"
)

// No command waits for the library of the window to begin.
func TestWindowAloneLinksItsLibrary(t *testing.T) {
	const library = "github.com/hajimehoshi/ebiten"
	links := func(program string) bool {
		out, err := exec.Command("go", "list", "-deps", program).Output()
		require.NoError(t, err)
		return strings.Contains(string(out), library)
	}
	assert.False(t, links("twincord/cmd/twincord"))
	assert.True(t, links("twincord/cmd/twincord-window"))
}

// The program with the window is the one beside twincord, else the one where the system
// looks for programs.
func TestFindsTheWindow(t *testing.T) {
	name := call.WindowProgram
	if runtime.GOOS == "windows" {
		name += ".exe"
	}
	beside, elsewhere := t.TempDir(), t.TempDir()
	t.Setenv("PATH", elsewhere)
	_, err := windowProgram(beside)
	assert.EqualError(t, err, "the window is a program of its own, "+name+", which is not here: put it into the folder "+beside+", where twincord is")

	for _, folder := range []string{elsewhere, beside} {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), nil, 0o755))
		path, err := windowProgram(beside)
		require.NoError(t, err)
		assert.Equal(t, filepath.Join(folder, name), path)
	}
}

// Where there is none, that is what is wrong with the call.
func TestNoWindowProgram(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	var out, said bytes.Buffer
	assert.Equal(t, call.BadInput, run(nil, &call.Streams{Out: &out, Err: &said}))
	assert.Empty(t, out.String())
	assert.Contains(t, said.String(), "twincord: the window is a program of its own, "+call.WindowProgram)
}

// What stands there but is no program is said, and no other one taken.
func TestWindowThatIsNoProgram(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("every .exe is a program on Windows")
	}
	folder := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(folder, call.WindowProgram), nil, 0o644))
	_, err := windowProgram(folder)
	assert.ErrorIs(t, err, os.ErrPermission)
}
