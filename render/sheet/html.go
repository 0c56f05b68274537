package sheet

import (
	"fmt"
	"html/template"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"twincord/render/display"
	"twincord/render/svg"
	"twincord/render/theme"
	"twincord/render/words"
)

var sheetTemplate = parsed("sheet.html")

// MostHTML is how large a sheet as HTML may be, in bytes.
const MostHTML = 600_000

// The pictures of a sheet on a screen. They are small: the finer what a list states,
// the longer it is as SVG.
const screenWidth, screenHeight = 150, 100

// WriteHTML writes the sheet as one HTML page that needs nothing else and no script,
// on which the exercise moves. It is well-formed XML too. Of a sheet that cannot be
// written nothing is.
func (s *Sheet) WriteHTML(w io.Writer) error {
	if err := s.valid(); err != nil {
		return err
	}
	for _, pictures := range [...]int{12, 8, 5, 3} {
		var page strings.Builder
		if err := s.html(&page, s.handout(pictures)); err != nil {
			return err
		}
		if page.Len() <= MostHTML {
			if _, err := io.WriteString(w, wellFormed(page.String())); err != nil {
				return fmt.Errorf("writing the sheet: %w", err)
			}
			return nil
		}
	}
	return fmt.Errorf("writing the sheet: its pictures are larger than %d bytes; fewer beads would fit", MostHTML)
}

// wellFormed is a page with a mark for each character that XML has no place for, such
// as control characters in a title.
func wellFormed(page string) string {
	return strings.Map(func(c rune) rune {
		if c < ' ' && c != '\n' && c != '\t' || c >= 0x7f && c < 0xa0 || c == 0xfffe || c == 0xffff {
			return utf8.RuneError
		}
		return c // and the mark for what is no UTF-8
	}, page)
}

// htmlPlace is a place with its picture.
type htmlPlace struct {
	Title, Text string
	SVG         template.HTML
}

// htmlList is a list under a heading.
type htmlList struct {
	Title string
	Items []string
	Short bool // its items
}

func (s *Sheet) html(w io.Writer, h *handout) error {
	say := s.Words.Label
	pictures := func(places []place, prefix string) (all []htmlPlace, err error) {
		var l display.List
		for i := range places {
			p := &places[i]
			p.draw(&l, screenWidth, screenHeight)
			var b strings.Builder
			if err := svg.WriteInline(&b, &l, prefix+strconv.Itoa(i)); err != nil {
				return nil, err
			}
			all = append(all, htmlPlace{p.title, p.text, template.HTML(b.String())})
		}
		return all, nil
	}
	places, err := pictures(h.places, "p")
	if err != nil {
		return err
	}
	answers, err := pictures(h.answers, "a")
	if err != nil {
		return err
	}
	film, seconds := keyFrames(h.film, len(places))
	some := ""
	if h.some {
		some = say(words.SheetSome)
	}
	err = sheetTemplate.Execute(w, map[string]any{
		"Language": s.Words.Language(), "Title": h.title, "Lead": h.lead, "Source": h.source,
		"Blanks": []string{say(words.SheetName), say(words.SheetPrepared), say(words.SheetDate)},
		"Lists": []htmlList{
			{say(words.SheetReady), h.ready, false}, {say(words.SheetAsk), h.ask, true}, {say(words.SheetHow), h.how, false},
		},
		"See": say(words.SheetSee), "SeeLead": strings.Join(h.see, " "),
		"Width": screenWidth, "Height": screenHeight, "Wall": hexOf(theme.Paper.Wall), "PaperInk": template.CSS(hexOf(theme.Paper.Ink)),
		"FilmTitle": say(words.SheetFilm), "FilmNote": say(words.SheetFilmNote), "Still": say(words.SheetStill),
		"Film": film, "Seconds": template.CSS(trimmed(seconds)),
		"Places": places, "Some": some, "Expected": h.expected,
		"Else": say(words.SheetElse), "Answers": answers, "Try": say(words.SheetTry), "Tries": h.tries,
		"Log": say(words.SheetLog), "Columns": h.log, "Rows": make([]struct{}, logRows),
		"CautionsTitle": say(words.CautionsTitle), "Cautions": s.Words.Cautions(),
		"PrintColours": template.CSS(fmt.Sprintf(":root { %s }", variables(&theme.Paper))),
	})
	if err != nil {
		return fmt.Errorf("writing the sheet: %w", err)
	}
	return nil
}

// logRows are the lines of the log on a page that has no end.
const logRows = 10

// crossfade is how long one place of the film gives way to the next, s: far slower
// than anything that flashes (row G3).
const crossfade = 0.4

// keyFrames are the rules of a film that shows its places in turn, over and over, and
// how long it is, s. A place fades in while the one before it fades out.
func keyFrames(film []frame, places int) (rules template.CSS, seconds float64) {
	for _, f := range film {
		seconds += f.seconds
	}
	var b strings.Builder
	for p := range places {
		fmt.Fprintf(&b, ".film .f%d { animation-name: f%d; }\n@keyframes f%d {", p, p, p)
		key := func(at, opacity float64) {
			fmt.Fprintf(&b, " %s%% { opacity: %s; }", trimmed(100*at/seconds), trimmed(opacity))
		}
		now := 0.
		before := film[len(film)-1].place // the film begins again
		for i, f := range film {
			shown, was := f.place == p, before == p
			switch {
			case i == 0 && shown && !was, i > 0 && shown && !was:
				key(now, 0)
				key(now+crossfade, 1)
			case was && !shown:
				key(now, 1)
				key(now+crossfade, 0)
			case i == 0:
				key(0, map[bool]float64{true: 1}[shown])
			}
			now += f.seconds
			before = f.place
		}
		key(seconds, map[bool]float64{true: 1}[before == p])
		b.WriteString(" }\n")
	}
	return template.CSS(b.String()), seconds
}

// trimmed writes a number with at most two decimals.
func trimmed(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }

// colours are those of a page: as on paper, but where a screen is to be dark.
func colours() template.CSS {
	return template.CSS(fmt.Sprintf(":root { color-scheme: light dark; %s }\n@media screen and (prefers-color-scheme: dark) { :root { %s } }",
		variables(&theme.Paper), variables(&theme.Dark)))
}

// variables are the colours of a theme that the page uses.
func variables(t *theme.Theme) string {
	var b strings.Builder
	for _, v := range []struct {
		name   string
		colour display.Colour
	}{
		{"ground", t.Ground}, {"panel", t.Panel}, {"raised", t.Raised}, {"ink", t.Ink}, {"muted", t.Muted},
		{"edge", t.Edge}, {"hairline", t.Hairline}, {"accent", t.Accent}, {"on-accent", t.OnAccent},
	} {
		fmt.Fprintf(&b, "--%s: %s; ", v.name, hexOf(v.colour))
	}
	return strings.TrimSpace(b.String())
}

// hexOf writes an opaque colour.
func hexOf(c display.Colour) string {
	part := func(v float64) int { return int(math.Round(v * 255)) }
	return fmt.Sprintf("#%02x%02x%02x", part(c.R), part(c.G), part(c.B))
}
