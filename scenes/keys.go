package scenes

import (
	"encoding/hex"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
)

// Kind is the type of a key's value.
type Kind string

// The kinds. The value of a key, as in Key.Default, is a float64 for a Number,
// a [3]float64 for a Point and a string for all others.
const (
	Number Kind = "number"
	Point  Kind = "point"  // [x, y, z]
	Text   Kind = "text"   // one line
	Prose  Kind = "prose"  // text of any number of lines
	Name   Kind = "name"   // of a bead
	Choice Kind = "choice" // one of Key.Choices
	Colour Kind = "colour" // "#RRGGBB", sRGB
)

// Range is what a number or the length of a text may be, ends included.
type Range struct{ Min, Max float64 }

// Key is a key of a scene file. The keys of one bead have "beads[]" for a table.
type Key struct {
	Table, Name string // Table is empty for the keys at the top of the file
	Kind        Kind
	Unit        string   // empty for plain numbers
	Ranges      []Range  // one for a Number, three for a Point; a Text may have one for its length in characters
	Choices     []string // of a Choice
	Required    bool
	Or          string // exactly one of this key and that one is required
	Default     any    // nil where there is none
	Doc         string // one line
	Source      string // the published rows behind the default or the range

	// Later marks a key that the program does not act on yet, and LaterChoices
	// such choices of a key: anything that would change something is refused.
	Later        bool
	LaterChoices []string

	along bool // a place on the string: the range ends where the string does

	get func(owner) (value any, ok bool)
	set func(owner, any)
}

// Path is the whole key: "patient.pd_mm", "beads[].at_mm".
func (k *Key) Path() string { return dotted(k.Table, k.Name) }

func dotted(table, name string) string {
	switch {
	case table == "":
		return name
	case len(table) > maxPath:
		return table
	}
	return table + "." + name
}

// Keys gives every key of a scene file, in the order of the file.
func Keys() []Key { return slices.Clone(keys) }

// owner is what a key's value belongs to: a scene, and for a key of the beads
// one of its beads.
type owner struct {
	*Scene
	bead *sim.Bead
}

// defaultBead is a bead as far as a file may leave it out. Colour: the sky blue
// of row G5.
var defaultBead = sim.Bead{Diameter: 16, Colour: sim.RGB{R: 0x56, G: 0xB4, B: 0xE9}, Surface: sim.SurfacePlain}

// defaults has everything at its default.
func defaults() owner {
	bead := defaultBead
	return owner{&Scene{Setup: sim.Default()}, &bead}
}

// beads is the table of one bead's keys, findings the table that may one day
// stand instead of posture.
const (
	beads    = "beads[]"
	findings = "findings"
)

// The units.
const (
	mm      = "mm"
	degrees = "°"
	arcmin  = "arcmin"
	prism   = "Δ"
	dioptre = "D"
	years   = "years"
	seconds = "s"
)

var (
	share   = Range{0, 1}
	lengths = Range{150, 6000}
	sides   = []sim.Side{sim.Neither, sim.Right, sim.Left}
	fixings = []sim.Side{sim.Both, sim.Right, sim.Left}
)

