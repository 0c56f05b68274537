package words

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
)

// catalogue reads a language's messages, by id.
func catalogue(t *testing.T, lang string) map[string]*message {
	t.Helper()
	text, err := catalogues.ReadFile("active." + lang + ".toml")
	require.NoError(t, err)
	read, err := read("active."+lang+".toml", text)
	require.NoError(t, err)
	all := map[string]*message{}
	for id, m := range read {
		all[id] = &m
	}
	return all
}

func english(t *testing.T) *Words {
	t.Helper()
	w, err := For("en")
	require.NoError(t, err)
	return w
}

func TestLanguages(t *testing.T) {
	w := english(t)
	assert.Equal(t, "en", w.Language())
	for _, bad := range []string{"", "xx", "EN", "en-GB", "../en"} {
		_, err := For(bad)
		require.Error(t, err, bad)
		assert.Contains(t, err.Error(), "allowed: en, es")
	}
}

// Every language has the same sentences with the same braces, in each of their
// forms for one and for several, so that none falls back or loses a number.
func TestCataloguesAgree(t *testing.T) {
	braces := regexp.MustCompile(`{{[^}]*}}`)
	in := func(text string) []string {
		found := braces.FindAllString(text, -1)
		slices.Sort(found)
		return found
	}
	en := catalogue(t, "en")
	require.Equal(t, []string{"en", "es"}, Languages())
	for _, lang := range Languages() {
		these := catalogue(t, lang)
		for id := range en {
			assert.NotNil(t, these[id], "%s: %s is missing", lang, id)
		}
		for id, m := range these {
			if !assert.NotNil(t, en[id], "%s: %s is not in English", lang, id) {
				continue
			}
			assert.Equal(t, in(en[id].other), in(m.other), "%s: %s", lang, id)
			assert.Equal(t, en[id].one == "", m.one == "", "%s: %s: one", lang, id)
			if m.one != "" {
				assert.Equal(t, in(en[id].one), in(m.one), "%s: %s: one", lang, id)
			}
			assert.NotEmpty(t, m.other, "%s: %s", lang, id)
			assert.Equal(t, m.other, strings.TrimSpace(m.other), "%s: %s", lang, id)
		}
	}
}

// Nothing is left in English: a text may be the same in both languages only where
// it has no words of its own, or the two languages share them.
func TestSpanishIsSpanish(t *testing.T) {
	shared := regexp.MustCompile(`^(unit-.*|language-name)$`)
	word := regexp.MustCompile(`\pL{3,}`)
	en := catalogue(t, "en")
	for id, m := range catalogue(t, "es") {
		if text := regexp.MustCompile(`{{[^}]*}}`).ReplaceAllString(m.other, ""); word.MatchString(text) && !shared.MatchString(id) {
			assert.NotEqual(t, en[id].other, m.other, id)
		}
	}
}

// Right and left are never mixed up in a translation.
func TestSidesAgree(t *testing.T) {
	eyes := [2][2]*regexp.Regexp{
		{regexp.MustCompile(`(?i)\bright (eye|image)`), regexp.MustCompile(`(?i)\b(ojo|imagen) derech[oa]`)},
		{regexp.MustCompile(`(?i)\bleft (eye|image)`), regexp.MustCompile(`(?i)\b(ojo|imagen) izquierd[oa]`)},
	}
	en := catalogue(t, "en")
	for id, m := range catalogue(t, "es") {
		for i, name := range []string{"right", "left"} {
			assert.Equal(t, eyes[i][0].MatchString(en[id].other), eyes[i][1].MatchString(m.other), "%s: %s eye", id, name)
		}
	}
}

// What the sentences are made from: every code of the account, and those parts
// of the set-up that the reasons look at.
type moment struct {
	v    sim.View
	s    sim.Setup
	jump sim.Jump
}

// seen is the view, of the set-up.
func (m *moment) seen() *sim.View {
	m.v.Now = m.s
	if m.v.Account.Fixes == "" {
		m.v.Account.Fixes = m.s.Posture.Fixing
	}
	return &m.v
}

// begin makes m the moment o, in all that a cause changes; to copy what a view works
// with, 60 kB, would be most of the work.
func (m *moment) begin(o *moment) {
	m.s, m.jump = o.s, o.jump
	m.v.Target, m.v.Axes, m.v.Strings, m.v.Beads = o.v.Target, o.v.Axes, o.v.Strings, o.v.Beads
	m.v.Account, m.v.Holding = o.v.Account, o.v.Holding
}

var (
	counts = []int{0, 1, 2}
	meets  = []sim.Meet{sim.MeetNowhere, sim.MeetUnseen, sim.MeetPasses, sim.MeetAside, sim.MeetAt, sim.MeetNearer, sim.MeetBeyond}
	aims   = []sim.Aim{sim.AimOnTarget, sim.AimEso, sim.AimExo, sim.AimApart}
)

// sights are the ways the place looked at can be seen.
func sights() (all []moment) {
	for _, as := range []sim.Seen{"", sim.SeenOne, sim.SeenTwo, sim.SeenRight, sim.SeenLeft, sim.SeenNone} {
		m := seen(as, 0, 0, sim.MeetNowhere, sim.AimOnTarget)
		a := &m.v.Account
		switch as {
		case "":
			a.LookedAt, m.v.Beads = "", nil
			all = append(all, m)
			a.Fuses = true
			all = append(all, m)
		case sim.SeenOne:
			a.Fuses = true
			all = append(all, m)
			m.s.Beads, m.s.Look.Bead = []sim.Bead{{Name: "blue", Colour: sim.RGB{R: 200, G: 150, B: 50}}}, 0
			m.s.Right.Filter, m.s.Left.Filter = sim.FilterRed, sim.FilterGreen
			all = append(all, m)
		case sim.SeenTwo:
			for _, higher := range []sim.Side{sim.Neither, sim.Right, sim.Left} {
				for _, overlap := range []float64{0, 0.75, 0.76} {
					a.Higher = higher
					m.v.Beads = []sim.BeadView{{Name: "blue", Black: sim.Neither, Overlap: sim.Some(overlap)}}
					all = append(all, m)
				}
			}
		default:
			all = append(all, m)
		}
	}
	return all
}

