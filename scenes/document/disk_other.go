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

func rename(from, to string) error { return os.Rename(from, to) }
