package desk

import (
	"math"
	"slices"
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

// A bead that is pulled or moved by keys against another says which one stops it, wherever it
// is pulled; and that what is looked at can be pulled past it, where that is so. One that is
// not stopped says what can be done with it, and names keys only where it takes them.
func TestWhatStopsABead(t *testing.T) {
	for _, language := range words.Languages() {
		for _, name := range []string{"bead sky", "bead above sky", "bead seen sky right", "bead plum"} {
			sc, _, err := scenes.Open("middle-of-three")
			require.NoError(t, err)
			p := sitBefore(t, sc, language, Settings{}, 1280, 800, 1)
			say := p.desk.say
			h := p.widget(name).(*handle)
			looked := h.bead == 1
			p.press(middle(h.Area))
			assert.Equal(t, h.Hint, p.desk.Hint())
			assert.Equal(t, h.where == onBar, h.Hint == say.BeadHint(say.BeadName(sc.Setup.Beads[h.bead].Name)))
			for range 3 { // the picture moves with what is pulled in it
				to := middle(p.widget("bead seen orange right").Self().Area)
				if h.where != inPicture {
					to = middle(p.widget(map[where]string{onBar: "bead orange", fromAbove: "bead above orange"}[h.where]).Self().Area)
				}
				if h.bead == 2 {
					to.X = middle(p.widget("bead orange").Self().Area).X
				}
				p.moveTo(to)
			}
			by := p.setup().Beads[h.bead-1].Name
			assert.InDelta(t, scenes.BeadRoom(p.setup(), h.bead).Min, p.setup().Beads[h.bead].At, 1e-9, name)
			assert.Equal(t, say.Stopped(say.BeadName(by), looked), p.desk.Hint(), name)
			checkPage(t, p.desk, name)
			p.key(ui.KeyEscape)
			p.lift()
			assert.Equal(t, h.Hint, p.desk.hintOf(h), "it was put back")
		}
	}
	p := sit(t, "middle-of-three")
	p.desk.kit.SetFocus(p.widget("bead orange"))
	for range 3 {
		p.key(ui.KeyPageUp)
	}
	assert.Equal(t, p.desk.say.Stopped("blue", false), p.desk.Hint())
	p.key(ui.KeyLeft)
	assert.NotEqual(t, p.desk.say.Stopped("blue", false), p.desk.Hint())
}

// With findings a bead is pulled in until it breaks and out until it comes back, at two places;
// where another bead is in the way, what is looked at is pulled past it, to the same places.
func TestWhereABeadBreaksAndComesBack(t *testing.T) {
	single, _, err := scenes.Open("walk-with-findings")
	require.NoError(t, err)
	p := sitBefore(t, single, "en", Settings{}, 1280, 800, 1)
	holds := func() bool { return p.desk.view.Holding.Value.State == sim.StateHolding }
	find := func(name string) (breaks, back float64) {
		h := p.widget(name).(*handle)
		at := func() float64 { return p.desk.view.Target.At }
		require.True(t, holds())
		to := middle(h.Area)
		for p.press(to); holds(); p.moveTo(to) {
			require.Positive(t, at(), "%s: it never breaks", name)
			to.X--
		}
		for breaks = at(); !holds(); p.moveTo(to) {
			require.Less(t, at(), p.setup().String.Length, "%s: it never comes back", name)
			to.X++
		}
		back = at()
		p.lift()
		return breaks, back
	}
	breaks, back := find("bead sky")
	assert.InDelta(t, p.desk.turning[0].Value, breaks, 4)
	assert.InDelta(t, p.desk.turning[1].Value, back, 6)
	assert.Greater(t, back, breaks+20)

	among := *single
	among.Setup = single.Setup.Clone()
	among.Setup.Beads = append(among.Setup.Beads, among.Setup.Beads[0])
	among.Setup.Beads[1].Name, among.Setup.Beads[1].At = "plum", 300
	among.Routine = sim.Maybe[scenes.Routine]{}
	require.NoError(t, among.Check())
	p = sitBefore(t, &among, "en", Settings{}, 1280, 800, 1)
	breaksPast, backPast := find("target")
	assert.InDelta(t, breaks, breaksPast, 4)
	assert.InDelta(t, back, backPast, 6)
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

// What is taken beside its middle does not jump there: it goes as far as the pointer goes.
func TestATakenHandleDoesNotJump(t *testing.T) {
	for _, name := range []string{"target", "meeting", "bead plum", "anchor", "right eye", "bead above plum", "meeting above"} {
		for _, off := range []display.Point{{X: 3}, {X: -3}, {Y: 3}, {Y: -3}} {
			p := sit(t, "too-far-doubled")
			before := *p.setup()
			at := middle(p.widget(name).Self().Area)
			p.press(display.Point{X: at.X + off.X, Y: at.Y + off.Y})
			p.moveTo(display.Point{X: at.X + 30 + off.X, Y: at.Y + 12 + off.Y})
			moved := *p.setup()
			q := sit(t, "too-far-doubled")
			q.press(at)
			q.moveTo(display.Point{X: at.X + 30, Y: at.Y + 12})
			assert.NotEqual(t, before, moved, name)
			assert.Equal(t, *q.setup(), moved, "%s, taken %v beside its middle", name, off)
		}
	}
}

// What can be pulled in the picture stands about what is seen there.
func TestHandlesStandOnWhatTheyCarry(t *testing.T) {
	p := sit(t, "middle-of-three")
	var l display.List
	p.desk.Draw(&l)
	found := 0
	for _, w := range p.desk.reached() {
		h, ok := w.(*handle)
		if !ok || !h.Shown() || h.where != inPicture || h.kind != bead {
			continue
		}
		found++
		at := middle(h.Area)
		assert.Equal(t, h.Area.W, h.Area.H)
		assert.True(t, slices.ContainsFunc(l.Balls, func(b display.Ball) bool {
			inside := b.RadiusX < h.Area.W/2+2 // it is no smaller than what is seen
			return inside && math.Hypot(b.Centre.X-at.X, b.Centre.Y-at.Y) < 1
		}), "%s at %v", h.Name, at)
	}
	assert.GreaterOrEqual(t, found, 3)
	above := p.desk.layout.places
	for name, want := range map[string]display.Point{
		"right eye": above.Page(p.desk.view.Eyes[sim.RightEye].Centre), "left eye": above.Page(p.desk.view.Eyes[sim.LeftEye].Centre),
		"anchor": above.Page(p.desk.setup.Place(p.desk.setup.String.Length)), "bead above plum": above.Page(p.desk.setup.Place(p.setup().Beads[2].At)),
	} {
		at := middle(p.widget(name).Self().Area)
		assert.InDelta(t, want.X, at.X, 1e-9, name)
		assert.InDelta(t, want.Y, at.Y, 1e-9, name)
	}
}

// The far end of the string goes where it is pulled: so far to the side, and so far ahead.
func TestTheFarEndGoesWhereItIsPulled(t *testing.T) {
	p := sit(t, "middle-of-three")
	p.desk.edit("", func(s *sim.Setup) { s.String.NearEnd.X = 15 })
	p.update()
	for _, to := range [][2]float64{{0, 1200}, {150, 1100}, {-150, 1400}, {100, 2000}} {
		p.desk.moveAnchor("", to[0], to[1])
		p.update()
		end := p.setup().Place(p.setup().String.Length)
		assert.InDelta(t, to[0], end.X, 1.5, "%v", to)
		assert.InDelta(t, to[1], end.Y, 1.5, "%v", to)
	}
}

// What is pulled in the picture is found along the string as the eye sees it: where a bead
// is seen, there is its place.
func TestThePlaceOfWhatIsSeen(t *testing.T) {
	for _, scene := range []string{"middle-of-three", "too-far-doubled", "eye-higher"} {
		d := sit(t, scene).desk
		m := d.pictureMap(&d.view)
		for i := range d.view.Beads {
			for eye, seen := range map[sim.Eye]sim.Maybe[sim.XY]{sim.RightEye: d.view.Beads[i].Right, sim.LeftEye: d.view.Beads[i].Left} {
				if !seen.OK {
					continue
				}
				at := d.setup.Beads[i].At
				assert.InDelta(t, at, d.seenAt(&d.view, m.Page(seen.Value), eye), 0.02*at, "%s, bead %d, eye %v", scene, i, eye)
				assert.InDelta(t, at, d.seenAt(&d.view, m.Page(seen.Value), sim.RightEye, sim.LeftEye), 0.02*at, "%s, bead %d, both", scene, i)
			}
		}
	}
}

// An iris that is pulled in the view from in front turns its eye there: outward is exo, up
// higher, the same for the other eye in the mirror; pulled back by hand it is straight.
func TestPullingAnIris(t *testing.T) {
	turned := func(name string, dx, dy float64) sim.Posture {
		p := sit(t, "middle-of-three")
		at := middle(p.widget(name).Self().Area)
		p.press(at)
		p.moveTo(display.Point{X: at.X + dx, Y: at.Y + dy})
		p.lift()
		return p.setup().Posture
	}
	for _, d := range [][2]float64{{6, 0}, {-6, 0}, {0, 4}, {0, -4}} {
		right, left := turned("right iris", d[0], d[1]), turned("left iris", -d[0], d[1])
		assert.InDelta(t, float64(right.Deviation), float64(left.Deviation), 0.11, "%v", d)
		assert.InDelta(t, float64(right.Vertical), -float64(left.Vertical), 0.11, "%v", d)
		switch {
		case d[0] > 0: // toward the nose
			assert.Greater(t, float64(right.Deviation), 1., "%v", d)
		case d[0] < 0:
			assert.Less(t, float64(right.Deviation), -1., "%v", d)
		case d[1] < 0: // up
			assert.Greater(t, float64(right.Vertical), 1., "%v", d)
		default:
			assert.Less(t, float64(right.Vertical), -1., "%v", d)
		}
	}
	p := sit(t, "middle-of-three")
	p.desk.edit("", func(s *sim.Setup) { s.Posture.Deviation = 4 })
	p.update()
	at := middle(p.widget("right iris").Self().Area)
	p.press(at)
	p.moveTo(display.Point{X: at.X + 9, Y: at.Y})
	p.moveTo(at)
	p.lift()
	assert.InDelta(t, 4, float64(p.setup().Posture.Deviation), 0.11, "back where it was")
}

// An iris stands under the pointer that pulls it, at once, whichever eye fixes.
func TestAnIrisStandsUnderThePointer(t *testing.T) {
	for _, fixing := range []sim.Side{sim.Both, sim.Right, sim.Left} {
		for _, name := range []string{"right iris", "left iris"} {
			p := sit(t, "middle-of-three")
			p.desk.edit("", func(s *sim.Setup) { s.Posture.Fixing = fixing })
			p.update()
			at := middle(p.widget(name).Self().Area)
			p.press(at)
			for _, by := range []display.Point{{X: 1}, {X: -1.5, Y: -0.5}, {X: 0.5, Y: 1}} {
				to := display.Point{X: at.X + by.X, Y: at.Y + by.Y}
				p.moveTo(to)
				now := middle(p.widget(name).Self().Area)
				assert.InDelta(t, to.X, now.X, 0.1, "%s, %s fixes, %v", name, fixing, by)
				assert.InDelta(t, to.Y, now.Y, 0.1, "%s, %s fixes, %v", name, fixing, by)
			}
		}
	}
}

// What can be pulled in a view is ringed while the pointer is on it.
func TestWhatIsPulledInAViewIsRinged(t *testing.T) {
	p := sit(t, "middle-of-three")
	for _, name := range []string{"anchor", "right iris", "bead seen orange left"} {
		h := p.widget(name).(*handle)
		p.moveTo(middle(h.Area))
		require.True(t, ui.Is(p.desk.kit.Hover, h), name)
		var l display.List
		l.Reset(1280, 800, display.Colour{})
		h.Draw(&p.desk.kit, &l)
		require.Len(t, l.Paths, 1)
		r := box(l.Paths[0].Outline)
		assert.InDelta(t, middle(h.Area).X, middle(r).X, 1e-6)
		assert.InDelta(t, middle(h.Area).Y, middle(r).Y, 1e-6)
		assert.InDelta(t, max(26, h.Area.W), r.W, 1e-6, name)
		assert.Positive(t, l.Paths[0].Stroke)
		p.moveTo(nowhere)
		l.Reset(1280, 800, display.Colour{})
		h.Draw(&p.desk.kit, &l)
		assert.Empty(t, l.Paths, name)
	}
}

// While an end of the string or an eye is pulled the view from above stays as it was when
// it was taken; what is pulled between them moves in it.
func TestTheViewFromAboveHoldsStill(t *testing.T) {
	for name, still := range map[string]bool{"anchor": true, "right eye": true, "left eye": true, "bead above plum": false, "target above": false} {
		p := sit(t, "middle-of-three")
		a := &p.desk.layout
		was := a.places
		at := middle(p.widget(name).Self().Area)
		p.press(at)
		p.moveTo(display.Point{X: at.X + 10, Y: at.Y + 6})
		assert.Equal(t, still, a.extent != nil, name)
		assert.Equal(t, was, a.places, name)
		p.lift()
		assert.Nil(t, a.extent, name)
	}
}

// With findings the eyes follow from those: what turns them cannot be pulled, all else can.
func TestWhatFollowsFromFindings(t *testing.T) {
	for scene, found := range map[string]bool{"walk-with-findings": true, "middle-of-three": false} {
		p := sit(t, scene)
		for name, turns := range map[string]bool{
			"meeting": true, "meeting above": true, "right iris": true, "left iris": true, "target": false, "anchor": false, "right eye": false, "bead sky": false,
		} {
			h := p.widget(name).(*handle)
			assert.Equal(t, found && turns, h.follows(), "%s, %s", scene, name)
			if found && turns {
				was := p.setup().Clone()
				at := middle(h.Area)
				p.press(at)
				p.moveTo(display.Point{X: at.X + 20, Y: at.Y + 2})
				assert.Equal(t, was, *p.setup(), name)
				p.key(ui.KeyEscape)
				p.lift()
			}
		}
	}
}

// A bead that is clicked in a view is looked at once it is let go; on the bar it is not,
// and nothing else that is clicked turns the eyes.
func TestABeadIsLookedAtWhenItIsClicked(t *testing.T) {
	for name, looked := range map[string]bool{
		"bead above plum": true, "bead seen plum right": true, "bead plum": false, "anchor": false, "right eye": false, "target above": false,
	} {
		p := sit(t, "middle-of-three")
		p.press(middle(p.widget(name).Self().Area))
		assert.Equal(t, 1, p.setup().Look.Bead, "%s, while it is held", name)
		p.lift()
		want := 1
		if looked {
			want = 2
		}
		assert.Equal(t, want, p.setup().Look.Bead, name)
	}
}
