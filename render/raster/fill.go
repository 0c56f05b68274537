package raster

import (
	"cmp"
	"image"
	"math"
	"slices"

	"twincord/render/display"
)

// reach is the farthest coordinate that is painted, pixels.
const reach = 1e9

func finite(v ...float64) bool {
	for _, v := range v {
		if !(math.Abs(v) <= reach) {
			return false
		}
	}
	return true
}

func finiteOutline(o *display.Outline) bool {
	for _, q := range o.Points {
		if !finite(q.X, q.Y) {
			return false
		}
	}
	return true
}

// A polyline is an outline with its curves made into chords.
type polyline struct {
	points []display.Point
	ends   []int  // of each contour, in points
	closed []bool // each contour
}

// flatness is how far a chord may lie from its curve, pixels.
const flatness = 0.05

// flatten makes the outline, scaled and then moved, a polyline.
func (l *polyline) flatten(o *display.Outline, scale float64, move display.Point) {
	l.points, l.ends, l.closed = l.points[:0], l.ends[:0], l.closed[:0]
	at := func(q display.Point) display.Point {
		return display.Point{X: q.X*scale + move.X, Y: q.Y*scale + move.Y}
	}
	begin := 0
	end := func(closed bool) {
		if len(l.points) > begin {
			l.ends = append(l.ends, len(l.points))
			l.closed = append(l.closed, closed)
			begin = len(l.points)
		}
	}
	var start, pen display.Point
	need := [...]int{display.MoveTo: 1, display.LineTo: 1, display.QuadTo: 2, display.CubicTo: 3, display.Close: 0}
	q := o.Points
	for _, v := range o.Verbs {
		if int(v) >= len(need) || need[v] > len(q) {
			break
		}
		if v != display.MoveTo && v != display.Close && len(l.points) == begin {
			l.points = append(l.points, start)
			pen = start
		}
		switch v {
		case display.MoveTo:
			end(false)
			start = at(q[0])
			pen = start
			l.points = append(l.points, pen)
		case display.LineTo:
			pen = at(q[0])
			l.points = append(l.points, pen)
		case display.QuadTo:
			c, d := at(q[0]), at(q[1])
			third := func(a, b float64) float64 { return a + (b-a)*2/3 }
			l.cubic(pen,
				display.Point{X: third(pen.X, c.X), Y: third(pen.Y, c.Y)},
				display.Point{X: third(d.X, c.X), Y: third(d.Y, c.Y)}, d)
			pen = d
		case display.CubicTo:
			d := at(q[2])
			l.cubic(pen, at(q[0]), at(q[1]), d)
			pen = d
		case display.Close:
			end(true)
			pen = start
		}
		q = q[need[v]:]
	}
	end(false)
}

// cubic adds the chords of a cubic Bézier curve. A chord over 1/n of it lies within
// (6/8)·m/n² of the curve, m its larger second difference.
func (l *polyline) cubic(a, b, c, d display.Point) {
	m := max(math.Hypot(a.X-2*b.X+c.X, a.Y-2*b.Y+c.Y), math.Hypot(b.X-2*c.X+d.X, b.Y-2*c.Y+d.Y))
	n := int(math.Ceil(math.Sqrt(min(0.75*m/flatness, 1<<16))))
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		s := 1 - t
		k0, k1, k2, k3 := s*s*s, 3*s*s*t, 3*s*t*t, t*t*t
		l.points = append(l.points, display.Point{
			X: k0*a.X + k1*b.X + k2*c.X + k3*d.X,
			Y: k0*a.Y + k1*b.Y + k2*c.Y + k3*d.Y,
		})
	}
	l.points = append(l.points, d)
}

// An edge is a side of an area, from its upper end down.
type edge struct {
	x, slope float64 // at y0, and along y
	y0, y1   float64
	wind     float64 // 1 down, −1 up
}

// thinnest is the least height of an edge that counts, pixels.
const thinnest = 1e-9

