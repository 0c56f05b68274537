package desk

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
	"twincord/sim"
)

// person sits before a desk.
type person struct {
	t    testing.TB
	desk *Desk
	in   Input
	down bool
}

func sit(t testing.TB, scene string) *person {
	sc, _, err := scenes.Open(scene)
	require.NoError(t, err)
	return sitBefore(t, sc, "en", Settings{}, 1280, 800, 1)
}

func sitBefore(t testing.TB, sc *scenes.Scene, language string, settings Settings, w, h, scale float64) *person {
	say, err := words.For(language)
	require.NoError(t, err)
	p := &person{t: t, in: Input{Input: ui.Input{W: w, H: h, Scale: scale}},
		desk: New(Options{Document: document.New(sc, ""), Words: say, Settings: settings})}
	p.begin()
	return p
}

// bandings are the bands of scenes that somebody sat down before, by the title: a desk that
// begins with those of its own scene has nothing to make, one with another's makes its own.
var bandings = map[string]banding{}

// begin is the first frame.
func (p *person) begin() {
	d := p.desk
	title := d.doc.Scene().Title
	d.banding = bandings[title]
	d.banding.seen = -1 // it is compared
	p.update()
	if d.banding.fresh {
		bandings[title] = d.banding
	}
}

// update is one frame: what is seen must be that of the scene when it ends.
func (p *person) update() bool {
	p.in.Seconds += 1. / 60
	p.in.Down = p.down
	d := p.desk
	changed := d.Update(p.in)
	p.in.Pressed, p.in.Released, p.in.Wheel, p.in.Keys, p.in.Text = false, false, 0, nil, nil
	p.in.Early, p.in.Again = 0, false
	if !d.playing && d.shownAt == 0 {
		var v sim.View
		v.Look(&d.setup)
		require.Equal(p.t, v.Account, d.view.Account)
		require.Equal(p.t, v.Axes, d.view.Axes)
	}
	return changed
}

func (p *person) press(at display.Point) {
	p.in.Pointer, p.in.Pressed, p.down = at, true, true
	p.update()
}

func (p *person) moveTo(at display.Point) {
	p.in.Pointer = at
	p.update()
}

func (p *person) lift() {
	p.in.Released, p.down = true, false
	p.update()
}

func (p *person) click(at display.Point) {
	p.in.Pressed, p.in.Released, p.in.Pointer = true, true, at
	p.update()
}

func (p *person) key(k ui.Key) {
	p.in.Keys = []ui.Press{{Key: k}}
	p.update()
}

func (p *person) write(text string) {
	p.in.Text = []rune(text)
	p.update()
}

// widget finds what has a name; it must be shown.
func (p *person) widget(name string) ui.Widget {
	p.t.Helper()
	for _, w := range p.desk.reached() {
		if w.Self().Name == name {
			require.True(p.t, w.Self().Shown(), "%s is not shown", name)
			return w
		}
	}
	require.Fail(p.t, "no ui.Widget "+name)
	return nil
}

func middle(r display.Rect) display.Point { return display.Point{X: r.X + r.W/2, Y: r.Y + r.H/2} }

// setup is the set-up of the document.
func (p *person) setup() *sim.Setup { return &p.desk.doc.Scene().Setup }

func TestPullingWhereTheEyesMeet(t *testing.T) {
	p := sit(t, "middle-of-three")
	at := middle(p.widget("meeting").Self().Area)
	p.press(at)
	p.moveTo(display.Point{X: at.X + 3, Y: at.Y})
	assert.Zero(t, p.setup().Posture.Deviation, "about zero it holds")
	p.moveTo(display.Point{X: at.X + 160, Y: at.Y})
	exo := p.setup().Posture.Deviation
	assert.Less(t, float64(exo), -2.)
	assert.Equal(t, sim.AimExo, p.desk.view.Account.Eyes, "in the same frame")
	p.key(ui.KeyEscape)
	assert.Zero(t, p.setup().Posture.Deviation, "Esc puts back")
	p.lift()

	p.press(at)
	p.moveTo(display.Point{X: at.X - 100, Y: at.Y})
	p.moveTo(display.Point{X: at.X - 120, Y: at.Y})
	p.lift()
	eso := p.setup().Posture.Deviation
	assert.Greater(t, float64(eso), 2.)
	p.in.Keys = []ui.Press{{Key: ui.KeyLetter, Ctrl: true, Letter: 'z'}}
	p.update()
	assert.Zero(t, p.setup().Posture.Deviation, "one pull is one step")
	p.in.Keys = []ui.Press{{Key: ui.KeyLetter, Ctrl: true, Letter: 'y'}}
	p.update()
	assert.Equal(t, eso, p.setup().Posture.Deviation)
}