// keys is the one table of keys. Defaults are sim.Default's and defaultBead's.
var keys = finished(slices.Concat([]Key{
	{Name: "format", Kind: Number, Ranges: []Range{{Format, Format}}, Required: true, Doc: "The format of the file.",
		get: func(owner) (any, bool) { return float64(Format), true }, set: func(owner, any) {}},
	text("", "title", Text, func(o owner) *string { return &o.Title }).doc("What the scene is called, one line."),
	text("", "note", Prose, func(o owner) *string { return &o.Note }).doc("What there is to say about the scene."),

	number("patient", "pd_mm", mm, Range{40, 80}, func(o owner) *float64 { return &o.Setup.Patient.PD }).
		doc("Distance between the eyes' centres of rotation.").source("I1, I3, I4, I5"),
	number("patient", "nodal_mm", mm, Range{0, 10}, func(o owner) *float64 { return &o.Setup.Patient.Nodal }).
		doc("Nodal point ahead of the centre of rotation; 0 is the handbooks' reduced geometry.").source("E11, E12"),
	number("patient", "fusion_h_arcmin", arcmin, Range{0, 240}, func(o owner) *sim.Arcmin { return &o.Setup.Patient.FusionH }).
		doc("Panum's horizontal half-limit at the fovea.").source("F1 – F11"),
	number("patient", "fusion_v_arcmin", arcmin, Range{0, 240}, func(o owner) *sim.Arcmin { return &o.Setup.Patient.FusionV }).
		doc("Panum's vertical half-limit at the fovea.").source("F2, F9, F11"),
	number("patient", "fusion_h_slope", "", Range{0, 0.2}, func(o owner) *float64 { return &o.Setup.Patient.FusionHSlope }).
		doc("Growth of the horizontal half-limit for each unit of eccentricity.").source("F11"),
	number("patient", "fusion_v_slope", "", Range{0, 0.2}, func(o owner) *float64 { return &o.Setup.Patient.FusionVSlope }).
		doc("Growth of the vertical half-limit for each unit of eccentricity."),
	number("patient", "pupil_mm", mm, Range{1, 9}, func(o owner) *float64 { return &o.Setup.Patient.Pupil }).
		doc("Diameter of the pupils.").source("B4"),
	number("patient", "age_years", years, Range{3, 100}, func(o owner) *float64 { return &o.Setup.Patient.Age }).
		doc("Age; gives the amplitude of accommodation.").source("C18"),
	maybe("patient", "amplitude_d", dioptre, Range{0, 20}, func(o owner) *sim.Maybe[sim.Dioptres] { return &o.Setup.Patient.Amplitude }).
		doc("Amplitude of accommodation, instead of the age's."),
	number("patient", "lag_d", dioptre, Range{-1, 3}, func(o owner) *sim.Dioptres { return &o.Setup.Patient.Lag }).
		doc("Lag of accommodation at 40 cm."),

	number("string", "length_mm", mm, lengths, func(o owner) *float64 { return &o.Setup.String.Length }).
		doc("Straight distance from the near end to the anchor.").required(),
	point("string", "near_end_mm", mm, [3]Range{{-60, 60}, {30, 90}, {-90, 20}}, func(o owner) *r3.Vec { return &o.Setup.String.NearEnd }).
		doc("Where the string is held: to the patient's right, ahead of and above the middle between the eyes' centres of rotation.").source("N3, N6"),
	number("string", "anchor_side_mm", mm, Range{-1500, 1500}, func(o owner) *float64 { return &o.Setup.String.AnchorSide }).
		doc("The anchor, to the patient's right +."),
	number("string", "anchor_height_mm", mm, Range{-1500, 1500}, func(o owner) *float64 { return &o.Setup.String.AnchorHeight }).
		doc("The anchor, above eye level +; it is as far ahead as the length reaches."),
	number("string", "thickness_mm", mm, Range{0.5, 8}, func(o owner) *float64 { return &o.Setup.String.Thickness }).
		doc("Thickness of the string."),
	number("string", "sag_mm", mm, Range{0, 300}, func(o owner) *float64 { return &o.Setup.String.Sag }).
		doc("How far the string hangs down at mid-length, at most a quarter of the length."),

	text(beads, "name", Text, func(o owner) *string { return &o.bead.Name }).length(1, 32).
		doc("Name of the bead, 1 to 32 characters, no other bead's.").required(),
	number(beads, "at_mm", mm, Range{0, lengths.Max}, func(o owner) *float64 { return &o.bead.At }).alongString().
		doc("Place along the straight chord from the near end, at most the length.").required(),
	number(beads, "diameter_mm", mm, Range{4, 60}, func(o owner) *float64 { return &o.bead.Diameter }).
		doc("Diameter of the bead."),
	colour(beads, "colour", func(o owner) *sim.RGB { return &o.bead.Colour }).
		doc("Colour of the bead.").source("G5"),
	choice(beads, "surface", []sim.Surface{sim.SurfacePlain, sim.SurfaceBanded, sim.SurfaceDotted, sim.SurfaceRinged},
		func(o owner) *sim.Surface { return &o.bead.Surface }).
		doc("Pattern on the bead, so that beads are told apart without colour."),

	name("look", "bead", func(o owner) *int { return &o.Setup.Look.Bead }).
		doc("The bead looked at.").or("look.at_mm"),
	{Table: "look", Name: "at_mm", Kind: Number, Unit: mm, Ranges: []Range{{0, lengths.Max}}, Or: "look.bead", along: true,
		Doc: "The place looked at, at most the length; inside a bead it is that bead.",
		get: func(o owner) (any, bool) { return o.Setup.Look.At, o.Setup.Look.Bead == sim.NoBead },
		set: func(o owner, v any) { o.Setup.Look.At = v.(float64) }},
	name("look", "asked", func(o owner) *int { return &o.Setup.Look.Asked }).
		doc("The bead that the patient was asked to look at, if another."),

	number("posture", "deviation_prism", prism, Range{-100, 100}, func(o owner) *sim.Prism { return &o.Setup.Posture.Deviation }).
		doc("Horizontal error of the eyes at the target, eso +, exo -."),
	number("posture", "vertical_prism", prism, Range{-30, 30}, func(o owner) *sim.Prism { return &o.Setup.Posture.Vertical }).
		doc("Vertical error, right eye higher +."),
	number("posture", "cyclo_deg", degrees, Range{-20, 20}, func(o owner) *sim.Degrees { return &o.Setup.Posture.Cyclo }).
		doc("Torsional error, excyclo +."),
	choice("posture", "fixing", fixings, func(o owner) *sim.Side { return &o.Setup.Posture.Fixing }).
		doc("The eye that fixes; the other carries the error, and with both each carries half."),
	number("posture", "anomaly_prism", prism, Range{-100, 100}, func(o owner) *sim.Prism { return &o.Setup.Posture.Anomaly }).
		doc("Angle of anomaly of anomalous correspondence; needs one fixing eye.").source("A1"),
	number("posture", "prism_met", "", share, func(o owner) *float64 { return &o.Setup.Posture.PrismMet }).
		doc("Share of the prisms that the eyes have answered."),
	maybe("posture", "accommodation_d", dioptre, Range{0, 20}, func(o owner) *sim.Maybe[sim.Dioptres] { return &o.Setup.Posture.Accommodation }).
		doc("Response of accommodation, instead of the computed one."),

	choice("suppression", "eye", sides, func(o owner) *sim.Side { return &o.Setup.Suppression.Eye }).
		doc("The eye whose image is left out.").later("alternating"),
	choice("suppression", "zone", []sim.Zone{sim.ZoneAll, sim.ZoneCentral, sim.ZoneNearer, sim.ZoneBeyond},
		func(o owner) *sim.Zone { return &o.Setup.Suppression.Zone }).
		doc("The part that is left out: all, round the centre, or the string nearer or beyond the place looked at."),
	choice("suppression", "centre", []sim.Centre{sim.CentreFovea, sim.CentreTarget},
		func(o owner) *sim.Centre { return &o.Setup.Suppression.Centre }).
		doc("What the central zone lies round: the fovea, or the image of the target."),
	number("suppression", "radius_deg", degrees, Range{0.5, 60}, func(o owner) *sim.Degrees { return &o.Setup.Suppression.Radius }).
		doc("Radius of the central zone.").source("S4"),
	number("suppression", "depth", "", share, func(o owner) *float64 { return &o.Setup.Suppression.Depth }).
		doc("How much of the image is left out; 1 is all of it."),
	{Table: "suppression", Name: "period_s", Kind: Number, Unit: seconds, Default: 0., Later: true,
		Doc: "Period of an intermittent suppression; 0 is constant."},
	{Table: "suppression", Name: "share", Kind: Number, Default: 0.5, Later: true,
		Doc: "Share of each period that is suppressed."},

	choice("cover", "eye", sides, func(o owner) *sim.Side { return &o.Setup.Cover }).
		doc("The eye that is covered."),
},
	glass("right", func(o owner) *sim.Glass { return &o.Setup.Right }),
	glass("left", func(o owner) *sim.Glass { return &o.Setup.Left }),
))

