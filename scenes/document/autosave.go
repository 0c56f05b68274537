package document

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"twincord/scenes"
)

// An autosave is a scene file with one more line at its top, which says of which
// file it is the unsaved state. Beside it lies a file that its process keeps
// locked, so that everyone can tell the autosave of a window that is open from
// one that was left behind.
const (
	unsavedLine = "# unsaved: "
	lockName    = ".lock"
)

func (s *Store) autosaves() string { return filepath.Join(s.folders.State, "autosave") }

// Saver keeps the unsaved state of one document on the disk, in the background.
// It is safe for use by several goroutines.
type Saver struct {
	folder string

	mu      sync.Mutex
	idle    *sync.Cond
	running bool
	offered *Snapshot // and not yet begun
	err     error

	session *session // of the running goroutine, as is kept
	kept    Snapshot // what the disk has
}

// NewSaver is a saver with an autosave of its own. It writes nothing before
// something unsaved is offered.
func (s *Store) NewSaver() *Saver {
	saver := &Saver{folder: s.autosaves()}
	saver.idle = sync.NewCond(&saver.mu)
	return saver
}

// Offer has a snapshot written, or the autosave removed where nothing in it is
// unsaved. It never waits for the disk: of several offers the latest counts. What
// could not be written is tried again with the next offer.
func (s *Saver) Offer(snap Snapshot) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.offered = &snap
	if !s.running {
		s.running = true
		go s.run()
	}
}

// Flush waits until what was offered is on the disk. It gives what Err does.
func (s *Saver) Flush() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	for s.running {
		s.idle.Wait()
	}
	return s.err
}

// Err says why the last snapshot that was tried is not on the disk, or nil. The
// autosave before it then still is.
func (s *Saver) Err() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.err
}

// Close waits like Flush and ends the saver. An autosave of what is not saved
// stays, to be recovered at the next start.
func (s *Saver) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	for s.running {
		s.idle.Wait()
	}
	if s.session != nil {
		s.session.end()
		s.session, s.kept = nil, Snapshot{}
	}
	return s.err
}

// run writes until nothing more is offered.
func (s *Saver) run() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for s.offered != nil {
		snap := *s.offered
		s.offered = nil
		s.mu.Unlock()
		err := s.keep(snap)
		s.mu.Lock()
		s.err = err
	}
	s.running = false
	s.idle.Broadcast()
}

// keep brings the disk to a snapshot.
func (s *Saver) keep(snap Snapshot) error {
	if snap == s.kept {
		return nil
	}
	if !snap.Dirty {
		if s.session != nil {
			if err := os.Remove(s.session.autosave()); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return fmt.Errorf("%s: cannot be removed: %w", s.session.autosave(), cause(err))
			}
		}
		s.kept = snap
		return nil
	}
	path := snap.Path
	if path != "" {
		var err error
		if path, err = filepath.Abs(path); err != nil {
			return err
		}
	}
	if s.session == nil {
		var err error
		if s.session, err = begin(s.folder); err != nil {
			return failed(s.folder, err)
		}
	}
	err := Replace(s.session.autosave(), func(w io.Writer) error {
		if _, err := fmt.Fprintf(w, "%s%q\n", unsavedLine, path); err != nil {
			return err
		}
		return snap.Scene.Write(w)
	})
	if err == nil {
		s.kept = snap
	}
	return err
}

// session is the time for which a saver has a name to itself in the folder of the
// autosaves.
type session struct {
	name string // the path of its files without their extensions
	lock *os.File
}

func (s *session) autosave() string { return s.name + extension }

// begin finds a name that nothing has yet, and clears away what dead processes
// left half-done.
func begin(folder string) (*session, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, err
	}
	for i := 0; ; i++ {
		s := &session{name: filepath.Join(folder, fmt.Sprintf("%d-%d", os.Getpid(), i))}
		if _, err := os.Lstat(s.autosave()); err == nil {
			continue // of a process that had the same number before
		}
		f, err := os.OpenFile(s.name+lockName, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o600)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		s.lock = f
		if err := lock(f); err != nil {
			s.end()
			return nil, err
		}
		// Before it was locked someone may have swept it away as left behind.
		mine, err := f.Stat()
		if err != nil {
			s.end()
			return nil, err
		}
		if there, err := os.Stat(f.Name()); err != nil || !os.SameFile(mine, there) {
			f.Close()
			continue
		}
		sweep(folder)
		return s, nil
	}
}

// end gives the name back. An autosave that is there becomes one left behind.
func (s *session) end() {
	err := os.Remove(s.lock.Name()) // while it is locked, so that it is nobody else's
	s.lock.Close()
	if err != nil { // Windows removes nothing that is open
		os.Remove(s.lock.Name())
	}
}

// sweep removes what processes that were killed left in the folder: locks without
// an autosave, and autosaves that were not written to their end. What cannot be
// removed harms nobody.
func sweep(folder string) {
	entries, _ := os.ReadDir(folder)
	living := map[string]bool{} // process numbers
	for _, e := range entries {
		if name, ok := strings.CutSuffix(e.Name(), lockName); ok {
			name := filepath.Join(folder, name)
			alive := left(name, func() {
				if _, err := os.Lstat(name + extension); errors.Is(err, fs.ErrNotExist) {
					os.Remove(name + lockName)
				}
			})
			if !alive {
				continue
			}
			pid, _, _ := strings.Cut(e.Name(), "-")
			living[pid] = true
		}
	}
	for _, e := range entries {
		if rest, ok := strings.CutPrefix(e.Name(), partPrefix); ok {
			if pid, _, _ := strings.Cut(rest, "-"); !living[pid] {
				os.Remove(filepath.Join(folder, e.Name()))
			}
		}
	}
}

