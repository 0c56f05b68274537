package scenes

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"twincord/sim"
)

const smallest = `format = 1
[string]
length_mm = 1200
[look]
at_mm = 300
`

func parse(t require.TestingT, text string) *Scene {
	sc, err := Parse("test.toml", []byte(text))
	require.NoError(t, err)
	return sc
}

func written(t require.TestingT, sc *Scene) string {
	var b bytes.Buffer
	require.NoError(t, sc.Write(&b))
	return b.String()
}

// What is left out is at its default.
func TestDefaults(t *testing.T) {
	want := sim.Default()
	want.String.Length = 1200
	want.Look.At = 300
	assert.Equal(t, &Scene{Setup: want}, parse(t, smallest))

	sc := parse(t, smallest+"[[beads]]\nname = \"b\"\nat_mm = 30\n")
	assert.Equal(t, []sim.Bead{{Name: "b", At: 30, Diameter: 16, Colour: sim.RGB{R: 0x56, G: 0xB4, B: 0xE9}, Surface: sim.SurfacePlain}}, sc.Setup.Beads)
}

// Every key, at a value that is not its default, ends in its field.
func TestEveryKey(t *testing.T) {
	sc := parse(t, `# One.

#Two

format = 1.0
title = "Title: \"quoted\""
note = """
First line
second	line \\ end"""

[patient]
pd_mm = 4_1
nodal_mm = 0x02
fusion_h_arcmin = 3
fusion_v_arcmin = 4
fusion_h_slope = 5e-2
fusion_v_slope = 0.06
pupil_mm = 7
lambda_deg = 11
age_years = 8
amplitude_d = 9
lag_d = -0.5

[string]
length_mm = 2000
near_end_mm = [
  -11, 32.5, # ahead
  -13,
]
anchor_side_mm = 14
anchor_height_mm = -15
thickness_mm = 1.6
sag_mm = 17

[[beads]]
name = 'a'
at_mm = 0
diameter_mm = 18
colour = "#0a0B0C"
surface = "banded"

[[beads]]
name = "b"
at_mm = 2000
surface = "dotted"

[look]
bead = "b"
asked = "b"
from = "a"

[hold]
unsteady_arcmin = 33
seed = 4294967295

[posture]
deviation_prism = -19
vertical_prism = 20
cyclo_deg = -2.1
fixing = "left"
anomaly_prism = 22
prism_met = 0.23
accommodation_d = 0

[suppression]
eye = "right"
zone = "central"
centre = "target"
radius_deg = 24
depth = 0.25
period_s = 32
share = 0.25
when = "turned"

[cover]
eye = "left"

[right]
base_out_prism = 26
base_up_prism = -27
lens_d = 2.8
refraction_d = 4.5
filter = "red"

[left]
base_out_prism = -29
base_up_prism = 30
lens_d = -3.1
refraction_d = -0.25
filter = "green"
`)
	assert.Equal(t, &Scene{
		Head:  []string{"# One.", "", "#Two"},
		Title: `Title: "quoted"`,
		Note:  "First line\nsecond\tline \\ end",
		Setup: sim.Setup{
			Patient: sim.Patient{PD: 41, Nodal: 2, FusionH: 3, FusionV: 4, FusionHSlope: 0.05, FusionVSlope: 0.06,
				Pupil: 7, Lambda: 11, Age: 8, Amplitude: sim.Some[sim.Dioptres](9), Lag: -0.5},
			String: sim.String{Length: 2000, NearEnd: r3.Vec{X: -11, Y: 32.5, Z: -13}, AnchorSide: 14, AnchorHeight: -15,
				Thickness: 1.6, Sag: 17},
			Beads: []sim.Bead{
				{Name: "a", At: 0, Diameter: 18, Colour: sim.RGB{R: 10, G: 11, B: 12}, Surface: sim.SurfaceBanded},
				{Name: "b", At: 2000, Diameter: 16, Colour: sim.RGB{R: 0x56, G: 0xB4, B: 0xE9}, Surface: sim.SurfaceDotted},
			},
			Look: sim.Fixation{Bead: 1, Asked: 1, From: sim.Some(0)},
			Hold: sim.Unsteadiness{SD: 33, Seed: math.MaxUint32},
			Posture: sim.Posture{Deviation: -19, Vertical: 20, Cyclo: -2.1, Fixing: sim.Left, Anomaly: 22, PrismMet: 0.23,
				Accommodation: sim.Some[sim.Dioptres](0)},
			Suppression: sim.Suppression{Eye: sim.Right, Zone: sim.ZoneCentral, Centre: sim.CentreTarget, Radius: 24, Depth: 0.25,
				Period: 32, Share: 0.25, When: sim.WhenTurned},
			Cover: sim.Left,
			Right: sim.Glass{BaseOut: 26, BaseUp: -27, Lens: 2.8, Refraction: 4.5, Filter: sim.FilterRed},
			Left:  sim.Glass{BaseOut: -29, BaseUp: 30, Lens: -3.1, Refraction: -0.25, Filter: sim.FilterGreen},
		},
	}, sc)
	assert.Equal(t, sc, parse(t, written(t, sc)))
}