func TestPullingTheTargetAndBeads(t *testing.T) {
	p := sit(t, "middle-of-three")
	at := middle(p.widget("target").Self().Area)
	p.press(at)
	p.moveTo(display.Point{X: at.X + 60, Y: at.Y})
	p.lift()
	assert.Equal(t, sim.NoBead, p.setup().Look.Bead)
	assert.Greater(t, p.setup().Look.At, 500.)

	before := slices.Clone(p.setup().Beads)
	bead := middle(p.widget("bead sky").Self().Area)
	p.press(bead)
	p.moveTo(display.Point{X: bead.X + 900, Y: bead.Y})
	p.lift()
	b := p.setup().Beads
	assert.InDelta(t, before[2].At-16, b[1].At, 1e-9, "it stops at its neighbour")
}

// With findings the number at the meeting place is what they make; a press on it types
// the posture instead.
func TestMeetingPlaceOfFindings(t *testing.T) {
	p := sit(t, "receding-near-point")
	n := p.widget("deviation").(*ui.Number)
	v, ok := n.Get()
	assert.True(t, ok)
	assert.InDelta(t, float64(p.desk.view.Now.Posture.Deviation), v, 0.5, "whole above 10 Δ")
	assert.Less(t, v, -10.)
	at := middle(p.widget("meeting").Self().Area)
	p.press(at)
	p.moveTo(display.Point{X: at.X + 40, Y: at.Y})
	assert.Equal(t, p.desk.say.Label(words.HintMeetFindings), p.desk.Hint(), "why it does not follow")
	p.lift()
	assert.True(t, p.setup().Findings.OK)
	p.click(at)
	assert.False(t, p.setup().Findings.OK, "now the posture is typed")
	assert.InDelta(t, v, float64(p.setup().Posture.Deviation), 0.5)
}

func TestCoverWhileHeld(t *testing.T) {
	p := sit(t, "middle-of-three")
	p.in.CoverLeft = true
	p.update()
	assert.Equal(t, sim.Left, p.desk.view.Account.Missing)
	assert.Equal(t, sim.Neither, p.setup().Cover, "the scene is not changed")
	p.in.CoverLeft = false
	p.update()
	assert.Equal(t, sim.Neither, p.desk.view.Account.Missing)
	p.press(middle(p.widget("cover right").Self().Area))
	assert.Equal(t, sim.Right, p.desk.view.Account.Missing)
	p.lift()
	assert.Equal(t, sim.Neither, p.desk.view.Account.Missing)
}

// Every control of the set-up changes the scene at its key, by the pointer and by keys, in
// the first of the scenes that shows it; with the tag long in all of them.
func TestEveryControlChangesItsKey(t *testing.T) {
	seen := map[string]bool{}
	for _, scene := range []string{"another-bead", "receding-near-point", "left-out-centre", "turned-yet-crossing-in-bead", "left-out-now-and-then", "bare-string", "walk-of-ten"} {
		sc, _, err := scenes.Open(scene)
		require.NoError(t, err)
		p := sitBefore(t, sc, "en", Settings{Page: setupPage, Groups: allGroups}, 1600, 6000, 1)
		for _, w := range p.desk.page.paged[setupPage] {
			path, ok := strings.CutPrefix(w.Self().Name, "key ")
			if !ok || !w.Self().Shown() || seen[path] && !long {
				continue
			}
			if o, ok := w.(*ui.Choice); ok && (len(o.Texts) == 1 || path == "look.from" && len(o.Texts) == 2) {
				continue // no bead to choose
			}
			if _, text := w.(*ui.TextField); text {
				continue // typed, elsewhere
			}
			seen[path] = true
			for _, suffix := range []string{".x", ".y", ".z"} {
				path = strings.TrimSuffix(path, suffix)
			}
			k, ok := scenes.Find(path)
			require.True(t, ok, path)
			value := func() any {
				v, ok := k.Get(p.desk.doc.Scene(), p.desk.bead)
				if !ok {
					return nil
				}
				return v
			}
			for _, way := range []func(ui.Widget, bool){p.stepByKey, p.stepByPointer} {
				before, changed := value(), false
				for _, forward := range []bool{true, false} {
					way(p.widget(w.Self().Name), forward)
					changed = changed || !assert.ObjectsAreEqual(before, value())
					if changed {
						break
					}
				}
				assert.True(t, changed, "%s, %s", scene, w.Self().Name)
				require.NoError(t, p.desk.doc.Scene().Check(), w.Self().Name)
			}
		}
	}
}

