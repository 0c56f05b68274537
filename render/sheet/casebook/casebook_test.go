package casebook

import (
	"bytes"
	"encoding/json"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/cases"
	"twincord/sim/answers"
)

// sets are some cases of every level with their keys, made once for all tests.
var sets = sync.OnceValues(func() (made []keyed, err error) {
	b := cases.NewBench(4)
	for level := 1; level <= cases.Levels; level++ {
		set := cases.Set{Seed: 4, Count: 24, Level: level}
		all, err := set.Make(b)
		if err != nil {
			return nil, err
		}
		for _, c := range all {
			made = append(made, keyed{c, c.Key(b)})
		}
	}
	return made, nil
})

// keyed is a case with its key.
type keyed struct {
	*cases.Case
	key []cases.Entry
}

// everyPage writes them in every language.
func everyPage(t *testing.T, test func(w *Writer, c *cases.Case, p *Page, key []cases.Entry)) {
	all, err := sets()
	require.NoError(t, err)
	for _, lang := range words.Languages() {
		say, err := words.For(lang)
		require.NoError(t, err)
		w := In(say)
		for _, c := range all {
			p := w.Page(c.Case)
			if test(w, c.Case, &p, c.key); t.Failed() {
				t.Fatalf("%s: %+v", lang, c.ID)
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
// out from the sentence alone, in every language.
func TestSumsComeOut(t *testing.T) {
	b := cases.NewBench(6)
	number := `(\d+(?:[.,]\d+)?)`
	sums := map[string]*regexp.Regexp{
		"amount": regexp.MustCompile(`100 × ` + number + ` ÷ ` + number + ` − 100 × ` + number + ` ÷ ` + number + ` = ([−-]?)` + number),
		"view":   regexp.MustCompile(number + ` ÷ \(` + number + ` ÷ ` + number + ` ([+−]) ` + number + `\) = ` + number + `\D.*[^\d.,]` + number + ` cm`),
		"glass":  regexp.MustCompile(number + ` Δ \(100 × ` + number + ` ÷ ` + number + ` \w+ ÷ ` + number + `.* × ` + number + ` ÷ \(` + number + ` − 2[.,]7\)(?:\D*` + number + ` Δ\D*:|\D*) ` + number + ` Δ`),
		"walk":   regexp.MustCompile(`100 ÷ \(` + number + ` − ` + number + ` ÷ ` + number + ` × \(`),
	}
	met := map[string]int{}
	for level := 1; level <= cases.Levels; level++ {
		set := cases.Set{Seed: 6, Count: 48, Level: level, Kinds: []cases.Kind{cases.SeeToEyes, cases.EyesToSee, cases.WhichGlass, cases.Walk}}
		all, err := set.Make(b)
		require.NoError(t, err)
		for _, c := range all {
			key := c.Key(b)
			for _, lang := range words.Languages() {
				say, err := words.For(lang)
				require.NoError(t, err)
				why := In(say).Why(c, key)
				for sum, pattern := range sums {
					said := pattern.FindStringSubmatch(why)
					if said == nil {
						continue
					}
					met[sum+" in "+lang]++
					n := make([]float64, len(said))
					for i, s := range said[1:] {
						n[i+1], _ = strconv.ParseFloat(strings.ReplaceAll(s, ",", "."), 64)
					}
					switch sum {
					case "amount":
						at := slices.IndexFunc(key, func(e cases.Entry) bool { return e.Item == cases.Deviation })
						off := 100*n[1]/n[2] - 100*n[3]/n[4]
						assert.InDelta(t, math.Abs(off), n[6], 0.1, why)
						assert.Equal(t, off < 0, said[5] != "", why)
						assert.InDelta(t, key[at].Best.Number, off, max(0.1, 0.03*n[6]), why)
					case "view":
						share := n[5]
						if said[4] == "−" {
							share = -share
						}
						assert.InDelta(t, n[1]/(n[2]/n[3]+share), n[6], 0.02*n[6], why)
						to := 0.06 // beyond a metre lengths are told in whole centimetres
						if n[7] >= 100 {
							to = 0.51
						}
						assert.InDelta(t, key[0].Best.Number/10, n[7], to, why)
					case "glass":
						assert.InDelta(t, math.Abs(100*n[2]/n[3]-100*n[2]/n[4]), n[1], 0.1, why)
						assert.InDelta(t, n[1]*n[5]/(n[6]-2.7)+n[7], n[8], max(0.1, 0.03*n[8]), why)
						assert.InDelta(t, key[1].Best.Number, n[8], 0.06, why)
					case "walk":
						fromGlasses := 100 / (n[1] - n[2]/n[3]*(n[1]-2.5))
						assert.InDelta(t, key[0].Best.Number/10, fromGlasses-2.7, 0.6, why)
					}
				}
				require.False(t, t.Failed(), "%+v", c.ID)
			}
		}
	}
	for sum := range sums {
		for _, lang := range words.Languages() {
			assert.NotZero(t, met[sum+" in "+lang], "%s in %s", sum, lang)
		}
	}
}

// The reason why two answers do not go together speaks of these two: written from what
// they ask, with no look at how the reason is chosen.
func TestWhatDoesNotFitIsExplained(t *testing.T) {
	met := map[string]int{}
	say, err := words.For("en")
	require.NoError(t, err)
	all, err := sets()
	require.NoError(t, err)
	for _, c := range all {
		pair := c.key[0].Best.Code
		if c.Kind != cases.DoesItFit || pair == cases.TheyFit {
			continue
		}
		why := In(say).Why(c.Case, c.key)
		met[why]++
		if strings.Contains(why, "Crossing in front") || strings.Contains(why, "no crossing") {
			assert.Contains(t, pair, answers.Meet.String()+"+", why)
		}
		if strings.Contains(why, "One bead") {
			assert.Equal(t, answers.One, c.Given.Answers.Code[answers.Bead])
			assert.Contains(t, pair, answers.Bead.String()+"+", why)
		}
		if strings.Contains(why, "cover") {
			assert.Contains(t, pair, "cover", why)
		}
		first, second, _ := strings.Cut(pair, "+")
		covered := map[string]string{"bead": "_cover_bead", "near": "_cover_string", "right_cover_bead": "_cover_bead", "right_cover_string": "_cover_string"}[first]
		if covered != "" && strings.HasSuffix(second, covered) {
			assert.NotContains(t, why, "No set-up gives", "%s: it has a reason of its own", pair)
		}
	}
	assert.GreaterOrEqual(t, len(met), 2, "%v", met)
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
