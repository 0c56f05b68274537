//go:build !windows

package document

import (
	"errors"
	"os"
	"syscall"
)

// lock waits until an open file is locked for it alone. Closing the file gives the
// lock back, as does the end of the process, however it ends.
func lock(f *os.File) error { return flock(f, syscall.LOCK_EX) }

// locked says whether some other open file has a file locked for it alone. Until
// f is closed, nobody else can.
func locked(f *os.File) (bool, error) {
	err := flock(f, syscall.LOCK_SH|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return true, nil
	}
	return false, err
}

func flock(f *os.File, how int) error {
	for {
		if err := syscall.Flock(int(f.Fd()), how); !errors.Is(err, syscall.EINTR) {
			return os.NewSyscallError("flock", err)
		}
	}
}
