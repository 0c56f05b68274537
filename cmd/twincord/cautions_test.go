package main

import (
	"bytes"
	"compress/zlib"
	"html"
	"io"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/cmd/internal/call"
	"twincord/cmd/internal/made"
	"twincord/render/browser"
	"twincord/render/desk"
	"twincord/render/display"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
	"twincord/sim"
)

// caution is something that is said for safety, whatever the words.
type caution string

const (
	noTest      caution = "it is no test"
	noDiagnosis caution = "it is no diagnosis"
	whoDecides  caution = "who decides on training"
	stays       caution = "double vision may stay"
	underCare   caution = "only under care"
	strained    caution = "stop when strained"
	unwell      caution = "stop when unwell, and when things stay double"
	newlyDouble caution = "newly double is urgent"
	signs       caution = "signs that are urgent"
	over50      caution = "urgent over 50"
	oneEye      caution = "double with one eye"
	inChildren  caution = "signs in children"
	glasses     caution = "glasses and patches"
	force       caution = "force nothing back"
	driving     caution = "no driving yet"
	concussion  caution = "after a concussion"
	seizures    caution = "pictures that bring on seizures"
	cord        caution = "a cord is dangerous"
)

// usual are those that every page has.
var usual = []caution{
	noTest, noDiagnosis, whoDecides, strained, unwell, newlyDouble, signs, over50, oneEye, inChildren,
	glasses, force, driving, concussion, cord,
}

// everyOne is due where any scene can be seen.
var everyOne = append([]caution{underCare, stays, seizures}, usual...)

// phrases are by which words each is known, in English and in Spanish: all of them must be
// there. They are written down here, apart from the catalogues.
var phrases = map[caution][2][]string{
	noTest:      {{"no test"}, {"no (es|son) una prueba"}},
	noDiagnosis: {{"no diagnosis"}, {"(ni un|ni) diagnóstico"}},
	whoDecides:  {{"professional licensed where you live decides"}, {"profesional de la visión habilitado donde usted vive decide"}},
	stays:       {{"double vision that stays"}, {"visión doble permanente"}},
	underCare:   {{"only under a professional's care"}, {"solo con la supervisión de un profesional"}},
	strained:    {{"Stop if the eyes feel strained"}, {"Pare si nota (fatiga visual|los ojos cansados)"}},
	unwell: {{"if you have a headache, feel dizzy or feel sick", "still see double a minute later, away from the string. Stop and call the clinic"},
		{"dolor de cabeza, mareo o náuseas", "un minuto después, lejos del cordón, sigue viendo doble, pare y llame a la clínica"}},
	newlyDouble: {{"(New double vision away from the string needs urgent|Newly double away from the string. Get) care now"},
		{"(doble es de aparición reciente, lejos del cordón,|doble de pronto lejos del cordón.) acuda a urgencias"}},
	signs: {{"eye pain", "sudden loss of sight", "drooping lid", "bulging eye", "unequal pupils", "numbness", "trouble speaking",
		"weakness, even weakness that only comes when you are tired", "after an injury", "walk unsteadily", "confused", "Fever with a swollen lid"},
		{"dolor ocular", "pérdida brusca de la vista", "párpado caído", "ojo que sobresale", "pupilas desiguales", "entumecimiento",
			"dificultad para hablar", "debilidad, aunque solo aparezca con el cansancio", "tras un golpe o accidente", "camina inseguro",
			"confuso", "fiebre con un párpado hinchado"}},
	over50: {{"Over 50", "jaw pain on chewing", "tender scalp", "new headache"},
		{"más de 50 años", "mandíbula al masticar", "cuero cabelludo sensible", "dolor de cabeza nuevo"}},
	oneEye:     {{"with one eye covered. Then the string is not the reason"}, {"con un ojo tapado. Entonces el motivo no es el cordón"}},
	inChildren: {{"newly turned eye", "head tilt", "white pupil"}, {"empieza a desviar un ojo", "inclinar la cabeza", "pupila blanca"}},
	glasses: {{"glasses or prisms as prescribed, also for the exercise", "patch off for it only if the clinic said so"},
		{"como se lo indicaron, también en el ejercicio", "parche solo si la clínica se lo dijo"}},
	force:      {{"Never try to force back a string"}, {"Nunca intente forzar que vuelva una cuerda"}},
	driving:    {{"Do not drive, cycle or take stairs until"}, {"No conduzca .maneje., no vaya en bicicleta ni use escaleras hasta"}},
	concussion: {{"After a concussion"}, {"Después de una conmoción cerebral"}},
	seizures:   {{"seizures in you or your child. Then do not watch"}, {"convulsiones. Entonces no miren"}},
	cord: {{"an adult stays beside a child", "Never round a neck", "not for children under three", "no sharp end near the eye"},
		{"un adulto se queda junto al niño", "Nunca alrededor del cuello", "no para menores de tres años", "sin puntas afiladas cerca de los ojos"}},
}

