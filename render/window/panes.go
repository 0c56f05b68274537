package window

import (
	"image"

	"github.com/hajimehoshi/ebiten/v2"

	"twincord/render/raster"
)

// pane is the side of the images that a page is shown from, but at its right and lower edge.
// Ebitengine makes each side of an image a power of two: a page of 3840 × 2160 in one image
// takes 67 MB of a computer without memory of its own for pictures, in panes 34.
const pane = 2 * raster.Block

// panes are a page as it is shown.
type panes struct {
	size   image.Point
	across int
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
	p.images, p.size, p.across = p.images[:0], size, (size.X+pane-1)/pane
	for y := 0; y < size.Y; y += pane {
		for x := 0; x < size.X; x += pane {
			r := image.Rect(x, y, x+pane, y+pane).Intersect(image.Rectangle{Max: size})
			p.images = append(p.images, ebiten.NewImageWithOptions(r, &ebiten.NewImageOptions{Unmanaged: true}))
		}
	}
}

// put takes over a part of the page, which lies in one pane.
func (p *panes) put(part *image.RGBA) {
	at := part.Rect.Min
	p.images[at.Y/pane*p.across+at.X/pane].SubImage(part.Rect).(*ebiten.Image).WritePixels(part.Pix)
}

// show draws the panes pixel by pixel.
func (p *panes) show(screen ebiten.FinalScreen) {
	for _, i := range p.images {
		o := ebiten.DrawImageOptions{Blend: ebiten.BlendCopy}
		o.GeoM.Translate(float64(i.Bounds().Min.X), float64(i.Bounds().Min.Y))
		screen.DrawImage(i, &o)
	}
}
