package desk

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// How the criteria are reckoned is set small and muted, and whatever else clinicians are told
// in the size of what is read; it is told with findings alone, whatever else there is to tell.
func TestOnlyHowItIsReckonedIsSmall(t *testing.T) {
	for _, scene := range []string{"walk-with-findings", "middle-of-three"} {
		p := sit(t, scene)
		p.in.H = 3000
		p.write("3")
		p.rest()
		d, page := p.desk, new(display.List)
		d.Draw(page)
		first := map[string]words.PartKind{} // lines that parts begin with
		for _, part := range d.clinical {
			line := lettering.Wrap(lettering.Style{Size: theme.Body}, part.Text, 100)[0]
			require.NotContains(t, first, line)
			first[line] = part.Kind
		}
		small := map[words.PartKind]bool{}
		for i := range page.Texts {
			for line, kind := range first {
				if x := &page.Texts[i]; strings.HasPrefix(x.String, line) && x.Glyphs[0].At.X > d.layout.column.X {
					small[kind] = x.Size == theme.Small && x.Colour == d.kit.Theme.Muted
				}
			}
		}
		want := map[words.PartKind]bool{words.PartEyes: false, words.PartSeen: false}
		if d.setup.Findings.OK {
			want[words.PartHold], want[words.PartCriteria], want[words.PartReckoned] = false, false, true
		}
		assert.Equal(t, want, small, scene)
	}
}

// What the column counts and the clinician's sentence says is one number, written in one
// way: every prism dioptre in the lines that both have stands in the sentence as it
// stands in the line, and no number ends in a zero behind its point.
func TestColumnAndSentenceAgree(t *testing.T) {
	prisms := regexp.MustCompile(`\d+(?:[.,]\d+)? Δ`)
	zero := regexp.MustCompile(`\d[.,]\d*0(?:\D|$)`)
	check := func(t *testing.T, name string, s *sim.Setup) {
		for _, language := range words.Languages() {
			say, err := words.For(language)
			require.NoError(t, err)
			d := &Desk{say: say, setup: *s}
			d.view.Look(s)
			d.turning[0], d.turning[1] = s.Turning()
			d.count()
			said := say.Clinician(&d.view)
			assert.NotRegexp(t, zero, said, name)
			both := map[string]bool{}
			for _, l := range []words.Label{
				words.FactDeviation, words.FactVertical, words.FactPhoria, words.FactUnfused, words.FactNeed, words.FactLoad,
				words.SheardFar, words.SheardNear, words.PercivalFar, words.PercivalNear, words.OneToOneFar, words.OneToOneNear,
			} {
				both[say.Label(l)] = true
			}
			for _, f := range d.facts {
				assert.NotRegexp(t, zero, f.value, "%s: %s", name, f.label)
				if !both[f.label] {
					continue
				}
				for _, number := range prisms.FindAllString(f.value, -1) {
					if number == "0 Δ" { // said as that there is none
						continue
					}
					assert.Contains(t, said, number, "%s: %s", name, f.label)
				}
			}
		}
	}
	for _, e := range scenes.Library() {
		check(t, e.Name, &e.Scene.Setup)
	}
	for seed := range uint64(100) {
		r := rand.New(rand.NewPCG(seed, 3))
		tenth := func(most float64) sim.Prism { return sim.Prism(float64(int((2*r.Float64()-1)*most*10)) / 10) }
		s := *sceneSetup(t, "steady-findings")
		f := s.Findings.Value
		f.FarPhoria, f.NearPhoria = tenth(15), tenth(15)
		f.State = []sim.State{sim.StateHolding, sim.StateBroken}[r.IntN(2)]
		s.Findings = sim.Some(f)
		s.Right.BaseOut, s.Left.Lens = tenth(20), sim.Dioptres(tenth(3))
		if r.IntN(3) == 0 {
			s.Findings = sim.Maybe[sim.Findings]{}
			s.Posture.Deviation, s.Posture.Vertical = tenth(20), tenth(3)
		}
		if s.Validate() == nil {
			check(t, fmt.Sprint("seed ", seed), &s)
		}
	}
}

func sceneSetup(t *testing.T, name string) *sim.Setup {
	sc, _, err := scenes.Open(name)
	require.NoError(t, err)
	return &sc.Setup
}

// The number at the meeting place is written as the column and the sentence write it.
func TestMeetingPlaceAgrees(t *testing.T) {
	for _, e := range scenes.Library() {
		p := sit(t, e.Name)
		v := &p.desk.view
		if !v.Now.Findings.OK {
			continue
		}
		said := p.desk.say.Error(v, v.Now.Posture.Deviation, words.UnitEso, words.UnitExo)
		assert.Equal(t, said, p.desk.page.deviation.Text(), e.Name)
	}
}

// What is left of the reserves is told as left, what they are passed by as passed; and
// the state and the phoria by the name that they have in it.
func TestHoldingIsTold(t *testing.T) {
	say, err := words.For("en")
	require.NoError(t, err)
	d := &Desk{say: say, setup: *sceneSetup(t, "steady-findings")}
	d.view.Look(&d.setup)
	require.True(t, d.view.Holding.OK)
	for _, tt := range []struct {
		left  sim.Prism
		state sim.State
		want  map[words.Label]string // "": any value
		not   []words.Label
	}{
		{3, sim.StateHolding, map[words.Label]string{words.FactLeft: "3 Δ", words.FactState: say.Label(words.FactHolds), words.FactPhoria: ""},
			[]words.Label{words.FactPassed, words.FactUnfused}},
		{0, sim.StateHolding, map[words.Label]string{words.FactLeft: "0 Δ"}, []words.Label{words.FactPassed}},
		{-3, sim.StateBroken, map[words.Label]string{words.FactPassed: "3 Δ", words.FactState: say.Label(words.FactBroken), words.FactUnfused: ""},
			[]words.Label{words.FactLeft, words.FactPhoria}},
	} {
		h := d.view.Holding.Value
		h.Left, h.State = tt.left, tt.state
		told := &tally{say: say}
		d.countHolding(told, &h)
		value := map[string]string{}
		for _, f := range told.all {
			value[f.label] = f.value
		}
		for l, want := range tt.want {
			assert.Contains(t, value, say.Label(l))
			if want != "" {
				assert.Equal(t, want, value[say.Label(l)], l)
			}
		}
		for _, l := range tt.not {
			assert.NotContains(t, value, say.Label(l), "%v", tt.left)
		}
	}
}

// How far the axes pass each other is told where they do, and not where they meet.
func TestTheGapIsTold(t *testing.T) {
	say, err := words.For("en")
	require.NoError(t, err)
	for vertical, want := range map[sim.Prism]bool{0: false, 3: true} {
		d := &Desk{say: say, setup: *sceneSetup(t, "middle-of-three")}
		d.setup.Posture.Vertical = vertical
		d.view.Look(&d.setup)
		told := &tally{say: say}
		d.countEyes(told)
		assert.Equal(t, want, slices.ContainsFunc(told.all, func(f fact) bool { return f.label == say.Label(words.FactGap) }), "%v Δ", vertical)
	}
}
