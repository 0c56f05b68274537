package film_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/film"
	"twincord/render/theme"
	"twincord/scenes"
	"twincord/sim"
)

// wavering is the patient's view of a built-in scene while the eyes' aim wavers by
// some arcmin.
func wavering(scene string, w, h, rate, frames int) *film.Film {
	var base sim.Setup
	for _, e := range scenes.Library() {
		if e.Name == scene {
			base = e.Scene.Setup
		}
	}
	page := display.Rect{W: float64(w), H: float64(h)}
	var still sim.View
	still.Look(&base)
	field := render.AutoField(&still, page.W/page.H, false)
	return &film.Film{W: w, H: h, Rate: rate, Frames: frames, Drawer: func() func(int, *display.List) {
		s := base
		var v sim.View
		return func(frame int, l *display.List) {
			t := 2 * math.Pi * float64(frame) / float64(rate)
			arcmin := 4*math.Sin(0.31*t) + 3*math.Sin(0.73*t+1) + 2*math.Sin(1.9*t+2)
			s.Posture.Deviation = base.Posture.Deviation + sim.Prism(100*math.Tan(arcmin/60*math.Pi/180))
			v.Look(&s)
			l.Reset(page.W, page.H, theme.Dark.Ground)
			render.Patient(l, page, &v, render.PatientOptions{Field: field})
		}
	}}
}

func BenchmarkFilm(b *testing.B) {
	for _, scene := range []string{"too-far-doubled", "bare-string"} {
		for _, size := range []struct{ w, h, rate int }{{1280, 720, 30}, {960, 540, 15}} {
			for _, as := range []film.Format{film.APNG, film.GIF} {
				b.Run(fmt.Sprintf("%s/%dx%d@%d/%s", scene, size.w, size.h, size.rate, as), func(b *testing.B) {
					f := wavering(scene, size.w, size.h, size.rate, 10*size.rate)
					expected, err := f.Expect(context.Background(), as)
					require.NoError(b, err)
					b.ReportAllocs()
					for b.Loop() {
						var n count
						require.NoError(b, f.Write(context.Background(), &n, as, nil))
						b.ReportMetric(float64(n)/1e6, "MB")
						b.ReportMetric(float64(expected)/1e6, "MB-expected")
					}
				})
			}
		}
	}
}

type count int64

func (c *count) Write(b []byte) (int, error) { *c += count(len(b)); return len(b), nil }
