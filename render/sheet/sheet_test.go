package sheet_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/xml"
	"errors"
	"fmt"
	htmlpkg "html"
	"io"
	"maps"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/pdf"
	"twincord/render/sheet"
	"twincord/render/vector/vectortest"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
)

// of is the sheet of a scene in a text, on the marks of a ruler in the units of the
// words.
func of(t testing.TB, say *words.Words, text string) *sheet.Sheet {
	t.Helper()
	sc, err := scenes.Parse("scene", []byte("format = 1\n"+text))
	require.NoError(t, err, text)
	mark := routine.Millimetre
	if say.Inches() {
		mark = routine.QuarterInch
	}
	sc = routine.OnMarks(sc, mark)
	return &sheet.Sheet{Kind: sc.Routine.Value.Kind, Title: sc.Title, Note: sc.Note, Words: say, Paper: pdf.A4, Steps: routine.Steps(sc)}
}

const (
	oneBead = "string.length_mm = 1200\nbeads = [{name = \"sky\", at_mm = 560}]\nlook.bead = \"sky\"\n"
	three   = "string.length_mm = 1200\nlook.bead = \"plum\"\nbeads = [{name = \"orange\", at_mm = 250, surface = \"banded\"}, " +
		"{name = \"sky\", at_mm = 550}, {name = \"plum\", at_mm = 850, surface = \"ringed\"}]\n"
	noBead  = "string.length_mm = 1200\nlook.at_mm = 600\n"
	invents = "title = \"A set-up\"\nnote = \"Invented.\"\n"
)

// texts are scenes with routines of every kind.
var texts = map[string]string{
	"walk":  invents + oneBead + "[routine]\n",
	"lost":  invents + oneBead + "[findings]\nnpc_break_mm = 150\nnpc_recovery_mm = 240\n[routine]\n",
	"long":  invents + "string.length_mm = 1200\nbeads = [{name = \"sky\", at_mm = 900}]\nlook.bead = \"sky\"\n[routine]\nsteps = 60\nstep_mm = 14\n",
	"jumps": invents + three + "[routine]\nkind = \"jumps\"\nrounds = 2\n",
	"bare":  invents + noBead + "[routine]\nkind = \"bare-string\"\nsteps = 5\nstep_mm = 80\n",
}

func speaking(t testing.TB, language string, inches bool) *words.Words {
	t.Helper()
	say, err := words.For(language)
	require.NoError(t, err)
	return say.WithInches(inches)
}

// handed are take-home sheets of every kind, in a language, on A4.
func handed(t testing.TB, language string) map[string]*sheet.Sheet {
	all := map[string]*sheet.Sheet{}
	for name, text := range texts {
		all[name] = of(t, speaking(t, language, false), text)
	}
	return all
}

// A handout is a sheet as it is handed out, written once for all tests that only read it.
type handout struct {
	*sheet.Sheet
	printed      []byte
	page, spoken string
}

// handouts are those there are so far.
var handouts = map[string]*handout{}

// handedOut is the sheet of a scene in a language, unit and paper.
func handedOut(t testing.TB, language, name string, inches bool, paper pdf.Paper) *handout {
	id := fmt.Sprintf("%s/%s/%v/%v", language, name, inches, paper.W)
	if handouts[id] == nil {
		s := of(t, speaking(t, language, inches), texts[name])
		s.Paper = paper
		handouts[id] = &handout{Sheet: s}
	}
	return handouts[id]
}

func (h *handout) pdf(t testing.TB) []byte {
	if h.printed == nil {
		h.printed = printedBytes(t, h.Sheet)
	}
	return h.printed
}

func (h *handout) html(t testing.TB) (html, text string) {
	if h.page == "" {
		h.page, h.spoken = htmlOf(t, h.Sheet)
	}
	return h.page, h.spoken
}

// everySheet calls check with sheets of every kind in every language, which come in turn
// with every unit on every paper; with the tag long, all with all.
func everySheet(t *testing.T, check func(t *testing.T, h *handout)) {
	for i, language := range words.Languages() {
		for n, name := range slices.Sorted(maps.Keys(texts)) {
			for j, inches := range []bool{false, true} {
				for k, paper := range []pdf.Paper{pdf.A4, pdf.Letter} {
					if !long && 2*j+k != (2*i+n)%4 {
						continue
					}
					t.Run(fmt.Sprintf("%s/%s/%v/%v", language, name, inches, paper.W), func(t *testing.T) {
						check(t, handedOut(t, language, name, inches, paper))
					})
				}
			}
		}
	}
}

