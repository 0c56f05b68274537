package vector

import "twincord/render/display"

// Swapped writes the contents of an Even group, the ground and then the pairs in order,
// each shape once. It gives what was written in the order in which it goes over that at
// half opacity: each pair the other way round. Nil is nothing to go over it: a ground
// alone, or with one shape that has no partner.
func Swapped[Part any](l *display.List, ground, pairs display.Span, write func(shape display.Span) Part) (swapped []Part) {
	part := func(shape display.Span) {
		if !shape.Empty() {
			swapped = append(swapped, write(shape))
		}
	}
	part(ground)
	for first, second := range l.Pairs(pairs) {
		part(first)
		part(second)
		if n := len(swapped); !second.Empty() {
			swapped[n-2], swapped[n-1] = swapped[n-1], swapped[n-2]
		}
	}
	if len(swapped) < 3 {
		return nil
	}
	return swapped
}
