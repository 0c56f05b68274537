package render

import (
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/sim"
)

// DemandLabels are the words of the chart of demand.
type DemandLabels struct {
	Title, Load, Need, InBreak, OutBreak, Recovery, Holds, Prism, Place, Here string
	// Breaks and Back say at what distance from the eyes, mm, the hold is lost and
	// where it returns.
	Breaks, Back func(mm float64) string
}

// DemandOptions says how the chart of demand is drawn.
type DemandOptions struct {
	Theme *theme.Theme
	// Labels without a title make a chart without one, for a narrow frame.
	Labels DemandLabels
	Scale  float64 // of type and strokes; 0: what suits the frame
}

// BarPlace is the place on the scale along a string of a distance from the eyes, mm:
// near places are wide and far ones closer together, as the string looks from beside
// the nose, and infinity is at 1.
func BarPlace(mm float64) float64 { return mm / (mm + BarHalf) }

// BarHalf is the distance at the middle of that scale, mm.
const BarHalf = 250.

// Demand draws what a patient's reserves answer along the string (M14): the stretch
// between the base-in and the base-out break, in which a hold lasts; the narrower one
// between the recoveries, into which it must come to return; the load of prisms and
// lenses, which has to stay inside; and the need, which is what the phoria asks.
// Where the load leaves the stretch the hold breaks. The set-up must have findings.
func Demand(l *display.List, frame display.Rect, v *sim.View, o DemandOptions) {
	if !v.Now.Findings.OK {
		return
	}
	c := newChart(l, frame, v, o)
	l.Rect(frame)
	l.OpenClip()
	c.grid()
	c.stretch()
	c.line(func(h *sim.Holding) sim.Prism { return h.BaseOutRecovery }, c.o.Theme.Edge, theme.Line, 5)
	c.line(func(h *sim.Holding) sim.Prism { return -h.BaseInRecovery }, c.o.Theme.Edge, theme.Line, 5)
	c.line(func(h *sim.Holding) sim.Prism { return h.BaseOutBreak }, c.o.Theme.Ink, 2, 0)
	c.line(func(h *sim.Holding) sim.Prism { return -h.BaseInBreak }, c.o.Theme.Ink, 2, 0)
	c.line(func(h *sim.Holding) sim.Prism { return h.Need }, c.o.Theme.Left, 2, 9)
	c.line(func(h *sim.Holding) sim.Prism { return h.Load }, c.o.Theme.Accent, 3, 0)
	c.turning()
	c.key()
	l.End()
}

// chartLooks is at how many places along the string a chart looks.
const chartLooks = 160

// chart is one chart of demand while it is drawn.
type chart struct {
	l          *display.List
	frame, box display.Rect // the whole, and the plot within the axes
	v          *sim.View
	o          DemandOptions
	unit       float64
	from, to   float64 // of the scale along the string, at the left and right edge
	low, high  float64 // Δ, at the lower and upper edge
	at         [chartLooks + 1]float64
	x          [chartLooks + 1]float64
	holding    [chartLooks + 1]sim.Holding
}

func newChart(l *display.List, frame display.Rect, v *sim.View, o DemandOptions) *chart {
	c := &chart{l: l, frame: frame, v: v, o: o}
	c.unit = max(0.6, min(frame.W/900, frame.H/560))
	if o.Scale > 0 {
		c.unit = o.Scale
	}
	u := c.unit * theme.Unit
	c.box = display.Rect{X: frame.X + 9*u, Y: frame.Y + 9*u, W: frame.W - 12*u, H: frame.H - 22*u}
	if o.Labels.Title == "" {
		c.box = display.Rect{X: frame.X + 4*u, Y: frame.Y + 3*u, W: frame.W - 5*u, H: frame.H - 21*u}
	}
	s := &v.Now
	far, near := s.WalkEnds()
	c.from, c.to = BarPlace(r3.Norm(s.Place(near))), BarPlace(r3.Norm(s.Place(far)))
	c.low, c.high = -6, 6
	for i := range c.at {
		c.at[i] = near + (far-near)*math.Pow(float64(i)/chartLooks, 2) // closer at the nose
		c.x[i] = c.across(r3.Norm(s.Place(c.at[i])))
		c.holding[i] = s.HoldingAt(c.at[i], sim.StateHolding).Value
		h := &c.holding[i]
		c.low = min(c.low, -float64(h.BaseInBreak), float64(h.Load), float64(h.Need))
		c.high = max(c.high, float64(h.BaseOutBreak), float64(h.Load), float64(h.Need))
	}
	// Needs grow without end toward the nose; the reserves say how far it is worth
	// looking.
	c.low, c.high = max(c.low, -45), min(c.high, 45)+3
	// Room below for what is said of the break and the recovery.
	c.low -= 0.14 * (c.high - c.low)
	return c
}

