package desk

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
)

// What holds on every screen, in every size, language and size of letters: nothing covers
// anything else or leaves the page, the parts of the page share it among them, what is
// pressed is what is drawn, a name is level with what it names, and all of what scrolls is
// within the room that it took.
func TestLaws(t *testing.T) {
	for n, in := range rooms() {
		for m, s := range screens() {
			if !onTurn(n, m, 5) {
				continue
			}
			what := fmt.Sprintf("%s: %+v", s.name, in)
			p := s.sit(t, in)
			checkParts(t, p.desk, what)
			p.through(func() { checkPage(t, p.desk, what) })
		}
	}
}

// through scrolls each column that is seen from its beginning to its end.
func (p *person) through(look func()) {
	d := p.desk
	columns := []*column{&d.page.columns[d.Page]}
	if o, ok := d.over.(columned); ok {
		columns = o.columns()
	} else if d.over != nil || d.folded() || d.family {
		columns = nil
	}
	spy(columns)
	d.dirty = true
	p.update()
	look()
	d.kit.Ring = false // what has the focus would be scrolled to
	for _, c := range columns {
		for i := 0; c.scroll.Area.H > 0 && c.scroll.Top+c.scroll.Area.H < c.scroll.Height-1; i++ {
			require.Less(p.t, i, 50, "%s does not scroll to its end", c.scroll.Name)
			c.scroll.To(c.scroll.Top + c.scroll.Area.H)
			d.dirty = true
			p.update()
			look()
		}
	}
}

// spied is a block that remembers the room that it took, and what it drew.
type spied struct {
	block
	at    display.Rect
	drawn display.List
}

// spy has the blocks of columns spied, those within others too.
func spy(columns []*column) {
	var all func(blocks []block)
	all = func(blocks []block) {
		for i, b := range blocks {
			switch b := b.(type) {
			case *halves:
				all(b.left)
				all(b.right)
			case *beside:
				all(b.left)
				all(b.right)
			case *spied:
				continue
			}
			blocks[i] = &spied{block: b}
		}
	}
	for _, c := range columns {
		all(c.blocks)
	}
}

func (b *spied) lay(d *Desk, x, y, width float64) float64 {
	b.at = display.Rect{X: x, Y: y, W: width, H: b.block.lay(d, x, y, width)}
	return b.at.H
}

func (b *spied) draw(d *Desk, l *display.List) {
	b.drawn.Reset(l.W, l.H, display.Colour{})
	b.block.draw(d, &b.drawn)
	l.Append(&b.drawn)
}

// checkBlocks checks that what blocks draw is within the room that they took, and that they
// draw nothing where they took none.
func checkBlocks(t *testing.T, d *Desk, blocks []block, what string) {
	t.Helper()
	for _, b := range blocks {
		s, ok := b.(*spied)
		if !ok {
			continue
		}
		name := fmt.Sprintf("%s: a %T at %v", what, s.block, s.at)
		switch in := s.block.(type) {
		case *halves:
			checkBlocks(t, d, slices.Concat(in.left, in.right), what)
		case *beside:
			checkBlocks(t, d, slices.Concat(in.left, in.right), what)
		}
		if s.at.H == 0 {
			if len(s.drawn.Ops) > 0 {
				t.Errorf("%s draws what does not show", name)
			}
			continue
		}
		for _, r := range drawnBoxes(&s.drawn) {
			if !within(r, s.at, 3*d.kit.Unit+1) { // a ring is 3 units round what it marks
				t.Errorf("%s draws at %v", name, r)
			}
		}
	}
}

// within says whether a rectangle is in another, but for some slack.
func within(r, in display.Rect, slack float64) bool {
	return r.X >= in.X-slack && r.Y >= in.Y-slack && r.X+r.W <= in.X+in.W+slack && r.Y+r.H <= in.Y+in.H+slack
}

// drawnBoxes are where the texts, shapes and pictures of a list are. What is in a picture
// is its own matter.
func drawnBoxes(l *display.List) (all []display.Rect) {
	inside := 0
	for _, op := range l.Ops {
		switch op.Kind {
		case display.KindClip:
			if inside == 0 {
				all = append(all, box(l.Clips[op.Index].Outline))
			}
			inside++
		case display.KindGroup:
			inside++
		case display.KindEnd:
			inside--
		case display.KindText:
			if t := &l.Texts[op.Index]; inside == 0 && len(t.Glyphs) > 0 {
				all = append(all, written2(t))
			}
		case display.KindPath:
			if inside == 0 {
				all = append(all, box(l.Paths[op.Index].Outline))
			}
		}
	}
	return all
}

