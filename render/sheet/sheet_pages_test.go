//go:build pages

package sheet_test

import (
	"encoding/json"
	"fmt"
	"html"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/pdf"
	"twincord/render/sheet"
	"twincord/render/theme"
	"twincord/render/vector/vectortest"
	"twincord/render/words"
	"twincord/scenes/routine"
)

// checkers is the folder of the other makers' checkers of pages: axe-core, and the W3C's
// checker of HTML.
func checkers(t *testing.T) string {
	folder := os.Getenv("CHECKERS")
	require.NotEmpty(t, folder, "CHECKERS is where they are; make test-pages fetches them")
	return folder
}

// printedText is the text of pages of a PDF as Poppler reads it, in one line.
func printedText(t *testing.T, file string, pages ...string) string {
	args := append([]string{"-enc", "UTF-8"}, pages...)
	return spaced(vectortest.Poppler(t, "pdftotext", append(args, file, "-")...))
}

// plain takes away the hyphens at which a line may end.
func plain(text string) string { return strings.ReplaceAll(spaced(text), "-", "") }

func TestPopplerReadsSheets(t *testing.T) {
	check := func(t *testing.T, s *sheet.Sheet) {
		file := vectortest.Saved(t, "sheet.pdf", func(f *os.File) error { return s.WritePDF(f) })
		info := vectortest.Poppler(t, "pdfinfo", file)
		assert.Regexp(t, `Pages: +[4567]\n`, info)
		assert.Regexp(t, `Tagged: +yes`, info)
		size := "595.28 x 841.89 pts (A4)"
		if s.Paper == pdf.Letter {
			size = "612 x 792 pts (letter)"
		}
		assert.Contains(t, info, size)

		fonts := strings.Split(strings.TrimSpace(vectortest.Poppler(t, "pdffonts", file)), "\n")[2:]
		assert.NotEmpty(t, fonts)
		for _, font := range fonts {
			assert.Regexp(t, `Identity-H +yes +yes +yes`, font, "embedded, a part, with its letters")
		}
		assert.Len(t, strings.Split(strings.TrimSpace(vectortest.Poppler(t, "pdfimages", "-list", file)), "\n"), 2, "a picture of pixels")

		// What there is to know before one begins is on the first page.
		first := plain(printedText(t, file, "-l", "1"))
		say := s.Words.Label
		for _, want := range append(append([]words.Label{stopOf[s.Kind]}, stops...), words.SheetName, words.SheetFillMinutes, words.SheetFillTimes, words.SheetFillDays,
			words.SheetFillUntil, words.SheetFillClinic, words.SheetFillTelephone, words.SheetFillVisit, words.SheetFillGlasses, words.SheetFillPatch,
			words.SheetReady, words.SheetMarkTitle, words.SheetMarkCheck, words.SheetDoTitle, words.SheetSetNose) {
			assert.Contains(t, first, plain(say(want)))
		}
		text := plain(printedText(t, file))
		for _, want := range []string{s.Title, s.Note, say(words.SheetElse), say(words.SheetLog), say(words.CautionsTitle)} {
			assert.Contains(t, text, plain(want))
		}
		due := s.Words.CautionsDue(&s.Steps[0].Expected, false)
		for _, c := range s.Words.Cautions() {
			assert.Equal(t, slices.Contains(due, c), strings.Contains(text, plain(c)), c)
		}
		assert.Equal(t, s.Prescribed, strings.Contains(first, plain(say(words.SheetCare))))
		assertNothingIsApart(t, s, file)
		tags := vectortest.Poppler(t, "pdfinfo", "-struct", file)
		for _, tag := range []string{"H1", "H2", "LI", "Table", "TH", "Figure"} {
			assert.Contains(t, tags, tag)
		}
	}
	t.Run("care", func(t *testing.T) {
		s := of(t, speaking(t, "en", false), oneBead+turned+"[routine]\n")
		s.Prescribed = true
		check(t, s)
	})
	for name, text := range texts { // each in one of two ways will do for another maker's reader
		t.Run(name, func(t *testing.T) { check(t, of(t, speaking(t, "en", false), text)) })
		t.Run(name+"/es", func(t *testing.T) {
			s := of(t, speaking(t, "es", true), text)
			s.Paper = pdf.Letter
			check(t, s)
		})
	}
}

