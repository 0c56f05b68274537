package document

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
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
	mode := fs.FileMode(0o666) // as any new file
	if old != nil {
		mode = 0o600 // until all of it is there
	}
	f, err := beside(target, mode)
	if err != nil {
		return failed(path, err)
	}
	placed := false
	defer func() { // a write that panics leaves nothing behind either
		if !placed {
			_ = f.Close() // something worse has happened
			_ = os.Remove(f.Name())
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
		err = insist(func() error { return move(f.Name(), target) })
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
		var f *os.File
		err = insist(func() error {
			f, err = os.OpenFile(target, os.O_WRONLY|atOnce, 0)
			return err
		})
		if err != nil {
			return "", nil, err
		}
		return target, info, f.Close()
	}
	return "", nil, errors.New("too many symbolic links")
}

// partPrefix and partSuffix are about the names of temporary files.
const (
	partPrefix = ".twincord-"
	partSuffix = ".part"
)

// beside makes a new file in the same folder. Its name is short, since the target's may
// be as long as a name can be. What programs that were killed left there is removed.
func beside(target string, mode fs.FileMode) (*os.File, error) {
	folder := filepath.Dir(target)
	sweepParts(folder, time.Now())
	for i := 0; ; i++ {
		name := filepath.Join(folder, fmt.Sprintf("%s%d-%d%s", partPrefix, os.Getpid(), i, partSuffix))
		f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, mode)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// abandoned is how long nothing is written to a temporary file until nobody is thought
// to be at it.
const abandoned = time.Hour

// sweepParts removes the temporary files that programs which were killed left in a
// folder; also those that seem to come from the future, after a clock was set back.
func sweepParts(folder string, now time.Time) {
	names, _ := disk{}.List(folder)
	for _, name := range names {
		if !strings.HasPrefix(name, partPrefix) || !strings.HasSuffix(name, partSuffix) {
			continue
		}
		part := filepath.Join(folder, name)
		if info, err := os.Lstat(part); err == nil && info.Mode().IsRegular() && now.Sub(info.ModTime()).Abs() > abandoned {
			_ = os.Remove(part) // there is a next time
		}
	}
}

// How long something is done again while others keep a file to themselves, and the longest
// pause: who waits longer and longer finds the moments between many others ever more seldom.
const (
	insistence   = time.Second
	longestPause = 16 * time.Millisecond
)

// insist does something again while others keep a file to themselves. On Windows those do
// who copy folders to elsewhere, look for viruses or index: nobody may move or write what
// they have open, for moments.
func insist(do func() error) error {
	began := time.Now()
	for pause := time.Millisecond; ; pause = min(2*pause, longestPause) {
		err := do()
		if !isHeld(err) || time.Since(began) >= insistence {
			return err
		}
		time.Sleep(pause)
	}
}

// failed puts the path that was asked for in the place of that of the temporary
// file.
func failed(path string, err error) error {
	return fmt.Errorf("%s: cannot be written: %w", path, cause(err))
}
