package desk

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/ui"
)

var update = flag.Bool("update", false, "write the records of screens anew")

// What stands where on each screen is what testdata/screens says, so that a change of the
// layout is read in its difference. It guards against change and says of nothing that it is
// right: the laws do. go test ./render/desk -run Records -update writes it anew.
func TestRecords(t *testing.T) {
	for _, s := range screens() {
		t.Run(s.name, func(t *testing.T) {
			p := s.sit(t, s.at)
			got := fmt.Sprintf("%s: %v × %v at %v, %s", s.name, s.at.size[0], s.at.size[1], s.at.size[2], s.at.language)
			if s.at.large {
				got += ", large type"
			}
			got += "\n" + record(p.desk, s.part(p.desk))
			path := filepath.Join("testdata", "screens", strings.NewReplacer(", ", "-", " ", "-").Replace(s.name)+".txt")
			if *update {
				require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
				require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
			}
			want, err := os.ReadFile(path)
			require.NoError(t, err)
			if lines := differing(string(want), got); len(lines) > 0 {
				t.Errorf("%s has changed; with -update it is written anew:\n%s", path, strings.Join(lines, "\n"))
			}
		})
	}
}

// differing are the lines that only the one has, or only the other.
func differing(want, got string) (all []string) {
	left := strings.Split(got, "\n")
	for line := range strings.SplitSeq(want, "\n") {
		if i := slices.Index(left, line); i >= 0 {
			left = slices.Delete(left, i, i+1)
		} else {
			all = append(all, "- "+line)
		}
	}
	for _, line := range left {
		all = append(all, "+ "+line)
	}
	return all
}

// record lists what can be pressed in a part of the page, in the order of the focus, and
// then what is drawn there, in the order in which it is: but not what widgets of every kind
// draw of themselves, and of pictures their frames alone.
func record(d *Desk, part display.Rect) string {
	var page display.List
	d.Draw(&page)
	drawn := listed(d, &page, part)
	var b strings.Builder
	reached := slices.Clone(d.reached())
	for _, w := range append(slices.Clone(d.widgets()), d.news.buttons...) {
		base := w.Self()
		if h, ok := w.(*handle); !base.Shown() || ok && h.where == inPicture { // that is the picture's
			continue
		}
		kind, general := strings.CutPrefix(reflect.TypeOf(w).String(), "*ui.")
		if general && !signedNow(w) {
			var alone display.List
			alone.Reset(d.in.W, d.in.H, display.Colour{})
			w.Draw(&d.kit, &alone)
			for _, line := range listed(d, &alone, part) {
				if at := slices.Index(drawn, line); at >= 0 {
					drawn = slices.Delete(drawn, at, at+1)
				}
			}
		}
		middle := ui.Middle(base.Area)
		if !ui.Inside(part, middle) || base.Within.W > 0 && !ui.Inside(base.Within, middle) {
			continue
		}
		if !slices.ContainsFunc(reached, func(r ui.Widget) bool { return ui.Is(r, w) }) {
			continue
		}
		fmt.Fprintf(&b, "%-9s %s  %s%s\n", strings.ToLower(strings.TrimPrefix(kind, "*desk.")), placed4(base.Area), base.Name, stateOf(d, w))
	}
	for _, line := range drawn {
		b.WriteString(line)
	}
	return b.String()
}

// signedNow says whether a widget shows a sign, which is drawn here.
func signedNow(w ui.Widget) bool {
	switch w := w.(type) {
	case *ui.Button:
		return w.Icon != nil && (w.Sign || w.Text == "")
	case *ui.Menu:
		return w.Sign
	}
	return false
}

// stateOf is how a widget stands.
func stateOf(d *Desk, w ui.Widget) (s string) {
	add := func(is bool, word string) {
		if is {
			s += ", " + word
		}
	}
	base := w.Self()
	add(base.Off, "off")
	add(base.Skip, "no stop")
	add(ui.Is(w, d.kit.Focus), "focus")
	switch w := w.(type) {
	case *ui.Button:
		add(w.On != nil && w.On(), "on")
		add(w.Main, "main")
		add(w.Sign, "as a sign")
		add(w.Text != "", strconv.Quote(w.Text))
	case *ui.Number:
		add(w.Bare, "bare")
		add(true, strconv.Quote(w.Text()))
	case *ui.Choice:
		add(w.Folded, "folded")
		add(true, fmt.Sprint(w.Get()+1, " of ", len(w.Texts)))
	case *choices:
		for i := range w.texts {
			add(w.on(i), fmt.Sprint(i+1, " is on"))
		}
	}
	return s
}

