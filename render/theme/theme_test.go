package theme_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/render/display"
	"twincord/render/theme"
)

func hex(rgb uint32) display.Colour {
	return display.Colour{
		R: float64(rgb>>16) / 255,
		G: float64(rgb>>8&255) / 255,
		B: float64(rgb&255) / 255,
		A: 1,
	}
}

// The beads of the default set, and the eyes' hues, as published (row G5).
var (
	orange, sky, plum = hex(0xe69f00), hex(0x56b4e9), hex(0xcc79a7)
	blue, vermilion   = hex(0x0072b2), hex(0xd55e00)
)

type named struct {
	name   string
	colour display.Colour
}

func pairs(t *testing.T, least float64, ground named, on ...named) {
	t.Helper()
	for _, c := range on {
		assert.GreaterOrEqual(t, theme.Contrast(c.colour, ground.colour), least,
			fmt.Sprintf("%s on %s", c.name, ground.name))
	}
}

func TestTextCanBeRead(t *testing.T) {
	for name, look := range looks {
		t.Run(name, func(t *testing.T) { textCanBeRead(t, look) })
	}
}

// looks are all there are.
var looks = map[string]theme.Theme{"dark": theme.Dark, "light": theme.Light}

func textCanBeRead(t *testing.T, d theme.Theme) {
	const least = 4.5 // row G4, text
	for _, ground := range []named{
		{"ground", d.Ground}, {"panel", d.Panel}, {"raised", d.Raised}, {"field", d.Field}, {"hover", d.Hover},
	} {
		pairs(t, least, ground, named{"ink", d.Ink}, named{"muted", d.Muted})
	}
	pairs(t, least, named{"marked", d.Marked}, named{"ink", d.Ink})
	// The patient's view has the words of Dark on it, whatever the look.
	for _, ground := range []named{{"wall", d.Wall}, {"wall's edge", d.WallEdge}, {"floor", d.Floor}} {
		pairs(t, least, ground, named{"ink", theme.Dark.Ink}, named{"muted", theme.Dark.Muted}, named{"accent", theme.Dark.Accent})
	}
	for _, ground := range []named{{"ground", d.Ground}, {"panel", d.Panel}, {"field", d.Field}} {
		pairs(t, least, ground, named{"accent", d.Accent}, named{"warning", d.Warning})
	}
	pairs(t, least, named{"accent", d.Accent}, named{"text on it", d.OnAccent})
	pairs(t, least, named{"plate", d.Plate}, named{"right", d.PlateRight}, named{"left", d.PlateLeft})
}

func TestGraphicsCanBeSeen(t *testing.T) {
	for name, look := range looks {
		t.Run(name, func(t *testing.T) { graphicsCanBeSeen(t, look) })
	}
}

func graphicsCanBeSeen(t *testing.T, d theme.Theme) {
	const least = 3 // row G4, graphics
	beads := []named{{"orange", orange}, {"sky", sky}, {"plum", plum}}
	for _, ground := range []named{{"wall", d.Wall}, {"wall's edge", d.WallEdge}, {"floor", d.Floor}} {
		pairs(t, least, ground, beads...)
		pairs(t, least, ground, named{"string", theme.Dark.String}, named{"plate", d.Plate}, named{"hook", d.Hook})
	}
	for _, ground := range []named{{"ground", d.Ground}, {"panel", d.Panel}, {"field", d.Field}} {
		// A bead, an eye or a filter that is too near to the ground has an edge.
		pairs(t, least, ground, named{"string", d.String}, named{"edge", d.Edge}, named{"accent", d.Accent},
			named{"right", d.Right}, named{"left", d.Left})
	}
	pairs(t, least, named{"raised", d.Raised}, named{"edge", d.Edge}, named{"accent", d.Accent})
	pairs(t, least, named{"iris", d.Iris}, named{"white of the eye", d.EyeWhite}, named{"pupil", d.Pupil})
}

func TestTheWallIsQuiet(t *testing.T) {
	d := theme.Dark
	for _, c := range []display.Colour{d.Wall, d.WallEdge} {
		for _, v := range []float64{c.R, c.G, c.B} {
			assert.GreaterOrEqual(t, v*255, 42.)
			assert.LessOrEqual(t, v*255, 58.)
		}
		assert.Less(t, theme.Contrast(c, display.Colour{R: c.G, G: c.G, B: c.G}), 1.05, "neutral")
	}
	assert.Greater(t, theme.Contrast(d.Floor, d.WallEdge), theme.Contrast(d.Wall, d.WallEdge), "the floor is a little lighter")
	assert.Less(t, theme.Contrast(d.Floor, d.Wall), 1.2)
}

// distance is a plain distance in sRGB, 0 – 1.
func distance(a, b display.Colour) float64 {
	return max(a.R-b.R, b.R-a.R) + max(a.G-b.G, b.G-a.G) + max(a.B-b.B, b.B-a.B)
}

func TestHuesStayApart(t *testing.T) {
	d := theme.Dark
	for _, bead := range []display.Colour{orange, sky, plum} {
		assert.Greater(t, distance(d.Accent, bead), 0.3, "the accent is no bead")
		assert.Greater(t, distance(d.Right, bead), 0.3)
		assert.Greater(t, distance(d.Left, bead), 0.3)
	}
	assert.Less(t, distance(d.Right, blue), 0.4, "still the published blue")
	assert.Less(t, distance(d.PlateLeft, vermilion), 0.2, "still the published vermilion")
	assert.Equal(t, blue, d.PlateRight)
	assert.Equal(t, vermilion, d.Left)
}
