package measure

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"twincord/sim"
)

// full is an entry in which everything exists.
func full() Entry {
	v := &sim.View{
		Target: sim.Target{
			At: 480, FromEyes: 512.5, Demand: 12.5, DemandAngle: sim.Degrees(7).Angle(),
			MetreAngles: 2, Required: sim.Degrees(6).Angle(), Accommodation: 1.75,
		},
		Axes: sim.Axes{Gap: sim.Some(0.5), Point: sim.Some(r3.Vec{X: 1, Y: 2, Z: -3})},
		Crossing: sim.Crossing{
			At: sim.Some(342.0), Offset: sim.Some(-138.0), RightAt: sim.Some(341.0), LeftAt: sim.Some(343.0),
			Picture: sim.Some(sim.XY{X: 0.25, Y: -0.5}), Seen: true,
		},
		Beads: []sim.BeadView{{
			Name: `sk"y & <co>`, At: 480, FromEyes: 512.5, Overlap: sim.Some(0.5), Blur: sim.Arcmin(3).Angle(),
			Disparity: sim.Some(sim.Disparity{
				H: sim.Arcmin(-138).Angle(), V: sim.Arcmin(2).Angle(), Separation: sim.Degrees(2.5).Angle(),
			}),
			Limits: sim.Some([2]sim.Angle{sim.Arcmin(10).Angle(), sim.Arcmin(6).Angle()}),
			Right:  sim.Some(sim.XY{X: 0.02}), Left: sim.Some(sim.XY{X: -0.02}),
			Seen: sim.SeenTwo, Diplopia: sim.DiplopiaUncrossed,
		}},
		Strings: sim.Strings{Near: 2, Far: 1, Pattern: sim.PatternY, FusedFrom: sim.Some(330.), FusedTo: sim.Some(355.), Gradient: sim.Some(1.8)},
		Account: sim.Account{
			Asked: "plum", LookedAt: "sky", Fixated: sim.SeenTwo, Near: 2, Far: 1, Pattern: sim.PatternY,
			Meet: sim.MeetNearer, Apart: sim.Some(sim.Degrees(2.5).Angle()), Higher: sim.Right,
			Missing: sim.Left, MissingWhere: sim.WhereBeyond, Eyes: sim.AimEso, Fuses: false,
		},
	}
	v.Eyes[sim.RightEye] = sim.Gaze{Azimuth: sim.Degrees(-4).Angle(), Elevation: sim.Degrees(-2).Angle(), Torsion: sim.Degrees(1).Angle()}
	v.Eyes[sim.LeftEye] = sim.Gaze{Azimuth: sim.Degrees(4).Angle()}
	return Entry{File: "a.toml", Title: "A title", Language: "en", View: v, Sentence: "For families.", Clinical: []string{"For clinicians.", "More of it."}}
}

// The keys of the contract, in its order, written out once more by hand.
const keys = `format scene{file title} time_s language
target{at_mm from_eyes_mm demand_prism demand_deg metre_angles required_deg accommodation_demand_d}
eyes{right{azimuth_deg elevation_deg torsion_deg} left{azimuth_deg elevation_deg torsion_deg}}
axes{gap_mm point_mm}
crossing{at_mm offset_mm right_at_mm left_at_mm picture seen}
beads{name at_mm from_eyes_mm disparity_h_arcmin disparity_v_arcmin limit_h_arcmin limit_v_arcmin separation_deg overlap_share right{x y} left{x y} blur_arcmin seen diplopia black}
strings{near far near_overlaid far_overlaid pattern fused_from_mm fused_to_mm gradient}
account{asked looked_at fixated near far pattern meet hidden_by apart_deg higher missing missing_where gap fixes took_up fainter clarity clarity_uneven needs_care eyes fuses}
sentence sentence_clinician
posture{deviation_prism vertical_prism cyclo_deg fixing anomaly_prism prism_met}
findings`

// keysOf lists the keys of a JSON text in order, as in keys; arrays are left out.
func keysOf(t *testing.T, text []byte) string {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(text))
	var b strings.Builder
	var isObject []bool
	atKey := false
	for {
		tok, err := d.Token()
		if err != nil {
			return strings.ReplaceAll(strings.TrimSpace(b.String()), "{ ", "{")
		}
		switch tok {
		case json.Delim('{'):
			if len(isObject) > 0 {
				b.WriteString("{")
			}
			isObject, atKey = append(isObject, true), true
			continue
		case json.Delim('['):
			isObject = append(isObject, false)
			continue
		case json.Delim('}'):
			isObject = isObject[:len(isObject)-1]
			if len(isObject) > 0 {
				b.WriteString("}")
			}
		case json.Delim(']'):
			isObject = isObject[:len(isObject)-1]
		default:
			if atKey {
				b.WriteString(" " + tok.(string))
				atKey = false
				continue
			}
		}
		atKey = len(isObject) > 0 && isObject[len(isObject)-1]
	}
}

