package words

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestPick(t *testing.T) {
	for _, c := range []struct{ lcAll, lcMessages, lang, want string }{
		{"", "", "", "en"},
		{"", "", "es_ES.UTF-8", "es"},
		{"", "", "es", "es"},
		{"", "", "es_MX", "es"},
		{"", "", "es_ES.UTF-8@euro", "es"},
		{"", "", "es_ES@euro", "es"},
		{"", "", "en_GB.UTF-8", "en"},
		{"", "es_AR.UTF-8", "en_GB.UTF-8", "es"},
		{"", "en_US.UTF-8", "es_ES.UTF-8", "en"},
		{"es_CL.UTF-8", "en_US.UTF-8", "en_US.UTF-8", "es"},
		{"C", "es_ES.UTF-8", "es_ES.UTF-8", "en"},
		{"C.UTF-8", "", "es_ES.UTF-8", "en"},
		{"POSIX", "", "es_ES.UTF-8", "en"},
		{"", "", "ja_JP.UTF-8", "en"},
		{"", "", "de_DE.UTF-8", "en"},
		{"", "", "not a language", "en"},
		{"", "", "..@@__", "en"},
	} {
		assert.Equal(t, c.want, Pick(c.lcAll, c.lcMessages, c.lang), "%+v", c)
	}
}

// Whatever the system says, there are words for it.
func TestPickIsAlwaysSpoken(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[a-zA-Z_@.-]{0,12}`))
		assert.Contains(t, Languages(), Pick(text.Draw(t, "LC_ALL"), text.Draw(t, "LC_MESSAGES"), text.Draw(t, "LANG")))
	})
}