// stepByKey and stepByPointer step what a widget has on or back.
func (p *person) stepByKey(w ui.Widget, forward bool) {
	p.desk.kit.SetFocus(w)
	key := ui.KeyUp
	if !forward {
		key = ui.KeyDown
	}
	p.key(key)
}

func (p *person) stepByPointer(w ui.Widget, forward bool) {
	a := w.Self().Area
	if o, ok := w.(*ui.Choice); ok && o.Folded {
		p.click(middle(a))
		key := ui.KeyDown
		if !forward {
			key = ui.KeyUp
		}
		p.key(key)
		p.key(ui.KeyEnter)
		return
	}
	at := display.Point{X: a.X + a.W - 8, Y: a.Y + a.H/2}
	if !forward {
		at.X = a.X + 8
	}
	p.click(at)
}

func TestTypedNumbers(t *testing.T) {
	p := sit(t, "middle-of-three")
	for _, c := range []struct {
		text string
		want sim.Prism
	}{{"4", 4}, {"4.5", 4.5}, {"4,5", 4.5}, {"-4", -4}, {"4 exo", -4}, {"7 eso", 7}} {
		p.desk.kit.SetFocus(p.widget("deviation"))
		p.key(ui.KeyEnter)
		p.write(c.text)
		p.key(ui.KeyEnter)
		assert.InDelta(t, float64(c.want), float64(p.setup().Posture.Deviation), 1e-9, c.text)
	}
	p.key(ui.KeyEnter)
	p.write("400")
	p.key(ui.KeyEnter)
	assert.InDelta(t, 7, float64(p.setup().Posture.Deviation), 1e-9, "out of range is not taken")
	_, why := p.desk.fault()
	assert.Contains(t, why, "100")
	p.key(ui.KeyEscape)
	_, why = p.desk.fault()
	assert.Empty(t, why)
}

// What moves plays, and what does not move asks for no frames.
func TestPlaying(t *testing.T) {
	p := sit(t, "jump-near-to-far")
	p.write("p")
	require.True(t, p.desk.playing)
	for range 60 * 6 {
		p.update()
	}
	assert.Equal(t, sim.SeenOne, p.desk.view.Account.Fixated, "the jump is over")
	due := func() bool { _, ok := p.desk.Due(); return ok }
	for i := 0; due() && i < 600; i++ {
		p.update()
	}
	assert.False(t, due(), "nothing moves any more")

	still := sit(t, "middle-of-three")
	still.write("p")
	assert.False(t, still.desk.playing)
}

// The same frames give the same page, and a frame in which nothing happens changes
// nothing.
func TestNothingHappens(t *testing.T) {
	p := sit(t, "too-far-doubled")
	for range 30 {
		p.update()
	}
	assert.False(t, p.update())
}

// bounds is where a text stands, roughly.
func bounds(t *display.Text) display.Rect {
	first, last := t.Glyphs[0].At, t.Glyphs[len(t.Glyphs)-1].At
	return display.Rect{X: first.X, Y: first.Y - 0.7*t.Size, W: last.X - first.X + 0.4*t.Size, H: 0.72 * t.Size}
}

