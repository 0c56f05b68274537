package film_test

import (
	"bytes"
	"errors"
	"image"
	"image/png"
	"io"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/film"
	"twincord/render/raster"
	"twincord/render/theme"
	"twincord/scenes"
	"twincord/sim"
)

// noise is a page of pixels of random colours.
func noise(w, h int) *display.List {
	l := new(display.List)
	l.Reset(float64(w), float64(h), display.Colour{A: 1})
	r := rand.New(rand.NewPCG(1, 2))
	for y := range h {
		for x := range w {
			l.Rect(display.Rect{X: float64(x), Y: float64(y), W: 1, H: 1})
			l.Fill(display.Paint{From: display.Colour{R: r.Float64(), G: r.Float64(), B: r.Float64(), A: 1}})
		}
	}
	return l
}

// view is the patient's view of a built-in scene.
func view(name string, w, h float64) *display.List {
	sc, _, err := scenes.Open(name)
	if err != nil {
		panic(err)
	}
	var v sim.View
	v.Look(&sc.Setup)
	l := new(display.List)
	l.Reset(w, h, theme.Dark.Ground)
	render.Patient(l, display.Rect{W: w, H: h}, &v, render.PatientOptions{})
	return l
}

// What is written in strips is what is painted at once, whatever the number of cores:
// byte for byte the same file, and pixel for pixel the same picture.
func TestWritePNGIsReadBackByTheStandardLibrary(t *testing.T) {
	lists := []*display.List{noise(1, 1), noise(1, 7), noise(7, 1), noise(33, 17), noise(64, 129), view("too-far-doubled", 480, 320), view("eye-tilted", 200, 191)}
	for _, l := range lists {
		want := image.NewRGBA(image.Rect(0, 0, int(l.W), int(l.H)))
		new(raster.Painter).Paint(l, want)
		var file []byte
		for _, cores := range []int{1, 2, 16} {
			defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
			var b bytes.Buffer
			require.NoError(t, film.WritePNG(&b, l))
			if file == nil {
				file = b.Bytes()
			}
			require.Equal(t, file, b.Bytes(), "%v × %v on %d cores", l.W, l.H, cores)
		}
		back, err := png.Decode(bytes.NewReader(file))
		require.NoError(t, err)
		require.Equal(t, want.Rect, back.Bounds())
		for y := range want.Rect.Dy() {
			for x := range want.Rect.Dx() {
				require.Equal(t, want.RGBAAt(x, y), want.ColorModel().Convert(back.At(x, y)), "%v × %v at %d, %d", l.W, l.H, x, y)
			}
		}
	}
}

// No whole picture is in memory, however large it is.
func TestWritePNGKeepsNoWholePicture(t *testing.T) {
	const w, h = 1920, 1080
	l := view("too-far-doubled", w, h)
	allocated := func() uint64 {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.TotalAlloc
	}
	before := allocated()
	require.NoError(t, film.WritePNG(io.Discard, l))
	taken := allocated() - before
	require.Less(t, taken, uint64(4*w*h), "bytes in all, of which a picture takes %d", 4*w*h)
}

func TestWritePNGRefusesAPictureWithoutPixels(t *testing.T) {
	for _, size := range []image.Point{{}, {5, 0}, {0, 5}} {
		var b bytes.Buffer
		require.ErrorContains(t, film.WritePNG(&b, noise(size.X, size.Y)), "at least 1 × 1")
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
	l := noise(200, 200)
	for _, room := range []int{0, 1 << 12, 1 << 16} {
		require.ErrorIs(t, film.WritePNG(&full{room}, l), errFull)
	}
}

// BenchmarkWritePNG paints and compresses a still.
func BenchmarkWritePNG(b *testing.B) {
	l := view("too-far-doubled", 1920, 1080)
	b.ReportAllocs()
	for b.Loop() {
		if err := film.WritePNG(io.Discard, l); err != nil {
			b.Fatal(err)
		}
	}
}
