package window

import (
	"image"
	"math/bits"
	"slices"

	"github.com/hajimehoshi/ebiten/v2"

	"twincord/render/raster"
)

// panes are a page as it is shown: few images, as each that something is written to waits until
// those before it are drawn, and each side a power of two, which Ebitengine makes it anyway. A
// page of 3840 × 2160 in one image takes 67 MB of a computer without memory of its own for
// pictures, in panes 33.
type panes struct {
	size   image.Point
	images []*ebiten.Image
}

// fit makes the panes those of a page of a size. What they show is lost where it is another.
func (p *panes) fit(size image.Point) {
	if size == p.size {
		return
	}
	for _, old := range p.images {
		old.Deallocate()
	}
	p.images, p.size = p.images[:0], size
	for _, r := range cut(size) {
		p.images = append(p.images, ebiten.NewImageWithOptions(r, &ebiten.NewImageOptions{Unmanaged: true}))
	}
}

// cut says where the panes of a page of a size are.
func cut(size image.Point) (at []image.Rectangle) {
	for y := 0; y < size.Y; y += side(size.Y - y) {
		for x := 0; x < size.X; x += side(size.X - x) {
			at = append(at, image.Rect(x, y, x+side(size.X-x), y+side(size.Y-y)))
		}
	}
	return at
}

// side is the largest that a pane can have of what is left of a page. What is less than a block
// is not cut, so that no part is in two panes.
func side(left int) int {
	if left <= raster.Block {
		return left
	}
	return 1 << (bits.Len(uint(left)) - 1)
}

// put takes over a part of the page, which lies in one pane.
func (p *panes) put(part *image.RGBA) {
	in := slices.IndexFunc(p.images, func(i *ebiten.Image) bool { return part.Rect.In(i.Bounds()) })
	p.images[in].SubImage(part.Rect).(*ebiten.Image).WritePixels(part.Pix)
}

// show draws the panes pixel by pixel.
func (p *panes) show(screen ebiten.FinalScreen) {
	for _, i := range p.images {
		o := ebiten.DrawImageOptions{Blend: ebiten.BlendCopy}
		o.GeoM.Translate(float64(i.Bounds().Min.X), float64(i.Bounds().Min.Y))
		screen.DrawImage(i, &o)
	}
}
