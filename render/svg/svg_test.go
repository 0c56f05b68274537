package svg_test

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/svg"
	"twincord/render/theme"
	"twincord/render/vector/vectortest"
)

func written(t *testing.T, l *display.List) string {
	var b bytes.Buffer
	require.NoError(t, svg.Write(&b, l))
	return b.String()
}

var reference = regexp.MustCompile(`^(?:url\(#([a-z][0-9]+)\)|#([a-z][0-9]+))$`)

func TestStandsAlone(t *testing.T) {
	allowed := map[string]bool{}
	for _, name := range strings.Fields("svg title desc defs g path rect circle use clipPath mask linearGradient radialGradient stop") {
		allowed[name] = true
	}
	for name, draw := range vectortest.Pictures() {
		var l display.List
		draw(&l, 1280, 800)
		document := written(t, &l)
		assert.NotContains(t, document, "NaN", name)
		ids, used := map[string]bool{}, map[string]bool{}
		for _, e := range vectortest.Elements(t, document) {
			require.True(t, allowed[e.Name], "%s: <%s>", name, e.Name)
			for key, value := range e.Attrs {
				if key == "id" {
					require.False(t, ids[value], "%s: %s is given twice", name, value)
					ids[value] = true
				}
				if strings.Contains(value, "#") && key != "fill" && !strings.HasSuffix(key, "color") && key != "stroke" || strings.Contains(value, "url") {
					m := reference.FindStringSubmatch(value)
					require.NotNil(t, m, "%s: %s=%q leads elsewhere", name, key, value)
					used[m[1]+m[2]] = true
				}
			}
		}
		assert.NotEmpty(t, used)
		for id := range used {
			assert.True(t, ids[id], "%s: nothing is called %s", name, id)
		}
	}
}

func TestIsSmallAndTheSameTwice(t *testing.T) {
	for name, draw := range vectortest.Pictures() {
		for _, size := range [][2]float64{{1280, 800}, {7680, 4320}} {
			var l display.List
			draw(&l, size[0], size[1])
			document := written(t, &l)
			assert.LessOrEqual(t, len(document), 400_000, name)
			assert.Equal(t, document, written(t, &l))
		}
	}
}

func TestSaysWhatItShows(t *testing.T) {
	var l display.List
	l.Reset(100, 50, theme.Dark.Ground)
	l.Title = `One <bead> & "two" strings`
	l.OpenGroup(display.Group{Opacity: 1, Label: "what the right eye sees"})
	lettering.Draw(&l, lettering.Style{Size: 20}, 10, 30, lettering.Start, "4.2 Δ")
	l.End()
	document := written(t, &l)
	assert.Contains(t, document, "<title id=\"title\">One &lt;bead&gt; &amp; &#34;two&#34; strings</title>")
	assert.Contains(t, document, "<desc id=\"desc\">what the right eye sees</desc>")
	all := vectortest.Elements(t, document)
	assert.Equal(t, "img", all[0].Attrs["role"])
	assert.Equal(t, "0 0 100 50", all[0].Attrs["viewBox"])
	labels, glyphs := 0, 0
	for _, e := range all {
		if e.Attrs["aria-label"] == "4.2 Δ" {
			labels++
		}
		if e.Name == "use" {
			glyphs++
		}
	}
	assert.Equal(t, 1, labels)
	assert.Equal(t, 4, glyphs, "a space is no shape")
}

func TestMixesAnEvenGroupBothWays(t *testing.T) {
	var l display.List
	l.Reset(20, 10, display.Colour{A: 1})
	l.OpenGroup(display.Group{Opacity: 1, Even: true, Bounds: display.Rect{W: 20, H: 10}})
	for x := range 5 { // the ground and two pairs
		vectortest.Square(&l, float64(x), display.Colour{R: 1, A: 1})
	}
	l.End()
	document := written(t, &l)
	assert.Contains(t, document, `<g opacity=".5"><use xlink:href="#e1" href="#e1"/><use xlink:href="#e3" href="#e3"/><use xlink:href="#e2" href="#e2"/>`+
		`<use xlink:href="#e5" href="#e5"/><use xlink:href="#e4" href="#e4"/></g>`)
}

func TestRefusesWhatIsNoNumber(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1)} {
		var l display.List
		l.Reset(10, 10, theme.Dark.Ground)
		vectortest.Square(&l, 1, theme.Dark.Ink)
		vectortest.Square(&l, v, theme.Dark.Ink)
		assert.ErrorContains(t, svg.Write(io.Discard, &l), "a path holds the number")
	}
}

