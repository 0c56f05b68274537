package document

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"regexp"
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

// Store is where a user's scenes and settings are kept. Any number of programs
// may use one at once.
type Store struct {
	files     Files
	autosaves autosaves
	folders   Folders
}

// NewStore is a store in those folders of the disk, which are made when something is
// put there.
func NewStore(f Folders) *Store {
	s := &Store{files: disk{}, folders: f}
	s.autosaves = folder(s.autosaveFolder())
	return s
}

func (s *Store) autosaveFolder() string { return filepath.Join(s.folders.State, "autosave") }

// New is a document that has a copy of a scene, as it stands in the file of the store
// at path; path is empty for a scene that is built in or has not been saved.
func (s *Store) New(sc *scenes.Scene, path string) *Document { return begin(s.files, sc, path) }

// Open opens a scene file.
func (s *Store) Open(path string) (*Document, error) {
	sc, _, err := load(s.files, path)
	if err != nil {
		return nil, err
	}
	return s.New(sc, path), nil
}

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
	files, err := s.files.List(s.folders.Scenes)
	if err != nil {
		return nil, err
	}
	var items []Item
	for _, file := range files {
		name, ok := strings.CutSuffix(file, extension)
		if !ok || strings.HasPrefix(name, ".") || name == "" {
			continue
		}
		it := Item{Name: name, Path: filepath.Join(s.folders.Scenes, file)}
		data, changed, err := s.files.Read(it.Path, scenes.MaxSize)
		if err != nil {
			it.Err = fmt.Errorf("%s: cannot be read: %w", it.Path, cause(err))
		} else {
			it.Modified = changed
			it.Scene, it.Err = scenes.Parse(it.Path, data)
		}
		items = append(items, it)
	}
	slices.SortStableFunc(items, func(a, b Item) int {
		return cmp.Compare(Fold(a.Name), Fold(b.Name))
	})
	return items, nil
}

// Fold is a text in small letters without their marks, as names are sorted and found.
func Fold(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return unicode.ToLower(r)
	}, norm.NFD.String(text))
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

// devices are the names that Windows takes for devices, whatever extension follows
// (Microsoft, "Naming Files, Paths, and Namespaces"); the digits
// may be small raised ones.
var devices = regexp.MustCompile(`(?i)^(CON|PRN|AUX|NUL|CONIN\$|CONOUT\$|(COM|LPT)[1-9¹²³]) *(\.|$)`)

// reserved says whether Windows takes a name for a device.
func reserved(name string) bool { return devices.MatchString(name) }

// Save saves a document in the folder under a name. Where another file has that
// name already and over is false, the error is fs.ErrExist and nothing is written. Under
// the name that it has it is saved as Document.Save does.
func (s *Store) Save(d *Document, name string, over bool) error {
	path, err := s.File(name)
	if err != nil {
		return err
	}
	d.files = s.files
	own := same(path, d.Path())
	if !over && !own {
		switch _, _, err := s.files.Read(path, 0); {
		case errors.Is(err, fs.ErrNotExist):
		case err == nil || errors.Is(err, scenes.ErrNotPlain) || errors.Is(err, fs.ErrPermission):
			return fmt.Errorf("%s: %w", path, fs.ErrExist)
		default:
			return failed(path, err)
		}
	}
	if err := s.files.Make(s.folders.Scenes, false); err != nil {
		return failed(path, err)
	}
	if own && !over {
		return d.Save()
	}
	return d.SaveAs(path)
}

// use is something that a scene was used for last: the file that was opened or saved,
// or none where a scene was begun to be changed.
type use struct {
	path   string
	number int64 // grows from use to use; 0: of an earlier version
}

// usesFile is the file of the state in which uses are kept, the latest first, a line each:
// a quoted path, since one may have any bytes, and the number. settingsFile is that of the
// settings.
const (
	usesFile     = "recent"
	settingsFile = "settings.json"
)

// Recent gives the files that were opened or saved last, the latest first and at
// most 20, without those that are no longer there.
func (s *Store) Recent() ([]string, error) {
	data, err := s.state(usesFile)
	var paths []string
	for _, u := range uses(data) {
		if u.path == "" {
			continue
		}
		if _, _, err := s.files.Read(u.path, 0); !errors.Is(err, fs.ErrNotExist) {
			paths = append(paths, u.path)
		}
	}
	return paths, err
}

