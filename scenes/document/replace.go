// Package document is about a scene file as the user has it: how it is kept
// safe while it changes.
package document

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Replace gives a file new contents, all or nothing: write fills a temporary
// file beside it, which takes its place once it is complete and on the disk. An
// existing file keeps its permission bits; a symbolic link stays, and its target
// is what is replaced. On an error, which names the path, the old file is as it
// was and nothing else is left behind.
func Replace(path string, write func(io.Writer) error) (err error) {
	target, mode, err := aim(path)
	if err != nil {
		return failed(path, err)
	}
	f, err := os.CreateTemp(filepath.Dir(target), "."+filepath.Base(target)+".*.part")
	if err != nil {
		return failed(path, err)
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if err = write(f); err != nil {
		return failed(path, err)
	}
	if err = errors.Join(f.Chmod(mode), f.Sync()); err != nil {
		return failed(path, err)
	}
	if err = f.Close(); err != nil {
		return failed(path, err)
	}
	if err = os.Rename(f.Name(), target); err != nil {
		return failed(path, err)
	}
	return nil
}

// aim finds what a path names in the end, and with what permissions to write it.
func aim(path string) (target string, mode fs.FileMode, err error) {
	target, err = filepath.EvalSymlinks(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if _, err := os.Lstat(path); err == nil {
			return "", 0, errors.New("the link leads nowhere")
		}
		return path, 0o644, nil
	case err != nil:
		return "", 0, err
	}
	info, err := os.Stat(target)
	switch {
	case err != nil:
		return "", 0, err
	case info.IsDir():
		return "", 0, errors.New("is a folder, not a file")
	case !info.Mode().IsRegular():
		return "", 0, errors.New("is not an ordinary file")
	}
	return target, info.Mode().Perm(), nil
}

// failed names the path that was asked for, and not the temporary file beside it.
func failed(path string, err error) error {
	var pe *fs.PathError
	var le *os.LinkError
	switch {
	case errors.As(err, &pe):
		err = pe.Err
	case errors.As(err, &le):
		err = le.Err
	}
	return fmt.Errorf("%s: cannot be written: %w", path, err)
}