// causes are the set-ups' parts in a sentence, as changes to a moment.
func causes() (all []func(*moment)) {
	add := func(f func(*moment)) { all = append(all, f) }
	add(func(*moment) {})
	for _, eye := range []sim.Side{sim.Right, sim.Left} {
		add(func(m *moment) {
			m.s.Cover, m.v.Account.Missing, m.v.Account.MissingWhere = eye, eye, sim.WhereAll
		})
		for _, z := range []struct {
			zone  sim.Zone
			where sim.Where
		}{
			{sim.ZoneAll, sim.WhereAll}, {sim.ZoneCentral, sim.WhereCentre}, {sim.ZoneNasal, sim.WhereNasal},
			{sim.ZoneTemporal, sim.WhereTemporal}, {sim.ZoneNearer, sim.WhereNearer}, {sim.ZoneBeyond, sim.WhereBeyond},
		} {
			for _, centre := range []sim.Centre{sim.CentreFovea, sim.CentreTarget, sim.CentreBoth} {
				if centre != sim.CentreFovea && z.zone != sim.ZoneCentral {
					continue
				}
				suppress := func(m *moment) {
					m.s.Suppression = sim.Suppression{Eye: eye, Zone: z.zone, Centre: centre, Radius: 5, Depth: 1}
					m.v.Account.NeedsCare = true
				}
				add(func(m *moment) {
					suppress(m)
					m.v.Account.Missing, m.v.Account.MissingWhere = eye, z.where
					if centre == sim.CentreTarget { // of an eye that points elsewhere
						m.v.Account.Apart = sim.Some(sim.Degrees(5).Angle())
					}
					if z.where == sim.WhereCentre && (m.v.Account.Fixated == sim.SeenRight || m.v.Account.Fixated == sim.SeenLeft || m.v.Account.LookedAt == "") {
						m.v.Account.Gap = eye
					}
				})
				add(func(m *moment) {
					suppress(m)
					m.s.Suppression.Depth, m.v.Account.Fainter = 0.5, eye
				})
			}
		}
		other := map[sim.Side]sim.Side{sim.Right: sim.Left, sim.Left: sim.Right}[eye]
		for _, p := range []sim.Posture{{}, {Deviation: 20}, {Deviation: -20}, {Vertical: 4}, {Vertical: -4}} {
			add(func(m *moment) { // the cover test
				m.s.Posture.Deviation, m.s.Posture.Vertical, m.s.Posture.Fixing = p.Deviation, p.Vertical, eye
				m.s.Cover, m.v.Account.Missing, m.v.Account.MissingWhere = eye, eye, sim.WhereAll
				m.v.Account.Fixes, m.v.Account.TookUp = other, true
			})
		}
		add(func(m *moment) { // the preferred eye is left out
			m.s.Suppression.Eye, m.v.Account.Missing, m.v.Account.MissingWhere = eye, eye, sim.WhereAll
			m.v.Account.Fixes, m.v.Account.TookUp = other, true
		})
	}
	for _, clarity := range []sim.Clarity{sim.ClarityClear, sim.ClaritySoft, sim.ClarityBlurred} {
		for _, asked := range []sim.Dioptres{0, 2, 30} {
			for _, focus := range []sim.Maybe[sim.Dioptres]{{}, sim.Some(sim.Dioptres(1)), sim.Some(sim.Dioptres(40))} {
				add(func(m *moment) {
					m.v.Account.Clarity, m.v.Target.Accommodation, m.s.Posture.Accommodation = clarity, asked, focus
				})
			}
		}
		if clarity != sim.ClarityBlurred {
			add(func(m *moment) { m.v.Account.Clarity, m.v.Account.Uneven = clarity, true })
		}
	}
	add(func(m *moment) {
		m.v.Account.Clarity, m.v.Target.Accommodation, m.s.Patient.Lag = sim.ClarityBlurred, 2, -1
	})
	for _, o := range [][2]bool{{true, true}, {true, false}, {false, true}} {
		add(func(m *moment) { m.v.Strings.NearOverlaid, m.v.Strings.FarOverlaid = o[0], o[1] })
	}
	for n := range 4 { // beads beside the one looked at
		for double := range n + 1 {
			add(func(m *moment) {
				for i := range n {
					b := sim.BeadView{Name: fmt.Sprint("other ", i), Black: sim.Neither, Seen: sim.SeenOne}
					if i < double {
						b.Seen = sim.SeenTwo
					}
					m.v.Beads = append(m.v.Beads, b)
				}
			})
		}
	}
	for n := range 2 {
		add(func(m *moment) { // beads of which none is clearly double
			for i := range n + 1 {
				m.v.Beads = append(m.v.Beads, sim.BeadView{Name: fmt.Sprint("other ", i), Black: sim.Neither, Seen: sim.SeenTwo, Overlap: sim.Some(0.76)})
			}
		})
	}
	for _, itself := range []bool{true, false} {
		for _, beyond := range []float64{-100, 100} { // the crossing
			add(func(m *moment) {
				if a := &m.v.Account; a.Meet.OnString() {
					a.HiddenBy = "plum"
					if itself {
						a.HiddenBy = a.LookedAt // none on a bare string
					}
					m.v.Beads = append(m.v.Beads, sim.BeadView{
						Name: a.HiddenBy, At: m.v.Crossing.At.Value + beyond, Seen: a.Fixated, Black: sim.Neither, Overlap: sim.Some(0.),
					})
				}
			})
		}
	}
	add(func(m *moment) {
		m.v.Target.At, m.v.Strings.FusedFrom, m.v.Strings.FusedTo = 2700, sim.Some(2000.), sim.Some(3000.)
	})
	for _, met := range []float64{0, 0.5, 1} {
		add(func(m *moment) { m.s.Right.BaseOut, m.s.Posture.PrismMet = -5, met })
		add(func(m *moment) { m.s.Left.BaseUp, m.s.Posture.PrismMet = 2, met })
	}
	for _, fixing := range []sim.Side{sim.Right, sim.Left} {
		add(func(m *moment) { m.s.Posture.Fixing, m.s.Posture.Anomaly = fixing, 20 })
		add(func(m *moment) { m.s.Posture.Fixing, m.s.Posture.Deviation = fixing, 20 })
		add(func(m *moment) { m.s.Posture.Fixing, m.s.Posture.Deviation = fixing, -20 })
	}
	for _, sign := range []float64{-1, 1} {
		add(func(m *moment) { m.s.Posture.Vertical = sim.Prism(4 * sign) })
		for _, fixing := range []sim.Side{sim.Both, sim.Right, sim.Left} {
			add(func(m *moment) {
				m.s.Posture.Cyclo, m.s.Posture.Fixing, m.v.Account.Fixes = sim.Degrees(5*sign), fixing, fixing
			})
		}
		add(func(m *moment) { m.s.Posture.Deviation = sim.Prism(5 * sign) })
		add(func(m *moment) { m.v.Axes.Vergence = sim.Angle(sign) })
	}
	add(func(m *moment) { m.v.Account.Asked = "orange" })
	for _, jump := range []sim.Jump{sim.JumpWaiting, sim.JumpMoving} {
		add(func(m *moment) {
			m.jump = jump
			m.s.Beads, m.s.Look.From = []sim.Bead{{Name: "plum"}}, sim.Some(0)
		})
	}
	add(func(m *moment) { m.s.Hold.SD = 4 })
	for _, far := range []float64{1000, 1e5} {
		add(func(m *moment) {
			m.s.String.Length = 1200
			m.v.Axes.Point = sim.Some(r3.Vec{Y: far})
		})
	}
	for _, h := range holdings() {
		add(func(m *moment) {
			h.hold(m)
			if h.Why == sim.WhyCovered {
				m.s.Cover, m.v.Account.Missing, m.v.Account.MissingWhere = sim.Left, sim.Left, sim.WhereAll
			}
			if h.Why == sim.WhySuppressed {
				m.s.Suppression.Eye, m.v.Account.Missing, m.v.Account.MissingWhere = sim.Right, sim.Right, sim.WhereAll
			}
		})
	}
	return all
}

// held is what findings make of a place, with the base-out break at the near test.
type held struct {
	sim.Holding
	near  sim.Prism
	prism sim.Prism // before the right eye
}

func (h held) hold(m *moment) {
	f := sim.DefaultFindings()
	f.Near.BaseOutBreak, f.NearPhoria = h.near, h.Phoria
	f.FarPhoria = h.Vertical // eso at one of the distances, at both, at neither
	if h.State == sim.StateBroken {
		f.FarPhoria = max(h.Vertical, -h.Vertical)
	}
	m.s.Right.BaseOut = h.prism
	m.s.Findings, m.v.Holding = sim.Some(f), sim.Some(h.Holding)
}

