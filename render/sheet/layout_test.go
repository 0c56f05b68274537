package sheet

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/pdf"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
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

// shapes is a page that only notes where things are: texts, pictures and all the rest.
type shapes struct {
	texts    map[string]display.Rect // by what they say and where
	said     strings.Builder         // in order
	pictures []display.Rect
	marks    []display.Point
	dots     []display.Rect
	askew    bool // a picture is not shown as it is drawn
}

func (s *shapes) Draw(_ *pdf.Element, l *display.List) {
	for i := range l.Paths {
		s.marks = append(s.marks, l.Paths[i].Outline.Points...)
		if dot := around(&l.Paths[i].Outline); l.Paths[i].Stroke == 0 && dot.W < 5 && math.Abs(dot.W-dot.H) < 1e-6 {
			s.dots = append(s.dots, dot)
		}
	}
	for i := range l.Texts {
		t := &l.Texts[i]
		s.said.WriteString(t.String)
		at := t.Glyphs[0].At
		wide := lettering.Width(lettering.Style{Face: t.Face, Size: t.Size}, t.String)
		id := fmt.Sprintf("%q at %.1f, %.1f", t.String, at.X, at.Y)
		s.texts[id] = display.Rect{X: at.X, Y: at.Y - 0.72*t.Size, W: wide, H: 0.94 * t.Size} // of letters with what hangs down
	}
}

func (s *shapes) Picture(_ *pdf.Element, l *display.List, frame display.Rect) {
	s.pictures = append(s.pictures, frame)
	tall := frame.W * l.H / l.W
	s.askew = s.askew || tall < frame.H-1e-6 || tall > frame.H+1e-6
}

func apart(a, b display.Rect) bool {
	return a.X+a.W <= b.X+0.01 || b.X+b.W <= a.X+0.01 || a.Y+a.H <= b.Y+0.01 || b.Y+b.H <= a.Y+0.01
}

// assertInOrder says that what a row draws is within its own room and the margins, so that
// no two rows run into each other; and that in it no text runs into another or into a
// picture.
func assertInOrder(t *testing.T, d *Document) {
	t.Helper()
	b, _, err := d.layout()
	require.NoError(t, err)
	for n := range b.rows {
		r := &b.rows[n]
		const y, slack = 1000, 0.6 // half of a line's width
		s := shapes{texts: map[string]display.Rect{}}
		r.draw(page{&s, 0}, y)
		require.False(t, s.askew, "row %d", n)
		wide := d.Paper.W/d.scale() - 2*marginSide
		room := display.Rect{X: marginSide - slack, Y: y - r.before - slack, W: wide + 2*slack, H: r.before + r.height + 2*slack}
		inside := func(x, y float64) bool {
			return room.X <= x && x <= room.X+room.W && room.Y <= y && y <= room.Y+room.H
		}
		for _, p := range s.marks {
			require.True(t, inside(p.X, p.Y), "row %d: a mark at %v, %v in %v", n, p.X, p.Y, room)
		}
		for _, dot := range s.dots {
			beside := false
			for _, a := range s.texts {
				off := math.Abs(dot.Y + dot.H/2 - (a.Y + a.H/2))
				beside = beside || dot.X+dot.W < a.X && off < a.H/4 && dot.H > a.H/5 && dot.H < a.H/2
			}
			require.True(t, beside, "row %d: a dot of no line in %v", n, dot)
		}
		for i, p := range s.pictures {
			require.True(t, inside(p.X, p.Y) && inside(p.X+p.W, p.Y+p.H), "row %d: a picture in %v of %v", n, p, room)
			for _, o := range s.pictures[:i] {
				require.True(t, apart(p, o), "row %d: pictures %v and %v", n, p, o)
			}
		}
		for id, a := range s.texts {
			require.True(t, inside(a.X, a.Y) && inside(a.X+a.W, a.Y+a.H), "row %d: %s, which is %v, of %v", n, id, a, room)
			for other, o := range s.texts {
				require.True(t, id == other || apart(a, o), "row %d: %s runs into %s", n, id, other)
			}
			for _, p := range s.pictures {
				require.True(t, apart(a, p), "row %d: %s is on the picture %v", n, id, p)
			}
		}
	}
}

