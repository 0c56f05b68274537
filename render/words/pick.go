package words

import (
	"strings"

	"golang.org/x/text/language"
)

// Pick is the language, of those that there are words in, that fits what a system
// asks for in LC_ALL, LC_MESSAGES and LANG: the first of them that is not empty
// decides, as POSIX has it. Where nothing fits it is English.
func Pick(lcAll, lcMessages, lang string) string {
	asked := lang
	for _, v := range []string{lcMessages, lcAll} {
		if v != "" {
			asked = v
		}
	}
	asked, _, _ = strings.Cut(asked, ".") // the encoding
	asked, _, _ = strings.Cut(asked, "@") // a variant, such as the currency
	tag, err := language.Parse(asked)
	if err != nil {
		return "en" // also of "C" and "POSIX"
	}
	all := Languages()
	tags := make([]language.Tag, len(all))
	for i, l := range all {
		tags[i] = language.Make(l)
	}
	_, i, sure := language.NewMatcher(tags).Match(tag)
	if sure == language.No {
		return "en"
	}
	return all[i]
}
