package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"io/fs"
	"maps"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"twincord/cmd/internal/call"
	"twincord/cmd/internal/made"
	"twincord/render"
	"twincord/render/desk"
	"twincord/render/display"
	"twincord/render/raster"
	"twincord/render/window"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
)

// settingsKey is under which the store keeps the window's settings.
const settingsKey = "window"

// screenKey is under which it keeps on which screen the editing window is.
const screenKey = "screen"

// Run opens the window: to edit a scene, or to follow what another one edits.
func (p *program) Run(s *call.Streams) error {
	folders, err := document.UserFolders()
	if err != nil {
		return err
	}
	store := document.NewStore(folders)
	var settings desk.Settings
	known, unreadable := store.Setting(settingsKey, &settings)
	say, err := speaking(&settings)
	if err != nil {
		return err
	}
	if p.Screen < 0 {
		return call.Bad("--screen %d: screens are counted from 1", p.Screen)
	}
	o := options(store, say)
	o.Settings, o.First, o.Follow = settings, !known || !settings.Read, p.Follow
	if p.Follow {
		return p.follow(s, o, store)
	}
	return p.edit(s, o, store, unreadable)
}

// options are what a desk may ask of this computer.
func options(store *document.Store, say *words.Words) desk.Options {
	return desk.Options{
		Words: say, Store: store, Version: call.Version(),
		Keep: func(to desk.Settings) error { return store.Set(settingsKey, to) },
		Export: func(name string, l *display.List) ([]string, error) {
			kinds := map[string]func(io.Writer) error{}
			for ending, write := range made.Pictures {
				kinds[ending] = func(w io.Writer) error { return write(w, l) }
			}
			return into(store, name, kinds)
		},
		Sheet: func(name string, sc *scenes.Scene, id scenes.Identity, say *words.Words, prescriber string) ([]string, error) {
			sheet := made.Sheet(sc, id, say)
			sheet.Prescribed, sheet.Prescriber = prescriber != "", prescriber
			return into(store, name, map[string]func(io.Writer) error{".html": sheet.WriteHTML, ".pdf": sheet.WritePDF})
		},
		Page: func(name string, sc *scenes.Scene, id scenes.Identity, say *words.Words, prescriber string) ([]string, error) {
			page, err := made.Page(sc, id, say, prescriber)
			if err != nil {
				return nil, err
			}
			return into(store, name+", "+say.Label(words.ButtonPage), map[string]func(io.Writer) error{".html": page.Write})
		},
		Film: func(name string, sc *scenes.Scene, id scenes.Identity, say *words.Words, size desk.FilmSize, kind desk.FilmKind) desk.FilmJob {
			return beginFilm(store, name, sc, id, say, size, kind.Ending)
		},
		FilmKinds: filmKinds,
		Show:      showFile, Now: time.Now,
	}
}

// edit opens a window in which a scene is changed and kept. What was unreadable of the
// settings is as if it were new, and said.
func (p *program) edit(s *call.Streams, o desk.Options, store *document.Store, unreadable error) error {
	recovered, said, refused := p.open(s, &o, store)
	if refused != nil {
		if err := p.instead(s, &o, store, refused); err != nil {
			return err
		}
	}
	saver := store.NewSaver()
	o.Saver = saver
	d := desk.New(o)
	if recovered != nil {
		if err := keepAnew(recovered, saver, o.Document); err != nil {
			said = append(said, err.Error())
		}
	}
	if unreadable != nil {
		said = append(said, unreadable.Error())
	}
	if len(said) > 0 {
		d.Tell(strings.Join(said, " "))
	}
	if refused != nil {
		d.Warn(refused.Error())
	}
	// Whoever ends the program otherwise than by closing its window loses nothing either.
	ctx, stop := signal.NotifyContext(context.Background(), call.Stopping()...)
	defer stop()
	context.AfterFunc(ctx, window.Wake)
	w := watching{desk: d, kept: waking(saver.News())}
	on := ""
	var open scenes.Identity
	err := show(d, window.Place{Screen: p.Screen}, func() bool {
		w.look()
		if now := d.Document().Identity(); now != open {
			open = now
			_ = store.Shows(open) // else the family's screen has it once it is changed
		}
		if now := window.Screen(); now != on {
			on = now
			_ = store.Set(screenKey, on) // else the family's screen may be the same one
		}
		return ctx.Err() != nil
	})
	w.close()
	err = errors.Join(err, d.Close())
	if err == nil && refused != nil {
		return call.Ended(call.BadInput)
	}
	return errors.Join(refused, err)
}