// assertNothingIsApart says that no page ends with what leads to the next: a heading, or
// the lines under one.
func assertNothingIsApart(t *testing.T, s *sheet.Sheet, file string) {
	said := func(l words.Label) string { return spaced(s.Words.Label(l)) }
	pages := strings.Split(strings.TrimSuffix(vectortest.Poppler(t, "pdftotext", "-enc", "UTF-8", file, "-"), "\f"), "\f")
	require.GreaterOrEqual(t, len(pages), 4)
	for i, page := range pages {
		footer := s.Words.Filled(words.SheetPage, "Page", strconv.Itoa(i+1), "Pages", strconv.Itoa(len(pages)))
		text, _, found := strings.Cut(spaced(page), footer)
		require.True(t, found, "%q", page)
		for _, leads := range []words.Label{words.SheetReady, words.SheetMarkTitle, words.SheetDoTitle, words.SheetClinicNote,
			words.SheetSee, words.SheetSeeLead, words.SheetFirstTitle, words.SheetFirstLead, words.SheetElse, words.SheetLog, words.CautionsTitle, words.SheetChild} {
			if leads == words.SheetChild && i == len(pages)-1 {
				continue // pictures follow
			}
			assert.False(t, strings.HasSuffix(strings.TrimSpace(text), said(leads)), "page %d ends with %q", i+1, said(leads))
		}
	}
}

var numeralPattern = regexp.MustCompile(`<word xMin="([\d.]+)" yMin="([\d.]+)"[^>]*>(\d+)</word>`)

// The ruler down the edge of the first page is true at 100 %: its numerals are a
// centimetre, or an inch, apart.
func TestThePrintedRulerIsTrue(t *testing.T) {
	for _, inches := range []bool{false, true} {
		s := of(t, speaking(t, "en", inches), texts["walk"])
		file := vectortest.Saved(t, "ruler.pdf", func(f *os.File) error { return s.WritePDF(f) })
		down := map[int]float64{}
		for _, m := range numeralPattern.FindAllStringSubmatch(vectortest.Poppler(t, "pdftotext", "-l", "1", "-bbox", file, "-"), -1) {
			if x, _ := strconv.ParseFloat(m[1], 64); x < s.Paper.W-40 {
				continue
			}
			n, _ := strconv.Atoi(m[3])
			down[n], _ = strconv.ParseFloat(m[2], 64)
		}
		want, most := 72/2.54, 22
		if inches {
			want, most = 72, 8
		}
		require.Len(t, down, most)
		for n := 2; n <= most; n++ {
			assert.InDelta(t, want, down[n]-down[n-1], 0.02, "%d", n)
		}
	}
}

// browsed is a page as Chromium has it after its scripts have run, and what it
// complained of.
func browsed(t *testing.T, address string, w int, more ...string) (document, said string) {
	browser, err := exec.LookPath("chromium")
	require.NoError(t, err, "chromium not found: these tests look at sheets as a browser shows them")
	args := append([]string{"--headless", "--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-first-run",
		"--user-data-dir=" + filepath.Join(t.TempDir(), "profile"), "--virtual-time-budget=6000", "--enable-logging=stderr",
		fmt.Sprintf("--window-size=%d,900", w)}, more...)
	run := exec.Command(browser, append(args, address)...)
	var out, complaints strings.Builder
	run.Stdout, run.Stderr = &out, &complaints
	require.NoError(t, run.Run(), "%s", complaints.String())
	return out.String(), complaints.String()
}

// screens are the widths at which sheets are looked at, pixels.
var screens = []int{360, 390, 1280}

// hosted serves one sheet, and as /framed a page that has it in a frame of each width
// and writes down what a script there finds. It notes what is asked for beyond that.
func hosted(t *testing.T, sheet, find string) (address string, asked func() []string) {
	var mutex sync.Mutex
	var others []string
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		switch r.URL.Path {
		case "/sheet":
			fmt.Fprint(w, sheet)
		case "/framed":
			fmt.Fprint(w, `<!DOCTYPE html><title>measures</title><p id="m"></p>`)
			for _, width := range screens {
				fmt.Fprintf(w, `<iframe src="/sheet" style="width:%dpx;height:900px;border:0"></iframe>`, width)
			}
			fmt.Fprintf(w, `<script>
onload = async () => {
	const find = %s, all = [];
	for (const f of document.querySelectorAll("iframe")) { all.push(await find(f)); }
	m.textContent = JSON.stringify(all);
};</script>`, find)
		case "/favicon.ico": // the browser's own wish
			w.WriteHeader(http.StatusNotFound)
		default:
			mutex.Lock()
			defer mutex.Unlock()
			others = append(others, r.URL.Path)
			w.WriteHeader(http.StatusNotFound)
		}
	}))
	t.Cleanup(server.Close)
	return server.URL, func() []string {
		mutex.Lock()
		defer mutex.Unlock()
		return others
	}
}