// Every finding, at a value that is not its default, ends in its field.
func TestEveryFinding(t *testing.T) {
	sc := parse(t, smallest+`
[findings]
far_phoria_prism = 1
near_phoria_prism = 2
vertical_phoria_prism = -3
vertical_break_prism = 4
far_base_in_blur_prism = 5
far_base_in_break_prism = 7.5
far_base_in_recovery_prism = 6
far_base_out_blur_prism = 8
far_base_out_break_prism = 10
far_base_out_recovery_prism = -9
near_base_in_blur_prism = 11
near_base_in_break_prism = 13
near_base_in_recovery_prism = 12
near_base_out_blur_prism = 14
near_base_out_break_prism = 16
near_base_out_recovery_prism = 15
npc_break_mm = 171
npc_recovery_mm = 182
aca_gradient_prism_per_d = 1.9
disparity_slope_arcmin_per_prism = 0.2
near_add_d = 2.25
preferred_eye = "left"
state = "broken"
`)
	want := parse(t, smallest).Setup
	want.Findings = sim.Some(sim.Findings{
		FarPhoria: 1, NearPhoria: 2, VerticalPhoria: -3, VerticalBreak: 4,
		Far: sim.Reserves{BaseInBlur: sim.Some[sim.Prism](5), BaseInBreak: 7.5, BaseInRecovery: 6,
			BaseOutBlur: 8, BaseOutBreak: 10, BaseOutRecovery: -9},
		Near: sim.Reserves{BaseInBlur: sim.Some[sim.Prism](11), BaseInBreak: 13, BaseInRecovery: 12,
			BaseOutBlur: 14, BaseOutBreak: 16, BaseOutRecovery: 15},
		NPCBreak: 171, NPCRecovery: 182, ACA: sim.Some(1.9), DisparitySlope: 0.2, NearAdd: 2.25,
		Preferred: sim.Left, State: sim.StateBroken,
	})
	assert.Equal(t, &Scene{Setup: want}, sc)
	assert.Equal(t, sc, parse(t, written(t, sc)))
}

// An empty table of findings is findings at their defaults: the means that were
// published (rows C1 – C6, C10, C20, X2).
func TestFindingsDefaults(t *testing.T) {
	sc := parse(t, smallest+"[findings]\n")
	assert.Equal(t, sim.Some(sim.DefaultFindings()), sc.Setup.Findings)
	assert.Equal(t, sc, parse(t, written(t, sc)))
	want := map[string]any{
		"far_phoria_prism": -1., "near_phoria_prism": -3., "vertical_phoria_prism": 0., "vertical_break_prism": 3.,
		"far_base_in_break_prism": 7., "far_base_in_recovery_prism": 4.,
		"far_base_out_blur_prism": 9., "far_base_out_break_prism": 19., "far_base_out_recovery_prism": 10.,
		"near_base_in_blur_prism": 13., "near_base_in_break_prism": 21., "near_base_in_recovery_prism": 13.,
		"near_base_out_blur_prism": 17., "near_base_out_break_prism": 21., "near_base_out_recovery_prism": 11.,
		"npc_break_mm": 50., "npc_recovery_mm": 70., "disparity_slope_arcmin_per_prism": 0.,
		"near_add_d":    0.,
		"preferred_eye": "right", "state": "holding",
	}
	for _, k := range Keys() {
		if k.Table != findings {
			continue
		}
		assert.Equal(t, want[k.Name], k.Default, k.Name)
		got, ok := k.Get(sc, 0)
		assert.Equal(t, want[k.Name], got, k.Name)
		assert.Equal(t, !k.Optional(), ok, k.Name)
		_, ok = k.Get(parse(t, smallest), 0)
		assert.False(t, ok, k.Name)
	}
}

