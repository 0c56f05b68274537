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

// centimetres writes a length given in mm as a number of cm: whole where it is
// whole, else with one decimal.
func (w *Words) centimetres(mm float64) string {
	mm = math.Round(mm)
	if math.Mod(mm, 10) == 0 {
		return w.Number(mm/10, 0)
	}
	return w.Number(mm/10, 1)
}

const inch = 25.4 // mm

// Length writes a length given in mm, in cm or inches: "58 cm", "4.5 cm", "22.8 in".
func (w *Words) Length(mm float64) string {
	if w.inches {
		tenths := math.Round(mm / inch * 10)
		decimals := 1
		if math.Mod(tenths, 10) == 0 {
			decimals = 0
		}
		return w.say("unit-in", with{"Number": w.Number(tenths/10, decimals)})
	}
	return w.say("unit-cm", with{"Number": w.centimetres(mm)})
}

// Deviation writes a horizontal deviation, eso +, with the word for its side instead
// of a sign: "4.2 Δ eso", "0.25 Δ exo". What rounds to zero has no side: "0.0 Δ".
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

// prisms writes a number of prism dioptres without its sign: one decimal, two
// where one would not do.
func (w *Words) prisms(p float64) string {
	hundredths := math.Round(math.Abs(p) * 100)
	if math.Mod(hundredths, 10) == 0 {
		return w.Number(hundredths/100, 1)
	}
	return w.Number(hundredths/100, 2)
}

// degrees writes a number of degrees: one decimal, two below 1°.
func (w *Words) degrees(a sim.Angle) string {
	d := math.Abs(float64(a.Degrees()))
	if d < 0.995 {
		return w.Number(d, 2)
	}
	return w.Number(d, 1)
}

// Degrees writes an angle in degrees with one decimal: "2.3°".
func (w *Words) Degrees(a sim.Angle) string {
	return w.say("unit-degrees", with{"Number": w.Number(float64(a.Degrees()), 1)})
}