// holdings are the ways of holding and of letting go (M14), one by one.
func holdings() (all []held) {
	add := func(state sim.State, why sim.Why, extrapolated bool, load, out, in, near sim.Prism) {
		h := sim.Holding{
			State: state, Why: why, Extrapolated: extrapolated, Load: load, Judged: load, Vertical: load / 10, ACAStandsIn: extrapolated,
			Phoria: -load, Need: load,
			BaseOutBreak: out, BaseOutRecovery: out / 2, BaseInBreak: in, BaseInRecovery: in / 2,
			Left: min(out-load, in+load),
		}
		all = append(all, held{h, near, 0})
		if math.Abs(float64(load)) > 20 {
			all = append(all, held{h, near, load})
		}
	}
	add(sim.StateHolding, sim.WhyWithin, false, 0, 20, 10, 20)
	add(sim.StateHolding, sim.WhyWithin, false, -2, 10, 20, 20)
	add(sim.StateHolding, sim.WhyWithin, true, 2, 10, 20, 20)
	add(sim.StateBroken, sim.WhyConverge, true, 0, -3, 20, 20)   // too near
	add(sim.StateBroken, sim.WhyConverge, true, 0, -3, 20, -3)   // not by nearness
	add(sim.StateBroken, sim.WhyConverge, false, 0, -3, 20, -3)  // an outward turn
	add(sim.StateBroken, sim.WhyConverge, false, 25, 20, 20, 20) // by prisms
	add(sim.StateBroken, sim.WhyConverge, false, 15, 20, 20, 20) // not back
	add(sim.StateBroken, sim.WhyDiverge, false, 0, 20, -3, 20)   // an inward turn
	add(sim.StateBroken, sim.WhyDiverge, false, -25, 20, 20, 20) // by prisms
	add(sim.StateBroken, sim.WhyDiverge, false, -15, 20, 20, 20) // not back
	add(sim.StateBroken, sim.WhyVertical, false, 40, 20, 20, 20)
	add(sim.StateBroken, sim.WhyVertical, false, -40, 20, 20, 20)
	add(sim.StateBroken, sim.WhyCovered, false, 0, 20, 20, 20)
	add(sim.StateBroken, sim.WhySuppressed, false, 0, 20, 20, 20)
	return all
}

// every calls f for one in so many of the combinations of codes: with a prime step every
// code meets every other.
func every(step int, f func(m *moment)) {
	all, n := causes(), 0
	m := moment{v: *lookedAt(0, func(s *sim.Setup) { // with strings that do lie one above the other
		s.String.NearEnd.Z, s.Posture.Vertical = 0, 2
	})}
	for _, sight := range sights() {
		for _, cause := range all {
			for _, near := range counts {
				for _, far := range counts {
					for _, meet := range meets {
						for _, aim := range aims {
							if n++; n%step != 0 {
								continue
							}
							m.begin(&sight)
							a := &m.v.Account
							a.Near, a.Far, a.Meet, a.Eyes, a.Asked = near, far, meet, aim, a.LookedAt
							cause(&m)
							f(&m)
						}
					}
				}
			}
		}
	}
}

