package desk

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
	"twincord/sim"
)

// The bounds of M20: on one side of each nobody is cautioned, on the other everywhere.
func TestCautionIsDue(t *testing.T) {
	suppressed := func(depth float64) func(*sim.Setup) {
		return func(s *sim.Setup) {
			s.Suppression.Eye, s.Suppression.Depth = sim.Right, depth
		}
	}
	for what, c := range map[string]struct{ below, beyond func(*sim.Setup) }{
		"suppression": {suppressed(0.29), suppressed(0.3)},
		"anomaly": {
			func(s *sim.Setup) { s.Posture.Fixing, s.Posture.Anomaly = sim.Right, 0 },
			func(s *sim.Setup) { s.Posture.Fixing, s.Posture.Anomaly = sim.Right, 0.1 },
		},
		"one eye fixes": {
			func(s *sim.Setup) { s.Posture.Fixing, s.Posture.Deviation = sim.Right, -1 },
			func(s *sim.Setup) { s.Posture.Fixing, s.Posture.Deviation = sim.Right, -1.1 },
		},
		"horizontal": {
			func(s *sim.Setup) { s.Posture.Deviation = 10 },
			func(s *sim.Setup) { s.Posture.Deviation = 10.1 },
		},
		"vertical": {
			func(s *sim.Setup) { s.Posture.Vertical = -1 },
			func(s *sim.Setup) { s.Posture.Vertical = -1.1 },
		},
		"torsion": {
			func(s *sim.Setup) { s.Posture.Cyclo = 3 },
			func(s *sim.Setup) { s.Posture.Cyclo = 3.1 },
		},
	} {
		t.Run(what, func(t *testing.T) {
			cautions(t, c.below, false)
			cautions(t, c.beyond, true)
		})
	}
}

// cautions changes the default scene, and looks for the care line wherever the window
// may have it.
func cautions(t *testing.T, change func(*sim.Setup), due bool) {
	sc, _, err := scenes.Open(scenes.DefaultName)
	require.NoError(t, err)
	p := sitBefore(t, sc, "en", Settings{Read: true}, 1280, 800, 1)
	d := p.desk
	d.edit("", change)
	p.update()
	p.in.Seconds += settle
	p.update()
	line, whole := d.say.Label(words.CautionCare), d.say.Label(words.CautionSuppression)
	assert.Equal(t, due, d.Hint() == whole, "the hint")
	has := assert.NotContains
	if due {
		has = assert.Contains
	}
	has(t, d.sentence, line)
	d.openAbout()
	p.update()
	var read []string
	for _, l := range p.widget("text").(*ui.Scroller).Lines {
		read = append(read, l.Text)
	}
	has(t, read, whole)
	require.Contains(t, read, d.say.Label(words.CautionUrgent))
	p.key(ui.KeyEscape)
}

// Neither a sheet nor a page of a scene that needs care is written before somebody is
// named who prescribed it, by keys or by the pointer.
func TestWhatNeedsCareAsksWhoPrescribed(t *testing.T) {
	for _, what := range []words.Label{words.ButtonSheet, words.ButtonPage} {
		t.Run(string(what), func(t *testing.T) { asksWhoPrescribed(t, what) })
	}
}

func asksWhoPrescribed(t *testing.T, what words.Label) {
	var prescribers []string
	write := func(_ string, _ *scenes.Scene, _ scenes.Identity, _ *words.Words, prescriber string) ([]string, error) {
		if prescriber == "Nobody who can" {
			return nil, errors.New("the disk is full")
		}
		prescribers = append(prescribers, prescriber)
		return []string{"a.html", "a.pdf"}, nil
	}
	sc, id, err := scenes.Open("walk-of-ten")
	require.NoError(t, err)
	sc.Setup.Suppression.Eye = sim.Left
	p, _ := shelved(t, func(o *Options) {
		o.Document = document.New(sc, "").From(id)
		if what == words.ButtonSheet {
			o.Sheet = write
		} else {
			o.Page = write
		}
	})
	ask := func() {
		p.click(middle(p.widget("menu").Self().Area))
		p.click(p.item(p.desk.say.Label(what)))
		require.IsType(t, &carePanel{}, p.desk.over)
	}
	ask()
	p.key(ui.KeyEnter)
	p.write("   ")
	p.key(ui.KeyEnter)
	p.click(middle(p.widget("write handout").Self().Area))
	assert.Empty(t, prescribers, "nobody is named")
	require.NotNil(t, p.desk.over)
	p.key(ui.KeyEscape)
	p.key(ui.KeyEscape)
	require.Nil(t, p.desk.over)
	assert.Empty(t, prescribers)

	ask()
	p.write("Nobody who can")
	p.key(ui.KeyEnter)
	assert.Contains(t, p.desk.News(), "the disk is full")
	ask()
	p.write("Dr Invented")
	p.key(ui.KeyEnter)
	ask()
	p.write("An optometrist")
	p.click(middle(p.widget("write handout").Self().Area))
	assert.Equal(t, []string{"Dr Invented", "An optometrist"}, prescribers)
	assert.Contains(t, p.desk.News(), "a.html, a.pdf")

	p.desk.edit("", func(s *sim.Setup) { s.Suppression.Eye = sim.Neither })
	p.update()
	p.click(middle(p.widget("menu").Self().Area))
	p.click(p.item(p.desk.say.Label(what)))
	require.Len(t, prescribers, 3)
	assert.Equal(t, "", prescribers[2], "nothing is asked where no care is needed")
}
