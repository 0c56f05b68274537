package document

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
)

// Whoever copies folders to elsewhere or looks for viruses has a file open for moments, in
// which Windows lets nobody replace it; it is replaced after them.
func TestReplaceWhatSomebodyReads(t *testing.T) {
	path := filepath.Join(temp(t), "a.toml")
	require.NoError(t, Replace(path, text("one")))
	reader, err := os.Open(path)
	require.NoError(t, err)
	read := make(chan error)
	time.AfterFunc(50*time.Millisecond, func() { read <- reader.Close() })
	require.NoError(t, Replace(path, text("two")))
	data, _, err := disk{}.Read(path, 10)
	require.NoError(t, err)
	assert.Equal(t, "two", string(data))
	assert.NoError(t, <-read)
}

// Folders lie as deep as organisations put them. Programs of old end at 260 letters on
// Windows (Microsoft, "Maximum Path Length Limitation").
func TestDeepFolders(t *testing.T) {
	folder := temp(t)
	for range 4 {
		folder = filepath.Join(folder, strings.Repeat("deep ", 20)+"x")
	}
	require.Greater(t, len(folder), 400)
	s := storeIn(folder)
	d := New(begun(t), "")
	require.NoError(t, s.Save(d, "scene", false))
	d.Edit("", titled("changed"))
	saver := s.NewSaver()
	offer(t, saver, d)
	require.NoError(t, saver.Close())
	require.Len(t, recovered(t, s), 1)
	require.NoError(t, s.Save(d, "scene", false), "over itself")
	require.NoError(t, s.Opened(d.Path()))

	items, err := s.Scenes()
	require.NoError(t, err)
	require.Len(t, items, 1)
	require.NoError(t, items[0].Err)
	assert.Equal(t, "changed", items[0].Scene.Title)
	paths, err := s.Recent()
	require.NoError(t, err)
	assert.Equal(t, []string{d.Path()}, paths)
	w, err := Watch(d.Path())
	require.NoError(t, err)
	require.NoError(t, w.Close())
}

// A scene of Windows' lines is one, and stays one when it is saved: only what was changed is
// another.
func TestLinesOfWindows(t *testing.T) {
	path := filepath.Join(temp(t), "scene.toml")
	d := New(begun(t), "")
	require.NoError(t, d.SaveAs(path))
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	windows := strings.ReplaceAll(string(data), "\n", "\r\n")
	put(t, path, windows)
	s := storeIn(temp(t))
	d, err = s.Open(path)
	require.NoError(t, err)
	assert.Equal(t, begun(t).Setup, d.Scene().Setup)
	changed, err := d.Reload()
	require.NoError(t, err)
	assert.False(t, changed)
	d.Edit("", titled("changed"))
	require.NoError(t, d.Save())
	sc, err := scenes.Load(path)
	require.NoError(t, err)
	assert.Equal(t, "changed", sc.Title)
}
