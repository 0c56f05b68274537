package answers

import (
	"math"
	"slices"

	"twincord/sim"
)

// Kind is a kind of set-up that might be behind an answer.
type Kind string

// The kinds, the plainest first.
const (
	OnBead      Kind = "on_bead"       // both eyes on what was asked for
	AnotherSpot Kind = "place"         // another place looked at, without error
	Eso         Kind = "eso"           // the eyes meet too near
	Exo         Kind = "exo"           // the eyes meet too far
	LeftOut     Kind = "left_out"      // the whole of one eye's picture is left out
	LeftOutPart Kind = "left_out_part" // a part of it, or the whole is fainter
	Vertical    Kind = "vertical"      // one eye rides higher, with a horizontal error or without
	Torsion     Kind = "torsion"       // one eye is tilted
	Strings     Kind = "string"        // it is the string: how it is held
	Anomaly     Kind = "anomaly"       // a turned eye with harmonious anomalous correspondence
)

// Held is what is done to the string in the family Strings.
type Held string

// The ways of holding the string.
const (
	HeldLevel Held = "level" // at eye level, so that it is seen end-on
	HeldAside Held = "side"  // 20 mm to a side
	HeldSlack Held = "slack" // hanging down by a twelfth of its length
)

// Family is a set of set-ups that differ in one number, or in two.
type Family struct {
	Kind   Kind
	Eye    sim.Side // whose picture is left out; of an anomaly the eye that fixes; else sim.Neither
	Zone   sim.Zone // what is left out; "" where nothing is
	Centre sim.Centre
	Radius sim.Degrees
	Held   Held // "" unless Kind is Strings
}

// The keys of scene files under which the numbers that vary in families stand: of a Range.
const (
	KeyDeviation = "posture.deviation_prism"
	KeyVertical  = "posture.vertical_prism"
	KeyCyclo     = "posture.cyclo_deg"
	KeyPlace     = "look.at_mm"
)

// family is a Family with how its members are made.
type family struct {
	Family
	base sim.Setup                     // what all members share
	key  string                        // of the number that varies; "" where nothing does
	vary func(s *sim.Setup, x float64) // puts it into a set-up made from base
	fine float64                       // how finely the ends of its stretches are found
	rows []row

	second     string // the key of the second number: one for each row; "" where there is none
	varySecond func(s *sim.Setup, y float64)
	fineSecond float64

	discrete bool // what lies between two neighbours of the grid is no member
	fainter  bool // it is looked at only where one string in front was said to be fainter
}

// row is a line of a family's members: those at x, increasing.
type row struct {
	y    float64
	grid []float64
}

// How finely ends are found (M18).
const (
	finePrism  = 0.05 // Δ
	fineDegree = 0.1  // °
	fineMM     = 1.   // mm
)

// The bounds of the families (M18): what is tried ends there.
const (
	MostDeviation = 40 // Δ
	MostVertical  = 10 // Δ
	MostCyclo     = 15 // °
)

// half is one side of a grid of deviations, Δ: dense where the crossing leaves the bead
// and Panum's limit is passed, wide where only the doubling grows.
var half = []float64{0, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.65, 0.8, 1, 1.25, 1.5, 1.75, 2, 2.5, 3, 3.5, 4, 5, 6, 7, 8,
	9, 10, 12, 14, 16, 18, 20, 23, 26, 30, 35, MostDeviation}

// quarter is the same for errors that come on top of another one.
var quarter = []float64{0, 0.1, 0.2, 0.4, 0.6, 0.8, 1, 1.5, 2, 3, 4, 6, 8, 10, 14, 20, 28, MostDeviation}

// verticals are the vertical errors at which a horizontal one is varied, Δ.
var verticals = []float64{0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.8, 1, 1.5, 2, 3, 5, 7, MostVertical}

// both gives the grid on both sides of zero.
func both(half []float64) []float64 {
	all := slices.Clone(half)
	for _, x := range half {
		if x != 0 {
			all = append(all, -x)
		}
	}
	slices.Sort(all)
	return all
}

