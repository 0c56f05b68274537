package document

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"

	"twincord/scenes"
)

// A Saver writes once nothing was offered for a while, but never later than some time
// after the first offer that is not kept: nothing older than a second is ever lost,
// also while somebody pulls at a bead for minutes. What cannot be written is tried
// again.
const (
	afterLast  = 300 * time.Millisecond
	afterFirst = 800 * time.Millisecond
	tryAgain   = 2 * time.Second
)

// Autosave keeps the unsaved state of one document.
type Autosave interface {
	// Offer gives it a state of the document, at every change and once it is saved. It
	// never waits.
	Offer(Snapshot)
	// Flush waits until what was offered is kept, or says why it is not. It comes before
	// a document is saved: a program that ends between the two leaves nothing older.
	Flush() error
	// Err says why what was offered last is not kept, or nil where it is or is still to
	// be tried.
	Err() error
	// News gives something whenever what Err says may have changed.
	News() <-chan struct{}
	// Close flushes and ends. A state that is not saved stays, to be recovered at the
	// next start; what is offered afterwards gets a place of its own.
	Close() error
}

// Saver is the Autosave of a Store: it writes in the background. It is safe for use by
// several goroutines.
type Saver struct {
	store *Store
	news  chan struct{}
	wake  chan struct{} // the pace has changed

	mu      sync.Mutex
	tried   *sync.Cond // something was, or nothing is to be any more
	running bool
	offered *Snapshot // and not on the disk
	writing bool      // what was offered
	due     time.Time // when offered is to be written
	latest  time.Time // and when at the latest
	err     error

	// Of the running goroutine.
	slot   slot
	number int64
	kept   Snapshot // what the disk has
}

// NewSaver is a saver with a place of its own. It writes nothing before something
// unsaved is offered.
func (s *Store) NewSaver() *Saver {
	saver := &Saver{store: s, news: make(chan struct{}, 1), wake: make(chan struct{}, 1)}
	saver.tried = sync.NewCond(&saver.mu)
	return saver
}

// Offer has a snapshot written, or the autosave removed where nothing in it is
// unsaved. It never waits for the disk: of several offers the latest counts.
func (s *Saver) Offer(snap Snapshot) {
	s.mu.Lock()
	defer s.mu.Unlock()
	now := time.Now()
	if s.offered == nil {
		s.latest = now.Add(afterFirst)
	}
	s.offered, s.due = &snap, now.Add(afterLast)
	if s.due.After(s.latest) {
		s.due = s.latest
	}
	if !snap.Dirty {
		s.hurry()
	}
	if !s.running {
		s.running = true
		go s.run()
	}
}

// hurry has what was offered written at once.
func (s *Saver) hurry() {
	s.due = time.Time{}
	signal(s.wake)
}

// signal puts something into a channel, if there is nothing in it yet.
func signal(c chan<- struct{}) {
	select {
	case c <- struct{}{}:
	default:
	}
}

// Flush waits until what was offered is on the disk. It tries at once, and gives what
// Err does afterwards.
func (s *Saver) Flush() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.flush()
}

