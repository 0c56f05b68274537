package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What differs by more than it may is found: a number, a word, a file too many.
func TestFoldersAreCompared(t *testing.T) {
	folder := func(files map[string]string) string {
		to := t.TempDir()
		for name, text := range files {
			require.NoError(t, os.WriteFile(filepath.Join(to, name), []byte(text), 0o600))
		}
		return to
	}
	a := folder(map[string]string{"a.json": "x 1.25 y 1000000000.5"})
	near := folder(map[string]string{"a.json": "x 1.25 y 1000000000.4"})
	c := comparison{within: 1e-9}
	require.NoError(t, c.folders(a, near))
	assert.Equal(t, 2, c.numbers)
	assert.InDelta(t, 0.1, c.farthest, 1e-6)
	last := folder(map[string]string{"a.json": "x 1.24 y 1000000000.5"})
	require.NoError(t, (&comparison{within: 1e-9}).folders(a, last), "the last digit")
	font := folder(map[string]string{"a.json": "3e3629 1.25"})
	require.NoError(t, (&comparison{within: 1e-9}).folders(font, folder(map[string]string{"a.json": "3e3629 1.24"})), "what is no number")
	signs, none := folder(map[string]string{"a.json": "-1.5e-17"}), folder(map[string]string{"a.json": "0"})
	require.NoError(t, (&comparison{within: 1e-9}).folders(signs, none))
	assert.Error(t, (&comparison{within: 1e-9}).folders(folder(map[string]string{"a": "2 strings"}), folder(map[string]string{"a": "3 strings"})))
	half := folder(map[string]string{"a.html": `fill="#ffffff80"`})
	require.NoError(t, (&comparison{within: 1e-9}).folders(half, folder(map[string]string{"a.html": `fill="#ffffff7f"`})), "half an opacity, rounded up and down")
	for _, colour := range []string{"#ffffff7a", "#ffffef80", "#ffffff"} {
		assert.Error(t, (&comparison{within: 1e-9}).folders(half, folder(map[string]string{"a.html": `fill="` + colour + `"`})), colour)
	}
	p, q := folder(map[string]string{"a.pdf": "1"}), folder(map[string]string{"a.pdf": "2"})
	c = comparison{within: 1e-9}
	require.NoError(t, c.folders(p, q))
	assert.Equal(t, 1, c.unread)
	assert.Error(t, (&comparison{}).folders(p, q))
	assert.NoError(t, (&comparison{}).folders(a, a))
	assert.Error(t, (&comparison{}).folders(a, near))
	for _, other := range []map[string]string{
		{"a.json": "x 1.27 y 1000000000.5"},
		{"a.json": "z 1.25 y 1000000000.5"},
		{"a.json": "x 1.25 y 1000000003.5"},
		{"a.json": "x 1.25 y 1000000000.5 1"},
		{"b.json": "x 1.25 y 1000000000.5"},
		{},
	} {
		assert.Error(t, (&comparison{within: 1e-9}).folders(a, folder(other)))
	}
	assert.Error(t, (&comparison{}).folders(folder(nil), folder(nil)))
}
