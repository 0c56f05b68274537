package desk

import (
	"errors"
	"io/fs"
	"math"
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
	"twincord/sim"
)

// gallery shows the scenes that can be opened: those used last, those of the folder,
// and the built-in ones.
type gallery struct {
	grid *grid
	path *ui.TextField
}

// openGallery shows it.
func (d *Desk) openGallery() {
	d.open(&gallery{})
	d.kit.SetFocus(d.overs[0]) // arrows choose, without a Tab before
}

func (g *gallery) title(d *Desk) string { return d.say.Label(words.GalleryOpen) }

func (g *gallery) build(d *Desk) []ui.Widget {
	g.grid = &grid{Base: ui.Base{Name: "scenes", Hint: d.say.Label(words.HintGallery)}, d: d, tiles: d.tiles()}
	g.path = &ui.TextField{
		Base: ui.Base{Name: "path", Hint: d.say.Label(words.HintPath), Label: d.say.Label(words.LabelPath)},
		Get:  func() string { return "" }, Most: 400, Wide: 24,
		Allowed: d.say.Label(words.AllowedPath),
		Set:     func(path string) bool { return d.openFile(strings.TrimSpace(path)) },
	}
	return []ui.Widget{g.grid, g.path}
}

func (g *gallery) arrange(d *Desk, area display.Rect) {
	_, h := g.path.Size(&d.kit)
	label := lettering.Width(d.kit.Muted(theme.Body), g.path.Label) + 2*theme.Unit*d.kit.Unit
	g.path.Area = display.Rect{X: area.X + label, Y: area.Y + area.H - h, W: area.W - label, H: h}
	g.grid.Area = display.Rect{X: area.X, Y: area.Y, W: area.W, H: area.H - h - theme.Unit*d.kit.Unit}
	g.grid.lay(&d.kit)
}

func (g *gallery) draw(d *Desk, l *display.List, area display.Rect) {
	st := d.kit.Muted(theme.Body)
	r := g.path.Area
	lettering.Draw(l, st, area.X, r.Y+r.H/2+lettering.CapHeight(st)/2, lettering.Start, g.path.Label)
}

// tile is one scene in the gallery.
type tile struct {
	title, note string
	view        *sim.View // nil: it cannot be shown, and note says why
	open        func()
}

// tiles are all scenes that can be opened, each once.
func (d *Desk) tiles() []tile {
	var all []tile
	seen := map[string]bool{}
	file := func(path string, sc *scenes.Scene, err error) {
		if seen[path] {
			return
		}
		seen[path] = true
		t := tile{title: strings.TrimSuffix(filepath.Base(path), ".toml"), open: func() { d.openFile(path) }}
		if err != nil {
			t.note = err.Error()
		} else {
			t.see(d, sc)
		}
		all = append(all, t)
	}
	if d.store != nil {
		paths, _ := d.store.Recent()
		for _, path := range paths {
			sc, err := scenes.Load(path)
			if errors.Is(err, fs.ErrNotExist) {
				continue
			}
			file(path, sc, err)
		}
		items, _ := d.store.Scenes()
		for _, it := range items {
			file(it.Path, it.Scene, it.Err)
		}
	}
	for _, e := range scenes.Library() {
		id := scenes.Identify(e.Name)
		t := tile{open: func() { d.Open(document.New(e.Scene, ""), id) }}
		t.see(d, scenes.TranslationOf(id, d.say).Scene(e.Scene))
		all = append(all, t)
	}
	return all
}

// see looks at the tile's scene.
func (t *tile) see(d *Desk, sc *scenes.Scene) {
	if sc.Title != "" {
		t.title = sc.Title
	}
	t.view = new(sim.View)
	t.view.Look(&sc.Setup)
	t.note = d.say.Family(t.view)
}

// openFile opens a scene file, and says why where it cannot.
func (d *Desk) openFile(path string) bool {
	sc, err := scenes.Load(path)
	if err != nil {
		d.Tell(err.Error())
		return false
	}
	d.Open(document.New(sc, path), scenes.Identity{Origin: scenes.File, Name: path})
	d.remember(path)
	return true
}

// remember puts a file first among those used last.
func (d *Desk) remember(path string) {
	if d.store == nil {
		return
	}
	if err := d.store.Opened(path); err != nil {
		d.Tell(err.Error())
	}
}

// Drop opens the contents of a scene file that was dropped on the window.
func (d *Desk) Drop(name string, data []byte) {
	sc, err := scenes.Parse(name, data)
	if err != nil {
		d.Tell(err.Error())
		return
	}
	d.Open(document.New(sc, ""), scenes.Identity{Origin: scenes.New, Name: name})
}

// grid is tiles in rows, of which one is chosen.
type grid struct {
	ui.Base
	d             *Desk
	tiles         []tile
	chosen, first int // first: the row at the top
	columns       int
	w, h          float64 // of a tile
}

// The shape of a tile.
const (
	tileWidth  = 230 // at least, units
	tileAspect = 1.6 // of the picture
)

func (g *grid) lay(k *ui.Kit) {
	g.columns = max(1, int(g.Area.W/(tileWidth*k.Unit)))
	g.w = math.Floor(g.Area.W / float64(g.columns))
	g.h = math.Round(g.w/tileAspect + 2.2*theme.Body*k.Text)
	g.show()
}

