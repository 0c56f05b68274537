package scenes

import (
	"encoding/hex"
	"fmt"
	"math"
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
	Names  Kind = "names"  // of beads in order, as an array; in memory a line each
	Choice Kind = "choice" // one of Key.Choices
	Colour Kind = "colour" // "#RRGGBB", sRGB
)

// Range is what a number or the length of a text may be, ends included.
type Range = sim.Range

// RangeOf is what a number may be that a key has at a path such as "patient.pd_mm", and
// is for code that names a key: one that has no range, or is none, panics. Of several
// ranges it is the first.
func RangeOf(path string) Range {
	k, _ := Find(path)
	if len(k.Ranges) == 0 {
		panic("scenes: no range of " + path)
	}
	return k.Ranges[0]
}

// Key is a key of a scene file. The keys of one bead have "beads[]" for a table.
type Key struct {
	Table, Name string // Table is empty for the keys at the top of the file
	Kind        Kind
	Unit        string   // empty for plain numbers
	Ranges      []Range  // of a Number, in any of them; of a Point, three; a Text may have one for its length in characters
	Whole       bool     // a Number without a fraction
	Choices     []string // of a Choice
	Required    bool
	Or          string // exactly one of this key and that one is required
	Default     any    // nil where there is none
	Doc         string // one line
	Source      string // the published rows behind the default or the range

	along bool // a place on the string: the range ends where the string does

	get   func(owner) (value any, ok bool)
	set   func(owner, any)
	clear func(owner) // of a key that is optional
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

// Optional says whether a scene may do without the key and has no default for it.
func (k *Key) Optional() bool { return k.Default == nil && !k.Required && k.Or == "" }

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
	setup := sim.Default()
	setup.Findings = sim.Some(sim.DefaultFindings())
	return owner{&Scene{Setup: setup, Routine: sim.Some(DefaultRoutine)}, &bead}
}

// beads is the table of one bead's keys, findings the table that may stand instead
// of posture.
const (
	beads    = "beads[]"
	findings = "findings"
)

// routine is the table of what is done with the scene.
const routine = "routine"

// The units.
const (
	mm      = "mm"
	degrees = "°"
	arcmin  = "arcmin"
	prism   = "Δ"
	dioptre = "D"
	years   = "years"
	seconds = "s"

	prismPerDioptre = "Δ/D"
	arcminPerPrism  = "arcmin/Δ"
)

// lengths are how long the string may be.
var lengths = sim.Bounds("string.length_mm")[0]