func TestJSONHasTheKeysOfTheContractInOrder(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, JSON(&b, []Entry{full()}, false))
	assert.Equal(t, strings.Join(strings.Fields(keys), " "), keysOf(t, b.Bytes()))
	assert.True(t, strings.HasPrefix(b.String(), "{\n  \"format\": 1,\n  \"scene\": {\n    \"file\": \"a.toml\",\n"), b.String())
	assert.True(t, strings.HasSuffix(b.String(), "}\n"))
	assert.Contains(t, b.String(), `"sk\"y & <co>"`, "names are as they were typed")
}

// at is the value at a path of keys; a number in it is an index.
func at(t *testing.T, text []byte, path string) any {
	t.Helper()
	var v any
	require.NoError(t, json.Unmarshal(text, &v))
	for k := range strings.SplitSeq(path, ".") {
		if list, ok := v.([]any); ok {
			i, err := strconv.Atoi(k)
			require.NoError(t, err)
			v = list[i]
			continue
		}
		object, ok := v.(map[string]any)
		require.True(t, ok, path)
		require.Contains(t, object, k, path)
		v = object[k]
	}
	return v
}

func TestJSONUnits(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, JSON(&b, []Entry{full()}, false))
	for path, want := range map[string]float64{
		"time_s":                        0,
		"target.at_mm":                  480,
		"target.demand_prism":           12.5,
		"target.demand_deg":             7,
		"target.required_deg":           6,
		"target.accommodation_demand_d": 1.75,
		"eyes.right.azimuth_deg":        -4,
		"eyes.right.elevation_deg":      -2,
		"eyes.right.torsion_deg":        1,
		"eyes.left.azimuth_deg":         4,
		"axes.point_mm.2":               -3,
		"crossing.offset_mm":            -138,
		"crossing.right_at_mm":          341,
		"crossing.picture.1":            -0.5,
		"beads.0.disparity_h_arcmin":    -138,
		"beads.0.disparity_v_arcmin":    2,
		"beads.0.limit_h_arcmin":        10,
		"beads.0.limit_v_arcmin":        6,
		"beads.0.separation_deg":        2.5,
		"beads.0.overlap_share":         0.5,
		"beads.0.right.x":               0.02,
		"beads.0.blur_arcmin":           3,
		"strings.fused_to_mm":           355,
		"account.apart_deg":             2.5,
	} {
		assert.InDelta(t, want, at(t, b.Bytes(), path), 1e-12, path)
	}
	for path, want := range map[string]any{
		"language": "en", "beads.0.seen": "two", "beads.0.diplopia": "uncrossed", "strings.pattern": "Y",
		"crossing.seen": true, "account.fuses": false, "account.asked": "plum", "account.looked_at": "sky",
		"account.fixated": "two", "account.meet": "nearer", "account.higher": "right", "account.missing": "left",
		"account.missing_where": "beyond", "account.eyes": "eso",
		"sentence": "For families.", "sentence_clinician": "For clinicians. More of it.",
	} {
		assert.Equal(t, want, at(t, b.Bytes(), path), path)
	}
}

// What does not exist is null; no key is ever left out.
func TestJSONNull(t *testing.T) {
	e := full()
	e.View = &sim.View{
		Beads:   []sim.BeadView{{Name: "sky", Seen: sim.SeenNone, Diplopia: sim.DiplopiaNone}},
		Account: sim.Account{Higher: sim.Neither, Missing: sim.Neither},
	}
	var b bytes.Buffer
	require.NoError(t, JSON(&b, []Entry{e}, false))
	for path := range strings.FieldsSeq(`axes.gap_mm axes.point_mm crossing.at_mm crossing.offset_mm crossing.right_at_mm
		crossing.left_at_mm crossing.picture beads.0.disparity_h_arcmin beads.0.disparity_v_arcmin beads.0.limit_h_arcmin
		beads.0.limit_v_arcmin beads.0.separation_deg beads.0.overlap_share beads.0.right beads.0.left strings.fused_from_mm
		strings.fused_to_mm strings.gradient account.asked account.looked_at account.fixated account.apart_deg account.missing_where`) {
		assert.Nil(t, at(t, b.Bytes(), path), path)
	}
	assert.Equal(t, 0., at(t, b.Bytes(), "beads.0.blur_arcmin"))

	b.Reset()
	e.View.Beads = nil
	require.NoError(t, JSON(&b, []Entry{e}, false))
	assert.Equal(t, []any{}, at(t, b.Bytes(), "beads"), "no bead is an empty list")
}

func TestJSONOneOrArray(t *testing.T) {
	for _, c := range []struct {
		n     int
		array bool
		want  byte
	}{{1, false, '{'}, {1, true, '['}, {2, false, '['}, {2, true, '['}} {
		var b bytes.Buffer
		entries := []Entry{full(), full()}[:c.n]
		require.NoError(t, JSON(&b, entries, c.array))
		assert.Equal(t, c.want, b.Bytes()[0], "%d, %v", c.n, c.array)
		if c.want == '[' {
			var list []any
			require.NoError(t, json.Unmarshal(b.Bytes(), &list))
			assert.Len(t, list, c.n)
		}
	}
}

