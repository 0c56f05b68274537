package sheet

import (
	"twincord/render/display"
	"twincord/render/theme"
)

// Short is what a sheet says, for a page that shows it in its own way.
type Short struct {
	Title, Lead string
	Stop        []string // when to stop
	Do          []string // what to do, step by step
	Ask         []string // the child's questions
	SeeLead     string
	Places      []ShortPlace
	Answers     []ShortPlace // other ones than the one hoped for, those with a picture
}

// ShortPlace is a picture with its words.
type ShortPlace struct {
	Title, Text string
	Draw        func(l *display.List, w, h float64)
}

// Short gives what the sheet says, with at most so many pictures of places and of other
// answers.
func (s *Sheet) Short(pictures int) (*Short, error) {
	if err := s.valid(); err != nil {
		return nil, err
	}
	h := s.handout(detail{places: pictures, others: pictures})
	short := &Short{Title: h.title, Lead: h.lead, Stop: h.stop, Do: h.do, Ask: h.questions}
	for i := range h.places {
		p := &h.places[i]
		short.Places = append(short.Places, ShortPlace{p.title, p.text, p.draw})
	}
	for i := range h.others {
		if o := &h.others[i]; o.views != nil {
			short.Answers = append(short.Answers, ShortPlace{o.heard, o.means + " " + o.try, o.draw})
		}
	}
	if len(h.see) > 0 {
		short.SeeLead = h.see[0]
	}
	return short, nil
}

// Variables are the colours of a theme that pages use, as variables of a style sheet.
func Variables(t *theme.Theme) string { return variables(t) }