// rows is how many rows show.
func (g *grid) rows() int { return max(1, int(g.Area.H/max(g.h, 1))) }

// show scrolls to the chosen tile.
func (g *grid) show() {
	row := g.chosen / max(g.columns, 1)
	g.first = max(min(g.first, row), row-g.rows()+1)
}

func (g *grid) choose(i int) {
	g.chosen = max(0, min(i, len(g.tiles)-1))
	g.show()
}

func (g *grid) Press(_ *ui.Kit, p ui.Press) bool {
	switch p.Key {
	case ui.KeyLeft:
		g.choose(g.chosen - 1)
	case ui.KeyRight:
		g.choose(g.chosen + 1)
	case ui.KeyUp:
		g.choose(g.chosen - g.columns)
	case ui.KeyDown:
		g.choose(g.chosen + g.columns)
	case ui.KeyPageUp:
		g.choose(g.chosen - g.columns*g.rows())
	case ui.KeyPageDown:
		g.choose(g.chosen + g.columns*g.rows())
	case ui.KeyHome:
		g.choose(0)
	case ui.KeyEnd:
		g.choose(len(g.tiles) - 1)
	case ui.KeyEnter:
		g.tiles[g.chosen].open()
	default:
		return false
	}
	return true
}

// at is the tile at a place, or −1.
func (g *grid) at(p display.Point) int {
	if !ui.Inside(g.Area, p) || p.X >= g.Area.X+float64(g.columns)*g.w {
		return -1
	}
	row := int((p.Y - g.Area.Y) / g.h)
	i := (g.first+row)*g.columns + int((p.X-g.Area.X)/g.w)
	if row >= g.rows() || i >= len(g.tiles) {
		return -1
	}
	return i
}

func (g *grid) Point(_ *ui.Kit, at ui.Gesture) {
	if i := g.at(at.At); at.Ended && at.Inside && !at.Escaped && i >= 0 {
		g.chosen = i
		g.tiles[i].open()
	}
}

// Wheel scrolls.
func (g *grid) Wheel(_ *ui.Kit, notches float64) bool {
	g.scroll(-int(notches))
	return true
}

// scroll moves the rows on by so many.
func (g *grid) scroll(by int) {
	last := (len(g.tiles)+g.columns-1)/g.columns - g.rows()
	g.first = max(0, min(g.first+by, last))
}

func (g *grid) Draw(k *ui.Kit, l *display.List) {
	t, gap := k.Theme, theme.Unit*k.Unit
	hot := -1
	if k.Hot(g) {
		hot = g.at(k.Pointer)
	}
	for i := g.first * g.columns; i < min(len(g.tiles), (g.first+g.rows())*g.columns); i++ {
		r := ui.Inset(display.Rect{
			X: g.Area.X + float64(i%g.columns)*g.w, Y: g.Area.Y + float64(i/g.columns-g.first)*g.h, W: g.w, H: g.h,
		}, gap/2)
		fill, ink := t.Raised, t.Ink
		switch i {
		case g.chosen:
			fill, ink = t.Accent, t.OnAccent
		case hot:
			fill = t.Hover
		}
		k.Plate(l, r, fill)
		picture := ui.Inset(r, 3*k.Unit)
		picture.H = (r.W - 6*k.Unit) / tileAspect
		g.tiles[i].Draw(k, l, picture)
		st := k.Style(theme.Body)
		st.Colour = ink
		text := display.Rect{X: r.X + gap, Y: picture.Y + picture.H, W: r.W - 2*gap, H: r.Y + r.H - picture.Y - picture.H}
		lettering.Draw(l, st, text.X, text.Y+text.H/2+lettering.CapHeight(st)/2, lettering.Start, lettering.Ellipsis(st, g.tiles[i].title, text.W))
	}
	if rows := (len(g.tiles) + g.columns - 1) / g.columns; rows > g.rows() {
		h := g.Area.H * float64(g.rows()) / float64(rows)
		y := g.Area.Y + g.Area.H*float64(g.first)/float64(rows)
		k.Plate(l, display.Rect{X: g.Area.X + g.Area.W + 4*k.Unit, Y: y, W: 5 * k.Unit, H: h}, t.Edge)
	}
	k.DrawRing(l, g, g.Area)
}

// draw draws the picture of a tile, or why there is none.
func (t *tile) Draw(k *ui.Kit, l *display.List, r display.Rect) {
	if t.view != nil {
		render.Patient(l, r, t.view, render.PatientOptions{})
		return
	}
	ui.Fill(l, r, k.Theme.Field)
	st := k.Style(theme.Small)
	st.Colour = k.Theme.Warning
	pad := theme.Unit * k.Unit
	y := r.Y + pad + st.Size
	for _, line := range lettering.Wrap(st, t.note, r.W-2*pad) {
		if y > r.Y+r.H-pad {
			return
		}
		lettering.Draw(l, st, r.X+pad, y, lettering.Start, line)
		y += lettering.LineHeight(st)
	}
}

// under the pointer, or else the chosen one: what a tile shows, in words.
func (g *grid) note() string {
	if i := g.at(g.d.kit.Pointer); ui.Is(g.d.kit.Hover, g) && i >= 0 && !g.d.kit.Keyed {
		return g.tiles[i].note
	}
	if g.chosen < len(g.tiles) {
		return g.tiles[g.chosen].note
	}
	return ""
}
