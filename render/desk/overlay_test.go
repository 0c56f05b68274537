package desk

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
	"twincord/sim"
	"twincord/testdata/published"
)

// shelved sits before a desk with a store in an empty folder.
func shelved(t *testing.T, change func(*Options)) (*person, *document.Store) {
	folder := t.TempDir()
	store := document.NewStore(document.Folders{Scenes: filepath.Join(folder, "scenes"), State: filepath.Join(folder, "state")})
	sc, _, err := scenes.Open("middle-of-three")
	require.NoError(t, err)
	say, err := words.For("en")
	require.NoError(t, err)
	o := Options{Document: document.New(sc, ""), Words: say, Store: store}
	if change != nil {
		change(&o)
	}
	p := &person{t: t, in: Input{Input: ui.Input{W: 1280, H: 800, Scale: 1}}, desk: New(o)}
	p.begin()
	return p, store
}

func (p *person) ctrl(letter rune, shift bool) {
	p.in.Keys = []ui.Press{{Key: ui.KeyLetter, Ctrl: true, Shift: shift, Letter: letter}}
	p.update()
}

func TestGallery(t *testing.T) {
	p, store := shelved(t, nil)
	sc, _, err := scenes.Open("eye-higher")
	require.NoError(t, err)
	sc.Title = "Mine"
	require.NoError(t, store.Save(document.New(sc, ""), "mine", false))
	require.NoError(t, os.WriteFile(filepath.Join(store.Folder(), "broken.toml"), []byte("format = 9\n"), 0o644))

	p.ctrl('o', false)
	g := p.desk.over.(*gallery).tiles
	index := func(title string) int {
		return slices.IndexFunc(g.Tiles, func(t ui.Tile) bool { return t.Title == title })
	}
	require.GreaterOrEqual(t, index("Mine"), 0)
	require.GreaterOrEqual(t, index("broken"), 0)
	assert.Len(t, g.Tiles, 2+len(scenes.Library()))
	assert.Contains(t, g.Tiles[index("broken")].Hint, "format")
	var heads []string
	for _, tile := range g.Tiles {
		if tile.Heading != "" {
			heads = append(heads, tile.Heading)
		}
	}
	assert.Equal(t, []string{"Yours", "Routines", "Examples"}, heads)

	// By keys, at once.
	p.key(ui.KeyEnd)
	p.key(ui.KeyHome)
	for range index("Mine") {
		p.key(ui.KeyRight)
	}
	p.key(ui.KeyEnter)
	assert.Nil(t, p.desk.over)
	assert.Equal(t, "Mine", p.desk.heading())
	assert.Equal(t, sim.Left, p.desk.view.Account.Higher)
	recent, err := store.Recent()
	require.NoError(t, err)
	assert.Len(t, recent, 1)

	// By the pointer: the one used last comes first.
	p.ctrl('o', false)
	g = p.desk.over.(*gallery).tiles
	assert.Equal(t, "Mine", g.Tiles[0].Title)
	assert.Equal(t, "Used last", g.Tiles[0].Heading)
	p.click(p.tile("One eye tilted"))
	assert.Nil(t, p.desk.over)
	assert.NotEqual(t, "Mine", p.desk.heading())

	// A path that is no scene is refused, and says why.
	p.ctrl('o', false)
	p.desk.kit.SetFocus(p.widget("path"))
	p.write("/nowhere/at/all.toml")
	p.key(ui.KeyEnter)
	assert.NotNil(t, p.desk.over)
	_, why := p.desk.fault()
	assert.NotEmpty(t, why)
	for p.desk.over != nil {
		p.key(ui.KeyEscape)
	}
}