// truths are what a sentence may say only when the codes bear it out.
var truths = []struct {
	says  *regexp.Regexp
	holds func(a *sim.Account, m *moment) bool
}{
	{regexp.MustCompile(`it is one`), func(a *sim.Account, _ *moment) bool { return a.Fixated == sim.SeenOne }},
	{regexp.MustCompile(`you see two|it looks like one with a doubled edge`), func(a *sim.Account, _ *moment) bool { return a.Fixated == sim.SeenTwo }},
	{regexp.MustCompile(`one higher than the other`), func(a *sim.Account, _ *moment) bool { return a.Higher != sim.Neither }},
	{regexp.MustCompile(`bare string|that place|right there|beads? on the string`), func(a *sim.Account, _ *moment) bool { return a.LookedAt == "" }},
	{regexp.MustCompile(`cross (inside|close|in front|behind|right|there)|meet (inside|close|right|there)`), func(a *sim.Account, _ *moment) bool {
		return a.Meet.OnString()
	}},
	{regexp.MustCompile(`hides? one of (them|the strings)`), func(_ *sim.Account, m *moment) bool {
		return slices.ContainsFunc(m.v.Beads, func(b sim.BeadView) bool { return b.Name == m.v.Account.HiddenBy && b.At > m.v.Crossing.At.Value })
	}},
	{regexp.MustCompile(`hidden behind {{`), func(a *sim.Account, _ *moment) bool { return a.HiddenBy != "" && a.HiddenBy != a.LookedAt }},
	{regexp.MustCompile(`hidden behind the bead`), func(a *sim.Account, _ *moment) bool { return a.HiddenBy != "" && a.HiddenBy == a.LookedAt }},
	{regexp.MustCompile(`cross in front`), func(a *sim.Account, _ *moment) bool { return a.Meet == sim.MeetNearer }},
	{regexp.MustCompile(`cross behind|and cross there`), func(a *sim.Account, _ *moment) bool {
		return a.Meet == sim.MeetBeyond || a.Meet == sim.MeetAt && a.LookedAt == ""
	}},
	{regexp.MustCompile(`do not cross[.;]`), func(a *sim.Account, _ *moment) bool {
		return a.Meet == sim.MeetNowhere || a.Meet == sim.MeetPasses
	}},
	{regexp.MustCompile(`one above the other`), func(a *sim.Account, _ *moment) bool { return a.Meet == sim.MeetPasses }},
	{regexp.MustCompile(`off to one side`), func(a *sim.Account, _ *moment) bool { return a.Meet == sim.MeetAside }},
	{regexp.MustCompile(`where they meet is not seen`), func(a *sim.Account, _ *moment) bool { return a.Meet == sim.MeetUnseen }},
	{regexp.MustCompile(`Two strings|two are seen|two (go|begin|behind)|The strings`), func(a *sim.Account, _ *moment) bool { return a.Near == 2 || a.Far == 2 }},
	{regexp.MustCompile(`Two strings (cross|run|meet|join|are seen in front)`), func(a *sim.Account, _ *moment) bool { return a.Near == 2 }},
	{regexp.MustCompile(`Two strings (go|are seen behind|run through|begin)|two (go|are seen|begin|behind)`), func(a *sim.Account, _ *moment) bool { return a.Far == 2 }},
	{regexp.MustCompile(`[Oo]ne (string|goes|is seen|behind)`), func(a *sim.Account, m *moment) bool {
		return a.Near == 1 || a.Far == 1 || a.Gap != sim.Neither
	}},
	{regexp.MustCompile(`one (goes on )?behind`), func(a *sim.Account, _ *moment) bool { return a.Far == 1 }},
	{regexp.MustCompile(`No second string`), func(a *sim.Account, _ *moment) bool { return a.Near == 0 && a.Far == 0 }},
	{regexp.MustCompile(`gap there`), func(a *sim.Account, _ *moment) bool { return a.Apart.Value < sim.Degrees(1).Angle() }},
	{regexp.MustCompile(`has a gap`), func(a *sim.Account, _ *moment) bool { return a.Gap != sim.Neither }},
	{regexp.MustCompile(`join into one before it`), func(a *sim.Account, m *moment) bool {
		return a.Fixated == sim.SeenOne && m.v.Target.At-m.v.Strings.FusedFrom.Value > 100
	}},
	{regexp.MustCompile(`part again behind`), func(a *sim.Account, _ *moment) bool { return a.Far == 2 }},
	{regexp.MustCompile(`lie along one line`), func(_ *sim.Account, m *moment) bool {
		return m.v.Strings.NearOverlaid || m.v.Strings.FarOverlaid
	}},
	{regexp.MustCompile(`In front of (it|them) the two strings lie`), func(_ *sim.Account, m *moment) bool { return !m.v.Strings.FarOverlaid }},
	{regexp.MustCompile(`Behind (it|them) the two strings lie`), func(_ *sim.Account, m *moment) bool { return !m.v.Strings.NearOverlaid }},
	{regexp.MustCompile(`^The (other )?beads? (on the string )?(are|is) double`), func(a *sim.Account, m *moment) bool {
		for _, b := range m.v.Beads {
			if b.Name != a.LookedAt && b.Seen != sim.SeenTwo {
				return false
			}
		}
		return true
	}},
	{regexp.MustCompile(`^The (other )?bead .*is not double|None of .* is double`), func(a *sim.Account, m *moment) bool {
		for _, b := range m.v.Beads {
			if b.Name != a.LookedAt && b.Seen == sim.SeenTwo {
				return false
			}
		}
		return true
	}},
	{regexp.MustCompile(`^Of the .* is not double`), func(a *sim.Account, m *moment) bool {
		double, n := 0, 0
		for _, b := range m.v.Beads {
			if b.Name != a.LookedAt {
				n++
				if b.Seen == sim.SeenTwo {
					double++
				}
			}
		}
		return double == n-1
	}},
	{regexp.MustCompile(`as (it|they) should`), func(a *sim.Account, _ *moment) bool { return a.Fixated != sim.SeenTwo }},
	{regexp.MustCompile(`a little soft\.`), func(a *sim.Account, _ *moment) bool { return a.Clarity == sim.ClaritySoft && !a.Uneven }},
	{regexp.MustCompile(`looks? blurred`), func(a *sim.Account, _ *moment) bool { return a.Clarity == sim.ClarityBlurred }},
	{regexp.MustCompile(`One eye's picture is`), func(a *sim.Account, _ *moment) bool { return a.Uneven }},
	{regexp.MustCompile(`nearer than these eyes can focus`), func(_ *sim.Account, m *moment) bool {
		_, mean, _ := sim.Amplitude(m.s.Patient.Age)
		return m.v.Target.Accommodation > mean
	}},
	{regexp.MustCompile(`farther away than these eyes`), func(_ *sim.Account, m *moment) bool { return m.v.Target.Accommodation <= 0 }},
	{regexp.MustCompile(`only the right eye sees`), func(a *sim.Account, _ *moment) bool { return a.Fixated == sim.SeenRight }},
	{regexp.MustCompile(`only the left eye sees`), func(a *sim.Account, _ *moment) bool { return a.Fixated == sim.SeenLeft }},
	{regexp.MustCompile(`neither eye sees`), func(a *sim.Account, _ *moment) bool { return a.Fixated == sim.SeenNone }},
	{regexp.MustCompile(`right eye (is )?covered`), func(_ *sim.Account, m *moment) bool { return m.s.Cover == sim.Right }},
	{regexp.MustCompile(`left eye (is )?covered`), func(_ *sim.Account, m *moment) bool { return m.s.Cover == sim.Left }},
	// An uncovered eye that moves outward was turned inward: eso.
	{regexp.MustCompile(`swings out to`), func(a *sim.Account, m *moment) bool { return a.TookUp && m.s.Posture.Deviation > 0 }},
	{regexp.MustCompile(`swings in to`), func(a *sim.Account, m *moment) bool { return a.TookUp && m.s.Posture.Deviation < 0 }},
	{regexp.MustCompile(`the right eye swings (up|down)`), func(a *sim.Account, m *moment) bool { return a.Fixes == sim.Right && m.s.Posture.Vertical != 0 }},
	{regexp.MustCompile(`the left eye swings up`), func(a *sim.Account, m *moment) bool { return a.Fixes == sim.Left && m.s.Posture.Vertical > 0 }},
	{regexp.MustCompile(`the right eye swings up`), func(a *sim.Account, m *moment) bool { return a.Fixes == sim.Right && m.s.Posture.Vertical < 0 }},
	{regexp.MustCompile(`right eye's picture is (being|fainter)`), func(_ *sim.Account, m *moment) bool { return m.s.Suppression.Eye == sim.Right }},
	{regexp.MustCompile(`left eye's picture is (being|fainter)`), func(_ *sim.Account, m *moment) bool { return m.s.Suppression.Eye == sim.Left }},
	{regexp.MustCompile(`being left out`), func(a *sim.Account, m *moment) bool { return a.Missing != sim.Neither && m.s.Cover == sim.Neither }},
	{regexp.MustCompile(`fainter`), func(a *sim.Account, m *moment) bool { return a.Fainter == m.s.Suppression.Eye }},
	{regexp.MustCompile(`^Both eyes are aimed at`), func(a *sim.Account, m *moment) bool {
		return a.Eyes == sim.AimOnTarget && a.Meet != sim.MeetNearer && a.Meet != sim.MeetBeyond &&
			a.Fixated != sim.SeenTwo && m.s.Posture.Vertical == 0 && a.Missing == sim.Neither && a.Asked == a.LookedAt
	}},
	{regexp.MustCompile(`eyes meet in front`), func(a *sim.Account, _ *moment) bool { return a.Meet != sim.MeetBeyond && a.Eyes != sim.AimExo }},
	{regexp.MustCompile(`eyes meet (behind|farther)`), func(a *sim.Account, _ *moment) bool { return a.Meet != sim.MeetNearer && a.Eyes != sim.AimEso }},
	{regexp.MustCompile(`to meet\.`), func(a *sim.Account, _ *moment) bool { return a.Eyes == sim.AimApart }},
	{regexp.MustCompile(`A prism moves`), func(_ *sim.Account, m *moment) bool { return unanswered(&m.s) }},
	{regexp.MustCompile(`hrough the prisms`), func(_ *sim.Account, m *moment) bool { return throughPrisms(&m.s) && !unanswered(&m.s) }},
	{regexp.MustCompile(`aimed in front of where`), func(a *sim.Account, _ *moment) bool { return a.Meet != sim.MeetBeyond && a.Eyes != sim.AimExo }},
	{regexp.MustCompile(`aimed behind where`), func(a *sim.Account, _ *moment) bool { return a.Meet != sim.MeetNearer && a.Eyes != sim.AimEso }},
	{regexp.MustCompile(`string reaches`), func(a *sim.Account, m *moment) bool {
		return a.Meet == sim.MeetNowhere && r3.Norm(m.v.Axes.Point.Value) > m.s.String.Length
	}},
	{regexp.MustCompile(`eyes meet`), func(_ *sim.Account, m *moment) bool { return !throughPrisms(&m.s) }},
	{regexp.MustCompile(`the brain shifts`), func(_ *sim.Account, m *moment) bool { return m.s.Posture.Anomaly != 0 }},
	{regexp.MustCompile(`does not show straight eyes|yet the strings cross`), func(a *sim.Account, _ *moment) bool { return a.Meet == sim.MeetAt }},
	{regexp.MustCompile(`strings do not cross (in|at)`), func(a *sim.Account, _ *moment) bool {
		return a.Meet == sim.MeetNearer || a.Meet == sim.MeetBeyond
	}},
	{regexp.MustCompile(`one eye points elsewhere`), func(a *sim.Account, _ *moment) bool { return a.Eyes != sim.AimOnTarget }},
	{regexp.MustCompile(`not yet set off`), func(_ *sim.Account, m *moment) bool { return m.jump == sim.JumpWaiting }},
	{regexp.MustCompile(`on their way`), func(_ *sim.Account, m *moment) bool { return m.jump == sim.JumpMoving }},
	{regexp.MustCompile(`waver`), func(_ *sim.Account, m *moment) bool { return m.s.Hold.SD > 0 }},
	{regexp.MustCompile(`slides nearer and farther`), func(a *sim.Account, _ *moment) bool { return a.Meet.OnString() }},
	{regexp.MustCompile(`both eyes keep`), func(a *sim.Account, m *moment) bool {
		return m.v.Holding.Value.State == sim.StateHolding && a.Fixated != sim.SeenTwo
	}},
	{regexp.MustCompile(`aimed a little in front`), func(a *sim.Account, _ *moment) bool { return a.Meet != sim.MeetBeyond }},
	{regexp.MustCompile(`aimed a little behind`), func(a *sim.Account, _ *moment) bool { return a.Meet == sim.MeetBeyond && a.Eyes != sim.AimEso }},
	{regexp.MustCompile(`do not turn|too near for|than they can|came off|too high|nothing keeps|than usual`), func(_ *sim.Account, m *moment) bool {
		return m.v.Holding.Value.State == sim.StateBroken
	}},
	{regexp.MustCompile(`too near for`), func(_ *sim.Account, m *moment) bool {
		h := &m.v.Holding.Value
		return h.Extrapolated && h.Why == sim.WhyConverge && h.BaseOutBreak < 0
	}},
	{regexp.MustCompile(`turn in (far|to it)|focus less`), func(_ *sim.Account, m *moment) bool { return m.v.Holding.Value.Why == sim.WhyConverge }},
	{regexp.MustCompile(`turn outward|focus harder`), func(_ *sim.Account, m *moment) bool { return m.v.Holding.Value.Why == sim.WhyDiverge }},
	{regexp.MustCompile(`prisms or lenses|than usual`), func(_ *sim.Account, m *moment) bool {
		h := &m.v.Holding.Value
		return h.Judged > max(h.BaseOutBreak, 0) || h.Judged < min(-h.BaseInBreak, 0)
	}},
	{regexp.MustCompile(`not back on it together yet`), func(_ *sim.Account, m *moment) bool {
		h := &m.v.Holding.Value
		return h.Judged <= h.BaseOutBreak && h.Judged >= -h.BaseInBreak
	}},
	{regexp.MustCompile(`too high`), func(_ *sim.Account, m *moment) bool { return m.v.Holding.Value.Why == sim.WhyVertical }},
	{regexp.MustCompile(`nothing keeps`), func(a *sim.Account, _ *moment) bool { return a.Fuses }},
	{regexp.MustCompile(`no two pictures to join`), func(a *sim.Account, m *moment) bool {
		return m.v.Holding.OK && (a.MissingWhere == sim.WhereAll || m.v.Holding.Value.Why == sim.WhySuppressed)
	}},
	{regexp.MustCompile(`shimmers`), func(a *sim.Account, m *moment) bool {
		return a.Fixated == sim.SeenOne && m.s.Right.Filter != m.s.Left.Filter
	}},
	{regexp.MustCompile(`aimed higher`), func(_ *sim.Account, m *moment) bool {
		return m.s.Posture.Cyclo == 0 || math.Abs(float64(m.s.Posture.Vertical)) > sim.OnTarget
	}},
	{regexp.MustCompile(`tilted`), func(_ *sim.Account, m *moment) bool { return m.s.Posture.Cyclo != 0 }},
	{regexp.MustCompile(`asked to`), func(a *sim.Account, _ *moment) bool { return a.Asked != a.LookedAt }},
}

