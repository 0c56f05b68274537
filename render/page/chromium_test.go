//go:build pages

package page_test

import (
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/page"
	"twincord/render/raster"
)

// chromium paints an SVG file of w by h pixels: another maker's painter.
func chromium(t *testing.T, svg string, w, h int) image.Image {
	browser, err := exec.LookPath("chromium")
	require.NoError(t, err, "chromium not found: these tests compare SVG as a browser paints it")
	dir := t.TempDir()
	shot := filepath.Join(dir, "shot.png")
	run := exec.Command(browser, "--headless", "--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-first-run",
		"--hide-scrollbars", "--user-data-dir="+filepath.Join(dir, "profile"), "--timeout=15000",
		fmt.Sprintf("--window-size=%d,%d", w, h), "--screenshot="+shot, "file://"+svg)
	out, err := run.CombinedOutput()
	require.NoError(t, err, "%s", out)
	f, err := os.Open(shot)
	require.NoError(t, err)
	defer f.Close()
	img, err := png.Decode(f)
	require.NoError(t, err)
	return img
}

// difference is how far two pictures are apart, over all channels in steps of
// 1/255: the mean, and what 99 % of the pixels keep within.
func difference(t *testing.T, a, b image.Image) (mean, most99 float64) {
	require.Equal(t, a.Bounds().Size(), b.Bounds().Size())
	var all []float64
	sum := 0.0
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			p := color.RGBAModel.Convert(a.At(x, y)).(color.RGBA)
			q := color.RGBAModel.Convert(b.At(x, y)).(color.RGBA)
			worst := 0.0
			for _, d := range []int{int(p.R) - int(q.R), int(p.G) - int(q.G), int(p.B) - int(q.B)} {
				v := float64(max(d, -d))
				sum += v
				worst = max(worst, v)
			}
			all = append(all, worst)
		}
	}
	sort.Float64s(all)
	return sum / float64(3*len(all)), all[len(all)*99/100]
}

func TestSVGAgreesWithThePixels(t *testing.T) {
	const w, h = 1280, 800
	for name, draw := range pictures() {
		t.Run(name, func(t *testing.T) {
			var l display.List
			draw(&l, w, h)
			file := filepath.Join(t.TempDir(), "page.svg")
			f, err := os.Create(file)
			require.NoError(t, err)
			require.NoError(t, page.WriteSVG(f, &l))
			require.NoError(t, f.Close())

			want := image.NewRGBA(image.Rect(0, 0, w, h))
			raster.Paint(&l, want)
			mean, most99 := difference(t, want, chromium(t, file, w, h))
			t.Logf("mean %.2f, 99 %% within %.0f", mean, most99)
			assert.LessOrEqual(t, mean, 1.5)
			assert.LessOrEqual(t, most99, 12.)
		})
	}
}
