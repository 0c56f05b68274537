package document

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/fsnotify/fsnotify"

	"twincord/scenes"
)

// A change is reported once the folder has been quiet for a while, since programs
// write in several steps, but not put off for ever where it never is.
const (
	quiet   = 100 * time.Millisecond
	longest = time.Second
)

// Watcher says when a file holds something else than before, however it came to:
// written to, replaced, removed or made. Its folder must stay where it is.
type Watcher struct {
	C    <-chan struct{} // something after a change; several may be one
	fs   *fsnotify.Watcher
	over chan struct{}
}

// Watch watches a file, which need not exist; its folder must.
func Watch(path string) (*Watcher, error) {
	folders := []string{filepath.Dir(path)}
	if target, err := filepath.EvalSymlinks(path); err == nil {
		folders = append(folders, filepath.Dir(target))
	}
	return watch(folders, func() ([]byte, error) { return content(path) })
}

// watch watches folders for changes of what read gives.
func watch(folders []string, read func() ([]byte, error)) (*Watcher, error) {
	notify, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, fmt.Errorf("files cannot be watched: %w", cause(err))
	}
	for _, folder := range folders {
		if err := notify.Add(folder); err != nil { // twice the same is once
			_ = notify.Close() // nobody has heard of it yet
			return nil, fmt.Errorf("%s: cannot be watched: %w", folder, cause(err))
		}
	}
	changed := make(chan struct{}, 1)
	w := &Watcher{C: changed, fs: notify, over: make(chan struct{})}
	last, _ := digest(read)
	go w.run(changed, last, read)
	return w, nil
}

// Close ends the watch. Nothing is sent afterwards, and C is closed.
func (w *Watcher) Close() error {
	err := w.fs.Close()
	<-w.over
	return err
}

func (w *Watcher) run(changed chan<- struct{}, last [sha256.Size]byte, read func() ([]byte, error)) {
	defer close(w.over)
	defer close(changed)
	var since time.Time // when the first event came that was not looked into
	look := time.NewTimer(0)
	defer look.Stop()
	for {
		select {
		case _, ok := <-w.fs.Events:
			if !ok {
				return
			}
		case _, ok := <-w.fs.Errors: // some events are lost
			if !ok {
				return
			}
		case <-look.C:
			since = time.Time{}
			if now, ok := digest(read); ok && now != last {
				last = now
				select {
				case changed <- struct{}{}:
				default: // one that was not taken yet stands for both
				}
			}
			continue
		}
		if since.IsZero() {
			since = time.Now()
		}
		look.Reset(min(quiet, time.Until(since.Add(longest))))
	}
}

// digest tells contents apart; a file that is not there is like none that is. It
// is not ok where the contents cannot be told.
func digest(read func() ([]byte, error)) (sum [sha256.Size]byte, ok bool) {
	data, err := read()
	if err != nil {
		return sum, errors.Is(err, fs.ErrNotExist)
	}
	return sha256.Sum256(data), true
}

// content gives the bytes of a plain file, and no more than show that it is too
// large for a scene.
func content(path string) ([]byte, error) {
	data, _, err := disk{}.Read(path, scenes.MaxSize)
	return data, err
}

// shownKey is under which the store keeps which scene a window has open.
const shownKey = "shown"

// shown is an identity as the setting has it.
type shown struct{ Origin, Name string }

// Shows notes which scene a window has open, for who follows that; the zero value: none.
func (s *Store) Shows(id scenes.Identity) error {
	return s.Set(shownKey, shown{originNames[id.Origin], id.Name})
}

// shown is the scene that a window has open; the zero value where that is not known.
func (s *Store) shown() (id scenes.Identity) {
	var is shown
	_, _ = s.Setting(shownKey, &is) // what cannot be read is not known
	for origin, name := range originNames {
		if name == is.Origin {
			id = scenes.Identity{Origin: origin, Name: is.Name}
		}
	}
	return id
}

// Follower shows a scene that another process has open: its unsaved state while
// there is one, otherwise the scene as it was opened.
type Follower struct {
	*Watcher
	store *Store
	path  string
}

// Followed is what a Follower shows.
type Followed struct {
	Scene    *scenes.Scene
	Identity scenes.Identity // which scene it is
	Unsaved  bool            // it is an unsaved state
}

// Follow follows the scene in a file. Where path is empty it is whichever was changed
// last, also when another is opened, and while nothing is unsaved the one that was opened.
func (s *Store) Follow(path string) (*Follower, error) {
	if err := s.files.Make(s.autosaveFolder(), true); err != nil {
		return nil, failed(s.autosaveFolder(), err)
	}
	f := &Follower{store: s}
	folders := []string{s.autosaveFolder()}
	if path != "" {
		var err error
		if f.path, err = filepath.Abs(path); err != nil {
			return nil, err
		}
		folders = append(folders, filepath.Dir(f.path))
	} else {
		folders = append(folders, s.folders.State)
	}
	var err error
	f.Watcher, err = watch(folders, func() ([]byte, error) {
		data, _, err := f.read()
		return data, err
	})
	return f, err
}

// Scene gives the scene as it stands. The error is scenes.Faults where it is no good
// scene, and fs.ErrNotExist where there is neither an unsaved state nor a file.
func (f *Follower) Scene() (*Followed, error) {
	data, of, err := f.read()
	switch {
	case err != nil && f.path == "":
		return nil, fmt.Errorf("no scene is being edited: %w", err)
	case err != nil:
		return nil, fmt.Errorf("%s: cannot be read: %w", f.path, cause(err))
	}
	sc, err := scenes.Parse(of.Identity.Name, data)
	of.Scene = sc
	return &of, err
}

// read gives the newest unsaved state of a process that runs, else the file or what is
// open, and whose it is.
func (f *Follower) read() (data []byte, of Followed, err error) {
	found, _, _ := f.store.autosaves.all()
	slices.SortStableFunc(found, newestFirst)
	for _, a := range found {
		if a.alive && (f.path == "" || same(a.path, f.path)) {
			return a.data, Followed{Identity: identity(a.path, a.from), Unsaved: true}, nil
		}
	}
	if f.path == "" {
		return f.store.opened()
	}
	data, err = content(f.path)
	return data, Followed{Identity: identity(f.path, scenes.Identity{})}, err
}

// opened gives the scene that a window has open. The error is fs.ErrNotExist where there is
// none, or none that can be read.
func (s *Store) opened() (data []byte, of Followed, err error) {
	of.Identity = s.shown()
	switch of.Identity.Origin {
	case scenes.File:
		data, err = content(of.Identity.Name)
	case scenes.BuiltIn:
		data, err = scenes.Source(of.Identity.Name)
	default:
		err = fs.ErrNotExist
	}
	if err != nil {
		return nil, Followed{}, fs.ErrNotExist
	}
	return data, of, nil
}

// same says whether two paths are of one file, which need not be there where they are
// spelled alike.
func same(a, b string) bool {
	if a == b {
		return true
	}
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}
