package measure

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
)

// Walk is one bead looked at at one place after another.
type Walk struct {
	File, Title, Language string
	Steps                 []Step
	// Break is the place where the hold was first lost on the way in, Recovery where
	// it came back on the way out, of the places of the steps, mm along the string; each
	// exists if it happened.
	Break, Recovery sim.Maybe[float64]
	// Breaks and Returns are the places themselves, between two steps.
	Breaks, Returns Turn
}

// Turn is a place where the hold is lost or comes back, if it is.
type Turn struct {
	At            sim.Maybe[float64] // mm along the string
	FromSpectacle sim.Maybe[float64] // of the same place, from the spectacle plane, mm
}

// Step is one place of a walk.
type Step struct {
	Way      Way
	At       float64 // mm along the string
	FromEyes float64 // of the bare target from the head's origin, mm
	Demand   sim.Prism
	Holding  sim.Maybe[sim.Holding] // with findings
	// Deviation is the error of the eyes there, eso +.
	Deviation sim.Prism
	// Disparity is that of the place looked at, crossed +; none where an eye has not got it.
	Disparity sim.Maybe[sim.Angle]
	Account   sim.Account
	Sentence  string // for families
}

// Way is which way the bead goes.
type Way string

// The ways.
const (
	In  Way = "in"
	Out Way = "out"
)

// NewWalk walks from one place toward the nose to another, and back: at every step
// from the first place, at the last one, and then at the same places outward. from, to
// and step are mm along the string: from is beyond to, and step above 0. say makes the sentence of a view.
func NewWalk(s *sim.Setup, from, to, step float64, say func(*sim.View) string) *Walk {
	var places []float64
	// A place that is counted from the first one has no rounding of many steps.
	for i := 0; ; i++ {
		at := from - float64(i)*step
		if at <= to+step*1e-9 {
			break
		}
		places = append(places, at)
	}
	turn := len(places)
	places = append(places, to)
	for i := turn - 1; i >= 0; i-- {
		places = append(places, places[i])
	}
	w := &Walk{Steps: make([]Step, 0, len(places))}
	held := true
	s.Walk(places, func(i int, v *sim.View) {
		st := newStep(v)
		st.Way = In
		if i > turn {
			st.Way = Out
		}
		st.Sentence = say(v)
		if h := v.Holding; h.OK {
			now := h.Value.State == sim.StateHolding
			if held && !now && !w.Break.OK {
				w.Break = sim.Some(places[i])
				if i > 0 {
					w.Breaks = turnBetween(s, places[i-1], places[i], sim.StateHolding)
				}
			}
			if !held && now && st.Way == Out && !w.Recovery.OK {
				w.Recovery = sim.Some(places[i])
				w.Returns = turnBetween(s, places[i], places[i-1], sim.StateBroken)
			}
			held = now
		}
		w.Steps = append(w.Steps, st)
	})
	return w
}

// turnWithin is how finely the place of a turn is found, mm.
const turnWithin = 0.5

// turnBetween is the place between one where the hold is and one where it is not, the
// state before it given. A walk that is broken where it begins breaks nowhere.
func turnBetween(s *sim.Setup, holds, broken float64, before sim.State) (t Turn) {
	for math.Abs(holds-broken) > turnWithin/2 {
		middle := (holds + broken) / 2
		if h := s.HoldingAt(middle, before); h.Value.State == sim.StateHolding {
			holds = middle
		} else {
			broken = middle
		}
	}
	at := (holds + broken) / 2
	t.At = sim.Some(at)
	t.FromSpectacle = sim.Some(r3.Norm(s.Place(at)) - sim.SpectaclePlane)
	return t
}

func newStep(v *sim.View) Step {
	st := Step{
		At: v.Target.At, FromEyes: v.Target.FromEyes, Demand: v.Target.Demand,
		Holding: v.Holding, Deviation: v.Now.Posture.Deviation, Account: v.Account,
	}
	right, left := v.Sight(sim.RightEye, v.Target.At), v.Sight(sim.LeftEye, v.Target.At)
	if right.Ahead && left.Ahead {
		st.Disparity = sim.Some(v.Compare(right, left).H)
	}
	return st
}