// tile scrolls to the tile of a title by the wheel and gives its middle.
func (p *person) tile(title string) display.Point {
	g := p.desk.over.(*gallery).tiles
	i := slices.IndexFunc(g.Tiles, func(t ui.Tile) bool { return t.Title == title })
	require.GreaterOrEqual(p.t, i, 0, title)
	p.in.Pointer = middle(g.Area)
	for range 400 {
		for y := g.Area.Y + 1; y < g.Area.Y+g.Area.H; y += 8 {
			for x := g.Area.X + 1; x < g.Area.X+g.Area.W; x += 8 {
				at := display.Point{X: x, Y: y}
				if g.At(at) == i {
					return display.Point{X: x + 40, Y: y + 4}
				}
			}
		}
		p.in.Wheel = -1
		p.update()
	}
	require.Fail(p.t, "no tile of "+title)
	return display.Point{}
}

// Every scene of the gallery is reached by the wheel, by pulling the bar and by pulling
// what scrolls, and what is typed finds.
func TestGalleryIsReached(t *testing.T) {
	p, _ := shelved(t, nil)
	p.ctrl('o', false)
	g := p.desk.over.(*gallery).tiles
	require.True(t, g.Long())
	for _, tile := range g.Tiles {
		g.To(0)
		p.update()
		p.tile(tile.Title)
	}
	g.To(0)
	p.update()
	bar := display.Point{X: g.Area.X + g.Area.W - 4, Y: g.Area.Y + 10}
	p.press(bar)
	p.moveTo(display.Point{X: bar.X, Y: bar.Y + 2000})
	p.lift()
	assert.InDelta(t, g.Height-g.Area.H, g.Top, 1, "to the end")
	ground := display.Point{X: g.Area.X + 100, Y: g.Area.Y + 60}
	p.press(ground)
	p.moveTo(display.Point{X: ground.X, Y: ground.Y + 300})
	p.lift()
	assert.InDelta(t, g.Height-g.Area.H-300, g.Top, 1, "pulled back")
	assert.NotNil(t, p.desk.over, "a pull opens nothing")

	p.write("jumps")
	g = p.desk.over.(*gallery).tiles
	assert.Less(t, len(g.Tiles), 6)
	assert.NotEmpty(t, g.Tiles)
	assert.Equal(t, "Routines", g.Tiles[0].Heading)
	p.write("xyz")
	assert.Empty(t, g.Tiles)
	p.key(ui.KeyEnter)
	assert.NotNil(t, p.desk.over, "nothing was found")
	p.key(ui.KeyEscape)

	// Marks are of no account, and Enter opens the first that was found.
	p.ctrl('o', false)
	p.write("JÚMPS bèads")
	p.key(ui.KeyEnter)
	assert.Nil(t, p.desk.over)
	assert.Equal(t, "Jumps between three beads", p.desk.heading())
}

// While somebody types what to find, a ring is round the scene that Enter opens, in both
// looks; up and down bring it to another one, and it is told.
func TestWhatEnterOpensIsMarked(t *testing.T) {
	p, _ := shelved(t, nil)
	rings := func() (round []string) {
		var l display.List
		p.desk.Draw(&l)
		g := p.desk.over.(*gallery).tiles
		for i := range l.Paths {
			ring := box(l.Paths[i].Outline)
			if l.Paths[i].Stroke == 0 || l.Paths[i].Paint.From != p.desk.kit.Theme.Accent || ring.W < 200 || ring.W > 400 { // of one tile
				continue
			}
			if at := g.At(middle(ring)); at >= 0 {
				round = append(round, g.Tiles[at].Title)
			}
		}
		return round
	}
	for _, light := range []bool{false, true} {
		p.desk.Light = light
		p.ctrl('o', false)
		g := p.desk.over.(*gallery)
		assert.Empty(t, rings(), "the tiles have the focus, and show it")
		p.write("jumps")
		require.Greater(t, len(g.tiles.Tiles), 1)
		first, second := g.tiles.Tiles[0].Title, g.tiles.Tiles[1].Title
		assert.Equal(t, []string{first}, rings())
		assert.Equal(t, p.desk.say.Label(words.HintFind), p.desk.Hint())
		p.key(ui.KeyDown)
		assert.Equal(t, []string{second}, rings())
		assert.True(t, g.find.Open(), "and one can type on")
		p.key(ui.KeyUp)
		assert.Equal(t, []string{first}, rings())
		p.key(ui.KeyDown)
		p.key(ui.KeyEnter)
		assert.Nil(t, p.desk.over)
		assert.Equal(t, second, p.desk.heading())
	}
}

