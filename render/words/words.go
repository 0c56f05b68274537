// Package words turns what is seen into sentences: one caption for families, one
// for clinicians with the numbers, and the labels and numbers of the pictures
// and the window.
//
// Every language is one catalogue of whole sentences, active.LANGUAGE.toml.
// Nothing is glued from fragments: a caption is whole sentences in a row, so
// that a translator may order the words of each as the language needs.
package words

import (
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
)

//go:embed active.*.toml library.*.toml
var catalogues embed.FS

// Words speaks one language. It may be used by several goroutines at once.
type Words struct {
	language string
	tag      language.Tag
	messages map[string]message
	told     told // by the built-in scenes
	inches   bool // lengths are written in them, not in centimetres
}

// message is an entry of a catalogue: what is said of one, "" where that is no
// different, and of any other number.
type message struct{ one, other string }

// Languages lists the languages that there are words in.
func Languages() []string {
	files, _ := fs.Glob(catalogues, "active.*.toml")
	for i, f := range files {
		files[i] = strings.TrimSuffix(strings.TrimPrefix(f, "active."), ".toml")
	}
	return files
}

// LanguageNames are what the languages call themselves, in the order of Languages.
func LanguageNames() []string { return slices.Clone(languageNames()) }

var languageNames = sync.OnceValue(func() (names []string) {
	for _, l := range Languages() {
		w, err := For(l)
		if err != nil {
			panic(fmt.Sprintf("words: a built-in catalogue is broken: %v", err))
		}
		names = append(names, w.say("language-name", nil))
	}
	return names
})

// For gives the words of a language, such as "en". It errs where there are none,
// with the languages that there are.
func For(lang string) (*Words, error) {
	w, ok := spoken()[lang]
	if !ok {
		return nil, fmt.Errorf("language %q: not known; allowed: %s", lang, strings.Join(Languages(), ", "))
	}
	return w()
}

// spoken are the words of each language, whose catalogues are read when it is first asked
// for.
var spoken = sync.OnceValue(func() map[string]func() (*Words, error) {
	all := map[string]func() (*Words, error){}
	for _, l := range Languages() {
		all[l] = sync.OnceValues(func() (*Words, error) { return load(l) })
	}
	return all
})

// load reads the catalogues of a language.
func load(lang string) (*Words, error) {
	file := "active." + lang + ".toml"
	text, err := catalogues.ReadFile(file)
	if err != nil {
		return nil, err
	}
	w, err := parse(text, file, lang)
	if err != nil {
		return nil, err
	}
	w.told, err = toldIn(lang)
	return w, err
}

func parse(text []byte, file, lang string) (*Words, error) {
	tag, err := language.Parse(lang)
	if err != nil {
		return nil, fmt.Errorf("language %q: %w", lang, err)
	}
	messages, err := read(file, text)
	if err != nil {
		return nil, err
	}
	return &Words{language: lang, tag: tag, messages: messages}, nil
}

// read gives the entries of a catalogue, by id. An entry is a text, or a table of
// the texts for one and for other numbers.
func read(file string, text []byte) (map[string]message, error) {
	entries, err := texts(file, text)
	if err != nil {
		return nil, err
	}
	all := make(map[string]message, len(entries))
	for path, text := range entries {
		id, number, _ := strings.Cut(path, ".")
		m := all[id]
		switch number {
		case "one":
			m.one = text
		case "", "other":
			m.other = text
		default:
			return nil, fmt.Errorf("%s: %s: must be a text, or the texts one and other", file, path)
		}
		all[id] = m
	}
	for id, m := range all {
		if m.other == "" {
			return nil, fmt.Errorf("%s: %s: must be a text, or the texts one and other", file, id)
		}
	}
	return all, nil
}

// Language is the language of the words, such as "en".
func (w *Words) Language() string { return w.language }

// WithInches are the same words with lengths in inches, or in centimetres.
func (w *Words) WithInches(inches bool) *Words {
	in := *w
	in.inches = inches
	return &in
}

// Inches says whether lengths are written in inches.
func (w *Words) Inches() bool { return w.inches }

// LengthUnit is the unit that lengths are written in, mm.
func (w *Words) LengthUnit() float64 {
	if w.inches {
		return inch
	}
	return 10
}

// with is what stands in a sentence's braces.
type with map[string]string

// say says an entry with what stands in its braces, or its id where there is none.
func (w *Words) say(id string, data with) string {
	m, ok := w.messages[id]
	if !ok {
		return id
	}
	return fill(m.other, data)
}

// sayOf says a sentence that speaks of n beads.
func (w *Words) sayOf(n int, id string, data with) string {
	m := w.messages[id]
	if m.one != "" && plural.Cardinal.MatchPlural(w.tag, n, 0, 0, 0, 0) == plural.One {
		return fill(m.one, data)
	}
	return w.say(id, data)
}

// fill puts the data into a text's braces, {{.Name}}. What it puts in is not looked
// at again, so that a name that somebody typed may have braces of its own.
func fill(text string, data with) string {
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(text, "{{.")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		name, after, _ := strings.Cut(rest, "}}")
		b.WriteString(data[name])
		text = after
	}
}
