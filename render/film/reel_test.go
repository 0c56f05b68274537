package film

import (
	"context"
	"image"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/raster"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
)

// builtIn is a built-in scene.
func builtIn(name string) *scenes.Scene {
	all := scenes.Library()
	return all[slices.IndexFunc(all, func(e scenes.Entry) bool { return e.Name == name })].Scene
}

// scriptOf is the script of a built-in scene, as a person gets it who asks for nothing
// else.
func scriptOf(t *testing.T, name string, w, h int) Script {
	say, err := words.For("en")
	require.NoError(t, err)
	sc := builtIn(name)
	return Script{
		Name: name, Setup: sc.Setup, Steps: routine.Steps(sc), W: w, H: h, Rate: 15, Caption: sc.Routine.OK,
		Picture: render.Picture{Kind: render.OfPatient, Say: say},
	}
}

func reelOf(t *testing.T, s Script) *Reel {
	r, err := s.Reel()
	require.NoError(t, err)
	return r
}

// inTime are the built-in scenes in which something moves.
func inTime() (names []string) {
	for _, e := range scenes.Library() {
		if e.Scene.Routine.OK || !sim.NewCourse(&e.Scene.Setup).Still(0) {
			names = append(names, e.Name)
		}
	}
	return names
}

func pixelsOf(l *display.List) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, int(l.W), int(l.H)))
	raster.Paint(l, img)
	return img
}

// Nothing flashes more often than three times a second (WCAG 2.3.1, row G3), in no film
// of what moves, nor where captions change or the last card comes: of the routines, which
// move from bead to bead in one way, the jumps.
func TestFilmsDoNotFlash(t *testing.T) {
	names := inTime()
	require.Greater(t, len(names), 8)
	flashes := func(s Script) int {
		s.Rate = 10
		n, err := reelOf(t, s).Film().Flashes(context.Background())
		require.NoError(t, err)
		return n
	}
	routines := 0
	for _, name := range names {
		s := scriptOf(t, name, 96, 72) // two pixels a cell
		if s.routine() {
			if routines++; routines%3 != 2 {
				continue
			}
			bare := s
			bare.Caption, bare.Hold = false, 1
			assert.LessOrEqual(t, flashes(bare), 3, name)
		}
		assert.LessOrEqual(t, flashes(s), 3, name)
	}
	for _, kind := range []render.Kind{render.OfAbove, render.OfFront} {
		s := scriptOf(t, "jumps-unsteady", 96, 72)
		s.Picture.Kind, s.Seconds = kind, 4
		assert.LessOrEqual(t, flashes(s), 3, kind)
	}
}

// A frame is the same in whatever order frames are drawn, and by whomever.
func TestFramesInAnyOrder(t *testing.T) {
	for _, name := range inTime() {
		s := scriptOf(t, name, 320, 240)
		s.Seconds, s.Rate = 8, 2
		f := reelOf(t, s).Film()
		forward, backward := f.Drawer(), f.Drawer()
		var first []*display.List
		for i := range f.Frames {
			l := new(display.List)
			forward(i, l)
			first = append(first, l)
		}
		for i := range slices.Backward(first) {
			l := new(display.List)
			backward(i, l)
			require.Equal(t, first[i].Ops, l.Ops, "%s, frame %d", name, i)
			require.Equal(t, first[i].Texts, l.Texts, "%s, frame %d", name, i)
		}
	}
}

// The first and the last frame of a scene's film are the pictures of those moments.
func TestFilmBeginsAndEndsAsDrawn(t *testing.T) {
	for _, name := range []string{"unsteady-hold", "jump-near-to-far", "left-out-in-turn"} {
		for _, p := range []render.Picture{{Kind: render.OfPatient}, {Kind: render.OfPatient, Compare: true}, {Kind: render.OfAbove}, {Kind: render.OfFront}} {
			s := scriptOf(t, name, 160, 120)
			p.Say = s.Picture.Say
			s.Picture, s.Bare = p, true
			r := reelOf(t, s)
			f := r.Film()
			require.Equal(t, 10*15, f.Frames)
			draw := f.Drawer()
			for _, frame := range []int{0, f.Frames - 1} {
				var got, want display.List
				draw(frame, &got)
				var v sim.View
				sim.NewCourse(&builtIn(name).Setup).Look(&v, float64(frame)/15)
				want.Reset(160, 120, p.Ground())
				p.Options.Field = r.fields[0]
				p.Paint(&want, display.Rect{W: 160, H: 120}, &v)
				require.Equal(t, pixelsOf(&want).Pix, pixelsOf(&got).Pix, "%s %+v, frame %d", name, p, frame)
			}
		}
	}
}

