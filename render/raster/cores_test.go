package raster_test

import (
	"bytes"
	"image"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/raster"
	"twincord/render/theme"
	"twincord/scenes"
	"twincord/sim"
)

// differing paints a list at once and in bands on 1, 2 or 16 cores, of which n picks, and
// gives the first row and the greatest step between the two; row −1 where they are the same.
func differing(l *display.List, n int) (row, most int) {
	cores := []int{1, 2, 16}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores[n%len(cores)]))
	size := image.Rect(0, 0, int(l.W), int(l.H))
	one, all := image.NewRGBA(size), image.NewRGBA(size)
	var p raster.Painter
	p.Paint(l, one)
	raster.Paint(l, all)
	row = -1
	if bytes.Equal(one.Pix, all.Pix) {
		return row, 0
	}
	for i, a := range one.Pix {
		if step := int(a) - int(all.Pix[i]); step != 0 {
			if row < 0 {
				row = i / one.Stride
			}
			most = max(most, step, -step)
		}
	}
	return row, most
}

// A picture is the same on one core and on any number of them.
func TestAnyNumberOfCoresPaintsTheSame(t *testing.T) {
	sizes := []display.Rect{{W: 480, H: 300}, {W: 333, H: 517}, {W: 640, H: 360}}
	for i, e := range scenes.Library() {
		var v sim.View
		v.Look(&e.Scene.Setup)
		frame := sizes[i%len(sizes)]
		var l display.List
		l.Reset(frame.W, frame.H, theme.Dark.Panel)
		switch i % 4 {
		case 0:
			render.Front(&l, frame, &v, render.FrontOptions{Theme: &theme.Dark})
		case 1:
			render.Above(&l, frame, &v, render.AboveOptions{Theme: &theme.Dark})
		default:
			render.Patient(&l, frame, &v, render.PatientOptions{Field: sim.Degrees(90 * (i % 2))})
		}
		row, most := differing(&l, i/2)
		require.Negative(t, row, "%s at %v: up to %d levels, from row %d on", e.Name, frame, most, row)
	}
}

// So is any list, and above all one whose pairs meet at the edges of tiles: each band
// then paints another part of the second way round.
func TestAnyListIsTheSameOnAnyNumberOfCores(t *testing.T) {
	for seed := range uint64(150) {
		r := rand.New(rand.NewPCG(seed, 1))
		bytes := make([]byte, 40+r.IntN(800))
		for i := range bytes {
			bytes[i] = byte(r.IntN(256))
		}
		l := randomList(bytes)
		if seed%2 == 0 {
			l = crossed(r)
		}
		row, most := differing(l, int(seed/2))
		require.Negative(t, row, "seed %d: up to %d levels, from row %d on", seed, most, row)
	}
}

// crossed is an Even group of pairs of random ribbons.
func crossed(r *rand.Rand) *display.List {
	l := page(101, 150)
	l.OpenGroup(display.Group{Opacity: 1, Even: true, Bounds: display.Rect{W: l.W, H: l.H}})
	pairGround(l)
	for range 2 * (1 + r.IntN(4)) {
		var way [4]display.RibbonPoint
		for i := range way {
			way[i] = display.RibbonPoint{
				At:   display.Point{X: 120*r.Float64() - 10, Y: 170*r.Float64() - 10},
				Half: 9 * r.Float64(), Soft: 9 * r.Float64(), Opacity: r.Float64(), Twist: 9 * r.Float64(),
			}
		}
		l.AddRibbon(display.Ribbon{Points: way[:], Colour: white, Shade: solid(black).From, TwistDepth: 1})
	}
	l.End()
	return l
}
