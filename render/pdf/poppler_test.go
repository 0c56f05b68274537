//go:build pages

package pdf_test

import (
	"image"
	"image/color"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/raster"
	"twincord/render/theme"
	"twincord/render/vector/vectortest"
)

func TestAgreesWithThePixels(t *testing.T) {
	all := vectortest.Pictures()
	for name, draw := range vectortest.Printed() {
		all["printed "+name] = draw
	}
	all["groups"] = vectortest.Groups
	agree(t, all, func(t *testing.T, file string) image.Image { return vectortest.Painted(t, file, "96") })
}

// agree says that pictures as a reader of PDF paints them are what the pixels are.
func agree(t *testing.T, all map[string]func(l *display.List, w, h float64), painted func(t *testing.T, file string) image.Image) {
	const w, h = 1280, 800
	for name, draw := range all {
		t.Run(name, func(t *testing.T) {
			var l display.List
			draw(&l, w, h)
			file := vectortest.Saved(t, "page.pdf", func(f *os.File) error { return write(f, &l) })
			want := image.NewRGBA(image.Rect(0, 0, w, h))
			raster.Paint(&l, want)
			mean, most99 := vectortest.Difference(t, want, painted(t, file))
			t.Logf("mean %.2f, 99 %% within %.0f", mean, most99)
			assert.LessOrEqual(t, mean, 1.5)
			assert.LessOrEqual(t, most99, 12.)
		})
	}
}

func TestABeadNearTheNoseAgreesWithThePixels(t *testing.T) {
	vectortest.NearTheNose(t, func(l *display.List) image.Image {
		return vectortest.Painted(t, vectortest.Saved(t, "near.pdf", func(f *os.File) error { return write(f, l) }), "96")
	})
}

// In grey, a printed picture keeps the string and the beads apart from the wall (row G4:
// 3:1 for graphics), and its beads apart from each other by their surfaces.
func TestAPrintedPictureIsSeenInGrey(t *testing.T) {
	const w, h = 960, 600
	var l display.List
	vectortest.Printed()["near"](&l, w, h)
	file := vectortest.Saved(t, "page.pdf", func(f *os.File) error { return write(f, &l) })
	img := vectortest.Painted(t, file, "96", "-gray")
	level := func(at display.Point) display.Colour {
		v := float64(color.GrayModel.Convert(img.At(int(at.X), int(at.Y))).(color.Gray).Y) / 255
		return display.Colour{R: v, G: v, B: v, A: 1}
	}
	wall := level(display.Point{X: 0.05 * w, Y: 0.3 * h})
	var banded *display.Ball // the one looked at
	for i := range l.Balls {
		if b := &l.Balls[i]; b.Surface == display.Banded {
			banded = b
		}
	}
	require.NotNil(t, banded)
	edge := display.Point{X: banded.Centre.X + 0.93*banded.RadiusX, Y: banded.Centre.Y}
	assert.GreaterOrEqual(t, theme.Contrast(level(edge), wall), 3.)
	// Down its middle there are bands: light, dark, light, dark, with sudden steps between.
	const stride, step = 0.05, 1.25
	down := func(v float64) float64 {
		return level(display.Point{X: banded.Centre.X - 0.4*banded.RadiusX, Y: banded.Centre.Y + v*banded.RadiusY}).R
	}
	changes := 0
	for v := -0.8; v < 0.8; v += stride {
		if a, b := down(v), down(v+stride); max(a, b)/min(a, b) > step {
			changes++
		}
	}
	assert.GreaterOrEqual(t, changes, 3, "its bands are seen")
}
