package window

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The family's screen is never that of the editing window where there is another, and
// whoever counts screens is taken at their word.
func TestPlaceChoosesAScreen(t *testing.T) {
	one, two := []string{"1 A 1280x800"}, []string{"1 A 1280x800", "2 A 1280x800"}
	for _, c := range []struct {
		place  Place
		names  []string
		screen int
		fault  string
	}{
		{Place{}, two, anyScreen, ""},
		{Place{Not: two[0]}, two, 1, ""},
		{Place{Not: two[1]}, two, 0, ""},
		{Place{Not: one[0]}, one, anyScreen, ""},
		{Place{Not: "3 gone"}, two, 0, ""},
		{Place{Screen: 1, Not: two[0]}, two, 0, ""},
		{Place{Screen: 2}, two, 1, ""},
		{Place{Screen: 2}, one, 0, "screen 2: there are 1"},
	} {
		screen, err := c.place.choose(c.names)
		if c.fault != "" {
			assert.EqualError(t, err, c.fault, "%+v", c)
			continue
		}
		assert.NoError(t, err, "%+v", c)
		assert.Equal(t, c.screen, screen, "%+v", c)
	}
}
