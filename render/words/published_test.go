package words

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/testdata/published"
)

// says asserts that a row of published cautions is there, by what it names: each of
// its parts with the words that say it here.
func says(t *testing.T, caution, id string, parts map[string]string) {
	t.Helper()
	r := published.Get(t, id)
	row := strings.Join([]string{r.Quantity, r.Value, r.Formula, r.Given, r.Expect}, "; ")
	for part, words := range parts {
		assert.Contains(t, row, part, id)
		assert.Contains(t, caution, words, "%s: %s", id, part)
	}
}

// K9: Kushner BJ 2002, Arch Ophthalmol (title seen). K10: Newsham/Piano survey via
// review; BJO 2018 incidence paper.
func TestK9K10LastingDoubleVision(t *testing.T) {
	caution := english(t).Label(CautionSuppression)
	says(t, caution, "K9", map[string]string{"Persistent diplopia": "double vision that stays"})
	says(t, caution, "K10", map[string]string{
		"suppression":                         "picture is left out",
		"constant strabismus":                 "an eye turns all the time",
		"intractable double vision":           "double vision that stays",
		"only under an eye-care professional": "only under a professional's care",
	})
}

// urgent are the cautions that say when to get help at once.
func urgent(t *testing.T) string {
	w := english(t)
	return w.Label(CautionUrgent) + " " + w.Label(CautionOver50)
}

// K11: GP journal red-flag list.
func TestK11RedFlags(t *testing.T) {
	says(t, urgent(t), "K11", map[string]string{
		"new double vision":   "New double vision",
		"seek urgent care":    "needs urgent care now",
		"persistent headache": "headache",
		"pupil change":        "unequal pupils",
		"lid droop":           "drooping lid",
		"visual loss":         "loss of sight",
		"weakness":            "weakness",
		"speech trouble":      "trouble speaking",
		"fatigable weakness":  "weakness that only comes when you are tired",
		"proptosis":           "bulging eye",
		"recent trauma":       "after an injury",
	})
}

// K12: state and national health-service pages on giant cell arteritis. K14: stroke and
// red-flag lists of general practice.
func TestK12K14MoreRedFlags(t *testing.T) {
	says(t, urgent(t), "K12", map[string]string{
		"over 50":             "Over 50, new double vision is urgent",
		"jaw pain on chewing": "jaw pain on chewing",
		"tender scalp":        "a tender scalp",
		"new headache":        "a new headache",
		"name it as urgent":   "urgent",
	})
	says(t, urgent(t), "K14", map[string]string{
		"Unsteady walking": "walk unsteadily", "vertigo": "feel dizzy", "confusion": "are confused",
	})
}

// K13: general teaching that double vision of one eye is not a matter of alignment.
func TestK13DoubleWithOneEye(t *testing.T) {
	says(t, english(t).Label(CautionOneEye), "K13", map[string]string{
		"with one eye covered":   "see double with one eye covered",
		"not a matter":           "the string is not the reason",
		"have the eyes examined": "Have the eyes examined",
	})
}

// From memory, so that no row decides it: fever with a swollen lid is urgent (orbital
// cellulitis), and after a concussion work with the eyes is taken up only as advised.
func TestCautionsFromMemory(t *testing.T) {
	assert.Contains(t, urgent(t), "Fever with a swollen lid is urgent")
	assert.Contains(t, english(t).Label(CautionConcussion), "After a concussion, do the exercise only if you were told to")
}

// T1: 16 CFR 1501; EN 71-1. T2: EN 71-1:2005+A8:2009 clause 5.4, quoted in a forum.
// T3: EN 71-1:2005+A8 annex text. No bead and no string that a scene may hold is
// within what these let a small child have, so the caution stands on every page.
func TestT1T2T3CordAndBeads(t *testing.T) {
	all := strings.Join(english(t).Cautions(), " ")
	says(t, all, "T1", map[string]string{"small part": "small beads", "not for under 3": "not for children under three"})
	says(t, all, "T2", map[string]string{"adult supervision": "an adult stays beside a child", "never round the neck": "Never round a neck"})
	says(t, all, "T3", map[string]string{"choking hazard even on a cord": "A long cord and small beads"})
}
