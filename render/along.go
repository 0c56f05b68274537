package render

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
)

// FromEyes is the distance of a place on the string from the eyes, mm.
func FromEyes(s *sim.Setup, at float64) float64 { return r3.Norm(s.Place(at)) }

// PlaceAt is the place on the string at the distance d from the eyes, mm, held to the
// string's ends. Where a string first comes nearer to the eyes before it leaves them, it
// is one of the places at that distance.
func PlaceAt(s *sim.Setup, d float64) float64 {
	lo, hi := 0.0, s.String.Length
	if FromEyes(s, lo) >= d {
		return lo
	}
	if FromEyes(s, hi) <= d {
		return hi
	}
	for range 60 {
		if m := (lo + hi) / 2; FromEyes(s, m) < d {
			lo = m
		} else {
			hi = m
		}
	}
	return (lo + hi) / 2
}

// FromNose is how far along the string, and on beyond what it is tied to, a distance from
// the eyes is, mm: as it is measured in the chair.
func FromNose(s *sim.Setup, d float64) float64 {
	if far := FromEyes(s, s.String.Length); d > far {
		return s.String.Length + d - far
	}
	return PlaceAt(s, d)
}

// Meeting is how far along the string from the nose the eyes meet, mm: M11's closed form,
// to the millimetre and to no more than three digits. It does not exist where the eyes
// part.
func Meeting(v *sim.View) (mm float64, ok bool) {
	half := math.Tan(float64(v.Axes.Vergence) / 2)
	if half <= 0 {
		return 0, false
	}
	mm = FromNose(&v.Now, v.Now.Patient.PD/2/half)
	step := math.Pow(10, math.Max(0, math.Floor(math.Log10(math.Max(mm, 1)))-2))
	return math.Round(mm/step) * step, true
}
