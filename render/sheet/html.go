package sheet

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"hash/fnv"
	"html/template"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"twincord/render/display"
	"twincord/render/svg"
	"twincord/render/theme"
	"twincord/render/words"
)

//go:embed sheet.js
var sheetScript string

var sheetTemplate = parsed("sheet.html")

// policy lets the page run its own script and nothing else, and load nothing.
var policy = func() string {
	sum := sha256.Sum256([]byte(sheetScript))
	return "default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) +
		"'; base-uri 'none'; form-action 'none'"
}()

// The pictures of a sheet on a screen. They are small: the finer what a list states,
// the longer it is as SVG.
const (
	screenWidth, screenHeight = 150, 100
	otherWidth, otherHeight   = 90, 60
)

// sessions are the lines of the log on a page that has no end.
const sessions = 14

// WriteHTML writes the sheet as one HTML page that needs nothing else. Its script goes
// through the places and keeps the log; without it everything is there to be read. It
// is well-formed XML too. Of a sheet that cannot be written nothing is.
func (s *Sheet) WriteHTML(w io.Writer) error {
	return s.write(w, MostHTML, func(b *bytes.Buffer, h *handout) error {
		var page strings.Builder
		if err := s.html(&page, h); err != nil {
			return err
		}
		b.WriteString(wellFormed(page.String()))
		return nil
	})
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

// htmlOther is a row of the other answers.
type htmlOther struct {
	SVG                     template.HTML
	Heard, Means, Try, Stop string
}

// htmlPanel is one of the child's pictures, over another one of the page.
type htmlPanel struct {
	SVG   template.HTML
	Under string // its id; empty: none
}

// marked is an item of a list with its letter.
type marked struct{ Mark, Text string }

// inline is a picture of the page.
func inline(id string, w, h float64, draw func(l *display.List, w, h float64)) (template.HTML, error) {
	var l display.List
	draw(&l, w, h)
	var b strings.Builder
	if err := svg.WriteInline(&b, &l, id); err != nil {
		return "", err
	}
	return template.HTML(b.String()), nil
}

// pictured are places with their pictures, whose ids begin with a letter.
func pictured(places []place, letter string) (all []htmlPlace, err error) {
	for i := range places {
		p := &places[i]
		if p.views == nil {
			all = append(all, htmlPlace{p.title, p.text, ""})
			continue
		}
		picture, err := inline(fmt.Sprint(letter, i), screenWidth, screenHeight, p.draw)
		if err != nil {
			return nil, err
		}
		all = append(all, htmlPlace{p.title, p.text, picture})
	}
	return all, nil
}

func (s *Sheet) html(w io.Writer, h *handout) error {
	say := s.Words.Label
	places, err := pictured(h.places, "p")
	if err != nil {
		return err
	}
	first, err := pictured(h.first, "f")
	if err != nil {
		return err
	}
	var others []htmlOther
	for i := range h.others {
		o := &h.others[i]
		var picture template.HTML
		if len(o.views) > 0 {
			if picture, err = inline(fmt.Sprint("a", i), otherWidth, otherHeight, o.draw); err != nil {
				return err
			}
		}
		others = append(others, htmlOther{picture, o.heard, o.means, o.try, o.stop})
	}
	var child []htmlPanel
	for i, p := range s.panels(h) {
		picture, err := inline(fmt.Sprint("c", i), screenWidth, screenHeight, func(l *display.List, w, h float64) {
			l.Reset(w, h, theme.Paper.Ground)
			if p.of != nil {
				l.Ground.A = 0 // over the picture that is on the page already
			}
			p.draw(l, w, h)
			l.Title = p.alt
		})
		if err != nil {
			return err
		}
		under := ""
		switch p.of {
		case nil:
		case &h.places[0]:
			under = "p0"
		default:
			under = "a0"
		}
		child = append(child, htmlPanel{picture, under})
	}
	setup, err := inline("s", setupWidth, setupHeight, func(l *display.List, w, h2 float64) { *l = *s.setupPicture(letters{h.letters, 6.5}).List })
	if err != nil {
		return err
	}
	ruler, err := inline("r", rulerWidth, rulerHeight, s.drawRuler)
	if err != nil {
		return err
	}
	var legend []marked
	for i, text := range h.legend {
		legend = append(legend, marked{h.letters[i], text})
	}
	var at []string
	for _, g := range s.goals() {
		at = append(at, s.Words.Ruled(g.step.At))
	}
	var numbers []string
	for i := range sessions {
		numbers = append(numbers, s.Words.Filled(words.SheetLogSession, "Number", s.Words.Number(float64(i+1), 0)))
	}
	labels := map[string]string{}
	for name, l := range map[string]words.Label{
		"Care": words.SheetCare, "StopTitle": words.SheetStopTitle, "Fill": words.SheetFill, "FillEmpty": words.SheetFillEmpty,
		"ClinicNote": words.SheetClinicNote, "Ready": words.SheetReady, "MarkTitle": words.SheetMarkTitle, "DoTitle": words.SheetDoTitle,
		"See": words.SheetSee, "Player": words.SheetPlayer, "Play": words.SheetPlay, "Pause": words.SheetPause,
		"Earlier": words.SheetEarlier, "Later": words.SheetLater, "FirstTitle": words.SheetFirstTitle, "FirstLead": words.SheetFirstLead,
		"Else": words.SheetElse, "Hear": words.SheetHear, "Means": words.SheetMeans, "Try": words.SheetTry, "StopWhen": words.SheetStopWhen,
		"Log": words.SheetLog, "Empty": words.SheetLogEmpty, "Back": words.SheetLogBack, "Stays": words.SheetLogStays, "Lost": words.SheetLogLost,
		"Child": words.SheetChild,
	} {
		labels[name] = say(l)
	}
	err = sheetTemplate().Execute(w, map[string]any{
		"Language": s.Words.Language(), "Policy": policy, "Script": template.JS(sheetScript), "Key": s.key(h),
		"Title": h.title, "Lead": h.lead, "Maker": s.Maker, "CareLines": h.care, "Stop": h.stop, "Usual": h.usual, "Note": h.note, "L": labels,
		"Lines": []string{say(words.SheetName), say(words.SheetFillMinutes), say(words.SheetFillTimes), say(words.SheetFillDays),
			say(words.SheetFillUntil), say(words.SheetFillClinic), say(words.SheetFillTelephone), say(words.SheetFillVisit)},
		"Ticks": []string{say(words.SheetFillGlasses), say(words.SheetFillPatch)},
		"Setup": setup, "Legend": legend, "Mark": map[string]string{"Ruler": h.mark.ruler, "Screen": h.mark.screen, "Beads": h.mark.beads, "Check": h.mark.check}, "Ruler": ruler, "Do": h.do, "Questions": h.questions,
		"SeeLead": strings.Join(h.see, " "), "Places": places, "Between": h.between, "Why": h.why, "First": first,
		"Width": screenWidth, "Height": screenHeight, "RulerWidth": rulerWidth, "RulerHeight": rulerHeight,
		"Others": others, "Columns": h.log, "Sessions": numbers, "At": at, "CautionsTitle": say(words.CautionsTitle), "Cautions": h.cautions, "ChildPictures": child,
		"PrintColours": template.CSS(fmt.Sprintf(":root { %s }", variables(&theme.Paper))),
	})
	if err != nil {
		return fmt.Errorf("writing the sheet: %w", err)
	}
	return nil
}

// The ruler of a page that a browser prints, mm.
const rulerWidth, rulerHeight = 15, 240

func (s *Sheet) drawRuler(l *display.List, w, h float64) {
	r := Ruler{Inches: s.Words.Inches()}
	l.Reset(w*point, h*point, theme.Paper.Ground)
	l.Title = s.Words.Filled(words.SheetRulerAlt, "Length", s.Words.Ruled(r.Length()))
	r.draw(l, 0.55*w*point, h*point, 1)
}

// key is what the log of this sheet is kept under: another exercise has another.
func (s *Sheet) key(h *handout) string {
	sum := fnv.New64a()
	for _, text := range [][]string{{h.title, h.note, h.mark.screen}, h.do} {
		fmt.Fprintln(sum, text)
	}
	return fmt.Sprintf("twincord-log-%x", sum.Sum64())
}

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
