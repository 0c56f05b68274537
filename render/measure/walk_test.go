package measure

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
)

// weak is a patient whose near point has receded (row C13), before one bead.
func weak() *sim.Setup {
	s := sim.Default()
	s.String.Length = 1200
	s.Beads = []sim.Bead{
		{Name: "sky", At: 480, Diameter: 16},
		{Name: "plum", At: 900, Diameter: 16},
	}
	s.Look.Bead = 0
	f := sim.DefaultFindings()
	f.NearPhoria, f.NPCBreak, f.NPCRecovery = -6, 90, 120
	f.Near.BaseOutBlur, f.Near.BaseOutBreak, f.Near.BaseOutRecovery = 10, 12, 8
	s.Findings = sim.Some(f)
	return &s
}

func said(v *sim.View) string { return fmt.Sprintf("%s, %q", v.Account.Fixated, v.Account.Pattern) }

// The places of a walk, in and out, with the last one whatever the step.
func TestPlacesOfAWalk(t *testing.T) {
	for name, c := range map[string]struct {
		from, to, step float64
		want           []float64
	}{
		"even":           {300, 100, 100, []float64{300, 200, 100, 200, 300}},
		"a rest":         {300, 50, 100, []float64{300, 200, 100, 50, 100, 200, 300}},
		"one step":       {300, 100, 500, []float64{300, 100, 300}},
		"tenths of a mm": {1, 0.7, 0.1, []float64{1, 0.9, 0.8, 0.7, 0.8, 0.9, 1}},
	} {
		w := NewWalk(weak(), c.from, c.to, c.step, said)
		var at []float64
		for _, s := range w.Steps {
			at = append(at, s.At)
		}
		require.Len(t, at, len(c.want), name)
		require.InDeltaSlice(t, c.want, at, 1e-9, name)
		for i, s := range w.Steps {
			assert.Equal(t, i <= len(c.want)/2, s.Way == In, name)
		}
	}
}

// A walk breaks nearer than it comes back, and each row agrees with a look at that
// place alone, its state given.
func TestEachStepIsALook(t *testing.T) {
	s := weak()
	w := NewWalk(s, 300, 20, 20, said)
	require.True(t, w.Break.OK)
	require.True(t, w.Recovery.OK)
	assert.Less(t, w.Break.Value, w.Recovery.Value)
	breaks, back := s.Turning()
	assert.True(t, w.Break.Value <= breaks.Value && w.Break.Value > breaks.Value-20, "the first step past the exact place")
	assert.True(t, w.Recovery.Value >= back.Value && w.Recovery.Value < back.Value+20)
	// Halved to half of what is promised, and told by its middle.
	assert.InDelta(t, breaks.Value, w.Breaks.At.Value, turnWithin/4+0.01)
	assert.InDelta(t, back.Value, w.Returns.At.Value, turnWithin/4+0.01)
	// The findings' own near points, from where they were measured.
	assert.InDelta(t, s.Findings.Value.NPCBreak, w.Breaks.FromSpectacle.Value, 0.5)
	assert.InDelta(t, s.Findings.Value.NPCRecovery, w.Returns.FromSpectacle.Value, 0.5)

	state := sim.StateHolding
	for _, st := range w.Steps {
		one := *weak()
		one.Beads = []sim.Bead{one.Beads[0]}
		one.Beads[0].At = st.At
		one.Findings.Value.State = state
		var v sim.View
		v.Look(&one)
		state = v.Holding.Value.State
		assert.Equal(t, v.Account, st.Account)
		assert.Equal(t, v.Holding, st.Holding)
		assert.Equal(t, said(&v), st.Sentence)
		assert.InDelta(t, float64(v.Beads[0].Disparity.Value.H), float64(st.Disparity.Value), 1e-12)
	}
}

// What holds throughout breaks nowhere, and comes back nowhere.
func TestAWalkThatHolds(t *testing.T) {
	w := NewWalk(weak(), 1100, 400, 100, said)
	for _, st := range w.Steps {
		require.Equal(t, sim.StateHolding, st.Holding.Value.State)
	}
	assert.False(t, w.Break.OK || w.Breaks.At.OK || w.Recovery.OK || w.Returns.At.OK)
}

