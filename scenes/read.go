package scenes

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
)

// ErrNotPlain says that a path leads to a folder, a device or a pipe.
var ErrNotPlain = errors.New("is not a plain file")

// ReadFile reads a plain file, and says which it was; of one that is larger than
// most bytes it gives the first most+1. Whatever the path leads to, it does not
// wait: a pipe that nobody writes to is refused like anything else that is no plain
// file.
func ReadFile(path string, most int) (data []byte, info fs.FileInfo, err error) {
	f, err := openAtOnce(path)
	if err != nil {
		return nil, nil, err
	}
	defer func() { _ = f.Close() }() // it was but read
	if info, err = f.Stat(); err != nil {
		return nil, nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, info, ErrNotPlain
	}
	data, err = io.ReadAll(io.LimitReader(f, int64(most)+1))
	return data, info, err
}

// read gives the bytes of a scene file, and at most one more than it may have.
func read(path string) ([]byte, error) {
	data, info, err := ReadFile(path, MaxSize)
	switch {
	case info != nil && info.IsDir():
		return nil, fmt.Errorf("%s: is a folder, not a scene file", path)
	case errors.Is(err, ErrNotPlain):
		return nil, fmt.Errorf("%s: %w, but a device or a pipe; \"-\" reads the standard input", path, err)
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%s: %w", path, fs.ErrNotExist)
	case err != nil:
		var pe *fs.PathError
		if errors.As(err, &pe) {
			err = pe.Err
		}
		return nil, fmt.Errorf("%s: cannot be read: %w", path, err)
	}
	return data, nil
}
