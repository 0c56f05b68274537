package ui

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// Tile is one of the things among Tiles.
type Tile struct {
	Heading string // what it and those after it are called together; empty: as before
	Title   string
	Note    string // a smaller line under the title
	Hint    string
	Draw    func(k *Kit, l *display.List, r display.Rect)
	Open    func()
	Discard func() // nil: it cannot be thrown away

	area display.Rect // in what scrolls, from its top
	head float64      // the baseline of the heading
	text []string     // the title as it is broken
}

// Tiles are pictures with titles in rows, under headings, of which one is chosen.
type Tiles struct {
	Scroll
	Tiles  []Tile
	Chosen int
	Gone   string // what is said of what can be thrown away
	Due    bool   // Enter opens the chosen one, though the focus is elsewhere

	columns int
}

// The shape of a tile.
const (
	tileWidth  = 230 // at least, units
	tileAspect = 1.6 // of the picture
	titleLines = 2
)

// Lay finds the place of every tile: rows as high as what is written in them needs, in
// from the edges, where the ring of the focus is.
func (g *Tiles) Lay(k *Kit) {
	gap := theme.Unit * k.Unit
	room := g.Room(k) - gap
	g.columns = max(1, int(room/(tileWidth*k.Unit)))
	w := math.Floor(room / float64(g.columns))
	st := k.Style(theme.Body)
	heading := math.Round(2.2 * theme.Lead * k.Text)
	y := gap
	for from := 0; from < len(g.Tiles); {
		row := g.rowAt(from)
		if row[0].Heading != "" {
			row[0].head = y + 0.7*heading
			y += heading
		}
		h := 0.
		for i := range row {
			t := &row[i]
			t.area = display.Rect{X: gap + float64(i)*w, Y: y, W: w - gap}
			t.text = clipped(lettering.Wrap(st, t.Title, t.area.W-2*gap), st, t.area.W-2*gap)
			h = max(h, t.tall(k))
		}
		for i := range row {
			row[i].area.H = h
		}
		y += h + gap
		from += len(row)
	}
	g.Height = 0
	if len(g.Tiles) > 0 {
		g.Height = y
	}
	g.Chosen = max(0, min(g.Chosen, len(g.Tiles)-1))
	g.To(g.Top)
}

// rowAt are the tiles of the row that begins with one.
func (g *Tiles) rowAt(from int) []Tile {
	to := from + 1
	for to < len(g.Tiles) && to-from < g.columns && g.Tiles[to].Heading == "" {
		to++
	}
	return g.Tiles[from:to]
}

// tall is the height that a tile needs, whose width is known.
func (t *Tile) tall(k *Kit) float64 {
	h := (t.area.W-6*k.Unit)/tileAspect + 1.5*theme.Unit*k.Unit + float64(len(t.text))*lettering.LineHeight(k.Style(theme.Body))
	if t.Note != "" {
		h += lettering.LineHeight(k.Muted(theme.Small))
	}
	return math.Round(h)
}

// clipped is as many lines as a title has.
func clipped(lines []string, st lettering.Style, room float64) []string {
	if len(lines) <= titleLines {
		return lines
	}
	rest := lines[titleLines-1]
	for _, s := range lines[titleLines:] {
		rest += " " + s
	}
	return append(lines[:titleLines-1:titleLines-1], lettering.Ellipsis(st, rest, room))
}

// on is a tile's place on the page.
func (g *Tiles) on(i int) display.Rect {
	r := g.Tiles[i].area
	r.X, r.Y = r.X+g.Area.X, r.Y+g.Area.Y-g.Top
	return r
}

// Show scrolls to the chosen tile.
func (g *Tiles) Show() {
	if g.Chosen >= len(g.Tiles) {
		return
	}
	r := g.on(g.Chosen)
	from := r.Y
	if t := &g.Tiles[g.Chosen]; t.Heading != "" {
		from = g.Area.Y - g.Top + t.area.Y - (t.area.Y - t.head) - theme.Lead
	}
	g.Reveal(from, r.Y+r.H)
}

// At is the tile at a place, or −1.
func (g *Tiles) At(p display.Point) int {
	if !Inside(g.Area, p) {
		return -1
	}
	for i := range g.Tiles {
		if Inside(g.on(i), p) {
			return i
		}
	}
	return -1
}

// discard is where the sign is that throws a tile away.
func (g *Tiles) discard(k *Kit, i int) display.Rect {
	r, side := g.on(i), 30*k.Unit
	return display.Rect{X: r.X + r.W - side - 2*k.Unit, Y: r.Y + 2*k.Unit, W: side, H: side}
}

// Hinted is what there is to say of the tile under the pointer, or else of the chosen
// one.
func (g *Tiles) Hinted(k *Kit) string {
	i := g.Chosen
	if at := g.At(k.Pointer); at >= 0 && Is(k.Hover, g) && !k.Keyed {
		i = at
		if g.Tiles[i].Discard != nil && Inside(g.discard(k, i), k.Pointer) {
			return g.Gone
		}
	}
	if i < len(g.Tiles) {
		return g.Tiles[i].Hint
	}
	return ""
}