func TestSaving(t *testing.T) {
	p, store := shelved(t, nil)
	p.ctrl('s', false)
	require.NotNil(t, p.desk.over, "a new scene is asked for its name")
	p.write("First")
	p.key(ui.KeyEnter)
	require.Nil(t, p.desk.over)
	assert.FileExists(t, p.desk.doc.Path())
	assert.Contains(t, p.desk.News(), "First")
	assert.Equal(t, "First", p.desk.heading(), "the name is the title")
	assert.Contains(t, p.desk.Title(), "First: ")
	assert.False(t, p.desk.doc.Dirty())

	p.desk.kit.SetFocus(p.widget("deviation"))
	p.key(ui.KeyUp)
	assert.True(t, p.desk.doc.Dirty())
	p.ctrl('s', false)
	assert.False(t, p.desk.doc.Dirty(), "to its file, without a question")
	saved, err := scenes.Load(p.desk.doc.Path())
	require.NoError(t, err)
	assert.Equal(t, p.setup().Posture, saved.Setup.Posture)

	// A name that is there is not taken without being told.
	require.NoError(t, store.Save(document.New(saved, ""), "Second", false))
	p.ctrl('s', true)
	p.write("Second")
	p.key(ui.KeyEnter)
	require.NotNil(t, p.desk.over)
	_, note := p.desk.over.(*namePanel).note(p.desk)
	assert.Equal(t, p.desk.say.Label(words.SaveExists), note)
	assert.Equal(t, "First", p.desk.doc.Scene().Title, "not yet")
	p.click(middle(p.widget("replace").Self().Area))
	assert.Nil(t, p.desk.over)
	assert.Equal(t, "Second.toml", filepath.Base(p.desk.doc.Path()))

	// What changes on the disk is read again, and can be undone.
	saved.Title = "Changed outside"
	require.NoError(t, document.New(saved, "").SaveAs(p.desk.doc.Path()))
	p.desk.Reload()
	p.update()
	assert.Equal(t, "Changed outside", p.desk.heading())
	p.ctrl('z', false)
	assert.NotEqual(t, "Changed outside", p.desk.heading())
}

// A folder that cannot be written to is said, and nothing is lost.
func TestSavingWhereItCannotBe(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(folder, nil, 0o644))
	p, _ := shelved(t, func(o *Options) {
		o.Store = document.NewStore(document.Folders{Scenes: filepath.Join(folder, "scenes"), State: folder})
	})
	p.desk.kit.SetFocus(p.widget("deviation"))
	p.key(ui.KeyUp)
	p.ctrl('s', false)
	p.click(middle(p.widget("save it").Self().Area))
	require.NotNil(t, p.desk.over)
	assert.NotEmpty(t, p.desk.News())
	assert.True(t, p.desk.doc.Dirty())
}

// What is not saved is handed to the saver half a second after the last change, and
// is there for the next start.
func TestAutosave(t *testing.T) {
	var saver document.Autosave
	p, store := shelved(t, func(o *Options) {
		saver = o.Store.NewSaver()
		o.Saver = saver
	})
	p.desk.kit.SetFocus(p.widget("deviation"))
	p.key(ui.KeyUp)
	due, ok := p.desk.Due()
	require.True(t, ok)
	assert.LessOrEqual(t, due-p.in.Seconds, 0.5)
	p.in.Seconds += 0.5
	p.update()
	require.NoError(t, saver.Flush())
	left, err := filepath.Glob(filepath.Join(filepath.Dir(store.Folder()), "state", "autosave", "*.toml"))
	require.NoError(t, err)
	require.Len(t, left, 1)
	data, err := os.ReadFile(left[0])
	require.NoError(t, err)
	assert.Contains(t, string(data), "deviation_prism = 0.5")
	require.NoError(t, saver.Close())
}

