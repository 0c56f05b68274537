package desk

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes"
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
	say, err := words.For("en")
	require.NoError(t, err)
	p := &person{t: t, desk: New(sc.Title, sc.Setup, say), in: Input{W: 1280, H: 800, Scale: 1}}
	p.update()
	return p
}

// update is one frame: what is seen must be that of the set-up when it ends.
func (p *person) update() bool {
	p.in.Seconds += 1. / 60
	p.in.Down = p.down
	changed := p.desk.Update(p.in)
	p.in.Pressed, p.in.Released, p.in.Wheel, p.in.Keys, p.in.Text = false, false, 0, nil, nil
	var v sim.View
	v.Look(&p.desk.setup)
	require.Equal(p.t, v.Account, p.desk.view.Account)
	require.Equal(p.t, v.Axes, p.desk.view.Axes)
	require.Equal(p.t, v.Target, p.desk.view.Target)
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

func (p *person) click(q part) {
	p.in.Pressed, p.in.Released, p.in.Pointer = true, true, p.middle(q)
	p.update()
}

func (p *person) middle(q part) display.Point {
	a := p.desk.area(q)
	return display.Point{X: a.X + a.W/2, Y: a.Y + a.H/2}
}

// pull takes a handle by its middle, carries it to x on the scale, and lifts.
func (p *person) pull(q part, x float64) {
	at := p.middle(q)
	p.press(at)
	at.X = p.desk.layout.x(x)
	p.moveTo(at)
	p.lift()
}

func (p *person) key(k Key) {
	p.in.Keys = append(p.in.Keys, Press{Key: k})
	p.update()
}

func (p *person) shift(k Key) {
	p.in.Keys = append(p.in.Keys, Press{Key: k, Shift: true})
	p.update()
}

func (p *person) write(s string) {
	p.in.Text = []rune(s)
	p.update()
}

// turn types a deviation, and then points at the picture.
func (p *person) turn(by sim.Prism) {
	p.click(theNumber)
	p.write(fmt.Sprint(float64(by)))
	p.key(KeyEnter)
	require.Equal(p.t, by, p.desk.setup.Posture.Deviation)
	p.click(part{kind: picture})
}

func (p *person) list() *display.List {
	var l display.List
	p.desk.Draw(&l)
	return &l
}

var (
	theTarget  = part{kind: target}
	theMeeting = part{kind: meeting}
	theNumber  = part{kind: deviation}
)

func TestScale(t *testing.T) {
	// Worked by hand from x = D/(D + 250), and from w = 2·tan(γ/2)/PD with PD 62.
	assert.InDelta(t, 0.83, distanceX(1254), 0.005, "the wall of a 1.2 m string")
	assert.InDelta(t, 0.92, distanceX(3054), 0.005, "the wall of a 3 m string")
	assert.InDelta(t, 1.04, vergenceX(-sim.Prism(1).Angle(), 62, 2), 0.005, "1 Δ of divergence")
	assert.InDelta(t, 1.25, vergenceX(-sim.Prism(5).Angle(), 62, 2), 0.005, "5 Δ of divergence")
	assert.Equal(t, 1., vergenceX(0, 62, 2))
	assert.Equal(t, barEnd, vergenceX(-sim.Prism(60).Angle(), 62, barEnd), "no place on the scale")

	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(20, 60_000).Draw(t, "distance")
		assert.InEpsilon(t, d, xDistance(distanceX(d)), 1e-9)
		pd := rapid.Float64Range(40, 80).Draw(t, "pd")
		x := rapid.Float64Range(0.05, barEnd).Draw(t, "x")
		assert.InEpsilon(t, x, vergenceX(xVergence(x, pd), pd, barEnd+1), 1e-9)
		// A target on the midline is met where it is: its vergence is 2·atan(pd/2/D).
		assert.InEpsilon(t, distanceX(d), vergenceX(sim.Angle(2*math.Atan(pd/2/d)), pd, barEnd), 1e-9)
	})
}

func TestPlaceAtIsTheInverseOfDistance(t *testing.T) {
	for _, e := range scenes.Library() {
		s := &e.Scene.Setup
		for share := 0.; share <= 1; share += 0.05 {
			at := share * s.String.Length
			assert.InDelta(t, at, placeAt(s, fromEyes(s, at)), 1e-6, e.Name)
		}
		assert.Equal(t, 0., placeAt(s, 1))
		assert.Equal(t, s.String.Length, placeAt(s, 1e6))
	}
}

