package sim

// Passes is the share of each part of the light that goes through the filter. A red
// filter passes the red part and a green one the green part, as filters do that are
// made to give each eye what the other lacks; the parts of sRGB stand for those of the
// light (a modelling choice).
func (f Filter) Passes() (r, g, b float64) {
	switch f {
	case FilterRed:
		return 1, 0, 0
	case FilterGreen:
		return 0, 1, 0
	}
	return 1, 1, 1
}

// Through is what is left of a colour behind the filter.
func (f Filter) Through(c RGB) RGB {
	r, g, b := f.Passes()
	part := func(v uint8, share float64) uint8 { return uint8(float64(v)*share + 0.5) }
	return RGB{R: part(c.R, r), G: part(c.G, g), B: part(c.B, b)}
}

// blackBelow is the part of sRGB under which a colour counts as black through a
// filter: a tenth of the light that a white bead would send (a modelling choice).
const blackBelow = 0x59

// Blackens says whether a thing of that colour goes black through the filter.
func (f Filter) Blackens(c RGB) bool {
	switch f {
	case FilterRed:
		return c.R < blackBelow
	case FilterGreen:
		return c.G < blackBelow
	}
	return false
}

// black says to which eyes a colour goes black through what stands before them.
func (s *Setup) black(c RGB) Side {
	switch r, l := s.Right.Filter.Blackens(c), s.Left.Filter.Blackens(c); {
	case r && l:
		return Both
	case r:
		return Right
	case l:
		return Left
	}
	return Neither
}