// keepAnew keeps what was recovered, and only then takes away what it was recovered from.
func keepAnew(recovered *document.Recovered, saver *document.Saver, doc *document.Document) error {
	saver.Offer(doc.Snapshot())
	if err := saver.Flush(); err != nil {
		return err
	}
	return recovered.Discard()
}

// speaking gives the words of the settings, or else of the system.
func speaking(s *desk.Settings) (*words.Words, error) {
	language := s.Language
	if language == "" {
		language = words.Pick(os.Getenv("LC_ALL"), os.Getenv("LC_MESSAGES"), os.Getenv("LANG"))
	}
	say, err := words.For(language)
	if err != nil {
		if say, err = words.For("en"); err != nil {
			return nil, err
		}
	}
	return say.WithInches(s.Inches), nil
}

// show opens the window, and says what to do where it has no display to be on.
func show(d *desk.Desk, at window.Place, each func() (over bool)) error {
	window.SetIcon(icons())
	err := window.Run(d, at, each)
	if errors.Is(err, window.ErrNoDisplay) {
		return call.Bad("%w; twincord draw and twincord scenes draw make pictures without one", err)
	}
	return err
}

// icons are the program's icon in the sizes that windows show it in.
func icons() (all []image.Image) {
	for _, side := range []float64{16, 24, 32, 48, 64} {
		var l display.List
		render.Icon(&l, side)
		all = append(all, raster.Transparent(&l))
	}
	return all
}

// fileOf is the file that a scene is opened from, if it is one.
func fileOf(id scenes.Identity) (path string, err error) {
	if id.Origin != scenes.File {
		return "", nil
	}
	return filepath.Abs(id.Name)
}

// waking hands on what comes, and wakes the window for it.
func waking(from <-chan struct{}) <-chan struct{} {
	news := make(chan struct{}, 1)
	go func() {
		for range from {
			select {
			case news <- struct{}{}:
			default: // one that was not taken yet stands for both
			}
			window.Wake()
		}
	}()
	return news
}

// open opens what the window begins with, and says what there is to say of what was
// not saved earlier. What cannot be read hides nothing else.
func (p *program) open(s *call.Streams, o *desk.Options, store *document.Store) (recovered *document.Recovered, said []string, err error) {
	path := ""
	if p.Scene != "" {
		if path, err = fileOf(call.Identify(p.Scene)); err != nil {
			return nil, nil, err
		}
	}
	if p.Scene == "" || path != "" {
		var waiting []document.Recovered
		recovered, waiting, err = store.Start(path)
		said = unsaved(o.Words, recovered, waiting, err)
	}
	if recovered != nil {
		o.Document = recovered.Document()
		return recovered, said, nil
	}
	return nil, said, p.openLast(s, o, store)
}

// instead opens the first scene in the place of one that was refused, for the window to say
// why: whoever opened a file by a double click sees nothing else. Somebody at a terminal
// reads it there, at once.
func (p *program) instead(s *call.Streams, o *desk.Options, store *document.Store, refused error) error {
	if s.Watched {
		return refused
	}
	return p.openScene(s, o, store, scenes.DefaultName)
}

// unsaved is what there is to say of what was not saved earlier.
func unsaved(say *words.Words, recovered *document.Recovered, waiting []document.Recovered, err error) (said []string) {
	if recovered != nil {
		said = append(said, say.Label(words.RecoveredScene))
	}
	if len(waiting) > 0 {
		said = append(said, say.UnsavedWaiting(len(waiting)))
	}
	var aside document.Unreadable
	switch {
	case errors.As(err, &aside):
		said = append(said, say.UnsavedUnreadable(filepath.Dir(aside[0].File)))
	case err != nil:
		said = append(said, err.Error())
	}
	return said
}

