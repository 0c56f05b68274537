package desk

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/ui"
	"twincord/scenes"
	"twincord/scenes/document"
	"twincord/sim"
)

// When something was kept is told with its day where that is another.
func TestWhenSomethingWasKept(t *testing.T) {
	at := time.Date(2026, 3, 4, 9, 5, 0, 0, time.UTC)
	clockAt := func(to time.Time) func() time.Time { return func() time.Time { return to } }
	assert.Equal(t, "09:05", clock(at, clockAt(at.Add(12*time.Hour))))
	assert.Equal(t, "2026-03-04 09:05", clock(at, clockAt(at.Add(24*time.Hour))), "the same time of another day")
	assert.Equal(t, "2026-03-04 09:05", clock(at, nil))
}

// What somebody was sent opens simply; one's own scenes, from wherever they are opened,
// do not.
func TestWhatWasSentOpensSimply(t *testing.T) {
	p, store := shelved(t, nil)
	sc, _, err := scenes.Open("eye-higher")
	require.NoError(t, err)
	own := document.New(sc, "")
	require.NoError(t, store.Save(own, "own", false))
	sent := document.New(sc, "")
	require.NoError(t, sent.SaveAs(filepath.Join(t.TempDir(), "sent.toml")))
	for _, tt := range []struct {
		path            string
		outside, simple bool
	}{{own.Path(), false, false}, {own.Path(), true, false}, {sent.Path(), false, false}, {sent.Path(), true, true}} {
		p.desk.Open(document.New(sc, ""))
		p.desk.others = nil
		require.True(t, p.desk.openFile(tt.path, tt.outside))
		assert.Equal(t, tt.simple, p.desk.simple, "%+v", tt)
	}
}

// Whoever was sent a routine goes through it by Enter alone, from the picture to the end and
// back; Enter on what has the focus is for that, and without a routine it does nothing.
func TestEnterGoesThroughWhatWasSent(t *testing.T) {
	sc, _, err := scenes.Open("walk-of-ten")
	require.NoError(t, err)
	p := sitBefore(t, sc, "en", Settings{}, 1280, 800, 1)
	p.key(ui.KeyEnter)
	assert.Nil(t, p.desk.over, "one's own has its controls")
	p.desk.simple = true
	p.desk.dirty = true
	p.update()
	p.key(ui.KeyEnter)
	require.IsType(t, &practice{}, p.desk.over)
	for n := 0; p.desk.over != nil; n++ {
		require.Less(t, n, 100)
		p.key(ui.KeyEnter)
	}
	p.desk.kit.SetFocus(p.widget("deviation"))
	p.key(ui.KeyEnter)
	assert.Nil(t, p.desk.over)
	assert.True(t, p.desk.writing())

	p = sit(t, "middle-of-three")
	p.desk.simple = true
	p.desk.dirty = true
	p.update()
	p.key(ui.KeyEnter)
	assert.Nil(t, p.desk.over)
	assert.Empty(t, p.desk.News())
}

// What was set aside and is thrown away leaves nothing for the next start, and takes
// nothing else along.
func TestThrowingAwayWhatWasSetAside(t *testing.T) {
	var first document.Autosave
	p, store := shelved(t, func(o *Options) { first = o.Store.NewSaver(); o.Saver = first })
	change := func(to sim.Prism) {
		p.desk.edit("", func(s *sim.Setup) { s.Posture.Deviation = to })
		p.update()
		p.in.Seconds++
		p.update()
	}
	change(3)
	require.NoError(t, first.Flush())
	sc, id, err := scenes.Open("walk-of-ten")
	require.NoError(t, err)
	p.desk.Open(document.New(sc, "").From(id))
	change(4)
	require.Len(t, p.desk.others, 1)
	p.desk.openGallery()
	unsaved := p.desk.unsavedScenes()
	require.Len(t, unsaved, 2)
	unsaved[1].Discard()
	assert.Empty(t, p.desk.others)
	assert.Len(t, p.desk.unsavedScenes(), 1)
	require.NoError(t, p.desk.Close())
	left, err := store.Recover()
	require.NoError(t, err)
	require.Len(t, left, 1)
	assert.Equal(t, sim.Prism(4), left[0].Scene.Setup.Posture.Deviation)
}

