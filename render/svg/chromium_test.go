//go:build pages

package svg_test

import (
	"image"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/raster"
	"twincord/render/svg"
	"twincord/render/vector/vectortest"
)

func TestAgreesWithThePixels(t *testing.T) {
	const w, h = 1280, 800
	for name, draw := range vectortest.Pictures() {
		t.Run(name, func(t *testing.T) {
			var l display.List
			draw(&l, w, h)
			file := filepath.Join(t.TempDir(), "page.svg")
			f, err := os.Create(file)
			require.NoError(t, err)
			require.NoError(t, svg.Write(f, &l))
			require.NoError(t, f.Close())

			want := image.NewRGBA(image.Rect(0, 0, w, h))
			raster.Paint(&l, want)
			mean, most99 := vectortest.Difference(t, want, vectortest.Chromium(t, file, w, h))
			t.Logf("mean %.2f, 99 %% within %.0f", mean, most99)
			assert.LessOrEqual(t, mean, 1.5)
			assert.LessOrEqual(t, most99, 12.)
		})
	}
}
