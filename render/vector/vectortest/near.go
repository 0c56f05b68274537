package vectortest

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/render/display"
	"twincord/render/raster"
	"twincord/sim"
)

// NearTheNose says that beads near the nose, as a reader of a format paints them, are what
// the pixels are: such a bead is seen from far above its string, and its pattern reaches
// round the back. Every surface, down to where nobody fixates any more.
func NearTheNose(t *testing.T, painted func(l *display.List) image.Image) {
	t.Helper()
	const w, h = 480, 300
	for _, surface := range []sim.Surface{sim.SurfacePlain, sim.SurfaceBanded, sim.SurfaceDotted, sim.SurfaceRinged} {
		for _, at := range []float64{40, 60, 80, 100, 120, 140, 160, 200, 250, 300} {
			var l display.List
			Close(surface, at)(&l, w, h)
			for i := range l.Ribbons {
				l.Ribbons[i].Colour.A = 0 // the beads alone
			}
			want := image.NewRGBA(image.Rect(0, 0, w, h))
			raster.Paint(&l, want)
			mean, most99 := Difference(t, want, painted(&l))
			t.Logf("%s at %.0f mm: mean %.2f, 99 %% within %.0f", surface, at, mean, most99)
			assert.LessOrEqual(t, mean, 1.5, "%s at %v", surface, at)
			// The edges of the dots are more than one pixel in a hundred.
			assert.LessOrEqual(t, most99, 15., "%s at %v", surface, at)
		}
	}
}
