package sheet_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/pdf"
	"twincord/render/sheet"
	"twincord/render/vector/vectortest"
	"twincord/render/words"
	"twincord/scenes/routine"
	"twincord/sim"
)

// handed are take-home sheets of every kind, in a language, on A4.
func handed(t *testing.T, language string) map[string]*sheet.Sheet {
	say, err := words.For(language)
	require.NoError(t, err)
	blank := func(kind routine.Kind) *sheet.Sheet {
		return &sheet.Sheet{Kind: kind, Title: "A set-up", Note: "Invented.", Words: say, Paper: pdf.A4}
	}
	all := map[string]*sheet.Sheet{}
	walk := blank(routine.Walk)
	for _, at := range []float64{560, 510, 460, 410, 360, 310, 260, 210, 160, 110, 60} {
		addStep(walk, alone().LookingAt(at), false)
	}
	for _, at := range []float64{110, 160, 210, 260, 310, 360, 410, 460, 510, 560} {
		addStep(walk, alone().LookingAt(at), true)
	}
	all["walk"] = walk

	// The findings of a near point far out: the hold is lost at 12 cm.
	lost := blank(routine.Walk)
	found := alone()
	found.Findings = sim.Some(sim.DefaultFindings())
	found.Findings.Value.NPCBreak, found.Findings.Value.NPCRecovery = 150, 240
	for _, at := range []float64{300, 240, 180, 120} {
		addStep(lost, found.LookingAt(at), false)
	}
	found.Findings.Value.State = sim.StateBroken
	addStep(lost, found.LookingAt(180), true)
	found.Findings.Value.State = sim.StateHolding
	for _, at := range []float64{240, 300} {
		addStep(lost, found.LookingAt(at), true)
	}
	all["lost"] = lost

	long := blank(routine.Walk)
	for i := range 61 {
		addStep(long, alone().LookingAt(900-14*float64(i)), false)
	}
	all["long"] = long

	jumps := blank(routine.Jumps)
	for i, bead := range []int{2, 1, 0, 1, 2, 1, 0, 1, 2} {
		set := *vectortest.Setups()["middle"]
		set.Look.Bead = bead
		addStep(jumps, set, i > 2 && i < 5 || i > 6)
		if i > 4 {
			jumps.Steps[i].Round = 1
		}
	}
	all["jumps"] = jumps

	bare := blank(routine.BareString)
	for i, at := range []float64{600, 520, 440, 360, 280, 200, 280, 360, 440, 520, 600} {
		set := alone()
		set.Beads = nil
		set.Look.Bead, set.Look.At = sim.NoBead, at
		addStep(bare, *set, i > 5)
	}
	all["bare"] = bare
	return all
}

// alone is a string with one bead.
func alone() *sim.Setup {
	s := vectortest.Setups()["middle"]
	s.Beads = s.Beads[1:2]
	s.Look.Bead = 0
	return s
}

func addStep(s *sheet.Sheet, set sim.Setup, back bool) {
	v := new(sim.View)
	v.Look(&set)
	s.Steps = append(s.Steps, sheet.SheetStep{View: v, Back: back, Hold: 5, Lost: set.Findings.OK && v.Account.Fixated == sim.SeenTwo})
}

// everySheet calls check with every sheet in every language, unit and paper.
func everySheet(t *testing.T, check func(t *testing.T, s *sheet.Sheet)) {
	for _, language := range words.Languages() {
		for name, s := range handed(t, language) {
			for _, inches := range []bool{false, true} {
				for _, paper := range []pdf.Paper{pdf.A4, pdf.Letter} {
					if (name == "long" || name == "lost") && inches != (paper == pdf.Letter) {
						continue // of these walks one of each will do
					}
					t.Run(fmt.Sprintf("%s/%s/%v/%v", language, name, inches, paper.W), func(t *testing.T) {
						s := *s
						s.Words, s.Paper = s.Words.WithInches(inches), paper
						check(t, &s)
					})
				}
			}
		}
	}
}

func TestASheetIsOneOrTwoPages(t *testing.T) {
	everySheet(t, func(t *testing.T, s *sheet.Sheet) {
		var b bytes.Buffer
		require.NoError(t, s.WritePDF(&b))
		text := vectortest.Unpacked(t, b.Bytes())
		pages := strings.Count(text, "/Type/Page/")
		assert.Contains(t, []int{1, 2}, pages)
		assert.NotContains(t, text, "/Image")
		assert.Less(t, b.Len(), 600_000)
		assert.Equal(t, strings.Count(text, "/S/Figure"), strings.Count(text, "/Alt<FEFF"))
	})
	s := handed(t, "en")["walk"]
	var once, twice bytes.Buffer
	require.NoError(t, s.WritePDF(&once))
	require.NoError(t, s.WritePDF(&twice))
	assert.Equal(t, once.Bytes(), twice.Bytes(), "the same twice")
}

