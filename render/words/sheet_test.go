package words

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim/answers"
)

// What a sheet says that one string means is whatever the model knows to give one string:
// a picture that is left out, and a string at eye level, of which there is nothing to fear.
func TestOneStringMeansWhateverGivesOne(t *testing.T) {
	middle := scenes.Library()[slices.IndexFunc(scenes.Library(), func(e scenes.Entry) bool { return e.Name == "middle-of-three" })]
	said := routine.OneString.Said()
	said.Code[answers.Bead] = answers.One
	means := map[string]map[answers.Kind]string{
		"en": {answers.LeftOut: "may be left out", answers.Strings: "at eye level"},
		"es": {answers.LeftOut: "Quizá el cerebro no está usando la imagen", answers.Strings: "a la altura de los ojos"},
	}
	explaining := answers.New(&middle.Scene.Setup).Run().Explain(said)
	for explaining.Step() {
	}
	families := explaining.Result().Families
	require.NotEmpty(t, families)
	for lang, words := range means {
		w, err := For(lang)
		require.NoError(t, err)
		for _, f := range families {
			require.Contains(t, words, f.Kind)
			assert.Contains(t, w.Means(string(routine.OneString)), words[f.Kind], lang)
		}
	}
}

// Lengths stand as on a ruler: inches in quarters, several with one unit, and never a
// comma between numbers that have one themselves.
func TestRulersRead(t *testing.T) {
	w := english(t)
	in := w.WithInches(true)
	es, err := For("es")
	require.NoError(t, err)
	for want, got := range map[string]string{
		"56\u00a0cm":              w.Ruled(560),
		"6, 11, 16\u00a0cm":       w.Ruled(60, 110, 160),
		"6,5; 11,5; 16,5\u00a0cm": es.Ruled(65, 115, 165),
		"22\u00a0in":              in.Ruled(22 * inch),
		"1½\u00a0in":              in.Ruled(1.5 * inch),
		"1\u00a0in":               in.Ruled(inch),
		"¾\u00a0in":               in.Ruled(0.75 * inch),
		"0\u00a0in":               in.Ruled(0),
		"2¼, 3\u00a0in":           in.Ruled(2.3*inch, 2.9*inch),
	} {
		assert.Equal(t, want, got)
	}
}

// A sentence with several braces has each of its texts in its own.
func TestBracesAreFilled(t *testing.T) {
	assert.Equal(t, "Place 2 of 5: 40 cm", english(t).Filled(SheetPlaceOf, "Number", "2", "Total", "5", "At", "40 cm"))
}

// Points are whole where they round to whole ones.
func TestPointsRead(t *testing.T) {
	w := english(t)
	for points, want := range map[float64]string{2: "2 of 3", 2.5: "2.5 of 3", 0.049: "0 of 3", 0.05: "0.1 of 3", 2.951: "3 of 3", 2.94: "2.9 of 3"} {
		assert.Equal(t, want, w.PointsOf(points, 3))
	}
	for level, want := range []Label{CasesPlain, CasesSmall, CasesWithin} {
		assert.Equal(t, w.Label(want), w.CaseLevel(level+1))
	}
}

// What is looked at is a bead by its name, or the bare string.
func TestAimedReads(t *testing.T) {
	w := english(t)
	assert.Equal(t, "looking at: blue, 48 cm", w.Aimed("blue", 480))
	assert.Equal(t, "looking at: bare string, 48 cm", w.Aimed("", 480))
}

// A catalogue that is not one says where and why.
func TestBadCatalogues(t *testing.T) {
	for bad, want := range map[string]string{
		"a = 1":                     `f: a: must be a text, or the texts one and other`,
		"a = \"x\"\na = \"y\"":      `f: a: is given twice`,
		"a = {one = \"x\", b = 1}":  `f: a.b: must be a text, or the texts one and other`,
		"a = {two = \"x\"}":         `f: a.two: must be a text, or the texts one and other`,
		"a = {one = \"x\"}":         `f: a: must be a text, or the texts one and other`,
		"[a]\nother = \"x\"\nb = 2": `f: a.b: must be a text, or the texts one and other`,
	} {
		_, err := parse([]byte(bad), "f", "en")
		assert.EqualError(t, err, want, bad)
	}
	_, err := parse([]byte(`a = "x`), "f", "en")
	assert.ErrorContains(t, err, "f: ")
	_, err = parse(nil, "f", "not a language")
	assert.ErrorContains(t, err, `language "not a language"`)
}