// A filler turns a polyline into the coverage of its area, a row at a time. Each edge
// adds its exact share of every pixel, so a coverage is exact where edges of one
// pixel do not overlap.
type filler struct {
	edges   []edge
	next    int   // first edge that has not begun
	active  []int // edges in the row
	area    []float64
	evenOdd bool
	bounds  image.Rectangle
}

// begin sets the area out, within clip; false if there is nothing of it.
func (f *filler) begin(l *polyline, evenOdd bool, clip image.Rectangle) bool {
	f.edges, f.active, f.next = f.edges[:0], f.active[:0], 0
	f.evenOdd = evenOdd
	left, right := math.Inf(1), math.Inf(-1)
	top, bottom := float64(clip.Min.Y), float64(clip.Max.Y)
	highest, lowest := bottom, top
	begin := 0
	for _, end := range l.ends {
		a := l.points[end-1]
		for _, b := range l.points[begin:end] {
			p, q, wind := a, b, 1.0
			a = b
			if p.Y > q.Y {
				p, q, wind = q, p, -1
			}
			left, right = min(left, p.X, q.X), max(right, p.X, q.X)
			if q.Y-p.Y < thinnest || q.Y <= top || p.Y >= bottom {
				continue
			}
			e := edge{x: p.X, slope: (q.X - p.X) / (q.Y - p.Y), y0: p.Y, y1: min(q.Y, bottom), wind: wind}
			if e.y0 < top {
				e.x += (top - e.y0) * e.slope
				e.y0 = top
			}
			highest, lowest = min(highest, e.y0), max(lowest, e.y1)
			f.edges = append(f.edges, e)
		}
		begin = end
	}
	x0 := math.Max(math.Floor(left), float64(clip.Min.X))
	x1 := math.Min(math.Ceil(right), float64(clip.Max.X))
	if len(f.edges) == 0 || x0 >= x1 {
		return false
	}
	f.bounds = image.Rect(int(x0), int(math.Floor(highest)), int(x1), int(math.Ceil(lowest)))
	slices.SortFunc(f.edges, func(a, b edge) int { return cmp.Compare(a.y0, b.y0) })
	f.area = resized(f.area, f.bounds.Dx()+2)
	clear(f.area)
	return true
}

// row writes the coverage of row y into cov, by x, and returns where it is not 0. Rows
// are taken from the top of bounds down.
func (f *filler) row(y int, cov []uint16) (x0, x1 int) {
	top, bottom := float64(y), float64(y+1)
	for f.next < len(f.edges) && f.edges[f.next].y0 < bottom {
		f.active = append(f.active, f.next)
		f.next++
	}
	lo, hi := len(f.area), 0
	kept := f.active[:0]
	for _, i := range f.active {
		e := &f.edges[i]
		if e.y1 <= top {
			continue
		}
		kept = append(kept, i)
		a, b := max(e.y0, top), min(e.y1, bottom)
		from, to := f.add(e.x+(a-e.y0)*e.slope, e.x+(b-e.y0)*e.slope, (b-a)*e.wind)
		lo, hi = min(lo, from), max(hi, to)
	}
	f.active = kept
	if lo >= hi {
		return 0, 0
	}
	width := f.bounds.Dx()
	out := cov[f.bounds.Min.X:f.bounds.Max.X]
	sum := 0.0
	for i := lo; i < min(hi, width); i++ {
		sum += f.area[i]
		out[i] = f.covered(sum)
	}
	clear(f.area[lo:min(hi, len(f.area))])
	if hi < width {
		if rest := f.covered(sum); rest > 0 {
			for i := hi; i < width; i++ {
				out[i] = rest
			}
			hi = width
		}
	}
	return f.bounds.Min.X + lo, f.bounds.Min.X + min(hi, width)
}

func (f *filler) covered(winding float64) uint16 {
	winding = math.Abs(winding)
	if f.evenOdd {
		winding = math.Abs(winding - 2*math.Round(winding/2))
	}
	return uint16(min(winding, 1)*one + 0.5)
}

