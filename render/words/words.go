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

	"github.com/nicksnyder/go-i18n/v2/i18n"
	"github.com/pelletier/go-toml/v2"
	"golang.org/x/text/language"
)

//go:embed active.*.toml
var catalogues embed.FS

// Words speaks one language. It may be used by several goroutines at once.
type Words struct {
	language string
	catalog  *i18n.Localizer
	inches   bool // lengths are written in them, not in centimetres
}

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
	if !slices.Contains(Languages(), lang) {
		return nil, fmt.Errorf("language %q: not known; allowed: %s", lang, strings.Join(Languages(), ", "))
	}
	file := "active." + lang + ".toml"
	text, err := catalogues.ReadFile(file)
	if err != nil {
		return nil, err
	}
	return parse(text, file, lang)
}

func parse(text []byte, file, lang string) (*Words, error) {
	tag, err := language.Parse(lang)
	if err != nil {
		return nil, fmt.Errorf("language %q: %w", lang, err)
	}
	bundle := i18n.NewBundle(tag)
	bundle.RegisterUnmarshalFunc("toml", toml.Unmarshal)
	if _, err := bundle.ParseMessageFileBytes(text, file); err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return &Words{language: lang, catalog: i18n.NewLocalizer(bundle, lang)}, nil
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

func (w *Words) say(id string, data with) string {
	return w.localize(&i18n.LocalizeConfig{MessageID: id, TemplateData: data})
}

// sayOf says a sentence that speaks of n beads.
func (w *Words) sayOf(n int, id string) string {
	return w.localize(&i18n.LocalizeConfig{MessageID: id, PluralCount: n})
}

func (w *Words) localize(c *i18n.LocalizeConfig) string {
	// A sentence that is the same for one bead and for two has no form of its own for
	// one: that is reported, and the sentence given.
	text, err := w.catalog.Localize(c)
	if err != nil && text == "" {
		return c.MessageID
	}
	return text
}
