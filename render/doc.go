// Package render makes the pictures: the patient's view, each eye's own image,
// eyes on the bead beside a set-up, and the views from above and from in front. Each
// takes a View and adds shapes to a display list; none computes what is seen, and
// none has words of its own.
package render
