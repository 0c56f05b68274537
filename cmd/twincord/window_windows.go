package main

import (
	"errors"
	"os"
	"os/exec"

	"twincord/cmd/internal/call"
)

// become starts the other program and waits for it: so whoever called has its exit code,
// and on the console what it says, though it has no console of its own. Whoever does not
// want to wait closes the console or presses Ctrl+C in it; neither ends the window.
func become(program string, args []string) error {
	c := exec.Command(program, args...)
	c.Stdin, c.Stdout, c.Stderr = os.Stdin, os.Stdout, os.Stderr
	err := c.Run()
	var ended *exec.ExitError
	if errors.As(err, &ended) {
		return call.Ended(ended.ExitCode())
	}
	return err
}