// add spreads the part of an edge in one row, from xa to xb, dy high, over the
// running sums of area, and returns the cells that it changed.
func (f *filler) add(xa, xb, dy float64) (from, to int) {
	if xa > xb {
		xa, xb = xb, xa
	}
	width := float64(f.bounds.Dx())
	xa -= float64(f.bounds.Min.X)
	xb -= float64(f.bounds.Min.X)
	if xa >= width {
		return len(f.area), 0
	}
	if xb <= 0 {
		f.area[0] += dy
		return 0, 1
	}
	lo := len(f.area)
	if xa < 0 {
		outside := dy * -xa / (xb - xa)
		f.area[0] += outside
		xa, dy, lo = 0, dy-outside, 0
	}
	if xb > width {
		dy *= (width - xa) / (xb - xa)
		xb = width
	}
	i, j := int(xa), int(xb)
	if i == j {
		m := dy * ((xa+xb)/2 - float64(i))
		f.area[i] += dy - m
		f.area[i+1] += m
		return min(lo, i), i + 2
	}
	// What an edge covers of a cell and all to its right: a triangle of the first
	// cell, evenly more in those between, all but a triangle in the last.
	slope := dy / (xb - xa)
	first := float64(i+1) - xa
	before := slope * first * first / 2
	f.area[i] += before
	for c := i + 1; c < j; c++ {
		now := slope * (float64(c) + 0.5 - xa)
		f.area[c] += now - before
		before = now
	}
	last := xb - float64(j)
	now := dy - slope*last*last/2
	f.area[j] += now - before
	f.area[j+1] += dy - now
	return min(lo, i), j + 2
}

// path paints a filled area or a stroke.
func (p *Painter) path(q *display.Path) {
	if !finiteOutline(&q.Outline) || !finite(q.Stroke, q.Dash) {
		return
	}
	var s shader
	if !s.begin(&q.Paint) {
		return
	}
	if q.Stroke > 0 {
		p.stroke(q, &s)
		return
	}
	if r, ok := pixelRect(&q.Outline); ok {
		p.rect(r.Intersect(p.clip), &s)
		return
	}
	p.lines.flatten(&q.Outline, 1, display.Point{})
	p.area(q.Outline.EvenOdd, &s)
}

// area paints what is inside p.lines.
func (p *Painter) area(evenOdd bool, s *shader) {
	if !p.fill.begin(&p.lines, evenOdd, p.clip) {
		return
	}
	for y := p.fill.bounds.Min.Y; y < p.fill.bounds.Max.Y; y++ {
		if x0, x1 := p.fill.row(y, p.cov); x0 < x1 {
			p.shade(y, x0, x1, s)
		}
	}
}

// shade blends a paint by the coverage of a row.
func (p *Painter) shade(y, x0, x1 int, s *shader) {
	s.row(y, x0, p.inks[x0:x1], p.cov[x0:x1])
	p.emitRow(y, x0, x1, s.round(y))
}

// rect paints a rectangle of whole pixels.
func (p *Painter) rect(r image.Rectangle, s *shader) {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		if !s.opaque || p.mask != nil {
			for x := r.Min.X; x < r.Max.X; x++ {
				p.cov[x] = one
			}
			p.shade(y, r.Min.X, r.Max.X, s)
			continue
		}
		s.row(y, r.Min.X, p.inks[r.Min.X:r.Max.X], p.cov[r.Min.X:r.Max.X])
		for a, b := p.run(y, r.Min.X, r.Max.X); a < b; a, b = p.run(y, b, r.Max.X) {
			storeRow(p.target.touch(y, a, b), p.inks[a:b], s.round(y), a)
		}
	}
}