// Nothing on a sheet runs into anything else, whatever the language, the units, the paper
// and how much of it there is; nor in any block of a document.
func TestNothingRunsIntoAnythingElse(t *testing.T) {
	for i, name := range withRoutine {
		for j, language := range words.Languages() {
			s := builtIn(t, name, asItIs)
			say, err := words.For(language)
			require.NoError(t, err)
			s.Words, s.Paper = say.WithInches((i+j)%2 == 1), []pdf.Paper{pdf.A4, pdf.Letter}[j%2]
			s.Note = strings.Repeat("A note. ", 20)
			assertInOrder(t, s.document(s.handout(details[i%len(details)])))
		}
	}

	picture := func(w, h float64) Picture {
		l := new(display.List)
		l.Reset(w, h, paperGround)
		return Picture{List: l, Alt: "a picture"}
	}
	long := strings.Repeat("Some more words. ", 20)
	d := &Document{Paper: pdf.A4}
	d.Heading(1, long)
	d.Heading(9, "Of a level that there is not")
	d.BulletsIn(3, "one", long, "three", "four")
	d.Bullets("short", long)
	d.Fields(Field{"A", 1, false}, Field{"Tick", 0.5, true}, Field{"C", 2, false})
	d.Box("In a frame", []string{"one", long}, long)
	d.Box(long, nil, "")
	d.Caution(long, "short", long)
	d.Beside(picture(100, 80), 0.4, []string{"a", "b", "c"}, []string{"one", long, "three"})
	d.Beside(picture(100, 300), 0.2, []string{"a"}, []string{"one"})
	d.Picture(picture(100, 20), 0.3)
	d.Steps(1, Step{Picture: picture(100, 80), Title: long, Text: []string{"one", long}}, Step{Title: "No picture", Text: []string{long}})
	d.Steps(1, Step{Aside: true, Picture: picture(100, 300), Share: 0.1, Title: "High", Text: []string{"one"}})
	d.Steps(3, Step{Picture: picture(100, 80), Title: "A", Text: []string{long}}, Step{Title: long}, Step{Aside: true, Picture: picture(50, 80), Title: "C"}, Step{Title: "D"})
	d.Table(Table{Columns: []string{"one", "two"}, Shares: []float64{1, 3}, Rows: [][]string{{"", long}, {"what", "short"}},
		Pictures: []Picture{picture(90, 60), picture(60, 90)}})
	d.Table(Table{Columns: []string{"done", "said"}, Rows: [][]string{{"", ""}, {"", long}}, Ticks: true, RowHeight: 20})
	assertInOrder(t, d)
}

// saidOn is all text of a document, without spaces and the hyphens at which lines end.
func saidOn(t *testing.T, d *Document) string {
	t.Helper()
	b, pages, err := d.layout()
	require.NoError(t, err)
	s := shapes{texts: map[string]display.Rect{}}
	for i, rows := range pages {
		for _, r := range rows {
			r.row.draw(page{&s, i}, r.y)
		}
	}
	require.NoError(t, b.err)
	return packed(s.said.String())
}

func packed(text string) string {
	return strings.ReplaceAll(strings.Join(strings.Fields(text), ""), "-", "")
}

