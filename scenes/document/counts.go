package document

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
)

// countsFile is the file of the state with the counts of cases: what somebody who
// learns has got right. This package does not know what is in it.
const countsFile = "cases.json"

// Counts hands what is kept of cases to read; where nothing is kept read is not called.
// What read refuses is set aside, to the path that is given back, and nothing is kept
// then.
func (s *Store) Counts(read func(kept []byte) error) (aside string, err error) {
	data, err := s.counts()
	if err != nil || len(data) == 0 || read(data) == nil {
		return "", err
	}
	err = s.files.Alone(s.stateFile(countsFile), func() error {
		aside, err = s.setCountsAside(data)
		return err
	})
	return aside, err
}

// Count keeps what add makes of what is kept, nil where nothing is. What add refuses is
// set aside, as Counts does, and it begins with nothing.
func (s *Store) Count(add func(kept []byte) ([]byte, error)) (aside string, err error) {
	path := s.stateFile(countsFile)
	if err := s.files.Make(s.folders.State, true); err != nil {
		return "", failed(path, err)
	}
	err = s.files.Alone(path, func() error {
		old, err := s.counts()
		if err != nil {
			return err
		}
		to, err := add(old)
		refused := err != nil && len(old) > 0
		if refused {
			to, err = add(nil)
		}
		if err != nil {
			return failed(path, err)
		}
		if refused {
			if aside, err = s.setCountsAside(old); err != nil {
				return err
			}
		}
		return s.write(path, to)
	})
	return aside, err
}

// EraseCounts removes what is kept of cases, also what was set aside.
func (s *Store) EraseCounts() error {
	path := s.stateFile(countsFile)
	if err := s.files.Make(s.folders.State, true); err != nil {
		return failed(path, err)
	}
	return s.files.Alone(path, func() error {
		return errors.Join(s.files.Remove(path), s.files.Remove(brokenOf(path)))
	})
}

// counts is what is kept, of a file that is too large its beginning.
func (s *Store) counts() ([]byte, error) {
	data, _, err := s.files.Read(s.stateFile(countsFile), mostState)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read: %w", s.stateFile(countsFile), cause(err))
	}
	return data, nil
}

// setCountsAside moves what is kept to where it is not read again, over what was
// there.
func (s *Store) setCountsAside(data []byte) (aside string, err error) {
	path := s.stateFile(countsFile)
	aside = brokenOf(path)
	if err := s.write(aside, data); err != nil {
		return "", err
	}
	return aside, s.files.Remove(path)
}

func brokenOf(path string) string { return path + ".broken" }

func (s *Store) write(path string, data []byte) error {
	return s.files.Write(path, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}
