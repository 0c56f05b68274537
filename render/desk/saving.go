package desk

import (
	"errors"
	"io/fs"
	"math"
	"strings"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
)

// namePanel asks under which name a scene is to be saved. The name becomes its title.
type namePanel struct {
	name    *ui.TextField
	save    *ui.Button
	replace *ui.Button
	theirs  *ui.Button
	typed   string
	clash   clash
	about   []string // what there is to know, in lines
}

// clash is what saving would cost somebody.
type clash uint8

const (
	noClash   clash = iota
	nameTaken       // another scene has the name
	changed         // another program has changed the file of the scene
)

// saveFile saves the scene to its file, or asks for a name where it has none.
func (d *Desk) saveFile() {
	if d.doc.Path() == "" {
		d.saveAs()
		return
	}
	d.keepFirst()
	if err := d.doc.Save(); err != nil {
		if errors.Is(err, document.ErrChanged) {
			d.askName(changed)
			return
		}
		d.unsavedFor(err)
		return
	}
	d.keptAs(d.doc.Path())
}

// keepFirst has the unsaved state on the disk before it is saved: whenever the program
// ends, one of the two is whole, and what is left is not older.
func (d *Desk) keepFirst() {
	d.save()
	if d.saver != nil {
		_ = d.saver.Flush()
	}
}

// unsavedFor says why the scene is not saved.
func (d *Desk) unsavedFor(err error) {
	switch document.TroubleOf(err) {
	case document.Full:
		d.Warn(d.say.Label(words.SaveFull))
	case document.Denied:
		d.Warn(d.say.Label(words.SaveDenied))
	default:
		d.Warn(err.Error())
	}
}

// saveAs asks for a name, the one that there is selected to be typed over.
func (d *Desk) saveAs() { d.askName(noClash) }

func (d *Desk) askName(c clash) {
	if d.store == nil {
		d.Warn(d.say.Label(words.NoFolder))
		return
	}
	s := &namePanel{typed: d.told.Title(d.doc.Scene().Title), clash: c}
	d.open(s)
	d.kit.SetFocus(s.name)
	s.name.Begin()
}

// keptAs says where a scene was saved, and lets the autosave go.
func (d *Desk) keptAs(path string) {
	if d.saver != nil {
		d.saver.Offer(d.doc.Snapshot())
	}
	d.told = scenes.TranslationOf(d.doc.Identity(), d.say)
	d.saved = d.doc.Changes()
	d.Tell(d.say.SavedAs(path))
	d.remember(path)
}

func (s *namePanel) title(d *Desk) string { return d.say.Label(words.SaveTitle) }

func (s *namePanel) build(d *Desk) []ui.Widget {
	s.name = &ui.TextField{
		Base: ui.Base{Name: "name", Hint: d.say.Label(words.HintSaveName)},
		Get:  func() string { return s.typed }, Most: 80, Wide: 20, Allowed: d.say.Label(words.AllowedFileName),
	}
	s.name.Set = func(to string) bool {
		if _, err := d.store.File(strings.TrimSpace(to)); err != nil {
			return false
		}
		s.typed = strings.TrimSpace(to)
		if s.clash == nameTaken {
			s.clash = noClash
		}
		return true
	}
	s.name.Enter = func() { s.write(d, false) }
	s.save = d.textButton("save it", words.ButtonSaveIt, words.HintSaveIt, func() { s.write(d, false) })
	s.replace = d.textButton("replace", words.ButtonReplace, words.HintReplace, func() {
		if s.clash == changed {
			s.wrote(d, d.doc.SaveOver())
		} else {
			s.write(d, true)
		}
	})
	s.theirs = d.textButton("theirs", words.ButtonTheirs, words.HintTheirs, func() { s.takeTheirs(d) })
	return []ui.Widget{s.name, s.save, s.replace, s.theirs}
}

// takeTheirs takes over what the file holds now, as a step that can be undone.
func (s *namePanel) takeTheirs(d *Desk) {
	if _, err := d.doc.Theirs(); err != nil {
		d.Warn(err.Error())
		return
	}
	d.closeOverlay()
	d.Tell(d.say.Label(words.Reloaded))
}

// write saves under the name typed. A scene of that name is replaced only where that
// was asked for.
func (s *namePanel) write(d *Desk, over bool) {
	s.name.Take()
	if s.name.Fault() != "" {
		return
	}
	changed := d.doc.Edit("", func(sc *scenes.Scene) {
		*sc = *d.told.Scene(sc) // a file is as it was shown
		sc.Title = s.typed
		if before := d.doc.Identity(); before.Origin == scenes.BuiltIn && d.outdated() {
			sc.Note = "" // it tells of the example, which this no longer is
		}
	})
	d.keepFirst()
	err := d.store.Save(d.doc, s.typed, over)
	if err != nil && changed {
		d.doc.Undo()
	}
	s.wrote(d, err)
}

