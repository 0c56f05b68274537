package document

import (
	"errors"
	"io"
	"io/fs"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// browser is what a browser keeps for a page, up to a size.
type browser struct {
	mu    sync.Mutex
	texts map[string]string
	most  int
}

func (b *browser) Get(key string) (string, bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	text, ok := b.texts[key]
	return text, ok
}

func (b *browser) Set(key, value string) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	size := len(value) - len(b.texts[key])
	for _, text := range b.texts {
		size += len(text)
	}
	if size > b.most {
		return ErrFull
	}
	b.texts[key] = value
	return nil
}

func (b *browser) Remove(key string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	delete(b.texts, key)
}

func (b *browser) Keys() (keys []string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for key := range b.texts {
		keys = append(keys, key)
	}
	return keys
}

func newBrowser() *browser { return &browser{texts: map[string]string{}, most: 1 << 20} }

// The files of a disk and those of a page are the same to those who use them.
func TestFiles(t *testing.T) {
	for name, files := range map[string]Files{"disk": disk{}, "page": page{newBrowser()}} {
		t.Run(name, func(t *testing.T) {
			folder := filepath.Join(t.TempDir(), "folder")
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
		})
	}
}

// A page keeps scenes, settings and what is not saved as a disk does; once it is opened
// again all is there.
func TestPageStore(t *testing.T) {
	kept := newBrowser()
	s := NewPageStore(kept)
	d := s.New(begun(t), "")
	d.Edit("", titled("saved"))
	require.NoError(t, s.Save(d, "a", false))
	assert.ErrorIs(t, s.Save(s.New(begun(t), ""), "a", false), fs.ErrExist)
	require.NoError(t, s.Opened(d.Path()))
	require.NoError(t, s.Set("language", "es"))
	saver := s.NewSaver()
	d.Edit("", titled("unsaved"))
	offer(t, saver, d)
	assert.Empty(t, recovered(t, s), "its saver is there")

	again := NewPageStore(kept)
	items, err := again.Scenes()
	require.NoError(t, err)
	require.Len(t, items, 1)
	assert.Equal(t, "saved", items[0].Scene.Title)
	var language string
	_, err = again.Setting("language", &language)
	require.NoError(t, err)
	assert.Equal(t, "es", language)
	goOn, waiting, err := again.Start("")
	require.NoError(t, err)
	require.NotNil(t, goOn)
	assert.Empty(t, waiting)
	r := goOn.Document()
	assert.Equal(t, "unsaved", r.Scene().Title)
	require.NoError(t, r.Save())
	offer(t, again.NewSaver(), r)
	assert.Empty(t, recovered(t, again))

	require.NoError(t, kept.Set(filepath.Join(again.autosaveFolder(), "7.toml"), "not of this page"))
	_, err = again.Recover()
	assert.ErrorAs(t, err, new(Unreadable))
	assert.Empty(t, recovered(t, again))

	kept.most = 0
	r.Edit("", titled("no room"))
	err = r.Save()
	assert.Equal(t, Full, TroubleOf(err))
	opened, err := again.Open(r.Path())
	require.NoError(t, err)
	assert.Equal(t, "unsaved", opened.Scene().Title)
}

// folding is a place that does not tell large letters from small ones.
type folding struct{ *browser }

func (f folding) Get(key string) (string, bool) { return f.browser.Get(strings.ToLower(key)) }

func (f folding) Set(key, value string) error { return f.browser.Set(strings.ToLower(key), value) }

// Where names differ in the size of their letters alone, none is written over unasked.
func TestNamesThatDifferInSize(t *testing.T) {
	s := NewPageStore(folding{newBrowser()})
	require.NoError(t, s.Save(s.New(begun(t), ""), "Scene", false))
	assert.ErrorIs(t, s.Save(s.New(begun(t), ""), "SCENE", false), fs.ErrExist)
	require.NoError(t, s.Save(s.New(begun(t), ""), "SCENE", true))
}
