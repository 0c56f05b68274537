package sheet

import (
	"bytes"
	"io"
	"strconv"
	"strings"

	"twincord/render/display"
	"twincord/render/words"
)

// The pictures of a printed sheet, in the units of their lists.
const (
	printedWidth, printedHeight = 150, 100
	// The drawing of the set-up.
	setupWidth, setupHeight = 300, 180
	// What a child follows.
	childWidth, childHeight = 150, 95
)

// printedRows are the lines of the log: two weeks of days, as the child's boxes.
const printedRows = 14

// WritePDF writes the sheet. What there is to know before one begins is on the first
// page.
func (s *Sheet) WritePDF(w io.Writer) error {
	return s.write(w, MostPDF, func(b *bytes.Buffer, h *handout) error { return s.document(h).Write(b) })
}

// setupShares are how much of the width of a page the drawing of the set-up takes, as
// much as leaves the first page to be one page. A note that is too long for it stands
// on the next.
var setupShares = [...]float64{0.54, 0.48, 0.42, 0.36}

// document is the sheet as it is printed.
func (s *Sheet) document(h *handout) *Document {
	for _, note := range [...]bool{true, false} {
		for _, share := range setupShares {
			d := s.firstPage(h, share, note)
			if pages, err := d.Pages(); err != nil || pages == 1 {
				s.rest(d, h, !note)
				return d
			}
		}
	}
	d := s.firstPage(h, setupShares[len(setupShares)-1], true)
	s.rest(d, h, false)
	return d
}

// firstPage is what there is to know before one begins.
func (s *Sheet) firstPage(h *handout, share float64, note bool) *Document {
	say := s.Words.Label
	d := &Document{Paper: s.Paper, Language: s.Words.Language(), Title: h.title, Ruler: &Ruler{Inches: s.Words.Inches()}}
	d.Ruler.Alt = s.Words.Filled(words.SheetRulerAlt, "Length", s.Words.Ruled(d.Ruler.Length()))
	d.Boxes = say(words.SheetBoxes)
	d.Footer = func(page, pages int) string {
		footer := s.Words.Filled(words.SheetPage, "Page", strconv.Itoa(page), "Pages", strconv.Itoa(pages))
		if s.Maker != "" {
			footer = s.Maker + " · " + footer
		}
		return footer
	}
	if h.care != nil {
		d.Box(say(words.SheetCare), h.care, "")
	}
	d.Heading(1, h.title)
	d.Main(h.lead)
	d.Box(say(words.SheetStopTitle), h.stop, h.usual)
	d.Heading(3, say(words.SheetFill)+". "+say(words.SheetFillEmpty))
	d.Fields(Field{say(words.SheetName), 1, false}, Field{say(words.SheetFillUntil), 0.6, false})
	d.Fields(Field{say(words.SheetFillMinutes), 1, false}, Field{say(words.SheetFillTimes), 1, false}, Field{say(words.SheetFillDays), 1.1, false})
	d.Fields(Field{say(words.SheetFillGlasses), 1, true}, Field{say(words.SheetFillPatch), 0.8, true}, Field{say(words.SheetFillVisit), 1.6, false})
	d.Fields(Field{say(words.SheetFillClinic), 1.3, false}, Field{say(words.SheetFillTelephone), 1, false})
	d.Heading(2, say(words.SheetReady))
	// The letters are as large as those of the list, however small the drawing is.
	unit := share * (s.Paper.W - 2*marginSide) / setupWidth
	d.Beside(s.setupPicture(letters{h.letters, markRadius / unit}), share, h.letters, h.legend)
	d.Heading(3, say(words.SheetMarkTitle))
	d.Paragraph(strings.Join([]string{h.mark.ruler, h.mark.beads, h.mark.check}, " "))
	d.Heading(2, say(words.SheetDoTitle))
	d.Numbered(h.do...)
	if note {
		s.printNote(d, h)
	}
	return d
}

