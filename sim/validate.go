package sim

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gonum.org/v1/gonum/spatial/r3"
)

// MaxBeads is the most beads that a string takes.
const MaxBeads = 12

// Problem is something wrong with a set-up.
type Problem struct {
	Key  string // the field, as a scene file calls it: "patient.pd_mm", "beads[2].at_mm"
	What string // what is wrong with it, and what is allowed

	// With are the other fields that a contradiction takes, and Or what it says of the
	// first of them, where that is the one to change.
	With []string
	Or   string
}

// Validate says what keeps the set-up from being looked at, if anything: the first of
// its Problems.
func (s *Setup) Validate() error {
	if all := s.Problems(); len(all) > 0 {
		return fmt.Errorf("%s: %s", all[0].Key, all[0].What)
	}
	return nil
}

// Problems are everything wrong with the set-up: numbers out of their ranges and no
// numbers, unknown codes, beads that do not exist, and what contradicts itself. Of a
// set-up without any Look gives what the model says of it.
func (s *Setup) Problems() []Problem {
	var all []Problem
	check := func(key string, f *field, value any) {
		if what := f.wrong(value); what != "" {
			all = append(all, Problem{Key: key, What: what})
		}
	}
	for i := range fields {
		f := &fields[i]
		if v, ok := f.get(s, nil); ok {
			check(f.key, f, v)
		}
	}
	if len(s.Beads) > MaxBeads {
		all = append(all, Problem{Key: "beads", What: fmt.Sprintf("are %d; allowed are at most %d", len(s.Beads), MaxBeads)})
	}
	for i := range s.Beads {
		for j := range beadFields {
			f := &beadFields[j]
			v, _ := f.get(s, &s.Beads[i])
			check(beadKey(i, f.name()), f, v)
		}
		all = append(all, s.offString(beadKey(i, "at_mm"), s.Beads[i].At)...)
	}
	if s.Look.Bead == NoBead {
		all = append(all, s.offString("look.at_mm", s.Look.At)...)
	}
	none := func(key string, bead int, may bool) {
		if allowed := may && bead == NoBead || bead >= 0 && bead < len(s.Beads); !allowed {
			all = append(all, Problem{Key: key, What: fmt.Sprintf("there is no bead with number %d; there are %d", bead+1, len(s.Beads))})
		}
	}
	none("look.bead", s.Look.Bead, true)
	none("look.asked", s.Look.Asked, true)
	if from := s.Look.From; from.OK {
		none("look.from", from.Value, false)
	}
	if len(all) > 0 {
		return all // contradictions are those of good values
	}
	return s.Contradictions()
}

// offString refuses a place beyond the string's end.
func (s *Setup) offString(key string, at float64) []Problem {
	if !(at > s.String.Length) {
		return nil
	}
	return []Problem{{Key: key, What: millimetres(at) + " is beyond the string's end; allowed is 0 to " + millimetres(s.String.Length), With: []string{"string.length_mm"}}}
}

// Contradictions are what fields, each good by itself, say against one another. A
// caller that has found fault with some fields leaves out what those take part in.
func (s *Setup) Contradictions() []Problem {
	return slices.Concat(s.reach(), s.crowding(), s.looking(), s.fixingProblems(), s.findingsProblems(), s.alternation())
}

// SagShare is how much of its length a string may hang down at most.
const SagShare = 0.25

// reach refuses a string that cannot be where it should.
func (s *Setup) reach() (all []Problem) {
	g := &s.String
	if across := math.Hypot(g.AnchorSide-g.NearEnd.X, g.AnchorHeight-g.NearEnd.Z); across > g.Length {
		all = append(all, Problem{
			Key:  "string.length_mm",
			What: fmt.Sprintf("%s cannot reach across to the anchor; allowed is at least %s", millimetres(g.Length), millimetres(math.Ceil(across))),
			With: []string{"string.near_end_mm", "string.anchor_side_mm", "string.anchor_height_mm"},
		})
	}
	if g.Sag > SagShare*g.Length {
		all = append(all, Problem{
			Key:  "string.sag_mm",
			What: fmt.Sprintf("%s is more than a quarter of the length; allowed is 0 to %s", millimetres(g.Sag), millimetres(SagShare*g.Length)),
			With: []string{"string.length_mm"},
		})
	}
	return all
}

// crowding refuses beads that share a name or a place.
func (s *Setup) crowding() (all []Problem) {
	for i, b := range s.Beads {
		named := false
		for j, a := range s.Beads[:i] {
			if a.Name == b.Name && !named {
				named = true
				all = append(all, Problem{
					Key: beadKey(i, "name"), With: []string{beadKey(j, "name")},
					What: fmt.Sprintf("%q is the name of beads[%d]; allowed is a name of its own", b.Name, j+1),
				})
			}
			if apart := (a.Diameter + b.Diameter) / 2; math.Abs(a.At-b.At) < apart-Touching {
				all = append(all, Problem{
					Key:  beadKey(i, "at_mm"),
					What: fmt.Sprintf("%s is inside beads[%d]; allowed is at least %s from its place, %s", millimetres(b.At), j+1, millimetres(apart), millimetres(a.At)),
					With: []string{beadKey(j, "at_mm"), beadKey(i, "diameter_mm"), beadKey(j, "diameter_mm")},
				})
			}
		}
	}
	return all
}

