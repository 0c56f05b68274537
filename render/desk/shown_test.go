package desk

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
	"twincord/sim/answers"
)

// filming is a film that is so far.
type filming struct {
	done, of int
	err      error
	over     bool
}

func (f *filming) Progress() (done, of int) { return f.done, f.of }

func (f *filming) Result() ([]string, error, bool) { return []string{"a.mp4"}, f.err, f.over }

func (*filming) Stop() {}

// A film that is made shows how far it is, by a bar as well; no other is begun meanwhile,
// and what becomes of it is told.
func TestHowFarAFilmIs(t *testing.T) {
	var job *filming
	begun := 0
	p, _ := shelved(t, func(o *Options) {
		o.Film = func(string, *scenes.Scene, scenes.Identity, *words.Words, FilmSize, FilmKind) FilmJob {
			begun++
			return job
		}
		o.FilmKinds = func(bool) []FilmKind { return []FilmKind{{"MP4", ".mp4"}} }
	})
	bars := func() (widths []float64) {
		var l display.List
		p.desk.Draw(&l)
		for i := range l.Paths {
			if b := box(l.Paths[i].Outline); math.Abs(b.H-8) < 1e-9 && b.W > 8 {
				widths = append(widths, b.W)
			}
		}
		return widths
	}
	for _, err := range []error{nil, errors.New("the disk is full")} {
		job = &filming{}
		p.desk.film()
		p.update()
		assert.Empty(t, bars())
		_, due := p.desk.Due()
		assert.False(t, due, "nothing goes on")
		p.click(middle(p.widget("make film").Self().Area))
		assert.Empty(t, bars(), "nothing is known yet")
		at, due := p.desk.Due()
		assert.True(t, due && at <= p.in.Seconds, "how far it is, at once")
		job.of = 40
		p.update()
		require.Len(t, bars(), 1, "none done")
		whole := bars()[0]
		for _, done := range []int{10, 20, 40} {
			job.done = done
			p.update()
			require.Len(t, bars(), 2)
			assert.InDelta(t, whole*float64(done)/40, bars()[1], 1e-9)
			checkPage(t, p.desk, "a film")
			var l display.List
			p.desk.Draw(&l)
			assert.True(t, slices.ContainsFunc(l.Texts, func(x display.Text) bool { return x.String == p.desk.say.FilmGoesOn(done, 40) }))
		}
		was := begun
		p.click(middle(p.widget("make film").Self().Area))
		assert.Equal(t, was, begun, "one at a time")
		job.err, job.over = err, true
		p.update()
		assert.Nil(t, p.desk.over)
		if err != nil {
			assert.Contains(t, p.desk.News(), err.Error())
		} else {
			assert.Contains(t, p.desk.News(), "a.mp4")
		}
	}
}

// Right, half right and wrong have signs of different shapes, not of different colours
// alone.
func TestSignsOfPoints(t *testing.T) {
	drawn := func(points, scale float64) (all []display.Point) {
		sc, _, err := scenes.Open("middle-of-three")
		require.NoError(t, err)
		d := sitBefore(t, sc, "en", Settings{Page: setupPage}, 1280*scale, 800*scale, scale).desk
		text := func(s string) prose { return prose{text: func(*Desk) string { return s }} }
		r := &ruling{points: points, said: text("An answer"), right: text("")}
		r.lay(d, d.layout.column.X, d.layout.column.Y+100, d.layout.column.W)
		d.clip = d.layout.column
		var l display.List
		r.draw(d, &l)
		for i := range l.Paths {
			assert.InDelta(t, 2.5*scale, l.Paths[i].Stroke, 1e-9)
			for _, q := range l.Paths[i].Outline.Points {
				all = append(all, display.Point{X: (q.X - r.at.X) / scale, Y: (q.Y - r.at.Y) / scale})
			}
		}
		return all
	}
	shape := func(points float64) []display.Point {
		one, two := drawn(points, 1), drawn(points, 2)
		require.Len(t, two, len(one))
		for i := range one {
			assert.InDelta(t, one[i].X, two[i].X, 1e-9, "at any size")
			assert.InDelta(t, one[i].Y, two[i].Y, 1e-9, "at any size")
		}
		return one
	}
	tick, half, cross := shape(1), shape(0.5), shape(0)
	require.Len(t, tick, 3)
	assert.Less(t, tick[0].X, tick[1].X)
	assert.Less(t, tick[1].X, tick[2].X)
	assert.Greater(t, tick[1].Y, max(tick[0].Y, tick[2].Y), "down and up again")
	assert.Less(t, tick[2].Y, tick[0].Y)
	require.Len(t, half, 2)
	assert.InDelta(t, half[0].Y, half[1].Y, 1e-9, "level")
	assert.InDelta(t, -half[0].X, half[1].X, 1e-9)
	require.Len(t, cross, 4)
	assert.Equal(t, shape(0.01), half)
}

