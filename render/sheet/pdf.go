package sheet

import (
	"strconv"
	"strings"

	"twincord/render/display"
	"twincord/render/words"
)

// The pictures of a printed sheet, in the units of their lists.
const printedWidth, printedHeight = 300, 200

// document is the sheet as it is printed, with its pictures and a log of so many lines.
func (s *Sheet) document(h *handout, places, answers []Step, lines int) *Document {
	say := s.Words.Label
	d := &Document{Paper: s.Paper, Language: s.Words.Language(), Title: h.title}
	d.Boxes = say(words.SheetBoxes)
	d.Footer = func(page, pages int) string {
		return s.Words.Filled(words.SheetPage, "Page", strconv.Itoa(page), "Pages", strconv.Itoa(pages))
	}
	d.Heading(1, h.title)
	d.Paragraph(h.lead)
	if h.source != "" {
		d.Note(h.source)
	}
	d.Blank(say(words.SheetName))
	d.Blank(say(words.SheetPrepared), say(words.SheetDate))

	d.Heading(2, say(words.SheetReady))
	d.Bullets(h.ready...)
	d.Heading(2, say(words.SheetAsk))
	d.BulletsIn(2, h.ask...)
	d.Heading(2, say(words.SheetHow))
	d.Bullets(h.how...)

	d.Heading(2, say(words.SheetSee))
	d.Paragraph(strings.Join(h.see, " "))
	d.Steps(columns(len(places)), places...)
	if h.some {
		d.Note(say(words.SheetSome))
	}
	if len(h.expected) > 0 {
		d.Bullets(h.expected...)
	}

	d.Heading(2, say(words.SheetElse))
	// They are in no order, and nor is what to try beside them.
	var beside []Step
	for _, a := range append(answers[:len(answers):len(answers)], Step{Title: say(words.SheetTry), Text: h.tries}) {
		a.Aside = true
		beside = append(beside, a)
	}
	d.Steps(len(beside), beside...)

	d.Heading(2, say(words.SheetLog))
	log := Table{Columns: h.log, Shares: []float64{2, 3, 2, 5}, RowHeight: 21}
	for range lines {
		log.Rows = append(log.Rows, make([]string, len(h.log)))
	}
	d.Table(log)
	d.Caution(say(words.CautionsTitle), s.Words.Cautions()...)
	return d
}

// columns are those of so many pictures: as few as there may be without many rows.
func columns(pictures int) int {
	if pictures <= 6 {
		return max(4, pictures)
	}
	return 6
}

func steps(places []place) []Step {
	all := make([]Step, len(places))
	for i := range places {
		p := &places[i]
		l := new(display.List)
		p.draw(l, printedWidth, printedHeight)
		all[i] = Step{Picture: Picture{List: l, Alt: p.alt}, Title: p.title}
		if p.text != "" {
			all[i].Text = []string{p.text}
		}
	}
	return all
}
