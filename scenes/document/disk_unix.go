//go:build unix

package document

import (
	"errors"
	"os"
	"syscall"
)

// errReadOnly is the error of a disk that may only be read.
const errReadOnly = syscall.EROFS

func isFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT)
}

// atOnce opens a file without waiting, should it be a pipe after all.
const atOnce = syscall.O_NONBLOCK

// isHeld says whether somebody has a file to himself, which some disks far away know.
func isHeld(err error) bool { return errors.Is(err, syscall.EBUSY) }

// move puts a file in the place of another of the same folder.
func move(from, to string) error { return os.Rename(from, to) }
