package desk

import (
	"math"
	"strconv"
	"strings"

	"twincord/render/words"
)

// quantity is how numbers of one kind are written and read. What is written has no
// sign where a word says the side.
type quantity struct {
	unit        words.Label // what is written behind the number
	plus, minus words.Label // instead of it above and below zero; empty: the sign says it
	per         float64     // how much of the held number one of what is written is
	others      []other     // units that may be typed instead
	step        float64     // of an arrow key, in what is held
	most        int         // decimals
}

// other is a unit that may be typed, with what one of it is in what is held.
type other struct {
	name string
	per  float64
}

var lengthNames = []other{{"mm", 1}, {"cm", 10}, {"m", 1000}, {"in", 25.4}, {"inch", 25.4}, {"inches", 25.4}, {"″", 25.4}, {"\"", 25.4}}

// lengths are distances as people measure them.
func (d *Desk) lengths() *quantity {
	if d.say.Inches() {
		return &quantity{unit: words.UnitIn, per: 25.4, step: 12.7, most: 1, others: lengthNames}
	}
	return &quantity{unit: words.UnitCm, per: 10, step: 10, most: 1, others: lengthNames}
}

// measure is a quantity in the words of the window.
type measure struct {
	*quantity
	say *words.Words
}

func (m measure) Write(v float64) string           { return m.write(m.say, v) }
func (m measure) Read(text string) (float64, bool) { return m.read(m.say, text) }
func (m measure) Step() float64                    { return m.step }

// Longest are the ends themselves, and near them numbers with all their decimals.
func (m measure) Longest(low, high float64) []string {
	var all []string
	for _, v := range [2]float64{low, high} {
		long := math.Copysign(max(math.Abs(v)-0.11*m.per, 0.11*m.per), v)
		all = append(all, m.Write(v), m.Write(long))
	}
	return all
}

// write gives a number with its unit.
func (q *quantity) write(say *words.Words, v float64) string {
	shown := q.round(v)
	unit := q.unit
	switch {
	case shown > 0 && q.plus != "":
		unit = q.plus
	case shown < 0 && q.minus != "":
		unit, shown = q.minus, -shown
	}
	return say.Quantity(unit, say.Number(shown, q.decimals(shown)))
}

// round is a held number as it is written.
func (q *quantity) round(v float64) float64 {
	n := math.Pow10(q.most)
	return math.Round(v/q.per*n)/n + 0
}

// decimals is how many of them a number needs.
func (q *quantity) decimals(shown float64) int {
	for n := range q.most {
		if x := shown * math.Pow10(n); math.Abs(x-math.Round(x)) < 1e-6 {
			return n
		}
	}
	return q.most
}

// read takes a number as people write it: with a point or a comma, with the unit or
// without, with the word for a side instead of a sign.
func (q *quantity) read(say *words.Words, text string) (v float64, ok bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	text = strings.Replace(strings.Replace(text, "−", "-", 1), ",", ".", 1)
	end := len(text) - len(strings.TrimLeft(text, "+-.0123456789"))
	number, rest := text[:end], strings.TrimSpace(text[end:])
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, false
	}
	if rest == "" {
		return v*q.per + 0, true
	}
	for _, o := range q.others {
		if rest == o.name {
			return v*o.per + 0, true
		}
	}
	if rest == word(say, q.unit) {
		return v*q.per + 0, true
	}
	// A side, with or without the unit before it; then there is no sign.
	unit := word(say, q.unit)
	side := strings.TrimSpace(strings.TrimPrefix(rest, unit))
	if strings.ContainsAny(number, "+-") || side == "" {
		return 0, false
	}
	for sign, id := range map[float64]words.Label{1: q.plus, -1: q.minus} {
		if id != "" && side == strings.TrimSpace(strings.TrimPrefix(word(say, id), unit)) {
			return sign*v*q.per + 0, true
		}
	}
	return 0, false
}

// word is what stands beside the number in a unit.
func word(say *words.Words, unit words.Label) string {
	return strings.ToLower(strings.TrimSpace(say.Quantity(unit, "")))
}

// snap is the multiple of step, a whole part of 1, nearest to v; never −0.
func snap(v, step float64) float64 {
	n := math.Round(1 / step)
	return math.Round(v*n)/n + 0
}
