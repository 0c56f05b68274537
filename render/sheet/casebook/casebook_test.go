package casebook

import (
	"bytes"
	"encoding/json"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/cases"
	"twincord/sim/answers"
)

// everyPage writes a few sets of every level in every language.
func everyPage(t *testing.T, test func(w *Writer, c *cases.Case, p *Page, key []cases.Entry)) {
	b := cases.NewBench(4)
	for _, lang := range words.Languages() {
		say, err := words.For(lang)
		require.NoError(t, err)
		w := In(say)
		for level := 1; level <= cases.Levels; level++ {
			set := cases.Set{Seed: 4, Count: 40, Level: level}
			all, err := set.Make(b)
			require.NoError(t, err)
			for _, c := range all {
				p, key := w.Page(c), c.Key(b)
				test(w, c, &p, key)
				if t.Failed() {
					t.Fatalf("%s: %+v", lang, c.ID)
				}
			}
		}
	}
}

// Everything that is said is words of the catalogue: no id, no braces, no code.
func TestCasesAreSaid(t *testing.T) {
	id := regexp.MustCompile(`case-|answers-|{{|_`)
	everyPage(t, func(w *Writer, c *cases.Case, p *Page, key []cases.Entry) {
		said := append([]string{p.Title, p.Alt, w.Lead(c), w.Why(c, key)}, p.Given...)
		for i, q := range p.Asked {
			said = append(said, q.Text, w.Key(c, &key[i]))
			for _, choice := range q.Choices {
				said = append(said, choice.Text)
			}
		}
		said = append(said, w.Sources([]*cases.Case{c})...)
		for _, s := range said {
			assert.NotRegexp(t, id, s)
		}
		assert.NotEmpty(t, p.Given)
		assert.Equal(t, p.View != nil, p.Alt != "", "a picture says what it shows")
	})
}

// Nothing that stands in a case but what is given tells its answer: cases of a kind have
// one title, and neither title, given words nor what a picture is called hold the words
// of the trade for what is asked.
func TestNoCaseGivesItsAnswerAway(t *testing.T) {
	titles := map[string]string{}
	trade := regexp.MustCompile(`(?i)\b(eso|exo|endo|endodesviación|exodesviación|uncrossed|no cruzada|suppress\w*|left out|supri\w*|base-in|base-out)\b`)
	everyPage(t, func(w *Writer, c *cases.Case, p *Page, _ []cases.Entry) {
		kind := w.say.Language() + string(c.Kind)
		if titles[kind] == "" {
			titles[kind] = p.Title
		}
		assert.Equal(t, titles[kind], p.Title)
		if c.Kind == cases.EyesToSee || c.Kind == cases.Walk || c.Kind == cases.WhichGlass && c.Level == 3 {
			return // there it is what is given
		}
		assert.NotRegexp(t, trade, strings.Join(append(p.Given, p.Title, p.Alt), " "))
	})
}

func TestTheSetAsJSON(t *testing.T) {
	say, err := words.For("en")
	require.NoError(t, err)
	b := cases.NewBench(7)
	set := cases.Set{Seed: 7, Count: 16, Level: 2}
	all, err := set.Make(b)
	require.NoError(t, err)
	var first, second bytes.Buffer
	require.NoError(t, In(say).JSON(&first, &set, all, b))
	require.NoError(t, In(say).JSON(&second, &set, all, cases.NewBench(7)))
	assert.Equal(t, first.String(), second.String())
	var o jsonSet
	require.NoError(t, json.Unmarshal(first.Bytes(), &o))
	require.Len(t, o.Cases, 16)
	cautioned := 0
	for n, c := range o.Cases {
		// What a story calls for is said in full where it calls for it, and nowhere else.
		if id := all[n].Given.Story.Caution(); id == "" {
			assert.Nil(t, c.Caution)
		} else if cautioned++; assert.NotNil(t, c.Caution) {
			assert.Equal(t, say.Label(words.Label(id)), *c.Caution)
		}
		assert.Len(t, c.Key, len(c.Asked))
		_, err := scenes.Parse("scene", []byte(c.Scene))
		assert.NoError(t, err, "what it was made from can be opened")
		for i, k := range c.Key {
			if best, ok := k.Best.(string); ok {
				assert.Contains(t, c.Asked[i].Choices, best)
			}
		}
	}
	assert.Positive(t, cautioned)
	assert.Less(t, cautioned, 16)
}

// What is said of how a number is worked out comes out as the number of the key: worked
// out from the sentence alone.
func TestSumsComeOut(t *testing.T) {
	number := regexp.MustCompile(`\d+(?:[.,]\d+)?`)
	after := func(text, begins string) (all []float64) {
		at := strings.LastIndex(text, begins)
		if at < 0 {
			return nil
		}
		for _, s := range number.FindAllString(text[at+len(begins):], -1) {
			x, err := strconv.ParseFloat(strings.ReplaceAll(s, ",", "."), 64)
			require.NoError(t, err)
			all = append(all, x)
		}
		return all
	}
	walks, amounts := 0, 0
	everyPage(t, func(w *Writer, c *cases.Case, _ *Page, key []cases.Entry) {
		why := w.Why(c, key)
		if n := after(why, "100 ÷ ("); n != nil {
			walks++
			near, load, reserve := n[0], n[1], n[2]
			fromGlasses := 100 / (near - load/reserve*(near-2.5))
			assert.InDelta(t, key[0].Best.Number/10, fromGlasses-2.7, 0.6, why)
		}
		if n := after(why, ": 100 × "); n != nil {
			amounts++
			at := slices.IndexFunc(key, func(e cases.Entry) bool { return e.Item == cases.Deviation })
			require.GreaterOrEqual(t, at, 0)
			pd, crossing, bead := n[0], n[1], n[4]
			assert.InDelta(t, key[at].Best.Number, 100*pd/crossing-100*pd/bead, max(0.5, 0.1*math.Abs(key[at].Best.Number)), why)
		}
	})
	assert.NotZero(t, walks)
	assert.NotZero(t, amounts)
}

// A bead that stays one is not said to be doubled.
func TestNothingIsSaidToBeDoubledThatIsOne(t *testing.T) {
	single := 0
	everyPage(t, func(w *Writer, c *cases.Case, _ *Page, key []cases.Entry) {
		if c.Given.Answers.Code[answers.Bead] != answers.One || c.Kind != cases.SeeToEyes && c.Kind != cases.WhichEye {
			return
		}
		single++
		assert.NotRegexp(t, `doubling|diplopía`, w.Why(c, key))
	})
	assert.NotZero(t, single)
}