// Every combination of codes has its caption, and none says what the codes deny, or
// leaves out what matters.
func TestFamilySaysWhatIsSo(t *testing.T) {
	text := catalogue(t, "en")
	used := map[string]map[int]bool{} // by sentence: the truths it claims
	claims := func(said string) map[int]bool {
		if c, ok := used[said]; ok {
			return c
		}
		c := map[int]bool{}
		for i, truth := range truths {
			if truth.says.MatchString(said) {
				c[i] = true
			}
		}
		used[said] = c
		return c
	}
	heard := map[int]int{}
	every(share, func(m *moment) {
		a := &m.v.Account
		said := caption(m.seen(), m.jump)
		if len(said) > room+1 {
			t.Fatalf("%+v: %d sentences", *a, len(said))
		}
		for _, s := range said {
			message := text[s.id]
			if message == nil {
				t.Fatalf("%q: not in the catalogue", s.id)
			}
			words := message.other
			if s.beads == 1 && message.one != "" {
				words = message.one
			}
			for n := range claims(words) {
				heard[n]++
				if !truths[n].holds(a, m) {
					t.Fatalf("%q is said of %+v, %+v, suppressed %+v, covered %v", words, *a, m.s.Posture, m.s.Suppression, m.s.Cover)
				}
			}
		}
	})
	for i, truth := range truths {
		assert.Positive(t, heard[i], "no sentence says %s", truth.says)
	}
}

// The caption as it is read is whole in every language: no id stands for a sentence
// that is not found, and no brace is left open.
func TestFamilyIsWhole(t *testing.T) {
	var all []*Words
	for _, lang := range Languages() {
		w, err := For(lang)
		require.NoError(t, err)
		all = append(all, w)
	}
	whole := regexp.MustCompile(`^(\p{Lu}[^.<{]*\. )+\p{Lu}[^.<{]*\.$`)
	every(23, func(m *moment) {
		for _, w := range all {
			if said := w.Family(m.seen()); !whole.MatchString(said) {
				t.Fatalf("%q is said of %+v", said, m.v.Account)
			}
		}
	})
}

// What a family has to be told is told.
func TestFamilyLeavesNothingOut(t *testing.T) {
	every(share, func(m *moment) {
		a := &m.v.Account
		said := caption(m.seen(), m.jump)
		told := func(what bool, id string) {
			if what && !slices.ContainsFunc(said, func(s sentence) bool { return strings.Contains(s.id, id) }) {
				t.Fatalf("%s is missing from %+v for %+v", id, said, *a)
			}
		}
		told(a.Asked != a.LookedAt, "why-asked")
		told(m.s.Cover == sim.Right && !a.TookUp, "why-covered-right")
		told(m.s.Cover == sim.Right && a.TookUp && math.Abs(float64(m.s.Posture.Deviation)) > 1, "why-took-left")
		told(a.Missing == sim.Left && m.s.Cover == sim.Neither, "-left")
		told(a.Fainter == sim.Right, "why-fainter")
		told(a.Clarity == sim.ClaritySoft || a.Clarity == sim.ClarityBlurred || a.Uneven, "clarity-")
		told(m.v.Strings.NearOverlaid || m.v.Strings.FarOverlaid, "overlaid-")
		told(a.Near+a.Far > 0 && a.Gap == sim.Neither, fmt.Sprintf("-%d%d", a.Near, a.Far))
		told(a.Gap != sim.Neither, "gap")
		told(a.HiddenBy != "" && a.Gap == sim.Neither && (a.Near == 2 || a.Far == 2), "hidden")
		going := m.jump != sim.JumpNone
		plain := a.Missing == sim.Neither && !going && !unanswered(&m.s) && !m.v.Holding.OK
		told(plain && m.s.Posture.Anomaly == 0 && a.Eyes == sim.AimApart && !throughPrisms(&m.s), "aim-")
		told(plain && m.s.Posture.Anomaly != 0, "why-matched")
		told(a.Missing == sim.Neither && !going && unanswered(&m.s), "why-prism")
		told(a.Missing == sim.Neither && going, "jump-"+string(m.jump))
		told(m.v.Holding.OK && m.v.Holding.Value.State == sim.StateBroken, "hold-")
		told(a.Missing == sim.Neither && !going && m.s.Hold.SD > 0 && (a.Near == 2 || a.Far == 2), "why-unsteady")
		level := plain && m.s.Hold.SD == 0 && m.s.Posture.Anomaly == 0 && m.s.Posture.Vertical == 0 && m.s.Posture.Cyclo == 0 &&
			a.Higher == sim.Neither && !throughPrisms(&m.s) && !a.Meet.OnString()
		told(level && a.Eyes == sim.AimEso, "aim-nearer")
		told(level && a.Eyes == sim.AimExo && !pastString(m.seen()), "aim-beyond")
		// The eye that sees the bead alone is named.
		told(a.Fixated == sim.SeenRight, "bead-right")
		told(a.Fixated == sim.SeenLeft, "bead-left")
	})
}