// What a program left behind that is gone opens from the gallery, is kept anew, and only
// then goes from where it was.
func TestOpeningWhatWasLeftBehind(t *testing.T) {
	var own document.Autosave
	p, store := shelved(t, func(o *Options) { own = o.Store.NewSaver(); o.Saver = own })
	saver := store.NewSaver()
	left := document.New(p.desk.doc.Scene(), "")
	left.Edit("", func(sc *scenes.Scene) { sc.Setup.Posture.Deviation = 7 })
	saver.Offer(left.Snapshot())
	require.NoError(t, saver.Close())

	unsaved := p.desk.unsavedScenes()
	require.Len(t, unsaved, 1)
	unsaved[0].Open()
	p.update()
	assert.Equal(t, sim.Prism(7), p.setup().Posture.Deviation)
	assert.True(t, p.desk.doc.Dirty())
	assert.Empty(t, p.desk.News())
	found, err := store.Recover()
	require.NoError(t, err)
	assert.Empty(t, found, "it is this window's")
	require.NoError(t, p.desk.Close())
	found, err = store.Recover()
	require.NoError(t, err)
	require.Len(t, found, 1)
	assert.Equal(t, sim.Prism(7), found[0].Scene.Setup.Posture.Deviation)
	require.NoError(t, found[0].Discard())
}

// Settings that cannot be kept are told, once.
func TestSettingsThatCannotBeKept(t *testing.T) {
	tries := 0
	p, _ := shelved(t, func(o *Options) { o.Keep = func(Settings) error { tries++; return errors.New("no room for settings") } })
	p.desk.Light = true
	p.update()
	assert.Contains(t, p.desk.News(), "no room for settings")
	for range 3 {
		p.update()
	}
	assert.Equal(t, 1, tries)
}

// Four of the scenes used last are shown first, and those only that are still there.
func TestScenesUsedLast(t *testing.T) {
	p, store := shelved(t, nil)
	var names []string
	for i := range recentMost + 3 {
		sc, _, err := scenes.Open("eye-higher")
		require.NoError(t, err)
		sc.Title = fmt.Sprint("scene ", i)
		d := document.New(sc, "")
		require.NoError(t, store.Save(d, sc.Title, false))
		require.NoError(t, store.Opened(d.Path()))
		names = append(names, sc.Title)
	}
	titles := func(tiles []tile) (all []string) {
		for _, f := range tiles {
			all = append(all, f.Title)
		}
		return all
	}
	slices.Reverse(names)
	recent, yours := p.desk.storedScenes()
	assert.Equal(t, names[:recentMost], titles(recent))
	assert.ElementsMatch(t, names[recentMost:], titles(yours), "the others stand among all")
	require.NoError(t, os.Remove(filepath.Join(store.Folder(), names[1]+".toml")))
	recent, _ = p.desk.storedScenes()
	assert.Equal(t, append(names[:1:1], names[2:recentMost+1]...), titles(recent))
}

// A file that was set aside is not opened beside itself, be it the first or the last of
// those, and comes back with its history.
func TestWhatWasSetAsideComesBackByItsFile(t *testing.T) {
	p, store := shelved(t, nil)
	d := p.desk
	var paths []string
	for _, name := range []string{"one", "two", "three"} {
		sc, _, err := scenes.Open("middle-of-three")
		require.NoError(t, err)
		doc := document.New(sc, "")
		require.NoError(t, store.Save(doc, name, false))
		paths = append(paths, doc.Path())
		require.True(t, d.openFile(doc.Path(), false))
		d.setDeviation("", sim.Prism(len(paths)))
		p.update()
	}
	d.others = d.others[len(d.others)-2:]
	for range 2 {
		for i, path := range paths {
			require.True(t, d.openFile(path, false))
			assert.Equal(t, path, d.doc.Path())
			assert.Equal(t, sim.Prism(i+1), p.setup().Posture.Deviation)
			assert.True(t, d.doc.CanUndo())
			assert.Len(t, d.others, 2)
		}
	}
}

// What is dropped on the window and is no scene is not opened, and says why.
func TestDroppingWhatIsNoScene(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	was := p.desk.doc
	p.desk.Drop("a.toml", []byte("format = 9\n"))
	assert.Same(t, was, p.desk.doc)
	assert.Contains(t, p.desk.News(), "a.toml")
	assert.True(t, p.desk.news.bad)
}