// looking refuses a look that sets off from the bead that it is at.
func (s *Setup) looking() []Problem {
	if l := &s.Look; l.From.OK && l.Bead == l.From.Value {
		return []Problem{{
			Key: "look.from", With: []string{"look.bead"},
			What: fmt.Sprintf("%q is the bead that is looked at; allowed is another bead, or to leave it out", s.Beads[l.Bead].Name),
		}}
	}
	return nil
}

// fixingProblems refuses an angle of anomaly that has no eye to stand for, and an eye
// that should fix and is left out whole all the time (M4, M6).
func (s *Setup) fixingProblems() (all []Problem) {
	if s.Findings.OK {
		return nil
	}
	p, left := &s.Posture, &s.Suppression
	if p.Anomaly != 0 && p.Fixing == Both {
		all = append(all, Problem{
			Key: "posture.anomaly_prism", With: []string{"posture.fixing"},
			What: decimals(float64(p.Anomaly)) + ` Δ needs one fixing eye; allowed is 0, or any with posture.fixing = "right" or "left"`,
		})
	}
	constant := left.Period == 0 || left.Share == 1
	acts := left.When != WhenTurned || p.turned()
	if left.total() != Neither && left.total() == p.Fixing && constant && acts {
		all = append(all, Problem{
			Key:  "posture.fixing",
			What: fmt.Sprintf(`is %q, the eye that is left out whole all the time; allowed is "both" or %q`, p.Fixing, p.Fixing.Other()),
			With: []string{"suppression.eye", "suppression.zone", "suppression.depth", "suppression.when", "suppression.period_s", "suppression.share", "posture.deviation_prism"},
		})
	}
	return all
}

// findingsProblems refuses findings that contradict themselves or the string.
func (s *Setup) findingsProblems() (all []Problem) {
	if !s.Findings.OK {
		return nil
	}
	f := &s.Findings.Value
	atMost := func(less string, a float64, more string, b float64, unit string) {
		if a <= b {
			return
		}
		x, y := decimals(a)+" "+unit, decimals(b)+" "+unit
		all = append(all, Problem{
			Key: "findings." + less, What: fmt.Sprintf("%s is more than %s, %s; allowed is at most that", x, more, y),
			With: []string{"findings." + more}, Or: fmt.Sprintf("%s is less than %s, %s; allowed is at least that", y, less, x),
		})
	}
	for i, r := range []*Reserves{&f.Far, &f.Near} {
		distance := [...]string{"far", "near"}[i]
		reserve := func(base string, blur Maybe[Prism], breaks, recovery Prism) {
			key := distance + "_" + base
			atMost(key+"_blur_prism", float64(blur.Or(breaks)), key+"_break_prism", float64(breaks), "Δ")
			atMost(key+"_recovery_prism", float64(recovery), key+"_break_prism", float64(breaks), "Δ")
		}
		reserve("base_in", r.BaseInBlur, r.BaseInBreak, r.BaseInRecovery)
		reserve("base_out", Some(r.BaseOutBlur), r.BaseOutBreak, r.BaseOutRecovery)
	}
	atMost("npc_break_mm", f.NPCBreak, "npc_recovery_mm", f.NPCRecovery, "mm")
	if reach := r3.Norm(s.Place(s.String.Length)) - SpectaclePlane; f.NPCBreak > reach {
		least := Bounds("findings.npc_break_mm")[0].Min
		all = append(all, Problem{
			Key:  "findings.npc_break_mm",
			What: fmt.Sprintf("%s is farther than the string reaches; allowed is %s to %s", millimetres(f.NPCBreak), decimals(least), millimetres(math.Floor(reach))),
			With: []string{"string.length_mm", "string.near_end_mm", "string.anchor_side_mm", "string.anchor_height_mm"},
		})
	}
	return all
}

// alternates are the periods of an alternating suppression: at most one change a
// second.
var alternates = Range{2, 60}

// alternation refuses an alternating suppression that has no period, or too short a one.
func (s *Setup) alternation() []Problem {
	p := &s.Suppression
	if p.Eye != Alternating || alternates.Holds(p.Period) {
		return nil
	}
	allowed := fmt.Sprintf("%s to %s s", decimals(alternates.Min), decimals(alternates.Max))
	return []Problem{{
		Key: "suppression.period_s", What: decimals(p.Period) + " s is too short for an alternating suppression; allowed is " + allowed,
		With: []string{"suppression.eye"}, Or: `is "alternating"; allowed with it is suppression.period_s of ` + allowed,
	}}
}

func beadKey(i int, name string) string { return fmt.Sprintf("beads[%d].%s", i+1, name) }

func millimetres(x float64) string { return decimals(x) + " mm" }

// decimals writes a number as the shortest decimal that is exactly it.
func decimals(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// wrong says what is wrong with a value of the field, a float64 or a string, and what
// is allowed; nothing if it is good.
func (f *field) wrong(value any) string {
	switch v := value.(type) {
	case float64:
		if slices.ContainsFunc(f.ranges, func(r Range) bool { return r.Holds(v) }) {
			return ""
		}
		words := make([]string, len(f.ranges))
		for i, r := range f.ranges {
			words[i] = r.String()
		}
		return fmt.Sprintf("%v is out of range; allowed is %s", v, strings.Join(words, " or "))
	case string:
		if f.choices == nil {
			if n := float64(utf8.RuneCountInString(v)); !f.ranges[0].Holds(n) {
				return fmt.Sprintf("has %v characters; allowed are %s", n, f.ranges[0])
			}
		} else if !slices.Contains(f.choices, v) {
			return fmt.Sprintf("is %q; allowed is %q", v, f.choices)
		}
	}
	return ""
}