// pages are sizes that everything is laid out for: width, height, scale.
var pages = [][3]float64{
	{800, 700, 1}, {1024, 700, 1}, {1280, 800, 1}, {1920, 1080, 1}, {3840, 2160, 2}, {800, 1100, 1}, {1080, 1920, 1},
}

// A room is what everything has to fit into.
type room struct {
	size     [3]float64
	language string
	large    bool
}

// rooms are every size in every language, in one of them with large letters; with the
// tag long in both.
func rooms() (all []room) {
	for i, size := range pages {
		for j, language := range words.Languages() {
			for _, large := range []bool{false, true} {
				if long || large == ((i+j)%2 == 0) {
					all = append(all, room{size, language, large})
				}
			}
		}
	}
	return all
}

// onTurn says whether the mth of several things is looked at in the nth room: with the
// tag long all are in all, else each in one of so many rooms, and each time in others.
func onTurn(n, m, of int) bool { return long || n%of == m%of }

// bounded are the texts of a list as far as the clips that they are in show them.
func bounded(l *display.List, visit func(t *display.Text, b display.Rect)) {
	page := display.Rect{W: l.W, H: l.H}
	clips := []display.Rect{page}
	for _, op := range l.Ops {
		switch op.Kind {
		case display.KindClip:
			clips = append(clips, meet(clips[len(clips)-1], box(l.Clips[op.Index].Outline)))
		case display.KindGroup:
			clips = append(clips, clips[len(clips)-1])
		case display.KindEnd:
			clips = clips[:len(clips)-1]
		case display.KindText:
			t := &l.Texts[op.Index]
			if len(t.Glyphs) == 0 {
				continue
			}
			b := bounds(t)
			if clip := clips[len(clips)-1]; clip != page {
				b = meet(b, clip)
			}
			if b.W > 0 && b.H > 0 {
				visit(t, b)
			}
		}
	}
}

// meet is what two rectangles share.
func meet(a, b display.Rect) display.Rect {
	x, y := max(a.X, b.X), max(a.Y, b.Y)
	return display.Rect{X: x, Y: y, W: min(a.X+a.W, b.X+b.W) - x, H: min(a.Y+a.H, b.Y+b.H) - y}
}

// box is the rectangle round an outline.
func box(o display.Outline) display.Rect {
	low, high := o.Points[0], o.Points[0]
	for _, p := range o.Points {
		low = display.Point{X: min(low.X, p.X), Y: min(low.Y, p.Y)}
		high = display.Point{X: max(high.X, p.X), Y: max(high.Y, p.Y)}
	}
	return display.Rect{X: low.X, Y: low.Y, W: high.X - low.X, H: high.Y - low.Y}
}

// shared says whether two rectangles overlap by more than a pixel.
func shared(a, b display.Rect) bool {
	m := meet(a, b)
	return m.W > 1 && m.H > 1
}

func checkPage(t *testing.T, d *Desk, what string) {
	t.Helper()
	var l display.List
	d.Draw(&l)
	var boxes []display.Rect
	var said []string
	bounded(&l, func(text *display.Text, b display.Rect) {
		if !(b.X >= -1 && b.Y >= -1 && b.X+b.W <= d.in.W+1 && b.Y+b.H <= d.in.H+1) {
			t.Errorf("%s: %q leaves the page: %v", what, text.String, b)
		}
		for j, o := range boxes {
			if shared(b, o) {
				t.Errorf("%s: %q covers %q", what, text.String, said[j])
			}
		}
		boxes, said = append(boxes, b), append(said, text.String)
	})
	checkPressed(t, d, &l, what)
	checkLevel(t, d, &l, what)
	checkLines(t, d, &l, what)
	for _, c := range append([]*column{&d.casework.left, &d.casework.right}, &d.page.columns[d.Page]) {
		checkBlocks(t, d, c.blocks, what)
	}
	checkWidgets(t, d, what)
}

