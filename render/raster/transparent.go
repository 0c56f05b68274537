package raster

import (
	"image"
	"image/color"
	"math"

	"twincord/render/display"
)

// Transparent is the page of a list without its ground: what nothing is painted on is seen
// through. A Painter knows opaque pages alone; so it is painted on black and on white, which
// differ by what shows through.
func Transparent(l *display.List) *image.NRGBA {
	size := image.Rect(0, 0, int(math.Ceil(l.W)), int(math.Ceil(l.H)))
	on := func(ground display.Colour) *image.RGBA {
		page := *l
		page.Ground = ground
		img := image.NewRGBA(size)
		new(Painter).Paint(&page, img)
		return img
	}
	black := on(display.Colour{A: 1})
	white := on(display.Colour{R: 1, G: 1, B: 1, A: 1})
	img := image.NewNRGBA(size)
	for y := range size.Max.Y {
		for x := range size.Max.X {
			b, w := black.RGBAAt(x, y), white.RGBAAt(x, y)
			through := max(int(w.G)-int(b.G), 0)
			// What is on black is already the part of it that does not show through.
			img.Set(x, y, color.RGBA{b.R, b.G, b.B, uint8(255 - through)})
		}
	}
	return img
}
