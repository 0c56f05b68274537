package words

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
)

// heard is what a reader takes from an English caption: the codes that its sentences
// stand for, and nothing that they leave open.
type heard struct {
	bead      sim.Seen // "" of a bare string
	higher    bool
	near, far int // −1 is left open
	meet      sim.Meet
	hidden    bool   // where they cross
	hiddenBy  string // another bead than the one looked at
	hiddenOne bool   // of one string alone
	gap       bool
	overlaid  [2]bool // in front, behind
	expected  bool    // that other beads are double, as they should be
	asked     bool
	clarity   sim.Clarity
	uneven    bool
	missing   sim.Side
	where     sim.Where
	fainter   sim.Side
	covered   sim.Side
	took      sim.Side
	eyes      sim.Aim
	others    string // all, some, none of the other beads double
	care      bool
}

// reading is a sentence and what it is taken for.
type reading struct {
	says  *regexp.Regexp
	takes func(h *heard, part []string)
}

func takes(says string, f func(h *heard, part []string)) reading {
	return reading{regexp.MustCompile("^(?:" + says + ")$"), f}
}

var eye = map[string]sim.Side{"right": sim.Right, "left": sim.Left}

// crossings are what a sentence on strings says of their crossing: the first that it has.
var crossings = []struct {
	says *regexp.Regexp
	meet sim.Meet
}{
	{regexp.MustCompile(`where they meet is not seen`), sim.MeetUnseen},
	{regexp.MustCompile(`one above the other,? and do not cross`), sim.MeetPasses},
	{regexp.MustCompile(`do not cross`), sim.MeetNowhere},
	{regexp.MustCompile(`off to one side`), sim.MeetAside},
	{regexp.MustCompile(`cross in front`), sim.MeetNearer},
	{regexp.MustCompile(`cross behind|behind (?:it|them|that place) and cross there`), sim.MeetBeyond},
	{regexp.MustCompile(`(?:cross|meet) (?:inside|close|right there|there)|begin (?:inside|close|right there|there)|join into one|run to that place and meet`), sim.MeetAt},
}

// stringsTold are how many strings a sentence on them has in front and behind: the first
// form that it has. What runs to or past the place is in front of it, what goes on or is
// seen behind it is behind; what runs past it is both.
var stringsTold = []struct {
	says      *regexp.Regexp
	near, far int
}{
	{regexp.MustCompile(`No second string`), 0, 0},
	{regexp.MustCompile(`^One string is seen, in front`), 1, 0},
	{regexp.MustCompile(`^Two strings are seen (?:in front of|behind) (?:it|them|that place)\.$`), -1, -1}, // the rest is one line
	{regexp.MustCompile(`^One string is seen in front of (?:it|them), two behind`), 1, 2},
	{regexp.MustCompile(`^Two strings are seen in front of (?:it|them), one behind`), 2, 1},
	{regexp.MustCompile(`^Two strings (?:are seen in front of it and behind it|run through them|cross behind it\.)`), 2, 2},
	{regexp.MustCompile(`^Two strings are seen in front of (?:it|them) and cross behind (?:it|them); one is seen there`), 2, 1},
	{regexp.MustCompile(`^Two strings are seen in front of`), 2, 0},
	{regexp.MustCompile(`^One string is seen, behind`), 0, 1},
	{regexp.MustCompile(`^One string (?:runs to (?:it|them) and goes on|runs through that)`), 1, 1},
	{regexp.MustCompile(`^One string runs to`), 1, 2},
	{regexp.MustCompile(`one is seen there, two behind|two are seen there, one in front`), 1, 2},
	{regexp.MustCompile(`; two are seen behind|^Two strings (?:are seen behind|begin|go on behind)`), 0, 2},
	{regexp.MustCompile(`^(?:Two|The) strings .*one (?:goes on|is seen)`), 2, 1},
	{regexp.MustCompile(`run past|go on behind\.$|part again behind|^Two strings cross (?:close to them|right there)\.$|run to it and cross inside it\.$`), 2, 2},
	{regexp.MustCompile(`^(?:Two|The) strings`), 2, 0},
}

// counted reads how many strings are in front and behind from a sentence on strings.
func counted(s string) (near, far int) {
	for _, told := range stringsTold {
		if told.says.MatchString(s) {
			return told.near, told.far
		}
	}
	return -1, -1
}

