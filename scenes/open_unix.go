//go:build unix

package scenes

import (
	"os"
	"syscall"
)

// openAtOnce opens a file to be read. A pipe opens without somebody who writes to it.
func openAtOnce(path string) (*os.File, error) {
	return os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0)
}
