// Package browser writes family pages: one HTML file that is the simulator of its scenes,
// on any phone, with no network. Pictures, sentences and routines stand in it so that they
// can be read where no script runs; where one does, the engine, which is in the file too,
// makes them live.
package browser

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"twincord/render"
	"twincord/render/browser/live"
	"twincord/render/display"
	"twincord/render/sheet"
	"twincord/render/svg"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// Page is a family page.
type Page struct {
	Scenes   []Scene
	Language string // that shows first
	Inches   bool   // lengths that show first
}

// Scene is a scene of a page.
type Scene struct {
	ID         scenes.Identity
	Source     []byte // its file
	Allow      live.Allowed
	Prescribed string // who prescribed it; empty: nobody says so
	// Sheet makes the take-home sheet of its routine, in some words; nil: it has none.
	Sheet func(*words.Words) *sheet.Sheet
}

// ErrNoEngine says that this program was built without what makes a page live.
var ErrNoEngine = errors.New("this build has no engine for pages; \"make build\" makes one and builds it in")

//go:embed engine
var engineFiles embed.FS

// Engine is the engine, compressed, as it was built in.
func Engine() ([]byte, error) {
	packed, err := engineFiles.ReadFile("engine/engine.wasm.gz")
	if err != nil {
		return nil, ErrNoEngine
	}
	return packed, nil
}

//go:embed page.html page.css page.js
var sources embed.FS

func source(name string) string {
	text, err := sources.ReadFile(name)
	if err != nil {
		panic(err) // it is built in
	}
	return string(text)
}

// short is a script without what only its writers need: lines of comment and indents.
func short(script string) string { return aside.ReplaceAllString(script, "") }

var aside = regexp.MustCompile(`(?m)^\t*//.*\n|^\t+`)

// The picture of a page that no script runs in, and those of a routine. They are small:
// the finer what a list states, the longer it is as SVG.
const (
	pictureWidth, pictureHeight = 160, 128
	stillWidth, stillHeight     = 96, 64
	mostStills                  = 4 // of a routine's places
)

// Write writes the page. Of a page that cannot be written nothing is.
func (p *Page) Write(w io.Writer) error {
	engine, err := Engine()
	if err != nil {
		return err
	}
	return p.write(w, engine)
}

func (p *Page) write(w io.Writer, engine []byte) error {
	v, err := voices()
	if err != nil {
		return err
	}
	data := map[string]any{}
	var told []told
	var held []held
	for i, anchor := range p.anchors() {
		t, h, err := p.Scenes[i].tell(v, anchor, "s"+strconv.Itoa(i+1))
		if err != nil {
			return fmt.Errorf("%s: %w", p.Scenes[i].ID, err)
		}
		told, held = append(told, t), append(held, h)
	}
	all, err := json.Marshal(held) // in which no < and & is left
	if err != nil {
		return err
	}
	style := colours() + source("page.css")
	script := "\n" + short(source("page.js"))
	data["Policy"] = fmt.Sprintf("default-src 'none'; script-src %s 'wasm-unsafe-eval'; style-src %s; base-uri 'none'; form-action 'none'",
		digest(script), digest(style))
	data["Style"] = template.HTML("<style>" + style + "</style>")
	data["Data"] = template.HTML(`<script type="application/json" id="scenes">` + string(all) + "</script>")
	data["Engine"] = template.HTML(packed(engine))
	data["Script"] = template.HTML("<script>" + script + "</script>")
	data["Scenes"] = told
	data["Language"], data["Unit"] = p.Language, unitOf(p.Inches)
	data["Heading"] = v.say(func(w *words.Words) string { return w.Label(words.GalleryTitle) })
	data["Title"] = p.title(told)
	data["Cautions"] = v.list(func(w *words.Words) []string { return w.Cautions() })
	type language struct{ Code, Name string }
	var languages []language
	names := words.LanguageNames()
	for i, code := range words.Languages() {
		languages = append(languages, language{code, names[i]})
	}
	data["Languages"] = languages
	page, err := template.New("page").Funcs(template.FuncMap{
		"say": func(label string) []saying {
			return v.say(func(w *words.Words) string { return w.Label(words.Label(label)) })
		},
	}).Parse(source("page.html"))
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := page.Execute(&b, data); err != nil {
		return fmt.Errorf("writing the page: %w", err)
	}
	_, err = w.Write(b.Bytes())
	return err
}

// anchors are what the scenes are called in the address of the page: by their names, each
// only once.
func (p *Page) anchors() []string {
	all := make([]string, len(p.Scenes))
	for i := range p.Scenes {
		name := "scene-" + strings.Trim(strings.Map(func(c rune) rune {
			if 'a' <= c && c <= 'z' || '0' <= c && c <= '9' {
				return c
			}
			return '-'
		}, strings.ToLower(p.Scenes[i].ID.Short())), "-")
		all[i] = name
		for n := 2; slices.Contains(all[:i], all[i]); n++ {
			all[i] = fmt.Sprintf("%s-%d", name, n)
		}
	}
	return all
}

