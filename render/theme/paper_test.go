package theme_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/render/display"
	"twincord/render/theme"
)

func TestPaperCanBeReadAndSeen(t *testing.T) {
	p := theme.Paper
	// Row G4.
	const text, graphics = 4.5, 3
	for _, ground := range []named{{"ground", p.Ground}, {"wall", p.Wall}, {"wall's edge", p.WallEdge}, {"floor", p.Floor}} {
		pairs(t, text, ground, named{"ink", p.Ink}, named{"muted", p.Muted}, named{"accent", p.Accent})
		pairs(t, graphics, ground, named{"string", p.String}, named{"hollows", p.StringShade}, named{"hook", p.Hook},
			named{"edge", p.Edge}, named{"right", p.Right}, named{"left", p.Left})
	}
	pairs(t, text, named{"plate", p.Plate}, named{"right", p.PlateRight}, named{"left", p.PlateLeft})

	// A bead is told from the wall by its outline, where it is at most so bright.
	const outline = display.Rim * (display.Ambient + display.Diffuse)
	for name, c := range map[string]display.Colour{"orange": orange, "sky": sky, "plum": plum} {
		c.R, c.G, c.B = outline*c.R, outline*c.G, outline*c.B
		pairs(t, graphics, named{"wall", p.Wall}, named{name, c})
	}
}

func TestPaperSavesInk(t *testing.T) {
	p := theme.Paper
	assert.Equal(t, display.Colour{R: 1, G: 1, B: 1, A: 1}, p.Ground)
	for _, c := range []display.Colour{p.Wall, p.WallEdge, p.Floor} {
		assert.Less(t, theme.Contrast(c, p.Ground), 1.25)
		assert.Less(t, theme.Contrast(c, display.Colour{R: c.G, G: c.G, B: c.G}), 1.05, "neutral")
	}
	assert.Less(t, theme.Contrast(p.Wall, p.WallEdge), 1.1, "a quiet wall")
	assert.Greater(t, theme.Contrast(p.Floor, p.Wall), theme.Contrast(p.WallEdge, p.Wall), "the floor is told from it")
}
