//go:build unix

package document

import (
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// makePipe makes what waits for ever if it is opened to be read.
func makePipe(t *testing.T, path string) { require.NoError(t, syscall.Mkfifo(path, 0o600)) }
