package sheet

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/pdf"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
	"twincord/sim/answers"
)

func builtIn(t *testing.T, name string, change func(sc *scenes.Scene)) *Sheet {
	t.Helper()
	say, err := words.For("en")
	require.NoError(t, err)
	sc, _, err := scenes.Open(name)
	require.NoError(t, err)
	change(sc)
	return &Sheet{Kind: sc.Routine.Value.Kind, Words: say, Paper: pdf.A4, Steps: routine.Steps(sc), Prescribed: true}
}

func asItIs(*scenes.Scene) {}

var withRoutine = []string{"walk-of-ten", "jumps-of-three", "bare-string-walk", "walk-with-findings", "jumps-unsteady"}

// Each picture of another answer is one of that answer: what would be told of it is
// what is heard, and no two are the same.
func TestPicturesOfAnswersAreOfThem(t *testing.T) {
	heard := map[string]func(told answers.Told, v *sim.View) bool{
		"two": func(d answers.Told, _ *sim.View) bool {
			return d.Code[answers.Bead] == answers.Two && d.Code[answers.Higher] == answers.No
		},
		"higher":      func(d answers.Told, _ *sim.View) bool { return d.Code[answers.Higher] == answers.Yes },
		"one":         func(_ answers.Told, v *sim.View) bool { return v.Account.Pattern == sim.PatternOne },
		"nothing":     func(d answers.Told, _ *sim.View) bool { return d.Code[answers.Far] == answers.Zero },
		"nearer":      func(_ answers.Told, v *sim.View) bool { return v.Account.Meet == sim.MeetNearer },
		"beyond":      func(_ answers.Told, v *sim.View) bool { return v.Account.Meet == sim.MeetBeyond },
		"bare-nearer": func(_ answers.Told, v *sim.View) bool { return v.Account.Meet == sim.MeetNearer },
		"bare-beyond": func(_ answers.Told, v *sim.View) bool { return v.Account.Meet == sim.MeetBeyond },
		"sliding": func(_ answers.Told, v *sim.View) bool {
			return v.Account.Meet == sim.MeetNearer || v.Account.Meet == sim.MeetBeyond
		},
		"blurred": func(_ answers.Told, v *sim.View) bool { return v.Account.Clarity == sim.ClarityBlurred },
	}
	for _, name := range withRoutine {
		s := builtIn(t, name, asItIs)
		others := s.handout(details[0]).others
		require.Len(t, others, len(routine.EveryAnswer(s.Kind)), name)
		seen := map[*sim.View]bool{}
		for i, a := range routine.EveryAnswer(s.Kind) {
			assert.Equal(t, s.Words.Heard(string(a)), others[i].heard, name)
			require.NotEmpty(t, others[i].views, "%s: %s", name, a)
			for _, v := range others[i].views {
				assert.True(t, heard[string(a)](answers.Tell(v), v), "%s: %s: %+v", name, a, v.Account)
				assert.False(t, seen[v])
				seen[v] = true
			}
		}
		slides := others[len(others)-2].views
		require.Len(t, slides, 2)
		assert.NotEqual(t, slides[0].Account.Meet, slides[1].Account.Meet, name)
	}
}