// The caption is whole sentences, and no sentence is longer than a family takes
// in at a glance or uses a word that judges or alarms.
func TestFamilySentencesAreWholeAndPlain(t *testing.T) {
	never := map[string]*regexp.Regexp{
		"en": regexp.MustCompile(`(?i)normal|pass(ed)?\b|fail|diagnos|your|child|suppress|diplop|tropia|phoria|\beso\b|\bexo\b|deviat|abnorm|wrong|bad|defect|disease|disorder|problem|weak|lazy|must|patient|error`),
		"es": regexp.MustCompile(`(?i)normal|aprob|falla|fallo|fracas|diagn|\b(tu|su) (hijo|hija)|niñ|supres|suprim|diplop|tropia|foria|\bendo\b|\bexo\b|desvia|anómal|\bmal\b|defect|enferm|trastorn|problema|débil|vago|perezos|\bdebe|paciente|error|estrab`),
	}
	groups := []string{"bead", "clarity", "others", "beads", "gap", "hidden", "inside", "stretch", "overlaid", "strings", "bare", "why", "aim", "jump", "hold", "filter", "front"}
	for _, lang := range Languages() {
		for id, m := range catalogue(t, lang) {
			if prefix, _, _ := strings.Cut(id, "-"); !slices.Contains(groups, prefix) || id == string(BeadNew) ||
				strings.HasPrefix(id, "front-turned") || strings.HasPrefix(id, "bead-name") {
				continue
			}
			judges := never[lang].MatchString
			if strings.HasPrefix(id, "front-near") {
				judges = func(string) bool { return false } // it says that there is no deviation
			}
			for _, text := range []string{m.one, m.other} {
				if text == "" {
					continue
				}
				assert.Regexp(t, `^\p{Lu}.*\.$`, text, id)
				assert.False(t, judges(text), "%s: %q", id, text)
				assert.NotRegexp(t, `\. `, text, "%s: one sentence each", id)
				assert.LessOrEqual(t, len(strings.Fields(text)), 20, "%s: %q", id, text)
			}
		}
	}
}

// Captions in full, as they are read.
func TestFamilyReads(t *testing.T) {
	w := english(t)
	beside := func(m *moment) {
		for _, name := range []string{"orange", "plum"} {
			m.v.Beads = append(m.v.Beads, sim.BeadView{Name: name, Black: sim.Neither, Seen: sim.SeenTwo})
		}
	}
	v := lookedAt(0, func(s *sim.Setup) {
		s.Suppression = sim.Suppression{Eye: sim.Right, Zone: sim.ZoneCentral, Centre: sim.CentreFovea, When: sim.WhenAlways, Radius: 2, Depth: 1}
	})
	v.Account.NeedsCare = false
	middle := moment{v: *v, s: v.Now}
	for _, c := range []struct {
		name string
		m    moment
		want string
	}{
		{"on the bead", seen(sim.SeenOne, 2, 2, sim.MeetAt, sim.AimOnTarget, beside),
			"You look at the blue bead: it is one. Two strings run to it and cross inside it. " +
				"The other beads are double, as they should be. Both eyes are aimed at the bead."},
		{"eso, doubled", seen(sim.SeenTwo, 2, 2, sim.MeetNearer, sim.AimEso),
			"You look at the blue bead: you see two. Two strings cross in front of them and go on behind. " +
				"In this set-up the eyes meet in front of the bead."},
		{"exo, single, a little soft", seen(sim.SeenOne, 2, 2, sim.MeetBeyond, sim.AimExo, func(m *moment) { m.v.Account.Clarity = sim.ClaritySoft }),
			"You look at the blue bead: it is one. It looks a little soft. Two strings cross behind it. " +
				"In this set-up the eyes meet behind the bead."},
		{"apart", seen(sim.SeenTwo, 2, 2, sim.MeetNowhere, sim.AimApart),
			"You look at the blue bead: you see two. Two strings run through them and do not cross. In this set-up the eyes point too far apart to meet."},
		{"right left out", seen(sim.SeenLeft, 1, 1, sim.MeetUnseen, sim.AimOnTarget, func(m *moment) {
			m.s.Suppression.Eye = sim.Right
			m.v.Account.Missing, m.v.Account.MissingWhere, m.v.Account.NeedsCare = sim.Right, sim.WhereAll, true
		}), "You look at the blue bead: only the left eye sees it. One string runs to it and goes on behind. " +
			"The right eye's picture is being left out just now. Exercises only under a professional's care."},
		{"left out in the middle", middle, "You look at the blue bead: only the left eye sees it. One string runs through it; the other one has a gap there. " +
			"The other beads are double, as they should be. The middle of the right eye's picture is being left out just now."},
		{"the cover test of an eso", seen(sim.SeenLeft, 1, 1, sim.MeetUnseen, sim.AimEso, func(m *moment) {
			m.s.Posture.Deviation, m.s.Posture.Fixing, m.s.Cover = 20, sim.Right, sim.Right
			m.v.Account.Missing, m.v.Account.MissingWhere = sim.Right, sim.WhereAll
			m.v.Account.Fixes, m.v.Account.TookUp = sim.Left, true
		}), "You look at the blue bead: only the left eye sees it. One string runs to it and goes on behind. " +
			"With the right eye covered, the left eye swings out to take over: before, it had pointed inward."},
		{"at eye level", seen(sim.SeenOne, 0, 0, sim.MeetAt, sim.AimOnTarget, func(m *moment) {
			m.v.Strings.NearOverlaid, m.v.Strings.FarOverlaid = true, true
		}), "You look at the blue bead: it is one. The two strings lie along one line and look like one. Both eyes are aimed at the bead."},
		{"anomalous", seen(sim.SeenOne, 2, 2, sim.MeetAt, sim.AimEso, func(m *moment) { m.s.Posture.Anomaly = 20 }),
			"You look at the blue bead: it is one. Two strings run to it and cross inside it. " +
				"In this set-up one eye points elsewhere, and yet the strings cross in the bead. " +
				"The brain shifts that eye's picture back: a crossing in the right place does not show straight eyes."},
		{"another bead than asked", seen(sim.SeenOne, 2, 2, sim.MeetAt, sim.AimOnTarget, func(m *moment) { m.v.Account.Asked = "plum" }),
			"You were asked to look at the plum bead. You look at the blue bead: it is one. Two strings run to it and cross inside it."},
	} {
		assert.Equal(t, c.want, w.Family(c.m.seen()), c.name)
	}
}

func seen(as sim.Seen, near, far int, meet sim.Meet, aim sim.Aim, more ...func(*moment)) moment {
	m := moment{s: sim.Default(), jump: sim.JumpNone}
	m.v.Beads = []sim.BeadView{{Name: "blue", Black: sim.Neither, Seen: as, Diplopia: sim.DiplopiaNone}}
	m.v.Account = sim.Account{
		Asked: "blue", LookedAt: "blue", Fixated: as, Near: near, Far: far, Pattern: sim.PatternX,
		Meet: meet, Higher: sim.Neither, Missing: sim.Neither, Gap: sim.Neither, Fainter: sim.Neither, Eyes: aim,
	}
	for _, f := range more {
		f(&m)
	}
	return m
}

func TestClinicianReads(t *testing.T) {
	w := english(t)
	m := seen(sim.SeenTwo, 2, 2, sim.MeetBeyond, sim.AimExo, func(m *moment) {
		m.s.Posture.Deviation = -4
		m.v.Crossing.At, m.v.Crossing.Offset = sim.Some(580.), sim.Some(90.)
		m.v.Beads[0].Disparity = sim.Some(sim.Disparity{H: sim.Degrees(2.3).Angle()})
		m.v.Beads[0].Diplopia = sim.DiplopiaCrossed
	})
	assert.Equal(t, "4 Δ exo, shared by both eyes. The strings cross 58 cm from the nose, 9 cm behind the bead. "+
		"Bead double, crossed diplopia 2.3°. Pattern X about the crossing; strings in front of the target 2, behind it 2.", w.Clinician(m.seen()))
	assert.Contains(t, w.WithInches(true).Clinician(m.seen()), "The strings cross 22.8 in from the nose, 3.5 in behind the bead.")
}

