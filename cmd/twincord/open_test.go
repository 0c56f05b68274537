package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A built-in scene has no file, even where something of its name lies in the folder:
// saving must not write over that.
func TestBuiltInSceneHasNoFile(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("walk-of-ten", []byte("something else"), 0o644))
	for name, want := range map[string]string{"walk-of-ten": "", "-": "", "mine.toml": "mine.toml"} {
		path, err := fileOf(identify(name))
		require.NoError(t, err)
		if want != "" {
			want, err = filepath.Abs(want)
			require.NoError(t, err)
		}
		assert.Equal(t, want, path, name)
	}
}
