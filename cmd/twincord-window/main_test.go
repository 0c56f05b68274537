package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/alecthomas/kong"
	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/cmd/internal/call"
)

// The tests run this test binary again as the program, which ends at once, not after a
// second in which others might race on.
func TestMain(m *testing.M) {
	if err := os.Setenv("GORACE", "atexit_sleep_ms=0"); err != nil {
		panic(err)
	}
	testscript.Main(m, map[string]func(){call.WindowProgram: main})
}

// says runs the program in a folder where no window can open, and gives its exit code and
// all it says.
func says(t *testing.T, folder string, env []string, args ...string) (code int, said string) {
	c := exec.Command(call.WindowProgram, args...)
	c.Dir = folder
	c.Env = append(os.Environ(), env...)
	out, err := c.CombinedOutput()
	var exit *exec.ExitError
	if !errors.As(err, &exit) {
		require.NoError(t, err)
	}
	assert.NotContains(t, string(out), "goroutine")
	return c.ProcessState.ExitCode(), string(out)
}

// A bad scene is told first; then, where there is no display, that there is none.
func TestNoWindow(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("only Linux can be without a display")
	}
	folder := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(folder, "bad.toml"), []byte("format = 2\n"), 0o600))
	for _, screen := range []string{"", ":4242"} {
		env := []string{"HOME=" + folder, "DISPLAY=" + screen, "WAYLAND_DISPLAY="}
		for _, c := range []struct{ scene, says string }{
			{"middle-of-three", "^twincord: no display to open a window on.*twincord draw"},
			{"nonsense", "^twincord: nonsense: file does not exist, nor a built-in scene of that name"},
			{"bad.toml", "(?m)^bad\\.toml:1:10: format: "},
			{"/dev/null", "^twincord: /dev/null: is not a plain file"},
		} {
			code, said := says(t, folder, env, c.scene)
			assert.Equal(t, call.BadInput, code, c.scene)
			assert.Regexp(t, c.says, said)
		}
	}
	code, said := says(t, folder, nil, "--screen=-1")
	assert.Equal(t, call.BadInput, code)
	assert.Contains(t, said, "--screen -1: screens are counted from 1")
	code, said = says(t, folder, nil, "--nonsense")
	assert.Equal(t, call.BadInput, code)
	assert.Contains(t, said, `Try "twincord-window --help".`)
	code, said = says(t, folder, nil, "--version")
	assert.Zero(t, code)
	assert.Regexp(t, `^twincord \S+\n$`, said)
}

// The arguments that the command hands over are read as what they were.
func TestArgumentsOfTheWindow(t *testing.T) {
	for _, w := range []call.Window{
		{}, {Scene: "mine.toml"}, {Scene: "--odd"}, {Scene: "-"}, {Follow: true}, {Screen: 2}, {Screen: -1, Follow: true, Scene: "a b"},
	} {
		read := &program{}
		parser, err := kong.New(read, kong.Vars{"first": "", "version": ""})
		require.NoError(t, err)
		_, err = parser.Parse(w.Args())
		require.NoError(t, err)
		assert.Equal(t, w, read.Window)
	}
}