// The JSON of a walk.
type (
	walkObject struct {
		heading
		Break    *number `json:"break_at_mm"`
		Recovery *number `json:"recovery_at_mm"`

		Breaks               *number `json:"breaks_at_mm"`
		BreaksFromSpectacle  *number `json:"breaks_from_spectacle_plane_mm"`
		Returns              *number `json:"returns_at_mm"`
		ReturnsFromSpectacle *number `json:"returns_from_spectacle_plane_mm"`

		Steps []stepObject `json:"steps"`
	}
	stepObject struct {
		Way       Way         `json:"way"`
		At        number      `json:"at_mm"`
		FromEyes  number      `json:"from_eyes_mm"`
		Demand    number      `json:"demand_prism"`
		Phoria    *number     `json:"phoria_prism"`
		Need      *number     `json:"need_prism"`
		Left      *number     `json:"left_prism"`
		State     *sim.State  `json:"state"`
		Why       *sim.Why    `json:"why"`
		Deviation number      `json:"deviation_prism"`
		Disparity *number     `json:"disparity_h_arcmin"`
		Fixated   *string     `json:"fixated"`
		Near      int         `json:"near"`
		Far       int         `json:"far"`
		Pattern   sim.Pattern `json:"pattern"`
		Meet      sim.Meet    `json:"meet"`
		Sentence  string      `json:"sentence"`
	}
)

func (w *Walk) object() walkObject {
	o := walkObject{heading: headingOf(w.File, w.Title, w.Language), Break: maybe(w.Break, same), Recovery: maybe(w.Recovery, same),
		Breaks: maybe(w.Breaks.At, same), BreaksFromSpectacle: maybe(w.Breaks.FromSpectacle, same),
		Returns: maybe(w.Returns.At, same), ReturnsFromSpectacle: maybe(w.Returns.FromSpectacle, same)}
	for i := range w.Steps {
		o.Steps = append(o.Steps, w.Steps[i].object())
	}
	return o
}

func (st *Step) object() stepObject {
	a := &st.Account
	o := stepObject{
		Way: st.Way, At: number(st.At), FromEyes: number(st.FromEyes), Demand: number(st.Demand),
		Deviation: number(st.Deviation), Disparity: maybe(st.Disparity, arcmin),
		Fixated: orNull(string(a.Fixated)), Near: a.Near, Far: a.Far, Pattern: a.Pattern, Meet: a.Meet,
		Sentence: st.Sentence,
	}
	if st.Holding.OK {
		h := st.Holding.Value
		phoria, need, left := number(h.Phoria), number(h.Need), number(h.Left)
		o.Phoria, o.Need, o.Left, o.State, o.Why = &phoria, &need, &left, &h.State, &h.Why
	}
	return o
}

// WalkJSON writes a walk as one JSON object.
func WalkJSON(w io.Writer, walk *Walk) error { return encode(w, walk.object()) }

// walkColumns are the columns of a walk, with their units as in JSON, and how each
// is written: for scripts with all digits, to read with decimals.
var walkColumns = []struct {
	name, heading string
	decimals      int
	number        func(*stepObject) *number
	text          func(*stepObject) string
}{
	{name: "way", heading: "way", text: func(o *stepObject) string { return string(o.Way) }},
	{name: "at_mm", heading: "from nose mm", decimals: 1, number: func(o *stepObject) *number { return &o.At }},
	{name: "from_eyes_mm", heading: "from eyes mm", decimals: 1, number: func(o *stepObject) *number { return &o.FromEyes }},
	{name: "demand_prism", heading: "demand Δ", decimals: 1, number: func(o *stepObject) *number { return &o.Demand }},
	{name: "phoria_prism", heading: "phoria Δ", decimals: 1, number: func(o *stepObject) *number { return o.Phoria }},
	{name: "need_prism", heading: "fusional demand Δ", decimals: 1, number: func(o *stepObject) *number { return o.Need }},
	{name: "left_prism", heading: "left to break Δ", decimals: 1, number: func(o *stepObject) *number { return o.Left }},
	{name: "state", heading: "state", text: func(o *stepObject) string { return code(o.State) }},
	{name: "why", heading: "why", text: func(o *stepObject) string { return code(o.Why) }},
	{name: "deviation_prism", heading: "deviation Δ", decimals: 2, number: func(o *stepObject) *number { return &o.Deviation }},
	{name: "disparity_h_arcmin", heading: "disparity ′", decimals: 1, number: func(o *stepObject) *number { return o.Disparity }},
	{name: "fixated", heading: "bead", text: func(o *stepObject) string { return code(o.Fixated) }},
	{name: "near", heading: "nearer", text: func(o *stepObject) string { return strconv.Itoa(o.Near) }},
	{name: "far", heading: "farther", text: func(o *stepObject) string { return strconv.Itoa(o.Far) }},
	{name: "pattern", heading: "pattern", text: func(o *stepObject) string { return string(o.Pattern) }},
	{name: "meet", heading: "meet", text: func(o *stepObject) string { return string(o.Meet) }},
	{name: "sentence", heading: "sentence", text: func(o *stepObject) string { return o.Sentence }},
}