// listed are the lines of what a list draws in a part of the page.
func listed(d *Desk, l *display.List, part display.Rect) (lines []string) {
	picture := 0 // how many clips and groups of one are open
	add := func(r display.Rect, line string) {
		if picture == 0 && ui.Inside(part, ui.Middle(r)) {
			lines = append(lines, line+"\n")
		}
	}
	depth := 0
	for _, op := range l.Ops {
		switch op.Kind {
		case display.KindClip:
			frame := box(l.Clips[op.Index].Outline)
			opens := picture > 0 || !scrolls(d, frame)
			if opens {
				add(frame, fmt.Sprintf("picture   %s", placed4(frame)))
				picture++
			}
			depth++
		case display.KindGroup:
			if picture > 0 {
				picture++
			}
			depth++
		case display.KindEnd:
			if picture > 0 {
				picture--
			}
			depth--
		case display.KindText:
			t := &l.Texts[op.Index]
			if len(t.Glyphs) == 0 {
				continue
			}
			at, wide := t.Glyphs[0].At, lettering.Width(lettering.Style{Face: t.Face, Size: t.Size}, t.String)
			bold := ""
			if t.Face == display.Bold {
				bold = "bold "
			}
			add(bounds(t), fmt.Sprintf("text      %s %s, %s wide  %s%s %s  %s", half(at.X), half(at.Y), half(wide), bold, half(t.Size), colourName(d, t.Colour), t.String))
		case display.KindPath:
			p := &l.Paths[op.Index]
			add(box(p.Outline), shapeOf(d, p))
		case display.KindBall:
			b := &l.Balls[op.Index]
			r := display.Rect{X: b.Centre.X - b.RadiusX, Y: b.Centre.Y - b.RadiusY, W: 2 * b.RadiusX, H: 2 * b.RadiusY}
			add(r, fmt.Sprintf("ball      %s  %s", placed4(r), colourName(d, b.Colour)))
		}
	}
	return lines
}

// scrolls says whether a clip is that of something of the window which scrolls, and no
// picture.
func scrolls(d *Desk, clip display.Rect) bool {
	if clip == d.pageArea() {
		return true
	}
	if o, ok := d.over.(columned); ok {
		for _, c := range o.columns() {
			if clip == c.scroll.Area {
				return true
			}
		}
	}
	return slices.ContainsFunc(d.overs, func(w ui.Widget) bool { return clip == w.Self().Area })
}

// shapeOf is a line about a shape: its kind, where it is, how it is painted.
func shapeOf(d *Desk, p *display.Path) string {
	curves, lines := 0, 0
	for _, v := range p.Outline.Verbs {
		switch v {
		case display.CubicTo, display.QuadTo:
			curves++
		case display.LineTo:
			lines++
		}
	}
	kind, where := "plate", placed4(box(p.Outline))
	switch {
	case curves == 4 && lines == 0:
		kind = "disc"
	case curves != 4 && lines < 8:
		kind, where = "line", ""
		if len(p.Outline.Points) == 4 && box(p.Outline).W > 0 && box(p.Outline).H > 0 && p.Outline.Points[0].Y == p.Outline.Points[1].Y {
			kind, where = "box", placed4(box(p.Outline))
			break
		}
		for _, q := range p.Outline.Points {
			where += " " + half(q.X) + "," + half(q.Y)
		}
		where = where[1:]
	}
	s := fmt.Sprintf("%-9s %s ", kind, where)
	if p.Stroke > 0 {
		s += " stroke " + strconv.FormatFloat(math.Round(p.Stroke*100)/100, 'f', -1, 64)
	}
	if p.Dash > 0 {
		s += " dashed " + half(p.Dash)
	}
	s += " " + colourName(d, p.Paint.From)
	if p.Paint.Kind != display.Solid {
		s += " to " + colourName(d, p.Paint.To)
	}
	return s
}

// placed4 is a rectangle, and half a number of pixels, to half a pixel.
func placed4(r display.Rect) string {
	return fmt.Sprintf("%s %s, %s × %s", half(r.X), half(r.Y), half(r.W), half(r.H))
}

func half(v float64) string {
	return strconv.FormatFloat(math.Round(2*v+1e-6)/2+0, 'f', -1, 64) // halves between are no matter of the last bit
}

// colourName is what the theme calls a colour, how far it is faded, or its own number.
func colourName(d *Desk, c display.Colour) string {
	alpha := c.A
	c.A = 1
	name := fmt.Sprintf("#%02x%02x%02x", int(255*c.R+0.5), int(255*c.G+0.5), int(255*c.B+0.5))
	look := reflect.ValueOf(*d.kit.Theme)
	for i := range look.NumField() {
		if v, ok := look.Field(i).Interface().(display.Colour); ok && v == c {
			name = strings.ToLower(look.Type().Field(i).Name)
			break
		}
	}
	if alpha != 1 {
		name += fmt.Sprintf(" %.0f %%", 100*alpha)
	}
	return name
}
