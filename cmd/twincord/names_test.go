package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/cmd/internal/call"
	"twincord/scenes"
)

// What is no text is refused, before a file is written under a name that nobody gave.
func TestArgumentsThatAreNotText(t *testing.T) {
	folder := t.TempDir()
	t.Chdir(folder)
	for _, args := range [][]string{
		{"draw", "middle-of-three", "-o", "a\xff.png"},
		{"draw", "middle-of-three", "-oa\xff.png"},
		{"draw", "middle-of-three", "--output=a\xff.png"},
		{"scenes", "copy", "middle-of-three", "a\xff.toml"},
		{"check", "a\xff.toml"},
	} {
		var out, said bytes.Buffer
		assert.Equal(t, call.BadInput, run(args, &call.Streams{In: strings.NewReader(""), Out: &out, Err: &said}), args)
		assert.Contains(t, said.String(), `a\xff.`)
		assert.Contains(t, said.String(), "is not UTF-8")
		assert.Empty(t, out.String())
	}
	files, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Empty(t, files)
}

// A name with characters that work a terminal is shown without them doing so, and is the
// name of the file nevertheless.
func TestNamesAreShownSafely(t *testing.T) {
	t.Chdir(t.TempDir())
	const name = "a\x1b[2J\u202eb\a.toml"
	require.NoError(t, os.WriteFile(name, scenes.Library()[0].Source, 0o600))
	harmless := func(args ...string) string {
		t.Helper()
		var out, said bytes.Buffer
		run(args, &call.Streams{In: strings.NewReader(""), Out: &out, Err: &said})
		all := out.String() + said.String()
		assert.NotContains(t, all, "\x1b")
		assert.NotContains(t, all, "\u202e")
		assert.NotContains(t, all, "\a")
		return all
	}
	const shown = `a\x1b[2J\u202eb\a`
	assert.Equal(t, shown+".toml: ok\n", harmless("check", name))
	assert.Contains(t, harmless("measure", name), shown)
	assert.Contains(t, harmless("check", name+"2"), shown)
	assert.Contains(t, harmless("draw", "middle-of-three", "-o", filepath.Join(name, "a.png")), shown)
	assert.Contains(t, harmless("draw", "middle-of-three", "-o", "a.png", "--view", "\x1b[2J"), `\x1b[2J`)
	assert.Equal(t, "α\tΔ\n8′", call.Printable("α\tΔ\n8′"))
}