// One scene in every shape that TOML has for it.
func TestShapes(t *testing.T) {
	want := parse(t, smallest+"[[beads]]\nname = \"b\"\nat_mm = 30\n")
	shapes := map[string]string{
		"byte order mark": "\ufeff" + smallest + "[[beads]]\nname = \"b\"\nat_mm = 30\n",
		"CRLF":            strings.ReplaceAll(smallest+"[[beads]]\nname = \"b\"\nat_mm = 30\n", "\n", "\r\n"),
		"inline":          `beads = [ {name="b",at_mm=30}, ]` + "\n" + `look = {at_mm=300}` + "\nstring={length_mm=1.2e3}\nformat=1",
		"dotted":          "format = 1\nstring.length_mm = 1200\nlook.at_mm = 300\nbeads = [{name = 'b', at_mm = 30}]",
		"quoted":          "\"format\" = 1\n['string']\n\"length\\u005Fmm\" = 1200\n[ look ]\nat_mm = 300\n[[ \"beads\" ]]\nname = \"\\u0062\"\nat_mm = 30",
		"empty tables":    smallest + "[[beads]]\nname = \"b\"\nat_mm = 30\n[patient]\n[posture]\n[cover]\n[left]\n",
		"bases":           "format = 0b1\nstring.length_mm = 0x4B0\nlook.at_mm = 0o454\nbeads = [{name = 'b', at_mm = +3_0.0}]",
	}
	for name, text := range shapes {
		t.Run(name, func(t *testing.T) { assert.Equal(t, want, parse(t, text)) })
	}
}

// A value at the very end of its range is within it, and a negative zero is
// zero.
func TestEnds(t *testing.T) {
	const start = "format = 1\nstring.length_mm = 6000\nlook.at_mm = 300\n"
	for _, k := range Keys() {
		if k.Kind != Number || k.Required || k.Or != "" {
			continue
		}
		var ends []float64
		for _, r := range k.Ranges {
			ends = append(ends, r.Min, r.Max)
		}
		for _, v := range ends {
			text := start + k.Path() + " = " + decimals(v) + "\n"
			switch {
			case k.Table == findings:
				text += agreeing(k.Name, v)
			case k.Table == routine:
				text = "format = 1\nstring.length_mm = 1200\nbeads = [{name = \"b\", at_mm = 1100}]\nlook.bead = \"b\"\n" +
					k.Path() + " = " + decimals(v) + "\n"
				for _, other := range []string{"step_mm", "steps"} {
					if k.Name != other {
						text += "routine." + other + " = 1\n"
					}
				}
			case k.Table == beads:
				text = start + `beads = [{name = "b", at_mm = 30, ` + k.Name + " = " + decimals(v) + "}]"
			case k.Name == "anomaly_prism":
				text += "posture.fixing = \"left\"\n"
			}
			sc := parse(t, text)
			got, ok := k.Get(sc, 0)
			assert.True(t, ok, k.Path())
			assert.Equal(t, v, got, k.Path())
		}
	}
	sc := parse(t, smallest+"[posture]\ndeviation_prism = -0.0\n")
	assert.False(t, math.Signbit(float64(sc.Setup.Posture.Deviation)))
}

// agreeing gives the findings that must go with one at an end of its range.
func agreeing(name string, v float64) (text string) {
	base, ok := strings.CutSuffix(name, "_prism")
	i := strings.LastIndexByte(base, '_')
	switch {
	case name == "npc_break_mm":
		return "findings.npc_recovery_mm = 2000\n"
	case name == "npc_recovery_mm":
		return "findings.npc_break_mm = 1\n"
	case !ok || !strings.Contains(name, "_base_"):
		return ""
	}
	for _, part := range []string{"blur", "break", "recovery"} {
		if other := base[:i+1] + part + "_prism"; other != name {
			text += dotted(findings, other) + " = " + decimals(v) + "\n"
		}
	}
	return text
}

