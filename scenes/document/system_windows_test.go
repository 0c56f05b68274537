package document

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// makePipe makes what stands for a pipe: Windows has none in its folders.
func makePipe(t *testing.T, path string) { require.NoError(t, os.WriteFile(path, nil, 0o600)) }

func unixOnly(t *testing.T) { t.Skip("Windows has no permissions, links or words like these") }

// temp is a folder for a test. It is no T.TempDir: to remove that, Go asks for what Wine 8
// does not know (FileDispositionInformationEx).
func temp(t *testing.T) string {
	folder, err := os.MkdirTemp("", "twincord")
	require.NoError(t, err)
	t.Cleanup(func() { removeAll(t, folder) })
	return folder
}

// removeAll removes a folder and all in it, one after the other.
func removeAll(t *testing.T, folder string) {
	var all []string
	require.NoError(t, filepath.WalkDir(folder, func(path string, _ fs.DirEntry, err error) error {
		all = append(all, path)
		return err
	}))
	for _, path := range slices.Backward(all) {
		require.NoError(t, os.Remove(path))
	}
}
