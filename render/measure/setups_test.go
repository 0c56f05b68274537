package measure_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/measure"
	"twincord/render/raster"
	"twincord/render/svg"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

var library = scenes.Library()

// A drawer draws scenes from the whole range of every key of a file.
type drawer struct {
	*rand.Rand
	sc *scenes.Scene
}

// drawn is a scene that a file may hold, the same for the same seed, and how many were
// refused before it because their keys do not agree.
func drawn(seed uint64) (sc *scenes.Scene, refused int) {
	d := drawer{Rand: rand.New(rand.NewPCG(seed, 16))}
	for {
		d.draw()
		if d.sc.Setup.Validate() == nil {
			return d.sc, refused
		}
		refused++
	}
}

// draw begins with a built-in scene and changes one key in four, or in a third of the
// scenes one in a hundred, so that each rule is met alone as well as among others.
func (d *drawer) draw() {
	sc := *library[d.IntN(len(library))].Scene
	d.sc = &sc
	d.sc.Title, d.sc.Note, d.sc.Routine.OK = d.name(60), d.name(200), false
	s := &d.sc.Setup
	changed := 0.25
	if d.IntN(3) == 0 {
		changed = 0.01
	}
	if d.IntN(3) == 0 {
		s.Findings.OK = false
	}
	d.beads()
	for _, k := range scenes.Keys() {
		if d.Float64() > changed || slices.Contains([]string{"", "beads[]", "look", "routine"}, k.Table) {
			continue
		}
		if k.Table == "findings" && !s.Findings.OK && d.IntN(20) > 0 {
			continue // one would bring them all
		}
		// What the key itself refuses, a length below the last bead's place, is left.
		_ = k.Set(d.sc, 0, d.value(&k))
	}
	if s.Findings.OK && d.IntN(20) > 0 {
		s.Posture = sim.Default().Posture
	}
	d.look()
}

// value is a value of a key: any of its range, an end of it, or 0.
func (d *drawer) value(k *scenes.Key) any {
	switch k.Kind {
	case scenes.Number:
		x := d.within(k.Ranges[d.IntN(len(k.Ranges))])
		if k.Whole {
			x = math.Round(x)
		}
		return x
	case scenes.Point:
		return [3]float64{d.within(k.Ranges[0]), d.within(k.Ranges[1]), d.within(k.Ranges[2])}
	case scenes.Choice:
		return k.Choices[d.IntN(len(k.Choices))]
	case scenes.Colour:
		return fmt.Sprintf("#%06X", d.IntN(1<<24))
	}
	return ""
}

func (d *drawer) within(r scenes.Range) float64 {
	switch d.IntN(8) {
	case 0:
		return r.Min
	case 1:
		return r.Max
	case 2:
		return r.Clamp(0)
	}
	return r.Min + d.Float64()*(r.Max-r.Min)
}

// beads are as many as there may be, one after another along the string, some touching.
func (d *drawer) beads() {
	s := &d.sc.Setup
	s.String.Length = d.within(scenes.RangeOf("string.length_mm"))
	s.Beads, s.Look.From, s.Look.Asked, s.Suppression = nil, sim.Maybe[int]{}, sim.NoBead, sim.Default().Suppression
	end := 0.
	for i := range d.IntN(sim.MaxBeads + 1) {
		b := sim.Bead{
			Name: fmt.Sprint(i+1, " ", d.name(20)), Diameter: d.within(scenes.RangeOf("beads[].diameter_mm")),
			Colour:  sim.RGB{R: uint8(d.IntN(256)), G: uint8(d.IntN(256)), B: uint8(d.IntN(256))},
			Surface: []sim.Surface{sim.SurfacePlain, sim.SurfaceBanded, sim.SurfaceDotted, sim.SurfaceRinged}[d.IntN(4)],
		}
		b.At = end + b.Diameter/2
		if d.IntN(8) > 0 {
			b.At += d.Float64() * s.String.Length / 6
		}
		if b.At > s.String.Length {
			break
		}
		s.Beads = append(s.Beads, b)
		end = b.At + b.Diameter/2
	}
}