func (s *Sheet) printNote(d *Document, h *handout) {
	if h.note != "" {
		d.Heading(3, s.Words.Label(words.SheetClinicNote))
		d.Paragraph(h.note)
	}
}

// rest are the pages after the first.
func (s *Sheet) rest(d *Document, h *handout, note bool) {
	say := s.Words.Label
	d.Break()
	if note {
		s.printNote(d, h)
	}
	d.Heading(2, say(words.SheetSee))
	d.Paragraph(strings.Join(h.see, " "))
	d.Steps(1, printed(h.places, placeShare(len(h.places)))...)
	if h.between != "" {
		d.Paragraph(h.between)
	}
	d.Paragraph(h.why)
	first := func() {
		if len(h.first) > 0 {
			d.Heading(2, say(words.SheetFirstTitle))
			d.Lead(say(words.SheetFirstLead))
			d.Steps(1, printed(h.first, besideShare)...)
		}
	}
	fits := d.Fits(first)
	d.Break()
	if !fits { // it begins the page of the other answers
		first()
	}

	if len(h.others) > 0 {
		d.Heading(2, say(words.SheetElse))
		t := Table{Columns: []string{"", say(words.SheetHear), say(words.SheetMeans), say(words.SheetTry), say(words.SheetStopWhen)},
			Shares: []float64{0.85, 0.9, 0.95, 1.6, 1.25}}
		for i := range h.others {
			o := &h.others[i]
			t.Rows = append(t.Rows, []string{"", o.heard, o.means, o.try, o.stop})
			t.Pictures = append(t.Pictures, o.picture())
		}
		d.Table(t)
	}
	d.Heading(2, say(words.SheetLog))
	log := Table{Columns: h.log, Shares: []float64{1, 1.3, 1.3, 3, 4.5}, RowHeight: 20, Ticks: true}
	for range printedRows {
		log.Rows = append(log.Rows, make([]string, len(h.log)))
	}
	d.Table(log)
	cautions := func() { d.Caution(say(words.CautionsTitle), h.cautions...) }
	if !d.Fits(cautions) {
		d.Break()
		cautions()
	}

	d.Break()
	d.Heading(2, say(words.SheetChild))
	var child []Step
	for _, p := range s.panels(h) {
		child = append(child, Step{Aside: true, Picture: p.picture()})
	}
	d.Steps(2, child...)
	d.Picture(tickRow(say(words.SheetChildDone)), 1)
}

// setupPicture is the drawing of the set-up with its letters.
func (s *Sheet) setupPicture(named letters) Picture {
	l := new(display.List)
	l.Reset(setupWidth, setupHeight, paperGround)
	drawSetup(l, setupWidth, setupHeight, &s.Steps[0].Setup, named)
	l.Title = s.Words.Label(words.SheetSetAlt)
	return Picture{List: l, Alt: l.Title}
}

// picture is the child's picture as it is printed.
func (p *panel) picture() Picture {
	l := new(display.List)
	if p.of != nil {
		p.of.draw(l, childWidth, childHeight)
	} else {
		l.Reset(childWidth, childHeight, paperGround)
	}
	p.draw(l, childWidth, childHeight)
	l.Title = p.alt
	return Picture{List: l, Alt: p.alt}
}

// picture is the place's picture as it is printed.
func (p *place) picture() Picture {
	if p.views == nil {
		return Picture{}
	}
	l := new(display.List)
	p.draw(l, printedWidth, printedHeight)
	return Picture{List: l, Alt: p.alt}
}

// placeShare is how much of the width pictures of so many places take: as much as leaves
// them on one page with what is said about them.
func placeShare(places int) float64 {
	const all, most = 6 * besideShare, 0.42
	return min(max(besideShare, all/float64(places)), most)
}

func printed(places []place, share float64) []Step {
	all := make([]Step, len(places))
	for i := range places {
		p := &places[i]
		all[i] = Step{Aside: true, Picture: p.picture(), Share: share, Title: p.title, Text: []string{p.text}}
	}
	return all
}