// What is unsaved when another scene is opened is there for the next start, beside
// what is unsaved in that one.
func TestOpeningAnotherLosesNothing(t *testing.T) {
	var saver document.Autosave
	p, store := shelved(t, func(o *Options) {
		saver = o.Store.NewSaver()
		o.Saver = saver
	})
	p.desk.kit.SetFocus(p.widget("deviation"))
	p.key(ui.KeyUp)
	first := p.setup().Posture
	p.ctrl('o', false)
	p.key(ui.KeyEnd)
	p.key(ui.KeyEnter)
	require.False(t, p.desk.doc.Dirty())
	p.desk.kit.SetFocus(p.widget("deviation"))
	p.key(ui.KeyDown)
	second := p.setup().Posture
	require.NotEqual(t, first, second)
	p.in.Seconds++
	p.update()

	// The first one is still there, with its history.
	p.ctrl('o', false)
	g := p.desk.over.(*gallery).tiles
	assert.Equal(t, "Not saved yet", g.Tiles[0].Heading)
	assert.Equal(t, second, p.setup().Posture, "the one that is open comes first")
	p.key(ui.KeyRight)
	p.key(ui.KeyEnter)
	assert.Equal(t, first, p.setup().Posture)
	p.ctrl('z', false)
	assert.Zero(t, p.setup().Posture.Deviation)
	p.ctrl('y', false)
	assert.Equal(t, first, p.setup().Posture)
	require.NoError(t, p.desk.Close())

	left, err := store.Recover()
	require.NoError(t, err)
	require.Len(t, left, 2)
	assert.ElementsMatch(t, []sim.Posture{first, second}, []sim.Posture{left[0].Scene.Setup.Posture, left[1].Scene.Setup.Posture})
}

// The scene that is open and not saved is the first of the gallery: opened it goes on,
// thrown away it is as it was opened, and undo brings it back.
func TestGalleryHasWhatIsOpen(t *testing.T) {
	p, store := shelved(t, nil)
	p.write("d6 exo")
	p.key(ui.KeyEnter)
	p.ctrl('o', false)
	g := p.desk.over.(*gallery).tiles
	assert.Equal(t, p.desk.heading(), g.Tiles[0].Title)
	assert.Equal(t, p.desk.say.Label(words.OpenNow), g.Tiles[0].Note)
	p.key(ui.KeyEnter)
	assert.Nil(t, p.desk.over)
	assert.Equal(t, -6., float64(p.setup().Posture.Deviation))

	p.ctrl('o', false)
	p.key(ui.KeyDelete)
	assert.False(t, p.desk.doc.Dirty())
	assert.Zero(t, p.setup().Posture.Deviation)
	assert.NotEqual(t, p.desk.say.Label(words.HeadUnsaved), p.desk.over.(*gallery).tiles.Tiles[0].Heading)
	p.key(ui.KeyEscape)
	p.ctrl('z', false)
	assert.Equal(t, -6., float64(p.setup().Posture.Deviation))

	// A file that is open is not opened beside itself.
	require.NoError(t, store.Save(p.desk.doc, "six", false))
	p.write("d7 exo")
	p.key(ui.KeyEnter)
	require.True(t, p.desk.openFile(p.desk.doc.Path(), false))
	assert.Equal(t, -7., float64(p.setup().Posture.Deviation))
	assert.Empty(t, p.desk.others)
}