// What it should look like is what eyes on the target see, whatever is the matter with
// the patient; what is the matter stands in a part of its own, and no other answer that
// is expected at first is one to stop at.
func TestGoalsAreOnTarget(t *testing.T) {
	troubles := map[string]func(s *sim.Setup){
		"left out": func(s *sim.Setup) { s.Suppression.Eye = sim.Right },
		"turned":   func(s *sim.Setup) { s.Posture.Deviation, s.Posture.Fixing = 20, sim.Right },
		"higher":   func(s *sim.Setup) { s.Posture.Vertical = 6 },
	}
	for _, name := range []string{"walk-of-ten", "jumps-of-three", "bare-string-walk"} {
		well := builtIn(t, name, asItIs).handout(details[0])
		assert.Empty(t, well.first, name)
		asked := builtIn(t, name, asItIs).Words.StopWhen(string(routine.StopAsked))
		for _, o := range well.others {
			assert.NotEqual(t, asked, o.stop, "%s: %s", name, o.heard)
		}
		for trouble, change := range troubles {
			s := builtIn(t, name, func(sc *scenes.Scene) { change(&sc.Setup) })
			require.True(t, s.needsCare())
			h := s.handout(details[0])
			require.Len(t, h.places, len(well.places))
			for i := range h.places {
				assert.Equal(t, well.places[i].title, h.places[i].title)
				assert.Equal(t, well.places[i].text, h.places[i].text, "%s, %s", name, trouble)
				assert.True(t, routine.Right(&h.places[i].views[0].Account), "%s, %s", name, trouble)
			}
			assert.Equal(t, well.do, h.do, "%s, %s", name, trouble)
			require.NotEmpty(t, h.first, "%s, %s", name, trouble)
			for _, p := range h.first {
				assert.NotContains(t, texts(h.places), p.text)
			}
			for i, o := range routine.Others(s.Kind, s.Steps) {
				at, v := &s.Steps[0], new(sim.View)
				if o.Answer == routine.NothingBehind { // is said of the nearest place alone
					at = o.At
				}
				at.Look(v)
				told, said := answers.Tell(v), o.Answer.Said()
				expected := true
				for item, c := range said.Code {
					expected = expected && (c == answers.Open || c == told.Code[item])
				}
				if expected {
					assert.Equal(t, s.Words.StopWhen(string(routine.StopAsked)), h.others[i].stop, "%s, %s: %s", name, trouble, o.Answer)
				}
			}
		}
	}
}

func texts(places []place) (all []string) {
	for _, p := range places {
		all = append(all, p.text)
	}
	return all
}

// At most six places have a picture, and with those that are listed they are all, each
// with its number.
func TestPlacesAreAllThere(t *testing.T) {
	for _, name := range withRoutine {
		s := builtIn(t, name, asItIs)
		goals := s.goals()
		for _, d := range details {
			h := s.handout(d)
			require.LessOrEqual(t, len(h.places), d.places)
			all := h.between
			for _, p := range h.places {
				all += " " + p.title
			}
			assert.Equal(t, len(h.places) == len(goals), h.between == "", "%s: %q", name, h.between)
			pictured := s.chosen(goals, d.places)
			for i := range goals {
				assert.Contains(t, all, s.Words.Ruled(goals[i].step.At), "%s, place %d", name, i+1)
				item := s.Words.PlaceBetween(i+1, s.Words.Ruled(goals[i].step.At))
				assert.Equal(t, !slices.Contains(pictured, i), strings.Contains(h.between, item), "%s, place %d", name, i+1)
			}
		}
	}
}

// Up to thirteen places are listed one by one, more by their step; the list is of all of
// them, from the nearest on, whatever the order in which they are come to.
func TestPlacesToMarkAreListed(t *testing.T) {
	for _, n := range []int{2, mostMarks, mostMarks + 1, 20} {
		s := builtIn(t, "walk-of-ten", func(sc *scenes.Scene) {
			sc.Setup.Beads[0].At, sc.Routine.Value.Steps, sc.Routine.Value.Step = 600, n-1, 20
		})
		goals := s.goals()
		require.Len(t, goals, n)
		var at []float64
		for i := range goals {
			at = append(at, 600-20*float64(n-1-i))
		}
		list := s.Words.Filled(words.SheetMarkList, "Places", s.Words.Ruled(at...))
		every := s.Words.Filled(words.SheetMarkEvery, "Step", s.Words.Ruled(20), "To", s.Words.Ruled(at[0]), "From", s.Words.Ruled(600))
		screen := s.Words.Filled(words.SheetMarkScreen, "Places", s.Words.Ruled(at...))
		said := s.marks(goals)
		assert.Equal(t, n <= mostMarks, strings.HasPrefix(said.ruler, list), "%d: %q", n, said.ruler)
		assert.Equal(t, n > mostMarks, strings.HasPrefix(said.ruler, every), "%d: %q", n, said.ruler)
		assert.Equal(t, n <= mostMarks, said.screen == screen, "%d: %q", n, said.screen)
	}
}

