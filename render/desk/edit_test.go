package desk

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
	"twincord/sim"
	"twincord/sim/answers"
)

// atSetup sits before the page of the set-up, all of it shown.
func atSetup(t *testing.T, scene string) *person {
	sc, _, err := scenes.Open(scene)
	require.NoError(t, err)
	return sitBefore(t, sc, "en", Settings{Page: setupPage, Groups: allGroups}, 1600, 6000, 1)
}

// A bead comes where there is most room, which here is found by trying every millimetre,
// with a name that no other has; as many as there may be, each one step of the history.
func TestAddingBeads(t *testing.T) {
	p := atSetup(t, "middle-of-three")
	d := p.desk
	room := func(s *sim.Setup, at float64) float64 {
		most := min(at, s.String.Length-at)
		for _, b := range s.Beads {
			most = min(most, math.Abs(at-b.At)-b.Diameter/2)
		}
		return most
	}
	for len(p.setup().Beads) < sim.MaxBeads {
		before := p.setup().Clone()
		most := 0.
		for at := range int(before.String.Length) {
			most = max(most, room(&before, float64(at)))
		}
		p.click(middle(p.widget("add-bead").Self().Area))
		require.NoError(t, d.doc.Scene().Check())
		n := len(before.Beads)
		require.Len(t, p.setup().Beads, n+1)
		b := p.setup().Beads[n]
		assert.InDelta(t, most, room(&before, b.At), 1, "the bead %d", n+1)
		assert.InDelta(t, min(16, max(4, 2*most)), b.Diameter, 2)
		assert.Equal(t, before.Beads, p.setup().Beads[:n], "the others stay")
		assert.Equal(t, n, d.bead, "it is the one that is about")
		d.doc.Undo()
		assert.Equal(t, before, *p.setup(), "one step")
		d.doc.Redo()
		p.update()
	}
	word := d.say.Label(words.BeadNew)
	names := []string{"orange", "sky", "plum", word}
	for n := 2; len(names) < sim.MaxBeads; n++ {
		names = append(names, fmt.Sprint(word, " ", n))
	}
	assert.Equal(t, names, d.page.names)
	assert.True(t, p.widget("add-bead").Self().Off)
	before := d.doc.Scene()
	d.addBead()
	assert.Same(t, before, d.doc.Scene())
}

// Whoever looked at a bead that is taken off looks at its place; who looked at, was asked
// for or comes from another still does, whatever its number now is.
func TestRemovingABead(t *testing.T) {
	p := atSetup(t, "middle-of-three")
	d := p.desk
	name := func(s *sim.Setup, i int) string {
		if i == sim.NoBead {
			return ""
		}
		return s.Beads[i].Name
	}
	for gone := range 3 {
		for look := sim.NoBead; look < 3; look++ {
			for asked := sim.NoBead; asked < 3; asked++ {
				for from := sim.NoBead - 1; from < 3; from++ {
					d.edit("", func(s *sim.Setup) {
						s.Look = sim.Fixation{Bead: look, Asked: asked}
						if look == sim.NoBead {
							s.Look.At = 333
						}
						if from >= 0 {
							s.Look.From = sim.Some(from)
						}
					})
					d.bead = gone
					before := p.setup().Clone()
					keep := func(i int) string {
						if i == gone {
							return ""
						}
						return name(&before, i)
					}
					d.removeBead()
					now := p.setup()
					what := fmt.Sprintf("%d of look %d, asked %d, from %d", gone, look, asked, from)
					require.Len(t, now.Beads, 2, what)
					assert.Equal(t, keep(look), name(now, now.Look.Bead), what)
					assert.Equal(t, before.LookPlace(), now.LookPlace(), what)
					assert.Equal(t, keep(asked), name(now, now.Look.Asked), what)
					assert.Equal(t, from >= 0 && from != gone, now.Look.From.OK, what)
					if now.Look.From.OK {
						assert.Equal(t, keep(from), name(now, now.Look.From.Value), what)
					}
					assert.Equal(t, max(0, gone-1), d.bead, what)
					d.doc.Undo()
					require.Equal(t, before, *p.setup(), what)
				}
			}
		}
	}
	for range 4 {
		d.removeBead()
	}
	assert.Empty(t, p.setup().Beads, "and from an empty string none")
	p.update()
	assert.True(t, p.widget("remove-bead").Self().Off)
}

