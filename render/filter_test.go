package render_test

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/render"
	"twincord/render/raster"
	"twincord/sim"
)

// paint paints a list.
func paint(s *sim.Setup, o render.PatientOptions) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, int(frame.W), int(frame.H)))
	raster.Paint(patient(s, o), img)
	return img
}

// Through red and green filters each eye has its own light alone: a single bead
// shows both colours, next to each other, and nowhere their mean; behind one and the
// same filter everything is of its colour.
func TestFilters(t *testing.T) {
	count := func(right, left sim.Filter) (red, green, mean int) {
		s := *scene(t, "near-of-three")
		s.Right.Filter, s.Left.Filter = right, left
		img := paint(&s, render.PatientOptions{})
		at := image.Pt(int(frame.W/2), int(0.4*frame.H)) // the bead that is looked at
		for y := at.Y - 40; y < at.Y+40; y++ {
			for x := at.X - 40; x < at.X+40; x++ {
				switch c := img.RGBAAt(x, y); {
				case c.R > 90 && c.G > 90:
					mean++
				case c.R > 90:
					red++
				case c.G > 90:
					green++
				}
			}
		}
		return red, green, mean
	}
	red, green, mean := count(sim.FilterRed, sim.FilterGreen)
	assert.Greater(t, red, 800)
	assert.Greater(t, green, 800)
	assert.Less(t, mean, 200, "the softened edges between the two")

	red, green, mean = count(sim.FilterRed, sim.FilterRed)
	assert.Greater(t, red, 3000)
	assert.Zero(t, green+mean)

	_, _, mean = count(sim.FilterNone, sim.FilterNone)
	assert.Greater(t, mean, 3000, "the orange bead itself")
}

// What is double is no mixture either: each image is whole and of one colour.
func TestFiltersOnADoubledBead(t *testing.T) {
	s := *scene(t, "too-near-doubled")
	s.Right.Filter, s.Left.Filter = sim.FilterRed, sim.FilterGreen
	var v sim.View
	v.Look(&s)
	l := patient(&s, render.PatientOptions{})
	whole := 0
	for i := range l.Balls {
		c := l.Balls[i].Colour
		assert.True(t, c.R == 0 || c.G == 0, "%+v", c)
		if c.B != 0 {
			t.Errorf("%+v", c)
		}
		whole++
	}
	assert.Equal(t, 2*(len(s.Beads)+1), whole, "two images of each bead and of the anchor")
}
