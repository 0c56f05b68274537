package main

import (
	"cmp"
	"context"
	"errors"
	"io"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"

	"twincord/cmd/internal/made"
	"twincord/render/desk"
	"twincord/render/film"
	"twincord/render/window"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
)

// filmJob is a film in the making, for the window that asked for it.
type filmJob struct {
	cancel context.CancelFunc
	mu     sync.Mutex
	done   int
	of     int
	files  []string
	err    error
	over   bool
}

// beginFilm begins a film of the scene as it stands, in the background.
func beginFilm(store *document.Store, name string, sc *scenes.Scene, id scenes.Identity, say *words.Words, size desk.FilmSize, kind string) *filmJob {
	ctx, cancel := context.WithCancel(context.Background())
	j := &filmJob{cancel: cancel}
	shown := *sc
	go func() {
		files, err := j.write(ctx, store, name, &shown, id, say, size, kind)
		if errors.Is(err, context.Canceled) {
			err = errors.New(say.Label(words.FilmStopped))
		}
		j.mu.Lock()
		j.files, j.err, j.over = files, err, true
		j.mu.Unlock()
		window.Wake()
	}()
	return j
}

// filmKinds are the kinds of films that this computer can make. An MP4 needs something
// that moves.
func filmKinds(moves bool) (all []desk.FilmKind) {
	for _, ending := range film.Endings() {
		if as, ok := film.Of(ending); ok && as.Ready() == nil && (moves || as != film.MP4) {
			all = append(all, desk.FilmKind{Name: as.String(), Ending: ending})
		}
	}
	return all
}

func (j *filmJob) write(ctx context.Context, store *document.Store, name string, sc *scenes.Scene, id scenes.Identity, say *words.Words, size desk.FilmSize, kind string) ([]string, error) {
	as, _ := film.Of(kind)
	r, err := made.Film(sc, id, say, size.W, size.H, as.UsualRate()).Reel()
	if err != nil {
		return nil, err
	}
	f := r.Film()
	if err := cmp.Or(f.Validate(as), as.Ready()); err != nil {
		return nil, err
	}
	j.progress(0, f.Frames)
	return into(store, name, map[string]func(io.Writer) error{
		kind: func(w io.Writer) error {
			return f.Write(ctx, w, as, func(done int) { j.progress(done, f.Frames) })
		},
	})
}

func (j *filmJob) progress(done, of int) {
	j.mu.Lock()
	j.done, j.of = done, of
	j.mu.Unlock()
}

// Progress says how many frames are done.
func (j *filmJob) Progress() (done, of int) {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.done, j.of
}

// Result gives the file, once it is written, or why it was not.
func (j *filmJob) Result() (files []string, err error, over bool) {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.files, j.err, j.over
}

// Stop stops it; nothing is left of what was written.
func (j *filmJob) Stop() { j.cancel() }

// showFile opens a file, or the folder that it is in, with what the system has for it.
func showFile(file string, folder bool) error {
	if folder {
		file = filepath.Dir(file)
	}
	program, args := "xdg-open", []string{file}
	switch runtime.GOOS {
	case "windows":
		program, args = "rundll32", []string{"url.dll,FileProtocolHandler", file}
	case "darwin":
		program = "open"
	}
	c := exec.Command(program, args...)
	if err := c.Start(); err != nil {
		return err
	}
	go func() { _ = c.Wait() }() // it goes on by itself
	return nil
}
