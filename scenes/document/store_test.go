package document

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	"github.com/adrg/xdg"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
)

// storeIn is a store that has its own folder for everything.
func storeIn(folder string) *Store {
	return NewStore(Folders{Scenes: filepath.Join(folder, "scenes"), State: filepath.Join(folder, "state")})
}

// XDG Base Directory Specification 0.8, and the form of user-dirs.dirs as
// xdg-user-dirs documents it.
func TestFolders(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("other systems have other folders")
	}
	none := map[string]string{}
	tests := []struct {
		name      string
		make      []string // folders below home
		userDirs  string
		env       map[string]string
		documents string // where scenes are, below home or absolute
		state     string
	}{
		{"nothing", nil, "", none, ".local/share/twincord", ".local/state/twincord"},
		{"Documents", []string{"Documents"}, "", none, "Documents/twincord", ".local/state/twincord"},
		{"in Spanish", []string{"Documents", "Documentos"}, "# a comment\nXDG_MUSIC_DIR=\"$HOME/x\"\nXDG_DOCUMENTS_DIR=\"$HOME/Documentos\"\n",
			none, "Documentos/twincord", ".local/state/twincord"},
		{"not there", nil, `XDG_DOCUMENTS_DIR="$HOME/Documentos"`, none, ".local/share/twincord", ".local/state/twincord"},
		{"switched off", []string{"Documents"}, `XDG_DOCUMENTS_DIR="$HOME/"`, none, ".local/share/twincord", ".local/state/twincord"},
		{"relative", []string{"Documents"}, "", map[string]string{"XDG_DOCUMENTS_DIR": "x"}, "Documents/twincord", ".local/state/twincord"},
		{"bases", nil, "", map[string]string{"XDG_DATA_HOME": "/data", "XDG_STATE_HOME": "/state"}, "/data/twincord", "/state/twincord"},
		{"relative bases", nil, "", map[string]string{"XDG_DATA_HOME": "data", "XDG_STATE_HOME": "./state"}, ".local/share/twincord", ".local/state/twincord"},
		{"one for both", nil, "", map[string]string{"XDG_DATA_HOME": "/one", "XDG_STATE_HOME": "/one"}, "/one/twincord/scenes", "/one/twincord"},
	}
	t.Cleanup(xdg.Reload)
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			home := temp(t)
			t.Setenv("HOME", home)
			for _, name := range []string{"XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CONFIG_HOME", "XDG_DOCUMENTS_DIR"} {
				t.Setenv(name, test.env[name])
			}
			for _, dir := range append(test.make, ".config") {
				require.NoError(t, os.MkdirAll(filepath.Join(home, dir), 0o700))
			}
			if test.userDirs != "" {
				require.NoError(t, os.WriteFile(filepath.Join(home, ".config", "user-dirs.dirs"), []byte(test.userDirs), 0o600))
			}
			xdg.Reload()
			under := func(path string) string {
				if filepath.IsAbs(path) {
					return path
				}
				return filepath.Join(home, path)
			}
			got, err := UserFolders()
			require.NoError(t, err)
			assert.Equal(t, Folders{under(test.documents), under(test.state)}, got)
		})
	}
}

func TestScenesOfFolder(t *testing.T) {
	unixOnly(t)
	s := storeIn(temp(t))
	items, err := s.Scenes()
	require.NoError(t, err)
	assert.Empty(t, items, "no folder yet")

	for _, name := range []string{"b", "Á propos", "a"} {
		d := New(begun(t), "")
		d.Edit("", titled("Scene "+name))
		require.NoError(t, s.Save(d, name, false))
	}
	write := func(name, text string) {
		require.NoError(t, os.WriteFile(filepath.Join(s.Folder(), name), []byte(text), 0o600))
	}
	write("C broken.toml", "format = 1\nfoo = 2\n")
	write("notes.txt", "not a scene")
	write(".hidden.toml", "not shown")
	write(".toml", "not shown")
	require.NoError(t, os.Symlink("nowhere", filepath.Join(s.Folder(), "dangling.toml")))
	require.NoError(t, os.Mkdir(filepath.Join(s.Folder(), "folder.toml"), 0o700))

	items, err = s.Scenes()
	require.NoError(t, err)
	var names []string
	for _, it := range items {
		names = append(names, it.Name)
		assert.Equal(t, filepath.Join(s.Folder(), it.Name+".toml"), it.Path)
		assert.Equal(t, it.Err == nil, it.Scene != nil)
		if it.Err == nil {
			assert.Equal(t, "Scene "+it.Name, it.Scene.Title)
			assert.False(t, it.Modified.IsZero())
		}
	}
	require.Equal(t, []string{"a", "Á propos", "b", "C broken", "dangling"}, names)
	assert.ErrorAs(t, items[3].Err, new(scenes.Faults))
	assert.ErrorIs(t, items[4].Err, fs.ErrNotExist)
}

