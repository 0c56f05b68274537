package scenes

import (
	"io/fs"
	"os"

	"golang.org/x/sys/windows"
)

// openAtOnce opens a file to be read. Others may meanwhile rename and remove it, as
// everywhere else: what is being saved takes the place of what is being read.
func openAtOnce(path string) (*os.File, error) {
	name, err := windows.UTF16PtrFromString(path)
	if err != nil {
		return nil, &fs.PathError{Op: "open", Path: path, Err: err}
	}
	const share = windows.FILE_SHARE_READ | windows.FILE_SHARE_WRITE | windows.FILE_SHARE_DELETE
	const folders = windows.FILE_FLAG_BACKUP_SEMANTICS // opened too, so that they are called so
	h, err := windows.CreateFile(name, windows.GENERIC_READ, share, nil, windows.OPEN_EXISTING, folders, 0)
	if err != nil {
		return nil, &fs.PathError{Op: "open", Path: path, Err: err}
	}
	return os.NewFile(uintptr(h), path), nil
}