var readings = []reading{
	takes(`You look at the bead “[^”]*”: it is one(?:, and shimmers.*)?\.`, func(h *heard, _ []string) { h.bead = sim.SeenOne }),
	takes(`You look at the bead “[^”]*”: (?:you see two|it looks like one with a doubled edge)(, one higher than the other)?\.`, func(h *heard, part []string) {
		h.bead, h.higher = sim.SeenTwo, part[1] != ""
	}),
	takes(`You look at the bead “[^”]*”: only the (right|left) eye sees it\.`, func(h *heard, part []string) { h.bead = sim.Seen(part[1]) }),
	takes(`You look at the bead “[^”]*”: neither eye sees it just now\.`, func(h *heard, _ []string) { h.bead = sim.SeenNone }),
	takes(`You look at a place on the bare string\.`, func(*heard, []string) {}),
	takes(`You were asked to look at the bead “[^”]*”\.`, func(h *heard, _ []string) { h.asked = true }),
	takes(`(?:It looks|They look) (a little soft|blurred): ?.*\.|(?:It looks|They look) (a little soft)\.`, func(h *heard, part []string) {
		h.clarity = sim.ClarityBlurred
		if part[2] != "" {
			h.clarity = sim.ClaritySoft
		}
	}),
	takes(`One eye's picture is (clear, the other's is (?:less so|blurred)|a little soft, the other's is blurred)\.`, func(h *heard, part []string) {
		h.uneven, h.clarity = true, sim.ClaritySoft
		if strings.HasPrefix(part[1], "clear") {
			h.clarity = sim.ClarityClear
		}
	}),
	takes(`One string runs through (?:it|that place); the other one (?:has a gap there|passes it by and has a gap)\.`, func(h *heard, _ []string) { h.gap = true }),
	takes(`Where they cross is hidden behind (?:the bead “([^”]*)”|the bead itself|the beads themselves)\.`, func(h *heard, part []string) {
		h.hidden, h.hiddenBy = true, part[1]
	}),
	takes(`They cross inside the bead “[^”]*”\.`, func(*heard, []string) {}),
	takes(`There (?:the bead “([^”]*)” hides|the bead itself hides|the beads themselves hide) one of them\.`, func(h *heard, part []string) {
		h.hidden, h.hiddenBy, h.hiddenOne = true, part[1], true
	}),
	takes(`(In front of (?:it|them) |Behind (?:it|them) )?[Tt]he two strings lie along one line and look like one\.`, func(h *heard, part []string) {
		h.overlaid = [2]bool{!strings.HasPrefix(part[1], "Behind"), !strings.HasPrefix(part[1], "In front")}
	}),
	takes(`(?:(?:One|Two|The|No second) strings?) .*\.`, func(h *heard, part []string) {
		h.near, h.far = counted(part[0])
		for _, m := range crossings {
			if m.says.MatchString(part[0]) {
				h.meet = m.meet
				break
			}
		}
	}),
	takes(`Of the (?:other )?beads(?: on the string)? only the bead “[^”]*” is not double\.`, func(h *heard, _ []string) { h.others = "but" }),
	takes(`The (?:other )?bead(?: on the string)? looks like one with a doubled edge\.|None of the (?:other )?beads(?: on the string)? is clearly double\.`, func(h *heard, _ []string) {
		h.others = "edge"
	}),
	takes(`(The|Some of the|None of the) (?:other )?beads?(?: on the string)? (?:is|are) (not )?double.*\.`, func(h *heard, part []string) {
		h.expected = strings.Contains(part[0], "should be")
		h.others = map[string]string{"The": "all", "Some of the": "some", "None of the": "none"}[part[1]]
		if part[2] != "" {
			h.others = "none"
		}
	}),
	takes(`The (right|left) eye is covered\.`, func(h *heard, part []string) { h.covered = eye[part[1]] }),
	takes(`With the (right|left) eye covered, the (right|left) eye swings (in|out|up|down) to take over: before, it had pointed (\w+)\.`, func(h *heard, part []string) {
		h.covered, h.took = eye[part[1]], eye[part[2]]
		h.eyes = map[string]sim.Aim{"inward": sim.AimEso, "outward": sim.AimExo}[part[4]]
	}),
	takes(`(The|The middle of the|Round the place looked at, the|From its middle to the place looked at, the) (right|left) eye's picture is being left out just now\.`, func(h *heard, part []string) {
		h.missing, h.where = eye[part[2]], sim.WhereCentre
		if part[1] == "The" {
			h.where = sim.WhereAll
		}
	}),
	takes(`The (right|left) half of the (right|left) eye's picture is being left out just now\.`, func(h *heard, part []string) {
		h.missing, h.where = eye[part[2]], sim.WhereTemporal
		if part[1] == part[2] { // the nasal retina has the temporal half of the field
			h.where = sim.WhereNasal
		}
	}),
	takes(`(In front of|Behind) the place looked at, the (right|left) eye's picture is being left out just now\.`, func(h *heard, part []string) {
		h.missing, h.where = eye[part[2]], sim.WhereNearer
		if part[1] == "Behind" {
			h.where = sim.WhereBeyond
		}
	}),
	takes(`Part of the (right|left) eye's picture is being left out just now, where there is no string\.`, func(h *heard, part []string) {
		h.missing, h.where = eye[part[1]], ""
	}),
	takes(`(?:The|Part of the) (right|left) eye's picture is fainter just now(?:, where there is no string)?\.`, func(h *heard, part []string) { h.fainter = eye[part[1]] }),
	takes(`Both eyes are aimed at (?:the bead|that place)\.`, func(h *heard, _ []string) { h.eyes = sim.AimOnTarget }),
	takes(`In this set-up the eyes (?:point too far apart|turn in too far) to meet\.`, func(h *heard, _ []string) { h.eyes = sim.AimApart }),
	takes(`In this set-up the eyes meet in front of (?:the bead|that place)\.`, func(h *heard, _ []string) { h.eyes = sim.AimEso }),
	takes(`In this set-up the eyes meet (?:behind (?:the bead|that place)|farther away than the string reaches)\.`, func(h *heard, _ []string) { h.eyes = sim.AimExo }),
	takes(`Exercises only under a professional's care\.`, func(h *heard, _ []string) { h.care = true }),
	// What has no code of the Account is borne out by truths alone.
	takes(`(?:In this set-up|A prism|Through|Take care|The eyes are|With one eye|The brain|The shift|The two pictures) ?.*\.`, func(*heard, []string) {}),
}