func TestNames(t *testing.T) {
	s := NewStore(Folders{Scenes: "/s"})
	for name, want := range map[string]string{
		"Middle of three":          "Middle of three",
		"  padded. ":               "padded",
		"with.toml":                "with",
		"../../etc/passwd":         "-..-etc-passwd",
		`a/b\c:d*e?f"g<h>i|j`:      "a-b-c-d-e-f-g-h-i-j",
		"line\nbreak\tand\x00zero": "line-break-and-zero",
		".hidden":                  "hidden",
		"CON":                      "CON-",
		"nul.txt":                  "nul.txt-",
		"com1":                     "com1-",
		"com0":                     "com0",
		"LPT²":                     "LPT²-",
		"conout$":                  "conout$-",
		"aux .b":                   "aux .b-",
		"consul":                   "consul",
		"niño 7 años":              "niño 7 años",
		"nin\u0303o":               "niño", // one spelling, however it was typed
		"日本語 👓":                    "日本語 👓",
		"שלום":                     "שלום",
		"می\u200cخواهم":            "می\u200cخواهم",
		"evil\u202egnp.exe":        "evil-gnp.exe", // would turn round what is read
		"bad\xff\xfebytes":         "bad--bytes",
		strings.Repeat("n", 200):   strings.Repeat("n", 200),
	} {
		path, err := s.File(name)
		if assert.NoError(t, err, "%q", name) {
			assert.Equal(t, filepath.Join("/s", want+".toml"), path, "%q", name)
		}
	}
	for _, name := range []string{"", " ", ".", "..", "/", ".toml", "\x00", "- -", strings.Repeat("n", 201), strings.Repeat("é", 101)} {
		_, err := s.File(name)
		assert.ErrorIs(t, err, ErrName, "%q", name)
		assert.ErrorIs(t, s.Save(New(begun(t), ""), name, true), ErrName, "%q", name)
	}
}

// Nothing is overwritten by accident.
func TestSaveUnderName(t *testing.T) {
	s := storeIn(temp(t))
	mine, theirs := New(begun(t), ""), New(begun(t), "")
	theirs.Edit("", titled("theirs"))
	require.NoError(t, s.Save(theirs, "scene", false))
	path := theirs.Path()

	err := s.Save(mine, "scene", false)
	require.ErrorIs(t, err, fs.ErrExist)
	assert.EqualError(t, err, path+": file already exists")
	assert.Empty(t, mine.Path())
	sc, err := scenes.Load(path)
	require.NoError(t, err)
	assert.Equal(t, "theirs", sc.Title)

	theirs.Edit("", titled("again"))
	require.NoError(t, s.Save(theirs, "scene", false), "its own file")
	require.NoError(t, s.Save(mine, "scene", true), "when told to")
	sc, err = scenes.Load(path)
	require.NoError(t, err)
	assert.Equal(t, begun(t).Title, sc.Title)
}

