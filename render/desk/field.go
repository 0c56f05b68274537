package desk

import (
	"math"
	"strconv"
	"strings"

	"twincord/sim"
)

// field is a number while it is typed. The zero field is closed.
type field struct {
	open  bool
	fresh bool // as it was opened: what is typed replaces it
	fault bool // what stands there cannot be taken
	text  string
}

// fieldMost is the most characters that a field takes.
const fieldMost = 12

func (f *field) insert(c rune) {
	if !f.open || f.fresh {
		*f = field{open: true}
	}
	if len([]rune(f.text)) < fieldMost {
		f.text += string(c)
	}
	f.fault = false
}

func (f *field) erase() {
	if f.fresh {
		f.text = ""
	}
	f.fresh, f.fault = false, false
	if r := []rune(f.text); len(r) > 0 {
		f.text = string(r[:len(r)-1])
	}
}

// take makes the number typed the deviation and closes the field. A number that
// cannot be taken stays as typed.
func (d *Desk) take() {
	if !d.field.open {
		return
	}
	p, ok := parseDeviation(d.field.text)
	if !ok {
		d.field.fault = true
		return
	}
	d.field = field{}
	d.setDeviation(p)
}

// parseDeviation reads a deviation in Δ as people write it: eso + and exo −, with
// a point or a comma, the unit if they like, and eso or exo behind the number
// instead of the sign. It refuses what is not a number, has both a sign and a
// word, or lies beyond ±100 Δ.
func parseDeviation(text string) (p sim.Prism, ok bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	text, eso := strings.CutSuffix(text, "eso")
	text, exo := strings.CutSuffix(text, "exo")
	text = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "δ")) // Δ in lower case
	text = strings.Replace(strings.Replace(text, ",", ".", 1), "−", "-", 1)
	if strings.Trim(text, "+-.0123456789") != "" || (eso || exo) && strings.ContainsAny(text, "+-") {
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.Abs(v) > deviationMost {
		return 0, false
	}
	if exo {
		v = -v
	}
	return sim.Prism(v + 0), true
}