// htmlOf is a sheet as HTML, and its text without that of pictures and styles.
func htmlOf(t *testing.T, s *sheet.Sheet) (html, text string) {
	var b strings.Builder
	require.NoError(t, s.WriteHTML(&b))
	d := xml.NewDecoder(strings.NewReader(b.String()))
	var read strings.Builder
	hidden := 0
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return b.String(), strings.Join(strings.Fields(read.String()), " ")
		}
		require.NoError(t, err)
		switch token := token.(type) {
		case xml.StartElement:
			if token.Name.Local == "svg" || token.Name.Local == "style" {
				hidden++
			}
			read.WriteByte(' ')
		case xml.EndElement:
			if token.Name.Local == "svg" || token.Name.Local == "style" {
				hidden--
			}
		case xml.CharData:
			if hidden == 0 {
				read.Write(token)
			}
		}
	}
}

func TestASheetAsHTMLStandsAlone(t *testing.T) {
	everySheet(t, func(t *testing.T, s *sheet.Sheet) {
		if s.Paper == pdf.Letter {
			return // HTML has no paper
		}
		html, text := htmlOf(t, s)
		assert.LessOrEqual(t, len(html), sheet.MostHTML)
		assert.NotContains(t, html, "://")
		assert.NotContains(t, strings.ReplaceAll(html, "url(#", ""), "url(")
		assert.NotContains(t, html, "@import")
		assert.NotContains(t, html, "ZgotmplZ", "what the template would not let through")

		ids, level, pictures := map[string]bool{}, 0, 0
		all := vectortest.Elements(t, html)
		for _, e := range all {
			if id := e.Attrs["id"]; id != "" {
				assert.False(t, ids[id], "id %s twice", id)
				ids[id] = true
			}
			switch e.Name {
			case "html":
				assert.Equal(t, s.Words.Language(), e.Attrs["lang"])
			case "script", "link", "iframe", "img", "object", "embed":
				t.Errorf("<%s> in a page that needs none", e.Name)
			case "h1", "h2", "h3":
				now, err := strconv.Atoi(e.Name[1:])
				require.NoError(t, err)
				assert.LessOrEqual(t, now, level+1, "headings in order")
				level = now
			}
		}
		for _, e := range all {
			if e.Name == "svg" {
				pictures++
				named := e.Attrs["aria-label"] != ""
				for id := range strings.FieldsSeq(e.Attrs["aria-labelledby"]) {
					assert.True(t, ids[id], id)
					named = true
				}
				assert.True(t, named, "a picture without words")
			}
			for _, key := range []string{"href", "for", "aria-labelledby"} {
				for id := range strings.FieldsSeq(e.Attrs[key]) {
					assert.True(t, ids[strings.TrimPrefix(id, "#")], "%s %s leads nowhere", key, id)
				}
			}
		}
		assert.NotContains(t, html, "<title></title>")
		assert.Greater(t, pictures, 5)

		for _, c := range s.Words.Cautions() {
			assert.Contains(t, text, c)
		}
		assert.Contains(t, text, s.Title)
		assert.Contains(t, text, s.Note)
		for _, l := range []words.Label{words.SheetName, words.SheetPrepared, words.SheetDate, words.SheetLetters, words.CautionsTitle} {
			assert.Contains(t, text, s.Words.Label(l))
		}
	})
}

// What is asked, what may be answered and what is tried stand in the order of the
// routine.
func TestASheetAsksInOrder(t *testing.T) {
	everySheet(t, func(t *testing.T, s *sheet.Sheet) {
		_, text := htmlOf(t, s)
		var said []string
		for _, q := range routine.Questions(s.Kind) {
			said = append(said, s.Words.Ask(string(q)))
		}
		for _, a := range routine.Answers(s.Kind) {
			heard, means := s.Words.OtherAnswer(string(a))
			said = append(said, heard, means)
		}
		for _, try := range routine.Tries(s.Kind) {
			said = append(said, s.Words.Try(string(try)))
		}
		for _, sentence := range said {
			_, after, found := strings.Cut(text, sentence)
			require.True(t, found, "%q in its turn", sentence)
			text = after
		}
	})
}

