package desk

import (
	"math"
	"strings"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
)

// news is what was done or could not be, on a line of its own over the picture: an error
// until it is read, all else until the next press after a while.
type news struct {
	text    string // empty: there is none
	bad     bool
	since   float64
	over    overlay  // over which it was told
	files   []string // that were written: the first can be opened, and its folder
	buttons []ui.Widget
	plate   *plate
}

// plate is what the news stands on. What is pressed or turned there is meant for it, and not
// for what is under it.
type plate struct{ ui.Base }

// Wheel turns nothing.
func (*plate) Wheel(*ui.Kit, float64) bool { return true }

// newsLayout is where it stands.
type newsLayout struct {
	area  display.Rect
	lines []string
	text  display.Point
}

// newsStays is how long news stays at least, s.
const newsStays = 4

// Tell says something that was done.
func (d *Desk) Tell(message string) { d.announce(message, false, nil) }

// Warn says why something could not be done.
func (d *Desk) Warn(message string) { d.announce(message, true, nil) }

// wrote says which files were written.
func (d *Desk) wrote(files []string) {
	d.announce(d.say.SavedAs(strings.Join(files, ", ")), false, files)
}

func (d *Desk) announce(message string, bad bool, files []string) {
	var lines []string
	for line := range strings.Lines(message) {
		lines = append(lines, strings.Join(strings.Fields(line), " "))
	}
	d.news = news{text: strings.Join(lines, "\n"), bad: bad, since: d.in.Seconds, over: d.over, files: files}
	d.buildNews()
	d.dirty = true
}

// News is what is said there.
func (d *Desk) News() string { return d.news.text }

// buildNews makes its buttons.
func (d *Desk) buildNews() {
	n := &d.news
	if n.text == "" {
		return
	}
	n.buttons = nil
	if len(n.files) > 0 && d.given.Show != nil {
		for _, b := range [...]struct {
			name        string
			label, hint words.Label
			folder      bool
		}{{"open file", words.OpenFile, words.HintOpenFile, false}, {"open folder", words.OpenFolder, words.HintOpenFolder, true}} {
			n.buttons = append(n.buttons, d.textButton(b.name, b.label, b.hint, func() {
				if err := d.given.Show(n.files[0], b.folder); err != nil {
					d.Warn(err.Error())
				}
			}))
		}
	}
	close := &ui.Button{Base: ui.Base{Name: "news close", Hint: d.say.Label(words.HintNewsClose)}, Icon: crossSign, Do: d.hear}
	n.buttons = append(n.buttons, close)
	for _, b := range n.buttons {
		b.Self().Front = true
	}
	n.plate = &plate{ui.Base{Name: "news", Skip: true, Front: true, Behind: true}}
}

// hear takes the news away: it was read.
func (d *Desk) hear() {
	for _, b := range d.news.buttons {
		if ui.Is(b, d.kit.Focus) {
			d.kit.SetFocus(nil)
		}
	}
	d.news, d.dirty = news{}, true
}

// listen takes away what was read at the next press after a while.
func (d *Desk) listen(in *Input) {
	n := &d.news
	pressed := in.Pressed || len(in.Keys) > 0 || len(in.Text) > 0
	if n.text == "" || n.bad || !pressed || in.Seconds < n.since+newsStays {
		return
	}
	if !ui.Inside(d.layout.news.area, in.Pointer) {
		d.hear()
	}
}

// arrangeNews puts it at the top of the picture, or of the page over it, as high as its lines
// need.
func (d *Desk) arrangeNews() {
	a := &d.layout.news
	a.area = display.Rect{}
	if d.news.text == "" {
		return
	}
	k := &d.kit
	gap := math.Round(theme.Unit * k.Unit)
	frame := d.layout.picture
	switch {
	case d.over != nil && !d.panelled():
		frame = d.layout.over // what closes the page stays free
	case frame.W <= 0:
		frame = display.Rect{W: d.in.W, H: d.in.H}
	}
	right := frame.X + frame.W - 2*gap
	high := k.Tall()
	for i := len(d.news.buttons) - 1; i >= 0; i-- {
		w, h := d.news.buttons[i].Size(k)
		right -= w
		d.news.buttons[i].Self().Area = display.Rect{X: right, Y: frame.Y + 1.5*gap, W: w, H: h}
	}
	st := k.Style(theme.Body)
	left := frame.X + 2*gap
	a.lines = lettering.Wrap(st, d.news.text, max(right-left-2*gap, 8*st.Size))
	if room := max(1, int((frame.H-4*gap)/lettering.LineHeight(st))); len(a.lines) > room {
		a.lines = append(a.lines[:room-1], "…")
	}
	a.text = display.Point{X: left, Y: frame.Y + gap + 0.6*gap + (high-lettering.LineHeight(st))/2}
	h := max(high, (high-lettering.LineHeight(st))+float64(len(a.lines))*lettering.LineHeight(st)) + gap
	a.area = display.Rect{X: frame.X + gap, Y: frame.Y + gap, W: frame.W - 2*gap, H: h}
	d.news.plate.Area = a.area
}

func (d *Desk) drawNews(l *display.List) {
	a := &d.layout.news
	if d.news.text == "" || a.area.W <= 0 {
		return
	}
	k := &d.kit
	edge := k.Theme.Accent
	if d.news.bad {
		edge = k.Theme.Warning
	}
	k.Plate(l, a.area, k.Theme.Ground)
	k.Outline(l, a.area, edge)
	st := k.Style(theme.Body)
	y := a.text.Y + lettering.Ascent(st)
	for _, line := range a.lines {
		lettering.Draw(l, st, a.text.X, y, lettering.Start, line)
		y += lettering.LineHeight(st)
	}
	for _, b := range d.news.buttons {
		b.Draw(k, l)
	}
}

func crossSign(l *display.List, m display.Point, u float64, c display.Colour) {
	ui.Cross(l, m, 6*u, 2*u, c)
}

// introducing says whether it is the first start and the one line of caution was not
// acknowledged yet.
func (d *Desk) introducing() bool { return d.given.First && !d.Read && !d.given.Follow }

// acknowledge takes any key, and a click on the hint, for having read the caution.
func (d *Desk) acknowledge(in *Input) {
	if !d.introducing() {
		return
	}
	pressed := in.Pressed && ui.Inside(d.layout.hint, in.Pointer) && !d.page.readMore.Under(in.Pointer)
	if pressed || len(in.Keys) > 0 || len(in.Text) > 0 {
		d.Read, d.dirty = true, true
	}
}
