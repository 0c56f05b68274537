package document_test

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"twincord/scenes/document"
)

func put(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}

func names(t *testing.T, folder string) (all []string) {
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return all
}

func TestReplaceMakesAndReplacesAFile(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.toml")
	require.NoError(t, document.Replace(path, put("one")))
	require.NoError(t, os.Chmod(path, 0o640))
	require.NoError(t, document.Replace(path, put("two")))
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "two", string(data))
	info, err := os.Stat(path)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o640), info.Mode().Perm(), "permissions are kept")
	require.Equal(t, []string{"a.toml"}, names(t, folder))
}

func TestReplaceFollowsALink(t *testing.T) {
	folder := t.TempDir()
	path, link := filepath.Join(folder, "a.toml"), filepath.Join(folder, "link.toml")
	require.NoError(t, document.Replace(path, put("one")))
	require.NoError(t, os.Symlink(path, link))
	require.NoError(t, document.Replace(link, put("two")))
	target, err := os.Readlink(link)
	require.NoError(t, err)
	require.Equal(t, path, target)
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "two", string(data))
}

func TestReplaceLeavesTheOldFileOnAFailure(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.toml")
	require.NoError(t, document.Replace(path, put("old")))
	broken := errors.New("broken off")
	err := document.Replace(path, func(w io.Writer) error {
		_, _ = io.WriteString(w, "half of the ne")
		return broken
	})
	require.ErrorIs(t, err, broken)
	require.ErrorContains(t, err, path)
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "old", string(data))
	require.Equal(t, []string{"a.toml"}, names(t, folder))
}

func TestReplaceRefusesWhatIsNoFile(t *testing.T) {
	folder := t.TempDir()
	require.ErrorContains(t, document.Replace(folder, put("x")), "is a folder")
	require.ErrorContains(t, document.Replace(filepath.Join(folder, "none", "a.toml"), put("x")), "no such file or directory")
	require.NoError(t, os.Symlink(filepath.Join(folder, "gone"), filepath.Join(folder, "dangling")))
	require.ErrorContains(t, document.Replace(filepath.Join(folder, "dangling"), put("x")), "leads nowhere")
	require.ErrorContains(t, document.Replace("/dev/null", put("x")), "not an ordinary file")
	require.Equal(t, []string{"dangling"}, names(t, folder))
}
