package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/cmd/internal/call"
	"twincord/cmd/internal/made"
	"twincord/render/browser"
	"twincord/render/words"
	"twincord/scenes"
)

// The page that the window writes of a scene as it stands is the one that the command
// writes of its file.
func TestWindowWritesThePageOfTheCommand(t *testing.T) {
	if _, err := browser.Engine(); err != nil {
		t.Skip(err)
	}
	sc, _, err := scenes.Open("walk-of-ten")
	require.NoError(t, err)
	sc.Setup.Posture.Deviation = 4
	text, err := made.File(sc)
	require.NoError(t, err)
	mine, out := filepath.Join(t.TempDir(), "mine.toml"), filepath.Join(t.TempDir(), "mine.html")
	require.NoError(t, os.WriteFile(mine, text, 0o600))
	c := pageCommand{Scenes: []string{mine}, Output: out, Prescribed: "A. Nobody", Language: "es", Units: "in"}
	require.NoError(t, c.Run(&call.Streams{}))
	want, err := os.ReadFile(out)
	require.NoError(t, err)

	sc, id, err := scenes.Open(mine)
	require.NoError(t, err)
	es, err := words.For("es")
	require.NoError(t, err)
	page, err := made.Page(sc, id, es.WithInches(true), "A. Nobody")
	require.NoError(t, err)
	var got bytes.Buffer
	require.NoError(t, page.Write(&got))
	assert.Contains(t, got.String(), "deviation_prism = 4")
	assert.True(t, bytes.Equal(want, got.Bytes()))
}
