package raster

import (
	"hash/maphash"
	"image"
	"runtime"
	"sync"
	"sync/atomic"

	"twincord/render/display"
)

// cell is the side of the cells, in pixels, in which a Page looks for what differs: whole
// tiles, so that each looks by itself as it does in the page.
const cell = 2 * Tile

// Block is the side of the blocks, in pixels from the upper left, in which a Page paints what
// differs: no part is in two.
const Block = 8 * cell

// A Page paints one list of a page after the other, and of each no more than where it differs
// from the one before. The zero value has painted nothing yet.
type Page struct {
	size    image.Point
	now     tally
	before  []uint64          // what now.cells were; nil: nothing was painted
	parts   []image.Rectangle // that differ
	workers []worker
}

type worker struct {
	painter Painter
	pix     []byte
}

// Paint paints a list on all cores and hands over every part that may look otherwise than
// before, and where the page has another size all of it: the same pixels as a Painter's. put
// is called for one part at a time, and has it until it returns. pixels is how many there
// are in all.
func (g *Page) Paint(l *display.List, put func(part *image.RGBA)) (pixels int) {
	if size := image.Pt(int(l.W), int(l.H)); size != g.size {
		g.size, g.before = size, nil
	}
	g.now.take(l, image.Rectangle{Max: g.size})
	g.look()

	n := min(runtime.GOMAXPROCS(0), len(g.parts))
	for len(g.workers) < n {
		g.workers = append(g.workers, worker{})
	}
	var next atomic.Int64
	var one sync.Mutex
	var done sync.WaitGroup
	for i := range n {
		done.Go(func() {
			w := &g.workers[i]
			for i := next.Add(1) - 1; i < int64(len(g.parts)); i = next.Add(1) - 1 {
				part := w.paint(l, g.parts[i])
				one.Lock()
				put(part)
				one.Unlock()
			}
		})
	}
	done.Wait()
	for _, r := range g.parts {
		pixels += r.Dx() * r.Dy()
	}
	return pixels
}

func (w *worker) paint(l *display.List, r image.Rectangle) *image.RGBA {
	w.pix = resized(w.pix, 4*r.Dx()*r.Dy())
	part := &image.RGBA{Pix: w.pix, Stride: 4 * r.Dx(), Rect: r}
	w.painter.Paint(l, part)
	return part
}

// look finds what of each block differs, and remembers the page as it is now.
func (g *Page) look() {
	t := &g.now
	g.parts = g.parts[:0]
	const in = Block / cell
	for y := 0; y < t.down; y += in {
		for x := 0; x < t.across; x += in {
			var part image.Rectangle
			for i := range in * in {
				if at := image.Pt(x+i%in, y+i/in); at.X < t.across && at.Y < t.down {
					if k := at.Y*t.across + at.X; g.before == nil || g.before[k] != t.cells[k] {
						part = part.Union(image.Rectangle{Min: at, Max: at.Add(image.Pt(1, 1))})
					}
				}
			}
			if !part.Empty() {
				g.parts = append(g.parts, image.Rectangle{Min: part.Min.Mul(cell), Max: part.Max.Mul(cell)}.Intersect(t.within))
			}
		}
	}
	g.before, t.cells = t.cells, g.before
}

// A tally has for each cell of a page a number that stands for all that is painted in it,
// in its order: two pages have the same number where the same is painted, and but for once
// in 2^64 there alone.
type tally struct {
	seed         maphash.Seed // numbers are compared with those of the same tally alone
	list         *display.List
	across, down int // cells
	cells        []uint64
	within       image.Rectangle // of the page, that the clips leave
}

// What stands for the beginnings of the two of a pair, and for the end of any bracket.
const (
	endMark uint64 = iota
	firstMark
	secondMark
)

// take tallies a list.
func (t *tally) take(l *display.List, page image.Rectangle) {
	if t.seed == (maphash.Seed{}) {
		t.seed = maphash.MakeSeed()
	}
	t.list, t.within = l, page
	t.across, t.down = (page.Dx()+cell-1)/cell, (page.Dy()+cell-1)/cell
	t.cells = resized(t.cells, t.across*t.down)
	ground := maphash.Comparable(t.seed, l.Ground)
	for i := range t.cells {
		t.cells[i] = ground
	}
	l.Paint(l.All(), t)
	t.list = nil
}

// add notes something in all cells that a box reaches.
func (t *tally) add(box image.Rectangle, what uint64) {
	r := box.Intersect(t.within)
	if r.Empty() {
		return
	}
	for y := r.Min.Y / cell; y <= (r.Max.Y-1)/cell; y++ {
		row := t.cells[y*t.across:][:t.across]
		for x := r.Min.X / cell; x <= (r.Max.X-1)/cell; x++ {
			row[x] = maphash.Comparable(t.seed, [2]uint64{row[x], what})
		}
	}
}