// found is what a script has found in each frame.
func found[T any](t *testing.T, document string) (all []T) {
	m := regexp.MustCompile(`<p id="m">(.*?)</p>`).FindStringSubmatch(document)
	require.NotNil(t, m, document)
	require.NoError(t, json.Unmarshal([]byte(html.UnescapeString(m[1])), &all), m[1])
	require.Len(t, all, len(screens))
	return all
}

const measuring = `f => {
	const d = f.contentDocument, e = d.documentElement;
	const out = [...d.querySelectorAll("body *:not(svg *)")].filter(x => {
		const r = x.getBoundingClientRect();
		return r.right > e.clientWidth + 0.5 || r.left < -0.5;
	});
	const small = [...d.querySelectorAll("button, input:not([type=checkbox])")].filter(x => x.offsetParent && x.getBoundingClientRect().height < 44);
	return {Scroll: e.scrollWidth, Out: out.map(x => x.tagName), Small: small.map(x => x.id), Play: d.getElementById("play").offsetParent !== null};
}`

func TestSheetsFitEveryScreen(t *testing.T) {
	type measures struct {
		Scroll     int
		Out, Small []string
		Play       bool
	}
	for _, language := range words.Languages() {
		for name, s := range handed(t, language) {
			text, _ := htmlOf(t, s)
			address, asked := hosted(t, text, measuring)
			document, said := browsed(t, address+"/framed", 2200, "--dump-dom")
			assert.NotContains(t, said, "CONSOLE", "%s %s", language, name)
			for i, m := range found[measures](t, document) {
				assert.LessOrEqual(t, m.Scroll, screens[i], "%s %s", language, name)
				assert.Empty(t, m.Out, "%s %s at %d", language, name, screens[i])
				assert.Empty(t, m.Small, "%s %s at %d: too small for a finger", language, name, screens[i])
				assert.True(t, m.Play, "there is something to play")
			}
			assert.Empty(t, asked(), "%s %s", language, name)
			if name != "walk" {
				continue
			}
			document, _ = browsed(t, address+"/framed", 2200, "--dump-dom", "--force-prefers-reduced-motion")
			for _, m := range found[measures](t, document) {
				assert.False(t, m.Play, "reduced motion")
			}
		}
	}
}

// The buttons go through the places: at each the questions in order, then what is seen,
// under the picture of that place; and by itself it goes on and stops at the end.
func TestASheetGoesStepByStep(t *testing.T) {
	type step struct{ Where, Asked, Seen, Picture string }
	s := handed(t, "en")["walk"]
	text, _ := htmlOf(t, s)
	address, _ := hosted(t, text, `f => {
	const d = f.contentDocument, g = id => d.getElementById(id), all = [];
	const note = () => all.push({Where: g("where").textContent, Asked: g("asked").textContent, Seen: g("seen").textContent, Picture: g("shown").getAttribute("href")});
	note();
	for (let i = 0; i < 40 && !g("later").disabled; i++) { g("later").click(); note(); }
	g("earlier").click();
	note();
	return all;
}`)
	document, said := browsed(t, address+"/framed", 2200, "--dump-dom")
	assert.NotContains(t, said, "CONSOLE")
	all := found[[]step](t, document)[0]
	places := regexp.MustCompile(`<h3>(Place[^<]*)</h3><p>([^<]*)</p>`).FindAllStringSubmatch(text, -1)
	var want []step
	for i, p := range places {
		for _, q := range routine.Questions(s.Kind) {
			want = append(want, step{p[1], s.Words.Quoted(s.Words.Ask(string(q))), "", "#p" + strconv.Itoa(i)})
		}
		want = append(want, step{p[1], "", p[2], "#p" + strconv.Itoa(i)})
	}
	require.Len(t, all, len(want)+1)
	assert.Equal(t, want, all[:len(want)])
	assert.Equal(t, want[len(want)-2], all[len(want)])
}

// What is written into the log stays when the page is opened again, can be emptied, and
// that can be taken back.
func TestTheLogStays(t *testing.T) {
	text, _ := htmlOf(t, handed(t, "en")["walk"])
	address, _ := hosted(t, text, `async f => {
	const g = id => f.contentDocument.getElementById(id), all = [];
	const type = (id, v) => { g(id).value = v; g(id).dispatchEvent(new Event("input", {bubbles: true})); };
	const note = () => all.push(g("said0").value + "|" + g("done1").checked + "|" + g("fill1").value);
	const again = () => new Promise(done => { f.onload = done; f.contentWindow.location.reload(); });
	localStorage.clear();
	await again(); note();
	type("said0", "two beads"); type("fill1", "5"); g("done1").click();
	await again(); note();
	g("empty").click(); note();
	g("empty").click(); note();
	g("empty").click();
	await again(); note();
	return all;
}`)
	document, said := browsed(t, address+"/framed", 2200, "--dump-dom")
	assert.NotContains(t, said, "CONSOLE")
	for _, all := range found[[]string](t, document) {
		assert.Equal(t, []string{"|false|", "two beads|true|5", "|false|", "two beads|true|5", "|false|"}, all)
	}
}