// A small picture that is kept is drawn anew where it is of something else, or stands
// elsewhere.
func TestAKeptPictureIsOfWhatIsSeen(t *testing.T) {
	straight := sim.Default()
	straight.Beads, straight.Look.Bead = []sim.Bead{{Name: "sky", At: 480, Diameter: 12}}, 0
	exo := straight.Clone()
	exo.Posture.Deviation = -8
	drawn := func(p *snapshot, s *sight, frame display.Rect) display.List {
		var l display.List
		l.Reset(400, 300, display.Colour{})
		p.draw(&l, s, frame, 30)
		return l
	}
	one, two := newSight(&straight), newSight(&exo)
	here, there := display.Rect{W: 90, H: 60}, display.Rect{X: 100, W: 120, H: 80}
	var p snapshot
	for _, now := range []struct {
		of    *sight
		frame display.Rect
	}{{one, here}, {two, here}, {two, there}, {one, there}, {one, here}, {one, here}} {
		assert.Equal(t, drawn(new(snapshot), now.of, now.frame).Balls, drawn(&p, now.of, now.frame).Balls)
	}
	assert.NotEqual(t, drawn(new(snapshot), one, here).Balls, drawn(new(snapshot), two, here).Balls)
}

// However many lines news has, all of them are on its plate and beside its buttons, as
// many as there is room for; where there are more, the last one says so.
func TestNewsIsOnItsPlate(t *testing.T) {
	most, cut := 0, 0 // lines that are all shown, and those of more
	for lines := 1; cut == 0; lines++ {
		require.Less(t, lines, 100)
		p := sit(t, "middle-of-three")
		p.desk.Warn(strings.Repeat("One more line of what could not be done.\n", lines))
		p.update()
		a := p.desk.layout.news
		var l display.List
		p.desk.Draw(&l)
		shown := 0
		for i := range l.Texts {
			if x := &l.Texts[i]; strings.HasPrefix(x.String, "One more line") {
				shown++
				b := bounds(x)
				assert.True(t, b.X >= a.area.X && b.Y >= a.area.Y-1 && b.Y+b.H <= a.area.Y+a.area.H+1, "%d lines: %v on %v", lines, b, a.area)
				assert.Less(t, b.X+b.W, p.widget("news close").Self().Area.X)
			}
		}
		if shown == lines {
			most = lines
		} else {
			assert.Equal(t, "…", a.lines[len(a.lines)-1])
			cut = len(a.lines)
		}
		assert.LessOrEqual(t, a.area.Y+a.area.H, p.desk.layout.picture.Y+p.desk.layout.picture.H)
	}
	assert.Equal(t, most, cut, "as many as there is room for")
}

// The sign of an answer shows what goes behind the cover, dotted, on the side that is
// said, and what stays beside it whole.
func TestSignsOfCovers(t *testing.T) {
	ofStrings := []answers.Item{answers.RightCoverString, answers.LeftCoverString, answers.Fainter}
	ofBeads := []answers.Item{answers.RightCoverBead, answers.LeftCoverBead}
	sides := map[answers.Code]display.Point{answers.Left: {X: -1}, answers.Right: {X: 1}, answers.Upper: {Y: -1}, answers.Lower: {Y: 1}}
	r := display.Rect{X: 100, Y: 50, W: 60, H: 40}
	for _, i := range answers.Items() {
		for _, c := range i.Codes() {
			var l display.List
			drawn := drawCovered(&l, r, 1, i, c, display.Colour{A: 1})
			what := i.String() + ": " + c.String()
			require.Equal(t, slices.Contains(ofStrings, i) || slices.Contains(ofBeads, i), drawn, what)
			if !drawn {
				assert.Empty(t, l.Ops, what)
				continue
			}
			shapes := 2
			if c == answers.Only {
				shapes = 1
			}
			require.Len(t, l.Paths, shapes, what)
			var goes []display.Point
			for n := range l.Paths {
				p := &l.Paths[n]
				faint := p.Paint.From.A < 1
				assert.Equal(t, faint && i != answers.Fainter, p.Dash > 0, what)
				if faint {
					goes = append(goes, middle(box(p.Outline)))
				}
				if b := box(p.Outline); slices.Contains(ofBeads, i) {
					assert.InDelta(t, b.W, b.H, 1e-9, what)
					assert.Greater(t, b.W, r.H/5, "%s: large enough to be seen", what)
				}
				for _, q := range p.Outline.Points {
					assert.True(t, ui.Inside(r, q), "%s: %v", what, q)
				}
			}
			if c == answers.None {
				assert.Empty(t, goes, what)
				continue
			}
			require.Len(t, goes, 1, what)
			if side, ok := sides[c]; ok {
				m := middle(r)
				assert.Positive(t, side.X*(goes[0].X-m.X)+side.Y*(goes[0].Y-m.Y), what)
			}
		}
	}
}