// The first start shows the bead, its sentence and one line of caution, which any key
// acknowledges, or a click on it; the whole is one press away.
func TestFirstStart(t *testing.T) {
	for _, how := range []string{"key", "click", "read"} {
		var kept []Settings
		p, _ := shelved(t, func(o *Options) {
			o.First = true
			o.Keep = func(s Settings) error { kept = append(kept, s); return nil }
		})
		assert.Nil(t, p.desk.over)
		assert.Equal(t, p.desk.say.Label(words.CautionEdge), p.desk.Hint())
		p.click(middle(p.desk.layout.picture))
		assert.False(t, p.desk.Read, "a click elsewhere is none on it")
		switch how {
		case "key":
			p.key(ui.KeyTab)
		case "click":
			p.click(display.Point{X: 20, Y: p.in.H - 6})
		case "read":
			p.click(middle(p.widget("read more").Self().Area))
			require.NotNil(t, p.desk.over)
			said := ""
			for _, l := range p.widget("text").(*ui.Scroller).Lines {
				said += l.Text + "\n"
			}
			for _, c := range p.desk.cautions() {
				assert.Contains(t, said, c)
			}
			p.key(ui.KeyEscape)
		}
		p.update()
		require.NotEmpty(t, kept, how)
		assert.True(t, kept[len(kept)-1].Read, "only once")
		assert.NotEqual(t, p.desk.say.Label(words.CautionEdge), p.desk.Hint())
	}
}

// The page of keys has every command that has a key.
func TestKeysPageIsComplete(t *testing.T) {
	p, _ := shelved(t, nil)
	p.key(ui.KeyF1)
	require.NotNil(t, p.desk.over)
	lines := p.widget("text").(*ui.Scroller).Lines
	for _, c := range p.desk.commands {
		if c.hint == "" || c.letters == "" && c.ctrl == 0 && c.key == noKey {
			continue
		}
		found := false
		for _, l := range lines {
			found = found || l.Text == p.desk.say.Label(c.hint) && l.Before != ""
		}
		assert.True(t, found, c.name)
	}
	for _, l := range lines {
		assert.Regexp(t, `[.?]$`, l.Text, "a sentence")
	}
	p.key(ui.KeyEscape)
	assert.Nil(t, p.desk.over)
	assert.Contains(t, p.desk.hintOf(p.widget("undo")), "(Ctrl+Z)")
	assert.Contains(t, p.desk.hintOf(p.widget("cover right")), p.desk.say.Label(words.KeyRightCover))

	p.desk.NoLetters = true
	p.key(ui.KeyF1)
	for _, l := range p.widget("text").(*ui.Scroller).Lines {
		assert.NotRegexp(t, `^[A-Z](,|$)`, l.Before, "a letter that does nothing")
	}
}

