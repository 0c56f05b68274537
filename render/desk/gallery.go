package desk

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
	"twincord/sim"
)

// gallery shows the scenes that can be opened: what is not saved yet, those used last,
// those of the folder, routines and examples.
type gallery struct {
	tiles *ui.Tiles
	all   []tile
	find  *ui.TextField
	path  *ui.TextField
	words string // that are looked for
}

// tile is a scene with what is looked for in it.
type tile struct {
	ui.Tile
	text string
}

// recentMost is how many of the scenes used last are shown.
const recentMost = 4

// openGallery shows it.
func (d *Desk) openGallery() {
	g := &gallery{}
	d.open(g)
	d.kit.SetFocus(g.tiles) // arrows choose, and letters find, without a Tab before
}

func (g *gallery) title(d *Desk) string { return d.say.Label(words.GalleryOpen) }

func (g *gallery) build(d *Desk) []ui.Widget {
	g.tiles = &ui.Tiles{Scroll: ui.Scroll{Base: ui.Base{Name: "scenes", Hint: d.say.Label(words.HintGallery)}}, Gone: d.say.Label(words.ThrowAway)}
	g.find = &ui.TextField{
		Base: ui.Base{Name: "find", Hint: d.say.Label(words.HintFind)}, Empty: d.say.Label(words.FindScene),
		Get: func() string { return g.words }, Set: func(s string) bool { g.look(s); return true }, Most: 60, Wide: 14,
		Live: g.look,
	}
	g.find.Enter = func() {
		if g.found() {
			g.tiles.Tiles[g.tiles.Chosen].Open()
			return
		}
		d.kit.SetFocus(g.tiles)
	}
	g.find.Aside = func(p ui.Press) bool {
		along := map[ui.Key]ui.Key{ui.KeyUp: ui.KeyLeft, ui.KeyDown: ui.KeyRight} // which are the caret's here
		to, ok := along[p.Key]
		return ok && g.found() && g.tiles.Press(&d.kit, ui.Press{Key: to})
	}
	g.path = &ui.TextField{
		Base: ui.Base{Name: "path", Hint: d.say.Label(words.HintPath), Label: d.say.Label(words.LabelPath)},
		Get:  func() string { return "" }, Most: 400, Wide: 24, Allowed: d.say.Label(words.AllowedPath),
		Set: func(path string) bool { return d.openFile(strings.TrimSpace(path), true) },
	}
	g.all = d.scenes()
	g.filter()
	return []ui.Widget{g.tiles, g.find, g.path}
}

// look looks for other words.
func (g *gallery) look(words string) {
	if words != g.words {
		g.words = words
		g.filter()
	}
}

// found says whether something was looked for and is there, so that Enter opens it.
func (g *gallery) found() bool { return g.words != "" && len(g.tiles.Tiles) > 0 }

// filter shows the scenes that have all words that are looked for.
func (g *gallery) filter() {
	g.tiles.Tiles = nil
	wanted := strings.Fields(document.Fold(g.words))
	heading := ""
	for _, f := range g.all {
		if f.Heading != "" {
			heading = f.Heading
		}
		if slices.ContainsFunc(wanted, func(w string) bool { return !strings.Contains(f.text, w) }) {
			continue
		}
		t := f.Tile
		t.Heading, heading = heading, ""
		g.tiles.Tiles = append(g.tiles.Tiles, t)
	}
	g.tiles.Chosen, g.tiles.Top = 0, 0
}

// typed begins to look for what is typed.
func (g *gallery) typed(d *Desk, c rune) {
	d.kit.SetFocus(g.find)
	g.find.Typed(&d.kit, c)
}

func (g *gallery) arrange(d *Desk, area display.Rect) {
	gap := theme.Unit * d.kit.Unit
	w, h := g.find.Size(&d.kit)
	close := d.overs[len(d.overs)-1].Self().Area
	w = min(w, 0.4*area.W)
	g.find.Area = display.Rect{X: close.X - w - 2*gap, Y: close.Y, W: w, H: h}
	label := lettering.Width(d.kit.Muted(theme.Body), g.path.Label) + 2*gap
	g.path.Area = display.Rect{X: area.X + label, Y: area.Y + area.H - h, W: area.W - label, H: h}
	g.tiles.Area = display.Rect{X: area.X, Y: area.Y, W: area.W, H: area.H - h - gap}
	g.tiles.Due = g.found() && g.find.Open() && ui.Is(d.kit.Focus, g.find)
	g.tiles.Lay(&d.kit)
}

