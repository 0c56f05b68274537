package render_test

import (
	"image"
	"testing"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/raster"
	"twincord/render/theme"
	"twincord/scenes"
	"twincord/sim"
)

// BenchmarkRaster paints the patient's view of every built-in scene into a kept
// buffer, at the widest field and at the automatic one; the list is built outside.
func BenchmarkRaster(b *testing.B) {
	b.Run("90", func(b *testing.B) { benchmarkRaster(b, render.MostField) })
	b.Run("auto", func(b *testing.B) { benchmarkRaster(b, 0) })
}

func benchmarkRaster(b *testing.B, field sim.Degrees) {
	frame := display.Rect{W: 1920, H: 1080}
	for _, e := range scenes.Library() {
		b.Run(e.Name, func(b *testing.B) {
			var v sim.View
			v.Look(&e.Scene.Setup)
			var l display.List
			l.Reset(frame.W, frame.H, theme.Dark.Ground)
			render.Patient(&l, frame, &v, render.PatientOptions{Field: field})
			var p raster.Painter
			img := image.NewRGBA(image.Rect(0, 0, 1920, 1080))
			p.Paint(&l, img)
			b.ReportAllocs()
			for b.Loop() {
				p.Paint(&l, img)
			}
		})
	}
}

// BenchmarkPatient builds the list of the patient's view of the default scene.
func BenchmarkPatient(b *testing.B) {
	frame := display.Rect{W: 1280, H: 800}
	s := &scenes.Library()[0].Scene.Setup
	var v sim.View
	v.Look(s)
	var l display.List
	b.ReportAllocs()
	for b.Loop() {
		l.Reset(frame.W, frame.H, theme.Dark.Ground)
		render.Patient(&l, frame, &v, render.PatientOptions{})
	}
}