// addRibbon notes something in all cells that a ribbon reaches, section by section: a string
// that runs aslant fills little of its box.
func (t *tally) addRibbon(r *display.Ribbon, what uint64) {
	for i := 1; i < len(r.Points); i++ {
		t.add(ribbonBox(r.Points[i-1:i+1]), what)
	}
}

func (t *tally) Path(q *display.Path) { t.add(pathBox(q), t.pathSum(q)) }

func (t *tally) Ribbon(r *display.Ribbon) { t.addRibbon(r, t.ribbonSum(r)) }

func (t *tally) Ball(b *display.Ball) { t.add(ballBox(b), maphash.Comparable(t.seed, *b)) }

func (t *tally) Text(x *display.Text) { t.add(textBox(x), t.textSum(x)) }

func (t *tally) Clip(c *display.Clip, inside display.Span) {
	within := t.within
	t.within = within.Intersect(pointsBox(c.Outline.Points, 0))
	t.bracket(t.outlineSum(&c.Outline), inside, func() { t.list.Paint(inside, t) })
	t.within = within
}

func (t *tally) Group(g *display.Group, inside display.Span) {
	t.bracket(maphash.Comparable(t.seed, *g), inside, func() { t.list.Paint(inside, t) })
}

func (t *tally) Even(g *display.Group, ground, pairs display.Span) {
	t.bracket(maphash.Comparable(t.seed, *g), display.Span{From: ground.From, To: max(ground.To, pairs.To)}, func() {
		t.list.Paint(ground, t)
		for first, second := range t.list.Pairs(pairs) {
			t.bracket(firstMark, first, func() { t.list.Paint(first, t) })
			t.bracket(secondMark, second, func() { t.list.Paint(second, t) })
		}
	})
}

// bracket notes what is inside between marks of its beginning and its end, in all cells that
// something inside reaches: no others look different for it.
func (t *tally) bracket(what uint64, inside display.Span, note func()) {
	t.mark(inside, what)
	note()
	t.mark(inside, endMark)
}

// mark notes something wherever one of the shapes of a span is.
func (t *tally) mark(s display.Span, what uint64) {
	l := t.list
	for _, op := range l.Ops[s.From:s.To] {
		switch op.Kind {
		case display.KindPath:
			t.add(pathBox(&l.Paths[op.Index]), what)
		case display.KindRibbon:
			t.addRibbon(&l.Ribbons[op.Index], what)
		case display.KindBall:
			t.add(ballBox(&l.Balls[op.Index]), what)
		case display.KindText:
			t.add(textBox(&l.Texts[op.Index]), what)
		}
	}
}

// The sums of shapes: numbers that stand for all that there is to say of one.

func (t *tally) pathSum(q *display.Path) uint64 {
	var h maphash.Hash
	h.SetSeed(t.seed)
	writeOutline(&h, &q.Outline)
	maphash.WriteComparable(&h, q.Paint)
	maphash.WriteComparable(&h, [2]float64{q.Stroke, q.Dash})
	return h.Sum64()
}

func (t *tally) outlineSum(o *display.Outline) uint64 {
	var h maphash.Hash
	h.SetSeed(t.seed)
	writeOutline(&h, o)
	return h.Sum64()
}

func (t *tally) ribbonSum(r *display.Ribbon) uint64 {
	var h maphash.Hash
	h.SetSeed(t.seed)
	for i := range r.Points {
		maphash.WriteComparable(&h, r.Points[i])
	}
	maphash.WriteComparable(&h, [2]display.Colour{r.Colour, r.Shade})
	maphash.WriteComparable(&h, r.TwistDepth)
	return h.Sum64()
}

func (t *tally) textSum(x *display.Text) uint64 {
	var h maphash.Hash
	h.SetSeed(t.seed)
	for i := range x.Glyphs {
		maphash.WriteComparable(&h, x.Glyphs[i])
	}
	maphash.WriteComparable(&h, x.Face)
	maphash.WriteComparable(&h, x.Size)
	maphash.WriteComparable(&h, x.Colour)
	return h.Sum64()
}

func writeOutline(h *maphash.Hash, o *display.Outline) {
	for _, v := range o.Verbs {
		maphash.WriteComparable(h, v)
	}
	for i := range o.Points {
		maphash.WriteComparable(h, o.Points[i])
	}
	maphash.WriteComparable(h, o.EvenOdd)
}
