// Package document is about a scene as its user has it: open, with a history,
// and kept safe while it changes. It draws nothing and has no clock.
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
func Replace(path string, write func(io.Writer) error) error {
	target, old, err := resolve(path)
	if err != nil {
		return failed(path, err)
	}
	f, err := beside(target)
	if err != nil {
		return failed(path, err)
	}
	placed := false
	defer func() { // a write that panics leaves nothing behind either
		if !placed {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	err = write(f)
	if err == nil && old != nil {
		err = f.Chmod(old.Mode().Perm())
	}
	if err == nil {
		err = f.Sync()
	}
	if err == nil {
		err = f.Close()
	}
	if err == nil {
		err = os.Rename(f.Name(), target)
	}
	if err != nil {
		return failed(path, err)
	}
	placed = true
	return nil
}

// resolve follows symbolic links to the file that is meant, which need not exist;
// old is nil then. What is there must be a plain file that may be written.
func resolve(path string) (target string, old fs.FileInfo, err error) {
	const mostLinks = 40 // as many as the system follows
	target = path
	for range mostLinks {
		info, err := os.Lstat(target)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return target, nil, nil
		case err != nil:
			return "", nil, err
		case info.Mode()&fs.ModeSymlink != 0:
			link, err := os.Readlink(target)
			if err != nil {
				return "", nil, err
			}
			if !filepath.IsAbs(link) {
				link = filepath.Join(filepath.Dir(target), link)
			}
			target = link
			continue
		case info.IsDir():
			return "", nil, errors.New("it is a folder")
		case !info.Mode().IsRegular():
			return "", nil, errors.New("it is not a plain file")
		}
		// Renaming asks for no leave to write to the old file, so ask here.
		f, err := os.OpenFile(target, os.O_WRONLY, 0)
		if err != nil {
			return "", nil, err
		}
		return target, info, f.Close()
	}
	return "", nil, errors.New("too many symbolic links")
}

// partPrefix begins the names of temporary files.
const partPrefix = ".twincord-"

// beside makes a new file in the same folder, with the permissions of any new
// file. Its name is short, since the target's may be as long as a name can be.
func beside(target string) (*os.File, error) {
	for i := 0; ; i++ {
		name := filepath.Join(filepath.Dir(target), fmt.Sprintf("%s%d-%d.part", partPrefix, os.Getpid(), i))
		f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// failed puts the path that was asked for in the place of that of the temporary
// file.
func failed(path string, err error) error {
	return fmt.Errorf("%s: cannot be written: %w", path, cause(err))
}

// cause is what went wrong, without the path and the system call.
func cause(err error) error {
	var pe *fs.PathError
	var le *os.LinkError
	var se *os.SyscallError
	switch {
	case errors.As(err, &pe):
		return pe.Err
	case errors.As(err, &le):
		return le.Err
	case errors.As(err, &se):
		return se.Err
	}
	return err
}