// pixelRect says whether the outline is one rectangle along the edges of pixels, and
// which.
func pixelRect(o *display.Outline) (image.Rectangle, bool) {
	n := len(o.Verbs)
	if n > 0 && o.Verbs[n-1] == display.Close {
		n--
	}
	if n != 4 || len(o.Points) != 4 || o.Verbs[0] != display.MoveTo {
		return image.Rectangle{}, false
	}
	for i, q := range o.Points {
		if i > 0 && o.Verbs[i] != display.LineTo || !whole(q.X) || !whole(q.Y) {
			return image.Rectangle{}, false
		}
	}
	a, b, c, d := o.Points[0], o.Points[1], o.Points[2], o.Points[3]
	if !(a.X == d.X && b.X == c.X && a.Y == b.Y && c.Y == d.Y) &&
		!(a.X == b.X && c.X == d.X && a.Y == d.Y && b.Y == c.Y) {
		return image.Rectangle{}, false
	}
	return image.Rect(int(a.X), int(a.Y), int(c.X), int(c.Y)), true
}

func whole(v float64) bool { return v == math.Trunc(v) }

// A mask is coverages: what clips let through, or a glyph.
type mask struct {
	bounds image.Rectangle
	cov    []uint16
}

// draw makes the mask what is inside an area; line has room for a row of it.
func (m *mask) draw(f *filler, line []uint16) {
	m.bounds = f.bounds
	for y := m.bounds.Min.Y; y < m.bounds.Max.Y; y++ {
		x0, x1 := f.row(y, line)
		clear(m.row(y, m.bounds.Min.X, m.bounds.Max.X))
		if x0 < x1 {
			copy(m.row(y, x0, x1), line[x0:x1])
		}
	}
}

func (m *mask) row(y, x0, x1 int) []uint16 {
	o := (y-m.bounds.Min.Y)*m.bounds.Dx() - m.bounds.Min.X
	return m.cov[o+x0 : o+x1]
}

func (m mask) moved(by image.Point) mask {
	m.bounds = m.bounds.Add(by)
	return m
}

// apply takes from the coverages of a row from x on what the mask hides. The row lies in
// the mask's bounds.
func (m *mask) apply(cov []uint16, y, x int) {
	for i, a := range m.row(y, x, x+len(cov)) {
		if a != one {
			cov[i] = uint16(uint32(cov[i]) * uint32(a) >> 15)
		}
	}
}

// clipped paints a span inside the outline of a clip only.
func (p *Painter) clipped(c *display.Clip, inside display.Span) {
	if !finiteOutline(&c.Outline) {
		return
	}
	clip, above := p.clip, p.mask
	if r, ok := pixelRect(&c.Outline); ok {
		p.clip = clip.Intersect(r)
		if !p.clip.Empty() {
			p.paint(inside)
		}
		p.clip = clip
		return
	}
	p.lines.flatten(&c.Outline, 1, display.Point{})
	if !p.fill.begin(&p.lines, c.Outline.EvenOdd, p.extent(inside)) {
		return
	}
	m := p.masks.push()
	m.cov = resized(m.cov, p.fill.bounds.Dx()*p.fill.bounds.Dy())
	m.draw(&p.fill, p.cov)
	if above != nil {
		for y := m.bounds.Min.Y; y < m.bounds.Max.Y; y++ {
			above.apply(m.row(y, m.bounds.Min.X, m.bounds.Max.X), y, m.bounds.Min.X)
		}
	}
	p.clip, p.mask = m.bounds, m
	p.paint(inside)
	p.clip, p.mask = clip, above
	p.masks.pop()
}

// extent is a part of the clip that a span does not paint outside of: for balls, which
// are what is clipped most, no more than those touch.
func (p *Painter) extent(s display.Span) image.Rectangle {
	var all image.Rectangle
	for _, op := range p.list.Ops[s.From:s.To] {
		if op.Kind != display.KindBall {
			return p.clip
		}
		all = all.Union(ballBox(&p.list.Balls[op.Index]))
	}
	return all.Intersect(p.clip)
}
