package main

import (
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"

	"twincord/cmd/internal/call"
)

// windowCommand hands over to the program with the window.
type windowCommand struct{ call.Window }

// Run becomes the program with the window, or waits for it where no program can become
// another: its streams, its exit code and whoever ends it are the window's either way.
func (c *windowCommand) Run(*call.Streams) error {
	us, err := os.Executable()
	if err != nil {
		return err
	}
	if us, err = filepath.EvalSymlinks(us); err != nil {
		return err
	}
	program, err := windowProgram(filepath.Dir(us))
	if err != nil {
		return err
	}
	return become(program, c.Args())
}

// windowProgram finds the program with the window: in a folder, or else where the system
// looks for programs.
func windowProgram(folder string) (path string, err error) {
	name := call.WindowProgram
	if runtime.GOOS == "windows" {
		name += ".exe"
	}
	beside := filepath.Join(folder, name)
	path, err = exec.LookPath(beside)
	if errors.Is(err, fs.ErrNotExist) {
		path, err = exec.LookPath(name)
	}
	if errors.Is(err, exec.ErrNotFound) {
		return "", call.Bad("the window is a program of its own, %s, which is not here: put it into the folder %s, where twincord is", name, folder)
	}
	if err != nil {
		return "", call.Bad("the window: %w", err)
	}
	return path, nil
}