func TestAtRestThreeThingsAreInOnePlace(t *testing.T) {
	p := sit(t, "middle-of-three")
	x := p.desk.handleX(theTarget)
	assert.InDelta(t, x, p.desk.handleX(theMeeting), 1e-6)
	assert.InDelta(t, x, p.desk.handleX(part{bead, 1}), 1e-6)
	for _, q := range []part{theTarget, theMeeting, {bead, 1}} {
		assert.Equal(t, q, p.desk.under(p.middle(q)), "none covers another")
	}
}

func TestPullTheTarget(t *testing.T) {
	p := sit(t, "too-near-doubled")
	deviation := p.desk.setup.Posture.Deviation
	p.pull(theTarget, distanceX(700))
	s := &p.desk.setup
	assert.Equal(t, sim.NoBead, s.Look.Bead)
	assert.Equal(t, s.Look.At, math.Round(s.Look.At), "whole millimetres")
	assert.InDelta(t, 700, p.desk.view.Target.FromEyes, 1.5)
	assert.Equal(t, deviation, s.Posture.Deviation, "the meeting place comes along: its Δ stays")

	plum := s.Beads[2].At
	p.pull(theTarget, distanceX(fromEyes(s, plum-6)))
	assert.Equal(t, 2, s.Look.Bead, "within the body of a bead it is the bead")
	assert.Equal(t, plum, p.desk.view.Target.At)
	p.pull(theTarget, distanceX(fromEyes(s, plum-14)))
	assert.Equal(t, sim.NoBead, s.Look.Bead)

	p.pull(theTarget, 1.1)
	assert.Equal(t, s.String.Length, s.Look.At, "it stops at the wall")
	p.pull(theTarget, 0)
	assert.Equal(t, 0., s.Look.At, "and at the nose")
}

func TestAPressAloneMovesNothing(t *testing.T) {
	for _, q := range []part{theTarget, theMeeting, {bead, 0}} {
		p := sit(t, "too-far-doubled")
		before := p.desk.edits
		at := p.middle(q)
		at.X += 9 // off the middle of its area
		p.press(at)
		p.update()
		p.lift()
		assert.Equal(t, before, p.desk.edits)
		assert.Equal(t, q, p.desk.focus)
		// Then it keeps that far from the pointer.
		x := p.desk.handleX(q)
		p.press(at)
		at.X += 40
		p.moveTo(at)
		assert.InDelta(t, x+40, p.desk.handleX(q), 4)
		p.lift()
	}
}

func TestPullTheMeetingPlace(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		scene := rapid.SampledFrom([]string{"middle-of-three", "eye-higher", "held-off-centre", "right-left-out", "prism-not-answered", "turned-yet-crossing-in-bead"}).Draw(r, "scene")
		p := sit(t, scene)
		target := p.desk.view.Target
		x := rapid.Float64Range(0.3, 1.11).Draw(r, "x")
		p.pull(theMeeting, x)
		d := p.desk
		assert.Equal(t, target, d.view.Target, "the target stays")
		if d.setup.Posture.Deviation == 0 {
			return // held at zero
		}
		// The vergence that the view came to, against the one asked for.
		off := d.view.Axes.Vergence - xVergence(x, d.setup.Patient.PD)
		assert.LessOrEqual(t, math.Abs(float64(off)), float64(sim.Prism(deviationStep/2).Angle())*1.001)
	})
}

func TestTheMeetingPlaceHoldsAtZero(t *testing.T) {
	p := sit(t, "middle-of-three")
	rest := p.desk.view.Axes.Vergence
	for _, c := range []struct{ off, want sim.Prism }{{0.29, 0}, {-0.29, 0}, {0.4, 0.4}, {-0.4, -0.4}, {4.23, 4.2}} {
		p.pull(theMeeting, vergenceX(rest+c.off.Angle(), p.desk.setup.Patient.PD, barEnd))
		assert.InDelta(t, float64(c.want), float64(p.desk.setup.Posture.Deviation), 1e-9, "%v Δ", c.off)
	}
}