// Tab goes through everything that is shown and is a stop, and comes round.
func TestTabGoesRound(t *testing.T) {
	p := sit(t, "middle-of-three")
	want := 0
	for _, w := range p.desk.reached() {
		if w.Self().Shown() && !w.Self().Skip && !w.Self().Off {
			want++
		}
	}
	seen := map[string]bool{}
	for range want {
		p.key(ui.KeyTab)
		require.NotNil(t, p.desk.kit.Focus)
		seen[p.desk.kit.Focus.Self().Name] = true
	}
	assert.Len(t, seen, want)
}

// seedOf is the seed of a monkey: that of the variable MONKEY, or always the same.
func seedOf(t *testing.T) uint64 {
	seed := uint64(1)
	if s := os.Getenv("MONKEY"); s != "" {
		n, err := strconv.ParseUint(s, 10, 64)
		require.NoError(t, err)
		seed = n
	}
	t.Logf("MONKEY=%d does the same again", seed)
	return seed
}

func TestMonkey(t *testing.T) {
	steps := 300
	if long {
		steps = 1500
	}
	monkey(t, seedOf(t), func(step int) bool { return step < steps })
}

// monkey presses, pulls, types and resizes at random.
func monkey(t *testing.T, seed uint64, goOn func(step int) bool) {
	r := rand.New(rand.NewPCG(seed, 1))
	names := scenes.Library()
	p := sit(t, names[r.IntN(len(names))].Name)
	var l display.List
	for step := 0; goOn(step); step++ {
		switch r.IntN(9) {
		case 0:
			p.press(display.Point{X: r.Float64() * p.in.W, Y: r.Float64() * p.in.H})
		case 1, 2:
			p.moveTo(display.Point{X: r.Float64() * p.in.W, Y: r.Float64() * p.in.H})
		case 3:
			p.lift()
		case 4:
			p.in.Keys = []ui.Press{{Key: ui.Key(r.IntN(int(ui.KeyLetter) + 1)), Shift: r.IntN(3) == 0, Ctrl: r.IntN(5) == 0, Letter: rune('a' + r.IntN(26))}}
			p.update()
		case 5:
			p.write(string([]rune("0123456789-.,eson cmpfiglut+= 123h")[r.IntN(34)]))
		case 6:
			p.in.Wheel = float64(r.IntN(5) - 2)
			p.update()
		case 7:
			s := pages[r.IntN(len(pages))]
			p.in.W, p.in.H, p.in.Scale = s[0], s[1], s[2]
			p.update()
		default:
			p.in.CoverLeft, p.in.CoverRight = r.IntN(6) == 0, r.IntN(6) == 0
			p.in.Seconds += r.Float64()
			p.update()
		}
		require.NoError(t, p.desk.doc.Scene().Check(), "a scene that no file holds; seed %d", seed)
		require.False(t, math.IsNaN(float64(p.desk.view.Axes.Vergence)))
		if r.IntN(20) == 0 {
			p.desk.Draw(&l)
		}
	}
}

func BenchmarkPulling(b *testing.B) {
	p := sit(b, "middle-of-three")
	at := middle(p.widget("meeting").Self().Area)
	p.press(at)
	var l display.List
	b.ReportAllocs()
	for i := range b.N {
		p.in.Pointer = display.Point{X: at.X + 50 + float64(i%200), Y: at.Y}
		p.in.Seconds += 1. / 60
		p.in.Down = true
		p.desk.Update(p.in)
		p.desk.Draw(&l)
	}
}

// However long something is pulled without a rest, the sentence is never more than a second
// behind the picture.
func TestSentenceKeepsUpWithALongPull(t *testing.T) {
	p := sit(t, scenes.DefaultName)
	p.in.Seconds += 60
	p.update()
	at := middle(p.widget("meeting").Self().Area)
	p.press(at)
	var seen []string // a sentence a frame, as it should be
	for i := range 300 {
		p.moveTo(display.Point{X: at.X + 100*math.Sin(float64(i)/40), Y: at.Y})
		seen = append(seen, p.desk.say.Family(&p.desk.view))
		was := seen[max(0, len(seen)-62):]
		require.Contains(t, was, p.desk.sentence, "after %d frames", i)
	}
	slices.Sort(seen)
	assert.Greater(t, len(slices.Compact(seen)), 2, "there is something to say")
}