// At true size two directions of the picture are as far apart on the screen as they
// are for the model: distance times the difference of their tangents.
func TestTrueSize(t *testing.T) {
	p, _ := shelved(t, nil)
	p.write("z")
	require.NotNil(t, p.desk.over, "the screen is measured first")
	edge := p.widget("card").(*cardEdge)
	// G1, ISO/IEC 7810: the card, its width in pixels, and what a pixel then is.
	row := published.Get(t, "G1")
	sides := published.Numbers(t, row.Value, 2)
	assert.Equal(t, sides, []float64{cardWidth, cardHeight})
	wide := published.Numbers(t, row.Given, 1)[0]
	p.press(display.Point{X: edge.at.X + cardWidth*p.desk.measured().PixelsPerMM, Y: edge.Area.Y + 10})
	p.moveTo(display.Point{X: edge.at.X + wide, Y: edge.Area.Y + 10})
	p.lift()
	per := published.Numbers(t, row.Expect, 2)[0]
	assert.InDelta(t, per, p.desk.measured().PixelsPerMM, 0.001*per)
	p.desk.kit.SetFocus(p.widget("distance"))
	p.key(ui.KeyEnter)
	p.write("50")
	p.click(middle(p.widget("use").Self().Area))
	require.True(t, p.desk.trueSize)
	assert.InDelta(t, 500, p.desk.measured().Distance, 1e-9)

	for _, size := range [][2]float64{{800, 600}, {1280, 800}, {1920, 1080}, {3840, 2160}, {800, 1100}} {
		p.in.W, p.in.H = size[0], size[1]
		p.update()
		var l display.List
		p.desk.Draw(&l)
		var plum []float64 // the two images of the doubled far bead, from their balls
		want := p.desk.view.Beads[2]
		for i := range l.Balls {
			if c := l.Balls[i].Colour; math.Abs(c.R-0xcc/255.) < 0.01 && math.Abs(c.G-0x79/255.) < 0.01 {
				plum = append(plum, l.Balls[i].Centre.X)
			}
		}
		require.GreaterOrEqual(t, len(plum), 2)
		apart := math.Abs(plum[0] - plum[1])
		mm := 500 * math.Abs(want.Right.Value.X-want.Left.Value.X)
		assert.InDelta(t, mm*per, apart, 0.01*apart, size)
		if p.in.H == 600 {
			assert.Equal(t, p.desk.say.Label(words.TrueTooSmall), p.desk.Hint(), "no room for all beads in %v", size)
		}
	}
	// So near that no plane has such a field: it says by how much it is not true.
	p.desk.measured().Distance, p.desk.measured().PixelsPerMM = 200, 1
	p.desk.dirty = true
	p.in.W, p.in.H = 3840, 2160
	p.update()
	off := p.desk.trueOff()
	least, most := 0., 100. // the plane whose field is as large as any, by halving
	for most-least > 1e-9 {
		if middle := (least + most) / 2; render.FieldOf(middle) < mostTrueField {
			least = middle
		} else {
			most = middle
		}
	}
	assert.InDelta(t, 100*(p.desk.layout.picture.H/200/least-1), off, 0.5)
	assert.Greater(t, off, 0.)
	assert.Equal(t, p.desk.say.TrueOff(off), p.desk.Hint())

	// Another screen has a measure of its own.
	p.in.Screen = "another"
	p.update()
	assert.Nil(t, p.desk.screen())
	p.in.Screen = ""
	p.update()
	p.write("+")
	assert.False(t, p.desk.trueSize, "zooming leaves it")
}

func TestExport(t *testing.T) {
	var name string
	var got display.List
	p, _ := shelved(t, func(o *Options) {
		o.Export = func(n string, l *display.List) ([]string, error) {
			name = n
			got.W, got.H = l.W, l.H
			got.Balls = append(got.Balls, l.Balls...)
			got.Texts = append(got.Texts, l.Texts...)
			return []string{"a.png"}, nil
		}
	})
	p.ctrl('e', false)
	assert.Equal(t, "Middle of three beads", name)
	assert.Equal(t, p.desk.layout.picture.W, got.W)
	assert.NotEmpty(t, got.Balls)
	assert.Equal(t, p.desk.say.Label(words.PictureBounds), got.Texts[0].String)
	assert.Contains(t, p.desk.News(), "a.png")

	p.desk.given.Export = func(string, *display.List) ([]string, error) { return nil, errors.New("no space left") }
	p.ctrl('e', false)
	assert.Contains(t, p.desk.News(), "no space left")
}

// A family's screen that follows another window shows picture and sentence alone. Esc, F
// and F11 take it off the whole screen and back, a button closes it, and nothing else
// does anything.
func TestFollowing(t *testing.T) {
	p, _ := shelved(t, func(o *Options) { o.Follow = true })
	assert.True(t, p.desk.FullScreen())
	p.key(ui.KeyEscape)
	assert.False(t, p.desk.FullScreen())
	p.write("f")
	assert.True(t, p.desk.FullScreen())
	p.key(ui.KeyF11)
	assert.False(t, p.desk.FullScreen())
	p.write("c")
	assert.False(t, p.desk.compare)
	sc, _, err := scenes.Open("too-far-doubled")
	require.NoError(t, err)
	p.desk.Show(sc, scenes.Identify("too-far-doubled"))
	p.update()
	assert.Equal(t, scenes.TranslationOf(scenes.Identify("too-far-doubled"), p.desk.say).Title(sc.Title), p.desk.heading())
	assert.Contains(t, p.desk.Title(), sc.Title)
	assert.Equal(t, sim.AimExo, p.desk.view.Account.Eyes)
	assert.False(t, p.desk.Closed())
	p.click(middle(p.widget("leave").Self().Area))
	assert.True(t, p.desk.Closed())
}

