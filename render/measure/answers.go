package measure

import (
	"io"

	"twincord/sim"
	"twincord/sim/answers"
)

// Explained is a scene with answers that were given about it and what they come to.
type Explained struct {
	File, Title, Language string
	Answers               *answers.Answers
	Result                *answers.Result
	// Example writes the set-up of a match as a scene file, and Sentence says it.
	Example  func(m *answers.Match) (string, error)
	Sentence func(m *answers.Match) string
	Note     string
}

// heading is how an object of the contract begins.
type heading struct {
	Format int `json:"format"`
	Scene  struct {
		File  string `json:"file"`
		Title string `json:"title"`
	} `json:"scene"`
	Language string `json:"language"`
}

func headingOf(file, title, language string) (h heading) {
	h.Format, h.Scene.File, h.Scene.Title, h.Language = Format, file, title, language
	return h
}

type explained struct {
	heading
	Answers     map[string]any        `json:"answers"`
	Families    []explanation         `json:"families"`
	Nearest     []explanation         `json:"nearest"`
	Conflict    []string              `json:"conflict"`
	Inseparable []answers.Inseparable `json:"inseparable"`
	Ask         *string               `json:"ask"`
	Note        string                `json:"note"`
}

type explanation struct {
	Kind     answers.Kind   `json:"kind"`
	Eye      *string        `json:"eye"`
	Zone     *string        `json:"zone"`
	Centre   *string        `json:"centre"`
	Radius   *number        `json:"radius_deg"`
	String   *string        `json:"string"`
	Ranges   []rangeOf      `json:"ranges"`
	Example  string         `json:"example"`
	Says     map[string]any `json:"says"`
	Sentence string         `json:"sentence"`
	Against  []string       `json:"against,omitempty"`
}

type rangeOf struct {
	Key  string `json:"key"`
	From number `json:"from"`
	To   number `json:"to"`
}

// AnswersJSON writes what answers come to.
func AnswersJSON(w io.Writer, e *Explained) error {
	o := explained{
		heading: headingOf(e.File, e.Title, e.Language), Note: e.Note,
		Answers: map[string]any{}, Families: []explanation{}, Nearest: []explanation{},
		Inseparable: append([]answers.Inseparable{}, e.Result.Inseparable...),
	}
	for _, i := range answers.Items() {
		if e.Answers.Answered(i) && i != answers.MeetAt {
			o.Answers[i.String()] = codeOf(i, e.Answers.Code[i])
		}
	}
	if p := e.Answers.Place; p.OK {
		o.Answers["meet_at_mm"], o.Answers["meet_within_mm"] = number(p.Value.At), number(p.Value.Within)
	}
	for _, list := range []struct {
		from []answers.Match
		to   *[]explanation
	}{{e.Result.Families, &o.Families}, {e.Result.Nearest, &o.Nearest}} {
		for i := range list.from {
			x, err := e.explanation(&list.from[i])
			if err != nil {
				return err
			}
			*list.to = append(*list.to, x)
		}
	}
	if c := e.Result.Conflict; c.OK {
		o.Conflict = []string{c.Value[0].String(), c.Value[1].String()}
	}
	if e.Result.Ask.OK {
		o.Ask = orNull(e.Result.Ask.Value.String())
	}
	return encode(w, o)
}

func (e *Explained) explanation(m *answers.Match) (explanation, error) {
	example, err := e.Example(m)
	if err != nil {
		return explanation{}, err
	}
	x := explanation{
		Kind: m.Kind, Zone: orNull(string(m.Zone)), Centre: orNull(string(m.Centre)), String: orNull(string(m.Held)),
		Ranges: []rangeOf{}, Example: example, Says: map[string]any{}, Sentence: e.Sentence(m),
	}
	if m.Eye == sim.Right || m.Eye == sim.Left {
		x.Eye = orNull(string(m.Eye))
	}
	if m.Radius != 0 {
		radius := number(m.Radius)
		x.Radius = &radius
	}
	for _, r := range m.Ranges {
		x.Ranges = append(x.Ranges, rangeOf{r.Key, number(r.From), number(r.To)})
	}
	for _, i := range answers.Items() {
		if c := m.Says.Code[i]; c != answers.Open && !e.Answers.Answered(i) {
			x.Says[i.String()] = codeOf(i, c)
		}
	}
	if p := m.Says.Place; p.OK && !e.Answers.Place.OK {
		x.Says["meet_at_mm"] = number(p.Value)
	}
	for _, i := range m.Against {
		x.Against = append(x.Against, i.String())
	}
	return x, nil
}

// codeOf is a code as JSON has it: counts of strings are numbers.
func codeOf(i answers.Item, c answers.Code) any {
	if i == answers.Near || i == answers.Far {
		return int(c - answers.Zero)
	}
	return c.String()
}

type bands struct {
	heading
	Bands []band `json:"bands"`
}

type band struct {
	From    number  `json:"from_prism"`
	To      number  `json:"to_prism"`
	Bead    *string `json:"bead"`
	Near    int     `json:"near"`
	Far     int     `json:"far"`
	Meet    string  `json:"meet"`
	Pattern string  `json:"pattern"`
}

// BandsJSON writes the bands of a scene.
func BandsJSON(w io.Writer, file, title, language string, all []answers.Band) error {
	o := bands{heading: headingOf(file, title, language)}
	for _, b := range all {
		o.Bands = append(o.Bands, band{
			number(b.From), number(b.To), orNull(b.Bead.String()),
			int(b.Near - answers.Zero), int(b.Far - answers.Zero), b.Meet.String(), string(b.Pattern),
		})
	}
	return encode(w, o)
}
