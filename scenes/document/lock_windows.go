package document

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// lock waits until an open file is locked for it alone. Closing the file gives the
// lock back, as does the end of the process, however it ends.
func lock(f *os.File) error { return lockFile(f, windows.LOCKFILE_EXCLUSIVE_LOCK) }

// locked says whether some other open file has a file locked for it alone. Until
// f is closed, nobody else can.
func locked(f *os.File) (bool, error) {
	err := lockFile(f, windows.LOCKFILE_FAIL_IMMEDIATELY)
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return true, nil
	}
	return false, err
}

func lockFile(f *os.File, how uint32) error {
	err := windows.LockFileEx(windows.Handle(f.Fd()), how, 0, 1, 0, &windows.Overlapped{})
	return os.NewSyscallError("LockFileEx", err)
}