// wrote goes on from a try to save.
func (s *namePanel) wrote(d *Desk, err error) {
	switch {
	case errors.Is(err, fs.ErrExist):
		s.clash = nameTaken
		d.kit.SetFocus(s.replace)
	case errors.Is(err, document.ErrChanged):
		s.clash = changed
	case err != nil:
		d.unsavedFor(err)
	default:
		d.closeOverlay()
		d.keptAs(d.doc.Path())
	}
}

func (s *namePanel) need(d *Desk, width float64) float64 {
	st, text := s.note(d)
	s.about = lettering.Wrap(st, text, width)
	h := d.kit.Tall() + float64(len(s.about))*lettering.LineHeight(st) + 2*theme.Unit*d.kit.Unit
	if s.clash != noClash {
		h += d.kit.Tall()
	}
	return h
}

// note is what there is to know: where it is saved, or what saving would cost.
func (s *namePanel) note(d *Desk) (lettering.Style, string) {
	switch s.clash {
	case nameTaken:
		return d.kit.Style(theme.Body), d.say.Label(words.SaveExists)
	case changed:
		return d.kit.Style(theme.Body), d.say.Label(words.SaveChanged)
	}
	return d.kit.Muted(theme.Small), d.say.SaveInto(d.store.Folder())
}

// arrange puts what a clash leaves to choose between into a row above the one that saves.
func (s *namePanel) arrange(d *Desk, area display.Rect) {
	s.name.Area = display.Rect{X: area.X, Y: area.Y, W: area.W, H: d.kit.Tall()}
	w, h := s.save.Size(&d.kit)
	s.save.Area = display.Rect{X: area.X, Y: area.Y + area.H - h, W: w, H: h}
	x := area.X
	for _, b := range []*ui.Button{s.replace, s.theirs} {
		if s.clash == noClash || b == s.theirs && s.clash != changed {
			continue
		}
		w, h := b.Size(&d.kit)
		b.Area = display.Rect{X: x, Y: s.save.Area.Y - h, W: w, H: h}
		x += w + theme.Unit*d.kit.Unit
	}
}

func (s *namePanel) draw(d *Desk, l *display.List, _ display.Rect) {
	st, _ := s.note(d)
	drawLines(l, st, s.name.Area.X, s.name.Area.Y+s.name.Area.H+theme.Unit*d.kit.Unit, s.about)
}

// drawLines draws lines of text one under the other, from the top on.
func drawLines(l *display.List, st lettering.Style, x, top float64, lines []string) {
	y := top + lettering.Ascent(st)
	for _, line := range lines {
		lettering.Draw(l, st, x, y, lettering.Start, line)
		y += lettering.LineHeight(st)
	}
}

// menuNames are the commands of the menu.
var menuNames = [...]string{"save-as", "export", "sheet", "page", "film", "practise", "cases", "keys", "about", "language"}

// menu is the button with everything that becomes a file, and what there is to read.
func (d *Desk) menu() *ui.Menu {
	m := &ui.Menu{
		Base: ui.Base{Name: "menu", Hint: d.say.Label(words.HintMenu)}, Text: d.say.Label(words.ButtonMenu), Icon: menuSign,
		Pick: func(i int) { d.run(d.command(menuNames[i])) },
	}
	m.Items = func() []ui.Item {
		var items []ui.Item
		for _, name := range menuNames {
			c := d.command(name)
			text := d.say.Label(c.label)
			if name == "language" { // as it calls itself, for those who read no other
				text = words.LanguageNames()[d.nextLanguage()]
			}
			items = append(items, ui.Item{
				Text: text, Hint: d.say.Label(c.hint), Note: d.keysOf(c), Off: c.off != nil && c.off(d),
			})
		}
		return items
	}
	return m
}

// sheet writes the take-home sheet of the routine.
func (d *Desk) sheet() { d.handOut(d.given.Sheet) }

// familyPage writes the page with the simulator of the scene in it.
func (d *Desk) familyPage() { d.handOut(d.given.Page) }

// handOut writes what a family takes home, and asks first who prescribed it where the
// scene needs care.
func (d *Desk) handOut(h Handout) {
	switch {
	case h == nil:
		d.Warn(d.say.Label(words.NoFolder))
	case d.doc.Scene().Setup.NeedsCare():
		d.askPrescriber(h)
	default:
		d.writeHandout(h, "")
	}
}

// writeHandout writes it into files.
func (d *Desk) writeHandout(h Handout, prescriber string) {
	files, err := h(d.heading(), d.doc.Scene(), d.doc.Identity(), d.say, prescriber)
	if err != nil {
		d.Warn(err.Error())
		return
	}
	d.wrote(files)
}

// export writes the picture as it is shown into files.
func (d *Desk) export() {
	if d.given.Export == nil {
		d.Warn(d.say.Label(words.NoFolder))
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
		d.Warn(err.Error())
		return
	}
	d.wrote(files)
}

// FilmJob is a film in the making.
type FilmJob interface {
	// Progress says how many frames are done, of how many; 0 while that is not known.
	Progress() (done, of int)
	// Result gives the files that were written, or why none were, once it is over.
	Result() (files []string, err error, over bool)
	Stop()
}

// FilmSize is a size of film that is offered, pixels.
type FilmSize struct{ W, H int }

