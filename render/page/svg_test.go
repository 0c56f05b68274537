package page_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/page"
	"twincord/render/theme"
	"twincord/sim"
)

// setups are pictures that between them hold every kind of shape.
func setups() map[string]*sim.Setup {
	base := func() *sim.Setup {
		s := sim.Default()
		s.String.Length = 1200
		s.Beads = []sim.Bead{
			{Name: "orange", At: 230, Diameter: 16, Colour: sim.RGB{R: 0xe6, G: 0x9f}, Surface: sim.SurfaceBanded},
			{Name: "sky", At: 480, Diameter: 16, Colour: sim.RGB{R: 0x56, G: 0xb4, B: 0xe9}, Surface: sim.SurfaceDotted},
			{Name: "plum", At: 900, Diameter: 16, Colour: sim.RGB{R: 0xcc, G: 0x79, B: 0xa7}, Surface: sim.SurfaceRinged},
		}
		s.Look.Bead = 1
		return &s
	}
	near, far, slack, tilted, filters, nearFilters := base(), base(), base(), base(), base(), base()
	near.Look.Bead = 0
	far.Posture.Deviation = -3.5
	far.Beads[1].Surface = sim.SurfacePlain
	slack.String.Sag = 120
	slack.Posture.Deviation = 4
	tilted.Posture.Cyclo = 8
	tilted.Posture.Vertical = 4
	nearFilters.Look.Bead = 0
	for _, s := range []*sim.Setup{filters, nearFilters} {
		s.Right.Filter, s.Left.Filter = sim.FilterRed, sim.FilterGreen
	}
	return map[string]*sim.Setup{"middle": base(), "near": near, "too far": far, "slack": slack, "tilted": tilted,
		"filters": filters, "near, filters": nearFilters}
}

// pictures are patient's views of the set-ups, and one from above.
func pictures() map[string]func(l *display.List, w, h float64) { return inTheme(&theme.Dark) }

// printed are the pictures as they are printed.
func printed() map[string]func(l *display.List, w, h float64) { return inTheme(&theme.Paper) }

func inTheme(th *theme.Theme) map[string]func(l *display.List, w, h float64) {
	all := map[string]func(l *display.List, w, h float64){}
	for name, s := range setups() {
		all[name] = func(l *display.List, w, h float64) {
			var v sim.View
			v.Look(s)
			l.Reset(w, h, th.Ground)
			render.Patient(l, display.Rect{W: w, H: h}, &v, render.PatientOptions{Theme: th})
		}
	}
	all["above"] = func(l *display.List, w, h float64) {
		var v sim.View
		v.Look(setups()["too far"])
		l.Reset(w, h, th.Panel)
		render.Above(l, display.Rect{W: w, H: h}, &v, render.AboveOptions{Theme: th, Labels: render.AboveLabels{
			Right: "R", Left: "L", Target: "looking at", MeetCross: "eyes meet, strings cross", Horopter: "horopter",
		}})
	}
	all["in front"] = func(l *display.List, w, h float64) {
		var v sim.View
		v.Look(setups()["tilted"])
		l.Reset(w, h, th.Panel)
		render.Front(l, display.Rect{W: w, H: h}, &v, render.FrontOptions{Theme: th, Labels: render.FrontLabels{
			Right: "R", Left: "L", Covered: "covered", Turned: func(side, height sim.Turn) string { return "turned" },
		}})
	}
	return all
}

func svg(t *testing.T, l *display.List) string {
	var b bytes.Buffer
	require.NoError(t, page.WriteSVG(&b, l))
	return b.String()
}

// element is an element of a document, read by another reader.
type element struct {
	name  string
	attrs map[string]string
}

// elements reads a document and fails on one that is not well-formed.
func elements(t *testing.T, document string) (all []element) {
	d := xml.NewDecoder(strings.NewReader(document))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		require.NoError(t, err)
		if start, ok := token.(xml.StartElement); ok {
			e := element{start.Name.Local, map[string]string{}}
			for _, a := range start.Attr {
				require.NotContains(t, e.attrs, a.Name.Local)
				e.attrs[a.Name.Local] = a.Value
			}
			all = append(all, e)
		}
	}
}

