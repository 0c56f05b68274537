//go:build unix

package document

import (
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// makePipe makes what waits for ever if it is opened to be read.
func makePipe(t *testing.T, path string) { require.NoError(t, syscall.Mkfifo(path, 0o600)) }

// unixOnly marks tests of what only such systems have, or say in those words.
func unixOnly(*testing.T) {}
