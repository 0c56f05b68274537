package display_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/render/display"
)

// A list that is appended says the same as if it had been drawn there.
func TestAppend(t *testing.T) {
	first := func(l *display.List) {
		l.Rect(display.Rect{W: 3, H: 4})
		l.Fill(display.Paint{})
		l.AddBall(display.Ball{RadiusX: 1})
	}
	second := func(l *display.List) {
		l.OpenGroup(display.Group{Opacity: 0.5})
		l.Circle(display.Point{X: 5, Y: 6}, 2)
		l.OpenClip()
		l.AddBall(display.Ball{RadiusX: 2})
		l.AddRibbon(display.Ribbon{Points: make([]display.RibbonPoint, 3)})
		l.End()
		l.AddText(display.Text{String: "a", Glyphs: make([]display.Glyph, 1)})
		l.Circle(display.Point{X: 7, Y: 8}, 1)
		l.Stroke(2, display.Paint{})
		l.End()
	}
	var want, whole, part display.List
	first(&want)
	second(&want)
	second(&want)
	first(&whole)
	second(&part)
	whole.Append(&part)
	whole.Append(&part)
	assert.Equal(t, want.Ops, whole.Ops)
	assert.Equal(t, want.Paths, whole.Paths)
	assert.Equal(t, want.Balls, whole.Balls)
	assert.Equal(t, want.Ribbons, whole.Ribbons)
	assert.Equal(t, want.Texts, whole.Texts)
	assert.Equal(t, want.Clips, whole.Clips)
	assert.Equal(t, want.Groups, whole.Groups)
}
