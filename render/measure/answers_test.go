package measure

import (
	"bytes"
	"encoding/json"
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
	"twincord/sim/answers"
)

// explaining is an answer of one bead and a place, with three families that would give it.
func explaining() *Explained {
	a := &answers.Answers{Place: sim.Some(answers.Place{At: 340, Within: 40})}
	a.Code[answers.Bead], a.Code[answers.Near] = answers.One, answers.Double
	var says answers.Told
	says.Code[answers.Bead], says.Code[answers.Near], says.Code[answers.Far] = answers.One, answers.Double, answers.Single
	says.Code[answers.Clear], says.Place = answers.Sharp, sim.Some(350.)
	return &Explained{
		File: "a.toml", Title: "A scene", Language: "en", Note: "No diagnosis.",
		Answers: a,
		Result: &answers.Result{
			Families: []answers.Match{
				{Family: answers.Family{Kind: answers.OnBead, Eye: sim.Neither}, Says: says},
				{Family: answers.Family{Kind: answers.LeftOutPart, Eye: sim.Left, Zone: sim.ZoneCentral, Centre: sim.CentreFovea, Radius: 5}, Says: says,
					Ranges: []answers.Range{{Key: "posture.deviation_prism", From: -1, To: 2.5}}},
				{Family: answers.Family{Kind: answers.LeftOut, Eye: sim.Right}, Says: says},
			},
			Nearest:  []answers.Match{{Family: answers.Family{Kind: answers.Eso}, Against: []answers.Item{answers.Near, answers.Far}}},
			Conflict: sim.Some([2]answers.Item{answers.Bead, answers.Meet}),
			Ask:      sim.Some(answers.Clear),
		},
		Example:  func(*answers.Match) (string, error) { return "format = 1", nil },
		Sentence: func(m *answers.Match) string { return string(m.Kind) },
	}
}

// What answers come to is told by the keys of the contract: what was answered, the families
// with what they are of alone, and what they say to what was not answered.
func TestAnswersJSON(t *testing.T) {
	read := func(e *Explained) (o map[string]any) {
		var b bytes.Buffer
		require.NoError(t, AnswersJSON(&b, e))
		require.NoError(t, json.Unmarshal(b.Bytes(), &o))
		return o
	}
	o := read(explaining())
	assert.Equal(t, map[string]any{"bead": "one", "near": 2., "meet_at_mm": 340., "meet_within_mm": 40.}, o["answers"])
	assert.Equal(t, []any{"bead", "meet"}, o["conflict"])
	assert.Equal(t, "clear", o["ask"])
	families := o["families"].([]any)
	require.Len(t, families, 3)
	for i, want := range []map[string]any{
		{"kind": "on_bead", "eye": nil, "zone": nil, "centre": nil, "radius_deg": nil},
		{"kind": "left_out_part", "eye": "left", "zone": "central", "centre": "fovea", "radius_deg": 5.},
		{"kind": "left_out", "eye": "right", "zone": nil, "centre": nil, "radius_deg": nil},
	} {
		family := families[i].(map[string]any)
		for key, value := range want {
			assert.Equal(t, value, family[key], "%s of %s", key, want["kind"])
		}
		assert.Equal(t, map[string]any{"far": 1., "clear": "clear"}, family["says"], "what was not answered alone")
		assert.NotContains(t, family, "against")
	}
	assert.Equal(t, []any{map[string]any{"key": "posture.deviation_prism", "from": -1., "to": 2.5}}, families[1].(map[string]any)["ranges"])
	nearest := o["nearest"].([]any)[0].(map[string]any)
	assert.Equal(t, []any{"near", "far"}, nearest["against"])

	e := explaining()
	e.Answers.Place.OK, e.Result.Conflict.OK, e.Result.Ask.OK = false, false, false
	o = read(e)
	assert.NotContains(t, o["answers"], "meet_at_mm")
	assert.Equal(t, 350., o["families"].([]any)[0].(map[string]any)["says"].(map[string]any)["meet_at_mm"])
	assert.Nil(t, o["conflict"])
	assert.Nil(t, o["ask"])

	e.Example = func(*answers.Match) (string, error) { return "", errors.New("no example") }
	var b bytes.Buffer
	require.EqualError(t, AnswersJSON(&b, e), "no example")
	assert.Zero(t, b.Len())
}

// Bands are told by codes, their strings by numbers, and a bare string's bead by null.
func TestBandsJSON(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, BandsJSON(&b, "a.toml", "", "en", []answers.Band{
		{From: -3, To: 0, Bead: answers.One, Near: answers.Double, Far: answers.Single, Meet: answers.At, Pattern: sim.PatternY},
		{From: 0, To: 2, Near: answers.Zero, Far: answers.Double, Meet: answers.Not, Pattern: sim.PatternTwo},
	}))
	var o struct{ Bands []map[string]any }
	require.NoError(t, json.Unmarshal(b.Bytes(), &o))
	assert.Equal(t, []map[string]any{
		{"from_prism": -3., "to_prism": 0., "bead": "one", "near": 2., "far": 1., "meet": "at", "pattern": "Y"},
		{"from_prism": 0., "to_prism": 2., "bead": nil, "near": 0., "far": 2., "meet": "not", "pattern": "two"},
	}, o.Bands)
}
