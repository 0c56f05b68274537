package document

import (
	"errors"
	"io"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What every place of files promises.
func TestFiles(t *testing.T) {
	var files Files = disk{}
	folder := filepath.Join(temp(t), "folder")
	a, b := filepath.Join(folder, "a"), filepath.Join(folder, "b")
	names, err := files.List(folder)
	require.NoError(t, err)
	assert.Empty(t, names)
	_, _, err = files.Read(a, 10)
	assert.ErrorIs(t, err, fs.ErrNotExist)
	require.NoError(t, files.Remove(a))
	require.NoError(t, files.Make(folder, true))
	require.NoError(t, files.Make(folder, true), "once or twice")

	require.NoError(t, files.Write(b, text("one\ntwo")))
	require.NoError(t, files.Write(a, text("")))
	require.NoError(t, files.Write(b, text("two\nthree")))
	half := errors.New("half")
	require.ErrorIs(t, files.Write(a, func(w io.Writer) error {
		_, err := io.WriteString(w, "x")
		require.NoError(t, err)
		return half
	}), half)
	names, err = files.List(folder)
	require.NoError(t, err)
	assert.Equal(t, []string{"a", "b"}, names)
	for path, want := range map[string]string{a: "", b: "two\nthree"} {
		data, changed, err := files.Read(path, 9)
		require.NoError(t, err)
		assert.Equal(t, want, string(data))
		assert.False(t, changed.IsZero())
	}
	data, _, err := files.Read(b, 3)
	require.NoError(t, err)
	assert.Equal(t, "two\n", string(data), "one more than asked for")

	ran := false
	require.NoError(t, files.Alone(a, func() error { ran = true; return nil }))
	assert.True(t, ran)
	require.ErrorIs(t, files.Alone(a, func() error { return half }), half)
	require.NoError(t, files.Remove(a))
	_, _, err = files.Read(a, 10)
	assert.ErrorIs(t, err, fs.ErrNotExist)
}

// folding is a disk that does not tell large letters of a name from small ones.
type folding struct{ disk }

func folded(path string) string {
	return filepath.Join(filepath.Dir(path), strings.ToLower(filepath.Base(path)))
}

func (f folding) Read(path string, most int) ([]byte, time.Time, error) {
	return f.disk.Read(folded(path), most)
}

func (f folding) Write(path string, write func(io.Writer) error) error {
	return f.disk.Write(folded(path), write)
}

// Where names differ in the size of their letters alone, none is written over unasked.
func TestNamesThatDifferInSize(t *testing.T) {
	s := storeIn(temp(t))
	s.files = folding{}
	require.NoError(t, s.Save(s.New(begun(t), ""), "Scene", false))
	assert.ErrorIs(t, s.Save(s.New(begun(t), ""), "SCENE", false), fs.ErrExist)
	require.NoError(t, s.Save(s.New(begun(t), ""), "SCENE", true))
}
