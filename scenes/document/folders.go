package document

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/adrg/xdg"
)

// Folders says where a user's things are.
type Folders struct {
	Scenes string // the scene files
	State  string // settings, recent files and what is not saved yet
}

// UserFolders gives the folders of whoever runs the program. Scenes are in the
// folder twincord of the user's documents, or of the data where there is no
// folder for documents: the XDG Base Directory Specification and xdg-user-dirs say
// where those are, on Windows the known folders, on a Mac its library. Neither folder
// need exist.
func UserFolders() (Folders, error) {
	home, err := os.UserHomeDir()
	if err != nil {
		return Folders{}, fmt.Errorf("no folder for scenes: %w", err)
	}
	data, state := filepath.Join(xdg.DataHome, "twincord"), filepath.Join(xdg.StateHome, "twincord")
	if data == state { // outside Linux
		data = filepath.Join(data, "scenes")
	}
	return Folders{scenesIn(xdg.UserDirs.Documents, home, data), state}, nil
}

// scenesIn is the folder for scenes in that for documents, if there is one. A user
// without has the home folder there; that counts as none.
func scenesIn(documents, home, otherwise string) string {
	info, err := os.Stat(documents)
	if err == nil && info.IsDir() && filepath.Clean(documents) != filepath.Clean(home) {
		return filepath.Join(documents, "twincord")
	}
	return otherwise
}
