package scenes

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/testdata/published"
)

// I1: Dodgson NA 2004, Proc SPIE 5291:36-46, doi 10.1117/12.529999: a scene takes the
// distances of adults and of children from about five years on, and little beyond.
func TestI1DistanceBetweenEyes(t *testing.T) {
	n := published.Numbers(t, published.Get(t, "I1").Expect, 6) // adults; usual; children, from an age
	ranges := key(t, "patient.pd_mm").Ranges
	require.Len(t, ranges, 1)
	assert.Equal(t, Range{Min: n[4], Max: n[1]}, ranges[0])
	assert.Less(t, ranges[0].Min, n[0])
}

// G3: WCAG 2.x SC 2.3.1: at most three flashes a second. Whatever comes and goes here
// does so once in a period.
func TestG3Flashes(t *testing.T) {
	r := published.Get(t, "G3")
	limit := published.Numbers(t, r.Value, 1)[0]
	rates := published.Numbers(t, r.Given, 2) // one that is allowed, one to refuse
	require.Less(t, limit, rates[1])
	for i, period := range key(t, "suppression.period_s").Ranges {
		if period.Max == 0 {
			continue // constant
		}
		assert.Positive(t, period.Min)
		assert.LessOrEqual(t, 1/period.Min, limit, "times a second, range %d", i+1)
		assert.Less(t, 1/period.Min, rates[1])
	}
}

// The words for a source are those of the rows: its years are theirs, and every row that
// is named has some.
func TestSourcesInWords(t *testing.T) {
	years := regexp.MustCompile(`\b(18|19|20)\d\d\b`)
	from := map[string]string{}
	for _, r := range published.Rows(t) {
		from[r.ID] = r.Source
	}
	named := map[string]bool{}
	for _, k := range Keys() {
		for _, id := range rowIDs(k.Source) {
			named[id] = true
			assert.NotEmpty(t, sources[id], "%s of %s", id, k.Path())
			if source := from[id]; source != "" && sources[id] != "" {
				for _, year := range years.FindAllString(sources[id], -1) {
					if years.MatchString(source) {
						assert.Contains(t, source, year, id)
					}
				}
				name, _, _ := strings.Cut(strings.Fields(sources[id])[0], ",")
				if years.MatchString(sources[id]) && years.MatchString(source) {
					assert.Contains(t, source, name, id)
				}
			}
		}
	}
	for id := range sources {
		assert.True(t, named[id], "%s is named by no key", id)
	}
}