func TestSheetsPrintFromABrowser(t *testing.T) {
	for name, s := range handed(t, "es") {
		text, _ := htmlOf(t, s)
		address, _ := hosted(t, text, measuring)
		file := filepath.Join(t.TempDir(), "printed.pdf")
		_, said := browsed(t, address+"/sheet", 1280, "--print-to-pdf="+file, "--no-pdf-header-footer")
		assert.NotContains(t, said, "CONSOLE", name)
		info := vectortest.Poppler(t, "pdfinfo", file)
		assert.Regexp(t, `Pages: +[4-9]\n`, info, name)
		printed := plain(printedText(t, file))
		for _, l := range append([]words.Label{words.SheetName, words.SheetMarkCheck}, stops...) {
			assert.Contains(t, printed, plain(s.Words.Label(l)), name)
		}
		assert.NotContains(t, printed, s.Words.Label(words.SheetPlay), "%s: what moves is not printed", name)
	}
}

// Row G4: text 4.5:1, graphics that carry meaning 3:1, in both looks.
func TestSheetColoursContrast(t *testing.T) {
	text, _ := htmlOf(t, handed(t, "en")["walk"])
	for _, look := range []*theme.Theme{&theme.Paper, &theme.Dark} {
		for _, c := range [][2]display.Colour{{look.Ink, look.Ground}, {look.Muted, look.Ground}, {look.Ink, look.Panel}, {look.Ink, look.Raised}, {look.OnAccent, look.Accent}} {
			assert.GreaterOrEqual(t, theme.Contrast(c[0], c[1]), 4.5)
		}
		assert.GreaterOrEqual(t, theme.Contrast(look.Edge, look.Ground), 3.)
		assert.GreaterOrEqual(t, theme.Contrast(look.Accent, look.Ground), 3.)
	}
	assert.Contains(t, text, "prefers-color-scheme: dark")
}

// axe-core is another maker's check of pages for those who do not see them.
func TestAxeFindsNothing(t *testing.T) {
	axe, err := os.ReadFile(filepath.Join(checkers(t), "axe-core", "axe.min.js"))
	require.NoError(t, err)
	for _, language := range words.Languages() {
		for name, s := range handed(t, language) {
			text, _ := htmlOf(t, s)
			// The checker is a script that the policy of the page would not let run.
			text = policyPattern.ReplaceAllString(text, `name="checked" content="x"`)
			file := vectortest.Saved(t, "axe.html", func(f *os.File) error {
				_, err := f.WriteString(strings.Replace(text, "</body>", `<script>`+string(axe)+`</script><script>
axe.run().then(r => { document.title = "axe " + JSON.stringify(r.violations.map(v => [v.id, v.nodes.map(n => n.html)])) + " of " + r.passes.length; });
</script></body>`, 1))
				return err
			})
			looks := [][]string{nil}
			if name == "walk" {
				looks = append(looks, []string{"--force-dark-mode"}, []string{"--window-size=500,900"})
			}
			for _, more := range looks {
				document, _ := browsed(t, "file://"+file, 1280, append(more, "--dump-dom", "--virtual-time-budget=20000")...)
				title := regexp.MustCompile(`<title>axe (.*?)</title>`).FindStringSubmatch(document)
				require.NotNil(t, title, "%s %s: axe did not run", language, name)
				assert.Regexp(t, `^\[\] of [1-9]\d`, title[1], "%s %s", language, name)
			}
		}
	}
}

// The W3C's checker of HTML.
func TestTheCheckerOfHTMLFindsNothing(t *testing.T) {
	var files []string
	for _, language := range words.Languages() {
		for _, s := range handed(t, language) {
			text, _ := htmlOf(t, s)
			files = append(files, vectortest.Saved(t, "sheet.html", func(f *os.File) error {
				_, err := f.WriteString(text)
				return err
			}))
		}
	}
	jar, err := filepath.Glob(filepath.Join(checkers(t), "vnu-jar", "build", "dist", "vnu.jar"))
	require.NoError(t, err)
	require.Len(t, jar, 1)
	out, err := exec.Command("java", append([]string{"-jar", jar[0], "--errors-only"}, files...)...).CombinedOutput()
	assert.NoError(t, err, "%s", out)
}