// left runs do, while nobody can begin a session of that name, if no process has
// it; otherwise the session is alive.
func left(name string, do func()) (alive bool) {
	f, err := os.OpenFile(name+lockName, os.O_RDWR, 0)
	if err == nil {
		defer f.Close()
		if held, err := locked(f); held || err != nil {
			return true
		}
	} else if !errors.Is(err, fs.ErrNotExist) {
		return true
	}
	do()
	return false
}

// autosave is one of the folder as it was read.
type autosave struct {
	path     string // of the file that it is the unsaved state of, or empty
	modified time.Time
	data     []byte // the scene, as a file
	name     string // of its session
	alive    bool   // its process runs
}

// readAutosaves gives the autosaves of a folder, the newest first. What cannot be
// read is in the error; the others are given nevertheless.
func readAutosaves(folder string) ([]autosave, error) {
	entries, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: cannot be read: %w", folder, cause(err))
	}
	var found []autosave
	var bad []error
	for _, e := range entries {
		name, ok := strings.CutSuffix(e.Name(), extension)
		if !ok {
			continue
		}
		file := filepath.Join(folder, e.Name())
		a := autosave{name: filepath.Join(folder, name)}
		info, data, err := readWhole(file)
		a.alive = left(a.name, func() {
			there, gone := os.Stat(file)
			if gone != nil || err == nil && !os.SameFile(info, there) {
				err = fs.ErrNotExist
			}
		})
		if errors.Is(err, fs.ErrNotExist) {
			continue // its process saved and ended in this moment
		}
		if err == nil {
			a.modified = info.ModTime()
			a.path, a.data, err = parted(data)
		}
		if err != nil {
			bad = append(bad, fmt.Errorf("%s: cannot be read: %w", file, cause(err)))
			continue
		}
		found = append(found, a)
	}
	slices.SortStableFunc(found, func(a, b autosave) int { return b.modified.Compare(a.modified) })
	return found, errors.Join(bad...)
}

// readWhole reads a file, and says which.
func readWhole(path string) (info fs.FileInfo, data []byte, err error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, err
	}
	defer f.Close()
	if info, err = f.Stat(); err != nil {
		return nil, nil, err
	}
	data, err = io.ReadAll(f)
	return info, data, err
}

// parted splits an autosave into the path that its first line gives, and the
// scene.
func parted(data []byte) (path string, scene []byte, err error) {
	first, rest, _ := bytes.Cut(data, []byte("\n"))
	quoted, ok := strings.CutPrefix(string(first), unsavedLine)
	if !ok {
		return "", nil, fmt.Errorf("its first line does not begin with %q", unsavedLine)
	}
	if path, err = strconv.Unquote(quoted); err != nil {
		return "", nil, errors.New("its first line gives no quoted path")
	}
	return path, rest, nil
}

// Recovered is an unsaved state that a process left behind: it was killed, the
// power failed, or its window was closed.
type Recovered struct {
	Path     string // of the file that it is the unsaved state of, or empty
	Modified time.Time
	Scene    *scenes.Scene
	name     string
}

// Recover gives the unsaved states whose processes are gone, the newest first, and
// removes those that their files hold by now. What cannot be read is in the error
// and stays where it is; the others are given nevertheless.
func (s *Store) Recover() ([]Recovered, error) {
	found, err := readAutosaves(s.autosaves())
	var rs []Recovered
	for _, a := range found {
		if a.alive {
			continue
		}
		sc, bad := scenes.Parse(a.name+extension, a.data)
		if bad != nil {
			err = errors.Join(err, bad)
			continue
		}
		r := Recovered{a.path, a.modified, sc, a.name}
		if r.Document().Dirty() {
			rs = append(rs, r)
		} else if bad := r.Discard(); bad != nil {
			err = errors.Join(err, bad)
		}
	}
	return rs, err
}

// Document opens the unsaved state. Its first step goes from what the file holds
// to it, where there is a file that can be read.
func (r *Recovered) Document() *Document {
	if r.Path != "" {
		if sc, err := scenes.Load(r.Path); err == nil {
			d := New(sc, r.Path)
			d.Edit("", func(now *scenes.Scene) { *now = *clone(r.Scene) })
			return d
		}
	}
	d := New(r.Scene, r.Path)
	d.saved = nil
	return d
}

// Discard removes the unsaved state from the disk. A document that was made of it
// should have been offered to a Saver and flushed before.
func (r *Recovered) Discard() error {
	var err error
	left(r.name, func() {
		if err = os.Remove(r.name + extension); err == nil || errors.Is(err, fs.ErrNotExist) {
			os.Remove(r.name + lockName)
			err = nil
		}
	})
	if err != nil {
		return fmt.Errorf("%s: cannot be removed: %w", r.name+extension, cause(err))
	}
	return nil
}