// across and up are where a distance from the eyes, mm, and a number of Δ are on the
// page.
func (c *chart) across(mm float64) float64 {
	return c.box.X + (BarPlace(mm)-c.from)/(c.to-c.from)*c.box.W
}

func (c *chart) up(prism float64) float64 {
	return c.box.Y + (c.high-prism)/(c.high-c.low)*c.box.H
}

func (c *chart) text(size float64, colour display.Colour) lettering.Style {
	return lettering.Style{Size: size * c.unit, Colour: colour}
}

// grid draws the axes with their numbers.
func (c *chart) grid() {
	t := c.o.Theme
	small, u := c.text(theme.Small, t.Muted), c.unit
	step := 5.
	if c.high-c.low > 60 {
		step = 10
	}
	for p := math.Ceil(c.low/step) * step; p <= c.high; p += step {
		y := math.Round(c.up(p)) + 0.5
		colour, width := t.Hairline, 1.
		if p == 0 {
			colour = t.Edge
		}
		c.stroke(c.box.X, y, c.box.X+c.box.W, y, width, colour, 0)
		number := strconv.FormatFloat(math.Abs(p), 'f', 0, 64)
		if p < 0 {
			number = "−" + number
		}
		lettering.Draw(c.l, small, c.box.X-8*u, y+lettering.CapHeight(small)/2, lettering.End, number)
	}
	last := math.Inf(-1)
	for _, cm := range [...]float64{7, 10, 15, 20, 25, 30, 40, 50, 70, 100, 150, 200, 300, 400, 600} {
		if 10*cm > c.v.Now.String.Length {
			break
		}
		x := c.across(r3.Norm(c.v.Now.Place(10 * cm)))
		text := strconv.FormatFloat(cm, 'f', 0, 64)
		if x < c.box.X || x > c.box.X+c.box.W || x-last < 34*u {
			continue
		}
		last = x
		c.stroke(x, c.box.Y+c.box.H, x, c.box.Y+c.box.H+6*u, theme.Line, t.Edge, 0)
		lettering.Draw(c.l, small, x, c.box.Y+c.box.H+10*u+small.Size, lettering.Middle, text)
	}
	lettering.Draw(c.l, small, c.box.X+c.box.W, c.box.Y+c.box.H+13*u+2.2*small.Size, lettering.End, c.o.Labels.Place)
	lettering.Draw(c.l, small, c.box.X, c.box.Y-6*u, lettering.Start, c.o.Labels.Prism)
	if c.o.Labels.Title == "" {
		return
	}
	lead := c.text(theme.Lead, t.Ink)
	lettering.Draw(c.l, lead, c.frame.X+3*theme.Unit*u, c.frame.Y+2*theme.Unit*u+lead.Size, lettering.Start,
		lettering.Ellipsis(lead, c.o.Labels.Title, c.frame.W-6*theme.Unit*u))
}

func (c *chart) stroke(x0, y0, x1, y1, width float64, colour display.Colour, dash float64) {
	c.l.MoveTo(x0, y0)
	c.l.LineTo(x1, y1)
	c.finish(width, colour, dash)
}

func (c *chart) finish(width float64, colour display.Colour, dash float64) {
	paint := display.Paint{From: colour}
	if dash > 0 {
		c.l.StrokeDashed(width*c.unit, dash*c.unit, paint)
		return
	}
	c.l.Stroke(width*c.unit, paint)
}

// inside is a number of Δ held to the plot.
func (c *chart) inside(p sim.Prism) float64 { return max(c.low, min(float64(p), c.high)) }

// stretch fills what lies between the breaks, as far as there is anything.
func (c *chart) stretch() {
	t := c.o.Theme
	// Nearer than a place there may be nothing between the breaks; farther there is.
	first := 0
	for first < len(c.x) && c.holding[first].BaseOutBreak <= -c.holding[first].BaseInBreak {
		first++
	}
	if first == len(c.x) {
		return
	}
	for i := first; i < len(c.x); i++ {
		y := c.up(c.inside(c.holding[i].BaseOutBreak))
		if i == first {
			c.l.MoveTo(c.x[i], y)
		} else {
			c.l.LineTo(c.x[i], y)
		}
	}
	for i := len(c.x) - 1; i >= first; i-- {
		c.l.LineTo(c.x[i], c.up(c.inside(-c.holding[i].BaseInBreak)))
	}
	c.l.Close()
	c.l.Fill(display.Paint{From: t.Raised})
	st := c.text(theme.Body, t.Ink)
	for i := range c.x {
		if c.x[i] < c.box.X+0.6*c.box.W {
			continue
		}
		h := &c.holding[i]
		top, bottom := c.up(c.inside(h.BaseOutBreak)), c.up(c.inside(-h.BaseInBreak))
		if c.o.Labels.Title == "" {
			return // a narrow chart has no room for it
		}
		if y := top + 0.72*(bottom-top); bottom-top > 4*st.Size {
			lettering.Draw(c.l, st, c.x[i], y, lettering.Middle, c.o.Labels.Holds)
		}
		return
	}
}