func TestHead(t *testing.T) {
	tests := []struct {
		text string
		want []string
	}{
		{"", nil},
		{"\n\n", nil},
		{"# a\n", []string{"# a"}},
		{"\n  # a  \r\n#\n\n\n# b\n\n", []string{"# a", "#", "", "", "# b"}},
	}
	for _, test := range tests {
		sc := parse(t, test.text+smallest+"# below\n")
		assert.Equal(t, test.want, sc.Head)
		assert.Equal(t, sc, parse(t, written(t, sc)))
	}
}

// Nothing is written of a scene that could not be read again.
func TestWriteRefuses(t *testing.T) {
	changes := map[string]func(*Scene){
		"out of range": func(sc *Scene) { sc.Setup.Patient.PD = 30 },
		"not a number": func(sc *Scene) { sc.Setup.String.Sag = math.NaN() },
		"no length":    func(sc *Scene) { sc.Setup.String.Length = 0 },
		"no bead":      func(sc *Scene) { sc.Setup.Look.Bead = 7 },
		"no side":      func(sc *Scene) { sc.Setup.Cover = "both" },
		"no whole":     func(sc *Scene) { sc.Setup.Hold.Seed = math.MaxUint64 },
		"both": func(sc *Scene) {
			sc.Setup.Findings, sc.Setup.Posture.Deviation = sim.Some(sim.DefaultFindings()), 1
		},
	}
	for name, change := range changes {
		t.Run(name, func(t *testing.T) {
			sc := parse(t, smallest)
			change(sc)
			var b bytes.Buffer
			var faults Faults
			require.ErrorAs(t, sc.Write(&b), &faults)
			assert.Zero(t, b.Len())
			assert.Equal(t, faults, sc.Check())
		})
	}
	failing := errors.New("full")
	assert.ErrorIs(t, parse(t, smallest).Write(failingWriter{failing}), failing)
}

type failingWriter struct{ err error }

func (w failingWriter) Write([]byte) (int, error) { return 0, w.err }

