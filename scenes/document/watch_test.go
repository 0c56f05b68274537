package document

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"testing/synctest"
	"time"

	"github.com/fsnotify/fsnotify"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
)

// soon waits for a change; it comes after a tenth of a second, or the test has
// long failed.
func soon(t *testing.T, w *Watcher) {
	t.Helper()
	select {
	case <-w.C:
	case <-time.After(5 * time.Minute): // on a machine that is busy with other things
		require.FailNow(t, "no change came")
	}
}

func watched(t *testing.T, path string) *Watcher {
	w, err := Watch(path)
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, w.Close()) })
	return w
}

func put(t *testing.T, path, text string) {
	t.Helper()
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
}

// However a program writes a file, its change is seen.
func TestWatch(t *testing.T) {
	folder := temp(t)
	path, aside := filepath.Join(folder, "ä b.toml"), filepath.Join(folder, "aside")
	w := watched(t, path)
	put(t, path, "made")
	soon(t, w)
	put(t, path, "written in place")
	soon(t, w)
	for _, text := range []string{"replaced", "replaced again"} {
		put(t, aside, text)
		require.NoError(t, os.Rename(aside, path))
		soon(t, w)
	}
	require.NoError(t, os.Rename(path, aside)) // the old one is kept, a new one made
	put(t, path, "new")
	soon(t, w)
	require.NoError(t, Replace(path, text("all or nothing")))
	soon(t, w)
	require.NoError(t, os.Remove(path))
	soon(t, w)
}

// A change is another content, whatever happens in the folder: looked into once it has been
// quiet for a while, and where it never is, from time to time. The clock is not the real one.
func TestChangesAreOfContents(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		events, changed := make(chan fsnotify.Event), make(chan struct{}, 1)
		holds, fails := "a", error(nil)
		read := func() ([]byte, error) { return []byte(holds), fails }
		before, _ := digest(read)
		w := &Watcher{C: changed, fs: &fsnotify.Watcher{Events: events, Errors: make(chan error)}, over: make(chan struct{})}
		go w.run(changed, before, read)
		changes := func() int { synctest.Wait(); return len(changed) }

		events <- fsnotify.Event{} // the same content, another file, other permissions
		time.Sleep(longest)
		assert.Zero(t, changes())

		holds = "b"
		events <- fsnotify.Event{}
		time.Sleep(quiet - time.Nanosecond)
		assert.Zero(t, changes(), "it may not be written whole")
		time.Sleep(time.Nanosecond)
		assert.Equal(t, 1, changes())
		<-changed

		// Another program writes without end.
		began := time.Now()
		holds = "c"
		for changes() == 0 && time.Since(began) < 2*longest {
			events <- fsnotify.Event{}
			time.Sleep(quiet / 2)
		}
		assert.InDelta(t, longest.Seconds(), time.Since(began).Seconds(), quiet.Seconds())
		holds = "d"
		events <- fsnotify.Event{}
		time.Sleep(quiet)
		assert.Equal(t, 1, changes(), "one stands for both")
		<-changed
		holds, fails = "e", errors.New("somebody else has it to himself")
		events <- fsnotify.Event{}
		time.Sleep(quiet)
		assert.Zero(t, changes(), "what it holds cannot be told")

		close(events)
		_, open := <-changed
		assert.False(t, open)
	})
}

// What a link leads to is watched too.
func TestWatchThroughLink(t *testing.T) {
	unixOnly(t)
	folder, elsewhere := temp(t), temp(t)
	link, target := filepath.Join(folder, "link"), filepath.Join(elsewhere, "target")
	put(t, target, "old")
	require.NoError(t, os.Symlink(target, link))
	w := watched(t, link)
	require.NoError(t, Replace(target, text("new")))
	soon(t, w)
	require.NoError(t, os.Remove(link))
	put(t, link, "instead")
	soon(t, w)
}

func TestWatchNothing(t *testing.T) {
	unixOnly(t)
	path := filepath.Join(temp(t), "missing", "a")
	_, err := Watch(path)
	assert.EqualError(t, err, filepath.Dir(path)+": cannot be watched: no such file or directory")

	w, err := Watch(filepath.Dir(path))
	require.NoError(t, err)
	require.NoError(t, w.Close())
	require.NoError(t, w.Close(), "once or twice")
}

// What a document saves itself does not come back as a change, what another
// program saves does.
func TestOwnSaves(t *testing.T) {
	path := filepath.Join(temp(t), "a.toml")
	d := New(begun(t), "")
	require.NoError(t, d.SaveAs(path))
	w := watched(t, path)
	d.Edit("", titled("saved"))
	require.NoError(t, d.Save())
	d.Edit("", titled("edited since"))
	soon(t, w)
	changed, err := d.Reload()
	require.NoError(t, err)
	assert.False(t, changed)
	assert.Equal(t, "edited since", d.Scene().Title)

	other := New(begun(t), path)
	other.Edit("", titled("theirs"))
	require.NoError(t, other.SaveOver())
	soon(t, w)
	_, err = d.Reload()
	require.ErrorIs(t, err, ErrChanged)
	changed, err = d.Theirs()
	require.NoError(t, err)
	assert.True(t, changed)
	assert.Equal(t, "theirs", d.Scene().Title)
}