// title is what the page is called: as its scene, or as the collection that it is.
func (p *Page) title(all []told) string {
	v, err := words.For(p.Language)
	if len(all) != 1 || err != nil {
		return "twincord"
	}
	for _, s := range all[0].Title {
		if s.Language == "" || s.Language == v.Language() {
			return s.Text
		}
	}
	return "twincord"
}

func unitOf(inches bool) string {
	if inches {
		return "in"
	}
	return "cm"
}

// digest is how a policy names a text that may stand in the page.
func digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// colours are those of the page: as on paper, or, for a dimmed room, dark.
func colours() string {
	light, dark := sheet.Variables(&theme.Paper), sheet.Variables(&theme.Dark)
	return fmt.Sprintf(`:root { color-scheme: light; %s }
@media screen { :root[data-look="dark"] { color-scheme: dark; %s } }
@media screen and (prefers-color-scheme: dark) { :root:not([data-look]) { color-scheme: dark; %s } }
`, light, dark, dark)
}

// digits are those of a number to the base 91: what ASCII has but for what means something
// in a page.
const digits = "!\"#$%'()*+,-./0123456789:;=?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\\]^_`abcdefghijklmnopqrstuvwxyz{|}~"

// packed is the engine as an element of the page: of every 13 bits, first to last, two
// digits, which is a thirteenth less than base64; zeros at the end fill the last ones.
func packed(engine []byte) string {
	text := make([]byte, 0, len(engine)*16/13+2)
	var bits, n uint
	put := func() { text = append(text, digits[bits>>n/91], digits[bits>>n%91]) }
	for _, b := range engine {
		bits, n = bits<<8|uint(b), n+8
		if n >= 13 {
			n -= 13
			put()
			bits &= 1<<n - 1
		}
	}
	if n > 0 {
		bits, n = bits<<(13-n), 0
		put()
	}
	return fmt.Sprintf(`<script type="text/plain" id="engine" data-size="%d">%s</script>`, len(engine), text)
}

// held is a scene as the script has it.
type held struct {
	ID      string       `json:"id"`
	Key     string       `json:"key"` // under which its days are kept
	Name    string       `json:"name"`
	Allow   live.Allowed `json:"allow"`
	Source  string       `json:"source"`
	Routine bool         `json:"routine"` // it may be gone through
}

// told is a scene as the page tells it.
type told struct {
	ID                                string
	Title, Note, Prescribed, Sentence []saying
	Care, Locked                      bool
	SVG                               template.HTML
	Routine                           *toldRoutine
}

// toldRoutine is a routine as the page tells it: the take-home sheet, in short.
type toldRoutine struct {
	Title, Lead, SeeLead []saying
	Stop, Do, Ask        []saying
	Places, Answers      []still
}

// still is a picture with its words.
type still struct {
	Title, Text []saying
	SVG         template.HTML
}

// tell puts a scene into the page under an id, with a prefix of all ids in its pictures. A
// scene that needs care is only looked at, unless somebody prescribed it.
func (s *Scene) tell(v voicesOf, id, prefix string) (told, held, error) {
	sc, err := scenes.Parse(s.ID.Name, s.Source)
	if err != nil {
		return told{}, held{}, err
	}
	in := func(w *words.Words) *scenes.Scene { return scenes.TranslationOf(s.ID, w).Scene(sc) }
	seen := func(w *words.Words) *sim.View {
		view := new(sim.View)
		sim.NewCourse(&in(w).Setup).Look(view, 0)
		return view
	}
	view := seen(v[0].say)
	care := view.Account.NeedsCare
	allow := s.Allow
	locked := care && s.Prescribed == ""
	if locked {
		allow = live.Nothing
	}
	t := told{ID: id, Care: care, Locked: locked}
	t.Title = v.say(func(w *words.Words) string {
		if title := in(w).Title; title != "" {
			return title
		}
		return s.ID.Short()
	})
	t.Note = v.say(func(w *words.Words) string { return in(w).Note })
	if s.Prescribed != "" {
		t.Prescribed = v.say(func(w *words.Words) string { return w.Filled(words.PagePrescribed, "Name", s.Prescribed) })
	}
	t.Sentence = v.say(func(w *words.Words) string { return w.Family(seen(w)) })
	t.SVG, err = drawn(pictureWidth, pictureHeight, prefix+"v", func(l *display.List, w, h float64) {
		l.Reset(w, h, theme.Paper.Ground)
		render.Patient(l, display.Rect{W: w, H: h}, view, render.PatientOptions{Theme: &theme.Paper})
	})
	if err != nil {
		return told{}, held{}, err
	}
	routine := s.Sheet != nil && !locked
	if routine {
		if t.Routine, err = s.tellRoutine(v, prefix); err != nil {
			return told{}, held{}, err
		}
	}
	sum := sha256.Sum256(s.Source)
	h := held{ID: id, Key: hex.EncodeToString(sum[:8]), Allow: allow, Source: string(s.Source), Routine: routine}
	if s.ID.Origin == scenes.BuiltIn {
		h.Name = s.ID.Name
	}
	return t, h, nil
}

