//go:build unix

package document

import (
	"os"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// makePipe makes what waits for ever if it is opened to be read.
func makePipe(t *testing.T, path string) { require.NoError(t, syscall.Mkfifo(path, 0o600)) }

// unixOnly marks tests of what only such systems have, or say in those words.
func unixOnly(*testing.T) {}

// temp is a folder for a test.
func temp(t *testing.T) string { return t.TempDir() }

func removeAll(t *testing.T, folder string) { require.NoError(t, os.RemoveAll(folder)) }