// A number is the shortest decimal that reads back the same, without an exponent
// and without a sign before zero.
func TestNumbersReadBack(t *testing.T) {
	shape := regexp.MustCompile(`^-?(0|[1-9][0-9]*)(\.[0-9]*[1-9])?$`)
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64().Draw(t, "x")
		s := number(x).String()
		back, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		require.Equal(t, x, back)
		require.Regexp(t, shape, s)
	})
	for want, x := range map[string]float64{
		"0": math.Copysign(0, -1), "0.000000001": 1e-9, "1000000000000000000000": 1e21, "-0.1": -0.1,
	} {
		assert.Equal(t, want, number(x).String())
	}
}

// A number that is none is an error, and nothing is written.
func TestJSONWritesNothingThatIsNoNumber(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		bad := full()
		bad.View.Target.At = x
		var b bytes.Buffer
		assert.Error(t, JSON(&b, []Entry{full(), bad}, false))
		assert.Empty(t, b.Bytes())
	}
}

type closed struct{}

var errClosed = errors.New("closed")

func (closed) Write([]byte) (int, error) { return 0, errClosed }

func TestWriteErrorsAreReported(t *testing.T) {
	assert.ErrorIs(t, JSON(closed{}, []Entry{full()}, false), errClosed)
	assert.ErrorIs(t, Table(closed{}, []Entry{full()}), errClosed)
}

// The table has what the JSON has, rounded, with units under each other.
func TestTable(t *testing.T) {
	var b bytes.Buffer
	nothing := full()
	nothing.Title, nothing.View = "", &sim.View{}
	require.NoError(t, Table(&b, []Entry{full(), nothing}))
	text := b.String()
	for _, row := range []string{
		`a.toml: A title`, `demand +12.50 Δ`, `demand, as one angle +7.000 °`, `accommodation demand +1.75 D`,
		`azimuth, right \+ +-4.000 °`, `closest approach +1.0, 2.0, -3.0 mm`, `offset, beyond \+ +-138.0 mm`,
		`disparity, crossed \+ +-138.00 arcmin`, `limit, vertical +6.00 arcmin`, `pattern +Y`, `missing image +left, beyond`,
		`gap +–`, `closest approach +–`, `asked for +–`,
	} {
		assert.Regexp(t, `(?m)^ *`+row+`$`, text)
	}
	assert.Contains(t, text, "\nFor families.\nFor clinicians.\n")

	column := -1
	for line := range strings.SplitSeq(text, "\n") {
		if !strings.HasPrefix(line, "  ") {
			if strings.HasPrefix(line, "a.toml") {
				column = -1 // each entry has its own width
			}
			continue
		}
		label := regexp.MustCompile(`^  \S+( \S+)* {2,}`).FindString(line)
		if column < 0 {
			column = utf8.RuneCountInString(label)
		}
		assert.Equal(t, column, utf8.RuneCountInString(label), line)
	}
	assert.Equal(t, 1, strings.Count(text, "\n\na.toml\n"), "one empty line between entries, and none before")
	assert.True(t, strings.HasPrefix(text, "a.toml: A title\nFor families.\nFor clinicians.\nMore of it.\n\ntarget\n"), "words first, and no time at the beginning")
	assert.Equal(t, "0.00", fixed(-0.001, 2))
	assert.Equal(t, "-0.01", fixed(-0.009, 2))
}

// Rows that not every picture has are there where it has what they say, and only there.
func TestRowsThatAreSometimesThere(t *testing.T) {
	for row, change := range map[string]func(e *Entry){
		`time +1\.500 s`:                      func(e *Entry) { e.View.Seconds = 1.5 },
		`clarity +clear`:                      func(e *Entry) { e.View.Account.Clarity = sim.ClarityClear },
		`clarity +soft, uneven`:               func(e *Entry) { e.View.Account.Clarity, e.View.Account.Uneven = sim.ClaritySoft, true },
		`black through the filter +left`:      func(e *Entry) { e.View.Beads[0].Black = sim.Left },
		`fixes +right`:                        func(e *Entry) { e.View.Account.Fixes = sim.Right },
		`fixes +left, which took up fixation`: func(e *Entry) { e.View.Account.Fixes, e.View.Account.TookUp = sim.Left, true },
		`missing image +none`:                 func(e *Entry) { e.View.Account.Missing, e.View.Account.MissingWhere = sim.Neither, "" },
	} {
		pattern := regexp.MustCompile(`(?m)^ *` + row + `$`)
		table := func(e Entry) string {
			e.View.Beads[0].Black = cmp.Or(e.View.Beads[0].Black, sim.Neither)
			var b bytes.Buffer
			require.NoError(t, Table(&b, []Entry{e}))
			return b.String()
		}
		e := full()
		assert.NotRegexp(t, pattern, table(e))
		change(&e)
		assert.Regexp(t, pattern, table(e))
	}
}
