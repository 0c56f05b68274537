package desk

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/scenes/cases"
	"twincord/sim"
)

// spoken is what is given in words alone, on a plate where others have a picture: as large as
// there is room for, and under it the string that it is said of.
type spoken struct {
	said   []string
	string *ruledString // nil: what is to be known of it is said
	under  *prose

	st    lettering.Style
	lines [][]string // of each that is said
	of    spokenKey
	plate display.Rect
	at    display.Point // where the lines begin
}

// spokenKey is what its lines depend on.
type spokenKey struct{ width, room, text float64 }

// The largest type of what is spoken and the smallest, units, how much smaller the next one
// that is tried is, and the room between what is said, of the height of a line.
const (
	spokenMost  = 1.3 * theme.Sentence
	spokenLeast = theme.Lead
	spokenStep  = 0.95
	spokenGap   = 0.4
)

// spoken says what is given where there is nothing to see.
func (c *casework) spoken() *spoken {
	lead := c.lead()
	b := &spoken{said: c.page.Given, under: paragraph(theme.Small, true, lead)}
	if lead != "" {
		s := cases.StringOf(c.of.Seed)
		s = c.write.Told(&s)
		b.string = newRuledString(c.d, &s)
	}
	return b
}

func (b *spoken) widgets() []ui.Widget { return nil }

// lay takes all of the column that what stands under the plate leaves, and more where the
// words need it.
func (b *spoken) lay(d *Desk, x, y, width float64) float64 {
	u := d.kit.Unit
	gap, pad := math.Round(theme.Unit*u), math.Round(3*theme.Unit*u)
	under := b.under.lay(d, x, y, width)
	if under > 0 {
		under += gap
	}
	ruled := 0.
	if b.string != nil {
		ruled = b.string.height(&d.kit, width-2*pad)
	}
	inside := 2*pad + ruled
	room := d.casework.left.scroll.Area.H - under - 2*gap // those of the column
	b.wrap(&d.kit, width-2*pad, room-inside)
	said := b.height()
	if said > room-inside { // the words go before the string
		inside, ruled = 2*pad, 0
	}
	b.plate = display.Rect{X: x, Y: math.Round(y), W: width, H: math.Round(max(room, said+inside))}
	b.at = display.Point{X: x + pad, Y: b.plate.Y + pad + math.Round((b.plate.H-inside-said)/2)}
	if b.string != nil {
		b.string.at = display.Rect{X: x + pad, Y: b.plate.Y + b.plate.H - pad/2 - ruled, W: width - 2*pad, H: ruled}
	}
	if under > 0 {
		b.under.lay(d, x, b.plate.Y+b.plate.H+gap, width)
	}
	return b.plate.H + under
}

// wrap takes the largest type in which all has room.
func (b *spoken) wrap(k *ui.Kit, width, room float64) {
	key := spokenKey{width, room, k.Text}
	if key == b.of {
		return
	}
	b.of = key
	for size := spokenMost; ; size *= spokenStep {
		size = max(size, spokenLeast)
		b.st, b.lines = k.Style(size), b.lines[:0]
		for _, s := range b.said {
			b.lines = append(b.lines, lettering.Wrap(b.st, s, width))
		}
		if size == spokenLeast || b.height() <= room {
			break
		}
	}
	for i, s := range b.said {
		b.lines[i] = evened(b.st, s, b.lines[i], width)
	}
}

// height is that of all that is said.
func (b *spoken) height() float64 {
	lines := spokenGap * float64(len(b.lines)-1)
	for _, said := range b.lines {
		lines += float64(len(said))
	}
	return math.Ceil(lines * lettering.LineHeight(b.st))
}

func (b *spoken) draw(d *Desk, l *display.List) {
	t := d.kit.Theme
	d.kit.Plate(l, b.plate, t.Ground)
	b.st.Colour = t.Ink
	y := b.at.Y
	for _, said := range b.lines {
		drawLines(l, b.st, b.at.X, y, said)
		y += (float64(len(said)) + spokenGap) * lettering.LineHeight(b.st)
	}
	if b.string != nil {
		b.string.draw(d, l)
	}
	b.under.draw(d, l)
}

// ruledString is a string from the nose to the wall with its beads, over each its name and
// under it its place.
type ruledString struct {
	setup      sim.Setup
	nose, wall string
	names, ats []string // of the beads
	at         display.Rect
}

func newRuledString(d *Desk, s *sim.Setup) *ruledString {
	r := &ruledString{setup: *s, nose: d.fixed.nose, wall: d.say.WallAt(s.String.Length)}
	for i := range s.Beads {
		r.names = append(r.names, d.say.BeadName(s.Beads[i].Name))
		r.ats = append(r.ats, d.say.Length(s.Beads[i].At))
	}
	return r
}

// ends are where the string is drawn from and to, between the names of its ends.
func (r *ruledString) ends(k *ui.Kit, x, width float64) (from, to float64) {
	st, gap := k.Muted(theme.Small), theme.Unit*k.Unit
	return x + lettering.Width(st, r.nose) + gap, x + width - lettering.Width(st, r.wall) - gap
}

// height is a line of names, the string and a line of places; none where they have no room
// beside one another.
func (r *ruledString) height(k *ui.Kit, width float64) float64 {
	st := k.Muted(theme.Small)
	from, to := r.ends(k, 0, width)
	for _, texts := range [...][]string{r.names, r.ats} {
		free := 0.
		for i, s := range texts {
			half := (lettering.Width(st, s) + theme.Unit*k.Unit) / 2
			at := from + stringShare(&r.setup, r.setup.Beads[i].At)*(to-from)
			if at-half < free || at+half > width {
				return 0
			}
			free = at + half
		}
	}
	return math.Round(2*lettering.LineHeight(st) + ruledGap*k.Unit)
}

// ruledGap is the room for the beads between the names and the places, units.
const ruledGap = 22

func (r *ruledString) draw(d *Desk, l *display.List) {
	if r.at.H == 0 {
		return
	}
	k, u := &d.kit, d.kit.Unit
	st := k.Muted(theme.Small)
	line := lettering.LineHeight(st)
	y := r.at.Y + line + ruledGap*u/2
	from, end := r.ends(k, r.at.X, r.at.W)
	lettering.Draw(l, st, r.at.X, y+lettering.CapHeight(st)/2, lettering.Start, r.nose)
	lettering.Draw(l, st, r.at.X+r.at.W, y+lettering.CapHeight(st)/2, lettering.End, r.wall)
	ui.Line(l, from, y, end, y, 2*u, k.Theme.String)
	ui.Line(l, end, y-9*u, end, y+9*u, 3*u, k.Theme.Edge)
	x := func(at float64) float64 { return from + stringShare(&r.setup, at)*(end-from) }
	drawBeads(l, &r.setup, u, func(at float64) display.Point { return display.Point{X: x(at), Y: y} })
	for i, name := range r.names {
		at, named := x(r.setup.Beads[i].At), st
		if i == r.setup.Look.Bead { // it is asked for
			named.Colour = k.Theme.Ink
		}
		lettering.Draw(l, named, at, r.at.Y+lettering.Ascent(st), lettering.Middle, name)
		lettering.Draw(l, st, at, r.at.Y+r.at.H-line+lettering.Ascent(st), lettering.Middle, r.ats[i])
	}
}
