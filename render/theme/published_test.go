package theme_test

import (
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/theme"
	"twincord/testdata/published"
)

// G4: WCAG 2.1 SC 1.4.3 and 1.4.11: two worked ratios.
func TestG4Contrast(t *testing.T) {
	want := published.Numbers(t, published.Get(t, "G4").Expect, 2)
	white, black := hex(0xffffff), hex(0)
	grey := hex(0x767676) // 46 %
	assert.InDelta(t, want[0], theme.Contrast(hex(0x0000ff), white), 0.01)
	assert.InDelta(t, want[1], theme.Contrast(grey, white), 0.01)
	assert.InDelta(t, 21, theme.Contrast(white, black), 1e-9)
	assert.Equal(t, theme.Contrast(sky, plum), theme.Contrast(plum, sky))
	assert.InDelta(t, 1, theme.Contrast(sky, sky), 1e-12)
}

// G5: Okabe M & Ito K 2002; Wong B 2011 Nat Methods: the beads' colours and the hues
// of the eyes, which have a letter besides, are of a palette that is safe for the
// colour-blind.
func TestG5Palette(t *testing.T) {
	r := published.Get(t, "G5")
	colour := regexp.MustCompile(`[0-9A-F]{6}`)
	var palette []any
	for _, s := range colour.FindAllString(r.Formula, -1) {
		rgb, err := strconv.ParseUint(s, 16, 32)
		require.NoError(t, err)
		palette = append(palette, hex(uint32(rgb)))
	}
	require.Len(t, palette, 8)
	for _, c := range []any{orange, sky, plum, blue, vermilion} {
		assert.Contains(t, palette, c)
	}
	eyes := colour.FindAllString(r.Expect, -1)
	require.Len(t, eyes, 2)
	for i, c := range []any{theme.Dark.PlateRight, theme.Dark.Left} {
		rgb, err := strconv.ParseUint(eyes[i], 16, 32)
		require.NoError(t, err)
		assert.Equal(t, hex(uint32(rgb)), c)
	}
}