// Places that look all the same have pictures evenly among them, with both ends.
func TestPicturesAreOfPlacesEvenly(t *testing.T) {
	s := builtIn(t, "walk-of-ten", asItIs)
	view := s.goals()[0].view
	for _, tt := range []struct {
		places, most int
		want         []int
	}{
		{11, 6, []int{0, 2, 4, 6, 8, 10}}, {11, 3, []int{0, 5, 10}}, {11, 2, []int{0, 10}}, {11, 1, []int{0}},
		{13, 4, []int{0, 4, 8, 12}}, {3, 6, []int{0, 1, 2}}, {1, 6, []int{0}},
	} {
		goals := make([]goal, tt.places)
		for i := range goals {
			goals[i].view = view
		}
		assert.Equal(t, tt.want, s.chosen(goals, tt.most), "%d of %d", tt.most, tt.places)
	}
}

// What a child follows without words: sit, look, count, go on where there is anywhere to
// go, what is wrong, and when to stop; the places that are gone to are marked once each.
func TestWhatAChildFollows(t *testing.T) {
	for _, name := range withRoutine {
		for _, alone := range []bool{false, true} {
			s := builtIn(t, name, asItIs)
			if alone {
				s.Steps = s.Steps[:1]
			}
			say := s.Words.Label
			want := []string{say(words.SheetChildSit), say(words.SheetChildLook), say(words.SheetChildCount), say(words.SheetChildNearer),
				say(words.SheetChildTwo), say(words.SheetChildStop)}
			if alone {
				want = slices.Delete(want, 3, 4)
			}
			panels := s.panels(s.handout(details[0]))
			var alts []string
			for _, p := range panels {
				alts = append(alts, p.alt)
			}
			require.Equal(t, want, alts, "%s, alone %v", name, alone)
			if alone {
				continue
			}
			var sitting, going display.List
			drawSetup(&sitting, childWidth, childHeight, &s.Steps[0].Setup, letters{})
			panels[3].draw(&going, childWidth, childHeight)
			marks := len(going.Paths) - len(sitting.Paths) - 3 // the way, its tip, and the number's disc
			assert.Equal(t, len(s.goals()), marks, name)
			require.Len(t, going.Texts, 1)
			assert.Equal(t, "4", going.Texts[0].String)
		}
	}
}

// A printed picture of a place is at least 40 mm wide.
func TestPicturesOfPlacesAreLarge(t *testing.T) {
	for _, paper := range []pdf.Paper{pdf.A4, pdf.Letter} {
		assert.GreaterOrEqual(t, besideShare*(paper.W-2*marginSide)/point, 40.)
	}
}

// The ruler is true: its marks are as far apart as those of any ruler, whatever the
// scale of the page.
func TestTheRulerIsTrue(t *testing.T) {
	assert.InDelta(t, 72, inchMM*point, 1e-9, "points to the inch")
	for _, paper := range []pdf.Paper{pdf.A4, pdf.Letter} {
		for _, inches := range []bool{false, true} {
			r := Ruler{Inches: inches}
			assert.Less(t, r.Length()*point+2*10, paper.H, "it fits")
		}
	}
}

// What there is to know before one begins is on one page, whatever the language, the
// units, the paper and the care that is needed; only a note may stand on the next.
func TestOneBeginsWithOnePage(t *testing.T) {
	for _, name := range withRoutine {
		for _, care := range []bool{false, true} {
			s := builtIn(t, name, func(sc *scenes.Scene) {
				if care {
					sc.Setup.Suppression.Eye = sim.Right
				}
			})
			for _, language := range words.Languages() {
				for _, inches := range []bool{false, true} {
					for _, paper := range []pdf.Paper{pdf.A4, pdf.Letter} {
						say, err := words.For(language)
						require.NoError(t, err)
						s.Words, s.Paper = say.WithInches(inches), paper
						h := s.handout(detail{1, 0, 0})
						require.Equal(t, care, h.care != nil)
						pages, err := s.firstPage(h, setupShares[len(setupShares)-1], false).Pages()
						require.NoError(t, err)
						assert.Equal(t, 1, pages, "%s, care %v, %s, inches %v, %v", name, care, language, inches, paper)
					}
				}
			}
		}
	}
}