// glass gives the keys of what stands before an eye.
func glass(eye string, at func(owner) *sim.Glass) []Key {
	return []Key{
		number(eye, "base_out_prism", prism, Range{-40, 40}, func(o owner) *sim.Prism { return &at(o).BaseOut }).
			doc("Horizontal prism before the " + eye + " eye, base-in -.").source("P1, P3"),
		number(eye, "base_up_prism", prism, Range{-40, 40}, func(o owner) *sim.Prism { return &at(o).BaseUp }).
			doc("Vertical prism before the " + eye + " eye, base-down -.").source("P1, P3"),
		number(eye, "lens_d", dioptre, Range{-20, 20}, func(o owner) *sim.Dioptres { return &at(o).Lens }).
			doc("Lens before the " + eye + " eye."),
		{Table: eye, Name: "filter", Kind: Choice, Choices: []string{"none"}, LaterChoices: []string{"red", "green"}, Default: "none", Later: true,
			Doc: "Filter before the " + eye + " eye."},
	}
}

// findingKeys are the keys of the table findings.
var findingKeys = []string{
	"far_phoria_prism", "near_phoria_prism", "vertical_phoria_prism", "vertical_break_prism",
	"far_base_in_break_prism", "far_base_in_recovery_prism",
	"far_base_out_blur_prism", "far_base_out_break_prism", "far_base_out_recovery_prism",
	"near_base_in_blur_prism", "near_base_in_break_prism", "near_base_in_recovery_prism",
	"near_base_out_blur_prism", "near_base_out_break_prism", "near_base_out_recovery_prism",
	"npc_break_mm", "npc_recovery_mm", "aca_gradient_prism_per_d", "disparity_slope_arcmin_per_prism",
	"preferred_eye", "state",
}