// What is typed into a field becomes what the scene has, or is refused and leaves it as it
// was.
func TestTypingIntoFields(t *testing.T) {
	p := atSetup(t, "jumps-of-three")
	d := p.desk
	d.chooseBead(1)
	colour := func() any { return p.setup().Beads[1].Colour }
	title := func() any { return d.doc.Scene().Title }
	bead := func() any { return p.setup().Beads[1].Name }
	order := func() any { return d.doc.Scene().Routine.Value.Order }
	for _, tt := range []struct {
		field, typed string
		got          func() any
		want         any // nil: it is refused
	}{
		{"key beads[].colour hex", "#0a0B0c", colour, sim.RGB{R: 0x0a, G: 0x0b, B: 0x0c}},
		{"key beads[].colour hex", " #FFFFFF ", colour, sim.RGB{R: 0xff, G: 0xff, B: 0xff}},
		{"key beads[].colour hex", "FFFFFF", colour, nil},
		{"key beads[].colour hex", "FFFFFFF", colour, nil},
		{"key beads[].colour hex", "#FFFFF", colour, nil},
		{"key beads[].colour hex", "#FFFFFFF", colour, nil},
		{"key beads[].colour hex", "#GGGGGG", colour, nil},
		{"key beads[].colour hex", "#+12345", colour, nil},
		{"key title", "  Another title ", title, "Another title"},
		{"key title", "bad\xff", title, nil},
		{"key beads[].name", "mine", bead, "mine"},
		{"key beads[].name", "orange", bead, nil}, // another has it
		{"key routine.order", "plum, mine ,orange", order, "plum\nmine\norange"},
		{"key routine.order", "plum, none of them", order, nil},
		{"key routine.order", "plum", order, nil},
		{"key routine.order", "", order, ""},
	} {
		f := p.widget(tt.field).(*ui.TextField)
		before, was := tt.got(), d.doc.Changes()
		ok := f.Set(tt.typed)
		p.update()
		require.NoError(t, d.doc.Scene().Check())
		if tt.want == nil {
			assert.False(t, ok, "%s: %q", tt.field, tt.typed)
			assert.Equal(t, before, tt.got(), "%s: %q", tt.field, tt.typed)
			continue
		}
		assert.True(t, ok, "%s: %q", tt.field, tt.typed)
		assert.Equal(t, tt.want, tt.got(), "%s: %q", tt.field, tt.typed)
		assert.Greater(t, d.doc.Changes(), was)
		was = d.doc.Changes()
		assert.True(t, f.Set(f.Get()), "as it is told")
		assert.Equal(t, was, d.doc.Changes(), "which changes nothing")
	}
}

// The order of jumps is told and typed by the names that the window tells beads by, and
// kept by those of the file.
func TestTheOrderOfJumpsIsTold(t *testing.T) {
	sc, id, err := scenes.Open("jumps-of-three")
	require.NoError(t, err)
	p, _ := shelved(t, func(o *Options) {
		o.Document, o.Settings = document.New(sc, "").From(id), Settings{Page: setupPage, Groups: allGroups}
	})
	p.in.W, p.in.H = 1600, 6000
	p.desk.setLanguage("es")
	p.update()
	say := p.desk.say
	f := p.widget("key routine.order").(*ui.TextField)
	assert.Empty(t, f.Get())
	typed := say.BeadName("sky") + ", " + say.BeadName("plum")
	require.True(t, f.Set(typed))
	assert.Equal(t, "sky\nplum", p.desk.doc.Scene().Routine.Value.Order)
	assert.Equal(t, typed, f.Get())
	require.True(t, f.Set("orange, sky"), "as the file has them, too")
	assert.Equal(t, "orange\nsky", p.desk.doc.Scene().Routine.Value.Order)
}

// A colour is six digits of sixteen after a hash.
func TestColours(t *testing.T) {
	for s, want := range map[string]bool{
		"#000000": true, "#12aBfF": true, "": false, "#12345": false, "#1234567": false, "1234567": false, "#12345g": false, "#-12345": false,
	} {
		assert.Equal(t, want, isColour(s), "%q", s)
	}
}

