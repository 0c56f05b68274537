package words

import "strconv"

// What is said of files and of what is not saved.
const (
	AutosaveFull   Label = "autosave-full"
	AutosaveDenied Label = "autosave-denied"
	AutosaveFails  Label = "autosave-fails"
	AutosaveAgain  Label = "autosave-again"
	FileChanged    Label = "file-changed"
	SaveChanged    Label = "save-changed"
	SaveFull       Label = "save-full"
	SaveDenied     Label = "save-denied"
)

// UnsavedWaiting says how many unsaved states of earlier are kept.
func (w *Words) UnsavedWaiting(n int) string {
	return w.sayOf(n, "unsaved-waiting", with{"Count": strconv.Itoa(n)})
}

// UnsavedUnreadable says where an unsaved state is that cannot be read.
func (w *Words) UnsavedUnreadable(file string) string {
	return w.say("unsaved-unreadable", with{"File": file})
}