// The expected answers are those of the views, each place with its own.
func TestASheetExpectsWhatTheModelSees(t *testing.T) {
	for _, language := range words.Languages() {
		for name, s := range handed(t, language) {
			html, text := htmlOf(t, s)
			for i := range s.Steps {
				assert.Contains(t, text, s.Words.Family(s.Steps[i].View), "%s, step %d", name, i)
			}
			// The pictures say it too, and where they are.
			for _, i := range []int{0, len(s.Steps) - 1} {
				v := s.Steps[i].View
				alt := s.Words.Filled(words.SheetAt, "At", s.Words.Length(v.Target.At), "Sentence", s.Words.Family(v))
				assert.Contains(t, html, ">"+alt+"</title>", name)
			}
		}
	}
	lost := handed(t, "en")["lost"]
	require.True(t, lost.Steps[3].Lost)
	require.False(t, lost.Steps[2].Lost)
	_, text := htmlOf(t, lost)
	for _, want := range []string{
		"Stop wherever it becomes two. (In this set-up the model expects that at 12 cm.)",
		"From 30 cm to 18 cm: You look at the bead “sky”: it is one.",
		"At 12 cm: You look at the bead “sky”: you see two.",
		"On the way back, at 18 cm: You look at the bead “sky”: you see two.",
		"On the way back, from 24 cm to 30 cm: You look at the bead “sky”: it is one.",
		"sky (dotted) at 30 cm", "count slowly to 5,",
	} {
		assert.Contains(t, text, want)
	}
	assert.Contains(t, text, " 18 cm, way back ", "a place that looks otherwise on the way back")
	_, text = htmlOf(t, handed(t, "en")["bare"])
	assert.Contains(t, text, lost.Words.Label(words.SheetArrow))
	_, text = htmlOf(t, handed(t, "en")["jumps"])
	assert.Contains(t, text, "in this order: plum, sky, orange, sky, plum.")
	assert.Contains(t, text, "Do all of this 2 times.")
	_, text = htmlOf(t, handed(t, "es")["walk"])
	assert.Contains(t, text, "hasta que esté a 6 cm.")
	assert.Contains(t, text, "A la vuelta debería verse igual.")
}

var (
	keyFramesPattern = regexp.MustCompile(`@keyframes f(\d+) \{(.*) \}\n`)
	keyPattern       = regexp.MustCompile(`([\d.]+)% \{ opacity: ([\d.]+); \}`)
)

// The film goes through the places as the exercise does, and at every moment the
// pictures that are seen make up one: nothing flashes.
func TestTheFilmOfASheet(t *testing.T) {
	html, _ := htmlOf(t, handed(t, "en")["walk"])
	type key struct{ at, opacity float64 }
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		return v
	}
	var places [][]key
	for _, m := range keyFramesPattern.FindAllStringSubmatch(html, -1) {
		require.Equal(t, strconv.Itoa(len(places)), m[1])
		var keys []key
		for _, k := range keyPattern.FindAllStringSubmatch(m[2], -1) {
			keys = append(keys, key{number(k[1]), number(k[2])})
		}
		require.Equal(t, 0., keys[0].at)
		require.Equal(t, 100., keys[len(keys)-1].at)
		places = append(places, keys)
	}
	require.Len(t, places, 11)
	opacity := func(keys []key, at float64) float64 {
		for i := 1; i < len(keys); i++ {
			if a, b := keys[i-1], keys[i]; at <= b.at {
				return a.opacity + (b.opacity-a.opacity)*(at-a.at)/(b.at-a.at)
			}
		}
		return keys[len(keys)-1].opacity
	}
	var order []int
	for at := 0.; at <= 100; at += 0.05 {
		sum := 0.
		for i, keys := range places {
			o := opacity(keys, at)
			sum += o
			if o == 1 && (len(order) == 0 || order[len(order)-1] != i) {
				order = append(order, i)
			}
		}
		require.InDelta(t, 1, sum, 0.02, at)
	}
	assert.Equal(t, []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 9, 8, 7, 6, 5, 4, 3, 2, 1, 0}, order)
	assert.Contains(t, html, "@media (prefers-reduced-motion: reduce) { .moving { display: none; } }")
}

// Where not every place has a picture, those do at which the answer becomes another
// one, and the sheet says so.
func TestALongSheet(t *testing.T) {
	s := handed(t, "en")["long"]
	html, text := htmlOf(t, s)
	assert.Contains(t, text, s.Words.Label(words.SheetSome))
	assert.Equal(t, 12, strings.Count(html, "@keyframes"))
	for _, name := range []string{"walk", "lost", "jumps", "bare"} {
		_, text := htmlOf(t, handed(t, "en")[name])
		assert.NotContains(t, text, s.Words.Label(words.SheetSome), name)
	}
}

