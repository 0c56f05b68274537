package document

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"twincord/scenes"
)

// maxRecent is how many recent files are kept.
const maxRecent = 20

// maxName is the length of the longest name of a scene, in bytes of UTF-8; no file
// system in use takes less than 255 with the extension.
const maxName = 200

// extension is that of scene files.
const extension = ".toml"

// ErrName says that a name cannot be made into that of a file.
var ErrName = errors.New("not a name for a scene; allowed is text of 1 to 200 bytes, not only dots and hyphens")

// Store is where a user's scenes and settings are kept. Any number of processes
// may use one at once.
type Store struct{ folders Folders }

// NewStore is a store in those folders, which are made when something is put
// there.
func NewStore(f Folders) *Store { return &Store{f} }

// Folder is the folder of the scenes.
func (s *Store) Folder() string { return s.folders.Scenes }

// Item is a scene file of the folder.
type Item struct {
	Name     string // of the file, without the extension
	Path     string
	Modified time.Time
	Scene    *scenes.Scene // nil where Err is not
	Err      error         // why it cannot be opened; scenes.Faults where it is no good scene
}

// Scenes gives the scene files of the folder by name, bad ones with what is wrong.
// A folder that is not there has none.
func (s *Store) Scenes() ([]Item, error) {
	entries, err := os.ReadDir(s.folders.Scenes)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: cannot be read: %w", s.folders.Scenes, cause(err))
	}
	var items []Item
	for _, e := range entries {
		name, ok := strings.CutSuffix(e.Name(), extension)
		if !ok || strings.HasPrefix(name, ".") || name == "" || e.IsDir() {
			continue
		}
		it := Item{Name: name, Path: filepath.Join(s.folders.Scenes, e.Name())}
		info, err := os.Stat(it.Path)
		switch {
		case err != nil:
			it.Err = fmt.Errorf("%s: cannot be read: %w", it.Path, cause(err))
		case !info.Mode().IsRegular():
			it.Err = fmt.Errorf("%s: is not a plain file", it.Path)
		default:
			it.Modified = info.ModTime()
			it.Scene, it.Err = scenes.Load(it.Path)
		}
		items = append(items, it)
	}
	slices.SortStableFunc(items, func(a, b Item) int {
		return cmp.Compare(sortedAs(a.Name), sortedAs(b.Name))
	})
	return items, nil
}

// sortedAs is a name in small letters without their marks.
func sortedAs(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return unicode.ToLower(r)
	}, norm.NFD.String(name))
}

// File gives the path in the folder for a scene of that name: characters that some
// system has no place for in a name become hyphens. The error is ErrName.
func (s *Store) File(name string) (path string, err error) {
	name = strings.TrimSuffix(norm.NFC.String(strings.TrimSpace(name)), extension)
	name = strings.Map(func(r rune) rune {
		const joiner, nonJoiner = 0x200D, 0x200C // they spell words and compose signs
		plain := unicode.IsPrint(r) && r != utf8.RuneError && !strings.ContainsRune(`/\:*?"<>|`, r)
		if !plain && r != joiner && r != nonJoiner {
			return '-'
		}
		return r
	}, name)
	name = strings.Trim(name, " .")
	if reserved(name) {
		name += "-"
	}
	if len(name) > maxName || strings.Trim(name, "-. ") == "" {
		return "", ErrName
	}
	return filepath.Join(s.folders.Scenes, name+extension), nil
}

// reserved says whether Windows takes a name for a device.
func reserved(name string) bool {
	name, _, _ = strings.Cut(strings.ToUpper(name), ".")
	name = strings.TrimRight(name, " ")
	switch {
	case name == "CON" || name == "PRN" || name == "AUX" || name == "NUL":
		return true
	case strings.HasPrefix(name, "COM") || strings.HasPrefix(name, "LPT"):
		return len(name) == 4 && name[3] >= '1' && name[3] <= '9'
	}
	return false
}

