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

// printedText is the text of a PDF as Poppler reads it, in one line and without what
// stands at the foot of the first sheet. It takes the hyphen away at which a line ends;
// plain takes them all.
func printedText(t *testing.T, file string, say *words.Words) string {
	text := strings.Join(strings.Fields(vectortest.Poppler(t, "pdftotext", "-enc", "UTF-8", file, "-")), " ")
	return strings.Replace(text, say.Filled(words.SheetPage, "Page", "1", "Pages", "2")+" ", "", 1)
}

func plain(text string) string { return strings.ReplaceAll(text, "-", "") }

func TestPopplerReadsSheets(t *testing.T) {
	everySheet(t, func(t *testing.T, s *sheet.Sheet) {
		if s.Words.Inches() != (s.Paper == pdf.Letter) {
			return // half of them will do for another maker's reader
		}
		file := vectortest.Saved(t, "sheet.pdf", func(f *os.File) error { return s.WritePDF(f) })
		info := vectortest.Poppler(t, "pdfinfo", file)
		assert.Regexp(t, `Pages: +[12]\n`, info)
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

		// Whole, and in the order in which it is read.
		text := plain(printedText(t, file, s.Words))
		from := 0
		for _, want := range append([]string{
			s.Title, s.Note, s.Words.Label(words.SheetName), s.Words.Label(words.SheetPrepared), s.Words.Label(words.SheetReady),
			s.Words.Label(words.SheetAsk), s.Words.Ask(string(routine.Questions(s.Kind)[0])), s.Words.Label(words.SheetHow),
			s.Words.Label(words.SheetLetters), s.Words.Label(words.SheetSee), s.Words.Label(words.SheetSeeLead),
			s.Words.Family(s.Steps[0].View), s.Words.Label(words.SheetElse), s.Words.Label(words.SheetLog), s.Words.Label(words.CautionsTitle),
		}, s.Words.Cautions()...) {
			i := strings.Index(text[from:], plain(want))
			if assert.GreaterOrEqual(t, i, 0, "%q in order in %s", want, text) {
				from += i
			}
		}
		for i := range s.Steps {
			assert.Contains(t, text, plain(s.Words.Family(s.Steps[i].View)))
		}
	})
}

// browsed is a page as Chromium has it after its scripts have run, and what it
// complained of.
func browsed(t *testing.T, address string, w int, more ...string) (document, said string) {
	browser, err := exec.LookPath("chromium")
	require.NoError(t, err, "chromium not found: these tests look at sheets as a browser shows them")
	args := append([]string{"--headless", "--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-first-run",
		"--user-data-dir=" + filepath.Join(t.TempDir(), "profile"), "--virtual-time-budget=4000", "--enable-logging=stderr",
		fmt.Sprintf("--window-size=%d,900", w)}, more...)
	run := exec.Command(browser, append(args, address)...)
	var out, complaints strings.Builder
	run.Stdout, run.Stderr = &out, &complaints
	require.NoError(t, run.Run(), "%s", complaints.String())
	return out.String(), complaints.String()
}

// screens are the widths at which sheets are looked at, pixels.
var screens = []int{360, 800, 1280}

