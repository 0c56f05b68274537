// Package measure writes the numbers of a view: as JSON, the contract that other
// people's scripts stand on, and as a table to read. Angles, radians inside, become
// degrees, minutes of arc and prism dioptres here; what does not exist is null in
// JSON and a dash in the table.
package measure

import (
	"bytes"
	"encoding/json"
	"io"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
)

// Format is the number of the JSON contract.
const Format = 1

// Entry is one scene that was looked at.
type Entry struct {
	File, Title string
	Language    string // of the sentences
	View        *sim.View
	Sentence    string   // for families
	Clinical    []string // what there is to tell clinicians, a paragraph each
}

// number is written as the shortest decimal that reads back the same, without an
// exponent, and without a sign before zero.
type number float64

// MarshalJSON writes the number.
func (n number) MarshalJSON() ([]byte, error) { return []byte(n.String()), nil }

func (n number) String() string {
	if n == 0 {
		n = 0
	}
	return strconv.FormatFloat(float64(n), 'f', -1, 64)
}

// maybe turns a value that may not exist into a number or null.
func maybe[T any](m sim.Maybe[T], f func(T) float64) *number {
	if !m.OK {
		return nil
	}
	n := number(f(m.Value))
	return &n
}

func same(x float64) float64      { return x }
func degrees(a sim.Angle) float64 { return float64(a.Degrees()) }
func arcmin(a sim.Angle) float64  { return float64(a.Arcmin()) }
func maybePair(m sim.Maybe[sim.XY]) *[2]number {
	if !m.OK {
		return nil
	}
	return &[2]number{number(m.Value.X), number(m.Value.Y)}
}

func maybePoint(m sim.Maybe[r3.Vec]) *[3]number {
	if !m.OK {
		return nil
	}
	return &[3]number{number(m.Value.X), number(m.Value.Y), number(m.Value.Z)}
}

