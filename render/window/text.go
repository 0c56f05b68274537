package window

import (
	"hash/maphash"
	"image"
	"image/draw"
	"math"

	"github.com/hajimehoshi/ebiten/v2"
	"golang.org/x/image/vector"

	"twincord/render/display"
	"twincord/render/lettering"
)

// atlas holds the coverage of glyphs, and of areas that no mesh can do, as they
// were rasterised once.
type atlas struct {
	image  *ebiten.Image
	places map[any]stamp
	x, y   int // where the next one goes
	row    int // height of the row of stamps
	pix    []byte
	raster vector.Rasterizer
}

const atlasSide = 1024

// stamp is where a coverage stands in the atlas, and where that is from the
// origin of what it covers.
type stamp struct {
	at   image.Rectangle
	from image.Point
	own  *ebiten.Image // what is too large for the atlas has an image of its own
}

// glyphKey is a glyph of a size at a place within the pixel, in quarters.
type glyphKey struct {
	face display.Face
	id   uint32
	size float32
	x, y uint8
}

const quarters = 4

// text draws a run of glyphs out of the atlas.
func (p *painter) text(t *display.Text) {
	colour := premultiplied(t.Colour)
	for _, g := range t.Glyphs {
		x, fx := quarter(g.At.X)
		y, fy := quarter(g.At.Y)
		key := glyphKey{t.Face, g.ID, float32(t.Size), fx, fy}
		s, ok := p.atlas.places[key]
		if !ok {
			o := lettering.Outline(t.Face, g.ID)
			s = p.stamp(key, &o, t.Size, float64(fx)/quarters, float64(fy)/quarters)
		}
		p.stampOn(s, x, y, colour)
	}
}

// quarter parts a coordinate into whole pixels and quarters.
func quarter(v float64) (int, uint8) {
	q := int(math.Round(v * quarters))
	whole := q >> 2
	return whole, uint8(q - whole<<2)
}

// stampOn adds a coverage out of the atlas, its origin at (x, y), to the flat
// mesh.
func (p *painter) stampOn(s stamp, x, y int, c [4]float32) {
	if s.at.Empty() {
		return
	}
	v := ebiten.Vertex{ColorR: c[0], ColorG: c[1], ColorB: c[2], ColorA: c[3], Custom2: 1}
	at := func(ax, ay int) uint32 {
		v.SrcX, v.SrcY = float32(ax), float32(ay)
		v.DstX = float32(ax - s.at.Min.X + s.from.X + x)
		v.DstY = float32(ay - s.at.Min.Y + s.from.Y + y)
		return p.mesh.add(v)
	}
	r := s.at
	if s.own != nil {
		p.flush()
	}
	p.mesh.quad(at(r.Min.X, r.Min.Y), at(r.Max.X, r.Min.Y), at(r.Min.X, r.Max.Y), at(r.Max.X, r.Max.Y))
	if s.own != nil {
		p.draw(&p.mesh, p.flat, s.own, nil)
		p.mesh.reset()
	}
}

// fillMasked paints an area through a coverage that is kept for as long as the
// area keeps its shape and its place within the pixel.
func (p *painter) fillMasked(o *display.Outline, paint *display.Paint) {
	b := bounds(o.Points)
	x, y := math.Floor(b.X), math.Floor(b.Y)
	key := p.atlas.hash(o, x, y)
	s, ok := p.atlas.places[key]
	if !ok {
		s = p.stamp(key, o, 1, -x, -y)
	}
	p.stampOn(s, int(x), int(y), premultiplied(paint.From))
}

// outlineKey tells an outline about an origin from others.
type outlineKey uint64

var seed = maphash.MakeSeed()

func (a *atlas) hash(o *display.Outline, x, y float64) outlineKey {
	var h maphash.Hash
	h.SetSeed(seed)
	for _, v := range o.Verbs {
		h.WriteByte(byte(v))
	}
	for _, q := range o.Points {
		maphash.WriteComparable(&h, display.Point{X: q.X - x, Y: q.Y - y})
	}
	return outlineKey(h.Sum64())
}

// stamp rasterises an outline, scaled and then moved, into the atlas.
func (p *painter) stamp(key any, o *display.Outline, scale, dx, dy float64) stamp {
	a := &p.atlas
	if len(o.Points) == 0 {
		a.places[key] = stamp{}
		return stamp{}
	}
	at := func(q display.Point) (float64, float64) { return q.X*scale + dx, q.Y*scale + dy }
	b := bounds(o.Points)
	x0, y0 := at(display.Point{X: b.X, Y: b.Y})
	x1, y1 := at(display.Point{X: b.X + b.W, Y: b.Y + b.H})
	r := image.Rect(int(math.Floor(x0)), int(math.Floor(y0)), int(math.Ceil(x1)), int(math.Ceil(y1)))
	w, h := r.Dx(), r.Dy()
	a.raster.Reset(w, h)
	a.raster.DrawOp = draw.Src
	point := func(q display.Point) (float32, float32) {
		x, y := at(q)
		return float32(x - float64(r.Min.X)), float32(y - float64(r.Min.Y))
	}
	q := o.Points
	for _, v := range o.Verbs {
		switch v {
		case display.MoveTo:
			x, y := point(q[0])
			a.raster.MoveTo(x, y)
			q = q[1:]
		case display.LineTo:
			x, y := point(q[0])
			a.raster.LineTo(x, y)
			q = q[1:]
		case display.QuadTo:
			bx, by := point(q[0])
			cx, cy := point(q[1])
			a.raster.QuadTo(bx, by, cx, cy)
			q = q[2:]
		case display.CubicTo:
			bx, by := point(q[0])
			cx, cy := point(q[1])
			ex, ey := point(q[2])
			a.raster.CubeTo(bx, by, cx, cy, ex, ey)
			q = q[3:]
		case display.Close:
			a.raster.ClosePath()
		}
	}
	alpha := image.NewAlpha(image.Rect(0, 0, w, h))
	a.raster.Draw(alpha, alpha.Rect, image.Opaque, image.Point{})

	a.pix = a.pix[:0]
	for _, c := range alpha.Pix {
		a.pix = append(a.pix, c, c, c, c)
	}
	s := stamp{from: r.Min}
	if w > atlasSide || h > atlasSide {
		s.at = image.Rect(0, 0, w, h)
		s.own = ebiten.NewImageWithOptions(s.at, &ebiten.NewImageOptions{Unmanaged: true})
		s.own.WritePixels(a.pix)
	} else {
		s.at = p.room(w, h)
		a.image.SubImage(s.at).(*ebiten.Image).WritePixels(a.pix)
	}
	a.places[key] = s
	return s
}

// room finds w × h pixels in the atlas. When it is full everything is forgotten,
// after what was collected with it has been drawn.
func (p *painter) room(w, h int) image.Rectangle {
	a := &p.atlas
	if a.image == nil {
		a.image = ebiten.NewImageWithOptions(image.Rect(0, 0, atlasSide, atlasSide), &ebiten.NewImageOptions{Unmanaged: true})
	}
	if a.x+w > atlasSide {
		a.x, a.y, a.row = 0, a.y+a.row+1, 0
	}
	if a.y+h > atlasSide {
		p.flush()
		for _, s := range a.places {
			if s.own != nil {
				s.own.Deallocate()
			}
		}
		clear(a.places)
		a.x, a.y, a.row = 0, 0, 0
	}
	spot := image.Rect(a.x, a.y, a.x+w, a.y+h)
	a.x += w + 1
	a.row = max(a.row, h)
	return spot
}
