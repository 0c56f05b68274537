package desk

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"twincord/render/display"
	"twincord/render/ui"
	"twincord/render/words"
)

// command is something that the desk does at a button or a key, wherever the focus
// is.
type command struct {
	name        string
	label, hint words.Label
	letters     string // typed, any of them
	key         ui.Key // where there is one that is not a letter
	ctrl        rune   // with Ctrl
	do          func(*Desk)
	on          func(*Desk) bool // nil: it has no state
	off         func(*Desk) bool // nil: it can always be done
	why         words.Label      // said to whom its key does nothing; empty: nothing
	icon        ui.Icon
	note        string // a key that has no field here
	again       bool   // it is done again while its key is held
}

const noKey = ui.KeyTab // Tab is no command's

// commandTable is the one table of what buttons and keys do.
func commandTable() []command {
	return []command{
		{name: "scenes", label: words.ButtonScenes, hint: words.HintScenes, ctrl: 'o', do: (*Desk).openGallery, icon: folder},
		{name: "save", label: words.ButtonSave, hint: words.HintSave, ctrl: 's', do: (*Desk).saveFile, icon: disk},
		{name: "save-as", label: words.ButtonSaveAs, hint: words.HintSaveAs, note: "Ctrl+Shift+S", do: (*Desk).saveAs},
		{name: "export", label: words.ButtonExport, hint: words.HintExport, ctrl: 'e', do: (*Desk).export},
		{name: "practise", label: words.ButtonPractise, hint: words.HintPractise, letters: "r", do: (*Desk).practise,
			off: unpractised, why: words.HintNoRoutine},
		{name: "cases", label: words.ButtonCases, hint: words.HintCases, letters: "e", do: (*Desk).openCases},
		{name: "sheet", label: words.ButtonSheet, hint: words.HintSheet, ctrl: 'p', do: (*Desk).sheet,
			off: unpractised, why: words.HintNoRoutine},
		{name: "page", label: words.ButtonPage, hint: words.HintPage, do: (*Desk).familyPage},
		{name: "film", label: words.ButtonFilm, hint: words.HintFilm, do: (*Desk).film},
		{name: "keys", label: words.ButtonKeys, hint: words.HintKeys, letters: "?", key: ui.KeyF1, do: (*Desk).openKeys},
		{name: "about", label: words.ButtonAbout, hint: words.HintAbout, do: (*Desk).openAbout},
		{name: "true", label: words.ButtonTrue, hint: words.HintTrue, letters: "z", do: (*Desk).truth,
			on: func(d *Desk) bool { return d.trueSize }},
		{name: "card", label: words.ButtonMeasure, hint: words.HintMeasure, do: (*Desk).openCard},
		{name: "menu", hint: words.HintMenu, key: ui.KeyF10, do: func(d *Desk) { d.kit.SetFocus(d.page.menu); d.page.menu.Open(&d.kit) },
			off: func(d *Desk) bool { return d.simple || d.family }},
		{name: "undo", label: words.ButtonUndo, hint: words.HintUndo, ctrl: 'z', do: func(d *Desk) { d.doc.Undo() },
			off: func(d *Desk) bool { return !d.doc.CanUndo() }, icon: turnBack, again: true},
		{name: "redo", label: words.ButtonRedo, hint: words.HintRedo, ctrl: 'y', do: func(d *Desk) { d.doc.Redo() },
			off: func(d *Desk) bool { return !d.doc.CanRedo() }, icon: turnOn, again: true},
		{name: "play", label: words.ButtonPlay, hint: words.HintPlay, letters: "p", do: (*Desk).play,
			on: func(d *Desk) bool { return d.playing }, off: func(d *Desk) bool { return !d.moves }},
		{name: "compare", label: words.ButtonCompare, hint: words.HintCompare, letters: "c",
			do: func(d *Desk) { d.compare = !d.compare; d.look() }, on: func(d *Desk) bool { return d.compare }, icon: compareSign},
		{name: "marks", label: words.ButtonMarks, hint: words.HintMarks, letters: "m",
			do: func(d *Desk) { d.marks = !d.marks }, on: func(d *Desk) bool { return d.marks }, icon: marksSign},
		{name: "deviation", hint: words.HintDeviation, letters: "d", do: (*Desk).typeDeviation,
			off: func(d *Desk) bool { return d.family }},
		{name: "wider", label: words.ButtonWider, hint: words.HintWider, letters: "-−", again: true, do: func(d *Desk) { d.zoomBy(zoomStep) }},
		{name: "closer", label: words.ButtonCloser, hint: words.HintCloser, letters: "+=", again: true, do: func(d *Desk) { d.zoomBy(1 / zoomStep) }},
		{name: "fit", letters: "0", do: func(d *Desk) { d.zoom, d.trueSize = 0, false }},
		{name: "family", label: words.ButtonFamily, hint: words.HintFamily, letters: "f", key: ui.KeyF11,
			do: func(d *Desk) { d.kit.Release(); d.family = !d.family }, icon: familySign},
		{name: "column", label: words.ButtonColumn, hint: words.HintColumn, letters: "h", do: (*Desk).foldColumn,
			on: func(d *Desk) bool { return !d.folded() }, icon: columnSign},
		{name: "views", hint: words.HintViews, letters: "1", ctrl: '1', do: func(d *Desk) { d.turnTo(viewsPage) }},
		{name: "set-up", hint: words.HintSetup, letters: "2", ctrl: '2', do: (*Desk).openSetup},
		{name: "numbers", hint: words.HintNumbers, letters: "3i", ctrl: '3', do: func(d *Desk) { d.turnTo(numbersPage) }},
		{name: "answers", hint: words.HintAnswers, letters: "4a", ctrl: '4', do: (*Desk).openAnswers},
		{name: "copy", label: words.ButtonCopy, hint: words.HintCopy, ctrl: 'c', do: func(d *Desk) { d.copied = d.report() }},
		{name: "language", hint: words.HintLanguage, letters: "g", do: func(d *Desk) { d.setLanguage(words.Languages()[d.nextLanguage()]) }},
		{name: "length", hint: words.HintLength, letters: "u", do: func(d *Desk) { d.speakAfresh(d.say.WithInches(!d.say.Inches())) }},
		{name: "look", hint: words.HintLook, letters: "t", do: func(d *Desk) { d.Light = !d.Light }},
		{name: "type", hint: words.HintType, letters: "l", do: func(d *Desk) { d.Large = !d.Large }},
	}
}