// A bead that is looked at, was asked for or is come from is chosen from a list; the first
// of it is none of them.
func TestChoosingWhatIsLookedAt(t *testing.T) {
	p := atSetup(t, "another-bead")
	d := p.desk
	beads := p.setup().Beads
	for i := range beads {
		from := (i + 1) % len(beads)
		p.widget("key look.from").(*ui.Choice).Set(0) // nobody comes from where he goes
		for _, choice := range []struct {
			field string
			bead  int
		}{{"key look.bead", i}, {"key look.asked", i}, {"key look.from", from}} {
			p.widget(choice.field).(*ui.Choice).Set(1 + choice.bead)
			p.update()
			assert.Equal(t, 1+choice.bead, p.widget(choice.field).(*ui.Choice).Get(), "%s %d", choice.field, i)
		}
		look := p.setup().Look
		assert.Equal(t, [3]int{i, i, from}, [3]int{look.Bead, look.Asked, look.From.Value})
	}
	at := p.setup().LookPlace()
	p.widget("key look.asked").(*ui.Choice).Set(0)
	p.widget("key look.from").(*ui.Choice).Set(0)
	assert.Equal(t, sim.NoBead, p.setup().Look.Asked)
	assert.False(t, p.setup().Look.From.OK)
	p.widget("key look.bead").(*ui.Choice).Set(0)
	assert.Equal(t, sim.NoBead, p.setup().Look.Bead)
	assert.Equal(t, at, p.setup().LookPlace(), "still at the same place")
	assert.NoError(t, d.doc.Scene().Check())
}

// Keys move what is held: an arrow by 1 cm or half a Δ, farther is exo; the page keys ten
// times as far, Shift a tenth.
func TestHandlesByKeys(t *testing.T) {
	for _, tt := range []struct {
		key   ui.Key
		times float64
	}{
		{ui.KeyRight, 1}, {ui.KeyUp, 1}, {ui.KeyLeft, -1}, {ui.KeyDown, -1}, {ui.KeyPageUp, 10}, {ui.KeyPageDown, -10},
	} {
		for _, shift := range []bool{false, true} {
			n := tt.times
			if shift {
				n /= 10
			}
			p := sit(t, "middle-of-three")
			p.desk.edit("", func(s *sim.Setup) { s.Look = sim.Fixation{Bead: sim.NoBead, At: 700, Asked: sim.NoBead} })
			p.update()
			press := func(name string) {
				p.desk.kit.SetFocus(p.widget(name))
				p.in.Keys = []ui.Press{{Key: tt.key, Shift: shift}}
				p.update()
			}
			press("target")
			assert.InDelta(t, 700+10*n, p.setup().LookPlace(), 1e-9, "%+v, shift %v", tt, shift)
			press("bead sky")
			assert.InDelta(t, 480+10*n, p.setup().Beads[1].At, 1e-9, "%+v, shift %v", tt, shift)
			press("meeting")
			assert.InDelta(t, -0.5*n, float64(p.setup().Posture.Deviation), 1e-9, "%+v, shift %v", tt, shift)
		}
	}
	// From within a bead a step leads out of it, however short: each is seen.
	for _, tt := range []struct {
		key  ui.Key
		want float64
	}{{ui.KeyRight, 1}, {ui.KeyLeft, -1}} {
		p := sit(t, "middle-of-three")
		b := p.setup().Beads[1]
		p.desk.kit.SetFocus(p.widget("target"))
		p.in.Keys = []ui.Press{{Key: tt.key, Shift: true}}
		p.update()
		off := (p.setup().LookPlace() - b.At) * tt.want
		assert.Equal(t, sim.NoBead, p.setup().Look.Bead)
		assert.Greater(t, off, b.Diameter/2)
		assert.LessOrEqual(t, off, b.Diameter/2+1)
	}
}

