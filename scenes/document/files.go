package document

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"time"

	"twincord/scenes"
)

// Files is where files lie.
type Files interface {
	// Read gives what a plain file holds, of a larger one the first most+1 bytes, and
	// when it was changed. It never waits for anybody who would have to write first.
	Read(path string, most int) (data []byte, changed time.Time, err error)
	// Write gives a file new contents, all or nothing. Its folder must be there.
	Write(path string, write func(io.Writer) error) error
	// Remove removes a file; one that is not there is no error.
	Remove(path string) error
	// List gives the names of the files in a folder; one that is not there has none.
	List(folder string) (names []string, err error)
	// Make makes a folder, if it is not there; a private one is the user's alone.
	Make(folder string, private bool) error
	// Alone runs do while nobody else does so for the same path.
	Alone(path string, do func() error) error
}

// autosaves is where unsaved states are kept, each in a slot to which one Saver has
// the sole right for as long as its program runs.
type autosaves interface {
	begin() (slot, error)
	// all gives every state that is there, also those of programs that run, in no
	// order, and why others cannot be read.
	all() (found []autosave, bad Unreadable, err error)
	// leave removes a state that was left behind.
	leave(autosave) error
	// setAside moves what cannot be read to where it is not read again.
	setAside(file string) (to string, err error)
}

// slot is the place of one unsaved state.
type slot interface {
	write(func(io.Writer) error) error
	remove() error
	// end gives the slot up. A state that is in it becomes one left behind.
	end()
}

// Trouble is why something about files could not be done, as a code for those who say
// so in words.
type Trouble int

// The troubles.
const (
	Other   Trouble = iota // what only the error itself tells
	Full                   // the disk
	Denied                 // the user may not
	Missing                // there is no such file or folder
	Changed                // another program has changed the file since: ErrChanged
	Unfit                  // no file may hold the scene, or the file holds none
)

// TroubleOf is what an error of this package amounts to.
func TroubleOf(err error) Trouble {
	switch {
	case errors.Is(err, ErrChanged):
		return Changed
	case errors.As(err, new(scenes.Faults)):
		return Unfit
	case isFull(err):
		return Full
	case errors.Is(err, fs.ErrPermission) || errors.Is(err, errReadOnly):
		return Denied
	case errors.Is(err, fs.ErrNotExist):
		return Missing
	}
	return Other
}

// cause is what went wrong, without the path and the system call.
func cause(err error) error {
	var pe *fs.PathError
	var le *os.LinkError
	var se *os.SyscallError
	switch {
	case errors.As(err, &pe):
		return pe.Err
	case errors.As(err, &le):
		return le.Err
	case errors.As(err, &se):
		return se.Err
	}
	return err
}