var reference = regexp.MustCompile(`^(?:url\(#([a-z][0-9]+)\)|#([a-z][0-9]+))$`)

func TestSVGStandsAlone(t *testing.T) {
	allowed := map[string]bool{}
	for _, name := range strings.Fields("svg title desc defs g path rect circle use clipPath mask linearGradient radialGradient stop") {
		allowed[name] = true
	}
	for name, draw := range pictures() {
		var l display.List
		draw(&l, 1280, 800)
		document := svg(t, &l)
		assert.NotContains(t, document, "NaN", name)
		ids, used := map[string]bool{}, map[string]bool{}
		for _, e := range elements(t, document) {
			require.True(t, allowed[e.name], "%s: <%s>", name, e.name)
			for key, value := range e.attrs {
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

func TestSVGIsSmallAndTheSameTwice(t *testing.T) {
	for name, draw := range pictures() {
		for _, size := range [][2]float64{{1280, 800}, {7680, 4320}} {
			var l display.List
			draw(&l, size[0], size[1])
			document := svg(t, &l)
			assert.LessOrEqual(t, len(document), 400_000, name)
			assert.Equal(t, document, svg(t, &l))
		}
	}
}

func TestSVGSaysWhatItShows(t *testing.T) {
	var l display.List
	l.Reset(100, 50, theme.Dark.Ground)
	l.Title = `One <bead> & "two" strings`
	l.OpenGroup(display.Group{Opacity: 1, Label: "what the right eye sees"})
	lettering.Draw(&l, lettering.Style{Size: 20}, 10, 30, lettering.Start, "4.2 Δ")
	l.End()
	document := svg(t, &l)
	assert.Contains(t, document, "<title id=\"title\">One &lt;bead&gt; &amp; &#34;two&#34; strings</title>")
	assert.Contains(t, document, "<desc id=\"desc\">what the right eye sees</desc>")
	all := elements(t, document)
	assert.Equal(t, "img", all[0].attrs["role"])
	assert.Equal(t, "0 0 100 50", all[0].attrs["viewBox"])
	labels, glyphs := 0, 0
	for _, e := range all {
		if e.attrs["aria-label"] == "4.2 Δ" {
			labels++
		}
		if e.name == "use" {
			glyphs++
		}
	}
	assert.Equal(t, 1, labels)
	assert.Equal(t, 4, glyphs, "a space is no shape")
}

// square adds a square of a colour.
func square(l *display.List, x float64, c display.Colour) {
	l.Rect(display.Rect{X: x, Y: 1, W: 8, H: 8})
	l.Fill(display.Paint{From: c})
}

func TestSVGMixesAnEvenGroupBothWays(t *testing.T) {
	var l display.List
	l.Reset(20, 10, display.Colour{A: 1})
	l.OpenGroup(display.Group{Opacity: 1, Even: true, Bounds: display.Rect{W: 20, H: 10}})
	for x := range 5 { // the ground and two pairs
		square(&l, float64(x), display.Colour{R: 1, A: 1})
	}
	l.End()
	document := svg(t, &l)
	assert.Contains(t, document, `<g opacity=".5"><use href="#e1"/><use href="#e3"/><use href="#e2"/><use href="#e5"/><use href="#e4"/></g>`)
}

func TestSVGRefusesWhatIsNoNumber(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1)} {
		var l display.List
		l.Reset(10, 10, theme.Dark.Ground)
		square(&l, 1, theme.Dark.Ink)
		square(&l, v, theme.Dark.Ink)
		assert.ErrorContains(t, page.WriteSVG(io.Discard, &l), "shape 1 holds the number")
	}
}

// Pictures that stand in one HTML page share no id, and each finds its own shapes.
func TestInlineSVGSharesNoID(t *testing.T) {
	ids := map[string]bool{}
	for prefix, name := range map[string]string{"a": "middle", "step2": "middle", "C": "above"} {
		var l display.List
		pictures()[name](&l, 640, 400)
		l.Title = "what is seen"
		var b bytes.Buffer
		require.NoError(t, page.WriteInlineSVG(&b, &l, prefix))
		all := elements(t, b.String())
		assert.Equal(t, prefix+"-title", all[0].attrs["aria-labelledby"])
		assert.NotContains(t, all[0].attrs, "width", "the page's style says how wide it is")
		own := map[string]bool{}
		for _, e := range all {
			if id := e.attrs["id"]; id != "" {
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
		assert.ErrorContains(t, page.WriteInlineSVG(io.Discard, &l, prefix), "allowed are a letter and then letters and digits")
	}
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestSVGReportsAWriteThatFails(t *testing.T) {
	var l display.List
	l.Reset(10, 10, theme.Dark.Ground)
	square(&l, 1, theme.Dark.Ink)
	assert.ErrorContains(t, page.WriteSVG(brokenWriter{}, &l), "disk full")
}

// A ball may be lit from anywhere in front, and have no blur, no hole and no size to
// speak of.
func TestSVGDrawsBallsInAnyLight(t *testing.T) {
	for _, light := range [][3]float64{{0, 0, 1}, {1, 0, 0}, {0, -1, 0}, {0.6, 0, 0.8}} {
		for _, r := range []float64{0.01, 1, 300} {
			var l display.List
			l.Reset(100, 100, theme.Dark.Ground)
			l.AddBall(display.Ball{RadiusX: r, RadiusY: 2 * r, Opacity: 1, Surface: display.Ringed, Light: light})
			elements(t, svg(t, &l))
		}
	}
}

// tinted adds dotted balls in one light: two of the same tint, and one of none between.
func tinted(l *display.List, tint display.Colour) {
	l.Reset(100, 100, display.Colour{A: 1})
	for _, white := range []display.Colour{tint, {}, tint} {
		l.AddBall(display.Ball{RadiusX: 30, RadiusY: 30, Opacity: 1, Colour: display.Colour{A: 1}, Surface: display.Dotted,
			Axis: [3]float64{0, 0, 1}, Light: [3]float64{0, 0, 1}, Tint: white})
	}
}

// Behind a filter the gleam and the dots are in its colour, and balls alike share one
// gradient.
func TestSVGTintsTheWhiteOfABall(t *testing.T) {
	var l display.List
	tinted(&l, display.Colour{R: 1, A: 1})
	dots, gleams, gradient := map[string]int{}, map[string]int{}, ""
	colours := map[string]string{} // of the middle of a gradient
	for _, e := range elements(t, svg(t, &l)) {
		switch {
		case e.name == "radialGradient":
			gradient = "url(#" + e.attrs["id"] + ")"
		case e.name == "stop" && colours[gradient] == "":
			colours[gradient] = e.attrs["stop-color"]
		case e.name == "path" && e.attrs["fill-opacity"] == ".72": // display.DotPale
			dots[e.attrs["fill"]]++
		case e.name == "circle" && e.attrs["opacity"] != "":
			gleams[e.attrs["fill"]]++
		}
	}
	assert.Equal(t, map[string]int{"#ff0000": 2, "#ffffff": 1}, dots)
	require.Len(t, gleams, 2)
	for id, balls := range gleams {
		assert.Equal(t, map[int]string{2: "#ff0000", 1: "#ffffff"}[balls], colours[id])
	}
}

// Steps between rounded places must not add up.
func TestSVGRoundsPlacesNotSteps(t *testing.T) {
	var l display.List
	l.Reset(10, 10, theme.Dark.Ground)
	l.MoveTo(0, 0)
	for i := 1; i <= 1000; i++ {
		l.LineTo(float64(i)*0.0149, 0)
	}
	l.Stroke(1, display.Paint{From: theme.Dark.Ink})
	d := ""
	for _, e := range elements(t, svg(t, &l)) {
		if e.name == "path" {
			d = e.attrs["d"]
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

func BenchmarkWriteSVG(b *testing.B) {
	b.ReportAllocs()
	var l display.List
	pictures()["middle"](&l, 1280, 800)
	for b.Loop() {
		if err := page.WriteSVG(io.Discard, &l); err != nil {
			b.Fatal(err)
		}
	}
}
