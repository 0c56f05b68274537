//go:build pages

package scenes_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
)

// Editors that know TOML check a scene by its schema with Taplo: it takes every built-in
// scene, and says what is wrong with others.
func TestTaploChecksScenesByTheirSchema(t *testing.T) {
	checkers := os.Getenv("CHECKERS")
	require.NotEmpty(t, checkers, "CHECKERS is where they are; make test-pages fetches them")
	folder := t.TempDir()
	schema, err := os.Create(filepath.Join(folder, "scene.json"))
	require.NoError(t, err)
	require.NoError(t, scenes.WriteSchema(schema))
	require.NoError(t, schema.Close())
	check := func(names ...string) ([]byte, error) {
		taplo := exec.Command(filepath.Join(checkers, ".bin", "taplo"), append([]string{"check", "--schema", "file://" + schema.Name()}, names...)...)
		taplo.Dir = folder
		return taplo.CombinedOutput()
	}
	put := func(name string, text []byte) {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), text, 0o600))
	}

	var names []string
	for _, e := range scenes.Library() {
		names = append(names, e.Name+".toml")
		put(e.Name+".toml", e.Source)
	}
	out, err := check(names...)
	assert.NoError(t, err, "%s", out)

	for name, text := range map[string]string{
		"unknown.toml": "format = 1\nfoo = 2\nstring.length_mm = 1200\nlook.at_mm = 300\n",
		"short.toml":   "format = 1\nstring.length_mm = 20\nlook.at_mm = 3\n",
	} {
		put(name, []byte(text))
		out, err := check(name)
		assert.Error(t, err, "%s: %s", name, out)
	}
}