// What a sheet has to say is all printed, in its order, and what is not due is not: the
// care line and who prescribed, what is expected at first, what has no picture.
func TestThePrintSaysAll(t *testing.T) {
	left := func(sc *scenes.Scene) { sc.Setup.Suppression.Eye = sim.Right }
	for _, name := range withRoutine {
		for _, care := range []bool{false, true} {
			change := asItIs
			if care {
				change = left
			}
			s := builtIn(t, name, change)
			s.Title, s.Note, s.Prescriber = "A set-up", "Invented.", "Dr Nobody"
			h := s.handout(details[0])
			say := s.Words.Label
			want := []string{say(words.SheetCare), strings.Join(h.care, ""), h.title, h.lead, say(words.SheetStopTitle)}
			if !care {
				want = want[2:]
			}
			want = append(want, h.stop...)
			want = append(want, h.usual, say(words.SheetFill), say(words.SheetName), say(words.SheetFillUntil), say(words.SheetFillMinutes),
				say(words.SheetFillTimes), say(words.SheetFillDays), say(words.SheetFillGlasses), say(words.SheetFillPatch), say(words.SheetFillVisit),
				say(words.SheetFillClinic), say(words.SheetFillTelephone), say(words.SheetReady))
			for i := range h.legend {
				want = append(want, h.letters[i]+packed(h.legend[i]))
			}
			want = append(want, say(words.SheetMarkTitle), h.mark.ruler, h.mark.beads, h.mark.check, say(words.SheetDoTitle))
			for i, text := range h.do {
				want = append(want, fmt.Sprint(i+1)+packed(text))
			}
			want = append(want, say(words.SheetClinicNote), h.note, say(words.SheetSee))
			want = append(want, h.see...)
			for _, p := range h.places {
				want = append(want, p.title, p.text)
			}
			want = append(want, h.between, h.why)
			require.Equal(t, care || name == "walk-with-findings", len(h.first) > 0, name)
			for i, p := range h.first {
				if i == 0 {
					want = append(want, say(words.SheetFirstTitle), say(words.SheetFirstLead))
				}
				want = append(want, p.title, p.text)
			}
			want = append(want, say(words.SheetElse), say(words.SheetHear), say(words.SheetMeans), say(words.SheetTry), say(words.SheetStopWhen))
			for _, o := range h.others {
				want = append(want, o.heard, o.means, o.try, o.stop)
			}
			want = append(want, say(words.SheetLog))
			want = append(want, h.log...)
			want = append(want, say(words.CautionsTitle))
			want = append(want, h.cautions...)
			want = append(want, say(words.SheetChild))

			text := saidOn(t, s.document(h))
			for _, sentence := range want {
				before, after, found := strings.Cut(text, packed(sentence))
				require.True(t, found, "%s, care %v: %q in its turn", name, care, sentence)
				for l, due := range map[words.Label]bool{
					words.SheetCare: care, words.CautionSuppression: care, words.SheetFirstTitle: h.first != nil, words.SheetFirstLead: h.first != nil,
				} {
					assert.True(t, due || !strings.Contains(before, packed(say(l))), "%s: %q is not due", name, l)
				}
				text = after
			}
		}
	}
}

// The drawing of the set-up is as large as leaves what there is to know before one begins
// on one page; only a note that is too long even beside the smallest goes on the next.
func TestTheSetupIsAsLargeAsThereIsRoom(t *testing.T) {
	sizes := map[int]bool{}
	for _, sentences := range []int{1, 24, 28, 32, 36, 40, 400} {
		s := builtIn(t, "walk-of-ten", asItIs)
		s.Note = strings.Repeat("A sentence of a note. ", sentences)
		h := s.handout(details[len(details)-1])
		b, pages, err := s.document(h).layout()
		require.NoError(t, err)
		first := shapes{texts: map[string]display.Rect{}}
		for _, r := range pages[0] {
			r.row.draw(page{&first, 0}, r.y)
		}
		require.Len(t, first.pictures, 1)
		share := first.pictures[0].W / b.width()
		n := len(setupShares) - 1
		for i, s := range setupShares {
			if math.Abs(s-share) < 1e-9 {
				n = i
			}
		}
		sizes[n] = true
		noted := strings.Contains(packed(first.said.String()), packed(h.note))
		full := func(share float64, note bool) bool {
			pages, err := s.firstPage(h, share, note).Pages()
			require.NoError(t, err)
			return pages > 1
		}
		assert.False(t, full(share, noted), "%d sentences: it is on one page", sentences)
		if n > 0 {
			assert.True(t, full(setupShares[n-1], noted), "%d sentences: a larger one would have room", sentences)
		}
		if !noted {
			assert.True(t, full(setupShares[len(setupShares)-1], true), "%d sentences: the note would have room", sentences)
		}
	}
	assert.GreaterOrEqual(t, len(sizes), 3, "%v", sizes)
}

// No page has one line alone of a paragraph of several, wherever on the page it begins.
func TestNoLineStandsAlone(t *testing.T) {
	for _, words := range []int{30, 60, 120} {
		for before := range 80 {
			d := &Document{Paper: pdf.A4}
			for range before {
				d.Paragraph("Some words.")
			}
			d.Paragraph(strings.Repeat("lorem ", words))
			b, pages, err := d.layout()
			require.NoError(t, err)
			lines := map[int]int{}
			for i, page := range pages {
				for _, p := range page {
					for n := before; n < len(b.rows); n++ {
						if p.row == &b.rows[n] {
							lines[i]++
						}
					}
				}
			}
			for page, n := range lines {
				assert.Greater(t, n, 1, "%d words after %d, page %d", words, before, page)
			}
		}
	}
}

