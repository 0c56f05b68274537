package theme_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/render/theme"
)

// Row G4: what is written on the skin can be read, and what a face shows can be told
// apart.
func TestFacesCanBeTold(t *testing.T) {
	for name, th := range map[string]*theme.Theme{"dark": &theme.Dark, "light": &theme.Light} {
		f := th.Face()
		for _, skin := range []named{{name + " skin", f.Skin}, {name + " lit skin", f.Lit}, {name + " bright skin", f.Bright}} {
			pairs(t, 4.5, skin, named{"ink", f.Ink})
			pairs(t, 3, skin, named{"the paddle's edge", f.PaddleEdge})
		}
		pairs(t, 4.5, named{name + " paddle", f.Paddle}, named{"ink", f.Ink})
		pairs(t, 3, named{name + " pupil", f.Pupil}, named{"iris", f.Iris}, named{"reflex", f.Reflex})
		for _, white := range []named{{name + " white", f.White}, {name + " shaded white", f.WhiteShade}} {
			pairs(t, 3, white, named{"the iris' rim", f.IrisRim})
		}
		assert.Less(t, theme.Contrast(f.Skin, f.Lit), 1.5, "%s: light on the skin is quiet", name)
	}
}