func (d *drawer) look() {
	l := &d.sc.Setup.Look
	l.Bead, l.At = sim.NoBead, d.Float64()*d.sc.Setup.String.Length
	n := len(d.sc.Setup.Beads)
	if n == 0 || d.IntN(4) == 0 {
		return
	}
	l.Bead, l.At = d.IntN(n), 0
	if d.IntN(4) == 0 {
		l.Asked = d.IntN(n)
	}
	if d.IntN(8) == 0 {
		l.From = sim.Some(d.IntN(n))
	}
}

// name is a name in any script, with what files and pages have to write otherwise.
func (d *drawer) name(most int) string {
	const letters = `bc déß ЖѠ אב مر 中文 ½″ "'\&<>{}{{.N}}%d 🧵`
	all := []rune(letters)
	b := []rune{'n'}
	for range d.IntN(most) {
		b = append(b, all[d.IntN(len(all))])
	}
	return strings.TrimSpace(string(b))
}

// tellers are the languages.
var tellers = func() (all []*words.Words) {
	for _, language := range words.Languages() {
		w, err := words.For(language)
		if err != nil {
			panic(err)
		}
		all = append(all, w)
	}
	return all
}()

// anID is an id of a text, which stands where the text is missing.
var anID = regexp.MustCompile(`^[a-z]+(-[a-z_]+)+$`)

// told are all sentences of a view.
func told(w *words.Words, v *sim.View) map[string]string {
	return map[string]string{
		"family": w.Family(v), "seen": w.Seen(v), "brief": w.Brief(v), "front": w.Front(v), "clinician": w.Clinician(v),
	}
}

// check is what holds for every view of every set-up.
func check(t require.TestingT, v *sim.View, seed uint64) (longest int) {
	finite(t, reflect.ValueOf(*v), "View", seed)
	agree(t, v, seed)
	entries := make([]measure.Entry, 1)
	for _, w := range tellers {
		all := told(w, v)
		entries[0] = measure.Entry{File: "f", Title: "t", Language: w.Language(), View: v, Sentence: all["family"], Clinical: words.Texts(w.Clinical(v))}
		for which, text := range all {
			require.True(t, utf8.ValidString(text), "seed %d: %s", seed, which)
			require.NotEmpty(t, text, "seed %d: %s in %s", seed, which, w.Language())
			for _, part := range strings.Split(strings.Trim(text, "."), ". ") {
				require.NotRegexp(t, anID, part, "seed %d: %s in %s", seed, which, w.Language())
			}
			require.NotContains(t, text, "NaN", "seed %d: %s", seed, which)
		}
		longest = max(longest, len(strings.Fields(all["family"])))
	}
	var b bytes.Buffer
	require.NoError(t, measure.JSON(&b, entries, false), "seed %d", seed)
	require.True(t, json.Valid(b.Bytes()), "seed %d: %s", seed, &b)
	require.NoError(t, measure.Table(io.Discard, entries), "seed %d", seed)
	return longest
}

// finite holds for every number of a value that others can read.
func finite(t require.TestingT, v reflect.Value, at string, seed uint64) {
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			require.Failf(t, "no number", "seed %d: %s is %v", seed, at, x)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				finite(t, v.Field(i), at+"."+f.Name, seed)
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			finite(t, v.Index(i), at, seed)
		}
	}
}

// agree holds between what is said in codes and the numbers that they stand for.
func agree(t require.TestingT, v *sim.View, seed uint64) {
	a := &v.Account
	same := func(want, got any, what string) { require.Equal(t, want, got, "seed %d: %s", seed, what) }
	same(v.Strings.Near, a.Near, "near")
	same(v.Strings.Far, a.Far, "far")
	same(v.Strings.Pattern, a.Pattern, "pattern")
	same(!v.Axes.Gap.OK, a.Eyes == sim.AimApart, "the axes part")
	same(v.Axes.Gap.OK, v.Axes.Point.OK, "the axes' point")
	same(!v.Crossing.At.OK, a.Meet == sim.MeetNowhere, "meet nowhere")
	same(v.Crossing.At.OK && !v.Crossing.Seen, a.Meet == sim.MeetUnseen, "meet unseen")
	looked := -1
	for i := range v.Beads {
		b := &v.Beads[i]
		if b.Name == a.LookedAt {
			looked = i
		}
		same(b.Disparity.OK, b.Overlap.OK, b.Name+": overlap")
		if b.Diplopia != sim.DiplopiaNone {
			same(sim.SeenTwo, b.Seen, b.Name+": doubled how")
		}
		if b.Seen == sim.SeenTwo {
			same(true, b.Disparity.OK, b.Name+": two without a disparity")
			same(false, b.Disparity.Value.Single(), b.Name+": two and single")
		}
	}
	radius := 10.
	switch {
	case looked >= 0:
		same(v.Beads[looked].Seen, a.Fixated, "fixated")
		same(a.Fixated == sim.SeenOne, a.Fuses, "fuses")
		radius = v.Now.Beads[looked].Diameter / 2
	default:
		same(sim.Seen(""), a.Fixated, "fixated on a bare string")
	}
	if offset := v.Crossing.Offset; offset.OK {
		switch a.Meet {
		case sim.MeetAt:
			require.LessOrEqual(t, math.Abs(offset.Value), radius, "seed %d: meet at", seed)
		case sim.MeetNearer:
			require.Less(t, offset.Value, -radius, "seed %d: meet nearer", seed)
		case sim.MeetBeyond:
			require.Greater(t, offset.Value, radius, "seed %d: meet beyond", seed)
		}
	}
	same(a.Missing == sim.Neither, a.MissingWhere == sim.WhereNot, "missing where")
	if a.Clarity == sim.ClarityNone {
		same(false, a.Uneven, "unevenly unclear")
	}
}

