package document

import (
	"errors"
	"os"
	"path/filepath"

	"golang.org/x/sys/windows"
)

// errReadOnly is the error of a disk that may only be read.
const errReadOnly = windows.ERROR_WRITE_PROTECT

func isFull(err error) bool {
	return errors.Is(err, windows.ERROR_DISK_FULL) || errors.Is(err, windows.ERROR_HANDLE_DISK_FULL)
}

const atOnce = 0

// isHeld says whether somebody has a file to himself.
func isHeld(err error) bool {
	return errors.Is(err, windows.ERROR_SHARING_VIOLATION) || errors.Is(err, windows.ERROR_LOCK_VIOLATION) ||
		errors.Is(err, windows.ERROR_ACCESS_DENIED) // what is about to be removed
}

// move puts a file in the place of another of the same folder, also while others read that
// one. So a Root of the folder renames, with what os.Rename does not ask of Windows: the
// POSIX semantics of FileRenameInformationEx ([MS-FSCC] 2.4.43).
func move(from, to string) error {
	folder, err := os.OpenRoot(filepath.Dir(to))
	if err != nil {
		return err
	}
	err = folder.Rename(filepath.Base(from), filepath.Base(to))
	return errors.Join(err, folder.Close())
}