// A kind of film is asked for what moves, in time or in a routine, or for one picture.
func TestFilmOfWhatMoves(t *testing.T) {
	for name, want := range map[string]bool{scenes.DefaultName: false, "walk-of-ten": true, "unsteady-hold": true} {
		asked := []bool{}
		h := starting(t, name)
		h.desk.given.FilmKinds = func(moves bool) []FilmKind {
			asked = append(asked, moves)
			return []FilmKind{{"GIF", ".gif"}}
		}
		h.desk.film()
		assert.Equal(t, []bool{want}, asked, name)
	}
}

// The buttons of news are pressed where they are seen, also over the end of another one.
func TestNewsOverAnother(t *testing.T) {
	p, _ := shelved(t, func(o *Options) { o.Show = func(string, bool) error { return nil } })
	p.desk.openGallery()
	p.desk.wrote([]string{"a.pdf"})
	p.update()
	for _, name := range [...]string{"open file", "open folder", "news close"} {
		b := p.widget(name).Self()
		for _, x := range [...]float64{b.Area.X + 1, b.Area.X + b.Area.W - 1} {
			p.in.Pointer = display.Point{X: x, Y: b.Area.Y + b.Area.H/2}
			p.update()
			assert.Equal(t, name, p.desk.kit.Hover.Self().Name)
		}
	}
}

// Who is asked who prescribed it reads what is at stake, all of it.
func TestWhatIsAtStakeIsRead(t *testing.T) {
	s := screens()[slices.IndexFunc(screens(), func(s screen) bool { return s.name == "care" })]
	for n, in := range rooms() {
		if !onTurn(n, 0, 3) {
			continue
		}
		p := s.sit(t, in)
		assert.Contains(t, spaced(drawnTexts(p.desk)), spaced(p.desk.say.Label(words.CautionSuppression)), "%+v", in)
	}
}

// item is the middle of the item of the open list that begins so.
func (p *person) item(begins string) display.Point {
	var l display.List
	p.desk.Draw(&l)
	for i := len(l.Texts) - 1; i >= 0; i-- {
		if strings.HasPrefix(l.Texts[i].String, begins) {
			b := bounds(&l.Texts[i])
			return middle(b)
		}
	}
	require.Fail(p.t, "no item "+begins)
	return display.Point{}
}

// The take-home sheet is made of the routine that is open, in the words of the window.
func TestTakeHomeSheet(t *testing.T) {
	var got *scenes.Scene
	var language string
	var which scenes.Identity
	sc, id, err := scenes.Open("walk-of-ten")
	require.NoError(t, err)
	p, _ := shelved(t, func(o *Options) {
		o.Document = document.New(sc, "").From(id)
		o.Sheet = func(_ string, sc *scenes.Scene, id scenes.Identity, say *words.Words, _ string) ([]string, error) {
			got, which, language = sc, id, say.Language()
			return []string{"a.html", "a.pdf"}, nil
		}
	})
	p.desk.setLanguage("es")
	p.update()
	p.click(middle(p.widget("menu").Self().Area))
	p.click(p.item("Hoja"))
	require.NotNil(t, got)
	assert.Equal(t, sc.Routine, got.Routine)
	assert.Equal(t, "es", language)
	assert.Equal(t, id, which, "not its title")
	assert.Contains(t, p.desk.News(), "a.html, a.pdf")
}