// scenesOf draws scenes with any allowed value in any key.
func scenesOf(t *rapid.T) *Scene {
	sc := &Scene{Setup: sim.Default()}
	words := rapid.StringOfN(rapid.RuneFrom([]rune(`aß "\#=[]'€`)), 0, 20, -1)
	for range rapid.IntRange(0, 3).Draw(t, "lines") {
		sc.Head = append(sc.Head, strings.TrimSpace("#"+words.Draw(t, "line")))
	}
	for i := range rapid.IntRange(0, sim.MaxBeads).Draw(t, "beads") {
		b := defaultBead
		b.Name = string(rune('a'+i)) + words.Draw(t, "name")
		sc.Setup.Beads = append(sc.Setup.Beads, b)
	}
	draw := func(o owner, k *Key) {
		if !k.Required && rapid.Bool().Draw(t, "left out") {
			return
		}
		switch k.Kind {
		case Number:
			r := rapid.SampledFrom(k.Ranges).Draw(t, "range")
			v := rapid.Float64Range(r.Min, r.Max).Draw(t, k.Path()) + 0
			if k.Whole {
				v = math.Trunc(v)
			}
			k.set(o, v)
		case Point:
			var p [3]float64
			for i, r := range k.Ranges {
				p[i] = rapid.Float64Range(r.Min, r.Max).Draw(t, k.Path()) + 0
			}
			k.set(o, p)
		case Choice:
			k.set(o, rapid.SampledFrom(k.Choices).Draw(t, k.Path()))
		case Colour:
			k.set(o, rapid.StringMatching(`#[0-9A-F]{6}`).Draw(t, k.Path()))
		case Prose:
			k.set(o, rapid.StringOf(rapid.RuneFrom([]rune("ab\n\t\r\"\\é"))).Draw(t, k.Path()))
		}
	}
	for i := range keys {
		if keys[i].Table != beads {
			draw(owner{Scene: sc}, &keys[i])
			continue
		}
		for j := range sc.Setup.Beads {
			draw(owner{sc, &sc.Setup.Beads[j]}, &keys[i])
		}
	}

	// What no key can be told of alone.
	s := &sc.Setup
	s.String.Length = max(s.String.Length, math.Hypot(s.String.AnchorSide-s.String.NearEnd.X, s.String.AnchorHeight-s.String.NearEnd.Z)*1.001)
	s.String.Sag = min(s.String.Sag, s.String.Length/4)
	apart := s.String.Length / sim.MaxBeads
	for i := range s.Beads {
		s.Beads[i].At = apart * (float64(i) + 0.5)
		s.Beads[i].Diameter = max(4, min(s.Beads[i].Diameter, apart))
	}
	if s.Posture.Fixing == sim.Both {
		s.Posture.Anomaly = 0
	}
	if s.Posture.Fixing == s.Suppression.Eye {
		s.Suppression.Zone = sim.ZoneCentral
	}
	n := len(s.Beads)
	s.Look.Asked = rapid.IntRange(sim.NoBead, n-1).Draw(t, "asked")
	s.Look.Bead = rapid.IntRange(sim.NoBead, n-1).Draw(t, "looked at")
	s.Look.At = min(s.Look.At, s.String.Length)
	if s.Look.Bead != sim.NoBead {
		s.Look.At = 0
	}
	if from := rapid.IntRange(sim.NoBead, n-1).Draw(t, "from"); from != sim.NoBead && from != s.Look.Bead {
		s.Look.From = sim.Some(from)
	}
	if s.Suppression.Eye == sim.Alternating {
		s.Suppression.Period = max(2, s.Suppression.Period)
	}
	if r := &sc.Routine.Value; sc.Routine.OK {
		_, nearest := s.WalkEnds()
		switch {
		case n >= 2 && r.Kind == Jumps:
		case s.FixatedBead() == sim.NoBead:
			r.Kind = BareString
		default:
			r.Kind = Walk
		}
		r.Step = 1
		if r.Steps = min(r.Steps, int(s.LookPlace()-nearest)); r.Steps < 1 {
			sc.Routine = sim.Maybe[Routine]{}
		}
	}
	if f := &s.Findings.Value; s.Findings.OK {
		s.Posture = sim.Default().Posture
		for _, r := range []*sim.Reserves{&f.Far, &f.Near} {
			r.BaseInRecovery = min(r.BaseInRecovery, r.BaseInBreak)
			r.BaseOutRecovery = min(r.BaseOutRecovery, r.BaseOutBreak)
			r.BaseOutBlur = min(r.BaseOutBlur, r.BaseOutBreak)
			if r.BaseInBlur.OK {
				r.BaseInBlur.Value = min(r.BaseInBlur.Value, r.BaseInBreak)
			}
		}
		f.NPCBreak = min(f.NPCBreak, f.NPCRecovery, 100)
	}
	return sc
}

func TestRoundTrip(t *testing.T) {
	for _, e := range Library() {
		assert.Equal(t, e.Scene, parse(t, written(t, e.Scene)), e.Name)
	}
	rapid.Check(t, func(t *rapid.T) {
		sc := scenesOf(t)
		text := written(t, sc)
		again := parse(t, text)
		require.Equal(t, sc, again)
		require.Equal(t, text, written(t, again))
		looksFinite(t, &again.Setup)
	})
}

// looksFinite checks that a set-up can be looked at, and that no number of what is
// seen is NaN or infinite: JSON takes none that is.
func looksFinite(t require.TestingT, s *sim.Setup) {
	require.NoError(t, s.Validate())
	var v sim.View
	v.Look(s)
	_, err := json.Marshal(v)
	require.NoError(t, err)
}

// Every default, range and choice in the table is one that the loader takes, and
// the table says something of every key.
func TestTable(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range Keys() {
		path := k.Path()
		assert.False(t, seen[path], "%s is twice in the table", path)
		seen[path] = true
		assert.NotEmpty(t, k.Doc, path)
		if k.Kind == Choice && k.Default != nil {
			assert.Contains(t, k.Choices, k.Default, path)
		}
		if v, ok := k.Default.(float64); ok {
			assert.True(t, slices.ContainsFunc(k.Ranges, func(r Range) bool { return r.Holds(v) }), path)
		}
		found, ok := Find(path)
		assert.True(t, ok, path)
		assert.Equal(t, path, found.Path())
	}
	assert.Len(t, seen, 87)
	_, ok := Find("patient.shoe_size")
	assert.False(t, ok)
}

