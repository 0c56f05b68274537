package raster

import "image"

// A surface is what is painted on: premultiplied pixels of a part of the page.
type surface struct {
	pix    []byte
	stride int
	at     image.Point // of the first pixel
	// rows says which pixels of each row of a layer are not clear; nil: not kept.
	rows []span
	// watch is told of every pixel before it is painted, unless nil.
	watch *watch
}

// span is the pixels x0 ≤ x < x1.
type span struct{ x0, x1 int }

func (s *surface) row(y, x0, x1 int) []byte {
	o := (y-s.at.Y)*s.stride - 4*s.at.X
	return s.pix[o+4*x0 : o+4*x1 : o+4*x1]
}

// touch returns the pixels of a row to be painted on.
func (s *surface) touch(y, x0, x1 int) []byte {
	for w := s.watch; w != nil; w = w.outer {
		w.touch(s, y, x0, x1)
	}
	if s.rows != nil {
		r := s.reached(y)
		if r.x0 == r.x1 {
			*r = span{x0, x1}
		} else {
			r.x0, r.x1 = min(r.x0, x0), max(r.x1, x1)
		}
	}
	return s.row(y, x0, x1)
}

// reached is which pixels of a row of a layer are not clear.
func (s *surface) reached(y int) *span { return &s.rows[y-s.at.Y] }

// grow fits the storage to a part of the page.
func (s *surface) grow(part image.Rectangle) (changed bool) {
	s.at = part.Min
	stride, n := 4*part.Dx(), 4*part.Dx()*part.Dy()
	if s.stride == stride && len(s.pix) == n {
		return false
	}
	s.stride, s.pix = stride, resized(s.pix, n)
	return true
}

// growClear is grow for a layer, which is clear between uses and keeps its rows.
func (s *surface) growClear(part image.Rectangle) {
	if s.grow(part) {
		clear(s.pix)
		s.rows = resized(s.rows, part.Dy())
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

// Tile is the side of the tiles, in pixels, in which it is watched what is painted. Parts
// of a page that are painted by themselves are rows of whole tiles.
const Tile = 1 << tileBits

const tileBits = 4

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
	across int             // tiles in a row
	top    int             // the first row of them
	part   image.Rectangle // of the page, that is watched
	saved  surface
	second bool            // the second of a pair is being painted
	first  image.Rectangle // the tiles that the first of it touched are within
	outer  *watch          // of the group round this one, painted on the same surface
	clash  image.Rectangle
}

func (w *watch) begin(part image.Rectangle, outer *watch) {
	w.across, w.top = (part.Max.X+Tile-1)>>tileBits, part.Min.Y>>tileBits
	w.tiles = resized(w.tiles, w.across*((part.Max.Y+Tile-1)>>tileBits-w.top))
	clear(w.tiles)
	w.part = part
	w.saved.grow(part)
	w.second, w.outer, w.first, w.clash = false, outer, image.Rectangle{}, image.Rectangle{}
}

// nextPair forgets what the first of the last pair touched.
func (w *watch) nextPair() {
	for ty := w.first.Min.Y; ty < w.first.Max.Y; ty++ {
		row := w.row(ty)[w.first.Min.X:w.first.Max.X]
		for i := range row {
			row[i] &^= byFirst
		}
	}
	w.second, w.first = false, image.Rectangle{}
}

func (w *watch) touch(s *surface, y, x0, x1 int) {
	ty := y >> tileBits
	row := w.row(ty)
	if !w.second {
		w.first = w.first.Union(image.Rect(x0>>tileBits, ty, (x1-1)>>tileBits+1, ty+1))
	}
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

// row is a row of tiles.
func (w *watch) row(ty int) []uint8 { return w.tiles[(ty-w.top)*w.across:][:w.across] }

func tileAt(tx, ty int) image.Rectangle {
	return image.Rect(tx, ty, tx+1, ty+1)
}

func (w *watch) save(s *surface, tx, ty int) {
	r := tileAt(tx, ty)
	r = image.Rect(r.Min.X<<tileBits, r.Min.Y<<tileBits, r.Max.X<<tileBits, r.Max.Y<<tileBits).Intersect(w.part)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		copy(w.saved.row(y, r.Min.X, r.Max.X), s.row(y, r.Min.X, r.Max.X))
	}
}

// run is the first run of contested pixels in x0 ≤ x < x1 of a row, empty if there is
// none. Without a watch it is all of them.
func (w *watch) run(y, x0, x1 int) (int, int) {
	if w == nil || x0 >= x1 {
		return x0, x1
	}
	ty := y >> tileBits
	row := w.row(ty)
	tx, end := x0>>tileBits, (x1+Tile-1)>>tileBits
	for tx < end && row[tx]&contested == 0 {
		tx++
	}
	a := max(x0, tx<<tileBits)
	for tx < end && row[tx]&contested != 0 {
		tx++
	}
	return a, max(a, min(x1, tx<<tileBits))
}