// keys is the one table of keys. Defaults are sim.Default's, sim.DefaultFindings'
// and defaultBead's.
var keys = finished(slices.Concat([]Key{
	{Name: "format", Kind: Number, Ranges: []Range{{Min: Format, Max: Format}}, Required: true, Doc: "The format of the file.",
		get: func(owner) (any, bool) { return float64(Format), true }, set: func(owner, any) {}},
	text("", "title", Text, func(o owner) *string { return &o.Title }).doc("What the scene is called, one line."),
	text("", "note", Prose, func(o owner) *string { return &o.Note }).doc("What there is to say about the scene."),

	number("patient", "pd_mm", mm, func(o owner) *float64 { return &o.Setup.Patient.PD }).
		doc("Distance between the eyes' centres of rotation.").source("I1, I3, I4, I5"),
	number("patient", "nodal_mm", mm, func(o owner) *float64 { return &o.Setup.Patient.Nodal }).
		doc("Nodal point ahead of the centre of rotation; 0 is the handbooks' reduced geometry.").source("E11, E12"),
	number("patient", "fusion_h_arcmin", arcmin, func(o owner) *sim.Arcmin { return &o.Setup.Patient.FusionH }).
		doc("Panum's horizontal half-limit at the fovea.").source("F1 – F11"),
	number("patient", "fusion_v_arcmin", arcmin, func(o owner) *sim.Arcmin { return &o.Setup.Patient.FusionV }).
		doc("Panum's vertical half-limit at the fovea.").source("F2, F9, F11"),
	number("patient", "fusion_h_slope", "", func(o owner) *float64 { return &o.Setup.Patient.FusionHSlope }).
		doc("Growth of the horizontal half-limit for each unit of eccentricity.").source("F11"),
	number("patient", "fusion_v_slope", "", func(o owner) *float64 { return &o.Setup.Patient.FusionVSlope }).
		doc("Growth of the vertical half-limit for each unit of eccentricity."),
	number("patient", "pupil_mm", mm, func(o owner) *float64 { return &o.Setup.Patient.Pupil }).
		doc("Diameter of the pupils.").source("B4"),
	number("patient", "lambda_deg", degrees, func(o owner) *sim.Degrees { return &o.Setup.Patient.Lambda }).
		doc("Angle lambda: how far the pupillary axis lies temporal of the visual axis.").source("E5, E13"),
	number("patient", "age_years", years, func(o owner) *float64 { return &o.Setup.Patient.Age }).
		doc("Age; gives the amplitude of accommodation. Left out it is 25; the earliest versions took 10.").source("C18"),
	maybe("patient", "amplitude_d", dioptre, func(o owner) *sim.Maybe[sim.Dioptres] { return &o.Setup.Patient.Amplitude }).
		doc("Amplitude of accommodation, instead of the age's."),
	number("patient", "lag_d", dioptre, func(o owner) *sim.Dioptres { return &o.Setup.Patient.Lag }).
		doc("Lag of accommodation at 40 cm."),

	number("string", "length_mm", mm, func(o owner) *float64 { return &o.Setup.String.Length }).
		doc("Straight distance from the near end to the anchor.").required(),
	point("string", "near_end_mm", mm, func(o owner) *r3.Vec { return &o.Setup.String.NearEnd }).
		doc("Where the string is held: to the patient's right, ahead of and above the middle between the eyes' centres of rotation.").source("N3, N6"),
	number("string", "anchor_side_mm", mm, func(o owner) *float64 { return &o.Setup.String.AnchorSide }).
		doc("The anchor, to the patient's right +."),
	number("string", "anchor_height_mm", mm, func(o owner) *float64 { return &o.Setup.String.AnchorHeight }).
		doc("The anchor, above eye level +; it is as far ahead as the length reaches."),
	number("string", "thickness_mm", mm, func(o owner) *float64 { return &o.Setup.String.Thickness }).
		doc("Thickness of the string."),
	number("string", "sag_mm", mm, func(o owner) *float64 { return &o.Setup.String.Sag }).
		doc("How far the string hangs down at mid-length, at most a quarter of the length."),

	text(beads, "name", Text, func(o owner) *string { return &o.bead.Name }).
		doc("Name of the bead, 1 to 32 characters, no other bead's.").required(),
	number(beads, "at_mm", mm, func(o owner) *float64 { return &o.bead.At }).alongString().
		doc("Place along the straight chord from the near end, at most the length.").required(),
	number(beads, "diameter_mm", mm, func(o owner) *float64 { return &o.bead.Diameter }).
		doc("Diameter of the bead."),
	colour(beads, "colour", func(o owner) *sim.RGB { return &o.bead.Colour }).
		doc("Colour of the bead.").source("G5"),
	choice(beads, "surface", func(o owner) *sim.Surface { return &o.bead.Surface }).
		doc("Pattern on the bead, so that beads are told apart without colour."),

	name("look", "bead", func(o owner) int { return o.Setup.Look.Bead },
		func(o owner, bead int) { o.Setup.Look.Bead, o.Setup.Look.At = bead, 0 }).
		doc("The bead looked at.").or("look.at_mm"),
	{Table: "look", Name: "at_mm", Kind: Number, Unit: mm, Ranges: sim.Bounds("look.at_mm"), Or: "look.bead", along: true,
		Doc: "The place looked at, at most the length; inside a bead it is that bead.",
		get: func(o owner) (any, bool) { return o.Setup.Look.At, o.Setup.Look.Bead == sim.NoBead },
		set: func(o owner, v any) { o.Setup.Look.Bead, o.Setup.Look.At = sim.NoBead, v.(float64) }},
	name("look", "asked", func(o owner) int { return o.Setup.Look.Asked },
		func(o owner, bead int) { o.Setup.Look.Asked = bead }).
		doc("The bead that the patient was asked to look at, if another."),
	name("look", "from", func(o owner) int { return o.Setup.Look.From.Or(sim.NoBead) },
		func(o owner, bead int) {
			o.Setup.Look.From = sim.Maybe[int]{Value: max(bead, 0), OK: bead != sim.NoBead}
		}).
		doc("The bead looked at until the time 0, when the eyes set off to what they look at now.").source("Y1, Y7"),

	number("posture", "deviation_prism", prism, func(o owner) *sim.Prism { return &o.Setup.Posture.Deviation }).
		doc("Horizontal error of the eyes at the target, eso +, exo -."),
	number("posture", "vertical_prism", prism, func(o owner) *sim.Prism { return &o.Setup.Posture.Vertical }).
		doc("Vertical error, right eye higher +."),
	number("posture", "cyclo_deg", degrees, func(o owner) *sim.Degrees { return &o.Setup.Posture.Cyclo }).
		doc("Torsional error, excyclo +."),
	choice("posture", "fixing", func(o owner) *sim.Side { return &o.Setup.Posture.Fixing }).
		doc("The eye that fixes while it can: the other carries the error, and with both each carries half. An eye that is covered or left out whole cannot, and the other takes up.").source("D9"),
	number("posture", "anomaly_prism", prism, func(o owner) *sim.Prism { return &o.Setup.Posture.Anomaly }).
		doc("Angle of anomaly of anomalous correspondence; needs one fixing eye.").source("A1"),
	number("posture", "prism_met", "", func(o owner) *float64 { return &o.Setup.Posture.PrismMet }).
		doc("Share of the prisms that the eyes have answered."),
	maybe("posture", "accommodation_d", dioptre, func(o owner) *sim.Maybe[sim.Dioptres] { return &o.Setup.Posture.Accommodation }).
		doc("Response of accommodation, instead of the computed one."),
},
	examined(),
	[]Key{
		number("hold", "unsteady_arcmin", arcmin, func(o owner) *sim.Arcmin { return &o.Setup.Hold.SD }).
			doc("How far the vergence wavers round its mean, as a standard deviation; 0 is steady.").source("Y4"),
		{Table: "hold", Name: "seed", Kind: Number, Whole: true, Ranges: []Range{{Min: 0, Max: math.MaxUint32}},
			Doc: "What the wavering draws its numbers from; the same seed wavers the same.",
			get: func(o owner) (any, bool) { return float64(o.Setup.Hold.Seed), true },
			set: func(o owner, v any) { o.Setup.Hold.Seed = uint64(v.(float64)) }},

		choice("suppression", "eye", func(o owner) *sim.Side { return &o.Setup.Suppression.Eye }).
			doc("The eye whose image is left out; alternating, the right one's in the first half of each period and the left one's in the second."),
		choice("suppression", "zone", func(o owner) *sim.Zone { return &o.Setup.Suppression.Zone }).
			doc("The part that is left out: all, round the centre, the nasal or the temporal half of the retina (whether half a retina is ever left out is disputed), or the string nearer or beyond the place looked at."),
		choice("suppression", "centre", func(o owner) *sim.Centre { return &o.Setup.Suppression.Centre }).
			doc("What the central zone lies round: the fovea, the image of the target, or both and what lies between.").source("S9, S10"),
		choice("suppression", "when", func(o owner) *sim.When { return &o.Setup.Suppression.When }).
			doc("When it acts: always, or only while the eyes are more than 1 Δ off horizontally, with findings while they do not hold. Never while the other eye is covered.").source("D10"),
		number("suppression", "radius_deg", degrees, func(o owner) *sim.Degrees { return &o.Setup.Suppression.Radius }).
			doc("Radius of the central zone.").source("S4"),
		number("suppression", "depth", "", func(o owner) *float64 { return &o.Setup.Suppression.Depth }).
			doc("How much of the image is left out; 1 is all of it, up to 0.8 the rest is seen, fainter above 0.3."),
		number("suppression", "period_s", seconds, func(o owner) *float64 { return &o.Setup.Suppression.Period }).
			doc("Period of a suppression that comes and goes; 0 is constant, and an alternating one has at least 2.").source("G3"),
		number("suppression", "share", "", func(o owner) *float64 { return &o.Setup.Suppression.Share }).
			doc("Share of each period that is suppressed, from its beginning; an alternating one does not use it."),

		choice("cover", "eye", func(o owner) *sim.Side { return &o.Setup.Cover }).
			doc("The eye that is covered."),
	},
	glass("right", func(o owner) *sim.Glass { return &o.Setup.Right }),
	glass("left", func(o owner) *sim.Glass { return &o.Setup.Left }),
	practised(),
))