// A built-in scene is told in the language of the window, beads and all; what somebody
// types stays as typed, and what is saved is what was shown.
func TestBuiltInSceneInTheLanguageOfTheWindow(t *testing.T) {
	sc, id, err := scenes.Open("middle-of-three")
	require.NoError(t, err)
	p, _ := shelved(t, func(o *Options) { o.Document = document.New(sc, "").From(id) })
	d := p.desk
	assert.Equal(t, sc.Title, d.heading())
	assert.Equal(t, "blue", d.view.Account.LookedAt)

	d.setLanguage("es")
	p.update()
	say := d.say
	assert.Equal(t, say.SceneTitle(id.Name, ""), d.heading())
	assert.Equal(t, say.BeadName("sky"), d.view.Account.LookedAt)
	assert.Equal(t, []string{"orange", "sky", "plum"}, d.page.names)
	assert.Equal(t, []string{say.BeadName("orange"), say.BeadName("sky"), say.BeadName("plum")}, d.page.told)
	assert.False(t, d.doc.Dirty(), "nothing was changed")

	d.doc.Edit("", func(sc *scenes.Scene) { sc.Title, sc.Setup.Beads[1].Name = "Mine", "my bead" })
	p.update()
	assert.Equal(t, "Mine", d.heading())
	assert.Equal(t, "my bead", d.view.Account.LookedAt)
	assert.Equal(t, say.BeadName("plum"), d.page.told[2])

	d.saveAs()
	page := d.over.(*namePanel)
	page.typed = "kept"
	page.write(d, false)
	require.NotEmpty(t, d.doc.Path())
	kept, err := scenes.Load(d.doc.Path())
	require.NoError(t, err)
	assert.Equal(t, say.BeadName("plum"), kept.Setup.Beads[2].Name)
	assert.Equal(t, "my bead", kept.Setup.Beads[1].Name)
	assert.Equal(t, scenes.File, d.doc.Identity().Origin)
	d.setLanguage("en")
	p.update()
	assert.Equal(t, say.BeadName("plum"), d.page.told[2], "a file is as it was typed")
}

// Every built-in scene of the gallery is told in the language of the window.
func TestGalleryInTheLanguageOfTheWindow(t *testing.T) {
	p, _ := shelved(t, nil)
	p.desk.setLanguage("es")
	all := p.desk.scenes()
	for _, e := range scenes.Library() {
		want := p.desk.say.SceneTitle(e.Name, "")
		assert.True(t, slices.ContainsFunc(all, func(t tile) bool { return t.Title == want }), e.Name)
	}
}

// What was left unsaved of a built-in scene is still told in the language of the
// window: its title, its note and its beads, at the next start and in the gallery.
func TestLeftUnsavedIsStillTold(t *testing.T) {
	sc, id, err := scenes.Open("middle-of-three")
	require.NoError(t, err)
	p, store := shelved(t, func(o *Options) { o.Document = document.New(sc, "").From(id) })
	saver := store.NewSaver()
	left := document.New(sc, "").From(id)
	left.Edit("", func(sc *scenes.Scene) { sc.Setup.Posture.Deviation = 4 })
	saver.Offer(left.Snapshot())
	require.NoError(t, saver.Close())

	d := p.desk
	d.setLanguage("es")
	want := d.say.SceneTitle(id.Name, "")
	unsaved := d.unsavedScenes()
	require.Len(t, unsaved, 1)
	assert.Equal(t, want, unsaved[0].Title)
	unsaved[0].Open()
	p.update()
	assert.Equal(t, id, d.doc.Identity())
	assert.Equal(t, want, d.heading())
	assert.Equal(t, d.say.BeadName("sky"), d.view.Account.LookedAt)
	assert.Equal(t, d.say.SceneNote(id.Name, ""), d.told.Note(d.doc.Scene().Note))
}

// spaced is a text with all of its breaks as single spaces.
func spaced(text string) string { return strings.Join(strings.Fields(text), " ") }