// packed is a text in small letters, however it was broken into lines.
func packed(text string) string {
	return strings.ToLower(strings.Map(func(r rune) rune {
		switch r {
		case ' ', '\n', '\t', '-', '\u00ad', '\u00a0':
			return -1
		}
		return r
	}, text))
}

// known are the phrases as they are looked for in a packed text.
var known = sync.OnceValue(func() map[caution][2][]*regexp.Regexp {
	all := map[caution][2][]*regexp.Regexp{}
	for c, of := range phrases {
		var found [2][]*regexp.Regexp
		for language := range of {
			for _, phrase := range of[language] {
				found[language] = append(found[language], regexp.MustCompile(packed(phrase)))
			}
		}
		all[c] = found
	}
	return all
})

// saidFor are the cautions that a text says in a language, 0 for English and 1 for Spanish.
// One of which only some phrases are there is said by half.
func saidFor(text string, language int) (all []caution) {
	text = packed(text)
	for c, of := range known() {
		found := 0
		for _, phrase := range of[language] {
			if phrase.MatchString(text) {
				found++
			}
		}
		switch {
		case found == len(of[language]):
			all = append(all, c)
		case found > 0:
			all = append(all, "half of "+c)
		}
	}
	return all
}

// read is what one reads of a page: not its tags, nor what lies in its scripts, its styles and
// its drawings.
func read(page string) string {
	var text strings.Builder
	for more := true; more; {
		var said string
		said, page, more = strings.Cut(page, "<")
		text.WriteString(said + " ")
		for _, unsaid := range []string{"script", "style", "svg"} {
			if strings.HasPrefix(page, unsaid) {
				_, page, _ = strings.Cut(page, "</"+unsaid)
			}
		}
		_, page, _ = strings.Cut(page, ">")
	}
	return html.UnescapeString(text.String())
}

// A shown is a scene in some words, and what is due because of what it is.
type shown struct {
	t        *testing.T
	scene    *scenes.Scene
	say      *words.Words
	language int
	care     bool // it needs a professional's
	moves    bool // something in it moves without end
}

// where needs care, and where something moves.
func (s *shown) ifCare(all ...caution) []caution  { return all[:len(all)*length(s.care)] }
func (s *shown) ifMoves(all ...caution) []caution { return all[:len(all)*length(s.moves)] }

// atTheEdge is what one line at the edge of a window has room for.
func (s *shown) atTheEdge() []caution {
	if s.care {
		return []caution{underCare, stays}
	}
	return []caution{noTest, noDiagnosis}
}

func length(so bool) int {
	if so {
		return 1
	}
	return 0
}

// file is the scene in a file.
func (s *shown) file() string {
	path := filepath.Join(s.t.TempDir(), "scene.toml")
	data, err := made.File(s.scene)
	require.NoError(s.t, err)
	require.NoError(s.t, os.WriteFile(path, data, 0o600))
	return path
}

// runs runs a command, and gives what it says and the first file that it writes.
func (s *shown) runs(args ...string) string {
	var out, said bytes.Buffer
	for i, arg := range args {
		if strings.HasPrefix(arg, "out.") {
			args[i] = filepath.Join(s.t.TempDir(), arg)
			defer func(path string) { require.FileExists(s.t, path) }(args[i])
		}
	}
	require.Zero(s.t, run(args, &call.Streams{In: strings.NewReader(""), Out: &out, Err: &said}), "%v: %s", args, said.String())
	text := out.String() + said.String()
	for _, arg := range args {
		if strings.Contains(filepath.Base(arg), "out.") {
			data, err := os.ReadFile(arg)
			require.NoError(s.t, err)
			text += string(data)
		}
	}
	return text
}

func (s *shown) words() string { return words.Languages()[s.language] }

// film are the texts of a film, frame by frame.
func (s *shown) film(caption bool) string {
	script := made.Film(s.scene, scenes.Identity{}, s.say, 960, 720, 1)
	script.Caption = caption
	r, err := script.Reel()
	require.NoError(s.t, err)
	var text strings.Builder
	draw := r.Film().Drawer()
	for frame := range r.Film().Frames {
		var l display.List
		draw(frame, &l)
		text.WriteString(texts(&l))
	}
	return text.String()
}

func texts(l *display.List) string {
	var all strings.Builder
	for _, t := range l.Texts {
		all.WriteString(t.String + " ")
	}
	return all.String()
}