// Pictures that stand in one HTML page share no id, and each finds its own shapes.
func TestInlineSVGSharesNoID(t *testing.T) {
	ids := map[string]bool{}
	for prefix, name := range map[string]string{"a": "middle", "step2": "middle", "C": "above"} {
		var l display.List
		vectortest.Pictures()[name](&l, 640, 400)
		l.Title = "what is seen"
		var b bytes.Buffer
		require.NoError(t, svg.WriteInline(&b, &l, prefix))
		all := vectortest.Elements(t, b.String())
		assert.Equal(t, prefix+"-title", all[0].Attrs["aria-labelledby"])
		assert.NotContains(t, all[0].Attrs, "width", "the page's style says how wide it is")
		own := map[string]bool{}
		for _, e := range all {
			if id := e.Attrs["id"]; id != "" {
				require.False(t, ids[id], "%s is given twice", id)
				require.True(t, id == prefix || strings.HasPrefix(id, prefix+"-"), id)
				ids[id], own[id] = true, true
			}
		}
		for _, m := range regexp.MustCompile(`(?:url\(|href=")#([^)"]+)`).FindAllStringSubmatch(b.String(), -1) {
			assert.True(t, own[m[1]], "nothing is called %s", m[1])
		}
	}
	var l display.List
	l.Reset(10, 10, theme.Dark.Ground)
	for _, prefix := range []string{"", "1a", "a b", "é", `a"`} {
		assert.ErrorContains(t, svg.WriteInline(io.Discard, &l, prefix), "allowed are a letter and then letters and digits")
	}
}

func TestReportsAWriteThatFails(t *testing.T) {
	var l display.List
	l.Reset(10, 10, theme.Dark.Ground)
	vectortest.Square(&l, 1, theme.Dark.Ink)
	assert.ErrorContains(t, svg.Write(vectortest.BrokenWriter{}, &l), "disk full")
}

// A ball may be lit from anywhere in front, and have no blur, no hole and no size to
// speak of.
func TestDrawsBallsInAnyLight(t *testing.T) {
	for _, light := range [][3]float64{{0, 0, 1}, {1, 0, 0}, {0, -1, 0}, {0.6, 0, 0.8}} {
		for _, r := range []float64{0.01, 1, 300} {
			var l display.List
			l.Reset(100, 100, theme.Dark.Ground)
			l.AddBall(display.Ball{RadiusX: r, RadiusY: 2 * r, Opacity: 1, Surface: display.Ringed, Light: light})
			vectortest.Elements(t, written(t, &l))
		}
	}
}

// Behind a filter the gleam and the dots are in its colour, and balls alike share one
// gradient.
func TestTintsTheWhiteOfABall(t *testing.T) {
	var l display.List
	vectortest.Tinted(&l, display.Colour{R: 1, A: 1})
	dots, gleams, gradient := map[string]int{}, map[string]int{}, ""
	colours := map[string]string{} // of the middle of a gradient
	for _, e := range vectortest.Elements(t, written(t, &l)) {
		switch {
		case e.Name == "radialGradient":
			gradient = "url(#" + e.Attrs["id"] + ")"
		case e.Name == "stop" && colours[gradient] == "":
			colours[gradient] = e.Attrs["stop-color"]
		case e.Name == "path" && e.Attrs["fill-opacity"] == ".72": // display.DotPale
			dots[e.Attrs["fill"]]++
		case e.Name == "circle" && e.Attrs["opacity"] != "":
			gleams[e.Attrs["fill"]]++
		}
	}
	assert.Equal(t, map[string]int{"#ff0000": 2, "#ffffff": 1}, dots)
	require.Len(t, gleams, 2)
	for id, balls := range gleams {
		assert.Equal(t, map[int]string{2: "#ff0000", 1: "#ffffff"}[balls], colours[id])
	}
}

// What a picture is called cannot break out of it.
func TestHostileWordsStayWords(t *testing.T) {
	for _, hostile := range []string{
		`</title><script>alert(1)</script>`, `"/><script/>`, `]]>`, `' onload='alert(1)`, "a\x00b\x1bc\ufffe\xffd",
	} {
		var l display.List
		l.Reset(100, 50, theme.Dark.Ground)
		l.Title = hostile
		l.OpenGroup(display.Group{Opacity: 1, Label: hostile})
		lettering.Draw(&l, lettering.Style{Size: 20}, 10, 30, lettering.Start, hostile)
		l.End()
		var inline bytes.Buffer
		require.NoError(t, svg.WriteInline(&inline, &l, "a"))
		for _, document := range []string{written(t, &l), inline.String()} {
			for _, e := range vectortest.Elements(t, document) {
				assert.NotEqual(t, "script", e.Name)
				assert.NotContains(t, e.Attrs, "onload")
			}
		}
	}
}