// Fields stand side by side over the whole width, a line to write on after each label.
func TestFieldsTakeTheWholeWidth(t *testing.T) {
	d := &Document{Paper: pdf.A4}
	d.Fields(Field{"A", 1, false}, Field{"Bee", 0.5, false}, Field{"C", 2.5, false})
	b, _, err := d.layout()
	require.NoError(t, err)
	s := shapes{texts: map[string]display.Rect{}}
	b.rows[0].draw(page{&s, 0}, 100)
	require.Len(t, s.marks, 6)
	room := pdf.A4.W - 2*marginSide - 2*gutter
	end := marginSide
	for i, share := range []float64{1, 0.5, 2.5} {
		from, to := s.marks[2*i], s.marks[2*i+1]
		end += room * share / 4
		assert.InDelta(t, end, to.X, 1e-9)
		assert.Less(t, from.X, to.X)
		assert.Equal(t, from.Y, to.Y)
		end += gutter
	}
	assert.InDelta(t, pdf.A4.W-marginSide, s.marks[5].X, 1e-9)
}

// The parts of a document and what sets them off are bookmarks, and no smaller headings.
func TestBookmarks(t *testing.T) {
	d := &Document{Paper: pdf.A4}
	d.Heading(1, "One")
	d.Heading(2, "Two")
	d.Heading(3, "Three")
	d.Break()
	d.Box("In a box", []string{"a"}, "")
	d.Caution("A caution", "b")
	saidOn(t, d)
	b, pages, err := d.layout()
	require.NoError(t, err)
	s := shapes{texts: map[string]display.Rect{}}
	for i, rows := range pages {
		for _, r := range rows {
			r.row.draw(page{&s, i}, r.y)
		}
	}
	var all []string
	for _, mark := range b.bookmarks {
		all = append(all, fmt.Sprint(mark.Page, " ", mark.Text))
	}
	assert.Equal(t, []string{"0 One", "0 Two", "1 In a box", "1 A caution"}, all)
}

// In a box each item of the list has a dot, and what is said below it has none.
func TestDotsOfABox(t *testing.T) {
	d := &Document{Paper: pdf.A4}
	d.Box("A title", []string{"One", "Two", "Three"}, "Below")
	b, _, err := d.layout()
	require.NoError(t, err)
	s := shapes{texts: map[string]display.Rect{}}
	b.rows[0].draw(page{&s, 0}, 0)
	assert.Len(t, s.dots, 3)
}

// On a paper twice as large a document twice as large is the same.
func TestAScaledDocument(t *testing.T) {
	paper := pdf.A4
	paper.W, paper.H = 2*paper.W, 2*paper.H
	var pages [2][][]placed
	for i, d := range []*Document{{Paper: pdf.A4}, {Paper: paper, Scale: 2}} {
		for n := range 30 {
			d.Paragraph(strings.Repeat(fmt.Sprintf("Some words for a line or two, %d. ", n), 12))
		}
		var err error
		_, pages[i], err = d.layout()
		require.NoError(t, err)
	}
	require.Greater(t, len(pages[0]), 1)
	require.Len(t, pages[1], len(pages[0]))
	for n := range pages[0] {
		require.Len(t, pages[1][n], len(pages[0][n]))
		for i := range pages[0][n] {
			assert.InDelta(t, pages[0][n][i].y, pages[1][n][i].y, 1e-9)
		}
	}
}

// A mark is in the middle of its disc.
func TestMarksAreOnTheirDiscs(t *testing.T) {
	var l display.List
	at := display.Point{X: 50, Y: 40}
	disc(&l, at, 10, "7")
	x := &l.Texts[0]
	st := lettering.Style{Face: x.Face, Size: x.Size}
	assert.InDelta(t, at.X, x.Glyphs[0].At.X+lettering.Width(st, "7")/2, 1e-9)
	assert.InDelta(t, at.Y, x.Glyphs[0].At.Y-lettering.CapHeight(st)/2, 1)
	assert.Less(t, math.Hypot(lettering.Width(st, "7"), lettering.CapHeight(st))/2, 10., "and has room on it")
}