// Where the string is longer than the ruler, the sheet says how one goes on.
func TestMarkingGoesOnPastTheRuler(t *testing.T) {
	long := builtIn(t, "walk-of-ten", asItIs)
	short := builtIn(t, "walk-of-ten", func(sc *scenes.Scene) {
		sc.Setup.Beads[0].At, sc.Routine.Value.Steps, sc.Routine.Value.Step = 220, 3, 50
	})
	for _, inches := range []bool{false, true} {
		long.Words, short.Words = long.Words.WithInches(inches), short.Words.WithInches(inches)
		r := Ruler{Inches: inches}
		assert.Less(t, r.lastMark(), r.Length())
		on := long.Words.Filled(words.SheetMarkOn, "End", long.Words.Ruled(r.lastMark()), "Next", long.Words.Ruled(r.lastMark()+r.unit()))
		assert.Contains(t, long.marks(long.goals()).ruler, on)
		assert.NotContains(t, long.marks(long.goals()).screen, on)
		assert.NotContains(t, short.marks(short.goals()).ruler, on)
	}
}

// A heading, and the lines that lead to what is under it, are on the page of that, wherever
// on a page they come.
func TestNothingIsApartFromWhatLeadsToIt(t *testing.T) {
	l := new(display.List)
	l.Reset(150, 100, paperGround)
	picture := Picture{List: l, Alt: "a picture"}
	for before := range 80 {
		d := &Document{Paper: pdf.A4}
		for range before {
			d.Paragraph("Some words.")
		}
		d.Heading(2, "A part")
		d.Lead("What follows.")
		d.Steps(1, Step{Picture: picture, Title: "A step"})
		b, pages, err := d.layout()
		require.NoError(t, err)
		require.Len(t, b.rows, before+3)
		on := map[*row]int{}
		for i, page := range pages {
			for _, p := range page {
				on[p.row] = i
			}
		}
		step := on[&b.rows[before+2]]
		assert.Equal(t, step, on[&b.rows[before]], "the heading, after %d", before)
		assert.Equal(t, step, on[&b.rows[before+1]], "the lead, after %d", before)
	}
}

// What takes a page more is not added, and leaves no trace.
func TestWhatFits(t *testing.T) {
	d := &Document{Paper: pdf.A4}
	d.Paragraph("Some words.")
	line := func() { d.Paragraph("More.") }
	n := 0
	for ; d.Fits(line); n++ {
		require.Less(t, n, 100)
	}
	require.Greater(t, n, 30)
	pages, err := d.Pages()
	require.NoError(t, err)
	require.Equal(t, 1, pages)
	line()
	pages, err = d.Pages()
	require.NoError(t, err)
	require.Equal(t, 2, pages)
}

// A sheet has as much detail as leaves it no larger than it may be: one that fits has all,
// one with a crowd of beads less.
func TestAsMuchDetailAsThereIsRoomFor(t *testing.T) {
	crowd := func(sc *scenes.Scene) {
		sc.Setup.String.Length, sc.Setup.Beads, sc.Setup.Look.Bead = 1500, nil, 0
		for i := range sim.MaxBeads {
			sc.Setup.Beads = append(sc.Setup.Beads, sim.Bead{
				Name: strconv.Itoa(i), At: float64(150 + 100*i), Diameter: 16, Surface: sim.SurfaceDotted, Colour: sim.RGB{R: 200, G: byte(20 * i)},
			})
		}
	}
	for name, form := range map[string]struct {
		most  int
		write func(s *Sheet, w io.Writer) error
		whole func(s *Sheet, b *bytes.Buffer, h *handout) error // with a given detail
	}{
		"HTML": {MostHTML, (*Sheet).WriteHTML, func(s *Sheet, b *bytes.Buffer, h *handout) error { return s.html(b, h) }},
		"PDF":  {MostPDF, (*Sheet).WritePDF, func(s *Sheet, b *bytes.Buffer, h *handout) error { return s.document(h).Write(b) }},
	} {
		for _, crowded := range []bool{false, true} {
			change := asItIs
			if crowded {
				change = crowd
			}
			s := builtIn(t, "jumps-of-three", change)
			var want, got bytes.Buffer
			require.NoError(t, form.whole(s, &want, s.handout(details[0])))
			require.Equal(t, crowded, want.Len() > form.most, "%s: %d of %d bytes", name, want.Len(), form.most)
			require.NoError(t, form.write(s, &got))
			assert.LessOrEqual(t, got.Len(), form.most, name)
			assert.Equal(t, !crowded, bytes.Equal(want.Bytes(), got.Bytes()), "%s: %d of %d bytes", name, want.Len(), form.most)
		}
	}
}

