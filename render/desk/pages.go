package desk

import (
	"twincord/render/ui"

	"twincord/render/display"
	"twincord/render/words"
)

// reading is an overlay of text to read: lines with something at their beginning.
type reading struct {
	heading words.Label
	lines   func(d *Desk) []ui.Paragraph
	scroll  *ui.Scroller
	read    func() // when it is closed
}

// openKeys shows what every key does.
func (d *Desk) openKeys() {
	d.open(&reading{heading: words.KeysTitle, lines: (*Desk).keyLines})
	d.kit.SetFocus(d.overs[0]) // the arrow keys scroll at once
}

// openAbout shows the cautions that are due.
func (d *Desk) openAbout() {
	d.open(&reading{heading: words.CautionsTitle, lines: func(d *Desk) []ui.Paragraph {
		all := []ui.Paragraph{{Text: d.say.Label(words.AboutLead)}}
		for _, c := range d.cautions() {
			all = append(all, ui.Paragraph{Before: "•", Text: c})
		}
		return append(all, ui.Paragraph{Text: d.given.Version})
	}, read: func() { d.Read = true }})
	d.kit.SetFocus(d.overs[0])
}

// keyLines are all keys with what they do.
func (d *Desk) keyLines() []ui.Paragraph {
	var all []ui.Paragraph
	for i := range d.commands {
		c := &d.commands[i]
		if c.hint == "" {
			continue
		}
		if keys := d.keysOf(c); keys != "" {
			all = append(all, ui.Paragraph{Before: keys, Text: d.say.Label(c.hint)})
		}
	}
	others := [][2]words.Label{
		{words.KeyTabName, words.KeyTabDoes}, {words.KeyArrows, words.KeyArrowsDo}, {words.KeyPages, words.KeyPagesDo},
		{words.KeyHomeName, words.KeyHomeDoes}, {words.KeyEnterName, words.KeyEnterDoes}, {words.KeyEscName, words.KeyEscDoes},
	}
	if !d.NoLetters {
		others = append(others, [2]words.Label{words.KeyRightCover, words.HintCoverRight}, [2]words.Label{words.KeyLeftCover, words.HintCoverLeft})
	}
	for _, k := range others {
		all = append(all, ui.Paragraph{Before: d.say.Label(k[0]), Text: d.say.Label(k[1])})
	}
	return all
}

// keyNames are names of keys that are the same in every language.
var keyNames = map[ui.Key]string{ui.KeyF1: "F1", ui.KeyF10: "F10", ui.KeyF11: "F11"}

func (r *reading) title(d *Desk) string { return d.say.Label(r.heading) }

func (r *reading) build(d *Desk) []ui.Widget {
	r.scroll = &ui.Scroller{Scroll: ui.Scroll{Base: ui.Base{Name: "text", Hint: d.say.Label(words.HintScroll)}}, Lines: r.lines(d)}
	return []ui.Widget{r.scroll}
}

func (r *reading) arrange(d *Desk, area display.Rect) {
	r.scroll.Area = area
	r.scroll.Lay(&d.kit)
}

func (r *reading) closed(*Desk) {
	if r.read != nil {
		r.read()
	}
}

func (r *reading) draw(*Desk, *display.List, display.Rect) {}