// hosted serves one sheet, and as /framed a page that has it in a frame of each width
// and writes down their measures. It notes what is asked for beyond that.
func hosted(t *testing.T, sheet string) (address string, asked func() []string) {
	var mutex sync.Mutex
	var others []string
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		switch r.URL.Path {
		case "/sheet":
			// Whatever it tried to fetch or run would be refused, and said on the console.
			w.Header().Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'")
			fmt.Fprint(w, sheet)
		case "/framed":
			fmt.Fprint(w, `<!DOCTYPE html><title>measures</title><p id="m"></p>`)
			for _, width := range screens {
				fmt.Fprintf(w, `<iframe src="/sheet" style="width:%dpx;height:900px;border:0"></iframe>`, width)
			}
			fmt.Fprint(w, `<script>
onload = () => {
	m.textContent = JSON.stringify([...document.querySelectorAll("iframe")].map(f => {
		const d = f.contentDocument, e = d.documentElement;
		const out = [...d.querySelectorAll("body *:not(svg *)")].filter(x => {
			const r = x.getBoundingClientRect();
			return r.right > e.clientWidth + 0.5 || r.left < -0.5;
		});
		return {client: e.clientWidth, scroll: e.scrollWidth, out: out.map(x => x.tagName), running: d.getAnimations().length};
	}));
};</script>`)
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

// measured is what a frame of hosted measures.
type measured struct {
	Client, Scroll, Running int
	Out                     []string
}

func measures(t *testing.T, document string) (all []measured) {
	m := regexp.MustCompile(`<p id="m">(.*?)</p>`).FindStringSubmatch(document)
	require.NotNil(t, m, document)
	require.NoError(t, json.Unmarshal([]byte(html.UnescapeString(m[1])), &all))
	require.Len(t, all, len(screens))
	return all
}

func TestSheetsFitEveryScreen(t *testing.T) {
	for _, language := range words.Languages() {
		for name, s := range handed(t, language) {
			text, _ := htmlOf(t, s)
			address, asked := hosted(t, text)
			document, said := browsed(t, address+"/framed", 1400, "--dump-dom")
			assert.NotContains(t, said, "CONSOLE", "%s %s", language, name)
			for i, m := range measures(t, document) {
				assert.LessOrEqual(t, m.Scroll, screens[i], "%s %s", language, name)
				assert.Empty(t, m.Out, "%s %s at %d", language, name, screens[i])
				assert.Positive(t, m.Running, "the film moves")
			}
			assert.Empty(t, asked(), "%s %s", language, name)
			if name != "walk" {
				continue
			}
			document, _ = browsed(t, address+"/framed", 1400, "--dump-dom", "--force-prefers-reduced-motion")
			for _, m := range measures(t, document) {
				assert.Zero(t, m.Running, "reduced motion")
			}
		}
	}
}

func TestSheetsPrintFromABrowser(t *testing.T) {
	for name, s := range handed(t, "es") {
		text, _ := htmlOf(t, s)
		address, _ := hosted(t, text)
		file := filepath.Join(t.TempDir(), "printed.pdf")
		_, said := browsed(t, address+"/sheet", 1280, "--print-to-pdf="+file, "--no-pdf-header-footer")
		assert.NotContains(t, said, "CONSOLE", name)
		info := vectortest.Poppler(t, "pdfinfo", file)
		assert.Regexp(t, `Pages: +[12]\n`, info, name)
		printed := printedText(t, file, s.Words)
		assert.Contains(t, printed, s.Words.Label(words.SheetName), name)
		assert.Contains(t, plain(printed), plain(s.Words.Family(s.Steps[0].View)), name)
		assert.NotContains(t, printed, s.Words.Label(words.SheetStill), "%s: what moves is not printed", name)
	}
}

// Row G4: text 4.5:1, graphics that carry meaning 3:1, in both looks.
func TestSheetColoursContrast(t *testing.T) {
	text, _ := htmlOf(t, handed(t, "en")["walk"])
	for _, look := range []*theme.Theme{&theme.Paper, &theme.Dark} {
		for _, c := range [][2]display.Colour{{look.Ink, look.Ground}, {look.Muted, look.Ground}, {look.Ink, look.Panel}, {look.Ink, look.Raised}} {
			assert.GreaterOrEqual(t, theme.Contrast(c[0], c[1]), 4.5)
		}
		assert.GreaterOrEqual(t, theme.Contrast(look.Edge, look.Ground), 3.)
		assert.GreaterOrEqual(t, theme.Contrast(look.Accent, look.Ground), 3.)
	}
	assert.GreaterOrEqual(t, theme.Contrast(theme.Paper.Ink, theme.Paper.Wall), 4.5, "the film's words")
	assert.Contains(t, text, "prefers-color-scheme: dark")
}

// axe-core is another maker's check of pages for those who do not see them, from npm
// where there is one.
func TestAxeFindsNothing(t *testing.T) {
	dir := t.TempDir()
	npm, err := exec.LookPath("npm")
	if err != nil {
		t.Log("NOT CHECKED: npm not found, and with it axe-core")
		return
	}
	install := exec.Command(npm, "install", "--prefix", dir, "--no-audit", "--no-fund", "--ignore-scripts", "axe-core@4")
	if out, err := install.CombinedOutput(); err != nil {
		t.Logf("NOT CHECKED: axe-core could not be fetched: %s", out)
		return
	}
	axe, err := os.ReadFile(filepath.Join(dir, "node_modules", "axe-core", "axe.min.js"))
	require.NoError(t, err)
	for _, language := range words.Languages() {
		for name, s := range handed(t, language) {
			text, _ := htmlOf(t, s)
			file := vectortest.Saved(t, "axe.html", func(f *os.File) error {
				_, err := f.WriteString(strings.Replace(text, "</body>", `<script>`+string(axe)+`</script><script>
axe.run().then(r => { document.title = "axe " + JSON.stringify(r.violations.map(v => [v.id, v.nodes.map(n => n.html)])) + " of " + r.passes.length; });
</script></body>`, 1))
				return err
			})
			looks := [][]string{nil}
			if name == "walk" {
				looks = append(looks, []string{"--force-dark-mode"})
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