// below gives the grid on the other side of zero.
func below(half []float64) []float64 {
	all := slices.Clone(half)
	for i := range all {
		all[i] = -all[i]
	}
	slices.Reverse(all)
	return all
}

// families gives all of them, the plainest first, for a scene: its string, beads,
// patient and glass, with the eyes on what was asked for.
func families(scene *sim.Setup) []family {
	base := scene.OnTarget()
	with := func(change func(s *sim.Setup)) sim.Setup {
		s := base
		change(&s)
		return s
	}
	deviation := func(f Family, base sim.Setup, grids ...[]float64) family {
		d := family{Family: f, base: base, key: KeyDeviation, fine: finePrism,
			vary: func(s *sim.Setup, e float64) { s.Posture.Deviation = sim.Prism(e) }}
		for _, g := range grids {
			d.rows = append(d.rows, row{grid: g})
		}
		return d
	}
	fixed := func(f Family, base sim.Setup) family {
		return family{Family: f, base: base, rows: []row{{grid: []float64{0}}}, vary: func(*sim.Setup, float64) {}, discrete: true}
	}
	whole, rough := both(half), both(quarter)

	all := []family{
		fixed(Family{Kind: OnBead}, base),
		places(base),
		deviation(Family{Kind: Eso}, base, half),
		deviation(Family{Kind: Exo}, base, below(half)),
	}
	eyes := []sim.Side{sim.Right, sim.Left}
	for _, eye := range eyes {
		f := Family{Kind: LeftOut, Eye: eye, Zone: sim.ZoneAll}
		all = append(all, deviation(f, with(f.leaveOut), rough))
	}
	for _, part := range parts {
		for _, eye := range eyes {
			f := part
			f.Eye = eye
			d := deviation(f, with(f.leaveOut), whole)
			if f.Zone == sim.ZoneAll {
				d.base.Suppression.Depth = faint
				d.fainter = true
			}
			all = append(all, d)
		}
	}
	vertical := deviation(Family{Kind: Vertical}, base)
	vertical.second, vertical.fineSecond = KeyVertical, finePrism
	vertical.varySecond = func(s *sim.Setup, v float64) { s.Posture.Vertical = sim.Prism(v) }
	for _, v := range both(verticals) {
		vertical.rows = append(vertical.rows, row{v, rough})
	}
	torsion := family{Family: Family{Kind: Torsion}, base: base, key: KeyCyclo, fine: fineDegree,
		vary: func(s *sim.Setup, c float64) { s.Posture.Cyclo = sim.Degrees(c) }}
	for _, side := range []float64{-1, 1} {
		var grid []float64
		for c := 0.25; c <= MostCyclo; c += 0.25 {
			grid = append(grid, side*c)
		}
		slices.Sort(grid)
		torsion.rows = append(torsion.rows, row{grid: grid})
	}
	all = append(all, vertical, torsion,
		fixed(Family{Kind: Strings, Held: HeldLevel}, with(func(s *sim.Setup) { s.String.NearEnd.Z, s.String.AnchorHeight = 0, 0 })),
		aside(base),
		fixed(Family{Kind: Strings, Held: HeldSlack}, with(func(s *sim.Setup) { s.String.Sag = s.String.Length / 12 })),
	)
	for _, eye := range eyes {
		d := deviation(Family{Kind: Anomaly, Eye: eye}, with(func(s *sim.Setup) { s.Posture.Fixing = eye }),
			below(half[1:]), half[1:])
		d.vary = func(s *sim.Setup, e float64) { s.Posture.Deviation, s.Posture.Anomaly = sim.Prism(e), sim.Prism(e) }
		all = append(all, d)
	}
	return all
}

// faint is the depth of suppression with which a picture is seen, but fainter (M9).
const faint = 0.5

