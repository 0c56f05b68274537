package browser_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/browser"
	"twincord/render/browser/live"
	"twincord/render/pdf"
	"twincord/render/sheet"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
)

// sceneOf is a built-in scene as a page has it.
func sceneOf(e scenes.Entry) browser.Scene {
	s := browser.Scene{ID: scenes.Identify(e.Name), Source: e.Source, Allow: live.Usual}
	if e.Scene.Routine.OK {
		s.Sheet = sheetOf(e.Scene)
	}
	return s
}

func sheetOf(sc *scenes.Scene) func(*words.Words) *sheet.Sheet {
	return func(w *words.Words) *sheet.Sheet {
		return &sheet.Sheet{Kind: sc.Routine.Value.Kind, Words: w, Paper: pdf.A4, Steps: routine.Steps(sc)}
	}
}

// library is a page of every built-in scene.
func library() browser.Page {
	page := browser.Page{Language: "en"}
	for _, e := range scenes.Library() {
		s := sceneOf(e)
		s.Prescribed = "A. Nobody" // so that none is locked
		page.Scenes = append(page.Scenes, s)
	}
	return page
}

// pageOf is a page of one built-in scene.
func pageOf(t *testing.T, name string) browser.Page {
	t.Helper()
	for _, e := range scenes.Library() {
		if e.Name == name {
			return browser.Page{Scenes: []browser.Scene{sceneOf(e)}, Language: "en"}
		}
	}
	t.Fatalf("no built-in scene %s", name)
	return browser.Page{}
}

// hostile is what somebody might call a scene who wants to break out of the page: of its
// text, an attribute, a script, a style, a comment, a template.
const hostile = `</script></style></title><!-- "'> <img src=x onerror=alert(1)> ${alert(1)} {{.}} &lt;`

func hostilePage(t *testing.T) browser.Page {
	sc, err := scenes.Parse("hostile", []byte(`format = 1
title = 'x'
note = 'x'
string.length_mm = 1200
beads = [{name = "a", at_mm = 300}, {name = "b", at_mm = 600}]
look.bead = "b"
[routine]
kind = "jumps"
`))
	require.NoError(t, err)
	sc.Title, sc.Note = hostile, hostile+"\n"+hostile
	sc.Setup.Beads[0].Name, sc.Setup.Beads[1].Name = "</script><!--<script>", `"><img src=x onerror=alert(1)>`
	var source bytes.Buffer
	require.NoError(t, sc.Write(&source))
	return browser.Page{Language: "en", Scenes: []browser.Scene{{
		ID: scenes.Identity{Name: hostile}, Source: source.Bytes(), Allow: live.Usual, Prescribed: hostile, Sheet: sheetOf(sc),
	}}}
}

func firstSentence(t *testing.T, s browser.Scene, say *words.Words) string {
	t.Helper()
	sc, err := scenes.Parse("scene", s.Source)
	require.NoError(t, err)
	sc = scenes.TranslationOf(s.ID, say).Scene(sc)
	var v sim.View
	sim.NewCourse(&sc.Setup).Look(&v, 0)
	return say.Family(&v)
}

// html is a page written with an engine that is none: all that stands in it but that.
func html(t *testing.T, p browser.Page) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, browser.WriteWith(&b, &p, []byte("no engine at all")))
	return b.String()
}

// A page says, with no script, what is seen of each of its scenes, in every language, and
// what is done in its routine.
func TestPagesAreReadWithoutScript(t *testing.T) {
	page := library()
	text := unescaped(html(t, page))
	for _, language := range words.Languages() {
		say, err := words.For(language)
		require.NoError(t, err)
		for _, s := range page.Scenes {
			assert.Contains(t, text, firstSentence(t, s, say), "%s %s", language, s.ID)
		}
		for _, l := range []words.Label{words.PageStill, words.SheetAsk, words.SheetElse} {
			assert.Contains(t, text, say.Label(l))
		}
		for _, c := range say.Cautions() {
			assert.Contains(t, text, c)
		}
	}
}

func unescaped(text string) string {
	return strings.NewReplacer("&#39;", "'", "&#34;", `"`, "&lt;", "<", "&gt;", ">", "&amp;", "&").Replace(text)
}

// A page names nothing that is elsewhere, and forbids itself to ask for it.
func TestPagesAskForNothing(t *testing.T) {
	text := html(t, pageOf(t, "walk-of-ten"))
	assert.NotRegexp(t, `(?i)(src|href|action|url)\s*[=(]\s*["']?(https?:)?//`, text)
	assert.NotContains(t, text, "<img")
	assert.NotContains(t, text, "<link")
	assert.Contains(t, text, "default-src &#39;none&#39;")
	assert.NotContains(t, text, "unsafe-inline")
	assert.NotRegexp(t, `<[^>]+ (style|on[a-z]+)="`, text, "which the policy would refuse")
}

// What somebody typed cannot end an element, begin another one, or be a script.
func TestHostileWordsAreEscaped(t *testing.T) {
	tame, err := scenes.Parse("tame", []byte("format = 1\ntitle = 'x'\nnote = 'x'\nstring.length_mm = 1200\nlook.bead = 'b'\n"+
		"beads = [{name = 'a', at_mm = 300}, {name = 'b', at_mm = 600}]\n[routine]\nkind = 'jumps'\n"))
	require.NoError(t, err)
	var source bytes.Buffer
	require.NoError(t, tame.Write(&source))
	want := html(t, browser.Page{Language: "en", Scenes: []browser.Scene{{
		ID: scenes.Identity{Name: "x"}, Source: source.Bytes(), Allow: live.Usual, Prescribed: "x", Sheet: sheetOf(tame),
	}}})
	got := html(t, hostilePage(t))
	tags := regexp.MustCompile(`<[a-zA-Z/!][a-zA-Z]*`)
	assert.Equal(t, counted(tags.FindAllString(want, -1)), counted(tags.FindAllString(got, -1)))
	assert.NotContains(t, got, "<img")
	assert.Contains(t, unescaped(got), hostile)
}