// finished fills in the defaults.
func finished(keys []Key) []Key {
	o := defaults()
	for i := range keys {
		k := &keys[i]
		if k.Required || k.Or != "" || k.Later {
			continue
		}
		if v, ok := k.get(o); ok {
			k.Default = v
		}
	}
	return keys
}

// The rows of the table. at gives the field that a key is about.

func number[T ~float64](table, name, unit string, r Range, at func(owner) *T) Key {
	return Key{Table: table, Name: name, Kind: Number, Unit: unit, Ranges: []Range{r},
		get: func(o owner) (any, bool) { return float64(*at(o)), true },
		set: func(o owner, v any) { *at(o) = T(v.(float64)) }}
}

func maybe[T ~float64](table, name, unit string, r Range, at func(owner) *sim.Maybe[T]) Key {
	return Key{Table: table, Name: name, Kind: Number, Unit: unit, Ranges: []Range{r},
		get: func(o owner) (any, bool) { return float64(at(o).Value), at(o).OK },
		set: func(o owner, v any) { *at(o) = sim.Some(T(v.(float64))) }}
}

func point(table, name, unit string, rs [3]Range, at func(owner) *r3.Vec) Key {
	return Key{Table: table, Name: name, Kind: Point, Unit: unit, Ranges: rs[:],
		get: func(o owner) (any, bool) { p := at(o); return [3]float64{p.X, p.Y, p.Z}, true },
		set: func(o owner, v any) { c := v.([3]float64); *at(o) = r3.Vec{X: c[0], Y: c[1], Z: c[2]} }}
}

func text(table, name string, kind Kind, at func(owner) *string) Key {
	return Key{Table: table, Name: name, Kind: kind,
		get: func(o owner) (any, bool) { return *at(o), true },
		set: func(o owner, v any) { *at(o) = v.(string) }}
}

func choice[T ~string](table, name string, choices []T, at func(owner) *T) Key {
	k := Key{Table: table, Name: name, Kind: Choice,
		get: func(o owner) (any, bool) { return string(*at(o)), true },
		set: func(o owner, v any) { *at(o) = T(v.(string)) }}
	for _, c := range choices {
		k.Choices = append(k.Choices, string(c))
	}
	return k
}

func colour(table, name string, at func(owner) *sim.RGB) Key {
	return Key{Table: table, Name: name, Kind: Colour,
		get: func(o owner) (any, bool) { c := at(o); return fmt.Sprintf("#%02X%02X%02X", c.R, c.G, c.B), true },
		set: func(o owner, v any) { *at(o), _ = parseColour(v.(string)) }}
}

func parseColour(s string) (c sim.RGB, ok bool) {
	if len(s) != len("#RRGGBB") || s[0] != '#' {
		return sim.RGB{}, false
	}
	var b [3]byte
	if _, err := hex.Decode(b[:], []byte(s[1:])); err != nil {
		return sim.RGB{}, false
	}
	return sim.RGB{R: b[0], G: b[1], B: b[2]}, true
}

// name is a key that names a bead, kept as its index.
func name(table, name string, at func(owner) *int) Key {
	return Key{Table: table, Name: name, Kind: Name,
		get: func(o owner) (any, bool) {
			i := *at(o)
			if i < 0 || i >= len(o.Setup.Beads) {
				return nil, false
			}
			return o.Setup.Beads[i].Name, true
		},
		set: func(o owner, v any) { *at(o) = o.beadNamed(v.(string)) }}
}

// beadNamed gives the index of a bead, or NoBead.
func (sc *Scene) beadNamed(name string) int {
	return slices.IndexFunc(sc.Setup.Beads, func(b sim.Bead) bool { return b.Name == name })
}

func (k Key) doc(s string) Key            { k.Doc = s; return k }
func (k Key) source(s string) Key         { k.Source = s; return k }
func (k Key) length(min, max float64) Key { k.Ranges = []Range{{min, max}}; return k }
func (k Key) alongString() Key            { k.along = true; return k }
func (k Key) required() Key               { k.Required = true; return k }
func (k Key) or(path string) Key          { k.Or = path; return k }
func (k Key) later(s ...string) Key       { k.LaterChoices = s; return k }

// tables are the tables of a scene file, in order.
var tables = func() (names []string) {
	for _, k := range keys {
		if k.Table != "" && !slices.Contains(names, k.Table) {
			names = append(names, k.Table)
		}
	}
	return names
}()

// isTableName says whether a scene file may hold a table of that name at its
// top, if only to be refused.
func isTableName(name string) bool {
	return name != beads && slices.Contains(tables, name) || name == "beads" || name == findings
}

// find gives a key, or nil.
func find(table, name string) *Key {
	for i := range keys {
		if k := &keys[i]; k.Table == table && k.Name == name {
			return k
		}
	}
	return nil
}
