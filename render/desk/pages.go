package desk

import (
	"strings"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
)

// reading is an overlay of text to read: lines with something at their beginning.
type reading struct {
	heading words.Label
	lines   func(d *Desk) []paragraph
	scroll  *scroller
	read    func() // when it is closed
}

// A paragraph is text, with what stands before it.
type paragraph struct{ before, text string }

// openKeys shows what every key does.
func (d *Desk) openKeys() {
	d.open(&reading{heading: words.KeysTitle, lines: (*Desk).keyLines})
	d.setFocus(d.overs[0]) // the arrow keys scroll at once
}

// openAbout shows the cautions.
func (d *Desk) openAbout() {
	d.open(&reading{heading: words.CautionsTitle, lines: func(d *Desk) []paragraph {
		all := []paragraph{{"", d.say.Label(words.AboutLead)}}
		for _, c := range d.say.Cautions() {
			all = append(all, paragraph{"•", c})
		}
		return append(all, paragraph{"", d.given.Version})
	}, read: func() { d.Read = true }})
	d.setFocus(d.overs[0])
}

// keyLines are all keys with what they do.
func (d *Desk) keyLines() []paragraph {
	var all []paragraph
	for i := range d.commands {
		c := &d.commands[i]
		if c.hint == "" {
			continue
		}
		var keys []string
		for _, r := range c.letters {
			keys = append(keys, strings.ToUpper(string(r)))
		}
		if name, ok := keyNames[c.key]; ok && c.key != noKey {
			keys = append(keys, name)
		}
		if c.ctrl != 0 {
			keys = append(keys, "Ctrl+"+strings.ToUpper(string(c.ctrl)))
		}
		if len(keys) > 0 {
			all = append(all, paragraph{strings.Join(keys, ", "), d.say.Label(c.hint)})
		}
	}
	for _, k := range [...][2]words.Label{
		{words.KeyTabName, words.KeyTabDoes}, {words.KeyArrows, words.KeyArrowsDo}, {words.KeyPages, words.KeyPagesDo},
		{words.KeyHomeName, words.KeyHomeDoes}, {words.KeyEnterName, words.KeyEnterDoes}, {words.KeyEscName, words.KeyEscDoes},
		{words.KeyRightCover, words.HintCoverRight}, {words.KeyLeftCover, words.HintCoverLeft},
	} {
		all = append(all, paragraph{d.say.Label(k[0]), d.say.Label(k[1])})
	}
	return all
}

// keyNames are names of keys that are the same in every language.
var keyNames = map[Key]string{KeyF1: "F1", KeyF11: "F11"}

func (r *reading) title(d *Desk) string { return d.say.Label(r.heading) }

func (r *reading) build(d *Desk) []widget {
	r.scroll = &scroller{base: base{name: "text", hint: d.say.Label(words.HintScroll)}, lines: r.lines(d)}
	return []widget{r.scroll}
}

func (r *reading) arrange(d *Desk, area display.Rect) {
	r.scroll.area = area
	r.scroll.lay(&d.kit)
}

func (r *reading) closed() {
	if r.read != nil {
		r.read()
	}
}

func (r *reading) draw(*Desk, *display.List, display.Rect) {}

// scroller is text that scrolls where it is longer than its area.
type scroller struct {
	base
	lines  []paragraph
	broken [][]string // the lines as they are broken
	indent float64
	height float64 // of all
	top    float64 // how far it is scrolled, pixels
}

func (s *scroller) style(k *kit) lettering.Style { return k.style(theme.Lead) }

// lay breaks the lines.
func (s *scroller) lay(k *kit) {
	st := s.style(k)
	s.indent, s.height, s.broken = 0, 0, s.broken[:0]
	for _, l := range s.lines {
		if l.before != "" {
			s.indent = max(s.indent, lettering.Width(st, l.before)+2*theme.Unit*k.unit)
		}
	}
	s.indent = min(s.indent, s.area.W/3)
	for _, l := range s.lines {
		indent := s.indent
		if l.before == "" {
			indent = 0
		}
		b := lettering.Wrap(st, l.text, s.area.W-indent-3*theme.Unit*k.unit)
		s.broken = append(s.broken, b)
		s.height += s.of(st, b)
	}
	s.move(0)
}

// of is the height of a paragraph.
func (s *scroller) of(st lettering.Style, broken []string) float64 {
	return float64(len(broken))*lettering.LineHeight(st) + 0.5*st.Size
}

func (s *scroller) move(by float64) { s.top = max(0, min(s.top+by, s.height-s.area.H)) }

func (s *scroller) press(k *kit, p Press) bool {
	line := lettering.LineHeight(s.style(k))
	switch p.Key {
	case KeyUp:
		s.move(-line)
	case KeyDown:
		s.move(line)
	case KeyPageUp:
		s.move(-s.area.H + line)
	case KeyPageDown:
		s.move(s.area.H - line)
	case KeyHome:
		s.move(-s.height)
	case KeyEnd:
		s.move(s.height)
	default:
		return false
	}
	return true
}

func (s *scroller) draw(k *kit, l *display.List) {
	st := s.style(k)
	before := st
	before.Colour = k.theme.Accent
	l.Rect(s.area)
	l.OpenClip()
	y := s.area.Y - s.top
	for i, b := range s.broken {
		h := s.of(st, b)
		if y+h > s.area.Y && y < s.area.Y+s.area.H {
			x, base := s.area.X, y+lettering.Ascent(st)
			if t := s.lines[i].before; t != "" {
				lettering.Draw(l, before, x, base, lettering.Start, lettering.Ellipsis(before, t, s.indent))
				x += s.indent
			}
			for _, text := range b {
				lettering.Draw(l, st, x, base, lettering.Start, text)
				base += lettering.LineHeight(st)
			}
		}
		y += h
	}
	l.End()
	if s.height > s.area.H {
		h := s.area.H * s.area.H / s.height
		at := s.area.Y + s.area.H*s.top/s.height
		k.plate(l, display.Rect{X: s.area.X + s.area.W - 5*k.unit, Y: at, W: 5 * k.unit, H: h}, k.theme.Edge)
	}
	k.drawRing(l, s, s.area)
}