// written2 is where a text stands, from its foot to the height of its capitals.
func written2(t *display.Text) display.Rect {
	st := lettering.Style{Face: t.Face, Size: t.Size}
	at, high := t.Glyphs[0].At, lettering.CapHeight(st)
	return display.Rect{X: at.X, Y: at.Y - high, W: lettering.Width(st, t.String), H: high}
}

// checkParts checks that the parts of the page have all of it among them, and no two the
// same place.
func checkParts(t *testing.T, d *Desk, what string) {
	t.Helper()
	l := &d.layout
	if d.over != nil && !d.panelled() {
		return
	}
	parts := []display.Rect{l.picture, l.sentence, l.hint}
	if !d.family {
		parts = append(parts, l.header, l.note, l.bar, l.column)
	}
	area := 0.
	for i, a := range parts {
		area += a.W * a.H
		for _, b := range parts[:i] {
			assert.False(t, shared(a, b), "%s: %v and %v", what, a, b)
		}
	}
	assert.InDelta(t, d.in.W*d.in.H, area, d.in.W+d.in.H, what)
}

// checkPressed checks that what can be pressed is drawn, and that it is drawn where it is
// pressed.
func checkPressed(t *testing.T, d *Desk, page *display.List, what string) {
	t.Helper()
	whole := wholePage(d)
	drawn := map[string]int{}
	for _, line := range listed(d, page, whole) {
		drawn[line]++
	}
	for _, w := range d.widgets() {
		b := w.Self()
		seen := meet(b.Area, whole)
		if b.Within.W > 0 {
			seen = meet(seen, b.Within)
		}
		if !b.Shown() || b.Behind || d.over != nil && !slices.ContainsFunc(d.overs, func(o ui.Widget) bool { return ui.Is(o, w) }) || seen.H < 2 {
			continue
		}
		var alone display.List
		alone.Reset(d.in.W, d.in.H, display.Colour{})
		w.Draw(&d.kit, &alone)
		for _, line := range listed(d, &alone, whole) {
			if drawn[line]--; drawn[line] < 0 {
				t.Errorf("%s: of %s is not drawn: %s", what, b.Name, line)
			}
		}
		if h, ok := w.(*handle); ok && h.where != onBar {
			continue // the picture draws it
		}
		for _, r := range drawnBoxes(&alone) {
			if !within(r, b.Area, 3*d.kit.Unit+1) {
				t.Errorf("%s: %s at %v draws at %v", what, b.Name, b.Area, r)
			}
		}
	}
}

// checkLevel checks that what is named beside a widget is level with it, and at its left.
func checkLevel(t *testing.T, d *Desk, page *display.List, what string) {
	t.Helper()
	for _, w := range d.reached() {
		b := w.Self()
		if !b.Shown() || b.Label == "" {
			continue
		}
		for i := range page.Texts {
			x := &page.Texts[i]
			if x.String != b.Label {
				continue
			}
			r := written2(x)
			if m := meet(r, display.Rect{X: 0, Y: b.Area.Y, W: d.in.W, H: b.Area.H}); m.H <= 1 || r.X > b.Area.X || r.X < b.Area.X-d.in.W {
				continue
			}
			if off := ui.Middle(r).Y - ui.Middle(b.Area).Y; math.Abs(off) > 1 {
				t.Errorf("%s: %q is %v off %s", what, x.String, off, b.Name)
			}
		}
	}
}

// checkLines checks what stands in the middle of its place: the name of the scene, the
// sentence, the hint, what stands beside a handle.
func checkLines(t *testing.T, d *Desk, page *display.List, what string) {
	t.Helper()
	l := &d.layout
	level := func(in display.Rect, texts ...string) {
		t.Helper()
		low, high := math.Inf(-1), math.Inf(1)
		found := 0
		for i := range page.Texts {
			x := &page.Texts[i]
			if len(x.Glyphs) == 0 || !slices.Contains(texts, x.String) || !ui.Inside(in, ui.Middle(written2(x))) {
				continue
			}
			found++
			r := written2(x)
			low, high = max(low, r.Y+r.H), min(high, r.Y)
		}
		if found == 0 {
			return
		}
		if found != len(texts) {
			t.Errorf("%s: of %q %d are there", what, texts, found)
		}
		if off := (low+high)/2 - ui.Middle(in).Y; math.Abs(off) > 1 {
			t.Errorf("%s: %q is %v out of the middle of %v", what, texts, off, in)
		}
	}
	if d.over == nil {
		level(l.sentence, l.lines...)
	}
	if !d.family && d.over == nil {
		level(l.header, d.heading())
		level(l.header, d.fixed.unsaved)
		target, meeting := d.page.handles[0].Area, d.page.handles[1].Area
		level(display.Rect{X: l.bar.X, W: l.bar.W, Y: target.Y, H: target.H}, l.targetText.text)
		level(display.Rect{X: l.bar.X, W: l.bar.W, Y: meeting.Y, H: meeting.H}, l.meetingText.text)
	}
	if !d.family || d.over != nil {
		level(l.hint, d.Hint())
	}
	if r, ok := d.over.(*practice); ok {
		for i := range page.Texts {
			x := &page.Texts[i]
			if len(x.Glyphs) > 0 && ui.Inside(r.scroll.Area, x.Glyphs[0].At) {
				if b := written2(x); b.X+b.W > r.scroll.Area.X+r.scroll.Area.W+1 {
					t.Errorf("%s: %q is longer than its line", what, x.String)
				}
			}
		}
	}
}

