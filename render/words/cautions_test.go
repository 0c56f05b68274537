package words

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
	"twincord/sim"
)

// always are the cautions that every page has.
var always = []Label{
	CautionModel, CautionStop, CautionUrgent, CautionOver50, CautionOneEye, CautionChild, CautionGlasses,
	CautionForce, CautionAfter, CautionConcussion, CautionCord,
}

// A caution is there when it is due, and not when it is not.
func TestCautionsAreDue(t *testing.T) {
	for _, c := range []struct {
		account           *sim.Account
		moves, care, film bool
	}{
		{&sim.Account{}, false, false, false},
		{&sim.Account{}, true, false, true},
		{&sim.Account{NeedsCare: true}, false, true, false},
		{&sim.Account{NeedsCare: true}, true, true, true},
		{nil, true, true, true},
		{nil, false, true, false},
	} {
		due := Due(c.account, c.moves)
		assert.Equal(t, c.care, slices.Contains(due, CautionSuppression), "%+v", c)
		assert.Equal(t, c.film, slices.Contains(due, CautionFilm), "%+v", c)
		for _, l := range always {
			assert.Contains(t, due, l, "%+v", c)
		}
		assert.Len(t, slices.Compact(slices.Sorted(slices.Values(due))), len(due), "none twice")
	}
	assert.Len(t, Due(nil, true), len(always)+2, "all of them")
}

// Each caution is said in every language, in words of its own.
func TestCautionsAreSaid(t *testing.T) {
	for _, lang := range Languages() {
		w, err := For(lang)
		require.NoError(t, err)
		all := w.Cautions()
		assert.Len(t, all, len(always)+2)
		for i, l := range Due(nil, true) {
			assert.Equal(t, w.Label(l), all[i])
			assert.NotEqual(t, string(l), all[i])
		}
		assert.Equal(t, all, w.CautionsDue(nil, true))
	}
}

// Of the built-in scenes those that need care, and no others, end their caption with
// the word of care.
func TestCareEndsTheCaption(t *testing.T) {
	w := english(t)
	both := map[bool]int{}
	for _, e := range scenes.Library() {
		v := look(&e.Scene.Setup)
		needs := v.Account.NeedsCare
		both[needs]++
		assert.Equal(t, needs, strings.HasSuffix(w.Family(v), w.Label(CautionCare)), e.Name)
		assert.NotContains(t, w.Seen(v), w.Label(CautionCare), e.Name)
	}
	assert.Positive(t, both[true])
	assert.Positive(t, both[false])
}

// The README has the same cautions, word for word and in the same order.
func TestReadmeCautions(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	assert.Contains(t, string(readme), "## Cautions\n\n- "+strings.Join(english(t).Cautions(), "\n- ")+"\n")
}
