package lettering_test

import (
	"encoding/binary"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"

	"twincord/render/display"
	"twincord/render/lettering"
)

// set is a text as it is drawn.
func set(s string) []display.Glyph {
	var l display.List
	lettering.Draw(&l, lettering.Style{Size: 1}, 0, 0, lettering.Start, s)
	return l.Texts[0].Glyphs
}

func TestSpellingIsTheText(t *testing.T) {
	for _, s := range []string{"Two strings.", "¿Cuántas? 4,5 Δ", "e\u0301"} {
		spelling := lettering.Spelling(display.Regular, s)
		assert.Len(t, spelling, len(set(s)))
		all := ""
		for _, part := range spelling {
			all += part
		}
		assert.Equal(t, s, all)
	}
}

// outline is the bytes of a glyph's outline in a TrueType file.
func outline(ttf []byte, id uint32) []byte {
	at := func(name string) (from int) {
		for i := range int(binary.BigEndian.Uint16(ttf[4:])) {
			if e := ttf[12+16*i:]; string(e[:4]) == name {
				return int(binary.BigEndian.Uint32(e[8:]))
			}
		}
		return -1
	}
	offset := func(i uint32) int {
		if binary.BigEndian.Uint16(ttf[at("head")+50:]) == 0 {
			return 2 * int(binary.BigEndian.Uint16(ttf[at("loca")+2*int(i):]))
		}
		return int(binary.BigEndian.Uint32(ttf[at("loca")+4*int(i):]))
	}
	return ttf[at("glyf"):][offset(id):offset(id+1)]
}

// A subset has the outlines of the glyphs asked for and of no others; and none of them is
// composed of others.
func TestSubsetKeepsOutlines(t *testing.T) {
	var ids []uint32
	for _, g := range set("¿Ángulo, señal? Δ½ −4,5°") {
		ids = append(ids, g.ID)
	}
	subset := lettering.Subset(display.Regular, ids)
	assert.Less(t, len(subset), 40_000)
	for _, id := range ids {
		got, want := outline(subset, id), outline(goregular.TTF, id)
		require.GreaterOrEqual(t, len(got), len(want))
		assert.Equal(t, want, got[:len(want)])
		if len(want) > 0 {
			assert.Positive(t, int16(binary.BigEndian.Uint16(want)), "contours")
		}
	}
	assert.Empty(t, outline(subset, set("Z")[0].ID))
}

func TestAdvanceIsWhatDrawLeadsOnBy(t *testing.T) {
	g := set("HH")
	assert.InDelta(t, g[1].At.X-g[0].At.X, lettering.Advance(display.Regular, g[0].ID), 1e-9)
}

func TestMetrics(t *testing.T) {
	m := lettering.MetricsOf(display.Bold)
	assert.Equal(t, "GoBold", m.Name)
	assert.Less(t, m.Descent, 0.)
	assert.Less(t, m.CapHeight, m.Ascent)
}