// checkWidgets checks that no two widgets share a place, that each is large enough, and
// that what a button says fits it.
func checkWidgets(t *testing.T, d *Desk, what string) {
	t.Helper()
	var areas []display.Rect
	var names []string
	large := func(w ui.Widget, area display.Rect) {
		if least := leastSide(d, w) - 0.5; min(area.W, area.H) < least {
			t.Errorf("%s: %s is no larger than %v", what, w.Self().Name, area)
		}
	}
	for _, w := range d.reached() {
		b := w.Self()
		_, isHandle := w.(*handle)
		if !b.Shown() || isHandle || b.Behind {
			continue
		}
		area := b.Area
		large(w, area)
		switch w := w.(type) {
		case *choices:
			for i := range w.texts {
				large(w, w.at(i))
			}
		case *ui.Button:
			if wide := lettering.Width(d.kit.Style(theme.Body), w.Text); !signedNow(w) && wide > area.W-4*d.kit.Unit {
				t.Errorf("%s: %q does not fit %v", what, w.Text, area)
			}
		}
		if b.Within.W > 0 {
			area = meet(area, b.Within)
		}
		for j, o := range areas {
			if shared(area, o) {
				t.Errorf("%s: %s lies on %s", what, b.Name, names[j])
			}
		}
		areas, names = append(areas, area), append(names, b.Name)
	}
}

// leastSide is the least side of what is pressed: 24 px at scale 1 (WCAG 2.2, 2.5.8), and
// 44 where somebody may sit with a patient and use a finger, on the page of answers and in
// cases.
func leastSide(d *Desk, w ui.Widget) float64 {
	least := 24.
	ofAnswers := d.Page == answersPage && slices.ContainsFunc(d.page.paged[answersPage], func(o ui.Widget) bool { return ui.Is(o, w) })
	_, ofCases := d.over.(*casework)
	if ofAnswers || ofCases && w.Self().Name != "close" {
		least = theme.Target
	}
	return least * d.in.Scale
}

// What is written under the bar stands at its place on the scale, worked here from the
// scale's own words: D/(D + 250) of the way to infinity at D mm from the eyes, the nose at
// the left end and 1.12 at the right. Each is in the middle under its tick, or as near to it
// as the ends of the bar allow, and no two run into each other. Where the hold breaks its
// name is at the nose's side, and where it returns beyond.
func TestTicksStandAtTheirPlaces(t *testing.T) {
	for _, scene := range []string{"middle-of-three", "receding-near-point", "three-metres"} {
		for _, inches := range []bool{false, true} {
			sc, _, err := scenes.Open(scene)
			require.NoError(t, err)
			p := sitBefore(t, sc, "en", Settings{}, 1280, 800, 1)
			d := p.desk
			d.speakAfresh(d.say.WithInches(inches))
			p.update()
			a, s := &d.layout, &d.setup
			from := func(at float64) float64 { return r3.Norm(s.Place(at)) } // where the eyes turn is the origin
			place := func(mm float64) float64 { return mm / (mm + 250) }
			x := func(scale float64) float64 {
				return a.left + a.width*(scale-place(from(0)))/(1.12-place(from(0)))
			}
			want := map[string]float64{d.fixed.nose: a.left, d.fixed.infinity: x(1), d.fixed.part: a.left + a.width}
			length := s.String.Length
			want[d.say.WallAt(math.Round(length/10)*10)] = x(place(from(length)))
			for i := range 700 {
				mm := float64(i) * d.say.LengthUnit()
				at := x(place(from(min(mm, length)) + max(0, mm-length)))
				want[d.say.Number(float64(i), 0)], want[d.say.Length(mm)] = at, at
			}
			st := d.kit.Style(theme.Small)
			right := math.Inf(-1)
			ticks := slices.Clone(a.ticks)
			slices.SortFunc(ticks, func(a, b tick) int { return cmp.Compare(a.labelX, b.labelX) })
			turns := 0
			for _, k := range ticks {
				wide := lettering.Width(st, k.text)
				assert.Greater(t, k.labelX, right, "%s: %s", scene, k.text)
				right = k.labelX + wide
				if k.turns {
					at := d.turning[turns].Value
					assert.InDelta(t, x(place(from(at))), k.x, 0.6, "%s: %s", scene, k.text)
					if turns == 0 {
						assert.True(t, k.labelX+wide < k.x+theme.Unit || k.labelX <= a.left, "%s: %s", scene, k.text)
					} else {
						assert.Greater(t, k.labelX, k.x-theme.Unit, k.text)
					}
					turns++
					continue
				}
				at, ok := want[k.text]
				require.True(t, ok, "%s: %q", scene, k.text)
				assert.InDelta(t, at, k.x, 0.6, "%s: %s", scene, k.text)
				if off := k.labelX + wide/2 - k.x; math.Abs(off) > 0.5 {
					assert.True(t, off > 0 && k.x < a.left+wide || off < 0 && k.x > a.left+a.width-wide, "%s: %s is %v aside", scene, k.text, off)
				}
			}
			assert.GreaterOrEqual(t, len(ticks)-turns, 7, scene)
		}
	}
}