func (s *Saver) flush() error {
	for s.writing {
		s.tried.Wait()
	}
	if s.offered == nil {
		return s.err
	}
	s.hurry()
	for s.offered != nil && s.due.IsZero() || s.writing {
		s.tried.Wait()
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

// News gives something whenever what Err says may have changed.
func (s *Saver) News() <-chan struct{} { return s.news }

// Close waits like Flush and ends the saver. An autosave of what is not saved
// stays, to be recovered at the next start.
func (s *Saver) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	err := s.flush()
	s.offered, s.err = nil, nil
	signal(s.wake)
	for s.running {
		s.tried.Wait()
	}
	if s.slot != nil {
		s.slot.end()
		s.slot, s.kept = nil, Snapshot{}
	}
	return err
}

// run writes what is offered when it is due, until there is nothing more.
func (s *Saver) run() {
	s.mu.Lock()
	defer s.mu.Unlock()
	defer s.tried.Broadcast()
	for s.offered != nil {
		if wait := time.Until(s.due); wait > 0 {
			s.mu.Unlock()
			select {
			case <-time.After(wait):
			case <-s.wake:
			}
			s.mu.Lock()
			continue
		}
		snap := *s.offered
		s.offered, s.writing = nil, true
		s.mu.Unlock()
		err := s.keep(snap)
		s.mu.Lock()
		s.writing = false
		if err != nil || s.err != nil {
			signal(s.news)
		}
		s.err = err
		if err != nil && s.offered == nil {
			s.offered, s.latest = &snap, time.Now().Add(tryAgain)
			s.due = s.latest
		}
		s.tried.Broadcast()
	}
	s.running = false
}

// keep brings the disk to a snapshot.
func (s *Saver) keep(snap Snapshot) error {
	if snap == s.kept {
		return nil
	}
	if !snap.Dirty {
		if s.slot != nil {
			if err := s.slot.remove(); err != nil {
				return err
			}
		}
		s.kept = snap
		return nil
	}
	if s.slot == nil {
		slot, err := s.store.autosaves.begin()
		if err != nil {
			return err
		}
		s.slot = slot
		s.number = s.store.begun()
	}
	a := autosave{from: snap.From, kept: time.Now(), number: max(s.number, s.store.number()), of: fingerprint(snap.Saved)}
	if snap.Path != "" {
		var err error
		if a.path, err = filepath.Abs(snap.Path); err != nil {
			return err
		}
	}
	err := s.slot.write(func(w io.Writer) error {
		if err := a.head(w); err != nil {
			return err
		}
		return snap.Scene.Write(w)
	})
	if err == nil {
		s.kept = snap
	}
	return err
}

// An autosave is a scene file with three more lines at its top. The first says of which
// file it is the unsaved state. The second says what orders it among all that was
// edited, opened and saved: a number, since clocks are set back; then when it was
// kept, as the clock said; and of what contents of the file it is a change. The third
// says what it was begun from, since a built-in scene is told in the reader's language.
const (
	unsavedLine = "# unsaved: "
	orderLine   = "# number: "
	fromLine    = "# from: "
)

// originNames are the origins as the third line has them.
var originNames = map[scenes.Origin]string{scenes.New: "new", scenes.BuiltIn: "built-in", scenes.File: "file"}

// mostAutosave is the size of the largest autosave, in bytes: a scene and its three
// lines, with the longest of paths.
const mostAutosave = scenes.MaxSize + 1<<16

// autosave is an unsaved state as it is kept.
type autosave struct {
	path   string          // of the file that it is the unsaved state of, or empty
	from   scenes.Identity // what that was begun from; the zero value: not known
	number int64           // 0: not known
	kept   time.Time
	of     string // the fingerprint of what the file held; empty: not known
	data   []byte // the scene, as a file
	name   string // where it is kept, without the extension
	alive  bool   // its program runs
}

// head writes the three lines.
func (a *autosave) head(w io.Writer) error {
	_, err := fmt.Fprintf(w, "%s%q\n%s%d %s %q\n%s%s %q\n",
		unsavedLine, a.path, orderLine, a.number, a.kept.UTC().Format(time.RFC3339), a.of,
		fromLine, originNames[a.from.Origin], a.from.Name)
	return err
}

// read reads what an autosave holds. One without the second line or the third is of an
// earlier version.
func (a *autosave) read(data []byte) error {
	if len(data) > mostAutosave {
		return errors.New("it is larger than any autosave")
	}
	first, rest, _ := bytes.Cut(data, []byte("\n"))
	quoted, ok := strings.CutPrefix(string(first), unsavedLine)
	if !ok {
		return fmt.Errorf("its first line does not begin with %q", unsavedLine)
	}
	var err error
	if a.path, err = strconv.Unquote(quoted); err != nil {
		return errors.New("its first line gives no quoted path")
	}
	a.data = rest
	second, rest, _ := bytes.Cut(rest, []byte("\n"))
	order, ok := strings.CutPrefix(string(second), orderLine)
	if !ok {
		return nil
	}
	var when string
	if _, err := fmt.Sscanf(order, "%d %s %q", &a.number, &when, &a.of); err != nil {
		return fmt.Errorf("its second line does not give a number, a time and a fingerprint")
	}
	if a.kept, err = time.Parse(time.RFC3339, when); err != nil {
		return errors.New("its second line gives no time")
	}
	a.data = rest
	third, scene, _ := bytes.Cut(rest, []byte("\n"))
	from, ok := strings.CutPrefix(string(third), fromLine)
	if !ok {
		return nil
	}
	a.data = scene
	return a.readFrom(from)
}

// readFrom reads what the third line says.
func (a *autosave) readFrom(line string) error {
	origin, quoted, _ := strings.Cut(line, " ")
	name, err := strconv.Unquote(quoted)
	for o, is := range originNames {
		if err == nil && is == origin {
			a.from = scenes.Identity{Origin: o, Name: name}
			return nil
		}
	}
	return errors.New("its third line does not give where it is from and a quoted name")
}
