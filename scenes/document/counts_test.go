package document

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// number reads a number and nothing else, as a stand-in for what is kept of cases.
func number(kept []byte) (n int, err error) {
	if len(kept) == 0 {
		return 0, nil
	}
	if n, err = strconv.Atoi(string(kept)); err != nil {
		n = 0
	}
	return n, err
}

// more adds to it.
func more(by int) func([]byte) ([]byte, error) {
	return func(kept []byte) ([]byte, error) {
		n, err := number(kept)
		return fmt.Append(nil, n+by), err
	}
}

// kept is the number that is kept.
func kept(t *testing.T, s *Store) (n int, aside string) {
	aside, err := s.Counts(func(kept []byte) (err error) { n, err = number(kept); return err })
	require.NoError(t, err)
	return n, aside
}

func TestCounts(t *testing.T) {
	s := storeIn(filepath.Join(temp(t), "new"))
	n, aside := kept(t, s)
	assert.Zero(t, n)
	assert.Empty(t, aside)
	require.NoError(t, s.EraseCounts(), "of nothing")
	aside, err := s.Counts(func([]byte) error { t.Error("there is nothing to read"); return nil })
	require.NoError(t, err)
	assert.Empty(t, aside)

	for range 2 {
		aside, err := s.Count(more(2))
		require.NoError(t, err)
		assert.Empty(t, aside)
	}
	n, _ = kept(t, s)
	assert.Equal(t, 4, n)

	require.NoError(t, s.EraseCounts())
	n, _ = kept(t, s)
	assert.Zero(t, n)
	_, err = os.Stat(s.stateFile(countsFile))
	assert.ErrorIs(t, err, os.ErrNotExist)
}

func TestBrokenCountsAreSetAside(t *testing.T) {
	s := storeIn(temp(t))
	broken := []string{"{", "\x00\x01", strings.Repeat("9", mostState+7)}
	for _, text := range broken {
		require.NoError(t, s.files.Make(s.folders.State, true))
		path := s.stateFile(countsFile)

		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		n, aside := kept(t, s)
		assert.Zero(t, n)
		assert.Equal(t, path+".broken", aside, "it is said")
		_, err := os.Stat(path)
		assert.ErrorIs(t, err, os.ErrNotExist)
		was, err := os.ReadFile(aside)
		require.NoError(t, err)
		assert.True(t, strings.HasPrefix(text, string(was)) && len(was) > 0)

		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		aside, err = s.Count(more(3))
		require.NoError(t, err)
		assert.Equal(t, path+".broken", aside)
		n, aside = kept(t, s)
		assert.Equal(t, 3, n, "begun anew")
		assert.Empty(t, aside)

		require.NoError(t, s.EraseCounts())
		_, err = os.Stat(path + ".broken")
		assert.ErrorIs(t, err, os.ErrNotExist, "erased is erased")
	}
}

func TestCountsThatCannotBeKeptStay(t *testing.T) {
	s := storeIn(temp(t))
	_, err := s.Count(more(1))
	require.NoError(t, err)
	_, err = s.Count(func([]byte) ([]byte, error) { return nil, errors.New("no") })
	assert.Error(t, err)
	n, _ := kept(t, s)
	assert.Equal(t, 1, n, "as it was")

	removeAll(t, s.folders.State)
	require.NoError(t, os.WriteFile(s.folders.State, nil, 0o600)) // a file where the folder should be
	_, err = s.Count(more(1))
	assert.ErrorContains(t, err, s.stateFile(countsFile))
}

func TestCountsAtOnce(t *testing.T) {
	folder := temp(t)
	var wg sync.WaitGroup
	const windows, each = 4, 5
	for range windows {
		s := storeIn(folder)
		wg.Go(func() {
			for range each {
				_, err := s.Count(more(1))
				assert.NoError(t, err)
			}
		})
	}
	wg.Wait()
	n, _ := kept(t, storeIn(folder))
	assert.Equal(t, windows*each, n)
}