// follows checks what a follower shows.
func follows(t *testing.T, f *Follower, title string, unsaved bool) {
	t.Helper()
	of, err := f.Scene()
	require.NoError(t, err)
	assert.Equal(t, title, of.Scene.Title)
	assert.Equal(t, unsaved, of.Unsaved)
}

// A second screen shows what is being edited, and the file once that is saved.
func TestFollow(t *testing.T) {
	unixOnly(t)
	folder := temp(t)
	s := storeIn(folder)
	path := filepath.Join(folder, "a.toml")
	d := New(begun(t), "")
	require.NoError(t, d.SaveAs(path))
	link := filepath.Join(folder, "link.toml")
	require.NoError(t, os.Symlink(path, link))

	f, err := s.Follow(link)
	require.NoError(t, err)
	defer closed(t, f)
	follows(t, f, begun(t).Title, false)

	saver, elsewhere := s.NewSaver(), s.NewSaver()
	d.Edit("", titled("being edited"))
	offer(t, saver, d)
	soon(t, f.Watcher)
	follows(t, f, "being edited", true)

	other := New(begun(t), "") // no business of the follower's
	other.Edit("", titled("other"))
	offer(t, elsewhere, other)
	follows(t, f, "being edited", true)
	d.Edit("", titled("being edited still"))
	offer(t, saver, d)
	soon(t, f.Watcher)
	follows(t, f, "being edited still", true)

	require.NoError(t, d.Save())
	offer(t, saver, d)
	follows(t, f, "being edited still", false)

	d.Edit("", titled("left behind"))
	offer(t, saver, d)
	require.NoError(t, saver.Close())
	follows(t, f, "being edited still", false)
	require.NoError(t, elsewhere.Close())
}

// closed closes what has to close without a fault.
func closed(t *testing.T, c io.Closer) { require.NoError(t, c.Close()) }

func TestFollowWithoutFile(t *testing.T) {
	folder := temp(t)
	s := storeIn(folder)
	f, err := s.Follow("")
	require.NoError(t, err)
	defer closed(t, f)
	_, err = f.Scene()
	assert.ErrorIs(t, err, fs.ErrNotExist)

	// One that is open, and unchanged.
	id := scenes.Identity{Origin: scenes.BuiltIn, Name: scenes.DefaultName}
	opened := scenes.Identity{Origin: scenes.BuiltIn, Name: "walk-of-ten"}
	require.NoError(t, s.Shows(opened))
	soon(t, f.Watcher)
	of, err := f.Scene()
	require.NoError(t, err)
	assert.Equal(t, opened, of.Identity)
	assert.True(t, of.Scene.Routine.OK)
	assert.False(t, of.Unsaved)
	require.NoError(t, s.Shows(scenes.Identity{}))
	soon(t, f.Watcher)
	_, err = f.Scene()
	assert.ErrorIs(t, err, fs.ErrNotExist)
	require.NoError(t, s.Shows(scenes.Identity{Origin: scenes.File, Name: filepath.Join(folder, "gone.toml")}))
	_, err = f.Scene()
	assert.ErrorIs(t, err, fs.ErrNotExist)

	saver := s.NewSaver()
	defer closed(t, saver)
	d := New(begun(t), "")
	d.Edit("", titled("no name yet"))
	offer(t, saver, d)
	soon(t, f.Watcher)
	follows(t, f, "no name yet", true)

	// Another scene that is opened and changed, whatever it is begun from, is followed.
	e := New(begun(t), "").From(id)
	e.Edit("", titled("another"))
	elsewhere := s.NewSaver()
	defer closed(t, elsewhere)
	offer(t, elsewhere, e)
	soon(t, f.Watcher)
	follows(t, f, "another", true)
	of, err = f.Scene()
	require.NoError(t, err)
	assert.Equal(t, id, of.Identity)

	path := filepath.Join(folder, "none.toml")
	g, err := s.Follow(path)
	require.NoError(t, err)
	defer closed(t, g)
	_, err = g.Scene()
	assert.ErrorIs(t, err, fs.ErrNotExist)
	assert.ErrorContains(t, err, path+": cannot be read: ")
	put(t, path, "format = 2\n")
	soon(t, g.Watcher)
	_, err = g.Scene()
	assert.ErrorAs(t, err, new(scenes.Faults))
}

// A path is of the same file as itself, though that be gone; others are as the disk says.
func TestSame(t *testing.T) {
	unixOnly(t)
	folder := temp(t)
	in := func(name string) string { return filepath.Join(folder, name) }
	put(t, in("a"), "")
	put(t, in("b"), "")
	require.NoError(t, os.Symlink("a", in("link")))
	require.NoError(t, os.Symlink("gone", in("dangling")))
	for _, tt := range []struct {
		a, b string
		want bool
	}{
		{in("a"), in("a"), true},
		{in("a"), folder + "/./a", true},
		{in("a"), in("link"), true},
		{in("a"), in("b"), false},
		{in("a"), in("gone"), false},
		{in("gone"), in("gone"), true},
		{in("gone"), in("dangling"), false},
		{in("a"), "", false},
		{in("gone"), "", false},
	} {
		assert.Equal(t, tt.want, same(tt.a, tt.b), "%q and %q", tt.a, tt.b)
		assert.Equal(t, tt.want, same(tt.b, tt.a), "%q and %q", tt.b, tt.a)
	}
}
