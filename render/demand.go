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
	// Breaks and Back say at what place along the string, mm, the hold is lost and where
	// it returns.
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
	c.layTurns()
	c.layHolds()
	l.Rect(frame)
	l.OpenClip()
	c.grid()
	c.stretch()
	for i := range chartCurves {
		c.curve(&chartCurves[i])
	}
	c.looked()
	c.drawTurns()
	c.drawHolds()
	c.key(true)
	l.End()
}

// chartLine is how a line of a chart is drawn, in the curve and in the key.
type chartLine struct {
	colour func(*theme.Theme) display.Colour
	width  float64
	dash   float64 // 0: none
}

var (
	loadLine     = chartLine{func(t *theme.Theme) display.Colour { return t.Accent }, 3, 0}
	breakLine    = chartLine{func(t *theme.Theme) display.Colour { return t.Ink }, 2, 0}
	recoveryLine = chartLine{func(t *theme.Theme) display.Colour { return t.Edge }, theme.Line, 5}
	needLine     = chartLine{func(t *theme.Theme) display.Colour { return t.Left }, 2, 9}
	hereLine     = chartLine{func(t *theme.Theme) display.Colour { return t.Edge }, theme.Line, 3}
)

// chartCurve is one of the numbers along the string.
type chartCurve struct {
	of func(*sim.Holding) sim.Prism
	chartLine
}

var chartCurves = [...]chartCurve{
	{func(h *sim.Holding) sim.Prism { return h.BaseOutRecovery }, recoveryLine},
	{func(h *sim.Holding) sim.Prism { return -h.BaseInRecovery }, recoveryLine},
	{func(h *sim.Holding) sim.Prism { return h.BaseOutBreak }, breakLine},
	{func(h *sim.Holding) sim.Prism { return -h.BaseInBreak }, breakLine},
	{func(h *sim.Holding) sim.Prism { return h.Need }, needLine},
	{func(h *sim.Holding) sim.Prism { return h.Load }, loadLine},
}

// chartLooks is at how many places along the string a chart looks.
const chartLooks = 160

// chart is one chart of demand while it is drawn.
type chart struct {
	l          *display.List
	frame, box display.Rect // the whole, and the plot within the axes
	keyBox     display.Rect // what says which line is which
	v          *sim.View
	o          DemandOptions
	unit       float64
	from, to   float64 // of the scale along the string, at the left and right edge
	low, high  float64 // Δ, at the lower and upper edge
	at         [chartLooks + 1]float64
	x          [chartLooks + 1]float64
	holding    [chartLooks + 1]sim.Holding

	board board // where what is said in the plot may stand
	turns [2]turn
	holds display.Rect // where it says that both eyes keep it single; empty: nowhere
}

// turn is the place where a hold breaks or comes back, as it is marked.
type turn struct {
	at    display.Point
	said  mark
	shown bool
}

const turnMark = 6. // radius of its mark

func newChart(l *display.List, frame display.Rect, v *sim.View, o DemandOptions) *chart {
	c := &chart{l: l, frame: frame, v: v, o: o}
	c.unit = max(0.6, min(frame.W/900, frame.H/560))
	if o.Scale > 0 {
		c.unit = o.Scale
	}
	u := c.unit * theme.Unit
	c.box = display.Rect{X: frame.X + 9*u, Y: frame.Y + 9*u, W: frame.W - 12*u}
	c.keyBox = display.Rect{X: c.box.X, W: frame.X + frame.W - c.box.X}
	if o.Labels.Title == "" {
		c.box = display.Rect{X: frame.X + 4*u, Y: frame.Y + 3*u, W: frame.W - 5*u}
		c.keyBox = display.Rect{X: frame.X, W: frame.W}
	}
	// Below the plot its numbers, what they count, and the key.
	c.keyBox.H = c.key(false)
	c.keyBox.Y = frame.Y + frame.H - c.keyBox.H
	c.box.H = c.keyBox.Y - c.box.Y - (2*theme.Unit+13+2.4*theme.Small)*c.unit
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
	c.obstacles()
	return c
}