// unpractised says whether the scene has no routine.
func unpractised(d *Desk) bool { return !d.doc.Scene().Routine.OK }

// zoomStep is how many times as wide one step of zooming makes the field.
const zoomStep = 1.25

// foldColumn folds the column away, or shows it.
func (d *Desk) foldColumn() {
	if d.simple {
		d.showControls()
		return
	}
	d.Folded = !d.Folded
	d.recount()
}

// showControls shows what there is besides the scene that somebody sent.
func (d *Desk) showControls() {
	d.simple, d.Folded = false, false
	d.recount()
}

// turnTo opens a page of the column. What had the focus on another one leaves it to the
// tabs, from where it goes on into the page.
func (d *Desk) turnTo(page int) {
	if f := d.kit.Focus; page != d.Page && f != nil && (ui.Is(f, d.page.columns[d.Page].scroll) || slices.ContainsFunc(d.page.paged[d.Page], func(w ui.Widget) bool { return ui.Is(w, f) })) {
		d.kit.SetFocus(d.page.tabs)
	}
	d.Page = page
	d.showControls()
}

// command is the one of a name.
func (d *Desk) command(name string) *command {
	i := slices.IndexFunc(d.commands, func(c command) bool { return c.name == name })
	return &d.commands[i]
}

// keysOf are those that do it now, as they are written.
func (d *Desk) keysOf(c *command) string {
	if c.note != "" {
		return c.note
	}
	var keys []string
	for _, r := range c.letters {
		if !d.NoLetters {
			keys = append(keys, strings.ToUpper(string(r)))
		}
	}
	if name, ok := keyNames[c.key]; ok && c.key != noKey {
		keys = append(keys, name)
	}
	if c.ctrl != 0 {
		keys = append(keys, "Ctrl+"+strings.ToUpper(string(c.ctrl)))
	}
	return strings.Join(keys, ", ")
}

// press takes a key that no widget has a use for.
func (d *Desk) press(p ui.Press) {
	switch {
	case p.Key == ui.KeyEscape:
		d.escape()
	case d.given.Follow && p.Key == ui.KeyF11:
		d.windowed = !d.windowed
	case d.over != nil || d.given.Follow:
	case p.Key == ui.KeyLetter && p.Ctrl && p.Shift && p.Letter == 's':
		if !p.Again {
			d.saveAs()
		}
	case p.Key == ui.KeyEnter && d.kit.Focus == nil && d.page.through.Shown(): // what there is to do here
		d.page.through.Do()
	default:
		if c := d.commanded(p); c != nil {
			if c.again || !p.Again {
				d.run(c)
			}
		} else if !d.family {
			d.pressTarget(p)
		}
	}
}

// escape leaves what came last: news before what they were told over, and after what was
// opened since.
func (d *Desk) escape() {
	switch {
	case d.news.text != "" && (d.over == nil || d.over == d.news.over):
		d.hear()
	case d.over != nil:
		d.closeOverlay()
	case d.given.Follow:
		d.windowed = true
	case d.family:
		d.family = false
	}
}

// commanded is the command of a key, or nil.
func (d *Desk) commanded(p ui.Press) *command {
	for i := range d.commands {
		c := &d.commands[i]
		redo := c.name == "redo" && p.Shift && p.Letter == 'z'
		undo := c.name == "undo" && p.Shift
		if p.Key == ui.KeyLetter && p.Ctrl && c.ctrl != 0 && (c.ctrl == p.Letter && !undo || redo) || p.Key != ui.KeyLetter && c.key != noKey && c.key == p.Key {
			return c
		}
	}
	return nil
}

