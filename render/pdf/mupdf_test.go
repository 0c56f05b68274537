//go:build pages

package pdf_test

import (
	"image"
	"image/color"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/vector/vectortest"
)

// MuPDF, which many readers on telephones are made of, paints what the pixels are, edges
// too.
func TestMuPDFAgreesWithThePixels(t *testing.T) {
	agree(t, vectortest.Printed(), func(t *testing.T, file string) image.Image { return vectortest.MuPDF(t, file, "96") })
}

// In one bit the strings are there from end to end: round every place of one that can be
// seen at all, more is black than at the wall.
func TestTheStringsSurviveOneBit(t *testing.T) {
	const w, h = 640, 400
	for _, name := range []string{"near", "middle", "too far"} {
		var l display.List
		vectortest.Printed()[name](&l, w, h)
		require.NotEmpty(t, l.Ribbons, name)
		file := vectortest.Saved(t, "page.pdf", func(f *os.File) error { return write(f, &l) })
		img := vectortest.OneBit(t, file, "300")
		const scale = 300 / 96. // dots to the pixel
		dark := func(x, y float64) float64 {
			const reach = 6 // dots
			black, all := 0., 0.
			for v := int(y) - reach; v <= int(y)+reach; v++ {
				for u := int(x) - reach; u <= int(x)+reach; u++ {
					if !image.Pt(u, v).In(img.Bounds()) {
						continue
					}
					if all++; color.GrayModel.Convert(img.At(u, v)).(color.Gray).Y < 128 {
						black++
					}
				}
			}
			return black / math.Max(1, all)
		}
		wall := dark(0.03*w*scale, 0.5*h*scale)
		require.Less(t, wall, 0.15, name)
		for i := range l.Ribbons {
			r := &l.Ribbons[i]
			require.NotEmpty(t, r.Points, name)
			for _, p := range r.Points {
				if p.At.X < 0.1*w || p.At.X > 0.9*w || p.At.Y < 0.05*h || p.At.Y > 0.9*h || p.Opacity < 0.5 || p.Half < 1 {
					continue
				}
				assert.Greater(t, dark(p.At.X*scale, p.At.Y*scale), wall+0.1, "%s: ribbon %d at %.0f, %.0f", name, i, p.At.X, p.At.Y)
			}
		}
	}
}
