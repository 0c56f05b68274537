package document

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// Folders says where a user's things are.
type Folders struct {
	Scenes string // the scene files
	State  string // settings, recent files and what is not saved yet
}

// UserFolders gives the folders of whoever runs the program. Scenes are in the
// folder twincord of the user's documents, or of the data where there is no
// folder for documents. Neither folder need exist.
func UserFolders() (Folders, error) {
	home, err := os.UserHomeDir()
	if err != nil {
		return Folders{}, fmt.Errorf("no folder for scenes: %w", err)
	}
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		config, err := os.UserConfigDir()
		if err != nil {
			return Folders{}, fmt.Errorf("no folder for settings: %w", err)
		}
		state := filepath.Join(config, "twincord")
		return Folders{scenesIn(filepath.Join(home, "Documents"), filepath.Join(state, "scenes")), state}, nil
	}
	return xdg(home, os.Getenv), nil
}

// xdg gives the folders by the XDG Base Directory Specification, 0.8, and the
// user's folder for documents as xdg-user-dirs writes it down.
func xdg(home string, getenv func(string) string) Folders {
	base := func(name, otherwise string) string {
		if dir := getenv(name); filepath.IsAbs(dir) { // relative ones are to be ignored
			return dir
		}
		return filepath.Join(home, otherwise)
	}
	documents := filepath.Join(home, "Documents")
	config, _ := os.ReadFile(filepath.Join(base("XDG_CONFIG_HOME", ".config"), "user-dirs.dirs"))
	if dir, ok := documentsOf(config, home); ok {
		documents = dir
	}
	return Folders{
		Scenes: scenesIn(documents, filepath.Join(base("XDG_DATA_HOME", ".local/share"), "twincord")),
		State:  filepath.Join(base("XDG_STATE_HOME", ".local/state"), "twincord"),
	}
}

// scenesIn is the folder for scenes in that for documents, if there is one.
func scenesIn(documents, otherwise string) string {
	if info, err := os.Stat(documents); err == nil && info.IsDir() {
		return filepath.Join(documents, "twincord")
	}
	return otherwise
}

// documentsOf reads XDG_DOCUMENTS_DIR="$HOME/…" from a user-dirs.dirs. A user
// without a folder for documents has the home folder there; that counts as none.
func documentsOf(config []byte, home string) (dir string, ok bool) {
	for lines := bufio.NewScanner(bytes.NewReader(config)); lines.Scan(); {
		value, found := strings.CutPrefix(strings.TrimSpace(lines.Text()), "XDG_DOCUMENTS_DIR=")
		if !found {
			continue
		}
		value = strings.NewReplacer(`\\`, `\`, `\"`, `"`, `\$`, `$`, "\\`", "`", `"`, "").Replace(value)
		if rest, inHome := strings.CutPrefix(value, "$HOME"); inHome {
			value = filepath.Join(home, rest)
		}
		if filepath.IsAbs(value) {
			dir, ok = value, true // the last one counts, as in a shell
		}
	}
	if filepath.Clean(dir) == filepath.Clean(home) {
		return "", ok
	}
	return dir, ok
}
