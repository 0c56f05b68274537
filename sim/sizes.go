package sim

import "slices"

// Size is how large an average head is at an age (M19): what it fills in of a set-up.
// Nothing of it follows from an age alone.
type Size struct {
	Name  string // "child-7"
	Age   float64
	PD    float64 // mm
	Ahead float64 // of the nose tip, from the centres of rotation, mm
	Above float64 // of the nose tip, mm: below the eyes −
}

// sizes are the sizes by age, the smallest first. PD: between rows I5 and I8 for
// children, rows I3 and I4 for adults. Nose tips: an adult's (rows N3, N6), smaller by
// 0.78, 0.82, 0.87 and 0.95, which is a modelling choice: it grows most from 4 to 14.
var sizes = []Size{
	{"child-5", 5, 51, 42, -27},
	{"child-7", 7, 53, 44, -28},
	{"child-10", 10, 56.5, 47, -29},
	{"teen-14", 14, 59, 51, -32},
	{"adult-woman", 25, 61.7, 54, -34},
	{"adult-man", 25, 64, 54, -34},
}

// Sizes are the sizes by age, the smallest first.
func Sizes() []Size { return slices.Clone(sizes) }

// SizeNamed is the size of that name.
func SizeNamed(name string) (Size, bool) {
	i := slices.IndexFunc(sizes, func(z Size) bool { return z.Name == name })
	if i < 0 {
		return Size{}, false
	}
	return sizes[i], true
}

// Fill gives the patient of a set-up the size, and holds the near end of the string to
// the tip of that nose, as far to a side as it is.
func (z *Size) Fill(s *Setup) {
	s.Patient.Age, s.Patient.PD = z.Age, z.PD
	s.String.NearEnd.Y, s.String.NearEnd.Z = z.Ahead, z.Above
}

// Of says whether a set-up has the size.
func (z *Size) Of(s *Setup) bool {
	sized := *s
	z.Fill(&sized)
	return sized.Patient == s.Patient && sized.String == s.String
}
