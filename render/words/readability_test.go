package words

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
)

// text is what the formulas of readability count.
type text struct{ sentences, words, syllables, letters float64 }

var (
	ends       = regexp.MustCompile(`[.!?]+(?:\s|$)`)
	wordOf     = regexp.MustCompile(`\pL[\pL'’-]*`)
	englishRun = regexp.MustCompile(`[aeiouy]+`)
	spanishRun = regexp.MustCompile(`[aeiouáéíóúü]+`)
)

func count(s string, syllables func(word string) int) (t text) {
	t.sentences = float64(max(1, len(ends.FindAllString(s, -1))))
	for _, word := range wordOf.FindAllString(strings.ToLower(s), -1) {
		t.words++
		t.letters += float64(utf8.RuneCountInString(word))
		t.syllables += float64(syllables(word))
	}
	return t
}

// english syllables are runs of vowels, but for a silent e at the end.
func englishSyllables(word string) int {
	n := len(englishRun.FindAllString(word, -1))
	if strings.HasSuffix(word, "e") && !strings.HasSuffix(word, "le") && n > 1 {
		n--
	}
	return max(1, n)
}

// Spanish syllables are runs of vowels, in which two strong ones, or a weak one with
// an accent beside a strong one, are two.
func spanishSyllables(word string) int {
	word = strings.NewReplacer("qu", "q", "gue", "ge", "gui", "gi").Replace(word)
	n := 0
	for _, run := range spanishRun.FindAllString(word, -1) {
		n++
		vowels := []rune(run)
		for i := 1; i < len(vowels); i++ {
			a, b := vowels[i-1], vowels[i]
			strong := func(r rune) bool { return strings.ContainsRune("aeoáéóíú", r) }
			if strong(a) && strong(b) {
				n++
			}
		}
	}
	return max(1, n)
}

// fleschKincaid is the school grade of the United States (Kincaid JP et al. 1975,
// Research Branch Report 8-75, Naval Technical Training). A reader of ten is in grade
// 5.
func fleschKincaid(t text) float64 {
	return 0.39*t.words/t.sentences + 11.8*t.syllables/t.words - 15.59
}

// colemanLiau is that grade from letters alone (Coleman M & Liau TL 1975, J Applied
// Psychology 60:283).
func colemanLiau(t text) float64 {
	return 5.88*t.letters/t.words - 29.6*t.sentences/t.words - 15.8
}

// fernandezHuerta is the ease of Spanish, 0 to 100 (Fernández Huerta J 1959,
// Consigna 214:29); 70 and more is easy or easier: the sixth year of school.
func fernandezHuerta(t text) float64 {
	return 206.84 - 60*t.syllables/t.words - 1.02*t.words/t.sentences
}

// szigrisztPazos is the perspicuity of Spanish (Szigriszt Pazos F 1993, thesis,
// Universidad Complutense), read by the scale INFLESZ (Barrio-Cantalejo IM et al.
// 2008, An Sist Sanit Navar 31:135): above 65 quite easy, above 80 very easy.
func szigrisztPazos(t text) float64 {
	return 206.835 - 62.3*t.syllables/t.words - t.words/t.sentences
}

func TestFormulasOfReadability(t *testing.T) {
	for word, n := range map[string]int{"cat": 1, "table": 2, "little": 2, "picture": 2, "eye": 1, "before": 2, "professional": 4} {
		assert.Equal(t, n, englishSyllables(word), word)
	}
	for word, n := range map[string]int{"bola": 2, "cuerda": 2, "visión": 2, "día": 2, "aérea": 4, "guía": 2, "quieto": 2, "ojo": 2, "lejos": 2} {
		assert.Equal(t, n, spanishSyllables(word), word)
	}
	s := count("The cat sat. It is on the mat.", englishSyllables)
	assert.Equal(t, text{2, 8, 8, 21}, s)
	assert.InDelta(t, 0.39*4+11.8-15.59, fleschKincaid(s), 1e-9)
}

// What families read is for a reader of ten, by two formulas in each language: the
// captions, the sheets, and the cautions with the names of signs of illness, which no
// plainer word has. No sentence of a sheet or a caution has more than 20 words.
func TestFamiliesCanRead(t *testing.T) {
	captions := []string{"bead", "clarity", "others", "beads", "strings", "bare", "gap", "hidden", "stretch", "overlaid", "why", "aim", "jump", "hold", "filter"}
	for _, lang := range Languages() {
		groups := map[string][]string{}
		for id, m := range catalogue(t, lang) {
			group, _, _ := strings.Cut(id, "-")
			if slices.Contains(captions, group) && strings.HasSuffix(m.other, ".") {
				groups["captions"] = append(groups["captions"], m.other)
			}
			if (group == "sheet" || group == "film") && strings.HasSuffix(m.other, ".") {
				groups["sheets"] = append(groups["sheets"], m.other)
			}
			if group == "caution" {
				groups["cautions"] = append(groups["cautions"], m.other)
			}
			if group == "caution" || group == "sheet" || group == "film" {
				for _, s := range regexp.MustCompile(`[^.?]+[.?]`).FindAllString(m.other, -1) {
					assert.LessOrEqual(t, len(strings.Fields(s)), 20, "%s: %q", id, s)
				}
			}
		}
		for group, said := range groups {
			whole := strings.Join(said, " ")
			whole = regexp.MustCompile(`{{[^}]*}}`).ReplaceAllString(whole, "it")
			switch lang {
			case "en":
				s := count(whole, englishSyllables)
				fk, cl := fleschKincaid(s), colemanLiau(s)
				t.Logf("en %s: Flesch–Kincaid grade %.1f, Coleman–Liau grade %.1f", group, fk, cl)
				assert.LessOrEqual(t, fk, 5., group)
				assert.LessOrEqual(t, cl, 6., group)
			case "es":
				s := count(whole, spanishSyllables)
				fh, sp := fernandezHuerta(s), szigrisztPazos(s)
				t.Logf("es %s: Fernández Huerta %.0f, Szigriszt-Pazos %.0f", group, fh, sp)
				assert.GreaterOrEqual(t, math.Min(fh, 100), 70., group)
				assert.GreaterOrEqual(t, sp, 65., group)
			}
		}
	}
}
