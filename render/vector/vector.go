// Package vector takes the shapes of a display list that no vector format has, ribbons
// and balls, apart into outlines and gradients, which SVG and PDF have alike. It
// writes nothing: how an outline is spelled is its painter's.
package vector

import "strconv"

// AppendDecimal appends v rounded, without zeros that say nothing.
func AppendDecimal(b []byte, v float64, decimals int) []byte {
	start := len(b)
	b = strconv.AppendFloat(b, v, 'f', decimals, 64)
	if decimals > 0 {
		for b[len(b)-1] == '0' {
			b = b[:len(b)-1]
		}
		if b[len(b)-1] == '.' {
			b = b[:len(b)-1]
		}
	}
	digits := b[start:]
	switch {
	case len(digits) > 2 && digits[0] == '0' && digits[1] == '.':
		b = append(b[:start], b[start+1:]...)
	case len(digits) > 3 && digits[0] == '-' && digits[1] == '0':
		b = append(b[:start+1], b[start+2:]...)
	case string(digits) == "-0":
		b = append(b[:start], '0')
	}
	return b
}