// obstacles tells the board of the curves, and of the line at the place looked at.
func (c *chart) obstacles() {
	b := &c.board
	b.frame, b.unit = c.box, 0.7*theme.Body*c.unit
	for i := range chartCurves {
		c.trace(&chartCurves[i], func(p, q display.Point) { b.line(segment{p, q}) })
	}
	b.line(c.lookedLine())
}

// trace goes along a curve within the plot.
func (c *chart) trace(k *chartCurve, step func(p, q display.Point)) {
	var last display.Point
	open := false
	for i := range c.x {
		p := float64(k.of(&c.holding[i]))
		now := display.Point{X: c.x[i], Y: c.up(p)}
		inside := p >= c.low && p <= c.high
		if inside && open {
			step(last, now)
		}
		last, open = now, inside
	}
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
	// What is said in the plot is cut out of the lines across it.
	c.l.Rect(c.frame)
	for i := range c.turns {
		if c.turns[i].shown {
			c.l.Rect(c.turns[i].said.box)
		}
	}
	if c.holds.W > 0 {
		c.l.Rect(c.holds)
	}
	c.l.OpenClipEvenOdd()
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
	c.l.End()
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
}

// layHolds finds room between the breaks for what that stretch is: towards its middle,
// where no line runs. A narrow chart has none.
func (c *chart) layHolds() {
	if c.o.Labels.Title == "" || c.o.Labels.Holds == "" {
		return
	}
	st := c.text(theme.Body, c.o.Theme.Ink)
	w, h := lettering.Width(st, c.o.Labels.Holds)+st.Size, 1.5*st.Size
	best := math.Inf(1)
	for i := 0; i < len(c.x); i += 2 {
		k := &c.holding[i]
		top, bottom := c.up(c.inside(k.BaseOutBreak)), c.up(c.inside(-k.BaseInBreak))
		for y := top; y+h < bottom; y += h / 4 {
			box := display.Rect{X: c.x[i] - w/2, Y: y, W: w, H: h}
			// Not far from the middle, rather below the load than above it.
			off := math.Abs(c.x[i]-c.box.X-0.65*c.box.W)/c.box.W + math.Abs(y+h/2-top-0.7*(bottom-top))/(bottom-top)
			if off < best && c.board.free(box) {
				best, c.holds = off, box
			}
		}
	}
	c.board.box(c.holds)
}

func (c *chart) drawHolds() {
	if c.holds.W > 0 {
		write(c.l, c.holds, c.o.Labels.Holds, c.text(theme.Body, c.o.Theme.Ink))
	}
}

// curve draws one of the numbers along the string, broken where it leaves the plot.
func (c *chart) curve(k *chartCurve) {
	var last display.Point
	open := false
	flush := func() {
		if open {
			c.finish(k.width, k.colour(c.o.Theme), k.dash)
		}
		open = false
	}
	c.trace(k, func(p, q display.Point) {
		if !open || p != last {
			flush()
			c.l.MoveTo(p.X, p.Y)
		}
		c.l.LineTo(q.X, q.Y)
		last, open = q, true
	})
	flush()
}

// looked marks the place looked at.
func (c *chart) looked() {
	if h := c.v.Holding; h.OK {
		s := c.lookedLine()
		c.stroke(s[0].X, s[0].Y, s[1].X, s[1].Y, hereLine.width, hereLine.colour(c.o.Theme), hereLine.dash)
		c.dot(s[0].X, c.up(c.inside(h.Value.Load)), 5, c.o.Theme.Accent)
	}
}

func (c *chart) lookedLine() segment {
	x := c.across(c.v.Target.FromEyes)
	return segment{{X: x, Y: c.box.Y}, {X: x, Y: c.box.Y + c.box.H}}
}

