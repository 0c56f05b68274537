package film_test

import (
	"bytes"
	"errors"
	"image"
	"image/png"
	"io"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"twincord/render/film"
)

func noise(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	r := rand.New(rand.NewPCG(1, 2))
	for i := range img.Pix {
		img.Pix[i] = byte(r.IntN(256))
		if i%4 == 3 {
			img.Pix[i] = 255
		}
	}
	return img
}

func TestWritePNGIsReadBackByTheStandardLibrary(t *testing.T) {
	for _, size := range []image.Point{{1, 1}, {1, 7}, {7, 1}, {33, 17}, {640, 361}} {
		img := noise(size.X, size.Y)
		var b bytes.Buffer
		require.NoError(t, film.WritePNG(&b, img))
		back, err := png.Decode(&b)
		require.NoError(t, err)
		require.Equal(t, img.Rect, back.Bounds())
		for y := range size.Y {
			for x := range size.X {
				require.Equal(t, img.RGBAAt(x, y), img.ColorModel().Convert(back.At(x, y)), "at %d, %d", x, y)
			}
		}
	}
}

func TestWritePNGTakesAPartOfALargerPicture(t *testing.T) {
	whole := noise(40, 30)
	part := whole.SubImage(image.Rect(5, 6, 25, 19)).(*image.RGBA)
	var b bytes.Buffer
	require.NoError(t, film.WritePNG(&b, part))
	back, err := png.Decode(&b)
	require.NoError(t, err)
	require.Equal(t, part.Bounds().Size(), back.Bounds().Size())
	require.Equal(t, part.RGBAAt(11, 12), part.ColorModel().Convert(back.At(6, 6)))
}

func TestWritePNGRefusesAPictureWithoutPixels(t *testing.T) {
	for _, r := range []image.Rectangle{{}, image.Rect(0, 0, 5, 0), image.Rect(0, 0, 0, 5)} {
		var b bytes.Buffer
		require.ErrorContains(t, film.WritePNG(&b, image.NewRGBA(r)), "at least 1 × 1")
		require.Zero(t, b.Len())
	}
}

// full is a writer that takes only so many bytes.
type full struct{ room int }

var errFull = errors.New("full")

func (f *full) Write(b []byte) (int, error) {
	if len(b) > f.room {
		return 0, errFull
	}
	f.room -= len(b)
	return len(b), nil
}

func TestWritePNGReportsAFullDisk(t *testing.T) {
	img := noise(300, 200)
	for _, room := range []int{0, 1 << 16, 1 << 17} {
		require.ErrorIs(t, film.WritePNG(&full{room}, img), errFull)
	}
}

func BenchmarkWritePNG(b *testing.B) {
	// A slow gradient under a fixed pattern, as the ground of a picture is.
	img := image.NewRGBA(image.Rect(0, 0, 1920, 1080))
	for y := range 1080 {
		for x := range 1920 {
			v := byte(44 + (x+y)/300 + (x^y)&1)
			copy(img.Pix[img.PixOffset(x, y):], []byte{v, v, v, 255})
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := film.WritePNG(io.Discard, img); err != nil {
			b.Fatal(err)
		}
	}
}