// openLast opens the scene asked for, else the one used last, else the first.
func (p *program) openLast(s *call.Streams, o *desk.Options, store *document.Store) error {
	if p.Scene != "" {
		return p.openScene(s, o, store, p.Scene)
	}
	if recent, err := store.Recent(); err == nil {
		for _, path := range recent {
			if p.openScene(s, o, store, path) == nil {
				return nil
			}
		}
	}
	return p.openScene(s, o, store, scenes.DefaultName)
}

func (p *program) openScene(s *call.Streams, o *desk.Options, store *document.Store, name string) error {
	sc, id, err := call.Scene(name, s)
	if err != nil {
		return err
	}
	path, err := fileOf(id)
	if err != nil {
		return err
	}
	if path != "" {
		_ = store.Opened(path) // where it cannot be remembered it is opened all the same
	}
	o.Document = document.New(sc, path).From(id)
	o.Outside = path != "" && filepath.Dir(path) != store.Folder()
	return nil
}

// follow shows what another window has open: a file, or whichever scene changed last.
// Until there is one, that is the built-in scene asked for.
func (p *program) follow(s *call.Streams, o desk.Options, store *document.Store) error {
	name := cmp.Or(p.Scene, scenes.DefaultName)
	path, err := fileOf(call.Identify(name))
	if err != nil {
		return err
	}
	f, err := store.Follow(path)
	if err != nil {
		return call.AsBad(err)
	}
	defer func() { _ = f.Close() }() // it was but watched
	of, err := f.Scene()
	if errors.Is(err, fs.ErrNotExist) && path == "" {
		of = &document.Followed{}
		of.Scene, of.Identity, err = call.Scene(name, s)
	}
	if err != nil {
		return call.AsBad(err)
	}
	o.Document = document.New(of.Scene, "").From(of.Identity)
	d := desk.New(o)
	news := waking(f.C)
	at := window.Place{Screen: p.Screen}
	_, _ = store.Setting(screenKey, &at.Not) // what cannot be read keeps off no screen
	return show(d, at, func() bool {
		select {
		case <-news:
			if of, err := f.Scene(); err == nil {
				d.Show(of.Scene, of.Identity)
			}
		default:
		}
		return false
	})
}

// watching watches the file of the scene that is open, and its autosave.
type watching struct {
	desk *desk.Desk
	kept <-chan struct{} // news of the autosave
	path string
	w    *document.Watcher
	news <-chan struct{}
}

// look begins to watch another file when another is open, and hands on what has
// changed.
func (w *watching) look() {
	if path := w.desk.Document().Path(); path != w.path {
		w.close()
		w.path = path
		if path != "" {
			w.begin(path)
		}
	}
	select {
	case <-w.kept:
		w.desk.Autosaved()
	case <-w.news:
		w.desk.Reload()
	default:
	}
}

func (w *watching) begin(path string) {
	watcher, err := document.Watch(path)
	if err != nil {
		w.desk.Tell(err.Error())
		return
	}
	w.w, w.news = watcher, waking(watcher.C)
}

func (w *watching) close() {
	if w.w != nil {
		_ = w.w.Close() // nobody asks it any more
	}
	w.w, w.news = nil, nil
}

// into writes files of one name and several kinds into the folder of the scenes, under
// a name that none of them has yet, and gives their paths.
func into(store *document.Store, name string, kinds map[string]func(io.Writer) error) (files []string, err error) {
	scene, err := store.File(name)
	if err != nil {
		scene = filepath.Join(store.Folder(), "picture.toml")
	}
	base := strings.TrimSuffix(scene, filepath.Ext(scene))
	endings := slices.Sorted(maps.Keys(kinds))
	free := base
	taken := func(ending string) bool {
		_, err := os.Lstat(free + ending)
		return err == nil
	}
	for n := 2; slices.ContainsFunc(endings, taken); n++ {
		free = fmt.Sprintf("%s %d", base, n)
	}
	if err := os.MkdirAll(filepath.Dir(free), 0o755); err != nil {
		return nil, err
	}
	for _, ending := range endings {
		if err := document.Replace(free+ending, kinds[ending]); err != nil {
			return nil, err
		}
		files = append(files, free+ending)
	}
	return files, nil
}
