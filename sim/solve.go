package sim

import "math"

// Places on the string at which something is zero, greatest, or no longer so.

// golden is the golden section, what is left of a stretch at each step of a search
// for a greatest value.
const golden = 1 / math.Phi

// reaches gives a place between a and b where f, which has one maximum there, is
// zero or above, if there is one: by golden sections.
func reaches(a, b float64, f func(float64) float64) (at float64, ok bool) {
	p, q := b-golden*(b-a), a+golden*(b-a)
	fp, fq := f(p), f(q)
	for math.Abs(b-a) > places {
		switch {
		case fp >= 0:
			return p, true
		case fq >= 0:
			return q, true
		case fp > fq:
			b, q, fq = q, p, fp
			p = b - golden*(b-a)
			fp = f(p)
		default:
			a, p, fp = p, q, fq
			q = a + golden*(b-a)
			fq = f(q)
		}
	}
	return 0, false
}

// root is the zero of f between a and b, where f has the values fa and fb of
// opposite signs, by the Illinois form of false position. It stops on b if there
// is no change of sign.
func root(a, b, fa, fb float64, f func(float64) float64) float64 {
	for range 100 {
		if fb == 0 || fa == fb {
			break
		}
		c := b - fb*(b-a)/(fb-fa)
		fc := f(c)
		if fc*fb <= 0 {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		step := math.Abs(c - b)
		b, fb = c, fc
		if step <= places {
			break
		}
	}
	return b
}

// edge narrows what lies between a place where something holds and one where it does not
// to as little as places are refined: to the last where it holds and the first where it
// does not.
func edge(in, out float64, holds func(at float64) bool) (last, first float64) {
	for math.Abs(out-in) > places {
		if middle := (in + out) / 2; holds(middle) {
			in = middle
		} else {
			out = middle
		}
	}
	return in, out
}