// everyClinical calls f for a fair share of the combinations of the codes that the
// clinical caption looks at.
func everyClinical(f func(m *moment)) {
	kinds := []sim.Diplopia{sim.DiplopiaCrossed, sim.DiplopiaUncrossed, sim.DiplopiaVertical}
	patterns := []sim.Pattern{sim.PatternX, sim.PatternV, sim.PatternA, sim.PatternY, sim.PatternTwo, sim.PatternOne, sim.PatternNone}
	all, n := causes(), 0
	var m moment
	for _, sight := range sights() {
		for _, cause := range all {
			for _, meet := range meets {
				for _, aim := range []sim.Aim{sim.AimOnTarget, sim.AimApart} {
					for i, h := range []sim.Arcmin{-3, 0, 3} {
						if n++; n%5 != 0 { // a prime step: each id hangs on a few codes alone
							continue
						}
						m.begin(&sight)
						a := &m.v.Account
						a.Meet, a.Eyes, a.Asked, a.Pattern = meet, aim, a.LookedAt, patterns[n%len(patterns)]
						a.Apart = sim.Some(sim.Degrees(1.5).Angle())
						d := sim.Disparity{H: h.Angle(), LimitH: sim.Arcmin(10).Angle(), LimitV: sim.Arcmin(6).Angle()}
						if n%2 == 0 {
							d.V = sim.Arcmin(2).Angle()
						}
						m.v.Beads = []sim.BeadView{{Name: "blue", Black: sim.Neither, Disparity: sim.Some(d), Diplopia: kinds[i]}}
						cause(&m)
						f(&m)
					}
				}
			}
		}
	}
}

// lookedAt is a set-up of three beads at a moment, each as it is really seen.
func lookedAt(seconds float64, change func(*sim.Setup)) *sim.View {
	s := sim.Default()
	s.String.Length = 1200
	s.Beads = []sim.Bead{
		{Name: "orange", At: 230, Diameter: 16, Colour: sim.RGB{R: 0xE6, G: 0x9F}},
		{Name: "blue", At: 480, Diameter: 16, Colour: sim.RGB{G: 0x72, B: 0xB2}},
		{Name: "soot", At: 900, Diameter: 16},
	}
	s.Look.Bead = 1
	change(&s)
	v := new(sim.View)
	sim.NewCourse(&s).Look(v, seconds)
	return v
}

// everyGlass calls f for every pair of filters, with an eye covered or none.
func everyGlass(f func(v *sim.View)) {
	one, other := sim.Glass{BaseOut: 4, BaseUp: 2, Lens: 1}, sim.Glass{BaseOut: -4, BaseUp: -2, Lens: -1}
	for _, g := range [][2]sim.Glass{{one, other}, {other, one}} {
		f(lookedAt(0, func(s *sim.Setup) {
			s.Right, s.Left = g[0], g[1]
			s.Right.Filter, s.Left.Filter = sim.FilterNone, sim.FilterNone
		}))
	}
	filters := []sim.Filter{sim.FilterNone, sim.FilterRed, sim.FilterGreen}
	for _, right := range filters {
		for _, left := range filters {
			for _, cover := range []sim.Side{sim.Neither, sim.Right, sim.Left} {
				for bead := range 3 {
					f(lookedAt(0, func(s *sim.Setup) {
						s.Right.Filter, s.Left.Filter, s.Cover, s.Look.Bead = right, left, cover, bead
					}))
				}
			}
		}
	}
}

// everyMoment calls f for jumps, for holds that waver and for what is single only
// because it was so before (M15), and for anomalous correspondence.
func everyMoment(f func(v *sim.View)) {
	f(lookedAt(0, func(s *sim.Setup) { s.Posture = sim.Posture{Deviation: 20, Anomaly: 20, Fixing: sim.Right} }))
	for _, refraction := range []sim.Dioptres{1, 3} { // clear to one eye alone
		f(lookedAt(0, func(s *sim.Setup) { s.Right.Refraction = refraction }))
	}
	f(lookedAt(0, func(s *sim.Setup) { s.Posture.Deviation = -5.1 })) // the strings cross in another bead
	for _, eye := range []sim.Side{sim.Right, sim.Left} {             // left out where there is no string
		for _, depth := range []float64{0.5, 1} {
			f(lookedAt(0, func(s *sim.Setup) {
				s.Posture = sim.Posture{Deviation: -8, Fixing: map[sim.Side]sim.Side{sim.Right: sim.Left, sim.Left: sim.Right}[eye]}
				s.Suppression = sim.Suppression{Eye: eye, Zone: sim.ZoneNasal, When: sim.WhenAlways, Depth: depth}
			}))
		}
	}
	for _, at := range []float64{0, 0.1, 0.2, 0.5, 1, 1.05, 1.1, 1.2, 3} {
		for _, far := range [][2]int{{0, 2}, {2, 0}, {1, 0}, {0, 1}} {
			f(lookedAt(at, func(s *sim.Setup) { s.Look.Bead, s.Look.From = far[0], sim.Some(far[1]) }))
		}
		for seed := range 20 {
			f(lookedAt(at, func(s *sim.Setup) { s.Hold = sim.Unsteadiness{SD: 12, Seed: uint64(seed)} }))
		}
	}
}

// What filters do is said as it is: which eye has which colour, and which bead goes
// black to whom.
func TestFiltersAreToldAsTheyAre(t *testing.T) {
	w := english(t)
	black := regexp.MustCompile(`(right eye sees|left eye sees|both eyes see) the bead “(\w+)” as black\.`)
	everyGlass(func(v *sim.View) {
		said := w.Family(v)
		see := func(e sim.Side) sim.Filter {
			if v.Now.Cover == e {
				return sim.FilterNone
			}
			return v.Now.Glass(e).Filter
		}
		right, left := see(sim.Right), see(sim.Left)
		for _, f := range []sim.Filter{sim.FilterRed, sim.FilterGreen} {
			in := "sees in " + string(f)
			if right == left && right != sim.FilterNone {
				in = "both eyes see in " + string(f)
			}
			assert.Equal(t, right == f || left == f, strings.Contains(said, in) || strings.Contains(said, "left eye in "+string(f)), said)
		}
		assert.Equal(t, right == sim.FilterNone && left == sim.FilterNone, !strings.Contains(said, "filter"), said)
		told := map[string]string{}
		for _, m := range black.FindAllStringSubmatch(said, -1) {
			told[m[2]] = m[1]
		}
		black := 0
		for _, b := range v.Now.Beads {
			if right.Blackens(b.Colour) || left.Blackens(b.Colour) {
				black++
			}
		}
		assert.Equal(t, black > 1, strings.Contains(said, "several beads look black"), said)
		for i, b := range v.Now.Beads {
			if black > 1 {
				break
			}
			r, l := right.Blackens(b.Colour), left.Blackens(b.Colour)
			want := map[[2]bool]string{{true, false}: "right eye sees", {false, true}: "left eye sees", {true, true}: "both eyes see"}[[2]bool{r, l}]
			assert.Equal(t, want, told[b.Name], "%d: %s", i, said)
		}
	})
}

// places are the paths under which a key's controls are said: a point has one for
// each axis; the note and the version of a file have none.
func places(k *scenes.Key) []string {
	switch {
	case k.Kind == scenes.Point:
		return []string{k.Path() + "-x", k.Path() + "-y", k.Path() + "-z"}
	case k.Path() == "format":
		return nil
	}
	return []string{k.Path()}
}

