//go:build !unix && !windows

package document

import (
	"errors"
	"os"
)

// There is no disk: what a browser keeps for a page stands for it.
var errReadOnly = errors.New("no disk")

func isFull(err error) bool { return errors.Is(err, ErrFull) }

const atOnce = 0

func isHeld(error) bool { return false }

// move puts a file in the place of another of the same folder.
func move(from, to string) error { return os.Rename(from, to) }
