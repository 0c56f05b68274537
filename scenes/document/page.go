package document

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// Kept is what a browser keeps for a page: texts by key, as its local storage has
// them.
type Kept interface {
	Get(key string) (value string, ok bool)
	// Set fails with ErrFull where the browser allows the page no more.
	Set(key, value string) error
	Remove(key string)
	Keys() []string
}

// ErrFull is the error of a Kept that takes no more.
var ErrFull = errors.New("the browser keeps no more for this page")

// NewPageStore is a store in what a browser keeps for a page. The page is one
// program: two tabs of it see each other's unsaved states as left behind, which loses
// nothing, since each writes its own again with its next change.
func NewPageStore(kept Kept) *Store {
	files := page{kept}
	s := &Store{files: files, folders: Folders{Scenes: "scenes", State: "state"}}
	s.autosaves = &pageAutosaves{files: files, folder: s.autosaveFolder(), begun: map[string]bool{}}
	return s
}

// page is the files of a page. Each is a text under its path: when it was written, in
// milliseconds, and on the next line what it holds.
type page struct{ kept Kept }

func (p page) Read(path string, most int) ([]byte, time.Time, error) {
	text, ok := p.kept.Get(path)
	if !ok {
		return nil, time.Time{}, fs.ErrNotExist
	}
	when, data, _ := strings.Cut(text, "\n")
	ms, err := strconv.ParseInt(when, 10, 64)
	if err != nil {
		return nil, time.Time{}, errors.New("it is not of this page")
	}
	return []byte(data[:min(len(data), most+1)]), time.UnixMilli(ms), nil
}

func (p page) Write(path string, write func(io.Writer) error) error {
	var b bytes.Buffer
	fmt.Fprintln(&b, time.Now().UnixMilli())
	err := write(&b)
	if err == nil {
		err = p.kept.Set(path, b.String())
	}
	if err != nil {
		return failed(path, err)
	}
	return nil
}

func (p page) Remove(path string) error {
	p.kept.Remove(path)
	return nil
}

func (p page) List(folder string) (names []string, err error) {
	for _, key := range p.kept.Keys() {
		if filepath.Dir(key) == folder {
			names = append(names, filepath.Base(key))
		}
	}
	slices.Sort(names)
	return names, nil
}

func (page) Make(string, bool) error { return nil }

func (page) Alone(_ string, do func() error) error { return do() }

// pageAutosaves are the autosaves of a page.
type pageAutosaves struct {
	files  page
	folder string

	mu    sync.Mutex
	begun map[string]bool // the names in use since the page was opened
}

// pageSlot is a slot of a page.
type pageSlot struct {
	all  *pageAutosaves
	name string
}

func (p *pageAutosaves) begin() (slot, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for i := 0; ; i++ {
		name := filepath.Join(p.folder, strconv.Itoa(i))
		if _, there := p.files.kept.Get(name + extension); !there && !p.begun[name] {
			p.begun[name] = true
			return pageSlot{p, name}, nil
		}
	}
}

func (s pageSlot) write(write func(io.Writer) error) error {
	return s.all.files.Write(s.name+extension, write)
}

func (s pageSlot) remove() error { return s.all.files.Remove(s.name + extension) }

func (s pageSlot) end() {
	s.all.mu.Lock()
	defer s.all.mu.Unlock()
	delete(s.all.begun, s.name)
}

func (p *pageAutosaves) all() (found []autosave, bad Unreadable, err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	names, err := p.files.List(p.folder)
	for _, n := range names {
		a := autosave{name: filepath.Join(p.folder, strings.TrimSuffix(n, extension))}
		a.alive = p.begun[a.name]
		data, when, err := p.files.Read(a.name+extension, mostAutosave)
		if err == nil {
			err = a.read(data)
		}
		switch {
		case err == nil:
			if a.kept.IsZero() {
				a.kept = when
			}
			found = append(found, a)
		case !a.alive:
			bad = append(bad, SetAside{File: a.name + extension, Err: err})
		}
	}
	return found, bad, err
}

func (p *pageAutosaves) leave(a autosave) error { return p.files.Remove(a.name + extension) }

func (p *pageAutosaves) setAside(file string) (to string, err error) {
	text, _ := p.files.kept.Get(file)
	to = filepath.Join(p.folder, "unreadable", filepath.Base(file))
	if err := p.files.kept.Set(to, text); err != nil {
		return "", err
	}
	return to, p.files.Remove(file)
}