func TestEyesThatPart(t *testing.T) {
	p := sit(t, "middle-of-three")
	p.pull(theMeeting, 1.06)
	d := p.desk
	assert.False(t, d.view.Axes.Point.OK)
	assert.Equal(t, sim.AimApart, d.view.Account.Eyes)
	assert.InDelta(t, d.layout.x(1.06), d.handleX(theMeeting), 3)
	p.turn(-40)
	assert.InDelta(t, d.layout.x(barEnd), d.handleX(theMeeting), 1e-9, "farther values stop at the end")
	p.pull(theMeeting, distanceX(800))
	assert.True(t, d.view.Axes.Point.OK, "and come back")
}

func TestPullABead(t *testing.T) {
	p := sit(t, "middle-of-three")
	s := &p.desk.setup
	radii := (s.Beads[0].Diameter + s.Beads[1].Diameter) / 2
	p.pull(part{bead, 0}, distanceX(900))
	assert.Equal(t, s.Beads[1].At-radii, s.Beads[0].At, "it stops at its neighbour")
	assert.Equal(t, 1, s.Look.Bead)
	p.pull(part{bead, 2}, 1.1)
	assert.Equal(t, s.String.Length, s.Beads[2].At, "and at the end of the string")

	deviation := s.Posture.Deviation
	p.pull(part{bead, 1}, distanceX(800))
	assert.InDelta(t, 800, p.desk.view.Target.FromEyes, 1.5, "the bead that is looked at takes the target along")
	assert.Equal(t, deviation, s.Posture.Deviation)
	assert.InDelta(t, p.desk.handleX(theTarget), p.desk.handleX(theMeeting), 1e-6)
}

func TestABeadThatOnlyPassesLeavesTheTarget(t *testing.T) {
	p := sit(t, "middle-of-three")
	s := &p.desk.setup
	p.pull(theTarget, distanceX(fromEyes(s, 700)))
	require.Equal(t, sim.Fixation{Bead: sim.NoBead, At: 700, Asked: sim.NoBead}, s.Look)
	at := p.middle(part{bead, 1})
	p.press(at)
	at.X = p.desk.layout.x(distanceX(fromEyes(s, 702)))
	p.moveTo(at)
	assert.Equal(t, 1, s.Look.Bead, "over the target it is what is looked at")
	at.X = p.desk.layout.x(distanceX(fromEyes(s, 800)))
	p.moveTo(at)
	assert.Equal(t, sim.Fixation{Bead: sim.NoBead, At: 700, Asked: sim.NoBead}, s.Look)
	p.lift()
}

func TestEscapePutsBack(t *testing.T) {
	for _, q := range []part{theTarget, theMeeting, {bead, 0}, {bead, 1}} {
		p := sit(t, "too-near-doubled")
		before, place := p.desk.setup, p.desk.place
		before.Beads = slices.Clone(before.Beads)
		at := p.middle(q)
		p.press(at)
		for range 5 {
			at.X += 23
			p.moveTo(at)
		}
		assert.NotEqual(t, before, p.desk.setup)
		p.key(KeyEscape)
		assert.Equal(t, before, p.desk.setup)
		assert.Equal(t, place, p.desk.place)
		at.X += 50
		p.moveTo(at)
		assert.Equal(t, before, p.desk.setup, "until the handle is taken again")
		p.lift()
	}
}

