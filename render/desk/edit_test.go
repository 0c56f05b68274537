package desk

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
	"twincord/sim"
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

// What no file may hold together goes along with the key that is changed, and nothing else
// does: who fixes with an anomaly, an eye that sees nothing, how long one eye is left out.
func TestWhatGoesAlongWithAKey(t *testing.T) {
	for _, tt := range []struct {
		name   string
		before func(s *sim.Setup)
		key    string
		value  any
		also   func(s *sim.Setup)
	}{
		{"an anomaly needs an eye that fixes", func(*sim.Setup) {}, "posture.anomaly_prism", 5., func(s *sim.Setup) { s.Posture.Fixing = sim.Right }},
		{"or has it", func(s *sim.Setup) { s.Posture.Fixing = sim.Left }, "posture.anomaly_prism", 5., func(*sim.Setup) {}},
		{"none needs none", func(*sim.Setup) {}, "posture.anomaly_prism", 0., func(*sim.Setup) {}},
		{"both fix without one", func(s *sim.Setup) { s.Posture.Fixing, s.Posture.Anomaly = sim.Left, 5 }, "posture.fixing", "both",
			func(s *sim.Setup) { s.Posture.Anomaly = 0 }},
		{"one keeps it", func(s *sim.Setup) { s.Posture.Fixing, s.Posture.Anomaly = sim.Left, 5 }, "posture.fixing", "right", func(*sim.Setup) {}},
		{"the right eye left out fixes nothing", func(s *sim.Setup) { s.Posture.Fixing = sim.Right }, "suppression.eye", "right",
			func(s *sim.Setup) { s.Posture.Fixing = sim.Left }},
		{"nor does the left", func(s *sim.Setup) { s.Posture.Fixing = sim.Left }, "suppression.eye", "left", func(s *sim.Setup) { s.Posture.Fixing = sim.Right }},
		{"the other one fixes on", func(s *sim.Setup) { s.Posture.Fixing = sim.Left }, "suppression.eye", "right", func(*sim.Setup) {}},
		{"by turns takes its time", func(*sim.Setup) {}, "suppression.eye", "alternating", func(s *sim.Setup) { s.Suppression.Period = 4 }},
		{"or has it", func(s *sim.Setup) { s.Suppression.Period = 2 }, "suppression.eye", "alternating", func(*sim.Setup) {}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := sit(t, "middle-of-three")
			d := p.desk
			d.edit("", tt.before)
			k, ok := scenes.Find(tt.key)
			require.True(t, ok)
			want := *d.doc.Scene()
			want.Setup = want.Setup.Clone()
			require.NoError(t, k.Set(&want, 0, tt.value))
			tt.also(&want.Setup)
			require.True(t, d.put("", &k, tt.value))
			assert.Equal(t, want.Setup, *p.setup())
			assert.NoError(t, d.doc.Scene().Check())
		})
	}
}

// The controls of a bead are those of another one where there are no longer so many.
func TestTheChosenBeadIsThere(t *testing.T) {
	p := atSetup(t, "middle-of-three")
	d := p.desk
	d.chooseBead(2)
	all := p.setup().Clone().Beads
	for _, n := range []int{2, 1, 0} {
		d.edit("", func(s *sim.Setup) { s.Look.Bead, s.Look.At, s.Beads = sim.NoBead, 300, all[:n] })
		p.update()
		assert.Equal(t, max(0, n-1), d.bead)
	}
}