// A file where a folder should be is an error that names it.
func TestNoFolder(t *testing.T) {
	unixOnly(t)
	folder := temp(t)
	file := filepath.Join(folder, "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	s := NewStore(Folders{Scenes: file, State: file})
	d := New(begun(t), "")
	assert.EqualError(t, s.Save(d, "a", false), filepath.Join(file, "a.toml")+": cannot be written: not a directory")
	_, err := s.Scenes()
	assert.EqualError(t, err, file+": cannot be read: not a directory")
	assert.EqualError(t, s.Set("a", 1), filepath.Join(file, "settings.json")+": cannot be written: not a directory")
	assert.EqualError(t, s.Opened(file), filepath.Join(file, "recent")+": cannot be written: not a directory")
	_, err = s.Setting("a", new(int))
	assert.EqualError(t, err, filepath.Join(file, "settings.json")+": cannot be read: not a directory")
	_, err = s.Follow("")
	assert.EqualError(t, err, filepath.Join(file, "autosave")+": cannot be written: not a directory")
	saver := s.NewSaver()
	saver.Offer(Snapshot{Scene: begun(t), Dirty: true})
	assert.EqualError(t, saver.Flush(), filepath.Join(file, "autosave")+": cannot be written: not a directory")
	holds(t, folder, map[string]string{"file": ""})
}

func TestRecent(t *testing.T) {
	unixOnly(t)
	folder := temp(t)
	s := storeIn(folder)
	paths, err := s.Recent()
	require.NoError(t, err)
	assert.Empty(t, paths)

	names := []string{"line\nbreak", `quo"te`, "bad\xff"}
	for i := range maxRecent {
		names = append(names, fmt.Sprint(i))
	}
	var want []string
	for _, name := range names {
		path := filepath.Join(folder, name)
		require.NoError(t, os.WriteFile(path, nil, 0o600))
		want = append([]string{path}, want...)
		require.NoError(t, s.Opened(path))
	}
	paths, err = s.Recent()
	require.NoError(t, err)
	assert.Equal(t, want[:maxRecent], paths)

	require.NoError(t, s.Opened(want[5]))
	require.NoError(t, os.Remove(want[1]))
	paths, err = s.Recent()
	require.NoError(t, err)
	assert.Equal(t, append([]string{want[5], want[0], want[2]}, want[3:5]...), paths[:5])
	assert.Len(t, paths, maxRecent-1)
	for i := range 3 {
		require.NoError(t, s.Opened(filepath.Join(folder, names[i])))
	}
	paths, err = s.Recent()
	require.NoError(t, err)
	assert.Equal(t, []string{want[len(want)-3], want[len(want)-2], want[len(want)-1]}, paths[:3], "any bytes")
}

func TestSettings(t *testing.T) {
	folder := temp(t)
	s, other := storeIn(folder), storeIn(folder)
	density := 3.78
	set, err := s.Setting("px_per_mm", &density)
	require.NoError(t, err)
	assert.False(t, set)
	assert.Equal(t, 3.78, density)

	require.NoError(t, s.Set("px_per_mm", 5.04))
	require.NoError(t, other.Set("language", "es"))
	set, err = other.Setting("px_per_mm", &density)
	require.NoError(t, err)
	assert.True(t, set)
	assert.Equal(t, 5.04, density)

	_, err = s.Setting("language", &density)
	assert.ErrorContains(t, err, "settings.json: language: ")
	assert.Equal(t, 5.04, density)
	assert.Error(t, s.Set("never", func() {}))

	require.NoError(t, os.WriteFile(s.stateFile("settings.json"), []byte("{"), 0o600))
	_, err = s.Setting("language", new(string))
	assert.ErrorContains(t, err, "settings.json: ")
	require.NoError(t, s.Set("language", "en"), "begun anew")
	var language string
	_, err = s.Setting("language", &language)
	require.NoError(t, err)
	assert.Equal(t, "en", language)
}

// Two windows that set things at once lose none of them.
func TestSettingsAtOnce(t *testing.T) {
	folder := temp(t)
	var wg sync.WaitGroup
	const windows, each = 4, 5
	for w := range windows {
		s := storeIn(folder)
		wg.Go(func() {
			for i := range each {
				assert.NoError(t, s.Set(fmt.Sprint(w, " ", i), i))
			}
		})
	}
	wg.Wait()
	s := storeIn(folder)
	for w := range windows {
		for i := range each {
			got := -1
			_, err := s.Setting(fmt.Sprint(w, " ", i), &got)
			require.NoError(t, err)
			assert.Equal(t, i, got)
		}
	}
}