// everyTongue calls check with every language and with every unit; with the tag long,
// with every language in every unit.
func everyTongue(t *testing.T, check func(say *words.Words, inches bool)) {
	for i, language := range words.Languages() {
		for j, inches := range []bool{false, true} {
			if long || i == j {
				check(speaking(t, language, inches), inches)
			}
		}
	}
}

func printedBytes(t testing.TB, s *sheet.Sheet) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, s.WritePDF(&b))
	return b.Bytes()
}

func TestASheetIsShapesAndText(t *testing.T) {
	everySheet(t, func(t *testing.T, s *handout) {
		b := s.pdf(t)
		text := vectortest.Unpacked(t, b)
		assert.NotContains(t, text, "/Image")
		assert.NotContains(t, text, "NaN")
		assert.LessOrEqual(t, len(b), sheet.MostPDF)
		assert.Equal(t, strings.Count(text, "/S/Figure"), strings.Count(text, "/Alt<FEFF"))
	})
	s := handedOut(t, "en", "walk", false, pdf.A4)
	assert.Equal(t, s.pdf(t), printedBytes(t, s.Sheet), "the same twice")
}

// htmlOf is a sheet as HTML, and its text without that of pictures, styles and scripts.
func htmlOf(t testing.TB, s *sheet.Sheet) (html, text string) {
	t.Helper()
	var b strings.Builder
	require.NoError(t, s.WriteHTML(&b))
	d := xml.NewDecoder(strings.NewReader(b.String()))
	var read strings.Builder
	hidden := 0
	unread := map[string]bool{"svg": true, "style": true, "script": true}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return b.String(), strings.Join(strings.Fields(read.String()), " ")
		}
		require.NoError(t, err)
		switch token := token.(type) {
		case xml.StartElement:
			if unread[token.Name.Local] {
				hidden++
			}
			read.WriteByte(' ')
		case xml.EndElement:
			if unread[token.Name.Local] {
				hidden--
			}
		case xml.CharData:
			if hidden == 0 {
				read.Write(token)
			}
		}
	}
}

// spaced is a text with plain spaces.
func spaced(text string) string { return strings.Join(strings.Fields(text), " ") }

func TestASheetAsHTMLStandsAlone(t *testing.T) {
	everySheet(t, func(t *testing.T, s *handout) {
		html, text := s.html(t)
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
			for key := range e.Attrs {
				assert.False(t, strings.HasPrefix(key, "on"), "%s: a policy refuses it", key)
			}
			switch e.Name {
			case "html":
				assert.Equal(t, s.Words.Language(), e.Attrs["lang"])
			case "link", "iframe", "img", "object", "embed", "form":
				t.Errorf("<%s> in a page that needs none", e.Name)
			case "script":
				assert.Empty(t, e.Attrs["src"])
			case "h1", "h2", "h3":
				now, err := strconv.Atoi(e.Name[1:])
				require.NoError(t, err)
				assert.LessOrEqual(t, now, level+1, "headings in order")
				level = now
			}
		}
		for _, e := range all {
			if e.Name == "svg" && e.Attrs["aria-hidden"] == "" {
				pictures++
				named := e.Attrs["aria-label"] != ""
				for id := range strings.FieldsSeq(e.Attrs["aria-labelledby"]) {
					assert.True(t, ids[id], id)
					named = true
				}
				assert.True(t, named, "a picture without words")
			}
			for _, key := range []string{"href", "for", "aria-labelledby", "list"} {
				for id := range strings.FieldsSeq(e.Attrs[key]) {
					assert.True(t, ids[strings.TrimPrefix(id, "#")], "%s %s leads nowhere", key, id)
				}
			}
		}
		assert.NotContains(t, html, "<title></title>")
		assert.Greater(t, pictures, 5)
		assert.Contains(t, text, s.Title)
		assert.Contains(t, text, s.Note)
	})
}

var policyPattern = regexp.MustCompile(`http-equiv="Content-Security-Policy" content="([^"]*)"`)

