package casebook

import (
	"bytes"
	"encoding/json"
	"io"
	"math"

	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/cases"
	"twincord/sim/answers"
)

// jsonFormat is the number of the form in which sets are written.
const jsonFormat = 1

type jsonSet struct {
	Format   int        `json:"format"`
	Seed     uint64     `json:"seed"`
	Level    int        `json:"level"`
	Language string     `json:"language"`
	Lead     string     `json:"lead"`
	Cases    []jsonCase `json:"cases"`
	Note     string     `json:"note"`
}

type jsonCase struct {
	Kind  cases.Kind `json:"kind"`
	Level int        `json:"level"`
	Seed  uint64     `json:"seed"`
	Title string     `json:"title"`
	Given jsonGiven  `json:"given"`
	Asked []jsonItem `json:"asked"`
	Key   []jsonKey  `json:"key"`
	Why   string     `json:"why"`
	// Caution is what the cautions say of a story, in full.
	Caution *string `json:"caution"`
	Scene   string  `json:"scene"` // a whole scene file, what was given was made from
}

type jsonGiven struct {
	Says    []string       `json:"says"`
	Picture *cases.Picture `json:"picture"`
	Shows   *string        `json:"picture_shows"`
	Answers map[string]any `json:"answers"`
	Finger  bool           `json:"finger"`
	Row     *string        `json:"row"`
}

type jsonItem struct {
	Item    cases.Item `json:"item"`
	Text    string     `json:"text"`
	Unit    *string    `json:"unit"`
	Choices []string   `json:"choices"`
}

type jsonKey struct {
	Item  cases.Item   `json:"item"`
	Best  any          `json:"best"`
	Codes []string     `json:"right"`
	Half  []string     `json:"half"`
	Spans [][2]float64 `json:"ranges"`
	Told  bool         `json:"can_be_told"`
}

// orNull is a pointer to a value, nil for the empty one.
func orNull[T comparable](v T) *T {
	var empty T
	if v == empty {
		return nil
	}
	return &v
}

// JSON writes a set of cases with its key. Numbers are Δ, eso +, and mm from the nose.
func (w *Writer) JSON(out io.Writer, set *cases.Set, all []*cases.Case, b *cases.Bench) error {
	o := jsonSet{Format: jsonFormat, Seed: set.Seed, Level: set.Level, Language: w.say.Language(), Lead: w.Lead(all[0]), Note: w.say.AnswersNote()}
	for _, c := range all {
		one, err := w.json(c, b)
		if err != nil {
			return err
		}
		o.Cases = append(o.Cases, one)
	}
	var text bytes.Buffer
	e := json.NewEncoder(&text)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(o); err != nil {
		return err
	}
	_, err := text.WriteTo(out)
	return err
}

func (w *Writer) json(c *cases.Case, b *cases.Bench) (jsonCase, error) {
	page, key := w.Page(c), c.Key(b)
	o := jsonCase{
		Kind: c.Kind, Level: c.Level, Seed: c.Seed, Title: page.Title, Why: w.Why(c, key), Asked: []jsonItem{}, Key: []jsonKey{},
		Given: jsonGiven{Says: page.Given, Picture: orNull(page.Picture), Shows: orNull(page.Alt), Finger: c.Given.Finger, Row: orNull(c.Given.Story.Row()), Answers: map[string]any{}},
	}
	if id := c.Given.Story.Caution(); id != "" {
		o.Caution = orNull(w.say.Label(words.Label(id)))
	}
	for _, i := range c.Told() {
		a := &c.Given.Answers
		if i == answers.MeetAt {
			o.Given.Answers["meet_at_mm"], o.Given.Answers["meet_within_mm"] = a.Place.Value.At, a.Place.Value.Within
		} else {
			o.Given.Answers[i.String()] = a.Code[i].String()
		}
	}
	for _, q := range page.Asked {
		item := jsonItem{Item: q.Item, Text: q.Text, Unit: orNull(map[string]string{"Δ": "prism", "cm": "mm"}[q.Number]), Choices: []string{}}
		for _, choice := range q.Choices {
			item.Choices = append(item.Choices, choice.Code)
		}
		o.Asked = append(o.Asked, item)
	}
	for i := range key {
		o.Key = append(o.Key, keyOf(&key[i]))
	}
	var scene bytes.Buffer
	err := (&scenes.Scene{Title: page.Title, Setup: c.Truth()}).Write(&scene)
	o.Scene = scene.String()
	return o, err
}

func keyOf(e *cases.Entry) jsonKey {
	k := jsonKey{Item: e.Item, Codes: append([]string{}, e.Codes...), Half: append([]string{}, e.Half...), Spans: [][2]float64{}, Told: e.Told(), Best: e.Best.Code}
	if e.Best.Code == "" {
		k.Best = shortened(e.Best.Number)
	}
	for _, s := range e.Spans {
		k.Spans = append(k.Spans, [2]float64{shortened(s.From), shortened(s.To)})
	}
	return k
}

// shortened is a number to a thousandth: finer than any machine's rounding would show.
func shortened(x float64) float64 { return math.Round(x*1e3)/1e3 + 0 }