func TestKeys(t *testing.T) {
	p := sit(t, "middle-of-three")
	s := &p.desk.setup
	p.key(KeyTab)
	require.Equal(t, theTarget, p.desk.focus)
	p.key(KeyRight)
	assert.Equal(t, 490., s.Look.At)
	p.shift(KeyRight)
	assert.Equal(t, 491., s.Look.At)
	p.key(KeyPageUp)
	assert.Equal(t, 591., s.Look.At)
	p.key(KeyPageDown)
	p.shift(KeyLeft)
	p.key(KeyLeft)
	assert.Equal(t, 1, s.Look.Bead, "back on the bead")
	p.shift(KeyLeft)
	assert.Equal(t, sim.Fixation{Bead: sim.NoBead, At: 471, Asked: sim.NoBead}, s.Look, "the least step leaves the body of 8 mm")
	p.shift(KeyRight)
	assert.Equal(t, 1, s.Look.Bead)
	p.key(KeyHome)
	assert.Equal(t, 0., s.Look.At)
	p.key(KeyLeft)
	assert.Equal(t, 0., s.Look.At)

	p.key(KeyTab)
	require.Equal(t, theMeeting, p.desk.focus)
	p.key(KeyLeft)
	assert.Equal(t, sim.Prism(0.5), s.Posture.Deviation, "nearer is eso")
	p.shift(KeyLeft)
	assert.InDelta(t, 0.55, float64(s.Posture.Deviation), 1e-9)
	p.key(KeyHome)
	assert.Equal(t, sim.Prism(0), s.Posture.Deviation)
	p.key(KeyPageUp)
	assert.Equal(t, sim.Prism(-5), s.Posture.Deviation)
	for range 30 {
		p.key(KeyPageUp)
	}
	assert.Equal(t, sim.Prism(-100), s.Posture.Deviation, "no farther than a scene file allows")

	p.key(KeyTab)
	p.key(KeyTab)
	require.Equal(t, part{bead, 0}, p.desk.focus)
	p.key(KeyRight)
	assert.Equal(t, 240., s.Beads[0].At)
	p.key(KeyHome)
	assert.Equal(t, 0., s.Beads[0].At)
	p.key(KeyTab)
	p.key(KeyHome)
	assert.Equal(t, 16., s.Beads[1].At, "as near as its neighbour lets it")
}

func TestTabGoesRound(t *testing.T) {
	p := sit(t, "middle-of-three")
	p.pull(part{bead, 2}, distanceX(700)) // still the farthest
	p.click(part{kind: picture})
	want := []part{
		theTarget, theMeeting, theNumber, {bead, 0}, {bead, 1}, {bead, 2},
		{kind: compareButton}, {kind: widerButton}, {kind: closerButton}, {kind: fullButton},
	}
	for range 2 {
		for _, w := range want {
			p.key(KeyTab)
			require.Equal(t, w, p.desk.focus)
			rings := 0
			for _, path := range p.list().Paths {
				if path.Stroke == 2*p.desk.layout.unit && path.Paint.From == theme.Dark.Accent {
					rings++
				}
			}
			require.Equal(t, 1, rings, "one ring for %v", w)
		}
	}
	p.key(KeyTab)
	for _, w := range slices.Backward(want) {
		p.shift(KeyTab)
		require.Equal(t, w, p.desk.focus)
	}
}

func TestTypeTheDeviation(t *testing.T) {
	for text, want := range map[string]sim.Prism{
		"4": 4, "4.5": 4.5, "4,5": 4.5, "-4": -4, "−4": -4, "4 exo": -4, "4 eso": 4, " 4.2 Δ eso": 4.2, "4EXO": -4, "+3": 3, "0": 0, "-0": 0, "100": 100,
	} {
		p := sit(t, "middle-of-three")
		p.click(theNumber)
		require.True(t, p.desk.field.open)
		p.write(text)
		assert.Equal(t, sim.Prism(0), p.desk.setup.Posture.Deviation, "not before it is taken")
		p.key(KeyEnter)
		assert.False(t, p.desk.field.open)
		assert.Equal(t, want, p.desk.setup.Posture.Deviation, text)
	}
	for _, text := range []string{"", "x", "4x", "101", "-100.5", "1e2", "0x4", "Inf", "NaN", "4 eso exo", "-4 exo", "--4", "4.5.6"} {
		p := sit(t, "too-near-doubled")
		was := p.desk.setup.Posture.Deviation
		p.click(theNumber)
		p.key(KeyBackspace)
		p.write(text)
		p.key(KeyEnter)
		assert.Equal(t, was, p.desk.setup.Posture.Deviation, text)
		assert.Equal(t, text, p.desk.field.text, "it stays as typed")
		allowed := p.desk.say.Label(words.DeviationAllowed)
		assert.True(t, slices.ContainsFunc(p.list().Texts, func(x display.Text) bool { return x.String == allowed }), text)
		p.key(KeyTab)
		assert.NotEqual(t, theNumber, p.desk.focus, "no trap for the keys")
		p.click(theNumber)
		p.key(KeyEscape)
		assert.Equal(t, field{}, p.desk.field)
		assert.Equal(t, was, p.desk.setup.Posture.Deviation)
	}

	p := sit(t, "middle-of-three")
	p.key(KeyTab)
	p.key(KeyTab)
	p.key(KeyEnter)
	p.write("3,5")
	p.key(KeyBackspace)
	p.write("2")
	p.key(KeyTab)
	assert.Equal(t, sim.Prism(3.2), p.desk.setup.Posture.Deviation, "leaving takes it")
	p.click(theNumber)
	p.write("9")
	p.pull(theTarget, 0.6)
	assert.Equal(t, sim.Prism(9), p.desk.setup.Posture.Deviation, "so does a pull elsewhere")
	p.click(theNumber)
	p.write("999")
	p.key(KeyEnter)
	p.pull(theMeeting, 0.6)
	assert.False(t, p.desk.field.open, "a pull of the meeting place is the newer word")
}