// The policy of the page lets its own script run and nothing else.
func TestThePolicyOfASheet(t *testing.T) {
	html, _ := handedOut(t, "en", "walk", false, pdf.A4).html(t)
	policy := htmlpkg.UnescapeString(policyPattern.FindStringSubmatch(html)[1])
	_, after, _ := strings.Cut(html, "<script>")
	script, rest, _ := strings.Cut(after, "</script>")
	sum := sha256.Sum256([]byte(script))
	assert.Contains(t, policy, "'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"'")
	assert.Contains(t, policy, "default-src 'none'")
	assert.NotContains(t, rest, "<script")
}

// One picture gives way to another at once: two at a time would show beads that are not
// there.
func TestNothingFades(t *testing.T) {
	html, _ := handedOut(t, "en", "walk", false, pdf.A4).html(t)
	for _, fading := range []string{"@keyframes", "transition", "animation:", "<animate"} {
		assert.NotContains(t, html, fading)
	}
	assert.Contains(t, html, "@media (prefers-reduced-motion: reduce) { #play { display: none; } }")
}

// Titles in any script are printed as far as the fonts go, and the sheet says so once.
func TestASheetInLettersThatTheFontsLack(t *testing.T) {
	s := handed(t, "en")["bare"]
	said := func() int { return strings.Count(vectortest.Unpacked(t, printedBytes(t, s)), "<25A1>") }
	assert.Zero(t, said())
	for _, title := range []string{"漢字 עברית", "العربية", "🧵👁️‍🗨️", "bell\a and\x00 nul"} {
		s.Title = title
		boxes := said()
		assert.Equal(t, !strings.Contains(title, "bell"), boxes > 0, title)
		_, text := htmlOf(t, s) // where the browser has the letters
		if boxes > 0 {
			assert.Contains(t, text, title)
		}
	}
}

// What is typed stays text, whatever it holds: it cannot break out of the page.
func TestHostileWordsStayWords(t *testing.T) {
	count := func(page string) (names []string) {
		for _, e := range vectortest.Elements(t, page) {
			if e.Name == "script" || e.Name == "img" || e.Name == "style" || e.Name == "title" || e.Name == "section" {
				names = append(names, e.Name)
			}
		}
		return names
	}
	plain, _ := handedOut(t, "en", "jumps", false, pdf.A4).html(t)
	for _, hostile := range []string{
		`</title><script>alert(1)</script>"><img src=x onerror=alert(1)>`, `]]></style><style>*{display:none} {{.Cautions}}`,
		`--><!-- & &amp; '`, "a\x00b\x1bc\u2028d\ufffee\xff",
	} {
		s := handed(t, "en")["jumps"]
		s.Title, s.Note = hostile, hostile
		for i := range s.Steps {
			s.Steps[i].Bead = hostile
			s.Steps[i].Setup = s.Steps[i].Setup.Clone()
			for j := range s.Steps[i].Setup.Beads {
				s.Steps[i].Setup.Beads[j].Name += `</p><img src=x>&"'` // as long as a name may be
			}
		}
		html, text := htmlOf(t, s) // well-formed
		assert.Equal(t, count(plain), count(html), hostile)
		if !strings.ContainsAny(hostile, "\x00") {
			assert.Contains(t, text, spaced(hostile))
		}
		printedBytes(t, s)
	}
}

// stops are what the first page says of when to stop, whatever the routine.
var stops = []words.Label{words.SheetStopTitle, words.SheetStopStrain, words.SheetStopStays, words.SheetStopNew, words.SheetStopTwo}

// stopOf is what it says besides of each kind of routine, and of no other.
var stopOf = map[routine.Kind]words.Label{
	routine.Walk: words.SheetStopWalk, routine.Jumps: words.SheetStopJumps, routine.BareString: words.SheetStopBare,
}

// turned is a posture that needs care.
const turned = "[posture]\ndeviation_prism = 20\nfixing = \"right\"\n"

// What is said for safety is all there; what a scene that needs care is told is there
// where it does, and first.
func TestASheetIsSafe(t *testing.T) {
	for _, language := range words.Languages() {
		say := speaking(t, language, false)
		for name := range texts {
			s := handedOut(t, language, name, false, pdf.A4)
			_, text := s.html(t)
			for _, l := range stops {
				assert.Contains(t, text, say.Label(l), name)
			}
			for kind, l := range stopOf {
				assert.Equal(t, kind == s.Kind, strings.Contains(text, say.Label(l)), "%s: %s", name, l)
			}
			for _, c := range s.Words.Cautions() {
				due := c != say.Label(words.CautionSuppression) && c != say.Label(words.CautionFilm)
				assert.Equal(t, due, strings.Contains(text, spaced(c)), "%s: %s", name, c)
			}
			assert.NotContains(t, text, say.Label(words.SheetCare), name)
		}
		s := of(t, say, oneBead+turned+"[routine]\n")
		var b bytes.Buffer
		require.ErrorIs(t, s.WritePDF(&b), sheet.ErrNeedsCare)
		require.ErrorIs(t, s.WriteHTML(&b), sheet.ErrNeedsCare)
		assert.Zero(t, b.Len())
		s.Prescribed, s.Prescriber = true, "Dr <Invented>"
		page, text := htmlOf(t, s)
		assert.NotContains(t, page, "<Invented>")
		care, title := strings.Index(text, say.Label(words.SheetCare)), strings.LastIndex(text[:strings.Index(text, say.Label(words.SheetStopTitle))], say.Label(words.SheetWalkTitle))
		assert.Less(t, 0, care)
		assert.Less(t, care, title, "the care line is first")
		by := strings.Index(text, say.Filled(words.PagePrescribed, "Name", s.Prescriber))
		assert.True(t, care < by && by < title, "who prescribed it stands with the care line")
		assert.Equal(t, 2, strings.Count(text, spaced(say.Label(words.CautionSuppression))), "in the box, and among the cautions")
		printedBytes(t, s)
	}
}

// The questions, the other answers, what they mean, what to try and when to stop stand
// in the order of the routine.
func TestASheetAsksInOrder(t *testing.T) {
	everySheet(t, func(t *testing.T, s *handout) {
		_, text := s.html(t)
		var said []string
		for _, q := range routine.Questions(s.Kind) {
			said = append(said, s.Words.Quoted(s.Words.Ask(string(q))))
		}
		others := routine.Others(s.Kind, s.Steps)
		require.NotEmpty(t, others)
		for _, o := range others {
			said = append(said, s.Words.Heard(string(o.Answer)), s.Words.Means(string(o.Answer)))
			for _, try := range o.Answer.Tries(s.Kind) {
				said = append(said, s.Words.Try(string(try)))
			}
			said = append(said, s.Words.StopWhen(string(o.Stop())))
		}
		for _, sentence := range said {
			_, after, found := strings.Cut(text, spaced(sentence))
			require.True(t, found, "%q in its turn", sentence)
			text = after
		}
	})
}

// Where the string is tied is told as it is: higher and lower than the eyes, right and
// left of straight ahead.
func TestASheetSaysWhereTheStringIsTied(t *testing.T) {
	everyTongue(t, func(say *words.Words, _ bool) {
		off := func(l words.Label) string { return spaced(say.Filled(l, "Off", say.Ruled(304.8))) }
		all := map[string]string{
			"anchor_height_mm = 304.8": off(words.SheetSetHigher), "anchor_height_mm = -304.8": off(words.SheetSetLower),
			"anchor_side_mm = 304.8": off(words.SheetStringRight), "anchor_side_mm = -304.8": off(words.SheetStringLeft),
			"sag_mm = 152.4": spaced(say.Filled(words.SheetSetSlack, "Length", say.Ruled(1200), "Off", say.Ruled(152.4))),
		}
		for key := range all {
			_, text := htmlOf(t, of(t, say, oneBead+"string."+key+"\n[routine]\nsteps = 1\n"))
			for other, sentence := range all {
				assert.Equal(t, key == other, strings.Contains(text, sentence), "%s: %q", key, sentence)
			}
		}
	})
}

var (
	inchPattern  = regexp.MustCompile(`(\d*)([¼½¾]?)\s(?:in|pulg)\b`)
	fractions    = map[string]float64{"": 0, "¼": 0.25, "½": 0.5, "¾": 0.75}
	metrePattern = regexp.MustCompile(`(\d+(?:[.,]\d)?)\scm`)
)

// lengthsIn are the lengths that a text speaks of, in its units.
func lengthsIn(t testing.TB, text string, inches bool) (all []float64) {
	if !inches {
		for _, m := range metrePattern.FindAllStringSubmatch(text, -1) {
			v, err := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
			require.NoError(t, err)
			all = append(all, v)
		}
		return all
	}
	for _, m := range inchPattern.FindAllStringSubmatch(text, -1) {
		whole := 0
		if m[1] != "" {
			var err error
			whole, err = strconv.Atoi(m[1])
			require.NoError(t, err)
		}
		all = append(all, float64(whole)+fractions[m[2]])
	}
	return all
}

// What is printed adds up: from the beginning the printed step leads over the printed
// places to the printed end.
func TestPrintedStepsAddUp(t *testing.T) {
	everyTongue(t, func(say *words.Words, inches bool) {
		for i, r := range []string{"", "step_mm = 25\nsteps = 20\n", "step_mm = 33.3\nsteps = 7\n", "step_mm = 7\nsteps = 40\n", "step_mm = 120\nsteps = 4\n"} {
			s := of(t, say, oneBead+"[routine]\nways = \"there\"\n"+r)
			_, text := htmlOf(t, s)
			begin := lengthsIn(t, sentenceWith(t, text, say, words.SheetDoWalkBegin), inches)
			step := lengthsIn(t, sentenceWith(t, text, say, words.SheetDoWalkStep), inches)
			require.Len(t, begin, 1)
			require.Len(t, step, 2)
			n := float64(len(s.Steps) - 1)
			assert.InDelta(t, step[1], begin[0]-n*step[0], 1e-9, "%s %v %d: %v, %v steps of %v to %v", say.Language(), inches, i, begin[0], n, step[0], step[1])
			if inches {
				assert.NotRegexp(t, `\d[.,]\d+\s(in|pulg)`, text, "no decimals of an inch")
			}
		}
	})
}

// sentenceWith is the part of a text that a sentence with braces has become.
func sentenceWith(t testing.TB, text string, say *words.Words, l words.Label) string {
	t.Helper()
	mark := "\x00"
	parts := strings.Split(spaced(say.Filled(l, "From", mark, "Step", mark, "To", mark)), mark)
	for i := range parts {
		parts[i] = regexp.QuoteMeta(parts[i])
	}
	found := regexp.MustCompile(strings.Join(parts, `\S+ (?:cm|in|pulg)`)).FindString(text)
	require.NotEmpty(t, found, "%q in %q", parts, text)
	return found
}

// anyScene is a scene with a routine and any values that a file may hold.
func anyScene(r *rand.Rand) (*scenes.Scene, error) {
	between := func(a, b float64) float64 { return math.Round(10*(a+(b-a)*r.Float64())) / 10 }
	pick := func(of ...string) string { return of[r.IntN(len(of))] }
	length := between(300, 3000)
	text := fmt.Sprintf("format = 1\n[string]\nlength_mm = %v\nsag_mm = %v\nanchor_height_mm = %v\nanchor_side_mm = %v\nthickness_mm = %v\n",
		length, orNone(r, between(0, length/5)), orNone(r, between(-200, 200)), orNone(r, between(-200, 200)), between(1, 5))
	if r.IntN(4) == 0 {
		text += fmt.Sprintf("near_end_mm = [%v, %v, %v]\n", between(-20, 20), between(20, 80), between(-60, 20))
	}
	kind := pick("walk", "jumps", "bare-string")
	look := ""
	switch kind {
	case "bare-string":
		look = fmt.Sprintf("at_mm = %v", between(30, length))
	default:
		at := between(12, 120)
		n := 1
		if kind == "jumps" {
			n = 2 + r.IntN(11)
		}
		for i := range n {
			if kind == "walk" {
				at = between(40, length-15)
			}
			if at > length {
				break
			}
			text += fmt.Sprintf("[[beads]]\nname = \"b%d\"\nat_mm = %v\ndiameter_mm = %v\nsurface = %q\n", i, at, between(5, 20), pick("plain", "banded", "dotted", "ringed"))
			at = math.Round(at + between(22, 200))
		}
		look = "bead = \"b0\""
	}
	text += "[look]\n" + look + "\n"
	if r.IntN(2) == 0 {
		text += fmt.Sprintf("[posture]\ndeviation_prism = %v\nvertical_prism = %v\ncyclo_deg = %v\nfixing = %q\n", between(-40, 40), orNone(r, between(-10, 10)), orNone(r, between(-15, 15)), pick("both", "right", "left"))
	} else if r.IntN(2) == 0 {
		text += fmt.Sprintf("[findings]\nnpc_break_mm = %v\nnpc_recovery_mm = %v\n", between(50, 150), between(160, 400))
	}
	if r.IntN(3) == 0 {
		text += fmt.Sprintf("[suppression]\neye = %q\nzone = %q\ndepth = %v\n", pick("right", "left"), pick("all", "central", "nasal", "temporal", "nearer", "beyond"), between(0, 1))
	}
	for _, eye := range []string{"right", "left"} {
		if r.IntN(3) == 0 {
			text += fmt.Sprintf("[glass.%s]\nbase_out_prism = %v\nlens_d = %v\n", eye, between(-20, 20), between(-5, 5))
		}
	}
	text += fmt.Sprintf("[routine]\nkind = %q\nstep_mm = %v\nsteps = %d\nhold_s = %v\nrounds = %d\n", kind, between(1, 60), 1+r.IntN(12), between(1, 20), 1+r.IntN(3))
	return scenes.Parse("any", []byte(text))
}

// orNone is a number or 0.
func orNone(r *rand.Rand, x float64) float64 { return x * float64(r.IntN(2)) }

// No routine that a file may hold is refused, and none makes a number that is none.
func TestEveryRoutineHasItsSheet(t *testing.T) {
	const seed = 11
	want := 5
	if long {
		want = 200
	}
	r := rand.New(rand.NewPCG(seed, 0))
	say := speaking(t, "es", true)
	made := 0
	for try := 0; made < want; try++ {
		require.Less(t, try, 100*want, "hardly any scene is one")
		sc, err := anyScene(r)
		if err != nil {
			continue
		}
		made++
		var text strings.Builder
		require.NoError(t, sc.Write(&text))
		sc = routine.OnMarks(sc, routine.QuarterInch)
		s := &sheet.Sheet{Kind: sc.Routine.Value.Kind, Title: "A set-up", Words: say, Paper: pdf.Letter, Steps: routine.Steps(sc), Prescribed: true}
		var b bytes.Buffer
		require.NoError(t, s.WritePDF(&b), "seed %d, try %d:\n%s", seed, try, text.String())
		assert.LessOrEqual(t, b.Len(), sheet.MostPDF, "seed %d, try %d:\n%s", seed, try, text.String())
		html, _ := htmlOf(t, s)
		assert.LessOrEqual(t, len(html), sheet.MostHTML, "seed %d, try %d:\n%s", seed, try, text.String())
		assert.NotContains(t, html, "NaN")
		assert.NotContains(t, html, "Inf")
	}
}

// As many beads as there may be, with names as long as they may be, still have a sheet.
func TestACrowdedSheet(t *testing.T) {
	text := "string.length_mm = 1500\nlook.bead = \"bead with a rather long name 00\"\n"
	for i := range sim.MaxBeads {
		text += fmt.Sprintf("[[beads]]\nname = \"bead with a rather long name %02d\"\nat_mm = %d\nsurface = %q\n", i, 150+100*i,
			[]string{"plain", "banded", "dotted", "ringed"}[i%4])
	}
	s := of(t, speaking(t, "es", false), text+"[routine]\nkind = \"jumps\"\n")
	assert.LessOrEqual(t, len(printedBytes(t, s)), sheet.MostPDF)
	html, told := htmlOf(t, s)
	assert.LessOrEqual(t, len(html), sheet.MostHTML)
	for i := range s.Steps {
		assert.Contains(t, told, s.Steps[i].Bead)
	}
}

// A note may be as long as it likes: it goes on the next page.
func TestALongNote(t *testing.T) {
	s := handed(t, "en")["jumps"]
	s.Note = strings.Repeat("A long note. ", 500)
	printedBytes(t, s)
	_, text := htmlOf(t, s)
	assert.Equal(t, 500, strings.Count(text, "A long note."))
}

func TestASheetThatCannotBeWrittenIsRefused(t *testing.T) {
	for want, change := range map[string]func(s *sheet.Sheet){
		"has no steps":         func(s *sheet.Sheet) { s.Steps = nil },
		"run\" is not known":   func(s *sheet.Sheet) { s.Kind = "run" },
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
	assert.ErrorContains(t, handed(t, "en")["jumps"].WriteHTML(vectortest.BrokenWriter{}), "disk full")
}