// window is what a window shows that is as high as a page, after some keys.
func (s *shown) window(first bool, keys ...func(*desk.Desk, *desk.Input)) string {
	d := desk.New(desk.Options{
		Document: document.New(s.scene, ""), Words: s.say, First: first, Settings: desk.Settings{Read: !first, Folded: true},
		Sheet: func(string, *scenes.Scene, scenes.Identity, *words.Words, string) ([]string, error) { return nil, nil },
	})
	in := desk.Input{Input: ui.Input{W: 1280, H: 2400, Scale: 1}}
	frame := func() {
		in.Seconds++
		d.Update(in)
		in.Keys = nil
	}
	frame()
	for _, key := range keys {
		key(d, &in)
		frame()
	}
	frame()
	var l display.List
	d.Draw(&l)
	return texts(&l)
}

func pressing(p ui.Press) func(*desk.Desk, *desk.Input) {
	return func(_ *desk.Desk, in *desk.Input) { in.Keys = []ui.Press{p} }
}

// chosen goes down an open menu as far as what has a hint, and chooses it.
func chosen(s *shown, hint words.Label) func(*desk.Desk, *desk.Input) {
	return func(d *desk.Desk, in *desk.Input) {
		for n := 0; d.Hint() != s.say.Label(hint); n++ {
			require.Less(s.t, n, 100, "not in the menu")
			in.Seconds++
			in.Keys = []ui.Press{{Key: ui.KeyDown}}
			d.Update(*in)
		}
		in.Keys = []ui.Press{{Key: ui.KeyEnter}}
	}
}

// shownGlyphs finds in text of a PDF from which face glyphs come, and each glyph.
var shownGlyphs = regexp.MustCompile(`/F(\d) [\d.]+ Tf|<([0-9A-F]{4})>`)

// printed is the text of a PDF, by the Unicode that its fonts state of each glyph.
func printed(t *testing.T, pdf []byte) string {
	objects := map[string][]byte{}
	for part := range bytes.SplitSeq(pdf, []byte("endobj")) {
		if before, object, ok := bytes.Cut(part, []byte(" 0 obj")); ok {
			objects[string(before[bytes.LastIndexByte(before, '\n')+1:])] = object
		}
	}
	stream := func(object []byte) []byte {
		_, data, ok := bytes.Cut(object, []byte("stream\n"))
		if !ok || !bytes.Contains(object, []byte("FlateDecode")) {
			return nil
		}
		z, err := zlib.NewReader(bytes.NewReader(data))
		require.NoError(t, err)
		text, err := io.ReadAll(z)
		require.NoError(t, err)
		return text
	}
	for _, o := range objects { // most are packed together into one, after their numbers and places
		first := regexp.MustCompile(`/Type/ObjStm/N \d+/First (\d+)`).FindSubmatch(o)
		if first == nil {
			continue
		}
		begin, err := strconv.Atoi(string(first[1]))
		require.NoError(t, err)
		all := stream(o)
		index := strings.Fields(string(all[:begin]))
		for i := 0; i < len(index); i += 2 {
			at, err := strconv.Atoi(index[i+1])
			require.NoError(t, err)
			objects[index[i]], _, _ = bytes.Cut(all[begin+at:], []byte("\n"))
		}
		break
	}
	glyphs := map[string]string{} // by face and number
	for _, f := range regexp.MustCompile(`/F(\d) (\d+) 0 R`).FindAllSubmatch(bytes.Join(slices.Collect(maps.Values(objects)), nil), -1) {
		unicode := regexp.MustCompile(`/ToUnicode (\d+) 0 R`).FindSubmatch(objects[string(f[2])])
		for _, g := range regexp.MustCompile(`beginbfchar <(\w+)> <(\w+)>`).FindAllSubmatch(stream(objects[string(unicode[1])]), -1) {
			var units []uint16
			for i := 0; i < len(g[2]); i += 4 {
				u, err := strconv.ParseUint(string(g[2][i:i+4]), 16, 16)
				require.NoError(t, err)
				units = append(units, uint16(u))
			}
			glyphs[string(f[1])+string(g[1])] = string(utf16.Decode(units))
		}
	}
	var text strings.Builder
	for _, n := range slices.SortedFunc(maps.Keys(objects), func(a, b string) int {
		x, _ := strconv.Atoi(a)
		y, _ := strconv.Atoi(b)
		return x - y
	}) {
		face := ""
		for rest, more := stream(objects[n]), true; more; {
			var shown []byte
			_, shown, more = bytes.Cut(rest, []byte("BT "))
			shown, rest, _ = bytes.Cut(shown, []byte(" ET"))
			for _, g := range shownGlyphs.FindAllSubmatch(shown, -1) {
				if len(g[1]) > 0 {
					face = string(g[1])
				}
				text.WriteString(glyphs[face+string(g[2])])
			}
		}
	}
	return text.String()
}