// The field shows every bead in every frame: a tenth of it is a margin, of which what
// lies between the moments looked at may take a little. It changes only while a bead is
// moved, and never at once.
func TestFieldOfAFilm(t *testing.T) {
	for _, name := range inTime() {
		for _, compare := range []bool{false, true} {
			s := scriptOf(t, name, 320, 240)
			s.Picture.Compare, s.Rate = compare, 7
			r := reelOf(t, s)
			show := r.shower()
			before := r.field(0)
			for i := range int(r.body * 7) {
				at := float64(i) / 7
				v, field := show(at), r.field(at)
				require.LessOrEqual(t, r.script.Picture.Field(r.frame, v), 1.05*field, "%s, frame %d", name, i)
				if step, since := routine.At(r.steps, at); since > r.steps[step].Move+1./7 {
					require.Equal(t, before, field, "%s, frame %d", name, i)
				}
				require.InDelta(t, float64(before), float64(field), 5, "%s, frame %d", name, i)
				before = field
			}
		}
	}
}

// A bead that is held is large enough to be seen on a telephone, where a film of 960
// pixels is 65 mm wide: 2.5 mm at least in every walk.
func TestTheBeadOfAWalkIsLarge(t *testing.T) {
	s := scriptOf(t, "walk-of-ten", 960, 720)
	r := reelOf(t, s)
	for i, field := range r.fields {
		setup := &r.steps[i].Setup
		across := 2 * math.Atan(setup.Beads[0].Diameter/2/r.steps[i].At) * 180 / math.Pi
		assert.Greater(t, across/float64(field)*r.frame.H, 2.5/65*960, "step %d", i)
	}
}

// Captions stand long enough, do not change their size, and fit; each is what is seen
// when it comes, and what passes has none.
func TestCaptions(t *testing.T) {
	for _, language := range words.Languages() {
		say, err := words.For(language)
		require.NoError(t, err)
		for _, name := range inTime() {
			s := scriptOf(t, name, 960, 720)
			s.Caption, s.Picture.Say = true, say
			r := reelOf(t, s)
			require.NotEmpty(t, r.captions)
			require.GreaterOrEqual(t, r.style.Size, 44., "%s in %s", name, language)
			require.GreaterOrEqual(t, r.strip.Size, 40., "%s in %s", name, language)
			require.GreaterOrEqual(t, r.frame.H, mostText*720)
			show := r.shower()
			for i, c := range r.captions {
				end := r.body
				if i+1 < len(r.captions) {
					end = r.captions[i+1].begin
				}
				require.GreaterOrEqual(t, end-c.begin, leastCaption-1e-9, "%s in %s: %s", name, language, c.says)
				if i > 0 {
					before := r.captions[i-1]
					require.True(t, before.says != c.says || before.step != c.step)
					// One that had to wait for its turn may come while what wavers is otherwise.
					waited := c.begin-r.captions[i-1].begin < leastCaption+1e-9
					require.True(t, waited || c.says == say.Brief(show(c.begin+0.01)), "%s in %s at %v s: %s", name, language, c.begin, c.says)
				}
				for _, line := range c.lines {
					require.LessOrEqual(t, lettering.Width(r.style, line), 960-2*r.margin())
				}
			}
		}
	}
}

// In every frame the line above the picture names the step that the caption below it tells
// of: what stands there is what is seen at that step once the eyes are there, and of its
// bead; a hold is counted from then on, and each step has its turn. Of the routines every
// other is held.
func TestTheStripIsOfTheCaption(t *testing.T) {
	hold := 0.
	for _, name := range inTime() {
		s := scriptOf(t, name, 160, 120)
		if !s.routine() {
			continue
		}
		hold = 5 - hold
		s.Hold, s.Seconds = hold, 16
		r := reelOf(t, s)
		show := r.shower()
		seen := map[string]map[string]bool{} // by what the strip says, what is seen there
		for i, step := range r.steps {
			strip := r.stepSays(i)
			seen[strip] = map[string]bool{}
			for at := step.Begin + step.Move; at < min(step.End(), s.Seconds); at += 0.02 {
				seen[strip][s.Picture.Brief(show(at))] = true
			}
		}
		draw := r.Film().Drawer()
		first, frames := int(r.first.seconds()*float64(s.Rate)), int(s.Seconds)*s.Rate
		var told []string
		for frame := first; frame < first+frames; frame++ {
			var l display.List
			draw(frame, &l)
			var above, below []string
			for _, text := range l.Texts {
				switch at := text.Glyphs[0].At; {
				case at.Y < r.frame.Y:
					above = append(above, text.String)
				case at.Y > r.caption.Y:
					below = append(below, text.String)
				}
			}
			require.NotEmpty(t, above, "%s, frame %d", name, frame)
			require.True(t, seen[above[0]][strings.Join(below, " ")], "%s, frame %d: %q under %q", name, frame, below, above[0])
			if len(told) == 0 || told[len(told)-1] != above[0] {
				told = append(told, above[0])
				if len(above) > 1 && hold > 0 {
					require.Equal(t, "Count: 1 of 5", above[1], "%s, frame %d", name, frame)
				}
			}
		}
		for i := range told {
			require.Equal(t, r.stepSays(i), told[i], name)
		}
		require.GreaterOrEqual(t, len(told), 2, name)
	}
}

