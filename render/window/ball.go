package window

import (
	"image"
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"twincord/render/display"
)

// The uniforms that are the same for every ball.
var ballConstants = map[string]any{
	"Shading": []float32{display.Ambient, display.Diffuse, display.Wrap, display.Rim},
	"Bands":   []float32{display.BandFrom, display.BandTo, display.BandShade, 0},
	"Rings":   []float32{display.RingFrom, display.RingTo, display.RingFrom2, display.RingTo2},
	"Marks":   []float32{display.RingShade, display.DotRadius, display.DotPale, display.HoleShade},
	"Dots":    dots(),
}

func dots() []float32 {
	var d []float32
	for _, at := range display.Dots {
		d = append(d, float32(at[0]), float32(at[1]), float32(at[2]))
	}
	return d
}

// drawBall draws a ball as a rectangle with a shader.
func (p *painter) drawBall(b *display.Ball) {
	if b.RadiusX <= 0 || b.RadiusY <= 0 || b.Opacity <= 0 {
		return
	}
	p.flush()
	u := p.options.Uniforms
	for k, v := range ballConstants {
		u[k] = v
	}
	sin, cos := math.Sincos(b.Angle)
	radius, edge := b.Radius(), b.Outline()
	mouth, bore := b.Mouth()
	axis, up, side := b.Frame()
	light := normalised(b.Light)
	half := normalised([3]float64{light[0], light[1], light[2] + 1})
	u["Centre"] = []float32{float32(b.Centre.X), float32(b.Centre.Y)}
	u["Radii"] = []float32{float32(b.RadiusX), float32(b.RadiusY)}
	u["Turn"] = []float32{float32(cos), float32(sin)}
	u["Fine"], u["Swell"] = float32(b.Fine()), float32(b.Swell())
	u["Edge"] = []float32{float32(edge.Middle / radius), float32(edge.Half / radius), float32(edge.Most)}
	u["Opacity"] = float32(b.Opacity * b.Colour.A)
	u["Colour"] = []float32{float32(b.Colour.R), float32(b.Colour.G), float32(b.Colour.B)}
	white := b.White()
	u["White"] = []float32{float32(white.R), float32(white.G), float32(white.B)}
	u["Axis"], u["Up"], u["Side"] = vector3(axis), vector3(up), vector3(side)
	u["Light"], u["Half"], u["Mouth"] = vector3(light), vector3(half), vector3(mouth)
	u["Bore"] = float32(bore)
	u["Gleam"] = float32(display.Gleam * b.Shine())
	u["Surface"] = float32(b.Surface)
	reach := max(b.RadiusX, b.RadiusY)*(edge.Middle+edge.Half)/radius + 1
	p.own.reset()
	p.own.corners(ebiten.Vertex{}, image.Rect(
		int(math.Floor(b.Centre.X-reach)), int(math.Floor(b.Centre.Y-reach)),
		int(math.Ceil(b.Centre.X+reach)), int(math.Ceil(b.Centre.Y+reach))).Intersect(p.clip))
	p.draw(&p.own, p.ball, nil, nil)
}

func vector3(v [3]float64) []float32 {
	return []float32{float32(v[0]), float32(v[1]), float32(v[2])}
}

func normalised(v [3]float64) [3]float64 {
	n := math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2])
	if n == 0 {
		return v
	}
	return [3]float64{v[0] / n, v[1] / n, v[2] / n}
}

// softness is a blur together with that of the pixel, as package raster has it:
// variances of boxes add.
func softness(blur float64) float64 { return math.Sqrt(blur*blur + 0.25) }