// FilmKind is a kind of file.
type FilmKind struct{ Name, Ending string }

// filmSizes are those offered: the first is the one of telephones and of what is read beside
// the picture.
var filmSizes = []FilmSize{{960, 720}, {960, 540}, {1280, 720}, {1920, 1080}}

// filmPanel asks how large a film is to be, and shows how far it is.
type filmPanel struct {
	size, kind *ui.Choice
	kinds      []FilmKind
	make       *ui.Button
	chosen     [2]int
	job        FilmJob
	labels     [2]string
}

// film asks for a film of the routine, or of a while of the set-up.
func (d *Desk) film() {
	if d.given.Film == nil {
		d.Warn(d.say.Label(words.NoFolder))
		return
	}
	f := &filmPanel{kinds: d.given.FilmKinds(d.moves || d.doc.Scene().Routine.OK)}
	d.open(f)
	d.kit.SetFocus(f.make)
	d.kit.Ring = true
}

func (f *filmPanel) title(d *Desk) string { return d.say.Label(words.FilmTitle) }

func (f *filmPanel) build(d *Desk) []ui.Widget {
	choice := func(name string, label words.Label, at *int, texts []string) *ui.Choice {
		return &ui.Choice{
			Base: ui.Base{Name: name, Label: d.say.Label(label), Hint: d.say.Label(words.HintFilm)}, Texts: texts,
			Get: func() int { return *at }, Set: func(i int) { *at = i },
		}
	}
	var sizes []string
	for _, z := range filmSizes {
		sizes = append(sizes, d.say.Number(float64(z.W), 0)+" × "+d.say.Number(float64(z.H), 0))
	}
	f.size = choice("film size", words.FilmSize, &f.chosen[0], sizes)
	f.size.Folded = true
	var kinds []string
	for _, k := range f.kinds {
		kinds = append(kinds, k.Name)
	}
	f.kind = choice("film kind", words.FilmKind, &f.chosen[1], kinds)
	f.labels = [2]string{f.size.Label, f.kind.Label}
	f.make = d.textButton("make film", words.FilmMake, words.HintFilmMake, func() {
		d.kit.SetFocus(d.overs[len(d.overs)-1]) // what closes the panel stops the film
		f.job = d.given.Film(d.heading(), d.doc.Scene(), d.doc.Identity(), d.say, filmSizes[f.chosen[0]], f.kinds[f.chosen[1]])
	})
	f.make.Cannot = func() bool { return f.job != nil }
	return []ui.Widget{f.size, f.kind, f.make}
}

func (f *filmPanel) runs() bool { return f.job != nil }

// tick looks how far the film is, and closes the panel when it is made.
func (f *filmPanel) tick(d *Desk) bool {
	if f.job == nil {
		return false
	}
	files, err, over := f.job.Result()
	if !over {
		return true
	}
	f.job = nil
	if d.closeOverlay(); err != nil {
		d.Warn(err.Error())
	} else {
		d.wrote(files)
	}
	return true
}

// closed stops the film that nobody waits for any more.
func (f *filmPanel) closed(d *Desk) {
	if f.job != nil {
		f.job.Stop()
		d.Tell(d.say.Label(words.FilmStopped))
	}
}

func (f *filmPanel) need(d *Desk, _ float64) float64 { return 3*d.kit.Tall() + 2*theme.Unit*d.kit.Unit }

func (f *filmPanel) arrange(d *Desk, area display.Rect) {
	tall := d.kit.Tall()
	for i, c := range []*ui.Choice{f.size, f.kind} {
		w, h := c.Size(&d.kit)
		c.Area = display.Rect{X: area.X + area.W - w, Y: area.Y + float64(i)*tall, W: w, H: h}
		c.Off = f.job != nil
	}
	w, h := f.make.Size(&d.kit)
	f.make.Area = display.Rect{X: area.X, Y: area.Y + area.H - h, W: w, H: h}
}

func (f *filmPanel) draw(d *Desk, l *display.List, _ display.Rect) {
	k := &d.kit
	st := k.Style(theme.Body)
	pad := 3 * theme.Unit * k.Unit
	x, wide := d.layout.over.X+pad, d.layout.over.W-2*pad
	for i, c := range []*ui.Choice{f.size, f.kind} {
		lettering.Draw(l, st, x, c.Area.Y+c.Area.H/2+lettering.CapHeight(st)/2, lettering.Start, f.labels[i])
	}
	if f.job == nil {
		return
	}
	done, of := f.job.Progress()
	if of == 0 { // nothing is known yet
		return
	}
	y := f.kind.Area.Y + f.kind.Area.H + theme.Unit*k.Unit
	small := k.Muted(theme.Small)
	lettering.Draw(l, small, x, y+lettering.Ascent(small), lettering.Start, d.say.FilmGoesOn(done, of))
	bar := display.Rect{X: x, Y: math.Round(y + 1.5*small.Size), W: wide, H: 8 * k.Unit}
	k.Plate(l, bar, k.Theme.Raised)
	bar.W *= float64(done) / float64(of)
	if bar.W > bar.H {
		k.Plate(l, bar, k.Theme.Accent)
	}
}