func (s *Scene) tellRoutine(v voicesOf, prefix string) (*toldRoutine, error) {
	shorts := map[*words.Words]*sheet.Short{}
	for _, voice := range v {
		whole := s.Sheet(voice.say)
		whole.Prescribed, whole.Prescriber = s.Prescribed != "", s.Prescribed
		short, err := whole.Short(mostStills)
		if err != nil {
			return nil, err
		}
		shorts[voice.say] = short
	}
	say := func(f func(*sheet.Short) string) []saying {
		return v.say(func(w *words.Words) string { return f(shorts[w]) })
	}
	list := func(f func(*sheet.Short) []string) []saying {
		return v.list(func(w *words.Words) []string { return f(shorts[w]) })
	}
	stills := func(kind string, f func(*sheet.Short) []sheet.ShortPlace) (all []still, err error) {
		for i, place := range f(shorts[v[0].say]) {
			st := still{
				Title: say(func(h *sheet.Short) string { return f(h)[i].Title }),
				Text:  say(func(h *sheet.Short) string { return f(h)[i].Text }),
			}
			if st.SVG, err = drawn(stillWidth, stillHeight, prefix+kind+strconv.Itoa(i), place.Draw); err != nil {
				return nil, err
			}
			all = append(all, st)
		}
		return all, nil
	}
	r := &toldRoutine{
		Title: say(func(h *sheet.Short) string { return h.Title }), Lead: say(func(h *sheet.Short) string { return h.Lead }),
		SeeLead: say(func(h *sheet.Short) string { return h.SeeLead }),
		Stop:    list(func(h *sheet.Short) []string { return h.Stop }),
		Do:      list(func(h *sheet.Short) []string { return h.Do }),
		Ask:     list(func(h *sheet.Short) []string { return h.Ask }),
	}
	var err error
	if r.Places, err = stills("p", func(h *sheet.Short) []sheet.ShortPlace { return h.Places }); err != nil {
		return nil, err
	}
	r.Answers, err = stills("a", func(h *sheet.Short) []sheet.ShortPlace { return h.Answers })
	return r, err
}

// drawn is a picture as an element of the page. What it shows is said beside it.
func drawn(w, h float64, prefix string, draw func(l *display.List, w, h float64)) (template.HTML, error) {
	var l display.List
	var b strings.Builder
	draw(&l, w, h)
	l.Title = ""
	err := svg.WriteInline(&b, &l, prefix)
	return template.HTML(b.String()), err
}

// saying is a text of the page in one language and unit, or, without them, in all.
type saying struct{ Language, Class, Text string }

// voicesOf are the words of every language with either unit.
type voicesOf []voice

type voice struct {
	say            *words.Words
	language, unit string
}

func voices() (all voicesOf, err error) {
	for _, language := range words.Languages() {
		w, err := words.For(language)
		if err != nil {
			return nil, err
		}
		for _, inches := range []bool{false, true} {
			all = append(all, voice{w.WithInches(inches), language, unitOf(inches)})
		}
	}
	return all, nil
}

// say is what all of them say: once where they agree.
func (v voicesOf) say(f func(*words.Words) string) []saying {
	texts := make([]string, len(v))
	for i := range v {
		texts[i] = plain(f(v[i].say))
	}
	return v.merged(texts)
}

// merged puts together what is said alike whatever the unit, and whatever the language.
func (v voicesOf) merged(texts []string) (all []saying) {
	same := true
	for i := range texts {
		same = same && texts[i] == texts[0]
	}
	switch {
	case same && texts[0] == "":
		return nil
	case same:
		return []saying{{Text: texts[0]}}
	}
	for i := 0; i < len(texts); i += 2 {
		cm, in := texts[i], texts[i+1]
		if cm == in {
			all = append(all, saying{v[i].language, v[i].language, cm})
			continue
		}
		all = append(all, saying{v[i].language, v[i].language + " " + v[i].unit, cm}, saying{v[i+1].language, v[i+1].language + " " + v[i+1].unit, in})
	}
	return all
}

// list is what all of them list, item by item where the lists are as long as each other.
func (v voicesOf) list(f func(*words.Words) []string) (all []saying) {
	lists := make([][]string, len(v))
	same := true
	for i := range v {
		lists[i] = f(v[i].say)
		same = same && len(lists[i]) == len(lists[0])
	}
	if !same {
		for i := range v {
			for _, text := range lists[i] {
				all = append(all, saying{v[i].language, v[i].language + " " + v[i].unit, plain(text)})
			}
		}
		return all
	}
	for k := range lists[0] {
		texts := make([]string, len(v))
		for i := range v {
			texts[i] = plain(lists[i][k])
		}
		all = append(all, v.merged(texts)...)
	}
	return all
}

// plain is a text with a mark for each character that a page has no place for.
func plain(text string) string {
	return strings.Map(func(c rune) rune {
		if c < ' ' && c != '\n' && c != '\t' || c >= 0x7f && c < 0xa0 {
			return utf8.RuneError
		}
		return c
	}, text)
}