// The schema is JSON, says what the table says, and takes the built-in scenes as
// far as can be told without a validator: it knows all their keys.
func TestSchema(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, WriteSchema(&b))
	var s struct {
		Schema     string `json:"$schema"`
		ID         string `json:"$id"`
		Properties map[string]struct {
			Type                 string
			Minimum, Maximum     *float64
			Properties           map[string]map[string]any
			Items                *struct{ Properties map[string]map[string]any }
			AdditionalProperties *bool
			Required             []string
			OneOf                []map[string][]string
		}
		Required []string
		Not      struct{ Required []string }
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &s))
	assert.Equal(t, "https://json-schema.org/draft/2020-12/schema", s.Schema)
	assert.Equal(t, "urn:twincord:scene:1", s.ID)
	// A checker that knows no prefixItems takes every place that Parse takes.
	assert.Equal(t, map[string]any{"type": "number", "minimum": -90., "maximum": 90.}, s.Properties["string"].Properties["near_end_mm"]["items"])
	assert.InDelta(t, 3, s.Properties["string"].Properties["near_end_mm"]["maxItems"], 0)
	assert.Equal(t, []string{"format", "string", "look"}, s.Required)
	assert.Equal(t, []string{"length_mm"}, s.Properties["string"].Required)
	assert.Equal(t, []map[string][]string{{"required": {"bead"}}, {"required": {"at_mm"}}}, s.Properties["look"].OneOf)
	assert.False(t, *s.Properties["patient"].AdditionalProperties)
	assert.Equal(t, map[string]any{
		"type": "number", "minimum": 40., "maximum": 80., "default": 62., "x-unit": "mm", "x-source": "I1, I3, I4, I5",
		"x-source-words": "Dodgson 2004; ANSUR II public data file; Fledelius & Stubgaard 1986",
		"description":    "Distance between the eyes' centres of rotation.",
	}, s.Properties["patient"].Properties["pd_mm"])
	assert.Equal(t, []string{"posture", "findings"}, s.Not.Required)
	assert.Equal(t, []any{map[string]any{"minimum": 0., "maximum": 0.}, map[string]any{"minimum": 1., "maximum": 60.}},
		s.Properties["suppression"].Properties["period_s"]["anyOf"])
	assert.Equal(t, "integer", s.Properties["hold"].Properties["seed"]["type"])
	assert.Equal(t, []any{"none", "right", "left", "alternating"}, s.Properties["suppression"].Properties["eye"]["enum"])
	for _, k := range Keys() {
		switch k.Table {
		case "":
			assert.Contains(t, s.Properties, k.Name)
		case beads:
			assert.Contains(t, s.Properties["beads"].Items.Properties, k.Name)
		default:
			assert.Contains(t, s.Properties[k.Table].Properties, k.Name)
		}
	}
}

// Whatever is read is TOML to a decoder that knows nothing of scenes, can be
// written and read again, is the same again, and can be looked at.
func FuzzParse(f *testing.F) {
	for _, e := range Library() {
		f.Add(e.Source)
	}
	files, err := filepath.Glob(filepath.Join(badFiles, "*.toml"))
	require.NoError(f, err)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		sc, err := Parse("fuzz.toml", data)
		if err != nil {
			var faults Faults
			require.ErrorAs(t, err, &faults)
			require.NotEmpty(t, faults)
			for _, fault := range faults {
				require.Positive(t, fault.Line)
				require.Positive(t, fault.Column)
				require.NotEmpty(t, fault.Problem)
			}
			return
		}
		require.NoError(t, toml.Unmarshal(bytes.TrimPrefix(data, []byte("\ufeff")), &map[string]any{}))
		text := written(t, sc)
		require.Equal(t, sc, parse(t, text))
		looksFinite(t, &sc.Setup)
	})
}

func BenchmarkParse(b *testing.B) {
	data, _ := builtIn(DefaultName)
	b.ReportAllocs()
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Parse(DefaultName, data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWrite(b *testing.B) {
	sc := Library()[0].Scene
	b.ReportAllocs()
	for b.Loop() {
		if err := sc.Write(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
