package document

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
)

// crashed leaves an unsaved state of a document.
func crashed(t *testing.T, s *Store, d *Document, title string) {
	t.Helper()
	saver := s.NewSaver()
	d.Edit("", titled(title))
	saver.Offer(d.Snapshot())
	require.NoError(t, saver.Close())
}

// saved is a document with a file of that name, which was the last to be opened.
func saved(t *testing.T, s *Store, name string) *Document {
	t.Helper()
	d := New(begun(t), "")
	d.Edit("", titled(name))
	require.NoError(t, s.Save(d, name, false))
	require.NoError(t, s.Opened(d.Path()))
	return d
}

func titles(rs []Recovered) (all []string) {
	for _, r := range rs {
		all = append(all, r.Scene.Title)
	}
	return all
}

// starts checks what a start with a path, or without one, goes on with, and what waits.
func starts(t *testing.T, s *Store, path, title string, wait ...string) {
	t.Helper()
	goOn, waiting, err := s.Start(path)
	require.NoError(t, err)
	if title == "" {
		assert.Nil(t, goOn)
	} else if assert.NotNil(t, goOn) {
		assert.Equal(t, title, goOn.Scene.Title)
	}
	assert.Equal(t, wait, titles(waiting))
}

// A start goes on with what was edited last; what was opened or saved since comes
// before it, and it waits.
func TestStart(t *testing.T) {
	s := storeIn(temp(t))
	starts(t, s, "", "")
	a, b := saved(t, s, "a"), saved(t, s, "b")
	starts(t, s, a.Path(), "")

	crashed(t, s, a, "a, unsaved")
	starts(t, s, "", "a, unsaved")
	starts(t, s, a.Path(), "a, unsaved")
	starts(t, s, b.Path(), "", "a, unsaved")

	require.NoError(t, s.Opened(b.Path()))
	starts(t, s, "", "", "a, unsaved")
	starts(t, s, a.Path(), "a, unsaved")

	crashed(t, s, New(begun(t), ""), "no name")
	crashed(t, s, b, "b, unsaved")
	starts(t, s, "", "b, unsaved", "no name", "a, unsaved")
	starts(t, s, a.Path(), "a, unsaved", "b, unsaved", "no name")

	// The file of one is saved with something else: that is newer.
	newer := New(begun(t), a.Path())
	newer.Edit("", titled("a, saved since"))
	require.NoError(t, newer.SaveOver())
	starts(t, s, a.Path(), "", "b, unsaved", "no name", "a, unsaved")
	rs := recovered(t, s)
	assert.Equal(t, []bool{false, false, true}, []bool{rs[0].Changed, rs[1].Changed, rs[2].Changed})
	d := rs[2].Document()
	assert.Equal(t, "a, unsaved", d.Scene().Title)
	assert.ErrorIs(t, d.Save(), ErrChanged, "nothing is written over without a question")
	require.True(t, d.Undo())
	assert.Equal(t, "a, saved since", d.Scene().Title)

	// A window that goes on being edited while another saves is the later one.
	saver := s.NewSaver()
	c := New(begun(t), "")
	c.Edit("", titled("c"))
	offer(t, saver, c)
	require.NoError(t, s.Opened(b.Path()))
	c.Edit("", titled("c, later"))
	offer(t, saver, c)
	require.NoError(t, saver.Close())
	starts(t, s, "", "c, later", "b, unsaved", "no name", "a, unsaved")

	// What is not saved of a file that is gone is still of that file.
	require.NoError(t, os.Remove(b.Path()))
	starts(t, s, b.Path(), "b, unsaved", "c, later", "no name", "a, unsaved")

	for _, r := range recovered(t, s) {
		require.NoError(t, r.Discard())
	}
	starts(t, s, "", "")
}

// Clocks that are set back, or were set to 2099 for a while, change nothing.
func TestStartWhateverTheClock(t *testing.T) {
	s := storeIn(temp(t))
	for i, year := range []int{2099, 1980, 2026, 2025} {
		crashed(t, s, New(begun(t), ""), fmt.Sprint("state ", i))
		found, _, err := s.autosaves.all()
		require.NoError(t, err)
		newest := found[0]
		for _, a := range found {
			if a.number > newest.number {
				newest = a
			}
		}
		file := newest.name + extension
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		then := time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC)
		data = regexp.MustCompile(`\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ`).ReplaceAll(data, []byte(then.Format(time.RFC3339)))
		require.NoError(t, os.WriteFile(file, data, 0o600))
		require.NoError(t, os.Chtimes(file, then, then))
	}
	rs := recovered(t, s)
	assert.Equal(t, []string{"state 3", "state 2", "state 1", "state 0"}, titles(rs))
	assert.Equal(t, 2025, rs[0].Kept.Year())
	starts(t, s, "", "state 3", "state 2", "state 1", "state 0")
}

// An autosave of a version that knew no numbers is there, but never before anything
// else.
func TestStartFromEarlierVersion(t *testing.T) {
	s := storeIn(temp(t))
	a := saved(t, s, "a")
	require.NoError(t, os.MkdirAll(s.autosaveFolder(), 0o700))
	old, err := os.ReadFile(a.Path())
	require.NoError(t, err)
	old = append([]byte("# unsaved: \"\"\n"), old...)
	require.NoError(t, os.WriteFile(filepath.Join(s.autosaveFolder(), "1-0.toml"), old, 0o600))
	starts(t, s, "", "", "a")
	assert.WithinDuration(t, time.Now(), recovered(t, s)[0].Kept, time.Hour)
	require.NoError(t, os.WriteFile(s.stateFile(usesFile), []byte(fmt.Sprintf("%q\n", a.Path())), 0o600))
	paths, err := s.Recent()
	require.NoError(t, err)
	assert.Equal(t, []string{a.Path()}, paths)
}

