package sim_test

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
)

// whole is a good set-up in which everything that may be left out is there.
func whole() sim.Setup {
	s := threeBeads()
	s.Patient.Amplitude, s.Posture.Accommodation = sim.Some[sim.Dioptres](5), sim.Some[sim.Dioptres](2)
	s.Look.From = sim.Some(2)
	s.Findings = sim.Some(usual(func(f *sim.Findings) {
		f.ACA, f.Far.BaseInBlur = sim.Some(4.), sim.Some[sim.Prism](5)
	}))
	return s
}

// leaves gives every number, code, name and index in a value, by its path.
func leaves(path string, v reflect.Value, visit func(path string, v reflect.Value)) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			leaves(path+"."+v.Type().Field(i).Name, v.Field(i), visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			leaves(fmt.Sprintf("%s[%d]", path, i), v.Index(i), visit)
		}
	default:
		visit(path, v)
	}
}

// Every field of a set-up is looked after: what is out of range, no number, no code or
// no bead is refused, and Validate says so.
func TestValidateEveryField(t *testing.T) {
	good := whole()
	require.NoError(t, good.Validate())
	free := func(path string) bool { // any value is good
		return strings.Contains(path, ".Colour.") || path == ".Hold.Seed" || strings.HasSuffix(path, ".OK")
	}
	count := 0
	leaves("", reflect.ValueOf(good), func(path string, v reflect.Value) {
		if free(path) {
			return
		}
		count++
		var bad []any
		switch v.Kind() {
		case reflect.Float64:
			bad = []any{math.NaN(), math.Inf(1), math.Inf(-1), 1e7, -1e7}
		case reflect.String:
			bad = []any{"", strings.Repeat("x", 33)}
		case reflect.Int:
			bad = []any{-2, 99}
		default:
			t.Fatalf("%s is a %v", path, v.Kind())
		}
		for _, value := range bad {
			s := good.Clone()
			leaves("", reflect.ValueOf(&s).Elem(), func(p string, v reflect.Value) {
				if p == path {
					v.Set(reflect.ValueOf(value).Convert(v.Type()))
				}
			})
			if path == ".Look.At" {
				s.Look.Bead, s.Look.From = sim.NoBead, sim.Maybe[int]{}
			}
			problems := s.Problems()
			assert.NotEmpty(t, problems, "%s = %v", path, value)
			assert.Error(t, s.Validate(), "%s = %v", path, value)
			for _, p := range problems {
				assert.NotEmpty(t, p.Key)
				assert.Contains(t, p.What, map[bool]string{true: "there", false: "allowed"}[v.Kind() == reflect.Int], "%s = %v", path, value)
			}
		}
	})
	assert.Equal(t, 85, count, "a field more: give it its row in the table of fields")
}

// What each key allows is allowed at both ends, and nothing just beyond.
func TestBounds(t *testing.T) {
	for key, change := range map[string]func(*sim.Setup, float64){
		"patient.fusion_h_arcmin":  func(s *sim.Setup, x float64) { s.Patient.FusionH = sim.Arcmin(x) },
		"right.refraction_d":       func(s *sim.Setup, x float64) { s.Right.Refraction = sim.Dioptres(x) },
		"findings.near_add_d":      func(s *sim.Setup, x float64) { s.Findings.Value.NearAdd = sim.Dioptres(x) },
		"string.near_end_mm[3]":    func(s *sim.Setup, x float64) { s.String.NearEnd.Z = x },
		"beads[].diameter_mm":      func(s *sim.Setup, x float64) { s.Beads[0].Diameter = x },
		"suppression.radius_deg":   func(s *sim.Setup, x float64) { s.Suppression.Radius = sim.Degrees(x) },
		"posture.prism_met":        func(s *sim.Setup, x float64) { s.Posture.PrismMet = x },
		"findings.npc_recovery_mm": func(s *sim.Setup, x float64) { s.Findings.Value.NPCBreak, s.Findings.Value.NPCRecovery = 1, x },
	} {
		ranges := sim.Bounds(key)
		require.Len(t, ranges, 1, key)
		for x, good := range map[float64]bool{
			ranges[0].Min: true, ranges[0].Max: true,
			math.Nextafter(ranges[0].Min, -1e9): false, math.Nextafter(ranges[0].Max, 1e9): false,
		} {
			s := whole()
			change(&s, x)
			assert.Equal(t, good, s.Validate() == nil, "%s = %v: %v", key, x, s.Validate())
		}
	}
	assert.Nil(t, sim.Bounds("patient.shoe_size"))
	assert.Nil(t, sim.Choices("patient.pd_mm"))
	assert.Equal(t, []sim.Range{{}, {Min: 1, Max: 60}}, sim.Bounds("suppression.period_s"))
}

