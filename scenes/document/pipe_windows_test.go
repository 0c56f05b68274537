package document

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// makePipe makes what stands for a pipe: Windows has none in its folders.
func makePipe(t *testing.T, path string) { require.NoError(t, os.WriteFile(path, nil, 0o600)) }

func unixOnly(t *testing.T) { t.Skip("Windows has no permissions, links or words like these") }
