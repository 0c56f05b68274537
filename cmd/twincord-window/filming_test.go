package main

import (
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/desk"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
)

// ended waits until a film is made, or is not going to be.
func ended(t *testing.T, j *filmJob) ([]string, error) {
	for end := time.Now().Add(5 * time.Minute); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		if files, err, over := j.Result(); over {
			return files, err
		}
	}
	require.Fail(t, "the film does not end")
	return nil, nil
}

// A film from the window is written beside the scenes; one that is stopped leaves
// nothing.
func TestFilmFromTheWindow(t *testing.T) {
	folder := t.TempDir()
	store := document.NewStore(document.Folders{Scenes: folder, State: t.TempDir()})
	say, err := words.For("en")
	require.NoError(t, err)
	sc, id, err := scenes.Open("jumps-of-three")
	require.NoError(t, err)
	hold := sc.Routine.Value.Hold
	j := beginFilm(store, "Jumps", sc, id, say, desk.FilmSize{W: 160, H: 120}, ".gif")
	files, err := ended(t, j)
	require.NoError(t, err)
	require.Equal(t, []string{filepath.Join(folder, "Jumps.gif")}, files)
	assert.FileExists(t, files[0])
	done, of := j.Progress()
	assert.Equal(t, of, done)
	assert.Equal(t, hold, sc.Routine.Value.Hold, "the scene stays as it is")

	j = beginFilm(store, "Stopped", sc, id, say, desk.FilmSize{W: 1920, H: 1080}, ".png")
	j.Stop()
	_, err = ended(t, j)
	assert.EqualError(t, err, say.Label(words.FilmStopped))
	left, err := filepath.Glob(filepath.Join(folder, "Stopped*"))
	require.NoError(t, err)
	assert.Empty(t, left)
}

// Only what this computer can make is offered.
func TestFilmKinds(t *testing.T) {
	names := func(moves bool) (all []string) {
		for _, k := range filmKinds(moves) {
			all = append(all, k.Name)
		}
		return all
	}
	assert.NotContains(t, names(false), "MP4")
	t.Setenv("PATH", t.TempDir())
	assert.Equal(t, []string{"WebP", "GIF", "APNG"}, names(true))
}