func TestTheSentenceSettles(t *testing.T) {
	p := sit(t, "middle-of-three")
	before := p.desk.Title()
	_, due := p.desk.Due()
	require.False(t, due)
	p.pull(theMeeting, distanceX(300))
	moved := p.in.Seconds
	assert.Equal(t, before, p.desk.Title())
	at, due := p.desk.Due()
	require.True(t, due)
	assert.InDelta(t, moved+0.2, at, 0.05)
	for p.in.Seconds+1./60 < at {
		p.update()
		require.Equal(t, before, p.desk.Title())
	}
	assert.True(t, p.update())
	_, due = p.desk.Due()
	assert.False(t, due)
	assert.Equal(t, "Middle of three beads: "+p.desk.say.Family(&p.desk.view), p.desk.Title())
	assert.NotEqual(t, before, p.desk.Title())
}

func TestZoomCompareAndFullScreen(t *testing.T) {
	p := sit(t, "too-far-doubled")
	d := p.desk
	auto := d.fieldOfView()
	p.write("+")
	assert.InEpsilon(t, auto/zoomStep, d.fieldOfView(), 1e-9)
	p.click(part{kind: widerButton})
	assert.InEpsilon(t, auto, d.fieldOfView(), 1e-9)
	for range 20 {
		p.write("-")
	}
	assert.Equal(t, float64(render.MostField), d.fieldOfView())
	p.in.Pointer, p.in.Wheel = p.middle(part{kind: picture}), 30
	p.update()
	assert.Equal(t, float64(render.LeastField), d.fieldOfView())
	p.write("0")
	assert.Equal(t, auto, d.fieldOfView())

	single := len(p.list().Balls)
	p.write("c")
	assert.True(t, d.compare)
	assert.Greater(t, len(p.list().Balls), single+5)
	assert.Equal(t, sim.Prism(0), d.plain.Posture.Deviation)
	assert.Equal(t, sim.SeenOne, d.plainView.Account.Fixated)
	p.pull(theTarget, distanceX(fromEyes(&d.setup, d.setup.Beads[0].At)))
	assert.Equal(t, d.setup.Look, d.plain.Look, "the other picture follows what is looked at")
	p.click(part{kind: compareButton})
	assert.False(t, d.compare)

	p.key(KeyF11)
	assert.True(t, d.FullScreen())
	p.key(KeyEscape)
	assert.False(t, d.FullScreen())
	p.write("f")
	p.click(part{kind: fullButton})
	assert.False(t, d.FullScreen())
}

func TestTheNearerHandleWins(t *testing.T) {
	p := sit(t, "middle-of-three")
	p.pull(part{bead, 0}, distanceX(900)) // up to its neighbour
	near, far := p.middle(part{bead, 0}), p.middle(part{bead, 1})
	require.Less(t, far.X-near.X, theme.Target, "their areas overlap")
	between := func(share float64) display.Point {
		return display.Point{X: near.X + share*(far.X-near.X), Y: near.Y}
	}
	assert.Equal(t, part{bead, 0}, p.desk.under(between(0.4)))
	assert.Equal(t, part{bead, 1}, p.desk.under(between(0.6)))
}

// Training against suppression, or with a large turn, is for professionals: such a
// set-up says so while nothing else is pointed at.
func TestCaution(t *testing.T) {
	caution := func(p *person) bool { return p.desk.Hint() == p.desk.say.Label(words.CautionSuppression) }
	for scene, want := range map[string]bool{
		"middle-of-three": false, "too-near-doubled": false, "right-left-out": true, "left-out-centre": true, "eyes-part": true,
	} {
		assert.Equal(t, want, caution(sit(t, scene)), scene)
	}
	p := sit(t, "middle-of-three")
	p.turn(-10)
	p.key(KeyTab)
	assert.False(t, caution(p))
	p.click(part{kind: picture})
	p.turn(-10.5)
	assert.True(t, caution(p))
	p.in.Pointer = p.middle(theTarget)
	p.update()
	assert.Equal(t, p.desk.say.Label(words.HintTarget), p.desk.Hint())
}