// What contradicts itself is refused, and what only nearly does is not.
func TestContradictions(t *testing.T) {
	leftOut := func(change func(*sim.Setup)) func(*sim.Setup) {
		return func(s *sim.Setup) {
			s.Findings = sim.Maybe[sim.Findings]{}
			s.Posture.Fixing, s.Posture.Deviation, s.Suppression.Eye = sim.Left, 5, sim.Left
			if change != nil {
				change(s)
			}
		}
	}
	for name, c := range map[string]struct {
		change func(*sim.Setup)
		key    string // of the problem; empty: none
	}{
		"fusion below 0":               {func(s *sim.Setup) { s.Patient.FusionH = -5 }, "patient.fusion_h_arcmin"},
		"setting off from no bead":     {func(s *sim.Setup) { s.Look.From = sim.Some(sim.NoBead) }, "look.from"},
		"setting off from where it is": {func(s *sim.Setup) { s.Look.From = sim.Some(1) }, "look.from"},
		"overlapping":                  {func(s *sim.Setup) { s.Beads[2].At = 495.9 }, "beads[3].at_mm"},
		"touching":                     {func(s *sim.Setup) { s.Beads[2].At = 496 }, ""},
		"same name":                    {func(s *sim.Setup) { s.Beads[2].Name = "near" }, "beads[3].name"},
		"thirteen beads":               {func(s *sim.Setup) { s.Beads = make([]sim.Bead, 13) }, "beads"},
		"bead off the string":          {func(s *sim.Setup) { s.Beads[2].At = 1200.1 }, "beads[3].at_mm"},
		"sag":                          {func(s *sim.Setup) { s.String.Sag, s.String.Length = 230, 919 }, "string.sag_mm"},
		"sag of a quarter":             {func(s *sim.Setup) { s.String.Sag, s.String.Length = 230, 920 }, ""},
		"anchor out of reach":          {func(s *sim.Setup) { s.String.AnchorSide = 1300 }, "string.length_mm"},
		"anomaly of both":              {func(s *sim.Setup) { s.Findings.OK, s.Posture.Anomaly = false, 3 }, "posture.anomaly_prism"},
		"anomaly of one":               {func(s *sim.Setup) { s.Findings.OK, s.Posture.Anomaly, s.Posture.Fixing = false, 3, sim.Left }, ""},
		"recovery beyond break":        {func(s *sim.Setup) { s.Findings.Value.Far.BaseInRecovery = 7.1 }, "findings.far_base_in_recovery_prism"},
		"blur beyond break":            {func(s *sim.Setup) { s.Findings.Value.Near.BaseInBlur = sim.Some[sim.Prism](22) }, "findings.near_base_in_blur_prism"},
		"near point":                   {func(s *sim.Setup) { s.Findings.Value.NPCBreak = 71 }, "findings.npc_break_mm"},
		"near point out of reach":      {func(s *sim.Setup) { s.Findings.Value.NPCBreak, s.Findings.Value.NPCRecovery = 1300, 1400 }, "findings.npc_break_mm"},
		"alternating fast":             {func(s *sim.Setup) { s.Suppression.Eye, s.Suppression.Period = sim.Alternating, 1.9 }, "suppression.period_s"},
		"alternating":                  {func(s *sim.Setup) { s.Suppression.Eye, s.Suppression.Period = sim.Alternating, 2 }, ""},

		"fixing eye left out":                   {leftOut(nil), "posture.fixing"},
		"fixing eye left out, all the period":   {leftOut(func(s *sim.Setup) { s.Suppression.Period, s.Suppression.Share = 4, 1 }), "posture.fixing"},
		"fixing eye left out, part of it":       {leftOut(func(s *sim.Setup) { s.Suppression.Period, s.Suppression.Share = 4, 0.99 }), ""},
		"fixing eye left out in part":           {leftOut(func(s *sim.Setup) { s.Suppression.Zone = sim.ZoneCentral }), ""},
		"fixing eye half left out":              {leftOut(func(s *sim.Setup) { s.Suppression.Depth = 0.5 }), ""},
		"fixing eye left out when turned":       {leftOut(func(s *sim.Setup) { s.Suppression.When = sim.WhenTurned }), "posture.fixing"},
		"fixing eye left out when turned, by 1": {leftOut(func(s *sim.Setup) { s.Suppression.When, s.Posture.Deviation = sim.WhenTurned, -1 }), ""},
		"other eye left out":                    {leftOut(func(s *sim.Setup) { s.Suppression.Eye = sim.Right }), ""},
		"both preferred":                        {leftOut(func(s *sim.Setup) { s.Posture.Fixing = sim.Both }), ""},
	} {
		s := whole()
		c.change(&s)
		problems := s.Problems()
		if c.key == "" {
			assert.Empty(t, problems, name)
			assert.NoError(t, s.Validate(), name)
			continue
		}
		if assert.NotEmpty(t, problems, name) {
			assert.Equal(t, c.key, problems[0].Key, "%s: %v", name, problems)
			assert.ErrorContains(t, s.Validate(), c.key+": ", name)
		}
	}
}

// A clone shares nothing that can be changed, and CopyTo uses the room that is there.
func TestClone(t *testing.T) {
	s := whole()
	c := s.Clone()
	assert.Equal(t, s, c)
	leaves("", reflect.ValueOf(&c).Elem(), func(_ string, v reflect.Value) { v.SetZero() })
	assert.Equal(t, whole(), s)

	s.CopyTo(&c)
	assert.Equal(t, s, c)
	c.Beads[0].Name = "other"
	assert.Equal(t, whole(), s)
	assert.Zero(t, testing.AllocsPerRun(10, func() { s.CopyTo(&c) }))
}
