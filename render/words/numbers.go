package words

import (
	"math"
	"strconv"
	"strings"

	"twincord/sim"
)

// Number writes a number with so many decimals: a true minus sign, the
// language's decimal point, and no minus before zero.
func (w *Words) Number(x float64, decimals int) string {
	t := strconv.FormatFloat(math.Abs(x), 'f', decimals, 64)
	if x < 0 && strings.Trim(t, "0.") != "" {
		t = "−" + t
	}
	return strings.Replace(t, ".", w.say("number-point", nil), 1)
}

// shortest writes a number with at most so many decimals, and without those that are
// zero at its end: what is said is said in one way everywhere.
func (w *Words) shortest(x float64, most int) string {
	n := math.Pow10(most)
	x = math.Round(x*n) / n
	for most > 0 && math.Mod(math.Round(x*n), 10) == 0 {
		most, n = most-1, n/10
	}
	return w.Number(x, most)
}

// centimetres writes a length given in mm as a number of cm.
func (w *Words) centimetres(mm float64) string { return w.length(math.Round(mm) / 10) }

// length writes a number of cm or inches: a tenth below 100, above it whole. Nobody says
// where on three metres of string something is to the millimetre.
func (w *Words) length(x float64) string {
	if math.Abs(x) >= wholeLengths {
		return w.Number(x, 0)
	}
	return w.shortest(x, 1)
}

// wholeLengths is from where on lengths are told whole, cm or inches.
const wholeLengths = 99.95

const inch = 25.4 // mm

// Length writes a length given in mm, in cm or inches: "58 cm", "4.5 cm", "22.8 in",
// "238 cm".
func (w *Words) Length(mm float64) string {
	if w.inches {
		return w.say("unit-in", with{"Number": w.length(mm / inch)})
	}
	return w.say("unit-cm", with{"Number": w.centimetres(mm)})
}

// Deviation writes a horizontal deviation, eso +, with the word for its side instead
// of a sign: "4.2 Δ eso", "0.25 Δ exo". What rounds to zero has no side: "0 Δ".
func (w *Words) Deviation(p sim.Prism) string {
	id := "unit-prism"
	switch r := math.Round(float64(p) * 100); {
	case r > 0:
		id = "unit-eso"
	case r < 0:
		id = "unit-exo"
	}
	return w.say(id, with{"Number": w.prisms(float64(p))})
}

// prisms writes a number of prism dioptres that was typed, without its sign.
func (w *Words) prisms(p float64) string { return w.shortest(math.Abs(p), 2) }

// number writes one that was worked out: a tenth below 10 Δ, above it whole.
func (w *Words) number(p sim.Prism) string {
	a := math.Abs(float64(p))
	if a >= WholePrisms {
		return w.Number(a, 0)
	}
	return w.shortest(a, 1)
}

// WholePrisms is from where on prism dioptres that were worked out are told whole, Δ.
const WholePrisms = 9.95

// Prism writes a number of prism dioptres that was worked out, with the unit for its side
// instead of a sign. What rounds to zero has no side: "0 Δ".
func (w *Words) Prism(p sim.Prism, positive, negative Label) string {
	return w.computed(p, string(positive), string(negative))
}

// Signed writes a number of prism dioptres that was worked out and may lie on the other
// side, as a recovery may: "8.7 Δ", "−2 Δ".
func (w *Words) Signed(p sim.Prism) string {
	number := w.number(p)
	if p < 0 && !nothing(p) {
		number = "−" + number
	}
	return w.say("unit-prism", with{"Number": number})
}

// FromNoseAndGlasses writes a place by its distances from the nose, along the string, and
// from the plane of the glasses, from which near points are measured, mm.
func (w *Words) FromNoseAndGlasses(nose, glasses float64) string {
	return w.say("place-of-near-point", with{"Nose": w.Length(nose), "Glasses": w.Length(glasses)})
}

// degrees writes the amount of an angle: one decimal, two below 1°.
func (w *Words) degrees(a sim.Angle) string {
	d := math.Abs(float64(a.Degrees()))
	if d < 0.995 {
		return w.shortest(d, 2)
	}
	return w.shortest(d, 1)
}

// Degrees writes the amount of an angle: "2.3°", "0.52°".
func (w *Words) Degrees(a sim.Angle) string {
	return w.say("unit-degrees", with{"Number": w.degrees(a)})
}
