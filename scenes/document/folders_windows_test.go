package document

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/windows"
)

// Scenes are in the known folder for documents, wherever somebody has moved that to, and
// the rest in that for the data of programs on this computer.
func TestKnownFolders(t *testing.T) {
	f, err := UserFolders()
	require.NoError(t, err)
	documents, err := windows.KnownFolderPath(windows.FOLDERID_Documents, 0)
	require.NoError(t, err)
	data, err := windows.KnownFolderPath(windows.FOLDERID_LocalAppData, 0)
	require.NoError(t, err)
	assert.Equal(t, Folders{Scenes: filepath.Join(documents, "twincord"), State: filepath.Join(data, "twincord")}, f)
}