// Every id in the code is in the catalogue, and every id in the catalogue is
// used: a label in the code, those of the controls by the keys of scene files, the
// others by a caption of some combination of codes. The captions are heard from a catalogue that says its own ids.
func TestIdsExistAndAreUsed(t *testing.T) {
	text := catalogue(t, "en")
	names := map[string]string{}
	for id := range text {
		names[id] = "<" + id + ">"
	}
	names["number-point"] = "."
	own, err := toml.Marshal(names)
	require.NoError(t, err)
	w, err := parse(own, "active.en.toml", "en")
	require.NoError(t, err)

	used := map[string]bool{}
	hear := func(m *moment, said string) {
		for word := range strings.SplitSeq(said, " ") {
			id := strings.Trim(word, "<>")
			if word != names[id] {
				t.Fatalf("%q: not in the catalogue, for %+v", said, m.v.Account)
			}
			used[id] = true
		}
	}
	everyClinical(func(m *moment) { hear(m, w.Clinician(m.seen())) })
	every(share, func(m *moment) {
		for _, s := range caption(m.seen(), m.jump) {
			used[s.id] = true
		}
	})
	everyFront(func(v *sim.View, f *sim.Face) {
		for _, id := range frontIDs(v, f) {
			used[id] = true
		}
	})
	everyGlass(func(v *sim.View) { hear(&moment{v: *v}, w.Family(v)); hear(&moment{v: *v}, w.Clinician(v)) })
	everyMoment(func(v *sim.View) { hear(&moment{v: *v}, w.Family(v)); hear(&moment{v: *v}, w.Clinician(v)) })
	for _, e := range scenes.Library() {
		for _, b := range e.Scene.Setup.Beads {
			used["the-bead-"+b.Name] = true
		}
	}
	for _, k := range scenes.Keys() {
		for _, path := range places(&k) {
			used["key-"+plain(path)], used["about-"+plain(path)] = true, true
		}
		for _, c := range k.Choices {
			used["choice-"+plain(k.Name)+"-"+plain(c)] = true
		}
	}
	for _, none := range []string{"look", "asked", "from"} {
		used["choice-"+none+"-none"] = true
	}
	for _, kind := range routine.Kinds {
		for _, q := range routine.Questions(kind) {
			used["sheet-ask-"+string(q)] = true
		}
		for _, a := range routine.EveryAnswer(kind) {
			used["sheet-"+string(a)], used["sheet-"+string(a)+"-means"], used["sheet-stop-"+string(a.Stop())] = true, true, true
			used["sheet-stop-"+string(routine.StopAsked)] = true
			for _, try := range a.Tries(kind) {
				used["sheet-try-"+string(try)] = true
			}
		}
	}
	for _, id := range literals(t) {
		used[id] = true
	}
	begun, codes := composed(t)
	for id := range text {
		for _, begins := range begun {
			if rest, ok := strings.CutPrefix(id, begins); ok && (rest == "" || spelled(rest, codes)) {
				used[id] = true
			}
		}
	}
	for id := range used {
		assert.NotNil(t, text[id], "%q is not in the catalogue", id)
	}
	for id := range text {
		assert.True(t, used[id], "%q is not used", id)
	}
}

// literals lists the ids that the code says as they stand: every label, whatever
// is said at once, and every other string that has the look
// of an id.
func literals(t *testing.T) (ids []string) {
	t.Helper()
	dashed := regexp.MustCompile(`^(number|unit|caution|wall|meeting)(-[a-z]+)+$`)
	says := []string{"say", "sayOf"}
	for _, file := range parsed(t, ".") {
		add := func(e ast.Expr, any bool) {
			lit, ok := e.(*ast.BasicLit)
			if !ok || lit.Kind != token.STRING {
				return
			}
			if id, _ := strconv.Unquote(lit.Value); any || dashed.MatchString(id) {
				ids = append(ids, id)
			}
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ValueSpec:
				if typ, ok := n.Type.(*ast.Ident); ok && typ.Name == "Label" {
					for _, v := range n.Values {
						add(v, true)
					}
				}
			case *ast.CallExpr:
				if f, ok := n.Fun.(*ast.SelectorExpr); ok && slices.Contains(says, f.Sel.Name) {
					for _, arg := range n.Args {
						add(arg, true)
					}
				}
			case *ast.BasicLit:
				add(n, false)
			}
			return true
		})
	}
	return ids
}

// parsed are the Go files of a folder, tests aside.
func parsed(t *testing.T, folder string) (all []*ast.File) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*.go"))
	require.NoError(t, err)
	require.NotEmpty(t, files, folder)
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		all = append(all, file)
	}
	return all
}

// composed lists how the ids begin that end in codes of the answers and the routines,
// and those codes: every short text of the rooms that they come from.
func composed(t *testing.T) (begun []string, codes map[string]bool) {
	codes = map[string]bool{}
	for _, folder := range []string{".", "../../sim", "../../sim/answers", "../../scenes/routine", "../../scenes/cases", "../sheet/casebook"} {
		for _, file := range parsed(t, folder) {
			ast.Inspect(file, func(n ast.Node) bool {
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					code, _ := strconv.Unquote(lit.Value)
					if strings.HasPrefix(code, "answers-") || strings.HasPrefix(code, "case-") && strings.HasSuffix(code, "-") || strings.HasPrefix(code, "sheet-") && strings.HasSuffix(code, "-") {
						begun = append(begun, code)
					} else if code != "" {
						codes[strings.ToLower(strings.ReplaceAll(code, "_", "-"))] = true
					}
				}
				return true
			})
		}
	}
	return begun, codes
}

// spelled says whether a text is codes with dashes between them.
func spelled(text string, codes map[string]bool) bool {
	if codes[text] {
		return true
	}
	for i := range text {
		if text[i] == '-' && (codes[text[:i]] || codes[text[:i+1]]) && (spelled(text[i+1:], codes) || codes[text[i:]]) {
			return true
		}
	}
	return false
}

// Spanish has its decimal comma, and its letters for the eyes.
func TestSpanishReads(t *testing.T) {
	w, err := For("es")
	require.NoError(t, err)
	m := seen(sim.SeenTwo, 2, 2, sim.MeetNearer, sim.AimEso, func(m *moment) {
		m.v.Account.LookedAt, m.v.Account.Asked, m.v.Beads[0].Name = "azul", "morada", "azul"
	})
	for want, got := range map[string]string{
		"−4,2":       w.Number(-4.2, 1),
		"4,5 cm":     w.Length(45.2),
		"22,8 pulg":  w.WithInches(true).Length(580),
		"4,2 Δ endo": w.Deviation(4.2),
		"D":          w.Label(RightLetter),
		"I":          w.Label(LeftLetter),
		"Le habían pedido mirar la bola morada. Usted mira la bola azul y ve dos. Dos cuerdas se cruzan delante de ellas y siguen por detrás. " +
			"En este ejemplo las miradas se cruzan delante de la bola.": w.Family(m.seen()),
		"azul": w.BeadName("sky"),
		// One dioptre is shared as several are: nothing has to agree with the number.
		"1 Δ endo, a partes iguales entre los dos ojos.":                            w.say("clinic-eso-both", with{"Prism": "1"}),
		"En la exploración se halló: 1 Δ exo, a partes iguales entre los dos ojos.": w.say("case-given-eyes", with{"Deviation": "1 Δ exo"}),
	} {
		assert.Equal(t, want, got)
	}
}

func TestNumbers(t *testing.T) {
	w := english(t)
	for want, got := range map[string]string{
		"−4.2":       w.Number(-4.2, 1),
		"0.0":        w.Number(-0.04, 1),
		"58 cm":      w.Length(580),
		"99.9 cm":    w.Length(999.4),
		"100 cm":     w.Length(999.6),
		"237 cm":     w.Length(2374),
		"93.5 in":    w.WithInches(true).Length(2374),
		"118 in":     w.WithInches(true).Length(2999),
		"4.5 cm":     w.Length(45.2),
		"0 cm":       w.Length(-0.3),
		"−1.5 cm":    w.Length(-15),
		"4.2 Δ eso":  w.Deviation(4.2),
		"4.2 Δ exo":  w.Deviation(-4.2),
		"0 Δ":        w.Deviation(-0.004),
		"0.25 Δ exo": w.Deviation(-0.25),
		"2.3°":       w.Degrees(sim.Degrees(2.3).Angle()),
		"looking at": w.Label(LookingAt),
	} {
		assert.Equal(t, want, got)
	}
}