// glass gives the keys of what stands before an eye.
func glass(eye string, at func(owner) *sim.Glass) []Key {
	return []Key{
		number(eye, "base_out_prism", prism, func(o owner) *sim.Prism { return &at(o).BaseOut }).
			doc("Horizontal prism before the " + eye + " eye, base-in -.").source("P1, P3"),
		number(eye, "base_up_prism", prism, func(o owner) *sim.Prism { return &at(o).BaseUp }).
			doc("Vertical prism before the " + eye + " eye, base-down -.").source("P1, P3"),
		number(eye, "lens_d", dioptre, func(o owner) *sim.Dioptres { return &at(o).Lens }).
			doc("Lens before the " + eye + " eye."),
		number(eye, "refraction_d", dioptre, func(o owner) *sim.Dioptres { return &at(o).Refraction }).
			doc("The lens with which the " + eye + " eye sees far away without accommodating, hyperopia +.").source("C21, C23"),
		choice(eye, "filter", func(o owner) *sim.Filter { return &at(o).Filter }).
			doc("Filter before the " + eye + " eye."),
	}
}

// examined gives the keys of the findings. They are there only where a scene has
// findings.
func examined() []Key {
	at := func(o owner) *sim.Findings { return &o.Setup.Findings.Value }
	ks := slices.Concat([]Key{
		number(findings, "far_phoria_prism", prism, func(o owner) *sim.Prism { return &at(o).FarPhoria }).
			doc("Horizontal phoria at 6 m, eso +, exo -.").source("C1"),
		number(findings, "near_phoria_prism", prism, func(o owner) *sim.Prism { return &at(o).NearPhoria }).
			doc("Horizontal phoria at 40 cm, eso +, exo -.").source("C2"),
		number(findings, "vertical_phoria_prism", prism, func(o owner) *sim.Prism { return &at(o).VerticalPhoria }).
			doc("Vertical phoria, right eye higher +."),
		number(findings, "vertical_break_prism", prism, func(o owner) *sim.Prism { return &at(o).VerticalBreak }).
			doc("Vertical prism at which single becomes double, the same up and down.").source("C20"),
	},
		reserves("far", "at 6 m", "C4", "C3", func(o owner) *sim.Reserves { return &at(o).Far }),
		reserves("near", "at 40 cm", "C6", "C5", func(o owner) *sim.Reserves { return &at(o).Near }),
		[]Key{
			number(findings, "npc_break_mm", mm, func(o owner) *float64 { return &at(o).NPCBreak }).
				doc("Near point of convergence, where single becomes double, from the spectacle plane; at most as far as the string reaches.").source("C10, C11"),
			number(findings, "npc_recovery_mm", mm, func(o owner) *float64 { return &at(o).NPCRecovery }).
				doc("Where double becomes single again as the target moves out, from the spectacle plane.").source("C10"),
			maybe(findings, "aca_gradient_prism_per_d", prismPerDioptre, func(o owner) *sim.Maybe[float64] { return &at(o).ACA }).
				doc("AC/A ratio by the gradient method, published mean 4; without it the calculated one stands in.").source("C7, C16, C17"),
			number(findings, "near_add_d", dioptre, func(o owner) *sim.Dioptres { return &at(o).NearAdd }).
				doc("The add that was worn when the near findings were taken."),
			number(findings, "disparity_slope_arcmin_per_prism", arcminPerPrism, func(o owner) *float64 { return &at(o).DisparitySlope }).
				doc("Fixation disparity for each prism dioptre of need; a mean is published of the disparity, 0, and none of the slope.").source("X2, X3"),
			choice(findings, "preferred_eye", func(o owner) *sim.Side { return &at(o).Preferred }).
				doc("The eye that fixes when the eyes do not hold together."),
			choice(findings, "state", func(o owner) *sim.State { return &at(o).State }).
				doc("Whether the eyes held the target together before this moment."),
		})
	return together(ks, func(o owner) bool { return o.Setup.Findings.OK },
		func(o owner) { o.Setup.Findings = sim.Some(sim.DefaultFindings()) })
}