func TestNothingHappens(t *testing.T) {
	p := sit(t, "middle-of-three")
	assert.False(t, p.update())
	p.in.Pointer = p.middle(theTarget)
	assert.True(t, p.update(), "what is under the pointer shows")
	assert.False(t, p.update())
	in := p.in
	assert.Zero(t, testing.AllocsPerRun(100, func() { p.desk.Update(in) }))
}

// The pages that must look right.
var pages = []struct{ w, h, scale float64 }{
	{1024, 700, 1}, {1280, 800, 1}, {1920, 1080, 1}, {3840, 2160, 2}, {2048, 1400, 2}, {1024, 1400, 1}, {3840, 1080, 1}, {1537, 1051, 1.5},
}

func TestLayout(t *testing.T) {
	for i, page := range pages {
		for j, e := range scenes.Library() {
			if i > 1 && (i+j)%4 != 0 { // every scene at the two common sizes, a few at the others
				continue
			}
			p := sit(t, e.Name)
			p.in.W, p.in.H, p.in.Scale = page.w, page.h, page.scale
			p.update()
			for _, deviation := range []sim.Prism{p.desk.setup.Posture.Deviation, 100, -100, -1.75} {
				p.turn(deviation)
				p.in.Seconds++
				p.update()
				name := fmt.Sprintf("%s, %v Δ, %vx%v at %v", e.Name, deviation, page.w, page.h, page.scale)
				checkLayout(t, p, name)
			}
			p.write("c")
			checkLayout(t, p, e.Name+", side by side")
		}
	}
}

func checkLayout(t *testing.T, p *person, name string) {
	a := &p.desk.layout
	header := display.Rect{W: a.picture.W, H: a.picture.Y}
	regions := []display.Rect{a.picture, a.above, a.sentence, a.bar, a.hint, header}
	for _, b := range a.buttons {
		require.True(t, within(b, header), "no button hides a bead: %s", name)
	}
	area := 0.
	for i, r := range regions {
		area += r.W * r.H
		for _, v := range []float64{r.X, r.Y, r.W, r.H} {
			require.Equal(t, math.Round(v), v, "whole pixels: %s", name)
		}
		for _, o := range regions[:i] {
			require.False(t, touch(r, o), name)
		}
	}
	require.Equal(t, p.in.W*p.in.H, area, "nothing is left empty: %s", name)
	require.Greater(t, a.picture.W*a.picture.H, 0.35*area, "the picture is the largest: %s", name)

	page := display.Rect{W: p.in.W, H: p.in.H}
	for _, q := range p.desk.order() {
		r := p.desk.area(q)
		require.GreaterOrEqual(t, min(r.W, r.H), theme.Target*p.in.Scale-1, "%v: %s", q, name)
		require.True(t, within(r, page), "%v: %s", q, name)
	}

	// Texts, but for those in the view from above, which has a test of its own.
	l := p.list()
	var boxes []display.Rect
	var said []string
	for _, x := range l.Texts {
		st := lettering.Style{Face: x.Face, Size: x.Size}
		g := x.Glyphs[0].At
		box := display.Rect{X: g.X, Y: g.Y - lettering.CapHeight(st), W: lettering.Width(st, x.String), H: lettering.CapHeight(st)}
		require.True(t, within(box, page), "%q: %s", x.String, name)
		if touch(box, a.above) && !touch(box, a.sentence) && x.String != p.desk.say.Label(words.FromAbove) {
			continue
		}
		for i, o := range boxes {
			require.False(t, touch(box, o), "%q and %q: %s", x.String, said[i], name)
		}
		boxes, said = append(boxes, box), append(said, x.String)
	}
	for _, line := range a.lines {
		require.Contains(t, said, line, name)
	}
	require.Equal(t, p.desk.sentence, strings.Join(a.lines, " "), name)
	require.GreaterOrEqual(t, a.sentenceStyle.Size, 20*p.in.Scale, "readable: %s", name)
	require.Contains(t, said, p.desk.Hint(), "the hint is whole: %s", name)
}

