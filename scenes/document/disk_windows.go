package document

import (
	"errors"

	"golang.org/x/sys/windows"
)

// errReadOnly is the error of a disk that may only be read.
const errReadOnly = windows.ERROR_WRITE_PROTECT

func isFull(err error) bool {
	return errors.Is(err, ErrFull) || errors.Is(err, windows.ERROR_DISK_FULL) || errors.Is(err, windows.ERROR_HANDLE_DISK_FULL)
}

const atOnce = 0

// isHeld says whether somebody has a file to himself.
func isHeld(err error) bool {
	return errors.Is(err, windows.ERROR_SHARING_VIOLATION) || errors.Is(err, windows.ERROR_LOCK_VIOLATION) ||
		errors.Is(err, windows.ERROR_ACCESS_DENIED) // what is about to be removed
}