// practised gives the keys of the routine. They are there only where a scene has one.
func practised() []Key {
	at := func(o owner) *Routine { return &o.Routine.Value }
	return together([]Key{
		choiceOf(routine, "kind", RoutineKinds, func(o owner) *RoutineKind { return &at(o).Kind }).
			doc("What is done with the scene: a walk moves the bead looked at toward the nose and back, jumps go from bead to bead, a bare string is looked at in steps from the place looked at."),
		number(routine, "step_mm", mm, func(o owner) *float64 { return &at(o).Step }).
			within(1, 1000).doc("Length of a step of a walk or on a bare string."),
		count(routine, "steps", Range{Min: 1, Max: 60}, func(o owner) *int { return &at(o).Steps }).
			doc("Steps of a walk or on a bare string, one way; none may leave the string."),
		choiceOf(routine, "ways", []Ways{ThereAndBack, There}, func(o owner) *Ways { return &at(o).Ways }).
			doc("Toward the nose and back, or only toward it."),
		Key{Table: routine, Name: "order", Kind: Names,
			get:   func(o owner) (any, bool) { return at(o).Order, at(o).Order != "" },
			set:   func(o owner, v any) { at(o).Order = v.(string) },
			clear: func(o owner) { at(o).Order = "" }}.
			doc("The beads of the jumps in order; left out, from the farthest to the nearest."),
		count(routine, "rounds", Range{Min: 1, Max: 50}, func(o owner) *int { return &at(o).Rounds }).
			doc("How often it is done in a row."),
		number(routine, "hold_s", seconds, func(o owner) *float64 { return &at(o).Hold }).
			within(1, 120).doc("How long each place is held, once the bead is single and the strings are right."),
	}, func(o owner) bool { return o.Routine.OK }, func(o owner) { o.Routine = sim.Some(DefaultRoutine) })
}