// A panel is in the middle of the picture.
func TestPanelsAreInTheMiddle(t *testing.T) {
	for name, open := range map[string]func(*Desk){"name": (*Desk).saveAs, "care": func(d *Desk) { d.askPrescriber(nil) }} {
		p, _ := shelved(t, nil)
		open(p.desk)
		p.update()
		want, in := middle(p.desk.layout.picture), middle(p.desk.layout.over)
		assert.InDelta(t, want.X, in.X, 1, name)
		assert.InDelta(t, want.Y, in.Y, 1, name)
	}
}

// What an answer is worth is said from both sides of every bound.
func TestVerdicts(t *testing.T) {
	p := sit(t, "middle-of-three")
	c := &casework{d: p.desk}
	for points, want := range map[float64]words.Label{
		1: words.CasesFull, 0.99: words.CasesHalf, 0.5: words.CasesHalf, 0.01: words.CasesHalf,
		0: words.CasesNone, -0.01: words.CasesCosts, -0.5: words.CasesCosts,
	} {
		assert.Equal(t, p.desk.say.Label(want), c.verdict(points), "%v", points)
	}
}

// Of several things that cannot be taken the one that has the focus is told.
func TestTheFaultOfWhatHasTheFocus(t *testing.T) {
	p := atSetup(t, "middle-of-three")
	fields := []string{"key patient.pd_mm", "key patient.age_years", "key string.length_mm"}
	for _, name := range fields {
		p.desk.kit.SetFocus(p.widget(name))
		p.key(ui.KeyEnter)
		p.write("xyz")
		p.key(ui.KeyTab)
	}
	for _, name := range fields {
		w := p.widget(name)
		require.NotEmpty(t, w.(ui.Typing).Fault(), name)
		p.desk.kit.SetFocus(w)
		at, why := p.desk.fault()
		assert.True(t, ui.Is(at, w), name)
		assert.Equal(t, w.(ui.Typing).Fault(), why)
	}
}

// A button that covers an eye is down while that eye is covered, by whatever it is.
func TestCoversAreDown(t *testing.T) {
	p := sit(t, "middle-of-three")
	down := func() [2]bool {
		var l display.List
		p.desk.Draw(&l)
		return [2]bool{p.desk.page.covers[sim.RightEye].Held, p.desk.page.covers[sim.LeftEye].Held}
	}
	assert.Equal(t, [2]bool{}, down())
	p.in.CoverLeft = true
	p.update()
	assert.Equal(t, [2]bool{false, true}, down())
	p.in.CoverLeft = false
	p.update()
	p.desk.edit("", func(s *sim.Setup) { s.Cover = sim.Right })
	p.update()
	assert.Equal(t, [2]bool{true, false}, down())
}

// What has the focus by keys shows the key of every choice, up to nine of them.
func TestKeysOfChoices(t *testing.T) {
	p := asking(t, "middle-of-three")
	row := p.row(answers.Meet)
	for _, ring := range []bool{false, true} {
		p.desk.kit.SetFocus(row)
		p.desk.kit.Ring = ring
		p.desk.dirty = true
		var l display.List
		row.Draw(&p.desk.kit, &l)
		var keys []string
		for i := range l.Texts {
			if len(l.Texts[i].String) == 1 {
				keys = append(keys, l.Texts[i].String)
			}
		}
		if ring {
			assert.Equal(t, []string{"1", "2", "3", "4"}, keys)
		} else {
			assert.Empty(t, keys)
		}
	}
}