// checkPictures holds for every picture of every view.
func checkPictures(t require.TestingT, v *sim.View, r *rand.Rand, seed uint64) {
	kinds := []render.Kind{render.OfPatient, render.OfAbove, render.OfFront, render.OfEachEye}
	if v.Now.Findings.OK {
		kinds = append(kinds, render.OfDemand)
	}
	say := tellers[r.IntN(len(tellers))]
	for _, kind := range kinds {
		p := render.Picture{Kind: kind, Say: say}
		if kind == render.OfPatient {
			p.Compare = r.IntN(2) == 0
			p.Options.Marks = render.MarksIn(say)
		}
		var l display.List
		frame := display.Rect{W: float64(160 + r.IntN(200)), H: float64(120 + r.IntN(150))}
		l.Reset(frame.W, frame.H, p.Ground())
		p.Paint(&l, frame, v)
		require.NotEmpty(t, p.Sentence(v), "seed %d: %s", seed, kind)
		finite(t, reflect.ValueOf(l), string(kind), seed)
		require.NoError(t, svg.Write(io.Discard, &l), "seed %d: %s", seed, kind)
		new(raster.Painter).Paint(&l, image.NewRGBA(image.Rect(0, 0, int(frame.W), int(frame.H))))
	}
}

// TestAnySetup looks at random set-ups from all that a scene file may hold: no number is
// none, both languages have words for it, the JSON encodes, the codes agree with the
// numbers, and of some every picture can be drawn. SETUPS=N looks at so many.
func TestAnySetup(t *testing.T) {
	const picturesOf = 100 // one set-up in so many is drawn
	setups := setups
	if n, err := strconv.ParseUint(os.Getenv("SETUPS"), 10, 64); err == nil {
		setups = n
	}
	began := time.Now()
	var all sync.Mutex
	var done sync.WaitGroup
	looked, refused, longest, pictures := 0, 0, 0, 0
	workers := uint64(runtime.GOMAXPROCS(0))
	for worker := range workers {
		done.Go(func() {
			var v sim.View
			for seed := worker; seed < setups && !t.Failed(); seed += workers {
				sc, no := drawn(seed)
				r := rand.New(rand.NewPCG(seed, 17))
				at := 0.
				if r.IntN(4) == 0 {
					at = 10 * r.Float64()
				}
				sim.NewCourse(&sc.Setup).Look(&v, at)
				most := check(stopping{t}, &v, seed)
				if seed%picturesOf == 0 {
					checkPictures(stopping{t}, &v, r, seed)
				}
				all.Lock()
				looked, refused, longest = looked+1, refused+no, max(longest, most)
				if seed%picturesOf == 0 {
					pictures++
				}
				all.Unlock()
			}
		})
	}
	done.Wait()
	t.Logf("%d set-ups (%d more refused), each in %d languages, %d of them drawn, in %v; the longest caption has %d words",
		looked, refused, len(tellers), pictures, time.Since(began).Round(time.Second), longest)
}

// stopping ends the goroutine that fails, whichever it is.
type stopping struct{ *testing.T }

func (s stopping) FailNow() { s.Fail(); runtime.Goexit() }