var sentences = regexp.MustCompile(`[^.]+\.(?: |$)`)

// hears reads a caption back into codes.
func hears(t *testing.T, caption string) (h heard) {
	t.Helper()
	h = heard{near: -1, far: -1}
	for _, s := range sentences.FindAllString(caption, -1) {
		s, known := strings.TrimSpace(s), false
		for _, r := range readings {
			if part := r.says.FindStringSubmatch(s); part != nil {
				r.takes(&h, part)
				known = true
				break
			}
		}
		require.True(t, known, "not understood: %q", s)
	}
	return h
}

// What a reader takes from the captions of thousands of set-ups is what is so, and all
// that matters of it: the beads, the strings, the crossing, whether it is clear, which
// eye's picture is missing or fainter, who takes over, and who needs care.
func TestReaderHearsTheAccount(t *testing.T) {
	w := english(t)
	es, err := For("es")
	require.NoError(t, err)
	most := map[string]int{}
	codes := map[string]int{}
	for seed := range uint64(10_000 / share) {
		s := draw(seed)
		if s.Validate() != nil {
			continue
		}
		v := lookSometime(&s, seed)
		a := &v.Account
		said := w.Family(v)
		h := hears(t, said)
		is := func(want, got any, what string) {
			t.Helper()
			require.Equal(t, want, got, "seed %d: %s: %q of %+v", seed, what, said, *a)
		}
		codes[string(a.Fixated)]++
		codes[string(a.Meet)]++

		is(a.Fixated, h.bead, "bead")
		is(a.Fixated == sim.SeenTwo && a.Higher != sim.Neither && !edged(v), h.higher, "higher")
		is(a.Asked != a.LookedAt, h.asked, "asked")
		is(a.NeedsCare, h.care, "care")
		is(v.Strings.NearOverlaid && !h.gap, h.overlaid[0] && !h.gap, "overlaid in front")
		is(v.Strings.FarOverlaid && !h.gap, h.overlaid[1] && !h.gap, "overlaid behind")
		is(a.Gap != sim.Neither, h.gap, "gap")
		if h.near >= 0 {
			is([2]int{a.Near, a.Far}, [2]int{h.near, h.far}, "strings")
		} else if !h.gap && !inOneLine(v) {
			is([2]int{0, 0}, [2]int{a.Near, a.Far}, "strings that are not told")
		}
		if (a.Near == 2 || a.Far == 2) && !inOneLine(v) {
			expected := a.Meet
			if a.Meet == sim.MeetPasses && h.meet == sim.MeetNowhere && !v.OneAbove() {
				expected = sim.MeetNowhere
			}
			switch joined := strings.Contains(said, "join into one"); {
			case joined:
				is(true, a.Meet.OnString(), "a crossing in what is seen as one")
				is(true, v.Strings.FusedFrom.Value < v.Target.At-farStretch && v.Strings.FusedTo.Value >= v.Target.At, "seen as one")
			case a.Fixated == sim.SeenOne && h.meet != "" && h.meet.OnString() && a.Near == 2:
				// No crossing is told where one string is drawn from far in front to the bead.
				st := &v.Strings
				is(false, st.FusedFrom.OK && st.FusedFrom.Value < v.Target.At-farStretch && st.FusedTo.Value >= v.Target.At, "a crossing told where none is drawn")
				is(a.Meet, h.meet, "crossing")
			case h.meet != "" || !h.gap:
				is(expected, h.meet, "crossing")
			}
		}
		if h.meet.OnString() {
			is(a.HiddenBy != "" && !strings.Contains(said, "join into one"), h.hidden, "a crossing that is hidden")
		}
		if h.hidden {
			hider := h.hiddenBy
			if hider == "" {
				hider = a.LookedAt
			}
			is(a.HiddenBy, hider, "the bead that hides it")
			for i := range v.Beads {
				if b := &v.Beads[i]; b.Name == hider {
					is(b.At > v.Crossing.At.Value, h.hiddenOne, "a bead beyond the crossing hides no more than one string")
				}
			}
		}
		clarity := h.clarity
		if clarity == "" && a.Clarity == sim.ClarityClear {
			clarity = sim.ClarityClear
		}
		is(a.Clarity, clarity, "clarity")
		is(a.Uneven, h.uneven, "unequal clarity")

		if s.Cover != sim.Neither {
			is(s.Cover, h.covered, "cover")
			is(sim.Side(""), h.missing, "left out behind a cover")
		} else if a.Missing != sim.Neither {
			is(a.Missing, h.missing, "left out")
			if h.where != "" || v.SuppressionShows() {
				is(a.MissingWhere, h.where, "left out where")
			}
		} else {
			is(sim.Side(""), h.missing, "left out")
		}
		fainter := a.Fainter
		if fainter == sim.Neither || s.Cover != sim.Neither {
			fainter = ""
		}
		if h.missing == "" {
			is(fainter, h.fainter, "fainter")
		}
		if h.took != "" {
			is(true, a.TookUp, "taken over")
			is(a.Fixes, h.took, "who took over")
		}
		switch h.eyes {
		case sim.AimOnTarget, sim.AimApart:
			is(a.Eyes, h.eyes, "eyes")
		case sim.AimEso:
			is(true, a.Eyes != sim.AimExo, "eso")
		case sim.AimExo:
			is(true, a.Eyes != sim.AimEso, "exo")
		}
		double, n := 0, 0
		for _, b := range v.Beads {
			if b.Name != a.LookedAt {
				n++
				if b.Seen == sim.SeenTwo && b.Overlap.Value <= sim.DoubledEdge {
					double++
				}
			}
		}
		switch h.others {
		case "all":
			is(n, double, "other beads")
		case "some":
			is(true, double > 0 && double < n, "other beads")
		case "but":
			is(n-1, double, "other beads")
		case "none", "edge":
			is(0, double, "other beads")
		}

		if h.expected {
			is(false, doubled(v), "beads that are as they should be while what is looked at is double")
		}
		if a.LookedAt == "" { // a place is masculine, a bead is not
			require.NotRegexp(t, `Se ven? (un poco )?borrosa`, es.Family(v), "seed %d", seed)
		}
		if a.Fuses && a.Eyes != sim.AimOnTarget {
			require.NotContains(t, said, "not fully followed it yet", "seed %d: a prism that is said not to be followed, and a bead that is one, though the eyes are off: %+v", seed, v.Now.Posture)
		}

		for lang, text := range map[string]string{"en": said, "es": es.Family(v)} {
			count := sentences.FindAllString(text, -1)
			require.LessOrEqual(t, len(count), room+2, "%q", text)
			for _, s := range count {
				require.LessOrEqual(t, len(strings.Fields(s)), 20, "%q", s)
			}
			most[lang] = max(most[lang], len(strings.Fields(text)))
		}
	}
	t.Logf("longest captions, words: %v; met: %v", most, codes)
	for lang, words := range most {
		assert.LessOrEqual(t, words, 100, lang)
	}
}
