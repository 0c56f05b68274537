package sheet

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/pdf"
)

// Rows go down the pages in their order, each as far under the one before as it says,
// none past the margins; and a page ends only where it must: where what comes next, with
// all that it stays with, has no room left on it.
func TestRowsGoDownThePages(t *testing.T) {
	const seed = 5
	r := rand.New(rand.NewPCG(seed, 0))
	for n := range 300 {
		b := &layout{paper: pdf.A4}
		top, bottom := marginTop, b.paper.H-marginBottom
		for range 1 + r.IntN(60) {
			b.row(row{height: float64(r.IntN(200)), before: float64(r.IntN(40)), keep: r.IntN(3) == 0, ends: r.IntN(12) == 0})
		}
		pages := b.pages()
		require.NoError(t, b.err)
		next := 0 // row
		ended := func() (ended bool) {
			for next < len(b.rows) && b.rows[next].ends {
				next, ended = next+1, true
			}
			return ended
		}
		for p, page := range pages {
			if len(pages) > 1 {
				require.NotEmpty(t, page, "seed %d, %d", seed, n)
			}
			broken := ended()
			if p > 0 && !broken {
				over := pages[p-1][len(pages[p-1])-1]
				room := bottom - over.y - over.row.height
				assert.Greater(t, stays(b.rows[next:]), room, "seed %d, %d: page %d", seed, n, p)
			}
			y := top
			for i, at := range page {
				if i > 0 {
					assert.False(t, ended(), "seed %d, %d: a page goes on after its end", seed, n)
					y += at.row.before
				}
				require.Same(t, &b.rows[next], at.row, "seed %d, %d", seed, n)
				require.InDelta(t, y, at.y, 1e-9, "seed %d, %d", seed, n)
				y += at.row.height
				require.LessOrEqual(t, y, bottom+1e-9, "seed %d, %d", seed, n)
				next++
			}
		}
		ended()
		assert.Len(t, b.rows, next, "seed %d, %d: all rows", seed, n)
	}
}

// stays is how far down the first of some rows reaches with those that it stays with,
// under another one.
func stays(rows []row) (high float64) {
	for i := range rows {
		if i > 0 && (!rows[i-1].keep || rows[i].ends) {
			break
		}
		high += rows[i].before + rows[i].height
	}
	return high
}
