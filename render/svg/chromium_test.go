//go:build pages

package svg_test

import (
	"image"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/render/display"
	"twincord/render/raster"
	"twincord/render/svg"
	"twincord/render/vector/vectortest"
)

func TestABeadNearTheNoseAgreesWithThePixels(t *testing.T) {
	vectortest.NearTheNose(t, func(l *display.List) image.Image {
		return vectortest.RSVG(t, vectortest.Saved(t, "near.svg", func(f *os.File) error { return svg.Write(f, l) }))
	})
}

func TestAgreesWithThePixels(t *testing.T) {
	const w, h = 1280, 800
	for name, draw := range vectortest.Pictures() {
		t.Run(name, func(t *testing.T) {
			var l display.List
			draw(&l, w, h)
			file := vectortest.Saved(t, "page.svg", func(f *os.File) error { return svg.Write(f, &l) })

			want := image.NewRGBA(image.Rect(0, 0, w, h))
			raster.Paint(&l, want)
			mean, most99 := vectortest.Difference(t, want, vectortest.Chromium(t, file, w, h))
			t.Logf("mean %.2f, 99 %% within %.0f", mean, most99)
			assert.LessOrEqual(t, mean, 1.5)
			assert.LessOrEqual(t, most99, 12.)
		})
	}
}