// The mark on the string of the answers is moved by keys as what is on the bar is, from
// the place that was asked for, and taken back.
func TestPointingToTheCrossingByKeys(t *testing.T) {
	p := asking(t, "middle-of-three")
	q := &p.desk.inquiry
	mark := p.widget("answer " + answers.MeetAt.String())
	at := 480.
	for _, tt := range []struct {
		key   ui.Key
		shift bool
		by    float64
	}{
		{ui.KeyRight, false, 10}, {ui.KeyUp, false, 10}, {ui.KeyLeft, false, -10}, {ui.KeyDown, true, -1}, {ui.KeyPageUp, false, 100},
		{ui.KeyPageDown, true, -10}, {ui.KeyPageDown, false, -100},
	} {
		p.desk.kit.SetFocus(mark)
		p.in.Keys = []ui.Press{{Key: tt.key, Shift: tt.shift}}
		p.update()
		at += tt.by
		require.True(t, q.given.Place.OK)
		assert.Equal(t, answers.Around(at), q.given.Place.Value, "%+v", tt)
	}
	for range 20 {
		p.key(ui.KeyPageDown)
	}
	assert.Zero(t, q.given.Place.Value.At, "no nearer than the nose")
	for range 30 {
		p.key(ui.KeyPageUp)
	}
	assert.Equal(t, p.setup().String.Length, q.given.Place.Value.At, "no farther than the string")
	for _, take := range []func(){
		func() { p.write("0") }, func() { p.key(ui.KeyDelete) }, func() { p.key(ui.KeyBackspace) },
	} {
		p.key(ui.KeyRight)
		require.True(t, q.given.Place.OK)
		p.write("7")
		require.True(t, q.given.Place.OK, "a number is none here")
		take()
		assert.False(t, q.given.Place.OK)
	}
	assert.Equal(t, answersPage, p.desk.Page, "no number turned the page")
}

// Arrow keys go through the answers to a question and stop at its ends; without an answer
// they begin at the near end.
func TestAnswersByArrows(t *testing.T) {
	p := asking(t, "middle-of-three")
	g := &p.desk.inquiry.given
	codes := answers.Near.Codes()
	p.desk.kit.SetFocus(p.row(answers.Near))
	for _, c := range append(slices.Clone(codes), codes[len(codes)-1]) {
		p.key(ui.KeyRight)
		assert.Equal(t, c, g.Code[answers.Near])
	}
	back := slices.Clone(codes)
	slices.Reverse(back)
	for _, c := range append(back[1:], codes[0]) {
		p.key(ui.KeyLeft)
		assert.Equal(t, c, g.Code[answers.Near])
	}
	p.key(ui.KeyDelete)
	p.key(ui.KeyLeft)
	assert.Equal(t, codes[len(codes)-1], g.Code[answers.Near])
	p.desk.kit.SetFocus(p.row(answers.Far))
	p.key(ui.KeyUp)
	assert.True(t, ui.Is(p.desk.kit.Focus, p.row(answers.Near)))
	p.write("9")
	assert.Equal(t, codes[len(codes)-1], g.Code[answers.Near], "there are not so many")
}

// The card that shows how far a screen is from true size is pulled by keys: a pixel, ten
// times finer with Shift, twenty with the page keys.
func TestCardByKeys(t *testing.T) {
	p, _ := shelved(t, nil)
	p.write("z")
	p.desk.kit.SetFocus(p.widget("card"))
	wide := func() float64 { return p.desk.measured().PixelsPerMM * cardWidth }
	for _, tt := range []struct {
		key   ui.Key
		shift bool
		by    float64
	}{
		{ui.KeyRight, false, 1}, {ui.KeyUp, false, 1}, {ui.KeyLeft, false, -1}, {ui.KeyDown, true, -0.1}, {ui.KeyPageUp, false, 20}, {ui.KeyPageDown, true, -2},
	} {
		before := wide()
		p.in.Keys = []ui.Press{{Key: tt.key, Shift: tt.shift}}
		p.update()
		assert.InDelta(t, before+tt.by, wide(), 1e-9, "%+v", tt)
	}
}

// filming is a film that is so far.
type filming struct {
	done, of int
	err      error
	over     bool
}

func (f *filming) Progress() (done, of int)        { return f.done, f.of }
func (f *filming) Result() ([]string, error, bool) { return []string{"a.mp4"}, f.err, f.over }
func (*filming) Stop()                             {}

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

// When something was kept is told with its day where that is another.
func TestWhenSomethingWasKept(t *testing.T) {
	at := time.Date(2026, 3, 4, 9, 5, 0, 0, time.UTC)
	clockAt := func(to time.Time) func() time.Time { return func() time.Time { return to } }
	assert.Equal(t, "09:05", clock(at, clockAt(at.Add(12*time.Hour))))
	assert.Equal(t, "2026-03-04 09:05", clock(at, clockAt(at.Add(24*time.Hour))), "the same time of another day")
	assert.Equal(t, "2026-03-04 09:05", clock(at, nil))
}