// The buttons of the header have their names where those leave room for the name of the
// scene and for what is said of it, and signs where they do not; side by side, as far from
// the right as their row is wide.
func TestTheHeaderLeavesRoomForTheName(t *testing.T) {
	seen := map[bool]int{}
	for _, language := range words.Languages() {
		for w := 800.; w <= 1700; w += 50 {
			sc, _, err := scenes.Open("middle-of-three")
			require.NoError(t, err)
			d := sitBefore(t, sc, language, Settings{}, w, 800, 1).desk
			ws := d.header()
			named := 0.
			for _, b := range ws {
				named += lettering.Width(d.kit.Style(theme.Body), headed(b)) + 3*theme.Unit
			}
			room := d.layout.header.W - 200 - 20 - lettering.Width(d.kit.Style(theme.Small), d.fixed.unsaved) - 24
			signs := signedNow(ws[0])
			if math.Abs(named-room) > float64(len(ws)) { // each is rounded
				assert.Equal(t, named > room, signs, "%s at %v", language, w)
			}
			seen[signs]++
			x := ws[0].Self().Area.X
			assert.InDelta(t, x-8, d.layout.name.X+d.layout.name.W, 1, "the name has the rest")
			for _, b := range ws {
				assert.Equal(t, signs, signedNow(b))
				assert.InDelta(t, x, b.Self().Area.X, 1e-9, "no gap and nothing over another")
				x += b.Self().Area.W
			}
			assert.InDelta(t, w-4, x, 1e-9)
		}
	}
	assert.True(t, seen[true] > 3 && seen[false] > 3, "%v", seen)
}

// headed is what a button of the header says.
func headed(w ui.Widget) string {
	if m, ok := w.(*ui.Menu); ok {
		return m.Text
	}
	return w.(*ui.Button).Text
}

// What is broken of the scenes says why, in its place and no lower.
func TestABrokenSceneSaysWhy(t *testing.T) {
	d := sit(t, scenes.DefaultName).desk
	why := errors.New(strings.Repeat("It is no scene of this program. ", 40))
	frame := display.Rect{X: 100, Y: 200, W: 160, H: 110}
	var l display.List
	l.Reset(1280, 800, display.Colour{})
	d.broken("a.toml", why).Draw(&d.kit, &l, frame)
	require.Equal(t, frame, box(l.Paths[0].Outline))
	lines := lettering.Wrap(d.kit.Style(theme.Small), why.Error(), frame.W-2*theme.Unit)
	require.Greater(t, len(l.Texts), 3)
	require.Less(t, len(l.Texts), len(lines), "not all of it has room")
	pitch := lettering.LineHeight(d.kit.Style(theme.Small))
	for i := range l.Texts {
		assert.Equal(t, lines[i], l.Texts[i].String)
		r := written2(&l.Texts[i])
		assert.True(t, within(r, ui.Inset(frame, theme.Unit-1e-9), 0), "%v in %v", r, frame)
		assert.InDelta(t, frame.X+theme.Unit, r.X, 1e-9)
		assert.InDelta(t, frame.Y+theme.Unit+theme.Small+float64(i)*pitch, r.Y+r.H, 1e-6)
	}
	last := written2(&l.Texts[len(l.Texts)-1])
	assert.Greater(t, last.Y+last.H+pitch, frame.Y+frame.H-theme.Unit, "as much as has room")
}