// code is a code, or nothing where there is none.
func code[T ~string](c *T) string {
	if c == nil {
		return ""
	}
	return string(*c)
}

// WalkCSV writes a walk as comma-separated values with a line of headings, a line a
// step; a value that does not exist is empty.
func WalkCSV(w io.Writer, walk *Walk) error {
	c := csv.NewWriter(w)
	line := make([]string, len(walkColumns))
	for i := range walkColumns {
		line[i] = walkColumns[i].name
	}
	if err := c.Write(line); err != nil {
		return err
	}
	for i := range walk.Steps {
		o := walk.Steps[i].object()
		for n := range walkColumns {
			k := &walkColumns[n]
			switch {
			case k.text != nil:
				line[n] = k.text(&o)
			case k.number(&o) == nil:
				line[n] = ""
			default:
				line[n] = k.number(&o).rounded().String()
			}
		}
		if err := c.Write(line); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// rounded is a number without what is left over from reckoning with it: far finer than
// anything that is known.
func (n number) rounded() number { return number(math.Round(float64(n)*1e9) / 1e9) }

// WalkTable writes a walk as an aligned table, and where it broke and came back.
func WalkTable(w io.Writer, walk *Walk) error {
	rows := [][]string{make([]string, len(walkColumns))}
	for n := range walkColumns {
		rows[0][n] = walkColumns[n].heading
	}
	for i := range walk.Steps {
		o := walk.Steps[i].object()
		row := make([]string, len(walkColumns))
		for n := range walkColumns {
			k := &walkColumns[n]
			switch {
			case k.text != nil:
				row[n] = k.text(&o)
			case k.number(&o) != nil:
				row[n] = fixed(float64(*k.number(&o)), k.decimals)
			}
			if row[n] == "" {
				row[n] = absent
			}
		}
		rows = append(rows, row)
	}
	wide := make([]int, len(walkColumns))
	for _, row := range rows {
		for n, cell := range row {
			wide[n] = max(wide[n], utf8.RuneCountInString(cell))
		}
	}
	var b bytes.Buffer
	fmt.Fprintln(&b, title(walk.File, walk.Title))
	for _, row := range rows {
		for n, cell := range row {
			room := strings.Repeat(" ", wide[n]-utf8.RuneCountInString(cell))
			switch {
			case n == len(row)-1:
				b.WriteString(cell)
			case walkColumns[n].text != nil:
				b.WriteString(cell + room + "  ")
			default:
				b.WriteString(room + cell + "  ")
			}
		}
		b.WriteByte('\n')
	}
	for _, m := range []struct {
		what string
		at   Turn
	}{{"breaks on the way in at", walk.Breaks}, {"comes back on the way out at", walk.Returns}} {
		if m.at.At.OK {
			fmt.Fprintf(&b, "%s %s mm along the string, %s mm from the spectacle plane\n",
				m.what, fixed(m.at.At.Value, 0), fixed(m.at.FromSpectacle.Value, 0))
		}
	}
	_, err := w.Write(b.Bytes())
	return err
}

// title is the first line of a table.
func title(file, title string) string {
	if title == "" {
		return file
	}
	return file + ": " + title
}