func counted(all []string) map[string]int {
	counts := map[string]int{}
	for _, s := range all {
		counts[s]++
	}
	return counts
}

// A scene that needs care says so first, and is only looked at unless it was prescribed.
func TestCareIsLockedUnlessPrescribed(t *testing.T) {
	en, err := words.For("en")
	require.NoError(t, err)
	page := pageOf(t, "right-left-out")
	text := html(t, page)
	care, locked := en.Label(words.CautionCare), en.Label(words.PageLocked)
	text = unescaped(text)
	assert.Less(t, strings.Index(text, care), strings.Index(text, firstSentence(t, page.Scenes[0], en)[:20]))
	assert.Contains(t, text, locked)
	assert.Contains(t, text, `"allow":"nothing"`)

	page.Scenes[0].Prescribed = "A. Nobody"
	text = html(t, page)
	assert.Contains(t, unescaped(text), care)
	assert.NotContains(t, unescaped(text), locked)
	assert.Contains(t, text, `"allow":"usual"`)
	assert.Contains(t, text, "Prescribed by: A. Nobody")

	notice := `<p class="notice"><span lang="en" class="en">`
	assert.Contains(t, text, notice)
	assert.NotContains(t, html(t, pageOf(t, "middle-of-three")), notice)
}

// The page is well-formed up to what HTML writes otherwise than XML, so that no element
// ends where another one should.
func TestPagesAreWellFormed(t *testing.T) {
	text := html(t, library())
	text = regexp.MustCompile(`(?s)<(script|style)[^>]*>.*?</(script|style)>`).ReplaceAllString(text, "")
	text = regexp.MustCompile(` (hidden|checked|open)(>| )`).ReplaceAllString(text, ` $1=""$2`)
	d := xml.NewDecoder(strings.NewReader(strings.Replace(text, "<!DOCTYPE html>", "", 1)))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	ids := map[string]bool{}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		if e, ok := token.(xml.StartElement); ok {
			for _, a := range e.Attr {
				if a.Name.Local == "id" {
					assert.False(t, ids[a.Value], "the id %q twice", a.Value)
					ids[a.Value] = true
				}
			}
		}
	}
}

// Written twice, a page is the same.
func TestPagesAreReproducible(t *testing.T) {
	assert.Equal(t, html(t, pageOf(t, "walk-of-ten")), html(t, pageOf(t, "walk-of-ten")))
}

// What is packed are its bits, 13 in two digits, and nothing that means something in a page.
func TestPacked(t *testing.T) {
	const first, last = '!', '~'
	for n := range 40 {
		var bits, got strings.Builder
		b := make([]byte, n)
		for i := range b {
			b[i] = byte(37*i*i + 101*i + n)
			fmt.Fprintf(&bits, "%08b", b[i])
		}
		text := browser.Packed(b)
		assert.Contains(t, text, fmt.Sprintf(`data-size="%d"`, n))
		text = strings.TrimSuffix(text[strings.Index(text, ">")+1:], "</script>")
		assert.NotRegexp(t, "[<>&]", text)
		value := func(c byte) (d int) {
			require.True(t, first <= c && c <= last)
			for k := byte(first); k < c; k++ {
				if !strings.ContainsRune("<>&", rune(k)) {
					d++
				}
			}
			return d
		}
		for i := 0; i < len(text); i += 2 {
			fmt.Fprintf(&got, "%013b", 91*value(text[i])+value(text[i+1]))
		}
		require.Less(t, got.Len()-bits.Len(), 13)
		assert.Equal(t, bits.String(), got.String()[:bits.Len()])
	}
}

// A scene is linked to by its name, and by nothing that another one has.
func TestScenesHaveAnchors(t *testing.T) {
	page := pageOf(t, "walk-of-ten")
	mine := page.Scenes[0]
	mine.ID = scenes.Identity{Origin: scenes.File, Name: "/a/Walk of Ten"}
	page.Scenes = append(page.Scenes, mine, mine, page.Scenes[0])
	text := html(t, page)
	var got []string
	for _, m := range regexp.MustCompile(`<section class="scene" id="([^"]*)"`).FindAllStringSubmatch(text, -1) {
		got = append(got, m[1])
		assert.Contains(t, text, fmt.Sprintf(`href="#%s"`, m[1]))
	}
	assert.Equal(t, []string{"scene-walk-of-ten", "scene-walk-of-ten-2", "scene-walk-of-ten-3", "scene-walk-of-ten-4"}, got)
}

func TestEngineOrWhyNot(t *testing.T) {
	if _, err := browser.Engine(); err != nil {
		assert.ErrorIs(t, err, browser.ErrNoEngine)
		var b bytes.Buffer
		page := pageOf(t, "middle-of-three")
		assert.ErrorIs(t, page.Write(&b), browser.ErrNoEngine)
		assert.Zero(t, b.Len(), "nothing is written")
	}
}
