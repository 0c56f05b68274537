package sim

// Through is what is left of a colour behind the filter. A red filter passes the red
// part of the light and a green one the green part, as filters do that are made to
// give each eye what the other lacks; the parts of sRGB stand for those of the light
// (a modelling choice).
func (f Filter) Through(c RGB) RGB {
	switch f {
	case FilterRed:
		return RGB{R: c.R}
	case FilterGreen:
		return RGB{G: c.G}
	}
	return c
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