func touch(a, b display.Rect) bool {
	return a.X < b.X+b.W && b.X < a.X+a.W && a.Y < b.Y+b.H && b.Y < a.Y+a.H
}

func within(a, b display.Rect) bool {
	return a.X >= b.X-1e-9 && a.Y >= b.Y-1e-9 && a.X+a.W <= b.X+b.W+1e-9 && a.Y+a.H <= b.Y+b.H+1e-9
}

func TestBarIsTheInverseOfItself(t *testing.T) {
	p := sit(t, "three-metres")
	l := &p.desk.layout
	for x := l.noseX; x < barEnd; x += 0.01 {
		assert.InDelta(t, x, l.scaleX(l.x(x)), 1e-12)
	}
}

func TestDrawDecidesNothing(t *testing.T) {
	p := sit(t, "too-near-doubled")
	dump := func() string {
		var b strings.Builder
		require.NoError(t, p.list().Dump(&b))
		return b.String()
	}
	first := dump()
	before := *p.desk
	assert.Equal(t, first, dump())
	assert.Equal(t, before.ui, p.desk.ui)
	assert.Equal(t, before.layout, p.desk.layout)
}

// Nobody means any of this, and nothing must break.
func TestMonkey(t *testing.T) {
	for seed, scene := range []string{"middle-of-three", "three-metres", "turned-yet-crossing-in-bead", "bare-string", "slack-string", "another-bead"} {
		dice := rand.New(rand.NewPCG(uint64(seed), 7))
		p := sit(t, scene)
		for step := range 700 {
			page := pages[dice.IntN(len(pages))]
			if dice.IntN(50) == 0 {
				p.in.W, p.in.H, p.in.Scale = page.w, page.h, page.scale
			}
			switch dice.IntN(3) {
			case 0:
				p.in.Pointer = display.Point{X: dice.Float64()*p.in.W*1.2 - 50, Y: dice.Float64()*p.in.H*1.2 - 50}
			case 1:
				parts := p.desk.order()
				p.in.Pointer = p.middle(parts[dice.IntN(len(parts))])
			case 2:
				p.in.Pointer.X += 80 * dice.NormFloat64()
			}
			p.in.Pressed = dice.IntN(5) == 0
			p.in.Released = p.down && dice.IntN(4) == 0
			p.down = (p.down || p.in.Pressed) && !p.in.Released
			if dice.IntN(3) == 0 {
				p.in.Keys = append(p.in.Keys, Press{Key: Key(dice.IntN(int(KeyF11) + 1)), Shift: dice.IntN(3) == 0})
			}
			if dice.IntN(4) == 0 {
				p.in.Text = []rune{[]rune("0123456789.,-+ cfesox−Δ\u0301\x00")[dice.IntN(24)]}
			}
			p.in.Wheel = float64(dice.IntN(3) - 1)
			p.update()

			s := &p.desk.setup
			require.NoError(t, s.Validate())
			require.LessOrEqual(t, math.Abs(float64(s.Posture.Deviation)), float64(deviationMost))
			require.True(t, s.Look.At >= 0 && s.Look.At <= s.String.Length)
			for i, b := range s.Beads {
				require.True(t, b.At >= 0 && b.At <= s.String.Length)
				for _, o := range s.Beads[:i] {
					require.GreaterOrEqual(t, math.Abs(b.At-o.At), (b.Diameter+o.Diameter)/2-1e-9)
				}
			}
			if step%10 == 0 {
				var b strings.Builder
				l := p.list()
				l.Title = ""
				require.NoError(t, l.Dump(&b))
				require.NotContains(t, b.String(), "NaN")
				require.NotContains(t, b.String(), "Inf")
			}
		}
	}
}

// Pulling is what must not stutter.
func BenchmarkPull(b *testing.B) {
	p := sit(b, "too-far-doubled")
	d, in := p.desk, p.in
	in.Pointer = p.middle(theMeeting)
	in.Pressed, in.Down = true, true
	d.Update(in)
	in.Pressed = false
	var l display.List
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		in.Pointer.X = 400 + float64(i%500)
		d.Update(in)
		d.Draw(&l)
	}
}