// together makes keys those of a table that a scene has as a whole or not at all:
// setting one brings the table, the others at their defaults.
func together(ks []Key, has func(owner) bool, bring func(owner)) []Key {
	for i := range ks {
		get, set := ks[i].get, ks[i].set
		ks[i].get = func(o owner) (any, bool) {
			v, ok := get(o)
			return v, ok && has(o)
		}
		ks[i].set = func(o owner, v any) {
			if !has(o) {
				bring(o)
			}
			set(o, v)
		}
	}
	return ks
}

// reserves gives the keys of the reserves at one distance, in and out being the
// rows of their sources.
func reserves(distance, where, in, out string, at func(owner) *sim.Reserves) []Key {
	row := func(name, source, doc string, field func(*sim.Reserves) *sim.Prism) Key {
		return number(findings, distance+"_"+name+"_prism", prism, func(o owner) *sim.Prism { return field(at(o)) }).
			doc(fmt.Sprintf(doc, where)).source(source)
	}
	return []Key{
		maybe(findings, distance+"_base_in_blur_prism", prism, func(o owner) *sim.Maybe[sim.Prism] { return &at(o).BaseInBlur }).
			doc("Base-in prism at which the target blurs " + where + "; none is expected at 6 m.").source(in),
		row("base_in_break", in, "Base-in prism at which single becomes double %s.", func(r *sim.Reserves) *sim.Prism { return &r.BaseInBreak }),
		row("base_in_recovery", in, "Base-in prism at which double becomes single again %s.", func(r *sim.Reserves) *sim.Prism { return &r.BaseInRecovery }),
		row("base_out_blur", out, "Base-out prism at which the target blurs %s.", func(r *sim.Reserves) *sim.Prism { return &r.BaseOutBlur }),
		row("base_out_break", out, "Base-out prism at which single becomes double %s.", func(r *sim.Reserves) *sim.Prism { return &r.BaseOutBreak }),
		row("base_out_recovery", out, "Base-out prism at which double becomes single again %s.", func(r *sim.Reserves) *sim.Prism { return &r.BaseOutRecovery }),
	}
}

// finished fills in the defaults.
func finished(keys []Key) []Key {
	o := defaults()
	for i := range keys {
		k := &keys[i]
		if k.Required || k.Or != "" {
			continue
		}
		if v, ok := k.get(o); ok {
			k.Default = v
		}
	}
	return keys
}

// The rows of the table. at gives the field that a key is about.

// Those that a set-up holds have their ranges and choices from sim.

func number[T ~float64](table, name, unit string, at func(owner) *T) Key {
	return Key{Table: table, Name: name, Kind: Number, Unit: unit, Ranges: sim.Bounds(dotted(table, name)),
		get: func(o owner) (any, bool) { return float64(*at(o)), true },
		set: func(o owner, v any) { *at(o) = T(v.(float64)) }}
}

