package lettering

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
)

// What a browser sets letter after letter it sets as the shaper does: every pair of the
// letters that labels have, in both faces, and their outlines but for points in the
// middle between two others, which it rounds to the font unit.
func TestPlainSetsWhatTheShaperSets(t *testing.T) {
	const em = 2048 // font units
	const letters = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZáéíóúñüÁÉÍÓÚÑ¿¡0123456789 .,:;()×°−′Δ–’"
	for f := range sources {
		of := sources[f].ttf
		shaped, err := read(of)
		require.NoError(t, err)
		plain, err := readPlain(of)
		require.NoError(t, err)
		a1, d1, c1 := shaped.measures()
		a2, d2, c2 := plain.measures()
		assert.Equal(t, [3]float64{a1, d1, c1}, [3]float64{a2, d2, c2})
		known := map[uint32]bool{}
		for _, a := range letters {
			require.Equal(t, shaped.has(a), plain.has(a), "%c", a)
			require.True(t, plain.has(a), "%c", a)
			for _, b := range letters {
				pair := string([]rune{a, b, a})
				x, y := shaped.shape(pair), plain.shape(pair)
				require.Len(t, y.glyphs, len(x.glyphs), pair)
				require.InDelta(t, x.width, y.width, 1e-12, pair)
				for i := range x.glyphs {
					require.Equal(t, x.glyphs[i].id, y.glyphs[i].id, pair)
					require.InDelta(t, x.glyphs[i].x, y.glyphs[i].x, 1e-12, pair)
					known[x.glyphs[i].id] = true
				}
			}
		}
		for g := range known {
			x, y := shaped.outline(g), plain.outline(g)
			require.Equal(t, x.Verbs, y.Verbs, "glyph %d", g)
			for i := range x.Points {
				assert.InDelta(t, x.Points[i].X, y.Points[i].X, 0.51/em, "glyph %d", g)
				assert.InDelta(t, x.Points[i].Y, y.Points[i].Y, 0.51/em, "glyph %d", g)
			}
			assert.Equal(t, shaped.advance(g), plain.advance(g), "glyph %d", g)
		}
	}
	assert.Len(t, sources, int(display.Bold)+1)
}
