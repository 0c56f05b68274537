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
