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
	"twincord/sim"
)

// A bead near the nose is seen from far above its string, and its pattern reaches round
// the back: every surface, down to where nobody fixates any more.
func TestABeadNearTheNoseAgreesWithThePixels(t *testing.T) {
	const w, h = 480, 300
	for _, surface := range []sim.Surface{sim.SurfacePlain, sim.SurfaceBanded, sim.SurfaceDotted, sim.SurfaceRinged} {
		for _, at := range []float64{40, 60, 80, 100, 120, 140, 160, 200, 250, 300} {
			var l display.List
			vectortest.Close(surface, at)(&l, w, h)
			for i := range l.Ribbons {
				l.Ribbons[i].Colour.A = 0 // the beads alone
			}
			file := filepath.Join(t.TempDir(), "near.svg")
			f, err := os.Create(file)
			require.NoError(t, err)
			require.NoError(t, svg.Write(f, &l))
			require.NoError(t, f.Close())
			want := image.NewRGBA(image.Rect(0, 0, w, h))
			raster.Paint(&l, want)
			mean, most99 := vectortest.Difference(t, want, vectortest.RSVG(t, file))
			t.Logf("%s at %.0f mm: mean %.2f, 99 %% within %.0f", surface, at, mean, most99)
			assert.LessOrEqual(t, mean, 1.5, "%s at %v", surface, at)
			// The edges of the dots are more than one pixel in a hundred.
			assert.LessOrEqual(t, most99, 15., "%s at %v", surface, at)
		}
	}
}

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
