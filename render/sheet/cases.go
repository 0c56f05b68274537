package sheet

import (
	"fmt"
	"html/template"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"twincord/render/display"
	"twincord/render/pdf"
	"twincord/render/svg"
	"twincord/render/theme"
	"twincord/render/words"
)

// Cases are cases to hand out: what is given, what is asked with room to answer, and
// the key on a page of its own at the end.
type Cases struct {
	Words *words.Words
	Paper pdf.Paper // of the PDF
	Title string
	Lead  []string // paragraphs
	Cases []Case

	KeyTitle, KeyLead string
	Columns           [3]string // of the key on a screen: the case, what is right, why
	SourcesTitle      string
	Sources           []string // none: not shown
	Note              string   // at the end
}

// Case is one case, and its part of the key.
type Case struct {
	Title string
	Given []string
	// Picture draws what is seen, w by h; nil: there is none.
	Picture func(l *display.List, w, h float64)
	Tall    bool // it is as high as wide: what lies along the line of sight needs it
	Alt     string
	Asked   []CaseQuestion

	Right []string // of each question
	Why   string
}

// CaseQuestion is a question with what may be answered: choices, a number with a unit,
// or either.
type CaseQuestion struct {
	Text    string
	Unit    string // "": no number
	Choices []string
	Long    bool   // the choices stand below each other
	Blank   string // introduces a line to write on; "": none
}

// box is what a choice is ticked in, and line what a number is written on.
const (
	box     = "□" + noBreak
	noBreak = "\u00a0"
	line    = "________ "
)

// WritePDF writes the cases.
func (s *Cases) WritePDF(w io.Writer) error {
	d, err := s.printed()
	if err != nil {
		return err
	}
	return d.Write(w)
}

// printed is the cases as large as they can be with the key on one page, if it has room on
// one, and then on as few pages as there are with a print a little smaller.
func (s *Cases) printed() (best *Document, err error) {
	fewest := [2]int{math.MaxInt, math.MaxInt} // pages of the key, and before it
	for _, scale := range [...]float64{1, 0.94, 0.88, 0.82} {
		d := s.document(scale)
		before, err := d.Pages()
		if err != nil {
			return nil, err
		}
		s.key(d)
		all, err := d.Pages()
		if err != nil {
			return nil, err
		}
		if now := [2]int{all - before, before}; slices.Compare(now[:], fewest[:]) < 0 {
			best, fewest = d, now
		}
	}
	return best, nil
}

// document is the cases as they are printed, without the key.
func (s *Cases) document(scale float64) *Document {
	d := &Document{Paper: s.Paper, Language: s.Words.Language(), Title: s.Title, Scale: scale}
	d.Footer = func(page, pages int) string {
		return s.Words.Filled(words.SheetPage, "Page", strconv.Itoa(page), "Pages", strconv.Itoa(pages))
	}
	d.Heading(1, s.Title)
	for _, p := range s.Lead {
		d.Paragraph(p)
	}
	d.Blank(s.Words.Label(words.CasesName), s.Words.Label(words.SheetDate))
	for i := range s.Cases {
		d.Steps(1, s.Cases[i].step())
	}
	return d
}

// key adds the key, on a page of its own.
func (s *Cases) key(d *Document) {
	d.Break()
	d.Heading(2, s.KeyTitle)
	d.Note(s.KeyLead)
	var key []Step
	for i := range s.Cases {
		c := &s.Cases[i]
		key = append(key, Step{Aside: true, Title: c.Title, Text: append(c.Answered(), c.Why)})
	}
	d.Steps(2, key...)
	if len(s.Sources) > 0 {
		d.Note(s.SourcesTitle + ": " + strings.Join(s.Sources, " "))
	}
	d.Note(s.Note)
}

// height is that of its picture.
func (c *Case) height(w, h float64) float64 {
	if c.Tall {
		return w
	}
	return h
}

// step is a case as it is printed: the picture beside what is given and asked. Its
// number is in its title.
func (c *Case) step() Step {
	st := Step{Aside: true, Title: c.Title, Text: c.Given}
	if c.Picture != nil {
		l := new(display.List)
		c.Picture(l, printedWidth, c.height(printedWidth, printedHeight))
		st.Picture = Picture{List: l, Alt: c.Alt}
	}
	for _, q := range c.Asked {
		text := q.Text + "  "
		if q.Unit != "" {
			text += line + q.Unit + "   "
		}
		choices := make([]string, len(q.Choices))
		for i, choice := range q.Choices {
			// What is to be ticked stays beside its words.
			choices[i] = box + strings.ReplaceAll(choice, " ", noBreak)
		}
		if q.Blank != "" {
			choices = append(choices, box+q.Blank+" "+line)
		}
		if !q.Long {
			st.Text = append(st.Text, text+strings.Join(choices, "   "))
		} else {
			st.Text = append(append(st.Text, text), choices...)
		}
	}
	return st
}

// Answered are what is right, each after its question where there are several.
func (c *Case) Answered() []string {
	if len(c.Asked) == 1 {
		return c.Right
	}
	var all []string
	for i, q := range c.Asked {
		all = append(all, q.Text+" "+strings.TrimSuffix(c.Right[i], "."))
	}
	return all
}

var casesTemplate = parsed("cases.html")

// WriteHTML writes the cases as one page that needs nothing else and no script. The
// key is on a page of its own where it is printed, and folded up on a screen.
func (s *Cases) WriteHTML(w io.Writer) error {
	type shown struct {
		*Case
		SVG template.HTML
	}
	var all []shown
	for i := range s.Cases {
		c := &s.Cases[i]
		h := shown{Case: c}
		if c.Picture != nil {
			var l display.List
			c.Picture(&l, screenWidth, c.height(screenWidth, screenHeight))
			var b strings.Builder
			if err := svg.WriteInline(&b, &l, "c"+strconv.Itoa(i)); err != nil {
				return err
			}
			h.SVG = template.HTML(b.String())
		}
		all = append(all, h)
	}
	var page strings.Builder
	err := casesTemplate().Execute(&page, map[string]any{
		"Language": s.Words.Language(), "Title": s.Title, "Lead": s.Lead, "Cases": all,
		"KeyTitle": s.KeyTitle, "KeyLead": s.KeyLead, "Columns": s.Columns,
		"SourcesTitle": s.SourcesTitle, "Sources": s.Sources, "Note": s.Note,
		"PrintColours": template.CSS(fmt.Sprintf(":root { %s }", variables(&theme.Paper))),
	})
	if err == nil {
		_, err = io.WriteString(w, wellFormed(page.String()))
	}
	if err != nil {
		return fmt.Errorf("writing the cases: %w", err)
	}
	return nil
}