func (g *gallery) draw(d *Desk, l *display.List, area display.Rect) {
	st := d.kit.Muted(theme.Body)
	r := g.path.Area
	lettering.Draw(l, st, area.X, r.Y+r.H/2+lettering.CapHeight(st)/2, lettering.Start, g.path.Label)
	if len(g.tiles.Tiles) == 0 {
		lettering.Draw(l, st, area.X, area.Y+3*st.Size, lettering.Start, d.say.Label(words.FindNothing))
	}
}

// scenes are all scenes that can be opened, each once, under their headings.
func (d *Desk) scenes() []tile {
	var all []tile
	under := func(l words.Label, group []tile) {
		if len(group) > 0 {
			group[0].Heading = d.say.Label(l)
			all = append(all, group...)
		}
	}
	under(words.HeadUnsaved, d.unsavedScenes())
	recent, yours := d.storedScenes()
	under(words.HeadRecent, recent)
	under(words.HeadYours, yours)
	var routines, examples []tile
	for _, e := range scenes.Library() {
		id := scenes.Identify(e.Name)
		f := d.show(id, e.Scene)
		f.Open = func() { d.Open(document.New(e.Scene, "").From(id)) }
		if e.Scene.Routine.OK {
			routines = append(routines, f)
		} else {
			examples = append(examples, f)
		}
	}
	under(words.HeadRoutines, routines)
	under(words.HeadExamples, examples)
	return all
}

// unsavedScenes are those that are open in this window and not saved, and those that
// programs left behind which are gone.
func (d *Desk) unsavedScenes() (all []tile) {
	if d.doc.Dirty() {
		all = append(all, d.openScene())
	}
	for _, o := range d.others {
		if !o.doc.Dirty() {
			continue
		}
		f := d.show(o.doc.Identity(), o.doc.Scene())
		f.Note, f.Open = d.say.Label(words.OpenNow), func() { d.bringBack(o) }
		f.Discard = func() {
			o.discard()
			d.others = slices.DeleteFunc(d.others, func(other *kept) bool { return other == o })
			d.rebuild()
		}
		all = append(all, f)
	}
	if d.store == nil {
		return all
	}
	left, _ := d.store.Recover() // one that cannot be read stays, and hides no other
	for i := range left {
		r := &left[i]
		f := d.show(r.Identity(), r.Scene)
		f.Note = d.say.UnsavedAt(clock(r.Kept, d.given.Now))
		f.Open = func() { d.recover(r) }
		f.Discard = func() {
			if err := r.Discard(); err != nil {
				d.Warn(err.Error())
			}
			d.rebuild()
		}
		all = append(all, f)
	}
	return all
}

// openScene is the tile of the scene that is open and not saved. To throw it away is a
// step that can be undone: back to what was opened or saved.
func (d *Desk) openScene() tile {
	f := d.show(d.doc.Identity(), d.doc.Scene())
	f.Note, f.Open = d.say.Label(words.OpenNow), d.closeOverlay
	if saved := d.doc.Snapshot().Saved; saved != nil {
		f.Discard = func() {
			d.doc.Edit("", func(sc *scenes.Scene) { *sc = *saved })
			d.rebuild()
		}
	}
	return f
}

// clock is when something was, with the day where that is not today.
func clock(at time.Time, now func() time.Time) string {
	if now != nil && now().Format(time.DateOnly) == at.Format(time.DateOnly) {
		return at.Format("15:04")
	}
	return at.Format("2006-01-02 15:04")
}

// rebuild makes the gallery anew, as after one of its scenes was thrown away.
func (d *Desk) rebuild() {
	if g, ok := d.over.(*gallery); ok {
		top, chosen := g.tiles.Top, g.tiles.Chosen
		d.kit.Release()
		d.buildOverlay()
		g.tiles.Top, g.tiles.Chosen = top, chosen
		d.kit.SetFocus(g.tiles)
	}
	d.dirty = true
}