// orNull is a code, or null where there is none.
func orNull(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

type object struct {
	Format int `json:"format"`
	Scene  struct {
		File  string `json:"file"`
		Title string `json:"title"`
	} `json:"scene"`
	Time     number      `json:"time_s"`
	Language string      `json:"language"`
	Target   target      `json:"target"`
	Eyes     eyes        `json:"eyes"`
	Axes     axes        `json:"axes"`
	Crossing crossing    `json:"crossing"`
	Beads    []bead      `json:"beads"`
	Strings  stringsSeen `json:"strings"`
	Account  account     `json:"account"`

	Sentence  string   `json:"sentence"`
	Clinician string   `json:"sentence_clinician"`
	clinical  []string // the same, a paragraph each

	Posture  posture   `json:"posture"`
	Findings *findings `json:"findings"`
}

type target struct {
	At            number `json:"at_mm"`
	FromEyes      number `json:"from_eyes_mm"`
	DemandPrism   number `json:"demand_prism"`
	Demand        number `json:"demand_deg"`
	MetreAngles   number `json:"metre_angles"`
	Required      number `json:"required_deg"`
	Accommodation number `json:"accommodation_demand_d"`
}

type eyes struct {
	Right gaze `json:"right"`
	Left  gaze `json:"left"`
}

type gaze struct {
	Azimuth   number `json:"azimuth_deg"`
	Elevation number `json:"elevation_deg"`
	Torsion   number `json:"torsion_deg"`
}

type axes struct {
	Gap   *number    `json:"gap_mm"`
	Point *[3]number `json:"point_mm"`
}

type crossing struct {
	At      *number    `json:"at_mm"`
	Offset  *number    `json:"offset_mm"`
	RightAt *number    `json:"right_at_mm"`
	LeftAt  *number    `json:"left_at_mm"`
	Picture *[2]number `json:"picture"`
	Seen    bool       `json:"seen"`
}

type bead struct {
	Name       string       `json:"name"`
	At         number       `json:"at_mm"`
	FromEyes   number       `json:"from_eyes_mm"`
	DisparityH *number      `json:"disparity_h_arcmin"`
	DisparityV *number      `json:"disparity_v_arcmin"`
	LimitH     *number      `json:"limit_h_arcmin"`
	LimitV     *number      `json:"limit_v_arcmin"`
	Separation *number      `json:"separation_deg"`
	Overlap    *number      `json:"overlap_share"`
	Right      *xy          `json:"right"`
	Left       *xy          `json:"left"`
	Blur       number       `json:"blur_arcmin"`
	Seen       sim.Seen     `json:"seen"`
	Diplopia   sim.Diplopia `json:"diplopia"`
	Black      sim.Side     `json:"black"`
}

type xy struct {
	X number `json:"x"`
	Y number `json:"y"`
}

type stringsSeen struct {
	Near      int         `json:"near"`
	Far       int         `json:"far"`
	NearOver  bool        `json:"near_overlaid"`
	FarOver   bool        `json:"far_overlaid"`
	Pattern   sim.Pattern `json:"pattern"`
	FusedFrom *number     `json:"fused_from_mm"`
	FusedTo   *number     `json:"fused_to_mm"`
	Gradient  *number     `json:"gradient"`
}

type account struct {
	Asked        *string     `json:"asked"`
	LookedAt     *string     `json:"looked_at"`
	Fixated      *string     `json:"fixated"`
	Near         int         `json:"near"`
	Far          int         `json:"far"`
	Pattern      sim.Pattern `json:"pattern"`
	Meet         sim.Meet    `json:"meet"`
	HiddenBy     *string     `json:"hidden_by"`
	Apart        *number     `json:"apart_deg"`
	Higher       sim.Side    `json:"higher"`
	Missing      sim.Side    `json:"missing"`
	MissingWhere *string     `json:"missing_where"`
	Gap          sim.Side    `json:"gap"`
	Fixes        sim.Side    `json:"fixes"`
	TookUp       bool        `json:"took_up"`
	Fainter      sim.Side    `json:"fainter"`
	Clarity      *string     `json:"clarity"`
	Uneven       bool        `json:"clarity_uneven"`
	NeedsCare    bool        `json:"needs_care"`
	Eyes         sim.Aim     `json:"eyes"`
	Fuses        bool        `json:"fuses"`
}

func newObject(e *Entry) object {
	v := e.View
	o := object{Format: Format, Language: e.Language, Sentence: e.Sentence, Clinician: strings.Join(e.Clinical, " "), clinical: e.Clinical}
	o.Scene.File, o.Scene.Title = e.File, e.Title
	o.Time = number(v.Seconds)
	o.Posture = newPosture(&v.Now.Posture)
	o.Findings = newFindings(v)
	t := &v.Target
	o.Target = target{
		At: number(t.At), FromEyes: number(t.FromEyes),
		DemandPrism: number(t.Demand), Demand: number(degrees(t.DemandAngle)),
		MetreAngles: number(t.MetreAngles), Required: number(degrees(t.Required)),
		Accommodation: number(t.Accommodation),
	}
	o.Eyes = eyes{newGaze(&v.Eyes[sim.RightEye]), newGaze(&v.Eyes[sim.LeftEye])}
	o.Axes = axes{maybe(v.Axes.Gap, same), maybePoint(v.Axes.Point)}
	c := &v.Crossing
	o.Crossing = crossing{
		maybe(c.At, same), maybe(c.Offset, same), maybe(c.RightAt, same), maybe(c.LeftAt, same),
		maybePair(c.Picture), c.Seen,
	}
	o.Beads = make([]bead, len(v.Beads))
	for i := range v.Beads {
		o.Beads[i] = newBead(&v.Beads[i])
	}
	s := &v.Strings
	o.Strings = stringsSeen{s.Near, s.Far, s.NearOverlaid, s.FarOverlaid, s.Pattern, maybe(s.FusedFrom, same), maybe(s.FusedTo, same), maybe(s.Gradient, same)}
	a := &v.Account
	o.Account = account{
		orNull(a.Asked), orNull(a.LookedAt), orNull(string(a.Fixated)), a.Near, a.Far, a.Pattern, a.Meet, orNull(a.HiddenBy),
		maybe(a.Apart, degrees), a.Higher, a.Missing, orNull(string(a.MissingWhere)), a.Gap,
		a.Fixes, a.TookUp, a.Fainter, orNull(string(a.Clarity)), a.Uneven, a.NeedsCare, a.Eyes, a.Fuses,
	}
	return o
}

func newGaze(g *sim.Gaze) gaze {
	return gaze{number(degrees(g.Azimuth)), number(degrees(g.Elevation)), number(degrees(g.Torsion))}
}

func newBead(b *sim.BeadView) bead {
	o := bead{
		Name: b.Name, At: number(b.At), FromEyes: number(b.FromEyes), Overlap: maybe(b.Overlap, same),
		Right: newXY(b.Right), Left: newXY(b.Left), Blur: number(arcmin(b.Blur)), Seen: b.Seen, Diplopia: b.Diplopia, Black: b.Black,
	}
	of := func(f func(sim.Disparity) sim.Angle, unit func(sim.Angle) float64) *number {
		return maybe(b.Disparity, func(d sim.Disparity) float64 { return unit(f(d)) })
	}
	o.DisparityH = of(func(d sim.Disparity) sim.Angle { return d.H }, arcmin)
	o.DisparityV = of(func(d sim.Disparity) sim.Angle { return d.V }, arcmin)
	o.Separation = of(func(d sim.Disparity) sim.Angle { return d.Separation }, degrees)
	o.LimitH = maybe(b.Limits, func(l [2]sim.Angle) float64 { return arcmin(l[0]) })
	o.LimitV = maybe(b.Limits, func(l [2]sim.Angle) float64 { return arcmin(l[1]) })
	return o
}

func newXY(m sim.Maybe[sim.XY]) *xy {
	if !m.OK {
		return nil
	}
	return &xy{number(m.Value.X), number(m.Value.Y)}
}

// JSON writes the entries as the contract has it: one object for a single entry, an
// array for several or where array is set. Nothing is written if an entry cannot
// be.
func JSON(w io.Writer, entries []Entry, array bool) error {
	objects := make([]object, len(entries))
	for i := range entries {
		objects[i] = newObject(&entries[i])
	}
	if len(objects) == 1 && !array {
		return encode(w, objects[0])
	}
	return encode(w, objects)
}

// encode writes a value as JSON, or nothing where it cannot be.
func encode(w io.Writer, v any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return err
	}
	_, err := w.Write(b.Bytes())
	return err
}
