package document

import (
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
)

func init() { children["deny"] = offerAndSave }

// offerAndSave tries what it may not, as somebody to whom things are forbidden.
func offerAndSave(s *Store) error {
	const nobody = 65534
	if os.Getuid() == 0 {
		if err := syscall.Setuid(nobody); err != nil {
			return err
		}
	}
	d := New(scenes.Library()[0].Scene, "")
	d.Edit("", titled("in memory"))
	saver := s.NewSaver()
	saver.Offer(d.Snapshot())
	fmt.Println(saver.Flush())
	fmt.Println(s.Save(d, "a", false))
	fmt.Println(s.Set("language", "es"))
	fmt.Println(d.Scene().Title, d.Dirty(), d.CanUndo())
	return nil
}

// Folders that may not be written to: errors that say so, and nothing lost.
func TestReadOnlyFolders(t *testing.T) {
	folder := temp(t)
	require.NoError(t, os.Chmod(filepath.Dir(folder), 0o755))
	s := storeIn(folder)
	for _, dir := range []string{s.folders.Scenes, s.folders.State, s.autosaveFolder()} {
		require.NoError(t, os.Mkdir(dir, 0o755))
	}
	for _, dir := range []string{folder, s.folders.Scenes, s.folders.State, s.autosaveFolder()} {
		require.NoError(t, os.Chmod(dir, 0o555))
		t.Cleanup(func() { assert.NoError(t, os.Chmod(dir, 0o755)) })
	}
	c := start(t, "deny", folder)
	denied := ": cannot be written: permission denied"
	assert.Equal(t, s.autosaveFolder()+denied, c.line(t))
	assert.Equal(t, filepath.Join(s.folders.Scenes, "a.toml")+denied, c.line(t))
	assert.Equal(t, s.stateFile("settings.json")+denied, c.line(t))
	assert.Equal(t, "in memory true true", c.line(t))
	require.NoError(t, c.Wait())
	holds(t, s.folders.Scenes, map[string]string{})
	holds(t, s.autosaveFolder(), map[string]string{})
}