// layTurns finds room for what is said of where the hold breaks and where it comes back.
func (c *chart) layTurns() {
	s := &c.v.Now
	breaks, back := s.Turning()
	st := c.text(theme.Body, c.o.Theme.Ink)
	for i, m := range [2]struct {
		at  sim.Maybe[float64]
		say func(float64) string
	}{{breaks, c.o.Labels.Breaks}, {back, c.o.Labels.Back}} {
		if !m.at.OK {
			continue
		}
		t := &c.turns[i]
		t.at = display.Point{
			X: c.across(r3.Norm(s.Place(m.at.Value))),
			Y: c.up(c.inside(s.HoldingAt(m.at.Value, sim.StateHolding).Value.Load)),
		}
		r := turnMark * c.unit
		c.board.box(display.Around(t.at, r))
		t.said = mark{text: m.say(m.at.Value), eye: noEye}
	}
	for i := range c.turns {
		if t := &c.turns[i]; t.said.text != "" {
			// Below the load, to the right.
			w := lettering.Width(st, t.said.text) + 0.6*st.Size
			t.shown = c.board.put(&t.said, spot{t.at, 1.5 * turnMark * c.unit}, w, 1.4*st.Size, math.Pi/3, -1)
		}
	}
}

// drawTurns marks where the hold breaks, by an x, and where it comes back, by a ring.
func (c *chart) drawTurns() {
	t := c.o.Theme
	for i := range c.turns {
		k := &c.turns[i]
		if k.said.text == "" {
			continue
		}
		x, y, r := k.at.X, k.at.Y, turnMark*c.unit
		if s := k.said.leader; k.shown {
			c.stroke(s[0].X, s[0].Y, s[1].X, s[1].Y, theme.Line, t.Ink, 0)
			write(c.l, k.said.box, k.said.text, c.text(theme.Body, t.Ink))
		}
		if i == 1 {
			c.dot(x, y, turnMark, t.Panel)
			c.l.Ellipse(k.at, r, r, 0)
			c.finish(2, t.Ink, 0)
			continue
		}
		c.stroke(x-r, y-r, x+r, y+r, 2.5, t.Ink, 0)
		c.stroke(x-r, y+r, x+r, y-r, 2.5, t.Ink, 0)
	}
}

func (c *chart) dot(x, y, radius float64, colour display.Colour) {
	c.l.Ellipse(display.Point{X: x, Y: y}, radius*c.unit, radius*c.unit, 0)
	c.l.Fill(display.Paint{From: colour})
}

// key says below the plot which line is which, as many to a row as there is room for, if
// it is to be drawn; and how high it is.
func (c *chart) key(draw bool) float64 {
	t, u := c.o.Theme, c.unit
	st := c.text(theme.Small, t.Ink)
	line, row, gap := 34*u, 1.7*st.Size, 3*theme.Unit*u
	x, y := c.keyBox.X, c.keyBox.Y
	for _, k := range [...]struct {
		text string
		chartLine
	}{
		{c.o.Labels.Load, loadLine},
		{c.o.Labels.OutBreak + ", " + c.o.Labels.InBreak, breakLine},
		{c.o.Labels.Recovery, recoveryLine},
		{c.o.Labels.Need, needLine},
		{c.o.Labels.Here, hereLine},
	} {
		lines := lettering.Wrap(st, k.text, c.keyBox.W-line-st.Size)
		w := 0.
		for _, s := range lines {
			w = max(w, line+lettering.Width(st, s))
		}
		if x+w > c.keyBox.X+c.keyBox.W && x > c.keyBox.X {
			x, y = c.keyBox.X, y+row
		}
		for i, s := range lines {
			if i > 0 {
				y += row
			}
			if draw && i == 0 {
				at := y + 0.65*st.Size
				c.stroke(x, at, x+28*u, at, k.width, k.colour(t), k.dash)
			}
			if draw {
				lettering.Draw(c.l, st, x+line, y+st.Size, lettering.Start, s)
			}
		}
		x += w + gap
	}
	return y + row - c.keyBox.Y
}
