package cases

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// How far off an answer may be for a whole point and for half of one, from both sides of
// every bound: 1 Δ or 15 %, then 30 %; 1 cm or 5 %, then the right side of the bead.
func TestPoints(t *testing.T) {
	prism := func(spans ...Span) Entry { return Entry{Item: Deviation, Spans: spans} }
	place := func(from, to float64) Entry {
		return Entry{Item: CrossAt, Spans: []Span{{from, to}}, Beside: 480}
	}
	untold := prism(Span{2, 20})
	untold.Codes = []string{CannotTell}
	for _, tt := range []struct {
		name  string
		entry Entry
		want  map[float64]float64
	}{
		{"small: 1 Δ, and half to 30 %", prism(Span{5, 5}), map[float64]float64{
			5: 1, 4: 1, 6: 1, 3.99: 0.5, 6.01: 0.5, 3.5: 0.5, 6.5: 0.5, 3.49: 0, 6.51: 0, -5: 0, -4: 0}},
		{"large: 15 %, and half to 30 %", prism(Span{20, 20}), map[float64]float64{
			17: 1, 23: 1, 16.99: 0.5, 23.01: 0.5, 14: 0.5, 26: 0.5, 13.99: 0, 26.01: 0}},
		{"exo alike", prism(Span{-20, -20}), map[float64]float64{-17: 1, -23: 1, -23.01: 0.5, -26: 0.5, -26.01: 0, 20: 0}},
		{"of a stretch, by its nearer end", prism(Span{2, 6}), map[float64]float64{
			1: 1, 0.99: 0, 4: 1, 7: 1, 7.01: 0.5, 7.8: 0.5, 7.81: 0, -1: 0}},
		{"very small: the sign counts before the amount", prism(Span{0.2, 0.3}), map[float64]float64{0.01: 1, -0.01: 0}},
		{"about none there is no wrong sign", prism(Span{-0.05, 0.05}), map[float64]float64{-1: 1, 1: 1, -1.06: 0, 1.06: 0}},
		{"of two stretches the better one", prism(Span{2, 2}, Span{10, 10}), map[float64]float64{2.5: 1, 5: 0, 9: 1, 12: 0.5, 13.1: 0}},
		{"not to be told: a number that is wrong costs", untold, map[float64]float64{2: 1, 10: 1, 25: 0.5, 27: -0.5, -3: -0.5}},
		{"a place: 5 % of it", place(300, 320), map[float64]float64{
			300: 1, 320: 1, 286: 1, 285: 0.5, 336: 1, 337: 0.5, 1: 0.5, 479: 0.5, 480: 0, 481: 0}},
		{"near the nose: 1 cm", place(100, 100), map[float64]float64{90: 1, 110: 1, 89.9: 0.5, 110.1: 0.5}},
		{"beyond the bead", place(600, 600), map[float64]float64{481: 0.5, 479: 0, 1200: 0.5}},
		{"about the bead no side is right", place(470, 490), map[float64]float64{480: 1, 455: 1, 400: 0, 600: 0}},
	} {
		for x, want := range tt.want {
			assert.Equal(t, want, tt.entry.Points(Answer{Number: x}), "%s: %v", tt.name, x)
		}
	}

	codes := Entry{Item: Ask, Codes: []string{"bead", CannotTell}, Half: []string{"near"}}
	for code, want := range map[string]float64{"bead": 1, CannotTell: 1, "near": 0.5, "far": -0.5} {
		assert.Equal(t, want, codes.Points(Answer{Code: code}), code)
	}
	codes.Codes = codes.Codes[:1]
	assert.Zero(t, codes.Points(Answer{Code: "far"}), "what can be told costs nothing")
	assert.Zero(t, codes.Points(Answer{Code: CannotTell}))
}

// A case is as good as the mean of its items, is missed below three quarters, and has
// never less than nothing.
func TestJudging(t *testing.T) {
	key := []Entry{{Item: Sign, Codes: []string{Eso}}, {Item: Missing, Codes: []string{Nobody, CannotTell}}}
	for _, tt := range []struct {
		sign, missing string
		items         []float64
		points        float64
		missed        bool
	}{
		{Eso, CannotTell, []float64{1, 1}, 1, false},
		{Eso, "", []float64{1, 0}, 0.5, true},
		{Eso, Right, []float64{1, -0.5}, 0.25, true},
		{Exo, Right, []float64{0, -0.5}, 0, true},
		{"", "", []float64{0, 0}, 0, true},
	} {
		given := map[Item]Answer{}
		if tt.sign != "" {
			given[Sign] = Answer{Code: tt.sign}
		}
		if tt.missing != "" {
			given[Missing] = Answer{Code: tt.missing}
		}
		j := judge(key, given)
		assert.Equal(t, tt.items, j.Items)
		assert.Equal(t, tt.points, j.Points)
		assert.Equal(t, tt.missed, j.Missed())
		assert.False(t, j.Failed)
	}
	assert.False(t, (&Judged{Points: Passes}).Missed(), "three quarters will do")
	assert.True(t, (&Judged{Points: math.Nextafter(Passes, 0)}).Missed(), "and nothing less")
}

// A number can be told where one is right enough for all that fit: as far off as that is
// for the middle of them, and not on both sides of the bead.
func TestWhetherANumberCanBeTold(t *testing.T) {
	for _, tt := range []struct {
		spans []Span
		told  bool
	}{
		{[]Span{{3, 3}}, true},
		{[]Span{{2, 4}}, true},
		{[]Span{{2, 4.1}}, false},
		{[]Span{{-4, -2}}, true},
		{[]Span{{-4.1, -2}}, false},
		{[]Span{{2, 2.5}, {3.5, 4}}, true},
		{[]Span{{2, 2.5}, {4, 4.5}}, false},
		{[]Span{{20, 27}}, true}, // 3.5 of 23.5
		{[]Span{{20, 27.2}}, false},
		{[]Span{{-0.1, 1}}, true},
		{[]Span{{-0.11, 0.11}}, false},
		{[]Span{{-1, 0.1}}, true},
		{[]Span{{0.5, 0.7}, {-0.7, -0.5}}, false},
	} {
		r := Entry{Item: Deviation, Spans: tt.spans}
		r.decideNumber(3)
		assert.Equal(t, tt.told, r.Told(), "%v", tt.spans)
		assert.Equal(t, tt.told, r.Best == Answer{Number: 3}, "%v", tt.spans)
		assert.Equal(t, !tt.told, r.Best == Answer{Code: CannotTell}, "%v", tt.spans)
	}
}
