package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/nicksnyder/go-i18n/v2/i18n"
	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
)

// catalogue reads a language's messages, by id.
func catalogue(t *testing.T, lang string) map[string]*i18n.Message {
	t.Helper()
	text, err := catalogues.ReadFile("active." + lang + ".toml")
	require.NoError(t, err)
	file, err := i18n.ParseMessageFileBytes(text, "active."+lang+".toml", map[string]i18n.UnmarshalFunc{"toml": toml.Unmarshal})
	require.NoError(t, err)
	all := map[string]*i18n.Message{}
	for _, m := range file.Messages {
		all[m.ID] = m
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
		assert.Contains(t, err.Error(), "allowed: en")
	}
}

// Every language has the same sentences with the same braces, so that none falls
// back or loses a number.
func TestCataloguesAgree(t *testing.T) {
	braces := regexp.MustCompile(`{{[^}]*}}`)
	in := func(text string) []string {
		found := braces.FindAllString(text, -1)
		slices.Sort(found)
		return found
	}
	en := catalogue(t, "en")
	for _, lang := range Languages() {
		these := catalogue(t, lang)
		assert.ElementsMatch(t, slices.Collect(maps.Keys(en)), slices.Collect(maps.Keys(these)), lang)
		for id, m := range these {
			assert.Equal(t, in(en[id].Other), in(m.Other), "%s: %s", lang, id)
		}
	}
}

// What the sentences are made from: every code of the account, and those parts
// of the set-up that the reasons look at.
type moment struct {
	v sim.View
	s sim.Setup
}

// seen is the view, of the set-up.
func (m *moment) seen() *sim.View {
	m.v.Now = m.s
	return &m.v
}

var (
	counts = []int{0, 1, 2}
	meets  = []sim.Meet{sim.MeetNowhere, sim.MeetUnseen, sim.MeetAt, sim.MeetNearer, sim.MeetBeyond}
	aims   = []sim.Aim{sim.AimOnTarget, sim.AimEso, sim.AimExo, sim.AimApart}
)

// sights are the ways the place looked at can be seen.
func sights() (all []moment) {
	for _, as := range []sim.Seen{"", sim.SeenOne, sim.SeenTwo, sim.SeenRight, sim.SeenLeft, sim.SeenNone} {
		m := seen(as, 0, 0, sim.MeetNowhere, sim.AimOnTarget)
		a := &m.v.Account
		switch as {
		case "":
			a.LookedAt = ""
			all = append(all, m)
			a.Fuses = true
			all = append(all, m)
		case sim.SeenTwo:
			for _, higher := range []sim.Side{sim.Neither, sim.Right, sim.Left} {
				for _, overlap := range []float64{0, 0.75, 0.76} {
					a.Higher = higher
					m.v.Beads = []sim.BeadView{{Name: "sky", Overlap: sim.Some(overlap)}}
					all = append(all, m)
				}
			}
		default:
			a.Fuses = as == sim.SeenOne
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
		}{{sim.ZoneAll, sim.WhereAll}, {sim.ZoneCentral, sim.WhereCentre}, {sim.ZoneNearer, sim.WhereNearer}, {sim.ZoneBeyond, sim.WhereBeyond}} {
			for _, centre := range []sim.Centre{sim.CentreFovea, sim.CentreTarget} {
				if centre == sim.CentreTarget && z.zone != sim.ZoneCentral {
					continue
				}
				suppress := func(m *moment) {
					m.s.Suppression = sim.Suppression{Eye: eye, Zone: z.zone, Centre: centre, Radius: 5, Depth: 1}
					m.v.Account.Missing, m.v.Account.MissingWhere = eye, z.where
				}
				add(suppress)
				for _, cover := range []sim.Side{sim.Right, sim.Left} {
					add(func(m *moment) {
						suppress(m)
						m.s.Cover, m.v.Account.Missing, m.v.Account.MissingWhere = cover, cover, sim.WhereAll
					})
				}
			}
		}
	}
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
		add(func(m *moment) { m.s.Posture.Cyclo = sim.Degrees(5 * sign) })
		add(func(m *moment) { m.s.Posture.Deviation = sim.Prism(5 * sign) })
		add(func(m *moment) { m.v.Axes.Vergence = sim.Angle(sign) })
	}
	add(func(m *moment) { m.v.Account.Asked = "orange" })
	return all
}