// Opened puts a file at the front of the recent ones: it was opened or saved.
func (s *Store) Opened(path string) error {
	path, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	_, err = s.use(path)
	return err
}

// use notes a use, and gives its number.
func (s *Store) use(path string) (number int64, err error) {
	err = s.change(usesFile, func(old []byte) ([]byte, error) {
		all := uses(old)
		number = latest(all) + 1
		all = slices.DeleteFunc(all, func(u use) bool { return u.path == path })
		all = append([]use{{path, number}}, all...)
		var b bytes.Buffer
		files := 0
		for _, u := range all {
			if u.path != "" {
				files++
			}
			if u.path == "" || files <= maxRecent {
				fmt.Fprintf(&b, "%q %d\n", u.path, u.number)
			}
		}
		return b.Bytes(), nil
	})
	return number, err
}

// begun notes that a scene begins to be changed, and gives the number of that. Where it
// cannot be noted, what was used last has that number too.
func (s *Store) begun() int64 {
	if number, err := s.use(""); err == nil {
		return number
	}
	return s.number()
}

// number is that of the last use.
func (s *Store) number() int64 {
	data, _ := s.state(usesFile)
	return latest(uses(data))
}

// lastOpened is the number with which a file was opened or saved last that is still there.
func (s *Store) lastOpened() int64 {
	data, _ := s.state(usesFile)
	for _, u := range uses(data) {
		if u.path == "" {
			continue
		}
		if _, _, err := s.files.Read(u.path, 0); err == nil {
			return u.number
		}
	}
	return 0
}

func latest(all []use) (number int64) {
	for _, u := range all {
		number = max(number, u.number)
	}
	return number
}

// uses reads the uses that are kept. A line without a number is of an earlier version.
func uses(data []byte) (all []use) {
	for line := range strings.Lines(string(data)) {
		quoted, err := strconv.QuotedPrefix(line)
		if err != nil {
			continue
		}
		path, _ := strconv.Unquote(quoted)
		number, _ := strconv.ParseInt(strings.TrimSpace(line[len(quoted):]), 10, 64)
		if !slices.ContainsFunc(all, func(u use) bool { return u.path == path }) {
			all = append(all, use{path, number})
		}
	}
	return all
}

// Setting puts what was last set under a key into the value that a pointer is to,
// and says whether there was anything. The value stays as it is where nothing was
// set or on an error.
func (s *Store) Setting(key string, value any) (set bool, err error) {
	data, err := s.state(settingsFile)
	if err != nil {
		return false, err
	}
	kept, err := s.settings(data)
	if err != nil || kept[key] == nil {
		return false, err
	}
	if err := json.Unmarshal(kept[key], value); err != nil {
		return false, fmt.Errorf("%s: %s: %w", s.stateFile(settingsFile), key, err)
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
	return s.change(settingsFile, func(old []byte) ([]byte, error) {
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
		return nil, fmt.Errorf("%s: %w", s.stateFile(settingsFile), err)
	}
	return kept, nil
}

func (s *Store) stateFile(name string) string { return filepath.Join(s.folders.State, name) }

// mostState is the size of the largest file of the state that is read, in bytes.
const mostState = 1 << 20

// state reads a file of the state; one that is not there is empty.
func (s *Store) state(name string) ([]byte, error) {
	data, _, err := s.files.Read(s.stateFile(name), mostState)
	if err == nil && len(data) > mostState {
		data, err = nil, fmt.Errorf("it is larger than %d bytes", mostState)
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: cannot be read: %w", s.stateFile(name), cause(err))
	}
	return data, nil
}

// change rewrites a file of the state from what it holds, one program at a time. What
// is too large to be read is begun anew, as what is damaged is.
func (s *Store) change(name string, to func(old []byte) ([]byte, error)) error {
	path := s.stateFile(name)
	if err := s.files.Make(s.folders.State, true); err != nil {
		return failed(path, err)
	}
	return s.files.Alone(path, func() error {
		old, _ := s.state(name)
		data, err := to(old)
		if err != nil {
			return failed(path, err)
		}
		return s.files.Write(path, func(w io.Writer) error {
			_, err := w.Write(data)
			return err
		})
	})
}
