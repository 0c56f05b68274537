package scenes

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// What faults say of keys and values.

// span gives a range in words: "40 to 80 mm".
func span(r Range, unit string) string {
	if r.Min == r.Max {
		return measured(decimals(r.Min), unit)
	}
	return measured(r.String(), unit)
}

// within gives in words what is in any of some ranges: "0 s or 1 to 60 s".
func within(rs []Range, unit string) string {
	words := make([]string, len(rs))
	for i, r := range rs {
		words[i] = span(r, unit)
	}
	return list(words)
}

// measured is a number with its unit.
func measured(number, unit string) string {
	switch unit {
	case "", degrees:
		return number + unit
	default:
		return number + " " + unit
	}
}

// decimals writes a number as the shortest decimal that is exactly it.
func decimals(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }

// cut shortens what a file says to what a message can hold.
func cut(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

// list joins words: a, b or c.
func list(words []string) string {
	last := len(words) - 1
	if last < 1 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// allowed says what a key takes.
func (k *Key) allowed() string {
	switch k.Kind {
	case Number:
		switch {
		case k.Name == "format":
			return decimals(Format)
		case k.Whole:
			return "a whole number, " + within(k.Ranges, k.Unit)
		}
		return "a number, " + within(k.Ranges, k.Unit)
	case Point:
		axes := make([]string, len(k.Ranges))
		for i, r := range k.Ranges {
			axes[i] = "xyz"[i:i+1] + " " + span(r, k.Unit)
		}
		return "three numbers: " + strings.Join(axes, ", ")
	case Choice:
		quoted := make([]string, len(k.Choices))
		for i, c := range k.Choices {
			quoted[i] = strconv.Quote(c)
		}
		return list(quoted)
	case Colour:
		return `a colour as "#RRGGBB"`
	case Name:
		return "the name of a bead"
	case Names:
		return "an array of the names of at least two beads"
	case Prose:
		return "text, of control characters only line breaks and tabs"
	default:
		if k.Ranges != nil {
			return "text of " + span(k.Ranges[0], "characters") + ", none of them control characters"
		}
		return "text of one line without control characters"
	}
}

// forbidden says whether a character may not stand in the key's text.
func (k *Key) forbidden(r rune) bool {
	allowed := k.Kind == Prose && (r == '\n' || r == '\r' || r == '\t')
	return unicode.IsControl(r) && !allowed
}

// suggestion says what may stand in a table instead of a name it does not know:
// the nearest if one is close, the same name if it belongs to another table, or
// else all.
func suggestion(table, name string) string {
	name = strings.ToLower(name)
	var known []string
	for _, k := range keys {
		if k.Table == table {
			known = append(known, k.Name)
		}
	}
	if table == "" {
		for _, t := range tables {
			known = append(known, strings.TrimSuffix(t, "[]"))
		}
	}
	best, least := "", 3
	for _, k := range known {
		if strings.HasPrefix(k, name+"_") { // the unit left out
			best, least = k, 0
		} else if d := distance(name, k, least); d < least && d < len(k)/2 {
			best, least = k, d
		}
	}
	if best != "" {
		return "did you mean " + best + "?"
	}
	if i := slices.IndexFunc(keys, func(k Key) bool { return k.Name == name }); i >= 0 {
		return "did you mean " + keys[i].Path() + "?"
	}
	return "allowed is " + list(known)
}

// distance is the number of characters to change, put in, take out or swap with
// the next to get from a to b, or limit where it is no less.
func distance(a, b string, limit int) int {
	x, y := []rune(a), []rune(b)
	if len(x)-len(y) >= limit || len(y)-len(x) >= limit {
		return limit
	}
	var before, last, row []int
	for j := range len(y) + 1 {
		last = append(last, j)
	}
	for i := range x {
		row = append([]int(nil), i+1)
		for j := range y {
			d := last[j]
			if x[i] != y[j] {
				d++
			}
			d = min(d, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && x[i] == y[j-1] && x[i-1] == y[j] {
				d = min(d, before[j-1]+1)
			}
			row = append(row, d)
		}
		before, last = last, row
	}
	return min(last[len(y)], limit)
}
