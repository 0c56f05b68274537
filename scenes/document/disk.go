package document

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/gofrs/flock"

	"twincord/scenes"
)

// disk is the files of the system.
type disk struct{}

func (disk) Read(path string, most int) ([]byte, time.Time, error) {
	data, info, err := readFile(path, most)
	if err != nil {
		return nil, time.Time{}, err
	}
	return data, info.ModTime(), nil
}

// readFile is scenes.ReadFile for files that others write.
func readFile(path string, most int) (data []byte, info fs.FileInfo, err error) {
	err = insist(func() error {
		data, info, err = scenes.ReadFile(path, most)
		return err
	})
	return data, info, err
}

func (disk) Write(path string, write func(io.Writer) error) error { return Replace(path, write) }

func (disk) Remove(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: cannot be removed: %w", path, cause(err))
	}
	return nil
}

func (disk) List(folder string) (names []string, err error) {
	entries, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: cannot be read: %w", folder, cause(err))
	}
	for _, e := range entries {
		if !e.IsDir() {
			names = append(names, e.Name())
		}
	}
	return names, nil
}

func (disk) Make(folder string, private bool) error {
	mode := fs.FileMode(0o777)
	if private {
		mode = 0o700
	}
	return os.MkdirAll(folder, mode)
}

// turns are how long somebody waits for those who are before him, who need some
// milliseconds.
const turns = 5 * time.Second

func (disk) Alone(path string, do func() error) error {
	lock := flock.New(path + lockName)
	ctx, stop := context.WithTimeout(context.Background(), turns)
	defer stop()
	if _, err := lock.TryLockContext(ctx, 5*time.Millisecond); err != nil {
		if ctx.Err() != nil {
			err = errors.New("another program does not let go of it")
		}
		return failed(path, err)
	}
	defer func() { _ = lock.Unlock() }() // what was done is done, and the lock ends with its file
	return do()
}

// folder is autosaves in a folder of a disk. Beside each lies a file that its
// program keeps locked, so that everyone can tell a state whose window is open from
// one that was left behind; the lock ends with the program, however that ends.
type folder string

const lockName = ".lock"

// session is the time for which a saver has a name to itself in the folder.
type session struct {
	disk
	name string // the path of its files without their extensions
	lock *flock.Flock
}

func (s *session) autosave() string { return s.name + extension }

func (s *session) write(write func(io.Writer) error) error { return s.Write(s.autosave(), write) }

func (s *session) remove() error { return s.Remove(s.autosave()) }

func (s *session) end() {
	err := os.Remove(s.lock.Path()) // while it is locked, so that it is nobody else's
	_ = s.lock.Unlock()             // it ends with its file, and whoever sweeps sees to a lock left behind
	if err != nil {                 // Windows removes nothing that is open
		_ = os.Remove(s.lock.Path())
	}
}

// begin finds a name that nothing has yet, and clears away what dead programs left
// half-done.
func (f folder) begin() (slot, error) {
	if err := (disk{}).Make(string(f), true); err != nil {
		return nil, failed(string(f), err)
	}
	for i := 0; ; i++ {
		s := &session{name: filepath.Join(string(f), fmt.Sprintf("%d-%d", os.Getpid(), i))}
		if _, err := os.Lstat(s.autosave()); err == nil {
			continue // of a program that had the same number before
		}
		s.lock = flock.New(s.name+lockName, flock.SetFlag(os.O_CREATE|os.O_EXCL|os.O_RDWR), flock.SetPermissions(0o600))
		err := s.lock.Lock()
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return nil, failed(string(f), err)
		}
		// Before it was locked someone may have swept it away as left behind.
		mine, err := s.lock.Stat()
		if err != nil {
			s.end()
			return nil, failed(string(f), err)
		}
		if there, err := os.Stat(s.lock.Path()); err != nil || !os.SameFile(mine, there) {
			_ = s.lock.Unlock() // it is on a file that nobody finds any more
			continue
		}
		f.sweep()
		return s, nil
	}
}

// sweep removes what programs that were killed left in the folder: locks without an
// autosave, and autosaves that were not written to their end. What cannot be removed
// harms nobody.
func (f folder) sweep() {
	names, _ := disk{}.List(string(f))
	living := map[string]bool{} // process numbers
	for _, n := range names {
		if base, ok := strings.CutSuffix(n, lockName); ok {
			name := filepath.Join(string(f), base)
			alive := left(name, func() bool {
				_, err := os.Lstat(name + extension)
				return errors.Is(err, fs.ErrNotExist)
			})
			if !alive {
				continue
			}
			pid, _, _ := strings.Cut(base, "-")
			living[pid] = true
		}
	}
	for _, n := range names {
		if rest, ok := strings.CutPrefix(n, partPrefix); ok {
			if pid, _, _ := strings.Cut(rest, "-"); !living[pid] {
				_ = os.Remove(filepath.Join(string(f), n))
			}
		}
	}
}

// left runs do, while nobody can begin a session of that name, if no program has it;
// otherwise the session is alive. Where do says that nothing is left, the lock goes.
func left(name string, do func() (over bool)) (alive bool) {
	lock := flock.New(name+lockName, flock.SetFlag(os.O_RDWR))
	got, err := lock.TryRLock()
	if !got && !errors.Is(err, fs.ErrNotExist) {
		return true
	}
	again := do() && os.Remove(lock.Path()) != nil // Windows removes nothing that is open
	_ = lock.Unlock()                              // what is left of it harms nobody, see sweep
	if again {
		_ = os.Remove(lock.Path())
	}
	return false
}

func (f folder) all() (found []autosave, bad Unreadable, err error) {
	names, err := disk{}.List(string(f))
	if err != nil {
		return nil, nil, err
	}
	for _, n := range names {
		base, ok := strings.CutSuffix(n, extension)
		if !ok {
			continue
		}
		a := autosave{name: filepath.Join(string(f), base)}
		file := a.name + extension
		data, info, err := readFile(file, mostAutosave)
		a.alive = left(a.name, func() bool {
			there, gone := os.Stat(file)
			if gone != nil || err == nil && !os.SameFile(info, there) {
				err = fs.ErrNotExist
			}
			return false
		})
		if errors.Is(err, fs.ErrNotExist) {
			continue // its program saved and ended in this moment
		}
		if err == nil {
			err = a.read(data)
		}
		switch {
		case err == nil:
			if a.kept.IsZero() {
				a.kept = info.ModTime()
			}
			found = append(found, a)
		case !a.alive:
			bad = append(bad, SetAside{File: file, Err: cause(err)})
		}
	}
	return found, bad, nil
}

func (f folder) leave(a autosave) (err error) {
	left(a.name, func() bool {
		err = disk{}.Remove(a.name + extension)
		return err == nil
	})
	return err
}

// setAside moves a file into a folder beside the autosaves, under a name that nothing
// has there.
func (f folder) setAside(file string) (to string, err error) {
	aside := filepath.Join(string(f), "unreadable")
	if err := (disk{}).Make(aside, true); err != nil {
		return "", err
	}
	for i := 0; ; i++ {
		to = filepath.Join(aside, fmt.Sprintf("%d-%s", i, filepath.Base(file)))
		if _, err := os.Lstat(to); errors.Is(err, fs.ErrNotExist) {
			return to, insist(func() error { return os.Rename(file, to) })
		}
	}
}