// Save saves a document in the folder under a name. Where another file has that
// name already and over is false, the error is fs.ErrExist and nothing is written.
func (s *Store) Save(d *Document, name string, over bool) error {
	path, err := s.File(name)
	if err != nil {
		return err
	}
	if !over && !same(path, d.Path()) {
		switch _, err := os.Lstat(path); {
		case err == nil:
			return fmt.Errorf("%s: %w", path, fs.ErrExist)
		case !errors.Is(err, fs.ErrNotExist):
			return failed(path, err)
		}
	}
	if err := os.MkdirAll(s.folders.Scenes, 0o777); err != nil {
		return failed(s.folders.Scenes, err)
	}
	return d.SaveAs(path)
}

// Recent gives the files that were opened or saved last, the latest first and at
// most 20, without those that are no longer there.
func (s *Store) Recent() ([]string, error) {
	data, err := s.state("recent")
	return recent(data), err
}

// Opened puts a file at the front of the recent ones.
func (s *Store) Opened(path string) error {
	path, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	return s.change("recent", func(old []byte) ([]byte, error) {
		paths := slices.DeleteFunc(recent(old), func(p string) bool { return p == path })
		paths = append([]string{path}, paths...)
		var b bytes.Buffer
		for _, p := range paths[:min(len(paths), maxRecent)] {
			b.WriteString(strconv.Quote(p) + "\n") // a path may have any bytes
		}
		return b.Bytes(), nil
	})
}

// recent reads a list of files, a quoted path a line, without those that are gone.
func recent(data []byte) []string {
	var paths []string
	for line := range strings.Lines(string(data)) {
		path, err := strconv.Unquote(strings.TrimSpace(line))
		if err != nil || slices.Contains(paths, path) {
			continue
		}
		if _, err := os.Stat(path); err == nil {
			paths = append(paths, path)
		}
	}
	return paths
}

// Setting puts what was last set under a key into the value that a pointer is to,
// and says whether there was anything. The value stays as it is where nothing was
// set or on an error.
func (s *Store) Setting(key string, value any) (set bool, err error) {
	data, err := s.state("settings.json")
	if err != nil {
		return false, err
	}
	kept, err := s.settings(data)
	if err != nil || kept[key] == nil {
		return false, err
	}
	if err := json.Unmarshal(kept[key], value); err != nil {
		return false, fmt.Errorf("%s: %s: %w", s.stateFile("settings.json"), key, err)
	}
	return true, nil
}

// Set keeps a setting: anything that JSON can hold. The others stay as they are,
// also those that another process sets. A file of settings that is damaged is
// begun anew.
func (s *Store) Set(key string, value any) error {
	text, err := json.Marshal(value)
	if err != nil {
		return fmt.Errorf("the setting %s: %w", key, err)
	}
	return s.change("settings.json", func(old []byte) ([]byte, error) {
		kept, _ := s.settings(old)
		if kept == nil {
			kept = map[string]json.RawMessage{}
		}
		kept[key] = text
		out, err := json.MarshalIndent(kept, "", "\t")
		return append(out, '\n'), err
	})
}

func (s *Store) settings(data []byte) (kept map[string]json.RawMessage, err error) {
	if len(data) == 0 {
		return nil, nil
	}
	if err := json.Unmarshal(data, &kept); err != nil {
		return nil, fmt.Errorf("%s: %w", s.stateFile("settings.json"), err)
	}
	return kept, nil
}

func (s *Store) stateFile(name string) string { return filepath.Join(s.folders.State, name) }

// state reads a file of the state; one that is not there is empty.
func (s *Store) state(name string) ([]byte, error) {
	data, err := os.ReadFile(s.stateFile(name))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: cannot be read: %w", s.stateFile(name), cause(err))
	}
	return data, nil
}

// change rewrites a file of the state from what it holds, one process at a time.
func (s *Store) change(name string, to func(old []byte) ([]byte, error)) error {
	path := s.stateFile(name)
	if err := os.MkdirAll(s.folders.State, 0o700); err != nil {
		return failed(path, err)
	}
	turn, err := os.OpenFile(path+".lock", os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return failed(path, err)
	}
	defer turn.Close() // which gives the lock back
	if err := lock(turn); err != nil {
		return failed(path, err)
	}
	old, err := s.state(name)
	if err != nil {
		return err
	}
	data, err := to(old)
	if err != nil {
		return failed(path, err)
	}
	return Replace(path, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}