// What somebody was sent opens simply; one's own scenes, from wherever they are opened,
// do not.
func TestWhatWasSentOpensSimply(t *testing.T) {
	p, store := shelved(t, nil)
	sc, _, err := scenes.Open("eye-higher")
	require.NoError(t, err)
	own := document.New(sc, "")
	require.NoError(t, store.Save(own, "own", false))
	sent := document.New(sc, "")
	require.NoError(t, sent.SaveAs(filepath.Join(t.TempDir(), "sent.toml")))
	for _, tt := range []struct {
		path            string
		outside, simple bool
	}{{own.Path(), false, false}, {own.Path(), true, false}, {sent.Path(), false, false}, {sent.Path(), true, true}} {
		p.desk.Open(document.New(sc, ""))
		p.desk.others = nil
		require.True(t, p.desk.openFile(tt.path, tt.outside))
		assert.Equal(t, tt.simple, p.desk.simple, "%+v", tt)
	}
}

// What was set aside and is thrown away leaves nothing for the next start, and takes
// nothing else along.
func TestThrowingAwayWhatWasSetAside(t *testing.T) {
	var first document.Autosave
	p, store := shelved(t, func(o *Options) { first = o.Store.NewSaver(); o.Saver = first })
	change := func(to sim.Prism) {
		p.desk.edit("", func(s *sim.Setup) { s.Posture.Deviation = to })
		p.update()
		p.in.Seconds++
		p.update()
	}
	change(3)
	require.NoError(t, first.Flush())
	sc, id, err := scenes.Open("walk-of-ten")
	require.NoError(t, err)
	p.desk.Open(document.New(sc, "").From(id))
	change(4)
	require.Len(t, p.desk.others, 1)
	p.desk.openGallery()
	unsaved := p.desk.unsavedScenes()
	require.Len(t, unsaved, 2)
	unsaved[1].Discard()
	assert.Empty(t, p.desk.others)
	assert.Len(t, p.desk.unsavedScenes(), 1)
	require.NoError(t, p.desk.Close())
	left, err := store.Recover()
	require.NoError(t, err)
	require.Len(t, left, 1)
	assert.Equal(t, sim.Prism(4), left[0].Scene.Setup.Posture.Deviation)
}

// What a program left behind that is gone opens from the gallery, is kept anew, and only
// then goes from where it was.
func TestOpeningWhatWasLeftBehind(t *testing.T) {
	var own document.Autosave
	p, store := shelved(t, func(o *Options) { own = o.Store.NewSaver(); o.Saver = own })
	saver := store.NewSaver()
	left := document.New(p.desk.doc.Scene(), "")
	left.Edit("", func(sc *scenes.Scene) { sc.Setup.Posture.Deviation = 7 })
	saver.Offer(left.Snapshot())
	require.NoError(t, saver.Close())

	unsaved := p.desk.unsavedScenes()
	require.Len(t, unsaved, 1)
	unsaved[0].Open()
	p.update()
	assert.Equal(t, sim.Prism(7), p.setup().Posture.Deviation)
	assert.True(t, p.desk.doc.Dirty())
	assert.Empty(t, p.desk.News())
	found, err := store.Recover()
	require.NoError(t, err)
	assert.Empty(t, found, "it is this window's")
	require.NoError(t, p.desk.Close())
	found, err = store.Recover()
	require.NoError(t, err)
	require.Len(t, found, 1)
	assert.Equal(t, sim.Prism(7), found[0].Scene.Setup.Posture.Deviation)
	require.NoError(t, found[0].Discard())
}

// Settings that cannot be kept are told, once.
func TestSettingsThatCannotBeKept(t *testing.T) {
	tries := 0
	p, _ := shelved(t, func(o *Options) { o.Keep = func(Settings) error { tries++; return errors.New("no room for settings") } })
	p.desk.Light = true
	p.update()
	assert.Contains(t, p.desk.News(), "no room for settings")
	for range 3 {
		p.update()
	}
	assert.Equal(t, 1, tries)
}
