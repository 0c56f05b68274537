package sheet

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/pdf"
	"twincord/render/theme"
	"twincord/render/words"
)

// threeCases are one with a picture and choices, one with a number, and one with a long
// list and a line to write on.
func threeCases(t *testing.T) *Cases {
	say, err := words.For("en")
	require.NoError(t, err)
	square := func(l *display.List, w, h float64) {
		l.Reset(w, h, theme.Paper.Ground)
		l.Rect(display.Rect{W: w, H: h})
		l.Fill(display.Paint{From: theme.Paper.Ink})
	}
	return &Cases{
		Words: say, Paper: pdf.A4, Title: "Three cases", Lead: []string{"The first lead.", "The second lead."},
		Cases: []Case{
			{Title: "Case one", Given: []string{"This is given."}, Picture: square, Tall: true, Alt: "a square",
				Asked: []CaseQuestion{{Text: "Which eye?", Choices: []string{"the right one", "the left one"}}, {Text: "How far?", Unit: "cm"}},
				Right: []string{"The left one.", "Twelve cm."}, Why: "Because of this."},
			{Title: "Case two", Given: []string{"Two beads."}, Picture: square, Alt: "a frame",
				Asked: []CaseQuestion{{Text: "How much?", Unit: "dioptres", Choices: []string{"cannot be told"}}},
				Right: []string{"Five dioptres."}, Why: "Because of that."},
			{Title: "Case three", Given: []string{"A report.", "And more of it."},
				Asked: []CaseQuestion{{Text: "Do they fit?", Choices: []string{"They fit"}, Long: true, Blank: "These do not:"}},
				Right: []string{"They fit."}, Why: "Nothing speaks against it."},
		},
		KeyTitle: "The key", KeyLead: "For who hands them out.", Columns: [3]string{"Case", "Right", "Why"},
		SourcesTitle: "Sources", Sources: []string{"Row one.", "Row two."}, Note: "Invented, all of it.",
	}
}

// Everything that is given and asked is printed in order, with boxes to tick and lines to
// write on; what is right is on the last page alone.
func TestCasesArePrinted(t *testing.T) {
	s := threeCases(t)
	d := s.document(1)
	before, err := d.Pages()
	require.NoError(t, err)
	asked := saidOn(t, d)
	s.key(d)
	assertInOrder(t, d)
	all, err := d.Pages()
	require.NoError(t, err)
	assert.Equal(t, before+1, all)
	key, found := strings.CutPrefix(saidOn(t, d), asked)
	require.True(t, found)

	inOrder := func(text string, said ...string) {
		t.Helper()
		for _, sentence := range said {
			_, after, found := strings.Cut(text, packed(sentence))
			require.True(t, found, "%q in its turn in %q", sentence, text)
			text = after
		}
		assert.Empty(t, text)
	}
	inOrder(asked, "Three cases", "The first lead.", "The second lead.", s.Words.Label(words.CasesName), s.Words.Label(words.SheetDate),
		"Case one", "This is given.", "Which eye? □the right one □the left one", "How far? ________ cm",
		"Case two", "Two beads.", "How much? ________ dioptres □cannot be told",
		"Case three", "A report.", "And more of it.", "Do they fit?", "□They fit", "□These do not: ________")
	inOrder(key, "The key", "For who hands them out.",
		"Case one", "Which eye? The left one", "How far? Twelve cm", "Because of this.",
		"Case two", "Five dioptres.", "Because of that.",
		"Case three", "They fit.", "Nothing speaks against it.",
		"Sources: Row one. Row two.", "Invented, all of it.")

	s.Sources = nil
	d = s.document(1)
	s.key(d)
	assert.NotContains(t, saidOn(t, d), "Sources")
}

// The pictures of cases are half as wide again as high, or square.
func TestPicturesOfCases(t *testing.T) {
	s := threeCases(t)
	for i, ratio := range []float64{1, 1.5} {
		l := s.Cases[i].step().Picture.List
		assert.InDelta(t, ratio, l.W/l.H, 1e-9)
		assert.Equal(t, s.Cases[i].Alt, s.Cases[i].step().Picture.Alt)
	}
	assert.Nil(t, s.Cases[2].step().Picture.List)
}

// Cases are printed as large as leaves the key on one page, and are no smaller for nothing.
func TestCasesAreAsLargeAsThereIsRoom(t *testing.T) {
	few, many := threeCases(t), threeCases(t)
	for range 2 {
		many.Cases = append(many.Cases, many.Cases...)
	}
	chosen := func(s *Cases) (scale float64, key int) {
		d, err := s.printed()
		require.NoError(t, err)
		all, err := d.Pages()
		require.NoError(t, err)
		before, err := s.document(d.Scale).Pages()
		require.NoError(t, err)
		return d.Scale, all - before
	}
	scale, key := chosen(few)
	assert.Equal(t, 1., scale)
	assert.Equal(t, 1, key)
	// With as much to say as is just too much for one page of the key.
	keyAtFull := func() int {
		d := many.document(1)
		before, err := d.Pages()
		require.NoError(t, err)
		many.key(d)
		all, err := d.Pages()
		require.NoError(t, err)
		return all - before
	}
	for n := 1; keyAtFull() == 1; n++ {
		require.Less(t, n, 100)
		for i := range many.Cases {
			many.Cases[i].Why = strings.Repeat("Because of this and of that. ", n)
		}
	}
	scale, key = chosen(many)
	assert.Less(t, scale, 1.)
	assert.Equal(t, 1, key)

	few.Cases[0].Alt = ""
	var b strings.Builder
	assert.ErrorContains(t, few.WritePDF(&b), "say in words")
	assert.Empty(t, b.String())
}

// On a screen the same is said; the key is there to be unfolded.
func TestCasesOnAScreen(t *testing.T) {
	s := threeCases(t)
	var b strings.Builder
	require.NoError(t, s.WriteHTML(&b))
	page := b.String()
	for _, said := range []string{"Three cases", "The first lead.", "Case one", "This is given.", "the right one", "Which eye?", "How far?",
		"How much?", "dioptres", "Do they fit?", "They fit", "These do not:", "The key", "The left one", "Because of that.", "Row one.", "Invented, all of it."} {
		assert.Contains(t, page, said)
	}
	assert.Equal(t, 2, strings.Count(page, "<svg"), "of the cases with a picture")
	assert.ErrorContains(t, s.WriteHTML(broken{}), "writing the cases")
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, assert.AnError }

// What a sheet says in short is what it says: places and other answers that have a picture.
func TestShort(t *testing.T) {
	for _, name := range withRoutine {
		s := builtIn(t, name, asItIs)
		h := s.handout(details[0])
		for _, pictures := range []int{1, 3} {
			short, err := s.Short(pictures)
			require.NoError(t, err)
			assert.Equal(t, []string{h.title, h.lead, h.see[0]}, []string{short.Title, short.Lead, short.SeeLead})
			assert.Equal(t, [][]string{h.stop, h.do, h.questions}, [][]string{short.Stop, short.Do, short.Ask})
			require.Len(t, short.Places, min(pictures, len(s.goals())))
			require.Len(t, short.Answers, pictures)
			for i, a := range short.Answers {
				assert.Equal(t, h.others[i].heard, a.Title)
				assert.Equal(t, h.others[i].means+" "+h.others[i].try, a.Text)
			}
			for _, p := range short.Places {
				var l display.List
				p.Draw(&l, 90, 60)
				assert.NotEmpty(t, l.Ops)
			}
		}
	}
	s := builtIn(t, "walk-of-ten", asItIs)
	s.Steps = nil
	_, err := s.Short(1)
	assert.Error(t, err)
}