// below is the nearest tile in the next row in a direction, or the same.
func (g *Tiles) below(by float64) int {
	found, nearest := g.Chosen, math.Inf(1)
	from := g.Tiles[g.Chosen].area
	for i := range g.Tiles {
		a := g.Tiles[i].area
		if down := (a.Y - from.Y) * by; down > 0 {
			if off := down*1e3 + math.Abs(a.X-from.X); off < nearest {
				found, nearest = i, off
			}
		}
	}
	return found
}

func (g *Tiles) choose(i int) {
	g.Chosen = max(0, min(i, len(g.Tiles)-1))
	g.Show()
}

// Press chooses, opens or throws away.
func (g *Tiles) Press(_ *Kit, p Press) bool {
	if len(g.Tiles) == 0 {
		return false
	}
	switch p.Key {
	case KeyLeft:
		g.choose(g.Chosen - 1)
	case KeyRight:
		g.choose(g.Chosen + 1)
	case KeyUp:
		g.choose(g.below(-1))
	case KeyDown:
		g.choose(g.below(1))
	case KeyPageUp, KeyPageDown:
		by := 1.
		if p.Key == KeyPageUp {
			by = -1
		}
		for range max(1, int(g.Area.H/max(g.Tiles[g.Chosen].area.H, 1))) {
			g.choose(g.below(by))
		}
	case KeyHome:
		g.choose(0)
	case KeyEnd:
		g.choose(len(g.Tiles) - 1)
	case KeyEnter:
		g.Tiles[g.Chosen].Open()
	case KeyDelete:
		if g.Tiles[g.Chosen].Discard == nil || p.Again {
			return false
		}
		g.Tiles[g.Chosen].Discard()
	default:
		return false
	}
	return true
}

// Point opens the tile that is clicked, or throws it away, or pulls what scrolls.
func (g *Tiles) Point(k *Kit, gesture Gesture) {
	const slip = 8 // units that a click may move
	still := math.Abs(gesture.At.Y-k.from.Y) <= slip*k.Unit
	g.Scroll.Point(k, gesture)
	i := g.At(gesture.At)
	if !gesture.Clicked() || !still || g.onBar && g.Long() || i < 0 {
		return
	}
	if d := g.Tiles[i].Discard; d != nil && Inside(g.discard(k, i), gesture.At) {
		d()
		return
	}
	g.Chosen = i
	g.Tiles[i].Open()
}

// Draw draws the tiles that show.
func (g *Tiles) Draw(k *Kit, l *display.List) {
	t, gap := k.Theme, theme.Unit*k.Unit
	hot := -1
	if k.Hot(g) {
		hot = g.At(k.Pointer)
	}
	l.Rect(g.Area)
	l.OpenClip()
	for i := range g.Tiles {
		tile, r := &g.Tiles[i], g.on(i)
		head := g.Area.Y - g.Top + tile.head
		if tile.Heading != "" && head > g.Area.Y && head-theme.Lead*k.Text < g.Area.Y+g.Area.H {
			st := k.Style(theme.Lead)
			st.Colour = t.Accent
			lettering.Draw(l, st, g.Area.X+gap, head, lettering.Start, tile.Heading)
		}
		if r.Y+r.H <= g.Area.Y || r.Y >= g.Area.Y+g.Area.H {
			continue
		}
		g.drawTile(k, l, i, r, hot == i, gap)
	}
	l.End()
	g.Scroll.Draw(k, l)
}

func (g *Tiles) drawTile(k *Kit, l *display.List, i int, r display.Rect, hot bool, gap float64) {
	t, tile := k.Theme, &g.Tiles[i]
	st, small := k.Style(theme.Body), k.Muted(theme.Small)
	fill := t.Raised
	switch {
	case i == g.Chosen && Is(k.Focus, g):
		fill, st.Colour, small.Colour = t.Accent, t.OnAccent, t.OnAccent
	case hot:
		fill = t.Hover
	}
	k.Plate(l, r, fill)
	if g.Due && i == g.Chosen {
		k.ring(l, r)
	}
	picture := Inset(r, 3*k.Unit)
	picture.H = picture.W / tileAspect
	tile.Draw(k, l, picture)
	y := picture.Y + picture.H + 0.25*gap
	for _, s := range tile.text {
		lettering.Draw(l, st, r.X+gap, y+lettering.Ascent(st), lettering.Start, s)
		y += lettering.LineHeight(st)
	}
	lettering.Draw(l, small, r.X+gap, y+lettering.Ascent(small), lettering.Start, lettering.Ellipsis(small, tile.Note, r.W-2*gap))
	if tile.Discard != nil {
		box := g.discard(k, i)
		k.Plate(l, box, t.Ground)
		Cross(l, Middle(box), 5*k.Unit, 2*k.Unit, t.Ink)
	}
}
