package document

import (
	"errors"
	"os"
	"time"

	"golang.org/x/sys/windows"
)

// errReadOnly is the error of a disk that may only be read.
const errReadOnly = windows.ERROR_WRITE_PROTECT

func isFull(err error) bool {
	return errors.Is(err, ErrFull) || errors.Is(err, windows.ERROR_DISK_FULL) || errors.Is(err, windows.ERROR_HANDLE_DISK_FULL)
}

const atOnce = 0

// rename puts a file in the place of another. What somebody has open without leave to
// move it cannot be replaced: those who copy folders to elsewhere, look for viruses or
// index do so for moments, so it is tried again for a second.
func rename(from, to string) error { return insist(func() error { return os.Rename(from, to) }) }

// insist does something again while others keep a file to themselves.
func insist(do func() error) error {
	for pause := time.Millisecond; ; pause *= 2 {
		err := do()
		held := errors.Is(err, windows.ERROR_SHARING_VIOLATION) || errors.Is(err, windows.ERROR_ACCESS_DENIED) ||
			errors.Is(err, windows.ERROR_LOCK_VIOLATION)
		if !held || pause > 512*time.Millisecond {
			return err
		}
		time.Sleep(pause)
	}
}