// Where the findings let go, the words say so when the bead has been moved there, and
// nothing is counted.
func TestCaptionsOfALostBead(t *testing.T) {
	r := reelOf(t, scriptOf(t, "walk-with-findings", 960, 720))
	letGo := slices.IndexFunc(r.steps, func(s routine.Step) bool { return s.LetGo })
	require.Positive(t, letGo)
	s := &r.steps[letGo]
	at := slices.IndexFunc(r.captions, func(c caption) bool { return c.begin >= s.Begin })
	require.InDelta(t, s.Begin+s.Move, r.captions[at].begin, 0.5)
	require.Contains(t, r.captions[at].says, "you see two.")
	require.Contains(t, r.captions[at-1].says, "it is one.")
	require.Empty(t, r.countSays(letGo, 1))
	require.Equal(t, "count to 5", r.countSays(letGo-1, 1))
}

// Letters of a caption are at least 44 pixels high in a film of 960, from the top of an l
// to the foot of a y, as they are painted.
func TestCaptionsAreLargeInPixels(t *testing.T) {
	r := reelOf(t, scriptOf(t, "walk-of-ten", 960, 720))
	var l display.List
	l.Reset(960, 720, display.Colour{A: 1})
	r.lines(&l, r.style, display.Rect{W: 960, H: 720}, []string{"ly"})
	img := pixelsOf(&l)
	top, bottom := 720, 0
	for y := range 720 {
		for x := range 960 {
			if img.RGBAAt(x, y).R > 128 {
				top, bottom = min(top, y), max(bottom, y)
			}
		}
	}
	require.GreaterOrEqual(t, bottom+1-top, 44)
}

// saidIn are the lines that stand in a frame of a reel.
func saidIn(r *Reel, frame int) (said []string) {
	var l display.List
	r.Film().Drawer()(frame, &l)
	for _, text := range l.Texts {
		said = append(said, text.String)
	}
	return said
}

// A film with captions ends with the cautions, for long enough to be read; a scene that
// needs a professional's care says so too.
func TestTheLastCard(t *testing.T) {
	r := reelOf(t, scriptOf(t, "walk-of-ten", 960, 720))
	require.InDelta(t, r.body+r.last.seconds(), r.Seconds, 1e-9)
	require.GreaterOrEqual(t, r.last.seconds(), 8.)
	for scene, care := range map[string]bool{"walk-of-ten": false, "left-out-in-turn": true} {
		s := scriptOf(t, scene, 960, 720)
		s.Caption = true
		r := reelOf(t, s)
		said := strings.Join(saidIn(r, r.Film().Frames-1), " ")
		for _, l := range []words.Label{words.FilmCardModel, words.FilmCardStop, words.FilmCardNew} {
			require.Contains(t, said, s.Picture.Say.Label(l), scene)
		}
		require.Equal(t, care, strings.Contains(said, s.Picture.Say.Label(words.CautionCare)), scene)
		s.Bare = true
		r = reelOf(t, s)
		require.Equal(t, r.body, r.Seconds)
	}
}

// A film in which something wavers, or comes and goes, for as long as it lasts begins
// with the word for those in whom pictures bring on seizures, for long enough to be read,
// with captions or without. Where a bead is moved and then rests there is none.
func TestTheFirstCardIsThereWhereItIsDue(t *testing.T) {
	due := map[string]bool{"jumps-unsteady": true, "unsteady-hold": true, "left-out-now-and-then": true, "left-out-in-turn": true}
	for _, name := range inTime() {
		s := scriptOf(t, name, 960, 720)
		s.Caption = true
		r := reelOf(t, s)
		said := strings.Join(saidIn(r, 0), " ")
		if !due[name] {
			require.Zero(t, r.first.seconds(), name)
			require.NotContains(t, said, "seizures", name)
		} else {
			caution := s.Picture.Say.Label(words.CautionFilm)
			require.GreaterOrEqual(t, r.first.seconds(), 4., name)
			require.InDelta(t, r.first.seconds()+r.body+r.last.seconds(), r.Seconds, 1e-9, name)
			after := int(r.first.seconds() * float64(s.Rate))
			require.Equal(t, caution, said, name)
			require.Equal(t, caution, strings.Join(saidIn(r, after-1), " "), name)
			require.NotContains(t, strings.Join(saidIn(r, after), " "), "seizures", name)
			s.Bare = true
			require.NotContains(t, strings.Join(saidIn(reelOf(t, s), 0), " "), "seizures", name)
		}
		s.Caption, s.Bare = false, false
		r = reelOf(t, s)
		require.Equal(t, due[name], strings.Contains(strings.Join(saidIn(r, 0), " "), "seizures"), name)
		require.Contains(t, saidIn(r, int(r.first.seconds()*float64(s.Rate))), s.Picture.Say.Label(words.PictureBounds), name)
	}
}

