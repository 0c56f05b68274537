package raster

import "image"

// A surface is what is painted on: premultiplied pixels whose first one is that of
// the page's upper left corner.
type surface struct {
	pix    []byte
	stride int
	// rows says which pixels of each row of a layer are not clear; nil: not kept.
	rows []span
	// watch is told of every pixel before it is painted, unless nil.
	watch *watch
}

// span is the pixels x0 ≤ x < x1.
type span struct{ x0, x1 int }

func (s *surface) row(y, x0, x1 int) []byte {
	o := y * s.stride
	return s.pix[o+4*x0 : o+4*x1 : o+4*x1]
}

// touch returns the pixels of a row to be painted on.
func (s *surface) touch(y, x0, x1 int) []byte {
	for w := s.watch; w != nil; w = w.outer {
		w.touch(s, y, x0, x1)
	}
	if s.rows != nil {
		r := &s.rows[y]
		if r.x0 == r.x1 {
			*r = span{x0, x1}
		} else {
			r.x0, r.x1 = min(r.x0, x0), max(r.x1, x1)
		}
	}
	return s.row(y, x0, x1)
}

// grow fits the storage to the page.
func (s *surface) grow(size image.Point) (changed bool) {
	if s.stride == 4*size.X && len(s.pix) == 4*size.X*size.Y {
		return false
	}
	s.stride = 4 * size.X
	s.pix = resized(s.pix, 4*size.X*size.Y)
	return true
}

// growClear is grow for a layer, which is clear between uses and keeps its rows.
func (s *surface) growClear(size image.Point) {
	if s.grow(size) {
		clear(s.pix)
		s.rows = resized(s.rows, size.Y)
		clear(s.rows)
	}
}

// resized is a slice of length n in the storage of s if that is large enough.
func resized[T any](s []T, n int) []T {
	if n <= cap(s) {
		return s[:n]
	}
	return make([]T, n)
}

// Pixels are watched in tiles of 16 × 16.
const (
	tileBits = 4
	tileSize = 1 << tileBits
)

// The states of a tile; they add up.
const (
	touched   = 1 << iota // something was painted here, and what was before is saved
	byFirst               // by the first of the present pair
	contested             // by both of a pair
)

// A watch follows what the pairs of an Even group paint, and saves what was there
// before them.
type watch struct {
	tiles  []uint8
	across int // tiles in a row
	saved  surface
	second bool   // the second of a pair is being painted
	outer  *watch // of the group round this one, painted on the same surface
	clash  image.Rectangle
}

func (w *watch) begin(size image.Point, outer *watch) {
	w.across = (size.X + tileSize - 1) >> tileBits
	w.tiles = resized(w.tiles, w.across*((size.Y+tileSize-1)>>tileBits))
	clear(w.tiles)
	w.saved.grow(size)
	w.second, w.outer, w.clash = false, outer, image.Rectangle{}
}

// nextPair forgets what the first of the last pair touched.
func (w *watch) nextPair() {
	for i := range w.tiles {
		w.tiles[i] &^= byFirst
	}
	w.second = false
}

func (w *watch) touch(s *surface, y, x0, x1 int) {
	ty := y >> tileBits
	row := w.tiles[ty*w.across : (ty+1)*w.across]
	for tx := x0 >> tileBits; tx <= (x1-1)>>tileBits; tx++ {
		t := row[tx]
		if t&touched == 0 {
			w.save(s, tx, ty)
			row[tx] |= touched
		}
		switch {
		case !w.second:
			row[tx] |= byFirst
		case t&(byFirst|contested) == byFirst:
			row[tx] |= contested
			w.clash = w.clash.Union(tileAt(tx, ty))
		}
	}
}

func tileAt(tx, ty int) image.Rectangle {
	return image.Rect(tx, ty, tx+1, ty+1)
}

func (w *watch) save(s *surface, tx, ty int) {
	x0 := tx << tileBits
	x1 := min(x0+tileSize, w.saved.stride/4)
	y0 := ty << tileBits
	y1 := min(y0+tileSize, len(w.saved.pix)/w.saved.stride)
	for y := y0; y < y1; y++ {
		copy(w.saved.row(y, x0, x1), s.row(y, x0, x1))
	}
}

// run is the first run of contested pixels in x0 ≤ x < x1 of a row, empty if there is
// none. Without a watch it is all of them.
func (w *watch) run(y, x0, x1 int) (int, int) {
	if w == nil || x0 >= x1 {
		return x0, x1
	}
	ty := y >> tileBits
	row := w.tiles[ty*w.across : (ty+1)*w.across]
	tx, end := x0>>tileBits, (x1+tileSize-1)>>tileBits
	for tx < end && row[tx]&contested == 0 {
		tx++
	}
	a := max(x0, tx<<tileBits)
	for tx < end && row[tx]&contested != 0 {
		tx++
	}
	return a, max(a, min(x1, tx<<tileBits))
}