// storedScenes are those of the disk: used last, and the others of the folder.
func (d *Desk) storedScenes() (recent, yours []tile) {
	if d.store == nil {
		return nil, nil
	}
	file := func(path string, sc *scenes.Scene, err error) tile {
		f := d.show(scenes.Identity{Origin: scenes.File, Name: path}, sc)
		if err != nil {
			f = d.broken(f.Title, err)
		}
		f.Open = func() { d.openFile(path, false) }
		return f
	}
	seen := map[string]bool{}
	paths, _ := d.store.Recent()
	for _, path := range paths {
		sc, err := scenes.Load(path)
		if len(recent) == recentMost || errors.Is(err, fs.ErrNotExist) {
			continue
		}
		seen[path] = true
		recent = append(recent, file(path, sc, err))
	}
	items, _ := d.store.Scenes()
	for _, it := range items {
		if !seen[it.Path] {
			yours = append(yours, file(it.Path, it.Scene, it.Err))
		}
	}
	return recent, yours
}

// show makes the tile of a scene, as it is told here; nil: it is not known yet.
func (d *Desk) show(id scenes.Identity, sc *scenes.Scene) tile {
	name := strings.TrimSuffix(id.Short(), ".toml")
	f := tile{Tile: ui.Tile{Title: name}}
	if sc == nil {
		return f
	}
	sc = scenes.TranslationOf(id, d.say).Scene(sc)
	if sc.Title != "" {
		f.Title = sc.Title
	}
	v := new(sim.View)
	v.Look(&sc.Setup)
	f.Hint = d.say.Family(v)
	f.Draw = func(_ *ui.Kit, l *display.List, r display.Rect) { render.Patient(l, r, v, render.PatientOptions{}) }
	f.text = document.Fold(f.Title + " " + name + " " + sc.Note + " " + f.Hint)
	return f
}

// broken makes the tile of a file that is no good scene; it says why.
func (d *Desk) broken(name string, err error) tile {
	f := tile{Tile: ui.Tile{Title: name, Hint: err.Error()}, text: document.Fold(name)}
	f.Draw = func(k *ui.Kit, l *display.List, r display.Rect) {
		ui.Fill(l, r, k.Theme.Field)
		st := k.Style(theme.Small)
		st.Colour = k.Theme.Warning
		pad := theme.Unit * k.Unit
		y := r.Y + pad + st.Size
		for _, line := range lettering.Wrap(st, err.Error(), r.W-2*pad) {
			if y > r.Y+r.H-pad {
				return
			}
			lettering.Draw(l, st, r.X+pad, y, lettering.Start, line)
			y += lettering.LineHeight(st)
		}
	}
	return f
}

// openFile opens a scene file, and says why where it cannot. What comes from outside
// begins as somebody meets it who was sent it.
func (d *Desk) openFile(path string, outside bool) bool {
	if path == d.doc.Path() {
		d.closeOverlay()
		return true
	}
	if i := slices.IndexFunc(d.others, func(o *kept) bool { return o.doc.Path() == path }); i >= 0 {
		d.bringBack(d.others[i])
		d.Reload()
		return true
	}
	sc, err := scenes.Load(path)
	if err != nil {
		d.Warn(err.Error())
		return false
	}
	d.Open(document.New(sc, path))
	d.simple = outside && !d.own(path)
	d.remember(path)
	return true
}

// own says whether a file is one of the user's own scenes.
func (d *Desk) own(path string) bool {
	return d.store != nil && filepath.Dir(path) == d.store.Folder()
}

// remember puts a file first among those used last.
func (d *Desk) remember(path string) {
	if d.store == nil {
		return
	}
	if err := d.store.Opened(path); err != nil {
		d.Warn(err.Error())
	}
}

// Drop opens the contents of a scene file that was dropped on the window.
func (d *Desk) Drop(name string, data []byte) {
	sc, err := scenes.Parse(name, data)
	if err != nil {
		d.Warn(err.Error())
		return
	}
	d.Open(document.New(sc, "").From(scenes.Identity{Origin: scenes.New, Name: name}))
	d.simple = true
}