// The first detail is taken with which a sheet is no larger than it may be, to the byte, and
// the last whatever comes of it.
func TestTheFirstDetailThatFits(t *testing.T) {
	s := builtIn(t, "walk-of-ten", asItIs)
	for most, want := range map[int]int{100: 90, 90: 90, 89: 80, 80: 80, 79: 70, 40: 40, 39: 40, 0: 40} {
		n := 100
		var b bytes.Buffer
		require.NoError(t, s.write(&b, most, func(b *bytes.Buffer, _ *handout) error {
			n -= 10
			b.Write(make([]byte, n))
			return nil
		}))
		assert.Equal(t, want, b.Len(), "at most %d", most)
	}
}

// What may be seen at first is told of the first two places at which something else is seen
// than what is hoped for, each time another; of one on the way back that it is there.
func TestWhatMayBeSeenAtFirst(t *testing.T) {
	s := builtIn(t, "walk-with-findings", func(sc *scenes.Scene) {
		sc.Setup.Findings.Value.NPCBreak, sc.Setup.Findings.Value.NPCRecovery = 100, 200
		sc.Setup.Patient.Amplitude = sim.Some(sim.Dioptres(8)) // too near to be clear is where they let go
	})
	var titles []string
	said := map[string]bool{}
	for i := range s.Steps {
		var v sim.View
		step := &s.Steps[i]
		step.Look(&v)
		what := fmt.Sprint(v.Account.Fixated, v.Account.Near, v.Account.Far, v.Account.Clarity)
		if v.Holding.Value.State == sim.StateHolding || said[what] {
			continue
		}
		said[what] = true
		titles = append(titles, s.Words.Ruled(step.At))
	}
	require.Greater(t, len(titles), 1)
	got := s.first(1)
	require.Len(t, got, 2)
	assert.Equal(t, titles[0], got[0].title)
	assert.Equal(t, s.Words.Filled(words.SheetPlaceBack, "At", titles[1]), got[1].title)
	assert.Len(t, got[0].views, 1)
	assert.Empty(t, got[1].views, "a picture of the first alone")
}

// A hold is told as it is typed: whole where it is.
func TestHoldsAreToldAsTheyAre(t *testing.T) {
	for hold, want := range map[float64]string{5: " to 5.", 2.5: " to 2.5."} {
		s := builtIn(t, "walk-of-ten", func(sc *scenes.Scene) { sc.Routine.Value.Hold = hold })
		do := strings.Join(s.handout(details[0]).do, " ")
		assert.Contains(t, do, want+" ", "and no more digits")
	}
}

// Two views of one place share its picture in halves.
func TestViewsShareAPicture(t *testing.T) {
	s := builtIn(t, "walk-of-ten", asItIs)
	v := s.goals()[0].view
	p := place{alt: "Twice the same.", views: []*sim.View{v, v}}
	var l display.List
	p.draw(&l, 300, 100)
	assert.True(t, slices.ContainsFunc(l.Paths, func(p display.Path) bool {
		at := p.Outline.Points
		return p.Stroke > 0 && len(at) == 2 && at[0] == display.Point{X: 150} && at[1] == display.Point{X: 150, Y: 100}
	}))
}
