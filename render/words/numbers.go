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

func (w *Words) unit(id string, x float64, decimals int) string {
	return w.say(id, with{"Number": w.Number(x, decimals)})
}

// centimetres writes a length given in mm as a number of cm: whole where it is
// whole, else with one decimal.
func (w *Words) centimetres(mm float64) string {
	tenths := math.Round(mm)
	if math.Mod(tenths, 10) == 0 {
		return w.Number(tenths/10, 0)
	}
	return w.Number(tenths/10, 1)
}

// Length writes a length given in mm, in cm: "58 cm", "4.5 cm".
func (w *Words) Length(mm float64) string {
	return w.say("unit-cm", with{"Number": w.centimetres(mm)})
}

// Millimetres writes a length in mm with one decimal: "12.0 mm".
func (w *Words) Millimetres(mm float64) string { return w.unit("unit-mm", mm, 1) }

// Prism writes prism dioptres with one decimal and its sign: "−4.0 Δ".
func (w *Words) Prism(p sim.Prism) string { return w.unit("unit-prism", float64(p), 1) }

// Deviation writes a horizontal deviation, eso +: "4.2 Δ eso", "0.0 Δ".
func (w *Words) Deviation(p sim.Prism) string {
	return w.sided(float64(p), "unit-eso", "unit-exo")
}

// Vertical writes a vertical deviation, right eye higher +: "2.0 Δ right eye
// higher".
func (w *Words) Vertical(p sim.Prism) string {
	return w.sided(float64(p), "unit-right-higher", "unit-left-higher")
}

// sided writes prism dioptres without a sign, with the word for its side. What
// rounds to zero has no side.
func (w *Words) sided(p float64, plus, minus string) string {
	id := "unit-prism"
	if math.Abs(p) >= 0.05 {
		id = minus
		if p > 0 {
			id = plus
		}
	}
	return w.unit(id, math.Abs(p), 1)
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
	return w.unit("unit-degrees", float64(a.Degrees()), 1)
}

// Arcmin writes an angle in minutes of arc with one decimal: "12.3 arcmin".
func (w *Words) Arcmin(a sim.Angle) string {
	return w.unit("unit-arcmin", float64(a.Arcmin()), 1)
}

// Dioptres writes a vergence of light or a lens with two decimals: "2.50 D".
func (w *Words) Dioptres(d sim.Dioptres) string {
	return w.unit("unit-dioptres", float64(d), 2)
}