// line draws one of the numbers along the string, broken where it leaves the plot.
func (c *chart) line(of func(*sim.Holding) sim.Prism, colour display.Colour, width, dash float64) {
	open := false
	flush := func() {
		if open {
			c.finish(width, colour, dash)
		}
		open = false
	}
	for i := range c.x {
		p := float64(of(&c.holding[i]))
		if p < c.low || p > c.high {
			flush()
			continue
		}
		if open {
			c.l.LineTo(c.x[i], c.up(p))
		} else {
			c.l.MoveTo(c.x[i], c.up(p))
			open = true
		}
	}
	flush()
}

// turning marks the place looked at, where the hold breaks and where it comes back.
func (c *chart) turning() {
	t, s, u := c.o.Theme, &c.v.Now, c.unit
	if h := c.v.Holding; h.OK {
		x := c.across(c.v.Target.FromEyes)
		c.stroke(x, c.box.Y, x, c.box.Y+c.box.H, theme.Line, t.Edge, 3)
		c.dot(x, c.up(c.inside(h.Value.Load)), 5, t.Accent)
	}
	breaks, back := s.Turning()
	for _, m := range []struct {
		at   sim.Maybe[float64]
		say  func(float64) string
		back bool
		y    float64
	}{{breaks, c.o.Labels.Breaks, false, 0}, {back, c.o.Labels.Back, true, 1}} {
		if !m.at.OK {
			continue
		}
		from := r3.Norm(s.Place(m.at.Value))
		x := c.across(from)
		load := c.up(c.inside(s.HoldingAt(m.at.Value, sim.StateHolding).Value.Load))
		st := c.text(theme.Body, t.Ink)
		y := c.box.Y + c.box.H - (1+1.5*m.y)*st.Size
		c.stroke(x, load, x, y-0.3*st.Size, theme.Line, t.Ink, 0)
		if m.back {
			c.dot(x, load, 6, t.Panel)
			c.l.Ellipse(display.Point{X: x, Y: load}, 6*u, 6*u, 0)
			c.finish(2, t.Ink, 0)
		} else {
			const arm = 6
			c.stroke(x-arm*u, load-arm*u, x+arm*u, load+arm*u, 2.5, t.Ink, 0)
			c.stroke(x-arm*u, load+arm*u, x+arm*u, load-arm*u, 2.5, t.Ink, 0)
		}
		lettering.Draw(c.l, st, x+8*u, y, lettering.Start, m.say(m.at.Value))
	}
}

func (c *chart) dot(x, y, radius float64, colour display.Colour) {
	c.l.Ellipse(display.Point{X: x, Y: y}, radius*c.unit, radius*c.unit, 0)
	c.l.Fill(display.Paint{From: colour})
}

// key says below the plot which line is which.
func (c *chart) key() {
	t, u := c.o.Theme, c.unit
	st := c.text(theme.Small, t.Ink)
	x, y := c.box.X, c.box.Y+c.box.H+13*u+4.4*st.Size
	for _, k := range []struct {
		text   string
		colour display.Colour
		width  float64
		dash   float64
	}{
		{c.o.Labels.Load, t.Accent, 3, 0},
		{c.o.Labels.OutBreak + ", " + c.o.Labels.InBreak, t.Ink, 2, 0},
		{c.o.Labels.Recovery, t.Edge, theme.Line, 5},
		{c.o.Labels.Need, t.Left, 2, 9},
		{c.o.Labels.Here, t.Edge, theme.Line, 3},
	} {
		w := 34*u + lettering.Width(st, k.text) + 3*theme.Unit*u
		if x+w > c.frame.X+c.frame.W && x > c.box.X {
			x, y = c.box.X, y+1.7*st.Size
		}
		c.stroke(x, y-0.35*st.Size, x+28*u, y-0.35*st.Size, k.width, k.colour, k.dash)
		lettering.Draw(c.l, st, x+34*u, y, lettering.Start, k.text)
		x += w
	}
}