func count(table, name string, r Range, at func(owner) *int) Key {
	return Key{Table: table, Name: name, Kind: Number, Whole: true, Ranges: []Range{r},
		get: func(o owner) (any, bool) { return float64(*at(o)), true },
		set: func(o owner, v any) { *at(o) = int(v.(float64)) }}
}

func maybe[T ~float64](table, name, unit string, at func(owner) *sim.Maybe[T]) Key {
	return Key{Table: table, Name: name, Kind: Number, Unit: unit, Ranges: sim.Bounds(dotted(table, name)),
		get:   func(o owner) (any, bool) { return float64(at(o).Value), at(o).OK },
		set:   func(o owner, v any) { *at(o) = sim.Some(T(v.(float64))) },
		clear: func(o owner) { *at(o) = sim.Maybe[T]{} }}
}

func point(table, name, unit string, at func(owner) *r3.Vec) Key {
	var axes []Range
	for i := range 3 {
		axes = append(axes, sim.Bounds(itemPath(dotted(table, name), i))...)
	}
	return Key{Table: table, Name: name, Kind: Point, Unit: unit, Ranges: axes,
		get: func(o owner) (any, bool) { p := at(o); return [3]float64{p.X, p.Y, p.Z}, true },
		set: func(o owner, v any) { c := v.([3]float64); *at(o) = r3.Vec{X: c[0], Y: c[1], Z: c[2]} }}
}

func text(table, name string, kind Kind, at func(owner) *string) Key {
	return Key{Table: table, Name: name, Kind: kind, Ranges: sim.Bounds(dotted(table, name)),
		get: func(o owner) (any, bool) { return *at(o), true },
		set: func(o owner, v any) { *at(o) = v.(string) }}
}

func choice[T ~string](table, name string, at func(owner) *T) Key {
	return Key{Table: table, Name: name, Kind: Choice, Choices: sim.Choices(dotted(table, name)),
		get: func(o owner) (any, bool) { return string(*at(o)), true },
		set: func(o owner, v any) { *at(o) = T(v.(string)) }}
}

// choiceOf is a choice that is none of the set-up.
func choiceOf[T ~string](table, name string, choices []T, at func(owner) *T) Key {
	k := choice(table, name, at)
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

// name is a key that names a bead; at and put have its index, or NoBead.
func name(table, name string, at func(owner) int, put func(owner, int)) Key {
	return Key{Table: table, Name: name, Kind: Name,
		get: func(o owner) (any, bool) {
			i := at(o)
			if i < 0 || i >= len(o.Setup.Beads) {
				return nil, false
			}
			return o.Setup.Beads[i].Name, true
		},
		set:   func(o owner, v any) { put(o, o.BeadNamed(v.(string))) },
		clear: func(o owner) { put(o, sim.NoBead) }}
}

// BeadNamed gives the index of a bead, or sim.NoBead.
func (sc *Scene) BeadNamed(name string) int {
	return slices.IndexFunc(sc.Setup.Beads, func(b sim.Bead) bool { return b.Name == name })
}

func (k Key) doc(s string) Key            { k.Doc = s; return k }
func (k Key) source(s string) Key         { k.Source = s; return k }
func (k Key) within(min, max float64) Key { k.Ranges = []Range{{Min: min, Max: max}}; return k }
func (k Key) alongString() Key            { k.along = true; return k }
func (k Key) required() Key               { k.Required = true; return k }
func (k Key) or(path string) Key          { k.Or = path; return k }

// tables are the tables of a scene file, in order.
var tables = func() (names []string) {
	for _, k := range keys {
		if k.Table != "" && !slices.Contains(names, k.Table) {
			names = append(names, k.Table)
		}
	}
	return names
}()

// isTableName says whether a scene file may hold a table of that name at its top.
func isTableName(name string) bool {
	return name != beads && slices.Contains(tables, name) || name == "beads"
}

// Find gives the key of that path: "patient.pd_mm", "beads[].at_mm".
func Find(path string) (Key, bool) {
	i := slices.IndexFunc(keys, func(k Key) bool { return k.Path() == path })
	if i < 0 {
		return Key{}, false
	}
	return keys[i], true
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