// surfaces are all on which somebody reads about a scene: what they say, and the cautions
// that are due there. That of all scenes is TestTheGalleryTellsScenesApart's.
var surfaces = map[string]struct {
	text func(s *shown) string
	due  func(s *shown) []caution
}{
	"check": {
		func(s *shown) string { return s.runs("check", s.file()) },
		func(*shown) []caution { return nil },
	},
	"measure": {
		func(s *shown) string { return s.runs("measure", s.file(), "--language", s.words()) },
		func(s *shown) []caution { return s.ifCare(underCare) },
	},
	"measure --json": {
		func(s *shown) string { return s.runs("measure", s.file(), "--json", "--language", s.words()) },
		func(s *shown) []caution { return s.ifCare(underCare) },
	},
	"measure --walk": {
		func(s *shown) string {
			return s.runs("measure", s.file(), "--walk", "200", "--language", s.words())
		},
		func(s *shown) []caution { return s.ifCare(underCare) },
	},
	"answers": {
		func(s *shown) string { return s.runs("answers", s.file(), "--bead", "two", "--language", s.words()) },
		func(*shown) []caution { return []caution{noDiagnosis} },
	},
	"draw": {
		func(s *shown) string {
			return html.UnescapeString(s.runs("draw", s.file(), "-o", "out.svg", "--language", s.words()))
		},
		func(s *shown) []caution { return append(s.ifCare(underCare), noTest) },
	},
	"film with captions": {
		func(s *shown) string { return s.film(true) },
		func(s *shown) []caution {
			return slices.Concat(s.ifCare(underCare), s.ifMoves(seizures), []caution{noTest, strained, newlyDouble})
		},
	},
	"film without": {
		func(s *shown) string { return s.film(false) },
		func(s *shown) []caution { return append(s.ifMoves(seizures), noTest) },
	},
	"sheet as HTML": {
		func(s *shown) string {
			return read(s.runs("sheet", s.file(), "-o", "out.html", "--prescribed", "--language", s.words()))
		},
		func(s *shown) []caution { return append(s.ifCare(underCare, stays), usual...) },
	},
	"sheet as PDF": {
		func(s *shown) string {
			return printed(s.t, []byte(s.runs("sheet", s.file(), "-o", "out.pdf", "--prescribed", "--language", s.words())))
		},
		func(s *shown) []caution { return append(s.ifCare(underCare, stays), usual...) },
	},
	"family page": {
		func(s *shown) string {
			if _, err := browser.Engine(); err != nil {
				s.t.Skip(err)
			}
			return read(s.runs("page", s.file(), "-o", "out.html", "--prescribed", "A. Nobody"))
		},
		func(*shown) []caution { return everyOne }, // it can be pulled on
	},
	"window at its first start": {
		func(s *shown) string { return s.window(true) },
		func(s *shown) []caution { return append(s.ifCare(underCare), noTest, noDiagnosis) },
	},
	"window": {
		func(s *shown) string { return s.window(false) },
		func(s *shown) []caution { return s.atTheEdge() },
	},
	"window's page of cautions": {
		func(s *shown) string {
			return s.window(false, pressing(ui.Press{Key: ui.KeyF10}), chosen(s, words.HintAbout))
		},
		func(s *shown) []caution { return slices.Concat(s.ifCare(underCare, stays), usual, []caution{seizures}) }, // a routine moves, too
	},
	"window that is asked for a sheet": {
		func(s *shown) string {
			return s.window(false, pressing(ui.Press{Key: ui.KeyLetter, Ctrl: true, Letter: 'p'}))
		},
		func(s *shown) []caution { return s.atTheEdge() },
	},
}

// What is said for safety is said on every surface on which it is due, and nowhere else, in
// every language.
func TestCautionsOnEverySurface(t *testing.T) {
	for language, name := range words.Languages() {
		say, err := words.For(name)
		require.NoError(t, err)
		for _, care := range []bool{false, true} {
			moves := care == (language == 0) // in each language two of the four
			sc, id, err := scenes.Open("jumps-of-three")
			require.NoError(t, err)
			sc = scenes.TranslationOf(id, say).Scene(sc)
			if care {
				sc.Setup.Suppression.Eye = sim.Right
			}
			if moves {
				sc.Setup.Hold.SD = 2
			}
			for surface, of := range surfaces {
				if surface == "answers" && care {
					continue // they say the same whatever the scene
				}
				t.Run(surface, func(t *testing.T) {
					s := &shown{t, sc, say, language, care, moves}
					assert.ElementsMatch(t, of.due(s), saidFor(of.text(s), language), "%s, care %v, moves %v", name, care, moves)
				})
			}
		}
	}
}
