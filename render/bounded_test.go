package render_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
)

// The line under a picture is whole, in the picture, thin, and readable (row G4).
func TestTheLineUnderAPicture(t *testing.T) {
	for _, language := range words.Languages() {
		say, err := words.For(language)
		require.NoError(t, err)
		says := say.Label(words.PictureBounds)
		for _, frame := range []display.Rect{{W: 160, H: 120}, {W: 1280, H: 800}, {X: 5, Y: 7, W: 7680, H: 4320}, {W: 300, H: 2000}} {
			var l display.List
			left := render.Bounded(&l, frame, says, &theme.Dark)
			assert.Equal(t, left.Y+left.H, l.Paths[0].Outline.Points[0].Y)
			assert.Equal(t, frame.Y+frame.H, l.Paths[0].Outline.Points[2].Y)
			assert.Less(t, frame.H-left.H, 0.14*frame.H)
			text := l.Texts[0]
			assert.Equal(t, says, text.String)
			first := text.Glyphs[0].At
			assert.GreaterOrEqual(t, first.X, frame.X)
			assert.LessOrEqual(t, first.X+lettering.Width(lettering.Style{Size: text.Size}, says), frame.X+frame.W)
			assert.Greater(t, first.Y, left.Y+left.H)
			assert.Less(t, first.Y, frame.Y+frame.H)
			assert.GreaterOrEqual(t, theme.Contrast(text.Colour, l.Paths[0].Paint.From), 4.5)
		}
	}
}
