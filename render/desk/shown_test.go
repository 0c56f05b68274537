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
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

type filming struct {
	done, of int
	err      error
	over     bool
}

func (f *filming) Progress() (done, of int) { return f.done, f.of }

func (f *filming) Result() ([]string, error, bool) { return []string{"a.mp4"}, f.err, f.over }

func (*filming) Stop() {}

func TestHowFarAFilmIs(t *testing.T) {
	var job *filming
	begun := 0
	p, _ := shelved(t, func(o *Options) {
		o.Film = func(string, *scenes.Scene, scenes.Identity, *words.Words, FilmSize, FilmKind) FilmJob {
			begun++
			return job
		}
		o.FilmKinds = func() []FilmKind { return []FilmKind{{"MP4", ".mp4"}} }
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
		p.click(middle(p.widget("make film").Self().Area))
		assert.Empty(t, bars(), "nothing is known yet")
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

func TestSignsOfPoints(t *testing.T) {
	p := atSetup(t, "middle-of-three")
	d := p.desk
	column := d.layout.column
	shape := func(points float64) (all []display.Point) {
		said := prose{text: func(*Desk) string { return "An answer" }}
		r := &ruling{points: points, said: said, right: prose{text: func(*Desk) string { return "" }}}
		r.lay(d, column.X, column.Y+100, column.W)
		var l display.List
		d.clip = column
		r.draw(d, &l)
		for i := range l.Paths {
			for _, q := range l.Paths[i].Outline.Points {
				all = append(all, display.Point{X: q.X - r.at.X, Y: q.Y - r.at.Y})
			}
		}
		return all
	}
	tick, half, cross := shape(1), shape(0.5), shape(0)
	require.Len(t, tick, 3)
	assert.Less(t, tick[0].X, tick[1].X)
	assert.Less(t, tick[1].X, tick[2].X)
	assert.Greater(t, tick[1].Y, max(tick[0].Y, tick[2].Y), "down and up again")
	assert.Less(t, tick[2].Y, tick[0].Y)
	require.Len(t, half, 2)
	assert.Equal(t, [2]float64{0, 0}, [2]float64{half[0].Y, half[1].Y}, "level")
	assert.Equal(t, -half[0].X, half[1].X)
	require.Len(t, cross, 4)
	assert.Equal(t, shape(0.01), half)
}

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

func TestNewsIsOnItsPlate(t *testing.T) {
	for _, lines := range []int{1, 2, 5, 200} {
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
		assert.Equal(t, min(lines, shown), shown)
		assert.True(t, shown == lines || len(a.lines) < lines && a.lines[len(a.lines)-1] == "…", "%d of %d", shown, lines)
		assert.LessOrEqual(t, a.area.Y+a.area.H, p.desk.layout.picture.Y+p.desk.layout.picture.H)
	}
}
