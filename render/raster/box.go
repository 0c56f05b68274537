package raster

import (
	"image"
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
)

// The boxes of shapes: pixels that they do not paint outside of. What is no number, or
// farther off than reach, is left out, and has an empty box.

// pathBox is the box of a filled area or a stroke.
func pathBox(q *display.Path) image.Rectangle {
	if q.Stroke > 0 {
		return pointsBox(q.Outline.Points, slack(q.Stroke/2))
	}
	return pointsBox(q.Outline.Points, 0)
}

// slack is how far from its middle, at most, a band of a half-width paints: to the corner
// where two of its sections meet, or of an end that is cut across.
func slack(half float64) float64 { return math.Sqrt2 * (half + pixel + sharpest) }

// pointsBox is the box of all that is within slack of points, or of curves that they steer.
func pointsBox(points []display.Point, slack float64) image.Rectangle {
	var b bound
	for _, q := range points {
		b.add(q, slack)
	}
	return b.box()
}

// ribbonBox is the box of a ribbon along points, or of a part of one.
func ribbonBox(points []display.RibbonPoint) image.Rectangle {
	var b bound
	for i := range points {
		q := &points[i]
		b.add(q.At, slack(max(q.Half, 0)+max(q.Soft, 0)))
	}
	return b.box()
}

func textBox(t *display.Text) image.Rectangle {
	if !finite(t.Size) || t.Size <= 0 {
		return image.Rectangle{}
	}
	var b bound
	e := lettering.Extent
	for _, g := range t.Glyphs {
		if !finite(g.At.X, g.At.Y) {
			continue
		}
		// One pixel more, as glyphs stand in quarters of pixels.
		b.add(display.Point{X: g.At.X + e.X*t.Size, Y: g.At.Y + e.Y*t.Size}, 1)
		b.add(display.Point{X: g.At.X + (e.X+e.W)*t.Size, Y: g.At.Y + (e.Y+e.H)*t.Size}, 1)
	}
	return b.box()
}

// A bound grows round points.
type bound struct {
	x0, y0, x1, y1 float64
	some, lost     bool // there was a point; one that is no place
}

func (b *bound) add(q display.Point, slack float64) {
	if !finite(q.X, q.Y, slack) {
		b.lost = true
		return
	}
	if !b.some {
		b.x0, b.y0, b.x1, b.y1, b.some = q.X-slack, q.Y-slack, q.X+slack, q.Y+slack, true
		return
	}
	b.x0, b.y0 = min(b.x0, q.X-slack), min(b.y0, q.Y-slack)
	b.x1, b.y1 = max(b.x1, q.X+slack), max(b.y1, q.Y+slack)
}

func (b *bound) box() image.Rectangle {
	if !b.some || b.lost {
		return image.Rectangle{}
	}
	return image.Rectangle{
		Min: image.Pt(int(math.Floor(b.x0)), int(math.Floor(b.y0))),
		Max: image.Pt(int(math.Ceil(b.x1)), int(math.Ceil(b.y1))),
	}
}