// pressTarget moves, with nothing in the focus, what is looked at.
func (d *Desk) pressTarget(p ui.Press) {
	switch p.Key {
	case ui.KeyLeft, ui.KeyRight, ui.KeyUp, ui.KeyDown, ui.KeyPageUp, ui.KeyPageDown, ui.KeyHome:
		if d.kit.Focus == nil {
			d.kit.SetFocus(d.page.handles[0])
			d.kit.Ring = true
			d.kit.Focus.Press(&d.kit, p)
		}
	}
}

// typedElsewhere takes a character that no widget has a use for.
func (d *Desk) typedElsewhere(c rune, again bool) {
	if g, ok := d.over.(*gallery); ok && !again {
		g.typed(d, c)
		return
	}
	if d.over != nil || d.NoLetters {
		return
	}
	letter := unicode.ToLower(c)
	if d.given.Follow {
		if letter == 'f' && !again {
			d.windowed = !d.windowed
		}
		return
	}
	for i := range d.commands {
		if of := &d.commands[i]; strings.ContainsRune(of.letters, letter) {
			if of.again || !again {
				d.run(of)
			}
			return
		}
	}
}

// run does a command, or says why it cannot be done.
func (d *Desk) run(c *command) {
	switch {
	case c.off == nil || !c.off(d):
		d.doc.Done()
		c.do(d)
	case c.why != "":
		d.Tell(d.say.Label(c.why))
	}
}

// play lets a set-up that moves run from its beginning, or stops it.
func (d *Desk) play() {
	plays := !d.playing && d.moves
	d.restart()
	d.playing = plays
	d.look()
	d.stale, d.changed = true, d.in.Seconds
}

// nextLanguage is the one after the language of the window, of words.Languages.
func (d *Desk) nextLanguage() int {
	all := words.Languages()
	return (slices.Index(all, d.say.Language()) + 1) % len(all)
}

// setLanguage takes another language, for everything on the page.
func (d *Desk) setLanguage(language string) {
	say, err := words.For(language)
	if err != nil {
		panic(fmt.Sprintf("desk: %v", err)) // only those of words.Languages are offered
	}
	d.speakAfresh(say.WithInches(d.say.Inches()))
}

// speakAfresh says everything in other words.
func (d *Desk) speakAfresh(say *words.Words) {
	d.Language, d.Inches = say.Language(), say.Inches()
	d.speakIn(say)
	d.restart()
	d.look()
	d.speak()
}

// folder and disk draw a folder, and what something is saved on.
func folder(l *display.List, m display.Point, u float64, c display.Colour) {
	l.MoveTo(m.X-9*u, m.Y+7*u)
	l.LineTo(m.X-9*u, m.Y-6*u)
	l.LineTo(m.X-3*u, m.Y-6*u)
	l.LineTo(m.X-1*u, m.Y-3*u)
	l.LineTo(m.X+9*u, m.Y-3*u)
	l.LineTo(m.X+9*u, m.Y+7*u)
	l.Close()
	l.Stroke(2*u, display.Paint{From: c})
}

func disk(l *display.List, m display.Point, u float64, c display.Colour) {
	l.MoveTo(m.X, m.Y-8*u)
	l.LineTo(m.X, m.Y+3*u)
	l.MoveTo(m.X-5*u, m.Y-2*u)
	l.LineTo(m.X, m.Y+3*u)
	l.LineTo(m.X+5*u, m.Y-2*u)
	l.MoveTo(m.X-9*u, m.Y+2*u)
	l.LineTo(m.X-9*u, m.Y+8*u)
	l.LineTo(m.X+9*u, m.Y+8*u)
	l.LineTo(m.X+9*u, m.Y+2*u)
	l.Stroke(2*u, display.Paint{From: c})
}

// turnBack and turnOn draw the arrows of undo and redo.
func turnBack(l *display.List, m display.Point, u float64, c display.Colour) {
	turnArrow(l, m, -u, u, c)
}
func turnOn(l *display.List, m display.Point, u float64, c display.Colour) { turnArrow(l, m, u, u, c) }

func turnArrow(l *display.List, m display.Point, x, u float64, c display.Colour) {
	l.MoveTo(m.X-7*x, m.Y+6*u)
	l.CubicTo(display.Point{X: m.X - 7*x, Y: m.Y - 5*u}, display.Point{X: m.X, Y: m.Y - 5*u}, display.Point{X: m.X + 7*x, Y: m.Y - 3*u})
	l.MoveTo(m.X+2*x, m.Y-8*u)
	l.LineTo(m.X+7*x, m.Y-3*u)
	l.LineTo(m.X+2*x, m.Y+2*u)
	l.Stroke(2*u, display.Paint{From: c})
}
