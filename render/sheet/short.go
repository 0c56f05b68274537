package sheet

import (
	"twincord/render/display"
	"twincord/render/theme"
)

// Short is what a sheet says, for a page that shows it in its own way.
type Short struct {
	Title, Lead     string
	Ready, Ask, How []string
	SeeLead         string
	Places          []ShortPlace
	Expected        []string
	Answers         []ShortPlace // other ones than the one hoped for
	Tries           []string
}

// ShortPlace is a picture with its words.
type ShortPlace struct {
	Title, Text string
	Draw        func(l *display.List, w, h float64)
}

// Short gives what the sheet says, with at most so many pictures of places.
func (s *Sheet) Short(pictures int) (*Short, error) {
	if err := s.valid(); err != nil {
		return nil, err
	}
	h := s.handout(pictures)
	places := func(all []place) (short []ShortPlace) {
		for i := range all {
			short = append(short, ShortPlace{all[i].title, all[i].text, all[i].draw})
		}
		return short
	}
	short := &Short{
		Title: h.title, Lead: h.lead, Ready: h.ready, Ask: h.ask, How: h.how,
		Places: places(h.places), Expected: h.expected, Answers: places(h.answers), Tries: h.tries,
	}
	if len(h.see) > 0 {
		short.SeeLead = h.see[0]
	}
	return short, nil
}

// Variables are the colours of a theme that pages use, as variables of a style sheet.
func Variables(t *theme.Theme) string { return variables(t) }