// As many beads as there may be, with names as long as they may be, leave fewer
// pictures, and still two pages.
func TestACrowdedSheet(t *testing.T) {
	s := handed(t, "es")["jumps"]
	s.Paper, s.Steps = pdf.Letter, nil
	set := alone()
	set.String.Length, set.Beads = 1500, nil
	for i := range sim.MaxBeads {
		set.Beads = append(set.Beads, sim.Bead{
			Name: fmt.Sprintf("a bead with its rather long name %02d", i)[3:], At: 150 + 100*float64(i), Diameter: 16,
			Surface: []sim.Surface{sim.SurfacePlain, sim.SurfaceBanded, sim.SurfaceDotted, sim.SurfaceRinged}[i%4],
		})
	}
	for i := 2*sim.MaxBeads - 2; i >= 0; i-- {
		set.Look.Bead = max(i, sim.MaxBeads-1) - min(i, sim.MaxBeads-1)
		addStep(s, *set, i < sim.MaxBeads-1)
	}
	var b bytes.Buffer
	require.NoError(t, s.WritePDF(&b))
	assert.LessOrEqual(t, strings.Count(vectortest.Unpacked(t, b.Bytes()), "/Type/Page/"), 2)
	html, text := htmlOf(t, s)
	assert.LessOrEqual(t, len(html), sheet.MostHTML)
	for i := range s.Steps {
		assert.Contains(t, text, s.Words.Family(s.Steps[i].View))
	}
}

func TestASheetThatCannotBeWrittenIsRefused(t *testing.T) {
	for want, change := range map[string]func(s *sheet.Sheet){
		"has no steps":         func(s *sheet.Sheet) { s.Steps = nil },
		"run\" is not known":   func(s *sheet.Sheet) { s.Kind = "run" },
		"do not fit":           func(s *sheet.Sheet) { s.Note = strings.Repeat("A long note. ", 500) },
		"walk, jumps, bare-st": func(s *sheet.Sheet) { s.Kind = "" },
	} {
		s := handed(t, "en")["jumps"]
		change(s)
		var b bytes.Buffer
		err := s.WritePDF(&b)
		require.Error(t, err, want)
		assert.Contains(t, err.Error(), want)
		assert.Zero(t, b.Len())
	}
	s := handed(t, "en")["jumps"]
	s.Steps = nil
	var b bytes.Buffer
	require.Error(t, s.WriteHTML(&b))
	assert.Zero(t, b.Len())
}

// Titles in any script are printed as far as the fonts go, and the sheet says so once.
func TestASheetInLettersThatTheFontsLack(t *testing.T) {
	s := handed(t, "en")["jumps"]
	said := func() (bytes.Buffer, int) {
		var b bytes.Buffer
		require.NoError(t, s.WritePDF(&b))
		return b, strings.Count(vectortest.Unpacked(t, b.Bytes()), "<25A1>")
	}
	_, boxes := said()
	assert.Zero(t, boxes)
	for _, title := range []string{"漢字", "עברית", "العربية", "🧵👁️‍🗨️", "bell\a and\x00 nul"} {
		s.Title = title
		_, boxes := said()
		assert.Equal(t, !strings.Contains(title, "bell"), boxes > 0, title)
		_, text := htmlOf(t, s) // where the browser has the letters
		if boxes > 0 {
			assert.Contains(t, text, title)
		}
	}
}

// What a scene is called cannot break out of the page.
func TestHostileWordsStayWords(t *testing.T) {
	for _, hostile := range []string{
		`</title><script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `]]></style><style>*{display:none}`,
		`{{.Cautions}}`, `--><!-- & &amp; '`, "a\x00b\x1bc\u2028d\ufffee\xff",
	} {
		s := handed(t, "en")["jumps"]
		s.Title, s.Note = hostile, hostile
		for i := range s.Steps {
			set := s.Steps[i].View.Now
			set.Beads = append([]sim.Bead(nil), set.Beads...)
			for b := range set.Beads {
				set.Beads[b].Name += hostile
			}
			s.Steps[i].View = new(sim.View)
			s.Steps[i].View.Look(&set)
		}
		html, text := htmlOf(t, s) // well-formed
		plain, _ := htmlOf(t, handed(t, "en")["jumps"])
		count := func(page string) (names []string) {
			for _, e := range vectortest.Elements(t, page) {
				if e.Name == "script" || e.Name == "img" || e.Name == "style" || e.Name == "title" || e.Name == "section" {
					names = append(names, e.Name)
				}
			}
			return names
		}
		assert.Equal(t, count(plain), count(html), hostile)
		if !strings.ContainsAny(hostile, "\x00") {
			assert.Contains(t, text, strings.Join(strings.Fields(hostile), " "))
		}
		var b bytes.Buffer
		require.NoError(t, s.WritePDF(&b), hostile)
	}
}
