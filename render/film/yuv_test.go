package film

import (
	"image"
	"image/color"
	"image/draw"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The colour bars of 100 % in 8 bits, as ITU-R BT.709 gives them by its equations
// E′Y = 0.2126 R + 0.7152 G + 0.0722 B, E′CB = (B − E′Y)/1.8556, E′CR = (R − E′Y)/1.5748
// and its quantization 219 E′Y + 16, 224 E′C + 128.
func TestPlanesAreThoseOfHDTV(t *testing.T) {
	for _, c := range []struct{ r, g, b, y, cb, cr int }{
		{255, 255, 255, 235, 128, 128},
		{0, 0, 0, 16, 128, 128},
		{255, 255, 0, 219, 16, 138},
		{0, 255, 255, 188, 154, 16},
		{0, 255, 0, 173, 42, 26},
		{255, 0, 255, 78, 214, 230},
		{255, 0, 0, 63, 102, 240},
		{0, 0, 255, 32, 240, 118},
		{128, 128, 128, 126, 128, 128},
	} {
		img := image.NewRGBA(image.Rect(0, 0, 4, 2))
		for x := range 4 {
			for y := range 2 {
				img.Set(x, y, color.RGBA{byte(c.r), byte(c.g), byte(c.b), 255})
			}
		}
		planes := planes420(img)
		require.Len(t, planes, 8+2+2)
		assert.Equal(t, []byte{byte(c.y), byte(c.cb), byte(c.cr)}, []byte{planes[0], planes[8], planes[10]}, "%+v", c)
		assert.Equal(t, planes[0], planes[7])
	}
}

// The colour of four pixels is their mean, each brightness its own.
func TestPlanesShareColours(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 4, 2))
	img.Set(2, 0, color.RGBA{255, 255, 255, 255})
	img.Set(3, 1, color.RGBA{255, 0, 0, 255})
	planes := planes420(img)
	assert.Equal(t, []byte{16, 16, 235, 16, 16, 16, 16, 63}, planes[:8])
	assert.Equal(t, []byte{128, 122}, planes[8:10], "a quarter of −26")
	assert.Equal(t, []byte{128, 156}, planes[10:], "a quarter of 112")
}

// Pixels beside others that are like them, above, below or both, are as they are alone.
func TestPlanesOfPixelsAreThoseOfEachAlone(t *testing.T) {
	colours := []color.RGBA{{200, 10, 30, 255}, {200, 10, 30, 255}, {20, 60, 90, 255}}
	random := rand.New(rand.NewPCG(1, 2))
	img := image.NewRGBA(image.Rect(0, 0, 32, 16))
	for y := range 16 {
		for x := range 32 {
			img.Set(x, y, colours[random.IntN(len(colours))])
		}
	}
	planes := planes420(img)
	for y := 0; y < 16; y += 2 {
		for x := 0; x < 32; x += 2 {
			four := image.NewRGBA(image.Rect(0, 0, 2, 2))
			draw.Draw(four, four.Rect, img, image.Pt(x, y), draw.Src)
			alone := planes420(four)
			luma, c := planes[y*32+x:], 32*16+y/2*16+x/2
			assert.Equal(t, alone, []byte{luma[0], luma[1], luma[32], luma[33], planes[c], planes[c+32*16/4]}, "%d, %d", x, y)
		}
	}
}
