//go:build unix

package main

import (
	"fmt"
	"os"
	"syscall"
)

// become is the other program from here on, with the same number: a signal for this one
// reaches the window, which then saves.
func become(program string, args []string) error {
	err := syscall.Exec(program, append([]string{program}, args...), os.Environ())
	return fmt.Errorf("%s: %w", program, err)
}
