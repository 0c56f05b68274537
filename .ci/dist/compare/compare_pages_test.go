//go:build pages

package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// SVGs that say the same picture otherwise are the same; others are not.
func TestDrawingsAreCompared(t *testing.T) {
	folder := func(stop, colour string) string {
		to := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(to, "a.svg"), []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="64" height="8"><linearGradient id="g"><stop offset="0" stop-color="#000"/>`+
			stop+`<stop offset="1" stop-color="`+colour+`"/></linearGradient><path fill="url(#g)" d="M0 0H64V8H0z"/></svg>`), 0o600))
		return to
	}
	plain := folder("", "#fff")
	c := comparison{within: 1e-9}
	require.NoError(t, c.folders(plain, folder(`<stop offset=".5" stop-color="#808080"/>`, "#fff")))
	assert.Equal(t, 1, c.drawings)
	assert.ErrorContains(t, c.folders(plain, folder("", "#eee")), "pixels differ")
}