// Steps between rounded places must not add up.
func TestRoundsPlacesNotSteps(t *testing.T) {
	var l display.List
	l.Reset(10, 10, theme.Dark.Ground)
	l.MoveTo(0, 0)
	for i := 1; i <= 1000; i++ {
		l.LineTo(float64(i)*0.0149, 0)
	}
	l.Stroke(1, display.Paint{From: theme.Dark.Ink})
	d := ""
	for _, e := range vectortest.Elements(t, written(t, &l)) {
		if e.Name == "path" {
			d = e.Attrs["d"]
		}
	}
	x, steps := 0.0, regexp.MustCompile(`-?[0-9]*\.?[0-9]+`).FindAllString(d, -1)
	for i, step := range steps {
		if i%2 == 0 {
			var v float64
			_, err := fmt.Sscan(step, &v)
			require.NoError(t, err)
			x += v
		}
	}
	assert.InDelta(t, 14.9, x, 0.006)
}

func BenchmarkWrite(b *testing.B) {
	b.ReportAllocs()
	var l display.List
	vectortest.Pictures()["middle"](&l, 1280, 800)
	for b.Loop() {
		if err := svg.Write(io.Discard, &l); err != nil {
			b.Fatal(err)
		}
	}
}

// Path data parts its numbers where a reader could not tell one from the next, and nowhere
// else.
func TestNumbersOfAPathArePartedWhereTheyMustBe(t *testing.T) {
	var l display.List
	l.Reset(10, 10, theme.Dark.Ground)
	l.MoveTo(0.5, 0.25)
	l.LineTo(1.5, 0)
	l.LineTo(1.75, 3)
	l.LineTo(2, 3.5)
	l.Fill(display.Paint{From: theme.Dark.String})
	assert.Contains(t, written(t, &l), `d="m.5.25l1-.25.25 3 .25.5"`)
}

// A group that hides nothing is none, and a gradient between colours that are as good as one
// is that colour.
func TestWhatShowsNothingIsNotWritten(t *testing.T) {
	for opacity, want := range map[float64]bool{1: false, 0.5: true} {
		var l display.List
		l.Reset(10, 10, theme.Dark.Ground)
		l.OpenGroup(display.Group{Opacity: opacity})
		l.MoveTo(1, 1)
		l.LineTo(5, 5)
		l.Stroke(1, display.Paint{From: theme.Dark.String})
		l.End()
		assert.Equal(t, want, strings.Contains(written(t, &l), "<g "), "%v", opacity)
	}
	for step, want := range map[float64]bool{1: false, 4: true} {
		var l display.List
		l.Reset(10, 10, theme.Dark.Ground)
		c := display.Colour{R: 0.5, G: 0.5, B: 0.5, A: 1}
		points := []display.RibbonPoint{{At: display.Point{X: 1, Y: 1}, Half: 1, Opacity: 1}, {At: display.Point{X: 9, Y: 9}, Half: 1, Opacity: 1 - step/255}}
		l.AddRibbon(display.Ribbon{Points: points, Colour: c, Shade: c})
		assert.Equal(t, want, strings.Contains(written(t, &l), "<linearGradient"), "%v of 255", step)
	}
}

// In a page a colour holds its opacity; a document of its own, which other programs read
// too, has both apart.
func TestColoursInAPageHoldTheirOpacity(t *testing.T) {
	var l display.List
	l.Reset(10, 10, display.Colour{R: 1, G: 1, B: 1, A: 1})
	l.Circle(display.Point{X: 5, Y: 5}, 3)
	l.Fill(display.Paint{From: display.Colour{R: 1, A: 0.5}})
	assert.Contains(t, written(t, &l), `fill="#ff0000" fill-opacity=".5"`)
	var b bytes.Buffer
	require.NoError(t, svg.WriteInline(&b, &l, "p"))
	assert.Contains(t, b.String(), `fill="#ff000080"`)
	assert.NotContains(t, b.String(), "-opacity")
	assert.Contains(t, b.String(), `fill="#ffffff"/>`)
}
