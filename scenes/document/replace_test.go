package document

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}

// holds checks that a folder has these files with these contents and no others.
func holds(t *testing.T, folder string, want map[string]string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	got := map[string]string{}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(folder, e.Name()))
		require.NoError(t, err)
		got[e.Name()] = string(data)
	}
	assert.Equal(t, want, got)
}

func TestReplaceMakesAndReplaces(t *testing.T) {
	folder := temp(t)
	path := filepath.Join(folder, "a.toml")
	require.NoError(t, Replace(path, text("one")))
	holds(t, folder, map[string]string{"a.toml": "one"})
	require.NoError(t, Replace(path, text("two")))
	holds(t, folder, map[string]string{"a.toml": "two"})
}

func TestReplaceTakesTheLongestName(t *testing.T) {
	folder := temp(t)
	name := strings.Repeat("n", 255)
	require.NoError(t, Replace(filepath.Join(folder, name), text("long")))
	holds(t, folder, map[string]string{name: "long"})
}

func TestReplacePermissions(t *testing.T) {
	unixOnly(t)
	folder := temp(t)
	mode := func(name string) fs.FileMode {
		info, err := os.Stat(filepath.Join(folder, name))
		require.NoError(t, err)
		return info.Mode().Perm()
	}
	plain, err := os.Create(filepath.Join(folder, "plain"))
	require.NoError(t, err)
	require.NoError(t, plain.Close())
	require.NoError(t, Replace(filepath.Join(folder, "new"), text("")))
	assert.Equal(t, mode("plain"), mode("new"), "a new file is like any other new file")

	for _, m := range []fs.FileMode{0o600, 0o640, 0o755} {
		require.NoError(t, os.Chmod(filepath.Join(folder, "new"), m))
		require.NoError(t, Replace(filepath.Join(folder, "new"), func(w io.Writer) error {
			if m == 0o600 {
				part := w.(*os.File)
				assert.Equal(t, m, mode(filepath.Base(part.Name())), "nor may others read it while it is written")
			}
			return nil
		}))
		assert.Equal(t, m, mode("new"))
	}
}

func TestReplaceFollowsLinks(t *testing.T) {
	unixOnly(t)
	folder, elsewhere := temp(t), temp(t)
	target := filepath.Join(elsewhere, "target")
	require.NoError(t, os.WriteFile(target, []byte("old"), 0o600))
	require.NoError(t, os.Symlink(target, filepath.Join(folder, "absolute")))
	require.NoError(t, os.Symlink("absolute", filepath.Join(folder, "relative")))
	require.NoError(t, os.Symlink("made", filepath.Join(folder, "dangling")))

	require.NoError(t, Replace(filepath.Join(folder, "relative"), text("new")))
	holds(t, elsewhere, map[string]string{"target": "new"})
	link, err := os.Readlink(filepath.Join(folder, "relative"))
	require.NoError(t, err)
	assert.Equal(t, "absolute", link)

	require.NoError(t, Replace(filepath.Join(folder, "dangling"), text("made")))
	holds(t, folder, map[string]string{"absolute": "new", "relative": "new", "dangling": "made", "made": "made"})
}

func TestReplaceFailures(t *testing.T) {
	unixOnly(t)
	full := func(w io.Writer) error {
		_, err := io.WriteString(w, "half")
		return errors.Join(err, &fs.PathError{Op: "write", Path: ".part", Err: syscall.ENOSPC})
	}
	tests := []struct {
		name, path string
		write      func(io.Writer) error
		problem    string
	}{
		{"folder", "folder", text("x"), "it is a folder"},
		{"no such folder", "missing/a", text("x"), "no such file or directory"},
		{"a file for a folder", "old/a", text("x"), "not a directory"},
		{"a pipe", "pipe", text("x"), "it is not a plain file"},
		{"a ring of links", "ring", text("x"), "too many symbolic links"},
		{"full disk, old file", "old", full, "no space left on device"},
		{"full disk, new file", "new", full, "no space left on device"},
		{"write fails", "old", func(io.Writer) error { return errors.New("no good") }, "no good"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			folder := temp(t)
			require.NoError(t, os.WriteFile(filepath.Join(folder, "old"), []byte("old"), 0o600))
			require.NoError(t, os.Mkdir(filepath.Join(folder, "folder"), 0o700))
			require.NoError(t, os.Symlink("ring", filepath.Join(folder, "ring")))
			makePipe(t, filepath.Join(folder, "pipe"))

			path := filepath.Join(folder, test.path)
			require.EqualError(t, Replace(path, test.write), path+": cannot be written: "+test.problem)

			var left []string
			require.NoError(t, filepath.WalkDir(folder, func(path string, _ fs.DirEntry, err error) error {
				left = append(left, filepath.Base(path))
				return err
			}))
			assert.Equal(t, []string{"folder", "old", "pipe", "ring"}, left[1:])
			old, err := os.ReadFile(filepath.Join(folder, "old"))
			require.NoError(t, err)
			assert.Equal(t, "old", string(old))
		})
	}
}

func TestReplacePanicLeavesNothing(t *testing.T) {
	folder := temp(t)
	assert.Panics(t, func() { _ = Replace(filepath.Join(folder, "a"), func(io.Writer) error { panic("write") }) })
	holds(t, folder, map[string]string{})
}

// Whoever reads sees one whole version, and writers do not take each other's
// temporary file. The reader leaves it alone for moments: what is open cannot be replaced
// on disks without POSIX semantics, as on Windows' of old, which Wine 8 is like.
func TestReplaceAtOnce(t *testing.T) {
	folder := temp(t)
	path := filepath.Join(folder, "a")
	versions := []string{strings.Repeat("a", 5000), strings.Repeat("b", 9000), strings.Repeat("c", 70000)}
	require.NoError(t, Replace(path, text(versions[0])))
	var wg sync.WaitGroup
	for _, v := range versions {
		wg.Go(func() {
			for range 5 {
				assert.NoError(t, Replace(path, text(v)))
			}
		})
	}
	for range 50 {
		data, _, err := disk{}.Read(path, 1<<20)
		require.NoError(t, err)
		assert.Contains(t, versions, string(data))
		time.Sleep(2 * time.Millisecond)
	}
	wg.Wait()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, entries, 1)
}