// A hold that is shown as long as it is held is counted; one that is not is said.
func TestCounts(t *testing.T) {
	s := scriptOf(t, "walk-of-ten", 960, 720)
	s.Hold = 5
	r := reelOf(t, s)
	require.Equal(t, r.Held, r.Shown)
	for since, want := range map[float64]string{0: "Count: 1 of 5", 0.9: "Count: 1 of 5", 1: "Count: 2 of 5", 4.9: "Count: 5 of 5", 5: "Count: 5 of 5"} {
		require.Equal(t, want, r.countSays(3, since), "%v s", since)
	}
	s.Hold = 0
	r = reelOf(t, s)
	require.Equal(t, 1.5, r.Shown)
	require.Equal(t, "count to 5", r.countSays(3, 0))
}

// Steps that are shown for longer or shorter are those of a routine that holds so long.
func TestStepsShownFor(t *testing.T) {
	for _, name := range inTime() {
		sc := *builtIn(name)
		if !sc.Routine.OK {
			continue
		}
		got := shownFor(routine.Steps(&sc), 1.5)
		sc.Routine.Value.Hold = 1.5
		require.Equal(t, routine.Steps(&sc), got, name)
	}
}

// The bead of a walk slides while it is moved, and rests while the place is held.
func TestWalkSlidesAndRests(t *testing.T) {
	s := scriptOf(t, "walk-of-ten", 320, 240)
	s.Hold = 5
	r := reelOf(t, s)
	show := r.shower()
	at := func(seconds float64) float64 { return show(seconds).Target.At }
	assert.Equal(t, 560., at(4.9))
	assert.InDelta(t, 535, at(5.5), 1e-9)
	assert.InDelta(t, 510, at(6), 1e-9)
	assert.InDelta(t, 510, at(10.9), 1e-9)
	assert.InDelta(t, 560, at(r.body), 1e-9)
}

// Scripts that are no film.
func TestScriptsThatCannotBe(t *testing.T) {
	s := scriptOf(t, "walk-of-ten", 960, 720)
	s.Hold = 60
	_, err := s.Reel()
	require.EqualError(t, err, "lasts 1291 s, a film at most 600; allowed is a shorter hold or length")
	s.Hold = 1
	_, err = s.Reel()
	require.EqualError(t, err, "each place shown for 1 s, allowed is 1.5 or more: a caption stands for 2.5 s")
	s.Caption = false
	reelOf(t, s)
}

// A film of a scene lasts as long as a film may, and no longer.
func TestTheLongestFilm(t *testing.T) {
	s := scriptOf(t, "walk-of-ten", 960, 720)
	s.Steps, s.Bare, s.Caption, s.Setup.Hold.SD = nil, true, false, 4
	s.Seconds = MostSeconds
	assert.EqualValues(t, MostSeconds, reelOf(t, s).Seconds)
	s.Seconds = MostSeconds + 0.1
	_, err := s.Reel()
	require.ErrorContains(t, err, "a film at most 600")
}

// A scene in which nothing moves is one frame, whatever its length.
func TestAStillSceneIsOneFrame(t *testing.T) {
	s := scriptOf(t, "middle-of-three", 320, 240)
	r := reelOf(t, s)
	require.True(t, r.Still)
	f := r.Film()
	require.Equal(t, 1, f.Frames)
	require.ErrorContains(t, f.Validate(MP4), "an MP4 needs something that moves")
	require.NoError(t, f.Validate(WebP))
	require.False(t, reelOf(t, scriptOf(t, "unsteady-hold", 320, 240)).Still)
}

// What is in the making is bounded by memory: at 8K and 16 cores one frame at a time, at
// the usual size one a core.
func TestFramesInFlight(t *testing.T) {
	for _, c := range []struct{ w, h, cores, want int }{
		{960, 720, 16, 16}, {1920, 1080, 16, 16}, {3840, 2160, 16, 4}, {7680, 4320, 16, 1}, {960, 720, 2, 2},
	} {
		f := &Film{W: c.w, H: c.h}
		assert.Equal(t, c.want, f.workers(100, c.cores), "%+v", c)
	}
	assert.Equal(t, 1, (&Film{W: 8, H: 8}).workers(1, 16), "no more than there are frames")
}
