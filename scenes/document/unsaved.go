package document

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"twincord/scenes"
)

// Recovered is a state of a scene that was not saved when its program ended.
type Recovered struct {
	Path    string          // of the file that it is the unsaved state of, or empty
	From    scenes.Identity // what it was begun from; the zero value: not known
	Kept    time.Time       // when, as the clock then said
	Scene   *scenes.Scene
	Changed bool // the file has been changed since, and no longer holds what was edited

	store *Store
	from  autosave
}

// SetAside is an unsaved state that cannot be read.
type SetAside struct {
	File string // where it now is
	Err  error
}

func (s SetAside) Error() string { return fmt.Sprintf("%s: cannot be read: %v", s.File, s.Err) }

func (s SetAside) Unwrap() error { return s.Err }

// Unreadable is all unsaved states that cannot be read. They were set aside in a
// folder of their own, so that this is said once.
type Unreadable []SetAside

// Error gives one line for each.
func (u Unreadable) Error() string {
	lines := make([]string, len(u))
	for i, s := range u {
		lines[i] = s.Error()
	}
	return strings.Join(lines, "\n")
}

func (u Unreadable) Unwrap() []error {
	errs := make([]error, len(u))
	for i, s := range u {
		errs[i] = s
	}
	return errs
}

// Recover gives the unsaved states whose programs are gone, the last kept first
// whatever the clock was then, and removes those that their files hold by now. What
// cannot be read is set aside and is in the error, Unreadable; the others are given
// nevertheless.
func (s *Store) Recover() ([]Recovered, error) {
	found, bad, err := s.autosaves.all()
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(found, newestFirst)
	var rs []Recovered
	var errs []error
	for _, a := range found {
		if a.alive {
			continue
		}
		sc, err := scenes.Parse(a.name+extension, a.data)
		if err != nil {
			bad = append(bad, SetAside{a.name + extension, err})
			continue
		}
		r := Recovered{Path: a.path, From: a.from, Kept: a.kept, Scene: sc, store: s, from: a}
		r.Changed = r.changed()
		if r.Document().Dirty() {
			rs = append(rs, r)
		} else if err := r.Discard(); err != nil {
			errs = append(errs, err)
		}
	}
	for i := range bad {
		if to, err := s.autosaves.setAside(bad[i].File); err == nil {
			bad[i].File = to
		}
	}
	if len(bad) > 0 {
		errs = append(errs, bad)
	}
	return rs, errors.Join(errs...)
}

// newestFirst orders autosaves by their numbers; the clock decides only between those
// of windows that were open at once.
func newestFirst(a, b autosave) int {
	return cmp.Or(cmp.Compare(b.number, a.number), b.kept.Compare(a.kept), cmp.Compare(a.name, b.name))
}

// Start says which unsaved state a start goes on with, if any, and which others wait.
// With a path that is the last state of that file, without one the last of all; but
// never one of a file that holds something else by now, and without a path never one
// that is older than what was opened or saved since. The error is Recover's.
func (s *Store) Start(path string) (goOn *Recovered, waiting []Recovered, err error) {
	all, err := s.Recover()
	for _, r := range all {
		ours := same(r.Path, path)
		if path == "" {
			ours = r.from.number >= s.lastOpened()
		}
		if goOn == nil && ours && !r.Changed {
			goOn = &r
		} else {
			waiting = append(waiting, r)
		}
	}
	return goOn, waiting, err
}

// Identity says which scene it is: its file, else what it was begun from.
func (r *Recovered) Identity() scenes.Identity { return identity(r.Path, r.From) }

// changed says whether the file is there and holds something else than when the state
// was begun.
func (r *Recovered) changed() bool {
	if r.Path == "" || r.from.of == "" {
		return false
	}
	sc, there, err := load(r.store.files, r.Path)
	return there && (err != nil || fingerprint(sc) != r.from.of)
}

// Document opens the unsaved state. Its first step goes from what the file holds
// to it, where there is a file that can be read.
func (r *Recovered) Document() *Document {
	if r.Path != "" {
		if sc, _, err := load(r.store.files, r.Path); err == nil {
			d := r.store.New(sc, r.Path).From(r.From)
			d.Edit("", func(now *scenes.Scene) { *now = *clone(r.Scene) })
			if r.Changed && d.Dirty() {
				d.saved = nil // saving asks first
			}
			return d
		}
	}
	d := r.store.New(r.Scene, r.Path).From(r.From)
	d.saved = nil
	return d
}

// Discard removes the unsaved state. A document that was made of it should have been
// offered to a Saver and flushed before.
func (r *Recovered) Discard() error { return r.store.autosaves.leave(r.from) }

// fingerprint tells scenes apart by their files; nil, and what no file may hold, has
// none.
func fingerprint(sc *scenes.Scene) string {
	if sc == nil {
		return ""
	}
	sum := sha256.New()
	if err := sc.Write(sum); err != nil {
		return ""
	}
	return hex.EncodeToString(sum.Sum(nil))
}