// However large a file of the state is, it is not read as a whole, and what comes anew
// is kept.
func TestNothingIsReadWithoutLimit(t *testing.T) {
	s := storeIn(temp(t))
	require.NoError(t, os.MkdirAll(s.folders.State, 0o700))
	for _, name := range []string{usesFile, "settings.json"} {
		f, err := os.Create(s.stateFile(name))
		require.NoError(t, err)
		require.NoError(t, f.Truncate(1<<40)) // of zeros, and nothing of it on the disk
		require.NoError(t, f.Close())
	}
	_, err := s.Recent()
	assert.ErrorContains(t, err, "recent: cannot be read: it is larger than 1048576 bytes")
	_, err = s.Setting("language", new(string))
	assert.ErrorContains(t, err, "settings.json: cannot be read: it is larger than")
	a := saved(t, s, "a")
	require.NoError(t, s.Set("language", "es"))
	paths, err := s.Recent()
	require.NoError(t, err)
	assert.Equal(t, []string{a.Path()}, paths)

	full := `{"language": "es"` + strings.Repeat(" ", mostState-len(`{"language": "es"}`)) + "}"
	for _, more := range []string{"", " "} {
		put(t, s.stateFile("settings.json"), full+more)
		set, err := s.Setting("language", new(string))
		assert.Equal(t, more == "", set && err == nil, "%v", err)
	}
}

// A pipe, wherever one lies, keeps nobody waiting.
func TestPipes(t *testing.T) {
	unixOnly(t)
	s := storeIn(temp(t))
	for _, dir := range []string{s.folders.Scenes, s.autosaveFolder()} {
		require.NoError(t, os.MkdirAll(dir, 0o700))
	}
	pipe := filepath.Join(s.folders.Scenes, "pipe.toml")
	makePipe(t, pipe)
	makePipe(t, s.stateFile("settings.json"))
	makePipe(t, s.stateFile(usesFile))
	makePipe(t, filepath.Join(s.autosaveFolder(), "1-0.toml"))

	_, err := scenes.Load(pipe)
	assert.Error(t, err)
	_, err = s.Open(pipe)
	assert.Error(t, err)
	items, err := s.Scenes()
	require.NoError(t, err)
	require.Len(t, items, 1)
	assert.Error(t, items[0].Err)
	_, _, err = s.Start(pipe)
	assert.ErrorAs(t, err, new(Unreadable))
	w := watched(t, pipe)
	require.NoError(t, w.Close())
	d := New(begun(t), pipe)
	d.Edit("", titled("x"))
	_, err = d.Reload()
	assert.Error(t, err)
	assert.Error(t, s.Opened(pipe))
	assert.Error(t, s.Set("language", "es"))
}

// A temporary file that somebody was killed over is removed by the next one who writes
// in its folder, once nobody can be at it any more; one of the future too.
func TestPartsAreSweptAway(t *testing.T) {
	folder := temp(t)
	for name, age := range map[string]time.Duration{
		"1-0": 2 * time.Hour, "2-0": -2 * time.Hour, "3-0": time.Minute, "4-0": -time.Minute,
	} {
		part := filepath.Join(folder, partPrefix+name+partSuffix)
		put(t, part, name)
		then := time.Now().Add(-age)
		require.NoError(t, os.Chtimes(part, then, then))
	}
	put(t, filepath.Join(folder, ".twincord-mine"), "mine")
	require.NoError(t, os.Chtimes(filepath.Join(folder, ".twincord-mine"), time.Unix(0, 0), time.Unix(0, 0)))
	require.NoError(t, Replace(filepath.Join(folder, "a"), text("a")))
	holds(t, folder, map[string]string{
		"a": "a", ".twincord-mine": "mine", partPrefix + "3-0" + partSuffix: "3-0", partPrefix + "4-0" + partSuffix: "4-0",
	})
}

// What a state was begun from is kept with it, whatever the name, beside a file and
// without one; a state of an earlier version is of nothing that is known.
func TestStartKnowsWhatItWasBegunFrom(t *testing.T) {
	for _, id := range []scenes.Identity{
		{}, {Origin: scenes.BuiltIn, Name: "middle-of-three"}, {Origin: scenes.New, Name: "a \"name\"\nof two lines"},
	} {
		s := storeIn(temp(t))
		crashed(t, s, New(begun(t), "").From(id), "changed")
		rs := recovered(t, s)
		require.Len(t, rs, 1)
		assert.Equal(t, id, rs[0].Identity())
		assert.Equal(t, id, rs[0].Document().Identity())

		file := saved(t, s, "file").From(id)
		crashed(t, s, file, "changed too")
		rs = recovered(t, s)
		require.Len(t, rs, 2)
		of := scenes.Identity{Origin: scenes.File, Name: file.Path()}
		assert.Equal(t, of, rs[0].Identity(), "a file is that file")
		assert.Equal(t, of, rs[0].Document().Identity())
	}

	a := autosave{}
	require.NoError(t, a.read([]byte("# unsaved: \"\"\n# number: 3 2026-11-01T10:00:00Z \"\"\nformat = 1\n")))
	assert.Zero(t, a.from)
	assert.Equal(t, "format = 1\n", string(a.data))
	for _, line := range []string{"elsewhere \"a\"", "built-in", "built-in a", ""} {
		err := a.read([]byte("# unsaved: \"\"\n# number: 3 2026-11-01T10:00:00Z \"\"\n# from: " + line + "\nformat = 1\n"))
		assert.ErrorContains(t, err, "third line", "%q", line)
	}
}
