//go:build pages

package svg_test

import (
	"image"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/raster"
	"twincord/render/svg"
	"twincord/render/vector/vectortest"
)

// Inkscape, in which a picture is put into a hand-out of somebody's own, paints what the
// pixels are.
func TestInkscapeAgreesWithThePixels(t *testing.T) {
	const w, h = 640, 400
	all := vectortest.Pictures()
	for _, name := range []string{"near", "too far", "above"} {
		var l display.List
		require.Contains(t, all, name)
		all[name](&l, w, h)
		file := vectortest.Saved(t, "page.svg", func(f *os.File) error { return svg.Write(f, &l) })
		want := image.NewRGBA(image.Rect(0, 0, w, h))
		raster.Paint(&l, want)
		mean, most99 := vectortest.Difference(t, want, vectortest.Inkscape(t, file, w))
		t.Logf("%s: mean %.2f, 99 %% within %.0f", name, mean, most99)
		assert.LessOrEqual(t, mean, 1.5, name)
		assert.LessOrEqual(t, most99, 16., name)
	}
}