// parts are what can be left out of one eye's picture. The last leaves nothing out
// but is fainter; nobody looks for it unless fainter is what was said.
var parts = []Family{
	{Kind: LeftOutPart, Zone: sim.ZoneNearer},
	{Kind: LeftOutPart, Zone: sim.ZoneBeyond},
	{Kind: LeftOutPart, Zone: sim.ZoneCentral, Centre: sim.CentreTarget, Radius: 2},
	{Kind: LeftOutPart, Zone: sim.ZoneCentral, Centre: sim.CentreTarget, Radius: 5},
	{Kind: LeftOutPart, Zone: sim.ZoneCentral, Centre: sim.CentreFovea, Radius: 5},
	{Kind: LeftOutPart, Zone: sim.ZoneAll},
}

// leaveOut suppresses what the family leaves out.
func (f Family) leaveOut(s *sim.Setup) {
	s.Suppression.Eye, s.Suppression.Zone = f.Eye, f.Zone
	if f.Zone == sim.ZoneCentral {
		s.Suppression.Centre, s.Suppression.Radius = f.Centre, f.Radius
	}
}

// places is the family of all places on the string but the one asked for.
func places(base sim.Setup) family {
	asked := base.FixatedBead()
	at, radius := base.LookPlace(), float64(sim.BareRadius)
	if asked != sim.NoBead {
		at, radius = base.Beads[asked].At, base.Beads[asked].Diameter/2
	}
	f := family{Family: Family{Kind: AnotherSpot}, key: KeyPlace, fine: fineMM, base: base,
		vary: func(s *sim.Setup, at float64) { s.Look = sim.Fixation{Bead: sim.NoBead, At: at, Asked: asked} }}
	near, far := max(0, at-radius-fineMM), min(at+radius+fineMM, base.String.Length)
	for _, stretch := range [][2]float64{{0, near}, {far, base.String.Length}} {
		if stretch[0] < stretch[1] {
			f.rows = append(f.rows, row{grid: along(stretch[0], stretch[1], base.Beads)})
		}
	}
	return f
}

// along is a grid of places: even as the string looks from beside the nose, and at
// both rims of every bead.
func along(from, to float64, beads []sim.Bead) []float64 {
	const steps, eyes = 40, 100. // mm: from here places look evenly spread
	var grid []float64
	a, b := 1/(from+eyes), 1/(to+eyes)
	for i := range steps + 1 {
		grid = append(grid, max(from, min(1/(a+(b-a)*float64(i)/steps)-eyes, to)))
	}
	for _, b := range beads {
		for _, rim := range []float64{b.At - b.Diameter/2, b.At, b.At + b.Diameter/2} {
			if from < rim && rim < to {
				grid = append(grid, rim)
			}
		}
	}
	slices.Sort(grid)
	return slices.Compact(grid)
}

// aside is the string held to the patient's left or right.
func aside(base sim.Setup) family {
	const side = 20 // mm
	middle := base.String.NearEnd.X
	return family{Family: Family{Kind: Strings, Held: HeldAside}, base: base, discrete: true,
		vary: func(s *sim.Setup, x float64) { s.String.NearEnd.X = middle + x },
		rows: []row{{grid: []float64{-side, side}}}}
}

// Scales are the sizes of Panum's area that are tried, as multiples of the patient's:
// limits differ six-fold between people (rows F1 – F4). The patient's own is tried
// first where one of several is to be shown.
var Scales = [...]float64{1, 2, 0.5, 4}

// member puts a member of the family into s.
func (f *family) member(s *sim.Setup, x, y, scale float64) {
	*s = f.base
	f.vary(s, x)
	if f.varySecond != nil {
		f.varySecond(s, y)
	}
	s.Patient = s.Patient.WithPanum(scale)
}

// resolved says whether two members are as near to each other as ends are found.
func (f *family) resolved(a, b float64) bool { return f.discrete || math.Abs(b-a) <= f.fine }

// least and most are the bounds of the number that varies.
func (f *family) least() float64 { return f.rows[0].grid[0] }
func (f *family) most() float64  { return f.rows[0].grid[len(f.rows[0].grid)-1] }