// Table, CSV and JSON say the same.
func TestFormsOfAWalkAgree(t *testing.T) {
	w := NewWalk(weak(), 300, 20, 70, said)
	w.File, w.Title, w.Language = "a.toml", "A walk", "en"
	var j, c, table bytes.Buffer
	require.NoError(t, WalkJSON(&j, w))
	require.NoError(t, WalkCSV(&c, w))
	require.NoError(t, WalkTable(&table, w))

	var o struct {
		Break    float64          `json:"break_at_mm"`
		Recovery float64          `json:"recovery_at_mm"`
		Breaks   float64          `json:"breaks_at_mm"`
		From     float64          `json:"breaks_from_spectacle_plane_mm"`
		Returns  float64          `json:"returns_at_mm"`
		Back     float64          `json:"returns_from_spectacle_plane_mm"`
		Steps    []map[string]any `json:"steps"`
	}
	require.NoError(t, json.Unmarshal(j.Bytes(), &o))
	rows, err := csv.NewReader(&c).ReadAll()
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(table.String()), "\n")
	require.Len(t, rows, len(o.Steps)+1)
	require.Len(t, lines, len(o.Steps)+4)
	assert.Equal(t, "a.toml: A walk", lines[0])
	assert.Equal(t, fmt.Sprintf("breaks on the way in at %.0f mm along the string, %.0f mm from the spectacle plane", o.Breaks, o.From), lines[len(lines)-2])
	assert.Equal(t, fmt.Sprintf("comes back on the way out at %.0f mm along the string, %.0f mm from the spectacle plane", o.Returns, o.Back), lines[len(lines)-1])
	for i, step := range o.Steps {
		require.Len(t, step, len(rows[0]), "each column is a key")
		for n, name := range rows[0] {
			switch v := step[name].(type) {
			case string:
				assert.Equal(t, v, rows[i+1][n], name)
				assert.Contains(t, lines[i+2], v, name)
			case float64:
				x, err := strconv.ParseFloat(rows[i+1][n], 64)
				require.NoError(t, err)
				assert.InDelta(t, v, x, 0.5e-9, name)
				assert.Regexp(t, `^-?\d+(\.\d{1,9})?$`, rows[i+1][n], name)
				assert.NotRegexp(t, `^-0(\.0+)?$`, rows[i+1][n], name)
				assert.Contains(t, lines[i+2], fixed(v, walkColumns[n].decimals), name)
			default:
				t.Errorf("%s is %v", name, v)
			}
		}
		// Under each other: what is text begins where its heading does, what is a number ends
		// there, two blanks or more before the next.
		line, from := []rune(lines[i+2]), 0
		for _, k := range walkColumns[:len(walkColumns)-1] {
			at := from + strings.Index(lines[1][from:], k.heading)
			from = at + len(k.heading)
			begin, end := utf8.RuneCountInString(lines[1][:at]), utf8.RuneCountInString(lines[1][:from])
			if k.text != nil {
				assert.NotEqual(t, ' ', line[begin], k.heading)
			} else {
				assert.NotEqual(t, ' ', line[end-1], k.heading)
				assert.Equal(t, "  ", string(line[end:end+2]), k.heading)
			}
		}
		before, _, _ := strings.Cut(lines[1], "sentence")
		assert.Equal(t, step["sentence"], string([]rune(lines[i+2])[utf8.RuneCountInString(before):]))
	}
}

// A place that one eye has behind it has no disparity.
func TestAPlaceBehindAnEye(t *testing.T) {
	s := sim.Default()
	s.String.Length, s.String.NearEnd.X, s.String.NearEnd.Y = 1200, 60, 30
	s.Beads = []sim.Bead{{Name: "sky", At: 480, Diameter: 16}}
	s.Look.Bead = 0
	w := NewWalk(&s, 300, 20, 140, said)
	assert.True(t, w.Steps[0].Disparity.OK)
	s.Posture = sim.Posture{Deviation: -1000, Fixing: sim.Left, PrismMet: 1}
	w = NewWalk(&s, 300, 0, 100, said)
	behind := w.Steps[3]
	require.Zero(t, behind.At)
	assert.False(t, behind.Disparity.OK)
}

// Without findings a walk has no phoria and no state, and says so by null.
func TestWalkWithATypedPosture(t *testing.T) {
	s := weak()
	s.Findings = sim.Maybe[sim.Findings]{}
	w := NewWalk(s, 300, 20, 70, said)
	var j, c bytes.Buffer
	require.NoError(t, WalkJSON(&j, w))
	require.NoError(t, WalkCSV(&c, w))
	for _, want := range []string{`"break_at_mm": null`, `"phoria_prism": null`, `"state": null`} {
		assert.Contains(t, j.String(), want)
	}
	assert.Contains(t, c.String(), ",,,,,")
	assert.False(t, w.Break.OK)
}

func BenchmarkWalk(b *testing.B) {
	s := weak()
	b.ReportAllocs()
	for range b.N {
		if w := NewWalk(s, 1190, 195, 10, func(*sim.View) string { return "" }); len(w.Steps) != 201 {
			b.Fatal(len(w.Steps))
		}
	}
}
