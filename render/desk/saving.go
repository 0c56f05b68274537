package desk

import (
	"errors"
	"io/fs"
	"path/filepath"
	"strings"
	"twincord/render/ui"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
)

// namePage asks under which name a scene is to be saved.
type namePage struct {
	name    *ui.TextField
	save    *ui.Button
	replace *ui.Button
	typed   string
	exists  bool // a scene of that name is there
}

// saveFile saves the scene to its file, or asks for a name where it has none.
func (d *Desk) saveFile() {
	if d.doc.Path() == "" {
		d.saveAs()
		return
	}
	d.keepFirst()
	if err := d.doc.Save(); err != nil {
		if errors.Is(err, document.ErrChanged) {
			d.saveAs()
			d.over.(*namePage).exists = true
		}
		d.unsavedFor(err)
		return
	}
	d.keptAs(d.doc.Path())
}

// keepFirst has the autosave hold what is about to be saved, so that nothing older is
// left beside the file should the program end between the two. Where that cannot be, the
// saver says so and saving goes on.
func (d *Desk) keepFirst() {
	d.save()
	if d.saver != nil {
		_ = d.saver.Flush()
	}
}

// unsavedFor says why something was not saved.
func (d *Desk) unsavedFor(err error) {
	switch document.TroubleOf(err) {
	case document.Changed:
		d.Tell(d.say.Label(words.SaveChanged))
	case document.Full:
		d.Tell(d.say.Label(words.SaveFull))
	case document.Denied:
		d.Tell(d.say.Label(words.SaveDenied))
	default:
		d.Tell(err.Error())
	}
}

// saveAs asks for a name.
func (d *Desk) saveAs() {
	if d.store == nil {
		d.Tell(d.say.Label(words.NoFolder))
		return
	}
	typed := d.told.Title(d.doc.Scene().Title)
	if p := d.doc.Path(); p != "" {
		typed = strings.TrimSuffix(filepath.Base(p), ".toml")
	}
	d.open(&namePage{typed: typed})
}

// keepTold makes a built-in scene what is shown of it: a file holds that, in whatever
// language it is read again.
func (d *Desk) keepTold() {
	d.doc.Edit("", func(sc *scenes.Scene) { *sc = *d.told.Scene(sc) })
}

// keptAs says where a scene was saved, and lets the autosave go.
func (d *Desk) keptAs(path string) {
	if d.saver != nil {
		d.saver.Offer(d.doc.Snapshot())
	}
	d.told = scenes.TranslationOf(d.identity(), d.say)
	d.saved = d.doc.Changes()
	d.Tell(d.say.SavedAs(path))
	d.remember(path)
}

func (s *namePage) title(d *Desk) string { return d.say.Label(words.SaveTitle) }

func (s *namePage) build(d *Desk) []ui.Widget {
	s.name = &ui.TextField{
		Base: ui.Base{Name: "name", Hint: d.say.Label(words.HintSaveName)},
		Get:  func() string { return s.typed }, Most: 80, Wide: 28, Allowed: d.say.Label(words.AllowedFileName),
	}
	s.name.Set = func(to string) bool {
		if _, err := d.store.File(strings.TrimSpace(to)); err != nil {
			return false
		}
		s.typed, s.exists = strings.TrimSpace(to), false
		return true
	}
	s.save = d.textButton("save", words.ButtonSaveIt, words.HintSaveIt, func() { s.write(d, false) })
	s.replace = d.textButton("replace", words.ButtonReplace, words.HintReplace, func() { s.write(d, true) })
	s.replace.Cannot = func() bool { return !s.exists }
	return []ui.Widget{s.name, s.save, s.replace}
}

// write saves under the name typed. A scene of that name is replaced only where that
// was asked for.
func (s *namePage) write(d *Desk, over bool) {
	s.name.Take()
	if s.name.Fault() != "" {
		return
	}
	d.keepTold()
	d.keepFirst()
	err := d.store.Save(d.doc, s.typed, over)
	switch {
	case errors.Is(err, fs.ErrExist):
		s.exists = true
		d.Tell(d.say.Label(words.SaveExists))
	case err != nil:
		s.exists = errors.Is(err, document.ErrChanged)
		d.unsavedFor(err)
	default:
		d.closeOverlay()
		d.keptAs(d.doc.Path())
	}
}

func (s *namePage) arrange(d *Desk, area display.Rect) {
	gap := theme.Unit * d.kit.Unit
	w, h := s.name.Size(&d.kit)
	y := area.Y + 4*d.kit.Style(theme.Body).Size
	s.name.Area = display.Rect{X: area.X, Y: y, W: min(w, area.W), H: h}
	y += h + 2*gap
	x := area.X
	for _, b := range []*ui.Button{s.save, s.replace} {
		w, h := b.Size(&d.kit)
		b.Area = display.Rect{X: x, Y: y, W: w, H: h}
		x += w + gap
	}
}

func (s *namePage) draw(d *Desk, l *display.List, area display.Rect) {
	st := d.kit.Muted(theme.Body)
	text := lettering.Ellipsis(st, d.say.SaveInto(d.store.Folder()), area.W)
	lettering.Draw(l, st, area.X, area.Y+1.4*st.Size, lettering.Start, text)
}

// sheet writes the take-home sheet of the routine into files.
func (d *Desk) sheet() {
	if d.given.Sheet == nil {
		d.Tell(d.say.Label(words.NoFolder))
		return
	}
	files, err := d.given.Sheet(d.heading(), d.doc.Scene(), d.identity(), d.say)
	if err != nil {
		d.Tell(err.Error())
		return
	}
	d.Tell(d.say.SavedAs(strings.Join(files, ", ")))
}

// export writes the picture as it is shown into files.
func (d *Desk) export() {
	if d.given.Export == nil {
		d.Tell(d.say.Label(words.NoFolder))
		return
	}
	var l display.List
	frame := d.layout.picture
	if d.family || frame.W <= 0 {
		frame = display.Rect{W: 1280, H: 800}
	}
	page := d.layout.picture
	l.Reset(frame.W, frame.H, d.kit.Theme.Ground)
	l.Title = d.Title()
	d.layout.picture = render.Bounded(&l, display.Rect{W: frame.W, H: frame.H}, d.say.Label(words.PictureBounds), d.kit.Theme)
	d.drawPicture(&l)
	d.layout.picture = page
	files, err := d.given.Export(d.heading(), &l)
	if err != nil {
		d.Tell(err.Error())
		return
	}
	d.Tell(d.say.SavedAs(strings.Join(files, ", ")))
}