// every calls f for every combination of codes.
func every(f func(m *moment)) {
	all := causes()
	var m moment // one for all: a fresh one for each would be most of the work
	for _, sight := range sights() {
		for _, cause := range all {
			for _, near := range counts {
				for _, far := range counts {
					for _, meet := range meets {
						for _, aim := range aims {
							m = sight
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
	holds func(a *sim.Account, s *sim.Setup) bool
}{
	{regexp.MustCompile(`^One bead`), func(a *sim.Account, _ *sim.Setup) bool {
		return a.Fixated == sim.SeenOne || a.Fixated == sim.SeenRight || a.Fixated == sim.SeenLeft
	}},
	{regexp.MustCompile(`^Two beads|one bead with a doubled edge`), func(a *sim.Account, _ *sim.Setup) bool {
		return a.Fixated == sim.SeenTwo
	}},
	{regexp.MustCompile(`one higher than the other`), func(a *sim.Account, _ *sim.Setup) bool { return a.Higher != sim.Neither }},
	{regexp.MustCompile(`bare string|that place|right there`), func(a *sim.Account, _ *sim.Setup) bool { return a.LookedAt == "" }},
	{regexp.MustCompile(`\b(it|them)\b`), func(a *sim.Account, _ *sim.Setup) bool { return true }},
	{regexp.MustCompile(`cross (inside|close|in front|behind|right|there)|meet (inside|close|right|there)`), func(a *sim.Account, _ *sim.Setup) bool {
		return a.Meet == sim.MeetAt || a.Meet == sim.MeetNearer || a.Meet == sim.MeetBeyond
	}},
	{regexp.MustCompile(`cross in front`), func(a *sim.Account, _ *sim.Setup) bool { return a.Meet == sim.MeetNearer }},
	{regexp.MustCompile(`cross behind|and cross there`), func(a *sim.Account, _ *sim.Setup) bool {
		return a.Meet == sim.MeetBeyond || a.Meet == sim.MeetAt && a.LookedAt == ""
	}},
	{regexp.MustCompile(`do not cross`), func(a *sim.Account, _ *sim.Setup) bool { return a.Meet == sim.MeetNowhere }},
	{regexp.MustCompile(`where they meet is not seen`), func(a *sim.Account, _ *sim.Setup) bool { return a.Meet == sim.MeetUnseen }},
	{regexp.MustCompile(`Two strings|[Tt]wo stand|two (go|begin|behind)|The strings`), func(a *sim.Account, _ *sim.Setup) bool { return a.Near == 2 || a.Far == 2 }},
	{regexp.MustCompile(`Two strings (cross|run to|run past|meet)`), func(a *sim.Account, _ *sim.Setup) bool { return a.Near == 2 }},
	{regexp.MustCompile(`Two strings (go|stand out|begin)|two (go|stand|begin|behind)`), func(a *sim.Account, _ *sim.Setup) bool { return a.Far == 2 }},
	{regexp.MustCompile(`[Oo]ne (string|goes|stands out)`), func(a *sim.Account, _ *sim.Setup) bool { return a.Near == 1 || a.Far == 1 }},
	{regexp.MustCompile(`one goes on behind`), func(a *sim.Account, _ *sim.Setup) bool { return a.Far == 1 }},
	{regexp.MustCompile(`No second string`), func(a *sim.Account, _ *sim.Setup) bool { return a.Near == 0 && a.Far == 0 }},
	{regexp.MustCompile(`seen by the right eye`), func(a *sim.Account, _ *sim.Setup) bool { return a.Fixated == sim.SeenRight }},
	{regexp.MustCompile(`seen by the left eye`), func(a *sim.Account, _ *sim.Setup) bool { return a.Fixated == sim.SeenLeft }},
	{regexp.MustCompile(`right eye is covered`), func(_ *sim.Account, s *sim.Setup) bool { return s.Cover == sim.Right }},
	{regexp.MustCompile(`left eye is covered`), func(_ *sim.Account, s *sim.Setup) bool { return s.Cover == sim.Left }},
	{regexp.MustCompile(`right eye's picture`), func(_ *sim.Account, s *sim.Setup) bool { return s.Suppression.Eye == sim.Right }},
	{regexp.MustCompile(`left eye's picture`), func(_ *sim.Account, s *sim.Setup) bool { return s.Suppression.Eye == sim.Left }},
	{regexp.MustCompile(`Both eyes are on the same place`), func(a *sim.Account, s *sim.Setup) bool {
		return a.Eyes == sim.AimOnTarget && a.Meet != sim.MeetNearer && a.Meet != sim.MeetBeyond &&
			a.Fixated != sim.SeenTwo && s.Posture.Vertical == 0 && a.Missing == sim.Neither && a.Asked == a.LookedAt
	}},
	{regexp.MustCompile(`meet nearer`), func(a *sim.Account, _ *sim.Setup) bool { return a.Meet != sim.MeetBeyond && a.Eyes != sim.AimExo }},
	{regexp.MustCompile(`meet farther`), func(a *sim.Account, _ *sim.Setup) bool { return a.Meet != sim.MeetNearer && a.Eyes != sim.AimEso }},
	{regexp.MustCompile(`to meet\.`), func(a *sim.Account, _ *sim.Setup) bool { return a.Eyes == sim.AimApart }},
	{regexp.MustCompile(`prism`), func(_ *sim.Account, s *sim.Setup) bool { return s.Posture.PrismMet < 1 }},
	{regexp.MustCompile(`matched`), func(_ *sim.Account, s *sim.Setup) bool { return s.Posture.Anomaly != 0 }},
	{regexp.MustCompile(`one eye points elsewhere`), func(a *sim.Account, _ *sim.Setup) bool { return a.Eyes != sim.AimOnTarget }},
	{regexp.MustCompile(`tilted`), func(_ *sim.Account, s *sim.Setup) bool { return s.Posture.Cyclo != 0 }},
	{regexp.MustCompile(`asked for`), func(a *sim.Account, _ *sim.Setup) bool { return a.Asked != a.LookedAt }},
}

// Every combination of codes has its caption, and none says what the codes deny.
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
	every(func(m *moment) {
		a := &m.v.Account
		strand, beads := stringsID(&m.v)
		reasons := reasonIDs(&m.v, &m.s)
		if len(reasons) > 3 {
			t.Fatalf("%v: %d reasons", *a, len(reasons))
		}
		ids := append([]string{beadID(&m.v), strand}, reasons...)
		for i, id := range ids {
			message := text[id]
			if message == nil {
				t.Fatalf("%q: not in the catalogue", id)
			}
			said := message.Other
			if i == 1 && beads == 1 && message.One != "" {
				said = message.One
			}
			for n := range claims(said) {
				heard[n]++
				if !truths[n].holds(a, &m.s) {
					t.Fatalf("%q is said of %+v, %+v, suppressed %+v, covered %v", said, *a, m.s.Posture, m.s.Suppression, m.s.Cover)
				}
			}
		}
	})
	for i, truth := range truths {
		assert.Positive(t, heard[i], "no sentence says %s", truth.says)
	}
}

// The caption as it is read is whole: no id stands for a sentence that is not
// found, and no brace is left open.
func TestFamilyIsWhole(t *testing.T) {
	w := english(t)
	n := 0
	whole := regexp.MustCompile(`^([A-Z][^.<{]*\. )+[A-Z][^.<{]*\.$`)
	every(func(m *moment) {
		if n++; n%23 != 0 { // a prime step: every code meets every other, in a tenth of the time
			return
		}
		if said := w.Family(m.seen()); !whole.MatchString(said) {
			t.Fatalf("%q is said of %+v", said, m.v.Account)
		}
	})
}

// What a family has to be told is told.
func TestFamilyLeavesNothingOut(t *testing.T) {
	every(func(m *moment) {
		a := &m.v.Account
		bead, reasons := beadID(&m.v), strings.Join(reasonIDs(&m.v, &m.s), " ")
		told := func(what bool, id string) {
			if what && !strings.Contains(reasons, id) {
				t.Fatalf("%s is missing from %q for %+v", id, reasons, *a)
			}
		}
		told(a.Asked != a.LookedAt, "why-asked")
		told(m.s.Cover == sim.Right, "why-covered-right")
		told(m.s.Suppression.Eye == sim.Left && m.s.Cover != sim.Left, "-left")
		told(a.Missing == sim.Neither && a.Eyes == sim.AimApart && m.s.Posture.Anomaly == 0 && !unanswered(&m.s), "aim-")
		told(a.Missing == sim.Neither && unanswered(&m.s), "why-prism")
		if a.Fixated == sim.SeenTwo && bead != "bead-double" && bead != "bead-higher" && bead != "bead-edge" {
			t.Fatalf("%s for two beads", bead)
		}
		// The eye that sees the bead is named, unless a reason names the one that
		// does not.
		if a.Fixated == sim.SeenRight && bead == "bead-single" {
			told(a.Missing == sim.Left, "-left")
			if a.MissingWhere == sim.WhereNearer || a.MissingWhere == sim.WhereBeyond {
				t.Fatalf("%+v: what is missing elsewhere does not take the bead", *a)
			}
		}
	})
}

// The caption is whole sentences, and no sentence is longer than a family takes
// in at a glance or uses a word that judges or alarms.
func TestFamilySentencesAreWholeAndPlain(t *testing.T) {
	never := regexp.MustCompile(`(?i)normal|pass(ed)?\b|fail|diagnos|your|child|suppress|diplop|tropia|phoria|\beso\b|\bexo\b|deviat|abnorm|wrong|bad|defect|disease|disorder|problem|weak|lazy|must|patient|error`)
	for id, m := range catalogue(t, "en") {
		prefix, _, _ := strings.Cut(id, "-")
		if !slices.Contains([]string{"bead", "strings", "bare", "why", "aim"}, prefix) {
			continue
		}
		for _, text := range []string{m.One, m.Other} {
			if text == "" {
				continue
			}
			assert.Regexp(t, `^[A-Z].*\.$`, text, id)
			assert.NotRegexp(t, never, text, id)
			assert.NotRegexp(t, `\. `, text, "%s: one sentence each", id)
			assert.LessOrEqual(t, len(strings.Fields(text)), 20, id)
		}
	}
}

// Captions in full, as they are read.
func TestFamilyReads(t *testing.T) {
	w := english(t)
	for _, c := range []struct {
		name string
		m    moment
		want string
	}{
		{"on the bead", seen(sim.SeenOne, 2, 2, sim.MeetAt, sim.AimOnTarget),
			"One bead. Two strings run to it and cross inside it. Both eyes are on the same place."},
		{"eso, doubled", seen(sim.SeenTwo, 2, 2, sim.MeetNearer, sim.AimEso),
			"Two beads. Two strings cross in front of them and go on behind. In this set-up the eyes meet nearer than the bead."},
		{"exo, single", seen(sim.SeenOne, 2, 2, sim.MeetBeyond, sim.AimExo),
			"One bead. Two strings run past it and cross behind it. In this set-up the eyes meet farther away than the bead."},
		{"apart", seen(sim.SeenTwo, 2, 2, sim.MeetNowhere, sim.AimApart),
			"Two beads. Two strings run past them and do not cross. In this set-up the eyes point too far apart to meet."},
		{"right left out", seen(sim.SeenLeft, 1, 1, sim.MeetUnseen, sim.AimOnTarget, func(m *moment) {
			m.s.Suppression.Eye = sim.Right
			m.v.Account.Missing, m.v.Account.MissingWhere = sim.Right, sim.WhereAll
		}), "One bead. One string runs to it and goes on behind. The right eye's picture is being left out just now."},
		{"anomalous", seen(sim.SeenOne, 2, 2, sim.MeetAt, sim.AimEso, func(m *moment) { m.s.Posture.Anomaly = 20 }),
			"One bead. Two strings run to it and cross inside it. Yet in this set-up one eye points elsewhere: the two pictures are matched in another way."},
		{"another bead than asked", seen(sim.SeenOne, 2, 2, sim.MeetAt, sim.AimOnTarget, func(m *moment) { m.v.Account.Asked = "plum" }),
			"One bead. Two strings run to it and cross inside it. You look at “sky”; the bead asked for is “plum”."},
	} {
		assert.Equal(t, c.want, w.Family(c.m.seen()), c.name)
	}
}

func seen(as sim.Seen, near, far int, meet sim.Meet, aim sim.Aim, more ...func(*moment)) moment {
	m := moment{s: sim.Default()}
	m.v.Beads = []sim.BeadView{{Name: "sky", Seen: as, Diplopia: sim.DiplopiaNone}}
	m.v.Account = sim.Account{
		Asked: "sky", LookedAt: "sky", Fixated: as, Near: near, Far: far, Pattern: sim.PatternX,
		Meet: meet, Higher: sim.Neither, Missing: sim.Neither, Eyes: aim,
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
	assert.Equal(t, "4.0 Δ exo, shared by both eyes. Crossing at 58 cm, 9 cm beyond the bead. "+
		"Bead double, crossed diplopia 2.3°. Pattern X: strings nearer 2, beyond 2.", w.Clinician(m.seen()))
}

// everyClinical calls f for a fair share of the combinations of the codes that the
// clinical caption looks at.
func everyClinical(f func(m *moment)) {
	kinds := []sim.Diplopia{sim.DiplopiaCrossed, sim.DiplopiaUncrossed, sim.DiplopiaVertical}
	patterns := []sim.Pattern{sim.PatternX, sim.PatternV, sim.PatternA, sim.PatternY, sim.PatternTwo, sim.PatternOne, sim.PatternNone}
	all, n := causes(), 0
	for _, sight := range sights() {
		for _, cause := range all {
			for _, meet := range meets {
				for _, aim := range []sim.Aim{sim.AimOnTarget, sim.AimApart} {
					for i, h := range []sim.Arcmin{-3, 0, 3} {
						m := sight
						a := &m.v.Account
						a.Meet, a.Eyes, a.Asked, a.Pattern = meet, aim, a.LookedAt, patterns[n%len(patterns)]
						a.Apart = sim.Some(sim.Degrees(1.5).Angle())
						if n++; n%11 != 0 { // a prime step: each id hangs on a few codes alone
							continue
						}
						d := sim.Disparity{H: h.Angle(), LimitH: sim.Arcmin(10).Angle()}
						m.v.Beads = []sim.BeadView{{Name: "sky", Disparity: sim.Some(d), Diplopia: kinds[i]}}
						cause(&m)
						f(&m)
					}
				}
			}
		}
	}
}

// Every id in the code is in the catalogue, and every id in the catalogue is
// used: a label in the code, the others by a caption of some combination of
// codes. The captions are heard from a catalogue that says its own ids.
func TestIdsExistAndAreUsed(t *testing.T) {
	text := catalogue(t, "en")
	plain := map[string]string{}
	for id := range text {
		plain[id] = "<" + id + ">"
	}
	plain["number-point"] = "."
	own, err := toml.Marshal(plain)
	require.NoError(t, err)
	w, err := parse(own, "active.en.toml", "en")
	require.NoError(t, err)

	used := map[string]bool{}
	ids := regexp.MustCompile(`^<[^<> ]+>( <[^<> ]+>)*$`)
	hear := func(m *moment, said string) {
		if !ids.MatchString(said) {
			t.Fatalf("%q: not in the catalogue, for %+v", said, m.v.Account)
		}
		for id := range strings.FieldsSeq(said) {
			used[strings.Trim(id, "<>")] = true
		}
	}
	everyClinical(func(m *moment) { hear(m, w.Clinician(m.seen())) })
	n := 0
	every(func(m *moment) {
		if n++; n%23 != 0 { // a prime step, as above
			return
		}
		strand, _ := stringsID(&m.v)
		used[beadID(&m.v)], used[strand] = true, true
		for _, id := range reasonIDs(&m.v, &m.s) {
			used[id] = true
		}
	})
	for _, id := range literals(t) {
		used[id] = true
	}
	for id := range used {
		assert.Contains(t, text, id, "not in the catalogue")
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
	says := []string{"say"}
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
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

func TestNumbers(t *testing.T) {
	w := english(t)
	for want, got := range map[string]string{
		"−4.2":       w.Number(-4.2, 1),
		"0.0":        w.Number(-0.04, 1),
		"58 cm":      w.Length(580),
		"4.5 cm":     w.Length(45.2),
		"0 cm":       w.Length(-0.3),
		"−1.5 cm":    w.Length(-15),
		"4.2 Δ eso":  w.Deviation(4.2),
		"4.2 Δ exo":  w.Deviation(-4.2),
		"0.0 Δ":      w.Deviation(-0.004),
		"0.25 Δ exo": w.Deviation(-0.25),
		"2.3°":       w.Degrees(sim.Degrees(2.3).Angle()),
		"looking at": w.Label(LookingAt),
	} {
		assert.Equal(t, want, got)
	}
}
