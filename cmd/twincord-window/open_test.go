package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/cmd/internal/call"
	"twincord/render/desk"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
)

// A built-in scene has no file, even where something of its name lies in the folder:
// saving must not write over that.
func TestBuiltInSceneHasNoFile(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("walk-of-ten", []byte("something else"), 0o644))
	for name, want := range map[string]string{"walk-of-ten": "", "-": "", "mine.toml": "mine.toml"} {
		path, err := fileOf(call.Identify(name))
		require.NoError(t, err)
		if want != "" {
			want, err = filepath.Abs(want)
			require.NoError(t, err)
		}
		assert.Equal(t, want, path, name)
	}
}

// What the window opens after a crash: the unsaved state of the file that it is told to
// open, and of others that there are some; each said.
func TestOpensWhatWasNotSaved(t *testing.T) {
	folder := t.TempDir()
	store := document.NewStore(document.Folders{Scenes: filepath.Join(folder, "scenes"), State: filepath.Join(folder, "state")})
	say, err := words.For("es")
	require.NoError(t, err)
	file := func(name string) string {
		d := document.New(scenes.Library()[0].Scene, "")
		require.NoError(t, store.Save(d, name, false))
		require.NoError(t, store.Opened(d.Path()))
		return d.Path()
	}
	a, b := file("a"), file("b")
	opens := func(scene, title string, says ...string) {
		t.Helper()
		o := desk.Options{Words: say}
		p := program{Window: call.Window{Scene: scene}}
		_, said, err := p.open(&call.Streams{}, &o, store)
		require.NoError(t, err)
		assert.Equal(t, title, o.Document.Scene().Title)
		assert.Equal(t, says, said)
	}
	first := scenes.Library()[0].Scene.Title
	opens("", first)
	d, err := store.Open(a)
	require.NoError(t, err)
	d.Edit("", func(sc *scenes.Scene) { sc.Title = "unsaved" })
	saver := store.NewSaver()
	saver.Offer(d.Snapshot())
	require.NoError(t, saver.Close())

	opens(a, "unsaved", say.Label(words.RecoveredScene))
	opens("", "unsaved", say.Label(words.RecoveredScene))
	opens(b, first, say.UnsavedWaiting(1))
	opens("", first, say.UnsavedWaiting(1)) // b was opened since
	opens("bare-string", "A bare string")
	require.NoError(t, os.WriteFile(filepath.Join(folder, "state", "autosave", "1-0.toml"), []byte("?"), 0o600))
	opens(b, first, say.UnsavedWaiting(1), say.UnsavedUnreadable(filepath.Join(folder, "state", "autosave", "unreadable")))
	opens(b, first, say.UnsavedWaiting(1))
}

// Where a scene is faulty the first one stands in its place, for the window to say why;
// at a terminal it is said there, and no window opens.
func TestFirstSceneInsteadOfAFaultyOne(t *testing.T) {
	folder := t.TempDir()
	store := document.NewStore(document.Folders{Scenes: filepath.Join(folder, "scenes"), State: filepath.Join(folder, "state")})
	bad := filepath.Join(folder, "bad.toml")
	require.NoError(t, os.WriteFile(bad, []byte("format = 2\n"), 0o600))
	p := program{Window: call.Window{Scene: bad}}
	var o desk.Options
	_, _, refused := p.open(&call.Streams{}, &o, store)
	require.ErrorAs(t, refused, new(scenes.Faults))
	require.Nil(t, o.Document)
	require.NoError(t, p.instead(&call.Streams{}, &o, store, refused))
	assert.Equal(t, scenes.Library()[0].Scene.Title, o.Document.Scene().Title)
	assert.Empty(t, o.Document.Path(), "nothing is saved over the faulty one")

	o = desk.Options{}
	assert.Equal(t, refused, p.instead(&call.Streams{Watched: true}, &o, store, refused))
	assert.Nil(t, o.Document)
}
